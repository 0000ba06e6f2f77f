#include "plan/checks.h"
#include "plan/follow.h"

#include <string.h>

/* ---- allergies ---- */

static char lower(char letter)
{
	return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

static bool same_word(const char *a, const char *b)
{
	while (*a && lower(*a) == lower(*b)) {
		a++;
		b++;
	}
	return lower(*a) == lower(*b);
}

static void check_allergy(const struct checking *checking, const struct medicine *medicine,
                          const struct product *product, const struct stated_string *allergy)
{
	if (same_word(allergy->text, medicine->name) || same_word(allergy->text, medicine->id)) {
		findings_add(checking->findings, FINDING_STOP, "allergy", allergy->place,
		             "the patient is allergic to %s, and the protocol gives it", medicine->name);
		return;
	}
	for (size_t i = 0; i < product->n_contains; i++)
		if (same_word(allergy->text, product->contains[i]))
			findings_add(checking->findings, FINDING_STOP, "allergy", allergy->place,
			             "'%s' contains %s, and the patient is allergic to it; choose another product", product->id,
			             product->contains[i]);
}

/* ---- products that stand in for another ---- */

static bool product_of_medicine(const struct medicine *medicine, const struct product *product)
{
	return product >= medicine->products && product < medicine->products + medicine->n_products;
}

static bool item_lists(const struct item *item, const struct product *product)
{
	for (size_t i = 0; i < item->n_products; i++)
		if (item->products[i] == product)
			return true;
	return item->n_products == 0 && product_of_medicine(item->medicine, product);
}

static bool stands_in(const struct item *item, const struct product *product)
{
	for (size_t i = 0; i < product->n_stands_in_for; i++) {
		for (size_t j = 0; j < item->medicine->n_products; j++) {
			const struct product *listed = &item->medicine->products[j];
			if (item_lists(item, listed) && strcmp(product->stands_in_for[i], listed->id) == 0)
				return true;
		}
	}
	return false;
}

static void check_stand_in(const struct checking *checking, const struct item *item, const struct product *product,
                           struct place place)
{
	if (!item_lists(item, product) && !stands_in(item, product))
		findings_add(checking->findings, FINDING_STOP, "stand-in-not-approved", place,
		             "'%s' is not among the products of '%s', and is not approved to stand in for one; "
		             "choose another, or have it approved with 'stands_in_for'",
		             product->id, item->id);
}

static void check_changed_products(const struct checking *checking)
{
	const struct plan *plan = checking->course->plan;
	for (size_t i = 0; i < plan->n_changes; i++)
		if (plan->changes[i].kind == CHANGE_PRODUCT)
			check_stand_in(checking, plan->changes[i].item, plan->changes[i].product, plan->changes[i].place);
}

/* ---- two products of one medicine at home ---- */

static const struct medicine *medicine_of(const struct clinic *clinic, const struct product *product)
{
	for (size_t i = 0; i < clinic->n_medicines; i++)
		if (product_of_medicine(&clinic->medicines[i], product))
			return &clinic->medicines[i];
	return NULL;
}

static void check_two_products(const struct checking *checking)
{
	const struct plan *plan = checking->course->plan;
	for (size_t i = 0; i < plan->n_dispensed; i++) {
		const struct medicine *medicine = medicine_of(plan->clinic, plan->dispensed[i].product);
		for (size_t j = 0; medicine && j < i; j++) {
			const struct product *other = plan->dispensed[j].product;
			if (other == plan->dispensed[i].product || medicine_of(plan->clinic, other) != medicine)
				continue;
			findings_add(checking->findings, FINDING_CAUTION, "two-products", plan->dispensed[i].place,
			             "the patient has two products of %s at home, '%s' and '%s'; say which to use first",
			             medicine->name, other->id, plan->dispensed[i].product->id);
			break;
		}
	}
}

/* ---- one container, two doses ---- */

static void check_split_policy(const struct checking *checking, const struct dose *dose)
{
	for (size_t i = 0; dose->split && i < dose->n_draws; i++) {
		const struct product *product = dose->draws[i].product;
		bool single_use = !product->in_use.given && product->container != CONTAINER_COUNTED;
		if (!single_use || (product->share.given && product->share.policy))
			continue;
		findings_add(checking->findings, FINDING_STOP, "split-without-policy", dose->place,
		             "'%s' is ordered split, and '%s' has no 'share' policy; one container of it serves one dose",
		             dose->item->id, product->id);
	}
}

static const struct dose *other_half(const struct course *course, const struct dose *second)
{
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = &course->doses[i];
		if (dose != second && dose->split_group == second->split_group && dose->half == HALF_FIRST)
			return dose;
	}
	return NULL;
}

/* The rest waits from the first dose to the second; the hours allowed are allowed exactly, but leave no room. */
static void check_rest(const struct checking *checking, const struct dose *second)
{
	if (second->half != HALF_SECOND || second->n_draws == 0 || second->done)
		return;
	const struct dose *first = other_half(checking->course, second);
	const struct product *product = second->draws[0].product;
	struct quantity keep;
	if (!first || !product->share.keep.given || !quantity_in(product->share.keep.quantity, UNIT_HOUR, &keep) ||
	    !first->has_time || !second->has_time || first->open || second->open)
		return;
	struct rational hours = rational_of(second->when - first->when, 3600);
	struct rational spare;
	if (!rational_subtract(keep.number, hours, &spare) || rational_compare(spare, rational_of(1, 1)) >= 0)
		return;
	const char *kept = quantity_plain(checking->arena, product->share.keep.quantity, DECIMAL_POINT);
	if (spare.numerator < 0)
		findings_add(checking->findings, FINDING_STOP, "rest-too-old", second->place,
		             "the rest of '%s' would be %s old at the second dose of '%s', and may be kept %s; "
		             "bring the doses closer, or do not split",
		             product->id, elapsed_print(checking->arena, hours), second->item->id, kept);
	else
		findings_add(checking->findings, FINDING_CAUTION, "rest-barely-kept", second->place,
		             "the rest of '%s' is %s old at the second dose of '%s', and may be kept %s: under 1 h to spare",
		             product->id, elapsed_print(checking->arena, hours), second->item->id, kept);
}

static void check_third_use(const struct checking *checking, const struct dose *dose)
{
	const struct course *course = checking->course;
	int sharing = 0;
	for (size_t i = 0; dose->split_group != 0 && i < course->n_doses; i++)
		sharing += course->doses[i].item->medicine == dose->item->medicine &&
		           course->doses[i].split_group == dose->split_group;
	if (sharing > 2)
		findings_add(checking->findings, FINDING_STOP, "third-use", dose->place,
		             "one container would serve %d doses of '%s'; two are the most", sharing, dose->item->id);
}

static void check_used_products(const struct checking *checking, const struct dose *dose)
{
	const struct patient *patient = &checking->course->plan->patient;
	for (size_t i = 0; i < dose->n_draws; i++) {
		const struct draw *draw = &dose->draws[i];
		check_stand_in(checking, dose->item, draw->product, dose->place);
		for (size_t j = 0; j < patient->n_allergies; j++)
			check_allergy(checking, dose->item->medicine, draw->product, &patient->allergies[j]);
	}
}

void check_products(const struct checking *checking)
{
	const struct course *course = checking->course;
	check_changed_products(checking);
	check_two_products(checking);
	for (size_t i = 0; i < course->n_doses; i++) {
		check_used_products(checking, &course->doses[i]);
		check_split_policy(checking, &course->doses[i]);
		check_rest(checking, &course->doses[i]);
		check_third_use(checking, &course->doses[i]);
	}
}
