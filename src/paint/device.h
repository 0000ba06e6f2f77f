/*
 * device.h - the one interface that all painting goes through.
 *
 * Paint speaks to a device and never to a graphics library, so that the PDF
 * end can change its engine, its tagging or its finishing without a page
 * noticing. Ends exist for PDF (and SVG, PNG) in pdf/, and a list for tests.
 *
 * Content arrives in reading order, between begin_group and end_group; a
 * group of ROLE_ARTIFACT is not read aloud. Lengths are mm, y downward.
 * Errors stick: after the first one further calls do nothing, and the end's
 * finish function reports it.
 */
#ifndef PAINT_DEVICE_H
#define PAINT_DEVICE_H

#include "page/placed.h"

enum segment_kind { SEGMENT_MOVE, SEGMENT_LINE, SEGMENT_CURVE, SEGMENT_CLOSE };

struct segment {
	enum segment_kind kind;
	struct point to;
	struct point control_1; /* SEGMENT_CURVE */
	struct point control_2;
};

struct path {
	const struct segment *segments;
	size_t n;
};

enum line_cap { CAP_BUTT, CAP_ROUND };

struct ink {
	enum colour fill;   /* COLOUR_NONE: not filled */
	enum colour stroke; /* COLOUR_NONE: not stroked */
	double line;        /* mm */
	double dash;        /* mm of each dash and gap; 0: solid */
	enum line_cap cap;
	bool even_odd;
};

/* x' = a x + c y + e; y' = b x + d y + f. */
struct matrix {
	double a, b, c, d, e, f;
};

struct device;

struct device_end {
	void (*begin_page)(struct device *device, const struct placed_page *page);
	void (*end_page)(struct device *device);
	void (*begin_group)(struct device *device, const struct group *group);
	void (*end_group)(struct device *device);
	void (*path)(struct device *device, const struct path *path, const struct ink *ink);
	void (*text)(struct device *device, const struct text_block *block, struct point at, enum colour colour);
	void (*push_clip)(struct device *device, const struct path *path); /* saves, then clips */
	void (*push_matrix)(struct device *device, const struct matrix *matrix);
	void (*pop)(struct device *device); /* undoes the last push */
	/* What is between leads to the page of that label when `area` is clicked; `words` say so. */
	void (*begin_link)(struct device *device, struct rect area, const char *label, const char *words);
	void (*end_link)(struct device *device);
	/* A placed mark, no group, begins or ends: its kind and area, for ends that list; may be NULL. */
	void (*begin_mark)(struct device *device, const struct placed_mark *mark);
	void (*end_mark)(struct device *device);
};

/* The head of every end's own struct. */
struct device {
	const struct device_end *end;
};

#endif
