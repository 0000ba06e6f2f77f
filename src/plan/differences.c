#include "plan/differences.h"

#include <string.h>

struct comparing {
	struct arena *arena;
	struct civil_date as_of;
	struct difference *list;
	size_t n;
};

/* Which dose of its line and day it is: 0 for the first. */
static int kth_of_day(const struct course *course, const struct dose *dose)
{
	int kth = 0;
	for (const struct dose *other = dose; other > course->doses; other--) {
		const struct dose *earlier = other - 1;
		if (earlier->item != dose->item || earlier->open || date_compare(earlier->date, dose->date) != 0)
			break;
		kth++;
	}
	return kth;
}

static const struct dose *counterpart(const struct course *course, const struct course *of, const struct dose *dose)
{
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *other = &course->doses[i];
		if (!other->open && strcmp(other->item->id, dose->item->id) == 0 &&
		    date_compare(other->date, dose->date) == 0 && kth_of_day(course, other) == kth_of_day(of, dose))
			return other;
	}
	return NULL;
}

static bool same_amount(const struct dose *a, const struct dose *b)
{
	if (a->amount != b->amount)
		return false;
	return a->amount == DOSE_BY_CALL || quantity_same(a->ordered, b->ordered);
}

static bool same_draw(const struct draw *a, const struct draw *b)
{
	if (a->measure != b->measure || strcmp(a->product->id, b->product->id) != 0)
		return false;
	if (a->measure != MEASURE_SYRINGE)
		return true;
	return a->mark.syringe == b->mark.syringe && a->mark.all == b->mark.all &&
	       rational_compare(a->mark.at, b->mark.at) == 0;
}

static bool same_draws(const struct dose *a, const struct dose *b)
{
	if (a->n_draws != b->n_draws)
		return false;
	for (size_t i = 0; i < a->n_draws; i++)
		if (!same_draw(&a->draws[i], &b->draws[i]))
			return false;
	return true;
}

static bool same_time(const struct dose *a, const struct dose *b)
{
	return a->has_time == b->has_time && (!a->has_time || (clock_compare(a->time, b->time) == 0 &&
	                                                       date_compare(a->clock_date, b->clock_date) == 0));
}

/* The change from one to the other; false where there is none. */
static bool kind_of(const struct dose *before, const struct dose *now, enum difference_kind *kind)
{
	*kind = !same_amount(before, now) ? DIFFERENCE_AMOUNT
	        : !same_time(before, now) ? DIFFERENCE_TIME
	                                  : DIFFERENCE_LINE;
	return *kind != DIFFERENCE_LINE || !same_draws(before, now);
}

static bool same_side(const struct dose *a, const struct dose *b)
{
	if (a == NULL || b == NULL)
		return a == b;
	return same_amount(a, b) && same_draws(a, b) && a->has_time == b->has_time &&
	       (!a->has_time || clock_compare(a->time, b->time) == 0);
}

static bool continues(const struct difference *last, enum difference_kind kind, const struct item *item,
                      const struct dose *before, const struct dose *now, struct civil_date date)
{
	return last->kind == kind && strcmp(last->item->id, item->id) == 0 && same_side(last->before, before) &&
	       same_side(last->now, now) && date_difference(date, last->to) <= 1;
}

static void add(struct comparing *comparing, enum difference_kind kind, const struct dose *before,
                const struct dose *now)
{
	const struct dose *shown = now != NULL ? now : before;
	if (date_compare(shown->date, comparing->as_of) < 0)
		return;
	if (comparing->n > 0 &&
	    continues(&comparing->list[comparing->n - 1], kind, shown->item, before, now, shown->date)) {
		comparing->list[comparing->n - 1].to = shown->date;
		return;
	}
	comparing->list = arena_more(comparing->arena, comparing->list, comparing->n, sizeof *comparing->list);
	comparing->list[comparing->n++] = (struct difference){kind, shown->item, before, now, shown->date, shown->date};
}

static void compare_line(struct comparing *comparing, const struct course *before, const struct course *now,
                         const char *line)
{
	for (size_t i = 0; i < now->n_doses; i++) {
		const struct dose *dose = &now->doses[i];
		enum difference_kind kind;
		if (dose->open || strcmp(dose->item->id, line) != 0)
			continue;
		const struct dose *earlier = counterpart(before, now, dose);
		if (earlier == NULL)
			add(comparing, DIFFERENCE_NEW, NULL, dose);
		else if (kind_of(earlier, dose, &kind))
			add(comparing, kind, earlier, dose);
	}
	for (size_t i = 0; i < before->n_doses; i++) {
		const struct dose *dose = &before->doses[i];
		if (!dose->open && strcmp(dose->item->id, line) == 0 && counterpart(now, before, dose) == NULL)
			add(comparing, DIFFERENCE_GONE, dose, NULL);
	}
}

/* ---- visits ---- */

static const char *event_of(const struct dated_visit *visit)
{
	return visit->visit != NULL ? visit->visit->event : visit->event->id;
}

static bool same_visit(const struct dated_visit *a, const struct dated_visit *b)
{
	if ((a->visit == NULL) != (b->visit == NULL) || strcmp(event_of(a), event_of(b)) != 0)
		return false;
	return a->visit == NULL ||
	       (a->visit->day.given == b->visit->day.given && a->visit->day.number == b->visit->day.number);
}

static const struct dated_visit *visit_in(const struct course *course, const struct dated_visit *visit)
{
	for (size_t i = 0; i < course->n_visits; i++)
		if (!course->visits[i].open && same_visit(&course->visits[i], visit))
			return &course->visits[i];
	return NULL;
}

static bool at_one_time(const struct dated_visit *a, const struct dated_visit *b)
{
	return date_compare(a->date, b->date) == 0 && a->has_time == b->has_time &&
	       (!a->has_time || clock_compare(a->time, b->time) == 0) && a->has_procedure == b->has_procedure &&
	       (!a->has_procedure || clock_compare(a->procedure, b->procedure) == 0);
}

static void add_visit(const struct comparing *comparing, struct differences *differences,
                      struct visit_difference *visits, const struct dated_visit *before, const struct dated_visit *now)
{
	bool past = (before == NULL || date_compare(before->date, comparing->as_of) < 0) &&
	            (now == NULL || date_compare(now->date, comparing->as_of) < 0);
	if (!past)
		visits[differences->n_visits++] = (struct visit_difference){before, now};
}

static void compare_visits(const struct comparing *comparing, const struct course *before, const struct course *now,
                           struct differences *differences)
{
	struct visit_difference *visits =
		arena_alloc(comparing->arena, (before->n_visits + now->n_visits + 1) * sizeof *visits);
	differences->visits = visits;
	for (size_t i = 0; i < now->n_visits; i++) {
		const struct dated_visit *visit = &now->visits[i];
		const struct dated_visit *earlier = visit->open ? NULL : visit_in(before, visit);
		if (!visit->open && (earlier == NULL || !at_one_time(earlier, visit)))
			add_visit(comparing, differences, visits, earlier, visit);
	}
	for (size_t i = 0; i < before->n_visits; i++)
		if (!before->visits[i].open && visit_in(now, &before->visits[i]) == NULL)
			add_visit(comparing, differences, visits, &before->visits[i], NULL);
}

static bool has_line(const struct course *course, const char *line)
{
	return protocol_item(course->plan->protocol, line) != NULL;
}

struct differences differences_of(struct arena *arena, const struct course *before, const struct course *now)
{
	struct comparing comparing = {.arena = arena, .as_of = now->plan->as_of.date};
	const struct protocol *protocol = now->plan->protocol;
	for (size_t i = 0; i < protocol->n_items; i++)
		compare_line(&comparing, before, now, protocol->items[i].id);
	const struct protocol *earlier = before->plan->protocol;
	for (size_t i = 0; i < earlier->n_items; i++)
		if (!has_line(now, earlier->items[i].id))
			compare_line(&comparing, before, now, earlier->items[i].id);
	struct differences differences = {.list = comparing.list, .n = comparing.n};
	for (size_t i = 0; i < comparing.n; i++)
		if (!differences.has_from || date_compare(comparing.list[i].from, differences.from) < 0) {
			differences.has_from = true;
			differences.from = comparing.list[i].from;
		}
	compare_visits(&comparing, before, now, &differences);
	return differences;
}
