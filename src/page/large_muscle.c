/*
 * large_muscle.c - the pages of the one who injects into the muscle, in large print: where, with what, how, and a log.
 *
 *     Where                    a heading, and words
 *     [ back view ] caption    the place in the upper quarter or at the side of the hip
 *     ====--|  thick: draw     needles in true size
 *     ==--|    thin: give
 *     1 [ ] ...                the steps
 *     [] day 4, left  time ____ who ______
 */
#include "page/large_muscle.h"

#include "page/large_sheet.h"
#include "page/large_step.h"
#include "page/styles.h"
#include "page/syringe_geometry.h"

#include <math.h>

/* ---- where, and with what ---- */

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
	put_paragraph(composer, page->map_caption, large_body(composer, WEIGHT_REGULAR), x, y, composer->right - x);
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
	double height =
		composer_text_height(composer, needle->text, large_body(composer, WEIGHT_REGULAR), composer->right - x);
	put_paragraph(composer, needle->text, large_body(composer, WEIGHT_REGULAR), x, middle - height / 2,
	              composer->right - x);
}

static void add_needle(struct large_blocks *blocks, const char *text, const struct needle *needle, bool thick)
{
	struct needle_block *block = arena_alloc(blocks->composer->arena, sizeof *block);
	struct quantity length;
	if (text == NULL || !needle->given || !quantity_in(needle->length.quantity, UNIT_MM, &length))
		return;
	*block = (struct needle_block){text, measure_of(length.number), thick};
	double room = LIVE_WIDTH - block->length - NEEDLE_HUB - GAP_4;
	double height =
		composer_text_height(blocks->composer, text, large_body(blocks->composer, WEIGHT_REGULAR), room);
	large_add(blocks, fmax(height, NEEDLE_SKIRT), GAP_4, put_needle, block);
}

static void add_needles(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	const struct muscle_page *page = sheet->muscle;
	if (page->needles_heading == NULL)
		return;
	large_add_heading(blocks, page->needles_heading);
	size_t first = blocks->n;
	add_needle(blocks, page->thick_text, &sheet->draw->product->mixing_needle, true);
	add_needle(blocks, page->thin_text, &sheet->draw->product->giving_needle, false);
	large_hold_all(blocks, first);
	large_add_text(blocks, page->depth, TYPE_BODY, WEIGHT_REGULAR);
}

/* ---- who did it when ---- */

#define LOG_TICK 10.4
#define LOG_DROP 10.0              /* from the day to the line to write on, where it is below */
#define LOG_WORDS (LOG_TICK + 4.5) /* to the day */
#define LOG_WHEN 24.0              /* to write on, at least */
#define LOG_WHO 32.0
#define LOG_SHARE 0.4 /* of what is spare goes to the time */
#define LOG_GAP 7.4   /* between days, of which each has its line below: more than within one */

struct log_row {
	const struct muscle_page *page;
	const char *day;
	double x; /* where its line to write begins */
	bool below;
};

static double log_row_height(const struct composer *composer, const struct log_row *row)
{
	return row->below ? LOG_DROP + cap(composer, TYPE_BODY) : LOG_TICK;
}

static double word_width(struct composer *composer, const char *word)
{
	return composer_text_width(composer, word, large_body(composer, WEIGHT_REGULAR)) + GAP_2;
}

/* A word, and from it a line of that width; returns where it ends. */
static double put_to_write(struct composer *composer, const char *word, double x, double y, double width)
{
	struct rect text = put_plain(composer, word, large_body(composer, WEIGHT_REGULAR), x, y, 0);
	double from = text.x + text.width + GAP_2;
	begin_artifact(composer);
	put_line(composer, from, from + width, y + cap(composer, TYPE_BODY), LINE_MAIN);
	end_group(composer);
	return from + width;
}

static double log_spare(struct composer *composer, const struct muscle_page *page, double x)
{
	return LIVE_WIDTH - x - word_width(composer, page->time_word) - LOG_WHEN - GAP_3 -
	       word_width(composer, page->who_word) - LOG_WHO;
}

static void put_log_row(struct composer *composer, const struct large_block *block, double y)
{
	const struct log_row *row = block->data;
	double middle = y + (LOG_TICK - cap(composer, TYPE_BODY)) / 2;
	double line = row->below ? y + LOG_DROP : middle;
	double spare = log_spare(composer, row->page, row->x);
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_tick(composer, (struct point){composer->left, y}, LOG_TICK);
	end_group(composer);
	put_plain(composer, row->day, large_body(composer, WEIGHT_BOLD), composer->left + LOG_WORDS,
	          row->below ? y : middle, 0);
	double end = put_to_write(composer, row->page->time_word, composer->left + row->x, line,
	                          LOG_WHEN + LOG_SHARE * spare);
	put_to_write(composer, row->page->who_word, end + GAP_3, line, LOG_WHO + (1 - LOG_SHARE) * spare);
	end_group(composer);
}

static const char *log_day(struct arena *arena, const struct muscle_row *row)
{
	const char *day = row->date == NULL ? row->day : arena_printf(arena, "%s · %s", row->day, row->date);
	bool side = row->side_word != NULL && row->side_word[0] != '\0';
	return side ? arena_printf(arena, "%s · %s", day, row->side_word) : day;
}

/* Behind the longest day, where both lines have room there. */
static double log_line_x(struct composer *composer, const struct muscle_page *page)
{
	double widest = 0;
	for (size_t i = 0; i < page->n_rows; i++)
		widest = fmax(widest, composer_text_width(composer, log_day(composer->arena, &page->rows[i]),
		                                          large_body(composer, WEIGHT_BOLD)));
	double x = LOG_WORDS + widest + GAP_3;
	return log_spare(composer, page, x) < 0 ? LOG_WORDS : x;
}

static void add_log(struct large_blocks *blocks, const struct muscle_page *page)
{
	struct composer *composer = blocks->composer;
	double x = log_line_x(composer, page);
	bool below = x <= LOG_WORDS;
	large_add_heading(blocks, page->log_heading);
	size_t first = blocks->n;
	large_add_text(blocks, page->log_note, TYPE_BODY, WEIGHT_REGULAR);
	for (size_t i = 0; i < page->n_rows; i++) {
		struct log_row *row = arena_alloc(composer->arena, sizeof *row);
		*row = (struct log_row){page, log_day(composer->arena, &page->rows[i]), x, below};
		struct large_block *block =
			large_add(blocks, log_row_height(composer, row), below ? LOG_GAP : GAP_4, put_log_row, row);
		block->around = ROLE_LIST;
		block->rigid = below;
		block->keep = i == 0 && page->n_rows > 1;
	}
	large_hold_list(blocks, first);
}

/* ---- the pages ---- */

void large_muscle(struct composer *composer, const struct medicine_sheet *sheet, bool rest)
{
	const struct muscle_page *page = sheet->muscle;
	struct large_blocks blocks = large_blocks_of(composer);
	large_add_heading(&blocks, page->place_heading);
	large_add_text(&blocks, page->place_text, TYPE_BODY, WEIGHT_REGULAR);
	double caption = composer_text_height(composer, page->map_caption, large_body(composer, WEIGHT_REGULAR),
	                                      LIVE_WIDTH - MAP_WIDTH - MAP_WORDS);
	large_add(&blocks, fmax(MAP_HEIGHT, caption), GAP_5, put_map, page);
	add_needles(&blocks, sheet);
	if (page->line_heading != NULL) {
		large_add_heading(&blocks, page->line_heading);
		large_add_text(&blocks, page->line_text, TYPE_BODY, WEIGHT_REGULAR);
	}
	large_add_steps_to(&blocks, page->steps, page->n_steps, large_one_line(sheet));
	add_log(&blocks, page);
	if (rest) {
		large_add_vials(&blocks, sheet);
		large_add_notes(&blocks, sheet);
	}
	large_place(&blocks, page->title, page->lead);
}
