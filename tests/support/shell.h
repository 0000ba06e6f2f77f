/*
 * shell.h - independent tools as witnesses, and a folder of one's own to show them files.
 */
#ifndef SUPPORT_SHELL_H
#define SUPPORT_SHELL_H

#include "base/arena.h"

#include <stddef.h>

/* What a command writes to both outputs, in `arena`. Fails the test when the command does. */
const char *shell(struct arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* A new empty folder, and its removal with all that is in it. */
const char *scratch_folder(struct arena *arena);
void scratch_remove(struct arena *arena, const char *folder);

void write_file(const char *path, const void *bytes, size_t n);

struct file_content {
	const unsigned char *bytes;
	size_t n;
};

struct file_content read_file(struct arena *arena, const char *path);

#endif
