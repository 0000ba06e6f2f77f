/*
 * disk_array.h - an array that grows in a nameless file, so that memory does not grow with it.
 *
 * First items are added, then the array is mapped, sorted and read; the file is
 * gone when the array is closed or the process ends, however it ends. A mapped
 * array is shared with processes forked later.
 */
#ifndef LOAD_DISK_ARRAY_H
#define LOAD_DISK_ARRAY_H

#include <stdbool.h>
#include <stddef.h>

struct disk_array;

/* In `folder`; NULL where the system would not, with errno. */
struct disk_array *disk_array_new(const char *folder, size_t item_size);
void disk_array_free(struct disk_array *array);

/* False where the disk is full, with errno. */
bool disk_array_add(struct disk_array *array, const void *item);

/* All items, to read and change; adding ends here. NULL where the system would not, or with no items. */
void *disk_array_map(struct disk_array *array);
size_t disk_array_count(const struct disk_array *array);

/* In place, of a mapped array; order of equal items is unsaid, so compare all that matters. */
void disk_array_sort(struct disk_array *array, int (*compare)(const void *, const void *));

#endif
