/*
 * pen.c - a pen's sheet, and the page of a dose that takes more than one pen.
 *
 * One sheet serves all amounts that are set on the same pen: its front gets the
 * pen ready and lists the pens of the course, its back shows each number with
 * its days. A dose that is finished from the next pen has a page of its own,
 * on which the steps are numbered through.
 */
#include "handout/build.h"

#include "plan/draw.h"

static const struct rational one = {1, 1};

/* ---- one setting ---- */

static const char *number_of(struct build *build, struct quantity setting)
{
	return say_number(build->speaker, setting.number);
}

/* How full the pen is before a draw; by what the draw takes, loses and leaves. */
static struct rational full_before(const struct draw *draw)
{
	const struct container_use *use = &draw->containers[0];
	struct quantity there, content;
	struct rational part;
	if (draw->n_containers == 0 || !product_content(draw->product, &content) ||
	    !quantity_add(use->leaves, use->takes, &there) || !quantity_add(there, use->lost, &there) ||
	    !quantity_ratio(there, content, &part) || rational_compare(part, one) > 0)
		return one;
	return part;
}

static struct pen_view view_of(struct build *build, const struct draw *draw, size_t index)
{
	struct dial_neighbours next = dial_neighbours(draw->product, draw->dial);
	struct pen_view view = {.mark = say_mark(build->speaker, draw),
	                        .letter = picture_letter(build, index),
	                        .number = number_of(build, draw->dial),
	                        .full = full_before(draw),
	                        .caption = say0(build->speaker, "pen.window")};
	if (next.has_below && next.below.number.numerator >= 0)
		view.below = number_of(build, next.below);
	if (next.has_above)
		view.above = number_of(build, next.above);
	view.alt = picture_alt(build, view.letter, NULL, say1(build->speaker, "pen.alt", "number", view.number));
	return view;
}

struct mark_words pen_test_mark(struct build *build, struct quantity priming)
{
	if (rational_is_zero(priming.number))
		return (struct mark_words){.number = NULL};
	return (struct mark_words){
		.before = say0(build->speaker, "mark.dial"), .number = number_of(build, priming), .open = true};
}

/* ---- the pens of the course ---- */

/* A pen is known by its product and number; two items of one medicine may share it. */
static const struct container_use *use_of_pen(const struct dose *dose, const struct container_use *pen)
{
	for (size_t i = 0; i < dose->n_draws; i++) {
		const struct container_use *use = dose->draws[i].n_containers > 0 ? dose->draws[i].containers : NULL;
		if (use != NULL && use->product == pen->product && use->number == pen->number)
			return use;
	}
	return NULL;
}

struct pen_life {
	const struct dose *first;
	const struct dose *last;
};

/* Doses by time; undated ones come last and in their order. */
static struct pen_life life_of(const struct build *build, const struct container_use *pen)
{
	struct pen_life life = {NULL, NULL};
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = build->course->by_time[i];
		if (use_of_pen(dose, pen) == NULL)
			continue;
		if (life.first == NULL)
			life.first = dose;
		life.last = dose;
	}
	return life;
}

static const char *day_words(struct build *build, const struct dose *dose)
{
	if (dose->open)
		return say1(build->speaker, "days.one", "days", say_number(build->speaker, rational_of(dose->day, 1)));
	return say_date(build->speaker, dose->date, DATE_SHORT);
}

/* What becomes of it after its last dose of this sheet. */
static const char *then_words(struct build *build, const struct container_use *use)
{
	struct speaker *speaker = build->speaker;
	if (use->then == THEN_DISCARD)
		return say0(speaker, rational_is_zero(use->leaves.number) ? "pen.then_empty" : "pen.then_rest");
	if (!use->has_by)
		return say0(speaker, "pen.then_keep");
	return say1(speaker, "pen.then_keep_until", "date", say_date(speaker, use->by, DATE_SHORT));
}

static struct pen_row row_of(struct build *build, const struct container_use *pen, int number)
{
	struct speaker *speaker = build->speaker;
	struct pen_life life = life_of(build, pen);
	const struct container_use *first = use_of_pen(life.first, pen);
	const struct container_use *last = use_of_pen(life.last, pen);
	const char *begins = day_words(build, life.first);
	return (struct pen_row){{
		say1(speaker, "pen.name", "number", say_number(speaker, rational_of(number, 1))),
		first->opens ? begins : say1(speaker, "pen.in_use_from", "date", begins),
		day_words(build, life.last),
		say_amount(speaker, last->leaves),
		then_words(build, last),
	}};
}

/* Every pen of the item's product, in order of use. */
static void fill_pens(struct build *build, const struct variant *variant, struct pen_sheet *sheet)
{
	static const char *const keys[PEN_COLUMNS] = {"pen.head_pen", "pen.head_first", "pen.head_last",
	                                              "pen.head_left", "pen.head_then"};
	const struct course *course = build->course;
	const struct container_use **pens = NULL;
	struct pen_row *rows = NULL;
	size_t n = 0;
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = course->by_time[i];
		for (size_t j = 0; dose->item == variant->item && j < dose->n_draws; j++) {
			const struct draw *draw = &dose->draws[j];
			bool known = draw->product != variant->draw->product || draw->n_containers == 0;
			for (size_t k = 0; !known && k < n; k++)
				known = pens[k]->number == draw->containers[0].number;
			if (known)
				continue;
			pens = arena_more(build->arena, pens, n, sizeof(*pens));
			rows = arena_more(build->arena, rows, n, sizeof *rows);
			pens[n] = &draw->containers[0];
			rows[n] = row_of(build, pens[n], (int)n + 1);
			n++;
		}
	}
	sheet->pens_heading = say0(build->speaker, "pen.pens_heading");
	for (size_t i = 0; i < PEN_COLUMNS; i++)
		sheet->heads[i] = say0(build->speaker, keys[i]);
	sheet->rows = rows;
	sheet->n_rows = n;
}

/* ---- days on which one pen is not enough ---- */

static const char *day_number(struct build *build, const struct dose *dose)
{
	int64_t day = dose->open ? dose->day : course_day(build, dose->date);
	return say_number(build->speaker, rational_of(day, 1));
}

/* One day with its date, several by their numbers. */
static const char *days_of(struct build *build, const struct dose *dose)
{
	struct speaker *speaker = build->speaker;
	const char *days = NULL;
	size_t n = 0;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *other = &build->course->doses[i];
		if (other != dose && !pens_alike(dose, other))
			continue;
		const char *day = day_number(build, other);
		days = days == NULL ? day : say2(speaker, "list.comma", "first", days, "last", day);
		n++;
	}
	if (n == 1 && !dose->open)
		return say2(speaker, "pens.day", "day", days, "date", say_date(speaker, dose->date, DATE_LONG));
	return say1(speaker, n == 1 ? "days.one" : "days.many", "days", days);
}

/* ---- the numbers ---- */

static void fill_amounts(struct build *build, const struct variant *variant, struct pen_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	struct pen_amount *amounts = arena_alloc(build->arena, build->n_variants * sizeof *amounts);
	for (size_t i = 0; i < build->n_variants; i++) {
		const struct variant *other = &build->variants[i];
		if (other->sheet != variant->sheet || !is_whole_dose(build, other))
			continue;
		amounts[sheet->n_amounts] = (struct pen_amount){
			.days = variant_days(build, speaker, other),
			.amount = say_amount(speaker, other->draw->dose),
			.text = say1(speaker, "pen.turn_until", "number", number_of(build, other->draw->dial)),
			.view = view_of(build, other->draw, sheet->n_amounts)};
		sheet->n_amounts++;
	}
	sheet->amounts = amounts;
}

/* Pens of several sizes have a sheet each: their titles then say which. */
static bool has_other_pens(const struct build *build, const struct variant *variant)
{
	for (size_t i = 0; i < build->n_variants; i++)
		if (build->variants[i].item == variant->item &&
		    build->variants[i].draw->product != variant->draw->product)
			return true;
	return false;
}

static const char *box_of(struct build *build, const struct product *product)
{
	struct quantity content;
	if (product->box_says.text != NULL)
		return product->box_says.text;
	return product_content(product, &content) ? say_amount(build->speaker, content) : "";
}

/*
 * Of amounts that a call sets only one counts; and days on which one pen is not
 * enough are on pages of their own: a reader of this one must miss neither.
 */
static void fill_see(struct build *build, const struct variant *variant, struct pen_sheet *sheet)
{
	struct note_block *see = NULL;
	section_ref options = pages_of_item(build, variant->item)->options;
	if (options >= 0) {
		see = arena_more(build->arena, see, sheet->n_see, sizeof *see);
		see[sheet->n_see++] = (struct note_block){.pictogram = PICTURE_CHECK,
		                                          .text = say0(build->speaker, "pen.only_ticked"),
		                                          .section = options};
	}
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (dose->item != variant->item || dose->n_draws < 2)
			continue;
		section_ref section = pens_section(build, dose);
		bool known = section < 0;
		for (size_t j = 0; j < sheet->n_see; j++)
			known = known || see[j].section == section;
		if (known)
			continue;
		struct value days = {"days", days_of(build, dose)};
		see = arena_more(build->arena, see, sheet->n_see, sizeof *see);
		see[sheet->n_see++] = (struct note_block){
			.pictogram = PICTURE_PEN,
			.text = say_count(build->speaker, "pen.see_pens", (int64_t)dose->n_draws, &days, 1),
			.section = section};
	}
	sheet->see = see;
}

static void fill_pen_titles(struct build *build, const struct variant *variant, struct medicine_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	const struct product *product = variant->draw->product;
	const char *name = variant->item->medicine->name;
	const char *box = box_of(build, product);
	struct value values[] = {{"name", name},
	                         {"box", box},
	                         {"days", product_days(build, speaker, variant->item, product)},
	                         {"time", product_times(build, speaker, variant->item, product)}};
	if (has_other_pens(build, variant))
		values[0].text = say2(speaker, "medicine.name_amount", "name", name, "amount", box);
	sheet->front_title = say(speaker, "medicine.front_title", values, 4);
	sheet->front_lead = say(speaker, "pen.lead", values, 4);
	sheet->back_title = say(speaker, "pen.back_title", values, 4);
	sheet->back_lead = say(speaker, "pen.back_lead", values, 4);
	sheet->back_heading = say0(speaker, "pen.steps");
}

const struct pen_sheet *pen_sheet_of(struct build *build, const struct variant *variant)
{
	struct pen_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	struct medicine_sheet *common = arena_alloc(build->arena, sizeof *common);
	const struct stated_quantity *priming = &variant->draw->product->dial.priming;
	*common = *medicine_sheet_of(build, variant);
	common->same_heading = NULL;
	common->has_add = priming->given && !rational_is_zero(priming->quantity.number);
	if (common->has_add)
		common->add = pen_test_mark(build, priming->quantity);
	fill_pen_titles(build, variant, common);
	sheet->sheet = common;
	fill_pens(build, variant, sheet);
	fill_amounts(build, variant, sheet);
	fill_see(build, variant, sheet);
	return sheet;
}

/* ---- a dose from several pens ---- */

static bool serves_one_day(const struct build *build, const struct dose *dose)
{
	for (size_t i = 0; i < build->course->n_doses; i++)
		if (&build->course->doses[i] != dose && pens_alike(dose, &build->course->doses[i]))
			return false;
	return true;
}

static const char *which_pen(struct build *build, const struct dose *dose, const struct draw *draw)
{
	struct speaker *speaker = build->speaker;
	const struct container_use *use = &draw->containers[0];
	if (use->opens)
		return say0(speaker, "pens.which_new");
	const struct dose *first = life_of(build, use).first;
	bool dated = serves_one_day(build, dose) && !dose->open && !first->open && use_of_pen(first, use)->opens;
	if (!dated)
		return say0(speaker, "pens.which_old");
	return say1(speaker, "pens.which_opened", "date", say_date(speaker, first->date, DATE_LONG));
}

static struct pen_turn turn_of(struct build *build, const struct dose *dose, size_t index, int first_number)
{
	struct speaker *speaker = build->speaker;
	const struct draw *draw = &dose->draws[index];
	struct variant variant = {.item = dose->item, .dose = dose, .draw = draw, .draw_index = index};
	bool new = draw->containers[0].opens;
	bool all = rational_is_zero(draw->containers[0].leaves.number);
	struct value which[] = {{"n", say_number(speaker, rational_of((int64_t)index + 1, 1))},
	                        {"of", say_number(speaker, rational_of((int64_t)dose->n_draws, 1))},
	                        {"pen", which_pen(build, dose, draw)}};
	struct pen_turn turn = {.heading = say0(speaker, index == 0 ? "pens.first" : "pens.then"),
	                        .which = say(speaker, "pens.which", which, 3),
	                        .part_says = say0(speaker, new   ? "pens.part_new"
	                                                   : all ? "pens.part_old"
	                                                         : "pens.part_use"),
	                        .part = say_amount(speaker, draw->dose),
	                        .view = view_of(build, draw, index),
	                        .priming = pen_test_mark(build, draw->priming)};
	turn.steps = steps_of(build, &variant, STEP_EACH_PEN, first_number, &turn.n_steps);
	if (index + 1 < dose->n_draws)
		turn.next = say2(speaker, "pens.next", "n", say_number(speaker, rational_of((int64_t)index + 2, 1)),
		                 "of", which[1].text);
	return turn;
}

static int after_steps(const struct pen_turn *turn, int first_number)
{
	int next = first_number;
	for (size_t i = 0; i < turn->n_steps; i++)
		next = turn->steps[i].number >= next ? turn->steps[i].number + 1 : next;
	return next;
}

/* What is done once, before the first pen. */
static const struct medicine_sheet *common_of_pens(struct build *build, const struct dose *dose)
{
	struct medicine_sheet *common = arena_alloc(build->arena, sizeof *common);
	struct variant variant = {.item = dose->item, .dose = dose, .draw = &dose->draws[0], .split_section = -1};
	*common = (struct medicine_sheet){
		.place = todays_place_of_pens(build, dose),
		.caution_word = say0(build->speaker, "caution.word"),
		.caution = say0(build->speaker, dose->n_draws == 2 ? "pens.caution" : "pens.caution_more")};
	common->first = steps_of(build, &variant, STEP_PENS_FIRST, 1, &common->n_first);
	fill_about(build, &variant, common);
	return common;
}

const struct pens_sheet *pens_sheet_of(struct build *build, const struct dose *dose)
{
	struct speaker *speaker = build->speaker;
	struct pens_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	struct pen_turn *turns = arena_alloc(build->arena, dose->n_draws * sizeof *turns);
	int number = 1;
	for (size_t i = 0; i < dose->n_draws; i++) {
		turns[i] = turn_of(build, dose, i, number);
		number = after_steps(&turns[i], number);
	}
	struct value values[] = {{"name", dose->item->medicine->name},
	                         {"count", say_number(speaker, rational_of((int64_t)dose->n_draws, 1))},
	                         {"days", days_of(build, dose)},
	                         {"time", dose_time(build, speaker, dose)}};
	*sheet = (struct pens_sheet){
		.title = say(speaker, dose->n_draws == 2 ? "pens.title" : "pens.title_more", values, 4),
		.lead = say(speaker, "pens.lead", values, 4),
		.calendar_says = say0(speaker, "same.calendar"),
		.amount = say_amount(speaker, dose->ordered),
		.sheet = common_of_pens(build, dose),
		.turns = turns,
		.n_turns = dose->n_draws,
		.done_word = say0(speaker, "pens.done")};
	return sheet;
}
