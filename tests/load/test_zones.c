/*
 * Zones against zdump, the C library's own reader of the same data, for every zone that people live in.
 */
#include "load/zones.h"

#include "load/zone_rule.h"

#include "support/cases.h"

#include <glib.h>
#include <glib/gstdio.h>
#include <inttypes.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define ZONE_TABLE "/usr/share/zoneinfo/zone1970.tab"

enum { DAY = 86400 };

/* The next zone's name of the table, or NULL at its end. */
static const char *next_zone(FILE *table, char line[1024])
{
	while (fgets(line, 1024, table)) {
		if (line[0] == '#')
			continue;
		char *name = strchr(strchr(line, '\t') + 1, '\t') + 1;
		name[strcspn(name, "\t\n")] = '\0';
		return name;
	}
	return NULL;
}

static const struct zone_span *span_at(const struct zone *zone, instant when)
{
	size_t i = zone->n_spans - 1;
	while (i > 0 && zone->spans[i].since > when)
		i--;
	return &zone->spans[i];
}

static int month_number(const char *name)
{
	static const char months[] = "JanFebMarAprMayJunJulAugSepOctNovDec";
	return (int)(strstr(months, name) - months) / 3 + 1;
}

/*
 * "Europe/London  Sun Mar 28 00:59:59 2027 UT = Sun Mar 28 00:59:59 2027 GMT isdst=0 gmtoff=0"
 * Lines without 'gmtoff' are of the ends of time.
 */
static bool parse(const char *line, instant *when, int32_t *offset, char abbreviation[16])
{
	char month[4];
	struct civil_date date;
	int hour, minute, second;
	const char *gmtoff = strstr(line, "gmtoff=");
	const char *spaces = strchr(line, ' ');
	const char *equals = strstr(line, " = ");
	if (!gmtoff || !spaces || !equals ||
	    sscanf(spaces, " %*s %3s %d %d:%d:%d %d UT", month, &date.day, &hour, &minute, &second, &date.year) != 6 ||
	    sscanf(equals, " = %*s %*s %*s %*s %*s %15s", abbreviation) != 1)
		return false;
	date.month = month_number(month);
	*when = date_number(date) * DAY + hour * 3600 + minute * 60 + second;
	*offset = (int32_t)strtol(gmtoff + strlen("gmtoff="), NULL, 10);
	return true;
}

/* zdump names both seconds around each change. */
static size_t agrees_with_zdump(struct arena *arena, const char *name)
{
	const struct zone *zone = zone_load(arena, name);
	if (!zone)
		fail_msg("no zone '%s'", name);
	assert_string_equal(zone->name, name);
	FILE *pipe = popen(arena_printf(arena, "zdump -v -c 1996,2105 %s", name), "r");
	assert_non_null(pipe);
	char line[512];
	size_t n = 0;
	size_t changes = 0;
	const struct zone_span *before = zone->spans;
	instant when;
	int32_t offset;
	char abbreviation[16];
	while (fgets(line, sizeof line, pipe)) {
		if (!parse(line, &when, &offset, abbreviation) ||
		    when < date_number((struct civil_date){1996, 1, 1}) * DAY)
			continue;
		const struct zone_span *span = span_at(zone, when);
		if (span->offset != offset || strcmp(span->abbreviation, abbreviation) != 0)
			fail_msg("%s at %" PRId64 ": %d %s here, %d %s there", name, when, span->offset,
			         span->abbreviation, offset, abbreviation);
		changes += span != before;
		before = span;
		n++;
	}
	assert_int_equal(pclose(pipe), 0);
	/* Both seconds around every change were looked at: a span that no line lies in is one too many. */
	assert_int_equal(zone->n_spans, changes + 1);
	return n;
}

static void every_zone_agrees_with_zdump(void **state)
{
	char line[1024];
	const char *name;
	size_t zones = 0;
	size_t lines = 0;
	FILE *table = fopen(ZONE_TABLE, "r");
	if (!table)
		fail_msg("this test needs %s, which comes with the zone data", ZONE_TABLE);
	while ((name = next_zone(table, line))) {
		lines += agrees_with_zdump(case_of(state)->arena, name);
		zones++;
	}
	fclose(table);
	assert_true(zones > 200);
	assert_true(lines > 10000);
}

/* Of spans that begin before 2070: zic of glibc 2.36 leaves out changes of Gaza from 2073 on when it packs. */
static bool same_spans(const struct zone *a, const struct zone *b)
{
	const instant end = date_number((struct civil_date){2070, 1, 1}) * DAY;
	size_t i = 0;
	for (; i < a->n_spans && a->spans[i].since < end; i++)
		if (i == b->n_spans || a->spans[i].since != b->spans[i].since ||
		    a->spans[i].offset != b->spans[i].offset ||
		    strcmp(a->spans[i].abbreviation, b->spans[i].abbreviation) != 0)
			return false;
	return i == b->n_spans || b->spans[i].since >= end;
}

/*
 * The same data packed with tables that end early, so that rules say most of it.
 * zdump is no judge here: with such data it turns Ojinaga's clocks in 2022 too early.
 */
static void packed_zones_are_the_same(void **state)
{
	struct arena *arena = case_of(state)->arena;
	char line[1024];
	const char *name;
	gchar *folder = g_dir_make_tmp("fillmark-zones-XXXXXX", NULL);
	assert_non_null(folder);
	const char *temporary = arena_strdup(arena, folder);
	g_free(folder);
	const char *compile = arena_printf(
		arena, "PATH=$PATH:/usr/sbin zic -b slim -d '%s' /usr/share/zoneinfo/tzdata.zi 2>/dev/null", temporary);
	if (system(compile) != 0)
		fail_msg("this test needs zic and tzdata.zi: %s", compile);
	FILE *table = fopen(ZONE_TABLE, "r");
	assert_non_null(table);
	size_t differing = 0;
	while ((name = next_zone(table, line))) {
		const struct zone *usual = zone_load(arena, name);
		setenv("TZDIR", temporary, 1);
		const struct zone *packed = zone_load(arena, name);
		unsetenv("TZDIR");
		bool same = packed && same_spans(usual, packed);
		if (!same)
			print_error("%s differs when packed\n", name);
		differing += !same;
	}
	fclose(table);
	assert_int_equal(system(arena_printf(arena, "rm -r '%s'", temporary)), 0);
	assert_int_equal(differing, 0);
}

/* ---- rules ---- */

static const char *const rules[] = {
	"GMT0BST,M3.5.0/1,M10.5.0",     /* London */
	"IST-1GMT0,M10.5.0,M3.5.0/1",   /* Dublin: summer time in winter */
	"AEST-10AEDT,M10.1.0,M4.1.0/3", /* Sydney: the south */
	"<-02>2<-01>,M3.5.0/-1,M10.5.0/0",
	"<+1030>-10:30<+11>-11,M10.1.0,M4.1.0",
	"AAA3BBB,J60/2,J300",
	"AAA3BBB,59/2,300/-1",
	"AAA-3:30:15BBB-5,M2.4.4/50,M8.3.6/24",
};

static void rule_agrees_with_zdump(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *text = case_of(state)->row;
	struct zone_rule rule;
	assert_true(zone_rule_read(arena, text, &rule));
	assert_true(rule.changes);
	FILE *pipe = popen(arena_printf(arena, "zdump -v -c 2026,2034 '%s'", text), "r");
	assert_non_null(pipe);
	char line[512];
	size_t n = 0;
	instant when;
	int32_t offset;
	char abbreviation[16];
	while (fgets(line, sizeof line, pipe)) {
		struct zone_span spans[3];
		if (!parse(line, &when, &offset, abbreviation) ||
		    when < date_number((struct civil_date){2026, 1, 2}) * DAY)
			continue;
		struct civil_date date = date_of_number(when / DAY);
		zone_rule_year(&rule, date.year, spans);
		zone_rule_year(&rule, date.year - 1, spans + 1);
		struct zone_span before = spans[2]; /* the last of the year before */
		zone_rule_year(&rule, date.year, spans);
		const struct zone_span *span = when >= spans[1].since   ? &spans[1]
		                               : when >= spans[0].since ? &spans[0]
		                                                        : &before;
		if (span->offset != offset || strcmp(span->abbreviation, abbreviation) != 0)
			fail_msg("at %" PRId64 ": %d %s here, %d %s there", when, span->offset, span->abbreviation,
			         offset, abbreviation);
		n++;
	}
	assert_int_equal(pclose(pipe), 0);
	assert_true(n >= 32);
}

static const char *const no_rules[] = {
	"",
	"0",
	"GMT",
	"GMT0BST",
	"GMT0BST,M3.5.0",
	"GMT0BST,M3.5.0,",
	"GMT0BST,M13.1.0,M10.5.0",
	"GMT0BST,M0.1.0,M10.5.0",
	"GMT0BST,M3.6.0,M10.5.0",
	"GMT0BST,M3.0.0,M10.5.0",
	"GMT0BST,M3.5.7,M10.5.0",
	"GMT0BST,J0,J9",
	"GMT0BST,J366,J9",
	"GMT0BST,366,9",
	"GMT0BST,M3.5.0,M10.5.0,",
	"GMT0BST,M3.5.0/168,M10.5.0",
	"GMT0:60",
	"<GMT0",
	"<>0",
	"GMT0000",
	"GMT+",
};

static void is_no_rule(void **state)
{
	struct zone_rule rule;
	assert_false(zone_rule_read(case_of(state)->arena, case_of(state)->row, &rule));
}

static void a_rule_without_changes(void **state)
{
	struct zone_rule rule;
	assert_true(zone_rule_read(case_of(state)->arena, "<+0545>-5:45", &rule));
	assert_false(rule.changes);
	assert_int_equal(rule.standard.offset, 5 * 3600 + 45 * 60);
	assert_string_equal(rule.standard.abbreviation, "+0545");
}

/* ---- damaged data ---- */

/* Every file cut short, and bytes changed: no zone, or a zone with sorted spans. */
static void damaged_data_are_survived(void **state)
{
	struct arena *arena = case_of(state)->arena;
	unsigned char good[8192], bad[8192];
	FILE *file = fopen("/usr/share/zoneinfo/Europe/London", "rb");
	assert_non_null(file);
	size_t size = fread(good, 1, sizeof good, file);
	fclose(file);
	char *folder = g_dir_make_tmp("fillmark-zones-XXXXXX", NULL);
	const char *area = arena_printf(arena, "%s/Europe", folder);
	const char *path = arena_printf(arena, "%s/London", area);
	assert_int_equal(g_mkdir(area, 0700), 0);
	setenv("TZDIR", folder, 1);
	struct arena *loads = arena_new();
	uint64_t seed = 99;
	size_t loaded = 0;
	for (size_t i = 0; i < 2000; i++) {
		size_t length = i < 500 ? size * i / 500 : size;
		memcpy(bad, good, size);
		for (int n = 0; i >= 500 && n < 3; n++)
			bad[next_random(&seed) % (n ? 100 : size)] = (unsigned char)next_random(&seed);
		file = fopen(path, "wb");
		assert_int_equal(fwrite(bad, 1, length, file), length);
		fclose(file);
		const struct zone *zone = zone_load(loads, "Europe/London");
		loaded += zone != NULL;
		for (size_t j = 1; zone && j < zone->n_spans; j++)
			assert_true(zone->spans[j].since > zone->spans[j - 1].since);
		arena_reset(loads);
	}
	arena_free(loads);
	unsetenv("TZDIR");
	assert_true(loaded > 0 && loaded < 2000);
	assert_int_equal(system(arena_printf(arena, "rm -r '%s'", folder)), 0);
	g_free(folder);
}

/* Known by law: clocks in Europe change at 01:00 UTC on the last Sundays of March and October. */
static void london_changes_when_the_law_says(void **state)
{
	const struct zone *zone = zone_load(case_of(state)->arena, "Europe/London");
	instant march = date_number((struct civil_date){2027, 3, 28}) * DAY + 3600;
	instant october = date_number((struct civil_date){2027, 10, 31}) * DAY + 3600;
	struct zone_span change;
	assert_true(zone_changes(zone, march - 1, march, &change));
	assert_int_equal(change.since, march);
	assert_int_equal(change.offset, 3600);
	assert_string_equal(change.abbreviation, "BST");
	assert_false(zone_changes(zone, march, october - 1, NULL));
	assert_true(zone_changes(zone, march, october, &change));
	assert_int_equal(change.since, october);
	assert_string_equal(change.abbreviation, "GMT");
}

static void a_zone_without_changes_has_one_span(void **state)
{
	const struct zone *zone = zone_load(case_of(state)->arena, "UTC");
	assert_int_equal(zone->n_spans, 1);
	assert_int_equal(zone->spans[0].offset, 0);
	assert_int_equal(zone_load(case_of(state)->arena, "Asia/Tokyo")->n_spans, 1);
	assert_int_equal(zone_load(case_of(state)->arena, "Asia/Tokyo")->spans[0].offset, 9 * 3600);
}

static const char *const no_zones[] = {
	"",
	"/",
	"Europe",
	"Europe/",
	"/Europe/London",
	"Europe//London",
	"Europe/Londn",
	"europe/london",
	"EST5EDT",
	"+05:00",
	"GMT0BST,M3.5.0/1,M10.5.0",
	"right/Europe/London",
	"posix/Europe/London",
	"../zoneinfo/Europe/London",
	"Europe/../Europe/London",
	"America/Argentina",
	"Europe/London ",
	"Europe/London\n",
	"local",
	"Etc",
};

static void refuses(void **state)
{
	assert_null(zone_load(case_of(state)->arena, case_of(state)->row));
}

static void offers_names(void **state)
{
	struct nearest nearest = nearest_to("America/Sao_Paolo");
	zone_offer_all(case_of(state)->arena, &nearest);
	assert_string_equal(nearest.best, "America/Sao_Paulo");
}

/* ---- local times around each change, against the C library's localtime ---- */

/* Half an hour (Lord Howe), two hours (Troll), a whole day left out (Apia in 2011), a change at 00:01 (St Johns). */
static const char *const judged[] = {
	"Europe/London",       "America/New_York", "America/Sao_Paulo", "America/St_Johns",
	"Australia/Lord_Howe", "Pacific/Apia",     "Asia/Kathmandu",    "Antarctica/Troll",
	"Africa/Casablanca",   "Asia/Tehran",      "Pacific/Auckland",  "Europe/Dublin",
};

/* What the library's clock and calendar show, as seconds since 1970 of that clock and calendar. */
static int64_t library_local(instant when)
{
	time_t seconds = (time_t)when;
	struct tm local;
	assert_non_null(localtime_r(&seconds, &local));
	struct civil_date date = {local.tm_year + 1900, local.tm_mon + 1, local.tm_mday};
	return date_number(date) * DAY + local.tm_hour * 3600 + local.tm_min * 60 + local.tm_sec;
}

static int32_t library_offset(instant when)
{
	return (int32_t)(library_local(when) - when);
}

/* Every instant at which the library shows `local`: all offsets by the quarter of an hour are tried. */
static size_t library_instants(int64_t local, instant found[8])
{
	size_t n = 0;
	for (int64_t offset = 15 * 3600; offset >= -15 * 3600; offset -= 900)
		if (library_local(local - offset) == local && n < 8)
			found[n++] = local - offset;
	return n;
}

static enum local_kind judge_local(const struct zone *zone, int64_t local, int32_t offset_before)
{
	struct civil_date date = date_of_number(local / DAY);
	struct clock_time time = {(int)(local % DAY / 3600), (int)(local % 3600 / 60)};
	instant expected[8];
	instant result;
	size_t n = library_instants(local, expected);
	enum local_kind kind = zone_instant(zone, date, time, &result);
	assert_int_equal(kind, n == 0 ? LOCAL_NEVER : n == 1 ? LOCAL_ONCE : LOCAL_TWICE);
	assert_int_equal(result, n == 0 ? local - offset_before : expected[0]);
	if (n == 0)
		return kind;
	/* The elapsed time to three days on, and back to a local time, is the library's too. */
	struct civil_date shown_date;
	struct clock_time shown;
	int32_t offset;
	zone_local(zone, result + 3 * DAY, &shown_date, &shown, &offset);
	assert_int_equal(offset, library_offset(result + 3 * DAY));
	assert_int_equal(date_number(shown_date) * DAY + shown.hour * 3600 + shown.minute * 60,
	                 library_local(result + 3 * DAY));
	return kind;
}

static instant change_between(instant before, instant after)
{
	while (after - before > 60) {
		instant middle = before + (after - before) / 120 * 60;
		if (library_offset(middle) == library_offset(before))
			before = middle;
		else
			after = middle;
	}
	return after;
}

/* Local times from two hours before a change to two after it, each quarter of an hour and the minute before it. */
static void judge_change(const struct zone *zone, instant change, size_t seen[3])
{
	int32_t before = library_offset(change - 1);
	int32_t after = library_offset(change);
	int64_t first = change + (before < after ? before : after) - 7200;
	int64_t last = change + (before < after ? after : before) + 7200;
	for (int64_t local = first; local <= last; local += 900) {
		seen[judge_local(zone, local, before)]++;
		seen[judge_local(zone, local - 60, before)]++;
	}
}

static void local_times_agree_with_the_library(void **state)
{
	const instant from = date_number((struct civil_date){2011, 1, 1}) * DAY;
	const instant to = date_number((struct civil_date){2021, 1, 1}) * DAY;
	size_t seen[3] = {0, 0, 0};
	size_t changes = 0;
	for (size_t i = 0; i < sizeof judged / sizeof *judged; i++) {
		const struct zone *zone = zone_load(case_of(state)->arena, judged[i]);
		setenv("TZ", judged[i], 1);
		tzset();
		assert_non_null(zone);
		for (instant when = from; when < to; when += 3600) {
			if (when % (30 * DAY) == 0)
				seen[judge_local(zone, library_local(when), 0)]++;
			if (library_offset(when) == library_offset(when + 3600))
				continue;
			judge_change(zone, change_between(when, when + 3600), seen);
			changes++;
		}
	}
	unsetenv("TZ");
	tzset();
	/* Two changes a year in most of these zones; times of all three kinds were among them. */
	assert_true(changes > 150);
	assert_true(seen[LOCAL_ONCE] > 1000 && seen[LOCAL_NEVER] > 400 && seen[LOCAL_TWICE] > 400);
}

int main(void)
{
	struct tests tests = {0};
	tests_add(&tests, "local times around each change of twelve zones in ten years agree with the C library",
	          local_times_agree_with_the_library, NULL);
	tests_add(&tests, "every zone agrees with zdump", every_zone_agrees_with_zdump, NULL);
	tests_add(&tests, "London changes when the law says", london_changes_when_the_law_says, NULL);
	tests_add(&tests, "a zone without changes has one span", a_zone_without_changes_has_one_span, NULL);
	tests_add(&tests, "offers names", offers_names, NULL);
	tests_add(&tests, "packed zones are the same", packed_zones_are_the_same, NULL);
	for (size_t i = 0; i < sizeof rules / sizeof *rules; i++)
		tests_add(&tests, rules[i], rule_agrees_with_zdump, rules[i]);
	for (size_t i = 0; i < sizeof no_rules / sizeof *no_rules; i++)
		tests_add(&tests, no_rules[i], is_no_rule, no_rules[i]);
	tests_add(&tests, "a rule without changes", a_rule_without_changes, NULL);
	tests_add(&tests, "damaged data are survived", damaged_data_are_survived, NULL);
	for (size_t i = 0; i < sizeof no_zones / sizeof *no_zones; i++) {
		struct arena *arena = arena_new();
		tests_add(&tests, arena_printf(arena, "no zone %zu", i), refuses, no_zones[i]);
		arena_free(arena);
	}
	return tests_run(&tests, "zones");
}
