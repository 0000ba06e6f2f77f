/*
 * large.h - large print: blocks below one another, each whole, on as many pages as they need.
 *
 *     title, 34 pt            6       A block is a line, a row, a step, a frame: what must not be cut.
 *     ________________________        Pages break where that leaves them evenly full, not where a
 *     | block |                       block says that it goes with the next, and seldom inside
 *     | block |                       what belongs together. A page that begins inside a day has
 *     ........                        that day's head again.
 *
 * Every kind of section builds its blocks and has them placed here, so that all
 * of large print breaks alike.
 */
#ifndef PAGE_LARGE_H
#define PAGE_LARGE_H

#include "page/line_figure.h"

struct large_block;

/* Puts a block whose top is at `y`. */
typedef void large_put(struct composer *composer, const struct large_block *block, double y);

enum large_rule { LARGE_RULE_NONE, LARGE_RULE_FINE, LARGE_RULE_MAIN };

struct large_block {
	double height;
	double gap; /* to the block above on its page; a little less where that saves a page */
	bool rigid; /* its gap is never less */
	large_put *put;
	const void *data;
	size_t index;         /* free for `put` */
	enum large_rule rule; /* in the middle of the gap; not at a page's top */
	enum role around;     /* neighbours of one role stand in one group of it: ROLE_LIST; ROLE_SECTION: in none */
	bool keep;            /* never the last of a page */
	double break_cost;    /* of a page that begins here; a page more costs 1 */
	size_t head;          /* number of the block, from 1, that a page beginning here has again; 0: none */
	bool again;           /* `put` has it as such a one */
};

struct large_blocks {
	struct composer *composer;
	struct large_block *list;
	size_t n;
	bool days; /* each page begins with a day's own head, which says what goes on, and from where to where */
};

struct large_blocks large_blocks_of(struct composer *composer);

/* The new block, to set more of; valid until the next is added. */
struct large_block *large_add(struct large_blocks *blocks, double height, double gap, large_put *put, const void *data);

/* What a page behind the first of those that large_place() opens has room for: no block may be higher. */
double large_further_room(struct composer *composer, const char *title);

/* Opens the pages and puts all blocks. Without blocks there is no page. */
void large_place(const struct large_blocks *blocks, const char *title, const char *lead);

/* ---- blocks that all kinds have ---- */

struct text_style large_style(const struct composer *composer, enum type_role role, enum text_weight weight);
/* What steps and notes are set in. */
struct text_style large_body(const struct composer *composer, enum text_weight weight);

/* A heading that stays with what follows. */
void large_add_heading(struct large_blocks *blocks, const char *heading);

/* A paragraph, in as many blocks as a long one needs. NULL adds nothing. */
void large_add_text(struct large_blocks *blocks, const char *text, enum type_role role, enum text_weight weight);

/* A page that begins with one of the blocks from `first` on has the block before `first`, their heading, again. */
void large_repeat_heading(struct large_blocks *blocks, size_t first);
/* The same for a list, of which no row stands alone on either side of a break. */
void large_hold_list(struct large_blocks *blocks, size_t first);
/* All from block `first` on stay on one page. */
void large_hold_all(struct large_blocks *blocks, size_t first);

/* A picture and words beside it: a bold line, and regular ones below. Either may be NULL. */
void large_add_item(struct large_blocks *blocks, enum pictogram pictogram, const char *heading, const char *text);

/* The text in pieces of which each, wrapped at `width`, is at most `most` high; sentences are cut last. */
struct large_pieces {
	const char **list;
	size_t n;
};
struct large_pieces large_pieces_of(struct composer *composer, const char *text, struct text_style style, double width,
                                    double most);

#endif
