/*
 * cases.h - rows of a table as cmocka tests, each with an arena of its own.
 *
 *     struct tests tests = {0};
 *     tests_add(&tests, row->text, reads_as_printed, row);
 *     return tests_run(&tests, "quantity_read");
 *
 * The test finds its row and arena through case_of(state).
 */
#ifndef SUPPORT_CASES_H
#define SUPPORT_CASES_H

#include "base/arena.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

struct test_case {
	const void *row;
	struct arena *arena;
};

/* Setup and teardown for a CMUnitTest: the initial state is the row. */
int case_setup(void **state);
int case_teardown(void **state);

struct test_case *case_of(void **state);

struct tests {
	struct arena *arena; /* holds the names */
	struct CMUnitTest *list;
	size_t n;
};

/* Adds a test; `name` is copied, `row` (may be NULL) must outlive the run. */
void tests_add(struct tests *tests, const char *name, CMUnitTestFunction function, const void *row);

/* Runs and frees them; returns what main() returns. */
int tests_run(struct tests *tests, const char *group);

/* The next number of a repeatable stream (splitmix64); start it with any seed. */
uint64_t next_random(uint64_t *seed);

#endif
