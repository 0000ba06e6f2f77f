/*
 * blind.c - the second check: a sheet of inputs and blanks, and what a person wrote compared with what was worked out.
 */
#include "cli/commands.h"
#include "cli/save.h"
#include "load/answers.h"

#include <stdio.h>
#include <strings.h>

/* The staff's handout of the blind sheet; the answers come apart from it. */
static bool make_blind(struct session *session, struct made *made, struct blind_answers *answers)
{
	made->staff = speaker_new(session->patient, made->clinic, made->clinic->languages[0], &session->findings);
	if (made->staff == NULL)
		return false;
	struct handout_options options = {.language = made->clinic->languages[0], .paper = made->plan->paper};
	made->handout =
		blind_handout_of(session->patient, made->record, options, made->staff, answers, &session->findings);
	return !findings_stop(&session->findings);
}

void write_blind_sheet(struct session *session, struct made *made)
{
	struct blind_answers answers;
	if (!make_blind(session, made, &answers) || !session_packet(session, made))
		return;
	struct drawing_options options = {.title = say0(made->staff, "blind.title"),
	                                  .language = made->handout->language};
	save_pages(session, session->options->output, DRAWING_PDF, &options, made->packet->pages, made->packet->n);
}

/* ---- comparing ---- */

static const struct written_answer *written_for(const struct written_answers *written, const char *name)
{
	for (size_t i = 0; i < written->n; i++)
		if (strcasecmp(written->list[i].blank, name) == 0)
			return &written->list[i];
	return NULL;
}

/* A number has the clinic's decimal mark, as the sheet has; with a unit only its own: '20 mL' is not line 20. */
static bool same_number(struct session *session, const char *text, enum decimal_mark mark, struct rational wanted,
                        enum unit unit)
{
	struct rational number;
	struct quantity quantity;
	struct quantity_fault fault;
	if (number_read(session->run, text, mark, &number, &fault))
		return rational_compare(number, wanted) == 0;
	return quantity_read(session->run, text, mark, &quantity, &fault) && unit_converts(quantity.unit, unit) &&
	       quantity_in(quantity, unit, &quantity) && rational_compare(quantity.number, wanted) == 0;
}

static bool agrees(struct session *session, const struct blind_answer *answer, enum decimal_mark mark, const char *text)
{
	struct clock_time clock;
	switch (answer->kind) {
	case ANSWER_NUMBER:
		return same_number(session, text, mark, answer->number, answer->unit);
	case ANSWER_CLOCK:
		return clock_read(text, &clock) && clock_compare(clock, answer->clock) == 0;
	case ANSWER_WEEKDAY:
	case ANSWER_ALL:
		break;
	}
	return strcasecmp(text, answer->text) == 0;
}

/* What the right answer is stays unsaid: both work it out again. */
static void compare_one(struct session *session, const struct blind_answer *answer, enum decimal_mark mark,
                        const struct written_answers *written)
{
	const struct written_answer *given = written_for(written, answer->name);
	if (given == NULL)
		findings_add(&session->findings, FINDING_STOP, "answer-missing", (struct place){.file = NULL},
		             "blank %s (%s) has no answer", answer->name, answer->asks);
	else if (!agrees(session, answer, mark, given->text))
		findings_add(&session->findings, FINDING_STOP, "answer-differs", given->place,
		             "'%s' for blank %s (%s) differs from what was worked out; call whoever did, and start "
		             "again together",
		             given->text, answer->name, answer->asks);
}

static bool is_a_blank(const struct blind_answers *answers, const char *name)
{
	for (size_t i = 0; i < answers->n; i++)
		if (strcasecmp(answers->list[i].name, name) == 0)
			return true;
	return false;
}

static void check_names(struct session *session, const struct blind_answers *answers,
                        const struct written_answers *written)
{
	for (size_t i = 0; i < written->n; i++) {
		const struct written_answer *one = &written->list[i];
		if (!is_a_blank(answers, one->blank))
			findings_add(&session->findings, FINDING_STOP, "unknown-blank", one->place,
			             "there is no blank '%s' on this plan's second check", one->blank);
		else if (written_for(written, one->blank) != one)
			findings_add(&session->findings, FINDING_STOP, "duplicate-answer", one->place,
			             "blank %s is answered twice", one->blank);
	}
}

void compare_answers(struct session *session, struct made *made)
{
	struct blind_answers answers;
	struct written_answers written;
	enum load_status status = LOAD_GOOD;
	if (!make_blind(session, made, &answers))
		return;
	bool read = load_answers(session->patient, session->options->compare, &written, &session->findings, &status);
	session->failed = session->failed || status == LOAD_FAILED;
	if (!read)
		return;
	check_names(session, &answers, &written);
	for (size_t i = 0; i < answers.n; i++)
		compare_one(session, &answers.list[i], made->clinic->mark, &written);
	if (!findings_stop(&session->findings))
		printf("all %zu answers agree\n", answers.n);
}
