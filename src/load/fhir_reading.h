/*
 * fhir_reading.h - what reading one patient's resources needs everywhere, and the values that many resources share.
 */
#ifndef LOAD_FHIR_READING_H
#define LOAD_FHIR_READING_H

#include "load/fhir_json.h"
#include "load/fhir_map.h"

#include <stdint.h>

struct fhir_resource {
	const json_t *json; /* the resource itself */
	const char *type;
	const char *address; /* in a Bundle; NULL: it has none */
	struct place place;  /* its row */
};

struct fhir_reading {
	struct arena *arena;
	struct findings *findings;
	const struct clinic *clinic;
	const struct fhir_map *map;
	const struct source_file *file;
	const char *as_of;
	const struct fhir_resource *list; /* one patient's, by type and id */
	size_t n;
};

/* A stop at a resource. */
void fhir_refuse(const struct fhir_reading *reading, const struct fhir_resource *at, const char *code,
                 const char *format, ...) __attribute__((format(printf, 4, 5)));

/* "system|code" of a coding, or of an identifier with its value; NULL where one of both lacks. */
const char *fhir_code(struct arena *arena, const json_t *coding, const char *value);

/*
 * What a concept's codings are in a table: one of them must be there, and those that are must agree.
 * NULL with a finding otherwise; `what` names the concept, as in "a route".
 */
const char *fhir_concept(const struct fhir_reading *reading, const struct fhir_resource *at, const json_t *concept,
                         const struct code_table *table, const char *what);

/* A date, or a time with its offset as the clinic's clocks show it. False where it is neither. */
struct fhir_moment {
	struct civil_date date;
	bool has_time;
	struct clock_time time;
	bool whole_minute;
};
bool fhir_moment_read(const struct fhir_reading *reading, const char *text, struct fhir_moment *moment);

/* What stands in every resource and refuses it: what changes its meaning in a way not known, characters that hide. */
void fhir_check_resource(const struct fhir_reading *reading, const struct fhir_resource *at);

#endif
