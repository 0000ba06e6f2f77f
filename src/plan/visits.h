/*
 * visits.h - visits by date, and events that must be so many hours apart.
 */
#ifndef PLAN_VISITS_H
#define PLAN_VISITS_H

#include "plan/follow.h"

/* The protocol's visits, and the exact events that no item begins at: a procedure is a visit too. By time, open ones last. */
struct dated_visit *visits_of(struct follow *follow, size_t *n_visits);

/* Compares each event that says so with the one it must come before; a stop where the hours are not those stated. */
struct time_check *event_checks_of(struct follow *follow, size_t *n_checks);

#endif
