/*
 * intake.h - many patients at once, one after the other: an export of orders, whatever its form.
 *
 *     INTAKE --- index: which bytes are whose (one pass, on disk)
 *        |
 *        +------ intake_read(number) --- a tree, as if somebody had written that patient's plan as a file
 *                                             |
 *                                             +--- struct plan, by the same tables and checks as a file's
 *
 * A source (intake_csv.c, intake_fhir.c) knows its own form and makes the tree; all after that
 * is one for every source. Nothing of a patient outlives the arena that
 * intake_read() is given. A source that lacks something says so in findings
 * whose place is the row; the intake as a whole is refused only where no row
 * can be trusted.
 */
#ifndef LOAD_INTAKE_H
#define LOAD_INTAKE_H

#include "load/folder.h"
#include "load/intake_index.h"
#include "load/tree.h"

struct intake;

/* One patient of an intake, or a row that is nobody's. */
struct intake_patient {
	const char *record; /* NULL: a row that belongs to nobody, and is refused by itself */
	const struct index_piece *pieces;
	size_t n_pieces;
	const struct node *tree; /* NULL: refused before that far */
	/* NULL: refused. Its names are looked up, its version is 1 where the intake says none, and it has no seal yet. */
	struct plan *plan;
};

/* What a source is. `self` is its own. */
struct intake_source {
	const char *ending; /* of the refused rows' file: "csv" */
	/* The record and the tree of group `number`; findings otherwise. False where the system failed, with errno. */
	bool (*read)(void *self, struct arena *arena, size_t number, struct intake_patient *patient,
	             struct findings *findings);
	/* The bytes before all rows, which a file of some of them needs too; then those of a piece. NULL: it failed. */
	const char *(*head)(void *self, struct arena *arena, uint32_t *length);
	const char *(*bytes)(void *self, struct arena *arena, const struct index_piece *piece);
	const char *between; /* what goes behind a piece that ends no line, and after all */
	const char *tail;
	/* As intake_explain(). */
	const char *(*explain)(struct intake *intake, struct arena *arena, size_t most);
	void (*free)(void *self);
};

struct intake {
	const struct intake_source *source;
	void *self;
	const struct clinic *clinic;
	const struct source_file *file;
	struct intake_index *index;
	bool version_stated; /* the intake says which version each order is */
};

/* What an intake is opened with. */
struct intake_options {
	const char *path;
	const char *map;
	const char *as_of;  /* of the command line; NULL: the intake says it */
	const char *folder; /* where the index may grow */
	bool explain;       /* only to be explained: what the map leaves open refuses nothing yet */
};

/* One pass over the whole. NULL with findings where it is refused as a whole. Free it with intake_free(). */
struct intake *intake_open(struct arena *run, const struct clinic *clinic, const struct intake_options *options,
                           struct findings *findings, enum load_status *status);
void intake_free(struct intake *intake);

/* How many groups: patients, and rows that are nobody's. */
size_t intake_count(const struct intake *intake);

/*
 * Group `number`, in the order in which the intake first names each. What is
 * wrong with it is in `findings`; false where the system failed, with errno.
 */
bool intake_read(struct intake *intake, struct arena *arena, size_t number, struct intake_patient *patient,
                 struct findings *findings);

/* A number that depends on the record alone (of a row that is nobody's, on its place): to share patients out by. */
uint64_t intake_share(const struct intake *intake, size_t number);

/* True where some row has this record. */
bool intake_has(const struct intake *intake, const char *record);

/*
 * For the first `most` groups: what is read as what, as text for people. Holds
 * what the intake says of patients.
 */
const char *intake_explain(struct intake *intake, struct arena *arena, size_t most);

#endif
