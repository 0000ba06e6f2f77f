#include "plan/bare_draw.h"

#include "plan/making.h"

#include <inttypes.h>

static const struct place nowhere = {NULL, 0, 0};

static const char *said(struct arena *arena, const struct bare_draw *bare, struct quantity quantity)
{
	return quantity_plain(arena, quantity, bare->mark);
}

/* What was said must have one meaning: the concentration must follow from it, and from it alone. */
static bool check_said(struct arena *arena, const struct bare_draw *bare, struct findings *findings)
{
	const char *strength = said(arena, bare, bare->strength);
	if (bare->volume.given && bare->liquid.given) {
		const char *volume = said(arena, bare, bare->volume.quantity);
		const char *liquid = said(arena, bare, bare->liquid.quantity);
		findings_add(findings, FINDING_STOP, "two-volumes", nowhere,
		             "%s in %s and %s of liquid can be read in two ways; for a powder say '--from' without a "
		             "volume, "
		             "for a solution leave '--diluent' out",
		             strength, volume, liquid);
		return false;
	}
	if (bare->displacement.given && !bare->liquid.given) {
		findings_add(findings, FINDING_STOP, "liquid-missing", nowhere,
		             "a displacement of %s needs a liquid that it adds to; say '--diluent'",
		             said(arena, bare, bare->displacement.quantity));
		return false;
	}
	if (bare->volume.given || bare->liquid.given || bare->concentration.given)
		return true;
	findings_add(
		findings, FINDING_STOP, "volume-missing", nowhere,
		"%s alone does not say how much is in 1 mL; for a powder say '--diluent', for a solution give a volume "
		"as in '%s/0.5 mL', or say the label's '--concentration'",
		strength, strength);
	return false;
}

/* False on overflow. */
static bool build_product(const struct bare_draw *bare, struct product *product)
{
	struct quantity volume;
	*product = (struct product){.container = bare->liquid.given ? CONTAINER_POWDER_VIAL : CONTAINER_SOLUTION_VIAL,
	                            .concentration = bare->concentration,
	                            .displacement = bare->displacement,
	                            .powders_per_diluent = 1};
	product->diluent = (struct liquid){.given = bare->liquid.given, .supplied = bare->liquid, .use = bare->liquid};
	if (!bare->volume.given) {
		product->strength = (struct stated_quantity){.given = true, .quantity = bare->strength};
		return true;
	}
	product->per_ml = (struct stated_quantity){.given = true, .quantity.unit = bare->strength.unit};
	return quantity_in(bare->volume.quantity, UNIT_ML, &volume) &&
	       rational_divide(bare->strength.number, volume.number, &product->per_ml.quantity.number);
}

static void say_volume(struct arena *arena, const struct bare_draw *bare, struct bare_answer *answer)
{
	const struct draw *draw = &answer->draw;
	if (draw->concentration.unit != UNIT_NONE)
		answer->concentration = arena_printf(arena, "%s/mL", said(arena, bare, draw->concentration));
	if (rational_is_zero(draw->volume))
		return;
	answer->volume = said(arena, bare, (struct quantity){draw->volume, UNIT_ML});
	answer->volume_exact =
		arena_printf(arena, "%" PRId64 "/%" PRId64, draw->volume.numerator, draw->volume.denominator);
}

static void say_lines(struct arena *arena, const struct bare_draw *bare, struct bare_answer *answer)
{
	const struct draw *draw = &answer->draw;
	const struct syringe *syringe = draw->mark.syringe;
	if (!syringe)
		return;
	answer->syringe = syringe->id;
	if (answer->made)
		answer->mark = syringe_line_print(arena, syringe, draw->mark.at, bare->mark);
	if (rational_is_zero(draw->volume))
		return;
	struct neighbours next = syringe_neighbours(syringe, draw->volume);
	answer->between_marks = !next.on_line && !next.above_scale;
	answer->below = syringe_line_print(arena, syringe, next.below, bare->mark);
	if (!next.above_scale)
		answer->above = syringe_line_print(arena, syringe, next.above, bare->mark);
}

void bare_draw_make(struct arena *arena, const struct bare_draw *bare, struct bare_answer *answer,
                    struct findings *findings)
{
	struct product *product = arena_alloc(arena, sizeof *product);
	*answer = (struct bare_answer){.dose = said(arena, bare, bare->dose)};
	struct draw_request request = {.dose = bare->dose,
	                               .product = product,
	                               .containers = 1,
	                               .syringe = bare->syringe,
	                               .stock = bare->stock,
	                               .n_stock = bare->n_stock,
	                               .mark = bare->mark};
	answer->draw = draw_blank(&request);
	answer->draw.mark.syringe = bare->syringe;
	answer->syringe = bare->syringe ? bare->syringe->id : NULL;
	if (!check_said(arena, bare, findings))
		return;
	if (!build_product(bare, product)) {
		stop_overflow(findings, nowhere);
		return;
	}
	answer->made = draw_make(arena, &request, &answer->draw, findings);
	say_volume(arena, bare, answer);
	say_lines(arena, bare, answer);
}
