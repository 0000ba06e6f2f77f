/*
 * sample_words.h - the wording as it is shipped, for tests that set pages without the loader.
 */
#ifndef SUPPORT_SAMPLE_WORDS_H
#define SUPPORT_SAMPLE_WORDS_H

#include "model/template.h"

/* Reads templates/words/en.yaml; a file that cannot be read ends the test program. Lives in `arena`. */
const struct wording *sample_words(struct arena *arena);

/* The same of another language that is shipped. */
const struct wording *sample_words_in(struct arena *arena, const char *language);

#endif
