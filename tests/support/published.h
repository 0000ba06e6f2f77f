/*
 * published.h - the tables of tests/published, as the tests read them.
 */
#ifndef SUPPORT_PUBLISHED_H
#define SUPPORT_PUBLISHED_H

#include "base/arena.h"

#include <stddef.h>

struct published_table {
	const char **columns;
	size_t n_columns;
	const char ***rows; /* rows[i][column] */
	size_t n_rows;
};

/* Reads a CSV file below tests/published; the test program ends where it cannot. */
const struct published_table *published_read(struct arena *arena, const char *name);

/* The value of a row in the named column, which must exist. */
const char *published_value(const struct published_table *table, size_t row, const char *column);

/* The row whose `column` holds `value`, or -1. */
long published_find(const struct published_table *table, const char *column, const char *value);

#endif
