/*
 * Large print over samples and papers: all that normal print has, larger, whole, and nothing lost where a page ends.
 */
#include "page/large.h"

#include "page/compose.h"
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_handout.h"
#include "support/sample_packets.h"

#include <math.h>
#include <string.h>

struct large_case {
	const char *name;
	enum sample_kind kind;
	struct sample_options options;
};

static const struct large_case cases[] = {
	{"short, A4", SAMPLE_SHORT, {.paper = PAPER_A4}},
	{"short, Letter, draft", SAMPLE_SHORT, {.paper = PAPER_LETTER, .draft = true}},
	{"long, A4", SAMPLE_LONG, {.paper = PAPER_A4}},
	{"long, Letter", SAMPLE_LONG, {.paper = PAPER_LETTER}},
	{"tiny, A4", SAMPLE_TINY, {.paper = PAPER_A4}},
	{"stress, A4", SAMPLE_STRESS, {.paper = PAPER_A4}},
	{"stress, Letter, draft", SAMPLE_STRESS, {.paper = PAPER_LETTER, .draft = true}},
	{"pairs, A4", SAMPLE_PAIRS, {.paper = PAPER_A4}},
	{"pairs, Letter", SAMPLE_PAIRS, {.paper = PAPER_LETTER}},
	{"waiting, Letter", SAMPLE_WAITING, {.paper = PAPER_LETTER}},
};

struct composed {
	struct findings findings;
	struct sample *sample;
	struct typesetter *typesetter;
	const struct placed_packet *packet;
	const struct grid *grid;
};

static struct composed begin(struct arena *arena, const struct large_case *row)
{
	struct composed composed = {.findings = findings_in(arena)};
	composed.sample = sample_new(arena, row->kind, row->options, &composed.findings);
	composed.sample->handout.large_print = true;
	composed.typesetter = typesetter_new("fonts", &composed.findings);
	composed.grid = composed.sample->handout.sections[1].grid;
	return composed;
}

static struct composed compose(struct arena *arena, const struct large_case *row)
{
	struct composed composed = begin(arena, row);
	composed.packet = compose_packet(arena, &composed.sample->handout, composed.typesetter, &composed.findings);
	for (size_t i = 0; i < composed.findings.n; i++)
		print_message("%s\n", finding_print(arena, &composed.findings.list[i]));
	assert_non_null(composed.packet);
	return composed;
}

static void release(struct composed *composed)
{
	typesetter_free(composed->typesetter);
	sample_free(composed->sample);
}

static void no_fault(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = compose(arena, case_of(state)->row);
	const char *faults = packet_faults(arena, composed.packet);
	if (*faults != '\0')
		print_error("%s", faults);
	assert_string_equal(faults, "");
	release(&composed);
}

/* The grid's marks: those of its cells and of its exact times. */
static size_t marks_ordered(const struct grid *grid)
{
	size_t n = 0;
	for (size_t i = 0; i < grid->n_rows; i++) {
		const struct grid_row *row = &grid->rows[i];
		for (size_t j = 0; j < grid->n_columns; j++)
			n += (size_t)(row->cells[j].mark.number != NULL) +
			     (size_t)(row->cells[j].second_mark.number != NULL);
		for (size_t j = 0; j < row->n_exact; j++)
			n += row->exact[j].mark.number != NULL;
	}
	return n;
}

static void every_mark_stands_once(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = compose(arena, case_of(state)->row);
	size_t n = 0;
	for (size_t i = 0; i < composed.packet->n; i++)
		for (size_t j = 0; j < composed.packet->pages[i].n; j++) {
			const struct placed_mark *mark = &composed.packet->pages[i].marks[j];
			n += mark->kind == MARK_TAG && composed.packet->pages[i].section == 1;
		}
	assert_int_equal(n, marks_ordered(composed.grid));
	release(&composed);
}

static const struct placed_mark *first_of_size(const struct placed_page *page, double size)
{
	for (size_t i = 0; i < page->n; i++)
		if (page->marks[i].kind == MARK_TEXT && text_style_of(page->marks[i].text.block)->size == size)
			return &page->marks[i];
	return NULL;
}

/* A day's head is its date in the size of sections; under the title no page of the grid begins with anything else. */
static void every_page_of_days_begins_with_a_day(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = compose(arena, case_of(state)->row);
	for (size_t i = 0; i < composed.packet->n; i++) {
		const struct placed_page *page = &composed.packet->pages[i];
		const struct placed_mark *date = first_of_size(page, 24);
		if (page->section != 1 || composed.grid->n_rows == 0)
			continue;
		bool is_day = false;
		for (size_t j = 0; j < composed.grid->n_rows && date != NULL; j++)
			is_day = is_day || strstr(text_string(date->text.block), composed.grid->rows[j].date) != NULL;
		bool only_waits = composed.grid->n_waiting > 0 && date == NULL;
		assert_true(is_day || only_waits);
	}
	release(&composed);
}

/* No page is nearly empty that is not the last of its section. */
static void pages_are_filled(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = compose(arena, case_of(state)->row);
	for (size_t i = 0; i + 1 < composed.packet->n; i++) {
		const struct placed_page *page = &composed.packet->pages[i];
		size_t n = 0;
		double lowest = 0;
		for (size_t j = 0; j < page->n; j++)
			if (page->marks[j].kind == MARK_TEXT) {
				struct rect area = page->marks[j].area;
				if (area.y + area.height < page->height - 45)
					lowest = fmax(lowest, area.y + area.height);
				n++;
			}
		assert_true(n > 0);
		if (page[1].section == page->section && lowest < page->height / 3)
			fail_msg("page %s ends at %.0f mm", page->label, lowest);
	}
	release(&composed);
}

static bool is_rail(const struct placed_page *page, const struct placed_mark *mark)
{
	return mark->kind == MARK_PICTURE && mark->picture.pictogram == PICTURE_LIQUID_VIAL &&
	       mark->area.x + mark->area.width < (page->width - 180) / 2;
}

/* Halves of one container: joined by a rail on their page, none of them alone while two days fit on one. */
static void halves_are_joined(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = compose(arena, &cases[7]);
	size_t rails = 0;
	size_t pairs = 0;
	for (size_t i = 0; i < composed.packet->n; i++)
		for (size_t j = 0; j < composed.packet->pages[i].n; j++)
			rails += is_rail(&composed.packet->pages[i], &composed.packet->pages[i].marks[j]);
	for (size_t i = 0; i < composed.grid->n_rows; i++)
		for (size_t j = 0; j < composed.grid->n_columns; j++)
			pairs += composed.grid->rows[i].cells[j].joins_next;
	assert_true(pairs > 0);
	assert_int_equal(rails, pairs);
	release(&composed);
}

static void a_block_higher_than_a_page_is_refused(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = begin(arena, &cases[9]);
	struct grid_waiting *waiting = arena_alloc(arena, sizeof *waiting);
	struct grid *grid = arena_alloc(arena, sizeof *grid);
	struct section *sections = arena_alloc(arena, 2 * sizeof *sections);
	const char *text = "We call you.";
	for (int i = 0; i < 7; i++)
		text = arena_printf(arena, "%s %s", text, text);
	*grid = *composed.grid;
	*waiting = grid->waiting[0];
	waiting->text = text;
	grid->waiting = waiting;
	grid->n_waiting = 1;
	memcpy(sections, composed.sample->handout.sections, 2 * sizeof *sections);
	sections[1].grid = grid;
	composed.sample->handout.sections = sections;
	composed.sample->handout.n_sections = 2;
	assert_null(compose_packet(arena, &composed.sample->handout, composed.typesetter, &composed.findings));
	assert_string_equal(composed.findings.list[0].code, "block-too-high");
	release(&composed);
}

/* ---- a long text in pieces ---- */

static struct composer composer_for(struct arena *arena, struct composed *composed)
{
	return composer_of(arena, &composed->sample->handout, composed->typesetter, &composed->findings, NULL, 0);
}

static void pieces_hold_all_words_in_order(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = begin(arena, &cases[4]);
	struct composer composer = composer_for(arena, &composed);
	struct text_style style = large_style(&composer, TYPE_BODY, WEIGHT_REGULAR);
	const char *text = "Begin.";
	for (int i = 0; i < 60; i++)
		text = arena_printf(
			arena, "%s Word %d of " TEXT_BOLD_ON "a bold part. It goes on" TEXT_BOLD_OFF " until it ends.",
			text, i);
	struct large_pieces pieces = large_pieces_of(&composer, text, style, 120, 60);
	const char *joined = "";
	assert_true(pieces.n > 3);
	for (size_t i = 0; i < pieces.n; i++) {
		const struct text_block *block = composer_set(&composer, pieces.list[i], style, 120);
		assert_true(text_height(block) <= 60);
		assert_true(text_lines(block) > 2);
		joined = arena_printf(arena, "%s%s%s", joined, i == 0 ? "" : " ", text_string(block));
	}
	assert_string_equal(joined, text_string(composer_set(&composer, text, style, 0)));
	release(&composed);
}

/* For a page of that number, of as many. */
static struct composer numbered(struct arena *arena, struct composed *composed, int number)
{
	struct composer composer = composer_for(arena, composed);
	struct numbering *numbers = numbering_blank(arena, composed->sample->handout.n_sections);
	numbers->sections[0].first = number;
	numbers->n_patient = number;
	composer.numbers = numbers;
	return composer;
}

/*
 * Pages are broken before they have numbers: a lead that breaks beside "page 50
 * of 50" and not beside "page 11 of 11" must not leave less than was counted on.
 */
static void no_page_has_less_room_than_was_counted_on(void **state)
{
	static const int numbers[] = {1, 10, 11, 50, 80, 88, 99};
	static const char words[] =
		"Powder and liquid, days 7 to 10, in the evening at 20:00, and iiiiiiiiiiiiiiiiiiiiii";
	struct arena *arena = case_of(state)->arena;
	struct composed composed = begin(arena, &cases[0]);
	struct composer composer = composer_for(arena, &composed);
	bool differed = false;
	for (size_t length = 20; length < sizeof words; length++) {
		const char *lead = arena_strndup(arena, words, length);
		double counted = composer_content_height(&composer, "Title", lead, PICTURE_NONE);
		for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
			struct composer at = numbered(arena, &composed, numbers[i]);
			composer_new_page(&at, "Title", lead);
			double room = at.bottom - at.top;
			assert_true(room > counted - 0.01);
			differed = differed || room > counted + 0.01;
		}
	}
	assert_true(differed); /* else these leads show nothing */
	release(&composed);
}

#define LARGE_BODY 18

static bool is_readable(const struct text_block *block)
{
	return block == NULL || text_style_of(block)->size >= LARGE_BODY;
}

static bool tag_is_readable(const struct placed_mark *mark)
{
	return is_readable(mark->tag.before) && is_readable(mark->tag.number) && is_readable(mark->tag.unit);
}

/* What stands in a tag is no smaller than other text. */
static void tags_are_read_in_large_print(void **state)
{
	static const char *const plans[] = {"mara", "odile", "ione", "wilma", "nell", "tamsin", "tilda"};
	struct arena *arena = case_of(state)->arena;
	for (size_t plan = 0; plan < sizeof plans / sizeof *plans; plan++) {
		const char *path = arena_printf(arena, "samples/plans/%s.yaml", plans[plan]);
		struct sample_packet sample = sample_packet_in(path, PAPER_A4, true);
		for (size_t i = 0; i < sample.packet->n; i++) {
			const struct placed_page *page = &sample.packet->pages[i];
			for (size_t j = 0; j < page->n && !sample.handout->sections[page->section].staff; j++)
				if (page->marks[j].kind == MARK_TAG && !tag_is_readable(&page->marks[j]))
					fail_msg("%s: a tag of page %s is small", plans[plan], page->label);
		}
		sample_packet_free(&sample);
	}
}

/* A step that stops on a line has its tag: three ways to say it, the line, and both steps that stop on it. */
static void a_step_has_its_tag(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_in("samples/plans/mara.yaml", PAPER_A4, true);
	size_t lines = 0;
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		const struct section *section = &sample.handout->sections[page->section];
		for (size_t j = 0; j < page->n && section->kind == SECTION_MEDICINE; j++)
			lines += page->marks[j].kind == MARK_TAG &&
			         strcmp(text_string(page->marks[j].tag.number), "0.5") == 0;
	}
	assert_int_equal(lines, 4);
	sample_packet_free(&sample);
}

static bool page_says(const struct placed_page *page, const char *words)
{
	for (size_t i = 0; i < page->n; i++)
		if (page->marks[i].kind == MARK_TEXT && strcmp(text_string(page->marks[i].text.block), words) == 0)
			return true;
	return false;
}

/* A day that is too high for its page says where it goes on, and there that it does. */
static void a_cut_day_is_found_again(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = compose(arena, &cases[5]);
	size_t cuts = 0;
	for (size_t i = 1; i < composed.packet->n; i++) {
		const struct placed_page *page = &composed.packet->pages[i];
		bool goes_on = page->section == 1 && page_says(page, "continued");
		const char *more = arena_printf(arena, "more on page %s", page->label);
		assert_true(page_says(page - 1, more) == goes_on);
		cuts += goes_on;
	}
	assert_true(cuts > 0);
	release(&composed);
}

/* Whom to call, and the warning, are on the first page of every plan. */
static void the_first_page_says_whom_to_call(void **state)
{
	static const char *const plans[] = {"mara", "mara-2", "odile", "paloma", "perpetua"};
	struct arena *arena = case_of(state)->arena;
	for (size_t plan = 0; plan < 2 * sizeof plans / sizeof *plans; plan++) {
		const char *path = arena_printf(arena, "samples/plans/%s.yaml", plans[plan / 2]);
		struct sample_packet sample = sample_packet_in(path, plan % 2 == 0 ? PAPER_A4 : PAPER_LETTER, true);
		size_t first = 0;
		while (sample.handout->sections[sample.packet->pages[first].section].kind != SECTION_OVERVIEW)
			first++;
		const struct overview *overview =
			sample.handout->sections[sample.packet->pages[first].section].overview;
		for (size_t i = 0; i < overview->n_phones; i++)
			assert_true(page_says(&sample.packet->pages[first], overview->phones[i].number));
		assert_true(page_says(&sample.packet->pages[first], overview->warning_word));
		sample_packet_free(&sample);
	}
}

/* Of the samples a day is cut only where it is higher than a page, and a new amount has its corner. */
static void days_are_whole(void **state)
{
	static const char *const plans[] = {"mara", "paloma"};
	struct arena *arena = case_of(state)->arena;
	for (size_t plan = 0; plan < sizeof plans / sizeof *plans; plan++) {
		const char *path = arena_printf(arena, "samples/plans/%s.yaml", plans[plan]);
		struct sample_packet sample = sample_packet_in(path, PAPER_LETTER, true);
		size_t corners = 0;
		for (size_t i = 0; i < sample.packet->n; i++) {
			const struct placed_page *page = &sample.packet->pages[i];
			for (size_t j = 0; j < page->n && page->section == 1; j++) {
				const struct placed_mark *mark = &page->marks[j];
				corners += mark->kind == MARK_CORNER;
				if (mark->kind == MARK_TEXT)
					assert_string_not_equal(text_string(mark->text.block), "continued");
			}
		}
		if (corners == 0)
			fail_msg("%s: no new amount", plans[plan]);
		sample_packet_free(&sample);
	}
}

int main(void)
{
	struct tests tests = {0};
	struct arena *arena = arena_new();
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		const struct large_case *row = &cases[i];
		tests_add(&tests, arena_printf(arena, "%s: no fault", row->name), no_fault, row);
		tests_add(&tests, arena_printf(arena, "%s: every mark stands once", row->name), every_mark_stands_once,
		          row);
		tests_add(&tests, arena_printf(arena, "%s: pages of days begin with a day", row->name),
		          every_page_of_days_begins_with_a_day, row);
		tests_add(&tests, arena_printf(arena, "%s: pages are filled", row->name), pages_are_filled, row);
	}
	tests_add(&tests, "halves are joined", halves_are_joined, NULL);
	tests_add(&tests, "a block higher than a page is refused", a_block_higher_than_a_page_is_refused, NULL);
	tests_add(&tests, "no page has less room than was counted on", no_page_has_less_room_than_was_counted_on, NULL);
	tests_add(&tests, "pieces hold all words in order", pieces_hold_all_words_in_order, NULL);
	tests_add(&tests, "tags are read in large print", tags_are_read_in_large_print, NULL);
	tests_add(&tests, "a step has its tag", a_step_has_its_tag, NULL);
	tests_add(&tests, "a cut day is found again", a_cut_day_is_found_again, NULL);
	tests_add(&tests, "days are whole", days_are_whole, NULL);
	tests_add(&tests, "the first page says whom to call", the_first_page_says_whom_to_call, NULL);
	int failed = tests_run(&tests, "large print");
	arena_free(arena);
	return failed;
}
