#include "quantity/quantity.h"

#include <assert.h>
#include <stdarg.h>
#include <stdint.h>
#include <string.h>
#include <strings.h>

/*
 * A text is first cleaned: every character is looked at, no-break spaces become
 * spaces, runs of spaces become one. Then the number is cut off its front, then
 * what is left must be a unit. Each refusal names the fault and then the remedy,
 * and nothing that could hide or reorder text ever reaches a message.
 *
 * Which of '.' and ',' is the decimal mark is told; the other can only separate
 * thousands, and only where it stands as it must: after one to three digits not
 * beginning with 0, then before every three. A number above 1 with exactly
 * three decimals of which the last is 0 ("1.500", "10.000") is far more often
 * one thousand five hundred by another country's habit, so it is refused.
 *
 * The space before the unit may be missing ("250mcg"): typed text has no
 * handwriting's doubt about where the digits end.
 */

enum { MOST_DIGITS = 9, MOST_DECIMALS = 6, GROUP = 3, MOST_QUOTED = 48 };

#define DIGITS "0123456789"
#define MARKS ".,"
#define LETTERS_LIKE_DIGITS "OoIl|"

struct reader {
	struct arena *arena;
	const char *text;  /* cleaned, the whole of it */
	const char *quote; /* the same, cut short for messages */
	enum decimal_mark mark;
	bool zero_allowed;
	bool zero_at_end; /* a decimal that ends in 0 was read */
	struct quantity_fault *fault;
};

__attribute__((format(printf, 3, 4))) static bool refuse(struct reader *reader, const char *code, const char *format,
                                                         ...)
{
	va_list arguments;
	va_start(arguments, format);
	reader->fault->says = arena_vprintf(reader->arena, format, arguments);
	va_end(arguments);
	reader->fault->code = code;
	return false;
}

static bool is_digit(char letter)
{
	return letter >= '0' && letter <= '9';
}

static bool is_mark(char letter)
{
	return letter == '.' || letter == ',';
}

static char decimal_character(enum decimal_mark mark)
{
	return mark == DECIMAL_POINT ? '.' : ',';
}

/* --- Cleaning --- */

/*
 * Decodes one character of UTF-8 and returns its length; 0 where the bytes are
 * no such character (cut off, overlong, a surrogate, beyond U+10FFFF).
 */
static size_t decode(const char *text, uint32_t *character)
{
	static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
	unsigned char first = (unsigned char)*text;
	size_t length = first < 0x80 ? 1 : first >> 5 == 6 ? 2 : first >> 4 == 14 ? 3 : first >> 3 == 30 ? 4 : 0;
	if (length <= 1) {
		*character = first;
		return length;
	}
	uint32_t value = first & (0x7fU >> length);
	for (size_t i = 1; i < length; i++) {
		unsigned char next = (unsigned char)text[i];
		if (next >> 6 != 2)
			return 0;
		value = value << 6 | (next & 0x3fU);
	}
	bool surrogate = value >= 0xd800 && value <= 0xdfff;
	if (value < least[length] || value > 0x10ffff || surrogate)
		return 0;
	*character = value;
	return length;
}

/* The spaces that a number and its unit may be parted by. */
static bool is_space(uint32_t character)
{
	return character == ' ' || character == 0xa0 || character == 0x202f;
}

/*
 * Plain characters are ASCII, the two signs for micro, and Latin letters with
 * accents, which at worst spell an unknown unit. All else can look like a digit
 * or a letter of a unit, hide, or reorder what is read.
 */
static bool is_plain(uint32_t character)
{
	if (character < 0x80)
		return character > ' ' && character < 0x7f;
	if (character == 0xb5 || character == 0x3bc)
		return true;
	return character >= 0xc0 && character <= 0x24f && character != 0xd7 && character != 0xf7;
}

/* Short enough for a message, never cut inside a character. */
static const char *shortened(struct arena *arena, const char *text)
{
	size_t length = strlen(text);
	if (length <= MOST_QUOTED)
		return text;
	length = MOST_QUOTED;
	while (((unsigned char)text[length] & 0xc0) == 0x80)
		length--;
	return arena_printf(arena, "%.*s...", (int)length, text);
}

static bool clean(struct reader *reader, const char *text)
{
	char *cleaned = arena_alloc(reader->arena, strlen(text) + 1);
	size_t n = 0;
	bool space_waits = false;
	for (int position = 1; *text; position++) {
		uint32_t character;
		size_t length = decode(text, &character);
		if (length == 0)
			return refuse(reader, "odd-character",
			              "character %d of the amount is not valid UTF-8; type it again", position);
		if (is_space(character)) {
			space_waits = n > 0;
		} else if (is_plain(character)) {
			if (space_waits)
				cleaned[n++] = ' ';
			space_waits = false;
			memcpy(cleaned + n, text, length);
			n += length;
		} else {
			return refuse(
				reader, "odd-character",
				"character %d of the amount is U+%04X, which is not a plain digit, letter or mark; "
				"type the amount again with plain ones",
				position, (unsigned)character);
		}
		text += length;
	}
	if (n == 0)
		return refuse(reader, "empty", "the amount is empty; write one, such as '250 mcg'");
	reader->text = cleaned;
	reader->quote = shortened(reader->arena, cleaned);
	return true;
}

/* --- The number --- */

/* "O.5 mg", "1O mg", "l0 units", "10l": letters in the place of digits. */
static bool begins_with_letters_for_digits(const char *text)
{
	size_t letters = strspn(text, LETTERS_LIKE_DIGITS);
	if (letters == 0)
		return false;
	char next = text[letters];
	return is_digit(next) || (is_mark(next) && is_digit(text[letters + 1]));
}

static bool continues_with_letters_for_digits(const char *text)
{
	size_t letters = strspn(text, LETTERS_LIKE_DIGITS);
	if (letters == 0 || unit_read(text, strlen(text)) != UNIT_NONE)
		return false;
	const char *after = text + letters;
	if (*after == '\0' || *after == ' ' || is_digit(*after) || is_mark(*after))
		return true;
	return unit_read(after, strlen(after)) != UNIT_NONE;
}

static bool refuse_letter(struct reader *reader)
{
	return refuse(reader, "odd-character", "'%s' has a letter in the place of a digit; type the digit 0 or 1",
	              reader->quote);
}

/* What stands before the digits. */
static bool check_start(struct reader *reader)
{
	const char *text = reader->text;
	if (is_digit(text[0]))
		return true;
	if (text[0] == '-' && (is_digit(text[1]) || is_mark(text[1]) || text[1] == ' '))
		return refuse(reader, "not-positive", "'%s' is below zero; write an amount above zero", reader->quote);
	if (is_mark(text[0]) && is_digit(text[1]))
		return refuse(
			reader, "bare-decimal",
			"'%s' begins with a decimal mark, and a digit may be lost; write the digit before it, as in "
			"'0%c25'",
			reader->quote, decimal_character(reader->mark));
	if (begins_with_letters_for_digits(text))
		return refuse_letter(reader);
	return refuse(reader, "no-number", "'%s' does not begin with a number; write one, as in '250 mcg'",
	              reader->quote);
}

/* What stands after the digits and marks, where it is no unit but more of a number. */
static bool check_end(struct reader *reader, const char *end)
{
	char next = end[0];
	char second = next ? end[1] : '\0';
	if (is_mark(end[-1]))
		return refuse(reader, "bare-decimal",
		              "'%s' has a mark with no digit after it; write the lost digit or leave the mark out",
		              reader->quote);
	bool signed_digit = (second == '+' || second == '-') && is_digit(end[2]);
	if (((next == 'e' || next == 'E') && (is_digit(second) || signed_digit)) || next == '^' || next == '*' ||
	    (next == 'x' && is_digit(second)))
		return refuse(reader, "exponent", "'%s' is written with an exponent; write all its digits",
		              reader->quote);
	if (next == '/' && is_digit(second))
		return refuse(reader, "fraction", "'%s' is a fraction; write it as a decimal, as in '0%c5'",
		              reader->quote, decimal_character(reader->mark));
	if (next == '-' && is_digit(second))
		return refuse(reader, "range", "'%s' is a range; write the one amount that is meant", reader->quote);
	if ((next == ' ' || next == '\'') && is_digit(second))
		return refuse(reader, "thousands-suspected",
		              "'%s' has two groups of digits; write one number, as in '1%c000' or '1000'",
		              reader->quote, reader->mark == DECIMAL_POINT ? ',' : '.');
	if (continues_with_letters_for_digits(end))
		return refuse_letter(reader);
	return true;
}

/* The parts of a number: digits before and after the decimal mark. */
struct parts {
	const char *whole;
	size_t whole_length; /* with its thousands marks */
	const char *decimals;
	size_t n_decimals;
	size_t n_groups; /* thousands marks */
};

static bool groups_are_thousands(const struct parts *parts)
{
	size_t digits = 0;
	size_t marks = 0;
	for (size_t i = 0; i < parts->whole_length; i++) {
		if (is_digit(parts->whole[i])) {
			digits++;
			continue;
		}
		if (marks == 0 ? digits == 0 || digits > GROUP : digits != GROUP)
			return false;
		digits = 0;
		marks++;
	}
	return digits == GROUP && parts->whole[0] != '0';
}

static bool refuse_wrong_mark(struct reader *reader)
{
	if (reader->mark == DECIMAL_POINT)
		return refuse(reader, "decimal-comma",
		              "'%s' may be written with a decimal comma; write a decimal with a point, as in '1.5'",
		              reader->quote);
	return refuse(reader, "decimal-point",
	              "'%s' may be written with a decimal point; write a decimal with a comma, as in '1,5'",
	              reader->quote);
}

static bool split(struct reader *reader, size_t length, struct parts *parts)
{
	const char *text = reader->text;
	char decimal = decimal_character(reader->mark);
	const char *mark = memchr(text, decimal, length);
	parts->whole = text;
	parts->whole_length = mark ? (size_t)(mark - text) : length;
	parts->decimals = mark ? mark + 1 : text + length;
	parts->n_decimals = (size_t)(text + length - parts->decimals);
	parts->n_groups = 0;
	for (size_t i = 0; i < parts->whole_length; i++)
		parts->n_groups += !is_digit(text[i]);
	size_t clean_decimals = strspn(parts->decimals, DIGITS);
	if (clean_decimals < parts->n_decimals) {
		if (parts->decimals[clean_decimals] != decimal)
			return refuse_wrong_mark(reader); /* "1.250,5" */
	} else if (parts->n_groups == 0 || groups_are_thousands(parts)) {
		return true;
	} else if (parts->n_groups == 1 && !mark) {
		return refuse_wrong_mark(reader); /* "1,5", "0,250" */
	}
	return refuse(reader, "thousands-suspected",
	              "'%s' has thousands marks that are not before every three digits; write it without them",
	              reader->quote);
}

static struct rational value_of(const struct parts *parts)
{
	int64_t digits = 0;
	int64_t scale = 1;
	for (const char *text = parts->whole; text < parts->whole + parts->whole_length; text++)
		if (is_digit(*text))
			digits = digits * 10 + (*text - '0');
	for (size_t i = 0; i < parts->n_decimals; i++) {
		digits = digits * 10 + (parts->decimals[i] - '0');
		scale *= 10;
	}
	return rational_of(digits, scale);
}

/* "1.500" and "10.000", but neither "0.500" nor "1.125" nor "1,250.500". */
static bool looks_like_thousands(const struct parts *parts)
{
	return parts->n_groups == 0 && parts->n_decimals == GROUP && parts->whole[0] != '0' &&
	       parts->decimals[GROUP - 1] == '0';
}

static bool check_parts(struct reader *reader, const struct parts *parts)
{
	bool bare_zero = parts->whole_length == 1 && parts->whole[0] == '0';
	size_t digits = parts->whole_length - parts->n_groups + parts->n_decimals - bare_zero;
	if (parts->whole[0] == '0' && !bare_zero)
		return refuse(reader, "leading-zero",
		              "'%s' begins with a 0 that does not belong, and a mark may be lost; write it without",
		              reader->quote);
	if (parts->n_decimals > MOST_DECIMALS)
		return refuse(reader, "too-many-decimals",
		              "'%s' has more than %d decimals; use a smaller unit or round it", reader->quote,
		              MOST_DECIMALS);
	if (digits > MOST_DIGITS)
		return refuse(reader, "too-many-digits", "'%s' has more than %d digits; use a larger unit or mend it",
		              reader->quote, MOST_DIGITS);
	if (!looks_like_thousands(parts))
		return true;
	struct rational small = value_of(parts);
	struct rational large = rational_of(small.numerator * (1000 / small.denominator), 1);
	return refuse(reader, "thousands-suspected", "'%s' may mean %s or %s; write the one that is meant",
	              reader->quote, number_print(reader->arena, large, reader->mark),
	              number_print(reader->arena, small, reader->mark));
}

/* Reads the number at the start of the cleaned text; `rest` is what follows it. */
static bool read_number(struct reader *reader, struct rational *number, const char **rest)
{
	if (!check_start(reader))
		return false;
	size_t length = strspn(reader->text, DIGITS MARKS);
	struct parts parts;
	if (!check_end(reader, reader->text + length) || !split(reader, length, &parts) || !check_parts(reader, &parts))
		return false;
	*number = value_of(&parts);
	if (rational_is_zero(*number) && !reader->zero_allowed)
		return refuse(reader, "not-positive", "'%s' is zero; write an amount above zero", reader->quote);
	reader->zero_at_end = parts.n_decimals > 0 && parts.decimals[parts.n_decimals - 1] == '0';
	*rest = reader->text + length;
	if (**rest == ' ')
		*rest += 1;
	return true;
}

/* --- The unit --- */

static bool refuse_unit(struct reader *reader, const char *unit)
{
	const char *shown = shortened(reader->arena, unit);
	enum unit nearest = unit_nearest(unit, strlen(unit));
	if (nearest == UNIT_NONE)
		return refuse(reader, "unknown-unit",
		              "unknown unit '%s'; use one such as 'mcg', 'mg', 'units', 'mL' or 'tablets'", shown);
	/* The two that are mixed up most are named together, so that neither is taken for the advice. */
	bool mass = nearest == UNIT_MG || nearest == UNIT_MCG;
	bool wrong_case_only = strcasecmp(unit, unit_name(nearest, false)) == 0;
	if (mass && !wrong_case_only)
		return refuse(reader, "unknown-unit", "unknown unit '%s'; use 'mg' or 'mcg'", shown);
	return refuse(reader, "unknown-unit", "unknown unit '%s'; use '%s'", shown, unit_name(nearest, false));
}

static bool read_unit(struct reader *reader, const char *text, enum unit *unit)
{
	if (*text == '\0')
		return refuse(reader, "no-unit", "'%s' has no unit; write one after the number, as in '250 mcg'",
		              reader->quote);
	if (strcmp(text, "U") == 0 || strcmp(text, "u") == 0)
		return refuse(reader, "bare-u", "'%s' ends in a bare %s, which reads as a 0; write 'units'",
		              reader->quote, text);
	*unit = unit_read(text, strlen(text));
	if (*unit != UNIT_NONE)
		return true;
	if (strchr(text, '/') || strncmp(text, "per ", 4) == 0 || strstr(text, " per "))
		return refuse(reader, "not-an-amount",
		              "'%s' is not an amount alone; write the amount without 'per' or '/'", reader->quote);
	if (strpbrk(text, DIGITS))
		return refuse(reader, "two-numbers", "'%s' holds more than one number; write one amount and its unit",
		              reader->quote);
	return refuse_unit(reader, text);
}

/* --- The whole --- */

static struct reader reader_for(struct arena *arena, enum decimal_mark mark, struct quantity_fault *fault)
{
	assert(fault);
	*fault = (struct quantity_fault){0};
	return (struct reader){.arena = arena, .mark = mark, .fault = fault};
}

/* R002: "1.0 mg" can be read as 10 mg where the point is faint; it is read, and said. */
static void warn_of_zero_at_end(struct reader *reader, const char *better)
{
	if (!reader->zero_at_end)
		return;
	const char *says =
		arena_printf(reader->arena, "'%s' ends in a 0 that can be misread where its mark is faint; write '%s'",
	                     reader->quote, better);
	*reader->fault = (struct quantity_fault){.caution = true, .code = "trailing-zero", .says = says};
}

static bool read_quantity(struct reader *reader, const char *text, struct quantity *result)
{
	const char *rest;
	struct quantity quantity;
	if (!clean(reader, text) || !read_number(reader, &quantity.number, &rest) ||
	    !read_unit(reader, rest, &quantity.unit))
		return false;
	warn_of_zero_at_end(reader, quantity_plain(reader->arena, quantity, reader->mark));
	*result = quantity;
	return true;
}

bool quantity_read(struct arena *arena, const char *text, enum decimal_mark mark, struct quantity *result,
                   struct quantity_fault *fault)
{
	struct reader reader = reader_for(arena, mark, fault);
	return read_quantity(&reader, text, result);
}

bool quantity_read_or_zero(struct arena *arena, const char *text, enum decimal_mark mark, struct quantity *result,
                           struct quantity_fault *fault)
{
	struct reader reader = reader_for(arena, mark, fault);
	reader.zero_allowed = true;
	return read_quantity(&reader, text, result);
}

bool number_read(struct arena *arena, const char *text, enum decimal_mark mark, struct rational *result,
                 struct quantity_fault *fault)
{
	struct reader reader = reader_for(arena, mark, fault);
	struct rational number;
	const char *rest;
	if (!clean(&reader, text) || !read_number(&reader, &number, &rest))
		return false;
	if (*rest)
		return refuse(&reader, "unexpected-unit", "'%s' has more than a number; write the number alone",
		              reader.quote);
	warn_of_zero_at_end(&reader, number_print(arena, number, mark));
	*result = number;
	return true;
}

/* Where the amount ends and the volume begins: at '/' or the word 'per'. */
static const char *find_per(const char *text, size_t *length)
{
	static const char *const words[] = {"/", " per "};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
		const char *found = strstr(text, words[i]);
		*length = strlen(words[i]);
		if (found)
			return found;
	}
	return NULL;
}

/* "0.5 mL", or "mL" for 1 mL. */
static bool read_volume(struct reader *reader, const char *text, struct quantity *volume)
{
	if (is_digit(*text) || is_mark(*text))
		return read_quantity(reader, text, volume);
	volume->number = rational_of(1, 1);
	return read_unit(reader, text, &volume->unit);
}

bool concentration_read(struct arena *arena, const char *text, enum decimal_mark mark, struct quantity *result,
                        struct quantity_fault *fault)
{
	struct reader whole = reader_for(arena, mark, fault);
	if (!clean(&whole, text))
		return false;
	size_t per_length;
	const char *per = find_per(whole.text, &per_length);
	if (!per)
		return refuse(&whole, "not-a-concentration",
		              "'%s' has no volume that the amount is in; write it, as in '250 mcg/mL'", whole.quote);

	struct quantity_fault volume_fault;
	struct reader volume_reader = reader_for(arena, mark, &volume_fault);
	volume_reader.quote = whole.quote;
	const char *volume_text = per + per_length;
	volume_text += strspn(volume_text, " ");
	struct quantity volume;
	if (!read_volume(&volume_reader, volume_text, &volume)) {
		*fault = volume_fault;
		return false;
	}

	struct reader amount_reader = reader_for(arena, mark, fault);
	struct quantity amount, in_ml;
	if (!read_quantity(&amount_reader, arena_strndup(arena, whole.text, (size_t)(per - whole.text)), &amount))
		return false;
	enum dimension dissolved = unit_dimension(amount.unit);
	if ((dissolved != DIMENSION_MASS && dissolved != DIMENSION_ACTIVITY) || volume.unit == UNIT_SYRINGE_UNIT ||
	    !quantity_in(volume, UNIT_ML, &in_ml)) {
		*fault = (struct quantity_fault){0};
		return refuse(&whole, "not-a-concentration",
		              "'%s' is not a mass or units in a volume; write it as in '250 mcg/mL'", whole.quote);
	}
	if (!fault->code)
		*fault = volume_fault;

	struct quantity in_one_ml = {.unit = amount.unit};
	bool fits = rational_divide(amount.number, in_ml.number, &in_one_ml.number);
	assert(fits); /* nine digits over nine digits, times 1000 at most */
	(void)fits;
	*result = in_one_ml;
	return true;
}
