#include "paint/painter.h"

#include <math.h>

static void put_path(struct painter *painter, const struct path_builder *shape, struct ink ink)
{
	painter->device->end->path(painter->device, &shape->path, &ink);
}

void paint_fill(struct painter *painter, const struct path_builder *shape, enum colour fill)
{
	put_path(painter, shape, (struct ink){.fill = fill, .stroke = COLOUR_NONE});
}

void paint_stroke(struct painter *painter, const struct path_builder *shape, double line, enum colour stroke)
{
	put_path(painter, shape, (struct ink){.fill = COLOUR_NONE, .stroke = stroke, .line = line});
}

void paint_stroke_round(struct painter *painter, const struct path_builder *shape, double line, enum colour stroke)
{
	put_path(painter, shape, (struct ink){.fill = COLOUR_NONE, .stroke = stroke, .line = line, .cap = CAP_ROUND});
}

void paint_stroke_dashed(struct painter *painter, const struct path_builder *shape, double line, double dash,
                         enum colour stroke)
{
	put_path(painter, shape, (struct ink){.fill = COLOUR_NONE, .stroke = stroke, .line = line, .dash = dash});
}

void paint_fill_and_stroke(struct painter *painter, const struct path_builder *shape, enum colour fill, double line,
                           enum colour stroke)
{
	put_path(painter, shape, (struct ink){.fill = fill, .stroke = stroke, .line = line});
}

void paint_line(struct painter *painter, struct point from, struct point to, double line, enum colour stroke)
{
	struct path_builder *path = path_new(painter->scratch);
	path_stroke_line(path, from, to);
	paint_stroke(painter, path, line, stroke);
}

/*
 * Lines at 45 degrees stand `pitch` apart when their feet stand pitch * sqrt(2)
 * apart on the lower edge. Feet are counted from the page's corner, so that
 * neighbouring areas hatch alike:
 *
 *       /  /  /  /|
 *      /  /  /  / |   height
 *     /__/__/__/__|
 */
void paint_hatch(struct painter *painter, const struct path_builder *shape, double pitch, double line,
                 enum colour stroke)
{
	struct rect area = path_bounds(&shape->path);
	double step = pitch * sqrt(2);
	double bottom = area.y + area.height;
	struct path_builder *lines = path_new(painter->scratch);
	double first = floor((area.x - area.height) / step) * step;
	int count = (int)ceil((area.x + area.width - first) / step) + 1;
	for (int i = 0; i < count; i++) {
		double foot = first + i * step;
		path_stroke_line(lines, (struct point){foot, bottom}, (struct point){foot + area.height, area.y});
	}
	paint_push_clip(painter, shape);
	paint_stroke(painter, lines, line, stroke);
	paint_pop(painter);
}

void paint_liquid(struct painter *painter, const struct path_builder *shape, double pitch, double line)
{
	paint_fill(painter, shape, COLOUR_LIQUID_TINT);
	paint_hatch(painter, shape, pitch, line, COLOUR_LIQUID);
}

void paint_text(struct painter *painter, const struct text_block *block, struct point at, enum colour colour)
{
	painter->device->end->text(painter->device, block, at, colour);
}

void paint_push_clip(struct painter *painter, const struct path_builder *shape)
{
	painter->device->end->push_clip(painter->device, &shape->path);
}

void paint_push_place(struct painter *painter, struct point at, double scale, double angle)
{
	struct point along = point_on_circle((struct point){0, 0}, scale, angle);
	const struct matrix matrix = {along.x, along.y, -along.y, along.x, at.x, at.y};
	painter->device->end->push_matrix(painter->device, &matrix);
}

void paint_pop(struct painter *painter)
{
	painter->device->end->pop(painter->device);
}
