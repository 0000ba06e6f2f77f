/*
 * build.h - what the makers of the sections share; for handout alone.
 */
#ifndef HANDOUT_BUILD_H
#define HANDOUT_BUILD_H

#include "handout/handout.h"

/* All doses of one item that are measured alike share one sheet. */
struct variant {
	const struct item *item;
	const struct dose *dose; /* the first of them */
	const struct draw *draw; /* as that dose makes it */
	size_t draw_index;
	section_ref sheet;         /* its medicine's */
	section_ref section;       /* the one that shows it: that sheet, or the page of a dose from several pens */
	section_ref split_section; /* -1: not shared */
	section_ref exact_section; /* its SECTION_EXACT, which has the draw steps; -1: it has a back of its own */
	bool some_whole;           /* counted out: its sheet has amounts with a half and amounts without */
};

/* Where the pages of one medicine line that waits for something are; -1: it has none. */
struct line_pages {
	section_ref waiting;
	section_ref options;
};

struct build {
	struct arena *arena;
	const struct record *record;
	const struct course *course;
	const struct plan *plan;
	const struct clinic *clinic;
	struct speaker *speaker; /* the patient's */
	struct speaker *staff;
	struct findings *findings;
	struct variant *variants;
	size_t n_variants;
	bool large_print;
	section_ref grid_section;
	section_ref before_section; /* -1: the clinic prints none */
	section_ref change_section; /* -1: nothing is replaced */
	struct several_pens {
		const struct dose *dose; /* the first of those that several pens serve alike */
		section_ref section;
	} * several_pens;
	size_t n_several_pens;
	const struct line_pages *lines; /* one a run of the course */
	enum side *sides;               /* one a day of the grid */
	size_t n_sides;
};

/* Finds the variants of the course: to be called once, before anything else. */
void build_variants(struct build *build);

/* What stands on every page, in a speaker's language. */
struct running running_of(struct build *build, struct speaker *speaker);

/* Some dose was done before the day that the plan speaks from. */
bool has_begun(const struct build *build);

/* Every medicine line has a last day that is known: nothing is to wait for. */
bool all_end(const struct course *course);

/* The same, and no visit after which a call says how it goes on. */
bool course_is_over(const struct course *course);

/* The variant a dose's draw belongs to. */
const struct variant *variant_of(const struct build *build, const struct dose *dose, size_t draw_index);

/* True where a dose, or a part of it, is measured so. */
bool draws_variant(const struct build *build, const struct dose *dose, const struct variant *variant);

/* True where both halves are drawn at once, and the second syringe is closed and kept. */
bool dose_drawn_at_once(const struct dose *dose);

/* The variant of a draw as it stands: of a dose, or of an amount that a call may set. */
const struct variant *variant_of_draw(const struct build *build, const struct item *item, const struct draw *draw);

/* The pages of the line that a run is. */
const struct line_pages *pages_of_item(const struct build *build, const struct item *item);

/* The first sheet of a medicine line; -1: it has none, since nothing of it is ahead. */
section_ref sheet_of_item(const struct build *build, const struct item *item);

/* True when both are measured alike: same product, amount, line and syringe. */
bool draws_alike(const struct draw *a, const struct draw *b);

/* A vial for many days, mixed on the first with one syringe and drawn from with another: so it is on later days, too. */
bool draw_mixed_apart(const struct draw *draw);

/* The course's day number of a treatment day: 1 is the first of the grid. */
int course_day(const struct build *build, struct civil_date date);

/* "days 1 to 6", "day 11", "days 1 to 3, 7": the days on which doses of a variant fall. */
const char *variant_days(struct build *build, struct speaker *speaker, const struct variant *variant);

/* All its doses were done before the day that the plan speaks from, and no call may ask for one. */
bool variant_is_over(const struct build *build, const struct variant *variant);

/* Those of them on which a container is opened: not the second halves. */
/* The days on which a vial for many doses is opened; NULL: none is known. */
const char *days_opened(struct build *build, const struct variant *variant);
const char *opening_days(struct build *build, struct speaker *speaker, const struct variant *variant);

/* The days and times of an item's doses that come, all or in part, from `product`. */
const char *product_days(struct build *build, struct speaker *speaker, const struct item *item,
                         const struct product *product);
const char *product_times(struct build *build, struct speaker *speaker, const struct item *item,
                          const struct product *product);

/* "evening, 20:00"; "morning, 08:00; bedtime, 22:00" where a day has several. */
const char *variant_times(struct build *build, struct speaker *speaker, const struct variant *variant);

/* Of a dose without a time: "any time", or while its day is open "the time we tell you". */
const char *untimed_words(struct speaker *speaker, const struct dose *dose);

/* "evening, 20:00", "22:30 exactly", "20:00". */
/* "night, Mon to Tue": of a dose after midnight that ends the day before; NULL: it falls on its own day. */
const char *night_of(struct speaker *speaker, const struct dose *dose);
const char *dose_time(struct build *build, struct speaker *speaker, const struct dose *dose);

/* Finds the sides of all days: to be called once, before side_of_day(). */
void build_sides(struct build *build);

/* Which side of the wearer is the turn of a treatment day; SIDE_NONE on days without a needle. */
enum side side_of_day(const struct build *build, struct civil_date date);

/* What is said of the doses after the visit that the packet is good until: by when a call must have come. NULL: no dose
 * with a time is known to come after it, or the visit has no time. */
const char *call_by(struct build *build);

/* When to call for help at once: the clinic's words, whole, or on the first page in short where they give no number. */
struct emergency emergency_of(struct build *build, bool first_page);

/* The number to call at a clock time, by the telephones' hours; else all of them. */
const char *phone_at(struct build *build, struct clock_time time);

/* What an amount said on the telephone is counted in; NULL: nothing says it. */
const char *unit_to_write(struct build *build, const struct dose *dose);

/* Of a part of a filled syringe: what goes into the patient, and what does not, "the rest" where no label says. */
const char *part_goes_in(struct build *build, const struct draw *draw);
const char *part_rest(struct build *build, const struct draw *draw);

/* "The box says 250 mcg"; "" where it says nothing to match. */
const char *box_words(struct build *build, const struct product *product);

/* What it looks like and is for, when to call at once, how to keep it, what to throw away, what if it is late. */
void fill_about(struct build *build, const struct variant *variant, struct medicine_sheet *sheet);

/* "under the skin": how it goes in. */
const char *route_words(struct build *build, const struct medicine *medicine);

/* What stands on its label: "0.25 mg", "5 mg in 1 mL"; "" where the record has nothing. */
const char *label_words(struct speaker *speaker, const struct product *product);

/* True when the label names this very amount, in whatever unit: "0.25 mg" and 250 mcg. */
bool label_names(const struct product *product, struct quantity amount);

/* The same with the container and what is in it: "vial of 2.8 mL, 5 mg in 1 mL". */
const char *packed_words(struct build *build, struct speaker *speaker, const struct product *product);

/* The liquid that a powder comes with: "ampoule of 2 mL, water for injections"; NULL: none does. */
const char *liquid_words(struct speaker *speaker, const struct product *product);

/* Pictures and words for things. */
enum pictogram picture_of_product(const struct product *product);
enum pictogram picture_of_time(struct clock_time time, const struct slot *slot);
/* "Morning": the slot's word; of a time that is no slot (NULL), or whose slot has none, that of the hour. */
const char *slot_word(struct build *build, struct clock_time time, const struct slot *slot);
enum pictogram picture_of_place(const char *where);
const char *device_words(struct build *build, const struct draw *draw, const struct item *item);
bool given_by_needle(const struct draw *draw, const struct item *item);

/* True when the thick needle comes off and a thin one goes on. */
bool draw_swaps_needles(const struct draw *draw);

/* How many patches of an item come off on a day, by what went on and how long it is worn; zero: none, or not said. */
struct rational patches_off(const struct build *build, const struct item *item, struct civil_date date);

/* The page of a dose that several pens serve; -1: one pen does. */
section_ref pens_section(const struct build *build, const struct dose *dose);

/* True when a variant is some dose as a whole, not a part that another pen makes up. */
bool is_whole_dose(const struct build *build, const struct variant *variant);

/* The open tag of a pen's test; its number is NULL where there is nothing to test with. */
struct mark_words pen_test_mark(struct build *build, struct quantity priming);

/* True when two doses are given from several pens, set alike and in the same order. */
bool pens_alike(const struct dose *a, const struct dose *b);

/* The medicine's name; with the amount where it has sheets for others. */
const char *sheet_name(struct build *build, const struct variant *variant);

/* True when a dose is given as two injections, since one place cannot take it. */
bool dose_at_two_places(const struct dose *dose);

/* The first of them leaves its container for the second, as not every dose of two injections does. */
bool dose_shares_container(const struct dose *dose);

/* What was ordered: "75 mg" of a variant that is one of two injections of 37.5 mg. */
struct quantity variant_ordered(const struct variant *variant);
/* The same in words, with the part that each of two injections has: "75 mg, in two of 37.5 mg". */
const char *variant_amount(struct speaker *speaker, const struct variant *variant);

/* "19:00 to 21:00": when a dose of a line with a window is on time; NULL: clock times cannot say it. */
const char *on_time(struct build *build, const struct variant *variant);

/*
 * What skin to choose there: two fingers from the navel, where the belly is a place (labels say 2.5 to 5 cm), and none
 * that is sore, bruised or hard.
 */
const char *spot_words(struct build *build, const struct medicine *medicine);

/* The same as the step of injecting says it. */
const char *place_in_step(struct build *build, const struct variant *variant, enum step_side side);

/* Days of the course, in order, as they are said. */
struct day_list {
	struct day_range {
		int from;
		int to;
	} * ranges;
	size_t n;
};

/* Adds days 1 to 6, or day 7; two that follow each other are listed. */
void add_days(struct build *build, struct day_list *list, int from, int to);
/* "days 1 to 6, 9", "days 6 and 12", "day 7"; NULL: there are none. */
const char *days_words(struct build *build, struct speaker *speaker, const struct day_list *list);

/* What only some sheets have: NULL where a variant has none of it. `next`: the number of its next step, moved on. */
const struct mix_page *mix_page_of(struct build *build, const struct variant *variant, int *next);
const struct powder_chain *powder_chain_of(struct build *build, const struct variant *variant, int next);
const struct filled_part *filled_part_of(struct build *build, const struct variant *variant, int *next);
const struct muscle_page *muscle_page_of(struct build *build, const struct variant *variant, int *next);
const struct vial_log *vial_log_of(struct build *build, const struct variant *variant);
const struct two_places *two_places_of(struct build *build, const struct variant *variant);
const struct todays_place *todays_place_of(struct build *build, const struct variant *variant);
const struct todays_place *todays_place_of_pens(struct build *build, const struct dose *dose);
/* The place of a sheet whose steps are there: on the side whose steps cite it. */
const struct todays_place *place_as_asked(struct build *build, const struct medicine_sheet *sheet,
                                          const struct todays_place *of);

/* The letter of a sheet's picture number `index`, from 0; NULL: there are more pictures than letters. */
const char *picture_letter(struct build *build, size_t index);
/* How many pictures a pen's sheet has: one for each amount. */
size_t amounts_of_sheet(const struct build *build, const struct variant *variant);
/* Which picture of a sheet shows the place, and which the syringe of its line: 0 is the first. */
size_t place_picture(const struct build *build, const struct variant *variant);
size_t line_picture(struct build *build, const struct variant *variant);
/* "A", "A or B", "A to D": how a step cites the first `n` pictures. */
const char *pictures_cited(struct build *build, size_t n);
/* "Picture A, and closer in B. Syringe ...": spoken. `letter` or `closer` may be NULL. */
const char *picture_alt(struct build *build, const char *letter, const char *closer, const char *text);

/* The number of a sheet's first step with this picture, the earlier sides rather; 0: it has none. */
int step_drawn_as(const struct medicine_sheet *sheet, const char *picture, bool white_tag);

/* The makers, one a section kind. */
const struct overview *overview_of(struct build *build);
const struct grid *grid_of(struct build *build);
/* "thin needle"; "thin needle (13 mm)" where the plan has them in more than one length. KIT_NEEDLE_MIXING, _GIVING. */
const char *needle_name(struct build *build, const struct product *product, enum kit_kind kind, int64_t count);
const struct medicine_sheet *medicine_sheet_of(struct build *build, const struct variant *variant);
/* True for a dose of the variant that leaves the other half in its container. */
bool first_half_of(const struct build *build, const struct dose *dose, const struct variant *variant);
const struct split_sheet *split_sheet_of(struct build *build, const struct variant *variant);
const struct pen_sheet *pen_sheet_of(struct build *build, const struct variant *variant);
const struct pens_sheet *pens_sheet_of(struct build *build, const struct dose *dose);
const struct counted_sheet *counted_sheet_of(struct build *build, const struct variant *variant);
/* `medicine`: what its back shows, NULL: it has none; `steps`: the sheet that numbers them, NULL: none does. */
const struct exact_sheet *exact_sheet_of(struct build *build, const struct dose *dose,
                                         const struct medicine_sheet *medicine, const struct medicine_sheet *steps);
const struct change_sheet *change_sheet_of(struct build *build);
const struct waiting_sheet *waiting_sheet_of(struct build *build, const struct item_run *run);
/* A first day that a call may name in place of the known one: for an example. False: it has no known one, or none is sooner. */
bool waiting_example(const struct build *build, const struct item_run *run, struct civil_date *start);
/* A call may bring its start forward while its end stays: then it has more doses than were counted. */
bool waiting_goes_beyond(const struct item_run *run);
const struct options_sheet *options_sheet_of(struct build *build, const struct item_run *run);
const struct supplies_sheet *supplies_sheet_of(struct build *build);
/* The other sections are filled: it explains the signs that they show. */
const struct before_sheet *before_sheet_of(struct build *build, const struct section *sections, size_t n_sections);
const struct check_sheet *check_sheet_of(struct build *build);
/* The other sections are filled: it asks for their steps. */
const struct teach_sheet *teach_sheet_of(struct build *build, const struct section *sections);

/* The step with which a second day goes on, once its own are done; 0: there is none. */
int step_after_second_day(struct build *build, const struct variant *variant);

/* True when all conditions hold for a variant; "!name" negates. */
bool conditions_hold(const struct variant *variant, const char *const *names, size_t n);

/* The steps of a variant that belong on one side, numbered from `first_number`; warnings have no number. */
const struct step *steps_of(struct build *build, const struct variant *variant, enum step_side side, int first_number,
                            size_t *n);

#endif
