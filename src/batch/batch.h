/*
 * batch.h - an intake into a folder of packets, with every row accounted for.
 *
 *     intake --- workers: read, compare with the last run, compute, compose, draw, save
 *                   |
 *                journal --- tables (ledger, refused, vanished), print run, register
 *
 * Every patient ends as a packet, unchanged since the last run, or refused; a
 * row that is nobody's is refused by itself. What is in the folder depends on
 * the inputs alone, not on how many workers there were or whether the run was
 * killed and gone on with.
 */
#ifndef BATCH_BATCH_H
#define BATCH_BATCH_H

#include "base/finding.h"
#include "model/clinic.h"

struct batch_options {
	const char *intake;
	const char *map;
	const char *out;
	const char *data_folder;
	const char *as_of;    /* NULL: the intake says it */
	const char *previous; /* NULL: none */
	int jobs;
	unsigned shard; /* 1 to `shards`; 0: all patients */
	unsigned shards;
	bool print_run;
	bool resume;
	bool name_by_code;
	bool no_register;
	bool mono;
};

struct batch_count {
	size_t patients;
	size_t packets;
	size_t unchanged;
	size_t refused;
	size_t rows; /* nobody's, refused by themselves; not among the patients */
	size_t vanished;
};

/* Told while a run goes on; holds record and row numbers, nothing else of a patient. */
struct batch_listener {
	void *self;
	/* A few times a second: how many of how many are done, and of those how many refused. */
	void (*progress)(void *self, size_t done, size_t refused, size_t all);
	void (*refused)(void *self, const char *rows, const char *record, const char *code, size_t n_reasons);
	/* True once somebody asked for the run to end. */
	bool (*stopped)(void *self);
};

enum batch_end {
	BATCH_DONE,
	BATCH_REFUSED, /* the intake as a whole, or the options: the findings say why */
	BATCH_STOPPED, /* by the listener; --resume goes on */
	BATCH_FAILED   /* the system: the findings say why; --resume goes on */
};

/* `run` and `patient` are the run's two arenas. */
enum batch_end batch_run(struct arena *run, struct arena *patient, const struct clinic *clinic,
                         const struct batch_options *options, const struct batch_listener *listener,
                         struct batch_count *count, struct findings *findings);

#endif
