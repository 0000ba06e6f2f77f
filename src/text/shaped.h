/*
 * shaped.h - texts as Pango set them, each kept for whatever comes out the same; inside text only.
 *
 * A page tries a text in many widths and sizes, and most of them break its lines
 * at the same places. Nothing that is set depends on the size, so a width counts
 * in the units of the one size that all is set at. Between the width that the
 * longest line needs and the one at which a line would take a further word in,
 * the lines are the same: within these bounds, drawn a little closer, a text is
 * given out again. It is found by all else that it was set from, whole, never
 * by a digest alone: a stale dose would be a fault that hurts.
 */
#ifndef TEXT_SHAPED_H
#define TEXT_SHAPED_H

#include "text/fonts.h"

#include <limits.h>
#include <pango/pango.h>
#include <stdint.h>

#define SHAPED_UNWRAPPED INT_MAX

/* All that a text is set from. */
struct shaping {
	const char *text; /* with its switches */
	size_t length;
	uint64_t digest; /* of the text */
	const char *language;
	enum text_weight weight;
	enum text_align align;
	bool tabular;
	int leading; /* in units of the layout, as is the width */
	int width;   /* or SHAPED_UNWRAPPED */
};

struct shaped {
	struct shaped *next; /* in its bucket */
	struct shaping shaping;
	int least; /* the widths that it is good for */
	int most;
	size_t users;
	char *string; /* without switches and soft hyphens */
	PangoLayout *layout;
	int lines;
	int width;    /* of the widest line, as advanced */
	int baseline; /* of the first line, from the layout's top */
	int last;     /* from the first baseline to the last */
	PangoRectangle ink;
	int missing;
	bool leftward; /* its first line is read from the right */
};

/* Every text that somebody uses. */
struct shaped_texts;

struct shaped_texts *shaped_texts_new(const struct fonts *fonts);
void shaped_texts_free(struct shaped_texts *texts); /* once nobody uses any */

/* The text set so, or one that is equal to it; give it back with shaped_give_back(). */
const struct shaped *shaped_take(struct shaped_texts *texts, const struct shaping *shaping);
void shaped_give_back(struct shaped_texts *texts, const struct shaped *shaped);

/* Mixes a further number into a digest that only chooses a bucket. */
uint64_t shaped_mix(uint64_t digest, uint64_t further);

#endif
