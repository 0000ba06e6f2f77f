/*
 * values.h - raw strings into values: exact, strict, each with its place.
 *
 * A raw string is "17", the number of what was written and where; NULL where
 * nothing was. Every function reports what it cannot read and gives
 * a harmless value instead, so that all values of a file are looked at. What
 * was not written is no fault here: shape.h has named the keys that lack.
 */
#ifndef LOAD_VALUES_H
#define LOAD_VALUES_H

#include "load/nearest.h"
#include "load/shape.h"
#include "model/stated.h"

struct reader {
	struct arena *arena;
	struct findings *findings;
	struct strings strings;
};

/* What was written, and where; `around` is the place to point at where nothing was. */
struct stated_string given_string(const struct reader *reader, const char *raw, struct place around);
struct place given_place(const struct reader *reader, const char *raw);

/* The bare text, or NULL. */
const char *read_string(const struct reader *reader, const char *raw);
const char *const *read_strings(const struct reader *reader, char *const *raw, size_t n);

/* Lower-case letters, digits and hyphens; "" where nothing was written, which no name equals. */
const char *read_id(const struct reader *reader, const char *raw);
/* Syringes are named for people: capitals and points as well, as in '0.5mL'. */
const char *read_syringe_id(const struct reader *reader, const char *raw);

/* A set of dimensions that an amount may have. */
#define OF(dimension) (1u << (dimension))
#define OF_TIME OF(DIMENSION_TIME)
#define OF_VOLUME OF(DIMENSION_VOLUME)
#define OF_LENGTH OF(DIMENSION_LENGTH)
#define OF_MEDICINE (OF(DIMENSION_MASS) | OF(DIMENSION_ACTIVITY))
#define OF_DOSE (OF_MEDICINE | OF_VOLUME | OF(DIMENSION_COUNT))

struct stated_quantity read_amount(const struct reader *reader, const char *raw, struct place around,
                                   unsigned dimensions);
/* The same, where nothing at all is a sensible amount too. */
struct stated_quantity read_amount_or_zero(const struct reader *reader, const char *raw, struct place around,
                                           unsigned dimensions);
/* An amount in one mL: '250 mcg/mL'. */
struct stated_quantity read_concentration(const struct reader *reader, const char *raw, struct place around);
/* A time of whole days; in hours too, where it is elapsed time. */
struct stated_quantity read_days(const struct reader *reader, const char *raw, struct place around);
/* The same of days on a calendar, which hours do not count: clocks change. */
struct stated_quantity read_calendar_days(const struct reader *reader, const char *raw, struct place around);

/* A number alone; false where there is none to read. */
bool read_number(const struct reader *reader, const char *raw, struct rational *number);
struct stated_number read_whole(const struct reader *reader, const char *raw, struct place around, int64_t least,
                                int64_t most);

struct stated_date read_date(const struct reader *reader, const char *raw, struct place around);
/* A month means its last day. */
struct stated_date read_expiry(const struct reader *reader, const char *raw, struct place around);
bool read_clock(const struct reader *reader, const char *raw, struct clock_time *time);

/* True for words that people write for 12:00 at night, which lies between two days: "24:00", "12:00 am", "midnight". */
bool says_midnight(const char *time);

/* `otherwise` where nothing was written. */
bool read_flag(const struct reader *reader, const char *raw, bool otherwise);

/* One of a few words; a list ends with a NULL word. */
struct choice {
	const char *word;
	int value;
};

int read_choice(const struct reader *reader, const char *raw, const struct choice *choices, int otherwise);

struct text read_text(const struct reader *reader, const struct raw_text *raw, struct place around);

/* A zone of the system's data, by its IANA name; NULL where there is none. */
const struct zone *read_zone(const struct reader *reader, const char *raw);

/* A stop about a value. */
void refuse_value(const struct reader *reader, const char *code, struct place place, const char *format, ...)
	__attribute__((format(printf, 4, 5)));

/* "unknown product 'exampin'; did you mean 'examplin'?"; `of` (" of protocol 'p1'", or "") stands before the hint. */
void refuse_unknown_name(const struct reader *reader, const char *code, const char *what,
                         const struct stated_string *name, const char *of, const struct nearest *nearest);

/* An id that an entry before it has already; "" is no id. */
void refuse_second(const struct reader *reader, const char *what, const char *id, struct place place,
                   struct place first);

/*
 * Of keys that exclude each other: reports the first two that were written.
 * Returns how many were.
 */
struct exclusive {
	const char *key;
	bool written;
};

size_t check_exclusive(const struct reader *reader, const struct exclusive *keys, size_t n, struct place place);

#endif
