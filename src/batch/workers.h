/*
 * workers.h - one process, or several, that do numbered pieces of work and answer each with a line.
 *
 * The parent hands a number to each idle worker and takes its answer. A worker
 * is forked from the parent, which holds the clinic, the fonts and a first
 * packet's warmth and has one thread alone, so a child starts ready. A worker
 * that dies costs nothing but its piece: another one is forked, the piece is
 * tried once more, and the second time it is given up.
 */
#ifndef BATCH_WORKERS_H
#define BATCH_WORKERS_H

#include <stdbool.h>
#include <stddef.h>

struct workers_task {
	void *self;
	/* The next piece to do; false: none is left for now. */
	bool (*next)(void *self, size_t *number);
	/* In the worker: the answer, one line that ends with a line feed. */
	const char *(*work)(void *self, size_t number);
	/* In the parent: the answer; or NULL, where the piece was given up. False: do no more. */
	bool (*done)(void *self, size_t number, const char *line, size_t length);
	/* In the parent, a few times a second: false to hand out no more, and end once those at work are done. */
	bool (*beat)(void *self);
};

enum workers_end {
	WORKERS_DONE,
	WORKERS_STOPPED, /* by `beat` or `done` */
	WORKERS_FAILED   /* the system would not give a process, with errno; or it has more than one thread */
};

enum workers_end workers_run(const struct workers_task *task, int jobs);

#endif
