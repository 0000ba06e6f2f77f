/*
 * before.c - the last page: is the print true to size, and how to read the signs.
 *
 * Its samples are the packet's own first amount and marks, so that nobody learns
 * from a number that is not theirs; signs that the packet does not use are left out.
 */
#include "handout/build.h"

#include <stddef.h>

static const struct variant *variant_with(const struct build *build, bool (*test)(const struct draw *))
{
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

static bool is_injected(const struct draw *draw)
{
	return draw->measure != MEASURE_COUNT;
}

/* ---- four kinds of number ---- */

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
	sheet->kinds[0] = (struct number_kind){NUMBER_AMOUNT,
	                                       say0(speaker, "before.amount"),
	                                       say_amount(speaker, shown->draw->dose),
	                                       {NULL, NULL, NULL, false},
	                                       say0(speaker, "before.amount_text")};
	sheet->kinds[1] = (struct number_kind){NUMBER_LINE, say0(speaker, "before.line"), NULL,
	                                       say_mark(speaker, shown->draw), say0(speaker, "before.line_text")};
	sheet->kinds[2] = (struct number_kind){NUMBER_TIME,
	                                       say0(speaker, "before.time"),
	                                       shown->dose->has_time ? say_time(speaker, shown->dose->time) : "20:00",
	                                       {NULL, NULL, NULL, false},
	                                       say0(speaker, "before.time_text")};
	sheet->kinds[3] = (struct number_kind){NUMBER_COUNT,
	                                       say0(speaker, "before.count"),
	                                       "\u00d72",
	                                       {NULL, NULL, NULL, false},
	                                       say0(speaker, "before.count_text")};
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
	return dose->open || dose->amount == DOSE_BY_CALL || dose->unless_sooner;
}

static bool dose_exact(const struct dose *dose)
{
	return dose->exact;
}

static bool dose_new(const struct dose *dose)
{
	return dose->new_amount;
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

static void fill_signs(struct build *build, struct before_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	struct sign_line *signs = arena_alloc(build->arena, 8 * sizeof *signs);
	size_t n = 0;
	const struct variant *open = variant_with(build, is_open_tag);
	const struct variant *all = variant_with(build, is_all);
	const struct variant *line = variant_with(build, on_unit_scale);
	const struct variant *dial = variant_with(build, is_dial);
	if (open != NULL)
		signs[n++] =
			(struct sign_line){say0(speaker, only_prepares(open->draw) ? "sign.white" : "sign.push_out"),
		                           SIGN_WHITE_TAG, open_mark(build, open->draw)};
	if (all != NULL)
		signs[n++] = (struct sign_line){say0(speaker, "sign.all"), SIGN_ALL, say_mark(speaker, all->draw)};
	if (line != NULL)
		signs[n++] = (struct sign_line){
			say2(speaker, "sign.line", "mark",
		             mark_words_plain(build->arena, say_mark(speaker, line->draw)), "scale",
		             say_text(speaker, line->draw->mark.syringe->scale_name, "the syringe's scale")),
			SIGN_LINE, say_mark(speaker, line->draw)};
	if (dial != NULL)
		signs[n++] = (struct sign_line){say1(speaker, "sign.dial", "mark",
		                                     mark_words_plain(build->arena, say_mark(speaker, dial->draw))),
		                                SIGN_DIAL, say_mark(speaker, dial->draw)};
	if (any_dose(build, dose_shares))
		signs[n++] = (struct sign_line){.text = say0(speaker, "sign.split"), .kind = SIGN_SPLIT};
	if (any_dose(build, dose_waits))
		signs[n++] = (struct sign_line){.text = say0(speaker, "sign.wait"), .kind = SIGN_WAIT};
	if (any_dose(build, dose_exact))
		signs[n++] = (struct sign_line){.text = say0(speaker, "sign.exact"), .kind = SIGN_EXACT};
	if (any_dose(build, dose_new))
		signs[n++] = (struct sign_line){.text = say0(speaker, "sign.new"), .kind = SIGN_NEW};
	sheet->signs_heading = say0(speaker, "before.signs");
	sheet->signs = signs;
	sheet->n_signs = n;
}

const struct before_sheet *before_sheet_of(struct build *build)
{
	struct before_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	struct speaker *speaker = build->speaker;
	sheet->title = say0(speaker, "before.title");
	sheet->lead = say0(speaker, "before.lead");
	sheet->true_heading = say0(speaker, "before.true_heading");
	sheet->card_text = say0(speaker, "before.card");
	sheet->card_note = say0(speaker, "before.card_note");
	sheet->card_size = say0(speaker, "before.card_size");
	sheet->good = say0(speaker, "before.good");
	sheet->bad = say0(speaker, "before.bad");
	sheet->still = say0(speaker, "before.still");
	sheet->ruler_text = say0(speaker, "before.ruler");
	fill_kinds(build, sheet);
	fill_signs(build, sheet);
	if (build->clinic->disclaimer.n > 0)
		sheet->disclaimer = say_text(speaker, build->clinic->disclaimer, "the clinic's disclaimer");
	else
		sheet->disclaimer = say0(speaker, "before.disclaimer");
	if (build->clinic->emergency.n > 0)
		sheet->emergency = say_text(speaker, build->clinic->emergency, "the clinic's emergency words");
	return sheet;
}
