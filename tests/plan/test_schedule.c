/*
 * The schedule, from short courses written out (support/course_script.h) whose days were worked out on a calendar:
 *
 *     November 2026 begins on a Sunday, December 2026 on a Tuesday, January 2027 on a Friday;
 *     4 December 2026 is a Friday. In Europe/London clocks go forward on 28 March 2027 and back on 31 October 2027.
 *
 * A dose is told as "item n day D date time amount"; a run of daily doses alike in all else as one line.
 */
#include "plan/schedule.h"
#include "support/cases.h"
#include "support/course_script.h"
#include "support/published.h"

#include <stdio.h>
#include <string.h>
#include <time.h>

struct row {
	const char *name;
	const char *script;
	const char *doses;
	const char *findings;
};

/* One dose, without what a daily run of them counts up. */
static const char *rest_of_dose(struct arena *arena, const struct plan *plan, const struct dose *dose)
{
	const char *time = dose->has_time ? clock_print(arena, dose->time) : "-";
	const char *amount = dose->amount == DOSE_BY_CALL ? "by call" : "missing";
	if (dose->amount == DOSE_STATED)
		amount = quantity_plain(arena, dose->ordered, DECIMAL_POINT);
	const char *night = "";
	if (!dose->open && date_compare(dose->date, dose->clock_date) != 0)
		night = arena_printf(arena, " night to %s", date_print(arena, dose->clock_date));
	return arena_printf(arena, "%s %s%s%s%s%s%s%s%s%s%s", time, amount, night, dose->exact ? " exact" : "",
	                    dose->split ? " split" : "", dose->new_amount ? " new" : "",
	                    dose->unless_sooner ? " unless sooner" : "", dose->as_needed ? " if needed" : "",
	                    dose->done ? " done" : "", dose->zone == plan->zone ? "" : " in ",
	                    dose->zone == plan->zone ? "" : dose->zone->name);
}

/* How many doses from `dose` on are one a day and alike. */
static size_t alike(struct arena *arena, const struct plan *plan, const struct dose *dose, size_t n)
{
	const char *first = rest_of_dose(arena, plan, dose);
	size_t count = 1;
	while (count < n && dose[count].item == dose->item && dose[count].open == dose->open &&
	       dose[count].day == dose->day + (int64_t)count &&
	       strcmp(rest_of_dose(arena, plan, &dose[count]), first) == 0) {
		assert_int_equal(dose[count].n, dose->n + (int64_t)count);
		if (!dose->open)
			assert_int_equal(date_difference(dose[count].date, dose->date), count);
		count++;
	}
	return count;
}

static const char *doses_text(struct arena *arena, const struct plan *plan, const struct schedule *schedule)
{
	const char *text = "";
	for (size_t i = 0; i < schedule->n_doses;) {
		const struct dose *dose = &schedule->doses[i];
		size_t count = alike(arena, plan, dose, schedule->n_doses - i);
		const char *date = dose->open ? "open" : date_print(arena, dose->date);
		const char *to = "";
		if (count > 1)
			to = arena_printf(arena, "-%lld", (long long)dose->n + (long long)count - 1);
		text = arena_printf(arena, "%s%s %lld%s day %lld %s %s\n", text, dose->item->id, (long long)dose->n, to,
		                    (long long)dose->day, date, rest_of_dose(arena, plan, dose));
		i += count;
	}
	return text;
}

static void schedules(void **state)
{
	struct test_case *one = case_of(state);
	const struct row *row = one->row;
	const struct plan *plan = script_plan(one->arena, row->script);
	struct findings findings = findings_in(one->arena);
	struct schedule schedule;
	assert_true(schedule_build(one->arena, plan, &schedule, &findings));
	assert_string_equal(findings_text(one->arena, &findings), row->findings ? row->findings : "");
	if (row->doses)
		assert_string_equal(doses_text(one->arena, plan, &schedule), row->doses);
}

/* Line 1 of most scripts; the places in findings count from it. */
#define MEDICINE "medicine: id=examplin\n"
#define ONE_MG "dose: from=1; dose=1 mg\n"
#define PLAN "plan: as_of=2026-12-01\n"

static const struct row rows[] = {
	/* ---- starts ---- */
	{"starts on a date, ends after days",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 3\n" ONE_MG PLAN,
         "a 1-3 day 1 2026-12-04 20:00 1 mg\n", NULL},
	{"day 6 of an event whose own day is day 1",
         /* 4 December is day 1, so day 6 is 9 December */
         MEDICINE "event: id=begin; own_day=1\n"
                  "item: id=a; medicine=examplin; at=20:00; start=begin day 6; end=days 2\n" ONE_MG PLAN
                  "date: begin=2026-12-04\n",
         "a 1-2 day 1 2026-12-09 20:00 1 mg\n", NULL},
	{"day 6 of an event whose own day is day 0",
         MEDICINE "event: id=begin; own_day=0\n"
                  "item: id=a; medicine=examplin; at=20:00; start=begin day 6; end=days 1\n" ONE_MG PLAN
                  "date: begin=2026-12-04\n",
         "a 1 day 1 2026-12-10 20:00 1 mg\n", NULL},
	{"a day before an event: a transfer counted backwards",
         /* own day 0: day -5 of 20 December is the 15th */
         MEDICINE "event: id=transfer; own_day=0\n"
                  "item: id=a; medicine=examplin; at=08:00; start=transfer day -5; end=transfer day -4\n" ONE_MG PLAN
                  "date: transfer=2026-12-20\n",
         "a 1-2 day 1 2026-12-15 08:00 1 mg\n", NULL},
	{"days after and before an event",
         MEDICINE "event: id=begin; own_day=1\n"
                  "item: id=a; medicine=examplin; at=08:00; start=begin plus 1 week; end=days 1\n" ONE_MG
                  "item: id=b; medicine=examplin; at=08:00; start=begin minus 2 days; end=days 1\n" ONE_MG PLAN
                  "date: begin=2026-12-04\n",
         "a 1 day 1 2026-12-11 08:00 1 mg\nb 1 day 1 2026-12-02 08:00 1 mg\n", NULL},
	{"an exact event gives the time",
         MEDICINE "event: id=trigger; own_day=1; exact=yes\n"
                  "item: id=a; medicine=examplin; start=trigger; end=doses 1\n" ONE_MG PLAN
                  "date: trigger=2026-12-14 21:30\n",
         "a 1 day 1 2026-12-14 21:30 1 mg exact\n", NULL},
	{"an exact event in the small hours belongs to the night before",
         MEDICINE "event: id=trigger; own_day=1; exact=yes\n"
                  "item: id=a; medicine=examplin; start=trigger; end=doses 1\n" ONE_MG
                  "item: id=b; medicine=examplin; at=20:00; start=trigger day 0; end=days 1\n" ONE_MG PLAN
                  "date: trigger=2026-12-15 00:30\n",
         /* 00:30 on the 15th is the treatment day of the 14th, whose day 0 is the 13th */
         "a 1 day 1 2026-12-14 00:30 1 mg night to 2026-12-15 exact\nb 1 day 1 2026-12-13 20:00 1 mg\n", NULL},
	{"hours before an exact event",
         MEDICINE "event: id=procedure; own_day=0; exact=yes\n"
                  "item: id=a; medicine=examplin; start=procedure minus 36 h; end=doses 1\n" ONE_MG PLAN
                  "date: procedure=2026-12-16 09:30\n",
         "a 1 day 1 2026-12-14 21:30 1 mg exact\n", NULL},
	{"the first of the item's times from some hours after an event on",
         /* 12 h after 09:30 is 21:30; the next 22:00 is that evening's, the next 08:00 the day after's */
         MEDICINE "event: id=procedure; own_day=0; exact=yes\n"
                  "item: id=a; medicine=examplin; at=22:00; start=procedure plus 12 h; end=days 2\n" ONE_MG
                  "item: id=b; medicine=examplin; at=08:00; start=procedure plus 12 h; end=days 1\n" ONE_MG
                  "item: id=c; medicine=examplin; at=08:00, 22:00; start=procedure plus 12 h; end=doses 2\n" ONE_MG PLAN
                  "date: procedure=2026-12-16 09:30\n",
         "a 1-2 day 1 2026-12-16 22:00 1 mg\nb 1 day 1 2026-12-17 08:00 1 mg\n"
         "c 1 day 1 2026-12-16 22:00 1 mg\nc 2 day 2 2026-12-17 08:00 1 mg\n",
         NULL},
	{"an arrival's hours count to the procedure",
         /* arrival 08:00, 90 min before the procedure at 09:30; 36 h before that */
         MEDICINE "event: id=procedure; own_day=0; exact=yes; arrival=yes; arrive_before=90 min\n"
                  "item: id=a; medicine=examplin; start=procedure minus 36 h; end=doses 1\n" ONE_MG PLAN
                  "date: procedure=2026-12-16 08:00\n",
         "a 1 day 1 2026-12-14 21:30 1 mg exact\n", NULL},
	{"day N of another item, its last dose, and hours after it",
         /* a: 4 to 6 December. a day 3 is the 6th; the last dose of a is the 6th at 20:00, 12 h later the 7th at 08:00 */
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 3\n" ONE_MG
                  "item: id=b; medicine=examplin; at=21:00; start=a day 3; end=days 1\n" ONE_MG
                  "item: id=c; medicine=examplin; start=a.last plus 12 h; end=doses 1\n" ONE_MG
                  "item: id=d; medicine=examplin; at=09:00; start=a.last day 2; end=days 1\n" ONE_MG PLAN,
         "a 1-3 day 1 2026-12-04 20:00 1 mg\nb 1 day 1 2026-12-06 21:00 1 mg\n"
         "c 1 day 1 2026-12-07 08:00 1 mg\nd 1 day 1 2026-12-07 09:00 1 mg\n",
         NULL},
	{"an event that is the start of nothing else and has no date",
         MEDICINE "event: id=begin; own_day=1\n"
                  "item: id=a; medicine=examplin; at=20:00; start=begin day 1; end=days 3\n" ONE_MG PLAN,
         "a 1-3 day 1 open 20:00 1 mg\n", NULL},
	{"what hangs on an open item is open",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=call; end=days 2\n" ONE_MG
                  "item: id=b; medicine=examplin; at=08:00; start=a day 2; end=doses 1\n" ONE_MG
                  "item: id=c; medicine=examplin; at=08:00; start=a.last plus 12 h; end=doses 1\n" ONE_MG PLAN,
         "a 1-2 day 1 open 20:00 1 mg\nb 1 day 1 open 08:00 1 mg\nc 1 day 1 open 08:00 1 mg\n", NULL},

	/* ---- calls ---- */
	{"waits for a call, to the horizon",
         "protocol: horizon=4 days\n" MEDICINE
         "item: id=a; medicine=examplin; at=20:00; start=call when ready\n" ONE_MG PLAN,
         "a 1-4 day 1 open 20:00 1 mg\n", NULL},
	{"waits for a call, and its end has no date: to the horizon",
         "protocol: horizon=3 days\n" MEDICINE "event: id=trigger; own_day=1; exact=yes\n"
         "item: id=a; medicine=examplin; at=20:00; start=call when ready; end=trigger day 0\n" ONE_MG PLAN,
         "a 1-3 day 1 open 20:00 1 mg\n", NULL},
	{"waits for a call, and its end has a date: at most from today to then",
         /* from the 1st through the 5th, the day before the trigger: 5 days */
         MEDICINE "event: id=trigger; own_day=1; exact=yes\n"
                  "item: id=a; medicine=examplin; at=20:00; start=call; end=trigger day 0\n" ONE_MG PLAN
                  "date: trigger=2026-12-06 21:00\n",
         "a 1-5 day 1 open 20:00 1 mg\n", NULL},
	{"day 1 is the day of the call",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=call; end=days 2\n" ONE_MG PLAN
                  "called: item=a; on=2026-12-08\n",
         "a 1-2 day 1 2026-12-08 20:00 1 mg\n", NULL},
	{"a known day unless a call is sooner",
         MEDICINE "event: id=begin; own_day=1\n"
                  "item: id=a; medicine=examplin; at=20:00; start=first(begin day 6, call); end=days 2\n" ONE_MG PLAN
                  "date: begin=2026-12-04\n",
         "a 1-2 day 1 2026-12-09 20:00 1 mg unless sooner\n", NULL},
	{"the call was sooner",
         MEDICINE "event: id=begin; own_day=1\n"
                  "item: id=a; medicine=examplin; at=20:00; start=first(begin day 6, call); end=days 2\n" ONE_MG PLAN
                  "date: begin=2026-12-04\ncalled: item=a; on=2026-12-08\n",
         "a 1-2 day 1 2026-12-08 20:00 1 mg\n", NULL},
	{"the call came later and changes nothing",
         MEDICINE "event: id=begin; own_day=1\n"
                  "item: id=a; medicine=examplin; at=20:00; start=first(begin day 6, call); end=days 2\n" ONE_MG PLAN
                  "date: begin=2026-12-04\ncalled: item=a; on=2026-12-10\n",
         "a 1-2 day 1 2026-12-09 20:00 1 mg\n",
         "case:7:1: caution: the call for 'a' on 2026-12-10 came after its start on 2026-12-09 and changes nothing "
         "[called-late]\n"},
	{"once begun, no call can be sooner",
         MEDICINE "event: id=begin; own_day=1\n"
                  "item: id=a; medicine=examplin; at=20:00; start=first(begin day 6, call); end=days 2\n" ONE_MG
                  "plan: as_of=2026-12-09\ndate: begin=2026-12-04\n",
         "a 1-2 day 1 2026-12-09 20:00 1 mg\n", NULL},
	{"the later of a date and a call waits for the call",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=last(on 2026-12-09, call); end=days 2\n" ONE_MG PLAN,
         "a 1-2 day 1 open 20:00 1 mg\n", NULL},
	{"the later of a date and a call that came",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=last(on 2026-12-09, call); end=days 2\n" ONE_MG PLAN
                  "called: item=a; on=2026-12-07\n",
         "a 1-2 day 1 2026-12-09 20:00 1 mg\n", NULL},
	{"one within the other",
         /* the later of (the 5th, the 7th) is the 7th; the earlier of that and the 6th is the 6th */
         MEDICINE "item: id=a; medicine=examplin; at=20:00; "
                  "start=first(last(on 2026-12-05, on 2026-12-07), on 2026-12-06); end=days 1\n" ONE_MG PLAN,
         "a 1 day 1 2026-12-06 20:00 1 mg\n", NULL},
	{"one item's 'unless sooner' is that of what follows it",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=first(on 2026-12-09, call); end=days 1\n" ONE_MG
                  "item: id=b; medicine=examplin; at=20:00; start=a day 2; end=days 1\n" ONE_MG PLAN,
         "a 1 day 1 2026-12-09 20:00 1 mg unless sooner\nb 1 day 1 2026-12-10 20:00 1 mg unless sooner\n", NULL},

	/* ---- ends ---- */
	{"through the day before an event, inclusive",
         MEDICINE "event: id=trigger; own_day=1; exact=yes\n"
                  "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=trigger day 0\n" ONE_MG PLAN
                  "date: trigger=2026-12-14 21:30\n",
         "a 1-2 day 1 2026-12-12 20:00 1 mg\n", NULL},
	{"through the event's own day",
         MEDICINE "event: id=test; own_day=0\n"
                  "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=test\n" ONE_MG PLAN
                  "date: test=2026-12-14\n",
         "a 1-3 day 1 2026-12-12 20:00 1 mg\n", NULL},
	{"not past so many hours before an event",
         /* 12 h before 08:30 on the 14th is 20:30 on the 13th: 20:00 still, 21:00 not */
         MEDICINE "event: id=test; own_day=0; exact=yes\n"
                  "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=test minus 12 h\n" ONE_MG
                  "item: id=b; medicine=examplin; at=21:00; start=on 2026-12-12; end=test minus 12 h\n" ONE_MG PLAN
                  "date: test=2026-12-14 08:30\n",
         "a 1-2 day 1 2026-12-12 20:00 1 mg\nb 1 day 1 2026-12-12 21:00 1 mg\n", NULL},
	{"after so many doses, two a day",
         MEDICINE "item: id=a; medicine=examplin; at=20:00, 08:00; start=on 2026-12-04; end=doses 3\n" ONE_MG PLAN,
         "a 1 day 1 2026-12-04 08:00 1 mg\na 2 day 1 2026-12-04 20:00 1 mg\na 3 day 2 2026-12-05 08:00 1 mg\n", NULL},
	{"an event without a date: to the horizon, counted from the first dose",
         "protocol: horizon=3 days\n" MEDICINE "event: id=trigger; own_day=1\n"
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=trigger day 0\n" ONE_MG PLAN,
         "a 1-3 day 1 2026-12-12 20:00 1 mg\n", NULL},
	{"an item's own horizon",
         "protocol: horizon=3 days\n" MEDICINE
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; horizon=2 days\n" ONE_MG PLAN,
         "a 1-2 day 1 2026-12-12 20:00 1 mg\n", NULL},
	{"until a call that has come, through its day",
         "protocol: horizon=9 days\n" MEDICINE
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=call\n" ONE_MG PLAN
         "called: item=a; on=2026-12-14\n",
         "a 1-3 day 1 2026-12-12 20:00 1 mg\n", NULL},
	{"called to start and called to end",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=call; end=call\n" ONE_MG PLAN
                  "called: item=a; on=2026-12-12\ncalled: item=a; on=2026-12-13\n",
         "a 1-2 day 1 2026-12-12 20:00 1 mg\n", NULL},
	{"the earlier of days, doses and an event",
         MEDICINE
         "event: id=trigger; own_day=1\n"
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=first(days 5, doses 4, trigger day "
         "0)\n" ONE_MG
         "item: id=b; medicine=examplin; at=20:00; start=on 2026-12-14; end=first(days 5, trigger day 0)\n" ONE_MG PLAN
         "date: trigger=2026-12-17\n",
         "a 1-4 day 1 2026-12-12 20:00 1 mg\nb 1-3 day 1 2026-12-14 20:00 1 mg\n", NULL},
	{"the earlier of days and an event without a date: the days",
         MEDICINE
         "event: id=trigger; own_day=1\n"
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=first(trigger day 0, days 2)\n" ONE_MG PLAN,
         "a 1-2 day 1 2026-12-12 20:00 1 mg\n", NULL},
	{"the later of days and an event",
         MEDICINE
         "event: id=trigger; own_day=1\n"
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=last(days 2, trigger)\n" ONE_MG PLAN
         "date: trigger=2026-12-15\n",
         "a 1-4 day 1 2026-12-12 20:00 1 mg\n", NULL},
	{"the later of days and an event without a date: the horizon, but no fewer days",
         "protocol: horizon=3 days\n" MEDICINE "event: id=trigger; own_day=1\n"
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=last(days 5, trigger)\n" ONE_MG PLAN,
         "a 1-5 day 1 2026-12-12 20:00 1 mg\n", NULL},

	/* ---- days and times ---- */
	{"every second day",
         MEDICINE
         "item: id=a; medicine=examplin; at=20:00; every=2 days; start=on 2026-12-04; end=days 5\n" ONE_MG PLAN,
         "a 1 day 1 2026-12-04 20:00 1 mg\na 2 day 3 2026-12-06 20:00 1 mg\na 3 day 5 2026-12-08 20:00 1 mg\n", NULL},
	{"every week",
         MEDICINE
         "item: id=a; medicine=examplin; at=20:00; every=1 week; start=on 2026-12-04; end=doses 2\n" ONE_MG PLAN,
         "a 1 day 1 2026-12-04 20:00 1 mg\na 2 day 8 2026-12-11 20:00 1 mg\n", NULL},
	{"weekdays: day 1 is the first of them",
         /* the 4th is a Friday; the next Monday is the 7th, the Thursday the 10th */
         MEDICINE
         "item: id=a; medicine=examplin; at=20:00; weekdays=mon, thu; start=on 2026-12-04; end=doses 3\n" ONE_MG PLAN,
         "a 1 day 1 2026-12-07 20:00 1 mg\na 2 day 4 2026-12-10 20:00 1 mg\na 3 day 8 2026-12-14 20:00 1 mg\n", NULL},
	{"alternating amounts on alternate days",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; every=2 days; start=on 2026-12-04; end=days 5\n"
                  "dose: from=1; dose=1 mg\ndose: from=3; dose=2 mg\ndose: from=5; dose=1 mg\n" PLAN,
         "a 1 day 1 2026-12-04 20:00 1 mg\na 2 day 3 2026-12-06 20:00 2 mg new\na 3 day 5 2026-12-08 20:00 1 mg new\n",
         NULL},
	{"a step changes how often and when",
         /* from day 4 every second day at 08:00, counted from day 4 */
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 6\n"
                  "dose: from=1; dose=1 mg\ndose: from=4; dose=1 mg; every=2 days; at=08:00\n" PLAN,
         "a 1-3 day 1 2026-12-04 20:00 1 mg\na 4 day 4 2026-12-07 08:00 1 mg\na 5 day 6 2026-12-09 08:00 1 mg\n", NULL},
	{"steps by an event's day",
         /* day 0 of the trigger, whose own day is 1, is the 6th: day 3 of the item */
         MEDICINE "event: id=trigger; own_day=1\n"
                  "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 4\n"
                  "dose: from=1; dose=1 mg\ndose: from=trigger day 0; dose=2 mg\n" PLAN "date: trigger=2026-12-07\n",
         "a 1-2 day 1 2026-12-04 20:00 1 mg\na 3 day 3 2026-12-06 20:00 2 mg new\na 4 day 4 2026-12-07 20:00 2 mg\n",
         NULL},
	{"a step of an event without a date does not begin",
         MEDICINE "event: id=trigger; own_day=1\n"
                  "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2\n"
                  "dose: from=1; dose=1 mg\ndose: from=trigger day 0; dose=2 mg\n" PLAN,
         "a 1-2 day 1 2026-12-04 20:00 1 mg\n", NULL},
	{"the small hours belong to the day before",
         MEDICINE "item: id=a; medicine=examplin; at=00:30, 22:00; start=on 2026-12-04; end=days 1\n" ONE_MG PLAN,
         "a 1 day 1 2026-12-04 22:00 1 mg\na 2 day 1 2026-12-04 00:30 1 mg night to 2026-12-05\n", NULL},
	{"slots are the clinic's hours",
         MEDICINE "item: id=a; medicine=examplin; at=evening, morning; start=on 2026-12-04; end=days 1\n" ONE_MG PLAN,
         "a 1 day 1 2026-12-04 08:00 1 mg\na 2 day 1 2026-12-04 20:00 1 mg\n", NULL},
	{"the start's time is every day's where the item has none",
         MEDICINE "event: id=trigger; own_day=1; exact=yes\n"
                  "item: id=a; medicine=examplin; start=trigger; end=days 2\n" ONE_MG PLAN
                  "date: trigger=2026-12-14 21:30\n",
         "a 1-2 day 1 2026-12-14 21:30 1 mg exact\n", NULL},
	{"if needed, so many a day at most",
         MEDICINE "item: id=a; medicine=examplin; as_needed=2; start=on 2026-12-04; end=days 1\n" ONE_MG PLAN,
         "a 1 day 1 2026-12-04 - 1 mg if needed\na 2 day 1 2026-12-04 - 1 mg if needed\n", NULL},
	{"days before the plan speaks are done",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 4\n" ONE_MG
                  "plan: as_of=2026-12-06\n",
         "a 1-2 day 1 2026-12-04 20:00 1 mg done\na 3-4 day 3 2026-12-06 20:00 1 mg\n", NULL},

	{"the day begins at 04:00, and ends before it",
         MEDICINE "item: id=a; medicine=examplin; at=03:59, 04:00; start=on 2026-12-04; end=days 1\n" ONE_MG PLAN,
         "a 1 day 1 2026-12-04 04:00 1 mg\na 2 day 1 2026-12-04 03:59 1 mg night to 2026-12-05\n", NULL},
	{"an exact time, on the next of the weekdays",
         /* the 4th is a Friday, the 7th a Monday */
         MEDICINE "event: id=begin; exact=yes\n"
                  "item: id=a; medicine=examplin; weekdays=mon; start=begin; end=doses 1\n" ONE_MG PLAN
                  "date: begin=2026-12-04 21:30\n",
         "a 1 day 1 2026-12-07 21:30 1 mg exact\n", NULL},
	{"no time, on two of the weekdays",
         MEDICINE
         "item: id=a; medicine=examplin; weekdays=mon, tue; as_needed=1; start=on 2026-12-04; end=days 2\n" ONE_MG PLAN,
         "a 1-2 day 1 2026-12-07 - 1 mg if needed\n", NULL},
	{"an item's time as its first step, its plan or a change has it",
         /* b, d and f follow the first doses of a, c and e by 12 h */
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1\n"
                  "dose: from=1; dose=1 mg; at=19:00\n"
                  "item: id=b; medicine=examplin; start=a plus 12 h; end=doses 1\n" ONE_MG
                  "item: id=c; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1\ndose: from=1; dose=plan\n"
                  "item: id=d; medicine=examplin; start=c plus 12 h; end=doses 1\n" ONE_MG
                  "item: id=e; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 4\n" ONE_MG
                  "dose: from=3; dose=1 mg; at=10:00\n"
                  "item: id=f; medicine=examplin; start=e plus 12 h; end=doses 1\n" ONE_MG PLAN
                  "own: item=c; from=1; dose=1 mg; at=18:00\n"
                  "change: item=e; from=2026-12-04; until=2026-12-04; at=17:00\n"
                  "change: item=e; from=2026-12-05; until=2026-12-05; at=16:00\n",
         "a 1 day 1 2026-12-04 19:00 1 mg\nb 1 day 1 2026-12-05 07:00 1 mg\n"
         "c 1 day 1 2026-12-04 18:00 1 mg\nd 1 day 1 2026-12-05 06:00 1 mg\n"
         "e 1 day 1 2026-12-04 17:00 1 mg\ne 2 day 2 2026-12-05 16:00 1 mg\ne 3-4 day 3 2026-12-06 10:00 1 mg\n"
         "f 1 day 1 2026-12-05 05:00 1 mg\n",
         NULL},

	/* ---- amounts ---- */
	{"half, split, then full",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 4\n"
                  "dose: from=1; dose=125 mcg; split=yes\ndose: from=3; dose=250 mcg\n" PLAN,
         "a 1-2 day 1 2026-12-04 20:00 125 mcg split\na 3 day 3 2026-12-06 20:00 250 mcg new\n"
         "a 4 day 4 2026-12-07 20:00 250 mcg\n",
         NULL},
	{"the same amount in another unit is no new amount",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2\n"
                  "dose: from=1; dose=250 mcg\ndose: from=2; dose=0.25 mg\n" PLAN,
         "a 1 day 1 2026-12-04 20:00 250 mcg\na 2 day 2 2026-12-05 20:00 0.25 mg\n", NULL},
	{"the plan's amounts, until the protocol states its own",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 4\n"
                  "dose: from=1; dose=plan\ndose: from=4; dose=150 units\n" PLAN
                  "own: item=a; from=1; dose=225 units\nown: item=a; from=3; dose=187.5 units\n",
         "a 1-2 day 1 2026-12-04 20:00 225 units\na 3 day 3 2026-12-06 20:00 187.5 units new\n"
         "a 4 day 4 2026-12-07 20:00 150 units new\n",
         NULL},
	{"the amount by a call",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 3\n"
                  "dose: from=1; dose=1 mg\ndose: from=2; dose=call after the scan\n" PLAN,
         "a 1 day 1 2026-12-04 20:00 1 mg\na 2 day 2 2026-12-05 20:00 by call new\na 3 day 3 2026-12-06 20:00 by "
         "call\n",
         NULL},

	/* ---- changes ---- */
	{"a changed dose holds, and later steps lapse",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 4\n"
                  "dose: from=1; dose=1 mg\ndose: from=3; dose=2 mg; at=08:00\n" PLAN
                  "change: item=a; from=2026-12-05; dose=3 mg\n",
         "a 1 day 1 2026-12-04 20:00 1 mg\na 2 day 2 2026-12-05 20:00 3 mg new\na 3-4 day 3 2026-12-06 20:00 3 mg\n",
         NULL},
	{"a changed dose with an end: then the protocol's steps are back",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 4\n"
                  "dose: from=1; dose=1 mg\ndose: from=3; dose=2 mg\n" PLAN
                  "change: item=a; from=2026-12-05; until=2026-12-06; dose=3 mg\n",
         "a 1 day 1 2026-12-04 20:00 1 mg\na 2 day 2 2026-12-05 20:00 3 mg new\na 3 day 3 2026-12-06 20:00 3 mg\n"
         "a 4 day 4 2026-12-07 20:00 2 mg new\n",
         NULL},
	{"a changed dose ends with the next change of dose",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 3\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-06; dose=4 mg\nchange: item=a; from=2026-12-05; dose=3 mg\n",
         "a 1 day 1 2026-12-04 20:00 1 mg\na 2 day 2 2026-12-05 20:00 3 mg new\na 3 day 3 2026-12-06 20:00 4 mg new\n",
         NULL},
	{"a changed amount is not split, the same amount still is",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2\n"
                  "dose: from=1; dose=125 mcg; split=yes\n"
                  "item: id=b; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1\n"
                  "dose: from=1; dose=125 mcg; split=yes\n" PLAN
                  "change: item=a; from=2026-12-05; dose=100 mcg\nchange: item=b; from=2026-12-04; dose=0.125 mg\n",
         "a 1 day 1 2026-12-04 20:00 125 mcg split\na 2 day 2 2026-12-05 20:00 100 mcg new\n"
         "b 1 day 1 2026-12-04 20:00 0.125 mg split\n",
         NULL},
	{"a skip is of one day, or through its end",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 6\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-05; skip=yes\n"
                  "change: item=a; from=2026-12-07; until=2026-12-08; skip=yes\n",
         "a 1 day 1 2026-12-04 20:00 1 mg\na 2 day 3 2026-12-06 20:00 1 mg\na 3 day 6 2026-12-09 20:00 1 mg\n", NULL},
	{"a skipped dose counts among so many doses",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=doses 3\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-05; skip=yes\n",
         "a 1 day 1 2026-12-04 20:00 1 mg\na 2 day 3 2026-12-06 20:00 1 mg\n", NULL},
	{"a changed dose outlives a skipped day",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 4\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-05; dose=3 mg\nchange: item=a; from=2026-12-06; skip=yes\n",
         "a 1 day 1 2026-12-04 20:00 1 mg\na 2 day 2 2026-12-05 20:00 3 mg new\na 3 day 4 2026-12-07 20:00 3 mg\n",
         NULL},
	{"a stop is for good",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 6\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-06; stop=yes\n",
         "a 1-2 day 1 2026-12-04 20:00 1 mg\n", NULL},
	{"a stop, and a later change takes the item up again",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 5\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-05; stop=yes\nchange: item=a; from=2026-12-07; dose=2 mg\n",
         "a 1 day 1 2026-12-04 20:00 1 mg\na 2 day 4 2026-12-07 20:00 2 mg new\na 3 day 5 2026-12-08 20:00 2 mg\n",
         NULL},
	{"a changed time leaves the steps' amounts",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 3\n"
                  "dose: from=1; dose=1 mg\ndose: from=3; dose=2 mg\n" PLAN
                  "change: item=a; from=2026-12-05; at=21:00\n",
         "a 1 day 1 2026-12-04 20:00 1 mg\na 2 day 2 2026-12-05 21:00 1 mg\na 3 day 3 2026-12-06 21:00 2 mg new\n",
         NULL},
	{"what follows the last dose follows a stop",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 6\n" ONE_MG
                  "item: id=b; medicine=examplin; at=08:00; start=a.last plus 1 day; end=days 1\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-06; stop=yes\n",
         "a 1-2 day 1 2026-12-04 20:00 1 mg\nb 1 day 1 2026-12-06 08:00 1 mg\n", NULL},

	/* ---- away ---- */
	{"away, the clock is kept",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 3\n" ONE_MG PLAN
                  "away: from=2026-12-05; to=2026-12-05; zone=America/New_York; keep=clock\n",
         "a 1 day 1 2026-12-04 20:00 1 mg\na 2 day 2 2026-12-05 20:00 1 mg in America/New_York\n"
         "a 3 day 3 2026-12-06 20:00 1 mg\n",
         NULL},
	{"away, the hours are kept",
         /* London is 5 h ahead of New York and 11 h behind Sydney in December */
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2\n" ONE_MG PLAN
                  "away: from=2026-12-04; to=2026-12-04; zone=America/New_York; keep=hours\n"
                  "away: from=2026-12-05; to=2026-12-05; zone=Australia/Sydney; keep=hours\n",
         "a 1 day 1 2026-12-04 15:00 1 mg in America/New_York\na 2 day 2 2026-12-06 07:00 1 mg in Australia/Sydney\n",
         NULL},
	{"an exact time is kept to the minute whatever the clock does",
         MEDICINE "event: id=trigger; own_day=1; exact=yes\n"
                  "item: id=a; medicine=examplin; start=trigger; end=doses 1\n" ONE_MG PLAN
                  "date: trigger=2026-12-14 21:30\n"
                  "away: from=2026-12-14; to=2026-12-14; zone=Europe/Lisbon; keep=clock\n"
                  "plan: as_of=2026-12-01; zone=Europe/Madrid\n",
         "a 1 day 1 2026-12-14 20:30 1 mg exact in Europe/Lisbon\n", NULL},

	/* ---- clock changes ---- */
	{"hours before an event count across a clock change",
         /* 28 March 2027 01:00 becomes 02:00: 36 h before the 29th 09:30 (08:30 UTC) is the 27th 20:30 UTC, 20:30 GMT */
         MEDICINE "event: id=procedure; own_day=0; exact=yes\n"
                  "item: id=a; medicine=examplin; start=procedure minus 36 h; end=doses 1\n" ONE_MG PLAN
                  "date: procedure=2027-03-29 09:30\n",
         "a 1 day 1 2027-03-27 20:30 1 mg exact\n", NULL},
	{"a time that does not exist: a caution for a daily dose",
         /* the small hours of treatment day 27 March are those of the 28th, where 01:00 to 01:59 is left out */
         MEDICINE "item: id=a; medicine=examplin; at=01:30; start=on 2027-03-26; end=days 3\n" ONE_MG PLAN,
         "a 1 day 1 2027-03-26 01:30 1 mg night to 2027-03-27\na 2 day 2 2027-03-27 01:30 1 mg night to 2027-03-28\n"
         "a 3 day 3 2027-03-28 01:30 1 mg night to 2027-03-29\n",
         "case:2:35: caution: 01:30 on 2027-03-28, the time of 'a', does not exist in Europe/London: clocks go forward "
         "over "
         "it; choose another [time-never]\n"},
	{"a time that comes twice: a caution for a daily dose",
         MEDICINE "item: id=a; medicine=examplin; at=01:30; start=on 2027-10-30; end=days 1\n" ONE_MG PLAN,
         "a 1 day 1 2027-10-30 01:30 1 mg night to 2027-10-31\n",
         "case:2:35: caution: 01:30 on 2027-10-31, the time of 'a', comes twice in Europe/London: clocks go back over "
         "it; "
         "choose another [time-twice]\n"},
	{"a time that does not exist: a stop for an exact event",
         MEDICINE "event: id=trigger; own_day=1; exact=yes\n"
                  "item: id=a; medicine=examplin; start=trigger; end=doses 1\n" ONE_MG PLAN
                  "date: trigger=2027-03-28 01:00\n",
         NULL,
         "case:6:15: stop: 01:00 on 2027-03-28, the time of 'trigger', does not exist in Europe/London: clocks go "
         "forward "
         "over it; choose another [time-never]\n"},
	{"a time that comes twice: a stop for an exact event",
         MEDICINE "event: id=trigger; own_day=1; exact=yes\n"
                  "item: id=a; medicine=examplin; start=trigger; end=doses 1\n" ONE_MG PLAN
                  "date: trigger=2027-10-31 01:59\n",
         NULL,
         "case:6:15: stop: 01:59 on 2027-10-31, the time of 'trigger', comes twice in Europe/London: clocks go back "
         "over it; "
         "choose another [time-twice]\n"},

	{"a visit's time that does not exist",
         MEDICINE "event: id=go; own_day=1\n"
                  "item: id=a; medicine=examplin; at=20:00; start=go; end=doses 1\n" ONE_MG
                  "visit: event=go; day=2; at=01:30\n" PLAN "date: go=2027-03-26\n",
         NULL,
         "case:5:28: caution: 01:30 on 2027-03-28, the time of a visit for 'go', does not exist in Europe/London: "
         "clocks go forward over it; choose another [time-never]\n"},
	{"a visit's time that comes twice",
         MEDICINE "event: id=go; own_day=1\n"
                  "item: id=a; medicine=examplin; at=20:00; start=go; end=doses 1\n" ONE_MG
                  "visit: event=go; day=2; at=01:30\n" PLAN "date: go=2027-10-29\n",
         NULL,
         "case:5:28: caution: 01:30 on 2027-10-31, the time of a visit for 'go', comes twice in Europe/London: clocks "
         "go back over it; choose another [time-twice]\n"},
	{"an arrival that comes twice, of a procedure whose time comes once",
         /* 02:30 is after the change, and 90 minutes before it are 01:00 for the second time */
         MEDICINE "event: id=procedure; own_day=0; exact=yes; arrive_before=90 min\n"
                  "item: id=a; medicine=examplin; at=20:00; start=on 2027-10-28; end=doses 1\n" ONE_MG PLAN
                  "date: procedure=2027-10-31 02:30\n",
         NULL,
         "case:6:17: stop: 01:00 on 2027-10-31, the time of arrival for 'procedure', comes twice in Europe/London: "
         "clocks go back over it; choose another [time-twice]\n"},
	{"a procedure that comes twice, of an arrival whose time comes once",
         /* 00:30 and 90 minutes are 01:00 for the second time: an hour of it is there twice */
         MEDICINE "event: id=procedure; own_day=0; exact=yes; arrival=yes; arrive_before=90 min\n"
                  "item: id=a; medicine=examplin; at=20:00; start=on 2027-10-28; end=doses 1\n" ONE_MG PLAN
                  "date: procedure=2027-10-31 00:30\n",
         NULL,
         "case:6:17: stop: 01:00 on 2027-10-31, the time after arrival of 'procedure', comes twice in Europe/London: "
         "clocks go back over it; choose another [time-twice]\n"},

	/* ---- faults of starts ---- */
	{"no start", MEDICINE "item: id=a; medicine=examplin; at=20:00; end=days 1\n" ONE_MG PLAN, "",
         "case:2:1: stop: 'a' has no start; give it 'start' with a date, an event or a call [start-missing]\n"},
	{"a name that nothing has",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=b.last day 1; end=days 1\n" ONE_MG PLAN, "",
         "case:2:48: stop: 'b.last' is no event, item or 'item.last' of protocol 'course' [unknown-event]\n"},
	{"an event whose own day is not said",
         MEDICINE
         "event: id=begin\nitem: id=a; medicine=examplin; at=20:00; start=begin day 2; end=days 1\n" ONE_MG PLAN
         "date: begin=2026-12-04\n",
         "",
         "case:3:48: stop: 'begin' does not say whether its own day is day 0 or day 1; give it 'own_day' "
         "[own-day-missing]\n"},
	{"an exact event without a time",
         MEDICINE "event: id=trigger; exact=yes\nitem: id=a; medicine=examplin; start=trigger; end=days 1\n" ONE_MG PLAN
                  "date: trigger=2026-12-14\n",
         "",
         "case:6:15: stop: 'trigger' has a date and no time, and its time matters to the minute; write '2026-12-14 "
         "HH:MM' "
         "[exact-time-missing]\n"},
	{"12:00 at night",
         MEDICINE "event: id=trigger; exact=yes\nitem: id=a; medicine=examplin; start=trigger; end=days 1\n" ONE_MG PLAN
                  "date: trigger=2026-12-14 00:00\n",
         "",
         "case:6:15: stop: 12:00 at night of 'trigger' can be the night before or after 2026-12-14; write 23:59 or "
         "00:01 of "
         "the day meant [midnight-ambiguous]\n"},
	{"hours from a day without a time",
         MEDICINE "event: id=begin\nitem: id=a; medicine=examplin; start=begin plus 12 h; end=days 1\n" ONE_MG PLAN
                  "date: begin=2026-12-04\n",
         "",
         "case:3:38: stop: 'begin' has a date and no time, and 12 h from it need one; state its time, or count in days "
         "[no-time]\n"},
	{"part of a day",
         MEDICINE
         "event: id=begin\nitem: id=a; medicine=examplin; at=20:00; start=begin plus 1.5 days; end=days 1\n" ONE_MG PLAN
         "date: begin=2026-12-04 08:00\n",
         "",
         "case:3:48: stop: 1.5 days is no whole number of minutes or days; write part of a day in hours "
         "[not-whole-time]\n"},
	{"an exact time and another beside it",
         MEDICINE
         "event: id=trigger; exact=yes\nitem: id=a; medicine=examplin; at=evening; start=trigger; end=days 1\n" ONE_MG
                 PLAN "date: trigger=2026-12-14 21:30\n",
         "",
         "case:3:35: stop: 'a' begins at an exact time, 21:30, and has 'at' as well; leave out 'at' [at-and-exact]\n"},
	{"an exact time some hours before an event, and another beside it",
         MEDICINE "event: id=trigger; exact=yes\n"
                  "item: id=a; medicine=examplin; at=evening; start=trigger minus 12 h; end=days 1\n" ONE_MG PLAN
                  "date: trigger=2026-12-14 21:30\n",
         "",
         "case:3:35: stop: 'a' begins at an exact time, 09:30, and has 'at' as well; leave out 'at' [at-and-exact]\n"},
	{"a circle of two",
         MEDICINE "item: id=growth; medicine=examplin; at=20:00; start=blocker day 2; end=days 1\n" ONE_MG
                  "item: id=blocker; medicine=examplin; at=20:00; start=growth plus 1 day; end=days 1\n" ONE_MG PLAN,
         "",
         "case:4:54: stop: these wait for each other and can never begin: growth -> blocker -> growth; give one of "
         "them a "
         "start of its own [trigger-circle]\n"},
	{"a circle through a last dose, one knot outside it",
         /* c waits for a, but is no part of the circle */
         MEDICINE "item: id=c; medicine=examplin; at=20:00; start=a; end=days 1\n" ONE_MG
                  "item: id=a; medicine=examplin; at=20:00; start=b.last day 2; end=days 1\n" ONE_MG
                  "item: id=b; medicine=examplin; at=20:00; start=on 2026-12-04; end=a day 1\n" ONE_MG PLAN,
         "",
         "case:6:67: stop: these wait for each other and can never begin: a -> b.last -> a; give one of them a start "
         "of its "
         "own [trigger-circle]\n"},
	{"a step that waits for its own item's last dose",
         "protocol: horizon=3 days\n" MEDICINE
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2\n" ONE_MG
         "dose: from=a.last day 0; dose=2 mg\n" PLAN,
         "a 1-2 day 1 2026-12-04 20:00 1 mg\n",
         "case:5:1: stop: these wait for each other and can never begin: a.last -> a.last; give one of them a start of "
         "its "
         "own [trigger-circle]\n"},
	{"no circle: the end of one at the start of the other",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=b day 0\n" ONE_MG
                  "item: id=b; medicine=examplin; at=20:00; start=a day 3; end=days 1\n" ONE_MG PLAN,
         "a 1-2 day 1 2026-12-04 20:00 1 mg\nb 1 day 1 2026-12-06 20:00 1 mg\n", NULL},

	/* ---- faults of ends ---- */
	{"an end without a date, and no horizon",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=call\n" ONE_MG PLAN, "",
         "case:2:67: stop: the end of 'a' is not known, and the protocol has no 'horizon' to look to "
         "[horizon-missing]\n"},
	{"an end before the start",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=on 2026-12-03\n" ONE_MG PLAN, "",
         "case:2:67: stop: 'a' ends before its first dose on 2026-12-04; check the dates of its start and end "
         "[ends-before-start]\n"},
	{"an end that is past before the call",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=call; end=on 2026-11-30\n" ONE_MG PLAN, "",
         "case:2:58: caution: 'a' waits for its start, and its end is already past [cannot-start]\n"},
	{"an end in another century",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=on 2036-12-04\n" ONE_MG PLAN, NULL,
         "case:2:67: stop: 'a' would run for more than 1100 days; check the date of its end [course-too-long]\n"},
	{"when needed, and at times of day",
         /* the most of a day would be that of its one time, whatever 'as_needed' allows */
         MEDICINE "item: id=a; medicine=examplin; as_needed=2; at=20:00; start=on 2026-12-04; end=days 1\n" ONE_MG PLAN,
         NULL,
         "case:2:1: stop: 'a' is taken when needed, and has times of day as well; leave out 'at' [needed-at-times]\n"},
	{"when needed, and at times from a step on",
         MEDICINE "item: id=a; medicine=examplin; as_needed=2; start=on 2026-12-04; end=days 1\n"
                  "dose: from=1; dose=1 mg; at=20:00\n" PLAN,
         NULL,
         "case:2:1: stop: 'a' is taken when needed, and has times of day as well; leave out 'at' [needed-at-times]\n"},
	{"when needed, and at times by a change",
         MEDICINE "item: id=a; medicine=examplin; as_needed=2; start=on 2026-12-04; end=days 1\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-04; at=20:00\n",
         NULL,
         "case:2:1: stop: 'a' is taken when needed, and has times of day as well; leave out 'at' [needed-at-times]\n"},
	{"an open end whose horizon is over",
         /* three days from the 4th end on the 6th */
         "protocol: horizon=3 days\n" MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04\n" ONE_MG
         "plan: as_of=2026-12-07\n",
         "a 1-3 day 1 2026-12-04 20:00 1 mg done\n",
         "case:3:1: stop: 'a' has no end yet, and its horizon of 3 days was over before 2026-12-07; give it a longer "
         "'horizon' [horizon-past]\n"},

	/* ---- faults of days and amounts ---- */
	{"the same time twice",
         MEDICINE "item: id=a; medicine=examplin; at=08:00, morning; start=on 2026-12-04; end=days 1\n" ONE_MG PLAN,
         NULL, "case:2:35: stop: 'a' is taken at 08:00 twice; write each time once [same-time]\n"},
	{"no time of day", MEDICINE "item: id=a; medicine=examplin; start=on 2026-12-04; end=days 1\n" ONE_MG PLAN,
         "a 1 day 1 2026-12-04 - 1 mg\n", "case:2:1: caution: 'a' has no time of day; give it 'at' [no-time-of-day]\n"},
	{"no time of day, and none to come with the call",
         MEDICINE "item: id=a; medicine=examplin; start=call; end=days 1\n" ONE_MG PLAN, "a 1 day 1 open - 1 mg\n",
         "case:2:1: caution: 'a' has no time of day; give it 'at' [no-time-of-day]\n"},
	{"no time of day yet: the event will give it",
         MEDICINE "event: id=trigger; exact=yes\n"
                  "item: id=a; medicine=examplin; start=first(trigger minus 36 h, call); end=doses 1\n" ONE_MG PLAN,
         "a 1 day 1 open - 1 mg\n", NULL},
	{"no time of day: a day of the event will not give it",
         MEDICINE "event: id=trigger; own_day=1; exact=yes\n"
                  "item: id=a; medicine=examplin; start=trigger day 2; end=doses 1\n" ONE_MG PLAN,
         "a 1 day 1 open - 1 mg\n", "case:3:1: caution: 'a' has no time of day; give it 'at' [no-time-of-day]\n"},
	{"fixed weekdays before the start is known",
         /* as if begun on a Monday: days 1 and 4 of each week */
         MEDICINE "item: id=a; medicine=examplin; at=20:00; weekdays=mon, thu; start=call; end=days 8\n" ONE_MG PLAN,
         "a 1 day 1 open 20:00 1 mg\na 2 day 4 open 20:00 1 mg\na 3 day 8 open 20:00 1 mg\n",
         "case:2:67: caution: 'a' has fixed weekdays and no start yet: its days are numbered as if it began on the "
         "first of "
         "them [weekday-open]\n"},
	{"no dose on day 1",
         MEDICINE
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2\ndose: from=2; dose=1 mg\n" PLAN,
         "a 1 day 2 2026-12-05 20:00 1 mg\n",
         "case:2:1: stop: no dose of 'a' holds from its day 1; let the first step begin with 'from: 1' [no-dose]\n"},
	{"steps that go back",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1\n"
                  "dose: from=1; dose=1 mg\ndose: from=6; dose=2 mg\ndose: from=3; dose=3 mg\n" PLAN,
         NULL,
         "case:5:1: stop: the doses of 'a' go from day 6 to day 3; list each day once, the earliest first "
         "[steps-out-of-order]\n"},
	{"the plan must give the dose, and does not",
         MEDICINE
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2\ndose: from=1; dose=plan\n" PLAN,
         "a 1-2 day 1 2026-12-04 20:00 missing\n",
         "case:1:1: stop: the plan must give the dose of 'a' from day 1; add it under 'doses' [dose-missing]\n"},
	{"the plan must give the dose, and gives an empty list",
         MEDICINE
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1\ndose: from=1; dose=plan\n" PLAN
         "own: item=a\n",
         NULL, "case:5:1: stop: the plan must give the dose of 'a' from day 1; add it under 'doses' [dose-missing]\n"},
	{"the plan must give the dose, and gives it from day 2",
         MEDICINE
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2\ndose: from=1; dose=plan\n" PLAN
         "own: item=a; from=2; dose=1 mg\n",
         "a 1 day 1 2026-12-04 20:00 missing\na 2 day 2 2026-12-05 20:00 1 mg new\n",
         "case:5:1: stop: the plan must give the dose of 'a' from day 1; add it under 'doses' [dose-missing]\n"},
	{"the plan must give the dose, and refers to itself",
         MEDICINE
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1\ndose: from=1; dose=plan\n" PLAN
         "own: item=a; from=1; dose=plan\n",
         NULL,
         "case:5:1: stop: the plan must give the dose of 'a' and refers to the plan; write the amount [dose-missing]\n"
         "case:5:1: stop: the plan must give the dose of 'a' from day 1; add it under 'doses' [dose-missing]\n"},
	{"the plan gives a dose that the protocol states",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1\n" ONE_MG PLAN
                  "own: item=a; from=1; dose=2 mg\n",
         "a 1 day 1 2026-12-04 20:00 1 mg\n",
         "case:5:1: stop: the plan gives a dose of 'a' from day 1, where the protocol states its own; change that with "
         "'changes' [dose-not-asked]\n"},

	/* ---- faults of changes ---- */
	{"a change by date of what has no date",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=call; end=days 1\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-05; dose=2 mg\n",
         "a 1 day 1 open 20:00 1 mg\n",
         "case:5:1: stop: the days of 'a' are not known yet, so nothing can change from 2026-12-05; give its start a "
         "date "
         "first [change-on-open]\n"},
	{"a change that ends before it begins",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 3\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-06; until=2026-12-05; dose=2 mg\n",
         NULL,
         "case:5:40: stop: this change of 'a' ends on 2026-12-05, before it begins on 2026-12-06 [change-backwards]\n"},
	{"a change outside the item's days",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 3\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-07; dose=2 mg\n",
         "a 1-3 day 1 2026-12-04 20:00 1 mg\n",
         "case:5:1: caution: this change of 'a' is from 2026-12-07, and its doses run from 2026-12-04 to 2026-12-06; "
         "check its "
         "date [change-outside]\n"},
	{"two changes from one day",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 3\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-05; dose=2 mg\nchange: item=a; from=2026-12-05; dose=3 mg\n",
         NULL, "case:6:1: stop: 'a' has two changes of 'dose' from 2026-12-05; keep one [changes-conflict]\n"},
	{"a short change after another that ended says nothing",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 4\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-04; until=2026-12-05; dose=2 mg\n"
                  "change: item=a; from=2026-12-05; at=21:00\n"
                  "change: item=a; from=2026-12-06; until=2026-12-06; dose=3 mg\n",
         "a 1 day 1 2026-12-04 20:00 2 mg\na 2 day 2 2026-12-05 21:00 2 mg\na 3 day 3 2026-12-06 21:00 3 mg new\n"
         "a 4 day 4 2026-12-07 21:00 1 mg new\n",
         NULL},
	{"a change within another, one of another kind between them",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 4\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-04; dose=2 mg\n"
                  "change: item=a; from=2026-12-05; at=21:00\n"
                  "change: item=a; from=2026-12-06; until=2026-12-06; dose=3 mg\n",
         NULL,
         "case:7:1: caution: after 2026-12-06 'a' goes back to the protocol, and not to the change from 2026-12-04; "
         "add a change from the day after if that is meant [change-lapses]\n"},
	{"a change within another: then the protocol, and not the other, is back",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 4\n" ONE_MG PLAN
                  "change: item=a; from=2026-12-05; dose=2 mg\n"
                  "change: item=a; from=2026-12-06; until=2026-12-06; dose=3 mg\n",
         "a 1 day 1 2026-12-04 20:00 1 mg\na 2 day 2 2026-12-05 20:00 2 mg new\na 3 day 3 2026-12-06 20:00 3 mg new\n"
         "a 4 day 4 2026-12-07 20:00 1 mg new\n",
         "case:6:1: caution: after 2026-12-06 'a' goes back to the protocol, and not to the change from 2026-12-05; "
         "add a "
         "change from the day after if that is meant [change-lapses]\n"},

	/* ---- faults of events, calls and times away ---- */
	{"two events the stated hours apart, the slack allowed exactly",
         /* 21:30 to 08:30 two days on: 35 h */
         MEDICINE "event: id=procedure; exact=yes\nevent: id=trigger; exact=yes; check=procedure; by=36 h; give=1 h\n"
                  "item: id=a; medicine=examplin; start=trigger; end=doses 1\n" ONE_MG PLAN
                  "date: procedure=2026-12-16 08:30; trigger=2026-12-14 21:30\n",
         "a 1 day 1 2026-12-14 21:30 1 mg exact\n", NULL},
	{"a minute more than the stated hours",
         MEDICINE "event: id=procedure; exact=yes\nevent: id=trigger; exact=yes; check=procedure; by=36 h; give=1 h\n"
                  "item: id=a; medicine=examplin; start=trigger; end=doses 1\n" ONE_MG PLAN
                  "date: procedure=2026-12-16 10:31; trigger=2026-12-14 21:30\n",
         NULL,
         "case:7:43: stop: 'trigger' is 37 h 01 min before 'procedure', and the protocol says 36 h, give or take 1 h; "
         "one of "
         "the two times is wrong [hours-apart]\n"},
	{"twelve hours off",
         MEDICINE "event: id=procedure; exact=yes\nevent: id=trigger; exact=yes; check=procedure; by=36 h\n"
                  "item: id=a; medicine=examplin; start=trigger; end=doses 1\n" ONE_MG PLAN
                  "date: procedure=2026-12-16 09:30; trigger=2026-12-14 09:30\n",
         NULL,
         "case:7:43: stop: 'trigger' is 48 h before 'procedure', and the protocol says 36 h; one of the two times is "
         "wrong "
         "[hours-apart]\n"},
	{"the wrong order",
         MEDICINE "event: id=procedure; exact=yes\nevent: id=trigger; exact=yes; check=procedure; by=36 h\n"
                  "item: id=a; medicine=examplin; start=trigger; end=doses 1\n" ONE_MG PLAN
                  "date: procedure=2026-12-16 09:30; trigger=2026-12-17 21:30\n",
         NULL,
         "case:7:43: stop: 'trigger' must come before 'procedure', and the plan has it at the same time or later "
         "[event-order]\n"},
	{"the later event has a date, the earlier none",
         MEDICINE "event: id=procedure; exact=yes\nevent: id=trigger; exact=yes; check=procedure; by=36 h\n"
                  "item: id=a; medicine=examplin; start=trigger; end=doses 1\n" ONE_MG PLAN
                  "date: procedure=2026-12-16 09:30\n",
         NULL,
         "case:7:17: stop: 'procedure' has a date and 'trigger' has none, and the protocol ties them together; give "
         "'trigger' "
         "its date too [event-missing]\n"},
	{"the earlier event has a date, the later none",
         MEDICINE "event: id=procedure; exact=yes\nevent: id=trigger; exact=yes; check=procedure; by=36 h\n"
                  "item: id=a; medicine=examplin; start=trigger; end=doses 1\n" ONE_MG PLAN
                  "date: trigger=2026-12-14 21:30\n",
         "a 1 day 1 2026-12-14 21:30 1 mg exact\n",
         "case:7:15: caution: 'trigger' has a date and 'procedure' has none, and the protocol ties them together; give "
         "'procedure' its date too [event-missing]\n"},
	{"hours to check, and no time",
         MEDICINE "event: id=procedure\nevent: id=trigger; exact=yes; check=procedure; by=36 h\n"
                  "item: id=a; medicine=examplin; start=trigger; end=doses 1\n" ONE_MG PLAN
                  "date: procedure=2026-12-16; trigger=2026-12-14 21:30\n",
         NULL,
         "case:7:17: stop: 'procedure' has a date and no time, and the hours from 'trigger' to 'procedure' are "
         "checked; give "
         "it a time [exact-time-missing]\n"},
	{"an event checked against none",
         MEDICINE "event: id=trigger; exact=yes; check=procedure; by=36 h\n"
                  "item: id=a; medicine=examplin; start=trigger; end=doses 1\n" ONE_MG PLAN
                  "date: trigger=2026-12-14 21:30\n",
         NULL,
         "case:2:1: stop: 'trigger' must come before 'procedure', which is no event of protocol 'course' "
         "[unknown-event]\n"},
	{"a gap to an event without a time",
         MEDICINE
         "event: id=test\nitem: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1; gap_to=test; "
         "gap_to_most=30 h\n" ONE_MG PLAN "date: test=2026-12-06\n",
         NULL,
         "case:3:1: caution: the hours from the last 'a' to 'test' cannot be checked: 'test' has no time "
         "[gap-unchecked]\n"},
	{"a call for what waits for none",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1\n" ONE_MG PLAN
                  "called: item=a; on=2026-12-05\n",
         NULL, "case:5:1: stop: 'a' does not wait for a call; take it out of 'called' [called-without-call]\n"},
	{"one call listed twice",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=call; end=days 1\n" ONE_MG PLAN
                  "called: item=a; on=2026-12-05\ncalled: item=a; on=2026-12-06\n",
         "a 1 day 1 2026-12-05 20:00 1 mg\n",
         "case:6:1: stop: the call for 'a' is listed twice; keep the one that was made [called-twice]\n"},
	{"a time away that ends before it begins, and two at once",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1\n" ONE_MG PLAN
                  "away: from=2026-12-09; to=2026-12-08; zone=Europe/Lisbon\n"
                  "away: from=2026-12-14; to=2026-12-18; zone=Europe/Lisbon\n"
                  "away: from=2026-12-12; to=2026-12-14; zone=Europe/Madrid\n",
         NULL,
         "case:5:1: stop: this time away ends on 2026-12-08, before it begins on 2026-12-09 [away-backwards]\n"
         "case:7:1: stop: two times away hold on 2026-12-14; let one end before the other begins [away-overlaps]\n"},
};

/* ---- exact times that others worked out ---- */

/* "procedure 2026-03-09 10:00 EDT (America/New_York); trigger 36 h before" */
static void is_exact_time(void **state)
{
	struct test_case *one = case_of(state);
	struct arena *arena = one->arena;
	const struct published_table *table = published_read(arena, "worked.csv");
	size_t row = (size_t)published_find(table, "id", one->row);
	char date[11];
	char time[6];
	char zone[40];
	int hours;
	assert_int_equal(sscanf(published_value(table, row, "given"),
	                        "procedure %10s %5s %*s (%39[^)]); trigger %d h before", date, time, zone, &hours),
	                 4);
	const char *script =
		arena_printf(arena,
	                     MEDICINE "event: id=procedure; exact=yes\n"
	                              "item: id=a; medicine=examplin; start=procedure minus %d h; end=doses 1\n"
	                              "dose: from=1; dose=1 mg\nplan: as_of=2026-01-01; zone=%s\n"
	                              "date: procedure=%s %s\n",
	                     hours, zone, date, time);
	const struct plan *plan = script_plan(arena, script);
	struct findings findings = findings_in(arena);
	struct schedule schedule;
	assert_true(schedule_build(arena, plan, &schedule, &findings));
	assert_int_equal(findings.n, 0);
	assert_int_equal(schedule.n_doses, 1);
	const struct dose *dose = &schedule.doses[0];
	size_t span = 0;
	while (span + 1 < plan->zone->n_spans && plan->zone->spans[span + 1].since <= dose->when)
		span++;
	const char *found = arena_printf(arena, "%s %s %s", date_print(arena, dose->clock_date),
	                                 clock_print(arena, dose->time), plan->zone->spans[span].abbreviation);
	assert_string_equal(found, published_value(table, row, "expected"));
}

static void add_published(struct arena *arena, struct tests *tests)
{
	const struct published_table *table = published_read(arena, "worked.csv");
	size_t added = 0;
	for (size_t i = 0; i < table->n_rows; i++) {
		if (strcmp(published_value(table, i, "kind"), "exact time") != 0)
			continue;
		const char *id = published_value(table, i, "id");
		tests_add(tests,
		          arena_printf(arena, "exact time %s, source %s", id, published_value(table, i, "source_id")),
		          is_exact_time, id);
		added++;
	}
	assert_true(added >= 5); /* the rows that the table held when it was collected */
}

/* ---- random courses against a slow reference ---- */

enum { RANDOM_COURSES = 3000, DAYS_LOOKED_AT = 1000, FIRST_DAY = 20788 /* 2026-12-01, from 1970-01-01 */ };

/* A course in numbers. Days count from 1970-01-01; a date is told by the C library alone. */
struct numbers {
	int64_t event;
	int own_day;
	int64_t start; /* day N of the event */
	enum trigger_kind end;
	int64_t end_count; /* doses, days, or the event's day */
	int every;
	unsigned weekdays; /* bit 1 is Monday ... bit 7 Sunday; 0: any */
	int n_times;
	int times[3]; /* hours, rising, each after the day begins at 04:00 */
	int n_steps;
	int64_t step_from[3];
	int step_every[3]; /* 0: as the item */
	int64_t skip_from;
	int64_t skip_to;
	int64_t change_from; /* 0: none */
	int64_t change_to;   /* 0: no end */
	int64_t stop_from;   /* 0: none */
};

static const char *date_of_day(struct arena *arena, int64_t day)
{
	time_t seconds = (time_t)day * 86400;
	struct tm tm;
	char text[11];
	gmtime_r(&seconds, &tm);
	strftime(text, sizeof text, "%Y-%m-%d", &tm);
	return arena_strdup(arena, text);
}

static bool is_weekday(const struct numbers *numbers, int64_t day)
{
	time_t seconds = (time_t)day * 86400;
	struct tm tm;
	gmtime_r(&seconds, &tm);
	int weekday = tm.tm_wday == 0 ? 7 : tm.tm_wday;
	return numbers->weekdays == 0 || (numbers->weekdays >> weekday & 1U);
}

static struct numbers random_numbers(uint64_t *seed)
{
	struct numbers n = {.event = FIRST_DAY + (int64_t)(next_random(seed) % 40),
	                    .own_day = (int)(next_random(seed) % 2)};
	n.start = (int64_t)(next_random(seed) % 9) - 2;
	static const enum trigger_kind ends[] = {TRIGGER_DOSES, TRIGGER_DAYS, TRIGGER_EVENT};
	n.end = ends[next_random(seed) % 3];
	n.end_count = 1 + (int64_t)(next_random(seed) % 20) + (n.end == TRIGGER_EVENT ? n.start + 6 : 0);
	n.every = 1 + (int)(next_random(seed) % 4);
	n.weekdays = next_random(seed) % 3 == 0 ? (unsigned)(next_random(seed) % 127 + 1) << 1 : 0;
	n.n_times = 1 + (int)(next_random(seed) % 3);
	for (int i = 0; i < n.n_times; i++)
		n.times[i] = 5 + 6 * i + (int)(next_random(seed) % 5);
	n.n_steps = 1 + (int)(next_random(seed) % 3);
	for (int i = 0; i < n.n_steps; i++) {
		n.step_from[i] = i == 0 ? 1 : n.step_from[i - 1] + 1 + (int64_t)(next_random(seed) % 5);
		n.step_every[i] = next_random(seed) % 4 == 0 ? 1 + (int)(next_random(seed) % 3) : 0;
	}
	n.skip_from = n.event + (int64_t)(next_random(seed) % 12);
	n.skip_to = n.skip_from + (int64_t)(next_random(seed) % 3);
	n.change_from = next_random(seed) % 2 ? n.event + (int64_t)(next_random(seed) % 12) : 0;
	n.change_to = n.change_from && next_random(seed) % 2 ? n.change_from + (int64_t)(next_random(seed) % 4) : 0;
	n.stop_from = next_random(seed) % 4 == 0 ? n.event + (int64_t)(next_random(seed) % 20) : 0;
	return n;
}

/* The latest step begun by a day of the item. */
static int step_by(const struct numbers *numbers, int64_t item_day)
{
	int step = 0;
	for (int i = 1; i < numbers->n_steps; i++)
		if (numbers->step_from[i] <= item_day)
			step = i;
	return step;
}

/*
 * Goes through the calendar day by day. Amounts are 1, 2, 3 mg by step and 9 mg
 * where changed; a change holds the step of the day it began on.
 */
static const char *expected_doses(struct arena *arena, const struct numbers *n)
{
	const char *text = "";
	int64_t first = n->event + n->start - n->own_day;
	while (!is_weekday(n, first))
		first++;
	int64_t scheduled = 0;
	int64_t given = 0;
	for (int64_t day = first; day < first + DAYS_LOOKED_AT; day++) {
		int64_t item_day = day - first + 1;
		bool changed = n->change_from && day >= n->change_from && (!n->change_to || day <= n->change_to);
		int64_t change_day = n->change_from - first + 1 > 1 ? n->change_from - first + 1 : 1;
		int step = step_by(n, changed ? change_day : item_day);
		int64_t since = n->step_every[step] ? item_day - n->step_from[step] : item_day - 1;
		int every = n->step_every[step] ? n->step_every[step] : n->every;
		if (!is_weekday(n, day) || since < 0 || since % every != 0)
			continue;
		for (int i = 0; i < n->n_times; i++) {
			bool over = (n->end == TRIGGER_DOSES && scheduled >= n->end_count) ||
			            (n->end == TRIGGER_DAYS && item_day > n->end_count) ||
			            (n->end == TRIGGER_EVENT && day > n->event + n->end_count - n->own_day);
			if (over)
				return text;
			scheduled++;
			bool skipped = (day >= n->skip_from && day <= n->skip_to) ||
			               (n->stop_from && day >= n->stop_from &&
			                !(n->change_from > n->stop_from && day >= n->change_from));
			if (skipped)
				continue;
			text = arena_printf(arena, "%s%lld day %lld %s %02d:00 %d mg\n", text, (long long)++given,
			                    (long long)item_day, date_of_day(arena, day), n->times[i],
			                    changed ? 9 : step + 1);
		}
	}
	return text;
}

static const char *script_of(struct arena *arena, const struct numbers *n)
{
	static const char *const weekdays[] = {"", "mon", "tue", "wed", "thu", "fri", "sat", "sun"};
	const char *days = "";
	for (unsigned i = 1; i <= 7; i++)
		if (n->weekdays >> i & 1U)
			days = arena_printf(arena, "%s%s%s", days, *days ? ", " : "", weekdays[i]);
	const char *at = "";
	for (int i = n->n_times; i-- > 0;)
		at = arena_printf(arena, "%s%s%02d:00", at, *at ? ", " : "", n->times[i]);
	const char *end = arena_printf(arena, "begin day %lld", (long long)n->end_count);
	if (n->end != TRIGGER_EVENT)
		end = arena_printf(arena, "%s %lld", n->end == TRIGGER_DOSES ? "doses" : "days",
		                   (long long)n->end_count);
	const char *text =
		arena_printf(arena,
	                     MEDICINE "event: id=begin; own_day=%d\n"
	                              "item: id=a; medicine=examplin; at=%s; every=%d days%s%s; "
	                              "start=begin day %lld; end=%s\n",
	                     n->own_day, at, n->every, *days ? "; weekdays=" : "", days, (long long)n->start, end);
	for (int i = 0; i < n->n_steps; i++)
		text = arena_printf(arena, "%sdose: from=%lld; dose=%d mg%s\n", text, (long long)n->step_from[i], i + 1,
		                    n->step_every[i] ? arena_printf(arena, "; every=%d days", n->step_every[i]) : "");
	text = arena_printf(arena, "%splan: as_of=2026-11-01; zone=UTC\ndate: begin=%s\n", text,
	                    date_of_day(arena, n->event));
	text = arena_printf(arena, "%schange: item=a; from=%s; until=%s; skip=yes\n", text,
	                    date_of_day(arena, n->skip_from), date_of_day(arena, n->skip_to));
	if (n->change_from)
		text = arena_printf(arena, "%schange: item=a; from=%s%s%s; dose=9 mg\n", text,
		                    date_of_day(arena, n->change_from), n->change_to ? "; until=" : "",
		                    n->change_to ? date_of_day(arena, n->change_to) : "");
	if (n->stop_from)
		text = arena_printf(arena, "%schange: item=a; from=%s; stop=yes\n", text,
		                    date_of_day(arena, n->stop_from));
	return text;
}

static void agrees_with_a_slow_reference(void **state)
{
	struct arena *arena = case_of(state)->arena;
	uint64_t seed = 20261201;
	size_t doses = 0;
	for (int i = 0; i < RANDOM_COURSES; i++) {
		struct numbers numbers = random_numbers(&seed);
		const char *script = script_of(arena, &numbers);
		const struct plan *plan = script_plan(arena, script);
		struct findings findings = findings_in(arena);
		struct schedule schedule;
		assert_true(schedule_build(arena, plan, &schedule, &findings));
		const char *found = "";
		for (size_t j = 0; j < schedule.n_doses; j++) {
			const struct dose *dose = &schedule.doses[j];
			found = arena_printf(arena, "%s%lld day %lld %s %s %s\n", found, (long long)dose->n,
			                     (long long)dose->day, date_print(arena, dose->date),
			                     clock_print(arena, dose->time),
			                     quantity_plain(arena, dose->ordered, DECIMAL_POINT));
		}
		doses += schedule.n_doses;
		const char *expected = expected_doses(arena, &numbers);
		if (strcmp(found, expected) != 0)
			print_message("%s", script);
		assert_string_equal(found, expected);
		arena_reset(arena);
	}
	assert_true(doses > RANDOM_COURSES); /* most of them must not be empty for this to show anything */
}

static void needs_a_day_to_speak_from(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct plan *plan = script_plan(
		arena, MEDICINE "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1\n" ONE_MG);
	struct findings findings = findings_in(arena);
	struct schedule schedule;
	assert_false(schedule_build(arena, plan, &schedule, &findings));
	assert_string_equal(
		findings_text(arena, &findings),
		"case:1:1: stop: the plan does not say from which day it speaks; give it 'as_of' [as-of-missing]\n");
}

int main(void)
{
	struct tests tests = {0};
	tests_add(&tests, "needs a day to speak from", needs_a_day_to_speak_from, NULL);
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		tests_add(&tests, rows[i].name, schedules, &rows[i]);
	struct arena *arena = arena_new();
	add_published(arena, &tests);
	tests_add(&tests, "random courses agree with a slow reference", agrees_with_a_slow_reference, NULL);
	int failed = tests_run(&tests, "schedule");
	arena_free(arena);
	return failed;
}
