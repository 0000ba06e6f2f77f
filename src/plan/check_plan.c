#include "plan/checks.h"

/* ---- who the patient is ---- */

/* Outside of these ages a wrong year is likelier than a course; common practice, no source. */
static const int youngest = 16;
static const int oldest = 65;

static int age_on(struct civil_date born, struct civil_date day)
{
	bool before_birthday = day.month < born.month || (day.month == born.month && day.day < born.day);
	return day.year - born.year - (before_birthday ? 1 : 0);
}

static void check_birth(const struct checking *checking, const struct stated_date *born)
{
	struct civil_date as_of = checking->course->plan->as_of.date;
	int age = age_on(born->date, as_of);
	if (date_compare(born->date, as_of) >= 0)
		findings_add(checking->findings, FINDING_STOP, "born-after", born->place,
		             "born on %s is not before %s, the day this plan speaks from; check both years",
		             date_print(checking->arena, born->date), date_print(checking->arena, as_of));
	else if (age < youngest || age > oldest)
		findings_add(checking->findings, FINDING_CAUTION, "age-unlikely", born->place,
		             "born on %s makes the patient %d years old; check the year",
		             date_print(checking->arena, born->date), age);
}

static void check_patient(const struct checking *checking)
{
	const struct patient *patient = &checking->course->plan->patient;
	if (!patient->allergies_given)
		findings_add(
			checking->findings, FINDING_CAUTION, "allergies-missing", patient->place,
			"nothing is said about allergies; ask, and write 'allergies: [none]' where there are none");
	if (patient->born.given)
		check_birth(checking, &patient->born);
	else
		findings_add(checking->findings, FINDING_CAUTION, "birth-missing", patient->place,
		             "the sheet has no date of birth to tell this patient from another; add 'born'");
	if (!patient->record.text)
		findings_add(checking->findings, FINDING_CAUTION, "record-missing", patient->place,
		             "the sheet has no record number to tell this patient from another; add 'record'");
}

/* ---- dates in another year ---- */

/* Further off than half a year, the same day of another year is nearer. */
static const int64_t half_a_year = 183;

static void check_near(const struct checking *checking, struct civil_date date, const char *what, struct place place)
{
	struct civil_date as_of = checking->course->plan->as_of.date;
	int64_t days = date_difference(date, as_of);
	if (days >= -half_a_year && days <= half_a_year)
		return;
	findings_add(checking->findings, FINDING_CAUTION, "date-far-off", place,
	             "'%s' on %s is %lld days %s %s, the day this plan speaks from; check both years", what,
	             date_print(checking->arena, date), (long long)(days < 0 ? -days : days),
	             days < 0 ? "before" : "after", date_print(checking->arena, as_of));
}

static void check_start(const struct checking *checking, const struct trigger *start, const char *item)
{
	if (start->on.given)
		check_near(checking, start->on.date, item, start->on.place);
	for (size_t i = 0; i < start->n_of; i++)
		check_start(checking, &start->of[i], item);
}

/* Nobody reads a sheet of so many days, and none could be made. */
static void check_extent(const struct checking *checking)
{
	const struct course *course = checking->course;
	const struct stated_date *as_of = &course->plan->as_of;
	if (!course->has_days || (date_difference(course->last, as_of->date) <= COURSE_MOST_DAYS &&
	                          date_difference(as_of->date, course->first) <= COURSE_MOST_DAYS))
		return;
	findings_add(
		checking->findings, FINDING_STOP, "days-too-far", as_of->place,
		"the days of this plan run from %s to %s, more than %d days from %s, the day it speaks from; check "
		"the years",
		date_print(checking->arena, course->first), date_print(checking->arena, course->last), COURSE_MOST_DAYS,
		date_print(checking->arena, as_of->date));
}

static void check_dates(const struct checking *checking)
{
	const struct plan *plan = checking->course->plan;
	for (size_t i = 0; i < plan->n_events; i++)
		check_near(checking, plan->events[i].date, plan->events[i].event->id, plan->events[i].place);
	for (size_t i = 0; i < plan->n_called; i++)
		check_near(checking, plan->called[i].on.date, plan->called[i].item->id, plan->called[i].on.place);
	for (size_t i = 0; i < plan->protocol->n_items; i++)
		check_start(checking, &plan->protocol->items[i].start, plan->protocol->items[i].id);
	check_extent(checking);
}

/* ---- amounts that no day gets ---- */

static bool is_given(const struct course *course, const struct dose_step *step)
{
	for (size_t i = 0; i < course->n_doses; i++)
		if (course->doses[i].step == step)
			return true;
	return false;
}

static bool is_changed(const struct plan *plan, const struct item *item)
{
	for (size_t i = 0; i < plan->n_changes; i++)
		if (plan->changes[i].item == item)
			return true;
	return false;
}

/* A protocol's later amount is often not reached; one written for this very patient was meant to be. */
static void check_own_doses(const struct checking *checking)
{
	const struct course *course = checking->course;
	const struct plan *plan = course->plan;
	for (size_t i = 0; i < plan->n_doses; i++) {
		const struct plan_doses *own = &plan->doses[i];
		if (is_changed(plan, own->item))
			continue;
		for (size_t j = 0; j < own->n_doses; j++)
			if (!is_given(course, &own->doses[j]))
				findings_add(checking->findings, FINDING_CAUTION, "dose-never-given",
				             own->doses[j].place,
				             "no day of '%s' gets this dose of the plan; check the day it is from",
				             own->item->id);
	}
}

/* ---- what was dispensed ---- */

static bool same_date(const struct stated_date *a, const struct stated_date *b)
{
	return a->given == b->given && (!a->given || date_compare(a->date, b->date) == 0);
}

static bool same_row(const struct dispensed *a, const struct dispensed *b)
{
	return a->product == b->product && a->count.number == b->count.number && same_date(&a->expires, &b->expires) &&
	       same_date(&a->opened, &b->opened) && a->left.given == b->left.given &&
	       (!a->left.given || quantity_compare(a->left.quantity, b->left.quantity) == 0);
}

static bool stands_above(const struct plan *plan, size_t index)
{
	for (size_t i = 0; i < index; i++)
		if (same_row(&plan->dispensed[index], &plan->dispensed[i]))
			return true;
	return false;
}

/* What was opened is used up or thrown away within its days of use; a closed box lies for years. */
static void check_dispensed(const struct checking *checking)
{
	const struct plan *plan = checking->course->plan;
	for (size_t i = 0; i < plan->n_dispensed; i++) {
		const struct dispensed *row = &plan->dispensed[i];
		if (!row->expires.given && !row->opened.given)
			findings_add(checking->findings, FINDING_CAUTION, "expiry-missing", row->place,
			             "no expiry of '%s' is given, so it is counted for every day; read it off the box",
			             row->product->id);
		if (row->opened.given && date_compare(row->opened.date, plan->as_of.date) > 0)
			findings_add(checking->findings, FINDING_STOP, "opened-later", row->opened.place,
			             "'%s' is opened on %s, after %s, the day this plan speaks from; correct the day",
			             row->product->id, date_print(checking->arena, row->opened.date),
			             date_print(checking->arena, plan->as_of.date));
		if (stands_above(plan, i))
			findings_add(checking->findings, FINDING_CAUTION, "dispensed-twice", row->place,
			             "'%s' stands here as it stands above; delete one row if it is the same box",
			             row->product->id);
	}
}

void check_plan(const struct checking *checking)
{
	check_patient(checking);
	check_dates(checking);
	check_own_doses(checking);
	check_dispensed(checking);
}
