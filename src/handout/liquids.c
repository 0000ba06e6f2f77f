/*
 * liquids.c - what only some medicines' sheets have: measured liquids, chains of vials, parts of filled syringes, the
 * helper's page, and the days of a vial that serves many.
 */
#include "handout/build.h"
#include "plan/draw.h"

#include <inttypes.h>
#include <string.h>

static const char *count_text(struct build *build, int64_t count)
{
	return say_number(build->speaker, rational_of(count, 1));
}

static const char *millilitres(struct build *build, struct rational volume)
{
	return say_amount(build->speaker, (struct quantity){volume, UNIT_ML});
}

static const char *syringe_name(struct build *build, const struct syringe *syringe)
{
	return say_syringe(build->speaker, syringe);
}

/* Where another syringe is for the patient, the one that mixes is A. */
static const char *mixing_syringe_name(struct build *build, const struct draw *draw)
{
	const char *name = syringe_name(build, draw->add.syringe);
	return draw_two_syringes(draw) ? say1(build->speaker, "thing.syringe_a", "syringe", name) : name;
}

static const char *true_size_words(struct build *build, const struct draw *draw)
{
	return say1(build->speaker, draw->add.syringe->measured ? "line.true_size" : "line.not_measured", "syringe",
	            mixing_syringe_name(build, draw));
}

/* The number after the last numbered step, warnings apart. */
static int after_steps(const struct step *steps, size_t n, int next)
{
	for (size_t i = 0; i < n; i++)
		next = steps[i].number >= next ? steps[i].number + 1 : next;
	return next;
}

/* "days 6 and 12": on which of a variant's days a container is opened. */
const char *days_opened(struct build *build, const struct variant *variant)
{
	struct day_list days = {0};
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (dose->item != variant->item || dose->open || dose->n_draws <= variant->draw_index)
			continue;
		const struct draw *draw = &dose->draws[variant->draw_index];
		if (variant_of(build, dose, variant->draw_index) != variant || draw->n_containers == 0 ||
		    !draw->containers[0].opens)
			continue;
		int day = course_day(build, dose->date);
		add_days(build, &days, day, day);
	}
	return days_words(build, build->speaker, &days);
}

/* ---- a box for each day ---- */

static bool is_on_sheet(struct build *build, const struct variant *variant, const struct dose *dose)
{
	return dose->item == variant->item && dose->n_draws > variant->draw_index &&
	       variant_of(build, dose, variant->draw_index) == variant;
}

/* The days of a variant, or those on which it opens a container. `text` is told of the pencil where they are too many. */
static struct tick_days tick_days_of(struct build *build, const struct variant *variant, bool opening,
                                     const char **text)
{
	struct tick_days ticks = {NULL, 0};
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (!is_on_sheet(build, variant, dose) || (opening && !draw_opens(&dose->draws[variant->draw_index])))
			continue;
		ticks.days = arena_more(build->arena, ticks.days, ticks.n, sizeof *ticks.days);
		ticks.days[ticks.n++] = count_text(build, dose->open ? dose->day : course_day(build, dose->date));
	}
	if (ticks.n > TICK_DAYS_MOST)
		*text = arena_printf(build->arena, "%s %s", *text, say0(build->speaker, "mix.pencil"));
	if (ticks.n < 2 || ticks.n > TICK_DAYS_MOST)
		ticks.n = 0;
	return ticks;
}

/* ---- a measured liquid ---- */

static const char *liquid_kind(const struct product *product)
{
	static const char *const kinds[] = {
		[LIQUID_SYRINGE] = "syringe", [LIQUID_VIAL] = "vial", [LIQUID_AMPOULE] = "ampoule"};
	return kinds[product->diluent.comes_as];
}

static enum pictogram liquid_picture(const struct product *product)
{
	static const enum pictogram pictures[] = {[LIQUID_SYRINGE] = PICTURE_FILLED_SYRINGE,
	                                          [LIQUID_VIAL] = PICTURE_LIQUID_VIAL,
	                                          [LIQUID_AMPOULE] = PICTURE_AMPOULE};
	return pictures[product->diluent.comes_as];
}

/* What is in the vial once the liquid is in: the same where the powder takes up no room. */
static void fill_sum(struct build *build, const struct draw *draw, struct mix_page *page)
{
	struct speaker *speaker = build->speaker;
	bool same = rational_compare(draw->liquid, draw->mixed) == 0;
	page->liquid_picture = liquid_picture(draw->product);
	page->liquid_amount = millilitres(build, draw->liquid);
	page->liquid_word = say_text(speaker, draw->product->diluent.name, "the liquid's name");
	page->powder_word = say0(speaker, "mix.powder");
	page->powder_note = say0(speaker, same ? "mix.no_room" : "mix.room");
	page->ready_amount = millilitres(build, draw->mixed);
	page->ready_word = say0(speaker, "mix.ready");
	page->ready_check = same ? say0(speaker, "mix.check_same")
	                         : say2(speaker, "mix.check", "liquid", say_number(speaker, draw->liquid), "ready",
	                                say_number(speaker, draw->mixed));
}

static void fill_legend(struct build *build, struct mix_page *page)
{
	struct speaker *speaker = build->speaker;
	page->white_heading = say0(speaker, "mix.white");
	page->white_text = say0(speaker, "mix.white_text");
	page->black_heading = say0(speaker, "mix.black");
	page->black_text = say0(speaker, "mix.black_text");
}

static void fill_mix_line(struct build *build, const struct draw *draw, struct mix_page *page)
{
	struct speaker *speaker = build->speaker;
	const char *place = say_line_place(speaker, &draw->add);
	page->letter = picture_letter(build, 0);
	page->heading = say0(speaker, "mix.heading");
	page->with = say1(speaker, arena_printf(build->arena, "mix.with_%s", liquid_kind(draw->product)), "syringe",
	                  mixing_syringe_name(build, draw));
	page->place = say1(speaker, "mix.place", "line", place);
	page->true_size = true_size_words(build, draw);
	page->alt = say2(speaker, "line.alt_draw", "mark",
	                 mark_words_plain(build->arena, say_line(speaker, &draw->add)), "line", place);
	page->alt = picture_alt(build, page->letter, NULL, page->alt);
}

const struct mix_page *mix_page_of(struct build *build, const struct variant *variant, int *next)
{
	struct speaker *speaker = build->speaker;
	const struct draw *draw = variant->draw;
	struct mix_page *page = arena_alloc(build->arena, sizeof *page);
	if (!draw->has_add || draw->add.syringe == NULL || draw->measure != MEASURE_SYRINGE)
		return NULL;
	*page = (struct mix_page){.title = say1(speaker, "mix.title", "name", sheet_name(build, variant)),
	                          .lead = say1(speaker, "mix.lead", "page", PAGE_HERE)};
	fill_mix_line(build, draw, page);
	fill_sum(build, draw, page);
	page->ready_days = tick_days_of(build, variant, true, &page->ready_check);
	fill_legend(build, page);
	page->steps = steps_of(build, variant, STEP_MIX, *next, &page->n_steps);
	*next = after_steps(page->steps, page->n_steps, *next);
	if (draw->product->in_use.given && draw_two_syringes(draw)) {
		const char *days = days_opened(build, variant);
		page->only_when = days == NULL ? say0(speaker, "mix.only_new")
		                               : say2(speaker, "mix.only_new_days", "days", days, "page", PAGE_HERE);
	}
	return page;
}

/* ---- several powders, one liquid ---- */

static const struct chain_vial *chain_vials(struct build *build, const struct draw *draw)
{
	struct speaker *speaker = build->speaker;
	struct chain_vial *vials = arena_alloc(build->arena, draw->n_containers * sizeof *vials);
	struct quantity total = draw->containers[0].takes;
	for (size_t i = 0; i < draw->n_containers; i++) {
		const char *number = count_text(build, (int64_t)i + 1);
		bool last = i + 1 == draw->n_containers;
		bool fits = i == 0 || quantity_add(total, draw->containers[i].takes, &total);
		vials[i] = (struct chain_vial){
			.number = number,
			.name = say1(speaker, "chain.vial", "number", number),
			.total = fits ? say_amount(speaker, total) : "",
			.into = say1(speaker, "chain.into", "number", number),
			.then = last ? NULL : say1(speaker, "chain.for", "number", count_text(build, (int64_t)i + 2)),
		};
	}
	return vials;
}

static void fill_chain_ticks(struct build *build, const struct draw *draw, int next, struct powder_chain *chain)
{
	struct speaker *speaker = build->speaker;
	static const char *const mixes[] = {
		[MIX_SWIRL] = "chain.swirl", [MIX_ROLL] = "chain.roll", [MIX_SHAKE] = "chain.shake"};
	chain->ticks_heading = say0(speaker, "chain.ticks");
	chain->ticks_note = say0(speaker, "chain.ticks_note");
	chain->tick_heads[0] = say0(speaker, "chain.push");
	chain->tick_heads[1] = say0(speaker, mixes[draw->product->mix]);
	chain->tick_heads[2] = say0(speaker, "chain.draw");
	chain->gone = say0(speaker, "chain.gone");
	chain->last = say1(speaker, "chain.then", "step", count_text(build, next));
	chain->last_mark = say_mark(speaker, draw);
	chain->foot = say1(speaker, draw->mark.all ? "chain.foot" : "chain.foot_line", "count",
	                   count_text(build, (int64_t)draw->n_containers));
}

const struct powder_chain *powder_chain_of(struct build *build, const struct variant *variant, int next)
{
	struct speaker *speaker = build->speaker;
	const struct draw *draw = variant->draw;
	struct powder_chain *chain = arena_alloc(build->arena, sizeof *chain);
	if (draw->n_containers < 2 || draw->product->container != CONTAINER_POWDER_VIAL ||
	    draw->measure != MEASURE_SYRINGE)
		return NULL;
	struct value values[] = {{"name", sheet_name(build, variant)},
	                         {"days", variant_days(build, speaker, variant)},
	                         {"time", variant_times(build, speaker, variant)}};
	int64_t n = (int64_t)draw->n_containers;
	*chain = (struct powder_chain){
		.title = say_count(speaker, "chain.title", n, values, 3),
		.lead = say_count(speaker, "chain.lead", n, values, 3),
		.heading = say0(speaker, "chain.heading"),
		.alt = say_count(speaker, "chain.alt", n, values, 3),
		.liquid_word = say0(speaker, "chain.liquid"),
		.liquid_amount = millilitres(build, draw->liquid),
		.in_word = say0(speaker, "chain.in"),
		.out_word = say0(speaker, "chain.out"),
		.now_word = say0(speaker, "chain.now"),
		.vials = chain_vials(build, draw),
		.n_vials = draw->n_containers,
	};
	fill_chain_ticks(build, draw, next, chain);
	chain->days = tick_days_of(build, variant, false, &chain->foot);
	return chain;
}

/* ---- part of a filled syringe ---- */

const char *part_goes_in(struct build *build, const struct draw *draw)
{
	struct rational goes_in;
	return !rational_is_zero(draw->held) && rational_subtract(draw->held, draw->rest, &goes_in)
	               ? millilitres(build, goes_in)
	               : millilitres(build, draw->volume);
}

const char *part_rest(struct build *build, const struct draw *draw)
{
	return rational_is_zero(draw->held) ? say0(build->speaker, "part.rest") : millilitres(build, draw->rest);
}

/* Actions one after the other, as they are spoken. */
static const char *one_line(struct arena *arena, const char *text)
{
	char *line = arena_strndup(arena, text, strlen(text));
	for (char *c = line; *c != '\0'; c++)
		if (*c == '\n')
			*c = ' ';
	return line;
}

const struct filled_part *filled_part_of(struct build *build, const struct variant *variant, int *next)
{
	struct speaker *speaker = build->speaker;
	const struct draw *draw = variant->draw;
	bool push_out = draw->mark.line == LINE_PUSH_OUT;
	size_t n_line;
	size_t n_rest;
	if (draw->product->container != CONTAINER_PREFILLED_SYRINGE || draw->mark.all || draw->mark.syringe == NULL ||
	    (!push_out && draw->mark.line != LINE_STOP))
		return NULL;
	struct filled_part *part = arena_alloc(build->arena, sizeof *part);
	part->to_line = steps_of(build, variant, STEP_LINE, *next, &n_line);
	part->rest = steps_of(build, variant, STEP_REST, *next + 1, &n_rest);
	/* A clinic's own technique may have no such steps: then the usual back serves. */
	if (n_line != 1 || n_rest != 1)
		return NULL;
	*next += 2;
	part->window_text = say1(speaker, "line.ring", "line", say_line_place(speaker, &draw->mark));
	part->rest_alt = one_line(build->arena, part->rest->text);
	if (push_out)
		part->rest_mark = (struct mark_words){.number = say0(speaker, "mark.all")};
	else
		part->stays_word = say1(speaker, "part.stays", "rest", part_rest(build, draw));
	return part;
}

/* ---- into the muscle ---- */

static const char *needle_words(struct build *build, const struct needle *needle, const char *key)
{
	return say1(build->speaker, key, "length", say_amount(build->speaker, needle->length.quantity));
}

static void fill_needles(struct build *build, const struct variant *variant, struct muscle_page *page)
{
	const struct product *product = variant->draw->product;
	bool swaps = draw_swaps_needles(variant->draw) && product->mixing_needle.length.given;
	if (!product->giving_needle.given || !product->giving_needle.length.given)
		return;
	page->needles_heading = say0(build->speaker, swaps ? "muscle.needles" : "muscle.needle");
	page->thin_text = needle_words(build, &product->giving_needle, swaps ? "muscle.thin" : "muscle.one_needle");
	if (swaps)
		page->thick_text = needle_words(build, &product->mixing_needle, "muscle.thick");
	page->depth = say0(build->speaker, "muscle.depth");
}

/* The log has one row a dose; the same dose on the same day at two times has two. */
static void fill_log(struct build *build, const struct variant *variant, struct muscle_page *page)
{
	struct speaker *speaker = build->speaker;
	struct muscle_row *rows = NULL;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (!is_on_sheet(build, variant, dose))
			continue;
		enum side side = dose->open ? SIDE_NONE : side_of_day(build, dose->date);
		rows = arena_more(build->arena, rows, page->n_rows, sizeof *rows);
		rows[page->n_rows++] = (struct muscle_row){
			.day = count_text(build, dose->open ? dose->day : course_day(build, dose->date)),
			.date = dose->open ? NULL : say_date(speaker, dose->date, DATE_SHORT),
			.side = side,
			.side_word = side == SIDE_NONE ? NULL
		                                       : say0(speaker, side == SIDE_LEFT ? "side.left" : "side.right"),
		};
	}
	page->rows = rows;
	page->log_heading = say0(speaker, "muscle.log");
	page->log_note = say0(speaker, "muscle.log_note");
	page->time_word = say0(speaker, "muscle.time");
	page->who_word = say0(speaker, "muscle.who");
	page->done_word = say0(speaker, "muscle.done");
}

static void fill_map(struct build *build, const struct variant *variant, struct muscle_page *page)
{
	static const char *const by_clinic[] = {"upper-quarter"};
	struct speaker *speaker = build->speaker;
	page->quarter = conditions_hold(variant, by_clinic, 1);
	page->left_word = say0(speaker, "side.left");
	page->right_word = say0(speaker, "side.right");
	page->map_caption = say0(speaker, "muscle.map");
	page->place_heading = say0(speaker, page->quarter ? "muscle.quarter" : "muscle.hip");
	page->place_text = say0(speaker, page->quarter ? "muscle.quarter_text" : "muscle.hip_text");
	page->map_alt = page->place_text;
}

const struct muscle_page *muscle_page_of(struct build *build, const struct variant *variant, int *next)
{
	struct speaker *speaker = build->speaker;
	const struct draw *draw = variant->draw;
	struct muscle_page *page = arena_alloc(build->arena, sizeof *page);
	const struct step *steps;
	size_t n;
	if (variant->item->medicine->route != ROUTE_INTRAMUSCULAR || draw->measure != MEASURE_SYRINGE)
		return NULL;
	steps = steps_of(build, variant, STEP_HELPER, *next, &n);
	if (n == 0)
		return NULL;
	struct value values[] = {{"name", sheet_name(build, variant)},
	                         {"days", variant_days(build, speaker, variant)},
	                         {"time", variant_times(build, speaker, variant)},
	                         {"amount", say_amount(speaker, draw->dose)}};
	*page = (struct muscle_page){.title = say(speaker, "muscle.title", values, 4),
	                             .lead = say(speaker, "muscle.lead", values, 4),
	                             .steps = steps,
	                             .n_steps = n};
	*next = after_steps(steps, n, *next);
	fill_map(build, variant, page);
	fill_needles(build, variant, page);
	if (!draw->mark.all && draw->mark.syringe != NULL) {
		page->line_heading = say0(speaker, "muscle.line");
		page->line_text = say2(speaker, "muscle.line_text", "amount", values[3].text, "line",
		                       say_line_place(speaker, &draw->mark));
	}
	fill_log(build, variant, page);
	return page;
}

/* ---- a container for many days ---- */

static const struct container_use *use_of(const struct dose *dose, const struct product *product, int64_t number)
{
	for (size_t i = 0; i < dose->n_draws; i++)
		for (size_t j = 0; j < dose->draws[i].n_containers; j++) {
			const struct container_use *use = &dose->draws[i].containers[j];
			if (use->product == product && use->number == number)
				return use;
		}
	return NULL;
}

/* Nothing of the item comes after this dose, whatever happens: what is left then is thrown away. */
static bool ends_with(const struct build *build, const struct dose *last)
{
	const struct course *course = build->course;
	if (last == NULL || last->open || last->unless_sooner)
		return false;
	for (size_t i = 0; i < course->n_runs; i++)
		if (course->runs[i].item == last->item && (course->runs[i].open || course->runs[i].end != ITEM_ENDS))
			return false;
	for (const struct dose *dose = last + 1; dose < course->doses + course->n_doses; dose++)
		if (dose->item == last->item)
			return false;
	return true;
}

/* The next dose takes another container, on days that are known: too little is left in this one, or none. */
static bool is_thrown_after(const struct dose *last, const struct container_use *use)
{
	return last != NULL && !last->open && !last->unless_sooner && use->then == THEN_DISCARD;
}

/* The doses of one container; a row without days where it serves none. */
static struct vial_row vial_row_of(struct build *build, const struct variant *variant, int64_t number)
{
	struct speaker *speaker = build->speaker;
	struct vial_square *squares = NULL;
	const struct dose *last = NULL;
	const struct container_use *last_use = NULL;
	bool opened_before = true;
	struct vial_row row = {.name = say1(speaker, "vials.name", "number", count_text(build, number))};
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		const struct container_use *use =
			dose->item == variant->item ? use_of(dose, variant->draw->product, number) : NULL;
		if (use == NULL)
			continue;
		opened_before = opened_before && !use->opens;
		if (use->opens && !dose->open)
			row.opened =
				say2(speaker, "vials.opened", "day", count_text(build, course_day(build, dose->date)),
			             "date", say_date(speaker, dose->date, DATE_SHORT));
		if (use->has_by && row.last == NULL)
			row.last = say1(speaker, "vials.last", "date", say_date(speaker, use->by, DATE_SHORT));
		last = dose;
		last_use = use;
		squares = arena_more(build->arena, squares, row.n_squares, sizeof *squares);
		squares[row.n_squares++] = (struct vial_square){
			dose, count_text(build, dose->open ? dose->day : course_day(build, dose->date)), dose->done};
	}
	if (row.opened == NULL)
		row.opened = say0(speaker, opened_before ? "vials.in_use" : "vials.write_day");
	if (ends_with(build, last) || is_thrown_after(last, last_use))
		row.last = say1(speaker, "vials.last_dose", "date", say_date(speaker, last->date, DATE_SHORT));
	if (row.last == NULL)
		row.last = say0(speaker, "vials.last_done");
	row.squares = squares;
	return row;
}

/* Numbers run over all items that are given from a product. */
static int64_t last_number(const struct build *build, const struct product *product)
{
	int64_t last = 0;
	for (size_t i = 0; i < build->course->n_doses; i++)
		for (size_t j = 0; j < build->course->doses[i].n_draws; j++) {
			const struct draw *draw = &build->course->doses[i].draws[j];
			for (size_t k = 0; k < draw->n_containers; k++)
				if (draw->containers[k].product == product && draw->containers[k].number > last)
					last = draw->containers[k].number;
		}
	return last;
}

/* The first amount from the product that has a sheet: there are the squares, since a dose has one box to tick. */
static const struct variant *first_of_product(const struct build *build, const struct variant *variant)
{
	for (size_t i = 0; i < build->n_variants; i++)
		if (build->variants[i].item == variant->item &&
		    build->variants[i].draw->product == variant->draw->product && build->variants[i].sheet >= 0)
			return &build->variants[i];
	return variant;
}

/* All that is drawn as one variant. */
static const struct dose *const *doses_of(struct build *build, const struct variant *variant, size_t *n)
{
	const struct dose **doses = NULL;
	*n = 0;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (dose->n_draws == 0 || variant_of(build, dose, 0) != variant)
			continue;
		doses = arena_more(build->arena, doses, *n, sizeof *doses);
		doses[(*n)++] = dose;
	}
	return doses;
}

static section_ref back_section(const struct variant *variant)
{
	return variant->exact_section >= 0 ? variant->exact_section : variant->sheet;
}

/* All that have a sheet, but for the one whose sheet has the squares. */
static const struct vial_other *other_amounts(struct build *build, const struct variant *variant, size_t *n)
{
	struct vial_other *others = NULL;
	*n = 0;
	for (size_t i = 0; i < build->n_variants; i++) {
		const struct variant *other = &build->variants[i];
		if (other == variant || other->item != variant->item ||
		    other->draw->product != variant->draw->product || other->sheet < 0 || variant_is_over(build, other))
			continue;
		struct value values[] = {{"amount", variant_amount(build->speaker, other)},
		                         {"page", PAGE_HERE},
		                         {"days", variant_days(build, build->speaker, other)}};
		others = arena_more(build->arena, others, *n, sizeof *others);
		others[(*n)++] = (struct vial_other){say(build->speaker, "vials.other", values, 3), other->sheet};
	}
	return others;
}

const struct vial_log *vial_log_of(struct build *build, const struct variant *variant)
{
	const struct product *product = variant->draw->product;
	bool vial = product->container == CONTAINER_SOLUTION_VIAL || product->container == CONTAINER_POWDER_VIAL;
	struct vial_row *rows = NULL;
	struct vial_log *log = arena_alloc(build->arena, sizeof *log);
	const struct variant *first = first_of_product(build, variant);
	if (!vial || !product->in_use.given)
		return NULL;
	if (first != variant) {
		*log = (struct vial_log){.heading = say0(build->speaker, "vials.heading"),
		                         .note = say1(build->speaker, "vials.elsewhere", "page", PAGE_HERE),
		                         .stop = say1(build->speaker, "vials.stop", "page", PAGE_HERE),
		                         .section = back_section(first)};
		log->doses = doses_of(build, variant, &log->n_doses);
		return log;
	}
	*log = (struct vial_log){.heading = say0(build->speaker, "vials.heading"),
	                         .section = -1,
	                         .note = say1(build->speaker, "vials.note", "time",
	                                      say_amount(build->speaker, product->in_use.quantity))};
	for (int64_t number = 1; number <= last_number(build, product); number++) {
		struct vial_row row = vial_row_of(build, variant, number);
		if (row.n_squares == 0)
			continue;
		rows = arena_more(build->arena, rows, log->n_rows, sizeof *rows);
		rows[log->n_rows++] = row;
	}
	log->rows = rows;
	log->others = other_amounts(build, variant, &log->n_others);
	return log->n_rows == 0 ? NULL : log;
}
