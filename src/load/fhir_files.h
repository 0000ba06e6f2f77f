/*
 * fhir_files.h - the resources of an export, one after the other, and the bytes of one again.
 *
 *     export.ndjson     a resource a line
 *     export/           the .ndjson files of a bulk export, in the order of their names
 *     export.json       a Bundle: the entries of its list
 *
 * Rows are lines, counted through all files; of a Bundle, entries. No more than one resource is held at a time.
 */
#ifndef LOAD_FHIR_FILES_H
#define LOAD_FHIR_FILES_H

#include "load/file.h"

#include <stdint.h>

struct fhir_files;

/* One line or entry. The bytes are lent until the next one. */
struct fhir_found {
	uint32_t file;
	uint32_t row;
	uint64_t offset;
	uint32_t length; /* with the line's end */
	const char *bytes;
};

enum fhir_next {
	FHIR_FOUND,
	FHIR_END,
	FHIR_TOO_LONG, /* `found` says where it begins */
	FHIR_BROKEN,   /* a Bundle that is not JSON: where its entries end is not known */
	FHIR_FAILED    /* errno */
};

/* NULL with findings where there is nothing of that form. Free it with fhir_files_free(). */
struct fhir_files *fhir_files_open(struct arena *run, const char *path, const struct source_file *file,
                                   struct findings *findings, enum load_status *status);
void fhir_files_free(struct fhir_files *files);

enum fhir_next fhir_files_next(struct fhir_files *files, struct fhir_found *found);

/* True for a Bundle; its text without the entries, each an empty object, is known once all were found. */
bool fhir_files_bundle(const struct fhir_files *files);
const char *fhir_files_shell(const struct fhir_files *files, size_t *length);

/* The bytes again, ended by a zero that does not count; safe in several processes. NULL with errno. */
const char *fhir_files_bytes(struct fhir_files *files, struct arena *arena, uint32_t file, uint64_t offset,
                             uint32_t length);

#endif
