#include "plan/visits.h"

#include <string.h>

enum { SECONDS_PER_MINUTE = 60, SECONDS_PER_HOUR = 3600 };

static void set_moment(struct dated_visit *visit, const struct moment *moment)
{
	visit->open = !moment->known;
	if (visit->open)
		return;
	visit->date = moment->date;
	visit->has_time = moment->has_time;
	if (moment->has_time)
		visit->time = moment->time;
	visit->when = moment->when;
}

/* Both times of an event are kept, whichever of the two was stated. */
static void set_arrival(struct follow *follow, const struct event *event, const struct moment *moment,
                        struct dated_visit *visit)
{
	int64_t minutes;
	if (!moment->known || !moment->has_time || !event->arrive_before.given ||
	    !quantity_minutes(event->arrive_before.quantity, &minutes))
		return;
	struct moment arrival = moment_of_instant(follow->plan, moment->when - minutes * SECONDS_PER_MINUTE);
	arrival.exact = event->exact;
	if (!event->is_arrival)
		moment_check_clock(follow, follow->plan->zone, &arrival, "the time of arrival for", event->id,
		                   plan_event_date(follow->plan, event)->place);
	set_moment(visit, &arrival);
	visit->has_procedure = true;
	visit->procedure = moment->time;
}

static struct dated_visit visit_of(struct follow *follow, const struct visit *visit)
{
	struct dated_visit dated = {.visit = visit, .event = protocol_event(follow->plan->protocol, visit->event)};
	struct moment moment;
	if (visit->day.given)
		moment = follow_day(follow, visit->event, visit->day, visit->place);
	else
		moment = follow_name(follow, visit->event, visit->place);
	bool own_time = visit->at && moment.known;
	if (own_time) {
		moment = moment_of_day_at(follow->plan, moment.date, visit->at[0].time);
		moment_check_clock(follow, follow->plan->zone, &moment, "the time of a visit for", visit->event,
		                   visit->at[0].place);
	}
	set_moment(&dated, &moment);
	if (!moment.known && visit->at) {
		dated.has_time = true;
		dated.time = visit->at[0].time;
	}
	if (dated.event && !visit->day.given && !own_time)
		set_arrival(follow, dated.event, &moment, &dated);
	return dated;
}

/* A trigger that is an event's own moment, alone or among others. */
static bool trigger_is_event(const struct trigger *trigger, const char *event)
{
	if (trigger->kind == TRIGGER_EVENT)
		return !trigger->day.given && !trigger->plus.given && !trigger->minus.given &&
		       strcmp(trigger->event, event) == 0;
	for (size_t i = 0; i < trigger->n_of; i++)
		if (trigger_is_event(&trigger->of[i], event))
			return true;
	return false;
}

/* An exact event is somewhere to be, unless an item begins at it, or a visit is listed for it. */
static bool event_is_visit(const struct protocol *protocol, const struct event *event)
{
	if (!event->exact)
		return false;
	for (size_t i = 0; i < protocol->n_items; i++)
		if (trigger_is_event(&protocol->items[i].start, event->id))
			return event->arrive_before.given;
	for (size_t i = 0; i < protocol->n_visits; i++)
		if (strcmp(protocol->visits[i].event, event->id) == 0 && !protocol->visits[i].day.given)
			return false;
	return true;
}

static bool visit_before(const struct dated_visit *a, const struct dated_visit *b)
{
	if (a->open || b->open)
		return !a->open;
	return a->when < b->when;
}

static void insert_visit(struct dated_visit *visits, size_t *n, struct dated_visit visit)
{
	size_t at = (*n)++;
	while (at > 0 && visit_before(&visit, &visits[at - 1]) && !(visit.open && visits[at - 1].open)) {
		visits[at] = visits[at - 1];
		at--;
	}
	visits[at] = visit;
}

struct dated_visit *visits_of(struct follow *follow, size_t *n_visits)
{
	const struct protocol *protocol = follow->plan->protocol;
	struct dated_visit *visits =
		arena_alloc(follow->arena, (protocol->n_visits + protocol->n_events + 1) * sizeof *visits);
	*n_visits = 0;
	for (size_t i = 0; i < protocol->n_visits; i++)
		insert_visit(visits, n_visits, visit_of(follow, &protocol->visits[i]));
	for (size_t i = 0; i < protocol->n_events; i++) {
		const struct event *event = &protocol->events[i];
		if (!event_is_visit(protocol, event))
			continue;
		struct dated_visit dated = {.event = event};
		struct moment moment = follow_name(follow, event->id, event->place);
		set_moment(&dated, &moment);
		set_arrival(follow, event, &moment, &dated);
		insert_visit(visits, n_visits, dated);
	}
	return visits;
}

static void check_hours(struct follow *follow, const struct event *event, const struct event *before,
                        struct rational hours)
{
	struct arena *arena = follow->arena;
	const struct event_date *stated = plan_event_date(follow->plan, event);
	struct quantity by;
	struct quantity slack = {{0, 1}, UNIT_HOUR};
	if (hours.numerator <= 0) {
		findings_add(follow->findings, FINDING_STOP, "event-order", stated->place,
		             "'%s' must come before '%s', and the plan has it at the same time or later", event->id,
		             before->id);
		return;
	}
	if (!event->check_by.given || !quantity_in(event->check_by.quantity, UNIT_HOUR, &by))
		return;
	if (event->check_give_or_take.given)
		quantity_in(event->check_give_or_take.quantity, UNIT_HOUR, &slack);
	struct rational least;
	struct rational most;
	if (!rational_subtract(by.number, slack.number, &least) || !rational_add(by.number, slack.number, &most))
		return;
	if (rational_compare(hours, least) >= 0 && rational_compare(hours, most) <= 0)
		return;
	const char *take =
		rational_is_zero(slack.number)
			? ""
			: arena_printf(arena, ", give or take %s",
	                               quantity_plain(arena, event->check_give_or_take.quantity, DECIMAL_POINT));
	findings_add(follow->findings, FINDING_STOP, "hours-apart", stated->place,
	             "'%s' is %s before '%s', and the protocol says %s%s; one of the two times is wrong", event->id,
	             elapsed_print(arena, hours), before->id,
	             quantity_plain(arena, event->check_by.quantity, DECIMAL_POINT), take);
}

/* When only one of the two has a date. */
static void check_one_missing(struct follow *follow, const struct event *event, const struct event *before,
                              bool before_known)
{
	const struct event *known = before_known ? before : event;
	const struct event *missing = before_known ? event : before;
	const struct event_date *stated = plan_event_date(follow->plan, known);
	if (!stated)
		return;
	findings_add(follow->findings, before_known ? FINDING_STOP : FINDING_CAUTION, "event-missing", stated->place,
	             "'%s' has a date and '%s' has none, and the protocol ties them together; give '%s' its date too",
	             known->id, missing->id, missing->id);
}

struct time_check *event_checks_of(struct follow *follow, size_t *n_checks)
{
	const struct protocol *protocol = follow->plan->protocol;
	struct time_check *checks = arena_alloc(follow->arena, (protocol->n_events + 1) * sizeof *checks);
	*n_checks = 0;
	for (size_t i = 0; i < protocol->n_events; i++) {
		const struct event *event = &protocol->events[i];
		if (!event->check_before)
			continue;
		const struct event *before = protocol_event(protocol, event->check_before);
		if (!before) {
			findings_add(follow->findings, FINDING_STOP, "unknown-event", event->check_place,
			             "'%s' must come before '%s', which is no event of protocol '%s'", event->id,
			             event->check_before, protocol->id);
			continue;
		}
		struct moment from = follow_name(follow, event->id, event->place);
		struct moment to = follow_name(follow, before->id, event->check_place);
		if (from.known != to.known && !from.failed && !to.failed)
			check_one_missing(follow, event, before, to.known);
		if (!from.known || !to.known)
			continue;
		if (!from.has_time || !to.has_time) {
			const struct event *bare = from.has_time ? before : event;
			findings_add(follow->findings, FINDING_STOP, "exact-time-missing",
			             plan_event_date(follow->plan, bare)->place,
			             "'%s' has a date and no time, and the hours from '%s' to '%s' are checked; give "
			             "it a time",
			             bare->id, event->id, before->id);
			continue;
		}
		struct rational hours = rational_of(to.when - from.when, SECONDS_PER_HOUR);
		check_hours(follow, event, before, hours);
		checks[(*n_checks)++] =
			(struct time_check){.from = event, .to = before, .hours = hours, .place = event->check_place};
	}
	return checks;
}
