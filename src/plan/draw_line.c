/*
 * draw_line.c - where the front ring stands: drawn up to, pushed out to, injected down to, or all of it.
 *
 *     draw        0.5 mL from a vial                     ring at 0.5 mL
 *     push out    0.2 mL of a syringe that holds 0.5 mL  ring at 0.2 mL before the injection
 *     stop        the same, given first                  ring at 0.5 - 0.2 = 0.3 mL after it
 *
 * A line is exactly there, or the dose is refused; only a medicine that states a rounding goes to the nearest one.
 */
#include "plan/making.h"

#include <inttypes.h>

/* The syringe and the line that a draw is read by. */
struct aim {
	enum line_kind line;
	const struct syringe *syringe;
	struct rational start; /* LINE_STOP: where the ring stands before the injection */
};

/* A line to round to, and what the patient then gets. */
struct rounded {
	struct rational at;
	struct quantity given;
	struct rational off; /* a fraction of the dose, never negative */
};

static const char *syringe_said(const struct making *making, const struct syringe *syringe)
{
	bool filled = making->request->product->container == CONTAINER_PREFILLED_SYRINGE;
	return arena_printf(making->arena, "the %ssyringe '%s'", filled ? "filled " : "", syringe->id);
}

const char *line_said(const struct making *making, const struct syringe *syringe, struct rational at)
{
	return syringe_line_print(making->arena, syringe, at, making->request->mark);
}

/* ---- rounding ---- */

/* The dose that a ring at `at` gives. */
static bool dose_at(const struct making *making, const struct aim *aim, struct rational at, struct rational *volume,
                    struct quantity *dose)
{
	struct rational part;
	*volume = at;
	return (aim->line != LINE_STOP || rational_subtract(aim->start, at, volume)) &&
	       rational_divide(*volume, making->draw->volume, &part) &&
	       quantity_multiply(making->request->dose, part, dose);
}

/* The line nearest to `at`, half goes up; false where it gives nothing or all there is or more, or does not exist. */
static bool nearest_line(const struct making *making, const struct aim *aim, struct rational at,
                         struct rounded *rounded)
{
	const struct rational *held = &making->ready.volume;
	struct rational volume, off;
	if (!rational_round_to(at, aim->syringe->step, &rounded->at) || !syringe_has_line(aim->syringe, rounded->at) ||
	    !dose_at(making, aim, rounded->at, &volume, &rounded->given))
		return false;
	if (rounded->at.numerator <= 0 || volume.numerator <= 0 ||
	    (!rational_is_zero(*held) && rational_compare(volume, *held) > 0))
		return false;
	if (!rational_subtract(volume, making->draw->volume, &off) ||
	    !rational_divide(off, making->draw->volume, &rounded->off))
		return false;
	if (rounded->off.numerator < 0)
		rounded->off.numerator = -rounded->off.numerator;
	return true;
}

static bool may_round(const struct making *making, const struct aim *aim, struct rational at, struct rounded *rounded)
{
	const struct rounding *rounding = &making->request->rounding;
	return rounding->given && nearest_line(making, aim, at, rounded) &&
	       rational_compare(rounded->off, rounding->most) <= 0;
}

/* ---- no line there ---- */

/* "line 12 (72 units)": a line, and the dose that would have it. */
static const char *line_and_dose(const struct making *making, const struct aim *aim, struct rational at)
{
	struct rational volume;
	struct quantity dose;
	const char *line = line_said(making, aim->syringe, at);
	if (!dose_at(making, aim, at, &volume, &dose) || volume.numerator <= 0)
		return line;
	return arena_printf(making->arena, "%s (%s)", line, amount_said(making, dose));
}

/* Up to a hundredth of a per cent, and never down to what would be allowed. */
static const char *percent_said(const struct making *making, struct rational fraction)
{
	struct rational hundredths;
	if (!rational_multiply(fraction, rational_of(10000, 1), &hundredths))
		return "over 100";
	return number_print(making->arena, rational_of(rational_ceiling(hundredths), 100), making->request->mark);
}

static const char *rounding_said(const struct making *making, const struct aim *aim, struct rational at)
{
	const struct rounding *rounding = &making->request->rounding;
	struct rounded rounded;
	if (!rounding->given)
		return "";
	if (!nearest_line(making, aim, at, &rounded))
		return "; the nearest cannot be rounded to";
	return arena_printf(making->arena, "; the nearest is %s %% off, and rounding may be at most %s %%",
	                    percent_said(making, rounded.off), percent_said(making, rounding->most));
}

static const char *remedy_said(const struct making *making, const struct aim *aim, struct rational at)
{
	const struct draw_request *request = making->request;
	if (request->product->container == CONTAINER_PREFILLED_SYRINGE)
		return "order an amount that has a line";
	const struct syringe *finer = syringe_pick(request->stock, request->n_stock, at);
	if (finer && finer != aim->syringe)
		return arena_printf(making->arena,
		                    "order an amount that has a line, or use the syringe '%s', which has one there",
		                    finer->id);
	if (request_syringe(request))
		return "order an amount that has a line, or name a finer syringe";
	return "no other syringe in stock has a line there; order an amount that has one, or stock a finer syringe";
}

static void stop_between(const struct making *making, const struct aim *aim, struct rational at)
{
	struct neighbours next = syringe_neighbours(aim->syringe, at);
	making_stop(making, "volume-between-lines", "%s is %s%s, between %s and %s on %s%s; %s", dose_said(making),
	            volume_said(making, making->draw->volume),
	            aim->line == LINE_STOP ? arena_printf(making->arena, " and leaves %s", volume_said(making, at))
	                                   : "",
	            line_and_dose(making, aim, next.below), line_and_dose(making, aim, next.above),
	            syringe_said(making, aim->syringe), rounding_said(making, aim, at), remedy_said(making, aim, at));
}

static void stop_too_much(const struct making *making, const struct syringe *named)
{
	const char *volume = volume_said(making, making->draw->volume);
	int64_t injections = draw_injections_needed(making->request, making->draw->volume);
	if (injections == 0)
		making_stop(
			making, "no-syringe-holds",
			"%s is %s, and no plain mL syringe is in stock to draw it with; stock one, or name a syringe",
			dose_said(making), volume);
	else if (named)
		making_stop(making, "no-syringe-holds",
		            "%s is %s, more than %s holds, %s; it takes at least %" PRId64
		            " injections, which must be doses of their own in the order, or a larger syringe",
		            dose_said(making), volume, syringe_said(making, named),
		            volume_said(making, named->graduated), injections);
	else
		making_stop(
			making, "no-syringe-holds",
			"%s is %s, more than any syringe in stock holds with room for air; it takes at least %" PRId64
			" injections, which must be doses of their own in the order, or a larger syringe",
			dose_said(making), volume, injections);
}

static void stop_beyond_scale(const struct making *making, const struct aim *aim, struct rational at)
{
	if (making->request->product->container == CONTAINER_PREFILLED_SYRINGE)
		making_stop(
			making, "no-syringe-holds",
			"%s needs a line at %s, but the scale of %s ends at %s; a part cannot be measured beyond it",
			dose_said(making), volume_said(making, at), syringe_said(making, aim->syringe),
			volume_said(making, aim->syringe->graduated));
	else
		stop_too_much(making, aim->syringe);
}

/* ---- cautions about a line ---- */

/* How much of the dose one line off would be. */
static bool note_coarse(struct making *making, const struct syringe *syringe)
{
	struct draw *draw = making->draw;
	struct rational part;
	if (!rational_divide(syringe->step, draw->volume, &part) ||
	    !quantity_multiply(draw->dose, part, &draw->line_is))
		return making_overflow(making);
	if (rational_compare_scaled(syringe->step, 10, draw->volume, 1) <= 0)
		return true;
	bool filled = making->request->product->container == CONTAINER_PREFILLED_SYRINGE;
	findings_add(making->findings, FINDING_CAUTION, "coarse-line", making->request->place,
	             "one line off on %s is %s, more than 10 %% of %s; %s would be safer",
	             syringe_said(making, syringe), amount_said(making, draw->line_is), dose_said(making),
	             filled ? "one with finer lines, or a whole one," : "a finer syringe");
	return true;
}

/* A number of units on the scale is easily taken for the number of units ordered. */
static void note_scale(const struct making *making)
{
	const struct draw *draw = making->draw;
	const struct mark *mark = &draw->mark;
	bool units = draw->dose.unit == UNIT_UNITS || draw->dose.unit == UNIT_SYRINGE_UNIT;
	if (!units || !mark->syringe->unit_scale || mark->line == LINE_STOP ||
	    rational_compare(mark->number, draw->given.number) == 0)
		return;
	findings_add(making->findings, FINDING_CAUTION, "scale-is-not-dose", making->request->place,
	             "%s is %s on %s: the scale of the syringe is not the dose; a syringe with its scale in mL would "
	             "be safer",
	             dose_said(making), line_said(making, mark->syringe, mark->at),
	             syringe_said(making, mark->syringe));
}

/* ---- a line ---- */

static bool set_mark(struct making *making, const struct aim *aim, struct rational at)
{
	struct draw *draw = making->draw;
	struct rounded rounded = {.at = at, .given = draw->dose};
	struct neighbours next = syringe_neighbours(aim->syringe, at);
	draw->mark.syringe = aim->syringe;
	draw->mark.line = aim->line;
	if (next.above_scale) {
		stop_beyond_scale(making, aim, at);
		return false;
	}
	if (!next.on_line && !may_round(making, aim, at, &rounded)) {
		stop_between(making, aim, at);
		return false;
	}
	if (!syringe_scale_number(aim->syringe, rounded.at, &draw->mark.number))
		return making_overflow(making);
	draw->mark.at = rounded.at;
	draw->rounded = !next.on_line;
	draw->given = rounded.given;
	note_scale(making);
	return note_coarse(making, aim->syringe);
}

/* ---- vials and ampoules ---- */

bool in_liquid_syringe(const struct product *product)
{
	return product->container == CONTAINER_POWDER_VIAL && product->draw_with == DRAW_WITH_LIQUID_SYRINGE &&
	       product->diluent.comes_as == LIQUID_SYRINGE;
}

/* The smallest of the stock on which the nearest line is near enough. */
static const struct syringe *pick_rounding(const struct making *making)
{
	const struct draw_request *request = making->request;
	const struct syringe *best = NULL;
	for (size_t i = 0; i < request->n_stock; i++) {
		const struct syringe *syringe = syringe_with_room(&request->stock[i], 1, making->draw->volume);
		struct aim aim = {.line = LINE_DRAW, .syringe = syringe};
		struct rounded rounded;
		if (syringe && may_round(making, &aim, making->draw->volume, &rounded) &&
		    (!best || rational_compare(syringe->capacity, best->capacity) < 0))
			best = syringe;
	}
	return best;
}

/* The syringe to draw with; where none has the line, the one to say so of. */
static const struct syringe *drawing_syringe(const struct making *making)
{
	const struct draw_request *request = making->request;
	const struct syringe *syringe = request_syringe(request);
	if (!syringe)
		syringe = syringe_pick(request->stock, request->n_stock, making->draw->volume);
	if (!syringe)
		syringe = pick_rounding(making);
	if (!syringe)
		syringe = syringe_with_room(request->stock, request->n_stock, making->draw->volume);
	return syringe;
}

static void stop_no_scale(const struct making *making)
{
	making_stop(
		making, "no-scale",
		"%s is measured on the syringe that its liquid comes in, and %s does not state that syringe's scale; "
		"name it as 'syringe'",
		dose_said(making), product_of(making));
}

/* A label rounded down asks for more liquid than there is. */
static bool check_held(const struct making *making)
{
	struct rational held = making->ready.volume;
	if (rational_is_zero(held) || rational_compare(making->draw->volume, held) <= 0)
		return true;
	making_stop(making, "dose-over-container",
	            "%s is %s by the label of %s, but only %s is there; order less, or look at the label and mend the "
	            "record",
	            dose_said(making), volume_said(making, making->draw->volume), product_of(making),
	            volume_said(making, held));
	return false;
}

static bool draw_part(struct making *making)
{
	if (!check_held(making))
		return false;
	if (!request_syringe(making->request) && in_liquid_syringe(making->request->product)) {
		stop_no_scale(making);
		return false;
	}
	struct aim aim = {.line = LINE_DRAW, .syringe = drawing_syringe(making)};
	if (!aim.syringe) {
		stop_too_much(making, NULL);
		return false;
	}
	return set_mark(making, &aim, making->draw->volume);
}

/* All of it: no line to hit, but a syringe that holds it. */
static bool draw_whole(struct making *making)
{
	const struct draw_request *request = making->request;
	struct mark *mark = &making->draw->mark;
	const struct syringe *named = request_syringe(request);
	struct rational volume = making->draw->volume;
	bool filled = request->product->container == CONTAINER_PREFILLED_SYRINGE;
	bool own = filled || in_liquid_syringe(request->product);
	const struct syringe *syringe =
		named || own ? named : syringe_with_room(request->stock, request->n_stock, volume);
	*mark = (struct mark){.line = LINE_DRAW, .syringe = syringe, .all = true, .at = volume, .number = volume};
	if (syringe && !syringe_scale_number(syringe, volume, &mark->number))
		return making_overflow(making);
	if ((!syringe && !own) || (syringe && !filled && rational_compare(volume, syringe->graduated) > 0)) {
		stop_too_much(making, syringe);
		return false;
	}
	return true;
}

/* ---- filled syringes ---- */

/* Where the ring stands before an injection that stops on the way: the start line, or what the syringe holds. */
static bool read_start(const struct making *making, struct rational *start)
{
	const struct stated_quantity *line = &making->request->product->start_line;
	struct quantity stated;
	*start = making->ready.volume;
	if (!line->given)
		return true;
	if (!quantity_in(line->quantity, UNIT_ML, &stated)) {
		stop_overflow(making->findings, line->place);
		return false;
	}
	*start = stated.number;
	bool held = rational_is_zero(making->ready.volume) || rational_compare(*start, making->ready.volume) <= 0;
	if (held && syringe_has_line(request_syringe(making->request), *start))
		return true;
	findings_add(making->findings, FINDING_STOP, "start-line-missing", line->place,
	             "'start_line' is %s, but %s %s; look at the syringe and mend one",
	             amount_said(making, line->quantity), syringe_said(making, request_syringe(making->request)),
	             held ? "has no line there"
	                  : arena_printf(making->arena, "holds only %s", volume_said(making, making->ready.volume)));
	return false;
}

/* The line is set: what goes by it, and what does not, of the `held` mL. */
static bool set_part(struct making *making, const struct aim *aim, struct rational at, struct rational held)
{
	struct draw *draw = making->draw;
	if (!set_mark(making, aim, at))
		return false;
	if (rational_is_zero(held))
		return true;
	draw->held = held;
	draw->rest = draw->mark.at;
	return aim->line == LINE_STOP || rational_subtract(held, draw->mark.at, &draw->rest) || making_overflow(making);
}

static bool inject_to(struct making *making, struct aim *aim)
{
	struct rational at;
	aim->line = LINE_STOP;
	if (!read_start(making, &aim->start))
		return false;
	if (!rational_subtract(aim->start, making->draw->volume, &at))
		return making_overflow(making);
	/* Emptied from its start line: what stands above that line is pushed out, and the rest is the dose. */
	if (rational_is_zero(at)) {
		aim->line = LINE_PUSH_OUT;
		return set_part(making, aim, aim->start, making->ready.volume);
	}
	if (at.numerator > 0)
		return set_part(making, aim, at, aim->start);
	if (rational_is_zero(aim->start))
		making_stop(making, "volume-missing",
		            "%s is a part of a filled syringe, and %s does not state what that holds; add 'volume'",
		            dose_said(making), product_of(making));
	else
		making_stop(making, "dose-over-container",
		            "%s is %s, more than %s holds from its start line, %s; order less, or two syringes",
		            dose_said(making), volume_said(making, making->draw->volume),
		            syringe_said(making, aim->syringe), volume_said(making, aim->start));
	return false;
}

static bool give_part(struct making *making)
{
	const struct product *product = making->request->product;
	struct aim aim = {.line = LINE_PUSH_OUT, .syringe = request_syringe(making->request)};
	if (!aim.syringe) {
		making_stop(
			making, "no-scale",
			"%s is a part of a filled syringe without a scale, and nothing shows where to stop; order a "
			"whole one, or give %s the scale that is printed on it as 'syringe'",
			dose_said(making), product_of(making));
		return false;
	}
	switch (product->part) {
	case PART_EXPEL_FIRST:
		return check_held(making) && set_part(making, &aim, making->draw->volume, making->ready.volume);
	case PART_INJECT_TO:
		return inject_to(making, &aim);
	case PART_NOT_STATED:
		break;
	}
	making_stop(
		making, "part-not-stated",
		"%s is a part of a filled syringe, and %s does not say how a part is given; order a whole one, or add "
		"'part: expel-first' or 'part: inject-to'",
		dose_said(making), product_of(making));
	return false;
}

/* ---- either ---- */

static bool measure_dose(struct making *making)
{
	const struct product *product = making->request->product;
	bool filled = product->container == CONTAINER_PREFILLED_SYRINGE;
	if (making->whole && (filled || !product->whole_to_mark))
		return draw_whole(making);
	return filled ? give_part(making) : draw_part(making);
}

bool make_lines(struct making *making)
{
	bool added = measure_liquid(making);
	return measure_dose(making) && added;
}
