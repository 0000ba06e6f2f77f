#include "plan/supply_past.h"

#include <string.h>

/* One container that was opened, or was open at the start. */
struct opened_before {
	const struct product *product; /* as the replaced plan has it */
	int64_t number;
	int size;
	int lot;
};

struct keeping {
	struct supply_problem *problem;
	int64_t **left;   /* of each lot of each size */
	int64_t *brought; /* by product: dispensed since the replaced sheet */
	struct opened_before *opened;
	size_t n_opened;
};

enum said_before { SAID_SAME, SAID_NOTHING, SAID_OTHERWISE };

static const struct search_size *size_at(const struct keeping *keeping, int size)
{
	return &keeping->problem->search.sizes[size];
}

/* ---- stock, then and now ---- */

static int64_t dispensed_before(const struct plan *plan, const char *product)
{
	int64_t count = 0;
	for (size_t i = 0; i < plan->n_dispensed; i++)
		if (strcmp(plan->dispensed[i].product->id, product) == 0)
			count += plan->dispensed[i].count.given ? plan->dispensed[i].count.number : 1;
	return count;
}

static void count_stock(struct keeping *keeping)
{
	const struct supply_problem *problem = keeping->problem;
	keeping->left = arena_alloc(problem->arena, problem->n_sizes * sizeof *keeping->left);
	keeping->brought = arena_alloc(problem->arena, problem->n_products * sizeof *keeping->brought);
	for (size_t i = 0; i < problem->n_sizes; i++) {
		const struct search_size *size = &problem->search.sizes[i];
		keeping->left[i] = arena_alloc(problem->arena, (size->n_lots + 1) * sizeof **keeping->left);
		for (size_t j = 0; j < size->n_lots; j++)
			keeping->left[i][j] = size->lots[j].count;
	}
	for (size_t i = 0; i < problem->n_products; i++)
		keeping->brought[i] = problem->products[i].dispensed -
		                      dispensed_before(problem->before->plan, problem->products[i].product->id);
}

static int take_lot(struct keeping *keeping, int size, int64_t from, int64_t until)
{
	const struct search_size *record = size_at(keeping, size);
	for (size_t i = 0; i < record->n_lots; i++) {
		if (record->lots[i].expires < from || record->lots[i].expires > until || keeping->left[size][i] == 0)
			continue;
		keeping->left[size][i]--;
		return (int)i;
	}
	return -1;
}

/* The same lot; else what lasts until the day. One that was still to get came with what was dispensed since. */
static int lot_of(struct keeping *keeping, const struct container_use *use, int size, int64_t day)
{
	int64_t expires = use->has_expiry ? date_number(use->expires) : SEARCH_NEVER;
	if (!use->in_hand && keeping->brought[size] <= 0)
		return -1;
	if (!use->in_hand) {
		keeping->brought[size]--;
		return take_lot(keeping, size, day, SEARCH_NEVER);
	}
	int lot = take_lot(keeping, size, expires, expires);
	return lot >= 0 ? lot : take_lot(keeping, size, day, SEARCH_NEVER);
}

/* ---- one container ---- */

static int product_of(const struct keeping *keeping, const struct product *product)
{
	for (size_t i = 0; i < keeping->problem->n_products; i++)
		if (strcmp(keeping->problem->products[i].product->id, product->id) == 0)
			return (int)i;
	return -1;
}

static const struct opened_before *find_opened(const struct keeping *keeping, const struct container_use *use)
{
	for (size_t i = 0; i < keeping->n_opened; i++)
		if (keeping->opened[i].product == use->product && keeping->opened[i].number == use->number)
			return &keeping->opened[i];
	return NULL;
}

static void add_opened(struct keeping *keeping, const struct container_use *use, const struct search_done *done)
{
	keeping->opened =
		arena_more(keeping->problem->arena, keeping->opened, keeping->n_opened, sizeof *keeping->opened);
	keeping->opened[keeping->n_opened++] = (struct opened_before){use->product, use->number, done->size, done->lot};
}

/* The part-used one of the stock that held `content`. */
static bool take_part_used(struct keeping *keeping, int product, int64_t content, struct search_done *done)
{
	for (size_t i = 0; i < keeping->problem->n_sizes; i++) {
		const struct search_size *size = &keeping->problem->search.sizes[i];
		if (!size->part_used || size->product != product || size->content != content ||
		    keeping->left[i][0] == 0)
			continue;
		keeping->left[i][0]--;
		done->size = (int)i;
		done->lot = 0;
		done->opens = keeping->problem->search.open != (int)i;
		return true;
	}
	return false;
}

static bool keep_use(struct keeping *keeping, const struct container_use *use, int64_t day, struct search_done *done)
{
	int product = product_of(keeping, use->product);
	*done = (struct search_done){.stays = use->then == THEN_KEEP};
	if (product < 0 || !supply_number(keeping->problem, (size_t)product, use->takes.number, &done->amount) ||
	    !supply_number(keeping->problem, (size_t)product, use->lost.number, &done->lost) ||
	    !supply_number(keeping->problem, (size_t)product, use->leaves.number, &done->leaves))
		return false;
	int64_t content = done->amount + done->lost + done->leaves;
	const struct opened_before *known = find_opened(keeping, use);
	if (known != NULL) {
		done->size = known->size;
		done->lot = known->lot;
		return true;
	}
	if (use->opens) {
		done->opens = true;
		done->size = product; /* the size that is got stands where its product does */
		done->lot = lot_of(keeping, use, product, day);
		if (size_at(keeping, product)->content != content)
			return false;
	} else if (!take_part_used(keeping, product, content, done)) {
		return false;
	}
	add_opened(keeping, use, done);
	return true;
}

/* ---- one dose ---- */

/* A dose given at two places draws twice from the same containers: that is told as one. */
static bool same_container(const struct draw *draw, const struct draw *before, size_t index)
{
	return index < before->n_containers && !draw->containers[index].opens &&
	       draw->containers[index].product == before->containers[index].product &&
	       draw->containers[index].number == before->containers[index].number;
}

static void add_to(struct search_done *whole, const struct search_done *part)
{
	whole->amount += part->amount;
	whole->lost += part->lost;
	whole->leaves = part->leaves;
	whole->stays = part->stays;
}

static bool keep_dose(struct keeping *keeping, size_t index, const struct dose *earlier)
{
	struct search_dose *search = &keeping->problem->search_doses[index];
	struct search_done *done = NULL;
	size_t n = 0, first = 0;
	int64_t sum = 0;
	for (size_t i = 0; i < earlier->n_draws; i++) {
		const struct draw *draw = &earlier->draws[i];
		bool again = i > 0 && draw->n_containers > 0 && same_container(draw, draw - 1, 0);
		first = again ? first : n;
		for (size_t j = 0; j < draw->n_containers; j++) {
			struct search_done part;
			if (!keep_use(keeping, &draw->containers[j], search->calendar, &part))
				return false;
			sum += part.amount;
			if (again && same_container(draw, draw - 1, j)) {
				add_to(&done[first + j], &part);
				continue;
			}
			part.joins = j > 0;
			done = arena_more(keeping->problem->arena, done, n, sizeof *done);
			done[n++] = part;
		}
	}
	if (n == 0 || search->need[done[0].size] != sum)
		return false;
	search->done = done;
	search->n_done = n;
	return true;
}

static const struct dose *dose_at(const struct course *before, const struct dose *dose)
{
	for (size_t i = 0; i < before->n_doses; i++) {
		const struct dose *other = &before->doses[i];
		if (!other->open && other->when == dose->when && strcmp(other->item->id, dose->item->id) == 0)
			return other;
	}
	return NULL;
}

static const struct item_run *run_of(const struct course *before, const char *item)
{
	for (size_t i = 0; i < before->n_runs; i++)
		if (strcmp(before->runs[i].item->id, item) == 0)
			return &before->runs[i];
	return NULL;
}

/* Its days were not known: they hung on a call, or on an event without a date. */
static bool days_were_open(const struct course *before, const struct dose *dose)
{
	const struct item_run *run = run_of(before, dose->item->id);
	if (run == NULL)
		return false;
	if (run->open || (run->unless_sooner && date_compare(dose->date, run->first) < 0))
		return true;
	return run->end != ITEM_ENDS && date_compare(dose->date, run->last) > 0;
}

static enum said_before keep_said(struct keeping *keeping, size_t index)
{
	const struct supply_dose *served = &keeping->problem->doses[index];
	const struct dose *earlier = dose_at(keeping->problem->before, served->dose);
	if (earlier == NULL)
		return days_were_open(keeping->problem->before, served->dose) ? SAID_NOTHING : SAID_OTHERWISE;
	if (served->assumed || earlier->amount != DOSE_STATED)
		return SAID_NOTHING;
	if (!quantity_same(earlier->ordered, served->dose->ordered))
		return SAID_OTHERWISE;
	if (earlier->n_draws == 0)
		return SAID_NOTHING;
	return keep_dose(keeping, index, earlier) ? SAID_SAME : SAID_OTHERWISE;
}

/* ---- contradictions ---- */

static void say_changed(const struct supply_problem *problem, const struct dose *dose, struct place place)
{
	const char *at =
		dose->has_time ? arena_printf(problem->arena, " at %s", clock_print(problem->arena, dose->time)) : "";
	findings_add(problem->findings, FINDING_CAUTION, "past-changed", place,
	             "the sheet that this plan replaces says otherwise of the dose of '%s' on %s%s, which is past; the "
	             "containers of %s are counted as this plan has it, so check what was given and what is in use",
	             dose->item->id, date_print(problem->arena, dose->date), at, problem->medicine->name);
}

static void forget_past(const struct supply_problem *problem)
{
	for (size_t i = 0; i < problem->n_doses; i++)
		problem->search_doses[i].n_done = 0;
}

static bool is_planned(const struct supply_problem *problem, const struct dose *earlier)
{
	for (size_t i = 0; i < problem->n_doses; i++) {
		const struct dose *dose = problem->doses[i].dose;
		if (!dose->open && dose->when == earlier->when && strcmp(dose->item->id, earlier->item->id) == 0)
			return true;
	}
	return false;
}

/* A past dose that the sheet before had and this plan has not; one whose end was open may have ended. */
static const struct dose *find_gone(const struct supply_problem *problem)
{
	const struct course *before = problem->before;
	for (size_t i = 0; i < before->n_doses; i++) {
		const struct dose *dose = before->by_time[i];
		if (dose->open || dose->amount != DOSE_STATED ||
		    strcmp(dose->item->medicine->id, problem->medicine->id) != 0 ||
		    date_compare(dose->date, problem->plan->as_of.date) >= 0 || is_planned(problem, dose))
			continue;
		const struct item_run *run = run_of(before, dose->item->id);
		if (run == NULL || run->end == ITEM_ENDS)
			return dose;
	}
	return NULL;
}

/* How many of the first doses can have been given so, one after the other. */
static size_t count_possible(const struct supply_problem *problem, size_t n_kept)
{
	struct search_problem past = problem->search;
	struct search_result result;
	for (size_t n = n_kept; n > 0; n--) {
		past.n_doses = n;
		if (search_best(problem->arena, &past, &search_usual_limits, &result) != SEARCH_NONE)
			return n;
	}
	return 0;
}

static bool is_past(const struct supply_dose *served)
{
	return served->dated && served->dose->done;
}

void supply_past_keep(struct supply_problem *problem)
{
	if (problem->before == NULL)
		return;
	struct keeping keeping = {.problem = problem};
	enum said_before said = SAID_SAME;
	size_t kept = 0;
	count_stock(&keeping);
	while (kept < problem->n_doses && is_past(&problem->doses[kept])) {
		said = keep_said(&keeping, kept);
		if (said != SAID_SAME)
			break;
		kept++;
	}
	const struct dose *gone = find_gone(problem);
	size_t possible = said == SAID_OTHERWISE ? kept : count_possible(problem, kept);
	if (said != SAID_OTHERWISE && possible == kept && gone == NULL)
		return;
	const struct dose *first = said == SAID_OTHERWISE || possible < kept ? problem->doses[possible].dose : NULL;
	if (first == NULL || (gone != NULL && gone->when < first->when))
		say_changed(problem, gone, problem->plan->replaces.place);
	else
		say_changed(problem, first, first->place);
	forget_past(problem);
}
