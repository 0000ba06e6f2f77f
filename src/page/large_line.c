#include "page/large_line.h"

#include "page/letter.h"
#include "page/styles.h"
#include "page/syringe_geometry.h"

#include <math.h>

#define ZOOM_MORE 1.2 /* than in normal print */
#define WINDOW_MORE 3.2
#define BESIDE_TAG 4.5
#define BESIDE_LEAST 74.0
#define BETWEEN 4.2
#define FLANGE_ROOM 4.0
#define LEADER_DROP 4.4
#define LEADER_END 5.0
#define BESIDE_WINDOW 7.0
#define BRACKET_DROP 2.6

static struct text_style section(const struct composer *composer)
{
	return large_style(composer, TYPE_SECTION, WEIGHT_BOLD);
}

double large_window_zoom(const struct syringe *syringe)
{
	return round(window_zoom(syringe) * ZOOM_MORE * 10) / 10;
}

double large_window_height(const struct syringe *syringe, double zoom)
{
	return window_height(syringe, zoom) + WINDOW_MORE;
}

/* ---- where everything stands ---- */

struct line_place {
	double words_x; /* of the heading: beside the tag, else above the syringe */
	double words_width;
	double words_height;
	double syringe_y;
	struct rect frame;
	double bracket_y;
	double zoom;
	double text_x;
	double text_width;
	double text_y;
	double window_heading_y;
	double height;
};

static const char *window_heading(struct composer *composer, double zoom)
{
	return say1(composer->speaker, "window.heading", "times",
	            say_number(composer->speaker, rational_of((int64_t)lround(zoom * 10), 10)));
}

static double words_height(struct composer *composer, const struct large_line *line, double width)
{
	double height = composer_text_height(composer, line->heading, section(composer), width);
	const char *lines[] = {line->scale, line->size};
	for (size_t i = 0; i < 2; i++)
		if (lines[i] != NULL)
			height += BETWEEN +
			          composer_text_height(composer, lines[i], large_body(composer, WEIGHT_REGULAR), width);
	return height;
}

/* The window's words begin beside its top, under their heading, which keeps clear of the syringe. */
static void place_window(struct composer *composer, const struct large_line *line, const struct syringe_figure *figure,
                         struct line_place *place)
{
	struct text_style heading = large_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	double mark = syringe_x(line->look.syringe, figure->x_zero, measure_of(line->look.at));
	double x = fmin(fmax(mark - LARGE_WINDOW_WIDTH / 2, composer->left), composer->left + 12);
	double drop = figure->axis + line_drop(&line->look);
	place->zoom = large_window_zoom(line->look.syringe);
	place->text_x = x + LARGE_WINDOW_WIDTH + BESIDE_WINDOW;
	place->text_width = composer->right - place->text_x;
	place->bracket_y = drop + BRACKET_DROP;
	place->window_heading_y = drop + GAP_4;
	double heading_height =
		composer_text_height(composer, window_heading(composer, place->zoom), heading, place->text_width);
	place->text_y = place->window_heading_y + heading_height + GAP_3;
	double top = fmax(place->text_y + cap(composer, TYPE_BODY) / 2 - LEADER_DROP, place->bracket_y + WINDOW_FAN);
	place->frame = (struct rect){x, top, LARGE_WINDOW_WIDTH, large_window_height(line->look.syringe, place->zoom)};
	double text =
		composer_text_height(composer, line->text, large_body(composer, WEIGHT_REGULAR), place->text_width);
	place->height = fmax(top + place->frame.height, place->text_y + text);
}

static struct line_place line_place(struct composer *composer, const struct large_line *line, double y)
{
	struct line_place place = {0};
	struct syringe_figure at_top = line_figure(composer, &line->look, 0);
	struct rect tag = line_tag_area(composer, &line->look, &at_top);
	double room = composer->right - tag.x - tag.width - BESIDE_TAG;
	bool above = room < BESIDE_LEAST || words_height(composer, line, room) > tag.height - FLANGE_ROOM;
	place.words_x = above ? composer->left : tag.x + tag.width + BESIDE_TAG;
	place.words_width = above ? LIVE_WIDTH : room;
	place.words_height = words_height(composer, line, place.words_width);
	place.syringe_y = y + (above ? place.words_height + GAP_4 : 0);
	struct syringe_figure figure = line_figure(composer, &line->look, place.syringe_y);
	if (line->look.line) {
		place_window(composer, line, &figure, &place);
	} else {
		place.text_x = composer->left;
		place.text_width = LIVE_WIDTH;
		place.text_y = figure.axis + line_drop(&line->look) + GAP_4;
		place.height = place.text_y + composer_text_height(composer, line->text,
		                                                   large_body(composer, WEIGHT_REGULAR), LIVE_WIDTH);
	}
	place.height -= y;
	return place;
}

/* ---- putting ---- */

static void put_words(struct composer *composer, const struct large_line *line, const struct line_place *place,
                      double y)
{
	struct rect above =
		put_heading(composer, ROLE_H2, line->heading, section(composer), place->words_x, y, place->words_width);
	if (line->scale != NULL)
		above = put_paragraph(composer, line->scale, large_body(composer, WEIGHT_BOLD), place->words_x,
		                      above.y + above.height + BETWEEN, place->words_width);
	put_paragraph(composer, line->size, large_body(composer, WEIGHT_REGULAR), place->words_x,
	              above.y + above.height + BETWEEN, place->words_width);
}

static void put_window(struct composer *composer, const struct large_line *line, const struct syringe_figure *figure,
                       const struct line_place *place)
{
	double mark = measure_of(line->look.at);
	struct syringe_figure *shown = arena_alloc(composer->arena, sizeof *shown);
	struct point leader = {place->frame.x + LARGE_WINDOW_WIDTH + LEADER_END, place->frame.y + LEADER_DROP};
	double top = place->bracket_y - 2;
	*shown = *figure;
	put_mark(composer,
	         (struct placed_mark){
			 .kind = MARK_WINDOW,
			 .area = {place->frame.x, top, LARGE_WINDOW_WIDTH, place->frame.y + place->frame.height - top},
			 .window = {.figure = shown,
	                            .frame = place->frame,
	                            .zoom = place->zoom,
	                            .centre = mark,
	                            .ring = mark,
	                            .frame_line = LINE_MAIN,
	                            .wedge = line->look.mark.open ? WEDGE_OPEN : WEDGE_SOLID,
	                            .numerals = line_numerals(composer, line->look.syringe, line->look.at,
	                                                      LARGE_WINDOW_NUMERAL, place->zoom),
	                            .n_numerals = syringe_numbered_lines(line->look.syringe),
	                            .bracket = true,
	                            .bracket_y = place->bracket_y,
	                            .leader = true,
	                            .leader_to = leader}});
}

static void put_line_block(struct composer *composer, const struct large_block *block, double y)
{
	const struct large_line *line = block->data;
	struct line_place place = line_place(composer, line, y);
	struct syringe_figure figure = line_figure(composer, &line->look, place.syringe_y);
	struct turning turning = begin_span(composer, place.words_x, place.words_x + place.words_width);
	put_words(composer, line, &place, y);
	end_turning(composer, turning);
	turning = begin_fixed(composer);
	begin_figure(composer, line->alt);
	put_line_figure(composer, &line->look, &figure);
	put_line_letter(composer, &line->look, &figure, line->letter);
	if (line->look.line) {
		put_window(composer, line, &figure, &place);
		put_window_letter(composer, place.frame, line->window_letter);
	}
	end_group(composer);
	end_turning(composer, turning);
	turning = begin_span(composer, place.text_x, place.text_x + place.text_width);
	if (line->look.line)
		put_heading(composer, ROLE_H3, window_heading(composer, place.zoom),
		            large_style(composer, TYPE_LEAD, WEIGHT_BOLD), place.text_x, place.window_heading_y,
		            place.text_width);
	put_paragraph(composer, line->text, large_body(composer, WEIGHT_REGULAR), place.text_x, place.text_y,
	              place.text_width);
	end_turning(composer, turning);
}

void large_add_line(struct large_blocks *blocks, const struct large_line *line)
{
	large_add(blocks, line_place(blocks->composer, line, 0).height, GAP_5, put_line_block, line);
}

/* ---- the printer's check ---- */

#define RULER_LABELS 6
#define RULER_HIGH 8.4
#define RULER_NUMERALS 1.2
#define RULER_TEXT_X 70.0
#define RULER_WIDTH 63.0

struct ruler_block {
	const char *heading;
	const char *text;
	bool flag;
};

static double ruler_height(const struct composer *composer)
{
	return RULER_HIGH + RULER_NUMERALS + cap(composer, TYPE_CAPTION);
}

static double heading_height(struct composer *composer, const struct ruler_block *ruler)
{
	double height = composer_text_height(composer, ruler->heading, large_style(composer, TYPE_LEAD, WEIGHT_BOLD),
	                                     LIVE_WIDTH);
	return height == 0 ? 0 : height + GAP_2;
}

static void put_ruler_block(struct composer *composer, const struct large_block *block, double y)
{
	const struct ruler_block *ruler = block->data;
	const struct text_block **numerals = arena_alloc(composer->arena, RULER_LABELS * sizeof *numerals);
	for (int i = 0; i < RULER_LABELS; i++)
		numerals[i] = composer_set(composer, say_number(composer->speaker, rational_of(10 * (int64_t)i, 1)),
		                           composer_style(composer, TYPE_CAPTION, WEIGHT_REGULAR), 0);
	put_heading(composer, ROLE_H2, ruler->heading, large_style(composer, TYPE_LEAD, WEIGHT_BOLD), composer->left, y,
	            LIVE_WIDTH);
	double top = y + heading_height(composer, ruler);
	begin_figure(composer, ruler->text);
	put_mark(composer,
	         (struct placed_mark){.kind = MARK_RULER,
	                              .area = {composer->left, top, RULER_WIDTH, ruler_height(composer)},
	                              .ruler = {{composer->left + 2.2, top + RULER_HIGH}, ruler->flag, numerals}});
	end_group(composer);
	put_paragraph(composer, ruler->text, large_body(composer, WEIGHT_REGULAR), composer->left + RULER_TEXT_X,
	              top + 1.5, LIVE_WIDTH - RULER_TEXT_X);
}

void large_add_ruler(struct large_blocks *blocks, const char *heading, const char *text, bool flag)
{
	struct composer *composer = blocks->composer;
	struct ruler_block *ruler = arena_alloc(composer->arena, sizeof *ruler);
	*ruler = (struct ruler_block){heading, text, flag};
	double words = 1.5 + composer_text_height(composer, text, large_body(composer, WEIGHT_REGULAR),
	                                          LIVE_WIDTH - RULER_TEXT_X);
	large_add(blocks, heading_height(composer, ruler) + fmax(words, ruler_height(composer)), GAP_5, put_ruler_block,
	          ruler);
}
