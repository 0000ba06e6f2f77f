/*
 * paint.h - placed pages onto a device.
 */
#ifndef PAINT_PAINT_H
#define PAINT_PAINT_H

#include "paint/device.h"

/* Paints one page: begin_page, every mark in order, end_page. `scratch` holds paths; reset by the caller. */
void paint_page(struct arena *scratch, const struct placed_page *page, struct device *device);

/* All pages of a packet. */
void paint_packet(struct arena *scratch, const struct placed_packet *packet, struct device *device);

#endif
