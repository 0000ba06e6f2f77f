#include "load/zones.h"

#include <glib.h>
#include <string.h>
#include <unicode/ucal.h>
#include <unicode/uenum.h>

/* A year more than plans have on both sides, so that no plan's day meets the edge. */
static const struct civil_date first_day = {1999, 1, 1};
static const struct civil_date last_day = {2101, 12, 31};

enum { SECONDS_PER_DAY = 86400, LEAST_SPAN_DAYS = 14 };

/*
 * "Area/Place" with letters, digits, '_', '+' and '-'. GLib would also take a
 * path, a rule in POSIX's notation, and 'right/...', whose seconds are others.
 */
static bool is_iana_name(const char *name)
{
	if (strcmp(name, "UTC") == 0)
		return true;
	if (strncmp(name, "right/", 6) == 0 || strncmp(name, "posix/", 6) == 0 || !strchr(name, '/'))
		return false;
	char before = '/';
	for (const char *c = name; *c; before = *c++) {
		bool letter = g_ascii_isalpha(*c);
		if (before == '/' && !letter)
			return false;
		if (!letter && !g_ascii_isdigit(*c) && !strchr("/_+-", *c))
			return false;
	}
	return before != '/';
}

/* The last instant before `to` that has the same interval as `from`, given that `to` has another. */
static instant end_of_interval(GTimeZone *zone, instant from, instant to)
{
	gint interval = g_time_zone_find_interval(zone, G_TIME_TYPE_UNIVERSAL, from);
	while (to - from > 1) {
		instant middle = from + (to - from) / 2;
		if (g_time_zone_find_interval(zone, G_TIME_TYPE_UNIVERSAL, middle) == interval)
			from = middle;
		else
			to = middle;
	}
	return from;
}

static struct zone_span span_from(struct arena *arena, GTimeZone *zone, instant since)
{
	gint interval = g_time_zone_find_interval(zone, G_TIME_TYPE_UNIVERSAL, since);
	return (struct zone_span){
		.since = since,
		.offset = g_time_zone_get_offset(zone, interval),
		.abbreviation = arena_strdup(arena, g_time_zone_get_abbreviation(zone, interval)),
	};
}

/*
 * GLib tells which interval an instant lies in, not where intervals end, so
 * strides look for another interval and halving finds where it begins. Strides
 * are shorter than any interval since 1999, or two changes could be stepped over.
 */
static struct zone *read_spans(struct arena *arena, GTimeZone *data, const char *name)
{
	struct zone *zone = arena_alloc(arena, sizeof *zone);
	instant end = date_number(last_day) * SECONDS_PER_DAY;
	instant now = date_number(first_day) * SECONDS_PER_DAY;
	struct zone_span *spans = NULL;
	for (;;) {
		spans = arena_more(arena, spans, zone->n_spans, sizeof *spans);
		spans[zone->n_spans++] = span_from(arena, data, now);
		gint interval = g_time_zone_find_interval(data, G_TIME_TYPE_UNIVERSAL, now);
		instant next = now;
		do {
			now = next;
			next += (instant)LEAST_SPAN_DAYS * SECONDS_PER_DAY;
		} while (next < end && g_time_zone_find_interval(data, G_TIME_TYPE_UNIVERSAL, next) == interval);
		if (next >= end)
			break;
		now = end_of_interval(data, now, next) + 1;
	}
	zone->name = arena_strdup(arena, name);
	zone->spans = spans;
	return zone;
}

const struct zone *zone_load(struct arena *arena, const char *name)
{
	if (!is_iana_name(name))
		return NULL;
	GTimeZone *data = g_time_zone_new_identifier(name);
	if (!data)
		return NULL;
	struct zone *zone = read_spans(arena, data, name);
	g_time_zone_unref(data);
	return zone;
}

void zone_offer_all(struct arena *arena, struct nearest *nearest)
{
	UErrorCode error = U_ZERO_ERROR;
	UEnumeration *names = ucal_openTimeZones(&error);
	const char *name;
	while (U_SUCCESS(error) && (name = uenum_next(names, NULL, &error))) {
		if (is_iana_name(name))
			nearest_offer(nearest, name);
		if (nearest->best == name)
			nearest->best = arena_strdup(arena, name); /* the next name takes its memory */
	}
	uenum_close(names);
}
