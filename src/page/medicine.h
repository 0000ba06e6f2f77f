/*
 * medicine.h - between the parts of one medicine's sheet: its front, its back, its steps.
 */
#ifndef PAGE_MEDICINE_H
#define PAGE_MEDICINE_H

#include "page/line_figure.h"

#define TEXT_LEADING 5.5

struct text_style medicine_style(const struct composer *composer, enum type_role role, enum text_weight weight);

/* Before any part: from here on the steps' small drawings show this sheet's line and needle. */
void medicine_begin(struct composer *composer, const struct medicine_sheet *sheet);
void medicine_front(struct composer *composer, const struct medicine_sheet *sheet);
/* The sheet as its back shows it: without the caution, which stands on the front. */
const struct medicine_sheet *medicine_for_back(struct composer *composer, const struct medicine_sheet *of);
/*
 * Returns false where the squares of a vial and the notes are left to the helper's pages behind it: of an injection into
 * the muscle, in large print, or where its back has no room for them.
 */
bool medicine_back(struct composer *composer, const struct medicine_sheet *sheet);

/* Pages that only some sheets have: a measured liquid's, several powders', part of a filled syringe, the helper's. */
void medicine_mix(struct composer *composer, const struct medicine_sheet *sheet);
void medicine_chain(struct composer *composer, const struct medicine_sheet *sheet);
void medicine_part(struct composer *composer, const struct medicine_sheet *sheet);
/* `rest`: with what the back had no room for. */
void medicine_muscle(struct composer *composer, const struct medicine_sheet *sheet, bool rest);

/* All of several powders is given: there is no line to stop on, and their page is the back. */
bool chain_is_back(const struct medicine_sheet *sheet);

/* Where it goes in today: across the page, or beside a window, where the sheet must have a place. */
double place_height(struct composer *composer, const struct medicine_sheet *sheet);
void put_place(struct composer *composer, const struct medicine_sheet *sheet, double y);
double place_beside_height(struct composer *composer, const struct medicine_sheet *sheet, double width);
void put_place_beside(struct composer *composer, const struct medicine_sheet *sheet, struct point at, double width);
/* A step on this side of the sheet asks for the place. */
bool place_is_asked_on(const struct medicine_sheet *sheet, enum asked_on side);
/* A body with the side's places black and a letter on each of its sides; the caller begins the figure. */
void put_body(struct composer *composer, const struct todays_place *place, enum side side, struct rect area);

/* Both syringes of a dose at two places; the boxes of a vial that serves many days. 0 high where the sheet has none. */
double twice_height(struct composer *composer, const struct medicine_sheet *sheet);
void put_twice(struct composer *composer, const struct medicine_sheet *sheet, double y);
double vials_height(struct composer *composer, const struct medicine_sheet *sheet);
void put_vials(struct composer *composer, const struct medicine_sheet *sheet, double y);

/* What is said above the squares, or of the page that has them. */
const char *vial_note(struct composer *composer, const struct vial_log *log);

/*
 * Where the steps after the front's are: "from step 7 on: page 4", with the page before it where the drawing has one to
 * itself, or the page of a table in place of steps. NULL: there are none.
 */
const char *medicine_goes_on(struct composer *composer, const struct medicine_sheet *sheet);

/* A mark on a syringe, and that line; the line of the measured liquid, where it has one. */
bool medicine_has_syringe(const struct medicine_sheet *sheet);
struct line_look medicine_line(const struct composer *composer, const struct medicine_sheet *sheet);
struct line_look medicine_add_line(const struct medicine_sheet *sheet);

/* The container, with the level where the dose leaves it; SAME_PICTURE high. */
void medicine_put_box(struct composer *composer, const struct medicine_sheet *sheet, double x, double y);
#define SAME_PICTURE 11.0

/* The name of the picture of a piece of the strip. */
const char *medicine_flow_picture(enum flow_kind kind);

/* ---- parts that sheets of every kind share; a part that a sheet lacks is 0 high ---- */

/* Words in a strong frame across the page: which days a page is for. NULL: 0 high. */
double framed_height(struct composer *composer, const char *words, enum text_weight weight);
void put_framed(struct composer *composer, const char *words, enum text_weight weight, double y);

double lay_out_height(struct composer *composer, const struct medicine_sheet *sheet);
void put_lay_out(struct composer *composer, const struct medicine_sheet *sheet, double y);

/* What is done before anything, with boxes to tick. */
double first_height(struct composer *composer, const struct medicine_sheet *sheet);
void put_first(struct composer *composer, const struct medicine_sheet *sheet, double y);

/* Keep, throw away, late. */
double notes_height(struct composer *composer, const struct medicine_sheet *sheet);
void put_notes(struct composer *composer, const struct medicine_sheet *sheet, double y);

/* In a strip of equal amounts: a word on the middle of its picture, in a size of its own, smaller where it must wrap. */
void put_strip_amount(struct composer *composer, const char *amount, double size, double x, double middle,
                      double width);
#define STRIP_AMOUNT_SIZE 24.0
#define STRIP_AMOUNT_SMALL 17.0
#define STRIP_AMOUNT_LEAST 14.0
/* The size in which an amount stands on one line of `width`, else the least. */
double strip_amount_size(struct composer *composer, const char *amount, double width);
#define KNOT_RADIUS 4.2
/* "=" or "+" between its cells. */
void put_strip_knot(struct composer *composer, char sign, double x, double middle);

/* ---- the magnifier, wherever it stands ---- */

/* `frame` is where it stands; with its bracket at `bracket_y` under the syringe of `figure`. */
struct magnifier {
	struct rect frame;
	double zoom;
	double bracket_y;
	bool leader;
	struct point leader_to;
};

void put_magnifier(struct composer *composer, const struct line_look *look, const struct syringe_figure *figure,
                   const struct magnifier *magnifier);

/* ---- steps ---- */

/* "7", as the section's language writes it. */
const char *step_number(struct composer *composer, const struct step *step);

/* An artifact beside its step's words, but where it tells right from wrong a figure. */
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
 * `abreast` asks for. Or, closer, the picture beside number and title, or over
 * the title at the number's far side.
 */
struct step_row {
	const struct step_cell *cells;
	size_t n;
	size_t abreast;
	double picture;
	bool beside;
	bool corner;                  /* the picture stands beside the number */
	const struct mark_words *add; /* as for pairs */
};

double step_row_height(struct composer *composer, const struct step_row *row);
void put_step_row(struct composer *composer, const struct step_row *row, double y);

/* Boxes of the days side by side, each with its number below. */
struct tick_look {
	double box;
	double pitch;
	struct text_style number;
};

double day_ticks_width(const struct tick_look *look, const struct tick_days *ticks);
double day_ticks_height(const struct tick_look *look);
/* From `x`, `y` on; the caller begins what they are part of. */
void put_day_ticks(struct composer *composer, const struct tick_look *look, const struct tick_days *ticks, double x,
                   double y);

#endif
