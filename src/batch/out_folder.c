#include "batch/out_folder.h"

#include "base/remedy.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <glib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

/* A worker of a run that was killed still ends the page it is at, and holds the lock until then. */
enum { LOCK_TRIES = 50, LOCK_PAUSE_MS = 100 };

static bool refuse(struct findings *findings, const char *code, const char *path, const char *why)
{
	findings_add(findings, FINDING_STOP, code, (struct place){.file = NULL}, "'%s' %s", path, why);
	return false;
}

static bool refuse_system(struct findings *findings, const char *path)
{
	findings_add(findings, FINDING_STOP, "file-unwritable", (struct place){.file = NULL},
	             "nothing can be written to '%s': %s%s", path, strerror(errno), remedy_of_writing(errno));
	return false;
}

/* A run that was killed before its first file stood leaves this one. */
static bool may_be_there(const char *name)
{
	return strcmp(name, ".") == 0 || strcmp(name, "..") == 0 || strcmp(name, ".run.json.new") == 0;
}

static bool is_empty(const char *path)
{
	DIR *directory = opendir(path);
	bool empty = directory != NULL;
	for (struct dirent *entry; empty && (entry = readdir(directory)) != NULL;)
		empty = may_be_there(entry->d_name);
	if (directory != NULL)
		closedir(directory);
	return empty;
}

static bool take_lock(struct out_folder *folder)
{
	const struct timespec pause = {.tv_nsec = LOCK_PAUSE_MS * 1000000L};
	for (int i = 0; i < LOCK_TRIES; i++) {
		if (flock(folder->lock, LOCK_EX | LOCK_NB) == 0)
			return true;
		nanosleep(&pause, NULL);
	}
	return false;
}

static bool make_folders(struct arena *run, const struct out_folder *folder)
{
	static const char *const names[] = {"packets", "plans"};
	for (size_t i = 0; i < sizeof names / sizeof *names; i++)
		if (mkdir(out_path(run, folder, names[i]), 0700) != 0 && errno != EEXIST)
			return false;
	return true;
}

bool out_folder_open(struct arena *run, const char *path, bool resume, struct out_folder *folder,
                     struct findings *findings)
{
	*folder = (struct out_folder){.path = path, .lock = -1};
	if (mkdir(path, 0700) != 0 && errno != EEXIST)
		return refuse_system(findings, path);
	folder->lock = open(path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	if (folder->lock < 0)
		return refuse_system(findings, path);
	if (!take_lock(folder))
		return refuse(findings, "run-at-work", path,
		              "has a run at work in it; wait for it, or name another folder");
	bool ours = access(out_path(run, folder, "run.json"), F_OK) == 0;
	folder->fresh = !ours;
	if (!ours && !is_empty(path))
		return refuse(findings, "folder-in-use", path, "holds other files; name an empty folder, or a new one");
	if (ours && !resume)
		return refuse(findings, "folder-has-run", path,
		              "holds an earlier run; go on with it by --resume, or name another folder");
	if (access(path, W_OK | X_OK) != 0)
		return refuse_system(findings, path);
	return true;
}

bool out_folder_make_parts(struct arena *run, const struct out_folder *folder, struct findings *findings)
{
	return make_folders(run, folder) || refuse_system(findings, folder->path);
}

void out_folder_close(struct out_folder *folder)
{
	if (folder->lock >= 0)
		close(folder->lock);
}

const char *out_path(struct arena *arena, const struct out_folder *folder, const char *name)
{
	return arena_printf(arena, "%s/%s", folder->path, name);
}

const char *out_name(struct arena *arena, const char *record)
{
	static const char usual[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.";
	char *name = arena_alloc(arena, 3 * strlen(record) + 1);
	size_t n = 0;
	for (const char *at = record; *at != '\0'; at++) {
		if (strchr(usual, *at) != NULL && !(*at == '.' && n == 0)) {
			name[n++] = *at;
			continue;
		}
		static const char digits[] = "0123456789ABCDEF";
		name[n++] = '%';
		name[n++] = digits[(unsigned char)*at >> 4];
		name[n++] = digits[*at & 15];
	}
	return name;
}

/* ---- files ---- */

bool out_file_begin(struct arena *arena, const struct out_folder *folder, const char *name, struct out_file *file)
{
	file->path = out_path(arena, folder, name);
	file->beside = out_path(arena, folder, arena_printf(arena, ".%s.new", name));
	int descriptor = open(file->beside, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
	file->stream = descriptor < 0 ? NULL : fdopen(descriptor, "w");
	return file->stream != NULL;
}

bool out_file_end(struct out_file *file, bool whole)
{
	int error = errno;
	bool good = whole && !ferror(file->stream) && fflush(file->stream) == 0 && fsync(fileno(file->stream)) == 0;
	if (whole && !good)
		error = errno;
	if (fclose(file->stream) != 0 && good) {
		good = false;
		error = errno;
	}
	if (good && rename(file->beside, file->path) == 0)
		return true;
	error = good ? errno : error;
	unlink(file->beside);
	errno = error;
	return false;
}

void out_cell(FILE *stream, const char *text, char end)
{
	bool quoted = text != NULL && (strpbrk(text, ",\"\r\n") != NULL || *text == ' ');
	if (quoted)
		putc('"', stream);
	for (; text != NULL && *text != '\0'; text++) {
		if (*text == '"')
			putc('"', stream);
		putc(*text, stream);
	}
	if (quoted)
		putc('"', stream);
	putc(end, stream);
}

const char *out_digest(struct arena *arena, const char *path)
{
	FILE *stream = fopen(path, "rb");
	if (stream == NULL)
		return NULL;
	GChecksum *checksum = g_checksum_new(G_CHECKSUM_SHA256);
	unsigned char bytes[16 * 1024];
	size_t n;
	while ((n = fread(bytes, 1, sizeof bytes, stream)) > 0)
		g_checksum_update(checksum, bytes, (gssize)n);
	bool good = !ferror(stream);
	fclose(stream);
	const char *digest = good ? arena_strdup(arena, g_checksum_get_string(checksum)) : NULL;
	g_checksum_free(checksum);
	return digest;
}
