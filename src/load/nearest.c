#include "load/nearest.h"

#include <stdbool.h>
#include <string.h>

/* Longer words are no slips of a key, and comparing costs length times length. */
enum { MOST_LETTERS = 48 };

struct nearest nearest_to(const char *word)
{
	return (struct nearest){.word = word};
}

static char lower(char letter)
{
	return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

static size_t least_of(size_t a, size_t b)
{
	return a < b ? a : b;
}

/*
 * How many letters to change, drop, add or swap with their neighbour make one
 * word of the other; capitals do not count. Three rows of the usual table are
 * kept: the current one, the one above and, for swaps, the one above that.
 */
static size_t letters_apart(const char *a, const char *b)
{
	size_t n_a = strlen(a);
	size_t n_b = strlen(b);
	size_t rows[3][MOST_LETTERS + 1];
	for (size_t j = 0; j <= n_b; j++)
		rows[0][j] = j;
	for (size_t i = 1; i <= n_a; i++) {
		size_t *row = rows[i % 3];
		const size_t *above = rows[(i + 2) % 3];
		const size_t *two_above = rows[(i + 1) % 3];
		row[0] = i;
		for (size_t j = 1; j <= n_b; j++) {
			bool same = lower(a[i - 1]) == lower(b[j - 1]);
			row[j] = least_of(least_of(row[j - 1], above[j]) + 1, above[j - 1] + !same);
			if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1]))
				row[j] = least_of(row[j], two_above[j - 2] + 1);
		}
	}
	return rows[n_a % 3][n_b];
}

void nearest_offer(struct nearest *nearest, const char *right)
{
	size_t length = strlen(nearest->word);
	if (length > MOST_LETTERS || strlen(right) > MOST_LETTERS || right[0] == '\0')
		return;
	size_t distance = letters_apart(nearest->word, right);
	/* A third of the letters wrong is a slip, and one of two; more is another word. */
	if (distance > (length == 2 ? 1 : length / 3))
		return;
	if (nearest->best && nearest->distance <= distance)
		return;
	nearest->best = right;
	nearest->distance = distance;
}

const char *nearest_hint(struct arena *arena, const struct nearest *nearest)
{
	return nearest->best ? arena_printf(arena, "; did you mean '%s'?", nearest->best) : "";
}
