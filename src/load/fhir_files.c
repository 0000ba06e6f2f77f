#include "load/fhir_files.h"

#include "base/remedy.h"

#include <dirent.h>
#include <errno.h>
#include <glib.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { MOST_BYTES = 16 * 1024 * 1024, MOST_SHELL = 1024 * 1024, MOST_FILES = 500 };

struct fhir_files {
	const char **paths;
	FILE **streams;
	size_t n;
	bool bundle;
	size_t current;
	uint64_t offset;
	uint32_t row;
	GString *bytes; /* of what was found last */
	/* Of a Bundle: all but its entries, and how far into it the scan is. */
	GString *shell;
	GString *key; /* the last string at the Bundle's own level */
	int depth;
	bool in_entries;
};

/* ---- opening ---- */

static bool ends_with(const char *name, const char *ending)
{
	size_t length = strlen(name);
	size_t n = strlen(ending);
	return length > n && strcmp(name + length - n, ending) == 0;
}

static int compare_paths(const void *left, const void *right)
{
	return strcmp(*(const char *const *)left, *(const char *const *)right);
}

static void refuse(struct findings *findings, const char *code, const struct source_file *file, const char *says)
{
	findings_add(findings, FINDING_STOP, code, file_place(file), "%s", says);
}

static void system_failure(struct findings *findings, const struct source_file *file, enum load_status *status)
{
	*status = LOAD_FAILED;
	findings_add(findings, FINDING_STOP, "file-unreadable", file_place(file), "cannot read this: %s%s",
	             strerror(errno), remedy_of_reading(errno));
}

/* False where another file lies there: what is in it would be left out. */
static bool list_folder(struct arena *run, struct fhir_files *files, const char *path, DIR *folder)
{
	for (struct dirent *entry; (entry = readdir(folder)) != NULL;) {
		if (entry->d_name[0] == '.')
			continue;
		if (!ends_with(entry->d_name, ".ndjson") || files->n == MOST_FILES)
			return false;
		files->paths = arena_more(run, files->paths, files->n, sizeof *files->paths);
		files->paths[files->n++] = path_join(run, path, entry->d_name);
	}
	if (files->n > 1)
		qsort(files->paths, files->n, sizeof *files->paths, compare_paths);
	return files->n > 0;
}

static bool find_paths(struct arena *run, struct fhir_files *files, const char *path, const struct source_file *file,
                       struct findings *findings)
{
	DIR *folder = opendir(path);
	if (folder != NULL) {
		bool good = list_folder(run, files, path, folder);
		closedir(folder);
		if (!good)
			refuse(findings, "wrong-ending", file,
			       "a folder of a bulk export holds .ndjson files and nothing else; move the rest away");
		return good;
	}
	files->bundle = ends_with(path, ".json");
	files->paths = arena_more(run, files->paths, 0, sizeof *files->paths);
	files->paths[files->n++] = path;
	if (files->bundle || ends_with(path, ".ndjson"))
		return true;
	refuse(findings, "wrong-ending", file,
	       "the map says 'intake: fhir', and this is neither a Bundle's .json, nor .ndjson, nor a folder of such");
	return false;
}

static void skip_mark(struct fhir_files *files, FILE *stream)
{
	static const char mark[] = "\xef\xbb\xbf";
	char bytes[3];
	if (fread(bytes, 1, sizeof bytes, stream) == sizeof bytes && memcmp(bytes, mark, sizeof bytes) == 0)
		files->offset = sizeof bytes;
	else
		rewind(stream);
}

/* JSON is UTF-8; in anything else every line would be refused for itself. */
static bool is_utf8(FILE *stream)
{
	unsigned char bytes[WIDE_TEXT_BYTES];
	ssize_t n = pread(fileno(stream), bytes, sizeof bytes, 0);
	return n <= 0 || wide_text_of(bytes, (size_t)n) == WIDE_NONE;
}

static bool check_utf8(const struct fhir_files *files, const struct source_file *file, struct findings *findings)
{
	for (size_t i = 0; i < files->n; i++)
		if (!is_utf8(files->streams[i])) {
			refuse(findings, "not-utf8", file, "this export is UTF-16 or UTF-32; export it as UTF-8");
			return false;
		}
	return true;
}

struct fhir_files *fhir_files_open(struct arena *run, const char *path, const struct source_file *file,
                                   struct findings *findings, enum load_status *status)
{
	struct fhir_files *files = arena_alloc(run, sizeof *files);
	if (!find_paths(run, files, path, file, findings))
		return NULL;
	files->streams = arena_alloc(run, files->n * sizeof *files->streams);
	files->bytes = g_string_new(NULL);
	files->shell = g_string_new(NULL);
	files->key = g_string_new(NULL);
	for (size_t i = 0; i < files->n; i++) {
		files->streams[i] = fopen(files->paths[i], "rb");
		struct stat about;
		if (files->streams[i] != NULL && fstat(fileno(files->streams[i]), &about) == 0 &&
		    S_ISREG(about.st_mode))
			continue;
		errno = errno != 0 ? errno : EINVAL;
		system_failure(findings, file, status);
		fhir_files_free(files);
		return NULL;
	}
	if (!check_utf8(files, file, findings)) {
		fhir_files_free(files);
		return NULL;
	}
	skip_mark(files, files->streams[0]);
	return files;
}

void fhir_files_free(struct fhir_files *files)
{
	for (size_t i = 0; i < files->n; i++)
		if (files->streams[i] != NULL)
			fclose(files->streams[i]);
	g_string_free(files->bytes, TRUE);
	g_string_free(files->shell, TRUE);
	g_string_free(files->key, TRUE);
}

/* ---- lines ---- */

static struct fhir_found found_at(const struct fhir_files *files, uint64_t offset)
{
	return (struct fhir_found){.file = (uint32_t)files->current,
	                           .row = files->row,
	                           .offset = offset,
	                           .length = (uint32_t)files->bytes->len,
	                           .bytes = files->bytes->str};
}

static bool is_blank(const GString *bytes)
{
	return strspn(bytes->str, " \t\r\n") == bytes->len;
}

static enum fhir_next next_line(struct fhir_files *files, struct fhir_found *found)
{
	while (files->current < files->n) {
		FILE *stream = files->streams[files->current];
		uint64_t offset = files->offset;
		int c = 0;
		g_string_truncate(files->bytes, 0);
		while (c != '\n' && files->bytes->len <= MOST_BYTES && (c = getc_unlocked(stream)) != EOF)
			g_string_append_c(files->bytes, (char)c);
		files->offset += files->bytes->len;
		if (ferror(stream))
			return FHIR_FAILED;
		if (files->bytes->len > 0)
			files->row++;
		*found = found_at(files, offset);
		if (files->bytes->len > MOST_BYTES)
			return FHIR_TOO_LONG;
		if (files->bytes->len > 0 && !is_blank(files->bytes))
			return FHIR_FOUND;
		if (c == EOF) {
			files->current++;
			files->offset = 0;
			if (files->current < files->n)
				skip_mark(files, files->streams[files->current]);
		}
	}
	return FHIR_END;
}

/* ---- a Bundle's entries ---- */

static int next_byte(struct fhir_files *files)
{
	int c = getc_unlocked(files->streams[0]);
	files->offset += c != EOF;
	return c;
}

/* From the quote on to the one that ends it; into `out`, and its inside into `inside`. */
static int copy_string(struct fhir_files *files, GString *out, GString *inside, size_t most)
{
	int c;
	if (inside != NULL)
		g_string_truncate(inside, 0);
	while ((c = next_byte(files)) != EOF && out->len <= most) {
		g_string_append_c(out, (char)c);
		if (c == '"')
			break;
		if (inside != NULL && inside->len < 16)
			g_string_append_c(inside, (char)c);
		if (c == '\\' && (c = next_byte(files)) != EOF)
			g_string_append_c(out, (char)c);
	}
	return c;
}

/* An entry from its bracket on to the one that closes it. */
static enum fhir_next copy_entry(struct fhir_files *files, struct fhir_found *found)
{
	uint64_t offset = files->offset - 1;
	int depth = 1;
	int c = '{';
	g_string_assign(files->bytes, "{");
	files->row++;
	while (depth > 0 && files->bytes->len <= MOST_BYTES && (c = next_byte(files)) != EOF) {
		g_string_append_c(files->bytes, (char)c);
		if (c == '"' && copy_string(files, files->bytes, NULL, MOST_BYTES) == EOF)
			return FHIR_BROKEN;
		depth += (c == '{' || c == '[') - (c == '}' || c == ']');
	}
	*found = found_at(files, offset);
	if (files->bytes->len > MOST_BYTES)
		return FHIR_TOO_LONG;
	return c == EOF ? FHIR_BROKEN : FHIR_FOUND;
}

static enum fhir_next next_entry(struct fhir_files *files, struct fhir_found *found)
{
	int c;
	while ((c = next_byte(files)) != EOF && files->shell->len <= MOST_SHELL) {
		if (files->in_entries && files->depth == 2 && c == '{') {
			g_string_append(files->shell, "{}");
			return copy_entry(files, found);
		}
		g_string_append_c(files->shell, (char)c);
		if (c == '"' &&
		    copy_string(files, files->shell, files->depth == 1 ? files->key : NULL, MOST_SHELL) == EOF)
			return FHIR_BROKEN;
		if ((c == '[' || c == '{') && files->depth == 1)
			files->in_entries = c == '[' && strcmp(files->key->str, "entry") == 0;
		files->depth += (c == '{' || c == '[') - (c == '}' || c == ']');
	}
	if (ferror(files->streams[0]))
		return FHIR_FAILED;
	return c == EOF && files->depth == 0 ? FHIR_END : FHIR_BROKEN;
}

enum fhir_next fhir_files_next(struct fhir_files *files, struct fhir_found *found)
{
	return files->bundle ? next_entry(files, found) : next_line(files, found);
}

bool fhir_files_bundle(const struct fhir_files *files)
{
	return files->bundle;
}

const char *fhir_files_shell(const struct fhir_files *files, size_t *length)
{
	*length = files->shell->len;
	return files->shell->str;
}

const char *fhir_files_bytes(struct fhir_files *files, struct arena *arena, uint32_t file, uint64_t offset,
                             uint32_t length)
{
	char *bytes = arena_alloc(arena, (size_t)length + 1);
	for (size_t at = 0; at < length;) {
		ssize_t n = pread(fileno(files->streams[file]), bytes + at, length - at, (off_t)(offset + at));
		if (n < 0 && errno == EINTR)
			continue;
		if (n <= 0) {
			errno = n < 0 ? errno : EIO;
			return NULL;
		}
		at += (size_t)n;
	}
	return bytes;
}
