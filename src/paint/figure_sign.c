/* The small signs that carry a state: side, new dose, draft, signed, equals. */
#include "paint/figures.h"
#include "paint/painter.h"

#include <assert.h>

/* The wearer looks down: left is left. */
void figure_side(struct painter *painter, const struct side_figure *figure)
{
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
