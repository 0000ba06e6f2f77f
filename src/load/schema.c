#include "load/schema.h"

#include <stddef.h>
#include <string.h>

/*
 * libcyaml stops at the first key that is missing; so each field is optional to
 * it, and NEEDED is a bit that it looks at for other types only: shape.c asks
 * for those keys and names every one that lacks. BLANK is such a bit, too: the
 * value may be spaces alone.
 */
#define LEFT_OUT CYAML_FLAG_OPTIONAL
#define NEEDED (CYAML_FLAG_OPTIONAL | CYAML_FLAG_STRICT)
#define BLANK (CYAML_FLAG_OPTIONAL | CYAML_FLAG_CASE_INSENSITIVE)

#define STRING_FIELD(key, structure, member, needed) \
	CYAML_FIELD_STRING_PTR(key, CYAML_FLAG_POINTER | (needed), struct structure, member, 0, CYAML_UNLIMITED)
#define LIST_FIELD(key, structure, member, entry, needed) \
	CYAML_FIELD_SEQUENCE(key, CYAML_FLAG_POINTER | (needed), struct structure, member, &(entry), 0, CYAML_UNLIMITED)

#define PLACE(structure) STRING_FIELD("=at", structure, place, LEFT_OUT)
#define FREE_KEY(structure) STRING_FIELD("=key", structure, key, LEFT_OUT)
#define BARE_VALUE(structure, needed) STRING_FIELD("=text", structure, text, needed)
#define BARE_LIST(structure, member, entry) LIST_FIELD("=list", structure, member, entry, LEFT_OUT)
#define FREE_MAP(structure, member, entry) LIST_FIELD("=map", structure, member, entry, LEFT_OUT)

#define VALUE(structure, member, needed) STRING_FIELD(#member, structure, member, needed)
#define LIST(structure, member, entry, needed) LIST_FIELD(#member, structure, member, entry, needed)
#define MAP(structure, member, inner, fields, needed) \
	CYAML_FIELD_MAPPING_PTR(#member, CYAML_FLAG_POINTER | (needed), struct structure, member, fields)

#define ENTRY(structure, fields)                                                  \
	{                                                                         \
		CYAML_VALUE_MAPPING(CYAML_FLAG_DEFAULT, struct structure, fields) \
	}

/* A list's entry that is one value. */
static const cyaml_schema_value_t value_value = {CYAML_VALUE_STRING(CYAML_FLAG_POINTER, char *, 0, CYAML_UNLIMITED)};

/* ---- shared ---- */

static const cyaml_schema_field_t word_fields[] = {
	FREE_KEY(raw_word),
	BARE_VALUE(raw_word, NEEDED),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t word_value = ENTRY(raw_word, word_fields);

static const cyaml_schema_field_t text_fields[] = {
	PLACE(raw_text),
	FREE_MAP(raw_text, words, word_value),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t text_value = ENTRY(raw_text, text_fields);

/* ---- clinic.yaml ---- */

static const cyaml_schema_field_t phone_fields[] = {
	PLACE(raw_phone),
	VALUE(raw_phone, id, NEEDED),
	MAP(raw_phone, label, raw_text, text_fields, NEEDED),
	VALUE(raw_phone, number, NEEDED),
	VALUE(raw_phone, hours, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t phone_value = ENTRY(raw_phone, phone_fields);

static const cyaml_schema_field_t clinic_fields[] = {
	PLACE(raw_clinic),
	MAP(raw_clinic, clinic, raw_text, text_fields, NEEDED),
	LIST(raw_clinic, address, value_value, LEFT_OUT),
	VALUE(raw_clinic, country, NEEDED),
	VALUE(raw_clinic, zone, NEEDED),
	LIST(raw_clinic, languages, value_value, NEEDED),
	VALUE(raw_clinic, day_begins, NEEDED),
	LIST(raw_clinic, slots, word_value, LEFT_OUT),
	LIST(raw_clinic, phones, phone_value, NEEDED),
	MAP(raw_clinic, emergency, raw_text, text_fields, LEFT_OUT),
	MAP(raw_clinic, disclaimer, raw_text, text_fields, LEFT_OUT),
	LIST(raw_clinic, stock, value_value, LEFT_OUT),
	VALUE(raw_clinic, rotation, LEFT_OUT),
	CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_clinic = {CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct raw_clinic, clinic_fields)};

/* ---- syringes.yaml ---- */

static const cyaml_schema_field_t scale_fields[] = {
	PLACE(raw_scale),
	BARE_VALUE(raw_scale, LEFT_OUT),
	VALUE(raw_scale, units_per_mL, LEFT_OUT),
	MAP(raw_scale, name, raw_text, text_fields, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t syringe_fields[] = {
	PLACE(raw_syringe),
	VALUE(raw_syringe, id, NEEDED),
	MAP(raw_syringe, name, raw_text, text_fields, NEEDED),
	VALUE(raw_syringe, capacity, NEEDED),
	VALUE(raw_syringe, graduated, LEFT_OUT),
	VALUE(raw_syringe, step, NEEDED),
	VALUE(raw_syringe, numbered_every, NEEDED),
	LIST(raw_syringe, numerals, value_value, LEFT_OUT),
	MAP(raw_syringe, scale, raw_scale, scale_fields, LEFT_OUT),
	VALUE(raw_syringe, scale_length, NEEDED),
	VALUE(raw_syringe, barrel, NEEDED),
	VALUE(raw_syringe, needle, LEFT_OUT),
	VALUE(raw_syringe, measured, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t syringe_value = ENTRY(raw_syringe, syringe_fields);

static const cyaml_schema_field_t syringes_fields[] = {
	PLACE(raw_syringes),
	LIST(raw_syringes, syringes, syringe_value, NEEDED),
	CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_syringes = {
	CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct raw_syringes, syringes_fields)};

/* ---- formulary.yaml ---- */

static const cyaml_schema_field_t limits_fields[] = {
	PLACE(raw_limits),
	VALUE(raw_limits, least, LEFT_OUT),
	VALUE(raw_limits, most, LEFT_OUT),
	VALUE(raw_limits, day_most, LEFT_OUT),
	VALUE(raw_limits, gap_least, LEFT_OUT),
	VALUE(raw_limits, gap_most, LEFT_OUT),
	VALUE(raw_limits, site_most, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t liquid_fields[] = {
	PLACE(raw_liquid),
	MAP(raw_liquid, name, raw_text, text_fields, NEEDED),
	VALUE(raw_liquid, supplied, NEEDED),
	VALUE(raw_liquid, use, NEEDED),
	VALUE(raw_liquid, comes_as, NEEDED),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t share_fields[] = {
	PLACE(raw_share),
	VALUE(raw_share, policy, NEEDED),
	VALUE(raw_share, keep, NEEDED),
	VALUE(raw_share, where, NEEDED),
	VALUE(raw_share, how, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t dial_fields[] = {
	PLACE(raw_dial),
	VALUE(raw_dial, step, NEEDED),
	VALUE(raw_dial, least, NEEDED),
	VALUE(raw_dial, most, NEEDED),
	VALUE(raw_dial, priming, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t needle_fields[] = {
	PLACE(raw_needle),
	VALUE(raw_needle, gauge, NEEDED),
	VALUE(raw_needle, length, NEEDED),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t needles_fields[] = {
	PLACE(raw_needles),
	MAP(raw_needles, mixing, raw_needle, needle_fields, LEFT_OUT),
	MAP(raw_needles, giving, raw_needle, needle_fields, LEFT_OUT),
	VALUE(raw_needles, filter, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t in_box_fields[] = {
	PLACE(raw_in_box),
	VALUE(raw_in_box, needle, LEFT_OUT),
	VALUE(raw_in_box, syringe, LEFT_OUT),
	VALUE(raw_in_box, swab, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t in_box_value = ENTRY(raw_in_box, in_box_fields);

static const cyaml_schema_field_t rounding_fields[] = {
	PLACE(raw_rounding),
	VALUE(raw_rounding, to, NEEDED),
	VALUE(raw_rounding, most, NEEDED),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t product_fields[] = {
	PLACE(raw_product),
	VALUE(raw_product, id, NEEDED),
	VALUE(raw_product, container, NEEDED),
	VALUE(raw_product, strength, NEEDED),
	VALUE(raw_product, volume, LEFT_OUT),
	VALUE(raw_product, concentration, LEFT_OUT),
	VALUE(raw_product, box_says, LEFT_OUT),
	VALUE(raw_product, also_labelled, LEFT_OUT),
	MAP(raw_product, diluent, raw_liquid, liquid_fields, LEFT_OUT),
	VALUE(raw_product, displacement, LEFT_OUT),
	VALUE(raw_product, powders_per_diluent, LEFT_OUT),
	VALUE(raw_product, mix, LEFT_OUT),
	VALUE(raw_product, draw_with, LEFT_OUT),
	VALUE(raw_product, whole, LEFT_OUT),
	VALUE(raw_product, part, LEFT_OUT),
	MAP(raw_product, share, raw_share, share_fields, LEFT_OUT),
	VALUE(raw_product, in_use, LEFT_OUT),
	MAP(raw_product, dial, raw_dial, dial_fields, LEFT_OUT),
	VALUE(raw_product, span, LEFT_OUT),
	VALUE(raw_product, loss, LEFT_OUT),
	LIST(raw_product, contains, value_value, LEFT_OUT),
	LIST(raw_product, comes_with, in_box_value, LEFT_OUT),
	MAP(raw_product, needles, raw_needles, needles_fields, LEFT_OUT),
	VALUE(raw_product, syringe, LEFT_OUT),
	VALUE(raw_product, bubble, LEFT_OUT),
	VALUE(raw_product, warm_up, LEFT_OUT),
	VALUE(raw_product, wear, LEFT_OUT),
	VALUE(raw_product, divisible, LEFT_OUT),
	MAP(raw_product, storage, raw_text, text_fields, LEFT_OUT),
	VALUE(raw_product, technique, LEFT_OUT),
	LIST(raw_product, stands_in_for, value_value, LEFT_OUT),
	VALUE(raw_product, air, LEFT_OUT),
	VALUE(raw_product, swap_surplus, LEFT_OUT),
	VALUE(raw_product, hold, LEFT_OUT),
	VALUE(raw_product, aspirate, LEFT_OUT),
	VALUE(raw_product, skin_pull, LEFT_OUT),
	VALUE(raw_product, rub, LEFT_OUT),
	VALUE(raw_product, test, LEFT_OUT),
	VALUE(raw_product, pen_end, LEFT_OUT),
	VALUE(raw_product, start_line, LEFT_OUT),
	MAP(raw_product, prime, raw_text, text_fields, LEFT_OUT),
	VALUE(raw_product, spray_gap, LEFT_OUT),
	VALUE(raw_product, cap, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t product_value = ENTRY(raw_product, product_fields);

static const cyaml_schema_field_t medicine_fields[] = {
	PLACE(raw_medicine),
	VALUE(raw_medicine, id, NEEDED),
	VALUE(raw_medicine, name, NEEDED),
	MAP(raw_medicine, purpose, raw_text, text_fields, LEFT_OUT),
	VALUE(raw_medicine, route, NEEDED),
	LIST(raw_medicine, sites, value_value, LEFT_OUT),
	MAP(raw_medicine, limits, raw_limits, limits_fields, LEFT_OUT),
	VALUE(raw_medicine, two_sites, LEFT_OUT),
	MAP(raw_medicine, missed, raw_text, text_fields, LEFT_OUT),
	LIST(raw_medicine, cautions, text_value, LEFT_OUT),
	MAP(raw_medicine, rounding, raw_rounding, rounding_fields, LEFT_OUT),
	LIST(raw_medicine, products, product_value, NEEDED),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t medicine_value = ENTRY(raw_medicine, medicine_fields);

static const cyaml_schema_field_t formulary_fields[] = {
	PLACE(raw_formulary),
	LIST(raw_formulary, medicines, medicine_value, NEEDED),
	CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_formulary = {
	CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct raw_formulary, formulary_fields)};

/* ---- protocols ---- */

static const cyaml_schema_field_t check_fields[] = {
	PLACE(raw_check),
	VALUE(raw_check, before, NEEDED),
	VALUE(raw_check, by, NEEDED),
	VALUE(raw_check, give_or_take, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t event_fields[] = {
	PLACE(raw_event),
	VALUE(raw_event, id, NEEDED),
	MAP(raw_event, label, raw_text, text_fields, NEEDED),
	VALUE(raw_event, own_day, LEFT_OUT),
	VALUE(raw_event, exact, LEFT_OUT),
	VALUE(raw_event, time_is, LEFT_OUT),
	VALUE(raw_event, arrive_before, LEFT_OUT),
	MAP(raw_event, check, raw_check, check_fields, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t event_value = ENTRY(raw_event, event_fields);

static const cyaml_schema_value_t start_value;

static const cyaml_schema_field_t start_fields[] = {
	PLACE(raw_trigger),
	VALUE(raw_trigger, on, LEFT_OUT),
	VALUE(raw_trigger, event, LEFT_OUT),
	VALUE(raw_trigger, day, LEFT_OUT),
	VALUE(raw_trigger, plus, LEFT_OUT),
	VALUE(raw_trigger, minus, LEFT_OUT),
	MAP(raw_trigger, call, raw_text, text_fields, LEFT_OUT),
	MAP(raw_trigger, expected, raw_text, text_fields, LEFT_OUT),
	LIST(raw_trigger, first_of, start_value, LEFT_OUT),
	LIST(raw_trigger, last_of, start_value, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t start_value = ENTRY(raw_trigger, start_fields);

static const cyaml_schema_value_t end_value;

static const cyaml_schema_field_t end_fields[] = {
	PLACE(raw_trigger),
	VALUE(raw_trigger, event, LEFT_OUT),
	VALUE(raw_trigger, day, LEFT_OUT),
	VALUE(raw_trigger, plus, LEFT_OUT),
	VALUE(raw_trigger, minus, LEFT_OUT),
	MAP(raw_trigger, call, raw_text, text_fields, LEFT_OUT),
	MAP(raw_trigger, expected, raw_text, text_fields, LEFT_OUT),
	VALUE(raw_trigger, doses, LEFT_OUT),
	VALUE(raw_trigger, days, LEFT_OUT),
	LIST(raw_trigger, first_of, end_value, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t end_value = ENTRY(raw_trigger, end_fields);

static const cyaml_schema_field_t from_fields[] = {
	PLACE(raw_from),
	BARE_VALUE(raw_from, LEFT_OUT),
	VALUE(raw_from, event, LEFT_OUT),
	VALUE(raw_from, day, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t dose_fields[] = {
	PLACE(raw_dose),
	BARE_VALUE(raw_dose, LEFT_OUT),
	MAP(raw_dose, call, raw_text, text_fields, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t step_fields[] = {
	PLACE(raw_step),
	MAP(raw_step, from, raw_from, from_fields, NEEDED),
	MAP(raw_step, dose, raw_dose, dose_fields, NEEDED),
	LIST(raw_step, may_become, value_value, LEFT_OUT),
	VALUE(raw_step, split, LEFT_OUT),
	LIST(raw_step, at, value_value, LEFT_OUT),
	VALUE(raw_step, every, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t step_value = ENTRY(raw_step, step_fields);

static const cyaml_schema_field_t as_needed_fields[] = {
	PLACE(raw_as_needed),
	VALUE(raw_as_needed, most, NEEDED),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t gap_to_fields[] = {
	PLACE(raw_gap_to),
	VALUE(raw_gap_to, event, NEEDED),
	VALUE(raw_gap_to, most, LEFT_OUT),
	VALUE(raw_gap_to, least, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t item_fields[] = {
	PLACE(raw_item),
	VALUE(raw_item, id, NEEDED),
	VALUE(raw_item, medicine, NEEDED),
	LIST(raw_item, at, value_value, LEFT_OUT),
	VALUE(raw_item, window, LEFT_OUT),
	MAP(raw_item, start, raw_trigger, start_fields, NEEDED),
	MAP(raw_item, end, raw_trigger, end_fields, LEFT_OUT),
	VALUE(raw_item, every, LEFT_OUT),
	LIST(raw_item, weekdays, value_value, LEFT_OUT),
	MAP(raw_item, as_needed, raw_as_needed, as_needed_fields, LEFT_OUT),
	LIST(raw_item, doses, step_value, NEEDED),
	MAP(raw_item, limits, raw_limits, limits_fields, LEFT_OUT),
	MAP(raw_item, gap_to, raw_gap_to, gap_to_fields, LEFT_OUT),
	VALUE(raw_item, horizon, LEFT_OUT),
	LIST(raw_item, products, value_value, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t item_value = ENTRY(raw_item, item_fields);

static const cyaml_schema_field_t visit_fields[] = {
	PLACE(raw_visit),
	VALUE(raw_visit, event, NEEDED),
	VALUE(raw_visit, day, LEFT_OUT),
	VALUE(raw_visit, at, LEFT_OUT),
	MAP(raw_visit, label, raw_text, text_fields, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t visit_value = ENTRY(raw_visit, visit_fields);

static const cyaml_schema_field_t protocol_fields[] = {
	PLACE(raw_protocol),
	VALUE(raw_protocol, protocol, NEEDED),
	MAP(raw_protocol, title, raw_text, text_fields, NEEDED),
	VALUE(raw_protocol, horizon, LEFT_OUT),
	LIST(raw_protocol, events, event_value, LEFT_OUT),
	LIST(raw_protocol, items, item_value, NEEDED),
	LIST(raw_protocol, visits, visit_value, LEFT_OUT),
	CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_protocol = {
	CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct raw_protocol, protocol_fields)};

/* ---- plans ---- */

static const cyaml_schema_field_t patient_fields[] = {
	PLACE(raw_patient),
	VALUE(raw_patient, name, NEEDED),
	VALUE(raw_patient, born, LEFT_OUT),
	VALUE(raw_patient, record, LEFT_OUT),
	LIST(raw_patient, allergies, value_value, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t replaces_fields[] = {
	PLACE(raw_replaces),
	VALUE(raw_replaces, file, LEFT_OUT),
	VALUE(raw_replaces, code, LEFT_OUT),
	MAP(raw_replaces, because, raw_text, text_fields, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t plan_doses_fields[] = {
	FREE_KEY(raw_plan_doses),
	BARE_LIST(raw_plan_doses, list, step_value),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t plan_doses_value = ENTRY(raw_plan_doses, plan_doses_fields);

static const cyaml_schema_field_t change_fields[] = {
	PLACE(raw_change),
	VALUE(raw_change, item, NEEDED),
	VALUE(raw_change, from, NEEDED),
	VALUE(raw_change, until, LEFT_OUT),
	VALUE(raw_change, dose, LEFT_OUT),
	VALUE(raw_change, stop, LEFT_OUT),
	VALUE(raw_change, skip, LEFT_OUT),
	LIST(raw_change, at, value_value, LEFT_OUT),
	VALUE(raw_change, product, LEFT_OUT),
	MAP(raw_change, because, raw_text, text_fields, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t change_value = ENTRY(raw_change, change_fields);

static const cyaml_schema_field_t called_fields[] = {
	PLACE(raw_called),
	VALUE(raw_called, item, NEEDED),
	VALUE(raw_called, on, NEEDED),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t called_value = ENTRY(raw_called, called_fields);

static const cyaml_schema_field_t away_fields[] = {
	PLACE(raw_away),
	VALUE(raw_away, from, NEEDED),
	VALUE(raw_away, to, NEEDED),
	VALUE(raw_away, zone, NEEDED),
	VALUE(raw_away, keep, NEEDED),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t away_value = ENTRY(raw_away, away_fields);

static const cyaml_schema_field_t dispensed_fields[] = {
	PLACE(raw_dispensed),
	VALUE(raw_dispensed, product, NEEDED),
	VALUE(raw_dispensed, count, NEEDED),
	VALUE(raw_dispensed, expires, LEFT_OUT),
	VALUE(raw_dispensed, opened, LEFT_OUT),
	VALUE(raw_dispensed, left, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t dispensed_value = ENTRY(raw_dispensed, dispensed_fields);

static const cyaml_schema_field_t plan_protocol_fields[] = {
	PLACE(raw_plan_protocol),
	BARE_VALUE(raw_plan_protocol, LEFT_OUT),
	MAP(raw_plan_protocol, title, raw_text, text_fields, NEEDED),
	VALUE(raw_plan_protocol, horizon, LEFT_OUT),
	LIST(raw_plan_protocol, events, event_value, LEFT_OUT),
	LIST(raw_plan_protocol, items, item_value, NEEDED),
	LIST(raw_plan_protocol, visits, visit_value, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t plan_fields[] = {
	PLACE(raw_plan),
	MAP(raw_plan, patient, raw_patient, patient_fields, NEEDED),
	VALUE(raw_plan, language, NEEDED),
	VALUE(raw_plan, paper, LEFT_OUT),
	VALUE(raw_plan, large_print, LEFT_OUT),
	MAP(raw_plan, protocol, raw_plan_protocol, plan_protocol_fields, NEEDED),
	VALUE(raw_plan, as_of, NEEDED),
	VALUE(raw_plan, version, LEFT_OUT),
	MAP(raw_plan, replaces, raw_replaces, replaces_fields, LEFT_OUT),
	VALUE(raw_plan, good_until, LEFT_OUT),
	VALUE(raw_plan, zone, LEFT_OUT),
	LIST(raw_plan, events, word_value, LEFT_OUT),
	LIST(raw_plan, doses, plan_doses_value, LEFT_OUT),
	LIST(raw_plan, changes, change_value, LEFT_OUT),
	LIST(raw_plan, called, called_value, LEFT_OUT),
	LIST(raw_plan, away, away_value, LEFT_OUT),
	LIST(raw_plan, dispensed, dispensed_value, LEFT_OUT),
	CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_plan = {CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct raw_plan, plan_fields)};

/* ---- words and templates ---- */

static const cyaml_schema_field_t message_fields[] = {
	FREE_KEY(raw_message),
	BARE_VALUE(raw_message, LEFT_OUT),
	VALUE(raw_message, zero, LEFT_OUT),
	VALUE(raw_message, one, LEFT_OUT),
	VALUE(raw_message, two, LEFT_OUT),
	VALUE(raw_message, few, LEFT_OUT),
	VALUE(raw_message, many, LEFT_OUT),
	VALUE(raw_message, other, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t message_value = ENTRY(raw_message, message_fields);

static const cyaml_schema_field_t wording_fields[] = {
	PLACE(raw_wording),
	VALUE(raw_wording, language, NEEDED),
	LIST(raw_wording, words, message_value, NEEDED),
	CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_wording = {
	CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct raw_wording, wording_fields)};

static const cyaml_schema_field_t pages_fields[] = {
	PLACE(raw_pages),
	LIST(raw_pages, order, value_value, NEEDED),
	CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_pages = {CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct raw_pages, pages_fields)};

static const cyaml_schema_field_t template_step_fields[] = {
	PLACE(raw_template_step),
	VALUE(raw_template_step, id, NEEDED),
	VALUE(raw_template_step, picture, NEEDED),
	VALUE(raw_template_step, side, NEEDED),
	LIST(raw_template_step, when, value_value, LEFT_OUT),
	VALUE(raw_template_step, warning, LEFT_OUT),
	VALUE(raw_template_step, line, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t template_step_value = ENTRY(raw_template_step, template_step_fields);

static const cyaml_schema_field_t technique_fields[] = {
	PLACE(raw_technique),
	VALUE(raw_technique, technique, NEEDED),
	LIST(raw_technique, lay_out, value_value, LEFT_OUT),
	LIST(raw_technique, steps, template_step_value, LEFT_OUT),
	CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_technique = {
	CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct raw_technique, technique_fields)};

/* ---- maps of intakes ---- */

static const cyaml_schema_field_t column_fields[] = {
	FREE_KEY(raw_column),
	BARE_VALUE(raw_column, LEFT_OUT),
	VALUE(raw_column, field, NEEDED),
	VALUE(raw_column, unit, LEFT_OUT),
	VALUE(raw_column, codes, LEFT_OUT),
	VALUE(raw_column, separator, BLANK),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t column_value = ENTRY(raw_column, column_fields);

static const cyaml_schema_field_t codes_fields[] = {
	FREE_KEY(raw_codes),
	FREE_MAP(raw_codes, words, word_value),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t codes_value = ENTRY(raw_codes, codes_fields);

static const cyaml_schema_field_t map_fields[] = {
	PLACE(raw_map),
	VALUE(raw_map, intake, NEEDED),
	VALUE(raw_map, rows, NEEDED),
	VALUE(raw_map, delimiter, LEFT_OUT),
	VALUE(raw_map, encoding, LEFT_OUT),
	VALUE(raw_map, decimal, LEFT_OUT),
	VALUE(raw_map, dates, LEFT_OUT),
	VALUE(raw_map, procedure_time, LEFT_OUT),
	VALUE(raw_map, record_width, LEFT_OUT),
	LIST(raw_map, columns, column_value, NEEDED),
	LIST(raw_map, ignore, value_value, LEFT_OUT),
	LIST(raw_map, codes, codes_value, LEFT_OUT),
	LIST(raw_map, constants, word_value, LEFT_OUT),
	CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_map = {CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct raw_map, map_fields)};

static const cyaml_schema_field_t fhir_medication_fields[] = {
	FREE_KEY(raw_fhir_code),
	BARE_VALUE(raw_fhir_code, LEFT_OUT),
	VALUE(raw_fhir_code, item, LEFT_OUT),
	VALUE(raw_fhir_code, medicine, NEEDED),
	MAP(raw_fhir_code, limits, raw_limits, limits_fields, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t fhir_medication_value = ENTRY(raw_fhir_code, fhir_medication_fields);

static const cyaml_schema_field_t fhir_event_fields[] = {
	FREE_KEY(raw_fhir_code),
	BARE_VALUE(raw_fhir_code, LEFT_OUT),
	VALUE(raw_fhir_code, event, NEEDED),
	VALUE(raw_fhir_code, time_is, LEFT_OUT),
	MAP(raw_fhir_code, label, raw_text, text_fields, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_value_t fhir_event_value = ENTRY(raw_fhir_code, fhir_event_fields);

static const cyaml_schema_field_t own_course_fields[] = {
	PLACE(raw_own_course),
	MAP(raw_own_course, title, raw_text, text_fields, NEEDED),
	VALUE(raw_own_course, horizon, LEFT_OUT),
	CYAML_FIELD_END,
};

static const cyaml_schema_field_t fhir_map_fields[] = {
	PLACE(raw_fhir_map),
	VALUE(raw_fhir_map, intake, NEEDED),
	VALUE(raw_fhir_map, record, NEEDED),
	VALUE(raw_fhir_map, record_width, LEFT_OUT),
	LIST(raw_fhir_map, medications, fhir_medication_value, NEEDED),
	LIST(raw_fhir_map, events, fhir_event_value, LEFT_OUT),
	LIST(raw_fhir_map, protocols, word_value, LEFT_OUT),
	LIST(raw_fhir_map, languages, word_value, LEFT_OUT),
	LIST(raw_fhir_map, allergies, word_value, LEFT_OUT),
	LIST(raw_fhir_map, routes, word_value, LEFT_OUT),
	LIST(raw_fhir_map, ignore, value_value, LEFT_OUT),
	MAP(raw_fhir_map, own_course, raw_own_course, own_course_fields, LEFT_OUT),
	LIST(raw_fhir_map, constants, word_value, LEFT_OUT),
	CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_fhir_map = {
	CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct raw_fhir_map, fhir_map_fields)};

bool schema_needed(const cyaml_schema_value_t *value)
{
	return (value->flags & CYAML_FLAG_STRICT) != 0;
}

bool schema_may_be_blank(const cyaml_schema_value_t *value)
{
	return (value->flags & CYAML_FLAG_CASE_INSENSITIVE) != 0;
}

const cyaml_schema_field_t *schema_field(const cyaml_schema_value_t *mapping, const char *key)
{
	for (const cyaml_schema_field_t *field = mapping->mapping.fields; field->key; field++)
		if (strcmp(field->key, key) == 0)
			return field;
	return NULL;
}

bool schema_is_keyed(const cyaml_schema_value_t *entry)
{
	return entry->type == CYAML_MAPPING && schema_field(entry, "=key") != NULL;
}
