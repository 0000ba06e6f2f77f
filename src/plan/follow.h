/*
 * follow.h - following triggers from name to name until a moment is reached.
 *
 * A trigger names an event, an item ("growth" is its first dose) or an item's
 * last dose ("growth.last"). Each item has two knots, followed at most once:
 *
 *     growth        its first dose: needs its start only
 *     growth.last   its doses: needs growth, its end and the events in its steps
 *
 * A knot that is reached while it is being followed closes a circle; the path
 * of names from there on is what the finding prints.
 */
#ifndef PLAN_FOLLOW_H
#define PLAN_FOLLOW_H

#include "plan/schedule.h"

/* A point in a course: known to the day or to the minute, or not known yet. */
struct moment {
	bool known;
	bool failed;            /* not known, and a finding says why */
	struct civil_date date; /* treatment day */
	bool has_time;
	struct civil_date clock_date;
	struct clock_time time; /* of the plan's zone */
	instant when;           /* without a time: when the treatment day begins */
	bool exact;
	bool elapsed;            /* so many hours from another moment */
	bool may_be_sooner;      /* a call or an event without a date may still come first */
	bool by_call;            /* a call that has not come decides it, or may decide it */
	const struct text *call; /* its words, and when to expect it; or NULL */
	const struct text *expected;
};

enum knot_state { KNOT_NEW, KNOT_OPEN, KNOT_DONE };

/* What has been found about one item. */
struct item_course {
	enum knot_state first_state;
	enum knot_state doses_state;
	struct moment first;
	struct moment last;
	struct dose *doses;
	size_t n_doses;
	enum item_end end;
	bool has_bound;
	struct civil_date bound; /* no dose falls after it */
};

struct follow {
	struct arena *arena;
	const struct plan *plan;
	struct findings *findings;
	struct item_course *items; /* one an item, in the protocol's order */
	const char **path;         /* names of the knots being followed */
	size_t n_path;
};

/* The first dose of an item, following its start where that was not done yet. `place` names it: there a circle closes. */
struct moment follow_first(struct follow *follow, const struct item *item, struct place place);

/* Its last dose; all its doses are then in follow->items. */
struct moment follow_last(struct follow *follow, const struct item *item, struct place place);

/* The moment of an event, an item or an "item.last"; a stop at `place` for any other name. */
struct moment follow_name(struct follow *follow, const char *name, struct place place);

/* Day `day` of what `name` names: its own day is day 0 or 1, as the event says. */
struct moment follow_day(struct follow *follow, const char *name, struct stated_number day, struct place place);

/* The moment a trigger stands for: a start, or one of an end's that is a moment. `ends`: it is item's end. */
struct moment follow_trigger(struct follow *follow, const struct item *item, const struct trigger *trigger, bool ends);

/* True when a call is among what the trigger waits for. */
bool trigger_has_call(const struct trigger *trigger);

/* Starts following a knot; false, with the circle reported, when it is being followed already. */
bool follow_enter(struct follow *follow, enum knot_state *state, const char *name, struct place place);
void follow_leave(struct follow *follow, enum knot_state *state);

/* A treatment day of the plan's zone, its time left open. */
struct moment moment_of_day(const struct plan *plan, struct civil_date date);

/* A treatment day at a clock time: times before the clinic's day begins are the next calendar day's. */
struct moment moment_of_day_at(const struct plan *plan, struct civil_date date, struct clock_time time);

/* A calendar day and clock time, as people state an event. */
struct moment moment_of_clock(const struct plan *plan, struct civil_date clock_date, struct clock_time time);

struct moment moment_of_instant(const struct plan *plan, instant when);

/* By day, and by instant where both have a time. */
int moment_compare(const struct moment *a, const struct moment *b);

/* The treatment day that a calendar day and clock time belong to. */
struct civil_date treatment_day(const struct plan *plan, struct civil_date clock_date, struct clock_time time);

/* Whole minutes of a time in minutes or hours; whole days of one in days or weeks. False for anything else. */
bool quantity_minutes(struct quantity quantity, int64_t *minutes);
bool quantity_days(struct quantity quantity, int64_t *days);

/* "31 h", "30 h 01 min": whole minutes, never rounded up. */
const char *elapsed_print(struct arena *arena, struct rational hours);

/*
 * Says that a clock time does not exist, or exists twice, on that day: a stop for an exact one, else a caution. `what` is
 * in words what the time is to `id`: "the time of", "the time of arrival for".
 */
void moment_check_clock(struct follow *follow, const struct zone *zone, const struct moment *moment, const char *what,
                        const char *id, struct place place);

#endif
