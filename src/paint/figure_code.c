#include "paint/figures.h"
#include "paint/painter.h"

#include <assert.h>
#include <qrencode.h>

/* A bar is a little higher than its row, so that no viewer shows a seam between rows. */
#define BAR_HEIGHT 1.02

/*
 * Dark modules as bars, one path for all: stroked at once, in half the numbers
 * that filled boxes would take. The quiet zone is the page's to keep.
 */
static void add_row(struct path_builder *path, const unsigned char *row, int width, struct point at, double module)
{
	for (int from = 0; from < width;) {
		int to = from;
		while (to < width && (row[to] & 1))
			to++;
		if (to > from)
			path_stroke_line(path, (struct point){at.x + from * module, at.y + module / 2},
			                 (struct point){at.x + to * module, at.y + module / 2});
		from = to + 1;
	}
}

void figure_code(struct painter *painter, const struct code_figure *figure)
{
	QRcode *code = QRcode_encodeString(figure->payload, 0, QR_ECLEVEL_M, QR_MODE_8, 1);

	/* Payloads are our own short codes: they always fit a symbol. */
	assert(code);
	struct path_builder *path = path_new(painter->scratch);
	double module = figure->size / code->width;
	for (int y = 0; y < code->width; y++)
		add_row(path, code->data + y * code->width, code->width,
		        (struct point){figure->at.x, figure->at.y + y * module}, module);
	QRcode_free(code);
	paint_stroke(painter, path, module * BAR_HEIGHT, COLOUR_INK);
}
