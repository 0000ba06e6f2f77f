/*
 * barrel.h - a syringe lying in its own millimetres: zero line at x = 0, axis at y = 0.
 *
 * True size and magnifier are the same drawing, so that they cannot disagree;
 * only the weight of its lines differs.
 */
#ifndef PAINT_BARREL_H
#define PAINT_BARREL_H

#include "page/syringe_geometry.h"
#include "paint/painter.h"

/* Widths in the drawing's mm. */
struct barrel_look {
	double outline;
	double inside;     /* inner walls, rod */
	double graduation; /* small lines; longer ones are heavier by their share */
	double mark;       /* the line wall to wall, and the white bed under it */
	double mark_bed;
	double pitch; /* of the hatch */
	double hatch;
};

struct barrel {
	const struct syringe *syringe;
	double ring;          /* mL where the front ring stands */
	double liquid;        /* mL of liquid before it */
	int needle;           /* NEEDLE_NONE, NEEDLE_THIN or NEEDLE_THICK */
	double needle_length; /* 0: as usual */
	bool cut_rod;
	double cut_at;    /* from the zero line */
	bool is_part;     /* only a stretch shows: lines outside it are left out, since every one costs time */
	double seen_from; /* from the zero line */
	double seen_to;
	struct barrel_look look;
};

void barrel_draw(struct painter *painter, const struct barrel *barrel);

/* A needle by itself, its hub's open end at x = 0, its point at -NEEDLE_HUB - length. */
void needle_draw(struct painter *painter, double length, bool thick, struct barrel_look look);

/* The line wall to wall at `ml`, over what barrel_draw() drew. */
void barrel_draw_mark(struct painter *painter, const struct barrel *barrel, double ml);

#endif
