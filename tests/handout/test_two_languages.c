/*
 * A clinic with two languages, and a vial of measured liquid that serves two days.
 *
 * The second language is the English wording with three titles changed: enough to see which speaker said what.
 */
#include "handout/handout.h"
#include "support/clinic_files.h"

#include <glib.h>
#include <string.h>

#define TWO_LANGUAGES                                                               \
	"clinic: {en: Test Clinic, de: Klinik}\ncountry: GB\nzone: Europe/London\n" \
	"languages: [en, de]\nday_begins: \"04:00\"\n"                              \
	"slots: {morning: \"08:00\", evening: \"20:00\"}\n"                         \
	"phones: [{id: day, label: {en: Day, de: Tag}, number: \"000\"}]\n"
#define SHARED                                                                                               \
	"medicines:\n  - id: examplin\n    name: Examplin\n    route: subcutaneous\n"                        \
	"    limits: {least: 125 mcg, most: 250 mcg}\n    products:\n      - id: examplin-kit\n"             \
	"        container: powder-vial\n        strength: 250 mcg\n"                                        \
	"        diluent: {name: {en: water, de: Wasser}, supplied: 2 mL, use: 0.5 mL, comes_as: ampoule}\n" \
	"        displacement: 0 mL\n        draw_with: own\n        syringe: t1\n"                          \
	"        share: {policy: P-1, keep: 26 h, where: fridge, how: vial}\n"
#define HALVES                                                                                                \
	"protocol: p1\ntitle: {en: One, de: Eins}\n"                                                          \
	"events: [{id: go, label: {en: Go, de: Los}, own_day: 1}]\n"                                          \
	"items: [{id: one, medicine: examplin, at: [evening], start: {event: go, day: 1}, end: {doses: 4},\n" \
	"   doses: [{from: 1, dose: 125 mcg, split: yes}]}]\n"
#define GERMAN_PLAN                                                                 \
	"patient: {name: \"A B\", allergies: [none]}\nlanguage: de\nprotocol: p1\n" \
	"as_of: 2026-12-03\nevents: {go: 2026-12-04}\n"

struct spoken {
	struct arena *arena;
	const struct handout *handout;
	struct speaker *speaker;
	struct speaker *staff;
};

/* Where the tests began: there are the templates that the program brings. */
static const char *data_folder(void **state)
{
	const char *folder = case_of(state)->row;
	return folder;
}

static void write_german_words(void **state)
{
	static const struct {
		const char *english;
		const char *german;
	} changes[] = {
		{"language: en\n", "language: de\n"},
		{"overview.title: \"Your injection plan\"", "overview.title: \"Ihr Spritzenplan\""},
		{"check.title: \"Check page\"", "check.title: \"Pruefseite\""},
		{"running.staff: \"For clinic staff. Not for the patient.\"", "running.staff: \"Fuer die Klinik.\""}};
	struct arena *arena = case_of(state)->arena;
	char *text;
	assert_true(g_file_get_contents(arena_printf(arena, "%s/templates/words/en.yaml", data_folder(state)), &text,
	                                NULL, NULL));
	GString *words = g_string_new(text);
	for (size_t i = 0; i < sizeof changes / sizeof *changes; i++)
		assert_int_equal(g_string_replace(words, changes[i].english, changes[i].german, 1), 1);
	write_text(state, "clinic/words/de.yaml", words->str);
	g_string_free(words, TRUE);
	g_free(text);
}

static struct spoken open_handout(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings *findings = arena_alloc(arena, sizeof *findings);
	enum load_status status;
	*findings = findings_in(arena);
	write_german_words(state);
	write_text(state, "clinic/clinic.yaml", TWO_LANGUAGES);
	write_text(state, "clinic/formulary.yaml", SHARED);
	write_text(state, "clinic/protocols/p1.yaml", HALVES);
	write_text(state, "clinic/syringes.yaml",
	           "syringes:\n  - {id: t1, name: {en: small, de: klein}, capacity: 1 mL, step: 0.01 mL,\n"
	           "     numbered_every: 0.1 mL, scale_length: 57 mm, barrel: 6.5 mm, measured: yes}\n");
	write_text(state, "plan.yaml", GERMAN_PLAN);
	const struct clinic *clinic = load_clinic(arena, "clinic", data_folder(state), findings, &status);
	const struct plan *plan = clinic == NULL ? NULL : load_plan(arena, clinic, "plan.yaml", findings, &status);
	const struct course *course = plan == NULL ? NULL : course_of(arena, plan, findings);
	for (size_t i = 0; i < findings->n; i++)
		if (findings->list[i].level == FINDING_STOP)
			fail_msg("%s", finding_print(arena, &findings->list[i]));
	struct spoken spoken = {.arena = arena};
	const struct record *record = record_of(arena, course, findings);
	spoken.speaker = speaker_new(arena, clinic, plan->language, findings);
	spoken.staff = speaker_new(arena, clinic, clinic->languages[0], findings);
	struct handout_options options = {plan->language, PAPER_A4, false, false};
	spoken.handout = handout_of(arena, record, options, spoken.speaker, spoken.staff, findings);
	assert_int_equal(findings_count(findings, FINDING_STOP), 0);
	return spoken;
}

static void close_handout(struct spoken *spoken)
{
	speaker_free(spoken->speaker);
	speaker_free(spoken->staff);
}

static void staff_pages_are_in_the_first_language(void **state)
{
	struct spoken spoken = open_handout(state);
	const struct handout *handout = spoken.handout;
	size_t staff = 0;
	assert_string_equal(handout->language, "de");
	assert_string_equal(handout->sections[0].title, "Ihr Spritzenplan");
	assert_string_equal(handout->running.patient, "A B · Klinik");
	assert_string_equal(handout->staff_running.patient, "A B · Test Clinic");
	assert_string_equal(handout->staff_running.staff_line, "For clinic staff. Not for the patient.");
	for (size_t i = 0; i < handout->n_sections; i++) {
		if (!handout->sections[i].staff)
			continue;
		assert_string_equal(handout->sections[i].title, staff++ == 0 ? "Check page" : "Show me");
	}
	assert_int_equal(staff, 2);
	close_handout(&spoken);
}

/* The liquid is added once a vial: still both days are drawn to one line, on one sheet, with one page for the vial. */
static void both_halves_of_measured_liquid_share_a_sheet(void **state)
{
	struct spoken spoken = open_handout(state);
	size_t medicines = 0;
	size_t splits = 0;
	for (size_t i = 0; i < spoken.handout->n_sections; i++) {
		const struct section *section = &spoken.handout->sections[i];
		if (section->kind == SECTION_MEDICINE) {
			medicines++;
			assert_true(section->medicine->has_add);
			assert_string_equal(mark_words_plain(spoken.arena, section->medicine->mark), "0.25\u00a0mL");
			assert_string_equal(mark_words_plain(spoken.arena, section->medicine->add),
			                    "add\u00a00.5\u00a0mL");
		}
		if (section->kind == SECTION_SPLIT) {
			splits++;
			assert_int_equal(section->split->n_labels, 2);
		}
	}
	assert_int_equal(medicines, 1);
	assert_int_equal(splits, 1);
	close_handout(&spoken);
}

int main(void)
{
	struct tests tests = {0};
	char *here = g_get_current_dir();
	tests_add_in_folder(&tests, "staff pages are in the first language", staff_pages_are_in_the_first_language,
	                    here);
	tests_add_in_folder(&tests, "both halves of measured liquid share a sheet",
	                    both_halves_of_measured_liquid_share_a_sheet, here);
	int failed = tests_run(&tests, "two_languages");
	g_free(here);
	return failed;
}
