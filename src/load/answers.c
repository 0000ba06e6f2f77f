#include "load/answers.h"

#include "load/tree.h"

#include <csv.h>
#include <glib.h>
#include <string.h>

/* What libcsv's callbacks share. */
struct reading {
	struct arena *arena;
	const struct source_file *file;
	struct findings *findings;
	struct written_answer *list;
	size_t n;
	const char *fields[2];
	size_t n_fields;
	int row;
};

static void take_field(void *text, size_t length, void *data)
{
	struct reading *reading = data;
	if (reading->n_fields < 2)
		reading->fields[reading->n_fields] = arena_strndup(reading->arena, text, length);
	reading->n_fields++;
}

static bool is_heading(const struct reading *reading)
{
	return reading->row == 1 && strcmp(reading->fields[0], "blank") == 0;
}

/* What is said of an answer repeats it: nothing in it may hide or reorder the words around it. */
static bool fields_shown_as_written(struct reading *reading, struct place place)
{
	for (size_t i = 0; i < 2; i++) {
		unsigned character;
		const char *fault = text_fault(reading->fields[i], &character);
		if (fault == NULL)
			continue;
		findings_add(reading->findings, FINDING_STOP, "odd-character", place,
		             "this row holds U+%04X, which %s; delete it", character, fault);
		return false;
	}
	return true;
}

static void take_row(int end, void *data)
{
	struct reading *reading = data;
	(void)end; /* which character ended the row is no news */
	struct place place = {reading->file, ++reading->row, 1};
	if (reading->n_fields != 2) {
		findings_add(reading->findings, FINDING_STOP, "bad-answer", place,
		             "this row has %zu columns; write the blank's name and the answer: 1a,0.5",
		             reading->n_fields);
	} else if (!is_heading(reading) && fields_shown_as_written(reading, place)) {
		reading->list = arena_more(reading->arena, reading->list, reading->n, sizeof *reading->list);
		reading->list[reading->n++] = (struct written_answer){reading->fields[0], reading->fields[1], place};
	}
	reading->n_fields = 0;
}

static bool is_text(const struct source_file *file, struct findings *findings)
{
	if (file->length == 0)
		findings_add(findings, FINDING_STOP, "empty-file", file_place(file),
		             "there is nothing in this file; write a row for each blank, as in 1a,0.5");
	else if (!g_utf8_validate(file->text, (gssize)file->length, NULL))
		findings_add(findings, FINDING_STOP, "not-utf8", file_place(file),
		             "this is no text in UTF-8; save the answers as CSV in UTF-8");
	else
		return true;
	return false;
}

/* Spreadsheets begin a file with one. */
static size_t length_of_byte_order_mark(const struct source_file *file)
{
	return strncmp(file->text, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
}

bool load_answers(struct arena *arena, const char *path, struct written_answers *answers, struct findings *findings,
                  enum load_status *status)
{
	*answers = (struct written_answers){.n = 0};
	struct reading reading = {.arena = arena, .findings = findings};
	reading.file = file_read(arena, path, true, findings, status);
	if (reading.file == NULL)
		return false;
	if (!is_text(reading.file, findings))
		return false;
	struct csv_parser parser;
	if (csv_init(&parser, 0) != 0)
		out_of_memory();
	size_t mark = length_of_byte_order_mark(reading.file);
	size_t length = reading.file->length - mark;
	bool read = csv_parse(&parser, reading.file->text + mark, length, take_field, take_row, &reading) == length &&
	            csv_fini(&parser, take_field, take_row, &reading) == 0;
	if (!read)
		findings_add(findings, FINDING_STOP, "bad-answer", file_place(reading.file),
		             "this is not a CSV that can be read: %s", csv_strerror(csv_error(&parser)));
	csv_free(&parser);
	*answers = (struct written_answers){reading.list, reading.n};
	return read;
}
