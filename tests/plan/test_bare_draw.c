/*
 * A draw without a clinic: what is asked, and each text of the answer. The published rows, asked in the same way, are in
 * test_draw.c.
 */
#include "plan/bare_draw.h"

#include "support/cases.h"
#include "support/draws.h"

#include <string.h>

struct question {
	const char *name;
	const char *dose;
	const char *strength;
	const char *volume;
	const char *liquid;
	const char *displacement;
	const char *concentration;
	const char *syringe; /* NULL: pick */
	bool comma;

	/* the answer */
	const char *made_of; /* concentration */
	const char *ml;
	const char *exact;
	const char *with; /* the syringe's id */
	const char *mark;
	bool between;
	const char *below;
	const char *above;
	const char *code; /* of the stop, or of a caution where there is a mark; NULL: nothing is said */
	const char *says; /* NULL: its wording is tested elsewhere */
};

static const struct question questions[] = {
	{.name = "a solution",
         .dose = "125 mcg",
         .strength = "250 mcg",
         .volume = "0.5 mL",
         .made_of = "500 mcg/mL",
         .ml = "0.25 mL",
         .exact = "1/4",
         .with = "T1",
         .mark = "0.25 mL",
         .below = "0.25 mL",
         .above = "0.25 mL"},
	{.name = "more of a solution than its strength is stated in",
         .dose = "100 mg",
         .strength = "50 mg",
         .volume = "1 mL",
         .syringe = "S3",
         .made_of = "50 mg/mL",
         .ml = "2 mL",
         .exact = "2/1",
         .with = "S3",
         .mark = "2 mL",
         .below = "2 mL",
         .above = "2 mL"},
	{.name = "a powder",
         .dose = "125 mcg",
         .strength = "0.25 mg",
         .liquid = "1 mL",
         .made_of = "0.25 mg/mL",
         .ml = "0.5 mL",
         .exact = "1/2",
         .with = "T1",
         .mark = "0.5 mL",
         .below = "0.5 mL",
         .above = "0.5 mL"},
	{.name = "all of a powder has a line too",
         .dose = "250 mcg",
         .strength = "0.25 mg",
         .liquid = "1 mL",
         .syringe = "T1",
         .made_of = "0.25 mg/mL",
         .ml = "1 mL",
         .exact = "1/1",
         .with = "T1",
         .mark = "1 mL",
         .below = "1 mL",
         .above = "1 mL"},
	{.name = "a powder with displacement",
         .dose = "100 mg",
         .strength = "250 mg",
         .liquid = "5 mL",
         .displacement = "0.2 mL",
         .syringe = "S3",
         .made_of = "about 48.076923 mg/mL",
         .ml = "2.08 mL",
         .exact = "52/25",
         .with = "S3",
         .between = true,
         .below = "2 mL",
         .above = "2.1 mL",
         .code = "volume-between-lines",
         .says = "100 mg is 2.08 mL, between 2 mL (about 96.153846 mg) and 2.1 mL (about 100.961538 mg) on the syringe "
                 "'S3'; order "
                 "an amount that has a line, or name a finer syringe"},
	{.name = "a volume that does not end",
         .dose = "2 mg",
         .strength = "6 mg",
         .volume = "0.5 mL",
         .made_of = "12 mg/mL",
         .ml = "about 0.166667 mL",
         .exact = "1/6",
         .with = "T1",
         .between = true,
         .below = "0.16 mL",
         .above = "0.17 mL",
         .code = "volume-between-lines"},
	{.name = "a label's figure alone",
         .dose = "0.4 mg",
         .strength = "5 mg",
         .concentration = "5 mg/mL",
         .syringe = "U100-03",
         .made_of = "5 mg/mL",
         .ml = "0.08 mL",
         .exact = "2/25",
         .with = "U100-03",
         .mark = "line 8",
         .below = "line 8",
         .above = "line 8",
         .code = "coarse-line"},
	{.name = "a label's figure that rules",
         .dose = "0.5 mg",
         .strength = "5 mg",
         .liquid = "1.5 mL",
         .concentration = "3.33 mg/mL",
         .syringe = "U100-03",
         .made_of = "3.33 mg/mL",
         .ml = "about 0.15015 mL",
         .exact = "50/333",
         .with = "U100-03",
         .between = true,
         .below = "line 15",
         .above = "line 16",
         .code = "volume-between-lines"},
	{.name = "a label's figure that disagrees",
         .dose = "75 units",
         .strength = "900 units",
         .volume = "1 mL",
         .concentration = "600 units/mL",
         .code = "label-disagrees",
         .says = "the concentration of the container is 600 units in 1 mL, but strength and volume make 900 units in 1 "
                 "mL, more "
                 "than 2 % apart; look at the label and mend one"},
	{.name = "a decimal comma",
         .dose = "1250 mcg",
         .strength = "2500 mcg",
         .volume = "1 mL",
         .comma = true,
         .made_of = "2.500 mcg/mL",
         .ml = "0,5 mL",
         .exact = "1/2",
         .with = "T1",
         .mark = "0,5 mL",
         .below = "0,5 mL",
         .above = "0,5 mL"},
	{.name = "an order as a volume",
         .dose = "0.3 mL",
         .strength = "5 mg",
         .volume = "1 mL",
         .made_of = "5 mg/mL",
         .ml = "0.3 mL",
         .exact = "3/10",
         .with = "T1",
         .mark = "0.3 mL",
         .below = "0.3 mL",
         .above = "0.3 mL"},
	{.name = "beyond the scale",
         .dose = "2 mg",
         .strength = "5 mg",
         .volume = "1 mL",
         .syringe = "U100-03",
         .made_of = "5 mg/mL",
         .ml = "0.4 mL",
         .exact = "2/5",
         .with = "U100-03",
         .below = "line 30",
         .code = "no-syringe-holds",
         .says = "2 mg is 0.4 mL, more than the syringe 'U100-03' holds, 0.3 mL; it takes at least 2 injections, which "
                 "must be "
                 "doses of their own in the order, or a larger syringe"},
	{.name = "beyond every scale",
         .dose = "190 mg",
         .strength = "5 mg",
         .volume = "1 mL",
         .made_of = "5 mg/mL",
         .ml = "38 mL",
         .exact = "38/1",
         .code = "no-syringe-holds"},
	{.name = "two containers",
         .dose = "10,000 units",
         .strength = "5,000 units",
         .liquid = "1 mL",
         .syringe = "S3",
         .made_of = "5,000 units/mL",
         .ml = "2 mL",
         .exact = "2/1",
         .with = "S3",
         .below = "2 mL",
         .above = "2 mL",
         .code = "dose-over-container",
         .says = "10,000 units needs 2 containers, as the container holds 5,000 units; order it as doses that one "
                 "container "
                 "holds"},
	{.name = "units that do not convert",
         .dose = "5 mg",
         .strength = "10,000 units",
         .liquid = "1 mL",
         .syringe = "T1",
         .made_of = "10,000 units/mL",
         .code = "unit-mismatch",
         .says = "5 mg cannot be worked out from a strength in units: units to mg has no fixed factor; order it in "
                 "units, or give "
                 "the label's second strength as 'also_labelled'"},
	{.name = "a scale that is not the dose",
         .dose = "100 units",
         .strength = "500 units",
         .volume = "1 mL",
         .syringe = "U100-1-1",
         .made_of = "500 units/mL",
         .ml = "0.2 mL",
         .exact = "1/5",
         .with = "U100-1-1",
         .mark = "line 20",
         .below = "line 20",
         .above = "line 20",
         .code = "scale-is-not-dose"},
	{.name = "a strength alone",
         .dose = "125 mcg",
         .strength = "250 mcg",
         .code = "volume-missing",
         .says = "250 mcg alone does not say how much is in 1 mL; for a powder say '--diluent', for a solution give a "
                 "volume as in "
                 "'250 mcg/0.5 mL', or say the label's '--concentration'"},
	{.name = "a volume and a liquid",
         .dose = "125 mcg",
         .strength = "250 mcg",
         .volume = "0.5 mL",
         .liquid = "1 mL",
         .code = "two-volumes",
         .says = "250 mcg in 0.5 mL and 1 mL of liquid can be read in two ways; for a powder say '--from' without a "
                 "volume, for a "
                 "solution leave '--diluent' out"},
	{.name = "a displacement without a liquid",
         .dose = "125 mcg",
         .strength = "250 mcg",
         .volume = "0.5 mL",
         .displacement = "0.1 mL",
         .code = "liquid-missing",
         .says = "a displacement of 0.1 mL needs a liquid that it adds to; say '--diluent'"},
};

static void same_text(const char *what, const char *actual, const char *expected)
{
	if ((actual == NULL) != (expected == NULL) || (actual && strcmp(actual, expected) != 0))
		fail_msg("%s: '%s', not '%s'", what, actual ? actual : "(null)", expected ? expected : "(null)");
}

static void check_said(const struct question *row, const struct findings *findings)
{
	assert_int_equal(findings->n, row->code ? 1 : 0);
	if (!row->code)
		return;
	const struct finding *finding = &findings->list[0];
	assert_string_equal(finding->code, row->code);
	assert_int_equal(finding->level, row->mark ? FINDING_CAUTION : FINDING_STOP);
	assert_null(finding->place.file);
	if (row->says)
		assert_string_equal(finding->says, row->says);
}

static void is_answered(void **state)
{
	struct test_case *test = case_of(state);
	const struct question *row = test->row;
	struct arena *arena = test->arena;
	struct bare_draw bare = {.dose = amount_of(arena, row->dose),
	                         .strength = amount_of(arena, row->strength),
	                         .volume = stated_of(arena, row->volume, 0),
	                         .liquid = stated_of(arena, row->liquid, 0),
	                         .displacement = stated_of(arena, row->displacement, 0),
	                         .concentration = stated_of(arena, row->concentration, 0),
	                         .syringe = row->syringe ? hand_syringe(row->syringe) : NULL,
	                         .stock = hand_stock,
	                         .n_stock = N_HAND_STOCK,
	                         .mark = row->comma ? DECIMAL_COMMA : DECIMAL_POINT};
	bare.concentration.place = (struct place){NULL, 0, 0};
	struct findings findings = findings_in(arena);
	struct bare_answer answer;
	bare_draw_make(arena, &bare, &answer, &findings);
	same_text("dose", answer.dose, quantity_plain(arena, bare.dose, bare.mark));
	same_text("concentration", answer.concentration, row->made_of);
	same_text("volume", answer.volume, row->ml);
	same_text("volume_exact", answer.volume_exact, row->exact);
	same_text("syringe", answer.syringe, row->with ? row->with : row->syringe);
	same_text("mark", answer.mark, row->mark);
	same_text("below", answer.below, row->below);
	same_text("above", answer.above, row->above);
	assert_int_equal(answer.between_marks, row->between);
	assert_int_equal(answer.made, row->mark != NULL);
	assert_true(answer.draw.volume.denominator > 0);
	check_said(row, &findings);
}

/* No file can say such a number, but a program may. */
static void numbers_too_long_are_refused(void **state)
{
	struct test_case *test = case_of(state);
	struct bare_draw bare = {.dose = {{1, 1}, UNIT_MG},
	                         .strength = {{INT64_MAX, 1}, UNIT_MG},
	                         .volume = {.given = true, .quantity = {{1, 3}, UNIT_ML}},
	                         .stock = hand_stock,
	                         .n_stock = N_HAND_STOCK};
	struct findings findings = findings_in(test->arena);
	struct bare_answer answer;
	bare_draw_make(test->arena, &bare, &answer, &findings);
	assert_false(answer.made);
	assert_int_equal(findings.n, 1);
	assert_string_equal(findings.list[0].code, "overflow");
	assert_null(answer.volume);
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof questions / sizeof *questions; i++)
		tests_add(&tests, questions[i].name, is_answered, &questions[i]);
	tests_add(&tests, "numbers too long", numbers_too_long_are_refused, NULL);
	return tests_run(&tests, "bare draws");
}
