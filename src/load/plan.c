#include "load/plan.h"

#include "load/choices.h"
#include "load/protocol.h"

#include <string.h>

enum { MOST_VERSION = 9999, MOST_COUNT = 100000 };

/* Zones are known a few years beyond these (zones.c): as far as a course reaches from the day its plan speaks from. */
enum { FIRST_YEAR = 2000, LAST_YEAR = 2100 };

/* --- The patient --- */

/* `[none]` says that somebody asked; it cannot stand beside an allergy. */
static void read_allergies(const struct reader *reader, const struct raw_patient *raw, struct patient *patient)
{
	struct stated_string *list = arena_alloc(reader->arena, (raw->allergies_count + 1) * sizeof *list);
	size_t n = 0;
	patient->allergies_given = raw->allergies_count > 0;
	for (unsigned i = 0; i < raw->allergies_count; i++) {
		struct stated_string allergy = given_string(reader, raw->allergies[i], patient->place);
		if (strcmp(allergy.text, "none") != 0)
			list[n++] = allergy;
		else if (raw->allergies_count > 1)
			refuse_value(reader, "contradiction", allergy.place,
			             "'none' stands beside an allergy; delete one of them");
	}
	patient->allergies = list;
	patient->n_allergies = n;
}

static struct patient read_patient(const struct reader *reader, const struct raw_patient *raw, struct place around)
{
	if (!raw)
		return (struct patient){.place = around};
	struct patient patient = {.place = given_place(reader, raw->place)};
	patient.name = given_string(reader, raw->name, patient.place);
	patient.born = read_date(reader, raw->born, patient.place);
	patient.record = given_string(reader, raw->record, patient.place);
	read_allergies(reader, raw, &patient);
	return patient;
}

/* --- Names --- */

/* A course of the plan's own: the same keys as in a file of protocols/, but for its name. */
static const struct protocol *read_own_protocol(const struct reader *reader, const struct raw_plan_protocol *raw,
                                                const struct clinic *clinic, const struct source_file *file)
{
	const struct protocol_names names = {.clinic = clinic, .medicines_known = true, .slots_known = true};
	const struct raw_protocol whole = {.place = raw->place,
	                                   .title = raw->title,
	                                   .horizon = raw->horizon,
	                                   .events = raw->events,
	                                   .events_count = raw->events_count,
	                                   .items = raw->items,
	                                   .items_count = raw->items_count,
	                                   .visits = raw->visits,
	                                   .visits_count = raw->visits_count};
	struct protocol *own = arena_alloc(reader->arena, sizeof *own);
	*own = read_protocol(reader, &whole, &names, file);
	own->id = "own";
	own->own = true;
	return own;
}

static const struct protocol *find_protocol(const struct reader *reader, const struct raw_plan_protocol *raw,
                                            const struct clinic *clinic, const struct source_file *file)
{
	if (raw && !raw->text)
		return read_own_protocol(reader, raw, clinic, file);
	struct stated_string name = given_string(reader, raw ? raw->text : NULL, (struct place){0});
	if (!name.text)
		return NULL;
	struct nearest nearest = nearest_to(name.text);
	for (size_t i = 0; i < clinic->n_protocols; i++) {
		if (strcmp(clinic->protocols[i].id, name.text) == 0)
			return &clinic->protocols[i];
		nearest_offer(&nearest, clinic->protocols[i].id);
	}
	refuse_unknown_name(reader, "unknown-protocol", "protocol", &name, "", &nearest);
	return NULL;
}

static const struct product *find_product(const struct reader *reader, const char *raw, const struct clinic *clinic)
{
	struct stated_string name = given_string(reader, raw, (struct place){0});
	if (!name.text)
		return NULL;
	struct nearest nearest = nearest_to(name.text);
	for (size_t i = 0; i < clinic->n_medicines; i++) {
		const struct medicine *medicine = &clinic->medicines[i];
		for (size_t j = 0; j < medicine->n_products; j++) {
			if (strcmp(medicine->products[j].id, name.text) == 0)
				return &medicine->products[j];
			nearest_offer(&nearest, medicine->products[j].id);
		}
	}
	refuse_unknown_name(reader, "unknown-product", "product", &name, "", &nearest);
	return NULL;
}

static void check_language(const struct reader *reader, const struct stated_string *language,
                           const struct clinic *clinic)
{
	if (!language->text)
		return;
	for (size_t i = 0; i < clinic->n_languages; i++) {
		if (strcmp(clinic->languages[i], language->text) == 0) {
			if (!clinic_words(clinic, language->text))
				refuse_value(
					reader, "words-missing", language->place,
					"there is no words file for '%s'; add words/%s.yaml to the clinic's folder",
					language->text, language->text);
			return;
		}
	}
	refuse_value(reader, "unknown-language", language->place,
	             "'%s' is not one of the clinic's languages; use one of clinic.yaml's 'languages'", language->text);
}

/* --- Dates of events --- */

static const struct event *find_event(const struct reader *reader, const char *raw, const struct protocol *protocol)
{
	struct stated_string name = given_string(reader, raw, (struct place){0});
	struct nearest nearest = nearest_to(name.text);
	for (size_t i = 0; i < protocol->n_events; i++) {
		if (strcmp(protocol->events[i].id, name.text) == 0)
			return &protocol->events[i];
		nearest_offer(&nearest, protocol->events[i].id);
	}
	const char *of = arena_printf(reader->arena, " of protocol '%s'", protocol->id);
	refuse_unknown_name(reader, "unknown-event", "event", &name, of, &nearest);
	return NULL;
}

static void read_event_date(const struct reader *reader, const struct raw_word *raw, struct event_date *event)
{
	struct stated_string given = given_string(reader, raw->text, (struct place){0});
	event->place = given.place;
	event->has_time = moment_read(given.text, &event->date, &event->time);
	if (event->has_time || date_read(given.text, &event->date))
		return;
	const char *day = arena_strndup(reader->arena, given.text, strcspn(given.text, " T"));
	const char *time = given.text + strlen(day) + strspn(given.text + strlen(day), " T");
	if (date_read(day, &event->date) && says_midnight(time))
		refuse_value(reader, "midnight-ambiguous", given.place,
		             "'%s' is 12:00 at night, which can be the night before or after %s; write 23:59 or 00:01 "
		             "of the day meant",
		             time, day);
	else
		refuse_value(reader, "bad-date", given.place,
		             "'%s' is no date; write it as in 2026-12-04, or with a time as in \"2026-12-14 21:30\"",
		             given.text);
}

static void read_events(const struct reader *reader, const struct raw_plan *raw, struct plan *plan)
{
	struct event_date *list = arena_alloc(reader->arena, (raw->events_count + 1) * sizeof *list);
	for (unsigned i = 0; i < raw->events_count; i++) {
		read_event_date(reader, &raw->events[i], &list[i]);
		if (plan->protocol)
			list[i].event = find_event(reader, raw->events[i].key, plan->protocol);
	}
	plan->events = list;
	plan->n_events = raw->events_count;
}

/* --- Doses and changes --- */

static void read_doses(const struct reader *reader, const struct raw_plan *raw, const struct protocol_names *names,
                       struct plan *plan)
{
	struct plan_doses *list = arena_alloc(reader->arena, (raw->doses_count + 1) * sizeof *list);
	for (unsigned i = 0; i < raw->doses_count; i++) {
		const struct raw_plan_doses *doses = &raw->doses[i];
		list[i].place = given_place(reader, doses->key);
		list[i].item = plan->protocol ? find_item(reader, doses->key, plan->protocol) : NULL;
		list[i].doses = read_steps(reader, doses->list, doses->list_count, true, names, plan->protocol);
		list[i].n_doses = doses->list_count;
	}
	plan->doses = list;
	plan->n_doses = raw->doses_count;
}

/* `stop: yes`: a 'no' would say nothing. */
static void check_yes(const struct reader *reader, const char *raw, const char *key)
{
	if (raw && !read_flag(reader, raw, false))
		refuse_value(reader, "contradiction", given_place(reader, raw), "'%s: no' changes nothing; delete it",
		             key);
}

static void read_change_kind(const struct reader *reader, const struct raw_change *raw, struct change *change)
{
	const struct exclusive kinds[] = {{"dose", raw->dose != NULL},
	                                  {"stop", raw->stop != NULL},
	                                  {"skip", raw->skip != NULL},
	                                  {"at", raw->at_count > 0},
	                                  {"product", raw->product != NULL}};
	static const enum change_kind as[] = {CHANGE_DOSE, CHANGE_STOP, CHANGE_SKIP, CHANGE_AT, CHANGE_PRODUCT};
	size_t n = check_exclusive(reader, kinds, sizeof kinds / sizeof *kinds, change->place);
	if (n == 0)
		refuse_value(reader, "missing-key", change->place,
		             "the change lacks what it changes; write 'dose', 'stop', 'skip', 'at' or 'product'");
	for (size_t i = sizeof kinds / sizeof *kinds; i-- > 0;)
		if (kinds[i].written)
			change->kind = as[i];
	check_yes(reader, raw->stop, "stop");
	check_yes(reader, raw->skip, "skip");
}

static struct change read_change(const struct reader *reader, const struct raw_change *raw,
                                 const struct protocol_names *names, const struct plan *plan)
{
	struct change change = {.place = given_place(reader, raw->place)};
	change.item = plan->protocol ? find_item(reader, raw->item, plan->protocol) : NULL;
	change.from = read_date(reader, raw->from, change.place);
	change.until = read_date(reader, raw->until, change.place);
	change.dose = read_amount(reader, raw->dose, change.place, OF_DOSE);
	change.at = read_times(reader, raw->at, raw->at_count, names);
	change.n_at = raw->at_count;
	change.product = find_product(reader, raw->product, names->clinic);
	change.because = read_text(reader, raw->because, change.place);
	read_change_kind(reader, raw, &change);
	return change;
}

static void read_changes(const struct reader *reader, const struct raw_plan *raw, const struct protocol_names *names,
                         struct plan *plan)
{
	struct change *list = arena_alloc(reader->arena, (raw->changes_count + 1) * sizeof *list);
	for (unsigned i = 0; i < raw->changes_count; i++)
		list[i] = read_change(reader, &raw->changes[i], names, plan);
	plan->changes = list;
	plan->n_changes = raw->changes_count;
}

static void read_called(const struct reader *reader, const struct raw_plan *raw, struct plan *plan)
{
	struct call_made *list = arena_alloc(reader->arena, (raw->called_count + 1) * sizeof *list);
	for (unsigned i = 0; i < raw->called_count; i++) {
		list[i].place = given_place(reader, raw->called[i].place);
		list[i].item = plan->protocol ? find_item(reader, raw->called[i].item, plan->protocol) : NULL;
		list[i].on = read_date(reader, raw->called[i].on, list[i].place);
	}
	plan->called = list;
	plan->n_called = raw->called_count;
}

/* --- Journeys, and what is in hand --- */

/* The clinic's own zone is read already. */
static const struct zone *zone_of(const struct reader *reader, const char *raw, const struct clinic *clinic)
{
	const char *name = read_string(reader, raw);
	if (name && clinic->zone && strcmp(name, clinic->zone->name) == 0)
		return clinic->zone;
	return read_zone(reader, raw);
}

static void read_away(const struct reader *reader, const struct raw_plan *raw, struct plan *plan)
{
	struct away *list = arena_alloc(reader->arena, (raw->away_count + 1) * sizeof *list);
	for (unsigned i = 0; i < raw->away_count; i++) {
		const struct raw_away *away = &raw->away[i];
		list[i].place = given_place(reader, away->place);
		list[i].from = read_date(reader, away->from, list[i].place);
		list[i].to = read_date(reader, away->to, list[i].place);
		list[i].zone = zone_of(reader, away->zone, plan->clinic);
		list[i].keep = (enum away_keep)read_choice(reader, away->keep, choices_away_keep, AWAY_KEEP_CLOCK);
	}
	plan->away = list;
	plan->n_away = raw->away_count;
}

static struct dispensed read_dispensed_entry(const struct reader *reader, const struct raw_dispensed *raw,
                                             const struct clinic *clinic)
{
	struct dispensed entry = {.place = given_place(reader, raw->place)};
	entry.product = find_product(reader, raw->product, clinic);
	entry.count = read_whole(reader, raw->count, entry.place, 1, MOST_COUNT);
	entry.expires = read_expiry(reader, raw->expires, entry.place);
	entry.opened = read_date(reader, raw->opened, entry.place);
	entry.left = read_amount(reader, raw->left, entry.place, OF_DOSE);
	if (raw->left && !raw->opened)
		refuse_value(reader, "missing-key", entry.left.place, "'left' needs 'opened' beside it; add the day");
	return entry;
}

static void read_dispensed(const struct reader *reader, const struct raw_plan *raw, struct plan *plan)
{
	struct dispensed *list = arena_alloc(reader->arena, (raw->dispensed_count + 1) * sizeof *list);
	for (unsigned i = 0; i < raw->dispensed_count; i++)
		list[i] = read_dispensed_entry(reader, &raw->dispensed[i], plan->clinic);
	plan->dispensed = list;
	plan->n_dispensed = raw->dispensed_count;
}

static struct replaces read_replaces(const struct reader *reader, const struct raw_replaces *raw, struct place around)
{
	if (!raw)
		return (struct replaces){.place = around};
	struct place place = given_place(reader, raw->place);
	if (!raw->file && !raw->code)
		refuse_value(reader, "missing-key", place,
		             "'replaces' needs 'file', the plan that it replaces; add it");
	return (struct replaces){.given = true,
	                         .file = given_string(reader, raw->file, place),
	                         .code = given_string(reader, raw->code, place),
	                         .because = read_text(reader, raw->because, place),
	                         .place = place};
}

/* --- The whole --- */

static struct stated_date read_as_of(const struct reader *reader, const char *raw, struct place around)
{
	struct stated_date as_of = read_date(reader, raw, around);
	if (as_of.given && (as_of.date.year < FIRST_YEAR || as_of.date.year > LAST_YEAR))
		refuse_value(reader, "bad-date", as_of.place,
		             "%s is not from %d to %d, the years whose clock changes are known; check the year",
		             read_string(reader, raw), FIRST_YEAR, LAST_YEAR);
	return as_of;
}

static void read_head(const struct reader *reader, const struct raw_plan *raw, struct plan *plan)
{
	struct stated_string language = given_string(reader, raw->language, plan->place);
	plan->patient = read_patient(reader, raw->patient, plan->place);
	plan->language = language.text;
	check_language(reader, &language, plan->clinic);
	plan->paper = (enum paper)read_choice(reader, raw->paper, choices_paper, (int)plan->clinic->paper);
	plan->large_print = read_flag(reader, raw->large_print, false);
	plan->protocol = find_protocol(reader, raw->protocol, plan->clinic, plan->file);
	plan->as_of = read_as_of(reader, raw->as_of, plan->place);
	plan->version_at = read_whole(reader, raw->version, plan->place, 1, MOST_VERSION);
	plan->version = plan->version_at.given ? plan->version_at.number : 1;
	plan->replaces = read_replaces(reader, raw->replaces, plan->place);
	plan->good_until = read_date(reader, raw->good_until, plan->place);
	plan->zone = raw->zone ? zone_of(reader, raw->zone, plan->clinic) : plan->clinic->zone;
}

struct plan read_plan(const struct reader *reader, const struct raw_plan *raw, const char *id,
                      const struct clinic *clinic, const struct source_file *file)
{
	const struct protocol_names names = {.clinic = clinic, .medicines_known = true, .slots_known = true};
	struct plan plan = {.id = id, .file = file, .clinic = clinic, .place = given_place(reader, raw->place)};
	read_head(reader, raw, &plan);
	read_events(reader, raw, &plan);
	read_doses(reader, raw, &names, &plan);
	read_changes(reader, raw, &names, &plan);
	read_called(reader, raw, &plan);
	read_away(reader, raw, &plan);
	read_dispensed(reader, raw, &plan);
	return plan;
}
