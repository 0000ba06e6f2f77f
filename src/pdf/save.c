#define _GNU_SOURCE /* O_TMPFILE */
#include "pdf/save.h"

#include "base/remedy.h"
#include "base/write.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *folder_of(struct arena *arena, const char *path)
{
	const char *slash = strrchr(path, '/');
	return slash == NULL ? "." : slash == path ? "/" : arena_strndup(arena, path, (size_t)(slash - path));
}

/* The rename is only safe once the folder itself is on the disk. */
static void sync_folder(struct arena *arena, const char *path)
{
	int file = open(folder_of(arena, path), O_RDONLY | O_DIRECTORY);
	if (file < 0)
		return;
	fsync(file);
	close(file);
}

/* A rename would put a file in the place of a device: whoever may do that must not do it by a slip. */
static bool is_something_else(const char *path)
{
	struct stat status;
	return stat(path, &status) == 0 && !S_ISREG(status.st_mode) && !S_ISDIR(status.st_mode);
}

/* Writes and syncs; closes in any case. errno says why not. */
static bool fill(int file, const unsigned char *bytes, size_t n)
{
	bool good = write_all(file, bytes, n) && fsync(file) == 0;
	int error = errno;
	if (close(file) != 0 && good) {
		good = false;
		error = errno;
	}
	errno = error;
	return good;
}

/*
 * A new file has no name until it is whole, so that nothing is left of it when
 * the program is killed. False where that cannot be: there is one of that name,
 * or the file system has no nameless files.
 */
static bool save_nameless(struct arena *arena, const char *path, const unsigned char *bytes, size_t n)
{
	/* Else all would be written and synced before the name turns out to be taken. */
	if (access(path, F_OK) == 0)
		return false;
	int file = open(folder_of(arena, path), O_TMPFILE | O_WRONLY | O_CLOEXEC, 0600);
	if (file < 0)
		return false;
	const char *open_file = arena_printf(arena, "/proc/self/fd/%d", file);
	bool good = write_all(file, bytes, n) && fsync(file) == 0 &&
	            linkat(AT_FDCWD, open_file, AT_FDCWD, path, AT_SYMLINK_FOLLOW) == 0;
	close(file);
	return good;
}

bool save_file(struct arena *arena, const char *path, const unsigned char *bytes, size_t n, const char **why)
{
	if (is_something_else(path)) {
		*why = arena_printf(arena, "'%s' is no file; name one", path);
		return false;
	}
	if (save_nameless(arena, path, bytes, n)) {
		sync_folder(arena, path);
		return true;
	}
	char *beside = arena_printf(arena, "%s.XXXXXX", path);
	int file = mkstemp(beside); /* opens with mode 0600 */
	if (file < 0) {
		*why = arena_printf(arena, "'%s' cannot be written: %s%s", path, strerror(errno),
		                    remedy_of_writing(errno));
		return false;
	}
	bool good = fill(file, bytes, n);
	int error = errno;
	if (good && rename(beside, path) != 0) {
		good = false;
		error = errno;
	}
	if (!good) {
		unlink(beside);
		*why = arena_printf(arena, "'%s' cannot be written: %s%s", path, strerror(error),
		                    remedy_of_writing(error));
		return false;
	}
	sync_folder(arena, path);
	return true;
}
