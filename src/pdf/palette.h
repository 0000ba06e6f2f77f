/*
 * palette.h - the design's colours as numbers, in colour and in black and white; inside pdf only.
 */
#ifndef PDF_PALETTE_H
#define PDF_PALETTE_H

#include "paint/device.h"

/* Red, green and blue, 0 to 1 each. */
struct rgb {
	double red;
	double green;
	double blue;
};

/* Never for COLOUR_NONE. */
struct rgb palette_rgb(enum colour colour, bool mono);

/* `ink` as it is on this paper: a band that is white in black and white shows by an outline. */
struct ink palette_ink(struct ink ink, bool mono);

#endif
