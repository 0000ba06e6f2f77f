/*
 * compose.h - a handout's sections placed on pages of one paper.
 *
 * Page numbers are known only once every section is placed. So a section is
 * placed by the numbers known so far, and again where one that it shows changes.
 */
#ifndef PAGE_COMPOSE_H
#define PAGE_COMPOSE_H

#include "page/placed.h"

/*
 * Places the whole packet. NULL, with a stop, when something cannot be placed:
 * a glyph that no font has, a name too long to fit, numbers that never settle.
 * Lives in `arena`; its text blocks belong to `typesetter`.
 */
const struct placed_packet *compose_packet(struct arena *arena, const struct handout *handout,
                                           struct typesetter *typesetter, struct findings *findings);

#endif
