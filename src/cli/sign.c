/*
 * sign.c - a person signs what an entry means now.
 */
#include "cli/commands.h"
#include "load/signatures.h"

#include <stdio.h>
#include <string.h>
#include <time.h>

/* Signing happens on a day; this is the only clock the program reads. */
static const char *today(struct arena *arena)
{
	time_t now = time(NULL);
	struct tm local;
	if (localtime_r(&now, &local) == NULL)
		return "1970-01-01";
	return arena_printf(arena, "%04d-%02d-%02d", local.tm_year + 1900, local.tm_mon + 1, local.tm_mday);
}

struct signing_list {
	struct seal *seals;
	size_t n;
};

static void add_seal(struct session *session, struct signing_list *list, const struct clinic *clinic,
                     const struct seal *seal, const char *who)
{
	if (seal_signed(clinic, seal, who))
		return;
	list->seals = arena_more(session->run, list->seals, list->n, sizeof *list->seals);
	list->seals[list->n++] = *seal;
}

/* All entries of the clinic, or those of one id. */
static bool list_clinic(struct session *session, const struct clinic *clinic, const char *id, const char *who,
                        struct signing_list *list)
{
	bool found = id == NULL;
	for (size_t i = 0; i < clinic->n_seals; i++) {
		if (id != NULL && strcmp(clinic->seals[i].id, id) != 0)
			continue;
		found = true;
		add_seal(session, list, clinic, &clinic->seals[i], id == NULL ? NULL : who);
	}
	if (!found)
		findings_add(&session->findings, FINDING_STOP, "unknown-entry", clinic->place,
		             "there is no entry '%s' to sign; name clinic.yaml, a medicine, syringe, protocol, "
		             "language or stand-in",
		             id);
	return found;
}

enum exit_code command_sign(struct session *session)
{
	const struct options *options = session->options;
	if (options->n_operands < 1 || options->n_operands > 2 || options->by == NULL)
		return usage_fault("'sign' takes a clinic's folder or a plan, and who signs: fillmark sign CLINIC|PLAN "
		                   "[ID] --by WHO");
	const char *path = options->operands[0];
	if (options->n_operands == 2 && !path_is_folder(path))
		return usage_fault("an ID goes with a clinic's folder; a plan is signed as a whole");
	const char *who = signer_name(session->run, options->by, &session->findings);
	struct signing_list list = {.n = 0};
	struct made made = {.clinic = NULL};
	const struct clinic *clinic = NULL;
	if (who != NULL && path_is_folder(path)) {
		clinic = session_folder(session, path);
		if (clinic != NULL)
			list_clinic(session, clinic, options->n_operands == 2 ? options->operands[1] : NULL, who,
			            &list);
	} else if (who != NULL && session_record(session, path, &made)) {
		struct seal seal = plan_seal(made.plan);
		clinic = made.clinic;
		session->findings.n = 0; /* that it is not signed yet is no news here */
		add_seal(session, &list, clinic, &seal, who);
	}
	if (list.n > 0 && !findings_stop(&session->findings))
		session->failed = !signatures_append(session->run, clinic->folder, list.seals, list.n, who,
		                                     today(session->run), &session->findings) ||
		                  session->failed;
	if (!session->failed && !findings_stop(&session->findings) && !options->quiet)
		printf("%zu signed by %s\n", list.n, who);
	made_free(&made);
	return session_report(session);
}
