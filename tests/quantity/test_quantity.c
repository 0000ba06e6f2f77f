#include "quantity/quantity.h"

#include "support/cases.h"

#include <gmp.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define NBSP "\xc2\xa0"

static const struct quantity untouched = {{77, 78}, UNIT_PUFF};

static void assert_untouched(struct quantity quantity)
{
	assert_int_equal(quantity.number.numerator, untouched.number.numerator);
	assert_int_equal(quantity.number.denominator, untouched.number.denominator);
	assert_int_equal(quantity.unit, untouched.unit);
}

/* --- Read --- */

struct reading {
	const char *text;
	enum decimal_mark mark;
	const char *plain; /* printed with the same mark */
};

static const struct reading readings[] = {
	{"250 mcg", DECIMAL_POINT, "250 mcg"},
	{"0.25 mg", DECIMAL_POINT, "0.25 mg"},
	{"0.125 mg", DECIMAL_POINT, "0.125 mg"},
	{"1.125 mg", DECIMAL_POINT, "1.125 mg"},
	{"12.345 mg", DECIMAL_POINT, "12.345 mg"},
	{"187.5 units", DECIMAL_POINT, "187.5 units"},
	{"250mcg", DECIMAL_POINT, "250 mcg"},
	{"250" NBSP "mcg", DECIMAL_POINT, "250 mcg"},
	{"250\xe2\x80\xafmcg", DECIMAL_POINT, "250 mcg"},
	{"  250   mcg  ", DECIMAL_POINT, "250 mcg"},
	{"10" NBSP "syringe" NBSP "units", DECIMAL_POINT, "10 syringe units"},
	{"1 syringe unit", DECIMAL_POINT, "1 syringe unit"},
	{"250 \xc2\xb5g", DECIMAL_POINT, "250 mcg"},
	{"250 \xce\xbcg", DECIMAL_POINT, "250 mcg"},
	{"250 ug", DECIMAL_POINT, "250 mcg"},
	{"250 micrograms", DECIMAL_POINT, "250 mcg"},
	{"75 IU", DECIMAL_POINT, "75 units"},
	{"75IU", DECIMAL_POINT, "75 units"},
	{"75 [IU]", DECIMAL_POINT, "75 units"},
	{"75 [iU]", DECIMAL_POINT, "75 units"},
	{"75 [USP'U]", DECIMAL_POINT, "75 units"},
	{"75 International Units", DECIMAL_POINT, "75 units"},
	{"75 Units", DECIMAL_POINT, "75 units"},
	{"2 TABLETS", DECIMAL_POINT, "2 tablets"},
	{"1 unit", DECIMAL_POINT, "1 unit"},
	{"2 unit", DECIMAL_POINT, "2 units"},
	{"10,000 units", DECIMAL_POINT, "10,000 units"},
	{"10000 units", DECIMAL_POINT, "10,000 units"},
	{"1,500 units", DECIMAL_POINT, "1,500 units"},
	{"1,250.5 units", DECIMAL_POINT, "1,250.5 units"},
	{"123,456,789 units", DECIMAL_POINT, "123,456,789 units"},
	{"1.5 mL", DECIMAL_POINT, "1.5 mL"},
	{"1.5 ml", DECIMAL_POINT, "1.5 mL"},
	{"2 L", DECIMAL_POINT, "2 L"},
	{"5 g", DECIMAL_POINT, "5 g"},
	{"5 ng", DECIMAL_POINT, "5 ng"},
	{"1 tablet", DECIMAL_POINT, "1 tablet"},
	{"0.5 tablets", DECIMAL_POINT, "0.5 tablets"},
	{"2 {tablet}", DECIMAL_POINT, "2 tablets"},
	{"2 patches", DECIMAL_POINT, "2 patches"},
	{"6 h", DECIMAL_POINT, "6 h"},
	{"6 hours", DECIMAL_POINT, "6 h"},
	{"30 min", DECIMAL_POINT, "30 min"},
	{"28 d", DECIMAL_POINT, "28 days"},
	{"1 d", DECIMAL_POINT, "1 day"},
	{"2 wk", DECIMAL_POINT, "2 weeks"},
	{"13 mm", DECIMAL_POINT, "13 mm"},
	{"0.5 [in_i]", DECIMAL_POINT, "0.5 in"},
	{"2 %", DECIMAL_POINT, "2 %"},
	{"2%", DECIMAL_POINT, "2 %"},
	{"0.000001 mg", DECIMAL_POINT, "0.000001 mg"},
	{"999999999 mcg", DECIMAL_POINT, "999,999,999 mcg"},
	{"123.456789 mcg", DECIMAL_POINT, "123.456789 mcg"},
	{"0,25 mg", DECIMAL_COMMA, "0,25 mg"},
	{"1,5 mg", DECIMAL_COMMA, "1,5 mg"},
	{"1.500 units", DECIMAL_COMMA, "1.500 units"},
	{"10.000 units", DECIMAL_COMMA, "10.000 units"},
	{"1.250,5 units", DECIMAL_COMMA, "1.250,5 units"},
	{"1,125 mg", DECIMAL_COMMA, "1,125 mg"},
};

static void reads(void **state)
{
	const struct reading *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	struct quantity quantity = untouched;
	struct quantity_fault fault;
	if (!quantity_read(arena, row->text, row->mark, &quantity, &fault))
		fail_msg("refused: %s [%s]", fault.says, fault.code);
	assert_null(fault.code);
	assert_null(fault.says);
	assert_false(fault.caution);
	assert_string_equal(quantity_plain(arena, quantity, row->mark), row->plain);
}

/* --- Refused, and read with a caution --- */

struct refusal {
	const char *text;
	enum decimal_mark mark;
	const char *code;
	const char *says; /* words of the sentence */
};

static const struct refusal refusals[] = {
	{"", DECIMAL_POINT, "empty", "write one"},
	{"   ", DECIMAL_POINT, "empty", "write one"},
	{NBSP, DECIMAL_POINT, "empty", "write one"},
	{"250", DECIMAL_POINT, "no-unit", "'250' has no unit; write one after the number"},
	{"mcg", DECIMAL_POINT, "no-number", "'mcg' does not begin with a number; write one"},
	{"about 5 mg", DECIMAL_POINT, "no-number", "does not begin with a number"},
	{"+5 mg", DECIMAL_POINT, "no-number", "does not begin with a number"},
	{"3 mgs", DECIMAL_POINT, "unknown-unit", "unknown unit 'mgs'; use 'mg' or 'mcg'"},
	{"3 MG", DECIMAL_POINT, "unknown-unit", "unknown unit 'MG'; use 'mg'"},
	{"3 Mg", DECIMAL_POINT, "unknown-unit", "unknown unit 'Mg'; use 'mg'"},
	{"3 ML", DECIMAL_POINT, "unknown-unit", "unknown unit 'ML'; use 'mL'"},
	{"3 kg", DECIMAL_POINT, "unknown-unit", "unknown unit 'kg'; use 'g'"},
	{"3 mg.", DECIMAL_POINT, "unknown-unit", "unknown unit 'mg.'; use 'mg' or 'mcg'"},
	{"3 cc", DECIMAL_POINT, "unknown-unit", "unknown unit 'cc'; use 'mL'"},
	{"3 l", DECIMAL_POINT, "unknown-unit", "unknown unit 'l'; use 'L'"},
	{"3 UI", DECIMAL_POINT, "unknown-unit", "unknown unit 'UI'; use 'units'"},
	{"3 {unit}", DECIMAL_POINT, "unknown-unit", "unknown unit '{unit}'; use 'units'"},
	{"3 unit\xc3\xa9s", DECIMAL_POINT, "unknown-unit", "use 'units'"},
	{"3 tablet(s)", DECIMAL_POINT, "unknown-unit", "use 'tablets'"},
	{"3 spoonfuls", DECIMAL_POINT, "unknown-unit", "unknown unit 'spoonfuls'; use one such as 'mcg'"},
	{"3 an-unheard-of-and-much-too-long-word-of-a-unit-that-goes-on", DECIMAL_POINT, "unknown-unit",
         "...'; use one"},
	/* Cut for the message before a character of two bytes, not inside it. */
	{"3 a\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9"
         "\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9",
         DECIMAL_POINT, "unknown-unit", "\xc3\xa9...'; use one such as"},
	{".25 mg", DECIMAL_POINT, "bare-decimal", "a digit may be lost; write the digit before it, as in '0.25'"},
	{",25 mg", DECIMAL_POINT, "bare-decimal", "a digit may be lost"},
	{",25 mg", DECIMAL_COMMA, "bare-decimal", "as in '0,25'"},
	{"5. mg", DECIMAL_POINT, "bare-decimal", "no digit after it"},
	{"5, mg", DECIMAL_POINT, "bare-decimal", "no digit after it"},
	{"1,5 mg", DECIMAL_POINT, "decimal-comma", "'1,5 mg' may be written with a decimal comma; write"},
	{"0,250 mg", DECIMAL_POINT, "decimal-comma", "decimal comma"},
	{"1,50 mg", DECIMAL_POINT, "decimal-comma", "decimal comma"},
	{"10,0000 mg", DECIMAL_POINT, "decimal-comma", "decimal comma"},
	{"1234,567 mg", DECIMAL_POINT, "decimal-comma", "decimal comma"},
	{"01,500 mg", DECIMAL_POINT, "decimal-comma", "decimal comma"},
	{"1.250,5 mg", DECIMAL_POINT, "decimal-comma", "decimal comma"},
	{"1.5 mg", DECIMAL_COMMA, "decimal-point", "may be written with a decimal point; write a decimal with a comma"},
	{"0.250 mg", DECIMAL_COMMA, "decimal-point", "decimal point"},
	{"1,250.5 mg", DECIMAL_COMMA, "decimal-point", "decimal point"},
	{"1.500 mg", DECIMAL_POINT, "thousands-suspected", "'1.500 mg' may mean 1,500 or 1.5; write the one"},
	{"10.000 units", DECIMAL_POINT, "thousands-suspected", "may mean 10,000 or 10;"},
	{"2.250 mL", DECIMAL_POINT, "thousands-suspected", "may mean 2,250 or 2.25;"},
	{"1,500 mg", DECIMAL_COMMA, "thousands-suspected", "may mean 1.500 or 1,5;"},
	{"1.000.000 units", DECIMAL_POINT, "thousands-suspected", "not before every three digits"},
	{"1,00,000 units", DECIMAL_POINT, "thousands-suspected", "not before every three digits"},
	{"1,5.2 mg", DECIMAL_POINT, "thousands-suspected", "not before every three digits"},
	{"1,,000 units", DECIMAL_POINT, "thousands-suspected", "not before every three digits"},
	{"10 000 units", DECIMAL_POINT, "thousands-suspected", "two groups of digits; write one number, as in '1,000'"},
	{"10" NBSP "000 units", DECIMAL_POINT, "thousands-suspected", "two groups of digits"},
	{"10'000 units", DECIMAL_POINT, "thousands-suspected", "two groups of digits"},
	{"1 .5 mg", DECIMAL_POINT, "two-numbers", "more than one number"},
	{"10 U", DECIMAL_POINT, "bare-u", "'10 U' ends in a bare U, which reads as a 0; write 'units'"},
	{"10U", DECIMAL_POINT, "bare-u", "reads as a 0"},
	{"10 u", DECIMAL_POINT, "bare-u", "reads as a 0"},
	{"1e3 mcg", DECIMAL_POINT, "exponent", "write all its digits"},
	{"1E3 mcg", DECIMAL_POINT, "exponent", "write all its digits"},
	{"1e-3 mcg", DECIMAL_POINT, "exponent", "write all its digits"},
	{"1e+3 mcg", DECIMAL_POINT, "exponent", "write all its digits"},
	{"10*3 [IU]", DECIMAL_POINT, "exponent", "write all its digits"},
	{"10^3 units", DECIMAL_POINT, "exponent", "write all its digits"},
	{"1x103 units", DECIMAL_POINT, "exponent", "write all its digits"},
	{"1/2 tablet", DECIMAL_POINT, "fraction", "write it as a decimal, as in '0.5'"},
	{"10-20 units", DECIMAL_POINT, "range", "write the one amount"},
	{"10 to 20 units", DECIMAL_POINT, "two-numbers", "more than one number"},
	{"5 mg 2 mL", DECIMAL_POINT, "two-numbers", "more than one number"},
	{"5 mg/mL", DECIMAL_POINT, "not-an-amount", "without 'per' or '/'"},
	{"5 mg per mL", DECIMAL_POINT, "not-an-amount", "without 'per' or '/'"},
	{"007 mg", DECIMAL_POINT, "leading-zero", "write it without"},
	{"05 mg", DECIMAL_POINT, "leading-zero", "a mark may be lost"},
	{"00.5 mg", DECIMAL_POINT, "leading-zero", "a mark may be lost"},
	{"1234567890 mcg", DECIMAL_POINT, "too-many-digits", "more than 9 digits"},
	{"1234.567891 mcg", DECIMAL_POINT, "too-many-digits", "more than 9 digits"},
	{"99999999999999999999999999 mcg", DECIMAL_POINT, "too-many-digits", "more than 9 digits"},
	{"0.1234567 mg", DECIMAL_POINT, "too-many-decimals", "more than 6 decimals"},
	{"0.00000000000000000000000001 mg", DECIMAL_POINT, "too-many-decimals", "more than 6 decimals"},
	{"0 mg", DECIMAL_POINT, "not-positive", "is zero; write an amount above zero"},
	{"0.00 mg", DECIMAL_POINT, "not-positive", "is zero"},
	{"-5 mg", DECIMAL_POINT, "not-positive", "is below zero; write an amount above zero"},
	{"- 5 mg", DECIMAL_POINT, "not-positive", "is below zero"},
	{"-.5 mg", DECIMAL_POINT, "not-positive", "is below zero"},
	{"O.5 mg", DECIMAL_POINT, "odd-character", "a letter in the place of a digit; type the digit"},
	{"1O mg", DECIMAL_POINT, "odd-character", "a letter in the place of a digit"},
	{"1Omg", DECIMAL_POINT, "odd-character", "a letter in the place of a digit"},
	{"1O0 mg", DECIMAL_POINT, "odd-character", "a letter in the place of a digit"},
	{"l0 units", DECIMAL_POINT, "odd-character", "a letter in the place of a digit"},
	{"10l", DECIMAL_POINT, "odd-character", "a letter in the place of a digit"},
	{"\xd9\xa2\xd9\xa5 mg", DECIMAL_POINT, "odd-character", "character 1 of the amount is U+0662"},
	{"2\xef\xbc\x95 mg", DECIMAL_POINT, "odd-character", "character 2 of the amount is U+FF15"},
	{"2\xf0\x9d\x9f\x8f mg", DECIMAL_POINT, "odd-character", "character 2 of the amount is U+1D7CF"},
	{"2\xe2\x80\xae"
         "5 mg",
         DECIMAL_POINT, "odd-character", "character 2 of the amount is U+202E"},
	{"25 mg\xe2\x81\xa9", DECIMAL_POINT, "odd-character", "character 6 of the amount is U+2069"},
	{"25\xe2\x80\x8bmg", DECIMAL_POINT, "odd-character", "U+200B"},
	{"\xef\xbb\xbf"
         "25 mg",
         DECIMAL_POINT, "odd-character", "U+FEFF"},
	{"25\xc2\xadmg", DECIMAL_POINT, "odd-character", "U+00AD"},
	{"25\tmg", DECIMAL_POINT, "odd-character", "U+0009"},
	{"25 mg\n", DECIMAL_POINT, "odd-character", "U+000A"},
	{"\xc2\xbd tablet", DECIMAL_POINT, "odd-character", "U+00BD"},
	{"10\xe2\x80\x93"
         "20 units",
         DECIMAL_POINT, "odd-character", "U+2013"},
	{"1\xc3\x97"
         "10 units",
         DECIMAL_POINT, "odd-character", "U+00D7"},
	{"1\xd9\xab"
         "5 mg",
         DECIMAL_POINT, "odd-character", "U+066B"},
	{"25 m\xd1\x81g", DECIMAL_POINT, "odd-character", "character 5 of the amount is U+0441"},
	{"25 mg\xff", DECIMAL_POINT, "odd-character", "character 6 of the amount is not valid UTF-8"},
	{"25 \xc2\x80", DECIMAL_POINT, "odd-character", "character 4 of the amount is U+0080"},
	{"25 \x80", DECIMAL_POINT, "odd-character", "not valid UTF-8"},
	{"25 \xc2", DECIMAL_POINT, "odd-character", "not valid UTF-8"},
	{"25 \xe2\x80", DECIMAL_POINT, "odd-character", "not valid UTF-8"},
	{"2\xc0\xb5 mg", DECIMAL_POINT, "odd-character", "not valid UTF-8"},
	{"2\xed\xa0\x80 mg", DECIMAL_POINT, "odd-character", "not valid UTF-8"},
	{"2\xf4\x90\x80\x80 mg", DECIMAL_POINT, "odd-character", "not valid UTF-8"},
};

static void refuses(void **state)
{
	const struct refusal *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	struct quantity quantity = untouched;
	struct quantity_fault fault;
	if (quantity_read(arena, row->text, row->mark, &quantity, &fault))
		fail_msg("read as %s", quantity_plain(arena, quantity, row->mark));
	assert_untouched(quantity);
	assert_false(fault.caution);
	assert_string_equal(fault.code, row->code);
	if (!strstr(fault.says, row->says))
		assert_string_equal(fault.says, row->says);
}

static const struct refusal cautions[] = {
	{"1.0 mg", DECIMAL_POINT, "trailing-zero", "write '1 mg'"},
	{"0.50 mg", DECIMAL_POINT, "trailing-zero", "write '0.5 mg'"},
	{"0.500 mg", DECIMAL_POINT, "trailing-zero", "write '0.5 mg'"},
	{"2.50 mL", DECIMAL_POINT, "trailing-zero", "write '2.5 mL'"},
	{"1,250.500 units", DECIMAL_POINT, "trailing-zero", "write '1,250.5 units'"},
	{"1,0 mg", DECIMAL_COMMA, "trailing-zero", "write '1 mg'"},
};

static void reads_with_caution(void **state)
{
	const struct refusal *row = case_of(state)->row;
	struct quantity quantity;
	struct quantity_fault fault;
	assert_true(quantity_read(case_of(state)->arena, row->text, row->mark, &quantity, &fault));
	assert_true(fault.caution);
	assert_string_equal(fault.code, row->code);
	assert_non_null(strstr(fault.says, row->says));
	const char *better = quantity_plain(case_of(state)->arena, quantity, row->mark);
	assert_non_null(strstr(row->says, better));
}

static void zero_is_read_where_it_makes_sense(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct quantity quantity = untouched;
	struct quantity_fault fault;
	assert_true(quantity_read_or_zero(arena, "0 mL", DECIMAL_POINT, &quantity, &fault));
	assert_string_equal(quantity_plain(arena, quantity, DECIMAL_POINT), "0 mL");
	assert_true(quantity_read_or_zero(arena, "0.2 mL", DECIMAL_POINT, &quantity, &fault));
	assert_string_equal(quantity_plain(arena, quantity, DECIMAL_POINT), "0.2 mL");
	assert_true(quantity_read_or_zero(arena, "0.0 mL", DECIMAL_POINT, &quantity, &fault));
	assert_string_equal(fault.code, "trailing-zero");
	quantity = untouched;
	assert_false(quantity_read_or_zero(arena, "-1 mL", DECIMAL_POINT, &quantity, &fault));
	assert_string_equal(fault.code, "not-positive");
	assert_false(quantity_read_or_zero(arena, "0", DECIMAL_POINT, &quantity, &fault));
	assert_string_equal(fault.code, "no-unit");
	assert_untouched(quantity);
}

/* --- A number alone --- */

static const struct refusal numbers[] = {
	/* Read: no code, and the number as printed. */
	{"2", DECIMAL_POINT, NULL, "2"},
	{"0.5", DECIMAL_POINT, NULL, "0.5"},
	{" 12 ", DECIMAL_POINT, NULL, "12"},
	{"1,000", DECIMAL_POINT, NULL, "1,000"},
	{"0,5", DECIMAL_COMMA, NULL, "0,5"},
	/* Refused. */
	{"2 mg", DECIMAL_POINT, "unexpected-unit", "write the number alone"},
	{"2%", DECIMAL_POINT, "unexpected-unit", "write the number alone"},
	{"", DECIMAL_POINT, "empty", "write one"},
	{"0", DECIMAL_POINT, "not-positive", "is zero"},
	{"-1", DECIMAL_POINT, "not-positive", "below zero"},
	{".5", DECIMAL_POINT, "bare-decimal", "a digit may be lost"},
	{"1,5", DECIMAL_POINT, "decimal-comma", "decimal comma"},
	{"1.500", DECIMAL_POINT, "thousands-suspected", "may mean 1,500 or 1.5"},
	{"1 000", DECIMAL_POINT, "thousands-suspected", "two groups of digits"},
	{"1e3", DECIMAL_POINT, "exponent", "all its digits"},
	{"two", DECIMAL_POINT, "no-number", "does not begin with a number"},
	{"1234567890", DECIMAL_POINT, "too-many-digits", "more than 9"},
	{"1O", DECIMAL_POINT, "odd-character", "a letter in the place of a digit"},
	{"0x10", DECIMAL_POINT, "exponent", "all its digits"},
};

static void number_alone(void **state)
{
	const struct refusal *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	struct rational number = {77, 78};
	struct quantity_fault fault;
	bool answered = number_read(arena, row->text, row->mark, &number, &fault);
	assert_int_equal(answered, row->code == NULL);
	if (answered) {
		assert_null(fault.code);
		assert_string_equal(number_print(arena, number, row->mark), row->says);
	} else {
		assert_string_equal(fault.code, row->code);
		assert_non_null(strstr(fault.says, row->says));
		assert_true(number.numerator == 77 && number.denominator == 78);
	}
}

/* --- Concentrations: `says` is the amount in one mL where there is no code --- */

static const struct refusal concentrations[] = {
	{"250 mcg/mL", DECIMAL_POINT, NULL, "250 mcg"},
	{"100 units/mL", DECIMAL_POINT, NULL, "100 units"},
	{"5 mg/0.5 mL", DECIMAL_POINT, NULL, "10 mg"},
	{"5 mg / 0.5 mL", DECIMAL_POINT, NULL, "10 mg"},
	{"5 mg/0.5mL", DECIMAL_POINT, NULL, "10 mg"},
	{"600 units per mL", DECIMAL_POINT, NULL, "600 units"},
	{"450 IU/0.75 ml", DECIMAL_POINT, NULL, "600 units"},
	{"1 mg/3 mL", DECIMAL_POINT, NULL, "about 0.333333 mg"},
	{"1 g/L", DECIMAL_POINT, NULL, "0.001 g"},
	{"10,000 units/10 mL", DECIMAL_POINT, NULL, "1,000 units"},
	{"2,5 mg/mL", DECIMAL_COMMA, NULL, "2,5 mg"},
	{"250 mcg", DECIMAL_POINT, "not-a-concentration", "has no volume"},
	{"250 mcg/mg", DECIMAL_POINT, "not-a-concentration", "not a mass or units in a volume"},
	{"2 mL/mL", DECIMAL_POINT, "not-a-concentration", "not a mass or units in a volume"},
	{"2 tablets/mL", DECIMAL_POINT, "not-a-concentration", "not a mass or units in a volume"},
	{"2 mg/10 syringe units", DECIMAL_POINT, "not-a-concentration", "not a mass or units in a volume"},
	{"250 mcg/", DECIMAL_POINT, "no-unit", "has no unit"},
	{"/mL", DECIMAL_POINT, "empty", "write one"},
	{"250 mcg/cc", DECIMAL_POINT, "unknown-unit", "use 'mL'"},
	{"250 mcg/0 mL", DECIMAL_POINT, "not-positive", "is zero"},
	{"0 mcg/mL", DECIMAL_POINT, "not-positive", "is zero"},
	{"250 mcg/.5 mL", DECIMAL_POINT, "bare-decimal", "a digit may be lost"},
	{"250/mL", DECIMAL_POINT, "no-unit", "has no unit"},
	{"100 U/mL", DECIMAL_POINT, "bare-u", "write 'units'"},
	{"1 mg/mL/h", DECIMAL_POINT, "not-an-amount", "without 'per' or '/'"},
	{"1:1,000", DECIMAL_POINT, "not-a-concentration", "has no volume"},
	{"", DECIMAL_POINT, "empty", "write one"},
	{"5 mg/m\xe2\x80\x8bL", DECIMAL_POINT, "odd-character", "U+200B"},
};

static void concentration(void **state)
{
	const struct refusal *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	struct quantity quantity = untouched;
	struct quantity_fault fault;
	bool answered = concentration_read(arena, row->text, row->mark, &quantity, &fault);
	if (answered) {
		assert_null(row->code);
		assert_null(fault.code);
		assert_string_equal(quantity_plain(arena, quantity, row->mark), row->says);
	} else {
		assert_string_equal(fault.code, row->code ? row->code : "(was to be read)");
		assert_non_null(strstr(fault.says, row->says));
		assert_false(fault.caution);
		assert_untouched(quantity);
	}
}

static void concentration_cautions_of_either_part(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct quantity quantity;
	struct quantity_fault fault;
	assert_true(concentration_read(arena, "1.0 mg/mL", DECIMAL_POINT, &quantity, &fault));
	assert_true(fault.caution);
	assert_non_null(strstr(fault.says, "'1 mg'"));
	assert_true(concentration_read(arena, "1 mg/2.0 mL", DECIMAL_POINT, &quantity, &fault));
	assert_true(fault.caution);
	assert_non_null(strstr(fault.says, "'2 mL'"));
	assert_string_equal(quantity_plain(arena, quantity, DECIMAL_POINT), "0.5 mg");
}

/* --- Print --- */

struct printing {
	const char *text;
	struct rational number;
	enum decimal_mark mark;
	bool ends;
};

static const struct printing printings[] = {
	{"0", {0, 1}, DECIMAL_POINT, true},
	{"0.5", {1, 2}, DECIMAL_POINT, true},
	{"0,5", {1, 2}, DECIMAL_COMMA, true},
	{"187.5", {375, 2}, DECIMAL_POINT, true},
	{"0.125", {1, 8}, DECIMAL_POINT, true},
	{"999", {999, 1}, DECIMAL_POINT, true},
	{"1,000", {1000, 1}, DECIMAL_POINT, true},
	{"1,250", {1250, 1}, DECIMAL_POINT, true},
	{"1.250", {1250, 1}, DECIMAL_COMMA, true},
	{"1,250.5", {2501, 2}, DECIMAL_POINT, true},
	{"1.250,5", {2501, 2}, DECIMAL_COMMA, true},
	{"1,000,000.000001", {1000000000001, 1000000}, DECIMAL_POINT, true},
	{"9,223,372,036,854,775,807", {INT64_MAX, 1}, DECIMAL_POINT, true},
	{"-9,223,372,036,854,775,807", {-INT64_MAX, 1}, DECIMAL_POINT, true},
	{"-0.5", {-1, 2}, DECIMAL_POINT, true},
	{"-1,250", {-1250, 1}, DECIMAL_POINT, true},
	{"about 0.333333", {1, 3}, DECIMAL_POINT, false},
	{"about 0.666667", {2, 3}, DECIMAL_POINT, false},
	{"about -0.666667", {-2, 3}, DECIMAL_POINT, false},
	{"about 1,333,333.333333", {4000000, 3}, DECIMAL_POINT, false},
	{"about 0,416667", {5, 12}, DECIMAL_COMMA, false},
	{"about 0.000001", {1, 2000000}, DECIMAL_POINT, false},
	{"about 0", {1, 2000001}, DECIMAL_POINT, false},
	{"about 0", {-1, 2000001}, DECIMAL_POINT, false},
	{"about 1", {9999999, 10000000}, DECIMAL_POINT, false},
	{"about 1,000", {9999999999, 10000000}, DECIMAL_POINT, false},
	{"about 0.5", {500000001, 1000000000}, DECIMAL_POINT, false},
	{"about 1", {INT64_MAX - 1, INT64_MAX}, DECIMAL_POINT, false},
	{"about 0", {1, INT64_MAX}, DECIMAL_POINT, false},
};

static void prints(void **state)
{
	const struct printing *row = case_of(state)->row;
	assert_string_equal(number_print(case_of(state)->arena, row->number, row->mark), row->text);
	assert_int_equal(number_ends(row->number), row->ends);
}

static void prints_units_by_the_notation_rules(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct quantity one = {{1, 1}, UNIT_SYRINGE_UNIT};
	struct quantity ten = {{10, 1}, UNIT_SYRINGE_UNIT};
	assert_string_equal(quantity_print(arena, one, DECIMAL_POINT), "1" NBSP "syringe" NBSP "unit");
	assert_string_equal(quantity_print(arena, ten, DECIMAL_POINT), "10" NBSP "syringe" NBSP "units");
	assert_string_equal(quantity_plain(arena, ten, DECIMAL_POINT), "10 syringe units");
	struct quantity units = {{2501, 2}, UNIT_UNITS};
	assert_string_equal(quantity_print(arena, units, DECIMAL_COMMA), "1.250,5" NBSP "units");
	/* Singular exactly for 1. */
	struct rational others[] = {{1, 2}, {0, 1}, {2, 1}, {-1, 1}, {101, 100}};
	for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
		struct quantity patches = {others[i], UNIT_PATCH};
		assert_non_null(strstr(quantity_plain(arena, patches, DECIMAL_POINT), " patches"));
	}
	struct quantity bare = {{5, 2}, UNIT_NONE};
	assert_string_equal(quantity_print(arena, bare, DECIMAL_POINT), "2.5");
}

/* --- Units --- */

static void units_convert_within_one_dimension_only(void **state)
{
	(void)state;
	static const struct {
		enum unit first, last;
	} alike[] = {{UNIT_NONE, UNIT_NONE},      {UNIT_G, UNIT_NG},        {UNIT_UNITS, UNIT_UNITS},
	             {UNIT_L, UNIT_SYRINGE_UNIT}, {UNIT_SECOND, UNIT_WEEK}, {UNIT_MM, UNIT_INCH},
	             {UNIT_PERCENT, UNIT_PERCENT}};
	for (enum unit a = 0; a < UNIT_COUNT_OF; a++) {
		for (enum unit b = 0; b < UNIT_COUNT_OF; b++) {
			bool expected = a == b;
			for (size_t i = 0; i < sizeof alike / sizeof *alike; i++)
				expected |= a >= alike[i].first && a <= alike[i].last && b >= alike[i].first &&
				            b <= alike[i].last;
			struct quantity quantity = {{1, 1}, a};
			struct quantity result = untouched;
			struct rational ratio;
			assert_int_equal(unit_converts(a, b), expected);
			assert_int_equal(quantity_in(quantity, b, &result), expected);
			assert_int_equal(quantity_add(quantity, (struct quantity){{1, 1}, b}, &result), expected);
			assert_int_equal(quantity_subtract(quantity, (struct quantity){{1, 1}, b}, &result), expected);
			assert_int_equal(quantity_ratio(quantity, (struct quantity){{1, 1}, b}, &ratio), expected);
			assert_int_equal(quantity_same(quantity, (struct quantity){{1, 1}, b}), a == b);
			if (!expected)
				assert_untouched(result);
		}
	}
}

static void every_printed_unit_reads_back(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const char *const amounts[] = {"1", "7.5"};
	for (enum unit unit = UNIT_NONE + 1; unit < UNIT_COUNT_OF; unit++) {
		for (size_t i = 0; i < 2; i++) {
			struct quantity quantity, again;
			struct quantity_fault fault;
			const char *text = arena_printf(arena, "%s %s", amounts[i], unit_name(unit, i == 0));
			assert_true(quantity_read(arena, text, DECIMAL_POINT, &quantity, &fault));
			assert_int_equal(quantity.unit, unit);
			assert_string_equal(quantity_plain(arena, quantity, DECIMAL_POINT), text);
			const char *printed = quantity_print(arena, quantity, DECIMAL_POINT);
			assert_true(quantity_read(arena, printed, DECIMAL_POINT, &again, &fault));
			assert_true(quantity_same(quantity, again));
		}
		assert_true(unit_size(unit).numerator > 0);
		assert_int_equal(unit_size(unit).denominator, 1);
		assert_string_not_equal(dimension_name(unit_dimension(unit)), "");
	}
}

static void a_sum_has_the_first_unit(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct quantity result;
	struct rational ratio;
	struct quantity mg = {{1, 4}, UNIT_MG};
	struct quantity mcg = {{125, 1}, UNIT_MCG};
	assert_true(quantity_add(mg, mcg, &result));
	assert_string_equal(quantity_plain(arena, result, DECIMAL_POINT), "0.375 mg");
	assert_true(quantity_subtract(mcg, mg, &result));
	assert_string_equal(quantity_plain(arena, result, DECIMAL_POINT), "-125 mcg");
	assert_true(quantity_ratio(mcg, mg, &ratio));
	assert_string_equal(number_print(arena, ratio, DECIMAL_POINT), "0.5");
	assert_true(quantity_multiply(mg, rational_of(3, 1), &result));
	assert_string_equal(quantity_plain(arena, result, DECIMAL_POINT), "0.75 mg");
	assert_true(quantity_in((struct quantity){{1, 2}, UNIT_ML}, UNIT_SYRINGE_UNIT, &result));
	assert_string_equal(quantity_plain(arena, result, DECIMAL_POINT), "50 syringe units");
	assert_true(quantity_same(mg, (struct quantity){{250, 1}, UNIT_MCG}));
	assert_false(quantity_same(mg, mcg));
	assert_false(quantity_ratio(mg, (struct quantity){{0, 1}, UNIT_MCG}, &ratio));
}

static void overflow_is_refused(void **state)
{
	(void)state;
	struct quantity most = {{INT64_MAX, 1}, UNIT_G};
	struct quantity fine = {{1, INT64_MAX}, UNIT_NG};
	struct quantity result = untouched;
	assert_false(quantity_in(most, UNIT_NG, &result));
	assert_false(quantity_in(fine, UNIT_G, &result));
	assert_false(quantity_add(most, most, &result));
	assert_false(quantity_add(most, fine, &result));
	assert_false(quantity_multiply(most, rational_of(2, 1), &result));
	assert_untouched(result);
	assert_true(quantity_compare(most, fine) > 0);
	assert_true(quantity_compare(fine, most) < 0);
	assert_int_equal(quantity_compare(most, most), 0);
}

/* Any two amounts of mass compare, in whatever units, as GMP compares their sizes in ng. */
static void comparing_never_fails(void **state)
{
	(void)state;
	static const char *const in_ng[] = {"1000000000", "1000000", "1000", "1"};
	uint64_t seed = 3;
	mpq_t sizes[2], factor;
	mpq_inits(sizes[0], sizes[1], factor, NULL);
	for (int i = 0; i < 20000; i++) {
		struct quantity two[2];
		for (int k = 0; k < 2; k++) {
			int64_t numerator = (int64_t)(next_random(&seed) >> 1) >> (next_random(&seed) % 62);
			int64_t denominator = ((int64_t)(next_random(&seed) >> 1) >> (next_random(&seed) % 62)) | 1;
			size_t unit = next_random(&seed) % 4;
			two[k].number = rational_of(next_random(&seed) % 4 ? numerator : -numerator, denominator);
			two[k].unit = (enum unit)(UNIT_G + unit);
			mpz_set_si(mpq_numref(sizes[k]), two[k].number.numerator);
			mpz_set_si(mpq_denref(sizes[k]), two[k].number.denominator);
			mpq_set_str(factor, in_ng[unit], 10);
			mpq_mul(sizes[k], sizes[k], factor);
		}
		int ours = quantity_compare(two[0], two[1]);
		int theirs = mpq_cmp(sizes[0], sizes[1]);
		assert_int_equal((ours > 0) - (ours < 0), (theirs > 0) - (theirs < 0));
	}
	mpq_clears(sizes[0], sizes[1], factor, NULL);
}

/* --- Conversions against GNU units --- */

struct conversion {
	enum unit from, to;
	const char *amount;
};

/* How GNU units writes them: its names are not ours to choose. */
static const char *foreign_name(enum unit unit)
{
	static const char *const names[UNIT_COUNT_OF] = {
		[UNIT_G] = "g",
		[UNIT_MG] = "mg",
		[UNIT_MCG] = "microgram",
		[UNIT_NG] = "nanogram",
		[UNIT_L] = "liter",
		[UNIT_ML] = "cm^3",
		[UNIT_SYRINGE_UNIT] = "(0.01 cm^3)",
		[UNIT_SECOND] = "second",
		[UNIT_MINUTE] = "min",
		[UNIT_HOUR] = "hour",
		[UNIT_DAY] = "day",
		[UNIT_WEEK] = "week",
		[UNIT_MM] = "mm",
		[UNIT_CM] = "cm",
		[UNIT_INCH] = "inch",
	};
	assert_non_null(names[unit]);
	return names[unit];
}

static void converts_like_gnu_units(void **state)
{
	const struct conversion *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	const char *command = arena_printf(arena, "units -1 --compact --digits 15 '%s %s' '%s' 2>&1", row->amount,
	                                   foreign_name(row->from), foreign_name(row->to));
	FILE *pipe = popen(command, "r");
	assert_non_null(pipe);
	char said[200] = "";
	char *line = fgets(said, sizeof said, pipe);
	int status = pclose(pipe);
	char *end;
	double theirs = strtod(said, &end);
	if (!line || status != 0 || end == said || *end != '\n')
		fail_msg("GNU units, which this test needs, did not answer %s: %s", command, said);

	struct quantity quantity = {.unit = row->from};
	struct quantity_fault fault;
	assert_true(number_read(arena, row->amount, DECIMAL_POINT, &quantity.number, &fault));
	assert_true(quantity_in(quantity, row->to, &quantity));
	double ours = (double)quantity.number.numerator / (double)quantity.number.denominator;
	if (fabs(ours - theirs) > 1e-14 * theirs)
		fail_msg("%.17g here, %.17g there", ours, theirs);
}

static size_t all_conversions(struct conversion *list)
{
	static const enum unit groups[][2] = {
		{UNIT_G, UNIT_NG}, {UNIT_L, UNIT_SYRINGE_UNIT}, {UNIT_SECOND, UNIT_WEEK}, {UNIT_MM, UNIT_INCH}};
	size_t n = 0;
	for (size_t i = 0; i < sizeof groups / sizeof *groups; i++)
		for (enum unit from = groups[i][0]; from <= groups[i][1]; from++)
			for (enum unit to = groups[i][0]; to <= groups[i][1]; to++)
				list[n++] = (struct conversion){from, to, from == to ? "1" : "187.5"};
	return n;
}

/* --- Laws --- */

/* At most 9 digits, at most 6 of them decimals, as an order may hold. */
static struct rational random_number(uint64_t *seed)
{
	static const int64_t powers[] = {1, 10, 100, 1000, 10000, 100000, 1000000, 10000000, 100000000, 1000000000};
	int64_t digits = (int64_t)(next_random(seed) % (uint64_t)powers[next_random(seed) % 10]);
	return rational_of(digits + (digits == 0), powers[next_random(seed) % 7]);
}

static struct quantity random_quantity(uint64_t *seed)
{
	enum unit unit = (enum unit)(1 + next_random(seed) % (UNIT_COUNT_OF - 1));
	return (struct quantity){random_number(seed), unit};
}

/* "1.5" is read; "1.500" never comes from our own printer. */
static void what_is_printed_reads_the_same(void **state)
{
	struct arena *arena = case_of(state)->arena;
	uint64_t seed = 5;
	for (int i = 0; i < 20000; i++) {
		struct quantity quantity = random_quantity(&seed);
		enum decimal_mark mark = i % 2 ? DECIMAL_COMMA : DECIMAL_POINT;
		struct quantity again = untouched;
		struct quantity_fault fault;
		const char *text =
			i % 4 < 2 ? quantity_print(arena, quantity, mark) : quantity_plain(arena, quantity, mark);
		if (!quantity_read(arena, text, mark, &again, &fault))
			fail_msg("'%s' is refused: %s", text, fault.says);
		assert_null(fault.code);
		assert_int_equal(again.unit, quantity.unit);
		assert_int_equal(rational_compare(again.number, quantity.number), 0);
		if (i % 1000 == 0)
			arena_reset(arena);
	}
}

static void taking_away_what_was_added_leaves_the_same(void **state)
{
	(void)state;
	uint64_t seed = 6;
	int refused = 0;
	for (int i = 0; i < 20000; i++) {
		struct quantity a = random_quantity(&seed);
		struct quantity b = {random_number(&seed), a.unit};
		struct quantity sum, rest;
		if (unit_dimension(a.unit) == DIMENSION_MASS)
			b.unit = (enum unit)(UNIT_G + next_random(&seed) % 4);
		if (!quantity_add(a, b, &sum)) {
			/* Only a very large amount and a very small one in far units leave 64 bits. */
			assert_true(a.unit != b.unit);
			refused++;
			continue;
		}
		assert_true(quantity_subtract(sum, b, &rest));
		assert_int_equal(rest.unit, a.unit);
		assert_int_equal(rational_compare(rest.number, a.number), 0);
		assert_true(quantity_compare(sum, a) > 0);
		assert_true(quantity_compare(sum, b) > 0);
	}
	assert_in_range(refused, 0, 200);
}

/* A mark read as the other mark gives a refusal or a value that prints as it was typed: never a silent thousandfold. */
static void point_and_comma_are_never_mixed_up_silently(void **state)
{
	struct arena *arena = case_of(state)->arena;
	uint64_t seed = 8;
	int refused = 0;
	for (int i = 0; i < 20000; i++) {
		struct rational number = random_number(&seed);
		if (rational_is_whole(number) || rational_compare(number, rational_of(1000, 1)) >= 0)
			continue;
		struct rational other;
		struct quantity_fault fault;
		const char *text = number_print(arena, number, DECIMAL_COMMA);
		if (!number_read(arena, text, DECIMAL_POINT, &other, &fault)) {
			refused++;
			continue;
		}
		/* What is left is exactly three decimals after a whole number: "12,345". */
		const char *comma = strchr(text, ',');
		assert_non_null(comma);
		assert_int_equal(strlen(comma + 1), 3);
		assert_true(text[0] != '0');
		assert_string_equal(number_print(arena, other, DECIMAL_POINT), text);
	}
	assert_true(refused > 1000);
}

/* Bytes at random places in sound texts: read or refused with a reason, never a crash, and no odd byte in a message. */
static void damaged_texts_are_read_or_refused(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const char *const sound[] = {"10,000 units", "0.25 mg", "250 \xc2\xb5g", "10 syringe units",
	                                    "5 mg/0.5 mL"};
	uint64_t seed = 9;
	for (int i = 0; i < 40000; i++) {
		char text[32];
		strcpy(text, sound[next_random(&seed) % 5]);
		size_t length = strlen(text);
		for (uint64_t k = 0; k <= next_random(&seed) % 3; k++)
			text[next_random(&seed) % length] = (char)next_random(&seed);
		struct quantity quantity = untouched;
		struct quantity_fault fault;
		bool whole = i % 2 == 0;
		bool answered = whole ? quantity_read(arena, text, DECIMAL_POINT, &quantity, &fault)
		                      : concentration_read(arena, text, DECIMAL_POINT, &quantity, &fault);
		if (answered) {
			assert_true(quantity.number.numerator > 0);
			assert_int_equal(fault.code != NULL, fault.caution);
		} else {
			assert_untouched(quantity);
			assert_non_null(fault.code);
			for (const char *byte = fault.says; *byte; byte++)
				assert_true((unsigned char)*byte >= ' ' && *byte != 0x7f);
		}
		if (i % 1000 == 0)
			arena_reset(arena);
	}
}

/* --- All --- */

static void add_rows(struct tests *tests, const char *what, const struct refusal *rows, size_t n,
                     CMUnitTestFunction function)
{
	for (size_t i = 0; i < n; i++) {
		char name[120];
		const char *verdict = rows[i].code ? rows[i].code : rows[i].says;
		const char *mark = rows[i].mark == DECIMAL_COMMA ? " with a decimal comma" : "";
		snprintf(name, sizeof name, "%s %zu%s: %s", what, i + 1, mark, verdict);
		tests_add(tests, name, function, &rows[i]);
	}
}

#define COUNT(rows) (sizeof(rows) / sizeof *(rows))

int main(void)
{
	struct tests tests = {0};
	struct conversion conversions[100];
	size_t n_conversions = all_conversions(conversions);
	char name[120];

	for (size_t i = 0; i < COUNT(readings); i++) {
		snprintf(name, sizeof name, "reads %zu: %s", i + 1, readings[i].plain);
		tests_add(&tests, name, reads, &readings[i]);
	}
	add_rows(&tests, "refuses", refusals, COUNT(refusals), refuses);
	add_rows(&tests, "reads with a caution", cautions, COUNT(cautions), reads_with_caution);
	tests_add(&tests, "zero is read where it makes sense", zero_is_read_where_it_makes_sense, NULL);
	add_rows(&tests, "number alone", numbers, COUNT(numbers), number_alone);
	add_rows(&tests, "concentration", concentrations, COUNT(concentrations), concentration);
	tests_add(&tests, "a concentration cautions of either part", concentration_cautions_of_either_part, NULL);
	for (size_t i = 0; i < COUNT(printings); i++) {
		snprintf(name, sizeof name, "prints %zu: %s", i + 1, printings[i].text);
		tests_add(&tests, name, prints, &printings[i]);
	}
	tests_add(&tests, "prints units by the notation rules", prints_units_by_the_notation_rules, NULL);
	tests_add(&tests, "units convert within one dimension only", units_convert_within_one_dimension_only, NULL);
	tests_add(&tests, "every printed unit reads back", every_printed_unit_reads_back, NULL);
	tests_add(&tests, "a sum has the first unit", a_sum_has_the_first_unit, NULL);
	tests_add(&tests, "overflow is refused", overflow_is_refused, NULL);
	tests_add(&tests, "comparing never fails", comparing_never_fails, NULL);
	for (size_t i = 0; i < n_conversions; i++) {
		snprintf(name, sizeof name, "converts %s %s to %s like GNU units", conversions[i].amount,
		         unit_name(conversions[i].from, false), unit_name(conversions[i].to, false));
		tests_add(&tests, name, converts_like_gnu_units, &conversions[i]);
	}
	tests_add(&tests, "what is printed reads the same", what_is_printed_reads_the_same, NULL);
	tests_add(&tests, "taking away what was added leaves the same", taking_away_what_was_added_leaves_the_same,
	          NULL);
	tests_add(&tests, "point and comma are never mixed up silently", point_and_comma_are_never_mixed_up_silently,
	          NULL);
	tests_add(&tests, "damaged texts are read or refused", damaged_texts_are_read_or_refused, NULL);
	return tests_run(&tests, "quantity");
}
