/*
 * Pens and what is counted out, on the pages of the sample plans: every window shows a number of the workings between
 * its neighbours on the dial, every day of a pen's dose is on one page, and sheets begin where a printer on both sides
 * needs them.
 */
#include "plan/draw.h"
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_handout.h"
#include "support/sample_packets.h"

#include <stdio.h>
#include <string.h>

#define PENS "samples/plans/tilda.yaml"
#define PATCHES "samples/plans/perpetua.yaml"

/* ---- windows and tags ---- */

static const char *number_of(struct arena *arena, const struct text_block *block)
{
	return block == NULL ? "-" : arena_strdup(arena, text_string(block));
}

/* What the workings say of one setting: its number and, by the dial's step and most, the ones beside it. */
static bool is_setting(struct arena *arena, const struct draw *draw, const struct dial_figure *window)
{
	struct dial_neighbours next = dial_neighbours(draw->product, draw->dial);
	const char *below = next.has_below ? number_print(arena, next.below.number, DECIMAL_POINT) : "-";
	const char *above = next.has_above ? number_print(arena, next.above.number, DECIMAL_POINT) : "-";
	return strcmp(number_of(arena, window->number), number_print(arena, draw->dial.number, DECIMAL_POINT)) == 0 &&
	       strcmp(number_of(arena, window->below), below) == 0 &&
	       strcmp(number_of(arena, window->above), above) == 0;
}

static bool in_workings(struct arena *arena, const struct course *course, const struct dial_figure *window)
{
	for (size_t i = 0; i < course->n_doses; i++)
		for (size_t j = 0; j < course->doses[i].n_draws; j++) {
			const struct draw *draw = &course->doses[i].draws[j];
			if (draw->measure == MEASURE_DIAL && is_setting(arena, draw, window))
				return true;
		}
	return false;
}

/* Above or left of a window stands the tag that says its number: the last one before it on the page. */
static const struct placed_mark *tag_before(const struct placed_page *page, size_t index)
{
	for (size_t i = index; i-- > 0;)
		if (page->marks[i].kind == MARK_TAG)
			return &page->marks[i];
	return NULL;
}

static void windows_agree_with_the_workings(void **state)
{
	static const enum paper papers[] = {PAPER_A4, PAPER_LETTER};
	struct arena *arena = case_of(state)->arena;
	for (size_t p = 0; p < 2; p++) {
		struct sample_packet sample = sample_packet_of(PENS, papers[p]);
		size_t windows = 0;
		for (size_t i = 0; i < sample.packet->n; i++) {
			const struct placed_page *page = &sample.packet->pages[i];
			for (size_t j = 0; j < page->n; j++) {
				if (page->marks[j].kind != MARK_DIAL)
					continue;
				const struct dial_figure *window = &page->marks[j].dial;
				const struct placed_mark *tag = tag_before(page, j);
				windows++;
				assert_true(in_workings(arena, sample.record->course, window));
				assert_non_null(tag);
				assert_string_equal(text_string(tag->tag.number), text_string(window->number));
				assert_false(tag->tag.open);
			}
		}
		/* 150 and 225 on the pen's back; 125 and 100 on the page of two pens. */
		assert_int_equal(windows, 4);
		sample_packet_free(&sample);
	}
}

/* 900 units less 25 for the test are 875; five days of 150 leave 125, so the sixth of 225 takes 100 from the next. */
static void two_pens_make_up_the_dose(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_of(PENS, PAPER_A4);
	const struct placed_page *pages[2] = {NULL, NULL}; /* a pen on each, front and back of one sheet */
	for (size_t i = 0; i + 1 < sample.packet->n && pages[0] == NULL; i++)
		if (count_text(&sample.packet->pages[i], "Placebix: two pens today") == 1) {
			pages[0] = &sample.packet->pages[i];
			pages[1] = pages[0] + 1;
		}
	assert_non_null(pages[0]);
	for (size_t i = 0; i < 2; i++)
		assert_int_equal(count_text_beginning(pages[i], "Day\u00a06,\u00a0Thursday\u00a010\u00a0December"), 1);
	assert_int_equal(count_text(pages[0], "225\u00a0units"), 1);
	assert_int_equal(count_text(pages[0], "125\u00a0units"), 1);
	assert_int_equal(count_text(pages[0], "100\u00a0units"), 1);
	assert_int_equal(count_tags(pages[0], "125"), 1);
	assert_int_equal(count_tags(pages[1], "100"), 1);
	/* Whoever gave the first part is told that it is not all. */
	assert_int_equal(count_text(pages[0], "Not all yet: now pen 2 of 2."), 1);
	assert_int_equal(count_text_beginning(pages[1], "Not all yet"), 0);
	/* Only the new pen is tested, with the open tag; its steps go on from the old pen's. */
	assert_int_equal(count_tags(pages[0], "25"), 0);
	assert_int_equal(count_tags(pages[1], "25"), 1);
	for (size_t i = 0; i < pages[1]->n; i++)
		if (pages[1]->marks[i].kind == MARK_TAG &&
		    strcmp(text_string(pages[1]->marks[i].tag.number), "25") == 0)
			assert_true(pages[1]->marks[i].tag.open);
	for (int number = 1; number <= 11; number++)
		assert_true(count_text(pages[number > 5], arena_printf(sample.arena, "%d", number)) > 0);
	sample_packet_free(&sample);
}

/* Sides change with the days, and the day of two pens, the sixth, is on their page alone. */
static void pens_say_where(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_of(PENS, PAPER_A4);
	size_t backs = 0;
	size_t pens = 0;
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		if (count_text_beginning(page, "Placebix: set and inject") > 0) {
			backs++;
			assert_int_equal(count_text_beginning(page, "Where: belly"), 1);
			assert_int_equal(count_text(page, "your left: days 1, 3, 5, 7, 9"), 1);
			assert_int_equal(count_text(page, "your right: days 2, 4, 8"), 1);
		}
		if (count_text(page, "Placebix: two pens today") > 0) {
			pens++;
			assert_int_equal(count_text_beginning(page, "Where: belly"), 1);
			assert_int_equal(count_text(page, "your right: day 6"), 1);
			/* What is to be done once, before both. */
			assert_int_equal(
				count_text(page, "Get 2 pens, 2 new needles, wipes, the sharps box for needles."), 1);
			assert_int_equal(count_text_beginning(page, "Wash your hands"), 1);
		}
	}
	assert_int_equal(backs, 1);
	assert_int_equal(pens, 1);
	sample_packet_free(&sample);
}

static size_t texts_with(const struct placed_page *page, const char *words)
{
	size_t n = 0;
	for (size_t i = 0; i < page->n; i++)
		n += page->marks[i].kind == MARK_TEXT && strstr(text_string(page->marks[i].text.block), words) != NULL;
	return n;
}

/* Who gets a pen ready on a day of two is sent to their page first: the second is not tested before the first is given. */
static void the_front_sends_to_the_day_of_two_pens(void **state)
{
	(void)state;
	for (int large = 0; large < 2; large++) {
		struct sample_packet sample = sample_packet_in(PENS, PAPER_A4, large == 1);
		size_t sent = 0;
		size_t tests = 0;
		for (size_t i = 0; i < sample.packet->n; i++) {
			const struct placed_page *page = &sample.packet->pages[i];
			if (count_text_beginning(page, "Placebix: get ready") == 0)
				continue;
			sent += texts_with(page, "2 pens, one after the other.");
			tests += count_text(page, "First use: test it");
			assert_true(tests == 0 || sent == 1);
		}
		assert_int_equal(sent, 1);
		assert_int_equal(tests, 1);
		sample_packet_free(&sample);
	}
}

/* What is missing when the window does not come back to 0 is written down and said; no page lets anybody add to it. */
static void a_pen_that_stops_early_is_called_about(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_of(PENS, PAPER_A4);
	size_t told = 0;
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		told += count_text_beginning(page, "Not 0? Part of the dose is missing.");
		for (size_t j = 0; j < page->n; j++)
			if (page->marks[j].kind == MARK_TEXT)
				told += strstr(text_string(page->marks[j].text.block),
				               "not at 0? Write its number: stop, call.") != NULL;
	}
	assert_int_equal(told, 3); /* once on the pen's own sheet, and for each of two */
	sample_packet_free(&sample);
}

/* Half tablets until day 5, whole ones from day 6: a half is left, and nobody may guess what becomes of it. */
static void a_half_that_is_left_is_asked_about(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_of(PENS, PAPER_A4);
	size_t pages = 0;
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		if (count_text_beginning(page, "Nonsensol: how to take it") == 0)
			continue;
		pages++;
		assert_int_equal(
			texts_with(page, "Your amount changes or ends? Ask us: that half may not be your dose."), 1);
	}
	assert_int_equal(pages, 1);
	sample_packet_free(&sample);
}

/* Its amounts are all set by a call: the day is not known, and the time of day is. */
static void a_pen_by_call_has_its_time(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_of("samples/plans/odile.yaml", PAPER_A4);
	size_t fronts = 0;
	size_t backs = 0;
	for (size_t i = 0; i < sample.packet->n; i++) {
		fronts += count_text_beginning(&sample.packet->pages[i],
		                               "Pen\u00a0· 900\u00a0units\u00a0· "
		                               "days\u00a0not\u00a0known\u00a0yet\u00a0· bedtime,\u00a022:00");
		backs += count_text_beginning(&sample.packet->pages[i],
		                              "Pen\u00a0· days\u00a0not\u00a0known\u00a0yet\u00a0· "
		                              "bedtime,\u00a022:00");
	}
	assert_int_equal(fronts, 1);
	assert_int_equal(backs, 1); /* what a pen holds is no dose: it does not stand where doses do */
	sample_packet_free(&sample);
}

/* Of the numbers that a call may set only the ticked one counts, and that is read before any of them. */
static void only_the_ticked_number_counts(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_of("samples/plans/odile.yaml", PAPER_A4);
	size_t pages = 0;
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		const struct placed_mark *said = find_text(page, "Only the amount that you ticked counts. See");
		for (size_t j = 0; said != NULL && j < page->n; j++)
			if (page->marks[j].kind == MARK_DIAL)
				assert_true(said < &page->marks[j]);
		pages += said != NULL;
	}
	assert_int_equal(pages, 2); /* front and back */
	sample_packet_free(&sample);
}

/* The point of a pen's tag stands on the window of the pen below it. */
static void tags_point_at_windows(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_of(PENS, PAPER_A4);
	size_t pens = 0;
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		for (size_t j = 0; j + 1 < page->n; j++) {
			const struct placed_mark *pen = &page->marks[j];
			const struct placed_mark *tag = &page->marks[j + 1];
			if (pen->kind != MARK_PEN || pen->pen.upright)
				continue;
			pens++;
			assert_int_equal(tag->kind, MARK_TAG);
			assert_true(tag->tag.tip.x > pen->area.x + pen->area.width / 2);
			assert_true(tag->tag.tip.x < pen->area.x + pen->area.width);
			assert_true(tag->tag.tip.y > pen->area.y &&
			            tag->tag.tip.y < pen->area.y + pen->area.height / 2);
		}
	}
	assert_int_equal(pens, 4);
	sample_packet_free(&sample);
}

/* ---- what is counted out ---- */

/* Two from day 1, four from day 7, each worn two days: what comes off is what went on two days before. */
static void patches_come_off_when_they_were_worn(void **state)
{
	static const struct {
		const char *day, *off, *on, *then;
	} rows[] = {{"1", NULL, "2", "2"}, {"3", "2", "2", "2"},  {"5", "2", "2", "2"},  {"7", "2", "4", "4"},
	            {"9", "4", "4", "4"},  {"11", "4", "4", "4"}, {"13", "4", "4", "4"}, {"15", "4", NULL, "0"}};
	(void)state;
	struct sample_packet sample = sample_packet_of(PATCHES, PAPER_A4);
	const struct counted_sheet *sheet = NULL;
	size_t taken_off = 0;
	for (size_t i = 0; sheet == NULL && i < sample.handout->n_sections; i++)
		if (sample.handout->sections[i].kind == SECTION_COUNTED)
			sheet = sample.handout->sections[i].counted;
	assert_non_null(sheet);
	assert_int_equal(sheet->n_patches, sizeof rows / sizeof *rows);
	for (size_t i = 0; i < sheet->n_patches; i++) {
		const struct patch_row *row = &sheet->patches[i];
		assert_string_equal(row->day, rows[i].day);
		assert_string_equal(row->off == NULL ? "-" : row->off, rows[i].off == NULL ? "-" : rows[i].off);
		assert_string_equal(row->on == NULL ? "-" : row->on, rows[i].on == NULL ? "-" : rows[i].on);
		assert_string_equal(row->then, rows[i].then);
		assert_false(row->own_box);
	}
	/* Day 15 has its box in the calendar, though no patch goes on, and its sign is explained on page 1. */
	for (size_t i = 0; i < sample.packet->n; i++)
		taken_off += count_text(&sample.packet->pages[i], "take off");
	assert_int_equal(taken_off, 2);
	sample_packet_free(&sample);
}

static size_t count_pictures(const struct placed_page *page, enum pictogram pictogram)
{
	size_t n = 0;
	for (size_t i = 0; i < page->n; i++)
		n += page->marks[i].kind == MARK_PICTURE && page->marks[i].picture.pictogram == pictogram;
	return n;
}

/* A half is drawn as a half, and never beside a whole one that is not taken. */
static void halves_are_drawn_as_halves(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_of(PENS, PAPER_A4);
	const struct placed_page *page = NULL;
	for (size_t i = 0; page == NULL && i < sample.packet->n; i++)
		if (count_text(&sample.packet->pages[i], "Nonsensol: how to take it") == 1)
			page = &sample.packet->pages[i];
	assert_non_null(page);
	assert_int_equal(count_pictures(page, PICTURE_HALF_TABLET), 1);
	/* The whole one of the other row, and the signs in the head and of 'keep'. */
	assert_int_equal(count_pictures(page, PICTURE_TABLET), 3);
	assert_int_equal(count_text(page, "days 1 to 5"), 1);
	assert_int_equal(count_text(page, "days 6 to 10"), 1);
	sample_packet_free(&sample);
}

/* ---- on both sides of the paper ---- */

static int first_page_of(const struct sample_packet *sample, const char *title, int *n)
{
	int first = 0;
	*n = 0;
	for (size_t i = 0; i < sample->packet->n; i++)
		if (count_text_beginning(&sample->packet->pages[i], title) > 0) {
			first = first == 0 ? (int)i + 1 : first;
			(*n)++;
		}
	return first;
}

static void sheets_of_two_pages_begin_on_a_front(void **state)
{
	static const struct {
		const char *plan, *title;
		int n;
	} rows[] = {{PENS, "Placebix: get ready", 1}, {PENS, "Placebix: two pens today", 2},
	            {PENS, "Whiffaline: how", 1},     {PENS, "Nonsensol: how", 1},
	            {PATCHES, "Stickatine: how", 2},  {PATCHES, "Pouchine: how", 1},
	            {PATCHES, "Insertine: how", 1}};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct sample_packet sample = sample_packet_of(rows[i].plan, PAPER_A4);
		const char *title = rows[i].title;
		int n = 0;
		int first = first_page_of(&sample, title, &n);
		assert_int_equal(n, rows[i].n);
		if (n > 1 || strstr(title, "get ready") != NULL)
			assert_int_equal(first % 2, 1);
		sample_packet_free(&sample);
	}
}

/* ---- the most a sheet may have to hold ---- */

#define LONG_WORDS                                                                                                    \
	"Dieser Satz ist mit Absicht so lang, wie ein Satz in einer langen Sprache wohl werden kann, und noch etwas " \
	"länger, damit er umbrochen wird."
#define LONG_NAME "Examplinacetat Placebixolonum retard mite"

static const struct step many_steps[] = {
	{0, "box-check", "Vorher zu bedenken", LONG_WORDS, true, false, false},
	{1, "look-pen", "Ansehen und vergleichen", LONG_WORDS, false, false, false},
	{2, "pen-needle", "Neue Nadel aufschrauben", LONG_WORDS, false, false, false},
	{3, "pen-caps", "Beide Kappen abnehmen", LONG_WORDS, false, false, false},
	{4, "pen-test", "Bei der ersten Verwendung prüfen", LONG_WORDS, false, true, false},
	{5, "pen-dial", "Einstellen", LONG_WORDS, false, false, false},
	{6, "pen-inject", "Spritzen", LONG_WORDS, false, false, false},
	{7, "pen-off", "Nadel abnehmen", LONG_WORDS, false, false, false},
	{8, "tick", "Abhaken", LONG_WORDS, false, false, false},
};
#define MANY_STEPS (sizeof many_steps / sizeof *many_steps)

static const struct note_block long_notes[] = {{PICTURE_FRIDGE, "Aufbewahren", LONG_WORDS, -1},
                                               {PICTURE_CLOCK, "Zu spät?", LONG_WORDS, -1},
                                               {PICTURE_PHONE, "Sofort anrufen", LONG_WORDS, -1}};

static const struct lay_out long_lay_out[] = {{PICTURE_PEN, "Stift", "×1"},
                                              {PICTURE_PEN_NEEDLE, "neue Stiftnadel", "×1"},
                                              {PICTURE_WIPE, "Tupfer", "×2"},
                                              {PICTURE_SHARPS_BOX, "Abwurfbehälter", "×1"}};

static const struct medicine_sheet long_sheet = {.front_title = LONG_NAME ": vorbereiten",
                                                 .front_lead = LONG_WORDS,
                                                 .back_title = LONG_NAME ": spritzen",
                                                 .back_lead = LONG_WORDS,
                                                 .lay_out_heading = "Das alles auf einen sauberen Tisch legen",
                                                 .lay_out = long_lay_out,
                                                 .n_lay_out = 4,
                                                 .first = many_steps + 1,
                                                 .n_first = 3,
                                                 .mix_heading = "Vorbereiten",
                                                 .has_add = true,
                                                 .add = {.before = "einstellen", .number = "37.5", .open = true},
                                                 .front = many_steps,
                                                 .n_front = MANY_STEPS,
                                                 .back = many_steps,
                                                 .n_back = MANY_STEPS,
                                                 .caution_word = "VORSICHT",
                                                 .caution = LONG_WORDS " " LONG_WORDS " " LONG_WORDS,
                                                 .notes = long_notes,
                                                 .n_notes = 3};

static const struct pen_view long_view = {.mark = {.before = "einstellen auf", .number = "1,137.5"},
                                          .number = "1,137.5",
                                          .below = "1,125",
                                          .above = "1,150",
                                          .full = {1, 3},
                                          .caption = "Das Fenster. Der Stift ist nicht in wahrer Größe.",
                                          .alt = "Stift"};

#define LONG_DAYS "Tage 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23, 25, 27, 29, 31, 33, 35, 37, 39"

static const struct pen_amount long_amounts[] = {{LONG_DAYS, "1,137.5 Einheiten", LONG_WORDS, long_view},
                                                 {LONG_DAYS, "1,137.5 Einheiten", LONG_WORDS, long_view},
                                                 {LONG_DAYS, "1,137.5 Einheiten", LONG_WORDS, long_view},
                                                 {LONG_DAYS, "1,137.5 Einheiten", LONG_WORDS, long_view},
                                                 {LONG_DAYS, "1,137.5 Einheiten", LONG_WORDS, long_view},
                                                 {LONG_DAYS, "1,137.5 Einheiten", LONG_WORDS, long_view},
                                                 {LONG_DAYS, "1,137.5 Einheiten", LONG_WORDS, long_view}};

static const struct pen_row long_rows[] = {
	{{"Stift 1", "in Gebrauch, Sam. 5. Dez.", "Mittw. 23. Dez.", "1,137.5 Einheiten", LONG_WORDS}},
	{{"Stift 2", "in Gebrauch, Sam. 5. Dez.", "Mittw. 23. Dez.", "1,137.5 Einheiten", LONG_WORDS}}};

static const struct note_block long_see[] = {{PICTURE_PEN, NULL, LONG_WORDS, 0}};

static const struct pen_turn long_turns[] = {{"Zuerst",
                                              LONG_WORDS,
                                              "im alten Stift ist noch",
                                              "1,137.5 Einheiten",
                                              long_view,
                                              {.number = NULL},
                                              many_steps + 1,
                                              4,
                                              LONG_WORDS},
                                             {"Danach",
                                              LONG_WORDS,
                                              "aus dem neuen Stift",
                                              "1,137.5 Einheiten",
                                              long_view,
                                              {.before = "einstellen", .number = "37.5", .open = true},
                                              many_steps + 1,
                                              8,
                                              LONG_WORDS},
                                             {"Danach",
                                              LONG_WORDS,
                                              "aus dem neuen Stift",
                                              "1,137.5 Einheiten",
                                              long_view,
                                              {.number = NULL},
                                              many_steps + 1,
                                              4,
                                              NULL}};

/* What is done before the first pen. */
static const struct todays_place long_place = {
	.text = "Wo: " LONG_WORDS, .left = "links: Tage 1, 3, 5", .right = "rechts: Tage 2, 4, 6"};
static const struct medicine_sheet long_common = {
	.caution_word = "VORSICHT", .caution = LONG_WORDS, .first = many_steps + 1, .n_first = 3, .place = &long_place};

static const struct counted_amount long_counts[] = {
	{LONG_DAYS, "eineinhalb Tabletten", "×1", "eineinhalb Tabletten", 1, true},
	{LONG_DAYS, "3 Tabletten", "×3", "3 Tabletten", 3, false},
	{LONG_DAYS, "12 Tabletten", "×12", "12 Tabletten", 12, false},
	{LONG_DAYS, "eine halbe Tablette", NULL, "eine halbe Tablette", 0, true},
	/* A no-break space holds number and word together. */
	{LONG_DAYS, "2\u00a0pulverizaciones", "×2", "2\u00a0pulverizaciones", 2, false}};

struct long_case {
	enum section_kind kind;
	enum paper paper;
	size_t amounts;
	size_t patches;
};

static const struct counted_sheet *long_counted(struct arena *arena, const struct long_case *row)
{
	struct counted_sheet *sheet = arena_alloc(arena, sizeof *sheet);
	struct patch_row *rows = arena_alloc(arena, (row->patches + 1) * sizeof *rows);
	for (size_t i = 0; i < row->patches; i++)
		rows[i] = (struct patch_row){arena_printf(arena, "%zu", 2 * i + 1),
		                             "Mittw. 23. Dez.",
		                             i > 0 ? "2" : NULL,
		                             i % 3 ? "2" : NULL,
		                             "4",
		                             i % 5 == 0};
	*sheet = (struct counted_sheet){.sheet = &long_sheet,
	                                .piece = PICTURE_TABLET,
	                                .half_piece = PICTURE_HALF_TABLET,
	                                .calendar_says = "Ihr Kalender sagt",
	                                .take_says = "Sie nehmen",
	                                .amounts = long_counts,
	                                .n_amounts = row->amounts,
	                                .patches_heading = "Wann zu wechseln ist",
	                                .patch_heads = {"Tag", "abnehmen", "aufkleben", "dann auf Ihnen"},
	                                .patches = rows,
	                                .n_patches = row->patches,
	                                .steps_heading = "Schritt für Schritt"};
	return sheet;
}

static struct section long_section(struct arena *arena, const struct long_case *row)
{
	struct section section = {.kind = row->kind, .next = -1};
	struct pen_sheet *pen = arena_alloc(arena, sizeof *pen);
	struct pens_sheet *pens = arena_alloc(arena, sizeof *pens);
	*pen = (struct pen_sheet){.sheet = &long_sheet,
	                          .pens_heading = "Ihre Stifte, einer nach dem anderen",
	                          .heads = {"Stift", "erste Anwendung", "letzte Anwendung", "Rest", "und dann"},
	                          .rows = long_rows,
	                          .n_rows = 2,
	                          .see = long_see,
	                          .n_see = 1,
	                          .amounts = long_amounts,
	                          .n_amounts = row->amounts};
	*pens = (struct pens_sheet){.title = LONG_NAME ": drei Stifte",
	                            .lead = LONG_WORDS,
	                            .calendar_says = "Ihr Kalender sagt",
	                            .amount = "3,412.5 Einheiten",
	                            .turns = long_turns,
	                            .n_turns = row->amounts,
	                            .done_word = "erledigt",
	                            .sheet = &long_common};
	if (row->kind == SECTION_PEN)
		section.pen = pen;
	else if (row->kind == SECTION_PENS)
		section.pens = pens;
	else
		section.counted = long_counted(arena, row);
	return section;
}

/* Whatever is long wraps and goes on: nothing is cut, nothing meets, nothing leaves the column. */
static void long_sheets_go_on(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct long_case *row = case_of(state)->row;
	struct findings findings = findings_in(arena);
	struct sample *sample = sample_new(arena, SAMPLE_TINY, (struct sample_options){.paper = row->paper}, &findings);
	struct typesetter *typesetter = typesetter_new("fonts", &findings);
	struct section *section = arena_alloc(arena, sizeof *section);
	*section = long_section(arena, row);
	sample->handout.sections = section;
	sample->handout.n_sections = 1;
	const struct placed_packet *packet = compose_packet(arena, &sample->handout, typesetter, &findings);
	for (size_t i = 0; i < findings.n; i++)
		print_error("%s: %s\n", findings.list[i].code, findings.list[i].says);
	assert_non_null(packet);
	assert_string_equal(packet_faults(arena, packet), "");
	size_t steps = 0;
	for (size_t i = 0; i < packet->n; i++)
		steps += count_text(&packet->pages[i], "Abhaken");
	if (row->kind != SECTION_PENS)
		assert_int_equal(steps, row->kind == SECTION_PEN ? 2 : 1);
	typesetter_free(typesetter);
	sample_free(sample);
}

static const struct long_case long_cases[] = {
	{SECTION_PEN, PAPER_A4, 1, 0},      {SECTION_PEN, PAPER_A4, 2, 0},         {SECTION_PEN, PAPER_LETTER, 3, 0},
	{SECTION_PEN, PAPER_A4, 7, 0},      {SECTION_PENS, PAPER_A4, 2, 0},        {SECTION_PENS, PAPER_LETTER, 3, 0},
	{SECTION_COUNTED, PAPER_A4, 1, 0},  {SECTION_COUNTED, PAPER_LETTER, 5, 0}, {SECTION_COUNTED, PAPER_A4, 2, 9},
	{SECTION_COUNTED, PAPER_A4, 4, 31}, {SECTION_COUNTED, PAPER_LETTER, 1, 80}};

int main(void)
{
	struct tests tests = {0};
	tests_add(&tests, "windows agree with the workings", windows_agree_with_the_workings, NULL);
	tests_add(&tests, "two pens make up the dose", two_pens_make_up_the_dose, NULL);
	tests_add(&tests, "pens say where", pens_say_where, NULL);
	tests_add(&tests, "the front sends to the day of two pens", the_front_sends_to_the_day_of_two_pens, NULL);
	tests_add(&tests, "a pen by call has its time", a_pen_by_call_has_its_time, NULL);
	tests_add(&tests, "a half that is left is asked about", a_half_that_is_left_is_asked_about, NULL);
	tests_add(&tests, "a pen that stops early is called about", a_pen_that_stops_early_is_called_about, NULL);
	tests_add(&tests, "only the ticked number counts", only_the_ticked_number_counts, NULL);
	tests_add(&tests, "tags point at windows", tags_point_at_windows, NULL);
	tests_add(&tests, "patches come off when they were worn", patches_come_off_when_they_were_worn, NULL);
	tests_add(&tests, "halves are drawn as halves", halves_are_drawn_as_halves, NULL);
	tests_add(&tests, "sheets of two pages begin on a front", sheets_of_two_pages_begin_on_a_front, NULL);
	for (size_t i = 0; i < sizeof long_cases / sizeof *long_cases; i++) {
		char name[64];
		snprintf(name, sizeof name, "a long sheet goes on, %zu", i + 1);
		tests_add(&tests, name, long_sheets_go_on, &long_cases[i]);
	}
	return tests_run(&tests, "devices");
}
