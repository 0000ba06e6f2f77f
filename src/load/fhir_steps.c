#include "load/fhir_building.h"

#include "load/intake_tree.h"

#include <string.h>

/* ---- the plan's tree ---- */

void fhir_put(struct fhir_building *building, struct node *map, const char *key, const char *value, struct place place)
{
	if (value != NULL && *value != '\0')
		tree_put_text(building->arena, map, key, arena_strdup(building->arena, value), place);
}

void fhir_put_number(struct fhir_building *building, struct node *map, const char *key, int64_t number,
                     struct place place)
{
	tree_put_text(building->arena, map, key, arena_printf(building->arena, "%lld", (long long)number), place);
}

struct node *fhir_list_of(struct fhir_building *building, struct node *map, const char *key)
{
	struct node *list = tree_get(map, key);
	if (list == NULL) {
		list = tree_list(building->arena, building->place);
		tree_put(building->arena, map, key, list);
	}
	return list;
}

/* ---- steps ---- */

/* One after the other, as their numbers say; or all at once, where they are one number. */
bool fhir_is_concurrent(const struct fhir_order *order)
{
	return order->n > 1 && order->doses[0].sequence == order->doses[order->n - 1].sequence;
}

/* True where `next` does not begin the day after `dose` ends, or, where that says no end, later than it begins. */
bool fhir_is_gap(const struct fhir_dose *dose, const struct fhir_dose *next)
{
	if (!next->has_start)
		return false;
	if (!dose->has_start)
		return dose->days != 0;
	int64_t between = date_difference(next->start, dose->start);
	return dose->days == 0 ? between < 1 : between != dose->days;
}

/* Each step but the last must say how long, unless the next one says its first day; and none may leave a gap. */
bool fhir_check_sequence(const struct fhir_building *building, const struct fhir_order *order)
{
	for (size_t i = 0; i + 1 < order->n; i++) {
		const struct fhir_dose *dose = &order->doses[i];
		const struct fhir_dose *next = &order->doses[i + 1];
		if (dose->sequence == next->sequence) {
			fhir_refuse(
				building->reading, order->from, "sequence-unclear",
				"some dosages of this order have one 'sequence' and some another; which go together "
				"is a guess, so write an order for each");
			return false;
		}
		if (dose->days == 0 && !next->has_start) {
			fhir_refuse(building->reading, order->from, "bounds-missing",
			            "a dosage is followed by another, and neither says how long the first or from "
			            "which day the "
			            "second; write their bounds");
			return false;
		}
		if (fhir_is_gap(dose, next)) {
			fhir_refuse(building->reading, order->from, "bounds-gap",
			            "a dosage does not begin the day after the one before it ends; mend their bounds");
			return false;
		}
		if (!next->has_start && dose->has_start) {
			order->doses[i + 1].has_start = true;
			order->doses[i + 1].start = date_plus(dose->start, dose->days);
		}
	}
	return true;
}

int64_t fhir_total_days(const struct fhir_order *order)
{
	int64_t total = 0;
	for (size_t i = 0; i < order->n; i++)
		total += order->doses[i].days;
	return order->doses[order->n - 1].days == 0 ? 0 : total;
}

/* The first dosage from which on days are dates: one that says its first day, after one that says no end. */
size_t fhir_first_dated(const struct fhir_order *order)
{
	for (size_t i = 1; i < order->n; i++)
		if (order->doses[i].has_start && order->doses[i - 1].days == 0)
			return i;
	return order->n;
}

unsigned fhir_weekdays(const struct fhir_dose *dose)
{
	static const char *const days[] = {"", "mon", "tue", "wed", "thu", "fri", "sat", "sun"};
	unsigned set = 0;
	for (size_t i = 0; i < dose->n_weekdays; i++)
		for (unsigned day = 1; day < 8; day++)
			if (strcmp(days[day], dose->weekdays[i]) == 0)
				set |= 1u << day;
	return set;
}

void fhir_put_steps(struct fhir_building *building, struct node *steps, const struct fhir_order *order)
{
	int64_t day = 1;
	for (size_t i = 0; i < order->n; i++) {
		struct node *step = tree_map(building->arena, order->from->place);
		fhir_put_number(building, step, "from", day, order->from->place);
		fhir_put(building, step, "dose", order->doses[i].amount, order->from->place);
		tree_add(building->arena, steps, step);
		day += order->doses[i].days;
	}
}
