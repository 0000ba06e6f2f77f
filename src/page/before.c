/*
 * before.c - the last page: a card and a ruler to check the print, and the signs to know.
 */
#include "page/large_pages.h"
#include "page/sections.h"

#include <math.h>

#define CARD_WIDTH 85.60
#define CARD_HEIGHT 53.98
#define ADVICE_X 94.0
#define KIND_HEIGHT 31.0
#define KIND_GAP 5.0
#define SAMPLE_WIDTH 36.0
#define SIGNS_HEAD 7.0
#define SIGN_LEAST 11.4
#define SIGN_FRAME 10.4
#define SIGN_MORE 9.0 /* what a row may have of spare height */
#define SIGN_COLUMN 87.0
#define SIGN_TEXT_LEAST 26.0
#define SIGN_SIZE 12.0

static struct text_style bold(const struct composer *composer, enum type_role role)
{
	return composer_style(composer, role, WEIGHT_BOLD);
}

static struct text_style regular(const struct composer *composer, enum type_role role)
{
	return composer_style(composer, role, WEIGHT_REGULAR);
}

/* ---- is it true to size? ---- */

static void put_card(struct composer *composer, const struct before_sheet *sheet, double y)
{
	double middle = composer->left + CARD_WIDTH / 2;
	begin_figure(composer, sheet->card_alt);
	put_mark(composer, (struct placed_mark){.kind = MARK_CARD,
	                                        .area = {composer->left, y, CARD_WIDTH, CARD_HEIGHT},
	                                        .inside = true,
	                                        .card = {.at = {composer->left, y}}});
	struct rect text = put_text(composer, sheet->card_text, bold(composer, TYPE_SECTION), ALIGN_CENTER, middle,
	                            y + 17, 76, COLOUR_INK);
	put_text(composer, sheet->card_note, regular(composer, TYPE_BODY), ALIGN_CENTER, middle,
	         text.y + text.height + 4, 76, COLOUR_INK);
	put_text(composer, sheet->card_size, regular(composer, TYPE_REFERENCE), ALIGN_CENTER, middle, y + 46, 0,
	         COLOUR_INK);
	end_group(composer);
}

static void put_advice(struct composer *composer, const struct before_sheet *sheet, double y)
{
	const struct {
		enum pictogram picture;
		const char *text;
	} rows[] = {{PICTURE_CHECK, sheet->good}, {PICTURE_CROSS, sheet->bad}, {PICTURE_CROSS, sheet->still}};
	double x = composer->left + ADVICE_X;
	for (size_t i = 0; i < 3; i++) {
		double top = y + 2 + (double)i * 18.5;
		double width = composer->right - x - 9 - (i == 0 ? 13 : 0);
		put_picture(composer, rows[i].picture, x, top - 1.4, 6);
		put_paragraph(composer, rows[i].text, regular(composer, TYPE_BODY), x + 9, top, width);
	}
	put_tick(composer, (struct point){composer->right - 10.4, y}, 10.4);
}

static double put_ruler(struct composer *composer, const struct before_sheet *sheet, double y)
{
	static const int at[] = {0, 10, 20, 30, 40, 50};
	const struct text_block **numerals = arena_alloc(composer->arena, 6 * sizeof *numerals);
	for (size_t i = 0; i < 6; i++)
		numerals[i] = composer_set(composer, say_number(composer->speaker, rational_of(at[i], 1)),
		                           bold(composer, TYPE_CAPTION), 0);
	begin_figure(composer, sheet->ruler_text);
	put_mark(composer, (struct placed_mark){.kind = MARK_RULER,
	                                        .area = {composer->left, y, 51, 10.6},
	                                        .inside = true,
	                                        .ruler = {.at = {composer->left, y + 6.5}, .numerals = numerals}});
	end_group(composer);
	put_paragraph(composer, sheet->ruler_text, regular(composer, TYPE_BODY), composer->left + 58, y + 3, 120);
	return y + 11;
}

/* ---- kinds of number ---- */

static void put_sample(struct composer *composer, const struct number_kind *kind, double x, double y)
{
	struct text_style number = {.size = 20, .weight = kind->kind == NUMBER_TIME ? WEIGHT_REGULAR : WEIGHT_BOLD};
	if (kind->kind != NUMBER_LINE) {
		if (composer_text_width(composer, kind->sample, number) > SAMPLE_WIDTH)
			number = bold(composer, TYPE_LEAD);
		put_plain(composer, kind->sample, number, x, y + 3, SAMPLE_WIDTH);
		return;
	}
	if (kind->mark.number == NULL)
		return;
	struct rect tag = measure_tag(composer, kind->mark, 20);
	put_tag(composer, kind->mark, 20, (struct point){x + tag.width / 2, y + tag.height - 0.6});
}

#define KIND_TEXT 22.0 /* from the frame's top */
#define KIND_SIDES 5.4 /* what the frame's sides take from a text's width */

static void put_kind(struct composer *composer, const struct number_kind *kind, struct rect area)
{
	put_frame(composer, area, LINE_OUTLINE);
	put_heading(composer, ROLE_H3, kind->heading, bold(composer, TYPE_BODY), area.x + 3.4, area.y + 3.8, 0);
	put_sample(composer, kind, area.x + 3.4, area.y + 9);
	put_paragraph(composer, kind->text, regular(composer, TYPE_BODY), area.x + 3.4, area.y + KIND_TEXT,
	              area.width - KIND_SIDES);
}

/* All are as high as the longest text needs. */
static double kinds_height(struct composer *composer, const struct before_sheet *sheet, double width)
{
	double height = KIND_HEIGHT;
	for (size_t i = 0; i < sheet->n_kinds; i++)
		height = fmax(height, KIND_TEXT + GAP_2 +
		                              composer_text_height(composer, sheet->kinds[i].text,
		                                                   regular(composer, TYPE_BODY), width - KIND_SIDES));
	return height;
}

static double put_kinds(struct composer *composer, const struct before_sheet *sheet, double y)
{
	if (sheet->n_kinds == 0)
		return y;
	double n = (double)sheet->n_kinds;
	double width = (LIVE_WIDTH - (n - 1) * KIND_GAP) / n;
	double height = kinds_height(composer, sheet, width);
	put_heading(composer, ROLE_H2, sheet->kinds_heading, bold(composer, TYPE_SECTION), composer->left, y, 0);
	for (size_t i = 0; i < sheet->n_kinds; i++)
		put_kind(composer, &sheet->kinds[i],
		         (struct rect){composer->left + (double)i * (width + KIND_GAP), y + 8, width, height});
	return y + 8 + height;
}

/* ---- signs ---- */

#define SIDE_SIGN 9.0
#define SIDE_BETWEEN 2.0

/* Both sides, each with its word below: whoever looks for today's finds it here as the calendar has it. */
static void put_both_sides(struct composer *composer, const struct sign_line *sign, double x, double middle)
{
	struct text_style word = regular(composer, TYPE_REFERENCE);
	bool hip = sign->kind == SIGN_HIP;
	double height = hip ? SIDE_SIGN : SIDE_SIGN * 0.62;
	double y = middle - (height + GAP_1 + text_cap_height(word)) / 2;
	for (size_t i = 0; i < 2; i++) {
		struct rect area = {x + (double)i * (SIDE_SIGN + SIDE_BETWEEN), y, SIDE_SIGN, height};
		put_mark(composer,
		         (struct placed_mark){
				 .kind = MARK_SIDE,
				 .area = area,
				 .side = {{area.x, area.y}, SIDE_SIGN, i == 0 ? SIDE_LEFT : SIDE_RIGHT, hip}});
		if (composer_text_width(composer, sign->side_words[i], word) <= SIDE_SIGN + SIDE_BETWEEN - 0.4)
			put_text(composer, sign->side_words[i], word, ALIGN_CENTER, area.x + SIDE_SIGN / 2,
			         y + height + GAP_1, 0, COLOUR_INK);
	}
}

static void put_sign_picture(struct composer *composer, const struct sign_line *sign, double x, double middle)
{
	struct rect frame = {x, middle - SIGN_FRAME / 2, 19, SIGN_FRAME};
	switch (sign->kind) {
	case SIGN_WHITE_TAG:
	case SIGN_ALL:
	case SIGN_LINE:
	case SIGN_DIAL: {
		struct rect tag = measure_grid_tag(composer, sign->mark, SIGN_SIZE);
		put_grid_tag(composer, sign->mark, SIGN_SIZE, (struct point){x, middle - tag.height / 2});
		break;
	}
	case SIGN_SPLIT:
		put_frame(composer, frame, LINE_STRONG);
		put_dashed_rule(composer, (struct point){x + 1, middle}, (struct point){x + 18, middle}, LINE_OUTLINE);
		begin_inside(composer);
		put_picture(composer, PICTURE_LIQUID_VIAL, x + 6.5, middle - 3, 6);
		end_inside(composer);
		break;
	case SIGN_WAIT:
		put_dashed_frame(composer, frame, LINE_MAIN);
		put_picture(composer, PICTURE_PHONE, x + 6, middle - 3.5, 7);
		break;
	case SIGN_EXACT:
		put_box(composer, frame,
		        (struct box){.radius = 2, .line = LINE_ALARM, .stroke = COLOUR_RUST, .fill = COLOUR_NONE});
		put_clock(composer, (struct point){x + 9.5, middle}, 3.8, (struct clock_time){22, 30}, LINE_OUTLINE,
		          COLOUR_INK);
		break;
	case SIGN_NEW:
		put_frame(composer, frame, LINE_OUTLINE);
		put_mark(composer, (struct placed_mark){.kind = MARK_CORNER,
		                                        .area = {x, frame.y, 3.5, 3.5},
		                                        .inside = true,
		                                        .corner = {.at = {x, frame.y}, .leg = 3.5}});
		break;
	case SIGN_SIDE:
	case SIGN_HIP:
		put_both_sides(composer, sign, x, middle);
		break;
	case SIGN_PAST:
		put_picture(composer, PICTURE_CHECK, x + 5.5, middle - 4, 8);
		break;
	case SIGN_VISIT: /* in large print alone */
	case SIGN_BELL:
	case SIGN_RAIL:
		break;
	}
}

/* ---- small signs, in one line or more ---- */

#define SMALL_PICTURE 6.0
#define SMALL_WORD 1.6    /* picture to word */
#define SMALL_BETWEEN 8.0 /* word to the next picture */
#define SMALL_LINE 9.0

/* Without a place to put them, only their height. */
static double flow_small(struct composer *composer, const struct before_sheet *sheet, double y, bool put)
{
	struct text_style style = regular(composer, TYPE_BODY);
	double x = composer->left;
	double top = y;
	if (sheet->n_small == 0)
		return y;
	struct text_style head = bold(composer, TYPE_BODY);
	double dy = (SMALL_PICTURE - text_cap_height(style)) / 2;
	if (put)
		put_plain(composer, sheet->small_word, head, x, top + dy, 0);
	x += composer_text_width(composer, sheet->small_word, head) + SMALL_BETWEEN;
	for (size_t i = 0; i < sheet->n_small; i++) {
		double width = SMALL_PICTURE + SMALL_WORD + composer_text_width(composer, sheet->small[i].word, style);
		if (x + width > composer->right) {
			x = composer->left;
			top += SMALL_LINE;
		}
		if (put) {
			begin_artifact(composer);
			put_picture(composer, sheet->small[i].sign, x, top, SMALL_PICTURE);
			end_group(composer);
			put_plain(composer, sheet->small[i].word, style, x + SMALL_PICTURE + SMALL_WORD, top + dy, 0);
		}
		x += width + SMALL_BETWEEN;
	}
	return top + SMALL_PICTURE;
}

static double small_height(struct composer *composer, const struct before_sheet *sheet)
{
	return sheet->n_small == 0 ? 0 : flow_small(composer, sheet, 0, false) + GAP_3;
}

/* ---- all signs, in two columns ---- */

/* The texts of one page stand in line, clear of the widest sign. */
static double sign_text_x(struct composer *composer, const struct before_sheet *sheet)
{
	double x = SIGN_TEXT_LEAST;
	for (size_t i = 0; i < sheet->n_signs; i++)
		if (sheet->signs[i].mark.number != NULL)
			x = fmax(x, measure_grid_tag(composer, sheet->signs[i].mark, SIGN_SIZE).width + 5);
	return x;
}

/* The signs stand in two columns, the first one read to its end. */
static size_t sign_rows(const struct before_sheet *sheet)
{
	return (sheet->n_signs + 1) / 2;
}

/* A row is as high as the longer of its two texts. */
static double sign_row_height(struct composer *composer, const struct before_sheet *sheet, size_t row)
{
	double width = SIGN_COLUMN - sign_text_x(composer, sheet);
	double height = SIGN_LEAST;
	for (size_t i = row; i < sheet->n_signs; i += sign_rows(sheet))
		height = fmax(height, GAP_3 + composer_text_height(composer, sheet->signs[i].text,
		                                                   regular(composer, TYPE_BODY), width));
	return height;
}

static double signs_height(struct composer *composer, const struct before_sheet *sheet)
{
	double height = SIGNS_HEAD + small_height(composer, sheet);
	for (size_t i = 0; i < sign_rows(sheet); i++)
		height += sign_row_height(composer, sheet, i);
	return height;
}

static void put_sign(struct composer *composer, const struct before_sheet *sheet, size_t i, struct rect area)
{
	struct text_style text = regular(composer, TYPE_BODY);
	double text_x = sign_text_x(composer, sheet);
	double words = composer_text_height(composer, sheet->signs[i].text, text, area.width - text_x);
	put_sign_picture(composer, &sheet->signs[i], area.x + 1, area.y + area.height / 2);
	put_paragraph(composer, sheet->signs[i].text, text, area.x + text_x, area.y + (area.height - words) / 2,
	              area.width - text_x);
}

static void put_signs(struct composer *composer, const struct before_sheet *sheet, double y, double bottom)
{
	size_t rows = sign_rows(sheet);
	if (rows == 0 && sheet->n_small == 0)
		return;
	double spare = fmax(0, bottom - y - signs_height(composer, sheet));
	double more = rows == 0 ? 0 : fmin(SIGN_MORE, spare / (double)rows);
	put_heading(composer, ROLE_H2, sheet->signs_heading, bold(composer, TYPE_SECTION), composer->left, y, 0);
	y += SIGNS_HEAD;
	for (size_t column = 0; column < 2; column++) {
		double x = composer->left + (column == 0 ? 0 : LIVE_WIDTH - SIGN_COLUMN);
		double top = y;
		for (size_t row = 0; row < rows && column * rows + row < sheet->n_signs; row++) {
			double height = sign_row_height(composer, sheet, row) + more;
			put_line(composer, x, x + SIGN_COLUMN, top, row == 0 ? LINE_MAIN : LINE_FINE);
			put_sign(composer, sheet, column * rows + row, (struct rect){x, top, SIGN_COLUMN, height});
			top += height;
		}
	}
	if (sheet->n_small == 0)
		return;
	for (size_t row = 0; row < rows; row++)
		y += sign_row_height(composer, sheet, row) + more;
	put_line(composer, composer->left, composer->right, y, LINE_FINE);
	flow_small(composer, sheet, y + GAP_3, true);
}

/* ---- the clinic's own words at the foot: whom to call in an emergency, and what comes first ---- */

#define EMERGENCY_PAD 3.6
#define EMERGENCY_PICTURE 11.0
#define EMERGENCY_MOST 19.0 /* lower, and its letters are larger */

static double emergency_width(void)
{
	return LIVE_WIDTH - 3 * EMERGENCY_PAD - EMERGENCY_PICTURE;
}

/* Whoever needs these words reads them from across the table; many words are smaller, and never small. */
static struct text_style emergency_style(struct composer *composer, const char *words)
{
	static const enum type_role roles[] = {TYPE_TITLE, TYPE_DAY, TYPE_SECTION};
	size_t i = 0;
	struct text_style style = bold(composer, roles[0]);
	while (i + 1 < sizeof roles / sizeof *roles &&
	       composer_text_height(composer, words, style, emergency_width()) > EMERGENCY_MOST)
		style = bold(composer, roles[++i]);
	return style;
}

static double emergency_height(struct composer *composer, const struct before_sheet *sheet)
{
	if (sheet->emergency == NULL)
		return 0;
	struct text_style style = emergency_style(composer, sheet->emergency);
	return 2 * EMERGENCY_PAD +
	       fmax(EMERGENCY_PICTURE, composer_text_height(composer, sheet->emergency, style, emergency_width()));
}

static void put_emergency(struct composer *composer, const struct before_sheet *sheet, double y)
{
	struct text_style style = emergency_style(composer, sheet->emergency);
	double height = emergency_height(composer, sheet);
	double words = composer_text_height(composer, sheet->emergency, style, emergency_width());
	double half = LINE_STRONG / 2;
	begin_artifact(composer);
	put_frame(composer, (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half},
	          LINE_STRONG);
	put_picture(composer, PICTURE_PHONE, composer->left + EMERGENCY_PAD, y + (height - EMERGENCY_PICTURE) / 2,
	            EMERGENCY_PICTURE);
	end_group(composer);
	put_paragraph(composer, sheet->emergency, style, composer->left + 2 * EMERGENCY_PAD + EMERGENCY_PICTURE,
	              y + (height - words) / 2, emergency_width());
}

static double last_words_height(struct composer *composer, const struct before_sheet *sheet)
{
	double height = emergency_height(composer, sheet);
	if (height > 0)
		height += GAP_2;
	if (sheet->disclaimer != NULL)
		height += composer_text_height(composer, sheet->disclaimer, regular(composer, TYPE_REFERENCE),
		                               LIVE_WIDTH);
	return height;
}

static void put_last_words(struct composer *composer, const struct before_sheet *sheet, double height)
{
	double y = composer->bottom - height;
	if (sheet->emergency != NULL) {
		put_emergency(composer, sheet, y);
		y += emergency_height(composer, sheet) + GAP_2;
	}
	if (sheet->disclaimer != NULL)
		put_paragraph(composer, sheet->disclaimer, regular(composer, TYPE_REFERENCE), composer->left, y,
		              LIVE_WIDTH);
}

void before_place(struct composer *composer, const struct before_sheet *sheet)
{
	if (composer->large_print) {
		large_before(composer, sheet);
		return;
	}
	composer_new_page(composer, sheet->title, sheet->lead);
	double words = last_words_height(composer, sheet);
	double y = composer->top;
	put_heading(composer, ROLE_H2, sheet->true_heading, bold(composer, TYPE_SECTION), composer->left, y, 0);
	y += 8;
	put_card(composer, sheet, y);
	put_advice(composer, sheet, y);
	y = put_ruler(composer, sheet, y + CARD_HEIGHT + GAP_3);
	y = put_kinds(composer, sheet, y + GAP_3) + GAP_3;
	if (y + signs_height(composer, sheet) > composer->bottom - words - GAP_3) {
		composer_new_page(composer, sheet->title, sheet->lead);
		y = composer->top;
	}
	put_signs(composer, sheet, y, composer->bottom - words - GAP_3);
	put_last_words(composer, sheet, words);
}
