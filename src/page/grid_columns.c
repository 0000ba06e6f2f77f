/*
 * grid_columns.c - how wide the grid's columns are, and their heads.
 *
 * A column is at least as wide as its widest cell. What is left over goes to
 * all columns alike; where much is left, a column for notes takes most of it,
 * so that a tick never stands far from its dose.
 */
#include "page/grid.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#define COLUMN_LEAST 25.0
#define COLUMN_MOST 60.0
#define SPLIT_LEAST 43.0
#define SPLIT_LEAST_OF_FIVE 41.2
#define NOTE_LEAST 24.0
#define NOTE_MOST 46.0
#define NOTE_SHARE 0.7
#define NOTE_DISTANCE 3.0
#define DAY_WIDTH 32.0
#define DAY_WIDTH_OF_FIVE 30.0

#define HEAD_HEIGHT 24.9 /* content top to the rule under it, with three lines beside the picture */
#define HEAD_RULE 5.4    /* of a group */
#define HEAD_DEVICE 7.6  /* cap top of the first line beside the picture */
#define HEAD_LINES 3
#define DEVICE_X 9.4
#define PICTURE_X 0.8
#define PICTURE_SIZE 7.2
#define NAME_SIZE 12.5
#define NAME_LINES 4
#define REFERENCE_LEADING 4.1
#define NAME_LEADING 5.0

static struct text_style name_style(void)
{
	return (struct text_style){.size = NAME_SIZE, .weight = WEIGHT_BOLD, .leading = NAME_LEADING};
}

static struct text_style device_style(const struct composer *composer, enum text_weight weight)
{
	struct text_style style = composer_style(composer, TYPE_REFERENCE, weight);
	style.leading = REFERENCE_LEADING;
	return style;
}

/* ---- widths ---- */

static double head_least_width(struct composer *composer, const struct grid_column *column)
{
	struct text_style name = name_style();
	double device = composer_widest_word(composer, column->device, device_style(composer, WEIGHT_BOLD));
	return fmax(composer_widest_word(composer, column->name, name) + 1.8, DEVICE_X + device + 0.5);
}

const double *grid_least_widths(struct composer *composer, const struct grid *grid, bool with_goes_in)
{
	double *least = arena_alloc(composer->arena, grid->n_columns * sizeof *least);
	bool five = grid->n_columns == 5;
	for (size_t i = 0; i < grid->n_columns; i++) {
		const struct grid_column *column = &grid->columns[i];
		double split = five ? SPLIT_LEAST_OF_FIVE : SPLIT_LEAST;
		least[i] = fmax(column->has_halves ? split : COLUMN_LEAST, head_least_width(composer, column));
		for (size_t j = 0; j < grid->n_rows; j++) {
			const struct grid_cell *cell = &grid->rows[j].cells[i];
			double hip = column->muscle && grid->rows[j].belly ? GRID_HIP_ROOM : 0;
			least[i] = fmax(least[i], cell_least_width(composer, cell) + hip);
			if (with_goes_in)
				least[i] = fmax(least[i], cell_goes_in_width(composer, cell));
		}
	}
	return least;
}

double grid_share(size_t n_columns)
{
	return LIVE_WIDTH - (n_columns >= 5 ? DAY_WIDTH_OF_FIVE : DAY_WIDTH);
}

static bool column_used(const struct grid_sheet *sheet, size_t column)
{
	for (size_t i = 0; i < sheet->n_rows; i++)
		if (sheet->rows[i].row->cells[column].state != CELL_EMPTY)
			return true;
	return false;
}

static void choose_columns(struct grid_sheet *sheet)
{
	sheet->columns = arena_alloc(sheet->composer->arena, sheet->set->n_columns * sizeof *sheet->columns);
	sheet->n_columns = 0;
	for (size_t i = 0; i < sheet->set->n_columns; i++) {
		size_t index = sheet->set->columns[i];
		if (column_used(sheet, index))
			sheet->columns[sheet->n_columns++] =
				(struct sheet_column){.column = &sheet->grid->columns[index], .index = index};
	}
}

#define GROUP_TEXT 7.8 /* from a group's edge to its words */
#define GROUP_EDGE 0.25
#define NAME_LEAST 0.86 /* a little more than what a name may shrink to */

const struct grid_group *grid_group_of(const struct grid *grid, size_t column)
{
	const struct grid_group *group = grid->groups;
	assert(column < grid->n_columns);
	while (column >= group->first_column + group->n_columns)
		group++;
	return group;
}

static bool begins_group(const struct grid_sheet *sheet, size_t column)
{
	return column == 0 || grid_group_of(sheet->grid, sheet->columns[column - 1].index) !=
	                              grid_group_of(sheet->grid, sheet->columns[column].index);
}

/* "Bedtime 21:30"; the time alone where no word is for it. */
static const char *group_label(struct composer *composer, const struct grid_group *group)
{
	return group->word == NULL ? group->time : arena_printf(composer->arena, "%s %s", group->word, group->time);
}

static struct text_style group_style(const struct composer *composer)
{
	return composer_style(composer, TYPE_BODY, WEIGHT_BOLD);
}

/* What the columns of the group that begins at `first` lack, all in all, to have its word beside its time. */
static double group_lacks(const struct grid_sheet *sheet, size_t first, const double *least)
{
	struct composer *composer = sheet->composer;
	const struct grid_group *group = grid_group_of(sheet->grid, sheet->columns[first].index);
	double width = GROUP_TEXT + 2 * GROUP_EDGE +
	               NAME_LEAST * composer_text_width(composer, group_label(composer, group), group_style(composer));
	for (size_t i = first; i < sheet->n_columns && (i == first || !begins_group(sheet, i)); i++)
		width -= least[sheet->columns[i].index];
	return fmax(0, width);
}

/* What each column has at least: the first of a group more where that gives its word room and all can have it. */
static double *widths_with_words(const struct grid_sheet *sheet, const double *least, double share)
{
	double *widths = arena_alloc(sheet->composer->arena, (sheet->n_columns + 1) * sizeof *widths);
	double sum = 0;
	for (size_t i = 0; i < sheet->n_columns; i++)
		sum += widths[i] = least[sheet->columns[i].index];
	for (size_t i = 0; i < sheet->n_columns; i++) {
		double lacks = begins_group(sheet, i) ? group_lacks(sheet, i, least) : 0;
		if (sum + lacks > share)
			continue;
		widths[i] += lacks;
		sum += lacks;
	}
	return widths;
}

/* Widens the columns whose words would take a second line, as far as the notes can spare it. */
static void widen_for_words(struct grid_sheet *sheet)
{
	for (size_t i = 0; i < sheet->n_columns; i++) {
		double more = cell_words_width(sheet, i) - sheet->columns[i].width;
		if (more <= 0 || more > sheet->note_width - NOTE_LEAST)
			continue;
		sheet->columns[i].width += more;
		for (size_t j = i + 1; j < sheet->n_columns; j++)
			sheet->columns[j].x += more;
		sheet->note_x += more;
		sheet->note_width -= more;
	}
}

void grid_lay_columns(struct grid_sheet *sheet, const double *least)
{
	choose_columns(sheet);
	double share = grid_share(sheet->n_columns);
	const double *widths = widths_with_words(sheet, least, share);
	double sum = 0;
	for (size_t i = 0; i < sheet->n_columns; i++)
		sum += widths[i];
	double spare = share - sum;
	sheet->note_width = spare < NOTE_LEAST ? 0 : fmin(fmax(NOTE_SHARE * spare, NOTE_LEAST), NOTE_MOST);
	sheet->day_width = LIVE_WIDTH - share;

	double each = sheet->n_columns == 0 ? 0 : (spare - sheet->note_width) / (double)sheet->n_columns;
	double x = sheet->composer->left + sheet->day_width;
	for (size_t i = 0; i < sheet->n_columns; i++) {
		double own = widths[i];
		sheet->columns[i].x = x;
		sheet->columns[i].width = fmin(own + each, fmax(own, COLUMN_MOST));
		x += sheet->columns[i].width;
	}
	sheet->note_x = x + NOTE_DISTANCE;
	if (sheet->note_width > 0)
		sheet->note_width = sheet->composer->right - sheet->note_x;
	widen_for_words(sheet);
}

/* ---- heads ---- */

static double device_width(const struct sheet_column *column)
{
	return column->width - DEVICE_X - 0.5;
}

static const char *page_words(struct composer *composer, const struct grid_column *column)
{
	return column->n_instead > 0 ? composer_page_list(composer, column->instead, column->n_instead)
	                             : composer_page_refs(composer, column->section);
}

/* Lines beside the picture: the device's and the page reference's. */
static int device_lines(const struct grid_sheet *sheet, const struct sheet_column *column)
{
	const char *pages = page_words(sheet->composer, column->column);
	int lines =
		pages == NULL
			? 0
			: text_lines(composer_set(sheet->composer, pages, device_style(sheet->composer, WEIGHT_REGULAR),
	                                          device_width(column)));
	if (column->column->device == NULL || column->column->device[0] == '\0')
		return lines;
	return lines + text_lines(composer_set(sheet->composer, column->column->device,
	                                       device_style(sheet->composer, WEIGHT_BOLD), device_width(column)));
}

static const struct text_block *name_block(const struct grid_sheet *sheet, const struct sheet_column *column)
{
	return composer_set_name(sheet->composer, column->column->name, name_style(), column->width - 1.6, NAME_LINES);
}

/* What the tallest column needs above HEAD_HEIGHT. */
static double head_growth(const struct grid_sheet *sheet, double *above_names)
{
	int lines = HEAD_LINES;
	double names = 0;
	for (size_t i = 0; i < sheet->n_columns; i++) {
		int own = device_lines(sheet, &sheet->columns[i]);
		lines = own > lines ? own : lines;
		const struct text_block *name = name_block(sheet, &sheet->columns[i]);
		names = fmax(names, text_height(name) - text_cap_height(*text_style_of(name)));
	}
	*above_names = (lines - HEAD_LINES) * REFERENCE_LEADING;
	return *above_names + names;
}

/* Rest, visits and exact times span the page: without columns there is nothing to head. */
double grid_head_height(const struct grid_sheet *sheet)
{
	double above;
	return sheet->n_columns == 0 ? 0 : HEAD_HEIGHT + head_growth(sheet, &above);
}

/* The sheet's columns of one group stand side by side; `first` is the first of them. */
static double group_right(const struct grid_sheet *sheet, size_t first)
{
	const struct grid_group *group = grid_group_of(sheet->grid, sheet->columns[first].index);
	size_t last = first;
	while (last + 1 < sheet->n_columns && grid_group_of(sheet->grid, sheet->columns[last + 1].index) == group)
		last++;
	return sheet->columns[last].x + sheet->columns[last].width;
}

/* "Morning 08:00", or "08:00" alone where the word leaves no room. */
static const struct text_block *group_block(const struct grid_sheet *sheet, size_t first)
{
	struct composer *composer = sheet->composer;
	const struct grid_group *group = grid_group_of(sheet->grid, sheet->columns[first].index);
	double room = group_right(sheet, first) - sheet->columns[first].x - 2 * GROUP_EDGE - GROUP_TEXT;
	struct text_style style = group_style(composer);
	const char *both = group_label(composer, group);
	bool fits = NAME_LEAST * composer_text_width(composer, both, style) <= room + TOLERANCE;
	return composer_set_name(composer, fits ? both : group->time, style, room, 1);
}

static void put_group_sign(const struct grid_sheet *sheet, const struct grid_group *group, double left, double y)
{
	struct composer *composer = sheet->composer;
	begin_artifact(composer);
	put_picture(composer, group->sign, left + 0.8, y + text_cap_height(group_style(composer)) / 2 - 2.9, 5.8);
	end_group(composer);
}

/* Each column's head says its time: the first of a group with its word, where that leaves the others room. */
static void put_group(const struct grid_sheet *sheet, size_t index, double y)
{
	struct composer *composer = sheet->composer;
	const struct grid_group *group = grid_group_of(sheet->grid, sheet->columns[index].index);
	size_t first = index;
	while (!begins_group(sheet, first))
		first--;
	const struct text_block *label = group_block(sheet, first);
	double left = sheet->columns[index].x + GROUP_EDGE;
	double taken = sheet->columns[first].x + GROUP_EDGE + GROUP_TEXT + text_width(label);
	bool repeats = index > first && taken + GAP_1 <= left &&
	               GROUP_TEXT + composer_text_width(composer, group->time, group_style(composer)) <=
	                       sheet->columns[index].width - 2 * GROUP_EDGE;
	if (index == first) {
		put_block(composer, label, ALIGN_START, left + GROUP_TEXT, y, COLOUR_INK);
		put_group_sign(sheet, group, left, y);
	} else if (repeats) {
		put_plain(composer, group->time, group_style(composer), left + GROUP_TEXT, y, 0);
		put_group_sign(sheet, group, left, y);
	}
}

/* The line under it goes on to the group's last column. */
static void put_group_line(const struct grid_sheet *sheet, size_t first, double y)
{
	struct composer *composer = sheet->composer;
	begin_artifact(composer);
	put_line(composer, sheet->columns[first].x + GROUP_EDGE, group_right(sheet, first) - GROUP_EDGE, y + HEAD_RULE,
	         LINE_STRONG);
	end_group(composer);
}

static void put_column_head(const struct grid_sheet *sheet, size_t index, double y, double name_bottom)
{
	struct composer *composer = sheet->composer;
	const struct sheet_column *column = &sheet->columns[index];
	composer_note_part(composer, column->column->item);
	begin_head_cell(composer, SCOPE_COLUMN);
	put_group(sheet, index, y);
	if (begins_group(sheet, index))
		put_group_line(sheet, index, y);

	begin_artifact(composer);
	put_picture(composer, column->column->pictogram, column->x + PICTURE_X, y + HEAD_DEVICE - 0.4, PICTURE_SIZE);
	end_group(composer);
	const struct text_block *name = name_block(sheet, column);
	put_block(composer, name, ALIGN_START, column->x + 0.8, name_bottom - text_height(name), COLOUR_INK);
	double x = column->x + DEVICE_X;
	struct rect device = put_plain(composer, column->column->device, device_style(composer, WEIGHT_BOLD), x,
	                               y + HEAD_DEVICE, device_width(column));
	struct text_style style = device_style(composer, WEIGHT_REGULAR);
	double below = device.height > 0 ? device.y + device.height + REFERENCE_LEADING - text_cap_height(style)
	                                 : y + HEAD_DEVICE;
	if (column->column->n_instead > 0)
		put_page_list(composer, column->column->instead, column->column->n_instead, style, ALIGN_START, x,
		              below, device_width(column));
	else
		put_page_refs(composer, column->column->section, style, ALIGN_START, x, below, device_width(column));
	end_group(composer);
}

/* A small text whose last line stands on the names' baseline. */
static void put_corner(const struct grid_sheet *sheet, const char *text, double x, double width, double bottom)
{
	struct composer *composer = sheet->composer;
	struct text_style style = device_style(composer, WEIGHT_REGULAR);
	style.leading = 4.5;
	begin_head_cell(composer, SCOPE_COLUMN);
	put_plain(composer, text, style, x, bottom - composer_text_height(composer, text, style, width), width);
	end_group(composer);
}

void grid_put_head(const struct grid_sheet *sheet, double y)
{
	struct composer *composer = sheet->composer;
	double bottom = y + grid_head_height(sheet);
	double names = bottom - 2.0;
	if (sheet->n_columns == 0)
		return;
	begin_group(composer, ROLE_ROW);
	put_corner(sheet, sheet->grid->corner, composer->left, sheet->day_width - 3, names);
	for (size_t i = 0; i < sheet->n_columns; i++)
		put_column_head(sheet, i, y, names);
	if (sheet->note_width > 0)
		put_corner(sheet, say0(composer->speaker, "grid.note"), sheet->note_x, sheet->note_width, names);
	end_group(composer);
	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, bottom, LINE_MAIN);
	end_group(composer);
}
