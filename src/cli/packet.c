/*
 * packet.c - one patient's packet, whole or not at all; and the check that writes nothing.
 */
#include "base/heap.h"
#include "batch/joined.h"
#include "cli/commands.h"
#include "cli/save.h"
#include "record/signing.h"

#include <stdio.h>
#include <string.h>

/* What a packet takes, or a little more. */
#define HEAP ((size_t)16 * 1024 * 1024)

enum exit_code command_packet(struct session *session)
{
	const struct options *options = session->options;
	if (options->n_operands != 1)
		return usage_fault("'packet' takes one plan: fillmark packet PLAN [-o FILE.pdf] [--mono]");
	if (options->output != NULL && (*options->output == '\0' || strcmp(options->output, "-") == 0))
		return usage_fault("-o for 'packet' takes a file's name: fillmark packet PLAN -o FILE.pdf");
	struct made made = {.clinic = NULL};
	heap_expect(HEAP);
	session->worker = worker_new();
	session->leaves = MAY_LEAVE;
	if (session_record_alone(session, options->operands[0], &made) && session_handout(session, &made) &&
	    session_packet(session, &made)) {
		const char *path =
			options->output != NULL ? options->output : arena_printf(session->run, "%s.pdf", made.plan->id);
		save_packet(session, &made, path, made.packet->pages, made.packet->n);
		if (!session->failed && !options->quiet)
			printf("%s: %zu pages, %s, %s\n", path, made.packet->n, made.record->code,
			       made.record->is_signed ? "signed" : "DRAFT");
	}
	enum exit_code code = session_report(session);
	if (session->leaves)
		session_leave(code);
	session_end(session);
	made_free(&made);
	return code;
}

/* A clinic's folder, or a plan as far as a packet that is not written. */
static void check_path(struct session *session, const char *path)
{
	struct made made = {.clinic = NULL};
	if (path_is_folder(path)) {
		const struct clinic *clinic = session_folder(session, path);
		if (clinic != NULL)
			clinic_all_signed(clinic, &session->findings);
	} else if (session_record(session, path, &made) && session_handout(session, &made)) {
		session_packet(session, &made);
	}
	made_free(&made);
}

/* Finished runs, or the shards of one: what they come to together, and what keeps them from being handed out. */
static void check_runs(struct session *session, const char *const *paths, size_t n)
{
	struct batch_count count = {.patients = 0};
	if (!joined_check(session->run, session->patient, paths, n, session_temporary(), &count, &session->findings))
		session->failed = true;
	else if (!findings_stop(&session->findings) && !session->options->quiet)
		printf("%zu patients = %zu packets + %zu unchanged + %zu refused\n", count.patients, count.packets,
		       count.unchanged, count.refused);
}

enum exit_code command_check(struct session *session)
{
	const struct options *options = session->options;
	if (options->n_operands == 0)
		return usage_fault(
			"'check' takes a clinic's folder, plans, or folders of runs: fillmark check PATH...");
	const char **runs = arena_alloc(session->run, options->n_operands * sizeof *runs);
	size_t n = 0;
	for (size_t i = 0; i < options->n_operands; i++)
		if (joined_is_run(session->run, options->operands[i]))
			runs[n++] = options->operands[i];
		else
			check_path(session, options->operands[i]);
	if (n > 0)
		check_runs(session, runs, n);
	return session_report(session);
}
