/*
 * signatures.h - signatures.csv: who signed which entry, with the seal that its meaning had then.
 *
 * One line a signature, only ever added at the end:
 *
 *     kind,id,seal,who,when
 *     medicine,examplin,5f0c...e2,"A. Nurse, pharmacist",2026-11-25
 */
#ifndef LOAD_SIGNATURES_H
#define LOAD_SIGNATURES_H

#include "load/file.h"
#include "model/plan.h"

/* Reads the lines into `clinic`. A line that says nothing is a caution and counts for nothing. */
void read_signatures(struct arena *arena, const struct source_file *file, struct clinic *clinic,
                     struct findings *findings);

/* The plan as an entry that can be signed. */
struct seal plan_seal(const struct plan *plan);

/* True where somebody (or `who`, if not NULL) signed the entry's present meaning. */
bool seal_signed(const struct clinic *clinic, const struct seal *seal, const char *who);

/*
 * A name as it is kept: without spaces around it. NULL with a finding where it
 * is empty, too long, or holds what does not belong in a name.
 */
const char *signer_name(struct arena *arena, const char *who, struct findings *findings);

/*
 * Adds a line for each of the `n` seals, all in one write and then synced, so
 * that two people who sign at once both count. False with a finding where the
 * system would not; then nothing, or a line that is cut and counts for nothing,
 * was written. `when` is a date.
 */
bool signatures_append(struct arena *arena, const char *folder, const struct seal *seals, size_t n, const char *who,
                       const char *when, struct findings *findings);

#endif
