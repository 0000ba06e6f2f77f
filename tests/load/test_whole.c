/*
 * A clinic and a plan with every key that the files may have (tests/load/whole): each value is read as it was written.
 */
#include "load/folder.h"

#include "support/cases.h"

#include <string.h>

struct whole {
	struct test_case *one;
	const struct clinic *clinic;
	const struct plan *plan;
};

static const char *lines_of(struct arena *arena, const struct findings *findings)
{
	const char *lines = "";
	for (size_t i = 0; i < findings->n; i++)
		lines = arena_printf(arena, "%s%s\n", lines, finding_print(arena, &findings->list[i]));
	return lines;
}

static struct whole load_whole(void **state)
{
	struct whole whole = {.one = case_of(state)};
	struct arena *arena = whole.one->arena;
	struct findings findings = findings_in(arena);
	enum load_status status;
	whole.clinic = load_clinic(arena, "tests/load/whole/clinic", ".", &findings, &status);
	assert_string_equal(lines_of(arena, &findings), "");
	assert_non_null(whole.clinic);
	whole.plan = load_plan(arena, whole.clinic, "tests/load/whole/mara.yaml", &findings, &status);
	assert_string_equal(lines_of(arena, &findings), "");
	assert_non_null(whole.plan);
	assert_int_equal(status, LOAD_GOOD);
	return whole;
}

/* ---- how values are compared: as text ---- */

static const char *amount(const struct whole *whole, struct stated_quantity stated)
{
	return stated.given ? quantity_plain(whole->one->arena, stated.quantity, DECIMAL_POINT) : "not given";
}

static const char *number(const struct whole *whole, struct rational value)
{
	return number_print(whole->one->arena, value, DECIMAL_POINT);
}

static const char *date(const struct whole *whole, struct stated_date stated)
{
	return stated.given ? date_print(whole->one->arena, stated.date) : "not given";
}

static const char *english(struct text text)
{
	const char *words = text_in(text, "en");
	return words ? words : "none";
}

static const char *times(const struct whole *whole, const struct at *at, size_t n)
{
	const char *text = "";
	for (size_t i = 0; i < n; i++)
		text = arena_printf(whole->one->arena, "%s%s%s%s%s", text, i ? ", " : "",
		                    at[i].slot ? at[i].slot->id : "", at[i].slot ? " " : "",
		                    clock_print(whole->one->arena, at[i].time));
	return text;
}

static const char *words(const struct whole *whole, const char *const *list, size_t n)
{
	const char *text = "";
	for (size_t i = 0; i < n; i++)
		text = arena_printf(whole->one->arena, "%s%s%s", text, i ? ", " : "", list[i]);
	return text;
}

static const char *where(const struct whole *whole, struct place place)
{
	const char *name = strrchr(place.file->name, '/') + 1;
	return arena_printf(whole->one->arena, "%s:%d:%d", name, place.line, place.column);
}

#define SAME(left, right) assert_string_equal(left, right)

/* ---- the clinic ---- */

static void clinic_is_read(void **state)
{
	struct whole whole = load_whole(state);
	const struct clinic *clinic = whole.clinic;
	SAME(clinic->folder, "tests/load/whole/clinic");
	SAME(english(clinic->name), "Lindenquay Clinic");
	SAME(text_in(clinic->name, "es"), "Cl\u00ednica Lindenquay");
	assert_null(text_in(clinic->name, "fr"));
	SAME(words(&whole, clinic->address, clinic->n_address), "Lindenquay 9, second floor");
	assert_int_equal(clinic->n_address, 2);
	SAME(clinic->country, "GB");
	assert_int_equal(clinic->mark, DECIMAL_POINT);
	assert_int_equal(clinic->paper, PAPER_A4);
	SAME(clinic->zone->name, "Europe/London");
	SAME(words(&whole, clinic->languages, clinic->n_languages), "en, es");
	SAME(clock_print(whole.one->arena, clinic->day_begins), "04:00");
	assert_int_equal(clinic->n_slots, 4);
	SAME(clinic->slots[0].id, "morning");
	SAME(clinic->slots[3].id, "bedtime");
	SAME(clock_print(whole.one->arena, clinic->slots[1].time), "13:00");
	assert_int_equal(clinic->n_phones, 2);
	SAME(clinic->phones[1].id, "night");
	SAME(english(clinic->phones[1].label), "By night");
	SAME(clinic->phones[1].number, "000 555 0199");
	SAME(clinic->phones[1].hours, "17:00-07:30");
	SAME(where(&whole, clinic->phones[1].place), "clinic.yaml:11:5");
	SAME(english(clinic->emergency), "Call the emergency number.");
	SAME(english(clinic->disclaimer), "The clinic comes first.");
	assert_int_equal(clinic->n_stock, 2);
	assert_ptr_equal(clinic->stock[0], clinic_syringe(clinic, "syringe-1"));
	assert_ptr_equal(clinic->stock[1], clinic_syringe(clinic, "3mL"));
	assert_int_equal(clinic->rotation, ROTATION_QUARTERS);
	assert_non_null(clinic_words(clinic, "en"));
	assert_non_null(wording_find(clinic_words(clinic, "en"), "page.of"));
	assert_false(clinic_words(clinic, "en")->clinic_over);
	assert_non_null(templates_technique(clinic->templates, "powder-vial"));
}

static void syringes_are_read(void **state)
{
	struct whole whole = load_whole(state);
	const struct syringe *plain = clinic_syringe(whole.clinic, "syringe-1");
	SAME(english(plain->name), "1 mL syringe");
	SAME(number(&whole, plain->capacity), "1");
	SAME(number(&whole, plain->graduated), "1.1");
	SAME(number(&whole, plain->step), "0.01");
	SAME(number(&whole, plain->numbered_every), "0.1");
	assert_int_equal(plain->n_numerals, 12);
	SAME(plain->numerals[10], "1.0");
	assert_false(plain->unit_scale);
	SAME(number(&whole, plain->units_per_ml), "1");
	SAME(number(&whole, plain->scale_length), "57.5");
	SAME(number(&whole, plain->barrel), "6.5");
	assert_false(plain->fixed_needle);
	assert_true(plain->measured);
	assert_false(plain->built_in);
	SAME(where(&whole, plain->place), "syringes.yaml:2:5");

	const struct syringe *units = clinic_syringe(whole.clinic, "insulin-50");
	SAME(number(&whole, units->capacity), "0.5");
	SAME(number(&whole, units->graduated), "0.5");
	SAME(number(&whole, units->step), "0.005");
	SAME(number(&whole, units->numbered_every), "0.05");
	assert_null(units->numerals);
	assert_true(units->unit_scale);
	SAME(number(&whole, units->units_per_ml), "100");
	SAME(english(units->scale_name), "insulin syringe");
	SAME(number(&whole, units->scale_length), "43");
	assert_true(units->fixed_needle);
	assert_false(units->measured);
}

/* ---- the formulary ---- */

static void medicine_is_read(void **state)
{
	struct whole whole = load_whole(state);
	assert_int_equal(whole.clinic->n_medicines, 6);
	const struct medicine *medicine = clinic_medicine(whole.clinic, "examplin");
	SAME(medicine->name, "examplin");
	SAME(english(medicine->purpose), "keeps the eggs from leaving too early");
	assert_int_equal(medicine->route, ROUTE_SUBCUTANEOUS);
	SAME(words(&whole, medicine->sites, medicine->n_sites), "abdomen, thigh");
	SAME(amount(&whole, medicine->limits.least), "125 mcg");
	SAME(amount(&whole, medicine->limits.most), "250 mcg");
	SAME(amount(&whole, medicine->limits.day_most), "250 mcg");
	SAME(amount(&whole, medicine->limits.gap_least), "6 h");
	SAME(amount(&whole, medicine->limits.gap_most), "30 h");
	SAME(amount(&whole, medicine->limits.site_most), "1.5 mL");
	SAME(where(&whole, medicine->limits.most.place), "formulary.yaml:7:36");
	SAME(english(medicine->missed), "Call the day line. Do not take two doses together.");
	assert_int_equal(medicine->n_cautions, 2);
	SAME(english(medicine->cautions[1]), "Keep it dark.");
	assert_true(medicine->rounding.given);
	SAME(number(&whole, medicine->rounding.most), "0.02");
	SAME(where(&whole, medicine->place), "formulary.yaml:2:5");

	const struct medicine *bare = clinic_medicine(whole.clinic, "triggrel");
	assert_int_equal(bare->route, ROUTE_INTRAMUSCULAR);
	SAME(amount(&whole, bare->limits.most), "not given");
	SAME(where(&whole, bare->limits.most.place), "formulary.yaml:65:5");
	assert_int_equal(bare->missed.n, 0);
	assert_false(bare->rounding.given);
	assert_int_equal(clinic_medicine(whole.clinic, "sticklet")->route, ROUTE_TRANSDERMAL);
	assert_int_equal(clinic_medicine(whole.clinic, "sniffle")->route, ROUTE_NASAL);
	assert_int_equal(clinic_medicine(whole.clinic, "halvit")->route, ROUTE_ORAL);
}

static void product_is_read(void **state)
{
	struct whole whole = load_whole(state);
	const struct medicine *medicine = NULL;
	const struct product *kit = clinic_product(whole.clinic, "examplin-kit", &medicine);
	SAME(medicine->id, "examplin");
	assert_int_equal(kit->container, CONTAINER_POWDER_VIAL);
	SAME(amount(&whole, kit->strength), "250 mcg");
	assert_false(kit->per_ml.given);
	SAME(amount(&whole, kit->volume), "not given");
	SAME(amount(&whole, kit->concentration), "250 mcg");
	SAME(kit->box_says.text, "0.25 mg");
	SAME(amount(&whole, kit->also_labelled), "1,250 units");
	assert_true(kit->diluent.given);
	SAME(english(kit->diluent.name), "water for injections");
	SAME(amount(&whole, kit->diluent.supplied), "1 mL");
	SAME(amount(&whole, kit->diluent.use), "0.9 mL");
	assert_int_equal(kit->diluent.comes_as, LIQUID_SYRINGE);
	SAME(amount(&whole, kit->displacement), "0.1 mL");
	assert_int_equal(kit->powders_per_diluent, 3);
	assert_int_equal(kit->mix, MIX_ROLL);
	assert_int_equal(kit->draw_with, DRAW_WITH_LIQUID_SYRINGE);
	assert_true(kit->whole_to_mark);
	assert_int_equal(kit->part, PART_NOT_STATED);
	assert_true(kit->share.given);
	SAME(kit->share.policy, "P-12");
	SAME(amount(&whole, kit->share.keep), "24 h");
	SAME(kit->share.where, "fridge");
	assert_int_equal(kit->share.how, SHARE_TWO_SYRINGES);
	SAME(amount(&whole, kit->in_use), "28 days");
	assert_false(kit->dial.given);
	assert_true(kit->span);
	SAME(amount(&whole, kit->loss), "0.02 mL");
	SAME(words(&whole, kit->contains, kit->n_contains), "latex");
	assert_int_equal(kit->n_comes_with, 4);
	assert_int_equal(kit->comes_with[0].kind, BOX_NEEDLE);
	SAME(kit->comes_with[0].needle, "mixing");
	assert_int_equal(kit->comes_with[0].count, 1);
	assert_int_equal(kit->comes_with[2].kind, BOX_SYRINGE);
	SAME(kit->comes_with[2].syringe->id, "syringe-1");
	assert_int_equal(kit->comes_with[3].kind, BOX_SWAB);
	assert_int_equal(kit->comes_with[3].count, 2);
	assert_int_equal(kit->mixing_needle.gauge.number, 20);
	SAME(amount(&whole, kit->mixing_needle.length), "40 mm");
	assert_int_equal(kit->giving_needle.gauge.number, 27);
	SAME(amount(&whole, kit->giving_needle.length), "0.5 in");
	assert_true(kit->filter_needle);
	SAME(kit->syringe->id, "syringe-1");
	assert_int_equal(kit->bubble, BUBBLE_KEEP);
	SAME(amount(&whole, kit->warm_up), "30 min");
	SAME(english(kit->storage), "In the fridge.");
	SAME(kit->technique, "own-way");
	SAME(words(&whole, kit->stands_in_for, kit->n_stands_in_for), "other-product");
	assert_int_equal(kit->air, AIR_EQUAL);
	assert_true(kit->swap_surplus);
	SAME(amount(&whole, kit->hold), "10 s");
	assert_true(kit->aspirate);
	assert_true(kit->skin_pull);
	assert_true(kit->rub);
	SAME(amount(&whole, kit->start_line), "0.5 mL");
	assert_true(kit->cap);
}

static void other_products_are_read(void **state)
{
	struct whole whole = load_whole(state);
	const struct product *ampoule = clinic_product(whole.clinic, "other-product", NULL);
	assert_int_equal(ampoule->container, CONTAINER_AMPOULE);
	assert_false(ampoule->strength.given);
	SAME(amount(&whole, ampoule->per_ml), "10 mg");
	SAME(amount(&whole, ampoule->volume), "2 mL");
	SAME(ampoule->technique, "ampoule");
	assert_int_equal(ampoule->powders_per_diluent, 1);
	assert_int_equal(ampoule->draw_with, DRAW_WITH_OWN);
	assert_false(ampoule->whole_to_mark || ampoule->span || ampoule->rub || ampoule->cap || ampoule->halves);
	assert_false(ampoule->aspirate || ampoule->skin_pull || ampoule->swap_surplus || ampoule->filter_needle);
	assert_int_equal(ampoule->bubble, BUBBLE_EXPEL);
	assert_int_equal(ampoule->air, AIR_NONE);
	assert_int_equal(ampoule->test, PEN_TEST_NONE);
	assert_int_equal(ampoule->pen_end, PEN_END_NOT_STATED);
	assert_null(ampoule->syringe);
	assert_null(ampoule->box_says.text);
	assert_false(ampoule->diluent.given || ampoule->share.given || ampoule->mixing_needle.given);

	const struct product *pen = clinic_product(whole.clinic, "folliplan-pen-900", NULL);
	SAME(amount(&whole, pen->dial.step), "12.5 units");
	SAME(amount(&whole, pen->dial.least), "12.5 units");
	SAME(amount(&whole, pen->dial.most), "450 units");
	SAME(amount(&whole, pen->dial.priming), "0 units");
	assert_int_equal(pen->test, PEN_TEST_EACH);
	assert_int_equal(pen->pen_end, PEN_END_SHOWS_REST);
	pen = clinic_product(whole.clinic, "folliplan-pen-300", NULL);
	SAME(amount(&whole, pen->dial.priming), "not given");
	assert_int_equal(pen->test, PEN_TEST_FIRST);
	assert_int_equal(pen->pen_end, PEN_END_STOPS);
	assert_int_equal(clinic_product(whole.clinic, "triggrel-filled", NULL)->part, PART_INJECT_TO);
	SAME(amount(&whole, clinic_product(whole.clinic, "triggrel-filled", NULL)->strength), "10,000 units");
	assert_true(clinic_product(whole.clinic, "triggrel-filled", NULL)->syringe->built_in);
	SAME(amount(&whole, clinic_product(whole.clinic, "sticklet-patch", NULL)->wear), "3 days");
	SAME(text_in(clinic_product(whole.clinic, "sniffle-spray", NULL)->prime, "en"), "five times into the air");
	SAME(amount(&whole, clinic_product(whole.clinic, "sniffle-spray", NULL)->spray_gap), "30 s");
	assert_true(clinic_product(whole.clinic, "halvit-tablets", NULL)->halves);
}

/* ---- the protocol ---- */

static void events_are_read(void **state)
{
	struct whole whole = load_whole(state);
	const struct protocol *protocol = clinic_protocol(whole.clinic, "antagonist-half-first");
	SAME(english(protocol->title), "Short course, half dose first");
	SAME(amount(&whole, protocol->horizon), "14 days");
	assert_int_equal(protocol->n_events, 3);
	const struct event *retrieval = protocol_event(protocol, "retrieval");
	SAME(english(retrieval->label), "Procedure");
	assert_true(retrieval->own_day.given);
	assert_int_equal(retrieval->own_day.number, 0);
	assert_true(retrieval->exact && retrieval->is_arrival);
	SAME(amount(&whole, retrieval->arrive_before), "90 min");
	assert_null(retrieval->check_before);
	const struct event *trigger = protocol_event(protocol, "trigger");
	assert_int_equal(trigger->own_day.number, 1);
	assert_false(trigger->is_arrival);
	SAME(trigger->check_before, "retrieval");
	SAME(amount(&whole, trigger->check_by), "36 h");
	SAME(amount(&whole, trigger->check_give_or_take), "1 h");
	assert_false(protocol_event(protocol, "stimulation")->exact);
	SAME(where(&whole, trigger->place), "antagonist-half-first.yaml:7:5");

	assert_int_equal(protocol->n_visits, 3);
	SAME(protocol->visits[1].event, "stimulation");
	assert_int_equal(protocol->visits[1].day.number, 8);
	SAME(times(&whole, protocol->visits[1].at, 1), "09:15");
	SAME(english(protocol->visits[1].label), "Scan and blood test");
	assert_null(protocol->visits[0].at);
	assert_false(protocol->visits[2].day.given);
}

static void items_are_read(void **state)
{
	struct whole whole = load_whole(state);
	const struct protocol *protocol = clinic_protocol(whole.clinic, "antagonist-half-first");
	assert_int_equal(protocol->n_items, 6);
	const struct item *growth = protocol_item(protocol, "growth");
	SAME(growth->medicine->id, "folliplan");
	SAME(times(&whole, growth->at, growth->n_at), "evening 20:00");
	SAME(amount(&whole, growth->window), "1 h");
	assert_int_equal(growth->start.kind, TRIGGER_EVENT);
	SAME(growth->start.event, "stimulation");
	assert_int_equal(growth->start.day.number, 1);
	SAME(growth->end.event, "trigger");
	assert_true(growth->end.day.given);
	assert_int_equal(growth->end.day.number, 0);
	assert_int_equal(growth->n_doses, 3);
	assert_int_equal(growth->doses[0].amount, DOSE_FROM_PLAN);
	assert_int_equal(growth->doses[0].from.number, 1);
	assert_int_equal(growth->doses[1].amount, DOSE_STATED);
	SAME(amount(&whole, growth->doses[1].dose), "150 units");
	SAME(times(&whole, growth->doses[1].at, growth->doses[1].n_at), "morning 08:00, 21:30");
	SAME(amount(&whole, growth->doses[1].every), "2 days");
	SAME(where(&whole, growth->doses[1].dose.place), "antagonist-half-first.yaml:17:25");
	assert_int_equal(growth->doses[2].amount, DOSE_BY_CALL);
	assert_false(growth->doses[2].from.given);
	SAME(growth->doses[2].from_event, "retrieval");
	assert_int_equal(growth->doses[2].from_day.number, -2);
	SAME(english(growth->doses[2].call), "the amount we tell you");
	assert_int_equal(growth->doses[2].n_may_become, 3);
	SAME(amount(&whole, growth->doses[2].may_become[1]), "187.5 units");
	SAME(amount(&whole, growth->limits.most), "300 units");
	SAME(amount(&whole, growth->limits.least), "not given");
	SAME(amount(&whole, growth->horizon), "3 weeks");
	assert_int_equal(growth->n_products, 1);
	SAME(growth->products[0]->id, "folliplan-pen-300");
	assert_false(growth->gap_to.given || growth->as_needed.given || growth->every.given);

	const struct item *spray = protocol_item(protocol, "spray");
	SAME(amount(&whole, spray->every), "2 days");
	assert_int_equal(spray->start.kind, TRIGGER_ON);
	SAME(date(&whole, spray->start.on), "2026-12-05");
	assert_int_equal(spray->end.kind, TRIGGER_DAYS);
	assert_int_equal(spray->end.count.number, 4);
	SAME(amount(&whole, spray->doses[0].dose), "2 sprays");
	const struct item *pain = protocol_item(protocol, "pain");
	assert_true(pain->as_needed.given);
	assert_int_equal(pain->as_needed.most, 2);
	assert_int_equal(pain->end.kind, TRIGGER_NONE);
	assert_null(pain->at);
	SAME(amount(&whole, pain->doses[0].dose), "0.5 tablets");
}

static void triggers_are_read(void **state)
{
	struct whole whole = load_whole(state);
	const struct protocol *protocol = clinic_protocol(whole.clinic, "antagonist-half-first");
	const struct item *blocker = protocol_item(protocol, "blocker");
	assert_int_equal(blocker->start.kind, TRIGGER_FIRST_OF);
	assert_int_equal(blocker->start.n_of, 2);
	assert_int_equal(blocker->start.of[0].kind, TRIGGER_EVENT);
	assert_int_equal(blocker->start.of[0].day.number, 6);
	assert_int_equal(blocker->start.of[1].kind, TRIGGER_CALL);
	SAME(english(blocker->start.of[1].call), "when the leading follicle measures 14 mm");
	SAME(english(blocker->start.of[1].expected), "about day 6");
	assert_true(blocker->doses[0].split);
	assert_false(blocker->doses[1].split);
	SAME(blocker->gap_to.event, "trigger");
	SAME(amount(&whole, blocker->gap_to.most), "30 h");
	SAME(amount(&whole, blocker->gap_to.least), "2 h");

	const struct item *finish = protocol_item(protocol, "finish");
	assert_int_equal(finish->start.kind, TRIGGER_EVENT);
	assert_false(finish->start.day.given);
	assert_int_equal(finish->end.kind, TRIGGER_DOSES);
	assert_int_equal(finish->end.count.number, 1);
	SAME(amount(&whole, finish->doses[0].dose), "10,000 units");

	const struct item *patch = protocol_item(protocol, "patch");
	assert_int_equal(patch->weekdays, 1u << MONDAY | 1u << THURSDAY);
	assert_int_equal(patch->start.kind, TRIGGER_LAST_OF);
	assert_int_equal(patch->start.n_of, 3);
	SAME(patch->start.of[0].event, "finish.last");
	SAME(amount(&whole, patch->start.of[0].plus), "36 h");
	SAME(amount(&whole, patch->start.of[1].minus), "2 days");
	SAME(date(&whole, patch->start.of[2].on), "2026-12-20");
	assert_int_equal(patch->end.kind, TRIGGER_FIRST_OF);
	assert_int_equal(patch->end.of[0].kind, TRIGGER_DAYS);
	assert_int_equal(patch->end.of[1].kind, TRIGGER_CALL);
}

/* ---- the plan ---- */

static void plan_is_read(void **state)
{
	struct whole whole = load_whole(state);
	const struct plan *plan = whole.plan;
	SAME(plan->id, "mara");
	assert_ptr_equal(plan->clinic, whole.clinic);
	SAME(plan->patient.name.text, "Mara Quillfeather");
	SAME(date(&whole, plan->patient.born), "1990-05-17");
	SAME(plan->patient.record.text, "LQ-1");
	assert_true(plan->patient.allergies_given);
	assert_int_equal(plan->patient.n_allergies, 2);
	SAME(plan->patient.allergies[1].text, "soy");
	SAME(plan->language, "en");
	assert_int_equal(plan->paper, PAPER_LETTER);
	assert_true(plan->large_print);
	SAME(plan->protocol->id, "antagonist-half-first");
	SAME(date(&whole, plan->as_of), "2026-12-03");
	assert_int_equal(plan->version, 2);
	assert_true(plan->replaces.given);
	SAME(plan->replaces.file.text, "mara-v1.yaml");
	SAME(english(plan->replaces.because), "dose changed after the scan");
	SAME(date(&whole, plan->good_until), "2026-12-08");
	SAME(plan->zone->name, "Europe/Dublin");
	assert_int_equal(plan->n_events, 3);
	const struct event_date *trigger = plan_event_date(plan, protocol_event(plan->protocol, "trigger"));
	SAME(date_print(whole.one->arena, trigger->date), "2026-12-14");
	assert_true(trigger->has_time);
	SAME(clock_print(whole.one->arena, trigger->time), "21:30");
	assert_false(plan_event_date(plan, protocol_event(plan->protocol, "stimulation"))->has_time);
	const struct plan_doses *own = plan_doses_of(plan, protocol_item(plan->protocol, "growth"));
	assert_int_equal(own->n_doses, 2);
	SAME(amount(&whole, own->doses[1].dose), "200 units");
	assert_int_equal(own->doses[1].from.number, 4);
	assert_null(plan_doses_of(plan, protocol_item(plan->protocol, "blocker")));
	assert_int_equal(strlen(plan->seal), 64);
}

static void changes_are_read(void **state)
{
	struct whole whole = load_whole(state);
	const struct plan *plan = whole.plan;
	assert_int_equal(plan->n_changes, 5);
	const struct change *change = plan->changes;
	assert_int_equal(change[0].kind, CHANGE_DOSE);
	SAME(change[0].item->id, "growth");
	SAME(date(&whole, change[0].from), "2026-12-09");
	SAME(date(&whole, change[0].until), "not given");
	SAME(amount(&whole, change[0].dose), "187.5 units");
	SAME(english(change[0].because), "after the scan");
	assert_int_equal(change[1].kind, CHANGE_STOP);
	assert_int_equal(change[2].kind, CHANGE_SKIP);
	SAME(date(&whole, change[2].until), "2026-12-06");
	assert_int_equal(change[3].kind, CHANGE_AT);
	SAME(times(&whole, change[3].at, change[3].n_at), "bedtime 22:00");
	assert_int_equal(change[4].kind, CHANGE_PRODUCT);
	SAME(change[4].product->id, "folliplan-pen-900");
	assert_int_equal(plan->n_called, 1);
	SAME(plan->called[0].item->id, "blocker");
	SAME(date(&whole, plan->called[0].on), "2026-12-08");
	assert_int_equal(plan->n_away, 2);
	SAME(date(&whole, plan->away[0].to), "2026-12-12");
	SAME(plan->away[0].zone->name, "Europe/Lisbon");
	assert_int_equal(plan->away[0].keep, AWAY_KEEP_CLOCK);
	assert_ptr_equal(plan->away[1].zone, whole.clinic->zone);
	assert_int_equal(plan->away[1].keep, AWAY_KEEP_HOURS);
	assert_int_equal(plan->n_dispensed, 2);
	SAME(plan->dispensed[0].product->id, "folliplan-pen-900");
	assert_int_equal(plan->dispensed[0].count.number, 2);
	SAME(date(&whole, plan->dispensed[0].expires), "2027-03-31");
	SAME(date(&whole, plan->dispensed[0].opened), "not given");
	SAME(date(&whole, plan->dispensed[1].expires), "2027-04-30");
	SAME(date(&whole, plan->dispensed[1].opened), "2026-12-01");
	SAME(amount(&whole, plan->dispensed[1].left), "75 units");
	SAME(where(&whole, plan->dispensed[1].left.place), "mara.yaml:25:91");
}

/* ---- what the program brings itself ---- */

static void built_in_syringes_are_those_of_the_market(void **state)
{
	static const struct {
		const char *id, *capacity, *step, *numbered_every, *units;
	} expected[] = {
		{"1mL", "1", "0.01", "0.1", "1"},
		{"2mL", "2", "0.1", "0.5", "1"},
		{"3mL", "3", "0.1", "0.5", "1"},
		{"5mL", "5", "0.2", "1", "1"},
		{"10mL", "10", "0.2", "1", "1"},
		{"20mL", "20", "1", "5", "1"},
		{"u100-0.3mL", "0.3", "0.01", "0.05", "100"},
		{"u100-0.3mL-half", "0.3", "0.005", "0.05", "100"},
		{"u100-0.5mL", "0.5", "0.01", "0.05", "100"},
		{"u100-1mL", "1", "0.02", "0.1", "100"},
		{"u100-1mL-fine", "1", "0.01", "0.1", "100"},
		{"u500-0.5mL", "0.5", "0.01", "0.05", "500"},
		{"u40-1mL", "1", "0.025", "0.25", "40"},
	};
	struct whole whole = load_whole(state);
	size_t n = 0;
	for (size_t i = 0; i < whole.clinic->n_syringes; i++)
		n += whole.clinic->syringes[i].built_in;
	assert_int_equal(n, sizeof expected / sizeof *expected);
	for (size_t i = 0; i < n; i++) {
		const struct syringe *syringe = clinic_syringe(whole.clinic, expected[i].id);
		assert_non_null(syringe);
		assert_true(syringe->built_in);
		assert_false(syringe->measured);
		assert_int_equal(syringe->fixed_needle, syringe->unit_scale);
		SAME(number(&whole, syringe->capacity), expected[i].capacity);
		SAME(number(&whole, syringe->step), expected[i].step);
		SAME(number(&whole, syringe->numbered_every), expected[i].numbered_every);
		SAME(number(&whole, syringe->units_per_ml), expected[i].units);
	}
}

int main(void)
{
	struct tests tests = {0};
	tests_add(&tests, "the clinic", clinic_is_read, NULL);
	tests_add(&tests, "syringes", syringes_are_read, NULL);
	tests_add(&tests, "a medicine", medicine_is_read, NULL);
	tests_add(&tests, "a product", product_is_read, NULL);
	tests_add(&tests, "other products", other_products_are_read, NULL);
	tests_add(&tests, "events and visits", events_are_read, NULL);
	tests_add(&tests, "items", items_are_read, NULL);
	tests_add(&tests, "triggers", triggers_are_read, NULL);
	tests_add(&tests, "a plan", plan_is_read, NULL);
	tests_add(&tests, "changes, journeys, boxes", changes_are_read, NULL);
	tests_add(&tests, "built-in syringes", built_in_syringes_are_those_of_the_market, NULL);
	return tests_run(&tests, "a whole folder");
}
