/*
 * ability.h - whether a product can measure a dose, and in how many places it is given.
 *
 *     measure   every injection has its line, its setting or its count; none is more than one place takes
 *     places    what is more than one place takes is two injections, where the medicine says `two_sites`: halves where
 *               a syringe has that line, else the two lines nearest to it whose sum is exactly the volume, the larger
 *               first. 1.5 mL with 1 mL a place: 0.75 + 0.75, or 0.8 + 0.7 on a scale of tenths
 */
#ifndef PLAN_ABILITY_H
#define PLAN_ABILITY_H

#include "plan/draw.h"

/* One injection's worth of a dose, from so many containers of a product. */
struct portion {
	const struct plan *plan;
	const struct dose *dose;
	const struct product *product;
	struct quantity amount; /* of the order, in the order's unit */
	int64_t containers;     /* powders in one liquid; else 1 */
	bool whole;             /* it is all that these containers hold */
};

/* What draw_make() is asked for it; `syringe` NULL: the product's own, or one of the stock. */
struct draw_request portion_request(const struct portion *portion, const struct syringe *syringe);

/* The most that one place takes, or NULL. */
const struct stated_quantity *dose_site_most(const struct dose *dose);

struct places {
	size_t n;                      /* 1 or 2 */
	struct quantity amounts[2];    /* of the order, together the portion; the larger first */
	const struct syringe *syringe; /* for both of two; NULL: as for any other draw */
};

/* False, with the reason in `why`, where the portion cannot be measured so. Both live in `arena`. */
bool portion_places(struct arena *arena, const struct portion *portion, struct places *places, const char **why);

/*
 * Whether new containers of `product`, each holding `content` in the strength's unit, could give all of a dose that needs
 * `need` of it, by the rules for `span` and powders in one liquid. Where the rules let them not, true: that is said by
 * supply.h. A part of a dose is a multiple of `step`. False with the reason in `why`, which lives in `arena`.
 */
bool product_measures(struct arena *arena, const struct plan *plan, const struct dose *dose,
                      const struct product *product, struct quantity content, struct quantity need,
                      struct quantity step, const char **why);

#endif
