/*
 * split.h - what the page of a shared container has in normal and in large print.
 */
#ifndef PAGE_SPLIT_H
#define PAGE_SPLIT_H

#include "page/composer.h"

/* How much of the container the first dose leaves: 0.5 is half. */
double split_left_over(const struct draw *draw);

/* There is a line to read rightly or wrongly, and the window that shows reading number 0, 1 or 2 of it. */
bool split_has_readings(const struct split_sheet *sheet);
struct window_figure split_reading(struct composer *composer, const struct split_sheet *sheet, size_t reading,
                                   struct rect frame, double zoom, double numeral);
/* In the corner of its window's frame. */
void split_put_letter(struct composer *composer, const struct reading_window *window, struct rect frame);
/* "Picture E. Wrong, too much: 0.52 mL." */
const char *split_reading_alt(struct composer *composer, const struct split_sheet *sheet, size_t reading);

#endif
