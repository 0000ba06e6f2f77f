/*
 * supplies.c - what is needed, in hand and to get: one row a thing, a square a piece.
 */
#include "page/sections.h"

#include <math.h>

#define ROW_LEAST 13.2
#define ROW_MOST 16.0
#define NAME_X 14.0
#define SQUARES_X 88.0
#define SQUARE 3.3
#define SQUARE_PITCH 3.9
#define FIVE_GAP 0.8
#define ACROSS 10
#define SQUARES_MOST 20
#define NEED_X 139.0
#define HAVE_X 154.0
#define GET_X 168.0
#define TICK 7.0
#define HEAD_HEIGHT 8.0
#define GROUP_HEAD 9.5
#define FOOT_HEIGHT 16.0

static struct text_style bold(const struct composer *composer, enum type_role role)
{
	return composer_style(composer, role, WEIGHT_BOLD);
}

static struct text_style regular(const struct composer *composer, enum type_role role)
{
	return composer_style(composer, role, WEIGHT_REGULAR);
}

static const char *digits(struct composer *composer, int64_t number)
{
	return say_number(composer->speaker, rational_of(number, 1));
}

static double square_x(double left, int index)
{
	return left + (index % ACROSS) * SQUARE_PITCH + (index % ACROSS >= 5 ? FIVE_GAP : 0);
}

/* Solid is at home, open is to get. */
static void put_squares(struct composer *composer, int64_t have, int64_t get, double x, double middle)
{
	int n = (int)(have + get);
	int lines = (n + ACROSS - 1) / ACROSS;
	double top = middle - (lines * SQUARE_PITCH - (SQUARE_PITCH - SQUARE)) / 2;
	begin_artifact(composer);
	for (int i = 0; i < n; i++) {
		struct rect area = {square_x(x, i), top + i / ACROSS * SQUARE_PITCH, SQUARE, SQUARE};
		bool solid = i < have;
		put_box(composer, area,
		        (struct box){.line = solid ? 0 : LINE_MAIN,
		                     .stroke = solid ? COLOUR_NONE : COLOUR_INK,
		                     .fill = solid ? COLOUR_DAY : COLOUR_NONE});
	}
	end_group(composer);
}

static void put_counts(struct composer *composer, const struct supply_row *row, double middle)
{
	struct text_style style = {.size = 15, .weight = WEIGHT_REGULAR, .tabular = true};
	struct text_style strong = {.size = 20, .weight = WEIGHT_BOLD};
	double y = middle - text_cap_height(style) / 2;
	begin_group(composer, ROLE_CELL);
	put_text(composer, digits(composer, row->need), style, ALIGN_CENTER, composer->left + NEED_X, y, 0, COLOUR_INK);
	end_group(composer);
	begin_group(composer, ROLE_CELL);
	put_text(composer, digits(composer, row->have), style, ALIGN_CENTER, composer->left + HAVE_X, y, 0, COLOUR_INK);
	end_group(composer);
	begin_group(composer, ROLE_CELL);
	if (row->get > 0) {
		put_text(composer, digits(composer, row->get), strong, ALIGN_END, composer->left + GET_X + 3,
		         middle - text_cap_height(strong) / 2, 0, COLOUR_INK);
		put_tick(composer, (struct point){composer->right - TICK, middle - TICK / 2}, TICK);
	} else {
		put_picture(composer, PICTURE_CHECK, composer->left + GET_X - 3, middle - 3, 6);
	}
	end_group(composer);
}

static void put_row(struct composer *composer, const struct supply_row *row, double y, double height)
{
	double middle = y + height / 2;
	double left = composer->left;
	struct text_style name = bold(composer, TYPE_LEAD);
	struct text_style detail = regular(composer, TYPE_REFERENCE);
	double text_height = text_cap_height(name) + 2.4 + text_cap_height(detail);
	double top = middle - text_height / 2;
	begin_group(composer, ROLE_ROW);
	put_picture(composer, row->pictogram, left, middle - 5.4, 10.8);
	begin_head_cell(composer, SCOPE_ROW);
	put_block(composer, composer_set_name(composer, row->name, name, SQUARES_X - NAME_X - 3, 1), ALIGN_START,
	          left + NAME_X, top, COLOUR_INK);
	put_text(composer, row->detail, detail, ALIGN_START, left + NAME_X, top + text_cap_height(name) + 2.4,
	         SQUARES_X - NAME_X - 3, COLOUR_INK);
	end_group(composer);
	if (row->have + row->get > 0 && row->have + row->get <= SQUARES_MOST)
		put_squares(composer, row->have, row->get, left + SQUARES_X, middle);
	put_counts(composer, row, middle);
	end_group(composer);
	put_rule(composer, (struct point){left, y + height}, (struct point){composer->right, y + height}, LINE_FINE,
	         COLOUR_INK);
}

static void put_heads(struct composer *composer, const struct supplies_sheet *sheet, double y)
{
	struct text_style small = regular(composer, TYPE_REFERENCE);
	struct text_style head = bold(composer, TYPE_BODY);
	double left = composer->left;
	double cap = text_cap_height(head);
	begin_artifact(composer);
	put_box(composer, (struct rect){left + SQUARES_X, y, SQUARE, SQUARE},
	        (struct box){.stroke = COLOUR_NONE, .fill = COLOUR_DAY});
	put_box(composer, (struct rect){left + SQUARES_X + 17, y, SQUARE, SQUARE},
	        (struct box){.line = LINE_MAIN, .stroke = COLOUR_INK, .fill = COLOUR_NONE});
	end_group(composer);
	double word_y = y + (SQUARE - text_cap_height(small)) / 2;
	put_plain(composer, sheet->have_word, small, left + SQUARES_X + 5, word_y, 0);
	put_plain(composer, sheet->get_each_word, small, left + SQUARES_X + 22, word_y, 0);
	double head_y = y + (SQUARE - cap) / 2;
	put_text(composer, sheet->need_heading, head, ALIGN_CENTER, left + NEED_X, head_y, 0, COLOUR_INK);
	put_text(composer, sheet->have_heading, head, ALIGN_CENTER, left + HAVE_X, head_y, 0, COLOUR_INK);
	put_text(composer, sheet->get_heading, head, ALIGN_CENTER, left + GET_X, head_y, 0, COLOUR_INK);
}

static void put_foot(struct composer *composer, const struct supplies_sheet *sheet)
{
	struct rect area = {composer->left, composer->bottom - FOOT_HEIGHT, LIVE_WIDTH, FOOT_HEIGHT};
	struct text_style first = bold(composer, TYPE_BODY);
	struct text_style second = regular(composer, TYPE_BODY);
	if (sheet->first_line == NULL)
		return;
	put_frame(composer, area, LINE_STRONG);
	put_picture(composer, PICTURE_BAG, area.x + 4, area.y + 3, 10);
	put_paragraph(composer, sheet->first_line, first, area.x + 20, area.y + 4, area.width - 24);
	put_paragraph(composer, sheet->second_line, second, area.x + 20, area.y + 4 + 5.6, area.width - 24);
}

static size_t row_count(const struct supplies_sheet *sheet)
{
	size_t n = 0;
	for (size_t i = 0; i < sheet->n_groups; i++)
		n += sheet->groups[i].n_rows;
	return n;
}

/* Rows share what height is left, on one page if they can. */
static double row_height(const struct composer *composer, const struct supplies_sheet *sheet)
{
	double foot = sheet->first_line == NULL ? 0 : FOOT_HEIGHT + GAP_3;
	double fixed = HEAD_HEIGHT + (double)sheet->n_groups * (GROUP_HEAD + GAP_3) + foot;
	double each = (composer->bottom - composer->top - fixed) / (double)row_count(sheet);
	return fmax(ROW_LEAST, fmin(ROW_MOST, each));
}

static double open_page(struct composer *composer, const struct supplies_sheet *sheet)
{
	composer_new_page(composer, sheet->title, sheet->lead);
	put_heads(composer, sheet, composer->top + 1);
	return composer->top + HEAD_HEIGHT;
}

static double put_group_head(struct composer *composer, const char *heading, double y)
{
	put_heading(composer, ROLE_H2, heading, bold(composer, TYPE_SECTION), composer->left, y, 0);
	put_line(composer, composer->left, composer->right, y + 6.5, LINE_MAIN);
	return y + 6.5;
}

void supplies_place(struct composer *composer, const struct supplies_sheet *sheet)
{
	double foot = sheet->first_line == NULL ? 0 : FOOT_HEIGHT + GAP_3;
	double y = open_page(composer, sheet);
	double height = row_height(composer, sheet);
	for (size_t i = 0; i < sheet->n_groups; i++) {
		const struct supply_group *group = &sheet->groups[i];
		if (group->n_rows == 0)
			continue;
		if (y + GROUP_HEAD + 2 * height > composer->bottom - foot)
			y = open_page(composer, sheet);
		y = put_group_head(composer, group->heading, y);
		begin_group(composer, ROLE_TABLE);
		for (size_t j = 0; j < group->n_rows; j++) {
			if (y + height > composer->bottom - foot) {
				end_group(composer);
				y = put_group_head(composer, group->heading, open_page(composer, sheet));
				begin_group(composer, ROLE_TABLE);
			}
			put_row(composer, &group->rows[j], y, height);
			y += height;
		}
		end_group(composer);
		y += GAP_4;
	}
	put_foot(composer, sheet);
}
