/*
 * parts.h - a page as a list of parts, one below the other, with spare height shared between them.
 *
 * A part is put whole; what does not fit goes on to a further page, and only
 * steps break between their rows. Their pictures are as big as the page allows:
 * in two columns with words beside them, else smaller and three or four abreast.
 *
 *     struct page_parts parts = {.title = title, .lead = lead};
 *     parts_add(&parts, first_height_of, put_first_of, sheet);
 *     parts_add_steps(&parts, heading, steps, n, NULL);
 *     put_parts(composer, &parts);
 */
#ifndef PAGE_PARTS_H
#define PAGE_PARTS_H

#include "page/medicine.h"

#define PARTS_MOST 24

struct page_part {
	double (*height)(struct composer *composer, const void *what); /* 0: the sheet lacks it */
	void (*put)(struct composer *composer, const void *what, double y);
	const void *what;
};

/* How the steps of a page are set; put_parts() chooses. */
struct parts_steps {
	const char *heading;
	const char *note; /* at the heading's line's end; or NULL */
	struct step_cell cells[STEP_CELLS_MOST];
	struct step_pairs pairs;
	struct step_row row;
	bool abreast; /* `row`, else `pairs` */
	bool wide;    /* never pairs: the pictures above their words */
};

struct page_parts {
	const char *title;
	const char *lead;
	const char *purpose;    /* a line below the lead of the first page; or NULL */
	enum pictogram picture; /* in the head of the first page */
	struct page_part list[PARTS_MOST];
	size_t n;
	size_t steps_at; /* the place of the steps in the list */
	bool has_steps;
	struct parts_steps steps;
};

void parts_add(struct page_parts *parts, double (*height)(struct composer *composer, const void *what),
               void (*put)(struct composer *composer, const void *what, double y), const void *what);

/* `white_tag` stands beside the step whose words speak of it; or NULL. */
void parts_add_steps(struct page_parts *parts, const char *heading, const struct step *steps, size_t n,
                     const struct mark_words *white_tag);

/* True when one page holds them all. */
bool parts_fit_one_page(struct composer *composer, struct page_parts *parts);

/* The steps have no heading where only so one page holds all: their page's title says the same. */
void parts_spare_heading(struct composer *composer, struct page_parts *parts);

/* The height of a further page of these. */
double parts_room(struct composer *composer, const char *title, const char *lead);

/* Opens pages and fills them. */
void put_parts(struct composer *composer, struct page_parts *parts);

/* The shared parts of a sheet as parts of a page: `what` is a struct medicine_sheet. */
/* Those of a sheet's front: none yet, its head says what the medicine is for. */
struct page_parts parts_of_front(const struct medicine_sheet *sheet);

/* The sheet's caution, and when to call at once. */
void parts_add_must_know(struct page_parts *parts, const struct medicine_sheet *sheet);
void parts_add_lay_out(struct page_parts *parts, const struct medicine_sheet *sheet);
void parts_add_first(struct page_parts *parts, const struct medicine_sheet *sheet);
void parts_add_place(struct page_parts *parts, const struct medicine_sheet *sheet);
void parts_add_notes(struct page_parts *parts, const struct medicine_sheet *sheet);

#endif
