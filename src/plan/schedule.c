#include "plan/schedule.h"

#include "plan/follow.h"
#include "plan/visits.h"

#include <string.h>

/* ---- what the plan names must fit the protocol ---- */

static size_t calls_of(const struct trigger *trigger)
{
	return trigger_has_call(trigger) ? 1 : 0;
}

static void check_calls(struct follow *follow)
{
	const struct plan *plan = follow->plan;
	for (size_t i = 0; i < plan->n_called; i++) {
		const struct call_made *call = &plan->called[i];
		size_t allowed = calls_of(&call->item->start) + calls_of(&call->item->end);
		size_t before = 0;
		for (size_t j = 0; j < i; j++)
			before += plan->called[j].item == call->item;
		if (allowed == 0)
			findings_add(follow->findings, FINDING_STOP, "called-without-call", call->place,
			             "'%s' does not wait for a call; take it out of 'called'", call->item->id);
		else if (before >= allowed)
			findings_add(follow->findings, FINDING_STOP, "called-twice", call->place,
			             "the call for '%s' is listed twice; keep the one that was made", call->item->id);
	}
}

/* A call after the day the item began by anyway moved nothing, and was meant to. */
static void check_call_was_sooner(struct follow *follow, const struct item_run *run)
{
	const struct plan *plan = follow->plan;
	if (run->open || run->item->start.kind != TRIGGER_FIRST_OF || !trigger_has_call(&run->item->start))
		return;
	for (size_t i = 0; i < plan->n_called; i++) {
		const struct call_made *call = &plan->called[i];
		if (call->item != run->item)
			continue;
		if (date_compare(call->on.date, run->first) > 0)
			findings_add(follow->findings, FINDING_CAUTION, "called-late", call->place,
			             "the call for '%s' on %s came after its start on %s and changes nothing",
			             call->item->id, date_print(follow->arena, call->on.date),
			             date_print(follow->arena, run->first));
		return;
	}
}

static void check_away(struct follow *follow)
{
	const struct plan *plan = follow->plan;
	for (size_t i = 0; i < plan->n_away; i++) {
		const struct away *away = &plan->away[i];
		if (date_compare(away->from.date, away->to.date) > 0)
			findings_add(follow->findings, FINDING_STOP, "away-backwards", away->place,
			             "this time away ends on %s, before it begins on %s",
			             date_print(follow->arena, away->to.date),
			             date_print(follow->arena, away->from.date));
		for (size_t j = 0; j < i; j++) {
			const struct away *other = &plan->away[j];
			if (date_compare(away->from.date, other->to.date) <= 0 &&
			    date_compare(other->from.date, away->to.date) <= 0)
				findings_add(
					follow->findings, FINDING_STOP, "away-overlaps", away->place,
					"two times away hold on %s; let one end before the other begins",
					date_print(follow->arena, date_compare(away->from.date, other->from.date) > 0
				                                          ? away->from.date
				                                          : other->from.date));
		}
	}
}

/* ---- runs ---- */

static struct item_run run_of(const struct follow *follow, const struct item *item, const struct item_course *course)
{
	const struct moment *first = &course->first;
	bool started = first->known && date_compare(first->date, follow->plan->as_of.date) <= 0;
	struct item_run run = {.item = item,
	                       .open = !first->known,
	                       .end = course->end,
	                       .has_bound = course->has_bound,
	                       .bound = course->bound};
	run.starts_by_call = first->by_call && !started;
	run.unless_sooner = first->known && first->may_be_sooner && !started;
	if (run.starts_by_call) {
		run.call = first->call;
		run.expected = first->expected;
	}
	if (!run.open && course->n_doses > 0) {
		run.first = course->doses[0].date;
		run.last = course->doses[course->n_doses - 1].date;
	}
	return run;
}

/* The moment that the item's last dose must not be too far from. */
static void find_gap_event(struct follow *follow, struct item_run *run)
{
	const struct gap_to *gap = &run->item->gap_to;
	if (!gap->given)
		return;
	struct moment moment = follow_name(follow, gap->event, gap->place);
	if (!moment.known)
		return;
	if (!moment.has_time) {
		findings_add(follow->findings, FINDING_CAUTION, "gap-unchecked", gap->place,
		             "the hours from the last '%s' to '%s' cannot be checked: '%s' has no time", run->item->id,
		             gap->event, gap->event);
		return;
	}
	run->has_gap_event = true;
	run->gap_event = moment.when;
}

static void gather_runs(struct follow *follow, struct schedule *schedule)
{
	const struct protocol *protocol = follow->plan->protocol;
	size_t total = 0;
	for (size_t i = 0; i < protocol->n_items; i++)
		total += follow->items[i].n_doses;
	schedule->doses = arena_alloc(follow->arena, (total + 1) * sizeof *schedule->doses);
	schedule->runs = arena_alloc(follow->arena, (protocol->n_items + 1) * sizeof *schedule->runs);
	for (size_t i = 0; i < protocol->n_items; i++) {
		const struct item_course *course = &follow->items[i];
		struct item_run run = run_of(follow, &protocol->items[i], course);
		struct dose *doses = schedule->doses + schedule->n_doses;
		if (course->n_doses > 0)
			memcpy(doses, course->doses, course->n_doses * sizeof *doses);
		schedule->n_doses += course->n_doses;
		run.doses = doses;
		run.n_doses = course->n_doses;
		find_gap_event(follow, &run);
		schedule->runs[schedule->n_runs++] = run;
		check_call_was_sooner(follow, &run);
	}
}

/* ---- the days of the course ---- */

static void include_day(struct schedule *schedule, struct civil_date date)
{
	if (!schedule->has_days || date_compare(date, schedule->first) < 0)
		schedule->first = date;
	if (!schedule->has_days || date_compare(date, schedule->last) > 0)
		schedule->last = date;
	schedule->has_days = true;
}

static void find_days(struct schedule *schedule)
{
	for (size_t i = 0; i < schedule->n_doses; i++)
		if (!schedule->doses[i].open)
			include_day(schedule, schedule->doses[i].date);
	for (size_t i = 0; i < schedule->n_visits; i++)
		if (!schedule->visits[i].open)
			include_day(schedule, schedule->visits[i].date);
}

static void find_good_until(const struct plan *plan, struct schedule *schedule)
{
	if (plan->good_until.given) {
		schedule->has_good_until = true;
		schedule->good_until = plan->good_until.date;
		return;
	}
	for (size_t i = 0; i < schedule->n_visits && !schedule->has_good_until; i++) {
		const struct dated_visit *visit = &schedule->visits[i];
		if (visit->open || date_compare(visit->date, plan->as_of.date) <= 0)
			continue;
		schedule->has_good_until = true;
		schedule->good_until = visit->date;
	}
}

/* Adds the clock changes of a zone after `from` and up to `to`. */
static void add_clock_changes(struct follow *follow, struct schedule *schedule, const struct zone *zone, instant from,
                              instant to)
{
	struct zone_span span;
	while (zone_changes(zone, from, to, &span)) {
		struct clock_change change = {.zone = zone, .when = span.since};
		struct clock_time time;
		int32_t before;
		zone_local(zone, span.since - 1, &change.date, &time, &before);
		change.by = span.offset - before;
		schedule->clock_changes = arena_more(follow->arena, schedule->clock_changes, schedule->n_clock_changes,
		                                     sizeof *schedule->clock_changes);
		size_t at = schedule->n_clock_changes++;
		for (; at > 0 && schedule->clock_changes[at - 1].when > change.when; at--)
			schedule->clock_changes[at] = schedule->clock_changes[at - 1];
		schedule->clock_changes[at] = change;
		from = span.since;
	}
}

static void find_clock_changes(struct follow *follow, struct schedule *schedule)
{
	const struct plan *plan = follow->plan;
	if (!schedule->has_days)
		return;
	instant from = moment_of_day(plan, schedule->first).when;
	instant to = moment_of_day(plan, date_plus(schedule->last, 1)).when;
	add_clock_changes(follow, schedule, plan->zone, from, to);
	for (size_t i = 0; i < plan->n_away; i++) {
		const struct away *away = &plan->away[i];
		if (strcmp(away->zone->name, plan->zone->name) == 0)
			continue;
		zone_instant(away->zone, away->from.date, plan->clinic->day_begins, &from);
		zone_instant(away->zone, date_plus(away->to.date, 1), plan->clinic->day_begins, &to);
		add_clock_changes(follow, schedule, away->zone, from, to);
	}
}

bool schedule_build(struct arena *arena, const struct plan *plan, struct schedule *schedule, struct findings *findings)
{
	*schedule = (struct schedule){0};
	if (!plan->as_of.given) {
		findings_add(findings, FINDING_STOP, "as-of-missing", plan->place,
		             "the plan does not say from which day it speaks; give it 'as_of'");
		return false;
	}
	const struct protocol *protocol = plan->protocol;
	struct follow follow = {.arena = arena, .plan = plan, .findings = findings};
	follow.items = arena_alloc(arena, (protocol->n_items + 1) * sizeof *follow.items);
	follow.path = arena_alloc(arena, (2 * protocol->n_items + 1) * sizeof *follow.path);
	check_calls(&follow);
	check_away(&follow);
	for (size_t i = 0; i < protocol->n_items; i++)
		follow_last(&follow, &protocol->items[i], protocol->items[i].place);
	gather_runs(&follow, schedule);
	schedule->visits = visits_of(&follow, &schedule->n_visits);
	schedule->times = event_checks_of(&follow, &schedule->n_times);
	find_days(schedule);
	find_good_until(plan, schedule);
	find_clock_changes(&follow, schedule);
	return true;
}
