/*
 * late.c - what is still on time, as clock times where those are the same on every day.
 *
 * 20:00 with a window of an hour: "19:00 to 21:00", so that no one has to add
 * in the night. The ends come from the doses' own instants: where the clocks
 * change they differ from day to day, and past midnight they are another day's.
 * Then the words say how long, as they do for doses at many times.
 */
#include "handout/build.h"

#include <string.h>

enum { SECONDS_PER_MINUTE = 60 };

#define TIMES_MOST 2 /* of a day: more read as a table */

/* What is on time of a dose at `time`. */
struct on_time {
	struct clock_time time;
	const char *words; /* "19:00 to 21:00" */
};

struct on_times {
	struct on_time list[TIMES_MOST];
	size_t n;
};

/* False where an end falls on another day than the dose. */
static bool clock_at(const struct dose *dose, instant when, struct clock_time *time)
{
	struct civil_date date;
	int32_t offset;
	zone_local(dose->zone, when, &date, time, &offset);
	return date_compare(date, dose->clock_date) == 0;
}

static const char *on_time_words(struct build *build, const struct dose *dose, instant reach)
{
	struct clock_time from;
	struct clock_time to;
	if (!clock_at(dose, dose->when - reach, &from) || !clock_at(dose, dose->when + reach, &to))
		return NULL;
	return say2(build->speaker, "late.from_to", "from", say_time(build->speaker, from), "to",
	            say_time(build->speaker, to));
}

/* False where clock times cannot say it: too many, or not those of the same dose on another day. */
static bool add_on_time(struct build *build, const struct dose *dose, instant reach, struct on_times *times)
{
	const char *words = on_time_words(build, dose, reach);
	if (words == NULL)
		return false;
	for (size_t i = 0; i < times->n; i++)
		if (clock_compare(times->list[i].time, dose->time) == 0)
			return strcmp(times->list[i].words, words) == 0;
	if (times->n == TIMES_MOST)
		return false;
	times->list[times->n++] = (struct on_time){dose->time, words};
	return true;
}

const char *on_time(struct build *build, const struct variant *variant)
{
	struct rational reach = item_window(variant->item);
	struct on_times times = {.n = 0};
	/* A clock shows no part of a minute. */
	if (!rational_is_whole(reach) || rational_floor(reach) % SECONDS_PER_MINUTE != 0)
		return NULL;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (dose->done || dose->item != variant->item || !draws_variant(build, dose, variant))
			continue;
		if (dose->open || !dose->has_time || !add_on_time(build, dose, rational_floor(reach), &times))
			return NULL;
	}
	if (times.n == 0)
		return NULL;
	return times.n == 1
	               ? times.list[0].words
	               : say2(build->speaker, "list.and", "first", times.list[0].words, "last", times.list[1].words);
}
