#include "load/seal.h"

#include "load/choices.h"

#include <glib.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/*
 * The canonical text has a line for each fact, "key=value", and groups between
 * "key{" and "}". A change here breaks every seal that clinics have: count up
 * the first line then.
 */
#define FIRST_LINE "fillmark seal 1\n"

struct writer {
	struct arena *arena;
	GString *lines;
};

static struct writer writer_new(struct arena *arena, const char *kind)
{
	struct writer writer = {arena, g_string_new(FIRST_LINE)};
	g_string_append_printf(writer.lines, "%s\n", kind);
	return writer;
}

static const char *writer_end(struct writer *writer)
{
	gchar *digest =
		g_compute_checksum_for_data(G_CHECKSUM_SHA256, (const guchar *)writer->lines->str, writer->lines->len);
	const char *seal = arena_strdup(writer->arena, digest);
	g_free(digest);
	g_string_free(writer->lines, TRUE);
	return seal;
}

/* --- Facts --- */

/* A line break in a value would begin a new fact. */
static void put(struct writer *writer, const char *key, const char *value)
{
	if (!value)
		return;
	g_string_append_printf(writer->lines, "%s=", key);
	for (; *value; value++) {
		if (*value == '\n')
			g_string_append(writer->lines, "\\n");
		else if (*value == '\\')
			g_string_append(writer->lines, "\\\\");
		else
			g_string_append_c(writer->lines, *value);
	}
	g_string_append_c(writer->lines, '\n');
}

static void begin(struct writer *writer, const char *key)
{
	g_string_append_printf(writer->lines, "%s{\n", key);
}

static void end(struct writer *writer)
{
	g_string_append(writer->lines, "}\n");
}

static void put_number(struct writer *writer, const char *key, int64_t number)
{
	put(writer, key, arena_printf(writer->arena, "%" PRId64, number));
}

static void put_stated_number(struct writer *writer, const char *key, struct stated_number stated)
{
	if (stated.given)
		put_number(writer, key, stated.number);
}

static void put_rational(struct writer *writer, const char *key, struct rational number)
{
	put(writer, key, arena_printf(writer->arena, "%" PRId64 "/%" PRId64, number.numerator, number.denominator));
}

static void put_amount(struct writer *writer, const char *key, struct stated_quantity stated)
{
	if (!stated.given)
		return;
	struct rational number = stated.quantity.number;
	put(writer, key,
	    arena_printf(writer->arena, "%" PRId64 "/%" PRId64 " %s", number.numerator, number.denominator,
	                 unit_name(stated.quantity.unit, false)));
}

static void put_date(struct writer *writer, const char *key, struct stated_date stated)
{
	if (stated.given)
		put(writer, key, date_print(writer->arena, stated.date));
}

/* What is off says what leaving it out says. */
static void put_flag(struct writer *writer, const char *key, bool yes)
{
	if (yes)
		put(writer, key, "yes");
}

static void put_strings(struct writer *writer, const char *key, const char *const *list, size_t n)
{
	for (size_t i = 0; i < n; i++)
		put(writer, key, list[i]);
}

static int compare_languages(const void *left, const void *right)
{
	const struct translation *a = left;
	const struct translation *b = right;
	return strcmp(a->language, b->language);
}

static void put_text(struct writer *writer, const char *key, struct text text)
{
	if (text.n == 0)
		return;
	struct translation *sorted = arena_alloc(writer->arena, text.n * sizeof *sorted);
	memcpy(sorted, text.in, text.n * sizeof *sorted);
	qsort(sorted, text.n, sizeof *sorted, compare_languages);
	begin(writer, key);
	for (size_t i = 0; i < text.n; i++)
		put(writer, sorted[i].language, sorted[i].text);
	end(writer);
}

/* --- The clinic itself --- */

static int compare_slot_ids(const void *left, const void *right)
{
	const struct slot *a = left;
	const struct slot *b = right;
	return strcmp(a->id, b->id);
}

/* Slots are a map in the file; what two of one hour are called says nothing of which comes first. */
static void put_slots(struct writer *writer, const struct clinic *clinic)
{
	struct slot *sorted = arena_alloc(writer->arena, (clinic->n_slots + 1) * sizeof *sorted);
	for (size_t i = 0; i < clinic->n_slots; i++)
		sorted[i] = clinic->slots[i];
	qsort(sorted, clinic->n_slots, sizeof *sorted, compare_slot_ids);
	begin(writer, "slots");
	for (size_t i = 0; i < clinic->n_slots; i++)
		put(writer, sorted[i].id, clock_print(writer->arena, sorted[i].time));
	end(writer);
}

static void put_phone(struct writer *writer, const struct phone *phone)
{
	begin(writer, "phone");
	put(writer, "id", phone->id);
	put_text(writer, "label", phone->label);
	put(writer, "number", phone->number);
	put(writer, "hours", phone->hours);
	end(writer);
}

const char *seal_clinic(struct arena *arena, const struct clinic *clinic)
{
	struct writer writer = writer_new(arena, "clinic");
	put_text(&writer, "name", clinic->name);
	put_strings(&writer, "address", clinic->address, clinic->n_address);
	put(&writer, "country", clinic->country);
	put(&writer, "zone", clinic->zone->name);
	put_strings(&writer, "language", clinic->languages, clinic->n_languages);
	put(&writer, "day_begins", clock_print(arena, clinic->day_begins));
	put_slots(&writer, clinic);
	for (size_t i = 0; i < clinic->n_phones; i++)
		put_phone(&writer, &clinic->phones[i]);
	put_text(&writer, "emergency", clinic->emergency);
	put_text(&writer, "disclaimer", clinic->disclaimer);
	for (size_t i = 0; clinic->stock_given && i < clinic->n_stock; i++)
		put(&writer, "stock", clinic->stock[i]->id);
	put(&writer, "rotation", choice_word(choices_rotation, (int)clinic->rotation));
	return writer_end(&writer);
}

/* --- Medicines --- */

static void put_limits(struct writer *writer, const struct limits *limits)
{
	begin(writer, "limits");
	put_amount(writer, "least", limits->least);
	put_amount(writer, "most", limits->most);
	put_amount(writer, "day_most", limits->day_most);
	put_amount(writer, "gap_least", limits->gap_least);
	put_amount(writer, "gap_most", limits->gap_most);
	put_amount(writer, "site_most", limits->site_most);
	end(writer);
}

static void put_liquid(struct writer *writer, const struct liquid *liquid)
{
	if (!liquid->given)
		return;
	begin(writer, "diluent");
	put_text(writer, "name", liquid->name);
	put_amount(writer, "supplied", liquid->supplied);
	put_amount(writer, "use", liquid->use);
	put(writer, "comes_as", choice_word(choices_vessel, (int)liquid->comes_as));
	end(writer);
}

static void put_share(struct writer *writer, const struct share *share)
{
	if (!share->given)
		return;
	begin(writer, "share");
	put(writer, "policy", share->policy);
	put_amount(writer, "keep", share->keep);
	put(writer, "where", share->where);
	put(writer, "how", choice_word(choices_share_way, (int)share->how));
	end(writer);
}

static void put_dial(struct writer *writer, const struct dial *dial)
{
	if (!dial->given)
		return;
	begin(writer, "dial");
	put_amount(writer, "step", dial->step);
	put_amount(writer, "least", dial->least);
	put_amount(writer, "most", dial->most);
	put_amount(writer, "priming", dial->priming);
	end(writer);
}

static void put_needle(struct writer *writer, const char *key, const struct needle *needle)
{
	if (!needle->given)
		return;
	begin(writer, key);
	put_stated_number(writer, "gauge", needle->gauge);
	put_amount(writer, "length", needle->length);
	end(writer);
}

static void put_box(struct writer *writer, const struct product *product)
{
	for (size_t i = 0; i < product->n_comes_with; i++) {
		const struct in_box *box = &product->comes_with[i];
		begin(writer, "comes_with");
		put(writer, "kind", choice_word(choices_in_box, (int)box->kind));
		put(writer, "needle", box->needle);
		put(writer, "syringe", box->syringe ? box->syringe->id : NULL);
		put_number(writer, "count", box->count);
		end(writer);
	}
}

static void put_mixing(struct writer *writer, const struct product *product)
{
	put_liquid(writer, &product->diluent);
	put_amount(writer, "displacement", product->displacement);
	put_number(writer, "powders_per_diluent", product->powders_per_diluent);
	put(writer, "mix", choice_word(choices_mix, (int)product->mix));
	put(writer, "draw_with", choice_word(choices_draw_with, (int)product->draw_with));
	put_flag(writer, "whole_to_mark", product->whole_to_mark);
	if (product->part != PART_NOT_STATED)
		put(writer, "part", choice_word(choices_part, (int)product->part));
}

static void put_technique_words(struct writer *writer, const struct product *product)
{
	put(writer, "technique", product->technique);
	put(writer, "bubble", choice_word(choices_bubble, (int)product->bubble));
	put_amount(writer, "warm_up", product->warm_up);
	put_amount(writer, "wear", product->wear);
	put_flag(writer, "halves", product->halves);
	put_text(writer, "storage", product->storage);
	put(writer, "air", choice_word(choices_air, (int)product->air));
	put_flag(writer, "swap_surplus", product->swap_surplus);
	put_amount(writer, "hold", product->hold);
	put_flag(writer, "aspirate", product->aspirate);
	put_flag(writer, "skin_pull", product->skin_pull);
	put_flag(writer, "rub", product->rub);
	if (product->test != PEN_TEST_NONE)
		put(writer, "test", choice_word(choices_pen_test, (int)product->test));
	if (product->pen_end != PEN_END_NOT_STATED)
		put(writer, "pen_end", choice_word(choices_pen_end, (int)product->pen_end));
	put_amount(writer, "start_line", product->start_line);
	put_text(writer, "prime", product->prime);
	put_amount(writer, "spray_gap", product->spray_gap);
	put_flag(writer, "cap", product->cap);
}

static void put_product(struct writer *writer, const struct product *product)
{
	begin(writer, "product");
	put(writer, "id", product->id);
	put(writer, "container", container_kind_name(product->container));
	put_amount(writer, "strength", product->strength);
	put_amount(writer, "per_ml", product->per_ml);
	put_amount(writer, "volume", product->volume);
	put_amount(writer, "concentration", product->concentration);
	put(writer, "box_says", product->box_says.text);
	put_amount(writer, "also_labelled", product->also_labelled);
	put_mixing(writer, product);
	put_share(writer, &product->share);
	put_amount(writer, "in_use", product->in_use);
	put_dial(writer, &product->dial);
	put_flag(writer, "span", product->span);
	put_amount(writer, "loss", product->loss);
	put_strings(writer, "contains", product->contains, product->n_contains);
	put_box(writer, product);
	put_needle(writer, "mixing_needle", &product->mixing_needle);
	put_needle(writer, "giving_needle", &product->giving_needle);
	put_flag(writer, "filter_needle", product->filter_needle);
	put(writer, "syringe", product->syringe ? product->syringe->id : NULL);
	put_technique_words(writer, product);
	put_strings(writer, "stands_in_for", product->stands_in_for, product->n_stands_in_for);
	end(writer);
}

const char *seal_medicine(struct arena *arena, const struct medicine *medicine)
{
	struct writer writer = writer_new(arena, "medicine");
	put(&writer, "id", medicine->id);
	put(&writer, "name", medicine->name);
	put_text(&writer, "purpose", medicine->purpose);
	put(&writer, "route", route_name(medicine->route));
	put_strings(&writer, "site", medicine->sites, medicine->n_sites);
	put_limits(&writer, &medicine->limits);
	put_flag(&writer, "two_sites", medicine->two_sites);
	put_text(&writer, "missed", medicine->missed);
	for (size_t i = 0; i < medicine->n_cautions; i++)
		put_text(&writer, "caution", medicine->cautions[i]);
	if (medicine->rounding.given)
		put_rational(&writer, "rounding", medicine->rounding.most);
	for (size_t i = 0; i < medicine->n_products; i++)
		put_product(&writer, &medicine->products[i]);
	return writer_end(&writer);
}

const char *seal_stand_in(struct arena *arena, const struct product *product)
{
	struct writer writer = writer_new(arena, "stand-in");
	put(&writer, "id", product->id);
	put_strings(&writer, "stands_in_for", product->stands_in_for, product->n_stands_in_for);
	return writer_end(&writer);
}

/* --- Syringes --- */

const char *seal_syringe(struct arena *arena, const struct syringe *syringe)
{
	struct writer writer = writer_new(arena, "syringe");
	put(&writer, "id", syringe->id);
	put_text(&writer, "name", syringe->name);
	put_rational(&writer, "capacity", syringe->capacity);
	put_rational(&writer, "graduated", syringe->graduated);
	put_rational(&writer, "step", syringe->step);
	put_rational(&writer, "numbered_every", syringe->numbered_every);
	put_flag(&writer, "unit_scale", syringe->unit_scale);
	put_rational(&writer, "units_per_ml", syringe->units_per_ml);
	put_text(&writer, "scale_name", syringe->scale_name);
	put_strings(&writer, "numeral", syringe->numerals, syringe->n_numerals);
	put_rational(&writer, "scale_length", syringe->scale_length);
	put_rational(&writer, "barrel", syringe->barrel);
	put_flag(&writer, "fixed_needle", syringe->fixed_needle);
	put_flag(&writer, "measured", syringe->measured);
	return writer_end(&writer);
}

/* --- Protocols --- */

static void put_times(struct writer *writer, const struct at *at, size_t n)
{
	for (size_t i = 0; i < n; i++) {
		const char *clock = clock_print(writer->arena, at[i].time);
		const char *slot = at[i].slot ? at[i].slot->id : "";
		put(writer, "at", arena_printf(writer->arena, "%s %s", slot, clock));
	}
}

static void put_trigger(struct writer *writer, const char *key, const struct trigger *trigger)
{
	begin(writer, key);
	put(writer, "kind", choice_word(choices_trigger, (int)trigger->kind));
	put_date(writer, "on", trigger->on);
	put(writer, "event", trigger->event);
	put_stated_number(writer, "day", trigger->day);
	put_amount(writer, "plus", trigger->plus);
	put_amount(writer, "minus", trigger->minus);
	put_text(writer, "call", trigger->call);
	put_text(writer, "expected", trigger->expected);
	put_stated_number(writer, "count", trigger->count);
	for (size_t i = 0; i < trigger->n_of; i++)
		put_trigger(writer, "of", &trigger->of[i]);
	end(writer);
}

static void put_steps(struct writer *writer, const struct dose_step *steps, size_t n)
{
	for (size_t i = 0; i < n; i++) {
		const struct dose_step *step = &steps[i];
		begin(writer, "doses");
		put_stated_number(writer, "from", step->from);
		put(writer, "from_event", step->from_event);
		put_stated_number(writer, "from_day", step->from_day);
		put(writer, "amount", choice_word(choices_amount, (int)step->amount));
		put_amount(writer, "dose", step->dose);
		put_text(writer, "call", step->call);
		for (size_t j = 0; j < step->n_may_become; j++)
			put_amount(writer, "may_become", step->may_become[j]);
		put_flag(writer, "split", step->split);
		put_times(writer, step->at, step->n_at);
		put_amount(writer, "every", step->every);
		end(writer);
	}
}

static void put_event(struct writer *writer, const struct event *event)
{
	begin(writer, "event");
	put(writer, "id", event->id);
	put_text(writer, "label", event->label);
	put_stated_number(writer, "own_day", event->own_day);
	put_flag(writer, "exact", event->exact);
	put_flag(writer, "is_arrival", event->is_arrival);
	put_amount(writer, "arrive_before", event->arrive_before);
	put(writer, "check_before", event->check_before);
	put_amount(writer, "check_by", event->check_by);
	put_amount(writer, "check_give_or_take", event->check_give_or_take);
	end(writer);
}

static void put_item(struct writer *writer, const struct item *item)
{
	begin(writer, "item");
	put(writer, "id", item->id);
	put(writer, "medicine", item->medicine->id);
	put_times(writer, item->at, item->n_at);
	put_amount(writer, "window", item->window);
	put_trigger(writer, "start", &item->start);
	put_trigger(writer, "end", &item->end);
	put_amount(writer, "every", item->every);
	put_number(writer, "weekdays", item->weekdays);
	if (item->as_needed.given)
		put_number(writer, "as_needed", item->as_needed.most);
	put_steps(writer, item->doses, item->n_doses);
	put_limits(writer, &item->limits);
	put(writer, "gap_to", item->gap_to.event);
	put_amount(writer, "gap_most", item->gap_to.most);
	put_amount(writer, "gap_least", item->gap_to.least);
	put_amount(writer, "horizon", item->horizon);
	for (size_t i = 0; i < item->n_products; i++)
		put(writer, "product", item->products[i]->id);
	end(writer);
}

static void put_visit(struct writer *writer, const struct visit *visit)
{
	begin(writer, "visit");
	put(writer, "event", visit->event);
	put_stated_number(writer, "day", visit->day);
	put_times(writer, visit->at, visit->at ? 1 : 0);
	put_text(writer, "label", visit->label);
	end(writer);
}

static void put_protocol(struct writer *writer, const struct protocol *protocol)
{
	put(writer, "id", protocol->id);
	put_text(writer, "title", protocol->title);
	put_amount(writer, "horizon", protocol->horizon);
	for (size_t i = 0; i < protocol->n_events; i++)
		put_event(writer, &protocol->events[i]);
	for (size_t i = 0; i < protocol->n_items; i++)
		put_item(writer, &protocol->items[i]);
	for (size_t i = 0; i < protocol->n_visits; i++)
		put_visit(writer, &protocol->visits[i]);
}

const char *seal_protocol(struct arena *arena, const struct protocol *protocol)
{
	struct writer writer = writer_new(arena, "protocol");
	put_protocol(&writer, protocol);
	return writer_end(&writer);
}

/* --- Words and templates --- */

const char *seal_words(struct arena *arena, const struct wording *own)
{
	struct writer writer = writer_new(arena, "words");
	put(&writer, "language", own->language);
	for (size_t i = 0; i < own->n; i++) {
		begin(&writer, "message");
		put(&writer, "key", own->messages[i].key);
		for (size_t j = 0; j < own->messages[i].n_forms; j++)
			put(&writer, own->messages[i].forms[j].form, own->messages[i].forms[j].text);
		end(&writer);
	}
	return writer_end(&writer);
}

const char *seal_technique(struct arena *arena, const struct technique_template *technique)
{
	struct writer writer = writer_new(arena, "steps");
	put(&writer, "technique", technique->id);
	put_strings(&writer, "lay_out", technique->lay_out, technique->n_lay_out);
	for (size_t i = 0; i < technique->n_steps; i++) {
		const struct step_template *step = &technique->steps[i];
		begin(&writer, "step");
		put(&writer, "id", step->id);
		put(&writer, "picture", step->picture);
		put(&writer, "side", choice_word(choices_side, (int)step->side));
		put_strings(&writer, "when", step->when, step->n_when);
		put_flag(&writer, "warning", step->warning);
		put_flag(&writer, "line", step->line);
		end(&writer);
	}
	return writer_end(&writer);
}

const char *seal_pages(struct arena *arena, const struct page_templates *templates)
{
	struct writer writer = writer_new(arena, "pages");
	put_strings(&writer, "order", templates->order, templates->n_order);
	return writer_end(&writer);
}

/* --- Plans --- */

static void put_patient(struct writer *writer, const struct patient *patient)
{
	put(writer, "name", patient->name.text);
	put_date(writer, "born", patient->born);
	put(writer, "record", patient->record.text);
	put_flag(writer, "allergies_given", patient->allergies_given);
	for (size_t i = 0; i < patient->n_allergies; i++)
		put(writer, "allergy", patient->allergies[i].text);
}

/* Events and doses are maps in the file, whose order says nothing. */
static int compare_event_dates(const void *left, const void *right)
{
	const struct event_date *a = left;
	const struct event_date *b = right;
	return strcmp(a->event->id, b->event->id);
}

static int compare_plan_doses(const void *left, const void *right)
{
	const struct plan_doses *a = left;
	const struct plan_doses *b = right;
	return strcmp(a->item->id, b->item->id);
}

static void put_events(struct writer *writer, const struct plan *plan)
{
	struct event_date *sorted = arena_alloc(writer->arena, (plan->n_events + 1) * sizeof *sorted);
	for (size_t i = 0; i < plan->n_events; i++)
		sorted[i] = plan->events[i];
	qsort(sorted, plan->n_events, sizeof *sorted, compare_event_dates);
	for (size_t i = 0; i < plan->n_events; i++) {
		const char *time = sorted[i].has_time ? clock_print(writer->arena, sorted[i].time) : "";
		put(writer, sorted[i].event->id,
		    arena_printf(writer->arena, "%s %s", date_print(writer->arena, sorted[i].date), time));
	}
}

static void put_own_doses(struct writer *writer, const struct plan *plan)
{
	struct plan_doses *sorted = arena_alloc(writer->arena, (plan->n_doses + 1) * sizeof *sorted);
	for (size_t i = 0; i < plan->n_doses; i++)
		sorted[i] = plan->doses[i];
	qsort(sorted, plan->n_doses, sizeof *sorted, compare_plan_doses);
	for (size_t i = 0; i < plan->n_doses; i++) {
		begin(writer, sorted[i].item->id);
		put_steps(writer, sorted[i].doses, sorted[i].n_doses);
		end(writer);
	}
}

static void put_change(struct writer *writer, const struct change *change)
{
	begin(writer, "change");
	put(writer, "kind", choice_word(choices_change, (int)change->kind));
	put(writer, "item", change->item->id);
	put_date(writer, "from", change->from);
	put_date(writer, "until", change->until);
	put_amount(writer, "dose", change->dose);
	put_times(writer, change->at, change->n_at);
	put(writer, "product", change->product ? change->product->id : NULL);
	put_text(writer, "because", change->because);
	end(writer);
}

static void put_away(struct writer *writer, const struct away *away)
{
	begin(writer, "away");
	put_date(writer, "from", away->from);
	put_date(writer, "to", away->to);
	put(writer, "zone", away->zone->name);
	put(writer, "keep", choice_word(choices_away_keep, (int)away->keep));
	end(writer);
}

static void put_dispensed(struct writer *writer, const struct dispensed *dispensed)
{
	begin(writer, "dispensed");
	put(writer, "product", dispensed->product->id);
	put_stated_number(writer, "count", dispensed->count);
	put_date(writer, "expires", dispensed->expires);
	put_date(writer, "opened", dispensed->opened);
	put_amount(writer, "left", dispensed->left);
	end(writer);
}

static void put_replaces(struct writer *writer, const struct replaces *replaces)
{
	if (!replaces->given)
		return;
	begin(writer, "replaces");
	put(writer, "file", replaces->file.text);
	if (replaces->code.text)
		put(writer, "code", replaces->code.text);
	put_text(writer, "because", replaces->because);
	end(writer);
}

static void put_called(struct writer *writer, const struct call_made *called)
{
	begin(writer, "called");
	put(writer, "item", called->item->id);
	put_date(writer, "on", called->on);
	end(writer);
}

const char *seal_plan(struct arena *arena, const struct plan *plan)
{
	struct writer writer = writer_new(arena, "plan");
	put(&writer, "id", plan->id);
	put_patient(&writer, &plan->patient);
	put(&writer, "protocol", plan->protocol->id);
	put(&writer, "own_protocol", plan->protocol->digest);
	put_date(&writer, "as_of", plan->as_of);
	put_number(&writer, "version", plan->version);
	put_replaces(&writer, &plan->replaces);
	put_date(&writer, "good_until", plan->good_until);
	put(&writer, "zone", plan->zone->name);
	begin(&writer, "events");
	put_events(&writer, plan);
	end(&writer);
	begin(&writer, "own");
	put_own_doses(&writer, plan);
	end(&writer);
	for (size_t i = 0; i < plan->n_changes; i++)
		put_change(&writer, &plan->changes[i]);
	for (size_t i = 0; i < plan->n_called; i++)
		put_called(&writer, &plan->called[i]);
	for (size_t i = 0; i < plan->n_away; i++)
		put_away(&writer, &plan->away[i]);
	for (size_t i = 0; i < plan->n_dispensed; i++)
		put_dispensed(&writer, &plan->dispensed[i]);
	return writer_end(&writer);
}
