#include "plan/follow.h"

#include <assert.h>
#include <string.h>

enum { SECONDS_PER_MINUTE = 60 };

static const struct moment unknown_moment = {.known = false};
static const struct moment failed_moment = {.failed = true};

bool follow_enter(struct follow *follow, enum knot_state *state, const char *name, struct place place)
{
	assert(*state != KNOT_DONE);
	if (*state == KNOT_NEW) {
		*state = KNOT_OPEN;
		follow->path[follow->n_path++] = name;
		return true;
	}
	size_t start = 0;
	while (strcmp(follow->path[start], name) != 0)
		start++;
	const char *circle = name;
	for (size_t i = start + 1; i < follow->n_path; i++)
		circle = arena_printf(follow->arena, "%s -> %s", circle, follow->path[i]);
	findings_add(follow->findings, FINDING_STOP, "trigger-circle", place,
	             "these wait for each other and can never begin: %s -> %s; give one of them a start of its own",
	             circle, name);
	return false;
}

void follow_leave(struct follow *follow, enum knot_state *state)
{
	*state = KNOT_DONE;
	follow->n_path--;
}

/*
 * An event that is stated by arrival happens when the wait is over; hours are
 * counted to that.
 */
static struct moment event_moment(struct follow *follow, const struct event *event)
{
	const struct event_date *stated = plan_event_date(follow->plan, event);
	if (!stated)
		return unknown_moment;
	if (!stated->has_time) {
		if (event->exact) {
			findings_add(
				follow->findings, FINDING_STOP, "exact-time-missing", stated->place,
				"'%s' has a date and no time, and its time matters to the minute; write '%s HH:MM'",
				event->id, date_print(follow->arena, stated->date));
			return failed_moment;
		}
		return moment_of_day(follow->plan, stated->date);
	}
	struct moment moment = moment_of_clock(follow->plan, stated->date, stated->time);
	moment.exact = event->exact;
	if (event->exact && clock_minutes(stated->time) == 0) {
		findings_add(follow->findings, FINDING_STOP, "midnight-ambiguous", stated->place,
		             "12:00 at night of '%s' can be the night before or after %s; write 23:59 or 00:01 of the "
		             "day meant",
		             event->id, date_print(follow->arena, stated->date));
		return failed_moment;
	}
	moment_check_clock(follow, follow->plan->zone, &moment, "the time of", event->id, stated->place);
	int64_t wait = 0;
	if (event->is_arrival && event->arrive_before.given && quantity_minutes(event->arrive_before.quantity, &wait)) {
		moment = moment_of_instant(follow->plan, moment.when + wait * SECONDS_PER_MINUTE);
		moment.exact = event->exact;
		moment_check_clock(follow, follow->plan->zone, &moment, "the time after arrival of", event->id,
		                   stated->place);
	}
	return moment;
}

static const struct item *item_of_last(const struct protocol *protocol, const char *name)
{
	static const char suffix[] = ".last";
	for (size_t i = 0; i < protocol->n_items; i++) {
		size_t length = strlen(protocol->items[i].id);
		if (strncmp(protocol->items[i].id, name, length) == 0 && strcmp(name + length, suffix) == 0)
			return &protocol->items[i];
	}
	return NULL;
}

struct moment follow_name(struct follow *follow, const char *name, struct place place)
{
	const struct protocol *protocol = follow->plan->protocol;
	const struct event *event = protocol_event(protocol, name);
	if (event)
		return event_moment(follow, event);
	const struct item *item = protocol_item(protocol, name);
	if (item)
		return follow_first(follow, item, place);
	item = item_of_last(protocol, name);
	if (item)
		return follow_last(follow, item, place);
	findings_add(follow->findings, FINDING_STOP, "unknown-event", place,
	             "'%s' is no event, item or 'item.last' of protocol '%s'", name, protocol->id);
	return failed_moment;
}

/* Day N of a moment: its day only, and what else is known of it stays. */
static struct moment day_of(const struct plan *plan, const struct moment *base, int64_t days)
{
	struct moment moment = moment_of_day(plan, date_plus(base->date, days));
	moment.may_be_sooner = base->may_be_sooner;
	moment.call = base->call;
	moment.expected = base->expected;
	return moment;
}

struct moment follow_day(struct follow *follow, const char *name, struct stated_number day, struct place place)
{
	const struct event *event = protocol_event(follow->plan->protocol, name);
	int64_t own_day = 1; /* an item's first dose is on its day 1, and so is its last */
	if (event && !event->own_day.given) {
		findings_add(follow->findings, FINDING_STOP, "own-day-missing", day.place,
		             "'%s' does not say whether its own day is day 0 or day 1; give it 'own_day'", name);
		return failed_moment;
	}
	if (event)
		own_day = event->own_day.number;
	struct moment base = follow_name(follow, name, place);
	if (!base.known)
		return base;
	return day_of(follow->plan, &base, day.number - own_day);
}

/* A moment and so many civil days: the same clock time, where there is one. */
static struct moment days_away(const struct plan *plan, const struct moment *base, int64_t days)
{
	struct moment moment;
	if (base->has_time)
		moment = moment_of_clock(plan, date_plus(base->clock_date, days), base->time);
	else
		moment = moment_of_day(plan, date_plus(base->date, days));
	moment.exact = base->exact;
	moment.may_be_sooner = base->may_be_sooner;
	moment.call = base->call;
	moment.expected = base->expected;
	return moment;
}

static struct moment hours_away(struct follow *follow, const struct moment *base, const struct trigger *trigger,
                                const struct stated_quantity *away, int64_t minutes)
{
	if (!base->has_time) {
		findings_add(follow->findings, FINDING_STOP, "no-time", away->place,
		             "'%s' has a date and no time, and %s from it need one; state its time, or count in days",
		             trigger->event, quantity_plain(follow->arena, away->quantity, DECIMAL_POINT));
		return failed_moment;
	}
	struct moment moment = moment_of_instant(follow->plan, base->when + minutes * SECONDS_PER_MINUTE);
	moment.exact = base->exact;
	moment.elapsed = true;
	moment.may_be_sooner = base->may_be_sooner;
	moment.call = base->call;
	moment.expected = base->expected;
	return moment;
}

static struct moment event_trigger(struct follow *follow, const struct trigger *trigger)
{
	const struct stated_quantity *away = trigger->minus.given ? &trigger->minus : &trigger->plus;
	struct moment base;
	if (trigger->day.given)
		base = follow_day(follow, trigger->event, trigger->day, trigger->place);
	else
		base = follow_name(follow, trigger->event, trigger->place);
	base.by_call = false; /* a call may decide what this waits for, but does not start this */
	if (!base.known || !away->given || trigger->day.given)
		return base;
	int64_t sign = trigger->minus.given ? -1 : 1;
	int64_t count;
	if (quantity_days(away->quantity, &count))
		return days_away(follow->plan, &base, sign * count);
	if (quantity_minutes(away->quantity, &count))
		return hours_away(follow, &base, trigger, away, sign * count);
	findings_add(follow->findings, FINDING_STOP, "not-whole-time", away->place,
	             "%s is no whole number of minutes or days; write part of a day in hours",
	             quantity_plain(follow->arena, away->quantity, DECIMAL_POINT));
	return failed_moment;
}

bool trigger_has_call(const struct trigger *trigger)
{
	if (trigger->kind == TRIGGER_CALL)
		return true;
	for (size_t i = 0; i < trigger->n_of; i++)
		if (trigger_has_call(&trigger->of[i]))
			return true;
	return false;
}

/* Of an item that is called to start and called to end, the first call is the start's. */
static const struct call_made *call_for(const struct plan *plan, const struct item *item, bool ends)
{
	bool skip_start = ends && trigger_has_call(&item->start);
	for (size_t i = 0; i < plan->n_called; i++) {
		if (plan->called[i].item != item)
			continue;
		if (!skip_start)
			return &plan->called[i];
		skip_start = false;
	}
	return NULL;
}

static struct moment call_trigger(const struct plan *plan, const struct item *item, const struct trigger *trigger,
                                  bool ends)
{
	const struct call_made *call = call_for(plan, item, ends);
	if (call)
		return moment_of_day(plan, call->on.date);
	struct moment moment = unknown_moment;
	moment.by_call = true;
	moment.call = &trigger->call;
	moment.expected = trigger->expected.n > 0 ? &trigger->expected : NULL;
	return moment;
}

/*
 * The earliest of what is known, unless what is not known comes sooner; the
 * latest only when all are known.
 */
static struct moment choose(struct follow *follow, const struct item *item, const struct trigger *trigger, bool ends)
{
	bool latest = trigger->kind == TRIGGER_LAST_OF;
	struct moment chosen = unknown_moment;
	struct moment waited = unknown_moment;
	bool waits = false;
	bool failed = false;
	for (size_t i = 0; i < trigger->n_of; i++) {
		struct moment moment = follow_trigger(follow, item, &trigger->of[i], ends);
		failed = failed || moment.failed;
		if (!moment.known) {
			if (!waits || (moment.by_call && !waited.by_call))
				waited = moment;
			waits = true;
			continue;
		}
		int order = chosen.known ? moment_compare(&moment, &chosen) : 0;
		if (!chosen.known || (latest ? order > 0 : order < 0))
			chosen = moment;
	}
	if (failed)
		return failed_moment;
	if (!waits)
		return chosen;
	if (latest || !chosen.known)
		return waited;
	chosen.may_be_sooner = true;
	chosen.by_call = waited.by_call;
	chosen.call = waited.call;
	chosen.expected = waited.expected;
	return chosen;
}

struct moment follow_trigger(struct follow *follow, const struct item *item, const struct trigger *trigger, bool ends)
{
	switch (trigger->kind) {
	case TRIGGER_ON:
		return moment_of_day(follow->plan, trigger->on.date);
	case TRIGGER_EVENT:
		return event_trigger(follow, trigger);
	case TRIGGER_CALL:
		return call_trigger(follow->plan, item, trigger, ends);
	case TRIGGER_FIRST_OF:
	case TRIGGER_LAST_OF:
		return choose(follow, item, trigger, ends);
	case TRIGGER_NONE:
	case TRIGGER_DOSES:
	case TRIGGER_DAYS:
		break;
	}
	findings_add(follow->findings, FINDING_STOP, "start-missing", trigger->place,
	             "'%s' has no start; give it 'start' with a date, an event or a call", item->id);
	return failed_moment;
}
