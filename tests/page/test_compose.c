/*
 * What holds on every page whatever it shows: who it is for, which of how many, draft or not; and what is refused.
 */
#include "page/compose.h"
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_handout.h"

#include <string.h>

struct composed {
	struct findings findings;
	struct sample *sample;
	struct typesetter *typesetter;
	const struct placed_packet *packet; /* NULL: refused */
};

static struct composed begin(struct arena *arena, enum sample_kind kind, bool draft)
{
	struct composed composed = {.findings = findings_in(arena)};
	composed.sample = sample_new(arena, kind, (struct sample_options){.draft = draft}, &composed.findings);
	composed.typesetter = typesetter_new("fonts", &composed.findings);
	return composed;
}

static void compose(struct arena *arena, struct composed *composed)
{
	composed->packet = compose_packet(arena, &composed->sample->handout, composed->typesetter, &composed->findings);
}

static void release(struct composed *composed)
{
	typesetter_free(composed->typesetter);
	sample_free(composed->sample);
}

static void pages_say_which_of_how_many(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = begin(arena, SAMPLE_STRESS, false);
	compose(arena, &composed);
	assert_true(composed.packet->n > 9); /* so that one digit and two are met */
	for (size_t i = 0; i < composed.packet->n; i++) {
		const struct placed_page *page = &composed.packet->pages[i];
		const char *of = arena_printf(arena, "page %zu of %zu", i + 1, composed.packet->n);
		assert_string_equal(page->label, arena_printf(arena, "%zu", i + 1));
		assert_int_equal(count_text(page, of), 1);
		assert_int_equal(count_text(page, "K7Q4-MX2T-9"), 1);
		assert_int_equal(count_text_beginning(page, "Mara Quillfeather · born"), 1);
		/* The first page says it at the top, too. */
		assert_int_equal(count_text_beginning(page, "Unsure? Stop, call."), i == 0 ? 2 : 1);
	}
	release(&composed);
}

static const struct placed_mark *code_of(const struct placed_page *page)
{
	for (size_t i = 0; i < page->n; i++)
		if (page->marks[i].kind == MARK_CODE)
			return &page->marks[i];
	return NULL;
}

/* Code, version and page, and nothing about the person. */
static void the_symbol_says_which_page(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = begin(arena, SAMPLE_SHORT, false);
	compose(arena, &composed);
	assert_string_equal(code_of(&composed.packet->pages[1])->code.payload, "K7Q4-MX2T-9;2;2");
	release(&composed);
}

static size_t hatched_bands(const struct placed_page *page)
{
	size_t n = 0;
	for (size_t i = 0; i < page->n; i++)
		n += page->marks[i].kind == MARK_HATCH;
	return n;
}

static void a_draft_says_so_on_every_page(void **state)
{
	struct arena *arena = case_of(state)->arena;
	for (int draft = 0; draft < 2; draft++) {
		struct composed composed = begin(arena, SAMPLE_LONG, draft == 1);
		compose(arena, &composed);
		for (size_t i = 0; i < composed.packet->n; i++) {
			const struct placed_page *page = &composed.packet->pages[i];
			assert_int_equal(count_text_beginning(page, "DRAFT"), draft);
			assert_int_equal(hatched_bands(page), draft == 1 ? 2 : 0);
			assert_int_equal(count_text(page, "version 2 · DRAFT · not signed"), draft);
		}
		release(&composed);
	}
}

/* Staff's pages are numbered apart and do not count among the patient's. */
static void staff_pages_are_numbered_apart(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = begin(arena, SAMPLE_LONG, false);
	struct section sections[2] = {composed.sample->handout.sections[1], composed.sample->handout.sections[0]};
	sections[0].staff = true;
	composed.sample->handout.sections = sections;
	compose(arena, &composed);
	size_t n = composed.packet->n;
	assert_string_equal(composed.packet->pages[0].label, "S1");
	assert_string_equal(composed.packet->pages[n - 1].label, "1");
	assert_int_equal(count_text(&composed.packet->pages[n - 1], "page 1 of 1"), 1);
	assert_int_equal(count_text(&composed.packet->pages[1], arena_printf(arena, "staff page 2 of %zu", n - 1)), 1);
	assert_int_equal(count_text(&composed.packet->pages[0], "For clinic staff. Not for the patient."), 1);
	assert_int_equal(count_text_beginning(&composed.packet->pages[0], "Unsure?"), 0);
	release(&composed);
}

/* A reference leads, when clicked, to the page that it names. */
static void references_are_links(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = begin(arena, SAMPLE_LONG, false);
	size_t n = 0;
	compose(arena, &composed);
	for (size_t i = 0; i < composed.packet->n; i++)
		for (size_t j = 0; j < composed.packet->pages[i].n; j++) {
			const struct placed_mark *mark = &composed.packet->pages[i].marks[j];
			if (mark->kind != MARK_TEXT || mark->text.link == NULL)
				continue;
			assert_string_equal(text_string(mark->text.block),
			                    arena_printf(arena, "page %s", mark->text.link));
			assert_non_null(find_page(composed.packet, mark->text.link));
			n++;
		}
	assert_true(n > 12);
	release(&composed);
}

/* The handout is composed with another title and name; the findings tell. */
static void compose_changed(struct arena *arena, struct composed *composed, const char *title, const char *name)
{
	struct section sections[2] = {composed->sample->handout.sections[0], composed->sample->handout.sections[1]};
	struct grid grid = *sections[1].grid;
	struct grid_column column = grid.columns[0];
	if (title != NULL)
		sections[1].title = title;
	if (name != NULL)
		column.name = name;
	grid.columns = &column;
	sections[1].grid = &grid;
	composed->sample->handout.sections = sections;
	compose(arena, composed);
}

static void a_long_title_takes_two_lines(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = begin(arena, SAMPLE_TINY, false);
	compose_changed(arena, &composed, "Day by day for somebody who has a really long plan to follow", NULL);
	assert_non_null(composed.packet);
	const struct placed_page *page = &composed.packet->pages[1];
	const struct placed_mark *title =
		find_text(page, "Day by day for somebody who has a really long plan to follow");
	assert_int_equal(text_lines(title->text.block), 2);
	assert_true(text_style_of(title->text.block)->size >= 26 * 0.85);
	assert_string_equal(page_faults(arena, page), "");
	release(&composed);
}

static void is_refused(struct arena *arena, struct composed *composed, const char *finding)
{
	assert_null(composed->packet);
	assert_int_equal(findings_count(&composed->findings, FINDING_STOP), 1);
	assert_string_equal(finding_print(arena, &composed->findings.list[0]), finding);
}

static void a_glyph_that_no_font_has_is_refused(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = begin(arena, SAMPLE_TINY, false);
	compose_changed(arena, &composed, "Day by day \xE2\x98\x83", NULL);
	is_refused(arena, &composed,
	           "fillmark: stop: 1 of the characters in 'Day by day \xE2\x98\x83' cannot be printed; write it with "
	           "other "
	           "characters "
	           "or add a font [glyph-missing]");
	release(&composed);
}

static void a_name_that_cannot_fit_is_refused(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = begin(arena, SAMPLE_TINY, false);
	char title[101];
	memset(title, 'm', 100);
	title[100] = '\0';
	compose_changed(arena, &composed, title, NULL);
	is_refused(
		arena, &composed,
		"fillmark: stop: 'mmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmm...' is too long for its place; shorten it "
		"[name-too-long]");
	release(&composed);
}

/* A name shrinks to 85 % and not further. */
static void names_shrink_to_their_least(void **state)
{
	struct arena *arena = case_of(state)->arena;
	double size = 26;
	bool refused = false;
	for (size_t n = 10; n < 60 && !refused; n++) {
		struct composed composed = begin(arena, SAMPLE_TINY, false);
		char *title = arena_alloc(arena, n + 1);
		memset(title, 'm', n);
		compose_changed(arena, &composed, title, NULL);
		refused = composed.packet == NULL;
		if (!refused)
			size = text_style_of(find_text(&composed.packet->pages[1], title)->text.block)->size;
		release(&composed);
	}
	assert_true(refused);
	assert_true(size >= 26 * 0.85 && size < 26 * 0.9);
}

static void a_long_name_of_words_wraps(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed composed = begin(arena, SAMPLE_TINY, false);
	static const char name[] = "examplin acetate trihydrate for slow release in oily suspension";
	compose_changed(arena, &composed, NULL, name);
	assert_non_null(composed.packet);
	const struct placed_mark *mark = find_text(&composed.packet->pages[1], name);
	assert_true(text_lines(mark->text.block) > 1);
	assert_true(text_style_of(mark->text.block)->size >= 12.5 * 0.85);
	assert_string_equal(page_faults(arena, &composed.packet->pages[1]), "");
	release(&composed);
}

static void the_same_handout_gives_the_same_pages(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct composed first = begin(arena, SAMPLE_SHORT, false);
	struct composed second = begin(arena, SAMPLE_SHORT, false);
	compose(arena, &first);
	compose(arena, &second);
	assert_int_equal(first.packet->n, second.packet->n);
	for (size_t i = 0; i < first.packet->n; i++) {
		assert_int_equal(first.packet->pages[i].n, second.packet->pages[i].n);
		for (size_t j = 0; j < first.packet->pages[i].n; j++)
			assert_memory_equal(&first.packet->pages[i].marks[j].area,
			                    &second.packet->pages[i].marks[j].area, sizeof(struct rect));
	}
	release(&first);
	release(&second);
}

int main(void)
{
	struct tests tests = {0};
	tests_add(&tests, "pages say which of how many", pages_say_which_of_how_many, NULL);
	tests_add(&tests, "the symbol says which page", the_symbol_says_which_page, NULL);
	tests_add(&tests, "a draft says so on every page", a_draft_says_so_on_every_page, NULL);
	tests_add(&tests, "staff's pages are numbered apart", staff_pages_are_numbered_apart, NULL);
	tests_add(&tests, "references are links", references_are_links, NULL);
	tests_add(&tests, "a long title takes two lines", a_long_title_takes_two_lines, NULL);
	tests_add(&tests, "a glyph that no font has is refused", a_glyph_that_no_font_has_is_refused, NULL);
	tests_add(&tests, "a name that cannot fit is refused", a_name_that_cannot_fit_is_refused, NULL);
	tests_add(&tests, "names shrink to their least", names_shrink_to_their_least, NULL);
	tests_add(&tests, "a long name of words wraps", a_long_name_of_words_wraps, NULL);
	tests_add(&tests, "the same handout gives the same pages", the_same_handout_gives_the_same_pages, NULL);
	return tests_run(&tests, "compose");
}
