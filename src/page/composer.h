/*
 * composer.h - the sheet in the making: paper, type, page heads and feet, and what puts marks on a page.
 *
 *        12  Title                                    6     <- cap tops
 *            lead                           page 6 of 12
 *        29  _____________________________________________
 *        34  content                                        <- composer->top
 *            ...
 *       270                                                 <- composer->bottom (A4)
 *            _____________________________________________
 *            Unsure? Stop, call.  Day ...      K7Q4-MX2T-9  #
 *            patient                  version 2 · signed    #
 *
 * Live from composer->left, 180 wide on every paper, so that nothing of true
 * size is ever rescaled; a shorter paper has smaller gaps.
 *
 * A y is a cap top unless it is said otherwise, and what a put function returns
 * reaches from there to the last baseline: so gaps are counted between letters.
 * Put things in reading order. Groups must close on the page they opened on.
 */
#ifndef PAGE_COMPOSER_H
#define PAGE_COMPOSER_H

#include "page/mirror.h"
#include "page/numbering.h"
#include "page/placed.h"
#include "page/tag_geometry.h"

#define LIVE_WIDTH 180.0

/*
 * What may be missing where something is asked whether it fits, mm: a hundredth is seen by nobody, and sums of the same
 * lengths differ by less, added up in another order.
 */
#define TOLERANCE 0.01

/* Steps between things that belong together, and the least and most between sections. */
#define GAP_1 1.5
#define GAP_2 3.0
#define GAP_3 4.5
#define GAP_4 6.0
#define GAP_5 9.0
#define SECTION_GAP_LEAST 4.5
#define SECTION_GAP_MOST 11.0

/* What a text is for; each has a size for normal and for large print. */
enum type_role {
	TYPE_CAPTION,   /* scale numerals, captions of what is written by hand */
	TYPE_REFERENCE, /* dates, slots, page references, which half */
	TYPE_BODY,
	TYPE_LEAD, /* names too */
	TYPE_SECTION,
	TYPE_DAY, /* the number of a day in the grid */
	TYPE_TITLE,
	TYPE_MARK, /* the fill mark on a medicine page */
	TYPE_MARK_DEVICE,
	TYPE_MARK_GRID
};

/* Each gives up what the one before does, and more. */
enum closeness {
	ROOMY,
	CLOSE, /* parts that have a closer form take it: a place without its body, things in lines */
	TIGHT  /* less between parts, smaller pictures of things */
};

struct page_draft; /* a page in the making: composer.c alone */
struct open_marks; /* what stands on the open one: composer.c alone */

struct composer {
	struct arena *arena;
	const struct handout *handout;
	struct typesetter *typesetter;
	struct findings *findings;
	const struct section *section; /* the one being placed */
	struct speaker *speaker;       /* the patient's or the staff's language */

	double width; /* of the paper */
	double height;
	double left; /* live column */
	double right;
	double top; /* of the content */
	double bottom;
	bool large_print;
	bool one_needle;          /* on the sheet being placed, for drawing and injecting */
	double dose_ring;         /* of the sheet being placed, for its steps' pictures: struct step_picture; 0: none */
	enum closeness closeness; /* what a page short of room gives up */
	double spared;            /* of every page's height: left empty, so that a reference may grow by a line */
	int digits_least;         /* of page numbers, however small they are: room that does not change with them */

	struct page_draft *pages; /* of the section so far; the last one is open */
	size_t n_pages;
	struct open_marks *marks;            /* of the open page; NULL before the first mark */
	struct section_pages own;            /* of the section so far; where it begins is in `numbers` */
	const struct numbering *numbers;     /* by which it is placed */
	unsigned char *read;                 /* of each section, the facts that were read: enum page_fact */
	char widest_digits[WEIGHT_BOLD + 1]; /* of each weight, once known; 0 before */
	int open_groups;
	bool under_h2;          /* the open page has a heading of level 2 */
	int inside;             /* above 0: marks may stand on others */
	bool right_to_left;     /* pages of this section are mirrored when they are closed */
	struct turning turning; /* how what is put now is mirrored then */
};

/* Room for the marks of an open page: one composer's after the other. */
struct open_marks *open_marks_new(struct arena *arena);

/* Ready to place a section by these numbers; NULL: none is known. */
struct composer composer_of(struct arena *arena, const struct handout *handout, struct typesetter *typesetter,
                            struct findings *findings, const struct numbering *numbers, section_ref section);

/* A section on its pages, which have no numbers yet. */
struct placed_section {
	struct section_pages own; /* but for where it begins */
	const struct page_draft *pages;
	const struct numbering *numbers; /* by which it was placed, */
	const unsigned char *read;       /* what it read of them */
	double spared;                   /* and what was left empty, or kept for numbers */
	int digits_least;
};

/* Closes the last page. */
const struct placed_section *composer_finish(struct composer *composer);

/* True while placing it again, as `composer` is ready to do, would come to the same. */
bool placed_section_stands(const struct placed_section *placed, const struct composer *composer);

/*
 * A page of it with its number, "page 6 of 12" and code, as the composer's
 * numbers have them. Only what is as wide with any number of so many digits
 * depends on them, so they are put last.
 */
struct placed_page composer_number_page(struct composer *composer, const struct placed_section *placed, int index);

/* ---- pages ---- */

/*
 * Opens a page of the section with head, foot and, on a draft, the band; what
 * was open before is closed. Content starts at composer->top, in a ROLE_SECTION
 * group that is closed with the page. A long title or lead takes further lines
 * and moves the content down; without a lead (NULL) the content moves up.
 */
void composer_new_page(struct composer *composer, const char *title, const char *lead);

/* A further page of what has this title: "..., continued". */
void composer_continue(struct composer *composer, const char *title, const char *lead);

/* A new page with a sign before the page number, so that pages for morning and evening are not mixed up. */
void composer_new_page_with_sign(struct composer *composer, const char *title, const char *lead, enum pictogram sign);

/* The height between head and foot of a page that has these; nothing is opened. */
double composer_content_height(struct composer *composer, const char *title, const char *lead, enum pictogram sign);

/* "6", "S1": of the page that is open. */
const char *composer_label(const struct composer *composer);

/*
 * Where a section is, by the numbers known so far: the label of its page
 * number `index` (0 is the first, -1 its last). "1" while not known.
 */
const char *composer_label_of(const struct composer *composer, section_ref section, int index);
/* Says that the section's next page begins a sheet's back; and where that is, by the numbers known so far. */
void composer_begin_back(struct composer *composer);
const char *composer_label_of_back(const struct composer *composer, section_ref section);
/* Says that a step of the section stands on the open page; and where one stands, or NULL: it is not in this section. */
void composer_note_step(struct composer *composer, int number);
const char *composer_label_of_step(const struct composer *composer, section_ref section, int number);
int composer_pages_of(const struct composer *composer, section_ref section);

/* The same of the page with the line for the patient, behind pages for mixing. */
void composer_begin_line(struct composer *composer);
const char *composer_label_of_line(const struct composer *composer, section_ref section);

/*
 * Says that the open page has this part of the section, if none before has; and where it is, or NULL: not in this
 * section. A part is whatever the handout has it from: a dose with its box or its square, a column's item.
 */
void composer_note_part(struct composer *composer, const void *part);
const char *composer_label_of_part(const struct composer *composer, section_ref section, const void *part);

/* "page 6", or "pages 6, 7": where parts of a section stand, in their order; the section's first page if nowhere. */
const char *composer_part_pages(const struct composer *composer, section_ref section, const void *const *parts,
                                size_t n);

/* A text with a page's label in place of PAGE_HERE; the text itself where it has none. */
const char *composer_fill_page(const struct composer *composer, const char *text, const char *label);

/* The section being placed, and the index of the open page within it: 0 is the first. */
section_ref composer_section_ref(const struct composer *composer);
int composer_page_index(const struct composer *composer);

/* "page 6", in the section's language; NULL for -1, so that it can be passed on as no text. */
const char *composer_page_ref(const struct composer *composer, section_ref section);

/* "pages 7, 9, 10": that section and the others of the same medicine line. */
const char *composer_page_refs(const struct composer *composer, section_ref section);
/* "pages 3, 6": those sections, in this order. */
const char *composer_page_list(const struct composer *composer, const section_ref *sections, size_t n);

/* ---- text ---- */

struct text_style composer_style(const struct composer *composer, enum type_role role, enum text_weight weight);

/*
 * Sets a text wrapped at `width` (0: one line). A glyph that no font has is a
 * stop 'glyph-missing', a word wider than `width` a stop 'name-too-long'.
 */
const struct text_block *composer_set(struct composer *composer, const char *text, struct text_style style,
                                      double width);

/* How much smaller a name may be set. */
#define NAME_LEAST_SHARE 0.85

/*
 * Sets a name: at full size, wrapped to at most `lines` lines; else smaller, to
 * 85 % and never less than 10 pt; else a stop 'name-too-long'.
 */
const struct text_block *composer_set_name(struct composer *composer, const char *name, struct text_style style,
                                           double width, int lines);

/* How wide a text is on one line, and how high when wrapped at `width`; nothing is placed. */
double composer_text_width(struct composer *composer, const char *text, struct text_style style);
double composer_text_height(struct composer *composer, const char *text, struct text_style style, double width);
/* The widest word of a text, since words are never broken. */
double composer_widest_word(struct composer *composer, const char *text, struct text_style style);

/*
 * Puts a block with its start edge at `x` (ALIGN_START), its middle
 * (ALIGN_CENTER) or its end (ALIGN_END) and its cap top at `y`. Returns what it
 * takes up from cap top to last baseline.
 */
struct rect put_block(struct composer *composer, const struct text_block *block, enum text_align align, double x,
                      double y, enum colour colour);

/*
 * The same for a text. Where it wraps, `x` is the column's start edge, middle or
 * end, and its lines are aligned to that. A NULL or empty text puts nothing and
 * returns a rectangle of no size at x, y.
 */
struct rect put_text(struct composer *composer, const char *text, struct text_style style, enum text_align align,
                     double x, double y, double width, enum colour colour);

/* Start-aligned in ink: the common case. */
struct rect put_plain(struct composer *composer, const char *text, struct text_style style, double x, double y,
                      double width);

/* "page 6" that leads there when clicked; nothing for -1. */
struct rect put_page_ref(struct composer *composer, section_ref section, struct text_style style, enum text_align align,
                         double x, double y);

/* The same with all pages of that medicine line; the link leads to the first. */
struct rect put_page_refs(struct composer *composer, section_ref section, struct text_style style,
                          enum text_align align, double x, double y, double width);
/* The same with the sections of composer_page_list(). */
struct rect put_page_list(struct composer *composer, const section_ref *sections, size_t n, struct text_style style,
                          enum text_align align, double x, double y, double width);

/* An arrow rightward from `x`, its shaft at `y`: a path, since the fonts have none. */
void put_arrow(struct composer *composer, double x, double y, double length);
/* The same downward from `y`, its shaft at `x`. */
void put_arrow_down(struct composer *composer, double x, double y, double length);

/* A paragraph, a heading: the text in a group of that role. */
struct rect put_paragraph(struct composer *composer, const char *text, struct text_style style, double x, double y,
                          double width);
struct rect put_heading(struct composer *composer, enum role role, const char *text, struct text_style style, double x,
                        double y, double width);

/* ---- shapes ---- */

/* Any mark; `area` is what it takes up in ink. */
void put_mark(struct composer *composer, struct placed_mark mark);

/* A frame or a fill around things: others may stand on it, and nothing may cross its edge. */
void put_box(struct composer *composer, struct rect area, struct box box);
/* The usual frame: radius 2, ink, no fill. */
void put_frame(struct composer *composer, struct rect area, double line);
void put_dashed_frame(struct composer *composer, struct rect area, double line);

/* An empty box to tick or to write in. Nothing may stand on it. */
void put_tick(struct composer *composer, struct point at, double size);
/* The same, or a printed tick where it is done; in a group of its own. */
void put_done_or_tick(struct composer *composer, struct point at, double size, bool done);
void put_write_in(struct composer *composer, struct rect area);

void put_rule(struct composer *composer, struct point from, struct point to, double line, enum colour colour);
void put_dashed_rule(struct composer *composer, struct point from, struct point to, double line);
/* A line to write on is an artifact like other rules. */
void put_line(struct composer *composer, double left, double right, double y, double line);

void put_picture(struct composer *composer, enum pictogram pictogram, double x, double y, double size);
void put_clock(struct composer *composer, struct point centre, double radius, struct clock_time time, double line,
               enum colour colour);

/*
 * A fill mark whose number is `size` pt, its point's tip at `tip`. Kept between
 * the edges of the live column. Returns body and point. The words must have a
 * number.
 */
struct rect put_tag(struct composer *composer, struct mark_words words, double size, struct point tip);
/* Its body slides so that it ends before `right`, as far as the point allows. */
struct rect put_tag_before(struct composer *composer, struct mark_words words, double size, struct point tip,
                           double right);
struct rect measure_tag_before(struct composer *composer, struct mark_words words, double size, struct point tip,
                               double right);
/* The flatter tag of the grid, with the body's left top corner at `at`. */
struct rect put_grid_tag(struct composer *composer, struct mark_words words, double size, struct point at);
/* How wide and high it will be. */
struct rect measure_tag(struct composer *composer, struct mark_words words, double size);
struct rect measure_grid_tag(struct composer *composer, struct mark_words words, double size);

/* ---- groups ---- */

/* ROLE_H3 on a page that has no ROLE_H2 yet is one itself: no level is left out. */
void begin_group(struct composer *composer, enum role role);
void begin_figure(struct composer *composer, const char *alt);
void begin_head_cell(struct composer *composer, enum scope scope);
/* One cell in place of `columns` of them. */
void begin_wide_cell(struct composer *composer, size_t columns);
/* What a screen reader skips. */
void begin_artifact(struct composer *composer);
void end_group(struct composer *composer);

/*
 * A figure whose parts run with the text: dots in the order of days. On a page
 * that runs from right to left each part changes sides; of any other figure
 * none does, and the whole is moved.
 */
void begin_chart(struct composer *composer, const char *alt);

/*
 * On a page that runs from right to left, what is put from here on changes
 * sides within these edges, not across the paper; with begin_fixed() it stays
 * where it is. Give what comes back to end_turning(). Both may stand in one another.
 */
struct turning begin_span(struct composer *composer, double left, double right);
struct turning begin_fixed(struct composer *composer);
void end_turning(struct composer *composer, struct turning before);

/* What is put until end_inside() may stand on other marks: a vial on the join, a dial over dots. */
void begin_inside(struct composer *composer);
void end_inside(struct composer *composer);

/* ---- gaps ---- */

/*
 * Spare height shared equally over `n` gaps between sections: between
 * section_gap_least() and SECTION_GAP_MOST. `used` is what the sections take
 * without gaps.
 */
double section_gap(const struct composer *composer, double used, int n);

/* The least between sections; half a step less where they are tight. */
double section_gap_least(const struct composer *composer);

/* The page gives up all that it can: less between parts. */
bool composer_is_tight(const struct composer *composer);

/* ---- trials ---- */

/* What is found while layouts are tried says nothing of the page as it will be: from begin to end it is kept apart. */
struct trial {
	struct findings own;
	struct findings *before;
};

void composer_begin_trial(struct composer *composer, struct trial *trial);
/* True when nothing was found; what was is dropped. */
bool composer_end_trial(struct composer *composer, const struct trial *trial);

/* A stop about the packet, at the plan. */
void composer_stop(struct composer *composer, const char *code, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

#endif
