/*
 * tree.h - a YAML file as a tree in which every key and value knows its place.
 *
 * Only plain YAML is let through: no anchors, aliases, tags, duplicate keys or
 * second documents, nothing deep or huge, no hidden or reordering characters.
 * All faults are reported, not the first alone, but where the text stops being
 * YAML at all.
 */
#ifndef LOAD_TREE_H
#define LOAD_TREE_H

#include "base/finding.h"

#include <stdbool.h>

enum node_kind {
	NODE_SCALAR,
	NODE_LIST,
	NODE_MAP,
	NODE_REFUSED /* stands where something not allowed was; its finding is made */
};

struct node;

/* One `key: value`. */
struct pair {
	const char *key;
	struct place key_place;
	const struct node *value;
};

struct node {
	enum node_kind kind;
	struct place place;
	const char *text;                /* NODE_SCALAR */
	bool plain;                      /* NODE_SCALAR: written without quotes */
	const struct node *const *items; /* NODE_LIST */
	const struct pair *pairs;        /* NODE_MAP, in the file's order, each key once */
	size_t n;                        /* of items or pairs */
};

/*
 * The tree of `file`, in the arena. NULL where there is none: an empty file, or
 * text that is not YAML. What was refused on the way is in the findings.
 */
const struct node *tree_read(struct arena *arena, const struct source_file *file, struct findings *findings);

/* The pair of a map with that key; NULL: it has none. */
const struct pair *pair_of(const struct node *map, const char *key);

/*
 * Why a text that came another way may not stand in a plan: it holds `character`,
 * which hides or reorders something. NULL: it may. The text is UTF-8.
 */
const char *text_fault(const char *text, unsigned *character);

#endif
