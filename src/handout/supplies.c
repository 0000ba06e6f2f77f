/*
 * supplies.c - what the course needs, what is at home, what is to get.
 */
#include "handout/build.h"

#include "plan/draw.h"

#include <string.h>

static const char *line_below(struct build *build, const char *above, const char *line)
{
	return arena_printf(build->arena, "%s\n%s", above, line);
}

static bool is_primed(const struct product *product)
{
	return product->dial.given && product->dial.priming.given &&
	       !rational_is_zero(product->dial.priming.quantity.number);
}

/* "1 tablet", "half a tablet or 1 tablet": what is taken at a time; NULL where no day's amount is known. */
static const char *each_time(struct build *build, const struct product *product)
{
	struct speaker *speaker = build->speaker;
	const struct course *course = build->course;
	const char **amounts = NULL;
	const char *all = NULL;
	size_t n = 0;
	for (size_t i = 0; i < course->n_doses; i++)
		for (size_t j = 0; j < course->doses[i].n_draws; j++) {
			const struct draw *draw = &course->doses[i].draws[j];
			if (draw->product != product || draw->measure != MEASURE_COUNT)
				continue;
			const char *amount = say_amount(speaker, draw->count);
			bool known = false;
			for (size_t k = 0; k < n; k++)
				known = known || strcmp(amounts[k], amount) == 0;
			if (known)
				continue;
			amounts = arena_more(build->arena, amounts, n, sizeof *amounts);
			amounts[n++] = amount;
			all = all == NULL ? amount : say2(speaker, "list.or", "first", all, "last", amount);
		}
	return all;
}

/* What is counted out is counted here in packs, which may be single pieces. */
static const char *counted_detail(struct build *build, const struct product *product)
{
	struct speaker *speaker = build->speaker;
	bool single = rational_compare(product->strength.quantity.number, rational_of(1, 1)) == 0;
	const char *amount = say_amount(speaker, product->strength.quantity);
	const char *pack = single ? say0(speaker, "supplies.single") : say1(speaker, "supplies.pack", "amount", amount);
	const char *each = each_time(build, product);
	return each == NULL ? pack : say2(speaker, "supplies.each_time", "what", pack, "amount", each);
}

static const char *container_detail(struct build *build, const struct product *product)
{
	struct speaker *speaker = build->speaker;
	const char *detail = packed_words(build, speaker, product);
	const char *liquid = liquid_words(speaker, product);
	if (liquid != NULL)
		detail = line_below(build, detail, say1(speaker, "supplies.liquid", "liquid", liquid));
	if (product->in_use.given)
		detail = line_below(
			build, detail,
			say1(speaker, "supplies.in_use", "time", say_amount(speaker, product->in_use.quantity)));
	return detail;
}

/* What its label says, what comes with it, what the test of a pen takes besides; then where it is kept. */
static const char *product_detail(struct build *build, const struct product *product)
{
	struct speaker *speaker = build->speaker;
	const char *detail = product->container == CONTAINER_COUNTED ? counted_detail(build, product)
	                                                             : container_detail(build, product);
	if (is_primed(product))
		detail = line_below(
			build, detail,
			say1(speaker, product->test == PEN_TEST_FIRST ? "supplies.priming_first" : "supplies.priming",
		             "amount", say_amount(speaker, product->dial.priming.quantity)));
	if (product->storage.n > 0)
		detail = line_below(build, detail, say_text(speaker, product->storage, "the product's storage"));
	return detail;
}

/* What its counts count: packs of several pieces are boxes. NULL: nothing more than its name says. */
static const char *unit_of_product(const struct product *product)
{
	static const char *const units[] = {
		[CONTAINER_POWDER_VIAL] = "supplies.unit.vial", [CONTAINER_SOLUTION_VIAL] = "supplies.unit.vial",
		[CONTAINER_AMPOULE] = "supplies.unit.ampoule",  [CONTAINER_PREFILLED_SYRINGE] = "supplies.unit.syringe",
		[CONTAINER_PEN] = "supplies.unit.pen",          [CONTAINER_COUNTED] = "supplies.unit.box"};
	static const struct {
		enum unit unit;
		const char *key;
	} pieces[] = {{UNIT_TABLET, "supplies.unit.tablet"},
	              {UNIT_CAPSULE, "supplies.unit.capsule"},
	              {UNIT_PATCH, "supplies.unit.patch"},
	              {UNIT_INSERT, "supplies.unit.insert"},
	              {UNIT_SACHET, "supplies.unit.sachet"}};
	if (product->container != CONTAINER_COUNTED ||
	    rational_compare(product->strength.quantity.number, rational_of(1, 1)) != 0)
		return units[product->container];
	for (size_t i = 0; i < sizeof pieces / sizeof *pieces; i++)
		if (pieces[i].unit == product->strength.quantity.unit)
			return pieces[i].key;
	return NULL;
}

static struct supply_row row_of_product(struct build *build, const struct product_supply *supply)
{
	return (struct supply_row){.pictogram = picture_of_product(supply->product),
	                           .name = supply->medicine->name,
	                           .detail = product_detail(build, supply->product),
	                           .unit = unit_of_product(supply->product),
	                           .need = supply->needed_ahead,
	                           .have = supply->at_hand,
	                           .get = supply->to_get_ahead};
}

static const struct {
	enum pictogram picture;
	const char *key;
} kit_looks[] = {
	[KIT_SYRINGE] = {PICTURE_EMPTY_SYRINGE, "kit.syringe"},
	[KIT_NEEDLE_MIXING] = {PICTURE_THICK_NEEDLE, "kit.needle_mixing"},
	[KIT_NEEDLE_GIVING] = {PICTURE_THIN_NEEDLE, "kit.needle_giving"},
	[KIT_NEEDLE_PEN] = {PICTURE_PEN_NEEDLE, "kit.needle_pen"},
	[KIT_NEEDLE_FILTER] = {PICTURE_FILTER_NEEDLE, "kit.needle_filter"},
	[KIT_SWAB] = {PICTURE_WIPE, "kit.swab"},
	[KIT_CAP] = {PICTURE_EMPTY_SYRINGE, "kit.cap"},
	[KIT_SHARPS_BOX] = {PICTURE_SHARPS_BOX, "kit.sharps_box"},
};

static const char *needle_words(struct build *build, const struct needle *needle)
{
	struct speaker *speaker = build->speaker;
	const char *length = needle->length.given
	                             ? quantity_print(build->arena, needle->length.quantity, build->clinic->mark)
	                             : NULL;
	if (!needle->gauge.given)
		return length == NULL ? NULL : say1(speaker, "kit.needle_length", "length", length);
	const char *gauge = say_number(speaker, rational_of(needle->gauge.number, 1));
	return length == NULL ? say1(speaker, "kit.needle_gauge", "gauge", gauge)
	                      : say2(speaker, "kit.needle_both", "gauge", gauge, "length", length);
}

/* Which one to get: the same name is on syringes of other sizes and of other strengths. */
static const char *unit_syringe_words(struct build *build, const struct syringe *syringe, const char *in_boxes)
{
	struct speaker *speaker = build->speaker;
	const char *which = say2(speaker, "kit.unit_syringe", "volume",
	                         say_amount(speaker, (struct quantity){syringe->capacity, UNIT_ML}), "strength",
	                         say_number(speaker, syringe->units_per_ml));
	return in_boxes == NULL ? which : line_below(build, which, in_boxes);
}

/* "Examplin, Folliplan": whose liquid comes in this syringe. */
static const char *names_filled(struct build *build, const struct syringe *syringe)
{
	const char *names = NULL;
	for (size_t i = 0; i < build->course->n_supplies; i++) {
		const struct product_supply *supply = &build->course->supplies[i];
		if (!in_liquid_syringe(supply->product) || supply->product->syringe != syringe ||
		    supply->needed_ahead == 0)
			continue;
		const char *name = supply->medicine->name;
		names = names == NULL ? name : say2(build->speaker, "list.comma", "first", names, "last", name);
	}
	return names == NULL ? "" : names;
}

/* What the boxes bring; NULL for nothing. Syringes with liquid in them are not read as spare empty ones. */
static const char *in_boxes_words(struct build *build, const struct kit_supply *kit)
{
	struct speaker *speaker = build->speaker;
	int64_t plain = kit->in_boxes - kit->filled;
	const char *words = plain > 0 ? say_count(speaker, "kit.in_boxes", plain, NO_VALUES) : NULL;
	if (kit->filled == 0)
		return words;
	struct value name = {"name", names_filled(build, kit->syringe)};
	const char *filled = say_count(speaker, "kit.in_boxes_filled", kit->filled, &name, 1);
	words = words == NULL ? filled : line_below(build, filled, words);
	return kit->to_get == 0 ? words : line_below(build, words, say0(speaker, "kit.get_empty"));
}

static const char *kit_detail(struct build *build, const struct kit_supply *kit)
{
	struct speaker *speaker = build->speaker;
	const char *needle = needle_words(build, &kit->needle);
	const char *in_boxes = in_boxes_words(build, kit);
	if (needle != NULL && in_boxes != NULL)
		return line_below(build, needle, in_boxes);
	if (kit->kind == KIT_SYRINGE && kit->syringe != NULL && kit->syringe->unit_scale)
		return unit_syringe_words(build, kit->syringe, in_boxes);
	if (needle != NULL || in_boxes != NULL)
		return needle != NULL ? needle : in_boxes;
	return say0(speaker, arena_printf(build->arena, "%s.detail", kit_looks[kit->kind].key));
}

static struct supply_row row_of_kit(struct build *build, const struct kit_supply *kit)
{
	const char *name = kit->kind == KIT_SYRINGE && kit->syringe != NULL
	                           ? say_capital(build->speaker, say_syringe(build->speaker, kit->syringe))
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
	struct supply_row *kit = arena_alloc(build->arena, course->n_kit_ahead * sizeof *kit);
	size_t n_medicines = 0;
	for (size_t i = 0; i < course->n_supplies; i++)
		if (course->supplies[i].needed_ahead > 0 || course->supplies[i].needed == 0)
			medicines[n_medicines++] = row_of_product(build, &course->supplies[i]);
	for (size_t i = 0; i < course->n_kit_ahead; i++)
		kit[i] = row_of_kit(build, &course->kit_ahead[i]);
	groups[0] = (struct supply_group){say0(build->speaker, "supplies.medicines"), medicines, n_medicines};
	groups[1] = (struct supply_group){say0(build->speaker, "supplies.kit"), kit, course->n_kit_ahead};
	sheet->groups = groups;
	sheet->n_groups = course->n_kit_ahead > 0 ? 2 : 1;
}

/* "Examplin runs out before Tue 15 Dec."; of one that is not there at all, from when it is needed. */
static const char *short_words(struct build *build, const struct product_supply *supply)
{
	return say2(build->speaker, supply->dispensed > 0 ? "supplies.also" : "supplies.none", "name",
	            supply->medicine->name, "date", say_date(build->speaker, supply->short_from, DATE_SHORT));
}

static bool any_to_get_of(const struct supply_group *group)
{
	for (size_t i = 0; i < group->n_rows; i++)
		if (group->rows[i].get > 0)
			return true;
	return false;
}

static bool any_to_get(const struct supplies_sheet *sheet)
{
	for (size_t i = 0; i < sheet->n_groups; i++)
		if (any_to_get_of(&sheet->groups[i]))
			return true;
	return false;
}

/* "Does our call bring Examplin forward? Then ask us: it needs more." For each; NULL: for none. */
static const char *sooner_words(struct build *build)
{
	const char *said = NULL;
	for (size_t i = 0; i < build->course->n_runs; i++) {
		const struct item_run *run = &build->course->runs[i];
		if (!waiting_goes_beyond(run))
			continue;
		const char *one = say1(build->speaker, "supplies.sooner", "name", run->item->medicine->name);
		said = said == NULL ? one : arena_printf(build->arena, "%s %s", said, one);
	}
	return said;
}

/* What runs out first, then all others that do, then what to do when something breaks: the clinic's to say. */
static void fill_short(struct build *build, struct supplies_sheet *sheet)
{
	const struct course *course = build->course;
	const struct product_supply *soonest = NULL;
	const char *rest = NULL;
	for (size_t i = 0; i < course->n_supplies; i++) {
		const struct product_supply *supply = &course->supplies[i];
		if (supply->runs_short &&
		    (soonest == NULL || date_compare(supply->short_from, soonest->short_from) < 0))
			soonest = supply;
	}
	for (size_t i = 0; i < course->n_supplies; i++) {
		const struct product_supply *supply = &course->supplies[i];
		if (!supply->runs_short || supply == soonest)
			continue;
		const char *one = short_words(build, supply);
		rest = rest == NULL ? one : arena_printf(build->arena, "%s %s", rest, one);
	}
	const char *ask = say0(build->speaker, "supplies.ask");
	sheet->second_line = rest == NULL ? ask : arena_printf(build->arena, "%s %s", rest, ask);
	if (soonest == NULL) {
		sheet->first_line =
			say0(build->speaker, any_to_get(sheet) ? "supplies.get_ticked" : "supplies.all_there");
		return;
	}
	/* A medicine has its day; what any dose is given with has none of its own. */
	sheet->first_line = say1(build->speaker, "supplies.order", "what", short_words(build, soonest));
	if (sheet->n_groups == 2 && any_to_get_of(&sheet->groups[1]))
		sheet->first_line = arena_printf(build->arena, "%s %s", sheet->first_line,
		                                 say0(build->speaker, "supplies.get_kit"));
}

bool has_begun(const struct build *build)
{
	for (size_t i = 0; i < build->course->n_doses; i++)
		if (build->course->doses[i].done)
			return true;
	return false;
}

static const char *lead_of(struct build *build)
{
	struct speaker *speaker = build->speaker;
	if (!build->course->has_days)
		return say0(speaker, "supplies.lead_undated");
	const char *until = say_date(speaker, build->course->last, DATE_LONG);
	if (has_begun(build))
		return say2(speaker, "supplies.lead_from", "from",
		            say_date(speaker, build->plan->as_of.date, DATE_SHORT), "date",
		            say_date(speaker, build->course->last, DATE_SHORT));
	return say1(speaker, "supplies.lead", "date", until);
}

static const char *listed(struct speaker *speaker, const char *list, bool with, const char *key)
{
	if (!with)
		return list;
	return list == NULL ? say0(speaker, key)
	                    : say2(speaker, "list.comma", "first", list, "last", say0(speaker, key));
}

/* Glass is snapped in one, and a spray's tip wiped. */
static bool takes_tissue(const struct draw *draw)
{
	const struct product *product = draw->product;
	bool liquid = product->diluent.given && product->diluent.comes_as == LIQUID_AMPOULE && draw_opens(draw);
	bool spray =
		draw->measure == MEASURE_COUNT && (draw->count.unit == UNIT_SPRAY || draw->count.unit == UNIT_PUFF);
	return liquid || spray || product->container == CONTAINER_AMPOULE;
}

/* What steps take from home, where a dose is still to come: for tablets, and for the label of a shared vial. */
static const char *from_home(struct build *build)
{
	struct speaker *speaker = build->speaker;
	bool water = false;
	bool cutter = false;
	bool spoon = false;
	bool tissue = false;
	bool label = false;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		label = label || (!dose->done && dose->split);
		for (size_t j = 0; !dose->done && j < dose->n_draws; j++) {
			const struct draw *draw = &dose->draws[j];
			tissue = tissue || takes_tissue(draw);
			if (draw->measure != MEASURE_COUNT || dose->item->medicine->route != ROUTE_ORAL)
				continue;
			water = true;
			cutter = cutter || (draw->count.unit == UNIT_TABLET && !rational_is_whole(draw->count.number));
			spoon = spoon || draw->count.unit == UNIT_SACHET;
		}
	}
	const char *things = listed(speaker, NULL, water, "supplies.home_water");
	things = listed(speaker, things, cutter, "supplies.home_cutter");
	things = listed(speaker, things, spoon, "supplies.home_spoon");
	things = listed(speaker, things, tissue, "supplies.home_tissue");
	things = listed(speaker, things, label, "supplies.home_scissors");
	return things == NULL ? NULL : say1(speaker, "supplies.home", "things", things);
}

const struct supplies_sheet *supplies_sheet_of(struct build *build)
{
	struct supplies_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	struct speaker *speaker = build->speaker;
	sheet->title = say0(speaker, "supplies.title");
	sheet->lead = lead_of(build);
	sheet->have_word = say0(speaker, "supplies.have_word");
	sheet->get_each_word = say0(speaker, "supplies.get_word");
	sheet->none_word = say0(speaker, "supplies.get_none");
	sheet->need_heading = say0(speaker, "supplies.need");
	sheet->have_heading = say0(speaker, "supplies.have");
	sheet->get_heading = say0(speaker, "supplies.get");
	fill_groups(build, sheet);
	fill_short(build, sheet);
	const char *sooner = sooner_words(build);
	if (sooner != NULL)
		sheet->second_line = arena_printf(build->arena, "%s %s", sooner, sheet->second_line);
	const char *home = from_home(build);
	if (home != NULL)
		sheet->second_line = arena_printf(build->arena, "%s %s", home, sheet->second_line);
	if (has_begun(build))
		sheet->second_line =
			arena_printf(build->arena, "%s %s", say0(speaker, "supplies.left_over"), sheet->second_line);
	return sheet;
}
