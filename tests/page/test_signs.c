/*
 * 'Before you start' explains every sign that the packet shows without words, and no other.
 *
 * What is shown is read off the placed pages, so a sign that somebody adds to a page is missed here at once.
 */
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_packets.h"

#include <string.h>

struct row {
	const char *plan;
	bool large_print;
};

enum sign { BELLY, HIP, HOUSE, BELL, CORNER, OPEN_TAG, PRINTED_TICK, SUN, NOON, EVENING, MOON, N_SIGNS };

static const char *const names[N_SIGNS] = {"belly",        "hip", "house", "bell",    "corner", "open tag",
                                           "printed tick", "sun", "noon",  "evening", "moon"};

static enum sign sign_of_picture(enum pictogram picture)
{
	static const struct {
		enum pictogram picture;
		enum sign sign;
	} known[] = {{PICTURE_HOUSE, HOUSE}, {PICTURE_BELL, BELL}, {PICTURE_CHECK, PRINTED_TICK},
	             {PICTURE_SUN, SUN},     {PICTURE_NOON, NOON}, {PICTURE_EVENING, EVENING},
	             {PICTURE_MOON, MOON}};
	for (size_t i = 0; i < sizeof known / sizeof *known; i++)
		if (known[i].picture == picture)
			return known[i].sign;
	return N_SIGNS;
}

static enum sign sign_of(const struct placed_mark *mark)
{
	if (mark->kind == MARK_SIDE)
		return mark->side.hip ? HIP : BELLY;
	if (mark->kind == MARK_CORNER)
		return CORNER;
	if (mark->kind == MARK_TAG && mark->tag.open)
		return OPEN_TAG;
	return mark->kind == MARK_PICTURE ? sign_of_picture(mark->picture.pictogram) : N_SIGNS;
}

/* Elsewhere than in the grid these stand beside the words that they mean. */
static bool grid_alone(enum sign sign)
{
	return sign >= PRINTED_TICK;
}

static void explained(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, PAPER_A4, row->large_print);
	bool shown[N_SIGNS + 1] = {false};
	bool told[N_SIGNS + 1] = {false};
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		enum section_kind kind = sample.handout->sections[page->section].kind;
		bool *into = kind == SECTION_BEFORE ? told : shown;
		if (kind == SECTION_CHECK || kind == SECTION_TEACH)
			continue;
		for (size_t j = 0; j < page->n; j++) {
			enum sign sign = sign_of(&page->marks[j]);
			if (kind == SECTION_BEFORE || kind == SECTION_GRID || !grid_alone(sign))
				into[sign] = true;
		}
	}
	/* The page's own advice has a check and crosses. */
	told[PRINTED_TICK] = false;
	for (size_t i = 0; i < sample.packet->n; i++)
		if (sample.handout->sections[sample.packet->pages[i].section].kind == SECTION_BEFORE &&
		    count_text_beginning(&sample.packet->pages[i], "Printed tick:") > 0)
			told[PRINTED_TICK] = true;
	for (size_t i = 0; i < N_SIGNS; i++)
		if (shown[i] != told[i])
			fail_msg("%s is %s and %s", names[i], shown[i] ? "shown" : "not shown",
			         told[i] ? "explained" : "not explained");
	sample_packet_free(&sample);
}

/* Whose left it is stands there wherever a side is shown. */
static void left_is_the_wearers(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, PAPER_A4, row->large_print);
	size_t sides = 0;
	size_t own = 0;
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		for (size_t j = 0; j < page->n; j++) {
			const struct placed_mark *mark = &page->marks[j];
			sides += mark->kind == MARK_SIDE;
			if (mark->kind == MARK_TEXT)
				own += strstr(text_string(mark->text.block), "your own left or right") != NULL ||
				       strstr(text_string(mark->text.block), "su propia izquierda o derecha") != NULL;
		}
	}
	assert_int_equal(own > 0, sides > 0);
	sample_packet_free(&sample);
}

/* Every kind of number has a sample: of patches and the like there is no line to show. */
static void no_kind_is_empty(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, PAPER_A4, row->large_print);
	for (size_t i = 0; i < sample.handout->n_sections; i++) {
		const struct before_sheet *sheet = sample.handout->sections[i].before;
		if (sample.handout->sections[i].kind != SECTION_BEFORE)
			continue;
		bool lines = strstr(row->plan, "perpetua") == NULL;
		assert_int_equal(sheet->n_kinds, lines ? 4 : 3);
		for (size_t j = 0; j < sheet->n_kinds; j++)
			assert_non_null(sheet->kinds[j].kind == NUMBER_LINE ? sheet->kinds[j].mark.number
			                                                    : sheet->kinds[j].sample);
	}
	sample_packet_free(&sample);
}

/* The clinic's emergency words stand in letters larger than a page's body, and all of them. */
static void emergency_is_large(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, PAPER_A4, row->large_print);
	size_t found = 0;
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		for (size_t j = 0; j < page->n; j++) {
			const struct placed_mark *mark = &page->marks[j];
			if (mark->kind != MARK_TEXT ||
			    (strstr(text_string(mark->text.block), "call the emergency number") == NULL &&
			     strstr(text_string(mark->text.block), "llame a emergencias") == NULL))
				continue;
			assert_true(text_style_of(mark->text.block)->size >= (row->large_print ? 24 : 17));
			found++;
		}
	}
	assert_int_equal(found, 1);
	sample_packet_free(&sample);
}

/* A graded word stands before them: what they speak of can kill. */
static void emergency_is_a_warning(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, PAPER_A4, row->large_print);
	bool spanish = strstr(row->plan, "paloma") != NULL;
	size_t words = 0;
	size_t triangles = 0;
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		if (sample.handout->sections[page->section].kind != SECTION_BEFORE)
			continue;
		words += count_text(page, spanish ? "ADVERTENCIA" : "WARNING");
		for (size_t j = 0; j < page->n; j++)
			triangles +=
				page->marks[j].kind == MARK_PICTURE && page->marks[j].picture.pictogram == PICTURE_HEED;
	}
	assert_int_equal(words, 1);
	assert_int_equal(triangles, 1);
	sample_packet_free(&sample);
}

/* What a unit or a day is stands there, of those that the packet has: by hand from the samples' plans. */
static void short_words_are_explained(void **state)
{
	static const struct {
		const char *plan;
		const char *words[6];
	} plans[] = {
		{"samples/plans/mara.yaml",
	         {"mcg, mg: weight, 1,000\u00a0mcg are 1\u00a0mg", "units: how strong a dose is", "mL: how much liquid",
	          "syringe units: lines on that syringe", "U-100: the kind of insulin syringe", "day 1: Fri 4 Dec"}},
		{"samples/plans/tilda.yaml", {"units: how strong a dose is", "day 1: Sat 5 Dec"}}};
	(void)state;
	for (size_t i = 0; i < sizeof plans / sizeof *plans; i++) {
		struct sample_packet sample = sample_packet_of(plans[i].plan, PAPER_A4);
		const struct placed_page *page = NULL;
		for (size_t j = 0; j < sample.packet->n; j++)
			if (sample.handout->sections[sample.packet->pages[j].section].kind == SECTION_BEFORE)
				page = &sample.packet->pages[j];
		assert_non_null(page);
		for (size_t j = 0; j < 6 && plans[i].words[j] != NULL; j++)
			assert_int_equal(count_text(page, plans[i].words[j]), 1);
		assert_int_equal(count_text_beginning(page, "mL:"), i == 0 ? 1 : 0);
		assert_int_equal(count_text_beginning(page, "U-100:"), i == 0 ? 1 : 0);
		sample_packet_free(&sample);
	}
}

/* It is one page on either paper, however many signs there are. */
static void it_is_one_page(void **state)
{
	const struct row *row = case_of(state)->row;
	for (int paper = 0; paper < 2 && !row->large_print; paper++) {
		struct sample_packet sample = sample_packet_in(row->plan, paper == 0 ? PAPER_A4 : PAPER_LETTER, false);
		size_t pages = 0;
		for (size_t i = 0; i < sample.packet->n; i++)
			pages += sample.handout->sections[sample.packet->pages[i].section].kind == SECTION_BEFORE;
		assert_int_equal(pages, 1);
		sample_packet_free(&sample);
	}
}

int main(void)
{
	struct arena *arena = arena_new();
	struct row *rows = arena_alloc(arena, 2 * n_sample_plans * sizeof *rows);
	struct tests tests = {0};
	for (size_t i = 0; i < 2 * n_sample_plans; i++) {
		rows[i] = (struct row){sample_plans[i / 2], i % 2 == 1};
		const char *name =
			arena_printf(arena, "%s%s", rows[i].plan, rows[i].large_print ? ", large print" : "");
		tests_add(&tests, arena_printf(arena, "%s: explained", name), explained, &rows[i]);
		tests_add(&tests, arena_printf(arena, "%s: whose left", name), left_is_the_wearers, &rows[i]);
		tests_add(&tests, arena_printf(arena, "%s: kinds of number", name), no_kind_is_empty, &rows[i]);
		tests_add(&tests, arena_printf(arena, "%s: emergency", name), emergency_is_large, &rows[i]);
		tests_add(&tests, arena_printf(arena, "%s: warning", name), emergency_is_a_warning, &rows[i]);
		tests_add(&tests, arena_printf(arena, "%s: one page", name), it_is_one_page, &rows[i]);
	}
	tests_add(&tests, "short words", short_words_are_explained, NULL);
	int failed = tests_run(&tests, "signs");
	arena_free(arena);
	return failed;
}
