/*
 * nearest.h - 'did you mean': the known word that a mistyped one resembles most.
 */
#ifndef LOAD_NEAREST_H
#define LOAD_NEAREST_H

#include "base/arena.h"

/* The words that would have been right; grows with nearest_offer(). */
struct nearest {
	const char *word;
	const char *best; /* NULL: none is near enough */
	size_t distance;
};

struct nearest nearest_to(const char *word);

/* Considers one right word; of two equally near ones the first offered stays. */
void nearest_offer(struct nearest *nearest, const char *right);

/* "; did you mean 'examplin'?", or "" where nothing is near. */
const char *nearest_hint(struct arena *arena, const struct nearest *nearest);

#endif
