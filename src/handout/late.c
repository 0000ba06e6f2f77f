/*
 * late.c - what is still on time or still given, as clock times where those are the same on every day.
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

/* From so long before a dose's time to so long after it, and the words for both ends, or for the later alone. */
struct reach {
	const char *key;
	instant before;
	instant after;
};

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

static const char *on_time_words(struct build *build, const struct dose *dose, const struct reach *reach)
{
	struct clock_time from;
	struct clock_time to;
	if (!clock_at(dose, dose->when - reach->before, &from) || !clock_at(dose, dose->when + reach->after, &to))
		return NULL;
	return say2(build->speaker, reach->key, "from", say_time(build->speaker, from), "to",
	            say_time(build->speaker, to));
}

/* False where clock times cannot say it: too many, or not those of the same dose on another day. */
static bool add_on_time(struct build *build, const struct dose *dose, const struct reach *reach, struct on_times *times)
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

static bool reach_of(const struct stated_quantity *stated, instant *reach)
{
	struct quantity minutes;
	if (!stated->given || !quantity_in(stated->quantity, UNIT_MINUTE, &minutes) ||
	    !rational_is_whole(minutes.number))
		return false;
	*reach = rational_floor(minutes.number) * SECONDS_PER_MINUTE;
	return true;
}

/* Of all doses of the variant that are ahead: false where clock times cannot say it. */
static bool add_times(struct build *build, const struct variant *variant, const struct reach *reach,
                      struct on_times *times)
{
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (dose->done || dose->item != variant->item || !draws_variant(build, dose, variant))
			continue;
		if (dose->open || !dose->has_time || !add_on_time(build, dose, reach, times))
			return false;
	}
	return times->n > 0;
}

const char *on_time(struct build *build, const struct variant *variant)
{
	instant window;
	struct on_times times = {.n = 0};
	if (!reach_of(&variant->item->window, &window) ||
	    !add_times(build, variant, &(struct reach){"late.from_to", window, window}, &times))
		return NULL;
	return times.n == 1
	               ? times.list[0].words
	               : say2(build->speaker, "list.and", "first", times.list[0].words, "last", times.list[1].words);
}

static const char *late_sentence(struct build *build, const struct medicine *medicine, const char *until, bool needle,
                                 const char *words)
{
	struct speaker *speaker = build->speaker;
	if (until != NULL)
		return say2(speaker, needle ? "late.until" : "late.until_taken", "time", until, "words", words);
	return say2(speaker, needle ? "late.up_to" : "late.up_to_taken", "time",
	            say_amount(speaker, medicine->late.quantity), "words", words);
}

const char *late_until(struct build *build, const struct variant *variant, const char *words)
{
	const struct medicine *medicine = variant->item->medicine;
	instant late;
	struct on_times times = {.n = 0};
	bool told = reach_of(&medicine->late, &late) &&
	            add_times(build, variant, &(struct reach){"late.to", 0, late}, &times) && times.n == 1;
	return late_sentence(build, medicine, told ? times.list[0].words : NULL,
	                     given_by_needle(variant->draw, variant->item), words);
}

const char *late_until_dose(struct build *build, const struct dose *dose, const char *words)
{
	const struct medicine *medicine = dose->item->medicine;
	instant late;
	const char *until = reach_of(&medicine->late, &late)
	                            ? on_time_words(build, dose, &(struct reach){"late.to", 0, late})
	                            : NULL;
	return late_sentence(build, medicine, until, given_by_needle(&dose->draws[0], dose->item), words);
}
