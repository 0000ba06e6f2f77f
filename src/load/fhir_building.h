/*
 * fhir_building.h - one patient's orders on their way to a plan's tree; inside load's FHIR alone.
 *
 *     fhir_tree.c       patient, events, courses without a protocol, signers
 *     fhir_protocol.c   orders that follow a protocol, held against it
 *     fhir_steps.c      the dosages of one order, one after the other
 */
#ifndef LOAD_FHIR_BUILDING_H
#define LOAD_FHIR_BUILDING_H

#include "load/fhir_order.h"
#include "load/tree.h"

struct fhir_building {
	const struct fhir_reading *reading;
	struct arena *arena;
	struct node *plan;
	struct place place; /* of the patient's first resource */
	const struct fhir_resource *patient;
	struct fhir_order *orders;
	size_t n_orders;
	const struct protocol *protocol; /* NULL: the orders follow none */
	struct node *events;
};

/* An empty or missing value puts nothing. */
void fhir_put(struct fhir_building *building, struct node *map, const char *key, const char *value, struct place place);
void fhir_put_number(struct fhir_building *building, struct node *map, const char *key, int64_t number,
                     struct place place);
/* The list of that key, made at first need. */
struct node *fhir_list_of(struct fhir_building *building, struct node *map, const char *key);

/* All dosages at once, since they have one number. */
bool fhir_is_concurrent(const struct fhir_order *order);

/* True where `next` does not begin the day after `dose` ends, or, where that says no end, later than it begins. */
bool fhir_is_gap(const struct fhir_dose *dose, const struct fhir_dose *next);

/* False with a finding where one dosage does not follow the other. Fills in the first days that follow. */
bool fhir_check_sequence(const struct fhir_building *building, const struct fhir_order *order);

/* The first dosage from which on days are dates: one that says its first day, after one that says no end; else `n`. */
size_t fhir_first_dated(const struct fhir_order *order);

/* Of all dosages together; 0: the last has no end. */
int64_t fhir_total_days(const struct fhir_order *order);

/* As in a protocol's item: bit 1 is Monday. */
unsigned fhir_weekdays(const struct fhir_dose *dose);

/* Each dosage from its day of the treatment on. */
void fhir_put_steps(struct fhir_building *building, struct node *steps, const struct fhir_order *order);

/* All orders into the plan's `doses` and changes; what differs from the protocol is a finding. */
void fhir_put_orders(struct fhir_building *building, struct node *doses);

#endif
