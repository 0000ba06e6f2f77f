/*
 * What is not plain YAML, or no fit text for a dose: each fault with its place. The plan's file is the one at fault.
 */
#include "support/clinic_files.h"

#include <string.h>

struct row {
	const char *name;
	const char *text;
	size_t length; /* 0: up to the zero */
	const char *said;
};

static const struct row rows[] = {
	{"a good plan", PLAN, 0, ""},
	{"a byte order mark", "\xef\xbb\xbf" PLAN, 0, ""},
	{"lines that end with a carriage return",
         "patient: {name: \"A B\", allergies: [none]}\r\nlanguage: en\r\nprotocol: p1\r\nas_of: 2026-12-03\r\n"
         "events: {go: 2026-12-04}\r\n",
         0, ""},
	{"comments and a document's start and end", "# first\n---\n" PLAN "...\n# last\n", 0, ""},
	{"nothing", "", 0,
         "plan.yaml: stop: there is nothing in this file; write its entries, or name the right file [empty-file]\n"},
	{"only comments", "# nothing\n\n# here\n", 0,
         "plan.yaml: stop: there is nothing in this file; write its entries, or name the right file [empty-file]\n"},
	{"only a document's start", "---\n", 0,
         "plan.yaml: stop: there is nothing in this file; write its entries, or name the right file [empty-file]\n"},
	{"a list where keys are wanted", "- a\n- b\n", 0,
         "plan.yaml:1:1: stop: this file must be keys of its own: patient, language, paper, large_print, protocol, "
         "as_of, version, replaces, good_until, zone ... [wrong-type]\n"},
	{"a word where keys are wanted", "hello\n", 0,
         "plan.yaml:1:1: stop: this file must be keys of its own: patient, language, paper, large_print, protocol, "
         "as_of, version, replaces, good_until, zone ... [wrong-type]\n"},
	{"two documents", PLAN "---\n" PLAN, 0,
         "plan.yaml:6:1: stop: a second document begins here; keep one, and delete the '---' between "
         "[several-documents]\n"},
	{"a key twice, and again", PLAN "language: es\nlanguage: en\n", 0,
         "plan.yaml:6:1: stop: the key 'language' is here twice, first in line 2; keep one [duplicate-key]\n"
         "plan.yaml:7:1: stop: the key 'language' is here twice, first in line 2; keep one [duplicate-key]\n"},
	{"a key twice on one line, after a letter of two bytes",
         PLAN "zone: Europe/London # \u00e9\ndoses: {\u00e9: 1, one: 1, one: 2}\n", 0,
         "plan.yaml:7:12: stop: '\u00e9' must be a list, each entry beginning with '- ' [wrong-type]\n"
         "plan.yaml:7:20: stop: 'one' must be a list, each entry beginning with '- ' [wrong-type]\n"
         "plan.yaml:7:23: stop: the key 'one' is here twice, first in line 7; keep one [duplicate-key]\n"},
	{"an anchor and an alias", PLAN "paper: &x a4\nlarge_print: *x\n", 0,
         "plan.yaml:6:8: stop: the anchor '&x' is not allowed; write each value where it is meant [anchor]\n"
         "plan.yaml:7:14: stop: the alias '*x' is not allowed; write the value itself [alias]\n"},
	{"an anchor on a map, an alias as a key", PLAN "away: &x []\n? *x\n: 1\n", 0,
         "plan.yaml:6:1: stop: 'away' has no entries; write one, or delete it [empty-value]\n"
         "plan.yaml:6:7: stop: the anchor '&x' is not allowed; write each value where it is meant [anchor]\n"
         "plan.yaml:7:3: stop: the alias '*x' is not allowed; write the value itself [alias]\n"},
	{"tags", PLAN "version: !!int 2\npaper: ! a4\nlarge_print: !own yes\n", 0,
         "plan.yaml:6:10: stop: the tag 'tag:yaml.org,2002:int' is not allowed; leave it out [tag]\n"
         "plan.yaml:7:8: stop: the tag '!' is not allowed; leave it out [tag]\n"
         "plan.yaml:8:14: stop: the tag '!own' is not allowed; leave it out [tag]\n"},
	{"a key that is a list", PLAN "? [a, b]\n: 1\n", 0,
         "plan.yaml:6:3: stop: a key must be a word; write 'key: value' [key-not-a-word]\n"},
	{"a merge key", PLAN "<<: {paper: a4}\n", 0,
         "plan.yaml:6:1: stop: unknown key '<<'; mend or delete it [unknown-key]\n"},
	{"a tab as indentation", PLAN "away:\n\t- 1\n", 0,
         "plan.yaml:7:1: stop: a tab stands where only spaces may; indent with spaces [tab]\n"},
	{"a tab in a text", PLAN "zone: \"Europe\\tLondon\"\n", 0,
         "plan.yaml:6:7: stop: this text holds U+0009, which is a control character; delete it [odd-character]\n"},
	{"a zero byte",
         PLAN "paper: a\0"
              "4\n",
         sizeof(PLAN "paper: a\0"
                     "4\n") -
                 1,
         "plan.yaml:6:9: stop: U+0000 is a control character; delete it [odd-character]\n"},
	{"a zero by escape", PLAN "paper: \"a\\0\"\n", 0,
         "plan.yaml:6:8: stop: this text holds U+0000, which is a control character; delete it [odd-character]\n"},
	{"a reordering character", "# \u202e\n" PLAN "paper: a4 # \u2066 \u2069\n", 0,
         "plan.yaml:1:3: stop: U+202E reorders the text around it, so that a dose may read as another; delete it "
         "[odd-character]\n"
         "plan.yaml:7:13: stop: U+2066 reorders the text around it, so that a dose may read as another; delete it "
         "[odd-character]\n"
         "plan.yaml:7:15: stop: U+2069 reorders the text around it, so that a dose may read as another; delete it "
         "[odd-character]\n"},
	{"a reordering character by escape", PLAN "doses: {one: [{from: 1, dose: \"\\u202e52.0 mg\"}]}\n", 0,
         "plan.yaml:6:31: stop: this text holds U+202E, which reorders the text around it, so that a dose may read as "
         "another; delete it [odd-character]\n"},
	{"a line end that does not show", PLAN "paper: a4 #\u2028paper: letter\n", 0,
         "plan.yaml:6:12: stop: U+2028 is a line end that most programs do not show; delete it [odd-character]\n"
         "plan.yaml:7:1: stop: the key 'paper' is here twice, first in line 6; keep one [duplicate-key]\n"},
	{"a byte order mark in the middle",
         PLAN "paper: \xef\xbb\xbf"
              "a4\n",
         0, "plan.yaml:6:8: stop: U+FEFF is a byte order mark in the middle of a file; delete it [odd-character]\n"},
	{"a byte that is not UTF-8",
         PLAN "paper: a\xff"
              "4\n",
         0, "plan.yaml:6:9: stop: this byte is not UTF-8; save the file as UTF-8 [not-utf8]\n"},
	{"a character cut off", PLAN "paper: \xe2\x82", 0,
         "plan.yaml:6:8: stop: this byte is not UTF-8; save the file as UTF-8 [not-utf8]\n"},
	{"a surrogate", PLAN "paper: \xed\xa0\x80\n", 0,
         "plan.yaml:6:8: stop: this byte is not UTF-8; save the file as UTF-8 [not-utf8]\n"},
	{"UTF-16",
         "\xff\xfe"
         "a\0",
         4, "plan.yaml: stop: this file is UTF-16; save it as UTF-8 [not-utf8]\n"},
	{"UTF-16 without a byte order mark", "a\0:\0 \0b\0", 8,
         "plan.yaml: stop: this file is UTF-16; save it as UTF-8 [not-utf8]\n"},
	{"UTF-16 the other way round", "\0a\0:\0 \0b", 8,
         "plan.yaml: stop: this file is UTF-16; save it as UTF-8 [not-utf8]\n"},
	{"UTF-32", "\xff\xfe\0\0a\0\0\0", 8, "plan.yaml: stop: this file is UTF-32; save it as UTF-8 [not-utf8]\n"},
	{"a spreadsheet's own file", "PK\3\4\24\0\6\0", 8,
         "plan.yaml: stop: this file is a spreadsheet's own file, and here belongs a text; name the right one "
         "[not-utf8]\n"},
	{"a PDF", "%PDF-1.7\n%\xe2\xe3\n", 0,
         "plan.yaml: stop: this file is a PDF, and here belongs a text; name the right one [not-utf8]\n"},
	{"a program", "\177ELF\2\1\1\0\0\0\0\0\0\0\0\0\2\0", 18,
         "plan.yaml: stop: this file is no text; is it the right one? Save it as plain text in UTF-8 [not-utf8]\n"},
	{"brackets that are not closed", PLAN "away: [{from: 1}\n", 0,
         "plan.yaml:7:1: stop: a ',' or ']' is missing before this [not-yaml]\n"},
	{"quotes that are not closed", PLAN "zone: \"Europe\n", 0,
         "plan.yaml:7:1: stop: the quotes opened before this are never closed [not-yaml]\n"},
	{"a key within a value", PLAN "zone: a: b\n", 0,
         "plan.yaml:6:8: stop: a ': ' stands where no key can be; put the words in quotes or mend the indentation "
         "[not-yaml]\n"},
	{"an indentation that fits nothing", "patient:\n    name: A\n  record: B\n", 0,
         "plan.yaml:3:3: stop: this is not 'key: value' at the indentation of the lines above; mend the indentation or "
         "the quotes [not-yaml]\n"},
	{"an escape that is none", PLAN "zone: \"Europe\\qLondon\"\n", 0,
         "plan.yaml:6:14: stop: this backslash is no escape; use single quotes, or write it twice [not-yaml]\n"},
};

static void says(void **state)
{
	const struct row *row = case_of(state)->row;
	enum load_status status;
	write_bytes(state, "plan.yaml", row->text, row->length ? row->length : strlen(row->text));
	assert_string_equal(what_is_said(state, &status), row->said);
	assert_int_equal(status, *row->said ? LOAD_REFUSED : LOAD_GOOD);
}

static const char *repeated(struct arena *arena, const char *text, size_t times)
{
	size_t length = strlen(text);
	char *result = arena_alloc(arena, length * times + 1);
	for (size_t i = 0; i < times; i++)
		memcpy(result + i * length, text, length);
	return result;
}

static void depth_has_an_end(void **state)
{
	struct arena *arena = case_of(state)->arena;
	enum load_status status;
	write_text(state, "plan.yaml", arena_printf(arena, "paper: %s\n", repeated(arena, "[", 100000)));
	assert_string_equal(
		what_is_said(state, &status),
		"plan.yaml:1:39: stop: this is nested more than 32 deep; no file here needs that [too-deep]\n");
}

static void size_has_an_end(void **state)
{
	struct arena *arena = case_of(state)->arena;
	enum load_status status;
	write_text(state, "plan.yaml", repeated(arena, "# a\n", 1024 * 1024 + 1));
	assert_string_equal(
		what_is_said(state, &status),
		"plan.yaml: stop: this file is larger than 4 MiB, so it is no list of a clinic; name the right "
		"file [too-large]\n");
	write_text(state, "plan.yaml", arena_printf(arena, "paper: [%s]\n", repeated(arena, "a,", 200001)));
	assert_string_equal(
		what_is_said(state, &status),
		"plan.yaml: stop: this file has over 200000 values, so it is no list of a clinic; name the right "
		"file [too-large]\n");
}

/* Each level doubles the one before: 2 to the power 24 values, were they unfolded. */
static void an_alias_bomb_stays_small(void **state)
{
	struct arena *arena = case_of(state)->arena;
	enum load_status status;
	const char *bomb = "a0: &a0 boom\n";
	for (int i = 1; i <= 24; i++)
		bomb = arena_printf(arena, "%sa%d: &a%d [*a%d, *a%d]\n", bomb, i, i, i - 1, i - 1);
	write_text(state, "plan.yaml", bomb);
	const char *said = what_is_said(state, &status);
	assert_int_equal(status, LOAD_REFUSED);
	assert_non_null(
		strstr(said, "plan.yaml:2:10: stop: the alias '*a0' is not allowed; write the value itself [alias]\n"));
}

static void faults_have_an_end(void **state)
{
	struct arena *arena = case_of(state)->arena;
	enum load_status status;
	write_text(state, "plan.yaml", repeated(arena, "x: 1\n", 50000));
	const char *said = what_is_said(state, &status);
	size_t lines = 0;
	for (const char *c = said; *c; c++)
		lines += *c == '\n';
	assert_int_equal(lines, 101);
	assert_non_null(
		strstr(said, "plan.yaml: stop: this file has over 100 faults; mend those first [too-many-faults]\n"));

	const char *keys = "";
	for (int i = 0; i < 300; i++)
		keys = arena_printf(arena, "%sx%d: 1\n", keys, i);
	write_text(state, "plan.yaml", keys);
	said = what_is_said(state, &status);
	lines = 0;
	for (const char *c = said; *c; c++)
		lines += *c == '\n';
	assert_int_equal(lines, 201);
	assert_non_null(
		strstr(said, "plan.yaml: stop: this file has over 200 faults; mend those first [too-many-faults]\n"));
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		tests_add_in_folder(&tests, rows[i].name, says, &rows[i]);
	tests_add_in_folder(&tests, "depth has an end", depth_has_an_end, NULL);
	tests_add_in_folder(&tests, "size has an end", size_has_an_end, NULL);
	tests_add_in_folder(&tests, "an alias bomb stays small", an_alias_bomb_stays_small, NULL);
	tests_add_in_folder(&tests, "faults have an end", faults_have_an_end, NULL);
	return tests_run(&tests, "plain YAML");
}
