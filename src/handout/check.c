/*
 * check.c - the staff's page: every printed figure with its working, to initial in ink.
 *
 * Its words are in the clinic's first language, whatever the patient's is.
 */
#include "handout/build.h"

#include <inttypes.h>
#include <string.h>

struct rows {
	struct check_row *rows;
	size_t n;
};

static void add_row(struct build *build, struct rows *rows, struct check_row row)
{
	rows->rows = arena_more(build->arena, rows->rows, rows->n, sizeof *rows->rows);
	rows->rows[rows->n++] = row;
}

/* A row's formula and notes grow piece by piece. */
struct working {
	struct check_row row;
	struct formula_piece *formula;
	const char **notes;
};

static void piece(struct build *build, struct working *working, const char *text, const char *under, bool bold)
{
	size_t n = working->row.n_formula;
	working->formula = arena_more(build->arena, working->formula, n, sizeof *working->formula);
	working->formula[n] = (struct formula_piece){text, under, bold};
	working->row.formula = working->formula;
	working->row.n_formula = n + 1;
}

static void note(struct build *build, struct working *working, const char *text)
{
	size_t n = working->row.n_notes;
	working->notes = arena_more(build->arena, working->notes, n, sizeof *working->notes);
	working->notes[n] = text;
	working->row.notes = working->notes;
	working->row.n_notes = n + 1;
}

#define FIGURES 4

/* To so many figures, for a number that does not end: 1,000 / 3 is about 333.3. */
static bool round_to_figures(struct rational number, struct rational *rounded)
{
	struct rational step = rational_of(1, 1);
	struct rational most = rational_of(10, 1);
	for (int i = 1; i < FIGURES; i++)
		if (!rational_divide(step, rational_of(10, 1), &step))
			return false;
	while (rational_compare(number, most) >= 0)
		if (!rational_multiply(most, rational_of(10, 1), &most) ||
		    !rational_multiply(step, rational_of(10, 1), &step))
			return false;
	return rational_round_to(number, step, rounded);
}

static const char *amount(struct build *build, struct quantity quantity)
{
	struct rational rounded;
	if (number_ends(quantity.number) || !round_to_figures(quantity.number, &rounded))
		return say_amount(build->staff, quantity);
	return say1(build->staff, "amount.about", "n",
	            say_amount(build->staff, (struct quantity){rounded, quantity.unit}));
}

static const char *millilitres(struct build *build, struct rational volume)
{
	return amount(build, (struct quantity){volume, UNIT_ML});
}

/* A number to one decimal: for millimetres and per cent, never for a dose. */
static const char *rough(struct build *build, struct rational number)
{
	struct rational tenth;
	if (!rational_round_to(number, rational_of(1, 10), &tenth))
		return "";
	return say_number(build->staff, tenth);
}

/* ---- where it is printed ---- */

/* What is done may stand on no page: a version's rows begin with what is ahead. */
static const struct dose *first_ahead(const struct build *build, const struct variant *variant)
{
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		for (size_t j = 0; j < dose->n_draws && !dose->done; j++)
			if (variant_of(build, dose, j) == variant)
				return dose;
		for (size_t j = 0; j < dose->n_options; j++)
			for (size_t k = 0; k < dose->options[j].n_draws; k++)
				if (variant_of_draw(build, dose->item, &dose->options[j].draws[k]) == variant)
					return dose;
	}
	return variant->dose;
}

static void fill_sections(struct build *build, const struct variant *variant, struct check_row *row)
{
	section_ref *sections = arena_alloc(build->arena, 3 * sizeof *sections);
	size_t n = 0;
	if (build->grid_section >= 0)
		sections[n++] = build->grid_section;
	if (variant->section >= 0)
		sections[n++] = variant->section;
	if (variant->split_section >= 0)
		sections[n++] = variant->split_section;
	row->sections = sections;
	row->n_sections = n;
	row->item = variant->item;
	row->dose = first_ahead(build, variant);
}

/* ---- how the concentration comes about ---- */

/* What the powder adds to the volume: as the record states it, or as its label implies. */
static const char *powder_volume(struct build *build, const struct draw *draw)
{
	struct rational volume;
	return rational_subtract(draw->mixed, draw->liquid, &volume) ? millilitres(build, volume) : "";
}

static const char *concentration_note(struct build *build, const struct draw *draw)
{
	const struct product *product = draw->product;
	const char *result = amount(build, draw->concentration);
	struct value values[] = {
		{"result", result},
		{"content", product->strength.given ? amount(build, product->strength.quantity) : result},
		{"containers", say_number(build->staff, rational_of((int64_t)draw->n_containers, 1))},
		{"liquid", millilitres(build, draw->liquid)},
		{"ready", millilitres(build, draw->mixed)},
		{"powder", powder_volume(build, draw)},
		{"volume", product->volume.given ? amount(build, product->volume.quantity) : ""},
	};
	size_t n = sizeof values / sizeof *values;
	if (product->container == CONTAINER_POWDER_VIAL)
		return say(build->staff, draw->label_concentration ? "check.powder_label" : "check.powder", values, n);
	if (product->per_ml.given || draw->label_concentration || !product->volume.given)
		return say(build->staff, product->volume.given ? "check.solution_label_volume" : "check.solution_label",
		           values, n);
	return say(build->staff, number_ends(draw->concentration.number) ? "check.solution" : "check.solution_whole",
	           values, n);
}

/* How much of its liquid goes in, and out of what. */
static const char *add_note(struct build *build, const struct draw *draw)
{
	const char *from = liquid_words(build->staff, draw->product);
	struct value values[] = {{"liquid", millilitres(build, draw->liquid)},
	                         {"mark", mark_words_plain(build->arena, say_line(build->speaker, &draw->add))},
	                         {"from", from == NULL ? "" : from}};
	return say(build->staff, from == NULL ? "check.add" : "check.add_from", values, 3);
}

static const char *distance_note(struct build *build, const struct mark *mark)
{
	const struct syringe *syringe = mark->syringe;
	struct rational part;
	struct rational distance;
	if (!rational_divide(mark->at, syringe->capacity, &part) ||
	    !rational_multiply(part, syringe->scale_length, &distance))
		return "";
	return say2(build->staff, syringe->measured ? "check.distance" : "check.distance_unmeasured", "distance",
	            rough(build, distance), "syringe", say_syringe(build->staff, syringe));
}

/* How a line of a scale in units becomes a volume. */
static const char *unit_scale_note(struct build *build, const struct mark *mark)
{
	struct value values[] = {{"strength", say_number(build->staff, mark->syringe->units_per_ml)},
	                         {"scale", say_scale(build->staff, mark->syringe)},
	                         {"line", say_number(build->staff, mark->number)},
	                         {"volume", millilitres(build, mark->at)}};
	return say(build->staff, "check.unit_scale", values, 4);
}

static const char *one_line_note(struct build *build, const struct draw *draw)
{
	struct rational part;
	struct rational percent;
	if (!quantity_ratio(draw->line_is, draw->dose, &part) ||
	    !rational_multiply(part, rational_of(100, 1), &percent))
		return "";
	struct value values[] = {{"step", millilitres(build, draw->mark.syringe->step)},
	                         {"amount", amount(build, draw->line_is)},
	                         {"percent", rough(build, percent)}};
	return say(build->staff, "check.one_line", values, 3);
}

/* An order in mL or syringe units is a volume already; what it holds follows from the concentration. */
static void fill_volume_order(struct build *build, const struct draw *draw, struct working *row)
{
	struct quantity held;
	piece(build, row, amount(build, draw->dose), NULL, false);
	piece(build, row, "=", NULL, false);
	piece(build, row, millilitres(build, draw->volume), NULL, true);
	if (quantity_multiply(draw->concentration, draw->volume, &held))
		note(build, row, say1(build->staff, "check.holds", "amount", amount(build, held)));
}

/*
 * dose / content x volume where strength and volume say what is in it, so that
 * no division is hidden; else dose / label's figure x 1 mL.
 */
static void fill_fraction(struct build *build, const struct draw *draw, struct working *row)
{
	struct quantity converted = draw->dose;
	struct quantity content = draw->concentration;
	struct rational volume = rational_of(1, 1);
	const struct product *product = draw->product;
	bool by_strength = !draw->label_concentration && product->strength.given && draw->n_containers > 0 &&
	                   !rational_is_zero(draw->mixed);
	if (by_strength &&
	    quantity_multiply(product->strength.quantity, rational_of((int64_t)draw->n_containers, 1), &content))
		volume = draw->mixed;
	if (draw->dose.unit != content.unit && quantity_in(draw->dose, content.unit, &converted)) {
		piece(build, row, amount(build, draw->dose), NULL, false);
		piece(build, row, "=", NULL, false);
		piece(build, row, arena_printf(build->arena, "%s;", amount(build, converted)), NULL, false);
	}
	piece(build, row, amount(build, converted), amount(build, content), false);
	piece(build, row, "\u00d7", NULL, false);
	piece(build, row, millilitres(build, volume), NULL, false);
	piece(build, row, "=", NULL, false);
	piece(build, row, millilitres(build, draw->volume), NULL, true);
}

/* A part of a filled syringe: the line is not the volume, so what makes the one of the other is shown. */
static void fill_part_working(struct build *build, const struct draw *draw, struct working *row)
{
	struct rational goes_in;
	if (rational_is_zero(draw->held) || !rational_subtract(draw->held, draw->rest, &goes_in))
		return;
	struct value values[] = {{"held", millilitres(build, draw->held)},
	                         {"rest", millilitres(build, draw->rest)},
	                         {"goes_in", millilitres(build, goes_in)}};
	note(build, row,
	     say(build->staff, draw->mark.line == LINE_STOP ? "check.part_stays" : "check.part_pushed", values, 3));
}

/* What is compared is what the patient reads: in her language, and what it means where that is another. */
static void put_on_sheet(struct build *build, const struct draw *draw, struct working *row)
{
	row->row.mark = say_mark(build->speaker, draw);
	const char *printed = mark_words_plain(build->arena, row->row.mark);
	const char *means = mark_words_plain(build->arena, say_mark(build->staff, draw));
	if (draw->measure == MEASURE_COUNT) {
		printed = row->row.result = say_amount(build->speaker, draw->count);
		means = amount(build, draw->count);
	}
	if (strcmp(printed, means) != 0)
		note(build, row, say2(build->staff, "check.printed", "printed", printed, "means", means));
}

static void fill_syringe(struct build *build, const struct draw *draw, struct working *row)
{
	if (unit_dimension(draw->dose.unit) == DIMENSION_VOLUME)
		fill_volume_order(build, draw, row);
	else
		fill_fraction(build, draw, row);
	put_on_sheet(build, draw, row);
	fill_part_working(build, draw, row);
	note(build, row, concentration_note(build, draw));
	if (draw->has_add)
		note(build, row, add_note(build, draw));
	if (draw->mark.all || draw->mark.syringe == NULL) {
		note(build, row, say0(build->staff, "check.all"));
		return;
	}
	if (draw->mark.syringe->unit_scale)
		note(build, row, unit_scale_note(build, &draw->mark));
	note(build, row,
	     arena_printf(build->arena, "%s %s", distance_note(build, &draw->mark), one_line_note(build, draw)));
	if (draw->rounded)
		note(build, row,
		     say2(build->staff, "check.rounded", "ordered", amount(build, draw->dose), "given",
		          amount(build, draw->given)));
}

static void fill_working(struct build *build, const struct draw *draw, struct working *row)
{
	switch (draw->measure) {
	case MEASURE_SYRINGE:
		fill_syringe(build, draw, row);
		return;
	case MEASURE_DIAL:
		piece(build, row, amount(build, draw->dose), NULL, false);
		piece(build, row, "=", NULL, false);
		piece(build, row, mark_words_plain(build->arena, say_mark(build->staff, draw)), NULL, true);
		put_on_sheet(build, draw, row);
		note(build, row,
		     say1(build->staff, "check.comes_as", "what", packed_words(build, build->staff, draw->product)));
		return;
	case MEASURE_COUNT:
		break;
	}
	piece(build, row, amount(build, draw->dose), NULL, false);
	piece(build, row, "=", NULL, false);
	piece(build, row, amount(build, draw->count), NULL, true);
	put_on_sheet(build, draw, row);
}

static void add_variants(struct build *build, struct rows *rows)
{
	for (size_t i = 0; i < build->n_variants; i++) {
		const struct variant *variant = &build->variants[i];
		if (variant->dose->amount == DOSE_BY_CALL)
			continue; /* add_options() has it */
		struct working working = {.row.name = variant->item->medicine->name};
		working.row.detail =
			arena_printf(build->arena, "%s \u00b7 %s", variant_days(build, build->staff, variant),
		                     variant_times(build, build->staff, variant));
		/* The working is of one injection: of two it is not what was ordered. */
		if (dose_at_two_places(variant->dose))
			working.row.detail = arena_printf(build->arena, "%s \u00b7 %s",
			                                  variant_amount(build->staff, variant), working.row.detail);
		fill_sections(build, variant, &working.row);
		fill_working(build, variant->draw, &working);
		if (variant->item->window.given)
			note(build, &working,
			     say1(build->staff, "check.window", "time", amount(build, variant->item->window.quantity)));
		add_row(build, rows, working.row);
	}
}

/* Of the doses that take their amount from the same call as `dose`, the first that is not done; else `dose`. */
static const struct dose *first_to_be_called(const struct build *build, const struct dose *dose)
{
	const struct dose *end = build->course->doses + build->course->n_doses;
	for (const struct dose *other = dose; other < end; other++)
		if (other->options == dose->options && !other->done)
			return other;
	return dose;
}

/*
 * What a call may set: each amount of a step once, with the line it would be drawn to.
 * It stands on the page of the days that wait for the call, also where known days have the same amount.
 */
static void add_options(struct build *build, struct rows *rows)
{
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (i > 0 && dose->options == build->course->doses[i - 1].options)
			continue;
		for (size_t j = 0; j < dose->n_options; j++)
			for (size_t k = 0; k < dose->options[j].n_draws; k++) {
				const struct draw *draw = &dose->options[j].draws[k];
				const struct variant *variant = variant_of_draw(build, dose->item, draw);
				bool two = variant != NULL && dose_at_two_places(variant->dose);
				if (two && k > 0 && draws_alike(draw, draw - 1))
					continue;
				struct working working = {.row.name = say1(build->staff, "check.if_called", "name",
				                                           dose->item->medicine->name),
				                          .row.detail = two ? variant_amount(build->staff, variant)
				                                            : amount(build, draw->dose)};
				if (variant != NULL)
					fill_sections(build, variant, &working.row);
				working.row.dose = first_to_be_called(build, dose);
				fill_working(build, draw, &working);
				add_row(build, rows, working.row);
			}
	}
}

/* ---- times and counts ---- */

static const char *use_by_moment(struct build *build, const struct container_use *use)
{
	return say2(build->staff, "moment", "date", say_date(build->staff, use->by, DATE_SHORT), "time",
	            say_time(build->staff, use->by_time));
}

/* The same sum for the containers that come after: a change of the clock in between would show. NULL: none does. */
static const char *later_use_bys(struct build *build, const struct variant *variant)
{
	const char *moments = NULL;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (dose == variant->dose || !first_half_of(build, dose, variant) || dose->draws[0].n_containers == 0 ||
		    !dose->draws[0].containers[0].has_by)
			continue;
		const char *moment = use_by_moment(build, &dose->draws[0].containers[0]);
		moments = moments == NULL ? moment : arena_printf(build->arena, "%s; %s", moments, moment);
	}
	return moments;
}

static void add_one_use_by(struct build *build, struct rows *rows, const struct variant *variant,
                           const struct container_use *use)
{
	struct speaker *staff = build->staff;
	const struct dose *dose = variant->dose;
	const struct share *share = &variant->draw->product->share;
	section_ref *section = arena_alloc(build->arena, sizeof *section);
	*section = variant->split_section;
	struct working working = {.row = {.name = say1(staff, "check.use_by", "name", variant->item->medicine->name),
	                                  .detail = say_date(staff, dose->clock_date, DATE_SHORT),
	                                  .sections = section,
	                                  .n_sections = 1,
	                                  .result = say_time(staff, use->by_time)}};
	struct civil_date date;
	struct clock_time earliest;
	int32_t offset;
	zone_local(build->plan->zone, dose_earliest(dose), &date, &earliest, &offset);
	piece(build, &working, say_time(staff, earliest), NULL, false);
	piece(build, &working, "+", NULL, false);
	piece(build, &working, amount(build, share->keep.quantity), NULL, false);
	piece(build, &working, "=", NULL, false);
	piece(build, &working, use_by_moment(build, use), NULL, true);
	const char *later = later_use_bys(build, variant);
	if (later != NULL)
		note(build, &working, say1(staff, "check.use_by_later", "moments", later));
	note(build, &working, say1(staff, "check.policy", "policy", share->policy));
	add_row(build, rows, working.row);
}

/* The first shared container of each variant, and when those after it have to be used. */
static void add_use_by(struct build *build, struct rows *rows)
{
	for (size_t i = 0; i < build->n_variants; i++) {
		const struct variant *variant = &build->variants[i];
		if (variant->split_section < 0 || variant->dose->open || variant->draw->n_containers == 0)
			continue;
		const struct container_use *use = &variant->draw->containers[0];
		if (use->has_by && !use->by_day_only)
			add_one_use_by(build, rows, variant, use);
	}
}

static const char *event_words(struct build *build, const struct event *event)
{
	return event->label.n == 0 ? event->id : say_text(build->staff, event->label, "the event's label");
}

static void add_times(struct build *build, struct rows *rows)
{
	for (size_t i = 0; i < build->course->n_times; i++) {
		const struct time_check *check = &build->course->times[i];
		const char *hours = amount(build, (struct quantity){check->hours, UNIT_HOUR});
		struct working working = {
			.row = {.name = say2(build->staff, "check.elapsed", "from", event_words(build, check->from),
		                             "to", event_words(build, check->to)),
		                .detail = "",
		                .result = hours}};
		piece(build, &working, say0(build->staff, "check.elapsed_hours"), NULL, false);
		piece(build, &working, "=", NULL, false);
		piece(build, &working, hours, NULL, true);
		add_row(build, rows, working.row);
	}
}

/* Of what is counted out the record's strength is the count itself. */
static const char *supply_detail(struct build *build, const struct product *product)
{
	if (product->container == CONTAINER_COUNTED)
		return product->id;
	return arena_printf(build->arena, "%s \u00b7 %s", product->id, packed_words(build, build->staff, product));
}

/* The numbers of the patient's page of supplies: from the day on that her sheet speaks from. */
static void add_supplies(struct build *build, struct rows *rows)
{
	struct speaker *staff = build->staff;
	bool begun = has_begun(build);
	for (size_t i = 0; i < build->course->n_supplies; i++) {
		const struct product_supply *supply = &build->course->supplies[i];
		struct working working = {
			.row = {.name = say1(staff, "check.supply", "name", supply->medicine->name),
		                .detail = supply_detail(build, supply->product),
		                .result = arena_printf(build->arena, "\u00d7%" PRId64, supply->to_get_ahead)}};
		struct value values[] = {{"needed", say_number(staff, rational_of(supply->needed_ahead, 1))},
		                         {"in_hand", say_number(staff, rational_of(supply->at_hand, 1))},
		                         {"from", say_date(staff, build->plan->as_of.date, DATE_SHORT)},
		                         {"thrown", amount(build, supply->discarded)},
		                         {"left", amount(build, supply->left)}};
		piece(build, &working, say(staff, begun ? "check.needed_from" : "check.needed", values, 5), NULL,
		      false);
		piece(build, &working, say_count(staff, "check.to_get", supply->to_get_ahead, NO_VALUES), NULL, true);
		note(build, &working, say(staff, begun ? "check.thrown_whole" : "check.thrown", values, 5));
		add_row(build, rows, working.row);
	}
}

static const char *dose_words(struct build *build, const struct dose *dose)
{
	if (dose == NULL)
		return say0(build->staff, "change.nothing");
	const char *amount_text =
		dose->amount == DOSE_BY_CALL ? say0(build->staff, "change.by_call") : amount(build, dose->ordered);
	const char *time = dose->has_time ? say_time(build->staff, dose->time) : "";
	struct mark_words mark = {.number = NULL};
	if (dose->n_draws > 0)
		mark = say_mark(build->staff, &dose->draws[0]);
	if (mark.number == NULL)
		return arena_printf(build->arena, "%s, %s", amount_text, time);
	return arena_printf(build->arena, "%s (%s), %s", amount_text, mark_words_plain(build->arena, mark), time);
}

/* "Sampletide, Fri 4 Dec to Sun 13 Dec: 20 syringe units (line 20), 08:00, now 30 syringe units (line 30), 08:00". */
static const char *difference_words(struct build *build, const struct difference *difference)
{
	struct value values[] = {{"name", difference->item->medicine->name},
	                         {"from", say_date(build->staff, difference->from, DATE_SHORT)},
	                         {"to", say_date(build->staff, difference->to, DATE_SHORT)},
	                         {"before", dose_words(build, difference->before)},
	                         {"now", dose_words(build, difference->now)}};
	bool one_day = date_compare(difference->from, difference->to) == 0;
	return say(build->staff, one_day ? "change.one_day" : "change.days", values, 5);
}

static void add_changes(struct build *build, struct rows *rows)
{
	const struct replaced_sheet *replaced = &build->record->replaced;
	if (!replaced->given)
		return;
	struct working working = {.row = {.name = say1(build->staff, "change.heading", "version",
	                                               say_number(build->staff, rational_of(replaced->version, 1))),
	                                  .detail = replaced->code,
	                                  .result = ""}};
	for (size_t i = 0; i < replaced->differences.n; i++)
		note(build, &working, difference_words(build, &replaced->differences.list[i]));
	if (replaced->differences.n == 0)
		note(build, &working, say0(build->staff, "change.none"));
	add_row(build, rows, working.row);
}

static void fill_cautions(struct build *build, struct check_sheet *sheet)
{
	const char **cautions = NULL;
	for (size_t i = 0; i < build->record->findings->n; i++) {
		const struct finding *finding = &build->record->findings->list[i];
		if (finding->level != FINDING_CAUTION)
			continue;
		cautions = arena_more(build->arena, cautions, sheet->n_cautions, sizeof *cautions);
		cautions[sheet->n_cautions++] = finding->says;
	}
	sheet->cautions = cautions;
	sheet->cautions_heading = say0(build->staff, "check.cautions");
}

const struct check_sheet *check_sheet_of(struct build *build)
{
	struct check_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	struct speaker *staff = build->staff;
	struct rows rows = {0};
	sheet->title = say0(staff, "check.title");
	sheet->lead = say0(staff, "check.lead");
	sheet->heads[0] = say0(staff, "check.head_working");
	sheet->heads[1] = say0(staff, "check.head_sheet");
	sheet->heads[2] = say0(staff, "check.head_worked");
	sheet->heads[3] = say0(staff, "check.head_checked");
	add_changes(build, &rows);
	add_variants(build, &rows);
	add_options(build, &rows);
	add_use_by(build, &rows);
	add_times(build, &rows);
	add_supplies(build, &rows);
	sheet->rows = rows.rows;
	sheet->n_rows = rows.n;
	fill_cautions(build, sheet);
	sheet->worked_by = say0(staff, "check.worked_by");
	sheet->worked_name = build->record->ordered_by;
	sheet->checked_by = say0(staff, "check.checked_by");
	sheet->checked_name = build->record->checked_by;
	sheet->signature_word = say0(staff, "check.signature");
	sheet->date_word = say0(staff, "check.date");
	return sheet;
}
