/*
 * template.h - wording, page order and steps, as data that a clinic can change.
 *
 * A wording is a flat table from key ("grid.lead") to a message with {named}
 * places; a message may have plural forms. Steps are lists per technique: a
 * picture, words and the conditions under which the step is printed.
 */
#ifndef MODEL_TEMPLATE_H
#define MODEL_TEMPLATE_H

#include "model/stated.h"

/* One message. Where it has plural forms `form` holds "one", "few", "other" ...; else one form named "other". */
struct message_form {
	const char *form;
	const char *text;
};

struct message {
	const char *key;
	const struct message_form *forms;
	size_t n_forms;
	struct place place;
};

struct wording {
	const char *language;
	const struct message *messages; /* sorted by key (strcmp) */
	size_t n;
	bool clinic_over; /* the clinic's own file changes some: it needs a signature */
	struct place place;
};

/* The message, or NULL. */
const struct message *wording_find(const struct wording *wording, const char *key);

/*
 * Where a step is printed: before anything (words only), on the front page
 * (getting ready), on the back page (drawing and injecting), on the page of
 * a shared vial (what the second day starts with), or on the page of a dose
 * that takes more than one pen: before the first of them, and for each.
 */
enum step_side {
	STEP_FIRST,
	STEP_FRONT,
	STEP_BACK,
	STEP_SECOND_DAY,
	STEP_PENS_FIRST,
	STEP_EACH_PEN,
	STEP_MIX,   /* the page where a measured liquid goes into its powder */
	STEP_LINE,  /* beside the line of a filled syringe of which a part is given */
	STEP_REST,  /* ... and what becomes of the rest */
	STEP_HELPER /* the page of the one who injects into the muscle */
};

/* A step of a technique. */
struct step_template {
	const char *id;          /* "mix": its words are step.<technique>.<id>.title and .text, or else step.<id>.* */
	const char *picture;     /* a step picture's name */
	const char *const *when; /* conditions, all of which must hold; "!name" negates */
	size_t n_when;
	enum step_side side;
	bool warning; /* printed as a warning before the step that follows */
	bool line;    /* the plunger is stopped on the dose's line: where its drawing is far the tag stands here too */
	struct place place;
};

struct technique_template {
	const char *id;             /* "powder-vial" */
	const char *const *lay_out; /* things to lay out: picture names; "!"-less conditions after ':' */
	size_t n_lay_out;
	const struct place *lay_out_places; /* one each */
	const struct step_template *steps;
	size_t n_steps;
	bool clinic_over; /* the clinic's own file changes it: it needs a signature */
	struct place place;
};

struct page_templates {
	const char *const *order; /* page kinds, in printing order */
	size_t n_order;
	const struct technique_template *techniques;
	size_t n_techniques;
};

const struct technique_template *templates_technique(const struct page_templates *templates, const char *id);

#endif
