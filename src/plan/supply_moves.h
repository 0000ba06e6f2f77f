/*
 * supply_moves.h - all that can be done for one dose, from one state of what is open and what is used.
 *
 * Left out are only moves that another move is at least as good as, whatever comes after:
 *
 *  - To throw away what could serve the dose. Opening the next container a dose later serves as well: the same is
 *    opened, nothing more is wasted, and no product changes more often. Only where doses need the same of any size, and
 *    what may be got for one may be got for the next; and not with divided pieces, which are kept beside others, nor
 *    where a dose may take two places, as a small rest and a new one can give it in as many.
 *  - To open what expires later before what expires sooner, where it is known how long the container will be used: the
 *    two could be swapped. How long is known of a single-use one, and where the sooner one would be used up in time;
 *    else both are tried, as a long use may not fit into the sooner one.
 *  - To get one while one is in hand that serves as long, if it may be got for every dose: again they could be swapped.
 */
#ifndef PLAN_SUPPLY_MOVES_H
#define PLAN_SUPPLY_MOVES_H

#include "plan/supply_search.h"

/* What later doses depend on, but for how many of each lot are used. */
struct supply_state {
	int64_t rest;    /* in what is open */
	int64_t until;   /* its last day, in `time` */
	int64_t expires; /* SEARCH_NEVER too where that is after the last dose */
	int open;        /* its size, or -1 */
	int time;        /* -1: nothing but its expiry ends its life */
	int product;     /* last taken from; -1: none yet */
	bool waits;      /* it is shared, and its second dose is the next one */
};

/* One way of serving the dose, so far. */
struct supply_move {
	struct supply_state state;
	struct search_cost cost;
	int64_t served; /* of this dose ... */
	int from;       /* ... from containers of which the last is of this size */
};

/* A dose that takes more containers than this is served by no move. */
enum { SUPPLY_MOST_TAKES = 256 };

struct supply_moves {
	const struct search_problem *problem;
	const size_t *first_lot; /* of each size, counting the lots of all */
	const bool *sure;        /* the size may be got for every dose that it may serve */
	bool alike;              /* every dose needs the same amount of any size */
	bool later_is_as_good;   /* they are alike, and any size may be got for any dose: see above */
	bool mixes;              /* several sizes span */
	int64_t horizon;         /* the last day that any expiry is held against */

	size_t dose;
	uint16_t *used; /* of each lot, as the move leaves it */
	struct search_take takes[SUPPLY_MOST_TAKES];
	size_t n_takes;
	void (*found)(struct supply_moves *moves, const struct supply_move *move);
};

/* Calls `found` for each move that serves moves->dose; `used` and `takes` are then as it leaves them. */
void supply_moves_of(struct supply_moves *moves, const struct supply_state *state, const struct search_cost *cost);

#endif
