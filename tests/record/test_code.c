/*
 * The code of a packet: its signs, its check character, and what a slip of the tongue does to it.
 */
#include "record/record.h"
#include "support/cases.h"

#include <glib.h>
#include <string.h>

#define ALPHABET "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

/* A digest that begins with these ten hexadecimal digits; the rest does not enter the code. */
#define DIGEST(begins)                                              \
	begins "00000000000000000000000000000000000000000000000000" \
	       "0000"

struct row {
	const char *digest;
	const char *code;
};

/*
 * Worked by hand: P begins at 36; for each sign S = P + sign, less 36 where above 36 (36 stays), P = 2 S mod 37;
 * the check is 37 - P, 36 counting as 0.
 *
 *     00000000  P 35 33 29 21 05 10 20 03, check 34: Y
 *     ZZZZZZZZ  P 33 27 15 28 17 32 25 11, check 26: Q
 *     01234567  bits 00000 00001 .. 00111; P 35 35 02 10 28 29 33 08, check 29: T
 *     G0000000  G is 16; P 32 27 17 34 31 25 13 26, check 11: B
 */
static const struct row rows[] = {
	{DIGEST("0000000000"), "0000-0000-Y"},
	{DIGEST("ffffffffff"), "ZZZZ-ZZZZ-Q"},
	{DIGEST("00443214c7"), "0123-4567-T"},
	{DIGEST("8000000000"), "G000-0000-B"},
};

static void a_code_is_as_worked_by_hand(void **state)
{
	const struct row *row = case_of(state)->row;
	assert_string_equal(record_code(case_of(state)->arena, row->digest), row->code);
}

/* What is behind the first forty bits does not enter. */
static void the_first_forty_bits_decide(void **state)
{
	struct arena *arena = case_of(state)->arena;
	assert_string_equal(record_code(arena, "00443214c7ffffffffffffffffffffffffffffffffffffffffffffffffffffff"),
	                    "0123-4567-T");
}

/* ---- the check, told independently: a whole string is good when its sum ends at 1 ---- */

static int value_of(char sign)
{
	static const char signs[] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
	return (int)(strchr(signs, sign) - signs);
}

static bool is_good(const char *signs)
{
	int product = 36;
	size_t length = strlen(signs);
	for (size_t i = 0; i + 1 < length; i++) {
		int sum = product + value_of(signs[i]);
		if (sum > 36)
			sum -= 36;
		product = 2 * sum;
		if (product >= 37)
			product -= 37;
	}
	return (product + value_of(signs[length - 1])) % 36 == 1;
}

/* The published example of the same system: A12425GABC1234002 has the check M (ISO 7064, as used for GRid). */
static void the_independent_check_is_the_standard(void **state)
{
	(void)state;
	assert_true(is_good("A12425GABC1234002M"));
	assert_false(is_good("A12425GABC1234002N"));
}

static const char *digest_of(struct arena *arena, uint64_t number)
{
	char *hash = g_compute_checksum_for_string(G_CHECKSUM_SHA256,
	                                           arena_printf(arena, "%llu", (unsigned long long)number), -1);
	const char *copy = arena_strdup(arena, hash);
	g_free(hash);
	return copy;
}

/* The nine signs without their strokes. */
static void signs_of(struct arena *arena, uint64_t number, char signs[10])
{
	const char *code = record_code(arena, digest_of(arena, number));
	assert_int_equal(strlen(code), 11);
	assert_int_equal(code[4], '-');
	assert_int_equal(code[9], '-');
	memcpy(signs, code, 4);
	memcpy(signs + 4, code + 5, 4);
	signs[8] = code[10];
	signs[9] = '\0';
}

static void every_code_is_good_and_readable(void **state)
{
	char signs[10];
	for (uint64_t i = 0; i < 2000; i++) {
		signs_of(case_of(state)->arena, i, signs);
		assert_true(is_good(signs));
		assert_int_equal(strspn(signs, ALPHABET), 9);
	}
}

static void every_wrong_sign_is_found(void **state)
{
	char signs[10];
	for (uint64_t i = 0; i < 100; i++) {
		signs_of(case_of(state)->arena, i, signs);
		for (size_t at = 0; at < 9; at++) {
			char right = signs[at];
			for (const char *wrong = ALPHABET; *wrong != '\0'; wrong++) {
				signs[at] = *wrong;
				assert_int_equal(is_good(signs), *wrong == right);
			}
			signs[at] = right;
		}
	}
}

/* The standard finds nearly all swaps: over all states and pairs of this alphabet 28 of 17,856 pass, so 1 in 638. */
static void nearly_every_swap_is_found(void **state)
{
	size_t swaps = 0;
	size_t missed = 0;
	char signs[10];
	for (uint64_t i = 0; i < 3000; i++) {
		signs_of(case_of(state)->arena, i, signs);
		for (size_t at = 0; at + 1 < 9; at++) {
			if (signs[at] == signs[at + 1])
				continue;
			char swapped[10];
			memcpy(swapped, signs, sizeof swapped);
			swapped[at] = signs[at + 1];
			swapped[at + 1] = signs[at];
			swaps++;
			missed += is_good(swapped);
		}
	}
	assert_true(swaps > 20000);
	assert_true(missed * 500 < swaps);
}

/* ---- hashing again ---- */

/* The check sign that the first forty bits alone would give, which may be one of those left out. */
static char first_check(const char *digest)
{
	char signs[10] = "";
	uint64_t bits = 0;
	for (size_t i = 0; i < 10; i++)
		bits = bits * 16 + (uint64_t)g_ascii_xdigit_value(digest[i]);
	for (size_t i = 0; i < 8; i++) {
		signs[7 - i] = ALPHABET[bits % 32];
		bits /= 32;
	}
	for (const char *check = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"; *check != '\0'; check++) {
		signs[8] = *check;
		if (is_good(signs))
			return *check;
	}
	return '?';
}

static void a_check_that_is_left_out_is_hashed_again(void **state)
{
	struct arena *arena = case_of(state)->arena;
	size_t again = 0;
	for (uint64_t i = 0; i < 400; i++) {
		const char *digest = digest_of(arena, i);
		if (strchr("ILOU", first_check(digest)) == NULL)
			continue;
		again++;
		char *second =
			g_compute_checksum_for_string(G_CHECKSUM_SHA256, arena_printf(arena, "%s:1", digest), -1);
		const char *code = record_code(arena, digest);
		if (strchr("ILOU", first_check(second)) == NULL) {
			assert_string_equal(code, record_code(arena, second));
			assert_int_equal(code[10], first_check(second));
		} else {
			char *third = g_compute_checksum_for_string(G_CHECKSUM_SHA256,
			                                            arena_printf(arena, "%s:2", digest), -1);
			if (strchr("ILOU", first_check(third)) == NULL)
				assert_string_equal(code, record_code(arena, third));
			g_free(third);
		}
		g_free(second);
	}
	/* Four of 36 check signs are left out, so about one code in nine. */
	assert_in_range(again, 20, 80);
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		tests_add(&tests, rows[i].code, a_code_is_as_worked_by_hand, &rows[i]);
	tests_add(&tests, "the first forty bits decide", the_first_forty_bits_decide, NULL);
	tests_add(&tests, "the independent check is the standard", the_independent_check_is_the_standard, NULL);
	tests_add(&tests, "every code is good and readable", every_code_is_good_and_readable, NULL);
	tests_add(&tests, "every wrong sign is found", every_wrong_sign_is_found, NULL);
	tests_add(&tests, "nearly every swap is found", nearly_every_swap_is_found, NULL);
	tests_add(&tests, "a check that is left out is hashed again", a_check_that_is_left_out_is_hashed_again, NULL);
	return tests_run(&tests, "record_code");
}
