/*
 * intake_map.h - what a clinic's export means: which column is which field, which of its codes is which of our ids.
 *
 *     intake: csv
 *     rows: patient                     # or order-line: a patient has several rows, one for each order line
 *     delimiter: ";"                    # "," by default; "tab"
 *     encoding: windows-1252            # utf-8 by default; utf-16
 *     decimal: comma                    # point by default
 *     dates: day.month.year             # year-month-day by default
 *     procedure_time: arrival           # or procedure
 *     record_width: 6                   # digits of a record number, where it begins with zeros
 *     columns:
 *       "Pat no": patient.record
 *       "Dose (IU)": {field: doses.growth, unit: IU}
 *       "Lang": {field: language, codes: languages}
 *     ignore: [Room]
 *     codes: {languages: {E: en, S: es}}
 *     constants: {paper: a4}
 *
 * Nothing is guessed: a column is mapped or ignored by name.
 */
#ifndef LOAD_INTAKE_MAP_H
#define LOAD_INTAKE_MAP_H

#include "load/csv_rows.h"
#include "load/file.h"
#include "load/tree.h"
#include "model/clinic.h"

enum field {
	FIELD_RECORD,
	FIELD_NAME,
	FIELD_BORN,
	FIELD_ALLERGIES,
	FIELD_LANGUAGE,
	FIELD_PAPER,
	FIELD_LARGE_PRINT,
	FIELD_PROTOCOL,
	FIELD_AS_OF,
	FIELD_VERSION,
	FIELD_GOOD_UNTIL,
	FIELD_ZONE,
	FIELD_BECAUSE, /* why the order differs from the last one, in the patient's language */
	FIELD_ORDERED_BY,
	FIELD_CHECKED_BY,
	FIELD_SIGNED_ON,
	FIELD_EVENT,       /* `of` an event: its date, or date and time */
	FIELD_EVENT_TIME,  /* its time, where that has a column of its own */
	FIELD_DOSES,       /* `of` an item, from its day `day` */
	FIELD_CHANGE_FROM, /* `of` an item */
	FIELD_CHANGE_UNTIL,
	FIELD_CHANGE_DOSE,
	FIELD_CHANGE_STOP,
	FIELD_CALLED,    /* `of` an item */
	FIELD_DISPENSED, /* `of` a product: how many */
	FIELD_EXPIRES,
	FIELD_OPENED,
	FIELD_LEFT,
	FIELD_LINE_ITEM, /* of an order line */
	FIELD_LINE_DOSE,
	FIELD_LINE_DAY, /* from this day of the item */
	FIELD_LINE_DATE /* or from this date on: a change */
};

enum date_form { DATES_ISO, DATES_DAY_FIRST, DATES_MONTH_FIRST };

struct code_table {
	const char *name;
	const struct map_code {
		const char *theirs;
		const char *ours;
	} * list;
	size_t n;
};

struct map_column {
	const char *heading; /* NULL: a constant of the map */
	const char *constant;
	enum field field;
	const char *field_name; /* as the map writes it: "doses.growth" */
	const char *of;         /* the event, item or product; NULL where the field has none */
	int64_t day;            /* FIELD_DOSES: 1 by default */
	const char *unit;       /* of the column's bare numbers; NULL: each cell says its own */
	const struct code_table *codes;
	const char *separator; /* of several values in one cell; NULL: one value */
	struct place place;
};

struct intake_map {
	const struct source_file *file;
	bool order_lines;
	struct csv_form form;
	enum decimal_mark decimal;
	enum date_form dates;
	char date_mark; /* between day, month and year */
	bool dates_stated;
	bool time_stated; /* of a procedure */
	bool time_is_arrival;
	int64_t record_width;             /* 0: not stated */
	const struct map_column *columns; /* then the constants */
	size_t n_columns;
	const char *const *ignored;
	size_t n_ignored;
};

/* A map's text, whatever intake it is of. */
struct map_file {
	const struct source_file *file;
	const struct node *root; /* NULL: not read, with findings */
	bool fhir;               /* 'intake: fhir', see fhir_map.h */
};

struct map_file read_map_file(struct arena *run, const char *path, struct findings *findings, enum load_status *status);

/* The map of a CSV; NULL with findings where it is wrong. `as_of_given`: the command line says the day. */
const struct intake_map *load_intake_map(struct arena *run, const struct clinic *clinic, const struct map_file *from,
                                         bool as_of_given, struct findings *findings, enum load_status *status);

/* True for what an order line has of its own, where a patient has several rows. */
bool field_of_line(enum field field);

/* The column of a field without `of`; NULL: not mapped. */
const struct map_column *map_column_of(const struct intake_map *map, enum field field);

#endif
