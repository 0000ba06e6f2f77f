/*
 * course.h - one patient's course, computed: every dose, what carries it, what it takes.
 *
 * The pipeline: schedule.h finds when and how much; supply.h which containers
 * serve each dose; draw.h where the ring must stand. course.c runs the three
 * and then check.h's rules. All lines of a dose come from one `struct draw`:
 * words, numerals, grid cells, drawings and workings read nothing else.
 *
 * Pure: no input or output, no clock, no floating point.
 */
#ifndef PLAN_COURSE_H
#define PLAN_COURSE_H

#include "base/finding.h"
#include "model/plan.h"

/* Three years: where days run on for longer, or lie further off, a year was mistyped. */
enum { COURSE_MOST_DAYS = 1100 };

enum measure { MEASURE_SYRINGE, MEASURE_DIAL, MEASURE_COUNT };

/*
 * Which line of a syringe: draw up to it; add this much liquid to the powder;
 * push out to it and give the rest; inject until it and throw the rest away.
 */
enum line_kind { LINE_DRAW, LINE_ADD, LINE_PUSH_OUT, LINE_STOP };

/* A place on a syringe's scale. */
struct mark {
	enum line_kind line;
	const struct syringe *syringe; /* NULL: a whole container without a scale of its own */
	bool all;                      /* the whole container: no line to hit */
	struct rational at;            /* mL from the zero line, where the front ring stands */
	struct rational number;        /* the same as that scale numbers it: 0.5, or 50 on a U-100 scale */
};

enum container_then { THEN_KEEP, THEN_DISCARD };

/* One container's part in one draw. */
struct container_use {
	const struct product *product;
	int64_t number; /* of this product, in order of opening; 1 is the first */
	bool in_hand;   /* from what was dispensed; else it is still to get */
	bool has_expiry;
	struct civil_date expires; /* the last day of use, of one in hand */
	bool opens;                /* this draw opens it */
	struct quantity takes;
	struct quantity leaves;
	struct quantity lost; /* dead space, priming */
	enum container_then then;
	bool has_by; /* kept: until when; a last day of use has by_time 23:59 and by_day_only */
	bool by_day_only;
	struct civil_date by;
	struct clock_time by_time;
};

/* One injection, one setting of a pen, one handful of counted forms. */
struct draw {
	enum measure measure;
	const struct product *product;
	struct quantity dose;  /* of the order that this draw carries, in the order's unit */
	struct quantity given; /* the same after rounding to a line; else equal */
	bool rounded;

	/* MEASURE_SYRINGE */
	struct quantity concentration; /* amount in 1 mL, in the box's unit */
	bool label_concentration;      /* the label's figure ruled */
	struct rational volume;        /* exact mL that carries the dose */
	struct rational held;          /* of a part of a filled syringe: mL in it before; zero: not known, or no part */
	struct rational rest;          /* of that, what the patient does not get: pushed out first, or stays in */
	struct mark mark;
	struct quantity line_is; /* the dose's change from one line to the next */
	bool has_add;            /* the liquid is measured */
	struct mark add;
	struct rational liquid; /* mL of liquid that goes in; zero for solutions */
	struct rational mixed;  /* mL once ready, of all containers of this draw together */

	/* MEASURE_DIAL */
	struct quantity dial;
	struct quantity priming; /* before this setting; zero: none */

	/* MEASURE_COUNT */
	struct quantity count; /* 1 tablet, 0.5 tablet, 2 patches */

	const struct container_use *containers;
	size_t n_containers;
};

/* An amount that a call may set, and what it would be drawn to. */
struct dose_option {
	struct quantity amount;
	const struct draw *draws; /* none where it was refused; their containers are as if it were the only dose */
	size_t n_draws;
};

enum half { HALF_NONE, HALF_FIRST, HALF_SECOND };

struct dose {
	const struct item *item;
	const struct dose_step *step; /* where its amount is written */
	struct place place;           /* for findings: the change, the plan's amount or the protocol's */
	int64_t n;                    /* of its item, 1 is the first */
	int64_t day;                  /* treatment day of its item, 1 is the first */

	bool open;                    /* no date: `date`, `clock_date` and `when` are unset */
	struct civil_date date;       /* treatment day; day_begins decides to which one the small hours belong */
	struct civil_date clock_date; /* what a calendar shows at that time */
	bool has_time;
	struct clock_time time;
	const struct slot *slot; /* NULL: a clock time of its own */
	bool exact;              /* to the minute */
	const struct zone *zone; /* whose clock and calendar these are: home's, or the one away */
	instant when;            /* without a time: when its treatment day begins */
	bool unless_sooner;      /* known by date, but a call may come first */

	enum dose_amount amount;
	struct quantity ordered; /* unset for DOSE_BY_CALL */
	bool new_amount;         /* first of a run with another amount than the one before */
	bool split;
	enum half half;
	int64_t split_group; /* doses that share a container share this number; 0: none */
	bool as_needed;
	bool done; /* before as_of */

	const struct draw *draws; /* none for DOSE_BY_CALL */
	size_t n_draws;
	const struct dose_option *options; /* DOSE_BY_CALL: one for each of its step's may_become, in that order */
	size_t n_options;
};

struct dated_visit {
	const struct visit *visit; /* NULL: the event itself (a procedure) */
	const struct event *event;
	bool open;
	struct civil_date date;
	bool has_time;
	struct clock_time time; /* arrival, where the event states its time so */
	bool has_procedure;     /* of an event with arrival: the other time */
	struct clock_time procedure;
	instant when;
};

/* Why an item's run ends. */
enum item_end {
	ITEM_ENDS,       /* on a known day */
	ITEM_UNTIL_TOLD, /* open end: cut at the horizon; 'until the clinic tells you to stop' */
	ITEM_UNTIL_EVENT /* the event has no date yet: cut at the horizon */
};

struct item_run {
	const struct item *item;
	bool open;           /* its start has no date */
	bool starts_by_call; /* a call alone, or first_of with a call: see unless_sooner */
	bool unless_sooner;
	const struct text *call;     /* the words of the trigger, when starts_by_call */
	const struct text *expected; /* or NULL */
	struct civil_date first;     /* treatment days; unset while open */
	struct civil_date last;
	enum item_end end;
	bool has_bound;          /* the end has a date, whether or not the start has one ... */
	struct civil_date bound; /* ... and no dose falls after it */
	bool has_gap_event;      /* the item's `gap_to` names an event with a date and a time: this one */
	instant gap_event;
	const struct dose *doses; /* its doses in order, inside course.doses' array of pointers */
	size_t n_doses;
};

/* How many of one product. */
struct product_supply {
	const struct product *product;
	const struct medicine *medicine;
	int64_t needed;
	int64_t dispensed;
	int64_t to_get;
	struct quantity discarded; /* thrown away, in the strength's unit */
	struct quantity left;      /* in the last container at the end of what is counted */
	bool runs_short;
	struct civil_date short_from; /* the first day that what is in hand does not serve */

	/* The same from as_of on: without what doses before it used up. */
	int64_t needed_ahead;
	int64_t at_hand;
	int64_t to_get_ahead;
};

enum kit_kind {
	KIT_SYRINGE,
	KIT_NEEDLE_MIXING,
	KIT_NEEDLE_GIVING,
	KIT_NEEDLE_PEN,
	KIT_NEEDLE_FILTER,
	KIT_SWAB,
	KIT_CAP,
	KIT_SHARPS_BOX
};

struct kit_supply {
	enum kit_kind kind;
	const struct syringe *syringe; /* KIT_SYRINGE */
	struct needle needle;          /* needles */
	int64_t needed;
	int64_t in_boxes; /* what the boxes bring */
	int64_t filled;   /* of those, syringes that come with a powder's liquid in them: no empty ones */
	int64_t to_get;
};

/* Two figures an elapsed time was checked between, for the workings. */
struct time_check {
	const struct event *from;
	const struct event *to;
	struct rational hours;
	struct place place;
};

/* A clock change between the first day of a course and its last. */
struct clock_change {
	const struct zone *zone;
	struct civil_date date; /* calendar day on which clocks change */
	instant when;
	int32_t by; /* seconds; above 0: clocks go forward */
};

struct course {
	const struct plan *plan;
	const struct dose *doses; /* by item in the protocol's order, then by n */
	size_t n_doses;
	const struct dose *const *by_time; /* dated ones by instant, then open ones by item */
	const struct item_run *runs;       /* one an item, in the protocol's order */
	size_t n_runs;
	const struct dated_visit *visits; /* by time, open ones last */
	size_t n_visits;
	bool has_days;           /* false: nothing is dated yet */
	struct civil_date first; /* treatment days that the grid shows */
	struct civil_date last;
	bool has_good_until;
	struct civil_date good_until;
	const struct product_supply *supplies;
	size_t n_supplies;
	const struct kit_supply *kit;
	size_t n_kit;
	const struct kit_supply *kit_ahead; /* for the doses from as_of on */
	size_t n_kit_ahead;
	const struct time_check *times;
	size_t n_times;
	const struct clock_change *clock_changes; /* by time */
	size_t n_clock_changes;
};

/*
 * Computes the course of `plan`. All that is wrong goes to `findings`; returns
 * NULL only where nothing could be computed at all. When `findings` holds a
 * stop the course must not be printed. Lives in `arena`.
 */
const struct course *course_of(struct arena *arena, const struct plan *plan, struct findings *findings);

#define SECONDS_OF_HOUR 3600

/* The seconds that a dose of it may be early or late and still be on time; 0 where it has no window. */
struct rational item_window(const struct item *item);

/* The earliest that it is on time: before its own by its item's window. */
instant dose_earliest(const struct dose *dose);

#endif
