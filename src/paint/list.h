/*
 * list.h - an end of the device that paints nothing and writes down everything: for tests.
 *
 * Entries stand in the order of the calls, which is the reading order. All
 * rectangles are mm on the paper, whatever was scaled or turned.
 */
#ifndef PAINT_LIST_H
#define PAINT_LIST_H

#include "paint/device.h"

enum list_kind { LIST_PAGE, LIST_GROUP, LIST_MARK, LIST_TEXT, LIST_LINK };

struct list_entry {
	enum list_kind kind;
	int page;  /* counted from 0 */
	int depth; /* in how many groups, marks and links it stands; a text's own mark does not count */
	/* PAGE: the paper. MARK: what it says it takes up. TEXT: its ink. LINK: where to click. */
	struct rect area;
	/*
	 * PAGE, GROUP, MARK, LINK: around all ink within; `has_ink` false when there is none.
	 * Lines count with their width, curves with their control points, and what
	 * is clipped only as far as it shows.
	 */
	struct rect ink;
	bool has_ink;
	const char *text; /* PAGE, LINK: a label. GROUP: spoken text. TEXT: its words. MARK: NULL */
	/* GROUP */
	enum role role;
	enum scope scope;
	int columns; /* that a cell stands across; 0: one */
	const char *language;
	/* MARK */
	enum mark_kind mark;
	bool inside;
	/* TEXT */
	enum colour colour;
	double size; /* pt as painted */
	int missing_glyphs;
	bool artifact; /* TEXT, MARK: a group around it is ROLE_ARTIFACT */
};

struct list {
	const struct list_entry *entries;
	size_t n;
};

/* A device whose list lives in `arena`; it needs no freeing. */
struct device *list_new(struct arena *arena);

/* What was painted so far; valid until the next call to the device. */
struct list list_of(const struct device *device);

/*
 * One entry a line, indented by depth:
 *
 *     page 1 210.00 x 297.00
 *       h1
 *         text 15.10 12.00 40.21 x 6.13 26pt ink "Day by day"
 *       figure "Stop on 0.5 mL"
 *         syringe 15.00 80.00 120.00 x 9.00
 */
const char *list_print(struct arena *arena, struct list list);

#endif
