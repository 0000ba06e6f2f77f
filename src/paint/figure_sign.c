/* The small signs that carry a state: side, new dose, draft, signed, equals. */
#include "paint/figures.h"
#include "paint/painter.h"

#include <assert.h>

/* Somebody else looks from behind: left is left again. */
static void draw_hips(struct painter *painter, const struct side_figure *figure)
{
	double w = figure->width;
	struct point at = figure->at;
	double filled = figure->side == SIDE_LEFT ? at.x + 0.06 * w : at.x + 0.62 * w;
	struct path_builder *outline = path_new(painter->scratch);
	struct path_builder *middle = path_new(painter->scratch);
	struct path_builder *place = path_new(painter->scratch);

	path_move(outline, at.x + 0.16 * w, at.y);
	path_line(outline, at.x + 0.84 * w, at.y);
	path_curve(outline, (struct point){at.x + 1.02 * w, at.y + 0.3 * w},
	           (struct point){at.x + 1.0 * w, at.y + 0.7 * w}, (struct point){at.x + 0.88 * w, at.y + w});
	path_line(outline, at.x + 0.12 * w, at.y + w);
	path_curve(outline, (struct point){at.x, at.y + 0.7 * w}, (struct point){at.x - 0.02 * w, at.y + 0.3 * w},
	           (struct point){at.x + 0.16 * w, at.y});
	path_close(outline);
	paint_fill_and_stroke(painter, outline, COLOUR_WHITE, LINE_OUTLINE + 0.05, COLOUR_INK);
	path_stroke_line(middle, (struct point){at.x + w / 2, at.y + 0.46 * w}, (struct point){at.x + w / 2, at.y + w});
	paint_stroke(painter, middle, LINE_OUTLINE + 0.05, COLOUR_INK);
	path_rect(place, (struct rect){filled, at.y + 0.14 * w, 0.32 * w, 0.4 * w});
	paint_fill(painter, place, COLOUR_INK);
}

/* The wearer looks down: left is left. */
void figure_side(struct painter *painter, const struct side_figure *figure)
{
	if (figure->hip) {
		draw_hips(painter, figure);
		return;
	}
	double width = figure->width;
	double height = width * 0.62;
	struct rect belly = {figure->at.x, figure->at.y, width, height};
	struct point navel = {belly.x + width / 2, belly.y + height / 2};
	struct rect half = {figure->side == SIDE_LEFT ? belly.x : navel.x, belly.y, width / 2, height};
	struct path_builder *outline = path_new(painter->scratch);
	struct path_builder *filled = path_new(painter->scratch);
	struct path_builder *ring = path_new(painter->scratch);

	path_rounded(outline, belly, height / 2);
	path_rect(filled, half);
	path_circle(ring, navel, width * 0.11);
	paint_fill(painter, outline, COLOUR_WHITE);
	if (figure->side != SIDE_NONE) {
		paint_push_clip(painter, outline);
		paint_fill(painter, filled, COLOUR_INK);
		paint_pop(painter);
	}
	paint_stroke(painter, outline, LINE_OUTLINE + 0.05, COLOUR_INK);
	paint_fill_and_stroke(painter, ring, COLOUR_WHITE, LINE_OUTLINE + 0.05, COLOUR_INK);
}

void figure_corner(struct painter *painter, const struct corner_figure *figure)
{
	struct point at = figure->at;
	struct path_builder *corner = path_new(painter->scratch);

	double upright = figure->right ? at.x + figure->leg : at.x;
	path_polygon(corner, (struct point[]){at, {at.x + figure->leg, at.y}, {upright, at.y + figure->leg}}, 3);
	paint_fill(painter, corner, COLOUR_RUST);
}

void figure_hatch(struct painter *painter, const struct hatch_figure *figure)
{
	struct path_builder *area = path_new(painter->scratch);

	path_rect(area, figure->area);
	paint_hatch(painter, area, 1.7, 0.6, COLOUR_INK);
}

static void draw_check(struct painter *painter, struct point centre, double radius)
{
	struct path_builder *check = path_new(painter->scratch);

	path_polyline(check,
	              (struct point[]){{centre.x - radius * 0.42, centre.y + radius * 0.04},
	                               {centre.x - radius * 0.1, centre.y + radius * 0.36},
	                               {centre.x + radius * 0.46, centre.y - radius * 0.34}},
	              3);
	paint_stroke_round(painter, check, radius * 0.17, COLOUR_INK);
}

/* A draft's ring is broken and empty: nobody has stood in for it. */
void figure_seal(struct painter *painter, const struct seal_figure *figure)
{
	struct path_builder *ring = path_new(painter->scratch);

	path_circle(ring, figure->centre, figure->radius - LINE_STRONG / 2);
	if (!figure->is_signed) {
		paint_stroke_dashed(painter, ring, LINE_MAIN, 1.5, COLOUR_INK);
		return;
	}
	paint_fill_and_stroke(painter, ring, COLOUR_WHITE, LINE_STRONG, COLOUR_INK);
	draw_check(painter, figure->centre, figure->radius);
}

void figure_knot(struct painter *painter, const struct knot_figure *figure)
{
	struct point centre = figure->centre;
	double radius = figure->radius;
	double arm = radius * 0.45;
	double bar = radius * 0.17;
	struct path_builder *ring = path_new(painter->scratch);
	struct path_builder *sign = path_new(painter->scratch);

	assert(figure->sign == '=' || figure->sign == '+');
	paint_line(painter, (struct point){centre.x, centre.y - radius - figure->up},
	           (struct point){centre.x, centre.y + radius + figure->down}, LINE_FINE, COLOUR_INK);
	path_circle(ring, centre, radius - LINE_MAIN / 2);
	paint_fill_and_stroke(painter, ring, COLOUR_WHITE, LINE_MAIN, COLOUR_INK);
	if (figure->sign == '=') {
		for (int side = -1; side <= 1; side += 2)
			path_stroke_line(sign, (struct point){centre.x - arm, centre.y + side * radius * 0.2},
			                 (struct point){centre.x + arm, centre.y + side * radius * 0.2});
	} else {
		path_stroke_line(sign, (struct point){centre.x - arm, centre.y},
		                 (struct point){centre.x + arm, centre.y});
		path_stroke_line(sign, (struct point){centre.x, centre.y - arm},
		                 (struct point){centre.x, centre.y + arm});
	}
	paint_stroke(painter, sign, bar, COLOUR_INK);
}
