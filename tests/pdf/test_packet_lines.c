/*
 * The syringes of real packets, measured on the finished PDF.
 *
 * Poppler makes the page into dots; the zero line is found among them, and the
 * mark line must stand at V_mark / V_nominal * L from it, worked out here from
 * the syringe's data as it is written in the clinic's file.
 */
#include "page/syringe_geometry.h"
#include "support/cases.h"
#include "support/raster.h"
#include "support/sample_packets.h"
#include "support/shell.h"

#include <math.h>
#include <string.h>

#define DPI 1200.0
#define TOLERANCE 0.1
#define MOST_RUNS 400

struct row {
	const char *plan;
	enum paper paper;
	bool large_print;
	bool syringes; /* pens and counted forms have no lines */
};

static double real(struct rational number)
{
	return (double)number.numerator / (double)number.denominator;
}

/* Is there a dark run within the tolerance of `x`? */
static bool line_at(const struct run *runs, size_t n, double x)
{
	for (size_t i = 0; i < n; i++)
		if (fabs(run_middle(runs[i]) - x) <= TOLERANCE)
			return true;
	return false;
}

/* Graduations rise from the lower wall's edge: a row inside that wall crosses every one, and neither rubber nor rod. */
static void measure(const char *path, int page, const struct syringe_figure *figure)
{
	const struct syringe *syringe = figure->syringe;
	double length = real(syringe->scale_length);
	double capacity = real(syringe->capacity);
	double outer = syringe_geometry_of(syringe).outer;
	double right = figure->x_zero + real(syringe->graduated) / capacity * length;
	struct rect part = {figure->x_zero - 2, figure->axis - outer, right - figure->x_zero + 4, 2 * outer};
	struct raster *raster = raster_of_pdf(path, page, part, DPI);
	struct run runs[MOST_RUNS];
	double y = figure->axis + outer / 2 - syringe_geometry_of(syringe).wall / 2;
	size_t n = raster_row(raster, y, figure->x_zero - 1, right + 1, runs, MOST_RUNS);
	double zero = figure->x_zero;
	size_t lines = (size_t)llround(real(syringe->graduated) / real(syringe->step)) + 1;
	for (size_t i = 0; i < lines; i++) {
		double x = zero + (double)i * real(syringe->step) / capacity * length;
		if (!line_at(runs, n, x))
			fail_msg("%s page %d, %s: no line at %.3f mm from zero", path, page, syringe->id, x - zero);
	}
	if (figure->line) {
		double x = zero + figure->mark / capacity * length;
		size_t n_column = raster_row(raster, figure->axis - outer * 0.42, x - 0.6, x + 0.6, runs, MOST_RUNS);
		if (!line_at(runs, n_column, x))
			fail_msg("%s page %d, %s: the draw line is not at %.3f mm", path, page, syringe->id, x - zero);
	}
	raster_free(raster);
}

/* How far the first dark run of a row begins from where it should. */
static void begins_at(const struct raster *raster, double y, double x, const char *what)
{
	struct run runs[MOST_RUNS];
	size_t n = raster_row(raster, y, x - 2, x + 3, runs, MOST_RUNS);
	if (n == 0 || fabs(runs[0].from - x) > TOLERANCE)
		fail_msg("%s begins at %.3f mm, not at %.3f mm", what, n == 0 ? 0 : runs[0].from, x);
}

/* A needle's point, and its length to the hub: the hub's edge is an outline, half of which stands before it. */
static void measure_needle(const char *path, int page, const struct needle_figure *needle)
{
	struct rect part = {needle->at.x - 3, needle->at.y - 4, needle->length + 12, 8};
	struct raster *raster = raster_of_pdf(path, page, part, DPI);
	begins_at(raster, needle->at.y + (needle->thick ? 0.5 : 0.17), needle->at.x, "a needle");
	begins_at(raster, needle->at.y + 0.65, needle->at.x + needle->length - LINE_OUTLINE / 2, "its hub");
	raster_free(raster);
}

/* The needles of the samples as samples/formulary.yaml gives them: 40 mm to draw, 38 mm to inject into the muscle. */
static void needles_have_their_length(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *folder = scratch_folder(arena);
	const char *path = arena_printf(arena, "%s/packet.pdf", folder);
	struct sample_packet sample = sample_packet_of("samples/plans/tamsin.yaml", PAPER_A4);
	size_t measured = 0;
	sample_packet_save(&sample, path);
	for (size_t i = 0; i < sample.packet->n; i++)
		for (size_t j = 0; j < sample.packet->pages[i].n; j++) {
			const struct placed_mark *mark = &sample.packet->pages[i].marks[j];
			if (mark->kind != MARK_NEEDLE)
				continue;
			assert_true(mark->needle.length == (mark->needle.thick ? 40 : 38));
			measure_needle(path, (int)i + 1, &mark->needle);
			measured++;
		}
	assert_int_equal(measured, 2);
	sample_packet_free(&sample);
	scratch_remove(arena, folder);
}

static void lines_stand_true(void **state)
{
	const struct row *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	const char *folder = scratch_folder(arena);
	const char *path = arena_printf(arena, "%s/packet.pdf", folder);
	struct sample_packet sample = sample_packet_in(row->plan, row->paper, row->large_print);
	size_t measured = 0;
	sample_packet_save(&sample, path);
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		for (size_t j = 0; j < page->n; j++)
			if (page->marks[j].kind == MARK_SYRINGE) {
				measure(path, (int)i + 1, &page->marks[j].syringe);
				measured++;
			}
	}
	assert_int_equal(measured > 0, row->syringes);
	sample_packet_free(&sample);
	scratch_remove(arena, folder);
}

int main(void)
{
	struct arena *arena = arena_new();
	struct row *rows = arena_alloc(arena, 4 * n_sample_plans * sizeof *rows);
	struct tests tests = {0};
	for (size_t i = 0; i < 4 * n_sample_plans; i++) {
		struct row *row = &rows[i];
		*row = (struct row){sample_plans[i / 4], i % 2 == 0 ? PAPER_A4 : PAPER_LETTER, i % 4 >= 2, true};
		row->syringes = !strstr(row->plan, "tilda") && !strstr(row->plan, "perpetua");
		tests_add(&tests,
		          arena_printf(arena, "%s on %s%s", row->plan, row->paper == PAPER_A4 ? "A4" : "Letter",
		                       row->large_print ? ", large print" : ""),
		          lines_stand_true, row);
	}
	tests_add(&tests, "needles have their length", needles_have_their_length, NULL);
	int failed = tests_run(&tests, "lines of packets");
	arena_free(arena);
	return failed;
}
