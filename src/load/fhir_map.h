/*
 * fhir_map.h - what the codes of a FHIR export mean.
 *
 *     intake: fhir
 *     record: "https://lindenquay.example/record"        # the system of the identifier that is the record number
 *     medications:                                       # "system|code": the medicine, and in a protocol the item
 *       "https://lindenquay.example/medicines|VAC": {medicine: vacuprine, item: growth, limits: {most: 225 units}}
 *     protocols: {"https://lindenquay.example/courses|SHORT": half-first}
 *     events: {"https://lindenquay.example/visits|TAKE": {event: retrieval, time_is: procedure}}
 *     languages: {"urn:ietf:bcp:47|en": en}
 *     allergies: {"https://lindenquay.example/allergies|LATEX": latex}
 *     routes: {"https://lindenquay.example/routes|SC": subcutaneous}
 *     ignore: [Practitioner]                             # types of resources that mean nothing here
 *     own_course: {title: {en: "Your medicines"}, horizon: 28 days}    # of orders that follow no protocol
 *     constants: {language: en, paper: a4}
 *
 * A protocol is found by a canonical address too, which has no bar. Nothing is
 * guessed: a code that is not here refuses what has it.
 */
#ifndef LOAD_FHIR_MAP_H
#define LOAD_FHIR_MAP_H

#include "load/intake_map.h"

struct fhir_medication {
	const char *code;
	const struct medicine *medicine;
	const char *item;          /* NULL: in no protocol */
	const struct node *limits; /* of an item of a course without a protocol, as the map writes them; NULL: none */
};

struct fhir_event {
	const char *code;
	const char *event; /* NULL: not looked at */
	bool time_stated;
	bool is_arrival;
	struct text label; /* of own courses */
};

struct fhir_map {
	const struct source_file *file;
	const char *record;
	int64_t record_width; /* 0: not stated */
	const struct fhir_medication *medications;
	size_t n_medications;
	const struct fhir_event *events;
	size_t n_events;
	struct code_table protocols;
	struct code_table languages;
	struct code_table allergies;
	struct code_table routes;
	const char *const *ignored;
	size_t n_ignored;
	bool has_own_course; /* orders may follow no protocol */
	struct text own_title;
	const char *own_horizon; /* as written; NULL: none */
	const char *language;    /* NULL: no constant */
	const char *paper;
	const char *large_print;
};

const struct fhir_map *load_fhir_map(struct arena *run, const struct clinic *clinic, const struct map_file *from,
                                     bool as_of_given, struct findings *findings, enum load_status *status);

/* What one of their codes is in a table; NULL: it is not there. */
const char *code_find(const struct code_table *table, const char *theirs);

#endif
