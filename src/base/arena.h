/*
 * arena.h - memory that is given out piece by piece and taken back at once.
 *
 * Two arenas exist in a run: one for the clinic's folder, constant once loaded,
 * and one for a patient, reset after each packet. Nothing inside an arena owns
 * anything outside it, so nothing is ever freed alone. When memory runs out the
 * program stops, here and nowhere else.
 */
#ifndef BASE_ARENA_H
#define BASE_ARENA_H

#include <stdarg.h>
#include <stddef.h>

struct arena;

/* A new, empty arena; free it with arena_free(). */
struct arena *arena_new(void);

void arena_free(struct arena *arena);

/* Gives `arena` all that `other` gave out: it lives as long as `arena` from now on. `other` is gone. */
void arena_join(struct arena *arena, struct arena *other);

/* Takes everything back; the memory is kept for the next patient, but for large pieces, which are freed. */
void arena_reset(struct arena *arena);

/* `size` zeroed bytes, aligned for any type. */
void *arena_alloc(struct arena *arena, size_t size);

/* A copy of `size` bytes, aligned for any type. */
void *arena_copy(struct arena *arena, const void *bytes, size_t size);

/* A copy of `text`, or of its first `length` bytes, ended by a zero. */
char *arena_strdup(struct arena *arena, const char *text);
char *arena_strndup(struct arena *arena, const char *text, size_t length);

/* As sprintf(), into the arena. */
char *arena_printf(struct arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));
char *arena_vprintf(struct arena *arena, const char *format, va_list arguments) __attribute__((format(printf, 2, 0)));

/*
 * Room for one more item: returns `items`, or a larger copy of it, with space
 * for item number `count`. Call it before every append with the count so far;
 * the array doubles whenever `count` is zero or a power of two.
 *
 *     list = arena_more(arena, list, n, sizeof *list);
 *     list[n++] = item;
 */
void *arena_more(struct arena *arena, void *items, size_t count, size_t item_size);

/* Says so and ends the program; also for a library that reports that its own memory ran out. */
_Noreturn void out_of_memory(void);

#endif
