#include "page/large.h"

#include "page/styles.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#define PAGE_COST 1.0
#define SPARE_COST 1.6 /* of an empty page: more than a full one costs, so that pages are evenly full */
#define CLOSE_COST 0.4
#define CLOSEST 0.7    /* what is left of a gap at least */
#define GAP_GROWTH 8.0 /* what a gap may take of spare height */
#define PIECE_MOST 120.0

struct large_blocks large_blocks_of(struct composer *composer)
{
	return (struct large_blocks){.composer = composer};
}

struct large_block *large_add(struct large_blocks *blocks, double height, double gap, large_put *put, const void *data)
{
	blocks->list = arena_more(blocks->composer->arena, blocks->list, blocks->n, sizeof *blocks->list);
	struct large_block *block = &blocks->list[blocks->n++];
	*block = (struct large_block){.height = height, .gap = gap, .put = put, .data = data, .around = ROLE_SECTION};
	return block;
}

/* ---- where pages break ---- */

struct breaking {
	const struct large_blocks *blocks;
	double first_room; /* height of the first page's content, and of the others' */
	double room;
	double *cost;  /* of all pages from a block on */
	size_t *after; /* the block that the page after it begins with */
};

static const struct large_block *head_again(const struct large_blocks *blocks, size_t first)
{
	size_t head = blocks->list[first].head;
	return head == 0 || head - 1 == first ? NULL : &blocks->list[head - 1];
}

static bool is_cut_before(const struct large_blocks *blocks, size_t end)
{
	return end < blocks->n && head_again(blocks, end) != NULL;
}

static double more_height(const struct composer *composer)
{
	return GAP_3 + cap(composer, TYPE_BODY);
}

/* What a page needs: its blocks, and gaps that may be closed a little. */
struct need {
	double solid;
	double gaps;
};

/* Letters of scripts from the right reach far above and below their lines. */
static bool is_rigid(const struct composer *composer, const struct large_block *block)
{
	return block->rigid || composer->right_to_left;
}

static void add_gap(const struct composer *composer, struct need *need, const struct large_block *block)
{
	*(is_rigid(composer, block) ? &need->solid : &need->gaps) += block->gap;
}

static struct need need_of(const struct large_blocks *blocks, size_t first, size_t end)
{
	struct need need = {0};
	const struct large_block *again = head_again(blocks, first);
	if (again != NULL) {
		need.solid += again->height;
		add_gap(blocks->composer, &need, &blocks->list[first]);
	}
	for (size_t i = first; i < end; i++) {
		need.solid += blocks->list[i].height;
		if (i > first)
			add_gap(blocks->composer, &need, &blocks->list[i]);
	}
	if (blocks->days && is_cut_before(blocks, end))
		need.solid += more_height(blocks->composer);
	return need;
}

static double least_height(struct need need)
{
	return need.solid + CLOSEST * need.gaps;
}

static double room_of(const struct breaking *breaking, size_t first)
{
	return first == 0 ? breaking->first_room : breaking->room;
}

static double page_cost(const struct breaking *breaking, size_t first, size_t end)
{
	const struct large_blocks *blocks = breaking->blocks;
	struct need need = need_of(blocks, first, end);
	double room = room_of(breaking, first);
	double over = need.solid + need.gaps - room;
	double spare = fmax(-over, 0) / room;
	double closed = need.gaps > 0 ? fmax(over, 0) / need.gaps / (1 - CLOSEST) : 0;
	double cost = PAGE_COST + SPARE_COST * spare * spare + CLOSE_COST * closed * closed +
	              (first == 0 ? 0 : blocks->list[first].break_cost);
	return end < blocks->n && blocks->list[end - 1].keep ? cost + 100 : cost;
}

static bool fits(const struct breaking *breaking, size_t first, size_t end)
{
	struct need need = need_of(breaking->blocks, first, end);
	return least_height(need) <= room_of(breaking, first) + TOLERANCE;
}

/* From the last block backward, the cheapest page that begins with each. */
static void find_breaks(struct breaking *breaking)
{
	const struct large_blocks *blocks = breaking->blocks;
	breaking->cost[blocks->n] = 0;
	for (size_t first = blocks->n; first-- > 0;) {
		breaking->cost[first] = INFINITY;
		for (size_t end = first + 1; end <= blocks->n; end++) {
			/* Behind a cut day a line is said that a whole one needs not. */
			bool may_end = fits(breaking, first, end);
			if (!may_end && end > first + 1 && !is_cut_before(blocks, end))
				break;
			if (!may_end && end > first + 1)
				continue;
			double cost = page_cost(breaking, first, end) + breaking->cost[end];
			if (cost < breaking->cost[first]) {
				breaking->cost[first] = cost;
				breaking->after[first] = end;
			}
		}
	}
}

/* ---- a page ---- */

static void put_rule_above(struct composer *composer, const struct large_block *block, double y, double gap)
{
	if (block->rule == LARGE_RULE_NONE)
		return;
	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, y - gap / 2,
	         block->rule == LARGE_RULE_MAIN ? LINE_MAIN : LINE_FINE);
	end_group(composer);
}

/* How much a gap is on a page with that much more, or less, room than it needs. */
struct spacing {
	double share; /* of its own */
	double growth;
};

static struct spacing spacing_of(const struct large_blocks *blocks, size_t first, size_t end, double room)
{
	struct need need = need_of(blocks, first, end);
	size_t gaps = end - first - 1 + (head_again(blocks, first) != NULL);
	double spare = room - need.solid - need.gaps;
	if (spare < 0)
		return (struct spacing){.share = need.gaps > 0 ? fmax(1 + spare / need.gaps, CLOSEST) : 1};
	return (struct spacing){1, gaps == 0 ? 0 : fmin(spare / (double)gaps, GAP_GROWTH)};
}

static void refuse_too_high(struct composer *composer)
{
	composer_stop(composer, "block-too-high",
	              "a text of page %s is too long for one page of large print; shorten it",
	              composer_label(composer));
}

static double put_head_again(struct composer *composer, const struct large_block *head, double y)
{
	struct large_block again = *head;
	again.again = true;
	again.put(composer, &again, y);
	return y + again.height;
}

/* "more on page 9", where a day goes on. */
static void put_more(struct composer *composer)
{
	section_ref section = composer_section_ref(composer);
	const char *page = composer_label_of(composer, section, composer->own.n);
	begin_group(composer, ROLE_PARAGRAPH);
	put_text(composer, say1(composer->speaker, "grid.more", "page", page), large_body(composer, WEIGHT_BOLD),
	         ALIGN_END, composer->right, composer->bottom - cap(composer, TYPE_BODY), 0, COLOUR_INK);
	end_group(composer);
}

static void put_page(const struct large_blocks *blocks, size_t first, size_t end)
{
	struct composer *composer = blocks->composer;
	const struct large_block *again = head_again(blocks, first);
	struct need need = need_of(blocks, first, end);
	double room = composer->bottom - composer->top;
	struct spacing spacing = spacing_of(blocks, first, end, room);
	double y = composer->top;
	enum role open = ROLE_SECTION;
	if (least_height(need) > room + 2 * TOLERANCE) /* never of a page that has just fitted */
		refuse_too_high(composer);
	if (again != NULL)
		y = put_head_again(composer, again, y);
	for (size_t i = first; i < end; i++) {
		const struct large_block *block = &blocks->list[i];
		double gap = block->gap * (is_rigid(composer, block) ? 1 : spacing.share) + spacing.growth;
		y += i == first && again == NULL ? 0 : gap;
		if (block->around != open && open != ROLE_SECTION)
			end_group(composer);
		if (i > first)
			put_rule_above(composer, block, y, gap);
		if (block->around != open && block->around != ROLE_SECTION)
			begin_group(composer, block->around);
		open = block->around;
		block->put(composer, block, y);
		y += block->height;
	}
	if (open != ROLE_SECTION)
		end_group(composer);
	if (blocks->days && is_cut_before(blocks, end))
		put_more(composer);
}

/* Further pages say that they go on in place of the lead, which the first has. */
static const char *further_lead(struct composer *composer)
{
	return say0(composer->speaker, "page.goes_on");
}

double large_further_room(struct composer *composer, const char *title)
{
	return composer_content_height(composer, title, further_lead(composer), PICTURE_NONE);
}

void large_place(const struct large_blocks *blocks, const char *title, const char *lead)
{
	struct composer *composer = blocks->composer;
	const char *further = blocks->days ? lead : further_lead(composer);
	struct breaking breaking = {.blocks = blocks,
	                            .first_room = composer_content_height(composer, title, lead, PICTURE_NONE),
	                            .room = composer_content_height(composer, title, further, PICTURE_NONE),
	                            .cost = arena_alloc(composer->arena, (blocks->n + 1) * sizeof *breaking.cost),
	                            .after = arena_alloc(composer->arena, (blocks->n + 1) * sizeof *breaking.after)};
	find_breaks(&breaking);
	for (size_t first = 0; first < blocks->n; first = breaking.after[first]) {
		composer_new_page(composer, title, first == 0 ? lead : further);
		put_page(blocks, first, breaking.after[first]);
	}
}

void large_repeat_heading(struct large_blocks *blocks, size_t first)
{
	for (size_t i = first; i < blocks->n; i++)
		blocks->list[i].head = first;
}

void large_hold_list(struct large_blocks *blocks, size_t first)
{
	large_repeat_heading(blocks, first);
	for (size_t i = first; i < blocks->n; i++)
		blocks->list[i].keep = blocks->list[i].keep || (i == first && i + 1 < blocks->n) || i + 2 == blocks->n;
}

void large_hold_all(struct large_blocks *blocks, size_t first)
{
	for (size_t i = first; i + 1 < blocks->n; i++)
		blocks->list[i].keep = true;
}

/* ---- pieces of a text ---- */

struct cutting {
	struct composer *composer;
	struct text_style style;
	double width;
	double most;
};

/* A piece with its own bold switches closed; `bold`: it begins inside bold. */
static const char *piece_of(struct composer *composer, const char *text, size_t length, bool bold)
{
	bool inside = bold;
	for (size_t i = 0; i < length; i++)
		inside = text[i] == TEXT_BOLD_ON[0] || (inside && text[i] != TEXT_BOLD_OFF[0]);
	return arena_printf(composer->arena, "%s%.*s%s", bold ? TEXT_BOLD_ON : "", (int)length, text,
	                    inside ? TEXT_BOLD_OFF : "");
}

static bool bold_after(const char *text, size_t length, bool bold)
{
	for (size_t i = 0; i < length; i++)
		bold = text[i] == TEXT_BOLD_ON[0] || (bold && text[i] != TEXT_BOLD_OFF[0]);
	return bold;
}

static bool ends_sentence(const char *text, size_t length)
{
	while (length > 0 && text[length - 1] == TEXT_BOLD_OFF[0])
		length--;
	return length > 0 && strchr(".!?", text[length - 1]) != NULL;
}

/* How much of the text fits: whole sentences where one ends in the second half, else whole words. */
static size_t fitting(const struct cutting *cutting, const char *text, bool bold)
{
	size_t words = 0;
	size_t sentences = 0;
	for (size_t end = strcspn(text, " ");; end += 1 + strcspn(text + end + 1, " ")) {
		const char *piece = piece_of(cutting->composer, text, end, bold);
		if (composer_text_height(cutting->composer, piece, cutting->style, cutting->width) > cutting->most &&
		    words > 0)
			break;
		words = end;
		if (ends_sentence(text, end))
			sentences = end;
		if (text[end] == '\0')
			return end;
	}
	return 2 * sentences > words ? sentences : words;
}

/* As few as can be, and these about equally high, so that none is a line alone. */
struct large_pieces large_pieces_of(struct composer *composer, const char *text, struct text_style style, double width,
                                    double most)
{
	struct cutting cutting = {composer, style, width, most};
	struct large_pieces pieces = {0};
	bool bold = false;
	double half_line = 0.6 * style.size * POINT_MM;
	while (text != NULL && *text != '\0') {
		double height = composer_text_height(composer, text, style, width);
		cutting.most = fmin(most, height / ceil(height / most) + half_line);
		size_t length = fitting(&cutting, text, bold);
		pieces.list = arena_more(composer->arena, pieces.list, pieces.n, sizeof *pieces.list);
		pieces.list[pieces.n++] = piece_of(composer, text, length, bold);
		bold = bold_after(text, length, bold);
		text += length;
		text += *text == ' ';
	}
	return pieces;
}

/* ---- common blocks ---- */

struct text_style large_style(const struct composer *composer, enum type_role role, enum text_weight weight)
{
	struct text_style style = composer_style(composer, role, weight);
	style.leading = 1.25 * style.size * POINT_MM;
	return style;
}

struct text_style large_body(const struct composer *composer, enum text_weight weight)
{
	return large_style(composer, TYPE_BODY, weight);
}

static void put_large_heading(struct composer *composer, const struct large_block *block, double y)
{
	put_heading(composer, ROLE_H2, block->data, large_style(composer, TYPE_SECTION, WEIGHT_BOLD), composer->left, y,
	            LIVE_WIDTH);
}

void large_add_heading(struct large_blocks *blocks, const char *heading)
{
	struct text_style style = large_style(blocks->composer, TYPE_SECTION, WEIGHT_BOLD);
	if (heading == NULL || *heading == '\0')
		return;
	double height = composer_text_height(blocks->composer, heading, style, LIVE_WIDTH);
	large_add(blocks, height, GAP_5, put_large_heading, heading)->keep = true;
}

struct large_text {
	const char *text;
	struct text_style style;
};

static void put_large_text(struct composer *composer, const struct large_block *block, double y)
{
	const struct large_text *text = block->data;
	put_paragraph(composer, text->text, text->style, composer->left, y, LIVE_WIDTH);
}

void large_add_text(struct large_blocks *blocks, const char *text, enum type_role role, enum text_weight weight)
{
	struct composer *composer = blocks->composer;
	struct text_style style = large_style(composer, role, weight);
	struct large_pieces pieces = large_pieces_of(composer, text, style, LIVE_WIDTH, PIECE_MOST);
	for (size_t i = 0; i < pieces.n; i++) {
		struct large_text *piece = arena_alloc(composer->arena, sizeof *piece);
		*piece = (struct large_text){pieces.list[i], style};
		large_add(blocks, composer_text_height(composer, piece->text, style, LIVE_WIDTH), GAP_4, put_large_text,
		          piece);
	}
}

#define ITEM_PICTURE 13.0
#define ITEM_TEXT 20.0
#define ITEM_BETWEEN 4.2

struct large_item {
	enum pictogram pictogram;
	const char *heading;
	const char *text;
	double text_height;
	double heading_height;
};

static void put_item(struct composer *composer, const struct large_block *block, double y)
{
	const struct large_item *item = block->data;
	double x = composer->left + ITEM_TEXT;
	double width = LIVE_WIDTH - ITEM_TEXT;
	double words = item->heading_height + item->text_height +
	               (item->heading_height > 0 && item->text_height > 0 ? ITEM_BETWEEN : 0);
	double top = y + fmax(0, (block->height - words) / 2);
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_picture(composer, item->pictogram, composer->left, y + fmin(2, (block->height - ITEM_PICTURE) / 2),
	            ITEM_PICTURE);
	end_group(composer);
	struct rect heading = put_heading(composer, ROLE_H3, item->heading,
	                                  large_style(composer, TYPE_LEAD, WEIGHT_BOLD), x, top, width);
	put_paragraph(composer, item->text, large_body(composer, WEIGHT_REGULAR), x,
	              heading.height > 0 ? heading.y + heading.height + ITEM_BETWEEN : top, width);
	end_group(composer);
}

void large_add_item(struct large_blocks *blocks, enum pictogram pictogram, const char *heading, const char *text)
{
	struct composer *composer = blocks->composer;
	struct text_style body = large_body(composer, WEIGHT_REGULAR);
	struct text_style lead = large_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	double width = LIVE_WIDTH - ITEM_TEXT;
	struct large_pieces pieces = large_pieces_of(composer, text, body, width, PIECE_MOST);
	for (size_t i = 0; i < pieces.n || i == 0; i++) {
		struct large_item *item = arena_alloc(composer->arena, sizeof *item);
		*item = (struct large_item){.pictogram = pictogram,
		                            .heading = i == 0 ? heading : NULL,
		                            .text = i < pieces.n ? pieces.list[i] : NULL};
		item->heading_height = composer_text_height(composer, item->heading, lead, width);
		item->text_height = composer_text_height(composer, item->text, body, width);
		double between = item->heading_height > 0 && item->text_height > 0 ? ITEM_BETWEEN : 0;
		struct large_block *block =
			large_add(blocks, fmax(ITEM_PICTURE, item->heading_height + between + item->text_height), GAP_4,
		                  put_item, item);
		block->around = ROLE_LIST;
	}
}
