/*
 * A second thread does all it is given, in that order, and no job is lost or looked at too early.
 */
#include "base/worker.h"

#include "support/cases.h"

#include <pthread.h>
#include <string.h>

enum { N_JOBS = 1000 };

struct tally {
	int order[N_JOBS];
	int n;
	pthread_t thread;
};

struct task {
	struct tally *tally;
	int number;
};

static void count(void *data)
{
	struct task *task = data;
	task->tally->order[task->tally->n++] = task->number;
	task->tally->thread = pthread_self();
}

static void expect_in_order(const struct tally *tally, int n)
{
	assert_int_equal(tally->n, n);
	for (int i = 0; i < n; i++)
		assert_int_equal(tally->order[i], i);
}

static void jobs_are_done_in_order(void **state)
{
	struct tally *tally = arena_alloc(case_of(state)->arena, sizeof *tally);
	struct task *tasks = arena_alloc(case_of(state)->arena, N_JOBS * sizeof *tasks);
	struct worker *worker = worker_new();
	assert_non_null(worker);
	for (int i = 0; i < N_JOBS; i++) {
		tasks[i] = (struct task){tally, i};
		worker_do(worker, count, &tasks[i]);
		if (i % 100 != 0)
			continue;
		worker_wait(worker);
		expect_in_order(tally, i + 1);
	}
	worker_wait(worker);
	expect_in_order(tally, N_JOBS);
	assert_false(pthread_equal(tally->thread, pthread_self()));
	worker_wait(worker);
	worker_free(worker);
}

static void what_is_left_is_done_before_the_end(void **state)
{
	struct tally *tally = arena_alloc(case_of(state)->arena, sizeof *tally);
	struct task *tasks = arena_alloc(case_of(state)->arena, N_JOBS * sizeof *tasks);
	struct worker *worker = worker_new();
	for (int i = 0; i < N_JOBS; i++) {
		tasks[i] = (struct task){tally, i};
		worker_do(worker, count, &tasks[i]);
	}
	worker_free(worker);
	expect_in_order(tally, N_JOBS);
	worker_free(worker_new());
}

static void no_worker_does_it_at_once(void **state)
{
	struct tally *tally = arena_alloc(case_of(state)->arena, sizeof *tally);
	for (int i = 0; i < 3; i++) {
		worker_do(NULL, count, &(struct task){tally, i});
		expect_in_order(tally, i + 1);
	}
	assert_true(pthread_equal(tally->thread, pthread_self()));
	worker_wait(NULL);
	worker_free(NULL);
}

#define ADD(test) tests_add(&tests, #test, test, NULL)

int main(void)
{
	struct tests tests = {0};
	ADD(jobs_are_done_in_order);
	ADD(what_is_left_is_done_before_the_end);
	ADD(no_worker_does_it_at_once);
	return tests_run(&tests, "worker");
}
