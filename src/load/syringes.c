#include "load/syringes.h"

#include "load/choices.h"

#include <string.h>

enum { MOST_UNITS_PER_ML = 1000, MOST_MARKS = 1000 };

static const struct rational zero = {0, 1};
static const struct rational one = {1, 1};

/* `scale: mL`, or the units that one mL has on it. */
static void read_scale(const struct reader *reader, const struct raw_scale *raw, struct syringe *syringe)
{
	static const struct choice plain[] = {{"mL", 0}, {NULL, 0}};
	syringe->units_per_ml = one;
	syringe->scale_name = read_text(reader, NULL, syringe->place);
	if (!raw)
		return;
	struct place place = given_place(reader, raw->place);
	read_choice(reader, raw->text, plain, 0);
	if (raw->text)
		return;
	syringe->unit_scale = true;
	struct stated_number units = read_whole(reader, raw->units_per_mL, place, 1, MOST_UNITS_PER_ML);
	if (!raw->units_per_mL)
		refuse_value(reader, "missing-key", place, "'scale' lacks the key 'units_per_mL'; add it");
	if (!raw->name)
		refuse_value(reader, "missing-key", place,
		             "'scale' lacks the key 'name'; say how the sheet is to call it, as in 'insulin syringe'");
	if (units.given)
		syringe->units_per_ml = rational_of(units.number, 1);
	syringe->scale_name = read_text(reader, raw->name, place);
}

/* "0.1 mL"; on a scale in units also "10" or "10 units", which are read on the scale. */
static struct rational read_volume(const struct reader *reader, const char *raw, const struct syringe *syringe)
{
	struct rational number;
	struct quantity ml;
	const char *text = read_string(reader, raw);
	if (!text)
		return zero;
	if (syringe->unit_scale && strspn(text, "0123456789.,") == strlen(text)) {
		if (!read_number(reader, raw, &number) || !rational_divide(number, syringe->units_per_ml, &number))
			return zero;
		return number;
	}
	unsigned dimensions = OF_VOLUME | (syringe->unit_scale ? OF(DIMENSION_ACTIVITY) : 0);
	struct stated_quantity stated = read_amount(reader, raw, syringe->place, dimensions);
	if (!stated.given)
		return zero;
	if (unit_dimension(stated.quantity.unit) == DIMENSION_ACTIVITY)
		return rational_divide(stated.quantity.number, syringe->units_per_ml, &number) ? number : zero;
	return quantity_in(stated.quantity, UNIT_ML, &ml) ? ml.number : zero;
}

static struct rational read_length(const struct reader *reader, const char *raw, struct place around)
{
	struct stated_quantity stated = read_amount(reader, raw, around, OF_LENGTH);
	struct quantity mm;
	return stated.given && quantity_in(stated.quantity, UNIT_MM, &mm) ? mm.number : zero;
}

/* What a numeral as printed says: "1.0", ".5" and "0,5" are numbers too. False where it is none. */
static bool numeral_number(const char *text, struct rational *number)
{
	int64_t digits = 0;
	int64_t scale = 1;
	bool decimals = false;
	size_t n = 0;
	for (; *text; text++) {
		if ((*text == '.' || *text == ',') && !decimals) {
			decimals = true;
			continue;
		}
		if (*text < '0' || *text > '9' || ++n > 9)
			return false;
		digits = digits * 10 + (*text - '0');
		scale *= decimals ? 10 : 1;
	}
	*number = rational_of(digits, scale);
	return n > 0;
}

/* Numerals go from the zero line up, one for each numbered line; each that is a number is that line's. */
static void check_numerals(const struct reader *reader, const struct raw_syringe *raw, const struct syringe *syringe)
{
	int64_t lines;
	if (!rational_in_steps(syringe->graduated, syringe->numbered_every, &lines)) {
		struct rational steps;
		if (!rational_divide(syringe->graduated, syringe->numbered_every, &steps))
			return;
		lines = rational_floor(steps);
	}
	if ((int64_t)raw->numerals_count != lines + 1)
		refuse_value(reader, "numerals-count", given_place(reader, raw->numerals[0]),
		             "'%s' has %u numerals and %lld numbered lines, zero included; give each line its own",
		             syringe->id, raw->numerals_count, (long long)(lines + 1));
	for (unsigned i = 0; i < raw->numerals_count; i++) {
		struct stated_string numeral = given_string(reader, raw->numerals[i], syringe->place);
		struct rational says, stands;
		if (!numeral_number(numeral.text, &says) ||
		    !rational_multiply(syringe->numbered_every, rational_of(i, 1), &stands) ||
		    !rational_multiply(stands, syringe->units_per_ml, &stands) || rational_compare(says, stands) == 0)
			continue;
		refuse_value(reader, "numeral-differs", numeral.place,
		             "the numeral '%s' stands at %s of the scale; write the numerals from the zero line up",
		             numeral.text, number_print(reader->arena, stands, DECIMAL_POINT));
	}
}

/* Lines must divide what they are numbered by and what they fill, or no line is where the drawing has it. */
static void check_scale(const struct reader *reader, const struct raw_syringe *raw, const struct syringe *syringe)
{
	int64_t lines, steps;
	if (rational_is_zero(syringe->step) || rational_is_zero(syringe->capacity) ||
	    rational_is_zero(syringe->numbered_every))
		return; /* not given, or refused already */
	if (rational_compare(syringe->graduated, syringe->capacity) < 0)
		refuse_value(reader, "scale-uneven", given_place(reader, raw->graduated),
		             "the graduated capacity of '%s' is less than its capacity; mend one", syringe->id);
	else if (!rational_in_steps(syringe->graduated, syringe->step, &lines) ||
	         !rational_in_steps(syringe->capacity, syringe->step, &steps))
		refuse_value(reader, "scale-uneven", given_place(reader, raw->step),
		             "the step of '%s' does not divide its capacity; mend one", syringe->id);
	else if (lines > MOST_MARKS)
		refuse_value(reader, "scale-uneven", given_place(reader, raw->step),
		             "'%s' would have over %d lines; mend its step", syringe->id, MOST_MARKS);
	else if (!rational_in_steps(syringe->numbered_every, syringe->step, &steps))
		refuse_value(reader, "scale-uneven", given_place(reader, raw->numbered_every),
		             "the step of '%s' does not divide what its lines are numbered by; mend one", syringe->id);
	else if (rational_compare(syringe->numbered_every, syringe->capacity) > 0)
		refuse_value(reader, "scale-uneven", given_place(reader, raw->numbered_every),
		             "the numbered lines of '%s' are further apart than its capacity; mend one", syringe->id);
	else if (raw->numerals_count > 0)
		check_numerals(reader, raw, syringe);
}

static struct syringe read_syringe(const struct reader *reader, const struct raw_syringe *raw, bool built_in)
{
	struct syringe syringe = {.place = given_place(reader, raw->place), .built_in = built_in};
	syringe.id = read_syringe_id(reader, raw->id);
	syringe.name = read_text(reader, raw->name, syringe.place);
	read_scale(reader, raw->scale, &syringe);
	syringe.capacity = read_volume(reader, raw->capacity, &syringe);
	syringe.graduated = raw->graduated ? read_volume(reader, raw->graduated, &syringe) : syringe.capacity;
	syringe.step = read_volume(reader, raw->step, &syringe);
	syringe.numbered_every = read_volume(reader, raw->numbered_every, &syringe);
	syringe.numerals = raw->numerals_count ? read_strings(reader, raw->numerals, raw->numerals_count) : NULL;
	syringe.n_numerals = raw->numerals_count;
	syringe.scale_length = read_length(reader, raw->scale_length, syringe.place);
	syringe.barrel = read_length(reader, raw->barrel, syringe.place);
	syringe.fixed_needle = read_choice(reader, raw->needle, choices_needle, false);
	syringe.measured = read_flag(reader, raw->measured, false);
	check_scale(reader, raw, &syringe);
	return syringe;
}

static void check_new_id(const struct reader *reader, const struct syringe *syringe, const struct syringe *list,
                         size_t n)
{
	for (size_t i = 0; i < n; i++)
		if (strcmp(list[i].id, syringe->id) == 0 && list[i].built_in == syringe->built_in)
			refuse_second(reader, "syringe", syringe->id, syringe->place, list[i].place);
}

struct syringe *read_syringes(const struct reader *reader, const struct raw_syringes *raw, bool built_in,
                              struct syringe *list, size_t *n)
{
	for (unsigned i = 0; i < raw->syringes_count; i++) {
		struct syringe syringe = read_syringe(reader, &raw->syringes[i], built_in);
		check_new_id(reader, &syringe, list, *n);
		list = arena_more(reader->arena, list, *n, sizeof *list);
		list[(*n)++] = syringe;
	}
	return list;
}
