/*
 * save.h - a file appears whole or not at all.
 */
#ifndef PDF_SAVE_H
#define PDF_SAVE_H

#include "base/arena.h"

#include <stdbool.h>

/*
 * Writes beside `path`, syncs, renames; readable by its owner alone. On failure
 * returns false with `why` in the arena, and whatever stood at `path` is untouched.
 */
bool save_file(struct arena *arena, const char *path, const unsigned char *bytes, size_t n, const char **why);

#endif
