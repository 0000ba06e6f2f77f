/*
 * Page numbers agree with themselves: every section of every sample, placed once more by the numbers that the packet
 * came to, gives the pages that it has.
 *
 * compose.c places a section anew only where a number that it reads has changed. The slow way below knows nothing of
 * that: from the numbers that the packet's pages have it places all sections, counts their pages, and does so until no
 * number moves. Numbers that did not agree with themselves would move away from where they began. No sample's numbers go
 * round in a circle: all settle without the room of long numbers that compose.c has for such ones.
 */
#include "page/sections.h"
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_packets.h"

#include <stdlib.h>
#include <string.h>

#define MOST_ROUNDS 10

struct row {
	const char *plan;
	enum paper paper;
	bool large_print;
	const char *language;
};

/* The sections of a packet in the order of its pages. */
struct order {
	section_ref *list;
	size_t n;
};

static struct order order_of(struct arena *arena, const struct placed_packet *packet)
{
	struct order order = {.list = arena_alloc(arena, packet->n * sizeof(section_ref))};
	for (size_t i = 0; i < packet->n; i++)
		if (i == 0 || packet->pages[i].section != packet->pages[i - 1].section)
			order.list[order.n++] = packet->pages[i].section;
	return order;
}

static const struct placed_section *place(const struct sample_packet *sample, const struct numbering *numbers,
                                          section_ref section)
{
	struct findings findings = findings_in(sample->arena);
	struct composer composer =
		composer_of(sample->arena, sample->handout, sample->typesetter, &findings, numbers, section);
	section_place(&composer);
	return composer_finish(&composer);
}

static struct numbering *count_pages(const struct sample_packet *sample, struct order order,
                                     const struct placed_section **placed)
{
	struct numbering *numbers = numbering_blank(sample->arena, sample->handout->n_sections);
	for (size_t i = 0; i < order.n; i++) {
		const struct section *section = &sample->handout->sections[order.list[i]];
		int *last = section->staff    ? &numbers->n_staff
		            : section->notice ? &numbers->n_notice
		                              : &numbers->n_patient;
		struct section_pages *pages = &numbers->sections[order.list[i]];
		*pages = placed[i]->own;
		pages->first = *last + 1;
		*last += pages->n;
	}
	return numbers;
}

static bool numbers_equal(struct arena *arena, const struct numbering *a, const struct numbering *b)
{
	unsigned char *all = arena_alloc(arena, a->n_sections);
	memset(all, 0xFF, a->n_sections);
	return numbering_agrees(a, b, all) && a->n_patient == b->n_patient && a->n_staff == b->n_staff &&
	       a->n_notice == b->n_notice;
}

static const char *text_of(const struct placed_mark *mark)
{
	switch ((int)mark->kind) {
	case MARK_TEXT:
		return text_string(mark->text.block);
	case MARK_CODE:
		return mark->code.payload;
	case MARK_GROUP_BEGIN:
		return mark->group.alt == NULL ? "" : mark->group.alt;
	default:
		return "";
	}
}

static const char *mark_told(struct arena *arena, const struct placed_mark *mark)
{
	struct rect area = mark->area;
	return arena_printf(arena, "kind %d at %.3f, %.3f, %.3f by %.3f '%s'", (int)mark->kind, area.x, area.y,
	                    area.width, area.height, text_of(mark));
}

static bool marks_equal(const struct placed_mark *a, const struct placed_mark *b)
{
	return a->kind == b->kind && memcmp(&a->area, &b->area, sizeof a->area) == 0 &&
	       strcmp(text_of(a), text_of(b)) == 0;
}

static void assert_pages_equal(struct arena *arena, const struct placed_page *page, const struct placed_page *again)
{
	assert_string_equal(page->label, again->label);
	for (size_t i = 0; i < page->n && i < again->n; i++)
		if (!marks_equal(&page->marks[i], &again->marks[i]))
			fail_msg("page %s, mark %zu: %s; again: %s", page->label, i, mark_told(arena, &page->marks[i]),
			         mark_told(arena, &again->marks[i]));
	if (page->n != again->n)
		fail_msg("page %s has %zu marks; again: %zu", page->label, page->n, again->n);
}

static void assert_packet_equal(const struct sample_packet *sample, struct order order, const struct numbering *numbers,
                                const struct placed_section **placed)
{
	size_t n = 0;
	for (size_t i = 0; i < order.n; i++) {
		struct findings findings = findings_in(sample->arena);
		struct composer composer = composer_of(sample->arena, sample->handout, sample->typesetter, &findings,
		                                       numbers, order.list[i]);
		for (int page = 0; page < placed[i]->own.n; page++, n++) {
			struct placed_page again = composer_number_page(&composer, placed[i], page);
			if (n == sample->packet->n)
				fail_msg("page %s is not in the packet", again.label);
			assert_pages_equal(sample->arena, &sample->packet->pages[n], &again);
		}
	}
	assert_int_equal(n, sample->packet->n);
}

/* Where each section stands; what else is known of its pages comes with placing them. */
static struct numbering *numbers_of(const struct sample_packet *sample)
{
	struct numbering *numbers = numbering_blank(sample->arena, sample->handout->n_sections);
	for (size_t i = 0; i < sample->packet->n; i++) {
		const struct placed_page *page = &sample->packet->pages[i];
		const struct section *section = &sample->handout->sections[page->section];
		struct section_pages *pages = &numbers->sections[page->section];
		int number = atoi(page->label + (section->staff || section->notice));
		int *last = section->staff    ? &numbers->n_staff
		            : section->notice ? &numbers->n_notice
		                              : &numbers->n_patient;
		pages->first = pages->n++ == 0 ? number : pages->first;
		*last = number;
	}
	return numbers;
}

static void placing_all_again_gives_the_same(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_said(row->plan, row->paper, row->large_print, row->language);
	struct order order = order_of(sample.arena, sample.packet);
	const struct placed_section **placed = arena_alloc(sample.arena, order.n * sizeof(struct placed_section *));
	struct numbering *numbers = numbers_of(&sample);
	bool settled = false;
	for (int round = 0; round < MOST_ROUNDS && !settled; round++) {
		for (size_t i = 0; i < order.n; i++)
			placed[i] = place(&sample, numbers, order.list[i]);
		struct numbering *counted = count_pages(&sample, order, placed);
		settled = numbers_equal(sample.arena, numbers, counted);
		numbers = counted;
	}
	if (!settled)
		fail_msg("numbers still move after %d rounds", MOST_ROUNDS);
	assert_packet_equal(&sample, order, numbers, placed);
	sample_packet_free(&sample);
}

/* Labels stand on the last page of a split: a front, and the page behind it is empty. */
static void what_is_cut_out_has_nothing_behind_it(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_said(row->plan, row->paper, row->large_print, row->language);
	const struct placed_page *pages = sample.packet->pages;
	for (size_t i = 0; i < sample.packet->n; i++) {
		if (sample.handout->sections[pages[i].section].kind != SECTION_SPLIT ||
		    pages[i + 1].section == pages[i].section)
			continue;
		const struct split_sheet *split = sample.handout->sections[pages[i].section].split;
		assert_int_equal(count_text_beginning(&pages[i], split->labels_heading), split->n_labels > 0);
		assert_int_equal(atoi(pages[i].label) % 2, 1);
		const struct section *behind = &sample.handout->sections[pages[i + 1].section];
		assert_int_equal(behind->kind, SECTION_NOTES);
		assert_true(behind->notes->empty);
	}
	sample_packet_free(&sample);
}

int main(void)
{
	struct arena *arena = arena_new();
	struct row *rows = arena_alloc(arena, 8 * n_sample_plans * sizeof *rows);
	struct tests tests = {0};
	for (size_t i = 0; i < 8 * n_sample_plans; i++) {
		struct row *row = &rows[i];
		*row = (struct row){sample_plans[i / 8], i % 2 == 0 ? PAPER_A4 : PAPER_LETTER, i % 4 >= 2,
		                    i % 8 >= 4 ? "es" : "en"};
		tests_add(&tests,
		          arena_printf(arena, "%s, %s, on %s%s: placing all again", row->plan, row->language,
		                       row->paper == PAPER_A4 ? "A4" : "Letter",
		                       row->large_print ? ", large print" : ""),
		          placing_all_again_gives_the_same, row);
		tests_add(&tests,
		          arena_printf(arena, "%s, %s, on %s%s: labels", row->plan, row->language,
		                       row->paper == PAPER_A4 ? "A4" : "Letter",
		                       row->large_print ? ", large print" : ""),
		          what_is_cut_out_has_nothing_behind_it, row);
	}
	int failed = tests_run(&tests, "settled numbers");
	arena_free(arena);
	return failed;
}
