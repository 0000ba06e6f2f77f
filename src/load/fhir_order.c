#include "load/fhir_order.h"

#include "load/choices.h"

#include <stdlib.h>
#include <string.h>

#define UCUM "http://unitsofmeasure.org"

enum { MOST_DAYS = 1000 };

/* One dosageInstruction while it is read. */
struct dosing {
	const struct fhir_reading *reading;
	const struct fhir_resource *at;
	const json_t *json;
	struct fhir_dose *dose;
	int64_t frequency;
	int64_t period;
};

#define refuse(dosing, code, ...) fhir_refuse((dosing)->reading, (dosing)->at, code, __VA_ARGS__)

/* ---- amounts ---- */

/* UCUM's codes of what a dose can be, and our words. 'U' is an enzyme's unit there, and reads as a zero: it is left out. */
static const struct {
	const char *code;
	const char *word;
} units[] = {
	{"g", "g"},
	{"mg", "mg"},
	{"ug", "mcg"},
	{"ng", "ng"},
	{"[iU]", "units"},
	{"[IU]", "units"},
	{"[USP'U]", "units"},
	{"L", "L"},
	{"l", "L"},
	{"mL", "mL"},
	{"ml", "mL"},
	{"{tablet}", "tablets"},
	{"{capsule}", "capsules"},
	{"{patch}", "patches"},
	{"{insert}", "inserts"},
	{"{spray}", "sprays"},
	{"{puff}", "puffs"},
	{"{drop}", "drops"},
	{"{sachet}", "sachets"},
	{"{syringe_unit}", "syringe units"},
};

static const char *unit_word(const json_t *json)
{
	const char *system = fhir_string(json, "system");
	const char *code = fhir_string(json, "code");
	for (size_t i = 0; system != NULL && code != NULL && i < sizeof units / sizeof *units; i++)
		if (strcmp(system, UCUM) == 0 && strcmp(units[i].code, code) == 0)
			return units[i].word;
	return NULL;
}

/* A quantity by its codes; its text for people must not say another unit. */
static const char *read_quantity(const struct dosing *dosing, const json_t *json, struct quantity *quantity)
{
	struct arena *arena = dosing->reading->arena;
	const char *value = fhir_number(json, "value");
	const char *word = unit_word(json);
	const char *shown = fhir_string(json, "unit");
	struct quantity_fault fault = {.code = NULL};
	if (fhir_string(json, "comparator") != NULL || value == NULL) {
		refuse(dosing, "dose-inexact", "an amount is no single number; write the one that is meant");
		return NULL;
	}
	if (word == NULL) {
		refuse(dosing, "unit-not-ucum",
		       "the unit '%s' of an amount is no UCUM code of a dose; code it, as in '[iU]' or 'mg'",
		       fhir_string(json, "code") == NULL ? "" : fhir_string(json, "code"));
		return NULL;
	}
	bool good = quantity_read(arena, arena_printf(arena, "%s %s", value, word), DECIMAL_POINT, quantity, &fault);
	if (fault.code != NULL)
		findings_add(dosing->reading->findings, good ? FINDING_CAUTION : FINDING_STOP, fault.code,
		             dosing->at->place, "%s", fault.says);
	if (!good)
		return NULL;
	enum unit other = shown == NULL ? UNIT_NONE : unit_read(shown, strlen(shown));
	if (other != UNIT_NONE && other != quantity->unit) {
		refuse(dosing, "text-differs", "an amount's unit is '%s' as text and '%s' as code; make them agree",
		       shown, fhir_string(json, "code"));
		return NULL;
	}
	return quantity_plain(arena, *quantity, DECIMAL_POINT);
}

static void read_dose_quantity(struct dosing *dosing)
{
	const json_t *list = json_object_get(dosing->json, "doseAndRate");
	const json_t *rate = fhir_entry(list, 0);
	const json_t *dose = json_object_get(rate, "doseQuantity");
	if (json_object_get(rate, "doseRange") != NULL)
		refuse(dosing, "dose-range", "a dose is a range here; somebody must write the one that is meant");
	else if (json_object_get(rate, "rateRatio") != NULL || json_object_get(rate, "rateRange") != NULL ||
	         json_object_get(rate, "rateQuantity") != NULL)
		refuse(dosing, "dose-rate", "this order is by the rate, and no sheet is made of infusions");
	else if (json_array_size(list) != 1 || dose == NULL)
		refuse(dosing, "dose-missing", "a dosage states no dose, or several; write one doseQuantity");
	else
		dosing->dose->amount = read_quantity(dosing, dose, &dosing->dose->quantity);
}

/* ---- small numbers ---- */

/* A whole number of 1 or more; 0 with a finding where something else is written, or nothing said. */
static int64_t read_count(const struct dosing *dosing, const json_t *object, const char *key)
{
	const char *text = fhir_number(object, key);
	if (json_object_get(object, key) == NULL)
		return 0;
	size_t n = text == NULL ? 0 : strspn(text, "0123456789");
	int64_t number = n > 0 && n < 5 && text[n] == '\0' ? strtol(text, NULL, 10) : 0;
	if (number < 1 || number > MOST_DAYS)
		refuse(dosing, "bad-number", "'%s' is no whole number from 1 to %d; write one", key, MOST_DAYS);
	return number;
}

/* Days of a code 'd' or 'wk'; 0: another. */
static int64_t days_of(const char *unit)
{
	if (unit == NULL)
		return 0;
	return strcmp(unit, "d") == 0 ? 1 : strcmp(unit, "wk") == 0 ? 7 : 0;
}

/* The first key that is not in the list, or NULL. */
static const char *other_key(const json_t *object, const char *const *known, size_t n)
{
	const char *key;
	json_t *value;
	json_object_foreach((json_t *)(uintptr_t)object, key, value)
	{
		bool found = key[0] == '_' || strcmp(key, "extension") == 0 || strcmp(key, "id") == 0;
		for (size_t i = 0; i < n; i++)
			found = found || strcmp(known[i], key) == 0;
		if (!found)
			return key;
	}
	return NULL;
}

#define COUNT(list) (sizeof(list) / sizeof *(list))

/* ---- when ---- */

static void add_time(struct dosing *dosing, const char *time)
{
	struct fhir_dose *dose = dosing->dose;
	if (dose->n_at == FHIR_MOST_TIMES) {
		refuse(dosing, "timing-unread", "a dosage has over %d times a day; write an order for each part",
		       FHIR_MOST_TIMES);
		return;
	}
	dose->at[dose->n_at++] = time;
}

static void read_when(struct dosing *dosing, const json_t *list)
{
	static const struct {
		const char *code;
		const char *slot;
	} slots[] = {{"MORN", "morning"}, {"NOON", "noon"}, {"EVE", "evening"}, {"HS", "bedtime"}};
	for (size_t i = 0; i < json_array_size(list); i++) {
		const char *code = json_string_value(fhir_entry(list, i));
		const char *slot = NULL;
		for (size_t j = 0; code != NULL && j < COUNT(slots); j++)
			if (strcmp(slots[j].code, code) == 0)
				slot = slots[j].slot;
		if (slot == NULL)
			refuse(dosing, "unknown-code",
			       "'%s' is no time of day that the clinic has; write MORN, NOON, EVE, HS, or 'timeOfDay'",
			       code == NULL ? "" : code);
		else
			add_time(dosing, slot);
	}
}

/* "20:00:00" */
static void read_clock_times(struct dosing *dosing, const json_t *list)
{
	struct arena *arena = dosing->reading->arena;
	for (size_t i = 0; i < json_array_size(list); i++) {
		const char *text = json_string_value(fhir_entry(list, i));
		struct clock_time time;
		bool whole = text != NULL && strlen(text) >= 8 && strncmp(text + 5, ":00", 3) == 0 &&
		             (text[8] == '\0' || (text[8] == '.' && strspn(text + 9, "0") == strlen(text + 9)));
		if (whole && clock_read(arena_strndup(arena, text, 5), &time))
			add_time(dosing, clock_print(arena, time));
		else
			refuse(dosing, "bad-time", "'%s' is no time of day in whole minutes; mend it",
			       text == NULL ? "" : text);
	}
}

static void read_weekdays(struct dosing *dosing, const json_t *list)
{
	static const char *const days[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
	struct fhir_dose *dose = dosing->dose;
	for (size_t i = 0; i < json_array_size(list) && i < COUNT(days); i++) {
		const char *code = json_string_value(fhir_entry(list, i));
		const char *found = NULL;
		for (size_t j = 0; code != NULL && j < COUNT(days); j++)
			if (strcmp(days[j], code) == 0)
				found = days[j];
		if (found == NULL)
			refuse(dosing, "unknown-code", "'%s' is no day of the week; write one as in 'mon'",
			       code == NULL ? "" : code);
		else
			dose->weekdays[dose->n_weekdays++] = found;
	}
}

static void read_period(struct dosing *dosing, const json_t *period)
{
	struct fhir_dose *dose = dosing->dose;
	const char *from = fhir_string(period, "start");
	const char *to = fhir_string(period, "end");
	struct fhir_moment start, end;
	if (from == NULL || !fhir_moment_read(dosing->reading, from, &start)) {
		refuse(dosing, "bad-date", "'%s' is no first day of a dosage; write a whole date",
		       from == NULL ? "" : from);
		return;
	}
	dose->has_start = true;
	dose->start = start.date;
	if (to == NULL)
		return;
	int64_t days = fhir_moment_read(dosing->reading, to, &end) ? date_difference(end.date, start.date) + 1 : 0;
	if (days < 1 || days > MOST_DAYS)
		refuse(dosing, "bad-date", "'%s' is no last day of a dosage; write a whole date, not before the first",
		       to);
	else
		dose->days = days;
}

static void read_duration(struct dosing *dosing, const json_t *duration)
{
	const char *system = fhir_string(duration, "system");
	int64_t unit = system != NULL && strcmp(system, UCUM) == 0 ? days_of(fhir_string(duration, "code")) : 0;
	int64_t number = read_count(dosing, duration, "value");
	if (unit == 0)
		refuse(dosing, "unit-not-ucum", "a dosage's length is not in UCUM's days or weeks; write 'd' or 'wk'");
	else
		dosing->dose->days = number * unit;
}

/* How often, against the times and days that are stated beside it. */
static void read_rhythm(struct dosing *dosing, const json_t *repeat)
{
	struct fhir_dose *dose = dosing->dose;
	const char *unit = fhir_string(repeat, "periodUnit");
	dosing->frequency = read_count(dosing, repeat, "frequency");
	dosing->period = read_count(dosing, repeat, "period");
	int64_t frequency = dosing->frequency == 0 ? 1 : dosing->frequency;
	int64_t each = dose->n_weekdays > 0 ? (int64_t)dose->n_weekdays : 1;
	int64_t times = dose->n_at > 0 ? (int64_t)dose->n_at : 1;
	bool stated = dosing->frequency != 0 || dosing->period != 0 || unit != NULL;
	int64_t days = dosing->period * days_of(unit);
	dose->every = 1;
	if (!stated)
		return;
	if (days == 0)
		refuse(dosing, "timing-unread",
		       "a dosage's period is not in whole days or weeks; write the times of day instead");
	else if (dose->n_weekdays > 0 ? !(days == 7 && frequency == each * times) && !(days == 1 && frequency == times)
	                              : frequency != times)
		refuse(dosing, "timing-differs",
		       "a dosage is %lld times in its period, and its times and days of the week are others; make them "
		       "agree",
		       (long long)frequency);
	else if (dose->n_weekdays == 0)
		dose->every = days;
}

static void read_timing(struct dosing *dosing)
{
	static const char *const keys[] = {"boundsPeriod", "boundsDuration", "frequency", "period", "periodUnit",
	                                   "dayOfWeek",    "timeOfDay",      "when",      "count"};
	static const char *const whole[] = {"repeat"};
	const json_t *timing = json_object_get(dosing->json, "timing");
	const json_t *repeat = json_object_get(timing, "repeat");
	const char *other = other_key(timing, whole, COUNT(whole));
	if (other == NULL)
		other = other_key(repeat, keys, COUNT(keys));
	dosing->dose->every = 1;
	if (other != NULL) {
		refuse(dosing, "timing-unread",
		       "'%s' of a dosage's timing is not read here; say it with days and times", other);
		return;
	}
	read_when(dosing, json_object_get(repeat, "when"));
	read_clock_times(dosing, json_object_get(repeat, "timeOfDay"));
	read_weekdays(dosing, json_object_get(repeat, "dayOfWeek"));
	dosing->dose->count = read_count(dosing, repeat, "count");
	if (json_object_get(repeat, "boundsPeriod") != NULL)
		read_period(dosing, json_object_get(repeat, "boundsPeriod"));
	if (json_object_get(repeat, "boundsDuration") != NULL)
		read_duration(dosing, json_object_get(repeat, "boundsDuration"));
	read_rhythm(dosing, repeat);
	dosing->dose->timed = dosing->dose->n_at > 0 || dosing->dose->n_weekdays > 0 || dosing->period != 0;
}

/* ---- as needed ---- */

static void read_as_needed(struct dosing *dosing)
{
	const json_t *asked = json_object_get(dosing->json, "asNeededBoolean");
	const json_t *most = json_object_get(dosing->json, "maxDosePerPeriod");
	struct quantity total;
	struct rational ratio;
	bool needed = json_is_true(asked) || json_object_get(dosing->json, "asNeededCodeableConcept") != NULL;
	if (!needed && most == NULL)
		return;
	const json_t *period = json_object_get(most, "denominator");
	const char *days = fhir_number(period, "value");
	const char *unit = fhir_string(period, "code");
	bool a_day = days != NULL && unit != NULL && strcmp(days, "1") == 0 && strcmp(unit, "d") == 0;
	if (!needed) {
		refuse(dosing, "dosage-unread", "'maxDosePerPeriod' is read of a dosage as needed alone; delete it");
		return;
	}
	if (most == NULL || !a_day) {
		refuse(dosing, "as-needed-open",
		       "a dosage as needed states no most a day; write 'maxDosePerPeriod' for one day");
		return;
	}
	if (dosing->dose->amount == NULL || read_quantity(dosing, json_object_get(most, "numerator"), &total) == NULL)
		return;
	if (!quantity_ratio(total, dosing->dose->quantity, &ratio) || ratio.denominator != 1)
		refuse(dosing, "as-needed-open", "the most a day is no whole number of doses; correct one of both");
	else
		dosing->dose->most = ratio.numerator;
}

/* ---- the whole of a dosage ---- */

static void check_route(struct dosing *dosing, const struct fhir_medication *medication)
{
	const json_t *route = json_object_get(dosing->json, "route");
	if (route == NULL || medication == NULL)
		return;
	const char *ours =
		fhir_concept(dosing->reading, dosing->at, route, &dosing->reading->map->routes, "a dosage's route");
	const char *theirs = choice_word(choices_route, (int)medication->medicine->route);
	if (ours != NULL && strcmp(ours, theirs) != 0)
		refuse(dosing, "route-differs",
		       "the order's route is '%s', and %s is given by the %s route; correct one", ours,
		       medication->medicine->name, theirs);
}

static void check_texts(const struct dosing *dosing)
{
	static const char *const keys[] = {"text", "patientInstruction"};
	for (size_t i = 0; i < COUNT(keys); i++)
		if (fhir_string(dosing->json, keys[i]) != NULL)
			fhir_check_text(dosing->reading, dosing->at, fhir_string(dosing->json, keys[i]), dosing->dose,
			                dosing->frequency, dosing->period);
}

static void read_dosage(struct dosing *dosing, const struct fhir_medication *medication)
{
	static const char *const keys[] = {
		"sequence", "text",        "patientInstruction", "timing", "asNeededBoolean", "asNeededCodeableConcept",
		"route",    "doseAndRate", "maxDosePerPeriod"};
	const char *other = other_key(dosing->json, keys, COUNT(keys));
	if (other != NULL)
		refuse(dosing, "dosage-unread",
		       "'%s' of a dosage is not read here; take it out, or write this plan by hand", other);
	size_t stops = findings_count(dosing->reading->findings, FINDING_STOP);
	dosing->dose->sequence = read_count(dosing, dosing->json, "sequence");
	read_dose_quantity(dosing);
	read_timing(dosing);
	read_as_needed(dosing);
	check_route(dosing, medication);
	if (findings_count(dosing->reading->findings, FINDING_STOP) == stops)
		check_texts(dosing);
}

static int compare_doses(const void *left, const void *right)
{
	const struct fhir_dose *a = left;
	const struct fhir_dose *b = right;
	return (a->sequence > b->sequence) - (a->sequence < b->sequence);
}

static void read_dosages(const struct fhir_reading *reading, struct fhir_order *order)
{
	const json_t *list = json_object_get(order->from->json, "dosageInstruction");
	order->n = json_array_size(list);
	if (order->n == 0 || order->n > FHIR_MOST_DOSES) {
		fhir_refuse(reading, order->from, "dose-missing", "this order states no dose, or over %d; write it out",
		            FHIR_MOST_DOSES);
		order->n = 0;
	}
	order->doses = arena_alloc(reading->arena, (order->n + 1) * sizeof *order->doses);
	for (size_t i = 0; i < order->n; i++) {
		struct dosing dosing = {
			.reading = reading, .at = order->from, .json = fhir_entry(list, i), .dose = &order->doses[i]};
		read_dosage(&dosing, order->medication);
		if (order->n > 1 && order->doses[i].sequence == 0)
			refuse(&dosing, "sequence-missing",
			       "an order has several dosages, and one has no 'sequence'; which comes first must be "
			       "said");
	}
	/* Of equal numbers the order in the file holds. */
	for (size_t i = 1; i < order->n; i++)
		for (size_t j = i; j > 0 && compare_doses(&order->doses[j - 1], &order->doses[j]) > 0; j--) {
			struct fhir_dose later = order->doses[j - 1];
			order->doses[j - 1] = order->doses[j];
			order->doses[j] = later;
		}
}

/* ---- the order ---- */

/* One that is over orders nothing; one that is doubtful refuses its patient. */
static bool is_active(const struct fhir_reading *reading, const struct fhir_resource *from)
{
	const char *status = fhir_string(from->json, "status");
	const char *intent = fhir_string(from->json, "intent");
	if (status != NULL && (strcmp(status, "completed") == 0 || strcmp(status, "stopped") == 0))
		return false;
	if (status == NULL || strcmp(status, "active") != 0)
		fhir_refuse(
			reading, from, "order-inactive",
			"the status of this order is '%s', and only an active one holds; activate it, or leave it out",
			status == NULL ? "" : status);
	if (intent == NULL || strcmp(intent, "order") != 0)
		fhir_refuse(reading, from, "intent-differs",
		            "the intent of this is '%s', so it is no order; leave it out",
		            intent == NULL ? "" : intent);
	if (json_is_true(json_object_get(from->json, "doNotPerform")))
		fhir_refuse(reading, from, "order-forbids",
		            "this order forbids a medicine, which the sheet cannot say; write this plan by hand");
	return true;
}

/* The medication's own concept, or that of a Medication contained in the order; NULL with a finding. */
static const json_t *medication_concept(const struct fhir_reading *reading, const struct fhir_resource *from)
{
	const json_t *concept = json_object_get(from->json, "medicationCodeableConcept");
	const char *reference = fhir_string_at(from->json, "medicationReference.reference");
	const json_t *contained = json_object_get(from->json, "contained");
	if (concept != NULL)
	return concept;
	for (size_t i = 0; reference != NULL && reference[0] == '#' && i < json_array_size(contained); i++) {
		const char *id = fhir_string(fhir_entry(contained, i), "id");
		if (id != NULL && strcmp(id, reference + 1) == 0)
			return json_object_get(fhir_entry(contained, i), "code");
	}
	fhir_refuse(
		reading, from, "reference-unresolved",
		"the medicine of this order stands in another resource, which is not here; export its code with the "
		"order");
	return NULL;
}

static const struct fhir_medication *read_medication(const struct fhir_reading *reading,
                                                     const struct fhir_resource *from)
{
	const struct fhir_map *map = reading->map;
	const json_t *concept = medication_concept(reading, from);
	struct map_code *list = arena_alloc(reading->arena, (map->n_medications + 1) * sizeof *list);
	for (size_t i = 0; i < map->n_medications; i++)
		list[i] = (struct map_code){map->medications[i].code, map->medications[i].code};
	const struct code_table table = {"medications", list, map->n_medications};
	const char *code =
		concept == NULL ? NULL : fhir_concept(reading, from, concept, &table, "this order's medicine");
	for (size_t i = 0; code != NULL && i < map->n_medications; i++)
		if (strcmp(map->medications[i].code, code) == 0)
			return &map->medications[i];
	return NULL;
}

/* A canonical address names a protocol, so it must be known; a group or a category may be anything. */
static void read_protocol_code(const struct fhir_reading *reading, struct fhir_order *order)
{
	const json_t *json = order->from->json;
	const struct code_table *table = &reading->map->protocols;
	const json_t *canonical = json_object_get(json, "instantiatesCanonical");
	const json_t *category = json_object_get(json, "category");
	const char *found[2 + 16] = {NULL};
	size_t n = 0;
	for (size_t i = 0; i < json_array_size(canonical) && n < 8; i++) {
		const char *code = json_string_value(fhir_entry(canonical, i));
		found[n] = code == NULL ? NULL : code_find(table, code);
		if (found[n] != NULL)
			n++;
		else
			fhir_refuse(reading, order->from, "unknown-code",
			            "'%s' is no code of 'protocols' in the map; add it there, or correct this order's "
			            "protocol",
			            code == NULL ? "" : code);
	}
	const char *group = fhir_code(reading->arena, json_object_get(json, "groupIdentifier"), "value");
	if (group != NULL && code_find(table, group) != NULL)
		found[n++] = code_find(table, group);
	for (size_t i = 0; i < json_array_size(category) && n < 16; i++) {
		const json_t *codings = json_object_get(fhir_entry(category, i), "coding");
		for (size_t j = 0; j < json_array_size(codings) && n < 16; j++) {
			const char *code = fhir_code(reading->arena, fhir_entry(codings, j), "code");
			if (code != NULL && code_find(table, code) != NULL)
				found[n++] = code_find(table, code);
		}
	}
	for (size_t i = 1; i < n; i++)
		if (strcmp(found[i], found[0]) != 0)
			fhir_refuse(reading, order->from, "codes-disagree",
			            "this order is of two protocols, '%s' and '%s'; keep the one that holds", found[0],
			            found[i]);
	order->protocol = n > 0 ? found[0] : NULL;
}

bool fhir_order_read(const struct fhir_reading *reading, const struct fhir_resource *from, struct fhir_order *order)
{
	*order = (struct fhir_order){.from = from};
	if (!is_active(reading, from))
		return false;
	struct fhir_moment authored;
	const char *when = fhir_string(from->json, "authoredOn");
	const char *by = fhir_string_at(from->json, "requester.display");
	order->medication = read_medication(reading, from);
	read_protocol_code(reading, order);
	read_dosages(reading, order);
	order->requester = by == NULL || *by == '\0' ? NULL : arena_strdup(reading->arena, by);
	if (when != NULL && fhir_moment_read(reading, when, &authored))
		order->authored = date_print(reading->arena, authored.date);
	return true;
}
