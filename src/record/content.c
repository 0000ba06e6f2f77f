#include "record/content.h"

#include "record/signing.h"

#include <glib.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* Lines grow in a GString and end as one string in the arena. */
struct writer {
	struct arena *arena;
	GString *lines;
};

/* A value may not hold a line break: escape it, so that one fact is one line. */
static void put(struct writer *writer, const char *path, const char *value)
{
	g_string_append_printf(writer->lines, "%s=", path);
	for (const char *c = value == NULL ? "" : value; *c != '\0'; c++) {
		if (*c == '\\' || *c == '\n')
			g_string_append_c(writer->lines, '\\');
		g_string_append_c(writer->lines, *c == '\n' ? 'n' : *c);
	}
	g_string_append_c(writer->lines, '\n');
}

static void put_text(struct writer *writer, const char *path, struct text text)
{
	for (size_t i = 0; i < text.n; i++)
		put(writer, arena_printf(writer->arena, "%s.%s", path, text.in[i].language), text.in[i].text);
}

static const char *exact(struct writer *writer, struct rational number)
{
	return arena_printf(writer->arena, "%" PRId64 "/%" PRId64, number.numerator, number.denominator);
}

static const char *amount(struct writer *writer, struct quantity quantity)
{
	return arena_printf(writer->arena, "%s %s", exact(writer, quantity.number), unit_name(quantity.unit, false));
}

static void put_clinic(struct writer *writer, const struct clinic *clinic)
{
	put_text(writer, "clinic.name", clinic->name);
	for (size_t i = 0; i < clinic->n_address; i++)
		put(writer, "clinic.address", clinic->address[i]);
	put(writer, "clinic.country", clinic->country);
	put(writer, "clinic.day_begins", clock_print(writer->arena, clinic->day_begins));
	for (size_t i = 0; i < clinic->n_phones; i++) {
		put_text(writer, "clinic.phone.label", clinic->phones[i].label);
		put(writer, "clinic.phone.number", clinic->phones[i].number);
		put(writer, "clinic.phone.hours", clinic->phones[i].hours);
	}
	put_text(writer, "clinic.emergency", clinic->emergency);
	put_text(writer, "clinic.disclaimer", clinic->disclaimer);
}

static void put_patient(struct writer *writer, const struct plan *plan)
{
	const struct patient *patient = &plan->patient;
	put(writer, "patient.name", patient->name.text);
	if (patient->born.given)
		put(writer, "patient.born", date_print(writer->arena, patient->born.date));
	put(writer, "patient.record", patient->record.text);
	for (size_t i = 0; i < patient->n_allergies; i++)
		put(writer, "patient.allergy", patient->allergies[i].text);
	if (plan->as_of.given)
		put(writer, "plan.as_of", date_print(writer->arena, plan->as_of.date));
	put(writer, "plan.version", arena_printf(writer->arena, "%" PRId64, plan->version));
	put(writer, "plan.zone", plan->zone->name);
}

/* Why it is a new version: the notice prints the words. What it was before is known by the version alone. */
static void put_reasons(struct writer *writer, const struct plan *plan)
{
	put_text(writer, "plan.because", plan->replaces.because);
	for (size_t i = 0; i < plan->n_changes; i++) {
		const struct change *change = &plan->changes[i];
		const char *path = arena_printf(writer->arena, "change.%s.%s.because", change->item->id,
		                                date_print(writer->arena, change->from.date));
		put_text(writer, path, change->because);
	}
}

static bool uses_entry(const struct course *course, const struct seal *seal)
{
	const struct clinic *clinic = course->plan->clinic;
	const struct medicine *medicine = clinic_medicine(clinic, seal->id);
	const struct syringe *syringe = clinic_syringe(clinic, seal->id);
	if (strcmp(seal->kind, "protocol") == 0)
		return !course->plan->protocol->own && strcmp(seal->id, course->plan->protocol->id) == 0;
	if (strcmp(seal->kind, "medicine") == 0)
		return medicine != NULL && course_uses_medicine(course, medicine);
	return strcmp(seal->kind, "syringe") == 0 && syringe != NULL && course_uses_syringe(course, syringe);
}

static int compare_seals(const void *left, const void *right)
{
	const struct seal *const *a = left;
	const struct seal *const *b = right;
	int by_kind = strcmp((*a)->kind, (*b)->kind);
	return by_kind != 0 ? by_kind : strcmp((*a)->id, (*b)->id);
}

/* The entries used, each by its seal, a digest of its meaning; sorted, since their order in a file means nothing. */
static void put_entries(struct writer *writer, const struct course *course)
{
	const struct clinic *clinic = course->plan->clinic;
	const struct seal **used = arena_alloc(writer->arena, (clinic->n_seals + 1) * sizeof *used);
	size_t n = 0;
	for (size_t i = 0; i < clinic->n_seals; i++)
		if (uses_entry(course, &clinic->seals[i]))
			used[n++] = &clinic->seals[i];
	if (n > 1)
		qsort(used, n, sizeof *used, compare_seals);
	for (size_t i = 0; i < n; i++)
		put(writer, arena_printf(writer->arena, "entry.%s.%s", used[i]->kind, used[i]->id), used[i]->digest);
	if (course->plan->protocol->own)
		put(writer, "plan.protocol", course->plan->protocol->digest);
}

static void put_mark(struct writer *writer, const char *path, const struct mark *mark)
{
	static const char *const names[] = {
		[LINE_DRAW] = "draw", [LINE_ADD] = "add", [LINE_PUSH_OUT] = "push-out", [LINE_STOP] = "stop"};
	put(writer, path,
	    arena_printf(writer->arena, "%s %s %s %s", names[mark->line],
	                 mark->syringe == NULL ? "-" : mark->syringe->id, mark->all ? "all" : exact(writer, mark->at),
	                 mark->all ? "-" : exact(writer, mark->number)));
}

static void put_use(struct writer *writer, const char *path, const struct container_use *use)
{
	const char *until = !use->has_by ? "-" : date_print(writer->arena, use->by);
	const char *at = !use->has_by || use->by_day_only ? "-" : clock_print(writer->arena, use->by_time);
	put(writer, path,
	    arena_printf(writer->arena, "%s %" PRId64 " %s takes %s leaves %s %s %s %s", use->product->id, use->number,
	                 use->in_hand ? "in-hand" : "to-get", amount(writer, use->takes), amount(writer, use->leaves),
	                 use->then == THEN_KEEP ? "keep" : "discard", until, at));
}

static void put_draw(struct writer *writer, const char *path, const struct draw *draw)
{
	struct arena *arena = writer->arena;
	put(writer, arena_printf(arena, "%s.product", path), draw->product->id);
	put(writer, arena_printf(arena, "%s.given", path), amount(writer, draw->given));
	switch (draw->measure) {
	case MEASURE_SYRINGE:
		put(writer, arena_printf(arena, "%s.volume", path), exact(writer, draw->volume));
		put(writer, arena_printf(arena, "%s.concentration", path), amount(writer, draw->concentration));
		put_mark(writer, arena_printf(arena, "%s.line", path), &draw->mark);
		if (draw->has_add)
			put_mark(writer, arena_printf(arena, "%s.add", path), &draw->add);
		break;
	case MEASURE_DIAL:
		put(writer, arena_printf(arena, "%s.dial", path), amount(writer, draw->dial));
		break;
	case MEASURE_COUNT:
		put(writer, arena_printf(arena, "%s.count", path), amount(writer, draw->count));
		break;
	}
	for (size_t i = 0; i < draw->n_containers; i++)
		put_use(writer, arena_printf(arena, "%s.container", path), &draw->containers[i]);
}

/* What a call may set, and what it would be drawn to: the sheet prints both. */
static void put_option(struct writer *writer, const char *path, const struct dose_option *option)
{
	put(writer, path, amount(writer, option->amount));
	for (size_t i = 0; i < option->n_draws; i++)
		put_draw(writer, arena_printf(writer->arena, "%s.draw%zu", path, i + 1), &option->draws[i]);
}

static void put_dose(struct writer *writer, const struct dose *dose, const struct zone *course_zone)
{
	struct arena *arena = writer->arena;
	const char *path = arena_printf(arena, "dose.%s.%" PRId64, dose->item->id, dose->n);
	put(writer, path,
	    arena_printf(arena, "day %" PRId64 " %s %s %s", dose->day,
	                 dose->open ? "open" : date_print(arena, dose->clock_date),
	                 dose->has_time ? clock_print(arena, dose->time) : "-",
	                 dose->amount == DOSE_BY_CALL ? "by-call" : amount(writer, dose->ordered)));
	if (dose->amount == DOSE_BY_CALL)
		put_text(writer, arena_printf(arena, "%s.call", path), dose->step->call);
	if (!dose->open && dose->zone != course_zone)
		put(writer, arena_printf(arena, "%s.zone", path), dose->zone->name);
	for (size_t i = 0; i < dose->n_draws; i++)
		put_draw(writer, arena_printf(arena, "%s.draw%zu", path, i + 1), &dose->draws[i]);
	for (size_t i = 0; i < dose->n_options; i++)
		put_option(writer, arena_printf(arena, "%s.may_become%zu", path, i + 1), &dose->options[i]);
}

/* After this day the sheet no longer counts, so moving it is another sheet. */
static void put_good_until(struct writer *writer, const struct course *course)
{
	put(writer, "good_until", course->has_good_until ? date_print(writer->arena, course->good_until) : "-");
}

static void put_supplies(struct writer *writer, const struct course *course)
{
	for (size_t i = 0; i < course->n_supplies; i++) {
		const struct product_supply *supply = &course->supplies[i];
		put(writer, arena_printf(writer->arena, "supply.%s", supply->product->id),
		    arena_printf(writer->arena, "needed %" PRId64 " dispensed %" PRId64 " get %" PRId64, supply->needed,
		                 supply->dispensed, supply->to_get));
	}
}

const char *content_of(struct arena *arena, const struct course *course)
{
	struct writer writer = {.arena = arena, .lines = g_string_new("content=1\n")};
	put_clinic(&writer, course->plan->clinic);
	put_patient(&writer, course->plan);
	put_reasons(&writer, course->plan);
	put_entries(&writer, course);
	for (size_t i = 0; i < course->n_doses; i++)
		put_dose(&writer, &course->doses[i], course->plan->zone);
	for (size_t i = 0; i < course->n_visits; i++) {
		const struct dated_visit *visit = &course->visits[i];
		put(&writer, "visit",
		    arena_printf(arena, "%s %s", visit->open ? "open" : date_print(arena, visit->date),
		                 visit->has_time ? clock_print(arena, visit->time) : "-"));
	}
	put_good_until(&writer, course);
	put_supplies(&writer, course);
	const char *content = arena_strdup(arena, writer.lines->str);
	g_string_free(writer.lines, TRUE);
	return content;
}
