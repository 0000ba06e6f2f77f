/*
 * intake_tree.h - building a plan's tree piece by piece, and writing one as the YAML that it stands for.
 */
#ifndef LOAD_INTAKE_TREE_H
#define LOAD_INTAKE_TREE_H

#include "load/tree.h"

/* An empty map or list, or a scalar in quotes, in the arena. */
struct node *tree_map(struct arena *arena, struct place place);
struct node *tree_list(struct arena *arena, struct place place);
struct node *tree_scalar(struct arena *arena, const char *text, struct place place);

/* Adds `key: value`, or an item. */
void tree_put(struct arena *arena, struct node *map, const char *key, const struct node *value);
void tree_put_text(struct arena *arena, struct node *map, const char *key, const char *text, struct place place);
void tree_add(struct arena *arena, struct node *list, const struct node *item);

/* The value of a key to add to; NULL where the map lacks it. */
struct node *tree_get(const struct node *map, const char *key);

/* A file's text: one key a line, what is below it in `{}` and `[]`, every value in quotes. */
const char *tree_print(struct arena *arena, const struct node *map);

#endif
