/*
 * blind.c - the second check: inputs on the left, blanks on the right, and the answers kept apart.
 *
 * A checker who sees an answer tends to confirm it. So what is printed is made
 * only from what was ordered and what the labels say; what was worked out goes
 * into a list that no page reads.
 */
#include "handout/build.h"

#include <string.h>

struct blinding {
	struct build *build;
	struct blind_answers *answers;
	struct blind_answer *list;
	struct blind_row *rows;
	size_t n_rows;
	/* of the row in the making */
	struct blind_row row;
	const char **inputs;
	struct blind_question *questions;
};

static void begin_row(struct blinding *blinding, const char *name, const char *ordered)
{
	struct build *build = blinding->build;
	blinding->row =
		(struct blind_row){.number = say_number(build->staff, rational_of((int64_t)blinding->n_rows + 1, 1)),
	                           .name = name,
	                           .ordered = ordered};
	blinding->inputs = NULL;
	blinding->questions = NULL;
}

static void input(struct blinding *blinding, const char *text)
{
	size_t n = blinding->row.n_inputs;
	blinding->inputs = arena_more(blinding->build->arena, blinding->inputs, n, sizeof *blinding->inputs);
	blinding->inputs[n] = text;
	blinding->row.inputs = blinding->inputs;
	blinding->row.n_inputs = n + 1;
}

static void ask(struct blinding *blinding, const char *key, const char *unit, struct blind_answer answer)
{
	struct arena *arena = blinding->build->arena;
	size_t n = blinding->row.n_questions;
	const char *name = arena_printf(arena, "%s%c", blinding->row.number, (char)('a' + (int)n));
	const char *label = say0(blinding->build->staff, key);
	blinding->questions = arena_more(arena, blinding->questions, n, sizeof *blinding->questions);
	blinding->questions[n] = (struct blind_question){name, label, unit};
	blinding->row.questions = blinding->questions;
	blinding->row.n_questions = n + 1;

	answer.name = name;
	answer.asks = arena_printf(arena, "%s: %s", blinding->row.name, label);
	blinding->list = arena_more(arena, blinding->list, blinding->answers->n, sizeof *blinding->list);
	blinding->list[blinding->answers->n++] = answer;
	blinding->answers->list = blinding->list;
}

/* `printed` stands after the blank, or NULL; with a number goes no other unit than `unit`. */
static void ask_number(struct blinding *blinding, const char *key, const char *printed, struct rational number,
                       enum unit unit)
{
	ask(blinding, key, printed,
	    (struct blind_answer){.kind = ANSWER_NUMBER,
	                          .number = number,
	                          .unit = unit,
	                          .text = say_number(blinding->build->staff, number)});
}

static void end_row(struct blinding *blinding)
{
	blinding->rows = arena_more(blinding->build->arena, blinding->rows, blinding->n_rows, sizeof *blinding->rows);
	blinding->rows[blinding->n_rows++] = blinding->row;
}

/* ---- what the labels say ---- */

static const char *amount(struct build *build, struct quantity quantity)
{
	return say_amount(build->staff, quantity);
}

static const char *container_words(struct build *build, const struct product *product)
{
	const char *kind = say0(build->staff,
	                        arena_printf(build->arena, "kind.%s.short", container_kind_name(product->container)));
	const char *strength = product->strength.given ? amount(build, product->strength.quantity)
	                       : product->per_ml.given ? say1(build->staff, "strength.per_ml", "amount",
	                                                      amount(build, product->per_ml.quantity))
	                                               : "";
	if (product->volume.given)
		return arena_printf(build->arena, "%s, %s; %s", kind, strength,
		                    amount(build, product->volume.quantity));
	return arena_printf(build->arena, "%s, %s", kind, strength);
}

static void label_inputs(struct blinding *blinding, const struct draw *draw)
{
	struct build *build = blinding->build;
	const struct product *product = draw->product;
	input(blinding, container_words(build, product));
	if (product->diluent.given && product->diluent.use.given)
		input(blinding,
		      say1(build->staff, "blind.liquid", "liquid", amount(build, product->diluent.use.quantity)));
	if (product->displacement.given)
		input(blinding, say1(build->staff, "blind.displacement", "volume",
		                     amount(build, product->displacement.quantity)));
	if (product->concentration.given)
		input(blinding,
		      say1(build->staff, "blind.label", "amount", amount(build, product->concentration.quantity)));
	if (product->dial.given && product->dial.step.given)
		input(blinding, say1(build->staff, "blind.dial", "step", amount(build, product->dial.step.quantity)));
}

static void syringe_input(struct blinding *blinding, const struct syringe *syringe)
{
	struct build *build = blinding->build;
	struct rational step;
	if (!syringe_scale_number(syringe, syringe->step, &step))
		return;
	input(blinding, say2(build->staff, "blind.syringe", "syringe", say_syringe(build->staff, syringe), "step",
	                     say_number(build->staff, step)));
}

/* ---- the rows ---- */

static void ask_line(struct blinding *blinding, const struct draw *draw)
{
	if (draw->mark.all)
		ask(blinding, "blind.line", NULL,
		    (struct blind_answer){.kind = ANSWER_ALL, .text = say0(blinding->build->staff, "mark.all")});
	else
		ask_number(blinding, "blind.line", NULL, draw->mark.number,
		           draw->mark.syringe->unit_scale ? UNIT_SYRINGE_UNIT : UNIT_ML);
}

static void add_draw(struct blinding *blinding, const char *name, const struct draw *draw)
{
	begin_row(blinding, name, amount(blinding->build, draw->dose));
	label_inputs(blinding, draw);
	switch (draw->measure) {
	case MEASURE_SYRINGE:
		if (draw->mark.syringe != NULL)
			syringe_input(blinding, draw->mark.syringe);
		ask_number(blinding, "blind.volume", "mL", draw->volume, UNIT_ML);
		ask_line(blinding, draw);
		break;
	case MEASURE_DIAL:
		ask_number(blinding, "blind.dial_to", NULL, draw->dial.number, draw->dial.unit);
		break;
	case MEASURE_COUNT:
		ask_number(blinding, "blind.count", NULL, draw->count.number, draw->count.unit);
		break;
	}
	end_row(blinding);
}

static void add_variant(struct blinding *blinding, const struct variant *variant)
{
	struct build *build = blinding->build;
	add_draw(blinding,
	         arena_printf(build->arena, "%s, %s", variant->item->medicine->name,
	                      variant_days(build, build->staff, variant)),
	         variant->draw);
}

/* Every amount that a call may set has its own row, once for all days of its step. */
static void add_options(struct blinding *blinding)
{
	const struct course *course = blinding->build->course;
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = &course->doses[i];
		if (i > 0 && dose->options == course->doses[i - 1].options)
			continue;
		for (size_t j = 0; j < dose->n_options; j++)
			for (size_t k = 0; k < dose->options[j].n_draws; k++)
				add_draw(blinding,
				         say1(blinding->build->staff, "check.if_called", "name",
				              dose->item->medicine->name),
				         &dose->options[j].draws[k]);
	}
}

static void add_use_by(struct blinding *blinding, const struct variant *variant)
{
	struct build *build = blinding->build;
	const struct dose *dose = variant->dose;
	if (dose->half != HALF_FIRST || dose->open || variant->draw->n_containers == 0)
		return;
	const struct container_use *use = &variant->draw->containers[0];
	if (!use->has_by || use->by_day_only)
		return;
	begin_row(blinding, say1(build->staff, "blind.second_half", "name", variant->item->medicine->name),
	          say2(build->staff, "blind.mixed", "date", say_date(build->staff, dose->clock_date, DATE_SHORT),
	               "time", say_time(build->staff, dose->time)));
	input(blinding,
	      say1(build->staff, "blind.keep", "time", amount(build, variant->draw->product->share.keep.quantity)));
	ask(blinding, "blind.use_before", NULL,
	    (struct blind_answer){
		    .kind = ANSWER_CLOCK, .clock = use->by_time, .text = say_time(build->staff, use->by_time)});
	ask(blinding, "blind.weekday", NULL,
	    (struct blind_answer){.kind = ANSWER_WEEKDAY,
	                          .weekday = date_weekday(use->by),
	                          .text = say_date(build->staff, use->by, DATE_WEEKDAY)});
	end_row(blinding);
}

static const struct event_date *date_of(const struct build *build, const struct event *event)
{
	return event == NULL ? NULL : plan_event_date(build->plan, event);
}

static void event_input(struct blinding *blinding, const struct event *event)
{
	struct build *build = blinding->build;
	const struct event_date *date = date_of(build, event);
	if (date == NULL)
		return;
	const char *name = event->label.n == 0 ? event->id : say_text(build->staff, event->label, "the event's label");
	struct value values[] = {{"event", name},
	                         {"date", say_date(build->staff, date->date, DATE_SHORT_YEAR)},
	                         {"time", date->has_time ? say_time(build->staff, date->time) : ""}};
	input(blinding, say(build->staff, "blind.event", values, 3));
}

static void add_times(struct blinding *blinding)
{
	struct build *build = blinding->build;
	for (size_t i = 0; i < build->course->n_times; i++) {
		const struct time_check *check = &build->course->times[i];
		begin_row(blinding, say0(build->staff, "blind.elapsed"), build->plan->zone->name);
		event_input(blinding, check->from);
		event_input(blinding, check->to);
		ask_number(blinding, "blind.hours", unit_name(UNIT_HOUR, false), check->hours, UNIT_HOUR);
		end_row(blinding);
	}
}

/* An amount that a call will set is counted as the greatest it may become, as the supplies are. */
static const struct dose_option *greatest_option(const struct dose *dose)
{
	const struct dose_option *greatest = NULL;
	for (size_t i = 0; i < dose->n_options; i++)
		if (greatest == NULL || quantity_compare(dose->options[i].amount, greatest->amount) > 0)
			greatest = &dose->options[i];
	return greatest;
}

static int64_t draws_of_variant(const struct build *build, const struct dose *dose, const struct variant *variant)
{
	const struct dose_option *option = greatest_option(dose);
	int64_t count = 0;
	for (size_t i = 0; i < dose->n_draws; i++)
		count += variant_of(build, dose, i) == variant;
	for (size_t i = 0; option != NULL && i < option->n_draws; i++)
		count += variant_of_draw(build, dose->item, &option->draws[i]) == variant;
	return count;
}

/* The doses of one product, by amount, as the order lists them: "6 x 125 mcg". */
static void add_supply(struct blinding *blinding, const struct product_supply *supply)
{
	struct build *build = blinding->build;
	begin_row(blinding, say1(build->staff, "blind.supply", "name", supply->medicine->name),
	          container_words(build, supply->product));
	for (size_t i = 0; i < build->n_variants; i++) {
		const struct variant *variant = &build->variants[i];
		int64_t count = 0;
		if (variant->draw->product != supply->product)
			continue;
		for (size_t j = 0; j < build->course->n_doses; j++)
			count += draws_of_variant(build, &build->course->doses[j], variant);
		if (count == 0)
			continue;
		input(blinding, say2(build->staff, variant->dose->split ? "blind.doses_split" : "blind.doses", "count",
		                     say_number(build->staff, rational_of(count, 1)), "amount",
		                     amount(build, variant->draw->dose)));
	}
	if (supply->product->in_use.given)
		input(blinding,
		      say1(build->staff, "blind.in_use", "time", amount(build, supply->product->in_use.quantity)));
	ask_number(blinding, "blind.needed", NULL, rational_of(supply->needed, 1), UNIT_NONE);
	end_row(blinding);
}

static const struct blind_sheet *sheet_of(struct blinding *blinding)
{
	struct speaker *staff = blinding->build->staff;
	struct blind_sheet *sheet = arena_alloc(blinding->build->arena, sizeof *sheet);
	*sheet = (struct blind_sheet){.inputs_heading = say0(staff, "blind.inputs"),
	                              .answers_heading = say0(staff, "blind.answers"),
	                              .rows = blinding->rows,
	                              .n_rows = blinding->n_rows,
	                              .then_line = say0(staff, "blind.then"),
	                              .differs_line = say0(staff, "blind.differs"),
	                              .checker_word = say0(staff, "blind.checker"),
	                              .date_word = say0(staff, "check.date"),
	                              .agree_word = say0(staff, "blind.agree")};
	return sheet;
}

static void add_rows(struct blinding *blinding)
{
	struct build *build = blinding->build;
	for (size_t i = 0; i < build->n_variants; i++)
		if (build->variants[i].dose->amount != DOSE_BY_CALL)
			add_variant(blinding, &build->variants[i]);
	add_options(blinding);
	for (size_t i = 0; i < build->n_variants; i++)
		add_use_by(blinding, &build->variants[i]);
	add_times(blinding);
	for (size_t i = 0; i < build->course->n_supplies; i++)
		add_supply(blinding, &build->course->supplies[i]);
}

const struct handout *blind_handout_of(struct arena *arena, const struct record *record, struct handout_options options,
                                       struct speaker *staff, struct blind_answers *answers, struct findings *findings)
{
	struct build build = {.arena = arena,
	                      .record = record,
	                      .course = record->course,
	                      .plan = record->course->plan,
	                      .clinic = record->course->plan->clinic,
	                      .speaker = staff,
	                      .staff = staff,
	                      .findings = findings,
	                      .grid_section = -1,
	                      .before_section = -1};
	*answers = (struct blind_answers){.n = 0};
	build_variants(&build);
	struct blinding blinding = {.build = &build, .answers = answers};
	add_rows(&blinding);

	struct section *section = arena_alloc(arena, sizeof *section);
	*section = (struct section){.kind = SECTION_BLIND,
	                            .staff = true,
	                            .next = -1,
	                            .title = say0(staff, "blind.title"),
	                            .lead = say0(staff, "blind.lead"),
	                            .blind = sheet_of(&blinding)};
	struct handout *handout = arena_alloc(arena, sizeof *handout);
	*handout = (struct handout){.record = record,
	                            .speaker = staff,
	                            .staff_speaker = staff,
	                            .language = speaker_language(staff),
	                            .paper = options.paper,
	                            .mono = options.mono,
	                            .running = running_of(&build, staff),
	                            .staff_running = running_of(&build, staff),
	                            .sections = section,
	                            .n_sections = 1};
	return handout;
}
