/*
 * joined.h - finished runs held against their files and against one another: the shards of one intake, before printing.
 *
 * A run refuses two sheets with one code, and a shard knows its own sheets
 * alone; so whoever joins shards has this look at all of them together.
 */
#ifndef BATCH_JOINED_H
#define BATCH_JOINED_H

#include "batch/batch.h"

/* True where a run was begun in that folder. */
bool joined_is_run(struct arena *arena, const char *path);

/*
 * What is wrong is in `findings`: a run that is not finished, or is not of the
 * same inputs as the others; a shard that is missing or there twice; a packet or
 * plan that is not the ledger's; a record in two of the folders; two sheets with
 * one code. Adds to `count`. `folder` is where an index may grow. False where
 * the system failed. `run` and `patient` are as for batch_run().
 */
bool joined_check(struct arena *run, struct arena *patient, const char *const *paths, size_t n, const char *folder,
                  struct batch_count *count, struct findings *findings);

#endif
