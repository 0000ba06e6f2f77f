/*
 * How near a packet is to the floor: to painting and finishing alone, with every text shaped and placed beforehand.
 *
 *     bench_packets INTAKE MAP DAY SCRATCH-FOLDER
 *
 *     floor                                         paint, finish
 *     whole     read, compute, compose (with shape), paint, finish
 *
 * The two take turns, packet by packet, in one process and through the same PDF end; neither touches the disk but to
 * read a row. Each keeps what it shapes in a typesetter of its own: the floor's forgets nothing, the whole's is reset
 * after each packet, as a worker's is. The first packets warm both up and are not counted.
 */
#include "batch/made.h"
#include "batch/order.h"
#include "load/folder.h"
#include "load/intake.h"
#include "load/seal.h"
#include "paint/paint.h"
#include "pdf/pdf.h"
#include "support/course_script.h"

#include <glib.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { WARM_UP = 10 };

enum stage { STAGE_READ, STAGE_COMPUTE, STAGE_PLACE, STAGE_SHAPE, STAGE_PAINT, STAGE_FINISH, STAGE_FREE, N_STAGES };

static const char *const stage_names[N_STAGES] = {
	"read a row",         "compute and word", "compose: place", "compose: set and shape text",
	"write: paint pages", "finish the file",  "free",
};

/* What every packet is made from. */
struct bench {
	struct arena *arena;
	const struct clinic *clinic;
	struct intake *intake;
	struct findings findings; /* of what concerns no patient */
};

/* Times of one packet, in milliseconds. */
struct times {
	double floor;
	double whole;
	double stages[N_STAGES];
};

/* Of the processor's time, so that whatever else the machine does counts little. */
static double milliseconds(void)
{
	struct timespec now;
	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
	return (double)now.tv_sec * 1e3 + (double)now.tv_nsec / 1e6;
}

/* The milliseconds since `*since`, which becomes now. */
static double lap(double *since)
{
	double before = *since;
	*since = milliseconds();
	return *since - before;
}

_Noreturn static void give_up(struct findings *findings)
{
	fputs(findings_text(findings->arena, findings), stderr);
	exit(1);
}

/* ---- the stages ---- */

static struct plan *read_row(struct bench *bench, struct arena *arena, size_t number, struct findings *findings)
{
	struct intake_patient patient;
	if (!intake_read(bench->intake, arena, number, &patient, findings) || patient.plan == NULL)
		return NULL;
	patient.plan->seal = seal_plan(arena, patient.plan);
	order_digest(arena, patient.plan, false);
	return patient.plan;
}

static bool compute(struct arena *arena, struct made *made, struct findings *findings)
{
	return made_record(arena, made, findings) && made_handout(arena, made, false, findings);
}

static struct device *paint(const struct made *made, const struct drawing_options *options)
{
	const struct placed_packet *packet = made->packet;
	struct rect first = {0, 0, packet->pages[0].width, packet->pages[0].height};
	struct device *device = drawing_new(DRAWING_PDF, options, first);
	paint_pages(packet->pages, packet->n, device);
	return device;
}

static size_t finish(struct device *device)
{
	const unsigned char *bytes;
	size_t n;
	if (!drawing_finish(device, &bytes, &n)) {
		fputs("the pages could not be drawn\n", stderr);
		exit(1);
	}
	return n;
}

static struct drawing_options options_of(const struct made *made)
{
	return (struct drawing_options){.title = say0(made->speaker, "overview.title"),
	                                .language = made->handout->language};
}

/* ---- floor and whole ---- */

/* A packet as far as the floor starts from; false where its row is refused. */
static bool compose_beforehand(struct bench *bench, struct typesetter *typesetter, size_t number, struct made *made)
{
	struct findings findings = findings_in(bench->arena);
	*made = (struct made){.clinic = bench->clinic,
	                      .plan = read_row(bench, bench->arena, number, &findings),
	                      .typesetter = typesetter};
	return made->plan != NULL && compute(bench->arena, made, &findings) &&
	       made_packet(bench->arena, made, &findings);
}

static size_t run_floor(const struct made *made, struct times *times)
{
	double since = milliseconds();
	struct drawing_options options = options_of(made);
	struct device *device = paint(made, &options);
	size_t n = finish(device);
	drawing_free(device);
	times->floor = lap(&since);
	return n;
}

/* How long composing takes where every text is known: the rest of it is setting them. */
static double compose_again(struct arena *arena, struct made *made, struct findings *findings)
{
	double since = milliseconds();
	made_packet(arena, made, findings);
	return lap(&since);
}

static size_t run_whole(struct bench *bench, struct arena *arena, struct typesetter *typesetter, size_t number,
                        struct times *times)
{
	double since = milliseconds();
	struct findings findings = findings_in(arena);
	double *stages = times->stages;
	struct made made = {.clinic = bench->clinic, .typesetter = typesetter};
	made.plan = read_row(bench, arena, number, &findings);
	stages[STAGE_READ] = lap(&since);
	if (!compute(arena, &made, &findings))
		give_up(&findings);
	stages[STAGE_COMPUTE] = lap(&since);
	if (!made_packet(arena, &made, &findings))
		give_up(&findings);
	stages[STAGE_PLACE] = lap(&since);
	struct drawing_options options = options_of(&made);
	struct device *device = paint(&made, &options);
	stages[STAGE_PAINT] = lap(&since);
	size_t n = finish(device);
	stages[STAGE_FINISH] = lap(&since);
	double known = compose_again(arena, &made, &findings); /* not of the whole */
	lap(&since);
	drawing_free(device);
	made.typesetter = NULL;
	made_free(&made);
	arena_reset(arena);
	typesetter_reset(typesetter);
	stages[STAGE_FREE] = lap(&since);
	times->whole = 0;
	for (int i = 0; i < N_STAGES; i++)
		times->whole += stages[i];
	known = known < stages[STAGE_PLACE] ? known : stages[STAGE_PLACE];
	stages[STAGE_SHAPE] = stages[STAGE_PLACE] - known;
	stages[STAGE_PLACE] = known;
	return n;
}

/* ---- what came of it ---- */

static int compare(const void *left, const void *right)
{
	double a = *(const double *)left;
	double b = *(const double *)right;
	return a < b ? -1 : a > b;
}

static double median(double *values, size_t n)
{
	qsort(values, n, sizeof *values, compare);
	return values[n / 2];
}

static void print_ratio(struct arena *arena, const struct times *times, size_t n)
{
	double *floors = arena_alloc(arena, n * sizeof *floors);
	double *wholes = arena_alloc(arena, n * sizeof *wholes);
	double *ratios = arena_alloc(arena, n * sizeof *ratios);
	for (size_t i = 0; i < n; i++) {
		floors[i] = times[i].floor;
		wholes[i] = times[i].whole;
		ratios[i] = times[i].whole / times[i].floor;
	}
	double floor = median(floors, n);
	double whole = median(wholes, n);
	double ratio = median(ratios, n); /* now in order */
	printf("  floor: paint and finish    %7.2f ms     1.00   (%.0f a second)\n", floor, 1e3 / floor);
	printf("  whole packet               %7.2f ms  %7.2f   (%.0f a second; middle half of the ratios %.2f to "
	       "%.2f)\n",
	       whole, ratio, 1e3 / whole, ratios[n / 4], ratios[3 * n / 4]);
}

static void print_stages(struct arena *arena, const struct times *times, size_t n)
{
	double medians[N_STAGES];
	double sum = 0;
	for (int stage = 0; stage < N_STAGES; stage++) {
		double *values = arena_alloc(arena, n * sizeof *values);
		for (size_t i = 0; i < n; i++)
			values[i] = times[i].stages[stage];
		medians[stage] = median(values, n);
		sum += medians[stage];
	}
	printf("where the time of a whole packet goes\n");
	for (int stage = 0; stage < N_STAGES; stage++)
		printf("  %-27s%7.2f ms  %6.1f %%\n", stage_names[stage], medians[stage], 100 * medians[stage] / sum);
}

static void measure(struct bench *bench, struct typesetter *beforehand, struct typesetter *each)
{
	struct arena *scratch = arena_new();
	size_t all = intake_count(bench->intake);
	struct made *made = arena_alloc(bench->arena, all * sizeof *made);
	struct times *times = arena_alloc(bench->arena, all * sizeof *times);
	bool *good = arena_alloc(bench->arena, all * sizeof *good);
	size_t n = 0;
	size_t pages = 0;
	for (size_t i = 0; i < all; i++)
		good[i] = compose_beforehand(bench, beforehand, i, &made[i]);
	for (size_t i = 0; i < all; i++) {
		if (!good[i])
			continue;
		size_t of_floor = run_floor(&made[i], &times[n]);
		size_t of_whole = run_whole(bench, scratch, each, i, &times[n]);
		if (of_floor != of_whole) {
			fputs("floor and whole made different files\n", stderr);
			exit(1);
		}
		pages += made[i].packet->n;
		n++;
	}
	if (n <= 2 * WARM_UP) {
		fputs("too few packets to tell anything\n", stderr);
		exit(1);
	}
	printf("%zu interleaved packets, %.1f pages each, one process, no disk; the processor's time, medians\n",
	       n - WARM_UP, (double)pages / (double)n);
	print_ratio(bench->arena, times + WARM_UP, n - WARM_UP);
	print_stages(bench->arena, times + WARM_UP, n - WARM_UP);
	for (size_t i = 0; i < all; i++) {
		made[i].typesetter = NULL;
		made_free(&made[i]);
	}
	arena_free(scratch);
}

int main(int argc, char **argv)
{
	if (argc != 5) {
		fputs("bench_packets INTAKE MAP DAY SCRATCH-FOLDER\n", stderr);
		return 2;
	}
	struct bench bench = {.arena = arena_new()};
	bench.findings = findings_in(bench.arena);
	enum load_status status = LOAD_GOOD;
	double since = milliseconds();
	bench.clinic = load_clinic(bench.arena, "samples", ".", &bench.findings, &status);
	double load = lap(&since);
	const struct intake_options from = {.path = argv[1], .map = argv[2], .as_of = argv[3], .folder = argv[4]};
	if (bench.clinic != NULL)
		bench.intake = intake_open(bench.arena, bench.clinic, &from, &bench.findings, &status);
	if (bench.intake == NULL)
		give_up(&bench.findings);
	struct typesetter *beforehand = typesetter_new("fonts", &bench.findings);
	struct typesetter *each = typesetter_new("fonts", &bench.findings);
	if (beforehand == NULL || each == NULL)
		give_up(&bench.findings);
	measure(&bench, beforehand, each);
	printf("once a run: load the clinic  %5.1f ms\n", load);
	typesetter_free(each);
	typesetter_free(beforehand);
	intake_free(bench.intake);
	arena_free(bench.arena);
	return 0;
}
