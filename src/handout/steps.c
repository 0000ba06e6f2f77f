/*
 * steps.c - the steps of a technique that hold for one draw, numbered.
 *
 * A step's conditions are names of facts about the draw, its product and its
 * dose; the table below is all there are. To add one, add a row.
 */
#include "handout/build.h"

#include "plan/draw.h"

#include <string.h>

struct facts {
	const struct dose *dose;
	const struct draw *draw;
	const struct product *product;
	size_t draw_index; /* of the dose's draws */
	bool some_whole;
};

static bool liquid_in_syringe(const struct facts *facts)
{
	return facts->product->diluent.given && facts->product->diluent.comes_as == LIQUID_SYRINGE &&
	       facts->product->draw_with == DRAW_WITH_LIQUID_SYRINGE;
}

static bool own_syringe(const struct facts *facts)
{
	return !liquid_in_syringe(facts);
}

static bool liquid_in_vial(const struct facts *facts)
{
	return facts->product->diluent.given && facts->product->diluent.comes_as == LIQUID_VIAL;
}

static bool liquid_in_ampoule(const struct facts *facts)
{
	return facts->product->diluent.given && facts->product->diluent.comes_as == LIQUID_AMPOULE;
}

static bool add_line(const struct facts *facts)
{
	return facts->draw->has_add;
}

static bool two_syringes(const struct facts *facts)
{
	return draw_two_syringes(facts->draw);
}

/* The liquid comes in a syringe that adds it, and another draws the medicine. */
static bool liquid_apart(const struct facts *facts)
{
	return two_syringes(facts) && facts->product->diluent.comes_as == LIQUID_SYRINGE;
}

static bool swaps(const struct facts *facts)
{
	return draw_swaps_needles(facts->draw);
}

static bool fixed_needle(const struct facts *facts)
{
	return facts->draw->mark.syringe != NULL && facts->draw->mark.syringe->fixed_needle;
}

static bool whole(const struct facts *facts)
{
	return facts->draw->mark.all;
}

static bool split(const struct facts *facts)
{
	return facts->dose->half != HALF_NONE;
}

static bool at_once(const struct facts *facts)
{
	return dose_drawn_at_once(facts->dose);
}

static bool two_places(const struct facts *facts)
{
	return dose_shares_container(facts->dose);
}

/* Something stays in a container that is thrown away after this draw. */
static bool leaves_rest(const struct facts *facts)
{
	for (size_t i = 0; i < facts->draw->n_containers; i++)
		if (facts->draw->containers[i].then == THEN_DISCARD &&
		    !rational_is_zero(facts->draw->containers[i].leaves.number))
			return true;
	return false;
}

static bool opens(const struct facts *facts)
{
	return draw_opens(facts->draw);
}

static bool multi_dose(const struct facts *facts)
{
	return facts->product->in_use.given;
}

static bool several(const struct facts *facts)
{
	return facts->draw->n_containers > 1;
}

static bool warm(const struct facts *facts)
{
	return facts->product->warm_up.given;
}

static bool into_muscle(const struct facts *facts)
{
	return facts->dose->item->medicine->route == ROUTE_INTRAMUSCULAR;
}

static bool mixes_by_swirl(const struct facts *facts)
{
	return facts->product->mix == MIX_SWIRL;
}

static bool mixes_by_roll(const struct facts *facts)
{
	return facts->product->mix == MIX_ROLL;
}

static bool mixes_by_shake(const struct facts *facts)
{
	return facts->product->mix == MIX_SHAKE;
}

static bool keeps_bubble(const struct facts *facts)
{
	return facts->product->bubble == BUBBLE_KEEP;
}

static bool holds(const struct facts *facts)
{
	return facts->product->hold.given;
}

static bool aspirates(const struct facts *facts)
{
	return facts->product->aspirate;
}

static bool skin_pull(const struct facts *facts)
{
	return facts->product->skin_pull;
}

static bool air_equal(const struct facts *facts)
{
	return facts->product->air == AIR_EQUAL;
}

static bool expel_first(const struct facts *facts)
{
	return facts->draw->mark.line == LINE_PUSH_OUT && !facts->draw->mark.all;
}

static bool inject_to(const struct facts *facts)
{
	return facts->draw->mark.line == LINE_STOP && !facts->draw->mark.all;
}

/* The place that the clinic writes; without its word it is the hip's side. */
static bool upper_quarter(const struct facts *facts)
{
	const struct medicine *medicine = facts->dose->item->medicine;
	for (size_t i = 0; i < medicine->n_sites; i++)
		if (strcmp(medicine->sites[i], "upper-outer-quarter") == 0)
			return true;
	return false;
}

static bool rubs(const struct facts *facts)
{
	return facts->product->rub;
}

static bool filter(const struct facts *facts)
{
	return facts->product->filter_needle;
}

/* The product has an amount to test with; whether this setting is tested is another matter. */
static bool has_priming(const struct facts *facts)
{
	const struct stated_quantity *priming = &facts->product->dial.priming;
	return priming->given && !rational_is_zero(priming->quantity.number);
}

static bool primes(const struct facts *facts)
{
	return facts->draw->measure == MEASURE_DIAL && !rational_is_zero(facts->draw->priming.number);
}

static const struct container_use *last_container(const struct facts *facts)
{
	return facts->draw->n_containers == 0 ? NULL : &facts->draw->containers[facts->draw->n_containers - 1];
}

/* Not the first injection of its dose. */
static bool again(const struct facts *facts)
{
	return facts->draw_index > 0;
}

static bool empties(const struct facts *facts)
{
	return last_container(facts) != NULL && rational_is_zero(last_container(facts)->leaves.number);
}

static bool pen_done(const struct facts *facts)
{
	return last_container(facts) != NULL && last_container(facts)->then == THEN_DISCARD;
}

static bool dial_stops(const struct facts *facts)
{
	return facts->product->pen_end == PEN_END_STOPS;
}

static bool shows_rest(const struct facts *facts)
{
	return facts->product->pen_end == PEN_END_SHOWS_REST;
}

/* ---- what is counted out ---- */

static bool counts(const struct facts *facts)
{
	return facts->draw->measure == MEASURE_COUNT;
}

static bool half_piece(const struct facts *facts)
{
	return counts(facts) && !rational_is_whole(facts->draw->count.number);
}

static bool some_whole(const struct facts *facts)
{
	return facts->some_whole;
}

static bool one_piece(const struct facts *facts)
{
	return counts(facts) && rational_compare(facts->draw->count.number, rational_of(1, 1)) == 0;
}

static bool rectal(const struct facts *facts)
{
	return facts->dose->item->medicine->route == ROUTE_RECTAL;
}

static bool has_site(const struct facts *facts, const char *site)
{
	const struct medicine *medicine = facts->dose->item->medicine;
	for (size_t i = 0; i < medicine->n_sites; i++)
		if (strcmp(medicine->sites[i], site) == 0)
			return true;
	return false;
}

/* Worn for whole days: the sheet lists the days of change. */
static bool worn_for_days(const struct facts *facts)
{
	struct quantity days;
	return facts->product->wear.given && quantity_in(facts->product->wear.quantity, UNIT_DAY, &days) &&
	       rational_is_whole(days.number);
}

/* As many sprays in one nostril as in the other. */
static bool both_nostrils(const struct facts *facts)
{
	struct rational each;
	return counts(facts) && has_site(facts, "both-nostrils") &&
	       rational_divide(facts->draw->count.number, rational_of(2, 1), &each) && rational_is_whole(each);
}

static bool one_nostril(const struct facts *facts)
{
	return has_site(facts, "one-nostril");
}

static bool spray_primes(const struct facts *facts)
{
	return facts->product->prime.n > 0;
}

static bool spray_waits(const struct facts *facts)
{
	return facts->product->spray_gap.given && !one_piece(facts);
}

static bool test_first(const struct facts *facts)
{
	return facts->product->test == PEN_TEST_FIRST;
}

static bool test_each(const struct facts *facts)
{
	return facts->product->test == PEN_TEST_EACH;
}

static const struct {
	const char *name;
	bool (*holds)(const struct facts *facts);
} conditions[] = {
	{"liquid-syringe", liquid_in_syringe},
	{"own-syringe", own_syringe},
	{"liquid-vial", liquid_in_vial},
	{"liquid-ampoule", liquid_in_ampoule},
	{"add-line", add_line},
	{"two-syringes", two_syringes},
	{"liquid-apart", liquid_apart},
	{"swap", swaps},
	{"fixed-needle", fixed_needle},
	{"whole", whole},
	{"split", split},
	{"at-once", at_once},
	{"two-places", two_places},
	{"leaves-rest", leaves_rest},
	{"opens", opens},
	{"multi-dose", multi_dose},
	{"several", several},
	{"warm", warm},
	{"into-muscle", into_muscle},
	{"swirl", mixes_by_swirl},
	{"roll", mixes_by_roll},
	{"shake", mixes_by_shake},
	{"keep-bubble", keeps_bubble},
	{"hold", holds},
	{"aspirate", aspirates},
	{"skin-pull", skin_pull},
	{"air-equal", air_equal},
	{"expel-first", expel_first},
	{"inject-to", inject_to},
	{"upper-quarter", upper_quarter},
	{"rub", rubs},
	{"filter", filter},
	{"test-first", test_first},
	{"test-each", test_each},
	{"priming", has_priming},
	{"primes", primes},
	{"again", again},
	{"empties", empties},
	{"pen-done", pen_done},
	{"dial-stops", dial_stops},
	{"shows-rest", shows_rest},
	{"half", half_piece},
	{"some-whole", some_whole},
	{"rectal", rectal},
	{"wear", worn_for_days},
	{"both-nostrils", both_nostrils},
	{"one-nostril", one_nostril},
	{"spray-primes", spray_primes},
	{"spray-waits", spray_waits},
};

bool step_condition_known(const char *name)
{
	for (size_t i = 0; i < sizeof conditions / sizeof *conditions; i++)
		if (strcmp(conditions[i].name, name + (*name == '!')) == 0)
			return true;
	return false;
}

const char *step_condition_name(size_t index)
{
	return index < sizeof conditions / sizeof *conditions ? conditions[index].name : NULL;
}

static bool condition_holds(const struct facts *facts, const char *name)
{
	bool negated = *name == '!';
	for (size_t i = 0; i < sizeof conditions / sizeof *conditions; i++)
		if (strcmp(conditions[i].name, name + negated) == 0)
			return conditions[i].holds(facts) != negated;
	return false;
}

bool conditions_hold(const struct variant *variant, const char *const *names, size_t n)
{
	struct facts facts = {variant->dose, variant->draw, variant->draw->product, variant->draw_index,
	                      variant->some_whole};
	for (size_t i = 0; i < n; i++)
		if (!condition_holds(&facts, names[i]))
			return false;
	return true;
}

/* A step's words are the technique's own, or those all techniques share. */
static const char *step_words(struct build *build, const char *technique, const char *id, const char *part,
                              const struct value *values, size_t n)
{
	const char *own = arena_printf(build->arena, "step.%s.%s.%s", technique, id, part);
	if (can_say(build->speaker, own))
		return say(build->speaker, own, values, n);
	return say(build->speaker, arena_printf(build->arena, "step.%s.%s", id, part), values, n);
}

static const char *duration(struct build *build, struct stated_quantity time)
{
	return time.given ? say_amount(build->speaker, time.quantity) : "";
}

/* Sheets of pens and of what is counted out serve several amounts: they say "your number", "today's number". */
static bool serves_several(const struct build *build, const struct variant *variant)
{
	for (size_t i = 0; i < build->n_variants; i++) {
		const struct variant *other = &build->variants[i];
		if (other->sheet == variant->sheet && other->sheet >= 0 &&
		    !quantity_same(other->draw->dose, variant->draw->dose) && is_whole_dose(build, other))
			return true;
	}
	return false;
}

static const char *number_to_set(struct build *build, const struct variant *variant)
{
	bool dial = variant->draw->measure == MEASURE_DIAL;
	/* A part of a dose is no number of the sheet. */
	if (serves_several(build, variant) || (dial && !is_whole_dose(build, variant)))
		return say0(build->speaker, "step.todays_number");
	return dial ? say_number(build->speaker, variant->draw->dial.number) : "";
}

/* "2 patches"; where a sheet serves several amounts, "as many as today's row says". */
static const char *pieces_to_take(struct build *build, const struct variant *variant)
{
	if (variant->draw->measure != MEASURE_COUNT)
		return "";
	return serves_several(build, variant) ? say0(build->speaker, "step.todays_pieces")
	                                      : say_amount(build->speaker, variant->draw->count);
}

static const char *in_each_nostril(struct build *build, const struct variant *variant)
{
	struct quantity each = variant->draw->count;
	if (variant->draw->measure != MEASURE_COUNT || !rational_divide(each.number, rational_of(2, 1), &each.number))
		return "";
	return serves_several(build, variant) ? say0(build->speaker, "step.half_of_them")
	                                      : say_amount(build->speaker, each);
}

/* "belly or hip": where patches may be stuck on; a place without a word of ours is left out. */
static const char *places(struct build *build, const struct medicine *medicine)
{
	struct speaker *speaker = build->speaker;
	const char *said = NULL;
	for (size_t i = 0; i < medicine->n_sites; i++) {
		const char *key = arena_printf(build->arena, "site.%s", medicine->sites[i]);
		if (!can_say(speaker, key))
			continue;
		said = said == NULL ? say0(speaker, key)
		                    : say2(speaker, "list.or", "first", said, "last", say0(speaker, key));
	}
	return said == NULL ? say0(speaker, "site.unknown") : said;
}

static const char *seconds(struct build *build, struct stated_quantity time)
{
	return time.given ? say_number(build->speaker, time.quantity.number) : "";
}

static const char *priming_number(struct build *build, const struct product *product)
{
	return product->dial.priming.given ? say_number(build->speaker, product->dial.priming.quantity.number) : "";
}

static const char *hold_count(struct build *build, const struct product *product)
{
	return product->hold.given ? say_number(build->speaker, product->hold.quantity.number) : "10";
}

/* "Examplin, 0.25 mg": what must stand on the box; of single pieces the name alone. */
static const char *on_box(struct build *build, const struct variant *variant)
{
	const char *name = variant->item->medicine->name;
	const struct product *product = variant->draw->product;
	const char *label = label_words(build->speaker, product);
	bool counted = variant->draw->measure == MEASURE_COUNT;
	/* As much in more liquid has another line: "10,000 units" alone would let it pass. */
	if (*label != '\0' && product->volume.given && !product->per_ml.given && product->box_says.text == NULL)
		label = say2(build->speaker, "box.in_volume", "label", label, "volume",
		             say_amount(build->speaker, product->volume.quantity));
	return counted || *label == '\0' ? name : say2(build->speaker, "list.comma", "first", name, "last", label);
}

/* Where another number stands on the box than in the calendar, it is said whether it is another amount. */
static const char *not_on_box(struct build *build, const struct variant *variant, const char *amount)
{
	const char *label = label_words(build->speaker, variant->draw->product);
	size_t n = strlen(amount);
	bool says_it = strncmp(label, amount, n) == 0 && (label[n] == '\0' || label[n] == ' ');
	if (variant->draw->measure == MEASURE_COUNT || *label == '\0')
		return "";
	if (serves_several(build, variant))
		return say0(build->speaker, "box.other_numbers");
	if (says_it)
		return "";
	return say1(build->speaker,
	            label_names(variant->draw->product, variant->draw->dose) ? "box.same_number" : "box.other_number",
	            "amount", amount);
}

/* What every step's words may use. */
enum step_value {
	VALUE_NAME,
	VALUE_AMOUNT,
	VALUE_MARK,
	VALUE_ADD,
	VALUE_WARM,
	VALUE_COUNT,
	VALUE_KEEP,
	VALUE_NUMBER,
	VALUE_TODAY,
	VALUE_PRIMING,
	VALUE_LEFT,
	VALUE_PIECES,
	VALUE_EACH,
	VALUE_GAP,
	VALUE_PRIME,
	VALUE_PLACES,
	VALUE_MARK_NUMBER,
	VALUE_PLACE,
	VALUE_SPOT,
	VALUE_GOES_IN,
	VALUE_REST,
	VALUE_START,
	VALUE_BOX,
	VALUE_OTHER_NUMBER,
	VALUE_PENS,
	VALUE_PAGE,
	VALUE_FROM_STEP,
	VALUE_SECOND_SYRINGE,
	VALUE_SYRINGE,
	VALUE_PICTURE,
	VALUE_CLOSER,
	VALUE_KEPT,
	STEP_VALUES
};

static const char *const step_values[STEP_VALUES] = {
	[VALUE_NAME] = "name",
	[VALUE_AMOUNT] = "amount",
	[VALUE_MARK] = "mark",
	[VALUE_ADD] = "add",
	[VALUE_WARM] = "warm",
	[VALUE_COUNT] = "count",
	[VALUE_KEEP] = "keep",
	[VALUE_NUMBER] = "number",
	[VALUE_TODAY] = "today",
	[VALUE_PRIMING] = "priming",
	[VALUE_LEFT] = "left",
	[VALUE_PIECES] = "pieces",
	[VALUE_EACH] = "each",
	[VALUE_GAP] = "gap",
	[VALUE_PRIME] = "prime",
	[VALUE_PLACES] = "places",
	[VALUE_MARK_NUMBER] = "mark_number",
	[VALUE_PLACE] = "place",
	[VALUE_SPOT] = "spot",
	[VALUE_GOES_IN] = "goes_in",
	[VALUE_REST] = "rest",
	[VALUE_START] = "start",
	[VALUE_BOX] = "box",
	[VALUE_OTHER_NUMBER] = "other_number",
	[VALUE_PENS] = "pens",
	[VALUE_PAGE] = "page",
	[VALUE_FROM_STEP] = "from_step",
	[VALUE_SECOND_SYRINGE] = "second_syringe",
	[VALUE_SYRINGE] = "syringe",
	[VALUE_PICTURE] = "picture",
	[VALUE_CLOSER] = "closer",
	[VALUE_KEPT] = "kept",
};

bool step_value_known(const char *name)
{
	for (size_t i = 0; i < STEP_VALUES; i++)
		if (strcmp(step_values[i], name) == 0)
			return true;
	return false;
}

/* Where the ring stands before a part is given, as the syringe numbers it; "" where it does not matter. */
static const char *start_number(struct build *build, const struct draw *draw)
{
	struct rational number;
	if (draw->measure != MEASURE_SYRINGE || draw->mark.line != LINE_STOP || draw->mark.all ||
	    !syringe_scale_number(draw->mark.syringe, draw->held, &number))
		return "";
	return say_number(build->speaker, number);
}

/* What is only prepared: liquid for a powder, a pen's test. */
static bool speaks_of_white_tag(const char *id)
{
	static const char *const ids[] = {"draw_liquid", "draw_ampoule", "pen_test_first", "pen_test_each",
	                                  "each_test"};
	for (size_t i = 0; i < sizeof ids / sizeof *ids; i++)
		if (strcmp(ids[i], id) == 0)
			return true;
	return false;
}

/* The number of the first step of the back that is called so: "draw", "inject"; where a second day goes on. */
static int number_of_step(struct build *build, const struct variant *variant, const char *begins)
{
	static const enum step_side sides[] = {STEP_FRONT, STEP_MIX, STEP_BACK};
	const struct technique_template *technique =
		templates_technique(build->clinic->templates, variant->draw->product->technique);
	int number = 0;
	for (size_t side = 0; side < sizeof sides / sizeof *sides; side++)
		for (size_t i = 0; technique != NULL && i < technique->n_steps; i++) {
			const struct step_template *template = &technique->steps[i];
			if (template->side != sides[side] || template->warning ||
			    !conditions_hold(variant, template->when, template->n_when))
				continue;
			number++;
			if (template->side == STEP_BACK && strncmp(template->id, begins, strlen(begins)) == 0)
				return number;
		}
	return 0;
}

int step_after_second_day(struct build *build, const struct variant *variant)
{
	return number_of_step(build, variant, dose_drawn_at_once(variant->dose) ? "inject" : "draw");
}

/* The letters of the pictures that a step is read against: the syringe or the pen's window. */
static const char *picture_of_step(struct build *build, const struct variant *variant, enum step_side side)
{
	if (side == STEP_EACH_PEN)
		return picture_letter(build, variant->draw_index);
	if (variant->draw->measure == MEASURE_DIAL)
		return pictures_cited(build, amounts_of_sheet(build, variant));
	if (variant->draw->has_add)
		return picture_letter(build, side == STEP_MIX ? 0 : 1);
	if (variant->draw->mark.all || variant->draw->mark.line != LINE_DRAW)
		return picture_letter(build, line_picture(build, variant));
	return say2(build->speaker, "picture.both", "first", picture_letter(build, 0), "last",
	            picture_letter(build, 1));
}

static const char *or_none(const char *text)
{
	return text == NULL ? "" : text;
}

/* "in the fridge": where what is shared waits for its second day. */
static const char *where_kept(struct build *build, const struct share *share)
{
	const char *where = share->given && share->where != NULL ? share->where : "";
	const char *key = arena_printf(build->arena, "where.kept.%s", where);
	return say0(build->speaker, can_say(build->speaker, key) ? key : "where.kept");
}

static struct step step_of(struct build *build, const struct variant *variant, const struct step_template *template)
{
	bool second_day = template->side == STEP_SECOND_DAY;
	int goes_on = second_day ? step_after_second_day(build, variant) : 0;
	const struct draw *draw = variant->draw;
	const struct product *product = draw->product;
	const char *keep = product->share.given ? duration(build, product->share.keep) : "";
	/* Then the draw is one of those it may become. */
	bool by_call = variant->dose->amount == DOSE_BY_CALL && variant->dose->n_draws == 0;
	const char *amount = say_amount(build->speaker, by_call ? draw->dose : variant->dose->ordered);
	const char *texts[STEP_VALUES] = {
		[VALUE_NAME] = variant->item->medicine->name,
		[VALUE_AMOUNT] = amount,
		[VALUE_MARK] = mark_words_plain(build->arena, say_mark(build->speaker, draw)),
		[VALUE_ADD] = draw->has_add ? mark_words_plain(build->arena, say_line(build->speaker, &draw->add)) : "",
		[VALUE_WARM] = duration(build, product->warm_up),
		[VALUE_COUNT] = hold_count(build, product),
		[VALUE_KEEP] = keep,
		[VALUE_NUMBER] = draw->measure == MEASURE_DIAL ? say_number(build->speaker, draw->dial.number) : "",
		[VALUE_TODAY] = number_to_set(build, variant),
		[VALUE_PRIMING] = priming_number(build, product),
		[VALUE_LEFT] = draw->n_containers == 0
	                               ? ""
	                               : say_amount(build->speaker, draw->containers[draw->n_containers - 1].leaves),
		[VALUE_PIECES] = pieces_to_take(build, variant),
		[VALUE_EACH] = in_each_nostril(build, variant),
		[VALUE_GAP] = seconds(build, product->spray_gap),
		[VALUE_PRIME] =
			product->prime.n == 0 ? "" : say_text(build->speaker, product->prime, "the word on priming"),
		[VALUE_PLACES] = places(build, variant->item->medicine),
		[VALUE_MARK_NUMBER] =
			say_mark(build->speaker, draw).number == NULL ? "" : say_mark(build->speaker, draw).number,
		[VALUE_PLACE] = place_in_step(build, variant, template->side),
		[VALUE_SPOT] = spot_words(build, variant->item->medicine),
		[VALUE_GOES_IN] = draw->measure == MEASURE_SYRINGE ? part_goes_in(build, draw) : "",
		[VALUE_REST] = draw->measure == MEASURE_SYRINGE ? part_rest(build, draw) : "",
		[VALUE_START] = start_number(build, draw),
		[VALUE_BOX] = on_box(build, variant),
		[VALUE_OTHER_NUMBER] = not_on_box(build, variant, amount),
		[VALUE_PENS] = say_number(build->speaker, rational_of((int64_t)variant->dose->n_draws, 1)),
		[VALUE_PAGE] = second_day || draw->measure == MEASURE_COUNT ? PAGE_HERE : "",
		[VALUE_FROM_STEP] = goes_on > 0 ? say_number(build->speaker, rational_of(goes_on, 1)) : "",
		[VALUE_SYRINGE] = say0(build->speaker, draw->has_add && draw_two_syringes(draw) ? "thing.first_syringe"
	                                                                                        : "thing.the_syringe"),
		[VALUE_PICTURE] = or_none(picture_of_step(build, variant, template->side)),
		[VALUE_CLOSER] =
			or_none(picture_letter(build, draw->mark.line == LINE_DRAW ? 1 : line_picture(build, variant))),
		[VALUE_KEPT] = where_kept(build, &product->share),
		[VALUE_SECOND_SYRINGE] = say0(build->speaker, draw->has_add ? "thing.syringe_b" : "thing.own_syringe"),
	};
	struct value values[STEP_VALUES];
	for (size_t i = 0; i < STEP_VALUES; i++)
		values[i] = (struct value){step_values[i], texts[i]};
	size_t n = STEP_VALUES;
	return (struct step){.picture = template->picture,
	                     .title = step_words(build, product->technique, template->id, "title", values, n),
	                     .text = step_words(build, product->technique, template->id, "text", values, n),
	                     .warning = template->warning,
	                     .white_tag = speaks_of_white_tag(template->id),
	                     .on_line = template->line};
}

const struct step *steps_of(struct build *build, const struct variant *variant, enum step_side side, int first_number,
                            size_t *n)
{
	const char *id = variant->draw->product->technique;
	const struct technique_template *technique = templates_technique(build->clinic->templates, id);
	struct step *steps = NULL;
	int number = first_number;
	*n = 0;
	if (technique == NULL) {
		findings_add(build->findings, FINDING_STOP, "technique-unknown", variant->draw->product->place,
		             "there are no steps for the technique '%s'; add templates/steps/%s.yaml", id, id);
		return NULL;
	}
	for (size_t i = 0; i < technique->n_steps; i++) {
		const struct step_template *template = &technique->steps[i];
		if (template->side != side || !conditions_hold(variant, template->when, template->n_when))
			continue;
		steps = arena_more(build->arena, steps, *n, sizeof *steps);
		steps[*n] = step_of(build, variant, template);
		steps[(*n)++].number = template->warning ? 0 : number++;
	}
	return steps;
}
