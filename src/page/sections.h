/*
 * sections.h - one function a kind of section: it opens pages and fills them.
 *
 * Each finds composer->section to be the one to place and opens its pages with
 * composer_new_page(). What does not fit goes on to a further page; what cannot
 * fit becomes a stop in composer->findings.
 */
#ifndef PAGE_SECTIONS_H
#define PAGE_SECTIONS_H

#include "page/composer.h"

/* The one of the composer's section. */
void section_place(struct composer *composer);

void overview_place(struct composer *composer, const struct overview *overview);
void grid_place(struct composer *composer, const struct grid *grid);
void medicine_place(struct composer *composer, const struct medicine_sheet *sheet);
void split_place(struct composer *composer, const struct split_sheet *sheet);
void pen_place(struct composer *composer, const struct pen_sheet *sheet);
void pens_place(struct composer *composer, const struct pens_sheet *sheet);
void counted_place(struct composer *composer, const struct counted_sheet *sheet);
void exact_place(struct composer *composer, const struct exact_sheet *sheet);
void waiting_place(struct composer *composer, const struct waiting_sheet *sheet);
void options_place(struct composer *composer, const struct options_sheet *sheet);
void change_place(struct composer *composer, const struct change_sheet *sheet);
void notes_place(struct composer *composer, const struct notes_sheet *sheet);
void supplies_place(struct composer *composer, const struct supplies_sheet *sheet);
void before_place(struct composer *composer, const struct before_sheet *sheet);
void teach_place(struct composer *composer, const struct teach_sheet *sheet);
void check_place(struct composer *composer, const struct check_sheet *sheet);
void blind_place(struct composer *composer, const struct blind_sheet *sheet);

#endif
