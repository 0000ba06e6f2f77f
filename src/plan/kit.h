/*
 * kit.h - syringes, needles and swabs: how many the draws use, how many the boxes bring.
 */
#ifndef PLAN_KIT_H
#define PLAN_KIT_H

#include "plan/course.h"

/* Counts for all draws of `course`, whose doses and supplies are filled. */
const struct kit_supply *kit_of(struct arena *arena, const struct course *course, size_t *n_kit);

/*
 * The same for the doses that are not done. Of what the boxes bring there is what those still to be opened hold, or what
 * the past doses left of all of it, whichever is more. A sharps box is there once a needle was used.
 */
const struct kit_supply *kit_ahead_of(struct arena *arena, const struct course *course, size_t *n_kit);

#endif
