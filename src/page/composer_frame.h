/*
 * composer_frame.h - what stands around a page's content: its head, its foot and its numbers. For composer.c alone.
 */
#ifndef PAGE_COMPOSER_FRAME_H
#define PAGE_COMPOSER_FRAME_H

#include "page/composer.h"

/* Where a page's numbers go, which are put last: how many pages there are is known only then. */
struct page_numbers {
	double label_y; /* cap top of the large number at the head's end */
	double of_end;  /* of "page 6 of 12" */
	double of_y;
	double foot; /* the foot's rule */
};

/*
 * Puts the head of the page that is opened, which will have this number or another of as many digits, and on a draft the
 * band; sets where its content begins and ends.
 */
struct page_numbers frame_begin(struct composer *composer, const char *title, const char *lead, enum pictogram sign,
                                int number);

/* Puts the foot. */
void frame_end(struct composer *composer);

/* Puts the number, "page 6 of 12", and the code, which has the label. */
void frame_put_numbers(struct composer *composer, const struct page_numbers *at, int number, const char *label);

#endif
