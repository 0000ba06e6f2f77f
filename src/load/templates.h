/*
 * templates.h - pages.yaml and steps/: which pages in which order, and the steps of each technique.
 */
#ifndef LOAD_TEMPLATES_H
#define LOAD_TEMPLATES_H

#include "load/values.h"
#include "model/template.h"

/* Takes the order of pages. A clinic's may only name pages that the program's `known` order has; NULL: it is that. */
void read_pages(const struct reader *reader, const struct raw_pages *raw, const struct page_templates *known,
                struct page_templates *templates);

/*
 * Adds a technique, or replaces the lists that the file has of the one of that
 * name. `own`: the file is the clinic's.
 */
void read_technique(const struct reader *reader, const struct raw_technique *raw, bool own,
                    struct page_templates *templates);

#endif
