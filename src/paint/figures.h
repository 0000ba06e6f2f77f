/*
 * figures.h - every drawn mark of a placed page, one function each.
 *
 * All read their measures from the mark and from page/syringe_geometry.h and
 * page/tag_geometry.h; none decides where it stands.
 */
#ifndef PAINT_FIGURES_H
#define PAINT_FIGURES_H

#include "page/placed.h"

struct painter;

/* Those that must be true to a tenth of a millimetre: figure_syringe.c, figure_ruler.c. */
void figure_syringe(struct painter *painter, const struct syringe_figure *figure);
void figure_needle(struct painter *painter, const struct needle_figure *figure);
void figure_ruler(struct painter *painter, const struct ruler_figure *figure);
void figure_card(struct painter *painter, const struct card_figure *figure);

void figure_window(struct painter *painter, const struct window_figure *figure);
void figure_tag(struct painter *painter, const struct tag *tag);
void figure_pen(struct painter *painter, const struct pen_figure *figure);
void figure_dial(struct painter *painter, const struct dial_figure *figure);
void figure_clock(struct painter *painter, const struct clock_figure *figure);
void figure_code(struct painter *painter, const struct code_figure *figure);
void figure_side(struct painter *painter, const struct side_figure *figure);
void figure_body(struct painter *painter, const struct body_figure *figure);
void figure_back(struct painter *painter, const struct back_figure *figure);
void figure_corner(struct painter *painter, const struct corner_figure *figure);
void figure_hatch(struct painter *painter, const struct hatch_figure *figure);
void figure_seal(struct painter *painter, const struct seal_figure *figure);
void figure_knot(struct painter *painter, const struct knot_figure *figure);

/* Pictograms: figure_pictogram.c. Nothing for PICTURE_NONE. */
void figure_picture(struct painter *painter, const struct picture *picture);

/* Step pictures: step_*.c. The name is one that page/step_names.h knows. */
void figure_step(struct painter *painter, const struct step_picture *step);

#endif
