#include "load/signatures.h"

#include "quantity/civil.h"

#include <errno.h>
#include <fcntl.h>
#include <glib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define HEADER "kind,id,seal,who,when\n"

enum { FIELDS = 5, SEAL_LENGTH = 64, MOST_NAME_BYTES = 200 };

/* --- Reading --- */

/*
 * Takes the next field of a line of CSV and moves behind its comma. A field in
 * quotes ends at a quote that is not doubled. False where the line has none.
 */
static bool take_field(struct arena *arena, const char **next, const char *end, const char **field)
{
	if (*next > end)
		return false;
	char *text = arena_alloc(arena, (size_t)(end - *next) + 1);
	size_t n = 0;
	const char *at = *next;
	bool quoted = at < end && *at == '"';
	for (at += quoted; at < end && (quoted || *at != ','); at++) {
		if (quoted && *at == '"') {
			if (at + 1 == end || at[1] != '"')
				break;
			at++;
		}
		text[n++] = *at;
	}
	if (quoted && (at == end || *at++ != '"'))
		return false;
	if (at < end && *at != ',')
		return false;
	*next = at + 1;
	*field = text;
	return true;
}

static bool is_seal(const char *text)
{
	return strlen(text) == SEAL_LENGTH && strspn(text, "0123456789abcdef") == SEAL_LENGTH;
}

static bool read_line(struct arena *arena, const char *line, const char *end, struct signature *signature)
{
	const char *fields[FIELDS];
	const char *next = line;
	struct civil_date date;
	for (size_t i = 0; i < FIELDS; i++)
		if (!take_field(arena, &next, end, &fields[i]))
			return false;
	*signature = (struct signature){fields[0], fields[1], fields[2], fields[3], fields[4]};
	return next > end && *fields[0] && *fields[1] && is_seal(fields[2]) && *fields[3] &&
	       date_read(fields[4], &date);
}

static bool is_header(const char *line, const char *end)
{
	size_t length = strlen(HEADER) - 1;
	return (size_t)(end - line) == length && memcmp(line, HEADER, length) == 0;
}

void read_signatures(struct arena *arena, const struct source_file *file, struct clinic *clinic,
                     struct findings *findings)
{
	struct signature *list = NULL;
	const char *line = file->text;
	const char *last = file->text + file->length;
	for (int number = 1; line < last; number++) {
		const char *newline = memchr(line, '\n', (size_t)(last - line));
		const char *end = newline ? newline : last;
		const char *next = newline ? newline + 1 : last;
		if (end > line && end[-1] == '\r')
			end--;
		struct signature signature;
		bool blank = end == line || (number == 1 && is_header(line, end));
		if (!blank && !memchr(line, '\0', (size_t)(end - line)) && read_line(arena, line, end, &signature)) {
			list = arena_more(arena, list, clinic->n_signatures, sizeof *list);
			list[clinic->n_signatures++] = signature;
		} else if (!blank) {
			findings_add(findings, FINDING_CAUTION, "bad-signature", (struct place){file, number, 1},
			             "this line is no signature and does not count; sign again with 'fillmark sign'");
		}
		line = next;
	}
	clinic->signatures = list;
}

/* --- Asking --- */

struct seal plan_seal(const struct plan *plan)
{
	return (struct seal){.kind = "plan", .id = plan->id, .digest = plan->seal, .place = plan->place};
}

bool seal_signed(const struct clinic *clinic, const struct seal *seal, const char *who)
{
	for (size_t i = 0; i < clinic->n_signatures; i++) {
		const struct signature *signature = &clinic->signatures[i];
		if (strcmp(signature->kind, seal->kind) == 0 && strcmp(signature->id, seal->id) == 0 &&
		    strcmp(signature->seal, seal->digest) == 0 && (!who || signer_same(signature->by, who)))
			return true;
	}
	return false;
}

const char *signer_name(struct arena *arena, const char *who, struct findings *findings)
{
	const struct place nowhere = {0};
	size_t start = strspn(who, " ");
	size_t length = strlen(who + start);
	while (length > 0 && who[start + length - 1] == ' ')
		length--;
	const char *name = arena_strndup(arena, who + start, length);
	const char *fault = NULL;
	if (length == 0)
		fault = "is empty";
	else if (length > MOST_NAME_BYTES)
		fault = "is too long";
	else if (!g_utf8_validate(name, -1, NULL))
		fault = "is not UTF-8";
	for (const char *at = name; !fault && *at; at = g_utf8_next_char(at))
		if (!g_unichar_isprint(g_utf8_get_char(at)))
			fault = "holds a character that cannot be seen";
	if (!fault)
		return name;
	findings_add(findings, FINDING_STOP, "bad-name", nowhere, "the name of who signs %s; write the name", fault);
	return NULL;
}

/* --- Adding --- */

static void put_field(GString *lines, const char *field, char end)
{
	bool quoted = strpbrk(field, ",\"") != NULL;
	if (quoted)
		g_string_append_c(lines, '"');
	for (; *field; field++) {
		if (*field == '"')
			g_string_append_c(lines, '"');
		g_string_append_c(lines, *field);
	}
	if (quoted)
		g_string_append_c(lines, '"');
	g_string_append_c(lines, end);
}

/* What to write before the first new line: the header into a new file, or the line end that an editor left out. */
static const char *missing_start(int file)
{
	struct stat about;
	char last = '\n';
	if (fstat(file, &about) == 0 && about.st_size == 0)
		return HEADER;
	if (pread(file, &last, 1, about.st_size - 1) == 1 && last != '\n')
		return "\n";
	return "";
}

static bool write_lines(const char *path, const GString *lines)
{
	/* Readable by the whole clinic as its folder is: the second person to sign is somebody else. */
	int file = open(path, O_RDWR | O_APPEND | O_CREAT | O_CLOEXEC, 0666);
	if (file < 0)
		return false;
	GString *all = g_string_new(missing_start(file));
	g_string_append_len(all, lines->str, (gssize)lines->len);
	errno = ENOSPC; /* what a short write means where it sets none */
	bool written = write(file, all->str, all->len) == (ssize_t)all->len && fsync(file) == 0;
	g_string_free(all, TRUE);
	int error = errno;
	bool closed = close(file) == 0;
	if (!written)
		errno = error;
	return written && closed;
}

bool signatures_append(struct arena *arena, const char *folder, const struct seal *seals, size_t n, const char *who,
                       const char *when, struct findings *findings)
{
	GString *lines = g_string_new(NULL);
	for (size_t i = 0; i < n; i++) {
		put_field(lines, seals[i].kind, ',');
		put_field(lines, seals[i].id, ',');
		put_field(lines, seals[i].digest, ',');
		put_field(lines, who, ',');
		put_field(lines, when, '\n');
	}
	struct source_file *file = arena_alloc(arena, sizeof *file);
	file->name = path_join(arena, folder, "signatures.csv");
	bool written = n == 0 || write_lines(file->name, lines);
	if (!written)
		findings_add(findings, FINDING_STOP, "file-unwritable", file_place(file), "cannot add to this file: %s",
		             strerror(errno));
	g_string_free(lines, TRUE);
	return written;
}
