/* Pens. */
#include "paint/step.h"

static void draw_pen_dial(struct sketch sketch)
{
	primitive_pen(sketch, (struct pen_part){.at = {4, 24}, .scale = 0.88, .knob_out = 0.5});
	/* The window, close: the number meets the pointer. */
	sketch_draw(sketch, SKETCH_SHAPE, "R 13 3 16 12 1.6");
	sketch_draw(sketch, SKETCH_SOLID, "M 15 6.6 L 18.6 9 L 15 11.4 Z");
	sketch_draw(sketch, SKETCH_BOLD, "M 24.4 9 L 29 9");
	sketch_draw(sketch, SKETCH_THIN, "M 26.4 5.4 L 29 5.4 M 26.4 12.6 L 29 12.6");
	sketch_draw(sketch, SKETCH_THIN, "M 21 15 L 22.6 22");
	sketch_arrow(sketch, ARROW_AT_END, "A 34 32.6 3.6 200 -20");
}

static void draw_pen_needle(struct sketch sketch)
{
	primitive_pen(sketch, (struct pen_part){.at = {17, 22}, .scale = 0.62});
	struct sketch needle = sketch_place(sketch, (struct point){9.4, 22}, 1, 0);
	sketch_draw(needle, SKETCH_SOLID, "R -6.6 -0.25 6 0.5 0");
	sketch_draw(needle, SKETCH_SHAPE, "M 0 -2.6 L -3 -2.6 L -4.2 -1.2 L -4.2 1.2 L -3 2.6 L 0 2.6 Z");
	sketch_draw(needle, SKETCH_THIN, "M -0.6 -1.4 L -2.6 -1.4 M -0.6 0 L -3 0 M -0.6 1.4 L -2.6 1.4");
	sketch_end(needle);
	sketch_arrow(sketch, ARROW_AT_END, "A 7 14 3.6 165 370");
	sketch_arrow(sketch, ARROW_AT_END, "M 2.4 30 L 9.4 30");
}

static void draw_pen_test(struct sketch sketch)
{
	primitive_pen(sketch, (struct pen_part){.at = {18, 11.4}, .scale = 0.72, .turn = 90, .needle = true});
	primitive_drop(sketch, (struct point){18, 0.6}, 5);
	sketch_arrow(sketch, ARROW_AT_END, "M 27 38.6 L 27 32");
}

static void draw_pen_inject(struct sketch sketch)
{
	primitive_pen(sketch, (struct pen_part){.at = {18, 27.4}, .scale = 0.72, .turn = -90, .needle = true});
	sketch_draw(sketch, SKETCH_BOLD, "M 1 30 L 39 30");
	sketch_draw(sketch, SKETCH_DASHED, "M 1 36 L 39 36");
	sketch_arrow(sketch, ARROW_AT_END, "M 27 2.4 L 27 9");
	primitive_dots(sketch, (struct point){30, 20}, 5.4, -90, 234, 10);
}

/* Cap off, held to the light. */
static void draw_look_pen(struct sketch sketch)
{
	primitive_pen(sketch, (struct pen_part){.at = {5, 27}, .scale = 0.86});
	sketch_draw(sketch, SKETCH_SHAPE, "O 12.6 9.4 4");
	sketch_draw(sketch, SKETCH_LINE,
	            "M 12.6 1.4 L 12.6 3.4 M 5 9.4 L 7 9.4 M 18.2 9.4 L 20.2 9.4 M 7.2 4 L 8.6 5.4 "
	            "M 18 4 L 16.6 5.4 M 12.6 15.4 L 12.6 19 M 8 14.4 L 6.6 18 M 17.2 14.4 L 18.6 18");
	primitive_check(sketch, (struct point){32, 12}, 8);
}

/* Two caps: the outer one is kept for later, the inner one is not. */
static void draw_pen_caps(struct sketch sketch)
{
	struct sketch outer = sketch_place(sketch, (struct point){20, 8.6}, 1, 0);
	sketch_draw(outer, SKETCH_SHAPE, "M -17 -4.6 L -4 -4.6 L -4 4.6 L -17 4.6 C -19 4.6 -19 -4.6 -17 -4.6 Z");
	sketch_draw(outer, SKETCH_THIN, "M -15 -2 L -7 -2 M -15 2 L -7 2");
	sketch_end(outer);
	primitive_check(sketch, (struct point){30, 8.6}, 8);
	sketch_draw(sketch, SKETCH_SHAPE, "M 5 21 L 17 20.4 L 17 24.6 L 5 24 C 4 24 4 21 5 21 Z");
	sketch_draw(sketch, SKETCH_LINE, "M 25.6 19 L 26.6 30 L 34.4 30 L 35.4 19 M 24 19 L 37 19");
	sketch_arrow(sketch, ARROW_AT_END, "M 18 18.4 C 20 14.6 26 13.6 29.4 17");
	primitive_pen(sketch, (struct pen_part){.at = {10, 34.6}, .scale = 0.6, .needle = true});
}

/* The window after the injection: 0 is good, another number is not. */
static void draw_pen_zero(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE, "R 3 3 22 14 1.6 R 3 22 22 14 1.6");
	sketch_draw(sketch, SKETCH_SOLID, "M 5 7.4 L 9 10 L 5 12.6 Z M 5 26.4 L 9 29 L 5 31.6 Z");
	sketch_draw(sketch, SKETCH_BOLD, "E 15 10 2.6 4 M 21.4 10 L 25 10 M 21.4 29 L 25 29");
	sketch_draw(sketch, SKETCH_BOLD,
	            "M 12 25.4 L 16.6 25.4 L 13.6 28.4 C 17.6 28.4 17.4 33 14.4 33 C 13.2 33 12.4 32.6 "
	            "11.8 31.6");
	primitive_check(sketch, (struct point){32, 10}, 9);
	primitive_cross(sketch, (struct point){32, 29}, 8);
}

/* The outer cap lies on the table; the needle goes in without a hand near it. */
static void draw_pen_off(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_BOLD, "M 1 16.4 L 39 16.4");
	sketch_draw(sketch, SKETCH_SHAPE, "M 3.4 9 L 11 9 L 11 16 L 3.4 16 C 2 16 2 9 3.4 9 Z");
	primitive_pen(sketch, (struct pen_part){.at = {17.4, 12.4}, .scale = 0.5, .needle = true});
	sketch_arrow(sketch, ARROW_AT_END, "M 33 5 L 24 5");
	primitive_sharps_box(sketch, (struct point){22, 39.4}, 0.84);
	sketch_arrow(sketch, ARROW_AT_END, "M 7 19.6 C 6.4 23.4 8.4 25 12.4 24.4");
}

static const struct step_drawing drawings[] = {
	{"pen-dial", draw_pen_dial},     {"pen-needle", draw_pen_needle}, {"pen-test", draw_pen_test},
	{"pen-inject", draw_pen_inject}, {"look-pen", draw_look_pen},     {"pen-caps", draw_pen_caps},
	{"pen-zero", draw_pen_zero},     {"pen-off", draw_pen_off},
};

const struct step_table step_pen_table = {drawings, sizeof drawings / sizeof *drawings};
