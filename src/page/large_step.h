/*
 * large_step.h - steps in large print: the picture, number and title, the words, a box to tick.
 */
#ifndef PAGE_LARGE_STEP_H
#define PAGE_LARGE_STEP_H

#include "page/large.h"

/* Adds each step with the warnings before it; `add` is the tag of the step that measures the liquid, or NULL. */
void large_add_steps(struct large_blocks *blocks, const struct step *steps, size_t n, const struct mark_words *add);
/* The same with the tag of the line beside those that stop on it; NULL: they share no line. */
void large_add_steps_to(struct large_blocks *blocks, const struct step *steps, size_t n, const struct mark_words *line);

/* What is to be heeded, framed, with its word in front; in several frames where it is long. */
void large_add_caution(struct large_blocks *blocks, const char *word, const char *text);
/* The same with a sentence as large as its word. */
void large_add_warning(struct large_blocks *blocks, const char *word, struct emergency emergency);

#endif
