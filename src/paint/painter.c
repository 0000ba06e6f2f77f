#include "paint/painter.h"

#include <assert.h>
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

/* ---- hatch ---- */

/* Where a line at 45 degrees, x + y = sum, meets an outline. */
enum { most_crossings = 32, chords = 8 };

struct crossings {
	double sum;
	double x[most_crossings];
	size_t n;
};

static void cross(struct crossings *crossings, struct point from, struct point to)
{
	double sum_from = from.x + from.y - crossings->sum;
	double sum_to = to.x + to.y - crossings->sum;
	if ((sum_from < 0) == (sum_to < 0))
		return;
	double x = from.x + (to.x - from.x) * sum_from / (sum_from - sum_to);
	size_t i = crossings->n++;
	assert(crossings->n <= most_crossings);
	for (; i > 0 && crossings->x[i - 1] > x; i--)
		crossings->x[i] = crossings->x[i - 1];
	crossings->x[i] = x;
}

/* Chords are exact enough: the outline of what is hatched lies over the ends. */
static void cross_curve(struct crossings *crossings, struct point from, const struct segment *curve)
{
	struct point last = from;
	for (int i = 1; i <= chords; i++) {
		double t = (double)i / chords;
		double a = (1 - t) * (1 - t) * (1 - t);
		double b = 3 * (1 - t) * (1 - t) * t;
		double c = 3 * (1 - t) * t * t;
		double d = t * t * t;
		struct point to = {a * from.x + b * curve->control_1.x + c * curve->control_2.x + d * curve->to.x,
		                   a * from.y + b * curve->control_1.y + c * curve->control_2.y + d * curve->to.y};
		cross(crossings, last, to);
		last = to;
	}
}

static void cross_path(struct crossings *crossings, const struct path *path)
{
	struct point start = {0, 0};
	struct point last = {0, 0};
	for (size_t i = 0; i < path->n; i++) {
		const struct segment *segment = &path->segments[i];
		if (segment->kind == SEGMENT_MOVE)
			start = segment->to;
		else if (segment->kind == SEGMENT_LINE)
			cross(crossings, last, segment->to);
		else if (segment->kind == SEGMENT_CURVE)
			cross_curve(crossings, last, segment);
		else
			cross(crossings, last, start);
		last = segment->kind == SEGMENT_CLOSE ? start : segment->to;
	}
}

static void add_inside(struct path_builder *lines, const struct path *shape, double sum)
{
	struct crossings crossings = {.sum = sum};
	cross_path(&crossings, shape);
	for (size_t i = 0; i + 1 < crossings.n; i += 2)
		path_stroke_line(lines, (struct point){crossings.x[i], sum - crossings.x[i]},
		                 (struct point){crossings.x[i + 1], sum - crossings.x[i + 1]});
}

static bool is_box(const struct path *path)
{
	const struct segment *segments = path->segments;
	if (path->n != 5 || segments[4].kind != SEGMENT_CLOSE)
		return false;
	for (size_t i = 1; i < 4; i++)
		if (segments[i].kind != SEGMENT_LINE ||
		    (segments[i].to.x == segments[i - 1].to.x) == (segments[i].to.y == segments[i - 1].to.y))
			return false;
	return segments[3].to.x == segments[0].to.x;
}

/*
 * Lines at 45 degrees stand `pitch` apart when their feet stand pitch * sqrt(2)
 * apart on the lower edge. Feet are counted from the page's corner, so that
 * neighbouring areas hatch alike:
 *
 *       /  /  /  /|
 *      /  /  /  / |   height
 *     /__/__/__/__|
 *
 * A box, whose edges may stand bare, cuts them sharply and is a cheap clip. Any
 * other shape would be a dear one: there each line is as long as it may be.
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
	bool box = is_box(&shape->path);
	for (int i = 0; i < count; i++) {
		double foot = first + i * step;
		if (!box)
			add_inside(lines, &shape->path, foot + bottom);
		else if (foot > area.x - area.height && foot < area.x + area.width)
			path_stroke_line(lines, (struct point){foot, bottom},
			                 (struct point){foot + area.height, area.y});
	}
	if (!lines->path.n)
		return;
	if (box)
		paint_push_clip(painter, shape);
	paint_stroke(painter, lines, line, stroke);
	if (box)
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
