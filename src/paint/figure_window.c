/*
 * The magnifier. The barrel inside is the true-size drawing again, scaled, so
 * every line in it is where the data puts it; widths are divided by the zoom.
 *
 *            |__|            bracket: as wide as the frame / zoom
 *           /    \           fans out to the frame
 *      ____/______\____
 *     |       \/       |     AIR: wedge or cross
 *     |================|     upper wall
 *     |///////|####|   |
 *     |================|     lower wall
 *     |  0.4   0.5     |
 */
#include "paint/barrel.h"
#include "paint/figures.h"

#include <math.h>

#define AIR 8.4
#define WEDGE_WIDTH 5.6
#define WEDGE_HEIGHT 4.4
#define FRAME_RADIUS 2.0
#define BRACKET_FEET 2.0
#define BESIDE_RISE 1.5 /* of the number beside the wedge, at least, above the wall's outer edge */
#define NUMERAL_DROP 2.2
/* A numeral keeps this from the frame's line, and may step aside for it so far; else it is left out, never cut. */
#define NUMERAL_MARGIN 0.7
#define NUMERAL_STEP 1.4

/* What the drawing works with: the window's own coordinates on the page. */
struct view {
	const struct window_figure *figure;
	const struct syringe *syringe;
	struct syringe_geometry geometry;
	struct barrel barrel;
	double wall_y; /* upper wall's outer edge */
	double axis;
};

static struct barrel_look magnified_look(double zoom)
{
	struct barrel_look look = {
		.outline = 0.50 / zoom,
		.inside = LINE_FINE / zoom,
		.graduation = 0.45 / zoom,
		.mark = 0.90 / zoom,
		.mark_bed = 1.70 / zoom,
		.pitch = 2.2 / zoom,
		.hatch = 0.40 / zoom,
	};

	return look;
}

static struct view view_of(const struct window_figure *figure)
{
	const struct syringe_figure *shown = figure->figure;
	struct view view = {
		.figure = figure,
		.syringe = shown->syringe,
		.geometry = syringe_geometry_of(shown->syringe),
		.barrel = {.syringe = shown->syringe,
	                   .ring = figure->ring,
	                   .liquid = figure->ring,
	                   .needle = shown->needle,
	                   .look = magnified_look(figure->zoom)},
		.wall_y = figure->frame.y + AIR,
	};

	double half = figure->frame.width / 2 / figure->zoom;
	double middle = figure->centre * view.geometry.mm_per_ml;
	view.barrel.is_part = true;
	view.barrel.seen_from = middle - half;
	view.barrel.seen_to = middle + half;
	view.axis = view.wall_y + view.geometry.outer * figure->zoom / 2;
	return view;
}

static double x_in_view(const struct view *view, double ml)
{
	double from_centre = (ml - view->figure->centre) * view->geometry.mm_per_ml;

	return view->figure->frame.x + view->figure->frame.width / 2 + from_centre * view->figure->zoom;
}

static struct path_builder *frame_path(struct painter *painter, const struct window_figure *figure)
{
	struct path_builder *frame = path_new(painter->scratch);

	path_rounded(frame, figure->frame, FRAME_RADIUS);
	return frame;
}

/* Square corners: nothing inside comes near the round ones, and a plain box is the cheapest clip there is. */
static void draw_barrel(struct painter *painter, const struct view *view)
{
	struct point zero = {x_in_view(view, 0), view->axis};
	struct path_builder *inside = path_new(painter->scratch);

	path_rect(inside, view->figure->frame);
	paint_push_clip(painter, inside);
	paint_push_place(painter, zero, view->figure->zoom, 0);
	barrel_draw(painter, &view->barrel);
	barrel_draw_mark(painter, &view->barrel, view->figure->ring);
	paint_pop(painter);
	paint_pop(painter);
}

static void draw_numerals(struct painter *painter, const struct view *view)
{
	const struct window_figure *figure = view->figure;
	double y = view->axis + view->geometry.outer * figure->zoom / 2 + NUMERAL_DROP;
	double margin = NUMERAL_MARGIN + figure->frame_line / 2;
	double left = figure->frame.x + margin;
	double right = figure->frame.x + figure->frame.width - margin;

	for (size_t i = 0; i < figure->n_numerals; i++) {
		const struct text_block *numeral = figure->numerals[i];
		if (!numeral)
			continue;
		double half = text_width(numeral) / 2;
		double x = x_in_view(view, measure_of(syringe_numbered_volume(view->syringe, i)));
		double within = fmin(fmax(x, left + half), right - half);
		if (fabs(within - x) <= NUMERAL_STEP)
			paint_text(painter, numeral, (struct point){within - half, y}, COLOUR_INK);
	}
}

/* ---- wedge and cross ---- */

static void draw_wedge(struct painter *painter, struct point tip, bool open)
{
	struct path_builder *wedge = path_new(painter->scratch);
	struct point left = {tip.x - WEDGE_WIDTH / 2, tip.y - WEDGE_HEIGHT};
	struct point right = {tip.x + WEDGE_WIDTH / 2, tip.y - WEDGE_HEIGHT};

	path_polygon(wedge, (struct point[]){tip, left, right}, 3);
	paint_fill(painter, wedge, COLOUR_INK);
	if (open) {
		/* White inside, so that open and solid have one size. */
		struct path_builder *inside = path_new(painter->scratch);
		path_polygon(inside,
		             (struct point[]){{tip.x, tip.y - 1.15},
		                              {left.x + 1.05, left.y + 0.6},
		                              {right.x - 1.05, right.y + 0.6}},
		             3);
		paint_fill(painter, inside, COLOUR_WHITE);
	}
}

static void draw_cross(struct painter *painter, struct point middle)
{
	struct path_builder *cross = path_new(painter->scratch);
	double half = WEDGE_HEIGHT / 2 - 0.3;

	path_stroke_line(cross, (struct point){middle.x - half, middle.y - half},
	                 (struct point){middle.x + half, middle.y + half});
	path_stroke_line(cross, (struct point){middle.x - half, middle.y + half},
	                 (struct point){middle.x + half, middle.y - half});
	paint_stroke_round(painter, cross, 1.2, COLOUR_RUST);
}

static void draw_sign(struct painter *painter, const struct view *view)
{
	const struct window_figure *figure = view->figure;
	struct point tip = {x_in_view(view, figure->ring), view->wall_y - 0.4};
	struct point middle = {tip.x, tip.y - WEDGE_HEIGHT / 2};

	if (figure->wedge == WEDGE_CROSS)
		draw_cross(painter, middle);
	else
		draw_wedge(painter, tip, figure->wedge == WEDGE_OPEN);
	if (figure->beside) {
		double height = text_height(figure->beside);
		double y = fmin(middle.y - height / 2, view->wall_y - BESIDE_RISE - height);
		paint_text(painter, figure->beside, (struct point){tip.x + WEDGE_WIDTH / 2 + 1.2, y}, COLOUR_INK);
	}
}

/* ---- bracket and leader ---- */

static void draw_bracket(struct painter *painter, const struct view *view)
{
	const struct window_figure *figure = view->figure;
	double middle = syringe_x(view->syringe, figure->figure->x_zero, figure->centre);
	double half = figure->frame.width / figure->zoom / 2;
	double left = middle - half;
	double right = middle + half;
	double y = figure->bracket_y;
	struct rect frame = figure->frame;
	struct path_builder *bracket = path_new(painter->scratch);

	path_polyline(bracket,
	              (struct point[]){{left, y - BRACKET_FEET}, {left, y}, {right, y}, {right, y - BRACKET_FEET}}, 4);
	if (frame.y >= y) {
		path_stroke_line(bracket, (struct point){left, y}, (struct point){frame.x + FRAME_RADIUS, frame.y});
		path_stroke_line(bracket, (struct point){right, y},
		                 (struct point){frame.x + frame.width - FRAME_RADIUS, frame.y});
	} else if (frame.x >= right) {
		path_stroke_line(bracket, (struct point){right, y}, (struct point){frame.x, y});
	} else {
		path_stroke_line(bracket, (struct point){left, y}, (struct point){frame.x + frame.width, y});
	}
	paint_stroke(painter, bracket, LINE_OUTLINE, COLOUR_INK);
}

/* White on the rubber, black from its edge on. */
static void draw_leader(struct painter *painter, const struct view *view)
{
	const struct window_figure *figure = view->figure;
	double zoom = figure->zoom;
	double inner = view->geometry.inner * zoom;
	struct point dot = {x_in_view(view, figure->ring) + view->geometry.ring * zoom / 2 + 0.3,
	                    view->axis - 0.3 * inner};
	struct point edge = {dot.x, view->axis - inner / 2};
	struct point turn = {dot.x, figure->leader_to.y};
	struct path_builder *head = path_new(painter->scratch);
	struct path_builder *line = path_new(painter->scratch);

	path_circle(head, dot, 1.1);
	paint_fill(painter, head, COLOUR_WHITE);
	paint_line(painter, dot, edge, LINE_MAIN, COLOUR_WHITE);
	path_polyline(line, (struct point[]){edge, turn, figure->leader_to}, 3);
	paint_stroke(painter, line, LINE_MAIN, COLOUR_INK);
}

void figure_window(struct painter *painter, const struct window_figure *figure)
{
	struct view view = view_of(figure);
	struct path_builder *frame = frame_path(painter, figure);

	if (figure->bracket)
		draw_bracket(painter, &view);
	paint_fill(painter, frame, COLOUR_WHITE);
	draw_barrel(painter, &view);
	draw_numerals(painter, &view);
	draw_sign(painter, &view);
	paint_stroke(painter, frame, figure->frame_line, COLOUR_INK);
	if (figure->leader)
		draw_leader(painter, &view);
}
