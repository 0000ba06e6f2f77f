/*
 * out_folder.h - the folder of a run: what may stand in it, and that one run alone works in it.
 *
 *     OUT/
 *       run.json           what the run was made from; the first file that appears
 *       packets/LQ-0001.pdf ...
 *       plans/LQ-0001.yaml ...      each packet's plan, as `fillmark packet` would take it
 *       plans/LQ-0001~v1.yaml ...   the plans that it replaced, from earlier nights
 *       print-run-0001.pdf, print-run-0001-staff.pdf ...
 *       ledger.csv, refused.csv, refused-rows.csv, vanished.csv      once all is done
 *       .journal           until then
 */
#ifndef BATCH_OUT_FOLDER_H
#define BATCH_OUT_FOLDER_H

#include "base/finding.h"

#include <stdio.h>

struct out_folder {
	const char *path;
	int lock;
	bool fresh; /* nothing of an earlier run is in it */
};

/*
 * Makes the folder, or goes on in one of an earlier run where `resume`. False
 * with a finding where it holds other files, an earlier run, another run at
 * work, or cannot be written.
 */
bool out_folder_open(struct arena *run, const char *path, bool resume, struct out_folder *folder,
                     struct findings *findings);
/* packets/ and plans/, once run.json says whose they are. */
bool out_folder_make_parts(struct arena *run, const struct out_folder *folder, struct findings *findings);
void out_folder_close(struct out_folder *folder);

/* "OUT/name". */
const char *out_path(struct arena *arena, const struct out_folder *folder, const char *name);

/* A record as a file's name: letters, digits, '.', '-' and '_' stay, any other byte is %XX. No two are one. */
const char *out_name(struct arena *arena, const char *record);

/* A file that is written line by line and appears whole: under its name only once it is ended. */
struct out_file {
	FILE *stream;
	const char *path;
	const char *beside;
};

bool out_file_begin(struct arena *arena, const struct out_folder *folder, const char *name, struct out_file *file);
/* `whole`: all of it was written. Nothing appears where it was not, or where the disk is full: then false, with errno. */
bool out_file_end(struct out_file *file, bool whole);

/* One cell of a CSV, quoted where it must be, and what follows it. */
void out_cell(FILE *stream, const char *text, char end);

/* SHA-256 of a file, lower-case hex, in the arena; NULL where it cannot be read. */
const char *out_digest(struct arena *arena, const char *path);

#endif
