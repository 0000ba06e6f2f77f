/*
 * zones.h - a zone's offsets, from the system's zone data, for the years a plan can touch.
 *
 * The compiled files (TZif, RFC 8536) are read here and not through a library:
 * GLib 2.74 turns Ireland's clocks round where the file's table ends and its rule
 * begins, and where that is depends on how the data were packed.
 */
#ifndef LOAD_ZONES_H
#define LOAD_ZONES_H

#include "load/nearest.h"
#include "quantity/civil.h"

/*
 * The zone of an IANA name ("Europe/London", "UTC"), for 1999 to 2101; before
 * and after, the first and last offsets go on. NULL where there is none of that
 * name. The names with rules of their own ("EST5EDT", "+05:00") are no places.
 * The data are those of TZDIR where that is set, else the system's.
 */
const struct zone *zone_load(struct arena *arena, const char *name);

/* Offers every name; the best is then in the arena. */
void zone_offer_all(struct arena *arena, struct nearest *nearest);

#endif
