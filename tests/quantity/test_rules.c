/*
 * The published rules of notation, rounding and unit codes that quantities
 * obey: each row of tests/published/rules.csv is one test, and what it expects
 * is taken from the row.
 */
#include "quantity/quantity.h"

#include "support/cases.h"
#include "support/published.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define NBSP "\xc2\xa0"

static struct rational number_of(struct arena *arena, const char *text)
{
	struct rational number = {0, 1};
	struct quantity_fault fault;
	if (!number_read(arena, text, DECIMAL_POINT, &number, &fault))
		fail_msg("'%s' is refused: %s", text, fault.says);
	return number;
}

/* What reading the text ends with: "" when read without a word, else the code. */
static const char *code_for(struct arena *arena, const char *text)
{
	struct quantity quantity;
	struct quantity_fault fault;
	bool answered = quantity_read(arena, text, DECIMAL_POINT, &quantity, &fault);
	assert_int_equal(answered, fault.code == NULL || fault.caution);
	return fault.code ? fault.code : "";
}

/* Splits "0.5 not .5" at the word. */
static void split_at(struct arena *arena, const char *value, const char *word, const char **left, const char **right)
{
	const char *found = strstr(value, word);
	assert_non_null(found);
	*left = arena_strndup(arena, value, (size_t)(found - value));
	*right = found + strlen(word);
}

/* The row's example. */
static const char *value_of(void **state)
{
	return case_of(state)->row;
}

static void leading_zero(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *right, *wrong;
	split_at(arena, value_of(state), " not ", &right, &wrong);
	assert_string_equal(number_print(arena, number_of(arena, right), DECIMAL_POINT), right);
	assert_string_equal(code_for(arena, arena_printf(arena, "%s mg", wrong)), "bare-decimal");
}

static void no_trailing_zero(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *right, *wrong;
	split_at(arena, value_of(state), " not ", &right, &wrong);
	struct quantity quantity;
	struct quantity_fault fault;
	assert_true(quantity_read(arena, arena_printf(arena, "%s mg", wrong), DECIMAL_POINT, &quantity, &fault));
	assert_true(fault.caution);
	assert_string_equal(number_print(arena, quantity.number, DECIMAL_POINT), right);
}

static void units_as_a_word(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct quantity ten = {{10, 1}, UNIT_UNITS};
	const char *expected = arena_printf(arena, "10 %s", value_of(state));
	assert_string_equal(quantity_plain(arena, ten, DECIMAL_POINT), expected);
	assert_string_equal(code_for(arena, "10 U"), "bare-u");
	assert_string_equal(code_for(arena, "10 u"), "bare-u");
	assert_string_equal(code_for(arena, "10U"), "bare-u");
}

/* The sources differ: either wording is read, one is printed. */
static void never_prints_iu(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *first, *second;
	split_at(arena, value_of(state), " or ", &first, &second);
	const char *const accepted[] = {first, second, "IU"};
	for (size_t i = 0; i < 3; i++) {
		struct quantity quantity;
		struct quantity_fault fault;
		const char *text = arena_printf(arena, "75 %s", accepted[i]);
		assert_true(quantity_read(arena, text, DECIMAL_POINT, &quantity, &fault));
		assert_string_equal(quantity_plain(arena, quantity, DECIMAL_POINT),
		                    arena_printf(arena, "75 %s", first));
	}
}

static void mcg_as_letters(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const char *const spellings[] = {"250 mcg", "250 \xc2\xb5g", "250 \xce\xbcg", "250 micrograms"};
	for (size_t i = 0; i < 4; i++) {
		struct quantity quantity;
		struct quantity_fault fault;
		assert_true(quantity_read(arena, spellings[i], DECIMAL_POINT, &quantity, &fault));
		assert_string_equal(quantity_plain(arena, quantity, DECIMAL_POINT),
		                    arena_printf(arena, "250 %s", value_of(state)));
	}
}

static void ml_not_cc(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *right = value_of(state);
	struct quantity quantity;
	struct quantity_fault fault;
	assert_string_equal(quantity_plain(arena, (struct quantity){{3, 2}, UNIT_ML}, DECIMAL_POINT),
	                    arena_printf(arena, "1.5 %s", right));
	assert_false(quantity_read(arena, "1.5 cc", DECIMAL_POINT, &quantity, &fault));
	assert_string_equal(fault.code, "unknown-unit");
	assert_non_null(strstr(fault.says, arena_printf(arena, "use '%s'", right)));
}

static void thousands_are_separated(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *value = value_of(state);
	assert_string_equal(number_print(arena, rational_of(1000, 1), DECIMAL_POINT), value);
	assert_int_equal(rational_compare(number_of(arena, value), rational_of(1000, 1)), 0);
	assert_string_equal(number_print(arena, rational_of(999, 1), DECIMAL_POINT), "999");
}

static void space_before_the_unit(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct quantity ten = {{10, 1}, UNIT_MG};
	assert_string_equal(quantity_plain(arena, ten, DECIMAL_POINT), value_of(state));
	for (enum unit unit = UNIT_NONE + 1; unit < UNIT_COUNT_OF; unit++) {
		const char *printed = quantity_print(arena, (struct quantity){{10, 1}, unit}, DECIMAL_POINT);
		assert_memory_equal(printed, "10" NBSP, strlen("10" NBSP));
		assert_null(strchr(printed, ' '));
	}
}

static void no_full_stop_after_the_unit(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *value = value_of(state);
	assert_string_equal(unit_name(UNIT_MG, false), value);
	for (enum unit unit = UNIT_NONE; unit < UNIT_COUNT_OF; unit++) {
		assert_null(strchr(unit_name(unit, true), '.'));
		assert_null(strchr(unit_name(unit, false), '.'));
	}
	assert_string_equal(code_for(arena, arena_printf(arena, "5 %s.", value)), "unknown-unit");
}

static void half_rounds_up(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *from, *to;
	split_at(arena, value_of(state), " to ", &from, &to);
	struct rational rounded;
	assert_true(rational_round_to(number_of(arena, from), rational_of(1, 100), &rounded));
	assert_string_equal(number_print(arena, rounded, DECIMAL_POINT), to);
}

/* --- UCUM: the code is the row's value --- */

static void code_reads_as(void **state, enum unit unit, const char *also)
{
	struct arena *arena = case_of(state)->arena;
	const char *const codes[] = {value_of(state), also};
	for (size_t i = 0; i < 2 && codes[i]; i++) {
		struct quantity quantity;
		struct quantity_fault fault;
		const char *text = arena_printf(arena, "2 %s", codes[i]);
		if (!quantity_read(arena, text, DECIMAL_POINT, &quantity, &fault))
			fail_msg("'%s' is refused: %s", text, fault.says);
		assert_null(fault.code);
		assert_int_equal(quantity.unit, unit);
	}
}

static void code_mg(void **state)
{
	code_reads_as(state, UNIT_MG, NULL);
}

static void code_ug(void **state)
{
	code_reads_as(state, UNIT_MCG, NULL);
}

static void code_g(void **state)
{
	code_reads_as(state, UNIT_G, NULL);
}

static void code_ml(void **state)
{
	code_reads_as(state, UNIT_ML, "ml");
}

static void code_iu(void **state)
{
	code_reads_as(state, UNIT_UNITS, "[iU]");
}

static void code_usp_unit(void **state)
{
	code_reads_as(state, UNIT_UNITS, NULL);
}

static void code_h(void **state)
{
	code_reads_as(state, UNIT_HOUR, NULL);
}

static void code_d(void **state)
{
	code_reads_as(state, UNIT_DAY, NULL);
}

/* It has no dimension, so it is no activity: refused, never taken for units. */
static void annotation_is_no_unit(void **state)
{
	struct arena *arena = case_of(state)->arena;
	assert_string_equal(code_for(arena, arena_printf(arena, "2 %s", value_of(state))), "unknown-unit");
}

static void cc_is_no_code(void **state)
{
	struct arena *arena = case_of(state)->arena;
	assert_string_equal(code_for(arena, arena_printf(arena, "2 %s", value_of(state))), "unknown-unit");
}

static void enzyme_unit_is_refused(void **state)
{
	struct arena *arena = case_of(state)->arena;
	assert_string_equal(code_for(arena, arena_printf(arena, "2 %s", value_of(state))), "bare-u");
}

/* --- The file --- */

static const struct {
	const char *id;
	CMUnitTestFunction function;
} rules[] = {
	{"R001", leading_zero},
	{"R002", no_trailing_zero},
	{"R003", units_as_a_word},
	{"R004", never_prints_iu},
	{"R005", mcg_as_letters},
	{"R006", ml_not_cc},
	{"R009", thousands_are_separated},
	{"R010", space_before_the_unit},
	{"R012", no_full_stop_after_the_unit},
	{"R022", half_rounds_up},
	{"R074", code_mg},
	{"R075", code_ug},
	{"R076", code_g},
	{"R077", code_ml},
	{"R078", code_iu},
	{"R079", code_usp_unit},
	{"R080", annotation_is_no_unit},
	{"R081", code_h},
	{"R082", code_d},
	{"R083", cc_is_no_code},
	{"R084", enzyme_unit_is_refused},
};

#define RULE_COUNT (sizeof rules / sizeof *rules)

/* Every row has a test here and every test a row, so that neither is lost. */
static void every_row_is_tested(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct published_table *table = published_read(arena, "rules.csv");
	assert_int_equal(table->n_rows, RULE_COUNT);
	for (size_t i = 0; i < table->n_rows; i++)
		assert_string_equal(published_value(table, i, "id"), rules[i].id);
}

static void every_source_is_listed(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct published_table *table = published_read(arena, "rules.csv");
	const struct published_table *sources = published_read(arena, "sources.csv");
	for (size_t i = 0; i < table->n_rows; i++) {
		const char *ids = published_value(table, i, "source_id");
		while (*ids) {
			size_t length = strcspn(ids, ";");
			const char *id = arena_strndup(arena, ids, length);
			if (published_find(sources, "source_id", id) < 0)
				fail_msg("%s names the source %s, which sources.csv lacks", table->rows[i][0], id);
			ids += length + (ids[length] == ';');
		}
	}
}

int main(void)
{
	struct arena *arena = arena_new();
	const struct published_table *table = published_read(arena, "rules.csv");
	struct tests tests = {0};
	for (size_t i = 0; i < RULE_COUNT; i++) {
		long found = published_find(table, "id", rules[i].id);
		if (found < 0)
			continue; /* the last test but one says so */
		const char *rule = published_value(table, (size_t)found, "rule");
		const char *value = published_value(table, (size_t)found, "value");
		tests_add(&tests, arena_printf(arena, "%s %s", rules[i].id, rule), rules[i].function, value);
	}
	tests_add(&tests, "every row is tested", every_row_is_tested, NULL);
	tests_add(&tests, "every source is listed", every_source_is_listed, NULL);
	int failed = tests_run(&tests, "rules");
	arena_free(arena);
	return failed;
}
