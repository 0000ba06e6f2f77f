/*
 * overview.c - the first page: whom to call, what there is, what comes next.
 */
#include "handout/build.h"

#include <string.h>

#define MOMENTS_MOST 4

static const char *lead_of(struct build *build)
{
	const char *name = build->plan->patient.name.text == NULL ? "" : build->plan->patient.name.text;
	if (!build->course->has_days)
		return say1(build->speaker, "overview.lead_undated", "name", name);
	struct value values[] = {{"name", name},
	                         {"from", say_date(build->speaker, build->course->first, DATE_SHORT)},
	                         {"to", say_date(build->speaker, build->course->last, DATE_SHORT_YEAR)}};
	return say(build->speaker, "overview.lead", values, 3);
}

static void fill_phones(struct build *build, struct overview *overview)
{
	const struct clinic *clinic = build->clinic;
	struct phone_card *cards = arena_alloc(build->arena, clinic->n_phones * sizeof *cards);
	for (size_t i = 0; i < clinic->n_phones; i++) {
		const struct phone *phone = &clinic->phones[i];
		cards[i] = (struct phone_card){
			.pictogram = strcmp(phone->id, "night") == 0 ? PICTURE_MOON
		                     : strcmp(phone->id, "day") == 0 ? PICTURE_SUN
		                                                     : PICTURE_PHONE,
			.label = say_text(build->speaker, phone->label, "the telephone's label"),
			.number = phone->number,
		};
		const char *dash = phone->hours == NULL ? NULL : strchr(phone->hours, '-');
		if (dash != NULL)
			cards[i].hours = say2(build->speaker, "overview.hours", "from",
			                      arena_strndup(build->arena, phone->hours, (size_t)(dash - phone->hours)),
			                      "to", dash + 1);
		else
			cards[i].hours = phone->hours;
	}
	overview->phones = cards;
	overview->n_phones = clinic->n_phones;
}

static const char *clinic_line(struct build *build)
{
	const char *address = "";
	for (size_t i = 0; i < build->clinic->n_address; i++)
		address = arena_printf(build->arena, "%s, %s", address, build->clinic->address[i]);
	return say2(build->speaker, "overview.clinic", "clinic",
	            say_text(build->speaker, build->clinic->name, "the clinic's name"), "address", address);
}

static bool has_digit(const char *text)
{
	return strpbrk(text, "0123456789") != NULL;
}

struct emergency emergency_of(struct build *build, bool first_page)
{
	struct speaker *speaker = build->speaker;
	const char *own = build->clinic->emergency.n == 0
	                          ? NULL
	                          : say_text(speaker, build->clinic->emergency, "the clinic's emergency words");
	if (own != NULL && has_digit(own))
		return (struct emergency){own, NULL};
	if (own == NULL || first_page)
		return (struct emergency){say0(speaker, "warning.emergency"), say0(speaker, "warning.call")};
	return (struct emergency){own, say0(speaker, "warning.number")};
}

/* ---- one row a medicine ---- */

static section_ref section_of_item(const struct build *build, const struct item *item)
{
	section_ref sheet = sheet_of_item(build, item);
	return sheet >= 0 ? sheet : build->grid_section;
}

/* An exact time is not one of the day's parts that medicines are taken at: late it is night, and no bedtime. */
static const char *time_word(struct build *build, const struct dose *dose)
{
	bool night = dose->exact && (dose->time.hour < 4 || dose->time.hour >= 22);
	return night ? say0(build->speaker, "slot.night") : slot_word(build, dose->time, dose->slot);
}

static void fill_times(struct build *build, const struct item_run *run, struct overview_row *row)
{
	struct overview_time *times = NULL;
	size_t n = 0;
	for (size_t i = 0; i < run->n_doses; i++) {
		const struct dose *dose = &run->doses[i];
		if (!dose->has_time || dose->as_needed)
			continue;
		const char *time = say_time(build->speaker, dose->time);
		bool known = false;
		for (size_t j = 0; j < n; j++)
			known = known || strcmp(times[j].time, time) == 0;
		if (!known) {
			times = arena_more(build->arena, times, n, sizeof *times);
			times[n++] = (struct overview_time){time_word(build, dose), time};
		}
		row->times_bold = row->times_bold || dose->exact;
	}
	row->times = times;
	row->n_times = n;
}

static bool still_ahead(const struct build *build, struct civil_date date)
{
	return !build->plan->as_of.given || date_compare(date, build->plan->as_of.date) >= 0;
}

/* A day on which patches only come off is a day with something to do, as in the grid. */
static void add_days_off(const struct build *build, const struct item_run *run, enum day_state *days, int n_days)
{
	for (int day = 0; day < n_days; day++) {
		struct civil_date date = date_plus(build->course->first, day);
		if (days[day] == DAY_NOTHING && !rational_is_zero(patches_off(build, run->item, date)))
			days[day] = still_ahead(build, date) ? DAY_OFF : DAY_DONE;
	}
}

static void fill_days(struct build *build, const struct item_run *run, struct overview_row *row, int n_days)
{
	enum day_state *days = arena_alloc(build->arena, (size_t)n_days * sizeof *days);
	for (size_t i = 0; i < run->n_doses; i++) {
		const struct dose *dose = &run->doses[i];
		if (dose->open)
			continue;
		int day = course_day(build, dose->date);
		if (day < 1 || day > n_days)
			continue;
		days[day - 1] = dose->done                     ? DAY_DONE
		                : dose->exact                  ? DAY_EXACT
		                : dose->amount == DOSE_BY_CALL ? DAY_WAIT
		                : dose->unless_sooner          ? DAY_SOONER
		                                               : DAY_TAKE;
		if (dose->exact)
			row->exact_time = dose->time;
	}
	add_days_off(build, run, days, n_days);
	row->days = days;
}

static const struct product *product_of_run(const struct item_run *run)
{
	for (size_t i = 0; i < run->n_doses; i++)
		if (run->doses[i].n_draws > 0)
			return run->doses[i].draws[0].product;
	return run->item->medicine->n_products > 0 ? &run->item->medicine->products[0] : NULL;
}

static void fill_row(struct build *build, const struct item_run *run, struct overview_row *row, int n_days)
{
	const struct medicine *medicine = run->item->medicine;
	const struct product *product = product_of_run(run);
	row->pictogram = product == NULL ? PICTURE_NONE : picture_of_product(product);
	row->name = medicine->name;
	row->purpose =
		medicine->purpose.n == 0 ? "" : say_text(build->speaker, medicine->purpose, "the medicine's purpose");
	row->section = section_of_item(build, run->item);
	row->waiting = pages_of_item(build, run->item)->waiting;
	fill_times(build, run, row);
	if (run->item->as_needed.given) {
		row->instead = say_count(build->speaker, "overview.as_needed", run->item->as_needed.most, NO_VALUES);
	} else if (run->open) {
		row->instead = say0(build->speaker, "overview.day_unknown");
		row->waits = true;
	} else {
		fill_days(build, run, row, n_days);
	}
}

static void fill_rows(struct build *build, struct overview *overview)
{
	const struct course *course = build->course;
	struct overview_row *rows = arena_alloc(build->arena, course->n_runs * sizeof *rows);
	overview->n_days = course->has_days ? course_day(build, course->last) : 0;
	for (size_t i = 0; i < course->n_runs; i++) {
		fill_row(build, &course->runs[i], &rows[i], overview->n_days);
		overview->any_wait = overview->any_wait || rows[i].waits;
		for (int day = 0; rows[i].days != NULL && day < overview->n_days; day++) {
			overview->any_wait = overview->any_wait || rows[i].days[day] == DAY_WAIT;
			overview->any_done = overview->any_done || rows[i].days[day] == DAY_DONE;
			overview->any_sooner = overview->any_sooner || rows[i].days[day] == DAY_SOONER;
			overview->any_off = overview->any_off || rows[i].days[day] == DAY_OFF;
			overview->any_exact = overview->any_exact || rows[i].days[day] == DAY_EXACT;
		}
	}
	overview->rows = rows;
	overview->n_rows = course->n_runs;
}

/* ---- what comes next ---- */

static const char *visit_words(struct build *build, const struct dated_visit *visit)
{
	if (visit->visit != NULL && visit->visit->label.n > 0)
		return say_text(build->speaker, visit->visit->label, "the visit's label");
	if (visit->event != NULL && visit->visit == NULL)
		return say_text(build->speaker, visit->event->label, "the event's label");
	return say0(build->speaker, "visit.word");
}

/* The card's time is the one to be there at: what begins later says its own. */
static const char *visit_or_arrival(struct build *build, const struct dated_visit *visit)
{
	const char *what = visit_words(build, visit);
	if (!visit->has_procedure)
		return what;
	return say2(build->speaker, "overview.arrival", "what", what, "time",
	            say_time(build->speaker, visit->procedure));
}

static struct moment_card card_of_visit(struct build *build, const struct dated_visit *visit)
{
	return (struct moment_card){.date = say_date(build->speaker, visit->date, DATE_SHORT),
	                            .time = visit->has_time ? say_time(build->speaker, visit->time) : NULL,
	                            .what = visit_or_arrival(build, visit)};
}

static struct moment_card card_of_dose(struct build *build, const struct dose *dose)
{
	const char *what = say1(build->speaker, "overview.exact_dose", "name", dose->item->medicine->name);
	const char *night = night_of(build->speaker, dose);
	return (struct moment_card){.date = say_date(build->speaker, dose->clock_date, DATE_SHORT),
	                            .time = say_time(build->speaker, dose->time),
	                            .what = night == NULL ? what : arena_printf(build->arena, "%s, %s", night, what),
	                            .exact = true,
	                            .clock = dose->time};
}

/* "Placebix: day 4": of a visit that is counted from a first dose; NULL: nothing names its day. */
static const char *open_day(struct build *build, const struct dated_visit *visit)
{
	if (visit->visit == NULL || !visit->visit->day.given)
		return NULL;
	for (size_t i = 0; i < build->course->n_runs; i++) {
		const struct item *item = build->course->runs[i].item;
		if (strcmp(item->id, visit->visit->event) != 0)
			continue;
		const char *day = say_number(build->speaker, rational_of(visit->visit->day.number, 1));
		return say2(build->speaker, "overview.open_day", "name", item->medicine->name, "days",
		            say1(build->speaker, "days.one", "days", day));
	}
	return NULL;
}

static struct moment_card card_of_open_visit(struct build *build, const struct dated_visit *visit)
{
	struct moment_card card = {.date = open_day(build, visit),
	                           .time = visit->has_time ? say_time(build->speaker, visit->time) : NULL,
	                           .what = visit_words(build, visit),
	                           .open = true};
	if (card.date == NULL)
		card.date = say0(build->speaker, "overview.day_unknown");
	else
		card.what = say1(build->speaker, "overview.open_visit", "what", card.what);
	return card;
}

static size_t count_open_visits(const struct course *course)
{
	size_t n = 0;
	for (size_t i = 0; i < course->n_visits; i++)
		n += course->visits[i].open;
	return n;
}

/* Merges visits and exact doses by their instants; both lists are sorted. One card is kept for what has no day yet. */
static void fill_moments(struct build *build, struct overview *overview)
{
	const struct course *course = build->course;
	struct moment_card *cards = arena_alloc(build->arena, MOMENTS_MOST * sizeof *cards);
	size_t n = 0;
	size_t visit = 0;
	size_t dose = 0;
	size_t most = MOMENTS_MOST - (count_open_visits(course) > 0 ? 1 : 0);
	while (n < most) {
		while (visit < course->n_visits &&
		       (course->visits[visit].open || !still_ahead(build, course->visits[visit].date)))
			visit++;
		while (dose < course->n_doses && (course->by_time[dose]->open || !course->by_time[dose]->exact ||
		                                  !still_ahead(build, course->by_time[dose]->clock_date)))
			dose++;
		bool more_visits = visit < course->n_visits;
		bool more_doses = dose < course->n_doses;
		if (!more_visits && !more_doses)
			break;
		if (more_doses && (!more_visits || course->by_time[dose]->when <= course->visits[visit].when))
			cards[n++] = card_of_dose(build, course->by_time[dose++]);
		else
			cards[n++] = card_of_visit(build, &course->visits[visit++]);
	}
	for (visit = 0; visit < course->n_visits && n < MOMENTS_MOST; visit++)
		if (course->visits[visit].open)
			cards[n++] = card_of_open_visit(build, &course->visits[visit]);
	overview->moments = cards;
	overview->n_moments = n;
}

/* The first visit on a day; NULL: none. */
static const struct dated_visit *visit_on(const struct course *course, struct civil_date date)
{
	for (size_t i = 0; i < course->n_visits; i++)
		if (!course->visits[i].open && date_compare(course->visits[i].date, date) == 0)
			return &course->visits[i];
	return NULL;
}

/* After the visit; where there is none, after the day. Of the day of a visit without a time nothing can be told. */
static bool after_good_until(const struct course *course, const struct dated_visit *visit, const struct dose *dose)
{
	return visit == NULL ? date_compare(dose->clock_date, course->good_until) > 0 : dose->when > visit->when;
}

const char *call_by(struct build *build)
{
	const struct course *course = build->course;
	struct speaker *speaker = build->speaker;
	if (!course->has_good_until)
		return NULL;
	const struct dated_visit *visit = visit_on(course, course->good_until);
	if (visit != NULL && !visit->has_time)
		return NULL;
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = course->by_time[i];
		if (dose->open || dose->as_needed || !dose->has_time || !after_good_until(course, visit, dose))
			continue;
		const char *time = say_time(speaker, dose->time);
		if (visit != NULL && date_compare(dose->clock_date, visit->date) == 0)
			return time;
		return say2(speaker, "moment", "date", say_date(speaker, dose->clock_date, DATE_SHORT), "time", time);
	}
	return NULL;
}

bool course_is_over(const struct course *course)
{
	return !course->has_good_until && all_end(course);
}

/* What is known after it, what is not, and what to do where nobody calls. */
static const char *good_then(struct build *build)
{
	const struct course *course = build->course;
	struct speaker *speaker = build->speaker;
	const char *by = call_by(build);
	if (by != NULL)
		return say1(speaker, "overview.good_change", "when", by);
	bool over = course_is_over(course);
	bool undated = !course->has_good_until && !course->has_days;
	return say0(speaker, over      ? "overview.good_then_over"
	                     : undated ? "overview.good_then_undated"
	                               : "overview.good_then");
}

static void fill_good_until(struct build *build, struct overview *overview)
{
	const struct course *course = build->course;
	struct speaker *speaker = build->speaker;
	if (course->has_good_until)
		overview->good_until = say1(speaker,
		                            visit_on(course, course->good_until) != NULL ? "overview.good_until_visit"
		                                                                         : "overview.good_until_day",
		                            "date", say_date(speaker, course->good_until, DATE_SHORT));
	else if (course->has_days)
		overview->good_until = say2(speaker, "overview.good_until_last", "day",
		                            say_number(speaker, rational_of(course_day(build, course->last), 1)),
		                            "date", say_date(speaker, course->last, DATE_SHORT));
	else
		overview->good_until = say0(speaker, "overview.good_until_call");
	overview->good_then = good_then(build);
	const struct replaced_sheet *replaced = &build->record->replaced;
	if (replaced->given)
		overview->good_then =
			say2(speaker, "overview.tear_up", "version",
		             say_number(speaker, rational_of(replaced->version, 1)), "then", overview->good_then);

	struct civil_date on;
	overview->seal_line_1 = say0(speaker, "overview.seal_what");
	if (build->record->is_signed && build->record->signed_on != NULL && date_read(build->record->signed_on, &on))
		overview->seal_line_2 = say1(speaker, "overview.seal_signed", "date", say_date(speaker, on, DATE_BORN));
	else
		overview->seal_line_2 = say0(speaker, "overview.seal_draft");
}

/* What to do each day, then the one time that matters to the minute. */
static void fill_main(struct build *build, struct overview *overview)
{
	struct speaker *speaker = build->speaker;
	overview->grid = build->grid_section;
	overview->main_line = build->grid_section < 0 ? say0(speaker, "overview.main_alone")
	                                              : say1(speaker, "overview.main", "page", PAGE_HERE);
	overview->unsure = say0(speaker, "overview.question");
	for (size_t i = 0; i < build->course->n_doses && overview->exact_line == NULL; i++) {
		const struct dose *dose = build->course->by_time[i];
		if (!dose->exact || dose->open || dose->done)
			continue;
		const char *night = night_of(speaker, dose);
		const char *day = night != NULL ? night : say_date(speaker, dose->clock_date, DATE_SHORT);
		const char *when = say2(speaker, "list.comma", "first", day, "last", say_time(speaker, dose->time));
		overview->exact_line = say1(speaker, "overview.main_exact", "when", when);
	}
}

const struct overview *overview_of(struct build *build)
{
	struct overview *overview = arena_alloc(build->arena, sizeof *overview);
	struct speaker *speaker = build->speaker;
	overview->lead = lead_of(build);
	fill_phones(build, overview);
	overview->clinic_line = clinic_line(build);
	overview->warning_word = say0(speaker, "warning.word");
	overview->emergency = emergency_of(build, true);
	fill_main(build, overview);
	overview->heading = say0(speaker, "overview.heading");
	overview->medicine_word = say0(speaker, "overview.medicine");
	overview->time_word = say0(speaker, "overview.time");
	overview->day_word = say0(speaker, "overview.day");
	fill_rows(build, overview);
	overview->legend_take = say0(speaker, "overview.legend_take");
	overview->legend_done = say0(speaker, "overview.legend_done");
	overview->legend_sooner = say0(speaker, "overview.legend_sooner");
	overview->legend_wait = say0(speaker, "overview.legend_wait");
	overview->legend_off = say0(speaker, "how.take_off");
	overview->legend_exact = say0(speaker, "overview.legend_exact");
	overview->moments_heading = say0(speaker, "overview.moments");
	fill_moments(build, overview);
	fill_good_until(build, overview);
	return overview;
}
