/*
 * plan.h - a patient's plan: the file of one course, its names looked up in the clinic's folder.
 */
#ifndef LOAD_PLAN_H
#define LOAD_PLAN_H

#include "load/values.h"
#include "model/plan.h"

/* `id` is the file's name without folder and ending. The seal is left to seal.h. */
struct plan read_plan(const struct reader *reader, const struct raw_plan *raw, const char *id,
                      const struct clinic *clinic, const struct source_file *file);

#endif
