/*
 * medicine_muscle.c - the page of the one who injects into the muscle: where, with what, to which line, how, and a log.
 *
 *     [ back view ]   the side of the hip
 *     [  o  |  o  ]   two needles, true size
 *     [ tag ]  read the line aloud
 *     --<_|||||#__|===|
 *     1 2 3 4 5 6
 *     log | log
 */
#include "page/large_muscle.h"
#include "page/medicine.h"
#include "page/parts.h"
#include "page/styles.h"
#include "page/syringe_geometry.h"

#include <math.h>

static struct text_style body(const struct composer *composer, enum text_weight weight)
{
	return medicine_style(composer, TYPE_BODY, weight);
}

/* ---- the map, and the needles beside it ---- */

#define MAP_WIDTH 82.0
#define MAP_HEIGHT 66.0 /* of the drawing; the caption stands below it in the frame */
#define MAP_WORD_Y 10.0
#define MAP_WORD_X 11.0 /* from the middle */
#define MAP_PAD 3.0
#define MAP_BESIDE 90.0
#define HEADING_TEXT 4.2
#define NEEDLE_ROOM 8.0    /* height of each */
#define NEEDLE_ACCENTS 1.2 /* to words below it, whose accents rise over their capitals */
#define NEEDLE_WORDS 3.0

static double beside_width(void)
{
	return LIVE_WIDTH - MAP_BESIDE;
}

static double map_frame_height(struct composer *composer, const struct muscle_page *page)
{
	return MAP_HEIGHT +
	       composer_text_height(composer, page->map_caption, body(composer, WEIGHT_REGULAR),
	                            MAP_WIDTH - 2 * MAP_PAD) +
	       MAP_PAD;
}

static double needle_length(const struct needle *needle)
{
	struct quantity length;
	return needle->given && quantity_in(needle->length.quantity, UNIT_MM, &length) ? measure_of(length.number) : 0;
}

/* A needle's words stand beside it where they fit, else below. */
static bool words_beside(struct composer *composer, const char *words, double length)
{
	double room = beside_width() - length - NEEDLE_HUB - NEEDLE_WORDS;
	return composer_text_width(composer, words, body(composer, WEIGHT_REGULAR)) <= room;
}

static double needle_height(struct composer *composer, const char *words, double length)
{
	if (words == NULL)
		return 0;
	if (words_beside(composer, words, length))
		return NEEDLE_ROOM;
	return NEEDLE_ROOM + NEEDLE_ACCENTS +
	       composer_text_height(composer, words, body(composer, WEIGHT_REGULAR), beside_width()) + GAP_1;
}

static double needles_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	const struct muscle_page *page = sheet->muscle;
	const struct product *product = sheet->draw->product;
	if (page->needles_heading == NULL)
		return 0;
	return GAP_3 +
	       composer_text_height(composer, page->needles_heading, composer_style(composer, TYPE_LEAD, WEIGHT_BOLD),
	                            beside_width()) +
	       GAP_2 + needle_height(composer, page->thick_text, needle_length(&product->mixing_needle)) +
	       needle_height(composer, page->thin_text, needle_length(&product->giving_needle)) + GAP_1 +
	       composer_text_height(composer, page->depth, body(composer, WEIGHT_REGULAR), beside_width());
}

static double place_words_height(struct composer *composer, const struct muscle_page *page)
{
	return composer_text_height(composer, page->place_heading, bold(composer, TYPE_SECTION), beside_width()) +
	       HEADING_TEXT +
	       composer_text_height(composer, page->place_text, body(composer, WEIGHT_REGULAR), beside_width());
}

static double map_height(struct composer *composer, const void *what)
{
	const struct medicine_sheet *sheet = what;
	double beside = place_words_height(composer, sheet->muscle) + GAP_3 + needles_height(composer, sheet);
	return fmax(map_frame_height(composer, sheet->muscle), beside);
}

static void put_map(struct composer *composer, const struct muscle_page *page, double y)
{
	struct rect area = {composer->left, y, MAP_WIDTH, MAP_HEIGHT};
	double half = LINE_MAIN / 2;
	struct text_style lead = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	double middle = composer->left + MAP_WIDTH / 2;
	composer_note_part(composer, page);
	begin_artifact(composer);
	put_frame(composer,
	          (struct rect){area.x + half, y + half, MAP_WIDTH - 2 * half,
	                        map_frame_height(composer, page) - 2 * half},
	          LINE_MAIN);
	end_group(composer);
	begin_figure(composer, page->map_alt);
	begin_inside(composer);
	put_mark(composer, (struct placed_mark){.kind = MARK_BACK,
	                                        .area = area,
	                                        .back = {area, page->quarter ? BACK_UPPER_QUARTER : BACK_HIP_SIDE}});
	put_text(composer, page->left_word, lead, ALIGN_CENTER, middle - MAP_WORD_X, y + MAP_WORD_Y, 0, COLOUR_INK);
	put_text(composer, page->right_word, lead, ALIGN_CENTER, middle + MAP_WORD_X, y + MAP_WORD_Y, 0, COLOUR_INK);
	end_inside(composer);
	end_group(composer);
	put_paragraph(composer, page->map_caption, body(composer, WEIGHT_REGULAR), composer->left + MAP_PAD,
	              y + MAP_HEIGHT, MAP_WIDTH - 2 * MAP_PAD);
}

static double put_needle(struct composer *composer, const char *words, double length, bool thick, double x, double y)
{
	double middle = y + NEEDLE_ROOM / 2;
	struct text_style style = body(composer, WEIGHT_REGULAR);
	if (words == NULL)
		return y;
	begin_figure(composer, words);
	put_mark(composer,
	         (struct placed_mark){.kind = MARK_NEEDLE,
	                              .area = {x, middle - NEEDLE_SKIRT / 2, length + NEEDLE_HUB, NEEDLE_SKIRT},
	                              .needle = {{x, middle}, length, thick}});
	end_group(composer);
	if (words_beside(composer, words, length))
		put_paragraph(composer, words, style, x + length + NEEDLE_HUB + NEEDLE_WORDS,
		              middle - text_cap_height(style) / 2, 0);
	else
		put_paragraph(composer, words, style, x, y + NEEDLE_ROOM + NEEDLE_ACCENTS, beside_width());
	return y + needle_height(composer, words, length);
}

static void put_needles(struct composer *composer, const struct medicine_sheet *sheet, double x, double y)
{
	const struct muscle_page *page = sheet->muscle;
	const struct product *product = sheet->draw->product;
	if (page->needles_heading == NULL)
		return;
	begin_artifact(composer);
	put_line(composer, x, composer->right, y, LINE_OUTLINE);
	end_group(composer);
	struct rect heading =
		put_heading(composer, ROLE_H3, page->needles_heading, composer_style(composer, TYPE_LEAD, WEIGHT_BOLD),
	                    x, y + GAP_3, beside_width());
	y = heading.y + heading.height + GAP_2;
	y = put_needle(composer, page->thick_text, needle_length(&product->mixing_needle), true, x, y);
	y = put_needle(composer, page->thin_text, needle_length(&product->giving_needle), false, x, y);
	put_paragraph(composer, page->depth, body(composer, WEIGHT_REGULAR), x, y + GAP_1, beside_width());
}

static void put_map_block(struct composer *composer, const void *what, double y)
{
	const struct medicine_sheet *sheet = what;
	const struct muscle_page *page = sheet->muscle;
	double x = composer->left + MAP_BESIDE;
	put_map(composer, page, y);
	struct rect heading =
		put_heading(composer, ROLE_H2, page->place_heading, bold(composer, TYPE_SECTION), x, y, beside_width());
	put_paragraph(composer, page->place_text, body(composer, WEIGHT_REGULAR), x,
	              heading.y + heading.height + HEADING_TEXT, beside_width());
	put_needles(composer, sheet, x, y + place_words_height(composer, page) + GAP_3);
}

/* ---- the line, to be read aloud ---- */

#define LINE_TAG 24.0
#define LINE_BESIDE 4.5
#define LINE_WORDS 2.4       /* heading to text */
#define LINE_OVER_FLANGE 2.2 /* last baseline to the flange: room for descenders */

static struct line_look line_look_of(const struct medicine_sheet *sheet)
{
	const struct mark *mark = &sheet->draw->mark;
	struct line_look look = {.syringe = mark->syringe,
	                         .at = mark->at,
	                         .line = true,
	                         .ring = measure_of(mark->at),
	                         .mark = sheet->mark,
	                         .tag_size = LINE_TAG};
	line_look_needle(&look, sheet->draw->product, false);
	return look;
}

static double line_words_x(struct composer *composer, const struct line_look *look)
{
	struct syringe_figure figure = line_figure(composer, look, 0);
	struct rect tag = line_tag_area(composer, look, &figure);
	return tag.x + tag.width + LINE_BESIDE;
}

static double line_words_height(struct composer *composer, const struct muscle_page *page, double width)
{
	return composer_text_height(composer, page->line_heading, composer_style(composer, TYPE_LEAD, WEIGHT_BOLD),
	                            width) +
	       LINE_WORDS + composer_text_height(composer, page->line_text, body(composer, WEIGHT_REGULAR), width);
}

/* The words stand over the barrel and end above its flange: a tag too low for them goes down. */
static double line_lowered(struct composer *composer, const struct muscle_page *page, const struct line_look *look)
{
	double words = line_words_height(composer, page, composer->right - line_words_x(composer, look));
	double flange = syringe_geometry_of(look->syringe).flange_height / 2;
	return fmax(words + LINE_OVER_FLANGE + flange - line_rise(composer, look), 0);
}

static double line_height(struct composer *composer, const void *what)
{
	const struct medicine_sheet *sheet = what;
	if (sheet->muscle->line_heading == NULL)
		return 0;
	struct line_look look = line_look_of(sheet);
	return line_lowered(composer, sheet->muscle, &look) + line_rise(composer, &look) + line_drop(&look);
}

static void put_line_block(struct composer *composer, const void *what, double y)
{
	const struct medicine_sheet *sheet = what;
	const struct muscle_page *page = sheet->muscle;
	struct line_look look = line_look_of(sheet);
	struct syringe_figure figure = line_figure(composer, &look, y + line_lowered(composer, page, &look));
	double x = line_words_x(composer, &look);
	double width = composer->right - x;
	struct rect heading = put_heading(composer, ROLE_H2, page->line_heading,
	                                  composer_style(composer, TYPE_LEAD, WEIGHT_BOLD), x, y, width);
	put_paragraph(composer, page->line_text, body(composer, WEIGHT_REGULAR), x,
	              heading.y + heading.height + LINE_WORDS, width);
	begin_figure(composer, sheet->alt);
	put_line_figure(composer, &look, &figure);
	end_group(composer);
}

/* ---- the log ---- */

#define LOG_BETWEEN 6.0
#define LOG_WIDTH ((LIVE_WIDTH - LOG_BETWEEN) / 2)
#define LOG_ROW 8.8
#define LOG_TICK 6.2
#define LOG_DAY 8.0 /* the day's number ends here */
#define LOG_DATE 10.0
#define LOG_SIDE 36.0
#define LOG_SIGN 6.2
#define LOG_WORD 43.6
#define LOG_TIME 56.0
#define LOG_TIME_WIDTH 10.0
#define LOG_WHO 68.0
#define LOG_WHO_WIDTH 9.0
#define LOG_CAPTIONS 1.6

struct log_part {
	const struct muscle_page *page;
	size_t first;
	size_t n;
	bool heading;
};

/* The note stands at the heading's line's end where both fit, else below. */
static bool note_below(struct composer *composer, const struct muscle_page *page)
{
	return composer_text_width(composer, page->log_heading, bold(composer, TYPE_SECTION)) + GAP_3 +
	               composer_text_width(composer, page->log_note, body(composer, WEIGHT_REGULAR)) >
	       LIVE_WIDTH;
}

static double log_head_height(struct composer *composer, const struct log_part *part)
{
	double captions = text_cap_height(composer_style(composer, TYPE_CAPTION, WEIGHT_REGULAR)) + LOG_CAPTIONS;
	double heading =
		composer_text_height(composer, part->page->log_heading, bold(composer, TYPE_SECTION), LIVE_WIDTH);
	if (note_below(composer, part->page))
		heading += GAP_2 + composer_text_height(composer, part->page->log_note, body(composer, WEIGHT_REGULAR),
		                                        LIVE_WIDTH);
	return part->heading ? heading + GAP_3 + captions : captions;
}

static double log_height(struct composer *composer, const void *what)
{
	const struct log_part *part = what;
	size_t rows = (part->n + 1) / 2;
	return log_head_height(composer, part) + (double)rows * LOG_ROW;
}

static void put_log_row(struct composer *composer, const struct muscle_row *row, double x, double y)
{
	struct text_style day = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	struct text_style date = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	struct text_style side = body(composer, WEIGHT_BOLD);
	double middle = y + LOG_ROW / 2;
	double write = middle + 2.4;
	begin_group(composer, ROLE_LIST_ITEM);
	put_text(composer, row->day, day, ALIGN_END, x + LOG_DAY, middle - text_cap_height(day) / 2, 0, COLOUR_INK);
	put_plain(composer, row->date, date, x + LOG_DATE, middle - text_cap_height(date) / 2, 0);
	begin_artifact(composer);
	if (row->side != SIDE_NONE)
		put_mark(composer, (struct placed_mark){
					   .kind = MARK_SIDE,
					   .area = {x + LOG_SIDE, middle - LOG_SIGN / 2, LOG_SIGN, LOG_SIGN},
					   .side = {{x + LOG_SIDE, middle - LOG_SIGN / 2}, LOG_SIGN, row->side, true}});
	put_line(composer, x + LOG_TIME, x + LOG_TIME + LOG_TIME_WIDTH, write, LINE_FINE);
	put_line(composer, x + LOG_WHO, x + LOG_WHO + LOG_WHO_WIDTH, write, LINE_FINE);
	put_tick(composer, (struct point){x + LOG_WIDTH - LOG_TICK, middle - LOG_TICK / 2}, LOG_TICK);
	put_line(composer, x, x + LOG_WIDTH, y + LOG_ROW, LINE_HAIR);
	end_group(composer);
	put_plain(composer, row->side_word, side, x + LOG_WORD, middle - text_cap_height(side) / 2, 0);
	end_group(composer);
}

static void put_captions(struct composer *composer, const struct muscle_page *page, double x, double y)
{
	struct text_style style = composer_style(composer, TYPE_CAPTION, WEIGHT_REGULAR);
	put_text(composer, page->time_word, style, ALIGN_CENTER, x + LOG_TIME + LOG_TIME_WIDTH / 2, y, 0, COLOUR_INK);
	put_text(composer, page->who_word, style, ALIGN_CENTER, x + LOG_WHO + LOG_WHO_WIDTH / 2, y, 0, COLOUR_INK);
	put_text(composer, page->done_word, style, ALIGN_END, x + LOG_WIDTH, y, 0, COLOUR_INK);
}

/* Down the left column, then down the right one. */
static void put_log(struct composer *composer, const void *what, double y)
{
	const struct log_part *part = what;
	const struct muscle_page *page = part->page;
	size_t rows = (part->n + 1) / 2;
	double head = log_head_height(composer, part);
	double captions = text_cap_height(composer_style(composer, TYPE_CAPTION, WEIGHT_REGULAR)) + LOG_CAPTIONS;
	if (part->heading) {
		struct text_style note = body(composer, WEIGHT_REGULAR);
		put_heading(composer, ROLE_H2, page->log_heading, bold(composer, TYPE_SECTION), composer->left, y,
		            LIVE_WIDTH);
		begin_group(composer, ROLE_PARAGRAPH);
		if (note_below(composer, page))
			put_plain(composer, page->log_note, note, composer->left,
			          y +
			                  composer_text_height(composer, page->log_heading,
			                                       bold(composer, TYPE_SECTION), LIVE_WIDTH) +
			                  GAP_2,
			          LIVE_WIDTH);
		else
			put_text(composer, page->log_note, note, ALIGN_END, composer->right,
			         y + text_cap_height(bold(composer, TYPE_SECTION)) - text_cap_height(note), 0,
			         COLOUR_INK);
		end_group(composer);
	}
	for (size_t column = 0; column < 2 && column * rows < part->n; column++) {
		double x = composer->left + (double)column * (LOG_WIDTH + LOG_BETWEEN);
		begin_group(composer, ROLE_PARAGRAPH);
		put_captions(composer, page, x, y + head - captions);
		end_group(composer);
		begin_artifact(composer);
		put_line(composer, x, x + LOG_WIDTH, y + head, LINE_MAIN);
		end_group(composer);
		begin_group(composer, ROLE_LIST);
		for (size_t i = column * rows; i < (column + 1) * rows && i < part->n; i++)
			put_log_row(composer, &page->rows[part->first + i], x,
			            y + head + (double)(i - column * rows) * LOG_ROW);
		end_group(composer);
	}
}

/* ---- the page ---- */

#define LOG_PART 12 /* rows that stay together */

static double vials_of(struct composer *composer, const void *what)
{
	return vials_height(composer, what);
}

static void put_vials_of(struct composer *composer, const void *what, double y)
{
	put_vials(composer, what, y);
}

void medicine_muscle(struct composer *composer, const struct medicine_sheet *sheet, bool rest)
{
	if (composer->large_print) {
		large_muscle(composer, sheet, rest);
		return;
	}
	const struct muscle_page *page = sheet->muscle;
	struct page_parts *parts = arena_alloc(composer->arena, sizeof *parts);
	size_t n_logs = (page->n_rows + LOG_PART - 1) / LOG_PART;
	struct log_part *logs = arena_alloc(composer->arena, (n_logs + 1) * sizeof *logs);
	*parts = (struct page_parts){.title = page->title, .lead = page->lead};
	parts_add(parts, map_height, put_map_block, sheet);
	parts_add(parts, line_height, put_line_block, sheet);
	parts_add_steps(parts, NULL, page->steps, page->n_steps, NULL);
	parts->steps.wide = true;
	for (size_t i = 0; i < n_logs && parts->n + 2 < PARTS_MOST; i++) {
		size_t left = page->n_rows - i * LOG_PART;
		logs[i] = (struct log_part){page, i * LOG_PART, left < LOG_PART ? left : LOG_PART, i == 0};
		parts_add(parts, log_height, put_log, &logs[i]);
	}
	if (rest) {
		parts_add(parts, vials_of, put_vials_of, sheet);
		parts_add_notes(parts, sheet);
	}
	put_parts(composer, parts);
}
