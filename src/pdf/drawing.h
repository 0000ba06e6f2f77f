/*
 * drawing.h - the state behind a device that paints through Cairo; inside pdf only.
 *
 * Three files share it: marks.c puts ink on a page, tags.c says what the ink
 * means, pdf.c makes the surface and the bytes. Completing a file otherwise
 * than Cairo does is a change of tags.c and pdf.c alone.
 */
#ifndef PDF_DRAWING_H
#define PDF_DRAWING_H

#include "pdf/pdf.h"

#include <cairo.h>
#include <glib.h>

enum { deepest_group = 32 };

struct drawing {
	struct device device; /* first: the device is the drawing */
	enum drawing_kind kind;
	const struct drawing_options *options;
	cairo_surface_t *surface;
	cairo_t *cairo;
	GByteArray *bytes;
	struct arena *arena; /* holds this and the tags */
	int n_pages;
	const char **labels; /* of a PDF's pages */
	const char **links;  /* the labels that its links name */
	size_t n_links;
	struct ink lines; /* of the lines gathered in Cairo's path, in the surface's own units */
	bool has_lines;

	struct drawing_tag *tags;
	size_t n_tags;
	struct open_group {
		int tag;          /* its index in tags */
		const char *name; /* in Cairo's structure; NULL: it has none there */
		bool artifact;    /* it, or a group around it */
	} open[deepest_group];
	int depth;
};

struct drawing *drawing_of(struct device *device);

/* marks.c */
/* Draws the lines gathered so far: before anything that is no line of the same ink. */
void drawing_flush(struct drawing *drawing);
void drawing_path(struct device *device, const struct path *path, const struct ink *ink);
void drawing_text(struct device *device, const struct text_block *block, struct point at, enum colour colour);
void drawing_push_clip(struct device *device, const struct path *path);
void drawing_push_matrix(struct device *device, const struct matrix *matrix);
void drawing_pop(struct device *device);

/* tags.c */
void drawing_begin_page(struct device *device, const struct placed_page *page);
void drawing_end_page(struct device *device);
void drawing_begin_group(struct device *device, const struct group *group);
void drawing_end_group(struct device *device);
void drawing_begin_link(struct device *device, struct rect area, const char *label);
void drawing_end_link(struct device *device);
bool drawing_links_lead_somewhere(const struct drawing *drawing);

#endif
