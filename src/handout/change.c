/*
 * change.c - the notice that lies on top of a new version: what changes, from which day, and why.
 *
 * Every row comes from the differences that the record found; the program adds
 * no reason of its own. A new version replaces every page, so there is one rule
 * for the old ones: tear them up.
 */
#include "handout/build.h"

#include <string.h>

struct change_rows {
	struct change_row *rows;
	size_t n;
};

static const struct differences *differences(const struct build *build)
{
	return &build->record->replaced.differences;
}

static void add_row(struct build *build, struct change_rows *rows, struct change_row row)
{
	rows->rows = arena_more(build->arena, rows->rows, rows->n, sizeof *rows->rows);
	rows->rows[rows->n++] = row;
}

/* ---- one dose, before and now ---- */

static const char *amount_of(struct build *build, const struct dose *dose)
{
	if (dose == NULL)
		return say0(build->speaker, "notice.nothing");
	if (dose->amount == DOSE_BY_CALL)
		return say0(build->speaker, "notice.by_call");
	return say_amount(build->speaker, dose->ordered);
}

static struct mark_words mark_of(struct build *build, const struct dose *dose)
{
	struct mark_words none = {.number = NULL};
	return dose == NULL || dose->n_draws != 1 ? none : say_mark(build->speaker, &dose->draws[0]);
}

static const char *time_of(struct build *build, const struct dose *dose, bool dated)
{
	struct speaker *speaker = build->speaker;
	if (!dose->has_time)
		return untimed_words(speaker, dose);
	if (!dated)
		return say1(speaker, "notice.at", "time", say_time(speaker, dose->time));
	return say2(speaker, "moment", "date", say_date(speaker, dose->clock_date, DATE_SHORT), "time",
	            say_time(speaker, dose->time));
}

/* The line goes on to its last day from here: no need to name the days. */
static bool to_the_end(const struct build *build, const struct difference *difference)
{
	const struct dose *shown = difference->now != NULL ? difference->now : difference->before;
	const struct course *course = difference->now != NULL ? build->course : NULL;
	if (course == NULL || date_compare(difference->from, differences(build)->from) != 0)
		return false;
	for (size_t i = 0; i < course->n_doses; i++)
		if (course->doses[i].item == shown->item && !course->doses[i].open &&
		    date_compare(course->doses[i].date, difference->to) > 0)
			return false;
	return true;
}

static const char *days_of(struct build *build, const struct difference *difference)
{
	struct speaker *speaker = build->speaker;
	const char *from = say_date(speaker, difference->from, DATE_SHORT);
	if (date_compare(difference->from, difference->to) == 0)
		return say1(speaker, "notice.one_day", "date", from);
	return say2(speaker, "notice.days", "from", from, "to", say_date(speaker, difference->to, DATE_SHORT));
}

static const char *detail_of(struct build *build, const struct difference *difference, bool stops)
{
	const struct dose *shown = difference->now != NULL ? difference->now : difference->before;
	const char *time = dose_time(build, build->speaker, shown);
	if (stops || to_the_end(build, difference))
		return time;
	return arena_printf(build->arena, "%s\n%s", time, days_of(build, difference));
}

static enum pictogram picture_of_dose(const struct dose *dose)
{
	if (dose->n_draws > 0)
		return picture_of_product(dose->draws[0].product);
	const struct medicine *medicine = dose->item->medicine;
	return medicine->n_products > 0 ? picture_of_product(&medicine->products[0]) : PICTURE_NONE;
}

/* Nothing of the line is left from the first day without it on: its box can go. */
static bool line_stops(const struct build *build, const struct difference *difference)
{
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (strcmp(dose->item->id, difference->item->id) == 0 &&
		    (dose->open || date_compare(dose->date, difference->from) >= 0))
			return false;
	}
	return true;
}

static void word_now(struct build *build, const struct difference *difference, bool stops, struct change_row *row)
{
	struct speaker *speaker = build->speaker;
	const struct dose *now = difference->now;
	bool other_day = now != NULL && difference->before != NULL &&
	                 date_compare(now->clock_date, difference->before->clock_date) != 0;
	switch (difference->kind) {
	case DIFFERENCE_TIME:
		row->form = CHANGE_FORM_WORDS;
		row->before = time_of(build, difference->before, other_day);
		row->now = time_of(build, now, other_day);
		row->sub = say1(speaker, "notice.as_before", "amount", amount_of(build, now));
		return;
	case DIFFERENCE_GONE:
		row->form = CHANGE_FORM_STOP;
		row->now = say0(speaker, stops ? "notice.stop" : "notice.no_dose");
		row->sub = stops ? say0(speaker, "notice.put_away") : NULL;
		return;
	case DIFFERENCE_LINE:
		row->sub = say0(speaker, "notice.other_line");
		break;
	case DIFFERENCE_AMOUNT:
	case DIFFERENCE_NEW:
		break;
	}
	row->form = CHANGE_FORM_AMOUNT;
	row->now = amount_of(build, now);
	row->mark = mark_of(build, now);
	if (now->amount == DOSE_BY_CALL)
		row->sub = say0(speaker, "notice.by_call_sub");
}

static struct change_row row_of(struct build *build, const struct difference *difference)
{
	const struct dose *shown = difference->now != NULL ? difference->now : difference->before;
	bool stops = difference->kind == DIFFERENCE_GONE && line_stops(build, difference);
	struct change_row row = {.pictogram = picture_of_dose(shown),
	                         .name = difference->item->medicine->name,
	                         .detail = detail_of(build, difference, stops),
	                         .before = amount_of(build, difference->before)};
	word_now(build, difference, stops, &row);
	return row;
}

/* ---- a dose that moved to another day ---- */

/* The only dose of its line that is gone and the only one that is new: the same dose, on another day. */
static bool moved(const struct build *build, size_t gone, size_t new)
{
	const struct difference *a = &differences(build)->list[gone];
	const struct difference *b = &differences(build)->list[new];
	if (a->kind != DIFFERENCE_GONE || b->kind != DIFFERENCE_NEW || strcmp(a->item->id, b->item->id) != 0 ||
	    !a->before->exact || !b->now->exact || date_compare(a->from, a->to) != 0 ||
	    date_compare(b->from, b->to) != 0 || a->before->amount == DOSE_BY_CALL || b->now->amount == DOSE_BY_CALL)
		return false;
	return quantity_same(a->before->ordered, b->now->ordered);
}

static size_t partner_of(const struct build *build, size_t index)
{
	for (size_t i = 0; i < differences(build)->n; i++)
		if (i != index && (moved(build, index, i) || moved(build, i, index)))
			return i;
	return index;
}

static void add_doses(struct build *build, struct change_rows *rows)
{
	for (size_t i = 0; i < differences(build)->n; i++) {
		const struct difference *difference = &differences(build)->list[i];
		size_t partner = partner_of(build, i);
		if (partner == i) {
			add_row(build, rows, row_of(build, difference));
		} else if (i < partner) {
			const struct difference *other = &differences(build)->list[partner];
			struct difference joined = difference->now != NULL ? *difference : *other;
			joined.kind = DIFFERENCE_TIME;
			joined.before = difference->before != NULL ? difference->before : other->before;
			struct change_row row = row_of(build, &joined);
			row.detail = dose_time(build, build->speaker, joined.now);
			add_row(build, rows, row);
		}
	}
}

/* ---- visits ---- */

static const char *visit_time(struct build *build, const struct dated_visit *visit)
{
	struct speaker *speaker = build->speaker;
	const char *date = say_date(speaker, visit->date, DATE_SHORT);
	return visit->has_time ? say2(speaker, "moment", "date", date, "time", say_time(speaker, visit->time)) : date;
}

static const char *visit_words(struct build *build, const struct dated_visit *visit)
{
	if (visit->visit != NULL && visit->visit->label.n > 0)
		return say_text(build->speaker, visit->visit->label, "the visit's label");
	if (visit->visit == NULL && visit->event != NULL)
		return say_text(build->speaker, visit->event->label, "the event's label");
	return NULL;
}

static void add_visits(struct build *build, struct change_rows *rows)
{
	struct speaker *speaker = build->speaker;
	for (size_t i = 0; i < differences(build)->n_visits; i++) {
		const struct visit_difference *difference = &differences(build)->visits[i];
		const struct dated_visit *now = difference->now;
		struct change_row row = {.pictogram = PICTURE_HOUSE,
		                         .name = say0(speaker, "visit.word"),
		                         .detail = visit_words(build, now != NULL ? now : difference->before),
		                         .form = now == NULL ? CHANGE_FORM_STOP : CHANGE_FORM_WORDS};
		row.before = difference->before == NULL ? say0(speaker, "notice.nothing")
		                                        : visit_time(build, difference->before);
		row.now = now == NULL ? say0(speaker, "notice.no_visit") : visit_time(build, now);
		if (now != NULL && now->has_procedure)
			row.sub = say1(speaker, "notice.procedure", "time", say_time(speaker, now->procedure));
		add_row(build, rows, row);
	}
}

/* ---- from which day, and why ---- */

static void fill_start(struct build *build, struct change_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	if (!differences(build)->has_from) {
		sheet->starts = say0(speaker, "notice.same");
		return;
	}
	struct civil_date from = differences(build)->from;
	const char *date = say_date(speaker, from, DATE_LONG);
	int day = build->course->has_days ? course_day(build, from) : 0;
	sheet->starts_word = say0(speaker, "notice.starts");
	sheet->starts = day < 1 ? date
	                        : say2(speaker, "notice.starts_on", "date", date, "day",
	                               say_number(speaker, rational_of(day, 1)));
	sheet->until_line = say0(speaker, "notice.until");
}

static const char *with(struct build *build, const char *all, const char *one)
{
	if (all == NULL)
		return one;
	return strstr(all, one) != NULL ? all : arena_printf(build->arena, "%s\n%s", all, one);
}

/* The clinic's words on the new version; where it gives none, those on each change. */
static void fill_why(struct build *build, struct change_sheet *sheet)
{
	const struct plan *plan = build->plan;
	const char *why = NULL;
	bool of_version = plan->replaces.because.n > 0;
	if (of_version)
		why = say_text(build->speaker, plan->replaces.because, "the reason of the version");
	for (size_t i = 0; !of_version && i < plan->n_changes; i++) {
		const struct change *change = &plan->changes[i];
		if (change->because.n == 0 || date_compare(change->from.date, plan->as_of.date) < 0)
			continue;
		why = with(build, why, say_text(build->speaker, change->because, "the reason of a change"));
	}
	sheet->why = why;
	if (why != NULL)
		sheet->why_heading = say0(build->speaker, "notice.why");
}

/* ---- what stays ---- */

static bool item_differs(const struct build *build, const struct item *item)
{
	for (size_t i = 0; i < differences(build)->n; i++)
		if (strcmp(differences(build)->list[i].item->medicine->id, item->medicine->id) == 0)
			return true;
	return false;
}

static void fill_rest(struct build *build, struct change_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	const struct course *course = build->course;
	const char **names = arena_alloc(build->arena, (course->n_runs + 1) * sizeof *names);
	size_t n = 0;
	for (size_t i = 0; i < course->n_runs; i++) {
		const char *name = course->runs[i].item->medicine->name;
		bool known = item_differs(build, course->runs[i].item);
		for (size_t j = 0; j < n; j++)
			known = known || strcmp(names[j], name) == 0;
		if (!known)
			names[n++] = name;
	}
	if (n == 0)
		return;
	const char *list = names[0];
	for (size_t i = 1; i < n; i++)
		list = say2(speaker, i + 1 == n ? "list.and" : "list.comma", "first", list, "last", names[i]);
	sheet->nothing_else = say1(speaker, n == 1 ? "notice.nothing_else_one" : "notice.nothing_else", "names", list);
}

static void fill_heads(struct build *build, struct change_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	bool one_day = differences(build)->n > 0 && differences(build)->n_visits == 0;
	for (size_t i = 0; i < differences(build)->n; i++)
		one_day = one_day && date_compare(differences(build)->list[i].from, differences(build)->from) == 0;
	sheet->heading = say0(speaker, "notice.heading");
	sheet->before_head = say0(speaker, "notice.before_head");
	sheet->now_head = say0(speaker, "notice.now_head");
	if (!one_day)
		return;
	struct civil_date from = differences(build)->from;
	sheet->before_head = say1(speaker, "notice.before", "date", say_date(speaker, date_plus(from, -1), DATE_LONG));
	sheet->now_head = say1(speaker, "notice.now", "date", say_date(speaker, from, DATE_LONG));
}

const struct change_sheet *change_sheet_of(struct build *build)
{
	struct speaker *speaker = build->speaker;
	struct change_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	struct change_rows rows = {0};
	const char *before = say_number(speaker, rational_of(build->record->replaced.version, 1));
	sheet->title = say0(speaker, "notice.title");
	sheet->lead = say2(speaker, "notice.lead", "version", say_number(speaker, rational_of(build->plan->version, 1)),
	                   "before", before);
	fill_start(build, sheet);
	fill_why(build, sheet);
	fill_heads(build, sheet);
	add_doses(build, &rows);
	add_visits(build, &rows);
	sheet->rows = rows.rows;
	sheet->n_rows = rows.n;
	fill_rest(build, sheet);
	sheet->old_heading = say0(speaker, "notice.old");
	sheet->old_note = say1(speaker, "notice.old_note", "before", before);
	sheet->tear = say1(speaker, "notice.tear", "before", before);
	sheet->notes_heading = say0(speaker, "notes.title");
	sheet->notes_note = say0(speaker, "notice.notes");
	sheet->ticks[0] = say0(speaker, "notice.tick_read");
	sheet->ticks[1] = say0(speaker, "notice.tick_torn");
	sheet->ticks[2] = say0(speaker, "notice.tick_new");
	return sheet;
}
