/*
 * One figure as PDF, SVG and PNG: its colours in print and in black and white, its size, the same bytes every time.
 */
#include "pdf/pdf.h"

#include "paint/paint.h"
#include "support/cases.h"
#include "support/raster.h"
#include "support/shell.h"

#include <cairo.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The design's table of colours: in print, and in black and white. */
struct colour_row {
	const char *name;
	enum colour colour;
	unsigned printed;
	unsigned mono;
};

static const struct colour_row colour_rows[] = {
	{"ink", COLOUR_INK, 0x000000, 0x000000},       {"white", COLOUR_WHITE, 0xFFFFFF, 0xFFFFFF},
	{"liquid", COLOUR_LIQUID, 0x175C8E, 0x000000}, {"liquid tint", COLOUR_LIQUID_TINT, 0xE2EEF7, 0xFFFFFF},
	{"rust", COLOUR_RUST, 0x9A3B00, 0x000000},     {"plastic", COLOUR_PLASTIC, 0xBDBDBD, 0xBDBDBD},
	{"hub", COLOUR_HUB, 0x8A8A8A, 0x8A8A8A},       {"day", COLOUR_DAY, 0x5A5A5A, 0x5A5A5A},
	{"band", COLOUR_BAND, 0xF1F1EF, 0xFFFFFF},
};

#define N_COLOURS (sizeof colour_rows / sizeof *colour_rows)
#define PAPER_WIDTH 120.0
#define PAPER_HEIGHT 60.0
#define SWATCH 8.0
#define RULE_LEFT 20.0
#define RULE_Y 45.0
#define RULE_LENGTH 50.0

static double swatch_left(size_t i)
{
	return 10 + 11 * (double)i;
}

/* A swatch of each colour and a rule of 50 mm. */
struct figure {
	struct placed_mark marks[N_COLOURS + 1];
	struct placed_page page;
};

static void make_figure(struct figure *figure)
{
	memset(figure, 0, sizeof *figure);
	for (size_t i = 0; i < N_COLOURS; i++)
		figure->marks[i] = (struct placed_mark){.kind = MARK_BOX,
		                                        .area = {swatch_left(i), 20, SWATCH, SWATCH},
		                                        .box = {.stroke = COLOUR_NONE, .fill = colour_rows[i].colour}};
	figure->marks[N_COLOURS] = (struct placed_mark){.kind = MARK_RULE,
	                                                .area = {RULE_LEFT, RULE_Y - 0.5, RULE_LENGTH, 1},
	                                                .rule = {.from = {RULE_LEFT, RULE_Y},
	                                                         .to = {RULE_LEFT + RULE_LENGTH, RULE_Y},
	                                                         .line = 1,
	                                                         .colour = COLOUR_INK}};
	figure->page = (struct placed_page){
		.width = PAPER_WIDTH, .height = PAPER_HEIGHT, .label = "1", .marks = figure->marks, .n = N_COLOURS + 1};
}

static struct file_content draw(struct arena *arena, enum drawing_kind kind, bool mono)
{
	struct figure figure;
	make_figure(&figure);
	const struct drawing_options options = {.mono = mono, .title = "A figure", .language = "en"};
	struct device *device = drawing_new(kind, &options, (struct rect){0, 0, PAPER_WIDTH, PAPER_HEIGHT});
	struct file_content content;
	paint_page(arena, &figure.page, device);
	assert_true(drawing_finish(device, &content.bytes, &content.n));
	unsigned char *copy = arena_alloc(arena, content.n + 1);
	memcpy(copy, content.bytes, content.n);
	drawing_free(device);
	return (struct file_content){copy, content.n};
}

/* ---- dots in colour ---- */

struct dots {
	int width;
	int height;
	const unsigned char *rgb; /* three bytes a dot */
};

/* A PPM, as pdftoppm writes it: "P6", width, height, 255, then three bytes a dot. */
static struct dots dots_of_pdf(struct arena *arena, struct file_content pdf, double dots_per_inch)
{
	const char *folder = scratch_folder(arena);
	const char *path = arena_printf(arena, "%s/figure.pdf", folder);
	write_file(path, pdf.bytes, pdf.n);
	shell(arena, "pdftoppm -r %g -singlefile '%s' '%s/figure'", dots_per_inch, path, folder);
	struct file_content ppm = read_file(arena, arena_printf(arena, "%s/figure.ppm", folder));
	struct dots dots;
	int start;
	assert_int_equal(sscanf((const char *)ppm.bytes, "P6 %d %d 255%n", &dots.width, &dots.height, &start), 2);
	dots.rgb = ppm.bytes + start + 1;
	assert_int_equal(ppm.n, (size_t)start + 1 + (size_t)dots.width * (size_t)dots.height * 3);
	scratch_remove(arena, folder);
	return dots;
}

struct reading {
	struct file_content content;
	size_t at;
};

static cairo_status_t give_bytes(void *closure, unsigned char *data, unsigned length)
{
	struct reading *reading = closure;
	if (length > reading->content.n - reading->at)
		return CAIRO_STATUS_READ_ERROR;
	memcpy(data, reading->content.bytes + reading->at, length);
	reading->at += length;
	return CAIRO_STATUS_SUCCESS;
}

static struct dots dots_of_png(struct arena *arena, struct file_content png)
{
	struct reading reading = {.content = png};
	cairo_surface_t *surface = cairo_image_surface_create_from_png_stream(give_bytes, &reading);
	assert_int_equal(cairo_surface_status(surface), CAIRO_STATUS_SUCCESS);
	struct dots dots = {cairo_image_surface_get_width(surface), cairo_image_surface_get_height(surface), NULL};
	unsigned char *rgb = arena_alloc(arena, (size_t)dots.width * (size_t)dots.height * 3);
	const unsigned char *data = cairo_image_surface_get_data(surface);
	for (int i = 0; i < dots.width * dots.height; i++) {
		uint32_t dot;
		memcpy(&dot, data + i / dots.width * cairo_image_surface_get_stride(surface) + i % dots.width * 4, 4);
		rgb[i * 3] = (unsigned char)(dot >> 16);
		rgb[i * 3 + 1] = (unsigned char)(dot >> 8);
		rgb[i * 3 + 2] = (unsigned char)dot;
	}
	cairo_surface_destroy(surface);
	dots.rgb = rgb;
	return dots;
}

static unsigned dot_at(struct dots dots, double x, double y)
{
	int column = (int)(x / PAPER_WIDTH * dots.width);
	int row = (int)(y / PAPER_HEIGHT * dots.height);
	const unsigned char *dot = dots.rgb + (row * dots.width + column) * 3;
	return (unsigned)dot[0] << 16 | (unsigned)dot[1] << 8 | dot[2];
}

static size_t coloured_dots(struct dots dots)
{
	size_t n = 0;
	for (int i = 0; i < dots.width * dots.height; i++)
		n += dots.rgb[i * 3] != dots.rgb[i * 3 + 1] || dots.rgb[i * 3] != dots.rgb[i * 3 + 2];
	return n;
}

static void assert_colours(struct dots dots, bool mono)
{
	for (size_t i = 0; i < N_COLOURS; i++) {
		unsigned found = dot_at(dots, swatch_left(i) + SWATCH / 2, 20 + SWATCH / 2);
		unsigned wanted = mono ? colour_rows[i].mono : colour_rows[i].printed;
		if (found != wanted)
			fail_msg("%s is %06X, wanted %06X", colour_rows[i].name, found, wanted);
	}
}

static void colours_are_those_of_the_table(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct dots pdf = dots_of_pdf(arena, draw(arena, DRAWING_PDF, false), 150);
	assert_colours(pdf, false);
	assert_colours(dots_of_png(arena, draw(arena, DRAWING_PNG, false)), false);
	assert_true(coloured_dots(pdf) > 1000);
}

static void black_and_white_has_no_colour(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct dots pdf = dots_of_pdf(arena, draw(arena, DRAWING_PDF, true), 150);
	struct dots png = dots_of_png(arena, draw(arena, DRAWING_PNG, true));
	assert_colours(pdf, true);
	assert_colours(png, true);
	assert_int_equal(coloured_dots(pdf), 0);
	assert_int_equal(coloured_dots(png), 0);
}

/* 0.18 of ink on the band's edge, and none where there is colour. */
static void a_band_has_an_outline_in_black_and_white(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const size_t band = N_COLOURS - 1;
	assert_int_equal(colour_rows[band].colour, COLOUR_BAND);
	unsigned mono = dot_at(dots_of_pdf(arena, draw(arena, DRAWING_PDF, true), 1200), swatch_left(band), 24);
	unsigned printed = dot_at(dots_of_pdf(arena, draw(arena, DRAWING_PDF, false), 1200), swatch_left(band), 24);
	assert_true(mono < 0x303030);
	assert_true(printed >= 0xF1F1EF);
}

/* ---- sizes ---- */

static void a_png_has_300_dots_to_the_inch(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct dots dots = dots_of_png(arena, draw(arena, DRAWING_PNG, false));
	assert_int_equal(dots.width, (int)ceil(PAPER_WIDTH / 25.4 * 300));
	assert_int_equal(dots.height, (int)ceil(PAPER_HEIGHT / 25.4 * 300));
	int row = (int)(RULE_Y / 25.4 * 300);
	int dark = 0;
	for (int column = 0; column < dots.width; column++)
		dark += dots.rgb[(row * dots.width + column) * 3] < 128;
	assert_in_range(dark, (int)(RULE_LENGTH / 25.4 * 300) - 1, (int)(RULE_LENGTH / 25.4 * 300) + 1);
}

/* In points, as its first line says; the rule's path in the same. */
static void an_svg_is_true_to_size(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *svg = (const char *)draw(arena, DRAWING_SVG, false).bytes;
	double width;
	double height;
	const char *size = strstr(svg, "width=\"");
	assert_non_null(size);
	assert_int_equal(sscanf(size, "width=\"%lfpt\" height=\"%lfpt\"", &width, &height), 2);
	assert_true(fabs(width * 25.4 / 72 - PAPER_WIDTH) < 0.001);
	assert_true(fabs(height * 25.4 / 72 - PAPER_HEIGHT) < 0.001);
	double view_width;
	double view_height;
	const char *view = strstr(svg, "viewBox=\"");
	assert_non_null(view);
	assert_int_equal(sscanf(view, "viewBox=\"0 0 %lf %lf\"", &view_width, &view_height), 2);
	assert_true(view_width == width && view_height == height);
	/* The rule is 1 mm wide, which is 72 / 25.4 points. */
	const char *stroke = strstr(svg, "stroke-width:2.83");
	assert_non_null(stroke);
	double from;
	double to;
	const char *path = strstr(stroke, " d=\"M ");
	assert_non_null(path);
	int end = 0;
	assert_int_equal(sscanf(path, " d=\"M %lf %*f L %lf %*f \"%n", &from, &to, &end), 2);
	assert_int_equal(strncmp(path + end, "/>", 2), 0); /* no transform follows */
	assert_true(fabs((to - from) * 25.4 / 72 - RULE_LENGTH) < 0.01);
}

/* ---- bytes ---- */

static void a_drawing_has_the_same_bytes_again(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const enum drawing_kind kinds[] = {DRAWING_PDF, DRAWING_SVG, DRAWING_PNG};
	for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
		struct file_content first = draw(arena, kinds[i], true);
		/* Others in between: engines count what a process has drawn. */
		draw(arena, DRAWING_SVG, false);
		draw(arena, DRAWING_PNG, false);
		struct file_content second = draw(arena, kinds[i], true);
		assert_int_equal(first.n, second.n);
		assert_memory_equal(first.bytes, second.bytes, first.n);
		assert_true(first.n > 500);
	}
}

#define ADD(test) tests_add(&tests, #test, test, NULL)

int main(void)
{
	struct tests tests = {0};
	ADD(colours_are_those_of_the_table);
	ADD(black_and_white_has_no_colour);
	ADD(a_band_has_an_outline_in_black_and_white);
	ADD(a_png_has_300_dots_to_the_inch);
	ADD(an_svg_is_true_to_size);
	ADD(a_drawing_has_the_same_bytes_again);
	return tests_run(&tests, "drawing");
}
