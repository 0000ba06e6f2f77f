/*
 * runs.h - a shaped text as operators of a content stream; inside pdf only.
 */
#ifndef PDF_RUNS_H
#define PDF_RUNS_H

#include "pdf/content.h"
#include "pdf/embed.h"

/* Shows the block with its start edge and its first line's cap top at `at`, in mm; its fonts are noted in `fonts`. */
void runs_show(struct content *content, struct embedded_fonts *fonts, const struct text_block *block, struct point at,
               enum colour colour);

#endif
