/*
 * schedule.h - when each dose falls, and how much was ordered for it.
 *
 * Triggers are followed from each item's start through events, items and calls;
 * a circle is found while following and named. What hangs on an event without
 * a date stays open: it has days counted from its own first dose, and no date.
 */
#ifndef PLAN_SCHEDULE_H
#define PLAN_SCHEDULE_H

#include "plan/course.h"

struct schedule {
	struct dose *doses; /* by item, then by n; draws not yet filled */
	size_t n_doses;
	struct item_run *runs;
	size_t n_runs;
	struct dated_visit *visits;
	size_t n_visits;
	struct time_check *times;
	size_t n_times;
	struct clock_change *clock_changes;
	size_t n_clock_changes;
	bool has_days;
	struct civil_date first;
	struct civil_date last;
	bool has_good_until;
	struct civil_date good_until;
};

/* False when no schedule can be made at all; findings say why. Lives in `arena`. */
bool schedule_build(struct arena *arena, const struct plan *plan, struct schedule *schedule, struct findings *findings);

#endif
