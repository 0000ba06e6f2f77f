/*
 * protocol.h - a regimen without a patient: events, items, doses by day, visits.
 *
 * Names of events, items and medicines are resolved by load, but for events
 * inside triggers: an item is an event too (`growth`, `growth.last`), so
 * triggers keep the name and the schedule follows it, which lets it find
 * circles and name them.
 */
#ifndef MODEL_PROTOCOL_H
#define MODEL_PROTOCOL_H

#include "model/formulary.h"
#include "model/stated.h"

enum trigger_kind {
	TRIGGER_NONE,
	TRIGGER_ON,    /* a fixed date */
	TRIGGER_EVENT, /* an event, or its day N, or a time before or after it */
	TRIGGER_CALL,  /* when the clinic calls */
	TRIGGER_FIRST_OF,
	TRIGGER_LAST_OF,
	TRIGGER_DOSES, /* ends only: after so many doses */
	TRIGGER_DAYS   /* ends only: after so many days */
};

struct trigger {
	enum trigger_kind kind;
	struct stated_date on;
	const char *event;        /* an event, an item, or "item.last" */
	struct stated_number day; /* TRIGGER_EVENT: day N of it */
	struct stated_quantity plus;
	struct stated_quantity minus;
	struct text call;
	struct text expected;       /* when a call is to be expected, in words */
	struct stated_number count; /* TRIGGER_DOSES, TRIGGER_DAYS */
	const struct trigger *of;   /* TRIGGER_FIRST_OF, TRIGGER_LAST_OF */
	size_t n_of;
	struct place place;
};

struct event {
	const char *id;
	struct text label;
	struct stated_number own_day; /* 0 or 1: what the event's own day is called */
	bool exact;                   /* its clock time matters to the minute */
	bool is_arrival;              /* the stated time is the arrival, not the procedure */
	struct stated_quantity arrive_before;
	const char *check_before; /* `check`: this event must come before that one ... */
	struct stated_quantity check_by;
	struct stated_quantity check_give_or_take;
	struct place place;
	struct place check_place;
};

/* A slot's name or a clock time. */
struct at {
	const struct slot *slot; /* NULL: a clock time of its own */
	struct clock_time time;
	struct place place;
};

enum dose_amount {
	DOSE_STATED,
	DOSE_FROM_PLAN, /* `dose: plan`: the plan must give it */
	DOSE_BY_CALL    /* `dose: {call: ...}`: the day is known, the amount is not */
};

/* From a day of the item on: how much, and where stated how often and when. */
struct dose_step {
	struct stated_number from; /* calendar day of the item, 1 is the first */
	const char *from_event;    /* or day `from_day` of an event */
	struct stated_number from_day;
	enum dose_amount amount;
	struct stated_quantity dose;
	struct text call;
	const struct stated_quantity *may_become;
	size_t n_may_become;
	bool split;          /* one container serves two doses */
	const struct at *at; /* NULL: as the item */
	size_t n_at;
	struct stated_quantity every; /* not given: as the item */
	struct place place;
};

struct as_needed {
	bool given;
	int64_t most; /* doses a day */
	struct place place;
};

struct gap_to {
	bool given;
	const char *event;
	struct stated_quantity most;
	struct stated_quantity least;
	struct place place;
};

struct item {
	const char *id;
	const struct medicine *medicine;
	const struct at *at;
	size_t n_at;
	struct stated_quantity window; /* so long before or after its time is on time still */
	struct trigger start;
	struct trigger end;
	struct stated_quantity every; /* whole days; not given: every day */
	unsigned weekdays;            /* bit 1 is Monday ... bit 7 Sunday; 0: any day */
	struct as_needed as_needed;
	const struct dose_step *doses;
	size_t n_doses;
	struct limits limits; /* narrows the medicine's */
	struct gap_to gap_to;
	struct stated_quantity horizon;
	const struct product *const *products; /* those that may be got; default all of the medicine */
	size_t n_products;
	struct place place;
};

struct visit {
	const char *event;
	struct stated_number day;
	const struct at *at; /* NULL: no time stated */
	struct text label;
	struct place place;
};

struct protocol {
	const char *id;
	bool own;           /* stands in a plan itself and is sealed with it, not by itself */
	const char *digest; /* of an own one's meaning; NULL: the clinic's, which has a seal */
	struct text title;
	struct stated_quantity horizon; /* whole days */
	const struct event *events;
	size_t n_events;
	const struct item *items;
	size_t n_items;
	const struct visit *visits;
	size_t n_visits;
	const struct source_file *file;
	struct place place;
};

const struct event *protocol_event(const struct protocol *protocol, const char *id);
/* True for an event that others are timed by, or that is stated by arrival: whether its time is one or the other matters. */
bool protocol_has_procedure(const struct protocol *protocol, const struct event *event);
const struct item *protocol_item(const struct protocol *protocol, const char *id);

#endif
