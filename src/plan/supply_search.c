/*
 * supply_search.c - dose by dose, the best way to reach each state.
 *
 * Two plans that are in the same state after a dose can go on in the same ways, so only the better one is kept: the
 * costs are sums, and what is opened is compared from the first container on. Layer after layer this looks at every
 * state that can be part of a best plan, so what remains at the end is the best of all, and not a good one.
 *
 *     state: what is open, how much is in it, until when; how many of each lot are used; the product last taken from
 *
 * A first run keeps only the most promising states of a layer. Where it never had to drop one, it was complete.
 * Otherwise its plan is one that is possible, and bounds a second, complete run: what cannot become better, by
 * supply_bounds.h, is left out.
 *
 * A lot that has expired before the next dose counts as used: states that differ in nothing else are one.
 */
#include "plan/supply_search.h"

#include "plan/supply_bounds.h"
#include "plan/supply_moves.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

const struct search_limits search_usual_limits = {.most_states = 1000000, .promising = 600};

enum { NO_NODE = UINT32_MAX };

struct node {
	struct supply_state state;
	struct search_cost cost;
	uint32_t parent;
	uint32_t codes; /* of what its dose opened: where they begin ... */
	uint16_t n_codes;
	bool dropped;
};

/* One opened container, for the comparison of two plans that cost the same. */
struct code {
	int16_t size;
	int16_t lot;
};

struct search {
	struct supply_moves moves; /* first: `found` gets back from it to the search */
	const struct search_problem *problem;
	const struct supply_bounds *bounds;
	size_t n_lots;
	uint16_t *used;
	uint16_t *used_then; /* the same, without what does not matter any more */
	size_t promising;
	size_t most_states; /* of the run that is on */
	bool too_many;
	struct search_cost bound;
	const struct search_cost *possible; /* the bound: what a plan that is known costs; NULL: none is known */

	struct node *nodes;
	size_t n_nodes, room_for_nodes;
	uint16_t *used_of_nodes;
	struct code *codes;
	size_t n_codes, room_for_codes;
	size_t *layers; /* where each begins; the start is layer 0 */
	uint32_t *table;
	size_t table_size;
	size_t table_count;
	uint32_t parent;
	struct code *left_codes, *right_codes;
	size_t room_to_compare;

	/* while the best plan is told again */
	const struct node *wanted;
	const uint16_t *wanted_used;
	struct search_take *told;
	size_t n_told;
};

static void *grown(void *items, size_t *room, size_t needed, size_t item_size)
{
	if (needed <= *room && items)
		return items;
	size_t more = *room < 64 ? 64 : *room * 2;
	more = more < needed ? needed : more;
	void *larger = realloc(items, more * item_size);
	if (!larger)
		out_of_memory();
	*room = more;
	return larger;
}

static void *zeroed(size_t count, size_t size)
{
	void *memory = calloc(count + 1, size);
	if (!memory)
		out_of_memory();
	return memory;
}

/* ---- costs and ties ---- */

static int compare(int64_t a, int64_t b)
{
	return a < b ? -1 : a > b;
}

int search_cost_compare(const struct search_cost *a, const struct search_cost *b)
{
	if (a->get != b->get)
		return compare(a->get, b->get);
	if (a->wasted != b->wasted)
		return compare(a->wasted, b->wasted);
	if (a->changes != b->changes)
		return compare(a->changes, b->changes);
	if (a->injections != b->injections)
		return compare(a->injections, b->injections);
	return compare(a->opened, b->opened);
}

/* In hand by expiry, those that never expire after them, those to be got last. */
static int compare_expiries(const struct search *search, struct code a, struct code b)
{
	if ((a.lot < 0) != (b.lot < 0))
		return a.lot < 0 ? 1 : -1;
	if (a.lot < 0)
		return 0;
	const struct search_size *sizes = search->problem->sizes;
	return compare(sizes[a.size].lots[a.lot].expires, sizes[b.size].lots[b.lot].expires);
}

/* All that is opened on the way to a node, in order, into `codes`. */
static void codes_to(const struct search *search, uint32_t parent, const struct code *own, size_t n_own, size_t total,
                     struct code *codes)
{
	memcpy(codes + total - n_own, own, n_own * sizeof *codes);
	total -= n_own;
	for (; parent != NO_NODE; parent = search->nodes[parent].parent) {
		const struct node *node = &search->nodes[parent];
		memcpy(codes + total - node->n_codes, search->codes + node->codes, node->n_codes * sizeof *codes);
		total -= node->n_codes;
	}
	assert(total == 0);
}

/* Compares two plans of one cost by what they open: both open the same number. */
static int compare_codes(const struct search *search, size_t n)
{
	const struct search_size *sizes = search->problem->sizes;
	int difference = 0;
	for (size_t i = 0; i < n && difference == 0; i++)
		difference = compare_expiries(search, search->left_codes[i], search->right_codes[i]);
	for (size_t i = 0; i < n && difference == 0; i++)
		difference =
			compare(sizes[search->left_codes[i].size].product, sizes[search->right_codes[i].size].product);
	return difference;
}

static bool opens_better(struct search *search, const struct code *own, size_t n_own, const struct node *than)
{
	size_t total = (size_t)than->cost.opened;
	if (total > search->room_to_compare || !search->left_codes) {
		size_t room = search->room_to_compare;
		search->left_codes = grown(search->left_codes, &room, total + 1, sizeof *search->left_codes);
		search->right_codes =
			grown(search->right_codes, &search->room_to_compare, total + 1, sizeof *search->right_codes);
	}
	codes_to(search, search->parent, own, n_own, total, search->left_codes);
	codes_to(search, than->parent, search->codes + than->codes, than->n_codes, total, search->right_codes);
	return compare_codes(search, total) < 0;
}

/* ---- states already reached ---- */

static uint64_t mixed(uint64_t hash, uint64_t value)
{
	hash = (hash ^ value) * UINT64_C(0x9e3779b97f4a7c15);
	return hash ^ (hash >> 29);
}

static uint64_t hash_of(const struct search *search, const struct supply_state *state, const uint16_t *used)
{
	uint64_t hash = mixed(0, (uint64_t)state->rest);
	hash = mixed(hash, (uint64_t)state->until);
	hash = mixed(hash, (uint64_t)state->expires);
	hash = mixed(hash, (uint64_t)(state->open + 1) << 32 | (uint64_t)(state->time + 1));
	hash = mixed(hash, (uint64_t)(state->product + 1) << 1 | state->waits);
	for (size_t i = 0; i < search->n_lots; i++)
		hash = mixed(hash, used[i]);
	return hash;
}

static bool same_state(const struct supply_state *a, const struct supply_state *b)
{
	return a->rest == b->rest && a->until == b->until && a->expires == b->expires && a->open == b->open &&
	       a->time == b->time && a->product == b->product && a->waits == b->waits;
}

static bool same_used(const struct search *search, const uint16_t *a, const uint16_t *b)
{
	return memcmp(a, b, search->n_lots * sizeof *a) == 0;
}

static const uint16_t *used_of(const struct search *search, size_t node)
{
	return search->used_of_nodes + node * search->n_lots;
}

static size_t slot_of(const struct search *search, const struct supply_state *state, const uint16_t *used)
{
	size_t slot = (size_t)hash_of(search, state, used) & (search->table_size - 1);
	while (search->table[slot] != NO_NODE) {
		uint32_t node = search->table[slot];
		if (same_state(&search->nodes[node].state, state) && same_used(search, used_of(search, node), used))
			return slot;
		slot = (slot + 1) & (search->table_size - 1);
	}
	return slot;
}

static void clear_table(struct search *search)
{
	for (size_t i = 0; i < search->table_size; i++)
		search->table[i] = NO_NODE;
	search->table_count = 0;
}

static void enlarge_table(struct search *search)
{
	size_t first = search->n_nodes - search->table_count;
	search->table_size *= 2;
	free(search->table);
	search->table = zeroed(search->table_size, sizeof *search->table);
	size_t count = search->table_count;
	clear_table(search);
	search->table_count = count;
	for (size_t i = first; i < search->n_nodes; i++)
		search->table[slot_of(search, &search->nodes[i].state, used_of(search, i))] = (uint32_t)i;
}

/* ---- one layer from the one before ---- */

static size_t codes_of_takes(const struct search *search, struct code codes[SUPPLY_MOST_TAKES])
{
	size_t n = 0;
	for (size_t i = 0; i < search->moves.n_takes; i++)
		if (search->moves.takes[i].opens)
			codes[n++] = (struct code){(int16_t)search->moves.takes[i].size,
			                           (int16_t)search->moves.takes[i].lot};
	return n;
}

static void fill_node(struct search *search, struct node *node, const struct supply_move *move,
                      const struct code *codes, size_t n_codes)
{
	search->codes = grown(search->codes, &search->room_for_codes, search->n_codes + n_codes, sizeof *search->codes);
	if (n_codes > 0) /* even of nothing, a copy from nowhere is undefined */
		memcpy(search->codes + search->n_codes, codes, n_codes * sizeof *codes);
	*node = (struct node){.state = move->state,
	                      .cost = move->cost,
	                      .parent = search->parent,
	                      .codes = (uint32_t)search->n_codes,
	                      .n_codes = (uint16_t)n_codes};
	search->n_codes += n_codes;
}

static size_t add_node(struct search *search)
{
	if (search->n_nodes == search->room_for_nodes) {
		search->nodes =
			grown(search->nodes, &search->room_for_nodes, search->n_nodes + 1, sizeof *search->nodes);
		search->used_of_nodes = realloc(search->used_of_nodes, (search->room_for_nodes * search->n_lots + 1) *
		                                                               sizeof *search->used_of_nodes);
		if (!search->used_of_nodes)
			out_of_memory();
	}
	memcpy(search->used_of_nodes + search->n_nodes * search->n_lots, search->used_then,
	       search->n_lots * sizeof *search->used);
	return search->n_nodes++;
}

/* The last dose is served: what is left counts, but where the end is open. */
static void count_what_is_left(const struct search *search, struct supply_move *move)
{
	if (search->problem->open_end)
		return;
	if (move->state.open >= 0)
		move->cost.wasted += move->state.rest;
	for (size_t i = 0; i < search->problem->n_sizes; i++)
		if (search->problem->sizes[i].part_used && search->used[search->bounds->first_lot[i]] == 0)
			move->cost.wasted += search->problem->sizes[i].content;
}

static void keep_better(struct search *search, const struct supply_move *found)
{
	struct supply_move move = *found;
	size_t next = search->moves.dose + 1;
	if (next == search->problem->n_doses)
		count_what_is_left(search, &move);
	supply_forget_expired(search->bounds, next, search->used, search->used_then);
	struct search_cost least =
		supply_least_cost(search->bounds, next, &move.state, move.cost, search->used_then, search->possible);
	if (search->possible && search_cost_compare(&least, search->possible) > 0)
		return;
	struct code codes[SUPPLY_MOST_TAKES];
	size_t n_codes = codes_of_takes(search, codes);
	size_t slot = slot_of(search, &move.state, search->used_then);
	if (search->table[slot] != NO_NODE) {
		struct node *node = &search->nodes[search->table[slot]];
		int difference = search_cost_compare(&move.cost, &node->cost);
		if (difference < 0 || (difference == 0 && opens_better(search, codes, n_codes, node)))
			fill_node(search, node, &move, codes, n_codes);
		return;
	}
	if (search->n_nodes >= search->most_states) {
		search->too_many = true;
		return;
	}
	size_t node = add_node(search);
	search->table[slot] = (uint32_t)node;
	fill_node(search, &search->nodes[node], &move, codes, n_codes);
	if (++search->table_count * 2 > search->table_size)
		enlarge_table(search);
}

static void tell(struct search *search, const struct supply_move *found)
{
	struct supply_move move = *found;
	const struct node *wanted = search->wanted;
	struct code codes[SUPPLY_MOST_TAKES];
	if (search->moves.dose + 1 == search->problem->n_doses)
		count_what_is_left(search, &move);
	supply_forget_expired(search->bounds, search->moves.dose + 1, search->used, search->used_then);
	if (search->n_told > 0 || !same_state(&move.state, &wanted->state) ||
	    search_cost_compare(&move.cost, &wanted->cost) != 0 ||
	    !same_used(search, search->used_then, search->wanted_used) ||
	    codes_of_takes(search, codes) != wanted->n_codes ||
	    memcmp(codes, search->codes + wanted->codes, wanted->n_codes * sizeof *codes) != 0)
		return;
	search->n_told = search->moves.n_takes;
	memcpy(search->told, search->moves.takes, search->n_told * sizeof *search->told);
}

static void found_move(struct supply_moves *moves, const struct supply_move *move)
{
	struct search *search = (struct search *)moves;
	if (search->wanted)
		tell(search, move);
	else
		keep_better(search, move);
}

static void moves_from(struct search *search, size_t dose, uint32_t node)
{
	search->moves.dose = dose;
	search->parent = node;
	memcpy(search->used, used_of(search, node), search->n_lots * sizeof *search->used);
	struct node from = search->nodes[node];
	supply_moves_of(&search->moves, &from.state, &from.cost);
}

/* ---- the first run's choice ---- */

struct promise {
	struct search_cost least;
	uint32_t node;
};

static int compare_promises(const void *left, const void *right)
{
	const struct promise *a = left;
	const struct promise *b = right;
	int difference = search_cost_compare(&a->least, &b->least);
	return difference ? difference : compare(a->node, b->node);
}

/* True when states had to be dropped. */
static bool keep_promising(struct search *search, size_t next, size_t first)
{
	size_t n = search->n_nodes - first;
	if (n <= search->promising)
		return false;
	struct promise *promises = zeroed(n, sizeof *promises);
	for (size_t i = 0; i < n; i++) {
		const struct node *node = &search->nodes[first + i];
		promises[i] = (struct promise){supply_least_cost(search->bounds, next, &node->state, node->cost,
		                                                 used_of(search, first + i), search->possible),
		                               (uint32_t)(first + i)};
	}
	qsort(promises, n, sizeof *promises, compare_promises);
	for (size_t i = search->promising; i < n; i++)
		search->nodes[promises[i].node].dropped = true;
	free(promises);
	return true;
}

/* ---- a run ---- */

static void start(struct search *search)
{
	const struct search_problem *problem = search->problem;
	search->n_nodes = search->n_codes = 0;
	memset(search->used, 0, search->n_lots * sizeof *search->used);
	struct supply_move move = {.state = {.until = SEARCH_NEVER,
	                                     .expires = SEARCH_NEVER,
	                                     .open = problem->open,
	                                     .time = -1,
	                                     .product = -1},
	                           .from = -1};
	if (problem->open >= 0) {
		const struct search_size *size = &problem->sizes[problem->open];
		assert(size->part_used && size->n_lots == 1 && size->lots[0].count == 1);
		move.state.rest = size->content;
		move.state.product = size->product;
		move.state.expires = size->lots[0].expires;
		if (size->part_used_until != SEARCH_NEVER) {
			move.state.time = SEARCH_DATED;
			move.state.until = size->part_used_until;
		}
		search->used[search->bounds->first_lot[problem->open]] = 1;
	}
	search->parent = NO_NODE;
	supply_forget_expired(search->bounds, 0, search->used, search->used_then);
	size_t node = add_node(search);
	fill_node(search, &search->nodes[node], &move, NULL, 0);
}

/* Fills layer after layer. `complete` turns false where the first run had to drop states. */
static void run(struct search *search, bool first_run, bool *complete)
{
	size_t n_doses = search->problem->n_doses;
	start(search);
	search->layers[0] = 0;
	*complete = true;
	for (size_t dose = 0; dose < n_doses && !search->too_many; dose++) {
		size_t end = search->n_nodes;
		search->layers[dose + 1] = end;
		clear_table(search);
		for (size_t node = search->layers[dose]; node < end && !search->too_many; node++)
			if (!search->nodes[node].dropped)
				moves_from(search, dose, (uint32_t)node);
		if (first_run && keep_promising(search, dose + 1, end))
			*complete = false;
	}
}

/* The best state after the last dose, or NO_NODE. */
static uint32_t best_end(struct search *search)
{
	uint32_t best = NO_NODE;
	for (size_t i = search->layers[search->problem->n_doses]; i < search->n_nodes; i++) {
		const struct node *node = &search->nodes[i];
		if (best == NO_NODE) {
			best = (uint32_t)i;
			continue;
		}
		int difference = search_cost_compare(&node->cost, &search->nodes[best].cost);
		search->parent = node->parent;
		if (difference < 0 || (difference == 0 && opens_better(search, search->codes + node->codes,
		                                                       node->n_codes, &search->nodes[best])))
			best = (uint32_t)i;
	}
	return best;
}

/* ---- the answer ---- */

/* Which take came out of which container: new ones are numbered, others come out of the one that is open. */
static void number_containers(struct search_take *takes, size_t n, const struct node *after, int *open, int *count)
{
	int stays = -1;
	for (size_t i = 0; i < n; i++) {
		takes[i].container = takes[i].opens ? (*count)++ : *open;
		if (takes[i].opens && takes[i].leaves > 0 && after->state.open >= 0)
			stays = takes[i].container;
	}
	if (stays >= 0)
		*open = stays;
}

static void mark_last(struct search_take *takes, size_t n)
{
	for (size_t i = 0; i < n; i++) {
		bool later = false;
		for (size_t j = i + 1; j < n && !later; j++)
			later = takes[j].container == takes[i].container;
		takes[i].last = !later;
		for (size_t j = 0; j < i && !takes[i].opens; j++)
			if (takes[j].container == takes[i].container)
				takes[i].lot = takes[j].lot;
	}
}

static void tell_plan(struct arena *arena, struct search *search, uint32_t end, struct search_result *result)
{
	size_t n_doses = search->problem->n_doses;
	uint32_t *path = arena_alloc(arena, (n_doses + 1) * sizeof *path);
	size_t *first = arena_alloc(arena, (n_doses + 1) * sizeof *first);
	struct search_take *takes = NULL;
	struct search_take told[SUPPLY_MOST_TAKES];
	size_t n_takes = 0;
	int open = search->problem->open >= 0 ? 0 : -1;
	int count = open + 1;
	for (size_t i = n_doses + 1; i-- > 0; end = search->nodes[end].parent)
		path[i] = end;
	search->told = told;
	for (size_t dose = 0; dose < n_doses; dose++) {
		search->wanted = &search->nodes[path[dose + 1]];
		search->wanted_used = used_of(search, path[dose + 1]);
		search->n_told = 0;
		moves_from(search, dose, path[dose]);
		assert(search->n_told > 0);
		number_containers(told, search->n_told, search->wanted, &open, &count);
		first[dose] = n_takes;
		for (size_t i = 0; i < search->n_told; i++) {
			takes = arena_more(arena, takes, n_takes, sizeof *takes);
			takes[n_takes++] = told[i];
		}
	}
	first[n_doses] = n_takes;
	mark_last(takes, n_takes);
	const struct node *last = &search->nodes[path[n_doses]];
	result->cost = last->cost;
	result->takes = takes;
	result->n_takes = n_takes;
	result->first = first;
	result->open = last->state.open;
	result->left = last->state.open >= 0 ? last->state.rest : 0;
}

static void prepare(struct arena *arena, struct search *search)
{
	const struct search_problem *problem = search->problem;
	const struct supply_bounds *bounds = supply_bounds_of(arena, problem);
	search->bounds = bounds;
	search->n_lots = bounds->n_lots;
	search->layers = zeroed(problem->n_doses + 1, sizeof *search->layers);
	search->table_size = 1024;
	search->table = zeroed(search->table_size, sizeof *search->table);
	search->used = zeroed(search->n_lots, sizeof *search->used);
	search->used_then = zeroed(search->n_lots, sizeof *search->used_then);
	search->moves.problem = problem;
	search->moves.first_lot = bounds->first_lot;
	search->moves.sure = bounds->sure;
	search->moves.alike = bounds->alike;
	search->moves.later_is_as_good = bounds->later_is_as_good;
	search->moves.mixes = bounds->mixes;
	search->moves.horizon = bounds->horizon;
	search->moves.used = search->used;
	search->moves.found = found_move;
}

static void clean_up(struct search *search)
{
	free(search->used_then);
	free(search->layers);
	free(search->table);
	free(search->used);
	free(search->nodes);
	free(search->used_of_nodes);
	free(search->codes);
	free(search->left_codes);
	free(search->right_codes);
	free(search);
}

static enum search_outcome search_twice(struct search *search, size_t most_states, uint32_t *end)
{
	bool complete;
	search->most_states = SIZE_MAX;
	run(search, true, &complete);
	*end = best_end(search);
	if (!complete) {
		if (*end != NO_NODE) {
			search->bound = search->nodes[*end].cost;
			search->possible = &search->bound;
		}
		search->most_states = most_states;
		run(search, false, &complete);
		if (search->too_many)
			return SEARCH_TOO_MANY;
		*end = best_end(search);
	}
	return *end == NO_NODE ? SEARCH_NONE : SEARCH_FOUND;
}

enum search_outcome search_best(struct arena *arena, const struct search_problem *problem,
                                const struct search_limits *limits, struct search_result *result)
{
	struct search *search = zeroed(1, sizeof *search);
	search->problem = problem;
	search->promising = limits->promising;
	prepare(arena, search);
	enum search_outcome outcome = SEARCH_TOO_MANY;
	uint32_t end = NO_NODE;
	if (search->n_lots <= SEARCH_MOST_LOTS)
		outcome = search_twice(search, limits->most_states, &end);
	if (outcome == SEARCH_FOUND)
		tell_plan(arena, search, end, result);
	clean_up(search);
	return outcome;
}
