#include "load/csv_rows.h"

#include "load/file.h"

#include <assert.h>
#include <csv.h>
#include <errno.h>
#include <fcntl.h>
#include <glib.h>
#include <string.h>
#include <unistd.h>

/*
 * Bytes become characters one by one, and each goes to libcsv alone, so that
 * the place of every row's end is known in the file's own bytes:
 *
 *     file ---> buffer ---> character (UTF-8, and how many bytes it took) ---> libcsv ---> cells
 *
 * libcsv is asked to be strict. Where it finds a quote that does not belong, the
 * row is marked and the same character is taken leniently, to find the row's end.
 */
enum { BUFFER = 64 * 1024, MOST_ROW_BYTES = 256 * 1024, LONGEST_CHARACTER = 4 };

struct csv_reader {
	int file;
	struct csv_form form;
	bool big_endian;
	uint64_t at;        /* of the next character */
	uint64_t buffer_at; /* of the buffer's first byte */
	size_t buffered;
	bool failed;
	unsigned char buffer[BUFFER];
	uint32_t next_number;

	struct csv_parser parser;
	GString *text;  /* the row's cells, each ended by a zero */
	GArray *starts; /* where each begins in it */
	GPtrArray *cells;
	GString *raw; /* the row's bytes as they are, of Windows-1252 alone */
	bool row_ended;
	enum csv_fault fault;
	char table[256][LONGEST_CHARACTER + 1]; /* Windows-1252; "" where it has no such character */
};

/* ---- bytes ---- */

/* Makes `n` bytes from `at` on readable where the file has them; how many there are. */
static size_t fill(struct csv_reader *reader, size_t n)
{
	uint64_t start = reader->at - reader->buffer_at;
	if (reader->at >= reader->buffer_at && start + n <= reader->buffered)
		return n;
	reader->buffer_at = reader->at;
	reader->buffered = 0;
	while (reader->buffered < n) {
		ssize_t got = pread(reader->file, reader->buffer + reader->buffered, BUFFER - reader->buffered,
		                    (off_t)(reader->buffer_at + reader->buffered));
		if (got < 0 && errno == EINTR)
			continue;
		if (got < 0)
			reader->failed = true;
		if (got <= 0)
			break;
		reader->buffered += (size_t)got;
	}
	return reader->buffered < n ? reader->buffered : n;
}

static const unsigned char *bytes_at(const struct csv_reader *reader)
{
	return reader->buffer + (reader->at - reader->buffer_at);
}

static void mark(struct csv_reader *reader, enum csv_fault fault)
{
	if (reader->fault == CSV_GOOD)
		reader->fault = fault;
}

/* ---- characters ---- */

/* A character as UTF-8, and the bytes it took in the file; `taken` is 0 at the end. */
struct character {
	char text[LONGEST_CHARACTER];
	size_t length;
	size_t taken;
};

static struct character bad_character(struct csv_reader *reader, size_t taken)
{
	mark(reader, CSV_BAD_BYTES);
	return (struct character){.text = "?", .length = 1, .taken = taken};
}

static struct character utf8_character(struct csv_reader *reader)
{
	size_t n = fill(reader, LONGEST_CHARACTER);
	const char *bytes = (const char *)bytes_at(reader);
	struct character character = {.taken = 0};
	if (n == 0)
		return character;
	if (*bytes == '\0') /* not a character to GLib, and said otherwise */
		return (struct character){.text = "", .length = 1, .taken = 1};
	gunichar point = g_utf8_get_char_validated(bytes, (gssize)n);
	if (point >= (gunichar)-2)
		return bad_character(reader, 1);
	character.taken = character.length = (size_t)(g_utf8_next_char(bytes) - bytes);
	memcpy(character.text, bytes, character.length);
	return character;
}

static struct character table_character(struct csv_reader *reader)
{
	struct character character = {.taken = 0};
	if (fill(reader, 1) == 0)
		return character;
	unsigned char byte = *bytes_at(reader);
	if (byte == 0)
		return (struct character){.text = "", .length = 1, .taken = 1};
	if (reader->table[byte][0] == '\0')
		return bad_character(reader, 1);
	character.taken = 1;
	character.length = strlen(reader->table[byte]);
	memcpy(character.text, reader->table[byte], character.length);
	return character;
}

static unsigned unit_at(const struct csv_reader *reader, size_t offset)
{
	const unsigned char *bytes = bytes_at(reader) + offset;
	return reader->big_endian ? (unsigned)(bytes[0] << 8 | bytes[1]) : (unsigned)(bytes[1] << 8 | bytes[0]);
}

static struct character utf16_character(struct csv_reader *reader)
{
	size_t n = fill(reader, 4);
	struct character character = {.taken = 0};
	if (n == 0)
		return character;
	if (n < 2)
		return bad_character(reader, n);
	unsigned unit = unit_at(reader, 0);
	gunichar point = unit;
	character.taken = 2;
	if (unit >= 0xd800 && unit < 0xe000) {
		unsigned second = n < 4 ? 0 : unit_at(reader, 2);
		if (unit >= 0xdc00 || second < 0xdc00 || second >= 0xe000)
			return bad_character(reader, 2);
		point = 0x10000 + ((unit - 0xd800) << 10) + (second - 0xdc00);
		character.taken = 4;
	}
	character.length = (size_t)g_unichar_to_utf8(point, character.text);
	return character;
}

static struct character next_character(struct csv_reader *reader)
{
	switch (reader->form.encoding) {
	case ENCODING_UTF8:
		return utf8_character(reader);
	case ENCODING_UTF16:
		return utf16_character(reader);
	case ENCODING_WINDOWS_1252:
		break;
	}
	return table_character(reader);
}

/* ---- rows ---- */

static void take_cell(void *text, size_t length, void *data)
{
	struct csv_reader *reader = data;
	guint start = (guint)reader->text->len;
	g_array_append_val(reader->starts, start);
	g_string_append_len(reader->text, text, (gssize)length);
	g_string_append_c(reader->text, '\0');
}

static void take_row(int end, void *data)
{
	struct csv_reader *reader = data;
	(void)end; /* which character ended the row is no news */
	reader->row_ended = true;
}

static void feed(struct csv_reader *reader, const struct character *character)
{
	for (size_t i = 0; i < character->length; i++) {
		if (csv_parse(&reader->parser, character->text + i, 1, take_cell, take_row, reader) == 1)
			continue;
		if (csv_error(&reader->parser) != CSV_EPARSE)
			out_of_memory();
		mark(reader, CSV_STRAY_QUOTE);
		csv_set_opts(&reader->parser, CSV_STRICT_FINI);
		csv_parse(&reader->parser, character->text + i, 1, take_cell, take_row, reader);
		csv_set_opts(&reader->parser, CSV_STRICT | CSV_STRICT_FINI);
	}
}

static bool is_line_end(const struct character *character)
{
	return character->length == 1 && (character->text[0] == '\n' || character->text[0] == '\r');
}

/* After a carriage return, the line feed that belongs to it. */
static void take_line_feed(struct csv_reader *reader)
{
	enum csv_fault fault = reader->fault;
	struct character next = next_character(reader);
	reader->fault = fault; /* what comes next is not this row's fault */
	if (next.taken == 0 || next.length != 1 || next.text[0] != '\n')
		return;
	feed(reader, &next);
	reader->at += next.taken;
}

static void skip_blank_lines(struct csv_reader *reader)
{
	for (;;) {
		struct character character = next_character(reader);
		if (character.taken == 0 || !is_line_end(&character))
			return;
		feed(reader, &character);
		reader->at += character.taken;
		if (character.text[0] == '\r')
			take_line_feed(reader);
		reader->next_number++;
	}
}

static void begin_row(struct csv_reader *reader)
{
	g_string_truncate(reader->text, 0);
	g_array_set_size(reader->starts, 0);
	g_ptr_array_set_size(reader->cells, 0);
	g_string_truncate(reader->raw, 0);
	reader->row_ended = false;
	reader->fault = CSV_GOOD;
}

/* Ends what libcsv holds: the last row without a line end, or one that is given up. */
static void close_row(struct csv_reader *reader)
{
	if (csv_fini(&reader->parser, take_cell, take_row, reader) == 0)
		return;
	mark(reader, CSV_OPEN_QUOTE);
	csv_set_opts(&reader->parser, 0);
	csv_fini(&reader->parser, take_cell, take_row, reader);
	csv_set_opts(&reader->parser, CSV_STRICT | CSV_STRICT_FINI);
}

/* Letters of another alphabet hardly ever happen to be UTF-8: 'Zo\xc3\xab' is Zoe with a mark, not a tilde and a quote. */
static bool is_utf8_as_well(const struct csv_reader *reader)
{
	bool plain = true;
	for (gsize i = 0; i < reader->raw->len; i++)
		plain = plain && (unsigned char)reader->raw->str[i] < 0x80;
	return !plain && g_utf8_validate(reader->raw->str, (gssize)reader->raw->len, NULL);
}

static void read_to_end(struct csv_reader *reader, uint64_t start)
{
	while (!reader->row_ended) {
		struct character character = next_character(reader);
		if (character.taken == 0) {
			close_row(reader);
			return;
		}
		if (reader->at - start > MOST_ROW_BYTES) {
			mark(reader, CSV_TOO_LONG);
			close_row(reader);
			return;
		}
		if (reader->form.encoding == ENCODING_WINDOWS_1252)
			g_string_append_c(reader->raw, (char)*bytes_at(reader));
		if (character.text[0] == '\0')
			mark(reader, CSV_NUL);
		else
			feed(reader, &character);
		reader->at += character.taken;
		if (reader->row_ended && character.text[0] == '\r')
			take_line_feed(reader);
	}
}

bool csv_reader_next(struct csv_reader *reader, struct csv_row *row)
{
	begin_row(reader);
	skip_blank_lines(reader);
	uint64_t start = reader->at;
	errno = 0;
	if (fill(reader, 1) == 0)
		return false;
	reader->fault = CSV_GOOD;
	read_to_end(reader, start);
	if (is_utf8_as_well(reader))
		mark(reader, CSV_TWO_READINGS);
	if (reader->failed)
		return false;
	for (guint i = 0; i < reader->starts->len; i++)
		g_ptr_array_add(reader->cells, reader->text->str + g_array_index(reader->starts, guint, i));
	*row = (struct csv_row){
		.number = reader->next_number++,
		.offset = start,
		.length = (uint32_t)(reader->at - start),
		.cells = (const char *const *)(void *)reader->cells->pdata,
		.n = reader->cells->len,
		.fault = reader->fault,
	};
	return true;
}

bool csv_reader_at(struct csv_reader *reader, uint64_t offset, uint32_t number, struct csv_row *row)
{
	reader->at = offset;
	reader->next_number = number;
	return csv_reader_next(reader, row);
}

const char *csv_reader_bytes(struct csv_reader *reader, struct arena *arena, uint64_t offset, uint32_t length)
{
	char *bytes = arena_alloc(arena, (size_t)length + 1);
	size_t n = 0;
	while (n < length) {
		ssize_t got = pread(reader->file, bytes + n, length - n, (off_t)(offset + n));
		if (got < 0 && errno == EINTR)
			continue;
		if (got <= 0)
			return NULL;
		n += (size_t)got;
	}
	return bytes;
}

/* ---- opening ---- */

static void fill_table(struct csv_reader *reader)
{
	for (int byte = 1; byte < 256; byte++) {
		const char one = (char)byte;
		gsize written = 0;
		char *text = g_convert(&one, 1, "UTF-8", "WINDOWS-1252", NULL, &written, NULL);
		if (text && written > 0 && written <= LONGEST_CHARACTER)
			memcpy(reader->table[byte], text, written);
		g_free(text);
	}
}

/* What the first bytes say must not contradict the form. A byte order mark is no part of the first cell. */
static enum csv_opened take_mark(struct csv_reader *reader)
{
	size_t n = fill(reader, WIDE_TEXT_BYTES);
	const unsigned char *bytes = reader->buffer;
	enum wide_text wide = wide_text_of(bytes, n);
	bool utf16 = reader->form.encoding == ENCODING_UTF16;
	bool utf8 = n >= 3 && memcmp(bytes, "\xef\xbb\xbf", 3) == 0;
	if (reader->failed)
		return CSV_UNREADABLE;
	if (no_text_of(bytes, n) != NULL)
		return CSV_IS_NO_TEXT;
	if (wide == WIDE_UTF32)
		return CSV_IS_UTF32;
	if (wide != WIDE_NONE && !utf16)
		return CSV_IS_UTF16;
	if (utf8 && reader->form.encoding != ENCODING_UTF8)
		return CSV_IS_UTF8;
	if (wide == WIDE_NONE && utf16)
		return CSV_IS_NO_UTF16;
	reader->big_endian = wide == WIDE_UTF16_BIG;
	reader->at = utf8 ? 3 : wide != WIDE_NONE && bytes[0] >= 0xfe ? 2 : 0;
	return CSV_OPENED;
}

struct csv_reader *csv_reader_new(const char *path, struct csv_form form, enum csv_opened *opened)
{
	int file = open(path, O_RDONLY | O_CLOEXEC);
	*opened = CSV_UNREADABLE;
	if (file < 0)
		return NULL;
	struct csv_reader *reader = g_new0(struct csv_reader, 1);
	reader->file = file;
	reader->form = form;
	reader->next_number = 1;
	reader->text = g_string_new(NULL);
	reader->starts = g_array_new(FALSE, FALSE, sizeof(guint));
	reader->cells = g_ptr_array_new();
	reader->raw = g_string_new(NULL);
	if (csv_init(&reader->parser, CSV_STRICT | CSV_STRICT_FINI) != 0)
		out_of_memory();
	csv_set_delim(&reader->parser, (unsigned char)form.delimiter);
	if (form.encoding == ENCODING_WINDOWS_1252)
		fill_table(reader);
	*opened = take_mark(reader);
	if (*opened == CSV_OPENED)
		return reader;
	int error = errno;
	csv_reader_free(reader);
	errno = error;
	return NULL;
}

void csv_reader_free(struct csv_reader *reader)
{
	if (!reader)
		return;
	close(reader->file);
	csv_free(&reader->parser);
	g_string_free(reader->text, TRUE);
	g_string_free(reader->raw, TRUE);
	g_array_free(reader->starts, TRUE);
	g_ptr_array_free(reader->cells, TRUE);
	g_free(reader);
}
