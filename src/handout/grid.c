/*
 * grid.c - the day-by-day grid: one row a day, one column a medicine and time.
 *
 * An item gets as many columns as it has doses on its fullest day; the k-th
 * dose of a day stands in its k-th column. Exact-time doses are bands, doses
 * without a date are frames below the grid, and both stay out of the columns.
 */
#include "handout/build.h"

#include <stdlib.h>
#include <string.h>

#define MARKS_MOST 2 /* that a cell holds */

/* A column before the sort: which item, and its k-th dose of a day. */
struct draft_column {
	const struct item_run *run;
	int kth;
	bool has_time;
	struct clock_time time; /* of the first dose in it */
	const struct slot *slot;
	const struct dose *first;
	size_t order; /* keeps the protocol's order among equals */
};

static bool in_columns(const struct dose *dose)
{
	return !dose->open && !dose->exact && !dose->as_needed;
}

/* Which of its item's doses of that day a dose is: 0 for the first. */
static int kth_of_day(const struct item_run *run, const struct dose *dose)
{
	int kth = 0;
	for (const struct dose *other = dose; other > run->doses; other--)
		if (in_columns(other - 1) && date_compare(other[-1].date, dose->date) == 0)
			kth++;
		else
			break;
	return kth;
}

static int compare_columns(const void *left, const void *right)
{
	const struct draft_column *a = left;
	const struct draft_column *b = right;
	int by_time = clock_minutes(a->time) - clock_minutes(b->time);
	if (by_time != 0)
		return by_time;
	return a->order < b->order ? -1 : 1;
}

struct draft {
	struct draft_column *columns;
	size_t n;
};

static struct draft draft_columns(struct build *build)
{
	struct draft draft = {0};
	for (size_t i = 0; i < build->course->n_runs; i++) {
		const struct item_run *run = &build->course->runs[i];
		int n_columns = 0;
		for (size_t j = 0; j < run->n_doses; j++) {
			const struct dose *dose = &run->doses[j];
			int kth = in_columns(dose) ? kth_of_day(run, dose) : -1;
			if (kth < n_columns)
				continue;
			draft.columns = arena_more(build->arena, draft.columns, draft.n, sizeof *draft.columns);
			draft.columns[draft.n] =
				(struct draft_column){run, kth, dose->has_time, dose->time, dose->slot, dose, draft.n};
			draft.n++;
			n_columns++;
		}
	}
	if (draft.n > 1)
		qsort(draft.columns, draft.n, sizeof *draft.columns, compare_columns);
	return draft;
}

/* ---- column heads ---- */

static bool column_has(const struct draft_column *column, bool (*test)(const struct dose *))
{
	for (size_t i = 0; i < column->run->n_doses; i++) {
		const struct dose *dose = &column->run->doses[i];
		if (in_columns(dose) && kth_of_day(column->run, dose) == column->kth && test(dose))
			return true;
	}
	return false;
}

/* What is pushed out only prepares: what is left, all of it, is the dose. */
static bool pushes_out(const struct dose *dose)
{
	return dose->n_draws > 0 && dose->draws[0].measure == MEASURE_SYRINGE && !dose->draws[0].mark.all &&
	       dose->draws[0].mark.line == LINE_PUSH_OUT;
}

static bool is_half(const struct dose *dose)
{
	return dose->half != HALF_NONE || pushes_out(dose);
}

static bool is_by_call(const struct dose *dose)
{
	return dose->amount == DOSE_BY_CALL;
}

/* How the line's medicine is measured: by its first amount that is known, else by one that a call may set. */
static const struct draw *measured_draw(const struct item_run *run)
{
	for (size_t i = 0; i < run->n_doses; i++)
		if (run->doses[i].n_draws > 0)
			return &run->doses[i].draws[0];
	for (size_t i = 0; i < run->n_doses; i++)
		if (run->doses[i].n_options > 0 && run->doses[i].options[0].n_draws > 0)
			return &run->doses[i].options[0].draws[0];
	return NULL;
}

/* The sheet of that draw is its dose's: only of a told one is there nothing but the draw. */
static const struct variant *measured_variant(const struct build *build, const struct item_run *run,
                                              const struct draw *draw)
{
	for (size_t i = 0; i < run->n_doses; i++)
		if (run->doses[i].n_draws > 0)
			return variant_of(build, &run->doses[i], 0);
	return variant_of_draw(build, run->item, draw);
}

/* Some amounts of the column are known and others are set by a call: the sheets of the known ones, then the others. */
static void name_known_and_called(struct build *build, const struct item_run *run, section_ref options,
                                  struct grid_column *column)
{
	section_ref *sections = NULL;
	size_t n = 0;
	for (size_t i = 0; i < run->n_doses; i++) {
		const struct dose *dose = &run->doses[i];
		const struct variant *variant = dose->n_draws == 0 ? NULL : variant_of(build, dose, 0);
		if (is_by_call(dose) || variant == NULL || variant->sheet < 0)
			continue;
		bool named = false;
		for (size_t j = 0; j < n; j++)
			named = named || sections[j] == variant->sheet;
		if (named)
			continue;
		sections = arena_more(build->arena, sections, n, sizeof *sections);
		sections[n++] = variant->sheet;
	}
	column->section = options;
	if (n == 0)
		return;
	sections = arena_more(build->arena, sections, n, sizeof *sections);
	sections[n++] = options;
	column->instead = sections;
	column->n_instead = n;
}

static struct grid_column column_of(struct build *build, const struct draft_column *draft)
{
	const struct item *item = draft->run->item;
	const struct draw *draw = measured_draw(draft->run);
	section_ref options = pages_of_item(build, item)->options;
	struct grid_column column = {.item = item,
	                             .name = item->medicine->name,
	                             .section = -1,
	                             .waiting = pages_of_item(build, item)->waiting,
	                             .muscle = item->medicine->route == ROUTE_INTRAMUSCULAR,
	                             .has_halves = column_has(draft, is_half),
	                             .waits = column_has(draft, is_by_call)};
	if (draw != NULL) {
		const struct variant *variant = measured_variant(build, draft->run, draw);
		column.pictogram = picture_of_product(draw->product);
		column.device = device_words(build, draw, item);
		column.section = variant == NULL       ? -1
		                 : variant->sheet >= 0 ? variant->sheet
		                                       : sheet_of_item(build, item);
	}
	if (column.waits && options >= 0)
		name_known_and_called(build, draft->run, options, &column);
	return column;
}

static void fill_columns(struct build *build, struct grid *grid, const struct draft *draft)
{
	struct grid_column *columns = arena_alloc(build->arena, draft->n * sizeof *columns);
	for (size_t i = 0; i < draft->n; i++)
		columns[i] = column_of(build, &draft->columns[i]);
	grid->columns = columns;
	grid->n_columns = draft->n;
}

static bool same_time(const struct draft_column *a, const struct draft_column *b)
{
	return clock_compare(a->time, b->time) == 0 && a->slot == b->slot;
}

static void fill_groups(struct build *build, struct grid *grid, const struct draft *draft)
{
	struct grid_group *groups = arena_alloc(build->arena, draft->n * sizeof *groups);
	size_t n = 0;
	for (size_t i = 0; i < draft->n; i++) {
		const struct draft_column *column = &draft->columns[i];
		if (i > 0 && same_time(column, column - 1)) {
			groups[n - 1].n_columns++;
			continue;
		}
		groups[n] = (struct grid_group){.sign = picture_of_time(column->time, column->slot),
		                                .time = column->has_time ? say_time(build->speaker, column->time)
		                                                         : say0(build->speaker, "time.any"),
		                                .morning = column->time.hour < 12,
		                                .first_column = i,
		                                .n_columns = 1};
		if (column->has_time)
			groups[n].word = slot_word(build, column->time, column->slot);
		n++;
	}
	grid->groups = groups;
	grid->n_groups = n;
}

/* ---- cells ---- */

static const char *half_words(struct build *build, const struct dose *dose)
{
	switch (dose->half) {
	case HALF_FIRST:
		return say0(build->speaker, "grid.first_half");
	case HALF_SECOND:
		return say0(build->speaker, "grid.second_half");
	case HALF_NONE:
		break;
	}
	return pushes_out(dose) ? say0(build->speaker, "grid.then_all") : NULL;
}

/* The second day has steps of its own, before those of the sheet. */
static section_ref how_of_half(const struct build *build, const struct dose *dose)
{
	const struct variant *variant =
		dose->half == HALF_SECOND && dose->n_draws > 0 ? variant_of(build, dose, 0) : NULL;
	return variant == NULL ? -1 : variant->split_section;
}

/* Where the new amount is shown: the day begins there. */
static section_ref sheet_of_new(const struct build *build, const struct dose *dose)
{
	const struct variant *variant = dose->n_draws == 0 ? NULL : variant_of(build, dose, 0);
	return variant == NULL ? -1 : variant->section;
}

static const struct dose *partner_of(const struct item_run *run, const struct dose *dose)
{
	for (size_t i = 0; i < run->n_doses; i++)
		if (&run->doses[i] > dose && run->doses[i].split_group == dose->split_group)
			return &run->doses[i];
	return NULL;
}

/* What an amount said on the telephone is counted in: as the amounts it may become, or as its limits are. */
const char *unit_to_write(struct build *build, const struct dose *dose)
{
	const struct stated_quantity *most = &dose->item->medicine->limits.most;
	bool listed = dose->step != NULL && dose->step->n_may_become > 0;
	if (!listed && !most->given)
		return NULL;
	enum unit unit = listed ? dose->step->may_become[0].quantity.unit : most->quantity.unit;
	if (unit == UNIT_UNITS)
		return say0(build->speaker, "unit.units");
	if (unit == UNIT_SYRINGE_UNIT)
		return say0(build->speaker, "unit.syringe_units");
	if (unit_dimension(unit) == DIMENSION_COUNT)
		return say0(build->speaker, arena_printf(build->arena, "unit.%s", unit_name(unit, true)));
	return unit_name(unit, false);
}

/* The first day on which a dose differs from the sheet that this one replaces. */
static bool differs_from_before(const struct build *build, const struct dose *dose)
{
	const struct differences *differences = &build->record->replaced.differences;
	for (size_t i = 0; i < differences->n; i++)
		if (differences->list[i].now == dose && differences->list[i].kind != DIFFERENCE_TIME)
			return true;
	return false;
}

/* What is done with what is counted out: "swallow"; for patches, where others come off first, "change". */
static const char *how_words(struct build *build, const struct dose *dose)
{
	if (!dose->open && !rational_is_zero(patches_off(build, dose->item, dose->date)))
		return say0(build->speaker, "how.change");
	return say0(build->speaker, arena_printf(build->arena, "how.%s", route_name(dose->item->medicine->route)));
}

/* A day on which patches only come off is a day with something to do. */
static struct grid_cell off_cell(struct build *build, const struct draft_column *column, struct civil_date date)
{
	struct rational off = patches_off(build, column->run->item, date);
	bool first = column->kth == 0;
	if (!first || rational_is_zero(off))
		return (struct grid_cell){.state = CELL_EMPTY};
	return (struct grid_cell){
		.state = CELL_DOSE,
		.amount = say_amount(build->speaker, (struct quantity){off, UNIT_PATCH}),
		.below = say0(build->speaker, "how.take_off"),
		.how = -1,
		.shown_by = -1,
		.slot = picture_of_time(column->time, column->slot),
		.done = build->plan->as_of.given && date_compare(date, build->plan->as_of.date) < 0,
	};
}

/* "×3 vials": how many are emptied for a tag that says "all"; NULL where it is one, or what is left of one. */
static const char *containers_words(struct build *build, const struct draw *draw)
{
	static const char *const keys[] = {[CONTAINER_POWDER_VIAL] = "grid.containers.vial",
	                                   [CONTAINER_SOLUTION_VIAL] = "grid.containers.vial",
	                                   [CONTAINER_AMPOULE] = "grid.containers.ampoule",
	                                   [CONTAINER_PREFILLED_SYRINGE] = "grid.containers.syringe",
	                                   [CONTAINER_PEN] = NULL,
	                                   [CONTAINER_COUNTED] = NULL};
	const char *key = keys[draw->product->container];
	if (key == NULL || draw->measure != MEASURE_SYRINGE || !draw->mark.all || draw->n_containers < 2)
		return NULL;
	for (size_t i = 0; i < draw->n_containers; i++)
		if (!draw->containers[i].opens)
			return NULL;
	return say_count(build->speaker, key, (int64_t)draw->n_containers, NO_VALUES);
}

/* Where to stop, or up to where to push out, is not how much goes in. */
static const char *goes_in_words(struct build *build, const struct draw *draw)
{
	if (draw->measure != MEASURE_SYRINGE || draw->mark.all ||
	    (draw->mark.line != LINE_STOP && draw->mark.line != LINE_PUSH_OUT))
		return NULL;
	return say1(build->speaker, "grid.goes_in", "amount", part_goes_in(build, draw));
}

static struct grid_cell cell_of(struct build *build, const struct draft_column *column, const struct dose *dose)
{
	struct grid_cell cell = {.state = CELL_DOSE,
	                         .dose = dose,
	                         .half = half_words(build, dose),
	                         .how = how_of_half(build, dose),
	                         .slot = picture_of_time(dose->time, dose->slot),
	                         .new_amount = dose->new_amount || differs_from_before(build, dose),
	                         .shown_by = sheet_of_new(build, dose),
	                         .done = dose->done,
	                         .unless_sooner = dose->unless_sooner};
	if (dose->has_time && clock_compare(dose->time, column->time) != 0)
		cell.own_time = say1(build->speaker, "grid.own_time", "time", say_time(build->speaker, dose->time));
	if (dose->amount == DOSE_BY_CALL) {
		cell.state = CELL_WRITE_IN;
		cell.new_amount = false; /* what is written in may be the old one */
		cell.unit = unit_to_write(build, dose);
		return cell;
	}
	cell.amount = say_amount(build->speaker, dose->ordered);
	if (dose->n_draws > MARKS_MOST) {
		/* Two of three tags would be too little: the sheet shows them all. */
		cell.below = say_count(build->speaker, "grid.several", (int64_t)dose->n_draws, NO_VALUES);
		return cell;
	}
	if (dose->n_draws > 0) {
		cell.mark = say_mark(build->speaker, &dose->draws[0]);
		cell.beside = containers_words(build, &dose->draws[0]);
	}
	if (dose->n_draws == 1)
		cell.goes_in = goes_in_words(build, &dose->draws[0]);
	if (dose->n_draws > 1) {
		cell.second_mark = say_mark(build->speaker, &dose->draws[1]);
		cell.second_beside = containers_words(build, &dose->draws[1]);
	}
	if (cell.mark.number == NULL)
		cell.below = how_words(build, dose);
	const struct dose *partner = dose->half == HALF_FIRST ? partner_of(column->run, dose) : NULL;
	if (partner != NULL && kth_of_day(column->run, partner) == column->kth) {
		cell.joins_next = true;
		cell.join_rows = (int)date_difference(partner->date, dose->date);
	}
	return cell;
}

static void fill_cells(struct build *build, const struct draft *draft, struct civil_date date, struct grid_row *row)
{
	struct grid_cell *cells = arena_alloc(build->arena, draft->n * sizeof *cells);
	bool any = false;
	for (size_t i = 0; i < draft->n; i++) {
		const struct draft_column *column = &draft->columns[i];
		for (size_t j = 0; j < column->run->n_doses; j++) {
			const struct dose *dose = &column->run->doses[j];
			if (!in_columns(dose) || date_compare(dose->date, date) != 0 ||
			    kth_of_day(column->run, dose) != column->kth)
				continue;
			cells[i] = cell_of(build, column, dose);
		}
		if (cells[i].state == CELL_EMPTY)
			cells[i] = off_cell(build, column, date);
		any = any || cells[i].state != CELL_EMPTY;
	}
	row->cells = cells;
	row->rest = !any;
}

/* ---- bands ---- */

static bool is_good_until(const struct build *build, const struct dated_visit *visit)
{
	const struct course *course = build->course;
	return course->has_good_until && date_compare(visit->date, course->good_until) == 0;
}

/* A visit after the one that the packet is good until: should no new version come before it, doses follow it, too. */
static bool may_change_doses(const struct build *build, const struct dated_visit *visit)
{
	const struct course *course = build->course;
	if (visit->open || !course->has_good_until || date_compare(visit->date, course->good_until) <= 0)
		return false;
	for (size_t i = 0; i < course->n_doses; i++)
		if (!course->doses[i].open && !course->doses[i].as_needed && course->doses[i].when > visit->when)
			return true;
	return false;
}

/* Rows go on below the visit that the packet is good until: what the first page says of it stands there too. */
static const char *said_of_visit(struct build *build, const struct dated_visit *visit, const char *words)
{
	if (!is_good_until(build, visit))
		return may_change_doses(build, visit) ? say1(build->speaker, "grid.visit_later", "visit", words)
		                                      : words;
	const char *by = call_by(build);
	return by == NULL ? say1(build->speaker, "grid.visit_good_until", "visit", words)
	                  : say2(build->speaker, "grid.visit_change", "visit", words, "when", by);
}

static struct grid_band visit_band(struct build *build, const struct dated_visit *visit)
{
	struct speaker *speaker = build->speaker;
	const char *what = say0(speaker, "visit.word");
	if (visit->visit != NULL && visit->visit->label.n > 0)
		what = say_text(speaker, visit->visit->label, "the visit's label");
	else if (visit->visit == NULL && visit->event != NULL)
		what = say_text(speaker, visit->event->label, "the event's label");
	struct value values[] = {{"what", what},
	                         {"date", say_date(speaker, visit->date, DATE_SHORT)},
	                         {"time", visit->has_time ? say_time(speaker, visit->time) : ""},
	                         {"procedure", visit->has_procedure ? say_time(speaker, visit->procedure) : ""}};
	const char *key = visit->has_procedure ? "grid.visit_arrival"
	                  : visit->has_time    ? "grid.visit"
	                                       : "grid.visit_untimed";
	const char *own_key = arena_printf(build->arena, "%s.own", key);
	return (struct grid_band){.kind = BAND_VISIT,
	                          .text = said_of_visit(build, visit, say(speaker, key, values, 4)),
	                          .own_text = said_of_visit(build, visit, say(speaker, own_key, values, 4)),
	                          .on_all_pages = is_good_until(build, visit),
	                          .section = -1};
}

static struct grid_band exact_band(struct build *build, const struct dose *dose)
{
	struct speaker *speaker = build->speaker;
	struct grid_band band = {.kind = BAND_EXACT,
	                         .dose = dose,
	                         .time = say_time(speaker, dose->time),
	                         .clock = dose->time,
	                         .note = say0(speaker, "grid.exact_note"),
	                         .name = dose->item->medicine->name,
	                         .section = -1,
	                         .muscle = dose->item->medicine->route == ROUTE_INTRAMUSCULAR,
	                         .done = dose->done};
	band.day_note = night_of(speaker, dose);
	if (band.day_note != NULL) {
		band.note =
			say1(speaker, "grid.already", "date", say_date(speaker, dose->clock_date, DATE_WEEKDAY_DAY));
	}
	if (dose->amount != DOSE_BY_CALL)
		band.amount = say_amount(speaker, dose->ordered);
	if (dose->n_draws > 0) {
		const struct variant *variant = variant_of(build, dose, 0);
		band.pictogram = picture_of_product(dose->draws[0].product);
		band.mark = say_mark(speaker, &dose->draws[0]);
		band.section = variant == NULL               ? -1
		               : variant->exact_section >= 0 ? variant->exact_section
		                                             : variant->sheet;
	}
	return band;
}

static void fill_bands(struct build *build, struct civil_date date, struct grid_row *row)
{
	const struct course *course = build->course;
	struct grid_band *visits = NULL;
	struct grid_band *exact = NULL;
	for (size_t i = 0; i < course->n_visits; i++)
		if (!course->visits[i].open && date_compare(course->visits[i].date, date) == 0) {
			visits = arena_more(build->arena, visits, row->n_visits_above, sizeof *visits);
			visits[row->n_visits_above++] = visit_band(build, &course->visits[i]);
		}
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = course->by_time[i];
		if (!dose->open && dose->exact && date_compare(dose->date, date) == 0) {
			exact = arena_more(build->arena, exact, row->n_exact, sizeof *exact);
			exact[row->n_exact++] = exact_band(build, dose);
		}
	}
	row->visits_above = visits;
	row->exact = exact;
}

static void fill_side(struct build *build, struct grid_row *row, struct civil_date date)
{
	row->side = side_of_day(build, date);
	if (row->side != SIDE_NONE)
		row->side_word = say0(build->speaker, row->side == SIDE_LEFT ? "side.left" : "side.right");
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		enum route route = dose->item->medicine->route;
		if (dose->open || dose->as_needed || date_compare(dose->date, date) != 0 || !route_by_needle(route))
			continue;
		*(route == ROUTE_INTRAMUSCULAR ? &row->hip : &row->belly) = true;
	}
}

/* ---- where the sheet begins ---- */

/* Above the first day that is not past: what is ticked in print above it was done before, and is no one's to do. */
static void add_past_band(struct build *build, struct grid_row *rows, size_t n)
{
	size_t past = 0;
	while (past < n && rows[past].past)
		past++;
	if (past == 0 || past == n)
		return;
	struct grid_row *first = &rows[past];
	struct grid_band *bands = arena_alloc(build->arena, (first->n_visits_above + 1) * sizeof *bands);
	struct value day = {"day", say_number(build->speaker, rational_of(first->day, 1))};
	const char *text = say_count(build->speaker, "grid.past", (int64_t)past, &day, 1);
	bands[0] = (struct grid_band){
		.kind = BAND_PAST, .text = text, .own_text = text, .on_all_pages = true, .section = -1};
	for (size_t i = 0; i < first->n_visits_above; i++)
		bands[i + 1] = first->visits_above[i];
	first->visits_above = bands;
	first->n_visits_above++;
}

/* ---- days without a row of doses ---- */

/* "00:30 Fictivane": what is taken on this calendar day in the night that still counts to the day before: its number. */
static const char *night_doses(struct build *build, struct civil_date date, int *day)
{
	const char *doses = NULL;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = build->course->by_time[i];
		if (dose->open || dose->as_needed || !dose->has_time || date_compare(dose->clock_date, date) != 0 ||
		    date_compare(dose->date, date) == 0)
			continue;
		const char *one = say2(build->speaker, "grid.night_dose", "time", say_time(build->speaker, dose->time),
		                       "name", dose->item->medicine->name);
		doses = doses == NULL ? one : say2(build->speaker, "list.comma", "first", doses, "last", one);
		*day = course_day(build, dose->date);
	}
	return doses;
}

/* A call may still put a dose on any day. */
static bool any_waits(const struct course *course)
{
	for (size_t i = 0; i < course->n_runs; i++)
		if (course->runs[i].open && !course->runs[i].item->as_needed.given)
			return true;
	return false;
}

static const char *rest_words(struct build *build, struct civil_date date, bool visit)
{
	bool waits = any_waits(build->course);
	int day;
	const char *doses = night_doses(build, date, &day);
	if (doses != NULL)
		return say2(build->speaker, waits ? "grid.rest_night_open" : "grid.rest_night", "doses", doses, "day",
		            say_number(build->speaker, rational_of(day, 1)));
	if (visit)
		return say0(build->speaker, waits ? "grid.visit_day_open" : "grid.visit_day");
	return say0(build->speaker, waits ? "grid.rest_open" : "grid.rest");
}

static void fill_rows(struct build *build, struct grid *grid, const struct draft *draft)
{
	const struct course *course = build->course;
	size_t n = course->has_days ? (size_t)course_day(build, course->last) : 0;
	struct grid_row *rows = arena_alloc(build->arena, n * sizeof *rows);
	for (size_t i = 0; i < n; i++) {
		struct civil_date date = date_plus(course->first, (int64_t)i);
		struct grid_row *row = &rows[i];
		row->day = (int)i + 1;
		row->weekday = say_date(build->speaker, date, DATE_WEEKDAY_SHORT);
		row->long_date = say_date(build->speaker, date, DATE_LONG);
		row->date = say_date(build->speaker, date, DATE_DAY_MONTH);
		row->past = build->plan->as_of.given && date_compare(date, build->plan->as_of.date) < 0;
		fill_cells(build, draft, date, row);
		fill_bands(build, date, row);
		if (row->rest && row->n_exact == 0)
			row->rest_text = rest_words(build, date, row->n_visits_above > 0);
		fill_side(build, row, date);
	}
	add_past_band(build, rows, n);
	grid->rows = rows;
	grid->n_rows = n;
}

/* ---- what has no date ---- */

/* "We call you when ripe, about day 6. Until then, nothing to do." */
static const char *call_words(struct build *build, const struct item_run *run)
{
	struct speaker *speaker = build->speaker;
	const char *when = say_text(speaker, *run->call, "the call's words");
	if (run->expected == NULL || run->expected->n == 0)
		return say1(speaker, "grid.waiting_text", "when", when);
	return say2(speaker, "grid.waiting_expected", "when", when, "expected",
	            say_text(speaker, *run->expected, "when a call is expected"));
}

/* Visits that are counted from its first dose: nowhere else on the grid, as they have no day. */
static const char *add_open_visits(struct build *build, const struct item_run *run, const char *text)
{
	struct speaker *speaker = build->speaker;
	for (size_t i = 0; i < build->course->n_visits; i++) {
		const struct dated_visit *visit = &build->course->visits[i];
		if (!visit->open || visit->visit == NULL || !visit->visit->day.given ||
		    strcmp(visit->visit->event, run->item->id) != 0)
			continue;
		const char *what = visit->visit->label.n > 0
		                           ? say_text(speaker, visit->visit->label, "the visit's label")
		                           : say0(speaker, "visit.word");
		if (visit->has_time)
			what = say2(speaker, "waiting.visit_at", "what", what, "time", say_time(speaker, visit->time));
		const char *day = say_number(speaker, rational_of(visit->visit->day.number, 1));
		struct value values[] = {{"day", day}, {"name", run->item->medicine->name}, {"what", what}};
		text = arena_printf(build->arena, "%s %s", text, say(speaker, "grid.open_visit", values, 3));
	}
	return text;
}

static struct grid_waiting waiting_of(struct build *build, const struct item_run *run)
{
	struct speaker *speaker = build->speaker;
	const struct dose *first = run->n_doses > 0 ? &run->doses[0] : NULL;
	const struct variant *variant = first != NULL && first->n_draws > 0 ? variant_of(build, first, 0) : NULL;
	bool call = run->starts_by_call && run->call != NULL;
	struct grid_waiting waiting = {
		.item = run->item,
		.heading =
			say1(speaker, call ? "grid.waiting" : "grid.waiting_event", "name", run->item->medicine->name),
		.text = call ? call_words(build, run) : say0(speaker, "grid.waiting_event_text"),
		.start_word = say0(speaker, "grid.start"),
		.day_word = say0(speaker, "grid.day"),
		.month_word = say0(speaker, "grid.month"),
		.section = variant == NULL ? -1 : variant->sheet,
	};
	waiting.text = add_open_visits(build, run, waiting.text);
	if (pages_of_item(build, run->item)->waiting >= 0)
		waiting.section = pages_of_item(build, run->item)->waiting;
	if (first != NULL && first->amount != DOSE_BY_CALL)
		waiting.dose_text = say_amount(speaker, first->ordered);
	else if (first != NULL)
		waiting.unit = unit_to_write(build, first);
	return waiting;
}

static void fill_waiting(struct build *build, struct grid *grid)
{
	struct grid_waiting *waiting = NULL;
	for (size_t i = 0; i < build->course->n_runs; i++) {
		const struct item_run *run = &build->course->runs[i];
		if (!run->open || run->item->as_needed.given)
			continue;
		waiting = arena_more(build->arena, waiting, grid->n_waiting, sizeof *waiting);
		waiting[grid->n_waiting++] = waiting_of(build, run);
	}
	grid->waiting = waiting;
}

static bool any_new_amount(const struct grid *grid)
{
	for (size_t i = 0; i < grid->n_rows; i++)
		for (size_t j = 0; j < grid->n_columns; j++)
			if (grid->rows[i].cells[j].state == CELL_DOSE && grid->rows[i].cells[j].new_amount)
				return true;
	return false;
}

bool all_end(const struct course *course)
{
	for (size_t i = 0; i < course->n_runs; i++)
		if (course->runs[i].open || course->runs[i].unless_sooner || course->runs[i].end != ITEM_ENDS)
			return false;
	return true;
}

static bool any_side(const struct grid *grid)
{
	for (size_t i = 0; i < grid->n_rows; i++)
		if (grid->rows[i].side != SIDE_NONE)
			return true;
	return false;
}

/* ---- the day's own column ---- */

/* Two needles of one day go in on the same side: the second has a spot of its own. */
static bool two_on_a_side(const struct grid *grid)
{
	for (size_t i = 0; i < grid->n_rows; i++) {
		int n = 0;
		for (size_t j = 0; j < grid->n_columns; j++) {
			const struct grid_cell *cell = &grid->rows[i].cells[j];
			bool skin = grid->columns[j].item->medicine->route == ROUTE_SUBCUTANEOUS;
			n += skin && cell->state != CELL_EMPTY;
		}
		if (n > 1 && grid->rows[i].side != SIDE_NONE)
			return true;
	}
	return false;
}

static const char *corner_words(struct build *build, const struct grid *grid)
{
	if (!any_side(grid))
		return say0(build->speaker, "grid.corner_no_needle");
	return say0(build->speaker, two_on_a_side(grid) ? "grid.corner_two" : "grid.corner");
}

/* ---- what its short words mean ---- */

static const char *add_words(struct build *build, const char *words, const char *more)
{
	return words == NULL ? more : arena_printf(build->arena, "%s %s", words, more);
}

static bool is_given_in(const struct build *build, enum unit unit)
{
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (dose->amount != DOSE_BY_CALL && dose->ordered.unit == unit)
			return true;
	}
	return false;
}

static bool any_in_ml(const struct build *build)
{
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		for (size_t j = 0; j < dose->n_draws; j++) {
			const struct draw *draw = &dose->draws[j];
			if (draw->measure == MEASURE_SYRINGE && !draw->mark.all &&
			    (draw->mark.syringe == NULL || !draw->mark.syringe->unit_scale))
				return true;
		}
	}
	return false;
}

/* "mcg, mg": those that the days' amounts are counted in; NULL: none. */
static const char *weights_given(struct build *build)
{
	static const enum unit units[] = {UNIT_MCG, UNIT_MG};
	const char *list = NULL;
	for (size_t i = 0; i < sizeof units / sizeof *units; i++)
		if (is_given_in(build, units[i])) {
			const char *name = unit_name(units[i], false);
			list = list == NULL ? name : say2(build->speaker, "list.comma", "first", list, "last", name);
		}
	return list;
}

static const char *grid_words(struct build *build)
{
	struct speaker *speaker = build->speaker;
	const char *words = NULL;
	const char *weights = weights_given(build);
	if (weights != NULL)
		words = say1(speaker, "grid.weights", "units", weights);
	if (any_in_ml(build))
		words = add_words(build, words, say0(speaker, "grid.ml"));
	if (is_given_in(build, UNIT_UNITS))
		words = add_words(build, words, say0(speaker, "grid.units"));
	if (is_given_in(build, UNIT_SYRINGE_UNIT))
		words = add_words(build, words, say0(speaker, "grid.syringe_units"));
	if (words != NULL && build->before_section >= 0)
		words = add_words(build, words, say1(speaker, "grid.more_words", "page", PAGE_HERE));
	return words;
}

const struct grid *grid_of(struct build *build)
{
	struct grid *grid = arena_alloc(build->arena, sizeof *grid);
	struct draft draft = draft_columns(build);
	fill_columns(build, grid, &draft);
	fill_groups(build, grid, &draft);
	fill_rows(build, grid, &draft);
	fill_waiting(build, grid);
	grid->corner = corner_words(build, grid);
	if (grid->n_rows > 0)
		grid->after = say1(build->speaker, course_is_over(build->course) ? "grid.last_day" : "grid.after_last",
		                   "day", say_number(build->speaker, rational_of(grid->rows[grid->n_rows - 1].day, 1)));
	if (any_new_amount(grid))
		grid->new_legend = say0(build->speaker, "grid.new_legend");
	grid->words_section = build->before_section;
	grid->words = grid_words(build);
	return grid;
}
