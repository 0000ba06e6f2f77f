#include "batch/run_file.h"

#include "base/remedy.h"

#include <dirent.h>
#include <errno.h>
#include <glib.h>
#include <jansson.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define NAME "run.json"

/* ---- digests of folders: the name and bytes of every file, in the order of names ---- */

static int compare_names(const void *left, const void *right)
{
	return strcmp(*(const char *const *)left, *(const char *const *)right);
}

static bool is_folder(const char *path)
{
	struct stat about;
	return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}

static bool add_path(struct arena *arena, GChecksum *checksum, const char *path, const char *name);

static bool add_folder(struct arena *arena, GChecksum *checksum, const char *path, const char *name)
{
	DIR *directory = opendir(path);
	const char **names = NULL;
	size_t n = 0;
	if (directory == NULL)
		return false;
	for (struct dirent *entry; (entry = readdir(directory)) != NULL;) {
		if (entry->d_name[0] == '.')
			continue; /* an editor's own */
		names = arena_more(arena, names, n, sizeof *names);
		names[n++] = arena_strdup(arena, entry->d_name);
	}
	closedir(directory);
	if (n > 1)
		qsort(names, n, sizeof *names, compare_names);
	for (size_t i = 0; i < n; i++)
		if (!add_path(arena, checksum, arena_printf(arena, "%s/%s", path, names[i]),
		              arena_printf(arena, "%s/%s", name, names[i])))
			return false;
	return true;
}

/* A path that is not there adds nothing. */
static bool add_path(struct arena *arena, GChecksum *checksum, const char *path, const char *name)
{
	if (is_folder(path))
		return add_folder(arena, checksum, path, name);
	const char *digest = out_digest(arena, path);
	if (digest == NULL)
		return errno == ENOENT;
	g_checksum_update(checksum, (const guchar *)name, (gssize)strlen(name) + 1);
	g_checksum_update(checksum, (const guchar *)digest, (gssize)strlen(digest) + 1);
	return true;
}

static const char *digest_of(struct arena *arena, const char *folder, const char *const *names, size_t n)
{
	GChecksum *checksum = g_checksum_new(G_CHECKSUM_SHA256);
	bool good = true;
	for (size_t i = 0; good && i < n; i++)
		good = add_path(arena, checksum, arena_printf(arena, "%s/%s", folder, names[i]), names[i]);
	const char *digest = good ? arena_strdup(arena, g_checksum_get_string(checksum)) : NULL;
	g_checksum_free(checksum);
	return digest;
}

/* A file, or a folder of several. */
static const char *intake_digest(struct arena *arena, const char *path)
{
	static const char *const here[] = {"."};
	return is_folder(path) ? digest_of(arena, path, here, 1) : out_digest(arena, path);
}

/* What the program reads of each; the register of issued sheets is written and not read. */
static const char *const clinic_names[] = {"clinic.yaml", "formulary.yaml", "syringes.yaml", "signatures.csv",
                                           "protocols",   "words",          "templates"};
static const char *const data_names[] = {"templates", "fonts"};
static const char *const previous_names[] = {"ledger.csv", "vanished.csv"};

#define COUNT(list) (sizeof(list) / sizeof *(list))

/* ---- the file ---- */

static bool put_digest(json_t *object, const char *key, const char *digest, const char *path, struct findings *findings)
{
	if (digest == NULL) {
		findings_add(findings, FINDING_STOP, "file-unreadable", (struct place){.file = NULL},
		             "'%s' cannot be read: %s%s", path, strerror(errno), remedy_of_reading(errno));
		return false;
	}
	json_object_set_new(object, key, json_string(digest));
	return true;
}

static void put_options(json_t *object, const struct run_inputs *inputs)
{
	json_object_set_new(object, "as_of", inputs->as_of == NULL ? json_null() : json_string(inputs->as_of));
	json_object_set_new(object, "mono", json_boolean(inputs->mono));
	json_object_set_new(object, "print_run", json_boolean(inputs->print_run));
	json_object_set_new(object, "name_by_code", json_boolean(inputs->name_by_code));
	json_object_set_new(object, "shard", json_integer(inputs->shard));
	json_object_set_new(object, "shards", json_integer(inputs->shards));
}

const char *run_file_text(struct arena *run, const struct run_inputs *inputs, struct findings *findings)
{
	json_t *object = json_object();
	json_object_set_new(object, "fillmark", json_string(FILLMARK_VERSION));
	const char *program = out_digest(run, "/proc/self/exe");
	json_object_set_new(object, "program", json_string(program == NULL ? "" : program));
	bool good = put_digest(object, "intake", intake_digest(run, inputs->intake), inputs->intake, findings) &&
	            put_digest(object, "map", out_digest(run, inputs->map), inputs->map, findings) &&
	            put_digest(object, "clinic", digest_of(run, inputs->clinic, clinic_names, COUNT(clinic_names)),
	                       inputs->clinic, findings) &&
	            put_digest(object, "data", digest_of(run, inputs->data, data_names, COUNT(data_names)),
	                       inputs->data, findings);
	if (good && inputs->previous != NULL)
		good = put_digest(object, "previous",
		                  digest_of(run, inputs->previous, previous_names, COUNT(previous_names)),
		                  inputs->previous, findings);
	put_options(object, inputs);
	char *text = json_dumps(object, JSON_INDENT(1));
	const char *copy = good ? arena_printf(run, "%s\n", text) : NULL;
	free(text);
	json_decref(object);
	return copy;
}

static bool same_key(const json_t *before, const json_t *now, const char *key)
{
	const json_t *a = json_object_get(before, key);
	const json_t *b = json_object_get(now, key);
	return a == b || json_equal(a, b);
}

bool run_file_same(struct arena *run, const struct out_folder *folder, const char *text, struct findings *findings)
{
	static const struct {
		const char *key;
		const char *says;
	} keys[] = {{"intake", "the intake"},          {"map", "the map"},
	            {"clinic", "the clinic's folder"}, {"data", "the program's words, steps or fonts"},
	            {"fillmark", "the program"},       {"program", "the program"},
	            {"previous", "the earlier run"}};
	json_t *before = json_load_file(out_path(run, folder, NAME), 0, NULL);
	json_t *now = json_loads(text, 0, NULL);
	const char *differs = json_equal(before, now) ? NULL : "an option";
	for (size_t i = 0; differs != NULL && i < COUNT(keys); i++)
		if (!same_key(before, now, keys[i].key)) {
			differs = keys[i].says;
			break;
		}
	json_decref(before);
	json_decref(now);
	if (differs == NULL)
		return true;
	findings_add(findings, FINDING_STOP, "run-differs", (struct place){.file = NULL},
	             "'%s' was begun with something else: %s differs; name another folder, or go on with what it was",
	             folder->path, differs);
	return false;
}

bool run_file_write(struct arena *run, const struct out_folder *folder, const char *text, struct findings *findings)
{
	struct out_file file;
	if (out_file_begin(run, folder, NAME, &file)) {
		fputs(text, file.stream);
		if (out_file_end(&file, true))
			return true;
	}
	findings_add(findings, FINDING_STOP, "file-unwritable", (struct place){.file = NULL},
	             "nothing can be written to '%s': %s%s", folder->path, strerror(errno), remedy_of_writing(errno));
	return false;
}
