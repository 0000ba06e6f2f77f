/*
 * What is said about the heap changes nothing that a program can see.
 */
#include "base/heap.h"

#include "support/cases.h"

#include <stdlib.h>
#include <string.h>

static void memory_is_had_as_before(void **state)
{
	static const size_t sizes[] = {1, 100, 4096, 200000, 5000000, 40000000};
	(void)state;
	for (int round = 0; round < 2; round++) {
		unsigned char *pieces[sizeof sizes / sizeof *sizes];
		heap_expect((size_t)16 * 1024 * 1024);
		for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
			pieces[i] = malloc(sizes[i]);
			assert_non_null(pieces[i]);
			memset(pieces[i], (int)i + 1, sizes[i]);
		}
		for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
			assert_int_equal(pieces[i][0], i + 1);
			assert_int_equal(pieces[i][sizes[i] - 1], i + 1);
			free(pieces[i]);
		}
	}
}

int main(void)
{
	struct tests tests = {0};
	tests_add(&tests, "memory is had as before", memory_is_had_as_before, NULL);
	return tests_run(&tests, "heap");
}
