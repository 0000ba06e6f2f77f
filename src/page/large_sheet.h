/*
 * large_sheet.h - parts of large print that the sheets of all medicines share.
 */
#ifndef PAGE_LARGE_SHEET_H
#define PAGE_LARGE_SHEET_H

#include "page/large.h"

/* What it is for, when to call at once, and the caution: what must be known before. */
void large_add_about(struct large_blocks *blocks, const struct medicine_sheet *sheet);
/* What to lay out, with its heading; what is done before anything, with boxes to tick; keep, throw away, late. */
void large_add_things(struct large_blocks *blocks, const struct medicine_sheet *sheet);
void large_add_preparing(struct large_blocks *blocks, const struct medicine_sheet *sheet);
void large_add_notes(struct large_blocks *blocks, const struct medicine_sheet *sheet);

/* The line on which every step of the sheet stops that stops on one; NULL: there is none, or two. */
const struct mark_words *large_one_line(const struct medicine_sheet *sheet);

/* What only some sheets have; nothing is added where they lack it. */
void large_add_place(struct large_blocks *blocks, const struct medicine_sheet *sheet);
void large_add_twice(struct large_blocks *blocks, const struct medicine_sheet *sheet);
void large_add_vials(struct large_blocks *blocks, const struct medicine_sheet *sheet);
void large_add_legend(struct large_blocks *blocks, const struct medicine_sheet *sheet);
void large_add_liquid_line(struct large_blocks *blocks, const struct medicine_sheet *sheet);

/* Pages of their own: a measured liquid's, several powders'. */
void large_mix(struct composer *composer, const struct medicine_sheet *sheet);
void large_chain(struct composer *composer, const struct medicine_sheet *sheet);

#endif
