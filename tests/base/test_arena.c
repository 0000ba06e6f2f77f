#include "base/arena.h"

#include "support/cases.h"

#include <stdalign.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#ifdef __SANITIZE_ADDRESS__
#include <sanitizer/asan_interface.h>
#endif

static bool all_zero(const unsigned char *bytes, size_t size)
{
	for (size_t i = 0; i < size; i++)
		if (bytes[i])
			return false;
	return true;
}

static void pieces_are_aligned_zeroed_and_apart(void **state)
{
	struct arena *arena = case_of(state)->arena;
	unsigned char *pieces[500];
	for (size_t i = 0; i < 500; i++) {
		pieces[i] = arena_alloc(arena, i);
		assert_int_equal((uintptr_t)pieces[i] % alignof(max_align_t), 0);
		assert_true(all_zero(pieces[i], i));
		memset(pieces[i], (int)(i % 255 + 1), i);
	}
	for (size_t i = 0; i < 500; i++)
		for (size_t k = 0; k < i; k++)
			assert_int_equal(pieces[i][k], i % 255 + 1);
}

static void large_pieces_fit_between_small_ones(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *before = arena_strdup(arena, "before");
	unsigned char *large = arena_alloc(arena, 3000000);
	const char *after = arena_strdup(arena, "after");
	assert_true(all_zero(large, 3000000));
	memset(large, 'x', 3000000);
	assert_string_equal(before, "before");
	assert_string_equal(after, "after");
}

static void reset_gives_the_same_memory_zeroed(void **state)
{
	struct arena *arena = case_of(state)->arena;
	unsigned char *first = arena_alloc(arena, 100);
	memset(first, 'x', 100);
	for (int i = 0; i < 300; i++)
		memset(arena_alloc(arena, 1000), 'y', 1000);
	unsigned char *large = arena_alloc(arena, 200000);
	memset(large, 'z', 200000);

	arena_reset(arena);
	unsigned char *again = arena_alloc(arena, 100);
	assert_ptr_equal(again, first);
	assert_true(all_zero(again, 100));
	for (int i = 0; i < 300; i++)
		assert_true(all_zero(arena_alloc(arena, 1000), 1000));
	/* What was large is given back and may come from elsewhere. */
	large = arena_alloc(arena, 200000);
	assert_true(all_zero(large, 200000));
}

static void strings_are_copied(void **state)
{
	struct arena *arena = case_of(state)->arena;
	char text[] = "swirl, do not shake";
	char *copy = arena_strdup(arena, text);
	char *part = arena_strndup(arena, text, 5);
	text[0] = 'X';
	assert_string_equal(copy, "swirl, do not shake");
	assert_string_equal(part, "swirl");
	assert_string_equal(arena_strndup(arena, "ab", 10), "ab");
	assert_string_equal(arena_strdup(arena, ""), "");
	assert_string_equal(arena_printf(arena, "%s is %d of %d", "x", 3, 4), "x is 3 of 4");
	char long_text[5000];
	memset(long_text, 'n', sizeof long_text);
	long_text[sizeof long_text - 1] = '\0';
	assert_string_equal(arena_printf(arena, "%s", long_text), long_text);
}

static void bytes_are_copied(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const int numbers[] = {3, 1, 2};
	const int *copy = arena_copy(arena, numbers, sizeof numbers);
	assert_ptr_not_equal(copy, numbers);
	assert_memory_equal(copy, numbers, sizeof numbers);
	assert_non_null(arena_copy(arena, NULL, 0));
}

static void one_arena_takes_over_another(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct arena *other = arena_new();
	char *before = arena_strdup(arena, "before");
	char *large = arena_alloc(other, 1000000);
	const char *text = arena_strdup(other, "from the other");
	large[999999] = 'x';
	arena_join(arena, other);
	assert_string_equal(arena_strdup(arena, "after"), "after");
	assert_string_equal(before, "before");
	assert_string_equal(text, "from the other");
	assert_int_equal(large[999999], 'x');
	arena_reset(arena);
	assert_int_equal(*(char *)arena_alloc(arena, 200000), 0);
}

static void lists_grow_and_keep_their_items(void **state)
{
	struct arena *arena = case_of(state)->arena;
	int *list = NULL;
	size_t n = 0;
	for (int i = 0; i < 1000; i++) {
		int *before = list;
		list = arena_more(arena, list, n, sizeof *list);
		bool power_of_two = (n & (n - 1)) == 0;
		assert_int_equal(list != before, power_of_two);
		assert_int_equal(list[n], 0);
		list[n++] = i;
	}
	for (int i = 0; i < 1000; i++)
		assert_int_equal(list[i], i);
}

/* In a child: the request stops the program with the status for 'the system failed' and says why. */
static void no_memory_stops_the_program(void **state)
{
	struct arena *arena = case_of(state)->arena;
	int ends[2];
	assert_int_equal(pipe(ends), 0);
	pid_t child = fork();
	assert_true(child >= 0);
	if (child == 0) {
		dup2(ends[1], STDERR_FILENO);
		arena_alloc(arena, SIZE_MAX);
		_exit(0);
	}
	close(ends[1]);
	char said[200] = "";
	assert_true(read(ends[0], said, sizeof said - 1) > 0);
	close(ends[0]);
	int status;
	assert_int_equal(waitpid(child, &status, 0), child);
	assert_true(WIFEXITED(status));
	assert_int_equal(WEXITSTATUS(status), 3);
	assert_string_equal(said, "fillmark: out of memory\n");
}

#ifdef __SANITIZE_ADDRESS__
/* So that an overrun or a use after a reset in any test is reported by the sanitizer. */
static void sanitizer_sees_the_borders(void **state)
{
	struct arena *arena = case_of(state)->arena;
	char *piece = arena_alloc(arena, 24);
	arena_alloc(arena, 24);
	assert_false(__asan_address_is_poisoned(piece + 23));
	assert_true(__asan_address_is_poisoned(piece + 24));
	arena_reset(arena);
	assert_true(__asan_address_is_poisoned(piece));
}
#endif

int main(void)
{
	struct tests tests = {0};
	tests_add(&tests, "pieces are aligned, zeroed and apart", pieces_are_aligned_zeroed_and_apart, NULL);
	tests_add(&tests, "large pieces fit between small ones", large_pieces_fit_between_small_ones, NULL);
	tests_add(&tests, "reset gives the same memory, zeroed", reset_gives_the_same_memory_zeroed, NULL);
	tests_add(&tests, "strings are copied", strings_are_copied, NULL);
	tests_add(&tests, "bytes are copied", bytes_are_copied, NULL);
	tests_add(&tests, "one arena takes over another", one_arena_takes_over_another, NULL);
	tests_add(&tests, "lists grow and keep their items", lists_grow_and_keep_their_items, NULL);
	tests_add(&tests, "no memory stops the program", no_memory_stops_the_program, NULL);
#ifdef __SANITIZE_ADDRESS__
	tests_add(&tests, "the sanitizer sees the borders", sanitizer_sees_the_borders, NULL);
#endif
	return tests_run(&tests, "arena");
}
