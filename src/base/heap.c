#define _GNU_SOURCE /* MADV_HUGEPAGE */
#include "base/heap.h"

#include <malloc.h>
#include <stdint.h>
#include <stdlib.h>
#include <sys/mman.h>

static const uintptr_t large_page = (uintptr_t)2 * 1024 * 1024;

/* It is had once and given back to malloc(), which then keeps it. */
void heap_expect(size_t bytes)
{
	mallopt(M_MMAP_THRESHOLD, (int)(2 * bytes));
	mallopt(M_TRIM_THRESHOLD, (int)(2 * bytes));
	void *room = malloc(bytes);
	uintptr_t from = ((uintptr_t)room + large_page - 1) / large_page * large_page;
	uintptr_t to = ((uintptr_t)room + bytes) / large_page * large_page;
	/* Where it cannot be had, small pages do. */
	if (room != NULL)
		(void)madvise((void *)from, to - from, MADV_HUGEPAGE);
	free(room);
}
