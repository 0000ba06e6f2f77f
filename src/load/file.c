#include "load/file.h"

#include "base/remedy.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum load_status load_worse(enum load_status a, enum load_status b)
{
	return a > b ? a : b;
}

enum wide_text wide_text_of(const unsigned char *bytes, size_t n)
{
	bool four = n >= 4;
	if (four && (memcmp(bytes, "\xff\xfe\0\0", 4) == 0 || memcmp(bytes, "\0\0\xfe\xff", 4) == 0 ||
	             memcmp(bytes + 1, "\0\0\0", 3) == 0 || memcmp(bytes, "\0\0\0", 3) == 0))
		return WIDE_UTF32;
	if (n >= 2 && bytes[0] == 0xff && bytes[1] == 0xfe)
		return WIDE_UTF16_LITTLE;
	if (n >= 2 && bytes[0] == 0xfe && bytes[1] == 0xff)
		return WIDE_UTF16_BIG;
	if (four && bytes[0] != 0 && bytes[1] == 0 && bytes[2] != 0 && bytes[3] == 0)
		return WIDE_UTF16_LITTLE;
	if (four && bytes[0] == 0 && bytes[1] != 0 && bytes[2] == 0 && bytes[3] != 0)
		return WIDE_UTF16_BIG;
	return WIDE_NONE;
}

const char *no_text_of(const unsigned char *bytes, size_t n)
{
	if (n >= 4 && memcmp(bytes, "%PDF", 4) == 0)
		return "a PDF";
	/* A zip, as spreadsheets and documents are today, and what they were before. */
	if (n >= 4 && (memcmp(bytes, "PK\3\4", 4) == 0 || memcmp(bytes, "\xd0\xcf\x11\xe0", 4) == 0))
		return "a spreadsheet's own file";
	return NULL;
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
	findings_add(findings, FINDING_STOP, "file-unreadable", file_place(file), "cannot read this file: %s%s",
	             strerror(error), remedy_of_reading(error));
	return NULL;
}

/* A pipe has no length, and one without a writer would be waited for; a device never ends. */
static const struct source_file *refuse_special(const struct source_file *file, struct findings *findings,
                                                enum load_status *status)
{
	*status = LOAD_FAILED;
	findings_add(findings, FINDING_STOP, "file-unreadable", file_place(file),
	             "cannot read this file: it is a pipe or a device; save what it says as a file");
	return NULL;
}

static const struct source_file *refuse_size(const struct source_file *file, struct findings *findings,
                                             enum load_status *status)
{
	*status = load_worse(*status, LOAD_REFUSED);
	findings_add(findings, FINDING_STOP, "too-large", file_place(file),
	             "this file is larger than %d MiB, so it is no list of a clinic; name the right file",
	             FILE_MOST_BYTES / (1024 * 1024));
	return NULL;
}

/* Up to `size` bytes; false with errno where the system would not give them. */
static bool read_bytes(int descriptor, char *bytes, size_t size, size_t *length)
{
	for (*length = 0; *length < size;) {
		ssize_t got = read(descriptor, bytes + *length, size - *length);
		if (got < 0 && errno == EINTR)
			continue;
		if (got < 0)
			return false;
		if (got == 0)
			break;
		*length += (size_t)got;
	}
	return true;
}

static const struct source_file *read_open(struct arena *arena, int descriptor, struct source_file *file,
                                           struct findings *findings, enum load_status *status)
{
	struct stat about;
	if (fstat(descriptor, &about) != 0)
		return fail(file, errno, findings, status);
	if (S_ISDIR(about.st_mode))
		return fail(file, EISDIR, findings, status);
	if (!S_ISREG(about.st_mode))
		return refuse_special(file, findings, status);
	size_t size = about.st_size > 0 ? (size_t)about.st_size : 0;
	if (size > FILE_MOST_BYTES)
		return refuse_size(file, findings, status);
	char *text = arena_alloc(arena, size + 1);
	if (!read_bytes(descriptor, text, size, &file->length))
		return fail(file, errno, findings, status);
	file->text = text;
	return file;
}

const struct source_file *file_read(struct arena *arena, const char *path, bool needed, struct findings *findings,
                                    enum load_status *status)
{
	struct source_file *file = arena_alloc(arena, sizeof *file);
	file->name = arena_strdup(arena, path);
	int descriptor = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
	if (descriptor < 0 && errno == ENOENT && !needed)
		return NULL;
	if (descriptor < 0)
		return fail(file, errno, findings, status);
	const struct source_file *result = read_open(arena, descriptor, file, findings, status);
	close(descriptor);
	return result;
}
