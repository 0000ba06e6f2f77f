/*
 * large_liquids.c - in large print what only some medicines' sheets have: mixing, chains of vials, the days of a vial,
 * the place.
 */
#include "page/large_sheet.h"
#include "page/large_step.h"
#include "page/letter.h"
#include "page/medicine.h"
#include "page/step_names.h"
#include "page/styles.h"

#include <math.h>

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
	bool beside;           /* these stand at the end of the line instead */
};

#define TICK_TAG 22.0

#define DAY_TICK 9.0
#define DAY_PITCH 15.0

static struct tick_look day_look(const struct composer *composer)
{
	return (struct tick_look){DAY_TICK, DAY_PITCH, large_body(composer, WEIGHT_REGULAR)};
}

static double days_height(const struct composer *composer, const struct tick_row *row)
{
	struct tick_look look = day_look(composer);
	return row->days.n > 0 ? day_ticks_height(&look) : 0;
}

/* A number is wider than its box. */
static double days_x(const struct composer *composer, const struct tick_row *row)
{
	struct tick_look look = day_look(composer);
	return LIVE_WIDTH - day_ticks_width(&look, &row->days) - GAP_1;
}

static double tick_width(const struct composer *composer, const struct tick_row *row)
{
	double end = row->beside ? days_x(composer, row) - GAP_3 : LIVE_WIDTH;
	return end - TICK - TICK_WORDS;
}

static double tag_height(struct composer *composer, const struct tick_row *row)
{
	return row->tag.number == NULL ? 0 : GAP_2 + measure_tag(composer, row->tag, TICK_TAG).height;
}

static double tick_row_height(struct composer *composer, const struct tick_row *row)
{
	double width = tick_width(composer, row);
	double words = composer_text_height(composer, row->heading, large_body(composer, WEIGHT_BOLD), width);
	double days = days_height(composer, row);
	if (row->text != NULL)
		words += TICK_BETWEEN +
		         composer_text_height(composer, row->text, large_body(composer, WEIGHT_REGULAR), width);
	words += tag_height(composer, row);
	return fmax(TICK, row->beside ? fmax(words, days) : words + (days > 0 ? GAP_3 + days : 0));
}

static void put_days(struct composer *composer, const struct tick_row *row, double y, double below)
{
	struct tick_look look = day_look(composer);
	double x = composer->left + (row->beside ? days_x(composer, row) : TICK + TICK_WORDS);
	put_day_ticks(composer, &look, &row->days, x, row->beside ? y : below + GAP_3);
}

static void put_tick_words(struct composer *composer, const struct tick_row *row, double y)
{
	double x = composer->left + TICK + TICK_WORDS;
	double width = tick_width(composer, row);
	begin_group(composer, ROLE_LIST_ITEM);
	if (!row->plain && row->days.n == 0)
		put_tick(composer, (struct point){composer->left, y}, TICK);
	struct rect words = put_plain(composer, row->heading, large_body(composer, WEIGHT_BOLD), x, y, width);
	if (row->text != NULL)
		words = put_plain(composer, row->text, large_body(composer, WEIGHT_REGULAR), x,
		                  words.y + words.height + TICK_BETWEEN, width);
	double below = words.y + words.height + tag_height(composer, row);
	if (row->tag.number != NULL) {
		struct rect tag = measure_tag(composer, row->tag, TICK_TAG);
		put_tag(composer, row->tag, TICK_TAG, (struct point){x + tag.width / 2, below});
	}
	put_days(composer, row, y, below);
	end_group(composer);
}

static void put_tick_row(struct composer *composer, const struct large_block *block, double y)
{
	put_tick_words(composer, block->data, y);
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
	return fmax(place_sign(place), composer_text_height(composer, text, large_body(composer, WEIGHT_REGULAR),
	                                                    LIVE_WIDTH - PLACE_WORDS));
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
	return place_sign(place) + GAP_3 +
	       composer_text_height(composer, text, large_body(composer, WEIGHT_REGULAR), body_words_width());
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
	return composer_text_height(composer, place_words(place), large_body(composer, WEIGHT_BOLD),
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
	put_paragraph(composer, line.text, large_body(composer, WEIGHT_REGULAR), sign.x, sign.y + sign.height + GAP_3,
	              body_words_width());
}

static void put_place_line(struct composer *composer, const struct todays_place *place, struct place_line line,
                           double middle)
{
	double words = composer_text_height(composer, line.text, large_body(composer, WEIGHT_REGULAR),
	                                    LIVE_WIDTH - PLACE_WORDS);
	struct rect sign = {composer->left, middle - place_sign(place) / 2, PLACE_SIDE, place_sign(place)};
	begin_artifact(composer);
	put_mark(composer, (struct placed_mark){.kind = MARK_SIDE,
	                                        .area = sign,
	                                        .side = {{sign.x, sign.y}, PLACE_SIDE, line.side, place->hip}});
	end_group(composer);
	put_paragraph(composer, line.text, large_body(composer, WEIGHT_REGULAR), composer->left + PLACE_WORDS,
	              middle - words / 2, LIVE_WIDTH - PLACE_WORDS);
}

static void put_place_block(struct composer *composer, const struct large_block *block, double y)
{
	const struct todays_place *place = block->data;
	struct place_line lines[2];
	size_t n = place_lines(place, lines);
	double beside = words_x(composer, place);
	begin_artifact(composer);
	put_letter(composer, place->letter,
	           (struct point){composer->left, y + (cap(composer, TYPE_BODY) - letter_size(composer)) / 2});
	end_group(composer);
	put_heading(composer, ROLE_H2, place_words(place), large_body(composer, WEIGHT_BOLD), composer->left + beside,
	            y, LIVE_WIDTH - beside);
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
	size_t first = blocks->n;
	large_add_text(blocks, twice->text, TYPE_BODY, WEIGHT_REGULAR);
	for (size_t i = 0; i < 2; i++)
		add_tick_row(blocks, (struct tick_row){.heading = twice->parts[i].name,
		                                       .text = twice->parts[i].side,
		                                       .tag = twice->parts[i].mark});
	large_hold_all(blocks, first);
}

/* ---- a vial for many days ---- */

static double note_height(struct composer *composer, const struct vial_log *log)
{
	return composer_text_height(composer, vial_note(composer, log), large_body(composer, WEIGHT_REGULAR),
	                            LIVE_WIDTH);
}

static void put_vial_note(struct composer *composer, const struct large_block *block, double y)
{
	const struct vial_log *log = block->data;
	put_paragraph(composer, vial_note(composer, log), large_body(composer, WEIGHT_REGULAR), composer->left, y,
	              LIVE_WIDTH);
}

#define SQUARES_ABREAST 5
#define SQUARE_PITCH (LIVE_WIDTH / SQUARES_ABREAST)

static double square_line(const struct composer *composer)
{
	return TICK + GAP_2 + cap(composer, TYPE_BODY);
}

static void put_square(struct composer *composer, const struct vial_square *square, double middle, double y)
{
	composer_note_part(composer, square->dose);
	begin_group(composer, ROLE_LIST_ITEM);
	put_done_or_tick(composer, (struct point){middle - TICK / 2, y}, TICK, square->done);
	put_text(composer, say1(composer->speaker, "days.one", "days", square->day),
	         large_body(composer, WEIGHT_REGULAR), ALIGN_CENTER, middle, y + TICK + GAP_2, 0, COLOUR_INK);
	end_group(composer);
}

static void put_squares(struct composer *composer, const struct large_block *block, double y)
{
	const struct vial_row *row = block->data;
	for (size_t i = 0; i < SQUARES_ABREAST && block->index + i < row->n_squares; i++)
		put_square(composer, &row->squares[block->index + i], composer->left + ((double)i + 0.5) * SQUARE_PITCH,
		           y);
}

static void add_vial(struct large_blocks *blocks, const struct vial_row *row)
{
	size_t first = blocks->n;
	large_add_item(blocks, PICTURE_LIQUID_VIAL, row->name,
	               arena_printf(blocks->composer->arena, "%s \u00b7 %s", row->opened, row->last));
	for (size_t i = 0; i < row->n_squares; i += SQUARES_ABREAST) {
		struct large_block *block = large_add(blocks, square_line(blocks->composer), GAP_4, put_squares, row);
		block->index = i;
		block->around = ROLE_LIST;
	}
	large_hold_all(blocks, first);
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
	size_t first = blocks->n;
	large_add(blocks, note_height(blocks->composer, log), GAP_4, put_vial_note, log)->keep = true;
	for (size_t i = 0; i < log->n_rows; i++)
		add_vial(blocks, &log->rows[i]);
	large_repeat_heading(blocks, first);
}

/* ---- a measured liquid ---- */

#define SUM_CELL (LIVE_WIDTH / 3)
#define SUM_PICTURE 13.0
#define SUM_WORDS 16.0 /* from a picture's left edge */
#define SUM_KNOT 3.6
#define SUM_WIDTH (SUM_CELL - SUM_WORDS - 2 * SUM_KNOT - 2)
#define SUM_TEXT 4.2

struct sum_cell {
	enum pictogram pictogram;
	const char *amount;
	const char *word;
};

/* Liquid and powder make so much. */
static struct sum_cell sum_cell(const struct mix_page *mix, size_t index)
{
	const struct sum_cell cells[] = {{mix->liquid_picture, mix->liquid_amount, mix->liquid_word},
	                                 {PICTURE_POWDER_VIAL, mix->powder_word, mix->powder_note},
	                                 {PICTURE_LIQUID_VIAL, mix->ready_amount, mix->ready_word}};
	return cells[index];
}

static double sum_cell_height(struct composer *composer, struct sum_cell cell)
{
	return composer_text_height(composer, cell.amount, large_body(composer, WEIGHT_BOLD), SUM_WIDTH) + SUM_TEXT +
	       composer_text_height(composer, cell.word, large_body(composer, WEIGHT_REGULAR), SUM_WIDTH);
}

static double sum_height(struct composer *composer, const struct mix_page *mix)
{
	double height = SUM_PICTURE;
	for (size_t i = 0; i < 3; i++)
		height = fmax(height, sum_cell_height(composer, sum_cell(mix, i)));
	return height;
}

static void put_sum(struct composer *composer, const struct large_block *block, double y)
{
	const struct mix_page *mix = block->data;
	double middle = y + block->height / 2;
	for (size_t i = 0; i < 3; i++) {
		struct sum_cell cell = sum_cell(mix, i);
		double x = composer->left + (double)i * SUM_CELL;
		begin_group(composer, ROLE_PARAGRAPH);
		begin_artifact(composer);
		put_picture(composer, cell.pictogram, x, middle - SUM_PICTURE / 2, SUM_PICTURE);
		if (i > 0)
			put_mark(composer,
			         (struct placed_mark){
					 .kind = MARK_KNOT,
					 .area = {x - 2 * SUM_KNOT - 1, middle - SUM_KNOT, 2 * SUM_KNOT, 2 * SUM_KNOT},
					 .knot = {{x - SUM_KNOT - 1, middle}, SUM_KNOT, i == 1 ? '+' : '=', 0, 0}});
		end_group(composer);
		struct rect amount = put_plain(composer, cell.amount, large_body(composer, WEIGHT_BOLD), x + SUM_WORDS,
		                               middle - sum_cell_height(composer, cell) / 2, SUM_WIDTH);
		put_plain(composer, cell.word, large_body(composer, WEIGHT_REGULAR), x + SUM_WORDS,
		          amount.y + amount.height + SUM_TEXT, SUM_WIDTH);
		end_group(composer);
	}
}

static bool sum_fits(struct composer *composer, const struct mix_page *mix)
{
	for (size_t i = 0; i < 3; i++) {
		struct sum_cell cell = sum_cell(mix, i);
		if (composer_widest_word(composer, cell.amount, large_body(composer, WEIGHT_BOLD)) > SUM_WIDTH ||
		    composer_widest_word(composer, cell.word, large_body(composer, WEIGHT_REGULAR)) > SUM_WIDTH)
			return false;
	}
	return true;
}

/* Side by side, or below one another where a word is too long for that; then the box that asks for it. */
static void add_sum(struct large_blocks *blocks, const struct mix_page *mix)
{
	size_t first = blocks->n;
	bool beside = sum_fits(blocks->composer, mix);
	if (beside)
		large_add(blocks, sum_height(blocks->composer, mix), GAP_4, put_sum, mix);
	for (size_t i = 0; !beside && i < 3; i++)
		large_add_item(blocks, sum_cell(mix, i).pictogram, sum_cell(mix, i).amount, sum_cell(mix, i).word);
	add_tick_row(blocks, (struct tick_row){.heading = mix->ready_check, .days = mix->ready_days});
	large_hold_all(blocks, first);
}

/* How many steps come before the sum: those up to the look at what is mixed, before the second syringe goes in. */
static size_t steps_to_look(const struct mix_page *mix)
{
	for (size_t i = mix->n_steps; i-- > 0;)
		if (step_picture_judges(mix->steps[i].picture))
			return i + 1;
	return mix->n_steps;
}

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
	size_t looked = steps_to_look(mix);
	large_add_steps(&blocks, mix->steps, looked, &sheet->add);
	blocks.list[blocks.n - 1].keep = true; /* with the sum below it */
	add_sum(&blocks, mix);
	large_add_steps(&blocks, mix->steps + looked, mix->n_steps - looked, &sheet->add);
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

/* ---- several powders: a block a vial ---- */

#define CHAIN_PICTURE 13.0
#define CHAIN_WORDS (TICK + TICK_WORDS) /* as of the actions below */
#define CHAIN_ACTIONS 3

struct chain_block {
	const struct powder_chain *chain;
	const struct chain_vial *vial;
	const char *now; /* "75 units: now in the liquid" */
	struct tick_row actions[CHAIN_ACTIONS];
};

static struct chain_block chain_block(struct composer *composer, const struct powder_chain *chain, size_t index)
{
	const struct chain_vial *vial = &chain->vials[index];
	bool last = vial->then == NULL;
	const char *texts[CHAIN_ACTIONS] = {vial->into, chain->gone, last ? chain->last : vial->then};
	struct chain_block block = {.chain = chain,
	                            .vial = vial,
	                            .now = arena_printf(composer->arena, "%s: %s", vial->total, chain->now_word)};
	for (size_t i = 0; i < CHAIN_ACTIONS; i++)
		block.actions[i] = (struct tick_row){
			.heading = chain->tick_heads[i], .text = texts[i], .days = chain->days, .beside = true};
	if (last)
		block.actions[CHAIN_ACTIONS - 1].tag = chain->last_mark;
	return block;
}

static double chain_head_height(struct composer *composer, const struct chain_block *block)
{
	double width = LIVE_WIDTH - CHAIN_WORDS;
	return fmax(CHAIN_PICTURE,
	            composer_text_height(composer, block->vial->name, large_body(composer, WEIGHT_BOLD), width) +
	                    TICK_BETWEEN +
	                    composer_text_height(composer, block->now, large_body(composer, WEIGHT_REGULAR), width));
}

static double chain_block_height(struct composer *composer, const struct chain_block *block)
{
	double height = chain_head_height(composer, block);
	for (size_t i = 0; i < CHAIN_ACTIONS; i++)
		height += GAP_4 + tick_row_height(composer, &block->actions[i]);
	return height;
}

static void put_chain_block(struct composer *composer, const struct large_block *large, double y)
{
	const struct chain_block *block = large->data;
	double x = composer->left + CHAIN_WORDS;
	double width = LIVE_WIDTH - CHAIN_WORDS;
	composer_note_part(composer, block->chain);
	begin_artifact(composer);
	put_picture(composer, PICTURE_POWDER_VIAL, composer->left, y, CHAIN_PICTURE);
	end_group(composer);
	struct rect name =
		put_heading(composer, ROLE_H3, block->vial->name, large_body(composer, WEIGHT_BOLD), x, y, width);
	put_paragraph(composer, block->now, large_body(composer, WEIGHT_REGULAR), x,
	              name.y + name.height + TICK_BETWEEN, width);
	y += chain_head_height(composer, block);
	begin_group(composer, ROLE_LIST);
	for (size_t i = 0; i < CHAIN_ACTIONS; i++) {
		put_tick_words(composer, &block->actions[i], y + GAP_4);
		y += GAP_4 + tick_row_height(composer, &block->actions[i]);
	}
	end_group(composer);
}

static void add_chain_vials(struct large_blocks *blocks, const struct powder_chain *chain)
{
	struct composer *composer = blocks->composer;
	for (size_t i = 0; i < chain->n_vials; i++) {
		struct chain_block *block = arena_alloc(composer->arena, sizeof *block);
		*block = chain_block(composer, chain, i);
		large_add(blocks, chain_block_height(composer, block), GAP_5, put_chain_block, block)->rule =
			LARGE_RULE_FINE;
	}
}

void large_chain(struct composer *composer, const struct medicine_sheet *sheet)
{
	const struct powder_chain *chain = sheet->chain;
	struct large_blocks blocks = large_blocks_of(composer);
	large_add_heading(&blocks, chain->heading);
	large_add_item(&blocks, PICTURE_FILLED_SYRINGE, chain->liquid_word, chain->liquid_amount);
	large_add_text(&blocks, chain->ticks_note, TYPE_BODY, WEIGHT_REGULAR);
	add_chain_vials(&blocks, chain);
	large_add_text(&blocks, chain->foot, TYPE_BODY, WEIGHT_REGULAR);
	if (chain_is_back(sheet)) {
		large_add_place(&blocks, sheet);
		large_add_steps(&blocks, sheet->back, sheet->n_back, NULL);
		large_add_notes(&blocks, sheet);
	}
	large_place(&blocks, chain->title, chain->lead);
}
