/*
 * Whole courses, from triggers to draws and supplies: what each part must give the others. The courses are short ones
 * (support/course_script.h), their days and counts worked out by hand beside them. December 2026 begins on a Tuesday.
 */
#include "plan/course.h"
#include "support/cases.h"
#include "support/course_script.h"

#include <string.h>

static const struct course *course_in(struct arena *arena, const char *script, const char *expected_findings)
{
	struct findings findings = findings_in(arena);
	const struct course *course = course_of(arena, script_plan(arena, script), &findings);
	assert_non_null(course);
	assert_string_equal(findings_text(arena, &findings), expected_findings);
	return course;
}

static const char *plain(struct arena *arena, struct quantity quantity)
{
	return quantity_plain(arena, quantity, DECIMAL_POINT);
}

static const char *text_of_mark(struct arena *arena, const struct draw *draw)
{
	if (draw->measure == MEASURE_COUNT)
		return plain(arena, draw->count);
	if (draw->mark.all)
		return "all";
	return arena_printf(arena, "%s on %s", number_print(arena, draw->mark.number, DECIMAL_POINT),
	                    draw->mark.syringe->id);
}

/* "a 1 first half: 125 mcg to 0.5 on syringe-1 from kit 1 (opened), leaves 125 mcg" */
static const char *draws_text(struct arena *arena, const struct dose *dose)
{
	static const char *const halves[] = {"", " first half", " second half"};
	const char *text = arena_printf(arena, "%s %lld%s:", dose->item->id, (long long)dose->n, halves[dose->half]);
	for (size_t i = 0; i < dose->n_draws; i++) {
		const struct draw *draw = &dose->draws[i];
		const struct container_use *use = &draw->containers[0];
		text = arena_printf(arena, "%s %s to %s from %s %lld%s, leaves %s", text, plain(arena, draw->dose),
		                    text_of_mark(arena, draw), use->product->id, (long long)use->number,
		                    use->opens ? " (opened)" : "", plain(arena, use->leaves));
	}
	return text;
}

static const char *course_text(struct arena *arena, const struct course *course)
{
	const char *text = "";
	for (size_t i = 0; i < course->n_doses; i++)
		text = arena_printf(arena, "%s%s\n", text, draws_text(arena, course->by_time[i]));
	return text;
}

#define SYRINGE "syringe: id=syringe-1; capacity=1; step=0.01\n"
#define KIT                                                                                                            \
	"medicine: id=examplin\n"                                                                                      \
	"product: id=kit; container=powder-vial; strength=250 mcg; liquid=1 mL; displacement=0 mL; "                   \
	"syringe=syringe-1; "                                                                                          \
	"policy=P-12; keep=26 h; liquid_as=syringe; mixing=20 40 mm; giving=27 13 mm; box=mixing, giving, syringe-1, " \
	"swab 2\n"
#define PLAN "plan: as_of=2026-12-01\n"

/* Halves from one vial on days 1 and 2, whole vials on days 3 and 4. */
#define HALF_THEN_FULL                                                               \
	"item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 4\n" \
	"dose: from=1; dose=125 mcg; split=yes\ndose: from=3; dose=0.25 mg\n"

static void halves_then_whole(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct course *course = course_in(arena, SYRINGE KIT HALF_THEN_FULL PLAN, "");
	/* 250 mcg in 1 mL: 125 mcg is 0.5 mL; a whole vial is all of it, with no line to hit */
	assert_string_equal(course_text(arena, course),
	                    "a 1 first half: 125 mcg to 0.5 on syringe-1 from kit 1 (opened), leaves 125 mcg\n"
	                    "a 2 second half: 125 mcg to 0.5 on syringe-1 from kit 1, leaves 0 mcg\n"
	                    "a 3: 0.25 mg to all from kit 2 (opened), leaves 0 mcg\n"
	                    "a 4: 0.25 mg to all from kit 3 (opened), leaves 0 mcg\n");
	assert_int_equal(course->doses[0].split_group, course->doses[1].split_group);
	assert_int_equal(course->doses[2].split_group, 0);
	assert_int_equal(course->n_supplies, 1);
	assert_int_equal(course->supplies[0].needed, 3);
}

static const struct kit_supply *kit_row(const struct course *course, enum kit_kind kind)
{
	for (size_t i = 0; i < course->n_kit; i++)
		if (course->kit[i].kind == kind)
			return &course->kit[i];
	fail_msg("no such row");
	return NULL;
}

static void assert_kit(const struct course *course, enum kit_kind kind, int needed, int in_boxes, int to_get)
{
	const struct kit_supply *row = kit_row(course, kind);
	assert_int_equal(row->needed, needed);
	assert_int_equal(row->in_boxes, in_boxes);
	assert_int_equal(row->to_get, to_get);
}

static void counts_what_four_draws_use(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct course *course = course_in(arena, SYRINGE KIT HALF_THEN_FULL PLAN, "");
	/*
	 * Four draws: a syringe, a thick needle and a thin one each; a swab for the skin and one for the vial's top each.
	 * Three boxes bring a syringe and both needles once, swabs twice. So the second half needs its own set.
	 */
	assert_kit(course, KIT_SYRINGE, 4, 3, 1);
	assert_int_equal(kit_row(course, KIT_SYRINGE)->filled, 3);
	assert_kit(course, KIT_NEEDLE_MIXING, 4, 3, 1);
	assert_int_equal(kit_row(course, KIT_NEEDLE_MIXING)->filled, 0);
	assert_kit(course, KIT_NEEDLE_GIVING, 4, 3, 1);
	assert_kit(course, KIT_SWAB, 8, 6, 2);
	assert_kit(course, KIT_SHARPS_BOX, 1, 0, 1);
	assert_int_equal(course->n_kit, 5);
}

/* Needles differ by their length; a vial of liquid has a top to wipe; what comes in no box is all to get. */
static void counts_needles_by_their_size(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const char script[] = SYRINGE
		"medicine: id=examplin\n"
		"product: id=kit; container=powder-vial; strength=250 mcg; liquid=0.5 mL; displacement=0 mL; "
		"syringe=syringe-1; mixing=20 40 mm; giving=27 13 mm\n"
		"medicine: id=otherin\n"
		"product: id=filled; container=prefilled; strength=1 mg; volume=1 mL; giving=27 16 mm\n"
		"item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2\ndose: from=1; dose=250 mcg\n"
		"item: id=b; medicine=otherin; at=20:00; start=on 2026-12-04; end=days 3\ndose: from=1; dose=1 "
		"mg\n" PLAN;
	const struct course *course = course_in(arena, script, "");
	int long_needles = 0;
	int short_needles = 0;
	for (size_t i = 0; i < course->n_kit; i++) {
		const struct kit_supply *row = &course->kit[i];
		if (row->kind != KIT_NEEDLE_GIVING)
			continue;
		if (strcmp(plain(arena, row->needle.length.quantity), "16 mm") == 0)
			long_needles = (int)row->to_get;
		else
			short_needles = (int)row->to_get;
	}
	assert_int_equal(short_needles, 2);
	assert_int_equal(long_needles, 3);
	/* A filled syringe is its own and has no thick needle: two of each for the vials alone. */
	assert_kit(course, KIT_SYRINGE, 2, 0, 2);
	assert_kit(course, KIT_NEEDLE_MIXING, 2, 0, 2);
	/* The skin five times, the powder's and the liquid's top twice each. */
	assert_kit(course, KIT_SWAB, 9, 0, 9);
}

static void several_powders_in_one_liquid(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const char script[] =
		SYRINGE "medicine: id=examplin\n"
			"product: id=kit; container=powder-vial; strength=75 units; liquid=1 mL; displacement=0 mL; "
			"syringe=syringe-1; powders=3; liquid_as=syringe\n"
			"item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2\n"
			"dose: from=1; dose=225 units\ndose: from=2; dose=180 units\n" PLAN;
	const struct course *course = course_in(arena, script, "");
	/* Three of 75 units in 1 mL: 225 units are all of it; 180 units are 0.8 mL of it, and 45 units are thrown away. */
	assert_string_equal(course_text(arena, course),
	                    "a 1: 225 units to all from kit 1 (opened), leaves 0 units\n"
	                    "a 2: 180 units to 0.8 on syringe-1 from kit 4 (opened), leaves 0 units\n");
	assert_int_equal(course->doses[0].draws[0].n_containers, 3);
	assert_int_equal(course->doses[1].draws[0].n_containers, 3);
	assert_int_equal(course->supplies[0].needed, 6);
	assert_string_equal(plain(arena, course->supplies[0].discarded), "45 units");
}

static void two_medicines_are_served_apart(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const char script[] =
		"protocol: horizon=3 days\n" SYRINGE "medicine: id=examplin\n"
		"product: id=thin; container=solution-vial; strength=10 mg; volume=10 mL; in_use=28 days\n"
		"medicine: id=otherin\n"
		"product: id=thick; container=solution-vial; strength=20 mg; volume=10 mL; in_use=28 days\n"
		"item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1\ndose: from=1; dose=0.5 mg\n"
		"item: id=b; medicine=otherin; at=21:00; start=on 2026-12-04\ndose: from=1; dose=0.5 mg\n"
		"item: id=c; medicine=examplin; at=22:00; start=on 2026-12-04; end=days 1\ndose: from=1; dose=0.5 "
		"mg\n" PLAN;
	const struct course *course = course_in(arena, script, "");
	/* 1 mg in 1 mL, and 2 mg in 1 mL: the same order is two volumes. */
	assert_string_equal(course_text(arena, course),
	                    "a 1: 0.5 mg to 0.5 on syringe-1 from thin 1 (opened), leaves 9.5 mg\n"
	                    "b 1: 0.5 mg to 0.25 on syringe-1 from thick 1 (opened), leaves 19.5 mg\n"
	                    "c 1: 0.5 mg to 0.5 on syringe-1 from thin 1, leaves 9 mg\n"
	                    "b 2: 0.5 mg to 0.25 on syringe-1 from thick 1, leaves 19 mg\n"
	                    "b 3: 0.5 mg to 0.25 on syringe-1 from thick 1, leaves 18.5 mg\n");
	assert_int_equal(course->n_supplies, 2);
	assert_int_equal(course->supplies[0].needed, 1);
}

static void tablets_need_no_kit(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct course *course =
		course_in(arena,
	                  "medicine: id=nonsensol; route=oral\nproduct: id=tablets; container=counted; strength=1 "
	                  "tablet; halves=yes\n"
	                  "item: id=a; medicine=nonsensol; at=08:00; start=on 2026-12-04; end=days 3\n"
	                  "dose: from=1; dose=0.5 tablet\n" PLAN,
	                  "");
	/* a half, its other half, and a half of the next */
	assert_int_equal(course->supplies[0].needed, 2);
	assert_int_equal(course->n_kit, 0);
	assert_string_equal(plain(arena, course->doses[1].draws[0].count), "0.5 tablets");
}

/* A kit a day for five days from the 4th; the plan speaks from the 7th. */
static void what_is_ahead_leaves_out_what_was_used_up(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const char script[] =
		"protocol: horizon=20 days\n" SYRINGE KIT "event: id=begin; own_day=1\n"
		"item: id=whole; medicine=examplin; at=20:00; start=begin day 1; end=days 5\ndose: from=1; dose=250 "
		"mcg\n"
		"plan: as_of=2026-12-07\ndate: begin=2026-12-04\n";
	const struct course *course = course_in(arena, script, "");
	assert_int_equal(course->n_supplies, 1);
	const struct product_supply *supply = &course->supplies[0];
	assert_int_equal(supply->needed, 5);
	assert_int_equal(supply->needed_ahead, 2); /* of the 7th and the 8th */
	assert_int_equal(supply->at_hand, 0);
	assert_int_equal(supply->to_get, 5);
	assert_int_equal(supply->to_get_ahead, 2);
}

/* A dated end is known while the start is not: the trigger's day 0 is the day before it. Of two the earlier rules. */
static void a_dated_end_bounds_what_waits(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const char script[] =
		"protocol: horizon=20 days\n" SYRINGE KIT
		"event: id=trigger; own_day=1; exact=yes\nevent: id=never; own_day=1\n"
		"item: id=waits; medicine=examplin; at=08:00; start=call soon; end=trigger day 0\ndose: from=1; "
		"dose=250 mcg\n"
		"item: id=either; medicine=examplin; at=09:00; start=call soon; end=first(trigger day -2, trigger day "
		"0, never day 1)\ndose: from=1; dose=250 mcg\n" PLAN "date: trigger=2026-12-14 21:30\n";
	const struct course *course = course_in(arena, script, "");
	assert_int_equal(course->n_runs, 2);
	assert_true(course->runs[0].open && course->runs[0].has_bound);
	assert_string_equal(date_print(arena, course->runs[0].bound), "2026-12-13");
	assert_true(course->runs[1].open && course->runs[1].has_bound);
	assert_string_equal(date_print(arena, course->runs[1].bound), "2026-12-11");
}

static void runs_say_how_they_start_and_end(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const char script[] =
		"protocol: horizon=3 days\n" SYRINGE KIT
		"event: id=begin; own_day=1\nevent: id=trigger; own_day=1; exact=yes\n"
		"item: id=dated; medicine=examplin; at=20:00; start=begin day 1; end=days 2\ndose: from=1; dose=250 "
		"mcg\n"
		"item: id=waits; medicine=examplin; at=08:00; start=call the right size; end=trigger day 0\n"
		"dose: from=1; dose=250 mcg\n"
		"item: id=sooner; medicine=examplin; at=09:00; start=first(begin day 6, call soon)\ndose: from=1; "
		"dose=250 mcg\n"
		"item: id=after; medicine=examplin; at=10:00; start=waits day 2; end=days 1\ndose: from=1; dose=250 "
		"mcg\n"
		"item: id=stopped; medicine=examplin; at=11:00; start=begin day 1\ndose: from=1; dose=250 mcg\n" PLAN
		"date: begin=2026-12-04\nchange: item=stopped; from=2026-12-05; stop=yes\n";
	const struct course *course = course_in(arena, script, "");
	const struct item_run *runs = course->runs;
	assert_int_equal(course->n_runs, 5);
	assert_false(runs[0].open || runs[0].starts_by_call || runs[0].unless_sooner);
	assert_int_equal(runs[0].end, ITEM_ENDS);
	assert_string_equal(date_print(arena, runs[0].first), "2026-12-04");
	assert_string_equal(date_print(arena, runs[0].last), "2026-12-05");
	assert_true(runs[1].open && runs[1].starts_by_call && !runs[1].unless_sooner);
	assert_string_equal(text_in(*runs[1].call, "en"), "the right size");
	assert_null(runs[1].expected);
	assert_int_equal(runs[1].end, ITEM_UNTIL_EVENT);
	assert_int_equal(runs[1].n_doses, 3);
	assert_false(runs[1].has_bound);
	assert_true(!runs[2].open && runs[2].starts_by_call && runs[2].unless_sooner);
	assert_string_equal(text_in(*runs[2].call, "en"), "soon");
	assert_string_equal(date_print(arena, runs[2].first), "2026-12-09");
	assert_int_equal(runs[2].end, ITEM_UNTIL_TOLD);
	assert_true(runs[3].open && !runs[3].starts_by_call);
	assert_null(runs[3].call);
	assert_int_equal(runs[4].end, ITEM_ENDS);
	assert_int_equal(runs[4].n_doses, 1);
	assert_false(runs[0].has_bound); /* two days have no date of their own */
	/* Day 1 to the last of the three days from the 9th; what is open has no day. */
	assert_string_equal(date_print(arena, course->first), "2026-12-04");
	assert_string_equal(date_print(arena, course->last), "2026-12-11");
}

/* Of several things waited for, the call is what the sheet speaks of; an end may wait for an event beside it. */
static void runs_that_wait_for_several(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const char script[] =
		"protocol: horizon=3 days\n" SYRINGE KIT "event: id=begin; own_day=1\n"
		"item: id=a; medicine=examplin; at=20:00; start=first(begin day 1, call one, call two); end=days 1\n"
		"dose: from=1; dose=250 mcg\n"
		"item: id=b; medicine=examplin; at=08:00; start=on 2026-12-04; end=first(call, begin day 3)\n"
		"dose: from=1; dose=250 mcg\n"
		"item: id=c; medicine=examplin; at=09:00; start=on 2026-12-04; end=first(call, last(call, call))\n"
		"dose: from=1; dose=250 mcg\n" PLAN;
	const struct course *course = course_in(arena, script, "");
	assert_true(course->runs[0].open && course->runs[0].starts_by_call);
	assert_string_equal(text_in(*course->runs[0].call, "en"), "one");
	assert_int_equal(course->runs[1].end, ITEM_UNTIL_EVENT);
	assert_int_equal(course->runs[2].end, ITEM_UNTIL_TOLD);
}

static const char *visits_text(struct arena *arena, const struct course *course)
{
	const char *text = "";
	for (size_t i = 0; i < course->n_visits; i++) {
		const struct dated_visit *visit = &course->visits[i];
		const char *procedure = "";
		if (visit->has_procedure)
			procedure = arena_printf(arena, " for %s", clock_print(arena, visit->procedure));
		text = arena_printf(arena, "%s%s%s %s %s%s\n", text, visit->event ? visit->event->id : "item",
		                    visit->visit ? "" : " itself",
		                    visit->open ? "open" : date_print(arena, visit->date),
		                    visit->has_time ? clock_print(arena, visit->time) : "-", procedure);
	}
	return text;
}

static void visits_in_order(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const char script[] = SYRINGE KIT
		"event: id=begin; own_day=1\n"
		"event: id=arrives; own_day=0; exact=yes; arrival=yes; arrive_before=90 min\n"
		"event: id=starts; own_day=0; exact=yes; arrive_before=1 h\n"
		"event: id=trigger; own_day=1; exact=yes\n"
		"event: id=later; own_day=0; exact=yes\n"
		"item: id=a; medicine=examplin; start=trigger; end=doses 1\ndose: from=1; dose=250 mcg\n"
		"visit: event=begin; day=8; at=09:15\n"
		"visit: event=a; day=3\n"
		"visit: event=begin; day=5; at=08:30\n"
		"visit: event=later; day=2\n" PLAN
		"date: begin=2026-12-04; arrives=2026-12-16 08:00; starts=2026-12-17 10:00; trigger=2026-12-14 21:30\n";
	const struct course *course = course_in(arena, script, "");
	/*
	 * Days 5 and 8 from the 4th are the 8th and the 11th. Day 3 of a, begun on the 14th, is the 16th, whose time is not
	 * known. Arriving at 08:00 is for 09:30; what starts at 10:00 is to arrive at 09:00. The trigger is an injection and
	 * no visit; what has no date comes last.
	 */
	assert_string_equal(visits_text(arena, course), "begin 2026-12-08 08:30\n"
	                                                "begin 2026-12-11 09:15\n"
	                                                "item 2026-12-16 -\n"
	                                                "arrives itself 2026-12-16 08:00 for 09:30\n"
	                                                "starts itself 2026-12-17 09:00 for 10:00\n"
	                                                "later open -\n"
	                                                "later itself open -\n");
}

/* A visit that the protocol lists for an event takes its place, with both times unless it has its own. */
static void visits_listed_for_an_event(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const char script[] =
		SYRINGE KIT "event: id=arrives; own_day=0; exact=yes; arrival=yes; arrive_before=90 min\n"
			    "event: id=talk; own_day=0; exact=yes; arrive_before=30 min\n"
			    "event: id=trigger; own_day=1; exact=yes\n"
			    "item: id=a; medicine=examplin; start=first(trigger, on 2026-12-31); end=doses 1\n"
			    "dose: from=1; dose=250 mcg\n"
			    "visit: event=arrives\n"
			    "visit: event=talk; at=11:00\n"
			    "visit: event=talk; day=1; at=12:00\n" PLAN
			    "date: arrives=2026-12-16 08:00; talk=2026-12-17 10:00; trigger=2026-12-14 21:30\n";
	const struct course *course = course_in(arena, script, "");
	assert_string_equal(visits_text(arena, course), "arrives 2026-12-16 08:00 for 09:30\n"
	                                                "talk 2026-12-17 11:00\n"
	                                                "talk 2026-12-18 12:00\n");
}

/* The sheet is good until the next visit after the day it speaks from, unless the plan says. */
static void good_until_next_visit(void **state)
{
	static const struct {
		const char *plan;
		const char *until;
	} cases[] = {{"plan: as_of=2026-12-07\n", "2026-12-08"},
	             {"plan: as_of=2026-12-08\n", "2026-12-11"},
	             {"plan: as_of=2026-12-11\n", NULL},
	             {"plan: as_of=2026-12-07; good_until=2026-12-10\n", "2026-12-10"}};
	struct arena *arena = case_of(state)->arena;
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		const char *script = arena_printf(arena,
		                                  "%sevent: id=begin; own_day=1\n"
		                                  "item: id=a; medicine=examplin; at=20:00; start=begin day 1; "
		                                  "end=days 14\ndose: from=1; dose=250 mcg\n"
		                                  "visit: event=begin; day=8; at=09:15\nvisit: event=begin; day=5; "
		                                  "at=08:30\n%sdate: begin=2026-12-04\n",
		                                  SYRINGE KIT, cases[i].plan);
		const struct course *course = course_in(arena, script, "");
		assert_int_equal(course->has_good_until, cases[i].until != NULL);
		if (cases[i].until)
			assert_string_equal(date_print(arena, course->good_until), cases[i].until);
	}
}

static void hours_between_events_are_kept(void **state)
{
	struct arena *arena = case_of(state)->arena;
	/* On 28 March 2027 clocks go forward: 21:30 to 10:30 two days on is 36 h */
	const struct course *course =
		course_in(arena,
	                  SYRINGE KIT
	                  "event: id=procedure; exact=yes\nevent: id=trigger; exact=yes; check=procedure; by=36 h\n"
	                  "item: id=a; medicine=examplin; start=trigger; end=doses 1\ndose: from=1; dose=250 mcg\n" PLAN
	                  "date: procedure=2027-03-29 10:30; trigger=2027-03-27 21:30\n",
	                  "");
	assert_int_equal(course->n_times, 1);
	assert_string_equal(course->times[0].from->id, "trigger");
	assert_string_equal(course->times[0].to->id, "procedure");
	assert_string_equal(number_print(arena, course->times[0].hours, DECIMAL_POINT), "36");
	assert_int_equal(course->n_clock_changes, 1);
	assert_string_equal(date_print(arena, course->clock_changes[0].date), "2027-03-28");
	assert_int_equal(course->clock_changes[0].by, 3600);
	assert_string_equal(course->clock_changes[0].zone->name, "Europe/London");
}

static void clock_changes_within_the_course(void **state)
{
	struct arena *arena = case_of(state)->arena;
	/*
	 * In London clocks go back on 31 October 2027. New York's go back on 7 November: away there over both days, only that
	 * one is met there. A course that ends on the 30th meets none.
	 */
	const struct course *course =
		course_in(arena,
	                  SYRINGE KIT "item: id=a; medicine=examplin; at=20:00; start=on 2027-10-30; end=days "
	                              "12\ndose: from=1; dose=250 mcg\nplan: as_of=2027-10-25\n"
	                              "away: from=2027-11-03; to=2027-11-08; zone=America/New_York; keep=clock\n",
	                  "");
	assert_int_equal(course->n_clock_changes, 2);
	assert_string_equal(date_print(arena, course->clock_changes[0].date), "2027-10-31");
	assert_int_equal(course->clock_changes[0].by, -3600);
	assert_string_equal(date_print(arena, course->clock_changes[1].date), "2027-11-07");
	assert_string_equal(course->clock_changes[1].zone->name, "America/New_York");
	const struct course *before = course_in(arena,
	                                        SYRINGE KIT "item: id=a; medicine=examplin; at=20:00; start=on "
	                                                    "2027-10-28; end=days 2\ndose: from=1; dose=250 "
	                                                    "mcg\nplan: as_of=2027-10-25\n",
	                                        "");
	assert_int_equal(before->n_clock_changes, 0);
}

static void doses_by_time(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct course *course = course_in(
		arena,
		SYRINGE KIT
		"item: id=waits; medicine=examplin; at=08:00; start=call; end=days 2\ndose: from=1; dose=250 mcg\n"
		"item: id=late; medicine=examplin; at=22:00; start=on 2026-12-04; end=days 2\ndose: from=1; dose=250 "
		"mcg\n"
		"item: id=early; medicine=examplin; at=08:00; start=on 2026-12-05; end=days 1\ndose: from=1; dose=250 "
		"mcg\n" PLAN,
		"");
	assert_string_equal(course_text(arena, course), "late 1: 250 mcg to all from kit 1 (opened), leaves 0 mcg\n"
	                                                "early 1: 250 mcg to all from kit 2 (opened), leaves 0 mcg\n"
	                                                "late 2: 250 mcg to all from kit 3 (opened), leaves 0 mcg\n"
	                                                "waits 1: 250 mcg to all from kit 4 (opened), leaves 0 mcg\n"
	                                                "waits 2: 250 mcg to all from kit 5 (opened), leaves 0 mcg\n");
}

static void amounts_that_a_call_may_set(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct course *course = course_in(
		arena,
		SYRINGE KIT "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 3\n"
			    "dose: from=1; dose=250 mcg\n"
			    "dose: from=2; dose=call after the scan; may_become=100 mcg, 250 mcg, 0.2 mg\n" PLAN,
		"");
	const struct dose *dose = &course->doses[1];
	assert_int_equal(dose->amount, DOSE_BY_CALL);
	assert_int_equal(dose->n_draws, 0);
	assert_int_equal(dose->n_options, 3);
	/* 250 mcg in 1 mL: 100 mcg is 0.4 mL, 0.2 mg is 0.8 mL */
	static const char *const lines[] = {"0.4 on syringe-1", "all", "0.8 on syringe-1"};
	for (size_t i = 0; i < 3; i++) {
		assert_int_equal(dose->options[i].n_draws, 1);
		assert_string_equal(text_of_mark(arena, &dose->options[i].draws[0]), lines[i]);
	}
	assert_ptr_equal(course->doses[2].options, dose->options);
	/* Each day may need a vial, whatever the call says. */
	assert_int_equal(course->supplies[0].needed, 3);
	assert_kit(course, KIT_SYRINGE, 3, 3, 0);
}

static void an_amount_between_lines_is_said_where_it_is_written(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	/* 101 mcg is 0.404 mL, between 0.4 and 0.41; it stands in the second step, and in no other */
	assert_non_null(
		course_of(arena,
	                  script_plan(arena, SYRINGE KIT
	                              "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 9\n"
	                              "dose: from=1; dose=250 mcg\ndose: from=3; dose=101 mcg\n" PLAN),
	                  &findings));
	assert_int_equal(findings_count(&findings, FINDING_STOP), 1);
	assert_string_equal(findings.list[0].code, "volume-between-lines");
	assert_int_equal(findings.list[0].place.line, 6);
	assert_int_equal(findings.list[0].place.column, 20);
}

/* ---- laws, on random courses ---- */

enum { RANDOM_COURSES = 400 };

static const char *random_script(struct arena *arena, uint64_t *seed)
{
	static const char *const starts[] = {"on 2026-12-04", "begin day 3", "call", "first(begin day 6, call)",
	                                     "a day 2"};
	static const char *const ends[] = {"days 6", "doses 5", "begin day 12", "call"};
	static const char *const times[] = {"20:00", "08:00, 20:00", "00:30"};
	static const char *const doses[] = {"250 mcg", "125 mcg; split=yes", "100 mcg", "0.2 mg"};
	const char *text = "protocol: horizon=7 days\n" SYRINGE KIT "event: id=begin; own_day=1\n";
	int n = 1 + (int)(next_random(seed) % 3);
	for (int i = 0; i < n; i++) {
		/* only what comes after it may follow item a */
		const char *start = starts[next_random(seed) % (i == 0 ? 4 : 5)];
		text = arena_printf(arena, "%sitem: id=%c; medicine=examplin; at=%s; every=%d days; start=%s; end=%s\n",
		                    text, 'a' + i, times[next_random(seed) % 3], 1 + (int)(next_random(seed) % 2),
		                    start, ends[next_random(seed) % 4]);
		text = arena_printf(arena, "%sdose: from=1; dose=%s\ndose: from=4; dose=%s\n", text,
		                    doses[next_random(seed) % 4], doses[next_random(seed) % 4]);
	}
	text = arena_printf(arena, "%splan: as_of=2026-12-%02d\n", text, 1 + (int)(next_random(seed) % 8));
	return next_random(seed) % 4 ? arena_printf(arena, "%sdate: begin=2026-12-05\n", text) : text;
}

static void check_dose_laws(const struct course *course, const struct dose *dose)
{
	size_t times_listed = 0;
	for (size_t i = 0; i < course->n_doses; i++)
		times_listed += course->by_time[i] == dose;
	assert_int_equal(times_listed, 1);
	if (dose->open) {
		assert_int_equal(dose->date.year, 0);
		assert_int_equal(dose->clock_date.year, 0);
		assert_int_equal(dose->when, 0);
		assert_false(dose->done);
	}
	struct quantity sum = {{0, 1}, dose->ordered.unit};
	for (size_t i = 0; i < dose->n_draws; i++)
		assert_true(quantity_add(sum, dose->draws[i].dose, &sum));
	if (dose->n_draws > 0)
		assert_true(quantity_same(sum, dose->ordered));
}

static void check_course_laws(const struct course *course)
{
	size_t in_runs = 0;
	for (size_t i = 0; i < course->n_runs; i++) {
		const struct item_run *run = &course->runs[i];
		for (size_t j = 0; j < run->n_doses; j++) {
			const struct dose *dose = &run->doses[j];
			assert_ptr_equal(dose, &course->doses[in_runs]);
			assert_ptr_equal(dose->item, run->item);
			assert_int_equal(dose->n, j + 1);
			assert_int_equal(dose->open, run->open);
			if (!run->open)
				assert_int_equal(dose->day, date_difference(dose->date, run->first) + 1);
			in_runs++;
		}
	}
	assert_int_equal(in_runs, course->n_doses);
	for (size_t i = 1; i < course->n_doses; i++) {
		const struct dose *before = course->by_time[i - 1];
		const struct dose *after = course->by_time[i];
		assert_true(!before->open || after->open);
		if (!after->open)
			assert_true(before->when <= after->when);
	}
	for (size_t i = 0; i < course->n_doses; i++)
		check_dose_laws(course, &course->doses[i]);
}

static void random_courses_obey_the_laws(void **state)
{
	struct arena *arena = case_of(state)->arena;
	uint64_t seed = 19;
	size_t drawn = 0;
	for (int i = 0; i < RANDOM_COURSES; i++) {
		const struct plan *plan = script_plan(arena, random_script(arena, &seed));
		struct findings findings = findings_in(arena);
		const struct course *course = course_of(arena, plan, &findings);
		assert_non_null(course);
		check_course_laws(course);
		for (size_t j = 0; j < course->n_doses; j++)
			drawn += course->doses[j].n_draws;
		arena_reset(arena);
	}
	assert_true(drawn > RANDOM_COURSES); /* most courses must come as far as draws for this to show anything */
}

int main(void)
{
	static const struct {
		const char *name;
		CMUnitTestFunction function;
	} cases[] = {
		{"halves from one vial, then whole ones", halves_then_whole},
		{"counts what four draws use", counts_what_four_draws_use},
		{"counts needles by their size", counts_needles_by_their_size},
		{"several powders in one liquid", several_powders_in_one_liquid},
		{"two medicines are served apart", two_medicines_are_served_apart},
		{"tablets need no kit", tablets_need_no_kit},
		{"runs say how they start and end", runs_say_how_they_start_and_end},
		{"a dated end bounds what waits", a_dated_end_bounds_what_waits},
		{"what is ahead leaves out what was used up", what_is_ahead_leaves_out_what_was_used_up},
		{"runs that wait for several things", runs_that_wait_for_several},
		{"visits in order, with both times of an arrival", visits_in_order},
		{"visits listed for an event", visits_listed_for_an_event},
		{"good until the next visit", good_until_next_visit},
		{"hours between events, across a clock change", hours_between_events_are_kept},
		{"clock changes within the course, here and away", clock_changes_within_the_course},
		{"doses by time, open ones last", doses_by_time},
		{"amounts that a call may set", amounts_that_a_call_may_set},
		{"a fault of a step is said once, there", an_amount_between_lines_is_said_where_it_is_written},
		{"laws on random courses", random_courses_obey_the_laws},
	};
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
		tests_add(&tests, cases[i].name, cases[i].function, NULL);
	return tests_run(&tests, "course");
}
