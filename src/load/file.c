#include "load/file.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

enum load_status load_worse(enum load_status a, enum load_status b)
{
	return a > b ? a : b;
}

const char *path_join(struct arena *arena, const char *folder, const char *name)
{
	size_t length = strlen(folder);
	if (length == 0)
		return arena_strdup(arena, name);
	return arena_printf(arena, "%s%s%s", folder, folder[length - 1] == '/' ? "" : "/", name);
}

struct place file_place(const struct source_file *file)
{
	return (struct place){.file = file};
}

static const struct source_file *fail(const struct source_file *file, int error, struct findings *findings,
                                      enum load_status *status)
{
	*status = LOAD_FAILED;
	findings_add(findings, FINDING_STOP, "file-unreadable", file_place(file), "cannot read this file: %s",
	             strerror(error));
	return NULL;
}

static const struct source_file *read_stream(struct arena *arena, FILE *stream, struct source_file *file,
                                             struct findings *findings, enum load_status *status)
{
	struct stat about;
	if (fstat(fileno(stream), &about) != 0)
		return fail(file, errno, findings, status);
	if (S_ISDIR(about.st_mode))
		return fail(file, EISDIR, findings, status);
	size_t size = about.st_size > 0 ? (size_t)about.st_size : 0;
	if (size > FILE_MOST_BYTES) {
		*status = load_worse(*status, LOAD_REFUSED);
		findings_add(findings, FINDING_STOP, "too-large", file_place(file),
		             "this file is larger than %d MiB, so it is no list of a clinic; name the right file",
		             FILE_MOST_BYTES / (1024 * 1024));
		return NULL;
	}
	char *text = arena_alloc(arena, size + 1);
	file->length = fread(text, 1, size, stream);
	if (ferror(stream))
		return fail(file, errno, findings, status);
	file->text = text;
	return file;
}

const struct source_file *file_read(struct arena *arena, const char *path, bool needed, struct findings *findings,
                                    enum load_status *status)
{
	struct source_file *file = arena_alloc(arena, sizeof *file);
	file->name = arena_strdup(arena, path);
	FILE *stream = fopen(path, "rb");
	if (!stream && errno == ENOENT && !needed)
		return NULL;
	if (!stream)
		return fail(file, errno, findings, status);
	const struct source_file *result = read_stream(arena, stream, file, findings, status);
	fclose(stream);
	return result;
}
