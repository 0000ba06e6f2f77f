/*
 * signing.h - is a packet signed: its plan by two people, every entry it uses by one.
 *
 * A signature holds the seal, a digest of the entry's meaning as it was signed.
 * An entry whose present seal was never signed counts as unsigned; one that was
 * signed with another meaning has a broken seal, and the finding says so.
 */
#ifndef RECORD_SIGNING_H
#define RECORD_SIGNING_H

#include "record/record.h"

struct signing {
	bool is_signed;
	const char *signed_on;  /* the latest of the signatures that count, "2026-12-03"; NULL: none */
	const char *ordered_by; /* the plan's first signer; NULL: none */
	const char *checked_by; /* another person; NULL: none */
};

/* Looks at every entry that `course` uses; each unsigned or broken one is a caution. */
struct signing signing_of(const struct course *course, struct findings *findings);

/* Says of every entry of the clinic's folder that it is unsigned or was changed since; true when there is none. */
bool clinic_all_signed(const struct clinic *clinic, struct findings *findings);

/* True when the course draws with, or gives, a product of this medicine. */
bool course_uses_medicine(const struct course *course, const struct medicine *medicine);

/* True when a line of this syringe is printed. */
bool course_uses_syringe(const struct course *course, const struct syringe *syringe);

#endif
