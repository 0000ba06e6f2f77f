#include "pdf/palette.h"

#include <assert.h>

/*
 * The design's colours in sRGB, and what each becomes in black and white: by
 * this table, since the luminance of blue or rust would be a grey that laser
 * printers break into dots.
 */
static const struct {
	unsigned colour;
	unsigned mono;
} palette[] = {
	[COLOUR_INK] = {0x000000, 0x000000},    [COLOUR_WHITE] = {0xFFFFFF, 0xFFFFFF},
	[COLOUR_LIQUID] = {0x175C8E, 0x000000}, [COLOUR_LIQUID_TINT] = {0xE2EEF7, 0xFFFFFF},
	[COLOUR_RUST] = {0x9A3B00, 0x000000},   [COLOUR_PLASTIC] = {0xBDBDBD, 0xBDBDBD},
	[COLOUR_HUB] = {0x8A8A8A, 0x8A8A8A},    [COLOUR_DAY] = {0x5A5A5A, 0x5A5A5A},
	[COLOUR_BAND] = {0xF1F1EF, 0xFFFFFF},
};

/* A band that is white in black and white shows by this outline. */
static const double mono_band_line = 0.18;

static double channel(unsigned colour, int shift)
{
	return (colour >> shift & 0xFF) / 255.0;
}

struct rgb palette_rgb(enum colour colour, bool mono)
{
	assert(colour != COLOUR_NONE);
	unsigned value = mono ? palette[colour].mono : palette[colour].colour;
	return (struct rgb){channel(value, 16), channel(value, 8), channel(value, 0)};
}

struct ink palette_ink(struct ink ink, bool mono)
{
	if (mono && ink.fill == COLOUR_BAND && ink.stroke == COLOUR_NONE) {
		ink.stroke = COLOUR_INK;
		ink.line = mono_band_line;
	}
	return ink;
}
