#include "page/pen_figure.h"

#include "page/letter.h"
#include "page/pen_geometry.h"

#include <math.h>

#define WINDOW_WIDTH 50.0 /* for a number of NUMBER_SIZE */
#define WINDOW_HEIGHT 29.0
#define NUMBER_SIZE 24.0
#define NEIGHBOUR 0.7    /* of the number's size */
#define SMALL_NUMBER 9.0 /* in the pen's own window */
#define CAPTION_GAP 2.4
#define BESIDE 16.0      /* pen to window */
#define NUMBER_ROOM 0.62 /* of the window's width: pointer left, lines right */

static struct text_style number_style(const struct composer *composer, enum text_weight weight)
{
	return composer_style(composer, TYPE_MARK_DEVICE, weight);
}

static struct text_style caption_style(const struct composer *composer)
{
	return composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
}

/* A number of many digits widens its window. */
static double number_width(struct composer *composer, const struct pen_view *view)
{
	struct text_style style = number_style(composer, WEIGHT_BOLD);
	double width = composer_text_width(composer, view->number, style);
	struct text_style next = style;
	next.size *= NEIGHBOUR;
	if (view->below != NULL)
		width = fmax(width, composer_text_width(composer, view->below, next));
	if (view->above != NULL)
		width = fmax(width, composer_text_width(composer, view->above, next));
	return width;
}

static struct rect window_size(struct composer *composer, const struct pen_view *view)
{
	double scale = number_style(composer, WEIGHT_BOLD).size / NUMBER_SIZE;
	double width = fmax(WINDOW_WIDTH * scale, number_width(composer, view) / NUMBER_ROOM);
	return (struct rect){0, 0, width, WINDOW_HEIGHT * scale};
}

static bool stands_below(const struct composer *composer)
{
	double scale = composer_style(composer, TYPE_MARK_DEVICE, WEIGHT_BOLD).size / NUMBER_SIZE;
	return PEN_LENGTH + BESIDE + WINDOW_WIDTH * scale > LIVE_WIDTH;
}

static double caption_height(struct composer *composer, const struct pen_view *view, double width)
{
	return CAPTION_GAP + composer_text_height(composer, view->caption, caption_style(composer), width);
}

double pen_text_width(const struct composer *composer, const struct pen_view *view)
{
	(void)view;
	return stands_below(composer) ? LIVE_WIDTH : PEN_LENGTH + BESIDE / 2;
}

static double tag_size(const struct composer *composer)
{
	return composer_style(composer, TYPE_MARK, WEIGHT_BOLD).size;
}

static double tag_height(struct composer *composer, const struct pen_view *view)
{
	return measure_tag(composer, view->mark, tag_size(composer)).height;
}

double pen_figure_drop(struct composer *composer, const struct pen_view *view)
{
	return tag_height(composer, view) - PEN_WINDOW_Y + PEN_HEIGHT;
}

double pen_window_drop(struct composer *composer, const struct pen_view *view)
{
	struct rect window = window_size(composer, view);
	return stands_below(composer) ? 0 : window.height + caption_height(composer, view, window.width);
}

double pen_window_x(struct composer *composer, const struct pen_view *view)
{
	return composer->right - LINE_MAIN / 2 - window_size(composer, view).width;
}

double pen_window_below(struct composer *composer, const struct pen_view *view)
{
	struct rect window = window_size(composer, view);
	return stands_below(composer) ? window.height + caption_height(composer, view, window.width) : 0;
}

static const struct text_block *set_neighbour(struct composer *composer, const char *number)
{
	struct text_style style = number_style(composer, WEIGHT_REGULAR);
	style.size *= NEIGHBOUR;
	return number == NULL ? NULL : composer_set(composer, number, style, 0);
}

static void put_window(struct composer *composer, const struct pen_view *view, struct rect frame)
{
	struct dial_figure dial = {.frame = frame,
	                           .number =
	                                   composer_set(composer, view->number, number_style(composer, WEIGHT_BOLD), 0),
	                           .below = set_neighbour(composer, view->below),
	                           .above = set_neighbour(composer, view->above)};
	put_mark(composer, (struct placed_mark){.kind = MARK_DIAL, .area = frame, .dial = dial});
	put_window_letter(composer, frame, view->letter);
}

static void put_caption(struct composer *composer, const struct pen_view *view, struct rect frame)
{
	put_paragraph(composer, view->caption, caption_style(composer), frame.x, frame.y + frame.height + CAPTION_GAP,
	              frame.width);
}

/* The number in the pen's own small window; one that it cannot hold is left to the tag and the window. */
static const struct text_block *small_number(struct composer *composer, const char *number)
{
	struct text_style style = {.size = SMALL_NUMBER, .weight = WEIGHT_BOLD};
	if (composer_text_width(composer, number, style) > PEN_WINDOW_WIDTH - GAP_1)
		return NULL;
	return composer_set(composer, number, style, 0);
}

/* The point reaches into the pen, to its window. */
static struct rect put_pen(struct composer *composer, struct pen_figure pen, struct mark_words mark, double size)
{
	struct rect tag;
	put_mark(composer, (struct placed_mark){
				   .kind = MARK_PEN, .area = {pen.at.x, pen.at.y, PEN_LENGTH, PEN_HEIGHT}, .pen = pen});
	begin_inside(composer);
	tag = put_tag(composer, mark, size,
	              (struct point){pen.at.x + PEN_WINDOW_X + PEN_WINDOW_WIDTH / 2, pen.at.y + PEN_WINDOW_Y});
	end_inside(composer);
	return tag;
}

double pen_and_tag_height(struct composer *composer, struct mark_words mark, double size)
{
	return measure_tag(composer, mark, size).height - PEN_WINDOW_Y + PEN_HEIGHT;
}

struct rect put_pen_and_tag(struct composer *composer, struct mark_words mark, double size, double x, double y)
{
	double top = y + measure_tag(composer, mark, size).height - PEN_WINDOW_Y;
	return put_pen(
		composer,
		(struct pen_figure){
			.at = {x, top}, .length = PEN_LENGTH, .full = 1, .number = small_number(composer, mark.number)},
		mark, size);
}

void put_pen_figure(struct composer *composer, const struct pen_view *view, double y)
{
	struct rect window = window_size(composer, view);
	double top = y + tag_height(composer, view) - PEN_WINDOW_Y;
	double full = (double)view->full.numerator / (double)view->full.denominator;
	begin_figure(composer, view->alt);
	put_pen(composer,
	        (struct pen_figure){.at = {composer->left, top},
	                            .length = PEN_LENGTH,
	                            .full = full,
	                            .number = small_number(composer, view->number)},
	        view->mark, tag_size(composer));
	window.x = pen_window_x(composer, view);
	window.y = y;
	if (!stands_below(composer))
		put_window(composer, view, window);
	end_group(composer);
	if (!stands_below(composer))
		put_caption(composer, view, window);
}

void put_pen_window_below(struct composer *composer, const struct pen_view *view, double y)
{
	struct rect window = window_size(composer, view);
	if (!stands_below(composer))
		return;
	window.x = composer->left;
	window.y = y;
	begin_figure(composer, view->alt);
	put_window(composer, view, window);
	end_group(composer);
	put_caption(composer, view, window);
}

struct rect measure_pen_window(struct composer *composer, const struct pen_view *view)
{
	struct rect window = window_size(composer, view);
	struct rect tag = measure_tag(composer, view->mark, number_style(composer, WEIGHT_BOLD).size);
	return (struct rect){0, 0, fmax(window.width, tag.width), tag.height + window.height};
}

void put_pen_window(struct composer *composer, const struct pen_view *view, double x, double y)
{
	double size = number_style(composer, WEIGHT_BOLD).size;
	struct rect window = window_size(composer, view);
	window.x = x;
	window.y = y + measure_tag(composer, view->mark, size).height;
	begin_figure(composer, view->alt);
	put_window(composer, view, window);
	put_tag(composer, view->mark, size, (struct point){x + window.width / 2, window.y});
	end_group(composer);
}

void put_pen_upright(struct composer *composer, double x, double y, double height)
{
	double length = height * PEN_LENGTH / (PEN_LENGTH + PEN_DROP);
	double width = length * PEN_HEIGHT / PEN_LENGTH;
	put_mark(composer, (struct placed_mark){.kind = MARK_PEN,
	                                        .area = {x, y, width, height},
	                                        .pen = {.at = {x, y}, .length = length, .upright = true, .full = 1}});
}
