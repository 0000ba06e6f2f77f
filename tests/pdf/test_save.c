/*
 * Files appear whole or not at all, for their owner alone.
 */
#include "pdf/save.h"

#include "support/cases.h"
#include "support/shell.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

static bool save(struct arena *arena, const char *path, const char *text, const char **why)
{
	return save_file(arena, path, (const unsigned char *)text, strlen(text), why);
}

static void assert_content(struct arena *arena, const char *path, const char *text)
{
	assert_string_equal((const char *)read_file(arena, path).bytes, text);
}

static const char *listing(struct arena *arena, const char *folder)
{
	return shell(arena, "ls -A '%s'", folder);
}

static void a_file_is_written_whole_and_private(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *folder = scratch_folder(arena);
	const char *path = arena_printf(arena, "%s/packet.pdf", folder);
	const char *why = NULL;
	mode_t before = umask(0);
	assert_true(save(arena, path, "content", &why));
	umask(before);
	assert_content(arena, path, "content");
	struct stat stat_of_file;
	assert_int_equal(stat(path, &stat_of_file), 0);
	assert_int_equal(stat_of_file.st_mode & 07777, 0600);
	assert_string_equal(listing(arena, folder), "packet.pdf\n");
	scratch_remove(arena, folder);
}

static void an_old_file_is_replaced(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *folder = scratch_folder(arena);
	const char *path = arena_printf(arena, "%s/packet.pdf", folder);
	const char *why = NULL;
	write_file(path, "old and longer", 14);
	assert_int_equal(chmod(path, 0644), 0);
	assert_true(save(arena, path, "new", &why));
	assert_content(arena, path, "new");
	struct stat stat_of_file;
	assert_int_equal(stat(path, &stat_of_file), 0);
	assert_int_equal(stat_of_file.st_mode & 07777, 0600);
	scratch_remove(arena, folder);
}

static void a_name_alone_is_in_the_folder_one_is_in(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *folder = scratch_folder(arena);
	char here[1024];
	const char *why = NULL;
	assert_non_null(getcwd(here, sizeof here));
	assert_int_equal(chdir(folder), 0);
	bool saved = save(arena, "packet.pdf", "content", &why);
	assert_int_equal(chdir(here), 0);
	assert_true(saved);
	assert_content(arena, arena_printf(arena, "%s/packet.pdf", folder), "content");
	scratch_remove(arena, folder);
}

/* What is below the scratch folder, and why nothing can be written there. */
struct failure_row {
	const char *name;
	const char *path;
	const char *why;
};

static const struct failure_row failure_rows[] = {
	{"no such folder", "missing/packet.pdf",
         "No such file or directory; make its folder first, or name another place"},
	{"a file in place of the folder", "file/packet.pdf", "Not a directory; name another place"},
	{"a folder in place of the file", "folder", "Is a directory; name another place"},
	{"a full folder in place of the file", "full", "Is a directory; name another place"},
};

static void a_failure_leaves_nothing_behind(void **state)
{
	const struct failure_row *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	const char *folder = scratch_folder(arena);
	write_file(arena_printf(arena, "%s/file", folder), "x", 1);
	shell(arena, "mkdir '%s/folder' '%s/full' && touch '%s/full/x'", folder, folder, folder);
	const char *before = shell(arena, "cd '%s' && find . | sort", folder);
	const char *path = arena_printf(arena, "%s/%s", folder, row->path);
	const char *why = NULL;
	assert_false(save(arena, path, "content", &why));
	assert_string_equal(why, arena_printf(arena, "'%s' cannot be written: %s", path, row->why));
	assert_string_equal(shell(arena, "cd '%s' && find . | sort", folder), before);
	scratch_remove(arena, folder);
}

/* Where nobody, not even root, can create a file. */
static void a_read_only_folder_is_refused(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *why = NULL;
	assert_false(save(arena, "/proc/fillmark.pdf", "content", &why));
	assert_non_null(why);
	assert_true(strncmp(why, "'/proc/fillmark.pdf' cannot be written: ", 39) == 0);
}

/* A limit on the size of files stands in for a full disk: a write comes back short, the next one fails. */
static void a_full_disk_leaves_the_old_file(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *folder = scratch_folder(arena);
	const char *path = arena_printf(arena, "%s/packet.pdf", folder);
	const char *why = NULL;
	size_t n = 100000;
	unsigned char *bytes = arena_alloc(arena, n);
	write_file(path, "old", 3);
	struct rlimit before;
	assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
	const struct rlimit small = {.rlim_cur = 5000, .rlim_max = before.rlim_max};
	void (*handler)(int) = signal(SIGXFSZ, SIG_IGN);
	assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
	bool saved = save_file(arena, path, bytes, n, &why);
	assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
	signal(SIGXFSZ, handler);
	assert_false(saved);
	assert_string_equal(why, arena_printf(arena, "'%s' cannot be written: File too large", path));
	assert_content(arena, path, "old");
	assert_string_equal(listing(arena, folder), "packet.pdf\n");
	scratch_remove(arena, folder);
}

#define ADD(test) tests_add(&tests, #test, test, NULL)

int main(void)
{
	struct tests tests = {0};
	ADD(a_file_is_written_whole_and_private);
	ADD(an_old_file_is_replaced);
	ADD(a_name_alone_is_in_the_folder_one_is_in);
	for (size_t i = 0; i < sizeof failure_rows / sizeof *failure_rows; i++)
		tests_add(&tests, failure_rows[i].name, a_failure_leaves_nothing_behind, &failure_rows[i]);
	ADD(a_read_only_folder_is_refused);
	ADD(a_full_disk_leaves_the_old_file);
	return tests_run(&tests, "save");
}
