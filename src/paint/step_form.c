/* Patches, inserts, sprays: what is stuck on, put in, sprayed. */
#include "paint/step.h"

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

static void draw_bottle(struct sketch sketch, struct point tip, double scale, double turn)
{
	struct sketch bottle = sketch_place(sketch, tip, scale, turn);
	sketch_draw(bottle, SKETCH_SHAPE, "M -0.9 0 L -1.5 6.6 L 1.5 6.6 L 0.9 0 Z");
	sketch_draw(bottle, SKETCH_PLASTIC, "R -4.6 6.6 9.2 1.9 0.8");
	sketch_draw(bottle, SKETCH_SHAPE, "R -3.4 8.5 6.8 9 1.4");
	sketch_draw(bottle, SKETCH_LIQUID, "R -3.1 11.6 6.2 5.6 1.2");
	sketch_draw(bottle, SKETCH_LINE, "R -3.4 8.5 6.8 9 1.4");
	sketch_end(bottle);
}

/* A face from the side; the spray stands under the nose and points away from its middle wall. */
static void draw_spray_nose(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_BOLD,
	            "M 28 1 C 28 5.6 26.4 8.6 22.6 12 C 17.6 16.4 13 18.2 13 20.6 C 13 22.6 15.6 23 18.4 22.4 "
	            "C 21 21.9 22.8 22.6 22.8 24.4 C 22.8 26 21.4 26.6 21.8 27.8 C 22.1 28.8 23.6 28.6 23.4 29.8 "
	            "C 23.1 31.4 22 31.8 22.6 33.6 C 23.4 36.2 27 36.4 31 36");
	sketch_draw(sketch, SKETCH_LINE,
	            "M 27.6 10.6 C 29 9.4 31.4 9.4 32.8 10.6 M 20.4 19.4 C 21.4 18.6 22.8 19 23.2 20.4");
	draw_bottle(sketch, (struct point){16.4, 20.8}, 1, 12);
	sketch_draw(sketch, SKETCH_STREAM,
	            "M 18.4 19 L 18.5 19 M 20.4 17.4 L 20.5 17.4 M 22.6 17.6 L 22.7 17.6 M 22.4 15.4 L 22.5 15.4");
	sketch_arrow(sketch, ARROW_AT_END, "M 4.6 38 L 6.4 30.4");
}

/* Into the air, away from the face, until a mist comes. */
static void draw_spray_prime(struct sketch sketch)
{
	draw_bottle(sketch, (struct point){20, 14}, 1.32, 0);
	sketch_draw(sketch, SKETCH_STREAM,
	            "M 20 10.6 L 20.1 10.6 M 18 8 L 18.1 8 M 22 8 L 22.1 8 M 16.4 4.8 L 16.5 4.8 M 20 5 L 20.1 5 "
	            "M 23.6 4.8 L 23.7 4.8 M 14.6 2 L 14.7 2 M 18.2 1.8 L 18.3 1.8 M 21.8 1.8 L 21.9 1.8 M 25.4 2 L "
	            "25.5 2");
	sketch_arrow(sketch, ARROW_AT_END, "M 8.6 15.4 L 8.6 22");
	sketch_arrow(sketch, ARROW_AT_END, "M 31.4 15.4 L 31.4 22");
}

/* Seen from the front: the head a little forward, one nostril and then the other. */
static void draw_nose_front(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_BOLD,
	            "M 15 1 C 14.6 7 9.6 11 9.6 15.4 C 9.6 19.6 15.6 20.6 20 20.6 "
	            "C 24.4 20.6 30.4 19.6 30.4 15.4 C 30.4 11 25.4 7 25 1");
	sketch_draw(sketch, SKETCH_SOLID, "E 15.4 17.2 2.4 1.5 E 24.6 17.2 2.4 1.5");
}

/* The tip leans outward, to the ear of its side; the bottle crosses to the other. Sides are as in a mirror. */
static void draw_spray_left(struct sketch sketch)
{
	draw_nose_front(sketch);
	draw_bottle(sketch, (struct point){15.4, 16.8}, 1.1, -20);
	sketch_arrow(sketch, ARROW_AT_END, "M 9 13 L 3 6");
}

static void draw_spray_right(struct sketch sketch)
{
	draw_nose_front(sketch);
	draw_bottle(sketch, (struct point){24.6, 16.8}, 1.1, 20);
	sketch_arrow(sketch, ARROW_AT_END, "M 31 13 L 37 6");
}

static void draw_nose_blow(struct sketch sketch)
{
	draw_nose_front(sketch);
	sketch_draw(sketch, SKETCH_SHAPE,
	            "M 8 20 C 12 16 28 16 32 20 L 35.6 36 C 30 33.4 27 37.6 20 36.4 C 13 37.6 10 33.4 "
	            "4.4 36 Z");
	sketch_draw(sketch, SKETCH_DASHED, "M 12 22 L 10 32 M 20 21.4 L 20 33 M 28 22 L 30 32");
}

/* Air in, slowly; no blowing out. */
static void draw_nose_still(struct sketch sketch)
{
	draw_nose_front(sketch);
	sketch_arrow(sketch, ARROW_AT_END, "M 15.4 30 L 15.4 22.6");
	sketch_arrow(sketch, ARROW_AT_END, "M 24.6 30 L 24.6 22.6");
}

static void draw_spray_wipe(struct sketch sketch)
{
	draw_bottle(sketch, (struct point){15, 8}, 1.5, 0);
	sketch_draw(sketch, SKETCH_SHAPE, "M 17.6 5 L 33 3 L 36.4 15 L 21 17.4 Z");
	sketch_draw(sketch, SKETCH_DASHED, "M 20.4 7 L 31.6 5.6 L 33.8 13.4 L 22.8 15 Z");
	sketch_arrow(sketch, ARROW_AT_BOTH, "M 26 20.6 C 29 22.6 33 22 35 19.6");
}

/* A clock's ring with counted dots, and two drops of spray before and after. */
static void draw_wait_count(struct sketch sketch)
{
	primitive_clock(sketch, (struct point){20, 20}, 13, 12, 2);
	primitive_dots(sketch, (struct point){20, 20}, 17.4, -90, 250, 14);
}

/* ---- where patches go ---- */

/* Below the waist, from the front and from behind; dashed where one may stand, black where one was. */
static void draw_torso(struct sketch sketch, double x, bool behind)
{
	sketch_draw(sketch, SKETCH_LINE,
	            "M %g 3 C %g 10 %g 14 %g 20 C %g 26 %g 32 %g 38 M %g 3 C %g 10 %g 14 %g 20 C %g 26 %g 32 %g 38",
	            x - 6, x - 5, x - 7.4, x - 8, x - 8.6, x - 8, x - 7.4, x + 6, x + 5, x + 7.4, x + 8, x + 8.6, x + 8,
	            x + 7.4);
	sketch_draw(sketch, SKETCH_DASHED, "M %g 13 L %g 13", x - 6.6, x + 6.6);
	if (behind)
		sketch_draw(sketch, SKETCH_LINE,
		            "M %g 22 L %g 33 M %g 31 C %g 35.4 %g 35.4 %g 33 C %g 35.4 %g 35.4 %g 31", x, x, x - 7.4,
		            x - 6, x - 1.6, x, x + 1.6, x + 6, x + 7.4);
	else
		sketch_draw(sketch, SKETCH_SOLID, "O %g 16.4 0.7", x);
}

static void draw_patch_place(struct sketch sketch)
{
	draw_torso(sketch, 10, false);
	draw_torso(sketch, 30, true);
	sketch_draw(sketch, SKETCH_DASHED, "R 4 20 4.6 6 1.4");
	sketch_draw(sketch, SKETCH_PLASTIC, "R 11.4 20 4.6 6 1.4");
	sketch_draw(sketch, SKETCH_DASHED, "R 23.6 16 4.6 6 1.4 R 31.8 16 4.6 6 1.4");
	sketch_arrow(sketch, ARROW_AT_END, "M 6 29.4 C 8 32.4 11.4 32.4 13.4 29.4");
}

static void draw_body_skin(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_BOLD, "M 1 34.6 C 8 30.6 32 30.6 39 34.6");
}

/* Water, then a towel: the skin is dry before anything sticks. */
static void draw_patch_clean(struct sketch sketch)
{
	draw_body_skin(sketch);
	primitive_drop(sketch, (struct point){9, 4}, 8);
	primitive_drop(sketch, (struct point){14.6, 9.6}, 6);
	sketch_draw(sketch, SKETCH_SHAPE, "M 18 14 L 34 10.4 L 36.6 26 L 20 29 Z");
	sketch_draw(sketch, SKETCH_THIN, "M 19 19.4 L 35 16 M 19.8 24 L 35.8 20.8");
	sketch_arrow(sketch, ARROW_AT_BOTH, "M 8 26.4 L 16 24.6");
}

static void draw_patch_press(struct sketch sketch)
{
	draw_body_skin(sketch);
	sketch_draw(sketch, SKETCH_SHAPE, "M 8 28.4 C 14 26.4 26 26.4 32 28.4 L 32 31 C 26 29 14 29 8 31 Z");
	sketch_arrow(sketch, ARROW_AT_END, "M 9 10 L 9 23");
	sketch_arrow(sketch, ARROW_AT_END, "M 31 10 L 31 23");
	primitive_dots(sketch, (struct point){20, 15}, 6, -90, 234, 10);
}

static void draw_patch_count(struct sketch sketch)
{
	sketch_draw(
		sketch, SKETCH_LINE,
		"M 9 2 C 10.6 12 5 18 5.4 27 C 5.6 32 7 36 8 39 M 31 2 C 29.4 12 35 18 34.6 27 C 34.4 32 33 36 32 39");
	sketch_draw(sketch, SKETCH_LINE, "E 20 11 1 1.6");
	sketch_draw(sketch, SKETCH_PLASTIC, "R 9 19 8 9.4 2.4 R 23 19 8 9.4 2.4");
	primitive_check(sketch, (struct point){20, 34}, 8);
}

/* ---- inserts ---- */

static void draw_insert_unwrap(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE, "M 4 14 L 24 14 L 24 34 L 4 34 Z");
	sketch_draw(sketch, SKETCH_DASHED, "M 6 16.4 L 22 16.4 M 6 31.6 L 22 31.6");
	sketch_draw(sketch, SKETCH_SHAPE, "M 24 14 L 29 8 L 34 16 L 24 22 Z");
	sketch_draw(sketch, SKETCH_PLASTIC, "R 10 20.6 11.4 6.4 3");
	sketch_arrow(sketch, ARROW_AT_END, "M 28 5 C 33 4 36.6 7 37 12");
}

/* The applicator's open end takes the insert. */
static void draw_insert_load(struct sketch sketch)
{
	struct sketch part = sketch_place(sketch, (struct point){6, 31}, 1, -40);
	sketch_draw(part, SKETCH_SHAPE, "R 18 -1.3 12 2.6 0.3");
	sketch_draw(part, SKETCH_SHAPE, "R 29 -3.6 2 7.2 0.9");
	sketch_draw(part, SKETCH_SHAPE, "R 4 -3.2 17 6.4 1.2");
	sketch_draw(part, SKETCH_THIN, "M 7 0 L 18 0");
	sketch_end(part);
	struct sketch piece = sketch_place(sketch, (struct point){5.4, 31.4}, 1, -40);
	sketch_draw(piece, SKETCH_PLASTIC, "R -3.6 -2.6 9.4 5.2 2.6");
	sketch_end(piece);
	sketch_arrow(sketch, ARROW_AT_END, "M 3 21 L 9.4 15.6");
}

/* On the back, knees bent. */
static void draw_insert_lie(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_BOLD, "M 1 32 L 39 32");
	sketch_draw(sketch, SKETCH_SHAPE, "O 6 26 3.6");
	sketch_draw(sketch, SKETCH_BOLD, "M 10 28.6 C 15 30 20 30.4 24 29.6 L 31 17 L 36 30.4");
	sketch_draw(sketch, SKETCH_LINE, "M 12 29 L 19 24");
	sketch_draw(sketch, SKETCH_SHAPE, "R 1.4 29.6 8 2.4 1");
}

static void draw_insert_finger(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_BOLD, "M 14 2 C 15.6 8 15 13 11.4 17 M 11.4 24.6 C 15 28.6 15.6 33 14 38.6");
	sketch_draw(sketch, SKETCH_PLASTIC,
	            "M 8 17.6 L 17 17.6 C 17.6 17.6 18 18 18 18.6 L 18 23 C 18 23.6 17.6 24 17 24 "
	            "L 8 24 C 5 24 3 22.4 2 20.8 C 3 19.2 5 17.6 8 17.6 Z");
	sketch_arrow(sketch, ARROW_AT_END, "M 34 20.8 L 22 20.8");
}

/* A pad, no tampon. */
static void draw_insert_after(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE,
	            "M 6 12 C 6 4 16 4 16 12 C 16 17 14.4 19 14.4 21 C 14.4 23 16 25 16 30 "
	            "C 16 38 6 38 6 30 C 6 25 7.6 23 7.6 21 C 7.6 19 6 17 6 12 Z");
	sketch_draw(sketch, SKETCH_DASHED,
	            "M 9 13 C 9 8.6 13 8.6 13 13 L 12 21 L 13 29 C 13 33.4 9 33.4 9 29 L 10 21 Z");
	sketch_draw(sketch, SKETCH_SHAPE, "R 27 7 6.4 17 3");
	sketch_draw(sketch, SKETCH_LINE, "M 30.2 24 C 30.2 29 32.4 30 31 35");
	primitive_strike(sketch, (struct point){30.4, 20}, 17);
}

static const struct step_drawing drawings[] = {
	{"patch-on", draw_patch_on},       {"patch-off", draw_patch_off},         {"patch-place", draw_patch_place},
	{"patch-clean", draw_patch_clean}, {"patch-press", draw_patch_press},     {"patch-count", draw_patch_count},
	{"insert-in", draw_insert_in},     {"insert-unwrap", draw_insert_unwrap}, {"insert-load", draw_insert_load},
	{"insert-lie", draw_insert_lie},   {"insert-finger", draw_insert_finger}, {"insert-after", draw_insert_after},
	{"spray-nose", draw_spray_nose},   {"spray-left", draw_spray_left},       {"spray-right", draw_spray_right},
	{"spray-prime", draw_spray_prime}, {"spray-wipe", draw_spray_wipe},       {"nose-blow", draw_nose_blow},
	{"nose-still", draw_nose_still},   {"wait-count", draw_wait_count},
};

const struct step_table step_form_table = {drawings, sizeof drawings / sizeof *drawings};
