/* Drawing up: vial, ampoule, needles, air. */
#include "paint/step.h"

/* ---- in the vial ---- */

static enum needle_look drawing_needle(struct sketch sketch)
{
	return sketch.thin ? LOOK_THIN : LOOK_THICK;
}

/* Air to the line, then in: as much air as liquid will come out. */
static void draw_air_equal(struct sketch sketch)
{
	primitive_filling(sketch, (struct filling){.at = {16, 39.4},
	                                           .content = VIAL_LIQUID,
	                                           .level = 0.5,
	                                           .tip_in_air = true,
	                                           .syringe = {.length = 11,
	                                                       .ring = 0.5,
	                                                       .needle = drawing_needle(sketch),
	                                                       .graduated = true,
	                                                       .wedge = true,
	                                                       .wedge_open = true}});
	sketch_draw(sketch, SKETCH_THIN, "O 12.8 29.6 0.9 O 17.8 30 1.1 O 19.4 28 0.7");
	sketch_arrow(sketch, ARROW_AT_END, "M 25.6 3 L 25.6 9.4");
}

/* The air that was pulled in goes into the vial; the tip stays above the liquid. */
static void draw_push_air(struct sketch sketch)
{
	primitive_filling(
		sketch,
		(struct filling){
			.at = {18, 39.4},
			.content = VIAL_LIQUID,
			.level = 0.5,
			.tip_in_air = true,
			.syringe = {.length = 11, .ring = 0.5, .needle = drawing_needle(sketch), .graduated = true}});
	sketch_draw(sketch, SKETCH_THIN, "O 14.8 29.6 0.9 O 20.2 30 1.1 O 21.4 28 0.7");
	sketch_arrow(sketch, ARROW_AT_END, "M 27 2.4 L 27 9");
}

static struct filling drawing_up(struct sketch sketch, double ring, double level)
{
	return (struct filling){
		.at = {18, 0.8},
		.upside_down = true,
		.content = VIAL_LIQUID,
		.level = level,
		.syringe = {
			.length = 11, .ring = ring, .to = ring, .needle = drawing_needle(sketch), .graduated = true}};
}

static void draw_flip_vial(struct sketch sketch)
{
	primitive_filling(sketch, drawing_up(sketch, 0.12, 0.6));
	/* The tip, covered. */
	sketch_draw(sketch, SKETCH_LINE, "O 18 16.6 3.4");
	sketch_arrow(sketch, ARROW_AT_END, "A 19 17 15.4 55 -30");
}

static void draw_draw_line(struct sketch sketch)
{
	struct filling filling = drawing_up(sketch, dose_ring(sketch, 0.55), 0.4);

	filling.syringe.wedge = true;
	primitive_filling(sketch, filling);
	sketch_arrow(sketch, ARROW_AT_END, "M 9.4 28 L 9.4 35");
}

static void draw_draw_all(struct sketch sketch)
{
	primitive_filling(sketch, drawing_up(sketch, 0.56, 0.0));
	sketch_arrow(sketch, ARROW_AT_END, "M 27 26 L 27 34.4");
}

/* `side`: 1 for right of the barrel, -1 for left. */
static void draw_tapping(struct sketch sketch, double x, double y, double side)
{
	sketch_draw(sketch, SKETCH_LINE, "M %g %g L %g %g M %g %g L %g %g M %g %g L %g %g", x + side * 2.2, y,
	            x + side * 4.6, y, x + side * 1.9, y - 1.9, x + side * 4, y - 3.2, x + side * 1.9, y + 1.9,
	            x + side * 4, y + 3.2);
}

static void draw_bubbles_back(struct sketch sketch)
{
	struct filling filling = drawing_up(sketch, 0.5, 0.4);

	filling.syringe.bubbles = 3;
	primitive_filling(sketch, filling);
	sketch_draw(sketch, SKETCH_BLANK, "O 16.4 11.2 0.9 O 19.6 9.6 1.1 O 17.6 7.4 0.8");
	sketch_draw(sketch, SKETCH_THIN, "O 16.4 11.2 0.9 O 19.6 9.6 1.1 O 17.6 7.4 0.8");
	draw_tapping(sketch, 19.4, 28.4, 1);
	sketch_arrow(sketch, ARROW_AT_END, "M 9.4 38 L 9.4 31");
}

/* ---- needle up ---- */

static struct syringe_part needle_up(double ring, enum needle_look needle)
{
	return (struct syringe_part){.at = {18, 15.6},
	                             .scale = 0.9,
	                             .turn = 90,
	                             .length = 14,
	                             .ring = ring,
	                             .to = ring,
	                             .needle = needle,
	                             .needle_length = 8.4,
	                             .graduated = true};
}

/* No vial yet: the barrel holds only air, the ring on the line. */
static void draw_pull_air(struct sketch sketch)
{
	struct syringe_part syringe = needle_up(0.6, drawing_needle(sketch));

	syringe.to = 0;
	syringe.wedge = true;
	syringe.wedge_open = true;
	primitive_syringe(sketch, syringe);
	sketch_arrow(sketch, ARROW_AT_END, "M 9 29 L 9 36");
}

/* The thick needle's liquid falls back into the barrel as air is pulled in behind it. */
static void draw_air_in(struct sketch sketch)
{
	struct syringe_part syringe = needle_up(0.7, drawing_needle(sketch));

	syringe.from = 0.34;
	primitive_syringe(sketch, syringe);
	sketch_liquid_arrow(sketch, "M 25 2 L 25 8.6");
	primitive_drop(sketch, (struct point){18, 16.2}, 2.6);
	sketch_arrow(sketch, ARROW_AT_END, "M 27 29 L 27 36");
}

static void draw_swap(struct sketch sketch, enum needle_look off)
{
	double ring = dose_ring(sketch, 0.45);
	primitive_syringe(
		sketch,
		(struct syringe_part){
			.at = {19.6, 20}, .scale = 0.8, .length = 14, .ring = ring, .to = ring, .graduated = true});
	primitive_needle(sketch, (struct needle_part){.at = {13, 8}, .scale = 0.95, .look = off, .length = 7.6});
	primitive_needle(sketch, (struct needle_part){.at = {13, 32}, .scale = 0.95, .look = LOOK_THIN, .length = 7.6});
	sketch_arrow(sketch, ARROW_AT_END, "M 17 15.4 C 18.6 11.6 18.4 9 17.4 8");
	sketch_arrow(sketch, ARROW_AT_END, "M 14.8 32 C 17.4 31.6 18 29.6 17.4 26.6");
}

static void draw_swap_needles(struct sketch sketch)
{
	draw_swap(sketch, LOOK_THICK);
}

static void draw_swap_filter(struct sketch sketch)
{
	draw_swap(sketch, LOOK_FILTER);
}

/* To the first drop; `to_line`: and there the ring stands on the line. */
static void draw_pushing_air_out(struct sketch sketch, bool to_line)
{
	struct syringe_part syringe = needle_up(dose_ring(sketch, 0.52), LOOK_THIN);

	syringe.at.y = 19.6;
	syringe.length = 12;
	syringe.bubbles = 2;
	syringe.wedge = to_line;
	primitive_syringe(sketch, syringe);
	primitive_drop(sketch, (struct point){18, 1.2}, 5.4);
	draw_tapping(sketch, 16.4, 22.4, -1);
	sketch_arrow(sketch, ARROW_AT_END, "M 9 38 L 9 31.4");
}

static void draw_air_out(struct sketch sketch)
{
	draw_pushing_air_out(sketch, true);
}

/* All of it is given: there is no line to stop on. */
static void draw_first_drop(struct sketch sketch)
{
	draw_pushing_air_out(sketch, false);
}

/* The bubble belongs to what is injected: no push with the needle up. */
static void draw_keep_bubble(struct sketch sketch)
{
	struct syringe_part syringe = needle_up(0.84, LOOK_THIN);

	syringe.at.x = 15;
	syringe.length = 13;
	syringe.graduated = false;
	primitive_syringe(sketch, syringe);
	sketch_draw(sketch, SKETCH_SHAPE, "O 15 17.6 1.5");
	sketch_arrow(sketch, ARROW_AT_END, "M 29 37 L 29 25");
	primitive_cross(sketch, (struct point){29, 30}, 13);
}

/* The syringe laid beside the sheet's own drawing of it. */
static void draw_check_line(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE, "M 2 17 L 34 17 L 38 21 L 38 38 L 2 38 Z M 34 17 L 34 21 L 38 21");
	primitive_syringe(sketch, (struct syringe_part){.at = {11, 10},
	                                                .scale = 0.8,
	                                                .length = 15,
	                                                .ring = 0.5,
	                                                .to = 0.5,
	                                                .needle = LOOK_THIN,
	                                                .needle_length = 5,
	                                                .graduated = true});
	primitive_syringe(sketch, (struct syringe_part){.at = {11, 30.4},
	                                                .scale = 0.8,
	                                                .length = 15,
	                                                .ring = 0.5,
	                                                .to = 0.5,
	                                                .needle = LOOK_THIN,
	                                                .needle_length = 3,
	                                                .graduated = true,
	                                                .wedge = true});
	sketch_draw(sketch, SKETCH_DASHED, "M 15.64 6 L 15.64 25");
}

/* Into the sink: preparation, so the sign is open. */
static void draw_push_out_to(struct sketch sketch)
{
	primitive_syringe(sketch, (struct syringe_part){.at = {19, 18},
	                                                .scale = 0.86,
	                                                .turn = -90,
	                                                .length = 12,
	                                                .ring = 0.45,
	                                                .to = 0.45,
	                                                .needle = LOOK_THIN,
	                                                .needle_length = 4,
	                                                .graduated = true,
	                                                .wedge = true,
	                                                .wedge_open = true});
	primitive_drop(sketch, (struct point){19, 27.6}, 3.4);
	primitive_drop(sketch, (struct point){17.4, 31.8}, 3.4);
	sketch_draw(sketch, SKETCH_LINE,
	            "M 5 32 L 8 32 C 8.6 37 11 38.6 15 38.6 L 23 38.6 C 27 38.6 29.4 37 30 32 L 33 32");
	sketch_arrow(sketch, ARROW_AT_END, "M 28 2.4 L 28 8");
}

/* ---- ampoules ---- */

static void draw_ampoule_snap(struct sketch sketch)
{
	primitive_ampoule(sketch, (struct ampoule){.at = {17, 39}, .scale = 1.3, .level = 0.8, .open = true});
	struct sketch head = sketch_place(sketch, (struct point){22.6, 17}, 1.3, 50);
	sketch_draw(head, SKETCH_SHAPE,
	            "M -1.8 0 C -1.8 -1.8 -3 -2.4 -3 -4.6 C -3 -7.2 -1.6 -9.2 0 -9.2 C 1.6 -9.2 3 -7.2 3 -4.6 "
	            "C 3 -2.4 1.8 -1.8 1.8 0 Z");
	sketch_end(head);
	/* The dot on the neck shows where it gives way. */
	sketch_draw(sketch, SKETCH_SOLID, "O 15.8 21.4 1");
	sketch_arrow(sketch, ARROW_AT_END, "M 14 13.6 C 15.6 6.4 22 2.4 29.4 3.4");
}

static void draw_ampoule_with(struct sketch sketch, enum needle_look look, bool wedge)
{
	struct sketch tilted = sketch_place(sketch, (struct point){13.4, 38}, 1, 18);

	primitive_ampoule(tilted, (struct ampoule){.at = {0, 0}, .scale = 1.15, .level = 0.7, .open = true});
	primitive_syringe(tilted, (struct syringe_part){.at = {0, -22.6},
	                                                .scale = 0.8,
	                                                .turn = -90,
	                                                .length = 10,
	                                                .ring = 0.4,
	                                                .to = 0.4,
	                                                .needle = look,
	                                                .needle_length = 17,
	                                                .graduated = true,
	                                                .wedge = wedge,
	                                                .wedge_open = true});
	sketch_end(tilted);
	sketch_arrow(sketch, ARROW_AT_END, "M 31.4 15.6 L 34 8.4");
}

static void draw_ampoule_draw(struct sketch sketch)
{
	draw_ampoule_with(sketch, LOOK_THICK, false);
}

/* The liquid that is added to a powder: measured, but not yet the dose, so the sign is open. */
static void draw_draw_ampoule(struct sketch sketch)
{
	draw_ampoule_with(sketch, LOOK_THICK, true);
}

static void draw_filter_draw(struct sketch sketch)
{
	draw_ampoule_with(sketch, LOOK_FILTER, false);
	sketch_draw(sketch, SKETCH_THIN, "O 32 31 6.6");
	primitive_needle(sketch,
	                 (struct needle_part){.at = {34.4, 31}, .scale = 1.1, .look = LOOK_FILTER, .length = 0});
}

static const struct step_drawing drawings[] = {
	{"pull-air", draw_pull_air},         {"push-air", draw_push_air},
	{"air-equal", draw_air_equal},       {"flip-vial", draw_flip_vial},
	{"draw-line", draw_draw_line},       {"draw-all", draw_draw_all},
	{"bubbles-back", draw_bubbles_back}, {"air-in", draw_air_in},
	{"swap-filter", draw_swap_filter},   {"swap-needles", draw_swap_needles},
	{"air-out", draw_air_out},           {"first-drop", draw_first_drop},
	{"keep-bubble", draw_keep_bubble},   {"check-line", draw_check_line},
	{"push-out-to", draw_push_out_to},   {"ampoule-snap", draw_ampoule_snap},
	{"ampoule-draw", draw_ampoule_draw}, {"draw-ampoule", draw_draw_ampoule},
	{"filter-draw", draw_filter_draw},
};

const struct step_table step_draw_table = {drawings, sizeof drawings / sizeof *drawings};
