#include "support/raster.h"

#include "support/cases.h"

#include <cairo.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct raster {
	struct device device; /* first: the device is the raster */
	cairo_surface_t *surface;
	cairo_t *cairo;
	double dots_per_mm;
	int width;
	int height;
	int left; /* dots of the page before the first one here */
	int top;
};

/* ---- the device's end ---- */

static cairo_t *cairo_of(struct device *device)
{
	return ((struct raster *)device)->cairo;
}

static void set_colour(cairo_t *cairo, enum colour colour)
{
	/* Only light against dark is measured: blue, rust and ink are dark, what is pale is pale. */
	static const double grey[] = {
		[COLOUR_INK] = 0,     [COLOUR_WHITE] = 1,      [COLOUR_LIQUID] = 0.3, [COLOUR_LIQUID_TINT] = 0.92,
		[COLOUR_RUST] = 0.3,  [COLOUR_PLASTIC] = 0.74, [COLOUR_HUB] = 0.54,   [COLOUR_DAY] = 0.35,
		[COLOUR_BAND] = 0.94,
	};

	cairo_set_source_rgb(cairo, grey[colour], grey[colour], grey[colour]);
}

static void trace(cairo_t *cairo, const struct path *path)
{
	cairo_new_path(cairo);
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

static void end_path(struct device *device, const struct path *path, const struct ink *ink)
{
	cairo_t *cairo = cairo_of(device);

	trace(cairo, path);
	cairo_set_fill_rule(cairo, ink->even_odd ? CAIRO_FILL_RULE_EVEN_ODD : CAIRO_FILL_RULE_WINDING);
	if (ink->fill != COLOUR_NONE) {
		set_colour(cairo, ink->fill);
		cairo_fill_preserve(cairo);
	}
	if (ink->stroke != COLOUR_NONE) {
		set_colour(cairo, ink->stroke);
		cairo_set_line_width(cairo, ink->line);
		cairo_set_line_cap(cairo, ink->cap == CAP_ROUND ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
		cairo_set_dash(cairo, &ink->dash, ink->dash > 0 ? 1 : 0, 0);
		cairo_stroke_preserve(cairo);
	}
	cairo_new_path(cairo);
}

static void end_text(struct device *device, const struct text_block *block, struct point at, enum colour colour)
{
	(void)device;
	(void)block;
	(void)at;
	(void)colour;
}

static void end_push_clip(struct device *device, const struct path *path)
{
	cairo_save(cairo_of(device));
	trace(cairo_of(device), path);
	cairo_clip(cairo_of(device));
}

static void end_push_matrix(struct device *device, const struct matrix *matrix)
{
	cairo_matrix_t to = {matrix->a, matrix->b, matrix->c, matrix->d, matrix->e, matrix->f};

	cairo_save(cairo_of(device));
	cairo_transform(cairo_of(device), &to);
}

static void end_pop(struct device *device)
{
	cairo_restore(cairo_of(device));
}

static const struct device_end raster_end = {
	.path = end_path,
	.text = end_text,
	.push_clip = end_push_clip,
	.push_matrix = end_push_matrix,
	.pop = end_pop,
};

/* ---- making and measuring ---- */

static struct raster *new_of_dots(int width, int height, double dots_per_mm)
{
	struct raster *raster = calloc(1, sizeof *raster);

	assert_non_null(raster);
	raster->device.end = &raster_end;
	raster->dots_per_mm = dots_per_mm;
	raster->width = width;
	raster->height = height;
	raster->surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, raster->width, raster->height);
	raster->cairo = cairo_create(raster->surface);
	cairo_set_source_rgb(raster->cairo, 1, 1, 1);
	cairo_paint(raster->cairo);
	cairo_scale(raster->cairo, raster->dots_per_mm, raster->dots_per_mm);
	return raster;
}

struct raster *raster_new(double width, double height, double dots_per_inch)
{
	double dots_per_mm = dots_per_inch / 25.4;

	return new_of_dots((int)ceil(width * dots_per_mm), (int)ceil(height * dots_per_mm), dots_per_mm);
}

/* A grey PGM, as pdftoppm writes it: "P5", width, height, 255, then a byte a dot. */
static void read_grey(struct raster *raster, FILE *file)
{
	int width;
	int height;
	int stride = cairo_image_surface_get_stride(raster->surface);
	unsigned char *data = cairo_image_surface_get_data(raster->surface);

	assert_int_equal(fscanf(file, "P5 %d %d 255", &width, &height), 2);
	assert_int_equal(fgetc(file), '\n');
	assert_int_equal(width, raster->width);
	assert_int_equal(height, raster->height);
	cairo_surface_flush(raster->surface);
	for (int y = 0; y < height; y++) {
		for (int x = 0; x < width; x++) {
			int grey = fgetc(file);
			assert_true(grey != EOF);
			memset(data + y * stride + x * 4, grey, 4);
		}
	}
	cairo_surface_mark_dirty(raster->surface);
}

struct raster *raster_of_pdf(const char *path, int page, struct rect part, double dots_per_inch)
{
	double dots_per_mm = dots_per_inch / 25.4;
	struct raster *raster =
		new_of_dots((int)(part.width * dots_per_mm), (int)(part.height * dots_per_mm), dots_per_mm);
	char command[400];

	raster->left = (int)(part.x * dots_per_mm);
	raster->top = (int)(part.y * dots_per_mm);
	snprintf(command, sizeof command, "pdftoppm -gray -r %g -f %d -l %d -x %d -y %d -W %d -H %d '%s'",
	         dots_per_inch, page, page, raster->left, raster->top, raster->width, raster->height, path);
	FILE *file = popen(command, "r");
	assert_non_null(file);
	read_grey(raster, file);
	assert_int_equal(pclose(file), 0);
	return raster;
}

void raster_free(struct raster *raster)
{
	assert_int_equal(cairo_status(raster->cairo), CAIRO_STATUS_SUCCESS);
	cairo_destroy(raster->cairo);
	cairo_surface_destroy(raster->surface);
	free(raster);
}

struct device *raster_device(struct raster *raster)
{
	return &raster->device;
}

static const unsigned char *line_of(const struct raster *raster, int y)
{
	cairo_surface_flush(raster->surface);
	return cairo_image_surface_get_data(raster->surface) + y * cairo_image_surface_get_stride(raster->surface);
}

/* Grey, so any of the three bytes will do. */
static int dot(const struct raster *raster, int x, int y)
{
	x -= raster->left;
	y -= raster->top;
	assert_in_range(x, 0, raster->width - 1);
	assert_in_range(y, 0, raster->height - 1);
	return line_of(raster, y)[x * 4];
}

static int to_dot(const struct raster *raster, double mm)
{
	return (int)floor(mm * raster->dots_per_mm);
}

bool raster_is_dark(const struct raster *raster, double x, double y)
{
	return dot(raster, to_dot(raster, x), to_dot(raster, y)) < 128;
}

double run_middle(struct run run)
{
	return (run.from + run.to) / 2;
}

static size_t find_runs(const struct raster *raster, bool along_x, double across, double from, double to,
                        struct run *runs, size_t most)
{
	size_t n = 0;
	bool inside = false;

	for (int i = to_dot(raster, from); i <= to_dot(raster, to); i++) {
		int fixed = to_dot(raster, across);
		bool dark = (along_x ? dot(raster, i, fixed) : dot(raster, fixed, i)) < 128;
		if (dark && !inside) {
			assert_true(n < most);
			runs[n++].from = i / raster->dots_per_mm;
		}
		if (dark)
			runs[n - 1].to = (i + 1) / raster->dots_per_mm;
		inside = dark;
	}
	return n;
}

size_t raster_row(const struct raster *raster, double y, double from, double to, struct run *runs, size_t most)
{
	return find_runs(raster, true, y, from, to, runs, most);
}

size_t raster_column(const struct raster *raster, double x, double from, double to, struct run *runs, size_t most)
{
	return find_runs(raster, false, x, from, to, runs, most);
}

struct rect raster_bounds(const struct raster *raster)
{
	int left = raster->width;
	int top = raster->height;
	int right = -1;
	int bottom = -1;

	for (int y = 0; y < raster->height; y++) {
		const unsigned char *line = line_of(raster, y);
		for (int x = 0; x < raster->width; x++) {
			if (line[x * 4] == 255)
				continue;
			left = x < left ? x : left;
			right = x > right ? x : right;
			top = y < top ? y : top;
			bottom = y;
		}
	}
	if (right < 0)
		return (struct rect){0};
	double mm = raster->dots_per_mm;
	return (struct rect){(raster->left + left) / mm, (raster->top + top) / mm, (right + 1 - left) / mm,
	                     (bottom + 1 - top) / mm};
}

bool raster_equal(const struct raster *a, const struct raster *b)
{
	for (int y = 0; y < a->height; y++)
		if (memcmp(line_of(a, y), line_of(b, y), (size_t)a->width * 4) != 0)
			return false;
	return true;
}
