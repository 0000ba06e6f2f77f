/*
 * The small drawings beside a sheet's steps show the plunger where the sheet's own line is, whatever kind of page they
 * stand on: a drawing with another dose is a second, wrong line.
 */
#include "support/cases.h"
#include "support/sample_packets.h"

#include <math.h>

struct row {
	enum paper paper;
	bool large_print;
};

/* Of the sheet that a section's steps are those of; NULL: they draw no line of one dose. */
static const struct mark *line_of(const struct section *section)
{
	const struct medicine_sheet *sheet = section->kind == SECTION_MEDICINE ? section->medicine
	                                     : section->kind == SECTION_EXACT  ? section->exact->medicine
	                                                                       : NULL;
	if (sheet == NULL || sheet->draw->measure != MEASURE_SYRINGE)
		return NULL;
	const struct mark *mark = &sheet->draw->mark;
	return mark->syringe == NULL || mark->all || mark->line != LINE_DRAW ? NULL : mark;
}

static double millilitres(struct rational volume)
{
	return (double)volume.numerator / (double)volume.denominator;
}

/* How many drawings of steps stand there; each of them shows the share of the syringe that the line is at. */
static size_t check_page(const struct placed_page *page, const struct mark *mark)
{
	size_t n = 0;
	double share = millilitres(mark->at) / millilitres(mark->syringe->graduated);
	for (size_t i = 0; i < page->n; i++) {
		if (page->marks[i].kind != MARK_STEP)
			continue;
		double shown = page->marks[i].step.ring;
		if (fabs(shown - share) > 1e-9)
			fail_msg("page %s: '%s' shows %.3f of the syringe, the line is at %.3f", page->label,
			         page->marks[i].step.name, shown, share);
		n++;
	}
	return n;
}

static void rings_are_the_lines(void **state)
{
	const struct row *row = case_of(state)->row;
	size_t on_sheets = 0;
	size_t on_exact = 0;
	for (size_t plan = 0; plan < n_sample_plans; plan++) {
		struct sample_packet sample = sample_packet_in(sample_plans[plan], row->paper, row->large_print);
		for (size_t i = 0; i < sample.packet->n; i++) {
			const struct section *section = &sample.handout->sections[sample.packet->pages[i].section];
			const struct mark *mark = line_of(section);
			size_t n = mark == NULL ? 0 : check_page(&sample.packet->pages[i], mark);
			*(section->kind == SECTION_EXACT ? &on_exact : &on_sheets) += n;
		}
		sample_packet_free(&sample);
	}
	assert_true(on_sheets > 0);
	assert_true(on_exact > 0);
}

static const struct row rows[] = {{PAPER_A4, false}, {PAPER_LETTER, false}, {PAPER_A4, true}};

int main(void)
{
	struct tests tests = {0};
	tests_add(&tests, "A4", rings_are_the_lines, &rows[0]);
	tests_add(&tests, "Letter", rings_are_the_lines, &rows[1]);
	tests_add(&tests, "large print", rings_are_the_lines, &rows[2]);
	return tests_run(&tests, "step rings");
}
