#include "plan/checks.h"

#include "plan/draw.h"
#include "plan/supply.h"

#include <string.h>

/* ---- allergies ---- */

static char lower(char letter)
{
	return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

/* Letters and digits, and whatever is not ASCII: no word ends before them. */
static bool goes_on(char sign)
{
	return (sign >= '0' && sign <= '9') || (lower(sign) >= 'a' && lower(sign) <= 'z') || (signed char)sign < 0;
}

static bool begins_with(const char *text, const char *word)
{
	while (*word && lower(*text) == lower(*word)) {
		text++;
		word++;
	}
	return *word == '\0' && !goes_on(*text);
}

/* 'rash after latex gloves' speaks of latex, 'foil' not of oil. */
static bool speaks_of(const char *text, const char *word)
{
	for (const char *at = text; *at; at++)
		if ((at == text || !goes_on(at[-1])) && begins_with(at, word))
			return true;
	return false;
}

static void check_allergy(const struct checking *checking, const struct medicine *medicine,
                          const struct product *product, const struct stated_string *allergy)
{
	if (speaks_of(allergy->text, medicine->name) || speaks_of(allergy->text, medicine->id)) {
		findings_add(checking->findings, FINDING_STOP, "allergy", allergy->place,
		             "the patient is allergic to %s, and the protocol gives it", medicine->name);
		return;
	}
	for (size_t i = 0; i < product->n_contains; i++)
		if (speaks_of(allergy->text, product->contains[i]))
			findings_add(checking->findings, FINDING_STOP, "allergy", allergy->place,
			             "'%s' contains %s, and the patient is allergic to it; choose another product",
			             product->id, product->contains[i]);
}

/* ---- products that stand in for another ---- */

/* The sheet would tell another medicine's name, limits and steps than what is in the box. */
static void check_stand_in(const struct checking *checking, const struct item *item, const struct product *product,
                           struct place place)
{
	if (item_lists_product(item, product) || item_has_stand_in(item, product))
		return;
	if (!medicine_has_product(item->medicine, product))
		findings_add(checking->findings, FINDING_STOP, "stand-in-not-approved", place,
		             "'%s' is a product of another medicine than %s, which '%s' gives, and cannot stand in for "
		             "it; stop the item and order the other medicine",
		             product->id, item->medicine->name, item->id);
	else
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
			check_stand_in(checking, plan->changes[i].item, plan->changes[i].product,
			               plan->changes[i].place);
}

/* ---- two products of one medicine at home ---- */

static const struct medicine *medicine_of(const struct clinic *clinic, const struct product *product)
{
	for (size_t i = 0; i < clinic->n_medicines; i++)
		if (medicine_has_product(&clinic->medicines[i], product))
			return &clinic->medicines[i];
	return NULL;
}

/* The first entry of another product of the same medicine, unless this product was listed before. */
static const struct product *listed_before(const struct plan *plan, size_t index, const struct medicine *medicine)
{
	const struct product *product = plan->dispensed[index].product;
	const struct product *other = NULL;
	for (size_t i = 0; i < index; i++) {
		const struct product *earlier = plan->dispensed[i].product;
		if (earlier == product)
			return NULL;
		if (!other && medicine_of(plan->clinic, earlier) == medicine)
			other = earlier;
	}
	return other;
}

static void check_two_products(const struct checking *checking)
{
	const struct plan *plan = checking->course->plan;
	for (size_t i = 0; i < plan->n_dispensed; i++) {
		const struct product *product = plan->dispensed[i].product;
		const struct medicine *medicine = medicine_of(plan->clinic, product);
		const struct product *other = medicine ? listed_before(plan, i, medicine) : NULL;
		if (other)
			findings_add(
				checking->findings, FINDING_CAUTION, "two-products", plan->dispensed[i].place,
				"the patient has two products of %s at home, '%s' and '%s'; say which to use first",
				medicine->name, other->id, product->id);
	}
}

/* ---- what contradicts the syringe, or the way it is given ---- */

/*
 * The steps of a vial, an ampoule or a syringe end in an injection; what is drawn up to be swallowed has a technique
 * of its own. A pen's needle is too short for a muscle (common practice, no source), and what is counted has none.
 */
static bool route_fits(const struct medicine *medicine, const struct product *product)
{
	bool needle = route_by_needle(medicine->route);
	switch (product->container) {
	case CONTAINER_POWDER_VIAL:
	case CONTAINER_PREFILLED_SYRINGE:
		return needle;
	case CONTAINER_SOLUTION_VIAL:
	case CONTAINER_AMPOULE:
		return needle || strcmp(product->technique, container_kind_name(product->container)) != 0;
	case CONTAINER_PEN:
		return medicine->route == ROUTE_SUBCUTANEOUS;
	case CONTAINER_COUNTED:
		return !needle;
	}
	return false;
}

static void check_route(const struct checking *checking, const struct medicine *medicine, const struct product *product)
{
	if (!route_fits(medicine, product))
		findings_add(
			checking->findings, FINDING_STOP, "route-differs", product->place,
			"'%s' has the container '%s', and %s is given by the %s route; mend 'route' or 'container'",
			product->id, container_kind_name(product->container), medicine->name,
			route_name(medicine->route));
}

/*
 * A helper uncovers the needle last, when the patient lies down and the skin is dry; a part of a filled syringe needs
 * it bare before. No order of steps has both.
 */
static void check_part_in_muscle(const struct checking *checking, const struct medicine *medicine,
                                 const struct draw *draw)
{
	const struct product *product = draw->product;
	if (medicine->route == ROUTE_INTRAMUSCULAR && product->container == CONTAINER_PREFILLED_SYRINGE &&
	    draw->measure == MEASURE_SYRINGE && !draw->mark.all)
		findings_add(checking->findings, FINDING_STOP, "part-in-muscle", product->place,
		             "a part of '%s' cannot be given into the muscle: its needle would be bare before the "
		             "patient lies down; order whole syringes, or a vial",
		             product->id);
}

/*
 * A barrel holds pi / 4 times its diameter squared times the scale's length. By the outside diameter that is more than
 * the capacity; a scale that says less cannot be. 11/14 is just above pi / 4. Lengths are in mm, 1 mL is 1000 mm3.
 */
static bool scale_possible(const struct syringe *syringe)
{
	struct rational most;
	struct rational capacity;
	if (rational_compare(syringe->barrel, rational_of(0, 1)) <= 0 ||
	    rational_compare(syringe->scale_length, rational_of(0, 1)) <= 0)
		return true;
	return rational_multiply(syringe->barrel, syringe->barrel, &most) &&
	       rational_multiply(most, syringe->scale_length, &most) &&
	       rational_multiply(most, rational_of(11, 14), &most) &&
	       rational_multiply(syringe->capacity, rational_of(1000, 1), &capacity) &&
	       rational_compare(most, capacity) > 0;
}

static void check_syringe(const struct checking *checking, const struct product *product, const struct syringe *syringe)
{
	if (!scale_possible(syringe))
		findings_add(checking->findings, FINDING_STOP, "scale-impossible", syringe->place,
		             "a syringe as thick and long as 'barrel' and 'scale_length' say cannot hold the capacity "
		             "of '%s'; measure it again",
		             syringe->id);
	if ((product->mixing_needle.given || product_filters(product)) && syringe->fixed_needle)
		findings_add(checking->findings, FINDING_STOP, "needle-fixed", product->place,
		             "'%s' is drawn up with a needle of its own, and '%s' has a fixed one; choose another "
		             "syringe",
		             product->id, syringe->id);
	if (product->container == CONTAINER_PREFILLED_SYRINGE && product->volume.given &&
	    quantity_compare(product->volume.quantity, (struct quantity){syringe->graduated, UNIT_ML}) > 0)
		findings_add(checking->findings, FINDING_STOP, "volume-over-syringe", product->volume.place,
		             "'%s' comes filled with more than '%s' holds; mend 'volume' or 'syringe'", product->id,
		             syringe->id);
}

/* ---- what the record of a product leaves out ---- */

/*
 * A pen's needles are counted in any case; a filled syringe without a scale of ours may have its needle on. What was
 * drawn through a filter or with a thick needle is not injected with it: then the other one must be known.
 */
static void check_needle(const struct checking *checking, const struct medicine *medicine, const struct draw *draw)
{
	const struct product *product = draw->product;
	const struct syringe *syringe = draw->mark.syringe;
	if (draw->measure != MEASURE_SYRINGE || !syringe || syringe->fixed_needle ||
	    !route_by_needle(medicine->route) || product->giving_needle.given)
		return;
	if (draw_thick_needles(draw) > 0 || product_filters(product))
		findings_add(checking->findings, FINDING_STOP, "needle-unknown", product->place,
		             "'%s' is drawn with one needle and injected with another, which is not stated; add "
		             "'needles: {giving: ...}'",
		             product->id);
	else
		findings_add(checking->findings, FINDING_CAUTION, "needle-missing", product->place,
		             "'%s' is injected with '%s', which has no needle of its own, and none is stated; add "
		             "'needles: {giving: ...}'",
		             product->id, syringe->id);
}

/* A helper uncovers the needle to inject last; one that drew as well is bare while the patient lies down. */
static void check_bare_needle(const struct checking *checking, const struct medicine *medicine, const struct draw *draw)
{
	const struct product *product = draw->product;
	if (medicine->route == ROUTE_INTRAMUSCULAR && draw->measure == MEASURE_SYRINGE &&
	    product->container != CONTAINER_PREFILLED_SYRINGE && draw_thick_needles(draw) == 0 &&
	    !product_filters(product))
		findings_add(checking->findings, FINDING_CAUTION, "needle-bare", product->place,
		             "'%s' is drawn and injected with one needle, which is bare while the patient lies down "
		             "and the skin is wiped; add 'needles: {mixing: ...}'",
		             product->id);
}

/*
 * Under the skin needles are 1/2 to 5/8 inch long, 16 mm at most (SC-NUR of tests/published/sources.csv), into an adult's
 * muscle from 25 mm (from memory). Another length is a slip in the record, or the route is.
 */
enum { LONGEST_UNDER_SKIN = 16, SHORTEST_INTO_MUSCLE = 25 };

static void check_needle_length(const struct checking *checking, const struct medicine *medicine,
                                const struct product *product)
{
	const struct stated_quantity *length = &product->giving_needle.length;
	struct quantity in_mm;
	if (!product->giving_needle.given || !length->given || product->container == CONTAINER_PEN ||
	    !quantity_in(length->quantity, UNIT_MM, &in_mm))
		return;
	bool under_skin = medicine->route == ROUTE_SUBCUTANEOUS &&
	                  rational_compare(in_mm.number, rational_of(LONGEST_UNDER_SKIN, 1)) > 0;
	bool into_muscle = medicine->route == ROUTE_INTRAMUSCULAR &&
	                   rational_compare(in_mm.number, rational_of(SHORTEST_INTO_MUSCLE, 1)) < 0;
	if (under_skin || into_muscle)
		findings_add(
			checking->findings, FINDING_CAUTION, "needle-unlikely", length->place,
			"a needle of %s is unlikely %s, where %d mm is the usual %s; check it, and the 'route' of %s",
			quantity_plain(checking->arena, length->quantity, DECIMAL_POINT),
			under_skin ? "under the skin" : "into the muscle",
			under_skin ? LONGEST_UNDER_SKIN : SHORTEST_INTO_MUSCLE, under_skin ? "most" : "least",
			medicine->name);
}

static void check_displacement(const struct checking *checking, const struct draw *draw)
{
	const struct product *product = draw->product;
	if (product->container != CONTAINER_POWDER_VIAL || draw->measure != MEASURE_SYRINGE || draw->mark.all ||
	    product->displacement.given || product->concentration.given)
		return;
	findings_add(checking->findings, FINDING_CAUTION, "displacement-missing", product->place,
	             "the powder of '%s' is taken to add nothing to the liquid; copy the label's concentration once "
	             "mixed, or its 'displacement'",
	             product->id);
}

/* ---- the whole ---- */

static void check_draw(const struct checking *checking, const struct dose *dose, const struct draw *draw,
                       struct place place)
{
	const struct patient *patient = &checking->course->plan->patient;
	const struct medicine *medicine = dose->item->medicine;
	check_stand_in(checking, dose->item, draw->product, place);
	check_route(checking, medicine, draw->product);
	if (draw->product->syringe)
		check_syringe(checking, draw->product, draw->product->syringe);
	check_part_in_muscle(checking, medicine, draw);
	check_needle(checking, medicine, draw);
	check_bare_needle(checking, medicine, draw);
	check_needle_length(checking, medicine, draw->product);
	check_displacement(checking, draw);
	for (size_t j = 0; j < patient->n_allergies; j++)
		check_allergy(checking, medicine, draw->product, &patient->allergies[j]);
}

/*
 * The numbers of a pen and of the next one are known only when it is known what the first holds then. For an amount
 * that a call sets it is not: the amounts of the days before are not set yet, either.
 */
static void check_option_pens(const struct checking *checking, const struct dose *dose, size_t index)
{
	const struct dose_option *option = &dose->options[index];
	if (option->n_draws < 2 || option->draws[0].measure != MEASURE_DIAL)
		return;
	findings_add(
		checking->findings, FINDING_STOP, "call-needs-pens", dose->step->may_become[index].place,
		"%s takes '%s' %zu times, and what the pen in use holds on the day of the call is not known; take it "
		"out of 'may_become' and print a new version when it is ordered",
		quantity_plain(checking->arena, option->amount, checking->course->plan->clinic->mark),
		option->draws[0].product->id, option->n_draws);
}

static void check_used_products(const struct checking *checking, const struct dose *dose)
{
	for (size_t i = 0; i < dose->n_draws; i++)
		check_draw(checking, dose, &dose->draws[i], dose->place);
	for (size_t i = 0; i < dose->n_options; i++) {
		check_option_pens(checking, dose, i);
		for (size_t j = 0; j < dose->options[i].n_draws; j++)
			check_draw(checking, dose, &dose->options[i].draws[j], dose->step->may_become[i].place);
	}
}

void check_products(const struct checking *checking)
{
	const struct course *course = checking->course;
	check_changed_products(checking);
	check_two_products(checking);
	for (size_t i = 0; i < course->n_doses; i++)
		check_used_products(checking, &course->doses[i]);
}
