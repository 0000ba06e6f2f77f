#include "plan/supply_bounds.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

static int64_t divisor(int64_t a, int64_t b)
{
	while (b != 0) {
		int64_t rest = a % b;
		a = b;
		b = rest;
	}
	return a;
}

static int64_t up_to_multiple(int64_t amount, int64_t of)
{
	if (amount <= 0 || of == 0)
		return amount > 0 ? amount : 0;
	return (amount + of - 1) / of * of;
}

static int64_t smaller(int64_t a, int64_t b)
{
	return a < b ? a : b;
}

static int64_t larger(int64_t a, int64_t b)
{
	return a > b ? a : b;
}

/* ---- what is known of the whole ---- */

static bool needs_are_alike(const struct search_problem *problem, const struct search_dose *dose)
{
	int64_t need = 0;
	for (size_t i = 0; i < problem->n_sizes; i++) {
		if (dose->need[i] > 0 && need > 0 && dose->need[i] != need)
			return false;
		need = dose->need[i] > 0 ? dose->need[i] : need;
	}
	return true;
}

static int64_t least_need(const struct search_problem *problem, const struct search_dose *dose)
{
	int64_t least = 0;
	for (size_t i = 0; i < problem->n_sizes; i++)
		if (dose->need[i] > 0 && (least == 0 || dose->need[i] < least))
			least = dose->need[i];
	return least;
}

static int64_t most_need(const struct search_problem *problem, const struct search_dose *dose)
{
	int64_t most = 0;
	for (size_t i = 0; i < problem->n_sizes; i++)
		most = larger(most, dose->need[i]);
	return most;
}

/* Each dose takes one draw at least, which need not be the first from its container. */
static int64_t least_loss(const struct search_problem *problem, const struct search_dose *dose)
{
	int64_t least = INT64_MAX;
	for (size_t i = 0; i < problem->n_sizes; i++)
		if (dose->need[i] > 0)
			least = smaller(least,
			                problem->sizes[i].kind == SEARCH_MANY ? problem->sizes[i].loss_again : 0);
	return dose->n_done > 0 || least == INT64_MAX ? 0 : least;
}

static void look_at_doses(struct supply_bounds *bounds)
{
	const struct search_problem *problem = bounds->problem;
	bounds->sooner[problem->n_doses] = SEARCH_NEVER;
	for (size_t i = problem->n_doses; i-- > 0;) {
		const struct search_dose *dose = &problem->doses[i];
		bounds->still[i] = bounds->still[i + 1] + least_need(problem, dose);
		bounds->losses[i] = bounds->losses[i + 1] + least_loss(problem, dose);
		bounds->sooner[i] = smaller(bounds->sooner[i + 1], dose->n_done > 0 ? INT64_MIN : dose->calendar);
		bounds->alike = bounds->alike && needs_are_alike(problem, dose);
		if (dose->calendar > bounds->horizon)
			bounds->horizon = dose->calendar;
		for (size_t j = 0; j < problem->n_sizes; j++)
			if (dose->need[j] > 0 && !dose->get[j])
				bounds->sure[j] = false;
	}
}

static bool ever_to_get(const struct search_problem *problem, size_t size)
{
	for (size_t i = 0; i < problem->n_doses; i++)
		if (problem->doses[i].get[size])
			return true;
	return false;
}

static void look_at_sizes(struct supply_bounds *bounds)
{
	const struct search_problem *problem = bounds->problem;
	size_t spanning = 0;
	for (size_t i = 0; i < problem->n_sizes; i++) {
		const struct search_size *size = &problem->sizes[i];
		assert(size->content > 0 && size->together >= 1 && size->step >= 1);
		spanning += size->span;
		bounds->sure[i] = true;
		bounds->first_lot[i] = bounds->n_lots;
		bounds->n_lots += size->n_lots;
		bounds->divisor_of_all = divisor(bounds->divisor_of_all, size->content);
		if (ever_to_get(problem, i))
			bounds->divisor_to_get = divisor(bounds->divisor_to_get, size->content);
	}
	bounds->mixes = spanning > 1;
}

static int compare_in_time(const void *left, const void *right)
{
	const struct supply_lot *a = left;
	const struct supply_lot *b = right;
	if (a->expires != b->expires)
		return a->expires < b->expires ? -1 : 1;
	return a->lot < b->lot ? -1 : a->lot > b->lot;
}

/* What is done was done, whatever the day. */
static bool may_take(const struct search_dose *dose, const struct supply_lot *lot)
{
	return dose->n_done > 0 || dose->calendar <= lot->expires;
}

static void look_at_lots(struct arena *arena, struct supply_bounds *bounds)
{
	const struct search_problem *problem = bounds->problem;
	size_t n = 0;
	bounds->by_day = arena_alloc(arena, bounds->n_lots * sizeof *bounds->by_day);
	for (size_t i = 0; i < problem->n_sizes; i++)
		for (size_t j = 0; j < problem->sizes[i].n_lots; j++)
			bounds->by_day[n++] =
				(struct supply_lot){bounds->first_lot[i] + j, (int)i, problem->sizes[i].lots[j].count,
			                            problem->sizes[i].lots[j].expires};
	qsort(bounds->by_day, n, sizeof *bounds->by_day, compare_in_time);
	bounds->needed_in_time = arena_alloc(arena, (problem->n_doses + 1) * n * sizeof *bounds->needed_in_time);
	for (size_t i = problem->n_doses; i-- > 0;) {
		const struct search_dose *dose = &problem->doses[i];
		int64_t *row = bounds->needed_in_time + i * n;
		for (size_t j = 0; j < n; j++)
			row[j] = row[n + j] + (may_take(dose, &bounds->by_day[j]) ? most_need(problem, dose) : 0);
	}
}

static void look_at_products(struct arena *arena, struct supply_bounds *bounds)
{
	const struct search_problem *problem = bounds->problem;
	for (size_t i = 0; i < problem->n_sizes; i++)
		if ((size_t)problem->sizes[i].product >= bounds->n_products)
			bounds->n_products = (size_t)problem->sizes[i].product + 1;
	bounds->of_product = arena_alloc(arena, bounds->n_products * sizeof *bounds->of_product);
	bounds->product_to_get = arena_alloc(arena, bounds->n_products * sizeof *bounds->product_to_get);
	for (size_t i = 0; i < problem->n_sizes; i++)
		if (ever_to_get(problem, i))
			bounds->product_to_get[problem->sizes[i].product] = true;
}

static bool is_given_in_two(const struct search_problem *problem)
{
	for (size_t i = 0; i < problem->n_doses; i++)
		for (size_t j = 0; j < problem->n_sizes; j++)
			if (problem->doses[i].at_once[j] > 0 &&
			    problem->doses[i].need[j] > problem->doses[i].at_once[j])
				return true;
	return false;
}

/* Whether what could serve a dose may as well wait for the next: supply_moves.h says why. */
static bool later_is_as_good(const struct supply_bounds *bounds)
{
	const struct search_problem *problem = bounds->problem;
	if (!bounds->alike || is_given_in_two(problem))
		return false;
	for (size_t i = 0; i < problem->n_sizes; i++)
		if (problem->sizes[i].kind == SEARCH_PIECES || (!bounds->sure[i] && !problem->sizes[i].part_used))
			return false;
	return true;
}

const struct supply_bounds *supply_bounds_of(struct arena *arena, const struct search_problem *problem)
{
	struct supply_bounds *bounds = arena_alloc(arena, sizeof *bounds);
	size_t doses = problem->n_doses + 1;
	*bounds = (struct supply_bounds){.problem = problem,
	                                 .alike = true,
	                                 .horizon = INT64_MIN,
	                                 .sure = arena_alloc(arena, problem->n_sizes * sizeof *bounds->sure),
	                                 .first_lot = arena_alloc(arena, problem->n_sizes * sizeof *bounds->first_lot),
	                                 .still = arena_alloc(arena, doses * sizeof *bounds->still),
	                                 .losses = arena_alloc(arena, doses * sizeof *bounds->losses),
	                                 .sooner = arena_alloc(arena, doses * sizeof *bounds->sooner)};
	look_at_sizes(bounds);
	look_at_doses(bounds);
	look_at_lots(arena, bounds);
	look_at_products(arena, bounds);
	bounds->later_is_as_good = later_is_as_good(bounds);
	return bounds;
}

/* ---- what a plan still costs ---- */

static int64_t all_in_hand(const struct supply_bounds *bounds, const uint16_t *used)
{
	int64_t sum = 0;
	for (size_t i = 0; i < bounds->n_lots; i++)
		sum += (bounds->by_day[i].count - used[bounds->by_day[i].lot]) *
		       bounds->problem->sizes[bounds->by_day[i].size].content;
	return sum;
}

/*
 * How much of what is in hand can serve doses `next` and on, at most: what expires sooner serves no more than is needed
 * until then. For each product alone into of_product, and of all together.
 */
static int64_t in_hand(const struct supply_bounds *bounds, size_t next, const uint16_t *used)
{
	const int64_t *needed = bounds->needed_in_time + next * bounds->n_lots;
	int64_t all = 0;
	memset(bounds->of_product, 0, bounds->n_products * sizeof *bounds->of_product);
	for (size_t i = 0; i < bounds->n_lots; i++) {
		const struct supply_lot *lot = &bounds->by_day[i];
		const struct search_size *size = &bounds->problem->sizes[lot->size];
		int64_t content = (lot->count - used[lot->lot]) * size->content;
		int64_t *own = &bounds->of_product[size->product];
		*own = smaller(*own + content, needed[i]);
		all = smaller(all + content, needed[i]);
	}
	return all;
}

/*
 * How often the product must change at least: as many others as it takes, the most fruitful first, to serve what the
 * last one cannot. What may still be got is known from a plan that is possible. Consumes of_product.
 */
static int64_t least_changes(const struct supply_bounds *bounds, size_t next, const struct supply_state *state,
                             int64_t may_get)
{
	int64_t still = bounds->still[next] - (state->open >= 0 ? state->rest : 0);
	int64_t changes = 0;
	if (state->product < 0)
		return 0;
	for (size_t i = 0; i < bounds->n_products; i++)
		if (bounds->product_to_get[i] && may_get > 0)
			bounds->of_product[i] += may_get;
	for (size_t product = (size_t)state->product;; changes++) {
		still -= bounds->of_product[product];
		bounds->of_product[product] = 0;
		if (still <= 0)
			return changes;
		for (size_t i = 0; i < bounds->n_products; i++)
			if (bounds->of_product[i] > bounds->of_product[product])
				product = i;
		if (bounds->of_product[product] == 0)
			return changes;
	}
}

struct search_cost supply_least_cost(const struct supply_bounds *bounds, size_t next, const struct supply_state *state,
                                     struct search_cost cost, const uint16_t *used, const struct search_cost *possible)
{
	int64_t still = bounds->still[next];
	int64_t losses = bounds->losses[next];
	int64_t rest = state->open >= 0 ? state->rest : 0;
	if (next == bounds->problem->n_doses)
		return cost;
	int64_t get = still - rest - in_hand(bounds, next, used);
	if (losses > 0)
		get = larger(get, still + losses - rest - all_in_hand(bounds, used));
	if (possible != NULL)
		cost.changes += least_changes(bounds, next, state, possible->get - cost.get);
	cost.get += up_to_multiple(get, bounds->divisor_to_get);
	cost.injections += (int64_t)(bounds->problem->n_doses - next);
	if (bounds->alike && !bounds->problem->open_end && bounds->divisor_of_all > 0) {
		int64_t over = (rest - still - losses) % bounds->divisor_of_all;
		cost.wasted += over < 0 ? over + bounds->divisor_of_all : over;
	}
	cost.wasted += losses;
	return cost;
}

void supply_forget_expired(const struct supply_bounds *bounds, size_t next, const uint16_t *used, uint16_t *used_then)
{
	memcpy(used_then, used, bounds->n_lots * sizeof *used);
	for (size_t i = 0; i < bounds->n_lots && bounds->by_day[i].expires < bounds->sooner[next]; i++)
		if (!bounds->problem->sizes[bounds->by_day[i].size].part_used)
			used_then[bounds->by_day[i].lot] = (uint16_t)bounds->by_day[i].count;
}
