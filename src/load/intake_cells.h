/*
 * intake_cells.h - a patient's cells, by the map, into the tree of a plan.
 *
 * What the map says about numbers, dates and codes is applied here and nowhere
 * else: the tree has amounts with a decimal point, dates year first, our own
 * ids. All else is left to the checks that every plan goes through.
 */
#ifndef LOAD_INTAKE_CELLS_H
#define LOAD_INTAKE_CELLS_H

#include "load/intake_map.h"
#include "load/tree.h"

/* One row of a patient: its cells without the spaces around them. */
struct cell_row {
	uint32_t number;
	const char *const *cells;
	size_t n;
};

struct cell_reading {
	struct arena *arena;
	struct findings *findings;
	const struct clinic *clinic;
	const struct intake_map *map;
	const struct source_file *file;
	const int *positions; /* of each of the map's columns in a row, from 0; -1: a constant */
	const char *as_of;    /* of the command line, or NULL */
	const struct cell_row *rows;
	size_t n_rows;
};

/* What a cell says without the spaces that typists and exports leave around it. */
const char *cell_trimmed(struct arena *arena, const char *text);

/* The text of a mapped column in a row; "" where it is empty. */
const char *cell_text(const struct cell_reading *reading, size_t row, const struct map_column *column);

/* The place of a column's cell. */
struct place cell_place(const struct cell_reading *reading, size_t row, const struct map_column *column);

/* The tree; what is wrong is in the findings, and its value then lacks. */
struct node *cells_tree(const struct cell_reading *reading);

/* What one cell is read as, for people: "2026-12-14 21:30"; with findings. "" for an empty one. */
const char *cell_value(const struct cell_reading *reading, size_t row, const struct map_column *column);

#endif
