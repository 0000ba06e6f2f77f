/*
 * syringes.h - syringes.yaml: the scales of a clinic's syringes, and the built-in ones.
 */
#ifndef LOAD_SYRINGES_H
#define LOAD_SYRINGES_H

#include "load/values.h"
#include "model/syringe.h"

/* Appends the file's syringes to the `n` that are in `list`; returns the list. */
struct syringe *read_syringes(const struct reader *reader, const struct raw_syringes *raw, bool built_in,
                              struct syringe *list, size_t *n);

#endif
