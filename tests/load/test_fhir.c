/*
 * Resources as JSON: numbers stay as they are written, and whatever happens to an export's bytes, each of its lines is
 * read or refused.
 */
#include "load/fhir_json.h"

#include "load/intake.h"
#include "support/clinic_files.h"

#include <string.h>

/* What is a number by JSON's grammar, and what is not JSON at all. */
struct number {
	const char *name;
	const char *json;
	const char *text; /* NULL: refused */
};

static const struct number numbers[] = {
	{"a decimal", "{\"v\": 0.1}", "0.1"},
	{"zeros at the end", "{\"v\":1.500}", "1.500"},
	{"more digits than a binary fraction has", "{\"v\":0.12345678901234567890}", "0.12345678901234567890"},
	{"an exponent", "{\"v\": 2E-3 }", "2E-3"},
	{"a sign", "{\"v\":-0}", "-0"},
	{"in a list beside others", "{\"w\":[1,2],\"v\":3}", "3"},
	{"after a text that looks like one", "{\"w\":\"\\\"1\",\"v\":187.5}", "187.5"},
	{"a zero before", "{\"v\":01}", NULL},
	{"a bare point", "{\"v\":.5}", NULL},
	{"nothing behind the point", "{\"v\":5.}", NULL},
	{"a plus", "{\"v\":+5}", NULL},
	{"no exponent", "{\"v\":5e}", NULL},
	{"a key that stands twice", "{\"v\":1,\"v\":1}", NULL},
	{"two values", "{\"v\":1}{}", NULL},
	{"a text that does not end", "{\"v\":1,\"w\":\"", NULL},
};

static void is_kept_or_refused(void **state)
{
	const struct number *row = case_of(state)->row;
	json_t *json = fhir_json_read(row->json, strlen(row->json));
	if (row->text == NULL)
		assert_null(json);
	else
		assert_string_equal(fhir_number(json, "v"), row->text);
	json_decref(json);
}

static const char map[] = "intake: fhir\n"
			  "record: r\n"
			  "medications: {\"m|E\": {medicine: examplin, item: one}}\n"
			  "protocols: {c: p1}\n"
			  "events: {\"v|GO\": go}\n"
			  "own_course: {title: {en: Own}}\n"
			  "constants: {language: en}\n";

#define DOSE(value)                                                                                         \
	"\"doseAndRate\":[{\"doseQuantity\":{\"value\":" value ",\"system\":\"http://unitsofmeasure.org\"," \
	"\"code\":\"ug\"}}]"
#define ORDER(id, dosages)                                                                            \
	"{\"resourceType\":\"MedicationRequest\",\"id\":\"" id "\",\"status\":\"active\",\"intent\":" \
	"\"order\",\"instantiatesCanonical\":[\"c\"],\"medicationCodeableConcept\":{\"coding\":[{"    \
	"\"system\":\"m\",\"code\":\"E\"}]},\"subject\":{\"reference\":\"Patient/p1\"},"              \
	"\"dosageInstruction\":[" dosages "]}"
#define PERSON                                                                                                        \
	"{\"resourceType\":\"Patient\",\"id\":\"p1\",\"identifier\":[{\"system\":\"r\",\"value\":\"P-1\"}],\"name\":" \
	"[{\"text\":\"A B\"}]}"
#define VISIT                                                                                                      \
	"{\"resourceType\":\"Appointment\",\"status\":\"booked\",\"serviceType\":[{\"coding\":[{\"system\":\"v\"," \
	"\"code\":\"GO\"}]}],\"start\":\"2026-12-04T09:00:00Z\",\"participant\":[{\"actor\":{\"reference\":"       \
	"\"Patient/p1\"}}]}"

static const char lines[] = PERSON "\n" ORDER("a", "{\"text\":\"250 mcg\"," DOSE("250") "}") "\n" VISIT "\n";
static const char bundle[] = "{\"resourceType\":\"Bundle\",\"type\":\"collection\",\"entry\":[{\"resource\":" PERSON
			     "},\n {\"fullUrl\":\"u\",\"resource\":" ORDER("a", "{" DOSE("250") "}") "}]}\n";

static const struct victim {
	const char *name;
	const char *path;
	const char *bytes;
} victims[] = {{"lines", "in.ndjson", lines}, {"a Bundle", "in.json", bundle}};

/* Every line that has something in it is of one patient, or alone; each is read without a crash. */
static void read_all(struct intake *intake, struct arena *arena, const char *bytes, bool by_line)
{
	size_t rows = 0;
	for (const char *line = bytes; by_line && *line != '\0'; line += strcspn(line, "\n"), line += *line == '\n')
		rows += strspn(line, " \t\r") < strcspn(line, "\n");
	size_t pieces = 0;
	uint32_t length;
	assert_non_null(intake->source->head(intake->self, arena, &length));
	for (size_t number = 0; number < intake_count(intake); number++) {
		struct intake_patient patient;
		struct findings findings = findings_in(arena);
		assert_true(intake_read(intake, arena, number, &patient, &findings));
		assert_true((patient.plan == NULL) == findings_stop(&findings));
		pieces += patient.n_pieces;
	}
	if (by_line)
		assert_int_equal(pieces, rows);
	assert_non_null(intake_explain(intake, arena, 9));
}

/* How many of the damaged ones were not refused as a whole. */
static size_t damage(void **state, const struct victim *victim, const struct clinic *clinic)
{
	static const char odd[] = "{}[]\":,\\0918.-tenP/x \n\x80\xff";
	const struct intake_options options = {
		.path = victim->path, .map = "map.yaml", .as_of = "2026-12-03", .folder = "."};
	struct arena *one = arena_new();
	uint64_t seed = 20261203;
	size_t opened = 0;
	size_t length = strlen(victim->bytes);
	for (int round = 0; round < 1000; round++) {
		char bytes[2000] = {0};
		assert_in_range(length, 1, sizeof bytes - 1);
		memcpy(bytes, victim->bytes, length);
		for (uint64_t n = next_random(&seed) % 4; n > 0; n--)
			bytes[next_random(&seed) % length] = odd[next_random(&seed) % (sizeof odd - 1)];
		arena_reset(one);
		write_bytes(state, victim->path, bytes, length);
		struct findings findings = findings_in(one);
		enum load_status status;
		struct intake *intake = intake_open(one, clinic, &options, &findings, &status);
		assert_true((intake == NULL) == findings_stop(&findings));
		if (intake == NULL)
			continue;
		opened++;
		read_all(intake, one, bytes, victim->bytes == lines);
		intake_free(intake);
	}
	arena_free(one);
	return opened;
}

static void damage_leaves_no_line_out(void **state)
{
	const struct victim *victim = case_of(state)->row;
	write_text(state, "map.yaml", map);
	assert_in_range(damage(state, victim, good_clinic(state)), 200, 1000);
}

/* The one plan of an intake; its findings' text where there is none. */
static const char *plan_of(void **state, const char *path, const char *bytes)
{
	struct arena *arena = case_of(state)->arena;
	const struct intake_options options = {.path = path, .map = "map.yaml", .as_of = "2026-12-03", .folder = "."};
	write_text(state, "map.yaml", map);
	write_text(state, path, bytes);
	struct findings findings = findings_in(arena);
	enum load_status status;
	struct intake_patient patient;
	struct intake *intake = intake_open(arena, good_clinic(state), &options, &findings, &status);
	assert_non_null(intake);
	assert_int_equal(intake_count(intake), 1);
	assert_true(intake_read(intake, arena, 0, &patient, &findings));
	const char *said = patient.plan != NULL ? patient.plan->id : findings.list[0].says;
	intake_free(intake);
	return said;
}

static void the_undamaged_ones_are_plans(void **state)
{
	assert_string_equal(plan_of(state, "in.ndjson", lines), "P-1");
	assert_string_equal(plan_of(state, "in.json", bundle), "P-1");
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
		tests_add(&tests, numbers[i].name, is_kept_or_refused, &numbers[i]);
	tests_add_in_folder(&tests, "the undamaged ones are plans", the_undamaged_ones_are_plans, NULL);
	for (size_t i = 0; i < sizeof victims / sizeof *victims; i++)
		tests_add_in_folder(&tests, victims[i].name, damage_leaves_no_line_out, &victims[i]);
	return tests_run(&tests, "FHIR");
}
