/*
 * checks.h - the groups of rules that check.c goes through.
 *
 * Each looks at a finished course, changes nothing, and says each fault once:
 * for the step, change or record it comes from, and not for every day.
 */
#ifndef PLAN_CHECKS_H
#define PLAN_CHECKS_H

#include "plan/check.h"

struct checking {
	struct arena *arena;
	const struct course *course;
	struct findings *findings;
};

/* What is written in the plan itself: who the patient is, dates in another year, amounts and rows that cannot be meant. */
void check_plan(const struct checking *checking);

/* Least and most of a dose and a day, an item's limits against its medicine's, the volume at one site. */
void check_limits(const struct checking *checking);

/*
 * Time between doses, from the last dose to an event, the same as far as an item's window stretches it, and two items
 * of a medicine at one moment.
 */
void check_gaps(const struct checking *checking);

/*
 * What is in the boxes: allergies, stand-ins, two products in hand, syringes that cannot be the ones meant. What
 * containers can serve is supply.h's to say.
 */
void check_products(const struct checking *checking);

/* Words that the sheet needs in its language. */
void check_texts(const struct checking *checking);

#endif
