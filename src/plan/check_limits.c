#include "plan/ability.h"
#include "plan/checks.h"
#include "plan/draw.h"
#include "plan/supply.h"

/* An amount of a product's own unit by its label's second strength. */
static bool as_also_labelled(const struct product *product, struct quantity content, struct quantity *amount)
{
	struct quantity whole;
	struct rational containers;
	return product->also_labelled.given && product_content(product, &whole) &&
	       quantity_ratio(content, whole, &containers) &&
	       quantity_multiply(product->also_labelled.quantity, containers, amount);
}

/* What is written beside a limit is compared in the limit's unit. */
static bool draw_in(const struct draw *draw, enum unit unit, struct quantity *amount)
{
	if (unit_converts(draw->dose.unit, unit))
		return quantity_in(draw->dose, unit, amount);
	if (draw->measure == MEASURE_COUNT && unit_converts(draw->count.unit, unit))
		return quantity_in(draw->count, unit, amount);
	if (draw->measure == MEASURE_SYRINGE && unit_dimension(unit) == DIMENSION_VOLUME)
		return quantity_in((struct quantity){draw->volume, UNIT_ML}, unit, amount);
	struct quantity content;
	if (!dose_content(draw->product, draw->dose, draw->concentration, &content))
		return false;
	if (unit_converts(content.unit, unit))
		return quantity_in(content, unit, amount);
	return as_also_labelled(draw->product, content, amount) && unit_converts(amount->unit, unit) &&
	       quantity_in(*amount, unit, amount);
}

/* An amount of an item, and the draws that carry it; a dose's own, or one that it may become. */
struct order {
	const struct item *item;
	struct quantity amount;
	const struct draw *draws;
	size_t n_draws;
};

/* The order as it would be drawn from a box of `product`, whatever a box delivers. */
static bool boxed_in(const struct checking *checking, const struct order *order, const struct product *product,
                     enum unit unit, struct quantity *amount)
{
	struct findings unsaid = findings_in(checking->arena); /* the draws say what is wrong with a product */
	struct ready ready;
	struct draw draw = {.measure = MEASURE_SYRINGE, .product = product, .dose = order->amount};
	if (product->container == CONTAINER_COUNTED) {
		draw.measure = MEASURE_COUNT;
		return draw_in(&draw, unit, amount);
	}
	if (!product_ready(checking->arena, product, 1, &ready, &unsaid))
		return false;
	draw.concentration = ready.concentration;
	return dose_volume(product, order->amount, ready.concentration, &draw.volume) && draw_in(&draw, unit, amount);
}

/* What no container can serve has no draws: it goes by the first product of the item that tells. */
static bool undrawn_in(const struct checking *checking, const struct order *order, enum unit unit,
                       struct quantity *amount)
{
	const struct medicine *medicine = order->item->medicine;
	for (size_t i = 0; i < medicine->n_products; i++)
		if (item_lists_product(order->item, &medicine->products[i]) &&
		    boxed_in(checking, order, &medicine->products[i], unit, amount))
			return true;
	return false;
}

/* An order as an amount of `unit`: by itself, or through what its boxes hold. */
static bool order_in(const struct checking *checking, const struct order *order, enum unit unit,
                     struct quantity *amount)
{
	if (unit_converts(order->amount.unit, unit))
		return quantity_in(order->amount, unit, amount);
	if (order->n_draws == 0)
		return undrawn_in(checking, order, unit, amount);
	if (!draw_in(&order->draws[0], unit, amount))
		return false;
	for (size_t i = 1; i < order->n_draws; i++) {
		struct quantity more;
		if (!draw_in(&order->draws[i], unit, &more) || !quantity_add(*amount, more, amount))
			return false;
	}
	return true;
}

static struct order order_of(const struct dose *dose)
{
	return (struct order){dose->item, dose->ordered, dose->draws, dose->n_draws};
}

/* The narrower of an item's limit and its medicine's. */
static const struct stated_quantity *least_of(const struct item *item)
{
	return item->limits.least.given ? &item->limits.least : &item->medicine->limits.least;
}

static const struct stated_quantity *most_of(const struct item *item)
{
	return item->limits.most.given ? &item->limits.most : &item->medicine->limits.most;
}

/* Whether `by` times the order is within these limits; one that is not given allows all. */
static bool within(const struct checking *checking, const struct order *order, struct rational by,
                   const struct limits *limits)
{
	const struct stated_quantity *least = &limits->least;
	const struct stated_quantity *most = &limits->most;
	struct quantity amount;
	if (least->given && (!order_in(checking, order, least->quantity.unit, &amount) ||
	                     !quantity_multiply(amount, by, &amount) || quantity_compare(amount, least->quantity) < 0))
		return false;
	return !most->given ||
	       (order_in(checking, order, most->quantity.unit, &amount) && quantity_multiply(amount, by, &amount) &&
	        quantity_compare(amount, most->quantity) <= 0);
}

static bool would_fit(const struct checking *checking, const struct order *order, struct rational by)
{
	return within(checking, order, by, &order->item->limits) &&
	       within(checking, order, by, &order->item->medicine->limits);
}

/*
 * A slip of the decimal mark is ten times off, a wrong unit a thousand times: such a slip is named, where the allowed
 * range has both ends and so can tell one.
 */
static const char *slip_hint(const struct checking *checking, const struct order *order, bool over)
{
	static const char *const none = "; check the order";
	if (!least_of(order->item)->given || !most_of(order->item)->given)
		return none;
	if (would_fit(checking, order, over ? rational_of(1, 10) : rational_of(10, 1)))
		return over ? "; a tenth of it would be allowed" : "; ten times as much would be allowed";
	if (would_fit(checking, order, over ? rational_of(1, 1000) : rational_of(1000, 1)))
		return over ? "; a thousandth of it would be allowed" : "; a thousand times as much would be allowed";
	return none;
}

static const char *printed(const struct checking *checking, struct quantity quantity)
{
	return quantity_plain(checking->arena, quantity, checking->course->plan->clinic->mark);
}

static const char *times_print(const struct checking *checking, struct rational times)
{
	return number_print(checking->arena, times, checking->course->plan->clinic->mark);
}

static bool is_slip(struct rational times)
{
	return rational_is_whole(times) && (times.numerator == 10 || times.numerator == 1000);
}

static void say_unchecked(const struct checking *checking, const struct order *order,
                          const struct stated_quantity *limit, struct place place)
{
	findings_add(checking->findings, FINDING_STOP, "limit-unchecked", place,
	             "%s cannot be compared with the limit of %s, %s; state the limit in the order's unit",
	             printed(checking, order->amount), order->item->medicine->name, printed(checking, limit->quantity));
}

static void check_most(const struct checking *checking, const struct order *order, const struct stated_quantity *most,
                       struct place place)
{
	const char *name = order->item->medicine->name;
	struct quantity amount;
	struct rational times;
	if (!most->given)
		return;
	if (!order_in(checking, order, most->quantity.unit, &amount))
		say_unchecked(checking, order, most, place);
	else if (quantity_compare(amount, most->quantity) <= 0)
		return;
	else if (quantity_ratio(amount, most->quantity, &times) && is_slip(times))
		findings_add(checking->findings, FINDING_STOP, "dose-over-limit", place,
		             "%s is %s times the most allowed, %s, for %s", printed(checking, order->amount),
		             times_print(checking, times), printed(checking, most->quantity), name);
	else
		findings_add(checking->findings, FINDING_STOP, "dose-over-limit", place,
		             "%s is over the most allowed, %s, for %s%s", printed(checking, order->amount),
		             printed(checking, most->quantity), name, slip_hint(checking, order, true));
}

static void check_least(const struct checking *checking, const struct order *order, const struct stated_quantity *least,
                        struct place place)
{
	const char *name = order->item->medicine->name;
	struct quantity amount;
	struct rational times;
	if (!least->given)
		return;
	if (!order_in(checking, order, least->quantity.unit, &amount))
		say_unchecked(checking, order, least, place);
	else if (quantity_compare(amount, least->quantity) >= 0)
		return;
	else if (quantity_ratio(least->quantity, amount, &times) && is_slip(times))
		findings_add(checking->findings, FINDING_STOP, "dose-under-limit", place,
		             "%s is a %s of the least allowed, %s, for %s", printed(checking, order->amount),
		             times.numerator == 10 ? "tenth" : "thousandth", printed(checking, least->quantity), name);
	else
		findings_add(checking->findings, FINDING_STOP, "dose-under-limit", place,
		             "%s is under the least allowed, %s, for %s%s", printed(checking, order->amount),
		             printed(checking, least->quantity), name, slip_hint(checking, order, false));
}

/* The medicine's limit is in force beside an item's that cannot be compared with it, as 1 mL with 250 mcg. */
static bool narrows(const struct stated_quantity *own, const struct stated_quantity *wide)
{
	return own->given && wide->given && unit_converts(own->quantity.unit, wide->quantity.unit);
}

static void check_order(const struct checking *checking, const struct order *order, struct place place)
{
	const struct limits *own = &order->item->limits;
	const struct limits *wide = &order->item->medicine->limits;
	check_most(checking, order, &own->most, place);
	if (!narrows(&own->most, &wide->most))
		check_most(checking, order, &wide->most, place);
	check_least(checking, order, &own->least, place);
	if (!narrows(&own->least, &wide->least))
		check_least(checking, order, &wide->least, place);
}

static void check_dose(const struct checking *checking, const struct dose *dose)
{
	struct order order = order_of(dose);
	if (dose->amount == DOSE_STATED)
		check_order(checking, &order, dose->place);
	for (size_t i = 0; i < dose->n_options; i++) {
		const struct dose_option *option = &dose->options[i];
		order = (struct order){dose->item, option->amount, option->draws, option->n_draws};
		check_order(checking, &order, dose->step->may_become[i].place);
	}
}

static bool same_order(const struct dose *a, const struct dose *b)
{
	return a->item == b->item && a->step == b->step && a->amount == b->amount &&
	       a->ordered.unit == b->ordered.unit && rational_compare(a->ordered.number, b->ordered.number) == 0;
}

static void check_doses(const struct checking *checking)
{
	const struct course *course = checking->course;
	for (size_t i = 0; i < course->n_doses; i++)
		if (i == 0 || !same_order(&course->doses[i], &course->doses[i - 1]))
			check_dose(checking, &course->doses[i]);
}

/* ---- the most of a day ---- */

static bool same_day(const struct dose *a, const struct dose *b)
{
	if (a->open || b->open)
		return a->open && b->open && a->item == b->item && a->day == b->day;
	return date_compare(a->date, b->date) == 0;
}

static const char *day_print(const struct checking *checking, const struct dose *dose)
{
	if (dose->open)
		return arena_printf(checking->arena, "day %lld", (long long)dose->day);
	return date_print(checking->arena, dose->date);
}

/* What a dose gives on its day, in the limit's unit: of one that a call sets the greatest that it may. */
static bool day_amount(const struct checking *checking, const struct dose *dose, const struct stated_quantity *most,
                       struct quantity *amount)
{
	struct order order = order_of(dose);
	enum unit unit = most->quantity.unit;
	bool found = dose->amount == DOSE_STATED && order_in(checking, &order, unit, amount);
	if (dose->amount == DOSE_STATED && !found)
		say_unchecked(checking, &order, most, dose->place);
	for (size_t i = 0; i < dose->n_options; i++) {
		const struct dose_option *option = &dose->options[i];
		struct quantity may_be;
		order = (struct order){dose->item, option->amount, option->draws, option->n_draws};
		if (!order_in(checking, &order, unit, &may_be) || (found && quantity_compare(may_be, *amount) <= 0))
			continue;
		*amount = may_be;
		found = true;
	}
	return found;
}

/* Sums each day's doses of one medicine, or of one item of it, and says the first day that is over. */
static void check_day_most(const struct checking *checking, const struct medicine *medicine, const struct item *item,
                           const struct stated_quantity *most)
{
	const struct course *course = checking->course;
	const struct dose *previous = NULL;
	struct quantity sum = {{0, 1}, most->quantity.unit};
	bool by_call = false;
	if (!most->given)
		return;
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = course->by_time[i];
		struct quantity amount;
		bool counts = dose->item->medicine == medicine && (!item || dose->item == item);
		if (!counts || !day_amount(checking, dose, most, &amount))
			continue;
		if (!previous || !same_day(previous, dose)) {
			sum.number = rational_of(0, 1);
			by_call = false;
		}
		by_call = by_call || dose->amount == DOSE_BY_CALL;
		if (!quantity_add(sum, amount, &sum) || quantity_compare(sum, most->quantity) > 0) {
			findings_add(checking->findings, FINDING_STOP, "day-over-limit", dose->place,
			             "the doses of %s on %s %s to %s, and %s a day is the most allowed", medicine->name,
			             day_print(checking, dose), by_call ? "may come" : "come", printed(checking, sum),
			             printed(checking, most->quantity));
			return;
		}
		previous = dose;
	}
}

static void check_days(const struct checking *checking)
{
	const struct protocol *protocol = checking->course->plan->protocol;
	for (size_t i = 0; i < protocol->n_items; i++) {
		const struct item *item = &protocol->items[i];
		bool seen = false;
		for (size_t j = 0; j < i; j++)
			seen = seen || protocol->items[j].medicine == item->medicine;
		if (!seen)
			check_day_most(checking, item->medicine, NULL, &item->medicine->limits.day_most);
		check_day_most(checking, item->medicine, item, &item->limits.day_most);
	}
}

/* ---- an item's limits against its medicine's ---- */

/* A limit is the only guard against an order that is ten times off: that there is none is said, once a medicine. */
static void check_limits_given(const struct checking *checking, const struct item *item)
{
	const struct medicine *medicine = item->medicine;
	bool least = least_of(item)->given;
	bool most = most_of(item)->given;
	if (least && most)
		return;
	const char *lacks = most ? "'least'" : least ? "'most'" : "'least' and 'most'";
	findings_add(checking->findings, FINDING_CAUTION, "limits-missing", medicine->place,
	             "%s has no %s, and a limit is the only guard against a dose ten times off; add %s to its "
	             "'limits'",
	             medicine->name, lacks, lacks);
}

static void check_all_limits_given(const struct checking *checking)
{
	const struct protocol *protocol = checking->course->plan->protocol;
	for (size_t i = 0; i < protocol->n_items; i++) {
		bool said = false;
		for (size_t j = 0; j < i; j++)
			said = said || (protocol->items[j].medicine == protocol->items[i].medicine &&
			                !(least_of(&protocol->items[j])->given && most_of(&protocol->items[j])->given));
		if (!said)
			check_limits_given(checking, &protocol->items[i]);
	}
}

static void check_narrower(const struct checking *checking, const struct item *item, const struct stated_quantity *own,
                           const struct stated_quantity *wide, bool most)
{
	if (!narrows(own, wide))
		return;
	int order = quantity_compare(own->quantity, wide->quantity);
	if (most ? order > 0 : order < 0)
		findings_add(checking->findings, FINDING_STOP, "limits-wider", own->place,
		             "'%s' allows %s, and %s allows %s at %s; an item's limits can only be narrower", item->id,
		             printed(checking, own->quantity), item->medicine->name, printed(checking, wide->quantity),
		             most ? "most" : "least");
}

/* Where a medicine's range is so wide that a tenfold slip could hide in it, the item must narrow it. */
static const int64_t widest_range = 4;

static bool too_wide(struct quantity least, struct quantity most)
{
	struct rational range;
	return !quantity_ratio(most, least, &range) || rational_compare(range, rational_of(widest_range, 1)) > 0;
}

/* A least in mcg against a most in mL: what a box holds says how they compare, and boxes differ. */
static bool boxes_too_wide(const struct checking *checking, const struct item *item)
{
	const struct medicine *medicine = item->medicine;
	const struct stated_quantity *least = &medicine->limits.least;
	const struct stated_quantity *most = &medicine->limits.most;
	struct order order = {.item = item, .amount = least->quantity};
	bool told = false;
	bool wide = false;
	for (size_t i = 0; i < medicine->n_products; i++) {
		const struct product *product = &medicine->products[i];
		struct quantity amount;
		if (!item_lists_product(item, product) ||
		    !boxed_in(checking, &order, product, most->quantity.unit, &amount))
			continue;
		told = true;
		wide = wide || too_wide(amount, most->quantity);
		if (quantity_compare(amount, most->quantity) > 0)
			findings_add(checking->findings, FINDING_STOP, "contradiction", least->place,
			             "'least' is %s, which is %s of '%s' and more than 'most', %s; mend one",
			             printed(checking, least->quantity), printed(checking, amount), product->id,
			             printed(checking, most->quantity));
	}
	if (!told)
		findings_add(
			checking->findings, FINDING_STOP, "limits-unlike", least->place,
			"'least', %s, and 'most', %s, cannot be compared, as no product of %s says what they have to "
			"do with each other; state both in one unit",
			printed(checking, least->quantity), printed(checking, most->quantity), medicine->name);
	return wide;
}

static void check_range(const struct checking *checking, const struct item *item)
{
	const struct limits *limits = &item->medicine->limits;
	if (!limits->least.given || !limits->most.given)
		return;
	bool wide = unit_converts(limits->most.quantity.unit, limits->least.quantity.unit)
	                    ? too_wide(limits->least.quantity, limits->most.quantity)
	                    : boxes_too_wide(checking, item);
	if (wide && !item->limits.most.given)
		findings_add(checking->findings, FINDING_STOP, "item-limits-missing", item->place,
		             "the most of %s is over 4 times its least, so '%s' needs limits of its own; give it "
		             "'limits: {most: ...}'",
		             item->medicine->name, item->id);
}

static void check_item_limits(const struct checking *checking, const struct item *item)
{
	const struct limits *wide = &item->medicine->limits;
	const struct limits *narrow = &item->limits;
	check_range(checking, item);
	check_narrower(checking, item, &narrow->most, &wide->most, true);
	check_narrower(checking, item, &narrow->least, &wide->least, false);
	check_narrower(checking, item, &narrow->day_most, &wide->day_most, true);
	check_narrower(checking, item, &narrow->gap_least, &wide->gap_least, false);
	check_narrower(checking, item, &narrow->gap_most, &wide->gap_most, true);
	check_narrower(checking, item, &narrow->site_most, &wide->site_most, true);
}

/* ---- the volume at one site ---- */

static void check_site(const struct checking *checking, const struct dose *dose, const struct draw *draw,
                       struct place place)
{
	const struct medicine *medicine = dose->item->medicine;
	const struct stated_quantity *most = dose_site_most(dose);
	struct quantity volume = {draw->volume, UNIT_ML};
	const char *remedy = "order it as two doses";
	if (most == NULL || draw->measure != MEASURE_SYRINGE || quantity_compare(volume, most->quantity) <= 0)
		return;
	if (medicine->two_sites && draw->product->container == CONTAINER_PREFILLED_SYRINGE)
		remedy = "a filled syringe is given in one place, so order it as two doses";
	else if (medicine->two_sites)
		remedy = "no two lines of one syringe make it up within that, so order another amount";
	findings_add(checking->findings, FINDING_STOP, "site-volume", place,
	             "%s of %s is %s in one place, and %s is the most allowed there; %s", printed(checking, draw->dose),
	             medicine->name, printed(checking, volume), printed(checking, most->quantity), remedy);
}

static void check_sites(const struct checking *checking, const struct dose *dose)
{
	for (size_t i = 0; i < dose->n_draws; i++)
		check_site(checking, dose, &dose->draws[i], dose->place);
	for (size_t i = 0; i < dose->n_options; i++)
		for (size_t j = 0; j < dose->options[i].n_draws; j++)
			check_site(checking, dose, &dose->options[i].draws[j], dose->step->may_become[i].place);
}

void check_limits(const struct checking *checking)
{
	const struct course *course = checking->course;
	const struct protocol *protocol = course->plan->protocol;
	for (size_t i = 0; i < protocol->n_items; i++)
		check_item_limits(checking, &protocol->items[i]);
	check_all_limits_given(checking);
	check_doses(checking);
	check_days(checking);
	for (size_t i = 0; i < course->n_doses; i++)
		check_sites(checking, &course->doses[i]);
}
