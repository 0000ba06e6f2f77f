#include "load/intake_tree.h"

#include <glib.h>
#include <stdint.h>
#include <string.h>

static struct node *new_node(struct arena *arena, enum node_kind kind, struct place place)
{
	struct node *node = arena_alloc(arena, sizeof *node);
	node->kind = kind;
	node->place = place;
	return node;
}

struct node *tree_map(struct arena *arena, struct place place)
{
	return new_node(arena, NODE_MAP, place);
}

struct node *tree_list(struct arena *arena, struct place place)
{
	return new_node(arena, NODE_LIST, place);
}

struct node *tree_scalar(struct arena *arena, const char *text, struct place place)
{
	struct node *node = new_node(arena, NODE_SCALAR, place);
	node->text = text;
	return node;
}

void tree_put(struct arena *arena, struct node *map, const char *key, const struct node *value)
{
	struct pair *pairs = arena_more(arena, (void *)(uintptr_t)map->pairs, map->n, sizeof *pairs);
	pairs[map->n++] = (struct pair){key, value->place, value};
	map->pairs = pairs;
}

void tree_put_text(struct arena *arena, struct node *map, const char *key, const char *text, struct place place)
{
	tree_put(arena, map, key, tree_scalar(arena, text, place));
}

void tree_add(struct arena *arena, struct node *list, const struct node *item)
{
	const struct node **items = arena_more(arena, (void *)(uintptr_t)list->items, list->n, sizeof *items);
	items[list->n++] = item;
	list->items = items;
}

struct node *tree_get(const struct node *map, const char *key)
{
	for (size_t i = 0; i < map->n; i++)
		if (strcmp(map->pairs[i].key, key) == 0)
			return (struct node *)(uintptr_t)map->pairs[i].value;
	return NULL;
}

/* ---- writing ---- */

static void print_text(GString *out, const char *text)
{
	g_string_append_c(out, '"');
	for (; *text; text++) {
		if (*text == '"' || *text == '\\')
			g_string_append_c(out, '\\');
		if (*text == '\n')
			g_string_append(out, "\\n");
		else
			g_string_append_c(out, *text);
	}
	g_string_append_c(out, '"');
}

static void print_node(GString *out, const struct node *node)
{
	if (node->kind == NODE_SCALAR) {
		print_text(out, node->text);
		return;
	}
	g_string_append_c(out, node->kind == NODE_MAP ? '{' : '[');
	for (size_t i = 0; i < node->n; i++) {
		if (i > 0)
			g_string_append(out, ", ");
		if (node->kind == NODE_MAP)
			g_string_append_printf(out, "%s: ", node->pairs[i].key);
		print_node(out, node->kind == NODE_MAP ? node->pairs[i].value : node->items[i]);
	}
	g_string_append_c(out, node->kind == NODE_MAP ? '}' : ']');
}

const char *tree_print(struct arena *arena, const struct node *map)
{
	GString *out = g_string_new(NULL);
	for (size_t i = 0; i < map->n; i++) {
		g_string_append_printf(out, "%s: ", map->pairs[i].key);
		print_node(out, map->pairs[i].value);
		g_string_append_c(out, '\n');
	}
	const char *text = arena_strdup(arena, out->str);
	g_string_free(out, TRUE);
	return text;
}
