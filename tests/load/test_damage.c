/*
 * Whatever bytes a file holds, loading ends with findings and never with a crash. `make asan` runs it under the sanitizers.
 */
#include "load/signatures.h"

#include "support/clinic_files.h"

#include <stdlib.h>
#include <string.h>

enum { FLIPS = 400 };

/* One file whole, in the folder where it is damaged. `signs` marks what YAML is made of. */
struct victim {
	const char *path;
	const char *text;
};

static const char full_plan[] =
	PLAN "paper: letter\nversion: 2\nreplaces: {file: a.yaml, because: {en: \"so\"}}\ngood_until: 2026-12-08\n"
	     "doses:\n  one:\n    - {from: 1, dose: \"1,000 units\", at: [morning, \"21:30\"], split: yes}\n"
	     "    - from: {event: go, day: 3}\n      dose:\n        call:\n          en: |\n            many\n         "
	     "   lines\n"
	     "changes:\n- {item: one, from: 2026-12-09, dose: 187.5 units, because: {en: 'it''s so'}}\n"
	     "called: [{item: one, on: 2026-12-08}]\n"
	     "away: [{from: 2026-12-10, to: 2026-12-12, zone: Europe/Lisbon, keep: clock}]\n"
	     "dispensed: [{product: examplin-kit, count: 2, expires: 2027-03, opened: 2026-12-01, left: 75 mcg}]\n";

static const struct victim victims[] = {
	{"plan.yaml", full_plan},
	{"clinic/clinic.yaml",
         CLINIC "stock: [t1]\naddress: [\"a\", 'b']\nemergency:\n  en: >-\n    folded\n    words\n"},
	{"clinic/formulary.yaml", FORMULARY "        needles: {mixing: {gauge: 20, length: 40 mm}, filter: no}\n"
                                            "        comes_with: [{needle: mixing}, {swab: 2}]\n"},
	{"clinic/protocols/p1.yaml",
         PROTOCOL "    end: {first_of: [{event: go, day: 9}, {call: {en: \"caf\u00e9\"}}]}\n"},
	{"clinic/words/en.yaml",
         "language: en\nwords: {hello: \"Hi {name}\", days: {one: \"{n}\", other: \"{n} d\"}}\n"},
	{"clinic/syringes.yaml", "syringes:\n- {id: a, name: {en: a}, capacity: 1 mL, step: 2, numbered_every: 10,\n"
                                 "   scale: {units_per_mL: 100, name: {en: i}}, scale_length: 58 mm, barrel: 7 mm}\n"},
	{"clinic/templates/steps/a.yaml",
         "technique: a\nlay_out: [vial ?x]\nsteps: [{id: a, picture: b, side: back, when: [\"!c\"]}]\n"},
	{"clinic/signatures.csv",
         "kind,id,seal,who,when\nplan,plan,0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef,\"A, "
         "\"\"B\"\"\",2026-11-25\n"},
};

/* Loads and looks at what came of it; the arena is used afresh, since there are thousands. */
static void load_once(void **state, struct arena *arena, const struct victim *victim, const char *bytes, size_t length)
{
	struct findings findings = findings_in(arena);
	enum load_status status;
	write_bytes(state, victim->path, bytes, length);
	const struct clinic *clinic = load_clinic(arena, "clinic", "data", &findings, &status);
	assert_int_equal(clinic != NULL, status == LOAD_GOOD);
	if (clinic) {
		const struct plan *plan = load_plan(arena, clinic, "plan.yaml", &findings, &status);
		assert_int_equal(plan != NULL, status == LOAD_GOOD);
	}
	assert_int_not_equal(status, LOAD_FAILED);
	assert_int_equal(status == LOAD_REFUSED, findings_stop(&findings));
	for (size_t i = 0; i < findings.n; i++)
		assert_non_null(finding_print(arena, &findings.list[i]));
}

static void is_good_whole(void **state)
{
	const struct victim *victim = case_of(state)->row;
	struct findings findings = findings_in(case_of(state)->arena);
	enum load_status status;
	write_text(state, victim->path, victim->text);
	const struct clinic *clinic = load_clinic(case_of(state)->arena, "clinic", "data", &findings, &status);
	assert_non_null(clinic);
	assert_non_null(load_plan(case_of(state)->arena, clinic, "plan.yaml", &findings, &status));
}

static void every_cut_is_survived(void **state)
{
	const struct victim *victim = case_of(state)->row;
	struct arena *arena = arena_new();
	for (size_t length = 0; length < strlen(victim->text); length++) {
		load_once(state, arena, victim, victim->text, length);
		arena_reset(arena);
	}
	arena_free(arena);
}

static void flipped_bytes_are_survived(void **state)
{
	static const char signs[] = "{}[]:,-?&*!|>'\"%@`#\n\t \\=~\0\x7f\xc3\xff";
	const struct victim *victim = case_of(state)->row;
	struct arena *arena = arena_new();
	size_t length = strlen(victim->text);
	char *bytes = malloc(length);
	assert_non_null(bytes);
	uint64_t seed = 20261125;
	for (int i = 0; i < FLIPS; i++) {
		memcpy(bytes, victim->text, length);
		for (uint64_t n = next_random(&seed) % 3; n < 3; n++) {
			size_t at = next_random(&seed) % length;
			uint64_t random = next_random(&seed);
			bytes[at] = random % 4 ? signs[random / 4 % sizeof signs] : (char)(random / 4);
		}
		load_once(state, arena, victim, bytes, length);
		arena_reset(arena);
	}
	free(bytes);
	arena_free(arena);
}

/* Whole lines left out, twice or in another place: good YAML mostly, with other meaning. */
static void moved_lines_are_survived(void **state)
{
	const struct victim *victim = case_of(state)->row;
	struct arena *arena = arena_new();
	uint64_t seed = 4711;
	for (int i = 0; i < FLIPS; i++) {
		const char *text = victim->text;
		size_t lines = 0;
		for (const char *c = text; *c; c++)
			lines += *c == '\n';
		const char *changed = "";
		size_t moved = next_random(&seed) % lines;
		size_t to = next_random(&seed) % (2 * lines);
		size_t number = 0;
		for (const char *line = text; *line; line = strchr(line, '\n') + 1, number++) {
			int length = (int)(strchr(line, '\n') - line) + 1;
			const char *own = number == moved ? "" : arena_strndup(arena, line, (size_t)length);
			changed = arena_printf(arena, "%s%s%.*s", changed, own, number == to ? length : 0, line);
		}
		load_once(state, arena, victim, changed, strlen(changed));
		arena_reset(arena);
	}
	arena_free(arena);
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof victims / sizeof *victims; i++) {
		tests_add_in_folder(&tests, victims[i].path, is_good_whole, &victims[i]);
		tests_add_in_folder(&tests, victims[i].path, every_cut_is_survived, &victims[i]);
		tests_add_in_folder(&tests, victims[i].path, flipped_bytes_are_survived, &victims[i]);
		tests_add_in_folder(&tests, victims[i].path, moved_lines_are_survived, &victims[i]);
	}
	return tests_run(&tests, "damaged files");
}
