#include "support/course_script.h"

#include "base/finding.h"

#include <glib.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_OF_A_KIND = 24, MOST_FIELDS = 24 };

struct field {
	const char *key;
	const char *value;
	struct place place;
};

struct line {
	const char *kind;
	struct field fields[MOST_FIELDS];
	size_t n;
	struct place place;
};

struct script {
	struct arena *arena;
	struct source_file *file;
	struct clinic *clinic;
	struct protocol *protocol;
	struct plan *plan;
	struct medicine *medicines;
	struct item *items;
	struct event *events;
	struct visit *visits;
	struct event_date *dates;
	struct plan_doses *own;
	struct change *changes;
	struct call_made *called;
	struct away *away;
	struct dispensed *dispensed;
	struct syringe *syringes;
	struct slot *slots;
};

static _Noreturn void bad(const struct line *line, const char *what, const char *value)
{
	fprintf(stderr, "test script, line %d: %s '%s'\n", line->place.line, what, value);
	exit(1);
}

/* ---- values ---- */

static const struct field *field_of(const struct line *line, const char *key)
{
	for (size_t i = 0; i < line->n; i++)
		if (strcmp(line->fields[i].key, key) == 0)
			return &line->fields[i];
	return NULL;
}

static const char *value_of(const struct line *line, const char *key)
{
	const struct field *field = field_of(line, key);
	return field ? field->value : NULL;
}

static bool yes(const struct line *line, const char *key)
{
	const char *value = value_of(line, key);
	return value && strcmp(value, "yes") == 0;
}

static struct quantity quantity_in_line(struct script *script, const struct line *line, const char *text)
{
	struct quantity quantity;
	struct quantity_fault fault;
	if (!quantity_read_or_zero(script->arena, text, DECIMAL_POINT, &quantity, &fault))
		bad(line, "no quantity", text);
	return quantity;
}

static struct stated_quantity stated_quantity(struct script *script, const struct line *line, const char *key)
{
	const struct field *field = field_of(line, key);
	if (!field)
		return (struct stated_quantity){.place = line->place};
	return (struct stated_quantity){true, quantity_in_line(script, line, field->value), field->place};
}

static struct stated_quantity stated_per_ml(struct script *script, const struct line *line, const char *key)
{
	const struct field *field = field_of(line, key);
	struct stated_quantity stated = {.place = line->place};
	struct quantity_fault fault;
	if (!field)
		return stated;
	if (!concentration_read(script->arena, field->value, DECIMAL_POINT, &stated.quantity, &fault))
		bad(line, "no concentration", field->value);
	stated.given = true;
	stated.place = field->place;
	return stated;
}

static struct rational number(struct script *script, const struct line *line, const char *key)
{
	struct rational result = {0, 1};
	struct quantity_fault fault;
	const char *value = value_of(line, key);
	if (value && !number_read(script->arena, value, DECIMAL_POINT, &result, &fault))
		bad(line, "no number", value);
	return result;
}

static struct stated_number stated_number(const struct line *line, const char *key)
{
	const struct field *field = field_of(line, key);
	if (!field)
		return (struct stated_number){.place = line->place};
	return (struct stated_number){true, atoll(field->value), field->place};
}

static struct stated_date stated_date(const struct line *line, const char *key)
{
	const struct field *field = field_of(line, key);
	struct stated_date stated = {.place = line->place};
	if (!field)
		return stated;
	if (!expiry_read(field->value, &stated.date))
		bad(line, "no date", field->value);
	stated.given = true;
	stated.place = field->place;
	return stated;
}

static struct text text_of(struct script *script, const char *words, const char *language, struct place place)
{
	struct translation *in = arena_alloc(script->arena, sizeof *in);
	*in = (struct translation){language, words};
	return (struct text){in, 1, place};
}

/* English words, or those of another language behind 'es:'. */
static struct text stated_text(struct script *script, const struct line *line, const char *key)
{
	const struct field *field = field_of(line, key);
	if (!field)
		return (struct text){.place = line->place};
	if (strncmp(field->value, "es:", 3) == 0)
		return text_of(script, field->value + 3, "es", field->place);
	return text_of(script, field->value, "en", field->place);
}

/* The words between commas, trimmed; `n` may be 0. */
static const char **list_of(struct script *script, const char *text, size_t *n)
{
	const char **list = NULL;
	*n = 0;
	while (text && *text) {
		const char *comma = strchr(text, ',');
		size_t length = comma ? (size_t)(comma - text) : strlen(text);
		list = arena_more(script->arena, list, *n, sizeof *list);
		list[(*n)++] = arena_strndup(script->arena, text, length);
		text += length + (comma ? 1 : 0);
		while (*text == ' ')
			text++;
	}
	return list;
}

static const struct at *times_of(struct script *script, const struct line *line, const char *key, size_t *n)
{
	const struct field *field = field_of(line, key);
	*n = 0;
	if (!field)
		return NULL;
	const char **words = list_of(script, field->value, n);
	struct at *at = arena_alloc(script->arena, (*n + 1) * sizeof *at);
	for (size_t i = 0; i < *n; i++) {
		at[i].place = field->place;
		for (size_t j = 0; j < script->clinic->n_slots; j++)
			if (strcmp(script->slots[j].id, words[i]) == 0)
				at[i].slot = &script->slots[j];
		if (at[i].slot)
			at[i].time = at[i].slot->time;
		else if (!clock_read(words[i], &at[i].time))
			bad(line, "no time", words[i]);
	}
	return at;
}

static const struct item *item_named(struct script *script, const struct line *line, const char *id)
{
	for (size_t i = 0; i < script->protocol->n_items; i++)
		if (strcmp(script->items[i].id, id) == 0)
			return &script->items[i];
	bad(line, "no item", id);
}

static const struct product *product_named(struct script *script, const struct line *line, const char *id)
{
	for (size_t i = 0; i < script->clinic->n_medicines; i++)
		for (size_t j = 0; j < script->medicines[i].n_products; j++)
			if (strcmp(script->medicines[i].products[j].id, id) == 0)
				return &script->medicines[i].products[j];
	bad(line, "no product", id);
}

static const struct syringe *syringe_named(struct script *script, const struct line *line, const char *id)
{
	for (size_t i = 0; id && i < script->clinic->n_syringes; i++)
		if (strcmp(script->syringes[i].id, id) == 0)
			return &script->syringes[i];
	if (!id)
		return NULL;
	bad(line, "no syringe", id);
}

/* ---- triggers ---- */

static struct trigger trigger_of(struct script *script, const struct line *line, const char *text, struct place place);

/* Splits "a, first(b, c)" at the commas outside brackets. */
static void trigger_list(struct script *script, const struct line *line, const char *text, size_t length,
                         struct trigger *trigger)
{
	struct trigger *of = arena_alloc(script->arena, MOST_OF_A_KIND * sizeof *of);
	size_t start = 0;
	int depth = 0;
	for (size_t i = 0; i <= length; i++) {
		depth += i < length && text[i] == '(';
		depth -= i < length && text[i] == ')';
		if (i < length && (text[i] != ',' || depth > 0))
			continue;
		while (text[start] == ' ')
			start++;
		of[trigger->n_of++] =
			trigger_of(script, line, arena_strndup(script->arena, text + start, i - start), trigger->place);
		start = i + 1;
	}
	trigger->of = of;
}

static struct trigger event_trigger(struct script *script, const struct line *line, const char *text,
                                    struct place place)
{
	struct trigger trigger = {.kind = TRIGGER_EVENT, .place = place};
	const char *space = strchr(text, ' ');
	trigger.event = space ? arena_strndup(script->arena, text, (size_t)(space - text)) : text;
	if (!space)
		return trigger;
	const char *word = space + 1;
	if (strncmp(word, "day ", 4) == 0)
		trigger.day = (struct stated_number){true, atoll(word + 4), place};
	else if (strncmp(word, "plus ", 5) == 0)
		trigger.plus = (struct stated_quantity){true, quantity_in_line(script, line, word + 5), place};
	else if (strncmp(word, "minus ", 6) == 0)
		trigger.minus = (struct stated_quantity){true, quantity_in_line(script, line, word + 6), place};
	else
		bad(line, "no trigger", text);
	return trigger;
}

static struct trigger trigger_of(struct script *script, const struct line *line, const char *text, struct place place)
{
	struct trigger trigger = {.place = place};
	size_t length = strlen(text);
	if (strncmp(text, "on ", 3) == 0) {
		trigger.kind = TRIGGER_ON;
		trigger.on = (struct stated_date){.given = true, .place = place};
		if (!date_read(text + 3, &trigger.on.date))
			bad(line, "no date", text);
	} else if (strncmp(text, "call", 4) == 0) {
		trigger.kind = TRIGGER_CALL;
		trigger.call = text_of(script, length > 5 ? text + 5 : "we call you", "en", place);
	} else if (strncmp(text, "first(", 6) == 0 || strncmp(text, "last(", 5) == 0) {
		size_t open = text[0] == 'f' ? 6 : 5;
		trigger.kind = text[0] == 'f' ? TRIGGER_FIRST_OF : TRIGGER_LAST_OF;
		trigger_list(script, line, text + open, length - open - 1, &trigger);
	} else if (strncmp(text, "doses ", 6) == 0 || strncmp(text, "days ", 5) == 0) {
		trigger.kind = text[1] == 'o' ? TRIGGER_DOSES : TRIGGER_DAYS;
		trigger.count = (struct stated_number){true, atoll(strchr(text, ' ') + 1), place};
	} else {
		return event_trigger(script, line, text, place);
	}
	return trigger;
}

static struct trigger stated_trigger(struct script *script, const struct line *line, const char *key)
{
	const struct field *field = field_of(line, key);
	if (!field)
		return (struct trigger){.place = line->place};
	return trigger_of(script, line, field->value, field->place);
}

/* ---- entries ---- */

static struct limits limits_of(struct script *script, const struct line *line)
{
	return (struct limits){.least = stated_quantity(script, line, "least"),
	                       .most = stated_quantity(script, line, "most"),
	                       .day_most = stated_quantity(script, line, "day_most"),
	                       .gap_least = stated_quantity(script, line, "gap_least"),
	                       .gap_most = stated_quantity(script, line, "gap_most"),
	                       .site_most = stated_quantity(script, line, "site_most"),
	                       .place = line->place};
}

static void add_clinic(struct script *script, const struct line *line)
{
	const char *day_begins = value_of(line, "day_begins");
	if (day_begins && !clock_read(day_begins, &script->clinic->day_begins))
		bad(line, "no time", day_begins);
	if (field_of(line, "name"))
		script->clinic->name = stated_text(script, line, "name");
}

static void add_medicine(struct script *script, const struct line *line)
{
	static const struct {
		const char *name;
		enum route route;
	} routes[] = {{"subcutaneous", ROUTE_SUBCUTANEOUS},
	              {"oral", ROUTE_ORAL},
	              {"vaginal", ROUTE_VAGINAL},
	              {"intramuscular", ROUTE_INTRAMUSCULAR},
	              {"transdermal", ROUTE_TRANSDERMAL}};
	struct medicine *medicine = &script->medicines[script->clinic->n_medicines++];
	*medicine = (struct medicine){.id = value_of(line, "id"),
	                              .name = value_of(line, "id"),
	                              .purpose = stated_text(script, line, "purpose"),
	                              .missed = stated_text(script, line, "missed"),
	                              .limits = limits_of(script, line),
	                              .two_sites = yes(line, "two_sites"),
	                              .place = line->place};
	if (field_of(line, "round_most"))
		medicine->rounding = (struct rounding){
			.given = true, .most = rational_of(stated_number(line, "round_most").number, 100)};
	const char *route = value_of(line, "route");
	for (size_t i = 0; route && i < sizeof routes / sizeof routes[0]; i++)
		if (strcmp(routes[i].name, route) == 0)
			medicine->route = routes[i].route;
	medicine->products = arena_alloc(script->arena, MOST_OF_A_KIND * sizeof(struct product));
}

static enum container_kind container_named(const struct line *line, const char *name)
{
	static const char *const names[] = {"powder-vial", "solution-vial", "ampoule", "prefilled", "pen", "counted"};
	for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
		if (strcmp(names[i], name) == 0)
			return (enum container_kind)i;
	bad(line, "no container", name);
}

static void add_box(struct script *script, const struct line *line, struct product *product)
{
	size_t n;
	const char **things = list_of(script, value_of(line, "box"), &n);
	struct in_box *box = arena_alloc(script->arena, (n + 1) * sizeof *box);
	for (size_t i = 0; i < n; i++) {
		box[i] = (struct in_box){.kind = BOX_SWAB, .count = 1, .place = line->place};
		if (strcmp(things[i], "mixing") == 0 || strcmp(things[i], "giving") == 0) {
			box[i].kind = BOX_NEEDLE;
			box[i].needle = things[i];
		} else if (strncmp(things[i], "swab ", 5) == 0) {
			box[i].count = atoll(things[i] + 5);
		} else {
			box[i].kind = BOX_SYRINGE;
			box[i].syringe = syringe_named(script, line, things[i]);
		}
	}
	product->comes_with = box;
	product->n_comes_with = n;
}

static struct needle needle_of(struct script *script, const struct line *line, const char *key)
{
	const struct field *field = field_of(line, key);
	if (!field)
		return (struct needle){.given = false};
	const char *length = strchr(field->value, ' ');
	return (struct needle){.given = true,
	                       .gauge = {true, atoll(field->value), field->place},
	                       .length = {true, quantity_in_line(script, line, length + 1), field->place}};
}

static void add_product(struct script *script, const struct line *line)
{
	struct medicine *medicine = &script->medicines[script->clinic->n_medicines - 1];
	struct product *product = (struct product *)(uintptr_t)&medicine->products[medicine->n_products++];
	*product = (struct product){.id = value_of(line, "id"),
	                            .container = container_named(line, value_of(line, "container")),
	                            .strength = stated_quantity(script, line, "strength"),
	                            .per_ml = stated_per_ml(script, line, "per_ml"),
	                            .volume = stated_quantity(script, line, "volume"),
	                            .concentration = stated_per_ml(script, line, "concentration"),
	                            .powders_per_diluent = 1,
	                            .in_use = stated_quantity(script, line, "in_use"),
	                            .loss = stated_quantity(script, line, "loss"),
	                            .also_labelled = stated_quantity(script, line, "also_labelled"),
	                            .displacement = stated_quantity(script, line, "displacement"),
	                            .mixing_needle = needle_of(script, line, "mixing"),
	                            .giving_needle = needle_of(script, line, "giving"),
	                            .storage = stated_text(script, line, "storage"),
	                            .syringe = syringe_named(script, line, value_of(line, "syringe")),
	                            .span = yes(line, "span"),
	                            .halves = yes(line, "halves"),
	                            .whole_to_mark = yes(line, "to_mark"),
	                            .place = line->place};
	product->technique =
		field_of(line, "technique") ? value_of(line, "technique") : container_kind_name(product->container);
	product->contains = list_of(script, value_of(line, "contains"), &product->n_contains);
	product->stands_in_for = list_of(script, value_of(line, "stands_in_for"), &product->n_stands_in_for);
	if (field_of(line, "powders"))
		product->powders_per_diluent = stated_number(line, "powders").number;
	if (field_of(line, "liquid")) {
		product->diluent = (struct liquid){.given = true,
		                                   .supplied = stated_quantity(script, line, "liquid"),
		                                   .use = stated_quantity(script, line, "liquid"),
		                                   .comes_as = LIQUID_VIAL,
		                                   .place = line->place};
		product->diluent.name = text_of(script, "water", "en", line->place);
	}
	if (field_of(line, "liquid_as")) {
		product->diluent.comes_as = LIQUID_SYRINGE;
		product->draw_with = DRAW_WITH_LIQUID_SYRINGE;
	}
	if (field_of(line, "keep"))
		product->share = (struct share){.given = true,
		                                .policy = value_of(line, "policy"),
		                                .keep = stated_quantity(script, line, "keep"),
		                                .where = "fridge",
		                                .how = SHARE_FROM_VIAL,
		                                .place = line->place};
	if (field_of(line, "dial_step"))
		product->dial = (struct dial){.given = true,
		                              .step = stated_quantity(script, line, "dial_step"),
		                              .least = stated_quantity(script, line, "dial_least"),
		                              .most = stated_quantity(script, line, "dial_most"),
		                              .priming = stated_quantity(script, line, "priming"),
		                              .place = line->place};
	if (field_of(line, "test"))
		product->test = strcmp(value_of(line, "test"), "first") == 0 ? PEN_TEST_FIRST : PEN_TEST_EACH;
	add_box(script, line, product);
}

static void add_syringe(struct script *script, const struct line *line)
{
	struct syringe *syringe = &script->syringes[script->clinic->n_syringes++];
	*syringe = (struct syringe){.id = value_of(line, "id"),
	                            .name = stated_text(script, line, "name"),
	                            .capacity = number(script, line, "capacity"),
	                            .graduated = number(script, line, "capacity"),
	                            .step = number(script, line, "step"),
	                            .numbered_every = number(script, line, "step"),
	                            .units_per_ml = rational_of(1, 1),
	                            .scale_length = rational_of(57, 1),
	                            .barrel = rational_of(13, 2),
	                            .fixed_needle = yes(line, "fixed"),
	                            .place = line->place};
}

static void add_event(struct script *script, const struct line *line)
{
	script->events[script->protocol->n_events++] =
		(struct event){.id = value_of(line, "id"),
	                       .label = stated_text(script, line, "label"),
	                       .own_day = stated_number(line, "own_day"),
	                       .exact = yes(line, "exact"),
	                       .is_arrival = yes(line, "arrival"),
	                       .arrive_before = stated_quantity(script, line, "arrive_before"),
	                       .check_before = value_of(line, "check"),
	                       .check_by = stated_quantity(script, line, "by"),
	                       .check_give_or_take = stated_quantity(script, line, "give"),
	                       .place = line->place,
	                       .check_place = line->place};
}

static unsigned weekdays_of(struct script *script, const struct line *line)
{
	static const char *const names[] = {"", "mon", "tue", "wed", "thu", "fri", "sat", "sun"};
	size_t n;
	const char **words = list_of(script, value_of(line, "weekdays"), &n);
	unsigned days = 0;
	for (size_t i = 0; i < n; i++)
		for (unsigned day = MONDAY; day <= SUNDAY; day++)
			if (strcmp(names[day], words[i]) == 0)
				days |= 1U << day;
	return days;
}

static const struct medicine *medicine_named(struct script *script, const struct line *line, const char *id)
{
	for (size_t i = 0; i < script->clinic->n_medicines; i++)
		if (strcmp(script->medicines[i].id, id) == 0)
			return &script->medicines[i];
	bad(line, "no medicine", id);
}

static void add_item(struct script *script, const struct line *line)
{
	struct item *item = &script->items[script->protocol->n_items++];
	*item = (struct item){.id = value_of(line, "id"),
	                      .medicine = medicine_named(script, line, value_of(line, "medicine")),
	                      .start = stated_trigger(script, line, "start"),
	                      .end = stated_trigger(script, line, "end"),
	                      .every = stated_quantity(script, line, "every"),
	                      .weekdays = weekdays_of(script, line),
	                      .limits = limits_of(script, line),
	                      .horizon = stated_quantity(script, line, "horizon"),
	                      .window = stated_quantity(script, line, "window"),
	                      .place = line->place};
	item->at = times_of(script, line, "at", &item->n_at);
	item->doses = arena_alloc(script->arena, MOST_OF_A_KIND * sizeof(struct dose_step));
	item->limits.gap_most = stated_quantity(script, line, "gap_most");
	if (field_of(line, "as_needed"))
		item->as_needed = (struct as_needed){true, stated_number(line, "as_needed").number, line->place};
	if (field_of(line, "gap_to"))
		item->gap_to = (struct gap_to){.given = true,
		                               .event = value_of(line, "gap_to"),
		                               .most = stated_quantity(script, line, "gap_to_most"),
		                               .least = stated_quantity(script, line, "gap_to_least"),
		                               .place = line->place};
	size_t n;
	const char **products = list_of(script, value_of(line, "products"), &n);
	const struct product **listed = arena_alloc(script->arena, (n + 1) * sizeof *listed);
	for (size_t i = 0; i < n; i++)
		listed[i] = product_named(script, line, products[i]);
	item->products = listed;
	item->n_products = n;
}

static struct dose_step step_of(struct script *script, const struct line *line)
{
	struct dose_step step = {
		.split = yes(line, "split"), .every = stated_quantity(script, line, "every"), .place = line->place};
	step.at = times_of(script, line, "at", &step.n_at);
	const struct field *from = field_of(line, "from");
	if (from && *from->value >= '0' && *from->value <= '9') {
		step.from = stated_number(line, "from");
	} else if (from) {
		struct trigger trigger = event_trigger(script, line, from->value, from->place);
		step.from_event = trigger.event;
		step.from_day = trigger.day;
	}
	const char *dose = value_of(line, "dose");
	if (strcmp(dose, "plan") == 0) {
		step.amount = DOSE_FROM_PLAN;
	} else if (strncmp(dose, "call", 4) == 0) {
		step.amount = DOSE_BY_CALL;
		step.call = text_of(script, dose + 4, "en", line->place);
	} else {
		step.dose = stated_quantity(script, line, "dose");
	}
	size_t n;
	const char **become = list_of(script, value_of(line, "may_become"), &n);
	struct stated_quantity *amounts = arena_alloc(script->arena, (n + 1) * sizeof *amounts);
	for (size_t i = 0; i < n; i++)
		amounts[i] = (struct stated_quantity){true, quantity_in_line(script, line, become[i]), line->place};
	step.may_become = amounts;
	step.n_may_become = n;
	return step;
}

static void add_dose(struct script *script, const struct line *line)
{
	struct item *item = &script->items[script->protocol->n_items - 1];
	struct dose_step *doses = (struct dose_step *)(uintptr_t)item->doses;
	doses[item->n_doses++] = step_of(script, line);
}

static void add_visit(struct script *script, const struct line *line)
{
	size_t n;
	script->visits[script->protocol->n_visits++] = (struct visit){.event = value_of(line, "event"),
	                                                              .day = stated_number(line, "day"),
	                                                              .at = times_of(script, line, "at", &n),
	                                                              .label = stated_text(script, line, "label"),
	                                                              .place = line->place};
}

static void add_plan(struct script *script, const struct line *line)
{
	struct plan *plan = script->plan;
	plan->as_of = stated_date(line, "as_of");
	plan->good_until = stated_date(line, "good_until");
	plan->version_at = stated_number(line, "version");
	plan->version = plan->version_at.given ? plan->version_at.number : 1;
	plan->replaces.given = field_of(line, "replaces") != NULL;
	plan->replaces.place = line->place;
	if (field_of(line, "language"))
		plan->language = value_of(line, "language");
	if (field_of(line, "zone"))
		plan->zone = zone_from_system(script->arena, value_of(line, "zone"));
}

static void add_date(struct script *script, const struct line *line)
{
	for (size_t i = 0; i < line->n; i++) {
		struct event_date *date = &script->dates[script->plan->n_events++];
		date->place = line->fields[i].place;
		for (size_t j = 0; j < script->protocol->n_events; j++)
			if (strcmp(script->events[j].id, line->fields[i].key) == 0)
				date->event = &script->events[j];
		if (!date->event)
			bad(line, "no event", line->fields[i].key);
		date->has_time = moment_read(line->fields[i].value, &date->date, &date->time);
		if (!date->has_time && !date_read(line->fields[i].value, &date->date))
			bad(line, "no date", line->fields[i].value);
	}
}

/* own: item=growth; from=1; dose=225 units. Without a dose: an empty list. */
static void add_own_dose(struct script *script, const struct line *line)
{
	const struct item *item = item_named(script, line, value_of(line, "item"));
	struct plan_doses *own = NULL;
	for (size_t i = 0; i < script->plan->n_doses; i++)
		if (script->own[i].item == item)
			own = &script->own[i];
	if (!own) {
		own = &script->own[script->plan->n_doses++];
		*own = (struct plan_doses){.item = item, .place = line->place};
		own->doses = arena_alloc(script->arena, MOST_OF_A_KIND * sizeof(struct dose_step));
	}
	struct dose_step *doses = (struct dose_step *)(uintptr_t)own->doses;
	if (field_of(line, "dose"))
		doses[own->n_doses++] = step_of(script, line);
}

static void add_change(struct script *script, const struct line *line)
{
	struct change *change = &script->changes[script->plan->n_changes++];
	*change = (struct change){.item = item_named(script, line, value_of(line, "item")),
	                          .from = stated_date(line, "from"),
	                          .until = stated_date(line, "until"),
	                          .dose = stated_quantity(script, line, "dose"),
	                          .because = stated_text(script, line, "because"),
	                          .place = line->place};
	change->at = times_of(script, line, "at", &change->n_at);
	if (field_of(line, "product"))
		change->product = product_named(script, line, value_of(line, "product"));
	change->kind = change->dose.given  ? CHANGE_DOSE
	               : change->n_at > 0  ? CHANGE_AT
	               : change->product   ? CHANGE_PRODUCT
	               : yes(line, "skip") ? CHANGE_SKIP
	                                   : CHANGE_STOP;
}

static void add_called(struct script *script, const struct line *line)
{
	script->called[script->plan->n_called++] = (struct call_made){item_named(script, line, value_of(line, "item")),
	                                                              stated_date(line, "on"), line->place};
}

static void add_away(struct script *script, const struct line *line)
{
	const char *keep = value_of(line, "keep");
	script->away[script->plan->n_away++] =
		(struct away){.from = stated_date(line, "from"),
	                      .to = stated_date(line, "to"),
	                      .zone = zone_from_system(script->arena, value_of(line, "zone")),
	                      .keep = keep && strcmp(keep, "hours") == 0 ? AWAY_KEEP_HOURS : AWAY_KEEP_CLOCK,
	                      .place = line->place};
}

static void add_dispensed(struct script *script, const struct line *line)
{
	script->dispensed[script->plan->n_dispensed++] =
		(struct dispensed){.product = product_named(script, line, value_of(line, "product")),
	                           .count = stated_number(line, "count"),
	                           .expires = stated_date(line, "expires"),
	                           .opened = stated_date(line, "opened"),
	                           .left = stated_quantity(script, line, "left"),
	                           .place = line->place};
}

static void add_patient(struct script *script, const struct line *line)
{
	struct patient *patient = &script->plan->patient;
	const struct field *field = field_of(line, "allergies");
	patient->place = line->place;
	patient->allergies_given = field != NULL;
	patient->n_allergies = 0;
	if (!field || strcmp(field->value, "none") == 0)
		return;
	const char **words = list_of(script, field->value, &patient->n_allergies);
	struct stated_string *allergies = arena_alloc(script->arena, patient->n_allergies * sizeof *allergies);
	for (size_t i = 0; i < patient->n_allergies; i++)
		allergies[i] = (struct stated_string){words[i], field->place};
	patient->allergies = allergies;
}

static void add_protocol(struct script *script, const struct line *line)
{
	script->protocol->horizon = stated_quantity(script, line, "horizon");
}

/* ---- the whole ---- */

static const struct {
	const char *kind;
	void (*add)(struct script *, const struct line *);
} kinds[] = {{"clinic", add_clinic},   {"medicine", add_medicine}, {"product", add_product},
             {"syringe", add_syringe}, {"event", add_event},       {"item", add_item},
             {"dose", add_dose},       {"visit", add_visit},       {"plan", add_plan},
             {"date", add_date},       {"own", add_own_dose},      {"change", add_change},
             {"called", add_called},   {"away", add_away},         {"dispensed", add_dispensed},
             {"patient", add_patient}, {"protocol", add_protocol}};

static void split_fields(struct script *script, struct line *line, const char *start, const char *text)
{
	while (*text) {
		while (*text == ' ')
			text++;
		const char *equals = strchr(text, '=');
		const char *end = strchr(text, ';');
		if (!end)
			end = text + strlen(text);
		if (!equals || equals > end || line->n == MOST_FIELDS)
			bad(line, "no field", text);
		line->fields[line->n++] =
			(struct field){.key = arena_strndup(script->arena, text, (size_t)(equals - text)),
		                       .value = arena_strndup(script->arena, equals + 1, (size_t)(end - equals - 1)),
		                       .place = {script->file, line->place.line, (int)(equals + 1 - start) + 1}};
		text = *end ? end + 1 : end;
	}
}

static void add_line(struct script *script, const char *text, int number_of_line)
{
	struct line line = {.place = {script->file, number_of_line, 1}};
	const char *colon = strchr(text, ':');
	if (!colon)
		bad(&line, "no kind", text);
	line.kind = arena_strndup(script->arena, text, (size_t)(colon - text));
	split_fields(script, &line, text, colon + 1);
	for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
		if (strcmp(kinds[i].kind, line.kind) != 0)
			continue;
		kinds[i].add(script, &line);
		return;
	}
	bad(&line, "no kind", line.kind);
}

static void begin(struct script *script)
{
	struct arena *arena = script->arena;
	script->file = arena_alloc(arena, sizeof *script->file);
	script->file->name = "case";
	script->clinic = arena_alloc(arena, sizeof *script->clinic);
	script->protocol = arena_alloc(arena, sizeof *script->protocol);
	script->plan = arena_alloc(arena, sizeof *script->plan);
	script->medicines = arena_alloc(arena, MOST_OF_A_KIND * sizeof *script->medicines);
	script->items = arena_alloc(arena, MOST_OF_A_KIND * sizeof *script->items);
	script->events = arena_alloc(arena, MOST_OF_A_KIND * sizeof *script->events);
	script->visits = arena_alloc(arena, MOST_OF_A_KIND * sizeof *script->visits);
	script->dates = arena_alloc(arena, MOST_OF_A_KIND * sizeof *script->dates);
	script->own = arena_alloc(arena, MOST_OF_A_KIND * sizeof *script->own);
	script->changes = arena_alloc(arena, MOST_OF_A_KIND * sizeof *script->changes);
	script->called = arena_alloc(arena, MOST_OF_A_KIND * sizeof *script->called);
	script->away = arena_alloc(arena, MOST_OF_A_KIND * sizeof *script->away);
	script->dispensed = arena_alloc(arena, MOST_OF_A_KIND * sizeof *script->dispensed);
	script->syringes = arena_alloc(arena, MOST_OF_A_KIND * sizeof *script->syringes);
	script->slots = arena_alloc(arena, MOST_OF_A_KIND * sizeof *script->slots);
	script->slots[0] = (struct slot){.id = "morning", .time = {8, 0}};
	script->slots[1] = (struct slot){.id = "evening", .time = {20, 0}};
	script->slots[2] = (struct slot){.id = "bedtime", .time = {22, 0}};
	script->clinic->day_begins = (struct clock_time){4, 0};
	script->clinic->slots = script->slots;
	script->clinic->n_slots = 3;
}

const struct plan *script_plan(struct arena *arena, const char *text)
{
	struct script script = {.arena = arena};
	begin(&script);
	struct clinic *clinic = script.clinic;
	struct protocol *protocol = script.protocol;
	struct plan *plan = script.plan;
	*protocol = (struct protocol){.id = "course",
	                              .events = script.events,
	                              .items = script.items,
	                              .visits = script.visits,
	                              .file = script.file,
	                              .place = {script.file, 1, 1}};
	*plan = (struct plan){.id = "case",
	                      .file = script.file,
	                      .clinic = clinic,
	                      .language = "en",
	                      .protocol = protocol,
	                      .version = 1,
	                      .events = script.dates,
	                      .doses = script.own,
	                      .changes = script.changes,
	                      .called = script.called,
	                      .away = script.away,
	                      .dispensed = script.dispensed,
	                      .place = {script.file, 1, 1}};
	plan->patient = (struct patient){
		.born = {.given = true, .date = {1994, 8, 30}}, .record = {.text = "LQ-0000"}, .allergies_given = true};
	clinic->medicines = script.medicines;
	clinic->syringes = script.syringes;
	for (int line = 1; *text; line++) {
		size_t length = strcspn(text, "\n");
		if (length > 0)
			add_line(&script, arena_strndup(arena, text, length), line);
		text += length + (text[length] == '\n');
	}
	const struct syringe **stock = arena_alloc(arena, (clinic->n_syringes + 1) * sizeof *stock);
	for (size_t i = 0; i < clinic->n_syringes; i++)
		stock[i] = &script.syringes[i];
	clinic->stock = stock;
	clinic->n_stock = clinic->n_syringes;
	if (!plan->zone)
		plan->zone = zone_from_system(arena, "Europe/London");
	clinic->zone = plan->zone;
	return plan;
}

/* ---- zones ---- */

static int32_t offset_at(GTimeZone *zone, instant when)
{
	return g_time_zone_get_offset(zone, g_time_zone_find_interval(zone, G_TIME_TYPE_UNIVERSAL, when));
}

static const char *abbreviation_at(struct arena *arena, GTimeZone *zone, instant when)
{
	gint interval = g_time_zone_find_interval(zone, G_TIME_TYPE_UNIVERSAL, when);
	return arena_strdup(arena, g_time_zone_get_abbreviation(zone, interval));
}

/* The offset of each day is compared with the day before's; where they differ, the second is searched for. */
const struct zone *zone_from_system(struct arena *arena, const char *name)
{
	static const instant begin = 1735689600; /* 2025-01-01 00:00 UTC */
	static const instant end = 2145916800;   /* 2038-01-01 00:00 UTC */
	static const instant day = 86400;
	GTimeZone *system = g_time_zone_new_identifier(name);
	if (!system) {
		fprintf(stderr, "the system has no zone '%s'\n", name);
		exit(1);
	}
	struct zone_span *spans = arena_more(arena, NULL, 0, sizeof *spans);
	size_t n = 0;
	spans[n++] = (struct zone_span){INT64_MIN / 2, offset_at(system, begin), abbreviation_at(arena, system, begin)};
	for (instant low = begin; low < end; low += day) {
		if (offset_at(system, low) == offset_at(system, low + day))
			continue;
		instant before = low;
		instant after = low + day;
		while (after - before > 1) {
			instant middle = before + (after - before) / 2;
			if (offset_at(system, middle) == offset_at(system, low))
				before = middle;
			else
				after = middle;
		}
		spans = arena_more(arena, spans, n, sizeof *spans);
		spans[n++] = (struct zone_span){after, offset_at(system, after), abbreviation_at(arena, system, after)};
	}
	struct zone *zone = arena_alloc(arena, sizeof *zone);
	*zone = (struct zone){arena_strdup(arena, name), spans, n};
	g_time_zone_unref(system);
	return zone;
}

/* Scripts are short: they leave these guards out wherever they are not the point. */
static bool says_guard_left_out(const struct finding *finding)
{
	static const char *const codes[] = {"limits-missing", "needle-missing", "displacement-missing"};
	for (size_t i = 0; i < sizeof codes / sizeof codes[0]; i++)
		if (strcmp(finding->code, codes[i]) == 0)
			return true;
	return false;
}

const char *findings_text(struct arena *arena, struct findings *findings)
{
	const char *text = "";
	for (size_t i = 0; i < findings->n; i++)
		if (!says_guard_left_out(&findings->list[i]))
			text = arena_printf(arena, "%s%s\n", text, finding_print(arena, &findings->list[i]));
	return text;
}

const char *guards_left_out_text(struct arena *arena, struct findings *findings)
{
	const char *text = "";
	for (size_t i = 0; i < findings->n; i++)
		if (says_guard_left_out(&findings->list[i]))
			text = arena_printf(arena, "%s%s\n", text, finding_print(arena, &findings->list[i]));
	return text;
}
