/*
 * embed.h - the fonts of one PDF: which glyphs its texts use, and those glyphs embedded; inside pdf only.
 *
 * A text shows codes, not glyphs: each pair of a glyph and the characters that
 * it stands for has a code of its own, two bytes, in order of first use. So
 * what a reader copies is what was set, even where two characters share a
 * glyph, and a font holds only what the packet shows. Glyph outlines are cut
 * out by HarfBuzz's subsetter (ISO 32000-1, 9.7.4 CIDFontType2, 9.10.3 ToUnicode).
 */
#ifndef PDF_EMBED_H
#define PDF_EMBED_H

#include "pdf/objects.h"

#include <pango/pango.h>

struct embedded_fonts;
struct embedded_font;

struct embedded_fonts *embedded_fonts_new(void);
void embedded_fonts_free(struct embedded_fonts *fonts);

/* The file behind a Pango font, whatever its size. */
struct embedded_font *embedded_font_of(struct embedded_fonts *fonts, PangoFont *font);

/* "/F1" is number 1. */
int embedded_font_number(const struct embedded_font *font);

/* The code of a glyph that stands for the `length` bytes of `text`. */
unsigned embedded_code(struct embedded_font *font, PangoGlyph glyph, const char *text, size_t length);

/* The code of a space between words; 0: the font has none. */
unsigned embedded_space(struct embedded_font *font);

/* How far a reader moves on after this code, in thousandths of the size. */
int embedded_advance(const struct embedded_font *font, unsigned code);

/* "<< /F1 ... >>", to stand in the resources of every page. False when a font cannot be cut. */
bool embedded_fonts_write(struct embedded_fonts *fonts, qpdf_data file, qpdf_oh *resources);

#endif
