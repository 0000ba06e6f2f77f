/*
 * compose.c - rounds of placing until the page numbers agree with themselves.
 *
 * A page number changes a layout only through the width of "page 9" against
 * "page 10", so the second or third round is the last in practice. A packet
 * that still moves after ROUNDS_MOST is refused rather than printed with a
 * reference to a wrong page.
 */
#include "page/compose.h"

#include "page/sections.h"

#include <assert.h>

#define ROUNDS_MOST 8

/*
 * A packet is printed on both sides. The notice of a change is a sheet of its own. A medicine's front must not be the back of
 * another sheet, or its back stands on the next one; and the patient's last page
 * must be a back, or the staff's first one stands behind it.
 */
static bool notes_needed(const struct composer *composer, const struct section *section)
{
	const struct section *next = section + 1;
	if (section->notice)
		return composer->n_notice % 2 != 0;
	bool next_is_back = composer->n_patient % 2 != 0;
	if (next->kind == SECTION_MEDICINE || next->kind == SECTION_EXACT || next->kind == SECTION_PEN)
		return next_is_back;
	/* What is counted out mostly takes one page, and that may be a back. */
	if (next->kind == SECTION_COUNTED)
		return next_is_back && composer_pages_of(composer, composer_section_ref(composer) + 1) > 1;
	return !next_is_back;
}

static void place_section(struct composer *composer, const struct section *section)
{
	switch (section->kind) {
	case SECTION_OVERVIEW:
		overview_place(composer, section->overview);
		break;
	case SECTION_GRID:
		grid_place(composer, section->grid);
		break;
	case SECTION_MEDICINE:
		medicine_place(composer, section->medicine);
		break;
	case SECTION_SPLIT:
		split_place(composer, section->split);
		break;
	case SECTION_PEN:
		pen_place(composer, section->pen);
		break;
	case SECTION_PENS:
		pens_place(composer, section->pens);
		break;
	case SECTION_COUNTED:
		counted_place(composer, section->counted);
		break;
	case SECTION_EXACT:
		exact_place(composer, section->exact);
		break;
	case SECTION_WAITING:
		waiting_place(composer, section->waiting);
		break;
	case SECTION_OPTIONS:
		options_place(composer, section->options);
		break;
	case SECTION_CHANGE:
		change_place(composer, section->change);
		break;
	case SECTION_NOTES:
		if (notes_needed(composer, section))
			notes_place(composer, section->notes);
		break;
	case SECTION_SUPPLIES:
		supplies_place(composer, section->supplies);
		break;
	case SECTION_BEFORE:
		before_place(composer, section->before);
		break;
	case SECTION_TEACH:
		teach_place(composer, section->teach);
		break;
	case SECTION_CHECK:
		check_place(composer, section->check);
		break;
	case SECTION_BLIND:
		blind_place(composer, section->blind);
		break;
	}
}

static void place_all(struct composer *composer)
{
	for (size_t i = 0; i < composer->handout->n_sections; i++) {
		composer_begin_section(composer, (section_ref)i);
		place_section(composer, composer->section);
	}
}

const struct placed_packet *compose_packet(struct arena *arena, const struct handout *handout,
                                           struct typesetter *typesetter, struct findings *findings)
{
	const struct numbering *last = NULL;
	for (int round = 0; round < ROUNDS_MOST; round++) {
		struct findings of_round = findings_in(arena);
		struct composer composer = composer_of(arena, handout, typesetter, &of_round, last);
		place_all(&composer);
		const struct placed_packet *packet = composer_finish(&composer);
		const struct numbering *numbers = composer_numbering(&composer);
		if (last == NULL || !numbering_equal(last, numbers)) {
			last = numbers;
			continue;
		}
		for (size_t i = 0; i < of_round.n; i++)
			findings_add(findings, of_round.list[i].level, of_round.list[i].code, of_round.list[i].place,
			             "%s", of_round.list[i].says);
		return findings_stop(&of_round) ? NULL : packet;
	}
	findings_add(findings, FINDING_STOP, "pages-unsettled", handout->record->course->plan->place,
	             "the page numbers do not settle; shorten a name or a text a little");
	return NULL;
}
