/*
 * formulary.h - formulary.yaml: medicines and the products they come in.
 */
#ifndef LOAD_FORMULARY_H
#define LOAD_FORMULARY_H

#include "load/values.h"
#include "model/formulary.h"

/* What names in the file may refer to. */
struct formulary_names {
	const struct syringe *syringes;
	size_t n_syringes;
	bool syringes_known; /* false: their file could not be read, so a name not found says nothing */
};

struct medicine *read_medicines(const struct reader *reader, const struct raw_formulary *raw,
                                const struct formulary_names *names, size_t *n);

/* Limits of a medicine, or of an item that narrows them. */
struct limits read_limits(const struct reader *reader, const struct raw_limits *raw, struct place around);

/* The steps of a product that names none: by its container; counted forms differ so much that each has its own, by its unit. */
const char *usual_technique(struct arena *arena, const struct product *product);

#endif
