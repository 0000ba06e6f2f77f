/*
 * tag_geometry.h - the fill mark's measures, all from the size of its number.
 *
 *       ____________________
 *      |  stop at  0.2  mL  |   words and unit at 62 %, on the number's baseline
 *      '---------.  .-------'
 *                 \/            the tip: exactly over the line
 *
 * A solid tag says what goes into you, an open one what only prepares.
 */
#ifndef PAGE_TAG_GEOMETRY_H
#define PAGE_TAG_GEOMETRY_H

#include "page/placed.h"

#define TAG_CORNER 0.9

/* The styles of a tag whose number is `size` pt: bold; its words semibold at 62 %, never under 10 pt. */
struct text_style tag_number_style(double size);
struct text_style tag_word_style(double size);

/* What stands in a tag; `before` and `unit` may be NULL. */
struct tag_words {
	const struct text_block *before;
	const struct text_block *number;
	const struct text_block *unit;
};

/* A tag with its point at `tip`; in the grid it is flatter. */
struct tag tag_of(struct point tip, struct tag_words words, bool open);
struct tag tag_in_grid(struct point tip, struct tag_words words, bool open);

struct tag_geometry {
	struct rect body;
	struct rect area; /* body and point */
	double before_x;  /* start edges of the texts */
	double number_x;
	double unit_x;
	double baseline; /* of all three */
};

struct tag_geometry tag_measure(const struct tag *tag);

/* How wide the body of such a tag is. */
double tag_width(const struct tag *tag);

/* The slide that keeps the body between `left` and `right`; 0 where it stands free. */
double tag_slide_within(const struct tag *tag, double left, double right);

#endif
