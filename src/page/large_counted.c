/*
 * large_counted.c - what is counted out, in large print: how many on which days, when patches change, the steps.
 */
#include "page/large_pages.h"
#include "page/large_sheet.h"
#include "page/large_step.h"

#include <math.h>

#define BETWEEN 4.2
#define PICTURE 13.0
#define PICTURE_TEXT 17.0
#define KNOT 4.2
#define TAKE_X 98.0
#define KNOT_X 89.0
#define PIECE_PITCH 14.5
#define PIECES_DRAWN 2 /* with a half: more of them are one, and how many */

static struct text_style lead(const struct composer *composer)
{
	return large_style(composer, TYPE_LEAD, WEIGHT_BOLD);
}

/* ---- how many ---- */

struct amount_block {
	const struct counted_sheet *sheet;
	const struct counted_amount *amount;
	int64_t drawn;
};

static double take_text_x(const struct amount_block *block)
{
	int64_t pieces = block->drawn + (block->amount->half ? 1 : 0);
	return TAKE_X + (double)pieces * PIECE_PITCH + GAP_1;
}

static const char *take_words(const struct amount_block *block)
{
	return block->amount->half ? block->amount->words : block->amount->take;
}

static double amount_line(struct composer *composer, const struct amount_block *block)
{
	double calendar = composer_text_height(composer, block->amount->amount, lead(composer),
	                                       KNOT_X - KNOT - PICTURE_TEXT - GAP_1);
	double take =
		composer_text_height(composer, take_words(block), lead(composer), LIVE_WIDTH - take_text_x(block));
	return fmax(PICTURE, fmax(calendar, take));
}

static double amount_height(struct composer *composer, const struct amount_block *block)
{
	return composer_text_height(composer, block->amount->days, lead(composer), LIVE_WIDTH) + GAP_3 +
	       amount_line(composer, block);
}

static void put_words_at(struct composer *composer, const char *words, double x, double middle, double width)
{
	double height = composer_text_height(composer, words, lead(composer), width);
	put_plain(composer, words, lead(composer), x, middle - height / 2, width);
}

static void put_pieces(struct composer *composer, const struct amount_block *block, double middle)
{
	double x = composer->left + TAKE_X;
	begin_artifact(composer);
	for (int64_t i = 0; i < block->drawn; i++, x += PIECE_PITCH)
		put_picture(composer, block->sheet->piece, x, middle - PICTURE / 2, PICTURE);
	if (block->amount->half)
		put_picture(composer, block->sheet->half_piece, x, middle - PICTURE / 2, PICTURE);
	end_group(composer);
}

static void put_amount(struct composer *composer, const struct large_block *large, double y)
{
	const struct amount_block *block = large->data;
	double left = composer->left;
	begin_group(composer, ROLE_LIST_ITEM);
	struct rect days = put_heading(composer, ROLE_H3, block->amount->days, lead(composer), left, y, LIVE_WIDTH);
	double middle = days.y + days.height + GAP_3 + amount_line(composer, block) / 2;
	begin_artifact(composer);
	put_picture(composer, PICTURE_CALENDAR, left, middle - PICTURE / 2, PICTURE);
	put_mark(composer, (struct placed_mark){.kind = MARK_KNOT,
	                                        .area = {left + KNOT_X - KNOT, middle - KNOT, 2 * KNOT, 2 * KNOT},
	                                        .knot = {{left + KNOT_X, middle}, KNOT, '=', 0, 0}});
	end_group(composer);
	put_words_at(composer, block->amount->amount, left + PICTURE_TEXT, middle,
	             KNOT_X - KNOT - PICTURE_TEXT - GAP_1);
	put_pieces(composer, block, middle);
	put_words_at(composer, take_words(block), left + take_text_x(block), middle, LIVE_WIDTH - take_text_x(block));
	end_group(composer);
}

static void put_heads(struct composer *composer, const struct large_block *large, double y)
{
	const struct counted_sheet *sheet = large->data;
	put_paragraph(composer, sheet->calendar_says, large_body(composer, WEIGHT_REGULAR), composer->left, y,
	              KNOT_X - KNOT - GAP_1);
	put_paragraph(composer, sheet->take_says, large_body(composer, WEIGHT_REGULAR), composer->left + TAKE_X, y,
	              LIVE_WIDTH - TAKE_X);
}

static void add_amounts(struct large_blocks *blocks, const struct counted_sheet *sheet)
{
	struct composer *composer = blocks->composer;
	double heads = fmax(composer_text_height(composer, sheet->calendar_says, large_body(composer, WEIGHT_REGULAR),
	                                         KNOT_X - KNOT - GAP_1),
	                    composer_text_height(composer, sheet->take_says, large_body(composer, WEIGHT_REGULAR),
	                                         LIVE_WIDTH - TAKE_X));
	large_add(blocks, heads, GAP_5, put_heads, sheet)->keep = true;
	size_t first = blocks->n;
	for (size_t i = 0; i < sheet->n_amounts; i++) {
		struct amount_block *block = arena_alloc(composer->arena, sizeof *block);
		*block = (struct amount_block){sheet, &sheet->amounts[i], sheet->amounts[i].whole};
		/* "×2" beside two of them would read as four. */
		if (!block->amount->half || block->drawn > PIECES_DRAWN)
			block->drawn = 1;
		struct large_block *large = large_add(blocks, amount_height(composer, block), GAP_5, put_amount, block);
		large->around = ROLE_LIST;
		large->rule = LARGE_RULE_FINE;
	}
	large_hold_list(blocks, first);
}

/* ---- when patches change ---- */

#define PATCH_TICK 12.0

struct patch_block {
	const struct counted_sheet *sheet;
	const struct patch_row *row;
	const char *words;
};

static const char *patch_words(struct composer *composer, const struct counted_sheet *sheet,
                               const struct patch_row *row)
{
	const char *cells[] = {row->off, row->on, row->then};
	const char *words = NULL;
	for (size_t i = 0; i < 3; i++) {
		if (cells[i] == NULL || cells[i][0] == '\0')
			continue;
		const char *one = arena_printf(composer->arena, "%s " TEXT_BOLD_ON "%s" TEXT_BOLD_OFF,
		                               sheet->patch_heads[i + 1], cells[i]);
		words = words == NULL ? one : arena_printf(composer->arena, "%s   %s", words, one);
	}
	return words;
}

static double patch_width(void)
{
	return LIVE_WIDTH - PATCH_TICK - GAP_3;
}

static void put_patch(struct composer *composer, const struct large_block *large, double y)
{
	const struct patch_block *block = large->data;
	const char *day = arena_printf(composer->arena, "%s %s  %s", block->sheet->patch_heads[0], block->row->day,
	                               block->row->date);
	composer_note_part(composer, block->row);
	begin_group(composer, ROLE_LIST_ITEM);
	struct rect line = put_plain(composer, day, lead(composer), composer->left, y, patch_width());
	put_plain(composer, block->words, large_body(composer, WEIGHT_REGULAR), composer->left,
	          line.y + line.height + BETWEEN, patch_width());
	begin_artifact(composer);
	put_tick(composer, (struct point){composer->right - PATCH_TICK - 0.3, y}, PATCH_TICK);
	end_group(composer);
	end_group(composer);
}

static void add_patches(struct large_blocks *blocks, const struct counted_sheet *sheet)
{
	struct composer *composer = blocks->composer;
	large_add_heading(blocks, sheet->patches_heading);
	size_t first = blocks->n;
	for (size_t i = 0; i < sheet->n_patches; i++) {
		struct patch_block *block = arena_alloc(composer->arena, sizeof *block);
		*block = (struct patch_block){sheet, &sheet->patches[i],
		                              patch_words(composer, sheet, &sheet->patches[i])};
		const char *day = arena_printf(composer->arena, "%s %s  %s", sheet->patch_heads[0], block->row->day,
		                               block->row->date);
		double height = composer_text_height(composer, day, lead(composer), patch_width()) + BETWEEN +
		                composer_text_height(composer, block->words, large_body(composer, WEIGHT_REGULAR),
		                                     patch_width());
		struct large_block *large = large_add(blocks, fmax(height, PATCH_TICK), GAP_4, put_patch, block);
		large->around = ROLE_LIST;
		large->rule = LARGE_RULE_FINE;
	}
	large_hold_list(blocks, first);
}

/* ---- the pages ---- */

void large_counted(struct composer *composer, const struct counted_sheet *sheet)
{
	const struct medicine_sheet *common = sheet->sheet;
	struct large_blocks blocks = large_blocks_of(composer);
	large_add_about(&blocks, common);
	large_add_preparing(&blocks, common);
	add_amounts(&blocks, sheet);
	if (sheet->patches_heading != NULL)
		add_patches(&blocks, sheet);
	if (common->n_front > 0)
		large_add_heading(&blocks, sheet->steps_heading);
	large_add_steps(&blocks, common->front, common->n_front, NULL);
	large_add_notes(&blocks, common);
	large_place(&blocks, common->front_title, common->front_lead);
}
