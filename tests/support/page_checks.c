#include "support/page_checks.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LIVE_WIDTH 180.0
#define TOUCH 0.05     /* mm that areas may share: rounding, and lines that end on one another */
#define EDGE 0.35      /* what glyphs may hang over the column's edge */
#define HOOK 0.075     /* em: the j, which reaches left of where it stands */
#define PRINTABLE 4.5  /* from the paper's edge */
#define SIZE_LEAST 9.0 /* pt: captions of write-ins, scale numerals */
#define SIZE_ORDINARY 10.0
#define SIZE_LARGE 15.3 /* a name in large print: 85 % of 18 */
#define RAIL_ROOM 9.0   /* beside the live column */

struct faults {
	struct arena *arena;
	const char *text;
};

static void add(struct faults *faults, const char *says)
{
	faults->text = arena_printf(faults->arena, "%s%s\n", faults->text, says);
}

/* ---- names for messages ---- */

static const char *kind_name(enum mark_kind kind)
{
	static const char *const names[] = {
		[MARK_GROUP_BEGIN] = "group", [MARK_GROUP_END] = "group end",
		[MARK_TEXT] = "text",         [MARK_BOX] = "box",
		[MARK_RULE] = "rule",         [MARK_TAG] = "tag",
		[MARK_SYRINGE] = "syringe",   [MARK_WINDOW] = "window",
		[MARK_PICTURE] = "picture",   [MARK_STEP] = "step",
		[MARK_CLOCK] = "clock",       [MARK_RULER] = "ruler",
		[MARK_CARD] = "card",         [MARK_CODE] = "code",
		[MARK_SIDE] = "side",         [MARK_CORNER] = "corner",
		[MARK_HATCH] = "hatch",       [MARK_SEAL] = "seal",
		[MARK_KNOT] = "knot",         [MARK_PEN] = "pen",
		[MARK_DIAL] = "dial",         [MARK_NEEDLE] = "needle",
		[MARK_BACK] = "back",         [MARK_BODY] = "body",
	};
	return names[kind];
}

static const char *describe(struct arena *arena, const struct placed_mark *mark)
{
	const char *text = mark->kind == MARK_TEXT  ? text_string(mark->text.block)
	                   : mark->kind == MARK_TAG ? text_string(mark->tag.number)
	                                            : "";
	return arena_printf(arena, "%s '%s' (%.2f %.2f, %.2f x %.2f)", kind_name(mark->kind), text, mark->area.x,
	                    mark->area.y, mark->area.width, mark->area.height);
}

/* ---- areas ---- */

static bool is_ink(const struct placed_mark *mark)
{
	return mark->kind != MARK_GROUP_BEGIN && mark->kind != MARK_GROUP_END &&
	       (mark->area.width > 0 || mark->area.height > 0);
}

static bool meet(struct rect a, struct rect b)
{
	return a.x + a.width > b.x + TOUCH && b.x + b.width > a.x + TOUCH && a.y + a.height > b.y + TOUCH &&
	       b.y + b.height > a.y + TOUCH;
}

static bool within(struct rect inner, struct rect outer)
{
	return inner.x >= outer.x - TOUCH && inner.y >= outer.y - TOUCH &&
	       inner.x + inner.width <= outer.x + outer.width + TOUCH &&
	       inner.y + inner.height <= outer.y + outer.height + TOUCH;
}

static struct rect grown(struct rect area, double by)
{
	return (struct rect){area.x - by, area.y - by, area.width + 2 * by, area.height + 2 * by};
}

static void check_place(struct faults *faults, const struct placed_page *page, const struct placed_mark *mark)
{
	double left = (page->width - LIVE_WIDTH) / 2;
	double edge =
		mark->kind == MARK_TEXT ? fmax(EDGE, HOOK * text_style_of(mark->text.block)->size * 25.4 / 72) : EDGE;
	struct rect live = {left - edge, PRINTABLE, LIVE_WIDTH + 2 * edge, page->height - 2 * PRINTABLE};
	/* The rail that joins two halves in large print stands in a margin: the left one, or mirrored the right. */
	bool rail = mark->inside && (mark->kind == MARK_RULE || mark->kind == MARK_PICTURE);
	if (rail) {
		live.x -= RAIL_ROOM;
		live.width += 2 * RAIL_ROOM;
	}
	if (!within(mark->area, live))
		add(faults, arena_printf(faults->arena, "outside the live column: %s", describe(faults->arena, mark)));
}

static void check_size(struct faults *faults, const struct placed_mark *mark)
{
	if (mark->kind == MARK_TEXT && text_style_of(mark->text.block)->size < SIZE_LEAST)
		add(faults, arena_printf(faults->arena, "below the least size: %s", describe(faults->arena, mark)));
	if (mark->kind == MARK_TAG && text_style_of(mark->tag.number)->size < SIZE_ORDINARY)
		add(faults, arena_printf(faults->arena, "tag below the least size: %s", describe(faults->arena, mark)));
}

#define CORNER 10.4 /* the air above what a magnifier shows in large print; in normal print a letter is smaller */

/* A letter stands in the upper corner of what shows something close. */
static bool in_corner(struct rect area, const struct placed_mark *mark)
{
	if (mark->kind != MARK_WINDOW && mark->kind != MARK_DIAL)
		return false;
	struct rect frame = mark->kind == MARK_WINDOW ? mark->window.frame : mark->dial.frame;
	return within(area, (struct rect){frame.x, frame.y, CORNER, CORNER});
}

/* A frame may hold things or stand clear of them; its line may not run through them. */
static bool crosses_frame(const struct placed_mark *frame, const struct placed_mark *mark)
{
	double half = frame->box.line / 2;
	if (in_corner(grown(frame->area, half), mark))
		return false;
	return meet(grown(frame->area, half), mark->area) && !within(mark->area, grown(frame->area, -half));
}

static bool is_frame(const struct placed_mark *mark)
{
	return mark->kind == MARK_BOX && mark->inside;
}

static void check_pair(struct faults *faults, const struct placed_mark *a, const struct placed_mark *b)
{
	bool crosses;
	if (is_frame(a) && is_frame(b))
		return;
	if (is_frame(a))
		crosses = !b->inside && crosses_frame(a, b) && b->kind != MARK_RULE;
	else if (is_frame(b))
		crosses = !a->inside && crosses_frame(b, a) && a->kind != MARK_RULE;
	else
		crosses = !a->inside && !b->inside && (a->kind != MARK_RULE || b->kind != MARK_RULE) &&
		          meet(a->area, b->area);
	if (crosses)
		add(faults,
		    arena_printf(faults->arena, "%s meets %s", describe(faults->arena, a), describe(faults->arena, b)));
}

/* ---- groups ---- */

struct table {
	int cells;      /* of the row that is open */
	int head_cells; /* of the first row; -1: not yet known */
};

static void close_row(struct faults *faults, struct table *table)
{
	if (table->head_cells < 0)
		table->head_cells = table->cells;
	else if (table->cells != table->head_cells)
		add(faults, arena_printf(faults->arena, "a row of %d cells under a head of %d", table->cells,
		                         table->head_cells));
}

/* "h1" then "h3" leaves a reader looking for what is between. */
static void check_heading(struct faults *faults, enum role *last, enum role role)
{
	if (role < ROLE_H1 || role > ROLE_H3)
		return;
	if (role > (*last < ROLE_H1 ? ROLE_H1 : *last + 1))
		add(faults, arena_printf(faults->arena, "a heading of level %d under one of level %d",
		                         role - ROLE_H1 + 1, *last - ROLE_H1 + 1));
	*last = role;
}

static void check_groups(struct faults *faults, const struct placed_page *page)
{
	enum role heading = ROLE_SECTION;
	enum role open[64];
	size_t depth = 0;
	struct table table = {0, -1};
	for (size_t i = 0; i < page->n; i++) {
		const struct placed_mark *mark = &page->marks[i];
		if (mark->kind == MARK_GROUP_BEGIN && depth < sizeof open / sizeof *open) {
			enum role role = mark->group.role;
			check_heading(faults, &heading, role);
			if (role == ROLE_TABLE)
				table = (struct table){0, -1};
			if (role == ROLE_ROW)
				table.cells = 0;
			if (role == ROLE_CELL || role == ROLE_HEAD_CELL)
				table.cells += mark->group.columns > 1 ? mark->group.columns : 1;
			if (role == ROLE_FIGURE && (mark->group.alt == NULL || mark->group.alt[0] == '\0'))
				add(faults, "a figure that says nothing");
			open[depth++] = role;
		} else if (mark->kind == MARK_GROUP_END) {
			if (depth == 0) {
				add(faults, "a group ends that was not begun");
				return;
			}
			if (open[--depth] == ROLE_ROW)
				close_row(faults, &table);
		} else if (depth == 0) {
			add(faults, arena_printf(faults->arena, "in no group: %s", describe(faults->arena, mark)));
		}
	}
	if (depth != 0)
		add(faults, "a group is left open");
}

/* ---- pages ---- */

const char *page_faults(struct arena *arena, const struct placed_page *page)
{
	struct faults faults = {arena, ""};
	check_groups(&faults, page);
	for (size_t i = 0; i < page->n; i++) {
		if (!is_ink(&page->marks[i]))
			continue;
		check_place(&faults, page, &page->marks[i]);
		check_size(&faults, &page->marks[i]);
		for (size_t j = i + 1; j < page->n; j++)
			if (is_ink(&page->marks[j]))
				check_pair(&faults, &page->marks[i], &page->marks[j]);
	}
	return faults.text;
}

/* Staff's pages keep their size; on the patient's the draft band alone is smaller, and its words stand below too. */
static const char *large_faults(struct arena *arena, const struct handout *handout, const struct placed_page *page)
{
	struct faults faults = {arena, ""};
	const char *band = handout->running.draft_band;
	for (size_t i = 0; i < page->n && page->label[0] != 'S'; i++) {
		const struct placed_mark *mark = &page->marks[i];
		bool is_band =
			mark->kind == MARK_TEXT && band != NULL && strcmp(text_string(mark->text.block), band) == 0;
		if (mark->kind == MARK_TEXT && !is_band && text_style_of(mark->text.block)->size < SIZE_LARGE)
			add(&faults, arena_printf(arena, "too small for large print: %s", describe(arena, mark)));
	}
	return faults.text;
}

const char *packet_faults(struct arena *arena, const struct placed_packet *packet)
{
	const char *all = "";
	for (size_t i = 0; i < packet->n; i++) {
		const struct placed_page *page = &packet->pages[i];
		const char *large = packet->handout->large_print ? large_faults(arena, packet->handout, page) : "";
		const char *faults = arena_printf(arena, "%s%s", page_faults(arena, page), large);
		if (faults[0] != '\0')
			all = arena_printf(arena, "%spage %s:\n%s", all, packet->pages[i].label, faults);
	}
	return all;
}

/* ---- looking things up ---- */

const struct placed_mark *find_text(const struct placed_page *page, const char *text)
{
	for (size_t i = 0; i < page->n; i++)
		if (page->marks[i].kind == MARK_TEXT && strcmp(text_string(page->marks[i].text.block), text) == 0)
			return &page->marks[i];
	return NULL;
}

size_t count_text(const struct placed_page *page, const char *text)
{
	size_t n = 0;
	for (size_t i = 0; i < page->n; i++)
		n += page->marks[i].kind == MARK_TEXT && strcmp(text_string(page->marks[i].text.block), text) == 0;
	return n;
}

size_t count_text_beginning(const struct placed_page *page, const char *text)
{
	size_t n = 0;
	for (size_t i = 0; i < page->n; i++)
		n += page->marks[i].kind == MARK_TEXT &&
		     strncmp(text_string(page->marks[i].text.block), text, strlen(text)) == 0;
	return n;
}

size_t count_tags(const struct placed_page *page, const char *number)
{
	size_t n = 0;
	for (size_t i = 0; i < page->n; i++)
		n += page->marks[i].kind == MARK_TAG && strcmp(text_string(page->marks[i].tag.number), number) == 0;
	return n;
}

const struct placed_page *find_page(const struct placed_packet *packet, const char *label)
{
	for (size_t i = 0; i < packet->n; i++)
		if (strcmp(packet->pages[i].label, label) == 0)
			return &packet->pages[i];
	return NULL;
}

const char *plain_spaces(struct arena *arena, const char *text)
{
	char *plain = arena_strdup(arena, text);
	size_t n = 0;
	for (const char *c = text; *c != '\0'; c++) {
		bool no_break = strncmp(c, "\u00a0", strlen("\u00a0")) == 0;
		plain[n++] = no_break ? ' ' : *c;
		c += no_break ? strlen("\u00a0") - 1 : 0;
	}
	plain[n] = '\0';
	return plain;
}
