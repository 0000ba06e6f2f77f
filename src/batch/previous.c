#include "batch/previous.h"

#include "base/remedy.h"
#include "load/csv_rows.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

static const char *const tables[] = {"ledger.csv", "vanished.csv"};

enum { TABLES = 2 };

/* The columns that are looked at. */
static const char *const columns[] = {"record", "code", "version",     "as_of", "state",
                                      "order",  "plan", "plan_sha256", "nights"};

enum { RECORD, CODE, VERSION, AS_OF, STATE, ORDER, PLAN, PLAN_SHA256, NIGHTS, COLUMNS };

struct previous {
	const char *path;
	struct csv_reader *readers[TABLES];
	int positions[TABLES][COLUMNS]; /* -1: the table has no such column */
	struct intake_index *index;
};

static void refuse(struct previous *previous, struct findings *findings, enum load_status *status)
{
	findings_add(findings, FINDING_STOP, "previous-unfinished", (struct place){.file = NULL},
	             "'%s' is not the folder of a finished run; name one with its ledger.csv", previous->path);
	*status = load_worse(*status, LOAD_REFUSED);
}

static const char *cell(const struct previous *previous, int table, const struct csv_row *row, int column)
{
	int position = previous->positions[table][column];
	return position >= 0 && (size_t)position < row->n ? row->cells[position] : "";
}

static bool read_heading(struct previous *previous, int table)
{
	struct csv_row row;
	if (!csv_reader_next(previous->readers[table], &row))
		return false;
	for (int i = 0; i < COLUMNS; i++) {
		previous->positions[table][i] = -1;
		for (size_t j = 0; j < row.n; j++)
			if (strcmp(row.cells[j], columns[i]) == 0)
				previous->positions[table][i] = (int)j;
	}
	return previous->positions[table][RECORD] >= 0 && previous->positions[table][ORDER] >= 0;
}

static bool index_table(struct previous *previous, int table)
{
	struct csv_row row;
	while (csv_reader_next(previous->readers[table], &row)) {
		const char *record = cell(previous, table, &row, RECORD);
		struct index_piece piece = {.offset = row.offset,
		                            .length = row.length,
		                            .row = row.number,
		                            .file = (uint32_t)table,
		                            .record = index_key_of(record)};
		if (*cell(previous, table, &row, CODE) != '\0' && !intake_index_add(previous->index, &piece))
			return false;
	}
	return errno == 0;
}

struct previous *previous_open(struct arena *run, const char *path, const char *folder, struct findings *findings,
                               enum load_status *status)
{
	const struct csv_form form = {.delimiter = ',', .encoding = ENCODING_UTF8};
	struct previous *previous = arena_alloc(run, sizeof *previous);
	previous->path = path;
	*status = LOAD_GOOD;
	bool good = true;
	for (int i = 0; good && i < TABLES; i++) {
		enum csv_opened opened;
		previous->readers[i] = csv_reader_new(previous_path(previous, run, tables[i]), form, &opened);
		good = previous->readers[i] != NULL && read_heading(previous, i);
	}
	if (!good) {
		refuse(previous, findings, status);
		previous_free(previous);
		return NULL;
	}
	previous->index = intake_index_new(folder);
	good = previous->index != NULL;
	for (int i = 0; good && i < TABLES; i++)
		good = index_table(previous, i);
	if (good && intake_index_close(previous->index))
		return previous;
	findings_add(findings, FINDING_STOP, "file-unwritable", (struct place){.file = NULL},
	             "nothing can be written to '%s': %s%s", folder, strerror(errno), remedy_of_writing(errno));
	*status = LOAD_FAILED;
	previous_free(previous);
	return NULL;
}

void previous_free(struct previous *previous)
{
	if (previous == NULL)
		return;
	for (int i = 0; i < TABLES; i++)
		csv_reader_free(previous->readers[i]);
	intake_index_free(previous->index);
}

const char *previous_path(const struct previous *previous, struct arena *arena, const char *name)
{
	return arena_printf(arena, "%s/%s", previous->path, name);
}

static bool read_piece(struct previous *previous, struct arena *arena, const struct index_piece *piece,
                       struct previous_sheet *sheet)
{
	struct csv_row row;
	int table = (int)piece->file;
	if (!csv_reader_at(previous->readers[table], piece->offset, piece->row, &row))
		return false;
	*sheet = (struct previous_sheet){
		.record = arena_strdup(arena, cell(previous, table, &row, RECORD)),
		.sheet = {.code = arena_strdup(arena, cell(previous, table, &row, CODE)),
	                  .version = strtol(cell(previous, table, &row, VERSION), NULL, 10),
	                  .as_of = arena_strdup(arena, cell(previous, table, &row, AS_OF)),
	                  .state = arena_strdup(arena, cell(previous, table, &row, STATE)),
	                  .order = arena_strdup(arena, cell(previous, table, &row, ORDER)),
	                  .plan = arena_strdup(arena, cell(previous, table, &row, PLAN)),
	                  .plan_sha256 = arena_strdup(arena, cell(previous, table, &row, PLAN_SHA256))},
		.nights = strtol(cell(previous, table, &row, NIGHTS), NULL, 10),
	};
	return true;
}

bool previous_find(struct previous *previous, struct arena *arena, const char *record, struct previous_sheet *sheet)
{
	size_t n;
	const struct index_piece *pieces = intake_index_find(previous->index, index_key_of(record), &n);
	return pieces != NULL && read_piece(previous, arena, pieces, sheet);
}

size_t previous_count(const struct previous *previous)
{
	return intake_index_groups(previous->index);
}

bool previous_get(struct previous *previous, struct arena *arena, size_t number, struct previous_sheet *sheet)
{
	size_t n;
	return read_piece(previous, arena, intake_index_group(previous->index, number, &n), sheet);
}
