#include "load/templates.h"

#include "load/choices.h"

#include <string.h>

static bool is_page(const struct page_templates *known, const char *page, struct nearest *nearest)
{
	for (size_t i = 0; i < known->n_order; i++) {
		if (strcmp(known->order[i], page) == 0)
			return true;
		nearest_offer(nearest, known->order[i]);
	}
	return false;
}

static bool has_page(const char *const *order, size_t n, const char *page)
{
	for (size_t i = 0; i < n; i++)
		if (strcmp(order[i], page) == 0)
			return true;
	return false;
}

/* A clinic chooses its pages, but a packet without these would leave somebody without what keeps them safe. */
static void require_pages(const struct reader *reader, const struct raw_pages *raw, const char *const *order,
                          const struct page_templates *known)
{
	static const char *const needed[] = {"medicine", "before", "check"};
	struct place place = raw->order_count ? given_place(reader, raw->order[0]) : (struct place){0};
	for (size_t i = 0; i < sizeof needed / sizeof *needed; i++)
		if (has_page(known->order, known->n_order, needed[i]) && !has_page(order, raw->order_count, needed[i]))
			refuse_value(reader, "page-missing", place,
			             "the order leaves out '%s', without which no packet is printed; put it in",
			             needed[i]);
}

void read_pages(const struct reader *reader, const struct raw_pages *raw, const struct page_templates *known,
                struct page_templates *templates)
{
	const char *const *order = read_strings(reader, raw->order, raw->order_count);
	for (unsigned i = 0; i < raw->order_count; i++) {
		struct stated_string page = given_string(reader, raw->order[i], (struct place){0});
		struct nearest nearest = nearest_to(page.text);
		if (known && !is_page(known, page.text, &nearest))
			refuse_unknown_name(reader, "unknown-page", "page", &page, "", &nearest);
		for (unsigned j = 0; j < i; j++)
			if (strcmp(order[j], page.text) == 0)
				refuse_value(reader, "duplicate-id", page.place,
				             "the page '%s' is here twice; delete one", page.text);
	}
	if (known)
		require_pages(reader, raw, order, known);
	templates->order = order;
	templates->n_order = raw->order_count;
}

static struct step_template read_step(const struct reader *reader, const struct raw_template_step *raw)
{
	return (struct step_template){
		.id = read_string(reader, raw->id),
		.picture = read_string(reader, raw->picture),
		.when = read_strings(reader, raw->when, raw->when_count),
		.n_when = raw->when_count,
		.side = (enum step_side)read_choice(reader, raw->side, choices_side, STEP_FRONT),
		.warning = read_flag(reader, raw->warning, false),
		.line = read_flag(reader, raw->line, false),
		.place = given_place(reader, raw->place),
	};
}

static struct technique_template *technique_named(const struct reader *reader, const char *id, struct place place,
                                                  struct page_templates *templates)
{
	/* The list grows and is then written to here, and nowhere else; outside it is constant. */
	struct technique_template *list = arena_alloc(reader->arena, (templates->n_techniques + 1) * sizeof *list);
	for (size_t i = 0; i < templates->n_techniques; i++)
		list[i] = templates->techniques[i];
	templates->techniques = list;
	for (size_t i = 0; i < templates->n_techniques; i++)
		if (strcmp(list[i].id, id) == 0)
			return &list[i];
	struct technique_template *added = &list[templates->n_techniques++];
	*added = (struct technique_template){.id = id, .place = place};
	return added;
}

void read_technique(const struct reader *reader, const struct raw_technique *raw, bool own,
                    struct page_templates *templates)
{
	struct place place = given_place(reader, raw->place);
	struct technique_template *technique =
		technique_named(reader, read_id(reader, raw->technique), place, templates);
	technique->clinic_over = own;
	if (own)
		technique->place = place;
	if (raw->lay_out_count) {
		struct place *places = arena_alloc(reader->arena, raw->lay_out_count * sizeof *places);
		for (unsigned i = 0; i < raw->lay_out_count; i++)
			places[i] = given_place(reader, raw->lay_out[i]);
		technique->lay_out = read_strings(reader, raw->lay_out, raw->lay_out_count);
		technique->lay_out_places = places;
		technique->n_lay_out = raw->lay_out_count;
	}
	if (raw->steps_count == 0)
		return;
	struct step_template *steps = arena_alloc(reader->arena, raw->steps_count * sizeof *steps);
	for (unsigned i = 0; i < raw->steps_count; i++)
		steps[i] = read_step(reader, &raw->steps[i]);
	technique->steps = steps;
	technique->n_steps = raw->steps_count;
}
