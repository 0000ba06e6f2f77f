/*
 * exact.h - the sheet of a dose to the minute in the making, for exact*.c alone.
 *
 * exact.c shares its parts out among pages; exact_time.c has the frame with the time, exact_dose.c the dose and the
 * alarms, exact_after.c what comes after, what if, and when it was.
 */
#ifndef PAGE_EXACT_H
#define PAGE_EXACT_H

#include "page/composer.h"

/* Sizes, mm and points: as roomy as one page allows. */
struct exact_form {
	double dial; /* radius */
	double time_size;
	double days_size;
	double moon;
	double line; /* of the frame */
	bool days_above;
	double frame_pad;
	double pad; /* of the alarms */
	double row; /* a rule of 'what if', around its text */
};

/* ---- exact.c ---- */

/* From line to line: lines of a larger type stand further apart. */
double exact_apart(const struct composer *composer, double normal);

/* A part's heading; its note, or NULL, stands at the end of its line where it has room there, else below. */
double exact_heading_height(struct composer *composer, const char *heading, const char *note);
/* Returns where the part goes on. */
double exact_put_heading(struct composer *composer, const char *heading, const char *note, double y);

/* ---- exact_time.c ---- */

double exact_frame_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet);
void exact_put_frame(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                     double y);

/* ---- exact_dose.c ---- */

double exact_dose_height(struct composer *composer, const struct exact_sheet *sheet);
void exact_put_dose(struct composer *composer, const struct exact_sheet *sheet, double y);

double exact_alarms_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet);
void exact_put_alarms(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                      double y);

/* ---- exact_after.c ---- */

/* What comes after, and that the clocks change; 0: nothing is said of either. */
double exact_after_height(struct composer *composer, const struct exact_sheet *sheet);
void exact_put_after(struct composer *composer, const struct exact_sheet *sheet, double y);

/* What if. */
double exact_rules_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet);
void exact_put_rules(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                     double y);

/* "I injected at". */
double exact_injected_height(struct composer *composer, const struct exact_sheet *sheet);
void exact_put_injected(struct composer *composer, const struct exact_sheet *sheet, double y);

#endif
