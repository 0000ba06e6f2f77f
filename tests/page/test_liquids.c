/*
 * Pages of mixed liquids, of parts of filled syringes and of the helper, over few and many rows, short words and long
 * ones, on both papers: nothing stands on anything else, every row has its box, and what is drawn true to size is.
 */
#include "page/compose.h"
#include "page/syringe_geometry.h"
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_handout.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define LONG_WORDS                                                                                                   \
	"Push everything into the next one, slowly and down the inside of the glass, and wait until every last bit " \
	"of the powder is gone before you go on to what comes after it."

/* Invented: 1 mL in 57 mm, lines every 0.01, numbered every 0.1. */
static const struct syringe millilitre = {.id = "sample-1",
                                          .capacity = {1, 1},
                                          .graduated = {1, 1},
                                          .step = {1, 100},
                                          .numbered_every = {1, 10},
                                          .units_per_ml = {1, 1},
                                          .scale_length = {57, 1},
                                          .measured = true};

#define NEEDLE_OF(mm)                                                                     \
	{                                                                                 \
		.given = true, .length = {.given = true, .quantity = {{mm, 1}, UNIT_MM} } \
	}

static const struct product product = {.container = CONTAINER_POWDER_VIAL,
                                       .volume = {.given = true, .quantity = {{9, 10}, UNIT_ML}},
                                       .mixing_needle = NEEDLE_OF(40),
                                       .giving_needle = NEEDLE_OF(25)};

static const struct step steps[] = {
	{4, "air-in", "Air in", "Vial off, needle up. Pull some air in: the needle empties.", false, false, false},
	{5, "swap-needles", "Thin on", "Thick off, into the sharps box. Thin on. Pull its cap off.", false, false,
         false},
	{6, "first-drop", "Air out", "Needle up. Tap. Push slowly to the first drop.", false, false, false},
	{7, "pinch-inject", "Inject", "Wipe today's side: belly. Pinch. Needle in. Out, let go.", false, false, false},
	{8, "sharps-box", "Sharps box", "All straight in. Never put a cap back on. Tick your day.", false, false,
         false},
};

static const struct step long_step = {4,     "pinch-inject", "Into you, and stop on the way", LONG_WORDS, false,
                                      false, false};

static const struct note_block notes[] = {
	{PICTURE_FRIDGE, "Keep", "Box in the fridge.", -1},
	{PICTURE_CLOCK, "Late?", "Up to 3 hours late: inject now. Later than that: call first.", -1},
	{PICTURE_PHONE, "Call now", "Too much injected, fever, or you are not sure.", -1},
};

static const struct todays_place place = {.text = "Where: belly or thigh",
                                          .bodies = "Where: belly or thigh, one spot, as in a mirror",
                                          .belly = true,
                                          .thigh = true,
                                          .left = "your left: days 1, 3, 5, 7, 9, 11, 13",
                                          .right = "your right: days 2, 4, 6, 8, 10, 12, 14",
                                          .letter = "C",
                                          .body_left = "L",
                                          .body_right = "R",
                                          .left_alt = "Your belly or thigh: the spot is on your left.",
                                          .right_alt = "Your belly or thigh: the spot is on your right."};

static struct medicine_sheet plain_sheet(const struct draw *draw, struct mark_words mark)
{
	return (struct medicine_sheet){.draw = draw,
	                               .front_title = "Examplin: get ready",
	                               .front_lead = "Powder and liquid",
	                               .back_title = "Examplin: inject",
	                               .back_lead = "Days 1 to 6",
	                               .same_heading = "Three ways to say the same amount",
	                               .calendar_says = "Your plan says",
	                               .amount = "225 units",
	                               .box_says = "The box says 75 units",
	                               .box_part = "3 vials",
	                               .box_picture = PICTURE_POWDER_VIAL,
	                               .box_fraction = {3, 1},
	                               .syringe_shows = "Your syringe shows",
	                               .mark = mark,
	                               .mix_heading = "Mix",
	                               .goes_on = 4,
	                               .front = steps,
	                               .n_front = 3,
	                               .back = steps,
	                               .n_back = 5,
	                               .stop_heading = "Stop on this line",
	                               .true_size = "True size. Lay your syringe on it.",
	                               .window_text = "The ring nearest the needle touches the line.",
	                               .alt = "Syringe with its line.",
	                               .caution_word = "CAUTION",
	                               .caution = "Spilled, or lost count of the vials? Do not inject.",
	                               .notes = notes,
	                               .n_notes = 3,
	                               .place = &place};
}

struct made {
	struct sample *sample;
	struct typesetter *typesetter;
	const struct placed_packet *packet;
};

static struct made compose_sheet(struct arena *arena, const struct medicine_sheet *sheet, enum paper paper)
{
	struct findings findings = findings_in(arena);
	struct sample_options options = {.paper = paper};
	struct made made = {.sample = sample_new(arena, SAMPLE_TINY, options, &findings),
	                    .typesetter = typesetter_new("fonts", &findings)};
	struct section *sections = arena_alloc(arena, sizeof *sections);
	*sections = (struct section){.kind = SECTION_MEDICINE, .next = -1, .medicine = sheet};
	made.sample->handout.sections = sections;
	made.sample->handout.n_sections = 1;
	made.packet = compose_packet(arena, &made.sample->handout, made.typesetter, &findings);
	for (size_t i = 0; i < findings.n; i++)
		print_error("%s: %s\n", findings.list[i].code, findings.list[i].says);
	assert_non_null(made.packet);
	return made;
}

static void release(struct made *made)
{
	typesetter_free(made->typesetter);
	sample_free(made->sample);
}

static size_t said(const struct placed_packet *packet, const char *text)
{
	size_t n = 0;
	for (size_t i = 0; i < packet->n; i++)
		n += count_text(&packet->pages[i], text);
	return n;
}

static size_t count_kind(const struct placed_packet *packet, enum mark_kind kind)
{
	size_t n = 0;
	for (size_t i = 0; i < packet->n; i++)
		for (size_t j = 0; j < packet->pages[i].n; j++)
			n += packet->pages[i].marks[j].kind == kind;
	return n;
}

static size_t count_steps(const struct placed_packet *packet, const char *name)
{
	size_t n = 0;
	for (size_t i = 0; i < packet->n; i++)
		for (size_t j = 0; j < packet->pages[i].n; j++)
			n += packet->pages[i].marks[j].kind == MARK_STEP &&
			     strcmp(packet->pages[i].marks[j].step.name, name) == 0;
	return n;
}

/* Empty boxes of that size: boxes to tick. */
static size_t count_ticks(const struct placed_packet *packet, double size)
{
	size_t n = 0;
	for (size_t i = 0; i < packet->n; i++)
		for (size_t j = 0; j < packet->pages[i].n; j++) {
			const struct placed_mark *mark = &packet->pages[i].marks[j];
			n += mark->kind == MARK_BOX && fabs(mark->area.width - size) < 1e-9 &&
			     fabs(mark->area.height - size) < 1e-9 && mark->box.fill != COLOUR_WHITE;
		}
	return n;
}

/* ---- several powders ---- */

struct chain_case {
	const char *name;
	enum paper paper;
	size_t n;
	bool all;
	const char *words;
	size_t pages; /* at most */
	size_t days;  /* that it serves, where they are several */
};

static const struct chain_case chains[] = {
	{"two powders, A4", PAPER_A4, 2, true, "into it", 2, 0},
	{"three powders, A4", PAPER_A4, 3, true, "into it", 2, 0},
	{"three powders, three days", PAPER_A4, 3, true, "into it", 2, 3},
	{"three powders, six days", PAPER_A4, 3, true, "into it", 3, 6},
	{"three powders to a line, four days, Letter", PAPER_LETTER, 3, false, "into it", 5, 4},
	{"two powders, two days, long words", PAPER_LETTER, 2, true, "slowly, all of it, into the one that comes next",
         3, 2},
	{"three powders, Letter", PAPER_LETTER, 3, true, "into it", 2, 0},
	{"six powders, A4", PAPER_A4, 6, true, "into it", 3, 0},
	{"six powders to a line, Letter", PAPER_LETTER, 6, false, "into it", 5, 0},
	{"nine powders, Letter", PAPER_LETTER, 9, true, "into it", 4, 0},
	{"four powders, long words", PAPER_LETTER, 4, true, "slowly, all of it, into the one that comes next", 3, 0},
};

static const struct powder_chain *chain_of(struct arena *arena, const struct chain_case *row)
{
	struct chain_vial *vials = arena_alloc(arena, row->n * sizeof *vials);
	struct powder_chain *chain = arena_alloc(arena, sizeof *chain);
	for (size_t i = 0; i < row->n; i++)
		vials[i] =
			(struct chain_vial){arena_printf(arena, "%zu", i + 1), arena_printf(arena, "vial %zu", i + 1),
		                            arena_printf(arena, "%zu units", 75 * (i + 1)), row->words,
		                            i + 1 < row->n ? "for the next" : NULL};
	const char **days = arena_alloc(arena, (row->days + 1) * sizeof *days);
	for (size_t i = 0; i < row->days; i++)
		days[i] = arena_printf(arena, "%zu", 21 + i);
	*chain = (struct powder_chain){.days = {days, row->days},
	                               .title = "Examplin: powders",
	                               .lead = "One liquid goes through all of them",
	                               .heading = "The same liquid, vial after vial",
	                               .alt = "One liquid.",
	                               .liquid_word = "liquid",
	                               .liquid_amount = "1 mL",
	                               .in_word = "in",
	                               .out_word = "out",
	                               .now_word = "now in the liquid",
	                               .vials = vials,
	                               .n_vials = row->n,
	                               .ticks_heading = "Tick as you go",
	                               .ticks_note = "keep the thick needle on",
	                               .tick_heads = {"push all in, slowly", "swirl until clear", "draw all back"},
	                               .gone = "powder gone?",
	                               .last = "then step 4",
	                               .last_mark = row->all ? (struct mark_words){.number = "all"}
	                                                     : (struct mark_words){.number = "0.5", .unit = "mL"},
	                               .foot = "Draw back all you can, each time."};
	return chain;
}

static void a_chain_stands_free(void **state)
{
	struct test_case *test = case_of(state);
	const struct chain_case *row = test->row;
	struct draw draw = {.measure = MEASURE_SYRINGE,
	                    .product = &product,
	                    .volume = {1, 2},
	                    .mark = {LINE_DRAW, &millilitre, row->all, {1, 2}, {1, 2}}};
	struct medicine_sheet sheet = plain_sheet(&draw, chain_of(test->arena, row)->last_mark);
	sheet.chain = chain_of(test->arena, row);
	struct made made = compose_sheet(test->arena, &sheet, row->paper);
	assert_string_equal(packet_faults(test->arena, made.packet), "");
	assert_int_equal(count_steps(made.packet, "chain-vial"), row->n);
	/* Three boxes a vial; of several days as many of each, with its number. */
	assert_int_equal(count_ticks(made.packet, 8), row->days == 0 ? 3 * row->n : 0);
	assert_int_equal(count_ticks(made.packet, 5.4), 3 * row->n * row->days);
	for (size_t i = 0; i < row->days; i++)
		assert_int_equal(said(made.packet, sheet.chain->days.days[i]), 3 * row->n);
	for (size_t i = 0; i < row->n; i++)
		assert_int_equal(said(made.packet, sheet.chain->vials[i].total), i == 2 ? 2 : 1);
	assert_in_range(made.packet->n, 2, row->pages);
	release(&made);
}

/* ---- part of a filled syringe ---- */

struct part_case {
	const char *name;
	enum paper paper;
	bool push_out;
	const struct step *step;
};

static const struct part_case parts[] = {
	{"push out first, A4", PAPER_A4, true, &steps[3]},
	{"push out first, Letter", PAPER_LETTER, true, &steps[3]},
	{"stop on the way, A4", PAPER_A4, false, &steps[3]},
	{"stop on the way, long words", PAPER_LETTER, false, &long_step},
};

static void a_part_has_its_line_and_its_rest(void **state)
{
	struct test_case *test = case_of(state);
	const struct part_case *row = test->row;
	static const struct step warned[] = {
		{0, "throw-syringe", "Past the line?", "Throw the syringe away and call.", true, false, false},
		{6, "sharps-box", "Sharps box", "All straight in.", false, false, false}};
	struct mark_words out = {"push out to", "0.3", "mL", true};
	struct mark_words stop = {"stop at", "0.3", "mL", false};
	struct draw draw = {.measure = MEASURE_SYRINGE,
	                    .product = &product,
	                    .volume = {3, 10},
	                    .mark = {row->push_out ? LINE_PUSH_OUT : LINE_STOP, &millilitre, false, {3, 10}, {3, 10}}};
	struct filled_part part = {.to_line = row->step,
	                           .rest = &steps[4],
	                           .window_text = "The ring touches the line numbered 0.3.",
	                           .rest_alt = "The rest.",
	                           .rest_mark = {.number = row->push_out ? "all" : NULL},
	                           .stays_word = row->push_out ? NULL : "stays in"};
	struct medicine_sheet sheet = plain_sheet(&draw, row->push_out ? out : stop);
	sheet.part = &part;
	sheet.mark_more = "0.6 mL goes elsewhere";
	sheet.mark_follows = true;
	sheet.back = warned;
	sheet.n_back = 2;
	struct made made = compose_sheet(test->arena, &sheet, row->paper);
	const struct placed_mark *drawn[2] = {NULL, NULL};
	size_t n = 0;
	for (size_t i = 0; i < made.packet->n; i++)
		for (size_t j = 0; j < made.packet->pages[i].n; j++)
			if (made.packet->pages[i].marks[j].kind == MARK_SYRINGE && n < 2)
				drawn[n++] = &made.packet->pages[i].marks[j];
	assert_string_equal(packet_faults(test->arena, made.packet), "");
	assert_int_equal(n, 2);
	assert_int_equal(count_kind(made.packet, MARK_WINDOW), 1);
	assert_int_equal(said(made.packet, "Same spot, 5 times bigger"), 1);
	/* The amounts are equal, the line follows from them. */
	assert_int_equal(count_kind(made.packet, MARK_KNOT), 1);
	assert_int_equal(said(made.packet, "0.6 mL goes elsewhere"), 1);
	/* Pushed out to the line the ring stands on it; injecting, it starts where the syringe is filled to, 0.9 mL. */
	assert_true(drawn[0]->syringe.line && drawn[0]->syringe.mark == 0.3);
	assert_true(drawn[0]->syringe.ring == (row->push_out ? 0.3 : 0.9));
	assert_int_equal(drawn[0]->syringe.tip, row->push_out ? TIP_DROPS : TIP_SKIN);
	assert_true(!drawn[1]->syringe.line && drawn[1]->syringe.ring == 0.3);
	assert_int_equal(drawn[1]->syringe.tip, row->push_out ? TIP_SKIN : TIP_FREE);
	assert_true(drawn[0]->syringe.needle_length == 25);
	assert_int_equal(said(made.packet, "stays in"), row->push_out ? 0 : 1);
	assert_int_equal(said(made.packet, "Throw the syringe away and call."), 1);
	release(&made);
}

/* ---- into the muscle ---- */

struct muscle_case {
	const char *name;
	enum paper paper;
	size_t n_rows;
	bool quarter;
	bool one_needle;
	bool dated;
};

static const struct muscle_case muscles[] = {
	{"one row, A4", PAPER_A4, 1, false, false, true},
	{"twelve rows, A4", PAPER_A4, 12, false, false, true},
	{"twelve rows, Letter, the quarter", PAPER_LETTER, 12, true, false, true},
	{"forty rows, one needle", PAPER_A4, 40, true, true, true},
	{"days not known", PAPER_LETTER, 5, false, false, false},
};

static const struct muscle_page *muscle_of(struct arena *arena, const struct muscle_case *row)
{
	struct muscle_row *rows = arena_alloc(arena, row->n_rows * sizeof *rows);
	struct muscle_page *page = arena_alloc(arena, sizeof *page);
	for (size_t i = 0; i < row->n_rows; i++)
		rows[i] = (struct muscle_row){.day = arena_printf(arena, "%zu", i + 1),
		                              .date = row->dated ? "Wed 25 Nov" : NULL,
		                              .side = !row->dated  ? SIDE_NONE
		                                      : i % 2 == 0 ? SIDE_LEFT
		                                                   : SIDE_RIGHT,
		                              .side_word = !row->dated  ? NULL
		                                           : i % 2 == 0 ? "left"
		                                                        : "right"};
	*page = (struct muscle_page){.title = "Examplin: into the muscle",
	                             .lead = "For the person who helps",
	                             .quarter = row->quarter,
	                             .left_word = "left side",
	                             .right_word = "right side",
	                             .map_caption = "You see the back: left is on the left.",
	                             .map_alt = "A back.",
	                             .place_heading = "The side of the hip",
	                             .place_text = LONG_WORDS,
	                             .needles_heading = "Two needles, true size",
	                             .thick_text = row->one_needle ? NULL : "thick: draw (40 mm)",
	                             .thin_text = "thin: inject (25 mm)",
	                             .depth = "The needle goes in all the way.",
	                             .line_heading = "Read the line aloud",
	                             .line_text = "50 mg is small line 7 after the number 0.3, and no other.",
	                             .steps = steps,
	                             .n_steps = 5,
	                             .log_heading = "One side, then the other",
	                             .log_note = "a sore place: call",
	                             .time_word = "time",
	                             .who_word = "who",
	                             .done_word = "done",
	                             .rows = rows,
	                             .n_rows = row->n_rows};
	return page;
}

static void the_helper_has_a_row_for_each_day(void **state)
{
	struct test_case *test = case_of(state);
	const struct muscle_case *row = test->row;
	struct draw draw = {.measure = MEASURE_SYRINGE,
	                    .product = &product,
	                    .volume = {37, 100},
	                    .mark = {LINE_DRAW, &millilitre, false, {37, 100}, {37, 100}}};
	struct medicine_sheet sheet = plain_sheet(&draw, (struct mark_words){.number = "0.37", .unit = "mL"});
	sheet.place = NULL;
	sheet.muscle = muscle_of(test->arena, row);
	struct made made = compose_sheet(test->arena, &sheet, row->paper);
	assert_string_equal(packet_faults(test->arena, made.packet), "");
	assert_int_equal(count_kind(made.packet, MARK_BACK), 1);
	assert_int_equal(count_kind(made.packet, MARK_SIDE), row->dated ? row->n_rows : 0);
	assert_int_equal(count_ticks(made.packet, 6.2), row->n_rows);
	assert_int_equal(count_kind(made.packet, MARK_NEEDLE), row->one_needle ? 1 : 2);
	for (size_t i = 0; i < made.packet->n; i++)
		for (size_t j = 0; j < made.packet->pages[i].n; j++) {
			const struct placed_mark *mark = &made.packet->pages[i].marks[j];
			if (mark->kind == MARK_NEEDLE)
				assert_true(mark->needle.length == (mark->needle.thick ? 40 : 25));
			if (mark->kind == MARK_BACK)
				assert_int_equal(mark->back.place, row->quarter ? BACK_UPPER_QUARTER : BACK_HIP_SIDE);
		}
	release(&made);
}

/* ---- a vial for many days ---- */

static void every_dose_has_a_box(void **state)
{
	struct test_case *test = case_of(state);
	static const char *const days[40] = {"1",  "2",  "3",  "4",  "5",  "6",  "7",  "8",  "9",  "10",
	                                     "11", "12", "13", "14", "15", "16", "17", "18", "19", "20",
	                                     "21", "22", "23", "24", "25", "26", "27", "28", "29", "30",
	                                     "31", "32", "33", "34", "35", "36", "37", "38", "39", "40"};
	struct vial_square squares[40];
	for (size_t i = 0; i < 40; i++)
		squares[i] = (struct vial_square){.day = days[i], .done = i < 7};
	struct vial_row rows[] = {{"Vial 1", "open it on day 1, Fri 4 Dec", "last day: Thu 31 Dec", squares, 40},
	                          {"Vial 2", LONG_WORDS, "last day: Fri 1 Jan", squares + 7, 1}};
	struct vial_log log = {.heading = "One box for every dose",
	                       .note = "Use a vial for 28 days at most.",
	                       .section = -1,
	                       .rows = rows,
	                       .n_rows = 2};
	struct draw draw = {.measure = MEASURE_SYRINGE,
	                    .product = &product,
	                    .volume = {1, 2},
	                    .mark = {LINE_DRAW, &millilitre, false, {1, 2}, {1, 2}}};
	struct medicine_sheet sheet = plain_sheet(&draw, (struct mark_words){.number = "0.5", .unit = "mL"});
	sheet.vials = &log;
	struct made made = compose_sheet(test->arena, &sheet, PAPER_LETTER);
	assert_string_equal(packet_faults(test->arena, made.packet), "");
	assert_int_equal(count_ticks(made.packet, 6.2), 34); /* those done have a printed tick */
	assert_int_equal(said(made.packet, "last day: Thu 31 Dec"), 1);
	assert_int_equal(count_kind(made.packet, MARK_SIDE), 2);
	release(&made);
}

/* ---- a dose at two places ---- */

/* The same line twice is drawn once, and said by two more tags; two lines are both drawn. */
static void both_places_have_their_line(void **state)
{
	struct test_case *test = case_of(state);
	static const struct rational seconds[] = {{1, 2}, {3, 10}};
	for (size_t i = 0; i < 2; i++) {
		struct draw first = {.measure = MEASURE_SYRINGE,
		                     .product = &product,
		                     .volume = {1, 2},
		                     .mark = {LINE_DRAW, &millilitre, false, {1, 2}, {1, 2}}};
		struct draw second = first;
		second.mark.at = second.mark.number = seconds[i];
		struct mark_words words = {.number = "0.5", .unit = "mL"};
		struct two_places twice = {"Inject twice",
		                           "First one, then the next.",
		                           {{"First", "today's side", "The first.", &first, words},
		                            {"Second", "the other side", "The second.", &second, words}}};
		struct medicine_sheet sheet = plain_sheet(&first, words);
		sheet.twice = &twice;
		struct made made = compose_sheet(test->arena, &sheet, i == 0 ? PAPER_LETTER : PAPER_A4);
		assert_string_equal(packet_faults(test->arena, made.packet), "");
		assert_int_equal(count_kind(made.packet, MARK_SYRINGE), i == 0 ? 1 : 3);
		/* The strip's, the line's, and one for each place. */
		assert_int_equal(count_kind(made.packet, MARK_TAG), 4);
		assert_int_equal(said(made.packet, "today's side"), 1);
		assert_int_equal(said(made.packet, "the other side"), 1);
		release(&made);
	}
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof chains / sizeof *chains; i++)
		tests_add(&tests, chains[i].name, a_chain_stands_free, &chains[i]);
	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
		tests_add(&tests, parts[i].name, a_part_has_its_line_and_its_rest, &parts[i]);
	for (size_t i = 0; i < sizeof muscles / sizeof *muscles; i++)
		tests_add(&tests, muscles[i].name, the_helper_has_a_row_for_each_day, &muscles[i]);
	tests_add(&tests, "a dose at two places", both_places_have_their_line, NULL);
	tests_add(&tests, "a vial for forty doses", every_dose_has_a_box, NULL);
	return tests_run(&tests, "pages of liquids");
}
