/*
 * words.h - words/xx.yaml: what a packet says in one language, and a clinic's own words over it.
 */
#ifndef LOAD_WORDS_H
#define LOAD_WORDS_H

#include "load/values.h"
#include "model/template.h"

/* Reads a file named for `language`; its messages are sorted by key. */
struct wording read_wording(const struct reader *reader, const struct raw_wording *raw, const char *language);

/*
 * Holds a clinic's messages against those of the program, whose keys and
 * {places} are all there are, but for the words of steps that a template has.
 * `known` may be of another language.
 */
void check_wording(const struct reader *reader, const struct wording *own, const struct wording *known,
                   const struct page_templates *templates);

/* `built_in` with each message of `own` in its place. Both are sorted, and so is the result. */
struct wording lay_over(struct arena *arena, const struct wording *built_in, const struct wording *own);

#endif
