/*
 * exact.c - a dose to the minute: its night, its alarms, what follows it, what if it goes wrong.
 *
 * Hours between two moments are elapsed ones, from their instants; only the
 * line of hours is drawn as the clock counts. What to do when late is the
 * clinic's to say: without its words the sheet says to call.
 */
#include "handout/build.h"

#include <inttypes.h>
#include <string.h>

enum { SECONDS_PER_MINUTE = 60, MINUTES_PER_HOUR = 60, MINUTES_PER_DAY = 24 * MINUTES_PER_HOUR };

#define READY_MINUTES 30  /* before the dose, the first alarm */
#define WARMED_MINUTES 20 /* what is left of them where it has to warm first */
#define NIGHT_FIRST 18    /* a line of the night's hours reaches from here ... */
#define NIGHT_LAST 9      /* ... to here */
#define DAY_FIRST 6
#define CLOCK_HALF_DAY 12 /* hours before the dose in which a clock change matters to it */

/* "34 h 30 min", "36 h", "40 min". */
static const char *elapsed_words(struct build *build, struct speaker *speaker, int64_t minutes)
{
	struct value values[] = {
		{"hours", arena_printf(build->arena, "%" PRId64, minutes / MINUTES_PER_HOUR)},
		{"minutes", arena_printf(build->arena, "%" PRId64, minutes % MINUTES_PER_HOUR)},
	};
	if (minutes < MINUTES_PER_HOUR)
		return say(speaker, "elapsed.minutes", values, 2);
	return say(speaker, minutes % MINUTES_PER_HOUR == 0 ? "elapsed.hours" : "elapsed.both", values, 2);
}

/* ---- whom to call ---- */

/* "17:00-07:30": may reach over midnight. */
static bool hours_hold(struct build *build, const char *hours, struct clock_time time)
{
	struct clock_time from;
	struct clock_time to;
	const char *dash = hours == NULL ? NULL : strchr(hours, '-');
	if (dash == NULL || !clock_read(arena_strndup(build->arena, hours, (size_t)(dash - hours)), &from) ||
	    !clock_read(dash + 1, &to))
		return false;
	if (clock_compare(from, to) <= 0)
		return clock_compare(from, time) <= 0 && clock_compare(time, to) < 0;
	return clock_compare(from, time) <= 0 || clock_compare(time, to) < 0;
}

const char *phone_at(struct build *build, struct clock_time time)
{
	const struct clinic *clinic = build->clinic;
	const char *all = NULL;
	for (size_t i = 0; i < clinic->n_phones; i++)
		if (hours_hold(build, clinic->phones[i].hours, time))
			return clinic->phones[i].number;
	for (size_t i = 0; i < clinic->n_phones; i++)
		all = all == NULL ? clinic->phones[i].number
		                  : say2(build->speaker, "list.comma", "first", all, "last", clinic->phones[i].number);
	return all == NULL ? "" : all;
}

/* ---- the time in words ---- */

static const char *part_of_day(struct build *build, int hour)
{
	const char *key = hour < 4 || hour >= 22 ? "twin.night"
	                  : hour < 12            ? "twin.morning"
	                  : hour < 18            ? "twin.afternoon"
	                                         : "twin.evening";
	return say0(build->speaker, key);
}

static int hour_of_twelve(int hour)
{
	return hour % 12 == 0 ? 12 : hour % 12;
}

static const char *near_midnight(struct build *build, const char *half, const char *key, int minutes)
{
	return minutes == MINUTES_PER_HOUR / 2 ? say0(build->speaker, half)
	                                       : say_count(build->speaker, key, minutes, NO_VALUES);
}

/* "half past 10 at night", "half an hour after midnight": a second way to read the figures. */
static const char *twin_of(struct build *build, struct clock_time time)
{
	struct value values[] = {
		{"hour", arena_printf(build->arena, "%d", hour_of_twelve(time.hour))},
		{"next", arena_printf(build->arena, "%d", hour_of_twelve(time.hour + 1))},
		{"part", part_of_day(build, time.hour)},
	};
	if (time.hour == 0)
		return near_midnight(build, "twin.half_after", "twin.after", time.minute);
	if (time.hour == 23 && time.minute > 0)
		return near_midnight(build, "twin.half_before", "twin.before", MINUTES_PER_HOUR - time.minute);
	if (time.hour == 12 && time.minute == 0)
		return say0(build->speaker, "twin.noon");
	switch (time.minute) {
	case 0:
		return say(build->speaker, "twin.hour", values, 3);
	case 15:
		return say(build->speaker, "twin.quarter", values, 3);
	case 30:
		return say(build->speaker, "twin.half", values, 3);
	case 45:
		return say(build->speaker, "twin.three_quarters", values, 3);
	default:
		return say_count(build->speaker, "twin.past", time.minute, values, 3);
	}
}

static bool is_away(const struct build *build, const struct dose *dose)
{
	return strcmp(dose->zone->name, build->plan->zone->name) != 0;
}

static void fill_clock(struct build *build, const struct dose *dose, struct exact_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	struct civil_date date;
	struct clock_time home;
	int32_t offset;
	const char *time = arena_printf(build->arena, "%d:%02d", hour_of_twelve(dose->time.hour), dose->time.minute);
	sheet->time = say_time(speaker, dose->time);
	sheet->clock = dose->time;
	sheet->dial_alt = say2(speaker, "exact.dial_alt", "time", sheet->time, "days",
	                       say_date(speaker, dose->clock_date, DATE_LONG));
	sheet->sign = picture_of_time(dose->time, NULL);
	sheet->twin = twin_of(build, dose->time);
	sheet->am_pm = say1(speaker, dose->time.hour < 12 ? "exact.am" : "exact.pm", "time", time);
	sheet->zone = say1(speaker, "exact.zone", "place", say_zone(speaker, dose->zone));
	if (!is_away(build, dose))
		return;
	zone_local(build->plan->zone, dose->when, &date, &home, &offset);
	sheet->away = say2(speaker, "exact.zone_away", "place", say_zone(speaker, dose->zone), "time",
	                   say_time(speaker, home));
}

/* ---- which day, which night ---- */

static bool after_midnight(const struct dose *dose)
{
	return date_compare(dose->date, dose->clock_date) != 0;
}

static void fill_days(struct build *build, const struct dose *dose, struct exact_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	sheet->days = say_date(speaker, dose->clock_date, DATE_LONG);
	if (!after_midnight(dose))
		return;
	bool one_month = dose->date.month == dose->clock_date.month;
	sheet->night = say0(speaker, "exact.night");
	sheet->days = say2(speaker, "exact.night_days", "from",
	                   say_date(speaker, dose->date, one_month ? DATE_WEEKDAY_DAY : DATE_LONG), "to", sheet->days);
}

static const char *full_hour(struct build *build, int hour)
{
	return say_time(build->speaker, (struct clock_time){hour % (MINUTES_PER_DAY / MINUTES_PER_HOUR), 0});
}

/* Which hours have the dark bar, as far as the line reaches: "night" is said of the hours of a telephone. */
static const char *hours_key(struct build *build, const struct dose *dose, const struct hour_line *line)
{
	int from = line->first > HOUR_LINE_DARK_FROM ? line->first : HOUR_LINE_DARK_FROM;
	int end = line->first + HOUR_LINE_HOURS;
	struct value values[] = {
		{"from", full_hour(build, from)},
		{"to", full_hour(build, end < HOUR_LINE_DARK_TO ? end : HOUR_LINE_DARK_TO)},
		{"place", say_zone(build->speaker, dose->zone)},
	};
	return say(build->speaker, "exact.hours", values, 3);
}

/* A night's line runs over midnight, a day's does not. */
static void fill_hours(struct build *build, const struct dose *dose, struct exact_sheet *sheet)
{
	struct hour_line *line = &sheet->hours;
	int minutes = clock_minutes(dose->time);
	bool late = dose->time.hour >= NIGHT_FIRST;
	bool night = late || minutes <= NIGHT_LAST * MINUTES_PER_HOUR;
	line->first = night ? NIGHT_FIRST : DAY_FIRST;
	line->at = minutes - line->first * MINUTES_PER_HOUR + (night && !late ? MINUTES_PER_DAY : 0);
	struct civil_date evening = night && !late ? date_plus(dose->clock_date, -1) : dose->clock_date;
	line->evening = say_date(build->speaker, evening, DATE_WEEKDAY_DAY);
	if (night)
		line->early_hours = say_date(build->speaker, date_plus(evening, 1), DATE_WEEKDAY_DAY);
	sheet->hours_key = hours_key(build, dose, line);
}

/* ---- alarms ---- */

static const char *alarm_day(struct build *build, const struct dose *dose, struct civil_date date)
{
	struct speaker *speaker = build->speaker;
	if (!after_midnight(dose))
		return say_date(speaker, date, DATE_LONG);
	return say1(speaker, date_compare(date, dose->clock_date) == 0 ? "exact.already" : "exact.still", "date",
	            say_date(speaker, date, DATE_WEEKDAY_DAY));
}

static int64_t warm_minutes(const struct dose *dose)
{
	struct quantity minutes;
	const struct stated_quantity *warm = &dose->draws[0].product->warm_up;
	if (!warm->given || !quantity_in(warm->quantity, UNIT_MINUTE, &minutes))
		return 0;
	return rational_floor(minutes.number);
}

static void fill_alarms(struct build *build, const struct dose *dose, bool needle, struct exact_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	int64_t warm = warm_minutes(dose);
	int64_t before = warm > 0 ? warm + WARMED_MINUTES : READY_MINUTES;
	if (before < READY_MINUTES)
		before = READY_MINUTES;
	struct civil_date date;
	struct clock_time time;
	int32_t offset;
	zone_local(dose->zone, dose->when - before * SECONDS_PER_MINUTE, &date, &time, &offset);
	const char *ready = needle ? "exact.alarm_ready" : "exact.alarm_near";
	if (warm > 0)
		sheet->warm_first = say1(speaker, "exact.warm_first", "warm", elapsed_words(build, speaker, warm));
	sheet->alarms_note = say0(speaker, needle ? "exact.note_ready" : "exact.note_near");
	sheet->alarms_heading = say0(speaker, "exact.alarms");
	sheet->set_word = say0(speaker, "exact.set");
	sheet->alarms[0] = (struct exact_alarm){say1(speaker, "exact.alarm", "n", "1"), say_time(speaker, time),
	                                        alarm_day(build, dose, date), say0(speaker, ready)};
	sheet->alarms[1] = (struct exact_alarm){say1(speaker, "exact.alarm", "n", "2"), sheet->time,
	                                        alarm_day(build, dose, dose->clock_date),
	                                        say0(speaker, needle ? "exact.alarm_inject" : "exact.alarm_take")};
}

/*
 * With the second alarm it goes in: the number of the step that begins with that; 0: its steps are not told. Where a
 * needle's cap comes off in the step before, that is it: nobody waits for an alarm with a bare needle.
 */
static int step_that_injects(const struct medicine_sheet *steps)
{
	static const char *const pictures[] = {"pinch-inject", "stop-at", "pen-inject"};
	int number = 0;
	if (steps == NULL)
		return 0;
	for (size_t i = 0; steps->muscle != NULL && i < steps->muscle->n_steps && number == 0; i++)
		number = steps->muscle->steps[i].number;
	for (size_t i = 0; i < sizeof pictures / sizeof *pictures && number == 0; i++)
		number = step_drawn_as(steps, pictures[i], false);
	int bare = step_drawn_as(steps, "air-out", false);
	return bare > 0 && bare == number - 1 ? bare : number;
}

/* ---- what comes after ---- */

/* The event that the dose's own is held against; NULL: there is none, or it has no time yet. */
static const struct dated_visit *visit_timed_by(const struct build *build, const struct dose *dose)
{
	const struct course *course = build->course;
	const struct trigger *start = &dose->item->start;
	for (size_t i = 0; i < course->n_times && start->kind == TRIGGER_EVENT && start->event != NULL; i++) {
		if (strcmp(course->times[i].from->id, start->event) != 0)
			continue;
		for (size_t j = 0; j < course->n_visits; j++)
			if (course->visits[j].event == course->times[i].to && !course->visits[j].open &&
			    course->visits[j].has_time && course->visits[j].when > dose->when)
				return &course->visits[j];
	}
	return NULL;
}

/* That, else whatever comes next at a time. */
static const struct dated_visit *visit_after(const struct build *build, const struct dose *dose)
{
	const struct course *course = build->course;
	const struct dated_visit *timed = visit_timed_by(build, dose);
	if (timed != NULL)
		return timed;
	for (size_t j = 0; j < course->n_visits; j++)
		if (!course->visits[j].open && course->visits[j].has_time && course->visits[j].when > dose->when)
			return &course->visits[j];
	return NULL;
}

static const char *moment_words(struct build *build, struct civil_date date, struct clock_time time)
{
	return say2(build->speaker, "moment", "date", say_date(build->speaker, date, DATE_SHORT), "time",
	            say_time(build->speaker, time));
}

static const char *later(struct build *build, const char *what, int64_t minutes)
{
	return say2(build->speaker, "exact.later", "what", what, "elapsed",
	            elapsed_words(build, build->speaker, minutes));
}

static const char *visit_name(struct build *build, const struct dated_visit *visit)
{
	if (visit->visit != NULL && visit->visit->label.n > 0)
		return say_text(build->speaker, visit->visit->label, "the visit's label");
	if (visit->event != NULL && visit->event->label.n > 0)
		return say_text(build->speaker, visit->event->label, "the event's label");
	return say0(build->speaker, "visit.word");
}

static void add_stop(struct exact_stop *stops, struct exact_sheet *sheet, struct exact_stop stop)
{
	stops[sheet->n_stops++] = stop;
}

/* Seconds from arrival to what it is for. */
static int64_t wait_of(const struct dated_visit *visit)
{
	struct quantity minutes;
	if (!visit->has_procedure || !quantity_in(visit->event->arrive_before.quantity, UNIT_MINUTE, &minutes))
		return 0;
	return rational_floor(minutes.number) * SECONDS_PER_MINUTE;
}

static void fill_clock_change(struct build *build, const struct dose *dose, instant last, struct exact_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	const instant from = dose->when - (instant)CLOCK_HALF_DAY * MINUTES_PER_HOUR * SECONDS_PER_MINUTE;
	for (size_t i = 0; i < build->course->n_clock_changes; i++) {
		const struct clock_change *change = &build->course->clock_changes[i];
		if (change->when <= from || change->when > last)
			continue;
		int64_t by = (change->by < 0 ? -change->by : change->by) / SECONDS_PER_MINUTE;
		sheet->clock_change =
			say2(speaker, change->by < 0 ? "exact.clocks_back" : "exact.clocks_forward", "by",
		             elapsed_words(build, speaker, by), "date", say_date(speaker, change->date, DATE_LONG));
	}
}

static void fill_after(struct build *build, const struct dose *dose, bool needle, struct exact_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	const struct dated_visit *visit = visit_after(build, dose);
	struct exact_stop *stops = arena_alloc(build->arena, 3 * sizeof *stops);
	sheet->stops = stops;
	fill_clock_change(build, dose, visit == NULL ? dose->when : visit->when + wait_of(visit), sheet);
	if (visit == NULL)
		return;
	int64_t minutes = (visit->when - dose->when) / SECONDS_PER_MINUTE;
	const char *name = visit_name(build, visit);
	sheet->after_heading = say0(speaker, "exact.after");
	add_stop(stops, sheet,
	         (struct exact_stop){moment_words(build, dose->clock_date, dose->time),
	                             say0(speaker, needle ? "exact.you_inject" : "exact.you_take"),
	                             elapsed_words(build, speaker, minutes)});
	if (!visit->has_procedure) {
		add_stop(stops, sheet,
		         (struct exact_stop){moment_words(build, visit->date, visit->time), later(build, name, minutes),
		                             NULL});
		return;
	}
	int64_t wait = wait_of(visit) / SECONDS_PER_MINUTE;
	add_stop(stops, sheet,
	         (struct exact_stop){moment_words(build, visit->date, visit->time), say0(speaker, "exact.arrive"),
	                             elapsed_words(build, speaker, wait)});
	add_stop(stops, sheet,
	         (struct exact_stop){moment_words(build, visit->date, visit->procedure),
	                             later(build, name, minutes + wait), NULL});
}

/* ---- what if ---- */

/* "Call now: Day 000 555 0142, Night 000 555 0199": by day and by night, whenever something goes wrong. */
static const char *call_now(struct build *build)
{
	struct speaker *speaker = build->speaker;
	const char *phones = NULL;
	for (size_t i = 0; i < build->clinic->n_phones; i++) {
		const struct phone *phone = &build->clinic->phones[i];
		const char *one =
			say2(speaker, "running.phone", "label",
		             say_text(speaker, phone->label, "the telephone's label"), "number", phone->number);
		phones = phones == NULL ? one : say2(speaker, "list.comma", "first", phones, "last", one);
	}
	return phones == NULL ? NULL : say1(speaker, "exact.call_now", "phones", phones);
}

static void fill_rules(struct build *build, const struct dose *dose, bool needle, struct exact_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	const struct medicine *medicine = dose->item->medicine;
	sheet->if_heading = say0(speaker, "exact.if");
	sheet->call_text = call_now(build);
	sheet->if_head = say0(speaker, "exact.if_head");
	sheet->do_head = say0(speaker, "exact.do_head");
	sheet->rules[0].when = say0(speaker, "exact.late");
	sheet->rules[0].what = medicine->missed.n > 0
	                               ? say_text(speaker, medicine->missed, "the words on a missed dose")
	                               : say0(speaker, needle ? "exact.late_call" : "exact.late_call_taken");
	sheet->rules[1] = (struct exact_rule){say0(speaker, needle ? "exact.early" : "exact.early_taken"),
	                                      say0(speaker, needle ? "exact.early_call" : "exact.early_call_taken")};
	sheet->rules[2] = (struct exact_rule){say0(speaker, "exact.missing"), say0(speaker, "exact.missing_call")};
}

/* ---- the dose ---- */

static void fill_dose(struct build *build, const struct dose *dose, bool needle, struct exact_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	struct mark_words *marks = arena_alloc(build->arena, 2 * dose->n_draws * sizeof *marks);
	const struct variant *variant = variant_of(build, dose, 0);
	for (size_t i = 0; i < dose->n_draws; i++) {
		const struct draw *draw = &dose->draws[i];
		marks[sheet->n_marks] = say_mark(speaker, draw);
		sheet->n_marks += marks[sheet->n_marks].number != NULL;
		/* What is pushed out first only prepares: all that is left goes in. */
		if (draw->measure == MEASURE_SYRINGE && draw->mark.line == LINE_PUSH_OUT && !draw->mark.all)
			marks[sheet->n_marks++] = (struct mark_words){.number = say0(speaker, "mark.all")};
	}
	sheet->marks = marks;
	sheet->pictogram = picture_of_product(dose->draws[0].product);
	sheet->name = dose->item->medicine->name;
	sheet->amount = say_amount(speaker, dose->ordered);
	sheet->front = variant == NULL ? -1 : variant->section;
	if (needle)
		sheet->side = side_of_day(build, dose->date);
	sheet->hip = dose->item->medicine->route == ROUTE_INTRAMUSCULAR;
	if (sheet->side != SIDE_NONE)
		sheet->side_word = say0(speaker, sheet->side == SIDE_LEFT ? "side.left" : "side.right");
	sheet->done_word = say0(speaker, "grid.done");
}

const struct exact_sheet *exact_sheet_of(struct build *build, const struct dose *dose,
                                         const struct medicine_sheet *medicine, const struct medicine_sheet *steps)
{
	struct speaker *speaker = build->speaker;
	struct exact_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	bool needle = given_by_needle(&dose->draws[0], dose->item);
	sheet->dose = dose;
	sheet->medicine = medicine;
	sheet->inject_step = step_that_injects(steps);
	sheet->title = say1(speaker, "exact.title", "name", dose->item->medicine->name);
	bool timed = visit_timed_by(build, dose) != NULL;
	sheet->lead = say0(speaker, timed    ? needle ? "exact.lead_timed" : "exact.lead_timed_taken"
	                            : needle ? "exact.lead"
	                                     : "exact.lead_taken");
	fill_clock(build, dose, sheet);
	fill_days(build, dose, sheet);
	fill_hours(build, dose, sheet);
	fill_dose(build, dose, needle, sheet);
	fill_alarms(build, dose, needle, sheet);
	fill_after(build, dose, needle, sheet);
	fill_rules(build, dose, needle, sheet);
	sheet->injected_word = say0(speaker, needle ? "exact.injected" : "exact.taken");
	sheet->tell_text = say0(speaker, "exact.tell");
	return sheet;
}
