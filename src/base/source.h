/*
 * source.h - where a value was written: file, line and column.
 */
#ifndef BASE_SOURCE_H
#define BASE_SOURCE_H

#include <stddef.h>

struct source_file {
	const char *name; /* as the user would type it */
	const char *text; /* the whole file; NULL where it was never held in memory */
	size_t length;
};

/* Line and column count from one; columns are characters. Line 0: no line. */
struct place {
	const struct source_file *file; /* NULL: no file, as for a command line */
	int line;
	int column;
};

#endif
