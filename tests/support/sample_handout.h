/*
 * sample_handout.h - invented handouts, made by hand, for tests of the page layer.
 *
 * A sample is a list of rows in a table: a medicine, its time, its days, its
 * amounts. From them come an overview and a grid as the handout layer would
 * make them, so that the page layer is tested without plan, record and loader.
 * Names, amounts and dates mean nothing.
 */
#ifndef SUPPORT_SAMPLE_HANDOUT_H
#define SUPPORT_SAMPLE_HANDOUT_H

#include "handout/handout.h"

enum sample_kind {
	SAMPLE_SHORT,  /* six medicines, 13 days, halves, a call, an exact time */
	SAMPLE_LONG,   /* twelve medicines, 28 days, an exact time after midnight */
	SAMPLE_TINY,   /* one medicine, three days */
	SAMPLE_STRESS, /* twelve medicines, 40 days, long names, six times a day, halves across visits */
	SAMPLE_PAIRS,  /* six medicines, 20 days, halves from day 2 on, no visits: a pair where a fortnight ends */
	SAMPLE_WAITING /* nothing is dated yet */
};

struct sample {
	struct handout handout;
	struct speaker *speaker;
};

struct sample_options {
	enum paper paper;
	bool draft;
	bool mono;
};

/* Lives in `arena`, but for its speaker: free that with sample_free(). */
struct sample *sample_new(struct arena *arena, enum sample_kind kind, struct sample_options options,
                          struct findings *findings);
void sample_free(struct sample *sample);

#endif
