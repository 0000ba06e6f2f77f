/*
 * save.h - drawn pages to a file; a failure becomes a finding of the session.
 */
#ifndef CLI_SAVE_H
#define CLI_SAVE_H

#include "cli/session.h"
#include "pdf/pdf.h"

/* Draws `n` pages and saves them at `path`, whole or not at all. */
void save_pages(struct session *session, const char *path, enum drawing_kind kind,
                const struct drawing_options *options, const struct placed_page *pages, size_t n);

/* Some or all pages of a patient's packet as a PDF file, titled and in its language. */
void save_packet(struct session *session, const struct made *made, const char *path, const struct placed_page *pages,
                 size_t n);

#endif
