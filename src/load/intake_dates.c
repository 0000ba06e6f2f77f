#include "load/intake_dates.h"

#include <stdlib.h>
#include <string.h>

/* Three numbers with one mark between them: what every form of a date has in common. */
struct numbers {
	int value[3];
	size_t digits[3];
	char mark;
	const char *rest; /* what follows */
};

static bool take_numbers(const char *text, struct numbers *numbers)
{
	const char *at = text;
	for (int i = 0; i < 3; i++) {
		numbers->digits[i] = strspn(at, "0123456789");
		if (numbers->digits[i] == 0 || numbers->digits[i] > 4)
			return false;
		numbers->value[i] = (int)strtol(at, NULL, 10);
		at += numbers->digits[i];
		if (i == 2)
			break;
		if (strchr("-./", *at) == NULL || *at == '\0' || (i == 1 && *at != numbers->mark))
			return false;
		numbers->mark = *at++;
	}
	numbers->rest = at;
	return *at == '\0' || *at == ' ' || *at == 'T';
}

/* "21:30", or with seconds that are none. */
static bool take_time(const char *rest, struct intake_moment *moment)
{
	char clock[16];
	if (*rest == '\0')
		return true;
	rest += 1 + strspn(rest + 1, " ");
	size_t length = strlen(rest);
	if (length >= sizeof clock)
		return false;
	memcpy(clock, rest, length + 1);
	char *seconds = strrchr(clock, ':');
	if (seconds != NULL && strchr(clock, ':') != seconds) {
		if (strcmp(seconds, ":00") != 0 && strcmp(seconds, ":00.000") != 0)
			return false;
		*seconds = '\0';
	}
	moment->has_time = clock_read(clock, &moment->time);
	return moment->has_time;
}

static bool make_date(int year, int month, int day, struct civil_date *date)
{
	*date = (struct civil_date){year, month, day};
	return year >= 1900 && year <= 2199 && date_valid(*date);
}

/* In another order than year first; true where it is a day. */
static bool read_year_last(const struct numbers *numbers, enum date_form form, struct civil_date *date)
{
	int day = numbers->value[form == DATES_DAY_FIRST ? 0 : 1];
	int month = numbers->value[form == DATES_DAY_FIRST ? 1 : 0];
	return make_date(numbers->value[2], month, day, date);
}

static enum date_reading read_unstated(const struct numbers *numbers)
{
	struct civil_date a;
	struct civil_date b;
	bool day_first = read_year_last(numbers, DATES_DAY_FIRST, &a);
	bool month_first = read_year_last(numbers, DATES_MONTH_FIRST, &b);
	if (!day_first && !month_first)
		return DATE_BAD;
	return day_first && month_first && date_compare(a, b) != 0 ? DATE_AMBIGUOUS : DATE_NO_FORM;
}

enum date_reading intake_date_read(const struct intake_map *map, const char *text, struct intake_moment *moment)
{
	struct numbers numbers;
	*moment = (struct intake_moment){.has_time = false};
	if (!take_numbers(text, &numbers) || !take_time(numbers.rest, moment))
		return DATE_BAD;
	bool year_first = numbers.digits[0] == 4;
	if (!year_first && numbers.digits[2] == 2)
		return DATE_TWO_DIGITS;
	if (!year_first && numbers.digits[2] != 4)
		return DATE_BAD;
	if (!year_first && !map->dates_stated)
		return read_unstated(&numbers);
	if (year_first != (map->dates == DATES_ISO) || numbers.mark != map->date_mark)
		return DATE_BAD;
	bool good = year_first ? make_date(numbers.value[0], numbers.value[1], numbers.value[2], &moment->date)
	                       : read_year_last(&numbers, map->dates, &moment->date);
	return good ? DATE_GOOD : DATE_BAD;
}

bool looks_like_date(const char *text)
{
	struct numbers numbers;
	if (!take_numbers(text, &numbers))
		return false;
	return (numbers.digits[0] == 4 && numbers.digits[2] <= 2) ||
	       (numbers.digits[0] <= 2 && (numbers.digits[2] == 4 || numbers.digits[2] == 2));
}

bool looks_like_dose(const char *text)
{
	size_t number = strspn(text, "0123456789.,");
	if (number == 0)
		return false;
	const char *unit = text + number + strspn(text + number, " ");
	enum unit read = unit_read(unit, strlen(unit));
	return read != UNIT_NONE && unit_dimension(read) != DIMENSION_TIME &&
	       unit_dimension(read) != DIMENSION_LENGTH && unit_dimension(read) != DIMENSION_RATIO;
}
