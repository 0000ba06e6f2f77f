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
#include "model/stated.h"

/* What the raw strings, which are numbers, stand for. The texts are those of the tree. */
struct strings {
	const struct stated_string *list;
	size_t n;
};

/*
 * The raw struct that `schema` describes, in the arena, with what its
 * strings stand for. NULL where the file as a whole is not what it should be.
 */
void *shape_load(struct arena *arena, const struct node *root, const cyaml_schema_value_t *schema,
                 struct strings *strings, struct findings *findings);

#endif
