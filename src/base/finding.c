#include "base/finding.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

struct findings findings_in(struct arena *arena)
{
	return (struct findings){.arena = arena};
}

/* More than any sentence of ours: what is cut is what somebody wrote without an end. */
enum { MOST_BYTES = 2000 };

/* One line, whatever was quoted in it; cut between characters of UTF-8, never within one. */
static const char *one_line(struct arena *arena, char *says)
{
	size_t length = strlen(says);
	for (char *sign = says; *sign; sign++)
		if ((unsigned char)*sign < ' ')
			*sign = ' ';
	if (length <= MOST_BYTES)
		return says;
	length = MOST_BYTES;
	while (((unsigned char)says[length] & 0xc0) == 0x80)
		length--;
	return arena_printf(arena, "%.*s...", (int)length, says);
}

static bool same_place(struct place a, struct place b)
{
	return a.line == b.line && a.column == b.column && a.file == b.file;
}

static bool already_said(const struct findings *findings, const struct finding *finding)
{
	for (size_t i = 0; i < findings->n; i++) {
		const struct finding *other = &findings->list[i];
		if (same_place(other->place, finding->place) && other->level == finding->level &&
		    strcmp(other->code, finding->code) == 0 && strcmp(other->says, finding->says) == 0)
			return true;
	}
	return false;
}

void findings_add(struct findings *findings, enum finding_level level, const char *code, struct place place,
                  const char *format, ...)
{
	struct finding finding = {.level = level, .code = code, .place = place};
	va_list arguments;
	va_start(arguments, format);
	finding.says = one_line(findings->arena, arena_vprintf(findings->arena, format, arguments));
	va_end(arguments);
	if (already_said(findings, &finding))
		return;
	findings->list = arena_more(findings->arena, findings->list, findings->n, sizeof *findings->list);
	findings->list[findings->n++] = finding;
}

void findings_add_all(struct findings *findings, const struct findings *others)
{
	for (size_t i = 0; i < others->n; i++) {
		const struct finding *other = &others->list[i];
		findings_add(findings, other->level, other->code, other->place, "%s", other->says);
	}
}

bool findings_stop(const struct findings *findings)
{
	return findings_count(findings, FINDING_STOP) > 0;
}

size_t findings_count(const struct findings *findings, enum finding_level level)
{
	size_t count = 0;
	for (size_t i = 0; i < findings->n; i++)
		count += findings->list[i].level == level;
	return count;
}

const char *finding_level_name(enum finding_level level)
{
	static const char *const names[] = {
		[FINDING_NOTE] = "note",
		[FINDING_CAUTION] = "caution",
		[FINDING_STOP] = "stop",
	};
	return names[level];
}

/* A finding with what it is sorted by; `turn` keeps equal ones in their order. */
struct sortable {
	size_t file;
	size_t turn;
	struct finding finding;
};

static int compare_sortable(const void *left, const void *right)
{
	const struct sortable *a = left;
	const struct sortable *b = right;
	if (a->file != b->file)
		return a->file < b->file ? -1 : 1;
	if (a->finding.place.line != b->finding.place.line)
		return a->finding.place.line < b->finding.place.line ? -1 : 1;
	if (a->finding.place.column != b->finding.place.column)
		return a->finding.place.column < b->finding.place.column ? -1 : 1;
	return a->turn < b->turn ? -1 : 1;
}

void findings_sort(struct findings *findings)
{
	if (findings->n < 2)
		return;
	struct arena *arena = findings->arena;
	struct sortable *sorted = arena_alloc(arena, findings->n * sizeof *sorted);
	const struct source_file **files = arena_alloc(arena, findings->n * sizeof *files);
	size_t n_files = 0;
	for (size_t i = 0; i < findings->n; i++) {
		size_t file = 0;
		while (file < n_files && files[file] != findings->list[i].place.file)
			file++;
		if (file == n_files)
			files[n_files++] = findings->list[i].place.file;
		sorted[i] = (struct sortable){.file = file, .turn = i, .finding = findings->list[i]};
	}
	qsort(sorted, findings->n, sizeof *sorted, compare_sortable);
	for (size_t i = 0; i < findings->n; i++)
		findings->list[i] = sorted[i].finding;
}

static const char *place_print(struct arena *arena, struct place place)
{
	if (!place.file)
		return "fillmark"; /* a command line has no file: the program speaks for itself */
	if (place.line <= 0)
		return place.file->name;
	if (place.column <= 0)
		return arena_printf(arena, "%s:%d", place.file->name, place.line);
	return arena_printf(arena, "%s:%d:%d", place.file->name, place.line, place.column);
}

const char *finding_print(struct arena *arena, const struct finding *finding)
{
	return arena_printf(arena, "%s: %s: %s [%s]", place_print(arena, finding->place),
	                    finding_level_name(finding->level), finding->says, finding->code);
}
