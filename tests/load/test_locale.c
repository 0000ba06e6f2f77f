/*
 * Countries and languages. The decimal marks and papers are common knowledge about each country, from memory; no
 * value was taken from the locale data under test.
 */
#include "load/locale.h"

#include "load/nearest.h"
#include "support/cases.h"

#include <stdbool.h>

struct country {
	const char *code;
	enum decimal_mark mark;
	enum paper paper;
};

static const struct country countries[] = {
	{"GB", DECIMAL_POINT, PAPER_A4},     {"IE", DECIMAL_POINT, PAPER_A4},     {"US", DECIMAL_POINT, PAPER_LETTER},
	{"CA", DECIMAL_POINT, PAPER_LETTER}, {"MX", DECIMAL_POINT, PAPER_LETTER}, {"PH", DECIMAL_POINT, PAPER_LETTER},
	{"CO", DECIMAL_COMMA, PAPER_LETTER}, {"CL", DECIMAL_COMMA, PAPER_LETTER}, {"DE", DECIMAL_COMMA, PAPER_A4},
	{"FR", DECIMAL_COMMA, PAPER_A4},     {"ES", DECIMAL_COMMA, PAPER_A4},     {"IT", DECIMAL_COMMA, PAPER_A4},
	{"PL", DECIMAL_COMMA, PAPER_A4},     {"UA", DECIMAL_COMMA, PAPER_A4},     {"CH", DECIMAL_POINT, PAPER_A4},
	{"IN", DECIMAL_POINT, PAPER_A4},     {"CN", DECIMAL_POINT, PAPER_A4},     {"JP", DECIMAL_POINT, PAPER_A4},
	{"VN", DECIMAL_COMMA, PAPER_A4},     {"BR", DECIMAL_COMMA, PAPER_A4},     {"AU", DECIMAL_POINT, PAPER_A4},
	{"EG", DECIMAL_POINT, PAPER_A4}, /* in Western digits */
};

static void country_writes(void **state)
{
	const struct country *country = case_of(state)->row;
	assert_true(country_known(country->code));
	assert_int_equal(country_mark(country->code), country->mark);
	assert_int_equal(country_paper(country->code), country->paper);
}

static void countries_that_are_none(void **state)
{
	(void)state;
	static const char *const none[] = {"", "G", "gb", "Gb", "UK", "EU", "XX", "ZZ", "GBR", "GB ", "und"};
	for (size_t i = 0; i < sizeof none / sizeof *none; i++)
		assert_false(country_known(none[i]));
}

static void languages(void **state)
{
	(void)state;
	static const char *const some[] = {"en", "es", "fr", "pl",  "ar",    "hi",     "zh",
	                                   "vi", "uk", "cy", "fil", "pt-BR", "zh-Hant"};
	static const char *const none[] = {"", "e", "EN", "En", "eng", "english", "xx", "en-", "en_GB", "en-G",
	                                   "en-GB-", "-GB", "en GB",
	                                   /* 36 characters: RFC 5646, 4.4.1, expects no more than 35 of anybody */
	                                   "en-aaaaaaa1-aaaaaaa2-aaaaaaa3-aaaaaa"};
	assert_true(language_known("en-aaaaaaa1-aaaaaaa2-aaaaaaa3-aaaaa"));
	for (size_t i = 0; i < sizeof some / sizeof *some; i++)
		if (!language_known(some[i]))
			fail_msg("'%s' is a language", some[i]);
	for (size_t i = 0; i < sizeof none / sizeof *none; i++)
		if (language_known(none[i]))
			fail_msg("'%s' is no language", none[i]);
}

/* ---- the nearest word ---- */

struct guess {
	const char *word;
	const char *offered[4];
	const char *best; /* NULL: none */
};

static const struct guess guesses[] = {
	{"examplin", {"examplin"}, "examplin"},
	{"exampin", {"other", "examplin", "sample"}, "examplin"},
	{"exmaplin", {"examplin"}, "examplin"},
	{"Examplin", {"examplin"}, "examplin"},
	{"examplinx", {"examplin"}, "examplin"},
	{"strenght", {"strength", "start"}, "strength"},
	{"route", {"rub", "span"}, NULL},
	{"abc", {"xyz"}, NULL},
	{"abc", {"abd", "abe"}, "abd"}, /* of two equally near, the first */
	{"ab", {"ac"}, "ac"},
	{"ab", {"xy", "abcd"}, NULL},
	{"", {"a", "b"}, NULL},
	{"a", {"", "b"}, NULL},
	{"averyveryveryveryveryveryveryveryverylongwordindeed",
         {"averyveryveryveryveryveryveryveryverylongwordindeed"},
         NULL},
};

static void guesses_right(void **state)
{
	const struct guess *guess = case_of(state)->row;
	struct nearest nearest = nearest_to(guess->word);
	for (size_t i = 0; i < 4 && guess->offered[i]; i++)
		nearest_offer(&nearest, guess->offered[i]);
	const char *hint = nearest_hint(case_of(state)->arena, &nearest);
	if (guess->best) {
		assert_string_equal(nearest.best, guess->best);
		assert_string_equal(hint, arena_printf(case_of(state)->arena, "; did you mean '%s'?", guess->best));
	} else {
		assert_null(nearest.best);
		assert_string_equal(hint, "");
	}
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof countries / sizeof *countries; i++)
		tests_add(&tests, countries[i].code, country_writes, &countries[i]);
	tests_add(&tests, "countries that are none", countries_that_are_none, NULL);
	tests_add(&tests, "languages", languages, NULL);
	for (size_t i = 0; i < sizeof guesses / sizeof *guesses; i++)
		tests_add(&tests, guesses[i].word, guesses_right, &guesses[i]);
	return tests_run(&tests, "countries, languages, guesses");
}
