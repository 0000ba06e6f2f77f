/*
 * differences.h - what a new version changes against the one it replaces, dose by dose.
 *
 * Doses are held against each other by line, day and place within the day. Days
 * before the new plan's as_of are past: what was done is not changed any more.
 * Neighbouring days with the same change are one difference.
 */
#ifndef PLAN_DIFFERENCES_H
#define PLAN_DIFFERENCES_H

#include "plan/course.h"

enum difference_kind {
	DIFFERENCE_AMOUNT,
	DIFFERENCE_TIME,
	DIFFERENCE_LINE, /* the same amount, drawn to another line, from another product or syringe */
	DIFFERENCE_NEW,
	DIFFERENCE_GONE
};

struct difference {
	enum difference_kind kind;
	const struct item *item;
	const struct dose *before; /* NULL for a new one */
	const struct dose *now;    /* NULL for one that is gone */
	struct civil_date from;    /* treatment days */
	struct civil_date to;
};

/* A visit that is new, is gone, or is at another day or time. Visits are held together by event, day and kind. */
struct visit_difference {
	const struct dated_visit *before; /* NULL for a new one */
	const struct dated_visit *now;    /* NULL for one that is gone */
};

struct differences {
	const struct difference *list; /* by line, then by day */
	size_t n;
	const struct visit_difference *visits;
	size_t n_visits;
	bool has_from;
	struct civil_date from; /* the first day that differs */
};

/* Lives in `arena`. */
struct differences differences_of(struct arena *arena, const struct course *before, const struct course *now);

#endif
