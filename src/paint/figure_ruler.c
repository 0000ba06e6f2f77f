/* What the reader checks the print against: a ruler, and a bank card's outline (ISO/IEC 7810, ID-1). */
#include "paint/figures.h"
#include "paint/painter.h"

#define RULER_LENGTH 50
#define CARD_WIDTH 85.60
#define CARD_HEIGHT 53.98
#define CARD_RADIUS 3.18
#define CARD_CORNER 10.0 /* how far the heavy corners reach along each edge */

/* ---- ruler ---- */

struct tick {
	double height;
	double line;
};

static struct tick tick_at(int millimetre)
{
	if (millimetre == 0 || millimetre == RULER_LENGTH)
		return (struct tick){6, LINE_OUTLINE};
	if (millimetre % 10 == 0)
		return (struct tick){4.6, LINE_OUTLINE};
	if (millimetre % 5 == 0)
		return (struct tick){2.9, LINE_FINE};
	return (struct tick){1.7, LINE_HAIR};
}

static void draw_ticks(struct painter *painter, struct point at, double line)
{
	struct path_builder *ticks = path_new(painter->scratch);

	for (int i = 0; i <= RULER_LENGTH; i++) {
		struct tick tick = tick_at(i);
		if (tick.line == line)
			path_stroke_line(ticks, (struct point){at.x + i, at.y},
			                 (struct point){at.x + i, at.y - tick.height});
	}
	paint_stroke(painter, ticks, line, COLOUR_INK);
}

/* A pole on the card's short edge, with a little card as its flag. */
static void draw_flag(struct painter *painter, struct point foot)
{
	struct path_builder *card = path_new(painter->scratch);

	paint_line(painter, foot, (struct point){foot.x, foot.y - 8.4}, LINE_OUTLINE, COLOUR_INK);
	path_rounded(card, (struct rect){foot.x, foot.y - 8.4, 4.7, 3}, 0.6);
	paint_stroke(painter, card, LINE_OUTLINE, COLOUR_INK);
}

void figure_ruler(struct painter *painter, const struct ruler_figure *figure)
{
	struct point at = figure->at;
	double end = figure->flag ? CARD_HEIGHT : RULER_LENGTH;

	/* Lines of one width after each other, so that they share a path. */
	draw_ticks(painter, at, LINE_HAIR);
	draw_ticks(painter, at, LINE_FINE);
	draw_ticks(painter, at, LINE_OUTLINE);
	/* The base line closes the outermost ticks, half a line beyond them. */
	paint_line(painter, (struct point){at.x - LINE_OUTLINE / 2, at.y},
	           (struct point){at.x + end + LINE_OUTLINE / 2, at.y}, LINE_OUTLINE, COLOUR_INK);
	if (figure->flag)
		draw_flag(painter, (struct point){at.x + CARD_HEIGHT, at.y});
	for (size_t i = 0; figure->numerals && i <= RULER_LENGTH / 10; i++) {
		const struct text_block *numeral = figure->numerals[i];
		paint_text(painter, numeral,
		           (struct point){at.x + 10.0 * (double)i - text_width(numeral) / 2, at.y + 1.2}, COLOUR_INK);
	}
}

/* ---- card ---- */

/* The corner between two edges; `angle` is where its arc begins, clockwise. */
static void add_corner(struct path_builder *path, struct point centre, double angle)
{
	const double straight = CARD_CORNER - CARD_RADIUS;
	struct point start = point_on_circle(centre, CARD_RADIUS, angle);
	struct point end = point_on_circle(centre, CARD_RADIUS, angle + 90);
	struct point before = point_on_circle(start, straight, angle - 90);
	struct point after = point_on_circle(end, straight, angle + 180);

	path_move(path, before.x, before.y);
	path_arc(path, centre, CARD_RADIUS, angle, angle + 90);
	path_line(path, after.x, after.y);
}

/* Both lines are centred on the card's true edge. */
void figure_card(struct painter *painter, const struct card_figure *figure)
{
	struct rect edge = {figure->at.x, figure->at.y, CARD_WIDTH, CARD_HEIGHT};
	double left = edge.x + CARD_RADIUS;
	double right = edge.x + CARD_WIDTH - CARD_RADIUS;
	double top = edge.y + CARD_RADIUS;
	double bottom = edge.y + CARD_HEIGHT - CARD_RADIUS;
	struct path_builder *outline = path_new(painter->scratch);
	struct path_builder *corners = path_new(painter->scratch);

	path_rounded(outline, edge, CARD_RADIUS);
	paint_stroke(painter, outline, LINE_OUTLINE, COLOUR_INK);
	add_corner(corners, (struct point){left, top}, 180);
	add_corner(corners, (struct point){right, top}, 270);
	add_corner(corners, (struct point){right, bottom}, 0);
	add_corner(corners, (struct point){left, bottom}, 90);
	paint_stroke(painter, corners, LINE_STRONG, COLOUR_INK);
}
