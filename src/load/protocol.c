#include "load/protocol.h"

#include "load/choices.h"
#include "load/formulary.h"

#include <string.h>

enum { MOST_DAYS = 1000, MOST_A_DAY = 48 };

/* --- Names --- */

static bool is_last_of(const char *name, const char *item)
{
	size_t length = strlen(item);
	return strncmp(name, item, length) == 0 && strcmp(name + length, ".last") == 0;
}

/* Is `raw` an event, an item, or 'item.last'? Reports it otherwise. */
static void check_event_name(const struct reader *reader, const char *raw, const struct protocol *protocol)
{
	struct stated_string name = given_string(reader, raw, (struct place){0});
	if (!name.text)
		return;
	struct nearest nearest = nearest_to(name.text);
	for (size_t i = 0; i < protocol->n_events; i++) {
		const char *id = protocol->events[i].id;
		if (strcmp(id, name.text) == 0)
			return;
		nearest_offer(&nearest, id);
	}
	for (size_t i = 0; i < protocol->n_items; i++) {
		const char *id = protocol->items[i].id;
		if (strcmp(id, name.text) == 0 || is_last_of(name.text, id))
			return;
		nearest_offer(&nearest, id);
	}
	refuse_unknown_name(reader, "unknown-event", "event", &name, "", &nearest);
}

const struct item *find_item(const struct reader *reader, const char *raw, const struct protocol *protocol)
{
	struct stated_string name = given_string(reader, raw, (struct place){0});
	if (!name.text)
		return NULL;
	struct nearest nearest = nearest_to(name.text);
	for (size_t i = 0; i < protocol->n_items; i++) {
		if (strcmp(protocol->items[i].id, name.text) == 0)
			return &protocol->items[i];
		nearest_offer(&nearest, protocol->items[i].id);
	}
	refuse_unknown_name(reader, "unknown-item", "item", &name, "", &nearest);
	return NULL;
}

static const struct medicine *find_medicine(const struct reader *reader, const char *raw,
                                            const struct protocol_names *names)
{
	struct stated_string name = given_string(reader, raw, (struct place){0});
	if (!name.text || !names->medicines_known)
		return NULL;
	struct nearest nearest = nearest_to(name.text);
	for (size_t i = 0; i < names->clinic->n_medicines; i++) {
		const char *id = names->clinic->medicines[i].id;
		if (strcmp(id, name.text) == 0)
			return &names->clinic->medicines[i];
		nearest_offer(&nearest, id);
	}
	refuse_unknown_name(reader, "unknown-medicine", "medicine", &name, "", &nearest);
	return NULL;
}

static const struct product *find_product_of(const struct reader *reader, const char *raw,
                                             const struct medicine *medicine)
{
	struct stated_string name = given_string(reader, raw, (struct place){0});
	struct nearest nearest = nearest_to(name.text);
	for (size_t i = 0; i < medicine->n_products; i++) {
		const char *id = medicine->products[i].id;
		if (strcmp(id, name.text) == 0)
			return &medicine->products[i];
		nearest_offer(&nearest, id);
	}
	const char *of = arena_printf(reader->arena, " of '%s'", medicine->id);
	refuse_unknown_name(reader, "unknown-product", "product", &name, of, &nearest);
	return NULL;
}

/* --- Times of day --- */

static struct at read_time(const struct reader *reader, const char *raw, const struct protocol_names *names)
{
	struct stated_string given = given_string(reader, raw, (struct place){0});
	struct at at = {.place = given.place};
	if (!given.text)
		return at;
	struct nearest nearest = nearest_to(given.text);
	for (size_t i = 0; i < names->clinic->n_slots; i++) {
		const struct slot *slot = &names->clinic->slots[i];
		if (strcmp(slot->id, given.text) == 0) {
			at.slot = slot;
			at.time = slot->time;
			return at;
		}
		nearest_offer(&nearest, slot->id);
	}
	if (clock_read(given.text, &at.time))
		return at;
	bool digits = given.text[0] >= '0' && given.text[0] <= '9';
	if (digits || says_midnight(given.text))
		read_clock(reader, raw, &at.time);
	else if (names->slots_known)
		refuse_value(reader, "unknown-slot", given.place, "unknown time of day '%s'%s", given.text,
		             nearest.best ? nearest_hint(reader->arena, &nearest)
		                          : "; use one of the clinic's 'slots', or a time as in \"20:00\"");
	return at;
}

const struct at *read_times(const struct reader *reader, char *const *raw, size_t n, const struct protocol_names *names)
{
	if (n == 0)
		return NULL;
	struct at *list = arena_alloc(reader->arena, n * sizeof *list);
	for (size_t i = 0; i < n; i++) {
		list[i] = read_time(reader, raw[i], names);
		for (size_t j = 0; j < i; j++)
			if (strcmp(read_string(reader, raw[i]), read_string(reader, raw[j])) == 0)
				refuse_value(reader, "duplicate-time", list[i].place,
				             "'%s' is here twice; delete one, or the dose is given twice",
				             read_string(reader, raw[i]));
	}
	return list;
}

/* --- Triggers: what starts or ends an item --- */

static struct trigger read_trigger(const struct reader *reader, const struct raw_trigger *raw, bool end);

static const struct trigger *read_triggers(const struct reader *reader, const struct raw_trigger *raw, size_t n,
                                           bool end)
{
	struct trigger *list = arena_alloc(reader->arena, n * sizeof *list);
	for (size_t i = 0; i < n; i++)
		list[i] = read_trigger(reader, &raw[i], end);
	return list;
}

/* A key that says more about another one, without which it says nothing. */
static void need_key(const struct reader *reader, const char *raw, const char *key, const char *of, bool of_given)
{
	if (raw && !of_given)
		refuse_value(reader, "missing-key", given_place(reader, raw), "'%s' needs '%s' beside it; add it", key,
		             of);
}

static void read_event_trigger(const struct reader *reader, const struct raw_trigger *raw, bool end,
                               struct trigger *trigger)
{
	const struct exclusive distances[] = {
		{"day", raw->day != NULL}, {"plus", raw->plus != NULL}, {"minus", raw->minus != NULL}};
	size_t n = check_exclusive(reader, distances, 3, trigger->place);
	trigger->event = read_string(reader, raw->event);
	trigger->day = read_whole(reader, raw->day, trigger->place, -MOST_DAYS, MOST_DAYS);
	trigger->plus = read_amount(reader, raw->plus, trigger->place, OF_TIME);
	trigger->minus = read_amount(reader, raw->minus, trigger->place, OF_TIME);
	if (end && raw->event && n == 0)
		refuse_value(reader, "missing-key", trigger->place,
		             "an end at an event lacks the key 'day', the last day that counts; add it");
}

static void read_trigger_of(const struct reader *reader, const struct raw_trigger *raw, bool end,
                            struct trigger *trigger)
{
	if (raw->on) {
		trigger->kind = TRIGGER_ON;
		trigger->on = read_date(reader, raw->on, trigger->place);
	} else if (raw->event) {
		trigger->kind = TRIGGER_EVENT;
	} else if (raw->call) {
		trigger->kind = TRIGGER_CALL;
	} else if (raw->doses) {
		trigger->kind = TRIGGER_DOSES;
		trigger->count = read_whole(reader, raw->doses, trigger->place, 1, MOST_DAYS);
	} else if (raw->days) {
		trigger->kind = TRIGGER_DAYS;
		trigger->count = read_whole(reader, raw->days, trigger->place, 1, MOST_DAYS);
	} else if (raw->first_of_count) {
		trigger->kind = TRIGGER_FIRST_OF;
		trigger->n_of = raw->first_of_count;
		trigger->of = read_triggers(reader, raw->first_of, trigger->n_of, end);
	} else if (raw->last_of_count) {
		trigger->kind = TRIGGER_LAST_OF;
		trigger->n_of = raw->last_of_count;
		trigger->of = read_triggers(reader, raw->last_of, trigger->n_of, end);
	}
}

static struct trigger read_trigger(const struct reader *reader, const struct raw_trigger *raw, bool end)
{
	struct trigger trigger = {.place = given_place(reader, raw->place)};
	const struct exclusive heads[] = {
		{"on", raw->on != NULL},
		{"event", raw->event != NULL},
		{"call", raw->call != NULL},
		{"doses", raw->doses != NULL},
		{"days", raw->days != NULL},
		{"first_of", raw->first_of_count > 0},
		{"last_of", raw->last_of_count > 0},
	};
	if (check_exclusive(reader, heads, sizeof heads / sizeof *heads, trigger.place) == 0)
		refuse_value(reader, "missing-key", trigger.place, "nothing says when; write one of %s",
		             end ? "'event', 'doses', 'days', 'call' or 'first_of'"
		                 : "'on', 'event', 'call', 'first_of' or 'last_of'");
	need_key(reader, raw->day, "day", "event", raw->event != NULL);
	need_key(reader, raw->plus, "plus", "event", raw->event != NULL);
	need_key(reader, raw->minus, "minus", "event", raw->event != NULL);
	need_key(reader, raw->expected ? raw->expected->place : NULL, "expected", "call", raw->call != NULL);
	read_trigger_of(reader, raw, end, &trigger);
	read_event_trigger(reader, raw, end, &trigger);
	trigger.call = read_text(reader, raw->call, trigger.place);
	trigger.expected = read_text(reader, raw->expected, trigger.place);
	return trigger;
}

/* Names in triggers can only be looked up once all events and items are read. */
static void check_trigger_names(const struct reader *reader, const struct raw_trigger *raw,
                                const struct protocol *protocol)
{
	if (!raw)
		return;
	check_event_name(reader, raw->event, protocol);
	for (unsigned i = 0; i < raw->first_of_count; i++)
		check_trigger_names(reader, &raw->first_of[i], protocol);
	for (unsigned i = 0; i < raw->last_of_count; i++)
		check_trigger_names(reader, &raw->last_of[i], protocol);
}

/* --- Doses --- */

/* `from: 3`, or `from: {event: trigger, day: 0}` */
static void read_from(const struct reader *reader, const struct raw_from *raw, struct dose_step *step)
{
	if (!raw)
		return;
	struct place place = given_place(reader, raw->place);
	if (raw->text) {
		step->from = read_whole(reader, raw->text, place, 1, MOST_DAYS);
		return;
	}
	step->from.place = place;
	step->from_event = read_string(reader, raw->event);
	step->from_day = read_whole(reader, raw->day, place, -MOST_DAYS, MOST_DAYS);
	if (!raw->event || !raw->day)
		refuse_value(reader, "missing-key", place,
		             "'from' lacks the key '%s'; add it, or write a day of the item",
		             raw->event ? "day" : "event");
}

/* `dose: 150 units`, `dose: plan`, or `dose: {call: ...}` */
static void read_dose(const struct reader *reader, const struct raw_dose *raw, bool in_plan, struct dose_step *step)
{
	if (!raw)
		return;
	struct stated_string given = given_string(reader, raw->text, given_place(reader, raw->place));
	step->dose.place = given.place;
	step->call = read_text(reader, raw->call, given.place);
	if (raw->call) {
		step->amount = DOSE_BY_CALL;
	} else if (!given.text) {
		refuse_value(reader, "missing-key", given.place,
		             "'dose' lacks the key 'call'; add it, or write an amount");
	} else if (strcmp(given.text, "plan") == 0) {
		step->amount = DOSE_FROM_PLAN;
		if (in_plan)
			refuse_value(reader, "dose-missing", given.place,
			             "'plan' refers to this plan itself; write the amount");
	} else {
		step->dose = read_amount(reader, raw->text, given.place, OF_DOSE);
	}
}

static const struct stated_quantity *read_may_become(const struct reader *reader, const struct raw_step *raw,
                                                     struct place around)
{
	struct stated_quantity *list = arena_alloc(reader->arena, (raw->may_become_count + 1) * sizeof *list);
	for (unsigned i = 0; i < raw->may_become_count; i++)
		list[i] = read_amount(reader, raw->may_become[i], around, OF_DOSE);
	if (raw->may_become_count && !(raw->dose && raw->dose->call))
		refuse_value(reader, "missing-key", given_place(reader, raw->may_become[0]),
		             "'may_become' needs 'dose: {call: ...}' beside it, since it lists what a call may set");
	return list;
}

static struct dose_step read_step(const struct reader *reader, const struct raw_step *raw, bool in_plan,
                                  const struct protocol_names *names)
{
	struct dose_step step = {.place = given_place(reader, raw->place)};
	step.from.place = step.from_day.place = step.dose.place = step.call.place = step.place;
	read_from(reader, raw->from, &step);
	read_dose(reader, raw->dose, in_plan, &step);
	step.may_become = read_may_become(reader, raw, step.place);
	step.n_may_become = raw->may_become_count;
	step.split = read_flag(reader, raw->split, false);
	step.at = read_times(reader, raw->at, raw->at_count, names);
	step.n_at = raw->at_count;
	step.every = read_calendar_days(reader, raw->every, step.place);
	return step;
}

const struct dose_step *read_steps(const struct reader *reader, const struct raw_step *raw, size_t n, bool in_plan,
                                   const struct protocol_names *names, const struct protocol *protocol)
{
	struct dose_step *list = arena_alloc(reader->arena, (n + 1) * sizeof *list);
	for (size_t i = 0; i < n; i++) {
		list[i] = read_step(reader, &raw[i], in_plan, names);
		if (protocol && raw[i].from)
			check_event_name(reader, raw[i].from->event, protocol);
	}
	return list;
}

/* --- Items --- */

static unsigned read_weekdays(const struct reader *reader, char *const *raw, size_t n)
{
	unsigned set = 0;
	for (size_t i = 0; i < n; i++)
		set |= 1u << read_choice(reader, raw[i], choices_weekday, 0);
	return set & ~1u;
}

/* `most: 2 per day` */
static struct as_needed read_as_needed(const struct reader *reader, const struct raw_as_needed *raw,
                                       struct place around)
{
	static const char suffix[] = " per day";
	if (!raw)
		return (struct as_needed){.place = around};
	struct stated_string most = given_string(reader, raw->most, given_place(reader, raw->place));
	struct as_needed as_needed = {.given = true, .place = most.place};
	size_t digits = most.text ? strspn(most.text, "0123456789") : 0;
	if (!most.text)
		return as_needed;
	if (digits == 0 || digits > 2 || strcmp(most.text + digits, suffix) != 0) {
		refuse_value(reader, "bad-number", most.place, "'%s' is no number a day; write it as in '2 per day'",
		             most.text);
		return as_needed;
	}
	for (size_t i = 0; i < digits; i++)
		as_needed.most = as_needed.most * 10 + (most.text[i] - '0');
	if (as_needed.most < 1 || as_needed.most > MOST_A_DAY)
		refuse_value(reader, "bad-number", most.place, "'%s' is not between 1 and %d a day; mend it", most.text,
		             MOST_A_DAY);
	return as_needed;
}

static struct gap_to read_gap_to(const struct reader *reader, const struct raw_gap_to *raw, struct place around)
{
	if (!raw)
		return (struct gap_to){.place = around};
	struct place place = given_place(reader, raw->place);
	if (!raw->most && !raw->least)
		refuse_value(reader, "missing-key", place, "'gap_to' needs 'most' or 'least'; add one");
	return (struct gap_to){
		.given = true,
		.event = read_string(reader, raw->event),
		.most = read_amount(reader, raw->most, place, OF_TIME),
		.least = read_amount(reader, raw->least, place, OF_TIME),
		.place = place,
	};
}

static void read_products(const struct reader *reader, const struct raw_item *raw, struct item *item)
{
	if (!item->medicine)
		return;
	const struct product **list = arena_alloc(reader->arena, (raw->products_count + 1) * sizeof *list);
	for (unsigned i = 0; i < raw->products_count; i++)
		list[i] = find_product_of(reader, raw->products[i], item->medicine);
	item->products = list;
	item->n_products = raw->products_count;
}

static void check_rhythm(const struct reader *reader, const struct raw_item *raw, const struct item *item)
{
	const struct exclusive rhythms[] = {{"every", raw->every != NULL},
	                                    {"weekdays", raw->weekdays_count > 0},
	                                    {"as_needed", raw->as_needed != NULL}};
	check_exclusive(reader, rhythms, 3, item->place);
}

static struct item read_item(const struct reader *reader, const struct raw_item *raw,
                             const struct protocol_names *names)
{
	struct item item = {.place = given_place(reader, raw->place)};
	item.id = read_id(reader, raw->id);
	item.medicine = find_medicine(reader, raw->medicine, names);
	item.at = read_times(reader, raw->at, raw->at_count, names);
	item.n_at = raw->at_count;
	item.window = read_amount(reader, raw->window, item.place, OF_TIME);
	item.start.place = item.end.place = item.place;
	if (raw->start)
		item.start = read_trigger(reader, raw->start, false);
	if (raw->end)
		item.end = read_trigger(reader, raw->end, true);
	item.every = read_calendar_days(reader, raw->every, item.place);
	item.weekdays = read_weekdays(reader, raw->weekdays, raw->weekdays_count);
	item.as_needed = read_as_needed(reader, raw->as_needed, item.place);
	item.doses = read_steps(reader, raw->doses, raw->doses_count, false, names, NULL);
	item.n_doses = raw->doses_count;
	item.limits = read_limits(reader, raw->limits, item.place);
	item.gap_to = read_gap_to(reader, raw->gap_to, item.place);
	item.horizon = read_calendar_days(reader, raw->horizon, item.place);
	read_products(reader, raw, &item);
	check_rhythm(reader, raw, &item);
	return item;
}

/* --- Events and visits --- */

static void read_check(const struct reader *reader, const struct raw_check *raw, struct event *event)
{
	event->check_place = event->check_by.place = event->check_give_or_take.place = event->place;
	if (!raw)
		return;
	event->check_place = given_place(reader, raw->place);
	event->check_before = read_string(reader, raw->before);
	event->check_by = read_amount(reader, raw->by, event->check_place, OF_TIME);
	event->check_give_or_take = read_amount_or_zero(reader, raw->give_or_take, event->check_place, OF_TIME);
}

/* An elapsed time that a clock can show; a day is none, as clocks change. */
static struct stated_quantity read_wait(const struct reader *reader, const char *raw, struct place around)
{
	struct stated_quantity wait = read_amount(reader, raw, around, OF_TIME);
	struct quantity minutes;
	if (!wait.given)
		return wait;
	bool clock = wait.quantity.unit == UNIT_MINUTE || wait.quantity.unit == UNIT_HOUR;
	if (clock && quantity_in(wait.quantity, UNIT_MINUTE, &minutes) && rational_is_whole(minutes.number))
		return wait;
	refuse_value(reader, "not-whole-minutes", wait.place,
	             "'%s' is no number of whole minutes or hours; write one, as in '90 min'",
	             read_string(reader, raw));
	wait.given = false;
	return wait;
}

static struct event read_event(const struct reader *reader, const struct raw_event *raw)
{
	struct event event = {.place = given_place(reader, raw->place)};
	event.id = read_id(reader, raw->id);
	event.label = read_text(reader, raw->label, event.place);
	event.own_day = read_whole(reader, raw->own_day, event.place, 0, 1);
	event.exact = read_flag(reader, raw->exact, false);
	event.is_arrival = read_choice(reader, raw->time_is, choices_time_is, false);
	event.arrive_before = read_wait(reader, raw->arrive_before, event.place);
	read_check(reader, raw->check, &event);
	if (event.is_arrival && !raw->arrive_before)
		refuse_value(reader, "missing-key", given_place(reader, raw->time_is),
		             "'time_is: arrival' needs 'arrive_before' beside it; add it, as in '90 min'");
	return event;
}

static struct visit read_visit(const struct reader *reader, const struct raw_visit *raw,
                               const struct protocol_names *names)
{
	struct visit visit = {.place = given_place(reader, raw->place)};
	visit.event = read_string(reader, raw->event);
	visit.day = read_whole(reader, raw->day, visit.place, -MOST_DAYS, MOST_DAYS);
	visit.at = raw->at ? read_times(reader, &raw->at, 1, names) : NULL;
	visit.label = read_text(reader, raw->label, visit.place);
	return visit;
}

/* --- The whole --- */

/* Events and items share one set of names, since an item is an event too. */
static void check_new_ids(const struct reader *reader, const struct protocol *protocol)
{
	size_t n = protocol->n_events + protocol->n_items;
	struct stated_string *ids = arena_alloc(reader->arena, (n + 1) * sizeof *ids);
	for (size_t i = 0; i < n; i++) {
		bool event = i < protocol->n_events;
		const struct item *item = event ? NULL : &protocol->items[i - protocol->n_events];
		ids[i] = event ? (struct stated_string){protocol->events[i].id, protocol->events[i].place}
		               : (struct stated_string){item->id, item->place};
		for (size_t j = 0; j < i; j++)
			if (strcmp(ids[j].text, ids[i].text) == 0)
				refuse_second(reader, event ? "event" : "item", ids[i].text, ids[i].place,
				              ids[j].place);
	}
}

static void check_names(const struct reader *reader, const struct raw_protocol *raw, const struct protocol *protocol)
{
	for (unsigned i = 0; i < raw->events_count; i++)
		if (raw->events[i].check)
			check_event_name(reader, raw->events[i].check->before, protocol);
	for (unsigned i = 0; i < raw->items_count; i++) {
		const struct raw_item *item = &raw->items[i];
		check_trigger_names(reader, item->start, protocol);
		check_trigger_names(reader, item->end, protocol);
		for (unsigned j = 0; j < item->doses_count; j++)
			if (item->doses[j].from)
				check_event_name(reader, item->doses[j].from->event, protocol);
		if (item->gap_to)
			check_event_name(reader, item->gap_to->event, protocol);
	}
	for (unsigned i = 0; i < raw->visits_count; i++)
		check_event_name(reader, raw->visits[i].event, protocol);
}

struct protocol read_protocol(const struct reader *reader, const struct raw_protocol *raw,
                              const struct protocol_names *names, const struct source_file *file)
{
	struct protocol protocol = {.file = file, .place = given_place(reader, raw->place)};
	protocol.id = read_id(reader, raw->protocol);
	protocol.title = read_text(reader, raw->title, protocol.place);
	protocol.horizon = read_calendar_days(reader, raw->horizon, protocol.place);

	struct event *events = arena_alloc(reader->arena, (raw->events_count + 1) * sizeof *events);
	for (unsigned i = 0; i < raw->events_count; i++)
		events[i] = read_event(reader, &raw->events[i]);
	protocol.events = events;
	protocol.n_events = raw->events_count;

	struct item *items = arena_alloc(reader->arena, (raw->items_count + 1) * sizeof *items);
	for (unsigned i = 0; i < raw->items_count; i++)
		items[i] = read_item(reader, &raw->items[i], names);
	protocol.items = items;
	protocol.n_items = raw->items_count;

	struct visit *visits = arena_alloc(reader->arena, (raw->visits_count + 1) * sizeof *visits);
	for (unsigned i = 0; i < raw->visits_count; i++)
		visits[i] = read_visit(reader, &raw->visits[i], names);
	protocol.visits = visits;
	protocol.n_visits = raw->visits_count;

	check_new_ids(reader, &protocol);
	check_names(reader, raw, &protocol);
	return protocol;
}
