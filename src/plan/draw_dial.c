/*
 * draw_dial.c - a pen's setting: every multiple of its step, from its least to its most.
 */
#include "plan/making.h"

#include <inttypes.h>

static const struct rational zero = {0, 1};

/* What is in 1 mL of a pen, where its record says so; its dial does not need it, but what is said must agree. */
static bool read_pen(struct making *making)
{
	const struct product *product = making->request->product;
	bool says = product->per_ml.given || product->volume.given || product->concentration.given;
	return !says || product_ready(making->arena, product, 1, &making->ready, making->findings);
}

/* An amount of the product's own unit on a dial that counts in `unit`. */
static bool on_dial(const struct making *making, enum unit unit, struct quantity *setting)
{
	const struct product *product = making->request->product;
	struct quantity concentration = making->ready.concentration;
	struct quantity one;
	struct rational part;
	if (unit_converts(making->content.unit, unit))
		return quantity_in(making->content, unit, setting);
	if (unit_converts(unit, UNIT_ML) && concentration.unit != UNIT_NONE)
		return quantity_ratio(making->content, concentration, &part) &&
		       quantity_in((struct quantity){part, UNIT_ML}, unit, setting);
	return product->also_labelled.given && product_content(product, &one) &&
	       quantity_ratio(making->content, one, &part) &&
	       quantity_multiply(product->also_labelled.quantity, part, &one) && quantity_in(one, unit, setting);
}

static bool dial_converts(const struct making *making, enum unit unit)
{
	const struct product *product = making->request->product;
	return unit_converts(making->content.unit, unit) ||
	       (unit_converts(unit, UNIT_ML) && making->ready.concentration.unit != UNIT_NONE) ||
	       (product->also_labelled.given && unit_converts(product->also_labelled.quantity.unit, unit));
}

/* The dial's figures in the unit of its step; false with a stop where they do not speak one unit. */
static bool read_dial(const struct making *making, struct quantity *least, struct quantity *most,
                      struct quantity *priming)
{
	const struct dial *dial = &making->request->product->dial;
	const struct {
		const char *key;
		const struct stated_quantity *stated;
		struct quantity *read;
	} figures[] = {
		{"least", &dial->least, least}, {"most", &dial->most, most}, {"priming", &dial->priming, priming}};
	enum unit unit = dial->step.quantity.unit;
	for (size_t i = 0; i < sizeof figures / sizeof *figures; i++) {
		const struct stated_quantity *stated = figures[i].stated;
		*figures[i].read = (struct quantity){zero, unit};
		bool none = !stated->given ||
		            rational_is_zero(stated->quantity.number); /* nothing is nothing in any unit */
		if (none || quantity_in(stated->quantity, unit, figures[i].read))
			continue;
		if (unit_converts(stated->quantity.unit, unit))
			stop_overflow(making->findings, stated->place);
		else
			findings_add(
				making->findings, FINDING_STOP, "unit-mismatch", stated->place,
				"'%s' of the dial of %s is in %s and its step in %s; write both in what the dial shows",
				figures[i].key, product_of(making), unit_name(stated->quantity.unit, false),
				unit_name(unit, false));
		return false;
	}
	return true;
}

/* The settings next to one that the dial does not have, for the refusal. */
static const char *settings_near(const struct making *making, struct quantity setting, struct quantity least,
                                 struct quantity most)
{
	struct quantity step = making->request->product->dial.step.quantity;
	struct quantity low = setting, high = setting;
	if (!rational_round_to(setting.number, step.number, &low.number))
		return "another amount";
	high.number = low.number;
	if (quantity_compare(low, setting) > 0 ? !quantity_subtract(low, step, &low) : !quantity_add(high, step, &high))
		return "another amount";
	bool has_low = low.number.numerator > 0 && quantity_compare(low, least) >= 0;
	bool has_high = rational_is_zero(most.number) || quantity_compare(high, most) <= 0;
	const char *low_said = amount_said(making, low);
	const char *high_said = amount_said(making, high);
	if (has_low && has_high)
		return arena_printf(making->arena, "%s or %s", low_said, high_said);
	return has_low ? low_said : has_high ? high_said : "another amount";
}

/* What the dial has is every multiple of its step from its least to its most. */
static bool check_setting(const struct making *making, struct quantity least, struct quantity most)
{
	const struct dial *dial = &making->request->product->dial;
	struct quantity setting = making->draw->dial;
	struct rational turns;
	int64_t steps;
	if (dial->most.given && quantity_compare(setting, most) > 0) {
		if (!quantity_ratio(setting, most, &turns))
			return making_overflow(making);
		making_stop(making, "not-dialable",
		            "%s is more than the pen %s gives at once, %s; it takes at least %" PRId64
		            " injections, which must be doses of their own in the order",
		            dose_said(making), product_of(making), amount_said(making, most), rational_ceiling(turns));
		return false;
	}
	if (dial->least.given && quantity_compare(setting, least) < 0) {
		making_stop(making, "not-dialable",
		            "%s is less than the least that the pen %s gives, %s; order at least that",
		            dose_said(making), product_of(making), amount_said(making, least));
		return false;
	}
	if (rational_in_steps(setting.number, dial->step.quantity.number, &steps))
		return true;
	making_stop(making, "not-dialable", "%s cannot be dialled: the pen %s goes in steps of %s; order %s",
	            dose_said(making), product_of(making), amount_said(making, dial->step.quantity),
	            settings_near(making, setting, least, most));
	return false;
}

struct dial_neighbours dial_neighbours(const struct product *product, struct quantity setting)
{
	const struct dial *dial = &product->dial;
	struct dial_neighbours next = {.below = setting, .above = setting};
	struct quantity most;
	next.has_below = quantity_subtract(setting, dial->step.quantity, &next.below);
	next.has_above = quantity_add(setting, dial->step.quantity, &next.above);
	if (dial->most.given && quantity_in(dial->most.quantity, setting.unit, &most))
		next.has_above = next.has_above && quantity_compare(next.above, most) <= 0;
	return next;
}

bool make_dial(struct making *making)
{
	const struct product *product = making->request->product;
	const struct dial *dial = &product->dial;
	struct quantity least, most;
	if (!dial->given || !dial->step.given) {
		findings_add(making->findings, FINDING_STOP, "dial-missing", dial->given ? dial->place : product->place,
		             "the pen %s does not state the step of its dial; add 'dial' with 'step'",
		             product_of(making));
		return false;
	}
	/* Lines of a syringe are no settings of a pen, though both are called units: such an order is a slip. */
	if (making->request->dose.unit == UNIT_SYRINGE_UNIT) {
		making_stop(making, "unit-mismatch",
		            "%s cannot be dialled on the pen %s, as these are lines of a syringe; order it in %s",
		            dose_said(making), product_of(making), unit_name(dial->step.quantity.unit, false));
		return false;
	}
	if (!read_pen(making) || !read_dial(making, &least, &most, &making->draw->priming))
		return false;
	making->draw->concentration = making->ready.concentration;
	if (!read_content(making, making->ready.concentration))
		return false;
	enum unit unit = dial->step.quantity.unit;
	if (!dial_converts(making, unit)) {
		findings_add(
			making->findings, FINDING_STOP, "unit-mismatch", dial->step.place,
			"the dial of %s is in %s and its strength in %s, which has no fixed factor; write the dial in "
			"%s, or give the label's second strength as 'also_labelled'",
			product_of(making), unit_name(unit, false), unit_name(making->content.unit, false),
			unit_name(making->content.unit, false));
		return false;
	}
	if (!on_dial(making, unit, &making->draw->dial))
		return making_overflow(making);
	return check_container(making) && check_setting(making, least, most);
}
