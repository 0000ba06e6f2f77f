/*
 * pdf.h - the ends of the device that make files: PDF, and one figure as SVG or PNG.
 *
 * A PDF is tagged for screen readers: roles, spoken texts, languages and scopes
 * of its groups, artifacts apart (PDF/UA-1). The same calls give the same bytes:
 * neither clock, machine, folder nor language of the user enters the file.
 */
#ifndef PDF_PDF_H
#define PDF_PDF_H

#include "base/worker.h"
#include "paint/device.h"

struct drawing_options {
	bool mono;             /* colours by the design's table for black and white, not by luminance */
	const char *title;     /* of the document; never a person's name */
	const char *language;  /* "en": of what is not in a group of another one */
	struct worker *worker; /* compresses a PDF's pages while the next are painted; NULL: none does */
};

enum drawing_kind { DRAWING_PDF, DRAWING_SVG, DRAWING_PNG };

/*
 * A device whose bytes are fetched by drawing_finish(). An SVG or PNG holds one
 * page, of the size of `page`; a PDF any number, each of its own size. The
 * options must outlive the device; of a PDF's pages only the fonts must.
 */
struct device *drawing_new(enum drawing_kind kind, const struct drawing_options *options, struct rect page);

/*
 * Several packets in one PDF: all that is painted from here on is of this one. A
 * bookmark leads to it in place of one for each heading, and its links lead to
 * its own pages; one to a page that is not among `labels` leads nowhere.
 */
struct drawing_packet {
	const char *title;
	const char *language; /* that it is read aloud in */
	const char *const *labels;
	size_t n_labels;
};

void drawing_begin_packet(struct device *device, const struct drawing_packet *packet);

/*
 * Ends the file; by now every link's page must have been painted. The bytes
 * live until drawing_free(). False when the file could not be made.
 */
bool drawing_finish(struct device *device, const unsigned char **bytes, size_t *n);

void drawing_free(struct device *device);

#endif
