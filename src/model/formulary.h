/*
 * formulary.h - the clinic's medicine list: medicines, and the products they come in.
 */
#ifndef MODEL_FORMULARY_H
#define MODEL_FORMULARY_H

#include "model/stated.h"
#include "model/syringe.h"

enum container_kind {
	CONTAINER_POWDER_VIAL,
	CONTAINER_SOLUTION_VIAL,
	CONTAINER_AMPOULE,
	CONTAINER_PREFILLED_SYRINGE,
	CONTAINER_PEN,
	CONTAINER_COUNTED
};

/* "powder-vial" and so on, as the files write it. */
const char *container_kind_name(enum container_kind kind);

enum route {
	ROUTE_SUBCUTANEOUS,
	ROUTE_INTRAMUSCULAR,
	ROUTE_ORAL,
	ROUTE_VAGINAL,
	ROUTE_RECTAL,
	ROUTE_TRANSDERMAL,
	ROUTE_NASAL
};

const char *route_name(enum route route);
bool route_by_needle(enum route route);

enum mixing { MIX_SWIRL, MIX_ROLL, MIX_SHAKE };
enum liquid_vessel { LIQUID_SYRINGE, LIQUID_VIAL, LIQUID_AMPOULE };
enum draw_with { DRAW_WITH_OWN, DRAW_WITH_LIQUID_SYRINGE };
enum part_way { PART_NOT_STATED, PART_EXPEL_FIRST, PART_INJECT_TO };
enum share_way { SHARE_FROM_VIAL, SHARE_TWO_SYRINGES };
enum bubble { BUBBLE_EXPEL, BUBBLE_KEEP };
enum pen_test { PEN_TEST_NONE, PEN_TEST_FIRST, PEN_TEST_EACH };
enum pen_end { PEN_END_NOT_STATED, PEN_END_STOPS, PEN_END_SHOWS_REST };
enum air { AIR_NONE, AIR_EQUAL };

/* What a dose, a day, a gap or a place may hold. Not given: no such limit. */
struct limits {
	struct stated_quantity least;
	struct stated_quantity most;
	struct stated_quantity day_most;
	struct stated_quantity gap_least;
	struct stated_quantity gap_most;
	struct stated_quantity site_most;
	struct place place;
};

struct liquid {
	bool given;
	struct text name;
	struct stated_quantity supplied;
	struct stated_quantity use;
	enum liquid_vessel comes_as;
	struct place place;
};

/* The written policy by which one container may serve two doses. */
struct share {
	bool given;
	const char *policy;
	struct stated_quantity keep; /* longest time the rest may be kept */
	const char *where;           /* "fridge", "room" */
	enum share_way how;
	struct place place;
};

struct dial {
	bool given;
	struct stated_quantity step;
	struct stated_quantity least;
	struct stated_quantity most;
	struct stated_quantity priming;
	struct place place;
};

struct needle {
	bool given;
	struct stated_number gauge;
	struct stated_quantity length;
};

/* One thing in the box, per container. */
struct in_box {
	enum { BOX_NEEDLE, BOX_SYRINGE, BOX_SWAB } kind;
	const char *needle; /* "mixing", "giving" */
	const struct syringe *syringe;
	int64_t count;
	struct place place;
};

struct rounding {
	bool given;
	struct rational most; /* a fraction of the dose: 2 % is 1/50 */
	struct place place;
};

struct product {
	const char *id;
	enum container_kind container;
	struct stated_quantity strength; /* delivered by one container; for a solution the amount in `volume` ... */
	struct stated_quantity per_ml;   /* ... or, where stated as `5 mg/mL`, the amount in 1 mL; else not given */
	struct stated_quantity volume;   /* deliverable, of a solution */
	struct stated_quantity concentration; /* the label's amount in 1 mL after mixing */
	struct stated_string box_says;
	struct stated_quantity also_labelled; /* of one container, in another dimension */
	struct liquid diluent;
	struct stated_quantity displacement; /* of one container's powder */
	int64_t powders_per_diluent;         /* 1 by default */
	enum mixing mix;
	enum draw_with draw_with;
	bool whole_to_mark; /* a whole container is drawn to a mark; default: all of it */
	enum part_way part;
	struct share share;
	struct stated_quantity in_use; /* whole days: the day of first use is day 1 */
	struct dial dial;
	bool span; /* a dose may be finished from a second container */
	struct stated_quantity loss;
	const char *const *contains;
	size_t n_contains;
	const struct in_box *comes_with;
	size_t n_comes_with;
	struct needle mixing_needle;
	struct needle giving_needle;
	bool filter_needle;
	const struct syringe *syringe; /* NULL: the program picks */
	enum bubble bubble;
	struct stated_quantity warm_up;
	struct stated_quantity wear; /* patches */
	bool halves;                 /* tablets that may be halved */
	struct text storage;
	const char *technique; /* which steps; by container where the file names none */
	const char *const *stands_in_for;
	size_t n_stands_in_for;

	/* The label's or the clinic's word on technique; each default prints least. */
	enum air air;
	bool swap_surplus;
	struct stated_quantity hold; /* in seconds */
	bool aspirate;
	bool skin_pull;
	bool rub;
	enum pen_test test;
	enum pen_end pen_end;
	struct stated_quantity start_line;
	struct text prime;
	struct stated_quantity spray_gap; /* in seconds */
	bool cap;

	struct place place;
};

struct medicine {
	const char *id;
	const char *name; /* generic, as printed */
	struct text purpose;
	enum route route;
	const char *const *sites;
	size_t n_sites;
	struct limits limits;
	bool two_sites;     /* a dose of more than `site_most` is given as two injections at two places */
	struct text missed; /* absent: the sheet says to call */
	const struct text *cautions;
	size_t n_cautions;
	struct rounding rounding;
	const struct product *products;
	size_t n_products;
	struct place place;
};

/* True for one of the medicine's own products. */
bool medicine_has_product(const struct medicine *medicine, const struct product *product);

#endif
