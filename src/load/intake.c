#include "load/intake.h"

#include "base/remedy.h"
#include "load/intake_csv.h"
#include "load/intake_fhir.h"

#include <errno.h>
#include <glib.h>
#include <string.h>

/* A day of the command line is held to the same form as one in a plan. */
static bool good_as_of(const struct intake_options *options, struct findings *findings)
{
	struct civil_date date;
	if (options->as_of == NULL || date_read(options->as_of, &date))
		return true;
	findings_add(findings, FINDING_STOP, "bad-date", (struct place){.file = NULL},
	             "--as-of: '%s' is no date; write year, month and day, as in 2026-12-08", options->as_of);
	return false;
}

static bool new_index(struct intake *intake, const char *folder, struct findings *findings, enum load_status *status)
{
	intake->index = intake_index_new(folder);
	if (intake->index != NULL)
		return true;
	*status = LOAD_FAILED;
	findings_add(findings, FINDING_STOP, "file-unwritable", (struct place){.file = NULL},
	             "nothing can be written to '%s': %s%s", folder, strerror(errno), remedy_of_writing(errno));
	return false;
}

static bool open_source(struct arena *run, struct intake *intake, const struct map_file *from,
                        const struct intake_options *options, struct findings *findings, enum load_status *status)
{
	bool as_of_given = options->as_of != NULL;
	if (from->fhir) {
		const struct fhir_map *map = load_fhir_map(run, intake->clinic, from, as_of_given, findings, status);
		return map != NULL && intake_fhir_open(run, intake, map, options, findings, status);
	}
	const struct intake_map *map = load_intake_map(run, intake->clinic, from, as_of_given, findings, status);
	return map != NULL && intake_csv_open(run, intake, map, options, findings, status);
}

struct intake *intake_open(struct arena *run, const struct clinic *clinic, const struct intake_options *options,
                           struct findings *findings, enum load_status *status)
{
	struct intake *intake = arena_alloc(run, sizeof *intake);
	struct source_file *file = arena_alloc(run, sizeof *file);
	*status = LOAD_GOOD;
	file->name = arena_strdup(run, options->path);
	intake->clinic = clinic;
	intake->file = file;
	const struct map_file map = read_map_file(run, options->map, findings, status);
	if (map.root != NULL && good_as_of(options, findings) && new_index(intake, options->folder, findings, status) &&
	    open_source(run, intake, &map, options, findings, status))
		return intake;
	*status = load_worse(*status, LOAD_REFUSED);
	intake_free(intake);
	return NULL;
}

void intake_free(struct intake *intake)
{
	if (intake == NULL)
		return;
	if (intake->self != NULL)
		intake->source->free(intake->self);
	intake_index_free(intake->index);
}

size_t intake_count(const struct intake *intake)
{
	return intake_index_groups(intake->index);
}

bool intake_read(struct intake *intake, struct arena *arena, size_t number, struct intake_patient *patient,
                 struct findings *findings)
{
	return intake->source->read(intake->self, arena, number, patient, findings);
}

uint64_t intake_share(const struct intake *intake, size_t number)
{
	size_t n;
	const struct index_piece *pieces = intake_index_group(intake->index, number, &n);
	return pieces->flags & PIECE_ALONE ? pieces->offset : pieces->record.high;
}

bool intake_has(const struct intake *intake, const char *record)
{
	return intake_index_has(intake->index, index_key_of(record));
}

const char *intake_explain(struct intake *intake, struct arena *arena, size_t most)
{
	return intake->source->explain(intake, arena, most);
}
