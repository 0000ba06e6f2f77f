/*
 * large_liquids.c - in large print what only some medicines' sheets have: mixing, chains of vials, parts of filled
 * syringes, the helper's pages, the days of a vial, the place.
 */
#include "page/large_sheet.h"
#include "page/large_step.h"
#include "page/letter.h"
#include "page/medicine.h"
#include "page/syringe_geometry.h"

#include <math.h>

static struct text_style body(const struct composer *composer)
{
	return large_style(composer, TYPE_BODY, WEIGHT_REGULAR);
}

static struct text_style bold(const struct composer *composer)
{
	return large_style(composer, TYPE_BODY, WEIGHT_BOLD);
}

/* ---- a box to tick, and what it is for ---- */

#define TICK 10.4
#define TICK_WORDS 4.5
#define TICK_BETWEEN 4.4 /* heading to words: an accent below a hook */

struct tick_row {
	const char *heading;
	const char *text;      /* or NULL */
	struct mark_words tag; /* number NULL: none */
	bool plain;            /* without its box: nothing to do */
	struct tick_days days; /* their boxes below the words, instead of one */
	bool done;             /* a printed tick */
	const void *part;      /* others name the page that it is on: composer_note_part(); or NULL */
};

#define TICK_TAG 22.0

#define DAY_TICK 9.0
#define DAY_PITCH 15.0

static struct tick_look day_look(const struct composer *composer)
{
	return (struct tick_look){DAY_TICK, DAY_PITCH, body(composer)};
}

static double days_height(const struct composer *composer, const struct tick_row *row)
{
	struct tick_look look = day_look(composer);
	return row->days.n > 0 ? GAP_3 + day_ticks_height(&look) : 0;
}

static double tick_width(void)
{
	return LIVE_WIDTH - TICK - TICK_WORDS;
}

static double tag_height(struct composer *composer, const struct tick_row *row)
{
	return row->tag.number == NULL ? 0 : GAP_2 + measure_tag(composer, row->tag, TICK_TAG).height;
}

static double tick_row_height(struct composer *composer, const struct tick_row *row)
{
	double words = composer_text_height(composer, row->heading, bold(composer), tick_width());
	if (row->text != NULL)
		words += TICK_BETWEEN + composer_text_height(composer, row->text, body(composer), tick_width());
	return fmax(TICK, words + tag_height(composer, row) + days_height(composer, row));
}

static void put_tick_row(struct composer *composer, const struct large_block *block, double y)
{
	const struct tick_row *row = block->data;
	double x = composer->left + TICK + TICK_WORDS;
	composer_note_part(composer, row->part);
	begin_group(composer, ROLE_LIST_ITEM);
	if (!row->plain && row->days.n == 0)
		put_done_or_tick(composer, (struct point){composer->left, y}, TICK, row->done);
	struct rect words = put_plain(composer, row->heading, bold(composer), x, y, tick_width());
	if (row->text != NULL)
		words = put_plain(composer, row->text, body(composer), x, words.y + words.height + TICK_BETWEEN,
		                  tick_width());
	if (row->tag.number != NULL) {
		struct rect tag = measure_tag(composer, row->tag, TICK_TAG);
		put_tag(composer, row->tag, TICK_TAG,
		        (struct point){x + tag.width / 2, words.y + words.height + GAP_2 + tag.height});
	}
	struct tick_look look = day_look(composer);
	put_day_ticks(composer, &look, &row->days, x, words.y + words.height + tag_height(composer, row) + GAP_3);
	end_group(composer);
}

static void add_tick_row(struct large_blocks *blocks, struct tick_row data)
{
	struct tick_row *row = arena_alloc(blocks->composer->arena, sizeof *row);
	*row = data;
	struct large_block *block = large_add(blocks, tick_row_height(blocks->composer, row), GAP_4, put_tick_row, row);
	block->around = ROLE_LIST;
}

/* ---- the place, and a dose at two places ---- */

#define PLACE_SIDE 13.0
#define PLACE_BELLY 0.62 /* height of the belly's sign, the hip's is square */
#define PLACE_WORDS (PLACE_SIDE + 5.0)
#define BODY_WIDTH 26.0
#define BODY_WORDS (BODY_WIDTH + 4.0)

struct place_line {
	const char *text;
	enum side side;
};

/* The sides that are said, one below the other. */
static size_t place_lines(const struct todays_place *place, struct place_line lines[2])
{
	size_t n = 0;
	if (place->left != NULL)
		lines[n++] = (struct place_line){place->left, SIDE_LEFT};
	if (place->right != NULL)
		lines[n++] = (struct place_line){place->right, SIDE_RIGHT};
	return n;
}

static double place_sign(const struct todays_place *place)
{
	return place->hip ? PLACE_SIDE : PLACE_SIDE * PLACE_BELLY;
}

static double place_line_height(struct composer *composer, const struct todays_place *place, const char *text)
{
	return fmax(place_sign(place), composer_text_height(composer, text, body(composer), LIVE_WIDTH - PLACE_WORDS));
}

/* Bodies stand side by side, each with its sign and words at its right. */
static bool place_has_body(const struct todays_place *place)
{
	return place->bodies != NULL;
}

static const char *place_words(const struct todays_place *place)
{
	return place_has_body(place) ? place->bodies : place->text;
}

static double body_words_width(void)
{
	return LIVE_WIDTH / 2 - BODY_WORDS - GAP_3;
}

static double body_words_height(struct composer *composer, const struct todays_place *place, const char *text)
{
	return place_sign(place) + GAP_3 + composer_text_height(composer, text, body(composer), body_words_width());
}

static double bodies_height(struct composer *composer, const struct todays_place *place, const struct place_line *lines,
                            size_t n)
{
	double height = BODY_WIDTH * BODY_HIGH;
	for (size_t i = 0; i < n; i++)
		height = fmax(height, body_words_height(composer, place, lines[i].text));
	return height;
}

static double words_x(const struct composer *composer, const struct todays_place *place)
{
	return place->letter == NULL ? 0 : letter_size(composer) + GAP_2;
}

static double words_height(struct composer *composer, const struct todays_place *place)
{
	return composer_text_height(composer, place_words(place), bold(composer),
	                            LIVE_WIDTH - words_x(composer, place));
}

static double place_height_of(struct composer *composer, const struct todays_place *place)
{
	struct place_line lines[2];
	size_t n = place_lines(place, lines);
	double height = words_height(composer, place);
	if (place_has_body(place))
		return height + GAP_3 + bodies_height(composer, place, lines, n);
	for (size_t i = 0; i < n; i++)
		height += GAP_3 + place_line_height(composer, place, lines[i].text);
	return height;
}

static void put_body_line(struct composer *composer, const struct todays_place *place, struct place_line line, double x,
                          double middle)
{
	struct rect area = {x, middle - BODY_WIDTH * BODY_HIGH / 2, BODY_WIDTH, BODY_WIDTH * BODY_HIGH};
	double top = middle - body_words_height(composer, place, line.text) / 2;
	struct rect sign = {x + BODY_WORDS, top, PLACE_SIDE, place_sign(place)};
	begin_figure(composer, line.side == SIDE_LEFT ? place->left_alt : place->right_alt);
	put_body(composer, place, line.side, area);
	end_group(composer);
	begin_artifact(composer);
	put_mark(composer, (struct placed_mark){.kind = MARK_SIDE,
	                                        .area = sign,
	                                        .side = {{sign.x, sign.y}, PLACE_SIDE, line.side, place->hip}});
	end_group(composer);
	put_paragraph(composer, line.text, body(composer), sign.x, sign.y + sign.height + GAP_3, body_words_width());
}

static void put_place_line(struct composer *composer, const struct todays_place *place, struct place_line line,
                           double middle)
{
	double words = composer_text_height(composer, line.text, body(composer), LIVE_WIDTH - PLACE_WORDS);
	struct rect sign = {composer->left, middle - place_sign(place) / 2, PLACE_SIDE, place_sign(place)};
	begin_artifact(composer);
	put_mark(composer, (struct placed_mark){.kind = MARK_SIDE,
	                                        .area = sign,
	                                        .side = {{sign.x, sign.y}, PLACE_SIDE, line.side, place->hip}});
	end_group(composer);
	put_paragraph(composer, line.text, body(composer), composer->left + PLACE_WORDS, middle - words / 2,
	              LIVE_WIDTH - PLACE_WORDS);
}

static void put_place_block(struct composer *composer, const struct large_block *block, double y)
{
	const struct todays_place *place = block->data;
	struct place_line lines[2];
	size_t n = place_lines(place, lines);
	double beside = words_x(composer, place);
	begin_artifact(composer);
	put_letter(composer, place->letter,
	           (struct point){composer->left, y + (large_cap(composer, TYPE_BODY) - letter_size(composer)) / 2});
	end_group(composer);
	put_heading(composer, ROLE_H2, place_words(place), bold(composer), composer->left + beside, y,
	            LIVE_WIDTH - beside);
	y += words_height(composer, place);
	for (size_t i = 0; place_has_body(place) && i < n; i++)
		put_body_line(composer, place, lines[i], composer->left + (double)i * LIVE_WIDTH / 2,
		              y + GAP_3 + bodies_height(composer, place, lines, n) / 2);
	for (size_t i = 0; !place_has_body(place) && i < n; i++) {
		double height = place_line_height(composer, place, lines[i].text);
		put_place_line(composer, place, lines[i], y + GAP_3 + height / 2);
		y += GAP_3 + height;
	}
}

void large_add_place(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	if (sheet->place != NULL)
		large_add(blocks, place_height_of(blocks->composer, sheet->place), GAP_4, put_place_block,
		          sheet->place);
}

void large_add_twice(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	const struct two_places *twice = sheet->twice;
	if (twice == NULL)
		return;
	large_add_heading(blocks, twice->heading);
	large_add_text(blocks, twice->text, TYPE_BODY, WEIGHT_REGULAR);
	for (size_t i = 0; i < 2; i++)
		add_tick_row(blocks, (struct tick_row){.heading = twice->parts[i].name,
		                                       .text = twice->parts[i].side,
		                                       .tag = twice->parts[i].mark});
}

/* ---- a vial for many days ---- */

static double note_height(struct composer *composer, const struct vial_log *log)
{
	return composer_text_height(composer, log->note, body(composer), LIVE_WIDTH);
}

static void put_vial_note(struct composer *composer, const struct large_block *block, double y)
{
	const struct vial_log *log = block->data;
	put_paragraph(composer, log->note, body(composer), composer->left, y, LIVE_WIDTH);
}

void large_add_vials(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	const struct vial_log *log = sheet->vials;
	if (log == NULL)
		return;
	large_add_heading(blocks, log->heading);
	if (log->section >= 0) {
		large_add_text(blocks, vial_note(blocks->composer, log), TYPE_BODY, WEIGHT_REGULAR);
		return;
	}
	large_add(blocks, note_height(blocks->composer, log), GAP_4, put_vial_note, log);
	for (size_t i = 0; i < log->n_rows; i++) {
		const struct vial_row *row = &log->rows[i];
		large_add_item(blocks, PICTURE_LIQUID_VIAL, row->name,
		               arena_printf(blocks->composer->arena, "%s \u00b7 %s", row->opened, row->last));
		for (size_t j = 0; j < row->n_squares; j++)
			add_tick_row(blocks, (struct tick_row){.heading = say1(blocks->composer->speaker, "days.one",
			                                                       "days", row->squares[j].day),
			                                       .done = row->squares[j].done,
			                                       .part = row->squares[j].dose});
	}
}

/* ---- a measured liquid ---- */

void large_mix(struct composer *composer, const struct medicine_sheet *sheet)
{
	const struct mix_page *mix = sheet->mix;
	struct large_blocks blocks = large_blocks_of(composer);
	large_add_text(&blocks, mix->only_when, TYPE_BODY, WEIGHT_BOLD);
	large_add_heading(&blocks, arena_printf(composer->arena, "%s  %s", mix->letter, mix->heading));
	large_add_text(&blocks, mix->with, TYPE_BODY, WEIGHT_REGULAR);
	large_add_liquid_line(&blocks, sheet);
	if (place_is_asked_on(sheet, ASKED_ON_MIX))
		large_add_place(&blocks, sheet);
	large_add_steps(&blocks, mix->steps, mix->n_steps, &sheet->add);
	large_add_item(&blocks, mix->liquid_picture, mix->liquid_amount, mix->liquid_word);
	large_add_item(&blocks, PICTURE_POWDER_VIAL, mix->powder_word, mix->powder_note);
	large_add_item(&blocks, PICTURE_LIQUID_VIAL, mix->ready_amount, mix->ready_word);
	add_tick_row(&blocks, (struct tick_row){.heading = mix->ready_check, .days = mix->ready_days});
	large_place(&blocks, mix->title, mix->lead);
}

/* The two tags, on the front: white into the vial, black into you. */
void large_add_legend(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	const struct mix_page *mix = sheet->mix;
	if (mix == NULL)
		return;
	add_tick_row(blocks,
	             (struct tick_row){
			     .heading = mix->white_heading, .text = mix->white_text, .tag = sheet->add, .plain = true});
	add_tick_row(blocks, (struct tick_row){.heading = mix->black_heading,
	                                       .text = mix->black_text,
	                                       .tag = sheet->mark,
	                                       .plain = true});
}

/* ---- several powders ---- */

void large_chain(struct composer *composer, const struct medicine_sheet *sheet)
{
	const struct powder_chain *chain = sheet->chain;
	struct large_blocks blocks = large_blocks_of(composer);
	large_add_heading(&blocks, chain->heading);
	large_add_item(&blocks, PICTURE_FILLED_SYRINGE, chain->liquid_word, chain->liquid_amount);
	large_add_text(&blocks, chain->ticks_note, TYPE_BODY, WEIGHT_REGULAR);
	for (size_t i = 0; i < chain->n_vials; i++) {
		const struct chain_vial *vial = &chain->vials[i];
		large_add_item(&blocks, PICTURE_POWDER_VIAL, vial->name,
		               arena_printf(composer->arena, "%s: %s", vial->total, chain->now_word));
		blocks.list[blocks.n - 1].keep = true;
		add_tick_row(
			&blocks,
			(struct tick_row){.heading = chain->tick_heads[0], .text = vial->into, .days = chain->days});
		add_tick_row(
			&blocks,
			(struct tick_row){.heading = chain->tick_heads[1], .text = chain->gone, .days = chain->days});
		bool last = vial->then == NULL;
		add_tick_row(&blocks, (struct tick_row){.heading = chain->tick_heads[2],
		                                        .text = last ? chain->last : vial->then,
		                                        .days = chain->days,
		                                        .tag = last ? chain->last_mark : (struct mark_words){0}});
	}
	large_add_text(&blocks, chain->foot, TYPE_BODY, WEIGHT_REGULAR);
	if (chain_is_back(sheet)) {
		large_add_place(&blocks, sheet);
		large_add_steps(&blocks, sheet->back, sheet->n_back, NULL);
		large_add_notes(&blocks, sheet);
	}
	large_place(&blocks, chain->title, chain->lead);
}

/* ---- into the muscle ---- */

#define MAP_WIDTH 82.0
#define MAP_HEIGHT 66.0
#define MAP_WORDS 6.0 /* map to the words at its right */

static void put_map(struct composer *composer, const struct large_block *block, double y)
{
	const struct muscle_page *page = block->data;
	composer_note_part(composer, page);
	struct rect area = {composer->left, y, MAP_WIDTH, MAP_HEIGHT};
	double x = composer->left + MAP_WIDTH + MAP_WORDS;
	begin_figure(composer, page->map_alt);
	begin_inside(composer);
	put_mark(composer, (struct placed_mark){.kind = MARK_BACK,
	                                        .area = area,
	                                        .back = {area, page->quarter ? BACK_UPPER_QUARTER : BACK_HIP_SIDE}});
	end_inside(composer);
	end_group(composer);
	put_paragraph(composer, page->map_caption, body(composer), x, y, composer->right - x);
}

struct needle_block {
	const char *text;
	double length;
	bool thick;
};

static void put_needle(struct composer *composer, const struct large_block *block, double y)
{
	const struct needle_block *needle = block->data;
	double x = composer->left + needle->length + NEEDLE_HUB + GAP_4;
	double middle = y + block->height / 2;
	begin_figure(composer, needle->text);
	put_mark(composer, (struct placed_mark){.kind = MARK_NEEDLE,
	                                        .area = {composer->left, middle - NEEDLE_SKIRT / 2,
	                                                 needle->length + NEEDLE_HUB, NEEDLE_SKIRT},
	                                        .needle = {{composer->left, middle}, needle->length, needle->thick}});
	end_group(composer);
	double height = composer_text_height(composer, needle->text, body(composer), composer->right - x);
	put_paragraph(composer, needle->text, body(composer), x, middle - height / 2, composer->right - x);
}

static void add_needle(struct large_blocks *blocks, const char *text, const struct needle *needle, bool thick)
{
	struct needle_block *block = arena_alloc(blocks->composer->arena, sizeof *block);
	struct quantity length;
	if (text == NULL || !needle->given || !quantity_in(needle->length.quantity, UNIT_MM, &length))
		return;
	*block = (struct needle_block){text, measure_of(length.number), thick};
	double room = LIVE_WIDTH - block->length - NEEDLE_HUB - GAP_4;
	double height = composer_text_height(blocks->composer, text, body(blocks->composer), room);
	large_add(blocks, fmax(height, NEEDLE_SKIRT), GAP_4, put_needle, block);
}

static void add_log(struct large_blocks *blocks, const struct muscle_page *page)
{
	struct arena *arena = blocks->composer->arena;
	large_add_heading(blocks, page->log_heading);
	large_add_text(blocks, page->log_note, TYPE_BODY, WEIGHT_REGULAR);
	for (size_t i = 0; i < page->n_rows; i++) {
		const struct muscle_row *row = &page->rows[i];
		const char *side = row->side_word == NULL ? "" : row->side_word;
		const char *day = row->date == NULL ? row->day : arena_printf(arena, "%s · %s", row->day, row->date);
		add_tick_row(blocks, (struct tick_row){
					     .heading = *side == '\0' ? day : arena_printf(arena, "%s · %s", day, side),
					     .text = arena_printf(arena, "%s ______  %s ______", page->time_word,
		                                                  page->who_word)});
	}
}

void large_muscle(struct composer *composer, const struct medicine_sheet *sheet)
{
	const struct muscle_page *page = sheet->muscle;
	struct large_blocks blocks = large_blocks_of(composer);
	large_add_heading(&blocks, page->place_heading);
	large_add_text(&blocks, page->place_text, TYPE_BODY, WEIGHT_REGULAR);
	double caption =
		composer_text_height(composer, page->map_caption, body(composer), LIVE_WIDTH - MAP_WIDTH - MAP_WORDS);
	large_add(&blocks, fmax(MAP_HEIGHT, caption), GAP_5, put_map, page);
	if (page->needles_heading != NULL) {
		large_add_heading(&blocks, page->needles_heading);
		add_needle(&blocks, page->thick_text, &sheet->draw->product->mixing_needle, true);
		add_needle(&blocks, page->thin_text, &sheet->draw->product->giving_needle, false);
		large_add_text(&blocks, page->depth, TYPE_BODY, WEIGHT_REGULAR);
	}
	if (page->line_heading != NULL) {
		large_add_heading(&blocks, page->line_heading);
		large_add_text(&blocks, page->line_text, TYPE_BODY, WEIGHT_REGULAR);
	}
	large_add_steps(&blocks, page->steps, page->n_steps, NULL);
	add_log(&blocks, page);
	large_place(&blocks, page->title, page->lead);
}
