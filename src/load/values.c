#include "load/values.h"

#include "load/locale.h"
#include "load/zones.h"

#include <assert.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* --- What raw strings stand for --- */

static size_t number_of(const char *raw)
{
	size_t number = 0;
	for (; *raw; raw++)
		number = number * 10 + (size_t)(*raw - '0');
	return number;
}

struct stated_string given_string(const struct reader *reader, const char *raw, struct place around)
{
	if (!raw)
		return (struct stated_string){.place = around};
	size_t number = number_of(raw);
	assert(number < reader->strings.n);
	return reader->strings.list[number];
}

struct place given_place(const struct reader *reader, const char *raw)
{
	return given_string(reader, raw, (struct place){0}).place;
}

const char *read_string(const struct reader *reader, const char *raw)
{
	return given_string(reader, raw, (struct place){0}).text;
}

const char *const *read_strings(const struct reader *reader, char *const *raw, size_t n)
{
	const char **list = arena_alloc(reader->arena, (n + 1) * sizeof *list);
	for (size_t i = 0; i < n; i++)
		list[i] = read_string(reader, raw[i]);
	return list;
}

/* --- Reporting --- */

void refuse_value(const struct reader *reader, const char *code, struct place place, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	const char *says = arena_vprintf(reader->arena, format, arguments);
	va_end(arguments);
	findings_add(reader->findings, FINDING_STOP, code, place, "%s", says);
}

void refuse_unknown_name(const struct reader *reader, const char *code, const char *what,
                         const struct stated_string *name, const char *of, const struct nearest *nearest)
{
	const char *hint = nearest->best ? nearest_hint(reader->arena, nearest) : "; name one that is listed";
	refuse_value(reader, code, name->place, "unknown %s '%s'%s%s", what, name->text, of, hint);
}

void refuse_second(const struct reader *reader, const char *what, const char *id, struct place place,
                   struct place first)
{
	if (id[0] == '\0')
		return;
	const char *where = first.file == place.file
	                            ? arena_printf(reader->arena, "line %d", first.line)
	                            : arena_printf(reader->arena, "%s:%d", first.file->name, first.line);
	refuse_value(reader, "duplicate-id", place, "the %s '%s' is here twice, first in %s; give it another id", what,
	             id, where);
}

size_t check_exclusive(const struct reader *reader, const struct exclusive *keys, size_t n, struct place place)
{
	const char *first = NULL;
	const char *second = NULL;
	size_t written = 0;
	for (size_t i = 0; i < n; i++) {
		if (!keys[i].written)
			continue;
		written++;
		if (!first)
			first = keys[i].key;
		else if (!second)
			second = keys[i].key;
	}
	if (second)
		refuse_value(reader, "exclusive-keys", place, "'%s' and '%s' exclude each other; keep one", first,
		             second);
	return written;
}

/* --- Names --- */

static bool has_only(const char *text, const char *also)
{
	static const char usual[] = "abcdefghijklmnopqrstuvwxyz0123456789-";
	for (; *text; text++)
		if (!strchr(usual, *text) && !strchr(also, *text))
			return false;
	return true;
}

/* `also`: what may stand in it besides; `rule` says it in words. */
static const char *read_id_of(const struct reader *reader, const char *raw, const char *also, const char *rule)
{
	struct stated_string id = given_string(reader, raw, (struct place){0});
	if (id.text && !has_only(id.text, also))
		refuse_value(reader, "bad-id", id.place, "'%s' is no %s", id.text, rule);
	return id.text ? id.text : "";
}

const char *read_id(const struct reader *reader, const char *raw)
{
	return read_id_of(reader, raw, "", "id; use lower-case letters, digits and hyphens only");
}

const char *read_syringe_id(const struct reader *reader, const char *raw)
{
	return read_id_of(reader, raw, ".ABCDEFGHIJKLMNOPQRSTUVWXYZ",
	                  "syringe's id; use letters, digits, hyphens and points only");
}

/* --- Amounts and numbers --- */

/* Reports what the exact parser has to say; true when there is a value. */
static bool report_fault(const struct reader *reader, const struct quantity_fault *fault, bool was_read,
                         struct place place)
{
	if (fault->code)
		findings_add(reader->findings, was_read ? FINDING_CAUTION : FINDING_STOP, fault->code, place, "%s",
		             fault->says);
	return was_read;
}

/* "a mass, an activity or a volume" */
static const char *dimensions_in_words(const struct reader *reader, unsigned dimensions)
{
	const char *words = "";
	for (unsigned i = DIMENSION_MASS; i <= DIMENSION_RATIO; i++) {
		if (!(dimensions & OF(i)))
			continue;
		bool last = dimensions >> (i + 1) == 0;
		const char *name = dimension_name((enum dimension)i);
		words = arena_printf(reader->arena, "%s%s%s %s", words, *words ? (last ? " or " : ", ") : "",
		                     strchr("aeiou", name[0]) ? "an" : "a", name);
	}
	return words;
}

static void check_dimension(const struct reader *reader, struct stated_quantity *stated, const char *text,
                            unsigned dimensions)
{
	enum dimension dimension = unit_dimension(stated->quantity.unit);
	if (dimensions & OF(dimension))
		return;
	refuse_value(reader, "wrong-dimension", stated->place, "'%s' is %s, and here belongs %s; write that", text,
	             dimensions_in_words(reader, OF(dimension)), dimensions_in_words(reader, dimensions));
	stated->given = false;
}

static struct stated_quantity read_any_amount(const struct reader *reader, const char *raw, struct place around,
                                              unsigned dimensions, bool zero)
{
	struct stated_string given = given_string(reader, raw, around);
	struct stated_quantity stated = {.place = given.place};
	if (!given.text)
		return stated;
	struct quantity_fault fault;
	bool was_read = zero ? quantity_read_or_zero(reader->arena, given.text, DECIMAL_POINT, &stated.quantity, &fault)
	                     : quantity_read(reader->arena, given.text, DECIMAL_POINT, &stated.quantity, &fault);
	stated.given = report_fault(reader, &fault, was_read, given.place);
	if (stated.given)
		check_dimension(reader, &stated, given.text, dimensions);
	return stated;
}

struct stated_quantity read_amount(const struct reader *reader, const char *raw, struct place around,
                                   unsigned dimensions)
{
	return read_any_amount(reader, raw, around, dimensions, false);
}

struct stated_quantity read_amount_or_zero(const struct reader *reader, const char *raw, struct place around,
                                           unsigned dimensions)
{
	return read_any_amount(reader, raw, around, dimensions, true);
}

struct stated_quantity read_concentration(const struct reader *reader, const char *raw, struct place around)
{
	struct stated_string given = given_string(reader, raw, around);
	struct stated_quantity stated = {.place = given.place};
	if (!given.text)
		return stated;
	struct quantity_fault fault;
	bool was_read = concentration_read(reader->arena, given.text, DECIMAL_POINT, &stated.quantity, &fault);
	stated.given = report_fault(reader, &fault, was_read, given.place);
	return stated;
}

struct stated_quantity read_days(const struct reader *reader, const char *raw, struct place around)
{
	struct stated_quantity stated = read_amount(reader, raw, around, OF_TIME);
	struct quantity days;
	if (!stated.given)
		return stated;
	if (!quantity_in(stated.quantity, UNIT_DAY, &days) || !rational_is_whole(days.number)) {
		refuse_value(reader, "not-whole-days", stated.place,
		             "'%s' is no number of whole days; write one, as in '2 days'", read_string(reader, raw));
		stated.given = false;
	}
	return stated;
}

struct stated_quantity read_calendar_days(const struct reader *reader, const char *raw, struct place around)
{
	struct stated_quantity stated = read_days(reader, raw, around);
	if (!stated.given || stated.quantity.unit == UNIT_DAY || stated.quantity.unit == UNIT_WEEK)
		return stated;
	refuse_value(reader, "not-whole-days", stated.place,
	             "'%s' counts hours, and calendar days are meant; write it in days, as in '2 days'",
	             read_string(reader, raw));
	stated.given = false;
	return stated;
}

bool read_number(const struct reader *reader, const char *raw, struct rational *number)
{
	struct stated_string given = given_string(reader, raw, (struct place){0});
	struct quantity_fault fault;
	if (!given.text)
		return false;
	bool was_read = number_read(reader->arena, given.text, DECIMAL_POINT, number, &fault);
	return report_fault(reader, &fault, was_read, given.place);
}

/*
 * Digits alone: "1", "14", "0". The exact parser reads amounts, of which none is
 * zero; a day may be day 0, or -1, the day before it.
 */
static bool whole_of(const char *text, int64_t *number)
{
	const char *digits = text[0] == '-' ? text + 1 : text;
	size_t length = strlen(digits);
	if (length == 0 || length > 9 || strspn(digits, "0123456789") != length || (digits[0] == '0' && text[1]))
		return false;
	*number = strtol(text, NULL, 10);
	return true;
}

struct stated_number read_whole(const struct reader *reader, const char *raw, struct place around, int64_t least,
                                int64_t most)
{
	struct stated_string given = given_string(reader, raw, around);
	struct stated_number stated = {.place = given.place};
	if (!given.text)
		return stated;
	if (!whole_of(given.text, &stated.number))
		refuse_value(reader, "bad-number", given.place, "'%s' is no whole number; write one, as in '1'",
		             given.text);
	else if (stated.number < least || stated.number > most)
		refuse_value(reader, "bad-number", given.place,
		             "%s is not between %lld and %lld; write a number that is", given.text, (long long)least,
		             (long long)most);
	else
		stated.given = true;
	return stated;
}

/* --- Days and times --- */

static struct stated_date read_any_date(const struct reader *reader, const char *raw, struct place around,
                                        bool (*read)(const char *, struct civil_date *), const char *example)
{
	struct stated_string given = given_string(reader, raw, around);
	struct stated_date stated = {.place = given.place};
	if (!given.text)
		return stated;
	stated.given = read(given.text, &stated.date);
	if (!stated.given)
		refuse_value(reader, "bad-date", given.place, "'%s' is no date; write year, month and day, as in %s",
		             given.text, example);
	return stated;
}

struct stated_date read_date(const struct reader *reader, const char *raw, struct place around)
{
	return read_any_date(reader, raw, around, date_read, "2026-12-08");
}

struct stated_date read_expiry(const struct reader *reader, const char *raw, struct place around)
{
	return read_any_date(reader, raw, around, expiry_read, "2027-03-31 or 2027-03");
}

/* Skips `start`, in either case; NULL where the text does not begin with it. */
static const char *after_start(const char *text, const char *start)
{
	size_t length = strlen(start);
	return strncasecmp(text, start, length) == 0 ? text + length : NULL;
}

bool says_midnight(const char *time)
{
	static const char *const alone[] = {"midnight", "medianoche", "24:00", "24.00", "24h"};
	static const char *const twelve[] = {"12:00", "12.00", "12"};
	static const char *const night[] = {"am", "a.m", "at night", "of night", "night", "de la noche", "midnight"};
	for (size_t i = 0; i < sizeof alone / sizeof *alone; i++)
		if (after_start(time, alone[i]) != NULL)
			return true;
	for (size_t i = 0; i < sizeof twelve / sizeof *twelve; i++) {
		const char *rest = after_start(time, twelve[i]);
		if (rest == NULL)
			continue;
		rest += strspn(rest, " ");
		for (size_t j = 0; j < sizeof night / sizeof *night; j++)
			if (after_start(rest, night[j]) != NULL)
				return true;
	}
	return false;
}

bool read_clock(const struct reader *reader, const char *raw, struct clock_time *time)
{
	struct stated_string given = given_string(reader, raw, (struct place){0});
	if (!given.text)
		return false;
	if (clock_read(given.text, time))
		return true;
	if (says_midnight(given.text)) {
		refuse_value(reader, "midnight-ambiguous", given.place,
		             "'%s' is 12:00 at night, between two days; write 23:59 or 00:01", given.text);
		return false;
	}
	refuse_value(reader, "bad-time", given.place,
	             "'%s' is no time of day; write hours and minutes, as in \"20:00\"", given.text);
	return false;
}

/* --- Words --- */

int read_choice(const struct reader *reader, const char *raw, const struct choice *choices, int otherwise)
{
	struct stated_string given = given_string(reader, raw, (struct place){0});
	if (!given.text)
		return otherwise;
	const char *words = "";
	struct nearest nearest = nearest_to(given.text);
	for (const struct choice *choice = choices; choice->word; choice++) {
		if (strcmp(choice->word, given.text) == 0)
			return choice->value;
		nearest_offer(&nearest, choice->word);
		words = arena_printf(reader->arena, "%s%s'%s'", words, *words ? (choice[1].word ? ", " : " or ") : "",
		                     choice->word);
	}
	if (nearest.best)
		refuse_value(reader, "unknown-word", given.place, "'%s' is not known here%s", given.text,
		             nearest_hint(reader->arena, &nearest));
	else
		refuse_value(reader, "unknown-word", given.place, "'%s' is not known here; write %s", given.text,
		             words);
	return otherwise;
}

bool read_flag(const struct reader *reader, const char *raw, bool otherwise)
{
	static const struct choice flags[] = {
		{"yes", true}, {"no", false}, {"true", true}, {"false", false}, {NULL, 0}};
	return read_choice(reader, raw, flags, otherwise);
}

struct text read_text(const struct reader *reader, const struct raw_text *raw, struct place around)
{
	if (!raw)
		return (struct text){.place = around};
	struct translation *in = arena_alloc(reader->arena, (raw->words_count + 1) * sizeof *in);
	size_t n = 0;
	for (unsigned i = 0; i < raw->words_count; i++) {
		struct stated_string language = given_string(reader, raw->words[i].key, around);
		if (!language_known(language.text))
			refuse_value(reader, "unknown-language", language.place,
			             "'%s' is no language; use a code such as 'en' or 'es'", language.text);
		in[n++] = (struct translation){language.text, read_string(reader, raw->words[i].text)};
	}
	return (struct text){in, n, given_place(reader, raw->place)};
}

const struct zone *read_zone(const struct reader *reader, const char *raw)
{
	struct stated_string name = given_string(reader, raw, (struct place){0});
	const struct zone *zone = name.text ? zone_load(reader->arena, name.text) : NULL;
	if (zone || !name.text)
		return zone;
	struct nearest nearest = nearest_to(name.text);
	zone_offer_all(reader->arena, &nearest);
	refuse_value(reader, "unknown-zone", name.place, "unknown zone '%s'%s", name.text,
	             nearest.best ? nearest_hint(reader->arena, &nearest)
	                          : "; use area and place, as in 'Europe/London'");
	return NULL;
}
