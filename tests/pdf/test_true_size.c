/*
 * The finished PDF, read by poppler at 1200 dots to the inch, on both papers:
 * is what should be true to size within a tenth of a millimetre? Positions are
 * worked out by hand from the syringe's data: a step is L * step / V long.
 */
#include "pdf/pdf.h"

#include "paint/paint.h"
#include "support/cases.h"
#include "support/raster.h"
#include "support/shell.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#define DPI 1200.0
#define TOLERANCE 0.1
#define MOST_RUNS 200
#define STRIP 24.0 /* height given to each figure */

struct paper_size {
	const char *name;
	double width;
	double height;
	double margin; /* so that 180 mm are live */
};

static const struct paper_size papers[] = {{"A4", 210, 297, 15}, {"Letter", 215.9, 279.4, 17.95}};

/* Capacity, step and numbered lines in mL; length in mm. */
struct sample {
	const char *name;
	struct syringe syringe;
	double mark;
	double mark_from_zero; /* mm: mark / V * L */
	int lines;
	double spacing; /* mm: L * step / V */
};

static const struct sample samples[] = {
	{"1 mL at 0.37",
         {.capacity = {1, 1},
          .graduated = {1, 1},
          .step = {1, 100},
          .numbered_every = {1, 10},
          .scale_length = {57, 1}},
         0.37,
         21.09,
         101,
         0.57},
	{"U-100 at 20 units",
         {.capacity = {1, 2},
          .graduated = {1, 2},
          .step = {1, 100},
          .numbered_every = {1, 20},
          .scale_length = {43, 1},
          .fixed_needle = true},
         0.2,
         17.2,
         51,
         0.86},
	{"3 mL at 1.4",
         {.capacity = {3, 1}, .graduated = {3, 1}, .step = {1, 10}, .numbered_every = {1, 2}, .scale_length = {48, 1}},
         1.4,
         22.4,
         31,
         1.6},
	{"5 mL at 3.2",
         {.capacity = {5, 1}, .graduated = {5, 1}, .step = {1, 5}, .numbered_every = {1, 1}, .scale_length = {45, 1}},
         3.2,
         28.8,
         26,
         1.8},
};

#define N_SAMPLES (sizeof samples / sizeof *samples)

static void assert_near(double found, double wanted)
{
	if (fabs(found - wanted) > TOLERANCE)
		fail_msg("found %.4f mm, wanted %.4f mm", found, wanted);
}

static double axis_of(size_t sample)
{
	return 20 + STRIP * ((double)sample + 0.5);
}

static double zero_of(const struct paper_size *paper)
{
	return paper->margin + 28.3;
}

#define RULER_Y 140.0
#define CARD_Y 150.0

/* All samples, the ruler and the card on one page. */
static void write_pdf(struct arena *arena, const struct paper_size *paper, const char *path)
{
	struct placed_mark marks[N_SAMPLES + 2] = {{0}};
	struct rational none = {0, 1};
	struct syringe syringes[N_SAMPLES];

	for (size_t i = 0; i < N_SAMPLES; i++) {
		syringes[i] = samples[i].syringe;
		syringes[i].barrel = none;
		marks[i].kind = MARK_SYRINGE;
		marks[i].syringe = (struct syringe_figure){.syringe = &syringes[i],
		                                           .x_zero = zero_of(paper),
		                                           .axis = axis_of(i),
		                                           .ring = samples[i].mark,
		                                           .liquid = samples[i].mark,
		                                           .line = true,
		                                           .mark = samples[i].mark,
		                                           .needle = NEEDLE_THIN};
	}
	marks[N_SAMPLES].kind = MARK_RULER;
	marks[N_SAMPLES].ruler = (struct ruler_figure){.at = {paper->margin, RULER_Y}, .flag = true};
	marks[N_SAMPLES + 1].kind = MARK_CARD;
	marks[N_SAMPLES + 1].card = (struct card_figure){.at = {paper->margin, CARD_Y}};

	struct placed_page page = {
		.width = paper->width, .height = paper->height, .label = "1", .marks = marks, .n = N_SAMPLES + 2};
	struct drawing_options options = {.title = "true size", .language = "en"};
	struct rect whole = {0, 0, paper->width, paper->height};
	struct device *device = drawing_new(DRAWING_PDF, &options, whole);
	const unsigned char *bytes;
	size_t n;
	paint_page(arena, &page, device);
	assert_true(drawing_finish(device, &bytes, &n));
	FILE *file = fopen(path, "wb");
	assert_non_null(file);
	assert_int_equal(fwrite(bytes, 1, n, file), n);
	assert_int_equal(fclose(file), 0);
	drawing_free(device);
}

/*
 * The column behind the stopper shows, from above: outer wall, inner wall, rod,
 * inner wall, outer wall. Inside the walls only the scale and the mark cross.
 */
static void measure_sample(const struct raster *raster, const struct sample *sample, double zero, double axis)
{
	struct run column[MOST_RUNS];
	struct run runs[MOST_RUNS];
	double mark = zero + sample->mark_from_zero;
	size_t n = raster_column(raster, mark + 10.05, axis - 11, axis + 11, column, MOST_RUNS);

	assert_true(n >= 4);
	double upper_wall = (column[0].to + column[1].from) / 2;
	double lower_wall = (column[n - 2].to + column[n - 1].from) / 2;
	n = raster_row(raster, lower_wall, zero - 0.5, zero + (sample->lines - 1) * sample->spacing + 3, runs,
	               MOST_RUNS);
	assert_int_equal(n, sample->lines);
	for (int i = 0; i < sample->lines; i++)
		assert_near(run_middle(runs[i]), zero + i * sample->spacing);
	n = raster_row(raster, upper_wall, mark - 5, mark + 5, runs, MOST_RUNS);
	assert_int_equal(n, 1);
	assert_near(run_middle(runs[0]), mark);
}

static void measure_ruler(const struct raster *raster, double left)
{
	struct run runs[MOST_RUNS];
	size_t n = raster_row(raster, RULER_Y - 0.8, left - 2, left + 60, runs, MOST_RUNS);

	assert_int_equal(n, 52);
	for (int i = 0; i <= 50; i++)
		assert_near(run_middle(runs[i]), left + i);
	/* The short edge of a bank card: ISO/IEC 7810, ID-1. */
	assert_near(run_middle(runs[51]), left + 53.98);
}

static void measure_card(const struct raster *raster, double left)
{
	struct run runs[MOST_RUNS];

	assert_int_equal(raster_row(raster, CARD_Y + 27, left - 2, left + 90, runs, MOST_RUNS), 2);
	assert_near(run_middle(runs[0]), left);
	assert_near(run_middle(runs[1]), left + 85.60);
	assert_int_equal(raster_column(raster, left + 43, CARD_Y - 2, CARD_Y + 57, runs, MOST_RUNS), 2);
	assert_near(run_middle(runs[0]), CARD_Y);
	assert_near(run_middle(runs[1]), CARD_Y + 53.98);
}

static void a_print_is_true_to_size(void **state)
{
	const struct paper_size *paper = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	const char *folder = scratch_folder(arena);
	const char *path = arena_printf(arena, "%s/page.pdf", folder);

	write_pdf(case_of(state)->arena, paper, path);
	/* One strip each: a whole page would be a hundred million dots. */
	for (size_t i = 0; i < N_SAMPLES; i++) {
		struct rect strip = {paper->margin, axis_of(i) - STRIP / 2, 120, STRIP};
		struct raster *raster = raster_of_pdf(path, 1, strip, DPI);
		measure_sample(raster, &samples[i], zero_of(paper), axis_of(i));
		raster_free(raster);
	}
	struct rect strip = {paper->margin - 3, RULER_Y - 10, 95, CARD_Y + 60 - RULER_Y + 10};
	struct raster *raster = raster_of_pdf(path, 1, strip, DPI);
	scratch_remove(arena, folder);
	measure_ruler(raster, paper->margin);
	measure_card(raster, paper->margin);
	raster_free(raster);
}

int main(void)
{
	struct tests tests = {0};

	for (size_t i = 0; i < sizeof papers / sizeof *papers; i++)
		tests_add(&tests, papers[i].name, a_print_is_true_to_size, &papers[i]);
	return tests_run(&tests, "true_size");
}
