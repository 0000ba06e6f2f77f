#include "load/shape.h"

#include "load/nearest.h"

#include <assert.h>
#include <glib.h>
#include <stdarg.h>
#include <stdint.h>
#include <string.h>

/*
 * One walk over the tree, guided by the schema, both reports and writes: the
 * tree in the form of the tables (see schema.h), as YAML in one flow. A value
 * stands there as its number in the list of strings, so that long texts are
 * parsed once:
 *
 *     purpose: {en: calms}     becomes     "purpose": {"=at": 7, "=map": [{"=key": 8, "=text": 9}]}
 *
 * libcyaml then loads that. It can find nothing wrong any more.
 */

enum { MOST_FAULTS = 200, FEW_KEYS = 10 };

struct walk {
	struct arena *arena;
	struct findings *findings;
	size_t first_finding;
	GString *yaml;
	struct stated_string *strings;
	size_t n_strings;
};

/* What is looked at, for messages: `key` of entry `of`; of NULL: of the file itself. */
struct subject {
	const char *key;
	const char *of;
	struct place place; /* of the key, or of an entry of a list */
	bool in_list;
};

__attribute__((format(printf, 4, 5))) static void refuse(struct walk *walk, const char *code, struct place place,
                                                         const char *format, ...)
{
	size_t so_far = walk->findings->n - walk->first_finding;
	if (so_far > MOST_FAULTS)
		return;
	if (so_far == MOST_FAULTS) {
		findings_add(walk->findings, FINDING_STOP, "too-many-faults", (struct place){.file = place.file},
		             "this file has over %d faults; mend those first", MOST_FAULTS);
		return;
	}
	va_list arguments;
	va_start(arguments, format);
	const char *says = arena_vprintf(walk->arena, format, arguments);
	va_end(arguments);
	findings_add(walk->findings, FINDING_STOP, code, place, "%s", says);
}

/* "'route'", or "an entry of 'phones'". */
static const char *name_of(struct walk *walk, const struct subject *subject)
{
	if (!subject->key)
		return "this file";
	return arena_printf(walk->arena, subject->in_list ? "an entry of '%s'" : "'%s'", subject->key);
}

/* --- Does a node have the type that is wanted? --- */

/* Spaces of any kind print as nothing. */
static bool is_blank(const char *text)
{
	for (; *text; text = g_utf8_next_char(text))
		if (!g_unichar_isspace(g_utf8_get_char(text)))
			return false;
	return true;
}

static bool is_nothing(const struct node *node, bool may_be_blank)
{
	static const char *const words[] = {"~", "null", "Null", "NULL"};
	if (node->kind != NODE_SCALAR)
		return false;
	if (node->text[0] == '\0' || (is_blank(node->text) && !may_be_blank))
		return true;
	for (size_t i = 0; node->plain && i < sizeof words / sizeof *words; i++)
		if (strcmp(node->text, words[i]) == 0)
			return true;
	return false;
}

static bool is_free_map(const cyaml_schema_value_t *schema)
{
	return (schema->type == CYAML_SEQUENCE && schema_is_keyed(schema->sequence.entry)) ||
	       (schema->type == CYAML_MAPPING && schema_field(schema, "=map"));
}

/* True where keys of its own, other than those with '=', may be written. */
static bool has_own_keys(const cyaml_schema_value_t *mapping)
{
	for (const cyaml_schema_field_t *field = mapping->mapping.fields; field->key; field++)
		if (field->key[0] != '=')
			return true;
	return false;
}

static bool takes(const cyaml_schema_value_t *schema, enum node_kind kind)
{
	if (schema->type == CYAML_STRING)
		return kind == NODE_SCALAR;
	if (schema->type == CYAML_SEQUENCE)
		return kind == (is_free_map(schema) ? NODE_MAP : NODE_LIST);
	assert(schema->type == CYAML_MAPPING);
	if (kind == NODE_MAP)
		return is_free_map(schema) || has_own_keys(schema);
	return schema_field(schema, kind == NODE_SCALAR ? "=text" : "=list") != NULL;
}

/* "least, most, day_most", at most a few of them. */
static const char *keys_of(struct walk *walk, const cyaml_schema_value_t *mapping)
{
	const char *keys = "";
	size_t n = 0;
	for (const cyaml_schema_field_t *field = mapping->mapping.fields; field->key; field++) {
		if (field->key[0] == '=')
			continue;
		if (n == FEW_KEYS)
			return arena_printf(walk->arena, "%s ...", keys);
		keys = arena_printf(walk->arena, "%s%s%s", keys, n++ ? ", " : "", field->key);
	}
	return keys;
}

static const char *wanted(struct walk *walk, const cyaml_schema_value_t *schema)
{
	if (schema->type == CYAML_STRING)
		return "one value";
	if (schema->type == CYAML_MAPPING && schema_field(schema, "=map"))
		return "words by language, as in {en: \"...\"}";
	if (is_free_map(schema))
		return "pairs of a name and its value, as in {name: value}";
	if (schema->type == CYAML_SEQUENCE && schema->sequence.entry->type == CYAML_STRING)
		return "a list, as in [first, second]";
	if (schema->type == CYAML_SEQUENCE)
		return "a list, each entry beginning with '- '";
	if (!has_own_keys(schema))
		return schema_field(schema, "=text") ? "one value" : "a list, each entry beginning with '- '";
	return arena_printf(walk->arena, "%skeys of its own: %s", schema_field(schema, "=text") ? "one value, or " : "",
	                    keys_of(walk, schema));
}

static bool fits(struct walk *walk, const cyaml_schema_value_t *schema, const struct node *node,
                 const struct subject *subject)
{
	if (node->kind == NODE_REFUSED)
		return false;
	if (is_nothing(node, schema_may_be_blank(schema))) {
		refuse(walk, "empty-value", subject->place, "%s has no value; write one, or delete it",
		       name_of(walk, subject));
		return false;
	}
	if (!takes(schema, node->kind)) {
		refuse(walk, "wrong-type", node->place, "%s must be %s", name_of(walk, subject), wanted(walk, schema));
		return false;
	}
	bool many = schema->type == CYAML_SEQUENCE || is_free_map(schema);
	if (many && node->n == 0) {
		refuse(walk, "empty-value", subject->place, "%s has no entries; write one, or delete it",
		       name_of(walk, subject));
		return false;
	}
	return true;
}

/* --- Writing --- */

/* By hand, since there is one for every value of a clinic's files. */
static void put_number(GString *yaml, size_t number)
{
	char digits[32];
	size_t n = sizeof digits;
	do
		digits[--n] = (char)('0' + number % 10);
	while ((number /= 10) != 0);
	g_string_append_len(yaml, digits + n, (gssize)(sizeof digits - n));
}

static void put_value(struct walk *walk, const char *text, struct place place)
{
	walk->strings = arena_more(walk->arena, walk->strings, walk->n_strings, sizeof *walk->strings);
	put_number(walk->yaml, walk->n_strings);
	walk->strings[walk->n_strings++] = (struct stated_string){text, place};
}

static void put_key(struct walk *walk, const char *key)
{
	g_string_append_c(walk->yaml, '"');
	g_string_append(walk->yaml, key);
	g_string_append(walk->yaml, "\": ");
}

static void end_entry(struct walk *walk)
{
	g_string_append(walk->yaml, ",\n");
}

static void put_place(struct walk *walk, const cyaml_schema_value_t *mapping, struct place place)
{
	if (!schema_field(mapping, "=at"))
		return;
	put_key(walk, "=at");
	put_value(walk, "", place);
	end_entry(walk);
}

static void put_node(struct walk *walk, const cyaml_schema_value_t *schema, const struct node *node,
                     const struct subject *subject);

/* --- Mappings --- */

static void refuse_unknown(struct walk *walk, const cyaml_schema_value_t *schema, const struct pair *pair,
                           const char *of)
{
	struct nearest nearest = nearest_to(pair->key);
	for (const cyaml_schema_field_t *field = schema->mapping.fields; field->key; field++)
		if (field->key[0] != '=')
			nearest_offer(&nearest, field->key);
	const char *hint = nearest.best ? nearest_hint(walk->arena, &nearest) : "; mend or delete it";
	const char *where = of ? arena_printf(walk->arena, " in '%s'", of) : "";
	refuse(walk, "unknown-key", pair->key_place, "unknown key '%s'%s%s", pair->key, where, hint);
}

static void refuse_missing(struct walk *walk, const cyaml_schema_value_t *schema, const struct node *map,
                           const struct subject *subject)
{
	for (const cyaml_schema_field_t *field = schema->mapping.fields; field->key; field++) {
		if (field->key[0] == '=' || !schema_needed(&field->value) || pair_of(map, field->key))
			continue;
		refuse(walk, "missing-key", map->place, "%s lacks the key '%s'; add it", name_of(walk, subject),
		       field->key);
	}
}

/* An entry is best known by its id. */
static struct subject entry_subject(const struct subject *subject, const struct node *map)
{
	const struct pair *id = pair_of(map, "id");
	if (!id || id->value->kind != NODE_SCALAR || id->value->text[0] == '\0')
		return *subject;
	return (struct subject){.key = id->value->text, .place = map->place};
}

static void put_own_keys(struct walk *walk, const cyaml_schema_value_t *schema, const struct node *map,
                         const struct subject *subject)
{
	struct subject entry = entry_subject(subject, map);
	for (size_t i = 0; i < map->n; i++) {
		const struct pair *pair = &map->pairs[i];
		const cyaml_schema_field_t *field = pair->key[0] == '=' ? NULL : schema_field(schema, pair->key);
		if (!field) {
			refuse_unknown(walk, schema, pair, entry.key);
			continue;
		}
		struct subject value = {.key = pair->key, .of = entry.key, .place = pair->key_place};
		if (!fits(walk, &field->value, pair->value, &value))
			continue;
		put_key(walk, pair->key);
		put_node(walk, &field->value, pair->value, &value);
		end_entry(walk);
	}
	refuse_missing(walk, schema, map, &entry);
}

/* What stands in `{...}`: the mapping's own keys, or the one '=' key that takes the node. */
static void put_fields(struct walk *walk, const cyaml_schema_value_t *schema, const struct node *node,
                       const struct subject *subject)
{
	static const char *const takers[] = {
		[NODE_SCALAR] = "=text", [NODE_LIST] = "=list", [NODE_MAP] = "=map", [NODE_REFUSED] = ""};
	const cyaml_schema_field_t *taker = schema_field(schema, takers[node->kind]);
	if (!taker) {
		put_own_keys(walk, schema, node, subject);
		return;
	}
	put_key(walk, taker->key);
	put_node(walk, &taker->value, node, subject);
	end_entry(walk);
}

static void put_keyed_entry(struct walk *walk, const cyaml_schema_value_t *schema, const struct pair *pair)
{
	struct subject subject = {.key = pair->key, .place = pair->key_place};
	const struct node key = {.kind = NODE_SCALAR, .text = pair->key, .plain = true};
	if (is_nothing(&key, false)) {
		refuse(walk, "empty-value", pair->key_place, "a name is empty here; write one, or delete it");
		return;
	}
	if (!fits(walk, schema, pair->value, &subject))
		return;
	g_string_append(walk->yaml, "{");
	put_key(walk, "=key");
	put_value(walk, pair->key, pair->key_place);
	end_entry(walk);
	put_place(walk, schema, pair->key_place);
	put_fields(walk, schema, pair->value, &subject);
	g_string_append(walk->yaml, "}");
	end_entry(walk);
}

/* --- Lists, and any node --- */

static void put_list(struct walk *walk, const cyaml_schema_value_t *schema, const struct node *node,
                     const struct subject *subject)
{
	const cyaml_schema_value_t *entry = schema->sequence.entry;
	g_string_append(walk->yaml, "[");
	for (size_t i = 0; node->kind == NODE_MAP && i < node->n; i++)
		put_keyed_entry(walk, entry, &node->pairs[i]);
	for (size_t i = 0; node->kind == NODE_LIST && i < node->n; i++) {
		struct subject item = {
			.key = subject->key, .of = subject->of, .place = node->items[i]->place, .in_list = true};
		if (!fits(walk, entry, node->items[i], &item))
			continue;
		put_node(walk, entry, node->items[i], &item);
		end_entry(walk);
	}
	g_string_append(walk->yaml, "]");
}

/* A node that fits. */
static void put_node(struct walk *walk, const cyaml_schema_value_t *schema, const struct node *node,
                     const struct subject *subject)
{
	if (schema->type == CYAML_STRING) {
		put_value(walk, node->text, node->place);
		return;
	}
	if (schema->type == CYAML_SEQUENCE) {
		put_list(walk, schema, node, subject);
		return;
	}
	g_string_append(walk->yaml, "{");
	put_place(walk, schema, node->place);
	put_fields(walk, schema, node, subject);
	g_string_append(walk->yaml, "}");
}

/* --- libcyaml's memory: from the arena, never freed alone --- */

struct block {
	size_t size;
	max_align_t bytes[];
};

static struct block *block_of(void *bytes)
{
	return (struct block *)(void *)((char *)bytes - offsetof(struct block, bytes));
}

/* libcyaml grows a list one entry at a time; doubling keeps that from filling the arena. */
static void *memory(void *context, void *old, size_t size)
{
	if (size == 0 || (old && block_of(old)->size >= size))
		return size ? old : NULL;
	size_t room = old ? 2 * size : size;
	struct block *block = arena_alloc(context, sizeof *block + room);
	block->size = room;
	return old ? memcpy(block->bytes, old, block_of(old)->size) : block->bytes;
}

static void *load(struct walk *walk, const cyaml_schema_value_t *schema)
{
	cyaml_config_t config = {.mem_fn = memory, .mem_ctx = walk->arena, .flags = CYAML_CFG_NO_ALIAS};
	void *raw = NULL;
	cyaml_err_t error =
		cyaml_load_data((const uint8_t *)walk->yaml->str, walk->yaml->len, &config, schema, &raw, NULL);
	assert(error == CYAML_OK); /* whatever a user can get wrong was left out */
	(void)error;
	return raw;
}

/* --- Another file than the one that belongs here --- */

/* The key by which a file is known for what it is, and what that is. */
static const struct {
	const char *key;
	const char *what;
} kinds[] = {
	{"patient", "a plan"},
	{"clinic", "a clinic.yaml"},
	{"medicines", "a formulary"},
	{"items", "a protocol"},
	{"syringes", "a list of syringes"},
	{"intake", "the map of an intake"},
	{"words", "a file of words"},
	{"technique", "the steps of a technique"},
};

/* True, with one finding, where every key would be unknown because it is the wrong file. */
static bool is_another(struct walk *walk, const cyaml_schema_value_t *schema, const struct node *root)
{
	const char *wanted = NULL;
	const char *found = NULL;
	for (size_t i = 0; root->kind == NODE_MAP && i < sizeof kinds / sizeof *kinds; i++) {
		bool here = pair_of(root, kinds[i].key) != NULL;
		if (!schema_field(schema, kinds[i].key))
			found = here && !found ? kinds[i].what : found;
		else if (here)
			return false;
		else
			wanted = kinds[i].what;
	}
	if (!wanted || !found)
		return false;
	refuse(walk, "wrong-file", root->place, "this file is %s, and here belongs %s; name the right one", found,
	       wanted);
	return true;
}

void *shape_load(struct arena *arena, const struct node *root, const cyaml_schema_value_t *schema,
                 struct strings *strings, struct findings *findings)
{
	struct walk walk = {.arena = arena, .findings = findings, .first_finding = findings->n};
	struct subject file = {.place = root->place};
	if (!fits(&walk, schema, root, &file) || is_another(&walk, schema, root))
		return NULL;
	walk.yaml = g_string_new(NULL);
	put_node(&walk, schema, root, &file);
	void *raw = load(&walk, schema);
	g_string_free(walk.yaml, TRUE);
	*strings = (struct strings){walk.strings, walk.n_strings};
	return raw;
}
