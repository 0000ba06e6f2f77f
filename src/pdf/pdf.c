#include "pdf/pdf.h"

#include "pdf/drawing.h"

#include <assert.h>
#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <ctype.h>
#include <math.h>
#include <string.h>

/* Dots to the inch of a PNG: a picture to look at; what is measured is printed from a PDF. */
static const double png_dpi = 300;

static const struct device_end drawing_end = {
	.begin_page = drawing_begin_page,
	.end_page = drawing_end_page,
	.begin_group = drawing_begin_group,
	.end_group = drawing_end_group,
	.path = drawing_path,
	.text = drawing_text,
	.push_clip = drawing_push_clip,
	.push_matrix = drawing_push_matrix,
	.pop = drawing_pop,
	.begin_link = drawing_begin_link,
	.end_link = drawing_end_link,
};

struct drawing *drawing_of(struct device *device)
{
	return (struct drawing *)(void *)device;
}

/* ---- the surface ---- */

static cairo_status_t take_bytes(void *closure, const unsigned char *data, unsigned length)
{
	g_byte_array_append(closure, data, length);
	return CAIRO_STATUS_SUCCESS;
}

static cairo_surface_t *pdf_surface(GByteArray *bytes, const char *title)
{
	/* Every page brings its own size. */
	cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(take_bytes, bytes, 1, 1);
	cairo_pdf_surface_restrict_to_version(surface, CAIRO_PDF_VERSION_1_5);
	cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
	cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "fillmark");
	/* No dates at all: Cairo would take the clock's, and what the sheet shows says its own date. */
	cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
	cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_MOD_DATE, "");
	return surface;
}

static int dots(double mm)
{
	return (int)ceil(mm / 25.4 * png_dpi);
}

static cairo_surface_t *surface_of(const struct drawing *drawing, struct rect page)
{
	switch (drawing->kind) {
	case DRAWING_PDF:
		return pdf_surface(drawing->bytes, drawing->options->title);
	case DRAWING_SVG:
		return cairo_svg_surface_create_for_stream(take_bytes, drawing->bytes, page.width / POINT_MM,
		                                           page.height / POINT_MM);
	case DRAWING_PNG:
		break;
	}
	return cairo_image_surface_create(CAIRO_FORMAT_RGB24, dots(page.width), dots(page.height));
}

static void lay_white_ground(cairo_t *cairo)
{
	cairo_set_source_rgb(cairo, 1, 1, 1);
	cairo_paint(cairo);
}

struct device *drawing_new(enum drawing_kind kind, const struct drawing_options *options, struct rect page)
{
	struct arena *arena = arena_new();
	struct drawing *drawing = arena_alloc(arena, sizeof *drawing);
	drawing->device.end = &drawing_end;
	drawing->arena = arena;
	drawing->kind = kind;
	drawing->options = options;
	drawing->bytes = g_byte_array_new();
	drawing->surface = surface_of(drawing, page);
	drawing->cairo = cairo_create(drawing->surface);
	if (kind == DRAWING_PNG) {
		lay_white_ground(drawing->cairo);
		cairo_scale(drawing->cairo, png_dpi / 72, png_dpi / 72);
	}
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

bool drawing_finish(struct device *device, const unsigned char **bytes, size_t *n)
{
	struct drawing *drawing = drawing_of(device);
	assert(drawing_links_lead_somewhere(drawing));
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

void drawing_free(struct device *device)
{
	struct drawing *drawing = drawing_of(device);
	cairo_destroy(drawing->cairo);
	cairo_surface_destroy(drawing->surface);
	g_byte_array_free(drawing->bytes, TRUE);
	arena_free(drawing->arena);
}
