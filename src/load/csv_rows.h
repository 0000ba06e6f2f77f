/*
 * csv_rows.h - the rows of a CSV as spreadsheets write them: cells in UTF-8, and where each row's bytes stand.
 *
 * The file is read in pieces, never whole, and any row can be read again from
 * where its bytes begin. A row that cannot be trusted is still a row, with what
 * is wrong in it. Rows are counted as a spreadsheet counts them: the heading
 * is 1, a blank line counts, a line break in quotes does not.
 */
#ifndef LOAD_CSV_ROWS_H
#define LOAD_CSV_ROWS_H

#include "base/arena.h"

#include <stdbool.h>
#include <stdint.h>

enum csv_encoding { ENCODING_UTF8, ENCODING_UTF16, ENCODING_WINDOWS_1252 };

struct csv_form {
	char delimiter;
	enum csv_encoding encoding;
};

/* What keeps a row from being read. */
enum csv_fault {
	CSV_GOOD,
	CSV_NUL,          /* a NUL byte: the file is damaged, or in another encoding */
	CSV_BAD_BYTES,    /* not in the encoding that was stated */
	CSV_TWO_READINGS, /* stated as Windows-1252, and every sign of it that is not plain would be UTF-8 as well */
	CSV_STRAY_QUOTE,  /* a quote in the middle of a cell: where cells end is a guess */
	CSV_OPEN_QUOTE,   /* a quote that is never closed: the rest of the file is in this row */
	CSV_TOO_LONG
};

struct csv_row {
	uint32_t number;
	uint64_t offset;
	uint32_t length; /* bytes, with the line end */
	const char *const *cells;
	size_t n;
	enum csv_fault fault;
};

struct csv_reader;

enum csv_opened {
	CSV_OPENED,
	CSV_UNREADABLE, /* errno says why */
	CSV_IS_UTF8,    /* its first bytes say so, and the form something else */
	CSV_IS_UTF16,
	CSV_IS_UTF32,   /* which no form reads */
	CSV_IS_NO_TEXT, /* but a PDF, or a spreadsheet's own file */
	CSV_IS_NO_UTF16 /* as far as its first bytes tell */
};

/* Free the reader with csv_reader_free(); NULL unless CSV_OPENED. Several processes may read from one. */
struct csv_reader *csv_reader_new(const char *path, struct csv_form form, enum csv_opened *opened);
void csv_reader_free(struct csv_reader *reader);

/* The next row, valid until the next call; false at the end, or where the system fails (then errno is set, else 0). */
bool csv_reader_next(struct csv_reader *reader, struct csv_row *row);

/* Goes to a row that was read before, and reads it. */
bool csv_reader_at(struct csv_reader *reader, uint64_t offset, uint32_t number, struct csv_row *row);

/* The bytes themselves, in the arena; NULL where the system fails. */
const char *csv_reader_bytes(struct csv_reader *reader, struct arena *arena, uint64_t offset, uint32_t length);

#endif
