#include "base/arena.h"

#include <assert.h>
#include <stdalign.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/*
 * Blocks hang in a chain, and pieces are cut from the current one:
 *
 *     first            current          next
 *     [#########....]->[#####       ]->[            ]->NULL
 *                           ^used
 *
 * Blocks before the current one are full, those after it are empty and left
 * from before a reset, which keeps those of the usual size. The dots are lost:
 * a piece that did not fit began the next block.
 *
 * Under the address sanitizer everything not given out is poisoned and a gap is
 * left between pieces, so overruns and uses after a reset are caught there.
 */
#ifdef __SANITIZE_ADDRESS__
#include <sanitizer/asan_interface.h>
#define GAP alignof(max_align_t)
#define FORBID(start, size) ASAN_POISON_MEMORY_REGION(start, size)
#define ALLOW(start, size) ASAN_UNPOISON_MEMORY_REGION(start, size)
#else
#define GAP 0
#define FORBID(start, size) ((void)(start), (void)(size))
#define ALLOW(start, size) ((void)(start), (void)(size))
#endif

/* Exit status for 'the system failed', as the command line promises. */
#define STATUS_SYSTEM 3

enum { usual_text = 256 };

static const size_t usual_block = (size_t)64 * 1024;

struct block {
	struct block *next;
	size_t size;
	size_t used;
	alignas(max_align_t) unsigned char bytes[];
};

struct arena {
	struct block *first;
	struct block *current;
};

_Noreturn void out_of_memory(void)
{
	fputs("fillmark: out of memory\n", stderr);
	exit(STATUS_SYSTEM);
}

static struct block *block_new(size_t least)
{
	size_t size = least > usual_block ? least : usual_block;
	if (size > SIZE_MAX - sizeof(struct block))
		out_of_memory();
	struct block *block = malloc(sizeof *block + size);
	if (!block)
		out_of_memory();
	block->next = NULL;
	block->size = size;
	block->used = 0;
	FORBID(block->bytes, size);
	return block;
}

struct arena *arena_new(void)
{
	struct arena *arena = malloc(sizeof *arena);
	if (!arena)
		out_of_memory();
	arena->first = block_new(usual_block);
	arena->current = arena->first;
	return arena;
}

void arena_free(struct arena *arena)
{
	if (!arena)
		return;
	struct block *block = arena->first;
	while (block) {
		struct block *next = block->next;
		ALLOW(block->bytes, block->size);
		free(block);
		block = next;
	}
	free(arena);
}

/* Before the blocks of `arena`, as full ones. */
void arena_join(struct arena *arena, struct arena *other)
{
	struct block *last = other->first;
	while (last->next)
		last = last->next;
	last->next = arena->first;
	arena->first = other->first;
	free(other);
}

/* What was larger than usual seldom fits again, and would pile up from reset to reset. */
static void free_large(struct arena *arena)
{
	struct block *before = arena->first;
	while (before->next) {
		struct block *block = before->next;
		if (block->size == usual_block) {
			before = block;
			continue;
		}
		before->next = block->next;
		ALLOW(block->bytes, block->size);
		free(block);
	}
}

void arena_reset(struct arena *arena)
{
	free_large(arena);
	for (struct block *block = arena->first; block; block = block->next) {
		block->used = 0;
		FORBID(block->bytes, block->size);
	}
	arena->current = arena->first;
}

static size_t rounded_up(size_t size)
{
	size_t align = alignof(max_align_t);
	if (size > SIZE_MAX - align - GAP)
		out_of_memory();
	return (size + align - 1) / align * align + GAP;
}

/* A piece with whatever was there before: to be written on whole. */
static void *take(struct arena *arena, size_t size)
{
	size_t taken = rounded_up(size);
	struct block *block = arena->current;
	if (taken > block->size - block->used) {
		if (!block->next || taken > block->next->size) {
			struct block *fresh = block_new(taken);
			fresh->next = block->next;
			block->next = fresh;
		}
		block = block->next;
		arena->current = block;
	}
	void *piece = block->bytes + block->used;
	block->used += taken;
	ALLOW(piece, size);
	return piece;
}

void *arena_alloc(struct arena *arena, size_t size)
{
	return memset(take(arena, size), 0, size);
}

void *arena_copy(struct arena *arena, const void *bytes, size_t size)
{
	void *copy = take(arena, size);
	return size ? memcpy(copy, bytes, size) : copy;
}

char *arena_strndup(struct arena *arena, const char *text, size_t length)
{
	const char *end = memchr(text, 0, length);
	size_t taken = end ? (size_t)(end - text) : length;
	char *copy = take(arena, taken + 1);
	memcpy(copy, text, taken);
	copy[taken] = '\0';
	return copy;
}

char *arena_strdup(struct arena *arena, const char *text)
{
	return arena_strndup(arena, text, strlen(text));
}

char *arena_vprintf(struct arena *arena, const char *format, va_list arguments)
{
	char usual[usual_text]; /* long enough for nearly all: they are formatted once */
	va_list again;
	va_copy(again, arguments);
	int length = vsnprintf(usual, sizeof usual, format, again);
	va_end(again);
	assert(length >= 0);
	char *text = take(arena, (size_t)length + 1);
	if ((size_t)length < sizeof usual)
		memcpy(text, usual, (size_t)length + 1);
	else
		vsnprintf(text, (size_t)length + 1, format, arguments);
	return text;
}

char *arena_printf(struct arena *arena, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	char *text = arena_vprintf(arena, format, arguments);
	va_end(arguments);
	return text;
}

void *arena_more(struct arena *arena, void *items, size_t count, size_t item_size)
{
	if (count & (count - 1))
		return items;
	size_t room = count ? count * 2 : 1;
	if (room < count || room > SIZE_MAX / item_size)
		out_of_memory();
	char *larger = take(arena, room * item_size);
	if (count)
		memcpy(larger, items, count * item_size);
	memset(larger + count * item_size, 0, (room - count) * item_size);
	return larger;
}
