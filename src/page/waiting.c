/*
 * waiting.c - wait for our call: nothing to do yet, what to write down then, and which weekday is which day.
 *
 *     (phone)  Do not start yet                          dashed
 *     Day 1 is    (Mon)(Tue)...          [ ][ ] [ ][ ]
 *     The amount  [ ] 150 units  [ ] 187.5 units
 *     Who called  ________________  at  [ ][ ]:[ ][ ]
 *     Read it back  "Day 1 is ..."                  [ ]
 *     We call on   day 1   day 2   day 3 ...             seven rows
 */
#include "page/large.h"
#include "page/sections.h"

#include <math.h>

static struct text_style bold(const struct composer *composer, enum type_role role)
{
	return composer_style(composer, role, WEIGHT_BOLD);
}

static struct text_style regular(const struct composer *composer, enum type_role role)
{
	return composer_style(composer, role, WEIGHT_REGULAR);
}

static double cap(const struct composer *composer, enum type_role role)
{
	return text_cap_height(bold(composer, role));
}

/* ---- do not start yet ---- */

#define WAIT_PHONE 25.0
#define WAIT_SIDE 7.0
#define WAIT_LEAST 37.0
#define WAIT_PAD 6.6
#define WAIT_LINES 5.0

static double wait_text_x(void)
{
	return WAIT_SIDE + WAIT_PHONE + WAIT_SIDE;
}

static double wait_text_width(void)
{
	return LIVE_WIDTH - wait_text_x() - WAIT_SIDE;
}

static struct text_style wait_heading(const struct composer *composer)
{
	struct text_style style = bold(composer, TYPE_TITLE);
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
	return fmax(WAIT_LEAST, wait_words_height(composer, sheet) + 2 * WAIT_PAD);
}

static void put_wait(struct composer *composer, const struct waiting_sheet *sheet, double y)
{
	double height = wait_height(composer, sheet);
	double half = LINE_MAIN / 2;
	double x = composer->left + wait_text_x();
	double top = y + (height - wait_words_height(composer, sheet)) / 2;
	begin_artifact(composer);
	put_dashed_frame(composer,
	                 (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half},
	                 LINE_MAIN);
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
#define WRITE_ROW 17.0   /* the least */
#define WRITE_PAD 3.2
#define RING 5.0 /* radius */
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

static double label_height(struct composer *composer, const char *label, const char *hint)
{
	double height = composer_text_height(composer, label, bold(composer, TYPE_LEAD), label_width(composer));
	if (hint != NULL)
		height += hint_gap(composer) + composer_text_height(composer, hint, regular(composer, TYPE_REFERENCE),
		                                                    label_width(composer));
	return height;
}

/* In large print the label stands above its field. */
static double row_of(struct composer *composer, double label, double field)
{
	if (composer->large_print)
		return label + GAP_3 + field + 2 * WRITE_PAD;
	return fmax(WRITE_ROW, fmax(label, field) + 2 * WRITE_PAD);
}

static double field_top(struct composer *composer, double y, double row, double label, double field)
{
	return composer->large_print ? y + WRITE_PAD + label + GAP_3 : y + (row - field) / 2;
}

static void put_label(struct composer *composer, const char *label, const char *hint, double y, double row)
{
	double height = label_height(composer, label, hint);
	double top = composer->large_print ? y + WRITE_PAD : y + (row - height) / 2;
	double x = composer->left + WRITE_SIDE;
	struct rect first =
		put_heading(composer, ROLE_H3, label, bold(composer, TYPE_LEAD), x, top, label_width(composer));
	put_paragraph(composer, hint, regular(composer, TYPE_REFERENCE), x, first.y + first.height + hint_gap(composer),
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

static double amount_width(struct composer *composer, const struct waiting_sheet *sheet,
                           const struct waiting_amount *amount)
{
	double width = composer_text_width(composer, amount->amount, bold(composer, TYPE_LEAD));
	if (sheet->choose && amount->from == NULL && amount->mark.number == NULL)
		width += TICK + GAP_1;
	if (amount->from != NULL)
		width += composer_text_width(composer, amount->from, regular(composer, TYPE_BODY)) + GAP_1;
	if (amount->mark.number != NULL)
		width += GAP_2 + measure_tag(composer, amount->mark, TAG_SIZE).width;
	return width;
}

static double amount_line(struct composer *composer, const struct waiting_sheet *sheet)
{
	double height = sheet->choose ? TICK : cap(composer, TYPE_LEAD);
	for (size_t i = 0; i < sheet->n_amounts; i++)
		if (sheet->amounts[i].mark.number != NULL)
			height = fmax(height, measure_tag(composer, sheet->amounts[i].mark, TAG_SIZE).height);
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
	struct rect tag = measure_tag(composer, amount->mark, TAG_SIZE);
	put_tag(composer, amount->mark, TAG_SIZE,
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
	return say1(composer->speaker, "waiting.options_hint", "page", composer_label_of(composer, sheet->options, 0));
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

static double write_row_height(struct composer *composer, const struct waiting_sheet *sheet, int row)
{
	struct write_row form = write_row(composer, sheet, row);
	if (form.label == NULL)
		return 0;
	return row_of(composer, label_height(composer, form.label, form.hint), form.field);
}

static double write_height(struct composer *composer, const struct waiting_sheet *sheet)
{
	double height = cap(composer, TYPE_SECTION) + HEADING_BELOW;
	for (int row = 0; row < ROWS; row++)
		height += write_row_height(composer, sheet, row);
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

static void put_write(struct composer *composer, const struct waiting_sheet *sheet, double y)
{
	double frame = write_height(composer, sheet) - cap(composer, TYPE_SECTION) - HEADING_BELOW;
	double half = LINE_MAIN / 2;
	bool first = true;
	put_heading(composer, ROLE_H2, sheet->write_heading, bold(composer, TYPE_SECTION), composer->left, y,
	            LIVE_WIDTH);
	y += cap(composer, TYPE_SECTION) + HEADING_BELOW;
	put_frame(composer, (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, frame - 2 * half},
	          LINE_MAIN);
	for (int row = 0; row < ROWS; row++) {
		struct write_row form = write_row(composer, sheet, row);
		double height = write_row_height(composer, sheet, row);
		if (form.label == NULL)
			continue;
		if (!first)
			put_line(composer, composer->left + WRITE_SIDE, composer->right - WRITE_SIDE, y, LINE_FINE);
		first = false;
		begin_group(composer, ROLE_PARAGRAPH);
		put_label(composer, form.label, form.hint, y, height);
		double label = label_height(composer, form.label, form.hint);
		put_field(composer, sheet, row, composer->left + WRITE_SIDE + label_x(composer),
		          field_top(composer, y, height, label, form.field));
		end_group(composer);
		y += height;
	}
}

/* ---- the look-up ---- */

#define LOOK_TICK 6.4
#define LOOK_FIRST 12.0 /* tick to the first words */
#define LOOK_GAP 4.0
#define LOOK_LEAST 8.4
#define LOOK_MOST 13.2
#define LOOK_NOTE 2.4
#define LOOK_HEAD_BELOW 3.2
#define HOUSE 5.6

struct look {
	double call;   /* width of the column of calls; 0: none */
	double column; /* of a day */
	size_t first;  /* head of this part */
	size_t n;      /* days that fit beside one another */
};

static struct look look_of(struct composer *composer, const struct waiting_sheet *sheet, size_t first)
{
	struct look look = {.first = first};
	for (int row = 0; row < 7; row++) {
		if (sheet->call_head != NULL)
			look.call = fmax(look.call, composer_text_width(composer, sheet->rows[row].call,
			                                                bold(composer, TYPE_LEAD)) +
			                                    LOOK_GAP);
		for (size_t i = 0; i < sheet->n_heads; i++) {
			double house = sheet->heads[i].visit ? HOUSE + GAP_1 : 0;
			look.column = fmax(look.column, house + LOOK_GAP +
			                                        composer_text_width(composer, sheet->rows[row].days[i],
			                                                            bold(composer, TYPE_BODY)));
		}
	}
	if (sheet->call_head != NULL)
		look.call = fmax(look.call,
		                 composer_text_width(composer, sheet->call_head, bold(composer, TYPE_BODY)) + LOOK_GAP);
	for (size_t i = 0; i < sheet->n_heads; i++)
		look.column = fmax(look.column, composer_text_width(composer, sheet->heads[i].note,
		                                                    regular(composer, TYPE_REFERENCE)) +
		                                        LOOK_GAP);
	double room = LIVE_WIDTH - LOOK_FIRST - look.call;
	look.n = (size_t)fmax(1, floor(room / look.column));
	if (look.n > sheet->n_heads - first)
		look.n = sheet->n_heads - first;
	/* Columns share what is spare, up to a point: far apart they are hard to follow. */
	look.column = fmin(room / (double)(look.n == 0 ? 1 : look.n), look.column * 1.5);
	return look;
}

static double look_head_height(struct composer *composer)
{
	return cap(composer, TYPE_SECTION) + HEADING_BELOW + cap(composer, TYPE_BODY) + LOOK_NOTE +
	       cap(composer, TYPE_REFERENCE) + LOOK_HEAD_BELOW;
}

static double look_least(const struct composer *composer)
{
	return composer->large_print ? LOOK_MOST : LOOK_LEAST;
}

static double look_height(struct composer *composer, double row)
{
	return look_head_height(composer) + 7 * row;
}

static void put_look_head(struct composer *composer, const struct waiting_sheet *sheet, const struct look *look,
                          double y)
{
	struct text_style head = bold(composer, TYPE_BODY);
	double x = composer->left + LOOK_FIRST;
	begin_group(composer, ROLE_ROW);
	if (sheet->call_head != NULL) {
		begin_head_cell(composer, SCOPE_COLUMN);
		put_plain(composer, sheet->call_head, head, x, y, 0);
		end_group(composer);
	}
	for (size_t i = 0; i < look->n; i++) {
		const struct waiting_head *day = &sheet->heads[look->first + i];
		double left = x + look->call + (double)i * look->column;
		begin_head_cell(composer, SCOPE_COLUMN);
		put_plain(composer, day->day, head, left, y, 0);
		put_plain(composer, day->note, regular(composer, TYPE_REFERENCE), left,
		          y + text_cap_height(head) + LOOK_NOTE, 0);
		end_group(composer);
	}
	end_group(composer);
}

static void put_look_row(struct composer *composer, const struct waiting_sheet *sheet, const struct look *look, int row,
                         double y, double height)
{
	double middle = y + height / 2;
	double x = composer->left + LOOK_FIRST;
	struct text_style call = bold(composer, TYPE_LEAD);
	put_tick(composer, (struct point){composer->left + 0.5, middle - LOOK_TICK / 2}, LOOK_TICK);
	begin_group(composer, ROLE_ROW);
	if (sheet->call_head != NULL) {
		begin_head_cell(composer, SCOPE_ROW);
		put_plain(composer, sheet->rows[row].call, call, x, middle - text_cap_height(call) / 2, 0);
		end_group(composer);
	}
	for (size_t i = 0; i < look->n; i++) {
		size_t day = look->first + i;
		bool lead = sheet->call_head == NULL && day == 0;
		struct text_style style = composer_style(composer, TYPE_BODY, lead ? WEIGHT_BOLD : WEIGHT_REGULAR);
		double left = x + look->call + (double)i * look->column;
		if (lead)
			begin_head_cell(composer, SCOPE_ROW);
		else
			begin_group(composer, ROLE_CELL);
		if (sheet->heads[day].visit) {
			put_picture(composer, PICTURE_HOUSE, left, middle - HOUSE / 2, HOUSE);
			left += HOUSE + GAP_1;
		}
		put_plain(composer, sheet->rows[row].days[day], style, left, middle - text_cap_height(style) / 2, 0);
		end_group(composer);
	}
	end_group(composer);
}

/* Returns the head that the next part begins with. */
static size_t put_look_up(struct composer *composer, const struct waiting_sheet *sheet, size_t first, double y,
                          double row)
{
	struct look look = look_of(composer, sheet, first);
	struct text_style heading = bold(composer, TYPE_SECTION);
	struct text_style note = regular(composer, TYPE_BODY);
	struct rect title = put_heading(composer, ROLE_H2, sheet->look_heading, heading, composer->left, y, 0);
	double room = composer->right - title.x - title.width - GAP_3;
	if (composer_text_width(composer, sheet->look_note, note) <= room)
		put_text(composer, sheet->look_note, note, ALIGN_END, composer->right,
		         y + text_cap_height(heading) - text_cap_height(note), 0, COLOUR_INK);
	y += text_cap_height(heading) + HEADING_BELOW;
	begin_group(composer, ROLE_TABLE);
	put_look_head(composer, sheet, &look, y);
	y += look_head_height(composer) - text_cap_height(heading) - HEADING_BELOW;
	for (int i = 0; i < 7; i++) {
		put_line(composer, composer->left, composer->right, y, i == 0 ? LINE_MAIN : LINE_FINE);
		put_look_row(composer, sheet, &look, i, y, row);
		y += row;
	}
	put_line(composer, composer->left, composer->right, y, LINE_MAIN);
	end_group(composer);
	return first + look.n;
}

/* ---- the page ---- */

static double next_page(struct composer *composer, const struct waiting_sheet *sheet)
{
	composer_new_page(composer, say1(composer->speaker, "page.continued", "title", sheet->title), sheet->lead);
	return composer->top;
}

static void put_large_wait(struct composer *composer, const struct large_block *block, double y)
{
	put_wait(composer, block->data, y);
}

static void put_large_write(struct composer *composer, const struct large_block *block, double y)
{
	put_write(composer, block->data, y);
}

static void put_large_look_up(struct composer *composer, const struct large_block *block, double y)
{
	put_look_up(composer, block->data, block->index, y, LOOK_MOST);
}

static void place_large(struct composer *composer, const struct waiting_sheet *sheet)
{
	struct large_blocks blocks = large_blocks_of(composer);
	large_add(&blocks, wait_height(composer, sheet), GAP_4, put_large_wait, sheet);
	large_add(&blocks, write_height(composer, sheet), GAP_4, put_large_write, sheet);
	for (size_t head = 0; head < sheet->n_heads; head += look_of(composer, sheet, head).n)
		large_add(&blocks, look_height(composer, LOOK_MOST), GAP_5, put_large_look_up, sheet)->index = head;
	large_place(&blocks, sheet->title, sheet->lead);
}

void waiting_place(struct composer *composer, const struct waiting_sheet *sheet)
{
	if (composer->large_print) {
		place_large(composer, sheet);
		return;
	}
	composer_new_page(composer, sheet->title, sheet->lead);
	double y = composer->top;
	double used = wait_height(composer, sheet) + write_height(composer, sheet);
	double look = sheet->n_heads == 0 ? 0 : look_height(composer, look_least(composer));
	double gap = section_gap(composer, used + look, 2);
	put_wait(composer, sheet, y);
	y += wait_height(composer, sheet) + gap;
	if (y + write_height(composer, sheet) > composer->bottom)
		y = next_page(composer, sheet);
	put_write(composer, sheet, y);
	if (sheet->n_heads == 0)
		return;
	y += write_height(composer, sheet) + fmin(gap, GAP_4);
	if (y + look > composer->bottom)
		y = next_page(composer, sheet);
	for (size_t head = 0; head < sheet->n_heads;) {
		if (head > 0)
			y = next_page(composer, sheet);
		double spare = (composer->bottom - y - look) / 7;
		head = put_look_up(composer, sheet, head, y, fmin(look_least(composer) + spare, LOOK_MOST));
	}
}
