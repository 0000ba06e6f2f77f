/*
 * Outlines against the geometry they stand for.
 */
#include "paint/path.h"

#include "support/cases.h"

#include <math.h>

static void assert_near(double found, double wanted, double tolerance)
{
	if (fabs(found - wanted) > tolerance)
		fail_msg("found %.6f, wanted %.6f", found, wanted);
}

static void assert_point(struct point found, double x, double y)
{
	assert_near(found.x, x, 1e-9);
	assert_near(found.y, y, 1e-9);
}

static void assert_rect(struct rect found, double x, double y, double width, double height)
{
	assert_near(found.x, x, 1e-9);
	assert_near(found.y, y, 1e-9);
	assert_near(found.width, width, 1e-9);
	assert_near(found.height, height, 1e-9);
}

static struct point on_curve(struct point from, const struct segment *curve, double t)
{
	double u = 1 - t;
	double a = u * u * u;
	double b = 3 * u * u * t;
	double c = 3 * u * t * t;
	double d = t * t * t;
	return (struct point){a * from.x + b * curve->control_1.x + c * curve->control_2.x + d * curve->to.x,
	                      a * from.y + b * curve->control_1.y + c * curve->control_2.y + d * curve->to.y};
}

/* Every point of every curve stands on the circle, to 0.03 % of its radius; at least one curve is there. */
static void assert_curves_on_circle(const struct path *path, struct point centre, double radius)
{
	size_t curves = 0;
	for (size_t i = 1; i < path->n; i++) {
		if (path->segments[i].kind != SEGMENT_CURVE)
			continue;
		curves++;
		for (int step = 0; step <= 20; step++) {
			struct point at = on_curve(path->segments[i - 1].to, &path->segments[i], step / 20.0);
			assert_near(hypot(at.x - centre.x, at.y - centre.y), radius, radius * 0.0003);
		}
	}
	assert_true(curves > 0);
}

static void a_circle_is_round_and_closed(void **state)
{
	struct path_builder *circle = path_new(case_of(state)->arena);
	struct point centre = {30, 40};
	path_circle(circle, centre, 24);
	assert_curves_on_circle(&circle->path, centre, 24);
	assert_int_equal(circle->path.segments[circle->path.n - 1].kind, SEGMENT_CLOSE);
	assert_rect(path_bounds(&circle->path), 6, 16, 48, 48);
}

static void an_ellipse_has_two_radii(void **state)
{
	struct path_builder *ellipse = path_new(case_of(state)->arena);
	path_ellipse(ellipse, (struct point){10, 20}, 6, 2);
	assert_rect(path_bounds(&ellipse->path), 4, 18, 12, 4);
}

struct arc_row {
	const char *name;
	double from;
	double to;
	struct point start;
	struct point middle; /* somewhere on its way: tells the direction */
	struct point end;
};

/* Around (0, 0) with radius 10, y downward. */
static const struct arc_row arc_rows[] = {
	{"a quarter down", 0, 90, {10, 0}, {7.0710678118654755, 7.0710678118654755}, {0, 10}},
	{"a quarter back", 90, 0, {0, 10}, {7.0710678118654755, 7.0710678118654755}, {10, 0}},
	{"over the top", 180, 360, {-10, 0}, {0, -10}, {10, 0}},
	{"a full turn", 0, 360, {10, 0}, {-10, 0}, {10, 0}},
	{"a little", -30, 30, {8.660254037844387, -5}, {10, 0}, {8.660254037844387, 5}},
};

static void an_arc_runs_clockwise(void **state)
{
	const struct arc_row *row = case_of(state)->row;
	struct path_builder *arc = path_new(case_of(state)->arena);
	path_arc(arc, (struct point){0, 0}, 10, row->from, row->to);
	const struct path *path = &arc->path;
	assert_curves_on_circle(path, (struct point){0, 0}, 10);
	assert_point(path->segments[0].to, row->start.x, row->start.y);
	assert_point(path->segments[path->n - 1].to, row->end.x, row->end.y);
	/* Of an odd number of curves the middle one's middle, else the join of the middle two. */
	size_t curves = path->n - 1;
	struct point middle = curves % 2 ? on_curve(path->segments[curves / 2].to, &path->segments[curves / 2 + 1], 0.5)
	                                 : path->segments[curves / 2].to;
	assert_near(middle.x, row->middle.x, 0.003);
	assert_near(middle.y, row->middle.y, 0.003);
}

static void an_arc_is_joined_to_what_is_open(void **state)
{
	struct path_builder *path = path_new(case_of(state)->arena);
	path_move(path, 0, 0);
	path_arc(path, (struct point){0, 0}, 10, 0, 90);
	path_close(path);
	assert_int_equal(path->path.segments[1].kind, SEGMENT_LINE);
	assert_point(path->path.segments[1].to, 10, 0);
	path_arc(path, (struct point){0, 0}, 5, 0, 90);
	assert_int_equal(path->path.segments[4].kind, SEGMENT_MOVE);
}

static void rounded_corners_keep_to_the_box(void **state)
{
	struct path_builder *box = path_new(case_of(state)->arena);
	path_rounded(box, (struct rect){10, 20, 30, 8}, 2);
	assert_rect(path_bounds(&box->path), 10, 20, 30, 8);
	/* The first corner is the upper right one: its curve stands around (38, 22). */
	const struct segment *corner = &box->path.segments[2];
	assert_int_equal(corner->kind, SEGMENT_CURVE);
	struct point middle = on_curve(box->path.segments[1].to, corner, 0.5);
	assert_near(middle.x, 38 + 2 * sqrt(0.5), 0.002);
	assert_near(middle.y, 22 - 2 * sqrt(0.5), 0.002);
}

static void a_radius_is_cut_to_half_the_shorter_side(void **state)
{
	struct path_builder *box = path_new(case_of(state)->arena);
	path_rounded(box, (struct rect){10, 20, 30, 8}, 50);
	assert_rect(path_bounds(&box->path), 10, 20, 30, 8);
	assert_point(box->path.segments[0].to, 14, 20);
}

static void no_radius_makes_plain_corners(void **state)
{
	struct path_builder *box = path_new(case_of(state)->arena);
	path_rounded(box, (struct rect){10, 20, 30, 8}, 0);
	assert_int_equal(box->path.n, 5);
	assert_rect(path_bounds(&box->path), 10, 20, 30, 8);
}

static void an_arrow_head_points_at_its_tip(void **state)
{
	struct path_builder *head = path_new(case_of(state)->arena);
	/* From (0, 0) to (6, 8) is 10 along (0.6, 0.8): the back is at (4.8, 6.4), 0.5 to each side of it. */
	path_arrow_head(head, (struct point){0, 0}, (struct point){6, 8}, 2, 1);
	assert_int_equal(head->path.n, 4);
	assert_point(head->path.segments[0].to, 6, 8);
	assert_point(head->path.segments[1].to, 4.8 - 0.4, 6.4 + 0.3);
	assert_point(head->path.segments[2].to, 4.8 + 0.4, 6.4 - 0.3);
}

static void pieces_follow_each_other(void **state)
{
	struct path_builder *path = path_new(case_of(state)->arena);
	path_stroke_line(path, (struct point){1, 2}, (struct point){3, 4});
	path_rect(path, (struct rect){10, 10, 5, 5});
	assert_int_equal(path->path.n, 7);
	assert_int_equal(path->path.segments[2].kind, SEGMENT_MOVE);
	assert_rect(path_bounds(&path->path), 1, 2, 14, 13);
}

static void an_empty_path_has_no_bounds(void **state)
{
	assert_rect(path_bounds(&path_new(case_of(state)->arena)->path), 0, 0, 0, 0);
}

/* ---- cutting ---- */

static struct path_builder *circle_cut_at(void **state, double y, bool below)
{
	struct arena *arena = case_of(state)->arena;
	struct path_builder *circle = path_new(arena);
	struct path_builder *part = path_new(arena);
	path_circle(circle, (struct point){30, 40}, 20);
	path_cut(part, &circle->path, y, below);
	return part;
}

/* A chord 12 from the middle of a circle of 20 is 16 to either side: 12, 16, 20. */
static void a_cut_circle_ends_at_its_chord(void **state)
{
	const struct path *below = &circle_cut_at(state, 52, true)->path;
	const struct path *above = &circle_cut_at(state, 52, false)->path;
	size_t ends = 0;
	for (size_t i = 0; i < below->n; i++) {
		if (below->segments[i].kind == SEGMENT_CLOSE)
			continue;
		assert_true(below->segments[i].to.y >= 52);
		if (below->segments[i].to.y > 52)
			continue;
		ends++;
		assert_near(fabs(below->segments[i].to.x - 30), 16, 16 * 0.0003);
	}
	assert_true(ends >= 2);
	assert_curves_on_circle(below, (struct point){30, 40}, 20);
	assert_curves_on_circle(above, (struct point){30, 40}, 20);
	assert_near(path_bounds(below).y + path_bounds(below).height, 60, 1e-9);
	assert_near(path_bounds(above).y, 20, 1e-9);
	assert_near(path_bounds(above).height, 32, 1e-9);
}

static void a_cut_beside_a_shape_leaves_all_or_nothing(void **state)
{
	assert_rect(path_bounds(&circle_cut_at(state, 19, true)->path), 10, 20, 40, 40);
	assert_rect(path_bounds(&circle_cut_at(state, 61, false)->path), 10, 20, 40, 40);
	assert_int_equal(circle_cut_at(state, 61, true)->path.n, 0);
	assert_int_equal(circle_cut_at(state, 19, false)->path.n, 0);
}

#define ADD(test) tests_add(&tests, #test, test, NULL)

int main(void)
{
	struct tests tests = {0};
	ADD(a_circle_is_round_and_closed);
	ADD(an_ellipse_has_two_radii);
	for (size_t i = 0; i < sizeof arc_rows / sizeof *arc_rows; i++)
		tests_add(&tests, arc_rows[i].name, an_arc_runs_clockwise, &arc_rows[i]);
	ADD(an_arc_is_joined_to_what_is_open);
	ADD(rounded_corners_keep_to_the_box);
	ADD(a_radius_is_cut_to_half_the_shorter_side);
	ADD(no_radius_makes_plain_corners);
	ADD(an_arrow_head_points_at_its_tip);
	ADD(pieces_follow_each_other);
	ADD(an_empty_path_has_no_bounds);
	ADD(a_cut_circle_ends_at_its_chord);
	ADD(a_cut_beside_a_shape_leaves_all_or_nothing);
	return tests_run(&tests, "path");
}
