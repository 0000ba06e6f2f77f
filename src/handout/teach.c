/*
 * teach.c - the staff's page for teaching back: what the patient is asked to show, and when it is right.
 *
 * Its rows come from the patient's own medicines; one that is not hers is not
 * asked. What is right is the sheet's own mark, time or words.
 */
#include "handout/build.h"

#include <string.h>

struct teaching {
	struct build *build;
	const struct section *sections; /* filled */
	struct teach_row *rows;
	size_t n;
};

static void add(struct teaching *teaching, struct teach_row row)
{
	teaching->rows = arena_more(teaching->build->arena, teaching->rows, teaching->n, sizeof *teaching->rows);
	teaching->rows[teaching->n++] = row;
}

static const char *said(struct teaching *teaching, const char *name, const char *say)
{
	return say2(teaching->build->staff, "teach.row", "name", name, "say", say);
}

/* A tag as the patient reads it, and what it says where that is in another language. */
static void show(struct teaching *teaching, struct teach_row *row, struct mark_words printed, struct mark_words means)
{
	struct arena *arena = teaching->build->arena;
	row->mark = printed;
	row->means = mark_words_plain(arena, means);
	if (strcmp(row->means, mark_words_plain(arena, printed)) == 0)
		row->means = NULL;
}

/* ---- what is new ---- */

/* Two versions at home are what goes wrong first: which pages go, and what is new. */
static void ask_change(struct teaching *teaching)
{
	struct build *build = teaching->build;
	const struct replaced_sheet *replaced = &build->record->replaced;
	if (!replaced->given)
		return;
	const char *version = say_number(build->staff, rational_of(replaced->version, 1));
	add(teaching, (struct teach_row){.pictogram = PICTURE_TEAR,
	                                 .say = say0(build->staff, "teach.tear"),
	                                 .right = say1(build->staff, "teach.tear_right", "version", version),
	                                 .section = -1,
	                                 .back = -1});
	add(teaching, (struct teach_row){.pictogram = PICTURE_SHEET,
	                                 .say = say0(build->staff, "teach.change"),
	                                 .right = say0(build->staff, "teach.change_right"),
	                                 .section = build->change_section,
	                                 .back = -1});
}

/* ---- the step that shows it ---- */

#define PICTURES_MOST 5

/* What a step is known by. */
struct sought {
	const char *picture; /* NULL: any */
	bool white_tag;
	bool on_line; /* it must stop on the line */
};

static const struct step *step_sought(const struct step *steps, size_t n, struct sought sought)
{
	for (size_t i = 0; i < n; i++)
		if ((sought.picture == NULL || strcmp(steps[i].picture, sought.picture) == 0) &&
		    steps[i].white_tag == sought.white_tag && (steps[i].on_line || !sought.on_line) &&
		    !steps[i].warning)
			return &steps[i];
	return NULL;
}

/* The number of the first, of the earlier sides rather; 0: there is none. */
static int number_sought(const struct medicine_sheet *sheet, struct sought sought)
{
	const struct {
		const struct step *steps;
		size_t n;
	} lists[] = {
		{sheet->front, sheet->n_front},
		{sheet->mix == NULL ? NULL : sheet->mix->steps, sheet->mix == NULL ? 0 : sheet->mix->n_steps},
		{sheet->part == NULL ? NULL : sheet->part->to_line,
	         sheet->part != NULL && sheet->part->to_line != NULL},
		{sheet->part == NULL ? NULL : sheet->part->rest, sheet->part != NULL && sheet->part->rest != NULL},
		{sheet->back, sheet->n_back},
		{sheet->muscle == NULL ? NULL : sheet->muscle->steps,
	         sheet->muscle == NULL ? 0 : sheet->muscle->n_steps},
	};
	for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
		const struct step *step = step_sought(lists[i].steps, lists[i].n, sought);
		if (step != NULL)
			return step->number;
	}
	return 0;
}

int step_drawn_as(const struct medicine_sheet *sheet, const char *picture, bool white_tag)
{
	return number_sought(sheet, (struct sought){.picture = picture, .white_tag = white_tag});
}

static int step_of_pens(const struct pens_sheet *sheet, const struct variant *variant, const char *picture)
{
	if (variant->draw_index >= sheet->n_turns)
		return 0;
	const struct pen_turn *turn = &sheet->turns[variant->draw_index];
	const struct step *step = step_sought(turn->steps, turn->n_steps, (struct sought){.picture = picture});
	return step == NULL ? 0 : step->number;
}

static int step_shown(const struct teaching *teaching, const struct variant *variant, const char *picture,
                      bool white_tag)
{
	const struct section *section = &teaching->sections[variant->section];
	if (section->kind == SECTION_MEDICINE)
		return step_drawn_as(section->medicine, picture, white_tag);
	if (section->kind == SECTION_PEN)
		return step_drawn_as(section->pen->sheet, picture, white_tag);
	return section->kind == SECTION_PENS ? step_of_pens(section->pens, variant, picture) : 0;
}

/* Which page and step of a variant a row asks for; the first of the pictures that its sheet has. */
static void at_step(const struct teaching *teaching, const struct variant *variant, const char *const *pictures,
                    bool white_tag, struct teach_row *row)
{
	row->section = variant->section;
	row->back = variant->exact_section;
	for (size_t i = 0; i < PICTURES_MOST && pictures[i] != NULL && row->step == 0 && row->section >= 0; i++)
		row->step = step_shown(teaching, variant, pictures[i], white_tag);
}

/* Where the ring, or the number, is brought to its place. */
static const char *const *pictures_of_line(const struct draw *draw)
{
	static const char *const dial[PICTURES_MOST] = {"pen-dial"};
	static const char *const push_out[PICTURES_MOST] = {"push-out-to"};
	static const char *const stop[PICTURES_MOST] = {"stop-at"};
	static const char *const all[PICTURES_MOST] = {"pinch-inject", "inject-muscle"};
	static const char *const line[PICTURES_MOST] = {"draw-line", "filter-draw", "ampoule-draw", "air-out"};
	if (draw->measure == MEASURE_DIAL)
		return dial;
	if (draw->mark.all)
		return all;
	return draw->mark.line == LINE_PUSH_OUT ? push_out : draw->mark.line == LINE_STOP ? stop : line;
}

/* A syringe is drawn past its line and brought to it later, if that is so; what has no such step is known by its picture. */
static void at_line(const struct teaching *teaching, const struct variant *variant, struct teach_row *row)
{
	const struct draw *draw = variant->draw;
	const struct section *section = variant->section < 0 ? NULL : &teaching->sections[variant->section];
	if (section != NULL && section->kind == SECTION_MEDICINE && draw->mark.line == LINE_DRAW && !draw->mark.all)
		row->step = number_sought(section->medicine, (struct sought){.on_line = true});
	at_step(teaching, variant, pictures_of_line(draw), false, row);
}

/* Several powders are mixed by a table in place of steps: its page is named. */
static void at_mixing(const struct teaching *teaching, const struct variant *variant, const char *const *pictures,
                      struct teach_row *row)
{
	at_step(teaching, variant, pictures, false, row);
	const struct section *section = variant->section < 0 ? NULL : &teaching->sections[variant->section];
	if (section != NULL && section->kind == SECTION_MEDICINE && row->step == 0)
		row->part = section->medicine->chain;
}

/* ---- when ---- */

static void ask_first(struct teaching *teaching)
{
	struct build *build = teaching->build;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = build->course->by_time[i];
		if (dose->open || dose->done || dose->as_needed)
			continue;
		const char *date = say_date(build->staff, dose->date, DATE_SHORT);
		add(teaching, (struct teach_row){.pictogram = PICTURE_CALENDAR,
		                                 .say = say1(build->staff, "teach.first", "date", date),
		                                 .right = say2(build->staff, "teach.first_right", "name",
		                                               dose->item->medicine->name, "time",
		                                               dose->has_time ? say_time(build->staff, dose->time)
		                                                              : say0(build->staff, "time.any")),
		                                 .section = build->grid_section,
		                                 .part = dose,
		                                 .back = -1});
		return;
	}
}

static void ask_exact(struct teaching *teaching)
{
	struct build *build = teaching->build;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = build->course->by_time[i];
		if (dose->open || dose->done || !dose->exact || dose->n_draws == 0)
			continue;
		const struct variant *variant = variant_of(build, dose, 0);
		const char *days = say_date(build->staff, dose->clock_date, DATE_SHORT);
		if (date_compare(dose->date, dose->clock_date) != 0)
			days = say2(build->staff, "days.range", "from", say_date(build->staff, dose->date, DATE_SHORT),
			            "to", days);
		add(teaching, (struct teach_row){.pictogram = PICTURE_CLOCK,
		                                 .say = said(teaching, dose->item->medicine->name,
		                                             say0(build->staff, "teach.exact")),
		                                 .right = say2(build->staff, "teach.exact_right", "days", days, "time",
		                                               say_time(build->staff, dose->time)),
		                                 .section = variant == NULL               ? -1
		                                            : variant->exact_section >= 0 ? variant->exact_section
		                                                                          : variant->section,
		                                 .back = -1});
	}
}

/* ---- how ---- */

/* An amount that only a call sets is asked once, as a call. */
static bool is_set_by_call(const struct variant *variant)
{
	return variant->dose->amount == DOSE_BY_CALL;
}

/* Two sheets of one medicine are told apart by their amounts. */
static const char *variant_name(struct build *build, const struct variant *variant)
{
	return say2(build->staff, "medicine.name_amount", "name", variant->item->medicine->name, "amount",
	            variant_amount(build->staff, variant));
}

static void ask_mixing(struct teaching *teaching, const struct variant *variant)
{
	static const struct {
		const char *right;
		const char *pictures[PICTURES_MOST];
	} ways[] = {[MIX_SWIRL] = {"teach.mix_swirl", {"swirl", "swirl-vial"}},
	            [MIX_ROLL] = {"teach.mix_roll", {"roll"}},
	            [MIX_SHAKE] = {"teach.mix_shake", {"shake"}}};
	static const char *const liquid[PICTURES_MOST] = {"draw-ampoule", "draw-line"};
	struct build *build = teaching->build;
	const struct product *product = variant->draw->product;
	const char *name = variant->item->medicine->name;
	if (product->container != CONTAINER_POWDER_VIAL)
		return;
	struct teach_row row = {.pictogram = PICTURE_POWDER_VIAL,
	                        .say = said(teaching, name, say0(build->staff, "teach.mix")),
	                        .right = say0(build->staff, ways[product->mix].right)};
	at_mixing(teaching, variant, ways[product->mix].pictures, &row);
	add(teaching, row);
	if (!variant->draw->has_add)
		return;
	row = (struct teach_row){.pictogram = PICTURE_EMPTY_SYRINGE,
	                         .say = said(teaching, name, say0(build->staff, "teach.add"))};
	show(teaching, &row, say_line(build->speaker, &variant->draw->add),
	     say_line(build->staff, &variant->draw->add));
	at_step(teaching, variant, liquid, true, &row);
	add(teaching, row);
}

static const char *line_words(struct build *build, const struct draw *draw)
{
	const struct mark *mark = &draw->mark;
	if (draw->measure == MEASURE_DIAL)
		return say0(build->staff, "teach.dial");
	if (mark->all)
		return say0(build->staff, "teach.all");
	if (mark->line == LINE_PUSH_OUT)
		return say0(build->staff, "teach.push");
	if (mark->line == LINE_STOP)
		return say0(build->staff, "teach.stop");
	if (mark->syringe != NULL && mark->syringe->unit_scale)
		return say1(build->staff, "teach.line_scale", "scale",
		            say_text(build->staff, mark->syringe->scale_name, "the syringe's scale"));
	return say0(build->staff, "teach.line");
}

static void ask_line(struct teaching *teaching, const struct variant *variant)
{
	struct build *build = teaching->build;
	struct teach_row row = {.pictogram =
	                                variant->draw->measure == MEASURE_DIAL ? PICTURE_PEN : PICTURE_EMPTY_SYRINGE,
	                        .say = said(teaching, variant_name(build, variant), line_words(build, variant->draw))};
	show(teaching, &row, say_mark(build->speaker, variant->draw), say_mark(build->staff, variant->draw));
	if (row.mark.number == NULL)
		return;
	at_line(teaching, variant, &row);
	add(teaching, row);
}

/* The first day ahead on which old patches come off and new ones go on; NULL: there is none. */
static const struct dose *first_change(const struct build *build, const struct item *item)
{
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (dose->item == item && !dose->open && !dose->done && dose->n_draws > 0 &&
		    !rational_is_zero(patches_off(build, item, dose->date)))
			return dose;
	}
	return NULL;
}

static void ask_patches(struct teaching *teaching, const struct variant *variant)
{
	struct build *build = teaching->build;
	const struct item *item = variant->item;
	const struct dose *dose = first_change(build, item);
	if (dose == NULL || variant_of(build, dose, 0) != variant)
		return;
	const char *date = say_date(build->staff, dose->date, DATE_SHORT);
	add(teaching, (struct teach_row){.pictogram = picture_of_product(variant->draw->product),
	                                 .say = said(teaching, item->medicine->name,
	                                             say1(build->staff, "teach.patches", "date", date)),
	                                 .right = say2(build->staff, "teach.patches_right", "off",
	                                               say_number(build->staff, patches_off(build, item, dose->date)),
	                                               "on", say_number(build->staff, dose->draws[0].count.number)),
	                                 .section = variant->section,
	                                 .back = -1});
}

/* What is counted drop by drop, or cut in two, goes wrong at home; a whole tablet does not. */
static void ask_counted(struct teaching *teaching, const struct variant *variant)
{
	struct build *build = teaching->build;
	const struct draw *draw = variant->draw;
	bool half = !rational_is_whole(draw->count.number);
	bool counts = draw->count.unit == UNIT_DROP || draw->count.unit == UNIT_SPRAY || draw->count.unit == UNIT_PUFF;
	if (draw->count.unit == UNIT_PATCH)
		ask_patches(teaching, variant);
	else if (half || counts)
		add(teaching,
		    (struct teach_row){.pictogram = picture_of_product(draw->product),
		                       .say = said(teaching, variant_name(build, variant),
		                                   say0(build->staff, half ? "teach.half" : "teach.count")),
		                       .right = say0(build->staff, half ? "teach.half_right" : "teach.count_right"),
		                       .section = variant->section,
		                       .back = -1});
}

static bool mixed_before(const struct build *build, size_t index)
{
	for (size_t i = 0; i < index; i++)
		if (build->variants[i].draw->product == build->variants[index].draw->product &&
		    build->variants[i].draw->has_add == build->variants[index].draw->has_add)
			return true;
	return false;
}

static void ask_measures(struct teaching *teaching)
{
	struct build *build = teaching->build;
	for (size_t i = 0; i < build->n_variants; i++) {
		const struct variant *variant = &build->variants[i];
		if (variant_is_over(build, variant))
			continue;
		bool counted = variant->draw->measure == MEASURE_COUNT;
		if (!counted && !mixed_before(build, i))
			ask_mixing(teaching, variant);
		if (is_set_by_call(variant))
			continue;
		if (counted)
			ask_counted(teaching, variant);
		else
			ask_line(teaching, variant);
	}
}

static void ask_swap(struct teaching *teaching)
{
	static const char *const pictures[PICTURES_MOST] = {"swap-needles", "swap-filter"};
	struct build *build = teaching->build;
	for (size_t i = 0; i < build->n_variants; i++) {
		if (!draw_swaps_needles(build->variants[i].draw) || variant_is_over(build, &build->variants[i]))
			continue;
		struct teach_row row = {.pictogram = PICTURE_THIN_NEEDLE,
		                        .say = say0(build->staff, "teach.swap"),
		                        .right = say0(build->staff, "teach.swap_right")};
		at_step(teaching, &build->variants[i], pictures, false, &row);
		add(teaching, row);
		return;
	}
}

static void ask_rest(struct teaching *teaching)
{
	struct build *build = teaching->build;
	for (size_t i = 0; i < build->n_variants; i++) {
		const struct variant *variant = &build->variants[i];
		const struct share *share = &variant->draw->product->share;
		if (variant->split_section < 0 || variant_is_over(build, variant))
			continue;
		bool fridge = share->where != NULL && strcmp(share->where, "fridge") == 0;
		const char *where = say0(build->staff, fridge ? "where.fridge" : "where.room");
		add(teaching, (struct teach_row){.pictogram = picture_of_place(share->where),
		                                 .say = said(teaching, variant->item->medicine->name,
		                                             say0(build->staff, "teach.keep")),
		                                 .right = say1(build->staff, "teach.keep_right", "where", where),
		                                 .section = variant->split_section,
		                                 .back = -1});
	}
}

/* ---- calls ---- */

static void ask_option(struct teaching *teaching, const struct item_run *run, section_ref section)
{
	struct build *build = teaching->build;
	for (size_t i = 0; i < run->n_doses; i++) {
		const struct dose *dose = &run->doses[i];
		const struct dose_option *option = dose->n_options == 0 ? NULL : &dose->options[dose->n_options - 1];
		if (option == NULL || option->n_draws == 0)
			continue;
		const char *amount = say_amount(build->staff, option->amount);
		struct teach_row row = {.pictogram = PICTURE_PHONE,
		                        .say = said(teaching, run->item->medicine->name,
		                                    say1(build->staff, "teach.option", "amount", amount)),
		                        .section = section,
		                        .part = &option->draws[0],
		                        .back = -1};
		show(teaching, &row, say_mark(build->speaker, &option->draws[0]),
		     say_mark(build->staff, &option->draws[0]));
		add(teaching, row);
		return;
	}
}

static void ask_calls(struct teaching *teaching)
{
	static const struct civil_date a_thursday = {2024, 1, 4};
	struct build *build = teaching->build;
	for (size_t i = 0; i < build->course->n_runs; i++) {
		const struct item_run *run = &build->course->runs[i];
		const struct line_pages *pages = pages_of_item(build, run->item);
		struct civil_date day_1 = a_thursday;
		if (!waiting_example(build, run, &day_1) && run->unless_sooner)
			day_1 = run->first;
		const char *weekday = say_date(build->staff, date_plus(day_1, -1), DATE_WEEKDAY);
		const char *start = say_date(build->staff, day_1, DATE_WEEKDAY);
		if (pages->waiting >= 0 && run->call != NULL && run->item->start.kind != TRIGGER_LAST_OF)
			add(teaching,
			    (struct teach_row){
				    .pictogram = PICTURE_PHONE,
				    .say = said(teaching, run->item->medicine->name,
			                        say2(build->staff, "teach.call", "weekday", weekday, "start", start)),
				    .right = say1(build->staff, "teach.call_right", "start", start),
				    .section = pages->waiting,
				    .back = -1});
		if (pages->options >= 0)
			ask_option(teaching, run, pages->options);
	}
}

/* ---- what if ---- */

static void ask_help(struct teaching *teaching)
{
	struct build *build = teaching->build;
	const struct clock_time night = {3, 0};
	/* A line for the emergency number is of use once it is written on. */
	const char *right =
		emergency_of(build, true).number == NULL ? "teach.unsure_right" : "teach.unsure_right_number";
	bool needle = false;
	bool pen = false;
	for (size_t i = 0; i < build->n_variants; i++) {
		needle = needle || given_by_needle(build->variants[i].draw, build->variants[i].item);
		pen = pen || build->variants[i].draw->measure == MEASURE_DIAL;
	}
	if (needle)
		add(teaching, (struct teach_row){.pictogram = PICTURE_SHARPS_BOX,
		                                 .say = say0(build->staff, "teach.sharps"),
		                                 .right = say1(build->staff, "teach.sharps_right", "pens",
		                                               pen ? say0(build->staff, "teach.sharps_pens") : ""),
		                                 .section = -1,
		                                 .back = -1});
	add(teaching, (struct teach_row){.pictogram = PICTURE_CLOCK,
	                                 .say = say0(build->staff, "teach.late"),
	                                 .right = say1(build->staff, "teach.late_right", "heading",
	                                               say0(build->speaker, "late.heading")),
	                                 .section = -1,
	                                 .back = -1});
	add(teaching, (struct teach_row){.pictogram = PICTURE_SAY,
	                                 .say = say0(build->staff, "teach.unsure"),
	                                 .right = say1(build->staff, right, "phone", phone_at(build, night)),
	                                 .section = -1,
	                                 .back = -1});
}

const struct teach_sheet *teach_sheet_of(struct build *build, const struct section *sections)
{
	struct speaker *staff = build->staff;
	struct teach_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	struct teaching teaching = {.build = build, .sections = sections};
	ask_change(&teaching);
	ask_first(&teaching);
	ask_measures(&teaching);
	ask_swap(&teaching);
	ask_rest(&teaching);
	ask_exact(&teaching);
	ask_calls(&teaching);
	ask_help(&teaching);
	*sheet = (struct teach_sheet){
		.title = say0(staff, "teach.title"),
		.lead = say0(staff, "teach.lead"),
		.say_head = say0(staff, "teach.say"),
		.right_head = say0(staff, "teach.right"),
		.tick_heads = {say0(staff, "teach.alone"), say0(staff, "teach.help"), say0(staff, "teach.again")},
		.rows = teaching.rows,
		.n_rows = teaching.n,
		.again_line = say0(staff, has_begun(build) ? "teach.again_line_on" : "teach.again_line"),
		.signed_heads = {say0(staff, "teach.taught"), say0(staff, "teach.shown")},
		.signed_notes = {say0(staff, "teach.taught_note"), say0(staff, "teach.shown_note")},
		.name_word = say0(staff, "teach.name"),
		.date_word = say0(staff, "check.date"),
	};
	return sheet;
}
