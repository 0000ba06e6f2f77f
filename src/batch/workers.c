#define _GNU_SOURCE /* pipe2 */
#include "batch/workers.h"

#include "base/arena.h"
#include "base/write.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <glib.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { BEAT_MS = 200, MOST_TRIES = 2, THREAD_TRIES = 2500, PIECE = 16 * 1024 };

struct worker {
	pid_t process;
	int to;
	int from;
	bool busy;
	size_t number;
	int tries; /* of this piece, counting this one */
	GString *answer;
};

struct pool {
	const struct workers_task *task;
	struct worker *workers;
	int n;
	bool stopping;
};

static bool has_one_thread(void)
{
	DIR *tasks = opendir("/proc/self/task");
	int n = 0;
	if (tasks == NULL)
		return true; /* a system without it cannot be asked */
	for (struct dirent *entry; (entry = readdir(tasks)) != NULL;)
		n += entry->d_name[0] != '.';
	closedir(tasks);
	return n == 1;
}

/*
 * Forking copies one thread; locks that another one held would stay locked. The
 * library of fonts looks round in a thread of its own, which ends by itself.
 */
static bool wait_for_one_thread(void)
{
	const struct timespec pause = {.tv_nsec = 2000000L};
	for (int i = 0; i < THREAD_TRIES; i++) {
		if (has_one_thread())
			return true;
		nanosleep(&pause, NULL);
	}
	return false;
}

/* ---- in the worker ---- */

static bool take_number(int file, size_t *number)
{
	char *at = (char *)number;
	size_t n = sizeof *number;
	while (n > 0) {
		ssize_t got = read(file, at, n);
		if (got < 0 && errno == EINTR)
			continue;
		if (got <= 0)
			return false;
		at += got;
		n -= (size_t)got;
	}
	return true;
}

/* Ctrl-C goes to all processes at once; the worker ends its piece, and the parent lets it go. */
static _Noreturn void work(const struct workers_task *task, int from, int to)
{
	size_t number;
	signal(SIGINT, SIG_IGN);
	signal(SIGTERM, SIG_DFL);
	signal(SIGPIPE, SIG_DFL);
	prctl(PR_SET_PDEATHSIG, SIGKILL);
	while (take_number(from, &number)) {
		const char *line = task->work(task->self, number);
		if (!write_all(to, line, strlen(line)))
			break;
	}
	_exit(0);
}

/* ---- in the parent ---- */

static void close_worker(struct worker *worker)
{
	if (worker->process <= 0)
		return;
	close(worker->to);
	close(worker->from);
	while (waitpid(worker->process, NULL, 0) < 0 && errno == EINTR)
		continue;
	worker->process = 0;
}

static bool start_worker(struct pool *pool, struct worker *worker)
{
	int down[2];
	int up[2];
	if (pipe2(down, O_CLOEXEC) != 0)
		return false;
	if (pipe2(up, O_CLOEXEC) != 0) {
		close(down[0]);
		close(down[1]);
		return false;
	}
	pid_t process = fork();
	if (process == 0) {
		/* Another worker's ends kept open here would hide that the parent is gone. */
		for (int i = 0; i < pool->n; i++)
			if (pool->workers[i].process > 0) {
				close(pool->workers[i].to);
				close(pool->workers[i].from);
			}
		close(down[1]);
		close(up[0]);
		work(pool->task, down[0], up[1]);
	}
	close(down[0]);
	close(up[1]);
	if (process < 0) {
		close(down[1]);
		close(up[0]);
		return false;
	}
	worker->process = process;
	worker->to = down[1];
	worker->from = up[0];
	g_string_truncate(worker->answer, 0);
	return true;
}

static bool hand_out(struct pool *pool, struct worker *worker)
{
	if (worker->process <= 0 && !start_worker(pool, worker))
		return false;
	worker->busy = true;
	/* Where the worker died, its other pipe says so. */
	write_all(worker->to, &worker->number, sizeof worker->number);
	return true;
}

static void finish_piece(struct pool *pool, struct worker *worker, const char *line, size_t length)
{
	worker->busy = false;
	if (!pool->task->done(pool->task->self, worker->number, line, length))
		pool->stopping = true;
	g_string_truncate(worker->answer, 0);
}

static bool bury(struct pool *pool, struct worker *worker)
{
	close_worker(worker);
	if (worker->tries >= MOST_TRIES) {
		finish_piece(pool, worker, NULL, 0);
		return true;
	}
	worker->tries++;
	return hand_out(pool, worker);
}

static bool take_answer(struct pool *pool, struct worker *worker)
{
	char bytes[PIECE];
	ssize_t n = read(worker->from, bytes, sizeof bytes);
	if (n < 0 && errno == EINTR)
		return true;
	if (n <= 0)
		return bury(pool, worker);
	g_string_append_len(worker->answer, bytes, n);
	if (bytes[n - 1] == '\n')
		finish_piece(pool, worker, worker->answer->str, worker->answer->len);
	return true;
}

/* Gives every idle worker a piece; false where the system failed. */
static bool hand_out_all(struct pool *pool, size_t *busy)
{
	*busy = 0;
	for (int i = 0; i < pool->n; i++) {
		struct worker *worker = &pool->workers[i];
		if (!worker->busy && !pool->stopping && pool->task->next(pool->task->self, &worker->number)) {
			worker->tries = 1;
			if (!hand_out(pool, worker))
				return false;
		}
		*busy += worker->busy;
	}
	return true;
}

static bool wait_for_some(struct pool *pool, struct pollfd *polled)
{
	for (int i = 0; i < pool->n; i++)
		polled[i] = (struct pollfd){.fd = pool->workers[i].busy ? pool->workers[i].from : -1, .events = POLLIN};
	if (poll(polled, (nfds_t)pool->n, BEAT_MS) < 0)
		return errno == EINTR;
	for (int i = 0; i < pool->n; i++)
		if (polled[i].revents != 0 && !take_answer(pool, &pool->workers[i]))
			return false;
	return true;
}

static bool run_pool(struct pool *pool)
{
	struct pollfd *polled = g_new0(struct pollfd, (gsize)pool->n);
	size_t busy;
	bool good = true;
	do {
		good = hand_out_all(pool, &busy);
		if (good && busy > 0)
			good = wait_for_some(pool, polled);
		if (!pool->task->beat(pool->task->self))
			pool->stopping = true;
	} while (good && busy > 0);
	g_free(polled);
	return good;
}

enum workers_end workers_run(const struct workers_task *task, int jobs)
{
	struct pool pool = {.task = task, .n = jobs};
	if (!wait_for_one_thread()) {
		errno = EDEADLK;
		return WORKERS_FAILED;
	}
	pool.workers = g_new0(struct worker, (gsize)jobs);
	for (int i = 0; i < jobs; i++)
		pool.workers[i].answer = g_string_new(NULL);
	signal(SIGPIPE, SIG_IGN);
	bool good = run_pool(&pool);
	int error = errno;
	for (int i = 0; i < jobs; i++) {
		close_worker(&pool.workers[i]);
		g_string_free(pool.workers[i].answer, TRUE);
	}
	g_free(pool.workers);
	errno = error;
	return !good ? WORKERS_FAILED : pool.stopping ? WORKERS_STOPPED : WORKERS_DONE;
}
