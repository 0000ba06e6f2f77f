/*
 * drawing.h - the device's ends for one figure as SVG or PNG, through Cairo; inside pdf only, pdf.h chooses them.
 */
#ifndef PDF_DRAWING_H
#define PDF_DRAWING_H

#include "pdf/pdf.h"

/* A page of the size of `page`. Not for DRAWING_PDF. */
struct device *cairo_drawing_new(enum drawing_kind kind, const struct drawing_options *options, struct rect page);

/* As drawing_finish() and drawing_free(). */
bool cairo_drawing_finish(struct device *device, const unsigned char **bytes, size_t *n);
void cairo_drawing_free(struct device *device);

#endif
