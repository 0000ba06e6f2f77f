/*
 * fhir_order.h - one MedicationRequest: which medicine, how much, when, from which day.
 *
 *     dosageInstruction sequence 1: 150 [iU], 4 days        doses from day 1
 *                       sequence 2: 187.5 [iU]              and from day 5 on
 *
 * Only what is coded counts; free text beside it may say the same, and nothing else.
 */
#ifndef LOAD_FHIR_ORDER_H
#define LOAD_FHIR_ORDER_H

#include "load/fhir_reading.h"
#include "quantity/quantity.h"

enum { FHIR_MOST_TIMES = 24, FHIR_MOST_DOSES = 50 };

/* One dosageInstruction. */
struct fhir_dose {
	int64_t sequence;   /* 0: not stated */
	const char *amount; /* as a plan's file says it; NULL: refused */
	struct quantity quantity;
	bool timed;                      /* something is said of times or days */
	const char *at[FHIR_MOST_TIMES]; /* slots and clock times */
	size_t n_at;
	int64_t every; /* days */
	const char *weekdays[7];
	size_t n_weekdays;
	bool has_start;
	struct civil_date start;
	int64_t days;  /* 0: no end */
	int64_t count; /* of doses; 0: not stated */
	int64_t most;  /* a day, as needed; 0: not as needed */
};

struct fhir_order {
	const struct fhir_resource *from;
	const struct fhir_medication *medication;
	const char *protocol; /* NULL: it follows none */
	struct fhir_dose *doses;
	size_t n;
	const char *requester; /* NULL: nobody is named */
	const char *authored;  /* a day; NULL: not said */
};

/* True for one that orders something now; what is over says nothing, and what is doubtful is refused. */
bool fhir_order_read(const struct fhir_reading *reading, const struct fhir_resource *from, struct fhir_order *order);

/*
 * Says where free text has a number, a unit or a time of day that the codes do not have. `frequency` is how often a
 * dosage is given in its period, `period` how many days that is; 0: not stated.
 */
void fhir_check_text(const struct fhir_reading *reading, const struct fhir_resource *at, const char *text,
                     const struct fhir_dose *dose, int64_t frequency, int64_t period);

#endif
