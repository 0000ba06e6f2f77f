/*
 * Every operation against GMP's fractions, on a repeatable stream of operands
 * that favours extremes: no result differs, and overflow is reported exactly
 * when GMP's result, in lowest terms, has a part beyond INT64_MAX.
 */
#include "quantity/rational.h"

#include "support/cases.h"

#include <gmp.h>
#include <inttypes.h>
#include <stdbool.h>
#include <stdio.h>

enum { ROUNDS = 20000 };

/* Small, decimal, large, extreme: all meet all. */
static int64_t random_part(uint64_t *seed)
{
	static const int64_t extremes[] = {1,
	                                   2,
	                                   3,
	                                   10,
	                                   1000000,
	                                   INT32_MAX,
	                                   (int64_t)INT32_MAX + 1,
	                                   INT64_MAX / 2,
	                                   INT64_MAX / 2 + 1,
	                                   INT64_MAX - 1,
	                                   INT64_MAX,
	                                   1000000000000000000,
	                                   4611686018427387904,
	                                   3037000499,
	                                   3037000500};
	uint64_t choice = next_random(seed);
	int64_t value = (int64_t)(next_random(seed) >> 1);
	switch (choice % 5) {
	case 0:
		return value % 1000 + 1;
	case 1:
		return value % 1000000000 + 1;
	case 2:
		return extremes[(uint64_t)value % (sizeof extremes / sizeof *extremes)];
	case 3:
		return (value >> (choice / 5 % 62)) | 1;
	default:
		return value > 0 ? value : 1;
	}
}

static struct rational random_rational(uint64_t *seed)
{
	uint64_t choice = next_random(seed);
	if (choice % 31 == 0)
		return rational_of(0, random_part(seed));
	int64_t numerator = random_part(seed);
	int64_t denominator = choice & 32 ? random_part(seed) : (int64_t[]){1, 2, 10, 100, 1000, 3}[choice / 64 % 6];
	return rational_of(choice & 16 ? -numerator : numerator, denominator);
}

static void to_gmp(mpq_t result, struct rational value)
{
	mpz_set_si(mpq_numref(result), value.numerator);
	mpz_set_si(mpq_denref(result), value.denominator);
}

static bool fits(const mpq_t value)
{
	mpz_t most;
	mpz_init_set_si(most, INT64_MAX);
	bool within = mpz_cmpabs(mpq_numref(value), most) <= 0 && mpz_cmp(mpq_denref(value), most) <= 0;
	mpz_clear(most);
	return within;
}

/* `ours` came with `answered`; `theirs` is what it must be. */
static void check(bool answered, struct rational ours, const mpq_t theirs, struct rational a, struct rational b)
{
	bool expected = fits(theirs);
	bool equal = !answered || (mpz_cmp_si(mpq_numref(theirs), ours.numerator) == 0 &&
	                           mpz_cmp_si(mpq_denref(theirs), ours.denominator) == 0);
	bool untouched = answered || (ours.numerator == 77 && ours.denominator == 78);
	if (answered != expected || !equal || !untouched)
		fail_msg("%" PRId64 "/%" PRId64 " with %" PRId64 "/%" PRId64 ": %s %" PRId64 "/%" PRId64
		         ", should be %s",
		         a.numerator, a.denominator, b.numerator, b.denominator,
		         answered ? "gives" : "refused, leaving", ours.numerator, ours.denominator,
		         mpq_get_str(NULL, 10, theirs));
}

struct operation {
	const char *name;
	bool (*ours)(struct rational, struct rational, struct rational *);
	void (*theirs)(mpq_ptr, mpq_srcptr, mpq_srcptr);
};

/* Nearest multiple of a step, half up: floor(a / step + 1/2) * step. */
static void gmp_round_to(mpq_ptr result, mpq_srcptr a, mpq_srcptr step)
{
	mpq_t half;
	mpq_init(half);
	mpq_set_ui(half, 1, 2);
	mpq_div(result, a, step);
	mpq_add(result, result, half);
	mpz_fdiv_q(mpq_numref(result), mpq_numref(result), mpq_denref(result));
	mpz_set_ui(mpq_denref(result), 1);
	mpq_mul(result, result, step);
	mpq_clear(half);
}

static const struct operation operations[] = {
	{"add", rational_add, mpq_add},
	{"subtract", rational_subtract, mpq_sub},
	{"multiply", rational_multiply, mpq_mul},
	{"divide", rational_divide, mpq_div},
	{"round to", rational_round_to, gmp_round_to},
};

static void agrees_with_gmp(void **state)
{
	const struct operation *operation = case_of(state)->row;
	bool needs_positive = operation->ours == rational_round_to;
	bool divides = operation->ours == rational_divide || needs_positive;
	uint64_t seed = 20261125;
	int answers = 0;
	mpq_t a, b, theirs;
	mpq_inits(a, b, theirs, NULL);
	for (int i = 0; i < ROUNDS; i++) {
		struct rational left = random_rational(&seed);
		struct rational right = random_rational(&seed);
		struct rational ours = {77, 78};
		if (divides && rational_is_zero(right))
			right = rational_of(1, 3);
		if (needs_positive && right.numerator < 0)
			right.numerator = -right.numerator;
		to_gmp(a, left);
		to_gmp(b, right);
		operation->theirs(theirs, a, b);
		bool answered = operation->ours(left, right, &ours);
		check(answered, ours, theirs, left, right);
		answers += answered;
	}
	mpq_clears(a, b, theirs, NULL);
	/* Both outcomes were really met, often. */
	assert_in_range(answers, ROUNDS / 10, ROUNDS * 9 / 10);
}

static void compares_like_gmp(void **state)
{
	(void)state;
	uint64_t seed = 7;
	mpq_t a, b, factor;
	mpq_inits(a, b, factor, NULL);
	for (int i = 0; i < ROUNDS; i++) {
		struct rational left = random_rational(&seed);
		struct rational right = i % 10 ? random_rational(&seed) : left;
		int64_t by_left = random_part(&seed);
		int64_t by_right = i % 20 ? random_part(&seed) : by_left;
		to_gmp(a, left);
		to_gmp(b, right);
		int theirs = mpq_cmp(a, b);
		int ours = rational_compare(left, right);
		assert_int_equal((ours > 0) - (ours < 0), (theirs > 0) - (theirs < 0));
		mpq_set_si(factor, by_left, 1);
		mpq_mul(a, a, factor);
		mpq_set_si(factor, by_right, 1);
		mpq_mul(b, b, factor);
		theirs = mpq_cmp(a, b);
		ours = rational_compare_scaled(left, by_left, right, by_right);
		assert_int_equal((ours > 0) - (ours < 0), (theirs > 0) - (theirs < 0));
	}
	mpq_clears(a, b, factor, NULL);
}

static void floors_and_ceilings_like_gmp(void **state)
{
	(void)state;
	uint64_t seed = 11;
	mpz_t theirs;
	mpq_t a;
	mpz_init(theirs);
	mpq_init(a);
	for (int i = 0; i < ROUNDS; i++) {
		struct rational value = random_rational(&seed);
		to_gmp(a, value);
		mpz_fdiv_q(theirs, mpq_numref(a), mpq_denref(a));
		assert_true(rational_floor(value) == mpz_get_si(theirs));
		mpz_cdiv_q(theirs, mpq_numref(a), mpq_denref(a));
		assert_true(rational_ceiling(value) == mpz_get_si(theirs));
		assert_int_equal(rational_is_whole(value), mpz_cmp_ui(mpq_denref(a), 1) == 0);
		assert_int_equal(rational_is_zero(value), mpq_sgn(a) == 0);
	}
	mpq_clear(a);
	mpz_clear(theirs);
}

/* Half of the values are made as multiples of the step, so that both answers are met. */
static void counts_steps_like_gmp(void **state)
{
	(void)state;
	uint64_t seed = 13;
	int whole = 0;
	mpq_t a, step;
	mpq_inits(a, step, NULL);
	for (int i = 0; i < ROUNDS; i++) {
		struct rational value = random_rational(&seed);
		struct rational one = random_rational(&seed);
		if (one.numerator <= 0)
			one = rational_of(1, 100);
		if (i % 2)
			rational_multiply(one, rational_of((int64_t)(next_random(&seed) % 2001) - 1000, 1), &value);
		to_gmp(a, value);
		to_gmp(step, one);
		mpq_div(a, a, step);
		int64_t count = 77;
		bool expected = mpz_cmp_ui(mpq_denref(a), 1) == 0 && fits(a);
		assert_int_equal(rational_in_steps(value, one, &count), expected);
		assert_true(count == (expected ? mpz_get_si(mpq_numref(a)) : 77));
		whole += expected;
	}
	mpq_clears(a, step, NULL);
	assert_in_range(whole, ROUNDS / 10, ROUNDS * 9 / 10);
}

static void is_always_in_lowest_terms(void **state)
{
	(void)state;
	struct rational value = rational_of(6, -4);
	assert_true(value.numerator == -3 && value.denominator == 2);
	value = rational_of(0, -7);
	assert_true(value.numerator == 0 && value.denominator == 1);
	value = rational_of(-INT64_MAX, -INT64_MAX);
	assert_true(value.numerator == 1 && value.denominator == 1);
	uint64_t seed = 17;
	for (int i = 0; i < ROUNDS; i++) {
		int64_t numerator = random_part(&seed);
		int64_t denominator = random_part(&seed);
		value = rational_of(numerator, i % 2 ? denominator : -denominator);
		mpq_t theirs;
		mpq_init(theirs);
		mpz_set_si(mpq_numref(theirs), i % 2 ? numerator : -numerator);
		mpz_set_si(mpq_denref(theirs), denominator);
		mpq_canonicalize(theirs);
		check(true, value, theirs, value, value);
		mpq_clear(theirs);
	}
}

static void division_by_zero_is_refused(void **state)
{
	(void)state;
	struct rational result = {77, 78};
	assert_false(rational_divide(rational_of(1, 2), rational_of(0, 1), &result));
	assert_true(result.numerator == 77 && result.denominator == 78);
}

/* INT64_MIN would fit 64 bits, but could not be negated: it is overflow on every road. */
static void least_number_is_overflow(void **state)
{
	(void)state;
	struct rational most = rational_of(INT64_MAX, 1);
	struct rational least = rational_of(-INT64_MAX, 1);
	struct rational one = rational_of(1, 1);
	struct rational result = {77, 78};
	assert_false(rational_subtract(least, one, &result));
	assert_false(rational_add(most, one, &result));
	assert_false(rational_multiply(rational_of(1LL << 62, 1), rational_of(-2, 1), &result));
	assert_false(rational_divide(rational_of(1LL << 62, 1), rational_of(-1, 2), &result));
	assert_true(result.numerator == 77 && result.denominator == 78);
	assert_true(rational_round_to(least, rational_of(2, 1), &result));
	assert_true(result.numerator == -INT64_MAX + 1);
	assert_true(rational_subtract(least, rational_of(-1, 1), &result));
	assert_true(result.numerator == -INT64_MAX + 1);
	assert_int_equal(rational_floor(rational_of(-INT64_MAX, 2)), -(INT64_MAX / 2) - 1);
}

struct rounding {
	const char *name;
	struct rational value, step;
	int64_t numerator, denominator;
};

/* Half goes up, towards the larger number. */
static const struct rounding roundings[] = {
	{"0.125 to hundredths is 0.13", {1, 8}, {1, 100}, 13, 100},
	{"0.124 to hundredths is 0.12", {31, 250}, {1, 100}, 3, 25},
	{"0.045 to hundredths is 0.05", {9, 200}, {1, 100}, 1, 20},
	{"-0.125 to hundredths is -0.12", {-1, 8}, {1, 100}, -3, 25},
	{"0.3 to fifths is 0.4", {3, 10}, {1, 5}, 2, 5},
	{"2.5 to halves stays", {5, 2}, {1, 2}, 5, 2},
	{"1/3 to twelfths stays", {1, 3}, {1, 12}, 1, 3},
	{"0.01 to ones is 0", {1, 100}, {1, 1}, 0, 1},
};

static void rounds_half_up(void **state)
{
	const struct rounding *row = case_of(state)->row;
	struct rational result;
	assert_true(rational_round_to(row->value, row->step, &result));
	assert_int_equal(result.numerator, row->numerator);
	assert_int_equal(result.denominator, row->denominator);
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof operations / sizeof *operations; i++)
		tests_add(&tests, operations[i].name, agrees_with_gmp, &operations[i]);
	tests_add(&tests, "compare", compares_like_gmp, NULL);
	tests_add(&tests, "floor and ceiling", floors_and_ceilings_like_gmp, NULL);
	tests_add(&tests, "in steps", counts_steps_like_gmp, NULL);
	tests_add(&tests, "always in lowest terms", is_always_in_lowest_terms, NULL);
	tests_add(&tests, "division by zero is refused", division_by_zero_is_refused, NULL);
	tests_add(&tests, "the least number is overflow", least_number_is_overflow, NULL);
	for (size_t i = 0; i < sizeof roundings / sizeof *roundings; i++)
		tests_add(&tests, roundings[i].name, rounds_half_up, &roundings[i]);
	return tests_run(&tests, "rational");
}
