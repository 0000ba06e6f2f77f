/*
 * answers.h - the second checker's answers: a CSV of two columns, the blank's name and what was written.
 *
 *     blank,answer
 *     1a,0.5
 *     1b,0.5
 */
#ifndef LOAD_ANSWERS_H
#define LOAD_ANSWERS_H

#include "load/file.h"

struct written_answer {
	const char *blank; /* "1a" */
	const char *text;
	struct place place;
};

struct written_answers {
	const struct written_answer *list;
	size_t n;
};

/* False, with findings, when the file cannot be read or a row has not two columns. Lives in `arena`. */
bool load_answers(struct arena *arena, const char *path, struct written_answers *answers, struct findings *findings,
                  enum load_status *status);

#endif
