/*
 * course_script.h - a clinic, a protocol and a plan written as a few lines, for tests of the computing core.
 *
 * One entry a line, `kind: field=value; field=value`:
 *
 *     medicine: id=examplin; least=125 mcg; most=250 mcg
 *     product: id=examplin-kit; container=powder-vial; strength=250 mcg; liquid=1 mL
 *     event: id=trigger; own_day=1; exact=yes; check=retrieval; by=36 h; give=1 h
 *     item: id=blocker; medicine=examplin; at=20:00; start=first(stimulation day 6, call); end=trigger day 0
 *     dose: from=1; dose=125 mcg; split=yes
 *     plan: as_of=2026-12-03
 *     date: trigger=2026-12-14 21:30
 *
 * A product belongs to the medicine above it, a dose to the item above it. The
 * place of an entry is its line and column 1, of a value its own column, so
 * that findings can be compared as they are printed. A line that cannot be read
 * ends the test program. No other way to make these structs is used here, so
 * the core is tested without the loader.
 */
#ifndef SUPPORT_COURSE_SCRIPT_H
#define SUPPORT_COURSE_SCRIPT_H

#include "model/plan.h"

/* A plan of the script's, with the file name "case"; lives in `arena`. */
const struct plan *script_plan(struct arena *arena, const char *script);

/* An IANA zone from the system's data, read through GLib, for the years a test can touch. */
const struct zone *zone_from_system(struct arena *arena, const char *name);

struct findings;

/*
 * All findings as they would be printed, one a line; but for those that say that a record leaves a guard out (limits, a
 * needle, the powder's volume), as most scripts do. Those are in the second.
 */
const char *findings_text(struct arena *arena, struct findings *findings);
const char *guards_left_out_text(struct arena *arena, struct findings *findings);

#endif
