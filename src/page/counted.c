/*
 * counted.c - the sheet of what is counted out: how many on which days, when patches change, and the steps.
 *
 *     days 1 to 5     [calendar] half a tablet  =  (half tablet)
 *     days 6 to 10    [calendar] 1 tablet       =  (tablet) x1
 */
#include "page/large_pages.h"
#include "page/parts.h"
#include "page/sections.h"
#include "page/styles.h"

#include <math.h>
#include <string.h>

static struct text_style body(const struct composer *composer, enum text_weight weight)
{
	return medicine_style(composer, TYPE_BODY, weight);
}

static struct text_style captions(const struct composer *composer)
{
	return composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
}

/* ---- how many, on which days ---- */

#define ROW_PAD 3.4
#define ROW_PICTURE 11.0
#define ROW_BESIDE 3.2
#define HEADS_PAD 3.4
#define PIECE_PITCH 12.4
#define PIECES_DRAWN 4 /* more of them are one, and how many */
#define DAYS_X 4.0
#define DAYS_WIDTH 38.0
#define AMOUNT_X 45.0
#define AMOUNT_WIDTH 51.0
#define KNOT_X 101.5
#define TAKE_X 108.5
#define TAKE_WIDTH 69.0

/* ---- long words: without the picture beside them, then smaller ---- */

#define NAME_SHRINKS 0.85 /* as composer_set_name() does by itself */

/* The widest piece of a text that cannot wrap. */
static double widest_word(struct composer *composer, const char *text, struct text_style style)
{
	double widest = 0;
	while (*text != '\0') {
		size_t length = strcspn(text, " ");
		const char *word = arena_strndup(composer->arena, text, length);
		widest = fmax(widest, composer_text_width(composer, word, style));
		text += length + strspn(text + length, " ");
	}
	return widest;
}

struct words_look {
	double beside; /* picture and gap; 0: no picture */
	double size;
};

/* All rows look alike. */
static struct words_look words_look(struct composer *composer, const struct counted_sheet *sheet)
{
	struct text_style style = {.size = STRIP_AMOUNT_SMALL * NAME_SHRINKS, .weight = WEIGHT_BOLD};
	double widest = 0;
	for (size_t i = 0; i < sheet->n_amounts; i++)
		widest = fmax(widest, widest_word(composer, sheet->amounts[i].amount, style));
	if (widest <= AMOUNT_WIDTH - ROW_PICTURE - ROW_BESIDE)
		return (struct words_look){ROW_PICTURE + ROW_BESIDE, STRIP_AMOUNT_SMALL};
	return (struct words_look){0, widest <= AMOUNT_WIDTH ? STRIP_AMOUNT_SMALL : STRIP_AMOUNT_LEAST};
}

static double heads_height(struct composer *composer, const struct counted_sheet *sheet)
{
	return fmax(composer_text_height(composer, sheet->calendar_says, captions(composer), AMOUNT_WIDTH),
	            composer_text_height(composer, sheet->take_says, captions(composer), TAKE_WIDTH));
}

/* Room for a name of an amount on two lines. */
static double amount_row_height(struct composer *composer, const struct counted_amount *amount)
{
	double days = composer_text_height(composer, amount->days, body(composer, WEIGHT_REGULAR), DAYS_WIDTH);
	double two_lines = 2 * cap(composer, TYPE_SECTION) + GAP_3;
	return fmax(fmax(ROW_PICTURE, days), two_lines) + 2 * ROW_PAD;
}

static double amounts_height(struct composer *composer, const void *what)
{
	const struct counted_sheet *sheet = what;
	double height = HEADS_PAD + heads_height(composer, sheet);
	for (size_t i = 0; i < sheet->n_amounts; i++)
		height += amount_row_height(composer, &sheet->amounts[i]);
	return height;
}

static void put_piece(struct composer *composer, enum pictogram piece, double x, double middle)
{
	put_picture(composer, piece, x, middle - ROW_PICTURE / 2, ROW_PICTURE);
}

/* The pieces one by one where they are few, else one of them and how many. */
static void put_take(struct composer *composer, const struct counted_sheet *sheet, const struct counted_amount *amount,
                     double x, double middle)
{
	int64_t drawn = amount->whole > PIECES_DRAWN - (amount->half ? 1 : 0) ? 1 : amount->whole;
	double end = x;
	begin_artifact(composer);
	for (int64_t i = 0; i < drawn; i++, end += PIECE_PITCH)
		put_piece(composer, sheet->piece, end, middle);
	if (amount->half) {
		put_piece(composer, sheet->half_piece, end, middle);
		end += PIECE_PITCH;
	}
	end_group(composer);
	if (end > x)
		end += ROW_BESIDE - (PIECE_PITCH - ROW_PICTURE);
	put_strip_amount(composer, amount->half ? amount->words : amount->take, STRIP_AMOUNT_SMALL, end, middle,
	                 x + TAKE_WIDTH - end);
}

static void put_amount_row(struct composer *composer, const struct counted_sheet *sheet,
                           const struct counted_amount *amount, double y, double height)
{
	double middle = y + height / 2;
	double left = composer->left;
	struct text_style days = body(composer, WEIGHT_BOLD);
	begin_group(composer, ROLE_ROW);
	begin_head_cell(composer, SCOPE_ROW);
	put_plain(composer, amount->days, days, left + DAYS_X,
	          middle - composer_text_height(composer, amount->days, days, DAYS_WIDTH) / 2, DAYS_WIDTH);
	end_group(composer);
	begin_group(composer, ROLE_CELL);
	struct words_look look = words_look(composer, sheet);
	begin_artifact(composer);
	if (look.beside > 0)
		put_piece(composer, PICTURE_CALENDAR, left + AMOUNT_X, middle);
	end_group(composer);
	put_strip_amount(composer, amount->amount, look.size, left + AMOUNT_X + look.beside, middle,
	                 AMOUNT_WIDTH - look.beside);
	end_group(composer);
	begin_group(composer, ROLE_CELL);
	put_take(composer, sheet, amount, left + TAKE_X, middle);
	end_group(composer);
	end_group(composer);
	begin_artifact(composer);
	put_strip_knot(composer, '=', left + KNOT_X, middle);
	end_group(composer);
}

static void put_amount_heads(struct composer *composer, const struct counted_sheet *sheet, double y)
{
	const char *heads[] = {sheet->days_head, sheet->calendar_says, sheet->take_says};
	static const double xs[] = {DAYS_X, AMOUNT_X, TAKE_X};
	static const double widths[] = {DAYS_WIDTH, AMOUNT_WIDTH, TAKE_WIDTH};
	begin_group(composer, ROLE_ROW);
	for (size_t i = 0; i < 3; i++) {
		begin_head_cell(composer, SCOPE_COLUMN);
		put_plain(composer, heads[i], captions(composer), composer->left + xs[i], y, widths[i]);
		end_group(composer);
	}
	end_group(composer);
}

static void put_amounts(struct composer *composer, const void *what, double y)
{
	const struct counted_sheet *sheet = what;
	double half = LINE_MAIN / 2;
	double height = amounts_height(composer, sheet);
	begin_artifact(composer);
	put_frame(composer, (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half},
	          LINE_MAIN);
	end_group(composer);
	begin_group(composer, ROLE_TABLE);
	put_amount_heads(composer, sheet, y + HEADS_PAD);
	y += HEADS_PAD + heads_height(composer, sheet);
	for (size_t i = 0; i < sheet->n_amounts; i++) {
		double row = amount_row_height(composer, &sheet->amounts[i]);
		if (i > 0) {
			begin_artifact(composer);
			put_line(composer, composer->left + DAYS_X, composer->right - DAYS_X, y, LINE_HAIR);
			end_group(composer);
		}
		put_amount_row(composer, sheet, &sheet->amounts[i], y, row);
		y += row;
	}
	end_group(composer);
}

/* ---- when patches change ---- */

#define PATCH_COLUMNS 4
#define PATCH_RULE 2.2
#define PATCH_BETWEEN 8.0
#define PATCH_TICK 5.0
#define SPLIT_FROM 7  /* rows, from which on the table may stand in two halves ... */
#define SPLIT_MOST 14 /* ... and up to which one column of it leaves room for the amounts */

/* A part of the table that a page can hold. */
struct patch_part {
	const struct counted_sheet *sheet;
	size_t first;
	size_t n;
	bool halves;
	bool heading;
};

static const double patch_shares[PATCH_COLUMNS] = {0.42, 0.14, 0.14, 0.3};

static double patch_width(const struct patch_part *part)
{
	return part->halves ? (LIVE_WIDTH - PATCH_BETWEEN) / 2 : LIVE_WIDTH;
}

static double patch_x(const struct patch_part *part, size_t column)
{
	double x = 0;
	for (size_t i = 0; i < column; i++)
		x += patch_shares[i] * patch_width(part);
	return x;
}

static double patch_row_height(struct composer *composer)
{
	return fmax(cap(composer, TYPE_LEAD), PATCH_TICK - GAP_1) + 2 * PATCH_RULE;
}

static double patch_heads_height(struct composer *composer, const struct patch_part *part)
{
	double height = 0;
	for (size_t i = 0; i < PATCH_COLUMNS; i++)
		height = fmax(height, composer_text_height(composer, part->sheet->patch_heads[i], captions(composer),
		                                           patch_shares[i] * patch_width(part) - GAP_1));
	return height + PATCH_RULE;
}

static double patch_heading_height(const struct composer *composer, const struct patch_part *part)
{
	return part->heading ? cap(composer, TYPE_SECTION) + GAP_3 : 0;
}

static size_t rows_abreast(const struct patch_part *part)
{
	return part->halves ? (part->n + 1) / 2 : part->n;
}

static double patch_height(struct composer *composer, const void *what)
{
	const struct patch_part *part = what;
	return patch_heading_height(composer, part) + patch_heads_height(composer, part) +
	       (double)rows_abreast(part) * patch_row_height(composer);
}

static void put_patch_heads(struct composer *composer, const struct patch_part *part, double x, double y)
{
	begin_group(composer, ROLE_ROW);
	for (size_t i = 0; i < PATCH_COLUMNS; i++) {
		begin_head_cell(composer, SCOPE_COLUMN);
		put_plain(composer, part->sheet->patch_heads[i], captions(composer), x + patch_x(part, i), y,
		          patch_shares[i] * patch_width(part) - GAP_1);
		end_group(composer);
	}
	end_group(composer);
}

static void put_patch_row(struct composer *composer, const struct patch_part *part, const struct patch_row *row,
                          double x, double y)
{
	const char *cells[] = {row->off, row->on, row->then};
	double text = y + (patch_row_height(composer) - cap(composer, TYPE_LEAD)) / 2;
	double low = text + cap(composer, TYPE_LEAD) - cap(composer, TYPE_BODY);
	composer_note_part(composer, row);
	begin_group(composer, ROLE_ROW);
	begin_head_cell(composer, SCOPE_ROW);
	struct rect day = put_plain(composer, row->day, composer_style(composer, TYPE_LEAD, WEIGHT_BOLD), x, text, 0);
	put_plain(composer, row->date, body(composer, WEIGHT_REGULAR), x + fmax(day.width, GAP_5) + GAP_1, low, 0);
	end_group(composer);
	for (size_t i = 0; i < 3; i++) {
		begin_group(composer, ROLE_CELL);
		put_plain(composer, cells[i],
		          composer_style(composer, TYPE_LEAD, i == 1 ? WEIGHT_BOLD : WEIGHT_REGULAR),
		          x + patch_x(part, i + 1), text, 0);
		if (i == 2 && row->own_box)
			put_tick(composer,
			         (struct point){x + patch_width(part) - PATCH_TICK - LINE_MAIN,
			                        y + (patch_row_height(composer) - PATCH_TICK) / 2},
			         PATCH_TICK);
		end_group(composer);
	}
	end_group(composer);
}

static void put_patch_table(struct composer *composer, const struct patch_part *part, size_t first, size_t n, double x,
                            double y)
{
	begin_group(composer, ROLE_TABLE);
	put_patch_heads(composer, part, x, y);
	y += patch_heads_height(composer, part);
	for (size_t i = first; i < first + n; i++) {
		begin_artifact(composer);
		put_line(composer, x, x + patch_width(part), y, i == first ? LINE_MAIN : LINE_HAIR);
		end_group(composer);
		put_patch_row(composer, part, &part->sheet->patches[i], x, y);
		y += patch_row_height(composer);
	}
	end_group(composer);
}

static void put_patches(struct composer *composer, const void *what, double y)
{
	const struct patch_part *part = what;
	size_t left = rows_abreast(part);
	if (part->heading)
		put_heading(composer, ROLE_H2, part->sheet->patches_heading,
		            composer_style(composer, TYPE_SECTION, WEIGHT_BOLD), composer->left, y, LIVE_WIDTH);
	y += patch_heading_height(composer, part);
	put_patch_table(composer, part, part->first, left, composer->left, y);
	if (left < part->n)
		put_patch_table(composer, part, part->first + left, part->n - left,
		                composer->left + patch_width(part) + PATCH_BETWEEN, y);
}

/* Two halves need room for the longest date beside the numbers. */
static bool halves_fit(struct composer *composer, const struct counted_sheet *sheet)
{
	struct patch_part part = {.sheet = sheet, .halves = true};
	double room = patch_shares[0] * patch_width(&part) - GAP_5 - 2 * GAP_1;
	for (size_t i = 0; i < sheet->n_patches; i++)
		if (composer_text_width(composer, sheet->patches[i].date, body(composer, WEIGHT_REGULAR)) > room)
			return false;
	return true;
}

static void add_patches(struct composer *composer, struct page_parts *parts, const struct counted_sheet *sheet,
                        bool halves)
{
	double room = parts_room(composer, parts->title, parts->lead) - cap(composer, TYPE_SECTION) - 2 * GAP_5;
	size_t most = (size_t)(room / patch_row_height(composer)) * (halves ? 2 : 1);
	for (size_t first = 0; first < sheet->n_patches; first += most) {
		struct patch_part *part = arena_alloc(composer->arena, sizeof *part);
		size_t n = sheet->n_patches - first < most ? sheet->n_patches - first : most;
		*part = (struct patch_part){sheet, first, n, halves, first == 0};
		parts_add(parts, patch_height, put_patches, part);
	}
}

/* ---- the page ---- */

static void fill_parts(struct composer *composer, struct page_parts *parts, const struct counted_sheet *sheet,
                       bool halves)
{
	const struct medicine_sheet *common = sheet->sheet;
	*parts = parts_of_front(common);
	parts_add_must_know(parts, common);
	parts_add_first(parts, common);
	parts_add(parts, amounts_height, put_amounts, sheet);
	add_patches(composer, parts, sheet, halves);
	parts_add_steps(parts, sheet->steps_heading, common->front, common->n_front, NULL);
	parts_add_notes(parts, common);
}

/* Steps name the pages of the table of changes: mostly it is not on theirs. */
static const struct counted_sheet *with_pages(struct composer *composer, const struct counted_sheet *of)
{
	struct counted_sheet *sheet = arena_alloc(composer->arena, sizeof *sheet);
	struct medicine_sheet *common = arena_alloc(composer->arena, sizeof *common);
	struct step *steps = arena_alloc(composer->arena, (of->sheet->n_front + 1) * sizeof *steps);
	const void **rows = arena_alloc(composer->arena, (of->n_patches + 1) * sizeof *rows);
	for (size_t i = 0; i < of->n_patches; i++)
		rows[i] = &of->patches[i];
	const char *pages = composer_part_pages(composer, composer_section_ref(composer), rows, of->n_patches);
	for (size_t i = 0; i < of->sheet->n_front; i++) {
		steps[i] = of->sheet->front[i];
		steps[i].text = composer_fill_page(composer, steps[i].text, pages);
	}
	*common = *of->sheet;
	common->front = steps;
	*sheet = *of;
	sheet->sheet = common;
	return sheet;
}

/* A long table stands in two halves where that saves a page, or where one page could not hold it. */
void counted_place(struct composer *composer, const struct counted_sheet *of)
{
	const struct counted_sheet *sheet = with_pages(composer, of);
	if (composer->large_print) {
		large_counted(composer, sheet);
		return;
	}
	struct page_parts *parts = arena_alloc(composer->arena, sizeof *parts);
	bool may_split = sheet->n_patches >= SPLIT_FROM && halves_fit(composer, sheet);
	fill_parts(composer, parts, sheet, may_split);
	if (may_split && sheet->n_patches <= SPLIT_MOST && !parts_fit_one_page(composer, parts))
		fill_parts(composer, parts, sheet, false);
	put_parts(composer, parts);
}
