/*
 * waiting.c - a medicine that waits for a call: what to write down, and which weekday is which day.
 *
 * No date stands here but one that is known anyway (a start that a call may
 * bring forward) and the day of an end that is known.
 */
#include "handout/build.h"

#include <string.h>

#define DAYS_IN_WEEK 7
#define WEEKS_MOST 12 /* rows of boxes; a longer course goes on on the same weekdays */

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

/* ---- what is said ---- */

/* Where its days stand that are not to be gone by. */
static const char *grid_page(struct build *build)
{
	return build->grid_section < 0 ? say0(build->speaker, "waiting.elsewhere") : PAGE_HERE;
}

/* After the day that the packet is good until nobody begins without a call, a known day or not. */
static const char *sooner_text(struct build *build, const struct item_run *run)
{
	const struct course *course = build->course;
	bool over = course->has_good_until && date_compare(run->first, course->good_until) >= 0;
	struct value values[] = {
		{"name", run->item->medicine->name},
		{"when", say_text(build->speaker, *run->call, "the call's words")},
		{"where", grid_page(build)},
		{"otherwise", say0(build->speaker, over ? "waiting.sooner_ask" : "waiting.sooner_no_call")}};
	return say(build->speaker, "waiting.text_sooner", values, 4);
}

/* What is expected after a visit counts the plan's days, and this page those of its own: the visit has a date. */
static const char *add_next_visit(struct build *build, const char *text)
{
	const struct course *course = build->course;
	for (size_t i = 0; i < course->n_visits; i++)
		if (!course->visits[i].open && date_compare(course->visits[i].date, build->plan->as_of.date) >= 0)
			return arena_printf(build->arena, "%s %s", text,
			                    say1(build->speaker, "waiting.next_visit", "date",
			                         say_date(build->speaker, course->visits[i].date, DATE_SHORT)));
	return text;
}

static void fill_head(struct build *build, const struct item_run *run, struct waiting_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	const char *name = run->item->medicine->name;
	bool call = waits_for_call(run);
	sheet->sooner = run->unless_sooner;
	if (run->unless_sooner) {
		sheet->title = say1(speaker, "waiting.title_sooner", "name", name);
		sheet->lead = say0(speaker, "waiting.lead_sooner");
		sheet->heading =
			say1(speaker, "waiting.heading_sooner", "date", say_date(speaker, run->first, DATE_LONG));
		sheet->grid = build->grid_section;
		sheet->doses = run->doses;
		sheet->n_doses = run->n_doses;
		sheet->text =
			call ? sooner_text(build, run)
			     : say2(speaker, "waiting.text_sooner_event", "name", name, "where", grid_page(build));
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
		sheet->text =
			add_next_visit(build, say2(speaker, "waiting.text_expected", "when", when, "expected",
		                                   say_text(speaker, *run->expected, "when the call is expected")));
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

/* "Placebix: day 1 is ...": the plan has a day 1 of its own. */
static const char *read_words(struct build *build, const struct item_run *run, const struct waiting_sheet *sheet)
{
	bool one = !sheet->choose && sheet->n_amounts == 1;
	bool marked = one && sheet->amounts[0].mark.number != NULL;
	struct value values[] = {
		{"name", run->item->medicine->name},
		{"amount", one ? sheet->amounts[0].amount : ""},
		{"mark", marked ? mark_words_plain(build->arena, sheet->amounts[0].mark) : ""},
	};
	const char *key = marked ? "waiting.read_mark" : one ? "waiting.read" : "waiting.read_amount";
	return say(build->speaker, key, values, sizeof values / sizeof *values);
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
	sheet->options = pages_of_item(build, run->item)->options;
	if (sheet->choose && sheet->options < 0)
		sheet->amount_hint = say0(speaker, "waiting.amount_hint");
	else if (sheet->choose)
		sheet->amount_hint = say1(speaker, "waiting.options_hint", "page", PAGE_HERE);
	sheet->who_label = say0(speaker, waits_for_call(run) ? "waiting.who" : "waiting.who_event");
	sheet->at_word = say0(speaker, "waiting.at");
	sheet->read_label = say0(speaker, "waiting.read_label");
	sheet->read_text = read_words(build, run, sheet);
}

/* ---- the look-up ---- */

/*
 * The caller names day 1, so the look-up begins with its weekday and never with
 * the day of the call, which may be another. Days a week apart share a column,
 * and a row of boxes for each week says which day is where.
 */

/* A day of the course before it is worded. */
struct look_day {
	int64_t day;
	const struct dose *dose; /* the first of that day, or one like it; NULL: only a visit */
	bool beyond;             /* it comes only when the call is sooner than the known day */
};

struct look_days {
	struct arena *arena;
	struct look_day *list; /* by day */
	size_t n;
};

static int64_t weekday_of(int64_t day)
{
	return (day - 1) % DAYS_IN_WEEK;
}

static int64_t week_of(int64_t day)
{
	return (day - 1) / DAYS_IN_WEEK;
}

static struct look_day *find_day(const struct look_days *days, int64_t day)
{
	for (size_t i = 0; i < days->n; i++)
		if (days->list[i].day == day)
			return &days->list[i];
	return NULL;
}

static void insert_day(struct look_days *days, struct look_day day)
{
	days->list = arena_more(days->arena, days->list, days->n, sizeof *days->list);
	size_t at = days->n++;
	while (at > 0 && days->list[at - 1].day > day.day) {
		days->list[at] = days->list[at - 1];
		at--;
	}
	days->list[at] = day;
}

static void add_dose_days(const struct item_run *run, struct look_days *days)
{
	for (size_t i = 0; i < run->n_doses; i++)
		if (find_day(days, run->doses[i].day) == NULL)
			insert_day(days, (struct look_day){.day = run->doses[i].day, .dose = &run->doses[i]});
}

/* So many doses or days from the first: wherever that falls, the last one is known by its number. */
static bool last_is_counted(const struct item_run *run)
{
	enum trigger_kind kind = run->item->end.kind;
	return run->end == ITEM_ENDS && (kind == TRIGGER_DOSES || kind == TRIGGER_DAYS);
}

static bool one_amount(const struct build *build, const struct item_run *run)
{
	const struct plan_doses *own = plan_doses_of(build->plan, run->item);
	return run->item->n_doses <= 1 && (own == NULL || own->n_doses <= 1);
}

/* What those days would be is known where all days are alike. */
bool waiting_goes_beyond(const struct item_run *run)
{
	return run->unless_sooner && !last_is_counted(run);
}

/* From one day with a dose to the next; 0: nothing says it. */
static int64_t days_apart(const struct item_run *run)
{
	const struct dose *last = &run->doses[run->n_doses - 1];
	for (size_t i = run->n_doses; i > 0; i--)
		if (run->doses[i - 1].day < last->day)
			return last->day - run->doses[i - 1].day;
	return run->item->every.given ? 0 : 1;
}

/* A call brings a start forward, but neither to a day that is over nor before the event that it is counted from. */
static struct civil_date soonest_day(const struct build *build, const struct item_run *run)
{
	const struct trigger *start = &run->item->start;
	struct civil_date day = build->plan->as_of.date;
	for (size_t i = 0; run->unless_sooner && i < start->n_of; i++) {
		const struct event *event = start->of[i].kind != TRIGGER_EVENT
		                                    ? NULL
		                                    : protocol_event(build->plan->protocol, start->of[i].event);
		const struct event_date *known = event == NULL ? NULL : plan_event_date(build->plan, event);
		if (known != NULL && date_compare(known->date, run->first) <= 0 && date_compare(known->date, day) > 0)
			day = known->date;
	}
	return day;
}

bool waiting_example(const struct build *build, const struct item_run *run, struct civil_date *start)
{
	if (!run->unless_sooner)
		return false;
	struct civil_date soonest = soonest_day(build, run);
	for (int before = 2; before >= 1; before--) {
		*start = date_plus(run->first, -before);
		if (date_compare(*start, soonest) >= 0)
			return true;
	}
	return false;
}

static void add_days_beyond(const struct build *build, const struct item_run *run, struct look_days *days)
{
	const struct dose *last = &run->doses[run->n_doses - 1];
	if (!waiting_goes_beyond(run) || !run->has_bound || !one_amount(build, run) || days_apart(run) == 0)
		return;
	int64_t most = date_difference(run->bound, soonest_day(build, run)) + 1;
	for (int64_t day = last->day + days_apart(run); day <= most; day += days_apart(run))
		insert_day(days, (struct look_day){.day = day, .dose = last, .beyond = true});
}

/* A visit that is counted from this line's first dose is as undated as that is. */
static const struct dated_visit *visit_on_day(const struct build *build, const struct item_run *run, int64_t day)
{
	for (size_t i = 0; i < build->course->n_visits; i++) {
		const struct dated_visit *visit = &build->course->visits[i];
		if (visit->open && visit->visit != NULL && visit->visit->day.given && visit->visit->day.number == day &&
		    strcmp(visit->visit->event, run->item->id) == 0)
			return visit;
	}
	return NULL;
}

static void add_visit_days(const struct build *build, const struct item_run *run, struct look_days *days)
{
	for (size_t i = 0; i < build->course->n_visits; i++) {
		const struct dated_visit *visit = &build->course->visits[i];
		if (!visit->open || visit->visit == NULL || !visit->visit->day.given)
			continue;
		int64_t day = visit->visit->day.number;
		if (day >= 1 && visit_on_day(build, run, day) != NULL && find_day(days, day) == NULL)
			insert_day(days, (struct look_day){.day = day});
	}
}

static size_t doses_on(const struct item_run *run, int64_t day)
{
	size_t n = 0;
	for (size_t i = 0; i < run->n_doses; i++)
		n += run->doses[i].day == day;
	return n;
}

static const char *time_words(struct build *build, const struct dose *dose)
{
	return dose->has_time ? say_time(build->speaker, dose->time) : untimed_words(build->speaker, dose);
}

static const char *times_of_day(struct build *build, const struct item_run *run, int64_t day)
{
	const char *times = NULL;
	for (size_t i = 0; i < run->n_doses; i++) {
		if (run->doses[i].day != day)
			continue;
		const char *time = time_words(build, &run->doses[i]);
		times = times == NULL ? time : say2(build->speaker, "list.comma", "first", times, "last", time);
	}
	return times;
}

static const char *number_words(struct build *build, int64_t number)
{
	return say_number(build->speaker, rational_of(number, 1));
}

/* "2, 9": those that share a column. */
static const char *numbers_of(struct build *build, const struct look_days *days, int64_t weekday, bool *many)
{
	const char *list = NULL;
	*many = false;
	for (size_t i = 0; i < days->n; i++) {
		if (weekday_of(days->list[i].day) != weekday)
			continue;
		const char *day = number_words(build, days->list[i].day);
		*many = list != NULL;
		list = *many ? say2(build->speaker, "list.comma", "first", list, "last", day) : day;
	}
	return list;
}

/*
 * The dates that day 1 may have, where they are a week at most: then each of its
 * weekdays is one of them, others are none, and it is known which days come
 * after the end. `n` 0: day 1 may have any weekday.
 */
struct first_dates {
	struct civil_date from;
	int64_t n;
};

static struct first_dates first_dates_of(const struct build *build, const struct item_run *run)
{
	struct first_dates dates = {.from = soonest_day(build, run)};
	if (!build->plan->as_of.given || (!run->unless_sooner && !run->has_bound))
		return dates;
	int64_t n = date_difference(run->unless_sooner ? run->first : run->bound, dates.from) + 1;
	/* Where the known day would share a weekday with a sooner one, the page that is for sooner ones leaves it out. */
	n -= run->unless_sooner && n == DAYS_IN_WEEK + 1;
	if (n >= 1 && n <= DAYS_IN_WEEK)
		dates.n = n;
	return dates;
}

/* The date of day 1 whose weekday is `row`, counted from Monday; false: it has none. */
static bool first_date_on(const struct first_dates *dates, int row, struct civil_date *date)
{
	for (int64_t i = 0; i < dates->n; i++) {
		*date = date_plus(dates->from, i);
		if ((int)date_weekday(*date) - (int)MONDAY == row)
			return true;
	}
	return false;
}

static bool is_after_end(const struct item_run *run, const struct first_dates *dates, int row, int64_t day)
{
	struct civil_date first;
	return run->has_bound && !last_is_counted(run) && first_date_on(dates, row, &first) &&
	       date_compare(date_plus(first, day - 1), run->bound) > 0;
}

static void fill_rows(const struct first_dates *dates, struct waiting_sheet *sheet)
{
	struct civil_date date;
	for (int row = 0; row < DAYS_IN_WEEK; row++)
		if (dates->n == 0 || first_date_on(dates, row, &date))
			sheet->rows[sheet->n_rows++] = row;
}

static struct waiting_column column_of(struct build *build, const struct item_run *run, const struct look_days *days,
                                       int64_t weekday)
{
	struct first_dates dates = first_dates_of(build, run);
	int64_t soonest = 0;
	struct waiting_column column = {.visit = true};
	bool many;
	column.numbers = numbers_of(build, days, weekday, &many);
	column.head = weekday == 0 ? say0(build->speaker, "waiting.day_1")
	                           : say1(build->speaker, many ? "days.many" : "days.one", "days", column.numbers);
	for (size_t i = 0; i < days->n; i++) {
		const struct look_day *day = &days->list[i];
		if (weekday_of(day->day) != weekday)
			continue;
		soonest = soonest == 0 ? day->day : soonest;
		if (day->dose == NULL)
			continue;
		column.visit = false;
		if (column.note == NULL)
			column.note = times_of_day(build, run, day->dose->day);
	}
	for (int row = 0; row < DAYS_IN_WEEK; row++) {
		if (is_after_end(run, &dates, row, soonest))
			continue;
		column.weekdays[row] = weekday_name(build, row + weekday, DATE_WEEKDAY);
		column.weekdays_short[row] = weekday_name(build, row + weekday, DATE_WEEKDAY_SHORT);
	}
	return column;
}

static const char *visit_words(struct build *build, const struct dated_visit *visit)
{
	struct speaker *speaker = build->speaker;
	const char *what = visit->visit->label.n > 0 ? say_text(speaker, visit->visit->label, "the visit's label")
	                                             : say0(speaker, "visit.word");
	return visit->has_time ? say2(speaker, "waiting.visit_at", "what", what, "time", say_time(speaker, visit->time))
	                       : what;
}

static struct waiting_day day_of(struct build *build, const struct item_run *run, const struct look_day *look)
{
	struct waiting_day day = {.number = number_words(build, look->day)};
	const struct dated_visit *visit = visit_on_day(build, run, look->day);
	if (visit != NULL)
		day.visit = visit_words(build, visit);
	if (look->dose == NULL)
		return day;
	day.n_ticks = doses_on(run, look->dose->day);
	if (look->day == run->doses[run->n_doses - 1].day && last_is_counted(run))
		day.last = say0(build->speaker, "waiting.last");
	if (day.n_ticks < 2)
		return day;
	const char **times = arena_alloc(build->arena, day.n_ticks * sizeof *times);
	size_t n = 0;
	for (size_t i = 0; i < run->n_doses; i++)
		if (run->doses[i].day == look->dose->day)
			times[n++] = time_words(build, &run->doses[i]);
	day.times = times;
	return day;
}

static void fill_weeks(struct build *build, const struct item_run *run, const struct look_days *days,
                       const int64_t *weekdays, struct waiting_sheet *sheet)
{
	struct waiting_week *weeks = NULL;
	bool several = week_of(days->list[0].day) != week_of(days->list[days->n - 1].day);
	for (size_t i = 0; i < days->n && sheet->n_weeks < WEEKS_MOST;) {
		int64_t number = week_of(days->list[i].day);
		struct waiting_day *row = arena_alloc(build->arena, sheet->n_columns * sizeof *row);
		for (; i < days->n && week_of(days->list[i].day) == number; i++)
			for (size_t j = 0; j < sheet->n_columns; j++)
				if (weekdays[j] == weekday_of(days->list[i].day))
					row[j] = day_of(build, run, &days->list[i]);
		weeks = arena_more(build->arena, weeks, sheet->n_weeks, sizeof *weeks);
		weeks[sheet->n_weeks++] = (struct waiting_week){
			several ? say1(build->speaker, "waiting.week", "week", number_words(build, number + 1))
				: say0(build->speaker, "waiting.done"),
			row};
	}
	sheet->weeks = weeks;
}

static void fill_columns(struct build *build, const struct item_run *run, const struct look_days *days,
                         struct waiting_sheet *sheet)
{
	struct waiting_column *columns = arena_alloc(build->arena, DAYS_IN_WEEK * sizeof *columns);
	int64_t weekdays[DAYS_IN_WEEK];
	for (int64_t weekday = 0; weekday < DAYS_IN_WEEK; weekday++) {
		bool used = false;
		for (size_t i = 0; i < days->n; i++)
			used = used || weekday_of(days->list[i].day) == weekday;
		if (!used)
			continue;
		weekdays[sheet->n_columns] = weekday;
		columns[sheet->n_columns++] = column_of(build, run, days, weekday);
	}
	sheet->columns = columns;
	struct first_dates dates = first_dates_of(build, run);
	fill_rows(&dates, sheet);
	fill_weeks(build, run, days, weekdays, sheet);
}

/* ---- what is said of it ---- */

static const char *add_sentence(struct build *build, const char *text, const char *sentence)
{
	if (sentence == NULL)
		return text;
	return text == NULL ? sentence : arena_printf(build->arena, "%s %s", text, sentence);
}

static const char *end_words(struct build *build, const struct item_run *run)
{
	struct speaker *speaker = build->speaker;
	if (last_is_counted(run))
		return say1(speaker, "waiting.last_day", "day", number_words(build, run->doses[run->n_doses - 1].day));
	if (run->has_bound)
		return say1(speaker, "waiting.last_date", "date", say_date(speaker, run->bound, DATE_LONG));
	return say0(speaker, run->end == ITEM_UNTIL_EVENT ? "waiting.until_day" : "waiting.until_told");
}

/* Visits that no column shows: those before day 1, and all where the line keeps to weekdays of its own. */
static const char *add_visits(struct build *build, const struct item_run *run, const char *text)
{
	struct speaker *speaker = build->speaker;
	for (size_t i = 0; i < build->course->n_visits; i++) {
		const struct dated_visit *visit = &build->course->visits[i];
		if (!visit->open || visit->visit == NULL || !visit->visit->day.given ||
		    visit_on_day(build, run, visit->visit->day.number) != visit)
			continue;
		int64_t day = visit->visit->day.number;
		struct value what = {"what", visit_words(build, visit)};
		if (day < 1)
			text = add_sentence(build, text, say_count(speaker, "waiting.visit_before", 1 - day, &what, 1));
		else if (run->item->weekdays != 0)
			text = add_sentence(
				build, text,
				say2(speaker, "waiting.visit_day", "what", what.text, "day", number_words(build, day)));
	}
	return text;
}

/* Which weekdays a line keeps to, whatever its first day is: "Monday, Thursday". */
static const char *fixed_weekdays(struct build *build, const struct item *item)
{
	const char *list = NULL;
	for (int64_t i = 0; i < DAYS_IN_WEEK; i++) {
		if (!(item->weekdays >> (MONDAY + i) & 1U))
			continue;
		const char *name = weekday_name(build, i, DATE_WEEKDAY);
		list = list == NULL ? name : say2(build->speaker, "list.comma", "first", list, "last", name);
	}
	return list;
}

static void fill_look_up(struct build *build, const struct item_run *run, struct waiting_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	struct look_days days = {.arena = build->arena};
	add_dose_days(run, &days);
	add_days_beyond(build, run, &days);
	add_visit_days(build, run, &days);
	bool goes_on = waiting_goes_beyond(run) && days.list[days.n - 1].day == run->doses[run->n_doses - 1].day;
	if (days.n < 2 && last_is_counted(run))
		return; /* day 1 alone is what was written down above */
	sheet->look_heading = say0(speaker, "waiting.look");
	sheet->numbers_word = say0(speaker, "grid.day");
	if (run->item->weekdays != 0) {
		sheet->look_text = say1(speaker, "waiting.look_weekdays", "weekdays", fixed_weekdays(build, run->item));
	} else {
		fill_columns(build, run, &days, sheet);
		sheet->look_text = say0(speaker, "waiting.look_text");
		if (sheet->n_weeks > 1)
			sheet->look_text = add_sentence(build, sheet->look_text, say0(speaker, "waiting.look_weeks"));
		if (goes_on)
			sheet->look_text = add_sentence(build, sheet->look_text,
			                                say1(speaker, "waiting.look_ask", "day",
			                                     number_words(build, run->doses[run->n_doses - 1].day)));
	}
	if (sheet->n_weeks == WEEKS_MOST)
		sheet->look_text = add_sentence(build, sheet->look_text, say0(speaker, "waiting.look_on"));
	sheet->look_text = add_visits(build, run, sheet->look_text);
	sheet->look_text = add_sentence(build, sheet->look_text, end_words(build, run));
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
