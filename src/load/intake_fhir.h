/*
 * intake_fhir.h - an intake of HL7 FHIR R4: a Bundle, or the NDJSON of a bulk export, with a map.
 */
#ifndef LOAD_INTAKE_FHIR_H
#define LOAD_INTAKE_FHIR_H

#include "load/fhir_map.h"
#include "load/intake.h"

/* Indexes every resource; false with findings where the whole is refused. */
bool intake_fhir_open(struct arena *run, struct intake *intake, const struct fhir_map *map,
                      const struct intake_options *options, struct findings *findings, enum load_status *status);

#endif
