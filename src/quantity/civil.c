#include "quantity/civil.h"

#include <assert.h>
#include <string.h>

enum {
	SECONDS_PER_MINUTE = 60,
	SECONDS_PER_DAY = 86400,
	DAYS_PER_ERA = 146097,  /* 400 Gregorian years */
	DAYS_TO_EPOCH = 719468, /* from 0000-03-01 to 1970-01-01 */
	FIRST_YEAR_READ = 1900,
	LAST_YEAR_READ = 2199
};

static int64_t floor_divide(int64_t a, int64_t b)
{
	return a / b - (a % b < 0);
}

/*
 * Years are counted from March, so that the leap day is a year's last and the
 * months' lengths from there follow 153 days per five months.
 */
int64_t date_number(struct civil_date date)
{
	assert(date.month >= 1 && date.month <= 12);
	int64_t year = date.month > 2 ? date.year : (int64_t)date.year - 1;
	int64_t month = (date.month + 9) % 12;
	int64_t era = floor_divide(year, 400);
	int64_t year_of_era = year - era * 400;
	int64_t day_of_year = (153 * month + 2) / 5 + date.day - 1;
	int64_t day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
	return era * DAYS_PER_ERA + day_of_era - DAYS_TO_EPOCH;
}

struct civil_date date_of_number(int64_t number)
{
	int64_t days = number + DAYS_TO_EPOCH;
	int64_t era = floor_divide(days, DAYS_PER_ERA);
	int64_t day_of_era = days - era * DAYS_PER_ERA;
	/* The last day of 4, of 100 and of 400 years is a leap day or one that is missing. */
	int64_t year_of_era = (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096) / 365;
	int64_t day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
	int64_t month = (5 * day_of_year + 2) / 153;
	struct civil_date date;
	date.day = (int)(day_of_year - (153 * month + 2) / 5 + 1);
	date.month = (int)(month < 10 ? month + 3 : month - 9);
	date.year = (int)(year_of_era + era * 400 + (date.month <= 2));
	return date;
}

struct civil_date date_plus(struct civil_date date, int64_t days)
{
	return date_of_number(date_number(date) + days);
}

int64_t date_difference(struct civil_date later, struct civil_date earlier)
{
	return date_number(later) - date_number(earlier);
}

int date_compare(struct civil_date a, struct civil_date b)
{
	if (a.year != b.year)
		return a.year < b.year ? -1 : 1;
	if (a.month != b.month)
		return a.month < b.month ? -1 : 1;
	if (a.day != b.day)
		return a.day < b.day ? -1 : 1;
	return 0;
}

enum weekday date_weekday(struct civil_date date)
{
	int64_t days = date_number(date) + 3; /* 1970-01-01 was a Thursday */
	return (enum weekday)(days - floor_divide(days, 7) * 7 + MONDAY);
}

struct civil_date date_last_of_month(struct civil_date date)
{
	struct civil_date next = {date.year + date.month / 12, date.month % 12 + 1, 1};
	return date_plus(next, -1);
}

bool date_valid(struct civil_date date)
{
	if (date.month < 1 || date.month > 12 || date.day < 1)
		return false;
	return date.day <= date_last_of_month(date).day;
}

int clock_minutes(struct clock_time time)
{
	return time.hour * 60 + time.minute;
}

int clock_compare(struct clock_time a, struct clock_time b)
{
	return clock_minutes(a) - clock_minutes(b);
}

/* Takes exactly `count` digits from *text, which moves on. */
static bool take_digits(const char **text, int count, int *value)
{
	int number = 0;
	for (int i = 0; i < count; i++) {
		char digit = (*text)[i];
		if (digit < '0' || digit > '9')
			return false;
		number = number * 10 + (digit - '0');
	}
	*text += count;
	*value = number;
	return true;
}

static bool take_mark(const char **text, char mark)
{
	if (**text != mark)
		return false;
	*text += 1;
	return true;
}

static bool take_year_and_month(const char **text, struct civil_date *date)
{
	return take_digits(text, 4, &date->year) && take_mark(text, '-') && take_digits(text, 2, &date->month) &&
	       date->year >= FIRST_YEAR_READ && date->year <= LAST_YEAR_READ && date->month >= 1 && date->month <= 12;
}

static bool take_date(const char **text, struct civil_date *date)
{
	return take_year_and_month(text, date) && take_mark(text, '-') && take_digits(text, 2, &date->day) &&
	       date_valid(*date);
}

bool date_read(const char *text, struct civil_date *result)
{
	struct civil_date date;
	if (!take_date(&text, &date) || *text)
		return false;
	*result = date;
	return true;
}

bool expiry_read(const char *text, struct civil_date *result)
{
	const char *end = text;
	struct civil_date month = {.day = 1};
	if (!take_year_and_month(&end, &month) || *end)
		return date_read(text, result);
	*result = date_last_of_month(month);
	return true;
}

bool clock_read(const char *text, struct clock_time *result)
{
	struct clock_time time;
	const char *colon = strchr(text, ':');
	int hour_digits = colon == text + 1 ? 1 : 2;
	if (!take_digits(&text, hour_digits, &time.hour) || !take_mark(&text, ':') ||
	    !take_digits(&text, 2, &time.minute) || *text)
		return false;
	if (time.hour > 23 || time.minute > 59)
		return false;
	*result = time;
	return true;
}

bool moment_read(const char *text, struct civil_date *date, struct clock_time *time)
{
	struct civil_date day;
	if (!take_date(&text, &day))
		return false;
	if (!take_mark(&text, ' ') && !take_mark(&text, 'T'))
		return false;
	if (!clock_read(text, time))
		return false;
	*date = day;
	return true;
}

const char *date_print(struct arena *arena, struct civil_date date)
{
	return arena_printf(arena, "%04d-%02d-%02d", date.year, date.month, date.day);
}

const char *clock_print(struct arena *arena, struct clock_time time)
{
	return arena_printf(arena, "%02d:%02d", time.hour, time.minute);
}

/* The span in force at an instant; times before the first span count as its own. */
static size_t span_at(const struct zone *zone, instant when)
{
	assert(zone->n_spans > 0);
	size_t low = 0;
	size_t high = zone->n_spans;
	while (high - low > 1) {
		size_t middle = low + (high - low) / 2;
		if (zone->spans[middle].since <= when)
			low = middle;
		else
			high = middle;
	}
	return low;
}

/*
 * A local time is tried with each offset that can be in force around it:
 *
 *     span:    ... +0 until 01:00Z |  +1 from 01:00Z ...
 *     local:         00:59         |  02:00             01:30 fits neither: it is skipped
 *
 *     span:    ... +1 until 01:00Z |  +0 from 01:00Z ...
 *     local:         01:59         |  01:00             01:30 fits both: the earlier is given
 */
enum local_kind zone_instant(const struct zone *zone, struct civil_date date, struct clock_time time, instant *result)
{
	instant local = date_number(date) * SECONDS_PER_DAY + (instant)clock_minutes(time) * SECONDS_PER_MINUTE;
	size_t last = zone->n_spans - 1;
	int found = 0;
	/* No offset reaches a whole day, so spans further away cannot hold it. */
	for (size_t i = span_at(zone, local - SECONDS_PER_DAY);; i++) {
		const struct zone_span *span = &zone->spans[i];
		instant when = local - span->offset;
		bool begun = i == 0 || when >= span->since;
		bool ended = i < last && when >= span[1].since;
		if (begun && !ended && found++ == 0)
			*result = when;
		if (begun && ended && found == 0 && local - span[1].offset < span[1].since) {
			*result = when;
			return LOCAL_NEVER;
		}
		if (i == last || span[1].since > local + SECONDS_PER_DAY)
			break;
	}
	assert(found > 0);
	return found > 1 ? LOCAL_TWICE : LOCAL_ONCE;
}

void zone_local(const struct zone *zone, instant when, struct civil_date *date, struct clock_time *time,
                int32_t *offset)
{
	int32_t in_force = zone->spans[span_at(zone, when)].offset;
	instant local = when + in_force;
	int64_t day = floor_divide(local, SECONDS_PER_DAY);
	int minute = (int)((local - day * SECONDS_PER_DAY) / SECONDS_PER_MINUTE);
	*date = date_of_number(day);
	*time = (struct clock_time){minute / 60, minute % 60};
	*offset = in_force;
}

bool zone_changes(const struct zone *zone, instant from, instant to, struct zone_span *change)
{
	for (size_t i = span_at(zone, from) + 1; i < zone->n_spans && zone->spans[i].since <= to; i++) {
		if (zone->spans[i].offset == zone->spans[i - 1].offset)
			continue;
		if (change)
			*change = zone->spans[i];
		return true;
	}
	return false;
}
