#include "load/fhir_tree.h"

#include "load/fhir_building.h"
#include "load/intake_tree.h"

#include <glib.h>
#include <string.h>

static struct node *map_below(struct fhir_building *building, struct node *map, const char *key, struct place place)
{
	struct node *node = tree_map(building->arena, place);
	tree_put(building->arena, map, key, node);
	return node;
}

static bool is_type(const struct fhir_resource *resource, const char *type)
{
	return strcmp(resource->type, type) == 0;
}

static bool is_one_of(const char *text, const char *const *list, size_t n)
{
	for (size_t i = 0; text != NULL && i < n; i++)
		if (strcmp(list[i], text) == 0)
			return true;
	return false;
}

#define ONE_OF(text, list) is_one_of(text, list, sizeof(list) / sizeof *(list))

/* ---- the patient ---- */

const char *fhir_record(struct arena *arena, const struct fhir_map *map, const json_t *patient)
{
	const json_t *list = json_object_get(patient, "identifier");
	const char *found = NULL;
	for (size_t i = 0; i < json_array_size(list); i++) {
		const char *system = fhir_string(fhir_entry(list, i), "system");
		const char *value = fhir_string(fhir_entry(list, i), "value");
		if (system == NULL || value == NULL || *value == '\0' || strcmp(system, map->record) != 0)
			continue;
		if (found != NULL && strcmp(found, value) != 0)
			return NULL;
		found = value;
	}
	return found == NULL ? NULL : arena_strdup(arena, found);
}

static const char *name_text(struct arena *arena, const json_t *name)
{
	const char *text = fhir_string(name, "text");
	const char *family = fhir_string(name, "family");
	const json_t *given = json_object_get(name, "given");
	if (text != NULL)
		return text;
	const char *whole = "";
	for (size_t i = 0; i < json_array_size(given); i++) {
		const char *one = json_string_value(fhir_entry(given, i));
		if (one != NULL)
			whole = arena_printf(arena, "%s%s%s", whole, *whole == '\0' ? "" : " ", one);
	}
	return family == NULL ? whole : arena_printf(arena, "%s%s%s", whole, *whole == '\0' ? "" : " ", family);
}

/* The official name, else the usual one, else the only one. */
static const char *patient_name(struct fhir_building *building)
{
	static const char *const uses[] = {"official", "usual"};
	const json_t *list = json_object_get(building->patient->json, "name");
	for (size_t i = 0; i < sizeof uses / sizeof *uses; i++) {
		const json_t *found = NULL;
		size_t n = 0;
		for (size_t j = 0; j < json_array_size(list); j++) {
			const char *use = fhir_string(fhir_entry(list, j), "use");
			if (use == NULL || strcmp(use, uses[i]) != 0)
				continue;
			found = fhir_entry(list, j);
			n++;
		}
		if (n == 1)
			return name_text(building->arena, found);
	}
	return json_array_size(list) == 1 ? name_text(building->arena, fhir_entry(list, 0)) : "";
}

/* The preferred language, else the only one, else the map's constant. */
static const char *patient_language(struct fhir_building *building)
{
	const struct fhir_reading *reading = building->reading;
	const json_t *list = json_object_get(building->patient->json, "communication");
	const json_t *found = NULL;
	size_t preferred = 0;
	for (size_t i = 0; i < json_array_size(list); i++)
		if (json_is_true(json_object_get(fhir_entry(list, i), "preferred"))) {
			found = fhir_entry(list, i);
			preferred++;
		}
	if (json_array_size(list) == 1)
		found = fhir_entry(list, 0);
	else if (preferred > 1)
		found = NULL;
	if (found != NULL && reading->map->languages.n > 0)
		return fhir_concept(reading, building->patient, json_object_get(found, "language"),
		                    &reading->map->languages, "the patient's language");
	if (reading->map->language == NULL || (found == NULL && json_array_size(list) > 0))
		fhir_refuse(reading, building->patient, "language-missing",
		            "nothing says which language is printed for this patient; state one as preferred");
	return reading->map->language;
}

static void check_active(struct fhir_building *building)
{
	const json_t *json = building->patient->json;
	const json_t *dead = json_object_get(json, "deceasedBoolean");
	if (json_is_false(json_object_get(json, "active")) || json_is_true(dead) ||
	    json_object_get(json, "deceasedDateTime") != NULL || json_array_size(json_object_get(json, "link")) > 0)
		fhir_refuse(
			building->reading, building->patient, "patient-inactive",
			"this patient's entry is inactive, linked to another, or says that the patient has died; no "
			"sheet is made");
}

static void check_record(struct fhir_building *building, const char *record)
{
	int64_t width = building->reading->map->record_width;
	if (width > 0 && g_utf8_strlen(record, -1) != width)
		fhir_refuse(building->reading, building->patient, "record-short",
		            "'%s' is not of the %lld characters of a record number; correct it", record,
		            (long long)width);
}

static void put_allergies(struct fhir_building *building, struct node *patient)
{
	static const char *const gone[] = {"entered-in-error", "refuted"};
	const struct fhir_reading *reading = building->reading;
	struct node *list = tree_list(building->arena, building->place);
	for (size_t i = 0; i < reading->n; i++) {
		const struct fhir_resource *at = &reading->list[i];
		if (!is_type(at, "AllergyIntolerance") ||
		    ONE_OF(fhir_string_at(at->json, "verificationStatus.coding.code"), gone))
			continue;
		const char *allergy = fhir_concept(reading, at, json_object_get(at->json, "code"),
		                                   &reading->map->allergies, "an allergy");
		if (allergy != NULL)
			tree_add(building->arena, list, tree_scalar(building->arena, allergy, at->place));
	}
	if (list->n > 0)
		tree_put(building->arena, patient, "allergies", list);
}

static void put_patient(struct fhir_building *building)
{
	struct node *patient = map_below(building, building->plan, "patient", building->patient->place);
	const char *record = fhir_record(building->arena, building->reading->map, building->patient->json);
	const char *name = patient_name(building);
	check_active(building);
	check_record(building, record);
	if (*name == '\0')
		fhir_refuse(building->reading, building->patient, "name-unclear",
		            "no name of this patient is the official or the only one; state which is printed");
	fhir_put(building, patient, "record", record, building->patient->place);
	fhir_put(building, patient, "name", name, building->patient->place);
	fhir_put(building, patient, "born", fhir_string(building->patient->json, "birthDate"),
	         building->patient->place);
	put_allergies(building, patient);
	fhir_put(building, building->plan, "language", patient_language(building), building->patient->place);
	fhir_put(building, building->plan, "paper", building->reading->map->paper, building->place);
	fhir_put(building, building->plan, "large_print", building->reading->map->large_print, building->place);
}

/* ---- events ---- */

static const struct fhir_event *event_of(struct fhir_building *building, const struct fhir_resource *at)
{
	const struct fhir_map *map = building->reading->map;
	struct map_code *list = arena_alloc(building->arena, (map->n_events + 1) * sizeof *list);
	bool procedure = is_type(at, "Procedure");
	for (size_t i = 0; i < map->n_events; i++)
		list[i] = (struct map_code){map->events[i].code, map->events[i].code};
	const struct code_table table = {"events", list, map->n_events};
	const json_t *concept = json_object_get(at->json, procedure ? "code" : "serviceType");
	if (json_is_array(concept))
	concept = fhir_entry(concept, 0);
	const char *code =
		fhir_concept(building->reading, at, concept, &table, procedure ? "a procedure" : "an appointment");
	for (size_t i = 0; code != NULL && i < map->n_events; i++)
		if (strcmp(map->events[i].code, code) == 0)
			return &map->events[i];
	return NULL;
}

/* An appointment that was called off, or a procedure that was not done, is no event; one not agreed yet is doubtful. */
static bool takes_place(struct fhir_building *building, const struct fhir_resource *at)
{
	static const char *const off[] = {"cancelled", "noshow", "entered-in-error", "not-done", "stopped"};
	static const char *const on[] = {"booked",      "arrived",     "fulfilled", "checked-in",
	                                 "preparation", "in-progress", "completed"};
	const char *status = fhir_string(at->json, "status");
	if (ONE_OF(status, off))
		return false;
	if (!ONE_OF(status, on))
		fhir_refuse(building->reading, at, "event-unconfirmed",
		            "the status of this is '%s', so its day is not agreed; confirm it, or call it off",
		            status == NULL ? "" : status);
	return true;
}

static const char *time_of_event(const struct fhir_resource *at)
{
	const char *day = fhir_string(at->json, "performedDateTime");
	if (!is_type(at, "Procedure"))
		return fhir_string(at->json, "start");
	return day != NULL ? day : fhir_string_at(at->json, "performedPeriod.start");
}

/* Of an exact event its time counts, and what it means must be what the protocol says; of any other the day alone. */
static bool check_time(struct fhir_building *building, const struct fhir_resource *at, const struct fhir_event *mapped,
                       const struct event *event, const struct fhir_moment *moment)
{
	const struct fhir_reading *reading = building->reading;
	if (!event->exact || !moment->has_time)
		return false;
	if (!moment->whole_minute)
		fhir_refuse(reading, at, "bad-time", "the time of '%s' is not in whole minutes; correct it", event->id);
	if (clock_minutes(moment->time) == 0)
		fhir_refuse(reading, at, "midnight-doubtful",
		            "00:00 may stand for a time that is not known; write the time, or 23:59 of the day before");
	if (protocol_has_procedure(building->protocol, event) && mapped->is_arrival != event->is_arrival)
		fhir_refuse(reading, at, "time-is-differs",
		            "the map says that this time is the %s, and protocol '%s' says the %s; make them agree",
		            mapped->is_arrival ? "arrival" : "procedure", building->protocol->id,
		            mapped->is_arrival ? "procedure" : "arrival");
	return true;
}

static struct node *text_node(struct fhir_building *building, struct text text)
{
	struct node *node = tree_map(building->arena, building->place);
	for (size_t i = 0; i < text.n; i++)
		fhir_put(building, node, text.in[i].language, text.in[i].text, building->place);
	return node;
}

/* A course of the plan's own has the event, and shows it as a visit. */
static bool put_own_event(struct fhir_building *building, struct node *own, const struct fhir_resource *at,
                          const struct fhir_event *mapped, const struct fhir_moment *moment)
{
	struct arena *arena = building->arena;
	if (mapped->label.n == 0) {
		fhir_refuse(building->reading, at, "label-missing",
		            "these orders follow no protocol, so the map must say what '%s' is called; add 'label'",
		            mapped->event);
		return false;
	}
	struct node *event = tree_map(arena, at->place);
	struct node *visit = tree_map(arena, at->place);
	tree_put_text(arena, event, "id", mapped->event, at->place);
	tree_put(arena, event, "label", text_node(building, mapped->label));
	tree_put_text(arena, event, "own_day", "0", at->place);
	tree_put_text(arena, visit, "event", mapped->event, at->place);
	tree_put_text(arena, visit, "day", "0", at->place);
	if (moment->has_time && clock_minutes(moment->time) != 0) /* 00:00 stands for a time that is not known */
		fhir_put(building, visit, "at", clock_print(arena, moment->time), at->place);
	tree_put(arena, visit, "label", text_node(building, mapped->label));
	tree_add(arena, fhir_list_of(building, own, "events"), event);
	tree_add(arena, fhir_list_of(building, own, "visits"), visit);
	return false;
}

static void put_event(struct fhir_building *building, struct node *own, const struct fhir_resource *at,
                      const struct fhir_event *mapped)
{
	const struct fhir_reading *reading = building->reading;
	struct fhir_moment moment;
	const char *text = time_of_event(at);
	if (text == NULL || !fhir_moment_read(reading, text, &moment)) {
		fhir_refuse(reading, at, "bad-date",
		            "'%s' is no day of an event; write a whole date, or a time with its "
		            "offset",
		            text == NULL ? "" : text);
		return;
	}
	if (tree_get(building->events, mapped->event) != NULL) {
		fhir_refuse(reading, at, "event-twice", "'%s' has two dates; call one of them off", mapped->event);
		return;
	}
	const struct event *event =
		building->protocol == NULL ? NULL : protocol_event(building->protocol, mapped->event);
	if (building->protocol != NULL && event == NULL) {
		fhir_refuse(reading, at, "unknown-event",
		            "protocol '%s' has no event '%s'; correct the map, or the order", building->protocol->id,
		            mapped->event);
		return;
	}
	bool timed = own != NULL ? put_own_event(building, own, at, mapped, &moment)
	                         : check_time(building, at, mapped, event, &moment);
	const char *day = date_print(building->arena, moment.date);
	fhir_put(building, building->events, mapped->event,
	         timed ? arena_printf(building->arena, "%s %s", day, clock_print(building->arena, moment.time)) : day,
	         at->place);
}

static void put_events(struct fhir_building *building, struct node *own)
{
	const struct fhir_reading *reading = building->reading;
	building->events = tree_map(building->arena, building->place);
	for (size_t i = 0; i < reading->n; i++) {
		const struct fhir_resource *at = &reading->list[i];
		if ((!is_type(at, "Appointment") && !is_type(at, "Procedure")) || !takes_place(building, at))
			continue;
		const struct fhir_event *mapped = event_of(building, at);
		if (mapped != NULL && mapped->event != NULL)
			put_event(building, own, at, mapped);
	}
	if (building->events->n > 0)
		tree_put(building->arena, building->plan, "events", building->events);
}

/* ---- orders without a protocol ---- */

static const char *new_id(struct fhir_building *building, const struct node *items, const char *wanted)
{
	for (int number = 1;; number++) {
		const char *id = number == 1 ? wanted : arena_printf(building->arena, "%s-%d", wanted, number);
		bool taken = false;
		for (size_t i = 0; i < items->n; i++)
			taken = taken || strcmp(tree_get(items->items[i], "id")->text, id) == 0;
		if (!taken)
			return id;
	}
}

static void put_times(struct fhir_building *building, struct node *map, const struct fhir_dose *dose,
                      struct place place)
{
	struct node *list = tree_list(building->arena, place);
	for (size_t i = 0; i < dose->n_at; i++)
		tree_add(building->arena, list, tree_scalar(building->arena, dose->at[i], place));
	tree_put(building->arena, map, "at", list);
}

static bool same_list(const char *const *a, size_t n, const char *const *b, size_t m)
{
	for (size_t i = 0; i < n && n == m; i++)
		if (strcmp(a[i], b[i]) != 0)
			return false;
	return n == m;
}

/* What a course of one's own needs said, since no protocol says it. */
static bool check_own(const struct fhir_building *building, const struct fhir_order *order,
                      const struct fhir_dose *doses, size_t n)
{
	const struct fhir_reading *reading = building->reading;
	for (size_t i = 0; i < n; i++) {
		const struct fhir_dose *dose = &doses[i];
		if (dose->n_at == 0 && dose->most == 0) {
			fhir_refuse(reading, order->from, "time-of-day-missing",
			            "a dosage says no time of day, and no protocol does; write 'when' or 'timeOfDay'");
			return false;
		}
		if (i > 0 && (dose->most != doses[0].most || dose->every != doses[0].every ||
		              !same_list(dose->weekdays, dose->n_weekdays, doses[0].weekdays, doses[0].n_weekdays) ||
		              doses[0].count > 0 || dose->count > 0)) {
			fhir_refuse(
				reading, order->from, "rhythm-differs",
				"dosages of one order are on other days of the week, or in another rhythm; write an "
				"order for each");
			return false;
		}
	}
	if (!doses[0].has_start) {
		fhir_refuse(reading, order->from, "start-missing",
		            "no first day is stated, and no protocol says one; write 'boundsPeriod' with 'start'");
		return false;
	}
	unsigned set = fhir_weekdays(&doses[0]);
	if (set != 0 && !(set & 1u << date_weekday(doses[0].start))) {
		fhir_refuse(reading, order->from, "start-off-weekday",
		            "the first day of a dosage is none of its days of the week; correct one of them");
		return false;
	}
	return true;
}

static void put_rhythm(struct fhir_building *building, struct node *item, const struct fhir_dose *dose,
                       struct place place)
{
	struct arena *arena = building->arena;
	if (dose->every > 1)
		fhir_put(building, item, "every", arena_printf(arena, "%lld days", (long long)dose->every), place);
	if (dose->n_weekdays > 0) {
		struct node *list = tree_list(arena, place);
		for (size_t i = 0; i < dose->n_weekdays; i++)
			tree_add(arena, list, tree_scalar(arena, dose->weekdays[i], place));
		tree_put(arena, item, "weekdays", list);
	}
	if (dose->most > 0) {
		struct node *needed = map_below(building, item, "as_needed", place);
		fhir_put(building, needed, "most", arena_printf(arena, "%lld per day", (long long)dose->most), place);
	}
}

/* The dosages `doses` of an order as one item. */
static void put_own_item(struct fhir_building *building, struct node *items, const struct fhir_order *order,
                         const struct fhir_dose *doses, size_t n)
{
	struct arena *arena = building->arena;
	struct place place = order->from->place;
	struct fhir_order part = *order;
	part.doses = (struct fhir_dose *)(uintptr_t)doses;
	part.n = n;
	if (!check_own(building, order, doses, n))
		return;
	struct node *item = tree_map(arena, place);
	const char *id = order->medication->item != NULL ? order->medication->item : order->medication->medicine->id;
	tree_put_text(arena, item, "id", new_id(building, items, id), place);
	tree_put_text(arena, item, "medicine", order->medication->medicine->id, place);
	if (doses[0].n_at > 0)
		put_times(building, item, &doses[0], place);
	fhir_put(building, map_below(building, item, "start", place), "on", date_print(arena, doses[0].start), place);
	if (doses[0].count > 0)
		fhir_put_number(building, map_below(building, item, "end", place), "doses", doses[0].count, place);
	else if (fhir_total_days(&part) > 0)
		fhir_put_number(building, map_below(building, item, "end", place), "days", fhir_total_days(&part),
		                place);
	put_rhythm(building, item, &doses[0], place);
	struct node *steps = tree_list(arena, place);
	fhir_put_steps(building, steps, &part);
	for (size_t i = 1; i < n; i++)
		if (!same_list(doses[i].at, doses[i].n_at, doses[i - 1].at, doses[i - 1].n_at))
			put_times(building, (struct node *)(uintptr_t)steps->items[i], &doses[i], place);
	tree_put(arena, item, "doses", steps);
	if (order->medication->limits != NULL)
		tree_put(arena, item, "limits", order->medication->limits);
	tree_add(arena, items, item);
}

/* A course of its own is dated as a whole, so that a dosage lasts until the next one's first day. */
static void fill_days(const struct fhir_order *order)
{
	for (size_t i = 0; i + 1 < order->n; i++)
		if (order->doses[i].days == 0 && order->doses[i].has_start)
			order->doses[i].days = date_difference(order->doses[i + 1].start, order->doses[i].start);
}

static void put_own_order(struct fhir_building *building, struct node *items, const struct fhir_order *order)
{
	if (fhir_is_concurrent(order))
		for (size_t i = 0; i < order->n; i++)
			put_own_item(building, items, order, &order->doses[i], 1);
	else if (fhir_check_sequence(building, order)) {
		fill_days(order);
		put_own_item(building, items, order, order->doses, order->n);
	}
}

/* ---- the course ---- */

static void read_orders(struct fhir_building *building)
{
	const struct fhir_reading *reading = building->reading;
	building->orders = arena_alloc(building->arena, (reading->n + 1) * sizeof *building->orders);
	for (size_t i = 0; i < reading->n; i++)
		if (is_type(&reading->list[i], "MedicationRequest") &&
		    fhir_order_read(reading, &reading->list[i], &building->orders[building->n_orders]))
			building->n_orders++;
	if (building->n_orders == 0)
		fhir_refuse(reading, building->patient, "orders-missing",
		            "no active order is here for this patient; export the orders, or leave the patient out");
}

static bool find_protocol(struct fhir_building *building)
{
	const char *id = building->n_orders > 0 ? building->orders[0].protocol : NULL;
	for (size_t i = 1; i < building->n_orders; i++) {
		const char *other = building->orders[i].protocol;
		if (other == id || (other != NULL && id != NULL && strcmp(other, id) == 0))
			continue;
		fhir_refuse(building->reading, building->orders[i].from, "protocol-mixed",
		            "this patient's orders are of several protocols, or some of none; make them agree");
		return false;
	}
	building->protocol = id == NULL ? NULL : clinic_protocol(building->reading->clinic, id);
	return true;
}

static void put_protocol(struct fhir_building *building)
{
	struct node *doses = tree_map(building->arena, building->place);
	fhir_put(building, building->plan, "protocol", building->protocol->id, building->place);
	put_events(building, NULL);
	fhir_put_orders(building, doses);
	if (doses->n > 0)
		tree_put(building->arena, building->plan, "doses", doses);
}

/* In the order of the medicine list, which is that of the pages. */
static void sort_by_medicine(struct fhir_building *building)
{
	for (size_t i = 1; i < building->n_orders; i++)
		for (size_t j = i; j > 0; j--) {
			struct fhir_order *before = &building->orders[j - 1];
			struct fhir_order later = building->orders[j];
			if (before->medication->medicine <= later.medication->medicine)
				break;
			building->orders[j] = *before;
			*before = later;
		}
}

static void put_own_course(struct fhir_building *building)
{
	const struct fhir_map *map = building->reading->map;
	if (!map->has_own_course) {
		fhir_refuse(
			building->reading, building->orders[0].from, "protocol-missing",
			"these orders follow no protocol of the map; add its code there, or 'own_course' for orders "
			"without");
		return;
	}
	struct node *own = map_below(building, building->plan, "protocol", building->place);
	struct node *items = tree_list(building->arena, building->place);
	tree_put(building->arena, own, "title", text_node(building, map->own_title));
	fhir_put(building, own, "horizon", map->own_horizon, building->place);
	put_events(building, own);
	sort_by_medicine(building);
	for (size_t i = 0; i < building->n_orders; i++)
		put_own_order(building, items, &building->orders[i]);
	tree_put(building->arena, own, "items", items);
}

/* ---- who signed ---- */

static void find_orderer(struct fhir_building *building, struct fhir_signers *signers)
{
	const struct fhir_order *first = &building->orders[0];
	for (size_t i = 1; i < building->n_orders; i++) {
		const char *other = building->orders[i].requester;
		if (first->requester == NULL || (other != NULL && strcmp(other, first->requester) == 0))
			continue;
		findings_add(building->reading->findings, FINDING_CAUTION, "orderers-differ",
		             building->orders[i].from->place,
		             "not all orders of this patient are by one person, so nobody has signed the whole; it "
		             "stays a draft");
		return;
	}
	signers->ordered_by = first->requester;
	for (size_t i = 0; i < building->n_orders; i++) {
		const char *on = building->orders[i].authored;
		if (on == NULL) {
			signers->ordered_by = NULL;
			return;
		}
		if (signers->ordered_on == NULL || strcmp(on, signers->ordered_on) > 0)
			signers->ordered_on = on;
	}
}

static const char *verifier_of(const json_t *provenance)
{
	const json_t *agents = json_object_get(provenance, "agent");
	for (size_t i = 0; i < json_array_size(agents); i++) {
		const json_t *codings = fhir_at(fhir_entry(agents, i), "type.coding");
		for (size_t j = 0; j < json_array_size(codings); j++) {
			const char *code = fhir_string(fhir_entry(codings, j), "code");
			if (code != NULL && strcmp(code, "verifier") == 0)
				return fhir_string_at(fhir_entry(agents, i), "who.display");
		}
	}
	return NULL;
}

static bool targets(struct arena *arena, const json_t *provenance, const struct fhir_resource *order)
{
	const json_t *list = json_object_get(provenance, "target");
	const char *id = fhir_string(order->json, "id");
	const char *name = id == NULL ? NULL : arena_printf(arena, "%s/%s", order->type, id);
	for (size_t i = 0; i < json_array_size(list); i++) {
		const char *reference = fhir_string(fhir_entry(list, i), "reference");
		if (reference != NULL && ((name != NULL && strcmp(reference, name) == 0) ||
		                          (order->address != NULL && strcmp(reference, order->address) == 0)))
			return true;
	}
	return false;
}

/* One person must have checked every order that holds, after it was written. */
static void find_checker(struct fhir_building *building, struct fhir_signers *signers)
{
	const struct fhir_reading *reading = building->reading;
	size_t checked = 0;
	for (size_t i = 0; i < building->n_orders; i++) {
		bool found = false;
		for (size_t j = 0; j < reading->n && !found; j++) {
			struct fhir_moment when;
			const struct fhir_resource *at = &reading->list[j];
			const char *by = is_type(at, "Provenance") ? verifier_of(at->json) : NULL;
			const char *recorded = by == NULL ? NULL : fhir_string(at->json, "recorded");
			if (recorded == NULL || !targets(building->arena, at->json, building->orders[i].from) ||
			    !fhir_moment_read(reading, recorded, &when) ||
			    (signers->checked_by != NULL && strcmp(signers->checked_by, by) != 0))
				continue;
			const char *on = date_print(building->arena, when.date);
			found = building->orders[i].authored == NULL || strcmp(on, building->orders[i].authored) >= 0;
			if (!found)
				continue;
			signers->checked_by = arena_strdup(building->arena, by);
			if (signers->checked_on == NULL || strcmp(on, signers->checked_on) > 0)
				signers->checked_on = on;
		}
		checked += found;
	}
	if (checked == building->n_orders)
		return;
	if (checked > 0)
		findings_add(reading->findings, FINDING_CAUTION, "check-partial", building->place,
		             "not all orders of this patient are checked by one person since they were written, so it "
		             "stays a draft");
	signers->checked_by = NULL;
}

/* ---- the whole ---- */

static bool find_patient(struct fhir_building *building)
{
	const struct fhir_reading *reading = building->reading;
	for (size_t i = 0; i < reading->n; i++) {
		if (!is_type(&reading->list[i], "Patient"))
			continue;
		if (building->patient != NULL) {
			fhir_refuse(reading, &reading->list[i], "record-of-two",
			            "two patients have this record number; correct one");
			return false;
		}
		building->patient = &reading->list[i];
	}
	return true;
}

struct node *fhir_tree(const struct fhir_reading *reading, struct fhir_signers *signers)
{
	struct fhir_building building = {.reading = reading, .arena = reading->arena, .place = reading->list[0].place};
	*signers = (struct fhir_signers){NULL, NULL, NULL, NULL};
	building.plan = tree_map(building.arena, building.place);
	if (!find_patient(&building))
		return building.plan;
	fhir_put(&building, building.plan, "as_of", reading->as_of, building.place);
	put_patient(&building);
	read_orders(&building);
	if (findings_stop(reading->findings) || !find_protocol(&building))
		return building.plan;
	if (building.protocol != NULL)
		put_protocol(&building);
	else
		put_own_course(&building);
	find_orderer(&building, signers);
	find_checker(&building, signers);
	return building.plan;
}
