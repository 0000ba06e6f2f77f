/*
 * waiting.c - wait for our call: nothing to do yet, what to write down then, and which weekday is which day.
 *
 *     (phone)  Do not start yet                          dashed
 *     Day 1 is    (Mon)(Tue)...          [ ][ ] [ ][ ]
 *     The amount  [ ] 150 units  [ ] 187.5 units
 *     Who called  ________________  at  [ ][ ]:[ ][ ]
 *     Read it back  "Day 1 is ..."                  [ ]
 *     If day 1 is  day 2   day 3 ...                     seven rows, then a row of boxes a week
 */
#include "page/large.h"
#include "page/sections.h"
#include "page/styles.h"

#include <math.h>

/* ---- do not start yet ---- */

#define WAIT_PHONE 25.0
#define WAIT_SIDE 7.0
#define WAIT_LEAST 37.0
#define WAIT_PAD 6.6
#define WAIT_LARGE_PAD 5.0
#define WAIT_LINES 5.0

static double wait_text_x(void)
{
	return WAIT_SIDE + WAIT_PHONE + WAIT_SIDE;
}

static double wait_text_width(void)
{
	return LIVE_WIDTH - wait_text_x() - WAIT_SIDE;
}

/* In large print no larger than other headings: what to write down then stands on its page. */
static struct text_style wait_heading(const struct composer *composer)
{
	struct text_style style = bold(composer, composer->large_print ? TYPE_SECTION : TYPE_TITLE);
	style.leading = 1.15 * style.size * POINT_MM;
	return style;
}

static double wait_words_height(struct composer *composer, const struct waiting_sheet *sheet)
{
	return composer_text_height(composer, sheet->heading, wait_heading(composer), wait_text_width()) + WAIT_LINES +
	       composer_text_height(composer, sheet->text, regular(composer, TYPE_BODY), wait_text_width());
}

static double wait_height(struct composer *composer, const struct waiting_sheet *sheet)
{
	double pad = composer->large_print ? WAIT_LARGE_PAD : WAIT_PAD;
	return fmax(WAIT_LEAST, wait_words_height(composer, sheet) + 2 * pad);
}

static void put_wait(struct composer *composer, const struct waiting_sheet *sheet, double y)
{
	double height = wait_height(composer, sheet);
	double half = LINE_MAIN / 2;
	double x = composer->left + wait_text_x();
	double top = y + (height - wait_words_height(composer, sheet)) / 2;
	begin_artifact(composer);
	struct rect frame = {composer->left + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half};
	if (sheet->sooner) /* a broken frame says that nothing is to do before the call */
		put_frame(composer, frame, LINE_MAIN);
	else
		put_dashed_frame(composer, frame, LINE_MAIN);
	put_picture(composer, PICTURE_PHONE, composer->left + WAIT_SIDE, y + (height - WAIT_PHONE) / 2, WAIT_PHONE);
	end_group(composer);
	struct rect heading =
		put_heading(composer, ROLE_H2, sheet->heading, wait_heading(composer), x, top, wait_text_width());
	put_paragraph(composer, sheet->text, regular(composer, TYPE_BODY), x, heading.y + heading.height + WAIT_LINES,
	              wait_text_width());
}

/* ---- what to write down ---- */

#define WRITE_SIDE 5.0
#define WRITE_LABEL 43.0 /* frame's edge to what is written */
#define RING 5.0         /* radius */
#define RING_GAP 1.9
#define DIGIT_WIDTH 6.6
#define DIGIT_HEIGHT 8.0
#define PAIR_GAP 1.9
#define DATE_WORD 2.4
#define TICK 7.6
#define READ_TICK 10.4
#define SAY_SIZE 10.4
#define AMOUNT_GAP 5.0
#define HEADING_BELOW 4.0
#define HINT_GAP 2.6

/* At full size, and set closer where all then stands on one page. */
struct waiting_form {
	double row; /* the least */
	double pad;
	double weekday; /* the least height of a weekday's row in the look-up */
	double day_pad; /* above and below a week's boxes */
};

static const struct waiting_form open_form = {17.0, 3.2, 8.2, 2.0};
static const struct waiting_form close_form = {15.0, 2.4, 7.4, 2.0};
static const struct waiting_form tight_form = {13.0, 1.85, 6.8, 1.1};
static const struct waiting_form large_form = {17.0, 3.2, 13.2, 2.0};

static double label_x(const struct composer *composer)
{
	return composer->large_print ? 0 : WRITE_LABEL;
}

static double field_width(const struct composer *composer)
{
	return LIVE_WIDTH - 2 * WRITE_SIDE - label_x(composer);
}

static double label_width(const struct composer *composer)
{
	return composer->large_print ? LIVE_WIDTH - 2 * WRITE_SIDE : WRITE_LABEL - GAP_2;
}

static double hint_gap(const struct composer *composer)
{
	return composer->large_print ? 4.4 : HINT_GAP;
}

/* In large print, where it has room there. */
static bool hint_beside(struct composer *composer, const char *label, const char *hint)
{
	return composer->large_print &&
	       composer_text_width(composer, label, bold(composer, TYPE_LEAD)) + GAP_3 +
	                       composer_text_width(composer, hint, regular(composer, TYPE_REFERENCE)) <=
	               label_width(composer);
}

static double label_height(struct composer *composer, const char *label, const char *hint)
{
	double height = composer_text_height(composer, label, bold(composer, TYPE_LEAD), label_width(composer));
	if (hint != NULL && !hint_beside(composer, label, hint))
		height += hint_gap(composer) + composer_text_height(composer, hint, regular(composer, TYPE_REFERENCE),
		                                                    label_width(composer));
	return height;
}

/* In large print the label stands above its field. */
static double row_of(const struct composer *composer, const struct waiting_form *form, double label, double field)
{
	if (composer->large_print)
		return label + GAP_3 + field + 2 * form->pad;
	return fmax(form->row, fmax(label, field) + 2 * form->pad);
}

static double field_top(const struct composer *composer, const struct waiting_form *form, double y, double row,
                        double label, double field)
{
	return composer->large_print ? y + form->pad + label + GAP_3 : y + (row - field) / 2;
}

static void put_label(struct composer *composer, const struct waiting_form *form, const char *label, const char *hint,
                      double y, double row)
{
	double height = label_height(composer, label, hint);
	double top = composer->large_print ? y + form->pad : y + (row - height) / 2;
	double x = composer->left + WRITE_SIDE;
	struct rect first =
		put_heading(composer, ROLE_H3, label, bold(composer, TYPE_LEAD), x, top, label_width(composer));
	struct text_style style = regular(composer, TYPE_REFERENCE);
	if (hint_beside(composer, label, hint))
		put_paragraph(composer, hint, style, first.x + first.width + GAP_3,
		              first.y + first.height - text_cap_height(style), 0);
	else
		put_paragraph(composer, hint, style, x, first.y + first.height + hint_gap(composer),
		              label_width(composer));
}

static void put_pair(struct composer *composer, double x, double y)
{
	for (int i = 0; i < 2; i++)
		put_write_in(composer, (struct rect){x + i * (DIGIT_WIDTH + 0.3), y, DIGIT_WIDTH, DIGIT_HEIGHT});
}

#define PAIR (2 * DIGIT_WIDTH + 0.3)

/* ---- its rows: the day ---- */

static double ring_radius(struct composer *composer, const struct waiting_sheet *sheet)
{
	double radius = RING;
	for (size_t i = 0; i < 7; i++)
		radius = fmax(radius,
		              composer_text_width(composer, sheet->weekdays[i], bold(composer, TYPE_REFERENCE)) / 2 +
		                      1.4);
	return radius;
}

static double rings_width(struct composer *composer, const struct waiting_sheet *sheet)
{
	return 14 * ring_radius(composer, sheet) + 6 * RING_GAP;
}

static double date_height(const struct composer *composer)
{
	return DIGIT_HEIGHT + DATE_WORD + cap(composer, TYPE_CAPTION);
}

/* From the first pair's start to the second's: the words below must not touch. */
static double date_step(struct composer *composer, const struct waiting_sheet *sheet)
{
	struct text_style caption = regular(composer, TYPE_CAPTION);
	double words = (composer_text_width(composer, sheet->day_word, caption) +
	                composer_text_width(composer, sheet->month_word, caption)) /
	                       2 +
	               GAP_1;
	return fmax(PAIR + PAIR_GAP, words);
}

/* The second pair's word may be wider than the pair. */
static double date_width(struct composer *composer, const struct waiting_sheet *sheet)
{
	double word = composer_text_width(composer, sheet->month_word, regular(composer, TYPE_CAPTION));
	return date_step(composer, sheet) + fmax(PAIR, (PAIR + word) / 2);
}

/* The date stands below the rings where both are too wide for one line. */
static bool date_below(struct composer *composer, const struct waiting_sheet *sheet)
{
	return rings_width(composer, sheet) + GAP_4 + date_width(composer, sheet) > field_width(composer);
}

static double day_field(struct composer *composer, const struct waiting_sheet *sheet)
{
	double rings = 2 * ring_radius(composer, sheet);
	double date = date_height(composer);
	return date_below(composer, sheet) ? rings + GAP_2 + date : fmax(rings, date);
}

static void put_date(struct composer *composer, const struct waiting_sheet *sheet, double x, double y)
{
	struct text_style caption = regular(composer, TYPE_CAPTION);
	double second = x + date_step(composer, sheet);
	put_pair(composer, x, y);
	put_pair(composer, second, y);
	put_text(composer, sheet->day_word, caption, ALIGN_CENTER, x + PAIR / 2, y + DIGIT_HEIGHT + DATE_WORD, 0,
	         COLOUR_INK);
	put_text(composer, sheet->month_word, caption, ALIGN_CENTER, second + PAIR / 2, y + DIGIT_HEIGHT + DATE_WORD, 0,
	         COLOUR_INK);
}

static void put_day(struct composer *composer, const struct waiting_sheet *sheet, double x, double y)
{
	struct text_style style = bold(composer, TYPE_REFERENCE);
	double radius = ring_radius(composer, sheet);
	double field = day_field(composer, sheet);
	bool below = date_below(composer, sheet);
	double middle = below ? y + radius : y + field / 2;
	for (size_t i = 0; i < 7; i++) {
		double centre = x + radius + (double)i * (2 * radius + RING_GAP);
		put_box(composer, (struct rect){centre - radius, middle - radius, 2 * radius, 2 * radius},
		        (struct box){
				.radius = radius, .line = LINE_OUTLINE, .stroke = COLOUR_INK, .fill = COLOUR_NONE});
		put_text(composer, sheet->weekdays[i], style, ALIGN_CENTER, centre, middle - text_cap_height(style) / 2,
		         0, COLOUR_INK);
	}
	if (below)
		put_date(composer, sheet, x, y + 2 * radius + GAP_2);
	else
		put_date(composer, sheet, composer->right - WRITE_SIDE - date_width(composer, sheet),
		         y + (field - date_height(composer)) / 2);
}

/* ---- its rows: the amount ---- */

#define TAG_SIZE 17.0
#define LARGE_TAG_SIZE 24.0

static double tag_size(const struct composer *composer)
{
	return composer->large_print ? LARGE_TAG_SIZE : TAG_SIZE;
}

static double amount_width(struct composer *composer, const struct waiting_sheet *sheet,
                           const struct waiting_amount *amount)
{
	double width = composer_text_width(composer, amount->amount, bold(composer, TYPE_LEAD));
	if (sheet->choose && amount->from == NULL && amount->mark.number == NULL)
		width += TICK + GAP_1;
	if (amount->from != NULL)
		width += composer_text_width(composer, amount->from, regular(composer, TYPE_BODY)) + GAP_1;
	if (amount->mark.number != NULL)
		width += GAP_2 + measure_tag(composer, amount->mark, tag_size(composer)).width;
	return width;
}

static double amount_line(struct composer *composer, const struct waiting_sheet *sheet)
{
	double height = sheet->choose ? TICK : cap(composer, TYPE_LEAD);
	for (size_t i = 0; i < sheet->n_amounts; i++)
		if (sheet->amounts[i].mark.number != NULL)
			height = fmax(height, measure_tag(composer, sheet->amounts[i].mark, tag_size(composer)).height);
	return fmax(height, sheet->unit != NULL ? DIGIT_HEIGHT : 0);
}

static void put_amount(struct composer *composer, const struct waiting_sheet *sheet,
                       const struct waiting_amount *amount, double x, double middle)
{
	struct text_style lead = bold(composer, TYPE_LEAD);
	struct text_style body = regular(composer, TYPE_BODY);
	if (amount->from != NULL) {
		struct rect from = put_plain(composer, amount->from, body, x, middle - text_cap_height(body) / 2, 0);
		x = from.x + from.width + GAP_1;
	} else if (sheet->choose && amount->mark.number == NULL) {
		put_tick(composer, (struct point){x, middle - TICK / 2}, TICK);
		x += TICK + GAP_1;
	}
	struct rect text = put_plain(composer, amount->amount, lead, x, middle - text_cap_height(lead) / 2, 0);
	if (amount->mark.number == NULL)
		return;
	struct rect tag = measure_tag(composer, amount->mark, tag_size(composer));
	put_tag(composer, amount->mark, tag_size(composer),
	        (struct point){text.x + text.width + GAP_2 + tag.width / 2, middle + tag.height / 2});
}

/* Walks the amounts line by line; `put`: also puts them. Returns the height of all lines. */
static double walk_amounts(struct composer *composer, const struct waiting_sheet *sheet, double x, double y, bool put)
{
	double line = amount_line(composer, sheet);
	double end = x + field_width(composer);
	double at = x;
	double top = y;
	for (size_t i = 0; i < sheet->n_amounts; i++) {
		double width = amount_width(composer, sheet, &sheet->amounts[i]);
		if (at > x && at + width > end) {
			at = x;
			top += line + GAP_2;
		}
		if (put)
			put_amount(composer, sheet, &sheet->amounts[i], at, top + line / 2);
		at += width + AMOUNT_GAP;
	}
	if (sheet->unit != NULL && put) {
		struct text_style lead = bold(composer, TYPE_LEAD);
		put_write_in(composer, (struct rect){x, top + (line - DIGIT_HEIGHT) / 2, 26, DIGIT_HEIGHT});
		put_plain(composer, sheet->unit, lead, x + 26 + GAP_2, top + (line - text_cap_height(lead)) / 2, 0);
	}
	return top + line - y;
}

static const char *amount_hint(struct composer *composer, const struct waiting_sheet *sheet)
{
	if (sheet->amount_hint == NULL || sheet->options < 0)
		return sheet->amount_hint;
	return composer_fill_page(composer, sheet->amount_hint, composer_label_of(composer, sheet->options, 0));
}

/* ---- its rows: who, and read back ---- */

static void put_clock_boxes(struct composer *composer, double x, double y)
{
	struct text_style style = bold(composer, TYPE_LEAD);
	put_pair(composer, x, y);
	put_pair(composer, x + PAIR + 3.4, y);
	put_text(composer, ":", style, ALIGN_CENTER, x + PAIR + 1.7, y + (DIGIT_HEIGHT - text_cap_height(style)) / 2, 0,
	         COLOUR_INK);
}

#define CLOCK_BOXES (2 * PAIR + 3.4)

static void put_who(struct composer *composer, const struct waiting_sheet *sheet, double x, double y)
{
	struct text_style lead = regular(composer, TYPE_LEAD);
	double right = composer->right - WRITE_SIDE;
	double boxes = right - CLOCK_BOXES - 16;
	double at = boxes - GAP_2 - composer_text_width(composer, sheet->at_word, lead);
	put_line(composer, x, at - GAP_4, y + DIGIT_HEIGHT - 1.4, LINE_OUTLINE);
	put_plain(composer, sheet->at_word, lead, at, y + (DIGIT_HEIGHT - text_cap_height(lead)) / 2, 0);
	put_clock_boxes(composer, boxes, y);
}

static double read_width(const struct composer *composer)
{
	return field_width(composer) - SAY_SIZE - GAP_3 - READ_TICK - GAP_4;
}

static double read_field(struct composer *composer, const struct waiting_sheet *sheet)
{
	return fmax(READ_TICK, composer_text_height(composer, sheet->read_text, regular(composer, TYPE_BODY),
	                                            read_width(composer)));
}

static void put_read(struct composer *composer, const struct waiting_sheet *sheet, double x, double y)
{
	double field = read_field(composer, sheet);
	struct text_style body = regular(composer, TYPE_BODY);
	double text = composer_text_height(composer, sheet->read_text, body, read_width(composer));
	begin_artifact(composer);
	put_picture(composer, PICTURE_SAY, x, y + (field - SAY_SIZE) / 2, SAY_SIZE);
	end_group(composer);
	put_paragraph(composer, sheet->read_text, body, x + SAY_SIZE + GAP_3, y + (field - text) / 2,
	              read_width(composer));
	put_tick(composer, (struct point){composer->right - WRITE_SIDE - READ_TICK, y + (field - READ_TICK) / 2},
	         READ_TICK);
}

/* ---- the frame of rows ---- */

enum { ROW_DAY, ROW_TIME, ROW_AMOUNT, ROW_WHO, ROW_READ, ROWS };

struct write_row {
	const char *label;
	const char *hint;
	double field; /* height */
};

static struct write_row write_row(struct composer *composer, const struct waiting_sheet *sheet, int row)
{
	switch (row) {
	case ROW_DAY:
		return (struct write_row){sheet->day_label, sheet->day_hint, day_field(composer, sheet)};
	case ROW_TIME:
		return (struct write_row){sheet->time_label, NULL, DIGIT_HEIGHT};
	case ROW_AMOUNT:
		return (struct write_row){sheet->amount_label, amount_hint(composer, sheet),
		                          walk_amounts(composer, sheet, 0, 0, false)};
	case ROW_WHO:
		return (struct write_row){sheet->who_label, NULL, DIGIT_HEIGHT};
	default:
		return (struct write_row){sheet->read_label, NULL, read_field(composer, sheet)};
	}
}

static double write_row_height(struct composer *composer, const struct waiting_form *form,
                               const struct waiting_sheet *sheet, int row)
{
	struct write_row field = write_row(composer, sheet, row);
	if (field.label == NULL)
		return 0;
	return row_of(composer, form, label_height(composer, field.label, field.hint), field.field);
}

static double write_height(struct composer *composer, const struct waiting_form *form,
                           const struct waiting_sheet *sheet)
{
	double height = cap(composer, TYPE_SECTION) + HEADING_BELOW;
	for (int row = 0; row < ROWS; row++)
		height += write_row_height(composer, form, sheet, row);
	return height;
}

static void put_field(struct composer *composer, const struct waiting_sheet *sheet, int row, double x, double y)
{
	switch (row) {
	case ROW_DAY:
		put_day(composer, sheet, x, y);
		break;
	case ROW_TIME:
		put_clock_boxes(composer, x, y);
		break;
	case ROW_AMOUNT:
		walk_amounts(composer, sheet, x, y, true);
		break;
	case ROW_WHO:
		put_who(composer, sheet, x, y);
		break;
	default:
		put_read(composer, sheet, x, y);
		break;
	}
}

static void put_write(struct composer *composer, const struct waiting_form *form, const struct waiting_sheet *sheet,
                      double y)
{
	double frame = write_height(composer, form, sheet) - cap(composer, TYPE_SECTION) - HEADING_BELOW;
	double half = LINE_MAIN / 2;
	bool first = true;
	put_heading(composer, ROLE_H2, sheet->write_heading, bold(composer, TYPE_SECTION), composer->left, y,
	            LIVE_WIDTH);
	y += cap(composer, TYPE_SECTION) + HEADING_BELOW;
	put_frame(composer, (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, frame - 2 * half},
	          LINE_MAIN);
	for (int row = 0; row < ROWS; row++) {
		struct write_row line = write_row(composer, sheet, row);
		double height = write_row_height(composer, form, sheet, row);
		if (line.label == NULL)
			continue;
		if (!first)
			put_line(composer, composer->left + WRITE_SIDE, composer->right - WRITE_SIDE, y, LINE_FINE);
		first = false;
		begin_group(composer, ROLE_PARAGRAPH);
		put_label(composer, form, line.label, line.hint, y, height);
		double label = label_height(composer, line.label, line.hint);
		put_field(composer, sheet, row, composer->left + WRITE_SIDE + label_x(composer),
		          field_top(composer, form, y, height, label, line.field));
		end_group(composer);
		y += height;
	}
}

/* ---- the look-up ---- */

/*
 *       If day 1 is   day 2     days 3, 10
 *       20:00         20:00     20:00
 *     --------------------------------------
 *     [ ] Monday      Tuesday   Wednesday        a row each that day 1 may be
 *     --------------------------------------
 *     week 1  1 [ ]   2 [ ]     3 [ ]            a row a week
 *     week 2                    10 [ ] last
 */

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
#define COLUMNS_MOST 7
#define NO_DAY "\u2013" /* by then it has ended */

static double look_tick(const struct composer *composer)
{
	return composer->large_print ? LOOK_LARGE_TICK : LOOK_TICK;
}

/* Some of the columns and weeks: what stands on one page. */
struct look {
	const struct waiting_form *form;
	const struct waiting_sheet *sheet;
	bool short_names;
	double side;                 /* where the first column begins */
	double widths[COLUMNS_MOST]; /* what each column needs */
	double spread;               /* what each column of this part has beyond that */
	size_t first_column;
	size_t n_columns;
	size_t first_week;
	size_t n_weeks;
};

static const char *weekday_in(const struct look *look, size_t column, int row)
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

static double column_width(struct composer *composer, const struct look *look, size_t column)
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
static void fit_columns(struct look *look)
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

/* With full names where all columns then stand side by side. */
static struct look whole_look(struct composer *composer, const struct waiting_form *form,
                              const struct waiting_sheet *sheet)
{
	struct look look = {
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
static double words_width(const struct look *look, size_t i)
{
	return look->widths[look->first_column + i] + look->spread - LOOK_GAP / 2;
}

static double note_height(struct composer *composer, const struct look *look)
{
	double height = 0;
	for (size_t i = 0; i < look->n_columns; i++)
		height = fmax(height, composer_text_height(composer, look->sheet->columns[look->first_column + i].note,
		                                           regular(composer, TYPE_REFERENCE), words_width(look, i)));
	return height == 0 ? 0 : LOOK_NOTE + height;
}

static double head_words_height(struct composer *composer, const struct look *look)
{
	double height = 0;
	for (size_t i = 0; i < look->n_columns; i++)
		height = fmax(height,
		              composer_text_height(composer,
		                                   head_of(composer, &look->sheet->columns[look->first_column + i]),
		                                   bold(composer, TYPE_BODY), words_width(look, i)));
	return height;
}

static double title_height(struct composer *composer, const struct waiting_sheet *sheet)
{
	return cap(composer, TYPE_SECTION) + HEADING_BELOW +
	       composer_text_height(composer, sheet->look_text, regular(composer, TYPE_BODY), LIVE_WIDTH);
}

/* Boxes one above the other, where they have times; then words that may take lines. */
static double day_height(struct composer *composer, const struct look *look, const struct waiting_day *day, size_t i)
{
	size_t lines = day->times == NULL ? 1 : day->n_ticks;
	double words =
		composer_text_height(composer, day->visit, regular(composer, TYPE_REFERENCE), words_width(look, i));
	if (day->number == NULL)
		return 0;
	return (double)lines * (look_tick(composer) + DAY_GAP) - DAY_GAP + (words > 0 ? LOOK_NOTE + words : 0);
}

static double week_height(struct composer *composer, const struct look *look, size_t week)
{
	double height = look_tick(composer);
	for (size_t i = 0; i < look->n_columns; i++)
		height = fmax(height,
		              day_height(composer, look, &look->sheet->weeks[week].days[look->first_column + i], i));
	return height + 2 * look->form->day_pad;
}

static double weeks_height(struct composer *composer, const struct look *look)
{
	double height = 0;
	for (size_t i = 0; i < look->n_weeks; i++)
		height += week_height(composer, look, look->first_week + i);
	return height;
}

/* All but the rows of weekdays. */
static double look_fixed_height(struct composer *composer, const struct look *look)
{
	return title_height(composer, look->sheet) + HEADING_BELOW + head_words_height(composer, look) +
	       note_height(composer, look) + LOOK_HEAD_BELOW + weeks_height(composer, look);
}

static double look_height(struct composer *composer, const struct look *look)
{
	return look_fixed_height(composer, look) + (double)look->sheet->n_rows * look->form->weekday;
}

/* As many weeks as a page of its own holds, one at least. */
static void fit_weeks(struct composer *composer, struct look *look, double room)
{
	look->n_weeks = look->sheet->n_weeks - look->first_week;
	while (look->n_weeks > 1 && look_height(composer, look) > room)
		look->n_weeks--;
}

static struct look first_look(struct composer *composer, const struct waiting_form *form,
                              const struct waiting_sheet *sheet, double room)
{
	struct look look = whole_look(composer, form, sheet);
	fit_weeks(composer, &look, room);
	return look;
}

/* The part after `look`: further weeks of its columns, then further columns. False after the last. */
static bool next_look(struct composer *composer, struct look *look, double room)
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

static double column_x(const struct composer *composer, const struct look *look, size_t i)
{
	double x = composer->left + look->side;
	for (size_t j = 0; j < i; j++)
		x += look->widths[look->first_column + j] + look->spread;
	return x;
}

static void put_look_head(struct composer *composer, const struct look *look, double y)
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

static void put_weekdays(struct composer *composer, const struct look *look, int row, double y, double height)
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
static double number_width(struct composer *composer, const struct look *look, size_t column)
{
	double width = 0;
	for (size_t i = 0; i < look->sheet->n_weeks; i++)
		width = fmax(width, composer_text_width(composer, look->sheet->weeks[i].days[column].number,
		                                        bold(composer, TYPE_LEAD)));
	return width;
}

static void put_day_of_week(struct composer *composer, const struct look *look, const struct waiting_day *day, size_t i,
                            double y)
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

static void put_week(struct composer *composer, const struct look *look, size_t week, double y)
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

static double put_look_title(struct composer *composer, const struct waiting_sheet *sheet, double y)
{
	put_heading(composer, ROLE_H2, sheet->look_heading, bold(composer, TYPE_SECTION), composer->left, y,
	            LIVE_WIDTH);
	put_paragraph(composer, sheet->look_text, regular(composer, TYPE_BODY), composer->left,
	              y + cap(composer, TYPE_SECTION) + HEADING_BELOW, LIVE_WIDTH);
	return y + title_height(composer, sheet);
}

/* `row`: how high each row of weekdays is. */
static void put_look(struct composer *composer, const struct look *look, double y, double row)
{
	y = put_look_title(composer, look->sheet, y) + HEADING_BELOW;
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

/* ---- the page ---- */

static double next_page(struct composer *composer, const struct waiting_sheet *sheet)
{
	composer_new_page(composer, say_continued(composer->speaker, sheet->title), sheet->lead);
	return composer->top;
}

static void put_large_wait(struct composer *composer, const struct large_block *block, double y)
{
	put_wait(composer, block->data, y);
}

static void put_large_write(struct composer *composer, const struct large_block *block, double y)
{
	put_write(composer, &large_form, block->data, y);
}

static void put_large_look(struct composer *composer, const struct large_block *block, double y)
{
	put_look(composer, block->data, y, large_form.weekday);
}

static void put_large_title(struct composer *composer, const struct large_block *block, double y)
{
	put_look_title(composer, block->data, y);
}

static void add_large_looks(struct large_blocks *blocks, const struct waiting_sheet *sheet)
{
	struct composer *composer = blocks->composer;
	double room = large_further_room(composer, sheet->title);
	if (sheet->n_columns == 0) {
		large_add(blocks, title_height(composer, sheet), GAP_4, put_large_title, sheet);
		return;
	}
	struct look look = first_look(composer, &large_form, sheet, room);
	do {
		struct look *part = arena_alloc(composer->arena, sizeof *part);
		*part = look;
		large_add(blocks, look_height(composer, part), GAP_5, put_large_look, part);
	} while (next_look(composer, &look, room));
}

static void place_large(struct composer *composer, const struct waiting_sheet *sheet)
{
	struct large_blocks blocks = large_blocks_of(composer);
	large_add(&blocks, wait_height(composer, sheet), GAP_4, put_large_wait, sheet);
	large_add(&blocks, write_height(composer, &large_form, sheet), GAP_4, put_large_write, sheet);
	if (sheet->look_heading != NULL)
		add_large_looks(&blocks, sheet);
	large_place(&blocks, sheet->title, sheet->lead);
}

/* The look-up from `y`, on further pages what this one does not hold. */
static void place_looks(struct composer *composer, const struct waiting_form *form, const struct waiting_sheet *sheet,
                        double y)
{
	const char *title = say_continued(composer->speaker, sheet->title);
	double page = composer_content_height(composer, title, sheet->lead, PICTURE_NONE);
	struct look look = first_look(composer, form, sheet, page);
	if (y + look_height(composer, &look) > composer->bottom)
		y = next_page(composer, sheet);
	do {
		if (look.first_column + look.first_week > 0)
			y = next_page(composer, sheet);
		double spare = composer->bottom - y - look_fixed_height(composer, &look);
		put_look(composer, &look, y, fmin(fmax(spare / (double)sheet->n_rows, form->weekday), LOOK_MOST));
	} while (next_look(composer, &look, page));
}

/* What the look-up takes, were it all on one page. */
static double look_up_height(struct composer *composer, const struct waiting_form *form,
                             const struct waiting_sheet *sheet)
{
	if (sheet->look_heading == NULL)
		return 0;
	if (sheet->n_columns == 0)
		return title_height(composer, sheet);
	struct look look = whole_look(composer, form, sheet);
	return look_height(composer, &look);
}

static double used_height(struct composer *composer, const struct waiting_form *form, const struct waiting_sheet *sheet)
{
	return wait_height(composer, sheet) + write_height(composer, form, sheet) +
	       look_up_height(composer, form, sheet);
}

static const struct waiting_form *form_of(struct composer *composer, const struct waiting_sheet *sheet)
{
	static const struct waiting_form *const forms[] = {&open_form, &close_form, &tight_form};
	double room = composer->bottom - composer->top - 2 * SECTION_GAP_LEAST;
	for (size_t i = 0; i < sizeof forms / sizeof *forms; i++)
		if (used_height(composer, forms[i], sheet) <= room)
			return forms[i];
	return &open_form; /* on two pages */
}

/* The sheet with the pages on which the doses stand that a sooner start puts off. */
static const struct waiting_sheet *with_page(struct composer *composer, const struct waiting_sheet *of)
{
	struct waiting_sheet *sheet = arena_alloc(composer->arena, sizeof *sheet);
	const void **doses = arena_alloc(composer->arena, of->n_doses * sizeof *doses);
	if (of->n_doses == 0 || of->grid < 0)
		return of;
	*sheet = *of;
	for (size_t i = 0; i < of->n_doses; i++)
		doses[i] = &of->doses[i];
	sheet->text =
		composer_fill_page(composer, of->text, composer_part_pages(composer, of->grid, doses, of->n_doses));
	return sheet;
}

void waiting_place(struct composer *composer, const struct waiting_sheet *of)
{
	const struct waiting_sheet *sheet = with_page(composer, of);
	if (composer->large_print) {
		place_large(composer, sheet);
		return;
	}
	composer_new_page(composer, sheet->title, sheet->lead);
	const struct waiting_form *form = form_of(composer, sheet);
	double y = composer->top;
	double gap = section_gap(composer, used_height(composer, form, sheet), 2);
	put_wait(composer, sheet, y);
	y += wait_height(composer, sheet) + gap;
	if (y + write_height(composer, form, sheet) > composer->bottom)
		y = next_page(composer, sheet);
	put_write(composer, form, sheet, y);
	if (sheet->look_heading == NULL)
		return;
	y += write_height(composer, form, sheet) + fmin(gap, GAP_4);
	if (sheet->n_columns > 0) {
		place_looks(composer, form, sheet, y);
		return;
	}
	if (y + title_height(composer, sheet) > composer->bottom)
		y = next_page(composer, sheet);
	put_look_title(composer, sheet, y);
}
