#include "support/clinic_files.h"

#include <errno.h>
#include <glib.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Begins as every case does, so that case_of() finds row and arena. */
struct folder_case {
	struct test_case one;
	char *from;
	char *folder;
	const char **written;
	size_t n_written;
};

static const struct {
	const char *path;
	const char *text;
} usual_files[] = {
	{"clinic/clinic.yaml", CLINIC},
	{"clinic/formulary.yaml", FORMULARY},
	{"clinic/protocols/p1.yaml", PROTOCOL},
	{"plan.yaml", PLAN},
	{"a.yaml", PLAN}, /* a plan that another one may replace */
	{"data/templates/syringes.yaml", "syringes:\n"
                                         "  - {id: t1, name: {en: small}, capacity: 1 mL, step: 0.01 mL,\n"
                                         "     numbered_every: 0.1 mL, scale_length: 57 mm, barrel: 6.5 mm}\n"},
	{"data/templates/pages.yaml", "order: [overview, grid, check]\n"},
	{"data/templates/words/en.yaml", "language: en\n"
                                         "words:\n"
                                         "  hello: \"Hello {name}\"\n"
                                         "  days: {one: \"{n} day\", other: \"{n} days\"}\n"},
	{"data/templates/steps/powder-vial.yaml", "technique: powder-vial\n"
                                                  "lay_out: [vial, wipes]\n"
                                                  "steps:\n"
                                                  "  - {id: wash, picture: wash-hands, side: first}\n"},
};

static void remove_written(struct folder_case *folder_case)
{
	static const char *const folders[] = {"clinic/protocols",     "clinic/words",   "clinic/templates/steps",
	                                      "clinic/templates",     "clinic",         "data/templates/words",
	                                      "data/templates/steps", "data/templates", "data"};
	for (size_t i = 0; i < folder_case->n_written; i++)
		remove(folder_case->written[i]);
	remove("clinic/signatures.csv");
	for (size_t i = 0; i < sizeof folders / sizeof *folders; i++)
		rmdir(folders[i]);
}

static int folder_setup(void **state)
{
	struct folder_case *folder_case = calloc(1, sizeof *folder_case);
	if (!folder_case)
		return -1;
	folder_case->one = (struct test_case){.row = *state, .arena = arena_new()};
	folder_case->from = g_get_current_dir();
	folder_case->folder = g_dir_make_tmp("fillmark-load-XXXXXX", NULL);
	*state = folder_case;
	if (!folder_case->folder || chdir(folder_case->folder) != 0)
		return -1;
	for (size_t i = 0; i < sizeof usual_files / sizeof *usual_files; i++)
		write_text(state, usual_files[i].path, usual_files[i].text);
	return 0;
}

static int folder_teardown(void **state)
{
	struct folder_case *folder_case = *state;
	remove_written(folder_case);
	int failed = chdir(folder_case->from);
	failed |= rmdir(folder_case->folder);
	g_free(folder_case->folder);
	g_free(folder_case->from);
	arena_free(folder_case->one.arena);
	free(folder_case);
	return failed;
}

void tests_add_in_folder(struct tests *tests, const char *name, CMUnitTestFunction function, const void *row)
{
	tests_add(tests, name, function, row);
	tests->list[tests->n - 1].setup_func = folder_setup;
	tests->list[tests->n - 1].teardown_func = folder_teardown;
}

void write_bytes(void **state, const char *path, const char *bytes, size_t length)
{
	struct folder_case *folder_case = *state;
	struct arena *arena = folder_case->one.arena;
	for (const char *slash = strchr(path, '/'); slash; slash = strchr(slash + 1, '/'))
		mkdir(arena_strndup(arena, path, (size_t)(slash - path)), 0700);
	folder_case->written = arena_more(arena, folder_case->written, folder_case->n_written, sizeof(char *));
	folder_case->written[folder_case->n_written++] = path;
	FILE *file = fopen(path, "wb");
	if (!file || fwrite(bytes, 1, length, file) != length || fclose(file) != 0) {
		fprintf(stderr, "cannot write %s: %s\n", path, strerror(errno));
		exit(1);
	}
}

void write_text(void **state, const char *path, const char *text)
{
	write_bytes(state, path, text, strlen(text));
}

void remove_file(const char *path)
{
	if (remove(path) != 0) {
		fprintf(stderr, "cannot remove %s: %s\n", path, strerror(errno));
		exit(1);
	}
}

static const char *lines_of(struct arena *arena, struct findings *findings)
{
	const char *lines = "";
	findings_sort(findings);
	for (size_t i = 0; i < findings->n; i++)
		lines = arena_printf(arena, "%s%s\n", lines, finding_print(arena, &findings->list[i]));
	return lines;
}

const struct clinic *good_clinic(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	enum load_status status;
	const struct clinic *clinic = load_clinic(arena, "clinic", "data", &findings, &status);
	assert_string_equal(lines_of(arena, &findings), "");
	assert_non_null(clinic);
	assert_int_equal(status, LOAD_GOOD);
	return clinic;
}

const struct plan *good_plan(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	enum load_status status;
	const struct plan *plan = load_plan(arena, good_clinic(state), "plan.yaml", &findings, &status);
	assert_string_equal(lines_of(arena, &findings), "");
	assert_non_null(plan);
	assert_int_equal(status, LOAD_GOOD);
	return plan;
}

const char *what_is_said(void **state, enum load_status *status)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	const struct clinic *clinic = load_clinic(arena, "clinic", "data", &findings, status);
	assert_int_equal(clinic != NULL, *status == LOAD_GOOD);
	if (clinic) {
		const struct plan *plan = load_plan(arena, clinic, "plan.yaml", &findings, status);
		assert_int_equal(plan != NULL, *status == LOAD_GOOD);
	}
	return lines_of(arena, &findings);
}
