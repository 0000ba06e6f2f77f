#include "paint/path.h"

#include <assert.h>
#include <math.h>

static const double pi = 3.14159265358979323846;

struct path_builder *path_new(struct arena *arena)
{
	struct path_builder *builder = arena_alloc(arena, sizeof *builder);
	builder->arena = arena;
	return builder;
}

static void add(struct path_builder *builder, struct segment segment)
{
	builder->segments = arena_more(builder->arena, builder->segments, builder->path.n, sizeof segment);
	builder->segments[builder->path.n++] = segment;
	builder->path.segments = builder->segments;
}

/* A piece is open when something can be joined to its end. */
static bool is_open(const struct path_builder *builder)
{
	return builder->path.n && builder->segments[builder->path.n - 1].kind != SEGMENT_CLOSE;
}

void path_move(struct path_builder *builder, double x, double y)
{
	add(builder, (struct segment){.kind = SEGMENT_MOVE, .to = {x, y}});
}

void path_line(struct path_builder *builder, double x, double y)
{
	assert(is_open(builder));
	add(builder, (struct segment){.kind = SEGMENT_LINE, .to = {x, y}});
}

void path_curve(struct path_builder *builder, struct point control_1, struct point control_2, struct point to)
{
	assert(is_open(builder));
	add(builder, (struct segment){.kind = SEGMENT_CURVE, .to = to, .control_1 = control_1, .control_2 = control_2});
}

void path_close(struct path_builder *builder)
{
	assert(is_open(builder));
	add(builder, (struct segment){.kind = SEGMENT_CLOSE});
}

void path_polyline(struct path_builder *builder, const struct point *points, size_t n)
{
	assert(n);
	path_move(builder, points[0].x, points[0].y);
	for (size_t i = 1; i < n; i++)
		path_line(builder, points[i].x, points[i].y);
}

void path_polygon(struct path_builder *builder, const struct point *points, size_t n)
{
	path_polyline(builder, points, n);
	path_close(builder);
}

void path_stroke_line(struct path_builder *builder, struct point from, struct point to)
{
	path_polyline(builder, (struct point[]){from, to}, 2);
}

void path_rect(struct path_builder *builder, struct rect rect)
{
	double right = rect.x + rect.width;
	double bottom = rect.y + rect.height;
	path_polygon(builder, (struct point[]){{rect.x, rect.y}, {right, rect.y}, {right, bottom}, {rect.x, bottom}},
	             4);
}

struct point point_on_circle(struct point centre, double radius, double angle)
{
	double radians = angle / 180 * pi;
	return (struct point){centre.x + radius * cos(radians), centre.y + radius * sin(radians)};
}

/*
 * A curve follows a circle best when its control points stand
 * radius * 4/3 * tan(angle / 4) along the tangents; over a quarter the error is
 * 0.03 % of the radius.
 */
static void add_arc_piece(struct path_builder *builder, struct point centre, double radius, double from, double to)
{
	double reach = radius * 4 / 3 * tan((to - from) / 180 * pi / 4);
	struct point start = point_on_circle(centre, radius, from);
	struct point end = point_on_circle(centre, radius, to);
	struct point start_tangent = point_on_circle((struct point){0, 0}, reach, from + 90);
	struct point end_tangent = point_on_circle((struct point){0, 0}, reach, to + 90);
	path_curve(builder, (struct point){start.x + start_tangent.x, start.y + start_tangent.y},
	           (struct point){end.x - end_tangent.x, end.y - end_tangent.y}, end);
}

void path_arc(struct path_builder *builder, struct point centre, double radius, double from, double to)
{
	struct point start = point_on_circle(centre, radius, from);
	if (is_open(builder))
		path_line(builder, start.x, start.y);
	else
		path_move(builder, start.x, start.y);
	int pieces = (int)ceil(fabs(to - from) / 90);
	for (int i = 0; i < pieces; i++)
		add_arc_piece(builder, centre, radius, from + (to - from) * i / pieces,
		              from + (to - from) * (i + 1) / pieces);
}

void path_circle(struct path_builder *builder, struct point centre, double radius)
{
	path_ellipse(builder, centre, radius, radius);
}

void path_ellipse(struct path_builder *builder, struct point centre, double radius_x, double radius_y)
{
	size_t first = builder->path.n;
	path_move(builder, centre.x + 1, centre.y);
	for (int quarter = 0; quarter < 4; quarter++)
		add_arc_piece(builder, centre, 1, quarter * 90, (quarter + 1) * 90);
	path_close(builder);
	for (size_t i = first; i < builder->path.n; i++) {
		struct segment *segment = &builder->segments[i];
		struct point *points[] = {&segment->to, &segment->control_1, &segment->control_2};
		for (size_t k = 0; k < sizeof points / sizeof *points; k++) {
			points[k]->x = centre.x + (points[k]->x - centre.x) * radius_x;
			points[k]->y = centre.y + (points[k]->y - centre.y) * radius_y;
		}
	}
}

void path_rounded(struct path_builder *builder, struct rect rect, double radius)
{
	double most = fmin(rect.width, rect.height) / 2;
	double r = fmin(radius, most);
	if (r <= 0) {
		path_rect(builder, rect);
		return;
	}
	double right = rect.x + rect.width;
	double bottom = rect.y + rect.height;
	path_move(builder, rect.x + r, rect.y);
	path_line(builder, right - r, rect.y);
	add_arc_piece(builder, (struct point){right - r, rect.y + r}, r, 270, 360);
	path_line(builder, right, bottom - r);
	add_arc_piece(builder, (struct point){right - r, bottom - r}, r, 0, 90);
	path_line(builder, rect.x + r, bottom);
	add_arc_piece(builder, (struct point){rect.x + r, bottom - r}, r, 90, 180);
	path_line(builder, rect.x, rect.y + r);
	add_arc_piece(builder, (struct point){rect.x + r, rect.y + r}, r, 180, 270);
	path_close(builder);
}

void path_arrow_head(struct path_builder *builder, struct point from, struct point tip, double length, double width)
{
	double distance = hypot(tip.x - from.x, tip.y - from.y);
	assert(distance > 0);
	double along_x = (tip.x - from.x) / distance;
	double along_y = (tip.y - from.y) / distance;
	struct point back = {tip.x - along_x * length, tip.y - along_y * length};
	path_polygon(builder,
	             (struct point[]){tip,
	                              {back.x - along_y * width / 2, back.y + along_x * width / 2},
	                              {back.x + along_y * width / 2, back.y - along_x * width / 2}},
	             3);
}

/* ---- cutting ---- */

static struct point between(struct point a, struct point b, double share)
{
	return (struct point){a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share};
}

/* A line, or a curve, from where the last one ended. */
struct span {
	struct point from;
	struct segment segment;
};

/* The parts before and after `share` of a span (de Casteljau's construction). */
static void split_span(const struct span *span, double share, struct span *before, struct span *after)
{
	const struct segment *whole = &span->segment;
	*before = *after = *span;
	if (whole->kind == SEGMENT_CURVE) {
		struct point middle = between(whole->control_1, whole->control_2, share);
		before->segment.control_1 = between(span->from, whole->control_1, share);
		after->segment.control_2 = between(whole->control_2, whole->to, share);
		before->segment.control_2 = between(before->segment.control_1, middle, share);
		after->segment.control_1 = between(middle, after->segment.control_2, share);
		after->from = between(before->segment.control_2, after->segment.control_1, share);
	} else {
		after->from = between(span->from, whole->to, share);
	}
	before->segment.to = after->from;
}

/* Halving always meets, and 50 halvings are below anything that is printed. */
static double share_at(const struct span *span, double y)
{
	double least = 0;
	double most = 1;
	for (int i = 0; i < 50; i++) {
		struct span before;
		struct span after;
		double middle = (least + most) / 2;
		split_span(span, middle, &before, &after);
		if ((after.from.y < y) == (span->from.y < y))
			least = middle;
		else
			most = middle;
	}
	return (least + most) / 2;
}

static void go_to(struct path_builder *builder, struct point point)
{
	if (!is_open(builder))
		path_move(builder, point.x, point.y);
	else
		path_line(builder, point.x, point.y);
}

static void add_kept(struct path_builder *builder, const struct span *span)
{
	if (!is_open(builder))
		path_move(builder, span->from.x, span->from.y);
	add(builder, span->segment);
}

static void add_cut(struct path_builder *builder, const struct span *span, double y, bool below)
{
	bool from_kept = (span->from.y > y) == below;
	bool to_kept = (span->segment.to.y > y) == below;
	struct span before;
	struct span after;
	if (from_kept && to_kept) {
		add_kept(builder, span);
	} else if (from_kept || to_kept) {
		split_span(span, share_at(span, y), &before, &after);
		before.segment.to.y = after.from.y = y;
		if (from_kept) {
			add_kept(builder, &before);
		} else {
			go_to(builder, after.from);
			add_kept(builder, &after);
		}
	}
}

void path_cut(struct path_builder *builder, const struct path *shape, double y, bool below)
{
	struct point start = {0, 0};
	struct point last = {0, 0};
	size_t before = builder->path.n;
	for (size_t i = 0; i < shape->n; i++) {
		struct segment segment = shape->segments[i];
		if (segment.kind == SEGMENT_MOVE) {
			assert(i == 0);
			start = last = segment.to;
			continue;
		}
		if (segment.kind == SEGMENT_CLOSE)
			segment = (struct segment){.kind = SEGMENT_LINE, .to = start};
		add_cut(builder, &(struct span){last, segment}, y, below);
		last = segment.to;
	}
	if (builder->path.n > before)
		path_close(builder);
}

/* ---- bounds ---- */

static void grow(struct rect *bounds, struct point point)
{
	double right = fmax(bounds->x + bounds->width, point.x);
	double bottom = fmax(bounds->y + bounds->height, point.y);
	bounds->x = fmin(bounds->x, point.x);
	bounds->y = fmin(bounds->y, point.y);
	bounds->width = right - bounds->x;
	bounds->height = bottom - bounds->y;
}

struct rect path_bounds(const struct path *path)
{
	if (!path->n)
		return (struct rect){0};
	assert(path->segments[0].kind == SEGMENT_MOVE);
	struct rect bounds = {path->segments[0].to.x, path->segments[0].to.y, 0, 0};
	for (size_t i = 0; i < path->n; i++) {
		const struct segment *segment = &path->segments[i];
		if (segment->kind == SEGMENT_CLOSE)
			continue;
		grow(&bounds, segment->to);
		if (segment->kind == SEGMENT_CURVE) {
			grow(&bounds, segment->control_1);
			grow(&bounds, segment->control_2);
		}
	}
	return bounds;
}
