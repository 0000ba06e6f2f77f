/*
 * handout.h - what goes on which page, in the sheet's language; where it stands is page's work.
 *
 * A handout is a list of sections in printing order. A section becomes one page
 * or more; page numbers are known only when all are placed, so a reference to
 * another page is a section, and page fills in the number. Staff's sections are
 * numbered apart (S1, S2) and never counted among the patient's.
 *
 * Every figure on a page comes from a `struct draw` or a `struct dose`; handout
 * computes none.
 */
#ifndef HANDOUT_HANDOUT_H
#define HANDOUT_HANDOUT_H

#include "words/words.h"

enum pictogram {
	PICTURE_NONE,
	PICTURE_POWDER_VIAL,
	PICTURE_LIQUID_VIAL,
	PICTURE_AMPOULE,
	PICTURE_FILLED_SYRINGE, /* prefilled, or the liquid's syringe */
	PICTURE_EMPTY_SYRINGE,
	PICTURE_PEN,
	PICTURE_TABLET,
	PICTURE_HALF_TABLET,
	PICTURE_CAPSULE,
	PICTURE_PATCH,
	PICTURE_INSERT,
	PICTURE_SPRAY,
	PICTURE_DROPS,
	PICTURE_SACHET,
	PICTURE_THICK_NEEDLE,
	PICTURE_THIN_NEEDLE,
	PICTURE_FILTER_NEEDLE,
	PICTURE_PEN_NEEDLE,
	PICTURE_WIPE,
	PICTURE_SHARPS_BOX,
	PICTURE_SUN, /* morning */
	PICTURE_NOON,
	PICTURE_EVENING,
	PICTURE_MOON,  /* bedtime, night */
	PICTURE_HOUSE, /* visit */
	PICTURE_PHONE,
	PICTURE_FRIDGE,
	PICTURE_SHELF,
	PICTURE_CALENDAR,
	PICTURE_SHEET,
	PICTURE_BAG,
	PICTURE_BELL,
	PICTURE_CLOCK,
	PICTURE_HALF_VIAL, /* a vial with a level at `half` */
	PICTURE_CHECK,
	PICTURE_CROSS,
	PICTURE_SAY,
	PICTURE_STOP,
	PICTURE_HEED, /* the triangle before a signal word */
	PICTURE_TEAR, /* a page in two */
	PICTURE_BELLY /* you: where it goes in */
};

enum side { SIDE_NONE, SIDE_LEFT, SIDE_RIGHT };

enum section_kind {
	SECTION_OVERVIEW,
	SECTION_GRID,
	SECTION_MEDICINE, /* a front and a back */
	SECTION_SPLIT,
	SECTION_PEN,     /* a pen: a front and a back */
	SECTION_PENS,    /* a dose from more than one pen */
	SECTION_COUNTED, /* tablets, patches, sprays: what is counted out */
	SECTION_EXACT,   /* a dose to the minute; how to draw it up is on its back */
	SECTION_WAITING, /* a medicine whose first day is not known, or may come sooner */
	SECTION_OPTIONS, /* amounts that a call may set, each with its line */
	SECTION_CHANGE,  /* what a new version changes: C1, apart from the plan's pages */
	SECTION_NOTES,   /* a back that nothing else fills: lines to write on, or empty, behind what is cut out */
	SECTION_SUPPLIES,
	SECTION_BEFORE,
	SECTION_CHECK, /* staff's */
	SECTION_TEACH, /* staff's: the patient shows what she was taught */
	SECTION_BLIND  /* staff's second check: inputs and blanks, alone in a handout of its own */
};

/* A section another page may point at; -1: none. */
typedef int section_ref;

/* Stands in a text where page puts a page's number; the text's owner says which page. */
#define PAGE_HERE "\016"

/* ---- overview ---- */

enum day_state {
	DAY_NOTHING,
	DAY_DONE, /* before the day that the sheet speaks from */
	DAY_TAKE,
	DAY_SOONER, /* taken on that day unless a call names a sooner one: never waited for */
	DAY_WAIT,
	DAY_OFF, /* patches only come off */
	DAY_EXACT
};

/* "Morning" and "08:00": a clock time goes with the part of the day that it is in. */
struct overview_time {
	const char *word;
	const char *time;
};

struct overview_row {
	enum pictogram pictogram;
	const char *name;
	const char *purpose;
	section_ref section;
	const struct overview_time *times;
	size_t n_times;
	bool times_bold;            /* exact */
	const enum day_state *days; /* one a day of the course; NULL: day not known */
	struct clock_time exact_time;
	const char *instead; /* said in place of days: "day not known yet", "no fixed days" */
	bool waits;          /* `instead` in a dashed bar with the telephone */
	section_ref waiting; /* where more is said of that; -1: nowhere */
};

struct moment_card {
	const char *date; /* "Thu 12 Jun"; of an open one "Placebix: day 4", "day not known yet" */
	const char *time; /* "09:15", or NULL */
	const char *what; /* "Visit: blood test" */
	bool exact;
	bool open; /* its day is not known yet */
	struct clock_time clock;
};

struct phone_card {
	enum pictogram pictogram;
	const char *label;
	const char *hours; /* "07:30 to 17:00", or NULL */
	const char *number;
};

/* When to call for help at once. */
struct emergency {
	const char *text;
	const char *number; /* "Call emergency:" before a line to write on; NULL: it gives one */
};

struct overview {
	const char *lead; /* "Mara Quillfeather · Thu 5 Jun to Tue 17 Jun 2031" */
	const struct phone_card *phones;
	size_t n_phones;
	const char *clinic_line; /* "Lindenquay Clinic, Lindenquay 9" */
	const char *warning_word;
	struct emergency emergency;
	const char *main_line;  /* what to do each day; with PAGE_HERE where the grid is */
	section_ref grid;       /* which is this; -1: there is none */
	const char *exact_line; /* the next time to the minute; NULL: no dose has one */
	const char *unsure;     /* what to do in doubt */
	const char *heading;
	int n_days;
	const char *medicine_word; /* the heads of the table */
	const char *time_word;
	const char *day_word;
	const struct overview_row *rows;
	size_t n_rows;
	bool any_done; /* which legends are needed */
	bool any_sooner;
	bool any_wait;
	bool any_off;
	bool any_exact;
	const char *legend_take;
	const char *legend_done;
	const char *legend_sooner;
	const char *legend_wait;
	const char *legend_off;
	const char *legend_exact;
	const char *moments_heading;
	const struct moment_card *moments; /* the next ones, at most 4 */
	size_t n_moments;
	const char *good_until; /* bold line */
	const char *good_then;
	const char *seal_line_1; /* "Plan and products" */
	const char *seal_line_2; /* "signed, 4 Jun 2031", or "not signed yet" */
};

/* ---- grid ---- */

struct grid_tag {
	struct mark_words words;
};

enum cell_state { CELL_EMPTY, CELL_DOSE, CELL_WRITE_IN };

struct grid_cell {
	enum cell_state state;
	const struct dose *dose;       /* NULL: patches come off, and none go on */
	const char *amount;            /* "125 mcg", "1 tablet" */
	const char *unit;              /* of an amount to be written in; NULL: not said */
	struct mark_words mark;        /* number NULL: none */
	struct mark_words second_mark; /* a second injection of the same dose; number NULL: none */
	const char *beside;            /* of a tag "all" of several containers: "×3 vials"; or NULL */
	const char *second_beside;     /* of the second mark */
	const char *goes_in;           /* "0.3 mL goes in": of a part, whose mark says where the ring stands; or NULL */
	const char *below;             /* in place of a mark: "swallow" */
	const char *half;              /* "first half", or NULL */
	section_ref how;               /* of a second half: where it begins; -1: with the others */
	const char *own_time;          /* "at 07:00", where it differs from the column's */
	enum pictogram slot;           /* the slot's sign */
	bool new_amount;
	section_ref shown_by; /* the amount's sheet, which is named where it is new; -1: none */
	bool done;
	bool joins_next; /* shares its container with the same column's next dose, `join_rows` rows below */
	int join_rows;
	bool unless_sooner;
};

struct grid_column {
	const struct item *item;
	enum pictogram pictogram;
	const char *device; /* "insulin syringe", "kit syringe", "by mouth" */
	const char *name;
	section_ref section;        /* -1: none */
	const section_ref *instead; /* named in place of it: those of its known amounts, and of those a call may set */
	size_t n_instead;
	section_ref waiting; /* what to do when a call brings its start forward; -1: none does */
	bool muscle;         /* goes into muscle: the hip's side */
	bool has_halves;
	bool waits; /* some of its cells are write-ins */
};

/* Columns that share a slot or a clock time, side by side. */
struct grid_group {
	enum pictogram sign;
	const char *word; /* "Morning", or NULL for a clock time of its own */
	const char *time;
	bool morning; /* goes on the mornings' page where one page is too narrow */
	size_t first_column;
	size_t n_columns;
};

struct grid_band {
	enum { BAND_VISIT, BAND_EXACT, BAND_PAST /* above it lies what was done before this sheet */ } kind;
	const char *text;     /* visit: "**Visit, Thu 12 Jun, 09:15.** Bring this sheet." */
	const char *own_text; /* the same beside its date: "**Visit, 09:15.** Bring this sheet." */
	bool on_all_pages;    /* of mornings and of evenings: after it, doses of both may change */
	/* exact time: */
	const struct dose *dose;
	const char *day_note; /* NULL, or "night, Thu to Fri" */
	const char *time;
	struct clock_time clock;
	const char *note; /* "exact time: set two alarms"; after midnight "already Friday 20 June" */
	const char *name;
	const char *amount;
	enum pictogram pictogram;
	struct mark_words mark;
	section_ref section;
	bool muscle; /* goes into muscle: the hip's side */
	bool done;
};

struct grid_row {
	int day; /* of the course */
	const char *weekday;
	const char *date;
	const char *long_date; /* "Thursday 5 June", for large print */
	enum side side;
	const char *side_word;
	bool belly; /* some needle of the day goes under the skin; some into muscle */
	bool hip;
	bool rest; /* nothing to do; `rest_text` says so */
	const char *rest_text;
	bool past;                     /* before as_of */
	const struct grid_cell *cells; /* one a column */
	const struct grid_band *visits_above;
	size_t n_visits_above;
	const struct grid_band *exact; /* an exact-time dose of this day, in place of or below the row */
	size_t n_exact;
};

/* A medicine whose day is not known: a dashed frame below the grid. */
struct grid_waiting {
	const struct item *item;
	const char *heading; /* "**Placebix: only when the clinic calls.**" */
	const char *text;
	const char *start_word;
	const char *day_word;
	const char *month_word;
	const char *dose_text; /* "150 units", or NULL: a write-in with the unit */
	const char *unit;
	section_ref section;
};

struct grid {
	const char *corner; /* "Day, and side for the needle" */
	const struct grid_group *groups;
	size_t n_groups;
	const struct grid_column *columns;
	size_t n_columns;
	const struct grid_row *rows;
	size_t n_rows;
	const struct grid_waiting *waiting;
	size_t n_waiting;
	const char *new_legend; /* "a new dose starts here"; NULL: none does */
	const char *words;      /* what its short words mean, with PAGE_HERE of ...; or NULL */
	section_ref words_section;
	const char *after; /* below the last day: what then */
};

/* ---- one medicine ---- */

struct lay_out {
	enum pictogram pictogram;
	const char *word;
	const char *count; /* "×1" */
};

struct step {
	int number; /* 0: a warning before the next step */
	const char *picture;
	const char *title;
	const char *text; /* its actions, '\n' between them */
	bool warning;
	bool white_tag; /* its words speak of the white tag: it stands beside them */
	bool on_line;   /* it stops on the line: far from the drawing the tag stands beside it again */
};

struct flow_piece {
	enum flow_kind { FLOW_LIQUID_SYRINGE, FLOW_VIAL, FLOW_DRAWN, FLOW_THIN, FLOW_YOU } kind;
	const char *word;
};

struct note_block {
	enum pictogram pictogram;
	const char *heading;
	const char *text;
	section_ref section; /* where more of it is said; -1: nowhere */
};

/*
 * The page where a measured liquid is drawn and goes into the powder: line A, in
 * a white tag. The front shows both tags, the back is line B.
 */
/* A box a day where a page serves several: the days' numbers. Of one day, or more than TICK_DAYS_MOST, n is 0: one box. */
struct tick_days {
	const char **days;
	size_t n;
};

#define TICK_DAYS_MOST 6

struct mix_page {
	const char *title;
	const char *lead;      /* with PAGE_HERE, where line B is; and so below */
	const char *only_when; /* "Only when you open a new vial: days 6, 12."; NULL: every time */
	const char *letter;    /* "A": of the line, and of its picture */
	const char *heading;
	const char *with;  /* "3 mL syringe, thick needle, ampoule of liquid" */
	const char *place; /* "Small line **4** after the number **1.0**. Leave the rest of the liquid." */
	const char *true_size;
	const char *alt;
	enum pictogram liquid_picture;
	const char *liquid_amount; /* "1.4 mL" */
	const char *liquid_word;
	const char *powder_word;
	const char *powder_note; /* "takes up room" */
	const char *ready_amount;
	const char *ready_word;
	const char *ready_check; /* "1.4 becomes 1.5: that is right. Powder gone?" */
	struct tick_days ready_days;
	const struct step *steps;
	size_t n_steps;
	const char *white_heading; /* the legend of the front */
	const char *white_text;
	const char *black_heading;
	const char *black_text;
};

struct chain_vial {
	const char *number;
	const char *name;  /* "vial 1" */
	const char *total; /* "75 units": in the liquid once it has been through */
	const char *into;
	const char *then; /* "for vial 2"; NULL for the last one */
};

/* One liquid goes through several powders, vial after vial. */
struct powder_chain {
	const char *title;
	const char *lead;
	const char *heading;
	const char *alt;
	const char *liquid_word;
	const char *liquid_amount;
	const char *in_word;
	const char *out_word;
	const char *now_word;
	const struct chain_vial *vials;
	size_t n_vials;
	const char *ticks_heading;
	const char *ticks_note;
	const char *tick_heads[3];
	struct tick_days days;
	const char *gone; /* "powder gone?" */
	const char *last; /* beside the last tag: "then step 4" */
	struct mark_words last_mark;
	const char *foot;
};

/* Part of a filled syringe: where to stop, then what becomes of the rest. */
struct filled_part {
	const struct step *to_line; /* push out to it, or inject until it */
	const struct step *rest;    /* give it, or throw it away */
	const char *window_text;    /* "The ring **nearest the needle** touches ..." */
	const char *rest_alt;
	struct mark_words rest_mark; /* "all"; number NULL where the rest is thrown away */
	const char *stays_word;      /* "0.2 mL stays in"; NULL where the rest is given */
};

struct muscle_row {
	const char *day;
	const char *date;
	enum side side; /* SIDE_NONE: not known */
	const char *side_word;
};

/* For the one who injects into the muscle. */
struct muscle_page {
	const char *title;
	const char *lead;
	bool quarter; /* the upper outer one; else the hip's side */
	const char *left_word;
	const char *right_word;
	const char *map_caption;
	const char *map_alt;
	const char *place_heading;
	const char *place_text;
	const char *needles_heading;
	const char *thick_text; /* "**thick:** draw, 40 mm"; NULL: one needle for both */
	const char *thin_text;
	const char *depth;
	const char *line_heading;
	const char *line_text; /* "50 mg is the line numbered **1.0**" */
	const struct step *steps;
	size_t n_steps;
	const char *log_heading;
	const char *log_note;
	const char *time_word;
	const char *who_word;
	const char *done_word;
	const struct muscle_row *rows;
	size_t n_rows;
};

struct vial_square {
	const struct dose *dose;
	const char *day; /* "1" */
	bool done;       /* before the day that the sheet speaks from */
};

/* A container that serves several days: one tick a dose, and its last day. */
struct vial_row {
	const char *name;                  /* "Vial 1" */
	const char *opened;                /* "open it on day 1, Fri 4 Dec" */
	const char *last;                  /* "last day: Thu 31 Dec" */
	const struct vial_square *squares; /* one a dose */
	size_t n_squares;
};

/* Another amount from the same container: its days have their squares here, but not their line. */
struct vial_other {
	const char *text;    /* "25 syringe units, page 18: days 9 and 10.", with PAGE_HERE of the first page of ... */
	section_ref section; /* ... its sheet */
};

struct vial_log {
	const char *heading;
	const char *note;                /* with PAGE_HERE where the squares are on another sheet, ... */
	section_ref section;             /* ... which is this; -1: they are here */
	const struct dose *const *doses; /* whose squares those are */
	size_t n_doses;
	const char *stop;                /* then: with PAGE_HERE of the sheet's own line; else NULL */
	const struct vial_other *others; /* where they are here */
	size_t n_others;
	const struct vial_row *rows;
	size_t n_rows;
};

/* Which side of a sheet has the step that asks for the place: it stands there with its letter. */
enum asked_on { ASKED_ON_BACK, ASKED_ON_FRONT, ASKED_ON_MIX };

/* Where it goes in, and on which side on which days. */
struct todays_place {
	const char *text;   /* "Where: belly" */
	const char *bodies; /* the same beside bodies: whose left is left, and of two places only one is meant */
	bool hip;
	bool belly; /* what a picture of the body's front can show; neither where a place is another */
	bool thigh;
	const char *left; /* "left: days 1, 3, 5"; with a body "your left: ..."; NULL: never */
	const char *right;
	const char *letter; /* of the bodies: "C"; NULL: no step cites it */
	enum asked_on asked_on;
	const char *body_left; /* on the body's left: "L" */
	const char *body_right;
	const char *left_alt; /* spoken: "Your belly as in a mirror: the spot is on your left." */
	const char *right_alt;
};

/* One of two injections that make up a dose. */
struct place_part {
	const char *name; /* "First" */
	const char *side; /* "today's side" */
	const char *alt;
	const struct draw *draw;
	struct mark_words mark;
};

struct two_places {
	const char *heading;
	const char *text;
	struct place_part parts[2];
};

struct medicine_sheet {
	const struct dose *dose; /* the first of those it serves */
	const struct draw *draw;
	const char *front_title;
	const char *front_lead;   /* what it is, how it goes in, when; with PAGE_HERE of `lead_section` */
	section_ref lead_section; /* where the second half of its vial begins; -1: none */
	const char *back_title;
	const char *back_lead;
	enum pictogram picture; /* of the product */
	const char *purpose;    /* "How: under the skin. It keeps ..." */
	const char *call_heading;
	const char *call_text; /* when to call at once */
	const char *lay_out_heading;
	const struct lay_out *lay_out;
	size_t n_lay_out;
	const char *same_heading; /* "Three ways to say the same amount" */
	const char *same_terms;   /* "mcg: micrograms, a thousand to the mg."; NULL: it has no such word */
	const char *calendar_says;
	const char *amount;
	const char *box_says;   /* "The box says 250 mcg" */
	const char *box_part;   /* "half", "all", "2 vials", or the amount in the box's unit */
	const char *box_amount; /* "0.125 mg": in the box's unit, where that differs from the order's; else NULL */
	enum pictogram box_picture;
	struct rational box_fraction; /* of one container: where the level line stands */
	const char *syringe_shows;
	struct mark_words mark;
	const char *mark_more; /* "0.2 mL stays in"; NULL: the mark is the amount */
	bool mark_follows;     /* from the amount: where to stop is not how much goes in */
	bool has_add;
	struct mark_words add;
	const char *flow_heading; /* NULL: no strip */
	const struct flow_piece *flow;
	size_t n_flow;
	const struct step *first; /* to do before anything: match the box, wash, warm up; words only */
	size_t n_first;
	const char *mix_heading; /* heading above the front's steps */
	/*
	 * Of a vial that is mixed on some days only: what the others take, with PAGE_HERE of the line, where they begin;
	 * and with PAGE_HERE of the squares, said behind it where these are pages on. NULL: all days begin on the front.
	 */
	const char *other_days;
	const char *squares_page;
	bool one_needle;          /* draws and injects: none is changed */
	int goes_on;              /* 7: the step with which they go on */
	const char *back_heading; /* heading above the back's steps */
	const struct step *front;
	size_t n_front;
	const struct step *back; /* with PAGE_HERE, where the helper's steps begin */
	size_t n_back;
	bool back_elsewhere;       /* its second side stands on the sheet of an exact time ... */
	section_ref back_section;  /* ... which is this */
	const char *stop_heading;  /* "Stop on this line" */
	const char *true_size;     /* "True size. Lay your syringe on it.", or "Drawn to scale, ..." */
	const char *scale_beside;  /* "of the insulin syringe", or NULL */
	const char *window_text;   /* "The ring **nearest the needle** touches the line numbered **0.5**." */
	const char *line_letter;   /* of the syringe's picture: "A"; NULL: no step cites it */
	const char *window_letter; /* of its line seen close: "B"; NULL: it has the syringe's */
	const char *alt;           /* spoken: "Pull until the front ring meets 0.5 mL" */
	const char *caution_word;
	const char *caution;            /* NULL: the clinic gave none */
	const struct note_block *notes; /* keep, throw away, late */
	size_t n_notes;

	/* What only some sheets have; NULL for others. */
	const struct mix_page *mix;
	const struct powder_chain *chain;
	const struct filled_part *part;
	const struct muscle_page *muscle;
	const struct vial_log *vials;
	const struct todays_place *place;
	const struct two_places *twice;
};

/* ---- one vial, two days ---- */

struct split_label {
	const char *title;
	const char *amount;
	const char *made; /* "Mixed Thu 5 Jun," with a line to write the time */
	const char *use_by;
	const char *start; /* "How: page 9.", with PAGE_HERE of the second day's first step */
	const char *patient;
};

struct split_half {
	const char *heading;
	const char *when;
	const char *foot;
	const char *foot_elsewhere; /* with PAGE_HERE: where the second day stands on another page; or NULL */
};

struct reading_window {
	const char *letter; /* "D" */
	bool right;
	const char *number;   /* volume really held, "0.52" */
	struct rational ring; /* mL where the front ring stands; for wrong ones set by page from the stopper's form */
	const char *verdict;
	const char *text;
};

struct split_sheet {
	const struct dose *dose;
	const struct draw *draw;
	const char *title;
	const char *lead;
	struct split_half first;
	struct split_half second;
	const char *between_heading;
	const char *between_where;
	enum pictogram between_picture;
	const char *use_before;
	const char *use_time; /* "22:00" */
	const char *use_date;
	const char *after;
	struct mark_words mark;
	const char *labels_heading;
	const struct split_label *labels;
	size_t n_labels;
	const char *read_heading;
	struct reading_window windows[3]; /* right; the point on the line; the back ring on the line */
	const char *second_heading;
	const char *second_things;     /* "×1 mixed vial, ×1 empty 1 mL syringe, ..." */
	const struct step *second_day; /* with PAGE_HERE: where the medicine is drawn and injected, ... */
	size_t n_second_day;
	section_ref draws_on; /* ... in this section, ... */
	int goes_on;          /* ... with this step of its */
};

/* ---- pens ---- */

/* A pen set to one number, and its window seen close. */
struct pen_view {
	struct mark_words mark;
	const char *letter; /* of the picture; NULL: no step cites it */
	const char *number; /* in the window */
	const char *below;  /* its neighbours on the dial; NULL: none */
	const char *above;
	struct rational full; /* what is in it before, as part of a new one */
	const char *caption;  /* "The window. Pen not true size." */
	const char *alt;
};

/* The doses of one pen that are set alike. */
struct pen_amount {
	const char *days; /* "days 1 to 5" */
	const char *amount;
	const char *text; /* "Turn until the window says **150**." */
	struct pen_view view;
};

#define PEN_COLUMNS 5

/* One pen from its first dose to its last: which, from when, to when, what is left then, what to do with it. */
struct pen_row {
	const char *cells[PEN_COLUMNS];
};

struct pen_sheet {
	const struct medicine_sheet *sheet; /* what is laid out, steps, notes; its strip is left out */
	const char *pens_heading;
	const char *heads[PEN_COLUMNS];
	const struct pen_row *rows;
	size_t n_rows;
	const struct note_block *see; /* which number counts, which days take more than one pen: where that is said */
	size_t n_see;
	const struct pen_amount *amounts;
	size_t n_amounts;
};

/* One pen of a dose that takes several. */
struct pen_turn {
	const char *heading; /* "First" */
	const char *which;   /* "the old pen, opened Thursday 5 June" */
	const char *part_says;
	const char *part; /* "75 units" */
	struct pen_view view;
	struct mark_words priming; /* number NULL: no test */
	const struct step *steps;
	size_t n_steps;
	const char *next; /* "Not all yet: now pen 2 of 2."; NULL at the last */
};

struct pens_sheet {
	const char *title;
	const char *lead;
	const char *calendar_says;
	const char *amount;
	const struct medicine_sheet
		*sheet; /* what to know and do first, where it goes in, notes; its other fields are empty */
	const struct pen_turn *turns;
	size_t n_turns;
	const char *done_word;
};

/* ---- exact time ---- */

struct exact_alarm {
	const char *heading; /* "alarm 1" */
	const char *time;
	const char *day; /* "still Thursday 19 June" */
	const char *text;
};

/* A point of the line from the dose to what follows it. */
struct exact_stop {
	const char *when;    /* "Sat 21 Jun, 11:00" */
	const char *what;    /* "be here" */
	const char *elapsed; /* from this one to the next: "34 h 30 min"; NULL at the last */
};

struct exact_rule {
	const char *when; /* "late" */
	const char *what;
};

/* The hours about the dose as a line: clock hours, whatever the clocks do in that night. */
#define HOUR_LINE_HOURS 15
#define HOUR_LINE_DARK_FROM 20 /* hours that have a dark bar under them */
#define HOUR_LINE_DARK_TO 30

struct hour_line {
	int first;               /* hour that it begins with: 18 for a night, 6 for a day */
	int at;                  /* minutes from there to the dose */
	const char *evening;     /* of a night, before midnight: "Thursday 19" */
	const char *early_hours; /* after it: "Friday 20"; NULL where the line has no midnight */
};

struct exact_sheet {
	const struct dose *dose;
	const char *title;
	const char *lead;
	const char *night; /* "In the night from"; NULL before midnight */
	const char *days;  /* "Thursday 19 to Friday 20 June", or "Thursday 19 June" */
	const char *time;
	struct clock_time clock;
	const char *dial_alt; /* "Inject at 22:30, Monday 14 December." */
	enum pictogram sign;
	const char *twin; /* "half an hour after midnight" */
	const char *am_pm;
	const char *zone;      /* whose clock it is */
	const char *hours_key; /* the same, and what the line of hours shows */
	const char *away;      /* the same in bold words where that is not home's; NULL: it is */
	struct hour_line hours;
	enum pictogram pictogram;
	const char *name;
	const char *amount;
	section_ref front;              /* how to get it ready; -1: nothing to */
	const struct mark_words *marks; /* one an injection */
	size_t n_marks;
	enum side side;
	bool hip; /* the hip's side, in place of the belly's */
	const char *side_word;
	const char *done_word;
	const char *alarms_heading;
	struct exact_alarm alarms[2];
	const char *alarms_note; /* that the second is to be waited for */
	const char *warm_first;  /* before it is got ready; NULL: it need not warm */
	int inject_step;         /* number of the step that is for the second alarm; 0: its steps are not told */
	const char *set_word;
	const char *after_heading; /* NULL: nothing follows that has a time */
	const struct exact_stop *stops;
	size_t n_stops;
	const char *clock_change; /* clocks change between the first and the last of them; NULL: they do not */
	const char *if_heading;
	const char *call_text; /* whom to call then */
	const char *if_head;
	const char *do_head;
	struct exact_rule rules[3];
	const char *injected_word;
	const char *tell_text;
	const struct medicine_sheet *medicine; /* its second side is this sheet's back; NULL: it has none */
};

/* ---- what a new version changes ---- */

enum change_form { CHANGE_FORM_AMOUNT, CHANGE_FORM_WORDS, CHANGE_FORM_STOP };

struct change_row {
	enum pictogram pictogram;
	const char *name;
	const char *detail; /* "evening, 20:00"; for days other than all from the first change on, those days */
	const char *before;
	enum change_form form;
	const char *now; /* "175 units", "at 07:00", "Stop" */
	const char *sub; /* "20 units, as before", "put the box away"; NULL: nothing */
	struct mark_words mark;
};

struct change_sheet {
	const char *title;
	const char *lead;
	const char *starts_word; /* "The change starts on"; NULL: no dose differs */
	const char *starts;      /* "Monday 9 June, day 5" */
	const char *until_line;
	const char *why_heading; /* NULL: no reason is given */
	const char *why;
	const char *heading;
	const char *before_head;
	const char *now_head;
	const struct change_row *rows;
	size_t n_rows;
	const char *nothing_else;
	const char *old_heading;
	const char *old_note;
	const char *tear;
	const char *ticks[3];
	const char *notes_heading; /* lines to write on, where there is room */
	const char *notes_note;
};

/* ---- waiting for a call ---- */

struct waiting_amount {
	const char *amount;
	const char *from; /* "from day 3"; NULL: from the first */
	struct mark_words mark;
};

/* Days of the course that fall on one weekday, whichever that is. No date: that is what is not known. */
struct waiting_column {
	const char *head;    /* "day 2", "days 2, 9"; of the first: "If day 1 is" */
	const char *numbers; /* "2, 9": in large print, where a word is too wide for a column */
	const char *note;    /* "20:00"; NULL: nothing is taken on them */
	bool visit;          /* only visits fall on them */
	/* One a row: the row of Monday is for a course whose day 1 is a Monday. NULL: by then it has ended. */
	const char *weekdays[7];
	const char *weekdays_short[7];
};

/* One day of the course, to tick when it is done. */
struct waiting_day {
	const char *number;       /* "9"; NULL: there is nothing to do */
	size_t n_ticks;           /* one a dose */
	const char *const *times; /* one a tick, where there are several; else NULL */
	const char *last;         /* "last", or NULL */
	const char *visit;        /* "Blood test, 08:30", or NULL */
};

struct waiting_week {
	const char *label;
	const struct waiting_day *days; /* one a column */
};

struct waiting_sheet {
	const char *title;
	const char *lead;
	bool sooner;              /* it starts on a known day unless a call comes first */
	const char *heading;      /* "Do not start yet" */
	const char *text;         /* with PAGE_HERE where a sooner start is to be crossed out: ... */
	section_ref grid;         /* ... in this section, ... */
	const struct dose *doses; /* ... on the pages of these doses */
	size_t n_doses;
	const char *write_heading;
	const char *day_label;
	const char *day_hint;
	const char *weekdays[7]; /* short, Monday first */
	const char *day_word;
	const char *month_word;
	const char *time_label; /* NULL: the time of day is known */
	const char *amount_label;
	const char *amount_hint; /* with PAGE_HERE of `options`; NULL: the amount is known */
	section_ref options;     /* where its lines are; -1: nowhere */
	const struct waiting_amount *amounts;
	size_t n_amounts;
	bool choose;      /* one of them is ticked */
	const char *unit; /* of an amount to write in; NULL: none is */
	const char *who_label;
	const char *at_word;
	const char *read_label;
	const char *read_text;
	const char *look_heading;             /* NULL: there is nothing to look up */
	const char *look_text;                /* how to read it, and when the course ends */
	const char *numbers_word;             /* "day": before the columns' numbers, in large print */
	const struct waiting_column *columns; /* the first is that of day 1; none: the text says all */
	size_t n_columns;
	int rows[7]; /* the weekdays that day 1 may have, 0 is Monday */
	size_t n_rows;
	const struct waiting_week *weeks;
	size_t n_weeks;
};

/* ---- what the amount may become ---- */

struct option_row {
	bool first;         /* of its amount: the tick stands here */
	const char *number; /* "187.5" */
	const char *unit;   /* "units"; NULL: `number` says all */
	const char *plain;  /* both in one */
	const struct draw *draw;
	struct mark_words mark;
	const char *line; /* "the line numbered **0.6**" */
	const char *alt;
	section_ref how; /* how to get this amount ready; -1: nothing to */
};

struct options_sheet {
	const char *title;
	const char *lead;
	const char *said_head;
	const char *line_head;
	const struct option_row *rows;
	size_t n_rows;
	const char *box_line;
	const char *changed_heading;
	const char *changed_note;
	const char *from_head;
	const char *amount_head;
	const char *who_head;
	const char *read_head;
	const char *other_line; /* with PAGE_HERE, where the table is */
	const char *caution_word;
	const char *caution;
};

/* ---- what is counted out ---- */

/* The doses of one item that are counted alike. */
struct counted_amount {
	const char *days;
	const char *amount; /* as the calendar says it */
	const char *take;   /* "×2" and what; "half" */
	const char *words;  /* "2 patches" */
	int64_t whole;      /* pieces to draw ... */
	bool half;          /* ... and half a one */
};

/* A day on which patches change: off, on, and how many are on the skin then. */
struct patch_row {
	const char *day;
	const char *date;
	const char *off; /* NULL: none */
	const char *on;
	const char *then;
	bool own_box; /* the calendar has no row for it, and so no box to tick */
};

struct counted_sheet {
	const struct medicine_sheet *sheet; /* steps, with PAGE_HERE of the table of changes; notes */
	enum pictogram piece;
	enum pictogram half_piece;
	const char *calendar_says;
	const char *days_head; /* over the days of each amount */
	const char *take_says;
	const struct counted_amount *amounts;
	size_t n_amounts;
	const char *patches_heading; /* NULL: no table of changes */
	const char *patch_heads[4];
	const struct patch_row *patches;
	size_t n_patches;
	const char *steps_heading;
};

/* ---- notes ---- */

struct notes_sheet {
	const char *date_heading;
	const char *note_heading;
	const char *read_back_heading;
	bool empty; /* no lines: labels are cut out of its sheet */
};

/* ---- supplies ---- */

struct supply_row {
	enum pictogram pictogram;
	const char *name;
	const char *detail; /* a line each: what the box says; where it is kept */
	const char *unit;   /* key of what is counted, by number: "tablet", "tablets"; NULL: its name says it */
	int64_t need;
	int64_t have;
	int64_t get;
};

struct supply_group {
	const char *heading;
	const struct supply_row *rows;
	size_t n_rows;
};

struct supplies_sheet {
	const char *title;
	const char *lead;
	const char *have_word;
	const char *get_each_word;
	const char *none_word; /* in place of a count of nothing to get */
	const char *need_heading;
	const char *have_heading;
	const char *get_heading;
	const struct supply_group *groups;
	size_t n_groups;
	const char *first_line; /* bold */
	const char *second_line;
};

/* ---- before you start ---- */

struct sign_line {
	const char *text;
	enum {
		SIGN_WHITE_TAG,
		SIGN_ALL,
		SIGN_LINE,
		SIGN_DIAL,
		SIGN_SIDE,
		SIGN_HIP,
		SIGN_SPLIT,
		SIGN_RAIL, /* large print's thick frame */
		SIGN_WAIT,
		SIGN_EXACT,
		SIGN_NEW,
		SIGN_PAST,
		SIGN_VISIT, /* these two in large print alone */
		SIGN_BELL
	} kind;
	struct mark_words mark;    /* the sample tag, for the first four */
	const char *side_words[2]; /* below the drawings of SIGN_SIDE and SIGN_HIP: left, right */
};

/* A picture of a word or two: a time of day as the grid's heads show it, a visit, an alarm. Large print has none. */
struct small_sign {
	enum pictogram sign;
	const char *word;
};

struct number_kind {
	enum { NUMBER_AMOUNT, NUMBER_LINE, NUMBER_TIME, NUMBER_COUNT } kind;
	const char *heading;
	const char *sample; /* not for NUMBER_LINE */
	struct mark_words mark;
	const char *text;
};

#define TERMS_MOST 6

struct before_sheet {
	const char *title;
	const char *lead;
	const char *true_heading; /* NULL: nothing is drawn in true size, there is nothing to check */
	const char *card_text;
	const char *card_alt; /* the same with its size */
	const char *card_note;
	const char *card_size;
	const char *good; /* "**Edges meet all round:** good. Tick here." */
	const char *bad;
	const char *still;
	const char *ruler_text;
	const char *kinds_heading;
	struct number_kind kinds[4];
	size_t n_kinds; /* a packet without lines has none to show */
	const char *signs_heading;
	const struct sign_line *signs;
	size_t n_signs;
	const char *small_word;
	struct small_sign small[6];
	size_t n_small;
	const char *terms_word;
	const char *terms[TERMS_MOST]; /* "**mL:** how much liquid" */
	size_t n_terms;
	const char *disclaimer;
	const char *warning_word;
	struct emergency emergency;
};

/* ---- staff's check page ---- */

/* A working as pieces: a stacked fraction where `under` is given. */
struct formula_piece {
	const char *text;
	const char *under; /* NULL: plain text */
	bool bold;
};

struct check_row {
	const char *name;
	const char *detail;          /* "days 1 to 6" */
	const section_ref *sections; /* where it is printed */
	size_t n_sections;
	const struct item
		*item; /* of the grid's pages the one with this dose's box is meant, or with the item; or NULL */
	const struct dose *dose;
	const struct formula_piece *formula;
	size_t n_formula;
	const char *const *notes; /* "28.5 mm from zero. One line off: 0.01 mL, 2.5 mcg (2 %)." */
	size_t n_notes;
	struct mark_words mark; /* number NULL: `result` instead */
	const char *result;
};

struct check_sheet {
	const char *title;
	const char *lead;
	const char *heads[4]; /* figure and working, on the sheet, worked out, checked */
	const struct check_row *rows;
	size_t n_rows;
	const char *cautions_heading;
	const char *const *cautions;
	size_t n_cautions;
	const char *worked_by;
	const char *worked_name; /* or NULL */
	const char *checked_by;
	const char *checked_name;
	const char *signature_word;
	const char *date_word;
};

/* ---- teach-back ---- */

struct teach_row {
	enum pictogram pictogram;
	const char *say;        /* "**Examplin 125 mcg.** “Stop where the sheet tells you.”" */
	const char *right;      /* "Thick one emptied, thin one on."; NULL: the mark says it */
	struct mark_words mark; /* as it is printed for the patient; number NULL: none */
	const char *means;      /* the same in the staff's words; NULL: they are the same */
	section_ref section;    /* where the sheet shows it; -1: nowhere */
	/* Whose page of the section is meant: a dose's box, an amount's draw, a table; NULL: the first page. */
	const void *part;
	section_ref back; /* where else that step may be: the sheet of an exact time; -1: nowhere */
	int step;         /* the step that is shown; 0: none is */
};

struct teach_sheet {
	const char *title;
	const char *lead;
	const char *say_head;
	const char *right_head;
	const char *tick_heads[3]; /* alone, with help, again */
	const struct teach_row *rows;
	size_t n_rows;
	const char *again_line;
	const char *signed_heads[2]; /* taught by; I was shown this */
	const char *signed_notes[2];
	const char *name_word;
	const char *date_word;
};

/* ---- second check, blind ---- */

enum answer_kind { ANSWER_NUMBER, ANSWER_CLOCK, ANSWER_WEEKDAY, ANSWER_ALL };

/* What the program worked out for one blank. Never placed on a page. */
struct blind_answer {
	const char *name; /* "1a", as beside the blank */
	const char *asks; /* "Examplin, days 1 to 6: volume" */
	enum answer_kind kind;
	struct rational number;
	enum unit unit; /* of the number; UNIT_NONE: it has none */
	struct clock_time clock;
	enum weekday weekday;
	const char *text; /* as it would be printed */
};

struct blind_question {
	const char *name; /* "1a" */
	const char *label;
	const char *unit; /* after the blank; NULL: none */
};

struct blind_row {
	const char *number;
	const char *name;
	const char *ordered; /* bold */
	const char *const *inputs;
	size_t n_inputs;
	const struct blind_question *questions;
	size_t n_questions;
};

struct blind_sheet {
	const char *inputs_heading;
	const char *answers_heading;
	const struct blind_row *rows;
	size_t n_rows;
	const char *then_line;
	const char *differs_line;
	const char *checker_word;
	const char *date_word;
	const char *agree_word;
};

/* ---- the whole ---- */

struct section {
	enum section_kind kind;
	bool staff;
	bool notice;             /* numbered C1, C2 ... */
	const struct item *item; /* whose pages these are; NULL: of the whole plan */
	section_ref next;        /* the next one of the same medicine line; -1: none */
	const char *title;
	const char *lead;
	union {
		const struct overview *overview;
		const struct grid *grid;
		const struct medicine_sheet *medicine;
		const struct split_sheet *split;
		const struct pen_sheet *pen;
		const struct pens_sheet *pens;
		const struct counted_sheet *counted;
		const struct exact_sheet *exact;
		const struct change_sheet *change;
		const struct waiting_sheet *waiting;
		const struct options_sheet *options;
		const struct notes_sheet *notes;
		const struct supplies_sheet *supplies;
		const struct before_sheet *before;
		const struct check_sheet *check;
		const struct teach_sheet *teach;
		const struct blind_sheet *blind;
	};
};

/* What stands on every page. */
struct running {
	const char *unsure;        /* "Unsure? Stop, call." */
	const char *const *phones; /* "Day **000 555 0142**", "Night **000 555 0199**" */
	size_t n_phones;
	const char *staff_line;    /* "For clinic staff. Not for the patient." */
	const char *patient;       /* "Mara Quillfeather · born 14 Feb 1997 · Lindenquay Clinic" */
	const char *patient_alone; /* the same without the clinic */
	const char *version;       /* "**version 2** · signed 4 Jun 2031", or "... · DRAFT · not signed" */
	const char *draft_band;    /* NULL when signed */
	const char *code;
};

struct handout {
	const struct record *record;
	struct speaker *speaker;       /* for page: numbers of pages */
	struct speaker *staff_speaker; /* the staff's pages are in the clinic's first language */
	const char *language;
	enum paper paper;
	bool large_print;
	bool mono;
	struct running running;
	struct running staff_running;
	const struct section *sections;
	size_t n_sections;
};

/* What the templates may name: for the check of a clinic's own templates. */
bool step_condition_known(const char *name);
bool lay_out_known(const char *entry);
bool step_value_known(const char *name); /* a {place} in a step's words */

/* Their names by number, for a hint; NULL behind the last. */
const char *step_condition_name(size_t index);
const char *lay_out_name(size_t index);

struct handout_options {
	const char *language;
	enum paper paper;
	bool large_print;
	bool mono;
};

/* Lives in `arena`; the speakers are owned by the caller's `speaker`s. A missing text is a stop in `findings`. */
const struct handout *handout_of(struct arena *arena, const struct record *record, struct handout_options options,
                                 struct speaker *speaker, struct speaker *staff_speaker, struct findings *findings);

/*
 * The second check as a handout of its own, in the clinic's first language. The
 * answers go into `answers`, and into no string of the handout.
 */
struct blind_answers {
	const struct blind_answer *list;
	size_t n;
};

const struct handout *blind_handout_of(struct arena *arena, const struct record *record, struct handout_options options,
                                       struct speaker *staff, struct blind_answers *answers, struct findings *findings);

#endif
