/*
 * supplies.c - what is needed, in hand and to get: one row a thing, a square a piece.
 */
#include "page/large_pages.h"
#include "page/sections.h"
#include "page/styles.h"

#include <math.h>
#include <string.h>

#define ROW_LEAST 11.6
#define ROW_EXTRA 8.0 /* the most that a row grows */
#define NAME_X 14.0
#define NAME_WIDTH (SQUARES_X - NAME_X - 3)
#define DETAIL_WIDTH (NEED_X - 7.0 - NAME_X) /* under the squares, where they are on one line */
#define NAME_BETWEEN 2.6
#define NAME_LEADING 5.6
#define NAME_PAD_TIGHT 1.3
#define INK_CLEAR 0.4
#define NAME_PAD 1.7 /* clear of accents on capitals */
#define SQUARES_X 88.0
#define SQUARE 3.3
#define SQUARE_PITCH 3.9
#define FIVE_GAP 0.8
#define ACROSS 10
#define SQUARES_MOST 20
#define SQUARE_WORD 5.0 /* from a square of the head to its word */
#define NEED_X 139.0
#define HAVE_X 154.0
#define GET_X 168.0
#define UNIT_BELOW 1.9
#define TICK 7.0
#define KEY_HEIGHT 8.0 /* where the key has a line of its own */
#define KEY_CLEAR 8.0  /* of the first count's middle */
#define GROUP_HEAD 6.5 /* heading and its rule */
#define FOOT_LEAST 16.0
#define FOOT_PAD 4.0
#define FOOT_TEXT 20.0
#define FOOT_BETWEEN 2.7

static const char *digits(struct composer *composer, int64_t number)
{
	return say_number(composer->speaker, rational_of(number, 1));
}

static double square_x(double left, int index)
{
	return left + (index % ACROSS) * SQUARE_PITCH + (index % ACROSS >= 5 ? FIVE_GAP : 0);
}

void supplies_put_square(struct composer *composer, double x, double y, double size, bool solid)
{
	double inset = solid ? 0 : LINE_MAIN / 2;
	put_box(composer, (struct rect){x + inset, y + inset, size - 2 * inset, size - 2 * inset},
	        (struct box){.line = solid ? 0 : LINE_MAIN,
	                     .stroke = solid ? COLOUR_NONE : COLOUR_INK,
	                     .fill = solid ? COLOUR_DAY : COLOUR_NONE});
}

static void put_squares(struct composer *composer, int64_t have, int64_t get, double x, double middle)
{
	int n = (int)(have + get);
	int lines = (n + ACROSS - 1) / ACROSS;
	double top = middle - (lines * SQUARE_PITCH - (SQUARE_PITCH - SQUARE)) / 2;
	begin_artifact(composer);
	for (int i = 0; i < n; i++)
		supplies_put_square(composer, square_x(x, i), top + i / ACROSS * SQUARE_PITCH, SQUARE, i < have);
	end_group(composer);
}

static double unit_below(const struct composer *composer, const struct supply_row *row)
{
	return row->unit == NULL ? 0 : UNIT_BELOW + text_cap_height(regular(composer, TYPE_REFERENCE));
}

static void put_count(struct composer *composer, const struct supply_row *row, int64_t count, double x, double middle)
{
	struct text_style style = {.size = 15, .weight = WEIGHT_REGULAR, .tabular = true};
	double y = middle - (text_cap_height(style) + unit_below(composer, row)) / 2;
	put_text(composer, digits(composer, count), style, ALIGN_CENTER, composer->left + x, y, 0, COLOUR_INK);
}

/* "10   30", and below both what they count: "tablets". */
static void put_counts(struct composer *composer, const struct supply_row *row, double middle)
{
	struct text_style small = regular(composer, TYPE_REFERENCE);
	begin_group(composer, ROLE_CELL);
	put_count(composer, row, row->need, NEED_X, middle);
	end_group(composer);
	begin_group(composer, ROLE_CELL);
	put_count(composer, row, row->have, HAVE_X, middle);
	if (row->unit != NULL) {
		int64_t count = row->need > row->have ? row->need : row->have;
		struct text_style style = {.size = 15};
		put_text(composer, say_count(composer->speaker, row->unit, count, NO_VALUES), small, ALIGN_CENTER,
		         composer->left + (NEED_X + HAVE_X) / 2,
		         middle + (text_cap_height(style) + unit_below(composer, row)) / 2 - text_cap_height(small), 0,
		         COLOUR_INK);
	}
	end_group(composer);
}

/* What is to get has a box to tick; nothing to get is said, since a tick would read as 'yes'. */
static void put_get(struct composer *composer, const struct supplies_sheet *sheet, const struct supply_row *row,
                    double middle)
{
	struct text_style none = regular(composer, TYPE_REFERENCE);
	struct text_style strong = {.size = 20, .weight = WEIGHT_BOLD};
	begin_group(composer, ROLE_CELL);
	if (row->get > 0) {
		put_text(composer, digits(composer, row->get), strong, ALIGN_END, composer->left + GET_X + 3,
		         middle - text_cap_height(strong) / 2, 0, COLOUR_INK);
		put_tick(composer, (struct point){composer->right - TICK - LINE_MAIN / 2, middle - TICK / 2}, TICK);
	} else {
		put_text(composer, sheet->none_word, none, ALIGN_CENTER, composer->left + GET_X,
		         middle - text_cap_height(none) / 2, 0, COLOUR_INK);
	}
	end_group(composer);
}

static const struct text_block *name_block(struct composer *composer, const struct supply_row *row)
{
	struct text_style style = bold(composer, TYPE_LEAD);
	style.leading = NAME_LEADING;
	return composer_set_name(composer, row->name, style, NAME_WIDTH, 3);
}

bool supplies_has_squares(const struct supply_row *row)
{
	return row->have + row->get > 0 && row->have + row->get <= SQUARES_MOST;
}

/* Two lines of squares reach down beside the detail. */
static double detail_width(const struct supply_row *row)
{
	return supplies_has_squares(row) && row->have + row->get > ACROSS ? NAME_WIDTH : DETAIL_WIDTH;
}

static struct text_style detail_style(const struct composer *composer)
{
	struct text_style style = regular(composer, TYPE_BODY);
	style.leading = 5.0;
	return style;
}

/* Its lines, one after the other. */
static const char *detail_words(struct composer *composer, const struct supply_row *row)
{
	const char *words = "";
	for (const char *rest = row->detail; rest != NULL && *rest != '\0';) {
		size_t n = strcspn(rest, "\n");
		words = arena_printf(composer->arena, "%s%s%.*s", words, *words == '\0' ? "" : " \u00b7 ", (int)n,
		                     rest);
		rest += n + (rest[n] == '\n' ? 1 : 0);
	}
	return words;
}

static double words_height(struct composer *composer, const struct supply_row *row)
{
	double detail =
		composer_text_height(composer, detail_words(composer, row), detail_style(composer), detail_width(row));
	return text_height(name_block(composer, row)) + (detail > 0 ? NAME_BETWEEN + detail : 0);
}

static void put_row(struct composer *composer, const struct supplies_sheet *sheet, const struct supply_row *row,
                    double y, double height)
{
	double middle = y + height / 2;
	double left = composer->left;
	const struct text_block *block = name_block(composer, row);
	double top = middle - words_height(composer, row) / 2;
	begin_group(composer, ROLE_ROW);
	put_picture(composer, row->pictogram, left, middle - 5.4, 10.8);
	begin_head_cell(composer, SCOPE_ROW);
	put_block(composer, block, ALIGN_START, left + NAME_X, top, COLOUR_INK);
	put_text(composer, detail_words(composer, row), detail_style(composer), ALIGN_START, left + NAME_X,
	         top + text_height(block) + NAME_BETWEEN, detail_width(row), COLOUR_INK);
	end_group(composer);
	if (supplies_has_squares(row))
		put_squares(composer, row->have, row->get, left + SQUARES_X,
		            row->have + row->get > ACROSS ? middle : top + text_cap_height(*text_style_of(block)) / 2);
	put_counts(composer, row, middle);
	put_get(composer, sheet, row, middle);
	end_group(composer);
	put_rule(composer, (struct point){left, y + height}, (struct point){composer->right, y + height}, LINE_FINE,
	         COLOUR_INK);
}

static double key_width(struct composer *composer, const struct supplies_sheet *sheet)
{
	struct text_style small = regular(composer, TYPE_REFERENCE);
	return SQUARE_WORD + composer_text_width(composer, sheet->have_word, small) + GAP_2 + SQUARE_WORD +
	       composer_text_width(composer, sheet->get_each_word, small);
}

/* On the line of the first table's heads, or above it where its words are long: 0, or how much lower that then begins. */
static double key_height(struct composer *composer, const struct supplies_sheet *sheet)
{
	return key_width(composer, sheet) <= NEED_X - KEY_CLEAR - SQUARES_X ? 0 : KEY_HEIGHT;
}

/* What the squares mean; the heads of the counts stand over each table. */
static void put_key(struct composer *composer, const struct supplies_sheet *sheet, double y)
{
	struct text_style small = regular(composer, TYPE_REFERENCE);
	double left = composer->left;
	double have = left + SQUARES_X + SQUARE_WORD;
	double get = have + composer_text_width(composer, sheet->have_word, small) + GAP_2;
	begin_artifact(composer);
	supplies_put_square(composer, left + SQUARES_X, y, SQUARE, true);
	supplies_put_square(composer, get, y, SQUARE, false);
	double word_y = y + (SQUARE - text_cap_height(small)) / 2;
	put_plain(composer, sheet->have_word, small, have, word_y, 0);
	put_plain(composer, sheet->get_each_word, small, get + SQUARE_WORD, word_y,
	          composer->right - get - SQUARE_WORD);
	end_group(composer);
}

static void put_head(struct composer *composer, const char *text, double x, double y)
{
	begin_head_cell(composer, SCOPE_COLUMN);
	put_text(composer, text, bold(composer, TYPE_BODY), ALIGN_CENTER, composer->left + x, y, 0, COLOUR_INK);
	end_group(composer);
}

/* On the line of the table's heading, which stands where the names' head would. */
static void put_heads(struct composer *composer, const struct supplies_sheet *sheet, double y)
{
	begin_group(composer, ROLE_ROW);
	begin_group(composer, ROLE_CELL);
	end_group(composer);
	put_head(composer, sheet->need_heading, NEED_X, y);
	put_head(composer, sheet->have_heading, HAVE_X, y);
	put_head(composer, sheet->get_heading, GET_X, y);
	end_group(composer);
}

static double foot_words(struct composer *composer, const struct supplies_sheet *sheet)
{
	double width = LIVE_WIDTH - FOOT_TEXT - FOOT_PAD;
	return composer_text_height(composer, sheet->first_line, bold(composer, TYPE_BODY), width) + FOOT_BETWEEN +
	       composer_text_height(composer, sheet->second_line, regular(composer, TYPE_BODY), width);
}

static double foot_height(struct composer *composer, const struct supplies_sheet *sheet)
{
	return fmax(FOOT_LEAST, foot_words(composer, sheet) + 2 * FOOT_PAD);
}

static void put_foot(struct composer *composer, const struct supplies_sheet *sheet)
{
	double height = foot_height(composer, sheet);
	struct rect area = {composer->left, composer->bottom - height, LIVE_WIDTH, height};
	double width = LIVE_WIDTH - FOOT_TEXT - FOOT_PAD;
	put_frame(composer, area, LINE_STRONG);
	put_picture(composer, PICTURE_BAG, area.x + FOOT_PAD, area.y + (height - 10) / 2, 10);
	struct rect first = put_paragraph(composer, sheet->first_line, bold(composer, TYPE_BODY), area.x + FOOT_TEXT,
	                                  area.y + FOOT_PAD, width);
	put_paragraph(composer, sheet->second_line, regular(composer, TYPE_BODY), area.x + FOOT_TEXT,
	              first.y + first.height + FOOT_BETWEEN, width);
}

/* How far ink reaches above the words' first capitals or below their last baseline. */
static double ink_beyond(struct composer *composer, const struct supply_row *row)
{
	double rise = -text_ink(name_block(composer, row)).y;
	const char *words = detail_words(composer, row);
	if (words == NULL || *words == '\0')
		return rise;
	const struct text_block *detail = composer_set(composer, words, detail_style(composer), detail_width(row));
	struct rect ink = text_ink(detail);
	return fmax(rise, ink.y + ink.height - text_height(detail));
}

static double row_least(struct composer *composer, const struct supply_row *row)
{
	double pad = NAME_PAD;
	/* An accent or a tail stays clear of the rules, however close rows are. */
	if (composer_is_tight(composer))
		pad = fmin(NAME_PAD, fmax(NAME_PAD_TIGHT, ink_beyond(composer, row) + INK_CLEAR));
	return fmax(ROW_LEAST, words_height(composer, row) + 2 * pad);
}

static double group_height(struct composer *composer, const struct supply_group *group)
{
	double height = GROUP_HEAD;
	for (size_t i = 0; i < group->n_rows; i++)
		height += row_least(composer, &group->rows[i]);
	return height;
}

/* What a page that holds all has left; below 0: none does. */
static double spare_height(struct composer *composer, const struct supplies_sheet *sheet)
{
	double used = key_height(composer, sheet) + foot_height(composer, sheet) + GAP_3;
	for (size_t i = 0; i < sheet->n_groups; i++)
		used += group_height(composer, &sheet->groups[i]) + GAP_3;
	return composer->bottom - composer->top - used;
}

/* Rows share what height is left where all stand on one page. */
static double row_extra(struct composer *composer, const struct supplies_sheet *sheet)
{
	size_t n = 0;
	for (size_t i = 0; i < sheet->n_groups; i++)
		n += sheet->groups[i].n_rows;
	return n == 0 ? 0 : fmax(0, fmin(ROW_EXTRA, spare_height(composer, sheet) / (double)n));
}

static double open_page(struct composer *composer, const struct supplies_sheet *sheet)
{
	composer_new_page(composer, sheet->title, sheet->lead);
	put_key(composer, sheet, composer->top + 1);
	return composer->top + key_height(composer, sheet);
}

/* Opens the table of a group; it is closed after its last row. */
static double begin_table(struct composer *composer, const struct supplies_sheet *sheet, const char *heading, double y)
{
	struct rect line = put_heading(composer, ROLE_H2, heading, bold(composer, TYPE_SECTION), composer->left, y, 0);
	begin_group(composer, ROLE_TABLE);
	put_heads(composer, sheet, y + line.height - text_cap_height(bold(composer, TYPE_BODY)));
	put_line(composer, composer->left, composer->right, y + GROUP_HEAD, LINE_MAIN);
	return y + GROUP_HEAD;
}

/* A group that would be cut begins a page of its own where it then stands whole. */
static bool breaks_before(struct composer *composer, const struct supplies_sheet *sheet,
                          const struct supply_group *group, double y, double foot)
{
	double height = group_height(composer, group);
	double whole = composer->bottom - composer->top - key_height(composer, sheet) - foot;
	return y + height > composer->bottom - foot && height <= whole;
}

void supplies_place(struct composer *composer, const struct supplies_sheet *sheet)
{
	if (composer->large_print) {
		large_supplies(composer, sheet);
		return;
	}
	double foot = foot_height(composer, sheet) + GAP_3;
	double y = open_page(composer, sheet);
	if (spare_height(composer, sheet) < 0)
		composer->closeness = TIGHT;
	double extra = row_extra(composer, sheet);
	for (size_t i = 0; i < sheet->n_groups; i++) {
		const struct supply_group *group = &sheet->groups[i];
		if (group->n_rows == 0)
			continue;
		if (i > 0 && breaks_before(composer, sheet, group, y, foot))
			y = open_page(composer, sheet);
		y = begin_table(composer, sheet, group->heading, y);
		for (size_t j = 0; j < group->n_rows; j++) {
			double height = row_least(composer, &group->rows[j]) + extra;
			if (y + height > composer->bottom - foot) {
				end_group(composer);
				y = begin_table(composer, sheet, group->heading, open_page(composer, sheet));
			}
			put_row(composer, sheet, &group->rows[j], y, height);
			y += height;
		}
		end_group(composer);
		y += GAP_3;
	}
	put_foot(composer, sheet);
	composer->closeness = ROOMY;
}
