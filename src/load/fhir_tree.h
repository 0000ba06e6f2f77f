/*
 * fhir_tree.h - one patient's resources into the tree of a plan.
 *
 * Orders of a protocol give their doses to its items; what the protocol states
 * itself must be the same in the order. Orders without one become a course of
 * the plan's own: an item for each.
 */
#ifndef LOAD_FHIR_TREE_H
#define LOAD_FHIR_TREE_H

#include "load/fhir_order.h"

/* Who signed the orders; NULL where it is not said, or not of all of them. Days as in '2026-12-02'. */
struct fhir_signers {
	const char *ordered_by;
	const char *ordered_on;
	const char *checked_by;
	const char *checked_on;
};

/* The record number of a Patient; NULL: it has none of the map's system, or several. */
const char *fhir_record(struct arena *arena, const struct fhir_map *map, const json_t *patient);

/* The tree; what is wrong is in the findings. */
struct node *fhir_tree(const struct fhir_reading *reading, struct fhir_signers *signers);

#endif
