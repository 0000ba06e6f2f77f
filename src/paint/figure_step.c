#include "paint/figures.h"
#include "paint/step.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#define STEP_UNITS 40.0
#define STEP_LINE 0.5
#define STEP_LINE_LEAST 0.3 /* mm: its thin lines are 0.18, which poor printers keep */
#define STEP_PITCH 1.15

static const struct step_table *const tables[] = {
	&step_prepare_table, &step_mix_table,  &step_draw_table,    &step_inject_table,
	&step_pen_table,     &step_form_table, &step_counted_table, &step_flow_table,
};

static const struct step_drawing *find_drawing(const char *name)
{
	for (size_t t = 0; t < sizeof tables / sizeof *tables; t++)
		for (size_t i = 0; i < tables[t]->n; i++)
			if (strcmp(tables[t]->drawings[i].name, name) == 0)
				return &tables[t]->drawings[i];
	return NULL;
}

void figure_step(struct painter *painter, const struct step_picture *step)
{
	const struct step_drawing *drawing = find_drawing(step->name);
	double unit = step->size / STEP_UNITS;
	struct sketch page = {.painter = painter,
	                      .line = fmax(STEP_LINE * unit, STEP_LINE_LEAST),
	                      .pitch = fmax(STEP_PITCH * unit, HATCH_PITCH_LEAST),
	                      .ring = step->ring,
	                      .thin = step->thin};

	/* Templates with an unknown name were refused when they were loaded. */
	assert(drawing);
	struct sketch sketch = sketch_place(page, step->at, unit, 0);
	drawing->draw(sketch);
	sketch_end(sketch);
}
