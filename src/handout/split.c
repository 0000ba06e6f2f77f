/*
 * split.c - the page of one container that serves two doses.
 */
#include "handout/build.h"

#include <inttypes.h>
#include <string.h>

bool first_half_of(const struct build *build, const struct dose *dose, const struct variant *variant)
{
	return dose->item == variant->item && dose->half == HALF_FIRST && dose->n_draws > 0 &&
	       variant_of(build, dose, 0) == variant;
}

static const struct dose *second_half_of(const struct build *build, const struct dose *first)
{
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (dose->item == first->item && dose->half == HALF_SECOND && dose->split_group == first->split_group)
			return dose;
	}
	return NULL;
}

/* The use of the shared container by the first half: until when the rest may be kept. */
static const struct container_use *kept(const struct dose *first)
{
	for (size_t i = 0; i < first->draws[0].n_containers; i++)
		if (first->draws[0].containers[i].then == THEN_KEEP)
			return &first->draws[0].containers[i];
	return NULL;
}

static const char *moment(struct build *build, const struct dose *dose)
{
	struct speaker *speaker = build->speaker;
	if (dose->open)
		return say1(speaker, "split.open_day", "day", say_number(speaker, rational_of(dose->day, 1)));
	return say2(speaker, "moment", "date", say_date(speaker, dose->clock_date, DATE_SHORT), "time",
	            say_time(speaker, dose->time));
}

static const char *until(struct build *build, const struct container_use *use)
{
	struct speaker *speaker = build->speaker;
	if (use == NULL || !use->has_by)
		return NULL;
	return say2(speaker, "moment", "date", say_date(speaker, use->by, DATE_SHORT), "time",
	            say_time(speaker, use->by_time));
}

/* An undated course cannot print a use-by time: it says how long instead. */
static const char *use_by_words(struct build *build, const struct variant *variant, const struct container_use *use)
{
	const char *moment_text = until(build, use);
	if (moment_text != NULL)
		return say1(build->speaker, "split.use_by", "moment", moment_text);
	const struct share *share = &variant->draw->product->share;
	return say1(build->speaker, "split.use_within", "time", say_amount(build->speaker, share->keep.quantity));
}

static struct split_label label_of(struct build *build, const struct variant *variant, const struct dose *first)
{
	struct speaker *speaker = build->speaker;
	const struct container_use *use = kept(first);
	const struct draw *draw = variant->draw;
	bool dated = !first->open;
	return (struct split_label){
		.title = say1(speaker, "split.label_title", "name", variant->item->medicine->name),
		.amount = say2(speaker, "split.label_amount", "amount", say_amount(speaker, draw->dose), "mark",
	                       mark_words_plain(build->arena, say_mark(speaker, draw))),
		.made = dated ? say1(speaker, "split.label_made", "date",
	                             say_date(speaker, first->clock_date, DATE_SHORT))
	                      : say0(speaker, "split.label_made_open"),
		.use_by = use_by_words(build, variant, use),
		.start = say1(speaker, "split.label_start", "page", PAGE_HERE),
		.patient = build->plan->patient.name.text == NULL ? "" : build->plan->patient.name.text,
	};
}

/* What is kept is the vial, or a syringe that was drawn at once. */
static const char *say_kept(struct build *build, const struct dose *first, const char *vial, const char *syringe)
{
	return say0(build->speaker, dose_drawn_at_once(first) ? syringe : vial);
}

static void fill_labels(struct build *build, const struct variant *variant, struct split_sheet *sheet)
{
	struct split_label *labels = NULL;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (!first_half_of(build, dose, variant) || second_half_of(build, dose) == NULL)
			continue;
		labels = arena_more(build->arena, labels, sheet->n_labels, sizeof *labels);
		labels[sheet->n_labels++] = label_of(build, variant, dose);
	}
	sheet->labels_heading = say_kept(build, variant->dose, "split.labels_heading", "split.labels_heading_syringe");
	sheet->labels = labels;
}

static const struct dose *first_of_variant(const struct build *build, const struct variant *variant)
{
	for (size_t i = 0; i < build->course->n_doses; i++)
		if (first_half_of(build, &build->course->doses[i], variant))
			return &build->course->doses[i];
	return variant->dose;
}

static void fill_halves(struct build *build, const struct dose *first, const struct dose *second,
                        struct split_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	sheet->first =
		(struct split_half){say0(speaker, "split.first"), moment(build, first),
	                            say_kept(build, first, "split.first_foot", "split.first_foot_syringe"), NULL};
	sheet->second = (struct split_half){
		say0(speaker, "split.second"), second == NULL ? "" : moment(build, second),
		say_kept(build, first, "split.second_foot", "split.second_foot_syringe"),
		say1(speaker, dose_drawn_at_once(first) ? "split.second_foot_syringe_page" : "split.second_foot_page",
	             "page", PAGE_HERE)};
}

static void fill_between(struct build *build, const struct variant *variant, const struct dose *first,
                         struct split_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	const struct share *share = &variant->draw->product->share;
	const struct container_use *use = kept(first);
	const char *where_key = arena_printf(build->arena, "where.%s", share->where == NULL ? "" : share->where);
	const char *where = can_say(speaker, where_key) ? say0(speaker, where_key) : share->where;
	sheet->between_heading = say0(speaker, "split.between");
	sheet->between_where = say1(speaker, "split.between_where", "where", where == NULL ? "" : where);
	sheet->between_picture = picture_of_place(share->where);
	sheet->after = say0(speaker, "split.after");
	if (use != NULL && use->has_by) {
		sheet->use_before = say0(speaker, "split.use_before");
		sheet->use_time = say_time(speaker, use->by_time);
		sheet->use_date = say_date(speaker, use->by, DATE_SHORT);
	} else {
		sheet->use_before = say0(speaker, "split.use_within_word");
		sheet->use_time = say_amount(build->speaker, share->keep.quantity);
		sheet->use_date = say0(speaker, "split.after_mixing");
	}
}

/* The letters go on after those of the sheet that draws: steps here and there speak of both. */
static size_t first_reading(struct build *build, const struct variant *variant)
{
	const struct todays_place *place = todays_place_of(build, variant);
	return place_picture(build, variant) + (place != NULL && place->letter != NULL);
}

static void fill_reading(struct build *build, const struct variant *variant, struct split_sheet *sheet)
{
	const struct draw *draw = variant->draw;
	struct speaker *speaker = build->speaker;
	static const char *const keys[] = {"right", "point", "back"};
	static const char *const verdicts[] = {"read.verdict_right", "read.verdict_much", "read.verdict_little"};
	struct mark_words exactly = say_line(speaker, &draw->mark);
	if (draw->mark.syringe != NULL && !draw->mark.syringe->unit_scale)
		exactly.before = NULL;
	const char *letters[3];
	for (size_t i = 0; i < 3; i++)
		letters[i] = picture_letter(build, first_reading(build, variant) + i);
	struct value values[] = {{"right", letters[0]}, {"much", letters[1]}, {"little", letters[2]}};
	sheet->read_heading = say(speaker, "read.heading", values, 3);
	for (size_t i = 0; i < 3; i++)
		sheet->windows[i] = (struct reading_window){
			.letter = letters[i],
			.right = i == 0,
			.ring = draw->mark.at,
			.number = say_number(speaker, draw->mark.number),
			.verdict = say0(speaker, verdicts[i]),
			.text = say1(speaker, arena_printf(build->arena, "read.%s", keys[i]), "mark",
		                     mark_words_plain(build->arena, exactly)),
		};
}

/* What the second day takes: the vial is there and mixed; of a syringe that was drawn before, only its needle is new. */
static const char *second_things(struct build *build, const struct variant *variant)
{
	const struct draw *draw = variant->draw;
	const struct syringe *syringe = draw->mark.syringe;
	struct speaker *speaker = build->speaker;
	bool at_once = dose_drawn_at_once(variant->dose);
	bool powder = draw->product->container == CONTAINER_POWDER_VIAL;
	bool fixed = syringe != NULL && syringe->fixed_needle;
	const char *kept = at_once ? "thing.closed_syringe" : powder ? "thing.mixed_vial" : "thing.solution_vial";
	struct value name = {"syringe", syringe == NULL ? "" : say_syringe(speaker, syringe)};
	const struct {
		const char *key; /* of what is no needle */
		int64_t count;
		enum kit_kind needle;
	} things[] = {{kept, 1, KIT_SYRINGE},
	              {"thing.syringe", at_once || syringe == NULL ? 0 : 1, KIT_SYRINGE},
	              {NULL, at_once || fixed || !draw->product->mixing_needle.given ? 0 : 1, KIT_NEEDLE_MIXING},
	              {NULL, fixed || !draw->product->giving_needle.given ? 0 : 1, KIT_NEEDLE_GIVING},
	              {"thing.wipes", at_once ? 1 : 2, KIT_SYRINGE},
	              {"thing.sharps_box", 1, KIT_SYRINGE}};
	const char *all = NULL;
	for (size_t i = 0; i < sizeof things / sizeof *things; i++) {
		if (things[i].count == 0)
			continue;
		const char *one = things[i].needle == KIT_SYRINGE
		                          ? say_count(speaker, things[i].key, things[i].count, &name, 1)
		                          : needle_name(build, draw->product, things[i].needle, things[i].count);
		if (things[i].count > 1)
			one = arena_printf(build->arena, "\u00d7%" PRId64 "\u00a0%s", things[i].count, one);
		all = all == NULL ? one : say2(speaker, "list.comma", "first", all, "last", one);
	}
	return say1(speaker, "split.second_things", "things", all);
}

const struct split_sheet *split_sheet_of(struct build *build, const struct variant *variant)
{
	struct split_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	const struct dose *first = first_of_variant(build, variant);
	struct speaker *speaker = build->speaker;
	sheet->dose = first;
	sheet->draw = variant->draw;
	sheet->title = say1(speaker, "split.title", "name", variant->item->medicine->name);
	sheet->lead = say0(speaker, "split.lead");
	sheet->mark = say_mark(speaker, variant->draw);
	fill_halves(build, first, second_half_of(build, first), sheet);
	fill_between(build, variant, first, sheet);
	fill_labels(build, variant, sheet);
	fill_reading(build, variant, sheet);
	sheet->second_heading = say0(speaker, "split.second_day");
	sheet->second_things = second_things(build, variant);
	sheet->draws_on = variant->exact_section >= 0 ? variant->exact_section : variant->sheet;
	sheet->goes_on = step_after_second_day(build, variant);
	sheet->second_day = steps_of(build, variant, STEP_SECOND_DAY, 1, &sheet->n_second_day);
	return sheet;
}
