/*
 * Every language that is shipped says what English says: the same keys, the same places to fill in, as many bold
 * words, every plural form that the language has, and nothing left in English.
 */
#include "support/cases.h"
#include "support/sample_words.h"

#include <ctype.h>
#include <glob.h>
#include <stdio.h>
#include <string.h>
#include <unicode/upluralrules.h>
#include <unicode/ustring.h>

enum { MOST_LANGUAGES = 16 };

static char languages[MOST_LANGUAGES][16];
static size_t n_languages;

static void find_languages(void)
{
	glob_t found;
	assert_int_equal(glob("templates/words/*.yaml", 0, NULL, &found), 0);
	for (size_t i = 0; i < found.gl_pathc && n_languages < MOST_LANGUAGES; i++) {
		const char *name = strrchr(found.gl_pathv[i], '/') + 1;
		snprintf(languages[n_languages++], sizeof languages[0], "%.*s", (int)(strlen(name) - 5), name);
	}
	globfree(&found);
}

/* ---- what each test is about: a language against English ---- */

struct pair {
	struct arena *arena;
	const struct wording *english;
	const struct wording *other;
	int faults;
};

static struct pair pair_of(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *language = case_of(state)->row;
	return (struct pair){arena, sample_words(arena), sample_words_in(arena, language), 0};
}

static void fault(struct pair *pair, const char *key, const char *says)
{
	print_error("%s.yaml: '%s' %s\n", pair->other->language, key, says);
	pair->faults++;
}

static void same_keys(void **state)
{
	struct pair pair = pair_of(state);
	assert_true(pair.english->n > 500);
	for (size_t i = 0; i < pair.english->n; i++)
		if (wording_find(pair.other, pair.english->messages[i].key) == NULL)
			fault(&pair, pair.english->messages[i].key, "is missing");
	for (size_t i = 0; i < pair.other->n; i++)
		if (wording_find(pair.english, pair.other->messages[i].key) == NULL)
			fault(&pair, pair.other->messages[i].key, "is not in English");
	assert_int_equal(pair.faults, 0);
}

static const char *form_of(const struct message *message, const char *form)
{
	for (size_t i = 0; i < message->n_forms; i++)
		if (strcmp(message->forms[i].form, form) == 0)
			return message->forms[i].text;
	return NULL;
}

/* ---- places and bold words ---- */

static int count_of(const char *text, const char *part)
{
	int n = 0;
	for (const char *at = text; (at = strstr(at, part)) != NULL; at += strlen(part))
		n++;
	return n;
}

/* True when all "{places}" of one text are in the other, as often. */
static bool has_places_of(struct arena *arena, const char *text, const char *other)
{
	for (const char *open = strchr(text, '{'); open != NULL; open = strchr(open + 1, '{')) {
		const char *close = strchr(open, '}');
		assert_non_null(close);
		const char *place = arena_strndup(arena, open, (size_t)(close - open + 1));
		if (count_of(text, place) != count_of(other, place))
			return false;
	}
	return true;
}

static void same_places(void **state)
{
	struct pair pair = pair_of(state);
	for (size_t i = 0; i < pair.other->n; i++) {
		const struct message *message = &pair.other->messages[i];
		const struct message *english = wording_find(pair.english, message->key);
		for (size_t j = 0; english != NULL && j < message->n_forms; j++) {
			const char *text = message->forms[j].text;
			const char *model = form_of(english, message->forms[j].form);
			model = model == NULL ? form_of(english, "other") : model;
			if (!has_places_of(pair.arena, text, model) || !has_places_of(pair.arena, model, text))
				fault(&pair, message->key, "has other places than English");
			if (count_of(text, "**") != count_of(model, "**"))
				fault(&pair, message->key, "has more or fewer bold words than English");
		}
	}
	assert_int_equal(pair.faults, 0);
}

/* ---- plural forms ---- */

/* The forms that a count on a page can ask for in a language: by ICU, for what is counted and for halves. */
static bool asks_for(const UPluralRules *rules, const char *form)
{
	for (int half = 0; half < 400; half++) {
		UChar wide[16];
		char narrow[16];
		UErrorCode status = U_ZERO_ERROR;
		int32_t length = uplrules_select(rules, half / 2.0, wide, 16, &status);
		assert_true(U_SUCCESS(status) && length < 16);
		u_UCharsToChars(wide, narrow, length);
		narrow[length] = '\0';
		if (strcmp(narrow, form) == 0)
			return true;
	}
	return false;
}

static void all_plural_forms(void **state)
{
	static const char *const forms[] = {"zero", "one", "two", "few", "many", "other"};
	struct pair pair = pair_of(state);
	UErrorCode status = U_ZERO_ERROR;
	UPluralRules *rules = uplrules_open(pair.other->language, &status);
	assert_true(U_SUCCESS(status));
	int plural = 0;
	for (size_t i = 0; i < pair.english->n; i++) {
		const struct message *message = wording_find(pair.other, pair.english->messages[i].key);
		if (message == NULL || pair.english->messages[i].n_forms == 1)
			continue;
		plural++;
		for (size_t j = 0; j < sizeof forms / sizeof *forms; j++)
			if (asks_for(rules, forms[j]) && form_of(message, forms[j]) == NULL)
				fault(&pair, message->key, "lacks a plural form of its language");
	}
	uplrules_close(rules);
	assert_true(plural > 10);
	assert_int_equal(pair.faults, 0);
}

/* ---- nothing left in English ---- */

/* "min" is a sign, as "mL" is, and not a word. */
static bool is_sign(const char *text)
{
	return strncmp(text, "min", 3) == 0 && !isalpha((unsigned char)text[3]);
}

/* True when the text has a word of letters outside its {places}; units and patterns of a date are none. */
static bool has_words(const char *text)
{
	bool inside = false;
	int letters = 0;
	for (const char *c = text; *c != '\0'; c++) {
		inside = *c == '{' || (inside && *c != '}');
		bool letter = (*c >= 'a' && *c <= 'z') || (*c >= 'A' && *c <= 'Z');
		letters = letter && !inside ? letters + 1 : 0;
		if (letters >= 3 && !is_sign(c - 2))
			return true;
	}
	return false;
}

static void nothing_in_english(void **state)
{
	struct pair pair = pair_of(state);
	if (strcmp(pair.other->language, "en") == 0)
		return;
	for (size_t i = 0; i < pair.other->n; i++) {
		const struct message *message = &pair.other->messages[i];
		const struct message *english = wording_find(pair.english, message->key);
		bool pattern = strncmp(message->key, "date.", 5) == 0;
		for (size_t j = 0; english != NULL && !pattern && j < message->n_forms; j++) {
			const char *text = message->forms[j].text;
			const char *model = form_of(english, message->forms[j].form);
			if (model != NULL && strcmp(text, model) == 0 && has_words(text))
				fault(&pair, message->key, "is as in English");
		}
	}
	assert_int_equal(pair.faults, 0);
}

int main(void)
{
	static const struct {
		const char *name;
		CMUnitTestFunction function;
	} kinds[] = {
		{"has the keys of English", same_keys},
		{"has the places and bold words of English", same_places},
		{"has every plural form of its language", all_plural_forms},
		{"has nothing left in English", nothing_in_english},
	};
	struct tests tests = {0};
	find_languages();
	for (size_t i = 0; i < n_languages; i++)
		for (size_t j = 0; j < sizeof kinds / sizeof *kinds; j++) {
			char name[300];
			snprintf(name, sizeof name, "%s %s", languages[i], kinds[j].name);
			tests_add(&tests, name, kinds[j].function, languages[i]);
		}
	return tests_run(&tests, "languages");
}
