/* Injecting, and what comes after. */
#include "paint/step.h"

static void draw_cap_off_syringe(struct sketch sketch)
{
	primitive_syringe(sketch, (struct syringe_part){.at = {17, 21},
	                                                .scale = 0.86,
	                                                .length = 12,
	                                                .ring = 0.8,
	                                                .to = 0.8,
	                                                .needle = LOOK_THIN,
	                                                .needle_length = 3.4});
	primitive_needle(sketch, (struct needle_part){.at = {8, 21}, .scale = 1, .look = LOOK_CAP, .length = 6});
	sketch_arrow(sketch, ARROW_AT_END, "M 11 29.4 L 4 29.4");
}

/* The belly as the wearer's front; the ring round the navel is kept free. */
static void draw_choose_spot(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_LINE,
	            "M 7 2 C 8.6 12 3 18 3.4 27 C 3.6 32 5 36 6 39 M 33 2 C 31.4 12 37 18 36.6 27 "
	            "C 36.4 32 35 36 34 39");
	sketch_draw(sketch, SKETCH_LINE, "E 20 20.6 1.2 1.8");
	sketch_draw(sketch, SKETCH_DASHED, "O 20 20.6 5.6");
	static const struct point spots[] = {{9.6, 16}, {10.4, 22.4}, {13, 28.4}, {30.4, 16}, {29.6, 22.4}, {27, 28.4}};
	for (int i = 0; i < 6; i++)
		sketch_draw(sketch, i == 4 ? SKETCH_SOLID : SKETCH_LINE, "O %g %g %g", spots[i].x, spots[i].y,
		            i == 4 ? 1.7 : 1.3);
	sketch_draw(sketch, SKETCH_LINE, "O 29.6 22.4 3.2");
}

static void draw_skin(struct sketch sketch, double y)
{
	sketch_draw(sketch, SKETCH_BOLD, "M 1 %g L 39 %g", y, y);
}

static void draw_clean_skin(struct sketch sketch)
{
	draw_skin(sketch, 31);
	sketch_draw(sketch, SKETCH_DASHED, "M 1 36 L 39 36");
	sketch_draw(sketch, SKETCH_SHAPE, "R 10 22.6 20 7.4 1.6");
	sketch_draw(sketch, SKETCH_DASHED, "M 12.6 25.2 L 27.4 25.2 M 12.6 27.6 L 27.4 27.6");
	/* From the middle outward, in a spiral. */
	sketch_arrow(sketch, ARROW_AT_END,
	             "M 20 12.4 C 22.6 11.2 23.4 14.4 20 15 C 15.4 15.6 13.6 10.4 19 8.6 C 26 6.4 31.4 11.6 29.4 16");
}

static struct syringe_part needle_down(double y, double ring)
{
	return (struct syringe_part){.at = {20, y},
	                             .scale = 0.86,
	                             .turn = -90,
	                             .length = 12,
	                             .ring = ring,
	                             .to = ring,
	                             .needle = LOOK_THIN,
	                             .needle_length = 6,
	                             .graduated = true};
}

/* Skin, the fat under it and the muscle below, dashed. */
static void draw_fold(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_BOLD,
	            "M 1 33 C 8 33 11 33 13.4 28 C 15 24.6 16.6 23 20 23 C 23.4 23 25 24.6 26.6 28 "
	            "C 29 33 32 33 39 33");
	sketch_draw(sketch, SKETCH_DASHED, "M 1 38.4 L 39 38.4");
}

static void draw_pinch_inject(struct sketch sketch)
{
	draw_fold(sketch);
	primitive_syringe(sketch, needle_down(18.4, 0.36));
	sketch_arrow(sketch, ARROW_AT_END, "M 3.4 24.4 L 8.4 26.4");
	sketch_arrow(sketch, ARROW_AT_END, "M 36.6 24.4 L 31.6 26.4");
	sketch_arrow(sketch, ARROW_AT_END, "M 28.6 2.6 L 28.6 8.6");
}

/* Skin held flat; the long needle goes through the fat into the muscle. */
static void draw_inject_muscle(struct sketch sketch)
{
	struct syringe_part syringe = needle_down(15.4, 0.3);

	syringe.length = 10;
	syringe.needle_length = 17;
	primitive_syringe(sketch, syringe);
	draw_skin(sketch, 24);
	sketch_draw(sketch, SKETCH_DASHED, "M 1 29.6 L 39 29.6");
	sketch_draw(sketch, SKETCH_THIN,
	            "M 2 33.4 C 8 32 12 34.8 17 33.4 M 23 33.4 C 28 32 33 34.8 38 33.4 M 2 36.6 C 8 35.2 12 38 17 36.6 "
	            "M 23 36.6 C 28 35.2 33 38 38 36.6");
	sketch_arrow(sketch, ARROW_AT_END, "M 12.6 20.4 L 7 20.4");
	sketch_arrow(sketch, ARROW_AT_END, "M 27.4 20.4 L 33 20.4");
	sketch_arrow(sketch, ARROW_AT_END, "M 28.4 2.6 L 28.4 8.6");
}

/* ---- into the muscle, by a helper ---- */

/* Skin, and under it the muscle. */
static void draw_skin_and_muscle(struct sketch sketch, double y)
{
	draw_skin(sketch, y);
	sketch_draw(sketch, SKETCH_DASHED, "M 1 %g L 39 %g", y + 5.6, y + 5.6);
	sketch_draw(sketch, SKETCH_THIN, "M 2 %g C 8 %g 12 %g 17 %g M 23 %g C 28 %g 33 %g 38 %g", y + 9.4, y + 8,
	            y + 10.8, y + 9.4, y + 9.4, y + 8, y + 10.8, y + 9.4);
}

static void draw_bed(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_LINE, "M 1.4 31 L 38.6 31 M 3 31 L 3 35.4 M 37 31 L 37 35.4");
	sketch_draw(sketch, SKETCH_SHAPE, "R 2.4 27.4 8.4 3.6 1.6");
}

/* On one side, the hip that is free on top, the upper knee in front. */
static void draw_lie_side(struct sketch sketch)
{
	draw_bed(sketch);
	sketch_draw(sketch, SKETCH_SHAPE, "O 7.4 23.6 3.7");
	sketch_draw(sketch, SKETCH_SHAPE,
	            "M 11.2 30.4 C 10.4 24 12.6 20.8 16 20.6 C 19 20.4 20 21.8 21.4 20 C 23.4 17.4 28 18.6 28.8 22 "
	            "C 31 23.6 33.6 26.4 37.4 28.6 L 37.4 30.6 Z");
	sketch_draw(sketch, SKETCH_THIN, "M 28.8 22 C 26.6 25 25.4 27 25.6 30.4");
	sketch_draw(sketch, SKETCH_LINE, "O 24.4 21.6 1.9");
	sketch_draw(sketch, SKETCH_SOLID, "O 24.4 21.6 0.7");
	sketch_arrow(sketch, ARROW_AT_END, "M 24.4 7.4 L 24.4 15.6");
}

/* Face down, the toes turned in. */
static void draw_lie_front(struct sketch sketch)
{
	draw_bed(sketch);
	sketch_draw(sketch, SKETCH_SHAPE, "O 7.4 24.6 3.5");
	sketch_draw(sketch, SKETCH_SHAPE,
	            "M 11 30.6 C 10.4 26.4 12.6 24.8 16.4 25 C 19 25.2 20 24.4 21.6 23 C 23.8 21.2 27 22.2 27.8 25 "
	            "C 30.4 26.4 34 27 37.6 27.4 L 37.6 30.6 Z");
	sketch_draw(sketch, SKETCH_LINE, "O 23.8 25.4 1.7");
	sketch_draw(sketch, SKETCH_SOLID, "O 23.8 25.4 0.6");
	sketch_arrow(sketch, ARROW_AT_END, "M 23.8 9 L 23.8 18.6");
}

/* All of the skin is pulled to one side before the needle goes in. */
static void draw_skin_pull(struct sketch sketch)
{
	draw_skin_and_muscle(sketch, 24);
	sketch_arrow(sketch, ARROW_AT_END, "M 15 19 L 4 19");
	sketch_draw(sketch, SKETCH_DASHED, "M 20 4 L 20 22");
	sketch_draw(sketch, SKETCH_LINE, "O 20 24 1.9");
}

/* The needle stays, the plunger goes back a little: no blood may come. */
static void draw_pull_back(struct sketch sketch)
{
	struct syringe_part syringe = needle_down(16.4, 0.5);

	syringe.length = 10;
	syringe.needle_length = 14;
	primitive_syringe(sketch, syringe);
	draw_skin_and_muscle(sketch, 25);
	sketch_arrow(sketch, ARROW_AT_END, "M 28.4 10 L 28.4 4");
	primitive_drop(sketch, (struct point){9, 8}, 5.4);
	primitive_strike(sketch, (struct point){9, 10.8}, 9.4);
}

static void draw_push_slowly(struct sketch sketch)
{
	struct syringe_part syringe = needle_down(16.4, 0.3);

	syringe.at.x = 12;
	syringe.length = 10;
	syringe.needle_length = 14;
	primitive_syringe(sketch, syringe);
	draw_skin_and_muscle(sketch, 25);
	primitive_clock(sketch, (struct point){29, 12.6}, 8.4, 12, 10);
}

static void draw_press_pad(struct sketch sketch)
{
	draw_skin_and_muscle(sketch, 27);
	sketch_draw(sketch, SKETCH_SHAPE, "R 10 20.4 20 6 2");
	sketch_draw(sketch, SKETCH_DASHED, "M 13 23.4 L 27 23.4");
	sketch_arrow(sketch, ARROW_AT_END, "M 20 5 L 20 18");
}

static void draw_stop_at(struct sketch sketch)
{
	struct syringe_part syringe = needle_down(21, 0.42);

	syringe.wedge = true;
	primitive_syringe(sketch, syringe);
	draw_skin(sketch, 29);
	sketch_draw(sketch, SKETCH_DASHED, "M 1 34.4 L 39 34.4");
	sketch_draw(sketch, SKETCH_BOLD, "M 25.6 12.2 L 33.4 12.2");
	sketch_arrow(sketch, ARROW_AT_END, "M 29.5 3 L 29.5 8.4");
}

/* The needle stays in while ten are counted. */
static void draw_hold_count(struct sketch sketch)
{
	primitive_syringe(sketch, needle_down(21, 0));
	draw_skin(sketch, 29);
	sketch_draw(sketch, SKETCH_DASHED, "M 1 34.4 L 39 34.4");
	primitive_dots(sketch, (struct point){20, 16.4}, 14, 150, 390, 10);
}

static void draw_sharps_box(struct sketch sketch)
{
	primitive_sharps_box(sketch, (struct point){17, 39}, 1.05);
	struct syringe_part syringe = needle_down(11.4, 0);
	syringe.at.x = 17;
	syringe.scale = 0.66;
	syringe.length = 9;
	syringe.needle_length = 5;
	primitive_syringe(sketch, syringe);
	sketch_arrow(sketch, ARROW_AT_END, "M 27 3 L 27 10");
}

static void draw_throw_rest(struct sketch sketch)
{
	primitive_vial(sketch, (struct vial){.at = {8.4, 15}, .scale = 0.54, .content = VIAL_LIQUID, .level = 0.4});
	primitive_sharps_box(sketch, (struct point){13, 39.4}, 0.92);
	sketch_arrow(sketch, ARROW_AT_END, "M 14.6 7.4 C 18 8.4 19 11.4 18.4 15.4");
	primitive_fridge(sketch, (struct point){27.4, 12}, 0.8);
	primitive_strike(sketch, (struct point){33, 21.2}, 15);
}

/* Pushed past the line: away with what it still holds. */
static void draw_throw_syringe(struct sketch sketch)
{
	struct syringe_part syringe = needle_down(15.4, 0.7);

	primitive_sharps_box(sketch, (struct point){17, 39}, 0.82);
	syringe.at.x = 17;
	syringe.scale = 0.8;
	syringe.length = 9;
	syringe.needle_length = 3;
	primitive_syringe(sketch, syringe);
	sketch_arrow(sketch, ARROW_AT_END, "M 27 5 L 27 13");
}

static void draw_labelled_vial(struct sketch sketch)
{
	primitive_vial(sketch, (struct vial){.at = {8.6, 37}, .scale = 0.86, .content = VIAL_LIQUID, .level = 0.9});
	primitive_label(sketch, (struct point){3.2, 27}, 0.77);
	sketch_arrow(sketch, ARROW_AT_END, "M 8.6 11.6 C 8.6 5.4 12.6 3.4 16.4 7.4");
}

static void draw_keep_vial(struct sketch sketch)
{
	primitive_fridge(sketch, (struct point){20.4, 5}, 1.32);
	draw_labelled_vial(sketch);
}

static void draw_keep_vial_shelf(struct sketch sketch)
{
	primitive_shelf(sketch, (struct point){20.4, 5}, 1.32);
	draw_labelled_vial(sketch);
}

static void draw_tick(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE, "R 3 6 34 30 2.4");
	sketch_draw(sketch, SKETCH_LINE, "M 3 13.4 L 37 13.4 M 11 3 L 11 8.6 M 29 3 L 29 8.6");
	sketch_draw(sketch, SKETCH_THIN, "R 7 17 6 6 0.8 R 7 26.4 6 6 0.8");
	primitive_check(sketch, (struct point){10, 20}, 4.6);
	sketch_draw(sketch, SKETCH_LINE, "R 17 17 16 15.4 1.6");
	primitive_check(sketch, (struct point){25.4, 24.4}, 14);
}

static const struct step_drawing drawings[] = {
	{"cap-off-syringe", draw_cap_off_syringe},
	{"choose-spot", draw_choose_spot},
	{"clean-skin", draw_clean_skin},
	{"pinch-inject", draw_pinch_inject},
	{"inject-muscle", draw_inject_muscle},
	{"stop-at", draw_stop_at},
	{"hold-count", draw_hold_count},
	{"sharps-box", draw_sharps_box},
	{"throw-rest", draw_throw_rest},
	{"tick", draw_tick},
	{"throw-syringe", draw_throw_syringe},
	{"keep-vial", draw_keep_vial},
	{"keep-vial-shelf", draw_keep_vial_shelf},
	{"lie-side", draw_lie_side},
	{"lie-front", draw_lie_front},
	{"skin-pull", draw_skin_pull},
	{"pull-back", draw_pull_back},
	{"push-slowly", draw_push_slowly},
	{"press-pad", draw_press_pad},
};

const struct step_table step_inject_table = {drawings, sizeof drawings / sizeof *drawings};
