/*
 * step_names.h - the step pictures that exist, by the names templates use.
 *
 * To add one: its name here, its drawing in paint/step_*.c; test_figures holds
 * the two together. One that judges is among those that do, too.
 */
#ifndef PAGE_STEP_NAMES_H
#define PAGE_STEP_NAMES_H

#include <stdbool.h>
#include <stddef.h>

bool step_picture_known(const char *name);

/* True for a picture that shows which container is right, and which wrong: its step's words say that of neither. */
bool step_picture_judges(const char *name);

/* All names, in no order that matters. */
size_t step_picture_count(void);
const char *step_picture_name(size_t index);

#endif
