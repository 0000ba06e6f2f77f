#include "pdf/document.h"

#include "pdf/content.h"
#include "pdf/embed.h"
#include "pdf/runs.h"
#include "pdf/structure.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { deepest_group = 32 };

/* A page's content: painted, then compressed by the worker. */
struct page_content {
	struct content *painted; /* NULL: it is compressed */
	GByteArray *compressed;
};

struct document_page {
	double width;
	double height;
	const char *label;
	int packet; /* of several; 0: the only one */
	struct page_content *content;
};

struct document_link {
	struct rect area; /* in whole points from the top left corner */
	const char *label;
	const char *words; /* "page 5": where it leads, as it is said */
	int page;
};

struct heading {
	const char *text;
	int page;
};

struct open_group {
	element_ref element; /* what holds the group's words; of an item not yet begun, the item itself */
	enum role role;
	bool artifact; /* it, or a group around it */
	bool figure;
	bool unbegun; /* a list's item that has no body yet */
};

struct document {
	struct device device; /* first: the device is the document */
	const struct drawing_options *options;
	struct arena *arena; /* holds all this and the structure */
	struct content *content;
	struct embedded_fonts *fonts;
	struct structure *structure;
	struct document_page *pages;
	size_t n_pages;
	struct document_link *links;
	size_t n_links;
	int packet;                       /* of several, from 1; 0: the file is one */
	const struct drawing_packet *now; /* valid while it is painted; NULL: the file is one */
	struct heading *headings;
	size_t n_headings;
	struct open_group outside; /* all groups: the document, or one of several packets */
	struct open_group open[deepest_group];
	int depth;
	bool mark_group;                                       /* the last group is around one mark */
	enum { INK_UNMARKED, INK_ARTIFACT, INK_PIECE } marked; /* what the stream is in the middle of */
	element_ref piece_of;
	qpdf_data file;
};

static struct document *document_of(struct device *device)
{
	return (struct document *)(void *)device;
}

static int page_number(const struct document *document)
{
	return (int)document->n_pages - 1;
}

/* ---- what ink belongs to ---- */

static void end_marked(struct document *document)
{
	if (document->marked == INK_UNMARKED)
		return;
	content_flush(document->content);
	content_add(document->content, "EMC\n");
	document->marked = INK_UNMARKED;
}

static void mark_artifact(struct document *document)
{
	if (document->marked == INK_ARTIFACT)
		return;
	end_marked(document);
	content_add(document->content, "/Artifact BMC\n");
	document->marked = INK_ARTIFACT;
}

static void mark_piece(struct document *document, element_ref element)
{
	if (document->marked == INK_PIECE && document->piece_of == element)
		return;
	end_marked(document);
	int number = structure_add_piece(document->structure, element, page_number(document));
	content_add(document->content, "/P <</MCID ");
	content_number(document->content, number, 0);
	content_add(document->content, ">>BDC\n");
	document->marked = INK_PIECE;
	document->piece_of = element;
}

static struct open_group *group_here(struct document *document)
{
	return document->depth ? &document->open[document->depth - 1] : &document->outside;
}

/* A list's item holds all but its label in a body. */
static void begin_body(struct document *document)
{
	struct open_group *group = group_here(document);
	if (!group->unbegun)
		return;
	group->element = structure_add(document->structure, group->element, (struct element_words){.type = "LBody"});
	group->unbegun = false;
}

/* True for what holds other groups, and words only in a paragraph of their own. */
static bool holds_groups(enum role role)
{
	switch (role) {
	case ROLE_DOCUMENT:
	case ROLE_SECTION:
	case ROLE_TABLE:
	case ROLE_ROW:
	case ROLE_LIST:
		return true;
	case ROLE_H1:
	case ROLE_H2:
	case ROLE_H3:
	case ROLE_PARAGRAPH:
	case ROLE_LIST_ITEM:
	case ROLE_LABEL:
	case ROLE_HEAD_CELL:
	case ROLE_CELL:
	case ROLE_FIGURE:
	case ROLE_CAPTION:
	case ROLE_ARTIFACT:
		break;
	}
	return false;
}

/* Lines and fills mean something only as a figure, which is spoken of; elsewhere the words say it. */
static void mark_drawing(struct document *document)
{
	const struct open_group *group = group_here(document);
	if (group->figure && !group->artifact)
		mark_piece(document, group->element);
	else
		mark_artifact(document);
}

static void mark_words(struct document *document)
{
	const struct open_group *group = group_here(document);
	if (group->artifact) {
		mark_artifact(document);
		return;
	}
	if (holds_groups(group->role)) {
		mark_piece(document,
		           structure_add(document->structure, group->element, (struct element_words){.type = "P"}));
		return;
	}
	begin_body(document);
	mark_piece(document, group->element);
}

/* ---- groups ---- */

static const char *const role_types[] = {
	[ROLE_DOCUMENT] = "Part", /* the document itself is one, around all pages */
	[ROLE_SECTION] = "Sect",  [ROLE_H1] = "H1",           [ROLE_H2] = "H2",        [ROLE_H3] = "H3",
	[ROLE_PARAGRAPH] = "P",   [ROLE_LIST] = "L",          [ROLE_LIST_ITEM] = "LI", [ROLE_LABEL] = "Lbl",
	[ROLE_TABLE] = "Table",   [ROLE_ROW] = "TR",          [ROLE_HEAD_CELL] = "TH", [ROLE_CELL] = "TD",
	[ROLE_FIGURE] = "Figure", [ROLE_CAPTION] = "Caption", [ROLE_ARTIFACT] = NULL,
};

static const char *scope_name(enum scope scope)
{
	switch (scope) {
	case SCOPE_NONE:
		break;
	case SCOPE_ROW:
		return "Row";
	case SCOPE_COLUMN:
		return "Column";
	}
	return NULL;
}

/* As it is said: without the switches to bold that it has where it is printed too. NULL stays NULL. */
static const char *spoken(struct arena *arena, const char *text)
{
	if (text == NULL)
		return NULL;
	char *out = arena_alloc(arena, strlen(text) + 1);
	char *end = out;
	for (const char *c = text; *c; c++)
		if (*c != TEXT_BOLD_ON[0] && *c != TEXT_BOLD_OFF[0])
			*end++ = *c;
	return out;
}

static element_ref element_for(struct document *document, const struct group *group, element_ref parent)
{
	struct element_words words = {
		.type = role_types[group->role],
		.alt = group->role == ROLE_FIGURE ? spoken(document->arena, group->alt) : NULL,
		.language = group->language,
		.scope = group->role == ROLE_HEAD_CELL ? scope_name(group->scope) : NULL,
		.columns = group->columns,
	};
	return structure_add(document->structure, parent, words);
}

static void begin_group(struct device *device, const struct group *group)
{
	struct document *document = document_of(device);
	struct open_group *around = group_here(document);
	assert(document->depth < deepest_group);
	struct open_group open = {
		.element = around->element,
		.role = group->role,
		.artifact = around->artifact || group->role == ROLE_ARTIFACT,
		.figure = around->figure || group->role == ROLE_FIGURE,
	};
	end_marked(document);
	/* A figure is spoken of as a whole; what is read aloud neither there nor in an artifact has no element. */
	if (!open.artifact && !around->figure) {
		assert(group->role != ROLE_LABEL || around->unbegun);
		if (group->role == ROLE_LABEL)
			structure_number(document->structure, around->element);
		else
			begin_body(document);
		open.element = element_for(document, group, around->element);
		open.unbegun = group->role == ROLE_LIST_ITEM;
	}
	document->open[document->depth++] = open;
}

static void end_group(struct device *device)
{
	struct document *document = document_of(device);
	assert(document->depth > 0);
	end_marked(document);
	document->depth--;
}

/* The words of a fill mark are one: "line 20", "0.5 mL". */
static bool needs_paragraph(struct document *document, const struct placed_mark *mark)
{
	const struct open_group *group = group_here(document);
	return mark->kind == MARK_TAG && !group->artifact && holds_groups(group->role);
}

static void begin_mark(struct device *device, const struct placed_mark *mark)
{
	struct document *document = document_of(device);
	document->mark_group = needs_paragraph(document, mark);
	if (document->mark_group)
		begin_group(device, &(struct group){.role = ROLE_PARAGRAPH});
}

static void end_mark(struct device *device)
{
	struct document *document = document_of(device);
	if (document->mark_group)
		end_group(device);
	document->mark_group = false;
}

/* ---- ink ---- */

static void paint_path(struct device *device, const struct path *path, const struct ink *ink)
{
	struct document *document = document_of(device);
	mark_drawing(document);
	content_path(document->content, path, ink);
}

static void keep_heading(struct document *document, const char *text, int page)
{
	document->headings =
		arena_more(document->arena, document->headings, document->n_headings, sizeof *document->headings);
	document->headings[document->n_headings++] = (struct heading){arena_strdup(document->arena, text), page};
}

static void paint_text(struct device *device, const struct text_block *block, struct point at, enum colour colour)
{
	struct document *document = document_of(device);
	if (group_here(document)->role == ROLE_H1 && document->now == NULL)
		keep_heading(document, text_string(block), page_number(document));
	mark_words(document);
	runs_show(document->content, document->fonts, block, at, colour);
}

static void push_clip(struct device *device, const struct path *path)
{
	struct document *document = document_of(device);
	mark_drawing(document);
	content_push_clip(document->content, path);
}

static void push_matrix(struct device *device, const struct matrix *matrix)
{
	content_push_matrix(document_of(device)->content, matrix);
}

static void pop(struct device *device)
{
	content_pop(document_of(device)->content);
}

/* ---- pages and links ---- */

static void begin_page(struct device *device, const struct placed_page *page)
{
	struct document *document = document_of(device);
	document->pages = arena_more(document->arena, document->pages, document->n_pages, sizeof *document->pages);
	document->pages[document->n_pages++] =
		(struct document_page){.width = page->width,
	                               .height = page->height,
	                               .label = arena_strdup(document->arena, page->label),
	                               .packet = document->packet};
	document->content = content_new(page->height, document->options->mono);
}

static void compress(void *data)
{
	struct page_content *content = data;
	content->compressed = deflated(content->painted->bytes->str, content->painted->bytes->len);
	content_free(content->painted);
	content->painted = NULL;
}

static void end_page(struct device *device)
{
	struct document *document = document_of(device);
	assert(document->depth == 0);
	end_marked(document);
	content_flush(document->content);
	struct page_content *content = arena_alloc(document->arena, sizeof *content);
	content->painted = document->content;
	document->pages[document->n_pages - 1].content = content;
	document->content = NULL;
	worker_do(document->options->worker, compress, content);
}

/* In whole points, never smaller than the area. */
static struct rect click_area(struct rect area)
{
	double left = floor(area.x / POINT_MM);
	double top = floor(area.y / POINT_MM);
	return (struct rect){left, top, ceil((area.x + area.width) / POINT_MM) - left,
	                     ceil((area.y + area.height) / POINT_MM) - top};
}

/* A file of several packets may hold a part of each alone. */
static bool leads_somewhere(const struct document *document, const char *label)
{
	for (size_t i = 0; document->now != NULL && i < document->now->n_labels; i++)
		if (strcmp(document->now->labels[i], label) == 0)
			return true;
	return document->now == NULL;
}

/* In an artifact, which no one hears, there is only the place to click. */
static void begin_link(struct device *device, struct rect area, const char *label, const char *words)
{
	struct document *document = document_of(device);
	begin_body(document);
	struct open_group open = *group_here(document);
	assert(document->depth < deepest_group);
	end_marked(document);
	if (!leads_somewhere(document, label)) {
		document->open[document->depth++] = open;
		return;
	}
	if (!open.artifact && !open.figure)
		open.element = structure_add(document->structure, open.element, (struct element_words){.type = "Link"});
	open.role = ROLE_PARAGRAPH;
	structure_add_link(document->structure, open.element, page_number(document), (int)document->n_links);
	document->links = arena_more(document->arena, document->links, document->n_links, sizeof *document->links);
	document->links[document->n_links++] = (struct document_link){.area = click_area(area),
	                                                              .label = arena_strdup(document->arena, label),
	                                                              .words = arena_strdup(document->arena, words),
	                                                              .page = page_number(document)};
	document->open[document->depth++] = open;
}

static void end_link(struct device *device)
{
	end_group(device);
}

void document_begin_packet(struct device *device, const struct drawing_packet *packet)
{
	struct document *document = document_of(device);
	assert(document->depth == 0 && document->content == NULL);
	document->packet++;
	document->now = packet;
	document->outside.element = structure_add(document->structure, 0,
	                                          (struct element_words){.type = "Part", .language = packet->language});
	keep_heading(document, packet->title, (int)document->n_pages);
}

static const struct device_end document_end = {
	.begin_page = begin_page,
	.end_page = end_page,
	.begin_group = begin_group,
	.end_group = end_group,
	.path = paint_path,
	.text = paint_text,
	.push_clip = push_clip,
	.push_matrix = push_matrix,
	.pop = pop,
	.begin_link = begin_link,
	.end_link = end_link,
	.begin_mark = begin_mark,
	.end_mark = end_mark,
};

bool is_document(const struct device *device)
{
	return device->end == &document_end;
}

struct device *document_new(const struct drawing_options *options)
{
	struct arena *arena = arena_new();
	struct document *document = arena_alloc(arena, sizeof *document);
	document->device.end = &document_end;
	document->outside = (struct open_group){.element = 0, .role = ROLE_DOCUMENT};
	document->options = options;
	document->arena = arena;
	document->fonts = embedded_fonts_new();
	document->structure = structure_new(arena);
	document->file = qpdf_init();
	qpdf_silence_errors(document->file);
	return &document->device;
}

/* ---- the file ---- */

/* Of the page's upper edge: y grows upward in a file's own coordinates. */
static double points_up(const struct document *document, int page, double points_down)
{
	return document->pages[page].height / POINT_MM - points_down;
}

static qpdf_oh box_object(qpdf_data file, double left, double low, double right, double high)
{
	qpdf_oh array = qpdf_oh_new_array(file);
	const double edges[] = {left, low, right, high};
	for (size_t i = 0; i < sizeof edges / sizeof *edges; i++)
		qpdf_oh_append_item(file, array, qpdf_oh_new_real_from_double(file, edges[i], 4));
	return array;
}

static void write_page(const struct document *document, size_t index, qpdf_oh dictionary, qpdf_oh parent,
                       qpdf_oh resources)
{
	qpdf_data file = document->file;
	const struct document_page *page = &document->pages[index];
	object_set_name(file, dictionary, "/Type", "/Page");
	object_set(file, dictionary, "/Parent", parent);
	object_set(file, dictionary, "/MediaBox",
	           box_object(file, 0, 0, page->width / POINT_MM, page->height / POINT_MM));
	object_set(file, dictionary, "/Resources", resources);
	object_set_integer(file, dictionary, "/StructParents", (long long)index);
	/* Who goes from link to link goes in reading order. */
	object_set_name(file, dictionary, "/Tabs", "/S");
}

static qpdf_oh *write_pages(struct document *document, qpdf_oh fonts)
{
	qpdf_data file = document->file;
	qpdf_oh *pages = arena_alloc(document->arena, document->n_pages * sizeof *pages);
	qpdf_oh tree = qpdf_oh_get_key(file, qpdf_get_root(file), "/Pages");
	qpdf_oh kids = qpdf_oh_new_array(file);
	qpdf_oh resources = qpdf_oh_new_dictionary(file);
	object_set(file, resources, "/Font", fonts);
	resources = object_reference(file, resources);
	for (size_t i = 0; i < document->n_pages; i++) {
		pages[i] = object_reference(file, qpdf_oh_new_dictionary(file));
		write_page(document, i, pages[i], tree, resources);
		qpdf_oh_append_item(file, kids, pages[i]);
	}
	object_set(file, tree, "/Kids", kids);
	object_set_integer(file, tree, "/Count", (long long)document->n_pages);
	return pages;
}

/* Last, when the worker had the most time. */
static void write_contents(const struct document *document, const qpdf_oh *pages)
{
	qpdf_data file = document->file;
	worker_wait(document->options->worker);
	for (size_t i = 0; i < document->n_pages; i++)
		object_set(file, pages[i], "/Contents",
		           object_deflated_stream(file, document->pages[i].content->compressed));
}

/* The label as a prefix alone, so that "S1" is shown as it is printed. */
static void write_labels(const struct document *document)
{
	qpdf_data file = document->file;
	qpdf_oh numbers = qpdf_oh_new_array(file);
	for (size_t i = 0; i < document->n_pages; i++) {
		qpdf_oh label = qpdf_oh_new_dictionary(file);
		object_set(file, label, "/P", object_text(file, document->pages[i].label));
		qpdf_oh_append_item(file, numbers, qpdf_oh_new_integer(file, (long long)i));
		qpdf_oh_append_item(file, numbers, label);
	}
	qpdf_oh labels = qpdf_oh_new_dictionary(file);
	object_set(file, labels, "/Nums", numbers);
	object_set(file, qpdf_get_root(file), "/PageLabels", labels);
}

/* The upper edge of a page, at the size that the reader has chosen. */
static qpdf_oh destination(const struct document *document, const qpdf_oh *pages, int page)
{
	qpdf_data file = document->file;
	qpdf_oh array = qpdf_oh_new_array(file);
	qpdf_oh_append_item(file, array, pages[page]);
	qpdf_oh_append_item(file, array, object_name(file, "/XYZ"));
	qpdf_oh_append_item(file, array, qpdf_oh_new_integer(file, 0));
	qpdf_oh_append_item(file, array, qpdf_oh_new_real_from_double(file, points_up(document, page, 0), 2));
	qpdf_oh_append_item(file, array, qpdf_oh_new_null(file));
	return array;
}

/* Of the packet that the link stands in. */
static int page_labelled(const struct document *document, const char *label, int packet)
{
	for (size_t i = 0; i < document->n_pages; i++)
		if (document->pages[i].packet == packet && strcmp(document->pages[i].label, label) == 0)
			return (int)i;
	return -1;
}

static qpdf_oh link_object(const struct document *document, size_t index, const qpdf_oh *pages)
{
	qpdf_data file = document->file;
	const struct document_link *link = &document->links[index];
	int target = page_labelled(document, link->label, document->pages[link->page].packet);
	assert(target >= 0);
	double top = points_up(document, link->page, link->area.y);
	qpdf_oh annotation = object_parsed(file, "<< /Type /Annot /Subtype /Link /Border [0 0 0] /F 4 >>");
	object_set(file, annotation, "/Rect",
	           box_object(file, link->area.x, top - link->area.height, link->area.x + link->area.width, top));
	object_set(file, annotation, "/Dest", destination(document, pages, target));
	object_set(file, annotation, "/Contents", object_text(file, link->words));
	object_set_integer(file, annotation, "/StructParent", (long long)(document->n_pages + index));
	return object_reference(file, annotation);
}

static qpdf_oh *write_links(struct document *document, const qpdf_oh *pages)
{
	qpdf_data file = document->file;
	qpdf_oh *links = arena_alloc(document->arena, (document->n_links + 1) * sizeof *links);
	for (size_t i = 0; i < document->n_links; i++) {
		qpdf_oh page = pages[document->links[i].page];
		links[i] = link_object(document, i, pages);
		if (!qpdf_oh_has_key(file, page, "/Annots"))
			object_set(file, page, "/Annots", qpdf_oh_new_array(file));
		qpdf_oh_append_item(file, qpdf_oh_get_key(file, page, "/Annots"), links[i]);
	}
	return links;
}

/* A line a heading: each entry names the one before and after it. */
static void write_outline(const struct document *document, const qpdf_oh *pages)
{
	qpdf_data file = document->file;
	if (document->n_headings == 0)
		return;
	qpdf_oh outline = object_reference(file, object_parsed(file, "<< /Type /Outlines >>"));
	qpdf_oh before = 0;
	for (size_t i = 0; i < document->n_headings; i++) {
		const struct heading *heading = &document->headings[i];
		qpdf_oh entry = object_reference(file, qpdf_oh_new_dictionary(file));
		object_set(file, entry, "/Title", object_text(file, heading->text));
		object_set(file, entry, "/Parent", outline);
		object_set(file, entry, "/Dest", destination(document, pages, heading->page));
		if (i > 0) {
			object_set(file, entry, "/Prev", before);
			object_set(file, before, "/Next", entry);
		} else {
			object_set(file, outline, "/First", entry);
		}
		before = entry;
	}
	object_set(file, outline, "/Last", before);
	object_set_integer(file, outline, "/Count", (long long)document->n_headings);
	object_set(file, qpdf_get_root(file), "/Outlines", outline);
}

/* XMP, for readers that ask there for the title and for what the file keeps to. */
static void write_metadata(const struct document *document)
{
	qpdf_data file = document->file;
	char *title = g_markup_escape_text(document->options->title, -1);
	char *xmp =
		g_strdup_printf("<?xpacket begin=\"\xEF\xBB\xBF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n"
	                        "<x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n"
	                        "<rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n"
	                        "<rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" "
	                        "xmlns:pdfuaid=\"http://www.aiim.org/pdfua/ns/id/\">\n"
	                        "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">%s</rdf:li></rdf:Alt></dc:title>\n"
	                        "<pdfuaid:part>1</pdfuaid:part>\n"
	                        "</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"w\"?>\n",
	                        title);
	qpdf_oh stream = object_stream(file, xmp, strlen(xmp));
	qpdf_oh dictionary = qpdf_oh_get_dict(file, stream);
	object_set_name(file, dictionary, "/Type", "/Metadata");
	object_set_name(file, dictionary, "/Subtype", "/XML");
	object_set(file, qpdf_get_root(file), "/Metadata", stream);
	g_free(xmp);
	g_free(title);
}

/* No dates at all: the clock is not asked, and what the sheet shows says its own date. */
static void write_catalogue(const struct document *document)
{
	qpdf_data file = document->file;
	qpdf_oh root = qpdf_get_root(file);
	object_set(file, root, "/Lang", object_text(file, document->options->language));
	object_set(file, root, "/MarkInfo", object_parsed(file, "<< /Marked true >>"));
	object_set(file, root, "/ViewerPreferences",
	           object_parsed(file, "<< /DisplayDocTitle true /PrintScaling /None >>"));
	write_metadata(document);
	qpdf_oh info = qpdf_oh_new_dictionary(file);
	object_set(file, info, "/Title", object_text(file, document->options->title));
	object_set(file, info, "/Creator", object_text(file, "fillmark"));
	object_set(file, qpdf_get_trailer(file), "/Info", object_reference(file, info));
}

static bool write_objects(struct document *document)
{
	qpdf_data file = document->file;
	qpdf_oh fonts;
	if (qpdf_empty_pdf(file) != QPDF_SUCCESS || !embedded_fonts_write(document->fonts, file, &fonts))
		return false;
	qpdf_oh *pages = write_pages(document, fonts);
	qpdf_oh *links = write_links(document, pages);
	write_labels(document);
	write_outline(document, pages);
	write_catalogue(document);
	structure_write(document->structure, file, pages, document->n_pages, links, document->n_links);
	write_contents(document, pages);
	return !qpdf_has_error(file);
}

bool document_finish(struct device *device, const unsigned char **bytes, size_t *n)
{
	struct document *document = document_of(device);
	qpdf_data file = document->file;
	bool good = write_objects(document) && qpdf_init_write_memory(file) == QPDF_SUCCESS;
	if (good) {
		qpdf_set_minimum_pdf_version(file, "1.7");
		qpdf_set_object_stream_mode(file, qpdf_o_generate);
		/* Of the file's own bytes, not of the clock. */
		qpdf_set_deterministic_ID(file, QPDF_TRUE);
		good = qpdf_write(file) == QPDF_SUCCESS;
	}
	*bytes = good ? qpdf_get_buffer(file) : NULL;
	*n = good ? qpdf_get_buffer_length(file) : 0;
	return good;
}

void document_free(struct device *device)
{
	struct document *document = document_of(device);
	worker_wait(document->options->worker);
	for (size_t i = 0; i < document->n_pages; i++)
		if (document->pages[i].content)
			g_byte_array_unref(document->pages[i].content->compressed);
	if (document->content)
		content_free(document->content);
	embedded_fonts_free(document->fonts);
	qpdf_cleanup(&document->file);
	arena_free(document->arena);
}
