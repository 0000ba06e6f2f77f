/*
 * medicine.h - between the parts of one medicine's sheet: its front, its back, its steps.
 */
#ifndef PAGE_MEDICINE_H
#define PAGE_MEDICINE_H

#include "page/line_figure.h"

#define TEXT_LEADING 5.5

struct text_style medicine_style(const struct composer *composer, enum type_role role, enum text_weight weight);

void medicine_front(struct composer *composer, const struct medicine_sheet *sheet);
void medicine_back(struct composer *composer, const struct medicine_sheet *sheet);

/* A further page of the side that has this title and lead. */
void medicine_continue(struct composer *composer, const char *title, const char *lead);

/* ---- steps ---- */

void put_step_picture(struct composer *composer, const char *name, double x, double y, double size);

/*
 * A numbered step and the warnings before it. `steps` may hold warnings after
 * the last step; they make a cell of their own.
 */
struct step_cell {
	const struct step *warnings;
	size_t n_warnings;
	const struct step *step; /* NULL: warnings alone */
};

size_t step_cells(const struct step *steps, size_t n, struct step_cell *cells, size_t most);
#define STEP_CELLS_MOST 32

/* What is framed before a step, to its frame's end; 0 where there is nothing. */
double warnings_height(struct composer *composer, const struct step_cell *cell, double width);
void put_warnings(struct composer *composer, const struct step_cell *cell, double x, double y, double width);

/* In two columns from `y`: picture left, words right. `add` is the tag beside the step that measures the liquid. */
struct step_pairs {
	const struct step_cell *cells;
	size_t n;
	double picture;               /* size */
	const struct mark_words *add; /* or NULL */
};

double pairs_row_height(struct composer *composer, const struct step_pairs *pairs, size_t row);
double pairs_height(struct composer *composer, const struct step_pairs *pairs);
/* Rows from `first_row` as far as they end above `bottom`, each `extra` higher; returns the next row. */
size_t put_pairs(struct composer *composer, const struct step_pairs *pairs, size_t first_row, double y, double bottom,
                 double extra);

/*
 * Abreast: number, title, picture, text below one another, in as many lines as
 * `abreast` asks for. Or, closer, the picture beside number and title.
 */
struct step_row {
	const struct step_cell *cells;
	size_t n;
	size_t abreast;
	double picture;
	bool beside;
	const struct mark_words *add; /* as for pairs */
};

double step_row_height(struct composer *composer, const struct step_row *row);
void put_step_row(struct composer *composer, const struct step_row *row, double y);

#endif
