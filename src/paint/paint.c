#include "paint/paint.h"

#include "paint/figures.h"
#include "paint/painter.h"

#include <assert.h>
#include <math.h>

/* A dash and a gap of dashed frames and rules, mm. */
static const double dash_length = 1.6;

/* ---- marks that need no figure ---- */

static void paint_text_mark(struct painter *painter, const struct text_mark *mark, struct rect area)
{
	struct device *device = painter->device;
	if (mark->link)
		device->end->begin_link(device, area, mark->link, mark->link_words);
	paint_text(painter, mark->block, mark->at, mark->colour);
	if (mark->link)
		device->end->end_link(device);
}

/* The middle of the frame's line runs on the edge of its area. */
static void paint_box(struct painter *painter, const struct box *box, struct rect area)
{
	struct path_builder *outline = path_new(painter->scratch);
	path_rounded(outline, area, box->radius);
	if (box->fill != COLOUR_NONE && box->line > 0 && !box->dashed) {
		paint_fill_and_stroke(painter, outline, box->fill, box->line, box->stroke);
		return;
	}
	if (box->fill != COLOUR_NONE)
		paint_fill(painter, outline, box->fill);
	if (box->line <= 0)
		return;
	if (box->dashed)
		paint_stroke_dashed(painter, outline, box->line, dash_length, box->stroke);
	else
		paint_stroke(painter, outline, box->line, box->stroke);
}

/*
 * A motion arrow of 0.9 has a head 2.55 long; thinner ones have smaller heads.
 * The shaft ends inside the head, so that its blunt end does not show at the
 * tip.
 */
static void paint_arrow(struct painter *painter, const struct rule *rule)
{
	double length = 1.2 + 1.5 * rule->line;
	double distance = hypot(rule->to.x - rule->from.x, rule->to.y - rule->from.y);
	double shaft = fmax(0, 1 - length / 2 / distance);
	struct point end = {rule->from.x + (rule->to.x - rule->from.x) * shaft,
	                    rule->from.y + (rule->to.y - rule->from.y) * shaft};
	paint_line(painter, rule->from, end, rule->line, rule->colour);
	struct path_builder *head = path_new(painter->scratch);
	path_arrow_head(head, rule->from, rule->to, length, length * 0.9);
	paint_fill(painter, head, rule->colour);
}

static void paint_rule(struct painter *painter, const struct rule *rule)
{
	if (rule->arrow) {
		paint_arrow(painter, rule);
		return;
	}
	if (!rule->dashed) {
		paint_line(painter, rule->from, rule->to, rule->line, rule->colour);
		return;
	}
	struct path_builder *path = path_new(painter->scratch);
	path_stroke_line(path, rule->from, rule->to);
	paint_stroke_dashed(painter, path, rule->line, dash_length, rule->colour);
}

/* ---- a page ---- */

static void paint_mark(struct painter *painter, const struct placed_mark *mark)
{
	switch (mark->kind) {
	case MARK_GROUP_BEGIN:
	case MARK_GROUP_END:
		break;
	case MARK_TEXT:
		paint_text_mark(painter, &mark->text, mark->area);
		break;
	case MARK_BOX:
		paint_box(painter, &mark->box, mark->area);
		break;
	case MARK_RULE:
		paint_rule(painter, &mark->rule);
		break;
	case MARK_TAG:
		figure_tag(painter, &mark->tag);
		break;
	case MARK_SYRINGE:
		figure_syringe(painter, &mark->syringe);
		break;
	case MARK_WINDOW:
		figure_window(painter, &mark->window);
		break;
	case MARK_PICTURE:
		figure_picture(painter, &mark->picture);
		break;
	case MARK_STEP:
		figure_step(painter, &mark->step);
		break;
	case MARK_PEN:
		figure_pen(painter, &mark->pen);
		break;
	case MARK_DIAL:
		figure_dial(painter, &mark->dial);
		break;
	case MARK_CLOCK:
		figure_clock(painter, &mark->clock);
		break;
	case MARK_RULER:
		figure_ruler(painter, &mark->ruler);
		break;
	case MARK_CARD:
		figure_card(painter, &mark->card);
		break;
	case MARK_CODE:
		figure_code(painter, &mark->code);
		break;
	case MARK_SIDE:
		figure_side(painter, &mark->side);
		break;
	case MARK_CORNER:
		figure_corner(painter, &mark->corner);
		break;
	case MARK_HATCH:
		figure_hatch(painter, &mark->hatch);
		break;
	case MARK_SEAL:
		figure_seal(painter, &mark->seal);
		break;
	case MARK_KNOT:
		figure_knot(painter, &mark->knot);
		break;
	case MARK_NEEDLE:
		figure_needle(painter, &mark->needle);
		break;
	case MARK_BACK:
		figure_back(painter, &mark->back);
		break;
	case MARK_BODY:
		figure_body(painter, &mark->body);
		break;
	}
}

static void paint_whole_mark(struct painter *painter, const struct placed_mark *mark)
{
	struct device *device = painter->device;
	if (device->end->begin_mark)
		device->end->begin_mark(device, mark);
	paint_mark(painter, mark);
	if (device->end->end_mark)
		device->end->end_mark(device);
}

void paint_page(struct arena *scratch, const struct placed_page *page, struct device *device)
{
	struct painter painter = {scratch, device};
	int depth = 0;
	device->end->begin_page(device, page);
	for (size_t i = 0; i < page->n; i++) {
		const struct placed_mark *mark = &page->marks[i];
		if (mark->kind == MARK_GROUP_BEGIN) {
			depth++;
			device->end->begin_group(device, &mark->group);
		} else if (mark->kind == MARK_GROUP_END) {
			depth--;
			assert(depth >= 0);
			device->end->end_group(device);
		} else {
			paint_whole_mark(&painter, mark);
		}
	}
	assert(depth == 0);
	device->end->end_page(device);
}

void paint_pages(const struct placed_page *pages, size_t n, struct device *device)
{
	struct arena *scratch = arena_new();
	for (size_t i = 0; i < n; i++) {
		paint_page(scratch, &pages[i], device);
		arena_reset(scratch);
	}
	arena_free(scratch);
}
