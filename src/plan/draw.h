/*
 * draw.h - from a dose to the line on a syringe.
 *
 *     concentration = label's figure, or content x containers / (liquid + displacement)
 *     volume        = dose / concentration
 *     mark          = the line that stands exactly there, or the dose is refused
 *
 * Exact throughout. The label's figure after mixing rules where it is printed;
 * where it can be checked (a solution; a powder with displacement) it must agree
 * with strength and volume within 2 %. A powder without displacement: the label
 * implies it, and it may not be negative.
 */
#ifndef PLAN_DRAW_H
#define PLAN_DRAW_H

#include "plan/course.h"

/* The deliverable amount of one container, in its strength's unit. False when the record cannot say; without a finding. */
bool product_content(const struct product *product, struct quantity *amount);

/* A product made ready: what is in 1 mL, and how many mL `containers` of them make. */
struct ready {
	struct quantity concentration; /* amount in 1 mL, in the strength's unit */
	bool from_label;
	struct rational liquid;       /* mL added; zero for a solution */
	struct rational displacement; /* mL that the powder adds, stated or implied by the label */
	struct rational volume;       /* mL once ready */
};

/*
 * Makes `containers` ready together (1 but for powders that share one liquid). False with a stop, at the product's own
 * places, when label, strength and volume disagree or something lacks. Not for counted forms.
 */
bool product_ready(struct arena *arena, const struct product *product, int64_t containers, struct ready *ready,
                   struct findings *findings);

/*
 * An order's amount as an amount of the product's strength unit: mass in mass,
 * activity in activity, across the two only through `also_labelled`, a volume
 * (mL, syringe units) through `concentration`. False, without a finding, when
 * they do not convert.
 */
bool dose_content(const struct product *product, struct quantity dose, struct quantity concentration,
                  struct quantity *content);

/* The volume that carries `dose`; false when the units do not convert or on overflow. */
bool dose_volume(const struct product *product, struct quantity dose, struct quantity concentration,
                 struct rational *volume);

/* The lines next to a volume on a scale: equal when one stands exactly there. */
struct neighbours {
	bool on_line;
	bool above_scale; /* more than the scale holds: `above` is then unset */
	struct rational below;
	struct rational above;
};

struct neighbours syringe_neighbours(const struct syringe *syringe, struct rational volume);

/* The settings of a pen next to one of its own; none below the dial's first step or above its most. */
struct dial_neighbours {
	bool has_below;
	struct quantity below; /* may be less than the least that the pen gives, and 0 where the dial rests */
	bool has_above;
	struct quantity above;
};

struct dial_neighbours dial_neighbours(const struct product *product, struct quantity setting);

/* How a line is called in messages and JSON: "0.5 mL", or "line 50" on a scale in units. */
const char *syringe_line_print(struct arena *arena, const struct syringe *syringe, struct rational volume,
                               enum decimal_mark mark);

/*
 * The syringe for `volume`: among plain mL ones without a fixed needle, the
 * smallest that holds it with 10 % of its capacity to spare and has a line
 * exactly there. NULL when there is none.
 */
const struct syringe *syringe_pick(const struct syringe *const *stock, size_t n_stock, struct rational volume);

/* What a draw is made from. */
struct draw_request {
	struct quantity dose;
	const struct product *product;
	int64_t containers;            /* powders in one liquid; 1 for all others */
	bool whole;                    /* the draw empties what it is made from, if the dose is all of it */
	const struct syringe *syringe; /* named by the user or the product; NULL: pick */
	const struct syringe *const *stock;
	size_t n_stock;
	struct rounding rounding;
	struct place place; /* where the dose is written */
	const char *name;   /* the medicine's, for findings; NULL: not known */
	enum decimal_mark mark;
};

/*
 * Fills the measuring part of `draw` (all but its containers). False with a
 * finding when refused; what could be computed before the refusal is filled
 * all the same, for `fillmark draw` to show: concentration, volume, syringe.
 */
bool draw_make(struct arena *arena, const struct draw_request *request, struct draw *draw, struct findings *findings);

/* True where the medicine is drawn back into the very syringe that its liquid comes in. */
bool in_liquid_syringe(const struct product *product);

/*
 * True where the liquid goes in with one syringe and the dose out with another: the liquid is measured with a syringe of
 * its own, or comes in one that does not take the medicine back. Once it is mixed, one syringe is enough.
 */
bool draw_two_syringes(const struct draw *draw);

/* True where a container is opened for the draw. */
bool draw_opens(const struct draw *draw);

/* How many wipes it takes: one for the skin, one for each rubber top each time that a needle goes through. */
int64_t draw_wipes(const struct draw *draw);

/* What is drawn from glass goes through a filter needle, which never goes into anybody: glass stays in it. */
bool product_filters(const struct product *product);

/* How many thick needles: one a syringe; none where a filter needle draws in its place. */
int64_t draw_thick_needles(const struct draw *draw);

/*
 * The smallest number of equal injections that would fit the named syringe, or else the largest in stock with room for
 * air, for the refusal. 0: none does.
 */
int64_t draw_injections_needed(const struct draw_request *request, struct rational volume);

#endif
