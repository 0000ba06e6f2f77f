#include "batch/outcome.h"

#include <glib.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* Fields are divided by tabs, reasons by a control that no text may hold. */
#define BETWEEN_REASONS '\x1e'
#define IN_REASON '\x1f'

enum { FIELDS = 18 };

static const char *const names[] = {
	[OUTCOME_PACKET] = "packet", [OUTCOME_UNCHANGED] = "unchanged", [OUTCOME_REFUSED] = "refused",
	[OUTCOME_ROW] = "row",       [OUTCOME_FAILED] = "failed",
};

const char *outcome_name(enum outcome_kind kind)
{
	return names[kind];
}

/* ---- writing ---- */

static void put(GString *line, const char *text, char end)
{
	for (; text != NULL && *text != '\0'; text++) {
		if (*text == '\t' || *text == '\n' || *text == '\\' || *text == BETWEEN_REASONS || *text == IN_REASON)
			g_string_append_c(line, '\\');
		g_string_append_c(line, *text == '\n' ? 'n' : *text == '\t' ? 't' : *text);
	}
	g_string_append_c(line, end);
}

static void put_number(GString *line, uint64_t number)
{
	g_string_append_printf(line, "%" PRIu64 "\t", number);
}

const char *outcome_line(struct arena *arena, const struct outcome *outcome)
{
	GString *line = g_string_new(NULL);
	put_number(line, outcome->number);
	put(line, names[outcome->kind], '\t');
	put(line, outcome->rows, '\t');
	put(line, outcome->record, '\t');
	put(line, outcome->sheet.code, '\t');
	put_number(line, (uint64_t)outcome->sheet.version);
	put(line, outcome->sheet.as_of, '\t');
	put(line, outcome->sheet.state, '\t');
	put(line, outcome->sheet.order, '\t');
	put(line, outcome->sheet.plan, '\t');
	put(line, outcome->sheet.plan_sha256, '\t');
	put_number(line, outcome->pages);
	put_number(line, outcome->cautions);
	put(line, outcome->file, '\t');
	put(line, outcome->sha256, '\t');
	put(line, outcome->failure, '\t');
	for (size_t i = 0; i < outcome->n_reasons; i++) {
		g_string_append_printf(line, "%" PRIu32 "%c", outcome->reasons[i].row, IN_REASON);
		put(line, outcome->reasons[i].code, IN_REASON);
		put(line, outcome->reasons[i].says, BETWEEN_REASONS);
	}
	g_string_append(line, "\tend\n"); /* a line that was cut lacks it */
	const char *copy = arena_strndup(arena, line->str, line->len);
	g_string_free(line, TRUE);
	return copy;
}

/* ---- reading ---- */

/* Splits at `mark`, and takes the escapes out of every piece unless they are split again. */
static size_t split(struct arena *arena, const char *text, size_t length, char mark, bool last, const char **pieces,
                    size_t most)
{
	size_t n = 0;
	char *piece = arena_alloc(arena, length + 1);
	size_t at = 0;
	for (size_t i = 0; i <= length && n < most; i++) {
		if (i == length || text[i] == mark) {
			pieces[n++] = arena_strndup(arena, piece, at);
			at = 0;
		} else if (text[i] == '\\' && i + 1 < length) {
			if (!last)
				piece[at++] = '\\';
			i++;
			piece[at++] = !last ? text[i] : text[i] == 'n' ? '\n' : text[i] == 't' ? '\t' : text[i];
		} else {
			piece[at++] = text[i];
		}
	}
	return n;
}

static bool read_reasons(struct arena *arena, const char *text, struct outcome *outcome)
{
	size_t most = 1;
	for (const char *at = text; *at != '\0'; at++)
		most += *at == BETWEEN_REASONS;
	const char **pieces = arena_alloc(arena, most * sizeof *pieces);
	struct reason *reasons = arena_alloc(arena, most * sizeof *reasons);
	size_t n = split(arena, text, strlen(text), BETWEEN_REASONS, false, pieces, most);
	for (size_t i = 0; i + 1 < n; i++) {
		const char *parts[3];
		if (split(arena, pieces[i], strlen(pieces[i]), IN_REASON, true, parts, 3) != 3)
			return false;
		reasons[i] = (struct reason){(uint32_t)strtoul(parts[0], NULL, 10), parts[1], parts[2]};
	}
	outcome->reasons = reasons;
	outcome->n_reasons = n - 1;
	return true;
}

/* Escapes of a field without reasons in it. */
static const char *plain(struct arena *arena, const char *field)
{
	const char *piece;
	split(arena, field, strlen(field), '\n', true, &piece, 1);
	return piece;
}

bool outcome_read(struct arena *arena, const char *line, size_t length, struct outcome *outcome)
{
	const char *fields[FIELDS];
	if (length > 0 && line[length - 1] == '\n')
		length--;
	if (split(arena, line, length, '\t', false, fields, FIELDS) != FIELDS || strcmp(fields[FIELDS - 1], "end") != 0)
		return false;
	*outcome = (struct outcome){.number = strtoul(fields[0], NULL, 10),
	                            .rows = fields[2],
	                            .record = plain(arena, fields[3]),
	                            .sheet = {fields[4], strtol(fields[5], NULL, 10), fields[6], fields[7], fields[8],
	                                      plain(arena, fields[9]), fields[10]},
	                            .pages = strtoul(fields[11], NULL, 10),
	                            .cautions = strtoul(fields[12], NULL, 10),
	                            .file = plain(arena, fields[13]),
	                            .sha256 = fields[14],
	                            .failure = plain(arena, fields[15])};
	for (size_t i = 0; i < sizeof names / sizeof *names; i++)
		if (strcmp(fields[1], names[i]) == 0) {
			outcome->kind = (enum outcome_kind)i;
			return read_reasons(arena, fields[16], outcome);
		}
	return false;
}

/* ---- reasons ---- */

enum { LEAST_OF_NAME = 4 };

/* "'Odile Qui...' is too long": a quotation may be cut within the name. */
static const char *without_cut_name(struct arena *arena, const char *says, const char *name)
{
	for (const char *end = says; (end = strstr(end, "...")) != NULL; end++)
		for (size_t length = strlen(name); length >= LEAST_OF_NAME; length--)
			if ((size_t)(end - says) >= length && strncmp(end - length, name, length) == 0)
				return arena_printf(arena, "%.*s(the name)%s", (int)((size_t)(end - says) - length),
				                    says, end + 3);
	return says;
}

static const char *replaced(struct arena *arena, const char *text, const char *piece, const char *by)
{
	char **pieces = g_strsplit(text, piece, -1);
	char *joined = g_strjoinv(by, pieces);
	const char *copy = arena_strdup(arena, joined);
	g_strfreev(pieces);
	g_free(joined);
	return copy;
}

/* A page holds words together with spaces that do not break, and a name with them. */
static const char *with_plain_spaces(struct arena *arena, const char *text)
{
	return text == NULL ? NULL : replaced(arena, text, "\u00a0", " ");
}

/* A reason may quote a cell; the patient's name is in none of ours. */
static const char *without_name(struct arena *arena, const char *says, const char *name)
{
	if (name == NULL || *name == '\0')
		return says;
	if (strstr(says, name) == NULL)
		return without_cut_name(arena, says, name);
	return replaced(arena, says, name, "(the name)");
}

void outcome_refuse(struct arena *arena, struct outcome *outcome, const struct findings *findings,
                    const struct source_file *file, uint32_t first, const char *name)
{
	struct reason *reasons = arena_alloc(arena, (findings->n + 1) * sizeof *reasons);
	size_t n = 0;
	name = with_plain_spaces(arena, name);
	for (size_t i = 0; i < findings->n; i++) {
		const struct finding *finding = &findings->list[i];
		if (finding->level != FINDING_STOP)
			continue;
		bool own = finding->place.file == file;
		const char *says = with_plain_spaces(arena, finding->says);
		if (!own && finding->place.file != NULL)
			says = arena_printf(arena, "%s (%s:%d)", says, finding->place.file->name, finding->place.line);
		reasons[n++] = (struct reason){own && finding->place.line > 0 ? (uint32_t)finding->place.line : first,
		                               finding->code, without_name(arena, says, name)};
	}
	outcome->reasons = reasons;
	outcome->n_reasons = n;
}
