/* The strip 'one syringe all the way, two needles': things lying in the middle band, 12 high. */
#include "paint/step.h"

static void draw_lying(struct sketch sketch, double ring, enum needle_look needle, bool wedge)
{
	primitive_syringe(sketch, (struct syringe_part){.at = {13, 20},
	                                                .scale = 0.84,
	                                                .length = 15,
	                                                .ring = ring,
	                                                .to = ring,
	                                                .needle = needle,
	                                                .needle_length = 8,
	                                                .graduated = true,
	                                                .wedge = wedge});
}

/* As it comes: all of its liquid goes in, whatever the dose is. */
static void draw_flow_liquid(struct sketch sketch)
{
	draw_lying(sketch, 1, LOOK_THICK, false);
}

static void draw_flow_drawn(struct sketch sketch)
{
	draw_lying(sketch, dose_ring(sketch, 0.45), LOOK_THICK, true);
}

static void draw_flow_thin(struct sketch sketch)
{
	draw_lying(sketch, dose_ring(sketch, 0.45), LOOK_THIN, true);
}

static void draw_flow_vial(struct sketch sketch)
{
	primitive_vial(sketch, (struct vial){.at = {20, 28}, .scale = 0.64, .content = VIAL_POWDER});
}

static void draw_flow_you(struct sketch sketch)
{
	sketch_draw(sketch, SKETCH_SHAPE, "R 10 14 20 12 6");
	sketch_draw(sketch, SKETCH_LINE, "O 20 20 1.6");
}

static const struct step_drawing drawings[] = {
	{"flow-liquid", draw_flow_liquid}, {"flow-vial", draw_flow_vial}, {"flow-drawn", draw_flow_drawn},
	{"flow-thin", draw_flow_thin},     {"flow-you", draw_flow_you},
};

const struct step_table step_flow_table = {drawings, sizeof drawings / sizeof *drawings};
