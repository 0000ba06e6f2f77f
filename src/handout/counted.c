/*
 * counted.c - the sheet of what is counted out: tablets, capsules, patches, inserts, sprays, drops, sachets.
 *
 * One sheet serves all amounts of an item that come from one product. Patches
 * have a table of the days on which they change, since what comes off on a day
 * is as easily forgotten as what goes on.
 */
#include "handout/build.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* ---- how many ---- */

static int64_t whole_of(struct rational count)
{
	return count.numerator / count.denominator;
}

static struct counted_amount amount_of(struct build *build, const struct variant *variant)
{
	struct speaker *speaker = build->speaker;
	struct rational count = variant->draw->count.number;
	struct counted_amount amount = {.days = variant_days(build, speaker, variant),
	                                .amount = say_amount(speaker, variant->draw->dose),
	                                .words = say_amount(speaker, variant->draw->count),
	                                .whole = whole_of(count),
	                                .half = !rational_is_whole(count)};
	if (amount.whole > 0)
		amount.take = arena_printf(build->arena, "\u00d7%" PRId64, amount.whole);
	return amount;
}

static void fill_amounts(struct build *build, const struct variant *variant, struct counted_sheet *sheet)
{
	struct counted_amount *amounts = arena_alloc(build->arena, build->n_variants * sizeof *amounts);
	for (size_t i = 0; i < build->n_variants; i++)
		if (build->variants[i].sheet == variant->sheet)
			amounts[sheet->n_amounts++] = amount_of(build, &build->variants[i]);
	sheet->amounts = amounts;
}

/* Steps that only some amounts need are printed for all: half a tablet, a wait between two sprays. */
static const struct variant *most_to_do(const struct build *build, const struct variant *variant)
{
	const struct variant *most = variant;
	for (size_t i = 0; i < build->n_variants; i++) {
		const struct variant *other = &build->variants[i];
		if (other->sheet != variant->sheet)
			continue;
		bool half = !rational_is_whole(other->draw->count.number);
		bool most_half = !rational_is_whole(most->draw->count.number);
		bool more = rational_compare(other->draw->count.number, most->draw->count.number) > 0;
		if (half != most_half ? half : more)
			most = other;
	}
	return most;
}

/* On some days only a half is made: then the steps that make it say so. */
static void tell_some_whole(struct build *build, section_ref sheet)
{
	bool some[2] = {false, false};
	for (size_t i = 0; i < build->n_variants; i++)
		if (build->variants[i].sheet == sheet)
			some[rational_is_whole(build->variants[i].draw->count.number)] = true;
	for (size_t i = 0; i < build->n_variants; i++)
		if (build->variants[i].sheet == sheet)
			build->variants[i].some_whole = some[false] && some[true];
}

/* ---- on and off ---- */

/* Patches that go on or come off on one day. */
struct patch_change {
	struct civil_date date;
	struct rational on;
	struct rational off;
};

struct changes {
	struct build *build;
	struct patch_change *list;
	size_t n;
	bool overflow;
};

static void add_change(struct changes *changes, struct civil_date date, struct rational on, struct rational off)
{
	struct patch_change *change = NULL;
	for (size_t i = 0; change == NULL && i < changes->n; i++)
		if (date_compare(changes->list[i].date, date) == 0)
			change = &changes->list[i];
	if (change == NULL) {
		changes->list = arena_more(changes->build->arena, changes->list, changes->n, sizeof *changes->list);
		change = &changes->list[changes->n++];
		*change = (struct patch_change){date, rational_of(0, 1), rational_of(0, 1)};
	}
	if (!rational_add(change->on, on, &change->on) || !rational_add(change->off, off, &change->off))
		changes->overflow = true;
}

static int compare_changes(const void *left, const void *right)
{
	return date_compare(((const struct patch_change *)left)->date, ((const struct patch_change *)right)->date);
}

/* How many whole days a patch is worn; 0 where that is not said, or is no whole number. */
static int64_t days_worn(const struct product *product)
{
	struct quantity days;
	if (!product->wear.given || !quantity_in(product->wear.quantity, UNIT_DAY, &days) ||
	    !rational_is_whole(days.number))
		return 0;
	return days.number.numerator;
}

static struct changes changes_of(struct build *build, const struct variant *variant)
{
	struct changes changes = {.build = build};
	int64_t worn = days_worn(variant->draw->product);
	for (size_t i = 0; worn > 0 && i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		for (size_t j = 0; dose->item == variant->item && !dose->open && j < dose->n_draws; j++) {
			if (dose->draws[j].product != variant->draw->product)
				continue;
			struct rational count = dose->draws[j].count.number;
			add_change(&changes, dose->date, count, rational_of(0, 1));
			add_change(&changes, date_plus(dose->date, worn), rational_of(0, 1), count);
		}
	}
	if (changes.n > 1)
		qsort(changes.list, changes.n, sizeof *changes.list, compare_changes);
	return changes;
}

struct rational patches_off(const struct build *build, const struct item *item, struct civil_date date)
{
	struct rational off = rational_of(0, 1);
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		for (size_t j = 0; dose->item == item && !dose->open && j < dose->n_draws; j++) {
			const struct draw *draw = &dose->draws[j];
			int64_t worn = draw->count.unit == UNIT_PATCH ? days_worn(draw->product) : 0;
			if (worn > 0 && date_compare(date_plus(dose->date, worn), date) == 0 &&
			    !rational_add(off, draw->count.number, &off))
				return rational_of(0, 1);
		}
	}
	return off;
}

static const char *count_words(struct build *build, struct rational count)
{
	return rational_is_zero(count) ? NULL : say_number(build->speaker, count);
}

static void fill_patches(struct build *build, const struct variant *variant, struct counted_sheet *sheet)
{
	static const char *const keys[] = {"patch.head_day", "patch.head_off", "patch.head_on", "patch.head_then"};
	struct changes changes = changes_of(build, variant);
	struct rational now = rational_of(0, 1);
	if (variant->draw->count.unit != UNIT_PATCH || changes.n == 0 || changes.overflow)
		return;
	struct patch_row *rows = arena_alloc(build->arena, changes.n * sizeof *rows);
	for (size_t i = 0; i < changes.n; i++) {
		const struct patch_change *change = &changes.list[i];
		struct rational kept;
		if (!rational_subtract(now, change->off, &kept) || !rational_add(kept, change->on, &now))
			return;
		int day = course_day(build, change->date);
		rows[i] = (struct patch_row){.day = say_number(build->speaker, rational_of(day, 1)),
		                             .date = say_date(build->speaker, change->date, DATE_SHORT),
		                             .off = count_words(build, change->off),
		                             .on = count_words(build, change->on),
		                             .then = say_number(build->speaker, now),
		                             .own_box = date_compare(change->date, build->course->last) > 0};
	}
	sheet->patches_heading = say0(build->speaker, "patch.heading");
	for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
		sheet->patch_heads[i] = say0(build->speaker, keys[i]);
	sheet->patches = rows;
	sheet->n_patches = changes.n;
}

/* ---- the whole ---- */

static void fill_titles(struct build *build, const struct variant *variant, struct medicine_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	const struct product *product = variant->draw->product;
	const char *form = unit_name(variant->draw->count.unit, true);
	const char *word = say0(speaker, arena_printf(build->arena, "counted.form.%s", form));
	if (product->box_says.text != NULL)
		word = say2(speaker, "counted.form_box", "form", word, "box", product->box_says.text);
	struct value values[] = {{"name", variant->item->medicine->name},
	                         {"kind", word},
	                         {"days", product_days(build, speaker, variant->item, product)},
	                         {"time", product_times(build, speaker, variant->item, product)}};
	sheet->front_title = say(speaker, arena_printf(build->arena, "counted.title.%s", form), values, 4);
	sheet->front_lead = say(speaker, "medicine.front_lead", values, 4);
	sheet->back_title = sheet->front_title;
	sheet->back_lead = sheet->front_lead;
}

const struct counted_sheet *counted_sheet_of(struct build *build, const struct variant *variant)
{
	struct speaker *speaker = build->speaker;
	struct counted_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	struct medicine_sheet *common = arena_alloc(build->arena, sizeof *common);
	tell_some_whole(build, variant->sheet);
	*common = *medicine_sheet_of(build, most_to_do(build, variant));
	common->same_heading = NULL;
	fill_titles(build, variant, common);
	sheet->sheet = common;
	sheet->piece = picture_of_product(variant->draw->product);
	sheet->half_piece = sheet->piece == PICTURE_TABLET ? PICTURE_HALF_TABLET : sheet->piece;
	sheet->calendar_says = say0(speaker, "same.calendar");
	sheet->days_head = say0(speaker, "counted.days");
	sheet->take_says = say0(
		speaker, arena_printf(build->arena, "counted.take.%s", route_name(variant->item->medicine->route)));
	sheet->steps_heading = say0(speaker, "counted.steps");
	fill_amounts(build, variant, sheet);
	fill_patches(build, variant, sheet);
	return sheet;
}
