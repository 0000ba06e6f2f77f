/* Tablets, capsules, drops, sachets: what is counted out and swallowed. */
#include "paint/step.h"

/* ---- a glass of water ---- */

/* `top` is the rim's left end; the glass is 20 wide there and 27 high. */
static void draw_glass(struct sketch sketch, struct point top, double level)
{
	struct sketch glass = sketch_place(sketch, top, 1, 0);
	double edge = 2.4 * (1 - level);
	double surface = 27 * (1 - level);
	sketch_draw(glass, SKETCH_BLANK, "M 0 0 L 20 0 L 17.6 27 L 2.4 27 Z");
	if (level > 0)
		sketch_draw(glass, SKETCH_LIQUID, "M %g %g L %g %g L 17.6 27 L 2.4 27 Z", edge, surface, 20 - edge,
		            surface);
	sketch_draw(glass, SKETCH_LINE, "M 0 0 L 2.4 27 L 17.6 27 L 20 0");
	sketch_end(glass);
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

/* The line across, and a closer look at it. */
static void draw_tablet_score(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE, "O 18 21 15");
	sketch_draw(sketch, SKETCH_THIN, "O 18 21 12");
	sketch_draw(sketch, SKETCH_BOLD, "M 6.4 21 L 29.6 21");
	sketch_arrow(sketch, ARROW_AT_END, "M 37 6 C 36.6 12 34.6 16.6 31.4 19.6");
}

/* The other half waits, dry and dated. */
static void draw_tablet_keep(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE, "R 5 18 30 20 2");
	sketch_draw(sketch, SKETCH_PLASTIC, "R 4 14.4 32 5.4 1.4");
	primitive_label(sketch, (struct point){13, 23}, 1);
	sketch_draw(sketch, SKETCH_SHAPE, "M 20 1.6 A 20 7 5.4 -90 90 Z");
	sketch_draw(sketch, SKETCH_DASHED, "M 20 1 L 20 13");
	sketch_arrow(sketch, ARROW_AT_END, "M 30 4 C 33 5.6 33.6 8 32.6 11.4");
}

/* ---- capsules ---- */

static void draw_capsule_lying(struct sketch sketch, struct point at, double scale, double turn)
{
	struct sketch part = sketch_place(sketch, at, scale, turn);
	sketch_draw(part, SKETCH_PLASTIC, "M 0 -3 L -4.6 -3 C -8.6 -3 -8.6 3 -4.6 3 L 0 3 Z");
	sketch_draw(part, SKETCH_SHAPE, "M 0 -3 L 4.6 -3 C 8.6 -3 8.6 3 4.6 3 L 0 3 Z");
	sketch_end(part);
}

static void draw_capsule_count(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE, "R 3 3 26 22 2");
	for (int i = 0; i < 4; i++)
		draw_capsule_lying(sketch, (struct point){9.4 + 13 * (i % 2), 9 + 10 * (i / 2)}, 0.62, 0);
	draw_capsule_lying(sketch, (struct point){28, 33}, 1, -14);
	sketch_arrow(sketch, ARROW_AT_END, "M 14 27 C 14.6 31 16 33 18.6 34");
}

static void draw_capsule_swallow(struct sketch sketch)
{
	draw_glass(sketch, (struct point){18, 10}, 0.72);
	draw_capsule_lying(sketch, (struct point){9, 30}, 0.9, -60);
	sketch_arrow(sketch, ARROW_AT_END, "M 8.6 20 C 8.6 12 11 7 15.6 5");
}

/* ---- drops ---- */

/* Upside down over the glass, drop by drop. */
static void draw_drops_count(struct sketch sketch)
{
	struct sketch bottle = sketch_place(sketch, (struct point){14, 15.4}, 1, 180);
	sketch_draw(bottle, SKETCH_SHAPE, "M -2.4 3.4 L 2.4 3.4 L 5.4 5.6 L 5.4 14.4 L -5.4 14.4 L -5.4 5.6 Z");
	sketch_draw(bottle, SKETCH_LIQUID, "M -2.4 3.4 L 2.4 3.4 L 5.4 5.6 L 5.4 10.6 L -5.4 10.6 L -5.4 5.6 Z");
	sketch_draw(bottle, SKETCH_LINE, "M -2.4 3.4 L 2.4 3.4 L 5.4 5.6 L 5.4 14.4 L -5.4 14.4 L -5.4 5.6 Z");
	sketch_draw(bottle, SKETCH_PLASTIC, "M -2.4 3.4 L -1 0 L 1 0 L 2.4 3.4 Z");
	sketch_end(bottle);
	primitive_drop(sketch, (struct point){14, 17}, 3.6);
	primitive_drop(sketch, (struct point){14, 22}, 3.6);
	struct sketch glass = sketch_place(sketch, (struct point){5, 24.4}, 0.9, 0);
	sketch_draw(glass, SKETCH_LIQUID, "M 1 7 L 19 7 L 18 16 L 2 16 Z");
	sketch_draw(glass, SKETCH_LINE, "M 0 0 L 2 16 L 18 16 L 20 0");
	sketch_end(glass);
	primitive_dots(sketch, (struct point){31, 14}, 5.6, -90, 198, 5);
}

static void draw_drops_close(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE, "M 14 15.4 L 26 15.4 L 30 19 L 30 38 L 10 38 L 10 19 Z");
	sketch_draw(sketch, SKETCH_LIQUID, "R 10.4 25 19.2 12.6 0.4");
	sketch_draw(sketch, SKETCH_LINE, "M 14 15.4 L 26 15.4 L 30 19 L 30 38 L 10 38 L 10 19 Z");
	sketch_draw(sketch, SKETCH_PLASTIC, "R 13.4 7.4 13.2 8 1.4");
	sketch_draw(sketch, SKETCH_THIN, "M 17 9 L 17 14 M 20 9 L 20 14 M 23 9 L 23 14");
	sketch_arrow(sketch, ARROW_AT_END, "M 11 4.4 C 15 0.6 25 0.6 29 4.4");
}

/* ---- sachets ---- */

static void draw_sachet_tear(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE, "M 8 12 L 32 12 L 32 38 L 8 38 Z");
	sketch_draw(sketch, SKETCH_DASHED, "M 8 34.6 L 32 34.6");
	sketch_draw(sketch, SKETCH_POWDER, "M 9 24 C 15 21.4 25 21.4 31 24 L 31 34 L 9 34 Z");
	sketch_draw(sketch, SKETCH_SHAPE, "M 8 12 L 30 4 L 31.6 8.6 L 32 12 Z");
	sketch_arrow(sketch, ARROW_AT_END, "M 18 3.4 C 24 0.6 31 0.8 36 3.6");
}

static void draw_sachet_stir(struct sketch sketch)
{
	draw_glass(sketch, (struct point){10, 11.6}, 0.7);
	sketch_draw(sketch, SKETCH_BOLD, "M 28 1.4 L 18.6 31");
	sketch_draw(sketch, SKETCH_PLASTIC, "E 17.8 33 2 3");
	sketch_arrow(sketch, ARROW_AT_END, "M 10 5.6 C 12 1.6 20 1 24 4");
}

/* Nothing is left. */
static void draw_drink_up(struct sketch sketch)
{
	struct sketch tilted = sketch_place(sketch, (struct point){8, 9}, 0.9, 0);
	draw_glass(tilted, (struct point){0, 0}, 0.66);
	sketch_end(tilted);
	sketch_arrow(sketch, ARROW_AT_END, "M 27.4 22 L 32.6 22");
	struct sketch empty = sketch_place(sketch, (struct point){28.6, 24}, 0.5, 0);
	draw_glass(empty, (struct point){0, 0}, 0);
	sketch_end(empty);
	primitive_check(sketch, (struct point){33.6, 13}, 7);
}

static const struct step_drawing drawings[] = {
	{"tablet-halve", draw_tablet_halve},   {"tablet-swallow", draw_tablet_swallow},
	{"tablet-score", draw_tablet_score},   {"tablet-keep", draw_tablet_keep},
	{"capsule-count", draw_capsule_count}, {"capsule-swallow", draw_capsule_swallow},
	{"drops-count", draw_drops_count},     {"drops-close", draw_drops_close},
	{"sachet-tear", draw_sachet_tear},     {"sachet-stir", draw_sachet_stir},
	{"drink-up", draw_drink_up},
};

const struct step_table step_counted_table = {drawings, sizeof drawings / sizeof *drawings};
