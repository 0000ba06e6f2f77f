/*
 * grid_rows.c - a sheet's rows: which form each has, how high it is, which frames span it.
 *
 * A frame that spans rows is never cut by a page. Two things can still come
 * between its rows: a visit, whose band then leaves the frame's column free, and
 * an exact time, which nothing may interrupt. There the frame gives way and each
 * half stands in a frame of its own, named by its words.
 */
#include "page/grid.h"

#include <math.h>

#define REST_HEIGHT 6.8
#define DAY_NUMBER_END 8.8 /* from the live column's edge to where the number ends */
#define SIDE_WIDTH 7.0
#define SIDE_HEIGHT 4.4
#define HIP_WIDTH 4.9   /* as high as wide */
#define LEGEND_SIGN 6.0 /* from the corner's sign to its words */

/* ---- what holds together ---- */

static bool pair_spans(const struct grid *grid, size_t column, size_t above)
{
	for (size_t i = 0; i <= above; i++) {
		const struct grid_cell *cell = &grid->rows[i].cells[column];
		if (cell->joins_next && i + (size_t)cell->join_rows > above &&
		    i + (size_t)cell->join_rows < grid->n_rows)
			return true;
	}
	return false;
}

bool grid_holds_together(const struct grid *grid, size_t above)
{
	if (above + 1 >= grid->n_rows)
		return false;
	for (size_t i = 0; i < grid->n_columns; i++) {
		if (pair_spans(grid, i, above))
			return true;
		if (grid->rows[above].n_exact == 0 && grid->rows[above].cells[i].state == CELL_WRITE_IN &&
		    grid->rows[above + 1].cells[i].state == CELL_WRITE_IN)
			return true;
	}
	return false;
}

/* ---- frames ---- */

static void add_frame(struct grid_sheet *sheet, struct sheet_frame frame)
{
	sheet->frames = arena_more(sheet->composer->arena, sheet->frames, sheet->n_frames, sizeof *sheet->frames);
	sheet->frames[sheet->n_frames++] = frame;
}

static bool exact_between(const struct grid_sheet *sheet, size_t first, size_t last)
{
	for (size_t i = first; i < last; i++)
		if (sheet->rows[i].n_exact > 0)
			return true;
	return false;
}

const struct sheet_frame *grid_frame_at(const struct grid_sheet *sheet, size_t row, size_t column)
{
	for (size_t i = 0; i < sheet->n_frames; i++) {
		const struct sheet_frame *frame = &sheet->frames[i];
		if (frame->column == column && frame->first <= row && row <= frame->last)
			return frame;
	}
	return NULL;
}

/* The last row of the waiting frame that begins at `first`. */
static size_t waiting_end(const struct grid_sheet *sheet, size_t first, size_t column)
{
	size_t last = first;
	while (last + 1 < sheet->n_rows && sheet->rows[last].n_exact == 0 &&
	       cell_at(sheet, last + 1, column)->state == CELL_WRITE_IN)
		last++;
	return last;
}

static void find_frames_of(struct grid_sheet *sheet, size_t column)
{
	for (size_t i = 0; i < sheet->n_rows; i++) {
		const struct grid_cell *cell = cell_at(sheet, i, column);
		size_t last = i + (size_t)cell->join_rows;
		if (grid_frame_at(sheet, i, column) != NULL)
			continue;
		if (cell->state == CELL_WRITE_IN)
			add_frame(sheet, (struct sheet_frame){FRAME_WAIT, column, i, waiting_end(sheet, i, column)});
		else if (cell->joins_next && last < sheet->n_rows && !exact_between(sheet, i, last))
			add_frame(sheet, (struct sheet_frame){FRAME_SPLIT, column, i, last});
		else if (cell->half != NULL && !cell->mark.open)
			add_frame(sheet, (struct sheet_frame){FRAME_HALF, column, i, i});
	}
}

static bool frame_spans(const struct grid_sheet *sheet, size_t row)
{
	for (size_t i = 0; i < sheet->n_frames; i++)
		if (sheet->frames[i].first < row && row < sheet->frames[i].last)
			return true;
	return false;
}

size_t grid_stretches(const struct grid_sheet *sheet, size_t row, struct stretch *stretches, size_t most)
{
	double left = sheet->composer->left;
	size_t n = 0;
	for (size_t i = 0; i < sheet->n_columns && n + 1 < most; i++) {
		const struct sheet_frame *frame = grid_frame_at(sheet, row, i);
		if (frame == NULL || frame->first == row)
			continue;
		if (sheet->columns[i].x > left)
			stretches[n++] = (struct stretch){left, sheet->columns[i].x};
		left = sheet->columns[i].x + sheet->columns[i].width;
	}
	if (left < sheet->composer->right)
		stretches[n++] = (struct stretch){left, sheet->composer->right};
	return n;
}

/* ---- forms and heights ---- */

bool grid_band_of_morning(const struct grid_band *band)
{
	return band->day_note == NULL && band->clock.hour < 12;
}

static void choose_exact(const struct grid_sheet *sheet, struct sheet_row *row)
{
	struct grid_band *exact = NULL;
	for (size_t i = 0; i < row->row->n_exact; i++) {
		const struct grid_band *band = &row->row->exact[i];
		if (!(grid_band_of_morning(band) ? sheet->shows_morning : sheet->shows_evening))
			continue;
		exact = arena_more(sheet->composer->arena, exact, row->n_exact, sizeof *exact);
		exact[row->n_exact++] = *band;
	}
	row->exact = exact;
}

static void choose_visits(const struct grid_sheet *sheet, struct sheet_row *row)
{
	struct grid_band *visits = NULL;
	for (size_t i = 0; i < row->row->n_visits_above; i++) {
		const struct grid_band *band = &row->row->visits_above[i];
		if (!sheet->shows_visits && !band->on_all_pages)
			continue;
		visits = arena_more(sheet->composer->arena, visits, row->n_visits, sizeof *visits);
		visits[row->n_visits++] = *band;
	}
	row->visits = visits;
}

static enum row_form form_of(const struct sheet_row *row)
{
	if (!row->row->rest)
		return ROW_DAY;
	if (row->n_exact > 0)
		return ROW_NONE;
	return row->n_visits == 1 && row->visits[0].kind == BAND_VISIT ? ROW_VISIT : ROW_REST;
}

static double extra_of(const struct grid_sheet *sheet, size_t row)
{
	double extra = 0;
	for (size_t i = 0; i < sheet->n_columns; i++)
		extra = fmax(extra, cell_extra_height(sheet, row, i));
	return extra;
}

#define DAY_LINE_BETWEEN 1.8 /* between weekday and date on one line */

double grid_day_lines_end(const struct grid_sheet *sheet)
{
	struct composer *composer = sheet->composer;
	struct text_style bold = composer_style(composer, TYPE_BODY, WEIGHT_BOLD);
	struct text_style small = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	double widest = sheet->day_width;
	for (size_t i = 0; i < sheet->n_rows; i++) {
		const struct grid_row *row = sheet->rows[i].row;
		widest = fmax(widest, GRID_DAY_TEXT + composer_text_width(composer, row->weekday, bold) +
		                              DAY_LINE_BETWEEN + composer_text_width(composer, row->date, small));
	}
	return composer->left + widest;
}

/* The x from which a rest row's words stand. */
static double rest_text_x(const struct grid_sheet *sheet)
{
	return grid_day_lines_end(sheet) + GAP_3;
}

/* A day whose only dose has a band on another page of these days: which, and where it is told. */
static const char *elsewhere_words(struct composer *composer, const struct grid_row *row)
{
	const char *all = NULL;
	for (size_t i = 0; i < row->n_exact; i++) {
		const struct grid_band *band = &row->exact[i];
		const char *page = composer_page_ref(composer, band->section);
		const char *one = say2(composer->speaker, "grid.night_dose", "time", band->time, "name", band->name);
		if (page != NULL)
			one = say2(composer->speaker, "overview.instead_page", "what", one, "page", page);
		all = all == NULL ? one : say2(composer->speaker, "list.comma", "first", all, "last", one);
	}
	return all;
}

static const char *rest_words(struct composer *composer, const struct grid_row *row)
{
	return row->rest_text != NULL ? row->rest_text : elsewhere_words(composer, row);
}

/* What the words of a rest day take beyond one line. */
static double rest_extra(const struct grid_sheet *sheet, const struct grid_row *row)
{
	struct text_style style = composer_style(sheet->composer, TYPE_BODY, WEIGHT_REGULAR);
	double room = sheet->composer->right - rest_text_x(sheet);
	return fmax(0, composer_text_height(sheet->composer, rest_words(sheet->composer, row), style, room) -
	                       text_cap_height(style));
}

static bool side_below(const struct grid_sheet *sheet);

#define ACCENT_SLACK 0.3 /* of what stands above three lines in a plain row */

/* Three lines fill a row: an accent on the weekday's capital needs more, and is centred with them. */
static double accent_extra(const struct grid_sheet *sheet, const struct grid_row *row)
{
	struct text_style weekday = composer_style(sheet->composer, TYPE_BODY, WEIGHT_BOLD);
	double rise = -text_ink(composer_set(sheet->composer, row->weekday, weekday, 0)).y;
	return side_below(sheet) && row->side != SIDE_NONE ? 2 * fmax(0, rise - ACCENT_SLACK) : 0;
}

static void measure_row(struct grid_sheet *sheet, size_t index)
{
	struct sheet_row *row = &sheet->rows[index];
	row->extra = row->form == ROW_DAY    ? fmax(extra_of(sheet, index), accent_extra(sheet, row->row))
	             : row->form == ROW_REST ? rest_extra(sheet, row->row)
	                                     : 0;
	for (size_t i = 0; i < row->n_visits && row->form != ROW_VISIT; i++)
		row->bands_height += visit_band_height(sheet, index, &row->visits[i]);
	for (size_t i = 0; i < row->n_exact; i++)
		row->exact_height += exact_band_height(sheet, &row->exact[i]);
	for (size_t i = 0; i < sheet->n_columns; i++) {
		const struct grid_cell *cell = cell_at(sheet, index, i);
		/* What a call sets may be new, too, and bears no corner. */
		sheet->shows_new = sheet->shows_new || (cell->state == CELL_DOSE && cell->new_amount);
	}
}

void grid_lay_rows(struct grid_sheet *sheet)
{
	for (size_t i = 0; i < sheet->n_rows; i++) {
		struct sheet_row *row = &sheet->rows[i];
		choose_visits(sheet, row);
		choose_exact(sheet, row);
	}
	for (size_t i = 0; i < sheet->n_columns; i++)
		find_frames_of(sheet, i);
	for (size_t i = 0; i < sheet->n_rows; i++)
		sheet->rows[i].form = frame_spans(sheet, i) ? ROW_DAY : form_of(&sheet->rows[i]);
	for (size_t i = 0; i < sheet->n_rows; i++)
		measure_row(sheet, i);
}

static double height_of(const struct grid_sheet *sheet, size_t index, double row_height)
{
	const struct sheet_row *row = &sheet->rows[index];
	switch (row->form) {
	case ROW_DAY:
		return row_height + row->extra;
	case ROW_REST:
		return REST_HEIGHT + row->extra;
	case ROW_VISIT:
		return visit_row_height(sheet, index);
	case ROW_NONE:
		break;
	}
	return 0;
}

double grid_rows_height(const struct grid_sheet *sheet, double row_height)
{
	double height = 0;
	for (size_t i = 0; i < sheet->n_rows; i++)
		height += sheet->rows[i].bands_height + height_of(sheet, i, row_height) + sheet->rows[i].exact_height;
	return height;
}

size_t grid_plain_rows(const struct grid_sheet *sheet)
{
	size_t n = 0;
	for (size_t i = 0; i < sheet->n_rows; i++)
		n += sheet->rows[i].form == ROW_DAY;
	return n;
}

size_t grid_exact_times(const struct grid_sheet *sheet)
{
	size_t n = 0;
	for (size_t i = 0; i < sheet->n_rows; i++)
		n += sheet->rows[i].n_exact;
	return n;
}

void grid_grow_exact_times(struct grid_sheet *sheet, double growth)
{
	sheet->exact_growth = growth;
	for (size_t i = 0; i < sheet->n_rows; i++)
		sheet->rows[i].exact_height += growth * (double)sheet->rows[i].n_exact;
}

/* ---- the day's own column ---- */

static const char *day_number(const struct grid_sheet *sheet, const struct grid_row *row)
{
	return arena_printf(sheet->composer->arena, "%d", row->day);
}

static void put_day_number(const struct grid_sheet *sheet, const struct grid_row *row, double left, double middle)
{
	struct composer *composer = sheet->composer;
	struct text_style number = composer_style(composer, TYPE_DAY, WEIGHT_BOLD);
	put_text(composer, day_number(sheet, row), number, ALIGN_END, left + DAY_NUMBER_END,
	         middle - text_cap_height(number) / 2, 0, COLOUR_INK);
}

#define DAY_LINES 1.9  /* between three lines: weekday, date, the side's word */
#define SIDE_CLEAR 0.8 /* between a weekday and the side's sign */
#define WORD_CLEAR 1.9 /* between a date and the side's word: closer, they read as one */
#define SIDE_AWAY 1.9
#define SIDE_WORD 1.7    /* between the side's sign and its word */
#define SIDE_COLUMN 30.0 /* a day's column as narrow as this has nothing to spare */
#define SIDE_END 1.2     /* from a sign that was pushed aside to the end of the day's column */

/* What the day's column can spare to keep the side's word away from the date. */
static double side_room(const struct grid_sheet *sheet)
{
	return fmin(SIDE_AWAY, fmax(0, sheet->day_width - SIDE_COLUMN));
}

static bool has_no_room_beside(const struct grid_sheet *sheet, const struct grid_row *row)
{
	struct composer *composer = sheet->composer;
	struct text_style small = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	double date = GRID_DAY_TEXT + composer_text_width(composer, row->date, small);
	double middle = GRID_DAY_SIDE + side_room(sheet);
	double half = composer_text_width(composer, row->side_word, small) / 2;
	return row->side != SIDE_NONE && (middle - half < date + WORD_CLEAR || middle + half > sheet->day_width);
}

/* "izquierda" has no room beside a date: then the word takes a line of its own below, in every row of the sheet. */
static bool side_below(const struct grid_sheet *sheet)
{
	for (size_t i = 0; i < sheet->n_rows; i++)
		if (has_no_room_beside(sheet, sheet->rows[i].row))
			return true;
	return false;
}

/* A long weekday pushes the side's sign to the end of the day's column, in every row of the sheet. */
static double side_shift(const struct grid_sheet *sheet)
{
	struct text_style bold = composer_style(sheet->composer, TYPE_BODY, WEIGHT_BOLD);
	double widest = 0;
	for (size_t i = 0; i < sheet->n_rows; i++)
		widest = fmax(widest, composer_text_width(sheet->composer, sheet->rows[i].row->weekday, bold));
	bool meets = GRID_DAY_TEXT + widest + SIDE_CLEAR > GRID_DAY_SIDE - SIDE_WIDTH / 2;
	return meets ? sheet->day_width - SIDE_END - SIDE_WIDTH / 2 - GRID_DAY_SIDE : 0;
}

/* The side's sign may stand at the height of the dates, right above its word. */
static bool sign_clears_dates(const struct grid_sheet *sheet)
{
	struct text_style small = composer_style(sheet->composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	double widest = 0;
	for (size_t i = 0; i < sheet->n_rows; i++)
		widest = fmax(widest, composer_text_width(sheet->composer, sheet->rows[i].row->date, small));
	return GRID_DAY_TEXT + widest + SIDE_CLEAR <= GRID_DAY_SIDE + side_shift(sheet) - SIDE_WIDTH / 2;
}

static double three_lines_height(const struct composer *composer)
{
	struct text_style weekday = composer_style(composer, TYPE_BODY, WEIGHT_BOLD);
	struct text_style small = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	return text_cap_height(weekday) + 2 * (DAY_LINES + text_cap_height(small));
}

/* Where the first of the three lines begins, in a row whose middle is there. */
static double three_lines_top(struct composer *composer, double middle)
{
	return middle - three_lines_height(composer) / 2;
}

double grid_day_height(const struct grid_sheet *sheet)
{
	struct text_style word = composer_style(sheet->composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	if (side_below(sheet))
		return three_lines_height(sheet->composer);
	return SIDE_HEIGHT + SIDE_WORD + text_cap_height(word);
}

void grid_put_day(const struct grid_sheet *sheet, const struct grid_row *row, double left, double y, double height)
{
	struct composer *composer = sheet->composer;
	struct text_style weekday = composer_style(composer, TYPE_BODY, WEIGHT_BOLD);
	struct text_style date = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	double middle = y + height / 2;
	double between = 2.5;
	double top = middle - (text_cap_height(weekday) + between + text_cap_height(date)) / 2;
	if (side_below(sheet) && row->side != SIDE_NONE) {
		between = DAY_LINES;
		top = three_lines_top(composer, middle);
	}
	put_day_number(sheet, row, left, middle);
	double room = GRID_DAY_SIDE + side_shift(sheet) - SIDE_WIDTH / 2 - SIDE_CLEAR - GRID_DAY_TEXT;
	const struct text_block *name =
		composer_set_name(composer, row->weekday, weekday, row->side == SIDE_NONE ? 0 : room, 1);
	put_block(composer, name, ALIGN_START, left + GRID_DAY_TEXT, top, COLOUR_INK);
	put_plain(composer, row->date, date, left + GRID_DAY_TEXT, top + text_cap_height(weekday) + between, 0);
}

double grid_put_day_line(const struct grid_sheet *sheet, const struct grid_row *row, double y, double height)
{
	struct composer *composer = sheet->composer;
	struct text_style bold = composer_style(composer, TYPE_BODY, WEIGHT_BOLD);
	struct text_style small = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	double top = y + (height - text_cap_height(bold)) / 2;
	put_text(composer, day_number(sheet, row), bold, ALIGN_END, composer->left + DAY_NUMBER_END, top, 0,
	         COLOUR_INK);
	struct rect weekday = put_plain(composer, row->weekday, bold, composer->left + GRID_DAY_TEXT, top, 0);
	struct rect date = put_plain(composer, row->date, small, weekday.x + weekday.width + DAY_LINE_BETWEEN,
	                             top + text_cap_height(bold) - text_cap_height(small), 0);
	return date.x + date.width;
}

struct rect grid_side_area(bool hip, double middle, double top)
{
	double width = hip ? HIP_WIDTH : SIDE_WIDTH;
	return (struct rect){middle - width / 2, top, width, hip ? HIP_WIDTH : SIDE_HEIGHT};
}

void grid_put_side(const struct grid_sheet *sheet, const struct grid_row *row, bool hip, double middle, double y,
                   double height)
{
	struct composer *composer = sheet->composer;
	struct text_style word = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	double sign = grid_side_area(hip, 0, 0).height;
	double top = y + (height - sign - SIDE_WORD - text_cap_height(word)) / 2;
	bool below = side_below(sheet);
	middle += side_shift(sheet);
	double word_top = top + sign + SIDE_WORD;
	if (below) {
		top = three_lines_top(composer, y + height / 2);
		word_top = top + three_lines_height(composer) - text_cap_height(word);
		top = sign_clears_dates(sheet) ? fmax(top, word_top - SIDE_WORD - sign) : top;
	}
	struct rect area = grid_side_area(hip, middle, top);
	begin_artifact(composer);
	put_mark(composer, (struct placed_mark){.kind = MARK_SIDE,
	                                        .area = area,
	                                        .side = {{area.x, area.y}, area.width, row->side, hip}});
	end_group(composer);
	if (below)
		put_text(composer, row->side_word, word, ALIGN_END, middle + SIDE_WIDTH / 2, word_top, 0, COLOUR_INK);
	else
		put_text(composer, row->side_word, word, ALIGN_CENTER, middle, word_top, 0, COLOUR_INK);
}

/* A side is for a needle, so it is shown where this sheet has one on that day. */
struct needles grid_needles(const struct grid_sheet *sheet, size_t row)
{
	struct needles needles = {false, false};
	for (size_t i = 0; i < sheet->n_columns; i++) {
		const struct grid_cell *cell = cell_at(sheet, row, i);
		if (cell->mark.number != NULL || cell->state == CELL_WRITE_IN)
			*(sheet->columns[i].column->muscle ? &needles.hip : &needles.belly) = true;
	}
	return needles;
}

/* ---- putting ---- */

size_t grid_cells(const struct grid_sheet *sheet)
{
	return sheet->n_columns + (sheet->note_width > 0 ? 1 : 0);
}

/* Each is a row of its own, across all columns. */
static void put_visits(const struct grid_sheet *sheet, size_t index)
{
	const struct sheet_row *row = &sheet->rows[index];
	double y = row->bands_top;
	for (size_t i = 0; i < row->n_visits; i++) {
		visit_band_put(sheet, index, &row->visits[i], y);
		y += visit_band_height(sheet, index, &row->visits[i]);
	}
}

static void put_day_row(const struct grid_sheet *sheet, size_t index)
{
	struct composer *composer = sheet->composer;
	const struct sheet_row *row = &sheet->rows[index];
	double away = side_shift(sheet) > 0 ? 0 : side_room(sheet); /* pushed aside already */
	begin_group(composer, ROLE_ROW);
	begin_head_cell(composer, SCOPE_ROW);
	grid_put_day(sheet, row->row, composer->left, row->top, row->height);
	struct needles needles = grid_needles(sheet, index);
	if (row->row->side != SIDE_NONE && (needles.belly || needles.hip))
		grid_put_side(sheet, row->row, !needles.belly, composer->left + GRID_DAY_SIDE + away, row->top,
		              row->height);
	end_group(composer);
	for (size_t i = 0; i < sheet->n_columns; i++) {
		begin_group(composer, ROLE_CELL);
		cell_put(sheet, index, i);
		end_group(composer);
	}
	if (sheet->note_width > 0) {
		begin_group(composer, ROLE_CELL);
		begin_artifact(composer);
		put_line(composer, sheet->note_x, sheet->note_x + sheet->note_width, row->top + row->height - 3.6,
		         LINE_OUTLINE);
		end_group(composer);
		end_group(composer);
	}
	end_group(composer);
}

double grid_legend_width(struct composer *composer, const struct grid *grid)
{
	struct text_style style = composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
	return LEGEND_SIGN + composer_text_width(composer, grid->new_legend, style);
}

void grid_put_legend(const struct grid_sheet *sheet, double right, double y)
{
	struct composer *composer = sheet->composer;
	struct text_style style = composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
	struct rect text = put_text(composer, sheet->grid->new_legend, style, ALIGN_END, right, y, 0, COLOUR_INK);
	double leg = 3.5;
	struct point corner = {text.x - LEGEND_SIGN, y + (text.height - leg) / 2};
	begin_artifact(composer);
	put_mark(composer, (struct placed_mark){.kind = MARK_CORNER,
	                                        .area = {corner.x, corner.y, leg, leg},
	                                        .corner = {corner, leg}});
	end_group(composer);
}

static void put_rest_row(const struct grid_sheet *sheet, size_t index)
{
	struct composer *composer = sheet->composer;
	const struct sheet_row *row = &sheet->rows[index];
	struct text_style style = composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
	begin_group(composer, ROLE_ROW);
	begin_head_cell(composer, SCOPE_ROW);
	grid_put_day_line(sheet, row->row, row->top, row->height);
	end_group(composer);
	begin_wide_cell(composer, grid_cells(sheet));
	double y = row->top + (row->height - row->extra - text_cap_height(style)) / 2;
	put_plain(composer, rest_words(composer, row->row), style, rest_text_x(sheet), y,
	          composer->right - rest_text_x(sheet));
	end_group(composer);
	end_group(composer);
}

static void put_exacts(const struct grid_sheet *sheet, size_t index)
{
	const struct sheet_row *row = &sheet->rows[index];
	double y = row->top + row->height;
	for (size_t i = 0; i < row->n_exact; i++) {
		exact_band_put(sheet, index, &row->exact[i], y);
		y += exact_band_height(sheet, &row->exact[i]);
	}
}

static void put_row(const struct grid_sheet *sheet, size_t index)
{
	if (sheet->rows[index].form != ROW_VISIT)
		put_visits(sheet, index);
	switch (sheet->rows[index].form) {
	case ROW_DAY:
		put_day_row(sheet, index);
		break;
	case ROW_REST:
		put_rest_row(sheet, index);
		break;
	case ROW_VISIT:
		visit_row_put(sheet, index);
		break;
	case ROW_NONE:
		break;
	}
	put_exacts(sheet, index);
}

/* A hairline above every row but the first; a band is its own line. */
static void put_row_lines(const struct grid_sheet *sheet)
{
	struct stretch stretches[8];
	for (size_t i = 1; i < sheet->n_rows; i++) {
		const struct sheet_row *row = &sheet->rows[i];
		const struct sheet_row *above = &sheet->rows[i - 1];
		bool after_band = row->bands_height == 0 && (above->n_exact > 0 || above->form == ROW_VISIT);
		if (row->form == ROW_NONE || row->form == ROW_VISIT || after_band)
			continue;
		size_t n = grid_stretches(sheet, i, stretches, 8);
		for (size_t j = 0; j < n; j++)
			put_line(sheet->composer, stretches[j].left, stretches[j].right, row->top, LINE_HAIR);
	}
}

/* A band at the end closes the table itself. */
static bool ends_open(const struct grid_sheet *sheet)
{
	const struct sheet_row *last = &sheet->rows[sheet->n_rows - 1];
	return last->n_exact == 0 && (last->form == ROW_DAY || last->form == ROW_REST);
}

void grid_put_rows(struct grid_sheet *sheet, double y, double row_height)
{
	struct composer *composer = sheet->composer;
	for (size_t i = 0; i < sheet->n_rows; i++) {
		struct sheet_row *row = &sheet->rows[i];
		row->bands_top = y;
		row->top = y + row->bands_height;
		row->height = height_of(sheet, i, row_height);
		y = row->top + row->height + row->exact_height;
	}
	begin_artifact(composer);
	put_row_lines(sheet);
	grid_put_frames(sheet);
	end_group(composer);
	for (size_t i = 0; i < sheet->n_rows; i++)
		put_row(sheet, i);
	if (ends_open(sheet)) {
		begin_artifact(composer);
		put_line(composer, composer->left, composer->right, y, LINE_MAIN);
		end_group(composer);
	}
}
