#include "support/published.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

__attribute__((format(printf, 1, 2))) static _Noreturn void give_up(const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	vfprintf(stderr, format, arguments);
	va_end(arguments);
	fputc('\n', stderr);
	exit(EXIT_FAILURE);
}

static char *read_all(struct arena *arena, const char *path)
{
	FILE *file = fopen(path, "rb");
	if (!file)
		give_up("cannot open %s; run the tests from the top folder", path);
	if (fseek(file, 0, SEEK_END) != 0)
		give_up("cannot read %s", path);
	long size = ftell(file);
	rewind(file);
	char *text = arena_alloc(arena, (size_t)size + 1);
	if (fread(text, 1, (size_t)size, file) != (size_t)size)
		give_up("cannot read %s", path);
	fclose(file);
	return text;
}

/* Takes one field (RFC 4180) and moves *text past it; *last: it ended its line. */
static const char *take_field(struct arena *arena, const char **text, int *last)
{
	const char *from = *text;
	char *field = arena_alloc(arena, (*from == '"' ? strlen(from) : strcspn(from, "\n")) + 1);
	size_t n = 0;
	int quoted = *from == '"';
	from += quoted;
	for (; *from; from++) {
		if (quoted && from[0] == '"' && from[1] == '"')
			from++;
		else if (quoted && *from == '"') {
			quoted = 0;
			continue;
		} else if (!quoted && (*from == ',' || *from == '\n' || *from == '\r'))
			break;
		field[n++] = *from;
	}
	*last = *from != ',';
	if (*from == '\r')
		from++;
	if (*from)
		from++;
	*text = from;
	return field;
}

static const char **take_line(struct arena *arena, const char **text, size_t *n)
{
	const char **fields = NULL;
	int last = 0;
	*n = 0;
	while (!last) {
		fields = arena_more(arena, fields, *n, sizeof *fields);
		fields[(*n)++] = take_field(arena, text, &last);
	}
	return fields;
}

const struct published_table *published_read(struct arena *arena, const char *name)
{
	const char *path = arena_printf(arena, "tests/published/%s", name);
	const char *text = read_all(arena, path);
	struct published_table *table = arena_alloc(arena, sizeof *table);
	table->columns = take_line(arena, &text, &table->n_columns);
	while (*text) {
		size_t n;
		const char **row = take_line(arena, &text, &n);
		if (n != table->n_columns)
			give_up("%s: row %zu has %zu fields, not %zu", path, table->n_rows + 1, n, table->n_columns);
		table->rows = arena_more(arena, table->rows, table->n_rows, sizeof *table->rows);
		table->rows[table->n_rows++] = row;
	}
	return table;
}

static size_t column_number(const struct published_table *table, const char *column)
{
	for (size_t i = 0; i < table->n_columns; i++)
		if (strcmp(table->columns[i], column) == 0)
			return i;
	give_up("no column '%s'", column);
}

const char *published_value(const struct published_table *table, size_t row, const char *column)
{
	return table->rows[row][column_number(table, column)];
}

long published_find(const struct published_table *table, const char *column, const char *value)
{
	size_t number = column_number(table, column);
	for (size_t i = 0; i < table->n_rows; i++)
		if (strcmp(table->rows[i][number], value) == 0)
			return (long)i;
	return -1;
}
