/*
 * compose.c - sections placed until the page numbers agree with themselves.
 *
 * Which page a section begins on follows from how many the ones before it take;
 * what is not placed yet is taken to have as many as such a section usually has.
 * A section is placed again only where a number that it shows has changed since
 * then: as those that name others come last, few have to be. Where "page 31" needs a
 * line more than "page 30", and this line a page more, the numbers may go round
 * in a circle. From ROUNDS_FULL on, numbers have the room of long ones; should
 * that not do, then from ROUNDS_WIDE on pages are filled less and less, so that
 * the page is needed with either number. A packet that still moves after ROUNDS_MOST
 * is refused rather than printed with a reference to a wrong page.
 */
#include "page/compose.h"

#include "page/sections.h"

#define ROUNDS_FULL 4
#define ROUNDS_WIDE 6
#define ROUNDS_MOST 16
#define LONG_NUMBER 3   /* digits */
#define SPARED_STEP 4.0 /* what a page is filled less by, every second round */

struct composing {
	struct arena *arena;
	const struct handout *handout;
	struct typesetter *typesetter;
	struct open_marks *marks;
	const struct placed_section **placed; /* each section as it was placed last; NULL: not yet */
	struct findings *findings;            /* of each section, when it was placed last */
	double spared;                        /* of every page's height */
	int digits_least;                     /* of every page's number */
};

/* Which sections stand on pages, in this order, and on which. One may stand before its turn. */
struct arrangement {
	const struct composing *composing;
	struct numbering *numbers;
	section_ref *order;
	size_t n;
	bool *stands; /* of each section */
};

/* ---- which page a section begins on ---- */

/* What is not placed yet has as many pages as such a section usually has; a wrong guess only costs time. */
static int usual_pages(const struct section *section)
{
	switch (section->kind) {
	case SECTION_MEDICINE:
	case SECTION_PEN:
	case SECTION_PENS:
	case SECTION_EXACT:
	case SECTION_CHECK:
		return 2;
	case SECTION_OVERVIEW:
	case SECTION_GRID:
	case SECTION_SPLIT:
	case SECTION_COUNTED:
	case SECTION_WAITING:
	case SECTION_OPTIONS:
	case SECTION_CHANGE:
	case SECTION_NOTES:
	case SECTION_SUPPLIES:
	case SECTION_BEFORE:
	case SECTION_TEACH:
	case SECTION_BLIND:
		return 1;
	}
	return 1;
}

static struct section_pages pages_of(const struct composing *composing, section_ref section)
{
	const struct placed_section *placed = composing->placed[section];
	if (placed != NULL)
		return placed->own;
	return (struct section_pages){.n = usual_pages(&composing->handout->sections[section])};
}

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

static int pages_between(const struct composing *composing, section_ref from, section_ref to)
{
	int n = 0;
	for (section_ref i = from; i < to; i++)
		if (composing->handout->sections[i].kind != SECTION_NOTES)
			n += pages_of(composing, i).n;
	return n;
}

/*
 * A packet is printed on both sides. The notice of a change is a sheet of its
 * own. A medicine of a front and a back must not begin on the back of another
 * sheet; one of an odd number of pages may, since it turns the paper either way.
 * An exact time stands on a front, and so do labels to cut out, at the end of a
 * split: nothing at all is behind them. The patient's last page must be a back, or the
 * staff's first one stands behind it.
 */
static bool back_to_fill(const struct arrangement *arrangement, section_ref notes)
{
	const struct composing *composing = arrangement->composing;
	const struct numbering *numbers = arrangement->numbers;
	const struct handout *handout = composing->handout;
	const struct section *section = &handout->sections[notes];
	const struct section *next = section + 1;
	if (section->notice)
		return numbers->n_notice % 2 != 0;
	bool next_is_back = numbers->n_patient % 2 != 0;
	if (section->notes->empty)
		return next_is_back;
	if (arrangement->stands[notes + 1])
		return false;
	int pages = pages_of(composing, notes + 1).n;
	if (next->kind == SECTION_SPLIT)
		return (numbers->n_patient + pages) % 2 == 0;
	if (next->kind == SECTION_EXACT)
		return next_is_back;
	if (next->kind == SECTION_BEFORE)
		return (numbers->n_patient + pages) % 2 != 0;
	/* A medicine's large print is no sheet but many: only the exact time keeps its front. */
	if (handout->large_print)
		return false;
	section_ref exact = exact_after(handout, notes + 1);
	if (exact >= 0)
		return (numbers->n_patient + pages_between(composing, notes + 1, exact)) % 2 != 0;
	return next_is_back && pages % 2 == 0;
}

/* What to write down for a medicine belongs to the sheet before or after. */
static bool belongs_here(const struct arrangement *arrangement, section_ref notes, const struct section *loose)
{
	const struct section *sections = arrangement->composing->handout->sections;
	if (loose->kind != SECTION_WAITING && loose->kind != SECTION_OPTIONS)
		return false;
	return loose->item == sections[notes + 1].item ||
	       (arrangement->n > 0 && loose->item == sections[arrangement->order[arrangement->n - 1]].item);
}

/*
 * A later section of one page that may stand where otherwise there would be
 * nothing but lines to write on; -1 if there is none. What is counted out may
 * stand behind any sheet; the supplies, where nothing of a medicine is left.
 */
static section_ref section_for_back(const struct arrangement *arrangement, section_ref notes)
{
	const struct handout *handout = arrangement->composing->handout;
	section_ref counted = -1;
	section_ref supplies = -1;
	if (handout->sections[notes].notice || handout->sections[notes].notes->empty)
		return -1;
	for (section_ref i = notes + 1; (size_t)i < handout->n_sections; i++) {
		const struct section *section = &handout->sections[i];
		if (arrangement->stands[i] || pages_of(arrangement->composing, i).n > 1)
			continue;
		if (belongs_here(arrangement, notes, section))
			return i;
		if (section->kind == SECTION_COUNTED && counted < 0)
			counted = i;
		if (section->kind == SECTION_SUPPLIES)
			supplies = i;
	}
	return counted >= 0 ? counted : supplies;
}

static void stand(struct arrangement *arrangement, section_ref ref)
{
	const struct section *section = &arrangement->composing->handout->sections[ref];
	struct numbering *numbers = arrangement->numbers;
	struct section_pages *pages = &numbers->sections[ref];
	int *last = section->staff ? &numbers->n_staff : section->notice ? &numbers->n_notice : &numbers->n_patient;
	*pages = pages_of(arrangement->composing, ref);
	pages->first = *last + 1;
	*last += pages->n;
	arrangement->stands[ref] = true;
	arrangement->order[arrangement->n++] = ref;
}

static struct arrangement arrange(const struct composing *composing)
{
	const struct handout *handout = composing->handout;
	struct arena *arena = composing->arena;
	struct arrangement arrangement = {.composing = composing,
	                                  .numbers = numbering_blank(arena, handout->n_sections),
	                                  .order = arena_alloc(arena, handout->n_sections * sizeof(section_ref)),
	                                  .stands = arena_alloc(arena, handout->n_sections * sizeof(bool))};
	for (section_ref i = 0; (size_t)i < handout->n_sections; i++) {
		if (handout->sections[i].kind != SECTION_NOTES) {
			if (!arrangement.stands[i])
				stand(&arrangement, i);
		} else if (back_to_fill(&arrangement, i)) {
			section_ref other = section_for_back(&arrangement, i);
			stand(&arrangement, other < 0 ? i : other);
		}
	}
	return arrangement;
}

/* ---- placing ---- */

static struct composer composer_for(const struct composing *composing, const struct numbering *numbers,
                                    section_ref section, struct findings *findings)
{
	struct composer composer =
		composer_of(composing->arena, composing->handout, composing->typesetter, findings, numbers, section);
	composer.marks = composing->marks;
	composer.spared = composing->spared;
	composer.digits_least = composing->digits_least;
	return composer;
}

/* Places it where it is not placed yet, or by numbers that it shows and that have changed. True when it was. */
static bool place_anew(struct composing *composing, const struct numbering *numbers, section_ref section)
{
	const struct placed_section *placed = composing->placed[section];
	struct findings findings = findings_in(composing->arena);
	struct composer composer = composer_for(composing, numbers, section, &findings);
	if (placed != NULL && placed_section_stands(placed, &composer))
		return false;
	section_place(&composer);
	composing->placed[section] = composer_finish(&composer);
	composing->findings[section] = findings;
	return true;
}

/* What names the pages of others comes after them. */
static bool names_others(const struct section *section)
{
	return section->kind == SECTION_OVERVIEW || section->kind == SECTION_GRID || section->kind == SECTION_CHANGE ||
	       section->kind == SECTION_SUPPLIES || section->kind == SECTION_BEFORE || section->kind == SECTION_TEACH;
}

/* True when a section was placed. */
static bool place_round(struct composing *composing)
{
	const struct handout *handout = composing->handout;
	struct arrangement arrangement = arrange(composing);
	bool any = false;
	for (int last = 0; last < 2; last++)
		for (section_ref i = 0; (size_t)i < handout->n_sections; i++) {
			if (names_others(&handout->sections[i]) != (last == 1) || !arrangement.stands[i] ||
			    !place_anew(composing, arrangement.numbers, i))
				continue;
			arrangement = arrange(composing);
			any = true;
		}
	return any;
}

static const struct placed_packet *number_pages(const struct composing *composing, struct findings *findings)
{
	struct arrangement arrangement = arrange(composing);
	const struct numbering *numbers = arrangement.numbers;
	size_t most = (size_t)(numbers->n_patient + numbers->n_staff + numbers->n_notice);
	struct placed_page *pages = arena_alloc(composing->arena, most * sizeof *pages);
	struct findings of_packet = findings_in(composing->arena);
	size_t n = 0;
	for (size_t i = 0; i < arrangement.n; i++) {
		section_ref section = arrangement.order[i];
		struct composer composer = composer_for(composing, numbers, section, &of_packet);
		for (int page = 0; page < numbers->sections[section].n; page++)
			pages[n++] = composer_number_page(&composer, composing->placed[section], page);
		findings_add_all(&of_packet, &composing->findings[section]);
	}
	findings_add_all(findings, &of_packet);
	if (findings_stop(&of_packet))
		return NULL;
	struct placed_packet *packet = arena_alloc(composing->arena, sizeof *packet);
	*packet = (struct placed_packet){.handout = composing->handout, .pages = pages, .n = n};
	return packet;
}

const struct placed_packet *compose_packet(struct arena *arena, const struct handout *handout,
                                           struct typesetter *typesetter, struct findings *findings)
{
	struct composing composing = {
		.arena = arena,
		.handout = handout,
		.typesetter = typesetter,
		.marks = open_marks_new(arena),
		.placed = arena_alloc(arena, handout->n_sections * sizeof *composing.placed),
		.findings = arena_alloc(arena, handout->n_sections * sizeof *composing.findings),
	};
	for (int round = 0; round < ROUNDS_MOST; round++) {
		composing.digits_least = round >= ROUNDS_FULL ? LONG_NUMBER : 0;
		if (round >= ROUNDS_WIDE)
			composing.spared = SPARED_STEP * (1 + (round - ROUNDS_WIDE) / 2);
		if (!place_round(&composing))
			return number_pages(&composing, findings);
	}
	findings_add(findings, FINDING_STOP, "pages-unsettled", handout->record->course->plan->place,
	             "the page numbers do not settle; shorten a name or a text a little");
	return NULL;
}
