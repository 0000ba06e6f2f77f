#include "batch/joined.h"

#include "batch/out_folder.h"
#include "batch/outcome.h"
#include "load/csv_rows.h"
#include "load/disk_array.h"
#include "load/intake_index.h"

#include <errno.h>
#include <jansson.h>
#include <string.h>
#include <unistd.h>

/* The columns of a ledger that are looked at. */
static const char *const columns[] = {"record", "outcome", "code", "file", "sha256", "plan", "plan_sha256"};

enum { RECORD, OUTCOME, CODE, FILE_NAME, SHA256, PLAN, PLAN_SHA256, COLUMNS };

/* One of the folders. */
struct part {
	const char *path;
	struct source_file ledger;
	struct csv_reader *reader;
	int positions[COLUMNS];
};

/* A line of a ledger: enough to find others like it, and to read it again. */
struct line {
	char code[16]; /* "": this patient has no sheet */
	struct index_key record;
	uint64_t offset;
	uint32_t row;
	uint32_t part;
};

struct joining {
	struct arena *run;
	struct arena *patient;
	struct part *parts;
	size_t n;
	struct disk_array *lines;
	struct batch_count *count;
	struct findings *findings;
};

bool joined_is_run(struct arena *arena, const char *path)
{
	return access(arena_printf(arena, "%s/run.json", path), F_OK) == 0;
}

/* ---- are they of one run? ---- */

static json_t *read_run(struct joining *joining, size_t index)
{
	const char *path = arena_printf(joining->run, "%s/run.json", joining->parts[index].path);
	json_t *json = json_load_file(path, 0, NULL);
	if (!json_is_object(json))
		findings_add(joining->findings, FINDING_STOP, "run-unreadable", (struct place){.file = NULL},
		             "'%s' is no run.json; the folder is damaged, so make its run again", path);
	return json;
}

static long long taken(json_t *run, const char *key)
{
	long long number = json_integer_value(json_object_get(run, key));
	json_object_del(run, key);
	return number;
}

/* Of `shards`, each once. */
static void check_shards(struct joining *joining, const long long *shard, long long shards)
{
	for (long long wanted = 1; wanted <= shards; wanted++) {
		size_t found = 0;
		for (size_t i = 0; i < joining->n; i++)
			found += shard[i] == wanted;
		if (found == 1)
			continue;
		findings_add(joining->findings, FINDING_STOP, found == 0 ? "shard-missing" : "shard-twice",
		             (struct place){.file = NULL},
		             found == 0 ? "shard %lld of %lld is not among these folders; name it too"
		                        : "shard %lld of %lld is there twice; name one of the folders",
		             wanted, shards);
	}
	if (shards == 0 && joining->n > 1)
		findings_add(joining->findings, FINDING_STOP, "shard-twice", (struct place){.file = NULL},
		             "these folders are whole runs of the same intake; name one of them");
}

static void check_runs(struct joining *joining)
{
	long long *shard = arena_alloc(joining->run, joining->n * sizeof *shard);
	json_t *first = read_run(joining, 0);
	shard[0] = taken(first, "shard");
	for (size_t i = 1; i < joining->n; i++) {
		json_t *other = read_run(joining, i);
		shard[i] = taken(other, "shard");
		if (!json_equal(first, other))
			findings_add(joining->findings, FINDING_STOP, "runs-differ", (struct place){.file = NULL},
			             "'%s' and '%s' are not runs of the same inputs, program and options; check them "
			             "one by one",
			             joining->parts[0].path, joining->parts[i].path);
		json_decref(other);
	}
	long long shards = taken(first, "shards");
	json_decref(first);
	if (!findings_stop(joining->findings))
		check_shards(joining, shard, shards);
}

/* ---- the ledgers ---- */

static bool open_ledger(struct joining *joining, struct part *part, const char *path)
{
	const struct csv_form form = {.delimiter = ',', .encoding = ENCODING_UTF8};
	enum csv_opened opened;
	struct csv_row row;
	size_t length = strlen(path);
	while (length > 1 && path[length - 1] == '/')
		length--;
	part->path = arena_strndup(joining->run, path, length);
	part->ledger.name = arena_printf(joining->run, "%s/ledger.csv", part->path);
	part->reader = csv_reader_new(part->ledger.name, form, &opened);
	bool good = part->reader != NULL && csv_reader_next(part->reader, &row);
	for (int i = 0; good && i < COLUMNS; i++) {
		part->positions[i] = -1;
		for (size_t j = 0; j < row.n; j++)
			if (strcmp(row.cells[j], columns[i]) == 0)
				part->positions[i] = (int)j;
		good = part->positions[i] >= 0;
	}
	if (!good)
		findings_add(joining->findings, FINDING_STOP, "run-unfinished", (struct place){.file = NULL},
		             "'%s' has no ledger.csv that can be read; end that run by --resume", part->path);
	return good;
}

static const char *cell(const struct part *part, const struct csv_row *row, int column)
{
	size_t position = (size_t)part->positions[column];
	return position < row->n ? row->cells[position] : "";
}

static void check_file(struct joining *joining, const struct part *part, const struct csv_row *row, int name,
                       int digest)
{
	const char *file = cell(part, row, name);
	const char *wanted = cell(part, row, digest);
	if (*file == '\0' || *wanted == '\0')
		return;
	const char *found = out_digest(joining->patient, arena_printf(joining->patient, "%s/%s", part->path, file));
	const struct place place = {&part->ledger, (int)row->number, 0};
	if (found == NULL || strcmp(found, wanted) != 0)
		findings_add(joining->findings, FINDING_STOP, "file-altered", place,
		             "'%s' is %s; make it again by --resume", file,
		             found == NULL ? "not there" : "not as it was made");
}

static bool take_row(struct joining *joining, size_t index, const struct csv_row *row)
{
	const struct part *part = &joining->parts[index];
	const char *outcome = cell(part, row, OUTCOME);
	struct line line = {.record = index_key_of(cell(part, row, RECORD)),
	                    .offset = row->offset,
	                    .row = row->number,
	                    .part = (uint32_t)index};
	strncpy(line.code, cell(part, row, CODE), sizeof line.code - 1);
	joining->count->patients++;
	joining->count->packets += strcmp(outcome, outcome_name(OUTCOME_PACKET)) == 0;
	joining->count->unchanged += strcmp(outcome, outcome_name(OUTCOME_UNCHANGED)) == 0;
	joining->count->refused += strcmp(outcome, outcome_name(OUTCOME_REFUSED)) == 0;
	check_file(joining, part, row, FILE_NAME, SHA256);
	check_file(joining, part, row, PLAN, PLAN_SHA256);
	return disk_array_add(joining->lines, &line);
}

static bool read_ledgers(struct joining *joining)
{
	for (size_t i = 0; i < joining->n; i++) {
		struct csv_row row;
		while (csv_reader_next(joining->parts[i].reader, &row)) {
			arena_reset(joining->patient);
			if (!take_row(joining, i, &row))
				return false;
		}
		if (errno != 0)
			return false;
	}
	return true;
}

/* ---- lines that may not be two ---- */

static int compare_places(const struct line *a, const struct line *b)
{
	if (a->part != b->part)
		return a->part < b->part ? -1 : 1;
	return a->row < b->row ? -1 : a->row > b->row;
}

static int compare_codes(const void *left, const void *right)
{
	const struct line *a = left;
	const struct line *b = right;
	int by_code = strcmp(a->code, b->code);
	return by_code != 0 ? by_code : compare_places(a, b);
}

static int compare_records(const void *left, const void *right)
{
	const struct line *a = left;
	const struct line *b = right;
	int by_record = index_key_compare(&a->record, &b->record);
	return by_record != 0 ? by_record : compare_places(a, b);
}

/* "a/ledger.csv:7" */
static const char *place_name(const struct joining *joining, const struct line *line)
{
	return arena_printf(joining->run, "%s:%u", joining->parts[line->part].ledger.name, line->row);
}

static void refuse_two(const struct joining *joining, const char *code, const struct line *first,
                       const struct line *second)
{
	const struct place place = {&joining->parts[second->part].ledger, (int)second->row, 0};
	if (strcmp(code, "code-twice") == 0)
		findings_add(joining->findings, FINDING_STOP, code, place,
		             "this sheet and that of %s have one code, %s; hand out neither, and make one of the two "
		             "by itself, on another day",
		             place_name(joining, first), second->code);
	else
		findings_add(joining->findings, FINDING_STOP, code, place,
		             "this record stands in %s too; hand out neither, and find out whose it is",
		             place_name(joining, first));
}

static void compare_lines(const struct joining *joining)
{
	const struct line *lines = disk_array_map(joining->lines);
	size_t n = lines == NULL ? 0 : disk_array_count(joining->lines);
	if (n == 0)
		return;
	disk_array_sort(joining->lines, compare_codes);
	for (size_t i = 1; i < n; i++)
		if (lines[i].code[0] != '\0' && strcmp(lines[i].code, lines[i - 1].code) == 0)
			refuse_two(joining, "code-twice", &lines[i - 1], &lines[i]);
	disk_array_sort(joining->lines, compare_records);
	for (size_t i = 1; i < n; i++)
		if (index_key_compare(&lines[i].record, &lines[i - 1].record) == 0)
			refuse_two(joining, "record-twice", &lines[i - 1], &lines[i]);
}

/* ---- the whole ---- */

static bool check_lines(struct joining *joining, const char *folder)
{
	joining->lines = disk_array_new(folder, sizeof(struct line));
	bool good = joining->lines != NULL && read_ledgers(joining);
	if (good)
		compare_lines(joining);
	else
		findings_add(joining->findings, FINDING_STOP, "file-unreadable", (struct place){.file = NULL},
		             "the ledgers cannot be read, or nothing be written to '%s': %s", folder, strerror(errno));
	disk_array_free(joining->lines);
	return good;
}

bool joined_check(struct arena *run, struct arena *patient, const char *const *paths, size_t n, const char *folder,
                  struct batch_count *count, struct findings *findings)
{
	struct joining joining = {.run = run,
	                          .patient = patient,
	                          .parts = arena_alloc(run, n * sizeof *joining.parts),
	                          .n = n,
	                          .count = count,
	                          .findings = findings};
	bool open = true;
	for (size_t i = 0; i < n; i++)
		open = open_ledger(&joining, &joining.parts[i], paths[i]) && open;
	bool good = true;
	if (open) {
		check_runs(&joining);
		good = check_lines(&joining, folder);
	}
	for (size_t i = 0; i < n; i++)
		csv_reader_free(joining.parts[i].reader);
	return good;
}
