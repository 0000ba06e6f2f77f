#include "load/intake_csv.h"

#include "base/remedy.h"
#include "load/intake_cells.h"
#include "load/intake_dates.h"
#include "load/intake_tree.h"
#include "load/signatures.h"

#include <errno.h>
#include <glib.h>
#include <string.h>

enum { MOST_COLUMNS = 1000, MOST_ROWS_OF_ONE = 500 };

struct intake_csv {
	const struct intake *intake;
	const struct intake_map *map;
	struct csv_reader *reader;
	const char *as_of;
	const char *const *headings;
	size_t n_headings;
	int *positions;    /* of the map's columns */
	const bool *loose; /* of each heading: neither mapped nor ignored */
	uint32_t head_length;
};

/* What opening keeps besides. */
struct opening {
	struct arena *arena;
	struct intake_csv *csv;
	struct intake_index *index;
	struct findings *findings;
	enum load_status *status;
	bool explain;
	bool *said; /* of each loose heading: that it looks like a dose or a date */
};

static struct place row_place(const struct intake_csv *csv, uint32_t row, size_t position)
{
	return (struct place){csv->intake->file, (int)row, (int)position + 1};
}

/* ---- the heading ---- */

static const char *const *copy_cells(struct arena *arena, const struct csv_row *row)
{
	const char **cells = arena_alloc(arena, (row->n + 1) * sizeof *cells);
	for (size_t i = 0; i < row->n; i++)
		cells[i] = cell_trimmed(arena, row->cells[i]);
	return cells;
}

static int position_of(const struct intake_csv *csv, const char *heading)
{
	for (size_t i = 0; i < csv->n_headings; i++)
		if (strcmp(csv->headings[i], heading) == 0)
			return (int)i;
	return -1;
}

static void refuse_file(struct opening *opening, const char *code, struct place place, const char *says)
{
	findings_add(opening->findings, FINDING_STOP, code, place, "%s", says);
}

/* False where the first line is not the map's heading at all. */
static bool find_columns(struct opening *opening)
{
	struct intake_csv *csv = opening->csv;
	const struct intake_map *map = csv->map;
	csv->positions = arena_alloc(opening->arena, (map->n_columns + 1) * sizeof *csv->positions);
	size_t found = 0;
	size_t wanted = 0;
	for (size_t i = 0; i < map->n_columns; i++) {
		const struct map_column *column = &map->columns[i];
		csv->positions[i] = column->heading == NULL ? -1 : position_of(csv, column->heading);
		found += csv->positions[i] >= 0;
		wanted += column->heading != NULL;
	}
	/* What is no export of this kind at all is said once; its first line may be a patient's, so it is not shown. */
	if (found == 0 && wanted > 1) {
		refuse_file(
			opening, "heading-differs", (struct place){.file = csv->intake->file},
			"the first line of this intake has none of the map's columns; name the right file, or correct "
			"the map's 'delimiter' and columns");
		return false;
	}
	for (size_t i = 0; i < map->n_columns; i++)
		if (map->columns[i].heading != NULL && csv->positions[i] < 0)
			findings_add(opening->findings, FINDING_STOP, "column-missing", map->columns[i].place,
			             "the intake has no column '%s'; correct the map, or the export",
			             map->columns[i].heading);
	return true;
}

static bool is_mapped(const struct intake_csv *csv, size_t position)
{
	const char *heading = csv->headings[position];
	for (size_t i = 0; i < csv->map->n_columns; i++)
		if (csv->positions[i] == (int)position)
			return true;
	for (size_t i = 0; i < csv->map->n_ignored; i++)
		if (strcmp(csv->map->ignored[i], heading) == 0)
			return true;
	return false;
}

static void find_loose(struct opening *opening)
{
	struct intake_csv *csv = opening->csv;
	bool *loose = arena_alloc(opening->arena, csv->n_headings + 1);
	for (size_t i = 0; i < csv->n_headings; i++) {
		loose[i] = *csv->headings[i] != '\0' && !is_mapped(csv, i);
		if (*csv->headings[i] != '\0' && position_of(csv, csv->headings[i]) != (int)i)
			findings_add(opening->findings, FINDING_STOP, "heading-twice", row_place(csv, 1, i),
			             "two columns are headed '%s'; give each a heading of its own", csv->headings[i]);
	}
	csv->loose = loose;
	opening->said = arena_alloc(opening->arena, csv->n_headings + 1);
}

static bool read_heading(struct opening *opening)
{
	struct intake_csv *csv = opening->csv;
	struct csv_row row;
	const struct place place = {.file = csv->intake->file};
	if (!csv_reader_next(csv->reader, &row)) {
		refuse_file(opening, "intake-empty", place, "the intake has no heading; export it again");
		return false;
	}
	if (row.fault != CSV_GOOD || row.n > MOST_COLUMNS) {
		refuse_file(opening, "heading-unreadable", place,
		            "the heading cannot be read as the map says; check the map's encoding and delimiter");
		return false;
	}
	csv->headings = copy_cells(opening->arena, &row);
	csv->n_headings = row.n;
	csv->head_length = (uint32_t)(row.offset + row.length);
	if (!find_columns(opening))
		return false;
	find_loose(opening);
	return !findings_stop(opening->findings);
}

/* ---- indexing ---- */

static bool is_blank(const struct csv_row *row)
{
	for (size_t i = 0; i < row->n; i++)
		if (row->cells[i][strspn(row->cells[i], " \t")] != '\0')
			return false;
	return row->fault == CSV_GOOD;
}

/* A row may be longer than the heading by cells that spreadsheets leave empty at the end. */
static bool right_count(const struct intake_csv *csv, const struct csv_row *row)
{
	for (size_t i = csv->n_headings; i < row->n; i++)
		if (row->cells[i][strspn(row->cells[i], " \t")] != '\0')
			return false;
	return row->n >= csv->n_headings;
}

/* Once a column; the cell itself is the patient's, so it is not said. */
static void check_loose(struct opening *opening, const struct csv_row *row)
{
	struct intake_csv *csv = opening->csv;
	for (size_t i = 0; i < csv->n_headings && i < row->n; i++) {
		if (!csv->loose[i] || opening->said[i])
			continue;
		const char *text = cell_trimmed(opening->arena, row->cells[i]);
		bool dose = looks_like_dose(text);
		if (!dose && !looks_like_date(text))
			continue;
		opening->said[i] = true;
		findings_add(
			opening->findings, FINDING_STOP, "column-unmapped", row_place(csv, row->number, i),
			"the column '%s' holds what looks like a %s, and the map does not say what it is; map it, or "
			"list it under 'ignore'",
			csv->headings[i], dose ? "dose" : "date");
	}
}

static const char *cell_of(struct opening *opening, const struct csv_row *row, enum field field)
{
	const struct map_column *column = map_column_of(opening->csv->map, field);
	int position = opening->csv->positions[column - opening->csv->map->columns];
	return (size_t)position < row->n ? cell_trimmed(opening->arena, row->cells[position]) : "";
}

static uint64_t name_of(struct opening *opening, const struct csv_row *row)
{
	const char *name = cell_of(opening, row, FIELD_NAME);
	return *name == '\0' ? 0 : index_key_of(name).high | 1;
}

/* A row that belongs to nobody may lack in a patient's orders: whoever it names is refused with it. */
static bool mention(struct opening *opening, const struct csv_row *row)
{
	bool added = true;
	uint64_t name = name_of(opening, row);
	if (opening->csv->map->order_lines && name != 0)
		added = intake_index_mention(opening->index, (struct index_key){name, 0});
	for (size_t i = 0; added && i < row->n; i++) {
		const char *cell = cell_trimmed(opening->arena, row->cells[i]);
		if (*cell != '\0')
			added = intake_index_mention(opening->index, index_key_of(cell));
	}
	return added;
}

static bool index_row(struct opening *opening, const struct csv_row *row)
{
	struct index_piece piece = {.offset = row->offset, .length = row->length, .row = row->number};
	const char *record = cell_of(opening, row, FIELD_RECORD);
	bool counted = right_count(opening->csv, row);
	if (counted && row->fault == CSV_GOOD)
		check_loose(opening, row);
	if (counted && *record != '\0') {
		piece.record = index_key_of(record);
		piece.name = name_of(opening, row);
		return intake_index_add(opening->index, &piece);
	}
	piece.record.low = row->number;
	piece.flags = PIECE_ALONE;
	return mention(opening, row) && intake_index_add(opening->index, &piece);
}

/* Where a quote is open, nobody can say where any later row ends. */
static bool can_go_on(struct opening *opening, const struct csv_row *row)
{
	if (row->fault == CSV_OPEN_QUOTE)
		refuse_file(opening, "quote-open", row_place(opening->csv, row->number, 0),
		            "a quote in this row is never closed, so where the rows end is not known; mend it");
	else if (row->fault == CSV_TOO_LONG)
		refuse_file(opening, "row-too-long", row_place(opening->csv, row->number, 0),
		            "this row is too long to be one; check the quotes in it, and the map's encoding");
	else
		return true;
	return false;
}

static void disk_failed(struct opening *opening)
{
	*opening->status = LOAD_FAILED;
	findings_add(opening->findings, FINDING_STOP, "file-unreadable",
	             (struct place){.file = opening->csv->intake->file}, "cannot read or index this file: %s%s",
	             strerror(errno), remedy_of_reading(errno));
}

/* The rows' own memory goes back after each. */
static bool index_rows(struct opening *opening)
{
	struct csv_row row;
	size_t n = 0;
	struct arena *run = opening->arena;
	opening->arena = arena_new();
	bool good = true;
	while (good && csv_reader_next(opening->csv->reader, &row)) {
		arena_reset(opening->arena);
		if (is_blank(&row))
			continue;
		n++;
		good = can_go_on(opening, &row) && index_row(opening, &row);
	}
	arena_free(opening->arena);
	opening->arena = run;
	if (!good && errno == 0)
		return false;
	if (!opening->explain && findings_stop(opening->findings))
		return false;
	if (!good || errno != 0 || !intake_index_close(opening->index)) {
		disk_failed(opening);
		return false;
	}
	if (n == 0)
		refuse_file(opening, "intake-empty", (struct place){.file = opening->csv->intake->file},
		            "the intake has no rows; export it again");
	return n > 0;
}

/* ---- one patient ---- */

static const char *fault_says(enum csv_fault fault)
{
	switch (fault) {
	case CSV_NUL:
		return "this row holds a NUL byte, so the file is damaged; export it again";
	case CSV_BAD_BYTES:
		return "this row holds bytes that are not of the map's encoding; correct the encoding, or export it "
		       "again";
	case CSV_TWO_READINGS:
		return "this row is UTF-8 as well, so its letters may be others; correct the map's encoding";
	case CSV_STRAY_QUOTE:
		return "a quote stands in the middle of a cell, so where cells end is a guess; mend it";
	case CSV_GOOD:
	case CSV_OPEN_QUOTE:
	case CSV_TOO_LONG:
		break;
	}
	return "";
}

/* What is wrong with a row as such. */
static void check_row(const struct intake_csv *csv, const struct csv_row *row, bool alone, struct findings *findings)
{
	struct place place = row_place(csv, row->number, 0);
	place.column = 0;
	if (row->fault != CSV_GOOD)
		findings_add(findings, FINDING_STOP, "row-unreadable", place, "%s", fault_says(row->fault));
	if (!right_count(csv, row))
		findings_add(findings, FINDING_STOP, "column-count", place,
		             "this row has %zu cells, and the heading has %zu; mend it", row->n, csv->n_headings);
	else if (alone)
		findings_add(findings, FINDING_STOP, "record-missing", place,
		             "this row has no record number, so it belongs to nobody; fill it in");
	for (size_t i = 0; i < csv->n_headings && i < row->n; i++)
		if (*csv->headings[i] == '\0' && row->cells[i][strspn(row->cells[i], " \t")] != '\0')
			findings_add(findings, FINDING_STOP, "heading-missing", row_place(csv, row->number, i),
			             "this cell has something in it, and its column has no heading; give it one");
}

static bool read_rows(struct intake_csv *csv, struct arena *arena, const struct intake_patient *patient,
                      struct cell_row *rows, struct findings *findings)
{
	for (size_t i = 0; i < patient->n_pieces; i++) {
		const struct index_piece *piece = &patient->pieces[i];
		struct csv_row row;
		if (!csv_reader_at(csv->reader, piece->offset, piece->row, &row) || row.length != piece->length) {
			errno = errno != 0 ? errno : EIO;
			return false;
		}
		check_row(csv, &row, (piece->flags & PIECE_ALONE) != 0, findings);
		rows[i] = (struct cell_row){row.number, copy_cells(arena, &row), row.n};
	}
	return true;
}

/* ---- do a patient's rows agree? ---- */

static bool same_cell(const struct cell_reading *reading, size_t row, const struct map_column *column)
{
	return strcmp(cell_text(reading, 0, column), cell_text(reading, row, column)) == 0;
}

/* The first column in which a row differs from the first one; what an order line has of its own does not count. */
static const struct map_column *differing(const struct cell_reading *reading, size_t row)
{
	const struct map_column *found = NULL;
	for (size_t i = 0; i < reading->map->n_columns; i++) {
		const struct map_column *column = &reading->map->columns[i];
		bool who = column->field == FIELD_NAME || column->field == FIELD_BORN;
		if (field_of_line(column->field) || same_cell(reading, row, column))
			continue;
		if (who)
			return column;
		if (found == NULL)
			found = column;
	}
	return found;
}

static bool same_rows(const struct cell_row *a, const struct cell_row *b)
{
	for (size_t i = 0; i < a->n || i < b->n; i++)
		if (strcmp(i < a->n ? a->cells[i] : "", i < b->n ? b->cells[i] : "") != 0)
			return false;
	return true;
}

static void compare_row(const struct cell_reading *reading, size_t row)
{
	const struct place place = {reading->file, (int)reading->rows[row].number, 0};
	const struct map_column *column = differing(reading, row);
	unsigned first = reading->rows[0].number;
	for (size_t before = 0; before < row; before++)
		if (same_rows(&reading->rows[before], &reading->rows[row])) {
			findings_add(reading->findings, FINDING_STOP, "row-twice", place,
			             "this row stands in row %u already; delete one", reading->rows[before].number);
			return;
		}
	if (column != NULL && (column->field == FIELD_NAME || column->field == FIELD_BORN))
		findings_add(reading->findings, FINDING_STOP, "record-of-two", cell_place(reading, row, column),
		             "'%s' differs from row %u, so two patients have this record number; correct one",
		             column->heading, first);
	else if (column != NULL && reading->map->order_lines)
		findings_add(reading->findings, FINDING_STOP, "rows-disagree", cell_place(reading, row, column),
		             "'%s' differs from row %u of the same record; make them agree", column->heading, first);
	else if (!reading->map->order_lines)
		findings_add(reading->findings, FINDING_STOP, "record-twice", place,
		             "this record has another row, %u; keep the one that holds", first);
}

static void compare_rows(const struct cell_reading *reading)
{
	for (size_t row = 1; row < reading->n_rows; row++)
		compare_row(reading, row);
}

/* ---- who signed ---- */

static const char *signed_text(const struct cell_reading *reading, enum field field)
{
	const struct map_column *column = map_column_of(reading->map, field);
	return column == NULL ? "" : cell_value(reading, 0, column);
}

static void add_signature(const struct cell_reading *reading, struct plan *plan, struct signature *list,
                          enum field field, const char *when)
{
	const struct map_column *column = map_column_of(reading->map, field);
	const char *by = signed_text(reading, field);
	if (*by == '\0')
		return;
	if (*when == '\0') {
		findings_add(reading->findings, FINDING_STOP, "signing-undated", cell_place(reading, 0, column),
		             "somebody signed this order, and the day is empty; fill it in");
		return;
	}
	const char *name = signer_name(reading->arena, by, reading->findings);
	if (name != NULL)
		list[plan->n_signatures++] = (struct signature){"plan", plan->id, NULL, name, when};
}

static void take_signatures(const struct cell_reading *reading, struct plan *plan)
{
	struct signature *list = arena_alloc(reading->arena, 2 * sizeof *list);
	const char *when = signed_text(reading, FIELD_SIGNED_ON);
	plan->signatures = list;
	add_signature(reading, plan, list, FIELD_ORDERED_BY, when);
	add_signature(reading, plan, list, FIELD_CHECKED_BY, when);
}

/* Why this order differs from the last one, where the intake says it; kept until there is a last one. */
static void take_reason(const struct cell_reading *reading, struct plan *plan)
{
	const struct map_column *column = map_column_of(reading->map, FIELD_BECAUSE);
	const char *why = signed_text(reading, FIELD_BECAUSE);
	if (*why == '\0')
		return;
	struct translation *in = arena_alloc(reading->arena, sizeof *in);
	*in = (struct translation){plan->language, why};
	plan->replaces.because = (struct text){in, 1, cell_place(reading, 0, column)};
}

static void take_plan(const struct cell_reading *reading, struct intake_patient *patient)
{
	size_t stops = findings_count(reading->findings, FINDING_STOP);
	patient->tree = cells_tree(reading);
	if (findings_count(reading->findings, FINDING_STOP) > stops)
		return;
	patient->plan = load_plan_tree(reading->arena, reading->clinic, patient->tree, patient->record, reading->file,
	                               reading->findings);
	if (patient->plan == NULL)
		return;
	take_signatures(reading, patient->plan);
	take_reason(reading, patient->plan);
	if (findings_stop(reading->findings))
		patient->plan = NULL;
}

static struct cell_reading reading_of(struct intake_csv *csv, struct arena *arena, const struct cell_row *rows,
                                      size_t n, struct findings *findings)
{
	return (struct cell_reading){.arena = arena,
	                             .findings = findings,
	                             .clinic = csv->intake->clinic,
	                             .map = csv->map,
	                             .file = csv->intake->file,
	                             .positions = csv->positions,
	                             .as_of = csv->as_of,
	                             .rows = rows,
	                             .n_rows = n};
}

static bool csv_read(void *self, struct arena *arena, size_t number, struct intake_patient *patient,
                     struct findings *findings)
{
	struct intake_csv *csv = self;
	*patient = (struct intake_patient){.record = NULL};
	patient->pieces = intake_index_group(csv->intake->index, number, &patient->n_pieces);
	bool many = patient->n_pieces > MOST_ROWS_OF_ONE;
	struct intake_patient first = *patient;
	first.n_pieces = many ? 1 : patient->n_pieces;
	struct cell_row *rows = arena_alloc(arena, (first.n_pieces + 1) * sizeof *rows);
	if (!read_rows(csv, arena, &first, rows, findings))
		return false;
	if (patient->pieces[0].flags & PIECE_ALONE)
		return true;
	struct cell_reading reading = reading_of(csv, arena, rows, first.n_pieces, findings);
	patient->record = cell_text(&reading, 0, map_column_of(csv->map, FIELD_RECORD));
	const struct place place = {csv->intake->file, (int)rows[0].number, 0};
	if (many)
		findings_add(findings, FINDING_STOP, "rows-too-many", place,
		             "this record has %zu rows, more than one patient's orders; check the column of records",
		             patient->n_pieces);
	for (size_t i = 0; i < patient->n_pieces; i++)
		if (patient->pieces[i].flags & PIECE_DOUBTFUL) {
			findings_add(findings, FINDING_STOP, "row-astray", place,
			             "a row that cannot be read, or has no record number, may be this patient's; mend "
			             "that row");
			break;
		}
	compare_rows(&reading);
	if (!findings_stop(findings))
		take_plan(&reading, patient);
	return true;
}

/* ---- the bytes ---- */

static const char *csv_head(void *self, struct arena *arena, uint32_t *length)
{
	struct intake_csv *csv = self;
	*length = csv->head_length;
	return csv_reader_bytes(csv->reader, arena, 0, csv->head_length);
}

static const char *csv_bytes(void *self, struct arena *arena, const struct index_piece *piece)
{
	struct intake_csv *csv = self;
	return csv_reader_bytes(csv->reader, arena, piece->offset, piece->length);
}

static void csv_close(void *self)
{
	struct intake_csv *csv = self;
	csv_reader_free(csv->reader);
}

/* ---- explaining ---- */

static void explain_cell(const struct cell_reading *reading, size_t row, const struct map_column *column, GString *out)
{
	struct findings findings = findings_in(reading->arena);
	struct cell_reading one = *reading;
	one.findings = &findings;
	const char *value = cell_value(&one, row, column);
	g_string_append_printf(out, "  %-24s %-20s -> %s: %s\n",
	                       column->heading == NULL ? "(constant)" : column->heading,
	                       cell_text(reading, row, column), column->field_name, *value == '\0' ? "nothing" : value);
	for (size_t i = 0; i < findings.n; i++)
		g_string_append_printf(out, "      %s\n", finding_print(reading->arena, &findings.list[i]));
}

static void explain_others(const struct intake_csv *csv, const struct cell_row *row, GString *out)
{
	for (size_t i = 0; i < csv->n_headings; i++)
		if (*csv->headings[i] != '\0' && (csv->loose[i] || position_of(csv, csv->headings[i]) != (int)i))
			g_string_append_printf(out, "  %-24s %-20s -> not read: the map does not name it\n",
			                       csv->headings[i], i < row->n ? row->cells[i] : "");
		else if (*csv->headings[i] != '\0' && is_mapped(csv, i)) {
			bool ignored = true;
			for (size_t j = 0; j < csv->map->n_columns; j++)
				ignored = ignored && csv->positions[j] != (int)i;
			if (ignored)
				g_string_append_printf(out, "  %-24s %-20s -> ignored, as the map says\n",
				                       csv->headings[i], i < row->n ? row->cells[i] : "");
		}
}

/* Every cell of a row, the field it is, and what it is read as. */
static const char *csv_explain(struct intake *intake, struct arena *arena, size_t most)
{
	struct intake_csv *csv = intake->self;
	GString *out = g_string_new(NULL);
	for (size_t number = 0; number < intake_count(intake) && number < most; number++) {
		struct findings findings = findings_in(arena);
		struct intake_patient patient;
		patient.pieces = intake_index_group(intake->index, number, &patient.n_pieces);
		struct cell_row *rows = arena_alloc(arena, (patient.n_pieces + 1) * sizeof *rows);
		if (!read_rows(csv, arena, &patient, rows, &findings))
			break;
		struct cell_reading reading = reading_of(csv, arena, rows, patient.n_pieces, &findings);
		for (size_t row = 0; row < patient.n_pieces; row++) {
			g_string_append_printf(out, "row %u\n", rows[row].number);
			for (size_t i = 0; i < csv->map->n_columns; i++)
				explain_cell(&reading, row, &csv->map->columns[i], out);
			explain_others(csv, &rows[row], out);
		}
		for (size_t i = 0; i < findings.n; i++)
			g_string_append_printf(out, "  %s\n", finding_print(arena, &findings.list[i]));
	}
	const char *text = arena_strdup(arena, out->str);
	g_string_free(out, TRUE);
	return text;
}

static const struct intake_source csv_source = {.ending = "csv",
                                                .read = csv_read,
                                                .head = csv_head,
                                                .bytes = csv_bytes,
                                                .between = "",
                                                .tail = "",
                                                .explain = csv_explain,
                                                .free = csv_close};

/* ---- opening ---- */

static bool open_reader(struct opening *opening, const char *path)
{
	enum csv_opened opened;
	struct intake_csv *csv = opening->csv;
	const struct place place = {.file = csv->intake->file};
	csv->reader = csv_reader_new(path, csv->map->form, &opened);
	switch (opened) {
	case CSV_OPENED:
		return true;
	case CSV_UNREADABLE:
		disk_failed(opening);
		break;
	case CSV_IS_UTF8:
		refuse_file(opening, "encoding-differs", place,
		            "this file is UTF-8, and the map says something else; write 'encoding: utf-8' in the map");
		break;
	case CSV_IS_UTF16:
		refuse_file(
			opening, "encoding-differs", place,
			"this file is UTF-16, and the map says something else; write 'encoding: utf-16' in the map");
		break;
	case CSV_IS_UTF32:
		refuse_file(opening, "encoding-differs", place,
		            "this file is UTF-32, which is not read; export it as UTF-8");
		break;
	case CSV_IS_NO_TEXT:
		refuse_file(opening, "not-csv", place,
		            "this file is a PDF, or a spreadsheet's own, and no CSV; export it as CSV");
		break;
	case CSV_IS_NO_UTF16:
		refuse_file(opening, "encoding-differs", place,
		            "nothing at the beginning of this file says that it is UTF-16; correct the map's "
		            "'encoding', or "
		            "export it with a byte order mark");
		break;
	}
	return false;
}

bool intake_csv_open(struct arena *run, struct intake *intake, const struct intake_map *map,
                     const struct intake_options *options, struct findings *findings, enum load_status *status)
{
	struct intake_csv *csv = arena_alloc(run, sizeof *csv);
	struct opening opening = {.arena = run,
	                          .csv = csv,
	                          .index = intake->index,
	                          .findings = findings,
	                          .status = status,
	                          .explain = options->explain};
	*csv = (struct intake_csv){.intake = intake, .map = map, .as_of = options->as_of};
	intake->source = &csv_source;
	intake->self = csv;
	intake->version_stated = map_column_of(map, FIELD_VERSION) != NULL;
	return open_reader(&opening, options->path) && read_heading(&opening) && index_rows(&opening);
}
