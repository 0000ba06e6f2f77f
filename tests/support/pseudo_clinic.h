/*
 * pseudo_clinic.h - the sample clinic in languages that nobody speaks, made from its English.
 *
 * What shows English letters on such a sheet does not come from the words, and
 * what has no room there would have none in a real language. No name of a
 * month is borrowed from a real one: dates are figures among invented words.
 */
#ifndef SUPPORT_PSEUDO_CLINIC_H
#define SUPPORT_PSEUDO_CLINIC_H

#include "base/arena.h"

enum pseudo_language {
	PSEUDO_LONG,          /* accented, each word 40 % longer */
	PSEUDO_RIGHT_TO_LEFT, /* in Arabic letters */
};

/* A text in it; {places}, **bold** and \u escapes stay. */
const char *pseudo_text(struct arena *arena, enum pseudo_language language, const char *english);

/*
 * Copies samples/ into a new folder, every text of it in the language as well,
 * and the program's words as words/xx.yaml; the plans ask for it. Returns the
 * folder: remove it with scratch_remove().
 */
const char *pseudo_clinic(struct arena *arena, enum pseudo_language language);

#endif
