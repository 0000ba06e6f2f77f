/*
 * fonts.h - the font files of one folder, and nothing else, made ready for shaping; inside text only.
 */
#ifndef TEXT_FONTS_H
#define TEXT_FONTS_H

#include "base/finding.h"
#include "text/text.h"

#include <fontconfig/fontconfig.h>
#include <pango/pango.h>

/* Two contexts over the same fonts, since a layout takes the direction of its paragraphs from its context. */
struct fonts {
	FcConfig *config;
	GArray *files; /* as they were when they were opened */
	PangoContext *left_to_right;
	PangoContext *right_to_left;
};

/*
 * Contexts that know only the fonts of `folder`: 72 units an inch, nothing
 * hinted, no position rounded. False, with a stop and nothing to free, when the
 * folder cannot be read, a font file is damaged, or a weight of the main family
 * is not there. Free them with fonts_close().
 */
bool fonts_open(const char *folder, struct findings *findings, struct fonts *fonts);
void fonts_close(struct fonts *fonts);

/* Fonts are read when a letter of theirs is first set: true while every file is the one that was opened. */
bool fonts_same(const struct fonts *fonts);

/*
 * The size that every text is set at, pt: nothing is hinted or rounded, so a
 * block is only shown larger or smaller. A font costs much in each new size.
 */
#define FONTS_SIZE 12.0

/*
 * The family that a language is set in, in a weight: the main one, unless it
 * lacks letters of that language and the wide one has them. Free it with
 * pango_font_description_free().
 */
PangoFontDescription *fonts_describe(const struct fonts *fonts, const char *language, enum text_weight weight);

#endif
