/*
 * large_line.h - a line to stop on in large print: the syringe unscaled, everything else larger.
 */
#ifndef PAGE_LARGE_LINE_H
#define PAGE_LARGE_LINE_H

#include "page/large.h"

#define LARGE_WINDOW_WIDTH 88.0
#define LARGE_WINDOW_NUMERAL 22.0

struct large_line {
	struct line_look look; /* its tag has the size for large print */
	const char *heading;   /* "Stop on this line" */
	const char *scale;     /* "of the insulin syringe", or NULL */
	const char *size;      /* "True size ..." */
	const char *text;      /* "The ring nearest the needle touches ..." */
	const char *letter;    /* of the syringe's picture, and of its line seen close; either may be NULL */
	const char *window_letter;
	const char *alt;
};

/* How many times bigger the window is, and how high its frame. */
double large_window_zoom(const struct syringe *syringe);
double large_window_height(const struct syringe *syringe, double zoom);

/* Adds the line with its window, as one block; `line` must live as long as the pages are placed. */
void large_add_line(struct large_blocks *blocks, const struct large_line *line);

/* The check of the printer: a ruler and its words. */
void large_add_ruler(struct large_blocks *blocks, const char *heading, const char *text, bool flag);

#endif
