/*
 * waiting.h - the page of what waits for a call in the making, for waiting*.c alone.
 *
 * waiting.c says that there is nothing to do yet and turns the pages; waiting_write.c has the rows to write in when the
 * call comes; waiting_look.c the table in which a weekday's day is looked up.
 */
#ifndef PAGE_WAITING_H
#define PAGE_WAITING_H

#include "page/composer.h"

#define WAITING_HEADING_BELOW 4.0
#define WAITING_COLUMNS_MOST 7 /* each has the days of one weekday */

/* At full size, and set closer where all then stands on one page. */
struct waiting_form {
	double row; /* to write in, the least */
	double pad;
	double weekday; /* the least height of a weekday's row in the look-up */
	double day_pad; /* above and below a week's boxes */
};

/* ---- waiting_write.c ---- */

/* The frame of rows to write in, with its heading. */
double waiting_write_height(struct composer *composer, const struct waiting_form *form,
                            const struct waiting_sheet *sheet);
void waiting_put_write(struct composer *composer, const struct waiting_form *form, const struct waiting_sheet *sheet,
                       double y);

/* ---- waiting_look.c ---- */

/* Some of the look-up's columns and weeks: what stands on one page. */
struct waiting_look {
	const struct waiting_form *form;
	const struct waiting_sheet *sheet;
	bool short_names;
	double side;                         /* where the first column begins */
	double widths[WAITING_COLUMNS_MOST]; /* what each column needs */
	double spread;                       /* what each column of this part has beyond that */
	size_t first_column;
	size_t n_columns;
	size_t first_week;
	size_t n_weeks;
};

/* As much as stands side by side, all weeks; with full names of weekdays where all columns then do. */
struct waiting_look waiting_whole_look(struct composer *composer, const struct waiting_form *form,
                                       const struct waiting_sheet *sheet);
/* The same with as many weeks as `room` holds, one at least. */
struct waiting_look waiting_first_look(struct composer *composer, const struct waiting_form *form,
                                       const struct waiting_sheet *sheet, double room);
/* The part after `look`: further weeks of its columns, then further columns. False after the last. */
bool waiting_next_look(struct composer *composer, struct waiting_look *look, double room);

/* With the least rows of weekdays. */
double waiting_look_height(struct composer *composer, const struct waiting_look *look);
/* How high a row of weekdays is where the whole part has `room`: it takes no more than it can use. */
double waiting_look_row(struct composer *composer, const struct waiting_look *look, double room);
void waiting_put_look(struct composer *composer, const struct waiting_look *look, double y, double row);

/* The look-up's heading and what is said of it; all that there is where it has no columns. Returns its end. */
double waiting_title_height(struct composer *composer, const struct waiting_sheet *sheet);
double waiting_put_title(struct composer *composer, const struct waiting_sheet *sheet, double y);

#endif
