/*
 * register.h - issued.csv in the clinic's folder: which sheets were made, so that an old one is known as old.
 *
 *     code,record,version,as_of
 *     K7Q4-MX2T-9,LQ-0001,2,2026-12-11
 *
 * One line a packet, only ever added. Runs that end at once wait for one another.
 */
#ifndef BATCH_REGISTER_H
#define BATCH_REGISTER_H

#include "base/finding.h"

/* A register that is held, to be added to and closed. */
struct issued_register;

/* NULL with a finding where it cannot be read or written. Lives in `run`. */
struct issued_register *register_open(struct arena *run, const char *clinic_folder, struct findings *findings);

/* Once, however often it is asked: a line that is there already is not added again. */
void register_add(struct issued_register *issued, const char *code, const char *record, long long version,
                  const char *as_of);

/* False with a finding where the disk is full. */
bool register_close(struct issued_register *issued, struct findings *findings);

#endif
