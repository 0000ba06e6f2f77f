/*
 * check.c - the staff's page: each figure, its working, and two boxes to initial in ink.
 */
#include "page/sections.h"
#include "page/styles.h"

#include <math.h>

#define BOX_WIDTH 20.0
#define BOX_GAP 1.5
#define SHEET_X 132.0 /* right edge of what is on the sheet */
#define WORKING_WIDTH 104.0
#define ROW_LEAST 15.0
#define PAD 3.2
#define FRACTION_PAD 1.3
#define HEAD_HEIGHT 6.0
#define LAST_ROWS 3 /* that keep the signatures company */
#define SIGN_HEIGHT 31.0
#define TAG_SIZE 14.0
#define NAME_LEADING 5.6
#define NAME_DETAIL 3.5

static double boxes_x(const struct composer *composer)
{
	return composer->right - 2 * BOX_WIDTH - BOX_GAP;
}

/* ---- a formula: plain pieces on the middle line, fractions stacked around it ---- */

#define FRACTION_HEIGHT 10.5
#define FLAT_HEIGHT 6.5

static bool is_fraction(const struct formula_piece *piece)
{
	return piece->under != NULL;
}

/* Plain pieces need one line, a fraction two. */
static double formula_height(const struct check_row *row)
{
	for (size_t i = 0; i < row->n_formula; i++)
		if (is_fraction(&row->formula[i]))
			return FRACTION_HEIGHT;
	return FLAT_HEIGHT;
}

static double put_fraction(struct composer *composer, const struct formula_piece *piece, double x, double middle)
{
	struct text_style style = regular(composer, TYPE_BODY);
	double cap = text_cap_height(style);
	double width = fmax(composer_text_width(composer, piece->text, style),
	                    composer_text_width(composer, piece->under, style)) +
	               2 * FRACTION_PAD;
	put_text(composer, piece->text, style, ALIGN_CENTER, x + width / 2, middle - 1.6 - cap, 0, COLOUR_INK);
	put_rule(composer, (struct point){x, middle}, (struct point){x + width, middle}, LINE_FINE, COLOUR_INK);
	put_text(composer, piece->under, style, ALIGN_CENTER, x + width / 2, middle + 1.6, 0, COLOUR_INK);
	return x + width;
}

/* "125 mcg divided by 250 mcg, x, 1 mL" is heard, since nobody hears a bar. */
static const char *spoken_formula(struct composer *composer, const struct check_row *row)
{
	const char *text = "";
	for (size_t i = 0; i < row->n_formula; i++) {
		const struct formula_piece *piece = &row->formula[i];
		const char *said = is_fraction(piece) ? say2(composer->speaker, "check.divided", "over", piece->text,
		                                             "under", piece->under)
		                                      : piece->text;
		text = arena_printf(composer->arena, "%s%s%s", text, *text == '\0' ? "" : " ", said);
	}
	return text;
}

static void put_formula(struct composer *composer, const struct check_row *row, double middle)
{
	double x = composer->left;
	if (row->n_formula == 0)
		return;
	begin_figure(composer, spoken_formula(composer, row));
	for (size_t i = 0; i < row->n_formula; i++) {
		const struct formula_piece *piece = &row->formula[i];
		struct text_style style = piece->bold ? bold(composer, TYPE_BODY) : regular(composer, TYPE_BODY);
		if (is_fraction(piece))
			x = put_fraction(composer, piece, x, middle);
		else
			x += put_plain(composer, piece->text, style, x, middle - text_cap_height(style) / 2, 0).width;
		x += 1.9;
	}
	end_group(composer);
}

/* ---- a row ---- */

static double notes_height(struct composer *composer, const struct check_row *row)
{
	double height = 0;
	for (size_t i = 0; i < row->n_notes; i++)
		height += 2.6 + composer_text_height(composer, row->notes[i], regular(composer, TYPE_REFERENCE),
		                                     WORKING_WIDTH);
	return height;
}

/* Of the grid's pages that with the dose's box, or with the item's column or frame; NULL: it has none of them. */
static const char *page_of_section(struct composer *composer, const struct check_row *row, section_ref section)
{
	if (composer->handout->sections[section].kind != SECTION_GRID)
		return composer_page_ref(composer, section);
	const char *label = composer_label_of_part(composer, section, row->dose);
	if (label == NULL)
		label = composer_label_of_part(composer, section, row->item);
	return label == NULL ? NULL : say1(composer->speaker, "page.ref", "page", label);
}

static const char *detail_of(struct composer *composer, const struct check_row *row)
{
	const char *text = row->detail;
	for (size_t i = 0; i < row->n_sections; i++) {
		const char *page = page_of_section(composer, row, row->sections[i]);
		if (page != NULL)
			text = arena_printf(composer->arena, "%s%s%s", text, *text == '\0' ? "" : " \u00b7 ", page);
	}
	return text;
}

/* Name and detail on one line where they have room, else below one another. */
struct row_words {
	const struct text_block *name;
	const char *detail;
	double detail_width;
	bool beside;
	double height;
};

static struct row_words row_words(struct composer *composer, const struct check_row *row)
{
	struct text_style style = bold(composer, TYPE_LEAD);
	struct text_style small = regular(composer, TYPE_REFERENCE);
	struct row_words words = {.detail = detail_of(composer, row), .detail_width = SHEET_X};
	style.leading = NAME_LEADING;
	words.name = composer_set_name(composer, row->name, style, SHEET_X, 3);
	double width = text_width(words.name) + NAME_DETAIL + composer_text_width(composer, words.detail, small);
	words.beside = width <= SHEET_X;
	words.height = text_height(words.name);
	if (!words.beside)
		words.height += 2.4 + composer_text_height(composer, words.detail, small, words.detail_width);
	return words;
}

static double row_height(struct composer *composer, const struct check_row *row)
{
	double words = row_words(composer, row).height;
	return fmax(ROW_LEAST, PAD + words + 1.5 + formula_height(row) + notes_height(composer, row) + PAD);
}

static void put_name(struct composer *composer, const struct check_row *row, double y)
{
	struct text_style small = regular(composer, TYPE_REFERENCE);
	struct row_words words = row_words(composer, row);
	double name = text_height(words.name);
	begin_group(composer, ROLE_H2);
	put_block(composer, words.name, ALIGN_START, composer->left, y, COLOUR_INK);
	end_group(composer);
	if (*words.detail == '\0')
		return;
	begin_group(composer, ROLE_PARAGRAPH);
	if (words.beside)
		put_plain(composer, words.detail, small, composer->left + text_width(words.name) + NAME_DETAIL,
		          y + name - text_cap_height(small), 0);
	else
		put_plain(composer, words.detail, small, composer->left, y + name + 2.4, words.detail_width);
	end_group(composer);
}

static void put_on_sheet(struct composer *composer, const struct check_row *row, double y)
{
	double right = composer->left + SHEET_X;
	if (row->mark.number != NULL) {
		struct rect tag = measure_tag(composer, row->mark, TAG_SIZE);
		put_tag(composer, row->mark, TAG_SIZE, (struct point){right - tag.width / 2, y + tag.height});
	} else if (row->result != NULL) {
		put_text(composer, row->result, bold(composer, TYPE_LEAD), ALIGN_END, right, y + 2, 0, COLOUR_INK);
	}
}

static void put_row(struct composer *composer, const struct check_row *row, double y, double height)
{
	double top = y + PAD;
	double words = row_words(composer, row).height;
	begin_group(composer, ROLE_ROW);
	begin_group(composer, ROLE_CELL);
	put_name(composer, row, top);
	double formula = formula_height(row);
	put_formula(composer, row, top + words + 1.5 + formula / 2);
	double note_y = top + words + 1.5 + formula;
	for (size_t i = 0; i < row->n_notes; i++) {
		struct rect note = put_paragraph(composer, row->notes[i], regular(composer, TYPE_REFERENCE),
		                                 composer->left, note_y + 2.6, WORKING_WIDTH);
		note_y += 2.6 + note.height;
	}
	end_group(composer);
	begin_group(composer, ROLE_CELL);
	put_on_sheet(composer, row, top + words + 1.2);
	end_group(composer);
	for (int i = 0; i < 2; i++) {
		begin_group(composer, ROLE_CELL);
		put_write_in(composer, (struct rect){boxes_x(composer) + i * (BOX_WIDTH + BOX_GAP), y + 1.6, BOX_WIDTH,
		                                     height - 3.2});
		end_group(composer);
	}
	end_group(composer);
	put_line(composer, composer->left, composer->right, y + height, LINE_FINE);
}

/* ---- pages ---- */

static void put_head(struct composer *composer, const char *head, enum text_align align, double x, double y)
{
	begin_head_cell(composer, SCOPE_COLUMN);
	put_text(composer, head, regular(composer, TYPE_REFERENCE), align, x, y, 0, COLOUR_INK);
	end_group(composer);
}

/* Opens a page with the table on it, which the caller ends; returns where its rows begin. */
static double begin_rows(struct composer *composer, const struct check_sheet *sheet)
{
	composer_new_page(composer, sheet->title, sheet->lead);
	double y = composer->top;
	double x = boxes_x(composer);
	begin_group(composer, ROLE_TABLE);
	begin_group(composer, ROLE_ROW);
	put_head(composer, sheet->heads[0], ALIGN_START, composer->left, y);
	put_head(composer, sheet->heads[1], ALIGN_END, composer->left + SHEET_X, y);
	put_head(composer, sheet->heads[2], ALIGN_CENTER, x + BOX_WIDTH / 2, y);
	put_head(composer, sheet->heads[3], ALIGN_CENTER, x + 1.5 * BOX_WIDTH + BOX_GAP, y);
	end_group(composer);
	put_line(composer, composer->left, composer->right, y + 4.6, LINE_MAIN);
	return y + HEAD_HEIGHT - 1.4;
}

/* A page for what follows the rows. */
static double open_page(struct composer *composer, const struct check_sheet *sheet)
{
	composer_new_page(composer, sheet->title, sheet->lead);
	return composer->top;
}

static double put_cautions(struct composer *composer, const struct check_sheet *sheet, double y)
{
	struct text_style text = regular(composer, TYPE_REFERENCE);
	if (sheet->n_cautions == 0)
		return y;
	double first = composer_text_height(composer, sheet->cautions[0], text, LIVE_WIDTH);
	if (y + 8 + first + 4 > composer->bottom)
		y = open_page(composer, sheet);
	put_heading(composer, ROLE_H2, sheet->cautions_heading, bold(composer, TYPE_BODY), composer->left, y + 4, 0);
	y += 4 + 5.4;
	for (size_t i = 0; i < sheet->n_cautions; i++) {
		double height = composer_text_height(composer, sheet->cautions[i], text, LIVE_WIDTH);
		if (y + height > composer->bottom)
			y = open_page(composer, sheet);
		put_paragraph(composer, sheet->cautions[i], text, composer->left, y, LIVE_WIDTH);
		y += height + 2.8;
	}
	return y;
}

static void put_signature(struct composer *composer, const struct check_sheet *sheet, const char *heading,
                          const char *name, struct rect area)
{
	struct text_style small = regular(composer, TYPE_REFERENCE);
	double line = area.y + area.height - 7.4;
	double split = area.x + area.width - 32;
	put_frame(composer, area, LINE_MAIN);
	put_plain(composer, heading, bold(composer, TYPE_BODY), area.x + 4, area.y + 4, area.width - 8);
	put_plain(composer, name, regular(composer, TYPE_BODY), area.x + 4, area.y + 9.8, area.width - 8);
	put_line(composer, area.x + 4, split - 4, line, LINE_FINE);
	put_line(composer, split, area.x + area.width - 4, line, LINE_FINE);
	put_plain(composer, sheet->signature_word, small, area.x + 4, line + 2, 0);
	put_plain(composer, sheet->date_word, small, split, line + 2, 0);
}

/* What follows the rows: cautions and both signatures. */
static double tail_height(struct composer *composer, const struct check_sheet *sheet)
{
	struct text_style text = regular(composer, TYPE_REFERENCE);
	double height = sheet->n_cautions == 0 ? 0 : 4 + 5.4;
	for (size_t i = 0; i < sheet->n_cautions; i++)
		height += composer_text_height(composer, sheet->cautions[i], text, LIVE_WIDTH) + 2.8;
	return height + GAP_4 + SIGN_HEIGHT;
}

/* The last rows go on to the signatures' page, where that would otherwise hold nothing to sign for. */
static bool goes_with_tail(struct composer *composer, const struct check_sheet *sheet, size_t index, double y)
{
	double rest = tail_height(composer, sheet);
	if (index + LAST_ROWS < sheet->n_rows)
		return false;
	for (size_t i = index; i < sheet->n_rows; i++)
		rest += row_height(composer, &sheet->rows[i]);
	return y + rest > composer->bottom && composer->top + HEAD_HEIGHT + rest <= composer->bottom;
}

void check_place(struct composer *composer, const struct check_sheet *sheet)
{
	double first = begin_rows(composer, sheet);
	double y = first;
	for (size_t i = 0; i < sheet->n_rows; i++) {
		double height = row_height(composer, &sheet->rows[i]);
		if (y + height > composer->bottom || (y > first && goes_with_tail(composer, sheet, i, y))) {
			end_group(composer);
			y = begin_rows(composer, sheet);
		}
		put_row(composer, &sheet->rows[i], y, height);
		y += height;
	}
	end_group(composer);
	y = put_cautions(composer, sheet, y);
	if (y + GAP_4 + SIGN_HEIGHT > composer->bottom)
		open_page(composer, sheet);
	double width = (LIVE_WIDTH - 6) / 2;
	struct rect left = {composer->left, composer->bottom - SIGN_HEIGHT, width, SIGN_HEIGHT};
	struct rect right = {composer->right - width, left.y, width, SIGN_HEIGHT};
	put_signature(composer, sheet, sheet->worked_by, sheet->worked_name, left);
	put_signature(composer, sheet, sheet->checked_by, sheet->checked_name, right);
}
