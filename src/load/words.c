#include "load/words.h"

#include <stdlib.h>
#include <string.h>

enum { FORMS = 6 };

static int compare_messages(const void *left, const void *right)
{
	const struct message *a = left;
	const struct message *b = right;
	return strcmp(a->key, b->key);
}

/* Bare words are the form 'other'; else every form that is written, 'other' among them. */
static struct message read_message(const struct reader *reader, const struct raw_message *raw)
{
	const struct {
		const char *form;
		const char *raw;
	} forms[FORMS] = {{"zero", raw->zero}, {"one", raw->one},   {"two", raw->two},
	                  {"few", raw->few},   {"many", raw->many}, {"other", raw->text ? raw->text : raw->other}};
	struct message_form *list = arena_alloc(reader->arena, FORMS * sizeof *list);
	struct message message = {
		.key = read_string(reader, raw->key), .forms = list, .place = given_place(reader, raw->key)};
	for (size_t i = 0; i < FORMS; i++)
		if (forms[i].raw)
			list[message.n_forms++] =
				(struct message_form){forms[i].form, read_string(reader, forms[i].raw)};
	if (!forms[FORMS - 1].raw)
		refuse_value(reader, "missing-key", message.place, "'%s' lacks the form 'other'; add it", message.key);
	return message;
}

struct wording read_wording(const struct reader *reader, const struct raw_wording *raw, const char *language)
{
	struct wording wording = {.language = language, .place = given_place(reader, raw->place)};
	struct stated_string says = given_string(reader, raw->language, wording.place);
	if (says.text && strcmp(says.text, language) != 0)
		refuse_value(reader, "wrong-language", says.place,
		             "this file is named for '%s' and says '%s'; mend one", language, says.text);
	struct message *messages = arena_alloc(reader->arena, (raw->words_count + 1) * sizeof *messages);
	for (unsigned i = 0; i < raw->words_count; i++)
		messages[i] = read_message(reader, &raw->words[i]);
	qsort(messages, raw->words_count, sizeof *messages, compare_messages);
	wording.messages = messages;
	wording.n = raw->words_count;
	return wording;
}

/* --- Checks of a clinic's own words --- */

/* The next "{name}" in *text, which moves behind it; NULL: none is left. */
static const char *next_named_place(struct arena *arena, const char **text)
{
	const char *open = strchr(*text, '{');
	const char *close = open ? strchr(open, '}') : NULL;
	if (!close)
		return NULL;
	*text = close + 1;
	return arena_strndup(arena, open + 1, (size_t)(close - open - 1));
}

/* True where one of the forms has {name}; offers each that it has. */
static bool has_named_place(struct arena *arena, const struct message *message, const char *name,
                            struct nearest *nearest)
{
	for (size_t i = 0; i < message->n_forms; i++) {
		const char *text = message->forms[i].text;
		const char *other;
		while ((other = next_named_place(arena, &text))) {
			if (strcmp(other, name) == 0)
				return true;
			nearest_offer(nearest, other);
		}
	}
	return false;
}

static bool fills_only_known(const struct reader *reader, const struct message *own, const struct message *known)
{
	bool all_known = true;
	for (size_t i = 0; i < own->n_forms; i++) {
		const char *text = own->forms[i].text;
		const char *name;
		while ((name = next_named_place(reader->arena, &text))) {
			struct nearest nearest = nearest_to(name);
			if (has_named_place(reader->arena, known, name, &nearest))
				continue;
			refuse_value(reader, "unknown-placeholder", own->place, "'%s' has no {%s} to fill in%s",
			             own->key, name, nearest_hint(reader->arena, &nearest));
			all_known = false;
		}
	}
	return all_known;
}

/* A line without its number, a page without its name: what the program fills in must stand there. */
static void fills_all(const struct reader *reader, const struct message *own, const struct message *known)
{
	const char *text = known->n_forms > 0 ? known->forms[known->n_forms - 1].text : "";
	const char *name;
	while ((name = next_named_place(reader->arena, &text))) {
		struct nearest nearest = nearest_to(name);
		if (!has_named_place(reader->arena, own, name, &nearest))
			refuse_value(reader, "unused-placeholder", own->place,
			             "'%s' leaves out {%s}, which the sheet needs; put it in", own->key, name);
	}
}

/*
 * What a sheet says of itself whoever prints it: that it is a draft, that a
 * picture is not to be measured by, that the clinic's word and the leaflet come
 * first.
 */
static bool is_fixed(const char *key)
{
	static const char *const fixed[] = {"before.bad",        "before.disclaimer",   "before.still",
	                                    "line.not_measured", "overview.seal_draft", "running.draft",
	                                    "running.draft_band"};
	for (size_t i = 0; i < sizeof fixed / sizeof *fixed; i++)
		if (strcmp(fixed[i], key) == 0)
			return true;
	return false;
}

/* "step.swirl.text" and "step.powder-vial.swirl.text" of a technique that has such a step. */
static bool is_of_step(struct arena *arena, const char *key, const struct page_templates *templates)
{
	static const char *const parts[] = {"title", "text"};
	for (size_t i = 0; i < templates->n_techniques; i++) {
		const struct technique_template *technique = &templates->techniques[i];
		for (size_t j = 0; j < 2 * technique->n_steps; j++) {
			const char *id = technique->steps[j / 2].id;
			const char *part = parts[j % 2];
			if (strcmp(key, arena_printf(arena, "step.%s.%s", id, part)) == 0 ||
			    strcmp(key, arena_printf(arena, "step.%s.%s.%s", technique->id, id, part)) == 0)
				return true;
		}
	}
	return false;
}

static bool is_step_key(const char *key)
{
	return strncmp(key, "step.", 5) == 0;
}

static void check_known(const struct reader *reader, const struct message *own, const struct message *known,
                        bool same_language)
{
	if (same_language && is_fixed(own->key))
		refuse_value(reader, "words-fixed", own->place,
		             "the words '%s' keep patients safe and stay as they are; delete the key", own->key);
	/* All steps have the same places, whether the program's words fill them or not. */
	else if (!is_step_key(own->key) && fills_only_known(reader, own, known))
		fills_all(reader, own, known);
}

void check_wording(const struct reader *reader, const struct wording *own, const struct wording *known,
                   const struct page_templates *templates)
{
	bool same_language = strcmp(own->language, known->language) == 0;
	for (size_t i = 0; i < own->n; i++) {
		const char *key = own->messages[i].key;
		const struct message *message = wording_find(known, key);
		if (message)
			check_known(reader, &own->messages[i], message, same_language);
		if (message || is_of_step(reader->arena, key, templates))
			continue;
		struct nearest nearest = nearest_to(own->messages[i].key);
		for (size_t j = 0; j < known->n; j++)
			nearest_offer(&nearest, known->messages[j].key);
		refuse_value(reader, "unknown-key", own->messages[i].place, "unknown key '%s'%s", own->messages[i].key,
		             nearest.best ? nearest_hint(reader->arena, &nearest) : "; mend or delete it");
	}
}

struct wording lay_over(struct arena *arena, const struct wording *built_in, const struct wording *own)
{
	struct wording merged = {.language = own->language, .clinic_over = true, .place = own->place};
	struct message *messages = arena_alloc(arena, (built_in->n + own->n + 1) * sizeof *messages);
	size_t i = 0;
	size_t j = 0;
	while (i < built_in->n || j < own->n) {
		int order = i == built_in->n ? 1
		            : j == own->n    ? -1
		                             : strcmp(built_in->messages[i].key, own->messages[j].key);
		messages[merged.n++] = order < 0 ? built_in->messages[i] : own->messages[j];
		i += order <= 0;
		j += order >= 0;
	}
	merged.messages = messages;
	return merged;
}
