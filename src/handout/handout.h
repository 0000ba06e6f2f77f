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
	SECTION_NOTES,   /* lines to write on; placed only where the next sheet would begin on a back */
	SECTION_SUPPLIES,
	SECTION_BEFORE,
	SECTION_CHECK, /* staff's */
	SECTION_BLIND  /* staff's second check: inputs and blanks, alone in a handout of its own */
};

/* A section another page may point at; -1: none. */
typedef int section_ref;

/* ---- overview ---- */

enum day_state { DAY_NOTHING, DAY_TAKE, DAY_WAIT, DAY_EXACT };

struct overview_row {
	enum pictogram pictogram;
	const char *name;
	const char *purpose;
	section_ref section;
	const char *const *times; /* "08:00"; one or more, or a word ("if needed") */
	size_t n_times;
	bool times_bold;            /* exact */
	const enum day_state *days; /* one a day of the course; NULL: day not known */
	struct clock_time exact_time;
	const char *instead; /* said in place of days: "day not known yet", "no fixed days" */
	bool waits;          /* `instead` in a dashed bar with the telephone */
};

struct moment_card {
	const char *date; /* "Thu 12 Jun" */
	const char *time; /* "09:15", or NULL */
	const char *what; /* "Visit: blood test" */
	bool exact;
	struct clock_time clock;
};

struct phone_card {
	enum pictogram pictogram;
	const char *label;
	const char *hours; /* "07:30 to 17:00", or NULL */
	const char *number;
};

struct overview {
	const char *lead; /* "Mara Quillfeather · Thu 5 Jun to Tue 17 Jun 2031" */
	const struct phone_card *phones;
	size_t n_phones;
	const char *clinic_line; /* "**Lindenquay Clinic**, Lindenquay 9, second floor." */
	const char *question_line;
	const char *heading;
	int n_days;
	const char *day_word;
	const struct overview_row *rows;
	size_t n_rows;
	bool any_wait; /* which legends are needed */
	bool any_exact;
	const char *legend_take;
	const char *legend_wait;
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
	const struct dose *dose;
	const char *amount;            /* "125 mcg", "1 tablet" */
	const char *unit;              /* of an amount to be written in; NULL: not said */
	struct mark_words mark;        /* number NULL: none */
	struct mark_words second_mark; /* a second injection of the same dose; number NULL: none */
	const char *below;             /* in place of a mark: "swallow" */
	const char *half;              /* "first half", or NULL */
	const char *own_time;          /* "at 07:00", where it differs from the column's */
	enum pictogram slot;           /* the slot's sign */
	bool new_amount;
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
	section_ref section; /* -1: none */
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
	enum { BAND_VISIT, BAND_EXACT } kind;
	const char *text;     /* visit: "**Visit, Thu 12 Jun, 09:15.** Bring this sheet." */
	const char *own_text; /* the same beside its date: "**Visit, 09:15.** Bring this sheet." */
	/* exact time: */
	const char *day_note; /* NULL, or "night, Thu to Fri" */
	const char *time;
	struct clock_time clock;
	const char *note; /* "exact time: set two alarms"; after midnight "already Friday 20 June" */
	const char *name;
	const char *amount;
	enum pictogram pictogram;
	struct mark_words mark;
	section_ref section;
	bool done;
};

struct grid_row {
	int day; /* of the course */
	const char *weekday;
	const char *date;
	enum side side;
	const char *side_word;
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
	bool ends;              /* every course ends within it: nothing is to wait for */
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
	const char *text;
	bool warning;
	bool white_tag; /* its words speak of the white tag: it stands beside them */
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

struct medicine_sheet {
	const struct dose *dose; /* the first of those it serves */
	const struct draw *draw;
	const char *front_title;
	const char *front_lead;
	const char *back_title;
	const char *back_lead;
	const char *lay_out_heading;
	const struct lay_out *lay_out;
	size_t n_lay_out;
	const char *same_heading; /* "Three ways to say the same amount" */
	const char *calendar_says;
	const char *amount;
	const char *box_says;   /* "The box says 250 mcg" */
	const char *box_part;   /* "half", "all", "2 vials", or the amount in the box's unit */
	const char *box_amount; /* "0.125 mg": in the box's unit, where that differs from the order's; else NULL */
	enum pictogram box_picture;
	struct rational box_fraction; /* of one container: where the level line stands */
	const char *syringe_shows;
	struct mark_words mark;
	bool has_add;
	struct mark_words add;
	const char *flow_heading; /* NULL: no strip */
	const struct flow_piece *flow;
	size_t n_flow;
	const struct step *first; /* to do before anything: match the box, wash, warm up; words only */
	size_t n_first;
	const char *mix_heading; /* heading above the front's steps */
	const char *back_steps;  /* "7 to 12" */
	const struct step *front;
	size_t n_front;
	const struct step *back;
	size_t n_back;
	const char *stop_heading; /* "Stop on this line" */
	const char *true_size;    /* "True size. Lay your syringe on it.", or "Drawn to scale, ..." */
	const char *scale_beside; /* "of the insulin syringe", or NULL */
	const char *window_text;  /* "The ring **nearest the needle** touches the line numbered **0.5**." */
	const char *alt;          /* spoken: "Pull until the front ring meets 0.5 mL" */
	const char *caution_word;
	const char *caution;            /* NULL: the clinic gave none */
	const struct note_block *notes; /* keep, late, call */
	size_t n_notes;
};

/* ---- one vial, two days ---- */

struct split_label {
	const char *title;
	const char *amount;
	const char *made; /* "Mixed Thu 5 Jun," with a line to write the time */
	const char *use_by;
	const char *patient;
};

struct split_half {
	const char *heading;
	const char *when;
	const char *foot;
};

struct reading_window {
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
	const struct step *second_day;
	size_t n_second_day;
	const char *policy; /* "Only on the clinic's written policy P-12." */
};

/* ---- pens ---- */

/* A pen set to one number, and its window seen close. */
struct pen_view {
	struct mark_words mark;
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
	const struct note_block *see; /* days that take more than one pen, and where they are shown */
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
};

struct pens_sheet {
	const char *title;
	const char *lead;
	const char *calendar_says;
	const char *amount;
	const struct pen_turn *turns;
	size_t n_turns;
	const char *done_word;
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
};

struct counted_sheet {
	const struct medicine_sheet *sheet; /* what is laid out, steps, notes; its strip is left out */
	enum pictogram piece;
	enum pictogram half_piece;
	const char *calendar_says;
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
};

/* ---- supplies ---- */

struct supply_row {
	enum pictogram pictogram;
	const char *name;
	const char *detail;
	enum pictogram where_picture; /* PICTURE_NONE: not said */
	const char *where;
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
	const char *need_heading;
	const char *have_heading;
	const char *get_heading;
	const struct supply_group *groups;
	size_t n_groups;
	const char *first_line; /* bold; NULL: all is there */
	const char *second_line;
};

/* ---- before you start ---- */

struct sign_line {
	const char *text;
	enum { SIGN_WHITE_TAG, SIGN_ALL, SIGN_LINE, SIGN_DIAL, SIGN_SPLIT, SIGN_WAIT, SIGN_EXACT, SIGN_NEW } kind;
	struct mark_words mark; /* the sample tag, for the first four */
};

struct number_kind {
	enum { NUMBER_AMOUNT, NUMBER_LINE, NUMBER_TIME, NUMBER_COUNT } kind;
	const char *heading;
	const char *sample; /* not for NUMBER_LINE */
	struct mark_words mark;
	const char *text;
};

struct before_sheet {
	const char *title;
	const char *lead;
	const char *true_heading;
	const char *card_text;
	const char *card_note;
	const char *card_size;
	const char *good; /* "**Edges meet all round:** good. Tick here." */
	const char *bad;
	const char *still;
	const char *ruler_text;
	const char *kinds_heading;
	struct number_kind kinds[4];
	const char *signs_heading;
	const struct sign_line *signs;
	size_t n_signs;
	const char *disclaimer;
	const char *emergency;
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
		const struct notes_sheet *notes;
		const struct supplies_sheet *supplies;
		const struct before_sheet *before;
		const struct check_sheet *check;
		const struct blind_sheet *blind;
	};
};

/* What stands on every page. */
struct running {
	const char *unsure;     /* "Unsure? Stop, call." */
	const char *phones;     /* "Day **000 555 0142**  Night **000 555 0199**" */
	const char *staff_line; /* "For clinic staff. Not for the patient." */
	const char *patient;    /* "Mara Quillfeather · born 14 Feb 1997 · Lindenquay Clinic" */
	const char *version;    /* "**version 2** · signed 4 Jun 2031", or "... · DRAFT · not signed" */
	const char *draft_band; /* NULL when signed */
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
