/*
 * schema.h - what may stand in each file, as tables, and the raw structs that libcyaml fills from them.
 *
 * All values are strings here: numbers, amounts and yes/no are read later by
 * our own exact parsers, since libcyaml takes '0,5' for 0 and '010' for 8.
 *
 * The files are friendlier than what libcyaml can describe, so shape.h first
 * brings a file's tree into the form of these tables. Keys that begin with '='
 * are never written by a user; they say what shape.h does:
 *
 *     =at      the place of this mapping
 *     =key     this mapping is an entry of a map with free keys (languages,
 *              slots, events); the file's `{en: Hello}` becomes
 *              [{=key: en, =text: Hello}]
 *     =text    takes a bare value where a mapping is wanted, so that
 *              `dose: 150 units` and `dose: {call: ...}` are both mappings
 *     =list    takes a bare list likewise
 *     =map     takes a map with free keys whole
 *
 * Every raw string is a number, which stands for what was written and where;
 * values.h looks it up. A key that was not written leaves NULL.
 */
#ifndef LOAD_SCHEMA_H
#define LOAD_SCHEMA_H

#include <cyaml/cyaml.h>
#include <stdbool.h>

/* One language of a text, or one free key with one value. */
struct raw_word {
	char *key;
	char *text;
};

struct raw_text {
	char *place;
	struct raw_word *words;
	unsigned words_count;
};

/* ---- clinic.yaml ---- */

struct raw_phone {
	char *place;
	char *id;
	struct raw_text *label;
	char *number;
	char *hours;
};

struct raw_clinic {
	char *place;
	struct raw_text *clinic;
	char **address;
	unsigned address_count;
	char *country;
	char *zone;
	char **languages;
	unsigned languages_count;
	char *day_begins;
	struct raw_word *slots;
	unsigned slots_count;
	struct raw_phone *phones;
	unsigned phones_count;
	struct raw_text *emergency;
	struct raw_text *disclaimer;
	char **stock;
	unsigned stock_count;
	char *rotation;
};

/* ---- syringes.yaml ---- */

struct raw_scale {
	char *place;
	char *text;
	char *units_per_mL;
	struct raw_text *name;
};

struct raw_syringe {
	char *place;
	char *id;
	struct raw_text *name;
	char *capacity;
	char *graduated;
	char *step;
	char *numbered_every;
	char **numerals;
	unsigned numerals_count;
	struct raw_scale *scale;
	char *scale_length;
	char *barrel;
	char *needle;
	char *measured;
};

struct raw_syringes {
	char *place;
	struct raw_syringe *syringes;
	unsigned syringes_count;
};

/* ---- formulary.yaml ---- */

struct raw_limits {
	char *place;
	char *least;
	char *most;
	char *day_most;
	char *gap_least;
	char *gap_most;
	char *site_most;
};

struct raw_liquid {
	char *place;
	struct raw_text *name;
	char *supplied;
	char *use;
	char *comes_as;
};

struct raw_share {
	char *place;
	char *policy;
	char *keep;
	char *where;
	char *how;
};

struct raw_dial {
	char *place;
	char *step;
	char *least;
	char *most;
	char *priming;
};

struct raw_needle {
	char *place;
	char *gauge;
	char *length;
};

struct raw_needles {
	char *place;
	struct raw_needle *mixing;
	struct raw_needle *giving;
	char *filter;
};

struct raw_in_box {
	char *place;
	char *needle;
	char *syringe;
	char *swab;
};

struct raw_rounding {
	char *place;
	char *to;
	char *most;
};

struct raw_product {
	char *place;
	char *id;
	char *container;
	char *strength;
	char *volume;
	char *concentration;
	char *box_says;
	char *also_labelled;
	struct raw_liquid *diluent;
	char *displacement;
	char *powders_per_diluent;
	char *mix;
	char *draw_with;
	char *whole;
	char *part;
	struct raw_share *share;
	char *in_use;
	struct raw_dial *dial;
	char *span;
	char *loss;
	char **contains;
	unsigned contains_count;
	struct raw_in_box *comes_with;
	unsigned comes_with_count;
	struct raw_needles *needles;
	char *syringe;
	char *bubble;
	char *warm_up;
	char *wear;
	char *divisible;
	struct raw_text *storage;
	char *technique;
	char **stands_in_for;
	unsigned stands_in_for_count;
	char *air;
	char *swap_surplus;
	char *hold;
	char *aspirate;
	char *skin_pull;
	char *rub;
	char *test;
	char *pen_end;
	char *start_line;
	struct raw_text *prime;
	char *spray_gap;
	char *cap;
};

struct raw_medicine {
	char *place;
	char *id;
	char *name;
	struct raw_text *purpose;
	char *route;
	char **sites;
	unsigned sites_count;
	struct raw_limits *limits;
	char *two_sites;
	struct raw_text *missed;
	struct raw_text *cautions;
	unsigned cautions_count;
	struct raw_rounding *rounding;
	struct raw_product *products;
	unsigned products_count;
};

struct raw_formulary {
	char *place;
	struct raw_medicine *medicines;
	unsigned medicines_count;
};

/* ---- protocols ---- */

struct raw_check {
	char *place;
	char *before;
	char *by;
	char *give_or_take;
};

struct raw_event {
	char *place;
	char *id;
	struct raw_text *label;
	char *own_day;
	char *exact;
	char *time_is;
	char *arrive_before;
	struct raw_check *check;
};

struct raw_trigger {
	char *place;
	char *on;
	char *event;
	char *day;
	char *plus;
	char *minus;
	struct raw_text *call;
	struct raw_text *expected;
	char *doses;
	char *days;
	struct raw_trigger *first_of;
	unsigned first_of_count;
	struct raw_trigger *last_of;
	unsigned last_of_count;
};

struct raw_from {
	char *place;
	char *text;
	char *event;
	char *day;
};

struct raw_dose {
	char *place;
	char *text;
	struct raw_text *call;
};

struct raw_step {
	char *place;
	struct raw_from *from;
	struct raw_dose *dose;
	char **may_become;
	unsigned may_become_count;
	char *split;
	char **at;
	unsigned at_count;
	char *every;
};

struct raw_as_needed {
	char *place;
	char *most;
};

struct raw_gap_to {
	char *place;
	char *event;
	char *most;
	char *least;
};

struct raw_item {
	char *place;
	char *id;
	char *medicine;
	char **at;
	unsigned at_count;
	char *window;
	struct raw_trigger *start;
	struct raw_trigger *end;
	char *every;
	char **weekdays;
	unsigned weekdays_count;
	struct raw_as_needed *as_needed;
	struct raw_step *doses;
	unsigned doses_count;
	struct raw_limits *limits;
	struct raw_gap_to *gap_to;
	char *horizon;
	char **products;
	unsigned products_count;
};

struct raw_visit {
	char *place;
	char *event;
	char *day;
	char *at;
	struct raw_text *label;
};

struct raw_protocol {
	char *place;
	char *protocol;
	struct raw_text *title;
	char *horizon;
	struct raw_event *events;
	unsigned events_count;
	struct raw_item *items;
	unsigned items_count;
	struct raw_visit *visits;
	unsigned visits_count;
};

/* ---- plans ---- */

struct raw_patient {
	char *place;
	char *name;
	char *born;
	char *record;
	char **allergies;
	unsigned allergies_count;
};

struct raw_replaces {
	char *place;
	char *file;
	char *code;
	struct raw_text *because;
};

struct raw_plan_doses {
	char *key;
	struct raw_step *list;
	unsigned list_count;
};

struct raw_change {
	char *place;
	char *item;
	char *from;
	char *until;
	char *dose;
	char *stop;
	char *skip;
	char **at;
	unsigned at_count;
	char *product;
	struct raw_text *because;
};

struct raw_called {
	char *place;
	char *item;
	char *on;
};

struct raw_away {
	char *place;
	char *from;
	char *to;
	char *zone;
	char *keep;
};

struct raw_dispensed {
	char *place;
	char *product;
	char *count;
	char *expires;
	char *opened;
	char *left;
};

/* One of the clinic's protocols, bare; or a course of the plan's own, written out. */
struct raw_plan_protocol {
	char *place;
	char *text;
	struct raw_text *title;
	char *horizon;
	struct raw_event *events;
	unsigned events_count;
	struct raw_item *items;
	unsigned items_count;
	struct raw_visit *visits;
	unsigned visits_count;
};

struct raw_plan {
	char *place;
	struct raw_patient *patient;
	char *language;
	char *paper;
	char *large_print;
	struct raw_plan_protocol *protocol;
	char *as_of;
	char *version;
	struct raw_replaces *replaces;
	char *good_until;
	char *zone;
	struct raw_word *events;
	unsigned events_count;
	struct raw_plan_doses *doses;
	unsigned doses_count;
	struct raw_change *changes;
	unsigned changes_count;
	struct raw_called *called;
	unsigned called_count;
	struct raw_away *away;
	unsigned away_count;
	struct raw_dispensed *dispensed;
	unsigned dispensed_count;
};

/* ---- words and templates ---- */

/* A message: bare words, or one text for each plural form of the language. */
struct raw_message {
	char *key;
	char *text;
	char *zero;
	char *one;
	char *two;
	char *few;
	char *many;
	char *other;
};

struct raw_wording {
	char *place;
	char *language;
	struct raw_message *words;
	unsigned words_count;
};

struct raw_pages {
	char *place;
	char **order;
	unsigned order_count;
};

struct raw_template_step {
	char *place;
	char *id;
	char *picture;
	char *side;
	char **when;
	unsigned when_count;
	char *warning;
	char *line;
};

struct raw_technique {
	char *place;
	char *technique;
	char **lay_out;
	unsigned lay_out_count;
	struct raw_template_step *steps;
	unsigned steps_count;
};

/* ---- maps of intakes ---- */

/* A column of the intake: bare, the field it is; or with more to say. */
struct raw_column {
	char *key;
	char *text;
	char *field;
	char *unit;
	char *codes;
	char *separator;
};

struct raw_codes {
	char *key;
	struct raw_word *words;
	unsigned words_count;
};

struct raw_map {
	char *place;
	char *intake;
	char *rows;
	char *delimiter;
	char *encoding;
	char *decimal;
	char *dates;
	char *procedure_time;
	char *record_width;
	struct raw_column *columns;
	unsigned columns_count;
	char **ignore;
	unsigned ignore_count;
	struct raw_codes *codes;
	unsigned codes_count;
	struct raw_word *constants;
	unsigned constants_count;
};

/* Of FHIR: what one of their codes is, bare or with more to say. */
struct raw_fhir_code {
	char *key;
	char *text;
	char *item;
	char *medicine;
	char *event;
	char *time_is;
	struct raw_text *label;
	struct raw_limits *limits;
};

struct raw_own_course {
	char *place;
	struct raw_text *title;
	char *horizon;
};

struct raw_fhir_map {
	char *place;
	char *intake;
	char *record;
	char *record_width;
	struct raw_fhir_code *medications;
	unsigned medications_count;
	struct raw_fhir_code *events;
	unsigned events_count;
	struct raw_word *protocols;
	unsigned protocols_count;
	struct raw_word *languages;
	unsigned languages_count;
	struct raw_word *allergies;
	unsigned allergies_count;
	struct raw_word *routes;
	unsigned routes_count;
	char **ignore;
	unsigned ignore_count;
	struct raw_own_course *own_course;
	struct raw_word *constants;
	unsigned constants_count;
};

extern const cyaml_schema_value_t schema_clinic;
extern const cyaml_schema_value_t schema_syringes;
extern const cyaml_schema_value_t schema_formulary;
extern const cyaml_schema_value_t schema_protocol;
extern const cyaml_schema_value_t schema_plan;
extern const cyaml_schema_value_t schema_wording;
extern const cyaml_schema_value_t schema_pages;
extern const cyaml_schema_value_t schema_technique;
extern const cyaml_schema_value_t schema_map;
extern const cyaml_schema_value_t schema_fhir_map;

/* True where the key must be written. libcyaml itself takes every key as optional, so that shape.h can name all. */
bool schema_needed(const cyaml_schema_value_t *value);

/* True where spaces alone are a value, as of what separates others; elsewhere they print as nothing. */
bool schema_may_be_blank(const cyaml_schema_value_t *value);

/* The field of a mapping's schema, or NULL. */
const cyaml_schema_field_t *schema_field(const cyaml_schema_value_t *mapping, const char *key);

/* True for the entries of a map with free keys. */
bool schema_is_keyed(const cyaml_schema_value_t *entry);

#endif
