#include "pdf/drawing.h"

#include "pdf/palette.h"
#include "text/layout.h"

#include <assert.h>
#include <cairo-svg.h>
#include <ctype.h>
#include <glib.h>
#include <math.h>
#include <pango/pangocairo.h>
#include <string.h>

/* Dots to the inch of a PNG: a picture to look at; what is measured is printed from a PDF. */
static const double png_dpi = 300;

struct drawing {
	struct device device; /* first: the device is the drawing */
	enum drawing_kind kind;
	const struct drawing_options *options;
	struct arena *arena; /* holds this */
	cairo_surface_t *surface;
	cairo_t *cairo;
	GByteArray *bytes;
	bool begun; /* its one page */
};

static struct drawing *drawing_of(struct device *device)
{
	return (struct drawing *)(void *)device;
}

/* ---- ink ---- */

static void use_colour(struct drawing *drawing, enum colour colour)
{
	struct rgb rgb = palette_rgb(colour, drawing->options->mono);
	cairo_set_source_rgb(drawing->cairo, rgb.red, rgb.green, rgb.blue);
}

static void trace(cairo_t *cairo, const struct path *path)
{
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
			cairo_close_path(cairo);
			break;
		}
	}
}

/* Every place is moved, turned and scaled alike both ways, so one number says how much wider its lines become. */
static double scale_here(cairo_t *cairo)
{
	cairo_matrix_t matrix;
	cairo_get_matrix(cairo, &matrix);
	return sqrt(fabs(matrix.xx * matrix.yy - matrix.xy * matrix.yx));
}

/* In the surface's own units: there Cairo writes no transform beside the line. */
static void stroke(struct drawing *drawing, const struct ink *ink)
{
	cairo_t *cairo = drawing->cairo;
	bool round = ink->cap == CAP_ROUND;
	double scale = scale_here(cairo);
	double dash = ink->dash * scale;
	cairo_matrix_t matrix;
	cairo_get_matrix(cairo, &matrix);
	cairo_identity_matrix(cairo);
	use_colour(drawing, ink->stroke);
	cairo_set_line_width(cairo, ink->line * scale);
	cairo_set_line_cap(cairo, round ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
	cairo_set_line_join(cairo, round ? CAIRO_LINE_JOIN_ROUND : CAIRO_LINE_JOIN_MITER);
	cairo_set_dash(cairo, &dash, dash > 0 ? 1 : 0, 0);
	cairo_stroke_preserve(cairo);
	cairo_set_matrix(cairo, &matrix);
}

static void draw_path(struct device *device, const struct path *path, const struct ink *ink)
{
	struct drawing *drawing = drawing_of(device);
	cairo_t *cairo = drawing->cairo;
	struct ink used = palette_ink(*ink, drawing->options->mono);
	trace(cairo, path);
	if (used.fill != COLOUR_NONE) {
		use_colour(drawing, used.fill);
		cairo_set_fill_rule(cairo, used.even_odd ? CAIRO_FILL_RULE_EVEN_ODD : CAIRO_FILL_RULE_WINDING);
		cairo_fill_preserve(cairo);
	}
	if (used.stroke != COLOUR_NONE)
		stroke(drawing, &used);
	cairo_new_path(cairo);
}

static void draw_text(struct device *device, const struct text_block *block, struct point at, enum colour colour)
{
	struct drawing *drawing = drawing_of(device);
	cairo_t *cairo = drawing->cairo;
	cairo_save(cairo);
	cairo_translate(cairo, at.x, at.y - text_layout_rise(block));
	cairo_scale(cairo, text_layout_point(block), text_layout_point(block));
	use_colour(drawing, colour);
	cairo_move_to(cairo, 0, 0);
	pango_cairo_show_layout(cairo, text_layout(block));
	cairo_new_path(cairo);
	cairo_restore(cairo);
}

static void push_clip(struct device *device, const struct path *path)
{
	cairo_t *cairo = drawing_of(device)->cairo;
	cairo_save(cairo);
	trace(cairo, path);
	cairo_set_fill_rule(cairo, CAIRO_FILL_RULE_WINDING);
	cairo_clip(cairo);
}

static void push_matrix(struct device *device, const struct matrix *matrix)
{
	cairo_t *cairo = drawing_of(device)->cairo;
	cairo_matrix_t transform;
	cairo_matrix_init(&transform, matrix->a, matrix->b, matrix->c, matrix->d, matrix->e, matrix->f);
	cairo_save(cairo);
	cairo_transform(cairo, &transform);
}

static void pop(struct device *device)
{
	cairo_restore(drawing_of(device)->cairo);
}

/* ---- the page; neither kind knows groups or links ---- */

static void begin_page(struct device *device, const struct placed_page *page)
{
	struct drawing *drawing = drawing_of(device);
	(void)page;
	assert(!drawing->begun);
	drawing->begun = true;
	cairo_save(drawing->cairo);
	cairo_scale(drawing->cairo, 1 / POINT_MM, 1 / POINT_MM);
}

static void end_page(struct device *device)
{
	struct drawing *drawing = drawing_of(device);
	cairo_restore(drawing->cairo);
	cairo_show_page(drawing->cairo);
}

static void begin_group(struct device *device, const struct group *group)
{
	(void)device;
	(void)group;
}

static void end_group(struct device *device)
{
	(void)device;
}

static void begin_link(struct device *device, struct rect area, const char *label, const char *words)
{
	(void)device;
	(void)area;
	(void)label;
	(void)words;
}

static void end_link(struct device *device)
{
	(void)device;
}

static const struct device_end drawing_end = {
	.begin_page = begin_page,
	.end_page = end_page,
	.begin_group = begin_group,
	.end_group = end_group,
	.path = draw_path,
	.text = draw_text,
	.push_clip = push_clip,
	.push_matrix = push_matrix,
	.pop = pop,
	.begin_link = begin_link,
	.end_link = end_link,
};

/* ---- the surface ---- */

static cairo_status_t take_bytes(void *closure, const unsigned char *data, unsigned length)
{
	g_byte_array_append(closure, data, length);
	return CAIRO_STATUS_SUCCESS;
}

static int dots(double mm)
{
	return (int)ceil(mm / 25.4 * png_dpi);
}

static void make_surface(struct drawing *drawing, struct rect page)
{
	if (drawing->kind == DRAWING_SVG) {
		drawing->surface = cairo_svg_surface_create_for_stream(take_bytes, drawing->bytes,
		                                                       page.width / POINT_MM, page.height / POINT_MM);
		drawing->cairo = cairo_create(drawing->surface);
		return;
	}
	drawing->surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, dots(page.width), dots(page.height));
	drawing->cairo = cairo_create(drawing->surface);
	cairo_set_source_rgb(drawing->cairo, 1, 1, 1);
	cairo_paint(drawing->cairo);
	cairo_scale(drawing->cairo, png_dpi / 72, png_dpi / 72);
}

struct device *cairo_drawing_new(enum drawing_kind kind, const struct drawing_options *options, struct rect page)
{
	struct arena *arena = arena_new();
	struct drawing *drawing = arena_alloc(arena, sizeof *drawing);
	assert(kind != DRAWING_PDF);
	drawing->device.end = &drawing_end;
	drawing->arena = arena;
	drawing->kind = kind;
	drawing->options = options;
	drawing->bytes = g_byte_array_new();
	make_surface(drawing, page);
	return &drawing->device;
}

/* ---- the bytes ---- */

/*
 * Cairo numbers all surfaces of a process and writes the number into an SVG:
 * <g id="surface12">. Without the number the same figure has the same bytes.
 */
static void unnumber_surface(GByteArray *bytes)
{
	static const char id[] = "<g id=\"surface";
	const char *text = (const char *)bytes->data;
	const char *found = g_strstr_len(text, bytes->len, id);
	if (!found)
		return;
	guint first = (guint)(found - text) + (guint)strlen(id);
	guint end = first;
	while (end < bytes->len && isdigit(bytes->data[end]))
		end++;
	g_byte_array_remove_range(bytes, first, end - first);
}

bool cairo_drawing_finish(struct device *device, const unsigned char **bytes, size_t *n)
{
	struct drawing *drawing = drawing_of(device);
	bool good = cairo_status(drawing->cairo) == CAIRO_STATUS_SUCCESS;
	if (good && drawing->kind == DRAWING_PNG)
		good = cairo_surface_write_to_png_stream(drawing->surface, take_bytes, drawing->bytes) ==
		       CAIRO_STATUS_SUCCESS;
	cairo_surface_finish(drawing->surface);
	good = good && cairo_surface_status(drawing->surface) == CAIRO_STATUS_SUCCESS;
	if (drawing->kind == DRAWING_SVG)
		unnumber_surface(drawing->bytes);
	*bytes = good ? drawing->bytes->data : NULL;
	*n = good ? drawing->bytes->len : 0;
	return good;
}

void cairo_drawing_free(struct device *device)
{
	struct drawing *drawing = drawing_of(device);
	cairo_destroy(drawing->cairo);
	cairo_surface_destroy(drawing->surface);
	g_byte_array_free(drawing->bytes, TRUE);
	arena_free(drawing->arena);
}
