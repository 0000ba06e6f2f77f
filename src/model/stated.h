/*
 * stated.h - values as somebody stated them: what, and where it was written.
 *
 * Every value that a finding may have to point at carries its place. `given`
 * is false where the file left it out; then the rest is zero, or a default that
 * the field's comment names, and `place` is that of the entry around it.
 */
#ifndef MODEL_STATED_H
#define MODEL_STATED_H

#include "base/source.h"
#include "quantity/civil.h"
#include "quantity/quantity.h"

#include <stdbool.h>
#include <stddef.h>

struct stated_quantity {
	bool given;
	struct quantity quantity;
	struct place place;
};

struct stated_number {
	bool given;
	int64_t number;
	struct place place;
};

struct stated_string {
	const char *text; /* NULL: not given */
	struct place place;
};

struct stated_date {
	bool given;
	struct civil_date date;
	struct place place;
};

/* One text in the languages it was written in. */
struct translation {
	const char *language; /* "en" */
	const char *text;
};

struct text {
	const struct translation *in;
	size_t n; /* 0: not given */
	struct place place;
};

/* The words in `language`, or NULL where the text lacks it: never another language. */
const char *text_in(struct text text, const char *language);

#endif
