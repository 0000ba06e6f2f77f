#include "load/intake_map.h"

#include "load/intake_tree.h"
#include "load/values.h"

#include <stdlib.h>
#include <string.h>

enum { MOST_RECORD_WIDTH = 40, MOST_DAY = 1000 };

/* What a field's name has after its first point: nothing, or an event, item or product. */
enum of_kind { OF_NOTHING, OF_EVENT, OF_ITEM, OF_PRODUCT };

/* Where a field may come from besides a column of its own. */
enum may_be { COLUMN_ONLY, CONSTANT_TOO };

/*
 * Every field that a map may name. To add one, add a row, and a case in
 * intake_cells.c. Who signed, who the patient is, a dose and a date are a
 * patient's own, so never a constant.
 */
static const struct field_row {
	const char *name; /* '*' stands for the id */
	enum field field;
	enum of_kind of;
	enum may_be constant;
} rows[] = {
	{"patient.record", FIELD_RECORD, OF_NOTHING, COLUMN_ONLY},
	{"patient.name", FIELD_NAME, OF_NOTHING, COLUMN_ONLY},
	{"patient.born", FIELD_BORN, OF_NOTHING, COLUMN_ONLY},
	{"patient.allergies", FIELD_ALLERGIES, OF_NOTHING, COLUMN_ONLY},
	{"language", FIELD_LANGUAGE, OF_NOTHING, CONSTANT_TOO},
	{"paper", FIELD_PAPER, OF_NOTHING, CONSTANT_TOO},
	{"large_print", FIELD_LARGE_PRINT, OF_NOTHING, CONSTANT_TOO},
	{"protocol", FIELD_PROTOCOL, OF_NOTHING, CONSTANT_TOO},
	{"as_of", FIELD_AS_OF, OF_NOTHING, COLUMN_ONLY},
	{"version", FIELD_VERSION, OF_NOTHING, COLUMN_ONLY},
	{"good_until", FIELD_GOOD_UNTIL, OF_NOTHING, COLUMN_ONLY},
	{"zone", FIELD_ZONE, OF_NOTHING, CONSTANT_TOO},
	{"because", FIELD_BECAUSE, OF_NOTHING, COLUMN_ONLY},
	{"signatures.ordered_by", FIELD_ORDERED_BY, OF_NOTHING, COLUMN_ONLY},
	{"signatures.checked_by", FIELD_CHECKED_BY, OF_NOTHING, COLUMN_ONLY},
	{"signatures.on", FIELD_SIGNED_ON, OF_NOTHING, COLUMN_ONLY},
	{"events.*", FIELD_EVENT, OF_EVENT, COLUMN_ONLY},
	{"events.*.time", FIELD_EVENT_TIME, OF_EVENT, COLUMN_ONLY},
	{"doses.*", FIELD_DOSES, OF_ITEM, COLUMN_ONLY},
	{"changes.*.from", FIELD_CHANGE_FROM, OF_ITEM, COLUMN_ONLY},
	{"changes.*.until", FIELD_CHANGE_UNTIL, OF_ITEM, COLUMN_ONLY},
	{"changes.*.dose", FIELD_CHANGE_DOSE, OF_ITEM, COLUMN_ONLY},
	{"changes.*.stop", FIELD_CHANGE_STOP, OF_ITEM, COLUMN_ONLY},
	{"called.*", FIELD_CALLED, OF_ITEM, COLUMN_ONLY},
	{"dispensed.*", FIELD_DISPENSED, OF_PRODUCT, COLUMN_ONLY},
	{"dispensed.*.expires", FIELD_EXPIRES, OF_PRODUCT, COLUMN_ONLY},
	{"dispensed.*.opened", FIELD_OPENED, OF_PRODUCT, COLUMN_ONLY},
	{"dispensed.*.left", FIELD_LEFT, OF_PRODUCT, COLUMN_ONLY},
	{"line.item", FIELD_LINE_ITEM, OF_NOTHING, COLUMN_ONLY},
	{"line.dose", FIELD_LINE_DOSE, OF_NOTHING, COLUMN_ONLY},
	{"line.day", FIELD_LINE_DAY, OF_NOTHING, COLUMN_ONLY},
	{"line.date", FIELD_LINE_DATE, OF_NOTHING, COLUMN_ONLY},
};

struct mapping {
	struct reader reader;
	const struct clinic *clinic;
	struct intake_map *map;
	const struct code_table *tables;
	size_t n_tables;
};

const struct map_column *map_column_of(const struct intake_map *map, enum field field)
{
	for (size_t i = 0; i < map->n_columns; i++)
		if (map->columns[i].field == field && map->columns[i].of == NULL)
			return &map->columns[i];
	return NULL;
}

/* ---- names of fields ---- */

/* "doses.growth" and "doses.growth.6" by "doses.*": the id, and what follows it. */
static bool fits_pattern(struct arena *arena, const char *pattern, const char *name, const char **id, const char **rest)
{
	const char *star = strchr(pattern, '*');
	*id = NULL;
	*rest = "";
	if (star == NULL)
		return strcmp(pattern, name) == 0;
	size_t head = (size_t)(star - pattern);
	if (strncmp(pattern, name, head) != 0)
		return false;
	size_t length = strcspn(name + head, ".");
	*id = arena_strndup(arena, name + head, length);
	*rest = name + head + length;
	return length > 0 && strncmp(*rest, star + 1, strlen(star + 1)) == 0 &&
	       (star[1] == '\0' || strcmp(*rest, star + 1) == 0);
}

/* "doses.growth.6" is from day 6 of the item on. */
static bool day_of_rest(const char *rest, int64_t *day)
{
	*day = 1;
	if (*rest == '\0')
		return true;
	size_t digits = strspn(rest + 1, "0123456789");
	if (digits == 0 || digits > 4 || rest[1 + digits] != '\0' || rest[1] == '0')
		return false;
	*day = strtol(rest + 1, NULL, 10);
	return *day <= MOST_DAY;
}

static const struct field_row *row_of(struct arena *arena, const char *name, const char **id, int64_t *day)
{
	for (size_t i = sizeof rows / sizeof *rows; i-- > 0;) {
		const char *rest;
		if (!fits_pattern(arena, rows[i].name, name, id, &rest))
			continue;
		*day = 1;
		if (rows[i].field == FIELD_DOSES ? day_of_rest(rest, day)
		                                 : *rest == '\0' || strchr(rows[i].name, '*')[1])
			return &rows[i];
	}
	return NULL;
}

static void refuse_field(struct mapping *mapping, const struct stated_string *name)
{
	struct nearest nearest = nearest_to(name->text);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		nearest_offer(&nearest, rows[i].name);
	refuse_unknown_name(&mapping->reader, "unknown-field", "field", name, "", &nearest);
}

/* True where some protocol of the clinic, or its formulary, has that id. */
static bool known_id(const struct mapping *mapping, enum of_kind kind, const char *id, struct nearest *nearest)
{
	const struct clinic *clinic = mapping->clinic;
	if (kind == OF_PRODUCT && clinic_product(clinic, id, NULL) != NULL)
		return true;
	for (size_t i = 0; kind == OF_PRODUCT && i < clinic->n_medicines; i++)
		for (size_t j = 0; j < clinic->medicines[i].n_products; j++)
			nearest_offer(nearest, clinic->medicines[i].products[j].id);
	for (size_t i = 0; kind == OF_EVENT && i < clinic->n_protocols; i++)
		for (size_t j = 0; j < clinic->protocols[i].n_events; j++) {
			if (strcmp(clinic->protocols[i].events[j].id, id) == 0)
				return true;
			nearest_offer(nearest, clinic->protocols[i].events[j].id);
		}
	for (size_t i = 0; kind == OF_ITEM && i < clinic->n_protocols; i++)
		for (size_t j = 0; j < clinic->protocols[i].n_items; j++) {
			if (strcmp(clinic->protocols[i].items[j].id, id) == 0)
				return true;
			nearest_offer(nearest, clinic->protocols[i].items[j].id);
		}
	return false;
}

static void check_id(struct mapping *mapping, enum of_kind kind, const char *id, struct place place)
{
	static const char *const whats[] = {"", "event", "item", "product"};
	struct nearest nearest = nearest_to(id);
	if (kind == OF_NOTHING || known_id(mapping, kind, id, &nearest))
		return;
	const struct stated_string name = {id, place};
	refuse_unknown_name(&mapping->reader, "unknown-id", whats[kind], &name, "", &nearest);
}

/* ---- codes ---- */

static void read_tables(struct mapping *mapping, const struct raw_map *raw)
{
	struct arena *arena = mapping->reader.arena;
	struct code_table *tables = arena_alloc(arena, (raw->codes_count + 1) * sizeof *tables);
	for (unsigned i = 0; i < raw->codes_count; i++) {
		struct map_code *list = arena_alloc(arena, (raw->codes[i].words_count + 1) * sizeof *list);
		for (unsigned j = 0; j < raw->codes[i].words_count; j++)
			list[j] = (struct map_code){read_string(&mapping->reader, raw->codes[i].words[j].key),
			                            read_string(&mapping->reader, raw->codes[i].words[j].text)};
		tables[i] = (struct code_table){read_string(&mapping->reader, raw->codes[i].key), list,
		                                raw->codes[i].words_count};
	}
	mapping->tables = tables;
	mapping->n_tables = raw->codes_count;
}

static const struct code_table *find_table(struct mapping *mapping, const char *raw)
{
	struct stated_string name = given_string(&mapping->reader, raw, (struct place){0});
	if (name.text == NULL)
		return NULL;
	struct nearest nearest = nearest_to(name.text);
	for (size_t i = 0; i < mapping->n_tables; i++) {
		if (strcmp(mapping->tables[i].name, name.text) == 0)
			return &mapping->tables[i];
		nearest_offer(&nearest, mapping->tables[i].name);
	}
	refuse_unknown_name(&mapping->reader, "unknown-codes", "code table", &name, "", &nearest);
	return NULL;
}

/* ---- columns and constants ---- */

static bool is_amount(enum field field)
{
	return field == FIELD_DOSES || field == FIELD_CHANGE_DOSE || field == FIELD_LINE_DOSE || field == FIELD_LEFT;
}

bool field_of_line(enum field field)
{
	return field == FIELD_LINE_ITEM || field == FIELD_LINE_DOSE || field == FIELD_LINE_DAY ||
	       field == FIELD_LINE_DATE;
}

static void check_column(struct mapping *mapping, const struct map_column *column)
{
	const struct reader *reader = &mapping->reader;
	if (column->unit != NULL && !is_amount(column->field))
		refuse_value(reader, "unit-misplaced", column->place,
		             "'%s' is no amount, so it has no unit; delete 'unit'", column->field_name);
	if (column->unit != NULL && unit_read(column->unit, strlen(column->unit)) == UNIT_NONE)
		refuse_value(reader, "unknown-unit", column->place,
		             "'%s' is no unit that is known; write one such as 'mcg'", column->unit);
	if (column->separator != NULL && column->field != FIELD_DOSES && column->field != FIELD_ALLERGIES)
		refuse_value(reader, "separator-misplaced", column->place,
		             "'%s' is one value, so nothing separates it; delete 'separator'", column->field_name);
	if (field_of_line(column->field) && !mapping->map->order_lines)
		refuse_value(reader, "line-misplaced", column->place,
		             "'%s' belongs to order lines, and the map has one row a patient; write 'rows: order-line'",
		             column->field_name);
	for (size_t i = 0; i < mapping->map->n_columns; i++) {
		const struct map_column *other = &mapping->map->columns[i];
		if (strcmp(other->field_name, column->field_name) == 0)
			refuse_value(reader, "field-twice", column->place, "two columns are '%s'; keep the one that is",
			             column->field_name);
	}
}

/* Fills what the field's name says; false where there is no such field. */
static bool name_field(struct mapping *mapping, const struct stated_string *name, struct map_column *column,
                       bool *constant)
{
	column->place = name->place;
	column->field_name = name->text;
	const struct field_row *row = row_of(mapping->reader.arena, name->text, &column->of, &column->day);
	if (row == NULL) {
		refuse_field(mapping, name);
		return false;
	}
	column->field = row->field;
	*constant = row->constant == CONSTANT_TOO;
	check_id(mapping, row->of, column->of, name->place);
	return true;
}

static void add_column(struct mapping *mapping, struct map_column *list, const struct map_column *column)
{
	check_column(mapping, column);
	list[mapping->map->n_columns++] = *column;
}

static void read_columns(struct mapping *mapping, const struct raw_map *raw)
{
	const struct reader *reader = &mapping->reader;
	struct map_column *list =
		arena_alloc(reader->arena, (raw->columns_count + raw->constants_count + 1) * sizeof *list);
	mapping->map->columns = list;
	bool constant;
	for (unsigned i = 0; i < raw->columns_count; i++) {
		const struct raw_column *from = &raw->columns[i];
		struct stated_string name = given_string(reader, from->text != NULL ? from->text : from->field,
		                                         given_place(reader, from->key));
		struct map_column column = {.heading = read_string(reader, from->key),
		                            .unit = read_string(reader, from->unit),
		                            .codes = find_table(mapping, from->codes),
		                            .separator = read_string(reader, from->separator)};
		if (name.text != NULL && name_field(mapping, &name, &column, &constant))
			add_column(mapping, list, &column);
	}
	for (unsigned i = 0; i < raw->constants_count; i++) {
		struct stated_string name = given_string(reader, raw->constants[i].key, (struct place){0});
		struct map_column column = {.constant = read_string(reader, raw->constants[i].text)};
		if (!name_field(mapping, &name, &column, &constant))
			continue;
		if (!constant)
			refuse_value(reader, "constant-refused", column.place,
			             "'%s' is each patient's own, so no constant; map a column to it", name.text);
		add_column(mapping, list, &column);
	}
}

/* ---- what must be mapped ---- */

static void need_field(struct mapping *mapping, enum field field, const char *name)
{
	if (map_column_of(mapping->map, field) == NULL)
		refuse_value(&mapping->reader, "field-missing", (struct place){.file = mapping->map->file},
		             "no column is '%s'; map the one that is", name);
}

static bool maps_event(const struct intake_map *map)
{
	for (size_t i = 0; i < map->n_columns; i++)
		if (map->columns[i].field == FIELD_EVENT)
			return true;
	return false;
}

/* Some protocol has an exact event that a timed injection is held against: its time must be known for what it is. */
static bool has_procedure(const struct clinic *clinic)
{
	for (size_t i = 0; i < clinic->n_protocols; i++)
		for (size_t j = 0; j < clinic->protocols[i].n_events; j++)
			if (clinic->protocols[i].events[j].check_before != NULL ||
			    clinic->protocols[i].events[j].is_arrival)
				return true;
	return false;
}

static void check_whole(struct mapping *mapping, bool as_of_given)
{
	const struct intake_map *map = mapping->map;
	const struct place place = {.file = map->file};
	need_field(mapping, FIELD_RECORD, "patient.record");
	need_field(mapping, FIELD_NAME, "patient.name");
	need_field(mapping, FIELD_LANGUAGE, "language");
	need_field(mapping, FIELD_PROTOCOL, "protocol");
	if (map->order_lines) {
		need_field(mapping, FIELD_LINE_ITEM, "line.item");
		need_field(mapping, FIELD_LINE_DOSE, "line.dose");
	}
	if ((map_column_of(map, FIELD_AS_OF) != NULL) == as_of_given)
		refuse_value(
			&mapping->reader, "as-of-unclear", place,
			as_of_given
				? "the map has a column 'as_of', and the command line says --as-of; keep one"
				: "no column is 'as_of', the day the orders speak from; map it, or say --as-of DATE");
	bool signers = map_column_of(map, FIELD_ORDERED_BY) != NULL || map_column_of(map, FIELD_CHECKED_BY) != NULL;
	if (signers && map_column_of(map, FIELD_SIGNED_ON) == NULL)
		need_field(mapping, FIELD_SIGNED_ON, "signatures.on");
	if (!map->time_stated && maps_event(map) && has_procedure(mapping->clinic))
		refuse_value(&mapping->reader, "procedure-time-missing", place,
		             "is a procedure's time the arrival or the procedure? write 'procedure_time: arrival' or "
		             "'procedure_time: procedure'");
}

/* ---- the head ---- */

static const struct choice choices_rows[] = {{"patient", false}, {"order-line", true}, {NULL, 0}};
static const struct choice choices_intake[] = {{"csv", 0}, {"fhir", 0}, {NULL, 0}};
static const struct choice choices_delimiter[] = {{",", ','}, {";", ';'}, {"tab", '\t'}, {"|", '|'}, {NULL, 0}};
static const struct choice choices_encoding[] = {
	{"utf-8", ENCODING_UTF8}, {"utf-16", ENCODING_UTF16}, {"windows-1252", ENCODING_WINDOWS_1252}, {NULL, 0}};
static const struct choice choices_decimal[] = {{"point", DECIMAL_POINT}, {"comma", DECIMAL_COMMA}, {NULL, 0}};
static const struct choice choices_time_of[] = {{"procedure", false}, {"arrival", true}, {NULL, 0}};

/* A form of dates and the mark between its numbers, in one number. */
#define DATES(form, mark) ((int)(form) << 8 | (mark))
static const struct choice choices_dates[] = {
	{"year-month-day", DATES(DATES_ISO, '-')},         {"day.month.year", DATES(DATES_DAY_FIRST, '.')},
	{"day/month/year", DATES(DATES_DAY_FIRST, '/')},   {"day-month-year", DATES(DATES_DAY_FIRST, '-')},
	{"month/day/year", DATES(DATES_MONTH_FIRST, '/')}, {NULL, 0}};

static void read_head(const struct reader *reader, const struct raw_map *raw, struct intake_map *map)
{
	read_choice(reader, raw->intake, choices_intake, 0);
	map->order_lines = read_choice(reader, raw->rows, choices_rows, false) != 0;
	map->form.delimiter = (char)read_choice(reader, raw->delimiter, choices_delimiter, ',');
	map->form.encoding = (enum csv_encoding)read_choice(reader, raw->encoding, choices_encoding, ENCODING_UTF8);
	map->decimal = (enum decimal_mark)read_choice(reader, raw->decimal, choices_decimal, DECIMAL_POINT);
	int dates = read_choice(reader, raw->dates, choices_dates, DATES(DATES_ISO, '-'));
	map->dates = (enum date_form)(dates >> 8);
	map->date_mark = (char)(dates & 0xff);
	map->dates_stated = raw->dates != NULL;
	map->time_stated = raw->procedure_time != NULL;
	map->time_is_arrival = read_choice(reader, raw->procedure_time, choices_time_of, false) != 0;
	map->record_width =
		read_whole(reader, raw->record_width, (struct place){.file = map->file}, 1, MOST_RECORD_WIDTH).number;
	map->ignored = read_strings(reader, raw->ignore, raw->ignore_count);
	map->n_ignored = raw->ignore_count;
}

struct map_file read_map_file(struct arena *run, const char *path, struct findings *findings, enum load_status *status)
{
	struct map_file from = {.file = file_read(run, path, true, findings, status)};
	from.root = from.file == NULL ? NULL : tree_read(run, from.file, findings);
	const struct node *intake =
		from.root == NULL || from.root->kind != NODE_MAP ? NULL : tree_get(from.root, "intake");
	from.fhir = intake != NULL && intake->kind == NODE_SCALAR && strcmp(intake->text, "fhir") == 0;
	return from;
}

const struct intake_map *load_intake_map(struct arena *run, const struct clinic *clinic, const struct map_file *from,
                                         bool as_of_given, struct findings *findings, enum load_status *status)
{
	size_t stops_before = findings_count(findings, FINDING_STOP);
	struct intake_map *map = arena_alloc(run, sizeof *map);
	struct mapping mapping = {.reader = {.arena = run, .findings = findings}, .clinic = clinic, .map = map};
	map->file = from->file;
	const struct raw_map *raw =
		from->root == NULL ? NULL : shape_load(run, from->root, &schema_map, &mapping.reader.strings, findings);
	if (raw != NULL) {
		read_head(&mapping.reader, raw, map);
		read_tables(&mapping, raw);
		read_columns(&mapping, raw);
	}
	if (raw != NULL && findings_count(findings, FINDING_STOP) == stops_before)
		check_whole(&mapping, as_of_given);
	if (findings_count(findings, FINDING_STOP) == stops_before)
		return map;
	*status = load_worse(*status, LOAD_REFUSED);
	return NULL;
}
