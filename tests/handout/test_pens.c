/*
 * Doses that are made up of several small pens: each has a page whose parts add up to it, and no page or cell shows
 * less than all of its parts.
 *
 * The pen holds 150 units and loses 10 at each setting, so 200 take two pens and 300 take three.
 */
#include "handout/handout.h"
#include "support/clinic_files.h"

#include <glib.h>
#include <string.h>

#define SMALL_PEN                                                                               \
	"medicines:\n  - id: minipenol\n    name: Minipenol\n    route: subcutaneous\n"         \
	"    limits: {least: 100 units, most: 300 units}\n    products:\n      - id: minipen\n" \
	"        container: pen\n        strength: 150 units\n        in_use: 28 days\n"        \
	"        dial: {step: 10 units, least: 10 units, most: 150 units, priming: 10 units}\n" \
	"        span: yes\n"
#define FIRST_200_THEN_300                                                                                     \
	"protocol: p1\ntitle: {en: One}\nevents: [{id: go, label: {en: Go}, own_day: 1}]\n"                    \
	"items: [{id: one, medicine: minipenol, at: [evening], start: {event: go, day: 1}, end: {doses: 3},\n" \
	"   doses: [{from: 1, dose: 200 units}, {from: 3, dose: 300 units}]}]\n"

struct opened {
	const struct course *course;
	const struct handout *handout;
	struct speaker *speaker;
	struct speaker *staff;
};

static struct opened open_handout(void **state, const char *formulary)
{
	struct arena *arena = case_of(state)->arena;
	const char *data = case_of(state)->row;
	struct findings *findings = arena_alloc(arena, sizeof *findings);
	enum load_status status;
	*findings = findings_in(arena);
	write_text(state, "clinic/formulary.yaml", formulary);
	write_text(state, "clinic/protocols/p1.yaml", FIRST_200_THEN_300);
	const struct clinic *clinic = load_clinic(arena, "clinic", data, findings, &status);
	const struct plan *plan = clinic == NULL ? NULL : load_plan(arena, clinic, "plan.yaml", findings, &status);
	struct opened opened = {.course = plan == NULL ? NULL : course_of(arena, plan, findings)};
	for (size_t i = 0; i < findings->n; i++)
		if (findings->list[i].level == FINDING_STOP)
			fail_msg("%s", finding_print(arena, &findings->list[i]));
	const struct record *record = record_of(arena, opened.course, findings);
	struct handout_options options = {plan->language, PAPER_A4, false, false};
	opened.speaker = speaker_new(arena, clinic, "en", findings);
	opened.staff = speaker_new(arena, clinic, "en", findings);
	opened.handout = handout_of(arena, record, options, opened.speaker, opened.staff, findings);
	assert_int_equal(findings_count(findings, FINDING_STOP), 0);
	return opened;
}

static void close_handout(struct opened *opened)
{
	speaker_free(opened->speaker);
	speaker_free(opened->staff);
}

static section_ref first_of(const struct handout *handout, enum section_kind kind)
{
	for (size_t i = 0; i < handout->n_sections; i++)
		if (handout->sections[i].kind == kind)
			return (section_ref)i;
	fail_msg("there is no section %d", kind);
	return -1;
}

/* The number in a text such as "140 units". */
static int number_in(const char *text)
{
	return (int)g_ascii_strtoll(text, NULL, 10);
}

static void parts_add_up(void **state)
{
	struct opened opened = open_handout(state, SMALL_PEN);
	size_t turns_of_most = 0;
	size_t pages = 0;
	for (size_t i = 0; i < opened.handout->n_sections; i++) {
		if (opened.handout->sections[i].kind != SECTION_PENS)
			continue;
		const struct pens_sheet *sheet = opened.handout->sections[i].pens;
		int sum = 0;
		int next = 1;
		pages++;
		for (size_t j = 0; j < sheet->n_turns; j++) {
			const struct pen_turn *turn = &sheet->turns[j];
			sum += number_in(turn->part);
			/* What the tag and the window say is what the strip says, and each setting is tested. */
			assert_int_equal(number_in(turn->view.number), number_in(turn->part));
			assert_string_equal(turn->view.mark.number, turn->view.number);
			assert_string_equal(turn->priming.number, "10");
			assert_true(turn->priming.open);
			for (size_t k = 0; k < turn->n_steps; k++)
				assert_int_equal(turn->steps[k].number, next++);
		}
		assert_int_equal(sum, number_in(sheet->amount));
		assert_non_null(strstr(sheet->sheet->caution, "does not work, stop and call. Do not use another pen"));
		turns_of_most = sheet->n_turns > turns_of_most ? sheet->n_turns : turns_of_most;
	}
	assert_int_equal(turns_of_most, 3);
	assert_true(pages >= 2);
	close_handout(&opened);
}

/* A cell holds two tags: a third injection must not be lost. */
static void a_cell_shows_all_tags_or_none(void **state)
{
	struct opened opened = open_handout(state, SMALL_PEN);
	const struct grid *grid = opened.handout->sections[first_of(opened.handout, SECTION_GRID)].grid;
	size_t doses = 0;
	for (size_t i = 0; i < grid->n_rows; i++) {
		const struct grid_cell *cell = &grid->rows[i].cells[0];
		if (cell->dose == NULL)
			continue;
		doses++;
		if (cell->dose->n_draws <= 2) {
			assert_non_null(cell->mark.number);
			assert_non_null(cell->second_mark.number);
		} else {
			assert_null(cell->mark.number);
			assert_null(cell->second_mark.number);
			assert_string_equal(cell->below, "3 injections");
		}
	}
	assert_int_equal(doses, 3);
	close_handout(&opened);
}

/* The calendar and the overview lead to the pen's own sheet, which leads to each page of several pens. */
static void readers_find_every_page(void **state)
{
	struct opened opened = open_handout(state, SMALL_PEN);
	const struct handout *handout = opened.handout;
	section_ref pen = first_of(handout, SECTION_PEN);
	const struct pen_sheet *sheet = handout->sections[pen].pen;
	size_t pages = 0;
	assert_int_equal(handout->sections[first_of(handout, SECTION_OVERVIEW)].overview->rows[0].section, pen);
	assert_int_equal(handout->sections[first_of(handout, SECTION_GRID)].grid->columns[0].section, pen);
	for (size_t i = 0; i < handout->n_sections; i++)
		pages += handout->sections[i].kind == SECTION_PENS;
	assert_int_equal(sheet->n_see, pages);
	for (size_t i = 0; i < sheet->n_see; i++)
		assert_int_equal(handout->sections[sheet->see[i].section].kind, SECTION_PENS);
	/* No dose comes from one pen, so the sheet has no number of its own and names none. */
	assert_int_equal(sheet->n_amounts, 0);
	for (size_t i = 0; i < sheet->sheet->n_back; i++)
		if (strcmp(sheet->sheet->back[i].picture, "pen-dial") == 0)
			assert_non_null(strstr(sheet->sheet->back[i].text, "today's number"));
	close_handout(&opened);
}

/* Who meets the white tag on a pen's page must find it among the signs. */
static void the_white_tag_is_explained(void **state)
{
	struct opened opened = open_handout(state, SMALL_PEN);
	const struct before_sheet *sheet = opened.handout->sections[first_of(opened.handout, SECTION_BEFORE)].before;
	size_t white = 0;
	for (size_t i = 0; i < sheet->n_signs; i++)
		if (sheet->signs[i].kind == SIGN_WHITE_TAG) {
			white++;
			assert_true(sheet->signs[i].mark.open);
			assert_string_equal(sheet->signs[i].mark.number, "10");
			assert_non_null(strstr(sheet->signs[i].text, "only to prepare"));
		}
	assert_int_equal(white, 1);
	close_handout(&opened);
}

/* Every pen that is opened has its row, from its first dose to its last. */
static void every_pen_has_its_row(void **state)
{
	struct opened opened = open_handout(state, SMALL_PEN);
	const struct pen_sheet *sheet = opened.handout->sections[first_of(opened.handout, SECTION_PEN)].pen;
	int64_t pens = 0;
	for (size_t i = 0; i < opened.course->n_doses; i++)
		for (size_t j = 0; j < opened.course->doses[i].n_draws; j++)
			pens += opened.course->doses[i].draws[j].containers[0].opens;
	assert_int_equal(sheet->n_rows, pens);
	assert_string_equal(sheet->rows[0].cells[0], "Pen 1");
	assert_string_equal(sheet->rows[0].cells[1], "Fri 4 Dec");
	close_handout(&opened);
}

static void the_test_is_told_by_what_the_label_says(void **state)
{
	static const struct {
		const char *line, *text;
	} rows[] = {{"        test: first\n", "Pen used before? Skip this step."},
	            {"        test: each\n", "Hold the needle up."}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct opened opened =
			open_handout(state, arena_printf(case_of(state)->arena, "%s%s", SMALL_PEN, rows[i].line));
		const struct handout *handout = opened.handout;
		const struct medicine_sheet *sheet = handout->sections[first_of(handout, SECTION_PEN)].pen->sheet;
		size_t told = 0;
		assert_true(sheet->has_add && sheet->add.open);
		assert_string_equal(sheet->add.number, "10");
		for (size_t j = 0; j < sheet->n_front; j++)
			if (sheet->front[j].white_tag) {
				told++;
				assert_int_equal(strncmp(sheet->front[j].text, rows[i].text, strlen(rows[i].text)), 0);
			}
		assert_int_equal(told, 1);
		close_handout(&opened);
	}
}

int main(void)
{
	struct tests tests = {0};
	char *here = g_get_current_dir();
	tests_add_in_folder(&tests, "parts add up", parts_add_up, here);
	tests_add_in_folder(&tests, "a cell shows all tags or none", a_cell_shows_all_tags_or_none, here);
	tests_add_in_folder(&tests, "readers find every page", readers_find_every_page, here);
	tests_add_in_folder(&tests, "the white tag is explained", the_white_tag_is_explained, here);
	tests_add_in_folder(&tests, "every pen has its row", every_pen_has_its_row, here);
	tests_add_in_folder(&tests, "the test is told by what the label says", the_test_is_told_by_what_the_label_says,
	                    here);
	int failed = tests_run(&tests, "pens");
	g_free(here);
	return failed;
}
