/*
 * supply_bounds.h - what is known of a supply problem before any plan is, and what a plan of it still costs at least:
 *
 *     to get    all that is needed, and lost with a draw a dose, and not in hand; up to the next sum of sizes. What
 *               expires serves no more than is needed until then
 *     waste     what is opened is a multiple of the sizes' greatest common divisor, so what is left over is known up to
 *               that; and the losses
 *     changes   as many other products as it takes to serve what the last one cannot
 */
#ifndef PLAN_SUPPLY_BOUNDS_H
#define PLAN_SUPPLY_BOUNDS_H

#include "plan/supply_moves.h"

/* One lot of those of all sizes. */
struct supply_lot {
	size_t lot; /* counting the lots of all sizes */
	int size;
	int64_t count;
	int64_t expires;
};

struct supply_bounds {
	const struct search_problem *problem;
	size_t n_lots;     /* of all sizes */
	size_t *first_lot; /* of each size, counting the lots of all */

	/* What moves may rely on: struct supply_moves has the same. */
	bool *sure;
	bool alike;
	bool later_is_as_good;
	bool mixes;
	int64_t horizon;

	int64_t *still;            /* needed by doses i and on, at least */
	int64_t *losses;           /* lost by doses i and on, at least */
	int64_t *sooner;           /* the first calendar day of doses i and on */
	struct supply_lot *by_day; /* every lot, what expires sooner first */
	int64_t *needed_in_time;   /* by doses i and on until each of these lots expires, at most: one row a dose */
	int64_t *of_product;       /* for reckoning: what is in hand of each product, and of use */
	bool *product_to_get;
	size_t n_products;
	int64_t divisor_to_get;
	int64_t divisor_of_all;
};

/* Lives in `arena`, and as long as the problem. */
const struct supply_bounds *supply_bounds_of(struct arena *arena, const struct search_problem *problem);

/*
 * No plan that goes on before dose `next` from this state, so much of each lot being `used` and so much spent, costs
 * less. `possible`: what a plan that is known costs; NULL: none is, and changes of product are not bounded.
 */
struct search_cost supply_least_cost(const struct supply_bounds *bounds, size_t next, const struct supply_state *state,
                                     struct search_cost cost, const uint16_t *used, const struct search_cost *possible);

/*
 * How many of each lot are used, before dose `next`: of what has expired it does not matter any more, but for a part-used
 * one, which is waste where it was never taken up.
 */
void supply_forget_expired(const struct supply_bounds *bounds, size_t next, const uint16_t *used, uint16_t *used_then);

#endif
