#include "batch/batch.h"

#include "batch/run.h"
#include "batch/run_file.h"
#include "batch/workers.h"

#include <errno.h>
#include <string.h>

enum { WARM_TRIES = 20 };

/* ---- opening ---- */

static bool open_fonts(struct run *run)
{
	const char *fonts = arena_printf(run->arena, "%s/fonts", run->options->data_folder);
	run->typesetter = typesetter_new(fonts, run->findings);
	return run->typesetter != NULL;
}

static enum batch_end open_inputs(struct run *run)
{
	const struct batch_options *options = run->options;
	enum load_status status = LOAD_GOOD;
	const struct intake_options from = {
		.path = options->intake, .map = options->map, .as_of = options->as_of, .folder = options->out};
	run->intake = intake_open(run->arena, run->clinic, &from, run->findings, &status);
	if (run->intake != NULL && options->previous != NULL)
		run->previous = previous_open(run->arena, options->previous, options->out, run->findings, &status);
	if (status == LOAD_FAILED)
		return BATCH_FAILED;
	return status == LOAD_GOOD ? BATCH_DONE : BATCH_REFUSED;
}

/* The folder is this run's, or goes on being it. */
static bool claim_folder(struct run *run)
{
	const struct batch_options *options = run->options;
	const struct run_inputs inputs = {.intake = options->intake,
	                                  .map = options->map,
	                                  .clinic = run->clinic->folder,
	                                  .data = options->data_folder,
	                                  .previous = options->previous,
	                                  .as_of = options->as_of,
	                                  .mono = options->mono,
	                                  .print_run = options->print_run,
	                                  .name_by_code = options->name_by_code,
	                                  .shard = options->shard,
	                                  .shards = options->shards};
	const char *text = run_file_text(run->arena, &inputs, run->findings);
	if (text == NULL)
		return false;
	bool good = run->folder.fresh ? run_file_write(run->arena, &run->folder, text, run->findings)
	                              : run_file_same(run->arena, &run->folder, text, run->findings);
	if (!good || !out_folder_make_parts(run->arena, &run->folder, run->findings))
		return false;
	run->journal = journal_open(run->arena, &run->folder, intake_count(run->intake), run->findings);
	return run->journal != NULL;
}

/* ---- going on ---- */

/* False where a file that the journal names is gone, or is another one. */
static bool is_kept(struct run *run, const char *name, const char *sha256)
{
	if (name == NULL || *name == '\0')
		return true;
	const char *digest = out_digest(run->patient, out_path(run->patient, &run->folder, name));
	return digest != NULL && (*sha256 == '\0' || strcmp(digest, sha256) == 0);
}

/* A packet or plan that is not as the journal says is made again. */
static void check_kept(struct run *run)
{
	for (size_t number = 0; number < intake_count(run->intake); number++) {
		struct outcome outcome;
		arena_reset(run->patient);
		if (!journal_get(run->journal, run->patient, number, &outcome))
			continue;
		if (!is_kept(run, outcome.sheet.plan, outcome.sheet.plan_sha256) ||
		    !is_kept(run, outcome.file, outcome.sha256))
			journal_drop(run->journal, number);
	}
}

/* The first packet warms fonts and tables up, for every worker that is forked from here. */
static void warm_up(struct run *run)
{
	bool good = false;
	for (size_t number = 0; !good && number < intake_count(run->intake) && number < WARM_TRIES; number++) {
		if (!run_has(run, number) || journal_has(run->journal, number))
			continue;
		struct made made;
		arena_reset(run->patient);
		good = run_compose(run, run->patient, number, &made);
		made.typesetter = NULL;
		made_free(&made);
		typesetter_reset(run->typesetter);
	}
}

/* ---- the work ---- */

struct working {
	struct run *run;
	const struct batch_listener *listener;
	size_t next;
	size_t all;
	size_t done;
	size_t refused;
	bool failed;
};

static bool next_number(void *self, size_t *number)
{
	struct working *working = self;
	size_t n = intake_count(working->run->intake);
	while (working->next < n &&
	       (journal_has(working->run->journal, working->next) || !run_has(working->run, working->next)))
		working->next++;
	*number = working->next;
	return working->next++ < n;
}

static const char *work(void *self, size_t number)
{
	struct working *working = self;
	struct outcome outcome;
	run_one(working->run, number, &outcome);
	return outcome_line(working->run->patient, &outcome);
}

static void tell_refused(const struct working *working, const struct outcome *outcome)
{
	if (outcome->n_reasons > 0)
		working->listener->refused(working->listener->self, outcome->rows, outcome->record,
		                           outcome->reasons[0].code, outcome->n_reasons);
}

static bool take_line(void *self, size_t number, const char *line, size_t length)
{
	struct working *working = self;
	struct run *run = working->run;
	struct outcome outcome;
	arena_reset(run->patient);
	if (line == NULL || !outcome_read(run->patient, line, length, &outcome))
		if (!run_give_up(run, number, &outcome)) {
			working->failed = true;
			return run_failed(run, run->folder.path);
		}
	if (outcome.kind == OUTCOME_FAILED) {
		working->failed = true;
		findings_add(run->findings, FINDING_STOP, "batch-failed", (struct place){.file = NULL},
		             "the run stopped: %s; once that is mended, go on with --resume", outcome.failure);
		return false;
	}
	if (!journal_add(run->journal, run->patient, &outcome)) {
		working->failed = true;
		return run_failed(run, run->folder.path);
	}
	working->done++;
	if (outcome.kind == OUTCOME_REFUSED || outcome.kind == OUTCOME_ROW) {
		working->refused++;
		tell_refused(working, &outcome);
	}
	return true;
}

static bool beat(void *self)
{
	struct working *working = self;
	const struct batch_listener *listener = working->listener;
	listener->progress(listener->self, working->done, working->refused, working->all);
	return !listener->stopped(listener->self);
}

static void count_work(struct working *working)
{
	const struct run *run = working->run;
	for (size_t number = 0; number < intake_count(run->intake); number++) {
		bool mine = run_has(run, number);
		working->all += mine;
		working->done += mine && journal_has(run->journal, number);
	}
}

enum batch_end run_in_workers(struct run *run, const struct workers_task *task)
{
	switch (workers_run(task, run->options->jobs)) {
	case WORKERS_DONE:
		return BATCH_DONE;
	case WORKERS_STOPPED:
		return BATCH_STOPPED;
	case WORKERS_FAILED:
		break;
	}
	findings_add(run->findings, FINDING_STOP, "batch-failed", (struct place){.file = NULL},
	             "the run stopped: no worker could be started: %s; once that is mended, go on with --resume",
	             strerror(errno));
	return BATCH_FAILED;
}

static enum batch_end make_all(struct run *run, const struct batch_listener *listener)
{
	struct working working = {.run = run, .listener = listener};
	const struct workers_task task = {
		.self = &working, .next = next_number, .work = work, .done = take_line, .beat = beat};
	count_work(&working);
	enum batch_end end = run_in_workers(run, &task);
	return working.failed ? BATCH_FAILED : end;
}

static enum batch_end finish(struct run *run, const struct batch_listener *listener, struct batch_count *count)
{
	if (!run_refuse_same_codes(run) || !run_sweep_unnamed(run) || !run_write_tables(run, count))
		return BATCH_FAILED;
	if (run->options->print_run) {
		enum batch_end end = run_print(run, listener);
		if (end != BATCH_DONE)
			return end;
	}
	if (!run->options->no_register && !run_write_register(run))
		return BATCH_FAILED;
	if (journal_sort(run->journal, run->arena, &run->folder))
		return BATCH_DONE;
	run_failed(run, run->folder.path);
	return BATCH_FAILED;
}

static enum batch_end work_in_folder(struct run *run, const struct batch_listener *listener, struct batch_count *count)
{
	enum batch_end end = open_inputs(run);
	if (end != BATCH_DONE)
		return end;
	if (!open_fonts(run) || !claim_folder(run))
		return BATCH_FAILED;
	run_sweep_cut_off(run);
	check_kept(run);
	warm_up(run);
	end = make_all(run, listener);
	return end == BATCH_DONE ? finish(run, listener, count) : end;
}

enum batch_end batch_run(struct arena *run_arena, struct arena *patient, const struct clinic *clinic,
                         const struct batch_options *options, const struct batch_listener *listener,
                         struct batch_count *count, struct findings *findings)
{
	struct run run = {
		.arena = run_arena, .patient = patient, .clinic = clinic, .options = options, .findings = findings};
	*count = (struct batch_count){.patients = 0};
	enum batch_end end = BATCH_FAILED;
	if (out_folder_open(run_arena, options->out, options->resume, &run.folder, findings))
		end = work_in_folder(&run, listener, count);
	journal_free(run.journal);
	previous_free(run.previous);
	intake_free(run.intake);
	typesetter_free(run.typesetter);
	out_folder_close(&run.folder);
	return end;
}
