/*
 * batch.c - many patients at once: the command line of a run, and what is said while it goes on.
 */
#include "batch/batch.h"

#include "cli/commands.h"
#include "load/intake.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

enum { ROWS_EXPLAINED = 5, MOST_JOBS = 256, MOST_SHARDS = 100000 };

static const struct clinic *clinic_of_batch(struct session *session)
{
	return session_clinic(session, session->options->map);
}

static enum exit_code explain(struct session *session)
{
	const struct options *options = session->options;
	const struct clinic *clinic = clinic_of_batch(session);
	const struct intake_options from = {.path = options->operands[0],
	                                    .map = options->map,
	                                    .as_of = options->as_of,
	                                    .folder = session_temporary(),
	                                    .explain = true};
	enum load_status status = LOAD_GOOD;
	struct intake *intake =
		clinic == NULL ? NULL : intake_open(session->run, clinic, &from, &session->findings, &status);
	session->failed = session->failed || status == LOAD_FAILED;
	if (intake != NULL)
		fputs(intake_explain(intake, session->patient, ROWS_EXPLAINED), stdout);
	intake_free(intake);
	return session_report(session);
}

/* ---- stopping ---- */

static volatile sig_atomic_t stop_asked;

static void ask_to_stop(int signal_number)
{
	(void)signal_number;
	stop_asked = 1;
}

static bool stopped(void *self)
{
	(void)self;
	return stop_asked != 0;
}

/* The second Ctrl-C ends the program at once; what is on the disk by then is whole all the same. */
static void catch_signals(void)
{
	struct sigaction action = {.sa_handler = ask_to_stop, .sa_flags = (int)SA_RESETHAND};
	sigemptyset(&action.sa_mask);
	sigaction(SIGINT, &action, NULL);
	sigaction(SIGTERM, &action, NULL);
	sigaction(SIGHUP, &action, NULL);
}

/* ---- progress ---- */

static const double seconds_between_lines = 30;

struct telling {
	bool quiet;
	bool terminal;
	bool line_open; /* on the terminal, to be written over */
	double began;
	double said;
	size_t done_before; /* by an earlier run */
	bool begun;
};

static double now(void)
{
	struct timespec time;
	clock_gettime(CLOCK_MONOTONIC, &time);
	return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

static void close_line(struct telling *telling)
{
	if (telling->line_open)
		fputs("\r\033[K", stderr);
	telling->line_open = false;
}

static void say_time_left(double rate, size_t left)
{
	double seconds = (double)left / rate;
	if (seconds < 90)
		fprintf(stderr, ", %.0f s left", seconds);
	else
		fprintf(stderr, ", %.0f min left", seconds / 60);
}

static void say_progress(struct telling *telling, size_t done, size_t refused, size_t all)
{
	double passed = telling->said - telling->began;
	double rate = passed > 0 ? (double)(done - telling->done_before) / passed : 0;
	fprintf(stderr, "%zu of %zu done, %zu refused", done, all, refused);
	if (rate > 0) {
		fprintf(stderr, ", %.1f a second", rate);
		say_time_left(rate, all - done);
	}
}

/* On a terminal one line that changes; in a log a line now and then. */
static void progress(void *self, size_t done, size_t refused, size_t all)
{
	struct telling *telling = self;
	double time = now();
	if (!telling->begun) {
		telling->begun = true;
		telling->began = telling->said = time;
		telling->done_before = done;
		return;
	}
	if (telling->quiet || (!telling->terminal && time - telling->said < seconds_between_lines))
		return;
	telling->said = time;
	close_line(telling);
	say_progress(telling, done, refused, all);
	if (!telling->terminal)
		putc('\n', stderr);
	telling->line_open = telling->terminal;
	fflush(stderr);
}

/* Nothing of a patient but row and record; the reasons are in refused.csv. */
static void refused(void *self, const char *rows, const char *record, const char *code, size_t n_reasons)
{
	struct telling *telling = self;
	if (telling->quiet)
		return;
	close_line(telling);
	bool one = strchr(rows, ' ') == NULL;
	fprintf(stderr, "%s %s", one ? "row" : "rows", rows);
	if (*record != '\0')
		fprintf(stderr, ", record '%s'", record);
	fprintf(stderr, ": refused [%s]", code);
	if (n_reasons > 1)
		fprintf(stderr, " and %zu more reasons", n_reasons - 1);
	putc('\n', stderr);
}

/* ---- the command line ---- */

static bool number_of(const char *text, unsigned most, unsigned *number)
{
	size_t digits = strspn(text, "0123456789");
	if (digits == 0 || digits > 6 || text[digits] != '\0')
		return false;
	*number = (unsigned)strtoul(text, NULL, 10);
	return *number >= 1 && *number <= most;
}

static bool read_shard(struct arena *arena, const char *text, struct batch_options *batch)
{
	const char *stroke = strchr(text, '/');
	return stroke != NULL && number_of(stroke + 1, MOST_SHARDS, &batch->shards) &&
	       number_of(arena_strndup(arena, text, (size_t)(stroke - text)), batch->shards, &batch->shard);
}

static unsigned processors(void)
{
	long n = sysconf(_SC_NPROCESSORS_ONLN);
	return n < 1 ? 1 : n > MOST_JOBS ? MOST_JOBS : (unsigned)n;
}

/* NULL, or what is wrong with the options. */
static const char *read_options(struct session *session, struct batch_options *batch)
{
	const struct options *options = session->options;
	unsigned jobs = processors();
	if (options->out == NULL || *options->out == '\0')
		return "'batch' needs a folder to write to: --out DIR";
	if (options->jobs != NULL && !number_of(options->jobs, MOST_JOBS, &jobs))
		return "--jobs takes a number from 1 to 256";
	if (options->shard != NULL && !read_shard(session->run, options->shard, batch))
		return "--shard takes which of how many, as in 3/16";
	if (options->name_by != NULL && strcmp(options->name_by, "code") != 0)
		return "--name-by takes 'code'";
	if (options->print_run && options->shard != NULL)
		return "--print-run puts all packets in order, so it does not go with --shard";
	batch->intake = options->operands[0];
	batch->map = options->map;
	batch->out = options->out;
	batch->data_folder = session->data_folder;
	batch->as_of = options->as_of;
	batch->previous = options->previous;
	batch->jobs = (int)jobs;
	batch->print_run = options->print_run;
	batch->resume = options->resume;
	batch->name_by_code = options->name_by != NULL;
	batch->no_register = options->no_register;
	batch->mono = options->mono;
	return NULL;
}

static enum exit_code say_end(struct session *session, enum batch_end end, const struct batch_count *count)
{
	session_report(session);
	switch (end) {
	case BATCH_DONE:
		break;
	case BATCH_REFUSED:
		return EXIT_NOTHING_MADE;
	case BATCH_STOPPED:
		fprintf(stderr, "fillmark: stopped; the same command with --resume goes on\n");
		return EXIT_SYSTEM;
	case BATCH_FAILED:
		return EXIT_SYSTEM;
	}
	if (count->rows > 0)
		printf("%zu rows are nobody's and were refused by themselves\n", count->rows);
	if (count->vanished > 0)
		printf("%zu patients of the earlier run are not in this intake; vanished.csv lists them for a call\n",
		       count->vanished);
	printf("%zu patients = %zu packets + %zu unchanged + %zu refused\n", count->patients, count->packets,
	       count->unchanged, count->refused);
	if (count->packets + count->unchanged == 0)
		return EXIT_NOTHING_MADE;
	return count->refused + count->rows > 0 ? EXIT_REFUSED : EXIT_ALL_MADE;
}

static enum exit_code run_batch(struct session *session)
{
	struct batch_options batch = {.jobs = 1};
	const char *why = read_options(session, &batch);
	if (why != NULL)
		return usage_fault(why);
	const struct clinic *clinic = clinic_of_batch(session);
	if (clinic == NULL) {
		enum exit_code code = session_report(session);
		return code == EXIT_SYSTEM ? code : EXIT_NOTHING_MADE;
	}
	struct telling telling = {.quiet = session->options->quiet, .terminal = isatty(STDERR_FILENO) == 1};
	const struct batch_listener listener = {
		.self = &telling, .progress = progress, .refused = refused, .stopped = stopped};
	struct batch_count count;
	catch_signals();
	enum batch_end end =
		batch_run(session->run, session->patient, clinic, &batch, &listener, &count, &session->findings);
	close_line(&telling);
	return say_end(session, end, &count);
}

enum exit_code command_batch(struct session *session)
{
	const struct options *options = session->options;
	if (options->n_operands != 1 || options->map == NULL)
		return usage_fault("'batch' takes an intake and its map: fillmark batch INTAKE --map FILE --out DIR");
	return options->explain_map ? explain(session) : run_batch(session);
}
