/*
 * A pen of nobody's make, and its window close. The pen's parts stand where
 * page/pen_geometry.h says, so that the fill mark's point meets the window.
 */
#include "paint/figures.h"
#include "paint/primitives.h"

#include "page/pen_geometry.h"

#define MIDDLE (PEN_HEIGHT / 2)

/* ---- the pen ---- */

static void draw_cartridge(struct sketch pen, double full)
{
	const double left = 14.6, right = 44.6, stopper = 3.0;
	double end = left + full * (right - stopper - left);

	sketch_draw(pen, SKETCH_SHAPE, "R 11.4 1.3 41 8.8 1.6");
	sketch_draw(pen, SKETCH_BLANK, "R %g 3 %g 5.4 1", left, right - left);
	if (full > 0)
		sketch_draw(pen, SKETCH_LIQUID, "R %g 3 %g 5.4 0.4", left, end - left);
	sketch_draw(pen, SKETCH_SOLID, "R %g 3 %g 5.4 0.3", end, stopper);
	if (right - end - stopper > 1)
		sketch_draw(pen, SKETCH_THIN, "M %g 4.9 L %g 4.9 M %g 6.5 L %g 6.5", end + stopper, right,
		            end + stopper, right);
	sketch_draw(pen, SKETCH_LINE, "R %g 3 %g 5.4 1", left, right - left);
}

static void draw_pen(struct sketch pen, double full)
{
	sketch_draw(pen, SKETCH_SOLID, "R 0 %g 5.6 0.44 0", MIDDLE - 0.22);
	sketch_draw(pen, SKETCH_SHAPE, "M 11.6 2.3 L 6.6 3.5 L 4.8 4.5 L 4.8 6.9 L 6.6 7.9 L 11.6 9.1 Z");
	draw_cartridge(pen, full);
	sketch_draw(pen, SKETCH_PLASTIC, "R 96.6 1.1 13.2 9.2 1.2");
	sketch_draw(pen, SKETCH_THIN,
	            "M 99.4 3.4 L 99.4 8 M 101.6 3.4 L 101.6 8 M 103.8 3.4 L 103.8 8 M 106 3.4 L 106 8");
	sketch_draw(pen, SKETCH_HUB, "R 109.8 2.2 4 7 1");
	sketch_draw(pen, SKETCH_SHAPE, "R 49.6 0.2 48 11 2");
	sketch_draw(pen, SKETCH_LINE, "M 52.8 0.3 L 52.8 11.1");
	sketch_draw(pen, SKETCH_SHAPE, "R %g %g %g %g 0.9", PEN_WINDOW_X, PEN_WINDOW_Y, PEN_WINDOW_WIDTH,
	            PEN_WINDOW_HEIGHT);
}

void figure_pen(struct painter *painter, const struct pen_figure *figure)
{
	double scale = figure->length / PEN_LENGTH;
	struct sketch page = {.painter = painter, .line = LINE_OUTLINE, .pitch = 1.1};
	/* Turned by a quarter the pen's left top corner comes to stand at the right. */
	struct point at = figure->at;
	if (figure->upright) {
		at.x += PEN_HEIGHT * scale;
		at.y += PEN_DROP * scale;
		primitive_drop(page, (struct point){figure->at.x + MIDDLE * scale, figure->at.y + 0.8 * scale},
		               (PEN_DROP - 2) * scale);
	}
	struct sketch pen = sketch_place(page, at, scale, figure->upright ? 90 : 0);

	draw_pen(pen, figure->full);
	sketch_end(pen);
	if (figure->number != NULL) {
		double x =
			figure->at.x + scale * (PEN_WINDOW_X + PEN_WINDOW_WIDTH / 2) - text_width(figure->number) / 2;
		double y =
			figure->at.y + scale * (PEN_WINDOW_Y + PEN_WINDOW_HEIGHT / 2) - text_height(figure->number) / 2;
		paint_text(painter, figure->number, (struct point){x, y}, COLOUR_INK);
	}
}

/* ---- its window ---- */

#define FRAME_RADIUS 2.0
#define POINTER 0.13 /* of the frame's width: where the pointer's tip stands */
#define LINES 0.82   /* where the dial's lines begin */
#define PITCH 0.32   /* of its height, between neighbouring numbers */

static void put_number(struct painter *painter, const struct text_block *block, double middle, double y)
{
	if (block != NULL)
		paint_text(painter, block, (struct point){middle - text_width(block) / 2, y - text_height(block) / 2},
		           COLOUR_INK);
}

/* A line at every setting that the dial has. */
static void draw_line(struct painter *painter, struct rect frame, double y, double line)
{
	struct point from = {frame.x + LINES * frame.width, y};
	struct point to = {frame.x + frame.width, y};

	paint_line(painter, from, to, line, COLOUR_INK);
}

void figure_dial(struct painter *painter, const struct dial_figure *figure)
{
	struct rect frame = figure->frame;
	struct path_builder *outline = path_new(painter->scratch);
	struct path_builder *pointer = path_new(painter->scratch);
	double y = frame.y + frame.height / 2;
	double pitch = PITCH * frame.height;
	double half = 0.14 * frame.height;
	double tip = frame.x + POINTER * frame.width + 1.6 * half / 2;

	path_rounded(outline, frame, FRAME_RADIUS);
	paint_fill(painter, outline, COLOUR_WHITE);
	path_polygon(pointer, (struct point[]){{tip, y}, {tip - 1.6 * half, y - half}, {tip - 1.6 * half, y + half}},
	             3);
	paint_fill(painter, pointer, COLOUR_INK);
	double middle = frame.x + frame.width * 0.53;
	put_number(painter, figure->number, middle, y);
	put_number(painter, figure->below, middle, y - pitch);
	put_number(painter, figure->above, middle, y + pitch);
	draw_line(painter, frame, y, LINE_STRONG);
	if (figure->below != NULL)
		draw_line(painter, frame, y - pitch, LINE_OUTLINE);
	if (figure->above != NULL)
		draw_line(painter, frame, y + pitch, LINE_OUTLINE);
	paint_stroke(painter, outline, LINE_MAIN, COLOUR_INK);
}
