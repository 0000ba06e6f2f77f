#include "quantity/rational.h"

#include <assert.h>

/*
 * Both parts of a value stay within 64 bits, so a product of two parts needs at
 * most 126 bits and a sum of two such products at most 127: nothing below can
 * overflow before it is reduced, and only what is reduced is judged.
 */
__extension__ typedef __int128 wide;
__extension__ typedef unsigned __int128 wide_unsigned;

static wide_unsigned magnitude(wide number)
{
	return number < 0 ? -(wide_unsigned)number : (wide_unsigned)number;
}

static wide_unsigned common_factor(wide_unsigned a, wide_unsigned b)
{
	while (b) {
		wide_unsigned rest = a % b;
		a = b;
		b = rest;
	}
	return a;
}

/* Reduces and stores; false when a part does not fit. `denominator` is above 0. */
static bool store(wide numerator, wide denominator, struct rational *result)
{
	wide factor = (wide)common_factor(magnitude(numerator), (wide_unsigned)denominator);
	numerator /= factor;
	denominator /= factor;
	if (magnitude(numerator) > INT64_MAX || denominator > INT64_MAX)
		return false;
	*result = (struct rational){(int64_t)numerator, (int64_t)denominator};
	return true;
}

struct rational rational_of(int64_t numerator, int64_t denominator)
{
	assert(denominator != 0 && denominator != INT64_MIN && numerator != INT64_MIN);
	wide sign = denominator < 0 ? -1 : 1;
	struct rational result = {0, 1};
	bool fits = store(sign * numerator, sign * denominator, &result);
	assert(fits);
	(void)fits;
	return result;
}

bool rational_add(struct rational a, struct rational b, struct rational *result)
{
	wide numerator = (wide)a.numerator * b.denominator + (wide)b.numerator * a.denominator;
	return store(numerator, (wide)a.denominator * b.denominator, result);
}

bool rational_subtract(struct rational a, struct rational b, struct rational *result)
{
	wide numerator = (wide)a.numerator * b.denominator - (wide)b.numerator * a.denominator;
	return store(numerator, (wide)a.denominator * b.denominator, result);
}

bool rational_multiply(struct rational a, struct rational b, struct rational *result)
{
	return store((wide)a.numerator * b.numerator, (wide)a.denominator * b.denominator, result);
}

bool rational_divide(struct rational a, struct rational b, struct rational *result)
{
	if (b.numerator == 0)
		return false;
	wide sign = b.numerator < 0 ? -1 : 1;
	return store(sign * a.numerator * b.denominator, sign * a.denominator * b.numerator, result);
}

/* A product of 190 bits, in limbs of 64, lowest first. */
struct long_product {
	uint64_t limb[3];
};

static struct long_product long_multiply(wide_unsigned a, uint64_t b)
{
	wide_unsigned low = (wide_unsigned)(uint64_t)a * b;
	wide_unsigned high = (wide_unsigned)(uint64_t)(a >> 64) * b + (low >> 64);
	return (struct long_product){{(uint64_t)low, (uint64_t)high, (uint64_t)(high >> 64)}};
}

static int long_compare(struct long_product a, struct long_product b)
{
	for (int i = 2; i >= 0; i--)
		if (a.limb[i] != b.limb[i])
			return a.limb[i] < b.limb[i] ? -1 : 1;
	return 0;
}

int rational_compare_scaled(struct rational a, int64_t by_a, struct rational b, int64_t by_b)
{
	assert(by_a > 0 && by_b > 0);
	wide left = (wide)a.numerator * b.denominator;
	wide right = (wide)b.numerator * a.denominator;
	if ((left < 0) != (right < 0))
		return left < 0 ? -1 : 1;
	int larger = long_compare(long_multiply(magnitude(left), (uint64_t)by_a),
	                          long_multiply(magnitude(right), (uint64_t)by_b));
	return left < 0 ? -larger : larger;
}

int rational_compare(struct rational a, struct rational b)
{
	return rational_compare_scaled(a, 1, b, 1);
}

bool rational_is_zero(struct rational a)
{
	return a.numerator == 0;
}

bool rational_is_whole(struct rational a)
{
	return a.denominator == 1;
}

int64_t rational_floor(struct rational a)
{
	int64_t whole = a.numerator / a.denominator;
	return a.numerator % a.denominator < 0 ? whole - 1 : whole;
}

int64_t rational_ceiling(struct rational a)
{
	int64_t whole = a.numerator / a.denominator;
	return a.numerator % a.denominator > 0 ? whole + 1 : whole;
}

/* Splits a into `whole` steps and what is left, `rest` parts of `part` to a step; 0 <= rest < part. */
static void split_into_steps(struct rational a, struct rational step, wide *whole, wide *rest, wide *part)
{
	assert(step.numerator > 0);
	wide numerator = (wide)a.numerator * step.denominator;
	*part = (wide)a.denominator * step.numerator;
	*whole = numerator / *part;
	*rest = numerator % *part;
	if (*rest < 0) {
		*rest += *part;
		*whole -= 1;
	}
}

bool rational_in_steps(struct rational a, struct rational step, int64_t *count)
{
	wide whole, rest, part;
	split_into_steps(a, step, &whole, &rest, &part);
	if (rest != 0 || magnitude(whole) > INT64_MAX)
		return false;
	*count = (int64_t)whole;
	return true;
}

bool rational_round_to(struct rational a, struct rational step, struct rational *result)
{
	wide whole, rest, part;
	split_into_steps(a, step, &whole, &rest, &part);
	if (rest >= part - rest)
		whole += 1;
	/* At most half a step from a, so the product is near a's numerator times the step's denominator: 126 bits. */
	return store(whole * step.numerator, step.denominator, result);
}
