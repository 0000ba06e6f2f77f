/*
 * supply.h - which container serves which dose, what is left, what to get.
 *
 * Rules: never past expiry or in-use life; a single-use container is shared
 * only where both the doses say `split` and the product has a `share` policy;
 * one opened container of a medicine at a time; a dose is finished from the
 * next only where `span` allows; several powders in one liquid are one injection;
 * containers in use stay as the replaced sheet assigned them (supply_past.h).
 *
 * Among plans that keep the rules, in this order: least to get, least thrown
 * away (what is left in the last one counts unless the end is open), fewest
 * changes of product, fewest injections, fewest opened, soonest expiry, order
 * in the formulary. The search is exact (supply_search.h); where it would look at
 * more than a million states it is a stop, never a good guess.
 */
#ifndef PLAN_SUPPLY_H
#define PLAN_SUPPLY_H

#include "plan/course.h"

/* One dose to serve, in order of time; open doses follow the dated ones of their item. */
struct supply_dose {
	struct dose *dose;
	bool dated;
	bool assumed; /* its amount is one of those that a call may set */

	/* filled by supply_plan() */
	struct supply_part *parts; /* one an injection */
	size_t n_parts;
};

/* One injection's share of a dose: the containers it is drawn from. */
struct supply_part {
	struct quantity amount; /* of the order, in the order's unit */
	struct container_use *uses;
	size_t n_uses;
	bool empties;                  /* takes all that these containers hold */
	const struct syringe *syringe; /* that has the lines of two injections at two places; else NULL */
};

struct supply_result {
	struct product_supply *supplies;
	size_t n_supplies;
};

/*
 * Plans all doses of one medicine, whichever items they belong to. `before` is
 * the course of the plan that this one replaces, or NULL: what its past doses
 * were given from is kept. Sets half
 * and split_group of the doses that share a container. False when no plan keeps
 * the rules, with a stop that names the dose and the rule. Lives in `arena`.
 */
bool supply_plan(struct arena *arena, const struct plan *plan, const struct course *before,
                 const struct medicine *medicine, bool open_end, struct supply_dose *doses, size_t n_doses,
                 struct supply_result *result, struct findings *findings);

/* The item may be given from `product`, and it may be got: the item lists it, or lists none and it is the medicine's. */
bool item_lists_product(const struct item *item, const struct product *product);

/* `product`, another one of the item's medicine, is approved to stand in for one that the item lists. */
bool item_has_stand_in(const struct item *item, const struct product *product);

#endif
