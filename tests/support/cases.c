#include "support/cases.h"

#include <stdlib.h>

int case_setup(void **state)
{
	struct test_case *one = malloc(sizeof *one);
	if (!one)
		return -1;
	*one = (struct test_case){.row = *state, .arena = arena_new()};
	*state = one;
	return 0;
}

int case_teardown(void **state)
{
	struct test_case *one = *state;
	arena_free(one->arena);
	free(one);
	return 0;
}

struct test_case *case_of(void **state)
{
	return *state;
}

void tests_add(struct tests *tests, const char *name, CMUnitTestFunction function, const void *row)
{
	if (!tests->arena)
		tests->arena = arena_new();
	tests->list = arena_more(tests->arena, tests->list, tests->n, sizeof *tests->list);
	tests->list[tests->n++] = (struct CMUnitTest){
		.name = arena_strdup(tests->arena, name),
		.test_func = function,
		.setup_func = case_setup,
		.teardown_func = case_teardown,
		.initial_state = (void *)(uintptr_t)row,
	};
}

int tests_run(struct tests *tests, const char *group)
{
	/* The macro around this wants an array whose length the compiler knows. */
	int failed = _cmocka_run_group_tests(group, tests->list, tests->n, NULL, NULL);
	arena_free(tests->arena);
	*tests = (struct tests){0};
	return failed;
}

uint64_t next_random(uint64_t *seed)
{
	uint64_t mixed = *seed += 0x9e3779b97f4a7c15U;
	mixed = (mixed ^ mixed >> 30) * 0xbf58476d1ce4e5b9U;
	mixed = (mixed ^ mixed >> 27) * 0x94d049bb133111ebU;
	return mixed ^ mixed >> 31;
}
