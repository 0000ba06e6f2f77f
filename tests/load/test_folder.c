/*
 * Which files make a folder, which may lack, what is laid over what, and what is the system's fault.
 */
#include "support/clinic_files.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static void expect(void **state, enum load_status expected, const char *said)
{
	enum load_status status;
	assert_string_equal(what_is_said(state, &status), said);
	assert_int_equal(status, expected);
}

static void what_must_be_there(void **state)
{
	remove_file("plan.yaml");
	expect(state, LOAD_FAILED,
	       "plan.yaml: stop: cannot read this file: No such file or directory; is the name right? "
	       "[file-unreadable]\n");
	remove_file("clinic/clinic.yaml");
	expect(state, LOAD_FAILED,
	       "clinic/clinic.yaml: stop: cannot read this file: No such file or directory; is the name right? "
	       "[file-unreadable]\n");
	remove_file("clinic/formulary.yaml");
	expect(state, LOAD_FAILED,
	       "clinic/clinic.yaml: stop: cannot read this file: No such file or directory; is the name right? "
	       "[file-unreadable]\n"
	       "clinic/formulary.yaml: stop: cannot read this file: No such file or directory; is the name right? "
	       "[file-unreadable]\n");
}

static void a_folder_is_no_file(void **state)
{
	remove_file("plan.yaml");
	assert_int_equal(mkdir("plan.yaml", 0700), 0);
	expect(state, LOAD_FAILED,
	       "plan.yaml: stop: cannot read this file: Is a directory; a file belongs here [file-unreadable]\n");
	assert_int_equal(rmdir("plan.yaml"), 0);
}

/* Nobody writes into it: to open it as a file would wait for ever. */
static void a_pipe_is_no_file(void **state)
{
	remove_file("plan.yaml");
	assert_int_equal(mkfifo("plan.yaml", 0600), 0);
	expect(state, LOAD_FAILED,
	       "plan.yaml: stop: cannot read this file: it is a pipe or a device; save what it says as a file "
	       "[file-unreadable]\n");
	remove_file("plan.yaml");
}

static void a_file_is_no_folder(void **state)
{
	write_text(state, "clinic/words", "x");
	expect(state, LOAD_FAILED,
	       "clinic/words/en.yaml: stop: cannot read this file: Not a directory; is the name right? "
	       "[file-unreadable]\n");
	remove_file("clinic/words");
	write_text(state, "clinic/templates/steps", "x");
	expect(state, LOAD_FAILED,
	       "clinic/templates/steps: stop: cannot read this folder: Not a directory [file-unreadable]\n");
	remove_file("clinic/templates/steps");
}

/* The folder's languages are en alone: words of another one are not read, which nobody would notice. */
static void words_of_no_language_are_said(void **state)
{
	write_text(state, "clinic/words/fr.yaml", "language: fr\nwords: {hello: Salut}\n");
	expect(state, LOAD_GOOD,
	       "clinic/words/fr.yaml: caution: this file is not read, as 'fr' is none of clinic.yaml's "
	       "'languages'; add it there, or move the file away [words-unread]\n");
}

/* The system's fault is worse than the writer's, and both are said. */
static void both_faults_are_said(void **state)
{
	write_text(state, "clinic/formulary.yaml", FORMULARY "        mix: swril\n");
	remove_file("clinic/clinic.yaml");
	expect(state, LOAD_FAILED,
	       "clinic/clinic.yaml: stop: cannot read this file: No such file or directory; is the name right? "
	       "[file-unreadable]\n"
	       "clinic/formulary.yaml:12:14: stop: 'swril' is not known here; did you mean 'swirl'? [unknown-word]\n");
}

/* A fault in one file makes no faults in those that refer to it. */
static void faults_do_not_spread(void **state)
{
	write_text(state, "clinic/clinic.yaml", "clinic: [\n");
	write_text(state, "clinic/formulary.yaml", "medicines: [\n");
	write_text(state, "clinic/syringes.yaml", "syringes: [\n");
	expect(state, LOAD_REFUSED,
	       "clinic/syringes.yaml:2:1: stop: a value is missing before this [not-yaml]\n"
	       "clinic/clinic.yaml:2:1: stop: a value is missing before this [not-yaml]\n"
	       "clinic/formulary.yaml:2:1: stop: a value is missing before this [not-yaml]\n");
}

/* What may lack is missed by nobody: a file of another ending would be left out without a word. */
static void another_ending_is_said(void **state)
{
	static const char *const names[] = {"clinic/syringes.yml", "clinic/words/en.yml", "clinic/templates/pages.yml"};
	for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
		write_text(state, names[i], "x: y\n");
		expect(state, LOAD_REFUSED,
		       arena_printf(
			       case_of(state)->arena,
			       "%s: stop: this file is not read, as its name does not end in '.yaml'; rename it, or "
			       "move it away [wrong-ending]\n",
			       names[i]));
		remove_file(names[i]);
	}
}

static void findings_before_are_no_fault_of_these(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	enum load_status status;
	findings_add(&findings, FINDING_STOP, "usage", (struct place){0}, "something else");
	assert_non_null(load_clinic(arena, "clinic", "data", &findings, &status));
	assert_int_equal(status, LOAD_GOOD);
}

static void syringes_of_its_own_come_first(void **state)
{
	const struct clinic *clinic = good_clinic(state);
	assert_int_equal(clinic->n_stock, 1);
	assert_string_equal(clinic->stock[0]->id, "t1");
	assert_true(clinic->stock[0]->built_in);
	write_text(state, "clinic/syringes.yaml",
	           "syringes:\n"
	           "  - {id: own, name: {en: own}, capacity: 2 mL, step: 0.1 mL, numbered_every: 1 mL, scale_length: 5 "
	           "cm, barrel: 9 mm}\n"
	           "  - {id: t1, name: {en: own}, capacity: 1 mL, step: 0.02 mL, numbered_every: 0.1 mL, scale_length: "
	           "58 mm, barrel: 7 mm, measured: yes}\n");
	clinic = good_clinic(state);
	assert_int_equal(clinic->n_syringes, 3);
	assert_int_equal(clinic->n_stock, 2);
	assert_string_equal(clinic->stock[0]->id, "own");
	assert_true(clinic_syringe(clinic, "t1")->measured);
	assert_ptr_equal(clinic->medicines[0].products[0].syringe, clinic_syringe(clinic, "t1"));
}

/* Without a stock of its own, only plain built-in syringes in mL are picked from. */
static void the_usual_stock_is_plain(void **state)
{
	write_text(state, "data/templates/syringes.yaml",
	           "syringes:\n"
	           "  - {id: t1, name: {en: t}, capacity: 1 mL, step: 0.1 mL, numbered_every: 1 mL, scale_length: 5 "
	           "cm, barrel: 9 mm}\n"
	           "  - {id: u, name: {en: u}, capacity: 1 mL, step: 2, numbered_every: 10, scale: {units_per_mL: 100, "
	           "name: {en: i}}, scale_length: 58 mm, barrel: 7 mm}\n"
	           "  - {id: f, name: {en: f}, capacity: 1 mL, step: 0.1 mL, numbered_every: 1 mL, needle: fixed, "
	           "scale_length: 5 cm, barrel: 9 mm}\n");
	const struct clinic *clinic = good_clinic(state);
	assert_int_equal(clinic->n_stock, 1);
	assert_string_equal(clinic->stock[0]->id, "t1");
}

static const char *said_in(const struct wording *wording, const char *key, const char *form)
{
	const struct message *message = wording_find(wording, key);
	for (size_t i = 0; message && i < message->n_forms; i++)
		if (strcmp(message->forms[i].form, form) == 0)
			return message->forms[i].text;
	return "not said";
}

static void words_are_laid_over_words(void **state)
{
	const struct wording *words = clinic_words(good_clinic(state), "en");
	assert_string_equal(said_in(words, "hello", "other"), "Hello {name}");
	assert_string_equal(said_in(words, "days", "one"), "{n} day");
	assert_string_equal(said_in(words, "days", "other"), "{n} days");
	write_text(state, "clinic/words/en.yaml", "language: en\nwords: {hello: \"Good day {name}\"}\n");
	words = clinic_words(good_clinic(state), "en");
	assert_int_equal(words->n, 2);
	assert_true(words->clinic_over);
	assert_string_equal(said_in(words, "hello", "other"), "Good day {name}");
	assert_string_equal(said_in(words, "days", "one"), "{n} day");
}

/* A language that only the clinic speaks is held against the program's English. */
static void a_language_of_its_own(void **state)
{
	struct arena *arena = case_of(state)->arena;
	write_text(
		state, "clinic/clinic.yaml",
		"clinic: {en: T, cy: T}\ncountry: GB\nzone: Europe/London\nlanguages: [en, cy]\nday_begins: \"04:00\"\n"
		"slots: {evening: \"20:00\"}\nphones: [{id: day, label: {en: D}, number: \"0\"}]\n");
	assert_null(clinic_words(good_clinic(state), "cy"));
	write_text(state, "plan.yaml",
	           "patient: {name: A, allergies: [none]}\nlanguage: cy\nprotocol: p1\nas_of: 2026-12-03\n");
	expect(state, LOAD_REFUSED,
	       "plan.yaml:2:11: stop: there is no words file for 'cy'; add words/cy.yaml to the clinic's folder "
	       "[words-missing]\n");
	write_text(state, "clinic/words/cy.yaml", "language: cy\nwords: {hello: \"Helo {name}\"}\n");
	const struct wording *words = clinic_words(good_clinic(state), "cy");
	assert_int_equal(words->n, 1);
	assert_string_equal(said_in(words, "hello", "other"), "Helo {name}");
	assert_string_equal(good_plan(state)->language, "cy");
	write_text(state, "clinic/words/cy.yaml", "language: cy\nwords: {helo: \"Helo\", hello: \"{enw}\"}\n");
	expect(state, LOAD_REFUSED,
	       arena_strdup(
		       arena,
		       "clinic/words/cy.yaml:2:9: stop: unknown key 'helo'; did you mean 'hello'? [unknown-key]\n"
		       "clinic/words/cy.yaml:2:23: stop: 'hello' has no {enw} to fill in [unknown-placeholder]\n"));
}

/* ---- for one plan ---- */

static const struct clinic *clinic_for(void **state, const char *language)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	enum load_status status;
	const struct clinic *clinic = load_clinic_for(arena, "clinic", "data", language, NULL, &findings, &status);
	for (size_t i = 0; i < findings.n; i++)
		print_error("%s\n", finding_print(arena, &findings.list[i]));
	assert_int_equal(findings.n, 0);
	assert_non_null(clinic);
	return clinic;
}

static bool reads(void **state, const char *language, const char *words)
{
	return clinic_words(clinic_for(state, language), words) != NULL;
}

static const char *said_with(void **state, struct worker *worker, enum load_status *status)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	load_clinic_for(arena, "clinic", "data", "en", worker, &findings, status);
	const char *said = "";
	for (size_t i = 0; i < findings.n; i++)
		said = arena_printf(arena, "%s%s\n", said, finding_print(arena, &findings.list[i]));
	return said;
}

/* Words are read by the worker: what is wrong with them is said all the same, in its turn. */
static void a_worker_says_what_one_thread_says(void **state)
{
	struct worker *worker = worker_new();
	enum load_status alone;
	enum load_status helped;
	assert_string_equal(said_with(state, NULL, &alone), "");
	assert_string_equal(said_with(state, worker, &helped), "");
	write_text(state, "clinic/formulary.yaml", FORMULARY "        mix: swril\n");
	write_text(state, "clinic/words/en.yaml", "language: en\nwords: {helo: H}\n");
	write_text(state, "data/templates/words/en.yaml", "language: es\nwords: {hello: {one: H}}\n");
	const char *said = said_with(state, NULL, &alone);
	assert_non_null(strstr(said, "formulary.yaml:12:14: stop"));
	assert_non_null(strstr(said, "data/templates/words/en.yaml:1:11: stop"));
	assert_string_equal(said_with(state, worker, &helped), said);
	assert_int_equal(helped, alone);
	worker_free(worker);
}

/* A plan's own language and the staff's, which is the first. */
static void words_that_nobody_reads_are_left_out(void **state)
{
	write_text(state, "clinic/clinic.yaml",
	           "clinic: {en: T, es: T, cy: T}\ncountry: GB\nzone: Europe/London\nlanguages: [en, es, cy]\n"
	           "day_begins: \"04:00\"\nslots: {evening: \"20:00\"}\nphones: [{id: day, label: {en: D, es: D, cy: "
	           "D}, number: \"0\"}]\n");
	write_text(state, "data/templates/words/es.yaml", "language: es\nwords: {hello: \"Hola {name}\"}\n");
	write_text(state, "data/templates/words/cy.yaml", "language: cy\nwords: {hello: \"Helo {name}\"}\n");
	assert_true(reads(state, NULL, "en") && reads(state, NULL, "es") && reads(state, NULL, "cy"));
	assert_true(reads(state, "en", "en") && !reads(state, "en", "es") && !reads(state, "en", "cy"));
	assert_true(reads(state, "cy", "en") && !reads(state, "cy", "es") && reads(state, "cy", "cy"));
	/* What the clinic wrote is sealed whoever reads it. */
	size_t n_seals = clinic_for(state, "cy")->n_seals;
	write_text(state, "clinic/words/es.yaml", "language: es\nwords: {hello: \"Buenas {name}\"}\n");
	assert_true(reads(state, "cy", "es"));
	assert_int_equal(clinic_for(state, "cy")->n_seals, n_seals + 1);
	remove_file("clinic/words/es.yaml");
	assert_false(reads(state, "cy", "es"));
	write_text(state, "clinic/templates/steps/own.yaml",
	           "technique: own\nsteps: [{id: swirl, picture: swirl, side: first}]\n");
	assert_true(reads(state, "cy", "es"));
	remove_file("clinic/templates/steps/own.yaml");
}

static const char *language_of(void **state, const char *plan)
{
	write_text(state, "plan.yaml", plan);
	return load_plan_language(case_of(state)->arena, "plan.yaml");
}

static void a_plan_names_its_language(void **state)
{
	assert_string_equal(language_of(state, PLAN), "en");
	assert_string_equal(language_of(state, "language: \"fr\"\n"), "fr");
	assert_null(language_of(state, PLAN "replaces: {file: a.yaml, because: {en: x}}\n"));
	assert_null(language_of(state, "patient: {name: A}\n"));
	assert_null(language_of(state, "language: [en, es]\n"));
	assert_null(language_of(state, "- language: en\n"));
	assert_null(language_of(state, "language: [\n"));
	assert_null(language_of(state, ""));
	assert_null(load_plan_language(case_of(state)->arena, "nowhere.yaml"));
}

static void templates_are_laid_over_templates(void **state)
{
	const struct page_templates *templates = good_clinic(state)->templates;
	assert_int_equal(templates->n_order, 3);
	const struct technique_template *powder = templates_technique(templates, "powder-vial");
	assert_int_equal(powder->n_lay_out, 2);
	assert_int_equal(powder->n_steps, 1);
	assert_string_equal(powder->steps[0].picture, "wash-hands");
	assert_int_equal(powder->steps[0].side, STEP_FIRST);
	assert_int_equal(powder->steps[0].n_when, 0);
	assert_false(powder->steps[0].warning || powder->clinic_over);

	write_text(state, "clinic/templates/pages.yaml", "order: [check, grid]\n");
	write_text(state, "clinic/templates/steps/mine.yaml",
	           "technique: powder-vial\n"
	           "steps:\n"
	           "  - {id: a, picture: swirl, side: second-day, when: [warm, \"!whole\"], warning: yes}\n"
	           "  - {id: b, picture: roll, side: back, line: yes}\n");
	write_text(state, "clinic/templates/steps/other.yaml",
	           "technique: other\nlay_out: [vial]\nsteps: [{id: a, picture: swirl, side: front}]\n");
	templates = good_clinic(state)->templates;
	assert_int_equal(templates->n_order, 2);
	assert_string_equal(templates->order[0], "check");
	powder = templates_technique(templates, "powder-vial");
	assert_int_equal(powder->n_lay_out, 2);
	assert_int_equal(powder->n_steps, 2);
	assert_string_equal(powder->steps[0].id, "a");
	assert_int_equal(powder->steps[0].side, STEP_SECOND_DAY);
	assert_int_equal(powder->steps[0].n_when, 2);
	assert_string_equal(powder->steps[0].when[1], "!whole");
	assert_true(powder->steps[0].warning && powder->clinic_over);
	assert_false(powder->steps[0].line);
	assert_int_equal(powder->steps[1].side, STEP_BACK);
	assert_true(powder->steps[1].line && !powder->steps[1].warning);
	assert_non_null(templates_technique(templates, "other"));
	assert_null(templates_technique(templates, "nothing"));
}

static void hidden_files_are_not_read(void **state)
{
	write_text(state, "clinic/protocols/.p2.yaml", "nonsense: [\n");
	write_text(state, "clinic/protocols/p2.yaml~", "nonsense: [\n");
	assert_int_equal(good_clinic(state)->n_protocols, 1);
}

/* Protocols are read in the order of their names, on every system. */
static void protocols_are_read_in_order(void **state)
{
	write_text(state, "clinic/protocols/p0.yaml",
	           "protocol: p0\ntitle: {en: Z}\nitems: [{id: one, medicine: examplin, at: [evening], start: {on: "
	           "2026-12-01}, doses: [{from: 1, dose: 250 mcg}]}]\n");
	write_text(state, "clinic/protocols/a.yaml",
	           "protocol: z\ntitle: {en: Z}\nitems: [{id: one, medicine: examplin, at: [evening], start: {on: "
	           "2026-12-01}, doses: [{from: 1, dose: 250 mcg}]}]\n");
	const struct clinic *clinic = good_clinic(state);
	assert_int_equal(clinic->n_protocols, 3);
	assert_string_equal(clinic->protocols[0].id, "z");
	assert_string_equal(clinic->protocols[1].id, "p0");
	assert_string_equal(clinic->protocols[2].id, "p1");
}

static void found(void **state, const char *path, const char *folder)
{
	const char *result = load_find_clinic(case_of(state)->arena, path);
	if (folder)
		assert_string_equal(result, folder);
	else
		assert_null(result);
}

static void the_nearest_clinic_is_found(void **state)
{
	write_text(state, "clinic/plans/today/a.yaml", PLAN);
	found(state, "clinic/plans/today/a.yaml", "clinic");
	found(state, "clinic/plans/today/not-there.yaml", "clinic");
	found(state, "clinic/plans/today", "clinic");
	found(state, "clinic/plans/today/", "clinic/plans/today/../..");
	found(state, "clinic/clinic.yaml", "clinic");
	found(state, "clinic", "clinic");
	found(state, "./clinic/plans", "./clinic");
	assert_int_equal(chdir("clinic"), 0);
	found(state, "plans/today/a.yaml", ".");
	found(state, "clinic.yaml", ".");
	assert_int_equal(chdir("plans"), 0);
	found(state, "today/a.yaml", "..");
	found(state, ".", "..");
	assert_int_equal(chdir("today"), 0);
	found(state, "a.yaml", "../..");
	found(state, "../../protocols/p1.yaml", "../..");
	char *here = getcwd(NULL, 0);
	const char *absolute = arena_printf(case_of(state)->arena, "%s/a.yaml", here);
	const char *expected = arena_strndup(case_of(state)->arena, here, strlen(here) - strlen("/plans/today"));
	free(here);
	found(state, absolute, expected);
	assert_int_equal(chdir("../../.."), 0);
	found(state, "plan.yaml", NULL);
	found(state, "/", NULL);
	remove_file("clinic/plans/today/a.yaml");
	assert_int_equal(rmdir("clinic/plans/today"), 0);
	assert_int_equal(rmdir("clinic/plans"), 0);
}

static void what_the_program_brings_is_good(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	enum load_status status;
	const struct clinic *clinic = load_clinic(arena, "samples", ".", &findings, &status);
	for (size_t i = 0; i < findings.n; i++)
		print_error("%s\n", finding_print(arena, &findings.list[i]));
	assert_int_equal(findings.n, 0);
	assert_non_null(clinic);
	static const char *const plans[] = {"ione", "mara", "rosalind-draft", "tamsin"};
	for (size_t i = 0; i < sizeof plans / sizeof *plans; i++) {
		const char *path = arena_printf(arena, "samples/plans/%s.yaml", plans[i]);
		assert_non_null(load_plan(arena, clinic, path, &findings, &status));
	}
	assert_int_equal(findings.n, 0);
}

#define ADD(function) tests_add_in_folder(&tests, #function, function, NULL)

int main(void)
{
	struct tests tests = {0};
	ADD(what_must_be_there);
	ADD(a_folder_is_no_file);
	ADD(a_pipe_is_no_file);
	ADD(a_file_is_no_folder);
	ADD(words_of_no_language_are_said);
	ADD(both_faults_are_said);
	ADD(faults_do_not_spread);
	ADD(another_ending_is_said);
	ADD(findings_before_are_no_fault_of_these);
	ADD(syringes_of_its_own_come_first);
	ADD(the_usual_stock_is_plain);
	ADD(words_are_laid_over_words);
	ADD(a_language_of_its_own);
	ADD(words_that_nobody_reads_are_left_out);
	ADD(a_worker_says_what_one_thread_says);
	ADD(a_plan_names_its_language);
	ADD(templates_are_laid_over_templates);
	ADD(hidden_files_are_not_read);
	ADD(protocols_are_read_in_order);
	ADD(the_nearest_clinic_is_found);
	tests_add(&tests, "what the program brings, and the samples, are good", what_the_program_brings_is_good, NULL);
	return tests_run(&tests, "folders");
}
