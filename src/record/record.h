/*
 * record.h - the resolved plan as one value: course, content, code, state.
 *
 * `content` is the canonical text of what was resolved and computed, with only
 * the clinic's records that it uses; language, paper, size and mono are not in
 * it, so that the same order in large print keeps its code. Of the sheet that
 * it replaces only the reason is in it; the version says what it follows. The
 * code is read over the telephone: eight characters without I, L, O and U, and
 * a check character (ISO/IEC 7064 MOD 37,36).
 */
#ifndef RECORD_RECORD_H
#define RECORD_RECORD_H

#include "plan/course.h"
#include "plan/differences.h"

/*
 * What the record says of the sheet that it replaces, where its plan names one:
 * every page of that version is void, and these doses differ.
 */
struct replaced_sheet {
	bool given;
	int64_t version;
	const char *code;
	struct differences differences;
};

struct record {
	const struct course *course;
	const struct findings *findings; /* cautions and notes, for the check page */
	const char *content;
	const char *digest;     /* SHA-256 of the content, lower-case hex */
	const char *code;       /* "K7Q4-MX2T-9" */
	bool is_signed;         /* plan by two people, and every entry it uses */
	const char *signed_on;  /* "2026-12-03": the last signature; NULL while a draft */
	const char *ordered_by; /* the plan's first signer, and the second; NULL: not yet */
	const char *checked_by;
	struct replaced_sheet replaced;
};

/* Lives in `arena`. Adds seal findings (cautions) to `findings`, which the record then refers to. */
const struct record *record_of(struct arena *arena, const struct course *course, struct findings *findings);

/* The code of a digest: "K7Q4-MX2T-9". */
const char *record_code(struct arena *arena, const char *digest);

/* `workings --json`: one object, as in the README. Ends with a newline. */
const char *record_workings_json(struct arena *arena, const struct record *record);

/* The same for a plan that is refused: no code, no state, no doses; the findings say why. */
const char *refused_workings_json(struct arena *arena, const char *plan, const struct findings *findings);

#endif
