/*
 * plan.h - one patient's course: a protocol, its dates, changes, what was dispensed.
 */
#ifndef MODEL_PLAN_H
#define MODEL_PLAN_H

#include "model/clinic.h"
#include "model/protocol.h"

struct patient {
	struct stated_string name;
	struct stated_date born;
	struct stated_string record;
	const struct stated_string *allergies;
	size_t n_allergies;
	bool allergies_given; /* "none" gives an empty list that is given */
	struct place place;
};

/* When an event of the protocol happens. Not in the list: no date yet. */
struct event_date {
	const struct event *event;
	struct civil_date date;
	bool has_time;
	struct clock_time time;
	struct place place;
};

/* The patient's own amounts of an item. */
struct plan_doses {
	const struct item *item;
	const struct dose_step *doses;
	size_t n_doses;
	struct place place;
};

enum change_kind { CHANGE_DOSE, CHANGE_STOP, CHANGE_SKIP, CHANGE_AT, CHANGE_PRODUCT };

struct change {
	enum change_kind kind;
	const struct item *item;
	struct stated_date from;
	struct stated_date until;
	struct stated_quantity dose;
	const struct at *at;
	size_t n_at;
	const struct product *product;
	struct text because;
	struct place place;
};

struct call_made {
	const struct item *item;
	struct stated_date on;
	struct place place;
};

enum away_keep { AWAY_KEEP_CLOCK, AWAY_KEEP_HOURS };

struct away {
	struct stated_date from;
	struct stated_date to;
	const struct zone *zone;
	enum away_keep keep;
	struct place place;
};

struct dispensed {
	const struct product *product;
	struct stated_number count;
	struct stated_date expires;
	struct stated_date opened;
	struct stated_quantity left; /* in the opened one */
	struct place place;
};

struct replaces {
	bool given;
	struct stated_string file; /* the plan that it was made from, which says what differs; or none */
	struct stated_string code; /* as printed on it; not stated: what that plan makes of today's records */
	struct text because;
	struct place place;
};

struct plan {
	const char *id; /* file name without folder and ending */
	const struct source_file *file;
	const struct clinic *clinic;
	struct patient patient;
	const char *language;
	enum paper paper;
	bool large_print;
	const struct protocol *protocol;
	struct stated_date as_of;
	int64_t version; /* 1 by default */
	struct stated_number version_at;
	struct replaces replaces;
	const struct plan *replaced;   /* the plan that it names; NULL: none */
	struct stated_date good_until; /* not given: the next visit after as_of */
	const struct zone *zone;       /* the plan's, else the clinic's */
	const struct event_date *events;
	size_t n_events;
	const struct plan_doses *doses;
	size_t n_doses;
	const struct change *changes;
	size_t n_changes;
	const struct call_made *called;
	size_t n_called;
	const struct away *away;
	size_t n_away;
	const struct dispensed *dispensed;
	size_t n_dispensed;
	/* Who signed this very order where it came from, besides what the clinic's signatures.csv says of it. */
	const struct signature *signatures;
	size_t n_signatures;
	const char *seal; /* digest of its meaning */
	struct place place;
};

/* The plan's date of an event, or NULL where it has none yet. */
const struct event_date *plan_event_date(const struct plan *plan, const struct event *event);
const struct plan_doses *plan_doses_of(const struct plan *plan, const struct item *item);

#endif
