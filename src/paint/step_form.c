/* Pens, patches, inserts, sprays, tablets. */
#include "paint/step.h"

/* ---- pens ---- */

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

/* ---- patches ---- */

/* One half is free to stick; the other still has its backing, peeled at the corner. */
static void draw_patch_on(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE, "R 8 3 24 17 4");
	sketch_draw(sketch, SKETCH_DASHED, "R 10.4 5.4 19.2 12.2 2.4");
	sketch_draw(sketch, SKETCH_PLASTIC, "M 20 3 L 28 3 C 30.4 3 32 4.6 32 7 L 32 12.6 L 24.6 20 L 20 20 Z");
	sketch_draw(sketch, SKETCH_SHAPE,
	            "M 32 12.6 L 24.6 20 C 24.4 16.6 25 14.4 26.6 13.4 C 28 12.6 30 12.4 32 12.6 Z");
	sketch_arrow(sketch, ARROW_AT_END, "M 14 24 L 14 29");
	sketch_draw(sketch, SKETCH_BOLD, "M 1 37.6 C 8 33.6 32 33.6 39 37.6");
}

/* Off the skin, and folded on itself with the sticky sides inside. */
static void draw_patch_off(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_BOLD, "M 1 37.6 C 8 33.6 32 33.6 39 37.6");
	sketch_draw(sketch, SKETCH_DASHED, "M 9 32 C 15 30.6 25 30.6 31 32");
	sketch_draw(sketch, SKETCH_SHAPE, "M 6 22.4 L 20 22.4 L 20 9.4 L 10 9.4 C 7.6 9.4 6 11 6 13.4 Z");
	sketch_draw(sketch, SKETCH_PLASTIC,
	            "M 20 22.4 L 20 9.4 L 30.4 13.6 C 32 14.4 32.6 15.8 32.6 17.4 L 32.6 26.6 Z");
	sketch_draw(sketch, SKETCH_DASHED, "M 20 6.6 L 20 25.4");
	sketch_arrow(sketch, ARROW_AT_END, "M 29.4 8.8 C 26.6 3.6 17.6 2.4 13.4 5");
	sketch_arrow(sketch, ARROW_AT_END, "M 36.4 32 L 36.4 24.6");
}

/* ---- inserts ---- */

/* Side view: the applicator's tip holds the insert; the rod pushes it out. */
static void draw_insert_in(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_BOLD, "M 13 2 C 14.6 8 14 13 10.4 16.4 M 10.4 25.6 C 14 29 14.6 33 13 38.6");
	sketch_draw(sketch, SKETCH_LINE,
	            "M 10.4 16.4 C 7.6 17.4 4 17.2 1.4 16.6 M 10.4 25.6 C 7.6 24.6 4 24.8 1.4 25.4");
	sketch_draw(sketch, SKETCH_PLASTIC, "R 3 18.6 7.6 4.8 2.4");
	sketch_draw(sketch, SKETCH_SHAPE, "R 10.6 18.2 15 5.6 1");
	sketch_draw(sketch, SKETCH_SHAPE, "R 25.6 19.8 8 2.4 0.2");
	sketch_draw(sketch, SKETCH_SHAPE, "R 33.6 18 1.8 6 0.8");
	sketch_draw(sketch, SKETCH_THIN, "M 13.4 21 L 22.6 21");
	sketch_arrow(sketch, ARROW_AT_END, "M 35 29.6 L 27 29.6");
}

/* ---- sprays ---- */

/* A face from the side; the spray stands under the nose and points away from its middle wall. */
static void draw_spray_nose(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_BOLD,
	            "M 28 1 C 28 5.6 26.4 8.6 22.6 12 C 17.6 16.4 13 18.2 13 20.6 C 13 22.6 15.6 23 18.4 22.4 "
	            "C 21 21.9 22.8 22.6 22.8 24.4 C 22.8 26 21.4 26.6 21.8 27.8 C 22.1 28.8 23.6 28.6 23.4 29.8 "
	            "C 23.1 31.4 22 31.8 22.6 33.6 C 23.4 36.2 27 36.4 31 36");
	sketch_draw(sketch, SKETCH_LINE,
	            "M 27.6 10.6 C 29 9.4 31.4 9.4 32.8 10.6 M 20.4 19.4 C 21.4 18.6 22.8 19 23.2 20.4");
	struct sketch bottle = sketch_place(sketch, (struct point){16.4, 20.8}, 1, 12);
	sketch_draw(bottle, SKETCH_SHAPE, "M -0.9 0 L -1.5 6.6 L 1.5 6.6 L 0.9 0 Z");
	sketch_draw(bottle, SKETCH_PLASTIC, "R -4.6 6.6 9.2 1.9 0.8");
	sketch_draw(bottle, SKETCH_SHAPE, "R -3.4 8.5 6.8 9 1.4");
	sketch_draw(bottle, SKETCH_LIQUID, "R -3.1 11.6 6.2 5.6 1.2");
	sketch_draw(bottle, SKETCH_LINE, "R -3.4 8.5 6.8 9 1.4");
	sketch_end(bottle);
	sketch_draw(sketch, SKETCH_STREAM,
	            "M 18.4 19 L 18.5 19 M 20.4 17.4 L 20.5 17.4 M 22.6 17.6 L 22.7 17.6 M 22.4 15.4 L 22.5 15.4");
	sketch_arrow(sketch, ARROW_AT_END, "M 4.6 38 L 6.4 30.4");
}

/* ---- tablets ---- */

/* On the score line; one half now, the other kept. */
static void draw_tablet_halve(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE, "M 17.6 12 A 17.6 22 10 270 90 Z");
	sketch_draw(sketch, SKETCH_SHAPE, "M 22.4 12 A 22.4 22 10 -90 90 Z");
	sketch_draw(sketch, SKETCH_DASHED, "M 20 9.6 L 20 35");
	sketch_draw(sketch, SKETCH_PLASTIC, "M 18.8 2 L 21.2 2 L 21.2 6.6 L 20 9 L 18.8 6.6 Z");
	sketch_arrow(sketch, ARROW_AT_END, "M 7 36 L 3.6 36");
	sketch_arrow(sketch, ARROW_AT_END, "M 33 36 L 36.4 36");
}

static void draw_tablet_swallow(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_BLANK, "M 17 10 L 37 10 L 34.6 37 L 19.4 37 Z");
	sketch_draw(sketch, SKETCH_LIQUID, "M 17.7 17 L 36.3 17 L 34.6 37 L 19.4 37 Z");
	sketch_draw(sketch, SKETCH_LINE, "M 17 10 L 19.4 37 L 34.6 37 L 37 10");
	sketch_draw(sketch, SKETCH_SHAPE, "E 8.6 30.6 6.4 4.4");
	sketch_draw(sketch, SKETCH_SHAPE, "E 8.6 28.8 6.4 4.4");
	sketch_draw(sketch, SKETCH_LINE, "M 3.8 28.8 L 13.4 28.8");
	sketch_arrow(sketch, ARROW_AT_END, "M 8.6 21 C 8.6 12 11 7 15.6 5");
}

static const struct step_drawing drawings[] = {
	{"pen-dial", draw_pen_dial},         {"pen-needle", draw_pen_needle},
	{"pen-test", draw_pen_test},         {"pen-inject", draw_pen_inject},
	{"patch-on", draw_patch_on},         {"patch-off", draw_patch_off},
	{"insert-in", draw_insert_in},       {"spray-nose", draw_spray_nose},
	{"tablet-halve", draw_tablet_halve}, {"tablet-swallow", draw_tablet_swallow},
};

const struct step_table step_form_table = {drawings, sizeof drawings / sizeof *drawings};
