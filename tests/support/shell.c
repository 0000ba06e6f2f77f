#include "support/shell.h"

#include "support/cases.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct file_content read_stream(struct arena *arena, FILE *file)
{
	size_t room = 4096;
	size_t n = 0;
	unsigned char *bytes = arena_alloc(arena, room + 1);
	size_t got;
	while ((got = fread(bytes + n, 1, room - n, file)) > 0) {
		n += got;
		if (n < room)
			continue;
		unsigned char *larger = arena_alloc(arena, room * 2 + 1);
		memcpy(larger, bytes, n);
		bytes = larger;
		room *= 2;
	}
	bytes[n] = 0;
	return (struct file_content){bytes, n};
}

const char *shell(struct arena *arena, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	const char *command = arena_vprintf(arena, format, arguments);
	va_end(arguments);
	FILE *file = popen(arena_printf(arena, "(%s) 2>&1", command), "r");
	assert_non_null(file);
	const char *output = (const char *)read_stream(arena, file).bytes;
	int status = pclose(file);
	if (status != 0)
		fail_msg("'%s' ended with status %d: %s", command, status, output);
	return output;
}

const char *scratch_folder(struct arena *arena)
{
	const char *temporary = getenv("TMPDIR");
	char *folder = arena_printf(arena, "%s/fillmark-test-XXXXXX", temporary ? temporary : "/tmp");
	assert_non_null(mkdtemp(folder));
	return folder;
}

void scratch_remove(struct arena *arena, const char *folder)
{
	shell(arena, "rm -rf '%s'", folder);
}

void write_file(const char *path, const void *bytes, size_t n)
{
	FILE *file = fopen(path, "wb");
	assert_non_null(file);
	assert_int_equal(fwrite(bytes, 1, n, file), n);
	assert_int_equal(fclose(file), 0);
}

struct file_content read_file(struct arena *arena, const char *path)
{
	FILE *file = fopen(path, "rb");
	if (!file)
		fail_msg("'%s' cannot be read", path);
	struct file_content content = read_stream(arena, file);
	fclose(file);
	return content;
}
