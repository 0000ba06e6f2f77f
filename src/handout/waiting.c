/*
 * waiting.c - a medicine that waits for a call: what to write down, and which weekday is which day.
 *
 * No date stands here but one that is known anyway (a start that a call may
 * bring forward). The look-up counts weekdays from the day of the call, which
 * is day 1; where the day is fixed otherwise, from day 1 itself.
 */
#include "handout/build.h"

#include <string.h>

#define HEADS_MOST 5
#define DAYS_SHOWN 4

/* A week that begins on a Monday, to have the names of weekdays from. */
static const struct civil_date a_monday = {2024, 1, 1};

static const char *weekday_name(struct build *build, int64_t after_monday, enum date_form form)
{
	return say_date(build->speaker, date_plus(a_monday, after_monday % 7), form);
}

static bool waits_for_call(const struct item_run *run)
{
	return run->call != NULL && (run->starts_by_call || run->unless_sooner);
}

/* A call that is one of several things waited for does not make its day the first. */
static bool call_is_day_1(const struct item_run *run)
{
	return waits_for_call(run) && run->item->start.kind != TRIGGER_LAST_OF;
}

/* ---- what is said ---- */

static void fill_head(struct build *build, const struct item_run *run, struct waiting_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	const char *name = run->item->medicine->name;
	bool call = waits_for_call(run);
	if (run->unless_sooner) {
		sheet->title = say1(speaker, "waiting.title_sooner", "name", name);
		sheet->lead = say0(speaker, "waiting.lead_sooner");
		sheet->heading =
			say1(speaker, "waiting.heading_sooner", "date", say_date(speaker, run->first, DATE_LONG));
		sheet->text = call ? say1(speaker, "waiting.text_sooner", "when",
		                          say_text(speaker, *run->call, "the call's words"))
		                   : say0(speaker, "waiting.text_sooner_event");
		return;
	}
	sheet->title = say1(speaker, call ? "waiting.title" : "waiting.title_event", "name", name);
	sheet->lead = say0(speaker, call ? "waiting.lead" : "waiting.lead_event");
	sheet->heading = say0(speaker, "waiting.heading");
	if (!call) {
		sheet->text = say0(speaker, "waiting.text_event");
		return;
	}
	const char *when = say_text(speaker, *run->call, "the call's words");
	if (run->expected != NULL && run->expected->n > 0)
		sheet->text = say2(speaker, "waiting.text_expected", "when", when, "expected",
		                   say_text(speaker, *run->expected, "when the call is expected"));
	else
		sheet->text = say1(speaker, "waiting.text", "when", when);
}

/* ---- what is written down ---- */

/* Each amount once, in the order of the days; those that a call may set are listed as they may be chosen. */
static void fill_amounts(struct build *build, const struct item_run *run, struct waiting_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	const struct dose *first = &run->doses[0];
	struct waiting_amount *amounts = NULL;
	size_t most = run->n_doses > first->n_options ? run->n_doses : first->n_options;
	amounts = arena_alloc(build->arena, (most + 1) * sizeof *amounts);
	sheet->amounts = amounts;
	sheet->choose = first->amount == DOSE_BY_CALL && first->n_options > 0;
	if (first->amount == DOSE_BY_CALL && !sheet->choose)
		sheet->unit = unit_to_write(build, first);
	for (size_t i = 0; sheet->choose && i < first->n_options; i++)
		amounts[sheet->n_amounts++].amount = say_amount(speaker, first->options[i].amount);
	for (size_t i = 0; i < run->n_doses; i++) {
		const struct dose *dose = &run->doses[i];
		if (dose->amount == DOSE_BY_CALL || (i > 0 && !dose->new_amount))
			continue;
		struct waiting_amount *amount = &amounts[sheet->n_amounts++];
		amount->amount = say_amount(speaker, dose->ordered);
		if (dose->n_draws == 1)
			amount->mark = say_mark(speaker, &dose->draws[0]);
		if (i > 0)
			amount->from = say1(speaker, "waiting.from_day", "day",
			                    say_number(speaker, rational_of(dose->day, 1)));
	}
}

static const char *read_words(struct build *build, const struct waiting_sheet *sheet)
{
	if (sheet->choose || sheet->n_amounts != 1)
		return say0(build->speaker, "waiting.read_amount");
	if (sheet->amounts[0].mark.number == NULL)
		return say1(build->speaker, "waiting.read", "amount", sheet->amounts[0].amount);
	return say2(build->speaker, "waiting.read_mark", "amount", sheet->amounts[0].amount, "mark",
	            mark_words_plain(build->arena, sheet->amounts[0].mark));
}

static void fill_write_in(struct build *build, const struct item_run *run, struct waiting_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	sheet->write_heading = say0(speaker, waits_for_call(run) ? "waiting.write" : "waiting.write_event");
	sheet->day_label = say0(speaker, "waiting.day");
	sheet->day_hint = say0(speaker, "waiting.day_hint");
	for (int i = 0; i < 7; i++)
		sheet->weekdays[i] = weekday_name(build, i, DATE_WEEKDAY_SHORT);
	sheet->day_word = say0(speaker, "grid.day");
	sheet->month_word = say0(speaker, "grid.month");
	if (!run->doses[0].has_time)
		sheet->time_label = say0(speaker, "waiting.time");
	sheet->amount_label = say0(speaker, "waiting.amount");
	if (sheet->choose)
		sheet->amount_hint = say0(speaker, "waiting.amount_hint");
	sheet->options = pages_of_item(build, run->item)->options;
	sheet->who_label = say0(speaker, waits_for_call(run) ? "waiting.who" : "waiting.who_event");
	sheet->at_word = say0(speaker, "waiting.at");
	sheet->read_label = say0(speaker, "waiting.read_label");
	sheet->read_text = read_words(build, sheet);
}

/* ---- the look-up ---- */

/* A day of the look-up before it is worded. */
struct look_day {
	int64_t day;
	const struct dose *dose; /* NULL: a visit */
	const struct dated_visit *visit;
};

struct look_days {
	struct look_day list[HEADS_MOST];
	size_t n;
};

static void insert_day(struct look_days *days, struct look_day day)
{
	size_t at = days->n++;
	while (at > 0 && days->list[at - 1].day > day.day) {
		days->list[at] = days->list[at - 1];
		at--;
	}
	days->list[at] = day;
}

/* So many doses or days from the first: wherever that falls, the last one is known by its number. */
static bool last_is_counted(const struct item_run *run)
{
	enum trigger_kind kind = run->item->end.kind;
	return run->end == ITEM_ENDS && (kind == TRIGGER_DOSES || kind == TRIGGER_DAYS);
}

/* The first days on which there is something to take, and the last one. */
static void add_dose_days(const struct item_run *run, struct look_days *days)
{
	const struct dose *last = &run->doses[run->n_doses - 1];
	int64_t latest = 0;
	for (size_t i = 0; i < run->n_doses && days->n < DAYS_SHOWN - 1; i++)
		if (run->doses[i].day > latest) {
			latest = run->doses[i].day;
			insert_day(days, (struct look_day){.day = latest, .dose = &run->doses[i]});
		}
	if (last->day > latest && last_is_counted(run))
		insert_day(days, (struct look_day){.day = last->day, .dose = last});
}

/* A visit that is counted from this line's first dose is as undated as that is. */
static void add_visit_day(struct build *build, const struct item_run *run, struct look_days *days)
{
	for (size_t i = 0; i < build->course->n_visits; i++) {
		const struct dated_visit *visit = &build->course->visits[i];
		if (!visit->open || visit->visit == NULL || !visit->visit->day.given ||
		    strcmp(visit->visit->event, run->item->id) != 0)
			continue;
		insert_day(days, (struct look_day){.day = visit->visit->day.number, .visit = visit});
		return;
	}
}

static const char *times_of_day(struct build *build, const struct item_run *run, int64_t day)
{
	const char *times = NULL;
	for (size_t i = 0; i < run->n_doses; i++) {
		if (run->doses[i].day != day || !run->doses[i].has_time)
			continue;
		const char *time = say_time(build->speaker, run->doses[i].time);
		times = times == NULL ? time : say2(build->speaker, "list.comma", "first", times, "last", time);
	}
	return times;
}

static struct waiting_head head_of(struct build *build, const struct item_run *run, const struct look_day *day)
{
	struct speaker *speaker = build->speaker;
	struct waiting_head head = {
		.day = say1(speaker, "days.one", "days", say_number(speaker, rational_of(day->day, 1))),
		.visit = day->dose == NULL};
	if (head.visit) {
		const char *time = day->visit->has_time ? say_time(speaker, day->visit->time) : NULL;
		head.note =
			time == NULL ? say0(speaker, "waiting.visit") : say1(speaker, "waiting.visit_at", "time", time);
		return head;
	}
	const char *times = times_of_day(build, run, day->day);
	bool last = day->dose == &run->doses[run->n_doses - 1] && last_is_counted(run) && day->day > 1;
	if (times == NULL)
		times = untimed_words(speaker, day->dose);
	head.note = last ? say1(speaker, "waiting.last", "time", times) : times;
	return head;
}

static void fill_look_up(struct build *build, const struct item_run *run, struct waiting_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	struct look_days days = {.n = 0};
	bool call = call_is_day_1(run);
	add_dose_days(run, &days);
	add_visit_day(build, run, &days);
	if (!call && days.n < 2)
		return; /* day 1 alone is what was written down above */
	struct waiting_head *heads = arena_alloc(build->arena, (days.n + 1) * sizeof *heads);
	for (size_t i = 0; i < days.n; i++)
		heads[i] = head_of(build, run, &days.list[i]);
	sheet->heads = heads;
	sheet->n_heads = days.n;
	sheet->look_heading = say0(speaker, "waiting.look");
	sheet->look_note = say0(speaker, call ? "waiting.look_note" : "waiting.look_note_event");
	if (call)
		sheet->call_head = say0(speaker, "waiting.call_head");
	for (int row = 0; row < 7; row++) {
		const char **names = arena_alloc(build->arena, (days.n + 1) * sizeof *names);
		for (size_t i = 0; i < days.n; i++)
			names[i] = weekday_name(build, row + days.list[i].day - 1, DATE_WEEKDAY);
		sheet->rows[row] = (struct waiting_row){call ? weekday_name(build, row, DATE_WEEKDAY) : NULL, names};
	}
}

const struct waiting_sheet *waiting_sheet_of(struct build *build, const struct item_run *run)
{
	struct waiting_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	fill_head(build, run, sheet);
	fill_amounts(build, run, sheet);
	fill_write_in(build, run, sheet);
	fill_look_up(build, run, sheet);
	return sheet;
}
