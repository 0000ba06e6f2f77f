#include "load/fhir_map.h"

#include "load/formulary.h"
#include "load/intake_tree.h"
#include "load/values.h"

#include <string.h>

enum { MOST_RECORD_WIDTH = 40 };

struct mapping {
	struct reader reader;
	const struct clinic *clinic;
	struct fhir_map *map;
};

const char *code_find(const struct code_table *table, const char *theirs)
{
	for (size_t i = 0; i < table->n; i++)
		if (strcmp(table->list[i].theirs, theirs) == 0)
			return table->list[i].ours;
	return NULL;
}

static struct code_table read_table(struct mapping *mapping, const char *name, const struct raw_word *words, unsigned n)
{
	struct map_code *list = arena_alloc(mapping->reader.arena, (n + 1) * sizeof *list);
	for (unsigned i = 0; i < n; i++)
		list[i] = (struct map_code){read_string(&mapping->reader, words[i].key),
		                            read_string(&mapping->reader, words[i].text)};
	return (struct code_table){name, list, n};
}

/* ---- our ids ---- */

static void refuse_id(struct mapping *mapping, const char *what, const struct stated_string *name,
                      const struct nearest *nearest)
{
	refuse_unknown_name(&mapping->reader, "unknown-id", what, name, "", nearest);
}

static void check_item(struct mapping *mapping, const struct stated_string *name)
{
	struct nearest nearest = nearest_to(name->text);
	for (size_t i = 0; i < mapping->clinic->n_protocols; i++)
		for (size_t j = 0; j < mapping->clinic->protocols[i].n_items; j++) {
			if (strcmp(mapping->clinic->protocols[i].items[j].id, name->text) == 0)
				return;
			nearest_offer(&nearest, mapping->clinic->protocols[i].items[j].id);
		}
	refuse_id(mapping, "item", name, &nearest);
}

/* They are read with each item that they go into; here they are looked at once, so that a fault is the map's. */
static const struct node *take_limits(struct mapping *mapping, const struct raw_fhir_code *from,
                                      const struct fhir_medication *medication, const struct node *medications)
{
	const struct node *entry = medication->code == NULL ? NULL : tree_get(medications, medication->code);
	if (from->limits == NULL || entry == NULL)
		return NULL;
	read_limits(&mapping->reader, from->limits, given_place(&mapping->reader, from->key));
	return tree_get(entry, "limits");
}

static void read_medications(struct mapping *mapping, const struct raw_fhir_map *raw, const struct node *medications)
{
	const struct reader *reader = &mapping->reader;
	struct fhir_medication *list = arena_alloc(reader->arena, (raw->medications_count + 1) * sizeof *list);
	for (unsigned i = 0; i < raw->medications_count; i++) {
		const struct raw_fhir_code *from = &raw->medications[i];
		struct stated_string item = given_string(reader, from->item, (struct place){0});
		struct stated_string medicine = given_string(reader, from->text != NULL ? from->text : from->medicine,
		                                             given_place(reader, from->key));
		list[i] = (struct fhir_medication){.code = read_string(reader, from->key), .item = item.text};
		if (item.text != NULL)
			check_item(mapping, &item);
		if (medicine.text == NULL)
			continue;
		struct nearest nearest = nearest_to(medicine.text);
		list[i].medicine = clinic_medicine(mapping->clinic, medicine.text);
		for (size_t j = 0; j < mapping->clinic->n_medicines; j++)
			nearest_offer(&nearest, mapping->clinic->medicines[j].id);
		if (list[i].medicine == NULL)
			refuse_id(mapping, "medicine", &medicine, &nearest);
		list[i].limits = take_limits(mapping, from, &list[i], medications);
	}
	mapping->map->medications = list;
	mapping->map->n_medications = raw->medications_count;
}

/* The protocols' event of that id, the first of them that is a procedure; NULL: none has it. */
static const struct event *find_event(const struct clinic *clinic, const char *id, bool *procedure,
                                      struct nearest *nearest)
{
	const struct event *found = NULL;
	for (size_t i = 0; i < clinic->n_protocols; i++) {
		const struct protocol *protocol = &clinic->protocols[i];
		for (size_t j = 0; j < protocol->n_events; j++) {
			const struct event *event = &protocol->events[j];
			nearest_offer(nearest, event->id);
			if (strcmp(event->id, id) == 0)
				found = event;
			*procedure |= strcmp(event->id, id) == 0 && event->is_arrival;
			*procedure |= event->check_before != NULL && strcmp(event->check_before, id) == 0;
		}
	}
	return found;
}

static const struct choice choices_time_of[] = {{"procedure", false}, {"arrival", true}, {NULL, 0}};

static void read_event(struct mapping *mapping, const struct raw_fhir_code *from, struct fhir_event *event)
{
	const struct reader *reader = &mapping->reader;
	struct stated_string name =
		given_string(reader, from->text != NULL ? from->text : from->event, given_place(reader, from->key));
	*event = (struct fhir_event){.code = read_string(reader, from->key), .time_stated = from->time_is != NULL};
	event->is_arrival = read_choice(reader, from->time_is, choices_time_of, false) != 0;
	event->label = read_text(reader, from->label, name.place);
	if (name.text == NULL || strcmp(name.text, "ignore") == 0)
		return;
	struct nearest nearest = nearest_to(name.text);
	bool procedure = false;
	event->event = name.text;
	if (find_event(mapping->clinic, name.text, &procedure, &nearest) == NULL && from->label == NULL)
		refuse_id(mapping, "event", &name, &nearest);
	if (procedure && !event->time_stated)
		refuse_value(reader, "procedure-time-missing", name.place,
		             "is the time of '%s' the arrival or the procedure? write 'time_is: arrival' or 'time_is: "
		             "procedure' beside it",
		             name.text);
}

static void read_events(struct mapping *mapping, const struct raw_fhir_map *raw)
{
	struct fhir_event *list = arena_alloc(mapping->reader.arena, (raw->events_count + 1) * sizeof *list);
	for (unsigned i = 0; i < raw->events_count; i++)
		read_event(mapping, &raw->events[i], &list[i]);
	mapping->map->events = list;
	mapping->map->n_events = raw->events_count;
}

static void read_protocols(struct mapping *mapping, const struct raw_fhir_map *raw)
{
	mapping->map->protocols = read_table(mapping, "protocols", raw->protocols, raw->protocols_count);
	for (unsigned i = 0; i < raw->protocols_count; i++) {
		struct stated_string name = given_string(&mapping->reader, raw->protocols[i].text, (struct place){0});
		if (name.text == NULL || clinic_protocol(mapping->clinic, name.text) != NULL)
			continue;
		struct nearest nearest = nearest_to(name.text);
		for (size_t j = 0; j < mapping->clinic->n_protocols; j++)
			nearest_offer(&nearest, mapping->clinic->protocols[j].id);
		refuse_id(mapping, "protocol", &name, &nearest);
	}
}

static void read_constants(struct mapping *mapping, const struct raw_fhir_map *raw)
{
	struct fhir_map *map = mapping->map;
	struct {
		const char *name;
		const char **value;
	} constants[] = {{"language", &map->language}, {"paper", &map->paper}, {"large_print", &map->large_print}};
	for (unsigned i = 0; i < raw->constants_count; i++) {
		struct stated_string name = given_string(&mapping->reader, raw->constants[i].key, (struct place){0});
		const char **value = NULL;
		for (size_t j = 0; j < sizeof constants / sizeof *constants; j++)
			if (strcmp(constants[j].name, name.text) == 0)
				value = constants[j].value;
		if (value != NULL)
			*value = read_string(&mapping->reader, raw->constants[i].text);
		else
			refuse_value(&mapping->reader, "constant-refused", name.place,
			             "'%s' is no constant here; only language, paper and large_print are", name.text);
	}
}

static void read_ignored(struct mapping *mapping, const struct raw_fhir_map *raw)
{
	static const char *const needed[] = {"Patient", "MedicationRequest"};
	mapping->map->ignored = read_strings(&mapping->reader, raw->ignore, raw->ignore_count);
	mapping->map->n_ignored = raw->ignore_count;
	for (unsigned i = 0; i < raw->ignore_count; i++)
		for (size_t j = 0; j < sizeof needed / sizeof *needed; j++)
			if (strcmp(mapping->map->ignored[i], needed[j]) == 0)
				refuse_value(&mapping->reader, "ignore-refused",
				             given_place(&mapping->reader, raw->ignore[i]),
				             "no sheet is made without '%s'; delete it here", needed[j]);
}

static void check_whole(struct mapping *mapping, bool as_of_given)
{
	const struct place place = {.file = mapping->map->file};
	if (!as_of_given)
		refuse_value(&mapping->reader, "as-of-unclear", place,
		             "no resource says the day that the orders speak from; say --as-of DATE");
	if (mapping->map->language == NULL && mapping->map->languages.n == 0)
		refuse_value(&mapping->reader, "field-missing", place,
		             "nothing says a patient's language; write 'languages', or a constant 'language'");
}

static void read_all(struct mapping *mapping, const struct raw_fhir_map *raw, const struct node *root)
{
	const struct reader *reader = &mapping->reader;
	struct fhir_map *map = mapping->map;
	const struct place place = {.file = map->file};
	map->record = read_string(reader, raw->record);
	map->record_width = read_whole(reader, raw->record_width, place, 1, MOST_RECORD_WIDTH).number;
	read_medications(mapping, raw, tree_get(root, "medications"));
	read_events(mapping, raw);
	read_protocols(mapping, raw);
	map->languages = read_table(mapping, "languages", raw->languages, raw->languages_count);
	map->allergies = read_table(mapping, "allergies", raw->allergies, raw->allergies_count);
	map->routes = read_table(mapping, "routes", raw->routes, raw->routes_count);
	read_ignored(mapping, raw);
	map->has_own_course = raw->own_course != NULL;
	if (raw->own_course != NULL) {
		map->own_title = read_text(reader, raw->own_course->title, place);
		read_calendar_days(reader, raw->own_course->horizon, place);
		map->own_horizon = read_string(reader, raw->own_course->horizon);
	}
	read_constants(mapping, raw);
}

const struct fhir_map *load_fhir_map(struct arena *run, const struct clinic *clinic, const struct map_file *from,
                                     bool as_of_given, struct findings *findings, enum load_status *status)
{
	size_t stops_before = findings_count(findings, FINDING_STOP);
	struct fhir_map *map = arena_alloc(run, sizeof *map);
	struct mapping mapping = {.reader = {.arena = run, .findings = findings}, .clinic = clinic, .map = map};
	map->file = from->file;
	const struct raw_fhir_map *raw =
		shape_load(run, from->root, &schema_fhir_map, &mapping.reader.strings, findings);
	if (raw != NULL)
		read_all(&mapping, raw, from->root);
	if (raw != NULL && findings_count(findings, FINDING_STOP) == stops_before)
		check_whole(&mapping, as_of_given);
	if (findings_count(findings, FINDING_STOP) == stops_before)
		return map;
	*status = load_worse(*status, LOAD_REFUSED);
	return NULL;
}
