#include "plan/course.h"

#include "plan/ability.h"
#include "plan/check.h"
#include "plan/kit.h"
#include "plan/schedule.h"
#include "plan/supply.h"

#include <stdint.h>
#include <stdlib.h>

/* Draws already made: a course repeats the same few, and each fault is said once. */
struct known_draw {
	const struct draw_request *request;
	struct draw draw;
};

struct computing {
	struct arena *arena;
	const struct plan *plan;
	struct schedule *schedule;
	struct findings *findings;
	struct known_draw *known;
	size_t n_known;
	struct product_supply *supplies;
	size_t n_supplies;
	const struct course *before; /* of the plan that this one replaces, or NULL */
};

/* Dated doses by time, open ones after them; else in the protocol's order. */
static int compare_times(const struct dose *a, const struct dose *b)
{
	if (a->open != b->open)
		return a->open ? 1 : -1;
	if (!a->open && a->when != b->when)
		return a->when < b->when ? -1 : 1;
	if (a->item != b->item)
		return a->item < b->item ? -1 : 1;
	return a->n < b->n ? -1 : a->n > b->n;
}

static int compare_dose_pointers(const void *a, const void *b)
{
	return compare_times(*(const struct dose *const *)a, *(const struct dose *const *)b);
}

static int compare_supply_doses(const void *a, const void *b)
{
	return compare_times(((const struct supply_dose *)a)->dose, ((const struct supply_dose *)b)->dose);
}

static bool same_quantity(struct quantity a, struct quantity b)
{
	return a.unit == b.unit && rational_compare(a.number, b.number) == 0;
}

static bool same_request(const struct draw_request *a, const struct draw_request *b)
{
	return a->product == b->product && same_quantity(a->dose, b->dose) && a->containers == b->containers &&
	       a->whole == b->whole && a->syringe == b->syringe;
}

static struct draw make_draw(struct computing *computing, const struct draw_request *request)
{
	for (size_t i = 0; i < computing->n_known; i++)
		if (same_request(computing->known[i].request, request))
			return computing->known[i].draw;
	struct draw_request *kept = arena_alloc(computing->arena, sizeof *kept);
	*kept = *request;
	struct draw draw = {.product = request->product, .dose = request->dose, .given = request->dose};
	draw_make(computing->arena, kept, &draw, computing->findings);
	computing->known = arena_more(computing->arena, computing->known, computing->n_known, sizeof *computing->known);
	computing->known[computing->n_known++] = (struct known_draw){kept, draw};
	return draw;
}

static bool opens_one(const struct supply_part *part)
{
	for (size_t i = 0; i < part->n_uses; i++)
		if (part->uses[i].opens)
			return true;
	return false;
}

static struct draw draw_of_part(struct computing *computing, const struct dose *dose, const struct supply_part *part)
{
	struct portion portion = {.plan = computing->plan,
	                          .dose = dose,
	                          .product = part->uses[0].product,
	                          .amount = part->amount,
	                          .containers = 1,
	                          .whole = part->empties};
	if (portion.product->container == CONTAINER_POWDER_VIAL)
		portion.containers = (int64_t)part->n_uses;
	struct draw_request request = portion_request(&portion, part->syringe);
	struct draw draw = make_draw(computing, &request);
	draw.containers = part->uses;
	draw.n_containers = part->n_uses;
	/* Tested at its first use alone. */
	if (draw.measure == MEASURE_DIAL && portion.product->test == PEN_TEST_FIRST && !part->uses[0].opens)
		draw.priming.number = rational_of(0, 1);
	/* What was opened before is mixed already: nothing more is added to it. */
	draw.has_add = draw.has_add && opens_one(part);
	return draw;
}

static const struct draw *make_draws(struct computing *computing, const struct supply_dose *served)
{
	struct draw *draws = arena_alloc(computing->arena, (served->n_parts + 1) * sizeof *draws);
	for (size_t i = 0; i < served->n_parts; i++)
		draws[i] = draw_of_part(computing, served->dose, &served->parts[i]);
	return draws;
}

/* ---- amounts that a call may set ---- */

/* The dose as it would be with one of those amounts. */
static struct dose *dose_with_option(struct computing *computing, const struct dose *dose, size_t option)
{
	struct dose *with = arena_alloc(computing->arena, sizeof *with);
	*with = *dose;
	with->amount = DOSE_STATED;
	with->ordered = dose->step->may_become[option].quantity;
	with->place = dose->step->may_become[option].place;
	return with;
}

/* Supplies are counted for the greatest amount that the call may set; `SIZE_MAX` where there is none. */
static size_t greatest_option(const struct dose *dose)
{
	const struct stated_quantity *amounts = dose->step->may_become;
	size_t greatest = dose->step->n_may_become > 0 ? 0 : SIZE_MAX;
	for (size_t i = 1; i < dose->step->n_may_become; i++)
		if (unit_converts(amounts[i].quantity.unit, amounts[greatest].quantity.unit) &&
		    quantity_compare(amounts[i].quantity, amounts[greatest].quantity) > 0)
			greatest = i;
	return greatest;
}

static struct dose_option make_option(struct computing *computing, const struct dose *dose, size_t option)
{
	struct supply_dose alone = {.dose = dose_with_option(computing, dose, option), .dated = !dose->open};
	struct dose_option made = {.amount = alone.dose->ordered};
	struct supply_result result = {0};
	if (!supply_plan(computing->arena, computing->plan, NULL, dose->item->medicine, false, &alone, 1, &result,
	                 computing->findings))
		return made;
	made.draws = make_draws(computing, &alone);
	made.n_draws = alone.n_parts;
	return made;
}

static void make_options(struct computing *computing, struct dose *dose)
{
	struct dose_option *options = arena_alloc(computing->arena, (dose->step->n_may_become + 1) * sizeof *options);
	for (size_t i = 0; i < dose->step->n_may_become; i++)
		options[i] = make_option(computing, dose, i);
	dose->options = options;
	dose->n_options = dose->step->n_may_become;
}

/* Days of one step have the same options. */
static void make_all_options(struct computing *computing)
{
	struct schedule *schedule = computing->schedule;
	for (size_t i = 0; i < schedule->n_doses; i++) {
		struct dose *dose = &schedule->doses[i];
		if (dose->amount != DOSE_BY_CALL)
			continue;
		if (i > 0 && dose[-1].amount == DOSE_BY_CALL && dose[-1].step == dose->step) {
			dose->options = dose[-1].options;
			dose->n_options = dose[-1].n_options;
		} else {
			make_options(computing, dose);
		}
	}
}

/* ---- supplies ---- */

static void keep_supplies(struct computing *computing, const struct supply_result *result)
{
	for (size_t i = 0; i < result->n_supplies; i++) {
		computing->supplies = arena_more(computing->arena, computing->supplies, computing->n_supplies,
		                                 sizeof *computing->supplies);
		computing->supplies[computing->n_supplies++] = result->supplies[i];
	}
}

/* What a past dose used up, it used up for good; what it kept may serve a dose ahead. */
static void count_ahead(const struct course *course, struct product_supply *supply)
{
	int64_t used = 0;
	int64_t used_in_hand = 0;
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = &course->doses[i];
		for (size_t j = 0; j < dose->n_draws && dose->done; j++)
			for (size_t k = 0; k < dose->draws[j].n_containers; k++) {
				const struct container_use *use = &dose->draws[j].containers[k];
				if (use->product != supply->product || use->then != THEN_DISCARD)
					continue;
				used++;
				used_in_hand += use->in_hand;
			}
	}
	supply->needed_ahead = supply->needed - used;
	supply->at_hand = supply->dispensed - used_in_hand;
	supply->to_get_ahead = supply->to_get - (used - used_in_hand);
}

/* Serves all doses of one medicine whose amount is known, or may become one of some. */
static void serve_medicine(struct computing *computing, const struct medicine *medicine)
{
	struct schedule *schedule = computing->schedule;
	struct supply_dose *doses = arena_alloc(computing->arena, (schedule->n_doses + 1) * sizeof *doses);
	size_t n = 0;
	bool open_end = false;
	for (size_t i = 0; i < schedule->n_doses; i++) {
		struct dose *dose = &schedule->doses[i];
		if (dose->item->medicine != medicine || dose->amount == DOSE_FROM_PLAN)
			continue;
		bool assumed = dose->amount == DOSE_BY_CALL;
		if (assumed) {
			size_t greatest = greatest_option(dose);
			if (greatest == SIZE_MAX)
				continue;
			dose = dose_with_option(computing, dose, greatest);
		}
		doses[n++] = (struct supply_dose){.dose = dose, .dated = !dose->open, .assumed = assumed};
	}
	for (size_t i = 0; i < schedule->n_runs; i++) {
		const struct item_run *run = &schedule->runs[i];
		open_end = open_end || (run->item->medicine == medicine && (run->open || run->end != ITEM_ENDS));
	}
	if (n == 0)
		return;
	qsort(doses, n, sizeof *doses, compare_supply_doses);
	struct supply_result result = {0};
	if (!supply_plan(computing->arena, computing->plan, computing->before, medicine, open_end, doses, n, &result,
	                 computing->findings))
		return;
	keep_supplies(computing, &result);
	for (size_t i = 0; i < n; i++) {
		doses[i].dose->draws = make_draws(computing, &doses[i]);
		doses[i].dose->n_draws = doses[i].n_parts;
	}
}

static void serve_all(struct computing *computing)
{
	const struct protocol *protocol = computing->plan->protocol;
	for (size_t i = 0; i < protocol->n_items; i++) {
		bool served = false;
		for (size_t j = 0; j < i; j++)
			served = served || protocol->items[j].medicine == protocol->items[i].medicine;
		if (!served)
			serve_medicine(computing, protocol->items[i].medicine);
	}
}

static const struct dose *const *doses_by_time(struct arena *arena, const struct schedule *schedule)
{
	const struct dose **doses = arena_alloc(arena, (schedule->n_doses + 1) * sizeof *doses);
	for (size_t i = 0; i < schedule->n_doses; i++)
		doses[i] = &schedule->doses[i];
	if (schedule->n_doses > 0)
		qsort(doses, schedule->n_doses, sizeof *doses, compare_dose_pointers);
	return doses;
}

/* What the sheet before this one says; what is wrong in it was said when that was made. */
static const struct course *course_before(struct arena *arena, const struct plan *plan)
{
	if (plan->replaced == NULL)
		return NULL;
	struct findings unsaid = findings_in(arena);
	return course_of(arena, plan->replaced, &unsaid);
}

const struct course *course_of(struct arena *arena, const struct plan *plan, struct findings *findings)
{
	struct schedule schedule;
	if (!schedule_build(arena, plan, &schedule, findings))
		return NULL;
	struct computing computing = {.arena = arena,
	                              .plan = plan,
	                              .schedule = &schedule,
	                              .findings = findings,
	                              .before = course_before(arena, plan)};
	serve_all(&computing);
	make_all_options(&computing);
	struct course *course = arena_alloc(arena, sizeof *course);
	*course = (struct course){.plan = plan,
	                          .doses = schedule.doses,
	                          .n_doses = schedule.n_doses,
	                          .by_time = doses_by_time(arena, &schedule),
	                          .runs = schedule.runs,
	                          .n_runs = schedule.n_runs,
	                          .visits = schedule.visits,
	                          .n_visits = schedule.n_visits,
	                          .has_days = schedule.has_days,
	                          .first = schedule.first,
	                          .last = schedule.last,
	                          .has_good_until = schedule.has_good_until,
	                          .good_until = schedule.good_until,
	                          .supplies = computing.supplies,
	                          .n_supplies = computing.n_supplies,
	                          .times = schedule.times,
	                          .n_times = schedule.n_times,
	                          .clock_changes = schedule.clock_changes,
	                          .n_clock_changes = schedule.n_clock_changes};
	for (size_t i = 0; i < computing.n_supplies; i++)
		count_ahead(course, &computing.supplies[i]);
	course->kit = kit_of(arena, course, &course->n_kit);
	course->kit_ahead = kit_ahead_of(arena, course, &course->n_kit_ahead);
	check_course(arena, course, findings);
	return course;
}

struct rational item_window(const struct item *item)
{
	struct quantity hours;
	struct rational seconds;
	if (!item->window.given || !quantity_in(item->window.quantity, UNIT_HOUR, &hours) ||
	    !rational_multiply(hours.number, rational_of(SECONDS_OF_HOUR, 1), &seconds))
		return rational_of(0, 1);
	return seconds;
}

instant dose_earliest(const struct dose *dose)
{
	return dose->when - rational_floor(item_window(dose->item));
}
