/*
 * options.c - which line? The amounts that a call may set, each with its syringe in true size and its own tag.
 *
 * Rows that do not fit go on to further pages with the head repeated; the lines
 * for later changes stand below the last of them.
 */
#include "page/caution.h"
#include "page/large_step.h"
#include "page/line_figure.h"
#include "page/pen_figure.h"
#include "page/sections.h"
#include "page/styles.h"
#include "page/syringe_geometry.h"

#include <math.h>
#include <string.h>

#define TICK 10.8
#define AMOUNT_X 16.0
#define FIGURE_X 57.0 /* from the live column's start */
#define ROW_PAD 4.4
#define ROW_LEAST 30.0
#define LINE_ABOVE 3.2 /* lowest ink of the syringe to the words */
#define HEAD_BELOW 3.0

static double tag_size(const struct composer *composer)
{
	return composer_style(composer, composer->large_print ? TYPE_MARK : TYPE_TITLE, WEIGHT_BOLD).size;
}

/* ---- the syringe of a row ---- */

static bool has_figure(const struct option_row *row)
{
	return row->draw->measure == MEASURE_SYRINGE && row->draw->mark.syringe != NULL && row->mark.number != NULL;
}

static struct line_look look_of(const struct composer *composer, const struct option_row *row)
{
	const struct mark *mark = &row->draw->mark;
	struct line_look look = {.syringe = mark->syringe,
	                         .at = mark->at,
	                         .line = !mark->all,
	                         .ring = measure_of(mark->all ? row->draw->volume : mark->at),
	                         .mark = row->mark,
	                         .tag_size = tag_size(composer)};
	if (mark->line == LINE_STOP && !mark->all)
		look.ring = measure_of(mark->syringe->graduated);
	return look;
}

/* Beside the amount where the barrel has room there, else below it: a syringe is never scaled. */
static double figure_x(const struct composer *composer, const struct option_row *row)
{
	const double clear = 8.0;
	struct syringe_geometry geometry = syringe_geometry_of(row->draw->mark.syringe);
	double barrel = syringe_left(row->draw->mark.syringe, true, 0) + geometry.flange + geometry.flange_thickness;
	return !composer->large_print && FIGURE_X + clear + barrel <= LIVE_WIDTH ? FIGURE_X : 0;
}

static double figure_height(struct composer *composer, const struct option_row *row)
{
	struct line_look look = look_of(composer, row);
	return line_rise(composer, &look) + line_drop(&look);
}

/* The figure stands in a column of its own: it keeps clear of the amount as it does of the page's edge. */
static struct rect put_figure(struct composer *composer, const struct option_row *row, double y)
{
	struct line_look look = look_of(composer, row);
	double left = composer->left;
	composer->left += figure_x(composer, row);
	struct syringe_figure figure = line_figure(composer, &look, y);
	begin_figure(composer, row->alt);
	put_line_figure(composer, &look, &figure);
	end_group(composer);
	struct rect tag = line_tag_area(composer, &look, &figure);
	composer->left = left;
	return tag;
}

static bool is_pen(const struct option_row *row)
{
	return row->draw->measure == MEASURE_DIAL && row->mark.number != NULL;
}

static double device_height(struct composer *composer, const struct option_row *row)
{
	if (is_pen(row))
		return pen_and_tag_height(composer, row->mark, tag_size(composer));
	return row->mark.number == NULL ? 0 : measure_tag(composer, row->mark, tag_size(composer)).height;
}

static struct rect put_device(struct composer *composer, const struct option_row *row, double y)
{
	double x = composer->left + FIGURE_X;
	struct rect tag = {x, y, 0, 0};
	begin_figure(composer, row->alt);
	if (is_pen(row)) {
		tag = put_pen_and_tag(composer, row->mark, tag_size(composer), x, y);
	} else if (row->mark.number != NULL) {
		tag = measure_tag(composer, row->mark, tag_size(composer));
		tag = put_tag(composer, row->mark, tag_size(composer),
		              (struct point){x + tag.width / 2, y + tag.height});
	}
	end_group(composer);
	return tag;
}

/* ---- a row ---- */

static bool figure_below(const struct composer *composer, const struct option_row *row)
{
	return has_figure(row) && figure_x(composer, row) == 0;
}

static double amount_width(const struct composer *composer, const struct option_row *row)
{
	return (figure_below(composer, row) ? LIVE_WIDTH : FIGURE_X) - AMOUNT_X - GAP_2;
}

static double lines_apart(const struct composer *composer)
{
	return composer->large_print ? 5.2 : 4.0;
}

static const char *how_words(struct composer *composer, const struct option_row *row)
{
	return say1(composer->speaker, "options.how", "page", composer_page_ref(composer, row->how));
}

/* The unit on the number's line, where that has room. */
static bool unit_beside(struct composer *composer, const struct option_row *row)
{
	return row->unit != NULL &&
	       composer_text_width(composer, row->number, bold(composer, TYPE_TITLE)) + GAP_1 +
	                       composer_text_width(composer, row->unit, bold(composer, TYPE_LEAD)) <=
	               amount_width(composer, row);
}

static double amount_height(struct composer *composer, const struct option_row *row)
{
	double height =
		composer_text_height(composer, row->number, bold(composer, TYPE_TITLE), amount_width(composer, row));
	if (row->unit != NULL && !unit_beside(composer, row))
		height += lines_apart(composer) + cap(composer, TYPE_LEAD);
	if (row->how >= 0)
		height += lines_apart(composer) + composer_text_height(composer, how_words(composer, row),
		                                                       regular(composer, TYPE_BODY),
		                                                       amount_width(composer, row));
	return height;
}

static double line_room(const struct composer *composer, const struct option_row *row)
{
	return figure_below(composer, row) ? LIVE_WIDTH : LIVE_WIDTH - FIGURE_X;
}

static double line_height(struct composer *composer, const struct option_row *row)
{
	if (row->line == NULL)
		return 0;
	return LINE_ABOVE +
	       composer_text_height(composer, row->line, regular(composer, TYPE_BODY), line_room(composer, row));
}

static double content_height(struct composer *composer, const struct option_row *row)
{
	double figure = has_figure(row) ? figure_height(composer, row) : device_height(composer, row);
	double right = figure + line_height(composer, row);
	double left = fmax(TICK, amount_height(composer, row));
	return figure_below(composer, row) ? left + GAP_3 + right : fmax(left, right);
}

static double row_height(struct composer *composer, const struct option_row *row)
{
	return fmax(ROW_LEAST, content_height(composer, row) + 2 * ROW_PAD);
}

static void put_amount(struct composer *composer, const struct option_row *row, double middle)
{
	double y = middle - amount_height(composer, row) / 2;
	double x = composer->left + AMOUNT_X;
	if (row->first)
		put_tick(composer, (struct point){composer->left + 0.5, middle - TICK / 2}, TICK);
	begin_head_cell(composer, SCOPE_ROW);
	const char *number = row->first ? row->number : say0(composer->speaker, "options.and_then");
	struct text_style style = bold(composer, row->first ? TYPE_TITLE : TYPE_LEAD);
	struct rect area = put_plain(composer, number, style, x, y, amount_width(composer, row));
	y = area.y + area.height + lines_apart(composer);
	if (row->first && unit_beside(composer, row))
		put_plain(composer, row->unit, bold(composer, TYPE_LEAD), x + area.width + GAP_1,
		          area.y + area.height - cap(composer, TYPE_LEAD), 0);
	else if (row->first && row->unit != NULL)
		y += put_plain(composer, row->unit, bold(composer, TYPE_LEAD), x, y, amount_width(composer, row))
		             .height +
		     lines_apart(composer);
	if (row->how >= 0)
		put_plain(composer, how_words(composer, row), regular(composer, TYPE_BODY), x, y,
		          amount_width(composer, row));
	end_group(composer);
}

static void put_row(struct composer *composer, const struct option_row *row, double y, double height)
{
	bool below = figure_below(composer, row);
	double content = content_height(composer, row);
	double top = y + (height - content) / 2;
	double amount = fmax(TICK, amount_height(composer, row));
	begin_group(composer, ROLE_ROW);
	put_amount(composer, row, below ? top + amount / 2 : y + height / 2);
	begin_group(composer, ROLE_CELL);
	double right = content;
	if (below) {
		top += amount + GAP_3;
		right -= amount + GAP_3;
	} else {
		double figure = (has_figure(row) ? figure_height(composer, row) : device_height(composer, row)) +
		                line_height(composer, row);
		top += (right - figure) / 2;
		right = figure;
	}
	struct rect tag = has_figure(row) ? put_figure(composer, row, top) : put_device(composer, row, top);
	double room = line_room(composer, row);
	double width = fmin(composer_text_width(composer, row->line, regular(composer, TYPE_BODY)), room);
	put_plain(composer, row->line, regular(composer, TYPE_BODY), fmin(tag.x, composer->right - width),
	          top + right - line_height(composer, row) + LINE_ABOVE, room);
	end_group(composer);
	end_group(composer);
}

static double put_heads(struct composer *composer, const struct options_sheet *sheet, double y)
{
	struct text_style style = regular(composer, TYPE_REFERENCE);
	double width = LIVE_WIDTH - FIGURE_X - GAP_2;
	begin_group(composer, ROLE_ROW);
	begin_head_cell(composer, SCOPE_COLUMN);
	put_plain(composer, sheet->said_head, style, composer->left, y, FIGURE_X - GAP_2);
	end_group(composer);
	begin_head_cell(composer, SCOPE_COLUMN);
	put_plain(composer, sheet->line_head, style, composer->left + FIGURE_X + GAP_2, y, width);
	end_group(composer);
	end_group(composer);
	y += fmax(text_cap_height(style), composer_text_height(composer, sheet->line_head, style, width)) + HEAD_BELOW;
	put_line(composer, composer->left, composer->right, y, LINE_MAIN);
	return y;
}

/* ---- changed later ---- */

#define CHANGE_ROW 11.6
#define CHANGE_TICK 6.2
#define CHANGE_FROM 42.0 /* width of a line to write on */
#define CHANGE_X 48.0
#define CHANGE_GAP 4.0
#define CHANGES 4
#define CHANGES_LEAST 2

static double change_amount_width(struct composer *composer, const struct option_row *row)
{
	return CHANGE_TICK + GAP_1 + composer_text_width(composer, row->number, bold(composer, TYPE_BODY)) + CHANGE_GAP;
}

static double change_amounts_width(struct composer *composer, const struct options_sheet *sheet)
{
	double width = 0;
	for (size_t i = 0; i < sheet->n_rows; i++)
		if (sheet->rows[i].first)
			width += change_amount_width(composer, &sheet->rows[i]);
	return width;
}

/* Many amounts take the line of who called, which then goes below. */
static bool wide_amounts(struct composer *composer, const struct options_sheet *sheet)
{
	return CHANGE_X + change_amounts_width(composer, sheet) + CHANGE_FROM + 20 > LIVE_WIDTH;
}

static double change_row(struct composer *composer, const struct options_sheet *sheet)
{
	return wide_amounts(composer, sheet) ? 2 * CHANGE_ROW : CHANGE_ROW;
}

static double changes_head(struct composer *composer)
{
	return cap(composer, TYPE_SECTION) + 4.0 + cap(composer, TYPE_REFERENCE) + HEAD_BELOW;
}

static double read_x(const struct composer *composer)
{
	return composer->right - CHANGE_TICK - 6;
}

static void put_change(struct composer *composer, const struct options_sheet *sheet, double y)
{
	bool wide = wide_amounts(composer, sheet);
	double base = y + CHANGE_ROW - 2.6;
	double middle = y + CHANGE_ROW / 2;
	struct text_style style = bold(composer, TYPE_BODY);
	double x = composer->left + CHANGE_X;
	put_line(composer, composer->left, composer->left + CHANGE_FROM, base, LINE_FINE);
	for (size_t i = 0; i < sheet->n_rows; i++) {
		if (!sheet->rows[i].first)
			continue;
		put_tick(composer, (struct point){x, middle - CHANGE_TICK / 2}, CHANGE_TICK);
		put_plain(composer, sheet->rows[i].number, style, x + CHANGE_TICK + GAP_1,
		          middle - text_cap_height(style) / 2, 0);
		x += change_amount_width(composer, &sheet->rows[i]);
	}
	if (wide) {
		x = composer->left + CHANGE_X;
		base += CHANGE_ROW;
		middle += CHANGE_ROW;
	}
	put_line(composer, x, read_x(composer) - GAP_4, base, LINE_FINE);
	put_tick(composer, (struct point){read_x(composer), middle - CHANGE_TICK / 2}, CHANGE_TICK);
}

static void put_changes(struct composer *composer, const struct options_sheet *sheet, double y, int n)
{
	struct text_style section = bold(composer, TYPE_SECTION);
	struct text_style small = regular(composer, TYPE_REFERENCE);
	struct text_style body = regular(composer, TYPE_BODY);
	double amounts = change_amounts_width(composer, sheet);
	struct rect title = put_heading(composer, ROLE_H2, sheet->changed_heading, section, composer->left, y, 0);
	if (title.width + GAP_4 + composer_text_width(composer, sheet->changed_note, body) <= LIVE_WIDTH)
		put_text(composer, sheet->changed_note, body, ALIGN_END, composer->right,
		         y + text_cap_height(section) - text_cap_height(body), 0, COLOUR_INK);
	y += text_cap_height(section) + 4.0;
	put_plain(composer, sheet->from_head, small, composer->left, y, 0);
	put_plain(composer, sheet->amount_head, small, composer->left + CHANGE_X, y, 0);
	double who = composer->left + CHANGE_X +
	             fmax(amounts, composer_text_width(composer, sheet->amount_head, small) + GAP_2);
	double read = composer->right - composer_text_width(composer, sheet->read_head, small);
	if (!wide_amounts(composer, sheet) &&
	    who + composer_text_width(composer, sheet->who_head, small) + GAP_2 <= read)
		put_plain(composer, sheet->who_head, small, who, y, 0);
	put_plain(composer, sheet->read_head, small, read, y, 0);
	y += text_cap_height(small) + HEAD_BELOW;
	for (int i = 0; i <= n; i++) {
		put_line(composer, composer->left, composer->right, y, i == 0 || i == n ? LINE_MAIN : LINE_FINE);
		if (i < n)
			put_change(composer, sheet, y);
		y += change_row(composer, sheet);
	}
}

/* ---- the foot ---- */

static double other_height(struct composer *composer, const struct options_sheet *sheet)
{
	return composer_text_height(composer, sheet->other_line, regular(composer, TYPE_BODY), LIVE_WIDTH);
}

static double foot_height(struct composer *composer, const struct options_sheet *sheet, int changes)
{
	return changes_head(composer) + changes * change_row(composer, sheet) + GAP_3 + other_height(composer, sheet) +
	       GAP_4 + caution_height(composer, sheet->caution_word, sheet->caution);
}

static void put_foot(struct composer *composer, const struct options_sheet *sheet, double y)
{
	int changes = CHANGES;
	while (changes > CHANGES_LEAST && y + foot_height(composer, sheet, changes) > composer->bottom)
		changes--;
	double spare = composer->bottom - y - foot_height(composer, sheet, changes);
	y += fmin(fmax(spare / 2, 0), GAP_4);
	put_changes(composer, sheet, y, changes);
	y += changes_head(composer) + changes * change_row(composer, sheet) + GAP_3;
	put_paragraph(composer, sheet->other_line, regular(composer, TYPE_BODY), composer->left, y, LIVE_WIDTH);
	put_caution(composer, sheet->caution_word, sheet->caution,
	            composer->bottom - caution_height(composer, sheet->caution_word, sheet->caution));
}

/* ---- the pages ---- */

static double open_page(struct composer *composer, const struct options_sheet *sheet, bool first)
{
	const char *title = first ? sheet->title : say_continued(composer->speaker, sheet->title);
	composer_new_page(composer, title, sheet->lead);
	return composer->top;
}

static double box_height(struct composer *composer, const struct options_sheet *sheet)
{
	if (sheet->box_line == NULL)
		return 0;
	return GAP_3 + composer_text_height(composer, sheet->box_line, bold(composer, TYPE_BODY), LIVE_WIDTH);
}

/* ---- large print: rows and changes below one another ---- */

#define LARGE_TICK 10.4
#define LARGE_LINE 11.0 /* of what is written by hand */
#define LARGE_CHANGES 2

static void put_large_row(struct composer *composer, const struct large_block *block, double y)
{
	const struct options_sheet *sheet = block->data;
	composer_note_part(composer, sheet->rows[block->index].draw);
	begin_group(composer, ROLE_TABLE);
	put_row(composer, &sheet->rows[block->index], y, block->height);
	end_group(composer);
}

/* A caption and a line after it to write on. */
static void put_to_write(struct composer *composer, const char *caption, double right, double y)
{
	struct text_style style = regular(composer, TYPE_BODY);
	struct rect text = put_paragraph(composer, caption, style, composer->left, y, 0);
	put_line(composer, text.x + text.width + GAP_2, right, y + text.height, LINE_FINE);
}

static double large_amounts_height(struct composer *composer, const struct options_sheet *sheet)
{
	return composer_text_height(composer, sheet->amount_head, regular(composer, TYPE_BODY), LIVE_WIDTH) + GAP_2 +
	       LARGE_TICK;
}

static void put_large_amounts(struct composer *composer, const struct options_sheet *sheet, double y)
{
	struct text_style style = bold(composer, TYPE_BODY);
	struct rect head = put_paragraph(composer, sheet->amount_head, regular(composer, TYPE_BODY), composer->left, y,
	                                 LIVE_WIDTH);
	double top = head.y + head.height + GAP_2;
	double x = composer->left;
	for (size_t i = 0; i < sheet->n_rows; i++) {
		if (!sheet->rows[i].first)
			continue;
		put_tick(composer, (struct point){x, top}, LARGE_TICK);
		struct rect number = put_plain(composer, sheet->rows[i].number, style, x + LARGE_TICK + GAP_2,
		                               top + (LARGE_TICK - text_cap_height(style)) / 2, 0);
		x = number.x + number.width + GAP_4;
	}
}

static double large_change_height(struct composer *composer, const struct options_sheet *sheet)
{
	return LARGE_LINE + large_amounts_height(composer, sheet) + 2 * LARGE_LINE + LARGE_TICK;
}

static void put_large_change(struct composer *composer, const struct large_block *block, double y)
{
	const struct options_sheet *sheet = block->data;
	struct text_style style = regular(composer, TYPE_BODY);
	put_to_write(composer, sheet->from_head, composer->right, y);
	y += LARGE_LINE;
	put_large_amounts(composer, sheet, y);
	y += large_amounts_height(composer, sheet) + LARGE_LINE;
	put_to_write(composer, sheet->who_head, composer->right, y - LARGE_LINE / 2);
	y += LARGE_LINE;
	put_tick(composer, (struct point){composer->left, y}, LARGE_TICK);
	put_paragraph(composer, sheet->read_head, style, composer->left + LARGE_TICK + GAP_2,
	              y + (LARGE_TICK - text_cap_height(style)) / 2, 0);
}

static void place_large(struct composer *composer, const struct options_sheet *sheet)
{
	struct large_blocks blocks = large_blocks_of(composer);
	for (size_t i = 0; i < sheet->n_rows; i++) {
		struct large_block *block =
			large_add(&blocks, row_height(composer, &sheet->rows[i]), GAP_3, put_large_row, sheet);
		block->index = i;
		block->rule = LARGE_RULE_FINE;
	}
	large_add_text(&blocks, sheet->box_line, TYPE_BODY, WEIGHT_BOLD);
	large_add_heading(&blocks, sheet->changed_heading);
	size_t first = blocks.n;
	large_add_text(&blocks, sheet->changed_note, TYPE_BODY, WEIGHT_REGULAR);
	blocks.list[blocks.n - 1].keep = true;
	for (int i = 0; i < LARGE_CHANGES; i++) {
		struct large_block *block =
			large_add(&blocks, large_change_height(composer, sheet), GAP_5, put_large_change, sheet);
		block->rule = LARGE_RULE_FINE;
	}
	large_repeat_heading(&blocks, first);
	large_add_text(&blocks, sheet->other_line, TYPE_BODY, WEIGHT_REGULAR);
	large_add_caution(&blocks, sheet->caution_word, sheet->caution);
	large_place(&blocks, sheet->title, sheet->lead);
}

/* "page 66", or "pages 66, 67" where the table in large print goes on. */
static const char *table_pages(struct composer *composer, const struct options_sheet *sheet)
{
	const void **lines = arena_alloc(composer->arena, sheet->n_rows * sizeof *lines);
	for (size_t i = 0; i < sheet->n_rows; i++)
		lines[i] = sheet->rows[i].draw;
	return composer_part_pages(composer, composer_section_ref(composer), lines, sheet->n_rows);
}

/* In large print the table may be pages away from what is said of it. */
static const struct options_sheet *with_page(struct composer *composer, const struct options_sheet *of)
{
	struct options_sheet *sheet = arena_alloc(composer->arena, sizeof *sheet);
	*sheet = *of;
	sheet->other_line = composer_fill_page(composer, of->other_line, table_pages(composer, of));
	return sheet;
}

void options_place(struct composer *composer, const struct options_sheet *of)
{
	const struct options_sheet *sheet = with_page(composer, of);
	if (composer->large_print) {
		place_large(composer, sheet);
		return;
	}
	double y = open_page(composer, sheet, true);
	begin_group(composer, ROLE_TABLE);
	y = put_heads(composer, sheet, y);
	for (size_t i = 0; i < sheet->n_rows; i++) {
		double height = row_height(composer, &sheet->rows[i]);
		if (y + height > composer->bottom) {
			end_group(composer);
			y = open_page(composer, sheet, false);
			begin_group(composer, ROLE_TABLE);
			y = put_heads(composer, sheet, y);
		}
		put_row(composer, &sheet->rows[i], y, height);
		y += height;
		put_line(composer, composer->left, composer->right, y, i + 1 == sheet->n_rows ? LINE_MAIN : LINE_FINE);
	}
	end_group(composer);
	if (y + box_height(composer, sheet) > composer->bottom)
		y = open_page(composer, sheet, false);
	put_paragraph(composer, sheet->box_line, bold(composer, TYPE_BODY), composer->left, y + GAP_3, LIVE_WIDTH);
	y += box_height(composer, sheet) + GAP_4;
	if (y + foot_height(composer, sheet, CHANGES_LEAST) > composer->bottom)
		y = open_page(composer, sheet, false);
	put_foot(composer, sheet, y);
}
