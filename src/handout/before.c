/*
 * before.c - the last page: is the print true to size, and how to read the signs.
 *
 * Its samples are the packet's own first amount and marks, so that nobody learns
 * from a number that is not theirs; signs that the packet does not use are left out.
 */
#include "handout/build.h"

#include <assert.h>
#include <stddef.h>

static bool is_ahead(struct build *build, const struct variant *variant)
{
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (!dose->done && dose->item == variant->item && dose->n_draws > variant->draw_index &&
		    variant_of(build, dose, variant->draw_index) == variant)
			return true;
	}
	return false;
}

/* A sample of days that are ahead where there is one: a new version has amounts that are over. */
static const struct variant *variant_with(struct build *build, bool (*test)(const struct draw *))
{
	for (size_t i = 0; i < build->n_variants; i++)
		if (test(build->variants[i].draw) && is_ahead(build, &build->variants[i]))
			return &build->variants[i];
	for (size_t i = 0; i < build->n_variants; i++)
		if (test(build->variants[i].draw))
			return &build->variants[i];
	return NULL;
}

static bool has_line(const struct draw *draw)
{
	return draw->measure == MEASURE_SYRINGE && !draw->mark.all;
}

/* The plainest sample: an amount and a line in different units. */
static bool has_plain_line(const struct draw *draw)
{
	return has_line(draw) && !draw->mark.syringe->unit_scale && draw->mark.line == LINE_DRAW;
}

static bool stops_on_the_way(const struct draw *draw)
{
	return has_line(draw) && draw->mark.line == LINE_STOP;
}

static bool on_unit_scale(const struct draw *draw)
{
	return has_line(draw) && draw->mark.syringe->unit_scale;
}

static bool is_all(const struct draw *draw)
{
	return draw->measure == MEASURE_SYRINGE && draw->mark.all;
}

static bool is_dial(const struct draw *draw)
{
	return draw->measure == MEASURE_DIAL;
}

static bool tests_pen(const struct draw *draw)
{
	const struct stated_quantity *priming = &draw->product->dial.priming;
	return draw->measure == MEASURE_DIAL && priming->given && !rational_is_zero(priming->quantity.number);
}

static bool is_open_tag(const struct draw *draw)
{
	if (tests_pen(draw))
		return true;
	return draw->measure == MEASURE_SYRINGE &&
	       (draw->has_add || (has_line(draw) && draw->mark.line == LINE_PUSH_OUT));
}

static bool is_syringe(const struct draw *draw)
{
	return draw->measure == MEASURE_SYRINGE;
}

static bool is_injected(const struct draw *draw)
{
	return draw->measure != MEASURE_COUNT;
}

/* ---- kinds of number ---- */

static void add_kind(struct before_sheet *sheet, struct number_kind kind)
{
	sheet->kinds[sheet->n_kinds++] = kind;
}

static void fill_kinds(struct build *build, struct before_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	const struct variant *shown = variant_with(build, has_plain_line);
	if (shown == NULL)
		shown = variant_with(build, has_line);
	if (shown == NULL)
		shown = variant_with(build, is_injected);
	if (shown == NULL && build->n_variants > 0)
		shown = &build->variants[0];
	if (shown == NULL)
		return;
	sheet->kinds_heading = say0(speaker, "before.kinds");
	struct mark_words no_mark = {.number = NULL};
	struct mark_words mark = say_mark(speaker, shown->draw);
	add_kind(sheet, (struct number_kind){NUMBER_AMOUNT, say0(speaker, "before.amount"),
	                                     say_amount(speaker, variant_ordered(shown)), no_mark,
	                                     say0(speaker, "before.amount_text")});
	if (mark.number != NULL)
		add_kind(sheet, (struct number_kind){NUMBER_LINE, say0(speaker, "before.line"), NULL, mark,
		                                     say0(speaker, variant_with(build, stops_on_the_way) == NULL
		                                                           ? "before.line_text"
		                                                           : "before.line_text_stop")});
	add_kind(sheet, (struct number_kind){NUMBER_TIME, say0(speaker, "before.time"),
	                                     shown->dose->has_time ? say_time(speaker, shown->dose->time) : "20:00",
	                                     no_mark, say0(speaker, "before.time_text")});
	add_kind(sheet, (struct number_kind){NUMBER_COUNT, say0(speaker, "before.count"), "\u00d72", no_mark,
	                                     say0(speaker, "before.count_text")});
}

/* ---- the signs this packet uses ---- */

static bool any_dose(const struct build *build, bool (*test)(const struct dose *))
{
	for (size_t i = 0; i < build->course->n_doses; i++)
		if (test(&build->course->doses[i]))
			return true;
	return false;
}

static bool dose_shares(const struct dose *dose)
{
	return dose->half != HALF_NONE;
}

static bool dose_waits(const struct dose *dose)
{
	return dose->open || dose->amount == DOSE_BY_CALL;
}

static bool dose_exact(const struct dose *dose)
{
	return dose->exact;
}

static struct mark_words open_mark(struct build *build, const struct draw *draw)
{
	if (tests_pen(draw))
		return pen_test_mark(build, draw->product->dial.priming.quantity);
	return draw->has_add ? say_line(build->speaker, &draw->add) : say_mark(build->speaker, draw);
}

static bool only_prepares(const struct draw *draw)
{
	return draw->has_add || tests_pen(draw);
}

struct sign_list {
	struct build *build;
	struct sign_line *signs;
	size_t n;
};

static struct sign_line *add_sign(struct sign_list *list, int kind, const char *text)
{
	list->signs = arena_more(list->build->arena, list->signs, list->n, sizeof *list->signs);
	list->signs[list->n] = (struct sign_line){.text = text, .kind = kind};
	return &list->signs[list->n++];
}

static void add_tags(struct sign_list *list)
{
	struct build *build = list->build;
	struct speaker *speaker = build->speaker;
	const struct variant *open = variant_with(build, is_open_tag);
	const struct variant *all = variant_with(build, is_all);
	const struct variant *line = variant_with(build, on_unit_scale);
	const struct variant *dial = variant_with(build, is_dial);
	if (open != NULL)
		add_sign(list, SIGN_WHITE_TAG,
		         say0(speaker, only_prepares(open->draw) ? "sign.white" : "sign.push_out"))
			->mark = open_mark(build, open->draw);
	if (all != NULL)
		add_sign(list, SIGN_ALL, say0(speaker, "sign.all"))->mark = say_mark(speaker, all->draw);
	const struct variant *stop = variant_with(build, stops_on_the_way);
	if (stop != NULL) {
		struct mark_words mark = say_mark(speaker, stop->draw);
		add_sign(list, SIGN_LINE, say1(speaker, "sign.stop", "mark", mark_words_plain(build->arena, mark)))
			->mark = mark;
	}
	if (line != NULL) {
		struct mark_words mark = say_mark(speaker, line->draw);
		const char *scale = say_text(speaker, line->draw->mark.syringe->scale_name, "the syringe's scale");
		add_sign(list, SIGN_LINE,
		         say2(speaker, "sign.line", "mark", mark_words_plain(build->arena, mark), "scale", scale))
			->mark = mark;
	}
	if (dial != NULL) {
		struct mark_words mark = say_mark(speaker, dial->draw);
		add_sign(list, SIGN_DIAL, say1(speaker, "sign.dial", "mark", mark_words_plain(build->arena, mark)))
			->mark = mark;
	}
}

/* What the pages show, by what they were filled with. */
struct shown {
	bool side;
	bool hip;
	bool new_amount;
	bool past;
	bool visit;
	bool bell;
};

/* A printed tick stands in its box. */
static bool any_done(const struct grid *grid, const struct grid_row *row)
{
	for (size_t i = 0; i < grid->n_columns; i++)
		if (row->cells[i].done)
			return true;
	for (size_t i = 0; i < row->n_exact; i++)
		if (row->exact[i].done)
			return true;
	return false;
}

static void note_grid(const struct grid *grid, struct shown *shown)
{
	shown->new_amount = shown->new_amount || grid->new_legend != NULL;
	for (size_t i = 0; i < grid->n_rows; i++) {
		shown->side = shown->side || grid->rows[i].belly;
		shown->hip = shown->hip || grid->rows[i].hip;
		shown->visit = shown->visit || grid->rows[i].n_visits_above > 0;
		shown->past = shown->past || any_done(grid, &grid->rows[i]);
	}
}

static void note_change(const struct change_sheet *sheet, struct shown *shown)
{
	for (size_t i = 0; i < sheet->n_rows; i++)
		shown->new_amount = shown->new_amount || sheet->rows[i].form == CHANGE_FORM_AMOUNT;
}

static void note_medicine(const struct medicine_sheet *sheet, struct shown *shown)
{
	const struct todays_place *place = sheet->place;
	if (place != NULL && (place->left != NULL || place->right != NULL))
		*(place->hip ? &shown->hip : &shown->side) = true;
	shown->hip = shown->hip || sheet->muscle != NULL;
}

static void note_waiting(const struct waiting_sheet *sheet, struct shown *shown)
{
	for (size_t i = 0; i < sheet->n_columns; i++)
		shown->visit = shown->visit || sheet->columns[i].visit;
}

static struct shown shown_by(const struct section *sections, size_t n)
{
	struct shown shown = {false, false, false, false, false, false};
	for (size_t i = 0; i < n; i++) {
		const struct section *section = &sections[i];
		if (section->kind == SECTION_GRID)
			note_grid(section->grid, &shown);
		if (section->kind == SECTION_MEDICINE)
			note_medicine(section->medicine, &shown);
		if (section->kind == SECTION_CHANGE)
			note_change(section->change, &shown);
		if (section->kind == SECTION_WAITING)
			note_waiting(section->waiting, &shown);
		shown.bell = shown.bell || section->kind == SECTION_EXACT;
	}
	return shown;
}

static void add_side(struct sign_list *list, int kind, const char *key)
{
	struct speaker *speaker = list->build->speaker;
	struct sign_line *sign = add_sign(list, kind, say0(speaker, key));
	sign->side_words[0] = say0(speaker, "side.left");
	sign->side_words[1] = say0(speaker, "side.right");
}

static void fill_signs(struct build *build, const struct shown *shown, struct before_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	struct sign_list list = {.build = build};
	bool large = build->large_print;
	add_tags(&list);
	if (shown->side)
		add_side(&list, SIGN_SIDE, "sign.side");
	if (shown->hip)
		add_side(&list, SIGN_HIP, "sign.hip");
	if (any_dose(build, dose_shares))
		add_sign(&list, large ? SIGN_RAIL : SIGN_SPLIT, say0(speaker, large ? "sign.rail" : "sign.split"));
	if (any_dose(build, dose_waits))
		add_sign(&list, SIGN_WAIT, say0(speaker, "sign.wait"));
	if (any_dose(build, dose_exact))
		add_sign(&list, SIGN_EXACT, say0(speaker, "sign.exact"));
	if (shown->new_amount)
		add_sign(&list, SIGN_NEW, say0(speaker, "sign.new"));
	if (shown->past)
		add_sign(&list, SIGN_PAST, say0(speaker, "sign.past"));
	if (shown->visit && large)
		add_sign(&list, SIGN_VISIT, say0(speaker, "sign.visit"));
	if (shown->bell && large)
		add_sign(&list, SIGN_BELL, say0(speaker, "sign.bell"));
	sheet->signs_heading = say0(speaker, "before.signs");
	sheet->signs = list.signs;
	sheet->n_signs = list.n;
}

/* ---- small signs, which large print does without ---- */

static bool heads_a_group(const struct section *sections, size_t n, enum pictogram sign)
{
	for (size_t i = 0; i < n; i++)
		for (size_t j = 0; sections[i].kind == SECTION_GRID && j < sections[i].grid->n_groups; j++)
			if (sections[i].grid->groups[j].sign == sign)
				return true;
	return false;
}

static void fill_small(struct build *build, const struct section *sections, size_t n, const struct shown *shown,
                       struct before_sheet *sheet)
{
	const struct {
		enum pictogram sign;
		const char *word;
		bool used;
	} signs[] = {{PICTURE_SUN, "slot.morning.lower", heads_a_group(sections, n, PICTURE_SUN)},
	             {PICTURE_NOON, "slot.noon.lower", heads_a_group(sections, n, PICTURE_NOON)},
	             {PICTURE_EVENING, "slot.evening.lower", heads_a_group(sections, n, PICTURE_EVENING)},
	             {PICTURE_MOON, "slot.bedtime.lower", heads_a_group(sections, n, PICTURE_MOON)},
	             {PICTURE_HOUSE, "sign.visit.short", shown->visit},
	             {PICTURE_BELL, "sign.bell.short", shown->bell}};
	sheet->small_word = say0(build->speaker, "sign.small");
	for (size_t i = 0; i < sizeof signs / sizeof *signs && !build->large_print; i++)
		if (signs[i].used)
			sheet->small[sheet->n_small++] =
				(struct small_sign){signs[i].sign, say0(build->speaker, signs[i].word)};
}

/* ---- short words: what units and days mean, of those that the pages have ---- */

static bool has_unit(const struct build *build, enum unit unit)
{
	for (size_t i = 0; i < build->n_variants; i++) {
		const struct draw *draw = build->variants[i].draw;
		const struct stated_quantity *strength = &draw->product->strength;
		if (draw->dose.unit == unit || (strength->given && strength->quantity.unit == unit))
			return true;
	}
	return false;
}

static void add_term(struct before_sheet *sheet, const char *words)
{
	assert(sheet->n_terms < TERMS_MOST);
	sheet->terms[sheet->n_terms++] = words;
}

static void add_mass_term(struct build *build, struct before_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	bool mcg = has_unit(build, UNIT_MCG);
	bool mg = has_unit(build, UNIT_MG);
	if (mcg && mg)
		add_term(sheet, say2(speaker, "term.masses", "small",
		                     say_amount(speaker, (struct quantity){rational_of(1000, 1), UNIT_MCG}), "large",
		                     say_amount(speaker, (struct quantity){rational_of(1, 1), UNIT_MG})));
	else if (mcg || mg)
		add_term(sheet, say0(speaker, mcg ? "term.mcg" : "term.mg"));
}

static void fill_terms(struct build *build, struct before_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	const struct variant *scaled = variant_with(build, on_unit_scale);
	sheet->terms_word = say0(speaker, "term.heading");
	add_mass_term(build, sheet);
	if (has_unit(build, UNIT_UNITS))
		add_term(sheet, say0(speaker, "term.units"));
	if (variant_with(build, is_syringe) != NULL)
		add_term(sheet, say0(speaker, "term.ml"));
	if (has_unit(build, UNIT_SYRINGE_UNIT))
		add_term(sheet, say0(speaker, "term.syringe_units"));
	if (scaled != NULL)
		add_term(sheet, say2(speaker, "term.scale", "strength",
		                     say_number(speaker, scaled->draw->mark.syringe->units_per_ml), "scale",
		                     say_text(speaker, scaled->draw->mark.syringe->scale_name, "the syringe's scale")));
	if (build->course->has_days)
		add_term(sheet, say1(speaker, "term.day", "date", say_date(speaker, build->course->first, DATE_SHORT)));
}

const struct before_sheet *before_sheet_of(struct build *build, const struct section *sections, size_t n_sections)
{
	struct before_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	struct speaker *speaker = build->speaker;
	/* Syringes are drawn in true size, and nothing else is. */
	bool checks = variant_with(build, is_syringe) != NULL;
	sheet->title = say0(speaker, "before.title");
	sheet->lead = say0(speaker, checks ? "before.lead" : "before.lead_signs");
	sheet->true_heading = checks ? say0(speaker, "before.true_heading") : NULL;
	sheet->card_text = say0(speaker, "before.card");
	sheet->card_note = say0(speaker, "before.card_note");
	sheet->card_size = say0(speaker, "before.card_size");
	sheet->card_alt = arena_printf(build->arena, "%s: %s", sheet->card_text, sheet->card_size);
	sheet->good = say0(speaker, "before.good");
	sheet->bad = say0(speaker, "before.bad");
	sheet->still = say0(speaker, "before.still");
	sheet->ruler_text = say0(speaker, "before.ruler");
	fill_kinds(build, sheet);
	struct shown shown = shown_by(sections, n_sections);
	fill_signs(build, &shown, sheet);
	fill_small(build, sections, n_sections, &shown, sheet);
	fill_terms(build, sheet);
	if (build->clinic->disclaimer.n > 0)
		sheet->disclaimer = say_text(speaker, build->clinic->disclaimer, "the clinic's disclaimer");
	else
		sheet->disclaimer = say0(speaker, "before.disclaimer");
	sheet->emergency = emergency_of(build, false);
	sheet->warning_word = say0(speaker, "warning.word");
	return sheet;
}
