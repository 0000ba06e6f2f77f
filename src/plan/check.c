#include "plan/check.h"

#include "plan/checks.h"

/* ---- the plan as a whole ---- */

static void check_version(const struct checking *checking)
{
	const struct plan *plan = checking->course->plan;
	if (plan->replaces.given && plan->version < 2)
		findings_add(
			checking->findings, FINDING_STOP, "version-not-above", plan->version_at.place,
			"version %lld replaces an earlier sheet, and must be above that one's; give the next number",
			(long long)plan->version);
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
	check_good_until(&checking);
	check_something_to_print(&checking);
	check_plan(&checking);
	check_limits(&checking);
	check_gaps(&checking);
	check_products(&checking);
	check_texts(&checking);
}
