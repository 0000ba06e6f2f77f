/*
 * supply.c - doses served in order of time from one product's containers.
 *
 * With one product the order of preference leaves one choice at each dose: go
 * on with what is open as long as it may be used, and open the next only when
 * it must be. So serving in order of time is already exact. Where a medicine
 * has several products the one in hand is used, else the formulary's first.
 *
 *     single-use       opened for one dose; the rest is thrown away
 *     shared           opened for two split doses, within the policy's hours
 *     many doses       a vial with an in-use life, a pen: until it is empty or its life ends
 *     counted          pieces; the other half of a tablet is taken next
 */
#include "plan/supply.h"

#include "plan/draw.h"

#include <stdlib.h>

#define SECONDS_OF_HOUR 3600

/* One container in hand, before it is opened. */
struct in_hand {
	bool has_expiry;
	struct civil_date expires;
	bool used;
};

/* The container that is open, or has a rest that may still be used. */
struct open_container {
	bool is_open;
	int64_t number;
	bool in_hand;
	struct quantity rest;
	bool has_last_day;
	struct civil_date last_day;
	instant opened;
	bool shared; /* its second dose is still to come */
	bool dated;
};

struct serving {
	struct arena *arena;
	const struct plan *plan;
	const struct medicine *medicine;
	const struct product *product;
	struct findings *findings;
	struct supply_dose *doses;
	size_t n_doses;
	struct quantity content; /* of one container */
	struct quantity loss;    /* per draw, in the content's unit */
	struct quantity concentration;
	struct in_hand *stock; /* soonest expiry first */
	size_t n_stock;
	struct open_container open;
	struct product_supply supply;
	int64_t groups; /* split groups so far */
	bool said_expired;
};

static bool is_zero_or_less(struct quantity quantity)
{
	return rational_compare(quantity.number, rational_of(0, 1)) <= 0;
}

static struct quantity none_of(struct quantity like)
{
	return (struct quantity){rational_of(0, 1), like.unit};
}

static void stop_at(struct serving *serving, const struct dose *dose, const char *code, const char *says)
{
	findings_add(serving->findings, FINDING_STOP, code, dose->place, "%s", says);
}

static const char *plain(struct serving *serving, struct quantity quantity)
{
	return quantity_plain(serving->arena, quantity, serving->plan->clinic->mark);
}

/* ---- which product ---- */

static bool item_takes(const struct item *item, const struct product *product)
{
	if (item->n_products == 0)
		return true;
	for (size_t i = 0; i < item->n_products; i++)
		if (item->products[i] == product)
			return true;
	return false;
}

static bool is_in_hand(const struct plan *plan, const struct product *product)
{
	for (size_t i = 0; i < plan->n_dispensed; i++)
		if (plan->dispensed[i].product == product)
			return true;
	return false;
}

static const struct product *choose_product(const struct plan *plan, const struct medicine *medicine,
                                            const struct item *item)
{
	const struct product *first = NULL;
	for (size_t i = 0; i < medicine->n_products; i++) {
		const struct product *product = &medicine->products[i];
		if (!item_takes(item, product))
			continue;
		if (is_in_hand(plan, product))
			return product;
		if (first == NULL)
			first = product;
	}
	return first;
}

/* ---- what is in hand ---- */

static int compare_in_hand(const void *left, const void *right)
{
	const struct in_hand *a = left;
	const struct in_hand *b = right;
	if (a->has_expiry != b->has_expiry)
		return a->has_expiry ? -1 : 1;
	return a->has_expiry ? date_compare(a->expires, b->expires) : 0;
}

static void open_from_stock(struct serving *serving, const struct dispensed *dispensed)
{
	struct open_container *open = &serving->open;
	*open = (struct open_container){
		.is_open = true, .number = ++serving->supply.needed, .in_hand = true, .dated = true};
	if (!dispensed->left.given || !quantity_in(dispensed->left.quantity, serving->content.unit, &open->rest))
		open->rest = serving->content;
	if (serving->product->in_use.given) {
		struct quantity days;
		if (quantity_in(serving->product->in_use.quantity, UNIT_DAY, &days)) {
			open->has_last_day = true;
			open->last_day = date_plus(dispensed->opened.date, rational_floor(days.number) - 1);
		}
	}
}

static void gather_stock(struct serving *serving)
{
	const struct plan *plan = serving->plan;
	for (size_t i = 0; i < plan->n_dispensed; i++) {
		const struct dispensed *dispensed = &plan->dispensed[i];
		if (dispensed->product != serving->product)
			continue;
		int64_t count = dispensed->count.given ? dispensed->count.number : 1;
		serving->supply.dispensed += count;
		if (dispensed->opened.given) {
			open_from_stock(serving, dispensed);
			count--;
		}
		for (int64_t j = 0; j < count; j++) {
			serving->stock =
				arena_more(serving->arena, serving->stock, serving->n_stock, sizeof *serving->stock);
			serving->stock[serving->n_stock++] = (struct in_hand){.has_expiry = dispensed->expires.given,
			                                                      .expires = dispensed->expires.date};
		}
	}
	if (serving->n_stock > 1)
		qsort(serving->stock, serving->n_stock, sizeof *serving->stock, compare_in_hand);
}

static bool take_from_stock(struct serving *serving, const struct dose *dose)
{
	for (size_t i = 0; i < serving->n_stock; i++) {
		struct in_hand *in_hand = &serving->stock[i];
		bool expired =
			!dose->open && in_hand->has_expiry && date_compare(in_hand->expires, dose->clock_date) < 0;
		if (expired && !serving->said_expired) {
			serving->said_expired = true;
			findings_add(serving->findings, FINDING_CAUTION, "stock-expired", dose->place,
			             "a '%s' in hand expires on %s, before the dose of %s; it is not counted",
			             serving->product->id, date_print(serving->arena, in_hand->expires),
			             date_print(serving->arena, dose->clock_date));
		}
		if (in_hand->used || expired)
			continue;
		in_hand->used = true;
		return true;
	}
	return false;
}

static void note_short(struct serving *serving, const struct dose *dose)
{
	struct product_supply *supply = &serving->supply;
	supply->to_get++;
	if (supply->runs_short || dose->open)
		return;
	supply->runs_short = true;
	supply->short_from = dose->date;
	if (supply->dispensed > 0)
		findings_add(serving->findings, FINDING_CAUTION, "stock-short", dose->place,
		             "what is in hand of '%s' runs out before the dose of %s; more must be got by then",
		             serving->product->id, date_print(serving->arena, dose->clock_date));
}

/* ---- opening and using ---- */

static void open_next(struct serving *serving, const struct dose *dose)
{
	struct open_container *open = &serving->open;
	*open = (struct open_container){.is_open = true,
	                                .number = ++serving->supply.needed,
	                                .in_hand = take_from_stock(serving, dose),
	                                .rest = serving->content,
	                                .opened = dose->when,
	                                .dated = !dose->open};
	if (!open->in_hand)
		note_short(serving, dose);
	struct quantity days;
	if (serving->product->in_use.given && !dose->open &&
	    quantity_in(serving->product->in_use.quantity, UNIT_DAY, &days)) {
		open->has_last_day = true;
		open->last_day = date_plus(dose->clock_date, rational_floor(days.number) - 1);
	}
}

static void throw_away(struct serving *serving)
{
	struct quantity sum;
	if (serving->open.is_open && quantity_add(serving->supply.discarded, serving->open.rest, &sum))
		serving->supply.discarded = sum;
	serving->open.is_open = false;
}

static bool life_over(const struct serving *serving, const struct dose *dose)
{
	return serving->open.has_last_day && !dose->open && date_compare(dose->clock_date, serving->open.last_day) > 0;
}

/* Takes `amount` from the open container; `loss` goes with it. */
static struct container_use use_open(struct serving *serving, struct quantity amount, struct quantity loss, bool opens)
{
	struct open_container *open = &serving->open;
	struct container_use use = {.product = serving->product,
	                            .number = open->number,
	                            .in_hand = open->in_hand,
	                            .opens = opens,
	                            .takes = amount,
	                            .lost = loss,
	                            .leaves = none_of(serving->content),
	                            .then = THEN_DISCARD};
	struct quantity rest;
	if (quantity_subtract(open->rest, amount, &rest) && quantity_subtract(rest, loss, &rest) &&
	    !is_zero_or_less(rest))
		use.leaves = rest;
	open->rest = use.leaves;
	return use;
}

static void keep_until_day(struct serving *serving, struct container_use *use)
{
	use->then = THEN_KEEP;
	if (!serving->open.has_last_day)
		return;
	use->has_by = true;
	use->by_day_only = true;
	use->by = serving->open.last_day;
	use->by_time = (struct clock_time){23, 59};
}

static void add_part(struct serving *serving, struct supply_dose *served, struct quantity amount,
                     struct container_use *uses, size_t n_uses, bool empties)
{
	served->parts = arena_more(serving->arena, served->parts, served->n_parts, sizeof *served->parts);
	served->parts[served->n_parts++] = (struct supply_part){amount, uses, n_uses, empties};
}

static struct container_use *one_use(struct serving *serving, struct container_use use)
{
	struct container_use *copy = arena_alloc(serving->arena, sizeof *copy);
	*copy = use;
	return copy;
}

/* ---- the kinds ---- */

static bool too_large(struct serving *serving, const struct dose *dose, struct quantity need)
{
	stop_at(serving, dose, "no-container",
	        arena_printf(serving->arena,
	                     "%s of %s is more than one '%s' delivers (%s), and the product does not allow a second "
	                     "one for the same dose ('span')",
	                     plain(serving, need), serving->medicine->name, serving->product->id,
	                     plain(serving, serving->content)));
	return false;
}

/* Part `amount` of the dose's content, said in the order's unit: exact by proportion. */
static bool in_order_unit(const struct dose *dose, struct quantity need, struct quantity amount,
                          struct quantity *ordered)
{
	struct rational part;
	return quantity_ratio(amount, need, &part) && quantity_multiply(dose->ordered, part, ordered);
}

/* Several powders in one liquid are one injection; what is over is thrown away. */
static bool serve_single_use(struct serving *serving, struct supply_dose *served, struct quantity need)
{
	struct rational ratio;
	if (!quantity_ratio(need, serving->content, &ratio))
		return false;
	int64_t count = rational_ceiling(ratio);
	int64_t together = serving->product->powders_per_diluent > 1 ? serving->product->powders_per_diluent : 1;
	if (count > together && !serving->product->span)
		return too_large(serving, served->dose, need);
	struct quantity left = need;
	while (!is_zero_or_less(left)) {
		struct container_use *uses = NULL;
		size_t n_uses = 0;
		struct quantity taken = none_of(serving->content);
		bool empties = true;
		for (int64_t i = 0; i < together && !is_zero_or_less(left); i++) {
			bool all = quantity_compare(left, serving->content) >= 0;
			struct quantity amount = all ? serving->content : left;
			open_next(serving, served->dose);
			uses = arena_more(serving->arena, uses, n_uses, sizeof *uses);
			uses[n_uses++] = use_open(serving, amount, none_of(serving->content), true);
			throw_away(serving);
			empties = empties && all;
			if (!quantity_subtract(left, amount, &left) || !quantity_add(taken, amount, &taken))
				return false;
		}
		struct quantity ordered;
		if (!in_order_unit(served->dose, need, taken, &ordered))
			return false;
		add_part(serving, served, ordered, uses, n_uses, empties);
	}
	return true;
}

/* The dose that may share with dose `index`: the next one, split, of the same amount and item. */
static struct dose *sharing_partner(const struct serving *serving, size_t index)
{
	const struct dose *dose = serving->doses[index].dose;
	if (index + 1 >= serving->n_doses)
		return NULL;
	struct dose *next = serving->doses[index + 1].dose;
	bool alike = next->split && next->item == dose->item && next->open == dose->open &&
	             quantity_same(next->ordered, dose->ordered);
	return alike ? next : NULL;
}

static bool keep_seconds(const struct product *product, int64_t *seconds)
{
	struct quantity hours;
	struct rational exact;
	if (!quantity_in(product->share.keep.quantity, UNIT_HOUR, &hours) ||
	    !rational_multiply(hours.number, rational_of(SECONDS_OF_HOUR, 1), &exact))
		return false;
	*seconds = rational_floor(exact);
	return true;
}

/* Undated doses of one item and time stand whole days apart. */
static int64_t seconds_between(const struct dose *first, const struct dose *second)
{
	if (!first->open)
		return second->when - first->when;
	return (second->day - first->day) * 24 * SECONDS_OF_HOUR +
	       (int64_t)(clock_minutes(second->time) - clock_minutes(first->time)) * 60;
}

static bool may_wait(struct serving *serving, const struct dose *first, const struct dose *second)
{
	int64_t keep;
	int64_t between = seconds_between(first, second);
	if (!keep_seconds(serving->product, &keep))
		return false;
	if (between > keep) {
		stop_at(serving, second, "rest-kept-too-long",
		        arena_printf(serving->arena,
		                     "the second half of %s falls %lld h after the first, but policy '%s' lets the "
		                     "rest be kept %s; give it sooner, or do not split",
		                     serving->medicine->name, (long long)(between / SECONDS_OF_HOUR),
		                     serving->product->share.policy,
		                     plain(serving, serving->product->share.keep.quantity)));
		return false;
	}
	if (keep - between < SECONDS_OF_HOUR)
		findings_add(serving->findings, FINDING_CAUTION, "rest-kept-nearly-too-long", second->place,
		             "the second half of %s leaves less than 1 h of the %s that the rest may be kept",
		             serving->medicine->name, plain(serving, serving->product->share.keep.quantity));
	return true;
}

static void keep_until_time(struct serving *serving, struct container_use *use, const struct dose *first)
{
	int64_t keep;
	use->then = THEN_KEEP;
	if (first->open || !keep_seconds(serving->product, &keep))
		return;
	int32_t offset;
	use->has_by = true;
	zone_local(serving->plan->zone, first->when + keep, &use->by, &use->by_time, &offset);
}

static bool serve_second_half(struct serving *serving, struct supply_dose *served, struct quantity need)
{
	struct container_use use = use_open(serving, need, none_of(serving->content), false);
	served->dose->half = HALF_SECOND;
	served->dose->split_group = serving->groups;
	throw_away(serving);
	add_part(serving, served, served->dose->ordered, one_use(serving, use), 1, false);
	return true;
}

static bool serve_shared(struct serving *serving, size_t index, struct quantity need)
{
	struct supply_dose *served = &serving->doses[index];
	struct dose *dose = served->dose;
	if (!serving->product->share.given) {
		stop_at(serving, dose, "split-without-policy",
		        arena_printf(serving->arena,
		                     "the doses of %s are to share a container, but '%s' has no 'share' policy; a "
		                     "single-use container is not kept without one",
		                     serving->medicine->name, serving->product->id));
		return false;
	}
	if (serving->open.is_open && serving->open.shared) {
		serving->open.shared = false;
		return serve_second_half(serving, served, need);
	}
	if (quantity_compare(need, serving->content) > 0)
		return too_large(serving, dose, need);
	open_next(serving, dose);
	struct container_use use = use_open(serving, need, none_of(serving->content), true);
	const struct dose *partner = sharing_partner(serving, index);
	bool room = quantity_compare(use.leaves, need) >= 0;
	if (partner == NULL || !room) {
		if (!is_zero_or_less(use.leaves))
			findings_add(serving->findings, FINDING_NOTE, "rest-thrown-away", dose->place,
			             "the rest of the '%s' opened for the last split dose of %s has no second dose; it "
			             "is thrown away",
			             serving->product->id, serving->medicine->name);
		throw_away(serving);
		add_part(serving, served, dose->ordered, one_use(serving, use), 1, is_zero_or_less(use.leaves));
		return true;
	}
	if (!may_wait(serving, dose, partner))
		return false;
	keep_until_time(serving, &use, dose);
	serving->open.shared = true;
	dose->half = HALF_FIRST;
	dose->split_group = ++serving->groups;
	add_part(serving, served, dose->ordered, one_use(serving, use), 1, false);
	return true;
}

/* What one more draw would take from the open container, loss included. */
static bool holds(const struct serving *serving, struct quantity need)
{
	struct quantity with_loss;
	return serving->open.is_open && quantity_add(need, serving->loss, &with_loss) &&
	       quantity_compare(serving->open.rest, with_loss) >= 0;
}

static void draw_from_open(struct serving *serving, struct supply_dose *served, struct quantity need,
                           struct quantity amount, bool opens)
{
	struct container_use use = use_open(serving, amount, serving->loss, opens);
	struct quantity ordered;
	bool empty = is_zero_or_less(use.leaves);
	if (!empty)
		keep_until_day(serving, &use);
	if (in_order_unit(served->dose, need, amount, &ordered))
		add_part(serving, served, ordered, one_use(serving, use), 1, opens && empty);
	if (empty)
		serving->open.is_open = false;
}

static bool serve_many_doses(struct serving *serving, struct supply_dose *served, struct quantity need)
{
	struct quantity left = need;
	if (serving->open.is_open && life_over(serving, served->dose))
		throw_away(serving);
	bool opens = false;
	while (!holds(serving, left)) {
		struct quantity usable;
		bool some = serving->product->span && serving->open.is_open &&
		            quantity_subtract(serving->open.rest, serving->loss, &usable) && !is_zero_or_less(usable);
		if (some && quantity_compare(usable, left) < 0) {
			draw_from_open(serving, served, need, usable, opens);
			if (!quantity_subtract(left, usable, &left))
				return false;
		} else if (opens) {
			return too_large(serving, served->dose, need);
		} else {
			throw_away(serving);
		}
		open_next(serving, served->dose);
		opens = true;
	}
	draw_from_open(serving, served, need, left, opens);
	return true;
}

/* Pieces: the open one's rest first, then whole new ones. */
static bool serve_counted(struct serving *serving, struct supply_dose *served, struct quantity need)
{
	struct quantity left = need;
	struct container_use *uses = NULL;
	size_t n_uses = 0;
	while (!is_zero_or_less(left)) {
		bool opens = !serving->open.is_open;
		if (opens)
			open_next(serving, served->dose);
		struct quantity amount = quantity_compare(left, serving->open.rest) < 0 ? left : serving->open.rest;
		uses = arena_more(serving->arena, uses, n_uses, sizeof *uses);
		uses[n_uses] = use_open(serving, amount, none_of(serving->content), opens);
		if (is_zero_or_less(uses[n_uses].leaves))
			serving->open.is_open = false;
		else
			uses[n_uses].then = THEN_KEEP;
		n_uses++;
		if (!quantity_subtract(left, amount, &left))
			return false;
	}
	add_part(serving, served, served->dose->ordered, uses, n_uses, false);
	return true;
}

static bool serve(struct serving *serving, size_t index)
{
	struct supply_dose *served = &serving->doses[index];
	struct quantity need;
	if (!dose_content(serving->product, served->dose->ordered, serving->concentration, &need)) {
		stop_at(serving, served->dose, "unit-mismatch",
		        arena_printf(serving->arena,
		                     "%s of %s cannot be turned into %s: there is no fixed factor between them; only a "
		                     "label's second strength ('also_labelled') could say",
		                     plain(serving, served->dose->ordered), serving->medicine->name,
		                     unit_name(serving->content.unit, false)));
		return false;
	}
	/* A broken split leaves a rest that nothing may use any more. */
	if (serving->open.is_open && serving->open.shared &&
	    !(served->dose->split && served->dose->item == serving->doses[index - 1].dose->item))
		throw_away(serving);
	if (serving->product->container == CONTAINER_COUNTED)
		return serve_counted(serving, served, need);
	if (served->dose->split)
		return serve_shared(serving, index, need);
	if (serving->product->in_use.given || serving->product->container == CONTAINER_PEN)
		return serve_many_doses(serving, served, need);
	return serve_single_use(serving, served, need);
}

/* ---- the whole ---- */

static struct quantity loss_per_draw(const struct serving *serving)
{
	const struct product *product = serving->product;
	struct quantity loss = none_of(serving->content);
	struct quantity volume;
	if (product->dial.priming.given && quantity_in(product->dial.priming.quantity, loss.unit, &volume))
		return volume;
	if (product->loss.given && serving->concentration.unit != UNIT_NONE &&
	    quantity_in(product->loss.quantity, UNIT_ML, &volume))
		quantity_multiply(serving->concentration, volume.number, &loss);
	return loss;
}

static bool prepare(struct serving *serving)
{
	const struct product *product = serving->product;
	if (product == NULL) {
		findings_add(serving->findings, FINDING_STOP, "no-product", serving->medicine->place,
		             "'%s' has no product that its item may be given from; add one to the formulary",
		             serving->medicine->id);
		return false;
	}
	if (!product_content(product, &serving->content)) {
		findings_add(serving->findings, FINDING_STOP, "content-unknown", product->place,
		             "'%s' does not say what one container delivers; add its volume", product->id);
		return false;
	}
	bool measured = product->container != CONTAINER_COUNTED && product->container != CONTAINER_PEN;
	struct ready ready = {.concentration = {rational_of(0, 1), UNIT_NONE}};
	if (measured && !product_ready(serving->arena, product, 1, &ready, serving->findings))
		return false;
	serving->concentration = ready.concentration;
	serving->loss = loss_per_draw(serving);
	serving->supply = (struct product_supply){
		.product = product, .medicine = serving->medicine, .discarded = none_of(serving->content)};
	gather_stock(serving);
	return true;
}

bool supply_plan(struct arena *arena, const struct plan *plan, const struct medicine *medicine, bool open_end,
                 struct supply_dose *doses, size_t n_doses, struct supply_result *result, struct findings *findings)
{
	struct serving serving = {.arena = arena,
	                          .plan = plan,
	                          .medicine = medicine,
	                          .findings = findings,
	                          .doses = doses,
	                          .n_doses = n_doses,
	                          .product = choose_product(plan, medicine, doses[0].dose->item)};
	if (!prepare(&serving))
		return false;
	for (size_t i = 0; i < n_doses; i++)
		if (!serve(&serving, i))
			return false;
	serving.supply.left = serving.open.is_open ? serving.open.rest : none_of(serving.content);
	serving.supply.opens_end = open_end;
	result->supplies = arena_alloc(arena, sizeof *result->supplies);
	result->supplies[0] = serving.supply;
	result->n_supplies = 1;
	return true;
}
