/*
 * grid_band.c - what goes across the grid: visits, exact times, and below it what waits.
 */
#include "page/grid.h"

#include <math.h>

#define STRETCHES 8

/* ---- visits ---- */

#define VISIT_GAP 0.4
#define VISIT_PAD 1.45 /* above and below the words: one line of 12 pt makes a band of 5.7 */
#define VISIT_TEXT 9.2
#define VISIT_LEADING 4.9
#define VISIT_ROW_PAD 2.0
#define BAND_RADIUS 1.5

static const struct box band_box = {
	.radius = BAND_RADIUS, .line = LINE_FINE, .stroke = COLOUR_INK, .fill = COLOUR_BAND};

static struct text_style visit_style(const struct composer *composer)
{
	struct text_style style = composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
	style.leading = VISIT_LEADING;
	return style;
}

static size_t widest_stretch(const struct stretch *stretches, size_t n)
{
	size_t widest = 0;
	for (size_t i = 1; i < n; i++)
		if (stretches[i].right - stretches[i].left > stretches[widest].right - stretches[widest].left)
			widest = i;
	return widest;
}

static double text_room(struct stretch stretch)
{
	return stretch.right - stretch.left - VISIT_TEXT - GAP_2;
}

/* Letters of some scripts hang deeper than ours: they stay within the band. */
static double hanging(const struct text_block *block)
{
	struct rect ink = text_ink(block);
	return ink.y + ink.height - text_height(block);
}

static double visit_pad(struct composer *composer, const char *words, double room)
{
	return fmax(VISIT_PAD, hanging(composer_set(composer, words, visit_style(composer), room)) + LINE_OUTLINE);
}

double visit_band_height(const struct grid_sheet *sheet, size_t row, const struct grid_band *band)
{
	struct stretch stretches[STRETCHES];
	size_t n = grid_stretches(sheet, row, stretches, STRETCHES);
	double room = text_room(stretches[widest_stretch(stretches, n)]);
	return composer_text_height(sheet->composer, band->text, visit_style(sheet->composer), room) +
	       2 * visit_pad(sheet->composer, band->text, room) + 2 * VISIT_GAP;
}

enum pictogram visit_sign(const struct grid_band *band)
{
	return band->kind == BAND_PAST ? PICTURE_CHECK : PICTURE_HOUSE;
}

static void put_sign_and_words(const struct grid_sheet *sheet, enum pictogram sign, const char *words, double x,
                               double y, double room, double height)
{
	struct composer *composer = sheet->composer;
	struct text_style style = visit_style(composer);
	double top = y + (height - composer_text_height(composer, words, style, room)) / 2;
	begin_artifact(composer);
	put_picture(composer, sign, x + 2.2, y + (height - 5) / 2, 5);
	end_group(composer);
	put_plain(composer, words, style, x + VISIT_TEXT, top, room);
}

void visit_band_put(const struct grid_sheet *sheet, size_t row, const struct grid_band *band, double y)
{
	struct composer *composer = sheet->composer;
	struct stretch stretches[STRETCHES];
	size_t n = grid_stretches(sheet, row, stretches, STRETCHES);
	size_t widest = widest_stretch(stretches, n);
	double height = visit_band_height(sheet, row, band) - 2 * VISIT_GAP;
	begin_group(composer, ROLE_ROW);
	begin_artifact(composer);
	for (size_t i = 0; i < n; i++) {
		struct rect area = {stretches[i].left, y + VISIT_GAP, stretches[i].right - stretches[i].left, height};
		put_box(composer, area, band_box);
	}
	end_group(composer);
	begin_wide_cell(composer, 1 + grid_cells(sheet));
	put_sign_and_words(sheet, visit_sign(band), band->text, stretches[widest].left, y + VISIT_GAP,
	                   text_room(stretches[widest]), height);
	end_group(composer);
	end_group(composer);
}

static struct stretch visit_row_stretch(const struct grid_sheet *sheet)
{
	return (struct stretch){grid_day_lines_end(sheet) + GAP_1, sheet->composer->right};
}

/* "Procedure, 10:30. Bring all pages. No medicine on this day.": the last where one line has room for it. */
static const char *visit_row_words(const struct grid_sheet *sheet, size_t row)
{
	struct composer *composer = sheet->composer;
	const struct sheet_row *place = &sheet->rows[row];
	const char *visit = place->visits[0].own_text;
	if (place->row->rest_text == NULL)
		return visit;
	const char *both = arena_printf(composer->arena, "%s %s", visit, place->row->rest_text);
	return composer_text_width(composer, both, visit_style(composer)) <= text_room(visit_row_stretch(sheet))
	               ? both
	               : visit;
}

double visit_row_height(const struct grid_sheet *sheet, size_t row)
{
	return composer_text_height(sheet->composer, visit_row_words(sheet, row), visit_style(sheet->composer),
	                            text_room(visit_row_stretch(sheet))) +
	       2 * VISIT_ROW_PAD + 2 * VISIT_GAP;
}

void visit_row_put(const struct grid_sheet *sheet, size_t row)
{
	struct composer *composer = sheet->composer;
	const struct sheet_row *place = &sheet->rows[row];
	struct stretch stretch = visit_row_stretch(sheet);
	double y = place->top + VISIT_GAP;
	double height = place->height - 2 * VISIT_GAP;
	begin_group(composer, ROLE_ROW);
	begin_artifact(composer);
	put_box(composer, (struct rect){composer->left, y, LIVE_WIDTH, height}, band_box);
	end_group(composer);
	begin_head_cell(composer, SCOPE_ROW);
	grid_put_day_line(sheet, place->row, y, height);
	end_group(composer);
	begin_wide_cell(composer, grid_cells(sheet));
	put_sign_and_words(sheet, PICTURE_HOUSE, visit_row_words(sheet, row), stretch.left, y, text_room(stretch),
	                   height);
	end_group(composer);
	end_group(composer);
}

/* ---- exact times ---- */

#define EXACT_GAP 0.8
#define EXACT_LEAST 18.0
#define EXACT_PAD 2.4
#define EXACT_DIAL 7.2
#define EXACT_DIAL_X 39.6 /* middle of the dial from the column's edge */
#define EXACT_TIME_X 49.2
#define EXACT_DAY 1.6 /* the day stands within the frame */
#define EXACT_DAY_BETWEEN 1.9
#define EXACT_NIGHT 2.4 /* which night it is, on one line from here to the dial */
#define EXACT_BESIDE_DIAL 0.6
#define EXACT_TIME_SIZE 34.0
#define EXACT_TICK 9.0
#define EXACT_MARK_SIZE 20.0
#define EXACT_LONG_MARK_SIZE 13.0
#define EXACT_TAG_MOST 46.0 /* mm */
#define EXACT_PICTURE 12.0
#define EXACT_LEADING 4.9

/* Where things stand in an exact-time band, from its right edge inward. */
struct exact_form {
	double mark_size; /* pt: a mark of many words is set smaller */
	double tick;      /* left edges */
	double tag;       /* tag->width 0: none */
	struct rect tag_size;
	double name;
	double name_width;
	double picture;
	double note_width; /* of the words below the time */
};

static struct text_style exact_time_style(const struct composer *composer)
{
	struct text_style style = composer_style(composer, TYPE_TITLE, WEIGHT_BOLD);
	style.size = EXACT_TIME_SIZE;
	return style;
}

static struct text_style exact_note_style(const struct composer *composer)
{
	struct text_style style = composer_style(composer, TYPE_BODY, WEIGHT_BOLD);
	style.leading = EXACT_LEADING;
	return style;
}

static struct text_style exact_name_style(const struct composer *composer)
{
	struct text_style style = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	style.leading = 5.6;
	return style;
}

static struct exact_form exact_form_of(const struct grid_sheet *sheet, const struct grid_band *band)
{
	struct composer *composer = sheet->composer;
	struct exact_form form = {.tick = composer->right - 3.0 - EXACT_TICK};
	form.mark_size = EXACT_MARK_SIZE;
	if (band->mark.number != NULL)
		form.tag_size = measure_tag(composer, band->mark, form.mark_size);
	if (form.tag_size.width > EXACT_TAG_MOST) {
		form.mark_size = EXACT_LONG_MARK_SIZE;
		form.tag_size = measure_tag(composer, band->mark, form.mark_size);
	}
	form.tag = form.tick - 3.8 - form.tag_size.width;
	double name = composer_text_width(composer, band->name, exact_name_style(composer));
	double amount = composer_text_width(composer, band->amount, exact_note_style(composer));
	double time_end =
		composer->left + EXACT_TIME_X + composer_text_width(composer, band->time, exact_time_style(composer));
	double most = form.tag - 2.4 - (time_end + GAP_3 + EXACT_PICTURE + GAP_1);
	form.name_width = fmin(fmax(name, amount) + 0.2, most);
	form.name = form.tag - 2.4 - form.name_width;
	form.picture = form.name - 0.8 - EXACT_PICTURE;
	form.note_width = form.picture - 0.6 - (composer->left + EXACT_TIME_X);
	return form;
}

/* Name, amount and page under one another. */
static double exact_name_height(const struct grid_sheet *sheet, const struct grid_band *band, double width)
{
	struct composer *composer = sheet->composer;
	double height = text_height(composer_set_name(composer, band->name, exact_name_style(composer), width, 3));
	if (band->amount != NULL)
		height += 2.1 + composer_text_height(composer, band->amount, exact_note_style(composer), width);
	if (band->section >= 0)
		height += 2.1 + text_cap_height(composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR));
	return height;
}

static double exact_time_height(const struct grid_sheet *sheet, const struct grid_band *band, double width)
{
	struct composer *composer = sheet->composer;
	const struct text_block *note = composer_set(composer, band->note, exact_note_style(composer), width);
	double below = fmax(0, hanging(note) + LINE_OUTLINE / 2 - (EXACT_PAD - LINE_ALARM));
	return text_cap_height(exact_time_style(composer)) + 2.5 + text_height(note) + below;
}

static struct text_style day_note_style(const struct composer *composer)
{
	struct text_style style = composer_style(composer, TYPE_REFERENCE, WEIGHT_SEMIBOLD);
	style.leading = 4.1;
	return style;
}

static double day_note_width(void)
{
	return EXACT_DIAL_X - EXACT_DIAL - EXACT_BESIDE_DIAL - EXACT_NIGHT;
}

/* The day's date and side, and below them which night it is. */
static double exact_day_height(const struct grid_sheet *sheet, const struct grid_band *band)
{
	if (band->day_note == NULL)
		return 0;
	return grid_day_height(sheet) + EXACT_DAY_BETWEEN +
	       composer_text_height(sheet->composer, band->day_note, day_note_style(sheet->composer), day_note_width());
}

double exact_band_height(const struct grid_sheet *sheet, const struct grid_band *band)
{
	struct exact_form form = exact_form_of(sheet, band);
	double content =
		fmax(exact_name_height(sheet, band, form.name_width), exact_time_height(sheet, band, form.note_width));
	content = fmax(content, exact_day_height(sheet, band));
	return fmax(EXACT_LEAST, content + 2 * EXACT_PAD) + 2 * EXACT_GAP + sheet->exact_growth;
}

/* Whose day: with the side where no row above shows it; "night, Thu to Fri" below where midnight has passed. */
static void put_exact_day(const struct grid_sheet *sheet, size_t index, const struct grid_band *band, double y,
                          double height)
{
	struct composer *composer = sheet->composer;
	const struct sheet_row *place = &sheet->rows[index];
	double left = composer->left + EXACT_DAY;
	double top = y;
	double day_height = height;
	if (band->day_note != NULL) {
		top += (height - exact_day_height(sheet, band)) / 2;
		day_height = grid_day_height(sheet);
	}
	grid_put_day(sheet, place->row, left, top, day_height);
	struct needles above = grid_needles(sheet, index);
	bool told = place->form == ROW_DAY && (band->muscle ? above.hip : above.belly);
	if (!told && place->row->side != SIDE_NONE)
		grid_put_side(sheet, place->row, band->muscle, left + GRID_DAY_SIDE, top, day_height);
	if (band->day_note != NULL)
		put_plain(composer, band->day_note, day_note_style(composer), composer->left + EXACT_NIGHT,
		          top + day_height + EXACT_DAY_BETWEEN, day_note_width());
}

static void put_exact_time(const struct grid_sheet *sheet, const struct grid_band *band, struct exact_form form,
                           double y, double height)
{
	struct composer *composer = sheet->composer;
	struct text_style time = exact_time_style(composer);
	double x = composer->left + EXACT_TIME_X;
	double top = y + (height - exact_time_height(sheet, band, form.note_width)) / 2;
	begin_artifact(composer);
	put_clock(composer, (struct point){composer->left + EXACT_DIAL_X, y + height / 2}, EXACT_DIAL, band->clock,
	          LINE_STRONG, COLOUR_INK);
	end_group(composer);
	put_plain(composer, band->time, time, x, top, 0);
	put_text(composer, band->note, exact_note_style(composer), ALIGN_START, x, top + text_cap_height(time) + 2.5,
	         form.note_width, COLOUR_RUST);
}

static void put_exact_dose(const struct grid_sheet *sheet, const struct grid_band *band, struct exact_form form,
                           double y, double height)
{
	struct composer *composer = sheet->composer;
	double top = y + (height - exact_name_height(sheet, band, form.name_width)) / 2;
	begin_artifact(composer);
	put_picture(composer, band->pictogram, form.picture, y + (height - EXACT_PICTURE) / 2, EXACT_PICTURE);
	end_group(composer);
	const struct text_block *name =
		composer_set_name(composer, band->name, exact_name_style(composer), form.name_width, 3);
	struct rect line = put_block(composer, name, ALIGN_START, form.name, top, COLOUR_INK);
	if (band->amount != NULL)
		line = put_plain(composer, band->amount, exact_note_style(composer), form.name,
		                 line.y + line.height + 2.1, form.name_width);
	put_page_ref(composer, band->section, composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR), ALIGN_START,
	             form.name, line.y + line.height + 2.1);
	if (band->mark.number != NULL) {
		struct point tip = {form.tag + form.tag_size.width / 2, y + (height + form.tag_size.height) / 2 + 0.6};
		put_tag(composer, band->mark, form.mark_size, tip);
	}
}

static void put_exact_tick(const struct grid_sheet *sheet, const struct grid_band *band, struct exact_form form,
                           double y)
{
	put_done_or_tick(sheet->composer, (struct point){form.tick, y}, EXACT_TICK, band->done);
}

void exact_band_put(const struct grid_sheet *sheet, size_t row, const struct grid_band *band, double y)
{
	struct composer *composer = sheet->composer;
	composer_note_part(composer, band->dose);
	struct exact_form form = exact_form_of(sheet, band);
	double height = exact_band_height(sheet, band) - 2 * EXACT_GAP;
	double top = y + EXACT_GAP;
	double half = LINE_ALARM / 2;
	struct box box = {.radius = 2, .line = LINE_ALARM, .stroke = COLOUR_RUST, .fill = COLOUR_WHITE};

	begin_group(composer, ROLE_ROW);
	begin_artifact(composer);
	put_box(composer, (struct rect){composer->left + half, top + half, LIVE_WIDTH - 2 * half, height - 2 * half},
	        box);
	end_group(composer);
	begin_head_cell(composer, SCOPE_ROW);
	put_exact_day(sheet, row, band, top, height);
	end_group(composer);
	begin_wide_cell(composer, grid_cells(sheet));
	put_exact_time(sheet, band, form, top, height);
	put_exact_dose(sheet, band, form, top, height);
	put_exact_tick(sheet, band, form, top + (height - EXACT_TICK) / 2);
	end_group(composer);
	end_group(composer);
}

/* ---- what waits ---- */

#define WAITING_GAP 0.8
#define WAITING_LEAST 13.4
#define WAITING_TEXT 14.0
#define WAITING_BOX_WIDTH 6.0
#define WAITING_BOX_HEIGHT 7.0
#define WAITING_LINE 14.0
#define WAITING_BETWEEN 2.4

struct waiting_form {
	double amount; /* left edges */
	double boxes;
	double start;
	double text_width;
};

static struct text_style waiting_style(const struct composer *composer, enum text_weight weight)
{
	struct text_style style = composer_style(composer, TYPE_BODY, weight);
	style.leading = EXACT_LEADING;
	return style;
}

static struct waiting_form waiting_form_of(struct composer *composer, const struct grid_waiting *waiting)
{
	struct text_style bold = waiting_style(composer, WEIGHT_BOLD);
	struct text_style small = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	double unit = composer_text_width(composer, waiting->unit, small);
	double amount = waiting->dose_text != NULL ? composer_text_width(composer, waiting->dose_text, bold)
	                                           : WAITING_LINE + (unit > 0 ? unit + 1.2 : 0);
	if (waiting->section >= 0)
		amount = fmax(amount,
		              composer_text_width(composer, composer_page_ref(composer, waiting->section), small));
	struct waiting_form form;
	form.amount = composer->right - GAP_3 - amount;
	form.boxes = form.amount - GAP_3 - 4 * WAITING_BOX_WIDTH - GAP_1;
	form.start = form.boxes - GAP_1 - composer_text_width(composer, waiting->start_word, small);
	form.text_width = form.start - GAP_2 - composer->left - WAITING_TEXT;
	return form;
}

static double waiting_text_height(struct composer *composer, const struct grid_waiting *waiting, double width)
{
	return composer_text_height(composer, waiting->heading, waiting_style(composer, WEIGHT_REGULAR), width) +
	       WAITING_BETWEEN +
	       composer_text_height(composer, waiting->text, waiting_style(composer, WEIGHT_REGULAR), width);
}

double waiting_height(struct composer *composer, const struct grid_waiting *waiting)
{
	struct waiting_form form = waiting_form_of(composer, waiting);
	return fmax(WAITING_LEAST, waiting_text_height(composer, waiting, form.text_width) + 2 * GAP_2) +
	       2 * WAITING_GAP;
}

/* Two boxes to write in, and under them what goes in. */
static void put_boxes(struct composer *composer, const char *caption, double x, double y)
{
	struct text_style style = composer_style(composer, TYPE_CAPTION, WEIGHT_REGULAR);
	begin_artifact(composer);
	for (int i = 0; i < 2; i++)
		put_write_in(composer,
		             (struct rect){x + i * WAITING_BOX_WIDTH, y, WAITING_BOX_WIDTH, WAITING_BOX_HEIGHT});
	end_group(composer);
	put_text(composer, caption, style, ALIGN_CENTER, x + WAITING_BOX_WIDTH, y + WAITING_BOX_HEIGHT + 1.1, 0,
	         COLOUR_INK);
}

static void put_waiting_amount(struct composer *composer, const struct grid_waiting *waiting, double x, double middle)
{
	struct text_style bold = waiting_style(composer, WEIGHT_BOLD);
	struct text_style small = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	double y = middle - text_cap_height(bold) / 2;
	if (waiting->section >= 0) {
		put_page_ref(composer, waiting->section, small, ALIGN_START, x, middle + 1.3);
		y = middle - 1.3 - text_cap_height(bold);
	}
	if (waiting->dose_text != NULL) {
		put_plain(composer, waiting->dose_text, bold, x, y, 0);
		return;
	}
	begin_artifact(composer);
	put_line(composer, x, x + WAITING_LINE, y + text_cap_height(bold), LINE_OUTLINE);
	end_group(composer);
	put_plain(composer, waiting->unit, small, x + WAITING_LINE + 1.2,
	          y + text_cap_height(bold) - text_cap_height(small), 0);
}

void waiting_put(struct composer *composer, const struct grid_waiting *waiting, double y)
{
	struct waiting_form form = waiting_form_of(composer, waiting);
	struct text_style style = waiting_style(composer, WEIGHT_REGULAR);
	struct text_style small = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	composer_note_part(composer, waiting->item);
	double top = y + WAITING_GAP;
	double height = waiting_height(composer, waiting) - 2 * WAITING_GAP;
	double middle = top + height / 2;
	double half = LINE_MAIN / 2;

	begin_artifact(composer);
	put_dashed_frame(composer,
	                 (struct rect){composer->left + half, top + half, LIVE_WIDTH - 2 * half, height - 2 * half},
	                 LINE_MAIN);
	put_picture(composer, PICTURE_PHONE, composer->left + 3.4, middle - 4, 8);
	end_group(composer);
	double text_y = middle - waiting_text_height(composer, waiting, form.text_width) / 2;
	struct rect heading = put_paragraph(composer, waiting->heading, style, composer->left + WAITING_TEXT, text_y,
	                                    form.text_width);
	put_paragraph(composer, waiting->text, style, composer->left + WAITING_TEXT,
	              heading.y + heading.height + WAITING_BETWEEN, form.text_width);
	begin_group(composer, ROLE_PARAGRAPH);
	double boxes_y = middle - (WAITING_BOX_HEIGHT + 3.2) / 2;
	put_plain(composer, waiting->start_word, small, form.start,
	          boxes_y + (WAITING_BOX_HEIGHT - text_cap_height(small)) / 2, 0);
	put_boxes(composer, waiting->day_word, form.boxes, boxes_y);
	put_boxes(composer, waiting->month_word, form.boxes + 2 * WAITING_BOX_WIDTH + GAP_1, boxes_y);
	put_waiting_amount(composer, waiting, form.amount, middle);
	end_group(composer);
}
