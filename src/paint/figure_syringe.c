#include "paint/barrel.h"
#include "paint/figures.h"
#include "paint/primitives.h"

#include <math.h>

static const struct barrel_look true_size_look = {
	.outline = LINE_OUTLINE,
	.inside = LINE_HAIR,
	.graduation = 0.15,
	.mark = 0.45,
	.mark_bed = 0.86,
	.pitch = 1.05,
	.hatch = LIQUID_LINE,
};

/* Numerals stand under their lines, below the barrel, where nothing crosses them. */
static void draw_numerals(struct painter *painter, const struct syringe_figure *figure)
{
	double y = figure->axis + syringe_numerals_drop(figure->syringe);

	for (size_t i = 0; i < figure->n_numerals; i++) {
		const struct text_block *numeral = figure->numerals[i];
		if (!numeral)
			continue;
		double x = syringe_x(figure->syringe, figure->x_zero,
		                     measure_of(syringe_numbered_volume(figure->syringe, i)));
		paint_text(painter, numeral, (struct point){x - text_width(numeral) / 2, y}, COLOUR_INK);
	}
}

/* Three drops fall clear of one another and of the needle's point. */
static void draw_drops(struct painter *painter, struct point tip)
{
	static const struct point places[] = {{-3.2, -2.6}, {-6.4, -3.4}, {-4.6, 0.8}};
	struct sketch sketch = {.painter = painter, .line = LINE_OUTLINE, .pitch = 0.9};

	for (size_t i = 0; i < sizeof places / sizeof *places; i++)
		primitive_drop(sketch, (struct point){tip.x + places[i].x, tip.y + places[i].y}, 2.9);
}

/* Its bow is towards the needle, most of which is under it; no higher than the barrel, over which the tag stands. */
static void draw_skin(struct painter *painter, struct point tip, double needle, double above)
{
	struct path_builder *skin = path_new(painter->scratch);
	double x = tip.x + needle * 0.7;
	double below = 7.5;

	path_move(skin, x + 0.5, tip.y - above);
	path_curve(skin, (struct point){x - 0.2, tip.y - above / 2}, (struct point){x - 0.3, tip.y + below / 2},
	           (struct point){x + 1.2, tip.y + below});
	paint_stroke_round(painter, skin, LINE_STRONG, COLOUR_INK);
}

/* Where the thumb pushes. */
static void draw_push(struct painter *painter, const struct syringe_figure *figure)
{
	double thumb = figure->x_zero + syringe_right(figure->syringe, figure->ring);
	double from = (figure->cut_rod ? fmin(thumb, figure->cut_at + 2.6) : thumb) + 3.2;
	struct sketch sketch = {.painter = painter, .line = LINE_MAIN, .pitch = 1};

	sketch_arrow(sketch, ARROW_AT_END, "M %g %g L %g %g", from + 6.4, figure->axis, from, figure->axis);
}

#define PUSH_RISE 1.6  /* wall to the arrow's shaft, in the air under the tag */
#define PUSH_CLEAR 4.5 /* shaft to the line that the ring goes to: the arrow's head and half the tag's point */
#define PUSH_LEAST 3.0

/* From the ring to where it is pushed. */
static void draw_push_to(struct painter *painter, const struct syringe_figure *figure)
{
	struct sketch sketch = {.painter = painter, .line = LINE_MAIN, .pitch = 1};
	double y = figure->axis - syringe_geometry_of(figure->syringe).outer / 2 - PUSH_RISE;
	double from = syringe_x(figure->syringe, figure->x_zero, figure->ring);
	double to = syringe_x(figure->syringe, figure->x_zero, figure->push_to) + PUSH_CLEAR;

	if (from - to >= PUSH_LEAST)
		sketch_arrow(sketch, ARROW_AT_END, "M %g %g L %g %g", from, y, to, y);
}

#define BUBBLE 0.22      /* radius, of the bore */
#define BUBBLE_CLEAR 0.9 /* to the stopper's cone */

/* It floats against the upper wall, where no line stands. */
static void draw_bubble(struct painter *painter, const struct syringe_figure *figure)
{
	struct syringe_geometry geometry = syringe_geometry_of(figure->syringe);
	struct path_builder *bubble = path_new(painter->scratch);
	double radius = BUBBLE * geometry.inner;
	double x = syringe_x(figure->syringe, figure->x_zero, figure->ring) - geometry.cone - BUBBLE_CLEAR - radius;
	double y = figure->axis - geometry.inner / 2 + radius;

	path_circle(bubble, (struct point){x, y}, radius);
	paint_fill_and_stroke(painter, bubble, COLOUR_WHITE, LINE_FINE, COLOUR_INK);
}

static void draw_around(struct painter *painter, const struct syringe_figure *figure)
{
	double reach = syringe_left(figure->syringe, true, figure->needle_length);
	struct point tip = {figure->x_zero - reach, figure->axis};
	struct syringe_geometry geometry = syringe_geometry_of(figure->syringe);

	if (figure->tip == TIP_DROPS)
		draw_drops(painter, tip);
	if (figure->tip == TIP_SKIN)
		draw_skin(painter, tip, reach - geometry.front - geometry.hub, geometry.outer / 2);
	if (figure->pushed)
		draw_push(painter, figure);
	if (figure->push_shown)
		draw_push_to(painter, figure);
	if (figure->bubble)
		draw_bubble(painter, figure);
}

void figure_needle(struct painter *painter, const struct needle_figure *figure)
{
	struct point open_end = {figure->at.x + figure->length + NEEDLE_HUB, figure->at.y};

	paint_push_place(painter, open_end, 1, 0);
	needle_draw(painter, figure->length, figure->thick, true_size_look);
	paint_pop(painter);
}

void figure_syringe(struct painter *painter, const struct syringe_figure *figure)
{
	struct barrel barrel = {
		.syringe = figure->syringe,
		.ring = figure->ring,
		.liquid = figure->liquid,
		.needle = figure->needle,
		.needle_length = figure->needle_length,
		.cut_rod = figure->cut_rod,
		.cut_at = figure->cut_at - figure->x_zero,
		.look = true_size_look,
	};

	paint_push_place(painter, (struct point){figure->x_zero, figure->axis}, 1, 0);
	barrel_draw(painter, &barrel);
	if (figure->line)
		barrel_draw_mark(painter, &barrel, figure->mark);
	paint_pop(painter);
	draw_numerals(painter, figure);
	draw_around(painter, figure);
}
