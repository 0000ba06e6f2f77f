/*
 * notes.c - lines to write on: questions, and what was said on the telephone.
 */
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

void notes_place(struct composer *composer, const struct notes_sheet *sheet)
{
	if (composer->large_print) {
		large_notes(composer, sheet);
		return;
	}
	composer_new_page(composer, composer->section->title, composer->section->lead);
	put_heads(composer, sheet, composer->top);
	for (double y = composer->top + HEAD_HEIGHT + LINE_PITCH; y <= composer->bottom; y += LINE_PITCH) {
		put_line(composer, composer->left, composer->left + DATE_WIDTH - 4, y, LINE_FINE);
		put_line(composer, composer->left + DATE_WIDTH, composer->right - TICK - 4, y, LINE_FINE);
		put_tick(composer, (struct point){composer->right - TICK, y - TICK}, TICK);
	}
}
