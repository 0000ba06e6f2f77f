/*
 * syringe_geometry.h - where everything stands on a syringe lying in true size, needle left.
 *
 *      |<--front-->|<------ scale_length ------>|
 *      ____________________________________________     ___
 *   ==(____________|_|_|_|_|_|_|_|_|_|_|_|_|_|_|____|===|___|
 *   ^              ^zero                       ^   flange    ^thumb rest
 *   tip                                        nominal capacity
 *
 * Page needs it to place what belongs to a line, paint to draw it; so both read
 * it here. All lengths are mm, all from the syringe's data: the scale's length
 * fixes the bore, and the bore fixes the rest.
 */
#ifndef PAGE_SYRINGE_GEOMETRY_H
#define PAGE_SYRINGE_GEOMETRY_H

#include "page/placed.h"

struct syringe_geometry {
	double inner; /* diameters of the barrel */
	double outer;
	double wall;
	double scale_length; /* zero line to the nominal capacity's line */
	double scale_end;    /* zero line to the last line */
	double mm_per_ml;
	double front;  /* zero line to the barrel's front end, leftward */
	double flange; /* zero line to the flange's front face */
	double flange_thickness;
	double flange_height;
	double cone;  /* the stopper: its cone, leftward of the front ring's edge */
	double ring;  /* each of its two rings */
	double waist; /* between them */
	double rod;   /* height of the plunger's rod */
	double thumb; /* height and thickness of the thumb rest */
	double thumb_thickness;
	double nozzle; /* from the barrel to the tip of the bare nozzle; 0 where the needle is fixed */
	double hub;    /* from the barrel to the end of the needle's hub */
	double needle; /* from there to the tip, where the product does not say how long its needle is */
};

struct syringe_geometry syringe_geometry_of(const struct syringe *syringe);

/* The x of `ml` when the zero line stands at `x_zero`: nominal volume V and scale length L give ml / V * L. */
double syringe_x(const struct syringe *syringe, double x_zero, double ml);

/* A needle apart from any syringe: its hub's open end is as wide as the skirt on it. */
#define NEEDLE_HUB 9.6
#define NEEDLE_SKIRT 5.8

/*
 * How far the drawing reaches left of the zero line with a needle of `needle`
 * mm (0: the usual one; a fixed needle is always there), and right of it with
 * the front ring at `ring` mL.
 */
double syringe_left(const struct syringe *syringe, bool with_needle, double needle);
double syringe_right(const struct syringe *syringe, double ring);

/* Below the axis: where the numerals' cap tops stand. */
double syringe_numerals_drop(const struct syringe *syringe);

enum graduation { GRADUATION_SMALL, GRADUATION_MEDIUM, GRADUATION_NUMBERED };

/* The lines of its scale, the zero line counted, and the volume and kind of number `index` from zero up. */
size_t syringe_lines(const struct syringe *syringe);
struct rational syringe_line_volume(const struct syringe *syringe, size_t index);
enum graduation syringe_line_kind(const struct syringe *syringe, size_t index);

/* The numbered lines among them: number `index` from zero up is where numerals[index] stands. */
size_t syringe_numbered_lines(const struct syringe *syringe);
struct rational syringe_numbered_volume(const struct syringe *syringe, size_t index);

/* An exact value as a length or volume to draw with. */
double measure_of(struct rational value);

#endif
