/*
 * Dates against the C library over every day from 1900 to 2199; zones against
 * its own idea of the same rules, given as POSIX rules so that no zone files
 * are needed.
 */
#define _DEFAULT_SOURCE /* timegm() */

#include "quantity/civil.h"

#include "support/cases.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { DAY = 86400, HOUR = 3600, MINUTE = 60 };

static void agrees_with_the_c_library(void **state)
{
	(void)state;
	struct tm first = {.tm_year = 0, .tm_mon = 0, .tm_mday = 1};
	struct tm last = {.tm_year = 299, .tm_mon = 11, .tm_mday = 31};
	int64_t from = timegm(&first) / DAY;
	int64_t to = timegm(&last) / DAY;
	assert_int_equal(to - from + 1, 109573); /* 300 years, 73 leap days: not 1900, 2100 */
	struct civil_date before = date_of_number(from - 1);
	for (int64_t number = from; number <= to; number++) {
		time_t seconds = (time_t)(number * DAY);
		struct tm theirs;
		gmtime_r(&seconds, &theirs);
		struct civil_date date = date_of_number(number);
		assert_int_equal(date.year, theirs.tm_year + 1900);
		assert_int_equal(date.month, theirs.tm_mon + 1);
		assert_int_equal(date.day, theirs.tm_mday);
		assert_int_equal(date_number(date), number);
		assert_int_equal(date_weekday(date) % 7, theirs.tm_wday);
		assert_true(date_valid(date));
		assert_int_equal(date_compare(before, date), -1);
		assert_int_equal(date_compare(date, before), 1);
		assert_int_equal(date_compare(date, date), 0);
		before = date;
	}
}

static void months_end_where_the_next_begins(void **state)
{
	(void)state;
	for (int year = 1900; year <= 2199; year++) {
		for (int month = 1; month <= 12; month++) {
			struct civil_date last = date_last_of_month((struct civil_date){year, month, 1});
			assert_int_equal(last.year, year);
			assert_int_equal(last.month, month);
			assert_int_equal(date_plus(last, 1).day, 1);
			assert_false(date_valid((struct civil_date){year, month, last.day + 1}));
		}
	}
	assert_false(date_valid((struct civil_date){2026, 0, 1}));
	assert_false(date_valid((struct civil_date){2026, 13, 1}));
	assert_false(date_valid((struct civil_date){2026, 1, 0}));
}

static void days_are_counted(void **state)
{
	(void)state;
	struct civil_date first = {2026, 12, 4};
	struct civil_date later = date_plus(first, 30);
	assert_int_equal(date_compare(later, (struct civil_date){2027, 1, 3}), 0);
	assert_int_equal(date_difference(later, first), 30);
	assert_int_equal(date_difference(first, later), -30);
	assert_int_equal(date_number((struct civil_date){1970, 1, 1}), 0);
	assert_int_equal(date_weekday(first), FRIDAY);
}

struct reading {
	const char *text;
	const char *printed; /* NULL: refused */
};

static const struct reading dates[] = {
	{"2026-12-08", "2026-12-08"},
	{"1900-01-01", "1900-01-01"},
	{"2199-12-31", "2199-12-31"},
	{"2028-02-29", "2028-02-29"},
	{"2000-02-29", "2000-02-29"},
	{"1900-02-29", NULL},
	{"2026-02-29", NULL},
	{"2026-04-31", NULL},
	{"2026-13-01", NULL},
	{"2026-00-10", NULL},
	{"2026-01-00", NULL},
	{"1899-12-31", NULL},
	{"2200-01-01", NULL},
	{"2026-1-8", NULL},
	{"26-01-08", NULL},
	{"08/12/2026", NULL},
	{"2026/12/08", NULL},
	{"2026-12-08 ", NULL},
	{" 2026-12-08", NULL},
	{"2026-12-081", NULL},
	{"2026-12", NULL},
	{"20261208", NULL},
	{"", NULL},
	{"2026-12-0x", NULL},
	{"+026-12-08", NULL},
};

static void reads_date(void **state)
{
	const struct reading *row = case_of(state)->row;
	struct civil_date date = {1, 1, 1};
	assert_int_equal(date_read(row->text, &date), row->printed != NULL);
	assert_string_equal(date_print(case_of(state)->arena, date), row->printed ? row->printed : "0001-01-01");
}

static const struct reading expiries[] = {
	{"2027-03", "2027-03-31"},
	{"2028-02", "2028-02-29"},
	{"2027-12", "2027-12-31"},
	{"2027-03-15", "2027-03-15"},
	{"2027-00", NULL},
	{"2027-13", NULL},
	{"03/27", NULL},
	{"2027", NULL},
	{"2027-03-", NULL},
	{"2027-02-30", NULL},
	{"", NULL},
};

static void reads_expiry(void **state)
{
	const struct reading *row = case_of(state)->row;
	struct civil_date date = {1, 1, 1};
	assert_int_equal(expiry_read(row->text, &date), row->printed != NULL);
	assert_string_equal(date_print(case_of(state)->arena, date), row->printed ? row->printed : "0001-01-01");
}

static const struct reading clocks[] = {
	{"08:00", "08:00"}, {"7:30", "07:30"}, {"22:30", "22:30"}, {"00:00", "00:00"}, {"0:05", "00:05"},
	{"23:59", "23:59"}, {"24:00", NULL},   {"12:60", NULL},    {"8", NULL},        {"8:5", NULL},
	{"8:00 pm", NULL},  {"8:00pm", NULL},  {"08:00:00", NULL}, {"08.00", NULL},    {"", NULL},
	{":30", NULL},      {" 8:00", NULL},   {"008:00", NULL},   {"-8:00", NULL},    {"1O:00", NULL},
};

static void reads_clock(void **state)
{
	const struct reading *row = case_of(state)->row;
	struct clock_time time = {1, 1};
	assert_int_equal(clock_read(row->text, &time), row->printed != NULL);
	assert_string_equal(clock_print(case_of(state)->arena, time), row->printed ? row->printed : "01:01");
}

static const struct reading moments[] = {
	{"2026-12-14 21:30", "2026-12-14 21:30"},
	{"2026-12-14T21:30", "2026-12-14 21:30"},
	{"2026-12-14 9:30", "2026-12-14 09:30"},
	{"2026-12-14  21:30", NULL},
	{"2026-12-14 21:30:00", NULL},
	{"2026-12-14 21:30Z", NULL},
	{"2026-12-14", NULL},
	{"2026-12-14 ", NULL},
	{"2026-12-14 24:00", NULL},
	{"2026-02-30 10:00", NULL},
	{"21:30", NULL},
};

static void reads_moment(void **state)
{
	const struct reading *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	struct civil_date date = {1, 1, 1};
	struct clock_time time = {1, 1};
	assert_int_equal(moment_read(row->text, &date, &time), row->printed != NULL);
	assert_string_equal(arena_printf(arena, "%s %s", date_print(arena, date), clock_print(arena, time)),
	                    row->printed ? row->printed : "0001-01-01 01:01");
}

static void clocks_compare(void **state)
{
	(void)state;
	struct clock_time morning = {8, 0};
	struct clock_time later = {8, 1};
	assert_true(clock_compare(morning, later) < 0);
	assert_true(clock_compare(later, morning) > 0);
	assert_int_equal(clock_compare(morning, morning), 0);
	assert_int_equal(clock_minutes((struct clock_time){23, 59}), 1439);
}

/* --- Zones --- */

struct zone_rule {
	const char *name;
	const char *posix; /* as in the TZ variable: what the C library goes by */
};

static const struct zone_rule zone_rules[] = {
	{"changes by an hour, north", "GMT0BST,M3.5.0/1,M10.5.0/2"},
	{"changes by an hour, west", "EST5EDT,M3.2.0,M11.1.0"},
	{"changes by half an hour, south", "<+1030>-10:30<+11>-11,M10.1.0,M4.1.0"},
	{"changes at midnight", "<-03>3<-02>,M10.3.0/0,M2.3.0/0"},
	{"never changes, 45 minutes", "<+0545>-5:45"},
	{"changes by two hours", "<+00>0<+02>-2,M3.5.0/1,M10.5.0/3"},
};

static int32_t library_offset(instant when)
{
	time_t seconds = (time_t)when;
	struct tm local;
	localtime_r(&seconds, &local);
	return (int32_t)local.tm_gmtoff;
}

/* The spans of 2026 and 2027, found by asking the C library minute by minute where the hour's ends differ. */
static struct zone zone_from_library(struct arena *arena, const char *posix, instant from, instant to)
{
	assert_int_equal(setenv("TZ", posix, 1), 0);
	tzset();
	struct zone_span *spans = NULL;
	size_t n = 0;
	spans = arena_more(arena, spans, n, sizeof *spans);
	spans[n++] = (struct zone_span){from, library_offset(from), "first"};
	for (instant hour = from; hour < to; hour += HOUR) {
		if (library_offset(hour) == library_offset(hour + HOUR))
			continue;
		instant change = hour;
		while (library_offset(change) == spans[n - 1].offset)
			change += MINUTE;
		spans = arena_more(arena, spans, n, sizeof *spans);
		spans[n++] = (struct zone_span){change, library_offset(change), "next"};
	}
	return (struct zone){.name = posix, .spans = spans, .n_spans = n};
}

static void check_local(const struct zone *zone, instant when)
{
	time_t seconds = (time_t)when;
	struct tm theirs;
	localtime_r(&seconds, &theirs);
	struct civil_date date;
	struct clock_time time;
	int32_t offset;
	zone_local(zone, when, &date, &time, &offset);
	assert_int_equal(date.year, theirs.tm_year + 1900);
	assert_int_equal(date.month, theirs.tm_mon + 1);
	assert_int_equal(date.day, theirs.tm_mday);
	assert_int_equal(time.hour, theirs.tm_hour);
	assert_int_equal(time.minute, theirs.tm_min);
	assert_int_equal(offset, theirs.tm_gmtoff);
}

/* Every instant whose local time is the one asked for, by trying each quarter hour around it. */
static int count_instants(instant local, instant *earliest)
{
	int found = 0;
	for (instant when = local - DAY; when <= local + DAY; when += 15 * MINUTE) {
		if (when + library_offset(when) != local)
			continue;
		if (found++ == 0)
			*earliest = when;
	}
	return found;
}

static void zone_agrees_with_the_c_library(void **state)
{
	const struct zone_rule *rule = case_of(state)->row;
	instant from = date_number((struct civil_date){2026, 1, 1}) * DAY;
	instant to = date_number((struct civil_date){2028, 1, 1}) * DAY;
	struct zone zone = zone_from_library(case_of(state)->arena, rule->posix, from, to);
	assert_int_equal(zone.n_spans, strchr(rule->posix, ',') ? 5 : 1);
	for (instant when = from; when < to; when += 7 * HOUR + 13 * MINUTE)
		check_local(&zone, when);

	for (size_t i = 1; i < zone.n_spans; i++) {
		instant change = zone.spans[i].since;
		check_local(&zone, change - 1);
		check_local(&zone, change);
		int met[3] = {0};
		instant around = change + zone.spans[i].offset;
		for (instant local = around - 6 * HOUR; local <= around + 6 * HOUR; local += 15 * MINUTE) {
			int64_t minutes = local % DAY / MINUTE;
			struct clock_time time = {(int)(minutes / 60), (int)(minutes % 60)};
			instant ours = 0, theirs = 0;
			enum local_kind kind = zone_instant(&zone, date_of_number(local / DAY), time, &ours);
			met[kind]++;
			int count = count_instants(local, &theirs);
			assert_int_equal(kind, count == 0 ? LOCAL_NEVER : count == 1 ? LOCAL_ONCE : LOCAL_TWICE);
			assert_true(ours == (count ? theirs : local - zone.spans[i - 1].offset));
		}
		bool forward = zone.spans[i].offset > zone.spans[i - 1].offset;
		int quarters = abs(zone.spans[i].offset - zone.spans[i - 1].offset) / (15 * MINUTE);
		assert_int_equal(met[LOCAL_NEVER], forward ? quarters : 0);
		assert_int_equal(met[LOCAL_TWICE], forward ? 0 : quarters);
	}
}

/* One place went over the date line: its 30 December 2011 never was. */
static const struct zone_span skipped_day_spans[] = {
	{-1000000000000, -10 * HOUR, "before"}, {1325239200, 14 * HOUR, "after"}, /* 2011-12-30 10:00 UTC */
};

static void a_whole_day_can_be_skipped(void **state)
{
	(void)state;
	const struct zone zone = {"skipped", skipped_day_spans, 2};
	instant when;
	struct civil_date date = {2011, 12, 30};
	assert_int_equal(zone_instant(&zone, date, (struct clock_time){0, 0}, &when), LOCAL_NEVER);
	assert_int_equal(zone_instant(&zone, date, (struct clock_time){12, 0}, &when), LOCAL_NEVER);
	assert_true(when == 1325239200 + 12 * HOUR);
	assert_int_equal(zone_instant(&zone, date, (struct clock_time){23, 59}, &when), LOCAL_NEVER);
	assert_int_equal(zone_instant(&zone, date_plus(date, -1), (struct clock_time){23, 59}, &when), LOCAL_ONCE);
	assert_true(when == 1325239200 - MINUTE);
	assert_int_equal(zone_instant(&zone, date_plus(date, 1), (struct clock_time){0, 0}, &when), LOCAL_ONCE);
	assert_true(when == 1325239200);
}

static void changes_are_found_in_half_open_spans(void **state)
{
	(void)state;
	static const struct zone_span spans[] = {
		{-1000000000000, 0, "GMT"},
		{1000000, 0, "NEW"}, /* another name for the same clock is no change */
		{2000000, HOUR, "SUM"},
		{3000000, 0, "GMT"},
	};
	const struct zone zone = {"made", spans, 4};
	struct zone_span change = {0};
	assert_false(zone_changes(&zone, 0, 1999999, NULL));
	assert_true(zone_changes(&zone, 0, 2000000, &change));
	assert_string_equal(change.abbreviation, "SUM");
	assert_true(zone_changes(&zone, 1999999, 2000000, NULL));
	assert_false(zone_changes(&zone, 2000000, 2999999, NULL));
	assert_true(zone_changes(&zone, 2000000, 4000000, &change));
	assert_true(change.since == 3000000);
	assert_true(zone_changes(&zone, 0, 4000000, &change));
	assert_true(change.since == 2000000);
	assert_false(zone_changes(&zone, 3000000, 9000000, NULL));
	assert_false(zone_changes(&zone, 2500000, 2500000, NULL));
}

static void times_before_the_first_span_use_it(void **state)
{
	(void)state;
	static const struct zone_span spans[] = {{1000000000, HOUR, "A"}, {1100000000, 2 * HOUR, "B"}};
	const struct zone zone = {"late", spans, 2};
	struct civil_date date;
	struct clock_time time;
	int32_t offset;
	zone_local(&zone, -1, &date, &time, &offset);
	assert_int_equal(offset, HOUR);
	assert_int_equal(date_compare(date, (struct civil_date){1970, 1, 1}), 0);
	assert_int_equal(clock_minutes(time), 59);
	instant when;
	assert_int_equal(zone_instant(&zone, date, time, &when), LOCAL_ONCE);
	assert_true(when == -MINUTE);
}

#define ADD_ROWS(tests, prefix, rows, function)                                 \
	for (size_t i = 0; i < sizeof(rows) / sizeof *(rows); i++) {            \
		char name[80];                                                  \
		snprintf(name, sizeof name, "%s '%s'", prefix, (rows)[i].text); \
		tests_add(tests, name, function, &(rows)[i]);                   \
	}

int main(void)
{
	struct tests tests = {0};
	tests_add(&tests, "every day agrees with the C library", agrees_with_the_c_library, NULL);
	tests_add(&tests, "months end where the next begins", months_end_where_the_next_begins, NULL);
	tests_add(&tests, "days are counted", days_are_counted, NULL);
	ADD_ROWS(&tests, "date", dates, reads_date)
	ADD_ROWS(&tests, "expiry", expiries, reads_expiry)
	ADD_ROWS(&tests, "clock", clocks, reads_clock)
	ADD_ROWS(&tests, "moment", moments, reads_moment)
	tests_add(&tests, "clocks compare", clocks_compare, NULL);
	for (size_t i = 0; i < sizeof zone_rules / sizeof *zone_rules; i++)
		tests_add(&tests, zone_rules[i].name, zone_agrees_with_the_c_library, &zone_rules[i]);
	tests_add(&tests, "a whole day can be skipped", a_whole_day_can_be_skipped, NULL);
	tests_add(&tests, "changes are found in half-open spans", changes_are_found_in_half_open_spans, NULL);
	tests_add(&tests, "times before the first span use it", times_before_the_first_span_use_it, NULL);
	return tests_run(&tests, "civil");
}
