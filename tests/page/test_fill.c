/*
 * How full pages are: of a page that goes on to another, and of one that goes on from another, a fair share is used.
 *
 * Every sample on both papers, in both languages, in normal and in large print. The pages of a medicine are meant; what
 * is written down for a call, and the staff's pages, end where they end.
 */
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_packets.h"

#include <math.h>
#include <string.h>

#define SHARE 0.35      /* of the height between head and foot */
#define LAST_SHARE 0.25 /* in large print of a last page: blocks are whole, and one may be all that is left */
#define FULL_RULE 179.0 /* how wide a head's and a foot's rule is at least */

struct row {
	const char *plan;
	enum paper paper;
	bool large_print;
	const char *language;
};

struct fill {
	double top;    /* the head's rule */
	double low;    /* where content ends */
	double bottom; /* the foot's rule */
};

/* The head ends and the foot begins with a rule across the column; the foot stands outside of the page's group. */
static struct fill fill_of(const struct placed_page *page)
{
	struct fill fill = {0, 0, page->height};
	int depth = 0;
	bool in_foot = false;
	for (size_t i = 0; i < page->n; i++) {
		const struct placed_mark *mark = &page->marks[i];
		depth += (mark->kind == MARK_GROUP_BEGIN) - (mark->kind == MARK_GROUP_END);
		in_foot = in_foot || (mark->kind == MARK_GROUP_END && depth == 0);
		if (mark->kind == MARK_GROUP_BEGIN || mark->kind == MARK_GROUP_END)
			continue;
		bool rule = mark->kind == MARK_RULE && mark->area.width > FULL_RULE;
		if (in_foot)
			fill.bottom = rule ? fmin(fill.bottom, mark->area.y) : fill.bottom;
		else if (fill.top == 0)
			fill.top = rule ? mark->area.y : 0;
		else
			fill.low = fmax(fill.low, mark->area.y + mark->area.height);
	}
	return fill;
}

static bool of_a_medicine(const struct section *section)
{
	return section->kind == SECTION_MEDICINE || section->kind == SECTION_SPLIT || section->kind == SECTION_PEN ||
	       section->kind == SECTION_PENS || section->kind == SECTION_COUNTED;
}

static void pages_are_used(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_said(row->plan, row->paper, row->large_print, row->language);
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		bool goes_on = i + 1 < sample.packet->n && page[1].section == page->section;
		bool went_on = i > 0 && page[-1].section == page->section;
		if (!of_a_medicine(&sample.handout->sections[page->section]) || (!goes_on && !went_on))
			continue;
		struct fill fill = fill_of(page);
		double share = (fill.low - fill.top) / (fill.bottom - fill.top);
		if (share < (row->large_print && !goes_on ? LAST_SHARE : SHARE))
			fail_msg("page %s is used to %.0f %%", page->label, 100 * share);
		assert_true(fill.low < fill.bottom);
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
		          arena_printf(arena, "%s, %s, on %s%s: pages are used", row->plan, row->language,
		                       row->paper == PAPER_A4 ? "A4" : "Letter",
		                       row->large_print ? ", large print" : ""),
		          pages_are_used, row);
	}
	int failed = tests_run(&tests, "fill");
	arena_free(arena);
	return failed;
}
