/*
 * The overview over samples, papers and states: every medicine on one time line, read aloud as it is drawn.
 */
#include "page/compose.h"
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_handout.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct overview_case {
	const char *name;
	enum sample_kind kind;
	struct sample_options options;
	size_t pages; /* of the overview */
};

static const struct overview_case cases[] = {
	{"short, A4", SAMPLE_SHORT, {.paper = PAPER_A4}, 1},
	{"short, Letter", SAMPLE_SHORT, {.paper = PAPER_LETTER}, 1},
	{"long, A4, draft", SAMPLE_LONG, {.paper = PAPER_A4, .draft = true}, 1},
	{"long, Letter", SAMPLE_LONG, {.paper = PAPER_LETTER}, 2},
	{"tiny, A4", SAMPLE_TINY, {.paper = PAPER_A4}, 1},
	{"stress, A4", SAMPLE_STRESS, {.paper = PAPER_A4}, 2},
	{"waiting, A4", SAMPLE_WAITING, {.paper = PAPER_A4}, 1},
};

struct composed {
	struct sample *sample;
	struct typesetter *typesetter;
	const struct placed_packet *packet;
	const struct overview *overview;
	size_t n; /* pages of the overview */
};

static struct composed compose(struct arena *arena, enum sample_kind kind, struct sample_options options)
{
	struct findings findings = findings_in(arena);
	struct composed composed = {.sample = sample_new(arena, kind, options, &findings),
	                            .typesetter = typesetter_new("fonts", &findings)};
	composed.packet = compose_packet(arena, &composed.sample->handout, composed.typesetter, &findings);
	assert_non_null(composed.packet);
	composed.overview = composed.sample->handout.sections[0].overview;
	while (count_text_beginning(&composed.packet->pages[composed.n], "Your injection plan") > 0)
		composed.n++;
	return composed;
}

static void release(struct composed *composed)
{
	typesetter_free(composed->typesetter);
	sample_free(composed->sample);
}

static void all_stands_once(void **state)
{
	struct test_case *test = case_of(state);
	const struct overview_case *row = test->row;
	struct composed composed = compose(test->arena, row->kind, row->options);
	assert_int_equal(composed.n, row->pages);
	for (size_t i = 0; i < composed.n; i++)
		assert_string_equal(page_faults(test->arena, &composed.packet->pages[i]), "");
	for (size_t i = 0; i < composed.overview->n_rows; i++) {
		size_t n = 0;
		for (size_t j = 0; j < composed.n; j++)
			n += count_text(&composed.packet->pages[j], composed.overview->rows[i].name);
		assert_int_equal(n, 1);
	}
	size_t good = 0;
	for (size_t i = 0; i < composed.n; i++)
		good += count_text(&composed.packet->pages[i], composed.overview->good_until);
	assert_int_equal(good, 1);
	assert_int_equal(count_text(&composed.packet->pages[0], "000 555 0142"), 1);
	assert_int_equal(count_text(&composed.packet->pages[0], "000 555 0199"), 1);
	release(&composed);
}

/* Where the grid is: in one packet one page, in the other the days and the columns need several. */
static const char *grid_words(struct arena *arena, const struct composed *composed)
{
	size_t n = 0;
	for (size_t i = 0; i < composed->packet->n; i++)
		n += composed->sample->handout.sections[composed->packet->pages[i].section].kind == SECTION_GRID;
	if (n == 1)
		return "Each day, do that day's row on page 2. Tick each box.";
	return arena_printf(arena, "Each day, do that day's row on pages 2 to %zu. Tick each box.", n + 1);
}

/* The one thing to do stands first, above the telephones, with the grid's page or pages in it. */
static void what_to_do_comes_first(void **state)
{
	const enum sample_kind kinds[] = {SAMPLE_SHORT, SAMPLE_LONG};
	for (size_t i = 0; i < 2; i++) {
		struct composed composed =
			compose(case_of(state)->arena, kinds[i], (struct sample_options){.paper = PAPER_A4});
		const struct placed_page *page = &composed.packet->pages[0];
		const struct placed_mark *what = find_text(page, grid_words(case_of(state)->arena, &composed));
		const struct placed_mark *unsure = find_text(page, "Unsure? Stop, call.");
		const struct placed_mark *phone = find_text(page, "000 555 0142");
		assert_non_null(what);
		assert_non_null(unsure);
		assert_true(what->area.y < unsure->area.y && unsure->area.y < phone->area.y);
		release(&composed);
	}
}

/* A screen reader says the head of a cell: none is silent. */
static void every_head_has_a_word(void **state)
{
	const enum sample_kind kinds[] = {SAMPLE_SHORT, SAMPLE_LONG, SAMPLE_WAITING};
	for (size_t i = 0; i < 3; i++) {
		struct composed composed =
			compose(case_of(state)->arena, kinds[i], (struct sample_options){.paper = PAPER_A4});
		const struct placed_page *page = &composed.packet->pages[0];
		for (size_t j = 0; j + 1 < page->n; j++)
			if (page->marks[j].kind == MARK_GROUP_BEGIN && page->marks[j].group.role == ROLE_HEAD_CELL)
				assert_int_not_equal(page->marks[j + 1].kind, MARK_GROUP_END);
		release(&composed);
	}
}

/* ---- the time line ---- */

static size_t day_blocks(const struct placed_page *page)
{
	size_t n = 0;
	for (size_t i = 0; i < page->n; i++)
		n += page->marks[i].kind == MARK_BOX && page->marks[i].box.fill == COLOUR_DAY;
	return n;
}

/* 10 + 6 + 10 + 10 + 10 days of the five dated medicines, and the legend's. */
static void each_day_has_a_block(void **state)
{
	struct composed composed =
		compose(case_of(state)->arena, SAMPLE_SHORT, (struct sample_options){.paper = PAPER_A4});
	assert_int_equal(day_blocks(&composed.packet->pages[0]), 47);
	release(&composed);
}

static double middle_x(struct rect area)
{
	return area.x + area.width / 2;
}

static double middle_y(struct rect area)
{
	return area.y + area.height / 2;
}

/* The first block, or dot, whose middle is in the row of a name and under a number. */
static bool block_under(const struct placed_page *page, const struct placed_mark *name, const char *number)
{
	const struct placed_mark *day = find_text(page, number);
	assert_non_null(day);
	for (size_t i = 0; i < page->n; i++) {
		const struct placed_mark *mark = &page->marks[i];
		if (mark->kind == MARK_BOX && mark->box.fill == COLOUR_DAY &&
		    fabs(middle_x(mark->area) - middle_x(day->area)) < 0.6 &&
		    fabs(middle_y(mark->area) - name->area.y) < 7)
			return true;
	}
	return false;
}

static void blocks_stand_under_their_days(void **state)
{
	struct composed composed =
		compose(case_of(state)->arena, SAMPLE_SHORT, (struct sample_options){.paper = PAPER_A4});
	const struct placed_page *page = &composed.packet->pages[0];
	const struct placed_mark *mockuline = find_text(page, "Mockuline"); /* days 5 to 10 */
	static const char *const numbers[] = {"1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12", "13"};
	/* "1" is the page's number too; the head's comes later, so it is looked up from day 2 on. */
	for (size_t i = 1; i < 13; i++)
		assert_int_equal(block_under(page, mockuline, numbers[i]), i + 1 >= 5 && i + 1 <= 10);
	release(&composed);
}

/* A long course: one bar a run, with a notch between each two days. */
static void runs_are_notched_bars(void **state)
{
	struct composed composed =
		compose(case_of(state)->arena, SAMPLE_LONG, (struct sample_options){.paper = PAPER_A4});
	const struct placed_page *page = &composed.packet->pages[0];
	size_t notches = 0;
	for (size_t i = 0; i < page->n; i++)
		notches += page->marks[i].kind == MARK_RULE && page->marks[i].rule.colour == COLOUR_WHITE;
	/* Runs of 14, 24, 28, 12, 14, 10, 12 and 28 days, ten single days of a patch, and the legend's block. */
	assert_int_equal(day_blocks(page), 8 + 10 + 1);
	assert_int_equal(notches, 13 + 23 + 27 + 11 + 13 + 9 + 11 + 27);
	release(&composed);
}

static const char *spoken_in_row(const struct placed_page *page, const char *name)
{
	bool found = false;
	for (size_t i = 0; i < page->n; i++) {
		const struct placed_mark *mark = &page->marks[i];
		found = found || (mark->kind == MARK_TEXT && strcmp(text_string(mark->text.block), name) == 0);
		if (found && mark->kind == MARK_GROUP_BEGIN && mark->group.role == ROLE_FIGURE)
			return mark->group.alt;
	}
	return NULL;
}

static void the_line_is_spoken(void **state)
{
	struct composed composed =
		compose(case_of(state)->arena, SAMPLE_LONG, (struct sample_options){.paper = PAPER_A4});
	const struct placed_page *page = &composed.packet->pages[0];
	assert_string_equal(spoken_in_row(page, "Sampletide"), "days 1 to 14: take it.");
	assert_string_equal(spoken_in_row(page, "Placebix"),
	                    "days 1 to 10: take it. days 11 to 12: only when the clinic calls.");
	assert_string_equal(spoken_in_row(page, "Fictivane"), "day 15: exact time, to the minute.");
	release(&composed);
}

static void an_exact_time_has_its_dial(void **state)
{
	struct composed composed =
		compose(case_of(state)->arena, SAMPLE_SHORT, (struct sample_options){.paper = PAPER_A4});
	const struct placed_page *page = &composed.packet->pages[0];
	size_t dials = 0;
	for (size_t i = 0; i < page->n; i++)
		if (page->marks[i].kind == MARK_CLOCK) {
			assert_int_equal(page->marks[i].clock.hour, 22);
			assert_int_equal(page->marks[i].clock.minute, 30);
			dials++;
		}
	assert_int_equal(dials, 2); /* on the line, and on the card */
	release(&composed);
}

/* The ring with a check is for what is signed. */
static void a_draft_has_no_check(void **state)
{
	for (int draft = 0; draft < 2; draft++) {
		struct composed composed =
			compose(case_of(state)->arena, SAMPLE_SHORT, (struct sample_options){.draft = draft == 1});
		const struct placed_page *page = &composed.packet->pages[0];
		for (size_t i = 0; i < page->n; i++)
			if (page->marks[i].kind == MARK_SEAL)
				assert_int_equal(page->marks[i].seal.is_signed, draft == 0);
		assert_int_equal(count_text(page, "not signed yet"), draft);
		release(&composed);
	}
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		char name[128];
		snprintf(name, sizeof name, "%s: all stands once", cases[i].name);
		tests_add(&tests, name, all_stands_once, &cases[i]);
	}
	tests_add(&tests, "what to do comes first", what_to_do_comes_first, NULL);
	tests_add(&tests, "every head has a word", every_head_has_a_word, NULL);
	tests_add(&tests, "each day has a block", each_day_has_a_block, NULL);
	tests_add(&tests, "blocks stand under their days", blocks_stand_under_their_days, NULL);
	tests_add(&tests, "runs are notched bars", runs_are_notched_bars, NULL);
	tests_add(&tests, "the line is spoken", the_line_is_spoken, NULL);
	tests_add(&tests, "an exact time has its dial", an_exact_time_has_its_dial, NULL);
	tests_add(&tests, "a draft has no check", a_draft_has_no_check, NULL);
	return tests_run(&tests, "overview");
}
