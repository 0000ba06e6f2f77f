/*
 * Structure as far as Cairo can write it: nested roles, links, page labels.
 *
 *     Document             one, around all pages
 *       Sect               from the pages' groups
 *         NonStruct        an artifact: Cairo has no such thing, and ink
 *         H1, P, Table ... without a tag would be read as part of its parent
 *
 * Spoken texts, languages and scopes stay in the list of tags.
 */
#include "pdf/drawing.h"

#include <assert.h>
#include <cairo-pdf.h>
#include <math.h>
#include <string.h>

static bool is_pdf(const struct drawing *drawing)
{
	return drawing->kind == DRAWING_PDF;
}

/* ---- pages and links ---- */

/* Labels are the project's own ("1", "S1"), so they never need quoting. */
static const char *destination(struct arena *arena, const char *label)
{
	return arena_printf(arena, "'page %s'", label);
}

/*
 * Cairo unites what every drawing covers to a region, box by box, ever more
 * slowly; a ground that covers the page holds all of them from the start. It
 * stands outside all tags, so nothing of it is read.
 */
static void lay_ground(cairo_t *cairo, const struct placed_page *page)
{
	cairo_set_source_rgb(cairo, 1, 1, 1);
	cairo_rectangle(cairo, 0, 0, page->width / POINT_MM, page->height / POINT_MM);
	cairo_fill(cairo);
}

/*
 * Cairo forgets what a page holds when its size is set, so that comes first. It
 * leaves out the first page's label where it is "1": readers count from there
 * anyway, up to the first label of another kind.
 */
static void begin_pdf_page(struct drawing *drawing, const struct placed_page *page)
{
	cairo_t *cairo = drawing->cairo;
	cairo_pdf_surface_set_size(drawing->surface, page->width / POINT_MM, page->height / POINT_MM);
	cairo_pdf_surface_set_page_label(drawing->surface, page->label);
	lay_ground(cairo, page);
	/* Never ended: it reaches to the end of the last page, and after that Cairo has nowhere to write it. */
	if (drawing->n_pages == 0)
		cairo_tag_begin(cairo, "Document", NULL);
	cairo_tag_begin(cairo, CAIRO_TAG_DEST,
	                arena_printf(drawing->arena, "name=%s x=0 y=0", destination(drawing->arena, page->label)));
	cairo_tag_end(cairo, CAIRO_TAG_DEST);
	drawing->labels =
		arena_more(drawing->arena, drawing->labels, (size_t)drawing->n_pages, sizeof *drawing->labels);
	drawing->labels[drawing->n_pages] = page->label;
}

void drawing_begin_page(struct device *device, const struct placed_page *page)
{
	struct drawing *drawing = drawing_of(device);
	if (is_pdf(drawing))
		begin_pdf_page(drawing, page);
	else
		assert(drawing->n_pages == 0);
	drawing->n_pages++;
	cairo_save(drawing->cairo);
	cairo_scale(drawing->cairo, 1 / POINT_MM, 1 / POINT_MM);
}

void drawing_end_page(struct device *device)
{
	struct drawing *drawing = drawing_of(device);
	assert(drawing->depth == 0);
	drawing_flush(drawing);
	cairo_restore(drawing->cairo);
	cairo_show_page(drawing->cairo);
}

/* In whole points, so that no decimal sign of any language can enter; never smaller than the area. */
static const char *click_area(struct arena *arena, struct rect area)
{
	int left = (int)floor(area.x / POINT_MM);
	int top = (int)floor(area.y / POINT_MM);
	int right = (int)ceil((area.x + area.width) / POINT_MM);
	int bottom = (int)ceil((area.y + area.height) / POINT_MM);
	return arena_printf(arena, "[%d %d %d %d]", left, top, right - left, bottom - top);
}

/* A link outside every group would damage the file, but Document is around all. */
void drawing_begin_link(struct device *device, struct rect area, const char *label)
{
	struct drawing *drawing = drawing_of(device);
	if (!is_pdf(drawing))
		return;
	drawing_flush(drawing);
	drawing->links = arena_more(drawing->arena, drawing->links, drawing->n_links, sizeof *drawing->links);
	drawing->links[drawing->n_links++] = label;
	cairo_tag_begin(drawing->cairo, CAIRO_TAG_LINK,
	                arena_printf(drawing->arena, "dest=%s rect=%s", destination(drawing->arena, label),
	                             click_area(drawing->arena, area)));
}

void drawing_end_link(struct device *device)
{
	struct drawing *drawing = drawing_of(device);
	drawing_flush(drawing);
	if (is_pdf(drawing))
		cairo_tag_end(drawing->cairo, CAIRO_TAG_LINK);
}

static bool has_page(const struct drawing *drawing, const char *label)
{
	for (int i = 0; i < drawing->n_pages; i++)
		if (strcmp(drawing->labels[i], label) == 0)
			return true;
	return false;
}

/* Cairo writes a link to nowhere without a word. */
bool drawing_links_lead_somewhere(const struct drawing *drawing)
{
	for (size_t i = 0; i < drawing->n_links; i++)
		if (!has_page(drawing, drawing->links[i]))
			return false;
	return true;
}

/* ---- groups ---- */

static const char *const role_tags[] = {
	[ROLE_DOCUMENT] = "Part", /* the document itself is one, around all pages */
	[ROLE_SECTION] = "Sect",    [ROLE_H1] = "H1",
	[ROLE_H2] = "H2",           [ROLE_H3] = "H3",
	[ROLE_PARAGRAPH] = "P",     [ROLE_LIST] = "L",
	[ROLE_LIST_ITEM] = "LI",    [ROLE_TABLE] = "Table",
	[ROLE_ROW] = "TR",          [ROLE_HEAD_CELL] = "TH",
	[ROLE_CELL] = "TD",         [ROLE_FIGURE] = "Figure",
	[ROLE_CAPTION] = "Caption", [ROLE_ARTIFACT] = "NonStruct",
};

static void keep_tag(struct drawing *drawing, const struct group *group)
{
	drawing->tags = arena_more(drawing->arena, drawing->tags, drawing->n_tags, sizeof *drawing->tags);
	drawing->tags[drawing->n_tags++] = (struct drawing_tag){
		.group = *group,
		.page = drawing->n_pages - 1,
		.parent = drawing->depth ? drawing->open[drawing->depth - 1].tag : -1,
	};
}

void drawing_begin_group(struct device *device, const struct group *group)
{
	struct drawing *drawing = drawing_of(device);
	assert(drawing->depth < deepest_group);
	drawing_flush(drawing);
	keep_tag(drawing, group);
	/* Whatever stands in an artifact is one with it. */
	bool within = drawing->depth && drawing->open[drawing->depth - 1].artifact;
	struct open_group open = {
		.tag = (int)drawing->n_tags - 1,
		.name = is_pdf(drawing) && !within ? role_tags[group->role] : NULL,
		.artifact = within || group->role == ROLE_ARTIFACT,
	};
	drawing->open[drawing->depth++] = open;
	if (open.name)
		cairo_tag_begin(drawing->cairo, open.name, NULL);
}

void drawing_end_group(struct device *device)
{
	struct drawing *drawing = drawing_of(device);
	assert(drawing->depth > 0);
	drawing_flush(drawing);
	const char *name = drawing->open[--drawing->depth].name;
	if (name)
		cairo_tag_end(drawing->cairo, name);
}

const struct drawing_tag *drawing_tags(const struct device *device, size_t *n)
{
	const struct drawing *drawing = (const struct drawing *)(const void *)device;
	*n = drawing->n_tags;
	return drawing->tags;
}
