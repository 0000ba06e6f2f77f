#include "plan/ability.h"

#include "plan/making.h"

/* More containers for one dose than this are served by no plan. */
enum { MOST_PORTIONS = 256 };

struct draw_request portion_request(const struct portion *portion, const struct syringe *syringe)
{
	const struct medicine *medicine = portion->dose->item->medicine;
	const struct clinic *clinic = portion->plan->clinic;
	return (struct draw_request){.dose = portion->amount,
	                             .product = portion->product,
	                             .containers = portion->containers,
	                             .whole = portion->whole,
	                             .syringe = syringe ? syringe : portion->product->syringe,
	                             .stock = clinic->stock,
	                             .n_stock = clinic->n_stock,
	                             .rounding = medicine->rounding,
	                             .place = portion->dose->place,
	                             .name = medicine->name,
	                             .mark = clinic->mark};
}

const struct stated_quantity *dose_site_most(const struct dose *dose)
{
	const struct item *item = dose->item;
	const struct stated_quantity *most =
		item->limits.site_most.given ? &item->limits.site_most : &item->medicine->limits.site_most;
	return most->given && route_by_needle(item->medicine->route) ? most : NULL;
}

/* ---- one draw ---- */

/* The first stop is the reason. */
static bool can_draw(struct arena *arena, const struct portion *portion, const struct syringe *syringe,
                     struct draw *draw, const char **why)
{
	struct findings findings = findings_in(arena);
	struct draw_request request = portion_request(portion, syringe);
	bool made = draw_make(arena, &request, draw, &findings);
	for (size_t i = 0; i < findings.n && !made; i++) {
		if (findings.list[i].level != FINDING_STOP)
			continue;
		*why = findings.list[i].says;
		break;
	}
	return made;
}

/* ---- two places ---- */

/* Two lines of one syringe. */
struct line_pair {
	const struct syringe *syringe;
	struct rational larger;
	struct rational smaller;
	struct rational apart;
};

static bool pair_on(const struct syringe *syringe, struct rational volume, struct rational most, struct line_pair *pair)
{
	struct rational half;
	*pair = (struct line_pair){.syringe = syringe};
	if (!rational_divide(volume, rational_of(2, 1), &half) || rational_compare(half, syringe->graduated) > 0)
		return false;
	pair->smaller = syringe_neighbours(syringe, half).below;
	return pair->smaller.numerator > 0 && rational_subtract(volume, pair->smaller, &pair->larger) &&
	       rational_subtract(pair->larger, pair->smaller, &pair->apart) &&
	       syringe_has_line(syringe, pair->smaller) && syringe_has_line(syringe, pair->larger) &&
	       rational_compare(pair->larger, most) <= 0;
}

/* Nearest to halves; of two that are as near the smaller syringe, then the first of the stock. */
static bool is_better(const struct line_pair *pair, const struct line_pair *best)
{
	if (best->syringe == NULL)
		return true;
	int nearer = rational_compare(pair->apart, best->apart);
	return nearer < 0 || (nearer == 0 && rational_compare(pair->syringe->capacity, best->syringe->capacity) < 0);
}

static struct line_pair best_pair(const struct portion *portion, struct rational volume, struct rational most)
{
	const struct clinic *clinic = portion->plan->clinic;
	struct line_pair best = {.syringe = NULL}, pair;
	const struct syringe *named = portion->product->syringe;
	if (named != NULL || in_liquid_syringe(portion->product))
		return named != NULL && pair_on(named, volume, most, &pair) ? pair : best;
	for (size_t i = 0; i < clinic->n_stock; i++) {
		if (!pair_on(clinic->stock[i], volume, most, &pair) ||
		    syringe_with_room(&clinic->stock[i], 1, pair.larger) == NULL)
			continue;
		if (is_better(&pair, &best))
			best = pair;
	}
	return best;
}

static bool amounts_of_pair(const struct portion *portion, const struct line_pair *pair, struct rational volume,
                            struct places *places)
{
	struct rational part;
	return rational_divide(pair->larger, volume, &part) &&
	       quantity_multiply(portion->amount, part, &places->amounts[0]) &&
	       quantity_subtract(portion->amount, places->amounts[0], &places->amounts[1]);
}

/* Halves, each rounded to its line as the medicine allows. */
static bool round_halves(struct arena *arena, const struct portion *portion, struct places *places)
{
	struct portion half = *portion;
	struct draw draw;
	const char *why;
	if (!portion->dose->item->medicine->rounding.given ||
	    !quantity_multiply(portion->amount, rational_of(1, 2), &half.amount))
		return false;
	places->amounts[0] = places->amounts[1] = half.amount;
	return can_draw(arena, &half, NULL, &draw, &why);
}

static const char *volume_text(struct arena *arena, const struct portion *portion, struct rational volume)
{
	return quantity_plain(arena, (struct quantity){volume, UNIT_ML}, portion->plan->clinic->mark);
}

/* What each of two injections is drawn from is not emptied by one of them: both have a line. */
static bool two_places(struct arena *arena, const struct portion *portion, struct rational volume, struct rational most,
                       struct places *places, const char **why)
{
	struct portion part = *portion;
	part.whole = false;
	struct line_pair pair = best_pair(portion, volume, most);
	places->n = 2;
	places->syringe = pair.syringe;
	bool found = pair.syringe != NULL ? amounts_of_pair(portion, &pair, volume, places)
	                                  : round_halves(arena, &part, places);
	if (!found) {
		*why = arena_printf(arena,
		                    "%s is more than one place takes, %s, and no two lines of one syringe make it up "
		                    "within that",
		                    volume_text(arena, portion, volume), volume_text(arena, portion, most));
		return false;
	}
	for (size_t i = 0; i < 2; i++) {
		struct draw draw;
		part.amount = places->amounts[i];
		if (!can_draw(arena, &part, pair.syringe, &draw, why))
			return false;
	}
	return true;
}

/* A filled syringe is one injection. */
static bool may_be_two(const struct portion *portion)
{
	return portion->dose->item->medicine->two_sites && portion->product->container != CONTAINER_PREFILLED_SYRINGE;
}

bool portion_places(struct arena *arena, const struct portion *portion, struct places *places, const char **why)
{
	const struct stated_quantity *most = dose_site_most(portion->dose);
	struct draw draw;
	struct quantity most_ml;
	*places = (struct places){.n = 1, .amounts = {portion->amount}};
	bool made = can_draw(arena, portion, NULL, &draw, why);
	bool over = most != NULL && draw.measure == MEASURE_SYRINGE && quantity_in(most->quantity, UNIT_ML, &most_ml) &&
	            rational_compare(draw.volume, most_ml.number) > 0;
	if (!over)
		return made;
	if (may_be_two(portion))
		return two_places(arena, portion, draw.volume, most_ml.number, places, why);
	*why = arena_printf(arena, "%s is more than one place takes, %s", volume_text(arena, portion, draw.volume),
	                    volume_text(arena, portion, most_ml.number));
	return false;
}

/* ---- a whole dose ---- */

/* How much of `need` the next containers give in one injection. */
struct serving {
	struct quantity part;
	int64_t containers;
	bool whole;
};

static bool is_many(const struct product *product)
{
	return product->container == CONTAINER_PEN || product->in_use.given;
}

/* So many of them, each emptied but for the last. */
static bool serve_together(const struct product *product, struct quantity content, struct quantity need,
                           struct serving *serving)
{
	struct rational count;
	if (!quantity_ratio(need, content, &count))
		return false;
	int64_t most = product->powders_per_diluent > 1 ? product->powders_per_diluent : 1;
	serving->containers = rational_ceiling(count);
	serving->whole = rational_is_whole(count);
	if (serving->containers <= most)
		return true;
	serving->containers = most;
	serving->whole = true;
	return product->span && quantity_multiply(content, rational_of(most, 1), &serving->part);
}

static bool serve_part(const struct product *product, struct quantity content, struct quantity step,
                       struct serving *serving)
{
	struct rational steps;
	if (!product->span || rational_is_zero(step.number) || !quantity_ratio(content, step, &steps))
		return false;
	return quantity_multiply(step, rational_of(rational_floor(steps), 1), &serving->part) &&
	       serving->part.number.numerator > 0;
}

static bool next_serving(const struct product *product, struct quantity content, struct quantity need,
                         struct quantity step, struct serving *serving)
{
	*serving = (struct serving){need, 1, false};
	if (!is_many(product))
		return serve_together(product, content, need, serving);
	return quantity_compare(need, content) <= 0 || serve_part(product, content, step, serving);
}

bool product_measures(struct arena *arena, const struct plan *plan, const struct dose *dose,
                      const struct product *product, struct quantity content, struct quantity need,
                      struct quantity step, const char **why)
{
	struct portion portion = {
		.plan = plan, .dose = dose, .product = product, .amount = dose->ordered, .containers = 1};
	struct quantity left = dose->ordered;
	struct draw draw;
	struct places places;
	if (product->container == CONTAINER_COUNTED)
		return can_draw(arena, &portion, NULL, &draw, why);
	for (int i = 0; i < MOST_PORTIONS && need.number.numerator > 0; i++) {
		struct serving serving;
		struct rational part;
		if (!next_serving(product, content, need, step, &serving))
			return true;
		if (!quantity_ratio(serving.part, need, &part) || !quantity_multiply(left, part, &portion.amount))
			return true;
		portion.containers = serving.containers;
		portion.whole = serving.whole;
		if (!portion_places(arena, &portion, &places, why))
			return false;
		if (!quantity_subtract(left, portion.amount, &left) || !quantity_subtract(need, serving.part, &need))
			return true;
	}
	return true;
}
