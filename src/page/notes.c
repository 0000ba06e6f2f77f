/*
 * notes.c - lines to write on: questions, and what was said on the telephone.
 */
#include "page/notes.h"

#include "page/large_pages.h"
#include "page/sections.h"

#define DATE_WIDTH 26.0
#define TICK 7.0
#define LINE_PITCH 13.0
#define HEAD_HEIGHT 7.0

static void put_heads(struct composer *composer, const struct notes_sheet *sheet, double y)
{
	struct text_style style = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	put_plain(composer, sheet->date_heading, style, composer->left, y, 0);
	put_plain(composer, sheet->note_heading, style, composer->left + DATE_WIDTH, y, 0);
	put_text(composer, sheet->read_back_heading, style, ALIGN_END, composer->right, y, 0, COLOUR_INK);
}

static void put_lines(struct composer *composer, const struct notes_sheet *sheet, double y)
{
	put_heads(composer, sheet, y);
	for (y += HEAD_HEIGHT + LINE_PITCH; y <= composer->bottom; y += LINE_PITCH) {
		put_line(composer, composer->left, composer->left + DATE_WIDTH - 4, y, LINE_FINE);
		put_line(composer, composer->left + DATE_WIDTH, composer->right - TICK - 4, y, LINE_FINE);
		put_tick(composer, (struct point){composer->right - TICK - LINE_MAIN / 2, y - TICK}, TICK);
	}
}

void notes_place(struct composer *composer, const struct notes_sheet *sheet)
{
	if (composer->large_print) {
		large_notes(composer, sheet);
		return;
	}
	composer_new_page(composer, composer->section->title, composer->section->lead);
	if (!sheet->empty)
		put_lines(composer, sheet, composer->top);
}

#define MOSTLY_EMPTY 0.5

static const struct section *notes_of(const struct handout *handout)
{
	for (size_t i = 0; i < handout->n_sections; i++)
		if (handout->sections[i].kind == SECTION_NOTES && !handout->sections[i].notice &&
		    !handout->sections[i].notes->empty)
			return &handout->sections[i];
	return NULL;
}

void fill_with_lines(struct composer *composer, double y)
{
	const struct section *notes = notes_of(composer->handout);
	double room = composer->bottom - composer->top;
	if (notes == NULL || composer_page_index(composer) == 0 || composer->bottom - y < MOSTLY_EMPTY * room)
		return;
	struct text_style style = composer_style(composer, TYPE_SECTION, WEIGHT_BOLD);
	struct rect heading =
		put_heading(composer, ROLE_H2, notes->title, style, composer->left, y + GAP_4, LIVE_WIDTH);
	put_lines(composer, notes->notes, heading.y + heading.height + GAP_4);
}
