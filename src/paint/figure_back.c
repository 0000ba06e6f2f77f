/*
 * A back from the waist to the thighs, for the one who injects: left is left.
 *
 *          |   |   |
 *         /    |    \
 *      [o]     |     [o]    the hip's side, or the upper outer quarter of each half
 *       |      )      |
 *        \_____/\____/
 *
 * Drawn in the millimetres of its own frame, BACK_WIDTH by BACK_HEIGHT.
 */
#include "paint/figures.h"
#include "paint/sketch.h"

#define BACK_WIDTH 82.0

/* The left one of each two. */
static const struct rect hip_side = {4.6, 20.5, 11.4, 15.4};
static const struct rect upper_quarter = {13.0, 23.6, 12.7, 14.4};

static void draw_body(struct sketch sketch)
{
	struct sketch bold = sketch;

	bold.line = LINE_STRONG;
	sketch_draw(bold, SKETCH_LINE, "M 20.6 1 C 21.2 14 8.4 17 8.4 36 C 8.4 46 10.6 53 11.8 62");
	sketch_draw(bold, SKETCH_LINE, "M 61.4 1 C 60.8 14 73.6 17 73.6 36 C 73.6 46 71.4 53 70.2 62");
	sketch_draw(bold, SKETCH_LINE, "M 15 53 C 22 58.4 36 57.6 41 52 C 46 57.6 60 58.4 67 53");
	sketch_draw(bold, SKETCH_LINE, "M 41 26 C 40.4 35 41.6 43 41 52 M 41 56 L 41 62");
	sketch_draw(sketch, SKETCH_THIN, "M 41 1 L 41 19");
}

/* A cross over each half, as it is drawn in the mind. */
static void draw_quarters(struct sketch sketch)
{
	double y = upper_quarter.y + upper_quarter.height;
	double x = upper_quarter.x + upper_quarter.width;

	sketch_draw(sketch, SKETCH_DASHED, "M %g %g L 39.4 %g M %g %g L %g 53.4", upper_quarter.x, y, y, x,
	            upper_quarter.y, x);
	sketch_draw(sketch, SKETCH_DASHED, "M %g %g L 42.6 %g M %g %g L %g 53.4", BACK_WIDTH - upper_quarter.x, y, y,
	            BACK_WIDTH - x, upper_quarter.y, BACK_WIDTH - x);
}

static void draw_place(struct sketch sketch, struct rect left, bool right)
{
	struct rect place = right ? sketch_mirrored(left, BACK_WIDTH) : left;
	struct sketch thick = sketch;

	thick.line = LINE_ALARM;
	sketch_draw(thick, SKETCH_SHAPE, "R %g %g %g %g 1.4", place.x, place.y, place.width, place.height);
	sketch_draw(sketch, SKETCH_LINE, "O %g %g 3", place.x + place.width / 2, place.y + place.height / 2);
	sketch_draw(sketch, SKETCH_SOLID, "O %g %g 1.1", place.x + place.width / 2, place.y + place.height / 2);
}

void figure_back(struct painter *painter, const struct back_figure *figure)
{
	struct sketch page = {.painter = painter, .line = LINE_OUTLINE, .pitch = 1};
	struct sketch sketch =
		sketch_place(page, (struct point){figure->area.x, figure->area.y}, figure->area.width / BACK_WIDTH, 0);
	bool quarter = figure->place == BACK_UPPER_QUARTER;

	draw_body(sketch);
	if (quarter)
		draw_quarters(sketch);
	draw_place(sketch, quarter ? upper_quarter : hip_side, false);
	draw_place(sketch, quarter ? upper_quarter : hip_side, true);
	sketch_end(sketch);
}
