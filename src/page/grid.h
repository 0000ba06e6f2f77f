/*
 * grid.h - the day grid in the making, for grid*.c alone.
 *
 *     | day and side |  Morning 08:00     |  Evening 20:00      |  note  |   <- head
 *     |  8 Thu  (()  | 20 units  | ...    | +-125 mcg---------+ | ______ |   <- row
 *     | [ Visit, Fri 13 Jun, 09:15 ]      | |- - - - vial - - | |        |   <- band above its row
 *     |  9 Fri  ())  | 20 units  | ...    | +-125 mcg---------+ | ______ |
 *     |==9==( )==== 22:30 =========================================|   <- exact-time band
 *
 * Columns are shared out in sets, each narrow enough for a page: one set where
 * all fit, else mornings and evenings. Rows are shared out in ranges. A sheet is
 * one set over one range, which is one page. Every set has the same ranges, so
 * that the pages for one day's morning and evening lie side by side.
 *
 * grid.c shares out and turns pages; grid_columns.c has widths and heads,
 * grid_rows.c heights, frames and rows, grid_cell.c the cells, grid_band.c
 * visits, exact times and what waits.
 */
#ifndef PAGE_GRID_H
#define PAGE_GRID_H

#include "page/composer.h"

#define GRID_ROW_LEAST 13.2
#define GRID_ROW_MOST 18.0
#define GRID_EXACT_GROWTH 2.6 /* of an exact-time band */
#define GRID_TICK 6.2
#define GRID_CELL_RADIUS 1.2
#define GRID_HIP_ROOM 6.4  /* of the hip's sign in a cell, before the slot's sign */
#define GRID_DAY_TEXT 9.8  /* from the column's edge to the weekday */
#define GRID_DAY_SIDE 25.4 /* from the column's edge to the middle of the side's sign */

enum grid_part { PART_ALL, PART_MORNINGS, PART_EVENINGS };

/* Columns that stand side by side on one page. */
struct column_set {
	enum grid_part part;
	int number;            /* 1, 2 ... among the sets of its part */
	const size_t *columns; /* of the grid */
	size_t n_columns;
};

struct sheet_column {
	const struct grid_column *column;
	size_t index; /* in the grid */
	double x;
	double width;
};

/* Frames that belong to more than one row, or to a half whose other half is elsewhere. */
enum frame_kind { FRAME_SPLIT, FRAME_HALF, FRAME_WAIT };

struct sheet_frame {
	enum frame_kind kind;
	size_t column; /* of the sheet */
	size_t first;  /* rows of the sheet */
	size_t last;
};

enum row_form {
	ROW_DAY,   /* with cells */
	ROW_REST,  /* nothing to do: one line */
	ROW_VISIT, /* nothing to do but a visit: one band */
	ROW_NONE   /* the exact-time band stands for it */
};

struct sheet_row {
	const struct grid_row *row;
	enum row_form form;
	const struct grid_band *visits; /* above it; none where the row is ROW_VISIT */
	size_t n_visits;
	const struct grid_band *exact; /* below it */
	size_t n_exact;
	double extra;        /* height above a plain row, for what its cells hold more */
	double bands_height; /* of the visits above it, with their gaps */
	double exact_height; /* of the exact times below it, with their gaps */
	double bands_top;
	double top; /* of the row itself */
	double height;
};

struct grid_sheet {
	struct composer *composer;
	const struct grid *grid;
	const struct column_set *set;
	bool shows_visits;
	bool shows_morning; /* exact times of mornings; of evenings and nights */
	bool shows_evening;
	struct sheet_row *rows;
	size_t n_rows;
	struct sheet_column *columns;
	size_t n_columns;
	double day_width;
	double note_x; /* the column for notes */
	double note_width;
	struct sheet_frame *frames;
	size_t n_frames;
	double exact_growth; /* of each exact-time band above what it needs */
	bool shows_new;      /* one of its cells has the corner of a new dose */
};

/* A stretch of a horizontal that no frame covers. */
struct stretch {
	double left;
	double right;
};

/* ---- grid_columns.c ---- */

/* The least width of every column of the grid, by what its cells hold; with what is said only where there is room. */
const double *grid_least_widths(struct composer *composer, const struct grid *grid, bool with_goes_in);

/* The group whose time heads that column of the grid: every column stands in one. */
const struct grid_group *grid_group_of(const struct grid *grid, size_t column);

/* What columns may share: the live width without the day's column. */
double grid_share(size_t n_columns);

/* Chooses the columns that have something on the sheet's rows and gives them their widths. */
void grid_lay_columns(struct grid_sheet *sheet, const double *least);

double grid_head_height(const struct grid_sheet *sheet);
void grid_put_head(const struct grid_sheet *sheet, double y);

/* ---- grid_rows.c ---- */

/* Finds the rows' forms, frames and least heights. */
void grid_lay_rows(struct grid_sheet *sheet);

/* The height of all rows when each plain one has `row_height`. */
double grid_rows_height(const struct grid_sheet *sheet, double row_height);

/* How many rows and bands can take spare height, and giving it to the bands, each as much. */
size_t grid_plain_rows(const struct grid_sheet *sheet);
size_t grid_exact_times(const struct grid_sheet *sheet);
void grid_grow_exact_times(struct grid_sheet *sheet, double growth);

void grid_put_rows(struct grid_sheet *sheet, double y, double row_height);

/* True when no page may end below row `above` of the grid: a shared container or a waiting frame spans it. */
bool grid_holds_together(const struct grid *grid, size_t above);

/* True for an exact time that stands on the mornings' page where there is one. */
bool grid_band_of_morning(const struct grid_band *band);

/* The stretches between the rows above and at `row` that no frame of the sheet covers; returns how many. */
size_t grid_stretches(const struct grid_sheet *sheet, size_t row, struct stretch *stretches, size_t most);

/* The number, weekday and date in the middle of a row or band; the height that they and a side need. */
double grid_day_height(const struct grid_sheet *sheet);
void grid_put_day(const struct grid_sheet *sheet, const struct grid_row *row, double left, double y, double height);
/* The same on one line; returns its end. */
double grid_put_day_line(const struct grid_sheet *sheet, const struct grid_row *row, double y, double height);
/* Where the widest day of the sheet ends when it stands on one line; at least the end of the day's column. */
double grid_day_lines_end(const struct grid_sheet *sheet);

/* The side for the needle and its word, around `middle`: of the belly, or of the hip. */
void grid_put_side(const struct grid_sheet *sheet, const struct grid_row *row, bool hip, double middle, double y,
                   double height);
struct rect grid_side_area(bool hip, double middle, double top);

/* Where the needles of a row's cells go on this sheet. Where both, the day has the belly and the cell the hip. */
struct needles {
	bool belly;
	bool hip;
};

struct needles grid_needles(const struct grid_sheet *sheet, size_t row);

/* What the corner of a new dose means, on one line that ends at `right`, cap top at `y`; how wide that is. */
void grid_put_legend(const struct grid_sheet *sheet, double right, double y);
double grid_legend_width(struct composer *composer, const struct grid *grid);

/* How many cells a row has beside the day's. */
size_t grid_cells(const struct grid_sheet *sheet);

/* The frame that covers a cell, or NULL. */
const struct sheet_frame *grid_frame_at(const struct grid_sheet *sheet, size_t row, size_t column);

/* ---- grid_cell.c ---- */

/* Of the sheet's rows and columns. */
const struct grid_cell *cell_at(const struct grid_sheet *sheet, size_t row, size_t column);

/* The type of a tag's number, pt, also in large print; and how wide and high a tag is, without a number nothing. */
double grid_mark_size(const struct composer *composer);
struct rect grid_tag_size(struct composer *composer, struct mark_words words);

/* "New dose: page 37." */
const char *grid_new_dose_words(struct composer *composer, const struct grid_cell *cell);

/* "unless we call sooner: page 26" */
const char *grid_unless_words(struct composer *composer, const struct grid_column *column);

/* What it takes to say how much goes in beside the amount; 0: nothing to say. */
double cell_goes_in_width(struct composer *composer, const struct grid_cell *cell);
/* The narrowest a cell can be, and what it needs above the least height of a row. */
double cell_least_width(struct composer *composer, const struct grid_cell *cell);
/* The width at which the words of a column's cells take one line; 0: any. */
double cell_words_width(const struct grid_sheet *sheet, size_t column);
double cell_extra_height(const struct grid_sheet *sheet, size_t row, size_t column);

/* The frames that span rows, and where two halves meet. */
void grid_put_frames(const struct grid_sheet *sheet);

/* What stands in a cell, and its own frame where none spans it. */
void cell_put(const struct grid_sheet *sheet, size_t row, size_t column);

/* ---- grid_band.c ---- */

/* All heights are with the gaps around. A frame that spans the row and the one above interrupts its visit bands. */
/* The house; the tick before what lies above a band of past days. */
enum pictogram visit_sign(const struct grid_band *band);
double visit_band_height(const struct grid_sheet *sheet, size_t row, const struct grid_band *band);
void visit_band_put(const struct grid_sheet *sheet, size_t row, const struct grid_band *band, double y);
/* A day that has nothing but a visit: the band is the row. */
double visit_row_height(const struct grid_sheet *sheet, size_t row);
void visit_row_put(const struct grid_sheet *sheet, size_t row);

double exact_band_height(const struct grid_sheet *sheet, const struct grid_band *band);
void exact_band_put(const struct grid_sheet *sheet, size_t row, const struct grid_band *band, double y);

double waiting_height(struct composer *composer, const struct grid_waiting *waiting);
void waiting_put(struct composer *composer, const struct grid_waiting *waiting, double y);

#endif
