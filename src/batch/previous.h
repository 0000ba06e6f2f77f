/*
 * previous.h - an earlier run's folder: which sheet each patient has from it.
 *
 * Its ledger says so, and its vanished.csv of those who were gone by then. Both
 * are looked up on disk, one line at a time.
 */
#ifndef BATCH_PREVIOUS_H
#define BATCH_PREVIOUS_H

#include "batch/out_folder.h"
#include "batch/outcome.h"
#include "load/intake.h"

struct previous;

/* What is known of a patient's last sheet. */
struct previous_sheet {
	const char *record;
	struct sheet sheet;
	int64_t nights; /* how many runs the patient has been missing; 0: was in the last one */
};

/* NULL with findings where `path` is no finished run's folder. The index grows in `folder`. */
struct previous *previous_open(struct arena *run, const char *path, const char *folder, struct findings *findings,
                               enum load_status *status);
void previous_free(struct previous *previous);

/* The sheet of a record; false where there is none. Lives in `arena`. */
bool previous_find(struct previous *previous, struct arena *arena, const char *record, struct previous_sheet *sheet);

/* All sheets, in no order that matters; false where `number` is past the last, or its line has no sheet. */
size_t previous_count(const struct previous *previous);
bool previous_get(struct previous *previous, struct arena *arena, size_t number, struct previous_sheet *sheet);

/* "DIR/name". */
const char *previous_path(const struct previous *previous, struct arena *arena, const char *name);

#endif
