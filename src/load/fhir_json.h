/*
 * fhir_json.h - a resource as JSON, its numbers as they are written.
 *
 * jansson would make binary fractions of them, so each number is handed to it
 * as {"=": "0.25"}; what is no number by JSON's grammar stays as it is, and is
 * refused with all else that is not JSON. A key that stands twice is refused too.
 */
#ifndef LOAD_FHIR_JSON_H
#define LOAD_FHIR_JSON_H

#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>

/* The value that `bytes` hold, to be freed with json_decref(); NULL where they are not JSON in UTF-8. */
json_t *fhir_json_read(const char *bytes, size_t length);

/* The string or number of a key, lent by the object; NULL where there is none of that kind. */
const char *fhir_string(const json_t *object, const char *key);
const char *fhir_number(const json_t *object, const char *key);

/* "a.b" is key b of the object at key a; of a list, of its first entry. NULL: not there. */
const json_t *fhir_at(const json_t *object, const char *path);
const char *fhir_string_at(const json_t *object, const char *path);

/* The entry of a list, or NULL. */
const json_t *fhir_entry(const json_t *list, size_t i);

#endif
