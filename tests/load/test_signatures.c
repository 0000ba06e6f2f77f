/*
 * signatures.csv: what counts, what does not, and that signing adds lines that then count.
 */
#include "load/signatures.h"

#include "support/clinic_files.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#define SEAL "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"

struct row {
	const char *name;
	const char *text;
	size_t n;         /* signatures that count */
	const char *last; /* of the last: kind id by when */
	const char *said;
};

#define BAD(place)                                                                                        \
	place ": caution: this line is no signature and does not count; sign again with 'fillmark sign' " \
	      "[bad-signature]\n"

static const struct row rows[] = {
	{"nothing", "", 0, NULL, ""},
	{"a header alone", "kind,id,seal,who,when\n", 0, NULL, ""},
	{"a line", "kind,id,seal,who,when\nmedicine,examplin," SEAL ",A. Nurse,2026-11-25\n", 1,
         "medicine examplin A. Nurse 2026-11-25", ""},
	{"a line without a header or an end", "plan,mara," SEAL ",A. Nurse,2026-11-25", 1,
         "plan mara A. Nurse 2026-11-25", ""},
	{"lines that end with a carriage return, and blank ones",
         "kind,id,seal,who,when\r\n\r\nplan,mara," SEAL ",B,2026-11-25\r\n", 1, "plan mara B 2026-11-25", ""},
	{"quotes, commas and doubled quotes", "plan,mara," SEAL ",\"Nurse, \"\"A\"\"\",2026-11-25\n", 1,
         "plan mara Nurse, \"A\" 2026-11-25", ""},
	{"one good, one bad, one good", "plan,a," SEAL ",A,2026-11-25\nplan,b\nplan,c," SEAL ",C,2026-11-26\n", 2,
         "plan c C 2026-11-26", BAD("clinic/signatures.csv:2:1")},
	{"a seal cut short", "plan,a,0123,A,2026-11-25\n", 0, NULL, BAD("clinic/signatures.csv:1:1")},
	{"a seal of other letters",
         "plan,a,0123456789ABCDEF0123456789abcdef0123456789abcdef0123456789abcdef,A,2026-11-25\n", 0, NULL,
         BAD("clinic/signatures.csv:1:1")},
	{"nobody", "plan,a," SEAL ",,2026-11-25\n", 0, NULL, BAD("clinic/signatures.csv:1:1")},
	{"no day", "plan,a," SEAL ",A,yesterday\n", 0, NULL, BAD("clinic/signatures.csv:1:1")},
	{"a field too many", "plan,a," SEAL ",A,2026-11-25,x\n", 0, NULL, BAD("clinic/signatures.csv:1:1")},
	{"an empty field too many", "plan,a," SEAL ",A,2026-11-25,\n", 0, NULL, BAD("clinic/signatures.csv:1:1")},
	{"quotes that are not closed", "plan,a," SEAL ",\"A,2026-11-25\n", 0, NULL, BAD("clinic/signatures.csv:1:1")},
	{"letters behind quotes", "plan,a," SEAL ",\"A\"B,2026-11-25\n", 0, NULL, BAD("clinic/signatures.csv:1:1")},
	{"a line that was cut", "plan,a," SEAL ",A,2026-1\nplan,b," SEAL ",B,2026-11-25\n", 1, "plan b B 2026-11-25",
         BAD("clinic/signatures.csv:1:1")},
};

static const char *lines_of(struct arena *arena, const struct findings *findings)
{
	const char *lines = "";
	for (size_t i = 0; i < findings->n; i++)
		lines = arena_printf(arena, "%s%s\n", lines, finding_print(arena, &findings->list[i]));
	return lines;
}

static void reads(void **state)
{
	const struct row *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	enum load_status status;
	write_text(state, "clinic/signatures.csv", row->text);
	const struct clinic *clinic = load_clinic(arena, "clinic", "data", &findings, &status);
	assert_string_equal(lines_of(arena, &findings), row->said);
	assert_non_null(clinic);
	assert_int_equal(clinic->n_signatures, row->n);
	if (row->n == 0)
		return;
	const struct signature *last = &clinic->signatures[row->n - 1];
	assert_string_equal(arena_printf(arena, "%s %s %s %s", last->kind, last->id, last->by, last->when), row->last);
	assert_string_equal(last->seal, SEAL);
}

static const char *whole_file(struct arena *arena, const char *path)
{
	char text[4096];
	FILE *file = fopen(path, "rb");
	assert_non_null(file);
	size_t length = fread(text, 1, sizeof text, file);
	fclose(file);
	return arena_strndup(arena, text, length);
}

static bool sign(void **state, const struct seal *seals, size_t n, const char *who, const char *when)
{
	struct findings findings = findings_in(case_of(state)->arena);
	bool written = signatures_append(case_of(state)->arena, "clinic", seals, n, who, when, &findings);
	assert_int_equal(findings.n, written ? 0 : 1);
	return written;
}

static void signing_adds_lines_that_count(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct clinic *clinic = good_clinic(state);
	assert_int_equal(clinic->n_seals, 3);
	assert_false(seal_signed(clinic, &clinic->seals[0], NULL));
	assert_true(sign(state, clinic->seals, 3, "Nurse, \"A\"", "2026-11-25"));
	assert_string_equal(whole_file(arena, "clinic/signatures.csv"),
	                    arena_printf(arena,
	                                 "kind,id,seal,who,when\n"
	                                 "clinic,clinic.yaml,%s,\"Nurse, \"\"A\"\"\",2026-11-25\n"
	                                 "medicine,examplin,%s,\"Nurse, \"\"A\"\"\",2026-11-25\n"
	                                 "protocol,p1,%s,\"Nurse, \"\"A\"\"\",2026-11-25\n",
	                                 clinic->seals[0].digest, clinic->seals[1].digest, clinic->seals[2].digest));
	clinic = good_clinic(state);
	assert_int_equal(clinic->n_signatures, 3);
	assert_true(seal_signed(clinic, &clinic->seals[0], NULL));
	assert_true(seal_signed(clinic, &clinic->seals[1], "Nurse, \"A\""));
	assert_false(seal_signed(clinic, &clinic->seals[1], "B"));

	/* A changed meaning is not signed any more; the protocol still is. */
	write_text(state, "clinic/formulary.yaml", FORMULARY "        hold: 10 s\n");
	clinic = good_clinic(state);
	assert_false(seal_signed(clinic, clinic_seal(clinic, "medicine", "examplin"), NULL));
	assert_true(seal_signed(clinic, clinic_seal(clinic, "protocol", "p1"), NULL));
}

static void a_plan_is_signed_by_two(void **state)
{
	struct seal seal = plan_seal(good_plan(state));
	assert_string_equal(seal.kind, "plan");
	assert_string_equal(seal.id, "plan");
	assert_true(sign(state, &seal, 1, "A", "2026-11-25"));
	assert_true(sign(state, &seal, 1, "B", "2026-11-26"));
	const struct clinic *clinic = good_clinic(state);
	assert_int_equal(clinic->n_signatures, 2);
	assert_true(seal_signed(clinic, &seal, "A"));
	assert_true(seal_signed(clinic, &seal, "B"));
	assert_false(seal_signed(clinic, &seal, "C"));
}

static void a_file_without_a_line_end_is_mended(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct seal seal = plan_seal(good_plan(state));
	write_text(state, "clinic/signatures.csv", "plan,a," SEAL ",A,2026-11-25");
	assert_true(sign(state, &seal, 1, "B", "2026-11-26"));
	assert_string_equal(
		whole_file(arena, "clinic/signatures.csv"),
		arena_printf(arena, "plan,a," SEAL ",A,2026-11-25\nplan,plan,%s,B,2026-11-26\n", seal.digest));
}

static void nothing_to_sign_writes_nothing(void **state)
{
	struct stat about;
	assert_true(sign(state, NULL, 0, "A", "2026-11-25"));
	assert_int_not_equal(stat("clinic/signatures.csv", &about), 0);
}

static void what_cannot_be_written_is_said(void **state)
{
	struct seal seal = plan_seal(good_plan(state));
	assert_int_equal(mkdir("clinic/signatures.csv", 0700), 0);
	assert_false(sign(state, &seal, 1, "A", "2026-11-25"));
}

struct name_row {
	const char *label;
	const char *name;
	const char *kept;
	const char *said;
};

static const struct name_row names[] = {
	{"a name", "A. Nurse", "A. Nurse", ""},
	{"spaces around it", "  Zo\u00eb \u0141 ", "Zo\u00eb \u0141", ""},
	{"only spaces", "   ", NULL, "fillmark: stop: the name of who signs is empty; write the name [bad-name]\n"},
	{"nothing", "", NULL, "fillmark: stop: the name of who signs is empty; write the name [bad-name]\n"},
	{"a line break", "A\nB", NULL,
         "fillmark: stop: the name of who signs holds a character that cannot be seen; write the name [bad-name]\n"},
	{"a reordering character", "A\u202eB", NULL,
         "fillmark: stop: the name of who signs holds a character that cannot be seen; write the name [bad-name]\n"},
	{"not UTF-8", "A\xff", NULL, "fillmark: stop: the name of who signs is not UTF-8; write the name [bad-name]\n"},
};

static void keeps_names(void **state)
{
	const struct name_row *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	const char *kept = signer_name(arena, row->name, &findings);
	assert_string_equal(lines_of(arena, &findings), row->said);
	if (row->kept)
		assert_string_equal(kept, row->kept);
	else
		assert_null(kept);
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		tests_add_in_folder(&tests, rows[i].name, reads, &rows[i]);
	tests_add_in_folder(&tests, "signing adds lines that count", signing_adds_lines_that_count, NULL);
	tests_add_in_folder(&tests, "a plan is signed by two", a_plan_is_signed_by_two, NULL);
	tests_add_in_folder(&tests, "a missing line end is mended", a_file_without_a_line_end_is_mended, NULL);
	tests_add_in_folder(&tests, "nothing to sign writes nothing", nothing_to_sign_writes_nothing, NULL);
	tests_add_in_folder(&tests, "what cannot be written is said", what_cannot_be_written_is_said, NULL);
	for (size_t i = 0; i < sizeof names / sizeof *names; i++)
		tests_add(&tests, names[i].label, keeps_names, &names[i]);
	return tests_run(&tests, "signatures");
}
