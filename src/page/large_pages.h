/*
 * large_pages.h - a kind of section in large print: one function each, that its normal one hands over to.
 */
#ifndef PAGE_LARGE_PAGES_H
#define PAGE_LARGE_PAGES_H

#include "page/large.h"

void large_overview(struct composer *composer, const struct overview *overview);
void large_grid(struct composer *composer, const struct grid *grid);
void large_medicine_front(struct composer *composer, const struct medicine_sheet *sheet);
void large_medicine_back(struct composer *composer, const struct medicine_sheet *sheet);
void large_pen(struct composer *composer, const struct pen_sheet *sheet);
void large_pens(struct composer *composer, const struct pens_sheet *sheet);
void large_counted(struct composer *composer, const struct counted_sheet *sheet);
void large_split(struct composer *composer, const struct split_sheet *sheet);
void large_supplies(struct composer *composer, const struct supplies_sheet *sheet);
void large_before(struct composer *composer, const struct before_sheet *sheet);
void large_notes(struct composer *composer, const struct notes_sheet *sheet);

/* So few pieces that each can be shown. */
bool supplies_has_squares(const struct supply_row *row);
/* One piece of what is counted: solid is at home, open is to get. Its outer edges are `size` apart. */
void supplies_put_square(struct composer *composer, double x, double y, double size, bool solid);

#endif
