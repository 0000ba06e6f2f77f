/*
 * shape.h - holds a file's tree against its schema, names every fault, and loads what fits into raw structs.
 *
 * The same table says what is allowed and where libcyaml puts it. What does not
 * fit is reported and left out, so that the values of the rest can be looked at
 * too; the caller counts stops to know whether the result may be used.
 */
#ifndef LOAD_SHAPE_H
#define LOAD_SHAPE_H

#include "load/schema.h"
#include "load/tree.h"

/* The places that the numbers in raw strings stand for. */
struct places {
	const struct place *list;
	size_t n;
};

/*
 * The raw struct that `schema` describes, in the arena, with the places of its
 * strings. NULL where the file as a whole is not what it should be.
 */
void *shape_load(struct arena *arena, const struct node *root, const cyaml_schema_value_t *schema,
                 struct places *places, struct findings *findings);

#endif
