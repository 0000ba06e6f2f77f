/*
 * intake_index.h - which rows are whose, without the rows: a few dozen bytes for each, on disk.
 *
 * One pass over the intake adds a piece for every row (or resource): where its
 * bytes stand, and digests of the record and name in it. Then the index is
 * closed, and patients can be asked for by number, in the order in which the
 * intake first names them. A piece that belongs to nobody is a group of its own.
 */
#ifndef LOAD_INTAKE_INDEX_H
#define LOAD_INTAKE_INDEX_H

#include "load/file.h"

#include <stdint.h>

/* A record number or a name as it is compared: the start of its SHA-256. Two of one digest are one. */
struct index_key {
	uint64_t high;
	uint64_t low;
};

struct index_piece {
	struct index_key record;
	uint64_t name;   /* the start of the name's digest; 0: none */
	uint64_t offset; /* of its bytes in the file */
	uint32_t length;
	uint32_t row;
	uint32_t file; /* of several, counted from 0 */
	uint32_t flags;
};

enum piece_flag {
	PIECE_ALONE = 1,    /* belongs to nobody: its record cannot be read */
	PIECE_DOUBTFUL = 2, /* a piece that belongs to nobody may be of this patient */
	PIECE_OF_TWO = 4,   /* alone, since it names two patients */
	PIECE_WHO = 8       /* of several that are one patient's, the one that says who that is */
};

struct intake_index;

struct index_key index_key_of(const char *text);

/* Of two `struct index_key`, as qsort() and bsearch() would have it. */
int index_key_compare(const void *left, const void *right);

/* Grows in `folder`; NULL with errno where the system would not. */
struct intake_index *intake_index_new(const char *folder);
void intake_index_free(struct intake_index *index);

/* Each returns false, with errno, where the disk is full. */
bool intake_index_add(struct intake_index *index, const struct index_piece *piece);
/*
 * A word of a piece that belongs to nobody: a patient with that record is doubtful,
 * or with that name, where the low half is 0.
 */
bool intake_index_mention(struct intake_index *index, struct index_key word);
bool intake_index_close(struct intake_index *index);

/* Of a closed index: how many groups (patients, and pieces alone), and the pieces of one in the file's order. */
size_t intake_index_groups(const struct intake_index *index);
const struct index_piece *intake_index_group(const struct intake_index *index, size_t number, size_t *n);

/* The pieces of a record; NULL: it has none. */
const struct index_piece *intake_index_find(const struct intake_index *index, struct index_key record, size_t *n);

/* True where some group has this record. */
bool intake_index_has(const struct intake_index *index, struct index_key record);

#endif
