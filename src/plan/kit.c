#include "plan/kit.h"

#include "plan/draw.h"

#include <string.h>

/*
 * The rows so far, one for each thing of each product: what comes in a box is for
 * the doses of that box. There are few kinds of anything in one course.
 */
struct kit_row {
	const struct product *product;
	struct kit_supply supply;
};

struct kit_list {
	struct arena *arena;
	const struct product *product; /* whose things are being counted */
	struct kit_row *rows;
	size_t n;
};

static bool same_needle(const struct needle *a, const struct needle *b)
{
	if (a->gauge.given != b->gauge.given || a->length.given != b->length.given)
		return false;
	if (a->gauge.given && a->gauge.number != b->gauge.number)
		return false;
	return !a->length.given || quantity_same(a->length.quantity, b->length.quantity);
}

static bool same_thing(const struct kit_supply *a, const struct kit_supply *b)
{
	return a->kind == b->kind && a->syringe == b->syringe && same_needle(&a->needle, &b->needle);
}

static struct kit_supply *row_of(struct kit_list *list, enum kit_kind kind, const struct syringe *syringe,
                                 const struct needle *needle)
{
	static const struct needle none = {.given = false};
	if (!needle)
		needle = &none;
	const struct kit_supply wanted = {.kind = kind, .syringe = syringe, .needle = *needle};
	for (size_t i = 0; i < list->n; i++)
		if (list->rows[i].product == list->product && same_thing(&list->rows[i].supply, &wanted))
			return &list->rows[i].supply;
	list->rows = arena_more(list->arena, list->rows, list->n, sizeof *list->rows);
	list->rows[list->n] = (struct kit_row){list->product, wanted};
	return &list->rows[list->n++].supply;
}

/* A prefilled syringe is its own; the liquid is measured with the same syringe where one serves both. */
static void count_syringes(struct kit_list *list, const struct draw *draw)
{
	if (draw->measure != MEASURE_SYRINGE || draw->product->container == CONTAINER_PREFILLED_SYRINGE)
		return;
	if (draw->mark.syringe)
		row_of(list, KIT_SYRINGE, draw->mark.syringe, NULL)->needed++;
	if (draw->has_add && draw->add.syringe != draw->mark.syringe)
		row_of(list, KIT_SYRINGE, draw->add.syringe, NULL)->needed++;
}

static void count_needles(struct kit_list *list, const struct draw *draw)
{
	const struct product *product = draw->product;
	if (draw->measure == MEASURE_DIAL) {
		row_of(list, KIT_NEEDLE_PEN, NULL, &product->giving_needle)->needed++;
		return;
	}
	bool fixed = draw->mark.syringe && draw->mark.syringe->fixed_needle;
	if (product->filter_needle)
		row_of(list, KIT_NEEDLE_FILTER, NULL, NULL)->needed++;
	if (draw_thick_needles(draw) > 0)
		row_of(list, KIT_NEEDLE_MIXING, NULL, &product->mixing_needle)->needed += draw_thick_needles(draw);
	if (product->giving_needle.given && !fixed)
		row_of(list, KIT_NEEDLE_GIVING, NULL, &product->giving_needle)->needed++;
}

static void count_draw(struct kit_list *list, const struct draw *draw)
{
	list->product = draw->product;
	if (draw->measure == MEASURE_COUNT)
		return;
	count_syringes(list, draw);
	count_needles(list, draw);
	row_of(list, KIT_SWAB, NULL, NULL)->needed += draw_wipes(draw);
}

/* The second of two syringes that are drawn at once is closed until its day: then only the skin is wiped. */
static void count_cap(struct kit_list *list, const struct dose *dose)
{
	if (dose->half != HALF_SECOND || dose->n_draws == 0 || dose->draws[0].product->share.how != SHARE_TWO_SYRINGES)
		return;
	row_of(list, KIT_CAP, NULL, NULL)->needed++;
	row_of(list, KIT_SWAB, NULL, NULL)->needed -= draw_wipes(&dose->draws[0]) - 1;
}

/* Of a dose that a call will set, as many as any of its amounts takes. */
static void count_dose(struct kit_list *list, const struct dose *dose)
{
	const struct draw *draws = dose->draws;
	size_t n = dose->n_draws;
	for (size_t i = 0; i < dose->n_options; i++) {
		if (dose->options[i].n_draws <= n)
			continue;
		draws = dose->options[i].draws;
		n = dose->options[i].n_draws;
	}
	for (size_t i = 0; i < n; i++)
		count_draw(list, &draws[i]);
	count_cap(list, dose);
}

static void count_boxes(struct kit_list *list, const struct product_supply *supply, int64_t boxes)
{
	const struct product *product = supply->product;
	bool syringe_listed = false;
	list->product = product;
	for (size_t i = 0; i < product->n_comes_with; i++) {
		const struct in_box *thing = &product->comes_with[i];
		int64_t count = thing->count * boxes;
		switch (thing->kind) {
		case BOX_SYRINGE:
			syringe_listed = true;
			row_of(list, KIT_SYRINGE, thing->syringe, NULL)->in_boxes += count;
			break;
		case BOX_NEEDLE:
			if (product->container == CONTAINER_PEN)
				row_of(list, KIT_NEEDLE_PEN, NULL, &product->giving_needle)->in_boxes += count;
			else if (strcmp(thing->needle, "mixing") == 0)
				row_of(list, KIT_NEEDLE_MIXING, NULL, &product->mixing_needle)->in_boxes += count;
			else
				row_of(list, KIT_NEEDLE_GIVING, NULL, &product->giving_needle)->in_boxes += count;
			break;
		case BOX_SWAB:
			row_of(list, KIT_SWAB, NULL, NULL)->in_boxes += count;
			break;
		}
	}
	/* The liquid's own syringe, which takes the medicine back, is in the box with the liquid. */
	bool liquid_syringe =
		product->draw_with == DRAW_WITH_LIQUID_SYRINGE && product->diluent.comes_as == LIQUID_SYRINGE;
	if (liquid_syringe && !syringe_listed && product->syringe)
		row_of(list, KIT_SYRINGE, product->syringe, NULL)->in_boxes += boxes;
}

/* Of each product no more of what its boxes bring than its doses take: the rest is no syringe for another medicine. */
static void add_to_all(struct kit_list *all, const struct kit_row *of_product)
{
	const struct kit_supply *own = &of_product->supply;
	struct kit_supply *row = row_of(all, own->kind, own->syringe, &own->needle);
	int64_t in_boxes = own->in_boxes < own->needed ? own->in_boxes : own->needed;
	row->needed += own->needed;
	row->in_boxes += in_boxes;
	if (own->kind == KIT_SYRINGE && in_liquid_syringe(of_product->product))
		row->filled += in_boxes;
	row->to_get = row->needed - row->in_boxes;
}

/* All products together, with a sharps box where there is any needle. */
static const struct kit_supply *sum_of(struct arena *arena, const struct kit_list *list, bool sharps_box, size_t *n_kit)
{
	struct kit_list all = {.arena = arena};
	for (size_t i = 0; i < list->n; i++)
		if (list->rows[i].supply.needed > 0)
			add_to_all(&all, &list->rows[i]);
	if (all.n > 0 && sharps_box) {
		struct kit_supply *box = row_of(&all, KIT_SHARPS_BOX, NULL, NULL);
		box->needed = 1;
		box->to_get = 1;
	}
	struct kit_supply *rows = arena_alloc(arena, (all.n + 1) * sizeof *rows);
	for (size_t i = 0; i < all.n; i++)
		rows[i] = all.rows[i].supply;
	*n_kit = all.n;
	return rows;
}

static struct kit_list list_of_doses(struct arena *arena, const struct course *course, bool done)
{
	struct kit_list list = {.arena = arena};
	for (size_t i = 0; i < course->n_doses; i++)
		if (course->doses[i].done == done)
			count_dose(&list, &course->doses[i]);
	return list;
}

const struct kit_supply *kit_of(struct arena *arena, const struct course *course, size_t *n_kit)
{
	struct kit_list list = {.arena = arena};
	for (size_t i = 0; i < course->n_doses; i++)
		count_dose(&list, &course->doses[i]);
	for (size_t i = 0; i < course->n_supplies; i++)
		count_boxes(&list, &course->supplies[i], course->supplies[i].needed);
	return sum_of(arena, &list, true, n_kit);
}

/* Containers that past doses opened. */
static int64_t boxes_opened(const struct course *course, const struct product *product)
{
	int64_t opened = 0;
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = &course->doses[i];
		for (size_t j = 0; j < dose->n_draws && dose->done; j++)
			for (size_t k = 0; k < dose->draws[j].n_containers; k++)
				opened += dose->draws[j].containers[k].product == product &&
				          dose->draws[j].containers[k].opens;
	}
	return opened;
}

const struct kit_supply *kit_ahead_of(struct arena *arena, const struct course *course, size_t *n_kit)
{
	struct kit_list ahead = list_of_doses(arena, course, false);
	struct kit_list past = list_of_doses(arena, course, true);
	struct kit_list unopened = {.arena = arena};
	bool needle_used = past.n > 0;
	for (size_t i = 0; i < course->n_supplies; i++) {
		const struct product_supply *supply = &course->supplies[i];
		count_boxes(&past, supply, supply->needed);
		count_boxes(&unopened, supply, supply->needed - boxes_opened(course, supply->product));
	}
	for (size_t i = 0; i < ahead.n; i++) {
		struct kit_row *row = &ahead.rows[i];
		past.product = unopened.product = row->product;
		const struct kit_supply *own = &row->supply;
		const struct kit_supply *before = row_of(&past, own->kind, own->syringe, &own->needle);
		int64_t rest = before->in_boxes - before->needed;
		int64_t inside = row_of(&unopened, own->kind, own->syringe, &own->needle)->in_boxes;
		row->supply.in_boxes = rest > inside ? rest : inside;
	}
	return sum_of(arena, &ahead, !needle_used, n_kit);
}
