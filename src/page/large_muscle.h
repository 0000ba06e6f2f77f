/*
 * large_muscle.h - in large print the pages for the one who helps, where a dose goes into the muscle.
 */
#ifndef PAGE_LARGE_MUSCLE_H
#define PAGE_LARGE_MUSCLE_H

#include "page/large.h"

/* `rest`: also what the back left: the squares of a vial, keep, throw away, late. */
void large_muscle(struct composer *composer, const struct medicine_sheet *sheet, bool rest);

#endif
