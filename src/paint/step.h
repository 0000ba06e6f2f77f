/*
 * step.h - step pictures: 40 by 40 units, a line of 0.5, no hands.
 *
 * Each step_*.c holds the pictures of one stage and its table. Names are those
 * of page/step_names.h.
 */
#ifndef PAINT_STEP_H
#define PAINT_STEP_H

#include "paint/primitives.h"

struct step_drawing {
	const char *name;
	void (*draw)(struct sketch sketch);
};

struct step_table {
	const struct step_drawing *drawings;
	size_t n;
};

extern const struct step_table step_prepare_table;
extern const struct step_table step_mix_table;
extern const struct step_table step_draw_table;
extern const struct step_table step_inject_table;
extern const struct step_table step_pen_table;
extern const struct step_table step_form_table;
extern const struct step_table step_counted_table;
extern const struct step_table step_flow_table;

#endif
