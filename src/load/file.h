/*
 * file.h - a file's bytes, and whether it is the file or the system that failed.
 */
#ifndef LOAD_FILE_H
#define LOAD_FILE_H

#include "base/finding.h"

#include <stdbool.h>

/* How a loading ended. The later one is the worse. */
enum load_status {
	LOAD_GOOD,
	LOAD_REFUSED, /* what was written is wrong: the findings say how */
	LOAD_FAILED   /* the system would not give a file; a finding says which and why */
};

/* The worse of two. */
enum load_status load_worse(enum load_status a, enum load_status b);

/* Larger files are refused: no clinic's list comes near it. */
enum { FILE_MOST_BYTES = 4 * 1024 * 1024 };

/*
 * Reads `path` whole into the arena; the text is ended by a zero that does not
 * count. NULL with a finding and `status` where it cannot be read. A file that
 * is not there: LOAD_FAILED where `needed`, else NULL and nothing said.
 */
const struct source_file *file_read(struct arena *arena, const char *path, bool needed, struct findings *findings,
                                    enum load_status *status);

/* A text of two or four bytes a letter, by its first bytes: a byte order mark, or NULs beside its first two letters. */
enum wide_text { WIDE_NONE, WIDE_UTF16_LITTLE, WIDE_UTF16_BIG, WIDE_UTF32 };

enum { WIDE_TEXT_BYTES = 4 }; /* as many are looked at, where there are so many */

enum wide_text wide_text_of(const unsigned char *bytes, size_t n);

/* "a PDF", "a spreadsheet's own file", by its first bytes: what people take for a text. NULL: none of these. */
const char *no_text_of(const unsigned char *bytes, size_t n);

/* "folder/name"; "name" alone where the folder is empty. */
const char *path_join(struct arena *arena, const char *folder, const char *name);

/* The place of a whole file. */
struct place file_place(const struct source_file *file);

#endif
