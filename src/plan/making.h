/*
 * making.h - what the parts of draw_make() share while one draw is made.
 *
 *     ready.c        what is in 1 mL
 *     scale.c        lines of a syringe, and the syringe for a line
 *     draw.c         the order of it all; how many to count
 *     draw_line.c    a vial, an ampoule, a filled syringe: where the ring stands
 *     draw_liquid.c  the liquid that goes into a powder
 *     draw_dial.c    a pen's setting
 *
 * All that is refused is said at the order's place with the medicine's name, but for faults of the product's own
 * record, which are said where that is written.
 */
#ifndef PLAN_MAKING_H
#define PLAN_MAKING_H

#include "plan/draw.h"

struct making {
	struct arena *arena;
	const struct draw_request *request;
	struct draw *draw;
	struct findings *findings;
	struct ready ready;
	struct quantity content; /* of the dose, in the strength's unit */
	bool whole;              /* the dose is all that its containers hold */
};

/* "'examplin-kit'", or "the container" where it has no id. */
const char *product_said(struct arena *arena, const struct product *product);

/* "overflow", a stop. */
void stop_overflow(struct findings *findings, struct place place);

/* True when an amount in `unit` can be told in the product's own unit: what dose_content() needs but for overflow. */
bool dose_converts(const struct product *product, enum unit unit, struct quantity concentration);

/* The syringe that the user or the product names, or NULL. */
const struct syringe *request_syringe(const struct draw_request *request);

/* As syringe_pick(), with or without a line there. */
const struct syringe *syringe_with_room(const struct syringe *const *stock, size_t n_stock, struct rational volume);

/* Adds a stop at the order's place. */
void making_stop(const struct making *making, const char *code, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

/* The same for numbers too long; returns false, as its callers do. */
bool making_overflow(const struct making *making);

/* "125 mcg of examplin", or "125 mcg" where no name is known. */
const char *dose_said(const struct making *making);

const char *amount_said(const struct making *making, struct quantity amount);
const char *volume_said(const struct making *making, struct rational volume);

const char *line_said(const struct making *making, const struct syringe *syringe, struct rational at);
const char *product_of(const struct making *making);

/* A draw of which nothing is computed yet: every number is a zero that can be reckoned with. */
struct draw draw_blank(const struct draw_request *request);

/* Each does its part, and returns false with a stop where it cannot. */

/* The dose in the product's own unit, into `content`. */
bool read_content(struct making *making, struct quantity concentration);

/* The dose is not more than there is; `whole` where it is all of it and leaves nothing. */
bool check_container(struct making *making);

/* The line for the medicine, and for the liquid that goes into it. */
bool make_lines(struct making *making);
bool measure_liquid(struct making *making);

bool make_dial(struct making *making);

#endif
