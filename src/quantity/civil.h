/*
 * civil.h - calendar days and clock times as people write them, and zones.
 *
 * A civil date has no zone; a clock time has no date. An instant is seconds
 * since 1970-01-01 00:00 UTC. A zone is a table of offsets that load fills from
 * the system's zone data for the years a plan can touch, so that the computing
 * core needs no clock and no files.
 */
#ifndef QUANTITY_CIVIL_H
#define QUANTITY_CIVIL_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct civil_date {
	int year;
	int month; /* 1 to 12 */
	int day;   /* 1 to 31 */
};

struct clock_time {
	int hour; /* 0 to 23 */
	int minute;
};

typedef int64_t instant;

enum weekday { MONDAY = 1, TUESDAY, WEDNESDAY, THURSDAY, FRIDAY, SATURDAY, SUNDAY };

/* Days since 1970-01-01 of the proleptic Gregorian calendar, and back. */
int64_t date_number(struct civil_date date);
struct civil_date date_of_number(int64_t number);

struct civil_date date_plus(struct civil_date date, int64_t days);
int64_t date_difference(struct civil_date later, struct civil_date earlier);
int date_compare(struct civil_date a, struct civil_date b);
enum weekday date_weekday(struct civil_date date);
bool date_valid(struct civil_date date);
struct civil_date date_last_of_month(struct civil_date date);

int clock_compare(struct clock_time a, struct clock_time b);
int clock_minutes(struct clock_time time); /* since 00:00 */

/* "2026-12-08": exactly this form, a day that exists, years 1900 to 2199. */
bool date_read(const char *text, struct civil_date *result);
/* "2027-03" or "2027-03-31": a month means its last day. */
bool expiry_read(const char *text, struct civil_date *result);
/* "08:00", "7:30", "22:30"; hours 0 to 23. Nothing with am or pm. */
bool clock_read(const char *text, struct clock_time *result);
/* "2026-12-14 21:30" (or with a T between). */
bool moment_read(const char *text, struct civil_date *date, struct clock_time *time);

const char *date_print(struct arena *arena, struct civil_date date);  /* 2026-12-08 */
const char *clock_print(struct arena *arena, struct clock_time time); /* 08:00 */

/* From `since` (inclusive) until the next entry, local time is UTC plus `offset` seconds. */
struct zone_span {
	instant since;
	int32_t offset;
	const char *abbreviation; /* "BST" */
};

/* The first span starts before any plan can; sorted by `since`. */
struct zone {
	const char *name; /* IANA: "Europe/London" */
	const struct zone_span *spans;
	size_t n_spans;
};

enum local_kind {
	LOCAL_ONCE,
	LOCAL_NEVER, /* skipped when clocks go forward */
	LOCAL_TWICE  /* repeated when clocks go back */
};

/*
 * The instant of a local date and time. LOCAL_TWICE gives the earlier one;
 * LOCAL_NEVER the instant that the clock before the change would have shown.
 */
enum local_kind zone_instant(const struct zone *zone, struct civil_date date, struct clock_time time, instant *result);

/* The local date and time of an instant, and the offset then in force. */
void zone_local(const struct zone *zone, instant when, struct civil_date *date, struct clock_time *time,
                int32_t *offset);

/* True when the offset changes in (from, to]; the first change goes into `change` if not NULL. */
bool zone_changes(const struct zone *zone, instant from, instant to, struct zone_span *change);

#endif
