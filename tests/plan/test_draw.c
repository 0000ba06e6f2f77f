/*
 * The published draws: each row of tests/published/draws.csv is a test, named by its id, medicine and source, that the
 * program computes what the row says and refuses what the row says must be refused. The rows of worked.csv on syringes
 * and concentrations follow. What a row expects is read from the row at run time.
 */
#include "plan/bare_draw.h"
#include "plan/draw.h"

#include "support/cases.h"
#include "support/draws.h"
#include "support/published.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { N_DRAWS = 67 };

struct row {
	const struct published_table *table;
	size_t number;
};

static const char *value(const struct row *row, const char *column)
{
	return published_value(row->table, row->number, column);
}

static bool has(const struct row *row, const char *column)
{
	return *value(row, column) != 0;
}

static bool begins(const char *text, const char *with)
{
	return strncmp(text, with, strlen(with)) == 0;
}

static bool behaves(const struct row *row, const char *as)
{
	return begins(value(row, "expected_behaviour"), as);
}

/* ---- a row as a product and an order ---- */

static struct quantity quantity_in_row(const struct row *row, const char *amount, const char *unit)
{
	enum unit read = unit_read(value(row, unit), strlen(value(row, unit)));
	assert_int_not_equal(read, UNIT_NONE);
	return (struct quantity){decimal_of(value(row, amount)), read};
}

static struct stated_quantity ml_in_row(const struct row *row, const char *column, int line)
{
	struct stated_quantity stated = {.given = has(row, column), .place = formulary_at(line)};
	if (stated.given)
		stated.quantity = (struct quantity){decimal_of(value(row, column)), UNIT_ML};
	return stated;
}

static struct stated_quantity label_in_row(const struct row *row)
{
	struct stated_quantity stated = {.given = has(row, "label_concentration_per_mL"), .place = formulary_at(13)};
	if (stated.given)
		stated.quantity = quantity_in_row(row, "label_concentration_per_mL", "strength_unit");
	return stated;
}

/* The device of a row: a filled syringe where it has a scale of its own, or is given whole, or has no scale. */
static enum container_kind container_of(const struct row *row)
{
	const char *syringe = value(row, "syringe");
	if (strcmp(value(row, "form"), "powder+diluent") == 0)
		return CONTAINER_POWDER_VIAL;
	if (strcmp(syringe, "P025") == 0 || strcmp(syringe, "NONE") == 0)
		return CONTAINER_PREFILLED_SYRINGE;
	return CONTAINER_SOLUTION_VIAL;
}

/*
 * A vial's strength is what is in 1 mL, as rows order more than the volume that their strength is stated in; a filled
 * syringe holds that volume and no more.
 */
static struct product product_of_row(const struct row *row)
{
	struct product product = {.id = "row",
	                          .container = container_of(row),
	                          .concentration = label_in_row(row),
	                          .displacement = ml_in_row(row, "displacement_mL", 14),
	                          .powders_per_diluent = 1,
	                          .part = PART_EXPEL_FIRST,
	                          .place = formulary_at(10)};
	struct stated_quantity strength = {.given = true,
	                                   .quantity = quantity_in_row(row, "strength_amount", "strength_unit"),
	                                   .place = formulary_at(11)};
	struct stated_quantity volume = ml_in_row(row, "strength_volume_mL", 12);
	product.diluent.use = product.diluent.supplied = ml_in_row(row, "diluent_mL", 15);
	product.diluent.given = product.diluent.use.given;
	if (product.container == CONTAINER_SOLUTION_VIAL && volume.given) {
		product.per_ml = strength;
		assert_true(rational_divide(strength.quantity.number, volume.quantity.number,
		                            &product.per_ml.quantity.number));
	} else {
		product.strength = strength;
		product.volume = volume;
	}
	return product;
}

static struct draw_request request_of_row(const struct row *row, const struct product *product)
{
	return (struct draw_request){.dose = quantity_in_row(row, "dose", "dose_unit"),
	                             .product = product,
	                             .containers = 1,
	                             .whole = behaves(row, "whole container"),
	                             .syringe = hand_syringe(value(row, "syringe")),
	                             .stock = hand_stock,
	                             .n_stock = N_HAND_STOCK,
	                             .place = order_at(7),
	                             .name = value(row, "medicine")};
}

/* ---- what is checked ---- */

static void check_figures(struct arena *arena, const struct row *row, const struct draw *draw)
{
	struct rational tabled;
	if (has(row, "expected_volume_ratio"))
		assert_string_equal(ratio_of(arena, draw->volume), value(row, "expected_volume_ratio"));
	if (draw->concentration.unit == UNIT_NONE)
		return;
	/* The table has six places. */
	assert_true(rational_round_to(draw->concentration.number, rational_of(1, 1000000), &tabled));
	assert_string_equal(ratio_of(arena, tabled),
	                    ratio_of(arena, decimal_of(value(row, "concentration_used_per_mL"))));
}

static void scale_equals(struct arena *arena, const struct syringe *syringe, struct rational ml, const char *expected)
{
	struct rational number;
	assert_true(syringe_scale_number(syringe, ml, &number));
	assert_string_equal(ratio_of(arena, number), ratio_of(arena, decimal_of(expected)));
}

static void check_neighbours(struct arena *arena, const struct row *row, const struct draw *draw)
{
	const struct syringe *syringe = hand_syringe(value(row, "syringe"));
	if (!has(row, "line_below"))
		return;
	/* Lines that go on beyond the end of a scale: the two rows whose volume the syringe does not hold. */
	struct syringe endless = *syringe;
	endless.graduated = rational_of(1000, 1);
	struct neighbours next = syringe_neighbours(&endless, draw->volume);
	assert_int_equal(next.on_line, atoi(value(row, "on_a_line")));
	scale_equals(arena, syringe, next.below, value(row, "line_below"));
	scale_equals(arena, syringe, next.above, value(row, "line_above"));
	assert_string_equal(syringe->unit_scale ? "units" : "mL", value(row, "mark_unit"));
}

static const struct finding *find(const struct findings *findings, const char *code)
{
	for (size_t i = 0; i < findings->n; i++)
		if (strcmp(findings->list[i].code, code) == 0)
			return &findings->list[i];
	return NULL;
}

/* Refused for this reason alone, at the order's place and with the medicine's name. */
static const char *refused_for(const struct row *row, const struct findings *findings, bool made, const char *code)
{
	assert_false(made);
	for (size_t i = 0; i < findings->n; i++)
		if (findings->list[i].level == FINDING_STOP && strcmp(findings->list[i].code, code) != 0)
			fail_msg("refused with [%s]: %s", findings->list[i].code, findings->list[i].says);
	const struct finding *finding = find(findings, code);
	if (!finding)
		fail_msg("not refused with [%s]", code);
	assert_int_equal(finding->level, FINDING_STOP);
	assert_int_equal(finding->place.line, 7);
	assert_int_equal(finding->place.column, 11);
	assert_non_null(strstr(finding->says, value(row, "medicine")));
	return finding->says;
}

static void says(const char *sentence, const char *words)
{
	if (!strstr(sentence, words))
		fail_msg("'%s' is not in: %s", words, sentence);
}

static void is_on_line(struct arena *arena, const struct row *row, const struct draw *draw)
{
	assert_true(syringe_has_line(draw->mark.syringe, draw->mark.at));
	assert_ptr_equal(draw->mark.syringe, hand_syringe(value(row, "syringe")));
	assert_false(draw->mark.all);
	assert_string_equal(ratio_of(arena, draw->mark.number),
	                    ratio_of(arena, decimal_of(value(row, "expected_mark"))));
}

/* Where the medicine allowed any rounding, the nearest line is the row's, and so is the difference. */
static void check_nearest(struct arena *arena, const struct row *row, struct draw_request request)
{
	struct findings findings = findings_in(arena);
	struct draw draw;
	struct rational error, hundredths;
	request.rounding = (struct rounding){.given = true, .most = rational_of(1, 1)};
	assert_true(draw_make(arena, &request, &draw, &findings));
	is_on_line(arena, row, &draw);
	assert_true(draw.rounded);
	assert_true(quantity_ratio(draw.given, draw.dose, &error));
	assert_true(rational_subtract(error, rational_of(1, 1), &error));
	assert_true(rational_multiply(error, rational_of(100, 1), &error));
	assert_true(rational_round_to(error, rational_of(1, 100), &hundredths));
	assert_string_equal(ratio_of(arena, hundredths),
	                    ratio_of(arena, decimal_of(value(row, "nearest_line_error_percent"))));
}

static void check_between(struct arena *arena, const struct row *row, const struct draw_request *request, bool made,
                          const struct findings *findings)
{
	const char *sentence = refused_for(row, findings, made, "volume-between-lines");
	const char *line = request->syringe->unit_scale ? "line " : "";
	const char *unit = request->syringe->unit_scale ? "" : " mL";
	const char *below = number_print(arena, decimal_of(value(row, "line_below")), DECIMAL_POINT);
	const char *above = number_print(arena, decimal_of(value(row, "line_above")), DECIMAL_POINT);
	says(sentence, arena_printf(arena, "between %s%s%s (", line, below, unit));
	says(sentence, arena_printf(arena, " and %s%s%s (", line, above, unit));
	check_nearest(arena, row, *request);
}

/* The reason that a row gives, by what the program calls it. */
static const struct {
	const char *behaviour;
	const char *code;
	const char *names;
} reasons[] = {
	{"refuse: part dose from a device without graduation", "no-scale", "without a scale"},
	{"refuse or split: volume exceeds syringe capacity", "no-syringe-holds", "at least 2 injections"},
	{"refuse: dose unit and strength unit cannot be converted", "unit-mismatch", "has no fixed factor"},
	{"two containers: dose exceeds one container", "dose-over-container", "needs 2 containers"},
	{"refuse: zero dose", "not-positive", "zero"},
};

static void check_refusal(const struct row *row, bool made, const struct findings *findings)
{
	for (size_t i = 0; i < sizeof reasons / sizeof *reasons; i++) {
		if (strcmp(value(row, "expected_behaviour"), reasons[i].behaviour) != 0)
			continue;
		says(refused_for(row, findings, made, reasons[i].code), reasons[i].names);
		return;
	}
	fail_msg("nothing is known of '%s'", value(row, "expected_behaviour"));
}

static void check_warning(const struct row *row, const struct findings *findings)
{
	const struct finding *caution = find(findings, "scale-is-not-dose");
	assert_non_null(caution);
	assert_int_equal(caution->level, FINDING_CAUTION);
	says(caution->says, value(row, "expected_behaviour") + strlen("warn: "));
}

static void draws_as_published(void **state)
{
	struct test_case *test = case_of(state);
	const struct row *row = test->row;
	struct product product = product_of_row(row);
	struct draw_request request = request_of_row(row, &product);
	struct findings findings = findings_in(test->arena);
	struct draw draw;
	bool made = draw_make(test->arena, &request, &draw, &findings);

	check_figures(test->arena, row, &draw);
	check_neighbours(test->arena, row, &draw);
	assert_int_equal(made, !findings_stop(&findings));
	if (behaves(row, "between lines")) {
		check_between(test->arena, row, &request, made, &findings);
	} else if (behaves(row, "whole container")) {
		assert_true(made && draw.mark.all);
	} else if (behaves(row, "ok: on a line") || behaves(row, "warn: ")) {
		assert_true(made && !draw.rounded);
		is_on_line(test->arena, row, &draw);
		assert_string_equal(ratio_of(test->arena, draw.mark.at), ratio_of(test->arena, draw.volume));
	} else {
		check_refusal(row, made, &findings);
	}
	if (behaves(row, "warn: "))
		check_warning(row, &findings);
}

/* ---- the same rows as questions without a clinic ---- */

static struct bare_draw bare_of_row(const struct row *row)
{
	return (struct bare_draw){.dose = quantity_in_row(row, "dose", "dose_unit"),
	                          .strength = quantity_in_row(row, "strength_amount", "strength_unit"),
	                          .volume = ml_in_row(row, "strength_volume_mL", 0),
	                          .liquid = ml_in_row(row, "diluent_mL", 0),
	                          .displacement = ml_in_row(row, "displacement_mL", 0),
	                          .concentration = label_in_row(row),
	                          .syringe = hand_syringe(value(row, "syringe")),
	                          .stock = hand_stock,
	                          .n_stock = N_HAND_STOCK};
}

static const char *line_in_row(struct arena *arena, const struct row *row, const char *column)
{
	const char *number = number_print(arena, decimal_of(value(row, column)), DECIMAL_POINT);
	bool units = strcmp(value(row, "mark_unit"), "units") == 0;
	return units ? arena_printf(arena, "line %s", number) : arena_printf(arena, "%s mL", number);
}

static void check_bare_lines(struct arena *arena, const struct row *row, const struct bare_answer *answer)
{
	bool holds = !behaves(row, "refuse or split");
	assert_string_equal(answer->syringe, value(row, "syringe"));
	if (!holds) {
		assert_null(answer->mark);
		assert_null(answer->above);
		assert_false(answer->between_marks);
		return;
	}
	assert_int_equal(answer->between_marks, strcmp(value(row, "on_a_line"), "0") == 0);
	assert_string_equal(answer->below, line_in_row(arena, row, "line_below"));
	assert_string_equal(answer->above, line_in_row(arena, row, "line_above"));
	if (answer->made)
		assert_string_equal(answer->mark, line_in_row(arena, row, "expected_mark"));
	else
		assert_null(answer->mark);
}

static void answers_as_published(void **state)
{
	struct test_case *test = case_of(state);
	const struct row *row = test->row;
	struct bare_draw bare = bare_of_row(row);
	struct findings findings = findings_in(test->arena);
	struct bare_answer answer;
	bare_draw_make(test->arena, &bare, &answer, &findings);

	bool drawn = behaves(row, "ok: ") || behaves(row, "warn: ") || !bare.syringe;
	bool converts = !strstr(value(row, "expected_behaviour"), "cannot be converted");
	assert_int_equal(answer.made, drawn && converts);
	assert_int_equal(answer.made, !findings_stop(&findings));
	if (!converts || strstr(value(row, "expected_behaviour"), "zero")) {
		assert_null(answer.volume);
		assert_null(answer.below);
		return;
	}
	char *expected = arena_strdup(test->arena, value(row, "expected_volume_ratio"));
	*strchr(expected, ':') = '/';
	assert_string_equal(answer.volume_exact, expected);
	bool about = strncmp(answer.volume, "about ", 6) == 0;
	const char *volume =
		arena_printf(test->arena, "%s%s mL", about ? "about " : "", value(row, "expected_volume_mL"));
	assert_string_equal(answer.volume, volume);
	assert_int_equal(about, !number_ends(answer.draw.volume));
	if (bare.syringe)
		check_bare_lines(test->arena, row, &answer);
}

/* ---- worked.csv ---- */

/* "92 units of 100 units/mL": the smallest of the three U-100 syringes on which it is not too much. */
static void smallest_that_holds(void **state)
{
	struct test_case *test = case_of(state);
	static const char *const ids[] = {"U100-03", "U100-05", "U100-1-1"};
	static const char *const names[] = {"30 units", "50 units", "100 units"};
	const char *given = value(test->row, "given");
	const char *of = strstr(given, " of ");
	struct product product = {.id = "row",
	                          .container = CONTAINER_SOLUTION_VIAL,
	                          .per_ml = stated_of(test->arena, of + strlen(" of "), 11)};
	struct draw_request request =
		request_of(test->arena, &product, arena_strndup(test->arena, given, (size_t)(of - given)));
	for (size_t i = 0; i < 3; i++) {
		struct findings findings = findings_in(test->arena);
		struct draw draw;
		request.syringe = hand_syringe(ids[i]);
		if (draw_make(test->arena, &request, &draw, &findings)) {
			assert_string_equal(names[i], value(test->row, "expected"));
			return;
		}
		assert_non_null(find(&findings, "no-syringe-holds"));
	}
	fail_msg("none holds %s", given);
}

/* The words of a row's question, found in it, so that the test speaks of what the row says. */
static const char *word_of(struct test_case *test, const char *words)
{
	says(value(test->row, "given"), words);
	return words;
}

static void disagrees_and_is_said(void **state)
{
	struct test_case *test = case_of(state);
	struct product product = {.id = "row", .container = CONTAINER_PEN, .place = formulary_at(10)};
	struct findings findings = findings_in(test->arena);
	struct ready ready;
	product.concentration = stated_of(test->arena, word_of(test, "600 IU/mL"), 13);
	product.strength = stated_of(test->arena, word_of(test, "900 IU"), 11);
	product.volume = stated_of(test->arena, word_of(test, "1.0 mL"), 12);
	says(value(test->row, "expected"), "no: ");
	assert_false(product_ready(test->arena, &product, 1, &ready, &findings));
	const struct finding *finding = find(&findings, "label-disagrees");
	assert_non_null(finding);
	assert_int_equal(finding->place.line, 13);
	says(finding->says, "600 units");
	says(finding->says, "900 units");

	/* What the row says would agree does. */
	product.volume.quantity = amount_of(test->arena, strstr(value(test->row, "expected"), "= ") + 2);
	assert_true(product_ready(test->arena, &product, 1, &ready, &findings));
	assert_string_equal(quantity_plain(test->arena, ready.concentration, DECIMAL_POINT), "600 units");
}

static void agrees_at_two_percent(void **state)
{
	struct test_case *test = case_of(state);
	struct product product = {.id = "row", .container = CONTAINER_SOLUTION_VIAL, .place = formulary_at(10)};
	struct findings findings = findings_in(test->arena);
	struct ready ready;
	struct rational all;
	product.strength = stated_of(test->arena, word_of(test, "10 g"), 11);
	word_of(test, "1 g per 5 mL");
	product.concentration = stated_of(test->arena, "1 g/5 mL", 13);
	product.volume = stated_of(test->arena, word_of(test, "51 mL"), 12);
	says(value(test->row, "expected"), "2 percent high");
	assert_true(product_ready(test->arena, &product, 1, &ready, &findings));
	assert_true(ready.from_label);
	assert_true(rational_multiply(ready.concentration.number, ready.volume, &all));
	assert_string_equal(number_print(test->arena, all, DECIMAL_POINT), "10.2");
	says(value(test->row, "expected"), "10.2 g");

	product.volume = stated_of(test->arena, "51.001 mL", 12);
	assert_false(product_ready(test->arena, &product, 1, &ready, &findings));
	assert_non_null(find(&findings, "label-disagrees"));
}

static void reaches_the_target(void **state)
{
	struct test_case *test = case_of(state);
	struct product product = {.id = "row", .container = CONTAINER_POWDER_VIAL, .place = formulary_at(10)};
	struct findings findings = findings_in(test->arena);
	struct ready ready;
	product.strength = stated_of(test->arena, word_of(test, "250 mg"), 11);
	product.displacement = stated_of(test->arena, word_of(test, "0.2 mL"), 14);
	product.diluent =
		(struct liquid){.given = true, .use = stated_of(test->arena, value(test->row, "expected"), 15)};
	assert_true(product_ready(test->arena, &product, 1, &ready, &findings));
	word_of(test, "want 50 mg/mL");
	assert_string_equal(quantity_plain(test->arena, ready.concentration, DECIMAL_POINT), "50 mg");
}

/* ---- the tables ---- */

static void all_rows_are_there(void **state)
{
	const struct published_table *table = published_read(case_of(state)->arena, "draws.csv");
	assert_int_equal(table->n_rows, N_DRAWS);
}

static void check_sources(struct arena *arena, const char *name)
{
	const struct published_table *table = published_read(arena, name);
	const struct published_table *sources = published_read(arena, "sources.csv");
	for (size_t i = 0; i < table->n_rows; i++)
		if (published_find(sources, "source_id", published_value(table, i, "source_id")) < 0)
			fail_msg("%s: %s has a source that sources.csv lacks", name, published_value(table, i, "id"));
}

static void every_source_is_listed(void **state)
{
	check_sources(case_of(state)->arena, "draws.csv");
	check_sources(case_of(state)->arena, "worked.csv");
}

static const struct row *row_at(struct arena *arena, const struct published_table *table, size_t number)
{
	struct row *row = arena_alloc(arena, sizeof *row);
	*row = (struct row){table, number};
	return row;
}

static void add_draws(struct arena *arena, struct tests *tests)
{
	const struct published_table *table = published_read(arena, "draws.csv");
	for (size_t i = 0; i < table->n_rows; i++) {
		const struct row *row = row_at(arena, table, i);
		const char *name = arena_printf(arena, "%s %s %s", value(row, "id"), value(row, "medicine"),
		                                value(row, "source_id"));
		tests_add(tests, name, draws_as_published, row);
		/* A part of a filled syringe cannot be asked for without a clinic's record of it. */
		bool filled = strcmp(value(row, "syringe"), "P025") == 0 ||
		              strstr(value(row, "expected_behaviour"), "device");
		if (!filled)
			tests_add(tests, arena_printf(arena, "%s, asked without a clinic", name), answers_as_published,
			          row);
	}
}

static void add_worked(struct arena *arena, struct tests *tests)
{
	static const struct {
		const char *kind;
		const char *id; /* NULL: all of the kind */
		CMUnitTestFunction function;
		int rows;
	} kinds[] = {{"smallest syringe", NULL, smallest_that_holds, 6},
	             {"cross-check", "W063", disagrees_and_is_said, 1},
	             {"cross-check", "W065", agrees_at_two_percent, 1},
	             {"displacement target", NULL, reaches_the_target, 1}};
	const struct published_table *table = published_read(arena, "worked.csv");
	for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++) {
		int rows = 0;
		for (size_t i = 0; i < table->n_rows; i++) {
			const struct row *row = row_at(arena, table, i);
			if (strcmp(value(row, "kind"), kinds[k].kind) != 0 ||
			    (kinds[k].id && strcmp(value(row, "id"), kinds[k].id) != 0))
				continue;
			rows++;
			tests_add(tests,
			          arena_printf(arena, "%s %s %s", value(row, "id"), kinds[k].kind,
			                       value(row, "source_id")),
			          kinds[k].function, row);
		}
		if (rows != kinds[k].rows) {
			fprintf(stderr, "worked.csv has %d rows of '%s', not %d\n", rows, kinds[k].kind, kinds[k].rows);
			exit(EXIT_FAILURE);
		}
	}
}

int main(void)
{
	struct arena *arena = arena_new();
	struct tests tests = {0};
	add_draws(arena, &tests);
	add_worked(arena, &tests);
	tests_add(&tests, "all 67 rows are there", all_rows_are_there, NULL);
	tests_add(&tests, "every source is listed", every_source_is_listed, NULL);
	int failed = tests_run(&tests, "draws as published");
	arena_free(arena);
	return failed;
}
