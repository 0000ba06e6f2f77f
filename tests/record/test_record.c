/*
 * What a packet's code depends on and what not, when it counts as signed, and its workings as JSON.
 */
#include "load/signatures.h"
#include "record/record.h"
#include "support/clinic_files.h"

#include <jansson.h>
#include <string.h>

/* Three doses; what the folder's own protocol leaves open is not of interest here. */
#define THREE_DOSES PROTOCOL "    end: {doses: 3}\n"

struct made {
	const struct clinic *clinic;
	const struct plan *plan;
	const struct course *course;
	const struct record *record;
	struct findings findings;
};

static void three_doses(void **state)
{
	write_text(state, "clinic/protocols/p1.yaml", THREE_DOSES);
}

static struct made make(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct made made = {.findings = findings_in(arena)};
	enum load_status status;
	made.clinic = load_clinic(arena, "clinic", "data", &made.findings, &status);
	assert_non_null(made.clinic);
	made.plan = load_plan(arena, made.clinic, "plan.yaml", &made.findings, &status);
	assert_non_null(made.plan);
	made.course = course_of(arena, made.plan, &made.findings);
	assert_non_null(made.course);
	for (size_t i = 0; i < made.findings.n; i++)
		if (made.findings.list[i].level == FINDING_STOP)
			fail_msg("%s", finding_print(arena, &made.findings.list[i]));
	struct findings *findings = arena_alloc(arena, sizeof *findings);
	*findings = findings_in(arena);
	made.record = record_of(arena, made.course, findings);
	made.findings = *findings;
	return made;
}

/* ---- the code ---- */

struct code_row {
	const char *name;
	const char *path;
	const char *text;
	bool changes;
};

/* The lines are those of PLAN, one of them different. */
#define PATIENT "patient: {name: \"A B\", allergies: [none]}\n"
#define REST "language: en\nprotocol: p1\n"
#define DAYS "as_of: 2026-12-03\nevents: {go: 2026-12-04}\n"
#define MORE_PROTOCOL                                                                                    \
	"  - {id: two, medicine: examplin, at: [morning], start: {event: go, day: 3}, end: {doses: 1}, " \
	"doses: [{from: 1, dose: 250 mcg}]}\n"

static const struct code_row code_rows[] = {
	{"the same", "plan.yaml", PLAN, false},
	{"a comment", "plan.yaml", "# here\n" PLAN "# there\n", false},
	{"another order of keys", "plan.yaml",
         "events: {go: 2026-12-04}\nas_of: 2026-12-03\nprotocol: p1\nlanguage: en\n"
         "patient: {allergies: [none], name: \"A B\"}\n",
         false},
	{"other paper", "plan.yaml", PLAN "paper: letter\n", false},
	{"large print", "plan.yaml", PLAN "large_print: yes\n", false},
	{"a comment in the formulary", "clinic/formulary.yaml", "# checked\n" FORMULARY, false},
	{"a medicine that is not used", "clinic/formulary.yaml",
         FORMULARY "  - {id: other, name: Other, route: oral, limits: {least: 1 tablet, most: 1 tablet},\n"
                   "     products: [{id: other-box, container: counted, strength: 1 tablet}]}\n",
         false},
	{"a protocol that is not used", "clinic/protocols/p2.yaml",
         "protocol: p2\ntitle: {en: Two}\nevents: [{id: go, label: {en: Go}, own_day: 1}]\n"
         "items: [{id: one, medicine: examplin, at: [evening], start: {event: go, day: 1}, end: {doses: 2},\n"
         "   doses: [{from: 1, dose: 125 mcg}]}]\n",
         false},
	{"a syringe that is not used", "clinic/syringes.yaml",
         "syringes:\n  - {id: s9, name: {en: nine}, capacity: 2 mL, step: 0.1 mL, numbered_every: 0.5 mL,\n"
         "     scale_length: 40 mm, barrel: 9 mm}\n",
         false},

	{"a dose", "clinic/protocols/p1.yaml",
         "protocol: p1\ntitle: {en: One}\nevents: [{id: go, label: {en: Go}, own_day: 1}]\n"
         "items: [{id: one, medicine: examplin, at: [evening], start: {event: go, day: 1}, end: {doses: 3},\n"
         "   doses: [{from: 1, dose: 125 mcg}]}]\n",
         true},
	{"another item", "clinic/protocols/p1.yaml", THREE_DOSES MORE_PROTOCOL, true},
	{"a date", "plan.yaml", PATIENT REST "as_of: 2026-12-03\nevents: {go: 2026-12-05}\n", true},
	{"the day it speaks from", "plan.yaml", PATIENT REST "as_of: 2026-12-02\nevents: {go: 2026-12-04}\n", true},
	{"the patient's name", "plan.yaml", "patient: {name: \"A C\", allergies: [none]}\n" REST DAYS, true},
	{"the patient's birthday", "plan.yaml",
         "patient: {name: \"A B\", born: 1990-01-01, allergies: [none]}\n" REST DAYS, true},
	{"the patient's record", "plan.yaml", "patient: {name: \"A B\", record: \"7\", allergies: [none]}\n" REST DAYS,
         true},
	{"an allergy", "plan.yaml", "patient: {name: \"A B\", allergies: [latex]}\n" REST DAYS, true},
	{"the version", "plan.yaml", PLAN "version: 2\n", true},
	{"how long it is good", "plan.yaml", PLAN "good_until: 2026-12-08\n", true},
	{"what was dispensed", "plan.yaml", PLAN "dispensed: [{product: examplin-kit, count: 3}]\n", true},
	{"the zone", "plan.yaml", PLAN "zone: Europe/Lisbon\n", true},
	{"a day away", "plan.yaml",
         PLAN "away: [{from: 2026-12-06, to: 2026-12-07, zone: Europe/Lisbon, keep: clock}]\n", true},
	{"a slot's time", "clinic/clinic.yaml",
         "clinic: {en: Test Clinic}\ncountry: GB\nzone: Europe/London\nlanguages: [en]\nday_begins: \"04:00\"\n"
         "slots: {morning: \"08:00\", evening: \"21:00\"}\nphones: [{id: day, label: {en: Day}, number: \"000\"}]\n",
         true},
	{"a telephone number", "clinic/clinic.yaml",
         "clinic: {en: Test Clinic}\ncountry: GB\nzone: Europe/London\nlanguages: [en]\nday_begins: \"04:00\"\n"
         "slots: {morning: \"08:00\", evening: \"20:00\"}\nphones: [{id: day, label: {en: Day}, number: \"001\"}]\n",
         true},
	{"the words on missed doses of a medicine that is used", "clinic/formulary.yaml",
         "medicines:\n  - id: examplin\n    name: Examplin\n    route: subcutaneous\n    missed: {en: Call.}\n"
         "    limits: {least: 125 mcg, most: 250 mcg}\n    products:\n      - id: examplin-kit\n"
         "        container: powder-vial\n        strength: 250 mcg\n"
         "        diluent: {name: {en: water}, supplied: 1 mL, use: 1 mL, comes_as: syringe}\n        syringe: t1\n",
         true},
};

static void a_code_follows_the_meaning(void **state)
{
	const struct code_row *row = case_of(state)->row;
	three_doses(state);
	const char *before = make(state).record->code;
	write_text(state, row->path, row->text);
	const char *after = make(state).record->code;
	if (row->changes)
		assert_string_not_equal(before, after);
	else
		assert_string_equal(before, after);
}

/* The same sheet in another language keeps its code; the clinic's texts are in it in every language. */
static void a_language_changes_no_code(void **state)
{
	static const char clinic[] =
		"clinic: {en: Test Clinic, de: Klinik}\ncountry: GB\nzone: Europe/London\nlanguages: [en, de]\n"
		"day_begins: \"04:00\"\nslots: {morning: \"08:00\", evening: \"20:00\"}\n"
		"phones: [{id: day, label: {en: Day, de: Tag}, number: \"000\"}]\n";
	write_text(
		state, "clinic/protocols/p1.yaml",
		"protocol: p1\ntitle: {en: One, de: Eins}\nevents: [{id: go, label: {en: Go, de: Los}, own_day: 1}]\n"
		"items: [{id: one, medicine: examplin, at: [evening], start: {event: go, day: 1}, end: {doses: 3},\n"
		"   doses: [{from: 1, dose: 125 mcg}]}]\n");
	write_text(state, "clinic/formulary.yaml",
	           "medicines:\n  - id: examplin\n    name: Examplin\n    route: subcutaneous\n"
	           "    limits: {least: 125 mcg, most: 250 mcg}\n    products:\n      - id: examplin-kit\n"
	           "        container: powder-vial\n        strength: 250 mcg\n"
	           "        diluent: {name: {en: water, de: Wasser}, supplied: 1 mL, use: 1 mL, comes_as: syringe}\n"
	           "        syringe: t1\n");
	write_text(state, "data/templates/syringes.yaml",
	           "syringes:\n  - {id: t1, name: {en: small, de: klein}, capacity: 1 mL, step: 0.01 mL,\n"
	           "     numbered_every: 0.1 mL, scale_length: 57 mm, barrel: 6.5 mm}\n");
	write_text(state, "clinic/clinic.yaml", clinic);
	write_text(state, "data/templates/words/de.yaml", "language: de\nwords:\n  hello: \"Hallo {name}\"\n");
	const char *english = make(state).record->code;
	write_text(state, "plan.yaml", PATIENT "language: de\nprotocol: p1\n" DAYS);
	assert_string_equal(make(state).record->code, english);
}

/* ---- why it is a new version ---- */

#define CHANGED(why) PLAN "changes: [{item: one, from: 2026-12-05, dose: 250 mcg, because: {en: " why "}}]\n"
#define REPLACES(why) PLAN "version: 2\nreplaces: {code: K7Q4-MX2T-9, because: {en: " why "}}\n"
#define BY_CALL(words) PLAN "doses: {one: [{from: 2, dose: {call: {en: " words "}}}]}\n"

static const char *code_of_plan(void **state, const char *plan)
{
	write_text(state, "plan.yaml", plan);
	return make(state).record->code;
}

/* The notice of a change and the sheet print these words, so other words are another sheet. */
static void a_code_follows_the_words_of_the_plan(void **state)
{
	three_doses(state);
	assert_string_equal(code_of_plan(state, CHANGED("Scan")), code_of_plan(state, CHANGED("Scan")));
	assert_string_not_equal(code_of_plan(state, CHANGED("Scan")), code_of_plan(state, CHANGED("Test")));
	assert_string_not_equal(code_of_plan(state, REPLACES("Scan")), code_of_plan(state, REPLACES("Test")));
	write_text(state, "clinic/protocols/p1.yaml",
	           "protocol: p1\ntitle: {en: One}\nevents: [{id: go, label: {en: Go}, own_day: 1}]\n"
	           "items: [{id: one, medicine: examplin, at: [evening], start: {event: go, day: 1}, end: {doses: 3},\n"
	           "   doses: [{from: 1, dose: 250 mcg}, {from: 2, dose: plan}]}]\n");
	assert_string_not_equal(code_of_plan(state, BY_CALL("We call")), code_of_plan(state, BY_CALL("We write")));
}

/* A line break in a name must not make two facts of one. */
static void a_fact_is_one_line(void **state)
{
	three_doses(state);
	write_text(state, "plan.yaml", "patient: {name: \"A B\", record: \"7=8\\\\9\", allergies: [none]}\n" REST DAYS);
	struct made made = make(state);
	assert_non_null(strstr(made.record->content, "\npatient.record=7=8\\\\9\n"));
	assert_null(strstr(made.record->content, "\n\n"));
	assert_null(strstr(made.record->content, "en: Test"));
	assert_int_equal(strlen(made.record->digest), 64);
}

/* ---- signing ---- */

static void sign(void **state, const struct seal *seal, const char *who, const char *when)
{
	struct findings findings = findings_in(case_of(state)->arena);
	assert_true(signatures_append(case_of(state)->arena, "clinic", seal, 1, who, when, &findings));
}

static void sign_entry(void **state, const char *kind, const char *id, const char *when)
{
	const struct seal *seal = clinic_seal(make(state).clinic, kind, id);
	assert_non_null(seal);
	sign(state, seal, "Pharmacist", when);
}

static void sign_plan(void **state, const char *who, const char *when)
{
	struct seal seal = plan_seal(make(state).plan);
	sign(state, &seal, who, when);
}

static void sign_all(void **state)
{
	sign_entry(state, "clinic", "clinic.yaml", "2026-11-19");
	sign_entry(state, "medicine", "examplin", "2026-11-20");
	sign_entry(state, "protocol", "p1", "2026-11-21");
	sign_plan(state, "Nurse", "2026-11-23");
	sign_plan(state, "Doctor", "2026-11-22");
}

static const char *codes_of(struct arena *arena, const struct findings *findings)
{
	const char *codes = "";
	for (size_t i = 0; i < findings->n; i++)
		codes = arena_printf(arena, "%s%s %s\n", codes, finding_level_name(findings->list[i].level),
		                     findings->list[i].code);
	return codes;
}

static void nothing_signed_is_a_draft(void **state)
{
	three_doses(state);
	struct made made = make(state);
	assert_false(made.record->is_signed);
	assert_null(made.record->signed_on);
	assert_null(made.record->ordered_by);
	assert_null(made.record->checked_by);
	/* The plan, the clinic, the protocol, the medicine; a syringe that the program brings needs no signature. */
	assert_string_equal(codes_of(case_of(state)->arena, &made.findings),
	                    "caution seal-missing\ncaution seal-missing\ncaution seal-missing\ncaution "
	                    "seal-missing\n");
}

static void one_signer_is_a_draft(void **state)
{
	three_doses(state);
	sign_entry(state, "clinic", "clinic.yaml", "2026-11-20");
	sign_entry(state, "medicine", "examplin", "2026-11-20");
	sign_entry(state, "protocol", "p1", "2026-11-20");
	sign_plan(state, "Nurse", "2026-11-20");
	struct made made = make(state);
	assert_false(made.record->is_signed);
	assert_null(made.record->signed_on);
	assert_string_equal(made.record->ordered_by, "Nurse");
	assert_null(made.record->checked_by);
	assert_string_equal(codes_of(case_of(state)->arena, &made.findings), "caution seal-missing\n");
	assert_non_null(strstr(made.findings.list[0].says, "signed by one person"));
}

static void one_signer_twice_is_one(void **state)
{
	three_doses(state);
	sign_entry(state, "clinic", "clinic.yaml", "2026-11-20");
	sign_entry(state, "medicine", "examplin", "2026-11-20");
	sign_entry(state, "protocol", "p1", "2026-11-20");
	sign_plan(state, "Nurse", "2026-11-20");
	sign_plan(state, "Nurse", "2026-11-21");
	struct made made = make(state);
	assert_false(made.record->is_signed);
	assert_null(made.record->checked_by);
}

static void two_signers_sign(void **state)
{
	three_doses(state);
	sign_all(state);
	struct made made = make(state);
	assert_true(made.record->is_signed);
	assert_string_equal(made.record->signed_on, "2026-11-23");
	assert_string_equal(made.record->ordered_by, "Nurse");
	assert_string_equal(made.record->checked_by, "Doctor");
	assert_int_equal(made.findings.n, 0);
}

struct broken_row {
	const char *name;
	const char *path;
	const char *text;
	const char *entry;
};

static const struct broken_row broken_rows[] = {
	{"a medicine changed", "clinic/formulary.yaml", FORMULARY "        hold: 10 s\n", "the medicine 'examplin'"},
	{"the clinic changed", "clinic/clinic.yaml", CLINIC "emergency: {en: Call the night line}\n",
         "the clinic 'clinic.yaml'"},
	{"a protocol changed", "clinic/protocols/p1.yaml", THREE_DOSES MORE_PROTOCOL, "the protocol 'p1'"},
	{"a plan changed", "plan.yaml", PATIENT REST "as_of: 2026-12-03\nevents: {go: 2026-12-05}\n",
         "the plan 'plan'"},
};

static void a_change_breaks_the_seal(void **state)
{
	const struct broken_row *row = case_of(state)->row;
	three_doses(state);
	sign_all(state);
	write_text(state, row->path, row->text);
	struct made made = make(state);
	assert_false(made.record->is_signed);
	assert_string_equal(codes_of(case_of(state)->arena, &made.findings), "caution seal-broken\n");
	assert_non_null(strstr(made.findings.list[0].says, row->entry));
}

/* What a clinic adds of its own needs a signature once a packet uses it, and only then. */
struct added_row {
	const char *name;
	const char *path;
	const char *text;
	const char *kind; /* NULL: needs none */
	const char *id;
};

#define OWN_SYRINGE                                                                                         \
	"syringes:\n  - {id: t1, name: {en: own}, capacity: 1 mL, step: 0.01 mL, numbered_every: 0.1 mL,\n" \
	"     scale_length: 50 mm, barrel: 6 mm}\n"

static const struct added_row added_rows[] = {
	{"a syringe of its own that is used", "clinic/syringes.yaml", OWN_SYRINGE, "syringe", "t1"},
	{"a syringe of its own that is not used", "clinic/syringes.yaml",
         "syringes:\n  - {id: s9, name: {en: nine}, capacity: 2 mL, step: 0.1 mL, numbered_every: 0.5 mL,\n"
         "     scale_length: 40 mm, barrel: 9 mm}\n",
         NULL, NULL},
	{"words of its own", "clinic/words/en.yaml", "language: en\nwords:\n  hello: \"Dear {name}\"\n", "words", "en"},
	{"steps of its own", "clinic/templates/steps/powder-vial.yaml",
         "technique: powder-vial\nlay_out: [vial]\nsteps:\n  - {id: wash, picture: wash-hands, side: first}\n", "steps",
         "powder-vial"},
	{"steps of its own that are not used", "clinic/templates/steps/other.yaml",
         "technique: other\nlay_out: [vial]\nsteps:\n  - {id: wash, picture: wash-hands, side: first}\n", NULL, NULL},
	{"an order of pages of its own", "clinic/templates/pages.yaml", "order: [grid, overview, check]\n", "pages",
         "order"},
	{"a medicine that is not used", "clinic/formulary.yaml",
         FORMULARY "  - {id: other, name: Other, route: oral, limits: {least: 1 tablet, most: 1 tablet},\n"
                   "     products: [{id: other-box, container: counted, strength: 1 tablet}]}\n",
         NULL, NULL},
};

static void an_addition_needs_a_signature(void **state)
{
	const struct added_row *row = case_of(state)->row;
	three_doses(state);
	sign_all(state);
	write_text(state, row->path, row->text);
	/* A syringe of one's own under a built-in name is another syringe to the medicine: signed anew here. */
	if (row->kind != NULL && strcmp(row->kind, "syringe") == 0) {
		sign_entry(state, "medicine", "examplin", "2026-11-24");
		sign_entry(state, "protocol", "p1", "2026-11-24");
		sign_plan(state, "Nurse", "2026-11-24");
		sign_plan(state, "Doctor", "2026-11-24");
	}
	struct made made = make(state);
	assert_int_equal(made.record->is_signed, row->kind == NULL);
	if (row->kind == NULL) {
		assert_int_equal(made.findings.n, 0);
		return;
	}
	assert_string_equal(codes_of(case_of(state)->arena, &made.findings), "caution seal-missing\n");
	sign_entry(state, row->kind, row->id, "2026-11-25");
	made = make(state);
	assert_true(made.record->is_signed);
	assert_string_equal(made.record->signed_on, "2026-11-25");
}

/* What is counted out has steps of its own too. */
static void steps_of_a_counted_form_need_a_signature(void **state)
{
	three_doses(state);
	write_text(state, "clinic/formulary.yaml",
	           "medicines:\n  - {id: examplin, name: Examplin, route: oral, limits: {least: 1 tablet, most: 2 "
	           "tablets},\n"
	           "     products: [{id: box, container: counted, strength: 1 tablet}]}\n");
	write_text(state, "clinic/protocols/p1.yaml",
	           "protocol: p1\ntitle: {en: One}\nevents: [{id: go, label: {en: Go}, own_day: 1}]\n"
	           "items: [{id: one, medicine: examplin, at: [evening], start: {event: go, day: 1}, end: {doses: 3},\n"
	           "   doses: [{from: 1, dose: 1 tablet}]}]\n");
	sign_all(state);
	assert_true(make(state).record->is_signed);
	write_text(state, "clinic/templates/steps/counted-tablet.yaml",
	           "technique: counted-tablet\nsteps:\n  - {id: wash, picture: wash-hands, side: first}\n");
	struct made made = make(state);
	assert_false(made.record->is_signed);
	assert_string_equal(codes_of(case_of(state)->arena, &made.findings), "caution seal-missing\n");
}

/* ---- workings ---- */

static json_t *workings(void **state)
{
	json_error_t error;
	const char *text = record_workings_json(case_of(state)->arena, make(state).record);
	assert_int_equal(text[strlen(text) - 1], '\n');
	json_t *object = json_loads(text, JSON_REJECT_DUPLICATES, &error);
	if (object == NULL)
		fail_msg("%s", error.text);
	return object;
}

static void keys_are(const json_t *object, const char *const *keys, size_t n)
{
	assert_true(json_is_object(object));
	assert_int_equal(json_object_size(object), n);
	for (size_t i = 0; i < n; i++)
		if (json_object_get(object, keys[i]) == NULL)
			fail_msg("there is no '%s'", keys[i]);
}

#define KEYS_ARE(object, ...)                                       \
	do {                                                        \
		static const char *const keys[] = {__VA_ARGS__};    \
		keys_are(object, keys, sizeof keys / sizeof *keys); \
	} while (0)

static const char *text_at(const json_t *object, const char *key)
{
	const char *text = json_string_value(json_object_get(object, key));
	return text == NULL ? "(null)" : text;
}

static void workings_have_the_keys_of_the_model(void **state)
{
	three_doses(state);
	write_text(state, "plan.yaml", PLAN "dispensed: [{product: examplin-kit, count: 4}]\n");
	json_t *object = workings(state);
	KEYS_ARE(object, "plan", "code", "state", "doses", "supplies", "findings");
	assert_string_equal(text_at(object, "plan"), "plan");
	assert_string_equal(text_at(object, "state"), "draft");
	assert_int_equal(strlen(text_at(object, "code")), 11);

	const json_t *dose = json_array_get(json_object_get(object, "doses"), 1);
	KEYS_ARE(dose, "item", "n", "date", "time", "dose", "given", "draws");
	assert_string_equal(text_at(dose, "item"), "one");
	assert_int_equal(json_integer_value(json_object_get(dose, "n")), 2);
	assert_string_equal(text_at(dose, "date"), "2026-12-05");
	assert_string_equal(text_at(dose, "time"), "20:00");
	assert_string_equal(text_at(dose, "dose"), "250 mcg");
	assert_string_equal(text_at(dose, "given"), "250 mcg");

	const json_t *draw = json_array_get(json_object_get(dose, "draws"), 0);
	KEYS_ARE(draw, "syringe", "line", "volume", "volume_exact", "mark", "concentration", "containers");
	assert_string_equal(text_at(draw, "syringe"), "t1");
	assert_string_equal(text_at(draw, "line"), "draw");
	assert_string_equal(text_at(draw, "volume"), "1 mL");
	assert_string_equal(text_at(draw, "volume_exact"), "1/1");
	assert_string_equal(text_at(draw, "mark"), "all");
	assert_string_equal(text_at(draw, "concentration"), "250 mcg/mL");

	const json_t *container = json_array_get(json_object_get(draw, "containers"), 0);
	KEYS_ARE(container, "product", "number", "takes", "leaves", "then");
	assert_string_equal(text_at(container, "product"), "examplin-kit");
	assert_int_equal(json_integer_value(json_object_get(container, "number")), 2);
	assert_string_equal(text_at(container, "takes"), "250 mcg");
	assert_string_equal(text_at(container, "leaves"), "0 mcg");
	assert_string_equal(text_at(container, "then"), "discard");

	const json_t *supply = json_array_get(json_object_get(object, "supplies"), 0);
	KEYS_ARE(supply, "product", "needed", "dispensed", "to_get", "discarded");
	assert_int_equal(json_integer_value(json_object_get(supply, "dispensed")), 4);
	assert_string_equal(text_at(supply, "discarded"), "0 mcg");

	const json_t *finding = json_array_get(json_object_get(object, "findings"), 0);
	KEYS_ARE(finding, "level", "code", "file", "line", "column", "says");
	json_decref(object);
}

/* 125 of 250 mcg in 1 mL is half a mL; the rest of a single-use vial is thrown away. */
static void a_part_has_its_mark(void **state)
{
	three_doses(state);
	write_text(state, "clinic/protocols/p1.yaml",
	           "protocol: p1\ntitle: {en: One}\nevents: [{id: go, label: {en: Go}, own_day: 1}]\n"
	           "items: [{id: one, medicine: examplin, at: [evening], start: {event: go, day: 1}, end: {doses: 2},\n"
	           "   doses: [{from: 1, dose: 125 mcg}]}]\n");
	json_t *object = workings(state);
	assert_int_equal(json_array_size(json_object_get(object, "doses")), 2);
	const json_t *dose = json_array_get(json_object_get(object, "doses"), 0);
	const json_t *draw = json_array_get(json_object_get(dose, "draws"), 0);
	assert_string_equal(text_at(draw, "mark"), "0.5 mL");
	assert_string_equal(text_at(draw, "volume_exact"), "1/2");
	const json_t *container = json_array_get(json_object_get(draw, "containers"), 0);
	assert_string_equal(text_at(container, "leaves"), "125 mcg");
	assert_string_equal(text_at(container, "then"), "discard");
	const json_t *supply = json_array_get(json_object_get(object, "supplies"), 0);
	assert_int_equal(json_integer_value(json_object_get(supply, "needed")), 2);
	assert_int_equal(json_integer_value(json_object_get(supply, "to_get")), 2);
	assert_string_equal(text_at(supply, "discarded"), "250 mcg");
	json_decref(object);
}

static void an_open_dose_has_a_day_and_no_date(void **state)
{
	three_doses(state);
	write_text(state, "plan.yaml", PATIENT REST "as_of: 2026-12-03\n");
	json_t *object = workings(state);
	const json_t *dose = json_array_get(json_object_get(object, "doses"), 2);
	KEYS_ARE(dose, "item", "n", "date", "day", "time", "dose", "given", "draws");
	assert_true(json_is_null(json_object_get(dose, "date")));
	assert_int_equal(json_integer_value(json_object_get(dose, "day")), 3);
	json_decref(object);
}

static void a_signed_plan_says_so(void **state)
{
	three_doses(state);
	sign_all(state);
	json_t *object = workings(state);
	assert_string_equal(text_at(object, "state"), "signed");
	assert_int_equal(json_array_size(json_object_get(object, "findings")), 0);
	json_decref(object);
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof code_rows / sizeof *code_rows; i++)
		tests_add_in_folder(&tests, code_rows[i].name, a_code_follows_the_meaning, &code_rows[i]);
	tests_add_in_folder(&tests, "a code follows the words of the plan", a_code_follows_the_words_of_the_plan, NULL);
	tests_add_in_folder(&tests, "a language changes no code", a_language_changes_no_code, NULL);
	tests_add_in_folder(&tests, "a fact is one line", a_fact_is_one_line, NULL);
	tests_add_in_folder(&tests, "nothing signed", nothing_signed_is_a_draft, NULL);
	tests_add_in_folder(&tests, "one signer", one_signer_is_a_draft, NULL);
	tests_add_in_folder(&tests, "one signer twice", one_signer_twice_is_one, NULL);
	tests_add_in_folder(&tests, "two signers", two_signers_sign, NULL);
	for (size_t i = 0; i < sizeof broken_rows / sizeof *broken_rows; i++)
		tests_add_in_folder(&tests, broken_rows[i].name, a_change_breaks_the_seal, &broken_rows[i]);
	for (size_t i = 0; i < sizeof added_rows / sizeof *added_rows; i++)
		tests_add_in_folder(&tests, added_rows[i].name, an_addition_needs_a_signature, &added_rows[i]);
	tests_add_in_folder(&tests, "steps of a counted form", steps_of_a_counted_form_need_a_signature, NULL);
	tests_add_in_folder(&tests, "workings have the keys of the model", workings_have_the_keys_of_the_model, NULL);
	tests_add_in_folder(&tests, "a part has its mark", a_part_has_its_mark, NULL);
	tests_add_in_folder(&tests, "an open dose has a day and no date", an_open_dose_has_a_day_and_no_date, NULL);
	tests_add_in_folder(&tests, "a signed plan says so", a_signed_plan_says_so, NULL);
	return tests_run(&tests, "record");
}
