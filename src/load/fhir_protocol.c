#include "load/fhir_building.h"

#include "load/intake_tree.h"

#include <string.h>

/* ---- orders of a protocol ---- */

static void differs(const struct fhir_building *building, const struct fhir_order *order, const char *what)
{
	fhir_refuse(
		building->reading, order->from, "order-differs",
		"%s of this order differs from protocol '%s', item '%s', or cannot be compared with it; correct the "
		"order, or write it without a protocol",
		what, building->protocol->id, order->medication->item);
}

/* Most often it goes on with one that is over, whose days are not read. */
static void begins_late(const struct fhir_building *building, const struct fhir_order *order, struct civil_date start)
{
	fhir_refuse(
		building->reading, order->from, "order-begins-late",
		"this order begins on %s, and item '%s' of protocol '%s' on %s; an order that is over is not read, so "
		"put the days before into this one as a dosage of their own, or write this plan by hand",
		date_print(building->arena, order->doses[0].start), order->medication->item, building->protocol->id,
		date_print(building->arena, start));
}

static bool same_times(const struct fhir_dose *dose, const struct item *item, struct arena *arena)
{
	size_t found = 0;
	for (size_t i = 0; i < item->n_at; i++)
		for (size_t j = 0; j < dose->n_at; j++) {
			const struct at *at = &item->at[i];
			bool slot = at->slot != NULL && strcmp(at->slot->id, dose->at[j]) == 0;
			found += slot || strcmp(clock_print(arena, at->time), dose->at[j]) == 0;
		}
	return dose->n_at == 0 || (item->n_at == dose->n_at && found == item->n_at);
}

static bool same_rhythm(const struct fhir_dose *dose, const struct item *item)
{
	struct quantity days;
	int64_t every = 1;
	if (item->every.given && quantity_in(item->every.quantity, UNIT_DAY, &days))
		every = days.number.numerator;
	return dose->every == every && fhir_weekdays(dose) == item->weekdays;
}

/* The day of a trigger that hangs on an event whose date is known. */
static bool trigger_day(const struct fhir_building *building, const struct trigger *trigger, struct civil_date *day)
{
	if (trigger->kind == TRIGGER_ON) {
		*day = trigger->on.date;
		return true;
	}
	if (trigger->kind != TRIGGER_EVENT || !trigger->day.given)
		return false;
	const struct event *event = protocol_event(building->protocol, trigger->event);
	const struct node *node = event == NULL ? NULL : tree_get(building->events, event->id);
	if (node == NULL || !event->own_day.given || !date_read(arena_strndup(building->arena, node->text, 10), day))
		return false;
	*day = date_plus(*day, trigger->day.number - event->own_day.number);
	return true;
}

/* How many days an order is of, the item's first day being `start`; 0: it does not say. */
static int64_t span_of(const struct fhir_order *order, struct civil_date start)
{
	const struct fhir_dose *last = &order->doses[order->n - 1];
	if (fhir_first_dated(order) == order->n)
		return fhir_total_days(order);
	return last->days == 0 ? 0 : date_difference(last->start, start) + last->days;
}

static void check_span(const struct fhir_building *building, const struct fhir_order *order, const struct item *item)
{
	struct civil_date start, end;
	const struct fhir_dose *first = &order->doses[0];
	const struct fhir_dose *last = &order->doses[order->n - 1];
	bool known = trigger_day(building, &item->start, &start);
	bool dated = fhir_first_dated(order) < order->n;
	int64_t days = known || !dated ? span_of(order, start) : 0;
	if (dated && (!known || date_compare(order->doses[fhir_first_dated(order)].start, start) <= 0))
		differs(building, order, "the day of a change");
	if (first->has_start && known && date_compare(first->start, start) > 0)
		begins_late(building, order, start);
	else if (first->has_start && (!known || date_compare(start, first->start) != 0))
		differs(building, order, "the first day");
	if (last->count > 0 &&
	    !(item->end.kind == TRIGGER_DOSES && item->end.count.given && item->end.count.number == last->count))
		differs(building, order, "the number of doses");
	if (days == 0)
		return;
	bool by_days = item->end.kind == TRIGGER_DAYS && item->end.count.given && item->end.count.number == days;
	bool by_event = known && trigger_day(building, &item->end, &end) && date_difference(end, start) + 1 == days;
	if (!by_days && !by_event)
		differs(building, order, "the last day");
}

static bool is_from_plan(const struct item *item)
{
	for (size_t i = 0; i < item->n_doses; i++)
		if (item->doses[i].amount == DOSE_FROM_PLAN)
			return true;
	return false;
}

/* What the protocol states itself must be what is ordered, day for day. */
static void check_steps(const struct fhir_building *building, const struct fhir_order *order, const struct item *item)
{
	int64_t day = 1;
	bool same = order->n == item->n_doses;
	for (size_t i = 0; same && i < order->n; i++) {
		const struct dose_step *step = &item->doses[i];
		same = step->amount == DOSE_STATED && step->from.given && step->from.number == day &&
		       unit_converts(step->dose.quantity.unit, order->doses[i].quantity.unit) &&
		       quantity_same(step->dose.quantity, order->doses[i].quantity);
		day += order->doses[i].days;
	}
	if (!same)
		differs(building, order, "a dose");
}

/* From a date on, whatever day of the treatment that is. */
static void put_changes(struct fhir_building *building, const struct fhir_order *order, size_t from)
{
	struct place place = order->from->place;
	for (size_t i = from; i < order->n; i++) {
		struct node *change = tree_map(building->arena, place);
		fhir_put(building, change, "item", order->medication->item, place);
		fhir_put(building, change, "from", date_print(building->arena, order->doses[i].start), place);
		fhir_put(building, change, "dose", order->doses[i].amount, place);
		tree_add(building->arena, fhir_list_of(building, building->plan, "changes"), change);
	}
}

static void put_order(struct fhir_building *building, struct node *doses, const struct fhir_order *order)
{
	const char *id = order->medication->item;
	const struct item *item = id == NULL ? NULL : protocol_item(building->protocol, id);
	if (item == NULL || item->medicine != order->medication->medicine) {
		fhir_refuse(building->reading, order->from, "item-unknown",
		            "protocol '%s' has no item for %s as the map says it; correct the map, or the order",
		            building->protocol->id, order->medication->medicine->name);
		return;
	}
	if (fhir_is_concurrent(order)) {
		differs(building, order, "a dosage beside another");
		return;
	}
	if (!fhir_check_sequence(building, order))
		return;
	for (size_t i = 0; i < order->n; i++)
		if ((order->doses[i].timed &&
		     (!same_times(&order->doses[i], item, building->arena) || !same_rhythm(&order->doses[i], item))) ||
		    order->doses[i].most != (item->as_needed.given ? item->as_needed.most : 0)) {
			differs(building, order, "a time");
			return;
		}
	check_span(building, order, item);
	struct fhir_order by_day = *order;
	by_day.n = fhir_first_dated(order);
	if (is_from_plan(item)) {
		struct node *steps = tree_list(building->arena, order->from->place);
		fhir_put_steps(building, steps, &by_day);
		tree_put(building->arena, doses, id, steps);
	} else {
		check_steps(building, &by_day, item);
	}
	put_changes(building, order, by_day.n);
}

/* ---- orders that follow one another ---- */

/* One after the other, each with a number of its own. */
static bool is_sequence(const struct fhir_order *order)
{
	for (size_t i = 1; i < order->n; i++)
		if (order->doses[i].sequence == order->doses[i - 1].sequence)
			return false;
	return order->n > 0;
}

static bool same_item(const struct fhir_order *a, const struct fhir_order *b)
{
	return a->medication->medicine == b->medication->medicine && a->medication->item != NULL &&
	       b->medication->item != NULL && strcmp(a->medication->item, b->medication->item) == 0;
}

/* `later` begins the day after `order` ends: somebody wrote the change as an order of its own. */
static bool is_followed(const struct fhir_order *order, const struct fhir_order *later)
{
	if (order == later || !is_sequence(order) || !is_sequence(later) || !same_item(order, later))
		return false;
	const struct fhir_dose *first = &order->doses[0];
	const struct fhir_dose *last = &order->doses[order->n - 1];
	const struct fhir_dose *next = &later->doses[0];
	/* Days only grow from order to order, so that none comes round to itself. */
	bool forward = !first->has_start || date_compare(first->start, last->start) <= 0;
	return last->days > 0 && last->has_start && next->has_start && forward && !fhir_is_gap(last, next);
}

/* How many orders follow this one; the last of them. */
static size_t followers(const struct fhir_building *building, const struct fhir_order *order,
                        const struct fhir_order **follower)
{
	size_t n = 0;
	*follower = NULL;
	for (size_t i = 0; i < building->n_orders; i++)
		if (is_followed(order, &building->orders[i])) {
			*follower = &building->orders[i];
			n++;
		}
	return n;
}

static size_t count_before(const struct fhir_building *building, const struct fhir_order *order)
{
	size_t n = 0;
	for (size_t i = 0; i < building->n_orders; i++)
		n += is_followed(&building->orders[i], order);
	return n;
}

static const struct fhir_order *next_order(const struct fhir_building *building, const struct fhir_order *order)
{
	const struct fhir_order *next;
	followers(building, order, &next);
	return next;
}

/* The order and all that follow it, as one whose dosages are numbered through. */
static struct fhir_order joined(const struct fhir_building *building, const struct fhir_order *first)
{
	struct fhir_order whole = *first;
	size_t room = 0;
	for (const struct fhir_order *at = first; at != NULL; at = next_order(building, at))
		room += at->n;
	if (room == first->n)
		return whole;
	whole.doses = arena_alloc(building->arena, room * sizeof *whole.doses);
	whole.n = 0;
	for (const struct fhir_order *at = first; at != NULL; at = next_order(building, at))
		for (size_t i = 0; i < at->n; i++) {
			whole.doses[whole.n] = at->doses[i];
			whole.doses[whole.n].sequence = (int64_t)whole.n + 1;
			whole.n++;
		}
	return whole;
}

/* Orders of one item hold together only as one line of orders, of which each follows another. */
static bool is_second(const struct fhir_building *building, const struct fhir_order *order)
{
	const struct fhir_order *next;
	bool second = followers(building, order, &next) > 1 || count_before(building, order) > 1;
	for (const struct fhir_order *other = building->orders; other < order && !second; other++)
		second = same_item(other, order) && count_before(building, other) == 0 &&
		         count_before(building, order) == 0;
	if (second)
		fhir_refuse(building->reading, order->from, "order-twice",
		            "two orders are of item '%s', and neither begins the day after the other ends; keep the "
		            "one that holds",
		            order->medication->item);
	return second;
}

/* ---- the orders of a protocol, all ---- */

void fhir_put_orders(struct fhir_building *building, struct node *doses)
{
	bool one_each = true;
	for (size_t i = 0; i < building->n_orders; i++)
		one_each = !is_second(building, &building->orders[i]) && one_each;
	for (size_t i = 0; one_each && i < building->n_orders; i++) {
		const struct fhir_order *order = &building->orders[i];
		if (count_before(building, order) > 0)
			continue;
		const struct fhir_order whole = joined(building, order);
		put_order(building, doses, &whole);
	}
}
