/*
 * content.h - the canonical text of a resolved plan, from which its code comes.
 *
 * One fact a line: a path, '=', the value. Everything that changes what a
 * patient does is in it; language, paper, size, colour, paths and what the
 * clinic's folder holds besides are not.
 */
#ifndef RECORD_CONTENT_H
#define RECORD_CONTENT_H

#include "record/record.h"

const char *content_of(struct arena *arena, const struct course *course);

#endif
