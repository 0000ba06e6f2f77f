/*
 * overview.h - what overview.c and overview_table.c share.
 */
#ifndef PAGE_OVERVIEW_H
#define PAGE_OVERVIEW_H

#include "page/composer.h"

/* The overview at full size, and set closer. */
struct overview_form {
	enum type_role main_role; /* of what to do each day */
	double main_below;
	double phone_height;
	double phone_size; /* pt, of the number */
	bool address;
	bool help;         /* when to call for help at once: else on the last page alone */
	bool heading;      /* the table's stands above its head; else in place of the head's first word */
	bool times_beside; /* a word beside its time, not above */
	double row_least;
	double row_most;
	double time_size; /* pt */
	enum type_role purpose_role;
	double card_time_size; /* pt */
	bool moments_heading;
	double card_pad;
	double card_between;
	double card_leading;
	double good_pad;
};

/* Heading, head, rows and legend; rows as low as they may be. */
double overview_table_height(struct composer *composer, const struct overview_form *form,
                             const struct overview *overview);

/*
 * Puts them from `y`, each row `growth` higher. Where a row reaches below the
 * content it opens a further page. Returns where the legend ends.
 */
double overview_put_table(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                          double y, double growth);

/* What to do each day, with its page; and below it the time to the minute and what to do in doubt. */
const char *overview_main_words(struct composer *composer, const struct overview *overview);
const char *overview_exact_words(struct composer *composer, const struct overview *overview);

/* What the overview calls a section that it lists below the medicines; NULL: it does not list it. */
const char *overview_contents_words(struct composer *composer, const struct section *section);

/* The sections that it lists, in the order of their pages. */
struct overview_contents {
	const section_ref *list;
	size_t n;
};
struct overview_contents overview_contents_of(struct composer *composer);

/* "days 1 to 8: take it. day 9: exact time." */
const char *overview_days_spoken(struct composer *composer, const struct overview *overview,
                                 const struct overview_row *row);

/* A row's days in large print: numbers from `y`, the line below them. */
void overview_put_day_line(struct composer *composer, const struct overview *overview, const struct overview_row *row,
                           double y);

/* Opens a further page of the overview. */
void overview_continue(struct composer *composer);

#endif
