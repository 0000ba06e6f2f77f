/*
 * waiting_write.c - what is written down when the call comes: a frame with a row for each thing.
 *
 *     Day 1 is      (Mon)(Tue)...        [ ][ ] [ ][ ]
 *     The amount    [ ] 150 units  [ ] 187.5 units
 *     Who called    ________________  at  [ ][ ]:[ ][ ]
 *     Read it back  "Day 1 is ..."                  [ ]
 *
 * A row's label stands before what is written, in large print above it.
 */
#include "page/waiting.h"

#include "page/styles.h"

#include <math.h>

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
#define HINT_GAP 2.6

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

double waiting_write_height(struct composer *composer, const struct waiting_form *form,
                            const struct waiting_sheet *sheet)
{
	double height = cap(composer, TYPE_SECTION) + WAITING_HEADING_BELOW;
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

void waiting_put_write(struct composer *composer, const struct waiting_form *form, const struct waiting_sheet *sheet,
                       double y)
{
	double frame =
		waiting_write_height(composer, form, sheet) - cap(composer, TYPE_SECTION) - WAITING_HEADING_BELOW;
	double half = LINE_MAIN / 2;
	bool first = true;
	put_heading(composer, ROLE_H2, sheet->write_heading, bold(composer, TYPE_SECTION), composer->left, y,
	            LIVE_WIDTH);
	y += cap(composer, TYPE_SECTION) + WAITING_HEADING_BELOW;
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
