/*
 * large_pen.c - pens in large print: every number on a pen of its own with its window below, and one pen after another.
 */
#include "page/large_pages.h"
#include "page/large_sheet.h"
#include "page/large_step.h"
#include "page/medicine.h"
#include "page/pen_figure.h"

#include <math.h>

#define BETWEEN 4.2
#define FIGURE_TEXT 5.0

static struct text_style section(const struct composer *composer)
{
	return large_style(composer, TYPE_SECTION, WEIGHT_BOLD);
}

/* ---- a pen set to its number ---- */

struct pen_block {
	const char *heading;
	const char *below; /* "days 1 to 5", "the old pen" */
	const char *text;  /* NULL: the steps say it */
	const struct pen_view *view;
};

static double words_height(struct composer *composer, const struct pen_block *pen)
{
	double height = composer_text_height(composer, pen->heading, section(composer), LIVE_WIDTH);
	double below = composer_text_height(composer, pen->below, large_body(composer, WEIGHT_REGULAR), LIVE_WIDTH);
	return height + (below > 0 ? BETWEEN + below : 0);
}

static double pen_height(struct composer *composer, const struct pen_block *pen)
{
	double text = composer_text_height(composer, pen->text, large_body(composer, WEIGHT_REGULAR), LIVE_WIDTH);
	double below = pen_window_below(composer, pen->view);
	return words_height(composer, pen) + GAP_4 + pen_figure_drop(composer, pen->view) +
	       (text > 0 ? FIGURE_TEXT + text : 0) + (below > 0 ? GAP_3 + below : 0);
}

static void put_pen(struct composer *composer, const struct large_block *block, double y)
{
	const struct pen_block *pen = block->data;
	struct rect heading =
		put_heading(composer, ROLE_H2, pen->heading, section(composer), composer->left, y, LIVE_WIDTH);
	put_paragraph(composer, pen->below, large_body(composer, WEIGHT_REGULAR), composer->left,
	              heading.y + heading.height + BETWEEN, LIVE_WIDTH);
	double figure = y + words_height(composer, pen) + GAP_4;
	put_pen_figure(composer, pen->view, figure);
	double end = figure + pen_figure_drop(composer, pen->view);
	if (pen->text != NULL) {
		struct rect text = put_paragraph(composer, pen->text, large_body(composer, WEIGHT_REGULAR),
		                                 composer->left, end + FIGURE_TEXT, LIVE_WIDTH);
		end = text.y + text.height;
	}
	put_pen_window_below(composer, pen->view, end + GAP_3);
}

static void add_pen(struct large_blocks *blocks, struct pen_block data)
{
	struct pen_block *pen = arena_alloc(blocks->composer->arena, sizeof *pen);
	*pen = data;
	struct large_block *block = large_add(blocks, pen_height(blocks->composer, pen), GAP_5, put_pen, pen);
	block->rule = LARGE_RULE_MAIN;
}

/* ---- a pen's sheet ---- */

/* "from Thursday 5 June, to ...": each cell with its column's head before it. */
static const char *pen_row_words(struct composer *composer, const struct pen_sheet *sheet, const struct pen_row *row)
{
	const char *words = NULL;
	for (size_t i = 1; i < PEN_COLUMNS; i++) {
		if (row->cells[i] == NULL || row->cells[i][0] == '\0')
			continue;
		const char *one = arena_printf(composer->arena, "%s: " TEXT_BOLD_ON "%s" TEXT_BOLD_OFF, sheet->heads[i],
		                               row->cells[i]);
		words = words == NULL ? one : arena_printf(composer->arena, "%s\n%s", words, one);
	}
	return words;
}

static void add_pens(struct large_blocks *blocks, const struct pen_sheet *sheet)
{
	struct composer *composer = blocks->composer;
	if (sheet->n_rows == 0)
		return;
	large_add_heading(blocks, sheet->pens_heading);
	size_t first = blocks->n;
	for (size_t i = 0; i < sheet->n_rows; i++) {
		large_add_item(blocks, PICTURE_PEN, sheet->rows[i].cells[0],
		               pen_row_words(composer, sheet, &sheet->rows[i]));
	}
	large_hold_list(blocks, first);
}

static void add_see(struct large_blocks *blocks, const struct note_block *see)
{
	struct composer *composer = blocks->composer;
	const char *words = see->section < 0 ? see->text
	                                     : arena_printf(composer->arena, "%s " TEXT_BOLD_ON "%s" TEXT_BOLD_OFF,
	                                                    see->text, composer_page_ref(composer, see->section));
	large_add_item(blocks, see->pictogram, NULL, words);
}

static void pen_front(struct composer *composer, const struct pen_sheet *sheet)
{
	const struct medicine_sheet *common = sheet->sheet;
	struct large_blocks blocks = large_blocks_of(composer);
	large_add_about(&blocks, common);
	large_add_things(&blocks, common);
	large_add_preparing(&blocks, common);
	add_pens(&blocks, sheet);
	for (size_t i = 0; i < sheet->n_see; i++)
		add_see(&blocks, &sheet->see[i]);
	if (place_is_asked_on(common, ASKED_ON_FRONT))
		large_add_place(&blocks, common);
	if (common->n_front > 0)
		large_add_heading(&blocks, common->mix_heading);
	large_add_steps(&blocks, common->front, common->n_front, common->has_add ? &common->add : NULL);
	if (common->n_front > 0)
		large_add_text(&blocks, medicine_goes_on(composer, common), TYPE_BODY, WEIGHT_BOLD);
	large_place(&blocks, common->front_title, common->front_lead);
}

static void pen_back(struct composer *composer, const struct pen_sheet *sheet)
{
	const struct medicine_sheet *common = sheet->sheet;
	struct large_blocks blocks = large_blocks_of(composer);
	for (size_t i = 0; i < sheet->n_see; i++)
		add_see(&blocks, &sheet->see[i]);
	for (size_t i = 0; i < sheet->n_amounts; i++)
		add_pen(&blocks, (struct pen_block){.heading = sheet->amounts[i].amount,
		                                    .below = sheet->amounts[i].days,
		                                    .text = sheet->amounts[i].text,
		                                    .view = &sheet->amounts[i].view});
	if (place_is_asked_on(common, ASKED_ON_BACK))
		large_add_place(&blocks, common);
	large_add_steps(&blocks, common->back, common->n_back, NULL);
	large_add_notes(&blocks, common);
	large_place(&blocks, common->back_title, common->back_lead);
}

void large_pen(struct composer *composer, const struct pen_sheet *sheet)
{
	pen_front(composer, sheet);
	composer_begin_back(composer);
	pen_back(composer, sheet);
}

/* ---- a dose from several pens ---- */

#define DONE_TICK 12.0

static void put_done(struct composer *composer, const struct large_block *block, double y)
{
	struct text_style style = large_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	begin_group(composer, ROLE_PARAGRAPH);
	put_text(composer, block->data, style, ALIGN_END, composer->right - DONE_TICK - GAP_3,
	         y + (DONE_TICK - text_cap_height(style)) / 2, 0, COLOUR_INK);
	put_tick(composer, (struct point){composer->right - DONE_TICK - 0.3, y}, DONE_TICK);
	end_group(composer);
}

void large_pens(struct composer *composer, const struct pens_sheet *sheet)
{
	struct large_blocks blocks = large_blocks_of(composer);
	large_add_about(&blocks, sheet->sheet);
	size_t sum = blocks.n;
	large_add_item(&blocks, PICTURE_CALENDAR, sheet->amount, sheet->calendar_says);
	for (size_t i = 0; i < sheet->n_turns; i++)
		large_add_item(&blocks, PICTURE_PEN, sheet->turns[i].part, sheet->turns[i].part_says);
	large_hold_all(&blocks, sum);
	large_add_preparing(&blocks, sheet->sheet);
	large_add_place(&blocks, sheet->sheet);
	for (size_t i = 0; i < sheet->n_turns; i++) {
		const struct pen_turn *turn = &sheet->turns[i];
		add_pen(&blocks,
		        (struct pen_block){.heading = turn->heading, .below = turn->which, .view = &turn->view});
		large_add_steps(&blocks, turn->steps, turn->n_steps,
		                turn->priming.number != NULL ? &turn->priming : NULL);
		blocks.list[blocks.n - 1].keep = true; /* with its box */
		large_add(&blocks, DONE_TICK, GAP_3, put_done, sheet->done_word);
		large_add_text(&blocks, turn->next, TYPE_LEAD, WEIGHT_BOLD);
	}
	large_add_notes(&blocks, sheet->sheet);
	large_place(&blocks, sheet->title, sheet->lead);
}
