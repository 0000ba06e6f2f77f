#include "pdf/pdf.h"

#include "pdf/document.h"
#include "pdf/drawing.h"

struct device *drawing_new(enum drawing_kind kind, const struct drawing_options *options, struct rect page)
{
	return kind == DRAWING_PDF ? document_new(options) : cairo_drawing_new(kind, options, page);
}

void drawing_begin_packet(struct device *device, const struct drawing_packet *packet)
{
	document_begin_packet(device, packet);
}

bool drawing_finish(struct device *device, const unsigned char **bytes, size_t *n)
{
	return is_document(device) ? document_finish(device, bytes, n) : cairo_drawing_finish(device, bytes, n);
}

void drawing_free(struct device *device)
{
	if (is_document(device))
		document_free(device);
	else
		cairo_drawing_free(device);
}
