/*
 * supply_problem.h - a medicine's products, stock and doses as the whole numbers that supply_search.h reckons with.
 *
 *     measure   all products are counted in one: the first product's own unit. Another's amounts follow by the units,
 *               or, where these do not convert, by what a dose of the order takes from both
 *     number    measure x scale, the smallest scale that makes every amount whole; so nothing is rounded
 *     size      each product as it is got, then each container that was opened before
 */
#ifndef PLAN_SUPPLY_PROBLEM_H
#define PLAN_SUPPLY_PROBLEM_H

#include "plan/supply.h"
#include "plan/supply_search.h"

/* Why a product cannot measure an item's dose; NULL: it can. */
struct supply_answer {
	const struct item *item;
	struct quantity ordered;
	const char *why;
};

/* One product that may serve a dose. */
struct supply_product {
	const struct product *product;
	struct quantity content; /* of one container */
	struct quantity concentration;
	struct quantity loss; /* with each draw; this and the next two in the content's unit */
	struct quantity step; /* a part of a dose is a multiple of it; zero: any part */
	struct quantity least;
	struct rational factor; /* its unit in the common measure */
	int64_t dispensed;
	struct supply_answer *answers; /* so far */
	size_t n_answers;
};

struct supply_size {
	size_t product;
	const struct dispensed *opened; /* NULL: as it is got */
	struct quantity content;
};

struct supply_problem {
	struct arena *arena;
	const struct plan *plan;
	const struct course *before; /* of the plan that this one replaces, or NULL */
	const struct medicine *medicine;
	const struct supply_dose *doses;
	size_t n_doses;
	struct findings *findings;
	struct supply_product *products;
	size_t n_products;
	struct supply_size *sizes;
	size_t n_sizes;
	int64_t scale;
	struct search_problem search;
	struct search_dose *search_doses; /* the search's own */
};

/* False with a stop: no product, a record that does not say enough, units that do not convert, numbers too long. */
bool supply_problem_make(struct supply_problem *problem, bool open_end);

/* One of the search's numbers in the product's own unit; false on overflow. */
bool supply_own(const struct supply_problem *problem, size_t product, int64_t number, struct quantity *quantity);

/* An amount of the product's own unit as one of the search's numbers; false where that is not whole. */
bool supply_number(const struct supply_problem *problem, size_t product, struct rational amount, int64_t *number);

/* Of a product with a share policy: how many seconds the rest may be kept. False where that has no number. */
bool supply_keep_seconds(const struct product *product, int64_t *seconds);

#endif
