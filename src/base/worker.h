/*
 * worker.h - a second thread, which does the jobs that it is given one after the other.
 *
 * What a job is given belongs to it until it is waited for; so it has an arena
 * and findings of its own. Who waits does not stand by: jobs that the worker has
 * not begun are done by the waiting thread. NULL is a worker too: it does each
 * job at once, in the caller's thread. So what comes out never depends on which
 * thread does a job, only when it does.
 */
#ifndef BASE_WORKER_H
#define BASE_WORKER_H

struct worker;

/* NULL where the system has no thread to give. */
struct worker *worker_new(void);

/* Waits for all jobs first. */
void worker_free(struct worker *worker);

/* `work(data)` is done by the end of the next worker_wait(). One thread alone gives jobs, and waits. */
void worker_do(struct worker *worker, void (*work)(void *data), void *data);

/* Returns when all jobs are done; what they wrote may be read from then on. */
void worker_wait(struct worker *worker);

#endif
