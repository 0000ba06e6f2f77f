#include "plan/check.h"

#include "plan/checks.h"

#include <string.h>

/* ---- the plan as a whole ---- */

static void check_version(const struct checking *checking)
{
	const struct plan *plan = checking->course->plan;
	int64_t before = plan->replaced != NULL ? plan->replaced->version : 1;
	if (plan->replaces.given && plan->version <= before)
		findings_add(checking->findings, FINDING_STOP, "version-not-above", plan->version_at.place,
		             "version %lld replaces an earlier sheet, and must be above that one's, %lld; give the "
		             "next number",
		             (long long)plan->version, (long long)before);
}

static bool same_text(const char *a, const char *b)
{
	return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

/* A new sheet for one patient never replaces another patient's. */
static void check_replaced(const struct checking *checking)
{
	const struct plan *plan = checking->course->plan;
	if (plan->replaced == NULL && plan->replaces.code.text != NULL)
		findings_add(
			checking->findings, FINDING_CAUTION, "replaced-not-at-hand", plan->replaces.code.place,
			"of the sheet that this one replaces only the code is known, so no page says what changed; "
			"name its plan with 'file' to have one");
	if (plan->replaced == NULL)
		return;
	const struct stated_string *named = plan->replaces.file.text ? &plan->replaces.file : &plan->replaces.code;
	const struct patient *now = &plan->patient;
	const struct patient *then = &plan->replaced->patient;
	bool same_birth = now->born.given == then->born.given &&
	                  (!now->born.given || date_compare(now->born.date, then->born.date) == 0);
	if (!same_text(now->record.text, then->record.text) || !same_birth)
		findings_add(
			checking->findings, FINDING_STOP, "replaces-other-patient", named->place,
			"'%s' is another patient's plan: record number or date of birth differ; name this patient's",
			named->text);
	if (plan->as_of.given && plan->replaced->as_of.given &&
	    date_compare(plan->as_of.date, plan->replaced->as_of.date) < 0)
		findings_add(checking->findings, FINDING_STOP, "replaces-later", plan->as_of.place,
		             "this plan speaks from %s, before the one it replaces, %s; check both dates",
		             date_print(checking->arena, plan->as_of.date),
		             date_print(checking->arena, plan->replaced->as_of.date));
}

static void check_good_until(const struct checking *checking)
{
	const struct plan *plan = checking->course->plan;
	if (plan->good_until.given && date_compare(plan->good_until.date, plan->as_of.date) < 0)
		findings_add(checking->findings, FINDING_STOP, "good-until-past", plan->good_until.place,
		             "the sheet would be good until %s, before %s, the day it speaks from; give a later "
		             "'good_until'",
		             date_print(checking->arena, plan->good_until.date),
		             date_print(checking->arena, plan->as_of.date));
}

static void check_something_to_print(const struct checking *checking)
{
	const struct course *course = checking->course;
	bool ahead = false;
	for (size_t i = 0; i < course->n_doses; i++)
		ahead = ahead || !course->doses[i].done;
	if (ahead)
		return;
	/* Where something else was refused, that is why there is none. */
	if (course->n_doses == 0 && findings_stop(checking->findings))
		return;
	if (course->n_doses == 0)
		findings_add(checking->findings, FINDING_STOP, "nothing-to-print", course->plan->place,
		             "this plan has no dose at all; check its protocol and changes");
	else
		findings_add(checking->findings, FINDING_STOP, "nothing-to-print", course->plan->as_of.place,
		             "every dose of this plan is before %s; there is nothing left to print",
		             date_print(checking->arena, course->plan->as_of.date));
}

void check_course(struct arena *arena, const struct course *course, struct findings *findings)
{
	const struct checking checking = {arena, course, findings};
	check_version(&checking);
	check_replaced(&checking);
	check_good_until(&checking);
	check_something_to_print(&checking);
	check_plan(&checking);
	check_limits(&checking);
	check_gaps(&checking);
	check_products(&checking);
	check_texts(&checking);
}
