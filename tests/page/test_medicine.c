/*
 * One medicine's sheet and the page of a shared vial, over the three sample plans' kinds of draw: nothing stands on
 * anything else, the line stands where the scale puts it, and what is said once is said once.
 */
#include "page/compose.h"
#include "page/syringe_geometry.h"
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_handout.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const struct rational half_ml = {1, 2};

/* Invented: 1 mL in 57 mm, lines every 0.01, numbered every 0.1; and 100 units to the mL, lines every unit. */
static const struct syringe millilitre = {.id = "sample-1",
                                          .capacity = {1, 1},
                                          .graduated = {1, 1},
                                          .step = {1, 100},
                                          .numbered_every = {1, 10},
                                          .units_per_ml = {1, 1},
                                          .scale_length = {57, 1},
                                          .measured = true};
static const struct syringe units = {.id = "sample-units",
                                     .capacity = {1, 2},
                                     .graduated = {1, 2},
                                     .step = {1, 100},
                                     .numbered_every = {1, 20},
                                     .unit_scale = true,
                                     .units_per_ml = {100, 1},
                                     .scale_length = {43, 1},
                                     .fixed_needle = true};

static const struct step steps[] = {
	{1, "lid-off", "Cap off", "Flip the plastic cap off the vial. Leave the rubber in place.", false, false, false},
	{2, "wipe-top", "Wipe", "Wipe the rubber top. Let it dry: count to 10.", false, false, false},
	{3, "thick-on", "Thick on", "Twist the thick needle onto the syringe. Pull its cap straight off.", false, false,
         false},
	{4, "liquid-in", "Liquid in", "Push all the liquid in, slowly, down the glass.", false, true, false},
	{0, NULL, "Not yet", "Leave the syringe in the vial.", true, false, false},
	{5, "swirl", "Swirl", "Gently, until no powder is left. Do not shake.", false, false, false},
	{6, "settle", "Let it settle", "Let go of the plunger. Clear, no bits? Powder left after 5 minutes: stop.",
         false, false, false},
	{7, "air-in", "Air in", "Vial off, needle up. Pull some air in: the needle empties.", false, false, false},
	{8, "air-out", "Air out", "Needle up. Tap. Push to the first drop, stop on your line.", false, false, false},
	{9, "pinch-inject", "Inject", "Pinch. Needle in. Push slowly, count to 10. Needle out, let go.", false, false,
         false},
};

static const struct step second_day[] = {
	{1, "fridge-out", "Take it out", "Take the vial from its place. Is it labelled?", false, false, false},
	{2, "before-time", "In time?", "Is it before the time on the label? If not: throw it away, call.", false, false,
         false},
	{3, "new-syringe", "New syringe", "A new empty syringe, a new thick needle.", false, false, false},
	{4, "wipe-top", "Wipe", "Wipe the rubber. Then go to the step Draw.", false, false, false},
};

static const struct lay_out things[] = {
	{PICTURE_POWDER_VIAL, "powder vial", "×1"},
	{PICTURE_FILLED_SYRINGE, "liquid syringe", "×1"},
	{PICTURE_THICK_NEEDLE, "thick needle", "×1"},
	{PICTURE_THIN_NEEDLE, "thin needle", "×1"},
	{PICTURE_FILTER_NEEDLE, "filter needle", "×1"},
	{PICTURE_EMPTY_SYRINGE, "empty syringe", "×1"},
	{PICTURE_WIPE, "wipes", "×2"},
	{PICTURE_SHARPS_BOX, "sharps box", "×1"},
};

static const struct flow_piece flow[] = {{FLOW_LIQUID_SYRINGE, "liquid"},
                                         {FLOW_VIAL, "powder"},
                                         {FLOW_DRAWN, "same syringe, back"},
                                         {FLOW_THIN, "thin needle"},
                                         {FLOW_YOU, "you"}};

static const struct note_block notes[] = {
	{PICTURE_FRIDGE, "Keep", "Box in the fridge, 2 to 8 °C. Once mixed, see:", 0},
	{PICTURE_CLOCK, "Late?", "Up to 3 hours late: inject now. Later than that: call first.", -1},
	{PICTURE_PHONE, "Call now", "Too much injected, fever, a swollen belly, or you are not sure.", -1},
};

static const struct mix_page mix = {
	.title = "Examplin: mix it",
	.lead = "Line A goes into the vial.",
	.only_when = "Only when you open a new vial: days 1, 8.",
	.letter = "A",
	.heading = "Mix: draw the liquid, add it to the powder",
	.with = "1 mL syringe, thick needle",
	.place = "Draw to the line numbered 0.9.",
	.true_size = "1 mL syringe, true size.",
	.alt = "Pull until the front ring meets 0.9 mL.",
	.liquid_picture = PICTURE_AMPOULE,
	.liquid_amount = "0.9 mL",
	.liquid_word = "water for injections",
	.powder_word = "powder",
	.powder_note = "takes up room",
	.ready_amount = "1 mL",
	.ready_word = "ready",
	.ready_check = "0.9 becomes 1: that is right. Is all the powder gone? Tick here.",
	.white_heading = "White tag:",
	.white_text = "into the vial",
	.black_heading = "Black tag:",
	.black_text = "into you",
};

struct sheet_case {
	const char *name;
	enum paper paper;
	const struct syringe *syringe;
	struct rational at;
	struct mark_words mark;
	enum line_kind line;
	bool all;
	size_t n_front;
	size_t n_back;
	size_t n_lay_out;
	bool flow;
	bool add; /* the liquid is measured too */
};

static const struct sheet_case sheets[] = {
	{"half a millilitre, A4",
         PAPER_A4,
         &millilitre,
         {1, 2},
         {NULL, "0.5", "mL", false},
         LINE_DRAW,
         false,
         7,
         6,
         6,
         true,
         false},
	{"half a millilitre, Letter",
         PAPER_LETTER,
         &millilitre,
         {1, 2},
         {NULL, "0.5", "mL", false},
         LINE_DRAW,
         false,
         7,
         6,
         6,
         true,
         false},
	{"the last line",
         PAPER_LETTER,
         &millilitre,
         {1, 1},
         {NULL, "1", "mL", false},
         LINE_DRAW,
         false,
         7,
         6,
         8,
         true,
         false},
	{"a small line",
         PAPER_A4,
         &millilitre,
         {37, 100},
         {NULL, "0.37", "mL", false},
         LINE_DRAW,
         false,
         10,
         10,
         8,
         false,
         false},
	{"syringe units",
         PAPER_A4,
         &units,
         {1, 5},
         {"line", "20", NULL, false},
         LINE_DRAW,
         false,
         4,
         5,
         4,
         false,
         false},
	{"near the zero line",
         PAPER_LETTER,
         &units,
         {1, 50},
         {"line", "2", NULL, false},
         LINE_DRAW,
         false,
         4,
         10,
         4,
         false,
         false},
	{"push out first",
         PAPER_A4,
         &millilitre,
         {3, 10},
         {"push out to", "0.3", "mL", true},
         LINE_PUSH_OUT,
         false,
         3,
         5,
         4,
         false,
         false},
	{"stop on the way",
         PAPER_LETTER,
         &millilitre,
         {1, 5},
         {"stop at", "0.2", "mL", false},
         LINE_STOP,
         false,
         3,
         5,
         4,
         false,
         false},
	{"all of a syringe",
         PAPER_A4,
         &millilitre,
         {1, 2},
         {NULL, "all", NULL, false},
         LINE_DRAW,
         true,
         3,
         4,
         4,
         false,
         false},
	{"a measured liquid",
         PAPER_A4,
         &millilitre,
         {1, 2},
         {NULL, "0.5", "mL", false},
         LINE_DRAW,
         false,
         4,
         6,
         4,
         false,
         true},
	{"all without a scale",
         PAPER_A4,
         NULL,
         {0, 1},
         {NULL, "all", NULL, false},
         LINE_DRAW,
         true,
         3,
         4,
         4,
         false,
         false},
};

struct made {
	struct sample *sample;
	struct typesetter *typesetter;
	const struct placed_packet *packet;
};

static struct draw draw_of(const struct product *product, const struct sheet_case *row)
{
	return (struct draw){.measure = MEASURE_SYRINGE,
	                     .product = product,
	                     .volume = row->at,
	                     .mark = {row->line, row->syringe, row->all, row->at, row->at}};
}

static const struct medicine_sheet *sheet_of(struct arena *arena, const struct sheet_case *row)
{
	static const struct product product = {.container = CONTAINER_POWDER_VIAL};
	static const struct product mixed_product = {
		.container = CONTAINER_POWDER_VIAL,
		.mixing_needle = {.given = true, .length = {.given = true, .quantity = {{40, 1}, UNIT_MM}}},
		.giving_needle = {.given = true, .length = {.given = true, .quantity = {{13, 1}, UNIT_MM}}}};
	struct draw *draw = arena_alloc(arena, sizeof *draw);
	struct medicine_sheet *sheet = arena_alloc(arena, sizeof *sheet);
	*draw = draw_of(&product, row);
	draw->has_add = row->add;
	draw->add = (struct mark){LINE_ADD, &millilitre, false, {9, 10}, {9, 10}};
	draw->product = row->add ? &mixed_product : &product;
	*sheet = (struct medicine_sheet){.draw = draw,
	                                 .front_title = "Examplin: get ready",
	                                 .front_lead = "Powder and liquid · days 1 to 6",
	                                 .back_title = "Examplin: draw and inject",
	                                 .back_lead = "Days 1 to 6 · 125 mcg",
	                                 .lay_out_heading = "Lay these on a clean table",
	                                 .lay_out = things,
	                                 .n_lay_out = row->n_lay_out,
	                                 .same_heading = "Three ways to say the same amount",
	                                 .calendar_says = "Your plan says",
	                                 .amount = "125 mcg",
	                                 .box_says = "The box says 0.25 mg",
	                                 .box_part = "half",
	                                 .box_amount = "0.125 mg",
	                                 .box_picture = PICTURE_HALF_VIAL,
	                                 .box_fraction = half_ml,
	                                 .syringe_shows = "Your syringe shows",
	                                 .mark = row->mark,
	                                 .has_add = row->add,
	                                 .add = {"add", "0.9", "mL", true},
	                                 .flow_heading = "One syringe all the way. Two needles.",
	                                 .flow = flow,
	                                 .n_flow = row->flow ? 5 : 0,
	                                 .first = steps,
	                                 .n_first = 2,
	                                 .mix_heading = "Mix",
	                                 .goes_on = 7,
	                                 .front = steps,
	                                 .n_front = row->n_front,
	                                 .back = steps,
	                                 .n_back = row->n_back,
	                                 .stop_heading = "Stop on this line",
	                                 .true_size = "True size. Lay your syringe on it.",
	                                 .scale_beside = row->syringe == &units ? "of the insulin syringe" : NULL,
	                                 .window_text = "The ring nearest the needle touches the line.",
	                                 .alt = "Pull until the front ring meets the line.",
	                                 .caution_word = "CAUTION",
	                                 .caution = "Do not use it if it is cloudy, has bits in it or was frozen.",
	                                 .notes = notes,
	                                 .n_notes = 3,
	                                 .mix = row->add ? &mix : NULL};
	return sheet;
}

/* A sample whose only section is this one. */
static struct made compose_section(struct arena *arena, struct section section, enum paper paper)
{
	struct findings findings = findings_in(arena);
	struct made made = {.sample =
	                            sample_new(arena, SAMPLE_TINY, (struct sample_options){.paper = paper}, &findings),
	                    .typesetter = typesetter_new("fonts", &findings)};
	struct section *sections = arena_alloc(arena, sizeof *sections);
	*sections = section;
	made.sample->handout.sections = sections;
	made.sample->handout.n_sections = 1;
	made.packet = compose_packet(arena, &made.sample->handout, made.typesetter, &findings);
	for (size_t i = 0; i < findings.n; i++)
		print_error("%s: %s\n", findings.list[i].code, findings.list[i].says);
	assert_non_null(made.packet);
	return made;
}

static struct made compose_sheet(struct arena *arena, const struct sheet_case *row)
{
	const struct medicine_sheet *sheet = sheet_of(arena, row);
	return compose_section(arena, (struct section){.kind = SECTION_MEDICINE, .medicine = sheet}, row->paper);
}

static void release(struct made *made)
{
	typesetter_free(made->typesetter);
	sample_free(made->sample);
}

static size_t count_in_packet(const struct placed_packet *packet, const char *text)
{
	size_t n = 0;
	for (size_t i = 0; i < packet->n; i++)
		n += count_text(&packet->pages[i], text);
	return n;
}

static void nothing_stands_on_another(void **state)
{
	struct test_case *test = case_of(state);
	struct made made = compose_sheet(test->arena, test->row);
	assert_string_equal(packet_faults(test->arena, made.packet), "");
	release(&made);
}

static void all_is_said(void **state)
{
	struct test_case *test = case_of(state);
	const struct sheet_case *row = test->row;
	struct made made = compose_sheet(test->arena, row);
	for (size_t i = 0; i < row->n_lay_out; i++)
		assert_int_equal(count_in_packet(made.packet, things[i].word), 1 + (row->flow && i == 3));
	for (size_t i = 0; i < 10; i++) {
		size_t first = i < 2;
		assert_int_equal(count_in_packet(made.packet, steps[i].text),
		                 first + (i < row->n_front) + (i < row->n_back));
	}
	for (size_t i = 0; i < 3; i++)
		assert_int_equal(count_in_packet(made.packet, notes[i].text), 1);
	assert_int_equal(count_in_packet(made.packet, "CAUTION"), 1);
	release(&made);
}

/* ---- the line ---- */

/* The back's: a liquid to measure stands on the front, before it. */
static const struct placed_mark *last_of(const struct placed_packet *packet, enum mark_kind kind)
{
	const struct placed_mark *last = NULL;
	for (size_t i = 0; i < packet->n; i++)
		for (size_t j = 0; j < packet->pages[i].n; j++)
			if (packet->pages[i].marks[j].kind == kind)
				last = &packet->pages[i].marks[j];
	return last;
}

static size_t count_kind(const struct placed_packet *packet, enum mark_kind kind)
{
	size_t n = 0;
	for (size_t i = 0; i < packet->n; i++)
		for (size_t j = 0; j < packet->pages[i].n; j++)
			n += packet->pages[i].marks[j].kind == kind;
	return n;
}

static const struct placed_mark *tag_over(const struct placed_packet *packet, const struct placed_mark *syringe)
{
	for (size_t i = 0; i < packet->n; i++)
		for (size_t j = 1; j < packet->pages[i].n; j++)
			if (&packet->pages[i].marks[j - 1] == syringe)
				return packet->pages[i].marks[j].kind == MARK_TAG ? &packet->pages[i].marks[j] : NULL;
	return NULL;
}

/* x = V_mark / V * L from the zero line, whatever slid; all that is in it goes in where the ring stops at zero. */
static void the_tag_points_at_the_line(void **state)
{
	struct test_case *test = case_of(state);
	const struct sheet_case *row = test->row;
	struct made made = compose_sheet(test->arena, row);
	const struct placed_mark *syringe = last_of(made.packet, MARK_SYRINGE);
	assert_int_equal(count_kind(made.packet, MARK_SYRINGE), (row->syringe != NULL) + row->add);
	if (row->syringe == NULL) {
		assert_null(syringe);
	} else {
		const struct placed_mark *tag = tag_over(made.packet, syringe);
		assert_non_null(tag);
		double volume = (double)row->at.numerator / (double)row->at.denominator * (row->all ? 0 : 1);
		double capacity = (double)row->syringe->capacity.numerator / (double)row->syringe->capacity.denominator;
		double length = (double)row->syringe->scale_length.numerator;
		assert_true(fabs(tag->tag.tip.x - syringe->syringe.x_zero - volume / capacity * length) < 1e-9);
		assert_int_equal(tag->tag.open, row->mark.open);
	}
	release(&made);
}

static void the_window_shows_the_line(void **state)
{
	struct test_case *test = case_of(state);
	const struct sheet_case *row = test->row;
	struct made made = compose_sheet(test->arena, row);
	const struct placed_mark *window = last_of(made.packet, MARK_WINDOW);
	if (row->all) {
		assert_null(window);
	} else {
		double at = (double)row->at.numerator / (double)row->at.denominator;
		assert_true(window->window.ring == at && window->window.centre == at);
		assert_int_equal(window->window.wedge, row->mark.open ? WEDGE_OPEN : WEDGE_SOLID);
		assert_true(window->window.frame.width == 62);
		/* A part of what the syringe holds, never another scale. */
		assert_ptr_equal(window->window.figure->syringe, row->syringe);
	}
	release(&made);
}

/* ---- one vial, two days ---- */

struct split_case {
	const char *name;
	enum paper paper;
	size_t n_labels;
	size_t pages;
};

static const struct split_case splits[] = {
	{"three labels, A4", PAPER_A4, 3, 1},
	{"three labels, Letter", PAPER_LETTER, 3, 1},
	{"ten labels, A4", PAPER_A4, 10, 2},
};

static const struct split_sheet *split_of(struct arena *arena, size_t n_labels)
{
	static const struct product product = {.container = CONTAINER_POWDER_VIAL};
	struct draw *draw = arena_alloc(arena, sizeof *draw);
	struct split_sheet *sheet = arena_alloc(arena, sizeof *sheet);
	struct split_label *labels = arena_alloc(arena, n_labels * sizeof *labels);
	*draw = draw_of(&product, &sheets[0]);
	for (size_t i = 0; i < n_labels; i++)
		labels[i] =
			(struct split_label){"Examplin, second half",   "125 mcg is in 0.5 mL", "Mixed Thu 5 Jun,",
		                             "Use by Fri 6 Jun, 22:00", "How: page " PAGE_HERE, "Mara Quillfeather"};
	*sheet = (struct split_sheet){
		.draw = draw,
		.title = "Examplin: one vial, two days",
		.lead = "The first half, then the second half from the same vial",
		.first = {"First half", "Thu 5 Jun, 20:00", "Keep the vial. Half is left."},
		.second = {"Second half", "Fri 6 Jun, 20:00", "Then the vial is done. Throw it away."},
		.between_heading = "In between",
		.between_where = "fridge, upright, with its label",
		.between_picture = PICTURE_FRIDGE,
		.use_before = "Use before",
		.use_time = "22:00",
		.use_date = "Fri 6 Jun",
		.after = "After that: sharps box, call.",
		.mark = {NULL, "0.5", "mL", false},
		.labels_heading = "Cut out the label and tape it on the vial",
		.labels = labels,
		.n_labels = n_labels,
		.read_heading = "Read the ring nearest the needle",
		.windows = {{"D", true, "0.5", half_ml, "Right", "The front ring is on the line. Exactly 0.5."},
	                    {"E", false, "0.5", half_ml, "Wrong", "The point is on the line. Too much."},
	                    {"F", false, "0.5", half_ml, "Wrong", "The back ring is on the line. Too little."}},
		.second_heading = "Second day, start here",
		.second_things = "Lay out: a syringe, two needles",
		.second_day = second_day,
		.n_second_day = 4};
	return sheet;
}

/*
 * Numbers that stand as close as 35 and 40 do every 5 lines of 43 mm / 50 read as one: every 10 are left, and the
 * line to stop on keeps its own. Those every 0.1 mL of 57 mm stand free.
 */
static void numbers_of_a_scale_stand_apart(void **state)
{
	struct test_case *test = case_of(state);
	for (size_t i = 0; i < sizeof sheets / sizeof *sheets; i++) {
		if (sheets[i].syringe == NULL || sheets[i].all)
			continue;
		struct made made = compose_section(
			test->arena,
			(struct section){.kind = SECTION_MEDICINE, .medicine = sheet_of(test->arena, &sheets[i])},
			sheets[i].paper);
		for (size_t j = 0; j < made.packet->n; j++)
			for (size_t k = 0; k < made.packet->pages[j].n; k++) {
				const struct placed_mark *mark = &made.packet->pages[j].marks[k];
				if (mark->kind != MARK_SYRINGE)
					continue;
				const struct syringe_figure *figure = &mark->syringe;
				double pitch = measure_of(figure->syringe->numbered_every) *
				               syringe_geometry_of(figure->syringe).mm_per_ml;
				double last = -100;
				for (size_t n = 0; n < figure->n_numerals; n++) {
					if (figure->numerals[n] == NULL)
						continue;
					double half = text_width(figure->numerals[n]) / 2;
					assert_true((double)n * pitch - half >= last + 0.8 - 1e-9);
					last = (double)n * pitch + half;
					bool own = fabs((double)n * measure_of(figure->syringe->numbered_every) -
					                figure->mark) < 1e-9;
					assert_true(figure->syringe != &units || n % 2 == 0 || own);
				}
			}
		release(&made);
	}
}

static void labels_go_on(void **state)
{
	struct test_case *test = case_of(state);
	const struct split_case *row = test->row;
	const struct split_sheet *sheet = split_of(test->arena, row->n_labels);
	struct made made =
		compose_section(test->arena, (struct section){.kind = SECTION_SPLIT, .split = sheet}, row->paper);
	assert_string_equal(packet_faults(test->arena, made.packet), "");
	assert_int_equal(count_in_packet(made.packet, "Examplin, second half"), row->n_labels);
	/* The second day's steps are on the last page, with the labels. */
	const char *foot = arena_printf(test->arena, "Mara Quillfeather · How: page %zu", row->pages);
	assert_int_equal(count_in_packet(made.packet, foot), row->n_labels);
	assert_int_equal(count_in_packet(made.packet, "Lay out: a syringe, two needles"), 1);
	assert_int_equal(made.packet->n, row->pages);
	release(&made);
}

/*
 * Wrong readings by the stopper's form: cone 1.15, two rings of 1.25 around a
 * waist of 1.5, in 57 mm a millilitre: 0.5 + 1.15/57 = 0.520, 0.5 - 4/57 = 0.430.
 * The bore of 1 mL in 57 mm is 4.726, which the form is drawn for, to 0.1 %.
 */
static void wrong_readings_say_what_is_held(void **state)
{
	struct test_case *test = case_of(state);
	struct made made = compose_section(
		test->arena, (struct section){.kind = SECTION_SPLIT, .split = split_of(test->arena, 3)}, PAPER_A4);
	static const struct {
		double ring;
		const char *number;
	} expected[] = {{0.5, "0.5\u00A0mL"}, {0.5202, "0.52\u00A0mL"}, {0.4298, "0.43\u00A0mL"}};
	size_t n = 0;
	for (size_t i = 0; i < made.packet->pages[0].n; i++) {
		const struct placed_mark *mark = &made.packet->pages[0].marks[i];
		if (mark->kind != MARK_WINDOW)
			continue;
		assert_true(n < 3);
		assert_true(fabs(mark->window.ring - expected[n].ring) < 0.0002);
		assert_string_equal(text_string(mark->window.beside), expected[n].number);
		assert_int_equal(mark->window.wedge, n == 0 ? WEDGE_SOLID : WEDGE_CROSS);
		n++;
	}
	assert_int_equal(n, 3);
	release(&made);
}

/* ---- actions ---- */

static const struct step acted[] = {
	{1, "lid-off", "Cap off", "Flip the plastic cap off the vial.\nLeave the rubber in place.", false, false,
         false},
	{2, "wipe-top", "Wipe", "Wipe the rubber top.", false, false, false},
	{3, "thick-on", "Thick on", "Twist it on.\nPull its cap off.\nDo not touch it: it must stay clean.", false,
         false, false},
};

static bool is_dot(const struct placed_mark *mark)
{
	return mark->kind == MARK_BOX && mark->area.width == mark->area.height && mark->area.width < 1.5 &&
	       mark->box.fill == COLOUR_INK;
}

/* Each of several actions has one, at its side; an action alone has none. */
static void actions_have_dots(void **state)
{
	struct test_case *test = case_of(state);
	struct medicine_sheet *sheet = arena_alloc(test->arena, sizeof *sheet);
	*sheet = *sheet_of(test->arena, &sheets[0]);
	sheet->n_first = 0;
	sheet->front = acted;
	sheet->n_front = sizeof acted / sizeof *acted;
	struct made made =
		compose_section(test->arena, (struct section){.kind = SECTION_MEDICINE, .medicine = sheet}, PAPER_A4);
	size_t n = 0;
	for (size_t i = 0; i < made.packet->pages[0].n; i++) {
		const struct placed_mark *mark = &made.packet->pages[0].marks[i];
		if (!is_dot(mark))
			continue;
		size_t beside = 0;
		for (size_t j = 0; j < made.packet->pages[0].n; j++) {
			const struct placed_mark *text = &made.packet->pages[0].marks[j];
			double gap = text->area.x - mark->area.x - mark->area.width;
			beside += text->kind == MARK_TEXT && gap > 0 && gap < 1.5 && text->area.y < mark->area.y &&
			          text->area.y + text->area.height > mark->area.y;
		}
		assert_int_equal(beside, 1);
		n++;
	}
	assert_int_equal(n, 2 + 3);
	release(&made);
}

static void add_sheets(struct tests *tests, const char *what, CMUnitTestFunction function)
{
	for (size_t i = 0; i < sizeof sheets / sizeof *sheets; i++) {
		char name[128];
		snprintf(name, sizeof name, "%s: %s", sheets[i].name, what);
		tests_add(tests, name, function, &sheets[i]);
	}
}

int main(void)
{
	struct tests tests = {0};
	add_sheets(&tests, "nothing stands on another", nothing_stands_on_another);
	add_sheets(&tests, "all is said", all_is_said);
	add_sheets(&tests, "the tag points at the line", the_tag_points_at_the_line);
	add_sheets(&tests, "the window shows the line", the_window_shows_the_line);
	tests_add(&tests, "numbers of a scale stand apart", numbers_of_a_scale_stand_apart, NULL);
	for (size_t i = 0; i < sizeof splits / sizeof *splits; i++)
		tests_add(&tests, splits[i].name, labels_go_on, &splits[i]);
	tests_add(&tests, "wrong readings say what is held", wrong_readings_say_what_is_held, NULL);
	tests_add(&tests, "actions have dots", actions_have_dots, NULL);
	return tests_run(&tests, "medicine");
}
