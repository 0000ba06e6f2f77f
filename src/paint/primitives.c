#include "paint/primitives.h"

#include <math.h>

/* ---- vials ---- */

/* Neck, shoulder and body, the bottom's middle at (0, 0). */
#define VIAL_GLASS                                                                                                  \
	"M -4 -20.6 L -4 -18.8 C -4 -16.4 -8 -17 -8 -13.4 L -8 -2 C -8 -0.6 -7.4 0 -6 0 L 6 0 C 7.4 0 8 -0.6 8 -2 " \
	"L 8 -13.4 C 8 -17 4 -16.4 4 -18.8 L 4 -20.6 Z"

/* From wall to wall. */
#define POWDER_HEAP "M -8 -5.13 C -4.64 -6.01 -2.74 -4.09 0 -5 C 2.67 -6.07 5.33 -6.03 8 -5.44"

/* Liquid runs to the neck when the vial stands on its head. */
static void draw_vial_liquid(struct sketch sketch, const struct vial *vial)
{
	double height = vial->level * VIAL_BODY_HEIGHT;

	sketch_fill_vessel(sketch, VIAL_GLASS, vial->upside_down ? -16.4 + height : -height, !vial->upside_down);
}

/* The heap's foot is the vial's. */
static void draw_powder(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_POWDER, POWDER_HEAP " L 8 -2 C 8 -0.6 7.4 0 6 0 L -6 0 C -7.4 0 -8 -0.6 -8 -2 Z");
	sketch_draw(sketch, SKETCH_THIN, POWDER_HEAP);
	sketch_draw(sketch, SKETCH_SOLID,
	            "O -5.2 -2.6 0.45 O -2.8 -1.4 0.45 O -1.2 -3.3 0.45 O 0.9 -1.6 0.45 O 2.6 -3.4 0.45 O 4 -1.7 0.45 "
	            "O 5.8 -3.2 0.45");
}

static void draw_bits(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SOLID,
	            "R -5 -9 1.9 1.5 0.3 R -1.4 -5 1.6 1.9 0.3 R 2.6 -8 1.8 1.5 0.3 R 3.6 -3.6 1.5 1.5 0.3 "
	            "R -5 -3.2 1.6 1.3 0.3");
}

/* Clouds stand before the hatch, so that both can be told without colour. */
static void draw_clouds(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_PLASTIC,
	            "M -5.4 -3 C -7 -3.2 -7 -5.6 -5.2 -5.6 C -5.4 -8.4 -1.8 -9 -1 -6.8 C 0.4 -9.6 4 -8.4 3.8 -5.8 "
	            "C 6 -6 6.4 -3 4.4 -3 Z");
}

static void draw_closure(struct sketch sketch, bool lid)
{
	sketch_draw(sketch, SKETCH_SHAPE, "R -5.6 -25.2 11.2 4.8 1.1");
	sketch_draw(sketch, SKETCH_THIN, "M -5.6 -22.8 L 5.6 -22.8");
	if (lid)
		sketch_draw(sketch, SKETCH_PLASTIC, "R -6.1 -28.4 12.2 3.2 1.1");
	else
		sketch_draw(sketch, SKETCH_SOLID, "R -2.8 -26.2 5.6 1 0.4");
}

void primitive_vial(struct sketch sketch, struct vial vial)
{
	struct sketch part = sketch_place(sketch, vial.at, vial.scale, vial.turn + (vial.upside_down ? 180 : 0));

	sketch_draw(part, SKETCH_BLANK, VIAL_GLASS);
	if (vial.content == VIAL_POWDER)
		draw_powder(part);
	else if (vial.content != VIAL_EMPTY)
		draw_vial_liquid(part, &vial);
	if (vial.content == VIAL_BITS)
		draw_bits(part);
	if (vial.content == VIAL_CLOUDY)
		draw_clouds(part);
	sketch_draw(part, SKETCH_LINE, VIAL_GLASS);
	draw_closure(part, vial.lid);
	sketch_end(part);
}

/* ---- needles and syringes ---- */

#define HUB_LENGTH 5.0
#define NOZZLE_LENGTH 2.0

/* A cannula is a filled bar: its width is the sign, so it does not follow the outlines' width. */
static void draw_cannula(struct sketch sketch, double from, double length, double width)
{
	sketch_draw(sketch, SKETCH_SOLID, "R %g %g %g %g 0", from - length, -width / 2, length, width);
}

static void draw_hub(struct sketch sketch, enum needle_look look)
{
	if (look == LOOK_FILTER) {
		/* The filter is a wide disc across the hub; its mesh is the sign. */
		sketch_draw(sketch, SKETCH_SHAPE, "R -1.8 -1.8 1.8 3.6 0.3");
		sketch_draw(sketch, SKETCH_SHAPE, "M -4 -1.8 L -6 -0.9 L -6 0.9 L -4 1.8 Z");
		sketch_draw(sketch, SKETCH_SHAPE, "R -4.4 -3.6 3 7.2 1.2");
		sketch_draw(sketch, SKETCH_THIN,
		            "M -2.9 -3.4 L -2.9 3.4 M -4.2 -1.7 L -1.6 -1.7 M -4.2 0 L -1.6 0 M -4.2 1.7 L -1.6 1.7");
		return;
	}
	sketch_draw(sketch, look == LOOK_THICK ? SKETCH_HUB : SKETCH_SHAPE,
	            "M 0 -2.2 L -2.9 -2.2 L -5 -0.9 L -5 0.9 L -2.9 2.2 L 0 2.2 Z");
	sketch_draw(sketch, SKETCH_THIN, "M -0.8 -0.8 L -2.7 -0.8 M -0.8 0.8 L -2.7 0.8");
}

void primitive_needle(struct sketch sketch, struct needle_part needle)
{
	struct sketch part = sketch_place(sketch, needle.at, needle.scale, needle.turn);

	if (needle.look == LOOK_CAP) {
		sketch_draw(part, SKETCH_PLASTIC, "R %g -1.7 %g 3.4 1.7", -needle.length - 1, needle.length + 1);
	} else if (needle.look != LOOK_NO_NEEDLE) {
		draw_cannula(part, -HUB_LENGTH, needle.length, needle.look == LOOK_THIN ? 0.45 : 1.1);
		draw_hub(part, needle.look);
	}
	sketch_end(part);
}

/* How far before the barrel's front end the needle's tip is, in units of the part. */
static double primitive_reach(const struct syringe_part *syringe)
{
	switch (syringe->needle) {
	case LOOK_NO_NEEDLE:
		return NOZZLE_LENGTH;
	case LOOK_CAP:
		return syringe->needle_length + 2;
	case LOOK_THIN:
	case LOOK_THICK:
	case LOOK_FILTER:
		break;
	}
	return NOZZLE_LENGTH - 1 + HUB_LENGTH + syringe->needle_length;
}

/* What the stopper leaves of the barrel. */
static double travel(const struct syringe_part *syringe)
{
	return syringe->length - 3.4;
}

static void draw_bubbles(struct sketch sketch, int count)
{
	static const char *const bubbles[] = {"O 1.6 -1 0.7", "O 2.4 0.9 0.75", "O 4.4 -0.4 0.6", "O 5.6 1.1 0.55"};

	for (int i = 0; i < count && i < (int)(sizeof bubbles / sizeof *bubbles); i++) {
		sketch_draw(sketch, SKETCH_BLANK, "%s", bubbles[i]);
		sketch_draw(sketch, SKETCH_THIN, "%s", bubbles[i]);
	}
}

static void draw_ticks(struct sketch sketch, double length)
{
	for (int i = 1; i * 2.2 < length - 1.2; i++)
		sketch_draw(sketch, SKETCH_THIN, "M %g 2.2 L %g %g", i * 2.2, i * 2.2, i % 2 ? 1.2 : 0.6);
}

static void draw_wedge(struct sketch sketch, double x, bool open)
{
	sketch_draw(sketch, SKETCH_LINE, "M %g -2.2 L %g 2.2", x, x);
	sketch_draw(sketch, open ? SKETCH_SHAPE : SKETCH_SOLID, "M %g -3 L %g -6.4 L %g -6.4 Z", x, x - 2.1, x + 2.1);
}

static void draw_small_clouds(struct sketch sketch, double y)
{
	struct sketch cloud = sketch_place(sketch, (struct point){0.2, y}, 0.34, 0);

	draw_clouds(cloud);
	sketch_end(cloud);
}

/* The marks that spoil a vial's liquid, made small; upright however the syringe is turned. */
static void draw_spoiled(struct sketch sketch, const struct syringe_part *syringe, double middle)
{
	struct sketch upright = sketch_place(sketch, (struct point){middle, 0}, 1, -syringe->turn);

	if (syringe->content == VIAL_CLOUDY) {
		draw_small_clouds(upright, 0.9);
		draw_small_clouds(upright, 3.2);
	}
	if (syringe->content == VIAL_BITS) {
		struct sketch bits = sketch_place(upright, (struct point){0, 2.4}, 0.42, 0);
		draw_bits(bits);
		sketch_end(bits);
	}
	sketch_end(upright);
}

static void draw_plunger(struct sketch sketch, double ring, double length)
{
	double thumb = length + 3 + ring;

	sketch_draw(sketch, SKETCH_SHAPE, "R %g -1.2 %g 2.4 0", ring + 1, thumb - ring - 1);
	sketch_draw(sketch, SKETCH_SHAPE, "R %g -2.8 1.5 5.6 0.7", thumb);
}

void primitive_syringe(struct sketch sketch, struct syringe_part syringe)
{
	struct sketch part = sketch_place(sketch, syringe.at, syringe.scale, syringe.turn);
	double length = syringe.length;
	double ring = syringe.ring * travel(&syringe);
	double from = syringe.from * travel(&syringe);
	double to = syringe.to * travel(&syringe);

	sketch_draw(part, SKETCH_SHAPE, "R %g -1 %g 2 0.3", -NOZZLE_LENGTH, NOZZLE_LENGTH);
	sketch_draw(part, SKETCH_BLANK, "R 0 -2.2 %g 4.4 0.6", length);
	if (to > from)
		sketch_draw(part, SKETCH_LIQUID, "R %g -2.2 %g 4.4 0", from, to - from);
	draw_spoiled(part, &syringe, (from + to) / 2);
	draw_bubbles(part, syringe.bubbles);
	draw_plunger(part, ring, length);
	sketch_draw(part, SKETCH_SOLID, "R %g -2.2 2.4 4.4 0", ring);
	if (syringe.graduated)
		draw_ticks(part, length);
	sketch_draw(part, SKETCH_LINE, "R 0 -2.2 %g 4.4 0.6", length);
	sketch_draw(part, SKETCH_SHAPE, "R %g -4.4 1.5 8.8 0.7", length - 0.6);
	if (syringe.wedge)
		draw_wedge(part, ring, syringe.wedge_open);
	primitive_needle(part,
	                 (struct needle_part){
				 .at = {-1, 0}, .scale = 1, .look = syringe.needle, .length = syringe.needle_length});
	sketch_end(part);
}

/* The hub ends on the rubber; the tip stays just inside where the vial is on its head, so that it is covered. */
void primitive_filling(struct sketch sketch, struct filling filling)
{
	const double scale = 0.75;
	double direction = filling.upside_down ? 1 : -1;
	double rubber = filling.at.y + direction * VIAL_HEIGHT * scale;
	struct syringe_part syringe = filling.syringe;

	syringe.scale = scale;
	syringe.turn = filling.upside_down ? 90 : -90;
	syringe.needle_length = filling.upside_down || filling.tip_in_air ? 8 : 13;
	syringe.at = (struct point){filling.at.x,
	                            rubber + direction * scale * (primitive_reach(&syringe) - syringe.needle_length)};
	primitive_vial(sketch, (struct vial){.at = filling.at,
	                                     .scale = scale,
	                                     .content = filling.content,
	                                     .level = filling.level,
	                                     .upside_down = filling.upside_down});
	primitive_syringe(sketch, syringe);
}

/* ---- ampoules ---- */

#define AMPOULE_BODY                                                                                   \
	"M -1.8 -15.4 C -1.8 -12.4 -4.5 -13.4 -4.5 -10.6 L -4.5 -1.6 C -4.5 -0.5 -4 0 -2.9 0 L 2.9 0 " \
	"C 4 0 4.5 -0.5 4.5 -1.6 L 4.5 -10.6 C 4.5 -13.4 1.8 -12.4 1.8 -15.4 Z"
#define AMPOULE_HEAD                                                                                         \
	"M -1.8 -15.4 C -1.8 -17.2 -3 -17.8 -3 -20 C -3 -22.6 -1.6 -24.6 0 -24.6 C 1.6 -24.6 3 -22.6 3 -20 " \
	"C 3 -17.8 1.8 -17.2 1.8 -15.4 Z"

static void draw_ampoule_body(struct sketch sketch, double level)
{
	sketch_draw(sketch, SKETCH_BLANK, AMPOULE_BODY);
	sketch_fill_vessel(sketch, AMPOULE_BODY, -level * 12, true);
	sketch_draw(sketch, SKETCH_LINE, AMPOULE_BODY);
}

void primitive_ampoule(struct sketch sketch, struct ampoule ampoule)
{
	struct sketch part = sketch_place(sketch, ampoule.at, ampoule.scale, ampoule.turn);

	draw_ampoule_body(part, ampoule.level);
	if (!ampoule.open)
		sketch_draw(part, SKETCH_SHAPE, AMPOULE_HEAD);
	sketch_end(part);
}

/* ---- pens ---- */

void primitive_pen(struct sketch sketch, struct pen_part pen)
{
	struct sketch part = sketch_place(sketch, pen.at, pen.scale, pen.turn);
	double out = pen.knob_out * 4;

	if (pen.needle)
		draw_cannula(part, -3.4, 4, 0.45);
	sketch_draw(part, SKETCH_SHAPE, "M 0 -2.4 L -2.6 -1.4 L -3.6 -0.7 L -3.6 0.7 L -2.6 1.4 L 0 2.4 Z");
	sketch_draw(part, SKETCH_SHAPE, "R 0 -2.8 15 5.6 1");
	sketch_draw(part, SKETCH_LIQUID, "R 2.4 -1.3 8.4 2.6 0");
	sketch_draw(part, SKETCH_SOLID, "R 9.4 -1.3 1.8 2.6 0");
	sketch_draw(part, SKETCH_LINE, "R 2.4 -1.3 10.4 2.6 0.5");
	sketch_draw(part, SKETCH_PLASTIC, "R %g -2.6 6 5.2 1", 30 + out);
	sketch_draw(part, SKETCH_THIN, "M %g -1.4 L %g 1.4 M %g -1.4 L %g 1.4", 32.6 + out, 32.6 + out, 34 + out,
	            34 + out);
	if (out > 0)
		sketch_draw(part, SKETCH_SHAPE, "R 29 -2 %g 4 0", out + 1);
	sketch_draw(part, SKETCH_SHAPE, "R 14.4 -3.4 16 6.8 1.2");
	sketch_draw(part, SKETCH_SHAPE, "R 20.4 -1.6 5 3.2 0.6");
	sketch_end(part);
}

/* ---- others ---- */

void primitive_drop(struct sketch sketch, struct point tip, double height)
{
	struct sketch part = sketch_place(sketch, tip, height / 10, 0);

	sketch_draw(part, SKETCH_DROP,
	            "M 0 0 C 1.2 2.6 3.5 4.4 3.5 6.6 C 3.5 8.6 2 10 0 10 C -2 10 -3.5 8.6 -3.5 6.6 "
	            "C -3.5 4.4 -1.2 2.6 0 0 Z");
	sketch_end(part);
}

void primitive_clock(struct sketch sketch, struct point centre, double radius, double hour, double minute)
{
	struct point to_hour = point_on_circle(centre, radius * 0.5, (hour + minute / 60) * 30 - 90);
	struct point to_minute = point_on_circle(centre, radius * 0.74, minute * 6 - 90);

	sketch_draw(sketch, SKETCH_SHAPE, "O %g %g %g", centre.x, centre.y, radius);
	for (int i = 0; i < 12; i++) {
		struct point outer = point_on_circle(centre, radius * 0.88, i * 30);
		struct point inner = point_on_circle(centre, radius * (i % 3 ? 0.82 : 0.74), i * 30);
		sketch_draw(sketch, SKETCH_THIN, "M %g %g L %g %g", outer.x, outer.y, inner.x, inner.y);
	}
	sketch_draw(sketch, SKETCH_BOLD, "M %g %g L %g %g", centre.x, centre.y, to_hour.x, to_hour.y);
	sketch_draw(sketch, SKETCH_LINE, "M %g %g L %g %g", centre.x, centre.y, to_minute.x, to_minute.y);
}

void primitive_check(struct sketch sketch, struct point middle, double size)
{
	struct sketch part = sketch_place(sketch, middle, size / 10, 0);

	sketch_draw(part, SKETCH_SOLID, "M -5 0.6 L -3 -1.6 L -1.2 0.6 L 3.2 -4.4 L 5.2 -2.4 L -1 4.4 Z");
	sketch_end(part);
}

void primitive_cross(struct sketch sketch, struct point middle, double size)
{
	double half = size * 0.36;

	sketch_draw(sketch, SKETCH_WRONG, "M %g %g L %g %g M %g %g L %g %g", middle.x - half, middle.y - half,
	            middle.x + half, middle.y + half, middle.x - half, middle.y + half, middle.x + half,
	            middle.y - half);
}

void primitive_strike(struct sketch sketch, struct point middle, double size)
{
	double half = size * 0.4;

	sketch_draw(sketch, SKETCH_WRONG, "M %g %g L %g %g", middle.x - half, middle.y + half, middle.x + half,
	            middle.y - half);
}

void primitive_dots(struct sketch sketch, struct point centre, double radius, double from, double to, int n)
{
	for (int i = 0; i < n; i++) {
		struct point at = point_on_circle(centre, radius, from + (to - from) * i / (n - 1));
		sketch_draw(sketch, SKETCH_SOLID, "O %g %g %g", at.x, at.y, sketch.line * 1.7);
	}
}

void primitive_carton(struct sketch sketch, struct point at, double scale)
{
	struct sketch part = sketch_place(sketch, at, scale, 0);

	sketch_draw(part, SKETCH_SHAPE, "M 0 3.6 L 4 0 L 18 0 L 14 3.6 Z");
	sketch_draw(part, SKETCH_PLASTIC, "M 14 3.6 L 18 0 L 18 14.4 L 14 18 Z");
	sketch_draw(part, SKETCH_SHAPE, "R 0 3.6 14 14.4 0.5");
	sketch_draw(part, SKETCH_BOLD, "M 2.8 7.4 L 9 7.4");
	sketch_draw(part, SKETCH_THIN, "M 2.6 10.6 L 11.4 10.6 M 2.6 13.2 L 8 13.2");
	sketch_end(part);
}

void primitive_sharps_box(struct sketch sketch, struct point at, double scale)
{
	struct sketch part = sketch_place(sketch, at, scale, 0);

	sketch_draw(part, SKETCH_SHAPE,
	            "M -8.4 -15 L -7 -1 C -7 -0.4 -6.6 0 -6 0 L 6 0 C 6.6 0 7 -0.4 7 -1 L 8.4 -15 Z");
	sketch_draw(part, SKETCH_PLASTIC, "R -10 -18.4 20 3.6 1.2");
	sketch_draw(part, SKETCH_SOLID, "R -4.4 -18.4 8.8 1.5 0");
	sketch_draw(part, SKETCH_LINE, "O 0 -7.2 4.2");
	/* A syringe, so that the box is not taken for a bin. */
	struct sketch sign = sketch_place(part, (struct point){0, -7.2}, 1, -45);
	sketch_draw(sign, SKETCH_THIN, "M -3 0 L 3 0 M 3 -0.9 L 3 0.9");
	sketch_draw(sign, SKETCH_SOLID, "R -1 -0.8 2.8 1.6 0.2");
	sketch_end(sign);
	sketch_end(part);
}

void primitive_label(struct sketch sketch, struct point at, double scale)
{
	struct sketch part = sketch_place(sketch, at, scale, 0);

	sketch_draw(part, SKETCH_SHAPE, "R 0 0 14 11 0.6");
	sketch_draw(part, SKETCH_LINE, "M 2 3 L 9 3");
	sketch_draw(part, SKETCH_THIN, "M 2 5.8 L 12 5.8 M 2 8.4 L 7 8.4");
	sketch_end(part);
}

void primitive_fridge(struct sketch sketch, struct point at, double scale)
{
	struct sketch part = sketch_place(sketch, at, scale, 0);

	sketch_draw(part, SKETCH_SHAPE, "R 0 0 14 23 2");
	sketch_draw(part, SKETCH_LINE, "M 0 8.4 L 14 8.4 M 3 3 L 3 5.6 M 3 11 L 3 15.6");
	sketch_draw(part, SKETCH_LINE, "M 9 12 L 9 19 M 6 13.8 L 12 17.2 M 6 17.2 L 12 13.8");
	sketch_end(part);
}

/* Open in front, with boxes on it: no door, so that it is not taken for the fridge. */
void primitive_shelf(struct sketch sketch, struct point at, double scale)
{
	struct sketch part = sketch_place(sketch, at, scale, 0);

	sketch_draw(part, SKETCH_LINE, "M 1 0 L 1 23 M 13 0 L 13 23");
	sketch_draw(part, SKETCH_SHAPE, "R 0 6.6 14 1.4 0.2 R 0 14.6 14 1.4 0.2 R 0 21.6 14 1.4 0.2");
	sketch_draw(part, SKETCH_SHAPE, "R 3 2 3.2 4.6 0.3 R 7.4 3.2 4 3.4 0.3 R 3 17.2 5 4.4 0.3");
	sketch_end(part);
}

#define DOSE_RING_LEAST 0.1
#define DOSE_RING_MOST 0.92

double dose_ring(struct sketch sketch, double own)
{
	return sketch.ring > 0 ? fmin(fmax(sketch.ring, DOSE_RING_LEAST), DOSE_RING_MOST) : own;
}
