/*
 * ready.c - what a container holds, and what is in 1 mL of it once it is ready to be drawn.
 *
 *     250 mcg powder, 1 mL liquid, nothing displaced       250 mcg / 1 mL       = 250 mcg in 1 mL
 *     250 mg powder, 4.8 mL liquid, displaces 0.2 mL       250 mg / 5 mL        = 50 mg in 1 mL
 *     3 x 75 units powder in one 1 mL                      3 x 75 units / 1 mL  = 225 units in 1 mL
 *     500 mg powder, 1 mL liquid, label says 350 mg/mL     the label's 350 mg; so 500/350 mL - 1 mL was displaced
 *
 * A label's figure is for one container in its liquid. With several containers in one liquid it still tells what each
 * adds to the volume, and the concentration follows from that.
 */
#include "plan/making.h"

#include <assert.h>

static const struct rational zero = {0, 1};

const char *product_said(struct arena *arena, const struct product *product)
{
	return product->id ? arena_printf(arena, "'%s'", product->id) : "the container";
}

void stop_overflow(struct findings *findings, struct place place)
{
	findings_add(findings, FINDING_STOP, "overflow", place,
	             "the numbers are too long to be worked out exactly; check the amounts and their units");
}

/* ---- contents ---- */

/* A stated volume in mL; zero where none is stated. False on overflow. */
static bool stated_ml(const struct stated_quantity *stated, struct rational *ml)
{
	struct quantity volume;
	*ml = zero;
	if (!stated->given)
		return true;
	if (!quantity_in(stated->quantity, UNIT_ML, &volume))
		return false;
	*ml = volume.number;
	return true;
}

bool product_content(const struct product *product, struct quantity *amount)
{
	struct rational volume;
	if (product->strength.given) {
		*amount = product->strength.quantity;
		return true;
	}
	return product->per_ml.given && product->volume.given && stated_ml(&product->volume, &volume) &&
	       quantity_multiply(product->per_ml.quantity, volume, amount);
}

/* The unit that a product's amounts are counted in. */
static enum unit own_unit(const struct product *product, struct quantity concentration)
{
	if (product->strength.given)
		return product->strength.quantity.unit;
	return product->per_ml.given ? product->per_ml.quantity.unit : concentration.unit;
}

static bool by_second_label(const struct product *product, enum unit unit)
{
	struct quantity content;
	return product->also_labelled.given && unit_converts(unit, product->also_labelled.quantity.unit) &&
	       product_content(product, &content);
}

bool dose_converts(const struct product *product, enum unit unit, struct quantity concentration)
{
	return unit_converts(unit, own_unit(product, concentration)) || by_second_label(product, unit) ||
	       (concentration.unit != UNIT_NONE && unit_converts(unit, UNIT_ML));
}

bool dose_content(const struct product *product, struct quantity dose, struct quantity concentration,
                  struct quantity *content)
{
	enum unit own = own_unit(product, concentration);
	struct quantity one;
	struct quantity volume;
	struct rational part;
	if (unit_converts(dose.unit, own))
		return quantity_in(dose, own, content);
	if (by_second_label(product, dose.unit))
		return product_content(product, &one) && quantity_ratio(dose, product->also_labelled.quantity, &part) &&
		       quantity_multiply(one, part, content);
	return concentration.unit != UNIT_NONE && quantity_in(dose, UNIT_ML, &volume) &&
	       quantity_multiply(concentration, volume.number, &one) && quantity_in(one, own, content);
}

bool dose_volume(const struct product *product, struct quantity dose, struct quantity concentration,
                 struct rational *volume)
{
	struct quantity content;
	if (unit_converts(dose.unit, UNIT_ML)) {
		if (!quantity_in(dose, UNIT_ML, &content))
			return false;
		*volume = content.number;
		return true;
	}
	return dose_content(product, dose, concentration, &content) && quantity_ratio(content, concentration, volume);
}

/* ---- the label's figure ---- */

static bool per_ml(struct quantity amount, struct rational volume, struct quantity *concentration)
{
	struct rational number;
	if (!rational_divide(amount.number, volume, &number))
		return false;
	*concentration = (struct quantity){number, amount.unit};
	return true;
}

/* The label's figure in the strength's unit: a label may speak another, such as units beside mcg. */
static bool read_label(struct arena *arena, const struct product *product, struct quantity *label,
                       struct findings *findings)
{
	struct quantity printed = product->concentration.quantity;
	struct quantity nothing = {zero, UNIT_NONE};
	enum unit own = own_unit(product, printed);
	if (dose_content(product, printed, nothing, label))
		return true;
	if (own == UNIT_NONE || dose_converts(product, printed.unit, nothing))
		stop_overflow(findings, product->concentration.place);
	else
		findings_add(findings, FINDING_STOP, "unit-mismatch", product->concentration.place,
		             "the concentration of %s is in %s and its strength in %s, which has no fixed factor; give "
		             "both in one unit, or the label's second strength as 'also_labelled'",
		             product_said(arena, product), unit_name(printed.unit, false), unit_name(own, false));
	return false;
}

/* A label may be rounded: at most 2 % from what strength and volume make. */
static bool label_agrees(struct quantity label, struct quantity computed, bool *agrees)
{
	struct rational off;
	if (!rational_subtract(label.number, computed.number, &off))
		return false;
	if (off.numerator < 0)
		off.numerator = -off.numerator;
	*agrees = rational_compare_scaled(off, 100, computed.number, 2) <= 0;
	return true;
}

/* Lets the label's figure rule over the computed one that `ready` holds. */
static bool let_label_rule(struct arena *arena, const struct product *product, struct quantity label,
                           struct ready *ready, struct findings *findings)
{
	struct quantity computed = ready->concentration;
	bool agrees;
	if (!label_agrees(label, computed, &agrees)) {
		stop_overflow(findings, product->concentration.place);
		return false;
	}
	if (!agrees) {
		findings_add(
			findings, FINDING_STOP, "label-disagrees", product->concentration.place,
			"the concentration of %s is %s in 1 mL, but strength and volume make %s in 1 mL, more than "
			"2 %% apart; look at the label and mend one",
			product_said(arena, product), quantity_plain(arena, label, DECIMAL_POINT),
			quantity_plain(arena, computed, DECIMAL_POINT));
		return false;
	}
	ready->concentration = label;
	ready->from_label = true;
	return true;
}

/* ---- liquids ---- */

static bool ready_liquid(struct arena *arena, const struct product *product, struct ready *ready,
                         struct findings *findings)
{
	struct quantity label;
	bool by_volume = product->strength.given && product->volume.given;
	if (!product->per_ml.given && !by_volume && !product->concentration.given) {
		findings_add(findings, FINDING_STOP, "volume-missing", product->place,
		             "%s states no volume, so nothing says how much is in 1 mL; add 'volume', or write the "
		             "strength as an amount in 1 mL",
		             product_said(arena, product));
		return false;
	}
	if (!stated_ml(&product->volume, &ready->volume)) {
		stop_overflow(findings, product->volume.place);
		return false;
	}
	if (product->per_ml.given)
		ready->concentration = product->per_ml.quantity;
	else if (by_volume && !per_ml(product->strength.quantity, ready->volume, &ready->concentration)) {
		stop_overflow(findings, product->volume.place);
		return false;
	}
	if (!product->concentration.given)
		return true;
	if (!read_label(arena, product, &label, findings))
		return false;
	if (product->per_ml.given || by_volume)
		return let_label_rule(arena, product, label, ready, findings);
	ready->concentration = label;
	ready->from_label = true;
	return true;
}

/* ---- powders ---- */

static bool read_liquid(struct arena *arena, const struct product *product, struct ready *ready,
                        struct findings *findings)
{
	const struct liquid *liquid = &product->diluent;
	const struct stated_quantity *use = liquid->use.given ? &liquid->use : &liquid->supplied;
	struct rational supplied;
	if (!liquid->given || !use->given) {
		findings_add(findings, FINDING_STOP, "liquid-missing", liquid->given ? liquid->place : product->place,
		             "%s is a powder and does not state its liquid; add 'use' to its 'diluent'",
		             product_said(arena, product));
		return false;
	}
	if (!stated_ml(use, &ready->liquid) || !stated_ml(&liquid->supplied, &supplied)) {
		stop_overflow(findings, use->place);
		return false;
	}
	if (liquid->supplied.given && rational_compare(ready->liquid, supplied) > 0) {
		findings_add(findings, FINDING_STOP, "liquid-short", use->place,
		             "%s uses %s of liquid, but only %s is supplied; mend one", product_said(arena, product),
		             quantity_plain(arena, use->quantity, DECIMAL_POINT),
		             quantity_plain(arena, liquid->supplied.quantity, DECIMAL_POINT));
		return false;
	}
	return true;
}

/* What one container's powder adds to the volume: stated, or what its label implies; `label` NULL: it has none. */
static bool read_displacement(struct arena *arena, const struct product *product, struct quantity content,
                              const struct quantity *label, struct ready *ready, struct findings *findings)
{
	struct rational made;
	if (product->displacement.given || !label) {
		if (stated_ml(&product->displacement, &ready->displacement))
			return true;
		stop_overflow(findings, product->displacement.place);
		return false;
	}
	if (!quantity_ratio(content, *label, &made) || !rational_subtract(made, ready->liquid, &ready->displacement)) {
		stop_overflow(findings, product->concentration.place);
		return false;
	}
	if (ready->displacement.numerator >= 0)
		return true;
	findings_add(
		findings, FINDING_STOP, "displacement-negative", product->concentration.place,
		"by its concentration %s makes %s once mixed, less than the %s of liquid that goes in; look at the "
		"label and mend strength, liquid or concentration",
		product_said(arena, product), quantity_plain(arena, (struct quantity){made, UNIT_ML}, DECIMAL_POINT),
		quantity_plain(arena, (struct quantity){ready->liquid, UNIT_ML}, DECIMAL_POINT));
	return false;
}

/* Mixes `containers` of them, each of `content` and adding `each` mL, into the liquid. */
static bool mix(struct quantity content, struct rational each, int64_t containers, struct ready *ready)
{
	struct rational count = rational_of(containers, 1);
	return rational_multiply(each, count, &ready->displacement) &&
	       rational_add(ready->liquid, ready->displacement, &ready->volume) &&
	       quantity_multiply(content, count, &content) && per_ml(content, ready->volume, &ready->concentration);
}

static bool ready_powder(struct arena *arena, const struct product *product, int64_t containers, struct ready *ready,
                         struct findings *findings)
{
	struct quantity content;
	struct quantity label;
	bool labelled = product->concentration.given;
	if (!product_content(product, &content)) {
		findings_add(findings, FINDING_STOP, "strength-missing", product->place,
		             "%s is a powder and does not state what one container holds; add 'strength'",
		             product_said(arena, product));
		return false;
	}
	if (!read_liquid(arena, product, ready, findings) ||
	    (labelled && !read_label(arena, product, &label, findings)) ||
	    !read_displacement(arena, product, content, labelled ? &label : NULL, ready, findings))
		return false;
	struct rational each = ready->displacement;
	if (!mix(content, each, 1, ready)) {
		stop_overflow(findings, product->place);
		return false;
	}
	if (labelled && !let_label_rule(arena, product, label, ready, findings))
		return false;
	if (containers == 1)
		return true;
	ready->from_label = false;
	if (mix(content, each, containers, ready))
		return true;
	stop_overflow(findings, product->place);
	return false;
}

bool product_ready(struct arena *arena, const struct product *product, int64_t containers, struct ready *ready,
                   struct findings *findings)
{
	assert(product->container != CONTAINER_COUNTED && containers >= 1);
	*ready = (struct ready){
		.concentration = {zero, UNIT_NONE}, .liquid = zero, .displacement = zero, .volume = zero};
	if (product->container == CONTAINER_POWDER_VIAL)
		return ready_powder(arena, product, containers, ready, findings);
	return ready_liquid(arena, product, ready, findings);
}
