/*
 * document.h - the device's PDF end; inside pdf only, pdf.h chooses it.
 *
 * Content streams are written as they are painted, fonts and objects when the
 * file is finished: what is in the file is what was painted and nothing else.
 */
#ifndef PDF_DOCUMENT_H
#define PDF_DOCUMENT_H

#include "pdf/pdf.h"

bool is_document(const struct device *device);
struct device *document_new(const struct drawing_options *options);

/* As drawing_begin_packet(). */
void document_begin_packet(struct device *device, const struct drawing_packet *packet);

/* As drawing_finish() and drawing_free(). */
bool document_finish(struct device *device, const unsigned char **bytes, size_t *n);
void document_free(struct device *device);

#endif
