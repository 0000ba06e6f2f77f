/*
 * before.c - the last page: a card and a ruler to check the print, and the signs to know.
 */
#include "page/large_pages.h"
#include "page/sections.h"

#include <math.h>

#define CARD_WIDTH 85.60
#define CARD_HEIGHT 53.98
#define ADVICE_X 94.0
#define KIND_HEIGHT 37.0
#define KIND_GAP 5.0
#define SAMPLE_WIDTH 36.0
#define SIGN_LEAST 19.0
#define SIGN_MOST 23.0
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
	begin_figure(composer, sheet->card_text);
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

/* ---- four kinds of number ---- */

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
	put_tag(composer, kind->mark, 20, (struct point){x + tag.width / 2, y + tag.height - 1});
}

#define KIND_TEXT 25.5 /* from the frame's top */
#define KIND_SIDES 5.4 /* what the frame's sides take from a text's width */

static void put_kind(struct composer *composer, const struct number_kind *kind, struct rect area)
{
	put_frame(composer, area, LINE_OUTLINE);
	put_heading(composer, ROLE_H3, kind->heading, bold(composer, TYPE_BODY), area.x + 3.4, area.y + 3.8, 0);
	put_sample(composer, kind, area.x + 3.4, area.y + 9);
	put_paragraph(composer, kind->text, regular(composer, TYPE_BODY), area.x + 3.4, area.y + KIND_TEXT,
	              area.width - KIND_SIDES);
}

/* All four are as high as the longest text needs. */
static double kinds_height(struct composer *composer, const struct before_sheet *sheet, double width)
{
	double height = KIND_HEIGHT;
	for (size_t i = 0; i < 4; i++)
		height = fmax(height, KIND_TEXT + GAP_2 +
		                              composer_text_height(composer, sheet->kinds[i].text,
		                                                   regular(composer, TYPE_BODY), width - KIND_SIDES));
	return height;
}

static double put_kinds(struct composer *composer, const struct before_sheet *sheet, double y)
{
	double width = (LIVE_WIDTH - 3 * KIND_GAP) / 4;
	double height = kinds_height(composer, sheet, width);
	if (sheet->kinds_heading == NULL)
		return y;
	put_heading(composer, ROLE_H2, sheet->kinds_heading, bold(composer, TYPE_SECTION), composer->left, y, 0);
	for (size_t i = 0; i < 4; i++)
		put_kind(composer, &sheet->kinds[i],
		         (struct rect){composer->left + (double)i * (width + KIND_GAP), y + 8, width, height});
	return y + 8 + height;
}

/* ---- signs ---- */

static void put_sign_picture(struct composer *composer, const struct sign_line *sign, double x, double middle)
{
	struct rect frame = {x, middle - 6, 19, 12};
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
		                                        .area = {x, middle - 6, 3.5, 3.5},
		                                        .inside = true,
		                                        .corner = {.at = {x, middle - 6}, .leg = 3.5}});
		break;
	}
}

/* The texts of one page stand in line, clear of the widest sign. */
static double sign_text_x(struct composer *composer, const struct before_sheet *sheet)
{
	double x = SIGN_TEXT_LEAST;
	for (size_t i = 0; i < sheet->n_signs; i++)
		if (sheet->signs[i].mark.number != NULL)
			x = fmax(x, measure_grid_tag(composer, sheet->signs[i].mark, SIGN_SIZE).width + 5);
	return x;
}

/* A row of signs is at least as high as the longest text. */
static double sign_least(struct composer *composer, const struct before_sheet *sheet)
{
	double width = SIGN_COLUMN - sign_text_x(composer, sheet);
	double height = SIGN_LEAST;
	for (size_t i = 0; i < sheet->n_signs; i++)
		height = fmax(height, GAP_3 + composer_text_height(composer, sheet->signs[i].text,
		                                                   regular(composer, TYPE_BODY), width));
	return height;
}

static double put_signs(struct composer *composer, const struct before_sheet *sheet, double y, double bottom)
{
	size_t rows = (sheet->n_signs + 1) / 2;
	double share = fmin(SIGN_MOST, (bottom - y - 9) / fmax((double)rows, 1));
	double height = rows == 0 ? 0 : fmax(sign_least(composer, sheet), share);
	struct text_style text = regular(composer, TYPE_BODY);
	double text_x = sign_text_x(composer, sheet);
	if (sheet->n_signs == 0)
		return y;
	put_heading(composer, ROLE_H2, sheet->signs_heading, bold(composer, TYPE_SECTION), composer->left, y, 0);
	y += 7;
	for (size_t i = 0; i < sheet->n_signs; i++) {
		double x = composer->left + (i < rows ? 0 : LIVE_WIDTH - SIGN_COLUMN);
		double top = y + (double)(i % rows) * height;
		double width = SIGN_COLUMN - text_x;
		double text_height = composer_text_height(composer, sheet->signs[i].text, text, width);
		put_line(composer, x, x + SIGN_COLUMN, top, i % rows == 0 ? LINE_MAIN : LINE_FINE);
		put_sign_picture(composer, &sheet->signs[i], x + 1, top + height / 2);
		put_paragraph(composer, sheet->signs[i].text, text, x + text_x, top + (height - text_height) / 2,
		              width);
	}
	return y + (double)rows * height;
}

/* The clinic's own words at the foot: what comes first, and whom to call in an emergency. */
static double last_words_height(struct composer *composer, const struct before_sheet *sheet)
{
	struct text_style style = regular(composer, TYPE_REFERENCE);
	double height = 0;
	if (sheet->emergency != NULL)
		height += composer_text_height(composer, sheet->emergency, bold(composer, TYPE_REFERENCE), LIVE_WIDTH) +
		          GAP_2;
	if (sheet->disclaimer != NULL)
		height += composer_text_height(composer, sheet->disclaimer, style, LIVE_WIDTH);
	return height;
}

static void put_last_words(struct composer *composer, const struct before_sheet *sheet, double height)
{
	double y = composer->bottom - height;
	if (sheet->emergency != NULL)
		y += put_paragraph(composer, sheet->emergency, bold(composer, TYPE_REFERENCE), composer->left, y,
		                   LIVE_WIDTH)
		             .height +
		     GAP_2;
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
	y = put_kinds(composer, sheet, y + GAP_4);
	double needed = 9 + (double)((sheet->n_signs + 1) / 2) * sign_least(composer, sheet);
	if (y + GAP_4 + needed > composer->bottom - words - GAP_3) {
		composer_new_page(composer, sheet->title, sheet->lead);
		y = composer->top - GAP_4;
	}
	put_signs(composer, sheet, y + GAP_4, composer->bottom - words - GAP_3);
	put_last_words(composer, sheet, words);
}
