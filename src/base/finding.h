/*
 * finding.h - what is said about the input: level, code, place and a sentence.
 *
 * Findings are values in a list; only cli prints them. A sentence names the
 * fault first, then what to do; lower case, no full stop, subjects in 'quotes'.
 */
#ifndef BASE_FINDING_H
#define BASE_FINDING_H

#include "base/arena.h"
#include "base/source.h"

#include <stdbool.h>
#include <stddef.h>

enum finding_level {
	FINDING_NOTE,
	FINDING_CAUTION, /* printed on the staff's check page too */
	FINDING_STOP     /* nothing is printed for this patient */
};

struct finding {
	enum finding_level level;
	const char *code; /* "dose-over-limit": lower case with hyphens, a literal */
	struct place place;
	const char *says;
};

struct findings {
	struct arena *arena; /* holds the list and the sentences */
	struct finding *list;
	size_t n;
};

/* An empty list whose memory comes from `arena`. */
struct findings findings_in(struct arena *arena);

/*
 * Adds one. The same level, code, place and sentence twice is kept once. Control characters of what is quoted become
 * spaces, so that a sentence is one line; what is longer than 2,000 bytes is cut.
 */
void findings_add(struct findings *findings, enum finding_level level, const char *code, struct place place,
                  const char *format, ...) __attribute__((format(printf, 5, 6)));

/* Adds all of another list, which may go then. */
void findings_add_all(struct findings *findings, const struct findings *others);

/* True when at least one finding is a stop. */
bool findings_stop(const struct findings *findings);

/* How many there are of one level. */
size_t findings_count(const struct findings *findings, enum finding_level level);

/* "stop", "caution" or "note". */
const char *finding_level_name(enum finding_level level);

/* Files in order of first appearance, then line and column; stable. */
void findings_sort(struct findings *findings);

/* "plan.yaml:14:11: stop: 2.5 mg is ... [dose-over-limit]", in `arena`. */
const char *finding_print(struct arena *arena, const struct finding *finding);

#endif
