/*
 * before.c - the last page: a card and a ruler to check the print, and the signs to know.
 */
#include "page/caution.h"
#include "page/large_pages.h"
#include "page/sections.h"
#include "page/styles.h"

#include <math.h>

#define CARD_WIDTH 85.60
#define CARD_HEIGHT 53.98
#define ADVICE_X 94.0
#define KIND_GAP 5.0
#define SAMPLE_WIDTH 36.0
#define ACCENT_SLACK 0.4
#define SIGN_MORE 9.0 /* what a row may have of spare height */
#define SIGN_COLUMN 87.0
#define SIGN_TEXT_LEAST 26.0
#define SIGN_SIZE 12.0
#define HEADING_HEIGHT 8.0

/*
 * At full size, and set closer and closer for what would take a second page:
 * first the ruler stands beside the card, then the kinds of number among the
 * signs, last the warning is smaller.
 */
struct before_form {
	bool ruler_below;
	bool kinds_framed;
	double advice_gap;
	double sign_least; /* a row's height */
	double sign_frame;
	double sign_pad; /* above and below two lines of words */
	double gap;
	enum type_role warning; /* whoever needs it reads it from across the table */
	bool number;            /* a line for one that the clinic does not give: it stands on the first page, too */
};

static const struct before_form roomy = {true, true, 6.0, 11.4, 10.4, GAP_3, GAP_3, TYPE_SECTION, true};
static const struct before_form closer = {false, true, 3.6, 10.2, 9.2, 4.2, GAP_2, TYPE_SECTION, true};
static const struct before_form close = {false, false, 3.6, 9.6, 8.4, 3.2, GAP_2, TYPE_SECTION, true};
static const struct before_form tight = {false, false, 3.6, 9.6, 8.4, 3.0, GAP_2, TYPE_LEAD, true};
static const struct before_form tightest = {false, false, 3.6, 9.6, 8.4, 3.0, GAP_2, TYPE_LEAD, false};

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

static double advice_x(const struct composer *composer)
{
	return composer->left + ADVICE_X;
}

/* The first piece of advice has a box to tick at its end. */
static double advice_width(const struct composer *composer, size_t i)
{
	return composer->right - advice_x(composer) - 9 - (i == 0 ? 13 : 0);
}

#define ADVICE_TOP 2.0
#define RULER_WIDTH 51.0
#define RULER_HEIGHT 10.6
#define RULER_BESIDE 54.0 /* to its words */

static double ruler_words_width(const struct composer *composer, const struct before_form *form)
{
	return form->ruler_below ? 120 : composer->right - advice_x(composer) - RULER_BESIDE;
}

/* From the card's top to the foot of what stands beside it. */
static double advice_height(struct composer *composer, const struct before_form *form, const struct before_sheet *sheet)
{
	const char *texts[] = {sheet->good, sheet->bad, sheet->still};
	double height = ADVICE_TOP;
	for (size_t i = 0; i < 3; i++)
		height += composer_text_height(composer, texts[i], regular(composer, TYPE_BODY),
		                               advice_width(composer, i)) +
		          (i < 2 || !form->ruler_below ? form->advice_gap : 0);
	if (form->ruler_below)
		return height;
	return height +
	       fmax(RULER_HEIGHT, composer_text_height(composer, sheet->ruler_text, regular(composer, TYPE_BODY),
	                                               ruler_words_width(composer, form)));
}

static void put_ruler(struct composer *composer, const struct before_form *form, const struct before_sheet *sheet,
                      double x, double y)
{
	static const int at[] = {0, 10, 20, 30, 40, 50};
	struct text_style words = regular(composer, TYPE_BODY);
	const struct text_block **numerals = arena_alloc(composer->arena, 6 * sizeof *numerals);
	for (size_t i = 0; i < 6; i++)
		numerals[i] = composer_set(composer, say_number(composer->speaker, rational_of(at[i], 1)),
		                           bold(composer, TYPE_CAPTION), 0);
	begin_figure(composer, sheet->ruler_text);
	put_mark(composer, (struct placed_mark){.kind = MARK_RULER,
	                                        .area = {x, y, RULER_WIDTH, RULER_HEIGHT},
	                                        .inside = true,
	                                        .ruler = {.at = {x, y + 6.5}, .numerals = numerals}});
	end_group(composer);
	put_paragraph(composer, sheet->ruler_text, words, x + (form->ruler_below ? 58 : RULER_BESIDE),
	              form->ruler_below ? y + 3 : y, ruler_words_width(composer, form));
}

static void put_advice(struct composer *composer, const struct before_form *form, const struct before_sheet *sheet,
                       double y)
{
	const struct {
		enum pictogram picture;
		const char *text;
	} rows[] = {{PICTURE_CHECK, sheet->good}, {PICTURE_CROSS, sheet->bad}, {PICTURE_CROSS, sheet->still}};
	double x = advice_x(composer);
	double top = y + ADVICE_TOP;
	double spare = fmax(0, CARD_HEIGHT - advice_height(composer, form, sheet)) / 3;
	put_tick(composer, (struct point){composer->right - 10.4 - LINE_MAIN / 2, y}, 10.4);
	for (size_t i = 0; i < 3; i++) {
		put_picture(composer, rows[i].picture, x, top - 1.4, 6);
		struct rect line = put_paragraph(composer, rows[i].text, regular(composer, TYPE_BODY), x + 9, top,
		                                 advice_width(composer, i));
		top = line.y + line.height + form->advice_gap + spare;
	}
	if (!form->ruler_below)
		put_ruler(composer, form, sheet, x, top);
}

static double print_height(struct composer *composer, const struct before_form *form, const struct before_sheet *sheet)
{
	if (sheet->true_heading == NULL)
		return 0;
	double height = HEADING_HEIGHT + fmax(CARD_HEIGHT, advice_height(composer, form, sheet));
	return form->ruler_below ? height + GAP_3 + RULER_HEIGHT : height;
}

static void put_print(struct composer *composer, const struct before_form *form, const struct before_sheet *sheet,
                      double y)
{
	if (sheet->true_heading == NULL)
		return;
	put_heading(composer, ROLE_H2, sheet->true_heading, bold(composer, TYPE_SECTION), composer->left, y, 0);
	put_card(composer, sheet, y + HEADING_HEIGHT);
	put_advice(composer, form, sheet, y + HEADING_HEIGHT);
	if (form->ruler_below)
		put_ruler(composer, form, sheet, composer->left,
		          y + print_height(composer, form, sheet) - RULER_HEIGHT);
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

#define KIND_TEXT 21.0 /* from the frame's top */
#define KIND_SIDES 5.4 /* what the frame's sides take from a text's width */

static void put_kind(struct composer *composer, const struct number_kind *kind, struct rect area)
{
	put_frame(composer, area, LINE_OUTLINE);
	put_heading(composer, ROLE_H3, kind->heading, bold(composer, TYPE_BODY), area.x + 3.4, area.y + 3.8, 0);
	put_sample(composer, kind, area.x + 3.4, area.y + 9);
	put_paragraph(composer, kind->text, regular(composer, TYPE_BODY), area.x + 3.4, area.y + KIND_TEXT,
	              area.width - KIND_SIDES);
}

static double kind_width(const struct before_sheet *sheet)
{
	double n = (double)sheet->n_kinds;
	return (LIVE_WIDTH - (n - 1) * KIND_GAP) / n;
}

/* All are as high as the longest text needs; 0 where they stand among the signs. */
static double kinds_height(struct composer *composer, const struct before_form *form, const struct before_sheet *sheet)
{
	double height = 0;
	if (!form->kinds_framed)
		return 0;
	for (size_t i = 0; i < sheet->n_kinds; i++)
		height = fmax(height, composer_text_height(composer, sheet->kinds[i].text, regular(composer, TYPE_BODY),
		                                           kind_width(sheet) - KIND_SIDES));
	return sheet->n_kinds == 0 ? 0 : HEADING_HEIGHT + KIND_TEXT + height + GAP_2;
}

static void put_kinds(struct composer *composer, const struct before_form *form, const struct before_sheet *sheet,
                      double y)
{
	double height = kinds_height(composer, form, sheet) - HEADING_HEIGHT;
	double width = kind_width(sheet);
	if (height <= 0)
		return;
	put_heading(composer, ROLE_H2, sheet->kinds_heading, bold(composer, TYPE_SECTION), composer->left, y, 0);
	for (size_t i = 0; i < sheet->n_kinds; i++)
		put_kind(composer, &sheet->kinds[i],
		         (struct rect){composer->left + (double)i * (width + KIND_GAP), y + HEADING_HEIGHT, width,
		                       height});
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

static void put_sign_picture(struct composer *composer, const struct before_form *form, const struct sign_line *sign,
                             double x, double middle)
{
	struct rect frame = {x, middle - form->sign_frame / 2, 19, form->sign_frame};
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
		put_clock(composer, (struct point){x + 9.5, middle}, form->sign_frame / 2 - 1.4,
		          (struct clock_time){22, 30}, LINE_OUTLINE, COLOUR_INK);
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

/* ---- small signs and short words: each after the other, in as many lines as they need ---- */

#define SMALL_PICTURE 6.0
#define SMALL_WORD 1.6    /* picture to word */
#define SMALL_BETWEEN 7.0 /* word to the next picture */
#define SMALL_LINE 8.0
#define TERM_LINE 6.4

struct flowing {
	const char *head;
	const struct small_sign *signs; /* or */
	const char *const *words;
	size_t n;
	double line; /* from one to the next */
	double high; /* the last one */
};

static struct flowing small_signs(const struct before_sheet *sheet)
{
	return (struct flowing){.head = sheet->small_word,
	                        .signs = sheet->small,
	                        .n = sheet->n_small,
	                        .line = SMALL_LINE,
	                        .high = SMALL_PICTURE};
}

static struct flowing short_words(struct composer *composer, const struct before_sheet *sheet)
{
	return (struct flowing){.head = sheet->terms_word,
	                        .words = sheet->terms,
	                        .n = sheet->n_terms,
	                        .line = TERM_LINE,
	                        .high = text_cap_height(regular(composer, TYPE_BODY))};
}

/* Returns where the last line ends; `put` false: nothing is put. */
static double flow(struct composer *composer, const struct flowing *flowing, double y, bool put)
{
	struct text_style style = regular(composer, TYPE_BODY);
	struct text_style head = bold(composer, TYPE_BODY);
	double picture = flowing->signs == NULL ? 0 : SMALL_PICTURE + SMALL_WORD;
	double dy = (flowing->high - text_cap_height(style)) / 2;
	double x = composer->left + composer_text_width(composer, flowing->head, head) + SMALL_BETWEEN;
	double top = y;
	if (put)
		put_plain(composer, flowing->head, head, composer->left, top + dy, 0);
	for (size_t i = 0; i < flowing->n; i++) {
		const char *words = flowing->signs == NULL ? flowing->words[i] : flowing->signs[i].word;
		double width = picture + composer_text_width(composer, words, style);
		if (x + width > composer->right) {
			x = composer->left;
			top += flowing->line;
		}
		if (put && flowing->signs != NULL) {
			begin_artifact(composer);
			put_picture(composer, flowing->signs[i].sign, x, top, SMALL_PICTURE);
			end_group(composer);
		}
		if (put)
			put_plain(composer, words, style, x + picture, top + dy, 0);
		x += width + SMALL_BETWEEN;
	}
	return top + flowing->high;
}

static double flowing_height(struct composer *composer, const struct flowing *flowing)
{
	return flowing->n == 0 ? 0 : flow(composer, flowing, 0, false) + 2 * GAP_2;
}

/* Under a rule. Returns where the next may begin. */
static double put_flowing(struct composer *composer, const struct flowing *flowing, double y)
{
	if (flowing->n == 0)
		return y;
	put_line(composer, composer->left, composer->right, y, LINE_FINE);
	return flow(composer, flowing, y + GAP_2, true) + GAP_2;
}

/* ---- all signs, in two columns ---- */

/* A kind of number stands among the signs where it has no frame: its sample, then what it is. */
struct sign_row {
	const struct number_kind *kind; /* or */
	const struct sign_line *sign;
	const char *text;
};

struct sign_rows {
	struct sign_row *list;
	size_t n;
};

static struct sign_rows rows_of(struct composer *composer, const struct before_form *form,
                                const struct before_sheet *sheet)
{
	size_t kinds = form->kinds_framed ? 0 : sheet->n_kinds;
	struct sign_rows rows = {.list = arena_alloc(composer->arena, (kinds + sheet->n_signs) * sizeof *rows.list)};
	for (size_t i = 0; i < kinds; i++)
		rows.list[rows.n++] = (struct sign_row){
			&sheet->kinds[i], NULL,
			arena_printf(composer->arena, "%s: %s", sheet->kinds[i].heading, sheet->kinds[i].text)};
	for (size_t i = 0; i < sheet->n_signs; i++)
		rows.list[rows.n++] = (struct sign_row){NULL, &sheet->signs[i], sheet->signs[i].text};
	return rows;
}

static struct mark_words mark_of_row(const struct sign_row *row)
{
	return row->kind != NULL ? row->kind->mark : row->sign->mark;
}

/* A number among the signs is as bold as on the pages, and no larger than the signs. */
static struct text_style sample_style(struct composer *composer, const struct number_kind *kind)
{
	return composer_style(composer, TYPE_LEAD, kind->kind == NUMBER_TIME ? WEIGHT_REGULAR : WEIGHT_BOLD);
}

static double picture_width(struct composer *composer, const struct sign_row *row)
{
	struct mark_words mark = mark_of_row(row);
	if (mark.number != NULL)
		return measure_grid_tag(composer, mark, SIGN_SIZE).width;
	return row->kind == NULL ? 0
	                         : composer_text_width(composer, row->kind->sample, sample_style(composer, row->kind));
}

/* The texts of one page stand in line, clear of the widest sign. */
static double sign_text_x(struct composer *composer, const struct sign_rows *rows)
{
	double x = SIGN_TEXT_LEAST;
	for (size_t i = 0; i < rows->n; i++)
		x = fmax(x, picture_width(composer, &rows->list[i]) + 5);
	return x;
}

/* The signs stand in two columns, the first one read to its end. */
static size_t sign_lines(const struct sign_rows *rows)
{
	return (rows->n + 1) / 2;
}

#define PICTURE_PAD 1.6

/* Both sides of a wearer, with their words. */
static double sides_height(struct composer *composer, const struct sign_row *row)
{
	if (row->sign == NULL || (row->sign->kind != SIGN_SIDE && row->sign->kind != SIGN_HIP))
		return 0;
	double height = row->sign->kind == SIGN_HIP ? SIDE_SIGN : SIDE_SIGN * 0.62;
	return height + GAP_1 + text_cap_height(regular(composer, TYPE_REFERENCE)) + PICTURE_PAD;
}

/* A line is as high as the higher of its two signs or texts. */
static double sign_height(struct composer *composer, const struct before_form *form, const struct sign_rows *rows,
                          size_t line)
{
	double width = SIGN_COLUMN - sign_text_x(composer, rows);
	double height = form->sign_least;
	for (size_t i = line; i < rows->n; i += sign_lines(rows)) {
		const struct sign_row *row = &rows->list[i];
		const struct text_block *words = composer_set(composer, row->text, regular(composer, TYPE_BODY), width);
		/* An accent on a capital must not reach the rule above; the words are centred. */
		double rise = fmax(0, -text_ink(words).y - ACCENT_SLACK);
		height =
			fmax(height, fmax(sides_height(composer, row), form->sign_pad + text_height(words) + 2 * rise));
	}
	return height;
}

static double signs_height(struct composer *composer, const struct before_form *form, const struct before_sheet *sheet)
{
	struct sign_rows rows = rows_of(composer, form, sheet);
	struct flowing small = small_signs(sheet);
	struct flowing words = short_words(composer, sheet);
	double height = HEADING_HEIGHT - 1 + flowing_height(composer, &small) + flowing_height(composer, &words);
	for (size_t i = 0; i < sign_lines(&rows); i++)
		height += sign_height(composer, form, &rows, i);
	return height;
}

static void put_row_picture(struct composer *composer, const struct before_form *form, const struct sign_row *row,
                            double x, double middle)
{
	if (row->kind == NULL) {
		put_sign_picture(composer, form, row->sign, x, middle);
	} else if (row->kind->mark.number != NULL) {
		struct rect tag = measure_grid_tag(composer, row->kind->mark, SIGN_SIZE);
		put_grid_tag(composer, row->kind->mark, SIGN_SIZE, (struct point){x, middle - tag.height / 2});
	} else {
		struct text_style style = sample_style(composer, row->kind);
		put_plain(composer, row->kind->sample, style, x, middle - text_cap_height(style) / 2, 0);
	}
}

static void put_sign(struct composer *composer, const struct before_form *form, const struct sign_rows *rows, size_t i,
                     struct rect area)
{
	struct text_style text = regular(composer, TYPE_BODY);
	double text_x = sign_text_x(composer, rows);
	double words = composer_text_height(composer, rows->list[i].text, text, area.width - text_x);
	put_row_picture(composer, form, &rows->list[i], area.x + 1, area.y + area.height / 2);
	put_paragraph(composer, rows->list[i].text, text, area.x + text_x, area.y + (area.height - words) / 2,
	              area.width - text_x);
}

static void put_signs(struct composer *composer, const struct before_form *form, const struct before_sheet *sheet,
                      double y, double bottom)
{
	struct sign_rows rows = rows_of(composer, form, sheet);
	struct flowing small = small_signs(sheet);
	struct flowing words = short_words(composer, sheet);
	size_t lines = sign_lines(&rows);
	double spare = fmax(0, bottom - y - signs_height(composer, form, sheet));
	double more = lines == 0 ? 0 : fmin(SIGN_MORE, spare / (double)lines);
	put_heading(composer, ROLE_H2, sheet->signs_heading, bold(composer, TYPE_SECTION), composer->left, y, 0);
	y += HEADING_HEIGHT - 1;
	for (size_t column = 0; column < 2; column++) {
		double x = composer->left + (column == 0 ? 0 : LIVE_WIDTH - SIGN_COLUMN);
		double top = y;
		for (size_t line = 0; line < lines && column * lines + line < rows.n; line++) {
			double height = sign_height(composer, form, &rows, line) + more;
			put_line(composer, x, x + SIGN_COLUMN, top, line == 0 ? LINE_MAIN : LINE_FINE);
			put_sign(composer, form, &rows, column * lines + line,
			         (struct rect){x, top, SIGN_COLUMN, height});
			top += height;
		}
	}
	for (size_t line = 0; line < lines; line++)
		y += sign_height(composer, form, &rows, line) + more;
	y = put_flowing(composer, &small, y);
	put_flowing(composer, &words, y);
}

/* ---- the clinic's own words at the foot: whom to call in an emergency, and what comes first ---- */

static struct emergency emergency_in(const struct before_form *form, const struct before_sheet *sheet)
{
	struct emergency emergency = sheet->emergency;
	if (!form->number)
		emergency.number = NULL;
	return emergency;
}

static double last_words_height(struct composer *composer, const struct before_form *form,
                                const struct before_sheet *sheet)
{
	double height = warning_height(composer, sheet->warning_word, emergency_in(form, sheet), form->warning);
	double words = composer_text_height(composer, sheet->disclaimer, regular(composer, TYPE_BODY), LIVE_WIDTH);
	return height + (height > 0 && words > 0 ? GAP_2 + 1 : 0) + words;
}

static void put_last_words(struct composer *composer, const struct before_form *form, const struct before_sheet *sheet)
{
	double words = composer_text_height(composer, sheet->disclaimer, regular(composer, TYPE_BODY), LIVE_WIDTH);
	put_warning(composer, sheet->warning_word, emergency_in(form, sheet), form->warning,
	            composer->bottom - last_words_height(composer, form, sheet));
	put_paragraph(composer, sheet->disclaimer, regular(composer, TYPE_BODY), composer->left,
	              composer->bottom - words, LIVE_WIDTH);
}

/* ---- the page ---- */

#define GAP_MORE 3.0 /* what a gap may have of spare height; the rest is the signs' */

static double before_height(struct composer *composer, const struct before_form *form, const struct before_sheet *sheet)
{
	double kinds = kinds_height(composer, form, sheet);
	double print = print_height(composer, form, sheet);
	return print + (print > 0 ? form->gap : 0) + kinds + (kinds > 0 ? form->gap : 0) +
	       signs_height(composer, form, sheet) + form->gap + last_words_height(composer, form, sheet);
}

static const struct before_form *form_for(struct composer *composer, const struct before_sheet *sheet)
{
	static const struct before_form *const forms[] = {&roomy, &closer, &close, &tight, &tightest};
	double room = composer->bottom - composer->top;
	for (size_t i = 0; i < sizeof forms / sizeof *forms; i++)
		if (before_height(composer, forms[i], sheet) <= room)
			return forms[i];
	return &close; /* on two pages */
}

void before_place(struct composer *composer, const struct before_sheet *sheet)
{
	if (composer->large_print) {
		large_before(composer, sheet);
		return;
	}
	composer_new_page(composer, sheet->title, sheet->lead);
	const struct before_form *form = form_for(composer, sheet);
	double spare = composer->bottom - composer->top - before_height(composer, form, sheet);
	double gap = form->gap + fmax(0, fmin(GAP_MORE, spare / 3));
	double bottom = composer->bottom - last_words_height(composer, form, sheet) - gap;
	double kinds = kinds_height(composer, form, sheet);
	double y = composer->top;
	put_print(composer, form, sheet, y);
	y += sheet->true_heading == NULL ? 0 : print_height(composer, form, sheet) + gap;
	put_kinds(composer, form, sheet, y);
	y += kinds + (kinds > 0 ? gap : 0);
	if (y + signs_height(composer, form, sheet) > bottom + TOLERANCE) {
		composer_new_page(composer, sheet->title, sheet->lead);
		y = composer->top;
	}
	put_signs(composer, form, sheet, y, bottom);
	put_last_words(composer, form, sheet);
}
