#include "batch/run.h"
#include "load/disk_array.h"
#include "load/intake_index.h"

#include <dirent.h>
#include <glib.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char *const parts[] = {"packets", "plans"};

/* "packets/x.pdf.Ab12Cd": what a worker was writing when it was killed; no name of ours ends so. */
static bool is_cut_off(const char *name)
{
	size_t length = strlen(name);
	if (length < 12)
		return false;
	const char *end = name + length - 7;
	return end[0] == '.' && (strncmp(end - 4, ".pdf", 4) == 0 || strncmp(end - 5, ".yaml", 5) == 0);
}

static void sweep_cut_off(struct run *run, const char *part, const char *beginning)
{
	const char *path = out_path(run->arena, &run->folder, part);
	DIR *directory = opendir(path);
	if (directory == NULL)
		return;
	for (struct dirent *entry; (entry = readdir(directory)) != NULL;)
		if (g_str_has_prefix(entry->d_name, beginning) && is_cut_off(entry->d_name))
			unlink(arena_printf(run->arena, "%s/%s", path, entry->d_name));
	closedir(directory);
}

void run_sweep_cut_off(struct run *run)
{
	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
		sweep_cut_off(run, parts[i], "");
	sweep_cut_off(run, ".", "print-run-");
}

/* ---- what no outcome names ---- */

static bool add_name(struct disk_array *names, const char *name)
{
	struct index_key key = index_key_of(name == NULL ? "" : name);
	return disk_array_add(names, &key);
}

static bool some_died(struct run *run)
{
	for (size_t number = 0; number < intake_count(run->intake); number++) {
		struct outcome outcome;
		arena_reset(run->patient);
		if (!journal_get(run->journal, run->patient, number, &outcome))
			continue;
		for (size_t i = 0; i < outcome.n_reasons; i++)
			if (strcmp(outcome.reasons[i].code, run_worker_died) == 0)
				return true;
	}
	return false;
}

/* The files of all outcomes, and the plans that their plans replace. */
static bool collect_names(struct run *run, struct disk_array *names)
{
	for (size_t number = 0; number < intake_count(run->intake); number++) {
		struct outcome outcome;
		arena_reset(run->patient);
		if (!journal_get(run->journal, run->patient, number, &outcome))
			continue;
		const char *plan = outcome.sheet.plan == NULL ? "" : outcome.sheet.plan;
		if (!add_name(names, outcome.file))
			return false;
		for (size_t i = 0; *plan != '\0' && i < RUN_MOST_VERSIONS; i++) {
			if (!add_name(names, plan))
				return false;
			plan = run_earlier(run, run->patient, plan);
		}
	}
	return true;
}

static void drop_others(struct run *run, const char *part, const struct index_key *names, size_t n)
{
	DIR *directory = opendir(out_path(run->arena, &run->folder, part));
	if (directory == NULL)
		return;
	for (struct dirent *entry; (entry = readdir(directory)) != NULL;) {
		arena_reset(run->patient);
		const char *name = arena_printf(run->patient, "%s/%s", part, entry->d_name);
		struct index_key key = index_key_of(name);
		bool ours = g_str_has_suffix(name, ".pdf") || g_str_has_suffix(name, ".yaml");
		if (ours && bsearch(&key, names, n, sizeof key, index_key_compare) == NULL)
			unlink(out_path(run->patient, &run->folder, name));
	}
	closedir(directory);
}

bool run_sweep_unnamed(struct run *run)
{
	if (!some_died(run))
		return true;
	struct disk_array *names = disk_array_new(run->folder.path, sizeof(struct index_key));
	bool good = names != NULL && collect_names(run, names);
	const struct index_key *list = good ? disk_array_map(names) : NULL;
	if (list != NULL) {
		disk_array_sort(names, index_key_compare);
		for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
			drop_others(run, parts[i], list, disk_array_count(names));
		run_sweep_cut_off(run);
	}
	disk_array_free(names);
	return list != NULL || run_failed(run, run->folder.path);
}
