/*
 * check.h - what is checked before anything is printed (limits, gaps, allergies, order of events ...).
 */
#ifndef PLAN_CHECK_H
#define PLAN_CHECK_H

#include "plan/course.h"

/* Adds a finding for everything doubtful about `course`; changes nothing. */
void check_course(struct arena *arena, const struct course *course, struct findings *findings);

#endif
