/*
 * speaker.h - the inside of a speaker, for the words layer alone.
 */
#ifndef WORDS_SPEAKER_H
#define WORDS_SPEAKER_H

#include "words/words.h"

#include <unicode/udat.h>
#include <unicode/upluralrules.h>

/* Ends what stands in an isolate: a value within words that run the other way. */
#define ISOLATE_END "\u2069"

#define N_DATE_FORMS (DATE_BORN + 1)

struct speaker {
	struct arena *arena;
	const struct clinic *clinic;
	const char *language;
	const struct wording *wording;
	struct findings *findings;
	bool right_to_left;
	UPluralRules *plurals;
	UDateFormat *dates[N_DATE_FORMS]; /* opened at first use */
};

/* "one", "few", "other" ...: the plural form of a number in the speaker's language. */
const char *speaker_plural(struct speaker *speaker, double number);

/* As say_count(), for a number that need not be whole; {count} is not filled. */
const char *say_plural(struct speaker *speaker, const char *key, double number, const struct value *values, size_t n);

#endif
