/*
 * unit.h - the units an order, a box and a syringe speak, and their dimensions.
 *
 * Only units of one dimension convert. Activity ("units") never converts to
 * mass; a syringe unit is a volume (one mark of a U-100 insulin syringe,
 * 0.01 mL) and never an activity. Counted forms are a dimension each, so that
 * tablets never become patches.
 */
#ifndef QUANTITY_UNIT_H
#define QUANTITY_UNIT_H

#include "quantity/rational.h"

#include <stdbool.h>
#include <stddef.h>

enum unit {
	UNIT_NONE,
	UNIT_G,
	UNIT_MG,
	UNIT_MCG,
	UNIT_NG,
	UNIT_UNITS, /* activity */
	UNIT_L,
	UNIT_ML,
	UNIT_SYRINGE_UNIT, /* 0.01 mL */
	UNIT_TABLET,
	UNIT_CAPSULE,
	UNIT_PATCH,
	UNIT_INSERT,
	UNIT_SPRAY,
	UNIT_PUFF,
	UNIT_DROP,
	UNIT_SACHET,
	UNIT_SECOND,
	UNIT_MINUTE,
	UNIT_HOUR,
	UNIT_DAY,
	UNIT_WEEK,
	UNIT_MM,
	UNIT_CM,
	UNIT_INCH,
	UNIT_PERCENT,
	UNIT_COUNT_OF
};

enum dimension {
	DIMENSION_NONE,
	DIMENSION_MASS,
	DIMENSION_ACTIVITY,
	DIMENSION_VOLUME,
	DIMENSION_COUNT, /* of one counted form; two forms never convert */
	DIMENSION_TIME,
	DIMENSION_LENGTH,
	DIMENSION_RATIO
};

enum dimension unit_dimension(enum unit unit);

/* "mass", "activity", "volume" ...: for findings. */
const char *dimension_name(enum dimension dimension);

/* How it is printed by the notation rules: "mcg", "units", "mL"; "unit" and
 * "tablet" where `singular`. Symbols have no plural. */
const char *unit_name(enum unit unit, bool singular);

/* True when both have one dimension and, for counts, are the same unit. */
bool unit_converts(enum unit from, enum unit to);

/* How many of the dimension's smallest base (ng, 0.000001 mL ...) one is; exact. */
struct rational unit_size(enum unit unit);

/*
 * The unit that a text of `length` bytes spells, or UNIT_NONE: a printed name,
 * the words in full, a UCUM code, IU, or the micro sign. Symbols keep their
 * case (a UCUM 'Mg' is not 'mg'); words may be capitalised. A bare 'U', 'cc'
 * and a lone 'l' are no units here.
 */
enum unit unit_read(const char *text, size_t length);

/* What a text that unit_read() does not know resembles most, or UNIT_NONE; for a remedy only. */
enum unit unit_nearest(const char *text, size_t length);

#endif
