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

/* The last dose that is not after the event. */
static const struct dose *last_before(const struct item_run *run)
{
	const struct dose *last = NULL;
	for (size_t i = 0; i < run->n_doses; i++)
		if (run->doses[i].has_time && run->doses[i].when <= run->gap_event)
			last = &run->doses[i];
	return last;
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
	struct quantity limit;
	const struct stated_quantity *broken = NULL;
	if (gap->most.given && quantity_in(gap->most.quantity, UNIT_HOUR, &limit) &&
	    rational_compare(hours, limit.number) > 0)
		broken = &gap->most;
	if (gap->least.given && quantity_in(gap->least.quantity, UNIT_HOUR, &limit) &&
	    rational_compare(hours, limit.number) < 0)
		broken = &gap->least;
	if (broken)
		findings_add(checking->findings, FINDING_STOP, "gap-to-event", last->place,
		             "from the last dose of %s, %s, to '%s' are %s, and %s %s is allowed", name,
		             moment_print(checking, last), gap->event, elapsed_print(checking->arena, hours),
		             broken == &gap->most ? "at most" : "at least",
		             quantity_plain(checking->arena, broken->quantity, DECIMAL_POINT));
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
		check_twice(checking, item);
	}
}
