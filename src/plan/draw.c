#include "plan/draw.h"

#include "plan/making.h"

#include <assert.h>
#include <inttypes.h>
#include <stdarg.h>

static const struct rational zero = {0, 1};

/* ---- what is said ---- */

void making_stop(const struct making *making, const char *code, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	const char *says = arena_vprintf(making->arena, format, arguments);
	va_end(arguments);
	findings_add(making->findings, FINDING_STOP, code, making->request->place, "%s", says);
}

bool making_overflow(const struct making *making)
{
	stop_overflow(making->findings, making->request->place);
	return false;
}

const char *amount_said(const struct making *making, struct quantity amount)
{
	return quantity_plain(making->arena, amount, making->request->mark);
}

const char *volume_said(const struct making *making, struct rational volume)
{
	return amount_said(making, (struct quantity){volume, UNIT_ML});
}

const char *dose_said(const struct making *making)
{
	const char *dose = amount_said(making, making->request->dose);
	if (!making->request->name)
		return dose;
	return arena_printf(making->arena, "%s of %s", dose, making->request->name);
}

const struct syringe *request_syringe(const struct draw_request *request)
{
	return request->syringe ? request->syringe : request->product->syringe;
}

const char *product_of(const struct making *making)
{
	return product_said(making->arena, making->request->product);
}

static bool is_amount(enum unit unit)
{
	return unit_dimension(unit) == DIMENSION_MASS || unit_dimension(unit) == DIMENSION_ACTIVITY;
}

/* The order speaks a unit that the product's own, `unit`, does not follow from. */
static void stop_unit(const struct making *making, enum unit unit)
{
	enum unit ordered = making->request->dose.unit;
	const char *own = unit_name(unit, false);
	if (is_amount(unit) && is_amount(ordered))
		making_stop(
			making, "unit-mismatch",
			"%s cannot be worked out from a strength in %s: %s to %s has no fixed factor; order it in %s, "
			"or give the label's second strength as 'also_labelled'",
			dose_said(making), own, own, unit_name(ordered, false), own);
	else
		making_stop(making, "unit-mismatch", "%s cannot be told in %s, in which %s is counted; order it in %s",
		            dose_said(making), own, product_of(making), own);
}

bool read_content(struct making *making, struct quantity concentration)
{
	const struct product *product = making->request->product;
	struct quantity dose = making->request->dose;
	if (dose_content(product, dose, concentration, &making->content))
		return true;
	if (dose_converts(product, dose.unit, concentration))
		return making_overflow(making);
	enum unit own = product->strength.given ? product->strength.quantity.unit : product->per_ml.quantity.unit;
	stop_unit(making, own != UNIT_NONE ? own : concentration.unit);
	return false;
}

/* ---- syringes ---- */

static int64_t containers_of(const struct draw_request *request)
{
	return request->product->container == CONTAINER_POWDER_VIAL ? request->containers : 1;
}

/* Which part of all that is there the dose is; false where the record does not say how much that is. */
static bool part_of_all(const struct making *making, struct rational *part, bool *overflow)
{
	const struct product *product = making->request->product;
	struct quantity all;
	bool by_volume = making->draw->measure == MEASURE_SYRINGE && unit_converts(making->request->dose.unit, UNIT_ML);
	*overflow = false;
	if (by_volume && !rational_is_zero(making->ready.volume)) {
		*overflow = !rational_divide(making->draw->volume, making->ready.volume, part);
		return true;
	}
	if (!product_content(product, &all))
		return false;
	*overflow = !quantity_multiply(all, rational_of(containers_of(making->request), 1), &all) ||
	            !quantity_ratio(making->content, all, part);
	return true;
}

/* Powders that share a liquid are one injection; all else is ordered as doses of its own. */
static void stop_over_container(const struct making *making, struct rational part)
{
	const struct product *product = making->request->product;
	int64_t containers = containers_of(making->request);
	struct rational needed;
	struct quantity one;
	if (!rational_multiply(part, rational_of(containers, 1), &needed)) {
		making_overflow(making);
		return;
	}
	if (!product_content(product, &one))
		one = (struct quantity){making->ready.volume, UNIT_ML};
	making_stop(making, "dose-over-container",
	            "%s needs %" PRId64 " containers, as %s holds %s%s; order it as doses that one container holds",
	            dose_said(making), rational_ceiling(needed), product_of(making), amount_said(making, one),
	            containers > 1 ? arena_printf(making->arena, " and %" PRId64 " share one liquid", containers) : "");
}

bool check_container(struct making *making)
{
	struct rational part;
	bool overflow;
	if (!part_of_all(making, &part, &overflow))
		return true;
	if (overflow)
		return making_overflow(making);
	int over = rational_compare(part, rational_of(1, 1));
	if (over > 0)
		stop_over_container(making, part);
	/* A filled syringe is emptied by a dose of all of it; a vial is, where nothing of it is kept. */
	bool filled = making->request->product->container == CONTAINER_PREFILLED_SYRINGE;
	making->whole = over == 0 && (making->request->whole || filled);
	return over <= 0;
}

static bool check_powders(const struct making *making)
{
	int64_t most = making->request->product->powders_per_diluent;
	int64_t containers = containers_of(making->request);
	if (containers <= (most > 1 ? most : 1))
		return true;
	making_stop(making, "too-many-powders",
	            "%s needs %" PRId64 " powders in one liquid, and of %s at most %" PRId64
	            " may go into one; order less",
	            dose_said(making), containers, product_of(making), most > 1 ? most : 1);
	return false;
}

static bool make_syringe(struct making *making)
{
	const struct draw_request *request = making->request;
	struct draw *draw = making->draw;
	const struct ready *ready = &making->ready;
	draw->mark.syringe = request_syringe(request);
	if (!product_ready(making->arena, request->product, containers_of(request), &making->ready, making->findings))
		return false;
	draw->concentration = ready->concentration;
	draw->label_concentration = ready->from_label;
	draw->liquid = ready->liquid;
	draw->mixed = ready->volume;
	if (!read_content(making, ready->concentration))
		return false;
	if (!dose_volume(request->product, request->dose, ready->concentration, &draw->volume))
		return making_overflow(making);
	return check_powders(making) && check_container(making) && make_lines(making);
}

/* ---- counted forms ---- */

static bool check_count(const struct making *making)
{
	const struct product *product = making->request->product;
	struct quantity count = making->draw->count;
	const char *form = unit_name(count.unit, true);
	int64_t halves;
	if (rational_is_whole(count.number))
		return true;
	if (!product->halves || count.unit != UNIT_TABLET) {
		making_stop(making, "not-divisible",
		            "%s is not a whole number, and a %s of %s is not divided; order whole ones",
		            dose_said(making), form, product_of(making));
		return false;
	}
	if (rational_in_steps(count.number, rational_of(1, 2), &halves))
		return true;
	making_stop(making, "not-divisible",
	            "%s is not a number of halves, and a %s of %s is only halved; order halves", dose_said(making),
	            form, product_of(making));
	return false;
}

static bool make_count(struct making *making)
{
	if (!read_content(making, (struct quantity){zero, UNIT_NONE}))
		return false;
	making->draw->count = making->content;
	return check_count(making);
}

/* ---- what a draw takes ---- */

bool draw_opens(const struct draw *draw)
{
	for (size_t i = 0; i < draw->n_containers; i++)
		if (draw->containers[i].opens)
			return true;
	return false;
}

static bool has_rubber_top(const struct product *product)
{
	return product->container == CONTAINER_POWDER_VIAL || product->container == CONTAINER_SOLUTION_VIAL;
}

int64_t draw_wipes(const struct draw *draw)
{
	const struct product *product = draw->product;
	int64_t wipes = 1 + (product->container == CONTAINER_PEN);
	/* A second syringe goes through the same rubber again. */
	if (has_rubber_top(product))
		wipes += (int64_t)draw->n_containers + draw_two_syringes(draw);
	bool opens = draw->n_containers > 0 && draw->containers[0].opens;
	return wipes + (opens && product->diluent.given && product->diluent.comes_as == LIQUID_VIAL);
}

bool product_filters(const struct product *product)
{
	return product->container == CONTAINER_AMPOULE && product->filter_needle;
}

int64_t draw_thick_needles(const struct draw *draw)
{
	const struct product *product = draw->product;
	if (!product->mixing_needle.given || product->container == CONTAINER_PREFILLED_SYRINGE ||
	    product_filters(product))
		return 0;
	return draw_two_syringes(draw) ? 2 : 1;
}

bool draw_two_syringes(const struct draw *draw)
{
	const struct product *product = draw->product;
	bool liquid_apart = product->container == CONTAINER_POWDER_VIAL && product->diluent.given &&
	                    product->diluent.comes_as == LIQUID_SYRINGE && !in_liquid_syringe(product);
	return (draw->has_add && draw->add.syringe != draw->mark.syringe) || (liquid_apart && draw_opens(draw));
}

/* ---- one draw ---- */

struct draw draw_blank(const struct draw_request *request)
{
	static const struct quantity nothing = {{0, 1}, UNIT_NONE};
	static const struct mark unset = {.at = {0, 1}, .number = {0, 1}};
	return (struct draw){.product = request->product,
	                     .dose = request->dose,
	                     .given = request->dose,
	                     .concentration = nothing,
	                     .volume = zero,
	                     .held = zero,
	                     .rest = zero,
	                     .mark = unset,
	                     .line_is = {zero, request->dose.unit},
	                     .add = unset,
	                     .liquid = zero,
	                     .mixed = zero,
	                     .dial = nothing,
	                     .priming = nothing,
	                     .count = nothing};
}

bool draw_make(struct arena *arena, const struct draw_request *request, struct draw *draw, struct findings *findings)
{
	struct making making = {.arena = arena,
	                        .request = request,
	                        .draw = draw,
	                        .findings = findings,
	                        .ready = {.concentration = {zero, UNIT_NONE}, .volume = zero}};
	assert(containers_of(request) >= 1);
	*draw = draw_blank(request);
	if (request->dose.number.numerator <= 0) {
		making_stop(&making, "not-positive", "the dose%s%s is zero or less; write how much",
		            request->name ? " of " : "", request->name ? request->name : "");
		return false;
	}
	switch (request->product->container) {
	case CONTAINER_PEN:
		draw->measure = MEASURE_DIAL;
		return make_dial(&making);
	case CONTAINER_COUNTED:
		draw->measure = MEASURE_COUNT;
		return make_count(&making);
	case CONTAINER_POWDER_VIAL:
	case CONTAINER_SOLUTION_VIAL:
	case CONTAINER_AMPOULE:
	case CONTAINER_PREFILLED_SYRINGE:
		break;
	}
	draw->measure = MEASURE_SYRINGE;
	return make_syringe(&making);
}
