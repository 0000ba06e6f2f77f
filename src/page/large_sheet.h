/*
 * large_sheet.h - parts of large print that the sheets of all medicines share.
 */
#ifndef PAGE_LARGE_SHEET_H
#define PAGE_LARGE_SHEET_H

#include "page/large.h"

/* What to lay out, with its heading; what is done before anything, with boxes to tick; keep, late, call. */
void large_add_things(struct large_blocks *blocks, const struct medicine_sheet *sheet);
void large_add_preparing(struct large_blocks *blocks, const struct medicine_sheet *sheet);
void large_add_notes(struct large_blocks *blocks, const struct medicine_sheet *sheet);

#endif
