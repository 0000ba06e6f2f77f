#include "record/signing.h"

#include <string.h>

static bool same_entry(const struct signature *signature, const char *kind, const char *id)
{
	return strcmp(signature->kind, kind) == 0 && strcmp(signature->id, id) == 0;
}

/* The first signature of this very meaning by somebody other than `not_by`; NULL: none. */
static const struct signature *signature_of(const struct clinic *clinic, const char *kind, const char *id,
                                            const char *seal, const char *not_by)
{
	for (size_t i = 0; i < clinic->n_signatures; i++) {
		const struct signature *signature = &clinic->signatures[i];
		if (same_entry(signature, kind, id) && strcmp(signature->seal, seal) == 0 &&
		    (not_by == NULL || !signer_same(signature->by, not_by)))
			return signature;
	}
	return NULL;
}

static bool signed_otherwise(const struct clinic *clinic, const char *kind, const char *id)
{
	for (size_t i = 0; i < clinic->n_signatures; i++)
		if (same_entry(&clinic->signatures[i], kind, id))
			return true;
	return false;
}

static void note_date(struct signing *signing, const struct signature *signature)
{
	if (signing->signed_on == NULL || strcmp(signature->when, signing->signed_on) > 0)
		signing->signed_on = signature->when;
}

static void say_unsigned(const struct clinic *clinic, const char *kind, const char *id, struct place place,
                         struct findings *findings)
{
	if (signed_otherwise(clinic, kind, id))
		findings_add(findings, FINDING_CAUTION, "seal-broken", place,
		             "the %s '%s' was changed after it was signed; check it and sign it again", kind, id);
	else
		findings_add(findings, FINDING_CAUTION, "seal-missing", place,
		             "the %s '%s' is not signed; until it is, every page says DRAFT", kind, id);
}

static void count_entry(struct signing *signing, const struct clinic *clinic, const char *kind, const char *id,
                        struct place place, struct findings *findings)
{
	const struct seal *seal = clinic_seal(clinic, kind, id);
	const struct signature *signature = seal == NULL ? NULL : signature_of(clinic, kind, id, seal->digest, NULL);
	if (signature != NULL) {
		note_date(signing, signature);
		return;
	}
	signing->is_signed = false;
	say_unsigned(clinic, kind, id, place, findings);
}

/* The same of the plan: what its order brought along was signed as it stands, so those come first. */
static const struct signature *plan_signature_of(const struct plan *plan, const char *not_by)
{
	for (size_t i = 0; i < plan->n_signatures; i++)
		if (not_by == NULL || !signer_same(plan->signatures[i].by, not_by))
			return &plan->signatures[i];
	return signature_of(plan->clinic, "plan", plan->id, plan->seal, not_by);
}

static void count_plan(struct signing *signing, const struct plan *plan, struct findings *findings)
{
	const struct clinic *clinic = plan->clinic;
	const struct signature *first = plan_signature_of(plan, NULL);
	const struct signature *second = first == NULL ? NULL : plan_signature_of(plan, first->by);
	if (first != NULL) {
		signing->ordered_by = first->by;
		note_date(signing, first);
	}
	if (second != NULL) {
		signing->checked_by = second->by;
		note_date(signing, second);
		return;
	}
	signing->is_signed = false;
	if (first == NULL)
		say_unsigned(clinic, "plan", plan->id, plan->place, findings);
	else
		findings_add(
			findings, FINDING_CAUTION, "seal-missing", plan->place,
			"the plan '%s' is signed by one person; a second one, not the same, must check and sign it",
			plan->id);
}

bool course_uses_medicine(const struct course *course, const struct medicine *medicine)
{
	for (size_t i = 0; i < course->n_runs; i++)
		if (course->runs[i].item->medicine == medicine)
			return true;
	return false;
}

typedef bool (*draw_test)(const struct draw *draw, const void *what);

static bool any_draw(const struct draw *draws, size_t n, draw_test test, const void *what)
{
	for (size_t i = 0; i < n; i++)
		if (test(&draws[i], what))
			return true;
	return false;
}

/* Of all doses, also of what a call may set for one: its line is printed as well. */
static bool any_draw_of(const struct course *course, draw_test test, const void *what)
{
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = &course->doses[i];
		if (any_draw(dose->draws, dose->n_draws, test, what))
			return true;
		for (size_t j = 0; j < dose->n_options; j++)
			if (any_draw(dose->options[j].draws, dose->options[j].n_draws, test, what))
				return true;
	}
	return false;
}

static bool draw_uses_syringe(const struct draw *draw, const void *syringe)
{
	return draw->measure == MEASURE_SYRINGE &&
	       (draw->mark.syringe == syringe || (draw->has_add && draw->add.syringe == syringe));
}

bool course_uses_syringe(const struct course *course, const struct syringe *syringe)
{
	return any_draw_of(course, draw_uses_syringe, syringe);
}

static bool draw_uses_technique(const struct draw *draw, const void *technique)
{
	return strcmp(draw->product->technique, technique) == 0;
}

static bool course_uses_technique(const struct course *course, const char *technique)
{
	return any_draw_of(course, draw_uses_technique, technique);
}

/* The staff's pages are in the clinic's first language, so its words are used too. */
static bool plan_uses_words(const struct plan *plan, const char *language)
{
	const struct clinic *clinic = plan->clinic;
	return strcmp(language, plan->language) == 0 ||
	       (clinic->n_languages > 0 && strcmp(language, clinic->languages[0]) == 0);
}

/* What a clinic wrote over the program's own words, steps and order of pages. */
static void count_overrides(struct signing *signing, const struct course *course, struct findings *findings)
{
	const struct clinic *clinic = course->plan->clinic;
	const struct page_templates *templates = clinic->templates;
	for (size_t i = 0; i < clinic->n_words; i++)
		if (clinic->words[i].clinic_over && plan_uses_words(course->plan, clinic->words[i].language))
			count_entry(signing, clinic, "words", clinic->words[i].language, clinic->words[i].place,
			            findings);
	for (size_t i = 0; templates != NULL && i < templates->n_techniques; i++)
		if (templates->techniques[i].clinic_over && course_uses_technique(course, templates->techniques[i].id))
			count_entry(signing, clinic, "steps", templates->techniques[i].id,
			            templates->techniques[i].place, findings);
	const struct seal *order = clinic_seal(clinic, "pages", "order");
	if (order != NULL)
		count_entry(signing, clinic, "pages", "order", order->place, findings);
}

/* A product in hand that only stands in for the item's own needs a signature of its own. */
static void count_stand_ins(struct signing *signing, const struct course *course, struct findings *findings)
{
	const struct clinic *clinic = course->plan->clinic;
	for (size_t i = 0; i < course->n_supplies; i++) {
		const struct product *product = course->supplies[i].product;
		if (product->n_stands_in_for > 0 && course->supplies[i].needed > 0)
			count_entry(signing, clinic, "stand-in", product->id, product->place, findings);
	}
}

struct signing signing_of(const struct course *course, struct findings *findings)
{
	const struct plan *plan = course->plan;
	const struct clinic *clinic = plan->clinic;
	struct signing signing = {.is_signed = true};

	count_plan(&signing, plan, findings);
	count_entry(&signing, clinic, "clinic", "clinic.yaml", clinic->place, findings);
	if (!plan->protocol->own)
		count_entry(&signing, clinic, "protocol", plan->protocol->id, plan->protocol->place, findings);
	for (size_t i = 0; i < clinic->n_medicines; i++)
		if (course_uses_medicine(course, &clinic->medicines[i]))
			count_entry(&signing, clinic, "medicine", clinic->medicines[i].id, clinic->medicines[i].place,
			            findings);
	for (size_t i = 0; i < clinic->n_syringes; i++)
		if (!clinic->syringes[i].built_in && course_uses_syringe(course, &clinic->syringes[i]))
			count_entry(&signing, clinic, "syringe", clinic->syringes[i].id, clinic->syringes[i].place,
			            findings);
	count_overrides(&signing, course, findings);
	count_stand_ins(&signing, course, findings);
	return signing;
}

bool clinic_all_signed(const struct clinic *clinic, struct findings *findings)
{
	struct signing signing = {.is_signed = true};
	for (size_t i = 0; i < clinic->n_seals; i++)
		count_entry(&signing, clinic, clinic->seals[i].kind, clinic->seals[i].id, clinic->seals[i].place,
		            findings);
	return signing.is_signed;
}
