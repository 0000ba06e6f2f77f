/*
 * geometry.h - points and rectangles on a page: millimetres, y grows downward.
 */
#ifndef TEXT_GEOMETRY_H
#define TEXT_GEOMETRY_H

struct point {
	double x;
	double y;
};

struct rect {
	double x;
	double y;
	double width;
	double height;
};

/* One typographic point in millimetres. */
#define POINT_MM (25.4 / 72.0)

#endif
