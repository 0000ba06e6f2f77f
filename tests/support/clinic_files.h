/*
 * clinic_files.h - a small clinic's folder, a plan and the program's templates as real files, for tests of the loader.
 *
 * Each test gets a folder of its own and works in it:
 *
 *     clinic/clinic.yaml, formulary.yaml, protocols/p1.yaml      the texts below
 *     data/templates/syringes.yaml, pages.yaml, words/en.yaml, steps/powder-vial.yaml
 *     plan.yaml, and a.yaml, which it may replace
 */
#ifndef SUPPORT_CLINIC_FILES_H
#define SUPPORT_CLINIC_FILES_H

#include "load/folder.h"
#include "support/cases.h"

/* 7, 11, 10 and 5 lines; a test may add lines of its own below them. */
#define CLINIC                                              \
	"clinic: {en: Test Clinic}\n"                       \
	"country: GB\n"                                     \
	"zone: Europe/London\n"                             \
	"languages: [en]\n"                                 \
	"day_begins: \"04:00\"\n"                           \
	"slots: {morning: \"08:00\", evening: \"20:00\"}\n" \
	"phones: [{id: day, label: {en: Day}, number: \"000\"}]\n"
#define FORMULARY                                                                              \
	"medicines:\n"                                                                         \
	"  - id: examplin\n"                                                                   \
	"    name: Examplin\n"                                                                 \
	"    route: subcutaneous\n"                                                            \
	"    limits: {least: 125 mcg, most: 250 mcg}\n"                                        \
	"    products:\n"                                                                      \
	"      - id: examplin-kit\n"                                                           \
	"        container: powder-vial\n"                                                     \
	"        strength: 250 mcg\n"                                                          \
	"        diluent: {name: {en: water}, supplied: 1 mL, use: 1 mL, comes_as: syringe}\n" \
	"        syringe: t1\n"
#define PROTOCOL                                      \
	"protocol: p1\n"                              \
	"title: {en: One}\n"                          \
	"events:\n"                                   \
	"  - {id: go, label: {en: Go}, own_day: 1}\n" \
	"items:\n"                                    \
	"  - id: one\n"                               \
	"    medicine: examplin\n"                    \
	"    at: [evening]\n"                         \
	"    start: {event: go, day: 1}\n"            \
	"    doses: [{from: 1, dose: 250 mcg}]\n"
#define PLAN                                            \
	"patient: {name: \"A B\", allergies: [none]}\n" \
	"language: en\n"                                \
	"protocol: p1\n"                                \
	"as_of: 2026-12-03\n"                           \
	"events: {go: 2026-12-04}\n"

/* Adds a test that runs in such a folder. Else as tests_add(). */
void tests_add_in_folder(struct tests *tests, const char *name, CMUnitTestFunction function, const void *row);

/* Writes a file, and the folders it lies in. */
void write_bytes(void **state, const char *path, const char *bytes, size_t length);
void write_text(void **state, const char *path, const char *text);
void remove_file(const char *path);

/* The clinic of the folder; the test fails where it does not load without a finding. */
const struct clinic *good_clinic(void **state);
/* The plan of the folder, likewise. */
const struct plan *good_plan(void **state);

/* Loads the clinic, then the plan if it can; every finding in order, one a line. */
const char *what_is_said(void **state, enum load_status *status);

#endif
