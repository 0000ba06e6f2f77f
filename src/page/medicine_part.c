/*
 * medicine_part.c - part of a filled syringe: the two moments at which it must be looked at.
 *
 *     3 Into the sink     . . --<_||||#__|=====|  <-
 *       words                    | window |
 *     ------------------------------------------------
 *     4 Into you          | --<_||||#__|=====|  <-
 *       words
 *
 * What goes into you has a solid tag, what does not an open one; a window shows
 * every line that is to be hit.
 */
#include "page/actions.h"
#include "page/large_pages.h"
#include "page/letter.h"
#include "page/parts.h"
#include "page/syringe_geometry.h"

#include <math.h>

#define WORDS_WIDTH 56.5
#define FIGURE_X 66.0
#define WINDOW_PART_WIDTH 60.0
#define BLOCK_TOP 3.6
#define BLOCK_END 3.0
#define NUMBER_SIZE 24.0
#define NUMBER_TITLE 3.0
#define TITLE_TEXT 4.2
#define BRACKET_DROP 2.6
#define REST_CAPTION 2.6
#define WINDOW_CAPTION 2.2 /* frame to its caption */
#define BOX_SIZE 20.0
#define ZOOM_LEAST 2.2
#define SKIN_HALF 7.5 /* of the skin's line, above and below the needle */

static struct text_style body(const struct composer *composer, enum text_weight weight)
{
	return medicine_style(composer, TYPE_BODY, weight);
}

/* ---- the two looks ---- */

static double filled_to(const struct draw *draw)
{
	double end = measure_of(draw->mark.syringe->graduated);
	struct quantity volume;
	if (draw->product->volume.given && quantity_in(draw->product->volume.quantity, UNIT_ML, &volume))
		return fmin(measure_of(volume.number), end);
	return end;
}

static bool rest_is_given(const struct medicine_sheet *sheet)
{
	return sheet->part->rest_mark.number != NULL;
}

static struct line_look look_of(const struct composer *composer, const struct medicine_sheet *sheet, double indent)
{
	struct line_look look = {.syringe = sheet->draw->mark.syringe,
	                         .at = sheet->draw->mark.at,
	                         .ring = measure_of(sheet->draw->mark.at),
	                         .tag_size = composer_style(composer, TYPE_MARK_DEVICE, WEIGHT_BOLD).size,
	                         .indent = indent};
	line_look_needle(&look, sheet->draw->product, false);
	return look;
}

/* Pushed out to the line the ring stands on it; injecting, it is still where the syringe came. */
static struct line_look line_look_at(const struct composer *composer, const struct medicine_sheet *sheet, double indent)
{
	struct line_look look = look_of(composer, sheet, indent);
	bool push_out = sheet->draw->mark.line == LINE_PUSH_OUT;
	look.line = true;
	look.mark = sheet->mark;
	look.plunger = say0(composer->speaker, "line.plunger");
	look.pushed = true;
	look.drops = push_out;
	look.in_skin = !push_out;
	if (!push_out)
		look.ring = filled_to(sheet->draw);
	return look;
}

static struct line_look rest_look_at(const struct composer *composer, const struct medicine_sheet *sheet, double indent)
{
	struct line_look look = look_of(composer, sheet, indent);
	look.mark = sheet->part->rest_mark;
	look.pushed = rest_is_given(sheet);
	look.in_skin = rest_is_given(sheet);
	if (!rest_is_given(sheet))
		look.outdent = BOX_SIZE + GAP_4;
	return look;
}

/* Words stand beside both syringes; where one of them is too long for that, above both. */
struct layout {
	bool beside;
	double words; /* their width */
	struct line_look line;
	struct line_look rest;
};

static struct layout layout_of(const struct composer *composer, const struct medicine_sheet *sheet)
{
	struct layout layout = {.words = WORDS_WIDTH,
	                        .line = line_look_at(composer, sheet, FIGURE_X),
	                        .rest = rest_look_at(composer, sheet, FIGURE_X)};
	layout.beside = line_figure_fits(composer, &layout.line) && line_figure_fits(composer, &layout.rest);
	if (layout.beside)
		return layout;
	layout.words = LIVE_WIDTH;
	layout.line = line_look_at(composer, sheet, TIP_ROOM);
	layout.rest = rest_look_at(composer, sheet, TIP_ROOM);
	return layout;
}

/* ---- the words of a step ---- */

static struct text_style number_style(void)
{
	return (struct text_style){.size = NUMBER_SIZE, .weight = WEIGHT_BOLD};
}

static double title_x(struct composer *composer, const struct step *step)
{
	return composer_text_width(composer, step_number(composer, step), number_style()) + NUMBER_TITLE;
}

static double step_head_height(struct composer *composer, const struct step *step, double width)
{
	struct text_style title = composer_style(composer, TYPE_SECTION, WEIGHT_BOLD);
	return text_cap_height(number_style()) - text_cap_height(title) +
	       composer_text_height(composer, step->title, title, width - title_x(composer, step));
}

static double step_words_height(struct composer *composer, const struct step *step, double width)
{
	return step_head_height(composer, step, width) + TITLE_TEXT +
	       actions_height(composer, step->text, body(composer, WEIGHT_REGULAR), width);
}

static void put_step_words(struct composer *composer, const struct step *step, double y, double width)
{
	struct text_style title = composer_style(composer, TYPE_SECTION, WEIGHT_BOLD);
	double x = title_x(composer, step);
	begin_group(composer, ROLE_H2);
	composer_note_step(composer, step->number);
	put_plain(composer, step_number(composer, step), number_style(), composer->left, y, 0);
	put_plain(composer, step->title, title, composer->left + x,
	          y + text_cap_height(number_style()) - text_cap_height(title), width - x);
	end_group(composer);
	put_actions(composer, step->text, body(composer, WEIGHT_REGULAR), composer->left,
	            y + step_head_height(composer, step, width) + TITLE_TEXT, width);
}

/* A block of words, and of a syringe beside them or below: how high, and how far down the syringe's own block begins. */
static double block_height(const struct layout *layout, double words, double figure)
{
	return BLOCK_TOP + (layout->beside ? fmax(words, figure) : words + GAP_3 + figure) + BLOCK_END;
}

static double figure_top(const struct layout *layout, double words)
{
	return BLOCK_TOP + (layout->beside ? 0 : words + GAP_3);
}

/* ---- to the line ---- */

static double zoom_of(const struct line_look *look)
{
	return fmax(window_zoom(look->syringe), ZOOM_LEAST);
}

static double below_axis(const struct line_look *look)
{
	return fmax(line_drop(look), look->in_skin ? SKIN_HALF : 0);
}

static const char *window_caption(struct composer *composer, const struct line_look *look)
{
	return say1(composer->speaker, "window.heading", "times",
	            say_number(composer->speaker, rational_of((int64_t)lround(zoom_of(look) * 10), 10)));
}

static double window_caption_height(struct composer *composer, const struct line_look *look)
{
	return composer_text_height(composer, window_caption(composer, look), body(composer, WEIGHT_BOLD),
	                            WINDOW_PART_WIDTH);
}

static double line_figure_height(struct composer *composer, const struct line_look *look)
{
	return line_rise(composer, look) + below_axis(look) + BRACKET_DROP + WINDOW_FAN +
	       window_height(look->syringe, zoom_of(look)) + WINDOW_CAPTION + window_caption_height(composer, look);
}

static double to_line_words_height(struct composer *composer, const struct medicine_sheet *sheet, double width)
{
	return step_words_height(composer, sheet->part->to_line, width) + GAP_3 +
	       composer_text_height(composer, sheet->part->window_text, body(composer, WEIGHT_REGULAR), width);
}

static double to_line_height(struct composer *composer, const void *what)
{
	const struct medicine_sheet *sheet = what;
	struct layout layout = layout_of(composer, sheet);
	return block_height(&layout, to_line_words_height(composer, sheet, layout.words),
	                    line_figure_height(composer, &layout.line));
}

static void put_line_and_window(struct composer *composer, const struct line_look *look, const char *letter, double y)
{
	struct syringe_figure figure = line_figure(composer, look, y);
	double mark = syringe_x(look->syringe, figure.x_zero, measure_of(look->at));
	double x = fmin(fmax(mark - WINDOW_PART_WIDTH / 2, composer->left + look->indent),
	                composer->right - WINDOW_PART_WIDTH);
	struct magnifier magnifier = {.zoom = zoom_of(look),
	                              .bracket_y = figure.axis + below_axis(look) + BRACKET_DROP};
	magnifier.frame = (struct rect){x, magnifier.bracket_y + WINDOW_FAN, WINDOW_PART_WIDTH,
	                                window_height(look->syringe, magnifier.zoom)};
	put_line_figure(composer, look, &figure);
	put_magnifier(composer, look, &figure, &magnifier);
	put_window_letter(composer, magnifier.frame, letter);
	put_plain(composer, window_caption(composer, look), body(composer, WEIGHT_BOLD), x,
	          magnifier.frame.y + magnifier.frame.height + WINDOW_CAPTION, WINDOW_PART_WIDTH);
}

static void put_to_line(struct composer *composer, const void *what, double y)
{
	const struct medicine_sheet *sheet = what;
	struct layout layout = layout_of(composer, sheet);
	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, y, LINE_MAIN);
	end_group(composer);
	put_step_words(composer, sheet->part->to_line, y + BLOCK_TOP, layout.words);
	put_paragraph(composer, sheet->part->window_text, body(composer, WEIGHT_REGULAR), composer->left,
	              y + BLOCK_TOP + step_words_height(composer, sheet->part->to_line, layout.words) + GAP_3,
	              layout.words);
	begin_figure(composer, sheet->alt);
	put_line_and_window(composer, &layout.line, sheet->line_letter,
	                    y + figure_top(&layout, to_line_words_height(composer, sheet, layout.words)));
	end_group(composer);
}

/* ---- the rest ---- */

static double caption_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	if (sheet->part->stays_word == NULL)
		return 0;
	return REST_CAPTION + composer_text_height(composer, sheet->part->stays_word, body(composer, WEIGHT_BOLD), 0);
}

/* From the figure's top to its axis: the sharps box beside it is as high as it. */
static double rest_rise(struct composer *composer, const struct medicine_sheet *sheet, const struct line_look *look)
{
	double rise = line_rise(composer, look);
	return rest_is_given(sheet) ? rise : fmax(rise, BOX_SIZE / 2);
}

static double rest_figure_height(struct composer *composer, const struct medicine_sheet *sheet,
                                 const struct line_look *look)
{
	double below = below_axis(look) + caption_height(composer, sheet);
	return rest_rise(composer, sheet, look) + (rest_is_given(sheet) ? below : fmax(below, BOX_SIZE / 2));
}

static double rest_height(struct composer *composer, const void *what)
{
	const struct medicine_sheet *sheet = what;
	struct layout layout = layout_of(composer, sheet);
	return block_height(&layout, step_words_height(composer, sheet->part->rest, layout.words),
	                    rest_figure_height(composer, sheet, &layout.rest));
}

/* Away with it: an arrow, and the sharps box. */
static void put_box_for_rest(struct composer *composer, double axis)
{
	double x = composer->right - BOX_SIZE;
	put_arrow(composer, x - GAP_4, axis, GAP_4 - 1);
	put_picture(composer, PICTURE_SHARPS_BOX, x, axis - BOX_SIZE / 2, BOX_SIZE);
}

static void put_rest_figure(struct composer *composer, const struct medicine_sheet *sheet, const struct line_look *look,
                            double y)
{
	double axis = y + rest_rise(composer, sheet, look);
	struct syringe_figure figure = line_figure(composer, look, axis - line_rise(composer, look));
	put_line_figure(composer, look, &figure);
	if (sheet->part->stays_word == NULL)
		return;
	double middle = syringe_x(look->syringe, figure.x_zero, look->ring / 2);
	put_text(composer, sheet->part->stays_word, body(composer, WEIGHT_BOLD), ALIGN_CENTER, middle,
	         axis + below_axis(look) + REST_CAPTION, 0, COLOUR_INK);
	put_box_for_rest(composer, axis);
}

static void put_rest(struct composer *composer, const void *what, double y)
{
	const struct medicine_sheet *sheet = what;
	struct layout layout = layout_of(composer, sheet);
	double words = step_words_height(composer, sheet->part->rest, layout.words);
	double figure = rest_figure_height(composer, sheet, &layout.rest);
	double down = layout.beside ? fmax((words - figure) / 2, 0) : 0;
	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, y, LINE_OUTLINE);
	end_group(composer);
	put_step_words(composer, sheet->part->rest, y + BLOCK_TOP, layout.words);
	begin_figure(composer, sheet->part->rest_alt);
	put_rest_figure(composer, sheet, &layout.rest, y + figure_top(&layout, words) + down);
	end_group(composer);
}

/* ---- what must not happen, over the whole width ---- */

static size_t leading_warnings(const struct medicine_sheet *sheet)
{
	size_t n = 0;
	while (n < sheet->n_back && sheet->back[n].warning)
		n++;
	return n;
}

static struct step_cell warnings_of(const struct medicine_sheet *sheet)
{
	return (struct step_cell){.warnings = sheet->back, .n_warnings = leading_warnings(sheet)};
}

static double warnings_part_height(struct composer *composer, const void *what)
{
	struct step_cell cell = warnings_of(what);
	return cell.n_warnings == 0 ? 0 : warnings_height(composer, &cell, LIVE_WIDTH);
}

static void put_warnings_part(struct composer *composer, const void *what, double y)
{
	struct step_cell cell = warnings_of(what);
	put_warnings(composer, &cell, composer->left, y, LIVE_WIDTH);
}

/* ---- the page ---- */

void medicine_part(struct composer *composer, const struct medicine_sheet *sheet)
{
	if (composer->large_print) {
		large_medicine_back(composer, sheet);
		return;
	}
	struct page_parts *parts = arena_alloc(composer->arena, sizeof *parts);
	*parts = (struct page_parts){.title = sheet->back_title, .lead = sheet->back_lead};
	parts_add_place(parts, sheet);
	parts_add(parts, to_line_height, put_to_line, sheet);
	size_t n_warnings = leading_warnings(sheet);
	parts_add(parts, warnings_part_height, put_warnings_part, sheet);
	parts_add(parts, rest_height, put_rest, sheet);
	parts_add_steps(parts, NULL, sheet->back + n_warnings, sheet->n_back - n_warnings, NULL);
	put_parts(composer, parts);
}
