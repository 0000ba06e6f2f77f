/*
 * outcome.h - where one patient of a run ended, and its line in the journal.
 *
 * A worker sends the line to the run, the run keeps it in the journal, and all
 * tables of the run are made from the journal. One line, so that one write
 * keeps it whole or not at all.
 */
#ifndef BATCH_OUTCOME_H
#define BATCH_OUTCOME_H

#include "base/finding.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum outcome_kind {
	OUTCOME_PACKET,
	OUTCOME_UNCHANGED,
	OUTCOME_REFUSED,
	OUTCOME_ROW,   /* a row that is nobody's, refused by itself */
	OUTCOME_FAILED /* the system would not; the run stops, and nothing is kept of it */
};

/* Why a patient was refused. */
struct reason {
	uint32_t row;
	const char *code;
	const char *says;
};

/* The sheet that a patient has: made tonight, or the one from before. */
struct sheet {
	const char *code; /* "": none */
	int64_t version;
	const char *as_of;
	const char *state;       /* "signed", "draft" */
	const char *order;       /* digest of what was ordered, and of how it was printed */
	const char *plan;        /* its plan's file in the run's folder */
	const char *plan_sha256; /* of that file as it was written; "": not known */
};

struct outcome {
	size_t number;
	enum outcome_kind kind;
	const char *rows; /* "2 5 9" */
	const char *record;
	struct sheet sheet;
	size_t pages;
	size_t cautions;
	const char *file; /* in the run's folder; "": no packet */
	const char *sha256;
	const struct reason *reasons;
	size_t n_reasons;
	const char *failure; /* OUTCOME_FAILED: what the system said */
};

/* "packet", "unchanged", "refused" or "row". */
const char *outcome_name(enum outcome_kind kind);

/* Ends with a line feed, and holds no other. */
const char *outcome_line(struct arena *arena, const struct outcome *outcome);

/* Takes a line of `length` bytes apart, line feed included or not; false where it is none. Lives in `arena`. */
bool outcome_read(struct arena *arena, const char *line, size_t length, struct outcome *outcome);

/* The stops of `findings` as reasons; a row of the intake is told by `file`, all else is about row `first`. */
void outcome_refuse(struct arena *arena, struct outcome *outcome, const struct findings *findings,
                    const struct source_file *file, uint32_t first, const char *name);

#endif
