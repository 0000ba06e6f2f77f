/*
 * The order in which a medicine's sheet is read: what it is and how it goes in, what it is for, what must be known
 * before, what to lay out, then the steps; and behind them how to keep it, what to throw away, and what if it is late.
 */
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_packets.h"

#include <string.h>

struct row {
	const char *plan;
	enum paper paper;
	bool large_print;
};

static const struct medicine_sheet *sheet_of(const struct section *section)
{
	if (section->kind == SECTION_MEDICINE)
		return section->medicine;
	if (section->kind == SECTION_PEN)
		return section->pen->sheet;
	return section->kind == SECTION_COUNTED ? section->counted->sheet : NULL;
}

/* Where a text, or one that holds it, is read among all texts of a section's pages; -1: nowhere. */
static int place_of(const struct sample_packet *sample, section_ref section, const char *text)
{
	int place = 0;
	for (size_t i = 0; i < sample->packet->n; i++) {
		const struct placed_page *page = &sample->packet->pages[i];
		for (size_t j = 0; page->section == section && j < page->n; j++, place++)
			if (page->marks[j].kind == MARK_TEXT &&
			    strstr(text_string(page->marks[j].text.block), text) != NULL)
				return place;
	}
	return -1;
}

static void assert_in_order(const struct sample_packet *sample, section_ref section, const char *first,
                            const char *second)
{
	int before = place_of(sample, section, first);
	int after = place_of(sample, section, second);
	if (before < 0 || after < 0 || before >= after)
		fail_msg("'%s' is read at %d, '%s' at %d", first, before, second, after);
}

static void read_in_order(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, row->paper, row->large_print);
	for (section_ref i = 0; (size_t)i < sample.handout->n_sections; i++) {
		const struct medicine_sheet *sheet = sheet_of(&sample.handout->sections[i]);
		if (sheet == NULL)
			continue;
		const char *name = sheet->dose->item->medicine->name;
		const char *prepare = sheet->n_lay_out > 0 ? sheet->lay_out_heading : sheet->first[0].title;
		assert_non_null(sheet->purpose);
		assert_in_order(&sample, i, name, sheet->purpose);
		assert_in_order(&sample, i, sheet->purpose, sheet->call_heading);
		assert_in_order(&sample, i, sheet->call_heading, prepare);
		assert_in_order(&sample, i, prepare, sheet->first[sheet->n_first - 1].title);
		if (sheet->back_elsewhere)
			continue;
		for (size_t note = 0; note + 1 < sheet->n_notes; note++)
			assert_in_order(&sample, i, sheet->notes[note].heading, sheet->notes[note + 1].heading);
	}
	sample_packet_free(&sample);
}

static bool has_steps_below(const struct medicine_sheet *sheet)
{
	return sheet->n_back > 0 && sheet->part == NULL && sheet->chain == NULL && sheet->muscle == NULL &&
	       sheet->draw->measure == MEASURE_SYRINGE && sheet->draw->mark.syringe != NULL;
}

static void assert_print_checked_first(const struct sample_packet *sample, section_ref section,
                                       const struct medicine_sheet *sheet)
{
	const char *check = "Check your printer";
	if (place_of(sample, section, check) >= 0 && strstr(sheet->true_size, "lay yours") != NULL)
		assert_in_order(sample, section, check, sheet->true_size);
}

/*
 * The printer is checked, then the line is shown, and where to inject, which is asked for last, right above the steps;
 * without a window the place comes first. What the steps cite stands under a heading of its own.
 */
static void backs_are_read_in_order(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, row->paper, false);
	for (section_ref i = 0; (size_t)i < sample.handout->n_sections; i++) {
		const struct section *section = &sample.handout->sections[i];
		if (section->kind != SECTION_MEDICINE || section->medicine->back_elsewhere ||
		    !has_steps_below(section->medicine))
			continue;
		const struct medicine_sheet *sheet = section->medicine;
		bool window = !sheet->draw->mark.all && sheet->draw->mark.line == LINE_DRAW;
		/* As far as its first bold word: what is shown has no signs of that. */
		const char *line = arena_strndup(case_of(state)->arena, sheet->window_text,
		                                 strcspn(sheet->window_text, TEXT_BOLD_ON));
		assert_print_checked_first(&sample, i, sheet);
		assert_in_order(&sample, i, sheet->stop_heading, line);
		assert_in_order(&sample, i, line, sheet->back[0].title);
		if (sheet->place == NULL)
			continue;
		/* Where the skin is wiped on the front, the place is read there. */
		window = window && sheet->place->asked_on == ASKED_ON_BACK;
		assert_in_order(&sample, i, window ? line : sheet->place->text, window ? sheet->place->text : line);
		assert_in_order(&sample, i, sheet->place->text, sheet->back[0].title);
	}
	sample_packet_free(&sample);
}

static size_t times_said(const struct sample_packet *sample, const struct item *item, const char *word)
{
	size_t n = 0;
	for (size_t i = 0; i < sample->packet->n; i++) {
		const struct placed_page *page = &sample->packet->pages[i];
		const struct section *section = &sample->handout->sections[page->section];
		bool sheet = sheet_of(section) != NULL || section->kind == SECTION_EXACT;
		n += sheet && section->item == item ? count_text(page, word) : 0;
	}
	return n;
}

/* A caution is said once a sheet, be that with the exact time's, and before the first numbered step of the line. */
static void cautions_are_said_once(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, row->paper, row->large_print);
	for (section_ref i = 0; (size_t)i < sample.handout->n_sections; i++) {
		const struct section *section = &sample.handout->sections[i];
		const struct medicine_sheet *sheet = sheet_of(section);
		size_t sheets = 0;
		for (size_t j = 0; j < sample.handout->n_sections; j++)
			sheets += sheet_of(&sample.handout->sections[j]) != NULL &&
			          sample.handout->sections[j].item == section->item;
		if (sheet == NULL || sheet->caution == NULL)
			continue;
		assert_true(place_of(&sample, i, "CAUTION") >= 0 || sheet->back_elsewhere);
		assert_int_equal(times_said(&sample, section->item, "CAUTION"), sheets);
	}
	sample_packet_free(&sample);
}

/* What both sides belong to is known before anything is mixed: on Mara's A4 sheets every front has room for it. */
static void cautions_stand_in_front(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_in("samples/plans/mara.yaml", PAPER_A4, false);
	size_t fronts = 0;
	for (section_ref i = 0; (size_t)i < sample.handout->n_sections; i++) {
		const struct medicine_sheet *sheet = sheet_of(&sample.handout->sections[i]);
		if (sheet == NULL || sheet->caution == NULL)
			continue;
		assert_in_order(&sample, i, sheet->caution, sheet->lay_out_heading);
		fronts++;
	}
	assert_int_equal(fronts, 3); /* Examplin half and whole, Fictivane */
	sample_packet_free(&sample);
}

/* The next mark of a side behind a body is that of its side; NONE where there is none. */
static enum side sign_after(const struct placed_page *page, size_t index)
{
	for (size_t i = index + 1; i < page->n; i++)
		if (page->marks[i].kind == MARK_SIDE)
			return page->marks[i].side.side;
	return SIDE_NONE;
}

static bool has_site(const struct medicine *medicine, const char *site)
{
	for (size_t i = 0; i < medicine->n_sites; i++)
		if (strcmp(medicine->sites[i], site) == 0)
			return true;
	return false;
}

/* The body shows the places that the medicine names and no other, on the side of the sign beside it. */
static void bodies_show_the_places(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, row->paper, row->large_print);
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		const struct item *item = sample.handout->sections[page->section].item;
		for (size_t j = 0; j < page->n; j++) {
			if (page->marks[j].kind != MARK_BODY)
				continue;
			const struct body_figure *body = &page->marks[j].body;
			assert_non_null(item);
			assert_int_equal(body->belly, has_site(item->medicine, "abdomen"));
			assert_int_equal(body->thigh, has_site(item->medicine, "thigh"));
			assert_int_equal(body->side, sign_after(page, j));
		}
	}
	sample_packet_free(&sample);
}

static size_t bodies_of(const char *plan, bool large_print)
{
	struct sample_packet sample = sample_packet_in(plan, PAPER_A4, large_print);
	size_t n = 0;
	for (size_t i = 0; i < sample.packet->n; i++)
		for (size_t j = 0; j < sample.packet->pages[i].n; j++)
			n += sample.packet->pages[i].marks[j].kind == MARK_BODY;
	sample_packet_free(&sample);
	return n;
}

/*
 * Mara's plan has five sheets with a needle: four of several days, with a body for each side, and one of the last day,
 * with one. In normal print the place stands on the back, and where a step of the front asks for it, as Sampletide's and
 * Mockuline's do, there as well; in large print once. Tamsin's has one sheet that is not into the muscle, which is not
 * seen from the front: its front asks, and as part of a filled syringe it has the place on its back again.
 */
static void sheets_show_the_body(void **state)
{
	(void)state;
	assert_int_equal(bodies_of("samples/plans/mara.yaml", false), 9 + 2 * 2);
	assert_int_equal(bodies_of("samples/plans/mara.yaml", true), 9);
	assert_int_equal(bodies_of("samples/plans/tamsin.yaml", true), 2 * 2);
}

int main(void)
{
	struct arena *arena = arena_new();
	struct row *rows = arena_alloc(arena, 4 * n_sample_plans * sizeof *rows);
	struct tests tests = {0};
	for (size_t i = 0; i < 4 * n_sample_plans; i++) {
		struct row *row = &rows[i];
		*row = (struct row){sample_plans[i / 4], i % 2 == 0 ? PAPER_A4 : PAPER_LETTER, i % 4 >= 2};
		const char *form = arena_printf(arena, "%s on %s%s", row->plan, i % 2 == 0 ? "A4" : "Letter",
		                                row->large_print ? ", large print" : "");
		tests_add(&tests, arena_printf(arena, "%s: read in order", form), read_in_order, row);
		tests_add(&tests, arena_printf(arena, "%s: bodies show the places", form), bodies_show_the_places, row);
		if (!row->large_print && strstr(row->plan, "paloma") == NULL)
			tests_add(&tests, arena_printf(arena, "%s: backs are read in order", form),
			          backs_are_read_in_order, row);
		/* In Spanish the word is another. */
		if (strstr(row->plan, "paloma") == NULL)
			tests_add(&tests, arena_printf(arena, "%s: cautions are said once", form),
			          cautions_are_said_once, row);
	}
	tests_add(&tests, "cautions stand in front", cautions_stand_in_front, NULL);
	tests_add(&tests, "sheets show the body", sheets_show_the_body, NULL);
	int failed = tests_run(&tests, "order of a sheet");
	arena_free(arena);
	return failed;
}
