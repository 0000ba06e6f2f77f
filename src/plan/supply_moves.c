#include "plan/supply_moves.h"

static const struct search_size *size_at(const struct supply_moves *moves, int size)
{
	return &moves->problem->sizes[size];
}

static const struct search_dose *dose_now(const struct supply_moves *moves)
{
	return &moves->problem->doses[moves->dose];
}

static int64_t smaller(int64_t a, int64_t b)
{
	return a < b ? a : b;
}

static int64_t ceiling(int64_t amount, int64_t by)
{
	return amount / by + (amount % by > 0);
}

/* ---- injections ---- */

/* More than one place takes is drawn and given twice, from the same containers. */
static int64_t draws_for(const struct search_dose *dose, int size, int64_t amount)
{
	return dose->at_once[size] > 0 && amount > dose->at_once[size] ? 2 : 1;
}

/* The first draw from a container may lose more than those after it. */
static int64_t lost_with(const struct supply_moves *moves, const struct search_dose *dose, int size, int64_t amount,
                         bool opens)
{
	const struct search_size *record = size_at(moves, size);
	int64_t more = draws_for(dose, size, amount) - 1;
	return (opens ? record->loss : record->loss_again) + more * record->loss_again;
}

/* ---- what is open ---- */

static void throw_away(struct supply_move *move)
{
	if (move->state.open >= 0)
		move->cost.wasted += move->state.rest;
	move->state.open = -1;
	move->state.rest = 0;
	move->state.until = SEARCH_NEVER;
	move->state.expires = SEARCH_NEVER;
	move->state.time = -1;
	move->state.waits = false;
}

static bool open_is_usable(const struct supply_moves *moves, const struct supply_state *state)
{
	const struct search_dose *dose = dose_now(moves);
	return state->open >= 0 && dose->need[state->open] > 0 && dose->calendar <= state->expires &&
	       (state->time < 0 || (state->time == dose->time && dose->day <= state->until));
}

/* ---- one container more for the dose ---- */

static bool joins_the_last(const struct supply_moves *moves, const struct search_size *size)
{
	return moves->n_takes > 0 && size->counted &&
	       size_at(moves, moves->takes[moves->n_takes - 1].size)->product == size->product;
}

static void add_take(struct supply_moves *moves, struct supply_move *move, struct search_take take)
{
	int product = size_at(moves, take.size)->product;
	move->cost.injections += !take.joins;
	move->cost.changes += move->state.product >= 0 && move->state.product != product;
	move->cost.wasted += take.lost;
	move->state.product = product;
	moves->takes[moves->n_takes++] = take;
}

static bool has_room(const struct supply_moves *moves, int64_t takes)
{
	return takes <= SUPPLY_MOST_TAKES - (int64_t)moves->n_takes;
}

static void take_from_open(struct supply_moves *moves, struct supply_move *move, int64_t amount, int64_t lost)
{
	const struct search_size *size = size_at(moves, move->state.open);
	move->state.rest -= amount + lost;
	move->cost.injections += draws_for(dose_now(moves), move->state.open, amount) - 1;
	add_take(moves, move,
	         (struct search_take){.size = move->state.open,
	                              .amount = amount,
	                              .lost = lost,
	                              .leaves = move->state.rest,
	                              .twin = move->state.waits,
	                              .joins = joins_the_last(moves, size)});
	if (move->state.rest == 0)
		throw_away(move);
}

static void open_one(struct supply_moves *moves, struct supply_move *move, int size, int lot, int64_t amount,
                     int64_t lost, bool joins)
{
	int64_t content = size_at(moves, size)->content;
	move->cost.opened++;
	if (lot < 0)
		move->cost.get += content;
	else
		moves->used[moves->first_lot[size] + (size_t)lot]++;
	add_take(moves, move,
	         (struct search_take){.size = size,
	                              .lot = lot,
	                              .amount = amount,
	                              .lost = lost,
	                              .leaves = content - amount - lost,
	                              .opens = true,
	                              .joins = joins});
}

/* Takes back all takes but the first `n`. */
static void undo(struct supply_moves *moves, size_t n)
{
	while (moves->n_takes > n) {
		const struct search_take *take = &moves->takes[--moves->n_takes];
		if (take->opens && take->lot >= 0)
			moves->used[moves->first_lot[take->size] + (size_t)take->lot]--;
	}
}

/* ---- which lot ---- */

static bool in_hand(const struct supply_moves *moves, int size, size_t lot)
{
	return moves->used[moves->first_lot[size] + lot] < size_at(moves, size)->lots[lot].count;
}

/* The soonest to expire of those that last until `day`, or -1. */
static int soonest_lot(const struct supply_moves *moves, int size, int64_t day)
{
	const struct search_size *record = size_at(moves, size);
	for (size_t i = 0; i < record->n_lots; i++)
		if (record->lots[i].expires >= day && in_hand(moves, size, i))
			return (int)i;
	return -1;
}

static int64_t count_in_hand(const struct supply_moves *moves, int size, int64_t most)
{
	const struct search_size *record = size_at(moves, size);
	int64_t count = 0;
	for (size_t i = 0; i < record->n_lots && count < most; i++)
		if (record->lots[i].expires >= dose_now(moves)->calendar)
			count += record->lots[i].count - moves->used[moves->first_lot[size] + i];
	return smaller(count, most);
}

/*
 * True when a new one of which this dose takes `amount` is used up before a dose later than `day`: it would serve each
 * dose until then alone, as one is open at a time.
 */
static bool used_up_by(const struct supply_moves *moves, int size, int64_t amount, int64_t day)
{
	const struct search_problem *problem = moves->problem;
	for (size_t i = moves->dose + 1; i < problem->n_doses && problem->doses[i].calendar <= day; i++) {
		amount += problem->doses[i].need[size];
		if (problem->doses[i].need[size] == 0 || amount >= problem->sizes[size].content)
			return true;
	}
	return amount >= problem->sizes[size].content;
}

/* The lots worth trying for a container of which the dose takes `amount`; -1 stands for one to be got. */
static size_t lots_to_try(const struct supply_moves *moves, int size, int64_t amount, int lots[SEARCH_MOST_LOTS + 1])
{
	const struct search_size *record = size_at(moves, size);
	bool enough = false;
	size_t n = 0;
	for (size_t i = 0; i < record->n_lots && !enough; i++) {
		int64_t expires = record->lots[i].expires;
		if (expires < dose_now(moves)->calendar || !in_hand(moves, size, i))
			continue;
		lots[n++] = (int)i;
		enough = expires >= moves->horizon ||
		         (record->kind == SEARCH_MANY && used_up_by(moves, size, amount, expires));
	}
	if (dose_now(moves)->get[size] && !(enough && moves->sure[size]))
		lots[n++] = -1;
	return n;
}

/* ---- new containers ---- */

static void serve_from_new(struct supply_moves *moves, const struct supply_move *move);

static int64_t still_to_serve(const struct supply_moves *moves, const struct supply_move *move, int size)
{
	return dose_now(moves)->need[size] - move->served;
}

/* Serves the rest of the dose after `amount` of it came from `size`. */
static void go_on(struct supply_moves *moves, struct supply_move move, int size, int64_t amount)
{
	move.served += amount;
	move.from = size;
	serve_from_new(moves, &move);
}

/* A group of single-use containers, or whole pieces: the first `from_hand` of them from what is in hand. */
static void open_group(struct supply_moves *moves, struct supply_move *move, int size, int64_t count, int64_t from_hand,
                       int64_t amount)
{
	const struct search_size *record = size_at(moves, size);
	int64_t all = amount;
	for (int64_t i = 0; i < count; i++) {
		int64_t part = smaller(amount, record->content);
		int lot = i < from_hand ? soonest_lot(moves, size, dose_now(moves)->calendar) : -1;
		open_one(moves, move, size, lot, part, 0, record->counted ? joins_the_last(moves, record) : i > 0);
		amount -= part;
	}
	move->cost.injections += draws_for(dose_now(moves), size, all) - 1;
}

/* Every way to take `count` from what is in hand and what is to be got; `then` goes on from each. */
static void try_group(struct supply_moves *moves, const struct supply_move *move, int size, int64_t count,
                      int64_t amount, void (*then)(struct supply_moves *, struct supply_move, int, int64_t))
{
	if (!has_room(moves, count))
		return;
	int64_t from_hand = count_in_hand(moves, size, count);
	int64_t least = moves->sure[size] ? from_hand : 0;
	for (; from_hand >= least; from_hand--) {
		if (from_hand < count && !dose_now(moves)->get[size])
			return;
		struct supply_move tried = *move;
		size_t n = moves->n_takes;
		open_group(moves, &tried, size, count, from_hand, amount);
		then(moves, tried, size, amount);
		undo(moves, n);
	}
}

static void end_with_group(struct supply_moves *moves, struct supply_move move, int size, int64_t amount)
{
	(void)size;
	(void)amount;
	move.cost.wasted += moves->takes[moves->n_takes - 1].leaves;
	moves->found(moves, &move);
}

/* The soonest lot that lasts to the second dose: what comes after cannot miss it more. */
static void share(struct supply_moves *moves, const struct supply_move *move, int size, int lot)
{
	struct supply_move tried = *move;
	size_t n = moves->n_takes;
	int64_t need = dose_now(moves)->need[size];
	open_one(moves, &tried, size, lot, need, lost_with(moves, dose_now(moves), size, need, true), false);
	tried.cost.injections += draws_for(dose_now(moves), size, need) - 1;
	moves->takes[n].twin = true;
	tried.state.open = size;
	tried.state.rest = moves->takes[n].leaves;
	tried.state.waits = true;
	moves->found(moves, &tried);
	undo(moves, n);
}

static void try_to_share(struct supply_moves *moves, const struct supply_move *move, int size)
{
	const struct search_size *record = size_at(moves, size);
	const struct search_dose *dose = dose_now(moves);
	if (!record->shares || !dose->twin || dose->gap > record->keep || move->served > 0)
		return;
	const struct search_dose *next = dose + 1;
	int64_t lost = lost_with(moves, dose, size, dose->need[size], true) +
	               lost_with(moves, next, size, next->need[size], false);
	if (next->need[size] == 0 || dose->need[size] + next->need[size] + lost > record->content)
		return;
	int lot = soonest_lot(moves, size, next->calendar > dose->calendar ? next->calendar : dose->calendar);
	if (lot >= 0)
		share(moves, move, size, lot);
	if (dose->get[size] && (lot < 0 || !moves->sure[size]))
		share(moves, move, size, -1);
}

static void serve_once(struct supply_moves *moves, const struct supply_move *move, int size)
{
	const struct search_size *record = size_at(moves, size);
	int64_t amount = still_to_serve(moves, move, size);
	int64_t count = ceiling(amount, record->content);
	int64_t most = smaller(count, record->together);
	bool rest_is_thrown = count * record->content > amount;
	try_to_share(moves, move, size);
	int64_t least = moves->mixes || dose_now(moves)->at_once[size] > 0 ? 1 : most;
	for (int64_t group = most; group >= least; group--) {
		if (group < count) {
			if (record->span)
				try_group(moves, move, size, group, group * record->content, go_on);
		} else if (!dose_now(moves)->split || record->shares || !rest_is_thrown) {
			try_group(moves, move, size, group, amount, end_with_group);
		}
	}
}

/* As part_of(), where `lost` goes with it. */
static int64_t part_with(const struct search_size *size, int64_t there, int64_t amount, int64_t lost)
{
	int64_t usable = there - lost;
	bool all = size->whole && usable == size->content && usable >= size->least && amount - usable >= size->least;
	if (usable <= 0)
		return 0;
	if (all)
		return usable;
	int64_t part = smaller(usable, amount - size->least) / size->step * size->step;
	return part >= size->least && part > 0 ? part : 0;
}

/* The part of `amount` that `there` gives, where it cannot give it all: nothing is left for another dose. */
static int64_t part_of(const struct supply_moves *moves, int index, int64_t there, int64_t amount, bool opens)
{
	const struct search_size *size = size_at(moves, index);
	int64_t once = dose_now(moves)->at_once[index];
	int64_t lost = opens ? size->loss : size->loss_again;
	int64_t part = part_with(size, there, amount, lost);
	if (once == 0 || part <= once || size->loss_again == 0)
		return part;
	int64_t in_two = part_with(size, there, amount, lost + size->loss_again);
	return in_two > once ? in_two : part_with(size, once + lost, amount, lost);
}

static void keep_open(const struct supply_moves *moves, struct supply_move *move, int size, int lot)
{
	const struct search_size *record = size_at(moves, size);
	const struct search_dose *dose = dose_now(moves);
	int64_t rest = moves->takes[moves->n_takes - 1].leaves;
	if (rest == 0)
		return;
	int64_t expires = lot < 0 ? SEARCH_NEVER : record->lots[lot].expires;
	move->state.open = size;
	move->state.rest = rest;
	move->state.expires = expires >= moves->horizon ? SEARCH_NEVER : expires;
	if (record->part_used && record->part_used_until != SEARCH_NEVER) {
		move->state.time = SEARCH_DATED;
		move->state.until = record->part_used_until;
	} else if (!record->part_used && record->life > 0) {
		move->state.time = dose->time;
		move->state.until = dose->day + record->life - 1;
	}
}

/* A part-used one whose life cannot be compared with this dose's day, or is over, is not taken up. */
static bool may_open(const struct supply_moves *moves, const struct search_size *size)
{
	const struct search_dose *dose = dose_now(moves);
	return !size->part_used || size->part_used_until == SEARCH_NEVER ||
	       (dose->time == SEARCH_DATED && dose->day <= size->part_used_until);
}

static void serve_many(struct supply_moves *moves, const struct supply_move *move, int size)
{
	const struct search_size *record = size_at(moves, size);
	int64_t amount = still_to_serve(moves, move, size);
	int64_t all = amount + lost_with(moves, dose_now(moves), size, amount, true);
	int64_t part = all <= record->content ? amount
	               : record->span         ? part_of(moves, size, record->content, amount, true)
	                                      : 0;
	int lots[SEARCH_MOST_LOTS + 1];
	if (part == 0 || !has_room(moves, 1) || !may_open(moves, record))
		return;
	size_t n_lots = lots_to_try(moves, size, amount, lots);
	for (size_t i = 0; i < n_lots; i++) {
		struct supply_move tried = *move;
		size_t n = moves->n_takes;
		open_one(moves, &tried, size, lots[i], part, lost_with(moves, dose_now(moves), size, part, true),
		         joins_the_last(moves, record));
		tried.cost.injections += draws_for(dose_now(moves), size, part) - 1;
		if (part == amount) {
			keep_open(moves, &tried, size, lots[i]);
			moves->found(moves, &tried);
		} else {
			tried.cost.wasted += moves->takes[n].leaves;
			go_on(moves, tried, size, part);
		}
		undo(moves, n);
	}
}

/* A part of a piece: from the divided one, or from a new one that is then the divided one. */
static void divide(struct supply_moves *moves, struct supply_move move, int size, int64_t amount)
{
	int64_t part = still_to_serve(moves, &move, size) - amount;
	int lots[SEARCH_MOST_LOTS + 1];
	if (part == 0) {
		moves->found(moves, &move);
		return;
	}
	if (!has_room(moves, 1))
		return;
	size_t n = moves->n_takes;
	if (open_is_usable(moves, &move.state) && move.state.rest >= part) {
		struct supply_move tried = move;
		take_from_open(moves, &tried, part, 0);
		moves->found(moves, &tried);
		undo(moves, n);
		if (moves->later_is_as_good)
			return;
	}
	if (moves->mixes && amount > 0)
		go_on(moves, move, size, amount);
	throw_away(&move);
	size_t n_lots = lots_to_try(moves, size, part, lots);
	for (size_t i = 0; i < n_lots; i++) {
		struct supply_move tried = move;
		open_one(moves, &tried, size, lots[i], part, 0, joins_the_last(moves, size_at(moves, size)));
		keep_open(moves, &tried, size, lots[i]);
		moves->found(moves, &tried);
		undo(moves, n);
	}
}

static void serve_pieces(struct supply_moves *moves, const struct supply_move *move, int size)
{
	const struct search_size *record = size_at(moves, size);
	int64_t amount = still_to_serve(moves, move, size);
	int64_t whole = amount / record->content;
	if (!may_open(moves, record))
		return;
	if (whole == 0)
		divide(moves, *move, size, 0);
	for (int64_t count = whole; count >= (moves->mixes ? 1 : whole) && count > 0; count--)
		try_group(moves, move, size, count, count * record->content, count == whole ? divide : go_on);
}

/* A dose goes on from one size to another only where both span and it needs the same of both. */
static bool may_follow(const struct supply_moves *moves, const struct supply_move *move, int size)
{
	const struct search_dose *dose = dose_now(moves);
	return move->served == 0 || (size_at(moves, move->from)->span && size_at(moves, size)->span &&
	                             dose->need[move->from] == dose->need[size]);
}

static bool keeps_pieces(const struct supply_moves *moves, const struct supply_state *state, int size)
{
	return state->open >= 0 && size_at(moves, state->open)->kind == SEARCH_PIECES &&
	       size_at(moves, size)->kind == SEARCH_PIECES &&
	       size_at(moves, state->open)->product == size_at(moves, size)->product;
}

static void serve_from_new(struct supply_moves *moves, const struct supply_move *move)
{
	for (int size = 0; size < (int)moves->problem->n_sizes; size++) {
		struct supply_move tried = *move;
		if (still_to_serve(moves, move, size) <= 0 || !may_follow(moves, move, size))
			continue;
		if (!keeps_pieces(moves, &move->state, size))
			throw_away(&tried);
		switch (size_at(moves, size)->kind) {
		case SEARCH_ONCE:
			serve_once(moves, &tried, size);
			break;
		case SEARCH_MANY:
			serve_many(moves, &tried, size);
			break;
		case SEARCH_PIECES:
			serve_pieces(moves, &tried, size);
			break;
		}
	}
}

/* ---- the dose ---- */

static bool all_from_open(const struct supply_moves *moves, const struct supply_state *state)
{
	int64_t need = dose_now(moves)->need[state->open];
	return state->rest >= need + lost_with(moves, dose_now(moves), state->open, need, false);
}

static void finish_open(struct supply_moves *moves, const struct supply_move *move)
{
	struct supply_move tried = *move;
	int size = move->state.open;
	bool was_twin = move->state.waits;
	int64_t need = dose_now(moves)->need[size];
	take_from_open(moves, &tried, need, lost_with(moves, dose_now(moves), size, need, false));
	if (was_twin)
		throw_away(&tried);
	moves->found(moves, &tried);
	undo(moves, 0);
}

static void begin_with_open(struct supply_moves *moves, const struct supply_move *move)
{
	int open = move->state.open;
	int64_t need = dose_now(moves)->need[open];
	int64_t part = size_at(moves, open)->span ? part_of(moves, open, move->state.rest, need, false) : 0;
	if (part == 0)
		return;
	struct supply_move tried = *move;
	take_from_open(moves, &tried, part, lost_with(moves, dose_now(moves), open, part, false));
	throw_away(&tried);
	go_on(moves, tried, open, part);
	undo(moves, 0);
}

/* ---- what was done ---- */

/* What a shared one leaves waits for the second dose, where that may still take it. */
static bool waits_for_next(const struct supply_moves *moves, const struct search_size *size, int index, int64_t rest)
{
	const struct search_dose *dose = dose_now(moves);
	return size->shares && dose->twin && dose->gap <= size->keep && dose[1].need[index] > 0 &&
	       rest >= dose[1].need[index] + lost_with(moves, &dose[1], index, dose[1].need[index], false);
}

static void keep_rest(struct supply_moves *moves, struct supply_move *move, const struct search_done *done)
{
	const struct search_size *size = size_at(moves, done->size);
	if (done->leaves == 0)
		return;
	bool waits = size->kind == SEARCH_ONCE && waits_for_next(moves, size, done->size, done->leaves);
	if (!done->stays || (size->kind == SEARCH_ONCE && !waits)) {
		move->cost.wasted += done->leaves;
		return;
	}
	throw_away(move);
	if (!waits) {
		keep_open(moves, move, done->size, done->lot);
		return;
	}
	moves->takes[moves->n_takes - 1].twin = true;
	move->state.open = done->size;
	move->state.rest = done->leaves;
	move->state.waits = true;
}

static bool go_on_from_open(struct supply_moves *moves, struct supply_move *move, const struct search_done *done)
{
	if (move->state.open != done->size || move->state.rest != done->amount + done->lost + done->leaves)
		return false;
	bool was_twin = move->state.waits;
	take_from_open(moves, move, done->amount, done->lost);
	if (was_twin || !done->stays)
		throw_away(move);
	return true;
}

/* The one move that takes what was taken; none where what is open cannot have given it. */
static void repeat(struct supply_moves *moves, struct supply_move move)
{
	const struct search_dose *dose = dose_now(moves);
	for (size_t i = 0; i < dose->n_done && has_room(moves, 1); i++) {
		const struct search_done *done = &dose->done[i];
		if (!done->opens) {
			if (!go_on_from_open(moves, &move, done))
				break;
			continue;
		}
		if (!keeps_pieces(moves, &move.state, done->size))
			throw_away(&move);
		open_one(moves, &move, done->size, done->lot, done->amount, done->lost, done->joins);
		keep_rest(moves, &move, done);
	}
	if (moves->n_takes == dose->n_done)
		moves->found(moves, &move);
	undo(moves, 0);
}

void supply_moves_of(struct supply_moves *moves, const struct supply_state *state, const struct search_cost *cost)
{
	struct supply_move move = {.state = *state, .cost = *cost, .from = -1};
	bool pieces = state->open >= 0 && size_at(moves, state->open)->kind == SEARCH_PIECES;
	moves->n_takes = 0;
	if (dose_now(moves)->n_done > 0) {
		repeat(moves, move);
		return;
	}
	if (!pieces && open_is_usable(moves, state)) {
		if (all_from_open(moves, state)) {
			finish_open(moves, &move);
			if (moves->later_is_as_good)
				return;
		} else {
			begin_with_open(moves, &move);
		}
	}
	serve_from_new(moves, &move);
}
