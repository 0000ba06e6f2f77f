/*
 * quantity.h - an exact number and its unit; reading, refusing and printing.
 *
 * Reading is strict because a misread digit hurts: what could be read two ways
 * is refused with the reason and the remedy. Printing follows the notation
 * rules of medication safety (leading zero, no trailing zero, unit in words,
 * no-break space before it, thousands separated), so printed text can always
 * be read again to the same value.
 */
#ifndef QUANTITY_QUANTITY_H
#define QUANTITY_QUANTITY_H

#include "base/arena.h"
#include "quantity/rational.h"
#include "quantity/unit.h"

#include <stdbool.h>
#include <stddef.h>

struct quantity {
	struct rational number;
	enum unit unit;
};

/* The decimal mark a text is written in or printed with. */
enum decimal_mark { DECIMAL_POINT, DECIMAL_COMMA };

/* Why a text was refused, or accepted with a caution. */
struct quantity_fault {
	bool caution;     /* true: it was read, but say this */
	const char *code; /* "no-unit", "bare-decimal", "decimal-comma", ... ; NULL: nothing to say */
	const char *says; /* the sentence for a finding, in the arena */
};

/*
 * Reads "250 mcg", "0.25 mg", "10,000 units", "1.5 mL", "10 syringe units".
 * Also µg and ug as mcg, IU and [IU] as units, ml as mL, and the other UCUM
 * codes of these dimensions. `mark` says how a decimal is written there;
 * DECIMAL_POINT everywhere but in an intake whose map names a comma.
 * A text without a unit, zero, negative, a bare decimal point, a suspected
 * thousands mark, a bare U, exponents, more than 9 digits or 6 decimals, bidi
 * controls and look-alike digits are refused. "1.0 mg" is read with a caution.
 * Returns false, with `fault` filled, when refused; `result` is then untouched.
 */
bool quantity_read(struct arena *arena, const char *text, enum decimal_mark mark, struct quantity *result,
                   struct quantity_fault *fault);

/*
 * The same, where nothing at all is a sensible amount too ("0 mL" displacement
 * or loss, "0 units" priming).
 */
bool quantity_read_or_zero(struct arena *arena, const char *text, enum decimal_mark mark, struct quantity *result,
                           struct quantity_fault *fault);

/* "250 mcg/mL", "100 units/mL", "5 mg/0.5 mL" (read as 10 mg/mL): an amount per mL.
 * `result` is the amount in one mL. */
bool concentration_read(struct arena *arena, const char *text, enum decimal_mark mark, struct quantity *result,
                        struct quantity_fault *fault);

/* A number alone, by the same strict rules ("2", "0.5"); no unit may follow. */
bool number_read(struct arena *arena, const char *text, enum decimal_mark mark, struct rational *result,
                 struct quantity_fault *fault);

/* `quantity` in another unit of its dimension; false if the units do not convert or on overflow. */
bool quantity_in(struct quantity quantity, enum unit unit, struct quantity *result);

/* Sums and comparisons of units that convert; false otherwise or on overflow. The sum has a's unit. */
bool quantity_add(struct quantity a, struct quantity b, struct quantity *result);
bool quantity_subtract(struct quantity a, struct quantity b, struct quantity *result);
bool quantity_multiply(struct quantity a, struct rational by, struct quantity *result);
bool quantity_ratio(struct quantity a, struct quantity b, struct rational *result);

/* Compares units that convert (asserted); never fails. */
int quantity_compare(struct quantity a, struct quantity b);
bool quantity_same(struct quantity a, struct quantity b);

/* "0.5", "1,250", "187.5", "0.125". A number that does not end in decimals is
 * printed to six places with a leading "about ". Decimal comma: "1.250,5". */
const char *number_print(struct arena *arena, struct rational number, enum decimal_mark mark);

/* True when the number has a finite decimal of at most six places. */
bool number_ends(struct rational number);

/* "125 mcg", "1 unit", "10,000 units": with a no-break space (U+00A0). */
const char *quantity_print(struct arena *arena, struct quantity quantity, enum decimal_mark mark);

/* The same with an ordinary space, for messages and JSON. */
const char *quantity_plain(struct arena *arena, struct quantity quantity, enum decimal_mark mark);

#endif
