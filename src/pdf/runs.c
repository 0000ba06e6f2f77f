/*
 * runs.c - from Pango's glyphs to codes and moves.
 *
 *     BT
 *     /F1 4.2333 Tf                   the size in mm, since the page counts so
 *     1 0 0 -1 20 31.75 Tm            y grows downward on the page, upward in a letter
 *     [<00010002>-12<0003>]TJ         a move is in thousandths of the size, leftward
 *     ET
 *
 * A reader moves on by a glyph's whole width; where Pango put the next glyph
 * elsewhere (kerning), a move makes up for it. Both are followed, so what is
 * rounded in one move is made good in the next and a line never drifts.
 */
#include "pdf/runs.h"

#include "text/layout.h"

#include <math.h>
#include <string.h>

/* Below half a thousandth of the size no move is worth its bytes. */
static const double least_move = 0.5;

struct showing {
	struct content *content;
	struct embedded_fonts *fonts;
	const char *text;   /* of the layout */
	struct point start; /* the layout's own top left corner, mm */
	double point;       /* one of the layout's, mm */
	struct embedded_font *font;
	double size; /* mm */
	double pen;  /* where the reader stands, mm */
	bool open;   /* inside [<...>]TJ */
};

static double mm(const struct showing *showing, int pango_units)
{
	return (double)pango_units / PANGO_SCALE * showing->point;
}

static void close_string(struct showing *showing)
{
	if (showing->open)
		content_add(showing->content, ">]TJ\n");
	showing->open = false;
}

static void move_to(struct showing *showing, double x, double y)
{
	close_string(showing);
	content_add(showing->content, "1 0 0 -1 ");
	content_number(showing->content, x, 3);
	content_number(showing->content, y, 3);
	content_add(showing->content, "Tm\n[<");
	showing->open = true;
	showing->pen = x;
}

static void move_on(struct showing *showing, double x)
{
	double thousandths = (x - showing->pen) / showing->size * 1000;
	if (fabs(thousandths) < least_move)
		return;
	double rounded = round(thousandths);
	content_add(showing->content, ">");
	content_number(showing->content, -rounded, 0);
	content_add(showing->content, "<");
	showing->pen += rounded / 1000 * showing->size;
}

static void show_code(struct showing *showing, unsigned code)
{
	content_code(showing->content, code);
	showing->pen += embedded_advance(showing->font, code) / 1000.0 * showing->size;
}

/*
 * Unseen, at the end of a line: Pango leaves out the space where a line wraps,
 * and a text ends without one; a reader that goes by the order in the file would
 * run both words together.
 */
static void show_space(struct showing *showing)
{
	unsigned code = showing->font ? embedded_space(showing->font) : 0;
	if (code == 0)
		return;
	bool opened = !showing->open;
	if (opened)
		content_add(showing->content, "[<");
	showing->open = true;
	show_code(showing, code);
	/* In a line from the right it is shown first, still on the line above: what follows must not go on from there. */
	if (opened)
		close_string(showing);
}

/* ---- what a glyph stands for ---- */

static bool is_no_break_space(const char *text, size_t length)
{
	return length == 2 && memcmp(text, "\xC2\xA0", 2) == 0;
}

/*
 * The characters of glyph number `index` of the `n` of a cluster, first to last
 * as they are read: one each, the last has all that are left. A space that does
 * not break is copied as a space, which every search finds.
 */
static const char *share_of_cluster(const char *text, size_t length, int index, int n, size_t *share)
{
	const char *end = text + length;
	const char *from = text;
	for (int i = 0; i < index && from < end; i++)
		from = g_utf8_next_char(from);
	const char *to = index + 1 < n && from < end ? g_utf8_next_char(from) : end;
	*share = (size_t)(to - from);
	if (is_no_break_space(from, *share)) {
		*share = 1;
		return " ";
	}
	return from;
}

/* ---- one run ---- */

static void show_glyph(struct showing *showing, const PangoGlyphInfo *info, double x, double baseline, const char *text,
                       size_t length)
{
	if (info->glyph == PANGO_GLYPH_EMPTY || info->glyph & PANGO_GLYPH_UNKNOWN_FLAG) {
		if (length == 1 && text[0] == ' ')
			show_space(showing);
		return;
	}
	double raised = mm(showing, info->geometry.y_offset);
	if (!showing->open || raised != 0)
		move_to(showing, x, baseline + raised);
	else
		move_on(showing, x);
	show_code(showing, embedded_code(showing->font, info->glyph, text, length));
	/* The next one stands on the line again. */
	if (raised != 0)
		close_string(showing);
}

static void show_cluster(struct showing *showing, const PangoGlyphItemIter *cluster, double *x, double baseline)
{
	const PangoGlyphItem *run = cluster->glyph_item;
	bool leftward = run->item->analysis.level % 2 != 0;
	int n = ABS(cluster->end_glyph - cluster->start_glyph);
	const char *text = showing->text + cluster->start_index;
	size_t length = (size_t)(cluster->end_index - cluster->start_index);
	int first = MIN(cluster->start_glyph, cluster->end_glyph + 1);
	for (int i = 0; i < n; i++) {
		const PangoGlyphInfo *info = &run->glyphs->glyphs[(leftward ? first : cluster->start_glyph) + i];
		size_t share;
		const char *part = share_of_cluster(text, length, leftward ? n - 1 - i : i, n, &share);
		show_glyph(showing, info, *x + mm(showing, info->geometry.x_offset), baseline, part, share);
		*x += mm(showing, info->geometry.width);
	}
}

/* Clusters from left to right: a run of a script that is read leftward is walked from its end. */
static void show_clusters(struct showing *showing, PangoGlyphItem *run, double x, double baseline)
{
	PangoGlyphItemIter cluster;
	bool leftward = run->item->analysis.level % 2 != 0;
	gboolean more = leftward ? pango_glyph_item_iter_init_end(&cluster, run, showing->text)
	                         : pango_glyph_item_iter_init_start(&cluster, run, showing->text);
	while (more) {
		show_cluster(showing, &cluster, &x, baseline);
		more = leftward ? pango_glyph_item_iter_prev_cluster(&cluster)
		                : pango_glyph_item_iter_next_cluster(&cluster);
	}
	close_string(showing);
}

static double size_of(const struct showing *showing, PangoFont *font)
{
	PangoFontDescription *description = pango_font_describe_with_absolute_size(font);
	double size = mm(showing, pango_font_description_get_size(description));
	pango_font_description_free(description);
	return size;
}

static void show_run(struct showing *showing, PangoGlyphItem *run, double x, double baseline)
{
	char name[16];
	showing->font = embedded_font_of(showing->fonts, run->item->analysis.font);
	showing->size = size_of(showing, run->item->analysis.font);
	g_snprintf(name, sizeof name, "/F%d ", embedded_font_number(showing->font));
	content_add(showing->content, name);
	content_number(showing->content, showing->size, 4);
	content_add(showing->content, "Tf\n");
	show_clusters(showing, run, x, baseline);
}

void runs_show(struct content *content, struct embedded_fonts *fonts, const struct text_block *block, struct point at,
               enum colour colour)
{
	PangoLayout *layout = text_layout(block);
	struct showing showing = {.content = content,
	                          .fonts = fonts,
	                          .text = pango_layout_get_text(layout),
	                          .start = {at.x, at.y - text_layout_rise(block)},
	                          .point = text_layout_point(block)};
	PangoLayoutIter *iter = pango_layout_get_iter(layout);
	content_flush(content);
	content_fill_colour(content, colour);
	content_add(content, "BT\n");
	do {
		PangoGlyphItem *run = pango_layout_iter_get_run_readonly(iter);
		PangoRectangle logical;
		/* At a line's end stands a run of nothing; a line that the text itself ends has no space that was left out. */
		if (!run) {
			if (showing.text[pango_layout_iter_get_index(iter)] == '\n')
				show_space(&showing);
			continue;
		}
		pango_layout_iter_get_run_extents(iter, NULL, &logical);
		show_run(&showing, run, showing.start.x + mm(&showing, logical.x),
		         showing.start.y + mm(&showing, pango_layout_iter_get_baseline(iter)));
	} while (pango_layout_iter_next_run(iter));
	show_space(&showing);
	close_string(&showing);
	content_add(content, "ET\n");
	pango_layout_iter_free(iter);
}
