/*
 * medicine_steps.c - numbered steps with pictures: in pairs on the front, abreast on the back.
 */
#include "page/medicine.h"

#include "page/actions.h"
#include "page/step_names.h"

#include <math.h>
#include <string.h>

#define PAIR_BETWEEN 6.2
#define PAIR_WIDTH ((LIVE_WIDTH - PAIR_BETWEEN) / 2)
#define PAIR_TEXT 4.0 /* picture to text */
#define PAIR_TOP 3.6  /* rule to number */
#define PAIR_END 3.0
#define NUMBER_SIZE 24.0
#define NUMBER_TITLE 3.0 /* beside each other */
#define TITLE_TEXT 4.2   /* below each other */
#define ADD_TAG_SIZE 15.0

#define WARNING_PAD 3.6
#define WARNING_AFTER 2.0

#define ROW_BETWEEN 1.8 /* the dots before actions keep columns apart, too */
#define ROW_NUMBER_SIZE 20.0

void put_step_picture(struct composer *composer, const char *name, double x, double y, double size)
{
	if (name == NULL || !step_picture_known(name))
		return;
	/* What it says that its step's words do not: which of its vials are right, and which wrong. */
	if (step_picture_judges(name))
		begin_figure(composer, say0(composer->speaker, "picture.look"));
	else
		begin_artifact(composer);
	put_mark(composer,
	         (struct placed_mark){.kind = MARK_STEP,
	                              .area = {x, y, size, size},
	                              .step = {name, {x, y}, size, composer->dose_ring, composer->one_needle}});
	end_group(composer);
}

/* ---- cells ---- */

size_t step_cells(const struct step *steps, size_t n, struct step_cell *cells, size_t most)
{
	size_t n_cells = 0;
	size_t first = 0;
	for (size_t i = 0; i < n && n_cells < most; i++) {
		if (steps[i].warning && i + 1 < n)
			continue;
		bool alone = steps[i].warning;
		cells[n_cells++] = (struct step_cell){.warnings = &steps[first],
		                                      .n_warnings = i - first + (alone ? 1 : 0),
		                                      .step = alone ? NULL : &steps[i]};
		first = i + 1;
	}
	return n_cells;
}

/* ---- warnings ---- */

static double warning_height(struct composer *composer, const struct step *warning, double width)
{
	double inside = width - 2 * WARNING_PAD;
	double title = composer_text_height(composer, warning->title, composer_style(composer, TYPE_BODY, WEIGHT_BOLD),
	                                    inside);
	double text =
		actions_height(composer, warning->text, medicine_style(composer, TYPE_BODY, WEIGHT_REGULAR), inside);
	return 2 * WARNING_PAD + title + GAP_2 + text;
}

double warnings_height(struct composer *composer, const struct step_cell *cell, double width)
{
	double height = 0;
	for (size_t i = 0; i < cell->n_warnings; i++)
		height += warning_height(composer, &cell->warnings[i], width) + WARNING_AFTER;
	return height;
}

static void put_warning(struct composer *composer, const struct step *warning, struct rect area)
{
	struct box box = {.radius = 2, .line = LINE_STRONG, .stroke = COLOUR_RUST, .fill = COLOUR_NONE};
	double half = LINE_STRONG / 2;
	begin_artifact(composer);
	put_box(composer, (struct rect){area.x + half, area.y + half, area.width - 2 * half, area.height - 2 * half},
	        box);
	end_group(composer);
	begin_group(composer, ROLE_PARAGRAPH);
	struct rect title =
		put_text(composer, warning->title, composer_style(composer, TYPE_BODY, WEIGHT_BOLD), ALIGN_START,
	                 area.x + WARNING_PAD, area.y + WARNING_PAD, area.width - 2 * WARNING_PAD, COLOUR_RUST);
	end_group(composer);
	put_actions(composer, warning->text, medicine_style(composer, TYPE_BODY, WEIGHT_REGULAR), area.x + WARNING_PAD,
	            title.y + title.height + GAP_2, area.width - 2 * WARNING_PAD);
}

void put_warnings(struct composer *composer, const struct step_cell *cell, double x, double y, double width)
{
	for (size_t i = 0; i < cell->n_warnings; i++) {
		double height = warning_height(composer, &cell->warnings[i], width);
		put_warning(composer, &cell->warnings[i], (struct rect){x, y, width, height});
		y += height + WARNING_AFTER;
	}
}

/* ---- number and title ---- */

const char *step_number(struct composer *composer, const struct step *step)
{
	return say_number(composer->speaker, rational_of(step->number, 1));
}

#define TITLE_LINES 3

/* A title wraps; one with a long word is set a little smaller. */
static const struct text_block *title_block(struct composer *composer, const struct step *step, double width)
{
	return composer_set_name(composer, step->title, composer_style(composer, TYPE_LEAD, WEIGHT_BOLD), width,
	                         TITLE_LINES);
}

/* Side by side on one baseline; the title wraps beside the number. */
static double head_height(struct composer *composer, const struct step *step, double size, double width)
{
	struct text_style number = {.size = size, .weight = WEIGHT_BOLD};
	struct text_style title = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	double beside = width - composer_text_width(composer, step_number(composer, step), number) - NUMBER_TITLE;
	return text_cap_height(number) - text_cap_height(title) + text_height(title_block(composer, step, beside));
}

static void put_head(struct composer *composer, const struct step *step, double size, double x, double y, double width)
{
	struct text_style number = {.size = size, .weight = WEIGHT_BOLD};
	struct text_style title = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	composer_note_step(composer, step->number);
	begin_group(composer, ROLE_LABEL);
	struct rect digits = put_plain(composer, step_number(composer, step), number, x, y, 0);
	end_group(composer);
	begin_group(composer, ROLE_H3);
	double beside = digits.width + NUMBER_TITLE;
	put_block(composer, title_block(composer, step, width - beside), ALIGN_START, x + beside,
	          y + text_cap_height(number) - text_cap_height(title), COLOUR_INK);
	end_group(composer);
}

/* ---- pairs ---- */

static bool has_white_tag(const struct mark_words *add, const struct step *step)
{
	return add != NULL && step->white_tag;
}

static double pair_text_x(const struct step_pairs *pairs)
{
	return pairs->picture + PAIR_TEXT;
}

static double pair_words_height(struct composer *composer, const struct step_pairs *pairs, const struct step *step)
{
	double width = PAIR_WIDTH - pair_text_x(pairs);
	double height =
		head_height(composer, step, NUMBER_SIZE, width) + TITLE_TEXT +
		actions_height(composer, step->text, medicine_style(composer, TYPE_BODY, WEIGHT_REGULAR), width);
	if (has_white_tag(pairs->add, step))
		height += GAP_2 + measure_tag(composer, *pairs->add, ADD_TAG_SIZE).height;
	return height;
}

static double pair_height(struct composer *composer, const struct step_pairs *pairs, const struct step_cell *cell)
{
	double height = warnings_height(composer, cell, PAIR_WIDTH);
	if (cell->step != NULL)
		height += fmax(pairs->picture, pair_words_height(composer, pairs, cell->step));
	return PAIR_TOP + height + PAIR_END;
}

double pairs_row_height(struct composer *composer, const struct step_pairs *pairs, size_t row)
{
	double height = 0;
	for (size_t i = 2 * row; i < 2 * row + 2 && i < pairs->n; i++)
		height = fmax(height, pair_height(composer, pairs, &pairs->cells[i]));
	return height;
}

static size_t pairs_rows(const struct step_pairs *pairs)
{
	return (pairs->n + 1) / 2;
}

double pairs_height(struct composer *composer, const struct step_pairs *pairs)
{
	double height = 0;
	for (size_t row = 0; row < pairs_rows(pairs); row++)
		height += pairs_row_height(composer, pairs, row);
	return height;
}

static void put_pair(struct composer *composer, const struct step_pairs *pairs, const struct step_cell *cell,
                     struct rect area)
{
	double y = area.y + PAIR_TOP;
	double x = area.x + pair_text_x(pairs);
	double width = area.width - pair_text_x(pairs);
	begin_group(composer, ROLE_LIST_ITEM);
	put_warnings(composer, cell, area.x, y, area.width);
	y += warnings_height(composer, cell, area.width);
	if (cell->step != NULL) {
		double room = area.y + area.height - y - PAIR_END;
		put_head(composer, cell->step, NUMBER_SIZE, x, y, width);
		put_step_picture(composer, cell->step->picture, area.x, y + fmax((room - pairs->picture) / 2, 0),
		                 pairs->picture);
		y += head_height(composer, cell->step, NUMBER_SIZE, width) + TITLE_TEXT;
		struct rect text = put_actions(composer, cell->step->text,
		                               medicine_style(composer, TYPE_BODY, WEIGHT_REGULAR), x, y, width);
		if (has_white_tag(pairs->add, cell->step)) {
			struct rect tag = measure_tag(composer, *pairs->add, ADD_TAG_SIZE);
			put_tag(composer, *pairs->add, ADD_TAG_SIZE,
			        (struct point){x + tag.width / 2, text.y + text.height + GAP_2 + tag.height});
		}
	}
	end_group(composer);
}

size_t put_pairs(struct composer *composer, const struct step_pairs *pairs, size_t first_row, double y, double bottom,
                 double extra)
{
	size_t row = first_row;
	begin_group(composer, ROLE_LIST);
	for (; row < pairs_rows(pairs); row++) {
		double height = pairs_row_height(composer, pairs, row) + extra;
		/* What is higher than a page would never fit: one row stands on each page at least. */
		if (y + height > bottom + TOLERANCE && row > first_row)
			break;
		for (size_t i = 2 * row; i < 2 * row + 2 && i < pairs->n; i++) {
			double x = composer->left + (double)(i % 2) * (PAIR_WIDTH + PAIR_BETWEEN);
			begin_artifact(composer);
			put_line(composer, x, x + PAIR_WIDTH, y, row == first_row ? LINE_MAIN : LINE_OUTLINE);
			end_group(composer);
			put_pair(composer, pairs, &pairs->cells[i], (struct rect){x, y, PAIR_WIDTH, height});
		}
		y += height;
	}
	end_group(composer);
	return row;
}

/* ---- abreast ---- */

#define EVEN 0.55 /* of a column's width: the rest goes by how much its steps say */

static double even_width(const struct step_row *row)
{
	return (LIVE_WIDTH - (double)(row->abreast - 1) * ROW_BETWEEN) / (double)row->abreast;
}

/* The most that a step of the column says, in all lines. */
static double words_of(const struct step_row *row, size_t column)
{
	double most = 0;
	for (size_t i = column; i < row->n; i += row->abreast)
		if (row->cells[i].step != NULL)
			most = fmax(most, (double)strlen(row->cells[i].step->text));
	return most;
}

/* By the words alone; it may be too narrow for a head. */
static double width_by_words(const struct step_row *row, size_t column)
{
	double all = 0;
	for (size_t i = 0; i < row->abreast; i++)
		all += words_of(row, i);
	double share = words_of(row, column) * (double)row->abreast / all;
	return even_width(row) * (EVEN + (1 - EVEN) * share);
}

#define BESIDE_SMALL 8.0 /* a number of two digits, or a short title's word, beside the picture */

/*
 * Where pictures are small, and no column is empty, it is the words that say how wide each is. What a column
 * is given that would be too narrow for its head, the others give.
 */
static double column_width(const struct step_row *row, size_t index)
{
	double least = row->picture + BESIDE_SMALL;
	double over = 0;
	double under = 0;
	if ((!row->beside && !row->corner) || row->n < row->abreast || least > even_width(row))
		return even_width(row);
	for (size_t i = 0; i < row->abreast; i++) {
		double more = width_by_words(row, i) - least;
		over += fmax(more, 0);
		under += fmax(-more, 0);
	}
	double more = fmax(width_by_words(row, index % row->abreast) - least, 0);
	return over > 0 ? least + more * (over - under) / over : least;
}

/* Never so wide that neighbours meet: the outer columns' pictures cannot lean out of the page. */
static double picture_size(const struct step_row *row)
{
	return row->beside || row->corner ? row->picture : fmin(row->picture, even_width(row) + ROW_BETWEEN / 2);
}

static struct text_style row_title(const struct composer *composer)
{
	return medicine_style(composer, TYPE_BODY, WEIGHT_BOLD);
}

struct line_heights {
	double warnings;
	double title;
	double text;
	double all;
};

#define NUMBER_TITLE_BELOW 2.6
#define TITLE_AFTER 1.0 /* no dot keeps a title from the next one */
#define BESIDE_PICTURE 2.6
#define CORNER_TITLE 2.0 /* picture to title */
#define CORNER_TEXT 3.5  /* title to text: more than from line to line */

static struct text_style row_number(void)
{
	return (struct text_style){.size = ROW_NUMBER_SIZE, .weight = WEIGHT_BOLD};
}

/* From a number's top to its title's. */
static double title_drop(const struct step_row *row)
{
	double number = text_cap_height(row_number());
	return row->corner ? fmax(number, picture_size(row)) + CORNER_TITLE : number + NUMBER_TITLE_BELOW;
}

static double title_width(const struct step_row *row, size_t index)
{
	return column_width(row, index) - TITLE_AFTER - (row->beside ? picture_size(row) + BESIDE_PICTURE : 0);
}

static double words_height(struct composer *composer, const struct step_row *row, size_t index)
{
	const struct step *step = row->cells[index].step;
	double height = actions_height(composer, step->text, medicine_style(composer, TYPE_BODY, WEIGHT_REGULAR),
	                               column_width(row, index));
	return has_white_tag(row->add, step) ? height + GAP_2 + measure_tag(composer, *row->add, ADD_TAG_SIZE).height
	                                     : height;
}

/* A line's titles share a height, so that its pictures stand level. */
static struct line_heights line_heights(struct composer *composer, const struct step_row *row, size_t first)
{
	struct line_heights heights = {0};
	for (size_t i = first; i < first + row->abreast && i < row->n; i++) {
		const struct step_cell *cell = &row->cells[i];
		heights.warnings = fmax(heights.warnings, warnings_height(composer, cell, column_width(row, i)));
		if (cell->step == NULL)
			continue;
		heights.title = fmax(heights.title, composer_text_height(composer, cell->step->title,
		                                                         row_title(composer), title_width(row, i)));
		heights.text = fmax(heights.text, words_height(composer, row, i));
	}
	double head = title_drop(row) + heights.title;
	double above = row->corner   ? head
	               : row->beside ? fmax(head, picture_size(row))
	                             : head + GAP_1 + picture_size(row);
	heights.all = heights.warnings + above + (row->corner ? CORNER_TEXT : GAP_2) + heights.text;
	return heights;
}

/* A hairline keeps the words of a line from the numbers of the next. */
static double lines_between(const struct composer *composer)
{
	return composer_is_tight(composer) ? GAP_3 : GAP_4;
}

double step_row_height(struct composer *composer, const struct step_row *row)
{
	double height = 0;
	for (size_t first = 0; first < row->n; first += row->abreast)
		height += line_heights(composer, row, first).all + (first > 0 ? lines_between(composer) : 0);
	return height;
}

static void put_row_head(struct composer *composer, const struct step_row *row, size_t index, double x, double y)
{
	const struct step *step = row->cells[index].step;
	composer_note_step(composer, step->number);
	begin_group(composer, ROLE_LABEL);
	put_plain(composer, step_number(composer, step), row_number(), x, y, 0);
	end_group(composer);
	begin_group(composer, ROLE_H3);
	put_plain(composer, step->title, row_title(composer), x, y + title_drop(row), title_width(row, index));
	end_group(composer);
}

/* The picture of a column stands a little in, but a wide one not outside the page. */
static double picture_x(const struct composer *composer, const struct step_row *row, size_t index, double x)
{
	double spare = column_width(row, index) - picture_size(row);
	double indent = fmin(fmax(spare / 2, -ROW_BETWEEN / 2), 2.0);
	if (row->corner)
		return x + spare;
	return row->beside ? x : fmin(fmax(x + indent, composer->left), composer->right - picture_size(row));
}

static void put_row_words(struct composer *composer, const struct step_row *row, size_t index, double x, double y)
{
	const struct step *step = row->cells[index].step;
	struct rect text = put_actions(composer, step->text, medicine_style(composer, TYPE_BODY, WEIGHT_REGULAR), x, y,
	                               column_width(row, index));
	if (!has_white_tag(row->add, step))
		return;
	struct rect tag = measure_tag(composer, *row->add, ADD_TAG_SIZE);
	put_tag(composer, *row->add, ADD_TAG_SIZE,
	        (struct point){x + tag.width / 2, text.y + text.height + GAP_2 + tag.height});
}

static void put_abreast(struct composer *composer, const struct step_row *row, size_t index,
                        const struct line_heights *heights, struct point at)
{
	const struct step_cell *cell = &row->cells[index];
	begin_group(composer, ROLE_LIST_ITEM);
	put_warnings(composer, cell, at.x, at.y, column_width(row, index));
	if (cell->step != NULL) {
		double y = at.y + heights->warnings;
		double head = title_drop(row) + heights->title;
		double picture_y = row->beside || row->corner ? y : y + head + GAP_1;
		put_row_head(composer, row, index, row->beside ? at.x + picture_size(row) + BESIDE_PICTURE : at.x, y);
		put_step_picture(composer, cell->step->picture, picture_x(composer, row, index, at.x), picture_y,
		                 picture_size(row));
		put_row_words(composer, row, index, at.x, at.y + heights->all - heights->text);
	}
	end_group(composer);
}

void put_step_row(struct composer *composer, const struct step_row *row, double y)
{
	begin_group(composer, ROLE_LIST);
	for (size_t first = 0; first < row->n; first += row->abreast) {
		struct line_heights heights = line_heights(composer, row, first);
		double x = composer->left;
		if (first > 0) {
			double between = y - lines_between(composer) / 2;
			begin_artifact(composer);
			put_line(composer, composer->left, composer->right, between, LINE_FINE);
			end_group(composer);
		}
		for (size_t i = first; i < first + row->abreast && i < row->n; i++) {
			put_abreast(composer, row, i, &heights, (struct point){x, y});
			x += column_width(row, i) + ROW_BETWEEN;
		}
		y += heights.all + lines_between(composer);
	}
	end_group(composer);
}
