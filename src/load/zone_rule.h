/*
 * zone_rule.h - the rule by which clocks go on changing after a zone's table ends.
 *
 * Zone data end with one in the notation of POSIX, "GMT0BST,M3.5.0/1,M10.5.0":
 * standard time, offset (counted westwards), summer time, and when it begins and
 * ends. Ireland's has its names turned round, "IST-1GMT0,M10.5.0,M3.5.0/1": its
 * 'summer' is in winter, an hour back.
 */
#ifndef LOAD_ZONE_RULE_H
#define LOAD_ZONE_RULE_H

#include "quantity/civil.h"

/* A day of each year, and how many seconds after its midnight. */
struct yearly_day {
	enum {
		YEARLY_WEEKDAY, /* the `week`th `weekday` (0: Sunday) of `month`; week 5 is the last */
		YEARLY_JULIAN,  /* day 1 to 365; 29 February is never counted */
		YEARLY_ORDINAL  /* day 0 to 365 */
	} kind;
	int month;
	int week;
	int weekday;
	int day;
	int32_t seconds;
};

struct zone_rule {
	struct zone_span standard; /* `since` is unset */
	bool changes;              /* false: standard time all year, and nothing below */
	struct zone_span summer;
	struct yearly_day summer_begins; /* by standard time */
	struct yearly_day summer_ends;   /* by summer time */
};

/* False where `text` is no such rule, or one that leaves the days of change open. */
bool zone_rule_read(struct arena *arena, const char *text, struct zone_rule *rule);

/* The two spans that begin in a year, the earlier one first. Only of a rule that changes. */
void zone_rule_year(const struct zone_rule *rule, int year, struct zone_span spans[2]);

#endif
