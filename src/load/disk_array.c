#define _GNU_SOURCE /* O_TMPFILE */
#include "load/disk_array.h"

#include "base/arena.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

enum { MOST_ITEM = 256 };

struct disk_array {
	FILE *stream;
	size_t item_size;
	size_t n;
	void *items;
};

/* Some file systems have no nameless files; there the name lives for a moment. */
static int nameless_file(const char *folder)
{
	int file = open(folder, O_TMPFILE | O_RDWR | O_CLOEXEC, 0600);
	if (file >= 0 || (errno != EOPNOTSUPP && errno != EISDIR && errno != EINVAL))
		return file;
	char path[4096];
	if (snprintf(path, sizeof path, "%s/.index.XXXXXX", folder) >= (int)sizeof path) {
		errno = ENAMETOOLONG;
		return -1;
	}
	file = mkstemp(path);
	if (file >= 0)
		unlink(path);
	return file;
}

struct disk_array *disk_array_new(const char *folder, size_t item_size)
{
	assert(item_size <= MOST_ITEM);
	int file = nameless_file(folder);
	if (file < 0)
		return NULL;
	struct disk_array *array = malloc(sizeof *array);
	FILE *stream = fdopen(file, "w+");
	if (array == NULL || stream == NULL)
		out_of_memory();
	*array = (struct disk_array){.stream = stream, .item_size = item_size};
	return array;
}

void disk_array_free(struct disk_array *array)
{
	if (array == NULL)
		return;
	if (array->items != NULL)
		munmap(array->items, array->n * array->item_size);
	fclose(array->stream);
	free(array);
}

bool disk_array_add(struct disk_array *array, const void *item)
{
	assert(array->items == NULL);
	if (fwrite(item, array->item_size, 1, array->stream) != 1)
		return false;
	array->n++;
	return true;
}

size_t disk_array_count(const struct disk_array *array)
{
	return array->n;
}

void *disk_array_map(struct disk_array *array)
{
	if (array->items != NULL || array->n == 0)
		return array->items;
	if (fflush(array->stream) != 0)
		return NULL;
	void *items =
		mmap(NULL, array->n * array->item_size, PROT_READ | PROT_WRITE, MAP_SHARED, fileno(array->stream), 0);
	array->items = items == MAP_FAILED ? NULL : items;
	return array->items;
}

/* ---- heap sort: in place, so that sorting takes no memory either ---- */

struct heap {
	unsigned char *items;
	size_t size;
	int (*compare)(const void *, const void *);
};

static void swap(const struct heap *heap, size_t a, size_t b)
{
	unsigned char kept[MOST_ITEM];
	memcpy(kept, heap->items + a * heap->size, heap->size);
	memcpy(heap->items + a * heap->size, heap->items + b * heap->size, heap->size);
	memcpy(heap->items + b * heap->size, kept, heap->size);
}

static bool before(const struct heap *heap, size_t a, size_t b)
{
	return heap->compare(heap->items + a * heap->size, heap->items + b * heap->size) < 0;
}

/* Lets item `at` sink until none below it comes after it; `n` items are in the heap. */
static void sink(const struct heap *heap, size_t at, size_t n)
{
	for (size_t below = 2 * at + 1; below < n; below = 2 * at + 1) {
		if (below + 1 < n && before(heap, below, below + 1))
			below++;
		if (!before(heap, at, below))
			return;
		swap(heap, at, below);
		at = below;
	}
}

void disk_array_sort(struct disk_array *array, int (*compare)(const void *, const void *))
{
	const struct heap heap = {array->items, array->item_size, compare};
	for (size_t i = array->n / 2; i-- > 0;)
		sink(&heap, i, array->n);
	for (size_t n = array->n; n-- > 1;) {
		swap(&heap, 0, n);
		sink(&heap, 0, n);
	}
}
