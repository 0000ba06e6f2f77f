/*
 * heap.h - memory for a process that soon takes much of it and then ends.
 */
#ifndef BASE_HEAP_H
#define BASE_HEAP_H

#include <stddef.h>

/*
 * Asks the system for so much at once, in large pages where it has them, and
 * keeps it: each small page that is touched for the first time costs a trap, a
 * tenth of a packet's time in all. Changes nothing but the time.
 */
void heap_expect(size_t bytes);

#endif
