#include "plan/steps.h"

#include <string.h>

static struct timed_step timed_step(struct follow *follow, const struct dose_step *step, const struct orders *orders)
{
	struct timed_step timed = {.step = step, .known = true, .day = step->from.given ? step->from.number : 1};
	if (!step->from_event)
		return timed;
	struct moment moment;
	if (step->from_day.given)
		moment = follow_day(follow, step->from_event, step->from_day, step->place);
	else
		moment = follow_name(follow, step->from_event, step->place);
	timed.known = moment.known && orders->dated;
	timed.day = timed.known ? date_difference(moment.date, orders->first) + 1 : 0;
	return timed;
}

static struct timed_step *timed_steps(struct follow *follow, const struct dose_step *steps, size_t n,
                                      const struct orders *orders)
{
	struct timed_step *timed = arena_alloc(follow->arena, (n + 1) * sizeof *timed);
	for (size_t i = 0; i < n; i++)
		timed[i] = timed_step(follow, &steps[i], orders);
	return timed;
}

static void gather_changes(struct follow *follow, struct orders *orders)
{
	const struct plan *plan = follow->plan;
	orders->changes = arena_alloc(follow->arena, (plan->n_changes + 1) * sizeof(const struct change *));
	for (size_t i = 0; i < plan->n_changes; i++) {
		if (plan->changes[i].item != orders->item)
			continue;
		size_t at = orders->n_changes++;
		while (at > 0 && date_compare(orders->changes[at - 1]->from.date, plan->changes[i].from.date) > 0) {
			orders->changes[at] = orders->changes[at - 1];
			at--;
		}
		orders->changes[at] = &plan->changes[i];
	}
}

struct orders orders_of(struct follow *follow, const struct item *item, const struct moment *first)
{
	struct orders orders = {
		.item = item, .dated = first->known, .first = first->date, .plan_place = follow->plan->place};
	orders.steps = timed_steps(follow, item->doses, item->n_doses, &orders);
	orders.n_steps = item->n_doses;
	const struct plan_doses *own = plan_doses_of(follow->plan, item);
	if (own) {
		orders.plan_steps = timed_steps(follow, own->doses, own->n_doses, &orders);
		orders.n_plan_steps = own->n_doses;
		orders.plan_place = own->place;
	}
	gather_changes(follow, &orders);
	return orders;
}

/* The step that began last, on or before `day`; of two that began together the one written later. */
static const struct timed_step *step_on(const struct timed_step *steps, size_t n, int64_t day)
{
	const struct timed_step *found = NULL;
	for (size_t i = 0; i < n; i++) {
		if (!steps[i].known || steps[i].day > day)
			continue;
		if (!found || steps[i].day >= found->day)
			found = &steps[i];
	}
	return found;
}

/* A skip without an end is of its one day. */
static bool change_covers(const struct change *change, struct civil_date date)
{
	if (date_compare(change->from.date, date) > 0)
		return false;
	if (change->until.given)
		return date_compare(date, change->until.date) <= 0;
	return change->kind != CHANGE_SKIP || date_compare(change->from.date, date) == 0;
}

/* The first step by day, which may change the times, and over it the plan's. */
static void take_first_times(const struct dose_step *steps, size_t n, const struct at **at, size_t *n_at)
{
	for (size_t i = 0; i < n; i++) {
		if (steps[i].from_event || (steps[i].from.given && steps[i].from.number > 1) || steps[i].n_at == 0)
			continue;
		*at = steps[i].at;
		*n_at = steps[i].n_at;
	}
}

void orders_first_times(const struct plan *plan, const struct item *item, struct civil_date date, const struct at **at,
                        size_t *n_at)
{
	const struct plan_doses *own = plan_doses_of(plan, item);
	*at = item->at;
	*n_at = item->n_at;
	take_first_times(item->doses, item->n_doses, at, n_at);
	if (own)
		take_first_times(own->doses, own->n_doses, at, n_at);
	const struct change *latest = NULL;
	for (size_t i = 0; i < plan->n_changes; i++) {
		const struct change *change = &plan->changes[i];
		if (change->item != item || change->kind != CHANGE_AT || date_compare(change->from.date, date) > 0)
			continue;
		if (!latest || date_compare(change->from.date, latest->from.date) >= 0)
			latest = change;
	}
	if (!latest || !change_covers(latest, date))
		return;
	*at = latest->at;
	*n_at = latest->n_at;
}

/* The latest change of `kind` begun by `date`, if it still holds. */
static const struct change *change_on(const struct orders *orders, enum change_kind kind, struct civil_date date)
{
	const struct change *latest = NULL;
	for (size_t i = 0; i < orders->n_changes; i++)
		if (orders->changes[i]->kind == kind && date_compare(orders->changes[i]->from.date, date) <= 0)
			latest = orders->changes[i];
	return latest && change_covers(latest, date) ? latest : NULL;
}

/* A stop holds until its end, or until a later change takes the item up again. */
static const struct change *stop_on(const struct orders *orders, struct civil_date date)
{
	const struct change *stop = change_on(orders, CHANGE_STOP, date);
	for (size_t i = 0; stop && i < orders->n_changes; i++) {
		const struct change *other = orders->changes[i];
		bool later = date_compare(other->from.date, stop->from.date) > 0 &&
		             date_compare(other->from.date, date) <= 0;
		if (later && other->kind != CHANGE_STOP && other->kind != CHANGE_SKIP)
			return NULL;
	}
	return stop;
}

static void take_step(const struct timed_step *timed, struct day_order *order)
{
	const struct dose_step *step = timed->step;
	order->step = step;
	order->place = step->dose.given ? step->dose.place : step->place;
	order->amount = step->amount;
	order->ordered = step->dose.quantity;
	order->split = order->split || step->split;
	if (step->n_at > 0) {
		order->at = step->at;
		order->n_at = step->n_at;
	}
	int64_t days;
	if (step->every.given && quantity_days(step->every.quantity, &days)) {
		order->every = days;
		order->every_from = timed->day > 1 ? timed->day : 1;
	}
}

/* The protocol's step, and over it the plan's where the protocol leaves the amount to it. */
static void amount_of_step(const struct orders *orders, const struct timed_step *timed, int64_t day,
                           struct day_order *order)
{
	take_step(timed, order);
	if (timed->step->amount != DOSE_FROM_PLAN)
		return;
	const struct timed_step *own = step_on(orders->plan_steps, orders->n_plan_steps, day);
	if (own)
		take_step(own, order);
	else
		order->place = orders->plan_place;
}

/*
 * While a changed dose holds, the step of the day it began on stays in force
 * for times and spacing. A container is shared only as the step ordered it: a
 * changed amount is not split.
 */
struct day_order orders_on(const struct orders *orders, int64_t day, struct civil_date date)
{
	const struct item *item = orders->item;
	struct day_order order = {
		.at = item->at, .n_at = item->n_at, .every = 1, .every_from = 1, .place = item->place};
	int64_t days;
	if (item->every.given && quantity_days(item->every.quantity, &days))
		order.every = days;
	const struct change *dose = orders->dated ? change_on(orders, CHANGE_DOSE, date) : NULL;
	int64_t step_day = day;
	if (dose) {
		int64_t begun = date_difference(dose->from.date, orders->first) + 1;
		step_day = begun > 1 ? begun : 1;
	}
	const struct timed_step *timed = step_on(orders->steps, orders->n_steps, step_day);
	order.found = timed != NULL;
	if (!timed)
		return order;
	amount_of_step(orders, timed, step_day, &order);
	if (!orders->dated)
		return order;
	if (dose) {
		order.split =
			order.split && order.amount == DOSE_STATED && quantity_same(order.ordered, dose->dose.quantity);
		order.amount = DOSE_STATED;
		order.ordered = dose->dose.quantity;
		order.place = dose->dose.given ? dose->dose.place : dose->place;
	}
	const struct change *at = change_on(orders, CHANGE_AT, date);
	if (at) {
		order.at = at->at;
		order.n_at = at->n_at;
	}
	const struct change *stop = stop_on(orders, date);
	order.stopped = stop || change_on(orders, CHANGE_SKIP, date);
	order.stopped_for_good = stop && !stop->until.given;
	return order;
}

static void check_steps_rise(struct follow *follow, const struct item *item, const struct timed_step *steps, size_t n)
{
	const struct timed_step *before = NULL;
	for (size_t i = 0; i < n; i++) {
		if (steps[i].step->from_event)
			continue;
		if (before && steps[i].day <= before->day)
			findings_add(follow->findings, FINDING_STOP, "steps-out-of-order", steps[i].step->place,
			             "the doses of '%s' go from day %lld to day %lld; list each day once, the earliest "
			             "first",
			             item->id, (long long)before->day, (long long)steps[i].day);
		before = &steps[i];
	}
}

/* The plan's amounts must be ones that the protocol asks it for. */
static void check_plan_steps_used(struct follow *follow, const struct orders *orders)
{
	for (size_t i = 0; i < orders->n_plan_steps; i++) {
		const struct timed_step *own = &orders->plan_steps[i];
		if (own->step->amount == DOSE_FROM_PLAN)
			findings_add(follow->findings, FINDING_STOP, "dose-missing", own->step->place,
			             "the plan must give the dose of '%s' and refers to the plan; write the amount",
			             orders->item->id);
		if (!own->known)
			continue;
		const struct timed_step *asked = step_on(orders->steps, orders->n_steps, own->day);
		if (asked && asked->step->amount != DOSE_FROM_PLAN)
			findings_add(follow->findings, FINDING_STOP, "dose-not-asked", own->step->place,
			             "the plan gives a dose of '%s' from day %lld, where the protocol states its own; "
			             "change that with 'changes'",
			             orders->item->id, (long long)own->day);
	}
}

static const char *change_word(enum change_kind kind)
{
	static const char *const words[] = {"dose", "stop", "skip", "at", "product"};
	return words[kind];
}

static void check_change_pair(struct follow *follow, const struct change *earlier, const struct change *later)
{
	const char *id = later->item->id;
	if (earlier->kind != later->kind)
		return;
	if (date_compare(earlier->from.date, later->from.date) == 0) {
		findings_add(follow->findings, FINDING_STOP, "changes-conflict", later->place,
		             "'%s' has two changes of '%s' from %s; keep one", id, change_word(later->kind),
		             date_print(follow->arena, later->from.date));
		return;
	}
	if (later->kind == CHANGE_SKIP || !later->until.given)
		return;
	bool earlier_goes_on = !earlier->until.given || date_compare(earlier->until.date, later->until.date) > 0;
	if (earlier_goes_on)
		findings_add(follow->findings, FINDING_CAUTION, "change-lapses", later->place,
		             "after %s '%s' goes back to the protocol, and not to the change from %s; "
		             "add a change from the day after if that is meant",
		             date_print(follow->arena, later->until.date), id,
		             date_print(follow->arena, earlier->from.date));
}

static void check_change(struct follow *follow, const struct orders *orders, const struct change *change, bool has_last,
                         struct civil_date last)
{
	const char *id = orders->item->id;
	const char *from = date_print(follow->arena, change->from.date);
	if (!orders->dated) {
		findings_add(follow->findings, FINDING_STOP, "change-on-open", change->place,
		             "the days of '%s' are not known yet, so nothing can change from %s; give its start a date "
		             "first",
		             id, from);
		return;
	}
	if (change->until.given && date_compare(change->until.date, change->from.date) < 0)
		findings_add(follow->findings, FINDING_STOP, "change-backwards", change->until.place,
		             "this change of '%s' ends on %s, before it begins on %s", id,
		             date_print(follow->arena, change->until.date), from);
	else if (date_compare(change->from.date, orders->first) < 0 ||
	         (has_last && change->kind != CHANGE_STOP && date_compare(change->from.date, last) > 0))
		findings_add(follow->findings, FINDING_CAUTION, "change-outside", change->place,
		             "this change of '%s' is from %s, and its doses run from %s to %s; check its date", id,
		             from, date_print(follow->arena, orders->first),
		             date_print(follow->arena, has_last ? last : orders->first));
}

void orders_check(struct follow *follow, const struct orders *orders, bool has_last, struct civil_date last)
{
	check_steps_rise(follow, orders->item, orders->steps, orders->n_steps);
	check_steps_rise(follow, orders->item, orders->plan_steps, orders->n_plan_steps);
	check_plan_steps_used(follow, orders);
	for (size_t i = 0; i < orders->n_changes; i++) {
		check_change(follow, orders, orders->changes[i], has_last, last);
		for (size_t j = i; j > 0; j--) {
			if (orders->changes[j - 1]->kind != orders->changes[i]->kind)
				continue;
			check_change_pair(follow, orders->changes[j - 1], orders->changes[i]);
			break;
		}
	}
}
