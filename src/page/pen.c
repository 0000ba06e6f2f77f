/*
 * pen.c - a pen's sheet: its front gets the pen ready and lists the pens, its back shows every number to set.
 *
 * One or two numbers are shown each on a pen of their own; more of them by their
 * windows alone, two abreast.
 */
#include "page/large_pages.h"
#include "page/parts.h"
#include "page/pen_figure.h"
#include "page/sections.h"
#include "page/styles.h"

#include <math.h>

static struct text_style body(const struct composer *composer, enum text_weight weight)
{
	return medicine_style(composer, TYPE_BODY, weight);
}

/* ---- the pens of the course: a table ---- */

#define PENS_RULE 2.2 /* letters to rule */
#define PENS_ROW 2.6  /* rule to letters */
#define PENS_BETWEEN 4.0

/* Widths as shares of the column; the last takes the longest words. */
static const double shares[PEN_COLUMNS] = {0.12, 0.16, 0.16, 0.18, 0.38};

static double column_x(const struct composer *composer, size_t column)
{
	double x = composer->left;
	for (size_t i = 0; i < column; i++)
		x += shares[i] * LIVE_WIDTH;
	return x;
}

static double column_width(size_t column)
{
	return shares[column] * LIVE_WIDTH - (column + 1 < PEN_COLUMNS ? PENS_BETWEEN : 0);
}

static double cells_height(struct composer *composer, const char *const *cells, struct text_style style)
{
	double height = 0;
	for (size_t i = 0; i < PEN_COLUMNS; i++)
		height = fmax(height, composer_text_height(composer, cells[i], style, column_width(i)));
	return height;
}

static struct text_style head_style(const struct composer *composer)
{
	return composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
}

static double pens_height(struct composer *composer, const void *what)
{
	const struct pen_sheet *sheet = what;
	if (sheet->n_rows == 0)
		return 0;
	double height = cap(composer, TYPE_SECTION) + GAP_3 +
	                cells_height(composer, sheet->heads, head_style(composer)) + PENS_RULE;
	for (size_t i = 0; i < sheet->n_rows; i++)
		height += PENS_ROW + cells_height(composer, sheet->rows[i].cells, body(composer, WEIGHT_REGULAR)) +
		          PENS_RULE;
	return height;
}

static void put_pens_head(struct composer *composer, const struct pen_sheet *sheet, double y)
{
	begin_group(composer, ROLE_ROW);
	for (size_t i = 0; i < PEN_COLUMNS; i++) {
		begin_head_cell(composer, SCOPE_COLUMN);
		put_plain(composer, sheet->heads[i], head_style(composer), column_x(composer, i), y, column_width(i));
		end_group(composer);
	}
	end_group(composer);
}

static void put_pens_row(struct composer *composer, const struct pen_row *row, double y)
{
	begin_group(composer, ROLE_ROW);
	for (size_t i = 0; i < PEN_COLUMNS; i++) {
		if (i == 0)
			begin_head_cell(composer, SCOPE_ROW);
		else
			begin_group(composer, ROLE_CELL);
		put_plain(composer, row->cells[i], body(composer, i == 0 ? WEIGHT_BOLD : WEIGHT_REGULAR),
		          column_x(composer, i), y, column_width(i));
		end_group(composer);
	}
	end_group(composer);
}

static void put_table_rule(struct composer *composer, double y, double line)
{
	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, y, line);
	end_group(composer);
}

static void put_pens(struct composer *composer, const void *what, double y)
{
	const struct pen_sheet *sheet = what;
	put_heading(composer, ROLE_H2, sheet->pens_heading, composer_style(composer, TYPE_SECTION, WEIGHT_BOLD),
	            composer->left, y, LIVE_WIDTH);
	y += cap(composer, TYPE_SECTION) + GAP_3;
	begin_group(composer, ROLE_TABLE);
	put_pens_head(composer, sheet, y);
	y += cells_height(composer, sheet->heads, head_style(composer)) + PENS_RULE;
	for (size_t i = 0; i < sheet->n_rows; i++) {
		put_table_rule(composer, y, i == 0 ? LINE_MAIN : LINE_HAIR);
		put_pens_row(composer, &sheet->rows[i], y + PENS_ROW);
		y += PENS_ROW + cells_height(composer, sheet->rows[i].cells, body(composer, WEIGHT_REGULAR)) +
		     PENS_RULE;
	}
	end_group(composer);
}

/* ---- one number on its pen ---- */

#define HEAD_RULE 2.6  /* letters to rule */
#define HEAD_AFTER 4.4 /* rule to figure */
#define HEAD_BETWEEN 5.0
#define FIGURE_TEXT 5.0 /* pen to words */

static double head_text_width(struct composer *composer, const struct pen_amount *amount)
{
	double first =
		composer_text_width(composer, amount->amount, composer_style(composer, TYPE_SECTION, WEIGHT_BOLD));
	return LIVE_WIDTH - first - HEAD_BETWEEN;
}

/* The days stand on the amount's first baseline, and wrap below it. */
static double head_height(struct composer *composer, const struct pen_amount *amount)
{
	double days = composer_text_height(composer, amount->days, body(composer, WEIGHT_REGULAR),
	                                   head_text_width(composer, amount));
	return cap(composer, TYPE_SECTION) - cap(composer, TYPE_BODY) + days;
}

static void put_head(struct composer *composer, const struct pen_amount *amount, double y)
{
	begin_group(composer, ROLE_H2);
	put_plain(composer, amount->amount, composer_style(composer, TYPE_SECTION, WEIGHT_BOLD), composer->left, y, 0);
	put_text(composer, amount->days, body(composer, WEIGHT_REGULAR), ALIGN_START,
	         composer->right - head_text_width(composer, amount),
	         y + cap(composer, TYPE_SECTION) - cap(composer, TYPE_BODY), head_text_width(composer, amount),
	         COLOUR_INK);
	end_group(composer);
}

static double amount_height(struct composer *composer, const void *what)
{
	const struct pen_amount *amount = what;
	const struct pen_view *view = &amount->view;
	double text = composer_text_height(composer, amount->text, body(composer, WEIGHT_REGULAR),
	                                   pen_text_width(composer, view));
	double below = pen_window_below(composer, view);
	double figure = pen_figure_drop(composer, view) + FIGURE_TEXT + text + (below > 0 ? GAP_3 + below : 0);
	return head_height(composer, amount) + HEAD_RULE + HEAD_AFTER + fmax(figure, pen_window_drop(composer, view));
}

static void put_amount(struct composer *composer, const void *what, double y)
{
	const struct pen_amount *amount = what;
	const struct pen_view *view = &amount->view;
	put_head(composer, amount, y);
	y += head_height(composer, amount) + HEAD_RULE;
	put_table_rule(composer, y, LINE_MAIN);
	y += HEAD_AFTER;
	put_pen_figure(composer, view, y);
	struct rect text =
		put_paragraph(composer, amount->text, body(composer, WEIGHT_REGULAR), composer->left,
	                      y + pen_figure_drop(composer, view) + FIGURE_TEXT, pen_text_width(composer, view));
	put_pen_window_below(composer, view, text.y + text.height + GAP_3);
}

/* ---- days that have a page of their own ---- */

#define SEE_PICTURE 6.2
#define SEE_BETWEEN 3.0

static double see_width(void)
{
	return LIVE_WIDTH - SEE_PICTURE - GAP_2;
}

/* The page's number follows the words where one line holds both, else it stands on a line of its own. */
static bool see_one_line(struct composer *composer, const struct note_block *see)
{
	double words = composer_text_width(composer, see->text, body(composer, WEIGHT_REGULAR));
	double page =
		composer_text_width(composer, composer_page_ref(composer, see->section), body(composer, WEIGHT_BOLD));
	return words + GAP_1 + page <= see_width();
}

static double see_line(struct composer *composer, const struct note_block *see)
{
	double words = composer_text_height(composer, see->text, body(composer, WEIGHT_REGULAR), see_width());
	return fmax(SEE_PICTURE, see_one_line(composer, see) ? words : words + GAP_2 + cap(composer, TYPE_BODY));
}

static double see_height(struct composer *composer, const void *what)
{
	const struct pen_sheet *sheet = what;
	double height = 0;
	for (size_t i = 0; i < sheet->n_see; i++)
		height += see_line(composer, &sheet->see[i]) + (i > 0 ? SEE_BETWEEN : 0);
	return height;
}

static void put_see_words(struct composer *composer, const struct note_block *see, double x, double y, double line)
{
	bool one_line = see_one_line(composer, see);
	double middle = one_line ? y + (line - cap(composer, TYPE_BODY)) / 2 : y;
	struct rect text = put_plain(composer, see->text, body(composer, WEIGHT_REGULAR), x, middle, see_width());
	struct point page = {x, text.y + text.height + GAP_2};
	if (one_line)
		page = (struct point){x + text.width + GAP_1, middle};
	put_page_ref(composer, see->section, body(composer, WEIGHT_BOLD), ALIGN_START, page.x, page.y);
}

static void put_see(struct composer *composer, const void *what, double y)
{
	const struct pen_sheet *sheet = what;
	for (size_t i = 0; i < sheet->n_see; i++) {
		const struct note_block *see = &sheet->see[i];
		double line = see_line(composer, see);
		begin_group(composer, ROLE_PARAGRAPH);
		begin_artifact(composer);
		put_picture(composer, see->pictogram, composer->left, y + (line - SEE_PICTURE) / 2, SEE_PICTURE);
		end_group(composer);
		put_see_words(composer, see, composer->left + SEE_PICTURE + GAP_2, y, line);
		end_group(composer);
		y += line + SEE_BETWEEN;
	}
}

/* ---- many numbers: windows, two abreast ---- */

#define ABREAST 2
#define ABREAST_BETWEEN 10.0
#define ON_PENS_MOST 2 /* numbers that are shown on pens of their own */

/* A line of windows. */
struct window_line {
	const struct pen_amount *amounts;
	size_t n;
};

static double cell_width(void)
{
	return (LIVE_WIDTH - ABREAST_BETWEEN) / ABREAST;
}

static double cell_words_width(struct composer *composer, const struct pen_amount *amount)
{
	return cell_width() - measure_pen_window(composer, &amount->view).width - GAP_3;
}

static double cell_words_height(struct composer *composer, const struct pen_amount *amount)
{
	double width = cell_words_width(composer, amount);
	return composer_text_height(composer, amount->amount, composer_style(composer, TYPE_LEAD, WEIGHT_BOLD), width) +
	       GAP_2 + composer_text_height(composer, amount->days, body(composer, WEIGHT_REGULAR), width);
}

static double line_height(struct composer *composer, const void *what)
{
	const struct window_line *line = what;
	double height = 0;
	for (size_t i = 0; i < line->n; i++)
		height = fmax(height, fmax(measure_pen_window(composer, &line->amounts[i].view).height,
		                           cell_words_height(composer, &line->amounts[i])));
	return height;
}

static void put_cell(struct composer *composer, const struct pen_amount *amount, double x, double y)
{
	double width = cell_words_width(composer, amount);
	struct rect window = measure_pen_window(composer, &amount->view);
	struct rect head = put_heading(composer, ROLE_H2, amount->amount,
	                               composer_style(composer, TYPE_LEAD, WEIGHT_BOLD), x, y, width);
	put_paragraph(composer, amount->days, body(composer, WEIGHT_REGULAR), x, head.y + head.height + GAP_2, width);
	put_pen_window(composer, &amount->view, x + cell_width() - window.width - LINE_MAIN / 2, y);
}

static void put_window_line(struct composer *composer, const void *what, double y)
{
	const struct window_line *line = what;
	for (size_t i = 0; i < line->n; i++)
		put_cell(composer, &line->amounts[i], composer->left + (double)i * (cell_width() + ABREAST_BETWEEN), y);
}

static void add_windows(struct composer *composer, struct page_parts *parts, const struct pen_sheet *sheet)
{
	size_t n_lines = (sheet->n_amounts + ABREAST - 1) / ABREAST;
	struct window_line *lines = arena_alloc(composer->arena, n_lines * sizeof *lines);
	for (size_t i = 0; i < n_lines; i++) {
		size_t left = sheet->n_amounts - i * ABREAST;
		lines[i] = (struct window_line){&sheet->amounts[i * ABREAST], left < ABREAST ? left : ABREAST};
		parts_add(parts, line_height, put_window_line, &lines[i]);
	}
}

/* In large print, and beside amounts of long words, two windows do not stand abreast. */
static bool windows_fit(struct composer *composer, const struct pen_sheet *sheet)
{
	struct text_style style = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	for (size_t i = 0; i < sheet->n_amounts; i++) {
		double width = cell_words_width(composer, &sheet->amounts[i]);
		if (width < cell_width() / 4 || composer_text_width(composer, sheet->amounts[i].amount, style) > width)
			return false;
	}
	return true;
}

static void add_amounts(struct composer *composer, struct page_parts *parts, const struct pen_sheet *sheet)
{
	bool few = sheet->n_amounts <= ON_PENS_MOST || !windows_fit(composer, sheet);
	/* Parts are few: a pen with more numbers than these shows the rest as windows. */
	if (!few || sheet->n_amounts > PARTS_MOST / 2) {
		add_windows(composer, parts, sheet);
		return;
	}
	for (size_t i = 0; i < sheet->n_amounts; i++)
		parts_add(parts, amount_height, put_amount, &sheet->amounts[i]);
}

/* ---- the two sides ---- */

static void add_front(struct page_parts *parts, const struct pen_sheet *sheet)
{
	const struct medicine_sheet *common = sheet->sheet;
	*parts = parts_of_front(common);
	parts_add_must_know(parts, common);
	parts_add_lay_out(parts, common);
	parts_add_first(parts, common);
	parts_add(parts, pens_height, put_pens, sheet);
	/* Before a second pen is tested: its page has it got ready once the first has been given. */
	parts_add(parts, see_height, put_see, sheet);
	if (place_is_asked_on(common, ASKED_ON_FRONT))
		parts_add_place(parts, common);
	parts_add_steps(parts, common->mix_heading, common->front, common->n_front,
	                common->has_add ? &common->add : NULL);
}

static void place_front(struct composer *composer, const struct pen_sheet *sheet)
{
	struct page_parts parts;
	add_front(&parts, sheet);
	parts.steps.note = medicine_goes_on(composer, sheet->sheet);
	put_parts(composer, &parts);
}

static void place_back(struct composer *composer, const struct pen_sheet *sheet)
{
	const struct medicine_sheet *common = sheet->sheet;
	struct page_parts parts = {.title = common->back_title, .lead = common->back_lead};
	parts_add(&parts, see_height, put_see, sheet);
	add_amounts(composer, &parts, sheet);
	parts_add_place(&parts, common);
	parts_add_steps(&parts, common->back_heading, common->back, common->n_back, NULL);
	parts.steps.wide = true;
	parts_add_notes(&parts, common);
	parts_spare_heading(composer, &parts);
	put_parts(composer, &parts);
}

void pen_place(struct composer *composer, const struct pen_sheet *sheet)
{
	if (composer->large_print) {
		large_pen(composer, sheet);
		return;
	}
	place_front(composer, sheet);
	composer_begin_back(composer);
	place_back(composer, sheet);
}
