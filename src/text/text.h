/*
 * text.h - words set in type: the bundled fonts, shaped and measured.
 *
 * Fonts come only from the project's fonts folder, never from the system, so
 * that a packet looks the same everywhere. Lengths are millimetres, sizes are
 * typographic points. A block is measured from cap top to last baseline, since
 * the design aligns capitals, not line boxes:
 *
 *        cap top    ---  H a g     <- y of the block
 *        baseline   ---  H a g     ^ block height of one line = cap height
 *        descent              g
 *
 * Inside a text, TEXT_BOLD_ON and TEXT_BOLD_OFF switch to bold and back.
 */
#ifndef TEXT_TEXT_H
#define TEXT_TEXT_H

#include "base/finding.h"
#include "text/geometry.h"

#include <stdbool.h>
#include <stddef.h>

#define TEXT_BOLD_ON "\001"
#define TEXT_BOLD_OFF "\002"

/* An isolate: what stands in it takes no part in the order of a line that runs from right to left. */
#define TEXT_LEFT_TO_RIGHT "\u2066"
#define TEXT_ISOLATE_END "\u2069"

enum text_weight { WEIGHT_REGULAR, WEIGHT_SEMIBOLD, WEIGHT_BOLD };
enum text_align { ALIGN_START, ALIGN_CENTER, ALIGN_END };

struct text_style {
	double size; /* pt */
	enum text_weight weight;
	enum text_align align;
	double leading; /* mm between baselines; 0: 1.3 of the size */
	bool tabular;   /* figures of one width, for stacked times */
};

/* Fonts, shaping state and every block set since the last reset. */
struct typesetter;

/* A shaped text. Belongs to its typesetter; valid until typesetter_reset(). */
struct text_block;

/* Loads every font file of `folder`. NULL, with a stop, when there is none or one cannot be read. */
struct typesetter *typesetter_new(const char *folder, struct findings *findings);
void typesetter_free(struct typesetter *typesetter);

/*
 * Ends the life of all blocks: after each packet. Those of the last packets are
 * kept inside, to be given out again for equal input.
 */
void typesetter_reset(struct typesetter *typesetter);

/* Has the fonts ready for a packet in `language`: a font's first letter takes ten times as long as any later one. */
void typesetter_ready(struct typesetter *typesetter, const char *language);

/* True while the font files are those that it was made from; what was set since then may be another font's otherwise. */
bool typesetter_fonts_same(const struct typesetter *typesetter);

/*
 * Sets `text` in `language` ("en"), wrapped at `width` mm (0: one line, never
 * wrapped). Never hyphenates. The language gives the direction of the whole
 * text, whatever letters it begins with. The same input gives an equal block; blocks may
 * be shared.
 */
const struct text_block *text_set(struct typesetter *typesetter, const char *text, const char *language,
                                  struct text_style style, double width);

double text_width(const struct text_block *block);   /* of the widest line, as advanced */
double text_height(const struct text_block *block);  /* cap top of the first line to baseline of the last */
double text_descent(const struct text_block *block); /* what may hang below the last baseline */
int text_lines(const struct text_block *block);
double text_cap_height(struct text_style style); /* of a style, mm */
double text_leading(struct text_style style);    /* between its baselines, mm */
const struct text_style *text_style_of(const struct text_block *block);
const char *text_string(const struct text_block *block); /* without bold switches and soft hyphens */

/* Where ink may fall, relative to the block's start edge and cap top. */
struct rect text_ink(const struct text_block *block);

/* The width that it was wrapped at and is aligned in; text_width() where it needed none. */
double text_box_width(const struct text_block *block);

/* True for a language whose lines run from right to left: its blocks start at the right. */
bool text_right_to_left(const char *language);

/* True when a letter of the text runs from right to left. */
bool text_has_right_to_left(const char *text);

/*
 * Characters that cannot be printed; a sheet with any is refused: those that no
 * bundled font has, the sign for one that could not be read (U+FFFD), and the
 * micro sign, which is misread.
 */
int text_missing_glyphs(const struct text_block *block);

#endif
