/*
 * structure.h - what the ink of a PDF means: the tree that a screen reader follows; inside pdf only.
 *
 *     Document
 *       Sect            from the pages' groups
 *         H1, P, Table, Figure with its spoken text ...
 *
 * A page's content names pieces of itself by numbers that count from 0 on each
 * page; an element holds such pieces and other elements, in reading order
 * (ISO 32000-1, 14.7 and 14.8; PDF/UA-1).
 */
#ifndef PDF_STRUCTURE_H
#define PDF_STRUCTURE_H

#include "base/arena.h"
#include "pdf/objects.h"

/* An element's number; the whole document is 0. */
typedef int element_ref;

struct element_words {
	const char *type;     /* "H1" */
	const char *alt;      /* spoken in place of a figure; or NULL */
	const char *language; /* where it differs from what is around; or NULL */
	const char *scope;    /* "Row", "Column": of a head cell; or NULL */
	int columns;          /* of a table that a cell stands across; 0: one */
};

struct structure;

/* An empty tree that lives in `arena`. Types and scopes are literals, all other words are copied. */
struct structure *structure_new(struct arena *arena);

element_ref structure_add(struct structure *structure, element_ref parent, struct element_words words);

/* The items of the list that holds this one are numbered: each has a label. */
void structure_number(struct structure *structure, element_ref item);

/* A new piece of page number `page`, from 0, that belongs to the element; its number on the page. */
int structure_add_piece(struct structure *structure, element_ref element, int page);

/* The element is annotation number `link` of the document as well. */
void structure_add_link(struct structure *structure, element_ref element, int page, int link);

/* Writes the tree into the catalogue: pages by number, annotations by number. */
void structure_write(const struct structure *structure, qpdf_data file, const qpdf_oh *pages, size_t n_pages,
                     const qpdf_oh *links, size_t n_links);

#endif
