/* Opening the vial and mixing. */
#include "paint/step.h"

static void draw_lid_off_vial(struct sketch sketch, enum vial_content content)
{
	primitive_vial(sketch, (struct vial){.at = {15, 39}, .scale = 1.15, .content = content, .level = 0.72});
	struct sketch lid = sketch_place(sketch, (struct point){24.8, 6.2}, 1.1, 32);
	sketch_draw(lid, SKETCH_PLASTIC, "R -6.1 -1.6 12.2 3.2 1.1");
	sketch_end(lid);
	sketch_arrow(sketch, ARROW_AT_END, "M 24 13.4 C 28.6 16 33.8 14.4 35.4 9.4");
}

static void draw_lid_off(struct sketch sketch)
{
	draw_lid_off_vial(sketch, VIAL_POWDER);
}

static void draw_lid_off_liquid(struct sketch sketch)
{
	draw_lid_off_vial(sketch, VIAL_LIQUID);
}

/* The pad lies on the rubber and moves to and fro. */
static void draw_wipe_vial(struct sketch sketch, enum vial_content content)
{
	primitive_vial(sketch, (struct vial){.at = {20, 39}, .scale = 1.0, .content = content, .level = 0.72});
	struct sketch pad = sketch_place(sketch, (struct point){20, 11.4}, 1, -7);
	sketch_draw(pad, SKETCH_SHAPE,
	            "M -11 -3.4 C -7 -2.6 -4 -4 0 -3.4 C 4 -2.8 7 -4.2 11 -3.4 C 10.4 -1 11.6 1 11 3 C 7 3.8 4 2.6 0 3 "
	            "C -4 3.4 -7 2.4 -11 3 C -11.6 1 -10.4 -1 -11 -3.4 Z");
	sketch_draw(pad, SKETCH_DASHED, "M -8.6 -1.2 L 8.6 -1.2 M -8.6 0.9 L 8.6 0.9");
	sketch_end(pad);
	sketch_arrow(sketch, ARROW_AT_BOTH, "M 10.6 4.6 C 16 2 24 2 29.4 4.6");
}

static void draw_wipe_top(struct sketch sketch)
{
	draw_wipe_vial(sketch, VIAL_POWDER);
}

static void draw_wipe_top_liquid(struct sketch sketch)
{
	draw_wipe_vial(sketch, VIAL_LIQUID);
}

/* An empty syringe, its plunger all the way in, has `filled` 0. */
static void draw_needle_goes_on(struct sketch sketch, enum needle_look look, double filled)
{
	primitive_syringe(sketch, (struct syringe_part){.at = {18.4, 21},
	                                                .scale = 0.86,
	                                                .length = 14,
	                                                .ring = filled,
	                                                .to = filled,
	                                                .graduated = true});
	primitive_needle(sketch, (struct needle_part){.at = {13.6, 21}, .scale = 1, .look = look, .length = 8.2});
	sketch_arrow(sketch, ARROW_AT_END, "A 10.6 13 3.8 165 370");
	sketch_arrow(sketch, ARROW_AT_END, "M 3 30 L 11.6 30");
}

static void draw_thick_on(struct sketch sketch)
{
	draw_needle_goes_on(sketch, LOOK_THICK, 0.45);
}

static void draw_thick_on_empty(struct sketch sketch)
{
	draw_needle_goes_on(sketch, LOOK_THICK, 0);
}

static void draw_needle_on(struct sketch sketch)
{
	draw_needle_goes_on(sketch, LOOK_THIN, 0);
}

static void draw_filter_on(struct sketch sketch)
{
	draw_needle_goes_on(sketch, LOOK_FILTER, 0);
}

static void draw_needle_on_filled(struct sketch sketch)
{
	draw_needle_goes_on(sketch, LOOK_THIN, 0.6);
}

static void draw_liquid_in(struct sketch sketch)
{
	primitive_filling(
		sketch,
		(struct filling){
			.at = {18, 39.4},
			.content = VIAL_LIQUID,
			.level = 0.32,
			.syringe = {.length = 11, .ring = 0.5, .to = 0.5, .needle = LOOK_THICK, .graduated = true}});
	/* Down the glass, so that it does not foam. */
	sketch_draw(sketch, SKETCH_STREAM, "M 17 30.4 C 14.6 30.6 13.4 31.6 13.2 34.4");
	sketch_arrow(sketch, ARROW_AT_END, "M 26.4 2.4 L 26.4 8");
}

/* Round the vial's foot, and never up and down. */
static void draw_round_not_shaken(struct sketch sketch)
{
	sketch_arrow(sketch, ARROW_AT_END, "M 25.6 33.4 C 30 36.6 24 39 16 39 C 8.6 39 3.4 37.6 4.8 35.2");
	struct sketch wrong = sketch_place(sketch, (struct point){29.8, 27.2}, 1, 24);
	primitive_vial(wrong, (struct vial){.at = {0, 0}, .scale = 0.52, .content = VIAL_LIQUID, .level = 0.7});
	sketch_end(wrong);
	sketch_draw(sketch, SKETCH_LINE,
	            "M 26.4 13.4 L 25.2 15.2 L 26.4 17 L 25.2 18.8 M 38.2 22 L 39.4 23.8 L 38.2 25.6 L 39.4 27.4");
	primitive_strike(sketch, (struct point){32.4, 21}, 16);
}

static void draw_swirl(struct sketch sketch)
{
	primitive_filling(
		sketch,
		(struct filling){.at = {16, 35.6},
	                         .content = VIAL_LIQUID,
	                         .level = 0.72,
	                         .syringe = {.length = 10, .ring = 0, .needle = LOOK_THICK, .graduated = true}});
	draw_round_not_shaken(sketch);
}

/* Of a vial whose mixing syringe is out already. */
static void draw_swirl_vial(struct sketch sketch)
{
	primitive_vial(sketch, (struct vial){.at = {16, 35.6}, .scale = 1.0, .content = VIAL_LIQUID, .level = 0.72});
	draw_round_not_shaken(sketch);
}

static void draw_vial_of(struct sketch sketch, struct point at, double turn)
{
	primitive_vial(sketch,
	               (struct vial){.at = at, .scale = 1.0, .turn = turn, .content = VIAL_LIQUID, .level = 0.72});
}

/* Turned about its own axis, as between two palms. */
static void draw_roll(struct sketch sketch)
{
	draw_vial_of(sketch, (struct point){20, 37}, 0);
	sketch_arrow(sketch, ARROW_AT_END, "M 29.6 21 C 34.6 23 32 26.4 25.4 27");
	sketch_arrow(sketch, ARROW_AT_END, "M 10.4 32.6 C 5.4 30.6 8 27.2 14.6 26.6");
	sketch_draw(sketch, SKETCH_DASHED, "M 20 3.4 L 20 9.6");
}

static void draw_shake(struct sketch sketch)
{
	draw_vial_of(sketch, (struct point){17, 34}, 0);
	sketch_draw(sketch, SKETCH_LINE,
	            "M 5.4 14 L 3.6 17 L 5.4 20 L 3.6 23 L 5.4 26 M 28.6 14 L 30.4 17 L 28.6 20 L 30.4 23 L 28.6 26");
	sketch_draw(sketch, SKETCH_THIN, "O 13.4 19.4 1 O 17 18.6 1.3 O 20.4 19.6 0.9");
	sketch_arrow(sketch, ARROW_AT_BOTH, "M 35.6 12 L 35.6 28");
}

static void draw_settle(struct sketch sketch)
{
	primitive_filling(
		sketch,
		(struct filling){
			.at = {11, 39.4},
			.content = VIAL_LIQUID,
			.level = 0.68,
			.syringe = {.length = 12, .ring = 0.3, .to = 0.3, .needle = LOOK_THICK, .graduated = true}});
	sketch_arrow(sketch, ARROW_AT_END, "M 19.4 9.6 L 19.4 4.8");
	primitive_clock(sketch, (struct point){30, 27}, 9, 12, 1);
}

/* Standing, needle down, as it comes to the first vial. */
static void draw_chain_liquid(struct sketch sketch)
{
	primitive_syringe(sketch, (struct syringe_part){.at = {20, 22.4},
	                                                .scale = 0.8,
	                                                .turn = -90,
	                                                .length = 12,
	                                                .ring = 0.8,
	                                                .to = 0.8,
	                                                .needle = LOOK_THICK,
	                                                .needle_length = 9,
	                                                .graduated = true});
}

/* The number of the vial stands on its liquid: the page puts it there. */
static void draw_chain_vial(struct sketch sketch)
{
	primitive_filling(
		sketch,
		(struct filling){
			.at = {20, 39.6},
			.content = VIAL_LIQUID,
			.level = 0.86,
			.syringe = {.length = 10, .ring = 0.16, .to = 0.16, .needle = LOOK_THICK, .graduated = true}});
}

static const struct step_drawing drawings[] = {
	{"lid-off", draw_lid_off},
	{"wipe-top", draw_wipe_top},
	{"thick-on", draw_thick_on},
	{"lid-off-liquid", draw_lid_off_liquid},
	{"wipe-top-liquid", draw_wipe_top_liquid},
	{"thick-on-empty", draw_thick_on_empty},
	{"needle-on-filled", draw_needle_on_filled},
	{"needle-on", draw_needle_on},
	{"filter-on", draw_filter_on},
	{"liquid-in", draw_liquid_in},
	{"swirl", draw_swirl},
	{"swirl-vial", draw_swirl_vial},
	{"roll", draw_roll},
	{"shake", draw_shake},
	{"settle", draw_settle},
	{"chain-liquid", draw_chain_liquid},
	{"chain-vial", draw_chain_vial},
};

const struct step_table step_mix_table = {drawings, sizeof drawings / sizeof *drawings};
