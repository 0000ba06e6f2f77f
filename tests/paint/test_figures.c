/*
 * Every drawing is measured in dots at 1200 to the inch, against positions
 * worked out here by hand from the syringe's data: line i stands i steps from
 * zero, and a step is L * step / V long.
 */
#include "paint/figures.h"

#include "page/pen_geometry.h"
#include "page/step_names.h"
#include "page/syringe_geometry.h"
#include "paint/list.h"
#include "paint/painter.h"
#include "paint/step.h"
#include "support/cases.h"
#include "support/raster.h"

#include <math.h>
#include <stdio.h>

#define DPI 1200.0
/* The promise is 0.1 mm; a dot is 0.021 mm, so half of it can be asked for. */
#define TOLERANCE 0.05
#define X_ZERO 30.0
#define AXIS 20.0
#define PAPER_WIDTH 190.0
#define PAPER_HEIGHT 40.0
#define MOST_RUNS 200

static void assert_near(double found, double wanted)
{
	if (fabs(found - wanted) > TOLERANCE)
		fail_msg("found %.4f mm, wanted %.4f mm", found, wanted);
}

/* ---- syringes ---- */

struct scale {
	const char *name;
	struct rational capacity;
	struct rational graduated;
	struct rational step;
	struct rational numbered;
	int64_t length;
	bool fixed;
	int lines;       /* zero counted */
	double spacing;  /* mm from line to line: length * step / capacity */
	int numbered_at; /* every so many lines one is longest */
	int medium_at;   /* ... and longer; 0: none */
};

static const struct scale scales[] = {
	{"1 mL by 0.01", {1, 1}, {1, 1}, {1, 100}, {1, 10}, 57, false, 101, 0.57, 10, 5},
	{"0.5 mL U-100 by 1 unit", {1, 2}, {1, 2}, {1, 100}, {1, 20}, 43, true, 51, 0.86, 5, 0},
	{"3 mL by 0.1", {3, 1}, {3, 1}, {1, 10}, {1, 2}, 48, false, 31, 1.6, 5, 0},
	{"5 mL by 0.2", {5, 1}, {5, 1}, {1, 5}, {1, 1}, 45, false, 26, 1.8, 5, 0},
	{"3 mL graduated to 3.6", {3, 1}, {18, 5}, {1, 10}, {1, 2}, 48, false, 37, 1.6, 5, 0},
	{"1 mL by 0.05", {1, 1}, {1, 1}, {1, 20}, {1, 5}, 60, false, 21, 3, 4, 2},
};

static struct syringe syringe_of(const struct scale *scale)
{
	struct syringe syringe = {
		.capacity = scale->capacity,
		.graduated = scale->graduated,
		.step = scale->step,
		.numbered_every = scale->numbered,
		.units_per_ml = {1, 1},
		.scale_length = {scale->length, 1},
		.barrel = {0, 1},
		.fixed_needle = scale->fixed,
	};

	return syringe;
}

static struct raster *draw_syringe(struct arena *arena, const struct syringe_figure *figure)
{
	struct raster *raster = raster_new(PAPER_WIDTH, PAPER_HEIGHT, DPI);
	struct painter painter = {arena, raster_device(raster)};

	figure_syringe(&painter, figure);
	return raster;
}

/* The walls as the dots show them, in a column that no line stands in. */
struct walls {
	struct run upper_outer;
	struct run upper_inner;
	struct run lower_inner;
	struct run lower_outer;
};

static struct walls find_walls(const struct raster *raster, double x)
{
	struct run runs[MOST_RUNS];
	size_t n = raster_column(raster, x, 1, PAPER_HEIGHT - 1, runs, MOST_RUNS);

	assert_int_equal(n, 4);
	return (struct walls){runs[0], runs[1], runs[2], runs[3]};
}

/* A row inside the lower wall, where only the scale's lines cross. */
static double wall_row(struct walls walls)
{
	return (walls.lower_inner.to + walls.lower_outer.from) / 2;
}

static double height_share(const struct scale *scale, int line)
{
	if (line % scale->numbered_at == 0)
		return 0.50;
	return scale->medium_at && line % scale->medium_at == 0 ? 0.38 : 0.26;
}

static void assert_line_height(const struct raster *raster, const struct scale *scale, struct walls walls, int line,
                               double x)
{
	struct run runs[MOST_RUNS];
	double outer = run_middle(walls.lower_outer) - run_middle(walls.upper_outer);
	size_t n = raster_column(raster, x, walls.upper_inner.to + 0.1, walls.lower_outer.to, runs, MOST_RUNS);

	assert_int_equal(n, 1);
	assert_near(run_middle(walls.lower_outer) - runs[0].from, height_share(scale, line) * outer);
}

/* The stopper is drawn back to the last line: nothing but the scale stands in the barrel. */
static void lines_stand_where_the_data_puts_them(void **state)
{
	const struct scale *scale = case_of(state)->row;
	struct syringe syringe = syringe_of(scale);
	double full = (double)scale->graduated.numerator / (double)scale->graduated.denominator;
	struct syringe_figure figure = {.syringe = &syringe, .x_zero = X_ZERO, .axis = AXIS, .ring = full};
	struct raster *raster = draw_syringe(case_of(state)->arena, &figure);
	struct walls walls = find_walls(raster, X_ZERO + scale->spacing / 2);
	struct run runs[MOST_RUNS];
	double last = X_ZERO + (scale->lines - 1) * scale->spacing;

	size_t n = raster_row(raster, wall_row(walls), X_ZERO - 0.5, last + 3, runs, MOST_RUNS);
	assert_int_equal(n, scale->lines);
	for (int i = 0; i < scale->lines; i++) {
		assert_near(run_middle(runs[i]), X_ZERO + i * scale->spacing);
		/* The last one stands on rubber. */
		if (i < scale->lines - 5)
			assert_line_height(raster, scale, walls, i, run_middle(runs[i]));
	}
	raster_free(raster);
}

/* ---- marks ---- */

struct mark_case {
	const char *name;
	size_t scale;
	double ml;
	double from_zero; /* mm: ml / V * L */
};

static const struct mark_case marks[] = {
	{"1 mL at 0.5", 0, 0.5, 28.5},       {"1 mL at 0.37", 0, 0.37, 21.09},    {"1 mL at 1", 0, 1, 57},
	{"U-100 at 20 units", 1, 0.2, 17.2}, {"U-100 at 3 units", 1, 0.03, 2.58}, {"3 mL at 1.4", 2, 1.4, 22.4},
	{"3 mL at 1.5", 2, 1.5, 24},         {"5 mL at 3.2", 3, 3.2, 28.8},
};

static void front_ring_stands_on_the_mark(void **state)
{
	const struct mark_case *mark = case_of(state)->row;
	struct syringe syringe = syringe_of(&scales[mark->scale]);
	struct syringe_figure figure = {.syringe = &syringe, .x_zero = X_ZERO, .axis = AXIS, .ring = mark->ml};
	struct raster *raster = draw_syringe(case_of(state)->arena, &figure);
	/* Behind the stopper the rod's lines stand between the walls: only the outermost runs count. */
	struct run column[MOST_RUNS];
	size_t n = raster_column(raster, X_ZERO + mark->from_zero + 10.05, 1, PAPER_HEIGHT - 1, column, MOST_RUNS);
	assert_true(n >= 4);
	/* Just inside the upper wall, where the cone has not yet begun. */
	double row = column[1].to + 0.04;
	struct run runs[MOST_RUNS];
	n = raster_row(raster, row, X_ZERO - 0.9, X_ZERO + mark->from_zero + 1.5, runs, MOST_RUNS);
	assert_int_equal(n, 1);
	assert_near(runs[0].from, X_ZERO + mark->from_zero);
	raster_free(raster);
}

static void mark_line_stands_on_the_mark(void **state)
{
	const struct mark_case *mark = case_of(state)->row;
	struct syringe syringe = syringe_of(&scales[mark->scale]);
	struct syringe_figure figure = {.syringe = &syringe,
	                                .x_zero = X_ZERO,
	                                .axis = AXIS,
	                                .ring = mark->ml,
	                                .liquid = mark->ml,
	                                .line = true,
	                                .mark = mark->ml};
	struct raster *raster = draw_syringe(case_of(state)->arena, &figure);
	double x = X_ZERO + mark->from_zero;
	struct run column[MOST_RUNS];
	struct run runs[MOST_RUNS];
	size_t walls = raster_column(raster, x + 10.05, 1, PAPER_HEIGHT - 1, column, MOST_RUNS);

	assert_true(walls >= 4);
	size_t n = raster_row(raster, (column[0].to + column[1].from) / 2, x - 2, x + 2, runs, MOST_RUNS);
	assert_int_equal(n, 1);
	assert_near(run_middle(runs[0]), x);
	assert_near(runs[0].to - runs[0].from, 0.45);
	/* Wall to wall, unbroken. */
	n = raster_column(raster, x, 1, PAPER_HEIGHT - 1, runs, MOST_RUNS);
	assert_int_equal(n, 1);
	assert_near(runs[0].from, column[0].from);
	assert_near(runs[0].to, column[walls - 1].to);
	/* The white bed keeps it apart from the rubber. */
	assert_false(raster_is_dark(raster, x + 0.33, AXIS - 0.5));
	assert_true(raster_is_dark(raster, x + 0.6, AXIS - 0.5));
	raster_free(raster);
}

/* Lines 1 and 2 of a 1 mL syringe stand on the front ring of a stopper at zero. */
static void lines_over_rubber_are_white(void **state)
{
	struct syringe syringe = syringe_of(&scales[0]);
	struct syringe_figure figure = {.syringe = &syringe, .x_zero = X_ZERO, .axis = AXIS};
	struct raster *raster = draw_syringe(case_of(state)->arena, &figure);
	double on_rubber = AXIS + 2.1;

	for (int i = 1; i <= 2; i++) {
		assert_false(raster_is_dark(raster, X_ZERO + i * 0.57, on_rubber));
		assert_true(raster_is_dark(raster, X_ZERO + i * 0.57 - 0.28, on_rubber));
	}
	raster_free(raster);
}

/* What page keeps free is what is drawn. */
static void the_drawing_keeps_to_its_extents(void **state)
{
	const struct scale *scale = case_of(state)->row;
	struct syringe syringe = syringe_of(scale);
	struct syringe_figure figure = {.syringe = &syringe,
	                                .x_zero = X_ZERO,
	                                .axis = AXIS,
	                                .ring = 0.4,
	                                .liquid = 0.4,
	                                .needle = NEEDLE_THICK};
	struct raster *raster = draw_syringe(case_of(state)->arena, &figure);
	struct rect bounds = raster_bounds(raster);
	/* Outlines are centred on the edges they draw. */
	double half_line = LINE_OUTLINE / 2;

	assert_near(bounds.x, X_ZERO - syringe_left(&syringe, true, 0));
	assert_near(bounds.x + bounds.width, X_ZERO + syringe_right(&syringe, 0.4) + half_line);
	raster_free(raster);
}

/* A barrel whose outside was measured is drawn that wide. */
static void a_measured_barrel_is_drawn_as_wide_as_it_is(void **state)
{
	struct syringe syringe = syringe_of(&scales[0]);
	syringe.barrel = (struct rational){67, 10};
	struct syringe_figure figure = {.syringe = &syringe, .x_zero = X_ZERO, .axis = AXIS, .ring = 1};
	struct raster *raster = draw_syringe(case_of(state)->arena, &figure);
	struct walls walls = find_walls(raster, X_ZERO + 0.285);

	assert_near(run_middle(walls.lower_outer) - run_middle(walls.upper_outer), 6.7);
	raster_free(raster);
}

/* Unmeasured, 1 mL in 57 mm needs a bore of 2 * sqrt(1000 / (57 * pi)) = 4.726 mm. */
static void the_bore_holds_the_volume(void **state)
{
	struct syringe syringe = syringe_of(&scales[0]);
	struct syringe_figure figure = {.syringe = &syringe, .x_zero = X_ZERO, .axis = AXIS, .ring = 1};
	struct raster *raster = draw_syringe(case_of(state)->arena, &figure);
	struct walls walls = find_walls(raster, X_ZERO + 0.285);

	assert_near(run_middle(walls.lower_inner) - run_middle(walls.upper_inner), 4.726);
	raster_free(raster);
}

static void a_cut_rod_ends_at_its_wave(void **state)
{
	struct syringe syringe = syringe_of(&scales[0]);
	struct syringe_figure figure = {.syringe = &syringe,
	                                .x_zero = X_ZERO,
	                                .axis = AXIS,
	                                .ring = 0.8,
	                                .cut_rod = true,
	                                .cut_at = X_ZERO + 90};
	struct raster *raster = draw_syringe(case_of(state)->arena, &figure);
	struct rect bounds = raster_bounds(raster);

	assert_true(bounds.x + bounds.width > X_ZERO + 90);
	assert_true(bounds.x + bounds.width < X_ZERO + 92);
	raster_free(raster);
}

/* ---- the magnifier ---- */

struct window_case {
	const char *name;
	size_t scale;
	double zoom;
	double centre;
	double ring;
	double first_ml; /* the first line that is wholly inside */
	int lines;
};

/* A frame of 68 shows 68 / zoom mm of the scale: at 5 of a 1 mL syringe 13.6 mm, 0.119 mL to each side. */
static const struct window_case windows[] = {
	{"1 mL, 5 times", 0, 5, 0.5, 0.5, 0.39, 23},
	{"1 mL, 5 times, the ring elsewhere", 0, 5, 0.5, 0.46, 0.39, 23},
	{"U-100, 4.2 times", 1, 4.2, 0.2, 0.2, 0.11, 19},
	{"3 mL, 2.2 times", 2, 2.2, 1.4, 1.4, 0.5, 19},
};

/* Walls of the window in a column between two lines, in front of the stopper. */
static double window_wall_row(const struct raster *raster, double x)
{
	struct run runs[MOST_RUNS];
	size_t n = raster_column(raster, x, 10.5, 59.5, runs, MOST_RUNS);

	assert_true(n >= 4);
	return (runs[n - 2].to + runs[n - 1].from) / 2;
}

static void window_lines_stand_where_the_data_puts_them(void **state)
{
	const struct window_case *row = case_of(state)->row;
	const struct scale *scale = &scales[row->scale];
	struct syringe syringe = syringe_of(scale);
	struct syringe_figure figure = {.syringe = &syringe, .ring = row->ring};
	struct window_figure window = {.figure = &figure,
	                               .frame = {10, 10, 68, 50},
	                               .zoom = row->zoom,
	                               .centre = row->centre,
	                               .ring = row->ring,
	                               .frame_line = LINE_MAIN,
	                               .wedge = WEDGE_SOLID};
	struct raster *raster = raster_new(90, 70, DPI);
	struct painter painter = {case_of(state)->arena, raster_device(raster)};
	figure_window(&painter, &window);

	double step_ml = (double)scale->step.numerator / (double)scale->step.denominator;
	double spacing = scale->spacing * row->zoom;
	double first = 44 + (row->first_ml - row->centre) / step_ml * spacing;
	struct run runs[MOST_RUNS];
	size_t n = raster_row(raster, window_wall_row(raster, first + spacing / 2), 10.6, 77.4, runs, MOST_RUNS);
	assert_int_equal(n, row->lines);
	for (int i = 0; i < row->lines; i++)
		assert_near(run_middle(runs[i]), first + i * spacing);

	/* The heavy line is at the ring, the wedge over it, 0.4 above the wall. */
	double ring = 44 + (row->ring - row->centre) / step_ml * spacing;
	n = raster_row(raster, 10 + 8.4 + 0.6, ring - 3, ring + 3, runs, MOST_RUNS);
	assert_int_equal(n, 1);
	assert_near(run_middle(runs[0]), ring);
	assert_near(runs[0].to - runs[0].from, 0.9);
	n = raster_row(raster, 10 + 8.4 - 0.4 - 2.2, ring - 5, ring + 5, runs, MOST_RUNS);
	assert_int_equal(n, 1);
	assert_near(run_middle(runs[0]), ring);
	raster_free(raster);
}

static void a_wrong_window_has_a_cross_and_no_wedge(void **state)
{
	struct syringe syringe = syringe_of(&scales[0]);
	struct syringe_figure figure = {.syringe = &syringe};
	struct window_figure window = {.figure = &figure,
	                               .frame = {10, 10, 56, 43},
	                               .zoom = 4.2,
	                               .centre = 0.5,
	                               .ring = 0.5,
	                               .frame_line = LINE_OUTLINE,
	                               .wedge = WEDGE_CROSS};
	struct raster *raster = raster_new(80, 70, DPI);
	struct painter painter = {case_of(state)->arena, raster_device(raster)};
	struct run runs[MOST_RUNS];

	figure_window(&painter, &window);
	/* Two arms above and below the middle, where a wedge would be one run. */
	assert_int_equal(raster_row(raster, 14.6, 33, 43, runs, MOST_RUNS), 2);
	assert_int_equal(raster_row(raster, 17, 33, 43, runs, MOST_RUNS), 2);
	raster_free(raster);
}

/* The number of large print, 1 mm above the wall's line: the wall is at 18.4, half its line 0.25. */
static void the_number_beside_the_sign_clears_the_wall(void **state)
{
	struct syringe syringe = syringe_of(&scales[0]);
	struct syringe_figure figure = {.syringe = &syringe};
	struct findings findings = findings_in(case_of(state)->arena);
	struct typesetter *typesetter = typesetter_new("fonts", &findings);
	struct window_figure window = {
		.figure = &figure,
		.frame = {10, 10, 88, 50},
		.zoom = 4.2,
		.centre = 0.5,
		.ring = 0.5,
		.frame_line = LINE_OUTLINE,
		.wedge = WEDGE_CROSS,
		.beside = text_set(typesetter, "0.52 mL", "en", (struct text_style){.size = 18}, 0)};
	struct device *device = list_new(case_of(state)->arena);
	struct painter painter = {case_of(state)->arena, device};
	int found = 0;

	device->end->begin_page(device, &(struct placed_page){.width = 110, .height = 70, .label = "1"});
	figure_window(&painter, &window);
	struct list list = list_of(device);
	for (size_t i = 0; i < list.n; i++) {
		if (list.entries[i].kind != LIST_TEXT)
			continue;
		found++;
		assert_true(list.entries[i].area.y > 10 + 1);
		assert_true(list.entries[i].area.y + list.entries[i].area.height <= 18.15 - 1);
	}
	assert_int_equal(found, 1);
	typesetter_free(typesetter);
}

/* As wide as the frame / zoom, centred on the same volume of the true-size syringe. */
static void the_bracket_spans_what_the_window_shows(void **state)
{
	struct syringe syringe = syringe_of(&scales[0]);
	struct syringe_figure figure = {.syringe = &syringe, .x_zero = 40, .axis = 10};
	struct window_figure window = {.figure = &figure,
	                               .frame = {20, 30, 60, 40},
	                               .zoom = 5,
	                               .centre = 0.5,
	                               .ring = 0.5,
	                               .frame_line = LINE_MAIN,
	                               .bracket = true,
	                               .bracket_y = 20};
	struct raster *raster = raster_new(110, 80, DPI);
	struct painter painter = {case_of(state)->arena, raster_device(raster)};
	struct run runs[MOST_RUNS];

	figure_window(&painter, &window);
	assert_int_equal(raster_row(raster, 19, 5, 105, runs, MOST_RUNS), 2);
	assert_near(run_middle(runs[0]), 40 + 28.5 - 6);
	assert_near(run_middle(runs[1]), 40 + 28.5 + 6);
	raster_free(raster);
}

/* ---- what the print is checked against ---- */

static void ruler_ticks_stand_a_millimetre_apart(void **state)
{
	struct ruler_figure figure = {.at = {10.3, 15.7}, .flag = true};
	struct raster *raster = raster_new(80, 25, DPI);
	struct painter painter = {case_of(state)->arena, raster_device(raster)};
	struct run runs[MOST_RUNS];

	figure_ruler(&painter, &figure);
	assert_int_equal(raster_row(raster, 15, 5, 75, runs, MOST_RUNS), 52);
	for (int i = 0; i <= 50; i++)
		assert_near(run_middle(runs[i]), 10.3 + i);
	assert_near(run_middle(runs[51]), 10.3 + 53.98);
	/* Fives and tens reach higher. */
	assert_int_equal(raster_row(raster, 13.4, 5, 75, runs, MOST_RUNS), 12);
	assert_int_equal(raster_row(raster, 11.6, 5, 75, runs, MOST_RUNS), 7);
	raster_free(raster);
}

/* ISO/IEC 7810, ID-1: 85.60 by 53.98. */
static void card_edges_are_a_bank_cards(void **state)
{
	struct card_figure figure = {.at = {5.2, 4.1}};
	struct raster *raster = raster_new(100, 65, DPI);
	struct painter painter = {case_of(state)->arena, raster_device(raster)};
	struct run runs[MOST_RUNS];

	figure_card(&painter, &figure);
	assert_int_equal(raster_row(raster, 30, 0, 99, runs, MOST_RUNS), 2);
	assert_near(run_middle(runs[0]), 5.2);
	assert_near(run_middle(runs[1]), 5.2 + 85.60);
	assert_int_equal(raster_column(raster, 48, 0, 64, runs, MOST_RUNS), 2);
	assert_near(run_middle(runs[0]), 4.1);
	assert_near(run_middle(runs[1]), 4.1 + 53.98);
	/* The heavy corner runs 0.8 wide along the same edge, and the corner itself is round. */
	assert_int_equal(raster_row(raster, 4.1 + 6, 0, 20, runs, MOST_RUNS), 1);
	assert_near(run_middle(runs[0]), 5.2);
	assert_near(runs[0].to - runs[0].from, 0.8);
	assert_false(raster_is_dark(raster, 5.5, 4.4));
	raster_free(raster);
}

/* ---- signs ---- */

static void clock_hands_show_the_time(void **state)
{
	struct clock_figure figure = {
		.centre = {15, 15}, .radius = 10, .hour = 22, .minute = 30, .line = LINE_MAIN, .colour = COLOUR_INK};
	struct raster *raster = raster_new(30, 30, 600);
	struct painter painter = {case_of(state)->arena, raster_device(raster)};

	figure_clock(&painter, &figure);
	/* Half past: the long hand down; ten and a half: the short one 315 degrees round from twelve. */
	assert_true(raster_is_dark(raster, 15, 15 + 6));
	assert_true(raster_is_dark(raster, 15 - 4 * sqrt(0.5), 15 - 4 * sqrt(0.5)));
	assert_false(raster_is_dark(raster, 15, 15 - 4));
	assert_false(raster_is_dark(raster, 15 + 4, 15));
	assert_false(raster_is_dark(raster, 15 - 6 * sqrt(0.5), 15 - 6 * sqrt(0.5)));
	raster_free(raster);
}

static void a_side_is_filled_as_the_wearer_sees_it(void **state)
{
	for (int right = 0; right <= 1; right++) {
		struct side_figure figure = {.at = {5, 5}, .width = 10, .side = right ? SIDE_RIGHT : SIDE_LEFT};
		struct raster *raster = raster_new(20, 15, 600);
		struct painter painter = {case_of(state)->arena, raster_device(raster)};

		figure_side(&painter, &figure);
		assert_int_equal(raster_is_dark(raster, 7.5, 8.1), !right);
		assert_int_equal(raster_is_dark(raster, 12.5, 8.1), right);
		raster_free(raster);
	}
}

/* A finder pattern is 1 dark, 1 light, 3 dark, 1 light, 1 dark (ISO/IEC 18004); 21 modules make the smallest symbol. */
static void a_code_is_as_large_as_it_is_placed(void **state)
{
	struct code_figure figure = {.payload = "K7Q4-MX2T-9", .at = {5, 5}, .size = 10.5};
	struct raster *raster = raster_new(20, 20, DPI);
	struct painter painter = {case_of(state)->arena, raster_device(raster)};
	struct run runs[MOST_RUNS];

	figure_code(&painter, &figure);
	struct rect bounds = raster_bounds(raster);
	assert_near(bounds.x, 5);
	assert_near(bounds.width, 10.5);
	assert_near(bounds.height, 10.5);
	assert_int_equal(raster_row(raster, 5 + 3.5 * 0.5, 4, 5 + 3.6, runs, MOST_RUNS), 3);
	assert_near(runs[0].to - runs[0].from, 0.5);
	assert_near(runs[1].from - runs[0].to, 0.5);
	assert_near(runs[1].to - runs[1].from, 1.5);
	assert_near(runs[2].from - runs[1].to, 0.5);
	raster_free(raster);
}

/* ---- pictures ---- */

static struct raster *draw_picture(struct arena *arena, enum pictogram pictogram, double size, double level)
{
	struct picture picture = {.pictogram = pictogram, .at = {10, 10}, .size = size, .level = level};
	struct raster *raster = raster_new(20 + size, 20 + size, 300);
	struct painter painter = {arena, raster_device(raster)};

	figure_picture(&painter, &picture);
	return raster;
}

static void assert_within(const char *name, struct rect bounds, double size)
{
	/* A dot, 0.085 mm, for the soft edge. */
	double slack = 0.1;

	if (bounds.width < size / 3 && bounds.height < size / 3)
		fail_msg("%s is too small at %g mm", name, size);
	if (bounds.x < 10 - slack || bounds.y < 10 - slack || bounds.x + bounds.width > 10 + size + slack ||
	    bounds.y + bounds.height > 10 + size + slack)
		fail_msg("%s leaves its square of %g mm: %.2f..%.2f, %.2f..%.2f", name, size, bounds.x - 10,
		         bounds.x + bounds.width - 10, bounds.y - 10, bounds.y + bounds.height - 10);
}

static void every_pictogram_keeps_to_its_square(void **state)
{
	static const double sizes[] = {4.4, 6.2, 10.8, 24};

	for (size_t s = 0; s < sizeof sizes / sizeof *sizes; s++) {
		for (int i = PICTURE_NONE + 1; i <= PICTURE_BELLY; i++) {
			struct raster *raster = draw_picture(case_of(state)->arena, (enum pictogram)i, sizes[s], 0);
			char name[40];
			snprintf(name, sizeof name, "pictogram %d", i);
			assert_within(name, raster_bounds(raster), sizes[s]);
			raster_free(raster);
		}
	}
}

static void no_two_pictograms_are_alike(void **state)
{
	struct raster *rasters[PICTURE_BELLY + 1] = {NULL};

	for (int i = PICTURE_NONE + 1; i <= PICTURE_BELLY; i++)
		rasters[i] = draw_picture(case_of(state)->arena, (enum pictogram)i, 12, 0);
	for (int i = PICTURE_NONE + 1; i <= PICTURE_BELLY; i++)
		for (int k = PICTURE_NONE + 1; k < i; k++)
			assert_false(raster_equal(rasters[i], rasters[k]));
	for (int i = PICTURE_NONE + 1; i <= PICTURE_BELLY; i++)
		raster_free(rasters[i]);
}

static void nothing_is_drawn_for_no_picture(void **state)
{
	struct raster *raster = draw_picture(case_of(state)->arena, PICTURE_NONE, 12, 0);

	assert_true(raster_bounds(raster).width <= 0);
	raster_free(raster);
}

/* The lower the level, the lower the line across the vial. */
static void a_half_vials_line_follows_its_level(void **state)
{
	struct run runs[MOST_RUNS];
	double before = 0;

	for (int i = 1; i <= 4; i++) {
		struct raster *raster = draw_picture(case_of(state)->arena, PICTURE_HALF_VIAL, 24, i / 4.0);
		/* Left of the vial there is only the line. */
		assert_int_equal(raster_column(raster, 12.8, 10, 34, runs, MOST_RUNS), 1);
		if (i > 1)
			assert_true(run_middle(runs[0]) < before - 2);
		before = run_middle(runs[0]);
		raster_free(raster);
	}
}

static void every_step_picture_keeps_to_its_square(void **state)
{
	static const double sizes[] = {28, 40};

	for (size_t s = 0; s < sizeof sizes / sizeof *sizes; s++) {
		for (size_t i = 0; i < step_picture_count(); i++) {
			struct step_picture step = {.name = step_picture_name(i), .at = {10, 10}, .size = sizes[s]};
			struct raster *raster = raster_new(20 + sizes[s], 20 + sizes[s], 300);
			struct painter painter = {case_of(state)->arena, raster_device(raster)};
			figure_step(&painter, &step);
			assert_within(step.name, raster_bounds(raster), sizes[s]);
			raster_free(raster);
		}
	}
}

/* ---- pens ---- */

/* Lying and upright: within what the page keeps for it, and as long as it says. */
static void pens_keep_their_area(void **state)
{
	static const double lengths[] = {PEN_LENGTH, 43};
	for (size_t i = 0; i < 2; i++)
		for (int upright = 0; upright < 2; upright++) {
			double length = lengths[i];
			double width = length * PEN_HEIGHT / PEN_LENGTH;
			double drop = upright ? length * PEN_DROP / PEN_LENGTH : 0;
			struct rect area = {10, 10, upright ? width : length, upright ? length + drop : width};
			struct pen_figure pen = {.at = {10, 10}, .length = length, .upright = upright, .full = 0.5};
			struct raster *raster = raster_new(140, 140, 300);
			struct painter painter = {case_of(state)->arena, raster_device(raster)};
			figure_pen(&painter, &pen);
			struct rect bounds = raster_bounds(raster);
			assert_true(bounds.x >= area.x - 0.2 && bounds.y >= area.y - 0.2);
			assert_true(bounds.x + bounds.width <= area.x + area.width + 0.2);
			assert_true(bounds.y + bounds.height <= area.y + area.height + 0.2);
			assert_true(upright ? bounds.height > 0.96 * (length + drop) : bounds.width > 0.97 * length);
			raster_free(raster);
		}
}

/* The rubber stands where the liquid ends: further back the fuller the pen. */
static void a_fuller_pen_shows_more(void **state)
{
	double ends[3];
	for (int i = 0; i < 3; i++) {
		struct pen_figure pen = {.at = {0, 0}, .length = PEN_LENGTH, .full = i / 2.0};
		struct raster *raster = raster_new(120, 20, 600);
		struct painter painter = {case_of(state)->arena, raster_device(raster)};
		struct run runs[MOST_RUNS];
		figure_pen(&painter, &pen);
		size_t n = raster_row(raster, 3.6, 14, 46, runs, MOST_RUNS);
		ends[i] = 0;
		for (size_t k = 0; k < n; k++)
			if (runs[k].to - runs[k].from > 2)
				ends[i] = runs[k].from;
		raster_free(raster);
	}
	assert_true(ends[0] > 13 && ends[1] > ends[0] + 10 && ends[2] > ends[1] + 10);
}

/* The pointer stands at the middle; a line at each number, none where the dial has none. */
static void a_dial_points_at_its_number(void **state)
{
	struct rect frame = {10, 10, 50, 29};
	for (int neighbours = 0; neighbours < 2; neighbours++) {
		struct findings findings = findings_in(case_of(state)->arena);
		struct typesetter *typesetter = typesetter_new("fonts", &findings);
		const struct text_block *number =
			text_set(typesetter, "150", "en", (struct text_style){.size = 24, .weight = WEIGHT_BOLD}, 0);
		struct dial_figure dial = {.frame = frame,
		                           .number = number,
		                           .below = neighbours ? number : NULL,
		                           .above = neighbours ? number : NULL};
		struct raster *raster = raster_new(80, 60, 600);
		struct painter painter = {case_of(state)->arena, raster_device(raster)};
		struct run runs[MOST_RUNS];
		figure_dial(&painter, &dial);
		/* Through the lines at the right: frame, lines, frame. */
		size_t n = raster_column(raster, frame.x + 46, 5, 45, runs, MOST_RUNS);
		assert_int_equal(n, neighbours ? 5 : 3);
		assert_near(run_middle(runs[n / 2]), frame.y + frame.height / 2);
		/* Through the pointer: its middle is the number's line. */
		n = raster_column(raster, frame.x + 5, 15, 34, runs, MOST_RUNS);
		assert_int_equal(n, 1);
		assert_near(run_middle(runs[0]), frame.y + frame.height / 2);
		raster_free(raster);
		typesetter_free(typesetter);
	}
}

/* Each name has one drawing, each drawing a name: figure_step() draws every name, so the counts settle it. */
static void names_and_drawings_of_steps_agree(void **state)
{
	static const struct step_table *const tables[] = {&step_prepare_table, &step_mix_table, &step_draw_table,
	                                                  &step_inject_table,  &step_pen_table, &step_form_table,
	                                                  &step_counted_table, &step_flow_table};
	size_t drawings = 0;

	(void)state;
	for (size_t t = 0; t < sizeof tables / sizeof *tables; t++)
		for (size_t i = 0; i < tables[t]->n; i++, drawings++)
			assert_true(step_picture_known(tables[t]->drawings[i].name));
	assert_int_equal(drawings, step_picture_count());
	for (size_t i = 0; i < step_picture_count(); i++)
		for (size_t k = 0; k < i; k++)
			assert_string_not_equal(step_picture_name(i), step_picture_name(k));
	assert_false(step_picture_known("no-such-picture"));
	assert_false(step_picture_known(""));
}

#define ADD(test) tests_add(&tests, #test, test, NULL)
#define ADD_ROWS(test, rows)                                       \
	for (size_t i = 0; i < sizeof(rows) / sizeof *(rows); i++) \
	add_row(&tests, #test, (rows)[i].name, test, &(rows)[i])

static void add_row(struct tests *tests, const char *test, const char *name, CMUnitTestFunction function,
                    const void *row)
{
	char whole[200];

	snprintf(whole, sizeof whole, "%s: %s", test, name);
	tests_add(tests, whole, function, row);
}

int main(void)
{
	struct tests tests = {0};

	ADD_ROWS(lines_stand_where_the_data_puts_them, scales);
	ADD_ROWS(front_ring_stands_on_the_mark, marks);
	ADD_ROWS(mark_line_stands_on_the_mark, marks);
	ADD(lines_over_rubber_are_white);
	ADD_ROWS(the_drawing_keeps_to_its_extents, scales);
	ADD(a_measured_barrel_is_drawn_as_wide_as_it_is);
	ADD(the_bore_holds_the_volume);
	ADD(a_cut_rod_ends_at_its_wave);
	ADD_ROWS(window_lines_stand_where_the_data_puts_them, windows);
	ADD(a_wrong_window_has_a_cross_and_no_wedge);
	ADD(the_number_beside_the_sign_clears_the_wall);
	ADD(the_bracket_spans_what_the_window_shows);
	ADD(ruler_ticks_stand_a_millimetre_apart);
	ADD(card_edges_are_a_bank_cards);
	ADD(clock_hands_show_the_time);
	ADD(a_side_is_filled_as_the_wearer_sees_it);
	ADD(a_code_is_as_large_as_it_is_placed);
	ADD(every_pictogram_keeps_to_its_square);
	ADD(no_two_pictograms_are_alike);
	ADD(nothing_is_drawn_for_no_picture);
	ADD(a_half_vials_line_follows_its_level);
	ADD(every_step_picture_keeps_to_its_square);
	ADD(pens_keep_their_area);
	ADD(a_fuller_pen_shows_more);
	ADD(a_dial_points_at_its_number);
	ADD(names_and_drawings_of_steps_agree);
	return tests_run(&tests, "figures");
}
