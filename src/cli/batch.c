/*
 * batch.c - many patients at once: the command line of a run, and what is said while it goes on.
 */
#include "cli/commands.h"
#include "load/intake.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ROWS_EXPLAINED = 5 };

static const struct clinic *clinic_of_batch(struct session *session)
{
	return session_clinic(session, session->options->map);
}

static enum exit_code explain(struct session *session)
{
	const struct options *options = session->options;
	const struct clinic *clinic = clinic_of_batch(session);
	const char *folder = getenv("TMPDIR");
	const struct intake_options from = {.path = options->operands[0],
	                                    .map = options->map,
	                                    .as_of = options->as_of,
	                                    .folder = folder != NULL && *folder != '\0' ? folder : "/tmp",
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

enum exit_code command_batch(struct session *session)
{
	const struct options *options = session->options;
	if (options->n_operands != 1 || options->map == NULL)
		return usage_fault("'batch' takes an intake and its map: fillmark batch INTAKE --map FILE --out DIR");
	return explain(session);
}
