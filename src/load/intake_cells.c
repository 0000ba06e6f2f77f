#include "load/intake_cells.h"

#include "load/intake_dates.h"
#include "load/intake_tree.h"

#include <assert.h>
#include <glib.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

/* ---- cells ---- */

const char *cell_trimmed(struct arena *arena, const char *text)
{
	const char *end = text + strlen(text);
	while (text < end && (g_unichar_isspace(g_utf8_get_char(text)) || *text == '\t'))
		text = g_utf8_next_char(text);
	while (end > text) {
		const char *last = g_utf8_prev_char(end);
		if (!g_unichar_isspace(g_utf8_get_char(last)))
			break;
		end = last;
	}
	return arena_strndup(arena, text, (size_t)(end - text));
}

const char *cell_text(const struct cell_reading *reading, size_t row, const struct map_column *column)
{
	if (column->heading == NULL)
		return column->constant;
	int position = reading->positions[column - reading->map->columns];
	return (size_t)position < reading->rows[row].n ? reading->rows[row].cells[position] : "";
}

struct place cell_place(const struct cell_reading *reading, size_t row, const struct map_column *column)
{
	if (column->heading == NULL)
		return column->place;
	return (struct place){reading->file, (int)reading->rows[row].number,
	                      reading->positions[column - reading->map->columns] + 1};
}

/* A cell while it is read. */
struct cell {
	const struct cell_reading *reading;
	const struct map_column *column;
	struct place place;
	const char *text;
};

__attribute__((format(printf, 3, 4))) static void refuse(const struct cell *cell, const char *code, const char *format,
                                                         ...)
{
	va_list arguments;
	va_start(arguments, format);
	const char *says = arena_vprintf(cell->reading->arena, format, arguments);
	va_end(arguments);
	findings_add(cell->reading->findings, FINDING_STOP, code, cell->place, "%s", says);
}

/* ---- values ---- */

static const char *decoded(const struct cell *cell)
{
	const struct code_table *codes = cell->column->codes;
	if (codes == NULL)
		return cell->text;
	for (size_t i = 0; i < codes->n; i++)
		if (strcmp(codes->list[i].theirs, cell->text) == 0)
			return codes->list[i].ours;
	refuse(cell, "unknown-code", "'%s' is no code of '%s' in the map; add it there, or mend the cell", cell->text,
	       codes->name);
	return "";
}

static const char *read_moment(const struct cell *cell, struct intake_moment *moment)
{
	switch (intake_date_read(cell->reading->map, cell->text, moment)) {
	case DATE_GOOD:
		return date_print(cell->reading->arena, moment->date);
	case DATE_AMBIGUOUS:
		refuse(cell, "ambiguous-date",
		       "'%s' can be read as two days; say with 'dates' in the map which number is the day", cell->text);
		break;
	case DATE_NO_FORM:
		refuse(cell, "date-form-missing",
		       "'%s' is not year-month-day; say with 'dates' in the map how dates are written", cell->text);
		break;
	case DATE_TWO_DIGITS:
		refuse(cell, "short-year", "'%s' has a year of two digits; export years with four", cell->text);
		break;
	case DATE_BAD:
		refuse(cell, "bad-date",
		       "'%s' is no date as the map says they are written; mend the cell, or the map's 'dates'",
		       cell->text);
		break;
	}
	return "";
}

static bool is_midnight(const struct intake_moment *moment)
{
	return moment->has_time && clock_minutes(moment->time) == 0;
}

/* A day alone. Exports give one a time of 00:00, which says nothing. */
static const char *read_day(const struct cell *cell)
{
	struct intake_moment moment;
	const char *day = read_moment(cell, &moment);
	if (*day == '\0' || !moment.has_time || is_midnight(&moment))
		return day;
	refuse(cell, "time-unexpected", "'%s' has a time, and here belongs a day alone; mend the cell", cell->text);
	return "";
}

/* "2027-03", or the month first as on a box: both mean that month's end. */
static const char *read_expiry_cell(const struct cell *cell)
{
	struct civil_date date;
	struct arena *arena = cell->reading->arena;
	if (strlen(cell->text) == 7 && expiry_read(cell->text, &date))
		return cell->text;
	if (strlen(cell->text) == 7 && (cell->text[2] == '/' || cell->text[2] == '.' || cell->text[2] == '-')) {
		const char *turned = arena_printf(arena, "%s-%.2s", cell->text + 3, cell->text);
		if (expiry_read(turned, &date))
			return turned;
	}
	return read_day(cell);
}

static const struct item *item_of(const struct protocol *protocol, const char *id)
{
	return protocol == NULL || id == NULL ? NULL : protocol_item(protocol, id);
}

static bool on_unit_scale(const struct item *item)
{
	for (size_t i = 0; i < item->medicine->n_products; i++) {
		const struct syringe *syringe = item->medicine->products[i].syringe;
		if (syringe != NULL && syringe->unit_scale)
			return true;
	}
	return false;
}

/* The word 'units' with nothing before it: neither IU nor syringe units. */
static bool is_bare_units(const char *text)
{
	const char *unit = text + strcspn(text, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz[");
	return g_ascii_strcasecmp(unit, "unit") == 0 || g_ascii_strcasecmp(unit, "units") == 0;
}

/* An amount as a plan's file would say it. */
static const char *read_amount_text(const struct cell *cell, const char *text, const struct item *item)
{
	const struct cell_reading *reading = cell->reading;
	struct quantity quantity;
	struct quantity_fault fault = {.code = NULL};
	if (cell->column->unit != NULL) {
		if (strspn(text, "0123456789., ") != strlen(text)) {
			refuse(cell, "unit-twice",
			       "'%s' is no number alone, and the map says the unit of this column; mend one of them",
			       text);
			return "";
		}
		text = arena_printf(reading->arena, "%s %s", text, cell->column->unit);
	}
	bool read = quantity_read(reading->arena, text, reading->map->decimal, &quantity, &fault);
	if (fault.code != NULL)
		findings_add(reading->findings, read ? FINDING_CAUTION : FINDING_STOP, fault.code, cell->place, "%s",
		             fault.says);
	if (!read)
		return "";
	if (item != NULL && is_bare_units(text) && on_unit_scale(item))
		refuse(cell, "units-ambiguous",
		       "'%s' may mean the medicine's units or lines of its syringe; write 'IU' or 'syringe units'",
		       text);
	return quantity_plain(reading->arena, quantity, DECIMAL_POINT);
}

static const char *lower(const struct cell *cell, const char *text)
{
	char *copy = arena_strdup(cell->reading->arena, text);
	for (char *at = copy; *at; at++)
		*at = g_ascii_tolower(*at);
	return copy;
}

/* Spreadsheets take a long record number for a number: they cut its zeros, or round it. */
static const char *read_record(const struct cell *cell)
{
	const struct intake_map *map = cell->reading->map;
	size_t digits = strspn(cell->text, "0123456789");
	if (digits > 0 && strspn(cell->text, "0123456789.,E+") == strlen(cell->text) && strchr(cell->text, 'E') != NULL)
		refuse(cell, "record-mangled",
		       "'%s' is a record number that a spreadsheet turned into a number; export it as text",
		       cell->text);
	else if (map->record_width > 0 && g_utf8_strlen(cell->text, -1) < map->record_width)
		refuse(cell, "record-short",
		       "'%s' is shorter than the %lld characters of a record number; its leading zeros may be lost, "
		       "export it as "
		       "text",
		       cell->text, (long long)map->record_width);
	return cell->text;
}

/* ---- the plan, field by field ---- */

struct building {
	const struct cell_reading *reading;
	struct arena *arena;
	const struct protocol *protocol; /* NULL: not known */
	struct node *plan;
	struct place place; /* of the patient's first row */
};

/* How a field is read, and as what it is put into the plan. Without `put` it is read with another, or is not the plan's. */
struct taking {
	const char *(*read)(struct building *building, const struct cell *cell);
	void (*put)(struct building *building, const struct cell *cell, const struct taking *taking);
	const char *key;
};

static struct cell cell_of(const struct building *building, size_t row, const struct map_column *column)
{
	struct cell cell = {building->reading, column, cell_place(building->reading, row, column),
	                    cell_text(building->reading, row, column)};
	unsigned character;
	const char *fault = text_fault(cell.text, &character);
	if (fault != NULL) {
		refuse(&cell, "odd-character", "this cell holds U+%04X, which %s; delete it", character, fault);
		cell.text = "";
	}
	return cell;
}

/* The node of `key` in the plan, made at first need. */
static struct node *part(struct building *building, const char *key, bool list)
{
	struct node *node = tree_get(building->plan, key);
	if (node != NULL)
		return node;
	node = list ? tree_list(building->arena, building->place) : tree_map(building->arena, building->place);
	tree_put(building->arena, building->plan, key, node);
	return node;
}

static void put(struct building *building, struct node *map, const char *key, const char *value, struct place place)
{
	if (*value != '\0')
		tree_put_text(building->arena, map, key, value, place);
}

/* The list's entry whose `key` is `id`, made at first need. */
static struct node *entry_of(struct building *building, struct node *list, const char *key, const char *id,
                             struct place place)
{
	for (size_t i = 0; i < list->n; i++) {
		const struct node *name = tree_get(list->items[i], key);
		if (name != NULL && strcmp(name->text, id) == 0)
			return (struct node *)(uintptr_t)list->items[i];
	}
	struct node *entry = tree_map(building->arena, place);
	tree_put_text(building->arena, entry, key, id, place);
	tree_add(building->arena, list, entry);
	return entry;
}

/* Doses begin with day 1, whatever the order of columns or rows. */
static void put_step(struct building *building, const struct cell *cell, const char *item, int64_t day,
                     const char *amount)
{
	struct arena *arena = building->arena;
	struct node *doses = part(building, "doses", false);
	struct node *steps = tree_get(doses, item);
	if (steps == NULL) {
		steps = tree_list(arena, cell->place);
		tree_put(arena, doses, item, steps);
	}
	struct node *step = tree_map(arena, cell->place);
	tree_put_text(arena, step, "from", arena_printf(arena, "%lld", (long long)day), cell->place);
	tree_put_text(arena, step, "dose", amount, cell->place);
	tree_add(arena, steps, step);
	const struct node **items = (const struct node **)(uintptr_t)steps->items;
	for (size_t i = steps->n - 1; i > 0; i--) {
		long before = strtol(tree_get(items[i - 1], "from")->text, NULL, 10);
		if (before == day)
			refuse(cell, "order-twice", "two orders of '%s' are from day %lld; keep the one that holds",
			       item, (long long)day);
		if (before <= day)
			break;
		items[i] = items[i - 1];
		items[i - 1] = step;
	}
}

/* "150 IU", or several, each with its day: "1=150 IU; 6=225 IU". */
static void put_doses(struct building *building, const struct cell *cell, const struct taking *taking)
{
	const struct item *item = item_of(building->protocol, cell->column->of);
	const char *separator = cell->column->separator;
	if (separator == NULL) {
		const char *amount = taking->read(building, cell);
		if (*amount != '\0')
			put_step(building, cell, cell->column->of, cell->column->day, amount);
		return;
	}
	char **pieces = g_strsplit(cell->text, separator, -1);
	for (char **piece = pieces; *piece != NULL; piece++) {
		const char *text = cell_trimmed(building->arena, *piece);
		const char *equals = strchr(text, '=');
		size_t digits = strspn(text, "0123456789");
		int64_t day = equals == NULL ? cell->column->day : strtol(text, NULL, 10);
		if (equals != NULL &&
		    (digits == 0 || digits > 4 || text + digits + strspn(text + digits, " ") != equals)) {
			refuse(cell, "bad-dose-list", "'%s' is no day and dose; write them as in '6=150 IU'", text);
			continue;
		}
		const char *amount =
			read_amount_text(cell, cell_trimmed(building->arena, equals == NULL ? text : equals + 1), item);
		if (*amount != '\0')
			put_step(building, cell, cell->column->of, day, amount);
	}
	g_strfreev(pieces);
}

static void put_allergies(struct building *building, const struct cell *cell, const struct taking *taking)
{
	struct node *list = tree_list(building->arena, cell->place);
	char **pieces = g_strsplit(cell->text, cell->column->separator == NULL ? "\n" : cell->column->separator, -1);
	for (char **piece = pieces; *piece != NULL; piece++) {
		struct cell one = *cell;
		one.text = cell_trimmed(building->arena, *piece);
		const char *allergy = *one.text == '\0' ? "" : decoded(&one);
		if (*allergy != '\0')
			tree_add(building->arena, list, tree_scalar(building->arena, allergy, cell->place));
	}
	g_strfreev(pieces);
	if (list->n > 0)
		tree_put(building->arena, part(building, "patient", false), taking->key, list);
}

static void check_event(const struct building *building, const struct cell *cell, const struct event *event,
                        const struct intake_moment *moment)
{
	bool arrival = building->reading->map->time_is_arrival;
	if (event->exact && is_midnight(moment))
		refuse(cell, "midnight-doubtful",
		       "00:00 may stand for a time that is not known; write the time, or 23:59 of the day before");
	if (moment->has_time && protocol_has_procedure(building->protocol, event) && arrival != event->is_arrival)
		refuse(cell, "time-is-differs",
		       "the map says that this time is the %s, and protocol '%s' says the %s; make them agree",
		       arrival ? "arrival" : "procedure", building->protocol->id, arrival ? "procedure" : "arrival");
}

static const struct map_column *time_column(const struct intake_map *map, const char *event)
{
	for (size_t i = 0; i < map->n_columns; i++)
		if (map->columns[i].field == FIELD_EVENT_TIME && strcmp(map->columns[i].of, event) == 0)
			return &map->columns[i];
	return NULL;
}

/* The time of a column of its own, if it has one. */
static void take_own_time(struct building *building, const struct cell *date, struct intake_moment *moment)
{
	const struct map_column *column = time_column(building->reading->map, date->column->of);
	if (column == NULL)
		return;
	struct cell cell = cell_of(building, 0, column);
	size_t length = strlen(cell.text);
	if (length == 8 && strcmp(cell.text + 5, ":00") == 0)
		cell.text = arena_strndup(building->arena, cell.text, 5);
	if (*cell.text == '\0')
		return;
	moment->has_time = clock_read(cell.text, &moment->time);
	if (!moment->has_time)
		refuse(&cell, "bad-time", "'%s' is no time of day; write hours and minutes, as in 20:00", cell.text);
}

static const char *as_event(struct building *building, const struct cell *cell)
{
	struct intake_moment moment;
	const char *text = read_moment(cell, &moment);
	if (*text == '\0')
		return text;
	take_own_time(building, cell, &moment);
	const struct event *event =
		building->protocol == NULL ? NULL : protocol_event(building->protocol, cell->column->of);
	if (event != NULL)
		check_event(building, cell, event, &moment);
	if (!moment.has_time || is_midnight(&moment))
		return text;
	return arena_printf(building->arena, "%s %s", text, clock_print(building->arena, moment.time));
}

/* None of a product is no entry; a date without a count is a gap. */
static bool has_count(struct building *building, const char *product)
{
	const struct intake_map *map = building->reading->map;
	for (size_t i = 0; i < map->n_columns; i++) {
		if (map->columns[i].field != FIELD_DISPENSED || strcmp(map->columns[i].of, product) != 0)
			continue;
		const char *count = cell_text(building->reading, 0, &map->columns[i]);
		return strcmp(count, "0") != 0;
	}
	return true;
}

static void check_counts(struct building *building)
{
	const struct node *list = tree_get(building->plan, "dispensed");
	for (size_t i = 0; list != NULL && i < list->n; i++)
		if (tree_get(list->items[i], "count") == NULL)
			findings_add(building->reading->findings, FINDING_STOP, "count-missing", list->items[i]->place,
			             "'%s' was dispensed, and its count is empty; fill it in",
			             tree_get(list->items[i], "product")->text);
}

/* A change has its first day; without one, nothing says when it begins. */
static void check_changes(struct building *building)
{
	const struct node *list = tree_get(building->plan, "changes");
	for (size_t i = 0; list != NULL && i < list->n; i++)
		if (tree_get(list->items[i], "from") == NULL)
			findings_add(building->reading->findings, FINDING_STOP, "change-undated", list->items[i]->place,
			             "the change of '%s' has no first day; fill in its date",
			             tree_get(list->items[i], "item")->text);
}

/* ---- which field goes where ---- */

static const char *as_written(struct building *building, const struct cell *cell)
{
	(void)building;
	return cell->text;
}

static const char *as_code(struct building *building, const struct cell *cell)
{
	(void)building;
	return decoded(cell);
}

static const char *as_flag(struct building *building, const struct cell *cell)
{
	(void)building;
	return lower(cell, decoded(cell));
}

static const char *as_day(struct building *building, const struct cell *cell)
{
	(void)building;
	return read_day(cell);
}

static const char *as_expiry(struct building *building, const struct cell *cell)
{
	(void)building;
	return read_expiry_cell(cell);
}

static const char *as_record(struct building *building, const struct cell *cell)
{
	(void)building;
	return read_record(cell);
}

static const char *as_amount(struct building *building, const struct cell *cell)
{
	(void)building;
	return read_amount_text(cell, cell->text, NULL);
}

static const char *as_order(struct building *building, const struct cell *cell)
{
	return read_amount_text(cell, cell->text, item_of(building->protocol, cell->column->of));
}

static void put_plain(struct building *building, const struct cell *cell, const struct taking *taking)
{
	put(building, building->plan, taking->key, taking->read(building, cell), cell->place);
}

static void put_of_patient(struct building *building, const struct cell *cell, const struct taking *taking)
{
	put(building, part(building, "patient", false), taking->key, taking->read(building, cell), cell->place);
}

static void put_event(struct building *building, const struct cell *cell, const struct taking *taking)
{
	put(building, part(building, "events", false), cell->column->of, taking->read(building, cell), cell->place);
}

static void put_called(struct building *building, const struct cell *cell, const struct taking *taking)
{
	struct node *entry = tree_map(building->arena, cell->place);
	tree_put_text(building->arena, entry, "item", cell->column->of, cell->place);
	put(building, entry, taking->key, taking->read(building, cell), cell->place);
	if (entry->n == 2)
		tree_add(building->arena, part(building, "called", true), entry);
}

static void put_change(struct building *building, const struct cell *cell, const struct taking *taking)
{
	const char *value = taking->read(building, cell);
	if (cell->column->field == FIELD_CHANGE_STOP && strcmp(value, "no") == 0)
		return;
	struct node *list = part(building, "changes", true);
	put(building, entry_of(building, list, "item", cell->column->of, cell->place), taking->key, value, cell->place);
}

static void put_dispensed(struct building *building, const struct cell *cell, const struct taking *taking)
{
	if (!has_count(building, cell->column->of))
		return;
	const char *value = taking->read(building, cell);
	struct node *list = part(building, "dispensed", true);
	put(building, entry_of(building, list, "product", cell->column->of, cell->place), taking->key, value,
	    cell->place);
}

static const struct taking takings[] = {
	[FIELD_RECORD] = {as_record, put_of_patient, "record"},
	[FIELD_NAME] = {as_written, put_of_patient, "name"},
	[FIELD_BORN] = {as_day, put_of_patient, "born"},
	[FIELD_ALLERGIES] = {as_written, put_allergies, "allergies"},
	[FIELD_LANGUAGE] = {as_code, put_plain, "language"},
	[FIELD_PAPER] = {as_code, put_plain, "paper"},
	[FIELD_LARGE_PRINT] = {as_flag, put_plain, "large_print"},
	[FIELD_PROTOCOL] = {as_code, put_plain, "protocol"},
	[FIELD_AS_OF] = {as_day, put_plain, "as_of"},
	[FIELD_VERSION] = {as_written, put_plain, "version"},
	[FIELD_GOOD_UNTIL] = {as_day, put_plain, "good_until"},
	[FIELD_ZONE] = {as_code, put_plain, "zone"},
	[FIELD_EVENT] = {as_event, put_event, NULL},   /* its key is the event */
	[FIELD_EVENT_TIME] = {as_written, NULL, NULL}, /* as_event() takes it */
	[FIELD_DOSES] = {as_order, put_doses, NULL},
	[FIELD_CHANGE_FROM] = {as_day, put_change, "from"},
	[FIELD_CHANGE_UNTIL] = {as_day, put_change, "until"},
	[FIELD_CHANGE_DOSE] = {as_order, put_change, "dose"},
	[FIELD_CHANGE_STOP] = {as_flag, put_change, "stop"},
	[FIELD_CALLED] = {as_day, put_called, "on"},
	[FIELD_DISPENSED] = {as_written, put_dispensed, "count"},
	[FIELD_EXPIRES] = {as_expiry, put_dispensed, "expires"},
	[FIELD_OPENED] = {as_day, put_dispensed, "opened"},
	[FIELD_LEFT] = {as_amount, put_dispensed, "left"},
	/* What intake_csv.c takes. */
	[FIELD_BECAUSE] = {as_written, NULL, NULL},
	[FIELD_ORDERED_BY] = {as_written, NULL, NULL},
	[FIELD_CHECKED_BY] = {as_written, NULL, NULL},
	[FIELD_SIGNED_ON] = {as_day, NULL, NULL},
	/* put_line() takes a row's four together. */
	[FIELD_LINE_ITEM] = {as_code, NULL, NULL},
	[FIELD_LINE_DOSE] = {as_amount, NULL, NULL},
	[FIELD_LINE_DAY] = {as_written, NULL, NULL},
	[FIELD_LINE_DATE] = {as_day, NULL, NULL},
};

static const struct taking *taking_of(const struct cell *cell)
{
	assert(takings[cell->column->field].read != NULL); /* a row for each field */
	return &takings[cell->column->field];
}

/* ---- order lines ---- */

static struct cell line_cell(struct building *building, size_t row, enum field field)
{
	const struct map_column *column = map_column_of(building->reading->map, field);
	return column == NULL ? (struct cell){.text = ""} : cell_of(building, row, column);
}

static void put_line_change(struct building *building, const struct cell *date, const char *item, const char *amount)
{
	struct node *entry = tree_map(building->arena, date->place);
	const char *day = read_day(date);
	if (*day == '\0')
		return;
	tree_put_text(building->arena, entry, "item", item, date->place);
	tree_put_text(building->arena, entry, "from", day, date->place);
	tree_put_text(building->arena, entry, "dose", amount, date->place);
	tree_add(building->arena, part(building, "changes", true), entry);
}

static bool day_number(const struct cell *cell, int64_t *day)
{
	size_t digits = strspn(cell->text, "0123456789");
	*day = digits > 0 && digits <= 4 && cell->text[digits] == '\0' ? strtol(cell->text, NULL, 10) : 0;
	if (*day > 0)
		return true;
	refuse(cell, "bad-number", "'%s' is no day of the treatment; write 1 for the first", cell->text);
	return false;
}

static void need(const struct cell *cell);

static void put_line(struct building *building, size_t row)
{
	struct cell item = line_cell(building, row, FIELD_LINE_ITEM);
	struct cell dose = line_cell(building, row, FIELD_LINE_DOSE);
	struct cell day = line_cell(building, row, FIELD_LINE_DAY);
	struct cell date = line_cell(building, row, FIELD_LINE_DATE);
	need(&item);
	need(&dose);
	if (*item.text == '\0' || *dose.text == '\0')
		return;
	const char *id = decoded(&item);
	if (*id == '\0')
		return;
	const char *amount = read_amount_text(&dose, dose.text, item_of(building->protocol, id));
	int64_t number = 1;
	if (*day.text != '\0' && *date.text != '\0')
		refuse(&date, "day-and-date", "this order is from a day and from a date; keep one of them");
	else if (*amount != '\0' && *date.text != '\0')
		put_line_change(building, &date, id, amount);
	else if (*amount != '\0' && (*day.text == '\0' || day_number(&day, &number)))
		put_step(building, &dose, id, number, amount);
}

/* ---- the whole ---- */

static void need(const struct cell *cell)
{
	if (*cell->text == '\0')
		refuse(cell, "cell-missing", "'%s' is empty here, and no sheet is made without it; fill it in",
		       cell->column->field_name);
}

static void need_cells(struct building *building)
{
	static const enum field needed[] = {FIELD_NAME, FIELD_LANGUAGE, FIELD_PROTOCOL, FIELD_AS_OF};
	for (size_t i = 0; i < sizeof needed / sizeof *needed; i++) {
		const struct map_column *column = map_column_of(building->reading->map, needed[i]);
		struct cell cell;
		if (column == NULL)
			continue;
		cell = (struct cell){building->reading, column, cell_place(building->reading, 0, column),
		                     cell_text(building->reading, 0, column)};
		need(&cell);
	}
}

static void find_protocol_first(struct building *building)
{
	const struct map_column *column = map_column_of(building->reading->map, FIELD_PROTOCOL);
	struct findings unsaid = findings_in(building->arena);
	struct cell_reading quiet = *building->reading;
	quiet.findings = &unsaid;
	struct cell cell = {&quiet, column, building->place, cell_text(building->reading, 0, column)};
	building->protocol = clinic_protocol(building->reading->clinic, decoded(&cell));
}

static struct building building_of(const struct cell_reading *reading)
{
	struct building building = {
		.reading = reading, .arena = reading->arena, .place = {reading->file, (int)reading->rows[0].number, 0}};
	building.plan = tree_map(reading->arena, building.place);
	find_protocol_first(&building);
	return building;
}

/* Maps and lists that stayed empty are no keys of a plan. */
static void drop_empty(struct node *plan)
{
	struct pair *pairs = (struct pair *)(uintptr_t)plan->pairs;
	size_t kept = 0;
	for (size_t i = 0; i < plan->n; i++)
		if (pairs[i].value->kind == NODE_SCALAR || pairs[i].value->n > 0)
			pairs[kept++] = pairs[i];
	plan->n = kept;
}

struct node *cells_tree(const struct cell_reading *reading)
{
	struct building building = building_of(reading);
	const struct intake_map *map = reading->map;
	need_cells(&building);
	if (reading->as_of != NULL)
		tree_put_text(building.arena, building.plan, "as_of", reading->as_of, building.place);
	for (size_t i = 0; i < map->n_columns; i++) {
		struct cell cell = cell_of(&building, 0, &map->columns[i]);
		if (*cell.text != '\0' && taking_of(&cell)->put != NULL)
			taking_of(&cell)->put(&building, &cell, taking_of(&cell));
	}
	for (size_t row = 0; map->order_lines && row < reading->n_rows; row++)
		put_line(&building, row);
	check_counts(&building);
	check_changes(&building);
	drop_empty(building.plan);
	return building.plan;
}

const char *cell_value(const struct cell_reading *reading, size_t row, const struct map_column *column)
{
	struct building building = building_of(reading);
	struct cell cell = cell_of(&building, row, column);
	if (*cell.text == '\0')
		return "";
	if (taking_of(&cell)->put == NULL)
		return taking_of(&cell)->read(&building, &cell);
	taking_of(&cell)->put(&building, &cell, taking_of(&cell));
	drop_empty(building.plan);
	return g_strchomp(arena_strdup(reading->arena, tree_print(reading->arena, building.plan)));
}
