/*
 * In whatever way a dose is given, its steps do each thing once and in an order that harms nobody: of each technique
 * with a needle, for all conditions that can hold together, found by trying every combination of them.
 *
 * That is slow and knows nothing of how a variant comes by its conditions; which of them exclude each other is said
 * below, with the reason.
 */
#include "handout/handout.h"
#include "load/folder.h"
#include "support/cases.h"

#include <stdlib.h>
#include <string.h>

enum { CONDITIONS_MOST = 32, STEPS_MOST = 40 };

/* What a step does to the dose; the rest may stand anywhere. */
enum role {
	ROLE_OTHER,
	ROLE_SKIN,     /* wiped */
	ROLE_LIQUID,   /* measured for a powder */
	ROLE_ADD,      /* into the powder */
	ROLE_SNAP,     /* glass is broken by hand */
	ROLE_NEEDLE,   /* goes on, and loses its cap for good */
	ROLE_CAPPED,   /* goes on, and keeps its cap */
	ROLE_DRAW,     /* the dose */
	ROLE_DRAW_OUT, /* the dose to its line, and as no needle is changed, no air comes in any more */
	ROLE_AIR_OUT,  /* and the line is reached */
	ROLE_PUSH_OUT, /* what is too much */
	ROLE_INJECT,
	ROLE_BOX, /* the used needle goes */
};

static const struct {
	const char *id;
	enum role role;
} roles[] = {
	{"clean", ROLE_SKIN},
	{"clean_twice", ROLE_SKIN},
	{"skin", ROLE_SKIN},
	{"skin_twice", ROLE_SKIN},
	{"swap_skin", ROLE_SKIN},
	{"swap_skin_twice", ROLE_SKIN},
	{"swap_filter_skin", ROLE_SKIN},
	{"swap_filter_skin_twice", ROLE_SKIN},
	{"draw_liquid", ROLE_LIQUID},
	{"draw_ampoule", ROLE_LIQUID},
	{"add_first", ROLE_ADD},
	{"add_measured", ROLE_ADD},
	{"snap", ROLE_SNAP},
	{"thick", ROLE_NEEDLE},
	{"thick_liquid", ROLE_NEEDLE},
	{"needle", ROLE_NEEDLE},
	{"thick_capped", ROLE_CAPPED},
	{"filter_on", ROLE_CAPPED},
	{"draw", ROLE_DRAW},
	{"draw_out", ROLE_DRAW_OUT},
	{"draw_same", ROLE_DRAW},
	{"draw_multi", ROLE_DRAW},
	{"draw_multi_out", ROLE_DRAW_OUT},
	{"draw_same_multi", ROLE_DRAW},
	{"draw_all", ROLE_DRAW},
	{"ampoule_draw", ROLE_DRAW},
	{"ampoule_draw_all", ROLE_DRAW},
	{"set", ROLE_AIR_OUT},
	{"set_open", ROLE_AIR_OUT},
	{"set_all", ROLE_AIR_OUT},
	{"set_all_open", ROLE_AIR_OUT},
	{"set_all_filled", ROLE_AIR_OUT},
	{"set_start", ROLE_AIR_OUT},
	{"helper_set", ROLE_AIR_OUT},
	{"helper_set_all", ROLE_AIR_OUT},
	{"push_out", ROLE_PUSH_OUT},
	{"inject", ROLE_INJECT},
	{"inject_hold", ROLE_INJECT},
	{"inject_rest", ROLE_INJECT},
	{"inject_rest_hold", ROLE_INJECT},
	{"inject_stop", ROLE_INJECT},
	{"inject_stop_hold", ROLE_INJECT},
	{"muscle_in", ROLE_INJECT},
	{"sharps", ROLE_BOX},
	{"sharps_keep", ROLE_BOX},
	{"sharps_split", ROLE_BOX},
	{"sharps_rest", ROLE_BOX},
	{"sharps_glass", ROLE_BOX},
	{"sharps_twice", ROLE_BOX},
	{"sharps_twice_keep", ROLE_BOX},
	{"second_sharps", ROLE_BOX},
	{"throw_rest", ROLE_BOX},
	{"helper_sharps", ROLE_BOX},
	{"helper_sharps_keep", ROLE_BOX},
	{"helper_sharps_split", ROLE_BOX},
	{"helper_sharps_rest", ROLE_BOX},
	{"helper_sharps_glass", ROLE_BOX},
	{"helper_sharps_twice", ROLE_BOX},
	{"helper_sharps_twice_keep", ROLE_BOX},
	{"helper_second_sharps", ROLE_BOX},
};

static enum role role_of(const char *id)
{
	for (size_t i = 0; i < sizeof roles / sizeof *roles; i++)
		if (strcmp(roles[i].id, id) == 0)
			return roles[i].role;
	return ROLE_OTHER;
}

/* ---- conditions ---- */

struct technique {
	const struct technique_template *template;
	const char *names[CONDITIONS_MOST];
	size_t n_names;
	uint32_t must[STEPS_MOST * 4]; /* of each step */
	uint32_t must_not[STEPS_MOST * 4];
};

static uint32_t bit_of(struct technique *technique, const char *name)
{
	for (size_t i = 0; i < technique->n_names; i++)
		if (strcmp(technique->names[i], name) == 0)
			return UINT32_C(1) << i;
	assert_true(technique->n_names < CONDITIONS_MOST);
	technique->names[technique->n_names] = name;
	return UINT32_C(1) << technique->n_names++;
}

static struct technique technique_of(const struct technique_template *template)
{
	struct technique technique = {.template = template};
	assert_true(template->n_steps <= sizeof technique.must / sizeof *technique.must);
	for (size_t i = 0; i < template->n_steps; i++)
		for (size_t j = 0; j < template->steps[i].n_when; j++) {
			const char *name = template->steps[i].when[j];
			uint32_t *mask = *name == '!' ? &technique.must_not[i] : &technique.must[i];
			*mask |= bit_of(&technique, name + (*name == '!'));
		}
	return technique;
}

/* A condition that the technique does not ask for does not hold. */
static bool has(const struct technique *technique, uint32_t set, const char *name)
{
	for (size_t i = 0; i < technique->n_names; i++)
		if (strcmp(technique->names[i], name) == 0)
			return (set >> i & 1) != 0;
	return false;
}

static int count(const struct technique *technique, uint32_t set, const char *const *names, size_t n)
{
	int held = 0;
	for (size_t i = 0; i < n; i++)
		held += has(technique, set, names[i]);
	return held;
}

static bool can_be_powder(const struct technique *technique, uint32_t set)
{
	static const char *const liquids[] = {"liquid-syringe", "liquid-vial", "liquid-ampoule"};
	static const char *const mixes[] = {"swirl", "roll", "shake"};
	int liquid = count(technique, set, liquids, 3);
	bool syringe = has(technique, set, "liquid-syringe");
	bool opens = has(technique, set, "opens");
	bool add_line = has(technique, set, "add-line");
	bool two = has(technique, set, "two-syringes");
	bool apart = has(technique, set, "liquid-apart");
	bool kept = has(technique, set, "split") || has(technique, set, "multi-dose");
	/* The liquid comes in one thing, and is mixed in one way. */
	if (liquid > 1 || count(technique, set, mixes, 3) != 1)
		return false;
	/* None of the three: it comes in a syringe that does not take the medicine back, and there are two to mix with. */
	if (apart != (liquid == 0 && opens) || (apart && !two))
		return false;
	/* From a vial or an ampoule it is measured: the loader asks for how much. */
	if (opens && liquid == 1 && !syringe && !add_line)
		return false;
	/* What is mixed already has been kept, and has no liquid added. */
	if (!opens && (add_line || two || !kept))
		return false;
	/* The syringe that has its liquid in it is the only one. */
	if (syringe && two)
		return false;
	/* Several powders are all given at once. */
	return !has(technique, set, "several") || (opens && !kept);
}

/* Whether one dose can be all of this. */
static bool can_be(const struct technique *technique, uint32_t set)
{
	bool split = has(technique, set, "split");
	/* A half is no whole, and a vial for many days is not halved. */
	if (split && (has(technique, set, "whole") || has(technique, set, "multi-dose")))
		return false;
	/* Two syringes for two days are drawn of a half; two places on one day share a container in another way. */
	if (has(technique, set, "at-once") && (!split || has(technique, set, "two-places")))
		return false;
	/* A fixed needle is not changed, and does not follow a filter (refused as needle-fixed). */
	if (has(technique, set, "fixed-needle") && (has(technique, set, "swap") || has(technique, set, "filter")))
		return false;
	/* What draws through a filter does not inject (refused as needle-unknown). */
	if (has(technique, set, "filter") && !has(technique, set, "swap"))
		return false;
	/* A part is pushed out first or stopped at, and not into the muscle (refused as part-in-muscle). */
	bool part = has(technique, set, "expel-first") || has(technique, set, "inject-to");
	if (part && (has(technique, set, "into-muscle") ||
	             (has(technique, set, "expel-first") && has(technique, set, "inject-to"))))
		return false;
	return strcmp(technique->template->id, "powder-vial") != 0 || can_be_powder(technique, set);
}

/* ---- the steps of one way ---- */

struct way {
	const struct step_template *steps[STEPS_MOST];
	size_t n;
};

static struct way way_of(const struct technique *technique, uint32_t set)
{
	static const enum step_side sides[] = {STEP_FIRST, STEP_FRONT, STEP_MIX,   STEP_LINE,
	                                       STEP_REST,  STEP_BACK,  STEP_HELPER};
	struct way way = {.n = 0};
	for (size_t i = 0; i < sizeof sides / sizeof *sides; i++)
		for (size_t j = 0; j < technique->template->n_steps; j++) {
			const struct step_template *step = &technique->template->steps[j];
			if (step->side != sides[i] || step->warning ||
			    (set & technique->must[j]) != technique->must[j] || (set & technique->must_not[j]) != 0)
				continue;
			assert_true(way.n < STEPS_MOST);
			way.steps[way.n++] = step;
		}
	return way;
}

static int times_of(const struct way *way, enum role role)
{
	int times = 0;
	for (size_t i = 0; i < way->n; i++)
		times += role_of(way->steps[i]->id) == role;
	return times;
}

/* The place of the first, or -1. */
static int first_of(const struct way *way, enum role role)
{
	for (size_t i = 0; i < way->n; i++)
		if (role_of(way->steps[i]->id) == role)
			return (int)i;
	return -1;
}

/* An ampoule's needles keep their caps until the glass is open, by words of its own. */
static bool has_own_words(const struct technique *technique)
{
	return strcmp(technique->template->id, "ampoule") == 0;
}

/* What is wrong with it; NULL: nothing. */
static const char *wrong_with(const struct technique *technique, uint32_t set, const struct way *way)
{
	bool filled = strcmp(technique->template->id, "prefilled-syringe") == 0;
	bool several = has(technique, set, "several"); /* the table of their page draws */
	if (times_of(way, ROLE_INJECT) != 1)
		return "is injected not once";
	if (times_of(way, ROLE_SKIN) != 1)
		return "wipes the skin not once";
	if (times_of(way, ROLE_BOX) != 1)
		return "boxes the needle not once";
	int drawn = times_of(way, ROLE_DRAW) + times_of(way, ROLE_DRAW_OUT);
	if (!filled && !several && drawn != 1)
		return "is drawn not once";
	bool air_stays = has(technique, set, "keep-bubble") || times_of(way, ROLE_DRAW_OUT) > 0;
	if (times_of(way, ROLE_AIR_OUT) != !air_stays)
		return "lets its air out not once";
	if (times_of(way, ROLE_PUSH_OUT) > 0 && first_of(way, ROLE_PUSH_OUT) < first_of(way, ROLE_AIR_OUT))
		return "pushes out before its air is out";
	if (times_of(way, ROLE_LIQUID) != has(technique, set, "add-line"))
		return "measures its liquid not once";
	if (times_of(way, ROLE_ADD) > 0 && times_of(way, ROLE_LIQUID) > 0 &&
	    first_of(way, ROLE_ADD) < first_of(way, ROLE_LIQUID))
		return "adds liquid before it is there";
	if (!filled && times_of(way, ROLE_SNAP) > 0 && first_of(way, ROLE_NEEDLE) >= 0 &&
	    first_of(way, ROLE_NEEDLE) < first_of(way, ROLE_SNAP) && !has_own_words(technique))
		return "snaps glass beside a bare needle";
	if (!has(technique, set, "fixed-needle") && times_of(way, ROLE_NEEDLE) + times_of(way, ROLE_CAPPED) == 0)
		return "has no needle";
	if (first_of(way, ROLE_INJECT) < first_of(way, ROLE_SKIN) ||
	    first_of(way, ROLE_INJECT) < first_of(way, ROLE_DRAW) ||
	    first_of(way, ROLE_INJECT) < first_of(way, ROLE_DRAW_OUT) ||
	    first_of(way, ROLE_INJECT) < first_of(way, ROLE_AIR_OUT) ||
	    first_of(way, ROLE_BOX) < first_of(way, ROLE_INJECT))
		return "injects out of turn";
	return NULL;
}

static const char *told(struct arena *arena, const struct technique *technique, uint32_t set, const struct way *way)
{
	const char *text = "";
	for (size_t i = 0; i < technique->n_names; i++)
		if (set >> i & 1)
			text = arena_printf(arena, "%s %s", text, technique->names[i]);
	text = arena_printf(arena, "%s:", text);
	for (size_t i = 0; i < way->n; i++)
		text = arena_printf(arena, "%s %s", text, way->steps[i]->id);
	return text;
}

/* These change the words of a step, or add one beside the rest: all ways are tried without and with them. */
static uint32_t extras_of(const struct technique *technique)
{
	static const char *const names[] = {"warm", "hold", "rub", "skin-pull", "aspirate", "upper-quarter"};
	uint32_t extras = 0;
	for (size_t i = 0; i < technique->n_names; i++)
		for (size_t j = 0; j < sizeof names / sizeof *names; j++)
			if (strcmp(technique->names[i], names[j]) == 0)
				extras |= UINT32_C(1) << i;
	return extras;
}

static void every_way_does_each_thing_once(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	enum load_status status;
	const struct clinic *clinic = load_clinic(arena, "samples", ".", &findings, &status);
	assert_int_equal(status, LOAD_GOOD);
	struct technique technique = technique_of(templates_technique(clinic->templates, case_of(state)->row));
	uint32_t extras = extras_of(&technique);
	size_t ways = 0;
	for (uint32_t set = 0; set >> technique.n_names == 0; set++) {
		if (((set & extras) != 0 && (set & extras) != extras) || !can_be(&technique, set))
			continue;
		struct way way = way_of(&technique, set);
		const char *wrong = wrong_with(&technique, set, &way);
		if (wrong != NULL)
			fail_msg("%s %s:%s", technique.template->id, wrong, told(arena, &technique, set, &way));
		ways++;
	}
	assert_true(ways > 1);
}

int main(void)
{
	static const char *const ids[] = {"powder-vial", "solution-vial", "ampoule", "prefilled-syringe"};
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof ids / sizeof *ids; i++)
		tests_add(&tests, ids[i], every_way_does_each_thing_once, ids[i]);
	return tests_run(&tests, "step orders");
}
