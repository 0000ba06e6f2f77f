/*
 * mirror.h - a page for a language that runs from right to left: columns, text, bars and signs change sides.
 *
 * Sections place their marks as for a language that runs from left to right.
 * When a page is closed its marks are turned over the middle of their span,
 * which is the paper where nothing else was said. A figure is moved as one and
 * keeps its drawing: syringe, tag, ruler, clock and a formula's numbers are
 * never mirrored, and a tag's point stays on its line.
 *
 *     | name      [0.5 mL]  (o) |        | (o)  [0.5 mL]      name |
 *     |           --<||||#==|   |   ->   |   --<||||#==|           |
 */
#ifndef PAGE_MIRROR_H
#define PAGE_MIRROR_H

#include "page/placed.h"

/* How a mark is turned, as it stood when it was put. */
struct turning {
	double axis; /* the two edges of its span, added up: x becomes axis - x */
	bool fixed;  /* it stays where it is; its text runs from the right all the same */
	bool whole;  /* the group that this mark opens is moved as one, as a figure is */
};

/* Turns `n` marks, each with its turning. What a mark points at is copied into `arena`, never changed. */
void mirror_marks(struct arena *arena, struct placed_mark *marks, const struct turning *turnings, size_t n);

#endif
