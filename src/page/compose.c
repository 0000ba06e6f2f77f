/*
 * compose.c - rounds of placing until the page numbers agree with themselves.
 *
 * A page number changes a layout only through the width of "page 9" against
 * "page 10", so the second or third round is the last in practice. Where "page
 * 31" needs a line more than "page 30", and this line a page more, the numbers
 * may go round in a circle: from ROUNDS_FULL on, pages are filled less and less,
 * so that the page is needed with either number. A packet that still moves after
 * ROUNDS_MOST is refused rather than printed with a reference to a wrong page.
 */
#include "page/compose.h"

#include "page/sections.h"

#include <assert.h>

#define ROUNDS_FULL 4
#define ROUNDS_MOST 14
#define SPARED_STEP 4.0 /* what a page is filled less by, every second round */

/* Which sections of a round stand on pages already: one may be placed before its turn. */
struct placing {
	struct composer *composer;
	bool *placed;     /* of each section */
	section_ref last; /* the one placed last; -1 before the first */
};

/*
 * The sheet of an exact time whose getting ready begins at `first`: that page
 * faces it, so that alarms and getting ready are seen as one. -1: there is none.
 */
static section_ref exact_after(const struct handout *handout, section_ref first)
{
	const struct section *section = &handout->sections[first];
	if (section->kind != SECTION_MEDICINE || !section->medicine->back_elsewhere)
		return -1;
	for (section_ref i = first + 1; (size_t)i < handout->n_sections; i++)
		if (handout->sections[i].kind == SECTION_EXACT)
			return i;
		else if (handout->sections[i].kind != SECTION_SPLIT && handout->sections[i].kind != SECTION_NOTES)
			return -1;
	return -1;
}

static int pages_between(const struct composer *composer, section_ref from, section_ref to)
{
	int n = 0;
	for (section_ref i = from; i < to; i++)
		if (composer->handout->sections[i].kind != SECTION_NOTES)
			n += composer_pages_of(composer, i);
	return n;
}

/*
 * A packet is printed on both sides. The notice of a change is a sheet of its
 * own. A medicine of a front and a back must not begin on the back of another
 * sheet; one of an odd number of pages may, since it turns the paper either way.
 * An exact time stands on a front. The patient's last page must be a back, or the
 * staff's first one stands behind it.
 */
static bool back_to_fill(const struct placing *placing, section_ref notes)
{
	const struct composer *composer = placing->composer;
	const struct handout *handout = composer->handout;
	const struct section *section = &handout->sections[notes];
	const struct section *next = section + 1;
	if (section->notice)
		return composer->n_notice % 2 != 0;
	if (placing->placed[notes + 1])
		return false;
	bool next_is_back = composer->n_patient % 2 != 0;
	int pages = composer_pages_of(composer, notes + 1);
	if (next->kind == SECTION_EXACT)
		return next_is_back;
	if (next->kind == SECTION_BEFORE)
		return (composer->n_patient + pages) % 2 != 0;
	/* A medicine's large print is no sheet but many: only the exact time keeps its front. */
	if (handout->large_print)
		return false;
	section_ref exact = exact_after(handout, notes + 1);
	if (exact >= 0)
		return (composer->n_patient + pages_between(composer, notes + 1, exact)) % 2 != 0;
	return next_is_back && pages % 2 == 0;
}

/* What to write down for a medicine belongs to the sheet before or after. */
static bool belongs_here(const struct placing *placing, section_ref notes, const struct section *loose)
{
	const struct section *sections = placing->composer->handout->sections;
	if (loose->kind != SECTION_WAITING && loose->kind != SECTION_OPTIONS)
		return false;
	return loose->item == sections[notes + 1].item ||
	       (placing->last >= 0 && loose->item == sections[placing->last].item);
}

/*
 * A later section of one page that may stand where otherwise there would be
 * nothing but lines to write on; -1 if there is none. What is counted out may
 * stand behind any sheet; the supplies, where nothing of a medicine is left.
 */
static section_ref section_for_back(const struct placing *placing, section_ref notes)
{
	const struct handout *handout = placing->composer->handout;
	section_ref counted = -1;
	section_ref supplies = -1;
	if (handout->sections[notes].notice)
		return -1;
	for (section_ref i = notes + 1; (size_t)i < handout->n_sections; i++) {
		const struct section *section = &handout->sections[i];
		if (placing->placed[i] || composer_pages_of(placing->composer, i) > 1)
			continue;
		if (belongs_here(placing, notes, section))
			return i;
		if (section->kind == SECTION_COUNTED && counted < 0)
			counted = i;
		if (section->kind == SECTION_SUPPLIES)
			supplies = i;
	}
	return counted >= 0 ? counted : supplies;
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

static void place_one(struct placing *placing, section_ref section)
{
	composer_begin_section(placing->composer, section);
	place_section(placing->composer, placing->composer->section);
	placing->placed[section] = true;
	placing->last = section;
}

static void place_all(struct composer *composer)
{
	const struct handout *handout = composer->handout;
	struct placing placing = {.composer = composer,
	                          .placed = arena_alloc(composer->arena, handout->n_sections * sizeof *placing.placed),
	                          .last = -1};
	for (section_ref i = 0; (size_t)i < handout->n_sections; i++) {
		if (handout->sections[i].kind != SECTION_NOTES) {
			if (!placing.placed[i])
				place_one(&placing, i);
		} else if (back_to_fill(&placing, i)) {
			section_ref other = section_for_back(&placing, i);
			place_one(&placing, other < 0 ? i : other);
		}
	}
}

/* The first round, for its numbers: nothing that it makes stands, so its memory is given back. */
static const struct numbering *first_numbers(struct arena *arena, const struct handout *handout,
                                             struct typesetter *typesetter)
{
	struct arena *scratch = arena_new();
	struct findings findings = findings_in(scratch);
	struct composer composer = composer_of(scratch, handout, typesetter, &findings, NULL);
	place_all(&composer);
	composer_finish(&composer);
	const struct numbering *numbers = numbering_copy(arena, composer_numbering(&composer));
	arena_free(scratch);
	return numbers;
}

const struct placed_packet *compose_packet(struct arena *arena, const struct handout *handout,
                                           struct typesetter *typesetter, struct findings *findings)
{
	const struct numbering *last = first_numbers(arena, handout, typesetter);
	for (int round = 1; round < ROUNDS_MOST; round++) {
		struct findings of_round = findings_in(arena);
		struct composer composer = composer_of(arena, handout, typesetter, &of_round, last);
		if (round >= ROUNDS_FULL)
			composer.spared = SPARED_STEP * (1 + (round - ROUNDS_FULL) / 2);
		place_all(&composer);
		const struct placed_packet *packet = composer_finish(&composer);
		const struct numbering *numbers = composer_numbering(&composer);
		if (!numbering_equal(last, numbers)) {
			last = numbers;
			continue;
		}
		findings_add_all(findings, &of_round);
		return findings_stop(&of_round) ? NULL : packet;
	}
	findings_add(findings, FINDING_STOP, "pages-unsettled", handout->record->course->plan->place,
	             "the page numbers do not settle; shorten a name or a text a little");
	return NULL;
}
