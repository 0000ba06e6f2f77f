/*
 * Pictograms: 24 by 24 units, live area 22, one line weight.
 *
 * One family: vessels stand upright, injectors lie at 45 degrees with the
 * needle down left; liquid is hatched, rubber black, plastic grey. To add one:
 * its name in handout.h, a drawing here, a row in the table at the end.
 */
#include "paint/figures.h"
#include "paint/primitives.h"

#include <assert.h>
#include <math.h>

#define UNITS 24.0
#define PITCH 1.9
/* Below this size, mm, lines grow heavier in units, so that they stay as strong as the type beside them. */
#define SMALL 8.0

#define STROKES(strokes) strokes, sizeof(strokes) / sizeof *(strokes)

/* ---- vessels ---- */

static double level_or(const struct picture *picture, double usual)
{
	return picture->level > 0 ? picture->level : usual;
}

static void draw_powder_vial(struct sketch sketch, const struct picture *picture)
{
	(void)picture;
	primitive_vial(sketch, (struct vial){.at = {12, 23.2}, .scale = 0.78, .content = VIAL_POWDER, .lid = true});
}

static void draw_liquid_vial(struct sketch sketch, const struct picture *picture)
{
	primitive_vial(sketch, (struct vial){.at = {12, 23.2},
	                                     .scale = 0.78,
	                                     .content = VIAL_LIQUID,
	                                     .level = level_or(picture, 0.72),
	                                     .lid = true});
}

/* A full vial with the line to which it is used: at `level` of its content. */
static void draw_half_vial(struct sketch sketch, const struct picture *picture)
{
	const double scale = 0.84;
	const double full = 0.82;
	double y = 23.2 - level_or(picture, 0.5) * full * VIAL_BODY_HEIGHT * scale;

	primitive_vial(sketch, (struct vial){.at = {12, 23.2}, .scale = scale, .content = VIAL_LIQUID, .level = full});
	sketch_draw(sketch, SKETCH_BOLD, "M 2 %g L 22 %g", y, y);
}

static void draw_ampoule(struct sketch sketch, const struct picture *picture)
{
	primitive_ampoule(sketch, (struct ampoule){.at = {12, 23.2}, .scale = 0.9, .level = level_or(picture, 0.8)});
}

/* ---- injectors ---- */

static void draw_filled_syringe(struct sketch sketch, const struct picture *picture)
{
	(void)picture;
	primitive_syringe(sketch, (struct syringe_part){.at = {5.4, 18.6},
	                                                .scale = 1.22,
	                                                .turn = -45,
	                                                .length = 9,
	                                                .ring = 0.9,
	                                                .to = 0.9,
	                                                .needle = LOOK_CAP,
	                                                .needle_length = 2.6});
}

/* The plunger is all the way in: nothing can be inside. */
static void draw_empty_syringe(struct sketch sketch, const struct picture *picture)
{
	(void)picture;
	primitive_syringe(sketch, (struct syringe_part){.at = {8, 16},
	                                                .scale = 1.22,
	                                                .turn = -45,
	                                                .length = 9.6,
	                                                .needle = LOOK_THIN,
	                                                .needle_length = 3});
}

/* Plainer than the step pictures' pen, whose parts would run together here. */
static void draw_pen(struct sketch sketch, const struct picture *picture)
{
	struct sketch part = sketch_place(sketch, (struct point){11.4, 12.6}, 1, -45);

	(void)picture;
	sketch_draw(part, SKETCH_SOLID, "R -15.4 -0.35 5 0.7 0");
	sketch_draw(part, SKETCH_SHAPE, "M -8.4 -2.8 L -11.6 -1.2 L -11.6 1.2 L -8.4 2.8 Z");
	sketch_draw(part, SKETCH_BLANK, "R -8.4 -2.8 8.4 5.6 0");
	sketch_draw(part, SKETCH_LIQUID, "R -8.4 -2.8 8.4 5.6 0");
	sketch_draw(part, SKETCH_LINE, "R -8.4 -2.8 8.4 5.6 0");
	sketch_draw(part, SKETCH_PLASTIC, "R 9 -2.9 5.4 5.8 1");
	sketch_draw(part, SKETCH_SHAPE, "R -0.4 -3.8 10.2 7.6 1.2");
	sketch_draw(part, SKETCH_LINE, "R 2.6 -1.5 4.6 3 0.6");
	sketch_end(part);
}

static void draw_needle(struct sketch sketch, enum needle_look look)
{
	primitive_needle(sketch, (struct needle_part){
					 .at = {19.6, 4.4}, .scale = 1.5, .turn = -45, .look = look, .length = 10.4});
}

static void draw_thick_needle(struct sketch sketch, const struct picture *picture)
{
	(void)picture;
	draw_needle(sketch, LOOK_THICK);
}

static void draw_thin_needle(struct sketch sketch, const struct picture *picture)
{
	(void)picture;
	draw_needle(sketch, LOOK_THIN);
}

static void draw_filter_needle(struct sketch sketch, const struct picture *picture)
{
	(void)picture;
	draw_needle(sketch, LOOK_FILTER);
}

/* Short, with a wide hub that is screwed on. */
static void draw_pen_needle(struct sketch sketch, const struct picture *picture)
{
	struct sketch part = sketch_place(sketch, (struct point){11.5, 12.5}, 1, -45);

	(void)picture;
	sketch_draw(part, SKETCH_SOLID, "R -12 -0.35 9 0.7 0");
	sketch_draw(part, SKETCH_SHAPE, "M 11 -5 L 1 -5 L -3.4 -1.6 L -3.4 1.6 L 1 5 L 11 5 Z");
	sketch_draw(part, SKETCH_LINE, "M 3.6 -2.2 L 8.4 -2.2 M 3.6 0 L 8.4 0 M 3.6 2.2 L 8.4 2.2");
	sketch_end(part);
}

/* ---- other forms ---- */

static const struct sketch_stroke tablet[] = {
	{SKETCH_SHAPE, "O 12 12 9.4"},
	{SKETCH_THIN, "O 12 12 7"},
	{SKETCH_LINE, "M 5 12 L 19 12"},
};

/* One half, broken off on the line; where the other was is dashed. */
static const struct sketch_stroke half_tablet[] = {
	{SKETCH_DASHED, "M 12.6 2.6 A 12.6 12 9.4 -90 90 Z"},
	{SKETCH_SHAPE, "M 11 2.6 A 11 12 9.4 270 90 Z"},
	{SKETCH_BOLD, "M 11 2.6 L 11 21.4"},
};

static void draw_capsule(struct sketch sketch, const struct picture *picture)
{
	struct sketch part = sketch_place(sketch, (struct point){12, 12}, 1, -45);

	(void)picture;
	sketch_draw(part, SKETCH_PLASTIC, "M 0 -4.6 L -6.4 -4.6 C -12.6 -4.6 -12.6 4.6 -6.4 4.6 L 0 4.6 Z");
	sketch_draw(part, SKETCH_SHAPE, "M 0 -4.6 L 6.4 -4.6 C 12.6 -4.6 12.6 4.6 6.4 4.6 L 0 4.6 Z");
	sketch_draw(part, SKETCH_THIN, "M 3 -2.2 L 6.6 -2.2");
	sketch_end(part);
}

static const struct sketch_stroke patch[] = {
	{SKETCH_SHAPE, "R 2 4 20 16 4"},
	{SKETCH_DASHED, "R 5 7 14 10 2"},
	{SKETCH_PLASTIC, "M 22 12.6 L 22 16 C 22 18.4 20.4 20 18 20 L 14.6 20 Z"},
};

/* An applicator with the insert at its top. */
static const struct sketch_stroke insert[] = {
	{SKETCH_SHAPE, "R 10.6 15 2.8 6 0"},
	{SKETCH_SHAPE, "R 8.4 20.6 7.2 2.2 1"},
	{SKETCH_PLASTIC, "R 8.9 1.2 6.2 9.4 3.1"},
	{SKETCH_SHAPE, "R 8 7 8 8.6 1.2"},
};

static const struct sketch_stroke spray[] = {
	{SKETCH_SHAPE, "M 9 8.6 L 9.8 2 C 9.9 1.3 10.3 1 11 1 L 13 1 C 13.7 1 14.1 1.3 14.2 2 L 15 8.6 Z"},
	{SKETCH_PLASTIC, "R 5 8.6 14 3 1.2"},
	{SKETCH_SHAPE, "R 7 11.6 10 11.4 2"},
	{SKETCH_LIQUID, "M 7.5 15.4 L 16.5 15.4 L 16.5 21 C 16.5 22 16 22.5 15 22.5 L 9 22.5 C 8 22.5 7.5 22 7.5 21 Z"},
	{SKETCH_LINE, "R 7 11.6 10 11.4 2"},
};

static const struct sketch_stroke drops[] = {
	{SKETCH_PLASTIC, "R 5 1 6 5 1.6"},
	{SKETCH_SHAPE, "R 3.6 6 8.8 2.6 0.6"},
	{SKETCH_SHAPE, "M 5 8.6 L 11 8.6 L 11 10 C 13 10.6 14 12 14 14 L 14 20.6 C 14 22 13.2 23 11.8 23 L 4.2 23 "
                       "C 2.8 23 2 22 2 20.6 L 2 14 C 2 12 3 10.6 5 10 Z"},
	{SKETCH_LIQUID, "M 2.5 15.6 L 13.5 15.6 L 13.5 20.6 C 13.5 21.8 12.8 22.5 11.8 22.5 L 4.2 22.5 C 3.2 22.5 2.5 "
                        "21.8 2.5 20.6 Z"},
	{SKETCH_DROP, "M 19 11 C 19.8 13 22 14.4 22 16.8 C 22 18.6 20.7 19.8 19 19.8 C 17.3 19.8 16 18.6 16 16.8 "
                      "C 16 14.4 18.2 13 19 11 Z"},
};

static const struct sketch_stroke sachet[] = {
	{SKETCH_SHAPE, "R 4 1.4 16 21.2 1"},
	{SKETCH_DASHED, "M 4 6 L 20 6 M 4 19.4 L 20 19.4"},
	{SKETCH_BLANK, "M 20.8 9 L 17 10.6 L 20.8 12.2 Z"},
	{SKETCH_LINE, "M 20 9.2 L 17.2 10.6 L 20 12"},
	{SKETCH_LINE, "M 8 10.6 L 13 10.6 M 8 14 L 15 14"},
};

/* ---- to inject with ---- */

static const struct sketch_stroke wipe[] = {
	{SKETCH_SHAPE, "M 1.4 5.4 L 20.4 2.4 L 22.6 18.4 L 3.6 21.4 Z"},
	{SKETCH_DASHED, "M 4.4 7.9 L 18.3 5.7 L 19.7 15.9 L 5.8 18.1 Z"},
	{SKETCH_DROP, "M 11.6 7 C 12.4 9 14.8 10.4 14.8 13 C 14.8 15 13.6 16.2 12 16.2 C 10.4 16.2 9.2 15 9.2 13 "
                      "C 9.2 10.6 11 9.2 11.6 7 Z"},
};

static void draw_sharps_box(struct sketch sketch, const struct picture *picture)
{
	(void)picture;
	primitive_sharps_box(sketch, (struct point){12, 23.2}, 1.06);
	sketch_draw(sketch, SKETCH_BOLD, "M 12 3.4 L 12.6 1");
}

/* ---- times of day ---- */

static void draw_rays(struct sketch sketch, struct point centre, double from, double to, double inner, double outer,
                      int count)
{
	for (int i = 0; i < count; i++) {
		double angle = from + (to - from) * i / (count - 1);
		struct point start = point_on_circle(centre, inner, angle);
		struct point end = point_on_circle(centre, outer, angle);
		sketch_draw(sketch, SKETCH_LINE, "M %g %g L %g %g", start.x, start.y, end.x, end.y);
	}
}

static void draw_sun(struct sketch sketch, const struct picture *picture)
{
	(void)picture;
	sketch_draw(sketch, SKETCH_SHAPE, "O 12 12 4.8");
	draw_rays(sketch, (struct point){12, 12}, 0, 315, 7.6, 10.8, 8);
}

/* The sun at the top of its way. */
static void draw_noon(struct sketch sketch, const struct picture *picture)
{
	(void)picture;
	sketch_draw(sketch, SKETCH_LINE, "M 1.6 21.6 L 22.4 21.6");
	sketch_draw(sketch, SKETCH_DASHED, "A 12 21.6 9 190 350");
	sketch_draw(sketch, SKETCH_BLANK, "O 12 11.6 5");
	sketch_draw(sketch, SKETCH_SHAPE, "O 12 11.6 3.4");
	draw_rays(sketch, (struct point){12, 11.6}, 180, 360, 5.6, 8, 5);
}

/* Half a sun on the horizon, which might as well rise: the arrow says that it goes down. */
static const struct sketch_stroke evening[] = {
	{SKETCH_LINE, "A 12 17.6 5.6 180 360"},
	{SKETCH_LINE, "M 1.4 17.6 L 22.6 17.6 M 6 21.6 L 18 21.6 M 2.6 10.6 L 4.8 12.2 M 21.4 10.6 L 19.2 12.2"},
	{SKETCH_LINE, "M 12 1.6 L 12 8.6 M 8.6 5.4 L 12 8.8 L 15.4 5.4"},
};

static const struct sketch_stroke moon[] = {
	{SKETCH_SHAPE, "M 10.6 2 C 5.6 3.2 2 7.6 2 12.6 C 2 18.4 6.4 22.4 12 22.4 C 16.8 22.4 20.8 19.4 22 14.8 "
                       "C 15.4 17.4 6.8 10.6 10.6 2 Z"},
};

/* ---- places and things ---- */

static const struct sketch_stroke house[] = {
	{SKETCH_SHAPE, "M 4 11 L 4 22.4 L 20 22.4 L 20 11"},
	{SKETCH_LINE, "M 1.4 11.8 L 12 2 L 22.6 11.8 M 9.4 22.4 L 9.4 14.4 L 14.6 14.4 L 14.6 22.4"},
};

static const struct sketch_stroke phone[] = {
	{SKETCH_SHAPE, "M 5 3 C 6.4 1.8 7.8 1.6 8.6 2.8 L 11 6.6 C 11.6 7.8 11.2 8.8 10.2 9.6 L 8.6 10.8 C 9.6 13 11.2 "
                       "14.8 13.4 15.8 "
                       "L 14.6 14 C 15.4 13 16.4 12.8 17.6 13.4 L 21.2 15.8 C 22.4 16.6 22.4 17.8 21.2 19 C 19.4 21 "
                       "17.4 22.4 14.6 21.8 "
                       "C 8.4 20.4 3.6 15.2 2.4 9.2 C 1.9 6.6 3.2 4.6 5 3 Z"},
	{SKETCH_LINE, "M 14.4 6.4 C 16.2 7 17.2 8.2 17.6 10 M 15 2 C 18.6 2.8 21.2 5.4 22 9"},
};

static void draw_fridge(struct sketch sketch, const struct picture *picture)
{
	(void)picture;
	primitive_fridge(sketch, (struct point){5.3, 1}, 0.957);
}

static const struct sketch_stroke shelf[] = {
	{SKETCH_SHAPE, "R 4.4 5 5 6 0 R 11.4 2 5.6 9 0 R 8 16 9 5.4 0"},
	{SKETCH_LINE, "M 1.4 11.2 L 22.6 11.2 M 1.4 21.8 L 22.6 21.8"},
};

static const struct sketch_stroke calendar[] = {
	{SKETCH_SHAPE, "R 2 4 20 18.6 2.2"},
	{SKETCH_LINE, "M 2 9.4 L 22 9.4 M 7.4 1.4 L 7.4 6 M 16.6 1.4 L 16.6 6"},
	{SKETCH_THIN, "R 5.6 12 3 2.6 0.3 R 10.5 12 3 2.6 0.3 R 15.4 12 3 2.6 0.3 R 5.6 16.8 3 2.6 0.3 "
                      "R 10.5 16.8 3 2.6 0.3 R 15.4 16.8 3 2.6 0.3"},
};

static const struct sketch_stroke sheet[] = {
	{SKETCH_SHAPE, "M 4 1.4 L 15 1.4 L 20 6.4 L 20 22.6 L 4 22.6 Z"},
	{SKETCH_LINE, "M 15 1.4 L 15 6.4 L 20 6.4 M 7.6 11 L 16.4 11 M 7.6 14.6 L 16.4 14.6 M 7.6 18.2 L 13 18.2"},
};

static const struct sketch_stroke bag[] = {
	{SKETCH_LINE, "M 7.6 8 C 7.6 3.6 9.4 1.6 12 1.6 C 14.6 1.6 16.4 3.6 16.4 8"},
	{SKETCH_SHAPE, "M 3.6 7.6 L 20.4 7.6 L 22 22.4 L 2 22.4 Z"},
	{SKETCH_LINE, "M 7.6 9.6 L 7.6 8 M 16.4 9.6 L 16.4 8"},
	{SKETCH_BOLD, "M 12 11.8 L 12 19 M 8.4 15.4 L 15.6 15.4"},
};

static const struct sketch_stroke bell[] = {
	{SKETCH_SHAPE,
         "M 12 3.4 C 8.2 3.4 6.2 6 6.2 9.6 C 6.2 14.4 5.2 16 3.2 18.2 L 20.8 18.2 C 18.8 16 17.8 14.4 17.8 "
         "9.6 C 17.8 6 15.8 3.4 12 3.4 Z"},
	{SKETCH_LINE, "M 12 3.4 L 12 1.6 M 9.6 20.6 C 9.8 23 14.2 23 14.4 20.6 M 1.6 9 C 1.6 6 2.4 4 4 2.4 "
                      "M 22.4 9 C 22.4 6 21.6 4 20 2.4"},
};

static void draw_clock(struct sketch sketch, const struct picture *picture)
{
	(void)picture;
	primitive_clock(sketch, (struct point){12, 12}, 10.4, 10, 10);
}

/* ---- words ---- */

static void draw_check(struct sketch sketch, const struct picture *picture)
{
	(void)picture;
	primitive_check(sketch, (struct point){12, 12.4}, 20);
}

static void draw_cross(struct sketch sketch, const struct picture *picture)
{
	struct sketch heavy = sketch;

	(void)picture;
	heavy.line = 1.5;
	primitive_cross(heavy, (struct point){12, 12}, 22);
}

static const struct sketch_stroke speech[] = {
	{SKETCH_SHAPE,
         "M 5 3 L 19 3 C 21.2 3 22.6 4.4 22.6 6.6 L 22.6 13.4 C 22.6 15.6 21.2 17 19 17 L 12 17 L 6.4 22.2 "
         "L 7 17 L 5 17 C 2.8 17 1.4 15.6 1.4 13.4 L 1.4 6.6 C 1.4 4.4 2.8 3 5 3 Z"},
	{SKETCH_LINE, "M 6 8 L 18 8 M 6 12 L 14 12"},
};

static const struct sketch_stroke stop_sign[] = {
	{SKETCH_SHAPE, "M 7.6 1.4 L 16.4 1.4 L 22.6 7.6 L 22.6 16.4 L 16.4 22.6 L 7.6 22.6 L 1.4 16.4 L 1.4 7.6 Z"},
	{SKETCH_SOLID, "R 6 10.2 12 3.6 0"},
};

static const struct sketch_stroke heed[] = {
	{SKETCH_SHAPE, "M 12 2 L 22.6 21.6 L 1.4 21.6 Z"},
	{SKETCH_SOLID, "M 10.7 8.4 L 13.3 8.4 L 12.7 15.2 L 11.3 15.2 Z"},
	{SKETCH_SOLID, "O 12 18 1.3"},
};

static const struct sketch_stroke torn[] = {
	{SKETCH_SHAPE, "M 5 1.2 L 15 1.2 L 19 5.2 L 19 9.4 L 16.2 7.4 L 13.4 10 L 10.6 7.4 L 7.8 10 L 5 8 Z"},
	{SKETCH_SHAPE, "M 5 13 L 7.8 15 L 10.6 12.4 L 13.4 15 L 16.2 12.4 L 19 14.4 L 19 22.8 L 5 22.8 Z"},
	{SKETCH_LINE, "M 15 1.2 L 15 5.2 L 19 5.2 M 8 18.6 L 16 18.6"},
};

static const struct sketch_stroke belly[] = {
	{SKETCH_SHAPE, "R 1.4 5 21.2 14 7"},
	{SKETCH_LINE, "O 12 12 2.4"},
};

/* ---- the table ---- */

struct drawing {
	void (*draw)(struct sketch sketch, const struct picture *picture); /* or: */
	const struct sketch_stroke *strokes;
	size_t n;
};

static const struct drawing drawings[] = {
	[PICTURE_POWDER_VIAL] = {.draw = draw_powder_vial},
	[PICTURE_LIQUID_VIAL] = {.draw = draw_liquid_vial},
	[PICTURE_AMPOULE] = {.draw = draw_ampoule},
	[PICTURE_FILLED_SYRINGE] = {.draw = draw_filled_syringe},
	[PICTURE_EMPTY_SYRINGE] = {.draw = draw_empty_syringe},
	[PICTURE_PEN] = {.draw = draw_pen},
	[PICTURE_TABLET] = {NULL, STROKES(tablet)},
	[PICTURE_HALF_TABLET] = {NULL, STROKES(half_tablet)},
	[PICTURE_CAPSULE] = {.draw = draw_capsule},
	[PICTURE_PATCH] = {NULL, STROKES(patch)},
	[PICTURE_INSERT] = {NULL, STROKES(insert)},
	[PICTURE_SPRAY] = {NULL, STROKES(spray)},
	[PICTURE_DROPS] = {NULL, STROKES(drops)},
	[PICTURE_SACHET] = {NULL, STROKES(sachet)},
	[PICTURE_THICK_NEEDLE] = {.draw = draw_thick_needle},
	[PICTURE_THIN_NEEDLE] = {.draw = draw_thin_needle},
	[PICTURE_FILTER_NEEDLE] = {.draw = draw_filter_needle},
	[PICTURE_PEN_NEEDLE] = {.draw = draw_pen_needle},
	[PICTURE_WIPE] = {NULL, STROKES(wipe)},
	[PICTURE_SHARPS_BOX] = {.draw = draw_sharps_box},
	[PICTURE_SUN] = {.draw = draw_sun},
	[PICTURE_NOON] = {.draw = draw_noon},
	[PICTURE_EVENING] = {NULL, STROKES(evening)},
	[PICTURE_MOON] = {NULL, STROKES(moon)},
	[PICTURE_HOUSE] = {NULL, STROKES(house)},
	[PICTURE_PHONE] = {NULL, STROKES(phone)},
	[PICTURE_FRIDGE] = {.draw = draw_fridge},
	[PICTURE_SHELF] = {NULL, STROKES(shelf)},
	[PICTURE_CALENDAR] = {NULL, STROKES(calendar)},
	[PICTURE_SHEET] = {NULL, STROKES(sheet)},
	[PICTURE_BAG] = {NULL, STROKES(bag)},
	[PICTURE_BELL] = {NULL, STROKES(bell)},
	[PICTURE_CLOCK] = {.draw = draw_clock},
	[PICTURE_HALF_VIAL] = {.draw = draw_half_vial},
	[PICTURE_CHECK] = {.draw = draw_check},
	[PICTURE_CROSS] = {.draw = draw_cross},
	[PICTURE_SAY] = {NULL, STROKES(speech)},
	[PICTURE_STOP] = {NULL, STROKES(stop_sign)},
	[PICTURE_HEED] = {NULL, STROKES(heed)},
	[PICTURE_TEAR] = {NULL, STROKES(torn)},
	[PICTURE_BELLY] = {NULL, STROKES(belly)},
};

/* 1 unit; from 1.2 just below 8 mm to 1.5 at 4.2 mm and less. */
static double line_units(double size)
{
	return size < SMALL ? fmin(1.2 + (SMALL - size) * 0.08, 1.5) : 1;
}

void figure_picture(struct painter *painter, const struct picture *picture)
{
	if (picture->pictogram == PICTURE_NONE)
		return;
	assert((size_t)picture->pictogram < sizeof drawings / sizeof *drawings);

	const struct drawing *drawing = &drawings[picture->pictogram];
	double unit = picture->size / UNITS;
	struct sketch page = {.painter = painter,
	                      .line = line_units(picture->size) * unit,
	                      .pitch = fmax(PITCH * unit, HATCH_PITCH_LEAST)};
	struct sketch sketch = sketch_place(page, picture->at, unit, 0);
	if (drawing->draw) {
		drawing->draw(sketch, picture);
	} else {
		assert(drawing->strokes);
		sketch_strokes(sketch, drawing->strokes, drawing->n);
	}
	sketch_end(sketch);
}
