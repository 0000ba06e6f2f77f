#include "load/formulary.h"

#include "load/choices.h"

#include <string.h>

enum { LEAST_GAUGE = 10, MOST_GAUGE = 34, MOST_COUNT = 1000 };

/* Two amounts of which one cannot be more than the other; a digit too many shows here. */
static void check_not_above(const struct reader *reader, const struct stated_quantity *low, const char *low_name,
                            const struct stated_quantity *high, const char *high_name)
{
	if (!low->given || !high->given || !unit_converts(low->quantity.unit, high->quantity.unit) ||
	    quantity_compare(low->quantity, high->quantity) <= 0)
		return;
	refuse_value(reader, "contradiction", low->place, "'%s' is %s, which is more than '%s', %s; mend one", low_name,
	             quantity_plain(reader->arena, low->quantity, DECIMAL_POINT), high_name,
	             quantity_plain(reader->arena, high->quantity, DECIMAL_POINT));
}

struct limits read_limits(const struct reader *reader, const struct raw_limits *raw, struct place around)
{
	static const struct raw_limits none;
	struct place place = raw ? given_place(reader, raw->place) : around;
	if (!raw)
		raw = &none;
	struct limits limits = {
		.least = read_amount(reader, raw->least, place, OF_DOSE),
		.most = read_amount(reader, raw->most, place, OF_DOSE),
		.day_most = read_amount(reader, raw->day_most, place, OF_DOSE),
		.gap_least = read_amount(reader, raw->gap_least, place, OF_TIME),
		.gap_most = read_amount(reader, raw->gap_most, place, OF_TIME),
		.site_most = read_amount(reader, raw->site_most, place, OF_VOLUME),
		.place = place,
	};
	check_not_above(reader, &limits.least, "least", &limits.most, "most");
	check_not_above(reader, &limits.most, "most", &limits.day_most, "day_most");
	check_not_above(reader, &limits.gap_least, "gap_least", &limits.gap_most, "gap_most");
	return limits;
}

/* --- Parts of a product --- */

static struct liquid read_liquid(const struct reader *reader, const struct raw_liquid *raw, struct place around)
{
	if (!raw)
		return (struct liquid){.name.place = around, .place = around};
	struct place place = given_place(reader, raw->place);
	struct liquid liquid = {
		.given = true,
		.name = read_text(reader, raw->name, place),
		.supplied = read_amount(reader, raw->supplied, place, OF_VOLUME),
		.use = read_amount(reader, raw->use, place, OF_VOLUME),
		.comes_as = (enum liquid_vessel)read_choice(reader, raw->comes_as, choices_vessel, LIQUID_SYRINGE),
		.place = place,
	};
	check_not_above(reader, &liquid.use, "use", &liquid.supplied, "supplied");
	return liquid;
}

static struct share read_share(const struct reader *reader, const struct raw_share *raw, struct place around)
{
	if (!raw)
		return (struct share){.place = around};
	struct place place = given_place(reader, raw->place);
	read_choice(reader, raw->where, choices_share_place, 0);
	return (struct share){
		.given = true,
		.policy = read_string(reader, raw->policy),
		.keep = read_amount(reader, raw->keep, place, OF_TIME),
		.where = read_string(reader, raw->where),
		.how = (enum share_way)read_choice(reader, raw->how, choices_share_way, SHARE_FROM_VIAL),
		.place = place,
	};
}

static struct dial read_dial(const struct reader *reader, const struct raw_dial *raw, struct place around)
{
	if (!raw)
		return (struct dial){.place = around};
	struct place place = given_place(reader, raw->place);
	struct dial dial = {
		.given = true,
		.step = read_amount(reader, raw->step, place, OF_MEDICINE | OF_VOLUME),
		.least = read_amount(reader, raw->least, place, OF_MEDICINE | OF_VOLUME),
		.most = read_amount(reader, raw->most, place, OF_MEDICINE | OF_VOLUME),
		.priming = read_amount_or_zero(reader, raw->priming, place, OF_MEDICINE | OF_VOLUME),
		.place = place,
	};
	check_not_above(reader, &dial.step, "step", &dial.most, "most");
	check_not_above(reader, &dial.least, "least", &dial.most, "most");
	return dial;
}

static struct needle read_needle(const struct reader *reader, const struct raw_needle *raw)
{
	if (!raw)
		return (struct needle){.given = false};
	struct place place = given_place(reader, raw->place);
	return (struct needle){
		.given = true,
		.gauge = read_whole(reader, raw->gauge, place, LEAST_GAUGE, MOST_GAUGE),
		.length = read_amount(reader, raw->length, place, OF_LENGTH),
	};
}

static const struct syringe *find_syringe(const struct reader *reader, const struct formulary_names *names,
                                          const char *raw)
{
	struct stated_string name = given_string(reader, raw, (struct place){0});
	struct nearest nearest = nearest_to(name.text ? name.text : "");
	if (!name.text)
		return NULL;
	for (size_t i = 0; i < names->n_syringes; i++) {
		const char *id = names->syringes[i].id;
		if (strcmp(id, name.text) == 0)
			return &names->syringes[i];
		nearest_offer(&nearest, id);
	}
	if (names->syringes_known)
		refuse_unknown_name(reader, "unknown-syringe", "syringe", &name, "", &nearest);
	return NULL;
}

static struct in_box read_in_box(const struct reader *reader, const struct raw_in_box *raw,
                                 const struct formulary_names *names)
{
	struct in_box box = {.place = given_place(reader, raw->place), .count = 1};
	const struct exclusive kinds[] = {
		{"needle", raw->needle != NULL}, {"syringe", raw->syringe != NULL}, {"swab", raw->swab != NULL}};
	if (check_exclusive(reader, kinds, 3, box.place) == 0)
		refuse_value(reader, "missing-key", box.place,
		             "an entry of 'comes_with' lacks what it is; write 'needle', 'syringe' or 'swab'");
	if (raw->needle) {
		box.kind = BOX_NEEDLE;
		read_choice(reader, raw->needle, choices_box_needle, 0);
		box.needle = read_string(reader, raw->needle);
	} else if (raw->syringe) {
		box.kind = BOX_SYRINGE;
		box.syringe = find_syringe(reader, names, raw->syringe);
	} else {
		box.kind = BOX_SWAB;
		box.count = read_whole(reader, raw->swab, box.place, 1, MOST_COUNT).number;
	}
	return box;
}

static void read_comes_with(const struct reader *reader, const struct raw_product *raw,
                            const struct formulary_names *names, struct product *product)
{
	struct in_box *list = arena_alloc(reader->arena, (raw->comes_with_count + 1) * sizeof *list);
	for (unsigned i = 0; i < raw->comes_with_count; i++)
		list[i] = read_in_box(reader, &raw->comes_with[i], names);
	product->comes_with = list;
	product->n_comes_with = raw->comes_with_count;
}

/* --- Strength --- */

/* "250 mcg" for a container, "5 mg/mL" for a liquid, "1 tablet" for a counted form. */
static void read_strength(const struct reader *reader, const struct raw_product *raw, struct product *product)
{
	const char *text = read_string(reader, raw->strength);
	struct place around = product->place;
	bool counted = product->container == CONTAINER_COUNTED;
	product->per_ml.place = product->strength.place = around;
	if (!text)
		return;
	bool per_volume = strchr(text, '/') != NULL || strstr(text, " per ") != NULL;
	if (!per_volume) {
		product->strength =
			read_amount(reader, raw->strength, around, counted ? OF(DIMENSION_COUNT) : OF_MEDICINE);
		return;
	}
	product->per_ml = read_concentration(reader, raw->strength, around);
	product->strength.place = product->per_ml.place;
	if (!counted && product->container != CONTAINER_POWDER_VIAL)
		return;
	refuse_value(reader, "wrong-dimension", product->per_ml.place,
	             "'%s' is a concentration, and one container's amount belongs here; write that", text);
}

/* The patient compares the box's words with the sheet's: they may differ in unit, never in amount. */
static void check_box_says(const struct reader *reader, const struct product *product)
{
	struct quantity says;
	struct quantity_fault fault;
	if (!product->box_says.text || !product->strength.given ||
	    !quantity_read(reader->arena, product->box_says.text, DECIMAL_POINT, &says, &fault) ||
	    !unit_converts(says.unit, product->strength.quantity.unit) ||
	    quantity_same(says, product->strength.quantity))
		return;
	refuse_value(reader, "box-differs", product->box_says.place,
	             "the box says '%s' and the strength is %s; look at the box and mend one", product->box_says.text,
	             quantity_plain(reader->arena, product->strength.quantity, DECIMAL_POINT));
}

static void check_also_labelled(const struct reader *reader, const struct product *product)
{
	const struct stated_quantity *also = &product->also_labelled;
	const struct stated_quantity *strength = product->strength.given ? &product->strength : &product->per_ml;
	if (also->given && strength->given && unit_converts(also->quantity.unit, strength->quantity.unit))
		refuse_value(
			reader, "wrong-dimension", also->place,
			"'also_labelled' has the dimension of 'strength'; it is for a second strength in another one");
}

/* --- What a kind of container cannot do without --- */

static void need(const struct reader *reader, const struct product *product, const char *key, bool given)
{
	if (!given)
		refuse_value(reader, "missing-key", product->place, "'%s' lacks the key '%s', which a %s needs; add it",
		             *product->id ? product->id : "product", key, container_kind_name(product->container));
}

static void warn_needless(const struct reader *reader, const struct product *product, const char *key,
                          struct place place, bool given)
{
	if (given)
		findings_add(reader->findings, FINDING_CAUTION, "needless-key", place,
		             "'%s' has no meaning for a %s; delete it, or mend 'container'", key,
		             container_kind_name(product->container));
}

/* Without the volume nobody knows what is in it; a filled syringe that is only given whole says it all by its strength. */
static bool needs_volume(const struct product *product)
{
	enum container_kind container = product->container;
	if (container == CONTAINER_PREFILLED_SYRINGE || container == CONTAINER_PEN)
		return product->per_ml.given || product->part != PART_NOT_STATED;
	return container == CONTAINER_SOLUTION_VIAL || container == CONTAINER_AMPOULE;
}

static void check_container(const struct reader *reader, const struct raw_product *raw, const struct product *product)
{
	enum container_kind container = product->container;
	bool powder = container == CONTAINER_POWDER_VIAL;
	if (!raw->container)
		return;
	if (powder)
		need(reader, product, "diluent", raw->diluent != NULL);
	if (container == CONTAINER_PEN)
		need(reader, product, "dial", raw->dial != NULL);
	if (needs_volume(product))
		need(reader, product, "volume", raw->volume != NULL);
	warn_needless(reader, product, "diluent", product->diluent.place, raw->diluent && !powder);
	warn_needless(reader, product, "displacement", product->displacement.place, raw->displacement && !powder);
	warn_needless(reader, product, "volume", product->volume.place,
	              raw->volume && (powder || container == CONTAINER_COUNTED));
	warn_needless(reader, product, "dial", product->dial.place, raw->dial && container != CONTAINER_PEN);
	warn_needless(reader, product, "part", given_place(reader, raw->part),
	              raw->part && container != CONTAINER_PREFILLED_SYRINGE);
	warn_needless(reader, product, "divisible", given_place(reader, raw->divisible),
	              raw->divisible && container != CONTAINER_COUNTED);
	if (powder && product->draw_with == DRAW_WITH_LIQUID_SYRINGE && raw->diluent &&
	    product->diluent.comes_as != LIQUID_SYRINGE)
		refuse_value(reader, "contradiction", given_place(reader, raw->draw_with),
		             "'draw_with' is 'diluent-syringe', and the liquid does not come in one; mend one");
}

/* --- A product --- */

/* What a patient counts: in seconds, whatever it was written in. */
static struct stated_quantity read_seconds(const struct reader *reader, const char *raw, struct place around)
{
	struct stated_quantity stated = read_amount(reader, raw, around, OF_TIME);
	if (stated.given && !quantity_in(stated.quantity, UNIT_SECOND, &stated.quantity)) {
		refuse_value(reader, "bad-number", stated.place, "'%s' is too long to count; write it in seconds",
		             read_string(reader, raw));
		stated.given = false;
	}
	return stated;
}

const char *usual_technique(struct arena *arena, const struct product *product)
{
	static const struct {
		enum unit unit;
		const char *form;
	} forms[] = {{UNIT_TABLET, "tablet"}, {UNIT_CAPSULE, "capsule"}, {UNIT_PATCH, "patch"},
	             {UNIT_INSERT, "insert"}, {UNIT_SPRAY, "spray"},     {UNIT_PUFF, "spray"},
	             {UNIT_DROP, "drops"},    {UNIT_SACHET, "sachet"}};
	const char *container = container_kind_name(product->container);
	for (size_t i = 0; product->container == CONTAINER_COUNTED && i < sizeof forms / sizeof *forms; i++)
		if (product->strength.given && product->strength.quantity.unit == forms[i].unit)
			return arena_printf(arena, "%s-%s", container, forms[i].form);
	return container;
}

/* The label's or the clinic's word on technique. */
static void read_technique(const struct reader *reader, const struct raw_product *raw, struct product *product)
{
	struct place around = product->place;
	product->technique = raw->technique ? read_id(reader, raw->technique) : usual_technique(reader->arena, product);
	product->air = (enum air)read_choice(reader, raw->air, choices_air, AIR_NONE);
	product->swap_surplus = read_flag(reader, raw->swap_surplus, false);
	product->hold = read_seconds(reader, raw->hold, around);
	product->aspirate = read_flag(reader, raw->aspirate, false);
	product->skin_pull = read_flag(reader, raw->skin_pull, false);
	product->rub = read_flag(reader, raw->rub, false);
	product->test = (enum pen_test)read_choice(reader, raw->test, choices_pen_test, PEN_TEST_NONE);
	product->pen_end = (enum pen_end)read_choice(reader, raw->pen_end, choices_pen_end, PEN_END_NOT_STATED);
	product->start_line = read_amount(reader, raw->start_line, around, OF_VOLUME);
	product->prime = read_text(reader, raw->prime, around);
	product->spray_gap = read_seconds(reader, raw->spray_gap, around);
	product->cap = read_flag(reader, raw->cap, false);
	product->bubble = (enum bubble)read_choice(reader, raw->bubble, choices_bubble, BUBBLE_EXPEL);
	product->warm_up = read_amount(reader, raw->warm_up, around, OF_TIME);
	product->wear = read_amount(reader, raw->wear, around, OF_TIME);
	product->halves = read_choice(reader, raw->divisible, choices_division, false);
	product->storage = read_text(reader, raw->storage, around);
}

static void read_mixing(const struct reader *reader, const struct raw_product *raw, struct product *product)
{
	struct place around = product->place;
	product->diluent = read_liquid(reader, raw->diluent, around);
	product->displacement = read_amount_or_zero(reader, raw->displacement, around, OF_VOLUME);
	product->powders_per_diluent = 1;
	if (raw->powders_per_diluent)
		product->powders_per_diluent =
			read_whole(reader, raw->powders_per_diluent, around, 1, MOST_COUNT).number;
	product->mix = (enum mixing)read_choice(reader, raw->mix, choices_mix, MIX_SWIRL);
	product->draw_with = (enum draw_with)read_choice(reader, raw->draw_with, choices_draw_with, DRAW_WITH_OWN);
}

static void read_needles(const struct reader *reader, const struct raw_needles *raw, struct product *product)
{
	if (!raw)
		return;
	product->mixing_needle = read_needle(reader, raw->mixing);
	product->giving_needle = read_needle(reader, raw->giving);
	product->filter_needle = read_flag(reader, raw->filter, false);
}

static struct product read_product(const struct reader *reader, const struct raw_product *raw,
                                   const struct formulary_names *names)
{
	struct product product = {.place = given_place(reader, raw->place)};
	struct place around = product.place;
	product.id = read_id(reader, raw->id);
	product.container =
		(enum container_kind)read_choice(reader, raw->container, choices_container, CONTAINER_SOLUTION_VIAL);
	read_strength(reader, raw, &product);
	product.volume = read_amount(reader, raw->volume, around, OF_VOLUME);
	product.concentration = read_concentration(reader, raw->concentration, around);
	product.box_says = given_string(reader, raw->box_says, around);
	product.also_labelled = read_amount(reader, raw->also_labelled, around, OF_MEDICINE);
	read_mixing(reader, raw, &product);
	product.whole_to_mark = read_choice(reader, raw->whole, choices_whole, false);
	product.part = (enum part_way)read_choice(reader, raw->part, choices_part, PART_NOT_STATED);
	product.share = read_share(reader, raw->share, around);
	product.in_use = read_days(reader, raw->in_use, around);
	product.dial = read_dial(reader, raw->dial, around);
	product.span = read_flag(reader, raw->span, false);
	product.loss = read_amount_or_zero(reader, raw->loss, around, OF_VOLUME | OF_MEDICINE);
	product.contains = read_strings(reader, raw->contains, raw->contains_count);
	product.n_contains = raw->contains_count;
	read_comes_with(reader, raw, names, &product);
	read_needles(reader, raw->needles, &product);
	product.syringe = find_syringe(reader, names, raw->syringe);
	read_technique(reader, raw, &product);
	product.stands_in_for = read_strings(reader, raw->stands_in_for, raw->stands_in_for_count);
	product.n_stands_in_for = raw->stands_in_for_count;
	check_box_says(reader, &product);
	check_also_labelled(reader, &product);
	check_container(reader, raw, &product);
	return product;
}

/* --- A medicine --- */

/* Beyond it a line would be taken that is no measure of the order; common practice, no source. */
enum { MOST_ROUNDING = 10 };

static struct rounding read_rounding(const struct reader *reader, const struct raw_rounding *raw, struct place around)
{
	if (!raw)
		return (struct rounding){.place = around};
	struct rounding rounding = {.given = true, .place = given_place(reader, raw->place)};
	read_choice(reader, raw->to, choices_rounding_aim, 0);
	struct stated_quantity most = read_amount(reader, raw->most, rounding.place, OF(DIMENSION_RATIO));
	rounding.most = rational_of(0, 1);
	if (most.given && rational_compare(most.quantity.number, rational_of(MOST_ROUNDING, 1)) > 0)
		refuse_value(reader, "rounding-too-wide", most.place,
		             "a dose that is rounded by up to %s is another dose; allow at most %d %%",
		             quantity_plain(reader->arena, most.quantity, DECIMAL_POINT), MOST_ROUNDING);
	if (most.given && !rational_divide(most.quantity.number, rational_of(100, 1), &rounding.most))
		refuse_value(reader, "bad-number", most.place,
		             "this part of a dose is not sensible; write one as in '2 %%'");
	return rounding;
}

static struct medicine read_medicine(const struct reader *reader, const struct raw_medicine *raw,
                                     const struct formulary_names *names)
{
	struct medicine medicine = {.place = given_place(reader, raw->place)};
	medicine.id = read_id(reader, raw->id);
	medicine.name = read_string(reader, raw->name);
	medicine.purpose = read_text(reader, raw->purpose, medicine.place);
	medicine.route = (enum route)read_choice(reader, raw->route, choices_route, ROUTE_SUBCUTANEOUS);
	medicine.sites = read_strings(reader, raw->sites, raw->sites_count);
	medicine.n_sites = raw->sites_count;
	medicine.limits = read_limits(reader, raw->limits, medicine.place);
	medicine.two_sites = read_flag(reader, raw->two_sites, false);
	medicine.missed = read_text(reader, raw->missed, medicine.place);
	medicine.rounding = read_rounding(reader, raw->rounding, medicine.place);

	struct text *cautions = arena_alloc(reader->arena, (raw->cautions_count + 1) * sizeof *cautions);
	for (unsigned i = 0; i < raw->cautions_count; i++)
		cautions[i] = read_text(reader, &raw->cautions[i], medicine.place);
	medicine.cautions = cautions;
	medicine.n_cautions = raw->cautions_count;

	struct product *products = arena_alloc(reader->arena, (raw->products_count + 1) * sizeof *products);
	for (unsigned i = 0; i < raw->products_count; i++)
		products[i] = read_product(reader, &raw->products[i], names);
	medicine.products = products;
	medicine.n_products = raw->products_count;
	return medicine;
}

/* --- Ids and references across the file --- */

static const struct product *product_before(const struct medicine *medicines, size_t last, size_t product,
                                            const char *id)
{
	for (size_t i = 0; i <= last; i++) {
		size_t n = i < last ? medicines[i].n_products : product;
		for (size_t j = 0; j < n; j++)
			if (strcmp(medicines[i].products[j].id, id) == 0)
				return &medicines[i].products[j];
	}
	return NULL;
}

static void check_new_ids(const struct reader *reader, const struct medicine *medicines, size_t n)
{
	for (size_t i = 0; i < n; i++) {
		const struct medicine *medicine = &medicines[i];
		for (size_t j = 0; j < i; j++)
			if (strcmp(medicines[j].id, medicine->id) == 0)
				refuse_second(reader, "medicine", medicine->id, medicine->place, medicines[j].place);
		for (size_t j = 0; j < medicine->n_products; j++) {
			const struct product *product = &medicine->products[j];
			const struct product *first = product_before(medicines, i, j, product->id);
			if (first)
				refuse_second(reader, "product", product->id, product->place, first->place);
		}
	}
}

/* True where another product has this id; offers each. */
static bool is_other_product(const struct medicine *medicines, size_t n, const struct product *product, const char *id,
                             struct nearest *nearest)
{
	for (size_t i = 0; i < n; i++) {
		for (size_t j = 0; j < medicines[i].n_products; j++) {
			const struct product *other = &medicines[i].products[j];
			if (other == product)
				continue;
			if (strcmp(other->id, id) == 0)
				return true;
			nearest_offer(nearest, other->id);
		}
	}
	return false;
}

static void check_stand_ins(const struct reader *reader, const struct raw_medicine *raw,
                            const struct medicine *medicine, const struct medicine *medicines, size_t n)
{
	for (unsigned i = 0; i < raw->products_count; i++) {
		const struct raw_product *product = &raw->products[i];
		for (unsigned j = 0; j < product->stands_in_for_count; j++) {
			struct stated_string name = given_string(reader, product->stands_in_for[j], medicine->place);
			struct nearest nearest = nearest_to(name.text);
			if (!is_other_product(medicines, n, &medicine->products[i], name.text, &nearest))
				refuse_unknown_name(reader, "unknown-product", "product", &name, " beside this one",
				                    &nearest);
		}
	}
}

struct medicine *read_medicines(const struct reader *reader, const struct raw_formulary *raw,
                                const struct formulary_names *names, size_t *n)
{
	struct medicine *list = arena_alloc(reader->arena, (raw->medicines_count + 1) * sizeof *list);
	*n = raw->medicines_count;
	for (unsigned i = 0; i < raw->medicines_count; i++)
		list[i] = read_medicine(reader, &raw->medicines[i], names);
	for (unsigned i = 0; i < raw->medicines_count; i++)
		check_stand_ins(reader, &raw->medicines[i], &list[i], list, *n);
	check_new_ids(reader, list, *n);
	return list;
}
