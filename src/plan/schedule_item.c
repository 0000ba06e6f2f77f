#include "plan/steps.h"

#include <assert.h>
#include <string.h>

enum { DAYS_TO_FIRST = 14 }; /* weekdays and times are met within a fortnight, or never */

/* ---- an item's end ---- */

/* An end with its moments found. What is not known yet reaches to the horizon. */
struct item_limit {
	enum trigger_kind kind;
	bool known;
	bool failed; /* a finding says why it is not known */
	struct moment moment;
	int64_t count;
	int64_t horizon; /* days; 0: none is stated */
	const struct item_limit *of;
	size_t n_of;
};

/* A dose that may or may not still belong to the item. */
struct candidate {
	int64_t day;
	int64_t n;
	struct moment moment; /* not known while open */
	struct civil_date as_of;
};

static struct item_limit limit_of(struct follow *follow, const struct item *item, const struct trigger *trigger,
                                  int64_t horizon)
{
	struct item_limit limit = {.kind = trigger->kind, .horizon = horizon};
	switch (trigger->kind) {
	case TRIGGER_NONE:
		break;
	case TRIGGER_DOSES:
	case TRIGGER_DAYS:
		limit.known = true;
		limit.count = trigger->count.number;
		break;
	case TRIGGER_ON:
	case TRIGGER_EVENT:
	case TRIGGER_CALL:
		limit.moment = follow_trigger(follow, item, trigger, true);
		limit.known = limit.moment.known;
		limit.failed = limit.moment.failed;
		break;
	case TRIGGER_FIRST_OF:
	case TRIGGER_LAST_OF: {
		struct item_limit *of = arena_alloc(follow->arena, (trigger->n_of + 1) * sizeof *of);
		size_t known = 0;
		for (size_t i = 0; i < trigger->n_of; i++) {
			of[i] = limit_of(follow, item, &trigger->of[i], horizon);
			known += of[i].known;
			limit.failed = limit.failed || of[i].failed;
		}
		limit.of = of;
		limit.n_of = trigger->n_of;
		limit.known = trigger->kind == TRIGGER_FIRST_OF ? known > 0 : known == trigger->n_of;
		break;
	}
	}
	return limit;
}

/*
 * A day is inside through its end; hours from a moment are kept to the minute.
 * An open item can begin today at the earliest, so a dated end bounds its days.
 */
static bool moment_allows(const struct moment *end, const struct candidate *candidate)
{
	if (!candidate->moment.known)
		return candidate->day <= date_difference(end->date, candidate->as_of) + 1;
	if (end->elapsed && candidate->moment.has_time)
		return candidate->moment.when <= end->when;
	return date_compare(candidate->moment.date, end->date) <= 0;
}

static bool limit_allows(const struct item_limit *limit, const struct candidate *candidate)
{
	bool first_of = limit->kind == TRIGGER_FIRST_OF;
	switch (limit->kind) {
	case TRIGGER_DOSES:
		return candidate->n <= limit->count;
	case TRIGGER_DAYS:
		return candidate->day <= limit->count;
	case TRIGGER_FIRST_OF:
	case TRIGGER_LAST_OF:
		for (size_t i = 0; i < limit->n_of; i++) {
			if (first_of && limit->known && !limit->of[i].known)
				continue; /* it can only come sooner */
			if (limit_allows(&limit->of[i], candidate) != first_of)
				return !first_of;
		}
		return first_of;
	case TRIGGER_ON:
	case TRIGGER_EVENT:
	case TRIGGER_CALL:
		if (limit->known)
			return moment_allows(&limit->moment, candidate);
		break;
	case TRIGGER_NONE:
		break;
	}
	return candidate->day <= limit->horizon;
}

/* The treatment day that no dose falls after, where the end has a date; of several the earliest. */
static bool limit_bound(const struct item_limit *limit, struct civil_date *bound)
{
	bool found = false;
	switch (limit->kind) {
	case TRIGGER_ON:
	case TRIGGER_EVENT:
	case TRIGGER_CALL:
		*bound = limit->moment.date;
		return limit->known;
	case TRIGGER_FIRST_OF:
		for (size_t i = 0; i < limit->n_of; i++) {
			struct civil_date one;
			if (!limit_bound(&limit->of[i], &one) || (found && date_compare(one, *bound) >= 0))
				continue;
			*bound = one;
			found = true;
		}
		return found;
	case TRIGGER_NONE:
	case TRIGGER_DOSES:
	case TRIGGER_DAYS:
	case TRIGGER_LAST_OF:
		break;
	}
	return false;
}

static bool limit_waits_for_event(const struct item_limit *limit)
{
	if (limit->kind == TRIGGER_EVENT)
		return !limit->known;
	for (size_t i = 0; i < limit->n_of; i++)
		if (limit_waits_for_event(&limit->of[i]))
			return true;
	return false;
}

static enum item_end limit_end(const struct item_limit *limit)
{
	if (limit->known)
		return ITEM_ENDS;
	return limit_waits_for_event(limit) ? ITEM_UNTIL_EVENT : ITEM_UNTIL_TOLD;
}

static int64_t horizon_of(const struct plan *plan, const struct item *item)
{
	int64_t days;
	if (item->horizon.given && quantity_days(item->horizon.quantity, &days))
		return days;
	if (plan->protocol->horizon.given && quantity_days(plan->protocol->horizon.quantity, &days))
		return days;
	return 0;
}

/* ---- the first dose ---- */

static bool weekday_fits(const struct item *item, struct civil_date date)
{
	return item->weekdays == 0 || (item->weekdays >> date_weekday(date) & 1U);
}

/* The earliest of the times of a day that is not before `start`, where that is so many hours after something. */
static bool first_time_of_day(struct follow *follow, const struct at *at, size_t n_at, struct civil_date date,
                              const struct moment *start, struct moment *found)
{
	found->known = false;
	for (size_t i = 0; i < n_at; i++) {
		struct moment moment = moment_of_day_at(follow->plan, date, at[i].time);
		if (start->elapsed && moment.when < start->when)
			continue;
		if (!found->known || moment.when < found->when)
			*found = moment;
	}
	return found->known;
}

static struct moment first_dose(struct follow *follow, const struct item *item, const struct moment *start)
{
	for (int64_t i = 0; i <= DAYS_TO_FIRST; i++) {
		const struct at *at;
		size_t n_at;
		struct civil_date date = date_plus(start->date, i);
		orders_first_times(follow->plan, item, date, &at, &n_at);
		struct moment moment = i == 0 ? *start : moment_of_day(follow->plan, date);
		if (i > 0 && start->has_time)
			moment = moment_of_clock(follow->plan, date_plus(start->clock_date, i), start->time);
		if (!weekday_fits(item, date))
			continue;
		if (n_at > 0 && !first_time_of_day(follow, at, n_at, date, start, &moment))
			continue;
		moment.exact = start->exact && n_at == 0;
		moment.elapsed = start->elapsed;
		moment.may_be_sooner = start->may_be_sooner;
		moment.by_call = start->by_call;
		moment.call = start->call;
		moment.expected = start->expected;
		return moment;
	}
	assert(!"a fortnight holds every weekday");
	return *start;
}

/* True, with a stop, when the start says one time and `at` another. */
static bool times_contradict(struct follow *follow, const struct item *item, const struct moment *start)
{
	const struct at *at;
	size_t n_at;
	orders_first_times(follow->plan, item, start->date, &at, &n_at);
	bool later_times = start->elapsed && item->start.plus.given; /* the first of `at` from then on */
	if (!start->exact || later_times || n_at == 0)
		return false;
	findings_add(follow->findings, FINDING_STOP, "at-and-exact", at[0].place,
	             "'%s' begins at an exact time, %s, and has 'at' as well; leave out 'at'", item->id,
	             clock_print(follow->arena, start->time));
	return true;
}

static struct item_course *course_of_item(struct follow *follow, const struct item *item)
{
	return &follow->items[item - follow->plan->protocol->items];
}

struct moment follow_first(struct follow *follow, const struct item *item, struct place place)
{
	struct item_course *course = course_of_item(follow, item);
	if (course->first_state == KNOT_DONE)
		return course->first;
	if (!follow_enter(follow, &course->first_state, item->id, place))
		return (struct moment){.failed = true};
	struct moment start = follow_trigger(follow, item, &item->start, false);
	if (start.known && times_contradict(follow, item, &start))
		start = (struct moment){.failed = true};
	course->first = start.known ? first_dose(follow, item, &start) : start;
	follow_leave(follow, &course->first_state);
	return course->first;
}

/* ---- the doses ---- */

/* A run of doses while it is being made. */
struct making {
	struct follow *follow;
	const struct item *item;
	struct item_course *course;
	const struct orders *orders;
	const struct item_limit *limit;
	int64_t scheduled; /* doses so far, skipped ones too */
	bool ended;
	bool stopped_for_good;
	bool no_step;
};

static const struct away *away_on(const struct plan *plan, struct civil_date date)
{
	for (size_t i = 0; i < plan->n_away; i++)
		if (date_compare(plan->away[i].from.date, date) <= 0 && date_compare(date, plan->away[i].to.date) <= 0)
			return &plan->away[i];
	return NULL;
}

/*
 * Away from home the clock is kept, and the instant moves; or the hours are
 * kept, and the clock moves. An exact time is an instant everywhere.
 */
static void place_in_zone(struct making *making, struct moment moment, struct place stated, struct dose *dose)
{
	struct follow *follow = making->follow;
	const struct away *away = away_on(follow->plan, moment.date);
	dose->zone = away ? away->zone : follow->plan->zone;
	bool said = !away && moment.exact && !making->course->first.elapsed; /* of the event itself */
	bool hours = away && moment.has_time && (moment.exact || away->keep == AWAY_KEEP_HOURS);
	if (hours) {
		int32_t offset;
		zone_local(away->zone, moment.when, &moment.clock_date, &moment.time, &offset);
		moment.date = treatment_day(follow->plan, moment.clock_date, moment.time);
	} else if (away) {
		struct clock_time time = moment.has_time ? moment.time : follow->plan->clinic->day_begins;
		zone_instant(away->zone, moment.clock_date, time, &moment.when);
	}
	if (moment.has_time && !said)
		moment_check_clock(follow, dose->zone, &moment, "the time of", making->item->id, stated);
	dose->date = moment.date;
	dose->clock_date = moment.clock_date;
	dose->has_time = moment.has_time;
	dose->time = moment.has_time ? moment.time : (struct clock_time){0, 0};
	dose->exact = moment.exact;
	dose->when = moment.when;
	dose->done = date_compare(dose->date, follow->plan->as_of.date) < 0;
}

static void add_dose(struct making *making, const struct day_order *order, const struct at *at,
                     const struct candidate *candidate)
{
	struct follow *follow = making->follow;
	struct item_course *course = making->course;
	const struct moment *first = &course->first;
	struct dose dose = {.item = making->item,
	                    .step = order->step,
	                    .place = order->place,
	                    .n = (int64_t)course->n_doses + 1,
	                    .day = candidate->day,
	                    .open = !candidate->moment.known,
	                    .slot = at ? at->slot : NULL,
	                    .amount = order->amount,
	                    .ordered = order->ordered,
	                    .split = order->split,
	                    .as_needed = making->item->as_needed.given,
	                    .zone = follow->plan->zone};
	if (!dose.open) {
		place_in_zone(making, candidate->moment, at ? at->place : making->item->start.place, &dose);
		dose.unless_sooner = first->may_be_sooner && date_compare(first->date, follow->plan->as_of.date) > 0;
	} else if (at) {
		dose.has_time = true;
		dose.time = at->time;
	}
	if (course->n_doses > 0) {
		const struct dose *before = &course->doses[course->n_doses - 1];
		dose.new_amount =
			before->amount != dose.amount ||
			(dose.amount == DOSE_STATED && !(unit_converts(before->ordered.unit, dose.ordered.unit) &&
		                                         quantity_same(before->ordered, dose.ordered)));
	}
	course->doses = arena_more(follow->arena, course->doses, course->n_doses, sizeof *course->doses);
	course->doses[course->n_doses++] = dose;
}

/* One time of one day: a dose, unless the item has ended or the day is skipped. */
static void offer(struct making *making, const struct day_order *order, const struct at *at, int64_t day,
                  struct moment moment)
{
	struct candidate candidate = {
		.day = day, .n = making->scheduled + 1, .moment = moment, .as_of = making->follow->plan->as_of.date};
	if (making->ended || !limit_allows(making->limit, &candidate)) {
		making->ended = true;
		return;
	}
	making->scheduled++;
	making->stopped_for_good = order->stopped_for_good;
	if (!order->found)
		making->no_step = true;
	else if (!order->stopped)
		add_dose(making, order, at, &candidate);
}

/* The minutes since the treatment day began, so that the small hours come last. */
static int minutes_into_day(const struct plan *plan, struct clock_time time)
{
	int minutes = clock_minutes(time) - clock_minutes(plan->clinic->day_begins);
	return minutes < 0 ? minutes + 24 * 60 : minutes;
}

/* Which of `at` comes after `previous` in the treatment day; NULL after the last. */
static const struct at *next_at(const struct plan *plan, const struct day_order *order, const struct at *previous)
{
	const struct at *next = NULL;
	for (size_t i = 0; i < order->n_at; i++) {
		int minutes = minutes_into_day(plan, order->at[i].time);
		if (previous && minutes <= minutes_into_day(plan, previous->time))
			continue;
		if (!next || minutes < minutes_into_day(plan, next->time))
			next = &order->at[i];
	}
	return next;
}

static void offer_at_times(struct making *making, const struct day_order *order, int64_t day, struct civil_date date)
{
	const struct plan *plan = making->follow->plan;
	const struct moment *first = &making->course->first;
	for (const struct at *at = next_at(plan, order, NULL); at; at = next_at(plan, order, at)) {
		struct moment moment = {.known = false};
		if (first->known) {
			moment = moment_of_day_at(plan, date, at->time);
			if (day == 1 && first->elapsed && moment.when < first->when)
				continue;
		}
		offer(making, order, at, day, moment);
	}
}

/* Without `at` the start's own clock time is every day's; without that the day has none. */
static void offer_plain(struct making *making, const struct day_order *order, int64_t day, struct civil_date date)
{
	const struct plan *plan = making->follow->plan;
	const struct moment *first = &making->course->first;
	int64_t times = making->item->as_needed.given ? making->item->as_needed.most : 1;
	struct moment moment = {.known = false};
	if (first->known && day == 1)
		moment = *first;
	else if (first->known && first->has_time)
		moment = moment_of_clock(plan, date_plus(first->clock_date, day - 1), first->time);
	else if (first->known)
		moment = moment_of_day(plan, date);
	moment.exact = first->known && first->exact;
	for (int64_t i = 0; i < times; i++)
		offer(making, order, NULL, day, moment);
}

/* Whether an open item, begun on the first of its weekdays, is taken on its day `day`. */
static bool open_weekday_fits(const struct item *item, int64_t day)
{
	if (item->weekdays == 0)
		return true;
	int first = MONDAY;
	while (!(item->weekdays >> first & 1U))
		first++;
	return item->weekdays >> ((first - MONDAY + day - 1) % 7 + MONDAY) & 1U;
}

static void make_day(struct making *making, int64_t day)
{
	const struct moment *first = &making->course->first;
	struct civil_date date = first->known ? date_plus(first->date, day - 1) : (struct civil_date){0, 0, 0};
	struct day_order order = orders_on(making->orders, day, date);
	bool fits = first->known ? weekday_fits(making->item, date) : open_weekday_fits(making->item, day);
	bool spaced = day >= order.every_from && (day - order.every_from) % order.every == 0;
	if (!fits || !spaced) {
		struct candidate end_of_day = {
			.day = day, .n = making->scheduled + 1, .as_of = making->follow->plan->as_of.date};
		if (first->known)
			end_of_day.moment = moment_of_day(making->follow->plan, date);
		making->ended = !limit_allows(making->limit, &end_of_day);
		return;
	}
	if (order.n_at > 0)
		offer_at_times(making, &order, day, date);
	else
		offer_plain(making, &order, day, date);
}

static void make_doses(struct making *making)
{
	int64_t day = 1;
	for (; !making->ended && day <= COURSE_MOST_DAYS; day++)
		make_day(making, day);
	if (!making->ended)
		findings_add(making->follow->findings, FINDING_STOP, "course-too-long", making->item->end.place,
		             "'%s' would run for more than %d days; check the date of its end", making->item->id,
		             COURSE_MOST_DAYS);
}

static struct moment moment_of_dose(const struct dose *dose)
{
	return (struct moment){.known = true,
	                       .date = dose->date,
	                       .has_time = dose->has_time,
	                       .clock_date = dose->clock_date,
	                       .time = dose->time,
	                       .when = dose->when,
	                       .exact = dose->exact};
}

/* The last dose is known when the first and the end are. */
static struct moment last_dose(const struct item_course *course)
{
	if (!course->first.known || course->end != ITEM_ENDS || course->n_doses == 0)
		return (struct moment){.known = false};
	struct moment last = moment_of_dose(&course->doses[course->n_doses - 1]);
	last.may_be_sooner = course->first.may_be_sooner;
	return last;
}

static void check_times_differ(struct follow *follow, const struct item *item, const struct at *at, size_t n_at)
{
	for (size_t i = 0; i < n_at; i++)
		for (size_t j = 0; j < i; j++)
			if (clock_compare(at[i].time, at[j].time) == 0)
				findings_add(follow->findings, FINDING_STOP, "same-time", at[i].place,
				             "'%s' is taken at %s twice; write each time once", item->id,
				             clock_print(follow->arena, at[i].time));
}

static void check_extent(const struct making *making)
{
	struct follow *follow = making->follow;
	const struct item *item = making->item;
	const struct item_course *course = making->course;
	struct civil_date as_of = follow->plan->as_of.date;
	if (making->limit->failed)
		return;
	if (!making->limit->known && making->limit->horizon == 0)
		findings_add(follow->findings, FINDING_STOP, "horizon-missing", item->end.place,
		             "the end of '%s' is not known, and the protocol has no 'horizon' to look to", item->id);
	else if (making->scheduled == 0 && course->first.known)
		findings_add(follow->findings, FINDING_STOP, "ends-before-start", item->end.place,
		             "'%s' ends before its first dose on %s; check the dates of its start and end", item->id,
		             date_print(follow->arena, course->first.date));
	else if (making->scheduled == 0)
		findings_add(follow->findings, FINDING_CAUTION, "cannot-start", item->end.place,
		             "'%s' waits for its start, and its end is already past", item->id);
	bool past = course->n_doses > 0 && !course->doses[0].open && course->end != ITEM_ENDS &&
	            date_compare(course->doses[course->n_doses - 1].date, as_of) < 0;
	if (past)
		findings_add(follow->findings, FINDING_STOP, "horizon-past", item->end.place,
		             "'%s' has no end yet, and its horizon of %lld days was over before %s; give it a longer "
		             "'horizon'",
		             item->id, (long long)making->limit->horizon, date_print(follow->arena, as_of));
}

/* Once the event has its date it may give the time too. */
static bool may_give_time(const struct trigger *start)
{
	if (start->kind == TRIGGER_EVENT)
		return !start->day.given;
	for (size_t i = 0; i < start->n_of; i++)
		if (may_give_time(&start->of[i]))
			return true;
	return false;
}

static bool steps_have_times(const struct timed_step *steps, size_t n)
{
	for (size_t i = 0; i < n; i++)
		if (steps[i].step->n_at > 0)
			return true;
	return false;
}

static bool have_times(const struct orders *orders)
{
	for (size_t i = 0; i < orders->n_changes; i++)
		if (orders->changes[i]->kind == CHANGE_AT)
			return true;
	return orders->item->n_at > 0 || steps_have_times(orders->steps, orders->n_steps) ||
	       steps_have_times(orders->plan_steps, orders->n_plan_steps);
}

/* Each time would be a dose of its own, however many a day are allowed. */
static void check_needed(const struct making *making)
{
	const struct item *item = making->item;
	if (item->as_needed.given && have_times(making->orders))
		findings_add(making->follow->findings, FINDING_STOP, "needed-at-times", item->as_needed.place,
		             "'%s' is taken when needed, and has times of day as well; leave out 'at'", item->id);
}

static void check_times(const struct making *making)
{
	struct follow *follow = making->follow;
	const struct item *item = making->item;
	const struct item_course *course = making->course;
	check_needed(making);
	check_times_differ(follow, item, item->at, item->n_at);
	for (size_t i = 0; i < item->n_doses; i++)
		check_times_differ(follow, item, item->doses[i].at, item->doses[i].n_at);
	if (!course->first.known && item->weekdays != 0)
		findings_add(follow->findings, FINDING_CAUTION, "weekday-open", item->start.place,
		             "'%s' has fixed weekdays and no start yet: its days are numbered as if it began on the "
		             "first of them",
		             item->id);
	bool timeless = course->n_doses > 0 && !course->doses[0].has_time && !item->as_needed.given;
	if (timeless && (course->first.known || !may_give_time(&item->start)))
		findings_add(follow->findings, FINDING_CAUTION, "no-time-of-day", item->place,
		             "'%s' has no time of day; give it 'at'", item->id);
}

/* Each stretch of days without an amount is said by its first day. */
static void check_amounts(const struct making *making)
{
	struct follow *follow = making->follow;
	const struct item *item = making->item;
	const struct dose *doses = making->course->doses;
	if (making->no_step)
		findings_add(follow->findings, FINDING_STOP, "no-dose", item->place,
		             "no dose of '%s' holds from its day 1; let the first step begin with 'from: 1'", item->id);
	for (size_t i = 0; i < making->course->n_doses; i++) {
		if (doses[i].amount != DOSE_FROM_PLAN || (i > 0 && doses[i - 1].amount == DOSE_FROM_PLAN))
			continue;
		findings_add(follow->findings, FINDING_STOP, "dose-missing", doses[i].place,
		             "the plan must give the dose of '%s' from day %lld; add it under 'doses'", item->id,
		             (long long)doses[i].day);
	}
}

struct moment follow_last(struct follow *follow, const struct item *item, struct place place)
{
	struct item_course *course = course_of_item(follow, item);
	if (course->doses_state == KNOT_DONE)
		return course->last;
	const char *name = arena_printf(follow->arena, "%s.last", item->id);
	if (!follow_enter(follow, &course->doses_state, name, place))
		return (struct moment){.failed = true};
	struct moment first = follow_first(follow, item, item->start.place);
	bool failed = first.failed;
	if (!first.failed) {
		struct orders orders = orders_of(follow, item, &first);
		struct item_limit limit = limit_of(follow, item, &item->end, horizon_of(follow->plan, item));
		struct making making = {
			.follow = follow, .item = item, .course = course, .orders = &orders, .limit = &limit};
		make_doses(&making);
		failed = limit.failed;
		course->end = making.stopped_for_good ? ITEM_ENDS : limit_end(&limit);
		course->has_bound = limit_bound(&limit, &course->bound);
		bool ends = course->end == ITEM_ENDS && course->n_doses > 0 && first.known;
		orders_check(follow, &orders, ends, ends ? course->doses[course->n_doses - 1].date : first.date);
		check_extent(&making);
		check_times(&making);
		check_amounts(&making);
	}
	course->last = failed ? (struct moment){.failed = true} : last_dose(course);
	follow_leave(follow, &course->doses_state);
	return course->last;
}
