/*
 * large_supplies.c - what is needed, in hand and to get, in large print; and lines to write on.
 */
#include "page/large_pages.h"
#include "page/styles.h"

#include <math.h>

#define BETWEEN 4.2
#define PICTURE 14.0
#define TEXT_X 20.0
#define TICK 14.0
#define SQUARE 4.6
#define SQUARE_PITCH 5.8
#define FIVE_GAP 1.6

struct supply {
	const struct supplies_sheet *sheet;
	const struct supply_row *row;
	const char *counts; /* "need 5, have 4" */
	const char *get;    /* "get 1" */
};

static double words_width(void)
{
	return LIVE_WIDTH - TEXT_X - TICK - GAP_3;
}

static const char *count_words(struct composer *composer, const char *word, int64_t count)
{
	return arena_printf(composer->arena, "%s " TEXT_BOLD_ON "%s" TEXT_BOLD_OFF, word,
	                    say_number(composer->speaker, rational_of(count, 1)));
}

static const struct text_block *name_of(struct composer *composer, const struct supply *supply)
{
	return composer_set_name(composer, supply->row->name, large_style(composer, TYPE_LEAD, WEIGHT_BOLD),
	                         words_width(), 4);
}

static double supply_height(struct composer *composer, const struct supply *supply)
{
	double height = text_height(name_of(composer, supply));
	double detail = composer_text_height(composer, supply->row->detail, large_body(composer, WEIGHT_REGULAR),
	                                     words_width());
	height += detail > 0 ? BETWEEN + detail : 0;
	height += BETWEEN +
	          composer_text_height(composer, supply->counts, large_body(composer, WEIGHT_REGULAR), words_width());
	return fmax(height + (supplies_has_squares(supply->row) ? BETWEEN + SQUARE : 0), PICTURE);
}

static void put_squares(struct composer *composer, const struct supply_row *row, double x, double y)
{
	begin_artifact(composer);
	for (int i = 0; i < row->have + row->get; i++)
		supplies_put_square(composer, x + i * SQUARE_PITCH + i / 5 * FIVE_GAP, y, SQUARE, i < row->have);
	end_group(composer);
}

static void put_supply(struct composer *composer, const struct large_block *block, double y)
{
	const struct supply *supply = block->data;
	double x = composer->left + TEXT_X;
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_picture(composer, supply->row->pictogram, composer->left, y, PICTURE);
	end_group(composer);
	struct rect line = put_block(composer, name_of(composer, supply), ALIGN_START, x, y, COLOUR_INK);
	if (supply->row->detail != NULL && supply->row->detail[0] != '\0')
		line = put_plain(composer, supply->row->detail, large_body(composer, WEIGHT_REGULAR), x,
		                 line.y + line.height + BETWEEN, words_width());
	line = put_plain(composer, supply->counts, large_body(composer, WEIGHT_REGULAR), x,
	                 line.y + line.height + BETWEEN, words_width());
	if (supplies_has_squares(supply->row))
		put_squares(composer, supply->row, x, line.y + line.height + BETWEEN);
	if (supply->row->get > 0) {
		begin_artifact(composer);
		put_tick(composer, (struct point){composer->right - TICK - 0.3, y}, TICK);
		end_group(composer);
	}
	end_group(composer);
}

static void add_supply(struct large_blocks *blocks, const struct supplies_sheet *sheet, const struct supply_row *row)
{
	struct composer *composer = blocks->composer;
	struct supply *supply = arena_alloc(composer->arena, sizeof *supply);
	*supply = (struct supply){.sheet = sheet, .row = row};
	const char *unit = row->unit == NULL ? NULL : say_count(composer->speaker, row->unit, row->need, NO_VALUES);
	supply->counts = arena_printf(
		composer->arena, "%s%s%s   %s   %s", unit == NULL ? "" : unit, unit == NULL ? "" : ": ",
		count_words(composer, sheet->need_heading, row->need),
		count_words(composer, sheet->have_heading, row->have),
		row->get > 0 ? count_words(composer, sheet->get_heading, row->get)
			     : arena_printf(composer->arena, "%s %s", sheet->get_heading, sheet->none_word));
	struct large_block *block = large_add(blocks, supply_height(composer, supply), GAP_4, put_supply, supply);
	block->around = ROLE_LIST;
	block->rule = LARGE_RULE_FINE;
}

/* What the squares mean, on one line. */
static void put_key(struct composer *composer, const struct large_block *block, double y)
{
	const struct supplies_sheet *sheet = block->data;
	struct text_style style = large_body(composer, WEIGHT_REGULAR);
	double x = composer->left;
	const char *words[] = {sheet->have_word, sheet->get_each_word};
	for (size_t i = 0; i < 2; i++) {
		begin_artifact(composer);
		supplies_put_square(composer, x, y - 0.2, SQUARE, i == 0);
		end_group(composer);
		struct rect word = put_paragraph(composer, words[i], style, x + SQUARE + GAP_2, y, 0);
		x = word.x + word.width + GAP_5;
	}
}

void large_supplies(struct composer *composer, const struct supplies_sheet *sheet)
{
	struct large_blocks blocks = large_blocks_of(composer);
	large_add(&blocks, cap(composer, TYPE_BODY), 0, put_key, sheet)->keep = true;
	large_add_item(&blocks, PICTURE_BAG, sheet->first_line, sheet->second_line);
	if (sheet->first_line == NULL)
		blocks.n = 1;
	for (size_t i = 0; i < sheet->n_groups; i++) {
		const struct supply_group *group = &sheet->groups[i];
		if (group->n_rows == 0)
			continue;
		large_add_heading(&blocks, group->heading);
		size_t first = blocks.n;
		for (size_t j = 0; j < group->n_rows; j++)
			add_supply(&blocks, sheet, &group->rows[j]);
		large_repeat_heading(&blocks, first);
	}
	large_place(&blocks, sheet->title, sheet->lead);
}

/* ---- notes ---- */

#define LINE_PITCH 18.0
#define DATE_WIDTH 46.0

void large_notes(struct composer *composer, const struct notes_sheet *sheet)
{
	struct text_style style = large_body(composer, WEIGHT_REGULAR);
	composer_new_page(composer, composer->section->title, composer->section->lead);
	if (sheet->empty)
		return;
	double y = composer->top;
	put_plain(composer, sheet->date_heading, style, composer->left, y, DATE_WIDTH - GAP_2);
	struct rect read_back =
		put_text(composer, sheet->read_back_heading, style, ALIGN_END, composer->right, y, 0, COLOUR_INK);
	put_plain(composer, sheet->note_heading, style, composer->left + DATE_WIDTH, y,
	          read_back.x - GAP_3 - composer->left - DATE_WIDTH);
	for (y += GAP_5 + LINE_PITCH; y <= composer->bottom; y += LINE_PITCH) {
		put_line(composer, composer->left, composer->left + DATE_WIDTH - 5, y, LINE_MAIN);
		put_line(composer, composer->left + DATE_WIDTH, composer->right - TICK - 5, y, LINE_MAIN);
		put_tick(composer, (struct point){composer->right - TICK - 0.3, y - TICK}, TICK);
	}
}
