/*
 * steps.h - what is ordered on one day of an item: dose steps and changes.
 *
 * Steps come from the protocol, or from the plan where the protocol says
 * `dose: plan`. A change holds until its end or the next change of its kind:
 * meanwhile the step in force when it began stays, and later ones lapse.
 */
#ifndef PLAN_STEPS_H
#define PLAN_STEPS_H

#include "plan/follow.h"

/* A dose step and the day of the item it holds from. */
struct timed_step {
	const struct dose_step *step;
	bool known; /* false: from an event without a date */
	int64_t day;
};

/* All that is ordered for one item. */
struct orders {
	const struct item *item;
	struct timed_step *steps;
	size_t n_steps;
	struct timed_step *plan_steps; /* of the plan's `doses` */
	size_t n_plan_steps;
	struct place plan_place;       /* of the plan's `doses` for the item, or of the plan */
	const struct change **changes; /* by day, then as written */
	size_t n_changes;
	bool dated;
	struct civil_date first; /* day 1; unset while open */
};

/* What one day asks for. `amount` DOSE_FROM_PLAN: the plan does not give it. */
struct day_order {
	bool found; /* false: no step reaches this day */
	bool stopped;
	bool stopped_for_good;
	const struct dose_step *step;
	struct place place;
	enum dose_amount amount;
	struct quantity ordered;
	bool split;
	const struct at *at; /* none: the start gives the time, or nothing does */
	size_t n_at;
	int64_t every;      /* days ... */
	int64_t every_from; /* ... counted from this day of the item */
};

/* The times of the item's day 1, were that on `date`. */
void orders_first_times(const struct plan *plan, const struct item *item, struct civil_date date, const struct at **at,
                        size_t *n_at);

/* Reads the steps and changes of `item` once its first dose is known, or found to be open. */
struct orders orders_of(struct follow *follow, const struct item *item, const struct moment *first);

/* `date` is the treatment day of `day`; unset while open. */
struct day_order orders_on(const struct orders *orders, int64_t day, struct civil_date date);

/* Says what is wrong with the steps and changes as a whole, given the doses' last day. */
void orders_check(struct follow *follow, const struct orders *orders, bool has_last, struct civil_date last);

#endif
