/*
 * content.h - a page's content stream in the making: operators and their numbers; inside pdf only.
 *
 * Knows the graphics state, so that nothing is said twice, and gathers lines
 * of one ink that follow each other into one path. Numbers are millimetres
 * with y downward, since the page's first operator is the matrix that makes
 * them so; three decimals are a thousandth of a millimetre.
 *
 * Operators: ISO 32000-1, 8.4 to 8.5 (graphics), 9.4 (text), 14.6 (marked content).
 */
#ifndef PDF_CONTENT_H
#define PDF_CONTENT_H

#include "paint/device.h"

#include <glib.h>

enum { deepest_state = 16 };

/* What the stream's own reader has set; a number below 0 or COLOUR_NONE: nothing yet. */
struct content_state {
	enum colour fill;
	enum colour stroke;
	double line;
	double dash;
	int cap;
};

struct content {
	GString *bytes;
	bool mono;
	struct content_state states[deepest_state]; /* the last one is in force */
	int depth;
	struct ink lines; /* of the lines gathered so far */
	bool has_lines;
};

/* An empty stream for a page of `height` mm. Free it with content_free(). */
struct content *content_new(double height, bool mono);
void content_free(struct content *content);

/* Draws the lines gathered so far: before anything that is no line of the same ink. */
void content_flush(struct content *content);

void content_path(struct content *content, const struct path *path, const struct ink *ink);
void content_push_clip(struct content *content, const struct path *path);
void content_push_matrix(struct content *content, const struct matrix *matrix);
void content_pop(struct content *content);

/* An operator with its operands, or a part of one, as it is. */
void content_add(struct content *content, const char *text);
/* Four digits of base sixteen: how a font's glyph is named in a string. At most 0xFFFF. */
void content_code(struct content *content, unsigned code);
/* A number with at most `decimals` of them, and a space. */
void content_number(struct content *content, double number, int decimals);
void content_fill_colour(struct content *content, enum colour colour);

#endif
