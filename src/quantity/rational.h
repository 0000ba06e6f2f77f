/*
 * rational.h - exact fractions in 64 bits, with overflow caught.
 *
 * A value is always normalised: the denominator is positive and shares no
 * factor with the numerator; zero is 0/1. So equal values are equal bytes.
 * Neither part is ever INT64_MIN, so a value can always be negated: a result
 * that would need it counts as overflow.
 * Sums and products are formed in 128 bits and refused when the reduced result
 * does not fit. Comparing never fails.
 */
#ifndef QUANTITY_RATIONAL_H
#define QUANTITY_RATIONAL_H

#include <stdbool.h>
#include <stdint.h>

struct rational {
	int64_t numerator;
	int64_t denominator;
};

/* numerator/denominator, reduced. `denominator` must not be 0 nor either be INT64_MIN. */
struct rational rational_of(int64_t numerator, int64_t denominator);

/* Each puts the result into `result` and returns true; on overflow, or a
 * division by zero, returns false and leaves `result` untouched. */
bool rational_add(struct rational a, struct rational b, struct rational *result);
bool rational_subtract(struct rational a, struct rational b, struct rational *result);
bool rational_multiply(struct rational a, struct rational b, struct rational *result);
bool rational_divide(struct rational a, struct rational b, struct rational *result);

/* Less than zero, zero or more than zero as `a` is below, equal to or above `b`. */
int rational_compare(struct rational a, struct rational b);

/* The same for a * by_a against b * by_b, both factors above 0; never fails. */
int rational_compare_scaled(struct rational a, int64_t by_a, struct rational b, int64_t by_b);

bool rational_is_zero(struct rational a);
bool rational_is_whole(struct rational a);

/* The largest whole number not above, the smallest not below; never fail. */
int64_t rational_floor(struct rational a);
int64_t rational_ceiling(struct rational a);

/* How many whole steps: true, with the count, when a is a multiple of step (step > 0). */
bool rational_in_steps(struct rational a, struct rational step, int64_t *count);

/* Nearest multiple of `step` (> 0); half goes up. False on overflow. */
bool rational_round_to(struct rational a, struct rational step, struct rational *result);

#endif
