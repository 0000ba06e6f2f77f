/*
 * medicine_chain.c - several powders, one liquid: the chain of vials, and a row of boxes to tick for each.
 *
 *      |        in |  out       in |  out
 *     [ ]         [ ]             [ ]
 *      |  ->    (_1_)     ->    (_2_)
 *   liquid     75 units       150 units
 *
 * Where all of it is given there is no line to stop on: this page is then the
 * sheet's back and has its steps.
 */
#include "page/large_sheet.h"
#include "page/parts.h"
#include "page/styles.h"

#include <math.h>
#include <string.h>

static struct text_style body(const struct composer *composer, enum text_weight weight)
{
	return medicine_style(composer, TYPE_BODY, weight);
}

static struct text_style lead(const struct composer *composer)
{
	return medicine_style(composer, TYPE_LEAD, WEIGHT_BOLD);
}

bool chain_is_back(const struct medicine_sheet *sheet)
{
	return sheet->chain != NULL && sheet->draw->mark.all;
}

/* ---- the chain ---- */

/* Parts of the picture's size: of the vial's body, and of the middle of its liquid from the top. */
#define VIAL_HALF 0.2
#define VIAL_MIDDLE 0.81
/* 62: a vial is 30 high. Smaller only where that keeps the sheet on one page. */
static const double picture_sizes[] = {62, 54, 46, 40, 32};

struct chain_part {
	const struct powder_chain *chain;
	double picture;
};

#define HEADING_AFTER 4.5
#define DISC_RADIUS 4.4
#define DISC_NUMBER 17.0
#define FLOW_SIDE 10.6 /* arrows in and out, from the syringe's middle */
#define FLOW_ARROW 9.0 /* their length */
#define NARROW 28.0    /* a column this narrow has its arrows closer */
#define NARROW_SIDE 8.4
#define CHAIN_WORDS 3.4
#define CHAIN_LINES 3.0
#define ABREAST_MOST 7 /* the liquid's syringe and six vials */

static size_t columns(const struct powder_chain *chain)
{
	size_t n = chain->n_vials + 1;
	size_t lines = (n + ABREAST_MOST - 1) / ABREAST_MOST;
	return (n + lines - 1) / lines;
}

static double pitch_of(const struct powder_chain *chain)
{
	return LIVE_WIDTH / (double)columns(chain);
}

static size_t lines_of(const struct powder_chain *chain)
{
	return (chain->n_vials + columns(chain)) / columns(chain);
}

/* The words below a column: the total, and what it is. */
static double column_words_height(struct composer *composer, const struct powder_chain *chain)
{
	double width = pitch_of(chain) - GAP_1;
	double total = composer_text_height(composer, chain->liquid_word, lead(composer), width);
	double now = composer_text_height(composer, chain->liquid_amount, body(composer, WEIGHT_REGULAR), width);
	for (size_t i = 0; i < chain->n_vials; i++) {
		total = fmax(total, composer_text_height(composer, chain->vials[i].total, lead(composer), width));
		now = fmax(now, composer_text_height(composer, chain->now_word, body(composer, WEIGHT_REGULAR), width));
	}
	return total + CHAIN_LINES + now;
}

static double line_height(struct composer *composer, const struct chain_part *part)
{
	return part->picture + CHAIN_WORDS + column_words_height(composer, part->chain);
}

static double chain_height(struct composer *composer, const void *what)
{
	const struct chain_part *part = what;
	double lines = (double)lines_of(part->chain);
	return composer_text_height(composer, part->chain->heading, bold(composer, TYPE_SECTION), LIVE_WIDTH) +
	       HEADING_AFTER + lines * line_height(composer, part) + (lines - 1) * GAP_3;
}

/* In on the left of the syringe, out on its right: down and up. */
static void put_ways(struct composer *composer, const struct powder_chain *chain, double middle, double y)
{
	double side = pitch_of(chain) < NARROW ? NARROW_SIDE : FLOW_SIDE;
	double words = y + FLOW_ARROW + 2.6;
	struct text_style style = body(composer, WEIGHT_BOLD);
	begin_artifact(composer);
	put_mark(composer,
	         (struct placed_mark){
			 .kind = MARK_RULE,
			 .area = {middle - side - 1.2, y, 2.4, FLOW_ARROW},
			 .rule = {{middle - side, y}, {middle - side, y + FLOW_ARROW}, 0.9, COLOUR_INK, false, true}});
	put_mark(composer,
	         (struct placed_mark){
			 .kind = MARK_RULE,
			 .area = {middle + side - 1.2, y, 2.4, FLOW_ARROW},
			 .rule = {{middle + side, y + FLOW_ARROW}, {middle + side, y}, 0.9, COLOUR_INK, false, true}});
	end_group(composer);
	put_text(composer, chain->in_word, style, ALIGN_CENTER, middle - side, words, 0, COLOUR_INK);
	put_text(composer, chain->out_word, style, ALIGN_CENTER, middle + side, words, 0, COLOUR_INK);
}

static void put_number(struct composer *composer, const char *number, double middle, double y)
{
	struct text_style style = {.size = DISC_NUMBER, .weight = WEIGHT_BOLD};
	struct box disc = {.radius = DISC_RADIUS, .stroke = COLOUR_NONE, .fill = COLOUR_WHITE};
	begin_inside(composer);
	put_box(composer, (struct rect){middle - DISC_RADIUS, y - DISC_RADIUS, 2 * DISC_RADIUS, 2 * DISC_RADIUS}, disc);
	put_text(composer, number, style, ALIGN_CENTER, middle, y - text_cap_height(style) / 2, 0, COLOUR_INK);
	end_inside(composer);
}

static void put_column(struct composer *composer, const struct chain_part *part, size_t column, double middle, double y)
{
	const struct powder_chain *chain = part->chain;
	const struct chain_vial *vial = column == 0 ? NULL : &chain->vials[column - 1];
	double width = pitch_of(chain) - GAP_1;
	double size = part->picture;
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	begin_inside(composer);
	put_mark(composer,
	         (struct placed_mark){
			 .kind = MARK_STEP,
			 .area = {middle - 5, y, 10, size},
			 .step = {vial == NULL ? "chain-liquid" : "chain-vial", {middle - size / 2, y}, size}});
	end_inside(composer);
	end_group(composer);
	if (vial != NULL) {
		put_ways(composer, chain, middle, y);
		put_number(composer, vial->number, middle, y + VIAL_MIDDLE * size);
	}
	struct rect total = put_text(composer, vial == NULL ? chain->liquid_word : vial->total, lead(composer),
	                             ALIGN_CENTER, middle, y + size + CHAIN_WORDS, width, COLOUR_INK);
	put_text(composer, vial == NULL ? chain->liquid_amount : chain->now_word, body(composer, WEIGHT_REGULAR),
	         ALIGN_CENTER, middle, total.y + total.height + CHAIN_LINES, width, COLOUR_INK);
	end_group(composer);
}

/* On to the next vial, over its shoulder's height. */
static void put_onward(struct composer *composer, const struct chain_part *part, double middle, double y)
{
	double pitch = pitch_of(part->chain);
	double length = fmin(pitch - 2 * VIAL_HALF * part->picture - 2, 14);
	begin_artifact(composer);
	put_arrow(composer, middle + pitch / 2 - length / 2, y + (VIAL_MIDDLE - 0.13) * part->picture, length);
	end_group(composer);
}

static void put_chain(struct composer *composer, const void *what, double y)
{
	const struct chain_part *part = what;
	const struct powder_chain *chain = part->chain;
	composer_note_part(composer, chain);
	struct rect heading = put_heading(composer, ROLE_H2, chain->heading, bold(composer, TYPE_SECTION),
	                                  composer->left, y, LIVE_WIDTH);
	y = heading.y + heading.height + HEADING_AFTER;
	begin_group(composer, ROLE_LIST);
	for (size_t column = 0; column <= chain->n_vials; column++) {
		size_t in_line = column % columns(chain);
		double middle = composer->left + ((double)in_line + 0.5) * pitch_of(chain);
		double top = y + (double)(column / columns(chain)) * (line_height(composer, part) + GAP_3);
		put_column(composer, part, column, middle, top);
		if (column < chain->n_vials && in_line + 1 < columns(chain))
			put_onward(composer, part, middle, top);
	}
	end_group(composer);
}

/* ---- the boxes to tick ---- */

#define TICK 8.0
#define TICK_WORDS 2.6
#define ROW_PAD 1.6
#define ROW_PICTURE 8.8
#define NAME_X 12.0
#define FIRST_TICK 34.0
#define TICK_PITCH 49.0
#define LAST_TAG 15.0
#define TABLE_HEAD 3.0

#define DAY_TICK 5.4
#define DAY_BETWEEN 1.6
#define DAY_PITCH (DAY_TICK + DAY_BETWEEN)
#define DAYS_BESIDE 3  /* at most so many have words at their side */
#define DAYS_BELOW 2.6 /* words to the boxes of the days */

static struct tick_look day_look(const struct composer *composer)
{
	return (struct tick_look){DAY_TICK, DAY_PITCH, composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR)};
}

static double beside_x(const struct powder_chain *chain)
{
	return TICK_WORDS + (chain->days.n > 0 ? (double)chain->days.n * DAY_PITCH - DAY_BETWEEN : TICK);
}

static bool words_fit(struct composer *composer, const char *text, double width)
{
	return composer_widest_word(composer, text, body(composer, WEIGHT_BOLD)) <= width;
}

/* Words stand beside their boxes, or above those of so many days that they have no room there. */
static bool words_above(struct composer *composer, const struct powder_chain *chain)
{
	double width = TICK_PITCH - beside_x(chain) - GAP_1;
	double tag = measure_tag(composer, chain->last_mark, LAST_TAG).width;
	double last = LIVE_WIDTH - FIRST_TICK - 2 * TICK_PITCH - beside_x(chain) - tag - GAP_1;
	bool fit = words_fit(composer, chain->gone, width) && words_fit(composer, chain->last, last);
	for (size_t i = 0; i < 3; i++)
		fit = fit && words_fit(composer, chain->tick_heads[i], width);
	for (size_t i = 0; i < chain->n_vials; i++)
		fit = fit && words_fit(composer, chain->vials[i].into, width) &&
		      (chain->vials[i].then == NULL || words_fit(composer, chain->vials[i].then, width));
	return chain->days.n > DAYS_BESIDE || (chain->days.n > 0 && !fit);
}

static double words_x(struct composer *composer, const struct powder_chain *chain)
{
	return words_above(composer, chain) ? 0 : beside_x(chain);
}

/* What the boxes add to a row below its words. */
static double days_height(struct composer *composer, const struct powder_chain *chain)
{
	struct tick_look look = day_look(composer);
	return words_above(composer, chain) ? DAYS_BELOW + day_ticks_height(&look) : 0;
}

static double ticks_least(struct composer *composer, const struct powder_chain *chain)
{
	struct tick_look look = day_look(composer);
	return chain->days.n > 0 ? day_ticks_height(&look) : TICK;
}

static double tick_width(struct composer *composer, const struct powder_chain *chain)
{
	return TICK_PITCH - words_x(composer, chain) - GAP_1;
}

static double heads_height(struct composer *composer, const struct powder_chain *chain)
{
	double height = 0;
	for (size_t i = 0; i < 3; i++)
		height = fmax(height, composer_text_height(composer, chain->tick_heads[i], body(composer, WEIGHT_BOLD),
		                                           tick_width(composer, chain)));
	return height;
}

static double last_height(struct composer *composer, const struct powder_chain *chain)
{
	struct rect tag = measure_tag(composer, chain->last_mark, LAST_TAG);
	double width = LIVE_WIDTH - FIRST_TICK - 2 * TICK_PITCH - words_x(composer, chain) - tag.width - GAP_1;
	return fmax(tag.height, composer_text_height(composer, chain->last, body(composer, WEIGHT_REGULAR), width));
}

static double row_height(struct composer *composer, const struct powder_chain *chain, size_t row)
{
	const struct chain_vial *vial = &chain->vials[row];
	const char *words[] = {vial->into, chain->gone, vial->then};
	double height = words_above(composer, chain) ? 0 : fmax(ticks_least(composer, chain), ROW_PICTURE);
	for (size_t i = 0; i < 3; i++)
		if (words[i] != NULL)
			height = fmax(height, composer_text_height(composer, words[i], body(composer, WEIGHT_REGULAR),
			                                           tick_width(composer, chain)));
	if (vial->then == NULL)
		height = fmax(height, last_height(composer, chain));
	return height + days_height(composer, chain) + 2 * ROW_PAD;
}

static double ticks_height(struct composer *composer, const void *what)
{
	const struct medicine_sheet *sheet = what;
	const struct powder_chain *chain = sheet->chain;
	double height = composer_text_height(composer, chain->ticks_heading, bold(composer, TYPE_SECTION), LIVE_WIDTH) +
	                HEADING_AFTER + heads_height(composer, chain) + TABLE_HEAD;
	for (size_t i = 0; i < chain->n_vials; i++)
		height += row_height(composer, chain, i);
	return height + GAP_3 + composer_text_height(composer, chain->foot, body(composer, WEIGHT_REGULAR), LIVE_WIDTH);
}

/* Where the boxes of a cell stand, and its words. */
struct cell_place {
	double x;
	double middle; /* of the words */
	double days;   /* the top of the days' boxes */
};

static void put_cell_ticks(struct composer *composer, const struct powder_chain *chain, struct cell_place at)
{
	struct tick_look look = day_look(composer);
	if (chain->days.n > 0) {
		put_day_ticks(composer, &look, &chain->days, at.x, at.days);
		return;
	}
	begin_artifact(composer);
	put_tick(composer, (struct point){at.x, at.middle - TICK / 2}, TICK);
	end_group(composer);
}

/* The caller ends the cell. */
static void begin_tick_cell(struct composer *composer, const struct powder_chain *chain, const char *words,
                            struct cell_place at)
{
	begin_group(composer, ROLE_CELL);
	if (words != NULL) {
		double height = composer_text_height(composer, words, body(composer, WEIGHT_REGULAR),
		                                     tick_width(composer, chain));
		put_plain(composer, words, body(composer, WEIGHT_REGULAR), at.x + words_x(composer, chain),
		          at.middle - height / 2, tick_width(composer, chain));
	}
	put_cell_ticks(composer, chain, at);
}

/* The last vial's liquid is drawn to the tag of the day. */
static void put_last(struct composer *composer, const struct powder_chain *chain, double x, double middle)
{
	struct rect tag = measure_tag(composer, chain->last_mark, LAST_TAG);
	double left = x + words_x(composer, chain);
	double words = left + tag.width + GAP_1;
	double width = composer->right - words;
	double height = composer_text_height(composer, chain->last, body(composer, WEIGHT_REGULAR), width);
	put_tag(composer, chain->last_mark, LAST_TAG, (struct point){left + tag.width / 2, middle + tag.height / 2});
	put_plain(composer, chain->last, body(composer, WEIGHT_REGULAR), words, middle - height / 2, width);
}

static void put_tick_row(struct composer *composer, const struct powder_chain *chain, size_t row, double y)
{
	const struct chain_vial *vial = &chain->vials[row];
	double height = row_height(composer, chain, row);
	double middle = y + height / 2;
	struct cell_place at = {composer->left + FIRST_TICK, y + (height - days_height(composer, chain)) / 2,
	                        words_above(composer, chain) ? y + height - ROW_PAD - ticks_least(composer, chain)
	                                                     : middle - ticks_least(composer, chain) / 2};
	struct text_style name = body(composer, WEIGHT_BOLD);
	begin_group(composer, ROLE_ROW);
	begin_head_cell(composer, SCOPE_ROW);
	begin_artifact(composer);
	put_picture(composer, PICTURE_POWDER_VIAL, composer->left, middle - ROW_PICTURE / 2, ROW_PICTURE);
	end_group(composer);
	put_plain(composer, vial->name, name, composer->left + NAME_X, middle - text_cap_height(name) / 2, 0);
	end_group(composer);
	begin_tick_cell(composer, chain, vial->into, at);
	end_group(composer);
	at.x += TICK_PITCH;
	begin_tick_cell(composer, chain, chain->gone, at);
	end_group(composer);
	at.x += TICK_PITCH;
	begin_tick_cell(composer, chain, vial->then, at);
	if (vial->then == NULL)
		put_last(composer, chain, at.x, at.middle);
	end_group(composer);
	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, y + height,
	         row + 1 < chain->n_vials ? LINE_FINE : LINE_MAIN);
	end_group(composer);
	end_group(composer);
}

static void put_tick_heads(struct composer *composer, const struct powder_chain *chain, double y)
{
	double heads = heads_height(composer, chain);
	begin_group(composer, ROLE_ROW);
	begin_head_cell(composer, SCOPE_COLUMN);
	end_group(composer);
	for (size_t i = 0; i < 3; i++) {
		double height = composer_text_height(composer, chain->tick_heads[i], body(composer, WEIGHT_BOLD),
		                                     tick_width(composer, chain));
		begin_head_cell(composer, SCOPE_COLUMN);
		put_plain(composer, chain->tick_heads[i], body(composer, WEIGHT_BOLD),
		          composer->left + FIRST_TICK + (double)i * TICK_PITCH + words_x(composer, chain),
		          y + heads - height, tick_width(composer, chain));
		end_group(composer);
	}
	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, y + heads + TABLE_HEAD, LINE_MAIN);
	end_group(composer);
	end_group(composer);
}

static void put_ticks(struct composer *composer, const void *what, double y)
{
	const struct medicine_sheet *sheet = what;
	const struct powder_chain *chain = sheet->chain;
	struct text_style note = body(composer, WEIGHT_REGULAR);
	struct rect heading = put_heading(composer, ROLE_H2, chain->ticks_heading, bold(composer, TYPE_SECTION),
	                                  composer->left, y, LIVE_WIDTH);
	begin_group(composer, ROLE_PARAGRAPH);
	put_text(composer, chain->ticks_note, note, ALIGN_END, composer->right,
	         y + text_cap_height(bold(composer, TYPE_SECTION)) - text_cap_height(note), 0, COLOUR_INK);
	end_group(composer);
	y = heading.y + heading.height + HEADING_AFTER;
	begin_group(composer, ROLE_TABLE);
	put_tick_heads(composer, chain, y);
	y += heads_height(composer, chain) + TABLE_HEAD;
	for (size_t i = 0; i < chain->n_vials; i++) {
		put_tick_row(composer, chain, i, y);
		y += row_height(composer, chain, i);
	}
	end_group(composer);
	put_paragraph(composer, chain->foot, note, composer->left, y + GAP_3, LIVE_WIDTH);
}

/* ---- the page ---- */

static void add_all(struct page_parts *parts, const struct medicine_sheet *sheet, const struct chain_part *part)
{
	*parts = (struct page_parts){.title = sheet->chain->title, .lead = sheet->chain->lead};
	parts_add(parts, chain_height, put_chain, part);
	parts_add(parts, ticks_height, put_ticks, sheet);
	if (!chain_is_back(sheet))
		return;
	parts_add_place(parts, sheet);
	parts_add_steps(parts, sheet->back_heading, sheet->back, sheet->n_back, NULL);
	parts->steps.wide = true;
}

void medicine_chain(struct composer *composer, const struct medicine_sheet *sheet)
{
	if (composer->large_print) {
		large_chain(composer, sheet);
		return;
	}
	struct page_parts *parts = arena_alloc(composer->arena, sizeof *parts);
	struct chain_part *part = arena_alloc(composer->arena, sizeof *part);
	part->chain = sheet->chain;
	for (size_t i = 0; i < sizeof picture_sizes / sizeof *picture_sizes; i++) {
		part->picture = picture_sizes[i];
		add_all(parts, sheet, part);
		if (parts_fit_one_page(composer, parts))
			break;
	}
	parts_spare_heading(composer, parts);
	put_parts(composer, parts);
}
