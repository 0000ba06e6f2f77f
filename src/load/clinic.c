#include "load/clinic.h"

#include "load/choices.h"
#include "load/locale.h"

#include <stdlib.h>
#include <string.h>

static void read_country(const struct reader *reader, const char *raw, struct clinic *clinic)
{
	struct stated_string country = given_string(reader, raw, clinic->place);
	clinic->country = country.text;
	if (!country.text)
		return;
	if (country_known(country.text)) {
		clinic->mark = country_mark(country.text);
		clinic->paper = country_paper(country.text);
		return;
	}
	/* Of two letters any other two are near: a guess would only mislead. */
	refuse_value(reader, "unknown-country", country.place,
	             "unknown country '%s'; use its two capital letters, as in 'GB'", country.text);
}

static void read_languages(const struct reader *reader, const struct raw_clinic *raw, struct clinic *clinic)
{
	clinic->languages = read_strings(reader, raw->languages, raw->languages_count);
	clinic->n_languages = raw->languages_count;
	for (unsigned i = 0; i < raw->languages_count; i++) {
		struct stated_string language = given_string(reader, raw->languages[i], clinic->place);
		if (!language_known(language.text))
			refuse_value(reader, "unknown-language", language.place,
			             "'%s' is no language; use a code such as 'en' or 'es'", language.text);
		for (unsigned j = 0; j < i; j++)
			if (strcmp(clinic->languages[j], language.text) == 0)
				refuse_value(reader, "duplicate-id", language.place,
				             "the language '%s' is here twice; delete one", language.text);
	}
}

/* '16:00' for '04:00' would move every morning's dose to the day before. */
static void read_day_begins(const struct reader *reader, const char *raw, struct clinic *clinic)
{
	static const struct clock_time noon = {12, 0};
	if (read_clock(reader, raw, &clinic->day_begins) && clock_compare(clinic->day_begins, noon) >= 0)
		refuse_value(
			reader, "bad-time", given_place(reader, raw),
			"a treatment day that begins at %s puts the morning's doses on the day before; write an hour "
			"of the night, as in \"04:00\"",
			read_string(reader, raw));
}

static int compare_slots(const void *left, const void *right)
{
	const struct slot *a = left;
	const struct slot *b = right;
	int order = clock_compare(a->time, b->time);
	return order ? order : strcmp(a->id, b->id);
}

static void read_slots(const struct reader *reader, const struct raw_clinic *raw, struct clinic *clinic)
{
	struct slot *slots = arena_alloc(reader->arena, (raw->slots_count + 1) * sizeof *slots);
	for (unsigned i = 0; i < raw->slots_count; i++) {
		slots[i].id = read_id(reader, raw->slots[i].key);
		slots[i].place = given_place(reader, raw->slots[i].key);
		read_clock(reader, raw->slots[i].text, &slots[i].time);
	}
	qsort(slots, raw->slots_count, sizeof *slots, compare_slots);
	clinic->slots = slots;
	clinic->n_slots = raw->slots_count;
}

/* "07:30-17:00" */
static void check_hours(const struct reader *reader, const char *raw)
{
	struct stated_string hours = given_string(reader, raw, (struct place){0});
	struct clock_time time;
	if (!hours.text)
		return;
	const char *dash = strchr(hours.text, '-');
	if (dash && clock_read(arena_strndup(reader->arena, hours.text, (size_t)(dash - hours.text)), &time) &&
	    clock_read(dash + 1, &time))
		return;
	refuse_value(reader, "bad-time", hours.place, "'%s' is no span of hours; write it as in \"07:30-17:00\"",
	             hours.text);
}

static void read_phones(const struct reader *reader, const struct raw_clinic *raw, struct clinic *clinic)
{
	struct phone *phones = arena_alloc(reader->arena, (raw->phones_count + 1) * sizeof *phones);
	for (unsigned i = 0; i < raw->phones_count; i++) {
		const struct raw_phone *phone = &raw->phones[i];
		phones[i].place = given_place(reader, phone->place);
		phones[i].id = read_id(reader, phone->id);
		phones[i].label = read_text(reader, phone->label, phones[i].place);
		phones[i].number = read_string(reader, phone->number);
		phones[i].hours = read_string(reader, phone->hours);
		check_hours(reader, phone->hours);
		for (unsigned j = 0; j < i; j++)
			if (strcmp(phones[j].id, phones[i].id) == 0)
				refuse_second(reader, "phone", phones[i].id, phones[i].place, phones[j].place);
	}
	clinic->phones = phones;
	clinic->n_phones = raw->phones_count;
}

static bool is_plain_built_in(const struct syringe *syringe)
{
	return syringe->built_in && !syringe->unit_scale && !syringe->fixed_needle;
}

/* All of the clinic's own syringes; where it has none, the built-in plain ones in mL. */
static void stock_by_default(const struct reader *reader, struct clinic *clinic)
{
	const struct syringe **stock = arena_alloc(reader->arena, (clinic->n_syringes + 1) * sizeof *stock);
	for (size_t i = 0; i < clinic->n_syringes; i++)
		if (!clinic->syringes[i].built_in)
			stock[clinic->n_stock++] = &clinic->syringes[i];
	for (size_t i = 0; clinic->n_stock == 0 && i < clinic->n_syringes; i++)
		if (is_plain_built_in(&clinic->syringes[i]))
			stock[clinic->n_stock++] = &clinic->syringes[i];
	clinic->stock = stock;
}

static void read_stock(const struct reader *reader, const struct raw_clinic *raw, bool known, struct clinic *clinic)
{
	if (raw->stock_count == 0) {
		stock_by_default(reader, clinic);
		return;
	}
	clinic->stock_given = true;
	const struct syringe **stock = arena_alloc(reader->arena, raw->stock_count * sizeof *stock);
	for (unsigned i = 0; i < raw->stock_count; i++) {
		struct stated_string name = given_string(reader, raw->stock[i], clinic->place);
		const struct syringe *syringe = clinic_syringe(clinic, name.text);
		struct nearest nearest = nearest_to(name.text);
		for (size_t j = 0; !syringe && j < clinic->n_syringes; j++)
			nearest_offer(&nearest, clinic->syringes[j].id);
		if (syringe)
			stock[clinic->n_stock++] = syringe;
		else if (known)
			refuse_unknown_name(reader, "unknown-syringe", "syringe", &name, "", &nearest);
	}
	clinic->stock = stock;
}

void read_clinic(const struct reader *reader, const struct raw_clinic *raw, bool syringes_known, struct clinic *clinic)
{
	clinic->place = given_place(reader, raw->place);
	clinic->name = read_text(reader, raw->clinic, clinic->place);
	clinic->address = read_strings(reader, raw->address, raw->address_count);
	clinic->n_address = raw->address_count;
	read_country(reader, raw->country, clinic);
	clinic->zone = read_zone(reader, raw->zone);
	read_languages(reader, raw, clinic);
	read_day_begins(reader, raw->day_begins, clinic);
	read_slots(reader, raw, clinic);
	read_phones(reader, raw, clinic);
	clinic->emergency = read_text(reader, raw->emergency, clinic->place);
	clinic->disclaimer = read_text(reader, raw->disclaimer, clinic->place);
	clinic->rotation = (enum rotation)read_choice(reader, raw->rotation, choices_rotation, ROTATION_SIDES);
	read_stock(reader, raw, syringes_known, clinic);
}
