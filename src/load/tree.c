#include "load/tree.h"

#include "load/file.h"

#include <glib.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <yaml.h>

/*
 * First every byte is looked at, since libyaml stops at the first bad one and
 * does not say where; then libyaml's events become nodes. Its marks count from
 * zero, and in characters, as ours do from one.
 */

enum {
	MOST_DEPTH = 32,
	MOST_NODES = 200000,
	ODD_OF_NO_TEXT = 10, /* control characters: so many have no business in any text */
	MOST_FAULTS = 100    /* a file with more is no such file, and nobody reads on */
};

struct reading {
	struct arena *arena;
	const struct source_file *file;
	struct findings *findings;
	size_t first_finding; /* those before it are not of this file */
	yaml_parser_t parser;
	size_t n_nodes;
	bool odd_bytes; /* found and reported before parsing */
	bool given_up;
};

__attribute__((format(printf, 4, 5))) static void refuse(struct reading *reading, const char *code, struct place place,
                                                         const char *format, ...)
{
	if (reading->given_up)
		return;
	if (reading->findings->n - reading->first_finding >= MOST_FAULTS) {
		findings_add(reading->findings, FINDING_STOP, "too-many-faults", (struct place){.file = reading->file},
		             "this file has over %d faults; mend those first", MOST_FAULTS);
		reading->given_up = true;
		return;
	}
	va_list arguments;
	va_start(arguments, format);
	const char *says = arena_vprintf(reading->arena, format, arguments);
	va_end(arguments);
	findings_add(reading->findings, FINDING_STOP, code, place, "%s", says);
}

static struct place place_of(const struct reading *reading, yaml_mark_t mark)
{
	return (struct place){reading->file, (int)mark.line + 1, (int)mark.column + 1};
}

/* --- Characters --- */

/* Why a character may not stand in a file or a text; NULL: it may. */
static const char *character_fault(gunichar character)
{
	if (character >= 0x20 && character < 0x7f)
		return NULL; /* nearly all */
	if (character == 0x61c || character == 0x200e || character == 0x200f ||
	    (character >= 0x202a && character <= 0x202e) || (character >= 0x2066 && character <= 0x2069))
		return "reorders the text around it, so that a dose may read as another";
	if (character == 0xfeff)
		return "is a byte order mark in the middle of a file";
	if (character == 0x85 || character == 0x2028 || character == 0x2029)
		return "is a line end that most programs do not show";
	if (character < 0x20 || (character >= 0x7f && character < 0xa0) || (character & 0xfffe) == 0xfffe)
		return "is a control character";
	return NULL;
}

/* What libyaml would stop at. The others are worth reading on after. */
static bool ends_reading(gunichar character)
{
	return character < 0xa0 || (character & 0xfffe) == 0xfffe;
}

static size_t without_bom(const struct source_file *file)
{
	return file->length >= 3 && memcmp(file->text, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
}

/* A program, a picture or a spreadsheet's own file: one sentence says so, not one a byte. */
static bool is_no_text(const struct source_file *file)
{
	size_t odd = 0;
	for (size_t i = 0; i < file->length && odd < ODD_OF_NO_TEXT; i++)
		odd += (unsigned char)file->text[i] < 0x20 && !memchr("\t\n\r", file->text[i], 3);
	return odd >= ODD_OF_NO_TEXT;
}

/* Why the file cannot be read at all; NULL: it can. */
static const char *form_fault(struct arena *arena, const struct source_file *file)
{
	const char *other = no_text_of((const unsigned char *)file->text, file->length);
	if (other)
		return arena_printf(arena, "this file is %s, and here belongs a text; name the right one", other);
	switch (wide_text_of((const unsigned char *)file->text, file->length)) {
	case WIDE_UTF16_LITTLE:
	case WIDE_UTF16_BIG:
		return "this file is UTF-16; save it as UTF-8";
	case WIDE_UTF32:
		return "this file is UTF-32; save it as UTF-8";
	case WIDE_NONE:
		break;
	}
	return is_no_text(file) ? "this file is no text; is it the right one? Save it as plain text in UTF-8" : NULL;
}

/* Looks at every character; false where libyaml cannot read on. */
static bool check_characters(struct reading *reading)
{
	const struct source_file *file = reading->file;
	const char *fault_of_form = form_fault(reading->arena, file);
	if (fault_of_form) {
		refuse(reading, "not-utf8", (struct place){.file = file}, "%s", fault_of_form);
		return false;
	}
	bool readable = true;
	struct place place = {file, 1, 1};
	const char *end = file->text + file->length;
	const char *next = file->text + without_bom(file);
	while (next < end && !reading->given_up) {
		gunichar character = *next ? g_utf8_get_char_validated(next, end - next) : 0;
		if (character >= 0x110000) {
			refuse(reading, "not-utf8", place, "this byte is not UTF-8; save the file as UTF-8");
			return false;
		}
		bool line_end = character == '\n' || (character == '\r' && (next + 1 == end || next[1] != '\n'));
		bool usual = line_end || character == '\t' || character == '\r';
		const char *fault = usual ? NULL : character_fault(character);
		if (fault) {
			refuse(reading, "odd-character", place, "U+%04X %s; delete it", (unsigned)character, fault);
			reading->odd_bytes = true;
			readable = readable && !ends_reading(character);
		}
		place.line += line_end;
		place.column = line_end ? 1 : place.column + 1;
		next += *next ? g_utf8_skip[*(const unsigned char *)next] : 1;
	}
	return readable && !reading->given_up;
}

/*
 * The same for a text that escapes such as "\u202e" may have filled; a tab would
 * be printed as a hole. Where the bytes were odd already, that is not said again.
 */
static bool check_text(struct reading *reading, const char *text, size_t length, struct place place)
{
	const char *next = text;
	while (next < text + length) {
		gunichar character = *next ? g_utf8_get_char(next) : 0;
		const char *fault = character == '\n' ? NULL : character_fault(character);
		if (fault && !reading->odd_bytes)
			refuse(reading, "odd-character", place, "this text holds U+%04X, which %s; delete it",
			       (unsigned)character, fault);
		if (fault)
			return false;
		next += *next ? g_utf8_skip[*(const unsigned char *)next] : 1;
	}
	return true;
}

const char *text_fault(const char *text, unsigned *character)
{
	for (const char *next = text; *next; next = g_utf8_next_char(next)) {
		*character = (unsigned)g_utf8_get_char(next);
		const char *fault = *character == '\n' ? NULL : character_fault(*character);
		if (fault)
			return fault;
	}
	return NULL;
}

/* --- Errors of libyaml, in words for somebody who never heard of a token --- */

struct rewording {
	const char *problem; /* the start of libyaml's */
	const char *says;
};

static const struct rewording rewordings[] = {
	{"mapping values are not allowed",
         "a ': ' stands where no key can be; put the words in quotes or mend the indentation"},
	{"did not find expected key",
         "this is not 'key: value' at the indentation of the lines above; mend the indentation or the quotes"},
	{"could not find expected ':'", "a key here has no ': ' after it; write 'key: value'"},
	{"did not find expected ',' or '}'", "a ',' or '}' is missing before this"},
	{"did not find expected ',' or ']'", "a ',' or ']' is missing before this"},
	{"did not find expected '-' indicator",
         "this is not '- entry' at the indentation of the entries above; mend the indentation"},
	{"block sequence entries are not allowed", "a '- ' stands where no list can be; put it on a line of its own"},
	{"found unexpected end of stream", "the quotes opened before this are never closed"},
	{"found unexpected document indicator", "the quotes opened before this are never closed"},
	{"found unknown escape character", "this backslash is no escape; use single quotes, or write it twice"},
	{"did not find expected hexdecimal number", "the escape here lacks its digits; write the character itself"},
	{"did not find expected node content", "a value is missing before this"},
};

static const char *reworded(struct arena *arena, const char *problem)
{
	for (size_t i = 0; i < sizeof rewordings / sizeof *rewordings; i++)
		if (strncmp(problem, rewordings[i].problem, strlen(rewordings[i].problem)) == 0)
			return rewordings[i].says;
	return arena_printf(arena, "this is not YAML (%s); mend it", problem);
}

/* libyaml's index counts characters, so the byte has to be looked for. */
static char character_at(const struct source_file *file, size_t index)
{
	const char *next = file->text + without_bom(file);
	const char *end = file->text + file->length;
	for (size_t i = 0; i < index && next < end; i++)
		next += g_utf8_skip[*(const unsigned char *)next];
	return next < end ? *next : '\0';
}

static void report_syntax(struct reading *reading)
{
	const yaml_parser_t *parser = &reading->parser;
	if (parser->error == YAML_MEMORY_ERROR)
		out_of_memory();
	const char *problem = parser->problem ? parser->problem : "unknown";
	struct place place = place_of(reading, parser->problem_mark);
	reading->given_up = true;
	if (character_at(reading->file, parser->problem_mark.index) == '\t')
		findings_add(reading->findings, FINDING_STOP, "tab", place,
		             "a tab stands where only spaces may; indent with spaces");
	else
		findings_add(reading->findings, FINDING_STOP, "not-yaml", place, "%s",
		             reworded(reading->arena, problem));
}

/* --- Events to nodes --- */

static bool next_event(struct reading *reading, yaml_event_t *event)
{
	if (reading->given_up)
		return false;
	if (yaml_parser_parse(&reading->parser, event))
		return true;
	report_syntax(reading);
	return false;
}

static struct node *node_new(struct reading *reading, enum node_kind kind, struct place place)
{
	struct node *node = arena_alloc(reading->arena, sizeof *node);
	*node = (struct node){.kind = kind, .place = place};
	if (++reading->n_nodes > MOST_NODES && !reading->given_up) {
		findings_add(reading->findings, FINDING_STOP, "too-large", (struct place){.file = reading->file},
		             "this file has over %d values, so it is no list of a clinic; name the right file",
		             MOST_NODES);
		reading->given_up = true;
	}
	return node;
}

static void refuse_anchor_and_tag(struct reading *reading, const yaml_char_t *anchor, const yaml_char_t *tag,
                                  struct place place)
{
	if (anchor)
		refuse(reading, "anchor", place, "the anchor '&%s' is not allowed; write each value where it is meant",
		       (const char *)anchor);
	if (tag)
		refuse(reading, "tag", place, "the tag '%s' is not allowed; leave it out", (const char *)tag);
}

static struct node *read_scalar(struct reading *reading, const yaml_event_t *event)
{
	struct place place = place_of(reading, event->start_mark);
	const char *text = (const char *)event->data.scalar.value;
	size_t length = event->data.scalar.length;
	bool fit = check_text(reading, text, length, place);
	struct node *node = node_new(reading, fit ? NODE_SCALAR : NODE_REFUSED, place);
	refuse_anchor_and_tag(reading, event->data.scalar.anchor, event->data.scalar.tag, place);
	node->text = arena_strndup(reading->arena, text, length);
	node->plain = event->data.scalar.style == YAML_PLAIN_SCALAR_STYLE;
	return node;
}

static const struct node *read_node(struct reading *reading, const yaml_event_t *event, int depth);

static void read_list(struct reading *reading, struct node *list, int depth)
{
	const struct node **items = NULL;
	yaml_event_t event;
	while (next_event(reading, &event)) {
		bool end = event.type == YAML_SEQUENCE_END_EVENT;
		const struct node *item = end ? NULL : read_node(reading, &event, depth + 1);
		yaml_event_delete(&event);
		if (end)
			break;
		items = arena_more(reading->arena, items, list->n, sizeof *items);
		items[list->n++] = item;
	}
	list->items = items;
}

static int compare_keys(const void *left, const void *right)
{
	const struct pair *a = *(const struct pair *const *)left;
	const struct pair *b = *(const struct pair *const *)right;
	int order = strcmp(a->key, b->key);
	return order ? order : (a > b) - (a < b);
}

/* Reports each key that was there before, and keeps the first. */
static void drop_duplicates(struct reading *reading, struct node *map, struct pair *pairs)
{
	const struct pair **sorted = arena_alloc(reading->arena, (map->n + 1) * sizeof *sorted);
	bool *again = arena_alloc(reading->arena, map->n + 1);
	for (size_t i = 0; i < map->n; i++)
		sorted[i] = &pairs[i];
	qsort(sorted, map->n, sizeof *sorted, compare_keys);
	const struct pair *first = map->n ? sorted[0] : NULL;
	for (size_t i = 1; i < map->n; i++) {
		if (strcmp(first->key, sorted[i]->key) != 0) {
			first = sorted[i];
			continue;
		}
		again[sorted[i] - pairs] = true;
		refuse(reading, "duplicate-key", sorted[i]->key_place,
		       "the key '%s' is here twice, first in line %d; keep one", first->key, first->key_place.line);
	}
	size_t n = 0;
	for (size_t i = 0; i < map->n; i++)
		if (!again[i])
			pairs[n++] = pairs[i];
	map->n = n;
}

static void read_map(struct reading *reading, struct node *map, int depth)
{
	struct pair *pairs = NULL;
	yaml_event_t event;
	while (next_event(reading, &event)) {
		bool end = event.type == YAML_MAPPING_END_EVENT;
		const struct node *key = end ? NULL : read_node(reading, &event, depth + 1);
		yaml_event_delete(&event);
		if (end || !next_event(reading, &event))
			break;
		const struct node *value = read_node(reading, &event, depth + 1);
		yaml_event_delete(&event);
		if (key->kind == NODE_LIST || key->kind == NODE_MAP)
			refuse(reading, "key-not-a-word", key->place, "a key must be a word; write 'key: value'");
		if (key->kind != NODE_SCALAR)
			continue;
		pairs = arena_more(reading->arena, pairs, map->n, sizeof *pairs);
		pairs[map->n++] = (struct pair){key->text, key->place, value};
	}
	drop_duplicates(reading, map, pairs);
	map->pairs = pairs;
}

static const struct node *read_collection(struct reading *reading, const yaml_event_t *event, int depth)
{
	struct place place = place_of(reading, event->start_mark);
	bool list = event->type == YAML_SEQUENCE_START_EVENT;
	struct node *node = node_new(reading, list ? NODE_LIST : NODE_MAP, place);
	if (depth >= MOST_DEPTH) {
		refuse(reading, "too-deep", place, "this is nested more than %d deep; no file here needs that",
		       MOST_DEPTH);
		reading->given_up = true;
	}
	if (list) {
		refuse_anchor_and_tag(reading, event->data.sequence_start.anchor, event->data.sequence_start.tag,
		                      place);
		read_list(reading, node, depth);
	} else {
		refuse_anchor_and_tag(reading, event->data.mapping_start.anchor, event->data.mapping_start.tag, place);
		read_map(reading, node, depth);
	}
	return node;
}

static const struct node *read_node(struct reading *reading, const yaml_event_t *event, int depth)
{
	if (event->type == YAML_SEQUENCE_START_EVENT || event->type == YAML_MAPPING_START_EVENT)
		return read_collection(reading, event, depth);
	if (event->type == YAML_SCALAR_EVENT)
		return read_scalar(reading, event);
	struct place place = place_of(reading, event->start_mark);
	refuse(reading, "alias", place, "the alias '*%s' is not allowed; write the value itself",
	       (const char *)event->data.alias.anchor);
	return node_new(reading, NODE_REFUSED, place);
}

static bool is_nothing(const struct node *node)
{
	return node->kind == NODE_SCALAR && node->plain && node->text[0] == '\0';
}

/* The first document's root; then makes sure that no other follows. */
static const struct node *read_stream(struct reading *reading)
{
	const struct node *root = NULL;
	bool document = false;
	yaml_event_t event;
	while (next_event(reading, &event)) {
		yaml_event_type_t type = event.type;
		struct place place = place_of(reading, event.start_mark);
		bool starts_document = type == YAML_DOCUMENT_START_EVENT;
		if (type == YAML_SCALAR_EVENT || type == YAML_SEQUENCE_START_EVENT ||
		    type == YAML_MAPPING_START_EVENT || type == YAML_ALIAS_EVENT)
			root = read_node(reading, &event, 0);
		yaml_event_delete(&event);
		if (starts_document && document) {
			refuse(reading, "several-documents", place,
			       "a second document begins here; keep one, and delete the '---' between");
			break;
		}
		document = document || starts_document;
		if (type == YAML_STREAM_END_EVENT)
			break;
	}
	return root;
}

const struct node *tree_read(struct arena *arena, const struct source_file *file, struct findings *findings)
{
	struct reading reading = {.arena = arena, .file = file, .findings = findings, .first_finding = findings->n};
	if (!check_characters(&reading))
		return NULL;
	if (!yaml_parser_initialize(&reading.parser))
		out_of_memory(); /* nothing else fails there */
	size_t skip = without_bom(file);
	yaml_parser_set_encoding(&reading.parser, YAML_UTF8_ENCODING);
	yaml_parser_set_input_string(&reading.parser, (const unsigned char *)file->text + skip, file->length - skip);
	const struct node *root = read_stream(&reading);
	yaml_parser_delete(&reading.parser);
	if (reading.given_up)
		return NULL;
	if (!root || is_nothing(root)) {
		findings_add(findings, FINDING_STOP, "empty-file", (struct place){.file = file},
		             "there is nothing in this file; write its entries, or name the right file");
		return NULL;
	}
	return root;
}

const struct pair *pair_of(const struct node *map, const char *key)
{
	for (size_t i = 0; i < map->n; i++)
		if (strcmp(map->pairs[i].key, key) == 0)
			return &map->pairs[i];
	return NULL;
}
