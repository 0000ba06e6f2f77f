#include "load/fhir_order.h"

#include <glib.h>
#include <string.h>

/*
 * Free text is for people and is printed nowhere; yet who wrote it meant it. So
 * whatever can be told for certain in it must stand in the codes as well:
 * numbers, with the unit behind them, in any language; in English also numbers
 * as words, times of day, days of the week, and words that change an amount. A
 * text that says more than the codes is refused, even where it may be harmless.
 */
struct checked_text {
	const struct fhir_reading *reading;
	const struct fhir_resource *at;
	const struct fhir_dose *dose;
	int64_t frequency;
	int64_t period;
	const char *rest;
	bool differs;
};

static void differ(struct checked_text *text, const char *what)
{
	if (!text->differs)
		fhir_refuse(text->reading, text->at, "text-differs",
		            "free text of a dosage says '%s', and the codes do not; make text and codes agree", what);
	text->differs = true;
}

static bool is_whole(struct rational number, int64_t value)
{
	return value != 0 && number.denominator == 1 && number.numerator == value;
}

/* How often a day, or how many in all. */
static bool is_times(const struct checked_text *text, struct rational number)
{
	const struct fhir_dose *dose = text->dose;
	return is_whole(number, text->frequency) || is_whole(number, (int64_t)dose->n_at) ||
	       is_whole(number, dose->count) || is_whole(number, dose->most);
}

/* A number with no unit is the dose's own; with 'times' behind it, how often: 'take one' is no dose of two. */
static bool is_bare(const struct checked_text *text, struct rational number)
{
	static const char *const words[] = {"times", "time", "x", "doses"};
	const char *next = text->rest + strspn(text->rest, " \t");
	size_t length = 0;
	while (g_ascii_isalpha(next[length]))
		length++;
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (strlen(words[i]) == length && g_ascii_strncasecmp(words[i], next, length) == 0)
			return is_times(text, number);
	return rational_compare(number, text->dose->quantity.number) == 0;
}

/* Minutes since midnight of a coded time: a clock time, or what the clinic's slot stands for. */
static int minutes_of(const struct checked_text *text, const char *at)
{
	struct clock_time time;
	const struct clinic *clinic = text->reading->clinic;
	if (clock_read(at, &time))
		return clock_minutes(time);
	for (size_t i = 0; i < clinic->n_slots; i++)
		if (strcmp(clinic->slots[i].id, at) == 0)
			return clock_minutes(clinic->slots[i].time);
	return -1;
}

static bool is_time(const struct checked_text *text, int from, int to)
{
	for (size_t i = 0; i < text->dose->n_at; i++) {
		int minutes = minutes_of(text, text->dose->at[i]);
		bool within = from <= to ? minutes >= from && minutes <= to : minutes >= from || minutes <= to;
		if (minutes >= 0 && within)
			return true;
	}
	return false;
}

/* ---- numbers ---- */

static bool is_amount(const struct checked_text *text, struct quantity quantity)
{
	struct rational ratio;
	return quantity_ratio(quantity, text->dose->quantity, &ratio) && ratio.numerator == 1 && ratio.denominator == 1;
}

static bool is_span(const struct checked_text *text, struct rational number, enum unit unit)
{
	int64_t times = text->dose->n_at > 0 ? (int64_t)text->dose->n_at : 1;
	if (number.denominator != 1)
		return false;
	int64_t days = unit == UNIT_DAY ? number.numerator : unit == UNIT_WEEK ? 7 * number.numerator : 0;
	if (days != 0)
		return days == text->dose->days || days == text->dose->every || days == text->period;
	return unit == UNIT_HOUR && number.numerator * times == text->dose->every * 24;
}

/* Words that often follow a number and are no unit, though one is spelt as an inch. */
static bool is_plain_word(const char *word)
{
	static const char *const words[] = {"in", "a",   "an",  "and", "at",    "on",   "or",    "of",  "to",
	                                    "by", "for", "per", "the", "times", "each", "every", "with"};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (g_ascii_strcasecmp(words[i], word) == 0)
			return true;
	return false;
}

/*
 * The unit behind a number: the longest spelling of one, in whatever case. A word that only resembles one is a
 * unit all the same, and then `odd`: 'mgs' is not passed over.
 */
static enum unit unit_behind(struct arena *arena, const char **rest, bool *odd)
{
	const char *start = *rest + strspn(*rest, " \t-");
	enum unit found = UNIT_NONE;
	size_t length = 0;
	while (g_ascii_isalpha(start[length]) || (start[length] & 0x80))
		length++;
	const char *word = arena_strndup(arena, start, length);
	*odd = false;
	if (is_plain_word(word))
		return UNIT_NONE;
	for (size_t n = 1; n <= 24 && start[n - 1] != '\0'; n++) {
		char next = start[n];
		enum unit unit = unit_read(start, n);
		if (unit != UNIT_NONE && !g_ascii_isalnum(next) && !(next & 0x80)) {
			found = unit;
			*rest = start + n;
		}
	}
	*odd = found == UNIT_NONE && length > 0 && unit_nearest(word, length) != UNIT_NONE;
	return found;
}

static void check_date(struct checked_text *text, const char *word)
{
	struct civil_date date;
	const struct fhir_dose *dose = text->dose;
	bool good = date_read(word, &date) && dose->has_start &&
	            (date_compare(date, dose->start) == 0 ||
	             (dose->days > 0 && date_difference(date, dose->start) == dose->days - 1));
	if (!good)
		differ(text, word);
}

static void check_number(struct checked_text *text)
{
	struct arena *arena = text->reading->arena;
	size_t n = strspn(text->rest, "0123456789.,:-/");
	while (n > 0 && strchr(".,:-/", text->rest[n - 1]) != NULL)
		n--;
	const char *word = arena_strndup(arena, text->rest, n);
	text->rest += n;
	struct clock_time time;
	struct rational number;
	struct quantity_fault fault;
	if (strchr(word, ':') != NULL) {
		if (!clock_read(word, &time) || !is_time(text, clock_minutes(time), clock_minutes(time)))
			differ(text, word);
		return;
	}
	if (strchr(word, '-') != NULL) {
		check_date(text, word);
		return;
	}
	bool odd;
	enum unit unit = unit_behind(arena, &text->rest, &odd);
	const char *shown = unit == UNIT_NONE ? word : arena_printf(arena, "%s %s", word, unit_name(unit, false));
	bool good = number_read(arena, word, DECIMAL_POINT, &number, &fault);
	if (good && unit == UNIT_NONE)
		good = is_bare(text, number);
	else if (good && unit_dimension(unit) == DIMENSION_TIME)
		good = is_span(text, number, unit);
	else if (good)
		good = is_amount(text, (struct quantity){number, unit});
	if (!good || odd || *text->rest == '/' || *text->rest == '%')
		differ(text, shown);
}

/* ---- words ---- */

static bool says_number(const struct checked_text *text, const char *word, bool *known)
{
	static const struct {
		const char *word;
		int64_t times;
		int64_t of;
		bool often;
	} numbers[] = {{"one", 1, 1, false},   {"two", 2, 1, false},  {"three", 3, 1, false},  {"four", 4, 1, false},
	               {"five", 5, 1, false},  {"six", 6, 1, false},  {"seven", 7, 1, false},  {"eight", 8, 1, false},
	               {"nine", 9, 1, false},  {"ten", 10, 1, false}, {"once", 1, 1, true},    {"twice", 2, 1, true},
	               {"thrice", 3, 1, true}, {"half", 1, 2, false}, {"quarter", 1, 4, false}};
	for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
		if (strcmp(numbers[i].word, word) == 0) {
			const struct rational number = {numbers[i].times, numbers[i].of};
			*known = true;
			return numbers[i].often ? is_times(text, number) : is_bare(text, number);
		}
	*known = false;
	return false;
}

static bool says_time(const struct checked_text *text, const char *word, bool *known)
{
	static const struct {
		const char *word;
		int from; /* hours */
		int to;
	} times[] = {{"morning", 4, 12},  {"mornings", 4, 12},  {"noon", 11, 15},   {"midday", 11, 15},
	             {"evening", 16, 23}, {"evenings", 16, 23}, {"bedtime", 20, 3}, {"night", 18, 3},
	             {"nights", 18, 3},   {"nightly", 18, 3}};
	for (size_t i = 0; i < sizeof times / sizeof *times; i++)
		if (strcmp(times[i].word, word) == 0) {
			*known = true;
			return is_time(text, times[i].from * 60, times[i].to * 60 + 59);
		}
	*known = false;
	return false;
}

static bool says_weekday(const struct checked_text *text, const char *word, bool *known)
{
	static const char *const days[] = {"monday", "tuesday",  "wednesday", "thursday",
	                                   "friday", "saturday", "sunday"};
	*known = false;
	for (size_t i = 0; i < sizeof days / sizeof *days; i++) {
		if (strncmp(days[i], word, strlen(days[i])) != 0)
			continue;
		*known = true;
		for (size_t j = 0; j < text->dose->n_weekdays; j++)
			if (strncmp(text->dose->weekdays[j], days[i], 3) == 0)
				return true;
	}
	return false;
}

/* Words that no code of ours can mean, or only in one way. */
static bool says_other(const struct checked_text *text, const char *word, bool *known)
{
	static const char *const changing[] = {"increase", "decrease", "reduce", "double", "titrate",
	                                       "taper",    "skip",     "stop",   "hold",   "omit",
	                                       "not",      "never",    "except", "until"};
	*known = true;
	for (size_t i = 0; i < sizeof changing / sizeof *changing; i++)
		if (strcmp(changing[i], word) == 0)
			return false;
	if (strcmp(word, "needed") == 0 || strcmp(word, "prn") == 0)
		return text->dose->most > 0;
	if (strcmp(word, "alternate") == 0 || strcmp(word, "other") == 0)
		return text->dose->every == 2;
	if (strcmp(word, "weekly") == 0)
		return text->dose->every == 7 || text->dose->n_weekdays == 1;
	if (strcmp(word, "daily") == 0)
		return text->dose->every == 1 && text->dose->n_weekdays == 0;
	*known = false;
	return false;
}

static void check_word(struct checked_text *text)
{
	size_t n = 0;
	while (g_ascii_isalpha(text->rest[n]) || (text->rest[n] & 0x80))
		n++;
	char *word = arena_strndup(text->reading->arena, text->rest, n);
	for (char *c = word; *c != '\0'; c++)
		*c = g_ascii_tolower(*c);
	text->rest += n;
	bool (*const readers[])(const struct checked_text *, const char *, bool *) = {says_number, says_time,
	                                                                              says_weekday, says_other};
	for (size_t i = 0; i < sizeof readers / sizeof *readers; i++) {
		bool known;
		bool agrees = readers[i](text, word, &known);
		if (known && !agrees)
			differ(text, word);
	}
}

void fhir_check_text(const struct fhir_reading *reading, const struct fhir_resource *at, const char *text,
                     const struct fhir_dose *dose, int64_t frequency, int64_t period)
{
	struct checked_text checking = {reading, at, dose, frequency, period, text, false};
	while (*checking.rest != '\0' && !checking.differs) {
		if (g_ascii_isdigit(*checking.rest))
			check_number(&checking);
		else if (g_ascii_isalpha(*checking.rest) || (*checking.rest & 0x80))
			check_word(&checking);
		else
			checking.rest++;
	}
}
