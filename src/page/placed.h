/*
 * placed.h - a page as rectangles: what stands where, in reading order.
 *
 * The page layer decides and places; it paints nothing. A placed page is a flat
 * list of marks. Groups open and close around them and carry what a screen
 * reader needs: the role, spoken text for a figure, a table cell's scope. Paint
 * turns each mark into device calls in this order.
 *
 * Lengths are mm from the top left corner of the paper.
 */
#ifndef PAGE_PLACED_H
#define PAGE_PLACED_H

#include "handout/handout.h"
#include "text/text.h"

enum colour {
	COLOUR_INK,
	COLOUR_WHITE,
	COLOUR_LIQUID, /* blue: liquid only, always hatched */
	COLOUR_LIQUID_TINT,
	COLOUR_RUST, /* exact time, caution, wrong, new dose */
	COLOUR_PLASTIC,
	COLOUR_HUB, /* the thick needle's */
	COLOUR_DAY, /* day blocks of the overview */
	COLOUR_BAND,
	COLOUR_NONE
};

/* Line weights of the design, mm. */
#define LINE_HAIR 0.18
#define LINE_FINE 0.22
#define LINE_OUTLINE 0.30
#define LINE_MAIN 0.50
#define LINE_STRONG 0.80
#define LINE_ALARM 1.40

enum role {
	ROLE_DOCUMENT,
	ROLE_SECTION,
	ROLE_H1,
	ROLE_H2,
	ROLE_H3,
	ROLE_PARAGRAPH,
	ROLE_LIST,
	ROLE_LIST_ITEM,
	ROLE_LABEL, /* the number of an item, first in it */
	ROLE_TABLE,
	ROLE_ROW,
	ROLE_HEAD_CELL,
	ROLE_CELL,
	ROLE_FIGURE, /* `alt` speaks action and number */
	ROLE_CAPTION,
	ROLE_ARTIFACT /* decoration, running head and foot */
};

enum scope { SCOPE_NONE, SCOPE_ROW, SCOPE_COLUMN };

struct group {
	enum role role;
	const char *alt;      /* ROLE_FIGURE; else NULL */
	const char *language; /* where it differs from the sheet's; else NULL */
	enum scope scope;
	int columns; /* of a cell: how many it stands across; 0: one */
};

/* A frame or a filled box. */
struct box {
	double radius;
	double line; /* stroke width; 0: none */
	enum colour stroke;
	enum colour fill;
	bool dashed;
};

struct rule {
	struct point from;
	struct point to;
	double line;
	enum colour colour;
	bool dashed;
	bool arrow; /* a solid head at `to` */
};

/* The fill mark: black (or open) with a point below. `tip` is where the point ends. */
struct tag {
	struct point tip;
	const struct text_block *before; /* "line", "dial", "add"; or NULL */
	const struct text_block *number;
	const struct text_block *unit; /* "mL"; or NULL */
	bool open;                     /* preparation, not into you */
	double slide;                  /* the body slides this far right at a page's edge; the point never moves */
	double body_height;            /* mm; tag_of() and tag_in_grid() fill these */
	double point_height;
	double point_width;
	double pad;
	double gap;
};

/*
 * A syringe in true size, lying needle left. x_zero is the zero line's x, axis
 * the y of its middle. Everything else follows from the scale's data.
 */
struct syringe_figure {
	const struct syringe *syringe;
	double x_zero;
	double axis;
	double ring;   /* mL where the front ring stands */
	double liquid; /* mL of liquid in front of the ring; normally = ring */
	bool line;     /* draw the line wall to wall at `mark` */
	double mark;   /* mL */
	enum { NEEDLE_NONE, NEEDLE_THIN, NEEDLE_THICK } needle;
	double needle_length; /* mm; 0: as the drawing has it */
	/* At its tip drops that go to waste, or the skin it is in; an arrow on the thumb rest where it is pushed. */
	enum { TIP_FREE, TIP_DROPS, TIP_SKIN } tip;
	bool pushed;
	bool push_shown;                          /* an arrow along the barrel, from the ring to ... */
	double push_to;                           /* ... this, mL */
	bool bubble;                              /* in the liquid, and meant to stay */
	bool cut_rod;                             /* the rod may be cut by a double wave at `cut_at` */
	double cut_at;                            /* an x on the page */
	const struct text_block *const *numerals; /* from zero up; the one at the mark already bold */
	size_t n_numerals;
};

/* The magnifier: a piece of the same syringe at `zoom`, in `frame`. */
struct window_figure {
	const struct syringe_figure *figure; /* what it shows */
	struct rect frame;
	double zoom;
	double centre; /* mL in the middle of the frame */
	double ring;   /* mL where the ring stands in the window (wrong windows differ) */
	double frame_line;
	enum { WEDGE_SOLID, WEDGE_OPEN, WEDGE_CROSS } wedge;
	const struct text_block *beside; /* the number beside the wedge or cross; or NULL */
	const struct text_block *const *numerals;
	size_t n_numerals;
	bool bracket;     /* a bracket under the numerals that fans out to the frame */
	double bracket_y; /* of its bar; the feet rise 2 above it */
	bool leader;      /* a leader with a white dot from the front ring to `leader_to` */
	struct point leader_to;
};

struct picture {
	enum pictogram pictogram; /* 24 units high at `size` mm */
	struct point at;
	double size;
	double level; /* of a vial: how full it is, and at PICTURE_HALF_VIAL where the line stands; 0: as usual */
};

struct step_picture {
	const char *name; /* "liquid-in", as the templates name it */
	struct point at;
	double size; /* 40 units are `size` mm */
	double ring; /* where a dose's ring stands, as a share of its barrel: 0.5; 0: no matter */
	bool thin;   /* the one needle that draws is the one that injects */
};

/*
 * A pen, of nobody's make, lying needle left; or upright, needle up. Not in true
 * size: pen_geometry.h has its measures at a length of PEN_LENGTH.
 */
struct pen_figure {
	struct point at; /* left top corner of what it takes up */
	double length;
	bool upright;                    /* with a drop above the tip, PEN_DROP of the length high */
	double full;                     /* of the cartridge, 0 to 1 */
	const struct text_block *number; /* in the window; or NULL */
};

/* The pen's window, close: a number at the pointer, its neighbours on the dial above and below. */
struct dial_figure {
	struct rect frame;
	const struct text_block *number;
	const struct text_block *below; /* the lower number, above on the page as the dial turns; or NULL */
	const struct text_block *above;
};

struct clock_figure {
	struct point centre;
	double radius;
	int hour;
	int minute;
	double line;
	enum colour colour;
};

/* A needle lying point left, in true length; `at` is the point's tip. */
struct needle_figure {
	struct point at;
	double length; /* without its hub */
	bool thick;
};

/* A person's back from the waist to the thighs: left is left. The places to inject stand in thick frames. */
struct back_figure {
	struct rect area;
	enum { BACK_HIP_SIDE, BACK_UPPER_QUARTER } place;
};

/* A person's front from the ribs to the thighs, as in a mirror: left is left. The side's places are black. */
struct body_figure {
	struct rect area; /* BODY_HIGH as high as it is wide */
	enum side side;
	bool belly; /* which places are shown */
	bool thigh;
};
#define BODY_HIGH 1.1

struct ruler_figure {
	struct point at;                          /* left end of the base line */
	bool flag;                                /* the card's short edge, 53.98 mm */
	const struct text_block *const *numerals; /* 0 10 ... 50 */
};

struct card_figure {
	struct point at; /* top left corner of the card's true edge */
};

struct code_figure {
	const char *payload; /* of the QR symbol, level M */
	struct point at;
	double size;
};

/* Half-filled belly as the wearer sees it. */
struct side_figure {
	struct point at;
	double width;
	enum side side;
	bool hip; /* of somebody seen from behind, in place of the belly */
};

struct corner_figure {   /* new dose */
	struct point at; /* left top corner of what it takes up */
	double leg;
	bool right; /* the right angle is at the right: on a mirrored page */
};

struct hatch_figure { /* the DRAFT band */
	struct rect area;
};

/* A ring with a check mark: signed; dashed and empty: draft. */
struct seal_figure {
	struct point centre;
	double radius;
	bool is_signed;
};

/* "=" or "+" in a ring on a thin upright. */
struct knot_figure {
	struct point centre;
	double radius;
	char sign;
	double up; /* length of the upright above and below the ring; 0: none */
	double down;
};

struct text_mark {
	const struct text_block *block;
	struct point at; /* start edge, cap top of the first line */
	enum colour colour;
	const char *link;       /* label of the page it leads to when clicked; NULL: none */
	const char *link_words; /* "page 5": the same as it is said */
};

enum mark_kind {
	MARK_GROUP_BEGIN,
	MARK_GROUP_END,
	MARK_TEXT,
	MARK_BOX,
	MARK_RULE,
	MARK_TAG,
	MARK_SYRINGE,
	MARK_WINDOW,
	MARK_PICTURE,
	MARK_STEP,
	MARK_PEN,
	MARK_DIAL,
	MARK_CLOCK,
	MARK_RULER,
	MARK_CARD,
	MARK_CODE,
	MARK_SIDE,
	MARK_CORNER,
	MARK_HATCH,
	MARK_SEAL,
	MARK_KNOT,
	MARK_NEEDLE,
	MARK_BACK,
	MARK_BODY
};

struct placed_mark {
	enum mark_kind kind;
	struct rect area; /* what it takes up: for overlap and margin tests */
	bool inside;      /* it is meant to stand inside or on another (text in a box, a frame around rows) */
	union {
		struct group group;
		struct text_mark text;
		struct box box;
		struct rule rule;
		struct tag tag;
		struct syringe_figure syringe;
		struct window_figure window;
		struct picture picture;
		struct step_picture step;
		struct pen_figure pen;
		struct dial_figure dial;
		struct clock_figure clock;
		struct ruler_figure ruler;
		struct card_figure card;
		struct code_figure code;
		struct side_figure side;
		struct corner_figure corner;
		struct hatch_figure hatch;
		struct seal_figure seal;
		struct knot_figure knot;
		struct needle_figure needle;
		struct back_figure back;
		struct body_figure body;
	};
};

struct placed_page {
	double width;
	double height;
	const char *label; /* "1", "S1" */
	section_ref section;
	const struct placed_mark *marks;
	size_t n;
};

struct placed_packet {
	const struct handout *handout;
	const struct placed_page *pages;
	size_t n;
};

#endif
