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

static void check_message(const struct reader *reader, const struct message *own, const struct message *known)
{
	for (size_t i = 0; i < own->n_forms; i++) {
		const char *text = own->forms[i].text;
		const char *name;
		while ((name = next_named_place(reader->arena, &text))) {
			struct nearest nearest = nearest_to(name);
			if (has_named_place(reader->arena, known, name, &nearest))
				continue;
			refuse_value(reader, "unknown-placeholder", own->place, "'%s' has no {%s} to fill in%s",
			             own->key, name, nearest_hint(reader->arena, &nearest));
		}
	}
}

void check_wording(const struct reader *reader, const struct wording *own, const struct wording *known)
{
	for (size_t i = 0; i < own->n; i++) {
		const struct message *message = wording_find(known, own->messages[i].key);
		if (message) {
			check_message(reader, &own->messages[i], message);
			continue;
		}
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
