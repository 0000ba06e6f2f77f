#include "support/sample_words.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <yaml.h>

static const char *scalar(struct arena *arena, const yaml_node_t *node)
{
	assert(node != NULL && node->type == YAML_SCALAR_NODE);
	return arena_strndup(arena, (const char *)node->data.scalar.value, node->data.scalar.length);
}

static struct message message_of(struct arena *arena, yaml_document_t *document, const yaml_node_pair_t *pair)
{
	yaml_node_t *value = yaml_document_get_node(document, pair->value);
	struct message message = {.key = scalar(arena, yaml_document_get_node(document, pair->key))};
	struct message_form *forms = NULL;
	if (value->type == YAML_SCALAR_NODE) {
		forms = arena_more(arena, forms, 0, sizeof *forms);
		forms[message.n_forms++] = (struct message_form){"other", scalar(arena, value)};
	} else {
		for (yaml_node_pair_t *form = value->data.mapping.pairs.start; form < value->data.mapping.pairs.top;
		     form++) {
			forms = arena_more(arena, forms, message.n_forms, sizeof *forms);
			forms[message.n_forms++] =
				(struct message_form){scalar(arena, yaml_document_get_node(document, form->key)),
			                              scalar(arena, yaml_document_get_node(document, form->value))};
		}
	}
	message.forms = forms;
	return message;
}

static int by_key(const void *left, const void *right)
{
	return strcmp(((const struct message *)left)->key, ((const struct message *)right)->key);
}

static void read_messages(struct arena *arena, yaml_document_t *document, const yaml_node_t *words,
                          struct wording *wording)
{
	struct message *messages = NULL;
	assert(words->type == YAML_MAPPING_NODE);
	for (yaml_node_pair_t *pair = words->data.mapping.pairs.start; pair < words->data.mapping.pairs.top; pair++) {
		messages = arena_more(arena, messages, wording->n, sizeof *messages);
		messages[wording->n++] = message_of(arena, document, pair);
	}
	qsort(messages, wording->n, sizeof *messages, by_key);
	wording->messages = messages;
}

const struct wording *sample_words(struct arena *arena)
{
	return sample_words_in(arena, "en");
}

const struct wording *sample_words_in(struct arena *arena, const char *language)
{
	struct wording *wording = arena_alloc(arena, sizeof *wording);
	wording->language = language;
	FILE *file = fopen(arena_printf(arena, "templates/words/%s.yaml", language), "rb");
	assert(file != NULL);
	yaml_parser_t parser;
	yaml_document_t document;
	yaml_parser_initialize(&parser);
	yaml_parser_set_input_file(&parser, file);
	int loaded = yaml_parser_load(&parser, &document);
	assert(loaded == 1);
	yaml_node_t *root = yaml_document_get_root_node(&document);
	assert(root != NULL && root->type == YAML_MAPPING_NODE);
	for (yaml_node_pair_t *pair = root->data.mapping.pairs.start; pair < root->data.mapping.pairs.top; pair++)
		if (strcmp(scalar(arena, yaml_document_get_node(&document, pair->key)), "words") == 0)
			read_messages(arena, &document, yaml_document_get_node(&document, pair->value), wording);
	assert(wording->n > 0);
	yaml_document_delete(&document);
	yaml_parser_delete(&parser);
	fclose(file);
	return wording;
}
