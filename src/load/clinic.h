/*
 * clinic.h - clinic.yaml: who the clinic is, when its day begins, what it stocks.
 */
#ifndef LOAD_CLINIC_H
#define LOAD_CLINIC_H

#include "load/values.h"
#include "model/clinic.h"

/* Fills what clinic.yaml says; `clinic` has its syringes already, if `syringes_known`. */
void read_clinic(const struct reader *reader, const struct raw_clinic *raw, bool syringes_known, struct clinic *clinic);

#endif
