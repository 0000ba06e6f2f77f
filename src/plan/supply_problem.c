#include "plan/supply_problem.h"

#include "plan/ability.h"
#include "plan/making.h"

#include <stdlib.h>
#include <string.h>

/* More of one lot than any course uses; so the search may count them in few bits. */
enum { MOST_OF_A_LOT = 60000 };

/* Sums over a course stay far below what 64 bits hold. */
#define MOST_IN_ALL (INT64_MAX / 4)

static const struct rational zero = {0, 1};

static struct quantity none_of(struct quantity like)
{
	return (struct quantity){zero, like.unit};
}

static bool overflow(const struct supply_problem *problem)
{
	stop_overflow(problem->findings, problem->doses[0].dose->place);
	return false;
}

/* ---- which product may serve a dose ---- */

bool item_lists_product(const struct item *item, const struct product *product)
{
	for (size_t i = 0; i < item->n_products; i++)
		if (item->products[i] == product)
			return true;
	return item->n_products == 0 && medicine_has_product(item->medicine, product);
}

static bool in_hand(const struct plan *plan, const struct product *product)
{
	for (size_t i = 0; i < plan->n_dispensed; i++)
		if (plan->dispensed[i].product == product)
			return true;
	return false;
}

bool item_has_stand_in(const struct item *item, const struct product *product)
{
	if (!medicine_has_product(item->medicine, product))
		return false;
	for (size_t i = 0; i < product->n_stands_in_for; i++) {
		for (size_t j = 0; j < item->medicine->n_products; j++) {
			const struct product *listed = &item->medicine->products[j];
			if (item_lists_product(item, listed) && strcmp(product->stands_in_for[i], listed->id) == 0)
				return true;
		}
	}
	return false;
}

/* The change of product that holds on the dose's day, or NULL: the latest, until its end. One not approved is refused
 * elsewhere and serves nothing. */
static const struct change *change_of_product(const struct plan *plan, const struct dose *dose)
{
	const struct change *latest = NULL;
	for (size_t i = 0; i < plan->n_changes && !dose->open; i++) {
		const struct change *change = &plan->changes[i];
		if (change->kind != CHANGE_PRODUCT || change->item != dose->item ||
		    date_compare(change->from.date, dose->date) > 0)
			continue;
		if (!item_lists_product(dose->item, change->product) && !item_has_stand_in(dose->item, change->product))
			continue;
		if (latest == NULL || date_compare(change->from.date, latest->from.date) >= 0)
			latest = change;
	}
	bool over = latest != NULL && latest->until.given && date_compare(latest->until.date, dose->date) < 0;
	return over ? NULL : latest;
}

/* What a change brings is not used on days on which it does not hold, or the change would change nothing. */
static bool comes_by_change(const struct plan *plan, const struct item *item, const struct product *product)
{
	for (size_t i = 0; i < plan->n_changes; i++) {
		const struct change *change = &plan->changes[i];
		if (change->kind == CHANGE_PRODUCT && change->item == item && change->product == product)
			return true;
	}
	return false;
}

static bool has_own_product(const struct plan *plan, const struct item *item)
{
	for (size_t i = 0; i < item->medicine->n_products; i++) {
		const struct product *product = &item->medicine->products[i];
		if (item_lists_product(item, product) && !comes_by_change(plan, item, product))
			return true;
	}
	return false;
}

/* Whether it may be used for the dose, and may be got for it: what only stands in is used up where it is in hand. */
static bool may_serve(const struct plan *plan, const struct dose *dose, const struct product *product, bool *get)
{
	const struct change *change = change_of_product(plan, dose);
	*get = change != NULL ? product == change->product : item_lists_product(dose->item, product);
	if (change == NULL && comes_by_change(plan, dose->item, product) && has_own_product(plan, dose->item))
		*get = false;
	else if (change == NULL && !*get)
		return item_has_stand_in(dose->item, product) && in_hand(plan, product);
	return *get;
}

static bool serves_any(const struct supply_problem *problem, const struct product *product)
{
	bool get;
	for (size_t i = 0; i < problem->n_doses; i++)
		if (may_serve(problem->plan, problem->doses[i].dose, product, &get))
			return true;
	return false;
}

static void add_product(struct supply_problem *problem, const struct product *product)
{
	if (!serves_any(problem, product))
		return;
	problem->products =
		arena_more(problem->arena, problem->products, problem->n_products, sizeof *problem->products);
	problem->products[problem->n_products++] = (struct supply_product){.product = product};
}

/* In the formulary's order. */
static bool list_products(struct supply_problem *problem)
{
	for (size_t i = 0; i < problem->medicine->n_products; i++)
		add_product(problem, &problem->medicine->products[i]);
	if (problem->n_products > 0)
		return true;
	findings_add(problem->findings, FINDING_STOP, "no-product", problem->medicine->place,
	             "'%s' has no product that its item may be given from; add one to the formulary",
	             problem->medicine->id);
	return false;
}

/* ---- one product's own figures ---- */

static bool is_pen(const struct product *product)
{
	return product->container == CONTAINER_PEN;
}

static bool is_counted(const struct product *product)
{
	return product->container == CONTAINER_COUNTED;
}

/* A pen's dial needs no concentration; where its record has one, the dial may speak in mL. */
static bool read_concentration(const struct supply_problem *problem, struct supply_product *own)
{
	const struct product *product = own->product;
	bool says = product->per_ml.given || product->volume.given || product->concentration.given;
	struct ready ready = {.concentration = {zero, UNIT_NONE}};
	if (!is_counted(product) && (!is_pen(product) || says) &&
	    !product_ready(problem->arena, product, 1, &ready, problem->findings))
		return false;
	own->concentration = ready.concentration;
	return true;
}

/* What `stated` is in the product's own unit; nothing where it is not given, or does not convert. */
static struct quantity own_amount(const struct supply_product *own, const struct stated_quantity *stated)
{
	struct quantity amount = none_of(own->content);
	if (stated->given && !rational_is_zero(stated->quantity.number))
		dose_content(own->product, stated->quantity, own->concentration, &amount);
	return amount;
}

/* From one line to the next of the syringe that it is measured with, or of the finest in stock. */
static struct rational line_step(const struct supply_problem *problem, const struct product *product)
{
	const struct clinic *clinic = problem->plan->clinic;
	struct rational finest = zero;
	if (product->syringe)
		return product->syringe->step;
	for (size_t i = 0; i < clinic->n_stock; i++) {
		const struct syringe *syringe = clinic->stock[i];
		bool plain = !syringe->unit_scale && !syringe->fixed_needle;
		if (plain && (rational_is_zero(finest) || rational_compare(syringe->step, finest) < 0))
			finest = syringe->step;
	}
	return finest;
}

static void read_parts(const struct supply_problem *problem, struct supply_product *own)
{
	const struct product *product = own->product;
	own->step = own->least = none_of(own->content);
	if (is_counted(product)) {
		own->step.number = product->halves ? rational_of(1, 2) : rational_of(1, 1);
	} else if (is_pen(product)) {
		own->step = own_amount(own, &product->dial.step);
		own->least = own_amount(own, &product->dial.least);
	} else if (own->concentration.unit != UNIT_NONE) {
		struct quantity step = {line_step(problem, product), UNIT_ML};
		dose_content(product, step, own->concentration, &own->step);
	}
}

/* A pen's priming is its loss, and is held against the dial when the pen is set. */
static bool read_loss(const struct supply_problem *problem, struct supply_product *own)
{
	const struct product *product = own->product;
	const struct stated_quantity *loss = &product->loss;
	own->loss = own_amount(own, product->dial.priming.given ? &product->dial.priming : loss);
	if (product->dial.priming.given || !loss->given || rational_is_zero(loss->quantity.number) ||
	    own->loss.number.numerator > 0)
		return true;
	if (dose_converts(product, loss->quantity.unit, own->concentration))
		return overflow(problem);
	const char *unit = unit_name(own->content.unit, false);
	findings_add(problem->findings, FINDING_STOP, "unit-mismatch", loss->place,
	             "the 'loss' of '%s' is in %s, and it is counted in %s; write it in %s%s", product->id,
	             unit_name(loss->quantity.unit, false), unit, unit,
	             own->concentration.unit != UNIT_NONE ? " or in mL" : "");
	return false;
}

static bool read_product(struct supply_problem *problem, struct supply_product *own)
{
	if (!product_content(own->product, &own->content)) {
		findings_add(problem->findings, FINDING_STOP, "content-unknown", own->product->place,
		             "'%s' does not say what one container delivers; add its volume", own->product->id);
		return false;
	}
	if (!read_concentration(problem, own))
		return false;
	read_parts(problem, own);
	return read_loss(problem, own);
}

/* ---- the common measure ---- */

static bool own_need(const struct supply_product *own, const struct dose *dose, struct quantity *need)
{
	struct quantity content;
	return dose_content(own->product, dose->ordered, own->concentration, &content) &&
	       quantity_in(content, own->content.unit, need);
}

static bool find_factor(const struct supply_problem *problem, struct supply_product *own)
{
	const struct supply_product *first = &problem->products[0];
	struct quantity one = {rational_of(1, 1), own->content.unit};
	own->factor = rational_of(1, 1);
	if (unit_converts(own->content.unit, first->content.unit)) {
		if (!quantity_in(one, first->content.unit, &one))
			return overflow(problem);
		own->factor = one.number;
		return true;
	}
	for (size_t i = 0; i < problem->n_doses; i++) {
		struct quantity of_first, of_own;
		if (own_need(first, problem->doses[i].dose, &of_first) &&
		    own_need(own, problem->doses[i].dose, &of_own))
			return rational_divide(of_first.number, of_own.number, &own->factor) || overflow(problem);
	}
	return true;
}

static bool take_into_scale(struct supply_problem *problem, const struct supply_product *own, struct rational amount)
{
	struct rational measure, ratio;
	if (!rational_multiply(amount, own->factor, &measure))
		return overflow(problem);
	/* scale x denominator / (their common divisor) */
	ratio = rational_of(problem->scale, measure.denominator);
	if (__builtin_mul_overflow(problem->scale, ratio.denominator, &problem->scale))
		return overflow(problem);
	return true;
}

static bool scaled(const struct supply_problem *problem, const struct supply_product *own, struct rational amount,
                   int64_t *number)
{
	struct rational measure;
	if (!rational_multiply(amount, own->factor, &measure) ||
	    !rational_multiply(measure, rational_of(problem->scale, 1), &measure))
		return overflow(problem);
	*number = measure.numerator;
	return true;
}

bool supply_own(const struct supply_problem *problem, size_t product, int64_t number, struct quantity *quantity)
{
	const struct supply_product *own = &problem->products[product];
	quantity->unit = own->content.unit;
	return rational_divide(rational_of(number, problem->scale), own->factor, &quantity->number);
}

bool supply_number(const struct supply_problem *problem, size_t product, struct rational amount, int64_t *number)
{
	if (!rational_multiply(amount, problem->products[product].factor, &amount) ||
	    !rational_multiply(amount, rational_of(problem->scale, 1), &amount) || !rational_is_whole(amount))
		return false;
	*number = amount.numerator;
	return true;
}

/* ---- stock ---- */

static bool stays_open(const struct product *product)
{
	return is_pen(product) || product->in_use.given;
}

/* One container is one piece: divided ones are kept beside whole ones. A pack of several is emptied piece by piece. */
static bool is_one_piece(const struct supply_product *own)
{
	return is_counted(own->product) && rational_compare(own->content.number, rational_of(1, 1)) <= 0;
}

static enum search_kind kind_of(const struct supply_product *own)
{
	if (is_counted(own->product))
		return is_one_piece(own) ? SEARCH_PIECES : SEARCH_MANY;
	return stays_open(own->product) ? SEARCH_MANY : SEARCH_ONCE;
}

static int64_t life_of(const struct product *product)
{
	struct quantity days;
	if (!product->in_use.given || !quantity_in(product->in_use.quantity, UNIT_DAY, &days))
		return 0;
	return rational_floor(days.number);
}

/* What an opened one still holds, in the product's own unit; all of it where nobody says. */
static bool read_left(const struct supply_problem *problem, const struct supply_product *own,
                      const struct stated_quantity *left, struct quantity *content)
{
	const char *unit = unit_name(own->content.unit, false);
	const enum decimal_mark mark = problem->plan->clinic->mark;
	*content = own->content;
	if (!left->given)
		return true;
	if (!dose_content(own->product, left->quantity, own->concentration, content)) {
		if (dose_converts(own->product, left->quantity.unit, own->concentration))
			return overflow(problem);
		findings_add(problem->findings, FINDING_STOP, "unit-mismatch", left->place,
		             "%s are left of '%s', which is counted in %s; write it in %s",
		             quantity_plain(problem->arena, left->quantity, mark), own->product->id, unit, unit);
		return false;
	}
	if (quantity_compare(*content, own->content) <= 0)
		return true;
	findings_add(problem->findings, FINDING_STOP, "left-too-much", left->place,
	             "%s are left of '%s', and a full one delivers %s; correct it",
	             quantity_plain(problem->arena, left->quantity, mark), own->product->id,
	             quantity_plain(problem->arena, own->content, mark));
	return false;
}

static bool add_size(struct supply_problem *problem, size_t product, const struct dispensed *opened)
{
	const struct supply_product *own = &problem->products[product];
	struct supply_size size = {product, opened, own->content};
	if (opened != NULL && !read_left(problem, own, &opened->left, &size.content))
		return false;
	problem->sizes = arena_more(problem->arena, problem->sizes, problem->n_sizes, sizeof *problem->sizes);
	problem->sizes[problem->n_sizes++] = size;
	return true;
}

/* What is left of a single-use one is no stock: the hour that its time began is not known. */
static bool list_sizes(struct supply_problem *problem)
{
	for (size_t i = 0; i < problem->n_products; i++)
		if (!add_size(problem, i, NULL))
			return false;
	for (size_t i = 0; i < problem->n_products; i++) {
		struct supply_product *own = &problem->products[i];
		for (size_t j = 0; j < problem->plan->n_dispensed; j++) {
			const struct dispensed *dispensed = &problem->plan->dispensed[j];
			if (dispensed->product != own->product)
				continue;
			own->dispensed += dispensed->count.given ? dispensed->count.number : 1;
			if (dispensed->opened.given && kind_of(own) != SEARCH_ONCE && !add_size(problem, i, dispensed))
				return false;
		}
	}
	return true;
}

static int compare_lots(const void *left, const void *right)
{
	int64_t a = ((const struct search_lot *)left)->expires;
	int64_t b = ((const struct search_lot *)right)->expires;
	return a < b ? -1 : a > b;
}

static int64_t expiry_of(const struct dispensed *dispensed)
{
	return dispensed->expires.given ? date_number(dispensed->expires.date) : SEARCH_NEVER;
}

static void add_lot(struct search_lot *lots, size_t *n, int64_t count, int64_t expires)
{
	size_t i = 0;
	while (i < *n && lots[i].expires != expires)
		i++;
	if (i == *n)
		lots[(*n)++] = (struct search_lot){0, expires};
	lots[i].count += count > MOST_OF_A_LOT ? MOST_OF_A_LOT : count;
	if (lots[i].count > MOST_OF_A_LOT)
		lots[i].count = MOST_OF_A_LOT;
}

static void fill_lots(const struct supply_problem *problem, const struct supply_size *size, struct search_size *search)
{
	const struct plan *plan = problem->plan;
	bool opened = size->opened != NULL;
	struct search_lot *lots = arena_alloc(problem->arena, (opened ? 1 : plan->n_dispensed + 1) * sizeof *lots);
	search->lots = lots;
	if (opened) {
		add_lot(lots, &search->n_lots, 1, expiry_of(size->opened));
		return;
	}
	for (size_t i = 0; i < plan->n_dispensed; i++) {
		const struct dispensed *dispensed = &plan->dispensed[i];
		if (dispensed->product != problem->products[size->product].product)
			continue;
		int64_t count = dispensed->count.given ? dispensed->count.number : 1;
		count -= dispensed->opened.given;
		if (count > 0)
			add_lot(lots, &search->n_lots, count, expiry_of(dispensed));
	}
	if (search->n_lots > 1)
		qsort(lots, search->n_lots, sizeof *lots, compare_lots);
}

/* The one opened last is in use at the start. */
static int open_at_start(const struct supply_problem *problem)
{
	int open = -1;
	for (size_t i = 0; i < problem->n_sizes; i++) {
		const struct dispensed *opened = problem->sizes[i].opened;
		if (opened != NULL &&
		    (open < 0 || date_compare(opened->opened.date, problem->sizes[open].opened->opened.date) > 0))
			open = (int)i;
	}
	return open;
}

/* ---- sizes ---- */

bool supply_keep_seconds(const struct product *product, int64_t *seconds)
{
	struct quantity hours;
	struct rational exact;
	if (!quantity_in(product->share.keep.quantity, UNIT_HOUR, &hours) ||
	    !rational_multiply(hours.number, rational_of(SECONDS_OF_HOUR, 1), &exact))
		return false;
	*seconds = rational_floor(exact);
	return true;
}

/* True where all of a new one is given without a line or a setting to stop at. */
static bool given_whole(const struct supply_product *own)
{
	const struct product *product = own->product;
	return is_counted(product) || product->container == CONTAINER_PREFILLED_SYRINGE ||
	       (!is_pen(product) && !product->whole_to_mark);
}

/* A pen that is tested at its first use alone loses that once; one that was opened before has lost it. */
static void test_once(const struct product *product, bool opened_before, struct search_size *search)
{
	if (product->container != CONTAINER_PEN || product->test != PEN_TEST_FIRST)
		return;
	search->loss_again = 0;
	if (opened_before)
		search->loss = 0;
}

static bool fill_amounts(const struct supply_problem *problem, const struct supply_size *size,
                         struct search_size *search)
{
	const struct supply_product *own = &problem->products[size->product];
	return scaled(problem, own, size->content.number, &search->content) &&
	       scaled(problem, own, own->loss.number, &search->loss) &&
	       scaled(problem, own, own->least.number, &search->least) &&
	       scaled(problem, own, own->step.number, &search->step);
}

static bool fill_size(const struct supply_problem *problem, const struct supply_size *size, struct search_size *search)
{
	const struct supply_product *own = &problem->products[size->product];
	const struct product *product = own->product;
	*search = (struct search_size){.kind = kind_of(own),
	                               .product = (int)size->product,
	                               .together = product->powders_per_diluent > 1 ? product->powders_per_diluent : 1,
	                               .counted = is_counted(product),
	                               .span = product->span || (is_counted(product) && !is_one_piece(own)),
	                               .life = life_of(product),
	                               .whole = given_whole(own),
	                               .part_used = size->opened != NULL,
	                               .part_used_until = SEARCH_NEVER};
	if (product->share.given && search->kind == SEARCH_ONCE)
		search->shares = supply_keep_seconds(product, &search->keep);
	if (size->opened != NULL && search->life > 0)
		search->part_used_until = date_number(size->opened->opened.date) + search->life - 1;
	if (!fill_amounts(problem, size, search))
		return false;
	if (search->step == 0)
		search->step = 1;
	search->loss_again = search->loss;
	test_once(product, size->opened != NULL, search);
	fill_lots(problem, size, search);
	return true;
}

static bool fill_sizes(struct supply_problem *problem)
{
	struct search_size *sizes = arena_alloc(problem->arena, problem->n_sizes * sizeof *sizes);
	for (size_t i = 0; i < problem->n_sizes; i++)
		if (!fill_size(problem, &problem->sizes[i], &sizes[i]))
			return false;
	problem->search.sizes = sizes;
	problem->search.n_sizes = problem->n_sizes;
	problem->search.open = open_at_start(problem);
	return true;
}

/* ---- doses ---- */

static bool fill_need(const struct supply_problem *problem, const struct dose *dose, size_t size, int64_t *need,
                      bool *get)
{
	const struct supply_size *from = &problem->sizes[size];
	const struct supply_product *own = &problem->products[from->product];
	struct quantity amount;
	bool may_get;
	if (!may_serve(problem->plan, dose, own->product, &may_get) || !own_need(own, dose, &amount))
		return true;
	*get = may_get && from->opened == NULL;
	return scaled(problem, own, amount.number, need);
}

/* All powders that may go into one liquid make no more than one place takes. */
static bool never_over(const struct supply_problem *problem, const struct product *product, struct rational most)
{
	struct findings unsaid = findings_in(problem->arena);
	struct ready ready;
	return product->powders_per_diluent > 1 &&
	       product_ready(problem->arena, product, product->powders_per_diluent, &ready, &unsaid) &&
	       rational_compare(ready.volume, most) <= 0;
}

/*
 * What one place takes, where more may be given at two: the volume as an amount of the product. Several powders in one
 * liquid that make more than that are counted as if each had a liquid of its own; their lines are worked out exactly.
 */
static bool fill_at_once(const struct supply_problem *problem, const struct dose *dose, size_t size, int64_t *at_once)
{
	const struct supply_product *own = &problem->products[problem->sizes[size].product];
	const struct product *product = own->product;
	const struct stated_quantity *most = dose_site_most(dose);
	struct quantity volume, amount;
	struct rational number;
	if (most == NULL || !dose->item->medicine->two_sites || is_counted(product) || is_pen(product) ||
	    product->container == CONTAINER_PREFILLED_SYRINGE || own->concentration.unit == UNIT_NONE)
		return true;
	if (!quantity_in(most->quantity, UNIT_ML, &volume))
		return overflow(problem);
	if (never_over(problem, product, volume.number))
		return true;
	if (!dose_content(product, volume, own->concentration, &amount) ||
	    !rational_multiply(amount.number, own->factor, &number) ||
	    !rational_multiply(number, rational_of(problem->scale, 1), &number))
		return overflow(problem);
	*at_once = rational_floor(number);
	return true;
}

/* An undated dose comes on no day before the one that the plan speaks from; more is not known. */
static int64_t calendar_of(const struct supply_problem *problem, const struct dose *dose)
{
	if (!dose->open)
		return date_number(dose->clock_date);
	return problem->plan->as_of.given ? date_number(problem->plan->as_of.date) : 0;
}

/* Undated doses of one item and time stand whole days apart. */
static int64_t seconds_between(const struct dose *first, const struct dose *second)
{
	if (!first->open)
		return second->when - first->when;
	return (second->day - first->day) * 24 * SECONDS_OF_HOUR +
	       (int64_t)(clock_minutes(second->time) - clock_minutes(first->time)) * 60;
}

static void fill_twin(const struct supply_problem *problem, size_t index, struct search_dose *search)
{
	const struct dose *dose = problem->doses[index].dose;
	const struct dose *next = index + 1 < problem->n_doses ? problem->doses[index + 1].dose : NULL;
	search->split = dose->split;
	search->twin = next != NULL && dose->split && next->split && next->item == dose->item &&
	               next->open == dose->open && quantity_same(next->ordered, dose->ordered);
	if (search->twin)
		search->gap = seconds_between(dose, next);
}

/* Each undated item has a time of its own. */
static int time_of(const struct supply_problem *problem, const struct dose *dose)
{
	return dose->open ? 1 + (int)(dose->item - problem->plan->protocol->items) : SEARCH_DATED;
}

/* ---- what cannot measure a dose ---- */

/* One product's answer for one dose of the order; the same for all doses of the item that are as large. */
static const char *unable(const struct supply_problem *problem, const struct dose *dose, size_t product)
{
	struct supply_product *own = &problem->products[product];
	struct quantity need;
	for (size_t i = 0; i < own->n_answers; i++)
		if (own->answers[i].item == dose->item && quantity_same(own->answers[i].ordered, dose->ordered))
			return own->answers[i].why;
	struct supply_answer answer = {dose->item, dose->ordered, NULL};
	if (!own_need(own, dose, &need) || product_measures(problem->arena, problem->plan, dose, own->product,
	                                                    own->content, need, own->step, &answer.why))
		answer.why = NULL;
	own->answers = arena_more(problem->arena, own->answers, own->n_answers, sizeof *own->answers);
	own->answers[own->n_answers++] = answer;
	return answer.why;
}

static void say_passed_over(const struct supply_problem *problem, const struct dose *dose, size_t product)
{
	const struct supply_product *own = &problem->products[product];
	findings_add(problem->findings, own->dispensed > 0 ? FINDING_CAUTION : FINDING_NOTE, "product-passed-over",
	             dose->place, "'%s' cannot measure this dose of %s, so another product gives it: %s",
	             own->product->id, problem->medicine->name, unable(problem, dose, product));
}

static bool stop_no_product_measures(const struct supply_problem *problem, const struct dose *dose, const int64_t *need)
{
	const char *reasons = "";
	for (size_t i = 0; i < problem->n_products; i++)
		if (need[i] > 0)
			reasons = arena_printf(problem->arena, "%s; '%s': %s", reasons,
			                       problem->products[i].product->id, unable(problem, dose, i));
	findings_add(problem->findings, FINDING_STOP, "no-product-measures", dose->place,
	             "no product of %s can measure %s%s", problem->medicine->name,
	             quantity_plain(problem->arena, dose->ordered, problem->plan->clinic->mark), reasons);
	return false;
}

/*
 * A product that cannot measure the dose does not serve it. Where none that may be got can, a single one is left to be
 * refused by its draw, which says more.
 */
static bool leave_out_unable(const struct supply_problem *problem, const struct dose *dose, int64_t *need,
                             const bool *get)
{
	size_t n_get = 0, n_able = 0, n_able_get = 0;
	for (size_t i = 0; i < problem->n_products; i++) {
		if (need[i] == 0)
			continue;
		bool able = unable(problem, dose, i) == NULL;
		n_able += able;
		n_get += get[i];
		n_able_get += able && get[i];
	}
	if (n_able == 0 && n_get > 1)
		return stop_no_product_measures(problem, dose, need);
	if (n_able_get == 0)
		return true;
	for (size_t i = 0; i < problem->n_products; i++)
		if (need[i] > 0 && unable(problem, dose, i) != NULL)
			say_passed_over(problem, dose, i);
	for (size_t i = problem->n_sizes; i-- > 0;)
		if (need[i] > 0 && unable(problem, dose, problem->sizes[i].product) != NULL)
			need[i] = 0;
	return true;
}

static bool fill_dose(const struct supply_problem *problem, size_t index, struct search_dose *search)
{
	const struct dose *dose = problem->doses[index].dose;
	int64_t *need = arena_alloc(problem->arena, problem->n_sizes * sizeof *need);
	bool *get = arena_alloc(problem->arena, problem->n_sizes * sizeof *get);
	int64_t *at_once = arena_alloc(problem->arena, problem->n_sizes * sizeof *at_once);
	for (size_t i = 0; i < problem->n_sizes; i++)
		if (!fill_need(problem, dose, i, &need[i], &get[i]) || !fill_at_once(problem, dose, i, &at_once[i]))
			return false;
	if (!leave_out_unable(problem, dose, need, get))
		return false;
	*search = (struct search_dose){.need = need,
	                               .get = get,
	                               .at_once = at_once,
	                               .time = time_of(problem, dose),
	                               .day = dose->open ? dose->day : date_number(dose->clock_date),
	                               .calendar = calendar_of(problem, dose)};
	fill_twin(problem, index, search);
	return true;
}

static bool fill_doses(struct supply_problem *problem)
{
	struct search_dose *doses = arena_alloc(problem->arena, problem->n_doses * sizeof *doses);
	for (size_t i = 0; i < problem->n_doses; i++)
		if (!fill_dose(problem, i, &doses[i]))
			return false;
	problem->search.doses = problem->search_doses = doses;
	problem->search.n_doses = problem->n_doses;
	return true;
}

/* ---- what no product can serve ---- */

static bool stop_unit(const struct supply_problem *problem, const struct dose *dose, const struct supply_product *own)
{
	findings_add(problem->findings, FINDING_STOP, "unit-mismatch", dose->place,
	             "%s of %s cannot be turned into %s: there is no fixed factor between them; only a label's second "
	             "strength ('also_labelled') could say",
	             quantity_plain(problem->arena, dose->ordered, problem->plan->clinic->mark),
	             problem->medicine->name, unit_name(own->content.unit, false));
	return false;
}

/* Each dose has a product whose unit follows from the order's. */
static bool check_units(const struct supply_problem *problem)
{
	for (size_t i = 0; i < problem->n_doses; i++) {
		const struct dose *dose = problem->doses[i].dose;
		const struct supply_product *refused = NULL;
		bool served = false;
		bool get;
		for (size_t j = 0; j < problem->n_products; j++) {
			const struct supply_product *own = &problem->products[j];
			struct quantity need;
			if (!may_serve(problem->plan, dose, own->product, &get))
				continue;
			if (own_need(own, dose, &need))
				served = true;
			else if (refused == NULL)
				refused = own;
		}
		if (!served && refused != NULL)
			return stop_unit(problem, dose, refused);
		if (!served) {
			findings_add(problem->findings, FINDING_STOP, "no-product", dose->place,
			             "'%s' has no product that this dose may be given from; add one to the formulary",
			             problem->medicine->id);
			return false;
		}
	}
	return true;
}

/* ---- the whole ---- */

static bool find_scale(struct supply_problem *problem)
{
	problem->scale = 1;
	for (size_t i = 0; i < problem->n_sizes; i++)
		if (!take_into_scale(problem, &problem->products[problem->sizes[i].product],
		                     problem->sizes[i].content.number))
			return false;
	for (size_t i = 0; i < problem->n_products; i++) {
		const struct supply_product *own = &problem->products[i];
		struct quantity need;
		if (!take_into_scale(problem, own, own->loss.number) ||
		    !take_into_scale(problem, own, own->step.number) ||
		    !take_into_scale(problem, own, own->least.number))
			return false;
		for (size_t j = 0; j < problem->n_doses; j++)
			if (own_need(own, problem->doses[j].dose, &need) && !take_into_scale(problem, own, need.number))
				return false;
	}
	return true;
}

/* The search adds these up without looking again. */
static bool check_sums(const struct supply_problem *problem)
{
	int64_t sum = 0, most = 1, product;
	for (size_t i = 0; i < problem->n_sizes; i++) {
		const struct search_size *size = &problem->search.sizes[i];
		most = size->content > most ? size->content : most;
		for (size_t j = 0; j < size->n_lots; j++)
			if (__builtin_mul_overflow(size->content, size->lots[j].count, &product) ||
			    __builtin_add_overflow(sum, product, &sum))
				return overflow(problem);
	}
	for (size_t i = 0; i < problem->n_doses; i++)
		for (size_t j = 0; j < problem->n_sizes; j++)
			if (__builtin_add_overflow(sum, problem->search.doses[i].need[j], &sum))
				return overflow(problem);
	/* each dose opens at most one more than it needs, of each size in turn */
	if (__builtin_mul_overflow(most, (int64_t)(problem->n_doses * (problem->n_sizes + 1)), &product) ||
	    __builtin_add_overflow(sum, product, &sum) || sum > MOST_IN_ALL)
		return overflow(problem);
	return true;
}

bool supply_problem_make(struct supply_problem *problem, bool open_end)
{
	if (!list_products(problem))
		return false;
	for (size_t i = 0; i < problem->n_products; i++)
		if (!read_product(problem, &problem->products[i]))
			return false;
	if (!check_units(problem))
		return false;
	for (size_t i = 0; i < problem->n_products; i++)
		if (!find_factor(problem, &problem->products[i]))
			return false;
	problem->search.open_end = open_end;
	return list_sizes(problem) && find_scale(problem) && fill_sizes(problem) && fill_doses(problem) &&
	       check_sums(problem);
}
