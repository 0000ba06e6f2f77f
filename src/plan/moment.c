#include "plan/follow.h"

struct civil_date treatment_day(const struct plan *plan, struct civil_date clock_date, struct clock_time time)
{
	if (clock_compare(time, plan->clinic->day_begins) < 0)
		return date_plus(clock_date, -1);
	return clock_date;
}

struct moment moment_of_day(const struct plan *plan, struct civil_date date)
{
	struct moment moment = moment_of_clock(plan, date, plan->clinic->day_begins);
	moment.has_time = false;
	return moment;
}

struct moment moment_of_day_at(const struct plan *plan, struct civil_date date, struct clock_time time)
{
	bool small_hours = clock_compare(time, plan->clinic->day_begins) < 0;
	return moment_of_clock(plan, small_hours ? date_plus(date, 1) : date, time);
}

struct moment moment_of_clock(const struct plan *plan, struct civil_date clock_date, struct clock_time time)
{
	struct moment moment = {.known = true, .has_time = true, .clock_date = clock_date, .time = time};
	moment.date = treatment_day(plan, clock_date, time);
	zone_instant(plan->zone, clock_date, time, &moment.when);
	return moment;
}

struct moment moment_of_instant(const struct plan *plan, instant when)
{
	struct moment moment = {.known = true, .has_time = true, .when = when};
	int32_t offset;
	zone_local(plan->zone, when, &moment.clock_date, &moment.time, &offset);
	moment.date = treatment_day(plan, moment.clock_date, moment.time);
	return moment;
}

int moment_compare(const struct moment *a, const struct moment *b)
{
	int days = date_compare(a->date, b->date);
	if (days != 0 || !a->has_time || !b->has_time)
		return days;
	return a->when < b->when ? -1 : a->when > b->when;
}

static bool whole_in(struct quantity quantity, enum unit unit, int64_t *count)
{
	struct quantity converted;
	if (!quantity_in(quantity, unit, &converted) || !rational_is_whole(converted.number))
		return false;
	*count = converted.number.numerator;
	return true;
}

bool quantity_minutes(struct quantity quantity, int64_t *minutes)
{
	if (quantity.unit != UNIT_MINUTE && quantity.unit != UNIT_HOUR)
		return false;
	return whole_in(quantity, UNIT_MINUTE, minutes);
}

bool quantity_days(struct quantity quantity, int64_t *days)
{
	if (quantity.unit != UNIT_DAY && quantity.unit != UNIT_WEEK)
		return false;
	return whole_in(quantity, UNIT_DAY, days);
}

const char *elapsed_print(struct arena *arena, struct rational hours)
{
	if (rational_is_whole(hours))
		return arena_printf(arena, "%lld h", (long long)hours.numerator);
	int64_t whole = rational_floor(hours);
	int64_t minutes = (hours.numerator - whole * hours.denominator) * 60 / hours.denominator;
	return arena_printf(arena, "%lld h %02lld min", (long long)whole, (long long)minutes);
}

void moment_check_clock(struct follow *follow, const struct zone *zone, const struct moment *moment, const char *what,
                        const char *id, struct place place)
{
	instant when;
	enum local_kind kind = zone_instant(zone, moment->clock_date, moment->time, &when);
	if (kind == LOCAL_ONCE)
		return;
	enum finding_level level = moment->exact ? FINDING_STOP : FINDING_CAUTION;
	const char *date = date_print(follow->arena, moment->clock_date);
	const char *time = clock_print(follow->arena, moment->time);
	if (kind == LOCAL_NEVER)
		findings_add(follow->findings, level, "time-never", place,
		             "%s on %s, %s '%s', does not exist in %s: clocks go forward over it; choose another", time,
		             date, what, id, zone->name);
	else
		findings_add(follow->findings, level, "time-twice", place,
		             "%s on %s, %s '%s', comes twice in %s: clocks go back over it; choose another", time, date,
		             what, id, zone->name);
}
