/*
 * intake_csv.h - an intake that is a CSV with a map.
 */
#ifndef LOAD_INTAKE_CSV_H
#define LOAD_INTAKE_CSV_H

#include "load/intake.h"
#include "load/intake_map.h"

/* Reads the heading and indexes every row; false with findings where the whole is refused. */
bool intake_csv_open(struct arena *run, struct intake *intake, const struct intake_map *map,
                     const struct intake_options *options, struct findings *findings, enum load_status *status);

#endif
