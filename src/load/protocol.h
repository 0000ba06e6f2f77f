/*
 * protocol.h - one file of protocols/: events, items, doses by day, visits.
 */
#ifndef LOAD_PROTOCOL_H
#define LOAD_PROTOCOL_H

#include "load/values.h"
#include "model/clinic.h"

/* `clinic` gives the medicines and slots that a protocol may name. */
struct protocol_names {
	const struct clinic *clinic;
	bool medicines_known; /* false: the formulary could not be read, so a name not found says nothing */
	bool slots_known;
};

struct protocol read_protocol(const struct reader *reader, const struct raw_protocol *raw,
                              const struct protocol_names *names, const struct source_file *file);

/* Steps of doses and times of day, which a plan may state too. */
const struct dose_step *read_steps(const struct reader *reader, const struct raw_step *raw, size_t n, bool in_plan,
                                   const struct protocol_names *names, const struct protocol *protocol);
const struct at *read_times(const struct reader *reader, char *const *raw, size_t n,
                            const struct protocol_names *names);

/* The named one, or NULL with a finding (or without, where nothing was written). */
const struct item *find_item(const struct reader *reader, const char *raw, const struct protocol *protocol);

#endif
