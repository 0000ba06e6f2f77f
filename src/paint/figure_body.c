/*
 * A body from the ribs to the thighs, as she sees herself in a mirror: left is left.
 *
 *      |         |
 *       )   o   (       places beside the navel, on the belly
 *      /[ ]   [ ]\
 *     |     |     |
 *     | [ ] | [ ] |     and in the middle of the thighs, in front
 *
 * Drawn in the millimetres of its own frame, BODY_WIDTH by BODY_HEIGHT.
 */
#include "paint/figures.h"
#include "paint/sketch.h"

#define BODY_WIDTH 40.0

/* The left one of each two. */
static const struct rect on_belly = {9.6, 7.6, 7.0, 8.2};
static const struct rect on_thigh = {7.6, 30.4, 6.6, 9.4};

static void draw_outline(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_LINE, "M 7.4 0.6 C 8.6 8 6.6 12 4.6 18.4 C 2.8 25 3.4 34 5.2 43.4");
	sketch_draw(sketch, SKETCH_LINE, "M 32.6 0.6 C 31.4 8 33.4 12 35.4 18.4 C 37.2 25 36.6 34 34.8 43.4");
	sketch_draw(sketch, SKETCH_LINE, "M 20 27.4 C 19.6 33 18.6 38 18 43.4 M 20 27.4 C 20.4 33 21.4 38 22 43.4");
	sketch_draw(sketch, SKETCH_THIN, "M 4.6 20.6 C 10 25.4 15 27.2 20 27.4 C 25 27.2 30 25.4 35.4 20.6");
	sketch_draw(sketch, SKETCH_LINE, "O 20 11.6 0.9");
}

/* Today's side is black; the other one is only where it would be. */
static void draw_places(struct sketch sketch, struct rect left, enum side side)
{
	for (int right = 0; right < 2; right++) {
		struct rect place = right ? sketch_mirrored(left, BODY_WIDTH) : left;
		bool today = side == (right ? SIDE_RIGHT : SIDE_LEFT);
		sketch_draw(sketch, today ? SKETCH_SOLID : SKETCH_DASHED, "R %g %g %g %g 1.8", place.x, place.y,
		            place.width, place.height);
	}
}

void figure_body(struct painter *painter, const struct body_figure *figure)
{
	struct sketch page = {.painter = painter, .line = LINE_OUTLINE + 0.05, .pitch = 1};
	struct sketch sketch =
		sketch_place(page, (struct point){figure->area.x, figure->area.y}, figure->area.width / BODY_WIDTH, 0);

	draw_outline(sketch);
	if (figure->belly)
		draw_places(sketch, on_belly, figure->side);
	if (figure->thigh)
		draw_places(sketch, on_thigh, figure->side);
	sketch_end(sketch);
}
