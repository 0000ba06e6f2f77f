/*
 * words.c - messages filled in: places, bold switches, plural forms.
 *
 * A message is scanned once, left to right. {name} is replaced by its value;
 * values are never scanned again, so nothing a patient or a clinic wrote can
 * open a place or switch to bold.
 */
#include "words/words.h"

#include "words/speaker.h"

#include <assert.h>
#include <glib.h>
#include <stdarg.h>
#include <string.h>
#include <unicode/uchar.h>

#define BOLD_ON "\001"
#define BOLD_OFF "\002"

/* What stands in an isolate has a direction of its own, whatever is around it. */
#define LEFT_TO_RIGHT_ISOLATE "\u2066\u200E" /* the mark within: figures alone are turned even in an isolate */
#define FIRST_STRONG_ISOLATE "\u2068"

/* A text under construction in an arena. */
struct builder {
	struct arena *arena;
	char *text;
	size_t length;
	size_t room;
};

static void builder_add(struct builder *builder, const char *text, size_t length)
{
	if (builder->length + length + 1 > builder->room) {
		size_t room = 2 * (builder->length + length + 1) + 32;
		char *larger = arena_alloc(builder->arena, room);
		if (builder->length > 0)
			memcpy(larger, builder->text, builder->length);
		builder->text = larger;
		builder->room = room;
	}
	memcpy(builder->text + builder->length, text, length);
	builder->length += length;
	builder->text[builder->length] = '\0';
}

static const struct value *value_named(const struct value *values, size_t n, const char *name, size_t length)
{
	for (size_t i = 0; i < n; i++)
		if (strlen(values[i].name) == length && strncmp(values[i].name, name, length) == 0)
			return &values[i];
	return NULL;
}

static void missing_value(struct speaker *speaker, const struct message *message, const char *name, size_t length)
{
	findings_add(speaker->findings, FINDING_STOP, "unknown-placeholder", message->place,
	             "the words '%s' have a place '{%.*s}' that nothing fills; remove it or correct its name",
	             message->key, (int)length, name);
}

/* The length of the place at `text` ("{name}"), or 0 where there is none. */
static size_t place_length(const char *text)
{
	size_t length = 1;
	while ((text[length] >= 'a' && text[length] <= 'z') || text[length] == '_' ||
	       (text[length] >= '0' && text[length] <= '9'))
		length++;
	return length > 1 && text[length] == '}' ? length + 1 : 0;
}

static bool has_right_to_left(const char *text)
{
	for (const char *c = text; *c != '\0'; c = g_utf8_next_char(c)) {
		UCharDirection direction = u_charDirection((UChar32)g_utf8_get_char(c));
		if (direction == U_RIGHT_TO_LEFT || direction == U_RIGHT_TO_LEFT_ARABIC)
			return true;
	}
	return false;
}

/*
 * A telephone number, a time, a code, a name in other letters: among words that
 * run the other way each keeps an order of its own.
 */
static void add_value(struct builder *builder, const struct speaker *speaker, const char *value)
{
	bool runs_left = has_right_to_left(value);
	bool isolated = *value != '\0' && (speaker->right_to_left || runs_left);
	/* Figures have no letter to take a direction from: it is said. */
	const char *begin = runs_left ? FIRST_STRONG_ISOLATE : LEFT_TO_RIGHT_ISOLATE;
	if (isolated)
		builder_add(builder, begin, strlen(begin));
	builder_add(builder, value, strlen(value));
	if (isolated)
		builder_add(builder, ISOLATE_END, strlen(ISOLATE_END));
}

static const char *fill(struct speaker *speaker, const struct message *message, const char *text,
                        const struct value *values, size_t n)
{
	struct builder builder = {.arena = speaker->arena};
	bool bold = false;
	builder_add(&builder, "", 0);
	while (*text != '\0') {
		size_t place = *text == '{' ? place_length(text) : 0;
		if (place > 0) {
			const struct value *value = value_named(values, n, text + 1, place - 2);
			if (value == NULL)
				missing_value(speaker, message, text + 1, place - 2);
			else
				add_value(&builder, speaker, value->text);
			text += place;
		} else if (strncmp(text, "**", 2) == 0) {
			builder_add(&builder, bold ? BOLD_OFF : BOLD_ON, 1);
			bold = !bold;
			text += 2;
		} else {
			builder_add(&builder, text++, 1);
		}
	}
	return builder.text;
}

static const struct message *message_or_stop(struct speaker *speaker, const char *key)
{
	const struct message *message = wording_find(speaker->wording, key);
	if (message == NULL)
		findings_add(speaker->findings, FINDING_STOP, "text-missing", speaker->wording->place,
		             "the words '%s' are missing in '%s'; add them to words/%s.yaml", key, speaker->language,
		             speaker->language);
	return message;
}

static const char *form_named(const struct message *message, const char *form)
{
	for (size_t i = 0; i < message->n_forms; i++)
		if (strcmp(message->forms[i].form, form) == 0)
			return message->forms[i].text;
	return NULL;
}

const char *say(struct speaker *speaker, const char *key, const struct value *values, size_t n)
{
	const struct message *message = message_or_stop(speaker, key);
	if (message == NULL)
		return "";
	const char *text = form_named(message, "other");
	return text == NULL ? "" : fill(speaker, message, text, values, n);
}

const char *say0(struct speaker *speaker, const char *key)
{
	return say(speaker, key, NO_VALUES);
}

const char *say1(struct speaker *speaker, const char *key, const char *name, const char *text)
{
	struct value value = {name, text};
	return say(speaker, key, &value, 1);
}

const char *say_continued(struct speaker *speaker, const char *title)
{
	const char *end = g_utf8_find_prev_char(title, title + strlen(title));
	bool asks = end != NULL && g_unichar_break_type(g_utf8_get_char(end)) == G_UNICODE_BREAK_EXCLAMATION;
	return say1(speaker, asks ? "page.continued_question" : "page.continued", "title", title);
}

const char *say_capital(struct speaker *speaker, const char *text)
{
	char first[6];
	int n = g_unichar_to_utf8(g_unichar_totitle(g_utf8_get_char(text)), first);
	return *text == '\0' ? text : arena_printf(speaker->arena, "%.*s%s", n, first, g_utf8_next_char(text));
}

const char *say2(struct speaker *speaker, const char *key, const char *name_1, const char *text_1, const char *name_2,
                 const char *text_2)
{
	struct value values[] = {{name_1, text_1}, {name_2, text_2}};
	return say(speaker, key, values, 2);
}

const char *say_plural(struct speaker *speaker, const char *key, double number, const struct value *values, size_t n)
{
	const struct message *message = message_or_stop(speaker, key);
	if (message == NULL)
		return "";
	const char *text = form_named(message, speaker_plural(speaker, number));
	if (text == NULL)
		text = form_named(message, "other");
	return text == NULL ? "" : fill(speaker, message, text, values, n);
}

const char *say_count(struct speaker *speaker, const char *key, int64_t count, const struct value *values, size_t n)
{
	struct value *all = arena_alloc(speaker->arena, (n + 1) * sizeof *all);
	if (n > 0)
		memcpy(all, values, n * sizeof *all);
	all[n] = (struct value){"count", say_number(speaker, rational_of(count, 1))};
	return say_plural(speaker, key, (double)count, all, n + 1);
}

bool can_say(const struct speaker *speaker, const char *key)
{
	return wording_find(speaker->wording, key) != NULL;
}

const char *say_text(struct speaker *speaker, struct text text, const char *what)
{
	const char *words = text_in(text, speaker->language);
	if (words == NULL)
		findings_add(speaker->findings, FINDING_STOP, "text-missing", text.place,
		             "%s has no words in '%s'; write them beside the other languages", what, speaker->language);
	return words == NULL ? "" : words;
}

const char *speaker_language(const struct speaker *speaker)
{
	return speaker->language;
}
