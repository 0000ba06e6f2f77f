/*
 * raster.h - drawings as dots, so that they are measured as on paper.
 *
 * The dots come from a device of its own, which leaves text out, or from a
 * finished PDF.
 */
#ifndef SUPPORT_RASTER_H
#define SUPPORT_RASTER_H

#include "paint/device.h"

#include <stdbool.h>
#include <stddef.h>

struct raster;

/* White paper of that many mm; free it with raster_free(). */
struct raster *raster_new(double width, double height, double dots_per_inch);
void raster_free(struct raster *raster);

struct device *raster_device(struct raster *raster);

/*
 * A part of a PDF's page as poppler makes it into dots; positions stay those of
 * the whole page. Fails the test when pdftoppm does.
 */
struct raster *raster_of_pdf(const char *path, int page, struct rect part, double dots_per_inch);

/* At mm from the top left corner. Half-covered dots count as dark. */
bool raster_is_dark(const struct raster *raster, double x, double y);

/* Neighbouring dark dots along a row or a column, in mm. */
struct run {
	double from;
	double to;
};

double run_middle(struct run run);

/* The dark runs between `from` and `to`, in order; fails the test when there are more than `most`. */
size_t raster_row(const struct raster *raster, double y, double from, double to, struct run *runs, size_t most);
size_t raster_column(const struct raster *raster, double x, double from, double to, struct run *runs, size_t most);

/* The smallest rectangle around everything that is not white; zero when there is nothing. */
struct rect raster_bounds(const struct raster *raster);

/* True when both, of one size, have the same dots. */
bool raster_equal(const struct raster *a, const struct raster *b);

#endif
