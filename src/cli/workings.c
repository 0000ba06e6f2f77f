/*
 * workings.c - every figure of a plan with how it came about, to read or as JSON.
 */
#include "cli/commands.h"

#include <stdio.h>
#include <string.h>

static const struct check_sheet *check_sheet(const struct handout *handout)
{
	for (size_t i = 0; i < handout->n_sections; i++)
		if (handout->sections[i].kind == SECTION_CHECK)
			return handout->sections[i].check;
	return NULL;
}

static void print_formula(const struct check_row *row)
{
	fputs("   ", stdout);
	for (size_t i = 0; i < row->n_formula; i++) {
		const struct formula_piece *piece = &row->formula[i];
		if (piece->under != NULL)
			printf(" %s / %s", piece->text, piece->under);
		else
			printf(" %s", piece->text);
	}
	putchar('\n');
}

static void print_rows(struct session *session, const struct check_sheet *sheet)
{
	for (size_t i = 0; i < sheet->n_rows; i++) {
		const struct check_row *row = &sheet->rows[i];
		const char *mark = row->mark.number != NULL ? mark_words_plain(session->run, row->mark) : row->result;
		if (*row->detail == '\0')
			printf("%s: %s\n", row->name, mark == NULL ? "" : mark);
		else
			printf("%s (%s): %s\n", row->name, row->detail, mark == NULL ? "" : mark);
		print_formula(row);
		for (size_t j = 0; j < row->n_notes; j++)
			printf("    %s\n", row->notes[j]);
	}
}

static void print_doses(struct session *session, const struct made *made)
{
	for (size_t i = 0; i < made->course->n_doses; i++) {
		const struct dose *dose = made->course->by_time[i];
		const char *when = dose->open ? arena_printf(session->run, "day %lld", (long long)dose->day)
		                              : date_print(session->run, dose->clock_date);
		printf("%-12s %-6s %-20s %s", when, dose->has_time ? clock_print(session->run, dose->time) : "",
		       dose->item->medicine->name,
		       dose->amount == DOSE_BY_CALL ? "" : say_amount(made->staff, dose->ordered));
		for (size_t j = 0; j < dose->n_draws; j++) {
			struct mark_words mark = say_mark(made->staff, &dose->draws[j]);
			if (mark.number != NULL)
				printf("  [%s]", mark_words_plain(session->run, mark));
		}
		putchar('\n');
	}
}

static void print_workings(struct session *session, struct made *made)
{
	if (!session_handout(session, made))
		return;
	printf("%s  %s  %s\n\n", made->plan->id, made->record->code, made->record->is_signed ? "signed" : "DRAFT");
	print_doses(session, made);
	putchar('\n');
	const struct check_sheet *sheet = check_sheet(made->handout);
	if (sheet != NULL)
		print_rows(session, sheet);
}

/* A program that reads the object finds in it why there is nothing. */
static void print_refused(struct session *session, const char *path, const struct made *made)
{
	const char *slash = strrchr(path, '/');
	const char *name = slash == NULL ? path : slash + 1;
	const char *plan = made->plan != NULL ? made->plan->id : name;
	findings_sort(&session->findings);
	fputs(refused_workings_json(session->patient, plan, &session->findings), stdout);
}

enum exit_code command_workings(struct session *session)
{
	const struct options *options = session->options;
	int ways = options->json + options->blind + (options->compare != NULL);
	if (options->n_operands != 1 || ways > 1 || options->blind != (options->output != NULL))
		return usage_fault("'workings' takes one plan: fillmark workings PLAN [--json | --blind -o FILE.pdf | "
		                   "--compare ANSWERS.csv]");
	struct made made = {.clinic = NULL};
	if (!session_record(session, options->operands[0], &made)) {
		if (options->json)
			print_refused(session, options->operands[0], &made);
	} else {
		if (options->json)
			fputs(record_workings_json(session->patient, made.record), stdout);
		else if (options->blind)
			write_blind_sheet(session, &made);
		else if (options->compare != NULL)
			compare_answers(session, &made);
		else
			print_workings(session, &made);
	}
	made_free(&made);
	return session_report(session);
}
