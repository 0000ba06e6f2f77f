#include "paint/list.h"

#include "paint/path.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/*
 * Two stacks. Open entries are groups, marks and links that gather the ink of
 * what they hold; states are the clips and matrices in force:
 *
 *     open     group 3 > mark 7           both grow with every path
 *     states   (whole, 1:1) > (clip, x5)  the last one counts
 */
enum { deepest = 40 };

struct state {
	struct matrix matrix;
	struct rect clip;
	bool clipped;
};

struct lister {
	struct device device; /* first: the device is the lister */
	struct arena *arena;
	struct list_entry *entries;
	size_t n;
	int pages;
	size_t open[deepest];
	int depth;
	struct state states[deepest];
	int state;
};

static struct lister *lister_of(struct device *device)
{
	return (struct lister *)(void *)device;
}

/* ---- rectangles ---- */

static struct point through(struct matrix matrix, double x, double y)
{
	return (struct point){matrix.a * x + matrix.c * y + matrix.e, matrix.b * x + matrix.d * y + matrix.f};
}

static struct matrix multiply(struct matrix inner, struct matrix outer)
{
	struct point x = through(outer, inner.a, inner.b);
	struct point y = through(outer, inner.c, inner.d);
	struct point origin = through(outer, inner.e, inner.f);
	return (struct matrix){x.x - outer.e, x.y - outer.f, y.x - outer.e, y.y - outer.f, origin.x, origin.y};
}

static double scale_of(struct matrix matrix)
{
	return sqrt(fabs(matrix.a * matrix.d - matrix.b * matrix.c));
}

static struct rect from_edges(double left, double top, double right, double bottom)
{
	return (struct rect){left, top, right - left, bottom - top};
}

static struct rect on_paper(struct matrix matrix, struct rect rect)
{
	struct point corners[] = {through(matrix, rect.x, rect.y), through(matrix, rect.x + rect.width, rect.y),
	                          through(matrix, rect.x, rect.y + rect.height),
	                          through(matrix, rect.x + rect.width, rect.y + rect.height)};
	struct point least = corners[0];
	struct point most = corners[0];
	for (size_t i = 1; i < sizeof corners / sizeof *corners; i++) {
		least = (struct point){fmin(least.x, corners[i].x), fmin(least.y, corners[i].y)};
		most = (struct point){fmax(most.x, corners[i].x), fmax(most.y, corners[i].y)};
	}
	return from_edges(least.x, least.y, most.x, most.y);
}

static struct rect joined(struct rect a, struct rect b)
{
	return from_edges(fmin(a.x, b.x), fmin(a.y, b.y), fmax(a.x + a.width, b.x + b.width),
	                  fmax(a.y + a.height, b.y + b.height));
}

/* Negative width or height: they do not meet. */
static struct rect common(struct rect a, struct rect b)
{
	return from_edges(fmax(a.x, b.x), fmax(a.y, b.y), fmin(a.x + a.width, b.x + b.width),
	                  fmin(a.y + a.height, b.y + b.height));
}

/* ---- entries ---- */

/* A text's own mark holds that text alone, so the two count and print as one. */
static bool is_words(const struct list_entry *entry)
{
	return entry->kind == LIST_MARK && entry->mark == MARK_TEXT;
}

static int depth_of(const struct lister *lister)
{
	int depth = 0;
	for (int i = 0; i < lister->depth; i++)
		depth += !is_words(&lister->entries[lister->open[i]]);
	return depth;
}

static void add(struct lister *lister, struct list_entry entry)
{
	entry.page = lister->pages - 1;
	entry.depth = depth_of(lister);
	lister->entries = arena_more(lister->arena, lister->entries, lister->n, sizeof entry);
	lister->entries[lister->n++] = entry;
}

static void add_open(struct lister *lister, struct list_entry entry)
{
	assert(lister->depth < deepest);
	add(lister, entry);
	lister->open[lister->depth++] = lister->n - 1;
}

static void close_last(struct device *device)
{
	struct lister *lister = lister_of(device);
	assert(lister->depth > 0);
	lister->depth--;
}

static bool in_artifact(const struct lister *lister)
{
	for (int i = 0; i < lister->depth; i++) {
		const struct list_entry *entry = &lister->entries[lister->open[i]];
		if (entry->kind == LIST_GROUP && entry->role == ROLE_ARTIFACT)
			return true;
	}
	return false;
}

/* `ink` is on the paper, not yet clipped. */
static void spread_ink(struct lister *lister, struct rect ink)
{
	const struct state *state = &lister->states[lister->state];
	struct rect seen = state->clipped ? common(ink, state->clip) : ink;
	if (seen.width < 0 || seen.height < 0)
		return;
	for (int i = 0; i < lister->depth; i++) {
		struct list_entry *entry = &lister->entries[lister->open[i]];
		entry->ink = entry->has_ink ? joined(entry->ink, seen) : seen;
		entry->has_ink = true;
	}
}

/* ---- the device's end ---- */

static void begin_page(struct device *device, const struct placed_page *page)
{
	struct lister *lister = lister_of(device);
	assert(lister->depth == 0);
	lister->pages++;
	lister->state = 0;
	lister->states[0] = (struct state){.matrix = {1, 0, 0, 1, 0, 0}};
	add_open(lister, (struct list_entry){
				 .kind = LIST_PAGE, .area = {0, 0, page->width, page->height}, .text = page->label});
}

static void end_page(struct device *device)
{
	struct lister *lister = lister_of(device);
	close_last(device);
	assert(lister->depth == 0 && lister->state == 0);
}

static void begin_group(struct device *device, const struct group *group)
{
	add_open(lister_of(device), (struct list_entry){.kind = LIST_GROUP,
	                                                .text = group->alt,
	                                                .role = group->role,
	                                                .scope = group->scope,
	                                                .columns = group->columns,
	                                                .language = group->language});
}

static void begin_mark(struct device *device, const struct placed_mark *mark)
{
	struct lister *lister = lister_of(device);
	add_open(lister, (struct list_entry){.kind = LIST_MARK,
	                                     .area = mark->area,
	                                     .mark = mark->kind,
	                                     .inside = mark->inside,
	                                     .artifact = in_artifact(lister)});
}

static void begin_link(struct device *device, struct rect area, const char *label, const char *words)
{
	(void)words;
	add_open(lister_of(device), (struct list_entry){.kind = LIST_LINK, .area = area, .text = label});
}

static void list_path(struct device *device, const struct path *path, const struct ink *ink)
{
	struct lister *lister = lister_of(device);
	struct rect bounds = path_bounds(path);
	if (ink->stroke != COLOUR_NONE)
		bounds = from_edges(bounds.x - ink->line / 2, bounds.y - ink->line / 2,
		                    bounds.x + bounds.width + ink->line / 2, bounds.y + bounds.height + ink->line / 2);
	spread_ink(lister, on_paper(lister->states[lister->state].matrix, bounds));
}

static void list_text(struct device *device, const struct text_block *block, struct point at, enum colour colour)
{
	struct lister *lister = lister_of(device);
	struct matrix matrix = lister->states[lister->state].matrix;
	struct rect ink = text_ink(block);
	ink.x += at.x;
	ink.y += at.y;
	struct rect seen = on_paper(matrix, ink);
	add(lister, (struct list_entry){.kind = LIST_TEXT,
	                                .area = seen,
	                                .text = text_string(block),
	                                .colour = colour,
	                                .size = text_style_of(block)->size * scale_of(matrix),
	                                .missing_glyphs = text_missing_glyphs(block),
	                                .artifact = in_artifact(lister)});
	spread_ink(lister, seen);
}

static struct state *push(struct lister *lister)
{
	assert(lister->state + 1 < deepest);
	lister->state++;
	lister->states[lister->state] = lister->states[lister->state - 1];
	return &lister->states[lister->state];
}

static void push_clip(struct device *device, const struct path *path)
{
	struct state *state = push(lister_of(device));
	struct rect clip = on_paper(state->matrix, path_bounds(path));
	state->clip = state->clipped ? common(state->clip, clip) : clip;
	state->clipped = true;
}

static void push_matrix(struct device *device, const struct matrix *matrix)
{
	struct state *state = push(lister_of(device));
	state->matrix = multiply(*matrix, state->matrix);
}

static void pop(struct device *device)
{
	struct lister *lister = lister_of(device);
	assert(lister->state > 0);
	lister->state--;
}

static const struct device_end list_end = {
	.begin_page = begin_page,
	.end_page = end_page,
	.begin_group = begin_group,
	.end_group = close_last,
	.path = list_path,
	.text = list_text,
	.push_clip = push_clip,
	.push_matrix = push_matrix,
	.pop = pop,
	.begin_link = begin_link,
	.end_link = close_last,
	.begin_mark = begin_mark,
	.end_mark = close_last,
};

struct device *list_new(struct arena *arena)
{
	struct lister *lister = arena_alloc(arena, sizeof *lister);
	lister->device.end = &list_end;
	lister->arena = arena;
	return &lister->device;
}

struct list list_of(const struct device *device)
{
	const struct lister *lister = (const struct lister *)(const void *)device;
	assert(device->end == &list_end);
	return (struct list){lister->entries, lister->n};
}

/* ---- in print ---- */

static const char *role_name(enum role role)
{
	static const char *const names[] = {
		[ROLE_DOCUMENT] = "document",
		[ROLE_SECTION] = "section",
		[ROLE_H1] = "h1",
		[ROLE_H2] = "h2",
		[ROLE_H3] = "h3",
		[ROLE_PARAGRAPH] = "paragraph",
		[ROLE_LIST] = "list",
		[ROLE_LIST_ITEM] = "list item",
		[ROLE_LABEL] = "label",
		[ROLE_TABLE] = "table",
		[ROLE_ROW] = "row",
		[ROLE_HEAD_CELL] = "head cell",
		[ROLE_CELL] = "cell",
		[ROLE_FIGURE] = "figure",
		[ROLE_CAPTION] = "caption",
		[ROLE_ARTIFACT] = "artifact",
	};
	return names[role];
}

static const char *mark_kind_name(enum mark_kind kind)
{
	static const char *const names[] = {
		[MARK_GROUP_BEGIN] = "group begin",
		[MARK_GROUP_END] = "group end",
		[MARK_TEXT] = "words",
		[MARK_BOX] = "box",
		[MARK_RULE] = "rule",
		[MARK_TAG] = "tag",
		[MARK_SYRINGE] = "syringe",
		[MARK_WINDOW] = "window",
		[MARK_PICTURE] = "picture",
		[MARK_STEP] = "step",
		[MARK_CLOCK] = "clock",
		[MARK_RULER] = "ruler",
		[MARK_CARD] = "card",
		[MARK_CODE] = "code",
		[MARK_SIDE] = "side",
		[MARK_CORNER] = "corner",
		[MARK_HATCH] = "hatch",
		[MARK_SEAL] = "seal",
		[MARK_KNOT] = "knot",
		[MARK_NEEDLE] = "needle",
		[MARK_BACK] = "back",
		[MARK_BODY] = "body",
	};
	return names[kind];
}

static const char *colour_name(enum colour colour)
{
	static const char *const names[] = {
		[COLOUR_INK] = "ink",       [COLOUR_WHITE] = "white",
		[COLOUR_LIQUID] = "liquid", [COLOUR_LIQUID_TINT] = "liquid tint",
		[COLOUR_RUST] = "rust",     [COLOUR_PLASTIC] = "plastic",
		[COLOUR_HUB] = "hub",       [COLOUR_DAY] = "day",
		[COLOUR_BAND] = "band",     [COLOUR_NONE] = "none",
	};
	return names[colour];
}

static const char *quoted(struct arena *arena, const char *text)
{
	return text ? arena_printf(arena, " \"%s\"", text) : "";
}

static const char *scope_name(enum scope scope)
{
	static const char *const names[] = {
		[SCOPE_NONE] = "", [SCOPE_ROW] = " of its row", [SCOPE_COLUMN] = " of its column"};
	return names[scope];
}

static const char *print_rect(struct arena *arena, struct rect rect)
{
	return arena_printf(arena, "%.2f %.2f %.2f x %.2f", rect.x, rect.y, rect.width, rect.height);
}

static const char *print_entry(struct arena *arena, const struct list_entry *entry)
{
	switch (entry->kind) {
	case LIST_PAGE:
		return arena_printf(arena, "page %s %.2f x %.2f", entry->text, entry->area.width, entry->area.height);
	case LIST_GROUP:
		return arena_printf(arena, "%s%s%s%s%s", role_name(entry->role), scope_name(entry->scope),
		                    entry->columns > 1 ? arena_printf(arena, " of %d columns", entry->columns) : "",
		                    entry->language ? arena_printf(arena, " in %s", entry->language) : "",
		                    quoted(arena, entry->text));
	case LIST_MARK:
		return arena_printf(arena, "%s %s", mark_kind_name(entry->mark), print_rect(arena, entry->area));
	case LIST_TEXT:
		return arena_printf(arena, "text %s %gpt %s%s", print_rect(arena, entry->area), entry->size,
		                    colour_name(entry->colour), quoted(arena, entry->text));
	case LIST_LINK:
		break;
	}
	return arena_printf(arena, "link to %s", entry->text);
}

const char *list_print(struct arena *arena, struct list list)
{
	struct arena *pieces = arena_new();
	char *printed = NULL;
	size_t length = 0;
	FILE *stream = open_memstream(&printed, &length);
	if (!stream)
		abort();
	for (size_t i = 0; i < list.n; i++) {
		const struct list_entry *entry = &list.entries[i];
		if (!is_words(entry))
			fprintf(stream, "%*s%s\n", entry->depth * 2, "", print_entry(pieces, entry));
	}
	fclose(stream);
	const char *copy = arena_strndup(arena, printed, length);
	free(printed);
	arena_free(pieces);
	return copy;
}
