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
	struct job *first; /* the one that is being done, or the next; NULL: all are done */
	struct job *last;
	bool ended;
};

static struct job *next_job(struct worker *worker)
{
	pthread_mutex_lock(&worker->lock);
	while (!worker->first && !worker->ended)
		pthread_cond_wait(&worker->changed, &worker->lock);
	struct job *job = worker->first;
	pthread_mutex_unlock(&worker->lock);
	return job;
}

static void strike_off(struct worker *worker, struct job *job)
{
	pthread_mutex_lock(&worker->lock);
	worker->first = job->next;
	pthread_cond_broadcast(&worker->changed);
	pthread_mutex_unlock(&worker->lock);
	free(job);
}

static void *work_on(void *data)
{
	struct worker *worker = data;
	for (struct job *job; (job = next_job(worker));) {
		job->work(job->data);
		strike_off(worker, job);
	}
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
	while (worker->first)
		pthread_cond_wait(&worker->changed, &worker->lock);
	pthread_mutex_unlock(&worker->lock);
}
