/*
 * paint.h - placed pages onto a device.
 */
#ifndef PAINT_PAINT_H
#define PAINT_PAINT_H

#include "paint/device.h"

/* Paints one page: begin_page, every mark in order, end_page. `scratch` holds paths; reset by the caller. */
void paint_page(struct arena *scratch, const struct placed_page *page, struct device *device);

/* One page after the other; of all paths, which are megabytes in a packet, only one page's are held at a time. */
void paint_pages(const struct placed_page *pages, size_t n, struct device *device);

#endif
