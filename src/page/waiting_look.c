/*
 * waiting_look.c - the table in which one looks up which weekday is which day, once the call has said the first.
 *
 *       If day 1 is   day 2     days 3, 10
 *       20:00         20:00     20:00
 *     --------------------------------------
 *     [ ] Monday      Tuesday   Wednesday        a row each that day 1 may be
 *     --------------------------------------
 *     week 1  1 [ ]   2 [ ]     3 [ ]            a row a week
 *     week 2                    10 [ ] last
 *
 * What one page does not hold goes on in further parts: first the weeks, then the columns.
 */
#include "page/waiting.h"

#include "page/styles.h"

#include <math.h>

#define LOOK_TICK 6.4
#define LOOK_LARGE_TICK 9.0
#define LOOK_CLEAR 2.0 /* of a row's box from the lines, above and below together */
#define LOOK_SIDE 3.0  /* after the label of a week */
#define LOOK_GAP 4.0
#define LOOK_MOST 13.2
#define LOOK_NOTE 2.4
#define LOOK_HEAD_BELOW 3.2
#define LOOK_SPREAD 14.0 /* the most: columns far apart are hard to follow */
#define DAY_GAP 1.4
#define HOUSE 5.6
#define NO_DAY "\u2013" /* by then it has ended */

static double look_tick(const struct composer *composer)
{
	return composer->large_print ? LOOK_LARGE_TICK : LOOK_TICK;
}

static const char *weekday_in(const struct waiting_look *look, size_t column, int row)
{
	const struct waiting_column *days = &look->sheet->columns[column];
	return look->short_names ? days->weekdays_short[row] : days->weekdays[row];
}

/* Number, box, and what stands beside it. */
static double day_width(struct composer *composer, const struct waiting_day *day)
{
	struct text_style small = regular(composer, TYPE_REFERENCE);
	double beside = composer_text_width(composer, day->last, small);
	for (size_t i = 0; day->times != NULL && i < day->n_ticks; i++)
		beside = fmax(beside, composer_text_width(composer, day->times[i], small));
	double sign = day->n_ticks > 0 ? look_tick(composer) : HOUSE;
	double line = composer_text_width(composer, day->number, bold(composer, TYPE_LEAD)) + DAY_GAP + sign +
	              (beside > 0 ? DAY_GAP + beside : 0);
	return fmax(line, composer_widest_word(composer, day->visit, small));
}

static const char *head_of(const struct composer *composer, const struct waiting_column *days)
{
	return composer->large_print ? days->numbers : days->head;
}

static double column_width(struct composer *composer, const struct waiting_look *look, size_t column)
{
	const struct waiting_sheet *sheet = look->sheet;
	const struct waiting_column *days = &sheet->columns[column];
	struct text_style name = bold(composer, column == 0 ? TYPE_LEAD : TYPE_BODY);
	double width = fmax(composer_widest_word(composer, head_of(composer, days), bold(composer, TYPE_BODY)),
	                    composer_widest_word(composer, days->note, regular(composer, TYPE_REFERENCE)));
	for (size_t i = 0; i < sheet->n_rows; i++)
		width = fmax(width, composer_text_width(composer, weekday_in(look, column, sheet->rows[i]), name) +
		                            (days->visit ? HOUSE + GAP_1 : 0));
	for (size_t i = 0; i < sheet->n_weeks; i++)
		if (sheet->weeks[i].days[column].number != NULL)
			width = fmax(width, day_width(composer, &sheet->weeks[i].days[column]));
	return width + LOOK_GAP;
}

static double side_width(struct composer *composer, const struct waiting_sheet *sheet)
{
	double width = look_tick(composer) + 0.5;
	if (composer->large_print)
		width = fmax(width, composer_text_width(composer, sheet->numbers_word, bold(composer, TYPE_BODY)));
	for (size_t i = 0; i < sheet->n_weeks; i++)
		width = fmax(width,
		             composer_text_width(composer, sheet->weeks[i].label, regular(composer, TYPE_REFERENCE)));
	return width + LOOK_SIDE;
}

/* As many columns as fit, and what is spare shared out among them. */
static void fit_columns(struct waiting_look *look)
{
	double room = LIVE_WIDTH - look->side;
	double used = 0;
	look->n_columns = 0;
	while (look->first_column + look->n_columns < look->sheet->n_columns) {
		double width = look->widths[look->first_column + look->n_columns];
		if (look->n_columns > 0 && used + width > room)
			break;
		used += width;
		look->n_columns++;
	}
	look->spread = fmax(0, fmin((room - used) / (double)look->n_columns, LOOK_SPREAD));
}

struct waiting_look waiting_whole_look(struct composer *composer, const struct waiting_form *form,
                                       const struct waiting_sheet *sheet)
{
	struct waiting_look look = {
		.form = form, .sheet = sheet, .side = side_width(composer, sheet), .n_weeks = sheet->n_weeks};
	for (int pass = 0; pass < 2 && look.n_columns < sheet->n_columns; pass++) {
		look.short_names = pass == 1;
		for (size_t i = 0; i < sheet->n_columns; i++)
			look.widths[i] = column_width(composer, &look, i);
		fit_columns(&look);
	}
	return look;
}

/* Of what stands in column `i` of this part. */
static double words_width(const struct waiting_look *look, size_t i)
{
	return look->widths[look->first_column + i] + look->spread - LOOK_GAP / 2;
}

static double note_height(struct composer *composer, const struct waiting_look *look)
{
	double height = 0;
	for (size_t i = 0; i < look->n_columns; i++)
		height = fmax(height, composer_text_height(composer, look->sheet->columns[look->first_column + i].note,
		                                           regular(composer, TYPE_REFERENCE), words_width(look, i)));
	return height == 0 ? 0 : LOOK_NOTE + height;
}

static double head_words_height(struct composer *composer, const struct waiting_look *look)
{
	double height = 0;
	for (size_t i = 0; i < look->n_columns; i++)
		height = fmax(height,
		              composer_text_height(composer,
		                                   head_of(composer, &look->sheet->columns[look->first_column + i]),
		                                   bold(composer, TYPE_BODY), words_width(look, i)));
	return height;
}

double waiting_title_height(struct composer *composer, const struct waiting_sheet *sheet)
{
	return cap(composer, TYPE_SECTION) + WAITING_HEADING_BELOW +
	       composer_text_height(composer, sheet->look_text, regular(composer, TYPE_BODY), LIVE_WIDTH);
}

/* Boxes one above the other, where they have times; then words that may take lines. */
static double day_height(struct composer *composer, const struct waiting_look *look, const struct waiting_day *day,
                         size_t i)
{
	size_t lines = day->times == NULL ? 1 : day->n_ticks;
	double words =
		composer_text_height(composer, day->visit, regular(composer, TYPE_REFERENCE), words_width(look, i));
	if (day->number == NULL)
		return 0;
	return (double)lines * (look_tick(composer) + DAY_GAP) - DAY_GAP + (words > 0 ? LOOK_NOTE + words : 0);
}

static double week_height(struct composer *composer, const struct waiting_look *look, size_t week)
{
	double height = look_tick(composer);
	for (size_t i = 0; i < look->n_columns; i++)
		height = fmax(height,
		              day_height(composer, look, &look->sheet->weeks[week].days[look->first_column + i], i));
	return height + 2 * look->form->day_pad;
}

static double weeks_height(struct composer *composer, const struct waiting_look *look)
{
	double height = 0;
	for (size_t i = 0; i < look->n_weeks; i++)
		height += week_height(composer, look, look->first_week + i);
	return height;
}

/* All but the rows of weekdays. */
static double look_fixed_height(struct composer *composer, const struct waiting_look *look)
{
	return waiting_title_height(composer, look->sheet) + WAITING_HEADING_BELOW + head_words_height(composer, look) +
	       note_height(composer, look) + LOOK_HEAD_BELOW + weeks_height(composer, look);
}

double waiting_look_row(struct composer *composer, const struct waiting_look *look, double room)
{
	double spare = room - look_fixed_height(composer, look);
	return fmin(fmax(spare / (double)look->sheet->n_rows, look->form->weekday), LOOK_MOST);
}

double waiting_look_height(struct composer *composer, const struct waiting_look *look)
{
	return look_fixed_height(composer, look) + (double)look->sheet->n_rows * look->form->weekday;
}

/* As many weeks as `room` holds, one at least. */
static void fit_weeks(struct composer *composer, struct waiting_look *look, double room)
{
	look->n_weeks = look->sheet->n_weeks - look->first_week;
	while (look->n_weeks > 1 && waiting_look_height(composer, look) > room)
		look->n_weeks--;
}

struct waiting_look waiting_first_look(struct composer *composer, const struct waiting_form *form,
                                       const struct waiting_sheet *sheet, double room)
{
	struct waiting_look look = waiting_whole_look(composer, form, sheet);
	fit_weeks(composer, &look, room);
	return look;
}

bool waiting_next_look(struct composer *composer, struct waiting_look *look, double room)
{
	const struct waiting_sheet *sheet = look->sheet;
	look->first_week += look->n_weeks;
	if (look->first_week >= sheet->n_weeks) {
		look->first_week = 0;
		look->first_column += look->n_columns;
		if (look->first_column >= sheet->n_columns)
			return false;
		fit_columns(look);
	}
	fit_weeks(composer, look, room);
	return true;
}

/* ---- its rows ---- */

static double column_x(const struct composer *composer, const struct waiting_look *look, size_t i)
{
	double x = composer->left + look->side;
	for (size_t j = 0; j < i; j++)
		x += look->widths[look->first_column + j] + look->spread;
	return x;
}

static void put_look_head(struct composer *composer, const struct waiting_look *look, double y)
{
	struct text_style head = bold(composer, TYPE_BODY);
	double words = head_words_height(composer, look);
	begin_group(composer, ROLE_ROW);
	begin_group(composer, ROLE_CELL);
	if (composer->large_print)
		put_plain(composer, look->sheet->numbers_word, head, composer->left, y, 0);
	end_group(composer);
	for (size_t i = 0; i < look->n_columns; i++) {
		const struct waiting_column *days = &look->sheet->columns[look->first_column + i];
		double x = column_x(composer, look, i);
		double width = words_width(look, i);
		begin_head_cell(composer, SCOPE_COLUMN);
		put_plain(composer, head_of(composer, days), head, x, y, width);
		put_plain(composer, days->note, regular(composer, TYPE_REFERENCE), x, y + words + LOOK_NOTE, width);
		end_group(composer);
	}
	end_group(composer);
}

static void put_house(struct composer *composer, double x, double middle)
{
	begin_artifact(composer);
	put_picture(composer, PICTURE_HOUSE, x, middle - HOUSE / 2, HOUSE);
	end_group(composer);
}

static void put_weekdays(struct composer *composer, const struct waiting_look *look, int row, double y, double height)
{
	double middle = y + height / 2;
	double tick = fmin(look_tick(composer), height - LOOK_CLEAR);
	begin_group(composer, ROLE_ROW);
	begin_group(composer, ROLE_CELL);
	begin_artifact(composer);
	put_tick(composer, (struct point){composer->left + 0.5, middle - tick / 2}, tick);
	end_group(composer);
	end_group(composer);
	for (size_t i = 0; i < look->n_columns; i++) {
		size_t column = look->first_column + i;
		bool first = column == 0;
		struct text_style style = first ? bold(composer, TYPE_LEAD) : regular(composer, TYPE_BODY);
		double x = column_x(composer, look, i);
		if (first)
			begin_head_cell(composer, SCOPE_ROW);
		else
			begin_group(composer, ROLE_CELL);
		const char *weekday = weekday_in(look, column, row);
		if (weekday != NULL && look->sheet->columns[column].visit) {
			put_house(composer, x, middle);
			x += HOUSE + GAP_1;
		}
		put_plain(composer, weekday == NULL ? NO_DAY : weekday, style, x, middle - text_cap_height(style) / 2,
		          0);
		end_group(composer);
	}
	end_group(composer);
}

/* The days' numbers of a column stand below one another, flush right, so that the boxes do too. */
static double number_width(struct composer *composer, const struct waiting_look *look, size_t column)
{
	double width = 0;
	for (size_t i = 0; i < look->sheet->n_weeks; i++)
		width = fmax(width, composer_text_width(composer, look->sheet->weeks[i].days[column].number,
		                                        bold(composer, TYPE_LEAD)));
	return width;
}

static void put_day_of_week(struct composer *composer, const struct waiting_look *look, const struct waiting_day *day,
                            size_t i, double y)
{
	struct text_style lead = bold(composer, TYPE_LEAD);
	struct text_style small = regular(composer, TYPE_REFERENCE);
	double x = column_x(composer, look, i);
	double number = number_width(composer, look, look->first_column + i);
	double sign = x + number + DAY_GAP;
	double beside = sign + look_tick(composer) + DAY_GAP;
	double top = y;
	put_text(composer, day->number, lead, ALIGN_END, x + number,
	         y + (look_tick(composer) - text_cap_height(lead)) / 2, 0, COLOUR_INK);
	if (day->n_ticks == 0)
		put_house(composer, sign, y + look_tick(composer) / 2);
	for (size_t tick = 0; tick < day->n_ticks && (tick == 0 || day->times != NULL); tick++) {
		double line = y + (double)tick * (look_tick(composer) + DAY_GAP);
		const char *words = day->times != NULL ? day->times[tick] : day->last;
		begin_artifact(composer);
		put_tick(composer, (struct point){sign, line}, look_tick(composer));
		end_group(composer);
		put_plain(composer, words, small, beside, line + (look_tick(composer) - text_cap_height(small)) / 2, 0);
		top = line;
	}
	if (day->visit != NULL)
		put_plain(composer, day->visit, small, x, top + look_tick(composer) + LOOK_NOTE, words_width(look, i));
}

static void put_week(struct composer *composer, const struct waiting_look *look, size_t week, double y)
{
	struct text_style small = regular(composer, TYPE_REFERENCE);
	const struct waiting_week *row = &look->sheet->weeks[week];
	begin_group(composer, ROLE_ROW);
	begin_head_cell(composer, SCOPE_ROW);
	put_plain(composer, row->label, small, composer->left,
	          y + look->form->day_pad + (look_tick(composer) - text_cap_height(small)) / 2, 0);
	end_group(composer);
	for (size_t i = 0; i < look->n_columns; i++) {
		size_t column = look->first_column + i;
		begin_group(composer, ROLE_CELL);
		if (row->days[column].number != NULL)
			put_day_of_week(composer, look, &row->days[column], i, y + look->form->day_pad);
		end_group(composer);
	}
	end_group(composer);
}

double waiting_put_title(struct composer *composer, const struct waiting_sheet *sheet, double y)
{
	put_heading(composer, ROLE_H2, sheet->look_heading, bold(composer, TYPE_SECTION), composer->left, y,
	            LIVE_WIDTH);
	put_paragraph(composer, sheet->look_text, regular(composer, TYPE_BODY), composer->left,
	              y + cap(composer, TYPE_SECTION) + WAITING_HEADING_BELOW, LIVE_WIDTH);
	return y + waiting_title_height(composer, sheet);
}

void waiting_put_look(struct composer *composer, const struct waiting_look *look, double y, double row)
{
	y = waiting_put_title(composer, look->sheet, y) + WAITING_HEADING_BELOW;
	begin_group(composer, ROLE_TABLE);
	put_look_head(composer, look, y);
	y += head_words_height(composer, look) + note_height(composer, look) + LOOK_HEAD_BELOW;
	for (size_t i = 0; i < look->sheet->n_rows; i++) {
		put_line(composer, composer->left, composer->right, y, i == 0 ? LINE_MAIN : LINE_FINE);
		put_weekdays(composer, look, look->sheet->rows[i], y, row);
		y += row;
	}
	for (size_t i = 0; i < look->n_weeks; i++) {
		put_line(composer, composer->left, composer->right, y, i == 0 ? LINE_MAIN : LINE_FINE);
		put_week(composer, look, look->first_week + i, y);
		y += week_height(composer, look, look->first_week + i);
	}
	put_line(composer, composer->left, composer->right, y, LINE_MAIN);
	end_group(composer);
}
