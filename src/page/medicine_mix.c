/*
 * medicine_mix.c - line A of a measured liquid: draw it to the white tag, add it to the powder.
 *
 *     A  Mix: draw the liquid, add it to the powder
 *           [ add 1.4 mL ]                         _________
 *                  \/                             |    V    |
 *     --<_|||||||||#__|===|                       | |||#|   |
 *              |__|_______________________________|_1.5_____|
 *     steps
 *     [ 1.4 mL  +  powder  =  1.5 mL ]
 */
#include "page/large_sheet.h"
#include "page/parts.h"
#include "page/styles.h"
#include "page/syringe_geometry.h"

#include <math.h>

static struct text_style body(const struct composer *composer, enum text_weight weight)
{
	return medicine_style(composer, TYPE_BODY, weight);
}

/* ---- only on some days ---- */

static double only_height(struct composer *composer, const void *what)
{
	const struct medicine_sheet *sheet = what;
	return framed_height(composer, sheet->mix->only_when, WEIGHT_BOLD);
}

static void put_only(struct composer *composer, const void *what, double y)
{
	const struct medicine_sheet *sheet = what;
	put_framed(composer, sheet->mix->only_when, WEIGHT_BOLD, y);
}

/* ---- the line ---- */

#define LETTER_SIZE 28.0
#define LETTER_ROOM 11.0
#define HEAD_LINES 3.6
#define HEAD_AFTER 5.0
#define HEAD_CLEAR 1.5   /* descenders keep clear of the magnifier */
#define SIDE_WINDOW 46.0 /* the magnifier's width, at the syringe's right */
#define SIDE_BETWEEN 4.0
#define SIDE_BARREL 25.0 /* the most that the barrel is high in it */
#define BRACKET_DROP 2.6

struct line_place {
	struct line_look look;
	double head; /* letter and headings */
	bool beside; /* the magnifier stands at the syringe's right; else below */
	double zoom;
	double window;   /* its height */
	double figure_y; /* the tag's top, from the block's */
	double frame_y;  /* from the block's top */
	double figure_end;
	double words;
};

static double head_height(struct composer *composer, const struct mix_page *mix)
{
	double width = LIVE_WIDTH - LETTER_ROOM;
	return composer_text_height(composer, mix->heading, bold(composer, TYPE_SECTION), width) + HEAD_LINES +
	       composer_text_height(composer, mix->with, body(composer, WEIGHT_REGULAR), width);
}

static double words_height(struct composer *composer, const struct mix_page *mix)
{
	return composer_text_height(composer, mix->place, body(composer, WEIGHT_REGULAR), LIVE_WIDTH) + GAP_2 +
	       composer_text_height(composer, mix->true_size, composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR),
	                            LIVE_WIDTH);
}

static struct line_place line_place_of(struct composer *composer, const struct medicine_sheet *sheet)
{
	struct line_place place = {.look = medicine_add_line(sheet), .head = head_height(composer, sheet->mix)};
	struct line_look beside = place.look;
	double outer = syringe_geometry_of(place.look.syringe).outer;
	beside.outdent = SIDE_WINDOW + SIDE_BETWEEN;
	place.beside = line_figure_fits(composer, &beside);
	if (place.beside)
		place.look = beside;
	place.zoom = window_zoom(place.look.syringe);
	if (place.beside)
		place.zoom = floor(fmin(place.zoom, SIDE_BARREL / outer) * 10) / 10;
	place.window = window_height(place.look.syringe, place.zoom);
	double syringe = line_rise(composer, &place.look) + line_drop(&place.look);
	/* The bracket's bar meets the frame's edge in its lower part. */
	place.figure_y = place.head + HEAD_AFTER;
	if (place.beside)
		place.figure_y = fmax(place.figure_y, place.window - syringe - BRACKET_DROP - 6 + GAP_2);
	place.figure_end = place.figure_y + syringe + BRACKET_DROP + GAP_2;
	place.frame_y = place.beside ? fmax(place.figure_end + GAP_2 - place.window, place.head + HEAD_CLEAR)
	                             : place.figure_y + syringe + BRACKET_DROP + WINDOW_FAN;
	place.figure_end = fmax(place.figure_end, place.frame_y + place.window);
	place.words = words_height(composer, sheet->mix);
	return place;
}

static double line_height(struct composer *composer, const void *what)
{
	struct line_place place = line_place_of(composer, what);
	return place.figure_end + GAP_3 + place.words;
}

/* The magnifier keeps its side on every page: words that stand level with it end at `right`. */
static void put_head(struct composer *composer, const struct mix_page *mix, double y, double right)
{
	struct text_style letter = {.size = LETTER_SIZE, .weight = WEIGHT_BOLD};
	double x = composer->left + LETTER_ROOM;
	begin_group(composer, ROLE_H2);
	put_plain(composer, mix->letter, letter, composer->left, y, 0);
	struct rect heading =
		put_plain(composer, mix->heading, bold(composer, TYPE_SECTION), x, y, LIVE_WIDTH - LETTER_ROOM);
	end_group(composer);
	struct turning turning = begin_span(composer, composer->left, right);
	put_paragraph(composer, mix->with, body(composer, WEIGHT_REGULAR), x, heading.y + heading.height + HEAD_LINES,
	              LIVE_WIDTH - LETTER_ROOM);
	end_turning(composer, turning);
}

static void put_line_block(struct composer *composer, const void *what, double y)
{
	const struct medicine_sheet *sheet = what;
	struct line_place place = line_place_of(composer, sheet);
	struct syringe_figure figure = line_figure(composer, &place.look, y + place.figure_y);
	double mark_x = syringe_x(place.look.syringe, figure.x_zero, measure_of(place.look.at));
	double width = place.beside ? SIDE_WINDOW : WINDOW_WIDTH;
	double x = place.beside ? composer->right - SIDE_WINDOW
	                        : fmin(fmax(mark_x - width / 2, composer->left), composer->right - width);
	struct magnifier magnifier = {.frame = {x, y + place.frame_y, width, place.window},
	                              .zoom = place.zoom,
	                              .bracket_y = figure.axis + line_drop(&place.look) + BRACKET_DROP};
	put_head(composer, sheet->mix, y, place.beside ? x - GAP_3 : composer->right);
	struct turning turning = begin_fixed(composer);
	begin_figure(composer, sheet->mix->alt);
	put_line_figure(composer, &place.look, &figure);
	put_magnifier(composer, &place.look, &figure, &magnifier);
	end_group(composer);
	end_turning(composer, turning);
	struct rect words = put_paragraph(composer, sheet->mix->place, body(composer, WEIGHT_REGULAR), composer->left,
	                                  y + place.figure_end + GAP_3, LIVE_WIDTH);
	put_paragraph(composer, sheet->mix->true_size, composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR),
	              composer->left, words.y + words.height + GAP_2, LIVE_WIDTH);
}

/* ---- liquid and powder make so much ---- */

#define SUM_PAD 4.6
#define SUM_PICTURE 15.0
#define SUM_CELL 60.0
#define SUM_WORDS 19.0 /* picture to words */
#define SUM_TICK 8.4
#define SUM_LINES 3.0

static struct text_style sum_style(const struct composer *composer)
{
	return composer_style(composer, TYPE_SECTION, WEIGHT_BOLD);
}

static double sum_cell_width(void)
{
	return SUM_CELL - SUM_WORDS - 2 * KNOT_RADIUS - 2;
}

static double sum_cells_height(struct composer *composer, const struct mix_page *mix)
{
	const char *words[] = {mix->liquid_word, mix->powder_note, mix->ready_word};
	double height = SUM_PICTURE;
	for (size_t i = 0; i < 3; i++)
		height = fmax(height, text_cap_height(sum_style(composer)) + SUM_LINES +
		                              composer_text_height(composer, words[i], body(composer, WEIGHT_REGULAR),
		                                                   sum_cell_width()));
	return height;
}

#define SUM_DAY 6.2 /* a box of several days */
#define SUM_DAY_PITCH 8.4

static struct tick_look check_look(const struct composer *composer)
{
	return (struct tick_look){SUM_DAY, SUM_DAY_PITCH, composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR)};
}

static double ticks_width(const struct composer *composer, const struct mix_page *mix)
{
	struct tick_look look = check_look(composer);
	return mix->ready_days.n > 0 ? day_ticks_width(&look, &mix->ready_days) : SUM_TICK;
}

static double check_width(const struct composer *composer, const struct mix_page *mix)
{
	return LIVE_WIDTH - 2 * SUM_PAD - ticks_width(composer, mix) - GAP_3;
}

static void put_check_ticks(struct composer *composer, const struct mix_page *mix, double y)
{
	struct tick_look look = check_look(composer);
	double x = composer->right - SUM_PAD - ticks_width(composer, mix);
	if (mix->ready_days.n > 0) {
		begin_group(composer, ROLE_PARAGRAPH);
		put_day_ticks(composer, &look, &mix->ready_days, x, y);
		end_group(composer);
		return;
	}
	begin_artifact(composer);
	put_tick(composer, (struct point){x, y}, SUM_TICK);
	end_group(composer);
}

static double check_height(struct composer *composer, const struct mix_page *mix)
{
	struct tick_look look = check_look(composer);
	return fmax(mix->ready_days.n > 0 ? day_ticks_height(&look) : SUM_TICK,
	            composer_text_height(composer, mix->ready_check, body(composer, WEIGHT_REGULAR),
	                                 check_width(composer, mix)));
}

static double sum_height(struct composer *composer, const void *what)
{
	const struct medicine_sheet *sheet = what;
	return 2 * SUM_PAD + sum_cells_height(composer, sheet->mix) + GAP_3 + check_height(composer, sheet->mix);
}

static void put_sum_cell(struct composer *composer, enum pictogram pictogram, const char *amount, const char *word,
                         double x, double middle)
{
	double text = composer_text_height(composer, word, body(composer, WEIGHT_REGULAR), sum_cell_width());
	double y = middle - (text_cap_height(sum_style(composer)) + SUM_LINES + text) / 2;
	begin_group(composer, ROLE_PARAGRAPH);
	begin_artifact(composer);
	put_mark(composer, (struct placed_mark){.kind = MARK_PICTURE,
	                                        .area = {x, middle - SUM_PICTURE / 2, SUM_PICTURE, SUM_PICTURE},
	                                        .picture = {pictogram, {x, middle - SUM_PICTURE / 2}, SUM_PICTURE, 0}});
	end_group(composer);
	put_plain(composer, amount, sum_style(composer), x + SUM_WORDS, y, 0);
	put_plain(composer, word, body(composer, WEIGHT_REGULAR), x + SUM_WORDS,
	          y + text_cap_height(sum_style(composer)) + SUM_LINES, sum_cell_width());
	end_group(composer);
}

static void put_sum(struct composer *composer, const void *what, double y)
{
	const struct medicine_sheet *sheet = what;
	const struct mix_page *mix = sheet->mix;
	double height = sum_height(composer, sheet);
	double half = LINE_OUTLINE / 2;
	double cells = sum_cells_height(composer, mix);
	double middle = y + SUM_PAD + cells / 2;
	double x = composer->left + SUM_PAD;
	begin_artifact(composer);
	put_frame(composer, (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half},
	          LINE_OUTLINE);
	end_group(composer);
	put_sum_cell(composer, mix->liquid_picture, mix->liquid_amount, mix->liquid_word, x, middle);
	put_sum_cell(composer, PICTURE_POWDER_VIAL, mix->powder_word, mix->powder_note, x + SUM_CELL, middle);
	put_sum_cell(composer, PICTURE_LIQUID_VIAL, mix->ready_amount, mix->ready_word, x + 2 * SUM_CELL, middle);
	begin_artifact(composer);
	for (int i = 0; i < 2; i++)
		put_mark(composer,
		         (struct placed_mark){.kind = MARK_KNOT,
		                              .area = {x + (i + 1) * SUM_CELL - 2 * KNOT_RADIUS - 1,
		                                       middle - KNOT_RADIUS, 2 * KNOT_RADIUS, 2 * KNOT_RADIUS},
		                              .knot = {{x + (i + 1) * SUM_CELL - KNOT_RADIUS - 1, middle},
		                                       KNOT_RADIUS,
		                                       i == 0 ? '+' : '=',
		                                       0,
		                                       0}});
	end_group(composer);
	double check = y + SUM_PAD + cells + GAP_3;
	double width = check_width(composer, mix);
	double text = composer_text_height(composer, mix->ready_check, body(composer, WEIGHT_REGULAR), width);
	put_paragraph(composer, mix->ready_check, body(composer, WEIGHT_REGULAR), x,
	              check + (check_height(composer, mix) - text) / 2, width);
	put_check_ticks(composer, mix, check);
}

void medicine_mix(struct composer *composer, const struct medicine_sheet *sheet)
{
	if (composer->large_print) {
		large_mix(composer, sheet);
		return;
	}
	struct page_parts *parts = arena_alloc(composer->arena, sizeof *parts);
	*parts = (struct page_parts){.title = sheet->mix->title, .lead = sheet->mix->lead};
	parts_add(parts, only_height, put_only, sheet);
	parts_add(parts, line_height, put_line_block, sheet);
	if (place_is_asked_on(sheet, ASKED_ON_MIX))
		parts_add_place(parts, sheet);
	parts_add_steps(parts, NULL, sheet->mix->steps, sheet->mix->n_steps, &sheet->add);
	parts->steps.wide = true;
	parts_add(parts, sum_height, put_sum, sheet);
	put_parts(composer, parts);
}
