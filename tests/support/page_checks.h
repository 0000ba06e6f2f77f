/*
 * page_checks.h - what must hold on every placed page, and ways to look things up on one.
 */
#ifndef SUPPORT_PAGE_CHECKS_H
#define SUPPORT_PAGE_CHECKS_H

#include "page/placed.h"

/*
 * What is wrong with a page, one fault a line, in `arena`; "" when nothing is:
 * a group left open, ink outside the live column or the paper's printable part,
 * marks on one another, a text across a frame or a rule, a type size below the
 * least, a table whose rows differ in length.
 */
const char *page_faults(struct arena *arena, const struct placed_page *page);

/* The same for all pages, in large print with its own least size, each fault with its page's label. */
const char *packet_faults(struct arena *arena, const struct placed_packet *packet);

/* How many texts of the page are exactly `text` (without bold switches), or begin with it. */
size_t count_text(const struct placed_page *page, const char *text);
size_t count_text_beginning(const struct placed_page *page, const char *text);

/* The first text mark that is exactly `text`; NULL where there is none. */
const struct placed_mark *find_text(const struct placed_page *page, const char *text);

/* How many tags have this number. */
size_t count_tags(const struct placed_page *page, const char *number);

/* The page of a label; NULL where there is none. */
const struct placed_page *find_page(const struct placed_packet *packet, const char *label);

/* A text with plain spaces in place of those at which no line breaks. */
const char *plain_spaces(struct arena *arena, const char *text);

#endif
