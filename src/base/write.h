/*
 * write.h - writes all of some bytes, however few the system takes at once.
 */
#ifndef BASE_WRITE_H
#define BASE_WRITE_H

#include <stdbool.h>
#include <stddef.h>

/* False where the file or pipe takes no more; errno says why. A signal in between does not matter. */
bool write_all(int file, const void *bytes, size_t n);

#endif
