/*
 * draw_liquid.c - how much liquid goes into a powder, where that is measured and not all of it.
 */
#include "plan/making.h"

/*
 * Liquid out of a vial or ampoule is measured, as these hold more than they say; only where its amount is left open and
 * the medicine is given whole does nothing depend on it. Out of a syringe it is measured where not all of it goes in.
 */
static bool liquid_is_measured(const struct making *making)
{
	const struct liquid *liquid = &making->request->product->diluent;
	if (making->request->product->container != CONTAINER_POWDER_VIAL)
		return false;
	if (liquid->comes_as != LIQUID_SYRINGE)
		return liquid->use.given || !making->whole;
	return liquid->use.given && liquid->supplied.given &&
	       quantity_compare(liquid->use.quantity, liquid->supplied.quantity) < 0;
}

/* The syringe that the liquid is in: the one that is drawn with, or the one in the box. */
static const struct syringe *liquid_syringe(const struct making *making)
{
	const struct product *product = making->request->product;
	const struct syringe *only = NULL;
	if (in_liquid_syringe(product) && request_syringe(making->request))
		return request_syringe(making->request);
	for (size_t i = 0; i < product->n_comes_with; i++) {
		const struct in_box *box = &product->comes_with[i];
		if (box->kind != BOX_SYRINGE)
			continue;
		if (only && only != box->syringe)
			return NULL;
		only = box->syringe;
	}
	return only;
}

static const char *liquid_said(const struct making *making)
{
	return arena_printf(making->arena, "the %s of liquid for %s", volume_said(making, making->ready.liquid),
	                    product_of(making));
}

static struct place liquid_place(const struct liquid *liquid)
{
	return liquid->use.given ? liquid->use.place : liquid->place;
}

static void stop_liquid_between(const struct making *making, const struct syringe *syringe)
{
	struct neighbours next = syringe_neighbours(syringe, making->ready.liquid);
	const char *above = line_said(making, syringe, next.above);
	findings_add(
		making->findings, FINDING_STOP, "volume-between-lines",
		liquid_place(&making->request->product->diluent),
		"%s has no line on the syringe '%s', where the nearest %s; use an amount that has a line, or stock a "
		"finer syringe",
		liquid_said(making), syringe->id,
		next.above_scale
			? arena_printf(making->arena, "is %s", line_said(making, syringe, next.below))
			: arena_printf(making->arena, "are %s and %s", line_said(making, syringe, next.below), above));
}

/* The syringe for the liquid, with a line exactly there; NULL with a stop. */
static const struct syringe *adding_syringe(const struct making *making)
{
	const struct draw_request *request = making->request;
	const struct liquid *liquid = &request->product->diluent;
	struct rational volume = making->ready.liquid;
	const struct syringe *syringe = liquid_syringe(making);
	if (liquid->comes_as != LIQUID_SYRINGE) {
		const struct syringe *picked = syringe_pick(request->stock, request->n_stock, volume);
		syringe = picked ? picked : syringe_with_room(request->stock, request->n_stock, volume);
	}
	if (syringe && syringe_has_line(syringe, volume))
		return syringe;
	if (syringe)
		stop_liquid_between(making, syringe);
	else if (liquid->comes_as == LIQUID_SYRINGE)
		findings_add(
			making->findings, FINDING_STOP, "no-scale", liquid_place(liquid),
			"%s is only a part of what its syringe holds, and that syringe's scale is not stated; name it "
			"in 'comes_with'",
			liquid_said(making));
	else
		findings_add(
			making->findings, FINDING_STOP, "no-syringe-holds", liquid_place(liquid),
			"%s is more than any plain mL syringe in stock holds with room for air; stock a larger one",
			liquid_said(making));
	return NULL;
}

bool measure_liquid(struct making *making)
{
	struct draw *draw = making->draw;
	if (!liquid_is_measured(making))
		return true;
	const struct syringe *syringe = adding_syringe(making);
	if (!syringe)
		return false;
	draw->add = (struct mark){.line = LINE_ADD, .syringe = syringe, .at = making->ready.liquid};
	draw->has_add = syringe_scale_number(syringe, draw->add.at, &draw->add.number);
	return draw->has_add || making_overflow(making);
}
