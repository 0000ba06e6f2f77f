#include "pdf/drawing.h"

#include "text/layout.h"

#include <assert.h>
#include <math.h>
#include <pango/pangocairo.h>

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

static void use_colour(struct drawing *drawing, enum colour colour)
{
	assert(colour != COLOUR_NONE);
	unsigned value = drawing->options->mono ? palette[colour].mono : palette[colour].colour;
	cairo_set_source_rgb(drawing->cairo, channel(value, 16), channel(value, 8), channel(value, 0));
}

/*
 * Adds to Cairo's path. What is only filled closes by itself: Cairo writes each
 * closing with a move after it, and printing numbers is most of a page's time.
 * A box of five segments is closed all the same, since Cairo then knows it as one.
 */
static void trace(cairo_t *cairo, const struct path *path, bool only_filled)
{
	bool closes = !only_filled || path->n == 5;
	for (size_t i = 0; i < path->n; i++) {
		const struct segment *segment = &path->segments[i];
		switch (segment->kind) {
		case SEGMENT_MOVE:
			cairo_move_to(cairo, segment->to.x, segment->to.y);
			break;
		case SEGMENT_LINE:
			cairo_line_to(cairo, segment->to.x, segment->to.y);
			break;
		case SEGMENT_CURVE:
			cairo_curve_to(cairo, segment->control_1.x, segment->control_1.y, segment->control_2.x,
			               segment->control_2.y, segment->to.x, segment->to.y);
			break;
		case SEGMENT_CLOSE:
			if (closes)
				cairo_close_path(cairo);
			break;
		}
	}
}

/* ---- lines ---- */

/* Every place is moved, turned and scaled alike both ways, so one number says how much wider its lines become. */
static double scale_here(cairo_t *cairo)
{
	cairo_matrix_t matrix;
	cairo_get_matrix(cairo, &matrix);
	return sqrt(fabs(matrix.xx * matrix.yy - matrix.xy * matrix.yx));
}

/* `ink` as the surface's own units have it: there Cairo writes no matrix before the line. */
static void stroke(struct drawing *drawing, const struct ink *ink)
{
	cairo_t *cairo = drawing->cairo;
	bool round = ink->cap == CAP_ROUND;
	cairo_matrix_t matrix;
	cairo_get_matrix(cairo, &matrix);
	cairo_identity_matrix(cairo);
	use_colour(drawing, ink->stroke);
	cairo_set_line_width(cairo, ink->line);
	cairo_set_line_cap(cairo, round ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
	cairo_set_line_join(cairo, round ? CAIRO_LINE_JOIN_ROUND : CAIRO_LINE_JOIN_MITER);
	cairo_set_dash(cairo, &ink->dash, ink->dash > 0 ? 1 : 0, 0);
	cairo_stroke(cairo);
	cairo_set_matrix(cairo, &matrix);
}

void drawing_flush(struct drawing *drawing)
{
	if (!drawing->has_lines)
		return;
	stroke(drawing, &drawing->lines);
	drawing->has_lines = false;
}

static bool same_line(const struct ink *a, const struct ink *b)
{
	return a->stroke == b->stroke && a->line == b->line && a->dash == b->dash && a->cap == b->cap;
}

/* Lines of one ink that follow each other are drawn as one path, since each path has its price. */
static void gather(struct drawing *drawing, const struct path *path, const struct ink *ink)
{
	if (!drawing->has_lines || !same_line(&drawing->lines, ink))
		drawing_flush(drawing);
	trace(drawing->cairo, path, false);
	drawing->lines = *ink;
	drawing->has_lines = true;
}

static void fill(struct drawing *drawing, const struct path *path, const struct ink *ink)
{
	cairo_t *cairo = drawing->cairo;
	bool stroked = ink->stroke != COLOUR_NONE;
	drawing_flush(drawing);
	trace(cairo, path, !stroked);
	use_colour(drawing, ink->fill);
	cairo_set_fill_rule(cairo, ink->even_odd ? CAIRO_FILL_RULE_EVEN_ODD : CAIRO_FILL_RULE_WINDING);
	if (!stroked) {
		cairo_fill(cairo);
		return;
	}
	/* At once, so that Cairo writes the path once for both. */
	cairo_fill_preserve(cairo);
	stroke(drawing, ink);
}

void drawing_path(struct device *device, const struct path *path, const struct ink *ink)
{
	struct drawing *drawing = drawing_of(device);
	struct ink used = *ink;
	if (used.fill == COLOUR_BAND && used.stroke == COLOUR_NONE && drawing->options->mono) {
		used.stroke = COLOUR_INK;
		used.line = mono_band_line;
	}
	double scale = scale_here(drawing->cairo);
	used.line *= scale;
	used.dash *= scale;
	if (used.fill != COLOUR_NONE)
		fill(drawing, path, &used);
	else if (used.stroke != COLOUR_NONE)
		gather(drawing, path, &used);
}

/* The layout as a whole, not its bare glyphs: only so do readers get the words back as they were set. */
void drawing_text(struct device *device, const struct text_block *block, struct point at, enum colour colour)
{
	struct drawing *drawing = drawing_of(device);
	cairo_t *cairo = drawing->cairo;
	drawing_flush(drawing);
	cairo_save(cairo);
	cairo_translate(cairo, at.x, at.y - text_layout_rise(block));
	cairo_scale(cairo, POINT_MM, POINT_MM);
	use_colour(drawing, colour);
	cairo_move_to(cairo, 0, 0);
	pango_cairo_show_layout(cairo, text_layout(block));
	cairo_new_path(cairo);
	cairo_restore(cairo);
}

void drawing_push_clip(struct device *device, const struct path *path)
{
	struct drawing *drawing = drawing_of(device);
	cairo_t *cairo = drawing->cairo;
	drawing_flush(drawing);
	cairo_save(cairo);
	trace(cairo, path, true);
	cairo_set_fill_rule(cairo, CAIRO_FILL_RULE_WINDING);
	cairo_clip(cairo);
}

void drawing_push_matrix(struct device *device, const struct matrix *matrix)
{
	cairo_t *cairo = drawing_of(device)->cairo;
	cairo_matrix_t transform;
	cairo_matrix_init(&transform, matrix->a, matrix->b, matrix->c, matrix->d, matrix->e, matrix->f);
	cairo_save(cairo);
	cairo_transform(cairo, &transform);
}

void drawing_pop(struct device *device)
{
	struct drawing *drawing = drawing_of(device);
	drawing_flush(drawing);
	cairo_restore(drawing->cairo);
}
