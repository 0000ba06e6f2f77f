/*
 * run_file.h - run.json: what a run was made from, by digest, so that only the same run is gone on with.
 */
#ifndef BATCH_RUN_FILE_H
#define BATCH_RUN_FILE_H

#include "batch/out_folder.h"

/* What the run's files depend on; how many workers there are is no part of it. */
struct run_inputs {
	const char *intake;
	const char *map;
	const char *clinic;   /* its folder */
	const char *data;     /* the program's words, steps and fonts */
	const char *previous; /* NULL: none */
	const char *as_of;    /* NULL: the intake says it */
	bool mono;
	bool print_run;
	bool name_by_code;
	unsigned shard; /* 0: all */
	unsigned shards;
};

/*
 * The file's text, in `run`. NULL with a finding where an input cannot be read.
 * Holds digests and options: no path, no clock, nothing of a patient.
 */
const char *run_file_text(struct arena *run, const struct run_inputs *inputs, struct findings *findings);

/* What went before is the same, or the difference is a finding: "the map is another one". */
bool run_file_same(struct arena *run, const struct out_folder *folder, const char *text, struct findings *findings);

bool run_file_write(struct arena *run, const struct out_folder *folder, const char *text, struct findings *findings);

#endif
