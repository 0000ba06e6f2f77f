/*
 * supply_search.h - the best way to serve doses from containers, in whole numbers alone.
 *
 * A size is one kind of container; the amounts of all sizes are in one unit, fine enough to be whole. A dose is served
 * from what is open, from a new container, or from several in a row:
 *
 *     SEARCH_ONCE     opened for one dose; up to `together` of them are one injection. One that `shares` may serve the
 *                     next dose too, where that is its twin and not later than `keep`
 *     SEARCH_MANY     stays open: until it is empty, its life ends or another one is opened
 *     SEARCH_PIECES   whole ones are taken as they come; what is left of a divided one is kept beside them
 *
 * The rules: one container open at a time; a dose goes on from one container to the next only where both sizes `span`;
 * nothing after its last day; no third use of a shared one. What is `done` is taken as it is, whatever the rules say.
 *
 * What is best, in this order: least to get, least wasted (all that is opened or was open and is not given; at a closed
 * end that counts what is left, too), fewest changes of product, fewest injections, fewest opened; then the one that
 * opens what expires sooner, and then what comes first in the formulary, comparing from the first container on.
 */
#ifndef PLAN_SUPPLY_SEARCH_H
#define PLAN_SUPPLY_SEARCH_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum search_kind { SEARCH_ONCE, SEARCH_MANY, SEARCH_PIECES };

/* Later than any day: it never expires. */
#define SEARCH_NEVER INT64_MAX

/* The time in which dated doses lie; undated ones lie in others, whose days cannot be compared with these. */
#define SEARCH_DATED 0

/* So many of one size in hand that expire on the same day. */
struct search_lot {
	int64_t count;
	int64_t expires; /* the last day of use */
};

struct search_size {
	enum search_kind kind;
	int product; /* place in the formulary: sizes of one product share it */
	int64_t content;
	int64_t loss;       /* with the draw that opens one that is drawn from more than once ... */
	int64_t loss_again; /* ... and with each draw after it */
	int64_t together;   /* SEARCH_ONCE: at least 1 */
	bool span;
	bool counted; /* containers of one product are one handful, not an injection each */
	bool shares;
	int64_t keep;            /* longest gap between two doses that share */
	int64_t life;            /* SEARCH_MANY: last use on this day of being open; 0: no such limit */
	int64_t step;            /* a part of a dose is a multiple of this, or all of a new container that is `whole` */
	int64_t least;           /* no part of a dose is smaller */
	bool whole;              /* all of a new one can be given, whatever `step` says */
	bool part_used;          /* one container that was opened before: `content` is what is left in it */
	int64_t part_used_until; /* the last day of its life */
	const struct search_lot *lots; /* soonest first */
	size_t n_lots;
};

/* What is known to have been taken: it is counted, and not planned again. */
struct search_done {
	int size;
	int lot;
	int64_t amount;
	int64_t lost;
	int64_t leaves;
	bool opens;
	bool joins;
	bool stays; /* the rest is kept */
};

struct search_dose {
	const int64_t *need;            /* one a size; 0: this size may not serve it */
	const bool *get;                /* one a size: may be got for it */
	const int64_t *at_once;         /* one a size: more is two injections, each with its loss; 0: it never is */
	int time;                       /* SEARCH_DATED, or another */
	int64_t day;                    /* in that time */
	int64_t calendar;               /* the day that expiries are held against */
	bool split;                     /* no rest of it is thrown away without a size that shares */
	bool twin;                      /* the next dose may take the rest of a shared container ... */
	int64_t gap;                    /* ... so long after this one */
	const struct search_done *done; /* so it was served, in this order ... */
	size_t n_done;                  /* ... 0: it is to be planned */
};

struct search_problem {
	const struct search_size *sizes;
	size_t n_sizes;
	const struct search_dose *doses;
	size_t n_doses;
	int open;      /* the part-used size that is in use at the start, or -1 */
	bool open_end; /* what is left after the last dose is not waste */
};

struct search_cost {
	int64_t get;
	int64_t wasted;
	int64_t changes;
	int64_t injections;
	int64_t opened;
};

/* Less than zero, zero or more than zero as `a` is better than, as good as or worse than `b`. */
int search_cost_compare(const struct search_cost *a, const struct search_cost *b);

/* What one dose takes from one container. */
struct search_take {
	int size;
	int lot;       /* of its size; -1: to be got */
	int container; /* a number of its own, in order of opening from 0 */
	int64_t amount;
	int64_t lost;
	int64_t leaves;
	bool opens;
	bool joins; /* one injection, or one handful, with the take before it */
	bool last;  /* no later dose takes from it */
	bool twin;  /* of two doses that share: this is the first or the second */
};

struct search_result {
	struct search_cost cost;
	const struct search_take *takes; /* by dose */
	size_t n_takes;
	const size_t *first; /* of each dose's takes; n_doses + 1 of them */
	int64_t left;        /* in the container that is open after the last dose */
	int open;            /* its size, or -1 */
};

enum search_outcome { SEARCH_FOUND, SEARCH_NONE, SEARCH_TOO_MANY };

/* More lots than this is no answer, and more states: never a greedy one. */
enum { SEARCH_MOST_LOTS = 200 };

struct search_limits {
	size_t most_states;
	size_t promising; /* states of a layer that the first of the two runs goes on from: any number gives the same answer */
};

extern const struct search_limits search_usual_limits;

/*
 * Finds the best plan. SEARCH_NONE: no plan keeps the rules. SEARCH_TOO_MANY: more states or lots than the limits.
 * `result` lives in `arena`.
 */
enum search_outcome search_best(struct arena *arena, const struct search_problem *problem,
                                const struct search_limits *limits, struct search_result *result);

#endif
