/*
 * change.c - your plan has changed: from which day, what, and what becomes of the old pages.
 *
 *     The change starts on           | Why
 *     Monday 9 June, day 5           | ...
 *     name          150 units   ->  / 175 units  [dial 175]
 *     (torn page)   Tear up every page that says version 1.
 */
#include "page/sections.h"
#include "page/styles.h"

#include <math.h>

#define HEADING_BELOW 3.8
#define HEADING_BELOW_LARGE 6.0

static double heading_height(const struct composer *composer)
{
	return cap(composer, TYPE_SECTION) + (composer->large_print ? HEADING_BELOW_LARGE : HEADING_BELOW);
}

/* A heading, and a note at the end of its line where there is room. */
static double put_noted_heading(struct composer *composer, const char *heading, const char *note, double y)
{
	struct text_style section = bold(composer, TYPE_SECTION);
	struct text_style body = regular(composer, TYPE_BODY);
	struct rect title = put_heading(composer, ROLE_H2, heading, section, composer->left, y, 0);
	if (note != NULL && title.width + GAP_4 + composer_text_width(composer, note, body) <= LIVE_WIDTH)
		put_text(composer, note, body, ALIGN_END, composer->right,
		         y + text_cap_height(section) - text_cap_height(body), 0, COLOUR_INK);
	return y + heading_height(composer);
}

/* ---- from which day, and why ---- */

#define START_SIDE 5.0
#define START_PAD 5.6
#define START_LEAST 34.0
#define START_LINES 4.4
#define START_SHARE 0.62 /* of the width, where there is a reason beside it */

static bool why_below(const struct composer *composer)
{
	return composer->large_print;
}

static double start_width(const struct composer *composer, const struct change_sheet *sheet)
{
	bool whole = sheet->why == NULL || why_below(composer);
	return (whole ? LIVE_WIDTH : START_SHARE * LIVE_WIDTH) - 2 * START_SIDE;
}

static double why_width(const struct composer *composer)
{
	return (why_below(composer) ? LIVE_WIDTH : (1 - START_SHARE) * LIVE_WIDTH) - 2 * START_SIDE;
}

static struct text_style day_style(const struct composer *composer)
{
	struct text_style style = bold(composer, TYPE_TITLE);
	style.leading = 1.15 * style.size * POINT_MM;
	return style;
}

static double day_height(struct composer *composer, const struct change_sheet *sheet)
{
	double width = start_width(composer, sheet);
	double height = composer_text_height(composer, sheet->starts, day_style(composer), width);
	if (sheet->starts_word != NULL)
		height += cap(composer, TYPE_LEAD) + START_LINES;
	if (sheet->until_line != NULL)
		height += START_LINES +
		          composer_text_height(composer, sheet->until_line, regular(composer, TYPE_BODY), width);
	return height;
}

/* In large print an accent reaches higher, and a hook lower. */
static double why_apart(const struct composer *composer)
{
	return composer->large_print ? GAP_3 : GAP_2;
}

static double why_height(struct composer *composer, const struct change_sheet *sheet)
{
	if (sheet->why == NULL)
		return 0;
	return cap(composer, TYPE_LEAD) + why_apart(composer) +
	       composer_text_height(composer, sheet->why, regular(composer, TYPE_BODY), why_width(composer));
}

static double start_height(struct composer *composer, const struct change_sheet *sheet)
{
	double day = day_height(composer, sheet);
	double why = why_height(composer, sheet);
	double words = why_below(composer) && why > 0 ? day + GAP_4 + why : fmax(day, why);
	return fmax(START_LEAST, words + 2 * START_PAD);
}

static void put_why(struct composer *composer, const struct change_sheet *sheet, double x, double y)
{
	struct rect word = put_heading(composer, ROLE_H3, sheet->why_heading, bold(composer, TYPE_LEAD), x, y, 0);
	put_paragraph(composer, sheet->why, regular(composer, TYPE_BODY), x, word.y + word.height + why_apart(composer),
	              why_width(composer));
}

static void put_start(struct composer *composer, const struct change_sheet *sheet, double y)
{
	double height = start_height(composer, sheet);
	double half = LINE_STRONG / 2;
	double x = composer->left + START_SIDE;
	double day = day_height(composer, sheet);
	double words = why_below(composer) && sheet->why != NULL ? day + GAP_4 + why_height(composer, sheet) : day;
	double top = y + (height - words) / 2;
	put_frame(composer, (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half},
	          LINE_STRONG);
	double width = start_width(composer, sheet);
	begin_group(composer, ROLE_H2);
	if (sheet->starts_word != NULL)
		top += put_plain(composer, sheet->starts_word, regular(composer, TYPE_LEAD), x, top, 0).height +
		       START_LINES;
	struct rect starts = put_plain(composer, sheet->starts, day_style(composer), x, top, width);
	end_group(composer);
	struct rect until = put_paragraph(composer, sheet->until_line, regular(composer, TYPE_BODY), x,
	                                  starts.y + starts.height + START_LINES, width);
	if (sheet->why == NULL)
		return;
	if (why_below(composer)) {
		put_why(composer, sheet, x, until.y + until.height + GAP_4);
		return;
	}
	double rule = composer->left + START_SHARE * LIVE_WIDTH;
	put_rule(composer, (struct point){rule, y + 4}, (struct point){rule, y + height - 4}, LINE_FINE, COLOUR_INK);
	put_why(composer, sheet, rule + START_SIDE, y + START_PAD);
}

/* ---- what changes ---- */

#define ROW_LEAST 20.0
#define ROW_PAD 3.4
#define PICTURE 12.0
#define NAME_X 16.0
#define BEFORE_X 56.0
#define ARROW_X 97.0
#define ARROW 10.0
#define NOW_X 112.0
#define CORNER 3.5
#define CORNER_TEXT 4.2
#define STOP_SIGN 9.0
#define LINES_GAP 2.6
#define HEADS_BELOW 3.0

static double tag_size(const struct composer *composer)
{
	return bold(composer, TYPE_SECTION).size + 3;
}

/* Where the words of 'now' begin and how wide they are. In large print they stand below, from NAME_X on. */
static double now_left(const struct composer *composer)
{
	return composer->large_print ? NAME_X : NOW_X;
}

static double now_indent(const struct change_row *row)
{
	return row->form == CHANGE_FORM_STOP ? STOP_SIGN + GAP_2 : row->form == CHANGE_FORM_AMOUNT ? CORNER_TEXT : 0;
}

static double mark_width(struct composer *composer, const struct change_row *row)
{
	return row->mark.number == NULL ? 0 : measure_tag(composer, row->mark, tag_size(composer)).width;
}

static double now_width(struct composer *composer, const struct change_row *row)
{
	double mark = mark_width(composer, row);
	return LIVE_WIDTH - now_left(composer) - now_indent(row) - (mark > 0 ? mark + GAP_2 : 0);
}

static double name_height(struct composer *composer, const struct change_row *row)
{
	double width = (composer->large_print ? LIVE_WIDTH : BEFORE_X) - NAME_X - GAP_2;
	double height = text_height(composer_set_name(composer, row->name, bold(composer, TYPE_LEAD), width, 2));
	if (row->detail != NULL)
		height += LINES_GAP + composer_text_height(composer, row->detail, regular(composer, TYPE_BODY), width);
	return height;
}

static double before_width(const struct composer *composer)
{
	return composer->large_print ? LIVE_WIDTH - NAME_X : ARROW_X - BEFORE_X - GAP_2;
}

static const struct text_block *before_block(struct composer *composer, const struct change_row *row)
{
	return composer_set_name(composer, row->before, regular(composer, TYPE_LEAD), before_width(composer), 4);
}

static double before_height(struct composer *composer, const struct change_row *row)
{
	return text_height(before_block(composer, row));
}

/* Large where it has room on a line, else smaller, so that no word of it is too wide. */
static const struct text_block *now_block(struct composer *composer, const struct change_row *row)
{
	static const enum type_role roles[] = {TYPE_SECTION, TYPE_LEAD, TYPE_BODY};
	double width = now_width(composer, row);
	size_t role = 0;
	while (role < 2 && composer_text_width(composer, row->now, bold(composer, roles[role])) > width)
		role++;
	return composer_set_name(composer, row->now, bold(composer, roles[role]), width, 4);
}

static double now_height(struct composer *composer, const struct change_row *row)
{
	double width = now_width(composer, row);
	double height = text_height(now_block(composer, row));
	if (row->sub != NULL)
		height += LINES_GAP + composer_text_height(composer, row->sub, regular(composer, TYPE_BODY), width);
	if (row->mark.number != NULL)
		height = fmax(height, measure_tag(composer, row->mark, tag_size(composer)).height);
	return row->form == CHANGE_FORM_STOP ? fmax(height, STOP_SIGN) : height;
}

static double row_height(struct composer *composer, const struct change_row *row)
{
	double name = name_height(composer, row);
	double before = before_height(composer, row);
	double now = now_height(composer, row);
	double content = composer->large_print ? name + GAP_2 + before + GAP_3 + now : fmax(fmax(name, before), now);
	return fmax(ROW_LEAST, content + 2 * ROW_PAD);
}

static void put_now(struct composer *composer, const struct change_row *row, double middle, double top)
{
	double left = composer->left + now_left(composer);
	double width = now_width(composer, row);
	double height = now_height(composer, row);
	double words = text_height(now_block(composer, row));
	if (row->sub != NULL)
		words += LINES_GAP + composer_text_height(composer, row->sub, regular(composer, TYPE_BODY), width);
	if (row->form == CHANGE_FORM_AMOUNT)
		put_mark(composer, (struct placed_mark){.kind = MARK_CORNER,
		                                        .area = {left, top, CORNER, CORNER},
		                                        .inside = true,
		                                        .corner = {.at = {left, top}, .leg = CORNER}});
	if (row->form == CHANGE_FORM_STOP)
		put_picture(composer, PICTURE_STOP, left, middle - STOP_SIGN / 2, STOP_SIGN);
	struct rect now = put_block(composer, now_block(composer, row), ALIGN_START, left + now_indent(row),
	                            middle - words / 2, COLOUR_INK);
	put_plain(composer, row->sub, regular(composer, TYPE_BODY), now.x, now.y + now.height + LINES_GAP, width);
	if (row->mark.number == NULL)
		return;
	struct rect tag = measure_tag(composer, row->mark, tag_size(composer));
	put_tag(composer, row->mark, tag_size(composer),
	        (struct point){composer->right - tag.width / 2, middle + fmin(tag.height, height) / 2});
}

static void put_name(struct composer *composer, const struct change_row *row, double y)
{
	double width = (composer->large_print ? LIVE_WIDTH : BEFORE_X) - NAME_X - GAP_2;
	double x = composer->left + NAME_X;
	const struct text_block *name = composer_set_name(composer, row->name, bold(composer, TYPE_LEAD), width, 2);
	begin_head_cell(composer, SCOPE_ROW);
	put_block(composer, name, ALIGN_START, x, y, COLOUR_INK);
	put_plain(composer, row->detail, regular(composer, TYPE_BODY), x, y + text_height(name) + LINES_GAP, width);
	end_group(composer);
}

static void put_row(struct composer *composer, const struct change_row *row, double y, double height)
{
	double middle = y + height / 2;
	double name = name_height(composer, row);
	double before = before_height(composer, row);
	begin_group(composer, ROLE_ROW);
	put_picture(composer, row->pictogram, composer->left + 0.6,
	            composer->large_print ? y + ROW_PAD : middle - PICTURE / 2, PICTURE);
	if (composer->large_print) {
		double top = y + ROW_PAD;
		put_name(composer, row, top);
		top += name + GAP_2;
		begin_group(composer, ROLE_CELL);
		put_block(composer, before_block(composer, row), ALIGN_START, composer->left + NAME_X, top, COLOUR_INK);
		end_group(composer);
		top += before + GAP_3;
		double now = now_height(composer, row);
		begin_group(composer, ROLE_CELL);
		put_arrow(composer, composer->left + 2, top + now / 2, ARROW);
		put_now(composer, row, top + now / 2, top - GAP_1);
	} else {
		put_name(composer, row, middle - name / 2);
		begin_group(composer, ROLE_CELL);
		put_block(composer, before_block(composer, row), ALIGN_START, composer->left + BEFORE_X,
		          middle - before / 2, COLOUR_INK);
		end_group(composer);
		begin_group(composer, ROLE_CELL);
		put_arrow(composer, composer->left + ARROW_X, middle, ARROW);
		put_now(composer, row, middle, y + 1.4);
	}
	end_group(composer);
	end_group(composer);
}

#define BEFORE_HEAD (NOW_X - BEFORE_X - GAP_1)
#define NOW_HEAD (LIVE_WIDTH - NOW_X)

static double heads_height(struct composer *composer, const struct change_sheet *sheet)
{
	if (composer->large_print)
		return HEADS_BELOW;
	return HEADS_BELOW +
	       fmax(composer_text_height(composer, sheet->before_head, regular(composer, TYPE_REFERENCE), BEFORE_HEAD),
	            composer_text_height(composer, sheet->now_head, bold(composer, TYPE_REFERENCE), NOW_HEAD));
}

static double put_heads(struct composer *composer, const struct change_sheet *sheet, double y)
{
	if (!composer->large_print) {
		begin_artifact(composer);
		put_plain(composer, sheet->before_head, regular(composer, TYPE_REFERENCE), composer->left + BEFORE_X, y,
		          BEFORE_HEAD);
		put_plain(composer, sheet->now_head, bold(composer, TYPE_REFERENCE), composer->left + NOW_X, y,
		          NOW_HEAD);
		end_group(composer);
	}
	y += heads_height(composer, sheet);
	put_line(composer, composer->left, composer->right, y, LINE_MAIN);
	return y;
}

/* ---- the old pages ---- */

#define TEAR_PICTURE 16.0

static double tear_width(void)
{
	return LIVE_WIDTH - TEAR_PICTURE - GAP_4;
}

static double tear_height(struct composer *composer, const struct change_sheet *sheet)
{
	return heading_height(composer) +
	       fmax(TEAR_PICTURE,
	            composer_text_height(composer, sheet->tear, regular(composer, TYPE_LEAD), tear_width()));
}

static void put_tear(struct composer *composer, const struct change_sheet *sheet, double y)
{
	struct text_style style = regular(composer, TYPE_LEAD);
	double height = tear_height(composer, sheet) - heading_height(composer);
	double text = composer_text_height(composer, sheet->tear, style, tear_width());
	y = put_noted_heading(composer, sheet->old_heading, sheet->old_note, y);
	begin_artifact(composer);
	put_picture(composer, PICTURE_TEAR, composer->left, y + (height - TEAR_PICTURE) / 2, TEAR_PICTURE);
	end_group(composer);
	put_paragraph(composer, sheet->tear, style, composer->left + TEAR_PICTURE + GAP_4, y + (height - text) / 2,
	              tear_width());
}

/* ---- three ticks ---- */

#define TICK 8.4
#define TICKS_PAD 5.6
#define TICKS 3

static double ticks_step(const struct composer *composer)
{
	return composer->large_print ? LIVE_WIDTH - 2 * START_SIDE : (LIVE_WIDTH - START_SIDE) / TICKS;
}

static double tick_text_width(const struct composer *composer)
{
	return ticks_step(composer) - TICK - GAP_2 - START_SIDE;
}

static double tick_height(struct composer *composer, const char *text)
{
	return fmax(TICK,
	            composer_text_height(composer, text, regular(composer, TYPE_BODY), tick_text_width(composer)));
}

static double ticks_height(struct composer *composer, const struct change_sheet *sheet)
{
	double height = 0;
	for (size_t i = 0; i < TICKS; i++) {
		double one = tick_height(composer, sheet->ticks[i]);
		height = composer->large_print ? height + one + (i > 0 ? GAP_3 : 0) : fmax(height, one);
	}
	return height + 2 * TICKS_PAD;
}

static void put_ticks(struct composer *composer, const struct change_sheet *sheet, double y)
{
	double height = ticks_height(composer, sheet);
	double half = LINE_MAIN / 2;
	struct text_style style = regular(composer, TYPE_BODY);
	double x = composer->left + START_SIDE;
	double top = y + TICKS_PAD;
	put_frame(composer, (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half},
	          LINE_MAIN);
	for (size_t i = 0; i < TICKS; i++) {
		double one = composer->large_print ? tick_height(composer, sheet->ticks[i]) : height - 2 * TICKS_PAD;
		double text = composer_text_height(composer, sheet->ticks[i], style, tick_text_width(composer));
		put_tick(composer, (struct point){x, top + (one - TICK) / 2}, TICK);
		put_paragraph(composer, sheet->ticks[i], style, x + TICK + GAP_2, top + (one - text) / 2,
		              tick_text_width(composer));
		if (composer->large_print)
			top += one + GAP_3;
		else
			x += ticks_step(composer);
	}
}

/* ---- lines to write on ---- */

#define NOTE_PITCH 12.0
#define NOTE_LINES 2 /* the least */

static void put_notes(struct composer *composer, const struct change_sheet *sheet, double y, double end)
{
	int lines = (int)floor((end - y - heading_height(composer)) / NOTE_PITCH);
	if (lines < NOTE_LINES)
		return;
	y = put_noted_heading(composer, sheet->notes_heading, sheet->notes_note, y);
	for (int i = 1; i <= lines; i++)
		put_line(composer, composer->left, composer->right, y + i * NOTE_PITCH - 1, LINE_FINE);
}

/* ---- the pages ---- */

static double next_page(struct composer *composer, const struct change_sheet *sheet)
{
	composer_continue(composer, sheet->title, sheet->lead);
	return composer->top;
}

static double put_rows(struct composer *composer, const struct change_sheet *sheet, double y)
{
	if (sheet->n_rows == 0)
		return y;
	y = put_heads(composer, sheet, put_noted_heading(composer, sheet->heading, NULL, y));
	begin_group(composer, ROLE_TABLE);
	for (size_t i = 0; i < sheet->n_rows; i++) {
		double height = row_height(composer, &sheet->rows[i]);
		if (y + height > composer->bottom) {
			end_group(composer);
			y = put_heads(composer, sheet,
			              put_noted_heading(composer, sheet->heading, NULL, next_page(composer, sheet)));
			begin_group(composer, ROLE_TABLE);
		}
		put_row(composer, &sheet->rows[i], y, height);
		y += height;
		put_line(composer, composer->left, composer->right, y, i + 1 == sheet->n_rows ? LINE_MAIN : LINE_FINE);
	}
	end_group(composer);
	return y;
}

static double rest_height(struct composer *composer, const struct change_sheet *sheet)
{
	if (sheet->nothing_else == NULL)
		return 0;
	return GAP_3 + composer_text_height(composer, sheet->nothing_else, regular(composer, TYPE_BODY), LIVE_WIDTH);
}

void change_place(struct composer *composer, const struct change_sheet *sheet)
{
	composer_new_page(composer, sheet->title, sheet->lead);
	double y = composer->top;
	put_start(composer, sheet, y);
	y += start_height(composer, sheet) + SECTION_GAP_MOST - GAP_1;
	y = put_rows(composer, sheet, y);
	double rest = rest_height(composer, sheet);
	double below = rest + SECTION_GAP_LEAST + tear_height(composer, sheet) + SECTION_GAP_LEAST +
	               ticks_height(composer, sheet);
	if (y + below > composer->bottom)
		y = next_page(composer, sheet);
	put_paragraph(composer, sheet->nothing_else, regular(composer, TYPE_BODY), composer->left, y + GAP_3,
	              LIVE_WIDTH);
	y += rest;
	double spare = composer->bottom - y - (below - rest - 2 * SECTION_GAP_LEAST);
	double gap = fmin(spare / 2, SECTION_GAP_MOST);
	double end = composer->bottom - ticks_height(composer, sheet);
	put_tear(composer, sheet, y + gap);
	put_notes(composer, sheet, y + gap + tear_height(composer, sheet) + SECTION_GAP_MOST, end - SECTION_GAP_LEAST);
	put_ticks(composer, sheet, end);
}
