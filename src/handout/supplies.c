/*
 * supplies.c - what the course needs, what is at home, what is to get.
 */
#include "handout/build.h"

#include <string.h>

/* "box says 250 mcg", "vial, 28 days once open". */
static const char *product_detail(struct build *build, const struct product *product)
{
	struct speaker *speaker = build->speaker;
	const char *kind =
		say0(speaker, arena_printf(build->arena, "kind.%s.short", container_kind_name(product->container)));
	const char *strength = product->box_says.text != NULL ? product->box_says.text
	                       : product->strength.given      ? say_amount(speaker, product->strength.quantity)
	                       : product->per_ml.given        ? say1(speaker, "strength.per_ml", "amount",
	                                                             say_amount(speaker, product->per_ml.quantity))
	                                                      : "";
	if (product->in_use.given) {
		struct value values[] = {
			{"kind", kind},
			{"strength", strength},
			{"time", quantity_print(build->arena, product->in_use.quantity, build->clinic->mark)}};
		return say(speaker, "supplies.detail_in_use", values, 3);
	}
	return say2(speaker, "supplies.detail", "kind", kind, "strength", strength);
}

static struct supply_row row_of_product(struct build *build, const struct product_supply *supply)
{
	const struct product *product = supply->product;
	bool has_place = product->share.given && product->share.where != NULL;
	return (struct supply_row){
		.pictogram = picture_of_product(product),
		.name = supply->medicine->name,
		.detail = product_detail(build, product),
		.where_picture = has_place ? picture_of_place(product->share.where) : PICTURE_NONE,
		.where = product->storage.n == 0 ? NULL
	                                         : say_text(build->speaker, product->storage, "the product's storage"),
		.need = supply->needed,
		.have = supply->dispensed,
		.get = supply->to_get};
}

static const struct {
	enum pictogram picture;
	const char *key;
} kit_looks[] = {
	[KIT_SYRINGE] = {PICTURE_EMPTY_SYRINGE, "kit.syringe"},
	[KIT_NEEDLE_MIXING] = {PICTURE_THICK_NEEDLE, "kit.needle_mixing"},
	[KIT_NEEDLE_GIVING] = {PICTURE_THIN_NEEDLE, "kit.needle_giving"},
	[KIT_NEEDLE_PEN] = {PICTURE_PEN_NEEDLE, "kit.needle_pen"},
	[KIT_SWAB] = {PICTURE_WIPE, "kit.swab"},
	[KIT_CAP] = {PICTURE_EMPTY_SYRINGE, "kit.cap"},
	[KIT_SHARPS_BOX] = {PICTURE_SHARPS_BOX, "kit.sharps_box"},
};

static const char *kit_detail(struct build *build, const struct kit_supply *kit)
{
	struct speaker *speaker = build->speaker;
	if ((kit->kind == KIT_NEEDLE_MIXING || kit->kind == KIT_NEEDLE_GIVING) && kit->needle.length.given)
		return say1(speaker, "kit.needle_length", "length",
		            quantity_print(build->arena, kit->needle.length.quantity, build->clinic->mark));
	if (kit->in_boxes > 0)
		return say_count(speaker, "kit.in_boxes", kit->in_boxes, NO_VALUES);
	return say0(speaker, arena_printf(build->arena, "%s.detail", kit_looks[kit->kind].key));
}

static struct supply_row row_of_kit(struct build *build, const struct kit_supply *kit)
{
	const char *name = kit->kind == KIT_SYRINGE && kit->syringe != NULL
	                           ? say_text(build->speaker, kit->syringe->name, "the syringe's name")
	                           : say0(build->speaker, kit_looks[kit->kind].key);
	return (struct supply_row){.pictogram = kit_looks[kit->kind].picture,
	                           .name = name,
	                           .detail = kit_detail(build, kit),
	                           .need = kit->needed,
	                           .have = kit->in_boxes,
	                           .get = kit->to_get};
}

static void fill_groups(struct build *build, struct supplies_sheet *sheet)
{
	const struct course *course = build->course;
	struct supply_group *groups = arena_alloc(build->arena, 2 * sizeof *groups);
	struct supply_row *medicines = arena_alloc(build->arena, course->n_supplies * sizeof *medicines);
	struct supply_row *kit = arena_alloc(build->arena, course->n_kit * sizeof *kit);
	for (size_t i = 0; i < course->n_supplies; i++)
		medicines[i] = row_of_product(build, &course->supplies[i]);
	for (size_t i = 0; i < course->n_kit; i++)
		kit[i] = row_of_kit(build, &course->kit[i]);
	groups[0] = (struct supply_group){say0(build->speaker, "supplies.medicines"), medicines, course->n_supplies};
	groups[1] = (struct supply_group){say0(build->speaker, "supplies.kit"), kit, course->n_kit};
	sheet->groups = groups;
	sheet->n_groups = course->n_kit > 0 ? 2 : 1;
}

/* What runs out first, and every other product that does. */
static void fill_short(struct build *build, struct supplies_sheet *sheet)
{
	const struct course *course = build->course;
	const struct product_supply *soonest = NULL;
	const char *rest = NULL;
	for (size_t i = 0; i < course->n_supplies; i++) {
		const struct product_supply *supply = &course->supplies[i];
		if (!supply->runs_short)
			continue;
		if (soonest == NULL || date_compare(supply->short_from, soonest->short_from) < 0)
			soonest = supply;
	}
	if (soonest == NULL)
		return;
	for (size_t i = 0; i < course->n_supplies; i++) {
		const struct product_supply *supply = &course->supplies[i];
		if (!supply->runs_short || supply == soonest)
			continue;
		const char *one = say2(build->speaker, "supplies.also", "name", supply->medicine->name, "date",
		                       say_date(build->speaker, supply->short_from, DATE_SHORT));
		rest = rest == NULL ? one : arena_printf(build->arena, "%s %s", rest, one);
	}
	sheet->first_line = say2(build->speaker, "supplies.first", "name", soonest->medicine->name, "date",
	                         say_date(build->speaker, soonest->short_from, DATE_SHORT));
	sheet->second_line = rest == NULL ? say0(build->speaker, "supplies.ask") : rest;
}

const struct supplies_sheet *supplies_sheet_of(struct build *build)
{
	struct supplies_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	struct speaker *speaker = build->speaker;
	sheet->title = say0(speaker, "supplies.title");
	sheet->lead = build->course->has_days ? say1(speaker, "supplies.lead", "date",
	                                             say_date(speaker, build->course->last, DATE_LONG))
	                                      : say0(speaker, "supplies.lead_undated");
	sheet->have_word = say0(speaker, "supplies.have_word");
	sheet->get_each_word = say0(speaker, "supplies.get_word");
	sheet->need_heading = say0(speaker, "supplies.need");
	sheet->have_heading = say0(speaker, "supplies.have");
	sheet->get_heading = say0(speaker, "supplies.get");
	fill_groups(build, sheet);
	fill_short(build, sheet);
	return sheet;
}
