/*
 * Two threads do all that one gives, each job once, and no job is lost or looked at too early.
 */
#include "base/worker.h"

#include "support/cases.h"

#include <pthread.h>
#include <stdbool.h>

enum { N_JOBS = 1000 };

struct task {
	int done; /* so many times */
	pthread_t thread;
};

static void count(void *data)
{
	struct task *task = data;
	task->done++;
	task->thread = pthread_self();
}

static void expect_done_once(const struct task *tasks, int n)
{
	for (int i = 0; i < n; i++)
		assert_int_equal(tasks[i].done, 1);
}

static void each_job_is_done_once(void **state)
{
	struct task *tasks = arena_alloc(case_of(state)->arena, N_JOBS * sizeof *tasks);
	struct worker *worker = worker_new();
	assert_non_null(worker);
	for (int i = 0; i < N_JOBS; i++) {
		worker_do(worker, count, &tasks[i]);
		if (i % 100 != 0)
			continue;
		worker_wait(worker);
		expect_done_once(tasks, i + 1);
	}
	worker_wait(worker);
	expect_done_once(tasks, N_JOBS);
	worker_wait(worker);
	worker_free(worker);
}

static void what_is_left_is_done_before_the_end(void **state)
{
	struct task *tasks = arena_alloc(case_of(state)->arena, N_JOBS * sizeof *tasks);
	struct worker *worker = worker_new();
	for (int i = 0; i < N_JOBS; i++)
		worker_do(worker, count, &tasks[i]);
	worker_free(worker);
	expect_done_once(tasks, N_JOBS);
	worker_free(worker_new());
}

struct gate {
	pthread_mutex_t lock;
	pthread_cond_t opened;
	bool open;
	pthread_t thread;
};

static void stand_at(void *data)
{
	struct gate *gate = data;
	pthread_mutex_lock(&gate->lock);
	while (!gate->open)
		pthread_cond_wait(&gate->opened, &gate->lock);
	gate->thread = pthread_self();
	pthread_mutex_unlock(&gate->lock);
}

static void open_gate(void *data)
{
	struct gate *gate = data;
	pthread_mutex_lock(&gate->lock);
	gate->open = true;
	pthread_cond_broadcast(&gate->opened);
	pthread_mutex_unlock(&gate->lock);
}

/* Two jobs, each of which the other one's thread must be there for: one opens the gate that the other stands at. */
static void who_waits_helps(void **state)
{
	struct gate gate = {.lock = PTHREAD_MUTEX_INITIALIZER, .opened = PTHREAD_COND_INITIALIZER};
	struct task last = {0};
	struct worker *worker = worker_new();
	(void)state;
	worker_do(worker, stand_at, &gate);
	worker_do(worker, open_gate, &gate);
	worker_do(worker, count, &last);
	worker_wait(worker);
	assert_true(gate.open);
	assert_int_equal(last.done, 1);
	worker_free(worker);
}

static void no_worker_does_it_at_once(void **state)
{
	struct task *tasks = arena_alloc(case_of(state)->arena, 3 * sizeof *tasks);
	for (int i = 0; i < 3; i++) {
		worker_do(NULL, count, &tasks[i]);
		expect_done_once(tasks, i + 1);
		assert_true(pthread_equal(tasks[i].thread, pthread_self()));
	}
	worker_wait(NULL);
	worker_free(NULL);
}

#define ADD(test) tests_add(&tests, #test, test, NULL)

int main(void)
{
	struct tests tests = {0};
	ADD(each_job_is_done_once);
	ADD(what_is_left_is_done_before_the_end);
	ADD(who_waits_helps);
	ADD(no_worker_does_it_at_once);
	return tests_run(&tests, "worker");
}
