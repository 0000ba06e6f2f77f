#include "batch/journal.h"

#include "base/remedy.h"
#include "load/disk_array.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define NAME ".journal"

/* Where a patient's last line begins, plus one; 0: it has none. */
struct journal {
	FILE *stream;
	const char *path;
	struct disk_array *positions;
	uint64_t *position;
	size_t n;
	uint64_t end;
};

static struct journal *fail(struct journal *journal, const struct out_folder *folder, struct findings *findings)
{
	findings_add(findings, FINDING_STOP, "file-unwritable", (struct place){.file = NULL},
	             "nothing can be written to '%s': %s%s", folder->path, strerror(errno), remedy_of_writing(errno));
	journal_free(journal);
	return NULL;
}

/* A line that was cut when the run was killed is taken off, and what it told is done again. */
static bool read_lines(struct journal *journal)
{
	struct arena *arena = arena_new();
	char *line = NULL;
	size_t room = 0;
	ssize_t length;
	rewind(journal->stream);
	while ((length = getline(&line, &room, journal->stream)) > 0) {
		struct outcome outcome;
		if (!outcome_read(arena, line, (size_t)length, &outcome) || outcome.number >= journal->n)
			break;
		journal->position[outcome.number] = journal->end + 1;
		journal->end += (uint64_t)length;
		arena_reset(arena);
	}
	free(line);
	arena_free(arena);
	return ftruncate(fileno(journal->stream), (off_t)journal->end) == 0 &&
	       fseeko(journal->stream, (off_t)journal->end, SEEK_SET) == 0;
}

struct journal *journal_open(struct arena *run, const struct out_folder *folder, size_t n, struct findings *findings)
{
	struct journal *journal = arena_alloc(run, sizeof *journal);
	const uint64_t none = 0;
	journal->n = n;
	journal->path = out_path(run, folder, NAME);
	journal->positions = disk_array_new(folder->path, sizeof none);
	if (journal->positions == NULL)
		return fail(journal, folder, findings);
	for (size_t i = 0; i < n; i++)
		if (!disk_array_add(journal->positions, &none))
			return fail(journal, folder, findings);
	journal->position = disk_array_map(journal->positions);
	int file = open(journal->path, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
	journal->stream = file < 0 ? NULL : fdopen(file, "r+");
	if (journal->stream == NULL || (n > 0 && journal->position == NULL) || !read_lines(journal))
		return fail(journal, folder, findings);
	return journal;
}

void journal_free(struct journal *journal)
{
	if (journal == NULL)
		return;
	disk_array_free(journal->positions);
	if (journal->stream != NULL)
		fclose(journal->stream);
}

bool journal_add(struct journal *journal, struct arena *arena, const struct outcome *outcome)
{
	const char *line = outcome_line(arena, outcome);
	size_t length = strlen(line);
	if (fseeko(journal->stream, (off_t)journal->end, SEEK_SET) != 0 ||
	    fwrite(line, 1, length, journal->stream) != length || fflush(journal->stream) != 0)
		return false;
	journal->position[outcome->number] = journal->end + 1;
	journal->end += length;
	return true;
}

bool journal_has(const struct journal *journal, size_t number)
{
	return journal->position[number] != 0;
}

void journal_drop(struct journal *journal, size_t number)
{
	journal->position[number] = 0;
}

bool journal_get(struct journal *journal, struct arena *arena, size_t number, struct outcome *outcome)
{
	char *line = NULL;
	size_t room = 0;
	if (!journal_has(journal, number) ||
	    fseeko(journal->stream, (off_t)(journal->position[number] - 1), SEEK_SET) != 0)
		return false;
	ssize_t length = getline(&line, &room, journal->stream);
	bool read = length > 0 && outcome_read(arena, line, (size_t)length, outcome);
	free(line);
	return read;
}

bool journal_sort(struct journal *journal, struct arena *run, const struct out_folder *folder)
{
	struct out_file file;
	struct arena *arena = arena_new();
	bool good = out_file_begin(run, folder, NAME, &file);
	for (size_t number = 0; good && number < journal->n; number++) {
		struct outcome outcome;
		arena_reset(arena);
		if (journal_get(journal, arena, number, &outcome))
			fputs(outcome_line(arena, &outcome), file.stream);
	}
	arena_free(arena);
	return good && out_file_end(&file, true);
}
