/*
 * pen_geometry.h - a pen's measures, for what is put on it and for what draws it.
 *
 *      needle  cone  cartridge      body  [ 150 ]  knob button
 *     ------<====|===============|=========[window]==|||||]=
 *
 * At a length of PEN_LENGTH mm; for another length all scale alike.
 */
#ifndef PAGE_PEN_GEOMETRY_H
#define PAGE_PEN_GEOMETRY_H

#define PEN_LENGTH 114.0
#define PEN_HEIGHT 11.4

/* Above the tip of an upright one: a drop. */
#define PEN_DROP 11.0

/* The small window, from the needle's tip and from the upper edge. */
#define PEN_WINDOW_X 74.0
#define PEN_WINDOW_Y 2.9
#define PEN_WINDOW_WIDTH 11.0
#define PEN_WINDOW_HEIGHT 5.6

#endif
