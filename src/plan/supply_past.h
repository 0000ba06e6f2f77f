/*
 * supply_past.h - what the sheet before this one had past doses given from.
 *
 * A dose before the day that a plan speaks from was given as the replaced sheet said. So its containers are kept as they
 * are: the search counts them, and plans from what they left. They are kept in order, up to the first dose whose amount
 * or day that sheet did not know yet. Where the two plans say different things of a past dose, nothing is kept.
 */
#ifndef PLAN_SUPPLY_PAST_H
#define PLAN_SUPPLY_PAST_H

#include "plan/supply_problem.h"

/* Sets what is done of the problem's doses; a caution where the plan contradicts what was done. */
void supply_past_keep(struct supply_problem *problem);

#endif
