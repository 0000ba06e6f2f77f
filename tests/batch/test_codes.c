/*
 * Two sheets with one code could not be told apart over the telephone: neither is handed out.
 */
#include "batch/run.h"

#include "support/cases.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* A run of four patients whose packets have these codes, in a folder of its own. */
struct small_run {
	struct run run;
	struct intake intake;
	struct batch_options options;
	struct findings findings;
	char folder[32];
	struct arena *patient;
};

static void add_packet(struct small_run *small, size_t number, const char *code)
{
	struct arena *arena = small->patient;
	const char *file = arena_printf(arena, "packets/%zu.pdf", number);
	const char *path = out_path(arena, &small->run.folder, file);
	FILE *stream = fopen(path, "w");
	assert_non_null(stream);
	fclose(stream);
	const struct outcome outcome = {.number = number,
	                                .kind = OUTCOME_PACKET,
	                                .rows = arena_printf(arena, "%zu", number + 2),
	                                .record = arena_printf(arena, "P-%zu", number),
	                                .sheet = {.code = code, .version = 1, .plan = ""},
	                                .file = file};
	assert_true(journal_add(small->run.journal, arena, &outcome));
}

static void begin(struct small_run *small, struct arena *arena, const char *const *codes, size_t n)
{
	*small = (struct small_run){.folder = "codes.XXXXXX", .patient = arena_new()};
	assert_non_null(mkdtemp(small->folder));
	small->findings = findings_in(arena);
	small->intake.index = intake_index_new(small->folder);
	for (size_t i = 0; i < n; i++) {
		struct index_piece piece = {.record = {.high = i + 1}, .row = (uint32_t)i + 2};
		assert_true(intake_index_add(small->intake.index, &piece));
	}
	assert_true(intake_index_close(small->intake.index));
	small->run = (struct run){.arena = arena,
	                          .patient = small->patient,
	                          .options = &small->options,
	                          .intake = &small->intake,
	                          .folder = {.path = small->folder, .lock = -1},
	                          .findings = &small->findings};
	assert_true(out_folder_make_parts(arena, &small->run.folder, &small->findings));
	small->run.journal = journal_open(arena, &small->run.folder, n, &small->findings);
	assert_non_null(small->run.journal);
	for (size_t i = 0; i < n; i++)
		add_packet(small, i, codes[i]);
}

/* Patient 0 has a sheet from the night before, and its plan lies there. */
static void give_a_night_before(struct small_run *small, struct arena *arena)
{
	static const char heading[] = "record,code,version,as_of,state,order,plan,plan_sha256\n";
	const char *folder = arena_printf(arena, "%s/before", small->folder);
	const char *const names[] = {"plans/0.yaml", "ledger.csv", "vanished.csv"};
	const char *const texts[] = {
		"the plan", arena_printf(arena, "%sP-0,WXYZ-1234-5,3,2026-12-02,signed,abc,plans/0.yaml,\n", heading),
		heading};
	enum load_status status;
	assert_int_equal(mkdir(folder, 0700), 0);
	assert_int_equal(mkdir(arena_printf(arena, "%s/plans", folder), 0700), 0);
	for (size_t i = 0; i < 3; i++) {
		FILE *stream = fopen(arena_printf(arena, "%s/%s", folder, names[i]), "w");
		assert_non_null(stream);
		fputs(texts[i], stream);
		fclose(stream);
	}
	small->run.previous = previous_open(arena, folder, small->folder, &small->findings, &status);
	assert_non_null(small->run.previous);
}

static bool has_file(const struct small_run *small, size_t number)
{
	char path[64];
	snprintf(path, sizeof path, "%s/packets/%zu.pdf", small->folder, number);
	return access(path, F_OK) == 0;
}

static void end(struct small_run *small)
{
	previous_free(small->run.previous);
	journal_free(small->run.journal);
	intake_index_free(small->intake.index);
	arena_free(small->patient);
	char command[64];
	snprintf(command, sizeof command, "rm -rf %s", small->folder);
	assert_int_equal(system(command), 0);
}

/* A sheet that a patient has from an earlier run is as good as one of this run. */
static void a_sheet_in_hand_counts(void **state)
{
	static const char *const codes[] = {"AAAA-BBBB-1", "CCCC-DDDD-2"};
	struct arena *arena = case_of(state)->arena;
	struct small_run small;
	struct outcome outcome = {.number = 1,
	                          .kind = OUTCOME_UNCHANGED,
	                          .rows = "3",
	                          .record = "P-1",
	                          .sheet = {.code = "AAAA-BBBB-1", .version = 1, .plan = ""}};
	begin(&small, arena, codes, 2);
	assert_true(journal_add(small.run.journal, arena, &outcome));
	assert_true(run_refuse_same_codes(&small.run));
	assert_true(journal_get(small.run.journal, arena, 0, &outcome));
	assert_int_equal(outcome.kind, OUTCOME_REFUSED);
	assert_string_equal(outcome.reasons[0].code, "code-twice");
	assert_true(journal_get(small.run.journal, arena, 1, &outcome));
	assert_int_equal(outcome.kind, OUTCOME_UNCHANGED);
	end(&small);
}

static void both_are_refused(void **state)
{
	static const char *const codes[] = {"AAAA-BBBB-1", "CCCC-DDDD-2", "AAAA-BBBB-1", "EEEE-FFFF-3"};
	struct arena *arena = case_of(state)->arena;
	struct small_run small;
	begin(&small, arena, codes, 4);
	assert_true(run_refuse_same_codes(&small.run));
	for (size_t number = 0; number < 4; number++) {
		struct outcome outcome;
		bool twice = number == 0 || number == 2;
		assert_true(journal_get(small.run.journal, arena, number, &outcome));
		assert_int_equal(outcome.kind, twice ? OUTCOME_REFUSED : OUTCOME_PACKET);
		assert_int_equal(has_file(&small, number), !twice);
		assert_int_equal(outcome.n_reasons, twice ? 1 : 0);
		if (!twice)
			continue;
		assert_string_equal(outcome.reasons[0].code, "code-twice");
		assert_int_equal(outcome.reasons[0].row, number + 2);
		assert_string_equal(outcome.sheet.code, "");
		assert_string_equal(outcome.file, "");
	}
	end(&small);
}

/* The sheet that she has in hand stays hers: else the next run would begin with version 1 again. */
static void a_refused_one_keeps_her_last_sheet(void **state)
{
	static const char *const codes[] = {"AAAA-BBBB-1", "AAAA-BBBB-1"};
	struct arena *arena = case_of(state)->arena;
	struct small_run small;
	struct outcome outcome;
	begin(&small, arena, codes, 2);
	give_a_night_before(&small, arena);
	assert_true(run_refuse_same_codes(&small.run));
	assert_true(journal_get(small.run.journal, arena, 0, &outcome));
	assert_int_equal(outcome.kind, OUTCOME_REFUSED);
	assert_string_equal(outcome.sheet.code, "WXYZ-1234-5");
	assert_int_equal(outcome.sheet.version, 3);
	assert_int_equal(access(out_path(arena, &small.run.folder, outcome.sheet.plan), F_OK), 0);
	assert_true(journal_get(small.run.journal, arena, 1, &outcome));
	assert_string_equal(outcome.sheet.code, "");
	end(&small);
}

/* A line that was cut when the run was killed is as if it had not been begun; all before it stands. */
static void a_cut_line_is_done_again(void **state)
{
	static const char *const codes[] = {"AAAA-BBBB-1", "CCCC-DDDD-2"};
	struct arena *arena = case_of(state)->arena;
	struct small_run small;
	begin(&small, arena, codes, 2);
	journal_free(small.run.journal);
	const char *path = out_path(arena, &small.run.folder, ".journal");
	FILE *stream = fopen(path, "r+");
	assert_non_null(stream);
	assert_int_equal(fseek(stream, 0, SEEK_END), 0);
	assert_int_equal(ftruncate(fileno(stream), ftell(stream) - 3), 0);
	fclose(stream);
	small.run.journal = journal_open(arena, &small.run.folder, 2, &small.findings);
	assert_non_null(small.run.journal);
	assert_true(journal_has(small.run.journal, 0));
	assert_false(journal_has(small.run.journal, 1));
	add_packet(&small, 1, codes[1]);
	struct outcome outcome;
	assert_true(journal_get(small.run.journal, arena, 1, &outcome));
	assert_string_equal(outcome.record, "P-1");
	end(&small);
}

static void a_line_says_what_it_was_told(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct reason reasons[] = {{7, "one", "a tab\there, a break\nthere, and \\ this"}, {9, "two", ""}};
	const struct outcome outcome = {.number = 3,
	                                .kind = OUTCOME_REFUSED,
	                                .rows = "7 9",
	                                .record = "P\t\\n\"1",
	                                .sheet = {"C", 2, "2026-12-03", "draft", "abc", "plans/a b.yaml", "def"},
	                                .reasons = reasons,
	                                .n_reasons = 2};
	const char *line = outcome_line(arena, &outcome);
	struct outcome back;
	assert_ptr_equal(strchr(line, '\n'), line + strlen(line) - 1);
	assert_true(outcome_read(arena, line, strlen(line), &back));
	assert_string_equal(outcome_line(arena, &back), line);
	assert_string_equal(back.record, outcome.record);
	assert_string_equal(back.reasons[0].says, reasons[0].says);
	assert_int_equal(back.reasons[1].row, 9);
	for (size_t length = 0; length < strlen(line) - 1; length++)
		assert_false(outcome_read(arena, line, length, &back));
}

/* What a reason quotes may be cut short within the name. */
static void no_reason_says_the_name(void **state)
{
	static const struct {
		const char *says;
		const char *wanted;
	} rows[] = {{"'Odile Quince' is too long", "'(the name)' is too long"},
	            {"'Odile Qui...' is too long", "'(the name)' is too long"},
	            {"in 'born; Odile Quince, O...'", "in 'born; (the name), O...'"},
	            {"'Odd words...' is too long", "'Odd words...' is too long"}};
	struct arena *arena = case_of(state)->arena;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct findings findings = findings_in(arena);
		struct outcome outcome = {.number = 1};
		findings_add(&findings, FINDING_STOP, "some", (struct place){.file = NULL}, "%s", rows[i].says);
		outcome_refuse(arena, &outcome, &findings, NULL, 2, "Odile Quince");
		assert_string_equal(outcome.reasons[0].says, rows[i].wanted);
	}
}

int main(void)
{
	struct tests tests = {0};
	tests_add(&tests, "two sheets with one code are both refused", both_are_refused, NULL);
	tests_add(&tests, "a sheet in hand counts", a_sheet_in_hand_counts, NULL);
	tests_add(&tests, "a refused patient keeps her last sheet", a_refused_one_keeps_her_last_sheet, NULL);
	tests_add(&tests, "a cut line is done again", a_cut_line_is_done_again, NULL);
	tests_add(&tests, "a line says what it was told, and a part of it nothing", a_line_says_what_it_was_told, NULL);
	tests_add(&tests, "no reason says the name", no_reason_says_the_name, NULL);
	return tests_run(&tests, "codes and journal");
}
