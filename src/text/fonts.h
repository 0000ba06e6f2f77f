/*
 * fonts.h - the font files of one folder, and nothing else, made ready for shaping; inside text only.
 */
#ifndef TEXT_FONTS_H
#define TEXT_FONTS_H

#include "base/finding.h"
#include "text/text.h"

#include <pango/pango.h>

/*
 * A context that knows only the fonts of `folder`: 72 units an inch, nothing
 * hinted, no position rounded. Free it with g_object_unref(). NULL, with a
 * stop, when the folder cannot be read, a font file is damaged, or a weight of
 * the main family is not there.
 */
PangoContext *fonts_open(const char *folder, struct findings *findings);

/* The main family in a weight and size (pt). Free it with pango_font_description_free(). */
PangoFontDescription *fonts_describe(enum text_weight weight, double size);

PangoWeight fonts_weight(enum text_weight weight);

#endif
