/*
 * sketch.h - drawings written as text: what pictograms and step pictures are made of.
 *
 * A stroke is a style and a shape. A shape is read like a sentence, each
 * letter followed by its numbers, in the drawing's own units:
 *
 *     M x y             begins a piece         L x y           a line on
 *     C x y x y x y     a curve on             Z               closes the piece
 *     R x y w h r       a rounded box          O x y r         a circle
 *     E x y rx ry       an ellipse             A x y r a b     an arc from angle a to b
 *
 *     sketch_draw(sketch, SKETCH_SHAPE, "R 3 5 18 14 2");
 *     sketch_draw(sketch, SKETCH_LINE, "M 3 9 L 21 9 M %g 3 L %g 7", x, x);
 *
 * Lines keep their width on paper however a part is scaled, and liquid its
 * hatch; so parts of any size stand together as one family.
 */
#ifndef PAINT_SKETCH_H
#define PAINT_SKETCH_H

#include "paint/painter.h"

#include <stdbool.h>

enum sketch_style {
	SKETCH_LINE,    /* ink */
	SKETCH_THIN,    /* ink, six tenths of the line */
	SKETCH_BOLD,    /* ink, twice the line */
	SKETCH_DASHED,  /* ink, six tenths, broken */
	SKETCH_SHAPE,   /* outlined, white inside */
	SKETCH_PLASTIC, /* outlined, grey inside */
	SKETCH_HUB,     /* outlined, the thick needle's grey inside */
	SKETCH_POWDER,  /* pale, no outline */
	SKETCH_SOLID,   /* ink inside, no outline: rubber, heads, dots */
	SKETCH_BLANK,   /* white inside, no outline */
	SKETCH_LIQUID,  /* hatched, no outline */
	SKETCH_DROP,    /* hatched, with a blue outline */
	SKETCH_STREAM,  /* a bold blue line: liquid that runs */
	SKETCH_WRONG    /* a heavy rust line on a white bed */
};

/* The closest hatch, mm: of a closer one the lines would be under 0.18, which poor printers lose. */
#define HATCH_PITCH_LEAST 0.82

struct sketch {
	struct painter *painter;
	double line;  /* width of an outline in the units in force */
	double pitch; /* of the hatch */
	double turn;  /* degrees that the units in force are turned */
	double ring;  /* where the dose's ring stands, as a share of the barrel; 0: where the drawing likes */
	bool thin;    /* the needle that draws is the thin one */
};

/*
 * (0, 0) becomes `at`, a unit becomes `scale`, turned clockwise by `turn`.
 * Draw with what is returned, then end it with sketch_end().
 */
struct sketch sketch_place(struct sketch sketch, struct point at, double scale, double turn);
void sketch_end(struct sketch sketch);

/* `shape` is a printf format. */
void sketch_draw(struct sketch sketch, enum sketch_style style, const char *shape, ...)
	__attribute__((format(printf, 3, 4)));

struct sketch_stroke {
	enum sketch_style style;
	const char *shape;
};

void sketch_strokes(struct sketch sketch, const struct sketch_stroke *strokes, size_t n);

/* What stands as far from the other edge of a drawing so wide. */
struct rect sketch_mirrored(struct rect of, double width);

/* Liquid in a vessel, below the height of its surface or, where the vessel stands on its head, above. */
void sketch_fill_vessel(struct sketch sketch, const char *vessel, double surface, bool below);

/* An arrow: its shaft is one open piece, its heads stand before the shaft's ends. */
enum arrow_heads { ARROW_AT_END, ARROW_AT_BOTH };
void sketch_arrow(struct sketch sketch, enum arrow_heads heads, const char *shaft, ...)
	__attribute__((format(printf, 3, 4)));
/* The same in blue: liquid goes this way. */
void sketch_liquid_arrow(struct sketch sketch, const char *shaft, ...) __attribute__((format(printf, 2, 3)));

#endif
