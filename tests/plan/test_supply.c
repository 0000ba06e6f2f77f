/*
 * Supplies, told in containers: published courses row by row, what must hold of any course, and each thing that is
 * said about containers. The search itself is proved in test_supply_search.c.
 *
 * December 2026 begins on a Tuesday; every expectation is worked out by hand beside it.
 */
#include "plan/supply.h"

#include "plan/draw.h"
#include "support/cases.h"
#include "support/course_script.h"
#include "support/published.h"

#include <stdio.h>
#include <string.h>

#define SYRINGE "syringe: id=syringe-1; capacity=1; step=0.01\n"
#define MEDICINE "medicine: id=examplin\n"
#define BY_MOUTH "medicine: id=examplin; route=oral\n"
#define PLAN "plan: as_of=2026-12-01\n"

static const char *plain(struct arena *arena, struct quantity quantity)
{
	return quantity_plain(arena, quantity, DECIMAL_POINT);
}

static const struct course *course_in(struct arena *arena, const char *script, const char *expected_findings)
{
	struct findings findings = findings_in(arena);
	const struct course *course = course_of(arena, script_plan(arena, script), &findings);
	assert_non_null(course);
	if (expected_findings)
		assert_string_equal(findings_text(arena, &findings), expected_findings);
	return course;
}

static const char *use_text(struct arena *arena, const struct container_use *use)
{
	const char *then = use->then == THEN_DISCARD ? "" : ", kept";
	if (use->has_by)
		then = arena_printf(arena, "%s until %s%s", then, date_print(arena, use->by),
		                    use->by_day_only ? ""
		                                     : arena_printf(arena, " %s", clock_print(arena, use->by_time)));
	return arena_printf(arena, "%s from %s %lld%s%s, leaves %s%s", plain(arena, use->takes), use->product->id,
	                    (long long)use->number, use->opens ? " opened" : "", use->in_hand ? " in hand" : "",
	                    plain(arena, use->leaves), then);
}

/* "1: 75 units from pen 1, leaves 0 units + 150 units from pen 2 opened, leaves 150 units, kept" */
static const char *uses_text(struct arena *arena, const struct course *course)
{
	const char *text = "";
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = course->by_time[i];
		const char *between = "";
		text = arena_printf(arena, "%s%lld: ", text, (long long)dose->n);
		for (size_t j = 0; j < dose->n_draws; j++) {
			for (size_t k = 0; k < dose->draws[j].n_containers; k++) {
				text = arena_printf(arena, "%s%s%s", text, between,
				                    use_text(arena, &dose->draws[j].containers[k]));
				between = " & ";
			}
			between = " + ";
		}
		text = arena_printf(arena, "%s\n", text);
	}
	return text;
}

/* "pen: 3 needed, 1 dispensed, 2 to get from 2026-12-05, 0 units discarded, 75 units left" */
static const char *supplies_text(struct arena *arena, const struct course *course)
{
	const char *text = "";
	for (size_t i = 0; i < course->n_supplies; i++) {
		const struct product_supply *supply = &course->supplies[i];
		const char *from = supply->runs_short
		                           ? arena_printf(arena, " from %s", date_print(arena, supply->short_from))
		                           : "";
		text = arena_printf(arena, "%s%s: %lld needed, %lld dispensed, %lld to get%s, %s discarded, %s left\n",
		                    text, supply->product->id, (long long)supply->needed, (long long)supply->dispensed,
		                    (long long)supply->to_get, from, plain(arena, supply->discarded),
		                    plain(arena, supply->left));
	}
	return text;
}

/* ---- published courses ---- */

struct published_case {
	const struct published_table *table;
	size_t row;
};

static const char *column(const struct published_case *published, const char *name)
{
	return published_value(published->table, published->row, name);
}

/* One dose a day from 4 December on, without a known end: what is left is not thrown away. */
static const char *daily(struct arena *arena, const char *product, const char *doses, int days)
{
	return arena_printf(arena,
	                    MEDICINE "product: id=box; %s\n"
	                             "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; horizon=%d days\n"
	                             "%s" PLAN,
	                    product, days, doses);
}

/* "[225, 150]" as a line for each day; the number of days. */
static int dose_lines(struct arena *arena, const char *list, const char **lines)
{
	int day = 0;
	*lines = "";
	for (list++; *list != '\0' && *list != ']'; list++) {
		int length = 0;
		char amount[16];
		assert_int_equal(sscanf(list, " %15[0-9.]%n", amount, &length), 1);
		*lines = arena_printf(arena, "%sdose: from=%d; dose=%s units\n", *lines, ++day, amount);
		list += length;
		if (*list == ']')
			break;
	}
	return day;
}

/* As the table writes its steps: "day 1: 225 from #1; day 2: 75 from #1 + 150 from #2". */
static const char *steps_text(struct arena *arena, const struct course *course)
{
	const char *text = "";
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = &course->doses[i];
		text = arena_printf(arena, "%s%sday %lld: ", text, i > 0 ? "; " : "", (long long)dose->n);
		for (size_t j = 0; j < dose->n_draws; j++)
			text = arena_printf(
				arena, "%s%s%s from #%lld", text, j > 0 ? " + " : "",
				number_print(arena, dose->draws[j].containers[0].takes.number, DECIMAL_POINT),
				(long long)dose->draws[j].containers[0].number);
	}
	return text;
}

static void check_steps(struct arena *arena, const struct published_case *published, const char *content,
                        const char *doses, bool span)
{
	const char *lines;
	int days = dose_lines(arena, doses, &lines);
	const char *product = arena_printf(arena, "container=pen; strength=%s units; dial_step=0.5 units%s", content,
	                                   span ? "; span=yes" : "");
	const struct course *course = course_in(arena, daily(arena, product, lines, days), "");
	const char *expected = column(published, "expected");
	int count = 0, left = 0, discarded = 0;
	assert_true(sscanf(expected, "%d", &count) == 1);
	assert_int_equal(course->n_supplies, 1);
	assert_int_equal(course->supplies[0].needed, count);
	assert_string_equal(steps_text(arena, course), column(published, "steps"));
	const char *says_left = strstr(expected, "left ");
	if (says_left && sscanf(says_left, "left %d IU", &left) == 1)
		assert_string_equal(number_print(arena, course->supplies[0].left.number, DECIMAL_POINT),
		                    arena_printf(arena, "%d", left));
	const char *says_discarded = strstr(expected, "discarded ");
	if (says_discarded)
		assert_int_equal(sscanf(says_discarded, "discarded %d IU", &discarded), 1);
	assert_string_equal(number_print(arena, course->supplies[0].discarded.number, DECIMAL_POINT),
	                    arena_printf(arena, "%d", discarded));
}

static void published_steps(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct published_case *published = case_of(state)->row;
	const char *given = column(published, "given");
	const char *doses = strchr(given, '[');
	char content[16];
	assert_non_null(doses);
	if (sscanf(given, "containers of %15[0-9] IU", content) != 1)
		assert_int_equal(sscanf(given, "cartridge holds %*d, delivers at most %15[0-9] IU", content), 1);
	check_steps(arena, published, content, doses, !strstr(column(published, "kind"), "no second"));
}

static void published_life(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct published_case *published = case_of(state)->row;
	char content[16], dose[16];
	int days, life, count, second;
	assert_int_equal(sscanf(column(published, "given"),
	                        "container %15[0-9] IU, %15[0-9.] IU daily for %d days, use within %d days", content,
	                        dose, &days, &life),
	                 4);
	assert_int_equal(sscanf(column(published, "expected"),
	                        "%d containers; second opened on day %d; discarded at expiry 0 IU", &count, &second),
	                 2);
	const char *product =
		arena_printf(arena, "container=pen; strength=%s units; dial_step=0.5 units; in_use=%d days; span=yes",
	                     content, life);
	const char *doses = arena_printf(arena, "dose: from=1; dose=%s units\n", dose);
	const struct course *course = course_in(arena, daily(arena, product, doses, days), "");
	assert_int_equal(course->supplies[0].needed, count);
	assert_string_equal(number_print(arena, course->supplies[0].discarded.number, DECIMAL_POINT), "0");
	for (int day = 1; day <= days; day++)
		assert_int_equal(course->doses[day - 1].draws[0].containers[0].number, day < second ? 1 : 2);
}

static void published_doses_per_vial(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct published_case *published = case_of(state)->row;
	char content[16], dose[16], loss[16] = "0";
	int life = 28, count, found = 0;
	const char *given = column(published, "given");
	int read = sscanf(given, "vial %15[0-9.] mL, %15[0-9.] mL daily, in-use limit %d days", content, dose, &life);
	if (read == 2)
		read = sscanf(given, "vial %15[0-9.] mL, %15[0-9.] mL daily, %15[0-9.] mL lost", content, dose, loss);
	assert_int_equal(read, 3);
	assert_int_equal(sscanf(column(published, "expected"), "%d", &count), 1);
	const char *product =
		arena_printf(arena, "container=solution-vial; per_ml=1 mg/mL; volume=%s mL; in_use=%d days; loss=%s mL",
	                     content, life, loss);
	const char *doses = arena_printf(arena, "dose: from=1; dose=%s mL\n", dose);
	const struct course *course = course_in(arena, daily(arena, product, doses, 40), NULL);
	for (size_t i = 0; i < course->n_doses; i++) {
		assert_int_equal(course->doses[i].n_draws, 1);
		found += course->doses[i].draws[0].containers[0].number == 1;
	}
	assert_int_equal(found, count);
}

/* Single-use vials, each thrown away with its rest. Their lines do not matter here. */
static void published_whole_vials(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct published_case *published = case_of(state)->row;
	char dose[16], vial[16] = "75", discard[16] = "0";
	const char *given = column(published, "given");
	const char *expected = column(published, "expected");
	int days = 1, count;
	if (sscanf(given, "menotropin 75 IU vials, dose %15[0-9.] IU", dose) != 1 &&
	    sscanf(given, "%15[0-9.] IU x %d days, 75 IU vials", dose, &days) != 2) {
		assert_string_equal(given, "hCG 10,000 units vial, 10,000 units once");
		strcpy(dose, "10000");
		strcpy(vial, "10000");
	}
	assert_int_equal(sscanf(expected, "%d", &count), 1);
	sscanf(expected, "%*d vials; discard %15[0-9.] IU", discard);
	const char *product = arena_printf(arena,
	                                   "container=powder-vial; strength=%s units; liquid=1 mL; displacement=0 "
	                                   "mL; powders=6",
	                                   vial);
	const char *doses = arena_printf(arena, "dose: from=1; dose=%s units\n", dose);
	const struct course *course = course_in(arena, daily(arena, product, doses, days), NULL);
	assert_int_equal(course->supplies[0].needed, count);
	assert_string_equal(number_print(arena, course->supplies[0].discarded.number, DECIMAL_POINT), discard);
}

static const struct {
	const char *kind;
	CMUnitTestFunction function;
} published_kinds[] = {{"containers, splitting allowed", published_steps},
                       {"containers, no second injection allowed", published_steps},
                       {"overfill", published_steps},
                       {"in-use life", published_life},
                       {"doses per vial", published_doses_per_vial},
                       {"whole vials of 75", published_whole_vials},
                       {"course total", published_whole_vials}};

static size_t add_published(struct arena *arena, struct tests *tests)
{
	const struct published_table *table = published_read(arena, "worked.csv");
	size_t added = 0;
	for (size_t row = 0; row < table->n_rows; row++) {
		for (size_t i = 0; i < sizeof published_kinds / sizeof published_kinds[0]; i++) {
			if (strcmp(published_value(table, row, "kind"), published_kinds[i].kind) != 0)
				continue;
			struct published_case *published = arena_alloc(arena, sizeof *published);
			*published = (struct published_case){table, row};
			tests_add(tests,
			          arena_printf(arena, "%s %s, source %s", published_value(table, row, "kind"),
			                       published_value(table, row, "id"),
			                       published_value(table, row, "source_id")),
			          published_kinds[i].function, published);
			added++;
		}
	}
	return added;
}

/* ---- whole plans, worked out by hand ---- */

#define PEN(id, size)                                                                                               \
	"product: id=" id "; container=pen; strength=" size " units; dial_step=12.5 units; dial_least=12.5 units; " \
	"span=yes; in_use=28 days\n"
#define KIT                                                                                          \
	"product: id=kit; container=powder-vial; strength=250 mcg; liquid=1 mL; displacement=0 mL; " \
	"liquid_as=syringe; "                                                                        \
	"syringe=syringe-1"
#define TENTHS "syringe: id=syringe-3; capacity=3; step=0.1\n"
#define TWO "medicine: id=examplin; site_most=1.5 mL; two_sites=yes\n"
#define DAYS(n) "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days " #n "\n"
#define UNTIL_TOLD(n) "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; horizon=" #n " days\n"

struct whole_plan {
	const char *name;
	const char *script;
	const char *findings;
	const char *uses;
	const char *supplies;
};

static const struct whole_plan whole_plans[] = {
	/* 4 x 225 = 900: one pen of 900 is as little as three of 300, and the doses take no second injection. */
	{"mixed sizes: one large pen and four injections",
         MEDICINE PEN("pen-300", "300") PEN("pen-900", "900") DAYS(4) "dose: from=1; dose=225 units\n" PLAN, "",
         "1: 225 units from pen-900 1 opened, leaves 675 units, kept until 2026-12-31\n"
         "2: 225 units from pen-900 1, leaves 450 units, kept until 2026-12-31\n"
         "3: 225 units from pen-900 1, leaves 225 units, kept until 2026-12-31\n"
         "4: 225 units from pen-900 1, leaves 0 units\n",
         "pen-900: 1 needed, 0 dispensed, 1 to get from 2026-12-04, 0 units discarded, 0 units left\n"},
	/* 5 x 225 = 1,125. In hand 900; 225 are wanted more: one of 300 and not another of 900. The course ends, so
	 * the 75 that are left are thrown away. */
	{"mixed sizes: a small pen is got beside the large one in hand",
         MEDICINE PEN("pen-300", "300") PEN("pen-900", "900")
                 DAYS(5) "dose: from=1; dose=225 units\n" PLAN "dispensed: product=pen-900; count=1; expires=2027-03\n",
         "case:5:20: caution: what is in hand of examplin runs out before the dose of 2026-12-08; 'pen-300' must be "
         "got "
         "by then [stock-short]\n",
         "1: 225 units from pen-900 1 opened in hand, leaves 675 units, kept until 2026-12-31\n"
         "2: 225 units from pen-900 1 in hand, leaves 450 units, kept until 2026-12-31\n"
         "3: 225 units from pen-900 1 in hand, leaves 225 units, kept until 2026-12-31\n"
         "4: 225 units from pen-900 1 in hand, leaves 0 units\n"
         "5: 225 units from pen-300 1 opened, leaves 75 units\n",
         "pen-300: 1 needed, 0 dispensed, 1 to get from 2026-12-08, 75 units discarded, 0 units left\n"
         "pen-900: 1 needed, 1 dispensed, 0 to get, 0 units discarded, 0 units left\n"},
	/*
	 * 75 are left in the old one, opened on the 1st: 150 more come from a new one. The end is open, so what is left is no
	 * waste, and nothing is thrown away; two new ones alone would waste 75 and 75.
	 */
	{"a part-used pen is finished first",
         MEDICINE PEN("pen", "300") UNTIL_TOLD(2) "dose: from=1; dose=225 units\n" PLAN
                                                  "dispensed: product=pen; count=1; opened=2026-12-01; left=75 units\n"
                                                  "dispensed: product=pen; count=2; expires=2026-12-20\n",
         "",
         "1: 75 units from pen 1 in hand, leaves 0 units + 150 units from pen 2 opened in hand, leaves 150 units, kept "
         "until 2026-12-20\n"
         "2: 150 units from pen 2 in hand, leaves 0 units + 75 units from pen 3 opened in hand, leaves 225 units, kept "
         "until 2026-12-20\n",
         "pen: 3 needed, 3 dispensed, 0 to get, 0 units discarded, 225 units left\n"},
	/* 1.2 mL of 10 mg in 1 mL are 12 mg, two doses of 5 mg and 2 mg over. */
	{"what is left of a part-used vial, in mL",
         SYRINGE MEDICINE
         "product: id=vial; container=solution-vial; per_ml=10 mg/mL; volume=5 mL; in_use=28 days\n" DAYS(
		 2) "dose: from=1; dose=5 mg\n" PLAN
                    "dispensed: product=vial; count=1; opened=2026-12-01; left=1.2 mL; expires=2027-03-31\n",
         "",
         "1: 5 mg from vial 1 in hand, leaves 7 mg, kept until 2026-12-28\n"
         "2: 5 mg from vial 1 in hand, leaves 2 mg\n",
         "vial: 1 needed, 1 dispensed, 0 to get, 2 mg discarded, 0 mg left\n"},
	/* Opened on 7 November, day 1; day 28 is 4 December. So it serves the first dose and not the second. */
	{"a part-used pen on the last day of its life",
         MEDICINE PEN("pen", "300") DAYS(2) "dose: from=1; dose=75 units\n" PLAN
                                            "dispensed: product=pen; count=1; opened=2026-11-07; left=150 units\n",
         "case:4:20: caution: what is in hand of 'pen' runs out before the dose of 2026-12-05; more must be got by "
         "then "
         "[stock-short]\n",
         "1: 75 units from pen 1 in hand, leaves 75 units\n"
         "2: 75 units from pen 2 opened, leaves 225 units\n",
         "pen: 2 needed, 1 dispensed, 1 to get from 2026-12-05, 300 units discarded, 0 units left\n"},
	/* It may be used where it is in hand; what is wanted more is the item's own. */
	{"an approved stand-in at home is used up and not got",
         MEDICINE PEN(
		 "pen",
		 "300") "product: id=old; container=pen; strength=150 units; dial_step=12.5 units; stands_in_for=pen\n"
                        "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 3; products=pen\n"
                        "dose: from=1; dose=150 units\n" PLAN "dispensed: product=old; count=1; expires=2027-01\n",
         "case:5:20: caution: what is in hand of examplin runs out before the dose of 2026-12-05; 'pen' must be got by "
         "then [stock-short]\n",
         "1: 150 units from old 1 opened in hand, leaves 0 units\n"
         "2: 150 units from pen 1 opened, leaves 150 units, kept until 2027-01-01\n"
         "3: 150 units from pen 1, leaves 0 units\n",
         "pen: 1 needed, 0 dispensed, 1 to get from 2026-12-05, 0 units discarded, 0 units left\n"
         "old: 1 needed, 1 dispensed, 0 to get, 0 units discarded, 0 units left\n"},
	{"what nobody approved stays at home",
         MEDICINE PEN("pen",
                      "150") "product: id=old; container=pen; strength=150 units; dial_step=12.5 units\n"
                             "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1; products=pen\n"
                             "dose: from=1; dose=150 units\n" PLAN "dispensed: product=old; count=1; expires=2027-01\n",
         "", "1: 150 units from pen 1 opened, leaves 0 units\n",
         "pen: 1 needed, 0 dispensed, 1 to get from 2026-12-04, 0 units discarded, 0 units left\n"},
	/* From the 5th until the 6th only the other one; then the formulary's first again. */
	{"a change of product holds until its end",
         MEDICINE "product: id=one; container=prefilled; strength=10 mg; volume=1 mL\n"
                  "product: id=two; container=prefilled; strength=10 mg; volume=0.5 mL\n" DAYS(
			  4) "dose: from=1; dose=10 mg\n" PLAN
                             "change: item=a; from=2026-12-05; until=2026-12-06; product=two\n",
         "",
         "1: 10 mg from one 1 opened, leaves 0 mg\n"
         "2: 10 mg from two 1 opened, leaves 0 mg\n"
         "3: 10 mg from two 2 opened, leaves 0 mg\n"
         "4: 10 mg from one 2 opened, leaves 0 mg\n",
         "one: 2 needed, 0 dispensed, 2 to get from 2026-12-04, 0 mg discarded, 0 mg left\n"
         "two: 2 needed, 0 dispensed, 2 to get from 2026-12-05, 0 mg discarded, 0 mg left\n"},
	/* Halves at 20:00 on the 4th and 5th: kept until 22:00 on the 5th. */
	{"halves are kept by the hour",
         SYRINGE MEDICINE KIT "; policy=P-12; keep=26 h\n" DAYS(2) "dose: from=1; dose=125 mcg; split=yes\n" PLAN, "",
         "1: 125 mcg from kit 1 opened, leaves 125 mcg, kept until 2026-12-05 22:00\n"
         "2: 125 mcg from kit 1, leaves 0 mcg\n",
         "kit: 1 needed, 0 dispensed, 1 to get from 2026-12-04, 0 mcg discarded, 0 mcg left\n"},
	/* 30, then 30 of 75: with three powders in one liquid the last is taken in part. 180 of 225. */
	{"several powders in one liquid are one injection",
         SYRINGE MEDICINE
         "product: id=kit; container=powder-vial; strength=75 units; liquid=1 mL; displacement=0 mL; "
         "liquid_as=syringe; syringe=syringe-1; powders=3\n" DAYS(1) "dose: from=1; dose=180 units\n" PLAN,
         "",
         "1: 75 units from kit 1 opened, leaves 0 units & 75 units from kit 2 opened, leaves 0 units & 30 units from "
         "kit "
         "3 opened, leaves 45 units\n",
         "kit: 3 needed, 0 dispensed, 3 to get from 2026-12-04, 45 units discarded, 0 units left\n"},
	/* Packs of 10 inserts, 4 a day: the third day takes the last 2 and 2 of the next pack, as one handful. */
	{"packs are emptied piece by piece",
         BY_MOUTH
         "product: id=pack; container=counted; strength=10 inserts\n" DAYS(3) "dose: from=1; dose=4 inserts\n" PLAN,
         "",
         "1: 4 inserts from pack 1 opened, leaves 6 inserts, kept\n"
         "2: 4 inserts from pack 1, leaves 2 inserts, kept\n"
         "3: 2 inserts from pack 1, leaves 0 inserts & 2 inserts from pack 2 opened, leaves 8 inserts\n",
         "pack: 2 needed, 0 dispensed, 2 to get from 2026-12-04, 8 inserts discarded, 0 inserts left\n"},
	/* One and a half tablets a day: the second day takes a whole one and the other half. */
	{"the other half of a tablet is taken next",
         BY_MOUTH "product: id=tablets; container=counted; strength=1 tablet; halves=yes\n" DAYS(
		 2) "dose: from=1; dose=1.5 tablets\n" PLAN,
         "",
         "1: 1 tablet from tablets 1 opened, leaves 0 tablets & 0.5 tablets from tablets 2 opened, leaves 0.5 tablets, "
         "kept\n"
         "2: 1 tablet from tablets 3 opened, leaves 0 tablets & 0.5 tablets from tablets 2, leaves 0 tablets\n",
         "tablets: 3 needed, 0 dispensed, 3 to get from 2026-12-04, 0 tablets discarded, 0 tablets left\n"},
	/* 0.02 mL of a pen's medicine goes with each setting: 90 + 2 x 3 are 96 of 100, so a third dose does not fit. */
	{"priming is lost with each setting",
         MEDICINE "product: id=pen; container=pen; strength=100 units; dial_step=1 units; priming=2 units\n" DAYS(
		 3) "dose: from=1; dose=45 units\n" PLAN,
         "",
         "1: 45 units from pen 1 opened, leaves 53 units, kept\n"
         "2: 45 units from pen 1, leaves 6 units\n"
         "3: 45 units from pen 2 opened, leaves 53 units\n",
         "pen: 2 needed, 0 dispensed, 2 to get from 2026-12-04, 59 units discarded, 0 units left\n"},
	/* 2 units once, then 45 and 45 of what is left: 8 are left over, and 53 in the second. One in use was tested when it was opened. */
	{"priming is lost at the first use alone",
         MEDICINE
         "product: id=pen; container=pen; strength=100 units; dial_step=1 units; priming=2 units; test=first\n" DAYS(
		 3) "dose: from=1; dose=45 units\n" PLAN,
         "",
         "1: 45 units from pen 1 opened, leaves 53 units, kept\n"
         "2: 45 units from pen 1, leaves 8 units\n"
         "3: 45 units from pen 2 opened, leaves 53 units\n",
         "pen: 2 needed, 0 dispensed, 2 to get from 2026-12-04, 61 units discarded, 0 units left\n"},
	{"priming is not lost again by a pen in use",
         MEDICINE "product: id=pen; container=pen; strength=100 units; dial_step=1 units; priming=2 units; test=first; "
                  "in_use=28 days\n" DAYS(
			  2) "dose: from=1; dose=45 units\n" PLAN
                             "dispensed: product=pen; count=1; expires=2027-06-30; opened=2026-12-01; left=90 units\n",
         "",
         "1: 45 units from pen 1 in hand, leaves 45 units, kept until 2026-12-28\n"
         "2: 45 units from pen 1 in hand, leaves 0 units\n",
         "pen: 1 needed, 1 dispensed, 0 to get, 0 units discarded, 0 units left\n"},
	/* What is opened for undated doses has no day to be kept until. */
	{"undated doses have a time of their own",
         MEDICINE PEN("pen", "300") "item: id=a; medicine=examplin; at=20:00; start=call; end=days 2\n"
                                    "dose: from=1; dose=150 units\n" PLAN,
         "",
         "1: 150 units from pen 1 opened, leaves 150 units, kept\n"
         "2: 150 units from pen 1, leaves 0 units\n",
         "pen: 1 needed, 0 dispensed, 1 to get, 0 units discarded, 0 units left\n"},
	/*
	 * 24 mg of 10 mg/mL are 2.4 mL, and one place takes 1.5 mL: two of 1.2 mL, each on a line of the 3 mL syringe. The
	 * vial holds 30 mg, and is for one use.
	 */
	{"two places: exact halves",
         TENTHS TWO "product: id=vial; container=solution-vial; per_ml=10 mg/mL; volume=3 mL\n" DAYS(
		 1) "dose: from=1; dose=24 mg\n" PLAN,
         "", "1: 12 mg from vial 1 opened, leaves 18 mg, kept + 12 mg from vial 1, leaves 6 mg\n",
         "vial: 1 needed, 0 dispensed, 1 to get from 2026-12-04, 6 mg discarded, 0 mg left\n"},
	/* 2.5 mL: 1.25 mL is between 1.2 and 1.3 mL, whose sum is 2.5 mL. The larger goes first: 13 mg, then 12 mg. */
	{"two places: the nearest pair of lines, the larger first",
         TENTHS TWO "product: id=vial; container=solution-vial; per_ml=10 mg/mL; volume=3 mL\n" DAYS(
		 1) "dose: from=1; dose=25 mg\n" PLAN,
         "", "1: 13 mg from vial 1 opened, leaves 17 mg, kept + 12 mg from vial 1, leaves 5 mg\n",
         "vial: 1 needed, 0 dispensed, 1 to get from 2026-12-04, 5 mg discarded, 0 mg left\n"},
	/* 1.7 mL: 0.85 mL has a line on the syringe of hundredths, which is as good as it gets; 0.9 + 0.8 on that of tenths. */
	{"two places: halves on another syringe are nearer",
         TENTHS SYRINGE TWO "product: id=vial; container=solution-vial; per_ml=10 mg/mL; volume=3 mL\n" DAYS(
		 1) "dose: from=1; dose=17 mg\n" PLAN,
         "", "1: 8.5 mg from vial 1 opened, leaves 21.5 mg, kept + 8.5 mg from vial 1, leaves 13 mg\n",
         "vial: 1 needed, 0 dispensed, 1 to get from 2026-12-04, 13 mg discarded, 0 mg left\n"},
	/* 2.45 mL is no sum of tenths. Halves of 1.225 mL are rounded to 1.2 mL, 2.04 % off, where 5 % are allowed. */
	{"two places: halves are rounded where the medicine allows it",
         TENTHS "medicine: id=examplin; site_most=1.5 mL; two_sites=yes; round_most=5\n"
                "product: id=vial; container=solution-vial; per_ml=10 mg/mL; volume=3 mL\n" DAYS(
			1) "dose: from=1; dose=24.5 mg\n" PLAN,
         "", "1: 12.25 mg from vial 1 opened, leaves 17.75 mg, kept + 12.25 mg from vial 1, leaves 5.5 mg\n",
         "vial: 1 needed, 0 dispensed, 1 to get from 2026-12-04, 5.5 mg discarded, 0 mg left\n"},
	/* Each draw loses 0.1 mL, 1 mg. Day 1: 24 + 2 of 50 leave 24; the second needs 26, so it opens another. */
	{"two places: both lose what a draw loses",
         TENTHS TWO
         "product: id=vial; container=solution-vial; per_ml=10 mg/mL; volume=5 mL; in_use=28 days; loss=0.1 mL\n" DAYS(
		 2) "dose: from=1; dose=24 mg\n" PLAN,
         "",
         "1: 12 mg from vial 1 opened, leaves 37 mg, kept + 12 mg from vial 1, leaves 24 mg\n"
         "2: 12 mg from vial 2 opened, leaves 37 mg, kept + 12 mg from vial 2, leaves 24 mg\n",
         "vial: 2 needed, 0 dispensed, 2 to get from 2026-12-04, 48 mg discarded, 0 mg left\n"},
	/*
	 * Three powders of 75 units in 2.4 mL, 225 units of 93.75 in 1 mL: two of 1.2 mL, each with 37.5 units of each
	 * powder.
	 */
	{"two places: several powders in one liquid are in both",
         TENTHS TWO "product: id=kit; container=powder-vial; strength=75 units; liquid=2.4 mL; displacement=0 mL; "
                    "powders=3\n" DAYS(1) "dose: from=1; dose=225 units\n" PLAN,
         "",
         "1: 37.5 units from kit 1 opened, leaves 37.5 units, kept & 37.5 units from kit 2 opened, leaves 37.5 units, "
         "kept & "
         "37.5 units from kit 3 opened, leaves 37.5 units, kept + 37.5 units from kit 1, leaves 0 units & 37.5 units "
         "from "
         "kit 2, leaves 0 units & 37.5 units from kit 3, leaves 0 units\n",
         "kit: 3 needed, 0 dispensed, 3 to get from 2026-12-04, 0 units discarded, 0 units left\n"},
	/* Both ampoules hold 24 mg, so all else is equal: 1.2 mL of the second are one injection, 2.4 mL of the first two. */
	{"two places: one injection is better",
         TENTHS TWO "product: id=thin; container=ampoule; per_ml=10 mg/mL; volume=2.4 mL\n"
                    "product: id=thick; container=ampoule; per_ml=20 mg/mL; volume=1.2 mL\n" DAYS(
			    1) "dose: from=1; dose=24 mg\n" PLAN,
         "", "1: 24 mg from thick 1 opened, leaves 0 mg\n",
         "thick: 1 needed, 0 dispensed, 1 to get from 2026-12-04, 0 mg discarded, 0 mg left\n"},
	/* 137.5 is 11 steps of 12.5, and 5.5 of 25: the pen that comes first cannot be set to it. */
	{"a pen that cannot be set to the dose is passed over",
         MEDICINE "product: id=coarse; container=pen; strength=300 units; dial_step=25 units; span=yes\n"
                  "product: id=fine; container=pen; strength=300 units; dial_step=12.5 units; span=yes\n" DAYS(
			  1) "dose: from=1; dose=137.5 units\n" PLAN,
         "case:5:20: note: 'coarse' cannot measure this dose of examplin, so another product gives it: 137.5 units of "
         "examplin cannot be dialled: the pen 'coarse' goes in steps of 25 units; order 125 units or 150 units "
         "[product-passed-over]\n",
         "1: 137.5 units from fine 1 opened, leaves 162.5 units\n",
         "fine: 1 needed, 0 dispensed, 1 to get from 2026-12-04, 162.5 units discarded, 0 units left\n"},
	/* What is at home is not used where it cannot be: that is more than a note. On the second day it can. */
	{"what is in hand and cannot measure the dose",
         BY_MOUTH "product: id=whole; container=counted; strength=1 tablet\n"
                  "product: id=scored; container=counted; strength=1 tablet; halves=yes\n" DAYS(
			  2) "dose: from=1; dose=1.5 tablets\ndose: from=2; dose=2 tablets\n" PLAN
                             "dispensed: product=whole; count=2; expires=2027-03\n",
         "case:5:20: caution: 'whole' cannot measure this dose of examplin, so another product gives it: 1.5 tablets "
         "of "
         "examplin is not a whole number, and a tablet of 'whole' is not divided; order whole ones "
         "[product-passed-over]\n"
         "case:5:20: caution: what is in hand of examplin runs out before the dose of 2026-12-04; 'scored' must be got "
         "by "
         "then [stock-short]\n",
         "1: 1 tablet from scored 1 opened, leaves 0 tablets & 0.5 tablets from scored 2 opened, leaves 0.5 tablets\n"
         "2: 1 tablet from whole 1 opened in hand, leaves 0 tablets & 1 tablet from whole 2 opened in hand, leaves 0 "
         "tablets\n",
         "whole: 2 needed, 2 dispensed, 0 to get, 0 tablets discarded, 0 tablets left\n"
         "scored: 2 needed, 0 dispensed, 2 to get from 2026-12-04, 0.5 tablets discarded, 0 tablets left\n"},
	/* 0.33 mL has a line on the syringe of hundredths and none on that of tenths, by which the weak vial is measured. */
	{"a syringe without the line passes its product over",
         SYRINGE TENTHS MEDICINE
         "product: id=weak; container=solution-vial; per_ml=10 mg/mL; volume=1 mL; syringe=syringe-3\n"
         "product: id=same; container=solution-vial; per_ml=10 mg/mL; volume=1 mL; syringe=syringe-1\n" DAYS(
		 1) "dose: from=1; dose=3.3 mg\n" PLAN,
         "case:7:20: note: 'weak' cannot measure this dose of examplin, so another product gives it: 3.3 mg of "
         "examplin is 0.33 mL, between 0.3 mL (3 mg) and 0.4 mL (4 mg) on the syringe 'syringe-3'; order an amount "
         "that has a line, or use the syringe 'syringe-1', which has one there [product-passed-over]\n",
         "1: 3.3 mg from same 1 opened, leaves 6.7 mg\n",
         "same: 1 needed, 0 dispensed, 1 to get from 2026-12-04, 6.7 mg discarded, 0 mg left\n"},
	/* The stand-in at home can give the dose and the item's own product cannot: while it lasts, it does. */
	{"a stand-in in hand gives what the listed one cannot",
         MEDICINE "product: id=coarse; container=pen; strength=300 units; dial_step=25 units\n"
                  "product: id=fine; container=pen; strength=300 units; dial_step=12.5 units; stands_in_for=coarse\n"
                  "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1; products=coarse\n"
                  "dose: from=1; dose=137.5 units\n" PLAN "dispensed: product=fine; count=1; expires=2027-03\n",
         "", "1: 137.5 units from fine 1 opened in hand, leaves 162.5 units\n",
         "fine: 1 needed, 1 dispensed, 0 to get, 162.5 units discarded, 0 units left\n"},
};

static void plans_as_worked_out(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct whole_plan *row = case_of(state)->row;
	const struct course *course = course_in(arena, row->script, row->findings);
	assert_string_equal(uses_text(arena, course), row->uses);
	assert_string_equal(supplies_text(arena, course), row->supplies);
}

/* ---- what is said ---- */

static const struct said {
	const char *name;
	const char *script;
	const char *findings;
} saids[] = {
	{"a split without a policy", SYRINGE MEDICINE KIT "\n" DAYS(2) "dose: from=1; dose=125 mcg; split=yes\n" PLAN,
         "case:5:20: stop: the doses of examplin are to share a container, but 'kit' has no 'share' policy; a "
         "single-use "
         "container is not kept without one [split-without-policy]\n"},
	{"a second half that comes too late",
         SYRINGE MEDICINE KIT "; policy=P-12; keep=23 h\n" DAYS(2) "dose: from=1; dose=125 mcg; split=yes\n" PLAN,
         "case:5:20: stop: the second half of examplin falls 24 h after the first, but policy 'P-12' lets the rest be "
         "kept 23 h; give it sooner, or do not split [rest-kept-too-long]\n"},
	/* 24 h and 30 min of which 24 h pass */
	{"a second half that comes nearly too late",
         SYRINGE MEDICINE KIT "; policy=P-12; keep=24.5 h\n" DAYS(2) "dose: from=1; dose=125 mcg; split=yes\n" PLAN,
         "case:5:20: caution: the second half of examplin leaves less than 1 h of the 24.5 h that the rest may be kept "
         "[rest-kept-nearly-too-long]\n"},
	{"the exact limit is allowed, and an hour to spare says nothing",
         SYRINGE MEDICINE KIT "; policy=P-12; keep=25 h\n" DAYS(2) "dose: from=1; dose=125 mcg; split=yes\n" PLAN, ""},
	{"an odd number of halves",
         SYRINGE MEDICINE KIT "; policy=P-12; keep=26 h\n" DAYS(3) "dose: from=1; dose=125 mcg; split=yes\n" PLAN,
         "case:5:20: note: the rest of the 'kit' opened for the last split dose of examplin has no second dose; it is "
         "thrown away [rest-thrown-away]\n"},
	{"more than one container delivers", SYRINGE MEDICINE KIT "\n" DAYS(1) "dose: from=1; dose=300 mcg\n" PLAN,
         "case:5:20: stop: 300 mcg of examplin is more than one 'kit' delivers (250 mcg), and the product does not "
         "allow "
         "a second one for the same dose ('span') [no-container]\n"},
	{"a unit that does not follow", SYRINGE MEDICINE KIT "\n" DAYS(1) "dose: from=1; dose=30 units\n" PLAN,
         "case:5:20: stop: 30 units of examplin cannot be turned into mcg: there is no fixed factor between them; only "
         "a "
         "label's second strength ('also_labelled') could say [unit-mismatch]\n"},
	{"all in hand has expired",
         SYRINGE MEDICINE KIT "\n" DAYS(1) "dose: from=1; dose=250 mcg\n" PLAN
                                           "dispensed: product=kit; count=3; expires=2026-12-03\n",
         "case:5:20: caution: a 'kit' in hand expires on 2026-12-03, before the dose of 2026-12-04; it is not counted "
         "[stock-expired]\n"
         "case:5:20: caution: what is in hand of 'kit' runs out before the dose of 2026-12-04; more must be got by "
         "then "
         "[stock-short]\n"},
	{"the last day of an expiry is a day of use",
         SYRINGE MEDICINE KIT "\n" DAYS(1) "dose: from=1; dose=250 mcg\n" PLAN
                                           "dispensed: product=kit; count=1; expires=2026-12-04\n",
         ""},
	{"expired before an undated dose",
         SYRINGE MEDICINE KIT "\nitem: id=a; medicine=examplin; at=20:00; start=call; end=days 1\n"
                              "dose: from=1; dose=250 mcg\n" PLAN
                              "dispensed: product=kit; count=1; expires=2026-11-30\n",
         "case:5:20: caution: a 'kit' in hand expired on 2026-11-30; it is not counted [stock-expired]\n"
         "case:5:20: caution: what is in hand of 'kit' runs out before the dose of day 1; more must be got by then "
         "[stock-short]\n"},
	{"stock runs out",
         SYRINGE MEDICINE KIT "\n" DAYS(3) "dose: from=1; dose=250 mcg\n" PLAN
                                           "dispensed: product=kit; count=2; expires=2027-01\n",
         "case:5:20: caution: what is in hand of 'kit' runs out before the dose of 2026-12-06; more must be got by "
         "then "
         "[stock-short]\n"},
	{"a medicine without a product", MEDICINE DAYS(1) "dose: from=1; dose=250 mcg\n" PLAN,
         "case:1:1: stop: 'examplin' has no product that its item may be given from; add one to the formulary "
         "[no-product]\n"},
	{"a container that does not say what it delivers",
         MEDICINE
         "product: id=vial; container=solution-vial; per_ml=5 mg/mL\n" DAYS(1) "dose: from=1; dose=5 mg\n" PLAN,
         "case:2:1: stop: 'vial' does not say what one container delivers; add its volume [content-unknown]\n"},
	{"what is left, in a unit that the pen is not counted in",
         MEDICINE PEN("pen", "300") DAYS(1) "dose: from=1; dose=150 units\n" PLAN
                                            "dispensed: product=pen; count=1; opened=2026-12-01; left=75 mcg\n",
         "case:6:58: stop: 75 mcg are left of 'pen', which is counted in units; write it in units "
         "[unit-mismatch]\n"},
	{"more left than a full one delivers",
         MEDICINE PEN("pen", "300") DAYS(1) "dose: from=1; dose=150 units\n" PLAN
                                            "dispensed: product=pen; count=1; opened=2026-12-01; left=301 units\n",
         "case:6:58: stop: 301 units are left of 'pen', and a full one delivers 300 units; correct it "
         "[left-too-much]\n"},
	{"a loss in a unit that the vial is not counted in",
         SYRINGE MEDICINE
         "product: id=vial; container=solution-vial; per_ml=10 mg/mL; volume=5 mL; in_use=28 days; loss=5 units\n" DAYS(
		 1) "dose: from=1; dose=5 mg\n" PLAN,
         "case:3:95: stop: the 'loss' of 'vial' is in units, and it is counted in mg; write it in mg or in mL "
         "[unit-mismatch]\n"},
	{"no product can be set to the dose",
         MEDICINE "product: id=coarse; container=pen; strength=300 units; dial_step=25 units\n"
                  "product: id=tens; container=pen; strength=300 units; dial_step=10 units\n" DAYS(
			  1) "dose: from=1; dose=137.5 units\n" PLAN,
         "case:5:20: stop: no product of examplin can measure 137.5 units; 'coarse': 137.5 units of examplin cannot be "
         "dialled: the pen 'coarse' goes in steps of 25 units; order 125 units or 150 units; 'tens': 137.5 units of "
         "examplin cannot be dialled: the pen 'tens' goes in steps of 10 units; order 130 units or 140 units "
         "[no-product-measures]\n"},
	/* a tablet of 2 mg: 3 mg are one and a half */
	{"the only product cannot: said as of any other draw",
         BY_MOUTH
         "product: id=whole; container=counted; strength=1 tablet\n" DAYS(1) "dose: from=1; dose=1.5 tablets\n" PLAN,
         "case:4:20: stop: 1.5 tablets of examplin is not a whole number, and a tablet of 'whole' is not divided; "
         "order "
         "whole ones [not-divisible]\n"},
	{"two places that the medicine does not allow",
         TENTHS "medicine: id=examplin; site_most=1.5 mL\n"
                "product: id=vial; container=solution-vial; per_ml=10 mg/mL; volume=3 mL\n" DAYS(
			1) "dose: from=1; dose=24 mg\n" PLAN,
         "case:5:20: stop: 24 mg of examplin is 2.4 mL in one place, and 1.5 mL is the most allowed there; order it as "
         "two doses [site-volume]\n"},
	{"more than two places take",
         TENTHS TWO "product: id=vial; container=solution-vial; per_ml=10 mg/mL; volume=6 mL\n" DAYS(
		 1) "dose: from=1; dose=31 mg\n" PLAN,
         "case:5:20: stop: 31 mg of examplin is 3.1 mL, more than any syringe in stock holds with room for air; it "
         "takes at least 2 injections, which must be doses of their own in the order, or a larger syringe "
         "[no-syringe-holds]\n"
         "case:5:20: stop: 31 mg of examplin is 3.1 mL in one place, and 1.5 mL is the most allowed there; no two "
         "lines of one syringe make it up within that, so order another amount [site-volume]\n"},
	/* 2.45 mL: lines of tenths make 2.4 or 2.5 mL, never that. */
	{"no two lines make the volume",
         TENTHS TWO "product: id=vial; container=solution-vial; per_ml=10 mg/mL; volume=3 mL\n" DAYS(
		 1) "dose: from=1; dose=24.5 mg\n" PLAN,
         "case:5:20: stop: 24.5 mg of examplin is 2.45 mL, between 2.4 mL (24 mg) and 2.5 mL (25 mg) on the syringe "
         "'syringe-3'; no other syringe in stock has a line there; order an amount that has one, or stock a finer "
         "syringe [volume-between-lines]\n"
         "case:5:20: stop: 24.5 mg of examplin is 2.45 mL in one place, and 1.5 mL is the most allowed there; no two "
         "lines of one syringe make it up within that, so order another amount [site-volume]\n"},
	{"a filled syringe is one place",
         TENTHS TWO "product: id=filled; container=prefilled; strength=24 mg; volume=2.4 mL\n" DAYS(
		 1) "dose: from=1; dose=24 mg\n" PLAN,
         "case:5:20: stop: 24 mg of examplin is 2.4 mL in one place, and 1.5 mL is the most allowed there; a filled "
         "syringe "
         "is given in one place, so order it as two doses [site-volume]\n"},
	/* Opened on 1 November, day 28 is 28 November: three days before 1 December, and six before it is needed. */
	{"an opened one past its days in use",
         MEDICINE PEN("pen", "300") DAYS(1) "dose: from=1; dose=150 units\n" PLAN
                                            "dispensed: product=pen; count=1; opened=2026-11-01; left=150 units\n",
         "case:6:1: caution: the 'pen' opened on 2026-11-01 may be used until 2026-11-28, and is not needed before "
         "2026-12-04; it is not counted, so have it thrown away [stock-opened-too-long]\n"
         "case:4:20: caution: what is in hand of 'pen' runs out before the dose of 2026-12-04; more must be got by "
         "then "
         "[stock-short]\n"},
	{"an opened one on its last day in use",
         MEDICINE PEN("pen", "300") DAYS(1) "dose: from=1; dose=150 units\n" PLAN
                                            "dispensed: product=pen; count=1; opened=2026-11-07; left=150 units\n",
         ""},
	{"an opened one that has expired",
         MEDICINE PEN("pen", "300")
                 DAYS(1) "dose: from=1; dose=150 units\n" PLAN
                         "dispensed: product=pen; count=1; opened=2026-12-01; left=150 units; expires=2026-12-03\n",
         "case:6:1: caution: the opened 'pen' expires on 2026-12-03, and is not needed before 2026-12-04; it is not "
         "counted [stock-expired]\n"
         "case:4:20: caution: what is in hand of 'pen' runs out before the dose of 2026-12-04; more must be got by "
         "then "
         "[stock-short]\n"},
	{"an opened one for a single use",
         SYRINGE MEDICINE KIT
         "; policy=P-12; keep=26 h\n" DAYS(1) "dose: from=1; dose=250 mcg\n" PLAN
                                              "dispensed: product=kit; count=1; opened=2026-12-01; left=125 mcg\n",
         "case:7:1: caution: the 'kit' opened on 2026-12-01 is for one use; what is left in it is not counted, so have "
         "it "
         "thrown away [stock-opened-too-long]\n"
         "case:5:20: caution: what is in hand of 'kit' runs out before the dose of 2026-12-04; more must be got by "
         "then "
         "[stock-short]\n"},
	/* One in hand, two days after a call: the second has none, on a day that nobody knows yet. */
	{"stock runs out before an undated dose",
         SYRINGE MEDICINE KIT "\nitem: id=a; medicine=examplin; at=20:00; start=call; end=days 2\n"
                              "dose: from=1; dose=250 mcg\n" PLAN "dispensed: product=kit; count=1; expires=2027-03\n",
         "case:5:20: caution: what is in hand of 'kit' runs out before the dose of day 2; more must be got by then "
         "[stock-short]\n"},
	/* 26 h may pass and 24 h do; a third dose of a third of a vial would be its third use. */
	{"a third use of a shared one",
         SYRINGE MEDICINE KIT "; policy=P-12; keep=72 h\n" DAYS(3) "dose: from=1; dose=80 mcg; split=yes\n" PLAN,
         "case:5:20: note: the rest of the 'kit' opened for the last split dose of examplin has no second dose; it is "
         "thrown away [rest-thrown-away]\n"},
};

static void says_what_is_wrong(void **state)
{
	const struct said *row = case_of(state)->row;
	course_in(case_of(state)->arena, row->script, row->findings);
}

/* More kinds of stock than are compared: refused, and not answered by guess. */
static void too_complex_is_refused(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const char script[] = MEDICINE PEN("pen", "300")
		DAYS(2) "dose: from=1; dose=150 units\n" PLAN "dispensed: product=pen; count=1; expires=2027-01\n";
	struct plan plan = *script_plan(arena, script);
	struct dispensed *many = arena_alloc(arena, 300 * sizeof *many);
	for (int i = 0; i < 300; i++) {
		many[i] = plan.dispensed[0];
		many[i].expires.date = date_plus(many[i].expires.date, i);
	}
	plan.dispensed = many;
	plan.n_dispensed = 300;
	struct findings findings = findings_in(arena);
	assert_non_null(course_of(arena, &plan, &findings));
	assert_string_equal(
		findings_text(arena, &findings),
		"case:4:20: stop: the containers of examplin can serve these doses in too many ways to compare "
		"them all (more than a million states, or 200 kinds of stock); name fewer products for the item, "
		"or take off the list of what was dispensed what is not to be used [supply-too-complex]\n");
}

/* A dozen pens of three sizes, each expiring on a day of its own and primed before each dose: found, and not given up. */
static void a_dozen_expiries_are_planned(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const int sizes[] = {300, 600, 900};
	const char *script = MEDICINE;
	for (int i = 0; i < 3; i++)
		script = arena_printf(arena,
		                      "%sproduct: id=pen-%d; container=pen; strength=%d units; dial_step=12.5 units; "
		                      "priming=3 units; span=yes\n",
		                      script, sizes[i], sizes[i]);
	script = arena_printf(arena, "%s%s", script,
	                      DAYS(60) "dose: from=1; dose=150 units\ndose: from=11; dose=225 units\n"
	                               "dose: from=31; dose=187.5 units\n" PLAN);
	for (int i = 0; i < 12; i++)
		script = arena_printf(arena, "%sdispensed: product=pen-%d; count=1; expires=2027-01-%02d\n", script,
		                      sizes[i % 3], 10 + i);
	struct findings findings = findings_in(arena);
	const struct course *course = course_of(arena, script_plan(arena, script), &findings);
	assert_non_null(course);
	assert_false(findings_stop(&findings));
	int64_t in_hand = 0;
	for (size_t i = 0; i < course->n_supplies; i++)
		in_hand += course->supplies[i].needed - course->supplies[i].to_get;
	/*
	 * 10 x 150 and 20 x 225 until 2 January, 7 x 187.5 until the 9th: 7,312.5. That is more than the 7,200 in hand, and the
	 * first expires on the 10th; so all are opened.
	 */
	assert_int_equal(in_hand, 12);
}

/* ---- a plan that replaces another ---- */

/* The second plan, spoken from `as_of` (it says so itself), in place of the first. */
static const struct course *course_after(struct arena *arena, const char *first, const char *second,
                                         struct findings *findings)
{
	struct plan *plan = arena_alloc(arena, sizeof *plan);
	*plan = *script_plan(arena, second);
	plan->replaced = script_plan(arena, first);
	plan->replaces.given = true;
	plan->version = 2;
	const struct course *course = course_of(arena, plan, findings);
	assert_non_null(course);
	return course;
}

#define SPEAKS(day) "plan: as_of=2026-12-" #day "; replaces=old\n"
#define IN_HAND(id) "dispensed: product=" id "; count=1; expires=2027-03\n"

static const struct replacing {
	const char *name;
	const char *first;
	const char *second;
	const char *findings;
	const char *uses;
	const char *supplies;
} replacings[] = {
	/*
	 * The first sheet: 4 x 225 from a pen of 900. From the third day on it is 100: the fresh plan would take 225 + 225 +
	 * 100 + 100 = 650 from three of 300 and waste 250 too, with more injections; or from one of 900. The one that is open
	 * holds 450 after two days, so 250 are left.
	 */
	{"a lower dose goes on from the pen in use",
         MEDICINE PEN("pen-300", "300") PEN("pen-900", "900") DAYS(4) "dose: from=1; dose=225 units\n" PLAN,
         MEDICINE PEN("pen-300", "300") PEN("pen-900", "900")
                 DAYS(4) "dose: from=1; dose=225 units\ndose: from=3; dose=100 units\n" SPEAKS(06),
         "",
         "1: 225 units from pen-900 1 opened, leaves 675 units, kept until 2026-12-31\n"
         "2: 225 units from pen-900 1, leaves 450 units, kept until 2026-12-31\n"
         "3: 100 units from pen-900 1, leaves 350 units, kept until 2026-12-31\n"
         "4: 100 units from pen-900 1, leaves 250 units\n",
         "pen-900: 1 needed, 0 dispensed, 1 to get from 2026-12-04, 250 units discarded, 0 units left\n"},
	/*
	 * One day of 225 and one of 75 are one pen of 300, and that is open. Two days at 300 more: a plan made afresh opens
	 * one of 900 (225 + 75 + 300 + 300 = 900) and wastes nothing. But 300 was opened: 225 + 75, then two more of 300.
	 */
	{"what was opened is not opened otherwise afterwards",
         MEDICINE PEN("pen-300", "300") PEN("pen-900", "900")
                 DAYS(2) "dose: from=1; dose=225 units\ndose: from=2; dose=75 units\n" PLAN,
         MEDICINE PEN("pen-300", "300") PEN("pen-900", "900")
                 DAYS(4) "dose: from=1; dose=225 units\ndose: from=2; dose=75 units\ndose: from=3; dose=300 "
                         "units\n" SPEAKS(05),
         "",
         "1: 225 units from pen-300 1 opened, leaves 75 units, kept until 2026-12-31\n"
         "2: 75 units from pen-300 1, leaves 0 units\n"
         "3: 300 units from pen-300 2 opened, leaves 0 units\n"
         "4: 300 units from pen-300 3 opened, leaves 0 units\n",
         "pen-300: 3 needed, 0 dispensed, 3 to get from 2026-12-04, 0 units discarded, 0 units left\n"},
	/* The half that is in the refrigerator is taken on the 5th, as the first sheet said, and not opened anew. */
	{"the second half of a shared vial is still to come",
         SYRINGE MEDICINE KIT "; policy=P-12; keep=26 h\n" DAYS(2) "dose: from=1; dose=125 mcg; split=yes\n" PLAN,
         SYRINGE MEDICINE KIT "; policy=P-12; keep=26 h\n" DAYS(4) "dose: from=1; dose=125 mcg; split=yes\n" SPEAKS(05),
         "",
         "1: 125 mcg from kit 1 opened, leaves 125 mcg, kept until 2026-12-05 22:00\n"
         "2: 125 mcg from kit 1, leaves 0 mcg\n"
         "3: 125 mcg from kit 2 opened, leaves 125 mcg, kept until 2026-12-07 22:00\n"
         "4: 125 mcg from kit 2, leaves 0 mcg\n",
         "kit: 2 needed, 0 dispensed, 2 to get from 2026-12-04, 0 mcg discarded, 0 mcg left\n"},
	/* The dose is changed on the very day: the half that waits is not enough, so it is thrown away. */
	{"a changed dose breaks what was shared",
         SYRINGE MEDICINE KIT "; policy=P-12; keep=26 h\n" DAYS(2) "dose: from=1; dose=125 mcg; split=yes\n" PLAN,
         SYRINGE MEDICINE KIT "; policy=P-12; keep=26 h\n" DAYS(
		 2) "dose: from=1; dose=125 mcg; split=yes\ndose: from=2; dose=250 mcg\n" SPEAKS(05),
         "case:5:20: note: the rest of the 'kit' opened for the last split dose of examplin has no second dose; it is "
         "thrown away [rest-thrown-away]\n",
         "1: 125 mcg from kit 1 opened, leaves 125 mcg\n"
         "2: 250 mcg from kit 2 opened, leaves 0 mcg\n",
         "kit: 2 needed, 0 dispensed, 2 to get from 2026-12-04, 125 mcg discarded, 0 mcg left\n"},
	/* 75 of the old pen and 150 of a new one went on the 4th. The pen got since (a row more) is the second one. */
	{"a part-used pen that is used up, and what was dispensed since",
         MEDICINE PEN("pen", "300") UNTIL_TOLD(2) "dose: from=1; dose=225 units\n" PLAN
                                                  "dispensed: product=pen; count=1; opened=2026-12-01; left=75 units\n",
         MEDICINE PEN("pen", "300") UNTIL_TOLD(2) "dose: from=1; dose=225 units\n" SPEAKS(
		 05) "dispensed: product=pen; count=1; opened=2026-12-01; left=75 units\n" IN_HAND("pen"),
         "case:4:20: caution: what is in hand of 'pen' runs out before the dose of 2026-12-05; more must be got by "
         "then [stock-short]\n",
         "1: 75 units from pen 1 in hand, leaves 0 units + 150 units from pen 2 opened in hand, leaves 150 units, kept "
         "until 2026-12-31\n"
         "2: 150 units from pen 2 in hand, leaves 0 units + 75 units from pen 3 opened, leaves 225 units, kept until "
         "2027-01-01\n",
         "pen: 3 needed, 2 dispensed, 1 to get from 2026-12-05, 0 units discarded, 225 units left\n"},
	/* The pen of the first sheet opened on 4 December is past its 28 days on 1 January. */
	{"a kept pen's life began when it was opened",
         MEDICINE PEN("pen", "300") "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 1\n"
                                    "dose: from=1; dose=75 units\n" PLAN,
         MEDICINE PEN("pen", "300") "item: id=a; medicine=examplin; at=20:00; every=28 days; start=on 2026-12-04; "
                                    "end=days 29\ndose: from=1; dose=75 units\n" SPEAKS(05),
         "",
         "1: 75 units from pen 1 opened, leaves 225 units\n"
         "2: 75 units from pen 2 opened, leaves 225 units\n",
         "pen: 2 needed, 0 dispensed, 2 to get from 2026-12-04, 450 units discarded, 0 units left\n"},
	/* The end was open: days after the horizon, and the day on which a call came, are no news of what is past. */
	{"days that the first sheet did not know are no contradiction",
         MEDICINE PEN("pen", "300") UNTIL_TOLD(1) "dose: from=1; dose=150 units\n" PLAN,
         MEDICINE PEN("pen", "300") UNTIL_TOLD(3) "dose: from=1; dose=150 units\n" SPEAKS(06), "",
         "1: 150 units from pen 1 opened, leaves 150 units, kept until 2026-12-31\n"
         "2: 150 units from pen 1, leaves 0 units\n"
         "3: 150 units from pen 2 opened, leaves 150 units, kept until 2027-01-02\n",
         "pen: 2 needed, 0 dispensed, 2 to get from 2026-12-04, 0 units discarded, 150 units left\n"},
	{"a start that hung on a call",
         MEDICINE PEN("pen", "300") "item: id=a; medicine=examplin; at=20:00; start=call; end=days 2\n"
                                    "dose: from=1; dose=150 units\n" PLAN,
         MEDICINE PEN("pen", "300") DAYS(2) "dose: from=1; dose=150 units\n" SPEAKS(05), "",
         "1: 150 units from pen 1 opened, leaves 150 units, kept until 2026-12-31\n"
         "2: 150 units from pen 1, leaves 0 units\n",
         "pen: 1 needed, 0 dispensed, 1 to get from 2026-12-04, 0 units discarded, 0 units left\n"},
	/* 300 on the second day, where the sheet had 150: three days of 150, 300 and 300 are three pens of 300 or one of 900. */
	{"a past dose that is told otherwise",
         MEDICINE PEN("pen-300", "300") PEN("pen-900", "900") DAYS(2) "dose: from=1; dose=150 units\n" PLAN,
         MEDICINE PEN("pen-300", "300") PEN("pen-900", "900")
                 DAYS(3) "dose: from=1; dose=150 units\ndose: from=2; dose=300 units\n" SPEAKS(06),
         "case:6:20: caution: the sheet that this plan replaces says otherwise of the dose of 'a' on 2026-12-05 at "
         "20:00, which is past; the containers of examplin are counted as this plan has it, so check what was given "
         "and what is in use [past-changed]\n",
         "1: 150 units from pen-900 1 opened, leaves 750 units, kept until 2026-12-31\n"
         "2: 300 units from pen-900 1, leaves 450 units, kept until 2026-12-31\n"
         "3: 300 units from pen-900 1, leaves 150 units\n",
         "pen-900: 1 needed, 0 dispensed, 1 to get from 2026-12-04, 150 units discarded, 0 units left\n"},
	{"a past dose that is not there any more",
         MEDICINE PEN("pen", "300") DAYS(3) "dose: from=1; dose=150 units\n" PLAN,
         MEDICINE PEN("pen", "300")
                 DAYS(3) "dose: from=1; dose=150 units\n" SPEAKS(06) "change: item=a; from=2026-12-04; skip=yes\n",
         "case:5:1: caution: the sheet that this plan replaces says otherwise of the dose of 'a' on 2026-12-04 at "
         "20:00, which is past; the containers of examplin are counted as this plan has it, so check what was given "
         "and what is in use [past-changed]\n",
         "1: 150 units from pen 1 opened, leaves 150 units, kept until 2027-01-01\n"
         "2: 150 units from pen 1, leaves 0 units\n",
         "pen: 1 needed, 0 dispensed, 1 to get from 2026-12-05, 0 units discarded, 0 units left\n"},
	/* The same doses, but from a product that the item does not list any more. */
	{"a past dose from what is not used any more",
         MEDICINE PEN("pen", "300") PEN("new", "300") DAYS(2) "dose: from=1; dose=150 units\n" PLAN,
         MEDICINE PEN("pen", "300")
                 PEN("new",
                     "300") "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2; products=new\n"
                            "dose: from=1; dose=150 units\n" SPEAKS(05),
         "case:5:20: caution: the sheet that this plan replaces says otherwise of the dose of 'a' on 2026-12-04 at "
         "20:00, which is past; the containers of examplin are counted as this plan has it, so check what was given "
         "and what is in use [past-changed]\n",
         "1: 150 units from new 1 opened, leaves 150 units, kept until 2026-12-31\n"
         "2: 150 units from new 1, leaves 0 units\n",
         "new: 1 needed, 0 dispensed, 1 to get from 2026-12-04, 0 units discarded, 0 units left\n"},
};

static void goes_on_from_what_was_done(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct replacing *row = case_of(state)->row;
	struct findings findings = findings_in(arena);
	const struct course *course = course_after(arena, row->first, row->second, &findings);
	assert_string_equal(findings_text(arena, &findings), row->findings);
	assert_string_equal(uses_text(arena, course), row->uses);
	assert_string_equal(supplies_text(arena, course), row->supplies);
}

/* ---- laws, on random plans ---- */

enum { RANDOM_PLANS = 600, MOST_USED = 400, FIRST_DAY = 4 };

static uint64_t below(uint64_t *seed, uint64_t limit)
{
	return next_random(seed) % limit;
}

static const char *random_product(struct arena *arena, uint64_t *seed, int number)
{
	static const char *const kinds[] = {
		"container=pen; strength=300 units; dial_step=25 units; span=yes; in_use=5 days",
		"container=pen; strength=900 units; dial_step=25 units; priming=5 units; span=yes; in_use=28 days",
		"container=pen; strength=450 units; dial_step=25 units",
		"container=powder-vial; strength=75 units; liquid=1 mL; displacement=0 mL; powders=4; span=yes",
		"container=powder-vial; strength=300 units; liquid=1.5 mL; displacement=0 mL; policy=P-1; keep=36 h",
		"container=solution-vial; strength=600 units; volume=3 mL; in_use=4 days; loss=0.1 mL; span=yes",
		"container=prefilled; strength=150 units; volume=1 mL; span=yes",
	};
	return arena_printf(arena, "product: id=p%d; %s\n", number, kinds[below(seed, sizeof kinds / sizeof kinds[0])]);
}

static const char *random_script(struct arena *arena, uint64_t *seed)
{
	int n_products = 1 + (int)below(seed, 3);
	bool split = below(seed, 2) == 0;
	const char *script = SYRINGE "syringe: id=syringe-10; capacity=10; step=0.025\n";
	script =
		arena_printf(arena, "%s%s", script,
	                     below(seed, 3) == 0 ? "medicine: id=examplin; site_most=1 mL; two_sites=yes\n" : MEDICINE);
	for (int i = 0; i < n_products; i++)
		script = arena_printf(arena, "%s%s", script, random_product(arena, seed, i));
	script = arena_printf(arena,
	                      "%sitem: id=a; medicine=examplin; at=20:00; start=%s; %s=%d days\n"
	                      "dose: from=1; dose=%d units%s\ndose: from=%d; dose=%d units\n" PLAN,
	                      script, below(seed, 5) == 0 ? "call" : "on 2026-12-04",
	                      below(seed, 2) ? "horizon" : "every=1 days; horizon", 1 + (int)below(seed, 12),
	                      25 * (1 + (int)below(seed, split ? 6 : 12)), split ? "; split=yes" : "",
	                      2 + (int)below(seed, 6), 25 * (1 + (int)below(seed, 12)));
	for (int i = 0; i < n_products; i++)
		if (below(seed, 2))
			script = arena_printf(arena, "%sdispensed: product=p%d; count=%d; expires=2026-12-%02d\n",
			                      script, i, 1 + (int)below(seed, 4), FIRST_DAY - 1 + (int)below(seed, 12));
	return script;
}

struct tally {
	const struct product *product;
	int64_t number;
	struct quantity left;
	const struct dose *first;
	const struct dose *last;
	size_t doses;
};

static struct tally *tally_of(struct tally *tallies, size_t *n, const struct container_use *use,
                              const struct dose *dose)
{
	for (size_t i = 0; i < *n; i++)
		if (tallies[i].product == use->product && tallies[i].number == use->number)
			return &tallies[i];
	assert_true(*n < MOST_USED);
	assert_true(use->opens);
	struct quantity all = use->product->strength.quantity;
	tallies[*n] = (struct tally){use->product, use->number, all, dose, NULL, 0};
	return &tallies[(*n)++];
}

/* Never more than it delivers, never past its life or expiry, and single-use ones at most twice, each time said so. */
static void check_use(const struct course *course, struct tally *tally, const struct container_use *use,
                      const struct dose *dose)
{
	const struct product *product = use->product;
	assert_true(quantity_subtract(tally->left, use->takes, &tally->left));
	assert_true(quantity_subtract(tally->left, use->lost, &tally->left));
	assert_true(tally->left.number.numerator >= 0);
	assert_true(quantity_same(tally->left, use->leaves));
	tally->doses += tally->last != dose;
	tally->last = dose;
	bool many = product->in_use.given || product->container == CONTAINER_PEN;
	if (!many && dose->half == HALF_NONE)
		assert_int_equal(tally->doses, 1);
	if (!many)
		assert_true(tally->doses <= 2);
	if (product->in_use.given && !dose->open)
		assert_true(date_difference(dose->clock_date, tally->first->clock_date) <
		            rational_floor(product->in_use.quantity.number));
	for (size_t i = 0; i < course->plan->n_dispensed && use->in_hand && !dose->open; i++)
		if (course->plan->dispensed[i].product == product)
			assert_true(date_compare(dose->clock_date, course->plan->dispensed[i].expires.date) <= 0);
}

/* Its line gives just this, at one place no more than that takes; without a date nothing of it has a day. */
static void check_draw(const struct dose *dose, const struct draw *draw)
{
	const struct stated_quantity *most = &dose->item->medicine->limits.site_most;
	struct rational volume;
	assert_true(quantity_same(draw->given, draw->dose));
	for (size_t i = 0; i < draw->n_containers; i++)
		assert_false(dose->open && (draw->containers[i].has_by || dose->date.year != 0));
	if (draw->measure != MEASURE_SYRINGE)
		return;
	assert_true(dose_volume(draw->product, draw->dose, draw->concentration, &volume));
	assert_true(rational_compare(volume, draw->mark.at) == 0);
	if (most->given)
		assert_true(quantity_compare((struct quantity){volume, UNIT_ML}, most->quantity) <= 0);
}

/* As many as the days ordered, each day once and in turn. */
static void check_days(const struct course *course, int days)
{
	assert_int_equal(course->n_doses, days);
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = &course->doses[i];
		assert_int_equal(dose->n, i + 1);
		assert_int_equal(dose->day, i + 1);
		if (!dose->open)
			assert_int_equal(date_difference(dose->clock_date, course->doses[0].clock_date), i);
	}
}

static void check_dose(const struct course *course, const struct dose *dose, struct tally *tallies, size_t *n)
{
	struct quantity sum = {rational_of(0, 1), dose->ordered.unit};
	for (size_t i = 0; i < dose->n_draws; i++) {
		const struct draw *draw = &dose->draws[i];
		struct quantity takes = {rational_of(0, 1), dose->ordered.unit};
		for (size_t j = 0; j < draw->n_containers; j++) {
			const struct container_use *use = &draw->containers[j];
			check_use(course, tally_of(tallies, n, use, dose), use, dose);
			assert_true(quantity_add(takes, use->takes, &takes));
		}
		assert_true(quantity_same(takes, draw->dose));
		check_draw(dose, draw);
		assert_true(quantity_add(sum, draw->dose, &sum));
	}
	assert_true(quantity_same(sum, dose->ordered));
}

/* What supplies say is what the doses take. */
static void check_counts(const struct course *course, const struct tally *tallies, size_t n)
{
	int64_t needed = 0;
	for (size_t i = 0; i < course->n_supplies; i++) {
		const struct product_supply *supply = &course->supplies[i];
		int64_t in_hand = supply->needed - supply->to_get;
		needed += supply->needed;
		assert_true(in_hand >= 0 && in_hand <= supply->dispensed);
		struct quantity rests = {rational_of(0, 1), UNIT_UNITS}, told;
		for (size_t j = 0; j < n; j++)
			if (tallies[j].product == supply->product)
				assert_true(quantity_add(rests, tallies[j].left, &rests));
		assert_true(quantity_add(supply->discarded, supply->left, &told));
		assert_true(quantity_same(rests, told));
	}
	assert_int_equal(needed, n);
}

static bool given_in_two(const struct dose *dose)
{
	return dose->n_draws > 1 && dose->draws[0].measure == MEASURE_SYRINGE &&
	       dose->draws[0].containers[0].product == dose->draws[1].containers[0].product &&
	       dose->draws[0].containers[0].number == dose->draws[1].containers[0].number;
}

static void random_plans_obey_the_laws(void **state)
{
	struct arena *arena = case_of(state)->arena;
	uint64_t seed = 20261204;
	int served = 0, halves = 0, several = 0, open = 0, in_two = 0;
	for (int i = 0; i < RANDOM_PLANS; i++) {
		struct findings findings = findings_in(arena);
		struct tally tallies[MOST_USED];
		size_t n = 0;
		const struct plan *plan = script_plan(arena, random_script(arena, &seed));
		const struct course *course = course_of(arena, plan, &findings);
		assert_non_null(course);
		check_days(course, (int)plan->protocol->items[0].horizon.quantity.number.numerator);
		bool planned = course->n_supplies > 0 && !findings_stop(&findings);
		for (size_t j = 0; j < course->n_doses && planned; j++) {
			check_dose(course, course->by_time[j], tallies, &n);
			halves += course->by_time[j]->half == HALF_SECOND;
			several += course->by_time[j]->n_draws > 1;
			open += course->by_time[j]->open;
			in_two += given_in_two(course->by_time[j]);
		}
		if (planned)
			check_counts(course, tallies, n);
		else
			assert_true(findings_stop(&findings));
		served += planned;
		arena_reset(arena);
	}
	/* what is checked must be met often */
	assert_true(served > RANDOM_PLANS / 2);
	assert_true(halves > 20);
	assert_true(several > 100);
	assert_true(open > 100);
	assert_true(in_two > 30);
}

/* The same plan spoken from a later day, in place of itself: nothing but the day differs. */
static void a_plan_and_its_reprint_agree(void **state)
{
	struct arena *arena = case_of(state)->arena;
	uint64_t seed = 20261205;
	int compared = 0, part_used = 0;
	for (int i = 0; i < RANDOM_PLANS; i++) {
		struct findings findings = findings_in(arena);
		const char *script = random_script(arena, &seed);
		bool opened = below(&seed, 2) == 0;
		if (opened)
			script = arena_printf(arena,
			                      "%sdispensed: product=p0; count=1; opened=2026-12-02; left=%d units\n",
			                      script, 25 * (1 + (int)below(&seed, 2)));
		const struct plan *plan = script_plan(arena, script);
		const struct course *first = course_of(arena, plan, &findings);
		struct plan again = *plan;
		again.version = 2;
		again.replaced = plan;
		again.as_of.date = date_plus(again.as_of.date, FIRST_DAY - 1 + (int)below(&seed, 13));
		assert_non_null(first);
		/* undated doses lie after the day that a plan speaks from, so a later day changes what has expired */
		if (first->n_supplies > 0 && !first->doses[0].open) {
			findings = findings_in(arena);
			const struct course *second = course_of(arena, &again, &findings);
			assert_non_null(second);
			assert_string_equal(uses_text(arena, second), uses_text(arena, first));
			assert_string_equal(supplies_text(arena, second), supplies_text(arena, first));
			assert_null(strstr(findings_text(arena, &findings), "past-changed"));
			compared++;
			part_used += opened && !first->by_time[0]->draws[0].containers[0].opens;
		}
		arena_reset(arena);
	}
	assert_true(compared > RANDOM_PLANS / 2);
	assert_true(part_used > 20);
}

int main(void)
{
	struct arena *arena = arena_new();
	struct tests tests = {0};
	size_t published = add_published(arena, &tests);
	for (size_t i = 0; i < sizeof whole_plans / sizeof whole_plans[0]; i++)
		tests_add(&tests, whole_plans[i].name, plans_as_worked_out, &whole_plans[i]);
	for (size_t i = 0; i < sizeof saids / sizeof saids[0]; i++)
		tests_add(&tests, saids[i].name, says_what_is_wrong, &saids[i]);
	tests_add(&tests, "more than can be compared", too_complex_is_refused, NULL);
	tests_add(&tests, "a dozen pens that expire on a dozen days", a_dozen_expiries_are_planned, NULL);
	for (size_t i = 0; i < sizeof replacings / sizeof replacings[0]; i++)
		tests_add(&tests, replacings[i].name, goes_on_from_what_was_done, &replacings[i]);
	tests_add(&tests, "a plan and its reprint agree", a_plan_and_its_reprint_agree, NULL);
	tests_add(&tests, "laws on random plans", random_plans_obey_the_laws, NULL);
	int failed = tests_run(&tests, "supply");
	arena_free(arena);
	/* a table whose kinds were renamed would otherwise test nothing */
	return published == 22 ? failed : 1;
}
