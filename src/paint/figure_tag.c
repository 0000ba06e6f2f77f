#include "page/tag_geometry.h"
#include "paint/figures.h"
#include "paint/painter.h"

#include <math.h>

/* Below this size of number an open tag's outline is lighter. */
#define SMALL_NUMBER 15.0

/*
 * The body and its point, `inset` smaller all round. The point keeps its
 * angle: its slanted edges move in by `inset` too.
 */
static struct path_builder *tag_path(struct painter *painter, const struct tag *tag, struct rect body, double inset)
{
	struct path_builder *path = path_new(painter->scratch);
	double corner = fmax(TAG_CORNER - inset, 0.1);
	double left = body.x + inset;
	double right = body.x + body.width - inset;
	double top = body.y + inset;
	double bottom = body.y + body.height - inset;
	double slant = hypot(tag->point_width / 2, tag->point_height);
	double tip = tag->tip.y - inset * slant / (tag->point_width / 2);
	double half = (tip - bottom) * (tag->point_width / 2) / tag->point_height;

	path_move(path, left + corner, top);
	path_line(path, right - corner, top);
	path_arc(path, (struct point){right - corner, top + corner}, corner, 270, 360);
	path_line(path, right, bottom - corner);
	path_arc(path, (struct point){right - corner, bottom - corner}, corner, 0, 90);
	path_line(path, tag->tip.x + half, bottom);
	path_line(path, tag->tip.x, tip);
	path_line(path, tag->tip.x - half, bottom);
	path_line(path, left + corner, bottom);
	path_arc(path, (struct point){left + corner, bottom - corner}, corner, 90, 180);
	path_line(path, left, top + corner);
	path_arc(path, (struct point){left + corner, top + corner}, corner, 180, 270);
	path_close(path);
	return path;
}

static void draw_words(struct painter *painter, const struct text_block *block, double x, double baseline,
                       enum colour colour)
{
	if (block)
		paint_text(painter, block, (struct point){x, baseline - text_height(block)}, colour);
}

/* An open tag is the solid one with a white inside: so both have one outer shape. */
void figure_tag(struct painter *painter, const struct tag *tag)
{
	struct tag_geometry geometry = tag_measure(tag);
	enum colour colour = tag->open ? COLOUR_INK : COLOUR_WHITE;

	paint_fill(painter, tag_path(painter, tag, geometry.body, 0), COLOUR_INK);
	if (tag->open) {
		bool small = text_style_of(tag->number)->size < SMALL_NUMBER;
		paint_fill(painter, tag_path(painter, tag, geometry.body, small ? LINE_MAIN : LINE_STRONG),
		           COLOUR_WHITE);
	}
	draw_words(painter, tag->before, geometry.before_x, geometry.baseline, colour);
	draw_words(painter, tag->number, geometry.number_x, geometry.baseline, colour);
	draw_words(painter, tag->unit, geometry.unit_x, geometry.baseline, colour);
}
