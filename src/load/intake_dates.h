/*
 * intake_dates.h - dates and times of day as exports write them, by the form that the map states.
 */
#ifndef LOAD_INTAKE_DATES_H
#define LOAD_INTAKE_DATES_H

#include "load/intake_map.h"

enum date_reading {
	DATE_GOOD,
	DATE_AMBIGUOUS,  /* the map states no form, and it can be read as two days */
	DATE_NO_FORM,    /* the map states no form, and this is not year-month-day */
	DATE_TWO_DIGITS, /* a year of two digits */
	DATE_BAD
};

struct intake_moment {
	struct civil_date date;
	bool has_time;
	struct clock_time time;
};

/* "14.12.2026", "14.12.2026 21:30", "2026-12-14T21:30:00": seconds of 00 are dropped, others refused. */
enum date_reading intake_date_read(const struct intake_map *map, const char *text, struct intake_moment *moment);

/* True for a text that is some date, in whatever form. */
bool looks_like_date(const char *text);

/* True for a number with a unit that doses have. */
bool looks_like_dose(const char *text);

#endif
