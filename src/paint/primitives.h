/*
 * primitives.h - the things that pictograms and step pictures share, each drawn one way.
 *
 * A part is placed by a point and a scale; at scale 1 it has the size its
 * comment names, in the drawing's units.
 */
#ifndef PAINT_PRIMITIVES_H
#define PAINT_PRIMITIVES_H

#include "paint/sketch.h"

/* ---- vials: 16 wide, 26 high, 28.6 with the lid; the point is the middle of the bottom ---- */

#define VIAL_BODY_HEIGHT 16.0
#define VIAL_HEIGHT 26.0

enum vial_content { VIAL_EMPTY, VIAL_LIQUID, VIAL_POWDER, VIAL_CLOUDY, VIAL_BITS };

struct vial {
	struct point at;
	double scale;
	double turn; /* degrees, about the point */
	enum vial_content content;
	double level;     /* of the body, 0 to 1; not for powder */
	bool lid;         /* the plastic lid is still on */
	bool upside_down; /* liquid stands at the neck; the point is the middle of the top as seen */
};

void primitive_vial(struct sketch sketch, struct vial vial);

/* ---- needles and syringes, lying; the needle points left ---- */

enum needle_look { LOOK_NO_NEEDLE, LOOK_THIN, LOOK_THICK, LOOK_FILTER, LOOK_CAP };

/* Hub and cannula; the point is the hub's open end. The hub is 5 long and 4.4 high at scale 1. */
struct needle_part {
	struct point at;
	double scale;
	double turn;
	enum needle_look look;
	double length; /* of the cannula, in units of the part */
};

void primitive_needle(struct sketch sketch, struct needle_part needle);

/*
 * The point is the barrel's front end; nozzle and needle stand left of it. At
 * scale 1 the bore is 4.4. Turned by -90 the needle points down, by 90 up.
 */
struct syringe_part {
	struct point at;
	double scale;
	double turn;
	double length; /* of the barrel */
	double ring;   /* where the stopper's front stands, 0 to 1 of what the barrel holds */
	double from;   /* the liquid, as parts of the barrel; none where they are equal */
	double to;
	enum vial_content content; /* VIAL_CLOUDY and VIAL_BITS mark the liquid */
	enum needle_look needle;
	double needle_length;
	int bubbles;     /* in the liquid, near the needle */
	bool graduated;  /* ticks along the barrel */
	bool wedge;      /* the sign 'stop on this line' at the ring */
	bool wedge_open; /* ... of preparation */
};

void primitive_syringe(struct sketch sketch, struct syringe_part syringe);

/*
 * A syringe with its needle through a vial's rubber: from above, the vial on
 * its bottom, or from below, the vial on its head. 34 high and more with the
 * plunger drawn; the point is the middle of the vial's bottom, as seen.
 */
struct filling {
	struct point at;
	bool upside_down;
	enum vial_content content;
	double level;
	struct syringe_part syringe; /* its at, scale, turn and needle length are set here */
	bool tip_in_air;             /* upright: the needle goes no deeper than the neck */
};

void primitive_filling(struct sketch sketch, struct filling filling);

/* ---- ampoules: 9 wide, 25 high; the point is the middle of the bottom ---- */

struct ampoule {
	struct point at;
	double scale;
	double turn;
	double level; /* of the body */
	bool open;    /* its head is off */
};

void primitive_ampoule(struct sketch sketch, struct ampoule ampoule);

/* ---- pens, lying; 44 long with the needle, 7 high; the point is the cartridge's front end ---- */

struct pen_part {
	struct point at;
	double scale;
	double turn;
	bool needle;
	double knob_out; /* how far it is dialled out, 0 to 1 */
};

void primitive_pen(struct sketch sketch, struct pen_part pen);

/* ---- others ---- */

/* A drop of `height`, its tip at the top. */
void primitive_drop(struct sketch sketch, struct point tip, double height);

void primitive_clock(struct sketch sketch, struct point centre, double radius, double hour, double minute);

void primitive_check(struct sketch sketch, struct point middle, double size);
void primitive_cross(struct sketch sketch, struct point middle, double size);
/* A slash through what must not be done. */
void primitive_strike(struct sketch sketch, struct point middle, double size);

/* A counted second: `n` dots on a part of a circle, clockwise from `from` degrees to `to`. */
void primitive_dots(struct sketch sketch, struct point centre, double radius, double from, double to, int n);

/* A box of 18 by 18 that medicine comes in; the point is its top left corner. */
void primitive_carton(struct sketch sketch, struct point at, double scale);

/* The sharps box, 20 wide, 20 high; the point is the middle of its bottom. */
void primitive_sharps_box(struct sketch sketch, struct point at, double scale);

/* A label stuck on a vial or lying by it, 14 wide, 11 high; the point is its top left corner. */
void primitive_label(struct sketch sketch, struct point at, double scale);

/* The fridge, 14 wide, 24 high; the point is its top left corner. */
void primitive_fridge(struct sketch sketch, struct point at, double scale);

/* A shelf for what is kept in the room: as large as the fridge, and placed as it is. */
void primitive_shelf(struct sketch sketch, struct point at, double scale);

/* Where the dose's ring is drawn: its true share of the barrel, as far as a small drawing has room; else `own`. */
double dose_ring(struct sketch sketch, double own);

#endif
