/*
 * numbering.h - which pages the sections of a packet stand on, and what a section read of that.
 *
 * A text that names another section's page is right only as long as that page
 * keeps its number. So each section is placed by one state of the numbers and
 * remembers which of them it read; it need not be placed again while these, and
 * the lengths of its own numbers, are what they were.
 */
#ifndef PAGE_NUMBERING_H
#define PAGE_NUMBERING_H

#include "handout/handout.h"

/* A part of a section, and the index of its page. */
struct noted_part {
	const void *part;
	int index;
};

struct section_pages {
	int first; /* number of its first page; 0: it has none */
	int n;
	int back;   /* the index of the page on which a sheet's back begins; 0: it has none */
	int line;   /* the same of the page with the line for the patient, where pages for mixing come before it */
	int *steps; /* by a step's number, the index of its page, counted from 1; 0: it is none of them */
	size_t n_steps;
	struct noted_part *parts;
	size_t n_parts;
};

struct numbering {
	struct section_pages *sections; /* one a section of the handout */
	size_t n_sections;
	int n_patient; /* how many pages are numbered 1, 2 ... */
	int n_staff;   /* S1, S2 ... */
	int n_notice;  /* C1, C2 ... */
};

/* What a section may read of another, or of itself. */
enum page_fact { FACT_FIRST = 1, FACT_COUNT = 2, FACT_BACK = 4, FACT_LINE = 8, FACT_STEPS = 16, FACT_PARTS = 32 };

/* No section stands on a page yet. */
struct numbering *numbering_blank(struct arena *arena, size_t n_sections);

/* True while all facts that were read, `read` being a set of enum page_fact a section, are equal in both. */
bool numbering_agrees(const struct numbering *a, const struct numbering *b, const unsigned char *read);

/* How many pages the packet has that are numbered as those of `section` are. */
int numbering_in_all(const struct numbering *numbers, const struct section *section);

/* "6", "S1", "C1". */
const char *numbering_label(struct arena *arena, const struct section *section, int number);

/* How many digits a page's number has. */
int numbering_digits(int number);

#endif
