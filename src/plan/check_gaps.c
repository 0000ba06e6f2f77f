#include "plan/checks.h"
#include "plan/follow.h"

enum { SECONDS_PER_HOUR = 3600, MINUTES_PER_DAY = 24 * 60 };

/* The clock's distance into a treatment day, small hours last. */
static int64_t open_minutes(const struct course *course, const struct dose *dose)
{
	int minutes = clock_minutes(dose->time) - clock_minutes(course->plan->clinic->day_begins);
	return dose->day * MINUTES_PER_DAY + (minutes < 0 ? minutes + MINUTES_PER_DAY : minutes);
}

/*
 * Elapsed hours between two doses; between open ones those of the clock, as no
 * clock change can be foreseen. False where a time is not known.
 */
static bool hours_between(const struct course *course, const struct dose *from, const struct dose *to,
                          struct rational *hours)
{
	if (!from->has_time || !to->has_time || from->open != to->open || from->as_needed || to->as_needed)
		return false;
	if (from->open)
		*hours = rational_of(open_minutes(course, to) - open_minutes(course, from), 60);
	else
		*hours = rational_of(to->when - from->when, SECONDS_PER_HOUR);
	return true;
}

/* A gap is looked at in a group of doses: an item's, or all of a medicine. */
struct gap_rule {
	const struct medicine *medicine;
	const struct item *item; /* NULL: any of the medicine */
	const struct stated_quantity *limit;
	bool most;
};

static const char *moment_print(const struct checking *checking, const struct dose *dose)
{
	const char *time = clock_print(checking->arena, dose->time);
	if (dose->open)
		return arena_printf(checking->arena, "day %lld %s", (long long)dose->day, time);
	return arena_printf(checking->arena, "%s %s", date_print(checking->arena, dose->clock_date), time);
}

static void say_gap(const struct checking *checking, const struct gap_rule *rule, const struct dose *from,
                    const struct dose *to, struct rational hours, size_t others)
{
	const char *more = "";
	if (others > 0)
		more = arena_printf(checking->arena, ", and %zu more such gap%s", others, others > 1 ? "s" : "");
	findings_add(checking->findings, FINDING_STOP, rule->most ? "gap-too-long" : "gap-too-short", to->place,
	             "from %s to %s are %s between doses of %s, and %s %s is allowed%s", moment_print(checking, from),
	             moment_print(checking, to), elapsed_print(checking->arena, hours), rule->medicine->name,
	             rule->most ? "at most" : "at least",
	             quantity_plain(checking->arena, rule->limit->quantity, DECIMAL_POINT), more);
}

/* Says the first gap that breaks the rule, and how many do. Gaps that are past cannot be mended. */
static void check_gap(const struct checking *checking, const struct gap_rule *rule)
{
	const struct course *course = checking->course;
	struct quantity limit;
	if (!rule->limit->given || !quantity_in(rule->limit->quantity, UNIT_HOUR, &limit))
		return;
	const struct dose *previous = NULL;
	const struct dose *from = NULL;
	const struct dose *to = NULL;
	struct rational first_hours = {0, 1};
	size_t broken = 0;
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = course->by_time[i];
		if (rule->item ? dose->item != rule->item : dose->item->medicine != rule->medicine)
			continue;
		struct rational hours;
		bool known = previous && !dose->done && hours_between(course, previous, dose, &hours);
		if (known && dose->open)
			known = previous->item == dose->item;
		int order = known ? rational_compare(hours, limit.number) : 0;
		if (rule->most ? order > 0 : order < 0) {
			if (broken++ == 0) {
				from = previous;
				to = dose;
				first_hours = hours;
			}
		}
		previous = dose;
	}
	if (broken > 0)
		say_gap(checking, rule, from, to, first_hours, broken - 1);
}

/* The item's window in hours, as what lies between doses is counted. */
static struct rational window_of(const struct item *item)
{
	struct rational hours;
	return rational_divide(item_window(item), rational_of(SECONDS_OF_HOUR, 1), &hours) ? hours : rational_of(0, 1);
}

/* The last dose that is not after the event. */
static const struct dose *last_before(const struct item_run *run)
{
	const struct dose *last = NULL;
	for (size_t i = 0; i < run->n_doses; i++)
		if (run->doses[i].has_time && run->doses[i].when <= run->gap_event)
			last = &run->doses[i];
	return last;
}

/* Which limit hours between `least` and `most` can break; NULL: neither. */
static const struct stated_quantity *broken_limit(const struct gap_to *gap, struct rational least, struct rational most)
{
	struct quantity limit;
	if (gap->most.given && quantity_in(gap->most.quantity, UNIT_HOUR, &limit) &&
	    rational_compare(most, limit.number) > 0)
		return &gap->most;
	if (gap->least.given && quantity_in(gap->least.quantity, UNIT_HOUR, &limit) &&
	    rational_compare(least, limit.number) < 0)
		return &gap->least;
	return NULL;
}

/* A last dose that is as early, or as late, as its window lets it be. */
static void check_window_to(const struct checking *checking, const struct item *item, struct rational hours)
{
	const struct gap_to *gap = &item->gap_to;
	struct rational window = window_of(item);
	struct rational least;
	struct rational most;
	if (!rational_subtract(hours, window, &least) || !rational_add(hours, window, &most))
		return;
	const struct stated_quantity *broken = broken_limit(gap, least, most);
	if (broken)
		findings_add(
			checking->findings, FINDING_STOP, "window-too-wide", item->window.place,
			"'%s' may be %s early or late, so its last dose may be %s before '%s', and %s %s is allowed; "
			"narrow its 'window'",
			item->id, elapsed_print(checking->arena, window),
			elapsed_print(checking->arena, broken == &gap->most ? most : least), gap->event,
			broken == &gap->most ? "at most" : "at least",
			quantity_plain(checking->arena, broken->quantity, DECIMAL_POINT));
}

static void check_gap_to(const struct checking *checking, const struct item_run *run)
{
	const struct gap_to *gap = &run->item->gap_to;
	if (!gap->given || !run->has_gap_event || run->open || run->n_doses == 0)
		return;
	const char *name = run->item->medicine->name;
	const struct dose *last = last_before(run);
	if (!last) {
		findings_add(checking->findings, FINDING_STOP, "gap-to-event", gap->place,
		             "no dose of %s comes before '%s', and its last one must; check the dates", name,
		             gap->event);
		return;
	}
	struct rational hours = rational_of(run->gap_event - last->when, SECONDS_PER_HOUR);
	const struct stated_quantity *broken = broken_limit(gap, hours, hours);
	if (broken)
		findings_add(checking->findings, FINDING_STOP, "gap-to-event", last->place,
		             "from the last dose of %s, %s, to '%s' are %s, and %s %s is allowed", name,
		             moment_print(checking, last), gap->event, elapsed_print(checking->arena, hours),
		             broken == &gap->most ? "at most" : "at least",
		             quantity_plain(checking->arena, broken->quantity, DECIMAL_POINT));
	else
		check_window_to(checking, run->item, hours);
}

/* The dose of another item that gives the same medicine at the very moment, or NULL. */
static const struct dose *given_already(const struct course *course, size_t index)
{
	const struct dose *dose = course->by_time[index];
	for (size_t i = index; i-- > 0;) {
		const struct dose *before = course->by_time[i];
		if (before->open || before->when != dose->when)
			return NULL;
		if (before->has_time && before->item != dose->item && before->item->medicine == dose->item->medicine)
			return before;
	}
	return NULL;
}

/* A medicine may be two items, but one order that was copied is likelier where both fall on the same moment. */
static void check_twice(const struct checking *checking, const struct item *item)
{
	const struct course *course = checking->course;
	for (size_t i = 1; i < course->n_doses; i++) {
		const struct dose *dose = course->by_time[i];
		if (dose->item != item || dose->open || !dose->has_time)
			continue;
		const struct dose *before = given_already(course, i);
		if (!before)
			continue;
		findings_add(checking->findings, FINDING_CAUTION, "given-twice", dose->place,
		             "'%s' and '%s' both give %s at %s; delete one if it is the same order", before->item->id,
		             item->id, item->medicine->name, moment_print(checking, dose));
		return;
	}
}

/* ---- windows ---- */

/* Two doses that follow each other, and how far apart their windows let them be. */
struct pair {
	const struct dose *from;
	const struct dose *to;
	struct rational hours; /* as planned */
	struct rational near; /* the first as late and the second as early as may be; below zero: the other way round */
	struct rational far;
};

static bool pair_of(const struct checking *checking, const struct dose *from, const struct dose *to, struct pair *pair)
{
	struct rational reach;
	pair->from = from;
	pair->to = to;
	return !to->done && (!to->open || from->item == to->item) &&
	       hours_between(checking->course, from, to, &pair->hours) &&
	       rational_add(window_of(from->item), window_of(to->item), &reach) &&
	       rational_subtract(pair->hours, reach, &pair->near) && rational_add(pair->hours, reach, &pair->far);
}

/* It is the window that breaks the limit: hours that break it as planned are check_gap()'s and the supply's to say. */
static bool comes_under(const struct pair *pair, const struct stated_quantity *limit)
{
	struct quantity hours;
	return limit->given && quantity_in(limit->quantity, UNIT_HOUR, &hours) &&
	       rational_compare(pair->near, hours.number) < 0 && rational_compare(pair->hours, hours.number) >= 0;
}

static bool comes_over(const struct pair *pair, const struct stated_quantity *limit)
{
	struct quantity hours;
	return limit->given && quantity_in(limit->quantity, UNIT_HOUR, &hours) &&
	       rational_compare(pair->far, hours.number) > 0 && rational_compare(pair->hours, hours.number) <= 0;
}

/* How long what the two doses share may be kept; NULL where they share nothing. */
static const struct stated_quantity *pair_keep(const struct pair *pair)
{
	if (pair->from->split_group == 0 || pair->from->split_group != pair->to->split_group || pair->to->n_draws == 0)
		return NULL;
	return &pair->to->draws[0].product->share.keep;
}

/* What the windows let the two doses be and something else forbids, in words; NULL: nothing. */
static const char *pair_fault(const struct checking *checking, const struct pair *pair)
{
	struct arena *arena = checking->arena;
	const struct limits *own = &pair->to->item->limits;
	const struct limits *wide = &pair->to->item->medicine->limits;
	bool same_item = pair->from->item == pair->to->item;
	const struct stated_quantity *least = same_item && own->gap_least.given ? &own->gap_least : &wide->gap_least;
	const struct stated_quantity *most = own->gap_most.given ? &own->gap_most : &wide->gap_most;
	const struct stated_quantity *keep = pair_keep(pair);
	if (pair->near.numerator <= 0)
		return "be given together";
	if (comes_under(pair, least))
		return arena_printf(arena, "be %s apart, and at least %s is allowed", elapsed_print(arena, pair->near),
		                    quantity_plain(arena, least->quantity, DECIMAL_POINT));
	if (same_item && comes_over(pair, most))
		return arena_printf(arena, "be %s apart, and at most %s is allowed", elapsed_print(arena, pair->far),
		                    quantity_plain(arena, most->quantity, DECIMAL_POINT));
	if (keep && comes_over(pair, keep))
		return arena_printf(arena, "be %s apart, and what they share keeps for %s",
		                    elapsed_print(arena, pair->far),
		                    quantity_plain(arena, keep->quantity, DECIMAL_POINT));
	return NULL;
}

/* A window is counted from a clock time that need not be met to the minute. */
static bool window_has_times(const struct checking *checking, const struct item_run *run)
{
	const struct item *item = run->item;
	if (run->n_doses == 0)
		return true;
	if (run->doses[0].has_time && !run->doses[0].exact && !item->as_needed.given)
		return true;
	findings_add(checking->findings, FINDING_STOP, "window-without-time", item->window.place,
	             run->doses[0].exact
	                     ? "'%s' is given at an exact time, and its window would allow another; leave out 'window'"
	                     : "'%s' has a window and no clock time that it is around; give it 'at', or leave out "
	                       "'window'",
	             item->id);
	return false;
}

/* The first two doses that an item's window lets come too near or too far; of another item's, where that has none. */
static void check_window(const struct checking *checking, const struct item_run *run)
{
	const struct course *course = checking->course;
	const struct item *item = run->item;
	const struct dose *previous = NULL;
	if (!item->window.given || !window_has_times(checking, run))
		return;
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = course->by_time[i];
		struct pair pair;
		if (dose->item->medicine != item->medicine)
			continue;
		const struct dose *before = previous;
		previous = dose;
		if (!before || !pair_of(checking, before, dose, &pair))
			continue;
		if (dose->item != item && (before->item != item || dose->item->window.given))
			continue;
		const char *fault = pair_fault(checking, &pair);
		if (!fault)
			continue;
		findings_add(checking->findings, FINDING_STOP, "window-too-wide", item->window.place,
		             "'%s' may be %s early or late, so the doses of %s at %s and %s may %s; narrow its "
		             "'window'",
		             item->id, elapsed_print(checking->arena, window_of(item)), item->medicine->name,
		             moment_print(checking, before), moment_print(checking, dose), fault);
		return;
	}
}

/*
 * The most is looked at within an item, since a medicine may pause between two
 * of its items; the least between all doses of the medicine.
 */
void check_gaps(const struct checking *checking)
{
	const struct course *course = checking->course;
	for (size_t i = 0; i < course->n_runs; i++) {
		const struct item *item = course->runs[i].item;
		const struct medicine *medicine = item->medicine;
		const struct limits *own = &item->limits;
		const struct limits *wide = &medicine->limits;
		bool seen = false;
		for (size_t j = 0; j < i; j++)
			seen = seen || course->runs[j].item->medicine == medicine;
		if (!seen)
			check_gap(checking, &(struct gap_rule){medicine, NULL, &wide->gap_least, false});
		check_gap(checking, &(struct gap_rule){medicine, item, &own->gap_least, false});
		check_gap(checking, &(struct gap_rule){medicine, item,
		                                       own->gap_most.given ? &own->gap_most : &wide->gap_most, true});
		check_gap_to(checking, &course->runs[i]);
		check_window(checking, &course->runs[i]);
		check_twice(checking, item);
	}
}
