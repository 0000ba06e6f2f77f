#include "quantity/quantity.h"

#include <assert.h>
#include <string.h>

/* Reading is in quantity_read.c; here are conversion, arithmetic and printing. */

__extension__ typedef unsigned __int128 wide_unsigned;

enum { PLACES = 6, PLACES_POWER = 1000000, GROUP = 3 };

#define NO_BREAK_SPACE "\xc2\xa0"

bool quantity_in(struct quantity quantity, enum unit unit, struct quantity *result)
{
	struct rational factor, number;
	if (!unit_converts(quantity.unit, unit))
		return false;
	if (!rational_divide(unit_size(quantity.unit), unit_size(unit), &factor) ||
	    !rational_multiply(quantity.number, factor, &number))
		return false;
	*result = (struct quantity){number, unit};
	return true;
}

bool quantity_add(struct quantity a, struct quantity b, struct quantity *result)
{
	struct quantity alike;
	struct rational number;
	if (!quantity_in(b, a.unit, &alike) || !rational_add(a.number, alike.number, &number))
		return false;
	*result = (struct quantity){number, a.unit};
	return true;
}

bool quantity_subtract(struct quantity a, struct quantity b, struct quantity *result)
{
	struct quantity alike;
	struct rational number;
	if (!quantity_in(b, a.unit, &alike) || !rational_subtract(a.number, alike.number, &number))
		return false;
	*result = (struct quantity){number, a.unit};
	return true;
}

bool quantity_multiply(struct quantity a, struct rational by, struct quantity *result)
{
	struct rational number;
	if (!rational_multiply(a.number, by, &number))
		return false;
	*result = (struct quantity){number, a.unit};
	return true;
}

bool quantity_ratio(struct quantity a, struct quantity b, struct rational *result)
{
	struct quantity alike;
	return quantity_in(b, a.unit, &alike) && rational_divide(a.number, alike.number, result);
}

int quantity_compare(struct quantity a, struct quantity b)
{
	assert(unit_converts(a.unit, b.unit));
	return rational_compare_scaled(a.number, unit_size(a.unit).numerator, b.number, unit_size(b.unit).numerator);
}

bool quantity_same(struct quantity a, struct quantity b)
{
	return unit_converts(a.unit, b.unit) && quantity_compare(a, b) == 0;
}

bool number_ends(struct rational number)
{
	return PLACES_POWER % number.denominator == 0;
}

/* 1250 as "1,250"; R009: at or above 1,000. */
static const char *group_thousands(struct arena *arena, uint64_t whole, char separator)
{
	char digits[32];
	size_t n = sizeof digits;
	digits[--n] = '\0';
	for (int i = 0; i == 0 || whole != 0; i++, whole /= 10) {
		if (i > 0 && i % GROUP == 0)
			digits[--n] = separator;
		digits[--n] = (char)('0' + whole % 10);
	}
	return arena_strdup(arena, digits + n);
}

const char *number_print(struct arena *arena, struct rational number, enum decimal_mark mark)
{
	uint64_t above = number.numerator < 0 ? -(uint64_t)number.numerator : (uint64_t)number.numerator;
	uint64_t below = (uint64_t)number.denominator;
	uint64_t whole = above / below;
	wide_unsigned scaled = (wide_unsigned)(above % below) * PLACES_POWER;
	uint32_t decimals = (uint32_t)(scaled / below);
	uint64_t rest = (uint64_t)(scaled % below);
	if (rest >= below - rest) /* R022: half goes up */
		decimals++;
	if (decimals == PLACES_POWER) {
		decimals = 0;
		whole++;
	}

	const char *about = rest ? "about " : "";
	const char *sign = number.numerator < 0 && (whole || decimals) ? "-" : "";
	const char *grouped = group_thousands(arena, whole, mark == DECIMAL_POINT ? ',' : '.');
	if (decimals == 0)
		return *about || *sign ? arena_printf(arena, "%s%s%s", about, sign, grouped) : grouped;

	/* R002: no zeros at the end. */
	int places = PLACES;
	while (decimals % 10 == 0) {
		decimals /= 10;
		places--;
	}
	return arena_printf(arena, "%s%s%s%c%0*u", about, sign, grouped, mark == DECIMAL_POINT ? '.' : ',', places,
	                    (unsigned)decimals);
}

/* A unit's name with `space` for each space in it. */
static const char *spaced(struct arena *arena, const char *name, const char *space)
{
	const char *gap = strchr(name, ' ');
	if (!gap)
		return name;
	return arena_printf(arena, "%.*s%s%s", (int)(gap - name), name, space, gap + 1);
}

static const char *print_with(struct arena *arena, struct quantity quantity, enum decimal_mark mark, const char *space)
{
	const char *number = number_print(arena, quantity.number, mark);
	if (quantity.unit == UNIT_NONE)
		return number;
	bool singular = quantity.number.numerator == 1 && quantity.number.denominator == 1;
	const char *name = spaced(arena, unit_name(quantity.unit, singular), space);
	return arena_printf(arena, "%s%s%s", number, space, name);
}

const char *quantity_print(struct arena *arena, struct quantity quantity, enum decimal_mark mark)
{
	return print_with(arena, quantity, mark, NO_BREAK_SPACE);
}

const char *quantity_plain(struct arena *arena, struct quantity quantity, enum decimal_mark mark)
{
	return print_with(arena, quantity, mark, " ");
}
