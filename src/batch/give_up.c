#include "batch/run.h"

/*
 * The program died of this patient twice: a fault of ours, but the others are
 * not to wait for it. It may have died of the patient's rows, so they are not
 * read in this process: another worker is asked whose they are. Where it dies
 * too, the rows alone say who is meant.
 */
struct asking {
	struct run *run;
	size_t number;
	bool asked;
	struct outcome *answer; /* its record is NULL as long as nobody said it */
};

static bool next_question(void *self, size_t *number)
{
	struct asking *asking = self;
	*number = asking->number;
	bool first = !asking->asked;
	asking->asked = true;
	return first;
}

static const char *read_record(void *self, size_t number)
{
	const struct asking *asking = self;
	struct run *run = asking->run;
	struct intake_patient patient = {.record = NULL};
	arena_reset(run->patient);
	struct findings unsaid = findings_in(run->patient);
	bool read = intake_read(run->intake, run->patient, number, &patient, &unsaid);
	const struct outcome outcome = {.number = number,
	                                .kind = read && patient.record == NULL ? OUTCOME_ROW : OUTCOME_REFUSED,
	                                .record = patient.record};
	return outcome_line(run->patient, &outcome);
}

static bool take_record(void *self, size_t number, const char *line, size_t length)
{
	struct asking *asking = self;
	(void)number;
	if (line != NULL)
		outcome_read(asking->run->patient, line, length, asking->answer);
	return true;
}

static bool go_on(void *self)
{
	(void)self;
	return true;
}

const char run_worker_died[] = "worker-died";

bool run_give_up(struct run *run, size_t number, struct outcome *outcome)
{
	size_t n;
	const struct index_piece *pieces = intake_index_group(run->intake->index, number, &n);
	*outcome = (struct outcome){.number = number, .kind = OUTCOME_REFUSED};
	struct asking asking = {.run = run, .number = number, .answer = outcome};
	const struct workers_task task = {
		.self = &asking, .next = next_question, .work = read_record, .done = take_record, .beat = go_on};
	workers_run(&task, 1); /* where none can be started, nobody says the record */
	outcome->rows = run_rows(run->patient, pieces, n);
	struct findings findings = findings_in(run->patient);
	findings_add(
		&findings, FINDING_STOP, run_worker_died, (struct place){.file = NULL},
		"the program failed twice at this patient; make this sheet from a plan's file, and report the fault");
	outcome_refuse(run->patient, outcome, &findings, NULL, pieces[0].row, NULL);
	if (outcome->record == NULL)
		outcome->record = ""; /* nobody said it: the rows alone say who is meant */
	if (*outcome->record == '\0')
		return true;
	return run_last_sheet(run, run->patient, outcome->record, &outcome->sheet);
}
