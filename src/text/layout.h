/*
 * layout.h - a text block's shaped form, for the ends that show it; no page asks for this.
 */
#ifndef TEXT_LAYOUT_H
#define TEXT_LAYOUT_H

#include "text/text.h"

#include <pango/pango.h>

/*
 * The layout, from its own top left corner. Borrowed: it lives as long as the
 * block, and must not be changed.
 */
PangoLayout *text_layout(const struct text_block *block);

/* What one point of the layout is on the page, mm: every text is set at one size, whatever size it is shown in. */
double text_layout_point(const struct text_block *block);

/* From the layout's top to the cap top of its first line, mm. */
double text_layout_rise(const struct text_block *block);

#endif
