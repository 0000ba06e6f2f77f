#include "paint/figures.h"
#include "paint/painter.h"

#include <math.h>

/* On smaller dials only the quarters have a tick, on the smallest there is room for the hands alone. */
#define FEW_TICKS_BELOW 4.0
#define NO_TICKS_BELOW 3.8

/* A thinner hand would fade on a worn printer. */
#define MINUTE_LEAST 0.28
#define HOUR_LEAST 0.42

static void draw_ticks(struct painter *painter, struct point centre, double radius, bool quarters)
{
	struct path_builder *ticks = path_new(painter->scratch);

	for (int hour = 0; hour < 12; hour++) {
		if ((hour % 3 == 0) != quarters)
			continue;
		path_stroke_line(ticks, point_on_circle(centre, radius * 0.88, hour * 30),
		                 point_on_circle(centre, radius * (quarters ? 0.69 : 0.77), hour * 30));
	}
	paint_stroke(painter, ticks, fmax(radius * (quarters ? 0.045 : 0.03), LINE_HAIR), COLOUR_INK);
}

static void draw_hand(struct painter *painter, struct point centre, double length, double angle, double line)
{
	struct path_builder *hand = path_new(painter->scratch);

	path_stroke_line(hand, centre, point_on_circle(centre, length, angle));
	paint_stroke_round(painter, hand, line, COLOUR_INK);
}

void figure_clock(struct painter *painter, const struct clock_figure *figure)
{
	double radius = figure->radius;
	struct path_builder *dial = path_new(painter->scratch);
	double hours = figure->hour % 12 + figure->minute / 60.0;

	path_circle(dial, figure->centre, radius - figure->line / 2);
	paint_fill_and_stroke(painter, dial, COLOUR_WHITE, figure->line, figure->colour);
	if (radius >= NO_TICKS_BELOW)
		draw_ticks(painter, figure->centre, radius, true);
	if (radius >= FEW_TICKS_BELOW)
		draw_ticks(painter, figure->centre, radius, false);
	draw_hand(painter, figure->centre, radius * 0.66, figure->minute * 6 - 90, fmax(radius * 0.045, MINUTE_LEAST));
	draw_hand(painter, figure->centre, radius * 0.44, hours * 30 - 90, fmax(radius * 0.085, HOUR_LEAST));
}
