/*
 * path.h - outlines put together piece by piece, for a device to fill or stroke.
 *
 *     struct path_builder *frame = path_new(scratch);
 *     path_rounded(frame, area, 2);
 *     device->end->path(device, &frame->path, &ink);
 *
 * Lengths are mm, y downward. Angles are degrees, clockwise as seen on the
 * page, from three o'clock: 90 points down, 180 left, 270 up. A builder and
 * its path live in the arena.
 */
#ifndef PAINT_PATH_H
#define PAINT_PATH_H

#include "paint/device.h"

struct path_builder {
	struct path path; /* as far as it is built */
	struct arena *arena;
	struct segment *segments; /* the path's own, to write on */
};

struct path_builder *path_new(struct arena *arena);

void path_move(struct path_builder *builder, double x, double y);
void path_line(struct path_builder *builder, double x, double y);
void path_curve(struct path_builder *builder, struct point control_1, struct point control_2, struct point to);
void path_close(struct path_builder *builder);

/* Closed shapes; each is a piece of its own and may follow any other. */
void path_rect(struct path_builder *builder, struct rect rect);
/* `radius` is cut to half the shorter side. */
void path_rounded(struct path_builder *builder, struct rect rect, double radius);
void path_circle(struct path_builder *builder, struct point centre, double radius);
void path_ellipse(struct path_builder *builder, struct point centre, double radius_x, double radius_y);
void path_polygon(struct path_builder *builder, const struct point *points, size_t n);
/* A solid arrow head: its point at `tip`, coming from `from`, `length` long and `width` wide at its back. */
void path_arrow_head(struct path_builder *builder, struct point from, struct point tip, double length, double width);

/* An open piece of its own. */
void path_polyline(struct path_builder *builder, const struct point *points, size_t n);
void path_stroke_line(struct path_builder *builder, struct point from, struct point to);

/*
 * A part of a circle from one angle to another; backward where `to` < `from`.
 * Where a piece is open a line leads to its start, else it begins a piece.
 * Not closed.
 */
void path_arc(struct path_builder *builder, struct point centre, double radius, double from, double to);

/*
 * What of `shape` is below y, or above it. The shape is one closed piece whose
 * curves each rise or fall from end to end; so what fills a vessel needs no clip.
 */
void path_cut(struct path_builder *builder, const struct path *shape, double y, bool below);

/* Where `angle` meets the circle. */
struct point point_on_circle(struct point centre, double radius, double angle);

/* Around all end points and control points; all zero when the path is empty. */
struct rect path_bounds(const struct path *path);

#endif
