/*
 * teach.c - the staff's teach-back page: what to say, when it is right, three boxes, and who was there.
 */
#include "page/sections.h"
#include "page/styles.h"

#include <math.h>
#include <string.h>

#define PICTURE 9.6
#define SAY_X 13.6
#define RIGHT_X 72.0
#define TICK 7.6
#define TICK_COLUMNS 3
#define COLUMN_LEAST 14.0
#define TAG_SIZE 17.0
#define TAG_LEAST 10.0
#define ROW_LEAST 12.6
#define ROW_MOST 17.0
#define ROW_PAD 2.1
#define HEADS_BELOW 3.2
#define SIGN_HEIGHT 27.0
#define SIGN_SIDE 4.0
#define SIGN_DATE 32.0
#define SIGN_LINE 7.4 /* from the frame's foot */

/* ---- columns ---- */

static double column_width(struct composer *composer, const struct teach_sheet *sheet, size_t column)
{
	double head = composer_text_width(composer, sheet->tick_heads[column], bold(composer, TYPE_BODY));
	return fmax(COLUMN_LEAST, head + GAP_2);
}

/* Where a column of ticks begins; the one after the last is the live column's end. */
static double column_left(struct composer *composer, const struct teach_sheet *sheet, size_t column)
{
	double x = LIVE_WIDTH;
	for (size_t i = TICK_COLUMNS; i > column; i--)
		x -= column_width(composer, sheet, i - 1);
	return x;
}

static double column_middle(struct composer *composer, const struct teach_sheet *sheet, size_t column)
{
	return composer->left + column_left(composer, sheet, column) + column_width(composer, sheet, column) / 2;
}

static double say_width(void)
{
	return RIGHT_X - SAY_X - GAP_2;
}

static double right_width(struct composer *composer, const struct teach_sheet *sheet)
{
	return column_left(composer, sheet, 0) - RIGHT_X - GAP_1;
}

/* ---- rows ---- */

/* "step 10, page 8"; where the packet numbers no such step, the sheet's first page. */
static const char *step_and_page(struct composer *composer, const struct teach_row *row)
{
	const char *page = composer_label_of_step(composer, row->section, row->step);
	if (page == NULL)
		page = composer_label_of_step(composer, row->back, row->step);
	if (page != NULL)
		return say2(composer->speaker, "teach.step", "step",
		            say_number(composer->speaker, rational_of(row->step, 1)), "page",
		            say1(composer->speaker, "page.ref", "page", page));
	page = composer_label_of_part(composer, row->section, row->part);
	return page == NULL ? composer_page_ref(composer, row->section)
	                    : say1(composer->speaker, "page.ref", "page", page);
}

/* Behind a tag that is not in the staff's language stands what it says. */
static const char *where_words(struct composer *composer, const struct teach_row *row)
{
	const char *where = step_and_page(composer, row);
	return row->means == NULL ? where : say2(composer->speaker, "teach.means", "means", row->means, "where", where);
}

/* Words and page in one text; beside a tag the page stands alone. */
static const char *right_words(struct composer *composer, const struct teach_row *row)
{
	if (row->mark.number != NULL || row->section < 0)
		return row->right;
	const char *where = where_words(composer, row);
	if (row->step > 0)
		return arena_printf(composer->arena, "%s %s", row->right, where);
	size_t n = strlen(row->right);
	bool stop = n > 0 && row->right[n - 1] == '.'; /* it goes behind the page */
	return arena_printf(composer->arena, "%.*s (%s)%s", (int)(stop ? n - 1 : n), row->right, where,
	                    stop ? "." : "");
}

/* A long mark is set smaller, to stay clear of the ticks. */
static double tag_size(struct composer *composer, const struct teach_sheet *sheet, const struct teach_row *row)
{
	double size = TAG_SIZE;
	while (size > TAG_LEAST && measure_tag(composer, row->mark, size).width > right_width(composer, sheet))
		size -= 1;
	return size;
}

/* The page stands beside the tag where it has room, else below. */
static bool page_below(struct composer *composer, const struct teach_sheet *sheet, const struct teach_row *row)
{
	if (row->section < 0)
		return false;
	double tag = measure_tag(composer, row->mark, tag_size(composer, sheet, row)).width;
	return tag + GAP_2 +
	               composer_text_width(composer, where_words(composer, row), regular(composer, TYPE_REFERENCE)) >
	       right_width(composer, sheet);
}

static double right_height(struct composer *composer, const struct teach_sheet *sheet, const struct teach_row *row)
{
	if (row->mark.number != NULL)
		return measure_tag(composer, row->mark, tag_size(composer, sheet, row)).height +
		       (page_below(composer, sheet, row) ? GAP_2 + text_cap_height(regular(composer, TYPE_REFERENCE))
		                                         : 0);
	return composer_text_height(composer, right_words(composer, row), regular(composer, TYPE_BODY),
	                            right_width(composer, sheet));
}

static double say_height(struct composer *composer, const struct teach_row *row)
{
	return composer_text_height(composer, row->say, regular(composer, TYPE_BODY), say_width());
}

static double row_height(struct composer *composer, const struct teach_sheet *sheet, const struct teach_row *row)
{
	return fmax(ROW_LEAST, fmax(say_height(composer, row), right_height(composer, sheet, row)) + 2 * ROW_PAD);
}

static void put_right(struct composer *composer, const struct teach_sheet *sheet, const struct teach_row *row,
                      double middle)
{
	struct text_style body = regular(composer, TYPE_BODY);
	struct text_style small = regular(composer, TYPE_REFERENCE);
	double x = composer->left + RIGHT_X;
	double height = right_height(composer, sheet, row);
	if (row->mark.number == NULL) {
		put_plain(composer, right_words(composer, row), body, x, middle - height / 2,
		          right_width(composer, sheet));
		return;
	}
	double size = tag_size(composer, sheet, row);
	struct rect tag = measure_tag(composer, row->mark, size);
	bool below = page_below(composer, sheet, row);
	double top = middle - height / 2;
	put_tag(composer, row->mark, size, (struct point){x + tag.width / 2, top + tag.height});
	put_plain(composer, where_words(composer, row), small, below ? x : x + tag.width + GAP_2,
	          below ? top + tag.height + GAP_2 : middle - text_cap_height(small) / 2, 0);
}

static void put_row(struct composer *composer, const struct teach_sheet *sheet, const struct teach_row *row, double y,
                    double height)
{
	double middle = y + height / 2;
	begin_group(composer, ROLE_ROW);
	put_picture(composer, row->pictogram, composer->left + 0.4, middle - PICTURE / 2, PICTURE);
	begin_head_cell(composer, SCOPE_ROW);
	put_plain(composer, row->say, regular(composer, TYPE_BODY), composer->left + SAY_X,
	          middle - say_height(composer, row) / 2, say_width());
	end_group(composer);
	begin_group(composer, ROLE_CELL);
	put_right(composer, sheet, row, middle);
	end_group(composer);
	for (size_t i = 0; i < TICK_COLUMNS; i++) {
		double centre = column_middle(composer, sheet, i);
		begin_group(composer, ROLE_CELL);
		put_tick(composer, (struct point){centre - TICK / 2, middle - TICK / 2}, TICK);
		end_group(composer);
	}
	end_group(composer);
}

static double heads_height(const struct composer *composer)
{
	return text_cap_height(bold(composer, TYPE_BODY)) + HEADS_BELOW;
}

static double put_heads(struct composer *composer, const struct teach_sheet *sheet, double y)
{
	struct text_style head = bold(composer, TYPE_BODY);
	begin_group(composer, ROLE_ROW);
	begin_head_cell(composer, SCOPE_COLUMN);
	put_plain(composer, sheet->say_head, head, composer->left, y, 0);
	end_group(composer);
	begin_head_cell(composer, SCOPE_COLUMN);
	put_plain(composer, sheet->right_head, head, composer->left + RIGHT_X, y, 0);
	end_group(composer);
	for (size_t i = 0; i < TICK_COLUMNS; i++) {
		begin_head_cell(composer, SCOPE_COLUMN);
		put_text(composer, sheet->tick_heads[i], head, ALIGN_CENTER, column_middle(composer, sheet, i), y, 0,
		         COLOUR_INK);
		end_group(composer);
	}
	end_group(composer);
	y += heads_height(composer);
	put_line(composer, composer->left, composer->right, y, LINE_MAIN);
	return y;
}

/* ---- who was there ---- */

static double again_height(struct composer *composer, const struct teach_sheet *sheet)
{
	return composer_text_height(composer, sheet->again_line, bold(composer, TYPE_BODY), LIVE_WIDTH);
}

static double foot_height(struct composer *composer, const struct teach_sheet *sheet)
{
	return GAP_3 + again_height(composer, sheet) + GAP_3 + SIGN_HEIGHT;
}

static void put_signature(struct composer *composer, const struct teach_sheet *sheet, size_t which, struct rect area)
{
	struct text_style small = regular(composer, TYPE_REFERENCE);
	double line = area.y + area.height - SIGN_LINE;
	double split = area.x + area.width - SIGN_DATE;
	put_frame(composer, area, LINE_MAIN);
	double width = area.width - 2 * SIGN_SIDE;
	struct rect head = put_heading(composer, ROLE_H2, sheet->signed_heads[which], bold(composer, TYPE_BODY),
	                               area.x + SIGN_SIDE, area.y + SIGN_SIDE, width);
	put_paragraph(composer, sheet->signed_notes[which], small, area.x + SIGN_SIDE, head.y + head.height + 2.6,
	              width);
	put_line(composer, area.x + SIGN_SIDE, split - SIGN_SIDE, line, LINE_FINE);
	put_line(composer, split, area.x + area.width - SIGN_SIDE, line, LINE_FINE);
	put_plain(composer, sheet->name_word, small, area.x + SIGN_SIDE, line + 2, 0);
	put_plain(composer, sheet->date_word, small, split, line + 2, 0);
}

static void put_foot(struct composer *composer, const struct teach_sheet *sheet, double y)
{
	double width = (LIVE_WIDTH - GAP_4) / 2;
	put_paragraph(composer, sheet->again_line, bold(composer, TYPE_BODY), composer->left, y + GAP_3, LIVE_WIDTH);
	for (size_t i = 0; i < 2; i++)
		put_signature(composer, sheet, i,
		              (struct rect){composer->left + (double)i * (width + GAP_4),
		                            composer->bottom - SIGN_HEIGHT, width, SIGN_HEIGHT});
}

/* ---- the pages ---- */

/* How many rows from `first` on fit above `bottom`; `used` is their height. */
static size_t rows_that_fit(struct composer *composer, const struct teach_sheet *sheet, size_t first, double room,
                            double *used)
{
	size_t n = 0;
	*used = 0;
	while (first + n < sheet->n_rows) {
		double height = row_height(composer, sheet, &sheet->rows[first + n]);
		if (n > 0 && *used + height > room)
			break;
		*used += height;
		n++;
	}
	return n;
}

/* All that is left and the foot on one page, or its share of the rows: no page is left with a few of them. */
static size_t rows_of_page(struct composer *composer, const struct teach_sheet *sheet, size_t first, double top,
                           double *used)
{
	double room = composer->bottom - top;
	size_t left = sheet->n_rows - first;
	if (rows_that_fit(composer, sheet, first, room - foot_height(composer, sheet), used) == left)
		return left;
	size_t n = rows_that_fit(composer, sheet, first, room, used);
	size_t pages = (left + n - 1) / n;
	size_t share = pages < 2 ? (left + 1) / 2 : (left + pages - 1) / pages;
	while (n > share) {
		n--;
		*used -= row_height(composer, sheet, &sheet->rows[first + n]);
	}
	return n;
}

void teach_place(struct composer *composer, const struct teach_sheet *sheet)
{
	size_t row = 0;
	while (row < sheet->n_rows) {
		double used;
		const char *title = row == 0 ? sheet->title : say_continued(composer->speaker, sheet->title);
		composer_new_page(composer, title, sheet->lead);
		begin_group(composer, ROLE_TABLE);
		double y = put_heads(composer, sheet, composer->top);
		size_t n = rows_of_page(composer, sheet, row, y, &used);
		bool last = row + n == sheet->n_rows;
		double room = composer->bottom - y - (last ? foot_height(composer, sheet) : 0);
		double extra = fmin(fmax(0, (room - used) / (double)n), ROW_MOST - ROW_LEAST);
		for (size_t end = row + n; row < end; row++) {
			double height = row_height(composer, sheet, &sheet->rows[row]) + extra;
			put_row(composer, sheet, &sheet->rows[row], y, height);
			y += height;
			put_line(composer, composer->left, composer->right, y, row + 1 == end ? LINE_MAIN : LINE_FINE);
		}
		end_group(composer);
		if (last)
			put_foot(composer, sheet, y);
	}
}
