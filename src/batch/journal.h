/*
 * journal.h - what a run has done so far, on disk: a line an outcome, in the order in which they came.
 *
 * A run that was killed goes on from it. A packet's line is added once the
 * packet is on the disk, so a line never promises more than there is. The
 * tables are made from it in the intake's order.
 */
#ifndef BATCH_JOURNAL_H
#define BATCH_JOURNAL_H

#include "batch/out_folder.h"
#include "batch/outcome.h"

struct journal;

/* Of `n` patients; lines of an earlier run are there again. NULL with a finding where the system would not. */
struct journal *journal_open(struct arena *run, const struct out_folder *folder, size_t n, struct findings *findings);
void journal_free(struct journal *journal);

/* False, with errno, where the disk is full. */
bool journal_add(struct journal *journal, struct arena *arena, const struct outcome *outcome);

/* The outcome of patient `number`; false where there is none yet. Lives in `arena`. */
bool journal_get(struct journal *journal, struct arena *arena, size_t number, struct outcome *outcome);
bool journal_has(const struct journal *journal, size_t number);
/* As if it had never been. */
void journal_drop(struct journal *journal, size_t number);

/*
 * Puts the lines in the order of patients, one for each, so that a finished
 * run's folder is the same however it came about. False, with errno, where the
 * disk is full; then the journal is as it was.
 */
bool journal_sort(struct journal *journal, struct arena *run, const struct out_folder *folder);

#endif
