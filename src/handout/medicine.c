/*
 * medicine.c - one sheet for doses that are measured alike: get ready, then draw and inject.
 */
#include "handout/build.h"
#include "plan/draw.h"

#include <inttypes.h>
#include <string.h>

/* ---- what to lay out ---- */

struct thing {
	const char *name; /* as the templates write it */
	enum pictogram picture;
	const char *key;
};

static const struct thing things[] = {
	{"vial", PICTURE_POWDER_VIAL, "thing.powder_vial"},
	{"mixed-vial", PICTURE_LIQUID_VIAL, "thing.mixed_vial"},
	{"liquid-vial", PICTURE_LIQUID_VIAL, "thing.liquid_vial"},
	{"solution-vial", PICTURE_LIQUID_VIAL, "thing.solution_vial"},
	{"liquid-ampoule", PICTURE_AMPOULE, "thing.liquid_ampoule"},
	{"ampoule", PICTURE_AMPOULE, "thing.ampoule"},
	{"liquid-syringe", PICTURE_FILLED_SYRINGE, "thing.liquid_syringe"},
	{"filled-syringe", PICTURE_FILLED_SYRINGE, "thing.filled_syringe"},
	{"syringe", PICTURE_EMPTY_SYRINGE, "thing.syringe"},
	{"mixing-syringe", PICTURE_EMPTY_SYRINGE, "thing.mixing_syringe"},
	{"thick-needle", PICTURE_THICK_NEEDLE, "thing.thick_needle"},
	{"thin-needle", PICTURE_THIN_NEEDLE, "thing.thin_needle"},
	{"filter-needle", PICTURE_FILTER_NEEDLE, "thing.filter_needle"},
	{"pen", PICTURE_PEN, "thing.pen"},
	{"pen-needle", PICTURE_PEN_NEEDLE, "thing.pen_needle"},
	{"wipes", PICTURE_WIPE, "thing.wipes"},
	{"sharps-box", PICTURE_SHARPS_BOX, "thing.sharps_box"},
};

static const struct thing *thing_named(const char *name)
{
	for (size_t i = 0; i < sizeof things / sizeof *things; i++)
		if (strcmp(things[i].name, name) == 0)
			return &things[i];
	return NULL;
}

/* As the supplies count it: once a draw, and a dose at two places has two. */
static int64_t over_draws(const struct variant *variant, int64_t (*count)(const struct draw *draw))
{
	if (!dose_at_two_places(variant->dose))
		return count(variant->draw);
	return count(&variant->dose->draws[0]) + count(&variant->dose->draws[1]);
}

/* Steps of a powder take a thick needle, whether or not the record says how thick. */
static int64_t at_least_one(int64_t count)
{
	return count < 1 ? 1 : count;
}

static int64_t thing_count(const char *name, const struct variant *variant)
{
	const struct draw *draw = variant->draw;
	bool is_container = strcmp(name, "vial") == 0 || strcmp(name, "mixed-vial") == 0 ||
	                    strcmp(name, "solution-vial") == 0 || strcmp(name, "ampoule") == 0 ||
	                    strcmp(name, "filled-syringe") == 0;
	if (is_container)
		return (int64_t)draw->n_containers;
	bool at_once = dose_drawn_at_once(variant->dose);
	if (strcmp(name, "thick-needle") == 0)
		return at_least_one(over_draws(variant, draw_thick_needles)) + at_once;
	if (strcmp(name, "wipes") == 0)
		return over_draws(variant, draw_wipes);
	return strcmp(name, "syringe") == 0 && at_once && !in_liquid_syringe(draw->product) ? 2 : 1;
}

/* Two injections take two of what is no container and is not counted draw by draw. */
static int64_t times_used(const char *name, const struct variant *variant)
{
	static const char *const anew[] = {"syringe", "thin-needle"};
	for (size_t i = 0; dose_at_two_places(variant->dose) && i < sizeof anew / sizeof *anew; i++)
		if (strcmp(anew[i], name) == 0)
			return 2;
	return 1;
}

/* "1 mL syringe": which one an entry means; "" where it is none. */
static const char *syringe_of_thing(struct build *build, const char *name, const struct draw *draw)
{
	const struct syringe *syringe = NULL;
	if (strcmp(name, "syringe") == 0 && draw->measure == MEASURE_SYRINGE)
		syringe = draw->mark.syringe;
	if (strcmp(name, "mixing-syringe") == 0 && draw->has_add)
		syringe = draw->add.syringe;
	return syringe == NULL ? "" : say_syringe(build->speaker, syringe);
}

static bool in_other_lengths(const struct build *build, enum kit_kind kind, const struct needle *needle)
{
	for (size_t i = 0; i < build->course->n_kit; i++) {
		const struct kit_supply *kit = &build->course->kit[i];
		if (kit->kind == kind && kit->needle.length.given &&
		    !quantity_same(kit->needle.length.quantity, needle->length.quantity))
			return true;
	}
	return false;
}

const char *needle_name(struct build *build, const struct product *product, enum kit_kind kind, int64_t count)
{
	bool thick = kind == KIT_NEEDLE_MIXING;
	const struct needle *needle = thick ? &product->mixing_needle : &product->giving_needle;
	if (!needle->length.given || !in_other_lengths(build, kind, needle))
		return say_count(build->speaker, thick ? "thing.thick_needle" : "thing.thin_needle", count, NO_VALUES);
	struct value length = {"length", say_amount(build->speaker, needle->length.quantity)};
	return say_count(build->speaker, thick ? "thing.thick_needle_long" : "thing.thin_needle_long", count, &length,
	                 1);
}

/* What stands below an entry's picture. */
static const char *thing_word(struct build *build, const struct variant *variant, const struct thing *thing,
                              int64_t count)
{
	const struct draw *draw = variant->draw;
	if (thing->picture == PICTURE_THICK_NEEDLE || thing->picture == PICTURE_THIN_NEEDLE)
		return needle_name(build, draw->product,
		                   thing->picture == PICTURE_THICK_NEEDLE ? KIT_NEEDLE_MIXING : KIT_NEEDLE_GIVING,
		                   count);
	struct value syringe = {"syringe", syringe_of_thing(build, thing->name, draw)};
	/* One syringe mixes, the other is for the patient: A and B, as their pages are called. */
	bool second = strcmp(thing->name, "syringe") == 0 && draw_two_syringes(draw) && draw->has_add;
	return say_count(build->speaker, second ? "thing.giving_syringe" : thing->key, count, &syringe, 1);
}

/* An entry reads "vial" or "vial ?condition ?!condition". */
static bool entry_holds(const struct variant *variant, char *entry)
{
	const char *names[8];
	size_t n = 0;
	for (char *mark = strchr(entry, ' '); mark != NULL && n < 8; mark = strchr(mark + 1, ' ')) {
		*mark = '\0';
		if (mark[1] == '?')
			names[n++] = mark + 2;
	}
	return conditions_hold(variant, names, n);
}

static const struct lay_out *lay_out_of(struct build *build, const struct variant *variant, size_t *n)
{
	const struct technique_template *technique =
		templates_technique(build->clinic->templates, variant->draw->product->technique);
	struct lay_out *lay_out = NULL;
	*n = 0;
	for (size_t i = 0; technique != NULL && i < technique->n_lay_out; i++) {
		char *entry = arena_strdup(build->arena, technique->lay_out[i]);
		bool holds = entry_holds(variant, entry);
		const struct thing *thing = thing_named(entry);
		if (!holds || thing == NULL)
			continue;
		int64_t count = thing_count(entry, variant) * times_used(entry, variant);
		lay_out = arena_more(build->arena, lay_out, *n, sizeof *lay_out);
		lay_out[(*n)++] = (struct lay_out){.pictogram = thing->picture,
		                                   .word = thing_word(build, variant, thing, count),
		                                   .count = arena_printf(build->arena, "\u00d7%" PRId64, count)};
	}
	return lay_out;
}

bool lay_out_known(const char *entry)
{
	size_t length = strcspn(entry, " ");
	for (size_t i = 0; i < sizeof things / sizeof *things; i++)
		if (strlen(things[i].name) == length && strncmp(things[i].name, entry, length) == 0)
			return true;
	return false;
}

const char *lay_out_name(size_t index)
{
	return index < sizeof things / sizeof *things ? things[index].name : NULL;
}

/* ---- three ways to say the same amount ---- */

/* What all containers of the draw give to it, in the box's unit. */
static bool taken(const struct draw *draw, struct quantity *sum)
{
	if (draw->n_containers == 0)
		return false;
	*sum = draw->containers[0].takes;
	for (size_t i = 1; i < draw->n_containers; i++)
		if (!quantity_add(*sum, draw->containers[i].takes, sum))
			return false;
	return true;
}

/* What one container holds when it is opened: the strength, or what the volume makes of a concentration. */
static bool held(const struct product *product, struct quantity *content)
{
	if (product->strength.given) {
		*content = product->strength.quantity;
		return true;
	}
	struct quantity volume;
	return product->per_ml.given && product->volume.given &&
	       quantity_in(product->volume.quantity, UNIT_ML, &volume) &&
	       quantity_multiply(product->per_ml.quantity, volume.number, content);
}

const char *label_words(struct speaker *speaker, const struct product *product)
{
	struct quantity content;
	if (product->box_says.text != NULL)
		return product->box_says.text;
	if (product->per_ml.given)
		return say1(speaker, "strength.per_ml", "amount", say_amount(speaker, product->per_ml.quantity));
	return held(product, &content) ? say_amount(speaker, content) : "";
}

bool label_names(const struct product *product, struct quantity amount)
{
	const struct stated_quantity *label = product->per_ml.given ? &product->per_ml : &product->strength;
	struct quantity same;
	return label->given && quantity_in(label->quantity, amount.unit, &same) && quantity_same(same, amount);
}

const char *box_words(struct build *build, const struct product *product)
{
	const char *label = label_words(build->speaker, product);
	return *label == '\0' ? "" : say1(build->speaker, "same.box_says", "strength", label);
}

/* The unit the patient reads on the box: what it says where that is an amount, else its strength's. */
static enum unit box_unit(struct build *build, const struct product *product, struct quantity content)
{
	struct quantity said;
	struct quantity_fault fault;
	if (product->box_says.text != NULL &&
	    quantity_read(build->arena, product->box_says.text, build->clinic->mark, &said, &fault) &&
	    unit_converts(said.unit, content.unit))
		return said.unit;
	return content.unit;
}

static void fill_part(struct build *build, const struct draw *draw, struct medicine_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	struct quantity sum;
	struct quantity content;
	struct rational part;
	sheet->box_fraction = rational_of(1, 1);
	sheet->box_part = sheet->amount;
	if (!taken(draw, &sum) || !held(draw->product, &content) || !quantity_ratio(sum, content, &part))
		return;
	struct quantity on_box = sum;
	if (quantity_in(sum, box_unit(build, draw->product, content), &on_box) && on_box.unit != draw->dose.unit)
		sheet->box_amount = say_amount(speaker, on_box);
	sheet->box_fraction = part;
	if (rational_compare(part, rational_of(1, 1)) == 0)
		sheet->box_part = say0(speaker, "same.all");
	else if (rational_compare(part, rational_of(1, 2)) == 0)
		sheet->box_part = say0(speaker, "same.half");
	else if (rational_is_whole(part))
		sheet->box_part = say_count(speaker, "same.containers", part.numerator, NO_VALUES);
	else
		sheet->box_part = say_amount(speaker, on_box);
	if (sheet->box_amount != NULL && strcmp(sheet->box_part, sheet->box_amount) == 0)
		sheet->box_amount = NULL;
}

static enum pictogram box_picture(const struct product *product)
{
	return product->container == CONTAINER_POWDER_VIAL || product->container == CONTAINER_SOLUTION_VIAL
	               ? PICTURE_HALF_VIAL
	               : picture_of_product(product);
}

/* Both injections of a dose are one amount, from what both take of their containers. */
static void fill_whole_dose(struct build *build, const struct dose *dose, struct medicine_sheet *sheet)
{
	struct draw both = dose->draws[0];
	struct container_use *uses =
		arena_alloc(build->arena, (dose->draws[0].n_containers + dose->draws[1].n_containers) * sizeof *uses);
	size_t n = 0;
	for (size_t i = 0; i < 2; i++)
		for (size_t j = 0; j < dose->draws[i].n_containers; j++)
			uses[n++] = dose->draws[i].containers[j];
	both.dose = dose->ordered;
	both.containers = uses;
	both.n_containers = n;
	sheet->amount = say_amount(build->speaker, dose->ordered);
	fill_part(build, &both, sheet);
	bool alike = draws_alike(&dose->draws[0], &dose->draws[1]);
	sheet->syringe_shows = say0(build->speaker, alike ? "same.syringe_twice" : "same.syringe_part");
}

/* Where the ring stops is not what goes in: the strip says both, and what becomes of the rest. */
static void fill_part_strip(struct build *build, const struct draw *draw, struct medicine_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	bool push_out = draw->mark.line == LINE_PUSH_OUT;
	if (rational_is_zero(draw->held))
		return;
	sheet->same_heading = say0(speaker, "part.strip_heading");
	sheet->box_says = say0(speaker, "part.goes_in");
	sheet->box_part = part_goes_in(build, draw);
	sheet->box_amount =
		say1(speaker, "part.of_held", "held", say_amount(speaker, (struct quantity){draw->held, UNIT_ML}));
	sheet->syringe_shows = say0(speaker, push_out ? "part.so_push" : "part.so_stop");
	sheet->mark_more = say1(speaker, push_out ? "part.pushed" : "part.stays", "rest", part_rest(build, draw));
	sheet->mark_follows = true;
}

/*
 * Words that a reader may not know, where the strip has them: a unit beside its
 * thousandfold, the strength of a scale. No amount: a sheet says only its own.
 */
static const char *terms_of(struct build *build, const struct draw *draw)
{
	struct speaker *speaker = build->speaker;
	const struct syringe *syringe = draw->mark.syringe;
	if (draw->measure == MEASURE_SYRINGE && syringe != NULL && syringe->unit_scale)
		return say1(speaker, "terms.scale", "strength", say_number(speaker, syringe->units_per_ml));
	struct quantity content;
	if (!held(draw->product, &content))
		return NULL;
	enum unit box = box_unit(build, draw->product, content);
	enum unit dose = draw->dose.unit;
	if (dose == UNIT_UNITS)
		return say0(speaker, "terms.units");
	if (box == dose || (box != UNIT_MCG && dose != UNIT_MCG) || (box != UNIT_MG && dose != UNIT_MG))
		return NULL;
	return say0(speaker, "terms.mcg");
}

static void fill_same(struct build *build, const struct variant *variant, struct medicine_sheet *sheet)
{
	const struct draw *draw = variant->draw;
	struct speaker *speaker = build->speaker;
	sheet->same_heading = say0(speaker, "same.heading");
	sheet->same_terms = terms_of(build, draw);
	sheet->calendar_says = say0(speaker, "same.calendar");
	sheet->amount = say_amount(speaker, draw->dose);
	sheet->box_says = say1(speaker, "same.of_box", "strength", label_words(speaker, draw->product));
	sheet->box_picture = box_picture(draw->product);
	fill_part(build, draw, sheet);
	sheet->syringe_shows = say0(speaker, draw->measure == MEASURE_DIAL ? "same.pen" : "same.syringe");
	if (dose_at_two_places(variant->dose))
		fill_whole_dose(build, variant->dose, sheet);
	sheet->mark = say_mark(speaker, draw);
	sheet->has_add = draw->has_add;
	if (draw->has_add)
		sheet->add = say_line(speaker, &draw->add);
	fill_part_strip(build, draw, sheet);
}

/* ---- the strip: one syringe all the way ---- */

static void fill_flow(struct build *build, const struct variant *variant, struct medicine_sheet *sheet)
{
	static const char *const kit[] = {"liquid-syringe", "swap", "opens"};
	static const struct {
		enum flow_kind kind;
		const char *key;
	} pieces[] = {{FLOW_LIQUID_SYRINGE, "flow.liquid"},
	              {FLOW_VIAL, "flow.vial"},
	              {FLOW_DRAWN, "flow.back"},
	              {FLOW_THIN, "flow.thin"},
	              {FLOW_YOU, "flow.you"}};
	if (!conditions_hold(variant, kit, 3) || variant->draw->n_containers != 1)
		return;
	size_t n = sizeof pieces / sizeof *pieces;
	struct flow_piece *flow = arena_alloc(build->arena, n * sizeof *flow);
	for (size_t i = 0; i < n; i++)
		flow[i] = (struct flow_piece){pieces[i].kind, say0(build->speaker, pieces[i].key)};
	sheet->flow_heading = say0(build->speaker, "flow.heading");
	sheet->flow = flow;
	sheet->n_flow = n;
}

/* ---- the back: the line ---- */

/*
 * "1 mL syringe"; B where another one mixes. Not "liquid syringe" where that takes the medicine back: on a second day an
 * empty one stands for it, and no other must be opened.
 */
static const char *giving_syringe_name(struct build *build, const struct draw *draw)
{
	const char *name = say_syringe(build->speaker, draw->mark.syringe);
	if (draw->has_add && draw_two_syringes(draw))
		return say1(build->speaker, "thing.syringe_b_named", "syringe", name);
	return name;
}

/* A filled syringe that is given whole by a patient: her step cites it. */
static bool cites_whole(const struct variant *variant)
{
	return variant->draw->product->container == CONTAINER_PREFILLED_SYRINGE &&
	       variant->item->medicine->route != ROUTE_INTRAMUSCULAR;
}

static void fill_line(struct build *build, const struct variant *variant, struct medicine_sheet *sheet)
{
	const struct draw *draw = variant->draw;
	struct speaker *speaker = build->speaker;
	const struct syringe *syringe = draw->mark.syringe;
	if (draw->measure != MEASURE_SYRINGE || syringe == NULL) {
		sheet->stop_heading =
			say0(speaker, draw->measure == MEASURE_DIAL ? "line.dial_heading" : "line.all_heading");
		sheet->window_text = say1(speaker, draw->measure == MEASURE_DIAL ? "line.dial_text" : "line.all_text",
		                          "mark", sheet->mark.number == NULL ? "" : sheet->mark.number);
		sheet->alt = sheet->window_text;
		return;
	}
	/* A part of a filled syringe is seen to when its needle is bare. A scale in units is named beside the tag already. */
	bool bare = draw->mark.line != LINE_DRAW && !draw->mark.all;
	const char *true_size = bare ? "line.true_size_bare" : "line.true_size";
	if (syringe->unit_scale)
		sheet->true_size =
			say0(speaker, syringe->measured ? "line.true_size_alone" : "line.not_measured_alone");
	else
		sheet->true_size = say1(speaker, syringe->measured ? true_size : "line.not_measured", "syringe",
		                        giving_syringe_name(build, draw));
	if (syringe->unit_scale)
		sheet->scale_beside = say1(speaker, "line.of_scale", "scale", say_scale(speaker, syringe));
	if (draw->mark.all) {
		sheet->stop_heading = say0(speaker, "line.all_heading");
		sheet->window_text = say0(speaker, "line.all_text");
		sheet->line_letter = cites_whole(variant) ? picture_letter(build, line_picture(build, variant)) : NULL;
		sheet->alt = picture_alt(build, sheet->line_letter, NULL,
		                         say1(speaker, "line.alt_all", "amount", sheet->amount));
		return;
	}
	const char *keys[] = {[LINE_DRAW] = "line.draw_heading",
	                      [LINE_ADD] = "line.add_heading",
	                      [LINE_PUSH_OUT] = "line.push_heading",
	                      [LINE_STOP] = "line.stop_heading"};
	sheet->stop_heading = say0(speaker, keys[draw->mark.line]);
	sheet->window_text = say1(speaker, "line.ring", "line", say_line_place(speaker, &draw->mark));
	/* Two syringes have a line each, which is called A or B; else the line seen close has a letter of its own. */
	sheet->line_letter = picture_letter(build, line_picture(build, variant));
	if (!draw->has_add && draw->mark.line == LINE_DRAW)
		sheet->window_letter = picture_letter(build, 1);
	sheet->alt = say2(speaker, draw->mark.line == LINE_DRAW ? "line.alt_draw" : "line.alt_push", "mark",
	                  mark_words_plain(build->arena, sheet->mark), "line", say_line_place(speaker, &draw->mark));
	sheet->alt = picture_alt(build, sheet->line_letter, sheet->window_letter, sheet->alt);
}

/* ---- keep, throw away, late ---- */

/* How long it keeps once open; the boxes of a vial for many days say so themselves. */
static bool names_last_day(struct build *build, const struct variant *variant)
{
	const struct vial_log *log = vial_log_of(build, variant);
	return variant->draw->product->in_use.given && (log == NULL || log->section >= 0);
}

static const char *keep_words(struct build *build, const struct variant *variant)
{
	struct speaker *speaker = build->speaker;
	const struct product *product = variant->draw->product;
	const char *storage = product->storage.n == 0 ? say0(speaker, "keep.unknown")
	                                              : say_text(speaker, product->storage, "the product's storage");
	if (variant->split_section >= 0)
		return say1(speaker, "keep.mixed", "storage", storage);
	if (names_last_day(build, variant))
		return say2(speaker, "keep.in_use", "storage", storage, "time",
		            say_amount(build->speaker, product->in_use.quantity));
	return say1(speaker, "keep.plain", "storage", storage);
}

/* A text without its breaks: what is left of it has no space. */
static const char *unbroken(struct build *build, const char *text)
{
	const char *space = strchr(text, ' ');
	if (space == NULL)
		return text;
	return arena_printf(build->arena, "%.*s\u00a0%s", (int)(space - text), text, unbroken(build, space + 1));
}

/* "Day 000 555 0142": the number stays on one line. */
static const char *phone_to_call(struct build *build, const struct phone *phone)
{
	return say2(build->speaker, "late.phone", "label",
	            say_text(build->speaker, phone->label, "the telephone's label"), "number",
	            unbroken(build, phone->number));
}

/* The clinic wrote nothing on a late dose: the numbers to call stand where that is read. */
static const char *late_words(struct build *build, const struct variant *variant)
{
	bool counted = variant->draw->measure == MEASURE_COUNT;
	const char *phones = NULL;
	for (size_t i = 0; i < build->clinic->n_phones; i++) {
		const char *phone = phone_to_call(build, &build->clinic->phones[i]);
		phones = phones == NULL ? phone : say2(build->speaker, "list.comma", "first", phones, "last", phone);
	}
	if (phones == NULL)
		return say0(build->speaker, counted ? "late.call_us_counted" : "late.call_us");
	return say1(build->speaker, counted ? "late.call_counted" : "late.call", "phones", phones);
}

/* The clinic's words on a late dose, after what is no late one. */
static const char *late_note(struct build *build, const struct variant *variant)
{
	const struct medicine *medicine = variant->item->medicine;
	const struct stated_quantity *window = &variant->item->window;
	const char *words = medicine->missed.n == 0
	                            ? late_words(build, variant)
	                            : say_text(build->speaker, medicine->missed, "the words on a missed dose");
	/* What the clinic says of an hour late does not know of the vial's own. */
	if (variant->split_section >= 0)
		words = say1(build->speaker, "late.use_by", "words", words);
	if (!window->given)
		return words;
	const char *times = on_time(build, variant);
	if (times != NULL)
		return say2(build->speaker, "late.on_time", "times", times, "words", words);
	return say2(build->speaker, "late.window", "time", say_amount(build->speaker, window->quantity), "words",
	            words);
}

/* "How: under the skin. It keeps the eggs from leaving too early." */
static const char *purpose_words(struct build *build, const struct medicine *medicine)
{
	const char *route = route_words(build, medicine);
	if (medicine->purpose.n == 0)
		return say1(build->speaker, "medicine.route", "route", route);
	return say2(build->speaker, "medicine.purpose", "route", route, "purpose",
	            say_text(build->speaker, medicine->purpose, "the medicine's purpose"));
}

/* What becomes of what is left: a vial or a pen in use has its last day, and what pricks its box. */
static const char *away_words(struct build *build, const struct variant *variant)
{
	struct speaker *speaker = build->speaker;
	if (variant->draw->measure == MEASURE_COUNT)
		return say0(speaker, variant->draw->count.unit == UNIT_PATCH ? "away.patch" : "away.counted");
	return say0(speaker, names_last_day(build, variant) ? "away.in_use" : "away.sharps");
}

void fill_about(struct build *build, const struct variant *variant, struct medicine_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	struct note_block *notes = arena_alloc(build->arena, 3 * sizeof *notes);
	bool counted = variant->draw->measure == MEASURE_COUNT;
	notes[0] = (struct note_block){picture_of_product(variant->draw->product), say0(speaker, "keep.heading"),
	                               keep_words(build, variant), variant->split_section};
	if (variant->draw->product->storage.n == 0)
		notes[0].pictogram = PICTURE_SHELF;
	notes[1] = (struct note_block){counted ? PICTURE_BAG : PICTURE_SHARPS_BOX, say0(speaker, "away.heading"),
	                               away_words(build, variant), -1};
	notes[2] = (struct note_block){PICTURE_CLOCK, say0(speaker, "late.heading"), late_note(build, variant), -1};
	sheet->notes = notes;
	sheet->n_notes = 3;
	sheet->call_heading = say0(speaker, "call.heading");
	sheet->call_text = say0(speaker, counted ? "call.text_counted" : "call.text");
	sheet->picture = picture_of_product(variant->draw->product);
	sheet->purpose = purpose_words(build, variant->item->medicine);
}

static const char *caution_words(struct build *build, const struct medicine *medicine)
{
	const char *text = NULL;
	for (size_t i = 0; i < medicine->n_cautions; i++) {
		const char *one = say_text(build->speaker, medicine->cautions[i], "the medicine's caution");
		text = text == NULL ? one : arena_printf(build->arena, "%s %s", text, one);
	}
	return text;
}

/* Two sheets of one medicine must not be taken for each other: their titles then say how much. */
static bool has_other_amounts(const struct build *build, const struct variant *variant)
{
	for (size_t i = 0; i < build->n_variants; i++)
		if (&build->variants[i] != variant && build->variants[i].item == variant->item)
			return true;
	return false;
}

const char *sheet_name(struct build *build, const struct variant *variant)
{
	const struct dose *dose = variant->dose;
	const char *name = variant->item->medicine->name;
	/* One sheet serves both injections of a dose where they are alike: its amount is the dose's. */
	bool both = dose_at_two_places(dose) && draws_alike(&dose->draws[0], &dose->draws[1]);
	if (has_other_amounts(build, variant))
		name = say2(build->speaker, "medicine.name_amount", "name", name, "amount",
		            say_amount(build->speaker, both ? dose->ordered : variant->draw->dose));
	return name;
}

const char *route_words(struct build *build, const struct medicine *medicine)
{
	return say0(build->speaker, arena_printf(build->arena, "device.%s", route_name(medicine->route)));
}

/* A dose of the same amount for which none is opened; NULL: there is none to come. */
static const struct dose *dose_from_open_vial(const struct build *build, const struct variant *variant)
{
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (dose->n_draws > 0 && !dose->done && variant_of(build, dose, 0) == variant &&
		    !draw_opens(&dose->draws[0]))
			return dose;
	}
	return NULL;
}

/* "×1 mixed vial · ×1 empty 1 mL syringe B, for you": the syringe has the letter that steps and line know it by. */
static const char *things_of_other_days(struct build *build, const struct variant *variant)
{
	const char *all = "";
	size_t n;
	const struct lay_out *lay_out = lay_out_of(build, variant, &n);
	const char *syringe = say1(build->speaker, "thing.giving_syringe", "syringe",
	                           syringe_of_thing(build, "syringe", variant->draw));
	for (size_t i = 0; i < n; i++)
		all = arena_printf(build->arena, "%s%s%s\u00a0%s", all, i == 0 ? "" : " \u00b7 ", lay_out[i].count,
		                   lay_out[i].pictogram == PICTURE_EMPTY_SYRINGE ? syringe : lay_out[i].word);
	return all;
}

/* Whoever opens no vial begins with the line, past what the front lays out. */
static void fill_other_days(struct build *build, const struct variant *variant, struct medicine_sheet *sheet)
{
	struct variant other = *variant;
	other.dose = dose_from_open_vial(build, variant);
	if (other.dose == NULL)
		return;
	other.draw = &other.dose->draws[0];
	sheet->other_days = say2(build->speaker, "medicine.other_days", "things", things_of_other_days(build, &other),
	                         "page", PAGE_HERE);
	sheet->squares_page = say1(build->speaker, "medicine.squares_page", "page", PAGE_HERE);
}

static void fill_titles(struct build *build, const struct variant *variant, struct medicine_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	const struct draw *draw = variant->draw;
	const char *container = container_kind_name(draw->product->container);
	struct value values[] = {
		{"name", sheet_name(build, variant)},
		{"kind", say0(speaker, arena_printf(build->arena, "kind.%s", container))},
		{"days", opening_days(build, speaker, variant)},
		{"time", variant_times(build, speaker, variant)},
		{"amount", say_amount(speaker, draw->dose)},
	};
	/* Both injections of a dose that are alike have one sheet: it is titled with the whole. */
	if (dose_at_two_places(variant->dose) && draws_alike(&variant->dose->draws[0], &variant->dose->draws[1]))
		values[4].text = say_amount(speaker, variant->dose->ordered);
	bool syringe = draw->measure == MEASURE_SYRINGE && draw->product->container != CONTAINER_PREFILLED_SYRINGE;
	sheet->front_title = say(speaker, "medicine.front_title", values, 5);
	sheet->front_lead = say(speaker, "medicine.front_lead", values, 5);
	/* The second half does not begin here; and an exact time begins with its alarms. */
	sheet->lead_section = variant->split_section >= 0 ? variant->split_section : variant->exact_section;
	if (sheet->lead_section >= 0)
		sheet->front_lead = say2(
			speaker, variant->split_section >= 0 ? "medicine.front_lead_half" : "medicine.front_lead_exact",
			"lead", sheet->front_lead, "page", PAGE_HERE);
	values[2].text = variant_days(build, speaker, variant);
	bool helper = variant->item->medicine->route == ROUTE_INTRAMUSCULAR;
	sheet->back_title = say(speaker,
	                        !syringe ? "medicine.back_title_inject"
	                        : helper ? "medicine.back_title_draw"
	                                 : "medicine.back_title",
	                        values, 5);
	sheet->back_lead = say(speaker, "medicine.back_lead", values, 5);
	sheet->one_needle = !draw_swaps_needles(draw);
	sheet->back_heading = say0(speaker, !syringe ? "medicine.steps_inject"
	                                    : helper ? "medicine.steps_draw"
	                                             : "medicine.steps");
	if (variant->split_section >= 0)
		sheet->back_lead =
			say2(speaker, "medicine.back_lead_half", "lead", sheet->back_lead, "page", PAGE_HERE);
	/* Whoever turns here on another day must not open a second vial. */
	const char *new_vial = draw_mixed_apart(draw) ? days_opened(build, variant) : NULL;
	if (new_vial != NULL && strcmp(new_vial, values[2].text) != 0) {
		sheet->front_lead = say2(speaker, "medicine.front_lead_new", "kind", values[1].text, "days", new_vial);
		fill_other_days(build, variant, sheet);
	}
}

/* Into the muscle the helper injects, on pages of her own: this one only draws, and its last step says where it goes on. */
static void lead_to_helper(struct build *build, struct medicine_sheet *sheet, int step)
{
	struct speaker *speaker = build->speaker;
	struct step *steps = arena_alloc(build->arena, sheet->n_back * sizeof *steps);
	memcpy(steps, sheet->back, sheet->n_back * sizeof *steps);
	struct step *last = &steps[sheet->n_back - 1];
	last->text = arena_printf(
		build->arena, "%s\n%s", last->text,
		say2(speaker, "medicine.go_on", "page", PAGE_HERE, "step", say_number(speaker, rational_of(step, 1))));
	sheet->back = steps;
}

static void fill_steps(struct build *build, const struct variant *variant, struct medicine_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	sheet->first = steps_of(build, variant, STEP_FIRST, 1, &sheet->n_first);
	sheet->front = steps_of(build, variant, STEP_FRONT, 1, &sheet->n_front);
	int next = 1;
	for (size_t i = 0; i < sheet->n_front; i++)
		next = sheet->front[i].number >= next ? sheet->front[i].number + 1 : next;
	int first_after = next;
	sheet->mix = mix_page_of(build, variant, &next);
	sheet->chain = powder_chain_of(build, variant, next);
	sheet->part = filled_part_of(build, variant, &next);
	sheet->back = steps_of(build, variant, STEP_BACK, next, &sheet->n_back);
	for (size_t i = 0; i < sheet->n_back; i++)
		next = sheet->back[i].number >= next ? sheet->back[i].number + 1 : next;
	int first_of_helper = next;
	sheet->muscle = muscle_page_of(build, variant, &next);
	if (sheet->muscle != NULL && sheet->n_back > 0)
		lead_to_helper(build, sheet, first_of_helper);
	bool mixes = variant->draw->product->container == CONTAINER_POWDER_VIAL && draw_opens(variant->draw);
	sheet->mix_heading = say0(speaker, mixes ? "medicine.mix" : "medicine.prepare");
	sheet->goes_on = first_after;
}

const struct medicine_sheet *medicine_sheet_of(struct build *build, const struct variant *variant)
{
	struct medicine_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	sheet->dose = variant->dose;
	sheet->draw = variant->draw;
	sheet->back_elsewhere = variant->exact_section >= 0;
	sheet->back_section = variant->exact_section;
	fill_titles(build, variant, sheet);
	sheet->lay_out_heading = say0(build->speaker, "medicine.lay_out");
	sheet->lay_out = lay_out_of(build, variant, &sheet->n_lay_out);
	fill_same(build, variant, sheet);
	fill_flow(build, variant, sheet);
	fill_steps(build, variant, sheet);
	fill_line(build, variant, sheet);
	if (sheet->mix != NULL)
		sheet->stop_heading = say1(build->speaker, "mix.back_heading", "heading", sheet->stop_heading);
	sheet->caution_word = say0(build->speaker, "caution.word");
	sheet->caution = caution_words(build, variant->item->medicine);
	fill_about(build, variant, sheet);
	if (sheet->part != NULL)
		sheet->back_title =
			say1(build->speaker,
		             variant->draw->mark.line == LINE_PUSH_OUT ? "part.title_out" : "part.title_stop", "name",
		             sheet_name(build, variant));
	sheet->vials = vial_log_of(build, variant);
	sheet->place = place_as_asked(build, sheet, todays_place_of(build, variant));
	sheet->twice = two_places_of(build, variant);
	return sheet;
}
