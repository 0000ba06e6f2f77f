/*
 * run.h - what the parts of a run share; inside batch only.
 */
#ifndef BATCH_RUN_H
#define BATCH_RUN_H

#include "batch/batch.h"
#include "batch/journal.h"
#include "batch/made.h"
#include "batch/previous.h"
#include "batch/workers.h"

struct run {
	struct arena *arena;   /* the clinic's, and what lives as long as the run */
	struct arena *patient; /* reset before each patient */
	const struct clinic *clinic;
	const struct batch_options *options;
	struct intake *intake;
	struct previous *previous; /* NULL: none */
	struct out_folder folder;
	struct journal *journal;
	struct typesetter *typesetter;
	struct findings *findings; /* of the run, not of a patient */
};

/* one.c */
/* True for a patient that this run's shard makes. */
bool run_has(const struct run *run, size_t number);

/* "2 5 9" */
const char *run_rows(struct arena *arena, const struct index_piece *pieces, size_t n);

/* Reads, makes and saves one patient's packet. The outcome lives in the patient arena. */
void run_one(struct run *run, size_t number, struct outcome *outcome);

/* The same as far as the composed packet, in `arena`; false where it is refused. Free `made` but its typesetter. */
bool run_compose(struct run *run, struct arena *arena, size_t number, struct made *made);

/* Why nothing is kept that was composed since a font file vanished or changed: letters may be of another font. */
extern const char run_fonts_changed[];

/* So many plans are followed back at the most: a circle of files must not be followed for ever. */
enum { RUN_MOST_VERSIONS = 1000 };

/* Of a plan in this run's folder the one that it replaces, "plans/LQ-0101~v1.yaml"; "" where it names none. */
const char *run_earlier(struct run *run, struct arena *arena, const char *name);

/*
 * A plan of the earlier run, and those before it, into this one's folder under their names; false, with a finding of the
 * run, where not.
 */
bool run_carry_told(struct run *run, struct arena *arena, const char *name);

/* The sheet that a refused patient still has from the earlier run, its plan carried; false, with a finding of the run. */
bool run_last_sheet(struct run *run, struct arena *arena, const char *record, struct sheet *sheet);

/* Says that the disk, or what is on it, failed, unless a finding of the run says why it stopped; false. */
bool run_failed(struct run *run, const char *path);

/* give_up.c */
/*
 * The outcome of a patient whom the program died of twice: refused. What was made of it goes with run_sweep_unnamed().
 * Lives in the patient arena; false, with a finding of the run, where the system would not.
 */
bool run_give_up(struct run *run, size_t number, struct outcome *outcome);

/* The code of its reason. */
extern const char run_worker_died[];

/* sweep.c */
/* Removes what was half written when an earlier process of this run was killed. */
void run_sweep_cut_off(struct run *run);

/*
 * Where a worker died between saving a packet and saying so, the packet must not stand there as if it were one, whatever
 * its name: removes from packets/ and plans/ what no outcome names. False, with a finding, where the disk is full.
 */
bool run_sweep_unnamed(struct run *run);

/* tables.c */
/* Refuses the packets whose sheets have one code; they could not be told apart over the telephone. */
bool run_refuse_same_codes(struct run *run);
/* ledger.csv, refused.csv, refused-rows.csv and vanished.csv from the journal, and what they count. */
bool run_write_tables(struct run *run, struct batch_count *count);
bool run_write_register(struct run *run);

/* batch.c */
/* Runs a task in the run's workers; a failure is a finding. */
enum batch_end run_in_workers(struct run *run, const struct workers_task *task);

/* print_run.c */
/* All packets of the run, a hundred to a file. */
enum batch_end run_print(struct run *run, const struct batch_listener *listener);

#endif
