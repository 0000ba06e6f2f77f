#include "plan/checks.h"

/* A text that was written must be written in the sheet's language too; one that was left out is not printed. */
static void need(const struct checking *checking, struct text text, const char *what, const char *of)
{
	const char *language = checking->course->plan->language;
	if (text.n > 0 && !text_in(text, language))
		findings_add(checking->findings, FINDING_STOP, "text-missing", text.place,
		             "the %s of '%s' has no words in '%s'; add them, or ask for another language", what, of,
		             language);
}

static void need_clinic(const struct checking *checking)
{
	const struct clinic *clinic = checking->course->plan->clinic;
	need(checking, clinic->name, "name", "clinic");
	need(checking, clinic->emergency, "emergency text", "clinic");
	need(checking, clinic->disclaimer, "disclaimer", "clinic");
	for (size_t i = 0; i < clinic->n_phones; i++)
		need(checking, clinic->phones[i].label, "label", clinic->phones[i].id);
}

static void need_medicine(const struct checking *checking, const struct medicine *medicine)
{
	need(checking, medicine->purpose, "purpose", medicine->id);
	need(checking, medicine->missed, "word on missed doses", medicine->id);
	for (size_t i = 0; i < medicine->n_cautions; i++)
		need(checking, medicine->cautions[i], "caution", medicine->id);
}

static void need_trigger(const struct checking *checking, const struct trigger *trigger, const char *item)
{
	need(checking, trigger->call, "call", item);
	need(checking, trigger->expected, "expected time", item);
	for (size_t i = 0; i < trigger->n_of; i++)
		need_trigger(checking, &trigger->of[i], item);
}

static void need_item(const struct checking *checking, const struct item *item)
{
	need_medicine(checking, item->medicine);
	need_trigger(checking, &item->start, item->id);
	need_trigger(checking, &item->end, item->id);
	for (size_t i = 0; i < item->n_doses; i++)
		need(checking, item->doses[i].call, "call for the dose", item->id);
}

static void need_protocol(const struct checking *checking)
{
	const struct protocol *protocol = checking->course->plan->protocol;
	need(checking, protocol->title, "title", protocol->id);
	for (size_t i = 0; i < protocol->n_events; i++)
		need(checking, protocol->events[i].label, "label", protocol->events[i].id);
	for (size_t i = 0; i < protocol->n_items; i++)
		need_item(checking, &protocol->items[i]);
	for (size_t i = 0; i < protocol->n_visits; i++)
		need(checking, protocol->visits[i].label, "label of a visit", protocol->visits[i].event);
}

static void need_plan(const struct checking *checking)
{
	const struct plan *plan = checking->course->plan;
	need(checking, plan->replaces.because, "reason", "replaces");
	for (size_t i = 0; i < plan->n_changes; i++)
		need(checking, plan->changes[i].because, "reason of a change", plan->changes[i].item->id);
}

static void need_syringe(const struct checking *checking, const struct syringe *syringe)
{
	if (!syringe)
		return;
	need(checking, syringe->name, "name", syringe->id);
	need(checking, syringe->scale_name, "scale's name", syringe->id);
}

static void need_draw(const struct checking *checking, const struct draw *draw)
{
	const struct product *product = draw->product;
	need(checking, product->storage, "storage", product->id);
	need(checking, product->diluent.name, "liquid", product->id);
	need(checking, product->prime, "words on priming", product->id);
	if (draw->measure != MEASURE_SYRINGE)
		return;
	need_syringe(checking, draw->mark.syringe);
	if (draw->has_add)
		need_syringe(checking, draw->add.syringe);
}

void check_texts(const struct checking *checking)
{
	const struct course *course = checking->course;
	if (!course->plan->language)
		return;
	need_clinic(checking);
	need_protocol(checking);
	need_plan(checking);
	for (size_t i = 0; i < course->n_doses; i++)
		for (size_t j = 0; j < course->doses[i].n_draws; j++)
			need_draw(checking, &course->doses[i].draws[j]);
}
