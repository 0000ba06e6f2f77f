#include "base/worker.h"

#include "base/arena.h"

#include <pthread.h>
#include <stdbool.h>
#include <stdlib.h>

struct job {
	struct job *next;
	void (*work)(void *data);
	void *data;
};

struct worker {
	pthread_t thread;
	pthread_mutex_t lock; /* of all that follows */
	pthread_cond_t changed;
	struct job *first; /* of those that nobody has begun; NULL: none is left */
	struct job *last;
	bool busy; /* with a job that is no longer among them */
	bool ended;
};

/* The next job, begun; NULL where none is left. The lock is held. */
static struct job *begin_job(struct worker *worker)
{
	struct job *job = worker->first;
	if (job)
		worker->first = job->next;
	return job;
}

/* The lock is held, but not while the job is done. */
static void do_job(struct worker *worker, struct job *job)
{
	pthread_mutex_unlock(&worker->lock);
	job->work(job->data);
	free(job);
	pthread_mutex_lock(&worker->lock);
}

static void *work_on(void *data)
{
	struct worker *worker = data;
	pthread_mutex_lock(&worker->lock);
	while (worker->first || !worker->ended) {
		struct job *job = begin_job(worker);
		if (!job) {
			pthread_cond_wait(&worker->changed, &worker->lock);
			continue;
		}
		worker->busy = true;
		do_job(worker, job);
		worker->busy = false;
		pthread_cond_broadcast(&worker->changed);
	}
	pthread_mutex_unlock(&worker->lock);
	return NULL;
}

struct worker *worker_new(void)
{
	struct worker *worker = calloc(1, sizeof *worker);
	if (!worker)
		out_of_memory();
	pthread_mutex_init(&worker->lock, NULL);
	pthread_cond_init(&worker->changed, NULL);
	if (pthread_create(&worker->thread, NULL, work_on, worker) == 0)
		return worker;
	free(worker);
	return NULL;
}

void worker_free(struct worker *worker)
{
	if (!worker)
		return;
	pthread_mutex_lock(&worker->lock);
	worker->ended = true;
	pthread_cond_broadcast(&worker->changed);
	pthread_mutex_unlock(&worker->lock);
	pthread_join(worker->thread, NULL);
	pthread_cond_destroy(&worker->changed);
	pthread_mutex_destroy(&worker->lock);
	free(worker);
}

void worker_do(struct worker *worker, void (*work)(void *data), void *data)
{
	if (!worker) {
		work(data);
		return;
	}
	struct job *job = malloc(sizeof *job);
	if (!job)
		out_of_memory();
	*job = (struct job){.work = work, .data = data};
	pthread_mutex_lock(&worker->lock);
	if (worker->first)
		worker->last->next = job;
	else
		worker->first = job;
	worker->last = job;
	pthread_cond_broadcast(&worker->changed);
	pthread_mutex_unlock(&worker->lock);
}

void worker_wait(struct worker *worker)
{
	if (!worker)
		return;
	pthread_mutex_lock(&worker->lock);
	while (worker->first || worker->busy) {
		struct job *job = begin_job(worker);
		if (job)
			do_job(worker, job);
		else
			pthread_cond_wait(&worker->changed, &worker->lock);
	}
	pthread_mutex_unlock(&worker->lock);
}
