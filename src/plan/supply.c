/*
 * supply.c - the search's best plan, told in containers, injections and what to get.
 *
 * supply_problem.h turns products, stock and doses into whole numbers; supply_search.h finds the best plan among all
 * that keep the rules; this gives its takes numbers, names and hours again, and says what the reader must know.
 */
#include "plan/supply.h"

#include "plan/ability.h"
#include "plan/making.h"
#include "plan/supply_past.h"
#include "plan/supply_problem.h"
#include "plan/supply_search.h"

#include <stdlib.h>

#define SECONDS_OF_HOUR 3600

/* One container of the plan. */
struct used_container {
	int size;
	int lot;
	int64_t number;                   /* of its product */
	const struct supply_dose *opened; /* by this dose; NULL: it was open before */
	int64_t rest;                     /* after its last use */
	bool stays_open;                  /* after the last dose */
	size_t left_by;                   /* the dose that took from it last */
};

struct telling {
	struct supply_problem problem;
	struct supply_dose *doses; /* the same as the problem's, to be filled */
	struct search_result best;
	struct used_container *containers;
	size_t n_containers;
	int64_t *numbers; /* so far, by product */
	int64_t groups;   /* split groups so far */
	bool overflowed;
};

static struct quantity none_of(struct quantity like)
{
	return (struct quantity){rational_of(0, 1), like.unit};
}

static const struct supply_product *product_of_size(const struct telling *telling, int size)
{
	return &telling->problem.products[telling->problem.sizes[size].product];
}

static const struct search_size *search_size_of(const struct telling *telling, int size)
{
	return &telling->problem.search.sizes[size];
}

static const char *plain(const struct telling *telling, struct quantity quantity)
{
	return quantity_plain(telling->problem.arena, quantity, telling->problem.plan->clinic->mark);
}

static struct quantity own_amount(struct telling *telling, int size, int64_t number)
{
	struct quantity amount = none_of(product_of_size(telling, size)->content);
	if (!supply_own(&telling->problem, telling->problem.sizes[size].product, number, &amount))
		telling->overflowed = true;
	return amount;
}

static void add_finding(struct telling *telling, enum finding_level level, const char *code, const struct dose *dose,
                        const char *says)
{
	findings_add(telling->problem.findings, level, code, dose->place, "%s", says);
}

/* ---- why there is no plan ---- */

/* A split dose needs a container that may be kept: by a policy, or because it is made for many doses. */
static bool check_policy(struct telling *telling, size_t index)
{
	const struct supply_problem *problem = &telling->problem;
	const struct search_dose *search = &problem->search.doses[index];
	const struct dose *dose = telling->doses[index].dose;
	const struct supply_product *lacks = NULL;
	for (size_t i = 0; i < problem->n_sizes && search->split; i++) {
		const struct search_size *size = &problem->search.sizes[i];
		if (search->need[i] == 0)
			continue;
		if (size->kind != SEARCH_ONCE || size->shares)
			return true;
		if (lacks == NULL)
			lacks = product_of_size(telling, (int)i);
	}
	if (lacks == NULL)
		return true;
	add_finding(telling, FINDING_STOP, "split-without-policy", dose,
	            arena_printf(problem->arena,
	                         "the doses of %s are to share a container, but '%s' has no 'share' policy; a "
	                         "single-use container is not kept without one",
	                         problem->medicine->name, lacks->product->id));
	return false;
}

/* New containers alone, as many as are wanted, could serve the dose. */
static bool can_be_served(const struct telling *telling, size_t index)
{
	struct search_problem alone = telling->problem.search;
	struct search_dose dose = alone.doses[index];
	struct search_result result;
	dose.twin = false;
	dose.n_done = 0;
	alone.doses = &dose;
	alone.n_doses = 1;
	alone.open = -1;
	return search_best(telling->problem.arena, &alone, &search_usual_limits, &result) != SEARCH_NONE;
}

static void say_too_large(struct telling *telling, size_t index)
{
	const struct supply_problem *problem = &telling->problem;
	const struct dose *dose = telling->doses[index].dose;
	int size = 0;
	while (problem->search.doses[index].need[size] == 0)
		size++;
	const struct supply_product *own = product_of_size(telling, size);
	const char *why = own->product->span ? "and no containers that follow each other make up the dose"
	                                     : "and the product does not allow a second one for the same dose ('span')";
	add_finding(telling, FINDING_STOP, "no-container", dose,
	            arena_printf(problem->arena, "%s of %s is more than one '%s' delivers (%s), %s",
	                         plain(telling, own_amount(telling, size, problem->search.doses[index].need[size])),
	                         problem->medicine->name, own->product->id, plain(telling, own->content), why));
}

/* Each dose could open new ones, so where no plan keeps the rules one dose alone cannot be served. */
static void say_none(struct telling *telling)
{
	for (size_t i = 0; i < telling->problem.n_doses; i++) {
		if (can_be_served(telling, i))
			continue;
		say_too_large(telling, i);
		return;
	}
	findings_add(telling->problem.findings, FINDING_STOP, "no-container", telling->doses[0].dose->place,
	             "no containers of %s that may be used or got can serve these doses in turn",
	             telling->problem.medicine->name);
}

static void say_too_complex(struct telling *telling)
{
	findings_add(
		telling->problem.findings, FINDING_STOP, "supply-too-complex", telling->doses[0].dose->place,
		"the containers of %s can serve these doses in too many ways to compare them all (more than a "
		"million states, or 200 kinds of stock); name fewer products for the item, or take off the list of "
		"what was dispensed what is not to be used",
		telling->problem.medicine->name);
}

/* ---- containers ---- */

static struct used_container *container_of(struct telling *telling, const struct search_take *take,
                                           const struct supply_dose *served)
{
	while ((size_t)take->container >= telling->n_containers) {
		telling->containers = arena_more(telling->problem.arena, telling->containers, telling->n_containers,
		                                 sizeof *telling->containers);
		telling->containers[telling->n_containers++] = (struct used_container){.size = -1};
	}
	struct used_container *container = &telling->containers[take->container];
	if (container->number > 0)
		return container;
	size_t product = telling->problem.sizes[take->size].product;
	*container = (struct used_container){
		.size = take->size,
		.lot = take->lot,
		.number = ++telling->numbers[product],
		.opened = take->opens && !search_size_of(telling, take->size)->part_used ? served : NULL};
	return container;
}

/*
 * The one in which something is left after the last dose and which nothing made to be thrown away. It is kept where the
 * end is open; at a known end nobody needs it any more.
 */
static void find_open_at_end(struct telling *telling)
{
	if (telling->best.open < 0 || !telling->problem.search.open_end)
		return;
	for (size_t i = telling->n_containers; i-- > 0;) {
		struct used_container *container = &telling->containers[i];
		if (container->number == 0 || container->size != telling->best.open ||
		    container->rest != telling->best.left)
			continue;
		container->stays_open = true;
		return;
	}
}

static void gather_containers(struct telling *telling)
{
	for (size_t i = 0; i < telling->problem.n_doses; i++) {
		for (size_t j = telling->best.first[i]; j < telling->best.first[i + 1]; j++) {
			const struct search_take *take = &telling->best.takes[j];
			struct used_container *container = container_of(telling, take, &telling->doses[i]);
			container->rest = take->leaves;
			container->left_by = i;
		}
	}
	find_open_at_end(telling);
}

/* ---- how long the rest is kept ---- */

static void keep_until_time(const struct telling *telling, struct container_use *use, const struct dose *first)
{
	int64_t keep;
	use->then = THEN_KEEP;
	if (first->open || !supply_keep_seconds(use->product, &keep))
		return;
	int32_t offset;
	use->has_by = true;
	/* Counted from the earliest that the first dose is on time: a later one only keeps shorter. */
	zone_local(telling->problem.plan->zone, dose_earliest(first) + keep, &use->by, &use->by_time, &offset);
}

/* The last day of its life, or of its expiry where that is sooner; SEARCH_NEVER where none is known. */
static int64_t last_day_of(const struct telling *telling, const struct used_container *container)
{
	const struct search_size *size = search_size_of(telling, container->size);
	int64_t last = size->part_used_until;
	if (size->life == 0)
		return SEARCH_NEVER;
	if (container->opened != NULL && container->opened->dose->open)
		return SEARCH_NEVER;
	if (container->opened != NULL)
		last = date_number(container->opened->dose->clock_date) + size->life - 1;
	if (container->lot >= 0 && size->lots[container->lot].expires < last)
		last = size->lots[container->lot].expires;
	return last;
}

static void keep_until_day(const struct telling *telling, struct container_use *use,
                           const struct used_container *container)
{
	int64_t last = last_day_of(telling, container);
	use->then = THEN_KEEP;
	if (last == SEARCH_NEVER)
		return;
	use->has_by = true;
	use->by_day_only = true;
	use->by = date_of_number(last);
	use->by_time = (struct clock_time){23, 59};
}

/* ---- injections ---- */

static struct container_use use_of_take(struct telling *telling, const struct search_take *take,
                                        const struct dose *dose)
{
	const struct used_container *container = &telling->containers[take->container];
	const struct search_size *size = search_size_of(telling, take->size);
	struct container_use use = {.product = product_of_size(telling, take->size)->product,
	                            .number = container->number,
	                            .in_hand = take->lot >= 0,
	                            .opens = take->opens && !size->part_used,
	                            .takes = own_amount(telling, take->size, take->amount),
	                            .lost = own_amount(telling, take->size, take->lost),
	                            .leaves = own_amount(telling, take->size, take->leaves),
	                            .then = THEN_DISCARD};
	if (take->lot >= 0 && size->lots[take->lot].expires != SEARCH_NEVER) {
		use.has_expiry = true;
		use.expires = date_of_number(size->lots[take->lot].expires);
	}
	if (take->leaves == 0 || (take->last && !container->stays_open))
		return use;
	if (size->kind == SEARCH_ONCE)
		keep_until_time(telling, &use, dose);
	else
		keep_until_day(telling, &use, container);
	return use;
}

/* An injection takes all of what it is drawn from, and nothing was taken from that before. */
static bool empties(const struct telling *telling, const struct search_take *take, size_t n)
{
	bool all = true;
	for (size_t i = 0; i < n; i++) {
		const struct search_size *size = search_size_of(telling, take[i].size);
		all = all && take[i].opens && take[i].leaves == 0 && !size->part_used && !size->counted;
	}
	return all;
}

/* The order's part that the takes carry, by proportion: exact. */
static struct quantity ordered_part(struct telling *telling, size_t index, const struct search_take *take, size_t n)
{
	const struct search_dose *search = &telling->problem.search.doses[index];
	struct quantity ordered = telling->doses[index].dose->ordered;
	int64_t sum = 0;
	for (size_t i = 0; i < n; i++)
		sum += take[i].amount;
	if (!quantity_multiply(ordered, rational_of(sum, search->need[take[0].size]), &ordered))
		telling->overflowed = true;
	return ordered;
}

static void put_part(struct telling *telling, size_t index, const struct supply_part *part)
{
	struct supply_dose *served = &telling->doses[index];
	served->parts = arena_more(telling->problem.arena, served->parts, served->n_parts, sizeof *served->parts);
	served->parts[served->n_parts++] = *part;
}

/*
 * Two injections from the same containers, each of which gives both the same part: the first leaves the other's, which
 * follows at once.
 */
static void put_two_places(struct telling *telling, size_t index, const struct supply_part *whole,
                           const struct places *places)
{
	struct rational part;
	struct supply_part parts[2] = {*whole, *whole};
	struct container_use *uses = arena_alloc(telling->problem.arena, 2 * whole->n_uses * sizeof *uses);
	bool fits = quantity_ratio(places->amounts[0], whole->amount, &part);
	for (size_t i = 0; i < whole->n_uses; i++) {
		struct container_use *first = &uses[i], *second = &uses[whole->n_uses + i];
		*first = *second = whole->uses[i];
		fits = fits && quantity_multiply(first->takes, part, &first->takes) &&
		       quantity_subtract(second->takes, first->takes, &second->takes) &&
		       quantity_multiply(first->lost, rational_of(1, 2), &first->lost) &&
		       quantity_subtract(second->lost, first->lost, &second->lost) &&
		       quantity_add(second->leaves, second->takes, &first->leaves) &&
		       quantity_add(first->leaves, second->lost, &first->leaves);
		first->then = THEN_KEEP;
		first->has_by = false;
		second->opens = false;
	}
	telling->overflowed = telling->overflowed || !fits;
	for (size_t i = 0; i < 2; i++) {
		parts[i].amount = places->amounts[i];
		parts[i].uses = uses + i * whole->n_uses;
		parts[i].empties = false;
		parts[i].syringe = places->syringe;
		put_part(telling, index, &parts[i]);
	}
}

static void add_part(struct telling *telling, size_t index, const struct search_take *take, size_t n)
{
	struct arena *arena = telling->problem.arena;
	const struct dose *dose = telling->doses[index].dose;
	struct container_use *uses = arena_alloc(arena, n * sizeof *uses);
	for (size_t i = 0; i < n; i++)
		uses[i] = use_of_take(telling, &take[i], dose);
	struct supply_part part = {.amount = ordered_part(telling, index, take, n),
	                           .uses = uses,
	                           .n_uses = n,
	                           .empties = empties(telling, take, n)};
	struct portion portion = {.plan = telling->problem.plan,
	                          .dose = dose,
	                          .product = uses[0].product,
	                          .amount = part.amount,
	                          .containers = (int64_t)n,
	                          .whole = part.empties};
	struct places places;
	const char *why;
	bool powders = portion.product->container == CONTAINER_POWDER_VIAL;
	portion.containers = powders ? portion.containers : 1;
	if (telling->problem.search.doses[index].at_once[take->size] > 0 &&
	    portion_places(arena, &portion, &places, &why) && places.n == 2)
		put_two_places(telling, index, &part, &places);
	else
		put_part(telling, index, &part);
}

static void tell_dose(struct telling *telling, size_t index)
{
	const struct search_take *takes = telling->best.takes;
	size_t end = telling->best.first[index + 1];
	for (size_t i = telling->best.first[index]; i < end;) {
		size_t n = 1;
		while (i + n < end && takes[i + n].joins)
			n++;
		add_part(telling, index, &takes[i], n);
		i += n;
	}
}

/* ---- halves ---- */

static const struct search_take *last_take(const struct telling *telling, size_t index)
{
	return &telling->best.takes[telling->best.first[index + 1] - 1];
}

static void pair_halves(struct telling *telling, size_t index)
{
	const struct search_take *take = last_take(telling, index);
	const struct supply_product *own = product_of_size(telling, take->size);
	struct dose *first = telling->doses[index].dose;
	struct dose *second = telling->doses[index + 1].dose;
	first->half = HALF_FIRST;
	second->half = HALF_SECOND;
	first->split_group = second->split_group = ++telling->groups;
	if (search_size_of(telling, take->size)->keep - telling->problem.search.doses[index].gap < SECONDS_OF_HOUR)
		findings_add(telling->problem.findings, FINDING_CAUTION, "rest-kept-nearly-too-long", second->place,
		             "the second half of %s leaves less than 1 h of the %s that the rest may be kept",
		             telling->problem.medicine->name, plain(telling, own->product->share.keep.quantity));
}

/* A half that found no second: because it would come too late, or because there is none. */
static bool tell_rest(struct telling *telling, size_t index)
{
	const struct supply_problem *problem = &telling->problem;
	const struct search_dose *search = &problem->search.doses[index];
	const struct search_take *take = last_take(telling, index);
	const struct search_size *size = search_size_of(telling, take->size);
	const struct product *product = product_of_size(telling, take->size)->product;
	if (!search->split || size->kind != SEARCH_ONCE || !size->shares || take->leaves == 0)
		return true;
	if (search->twin && search->gap > size->keep &&
	    take->leaves >= search[1].need[take->size] + size->loss + size->loss_again) {
		add_finding(telling, FINDING_STOP, "rest-kept-too-long", telling->doses[index + 1].dose,
		            arena_printf(problem->arena,
		                         "the second half of %s falls %lld h after the first, but policy '%s' lets the "
		                         "rest be kept %s; give it sooner, or do not split",
		                         problem->medicine->name, (long long)(search->gap / SECONDS_OF_HOUR),
		                         product->share.policy, plain(telling, product->share.keep.quantity)));
		return false;
	}
	add_finding(telling, FINDING_NOTE, "rest-thrown-away", telling->doses[index].dose,
	            arena_printf(problem->arena,
	                         "the rest of the '%s' opened for the last split dose of %s has no second dose; it is "
	                         "thrown away",
	                         product->id, problem->medicine->name));
	return true;
}

static bool tell_halves(struct telling *telling)
{
	for (size_t i = 0; i < telling->problem.n_doses; i++) {
		const struct search_take *take = last_take(telling, i);
		if (take->twin && take->opens && !take->last)
			pair_halves(telling, i);
		else if ((!take->twin || take->opens) && !tell_rest(telling, i))
			return false;
	}
	return true;
}

/* ---- supplies ---- */

static bool is_of(const struct telling *telling, const struct used_container *container, size_t product)
{
	return container->number > 0 && telling->problem.sizes[container->size].product == product;
}

/* Opened before, and used by no dose: at a known end nobody needs it any more. */
static bool is_unused(const struct telling *telling, size_t size)
{
	if (!telling->problem.search.sizes[size].part_used)
		return false;
	for (size_t i = 0; i < telling->n_containers; i++)
		if (telling->containers[i].number > 0 && telling->containers[i].size == (int)size)
			return false;
	bool given_up = telling->problem.search.open == (int)size && telling->best.open != (int)size;
	return given_up || !telling->problem.search.open_end;
}

static void add_rests(struct telling *telling, size_t product, struct product_supply *supply)
{
	int64_t discarded = 0, left = 0;
	int size = (int)product; /* the size that is got stands where its product does */
	for (size_t i = 0; i < telling->n_containers; i++) {
		const struct used_container *container = &telling->containers[i];
		if (!is_of(telling, container, product))
			continue;
		supply->needed++;
		supply->to_get += container->lot < 0;
		*(container->stays_open ? &left : &discarded) += container->rest;
	}
	for (size_t i = 0; i < telling->problem.n_sizes; i++)
		if (telling->problem.sizes[i].product == product && is_unused(telling, i))
			discarded += telling->problem.search.sizes[i].content;
	supply->discarded = own_amount(telling, size, discarded);
	supply->left = own_amount(telling, size, left);
}

static bool anything_in_hand(const struct telling *telling)
{
	for (size_t i = 0; i < telling->problem.n_products; i++)
		if (telling->problem.products[i].dispensed > 0)
			return true;
	return false;
}

static void say_short(struct telling *telling, const struct supply_product *own, const struct dose *dose)
{
	const char *until = dose->open ? arena_printf(telling->problem.arena, "day %lld", (long long)dose->day)
	                               : date_print(telling->problem.arena, dose->clock_date);
	if (own->dispensed > 0)
		add_finding(
			telling, FINDING_CAUTION, "stock-short", dose,
			arena_printf(telling->problem.arena,
		                     "what is in hand of '%s' runs out before the dose of %s; more must be got by then",
		                     own->product->id, until));
	else if (anything_in_hand(telling))
		add_finding(
			telling, FINDING_CAUTION, "stock-short", dose,
			arena_printf(telling->problem.arena,
		                     "what is in hand of %s runs out before the dose of %s; '%s' must be got by then",
		                     telling->problem.medicine->name, until, own->product->id));
}

/* The first dose for which one must be got; of doses without a date there is no day to name. */
static void find_short(struct telling *telling, size_t product, struct product_supply *supply)
{
	for (size_t i = 0; i < telling->n_containers; i++) {
		const struct used_container *container = &telling->containers[i];
		if (!is_of(telling, container, product) || container->lot >= 0)
			continue;
		const struct dose *dose = container->opened->dose;
		supply->runs_short = !dose->open;
		supply->short_from = supply->runs_short ? dose->date : supply->short_from;
		say_short(telling, &telling->problem.products[product], dose);
		return;
	}
}

static int64_t used_of_lot(const struct telling *telling, int size, int lot)
{
	int64_t used = 0;
	for (size_t i = 0; i < telling->n_containers; i++)
		used += telling->containers[i].number > 0 && telling->containers[i].size == size &&
		        telling->containers[i].lot == lot;
	return used;
}

/* The first dose that opens one after `expires`, and of the product or of one to be got. */
static const struct used_container *opened_after(const struct telling *telling, size_t product, int64_t expires)
{
	for (size_t i = 0; i < telling->n_containers; i++) {
		const struct used_container *container = &telling->containers[i];
		if (container->number == 0 || container->opened == NULL ||
		    (container->lot >= 0 && !is_of(telling, container, product)))
			continue;
		size_t dose = (size_t)(container->opened - telling->doses);
		if (telling->problem.search.doses[dose].calendar > expires)
			return container;
	}
	return NULL;
}

/* What has expired before it was its turn, said once a product. */
static void say_expired(struct telling *telling, size_t product)
{
	const struct search_size *size = &telling->problem.search.sizes[product];
	struct arena *arena = telling->problem.arena;
	const char *id = telling->problem.products[product].product->id;
	for (size_t i = 0; i < size->n_lots; i++) {
		const struct used_container *opened = opened_after(telling, product, size->lots[i].expires);
		if (size->lots[i].expires == SEARCH_NEVER || opened == NULL ||
		    used_of_lot(telling, (int)product, (int)i) >= size->lots[i].count)
			continue;
		const struct dose *dose = opened->opened->dose;
		const char *expires = date_print(arena, date_of_number(size->lots[i].expires));
		add_finding(
			telling, FINDING_CAUTION, "stock-expired", dose,
			dose->open ? arena_printf(arena, "a '%s' in hand expired on %s; it is not counted", id, expires)
				   : arena_printf(arena,
		                                  "a '%s' in hand expires on %s, before the dose of %s; it is not "
		                                  "counted",
		                                  id, expires, date_print(arena, dose->clock_date)));
		return;
	}
}

/* The first dose that the product may serve. */
static const struct search_dose *first_served(const struct telling *telling, size_t size)
{
	for (size_t i = 0; i < telling->problem.n_doses; i++)
		if (telling->problem.search.doses[i].need[size] > 0)
			return &telling->problem.search.doses[i];
	return NULL;
}

/* An opened one that is in hand, and that no dose can be given from: past its days in use, or its expiry. */
static void say_past_use(struct telling *telling, size_t size)
{
	const struct dispensed *opened = telling->problem.sizes[size].opened;
	const struct search_size *record = &telling->problem.search.sizes[size];
	const struct search_dose *dose = first_served(telling, size);
	struct arena *arena = telling->problem.arena;
	if (dose == NULL || used_of_lot(telling, (int)size, 0) > 0)
		return;
	const char *id = opened->product->id;
	const char *needed = date_print(arena, date_of_number(dose->calendar));
	if (record->part_used_until < dose->calendar)
		findings_add(telling->problem.findings, FINDING_CAUTION, "stock-opened-too-long", opened->place,
		             "the '%s' opened on %s may be used until %s, and is not needed before %s; it is not "
		             "counted, so have it thrown away",
		             id, date_print(arena, opened->opened.date),
		             date_print(arena, date_of_number(record->part_used_until)), needed);
	else if (record->lots[0].expires < dose->calendar)
		findings_add(telling->problem.findings, FINDING_CAUTION, "stock-expired", opened->place,
		             "the opened '%s' expires on %s, and is not needed before %s; it is not counted", id,
		             date_print(arena, date_of_number(record->lots[0].expires)), needed);
}

/* What is left of a single-use one is no stock: the hour that its time began is not known. */
static void say_single_use(struct telling *telling, size_t product)
{
	const struct plan *plan = telling->problem.plan;
	for (size_t i = 0; i < plan->n_dispensed; i++) {
		const struct dispensed *dispensed = &plan->dispensed[i];
		if (dispensed->product == telling->problem.products[product].product && dispensed->opened.given &&
		    telling->problem.search.sizes[product].kind == SEARCH_ONCE)
			findings_add(
				telling->problem.findings, FINDING_CAUTION, "stock-opened-too-long", dispensed->place,
				"the '%s' opened on %s is for one use; what is left in it is not counted, so "
				"have it thrown away",
				dispensed->product->id, date_print(telling->problem.arena, dispensed->opened.date));
	}
}

static void tell_supplies(struct telling *telling, struct supply_result *result)
{
	const struct supply_problem *problem = &telling->problem;
	for (size_t i = problem->n_products; i < problem->n_sizes; i++)
		say_past_use(telling, i);
	for (size_t i = 0; i < problem->n_products; i++) {
		const struct supply_product *own = &problem->products[i];
		struct product_supply supply = {
			.product = own->product, .medicine = problem->medicine, .dispensed = own->dispensed};
		say_expired(telling, i);
		say_single_use(telling, i);
		add_rests(telling, i, &supply);
		find_short(telling, i, &supply);
		if (supply.needed == 0 && supply.dispensed == 0)
			continue;
		result->supplies =
			arena_more(problem->arena, result->supplies, result->n_supplies, sizeof *result->supplies);
		result->supplies[result->n_supplies++] = supply;
	}
}

/* ---- the whole ---- */

static bool find_best(struct telling *telling)
{
	for (size_t i = 0; i < telling->problem.n_doses; i++)
		if (!check_policy(telling, i))
			return false;
	switch (search_best(telling->problem.arena, &telling->problem.search, &search_usual_limits, &telling->best)) {
	case SEARCH_FOUND:
		return true;
	case SEARCH_NONE:
		say_none(telling);
		return false;
	case SEARCH_TOO_MANY:
		say_too_complex(telling);
		return false;
	}
	return false;
}

bool supply_plan(struct arena *arena, const struct plan *plan, const struct course *before,
                 const struct medicine *medicine, bool open_end, struct supply_dose *doses, size_t n_doses,
                 struct supply_result *result, struct findings *findings)
{
	struct telling telling = {.problem = {.arena = arena,
	                                      .plan = plan,
	                                      .before = before,
	                                      .medicine = medicine,
	                                      .doses = doses,
	                                      .n_doses = n_doses,
	                                      .findings = findings},
	                          .doses = doses};
	if (!supply_problem_make(&telling.problem, open_end))
		return false;
	supply_past_keep(&telling.problem);
	if (!find_best(&telling))
		return false;
	telling.numbers = arena_alloc(arena, telling.problem.n_products * sizeof *telling.numbers);
	gather_containers(&telling);
	if (!tell_halves(&telling))
		return false;
	for (size_t i = 0; i < n_doses; i++)
		tell_dose(&telling, i);
	*result = (struct supply_result){0};
	tell_supplies(&telling, result);
	if (telling.overflowed)
		stop_overflow(findings, doses[0].dose->place);
	return !telling.overflowed;
}
