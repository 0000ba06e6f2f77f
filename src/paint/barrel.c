#include "paint/barrel.h"

#include <math.h>

/* ---- what is inside ---- */

static double ml_to_x(const struct barrel *barrel, double ml)
{
	return syringe_x(barrel->syringe, 0, ml);
}

/* The cone reaches the barrel's front when the front ring stands on zero: there the inside begins. */
static double inside_front(const struct syringe_geometry *geometry)
{
	return -geometry->cone;
}

/* Tint in full height, hatch only above the axis: the lines below stand on clean ground. */
static void draw_liquid(struct painter *painter, const struct barrel *barrel, const struct syringe_geometry *geometry)
{
	double front = inside_front(geometry);
	double half = geometry->inner / 2;
	double from = barrel->is_part ? fmax(front, barrel->seen_from) : front;
	struct rect all = {from, -half, fmax(0, ml_to_x(barrel, barrel->liquid) - from), geometry->inner};
	struct rect upper = {all.x, all.y, all.width, half};
	struct path_builder *tint = path_new(painter->scratch);
	struct path_builder *hatch = path_new(painter->scratch);

	path_rect(tint, all);
	paint_fill(painter, tint, COLOUR_LIQUID_TINT);
	path_rect(hatch, upper);
	paint_hatch(painter, hatch, barrel->look.pitch, barrel->look.hatch, COLOUR_LIQUID);
}

/*
 *       ______    ____
 *     _|      \__/    |
 *    /                |   cone, front ring, waist, back ring
 *    \_  _____ __ ____|
 *      |_|
 *      ^ the front ring's front edge: the volume is read here, so the cone
 *        begins a step lower and leaves it square
 */
static struct path_builder *stopper_path(struct painter *painter, const struct barrel *barrel,
                                         const struct syringe_geometry *geometry)
{
	struct path_builder *path = path_new(painter->scratch);
	double x = ml_to_x(barrel, barrel->ring);
	double half = geometry->inner / 2;
	double waist = 0.8 * half;
	double front = x + geometry->ring;
	double slope = geometry->waist * 0.25;
	double back = front + geometry->waist;
	double end = back + geometry->ring;
	double nose = 0.12 * geometry->inner;
	double cone = 0.9 * half;

	path_move(path, x, -half);
	path_line(path, front, -half);
	path_line(path, front + slope, -waist);
	path_line(path, back - slope, -waist);
	path_line(path, back, -half);
	path_line(path, end, -half);
	path_line(path, end, half);
	path_line(path, back, half);
	path_line(path, back - slope, waist);
	path_line(path, front + slope, waist);
	path_line(path, front, half);
	path_line(path, x, half);
	path_line(path, x, cone);
	path_curve(path, (struct point){x - geometry->cone * 0.45, half * 0.64},
	           (struct point){x - geometry->cone, nose * 2}, (struct point){x - geometry->cone, nose});
	path_line(path, x - geometry->cone, -nose);
	path_curve(path, (struct point){x - geometry->cone, -nose * 2},
	           (struct point){x - geometry->cone * 0.45, -half * 0.64}, (struct point){x, -cone});
	path_close(path);
	return path;
}

/* Two waves close together: here the rod goes on, but is not shown. */
static void draw_wave(struct painter *painter, double x, double half, double line)
{
	struct path_builder *gap = path_new(painter->scratch);

	path_rect(gap, (struct rect){x - 0.6, -half * 0.7, 1.2, half * 1.4});
	paint_fill(painter, gap, COLOUR_WHITE);
	for (int side = -1; side <= 1; side += 2) {
		struct path_builder *wave = path_new(painter->scratch);
		double at = x + side * 0.6;
		path_move(wave, at, -half);
		path_curve(wave, (struct point){at + 1.1, -half * 0.4}, (struct point){at - 1.1, half * 0.4},
		           (struct point){at, half});
		paint_stroke_round(painter, wave, line, COLOUR_INK);
	}
}

static void draw_rod(struct painter *painter, const struct barrel *barrel, const struct syringe_geometry *geometry)
{
	double from = ml_to_x(barrel, barrel->ring) + geometry->ring + geometry->waist;
	double end = syringe_right(barrel->syringe, barrel->ring) - geometry->thumb_thickness;
	double to = barrel->cut_rod ? fmin(barrel->cut_at, end) : end;
	double half = geometry->rod / 2;
	struct path_builder *body = path_new(painter->scratch);
	struct path_builder *edges = path_new(painter->scratch);

	path_rect(body, (struct rect){from, -half, to - from, geometry->rod});
	paint_fill(painter, body, COLOUR_WHITE);
	for (int i = -1; i <= 1; i++)
		path_stroke_line(edges, (struct point){from, i * half}, (struct point){to, i * half});
	paint_stroke(painter, edges, barrel->look.inside, COLOUR_INK);
	if (to < end) {
		draw_wave(painter, to, half + 1.4, barrel->look.outline);
		return;
	}
	struct path_builder *thumb = path_new(painter->scratch);
	path_rounded(thumb, (struct rect){end, -geometry->thumb / 2, geometry->thumb_thickness, geometry->thumb}, 0.7);
	paint_fill_and_stroke(painter, thumb, COLOUR_WHITE, barrel->look.outline, COLOUR_INK);
}

/* ---- the scale ---- */

/* Heights as shares of the outer diameter, widths as shares of the smallest line's. */
static const double graduation_height[] = {
	[GRADUATION_SMALL] = 0.26, [GRADUATION_MEDIUM] = 0.38, [GRADUATION_NUMBERED] = 0.50};
static const double graduation_width[] = {
	[GRADUATION_SMALL] = 1, [GRADUATION_MEDIUM] = 1.15, [GRADUATION_NUMBERED] = 1.5};

/* A stretch of the barrel, mm from the zero line. */
struct stretch {
	double from;
	double to;
};

static void draw_graduations(struct painter *painter, const struct barrel *barrel,
                             const struct syringe_geometry *geometry, enum graduation kind, struct stretch stretch,
                             enum colour colour)
{
	struct path_builder *lines = path_new(painter->scratch);
	double bottom = geometry->outer / 2;
	double top = bottom - graduation_height[kind] * geometry->outer;
	size_t count = syringe_lines(barrel->syringe);

	for (size_t i = 0; i < count; i++) {
		if (syringe_line_kind(barrel->syringe, i) != kind)
			continue;
		double x = ml_to_x(barrel, measure_of(syringe_line_volume(barrel->syringe, i)));
		if (x >= stretch.from && x <= stretch.to)
			path_stroke_line(lines, (struct point){x, bottom}, (struct point){x, top});
	}
	if (lines->path.n)
		paint_stroke(painter, lines, barrel->look.graduation * graduation_width[kind], colour);
}

static void draw_scale(struct painter *painter, const struct barrel *barrel, const struct syringe_geometry *geometry,
                       struct stretch stretch, enum colour colour)
{
	draw_graduations(painter, barrel, geometry, GRADUATION_SMALL, stretch, colour);
	draw_graduations(painter, barrel, geometry, GRADUATION_MEDIUM, stretch, colour);
	draw_graduations(painter, barrel, geometry, GRADUATION_NUMBERED, stretch, colour);
}

/* A line just outside still shows half its width. */
static struct stretch seen(const struct barrel *barrel, const struct syringe_geometry *geometry)
{
	double line = barrel->look.graduation * graduation_width[GRADUATION_NUMBERED];
	if (barrel->is_part)
		return (struct stretch){barrel->seen_from - line, barrel->seen_to + line};
	return (struct stretch){-line, geometry->scale_end + line};
}

static struct stretch over_rubber(const struct barrel *barrel, const struct syringe_geometry *geometry)
{
	double x = ml_to_x(barrel, barrel->ring);
	double line = barrel->look.graduation * graduation_width[GRADUATION_NUMBERED];
	return (struct stretch){x - geometry->cone - line, x + 2 * geometry->ring + geometry->waist + line};
}

/* ---- the barrel ---- */

static void draw_walls(struct painter *painter, const struct barrel *barrel, const struct syringe_geometry *geometry)
{
	struct path_builder *inner = path_new(painter->scratch);
	struct path_builder *outer = path_new(painter->scratch);
	double half_inner = geometry->inner / 2;
	double half = geometry->outer / 2;
	double front = inside_front(geometry);
	double corner = fmin(0.9, geometry->front - geometry->cone);

	path_stroke_line(inner, (struct point){front, -half_inner}, (struct point){geometry->flange, -half_inner});
	path_stroke_line(inner, (struct point){front, half_inner}, (struct point){geometry->flange, half_inner});
	paint_stroke(painter, inner, barrel->look.inside, COLOUR_INK);

	path_move(outer, geometry->flange, -half);
	path_line(outer, -geometry->front + corner, -half);
	path_arc(outer, (struct point){-geometry->front + corner, -half + corner}, corner, 270, 180);
	path_arc(outer, (struct point){-geometry->front + corner, half - corner}, corner, 180, 90);
	path_line(outer, geometry->flange, half);
	paint_stroke(painter, outer, barrel->look.outline, COLOUR_INK);
}

static void draw_flange(struct painter *painter, const struct barrel *barrel, const struct syringe_geometry *geometry)
{
	struct path_builder *flange = path_new(painter->scratch);

	path_rounded(flange,
	             (struct rect){geometry->flange, -geometry->flange_height / 2, geometry->flange_thickness,
	                           geometry->flange_height},
	             0.9);
	paint_fill_and_stroke(painter, flange, COLOUR_WHITE, barrel->look.outline, COLOUR_INK);
}

/* ---- what is in front ---- */

static void draw_cannula(struct painter *painter, double from, double tip, double width)
{
	struct path_builder *cannula = path_new(painter->scratch);
	double half = width / 2;
	double bevel = width * 1.8;

	path_polygon(cannula, (struct point[]){{from, -half}, {tip + bevel, -half}, {tip, half}, {from, half}}, 4);
	paint_fill(painter, cannula, COLOUR_INK);
}

static double needle_length(const struct barrel *barrel, const struct syringe_geometry *geometry)
{
	return barrel->needle_length > 0 ? barrel->needle_length : geometry->needle;
}

static void draw_fixed_needle(struct painter *painter, const struct barrel *barrel,
                              const struct syringe_geometry *geometry)
{
	struct path_builder *nose = path_new(painter->scratch);
	double from = -geometry->front;
	double to = from - geometry->hub;

	draw_cannula(painter, to, to - needle_length(barrel, geometry), 0.36);
	path_move(nose, from, -1.7);
	path_curve(nose, (struct point){from - 1.4, -1.7}, (struct point){to + 1.6, -0.75}, (struct point){to, -0.6});
	path_line(nose, to, 0.6);
	path_curve(nose, (struct point){to + 1.6, 0.75}, (struct point){from - 1.4, 1.7}, (struct point){from, 1.7});
	path_close(nose);
	paint_fill_and_stroke(painter, nose, COLOUR_WHITE, barrel->look.outline, COLOUR_INK);
}

static void draw_nozzle(struct painter *painter, const struct barrel *barrel, const struct syringe_geometry *geometry)
{
	struct path_builder *nozzle = path_new(painter->scratch);
	double from = -geometry->front;
	double to = from - geometry->nozzle;

	path_polygon(nozzle, (struct point[]){{from, -1.7}, {to, -1.4}, {to, 1.4}, {from, 1.7}}, 4);
	paint_fill_and_stroke(painter, nozzle, COLOUR_WHITE, barrel->look.outline, COLOUR_INK);
}

/* A skirt round the nozzle, a ribbed grip, a taper to the cannula: the same on every barrel, as the fitting is. */
void needle_draw(struct painter *painter, double length, bool thick, struct barrel_look look)
{
	struct path_builder *hub = path_new(painter->scratch);
	struct path_builder *skirt = path_new(painter->scratch);
	struct path_builder *ribs = path_new(painter->scratch);
	double from = -1;
	double to = -NEEDLE_HUB;

	draw_cannula(painter, to, to - length, thick ? 1.1 : 0.4);
	path_polygon(hub,
	             (struct point[]){{from - 1, -2.5},
	                              {to + 2.4, -1.9},
	                              {to + 0.9, -0.8},
	                              {to, -0.8},
	                              {to, 0.8},
	                              {to + 0.9, 0.8},
	                              {to + 2.4, 1.9},
	                              {from - 1, 2.5}},
	             8);
	paint_fill_and_stroke(painter, hub, thick ? COLOUR_HUB : COLOUR_WHITE, look.outline, COLOUR_INK);
	for (int i = -1; i <= 1; i++)
		path_stroke_line(ribs, (struct point){from - 2, i * 1.25}, (struct point){to + 2.7, i * 1.0});
	paint_stroke(painter, ribs, look.inside, COLOUR_INK);
	path_rounded(skirt, (struct rect){from - 1.2, -NEEDLE_SKIRT / 2, 1.2, NEEDLE_SKIRT}, 0.3);
	paint_fill_and_stroke(painter, skirt, thick ? COLOUR_HUB : COLOUR_WHITE, look.outline, COLOUR_INK);
}

static void draw_needle(struct painter *painter, const struct barrel *barrel, const struct syringe_geometry *geometry)
{
	paint_push_place(painter, (struct point){-geometry->front, 0}, 1, 0);
	needle_draw(painter, needle_length(barrel, geometry), barrel->needle == NEEDLE_THICK, barrel->look);
	paint_pop(painter);
}

static void draw_front(struct painter *painter, const struct barrel *barrel, const struct syringe_geometry *geometry)
{
	if (barrel->syringe->fixed_needle) {
		draw_fixed_needle(painter, barrel, geometry);
		return;
	}
	draw_nozzle(painter, barrel, geometry);
	if (barrel->needle != NEEDLE_NONE)
		draw_needle(painter, barrel, geometry);
}

/* ---- the whole ---- */

void barrel_draw(struct painter *painter, const struct barrel *barrel)
{
	struct syringe_geometry geometry = syringe_geometry_of(barrel->syringe);
	struct path_builder *stopper = stopper_path(painter, barrel, &geometry);

	draw_front(painter, barrel, &geometry);
	if (barrel->liquid > 0)
		draw_liquid(painter, barrel, &geometry);
	draw_rod(painter, barrel, &geometry);
	paint_fill(painter, stopper, COLOUR_INK);
	draw_walls(painter, barrel, &geometry);
	draw_scale(painter, barrel, &geometry, seen(barrel, &geometry), COLOUR_INK);
	paint_push_clip(painter, stopper);
	draw_scale(painter, barrel, &geometry, over_rubber(barrel, &geometry), COLOUR_WHITE);
	paint_pop(painter);
	draw_flange(painter, barrel, &geometry);
}

void barrel_draw_mark(struct painter *painter, const struct barrel *barrel, double ml)
{
	double half = syringe_geometry_of(barrel->syringe).outer / 2;
	double within = half - barrel->look.outline / 2;
	double x = ml_to_x(barrel, ml);

	/* The bed leaves the walls whole; on rubber it is what makes the line visible. */
	paint_line(painter, (struct point){x, -within}, (struct point){x, within}, barrel->look.mark_bed, COLOUR_WHITE);
	paint_line(painter, (struct point){x, -half}, (struct point){x, half}, barrel->look.mark, COLOUR_INK);
}
