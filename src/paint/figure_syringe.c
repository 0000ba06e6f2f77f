#include "paint/barrel.h"
#include "paint/figures.h"

static const struct barrel_look true_size_look = {
	.outline = LINE_OUTLINE,
	.inside = LINE_HAIR,
	.graduation = 0.15,
	.mark = 0.45,
	.mark_bed = 0.86,
	.pitch = 1.05,
	.hatch = LIQUID_LINE,
};

/* Numerals stand under their lines, below the barrel, where nothing crosses them. */
static void draw_numerals(struct painter *painter, const struct syringe_figure *figure)
{
	double y = figure->axis + syringe_numerals_drop(figure->syringe);

	for (size_t i = 0; i < figure->n_numerals; i++) {
		const struct text_block *numeral = figure->numerals[i];
		if (!numeral)
			continue;
		double x = syringe_x(figure->syringe, figure->x_zero,
		                     measure_of(syringe_numbered_volume(figure->syringe, i)));
		paint_text(painter, numeral, (struct point){x - text_width(numeral) / 2, y}, COLOUR_INK);
	}
}

void figure_syringe(struct painter *painter, const struct syringe_figure *figure)
{
	struct barrel barrel = {
		.syringe = figure->syringe,
		.ring = figure->ring,
		.liquid = figure->liquid,
		.needle = figure->needle,
		.cut_rod = figure->cut_rod,
		.cut_at = figure->cut_at - figure->x_zero,
		.look = true_size_look,
	};

	paint_push_place(painter, (struct point){figure->x_zero, figure->axis}, 1, 0);
	barrel_draw(painter, &barrel);
	if (figure->line)
		barrel_draw_mark(painter, &barrel, figure->mark);
	paint_pop(painter);
	draw_numerals(painter, figure);
}
