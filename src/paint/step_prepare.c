/* Getting ready: before anything is opened. */
#include "paint/step.h"

/* The box's lines against the sheet's: name, strength, date, route. */
static void draw_box_check(struct sketch sketch)
{
	static const double widths[] = {7, 5.4, 6.4, 4};

	sketch_draw(sketch, SKETCH_SHAPE, "M 0.6 9 L 4 5 L 17 5 L 13.6 9 Z");
	sketch_draw(sketch, SKETCH_PLASTIC, "M 13.6 9 L 17 5 L 17 32 L 13.6 36 Z");
	sketch_draw(sketch, SKETCH_SHAPE, "R 0.6 9 13 27 0.6");
	sketch_draw(sketch, SKETCH_SHAPE,
	            "M 26.4 5 L 35.4 5 L 39.4 9 L 39.4 36 L 26.4 36 Z M 35.4 5 L 35.4 9 L 39.4 9");
	for (int i = 0; i < 4; i++) {
		double y = 13.6 + i * 6;
		sketch_draw(sketch, i ? SKETCH_LINE : SKETCH_BOLD, "M 3 %g L %g %g M 29 %g L %g %g", y, 3 + widths[i],
		            y, y, 29 + widths[i], y);
		sketch_draw(sketch, SKETCH_SHAPE, "O 21.7 %g 2.7", y);
		primitive_check(sketch, (struct point){21.7, y}, 3.4);
	}
}

static void draw_warmth(struct sketch sketch, double x, double y)
{
	for (int i = 0; i < 3; i++)
		sketch_draw(sketch, SKETCH_LINE, "M %g %g C %g %g %g %g %g %g", x + i * 4.4, y, x + i * 4.4 - 2.4,
		            y - 2.4, x + i * 4.4 + 2.4, y - 4.2, x + i * 4.4, y - 6.6);
}

static void draw_warm_up(struct sketch sketch)
{
	primitive_carton(sketch, (struct point){2, 12}, 1.1);
	draw_warmth(sketch, 5.4, 10);
	sketch_draw(sketch, SKETCH_LINE, "M 0.8 32.4 L 22.4 32.4");
	primitive_clock(sketch, (struct point){31, 11}, 8, 3, 30);
	sketch_draw(sketch, SKETCH_SHAPE, "R 24.6 25.6 14.4 10 1.4 M 35 25.6 L 35 35.6");
	sketch_draw(sketch, SKETCH_THIN, "R 26.6 27.6 6.4 6 0.6 O 37 28.6 0.5 O 37 31 0.5");
	primitive_strike(sketch, (struct point){31.8, 30.6}, 15);
}

static void draw_fridge_out(struct sketch sketch)
{
	primitive_fridge(sketch, (struct point){1.4, 4}, 1.36);
	primitive_vial(sketch, (struct vial){.at = {33, 35}, .scale = 0.7, .content = VIAL_LIQUID, .level = 0.5});
	sketch_arrow(sketch, ARROW_AT_END, "M 22.6 19 C 23.6 10 31.4 7.4 33 13");
}

/* The time still allowed, from now to the bar, lies as a bow round the dial. */
static void draw_before_time(struct sketch sketch)
{
	primitive_clock(sketch, (struct point){20, 20}, 13, 10, 0);
	sketch_draw(sketch, SKETCH_BOLD, "A 20 20 16.4 -90 205");
	sketch_draw(sketch, SKETCH_WRONG, "M 7.6 14.4 L 2 11.9");
	sketch_draw(sketch, SKETCH_SHAPE, "O 32.6 33 5.4");
	primitive_check(sketch, (struct point){32.6, 33}, 6.6);
}

static void draw_wash_hands(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE,
	            "M 2 9 L 16 9 C 20.4 9 22.4 11.4 22.4 15 L 22.4 17.4 L 17.8 17.4 L 17.8 15.4 C 17.8 14 17.2 13.6 "
	            "16 13.6 L 2 13.6 Z");
	sketch_draw(sketch, SKETCH_SHAPE, "R 8.6 5.6 4.4 3.4 0.4 R 5.6 3.4 10.4 2.4 1.2");
	primitive_drop(sketch, (struct point){20.1, 19.4}, 4);
	primitive_drop(sketch, (struct point){20.1, 24.8}, 4);
	sketch_draw(sketch, SKETCH_SHAPE,
	            "M 3 30.4 L 37 30.4 C 36.4 35 33 37.4 28 37.4 L 12 37.4 C 7 37.4 3.6 35 3 30.4 Z");
	sketch_draw(sketch, SKETCH_PLASTIC, "R 4.6 25.8 10 4.6 2");
	sketch_draw(sketch, SKETCH_THIN, "O 6 23 1.3 O 9.4 21.6 1.8 O 13 23.6 1");
	/* Twenty seconds: a third of the dial. */
	sketch_draw(sketch, SKETCH_SHAPE, "O 31.4 12.6 7.6");
	sketch_draw(sketch, SKETCH_POWDER, "M 31.4 12.6 A 31.4 12.6 6 -90 30 Z");
	sketch_draw(sketch, SKETCH_LINE, "M 31.4 6.4 L 31.4 12.6 L 36.6 15.6");
	sketch_draw(sketch, SKETCH_THIN, "M 31.4 18.4 L 31.4 19 M 25 12.6 L 25.6 12.6 M 37.2 12.6 L 37.8 12.6");
}

static void draw_lay_out(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE, "R 1 7 38 26 3");
	sketch_draw(sketch, SKETCH_THIN, "R 3 9 34 22 1.8");
	primitive_vial(
		sketch,
		(struct vial){.at = {9.4, 28.4}, .scale = 0.56, .content = VIAL_LIQUID, .level = 0.55, .lid = true});
	primitive_syringe(sketch, (struct syringe_part){.at = {18.6, 15}, .scale = 0.62, .length = 14, .ring = 0.1});
	primitive_needle(sketch, (struct needle_part){.at = {26.2, 21}, .scale = 0.7, .look = LOOK_THICK, .length = 6});
	primitive_needle(sketch,
	                 (struct needle_part){.at = {26.2, 26.4}, .scale = 0.7, .look = LOOK_THIN, .length = 6});
	sketch_draw(sketch, SKETCH_SHAPE, "R 28.8 20 6.4 8 0.6");
	sketch_draw(sketch, SKETCH_DASHED, "R 30 21.2 4 5.6 0.3");
}

static void draw_look_clear(struct sketch sketch)
{
	static const enum vial_content contents[] = {VIAL_LIQUID, VIAL_CLOUDY, VIAL_BITS};

	for (int i = 0; i < 3; i++) {
		double x = 6.8 + i * 13.2;
		primitive_vial(sketch,
		               (struct vial){.at = {x, 27}, .scale = 0.68, .content = contents[i], .level = 0.85});
		if (i == 0)
			primitive_check(sketch, (struct point){x, 34.4}, 8);
		else
			primitive_cross(sketch, (struct point){x, 34.4}, 7);
	}
}

/* Filled syringes, needle up in their caps, held to the light. */
/* Clear, cloudy, with bits. */
static void draw_look_ampoule(struct sketch sketch)
{
	for (int i = 0; i < 3; i++) {
		double x = 6.8 + i * 13.2;
		primitive_ampoule(sketch, (struct ampoule){.at = {x, 27}, .scale = 0.98, .level = 0.9});
		if (i == 1)
			sketch_draw(
				sketch, SKETCH_PLASTIC,
				"M %g 22 C %g 21.8 %g 18.6 %g 18.8 C %g 16.8 %g 17 %g 18.8 C %g 18.8 %g 21.8 %g 22 Z",
				x - 2.6, x - 4, x - 3.6, x - 2, x - 1, x + 1.6, x + 1.8, x + 3.4, x + 3.6, x + 2.4);
		if (i == 2)
			sketch_draw(sketch, SKETCH_SOLID, "R %g 18 1.3 1.1 0.2 R %g 21 1.2 1.3 0.2 R %g 23.6 1.3 1 0.2",
			            x - 2.2, x + 0.8, x - 1.4);
		if (i == 0)
			primitive_check(sketch, (struct point){x, 34.4}, 8);
		else
			primitive_cross(sketch, (struct point){x, 34.4}, 7);
	}
}

static void draw_look_syringe(struct sketch sketch)
{
	static const enum vial_content contents[] = {VIAL_LIQUID, VIAL_CLOUDY, VIAL_BITS};

	for (int i = 0; i < 3; i++) {
		double x = 6.8 + i * 13.2;
		primitive_syringe(sketch, (struct syringe_part){.at = {x, 6},
		                                                .scale = 1.28,
		                                                .turn = 90,
		                                                .length = 9,
		                                                .ring = 0.88,
		                                                .to = 0.88,
		                                                .content = contents[i],
		                                                .needle = LOOK_CAP,
		                                                .needle_length = 2.4});
		if (i == 0)
			primitive_check(sketch, (struct point){x, 35.2}, 7);
		else
			primitive_cross(sketch, (struct point){x, 35.2}, 6);
	}
}

/* A new one comes in a sealed pack with a corner to peel. */
static void draw_new_syringe(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE, "M 3 9 L 30 9 L 37 16 L 37 31 L 3 31 Z");
	sketch_draw(sketch, SKETCH_PLASTIC, "M 30 9 L 30 16 L 37 16 Z");
	sketch_draw(sketch, SKETCH_DASHED, "M 5.4 11.4 L 27.6 11.4 M 5.4 28.6 L 34.6 28.6");
	primitive_syringe(
		sketch,
		(struct syringe_part){.at = {11, 20.6}, .scale = 0.86, .length = 16, .ring = 0.12, .graduated = true});
	sketch_arrow(sketch, ARROW_AT_END, "M 37.4 12 C 37 8.4 35 6 31.4 5");
}

static void draw_label_vial(struct sketch sketch)
{
	primitive_vial(sketch, (struct vial){.at = {12, 37}, .scale = 1.1, .content = VIAL_LIQUID, .level = 0.9});
	primitive_label(sketch, (struct point){5, 23}, 1);
	sketch_draw(sketch, SKETCH_DASHED, "R 25 12 14 11 0.6");
	sketch_draw(sketch, SKETCH_LINE, "M 27 15 L 34 15");
	sketch_draw(sketch, SKETCH_THIN, "M 27 17.8 L 37 17.8 M 27 20.4 L 32 20.4");
	sketch_arrow(sketch, ARROW_AT_END, "M 32 25.4 C 31.4 29 28.4 31 24.8 31");
}

/* Day, month, time: three boxes, the pen in the last. */
static void draw_write_date(struct sketch sketch)
{
	primitive_vial(sketch, (struct vial){.at = {13, 39}, .scale = 1.3, .content = VIAL_LIQUID, .level = 0.9});
	sketch_draw(sketch, SKETCH_SHAPE, "R 3.4 21 19.2 14 0.6");
	sketch_draw(sketch, SKETCH_LINE, "M 5.4 24 L 14 24");
	sketch_draw(sketch, SKETCH_THIN, "R 5.2 27.4 4.6 5.2 0.4 R 10.7 27.4 4.6 5.2 0.4 R 16.2 27.4 4.6 5.2 0.4");
	sketch_draw(sketch, SKETCH_LINE, "M 7.5 28.8 L 7.5 31.4 M 12.2 29 L 13.8 29 L 12.6 31.4 M 17.4 31 L 18.6 30");
	struct sketch pen = sketch_place(sketch, (struct point){18.8, 29.8}, 1, -52);
	sketch_draw(pen, SKETCH_SHAPE, "M 0 0 L 4 -1.7 L 4 1.7 Z");
	sketch_draw(pen, SKETCH_SOLID, "M 0 0 L 1.7 -0.7 L 1.7 0.7 Z");
	sketch_draw(pen, SKETCH_SHAPE, "R 4 -1.7 17 3.4 0.4");
	sketch_draw(pen, SKETCH_PLASTIC, "R 21 -1.7 4 3.4 1");
	sketch_end(pen);
}

static void draw_shelf_out(struct sketch sketch)
{
	primitive_shelf(sketch, (struct point){1.4, 4}, 1.36);
	primitive_vial(sketch, (struct vial){.at = {33, 35}, .scale = 0.7, .content = VIAL_LIQUID, .level = 0.5});
	sketch_arrow(sketch, ARROW_AT_END, "M 22.6 19 C 23.6 10 31.4 7.4 33 13");
}

static const struct step_drawing drawings[] = {
	{"box-check", draw_box_check},       {"warm-up", draw_warm_up},           {"fridge-out", draw_fridge_out},
	{"before-time", draw_before_time},   {"wash-hands", draw_wash_hands},     {"lay-out", draw_lay_out},
	{"look-clear", draw_look_clear},     {"new-syringe", draw_new_syringe},   {"label-vial", draw_label_vial},
	{"look-syringe", draw_look_syringe}, {"look-ampoule", draw_look_ampoule}, {"write-date", draw_write_date},
	{"shelf-out", draw_shelf_out},
};

const struct step_table step_prepare_table = {drawings, sizeof drawings / sizeof *drawings};
