/*
 * syringe.h - a syringe as its scale: what can be read on it, and where.
 *
 * All volumes are exact millilitres. A syringe scaled in units keeps its scale
 * beside them: line n of a 100-units-per-mL syringe stands at n/100 mL.
 */
#ifndef MODEL_SYRINGE_H
#define MODEL_SYRINGE_H

#include "model/stated.h"

struct syringe {
	const char *id;
	struct text name;
	struct rational capacity;       /* nominal, mL */
	struct rational graduated;      /* total graduated capacity, mL */
	struct rational step;           /* between neighbouring lines, mL */
	struct rational numbered_every; /* between numbered lines, mL */
	bool unit_scale;                /* lines and numerals are units, not mL */
	struct rational units_per_ml;   /* 1 on an mL scale */
	struct text scale_name;         /* "insulin syringe"; only on a unit scale */
	const char *const *numerals;    /* as printed on it, from the zero line up; NULL: by the notation rules */
	size_t n_numerals;
	struct rational scale_length; /* mm, zero line to nominal capacity line */
	struct rational barrel;       /* mm, outside diameter */
	bool fixed_needle;
	bool measured; /* the lengths were taken by ruler from the syringe in stock */
	bool built_in;
	struct place place;
};

/* The number printed at `volume` on its own scale: 0.5 mL is 0.5, or 50 on a U-100 scale. False on overflow. */
bool syringe_scale_number(const struct syringe *syringe, struct rational volume, struct rational *number);

/* True when a line stands exactly at `volume` (zero included). */
bool syringe_has_line(const struct syringe *syringe, struct rational volume);

#endif
