/*
 * painter.h - what the painting of one mark works with; inside paint only.
 *
 * Thin words over the device, so that a figure reads as what is drawn:
 *
 *     struct path_builder *barrel = path_new(painter->scratch);
 *     path_rect(barrel, inside);
 *     paint_liquid(painter, barrel, 1.0, LIQUID_LINE);
 *     paint_stroke(painter, barrel, LINE_OUTLINE, COLOUR_INK);
 */
#ifndef PAINT_PAINTER_H
#define PAINT_PAINTER_H

#include "paint/path.h"

struct painter {
	struct arena *scratch; /* paths; the caller resets it */
	struct device *device;
};

void paint_fill(struct painter *painter, const struct path_builder *shape, enum colour fill);
void paint_stroke(struct painter *painter, const struct path_builder *shape, double line, enum colour stroke);
void paint_stroke_round(struct painter *painter, const struct path_builder *shape, double line, enum colour stroke);
void paint_stroke_dashed(struct painter *painter, const struct path_builder *shape, double line, double dash,
                         enum colour stroke);
void paint_fill_and_stroke(struct painter *painter, const struct path_builder *shape, enum colour fill, double line,
                           enum colour stroke);
void paint_line(struct painter *painter, struct point from, struct point to, double line, enum colour stroke);

/* The design's stroke for a liquid's lines; divide it by the scale in force. */
#define LIQUID_LINE 0.24

/* Liquid: the tint, then blue lines at 45 degrees rising right, `pitch` apart and `line` wide, clipped to `shape`. */
void paint_liquid(struct painter *painter, const struct path_builder *shape, double pitch, double line);

/* Only the lines, in any colour. */
void paint_hatch(struct painter *painter, const struct path_builder *shape, double pitch, double line,
                 enum colour stroke);

void paint_text(struct painter *painter, const struct text_block *block, struct point at, enum colour colour);

/* Each needs its paint_pop(). */
void paint_push_clip(struct painter *painter, const struct path_builder *shape);
/* (0, 0) becomes `at`, one unit becomes `scale`, turned clockwise by `angle` degrees. */
void paint_push_place(struct painter *painter, struct point at, double scale, double angle);
void paint_pop(struct painter *painter);

#endif
