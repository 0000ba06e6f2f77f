/*
 * The fill mark: measured by hand from the design's shares of an em, and read
 * off dots. 30 pt is 10.583 mm; Atkinson's capitals are 0.668 of it.
 */
#include "page/tag_geometry.h"
#include "paint/figures.h"
#include "paint/painter.h"
#include "support/cases.h"
#include "support/raster.h"

#include <math.h>

#define DPI 600.0

static void assert_near(double found, double wanted, double tolerance)
{
	if (fabs(found - wanted) > tolerance)
		fail_msg("found %.4f, wanted %.4f", found, wanted);
}

struct words {
	const char *name;
	const char *before; /* or NULL */
	const char *number;
	const char *unit;
	double size;
	bool grid;
};

static const struct words rows[] = {
	{"0.5 mL, 30 pt", NULL, "0.5", "mL", 30, false},
	{"line 20, 24 pt", "line", "20", NULL, 24, false},
	{"all, 24 pt", NULL, "all", NULL, 24, false},
	{"push out to 0.3 mL, 17 pt", "push out to", "0.3", "mL", 17, false},
	{"0.5 mL in the grid", NULL, "0.5", "mL", 12, true},
	{"1 in the grid", NULL, "1", NULL, 12, true},
	{"dial 150, 40 pt", "dial", "150", NULL, 40, false},
};

static const struct text_block *set_or_null(struct typesetter *typesetter, const char *text, struct text_style style)
{
	return text ? text_set(typesetter, text, "en", style, 0) : NULL;
}

static struct tag make_tag(struct typesetter *typesetter, const struct words *row, struct point tip, bool open)
{
	struct tag_words words = {
		.before = set_or_null(typesetter, row->before, tag_word_style(row->size)),
		.number = set_or_null(typesetter, row->number, tag_number_style(row->size)),
		.unit = set_or_null(typesetter, row->unit, tag_word_style(row->size)),
	};

	return row->grid ? tag_in_grid(tip, words, open) : tag_of(tip, words, open);
}

static struct typesetter *load_fonts(struct arena *arena)
{
	struct findings findings = findings_in(arena);
	struct typesetter *typesetter = typesetter_new("fonts", &findings);

	assert_non_null(typesetter);
	return typesetter;
}

/* Body: capitals + 0.56 em, in the grid + 0.40; point 0.30 em, in the grid 0.24; sides 0.375 em. */
static void measures_are_shares_of_an_em(void **state)
{
	const struct words *row = case_of(state)->row;
	struct typesetter *typesetter = load_fonts(case_of(state)->arena);
	struct tag tag = make_tag(typesetter, row, (struct point){100, 50}, false);
	struct tag_geometry geometry = tag_measure(&tag);
	double em = row->size * 25.4 / 72;

	assert_near(geometry.body.height, (0.668 + (row->grid ? 0.40 : 0.56)) * em, 0.02);
	assert_near(geometry.area.height - geometry.body.height, (row->grid ? 0.24 : 0.30) * em, 1e-9);
	assert_near(geometry.area.y + geometry.area.height, 50, 1e-9);
	assert_near(geometry.body.x + geometry.body.width / 2, 100, 1e-9);
	/* Air above the capitals and below the baseline is the same. */
	assert_near(geometry.baseline - 0.668 * em - geometry.body.y,
	            geometry.body.y + geometry.body.height - geometry.baseline, 0.02);
	double first = row->before ? geometry.before_x : geometry.number_x;
	double last = row->unit ? geometry.unit_x + text_width(tag.unit) : geometry.number_x + text_width(tag.number);
	assert_near(first - geometry.body.x, 0.375 * em, 1e-9);
	assert_near(geometry.body.x + geometry.body.width - last, 0.375 * em, 1e-9);
	if (row->before)
		assert_near(geometry.number_x - geometry.before_x - text_width(tag.before), 0.22 * em, 1e-9);
	if (row->unit)
		assert_near(geometry.unit_x - geometry.number_x - text_width(tag.number), 0.22 * em, 1e-9);
	typesetter_free(typesetter);
}

static void words_are_never_under_10_points(void **state)
{
	(void)state;
	assert_near(tag_word_style(30).size, 18.6, 1e-9);
	assert_near(tag_word_style(12).size, 10, 1e-9);
	assert_int_equal(tag_word_style(30).weight, WEIGHT_SEMIBOLD);
	assert_int_equal(tag_number_style(30).weight, WEIGHT_BOLD);
}

static struct raster *draw_tag(struct arena *arena, const struct tag *tag)
{
	struct raster *raster = raster_new(200, 60, DPI);
	struct painter painter = {arena, raster_device(raster)};

	figure_tag(&painter, tag);
	return raster;
}

/* The lowest dot is the tip, and it is where it was asked for, open or solid, slid or not. */
static void the_tip_stands_where_it_is_asked_for(void **state)
{
	const struct words *row = case_of(state)->row;
	struct typesetter *typesetter = load_fonts(case_of(state)->arena);

	for (int variant = 0; variant < 4; variant++) {
		struct tag tag = make_tag(typesetter, row, (struct point){100.2, 50}, variant & 1);
		struct run runs[4];
		if (variant & 2)
			tag.slide = tag_slide_within(&tag, 100, 200);
		struct raster *raster = draw_tag(case_of(state)->arena, &tag);
		struct rect bounds = raster_bounds(raster);
		assert_near(bounds.y + bounds.height, 50, 0.1);
		assert_int_equal(raster_row(raster, 49.8, 80, 120, runs, 4), 1);
		assert_near(run_middle(runs[0]), 100.2, 0.06);
		raster_free(raster);
	}
	typesetter_free(typesetter);
}

/* Solid goes into you, open only prepares: one outer shape, and inside black or white. */
static void open_and_solid_have_one_outer_shape(void **state)
{
	const struct words *row = case_of(state)->row;
	struct typesetter *typesetter = load_fonts(case_of(state)->arena);
	struct tag solid = make_tag(typesetter, row, (struct point){100, 50}, false);
	struct tag open = make_tag(typesetter, row, (struct point){100, 50}, true);
	struct tag_geometry geometry = tag_measure(&solid);
	struct raster *solid_raster = draw_tag(case_of(state)->arena, &solid);
	struct raster *open_raster = draw_tag(case_of(state)->arena, &open);
	struct rect a = raster_bounds(solid_raster);
	struct rect b = raster_bounds(open_raster);
	double middle = geometry.body.y + geometry.body.height / 2;
	struct run runs[4];

	assert_near(a.x, b.x, 1e-9);
	assert_near(a.y, b.y, 1e-9);
	assert_near(a.width, b.width, 1e-9);
	assert_near(a.height, b.height, 1e-9);
	assert_near(a.x, geometry.body.x, 0.06);
	assert_near(a.width, geometry.body.width, 0.1);
	assert_int_equal(raster_row(solid_raster, middle, 1, 199, runs, 4), 1);
	assert_int_equal(raster_row(open_raster, middle, 1, 199, runs, 4), 2);
	/* 0.8 thick; 0.5 where the number is smaller than 15 pt. */
	assert_near(runs[0].to - runs[0].from, row->size < 15 ? 0.5 : 0.8, 0.06);
	raster_free(solid_raster);
	raster_free(open_raster);
	typesetter_free(typesetter);
}

/* At an edge the body gives way as far as the point allows. */
static void a_tag_at_the_edge_slides(void **state)
{
	struct typesetter *typesetter = load_fonts(case_of(state)->arena);
	struct tag tag = make_tag(typesetter, &rows[0], (struct point){20, 50}, false);
	double width = tag_width(&tag);

	assert_near(tag_slide_within(&tag, 0, 100), 0, 1e-9);
	assert_near(tag_slide_within(&tag, 20 - width / 2 + 3, 100), 3, 1e-9);
	assert_near(tag_slide_within(&tag, 0, 20 + width / 2 - 2), -2, 1e-9);
	/* Beyond that the point would leave the straight edge: half the body less half the point and a corner. */
	assert_near(tag_slide_within(&tag, 30, 100), (width - tag.point_width) / 2 - 0.9, 1e-9);
	typesetter_free(typesetter);
}

int main(void)
{
	struct tests tests = {0};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		tests_add(&tests, rows[i].name, measures_are_shares_of_an_em, &rows[i]);
		tests_add(&tests, rows[i].name, the_tip_stands_where_it_is_asked_for, &rows[i]);
		tests_add(&tests, rows[i].name, open_and_solid_have_one_outer_shape, &rows[i]);
	}
	tests_add(&tests, "words are never under 10 points", words_are_never_under_10_points, NULL);
	tests_add(&tests, "a tag at the edge slides", a_tag_at_the_edge_slides, NULL);
	return tests_run(&tests, "figure_tag");
}
