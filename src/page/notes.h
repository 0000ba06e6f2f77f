/*
 * notes.h - lines to write on below what a page holds.
 */
#ifndef PAGE_NOTES_H
#define PAGE_NOTES_H

#include "page/composer.h"

/*
 * From `y` to the end of a page that goes on from another and would be left
 * mostly empty; nothing on any other page, nor where the handout has no lines.
 */
void fill_with_lines(struct composer *composer, double y);

#endif
