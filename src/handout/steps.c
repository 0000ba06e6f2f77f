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

static bool under_skin(const struct facts *facts)
{
	return facts->dose->item->medicine->route == ROUTE_SUBCUTANEOUS;
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

static bool filter(const struct facts *facts)
{
	return facts->product->filter_needle;
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
	{"leaves-rest", leaves_rest},
	{"opens", opens},
	{"multi-dose", multi_dose},
	{"several", several},
	{"warm", warm},
	{"under-skin", under_skin},
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
	{"filter", filter},
	{"test-first", test_first},
	{"test-each", test_each},
};

bool step_condition_known(const char *name)
{
	for (size_t i = 0; i < sizeof conditions / sizeof *conditions; i++)
		if (strcmp(conditions[i].name, name + (*name == '!')) == 0)
			return true;
	return false;
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
	struct facts facts = {variant->dose, variant->draw, variant->draw->product};
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
	return time.given ? quantity_print(build->arena, time.quantity, build->clinic->mark) : "";
}

static const char *hold_count(struct build *build, const struct product *product)
{
	return product->hold.given ? say_number(build->speaker, product->hold.quantity.number) : "10";
}

static struct step step_of(struct build *build, const struct variant *variant, const struct step_template *template)
{
	const struct draw *draw = variant->draw;
	const struct product *product = draw->product;
	const char *keep = product->share.given ? duration(build, product->share.keep) : "";
	struct value values[] = {
		{"name", variant->item->medicine->name},
		{"amount", say_amount(build->speaker, variant->dose->ordered)},
		{"mark", mark_words_plain(build->arena, say_mark(build->speaker, draw))},
		{"add", draw->has_add ? mark_words_plain(build->arena, say_line(build->speaker, &draw->add)) : ""},
		{"warm", duration(build, product->warm_up)},
		{"count", hold_count(build, product)},
		{"keep", keep},
	};
	size_t n = sizeof values / sizeof *values;
	return (struct step){.picture = template->picture,
	                     .title = step_words(build, product->technique, template->id, "title", values, n),
	                     .text = step_words(build, product->technique, template->id, "text", values, n),
	                     .warning = template->warning,
	                     .measures_liquid = strcmp(template->id, "draw_liquid") == 0};
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
