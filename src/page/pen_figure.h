/*
 * pen_figure.h - a pen set to its number: the pen, the fill mark on its window, and the window close.
 *
 *                    [dial 150]        .-------------.
 *                        \/            |     137.5   |
 *     --<====|==========[150]===|||]   |  >   150  --|
 *                                      |     162.5   |
 *     what to do                       '-------------'
 *                                      The window.
 *
 * In large print the window, as large as its type asks for, stands below.
 */
#ifndef PAGE_PEN_FIGURE_H
#define PAGE_PEN_FIGURE_H

#include "page/composer.h"

/* How wide what stands left of the window is. */
double pen_text_width(const struct composer *composer, const struct pen_view *view);

/* From the tag's top to the lower edge of the pen. */
double pen_figure_drop(struct composer *composer, const struct pen_view *view);
/* From the tag's top to the end of the window's caption; 0 where the window stands below the text. */
double pen_window_drop(struct composer *composer, const struct pen_view *view);
/* Its start edge where it stands beside the pen. */
double pen_window_x(struct composer *composer, const struct pen_view *view);
/* What the window and its caption take up below the text; 0 where they stand beside it. */
double pen_window_below(struct composer *composer, const struct pen_view *view);

/* Pen and tag with the tag's top at `y`, and the window where it stands beside them. A figure of its own. */
void put_pen_figure(struct composer *composer, const struct pen_view *view, double y);
/* The window where it stands below. */
void put_pen_window_below(struct composer *composer, const struct pen_view *view, double y);

/* The window alone, with the tag's point on its frame: for one of many. Its size comes from measure_pen_window(). */
struct rect measure_pen_window(struct composer *composer, const struct pen_view *view);
void put_pen_window(struct composer *composer, const struct pen_view *view, double x, double y);

/* A pen alone, set to a number, with that in a tag on its window: for one of many. Returns the tag. */
double pen_and_tag_height(struct composer *composer, struct mark_words mark, double size);
struct rect put_pen_and_tag(struct composer *composer, struct mark_words mark, double size, double x, double y);

/* A pen standing on its end, needle up, with a drop at its tip; `height` is of both. */
void put_pen_upright(struct composer *composer, double x, double y, double height);

#endif
