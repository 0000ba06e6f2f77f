#include "load/zone_rule.h"

#include <string.h>

enum {
	MINUTE = 60,
	HOUR = 60 * MINUTE,
	DAY = 24 * HOUR,
	MOST_HOURS = 167, /* a week less an hour: the format's own bound */
	USUAL_CHANGE = 2 * HOUR
};

/* --- Reading: each takes what it reads from the front of *text --- */

static bool take(const char **text, char mark)
{
	if (**text != mark)
		return false;
	++*text;
	return true;
}

static bool take_number(const char **text, int most, int *number)
{
	size_t length = strspn(*text, "0123456789");
	if (length == 0 || length > 3)
		return false;
	*number = 0;
	for (; length > 0; length--)
		*number = *number * 10 + (*(*text)++ - '0');
	return *number <= most;
}

/* "BST", or "<+0330>" where a name is not of letters alone. */
static bool take_name(struct arena *arena, const char **text, const char **name)
{
	static const char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz";
	bool quoted = take(text, '<');
	size_t length = quoted ? strcspn(*text, ">") : strspn(*text, letters);
	*name = arena_strndup(arena, *text, length);
	*text += length;
	return length > 0 && (!quoted || take(text, '>'));
}

/* "-3", "5:30", "-167:59:59" */
static bool take_time(const char **text, int32_t *seconds)
{
	bool negative = take(text, '-');
	int hours, minutes = 0, rest = 0;
	if (!negative)
		take(text, '+');
	if (!take_number(text, MOST_HOURS, &hours))
		return false;
	if (take(text, ':') && (!take_number(text, 59, &minutes) || (take(text, ':') && !take_number(text, 59, &rest))))
		return false;
	*seconds = hours * HOUR + minutes * MINUTE + rest;
	if (negative)
		*seconds = -*seconds;
	return true;
}

static bool take_date(const char **text, struct yearly_day *day)
{
	if (take(text, 'M')) {
		day->kind = YEARLY_WEEKDAY;
		return take_number(text, 12, &day->month) && day->month > 0 && take(text, '.') &&
		       take_number(text, 5, &day->week) && day->week > 0 && take(text, '.') &&
		       take_number(text, 6, &day->weekday);
	}
	if (take(text, 'J')) {
		day->kind = YEARLY_JULIAN;
		return take_number(text, 365, &day->day) && day->day > 0;
	}
	day->kind = YEARLY_ORDINAL;
	return take_number(text, 365, &day->day);
}

/* ",M3.5.0/1" */
static bool take_yearly_day(const char **text, struct yearly_day *day)
{
	*day = (struct yearly_day){.seconds = USUAL_CHANGE};
	return take(text, ',') && take_date(text, day) && (!take(text, '/') || take_time(text, &day->seconds));
}

bool zone_rule_read(struct arena *arena, const char *text, struct zone_rule *rule)
{
	int32_t west;
	*rule = (struct zone_rule){0};
	if (!take_name(arena, &text, &rule->standard.abbreviation) || !take_time(&text, &west))
		return false;
	rule->standard.offset = -west;
	if (*text == '\0')
		return true;
	rule->changes = true;
	if (!take_name(arena, &text, &rule->summer.abbreviation))
		return false;
	rule->summer.offset = rule->standard.offset + HOUR;
	if (*text != ',') {
		if (!take_time(&text, &west))
			return false;
		rule->summer.offset = -west;
	}
	return take_yearly_day(&text, &rule->summer_begins) && take_yearly_day(&text, &rule->summer_ends) &&
	       *text == '\0';
}

/* --- A year --- */

static int64_t day_number(const struct yearly_day *day, int year)
{
	int64_t january = date_number((struct civil_date){year, 1, 1});
	if (day->kind == YEARLY_ORDINAL)
		return january + day->day;
	if (day->kind == YEARLY_JULIAN)
		return january + day->day - 1 + (day->day >= 60 && date_valid((struct civil_date){year, 2, 29}));
	struct civil_date first = {year, day->month, 1};
	int first_weekday = (int)date_weekday(first) % 7;
	int64_t number = date_number(first) + (day->weekday - first_weekday + 7) % 7 + 7 * (day->week - 1);
	return number > date_number(date_last_of_month(first)) ? number - 7 : number;
}

void zone_rule_year(const struct zone_rule *rule, int year, struct zone_span spans[2])
{
	struct zone_span summer = rule->summer;
	struct zone_span standard = rule->standard;
	summer.since = day_number(&rule->summer_begins, year) * DAY + rule->summer_begins.seconds - standard.offset;
	standard.since = day_number(&rule->summer_ends, year) * DAY + rule->summer_ends.seconds - summer.offset;
	bool summer_first = summer.since < standard.since;
	spans[0] = summer_first ? summer : standard;
	spans[1] = summer_first ? standard : summer;
}
