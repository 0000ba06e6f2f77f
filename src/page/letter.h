/*
 * letter.h - the letter by which steps cite a picture: bold in a thin circle, never filled, since black says stop.
 */
#ifndef PAGE_LETTER_H
#define PAGE_LETTER_H

#include "page/composer.h"

/* How wide and high a letter's circle is. */
double letter_size(const struct composer *composer);

/* The circle's left top corner is at `at`; it may stand in another mark. NULL puts nothing. */
void put_letter(struct composer *composer, const char *letter, struct point at);

/* In the corner of a magnifier's or a dial window's frame. */
void put_window_letter(struct composer *composer, struct rect frame, const char *letter);

#endif
