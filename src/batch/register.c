#include "batch/register.h"

#include "base/write.h"

#include <errno.h>
#include <fcntl.h>
#include <glib.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#define HEADER "code,record,version,as_of\n"

enum { HEADER_LENGTH = sizeof HEADER - 1 };

struct issued_register {
	const char *path;
	int file;
	GHashTable *lines; /* digests of those that are there: eight bytes each, not the lines */
	GString *added;
	bool foreign; /* its first line is none of ours: what it lists is not known */
};

static void fail(const struct issued_register *issued, struct findings *findings)
{
	if (issued->foreign) {
		findings_add(
			findings, FINDING_STOP, "register-unwritable", (struct place){.file = NULL},
			"the first line of '%s' is not '%.*s', so it is no list of sheets; move it away, or leave it "
			"alone by --no-register",
			issued->path, HEADER_LENGTH - 1, HEADER);
		return;
	}
	findings_add(findings, FINDING_STOP, "register-unwritable", (struct place){.file = NULL},
	             "'%s' cannot be read or written: %s; mend that, or leave it alone by --no-register", issued->path,
	             strerror(errno));
}

/* Two lines of one digest would leave one out: with sixty-four bits, that does not happen. */
static gpointer digest(const char *line, size_t length)
{
	guint64 hash = 0;
	guint8 bytes[32];
	gsize n = sizeof bytes;
	GChecksum *checksum = g_checksum_new(G_CHECKSUM_SHA256);
	g_checksum_update(checksum, (const guchar *)line, (gssize)length);
	g_checksum_get_digest(checksum, bytes, &n);
	g_checksum_free(checksum);
	memcpy(&hash, bytes, sizeof hash);
	return GSIZE_TO_POINTER((gsize)hash);
}

static bool read_lines(struct issued_register *issued)
{
	FILE *stream = fdopen(dup(issued->file), "r");
	char *line = NULL;
	size_t room = 0;
	ssize_t length;
	char last = '\n';
	if (stream == NULL)
		return false;
	rewind(stream);
	while ((length = getline(&line, &room, stream)) > 0) {
		last = line[length - 1];
		if (g_hash_table_size(issued->lines) == 0)
			issued->foreign = strncmp(line, HEADER, HEADER_LENGTH - 1) != 0;
		g_hash_table_add(issued->lines, digest(line, (size_t)length - (last == '\n')));
	}
	bool good = !ferror(stream);
	free(line);
	fclose(stream);
	if (g_hash_table_size(issued->lines) == 0)
		g_string_append(issued->added, HEADER);
	else if (last != '\n')
		g_string_append_c(issued->added, '\n'); /* the end that an editor left out */
	return good && !issued->foreign;
}

struct issued_register *register_open(struct arena *run, const char *clinic_folder, struct findings *findings)
{
	struct issued_register *issued = arena_alloc(run, sizeof *issued);
	issued->path = arena_printf(run, "%s/issued.csv", clinic_folder);
	issued->file = open(issued->path, O_RDWR | O_APPEND | O_CREAT | O_CLOEXEC, 0600);
	issued->lines = g_hash_table_new(NULL, NULL);
	issued->added = g_string_new(NULL);
	if (issued->file >= 0 && flock(issued->file, LOCK_EX) == 0 && read_lines(issued))
		return issued;
	fail(issued, findings);
	register_close(issued, NULL);
	return NULL;
}

static void put(GString *line, const char *text, char end)
{
	bool quoted = strpbrk(text, ",\"\r\n") != NULL;
	if (quoted)
		g_string_append_c(line, '"');
	for (; *text != '\0'; text++) {
		if (*text == '"')
			g_string_append_c(line, '"');
		g_string_append_c(line, *text);
	}
	if (quoted)
		g_string_append_c(line, '"');
	if (end != '\0')
		g_string_append_c(line, end);
}

void register_add(struct issued_register *issued, const char *code, const char *record, long long version,
                  const char *as_of)
{
	GString *line = g_string_new(NULL);
	put(line, code, ',');
	put(line, record, ',');
	g_string_append_printf(line, "%lld,", version);
	put(line, as_of, '\0');
	if (g_hash_table_add(issued->lines, digest(line->str, line->len)))
		g_string_append_printf(issued->added, "%s\n", line->str);
	g_string_free(line, TRUE);
}

bool register_close(struct issued_register *issued, struct findings *findings)
{
	bool good = findings == NULL ||
	            (write_all(issued->file, issued->added->str, issued->added->len) && fsync(issued->file) == 0);
	if (!good)
		fail(issued, findings);
	if (issued->file >= 0)
		close(issued->file);
	g_hash_table_destroy(issued->lines);
	g_string_free(issued->added, TRUE);
	return good;
}
