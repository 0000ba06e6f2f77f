#include "base/finding.h"

#include "support/cases.h"

#include <string.h>

static const struct source_file june = {.name = "june.csv"};
static const struct source_file formulary = {.name = "formulary.yaml"};

struct printed {
	const char *name;
	struct finding finding;
	const char *text;
};

static const struct printed printed[] = {
	{"file, line and column",
         {FINDING_STOP, "unknown-unit", {&june, 14, 9}, "unknown unit 'mgs'; use 'mg' or 'mcg'"},
         "june.csv:14:9: stop: unknown unit 'mgs'; use 'mg' or 'mcg' [unknown-unit]"},
	{"no column",
         {FINDING_CAUTION, "allergies", {&june, 3, 0}, "no allergies are given"},
         "june.csv:3: caution: no allergies are given [allergies]"},
	{"no line",
         {FINDING_NOTE, "defined-here", {&formulary, 0, 0}, "the product is defined here"},
         "formulary.yaml: note: the product is defined here [defined-here]"},
	{"no file",
         {FINDING_STOP, "usage", {NULL, 0, 0}, "unknown option '--colour'"},
         "fillmark: stop: unknown option '--colour' [usage]"},
};

static void prints(void **state)
{
	const struct printed *row = case_of(state)->row;
	assert_string_equal(finding_print(case_of(state)->arena, &row->finding), row->text);
}

static void others_are_added_once(void **state)
{
	struct findings findings = findings_in(case_of(state)->arena);
	struct arena *arena = arena_new();
	struct findings others = findings_in(arena);
	findings_add(&findings, FINDING_NOTE, "a", (struct place){&june, 1, 1}, "first");
	findings_add_all(&findings, &others);
	assert_int_equal(findings.n, 1);
	findings_add(&others, FINDING_NOTE, "a", (struct place){&june, 1, 1}, "first");
	findings_add(&others, FINDING_STOP, "b", (struct place){&june, 2, 3}, "%s", "50 %s");
	findings_add_all(&findings, &others);
	arena_free(arena);
	assert_int_equal(findings.n, 2);
	assert_string_equal(finding_print(case_of(state)->arena, &findings.list[1]), "june.csv:2:3: stop: 50 %s [b]");
}

/* What was written may hold a line break, which would forge a line of its own, and may have no end. */
static void a_sentence_is_one_line(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	findings_add(&findings, FINDING_STOP, "code", (struct place){&june, 1, 1}, "unknown '%s'",
	             "a\njune.csv:1:1: note: b\r\x1b[0m");
	assert_string_equal(findings.list[0].says, "unknown 'a june.csv:1:1: note: b  [0m'");

	/* An e with an accent is two bytes: 1,999 bytes of it cannot be told without cutting one in two. */
	char *endless = arena_alloc(arena, 4001);
	for (size_t i = 0; i < 4000; i += 2)
		memcpy(endless + i, "\u00e9", 2);
	findings_add(&findings, FINDING_STOP, "code", (struct place){&june, 2, 1}, "-%s", endless);
	const char *says = findings.list[1].says;
	assert_int_equal(strlen(says), 1999 + 3);
	assert_memory_equal(says + 1997, "\u00e9...", 6);
	findings_add(&findings, FINDING_STOP, "code", (struct place){&june, 3, 1}, "%s", endless + 2000);
	assert_int_equal(strlen(findings.list[2].says), 2000);
}

static void same_is_kept_once(void **state)
{
	struct findings findings = findings_in(case_of(state)->arena);
	struct place place = {&june, 14, 9};
	findings_add(&findings, FINDING_STOP, "code", place, "%d mg", 5);
	findings_add(&findings, FINDING_STOP, "code", place, "5 %s", "mg");
	assert_int_equal(findings.n, 1);
	findings_add(&findings, FINDING_CAUTION, "code", place, "5 mg");
	findings_add(&findings, FINDING_STOP, "other", place, "5 mg");
	findings_add(&findings, FINDING_STOP, "code", place, "6 mg");
	findings_add(&findings, FINDING_STOP, "code", (struct place){&june, 15, 9}, "5 mg");
	findings_add(&findings, FINDING_STOP, "code", (struct place){&june, 14, 8}, "5 mg");
	findings_add(&findings, FINDING_STOP, "code", (struct place){&formulary, 14, 9}, "5 mg");
	findings_add(&findings, FINDING_STOP, "code", (struct place){NULL, 14, 9}, "5 mg");
	assert_int_equal(findings.n, 8);
}

static void levels_are_counted(void **state)
{
	struct findings findings = findings_in(case_of(state)->arena);
	assert_int_equal(findings.n, 0);
	assert_false(findings_stop(&findings));
	findings_add(&findings, FINDING_NOTE, "a", (struct place){0}, "note");
	findings_add(&findings, FINDING_CAUTION, "b", (struct place){0}, "caution 1");
	findings_add(&findings, FINDING_CAUTION, "b", (struct place){0}, "caution 2");
	assert_false(findings_stop(&findings));
	findings_add(&findings, FINDING_STOP, "c", (struct place){0}, "stop");
	assert_true(findings_stop(&findings));
	assert_int_equal(findings_count(&findings, FINDING_NOTE), 1);
	assert_int_equal(findings_count(&findings, FINDING_CAUTION), 2);
	assert_int_equal(findings_count(&findings, FINDING_STOP), 1);
}

/* Files as they first appear, then line, then column; what has one place keeps its order. */
static void sorts_by_place(void **state)
{
	struct findings findings = findings_in(case_of(state)->arena);
	findings_sort(&findings);
	assert_int_equal(findings.n, 0);
	findings_add(&findings, FINDING_STOP, "x", (struct place){&june, 9, 4}, "4");
	findings_add(&findings, FINDING_STOP, "x", (struct place){&formulary, 2, 1}, "7");
	findings_add(&findings, FINDING_STOP, "x", (struct place){&june, 9, 2}, "2");
	findings_add(&findings, FINDING_STOP, "x", (struct place){NULL, 0, 0}, "8");
	findings_add(&findings, FINDING_NOTE, "x", (struct place){&june, 9, 4}, "5");
	findings_add(&findings, FINDING_STOP, "x", (struct place){&formulary, 1, 5}, "6");
	findings_add(&findings, FINDING_STOP, "x", (struct place){&june, 1, 80}, "1");
	findings_add(&findings, FINDING_STOP, "a", (struct place){&june, 9, 2}, "3");
	findings_sort(&findings);
	char order[16] = "";
	for (size_t i = 0; i < findings.n; i++)
		strcat(order, findings.list[i].says);
	assert_string_equal(order, "12345678");

	struct findings two = findings_in(case_of(state)->arena);
	findings_add(&two, FINDING_STOP, "x", (struct place){&june, 2, 1}, "later");
	findings_add(&two, FINDING_STOP, "x", (struct place){&june, 1, 1}, "earlier");
	findings_sort(&two);
	assert_string_equal(two.list[0].says, "earlier");
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof printed / sizeof *printed; i++)
		tests_add(&tests, printed[i].name, prints, &printed[i]);
	tests_add(&tests, "a sentence is one line", a_sentence_is_one_line, NULL);
	tests_add(&tests, "the same twice is kept once", same_is_kept_once, NULL);
	tests_add(&tests, "another list is added, the same once", others_are_added_once, NULL);
	tests_add(&tests, "levels are counted", levels_are_counted, NULL);
	tests_add(&tests, "sorts by place", sorts_by_place, NULL);
	return tests_run(&tests, "finding");
}
