/*
 * Every sample plan on both papers, in normal and in large print: nothing overlaps, nothing leaves the live
 * column, nothing is set smaller than the least, pages are numbered through, and printed on both sides no sheet is torn apart.
 */
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_packets.h"

#include <stdlib.h>
#include <string.h>

struct row {
	const char *plan;
	enum paper paper;
	bool large_print;
};

static void no_fault(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, row->paper, row->large_print);
	const char *faults = packet_faults(case_of(state)->arena, sample.packet);
	if (*faults != '\0')
		print_error("%s", faults);
	assert_string_equal(faults, "");
	sample_packet_free(&sample);
}

/* The same sheet in the clinic's other language: longer words, other breaks. */
static void no_fault_in_spanish(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_said(row->plan, row->paper, row->large_print, "es");
	const char *faults = packet_faults(case_of(state)->arena, sample.packet);
	if (*faults != '\0')
		print_error("%s", faults);
	assert_string_equal(faults, "");
	sample_packet_free(&sample);
}

/* Patient's pages are 1, 2, 3 ..., then staff's S1, S2 ...; a notice's C1, C2. Each says its place among its own. */
static void numbered_through(void **state)
{
	const struct row *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	struct sample_packet sample = sample_packet_in(row->plan, row->paper, row->large_print);
	int patient = 0;
	int staff = 0;
	int notice = 0;
	int of_patient = 0;
	for (size_t i = 0; i < sample.packet->n; i++)
		of_patient += strchr("SC", sample.packet->pages[i].label[0]) == NULL;
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		bool is_staff = page->label[0] == 'S';
		bool is_notice = page->label[0] == 'C';
		const char *label = is_staff    ? arena_printf(arena, "S%d", ++staff)
		                    : is_notice ? arena_printf(arena, "C%d", ++notice)
		                                : arena_printf(arena, "%d", ++patient);
		assert_string_equal(page->label, label);
		if (!is_staff && !is_notice)
			assert_int_equal(count_text(page, say2(sample.speaker, "page.of", "n",
			                                       arena_printf(arena, "%d", patient), "of",
			                                       arena_printf(arena, "%d", of_patient))),
			                 1);
	}
	assert_true(patient > 0 && staff > 0);
	assert_int_equal(notice, strstr(row->plan, "mara-2") != NULL ? 2 : 0);
	sample_packet_free(&sample);
}

/* The code, the version and both telephones stand on every page; a draft says so on every page. The first page may say twice what to do in doubt. */
static void every_page_identifies_itself(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, row->paper, row->large_print);
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		bool staff = page->label[0] == 'S';
		assert_true(count_text(page, sample.record->code) == 1);
		bool spanish = !staff && strstr(row->plan, "paloma") != NULL;
		const char *version = spanish ? "versión 1" : strstr(row->plan, "mara-2") ? "version 2" : "version 1";
		assert_true(count_text_beginning(page, version) == 1);
		if (!staff && row->large_print)
			assert_true(count_text(page, spanish ? "Día 000 555 0142" : "Day 000 555 0142") == 1 &&
			            count_text(page, spanish ? "Noche 000 555 0199" : "Night 000 555 0199") == 1);
		else if (!staff)
			assert_true(count_text_beginning(page, spanish ? "¿Dudas? Pare y llame."
			                                               : "Unsure? Stop, call.") >= 1);
		bool draft = strstr(row->plan, "draft") != NULL;
		assert_int_equal(count_text_beginning(page, "DRAFT"), draft ? 1 : 0);
	}
	sample_packet_free(&sample);
}

static const struct section *section_of(const struct sample_packet *sample, section_ref ref)
{
	return &sample->packet->handout->sections[ref];
}

static int pages_of(const struct sample_packet *sample, section_ref ref)
{
	int n = 0;
	for (size_t i = 0; i < sample->packet->n; i++)
		n += sample->packet->pages[i].section == ref;
	return n;
}

/* Its draw steps stand on the back of an exact time. */
static bool gets_ready_for_exact(const struct section *section)
{
	return section->kind == SECTION_MEDICINE && section->medicine->back_elsewhere;
}

/*
 * Packets are printed on both sides: a front with a back to it begins on a front, in large print only the exact time;
 * what gets an exact time ready faces it; and the patient's last page is a back.
 */
static void sheets_begin_on_fronts(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, row->paper, row->large_print);
	int last = 0;
	section_ref before = -1;
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		const struct section *section = section_of(&sample, page->section);
		if (section->staff || section->notice)
			continue;
		last = atoi(page->label);
		bool first = page->section != before;
		before = page->section;
		bool sheet = section->kind == SECTION_MEDICINE || section->kind == SECTION_PEN ||
		             section->kind == SECTION_COUNTED;
		bool even = pages_of(&sample, page->section) % 2 == 0;
		if (row->large_print || gets_ready_for_exact(section))
			sheet = false;
		if (first && ((sheet && even) || section->kind == SECTION_EXACT))
			assert_int_equal(last % 2, 1);
		if (first && section->kind == SECTION_EXACT && section->exact->medicine != NULL && !row->large_print)
			assert_true(gets_ready_for_exact(section_of(&sample, sample.packet->pages[i - 1].section)));
	}
	assert_int_equal(last % 2, 0);
	sample_packet_free(&sample);
}

/* Each section stands once; lines for notes fill a page only where no other page of one side is left. */
static void no_back_is_wasted(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, row->paper, row->large_print);
	bool wasted = false;
	for (size_t i = 0; i < sample.packet->n; i++) {
		section_ref ref = sample.packet->pages[i].section;
		const struct section *section = section_of(&sample, ref);
		wasted = wasted || (section->kind == SECTION_NOTES && !section->notice && !section->notes->empty);
		if (wasted && !row->large_print &&
		    (section->kind == SECTION_COUNTED || section->kind == SECTION_SUPPLIES))
			assert_true(pages_of(&sample, ref) > 1);
		if (i > 0 && sample.packet->pages[i - 1].section != ref)
			for (size_t j = 0; j < i; j++)
				assert_true(sample.packet->pages[j].section != ref);
	}
	for (size_t i = 0; i < sample.packet->handout->n_sections; i++)
		assert_true(pages_of(&sample, (section_ref)i) > 0 ||
		            section_of(&sample, (section_ref)i)->kind == SECTION_NOTES);
	sample_packet_free(&sample);
}

/* What to write down for a call and which day is which are seen as one. */
static void waiting_is_one_page(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, row->paper, row->large_print);
	for (size_t i = 0; i < sample.packet->handout->n_sections && !row->large_print; i++)
		if (section_of(&sample, (section_ref)i)->kind == SECTION_WAITING)
			assert_int_equal(pages_of(&sample, (section_ref)i), 1);
	sample_packet_free(&sample);
}

/* The supplies of every sample stand on one page, and what the box says is in a page's own letters. */
static void supplies_are_one_page(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, row->paper, row->large_print);
	int pages = 0;
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		if (section_of(&sample, page->section)->kind != SECTION_SUPPLIES)
			continue;
		pages++;
		for (size_t j = 0; j < page->n; j++) {
			const struct placed_mark *mark = &page->marks[j];
			if (mark->kind == MARK_TEXT && strstr(text_string(mark->text.block), " \u00b7 ") != NULL &&
			    strstr(text_string(mark->text.block), "\u00b0C") != NULL)
				assert_true(text_style_of(mark->text.block)->size >= 12);
		}
	}
	assert_true(row->large_print || pages == 1);
	sample_packet_free(&sample);
}

static const char *row_name(struct arena *arena, const struct row *row, const char *what)
{
	return arena_printf(arena, "%s on %s%s: %s", row->plan, row->paper == PAPER_A4 ? "A4" : "Letter",
	                    row->large_print ? ", large print" : "", what);
}

int main(void)
{
	struct arena *arena = arena_new();
	struct row *rows = arena_alloc(arena, 4 * n_sample_plans * sizeof *rows);
	struct tests tests = {0};
	for (size_t i = 0; i < 4 * n_sample_plans; i++) {
		struct row *row = &rows[i];
		*row = (struct row){sample_plans[i / 4], i % 2 == 0 ? PAPER_A4 : PAPER_LETTER, i % 4 >= 2};
		tests_add(&tests, row_name(arena, row, "no fault"), no_fault, row);
		tests_add(&tests, row_name(arena, row, "no fault in Spanish"), no_fault_in_spanish, row);
		tests_add(&tests, row_name(arena, row, "numbered through"), numbered_through, row);
		tests_add(&tests, row_name(arena, row, "identifies itself"), every_page_identifies_itself, row);
		tests_add(&tests, row_name(arena, row, "sheets begin on fronts"), sheets_begin_on_fronts, row);
		tests_add(&tests, row_name(arena, row, "no back is wasted"), no_back_is_wasted, row);
		tests_add(&tests, row_name(arena, row, "waiting is one page"), waiting_is_one_page, row);
		tests_add(&tests, row_name(arena, row, "supplies are one page"), supplies_are_one_page, row);
	}
	int failed = tests_run(&tests, "sample packets");
	arena_free(arena);
	return failed;
}
