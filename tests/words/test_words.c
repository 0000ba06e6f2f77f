/*
 * Messages, plural forms, amounts, marks and dates, each against a string written by hand.
 */
#include "support/cases.h"
#include "support/sample_words.h"
#include "words/words.h"

#include <string.h>

#define NBSP "\u00a0"
#define ON "\001"
#define OFF "\002"

#define PLAIN(name, says)                                                                          \
	{                                                                                          \
		.key = name, .forms = (const struct message_form[]){{"other", says}}, .n_forms = 1 \
	}

/* Sorted by key, as a wording is. */
static const struct message own_messages[] = {
	PLAIN("bold", "a **b** c **{x}** d"),
	{.key = "boxes",
         .forms = (const struct message_form[]){{"one", "{count} box of {x}"}, {"other", "{count} boxes of {x}"}},
         .n_forms = 2},
	PLAIN("date.short", "d/M"),
	PLAIN("no_place", "a { b {} {X} {x y} {x"),
	PLAIN("one_form", "{count} only"),
	PLAIN("open_bold", "a **b"),
	PLAIN("plain", "Nothing to fill."),
	PLAIN("star", "2 * 3 *"),
	PLAIN("two", "{x}{y}{x}"),
};

struct stage {
	struct clinic clinic;
	struct findings findings;
	struct speaker *speaker;
};

static void open_stage(struct stage *stage, struct arena *arena, const struct wording *wording, enum decimal_mark mark)
{
	stage->clinic = (struct clinic){.words = wording, .n_words = 1, .mark = mark};
	stage->findings = findings_in(arena);
	stage->speaker = speaker_new(arena, &stage->clinic, wording->language, &stage->findings);
	assert_non_null(stage->speaker);
}

static void own_stage(struct stage *stage, struct arena *arena)
{
	struct wording *wording = arena_alloc(arena, sizeof *wording);
	*wording = (struct wording){
		.language = "en", .messages = own_messages, .n = sizeof own_messages / sizeof *own_messages};
	open_stage(stage, arena, wording, DECIMAL_POINT);
}

/* ---- filling ---- */

struct fill_row {
	const char *key;
	const char *x;
	const char *says;
};

static const struct fill_row fill_rows[] = {
	{"plain", "unused", "Nothing to fill."},
	{"bold", "v", "a " ON "b" OFF " c " ON "v" OFF " d"},
	{"open_bold", "v", "a " ON "b"},
	{"star", "v", "2 * 3 *"},
	{"no_place", "v", "a { b {} {X} {x y} {x"},
	{"two", "v", "v-v"},
	/* A value is never scanned: what a person is called opens no place and switches nothing. */
	{"two", "{x}", "{x}-{x}"},
	{"two", "{y}", "{y}-{y}"},
	{"two", "**", "**-**"},
	{"bold", "**{x}**", "a " ON "b" OFF " c " ON "**{x}**" OFF " d"},
	{"two", "", "-"},
};

static void a_message_is_filled(void **state)
{
	const struct fill_row *row = case_of(state)->row;
	struct stage stage;
	own_stage(&stage, case_of(state)->arena);
	assert_string_equal(say2(stage.speaker, row->key, "x", row->x, "y", "-"), row->says);
	assert_int_equal(stage.findings.n, 0);
	speaker_free(stage.speaker);
}

static void a_missing_key_stops_once(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct stage stage;
	own_stage(&stage, arena);
	assert_string_equal(say0(stage.speaker, "nowhere"), "");
	assert_string_equal(say_count(stage.speaker, "nowhere", 2, NO_VALUES), "");
	assert_int_equal(stage.findings.n, 1);
	assert_int_equal(stage.findings.list[0].level, FINDING_STOP);
	assert_string_equal(stage.findings.list[0].code, "text-missing");
	assert_non_null(strstr(stage.findings.list[0].says, "'nowhere'"));
	assert_false(can_say(stage.speaker, "nowhere"));
	assert_true(can_say(stage.speaker, "plain"));
	speaker_free(stage.speaker);
}

static void a_missing_value_stops(void **state)
{
	struct stage stage;
	own_stage(&stage, case_of(state)->arena);
	assert_string_equal(say1(stage.speaker, "two", "y", "v"), "v");
	assert_int_equal(stage.findings.n, 1);
	assert_int_equal(stage.findings.list[0].level, FINDING_STOP);
	assert_string_equal(stage.findings.list[0].code, "unknown-placeholder");
	assert_non_null(strstr(stage.findings.list[0].says, "'{x}'"));
	speaker_free(stage.speaker);
}

static void plural_forms_are_chosen(void **state)
{
	struct stage stage;
	own_stage(&stage, case_of(state)->arena);
	struct value x = {"x", "ice"};
	assert_string_equal(say_count(stage.speaker, "boxes", 0, &x, 1), "0 boxes of ice");
	assert_string_equal(say_count(stage.speaker, "boxes", 1, &x, 1), "1 box of ice");
	assert_string_equal(say_count(stage.speaker, "boxes", 2, &x, 1), "2 boxes of ice");
	assert_string_equal(say_count(stage.speaker, "boxes", 1250, &x, 1), "1,250 boxes of ice");
	assert_string_equal(say_count(stage.speaker, "one_form", 1, NO_VALUES), "1 only");
	assert_int_equal(stage.findings.n, 0);
	speaker_free(stage.speaker);
}

static void a_language_without_words_stops(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct stage stage;
	own_stage(&stage, arena);
	assert_null(speaker_new(arena, &stage.clinic, "fr", &stage.findings));
	assert_string_equal(stage.findings.list[0].code, "language-unknown");
	speaker_free(stage.speaker);
}

/* A sheet is never a mixture: a clinic's text in another language does not stand in. */
static void a_text_in_another_language_stops(void **state)
{
	struct stage stage;
	own_stage(&stage, case_of(state)->arena);
	struct translation both[] = {{"de", "Hund"}, {"en", "dog"}};
	struct text text = {.in = both, .n = 2};
	assert_string_equal(say_text(stage.speaker, text, "the animal"), "dog");
	assert_int_equal(stage.findings.n, 0);
	text.n = 1;
	assert_string_equal(say_text(stage.speaker, text, "the animal"), "");
	assert_int_equal(stage.findings.n, 1);
	assert_string_equal(stage.findings.list[0].code, "text-missing");
	assert_non_null(strstr(stage.findings.list[0].says, "the animal"));
	speaker_free(stage.speaker);
}

/* ---- amounts ---- */

struct amount_row {
	int64_t numerator;
	int64_t denominator;
	enum unit unit;
	const char *says;
	const char *with_comma;
};

static const struct amount_row amount_rows[] = {
	{125, 1, UNIT_MCG, "125" NBSP "mcg", "125" NBSP "mcg"},
	{1, 4, UNIT_MG, "0.25" NBSP "mg", "0,25" NBSP "mg"},
	{1, 1, UNIT_G, "1" NBSP "g", "1" NBSP "g"},
	{750, 1, UNIT_NG, "750" NBSP "ng", "750" NBSP "ng"},
	{3, 2, UNIT_ML, "1.5" NBSP "mL", "1,5" NBSP "mL"},
	{1, 1, UNIT_L, "1" NBSP "L", "1" NBSP "L"},
	{1, 1, UNIT_UNITS, "1" NBSP "unit", "1" NBSP "unit"},
	{10000, 1, UNIT_UNITS, "10,000" NBSP "units", "10.000" NBSP "units"},
	{375, 2, UNIT_UNITS, "187.5" NBSP "units", "187,5" NBSP "units"},
	{1, 1, UNIT_SYRINGE_UNIT, "1" NBSP "syringe unit", "1" NBSP "syringe unit"},
	{20, 1, UNIT_SYRINGE_UNIT, "20" NBSP "syringe units", "20" NBSP "syringe units"},
	{1, 2, UNIT_TABLET, "half a tablet", "half a tablet"},
	{1, 1, UNIT_TABLET, "1" NBSP "tablet", "1" NBSP "tablet"},
	{3, 2, UNIT_TABLET, "1 and a half tablets", "1 and a half tablets"},
	{2, 1, UNIT_TABLET, "2" NBSP "tablets", "2" NBSP "tablets"},
	{1, 4, UNIT_TABLET, "0.25" NBSP "tablets", "0,25" NBSP "tablets"},
	{1, 1, UNIT_CAPSULE, "1" NBSP "capsule", "1" NBSP "capsule"},
	{1, 2, UNIT_PATCH, "half a patch", "half a patch"},
	{2, 1, UNIT_PATCH, "2" NBSP "patches", "2" NBSP "patches"},
	{1, 1, UNIT_INSERT, "1" NBSP "insert", "1" NBSP "insert"},
	{1, 2, UNIT_INSERT, "half an insert", "half an insert"},
	{2, 1, UNIT_SPRAY, "2" NBSP "sprays", "2" NBSP "sprays"},
	{1, 1, UNIT_PUFF, "1" NBSP "puff", "1" NBSP "puff"},
	{5, 1, UNIT_DROP, "5" NBSP "drops", "5" NBSP "drops"},
	{3, 1, UNIT_SACHET, "3" NBSP "sachets", "3" NBSP "sachets"},
	{26, 1, UNIT_HOUR, "26" NBSP "h", "26" NBSP "h"},
	{90, 1, UNIT_MINUTE, "90" NBSP "min", "90" NBSP "min"},
	{28, 1, UNIT_DAY, "28" NBSP "days", "28" NBSP "days"},
	{40, 1, UNIT_MM, "40" NBSP "mm", "40" NBSP "mm"},
};

static void an_amount_is_said(void **state)
{
	const struct amount_row *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	struct quantity amount = {rational_of(row->numerator, row->denominator), row->unit};
	const struct wording *wording = sample_words(arena);
	struct stage stage;
	open_stage(&stage, arena, wording, DECIMAL_POINT);
	assert_string_equal(say_amount(stage.speaker, amount), row->says);
	speaker_free(stage.speaker);
	open_stage(&stage, arena, wording, DECIMAL_COMMA);
	assert_string_equal(say_amount(stage.speaker, amount), row->with_comma);
	assert_int_equal(stage.findings.n, 0);
	speaker_free(stage.speaker);
}

/* ---- marks and lines ---- */

static const char *const numerals_1[] = {"0", "0.1", "0.2", "0.3", "0.4", "0.5", "0.6", "0.7", "0.8", "0.9", "1.0"};

/* 1 mL in hundredths, its numerals as they stand on the barrel. */
static const struct syringe plain = {.id = "plain",
                                     .capacity = {1, 1},
                                     .graduated = {1, 1},
                                     .step = {1, 100},
                                     .numbered_every = {1, 10},
                                     .units_per_ml = {1, 1},
                                     .numerals = numerals_1,
                                     .n_numerals = 11};

/* Half a mL in units of a hundredth, numbered every five; its numerals are not recorded. */
static const struct syringe insulin = {.id = "insulin",
                                       .capacity = {1, 2},
                                       .graduated = {1, 2},
                                       .step = {1, 100},
                                       .numbered_every = {1, 20},
                                       .unit_scale = true,
                                       .units_per_ml = {100, 1}};

/* 3 mL in tenths, numbered every half, numerals not recorded. */
static const struct syringe three = {.id = "three",
                                     .capacity = {3, 1},
                                     .graduated = {3, 1},
                                     .step = {1, 10},
                                     .numbered_every = {1, 2},
                                     .units_per_ml = {1, 1}};

struct mark_row {
	const char *name;
	struct mark mark;
	const char *says;
	bool open;
	const char *place; /* NULL: not asked for */
	const char *with_comma;
};

static const struct mark_row mark_rows[] = {
	{"a draw line on a numbered line",
         {LINE_DRAW, &plain, false, {1, 2}, {1, 2}},
         "0.5" NBSP "mL",
         false,
         "the line numbered " ON "0.5" OFF,
         "0,5" NBSP "mL"},
	{"a draw line at the top, as the barrel prints it",
         {LINE_DRAW, &plain, false, {1, 1}, {1, 1}},
         "1" NBSP "mL",
         false,
         "the line numbered " ON "1.0" OFF,
         "1" NBSP "mL"},
	{"a draw line between numbers",
         {LINE_DRAW, &plain, false, {37, 100}, {37, 100}},
         "0.37" NBSP "mL",
         false,
         "small line " ON "7" OFF " after the number " ON "0.3" OFF,
         "0,37" NBSP "mL"},
	{"below the first number",
         {LINE_DRAW, &plain, false, {4, 100}, {4, 100}},
         "0.04" NBSP "mL",
         false,
         "small line " ON "4" OFF " after the number " ON "0" OFF,
         "0,04" NBSP "mL"},
	{"a line in units never says units",
         {LINE_DRAW, &insulin, false, {1, 5}, {20, 1}},
         "line" NBSP "20",
         false,
         "the line numbered " ON "20" OFF,
         "line" NBSP "20"},
	{"a small line in units",
         {LINE_DRAW, &insulin, false, {23, 100}, {23, 1}},
         "line" NBSP "23",
         false,
         "small line " ON "3" OFF " after the number " ON "20" OFF,
         "line" NBSP "23"},
	{"an add line",
         {LINE_ADD, &three, false, {7, 5}, {7, 5}},
         "add" NBSP "1.4" NBSP "mL",
         true,
         "small line " ON "4" OFF " after the number " ON "1" OFF,
         "add" NBSP "1,4" NBSP "mL"},
	{"a line to push out to",
         {LINE_PUSH_OUT, &plain, false, {3, 10}, {3, 10}},
         "push out to" NBSP "0.3" NBSP "mL",
         true,
         "the line numbered " ON "0.3" OFF,
         "push out to" NBSP "0,3" NBSP "mL"},
	{"a line to stop at",
         {LINE_STOP, &plain, false, {3, 10}, {3, 10}},
         "stop at" NBSP "0.3" NBSP "mL",
         false,
         "the line numbered " ON "0.3" OFF,
         "stop at" NBSP "0,3" NBSP "mL"},
	{"all of it", {LINE_DRAW, &plain, true, {1, 1}, {1, 1}}, "all", false, NULL, "all"},
	{"all of a syringe without a scale", {LINE_DRAW, NULL, true, {1, 2}, {1, 2}}, "all", false, NULL, "all"},
};

static void a_mark_is_said(void **state)
{
	const struct mark_row *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	const struct wording *wording = sample_words(arena);
	struct stage stage;
	struct draw draw = {.measure = MEASURE_SYRINGE, .mark = row->mark};
	open_stage(&stage, arena, wording, DECIMAL_POINT);
	struct mark_words words = say_mark(stage.speaker, &draw);
	assert_string_equal(mark_words_plain(arena, words), row->says);
	assert_int_equal(words.open, row->open);
	if (row->place != NULL)
		assert_string_equal(say_line_place(stage.speaker, &row->mark), row->place);
	speaker_free(stage.speaker);
	open_stage(&stage, arena, wording, DECIMAL_COMMA);
	assert_string_equal(mark_words_plain(arena, say_line(stage.speaker, &row->mark)), row->with_comma);
	assert_int_equal(stage.findings.n, 0);
	speaker_free(stage.speaker);
}

static void a_dial_and_a_count_have_marks_of_their_own(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct stage stage;
	open_stage(&stage, arena, sample_words(arena), DECIMAL_POINT);
	struct draw dial = {.measure = MEASURE_DIAL, .dial = {rational_of(375, 2), UNIT_UNITS}};
	struct draw count = {.measure = MEASURE_COUNT, .count = {rational_of(1, 1), UNIT_TABLET}};
	assert_string_equal(mark_words_plain(arena, say_mark(stage.speaker, &dial)), "dial" NBSP "187.5");
	assert_null(say_mark(stage.speaker, &count).number);
	assert_string_equal(mark_words_plain(arena, say_mark(stage.speaker, &count)), "");
	speaker_free(stage.speaker);
}

/* What is printed on the barrel does not follow the clinic's decimal mark; where it is not recorded, it does. */
static void numerals_are_quoted(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct stage stage;
	open_stage(&stage, arena, sample_words(arena), DECIMAL_COMMA);
	assert_string_equal(say_numeral(stage.speaker, &plain, 0), "0");
	assert_string_equal(say_numeral(stage.speaker, &plain, 3), "0.3");
	assert_string_equal(say_numeral(stage.speaker, &plain, 10), "1.0");
	assert_string_equal(say_numeral(stage.speaker, &three, 3), "1,5");
	assert_string_equal(say_numeral(stage.speaker, &insulin, 10), "50");
	speaker_free(stage.speaker);
}

/* A scale in units has its strength in its name, once; one in mL has none. */
static void a_strength_is_said_once(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const struct translation name = {"en", "insulin syringe"};
	static const struct translation own = {"en", "small U-40 syringe"};
	static const struct translation millilitre = {"en", "1 mL syringe"};
	struct syringe syringe = {
		.name = {.in = &name, .n = 1}, .scale_name = {.in = &own, .n = 1}, .units_per_ml = {40, 1}};
	struct stage stage;
	open_stage(&stage, arena, sample_words(arena), DECIMAL_POINT);
	syringe.unit_scale = true;
	assert_string_equal(say_syringe(stage.speaker, &syringe), "U-40 insulin syringe");
	assert_string_equal(say_scale(stage.speaker, &syringe), "small U-40 syringe");
	syringe.name = (struct text){.in = &millilitre, .n = 1};
	syringe.unit_scale = false;
	syringe.units_per_ml = rational_of(1, 1);
	assert_string_equal(say_syringe(stage.speaker, &syringe), "1 mL syringe");
	speaker_free(stage.speaker);
}

/* ---- dates and times ---- */

struct date_row {
	struct civil_date date;
	enum date_form form;
	const char *says;
};

/* Weekdays by the calendar: 14 Feb 1997 was a Friday, 29 Feb 2028 is a Tuesday, 5 June 2031 a Thursday. */
static const struct date_row date_rows[] = {
	{{2031, 6, 5}, DATE_WEEKDAY_SHORT, "Thu"},         {{2031, 6, 5}, DATE_WEEKDAY, "Thursday"},
	{{2031, 6, 5}, DATE_DAY_MONTH, "5 Jun"},           {{2031, 6, 5}, DATE_SHORT, "Thu 5 Jun"},
	{{2031, 6, 5}, DATE_LONG, "Thursday 5 June"},      {{2031, 6, 17}, DATE_SHORT_YEAR, "Tue 17 Jun 2031"},
	{{1997, 2, 14}, DATE_BORN, "14 Feb 1997"},         {{1997, 2, 14}, DATE_WEEKDAY, "Friday"},
	{{2028, 2, 29}, DATE_LONG, "Tuesday 29 February"}, {{2026, 12, 31}, DATE_SHORT_YEAR, "Thu 31 Dec 2026"},
	{{2027, 1, 1}, DATE_SHORT_YEAR, "Fri 1 Jan 2027"}, {{1936, 9, 1}, DATE_BORN, "1 Sep 1936"},
};

static void a_date_is_said(void **state)
{
	const struct date_row *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	struct stage stage;
	open_stage(&stage, arena, sample_words(arena), DECIMAL_POINT);
	assert_string_equal(say_date(stage.speaker, row->date, row->form), row->says);
	assert_string_equal(say_date(stage.speaker, row->date, row->form), row->says);
	assert_int_equal(stage.findings.n, 0);
	speaker_free(stage.speaker);
}

static void times_have_24_hours(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct stage stage;
	open_stage(&stage, arena, sample_words(arena), DECIMAL_POINT);
	assert_string_equal(say_time(stage.speaker, (struct clock_time){8, 5}), "08:05");
	assert_string_equal(say_time(stage.speaker, (struct clock_time){0, 0}), "00:00");
	assert_string_equal(say_time(stage.speaker, (struct clock_time){22, 30}), "22:30");
	speaker_free(stage.speaker);
}

static void a_clinic_may_write_its_own_date_pattern(void **state)
{
	struct stage stage;
	own_stage(&stage, case_of(state)->arena);
	assert_string_equal(say_date(stage.speaker, (struct civil_date){2031, 6, 5}, DATE_SHORT), "5/6");
	speaker_free(stage.speaker);
}

/* A clinic writes the pattern, so a useless one is said and never ends the program. */
static void a_useless_date_pattern_stops(void **state)
{
	static const char *const patterns[] = {
		"", "EEEE 'of the week that has the finest weather, as we hope, and then some more of it'",
		"EEEE EEEE EEEE EEEE EEEE EEEE EEEE EEEE EEEE EEEE EEEE EEEE",
		"EEEE EEEE EEEE EEEE EEEE EEEE EEEE EEEE EEEE EEEE EEEE EEEE EEEE"};
	struct arena *arena = case_of(state)->arena;
	for (size_t i = 0; i < sizeof patterns / sizeof *patterns; i++) {
		struct message_form form = {"other", patterns[i]};
		struct message message = {.key = "date.long", .forms = &form, .n_forms = 1};
		struct wording wording = {.language = "en", .messages = &message, .n = 1};
		struct stage stage;
		open_stage(&stage, arena, &wording, DECIMAL_POINT);
		say_date(stage.speaker, (struct civil_date){2031, 6, 4}, DATE_LONG);
		assert_int_equal(stage.findings.n, 1);
		assert_string_equal(stage.findings.list[0].code, "date-pattern");
		speaker_free(stage.speaker);
	}
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof fill_rows / sizeof *fill_rows; i++)
		tests_add(&tests, fill_rows[i].says, a_message_is_filled, &fill_rows[i]);
	tests_add(&tests, "a missing key stops once", a_missing_key_stops_once, NULL);
	tests_add(&tests, "a missing value stops", a_missing_value_stops, NULL);
	tests_add(&tests, "plural forms", plural_forms_are_chosen, NULL);
	tests_add(&tests, "a language without words", a_language_without_words_stops, NULL);
	tests_add(&tests, "a text in another language", a_text_in_another_language_stops, NULL);
	for (size_t i = 0; i < sizeof amount_rows / sizeof *amount_rows; i++)
		tests_add(&tests, amount_rows[i].says, an_amount_is_said, &amount_rows[i]);
	for (size_t i = 0; i < sizeof mark_rows / sizeof *mark_rows; i++)
		tests_add(&tests, mark_rows[i].name, a_mark_is_said, &mark_rows[i]);
	tests_add(&tests, "a dial and a count", a_dial_and_a_count_have_marks_of_their_own, NULL);
	tests_add(&tests, "numerals are quoted", numerals_are_quoted, NULL);
	tests_add(&tests, "a strength is said once", a_strength_is_said_once, NULL);
	for (size_t i = 0; i < sizeof date_rows / sizeof *date_rows; i++)
		tests_add(&tests, date_rows[i].says, a_date_is_said, &date_rows[i]);
	tests_add(&tests, "24 hours", times_have_24_hours, NULL);
	tests_add(&tests, "a date pattern of the clinic's", a_clinic_may_write_its_own_date_pattern, NULL);
	tests_add(&tests, "a useless date pattern", a_useless_date_pattern_stops, NULL);
	return tests_run(&tests, "words");
}
