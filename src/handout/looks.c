/*
 * looks.c - which picture and which words stand for a product, a time, a place.
 */
#include "handout/build.h"
#include "plan/draw.h"

#include <string.h>

/* A counted form shows in the unit of its strength, or of the count beside it ("2 mg", "1 tablet"). */
static enum pictogram picture_of_counted(const struct product *product)
{
	static const struct {
		enum unit unit;
		enum pictogram picture;
	} forms[] = {{UNIT_TABLET, PICTURE_TABLET}, {UNIT_CAPSULE, PICTURE_CAPSULE}, {UNIT_PATCH, PICTURE_PATCH},
	             {UNIT_INSERT, PICTURE_INSERT}, {UNIT_SPRAY, PICTURE_SPRAY},     {UNIT_PUFF, PICTURE_SPRAY},
	             {UNIT_DROP, PICTURE_DROPS},    {UNIT_SACHET, PICTURE_SACHET}};
	for (size_t i = 0; i < sizeof forms / sizeof *forms; i++)
		if (product->strength.quantity.unit == forms[i].unit ||
		    product->also_labelled.quantity.unit == forms[i].unit)
			return forms[i].picture;
	return PICTURE_TABLET;
}

enum pictogram picture_of_product(const struct product *product)
{
	switch (product->container) {
	case CONTAINER_POWDER_VIAL:
		return PICTURE_POWDER_VIAL;
	case CONTAINER_SOLUTION_VIAL:
		return PICTURE_LIQUID_VIAL;
	case CONTAINER_AMPOULE:
		return PICTURE_AMPOULE;
	case CONTAINER_PREFILLED_SYRINGE:
		return PICTURE_FILLED_SYRINGE;
	case CONTAINER_PEN:
		return PICTURE_PEN;
	case CONTAINER_COUNTED:
		break;
	}
	return picture_of_counted(product);
}

/* From which hour on a clock time that is no slot goes by which sign and word. */
struct day_part {
	int from;
	const char *word;
	enum pictogram sign;
};

static const struct day_part *part_of_hour(int hour)
{
	static const struct day_part parts[] = {{0, "night", PICTURE_MOON},       {4, "morning", PICTURE_SUN},
	                                        {11, "noon", PICTURE_NOON},       {14, "afternoon", PICTURE_NOON},
	                                        {17, "evening", PICTURE_EVENING}, {21, "bedtime", PICTURE_MOON}};
	size_t i = sizeof parts / sizeof *parts - 1;
	while (parts[i].from > hour)
		i--;
	return &parts[i];
}

enum pictogram picture_of_time(struct clock_time time, const struct slot *slot)
{
	static const struct {
		const char *slot;
		enum pictogram picture;
	} known[] = {{"morning", PICTURE_SUN},
	             {"noon", PICTURE_NOON},
	             {"evening", PICTURE_EVENING},
	             {"bedtime", PICTURE_MOON}};
	for (size_t i = 0; slot != NULL && i < sizeof known / sizeof *known; i++)
		if (strcmp(slot->id, known[i].slot) == 0)
			return known[i].picture;
	return part_of_hour(time.hour)->sign;
}

static const char *word_of_time(struct build *build, struct speaker *speaker, struct clock_time time,
                                const struct slot *slot, const char *form)
{
	const char *own = slot == NULL ? NULL : arena_printf(build->arena, "slot.%s%s", slot->id, form);
	if (own != NULL && can_say(speaker, own))
		return say0(speaker, own);
	return say0(speaker, arena_printf(build->arena, "slot.%s%s", part_of_hour(time.hour)->word, form));
}

const char *slot_word(struct build *build, struct clock_time time, const struct slot *slot)
{
	return word_of_time(build, build->speaker, time, slot, "");
}

enum pictogram picture_of_place(const char *where)
{
	return where != NULL && strcmp(where, "fridge") == 0 ? PICTURE_FRIDGE : PICTURE_SHELF;
}

bool given_by_needle(const struct draw *draw, const struct item *item)
{
	return draw->measure != MEASURE_COUNT && route_by_needle(item->medicine->route);
}

bool dose_drawn_at_once(const struct dose *dose)
{
	return dose->half != HALF_NONE && dose->n_draws > 0 && dose->draws[0].product->share.how == SHARE_TWO_SYRINGES;
}

static const char *kind_words(struct build *build, struct speaker *speaker, const struct product *product)
{
	return say0(speaker, arena_printf(build->arena, "kind.%s.short", container_kind_name(product->container)));
}

const char *packed_words(struct build *build, struct speaker *speaker, const struct product *product)
{
	const char *kind = kind_words(build, speaker, product);
	const char *label = label_words(speaker, product);
	if (!product->volume.given)
		return say2(speaker, "container.label", "kind", kind, "label", label);
	struct value values[] = {
		{"kind", kind}, {"label", label}, {"volume", say_amount(speaker, product->volume.quantity)}};
	/* A strength is that of the whole volume, a figure for 1 mL is not. */
	bool per_ml = product->per_ml.given || product->box_says.text != NULL;
	return say(speaker, per_ml ? "container.volume_label" : "container.label_in_volume", values, 3);
}

const char *liquid_words(struct speaker *speaker, const struct product *product)
{
	static const char *const keys[] = {[LIQUID_SYRINGE] = "container.liquid_syringe",
	                                   [LIQUID_VIAL] = "container.liquid_vial",
	                                   [LIQUID_AMPOULE] = "container.liquid_ampoule"};
	const struct liquid *liquid = &product->diluent;
	if (!liquid->given || !liquid->supplied.given)
		return NULL;
	return say2(speaker, keys[liquid->comes_as], "volume", say_amount(speaker, liquid->supplied.quantity), "liquid",
	            say_text(speaker, liquid->name, "the liquid's name"));
}

bool draw_swaps_needles(const struct draw *draw)
{
	if (draw->measure != MEASURE_SYRINGE || draw->product->container == CONTAINER_PREFILLED_SYRINGE)
		return false;
	bool fixed = draw->mark.syringe != NULL && draw->mark.syringe->fixed_needle;
	return !fixed && (draw->product->mixing_needle.given || product_filters(draw->product)) &&
	       draw->product->giving_needle.given;
}

static const char *how_taken(struct build *build, const struct item *item)
{
	return route_words(build, item->medicine);
}

const char *device_words(struct build *build, const struct draw *draw, const struct item *item)
{
	switch (draw->measure) {
	case MEASURE_COUNT:
		return how_taken(build, item);
	case MEASURE_DIAL:
		return say0(build->speaker, "device.pen");
	case MEASURE_SYRINGE:
		break;
	}
	const struct product *product = draw->product;
	if (product->container == CONTAINER_PREFILLED_SYRINGE)
		return say0(build->speaker, "device.filled_syringe");
	if (draw->mark.syringe == NULL)
		return say0(build->speaker, "device.syringe");
	if (draw->mark.syringe->unit_scale)
		return say_text(build->speaker, draw->mark.syringe->scale_name, "the syringe's scale");
	return say_text(build->speaker, draw->mark.syringe->name, "the syringe's name");
}

int course_day(const struct build *build, struct civil_date date)
{
	return (int)date_difference(date, build->course->first) + 1;
}

bool draws_variant(const struct build *build, const struct dose *dose, const struct variant *variant)
{
	for (size_t i = 0; i < dose->n_draws; i++)
		if (variant_of(build, dose, i) == variant)
			return true;
	return false;
}

static bool may_draw_variant(const struct build *build, const struct dose *dose, const struct variant *variant)
{
	for (size_t i = 0; i < dose->n_options; i++)
		for (size_t j = 0; j < dose->options[i].n_draws; j++)
			if (variant_of_draw(build, dose->item, &dose->options[i].draws[j]) == variant)
				return true;
	return false;
}

static bool draws_product(const struct dose *dose, const struct product *product)
{
	for (size_t i = 0; i < dose->n_draws; i++)
		if (dose->draws[i].product == product)
			return true;
	for (size_t i = 0; i < dose->n_options; i++)
		for (size_t j = 0; j < dose->options[i].n_draws; j++)
			if (dose->options[i].draws[j].product == product)
				return true;
	return false;
}

void add_days(struct build *build, struct day_list *list, int from, int to)
{
	if (to == from + 1) {
		add_days(build, list, from, from);
		from = to;
	}
	list->ranges = arena_more(build->arena, list->ranges, list->n, sizeof *list->ranges);
	list->ranges[list->n++] = (struct day_range){from, to};
}

static const char *range_words(struct speaker *speaker, const struct day_range *range)
{
	const char *from = say_number(speaker, rational_of(range->from, 1));
	if (range->from == range->to)
		return from;
	return say2(speaker, "days.range", "from", from, "to", say_number(speaker, rational_of(range->to, 1)));
}

const char *days_words(struct build *build, struct speaker *speaker, const struct day_list *list)
{
	const char *days = NULL;
	bool single = true;
	for (size_t i = 0; i < list->n; i++) {
		const char *range = range_words(speaker, &list->ranges[i]);
		single = single && list->ranges[i].from == list->ranges[i].to;
		if (days == NULL)
			days = range;
		else if (list->n == 2 && single)
			days = say2(speaker, "list.and", "first", days, "last", range);
		else
			days = arena_printf(build->arena, "%s, %s", days, range);
	}
	return days == NULL ? NULL : say1(speaker, single && list->n == 1 ? "days.one" : "days.many", "days", days);
}

/* Which doses days and times are asked for. */
struct doses_asked {
	const struct variant *variant; /* or: */
	const struct item *item;
	const struct product *product;
	bool opening; /* a second half is drawn from what the first one opened: not that */
};

/* Asked for whatever a call may say: of a product, also where the call only sets the amount. */
static bool is_asked(const struct build *build, const struct doses_asked *asked, const struct dose *dose)
{
	if (asked->variant != NULL)
		return dose->item == asked->variant->item && draws_variant(build, dose, asked->variant) &&
		       !(asked->opening && dose->half == HALF_SECOND);
	return dose->item == asked->item && draws_product(dose, asked->product);
}

/* Asked for only if a call sets that amount. */
static bool may_be_asked(const struct build *build, const struct doses_asked *asked, const struct dose *dose)
{
	return asked->variant != NULL && dose->item == asked->variant->item &&
	       may_draw_variant(build, dose, asked->variant);
}

/* The days of the doses that are asked for: what is known of them, and what depends on a call. */
struct days_found {
	const char *days; /* "days 1 to 6, 9"; NULL: none is known */
	int last;
	bool ahead;   /* some of them are not done */
	bool sooner;  /* a call may bring them forward */
	bool if_told; /* a call may set that amount, on days ... */
	int told;     /* ... from this one on; 0: not known */
};

static struct days_found find_days(struct build *build, struct speaker *speaker, const struct doses_asked *asked)
{
	struct days_found found = {0};
	struct day_list list = {0};
	int from = 0;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		bool if_told = may_be_asked(build, asked, dose);
		int day = dose->open ? 0 : course_day(build, dose->date);
		if (if_told && !found.if_told)
			found.told = day;
		found.if_told = found.if_told || if_told;
		if (dose->open || !is_asked(build, asked, dose) || day == found.last)
			continue;
		found.ahead = found.ahead || !dose->done;
		found.sooner = found.sooner || dose->unless_sooner;
		if (from != 0 && day != found.last + 1) {
			add_days(build, &list, from, found.last);
			from = day;
		}
		if (from == 0)
			from = day;
		found.last = day;
	}
	if (from != 0)
		add_days(build, &list, from, found.last);
	found.days = days_words(build, speaker, &list);
	return found;
}

static const char *days_where(struct build *build, struct speaker *speaker, const struct doses_asked *asked)
{
	struct days_found found = find_days(build, speaker, asked);
	if (found.days == NULL && found.told > 0)
		return say1(speaker, "days.if_told_from", "day", say_number(speaker, rational_of(found.told, 1)));
	if (found.days == NULL)
		return say0(speaker, found.if_told ? "days.if_told" : "days.when_called");
	const char *days = found.days;
	if (found.if_told)
		return say1(speaker, found.told > found.last ? "days.later_if_told" : "days.also_if_told", "days",
		            days);
	if (!found.ahead)
		return say1(speaker, "days.before", "days", days);
	return found.sooner ? say1(speaker, "days.or_sooner", "days", days) : days;
}

bool variant_is_over(const struct build *build, const struct variant *variant)
{
	if (variant->dose->amount == DOSE_BY_CALL)
		return false;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		for (size_t j = 0; j < dose->n_draws; j++)
			if (!dose->done && variant_of(build, dose, j) == variant)
				return false;
	}
	return true;
}

const char *variant_days(struct build *build, struct speaker *speaker, const struct variant *variant)
{
	return days_where(build, speaker, &(struct doses_asked){.variant = variant});
}

const char *opening_days(struct build *build, struct speaker *speaker, const struct variant *variant)
{
	return days_where(build, speaker, &(struct doses_asked){.variant = variant, .opening = true});
}

const char *product_days(struct build *build, struct speaker *speaker, const struct item *item,
                         const struct product *product)
{
	return days_where(build, speaker, &(struct doses_asked){.item = item, .product = product});
}

/* Each time of day once, in order of first appearance. */
static const char *times_where(struct build *build, struct speaker *speaker, const struct doses_asked *asked)
{
	const char **times = NULL;
	const char *all = NULL;
	size_t n = 0;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (!is_asked(build, asked, dose) && !may_be_asked(build, asked, dose))
			continue;
		const char *time = dose_time(build, speaker, dose);
		bool known = false;
		for (size_t j = 0; j < n; j++)
			known = known || strcmp(times[j], time) == 0;
		if (known)
			continue;
		times = arena_more(build->arena, times, n, sizeof *times);
		times[n++] = time;
		all = all == NULL ? time : arena_printf(build->arena, "%s; %s", all, time);
	}
	return all == NULL ? "" : all;
}

const char *variant_times(struct build *build, struct speaker *speaker, const struct variant *variant)
{
	return times_where(build, speaker, &(struct doses_asked){.variant = variant});
}

const char *product_times(struct build *build, struct speaker *speaker, const struct item *item,
                          const struct product *product)
{
	return times_where(build, speaker, &(struct doses_asked){.item = item, .product = product});
}

/* A dose that still waits for its day has no time of its own choosing either: the clinic will name it. */
const char *untimed_words(struct speaker *speaker, const struct dose *dose)
{
	return say0(speaker, dose->open ? "time.told" : "time.any");
}

const char *night_of(struct speaker *speaker, const struct dose *dose)
{
	if (dose->open || date_compare(dose->date, dose->clock_date) == 0)
		return NULL;
	return say2(speaker, "grid.night_note", "from", say_date(speaker, dose->date, DATE_WEEKDAY_SHORT), "to",
	            say_date(speaker, dose->clock_date, DATE_WEEKDAY_SHORT));
}

const char *dose_time(struct build *build, struct speaker *speaker, const struct dose *dose)
{
	if (!dose->has_time)
		return untimed_words(speaker, dose);
	const char *clock = say_time(speaker, dose->time);
	const char *night = night_of(speaker, dose);
	if (dose->exact) {
		const char *exactly = say1(speaker, "time.exactly", "time", clock);
		return night == NULL ? exactly : arena_printf(build->arena, "%s, %s", night, exactly);
	}
	return arena_printf(build->arena, "%s, %s", word_of_time(build, speaker, dose->time, dose->slot, ".lower"),
	                    clock);
}
