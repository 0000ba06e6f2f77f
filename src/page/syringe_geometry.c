#include "page/syringe_geometry.h"

#include <assert.h>
#include <math.h>

#define PI 3.14159265358979323846

/* The 1 mL syringe the proportions were drawn on: 1 mL in 57 mm. */
#define MODEL_INNER 4.73

/* The thinnest and thickest wall a plastic barrel is drawn with. */
#define WALL_LEAST 0.85
#define WALL_MOST 0.95

double measure_of(struct rational value)
{
	return (double)value.numerator / (double)value.denominator;
}

static double within(double value, double least, double most)
{
	return fmin(fmax(value, least), most);
}

/*
 * A cylinder of the scale's length holds the nominal volume, 1 mL being
 * 1000 mm^3: V = pi/4 d^2 L. 1 mL in 57 mm: d = 4.73 mm. Where the outside was
 * measured, the wall gives way as far as a wall can.
 */
static void fix_barrel(struct syringe_geometry *geometry, const struct syringe *syringe)
{
	double bore = 2 * sqrt(1000 * measure_of(syringe->capacity) / (PI * geometry->scale_length));

	if (rational_is_zero(syringe->barrel)) {
		/* 0.885 at 1 mL, 0.94 at 3 mL: wider barrels are a little stouter. */
		geometry->wall = within(0.82 + 0.0135 * bore, WALL_LEAST, WALL_MOST);
		geometry->outer = bore + 2 * geometry->wall;
	} else {
		geometry->outer = measure_of(syringe->barrel);
		geometry->wall = within((geometry->outer - bore) / 2, WALL_LEAST, WALL_MOST);
	}
	geometry->inner = geometry->outer - 2 * geometry->wall;
}

struct syringe_geometry syringe_geometry_of(const struct syringe *syringe)
{
	struct syringe_geometry geometry = {0};

	geometry.scale_length = measure_of(syringe->scale_length);
	geometry.mm_per_ml = geometry.scale_length / measure_of(syringe->capacity);
	geometry.scale_end = measure_of(syringe->graduated) * geometry.mm_per_ml;
	fix_barrel(&geometry, syringe);

	/* The cone fills the barrel's tip, so it grows with the bore; rings are for sealing and grow less. */
	double bores = geometry.inner / MODEL_INNER;
	geometry.cone = 1.15 * bores;
	geometry.ring = 1.25 * sqrt(bores);
	geometry.waist = 1.5 * sqrt(bores);
	geometry.rod = 0.66 * geometry.inner;

	geometry.front = geometry.cone + 0.75;
	/* The stopper stays in the barrel with its front ring on the last line. */
	geometry.flange = geometry.scale_end + 2 * geometry.ring + geometry.waist + 8.5;
	geometry.flange_thickness = 1.8;
	geometry.flange_height = geometry.outer + 7.2;
	geometry.thumb = geometry.inner + 1.3;
	geometry.thumb_thickness = 1.8;
	geometry.nozzle = syringe->fixed_needle ? 0 : 4;
	geometry.hub = syringe->fixed_needle ? 4.2 : NEEDLE_HUB;
	geometry.needle = syringe->fixed_needle ? 8 : 13;
	return geometry;
}

double syringe_x(const struct syringe *syringe, double x_zero, double ml)
{
	return x_zero + ml / measure_of(syringe->capacity) * measure_of(syringe->scale_length);
}

double syringe_left(const struct syringe *syringe, bool with_needle, double needle)
{
	struct syringe_geometry geometry = syringe_geometry_of(syringe);

	if (!with_needle && !syringe->fixed_needle) {
		return geometry.front + geometry.nozzle;
	}
	return geometry.front + geometry.hub + (needle > 0 ? needle : geometry.needle);
}

/* With the plunger fully in, the thumb rest keeps 6 mm from the flange; it moves as the ring does. */
double syringe_right(const struct syringe *syringe, double ring)
{
	struct syringe_geometry geometry = syringe_geometry_of(syringe);

	return geometry.flange + geometry.flange_thickness + 6 + ring * geometry.mm_per_ml + geometry.thumb_thickness;
}

double syringe_numerals_drop(const struct syringe *syringe)
{
	return syringe_geometry_of(syringe).outer / 2 + 1.1;
}

static int64_t steps_in(const struct syringe *syringe, struct rational volume)
{
	int64_t steps;
	bool whole = rational_in_steps(volume, syringe->step, &steps);

	/* A scale is loaded only when its numbers and its end stand on lines. */
	assert(whole && steps > 0);
	return steps;
}

size_t syringe_lines(const struct syringe *syringe)
{
	return (size_t)steps_in(syringe, syringe->graduated) + 1;
}

static struct rational times(struct rational volume, size_t count)
{
	struct rational product;
	bool fits = rational_multiply(volume, rational_of((int64_t)count, 1), &product);

	assert(fits);
	return product;
}

struct rational syringe_line_volume(const struct syringe *syringe, size_t index)
{
	return times(syringe->step, index);
}

/* Half-way lines are longer only where smaller ones stand beside them. */
enum graduation syringe_line_kind(const struct syringe *syringe, size_t index)
{
	size_t interval = (size_t)steps_in(syringe, syringe->numbered_every);

	if (index % interval == 0) {
		return GRADUATION_NUMBERED;
	}
	if (interval >= 4 && interval % 2 == 0 && index % (interval / 2) == 0) {
		return GRADUATION_MEDIUM;
	}
	return GRADUATION_SMALL;
}

size_t syringe_numbered_lines(const struct syringe *syringe)
{
	return (size_t)(steps_in(syringe, syringe->graduated) / steps_in(syringe, syringe->numbered_every)) + 1;
}

struct rational syringe_numbered_volume(const struct syringe *syringe, size_t index)
{
	return times(syringe->numbered_every, index);
}
