/*
 * exact.c - a dose to the minute: a sheet of its own, with how to draw it up on its back.
 *
 *     | the time                       |     exact_time.c
 *     the dose, two alarms                   exact_dose.c
 *     what comes after, what if,             exact_after.c
 *     I injected at
 *
 * What does not fit goes on to a further page, part by part.
 */
#include "page/exact.h"

#include "page/large.h"
#include "page/medicine.h"
#include "page/sections.h"
#include "page/styles.h"

#include <math.h>

static const struct exact_form roomy = {24, 80, 21.5, 18, 1.4, false, 8.2, 4.4, 3.1};
static const struct exact_form close = {21, 72, 21.5, 16, 1.4, false, 4.6, 2.6, 2.6};
static const struct exact_form tight = {17, 58, 19, 13, 1.4, false, 2.8, 2.0, 1.8};
static const struct exact_form large = {27, 92, 24, 18, 1.8, true, 8.2, 4.4, 3.4};

/* ---- what its parts share ---- */

double exact_apart(const struct composer *composer, double normal)
{
	return composer->large_print ? normal + 1.8 : normal;
}

#define HEADING_BELOW 3.6

static bool note_beside(struct composer *composer, const char *heading, const char *note)
{
	return !composer->large_print &&
	       composer_text_width(composer, heading, bold(composer, TYPE_SECTION)) + GAP_3 +
	                       composer_text_width(composer, note, regular(composer, TYPE_BODY)) <=
	               LIVE_WIDTH;
}

static double note_height(struct composer *composer, const char *heading, const char *note)
{
	if (note == NULL || note_beside(composer, heading, note))
		return 0;
	return composer_text_height(composer, note, regular(composer, TYPE_BODY), LIVE_WIDTH) + HEADING_BELOW;
}

double exact_heading_height(struct composer *composer, const char *heading, const char *note)
{
	return cap(composer, TYPE_SECTION) + HEADING_BELOW + note_height(composer, heading, note);
}

double exact_put_heading(struct composer *composer, const char *heading, const char *note, double y)
{
	double below = y + exact_heading_height(composer, heading, NULL);
	put_heading(composer, ROLE_H2, heading, bold(composer, TYPE_SECTION), composer->left, y, LIVE_WIDTH);
	if (note != NULL && note_beside(composer, heading, note))
		put_text(composer, note, regular(composer, TYPE_BODY), ALIGN_END, composer->right,
		         y + cap(composer, TYPE_SECTION) - cap(composer, TYPE_BODY), 0, COLOUR_INK);
	else
		put_paragraph(composer, note, regular(composer, TYPE_BODY), composer->left, below, LIVE_WIDTH);
	return below + note_height(composer, heading, note);
}

/* ---- the page ---- */

enum { PART_FRAME, PART_DOSE, PART_ALARMS, PART_AFTER, PART_RULES, PART_INJECTED, PARTS };

struct part_heights {
	double of[PARTS];
};

static struct part_heights heights_of(struct composer *composer, const struct exact_form *form,
                                      const struct exact_sheet *sheet)
{
	return (struct part_heights){{exact_frame_height(composer, form, sheet), exact_dose_height(composer, sheet),
	                              exact_alarms_height(composer, form, sheet), exact_after_height(composer, sheet),
	                              exact_rules_height(composer, form, sheet),
	                              exact_injected_height(composer, sheet)}};
}

static void put_part(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                     int part, double y)
{
	switch (part) {
	case PART_FRAME:
		exact_put_frame(composer, form, sheet, y);
		break;
	case PART_DOSE:
		exact_put_dose(composer, sheet, y);
		break;
	case PART_ALARMS:
		exact_put_alarms(composer, form, sheet, y);
		break;
	case PART_AFTER:
		exact_put_after(composer, sheet, y);
		break;
	case PART_RULES:
		exact_put_rules(composer, form, sheet, y);
		break;
	default:
		exact_put_injected(composer, sheet, y);
		break;
	}
}

/* How many parts from `first` on fit a page, at least one; `used` is what they take without gaps. */
static int parts_that_fit(const struct composer *composer, const struct part_heights *heights, int first,
                          double least_gap, double *used)
{
	double room = composer->bottom - composer->top;
	int last = first + 1;
	*used = heights->of[first];
	while (last < PARTS && *used + heights->of[last] + least_gap * (last - first) <= room)
		*used += heights->of[last++];
	return last - first;
}

#define GAP_CLOSE 3.5
#define GAP_ROOMY 5.5

static const struct exact_form *form_for(struct composer *composer, const struct exact_sheet *sheet)
{
	static const struct exact_form *const forms[] = {&roomy, &close, &tight};
	for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
		double used;
		struct part_heights heights = heights_of(composer, forms[i], sheet);
		double gap = forms[i] == &tight ? GAP_CLOSE : GAP_ROOMY;
		if (parts_that_fit(composer, &heights, 0, gap, &used) == PARTS)
			return forms[i];
	}
	return &close; /* on two pages, all can be seen from afar */
}

static void put_large_part(struct composer *composer, const struct large_block *block, double y)
{
	put_part(composer, &large, block->data, (int)block->index, y);
}

/* How to draw it up; the sheet on which it is got ready has the caution. */
static void place_back(struct composer *composer, const struct exact_sheet *sheet)
{
	if (sheet->medicine == NULL)
		return;
	/* A sheet without a front of its own says all on this back. */
	const struct medicine_sheet *medicine =
		sheet->front < 0 ? sheet->medicine : medicine_for_back(composer, sheet->medicine);
	medicine_begin(composer, medicine);
	composer_begin_back(composer);
	composer_begin_line(composer);
	medicine_back(composer, medicine);
}

/* In large print the parts are blocks, on pages as evenly full as they make them. */
static void place_large(struct composer *composer, const struct exact_sheet *sheet)
{
	struct large_blocks blocks = large_blocks_of(composer);
	struct part_heights heights = heights_of(composer, &large, sheet);
	for (size_t part = 0; part < PARTS; part++)
		if (heights.of[part] > 0)
			large_add(&blocks, heights.of[part], GAP_5, put_large_part, sheet)->index = part;
	blocks.list[0].keep = true; /* the time and the dose are read as one */
	large_place(&blocks, sheet->title, sheet->lead);
	place_back(composer, sheet);
}

void exact_place(struct composer *composer, const struct exact_sheet *sheet)
{
	if (composer->large_print) {
		place_large(composer, sheet);
		return;
	}
	int part = 0;
	composer_new_page(composer, sheet->title, sheet->lead);
	const struct exact_form *form = form_for(composer, sheet);
	struct part_heights heights = heights_of(composer, form, sheet);
	while (part < PARTS) {
		double used;
		int n = parts_that_fit(composer, &heights, part, GAP_CLOSE, &used);
		double spare = composer->bottom - composer->top - used;
		double gap = n < 2 ? 0 : fmin(spare / (n - 1), SECTION_GAP_MOST);
		double y = composer->top;
		for (int end = part + n; part < end; part++) {
			put_part(composer, form, sheet, part, y);
			if (heights.of[part] > 0)
				y += heights.of[part] + gap;
		}
		if (part < PARTS)
			composer_continue(composer, sheet->title, sheet->lead);
	}
	place_back(composer, sheet);
}
