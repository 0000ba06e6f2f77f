/*
 * The day grid over samples, papers and states: what was ordered stands there, once, and nothing is cut or covered.
 */
#include "page/compose.h"
#include "page/grid.h"
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_handout.h"
#include "support/sample_packets.h"

#include <stdio.h>
#include <string.h>

struct grid_case {
	const char *name;
	enum sample_kind kind;
	struct sample_options options;
};

static const struct grid_case cases[] = {
	{"short, A4", SAMPLE_SHORT, {.paper = PAPER_A4}},
	{"short, Letter, draft", SAMPLE_SHORT, {.paper = PAPER_LETTER, .draft = true}},
	{"long, A4", SAMPLE_LONG, {.paper = PAPER_A4}},
	{"long, Letter, draft", SAMPLE_LONG, {.paper = PAPER_LETTER, .draft = true}},
	{"tiny, A4", SAMPLE_TINY, {.paper = PAPER_A4}},
	{"stress, A4", SAMPLE_STRESS, {.paper = PAPER_A4}},
	{"stress, Letter, draft", SAMPLE_STRESS, {.paper = PAPER_LETTER, .draft = true}},
	{"pairs, A4", SAMPLE_PAIRS, {.paper = PAPER_A4}},
	{"pairs, Letter", SAMPLE_PAIRS, {.paper = PAPER_LETTER}},
	{"waiting, Letter", SAMPLE_WAITING, {.paper = PAPER_LETTER}},
};

/* A sample composed; the grid's pages are those after the overview's. */
struct composed {
	struct sample *sample;
	struct typesetter *typesetter;
	const struct placed_packet *packet;
	const struct grid *grid;
	const struct placed_page *pages;
	size_t n;
};

static struct composed compose(struct arena *arena, const struct grid_case *row)
{
	struct findings findings = findings_in(arena);
	struct composed composed = {.sample = sample_new(arena, row->kind, row->options, &findings),
	                            .typesetter = typesetter_new("fonts", &findings)};
	composed.packet = compose_packet(arena, &composed.sample->handout, composed.typesetter, &findings);
	for (size_t i = 0; i < findings.n; i++)
		print_message("%s\n", finding_print(arena, &findings.list[i]));
	assert_non_null(composed.packet);
	composed.grid = composed.sample->handout.sections[1].grid;
	size_t first = 0;
	while (count_text_beginning(&composed.packet->pages[first], "Your injection plan") > 0)
		first++;
	composed.pages = composed.packet->pages + first;
	composed.n = composed.packet->n - first;
	return composed;
}

static void release(struct composed *composed)
{
	typesetter_free(composed->typesetter);
	sample_free(composed->sample);
}

static const struct grid_cell *cell_of(const struct grid *grid, size_t row, size_t column)
{
	return &grid->rows[row].cells[column];
}

/* ---- nothing is cut, covered or outside ---- */

static void page_is_sound(void **state)
{
	struct test_case *test = case_of(state);
	struct composed composed = compose(test->arena, test->row);
	assert_string_equal(packet_faults(test->arena, composed.packet), "");
	release(&composed);
}

/* ---- every dose, every mark, once ---- */

static size_t amounts_ordered(const struct grid *grid, const char *amount)
{
	size_t n = 0;
	for (size_t i = 0; i < grid->n_rows; i++) {
		for (size_t j = 0; j < grid->n_columns; j++) {
			const struct grid_cell *cell = cell_of(grid, i, j);
			n += cell->state == CELL_DOSE && strcmp(cell->amount, amount) == 0;
		}
		for (size_t j = 0; j < grid->rows[i].n_exact; j++)
			n += strcmp(grid->rows[i].exact[j].amount, amount) == 0;
	}
	for (size_t i = 0; i < grid->n_waiting; i++)
		n += grid->waiting[i].dose_text != NULL && strcmp(grid->waiting[i].dose_text, amount) == 0;
	return n;
}

static size_t marks_ordered(const struct grid *grid, const char *number)
{
	size_t n = 0;
	for (size_t i = 0; i < grid->n_rows; i++) {
		for (size_t j = 0; j < grid->n_columns; j++) {
			const struct grid_cell *cell = cell_of(grid, i, j);
			n += cell->mark.number != NULL && strcmp(cell->mark.number, number) == 0;
			n += cell->second_mark.number != NULL && strcmp(cell->second_mark.number, number) == 0;
		}
		for (size_t j = 0; j < grid->rows[i].n_exact; j++)
			n += strcmp(grid->rows[i].exact[j].mark.number, number) == 0;
	}
	return n;
}

static size_t on_all_pages(const struct composed *composed, const char *text,
                           size_t (*count)(const struct placed_page *, const char *))
{
	size_t n = 0;
	for (size_t i = 0; i < composed->n; i++)
		n += count(&composed->pages[i], text);
	return n;
}

static void every_dose_stands_once(void **state)
{
	struct test_case *test = case_of(state);
	struct composed composed = compose(test->arena, test->row);
	for (size_t i = 0; i < composed.grid->n_rows; i++)
		for (size_t j = 0; j < composed.grid->n_columns; j++) {
			const struct grid_cell *cell = cell_of(composed.grid, i, j);
			if (cell->state != CELL_DOSE)
				continue;
			assert_int_equal(on_all_pages(&composed, cell->amount, count_text),
			                 amounts_ordered(composed.grid, cell->amount));
			if (cell->second_mark.number != NULL)
				assert_int_equal(on_all_pages(&composed, cell->second_mark.number, count_tags),
				                 marks_ordered(composed.grid, cell->second_mark.number));
			if (cell->mark.number != NULL)
				assert_int_equal(on_all_pages(&composed, cell->mark.number, count_tags),
				                 marks_ordered(composed.grid, cell->mark.number));
		}
	release(&composed);
}

/* The smallest frame around the middle of a mark; NULL where there is none. */
static const struct placed_mark *frame_around(const struct placed_page *page, const struct placed_mark *mark)
{
	const struct placed_mark *best = NULL;
	double x = mark->area.x + mark->area.width / 2;
	double y = mark->area.y + mark->area.height / 2;
	for (size_t i = 0; i < page->n; i++) {
		const struct rect area = page->marks[i].area;
		bool around = x > area.x && x < area.x + area.width && y > area.y && y < area.y + area.height;
		if (page->marks[i].kind == MARK_BOX && page->marks[i].inside && around &&
		    (best == NULL || area.width * area.height < best->area.width * best->area.height))
			best = &page->marks[i];
	}
	return best;
}

static void tags_stand_within_their_cells(void **state)
{
	struct test_case *test = case_of(state);
	struct composed composed = compose(test->arena, test->row);
	for (size_t i = 0; i < composed.n; i++) {
		const struct placed_page *page = &composed.pages[i];
		for (size_t j = 0; j + 1 < page->n; j++) {
			const struct placed_mark *tag = &page->marks[j];
			if (tag->kind != MARK_TAG)
				continue;
			const struct placed_mark *frame = frame_around(page, tag);
			assert_non_null(frame);
			assert_true(tag->area.x >= frame->area.x);
			assert_true(tag->area.y + tag->area.height <= frame->area.y + frame->area.height);
		}
	}
	release(&composed);
}

/* ---- one container, two days ---- */

static size_t texts_in(const struct placed_page *page, struct rect area, const char *text)
{
	size_t n = 0;
	for (size_t i = 0; i < page->n; i++) {
		const struct placed_mark *mark = &page->marks[i];
		n += mark->kind == MARK_TEXT && strcmp(text_string(mark->text.block), text) == 0 &&
		     mark->area.x > area.x && mark->area.y > area.y && mark->area.x < area.x + area.width &&
		     mark->area.y < area.y + area.height;
	}
	return n;
}

static bool is_split_frame(const struct placed_mark *mark)
{
	return mark->kind == MARK_BOX && mark->inside && mark->box.line == LINE_STRONG;
}

static size_t pairs_of(const struct grid *grid)
{
	size_t n = 0;
	for (size_t i = 0; i < grid->n_rows; i++)
		for (size_t j = 0; j < grid->n_columns; j++)
			n += cell_of(grid, i, j)->joins_next;
	return n;
}

/* Each pair stands in one frame; only where two medicines' pairs interlock may a frame be cut by a page. */
static void pairs_stand_in_one_frame(void **state)
{
	struct test_case *test = case_of(state);
	const struct grid_case *row = test->row;
	struct composed composed = compose(test->arena, row);
	size_t whole = 0;
	size_t halves = 0;
	for (size_t i = 0; i < composed.n; i++)
		for (size_t j = 0; j < composed.pages[i].n; j++) {
			const struct placed_mark *mark = &composed.pages[i].marks[j];
			if (!is_split_frame(mark))
				continue;
			size_t first = texts_in(&composed.pages[i], mark->area, "first half");
			size_t second = texts_in(&composed.pages[i], mark->area, "second half");
			assert_true(first <= 1 && second <= 1 && first + second >= 1);
			whole += first == 1 && second == 1;
			halves += first + second == 1;
		}
	size_t cut = halves / 2;
	assert_int_equal(halves % 2, 0);
	assert_int_equal(whole + cut, pairs_of(composed.grid));
	if (row->kind == SAMPLE_STRESS)
		assert_true(cut <= composed.n);
	else
		assert_int_equal(cut, 0);
	release(&composed);
}

static bool overlap(struct rect a, struct rect b)
{
	return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

static void bands_leave_frames_whole(void **state)
{
	struct test_case *test = case_of(state);
	struct composed composed = compose(test->arena, test->row);
	for (size_t i = 0; i < composed.n; i++) {
		const struct placed_page *page = &composed.pages[i];
		for (size_t j = 0; j < page->n; j++)
			for (size_t k = 0; k < page->n && is_split_frame(&page->marks[j]); k++) {
				const struct placed_mark *other = &page->marks[k];
				bool band = other->kind == MARK_BOX &&
				            (other->box.fill == COLOUR_BAND || other->box.line == LINE_ALARM);
				assert_false(band && overlap(page->marks[j].area, other->area));
			}
	}
	release(&composed);
}

/* ---- sizes ---- */

static void cells_are_large_enough(void **state)
{
	struct test_case *test = case_of(state);
	struct composed composed = compose(test->arena, test->row);
	for (size_t i = 0; i < composed.n; i++)
		for (size_t j = 0; j < composed.pages[i].n; j++) {
			const struct placed_mark *mark = &composed.pages[i].marks[j];
			if (mark->kind != MARK_BOX || mark->box.radius != GRID_CELL_RADIUS)
				continue;
			/* The design's least column of 25 and row of 13.2, less what stands between two cells. */
			assert_true(mark->area.width >= 25 - 2 * 0.65);
			assert_true(mark->area.height >= 13.2 - 2 * 1.0);
		}
	release(&composed);
}

/* ---- pages ---- */

static size_t pages_with(const struct composed *composed, const char *text)
{
	size_t n = 0;
	for (size_t i = 0; i < composed->n; i++)
		n += count_text(&composed->pages[i], text) > 0;
	return n;
}

static void every_day_has_its_row(void **state)
{
	struct test_case *test = case_of(state);
	struct composed composed = compose(test->arena, test->row);
	for (size_t i = 0; i < composed.grid->n_rows; i++)
		assert_true(pages_with(&composed, composed.grid->rows[i].date) >= 1);
	release(&composed);
}

static void heads_are_repeated(void **state)
{
	struct test_case *test = case_of(state);
	struct composed composed = compose(test->arena, test->row);
	for (size_t i = 0; i < composed.n && composed.grid->n_rows > 0; i++) {
		const struct placed_page *page = &composed.pages[i];
		bool has_rows = count_text(page, "left") + count_text(page, "right") > 0;
		if (has_rows)
			assert_int_equal(count_text(page, composed.grid->corner), 1);
	}
	release(&composed);
}

/* "Day 15 on: page 4" leads to a page that has day 15. */
static void references_lead_on(void **state)
{
	struct test_case *test = case_of(state);
	struct composed composed = compose(test->arena, test->row);
	size_t n = 0;
	for (size_t i = 0; i < composed.n; i++)
		for (size_t j = 0; j < composed.pages[i].n; j++) {
			const struct placed_mark *mark = &composed.pages[i].marks[j];
			int day;
			char label[8];
			if (mark->kind != MARK_TEXT ||
			    sscanf(text_string(mark->text.block), "Day %d on: page %7s", &day, label) != 2)
				continue;
			const struct placed_page *page = find_page(composed.packet, label);
			assert_non_null(page);
			assert_true(page > &composed.pages[i]);
			/* The band of an exact time has its day's date, too. */
			size_t dates = count_text(page, composed.grid->rows[day - 1].date);
			assert_in_range(dates, 1, 1 + composed.grid->rows[day - 1].n_exact);
			n++;
		}
	assert_true(n + 1 >= composed.n / 4);
	release(&composed);
}

/* ---- what only some samples have ---- */

static struct composed compose_kind(struct arena *arena, enum sample_kind kind)
{
	struct grid_case row = {"", kind, {.paper = PAPER_A4}};
	return compose(arena, &row);
}

/* Five columns and 13 days, halves, visits, an exact time and a waiting frame: one page, as designed. */
static void five_columns_take_one_page(void **state)
{
	struct composed composed = compose_kind(case_of(state)->arena, SAMPLE_SHORT);
	assert_int_equal(composed.n, 1);
	assert_int_equal(count_text(&composed.pages[0], "Day by day"), 1);
	release(&composed);
}

/* More than five: mornings and evenings, 14 days each, the pages of one fortnight side by side. */
static void more_columns_take_mornings_and_evenings(void **state)
{
	struct composed composed = compose_kind(case_of(state)->arena, SAMPLE_LONG);
	static const char *const titles[] = {"Mornings", "Evenings", "Mornings, continued", "Evenings, continued"};
	assert_true(composed.n >= 4);
	for (size_t i = 0; i < 4; i++)
		assert_int_equal(count_text(&composed.pages[i], titles[i]), 1);
	assert_int_equal(count_text(&composed.pages[0], "18 Jun"), 1);
	assert_int_equal(count_text(&composed.pages[0], "19 Jun"), 0);
	assert_int_equal(count_text(&composed.pages[2], "19 Jun"), 1);
	assert_int_equal(count_text(&composed.pages[2], "2 Jul"), 1);
	assert_int_equal(
		count_text_beginning(&composed.pages[0],
	                             "Days\u00A01\u00A0to\u00A014\u00A0· the evenings of these days are on page"),
		1);
	/* Not on the first fortnight's pages, and said so. */
	assert_int_equal(count_text(&composed.pages[0], "Insertine"), 0);
	assert_int_equal(count_text_beginning(&composed.pages[0], "Insertine starts on day 17: page"), 1);
	assert_int_equal(count_text_beginning(&composed.pages[1], "Insertine and Oleumine start on day 17: page"), 1);
	assert_int_equal(count_text_beginning(&composed.pages[2], "Sampletide ended on day 14."), 1);
	/* A visit stands on the mornings' page alone; half past midnight belongs to the evening before. */
	assert_int_equal(count_text_beginning(&composed.pages[0], "Visit, Thu 12 Jun"), 1);
	assert_int_equal(count_text_beginning(&composed.pages[1], "Visit, Thu 12 Jun"), 0);
	assert_int_equal(count_text(&composed.pages[2], "00:30"), 0);
	assert_int_equal(count_text(&composed.pages[3], "00:30"), 1);
	assert_int_equal(count_text(&composed.pages[3], "already Friday 20 June"), 1);
	release(&composed);
}

/* How many texts of all pages are exactly `text`. */
static size_t texts_of(const struct sample_packet *sample, const char *text)
{
	size_t n = 0;
	for (size_t i = 0; i < sample->packet->n; i++)
		if (sample->handout->sections[sample->packet->pages[i].section].kind == SECTION_GRID)
			n += count_text(&sample->packet->pages[i], text);
	return n;
}

/* Three days of three vials, two of two; three that stop on the way; and a pen that is finished from a second one. */
static void a_tag_has_what_it_needs_beside_it(void **state)
{
	(void)state;
	for (int large = 0; large < 2; large++) {
		struct sample_packet sample = sample_packet_in("samples/plans/wilma.yaml", PAPER_A4, large == 1);
		assert_int_equal(texts_of(&sample, "×3 vials"), 3);
		assert_int_equal(texts_of(&sample, "×2 vials"), 2);
		assert_int_equal(texts_of(&sample, "0.3\u00a0mL goes in"), 3);
		assert_int_equal(texts_of(&sample, "+"), 0);
		sample_packet_free(&sample);
		sample = sample_packet_in("samples/plans/tilda.yaml", PAPER_A4, large == 1);
		assert_int_equal(texts_of(&sample, "+"), 1);
		for (size_t i = 0; i < sample.packet->n; i++) {
			const struct placed_page *page = &sample.packet->pages[i];
			const struct placed_mark *plus = find_text(page, "+");
			if (plus == NULL || sample.handout->sections[page->section].kind != SECTION_GRID)
				continue;
			for (size_t j = 0; j < page->n; j++) {
				const struct placed_mark *mark = &page->marks[j];
				bool second =
					mark->kind == MARK_TAG && strcmp(text_string(mark->tag.number), "100") == 0;
				bool beside = second && plus->area.x + plus->area.width < mark->area.x &&
				              plus->area.y > mark->area.y &&
				              plus->area.y < mark->area.y + mark->area.height;
				assert_int_equal(second, beside);
			}
		}
		sample_packet_free(&sample);
		sample = sample_packet_said("samples/plans/wilma.yaml", PAPER_A4, large == 1, "es");
		assert_int_equal(texts_of(&sample, "×3 frascos"), 3);
		sample_packet_free(&sample);
	}
}

static size_t sides_on(const struct placed_page *page, bool hip)
{
	size_t n = 0;
	for (size_t i = 0; i < page->n; i++)
		n += page->marks[i].kind == MARK_SIDE && page->marks[i].side.hip == hip;
	return n;
}

/* Ten days under the skin in the mornings, twelve into the hip in the evenings: each page has the sign of its own. */
static void muscle_has_the_hip(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_of("samples/plans/tamsin.yaml", PAPER_A4);
	assert_int_equal(sides_on(&sample.packet->pages[1], false), 10);
	assert_int_equal(sides_on(&sample.packet->pages[1], true), 0);
	assert_int_equal(sides_on(&sample.packet->pages[2], false), 0);
	assert_int_equal(sides_on(&sample.packet->pages[2], true), 12);
	sample_packet_free(&sample);
	sample = sample_packet_in("samples/plans/tamsin.yaml", PAPER_A4, true);
	size_t signs[2] = {0, 0};
	for (size_t i = 0; i < sample.packet->n; i++)
		for (int hip = 0; hip < 2; hip++)
			if (sample.handout->sections[sample.packet->pages[i].section].kind == SECTION_GRID)
				signs[hip] += sides_on(&sample.packet->pages[i], hip == 1);
	assert_in_range(signs[0], 10, 20);
	assert_in_range(signs[1], 12, 24);
	sample_packet_free(&sample);
}

/* One column goes into muscle, another one under the skin: where both stand, the day has the belly, the cell the hip. */
static void both_kinds_have_their_signs(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	struct sample *sample = sample_new(arena, SAMPLE_SHORT, (struct sample_options){.paper = PAPER_A4}, &findings);
	const struct grid *grid = sample->handout.sections[1].grid;
	size_t alone = 0;
	size_t cells = 0;
	for (size_t i = 0; i < grid->n_rows; i++) {
		bool other = false;
		for (size_t j = 1; j < grid->groups[0].n_columns; j++)
			other = other || cell_of(grid, i, j)->mark.number != NULL;
		((struct grid_row *)grid->rows)[i].belly = true;
		if (cell_of(grid, i, 0)->mark.number != NULL)
			*(other ? &cells : &alone) += 1;
	}
	((struct grid_column *)grid->columns)[0].muscle = true;
	assert_true(cells > 0);
	struct typesetter *typesetter = typesetter_new("fonts", &findings);
	const struct placed_packet *packet = compose_packet(arena, &sample->handout, typesetter, &findings);
	assert_non_null(packet);
	assert_string_equal(packet_faults(arena, packet), "");
	/* The hip's sign takes room, so the mornings have a page of their own. */
	const struct placed_page *page = NULL;
	for (size_t i = 0; i < packet->n && page == NULL; i++)
		page = count_text(&packet->pages[i], "Mornings") == 1 ? &packet->pages[i] : NULL;
	assert_non_null(page);
	size_t in_cells = 0;
	for (size_t j = 0; j < page->n; j++)
		in_cells += page->marks[j].kind == MARK_SIDE && page->marks[j].side.hip && page->marks[j].area.x > 47;
	assert_int_equal(in_cells, cells);
	assert_int_equal(sides_on(page, true), cells + alone);
	assert_int_equal(sides_on(page, false), cells);
	typesetter_free(typesetter);
	sample_free(sample);
}

/* A page with 13:00 on it is not one of evenings alone: its title says so, and the page that leads to it. */
static void noon_is_in_the_title(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_of("samples/plans/tamsin.yaml", PAPER_A4);
	const struct placed_page *mornings = &sample.packet->pages[1];
	const struct placed_page *rest = &sample.packet->pages[2];
	assert_int_equal(count_text(mornings, "Mornings"), 1);
	assert_int_equal(count_text(mornings,
	                            "Days\u00A01\u00A0to\u00A013\u00A0· noon and evenings of these days are on page 3"),
	                 1);
	assert_int_equal(count_text(rest, "Noon 13:00"), 1);
	assert_int_equal(count_text(rest, "Noon and evenings"), 1);
	assert_int_equal(
		count_text(rest, "Days\u00A01\u00A0to\u00A013\u00A0· the mornings of these days are on page 2"), 1);
	sample_packet_free(&sample);
	sample = sample_packet_said("samples/plans/tamsin.yaml", PAPER_A4, false, "es");
	assert_int_equal(count_text(&sample.packet->pages[2], "Mediodías y tardes"), 1);
	sample_packet_free(&sample);
}

/* A day whose only dose is after midnight has its own date and side in the band, which stands for its row. */
static void a_night_band_has_its_day_and_side(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_of("samples/plans/odile.yaml", PAPER_A4);
	const struct placed_page *page = &sample.packet->pages[1];
	assert_int_equal(count_text(page, "00:30"), 1);
	assert_int_equal(count_text(page, "14 Dec"), 1);
	assert_int_equal(count_text(page, "night, Mon to Tue"), 1);
	const struct placed_mark *date = find_text(page, "14 Dec");
	const struct placed_mark *time = find_text(page, "00:30");
	assert_true(date->area.y > time->area.y - 6 && date->area.y < time->area.y + time->area.height + 6);
	bool side = false;
	for (size_t i = 0; i < page->n; i++)
		side = side || (page->marks[i].kind == MARK_SIDE && page->marks[i].side.side == SIDE_LEFT &&
		                page->marks[i].area.y > time->area.y - 6 &&
		                page->marks[i].area.y < time->area.y + time->area.height);
	assert_true(side);
	assert_int_equal(count_text(page, "pages 3, 12"),
	                 1); /* of the known amount, and of those that a call may set */
	sample_packet_free(&sample);
}

/* A second half has steps of its own: its cell says where, once for each of the three vials; no other cell does. */
static void a_second_half_says_where(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_of("samples/plans/mara.yaml", PAPER_A4);
	const struct placed_page *page = &sample.packet->pages[1];
	assert_int_equal(count_text_beginning(page, "second"), 3);
	assert_int_equal(count_text(page, "page 9"), 3);
	assert_int_equal(count_text_beginning(&sample.packet->pages[8], "Examplin: one vial, two days"), 1);
	sample_packet_free(&sample);
}

/* 15 rows would fit, but not more than 14 days stand on one page; day 14 is the first of a pair, so 13 do. */
static void a_fortnight_ends_before_a_pair(void **state)
{
	struct composed composed = compose_kind(case_of(state)->arena, SAMPLE_PAIRS);
	assert_int_equal(composed.n, 4);
	assert_int_equal(count_text_beginning(&composed.pages[0], "Days\u00A01\u00A0to\u00A013\u00A0"), 1);
	assert_int_equal(count_text_beginning(&composed.pages[2], "Days\u00A014\u00A0to\u00A020\u00A0"), 1);
	release(&composed);
}

/* The design's measures: 25, or 43 with halves (41.2 where five share a page), or 44 where an amount is written in. */
static void columns_have_their_least_widths(void **state)
{
	struct arena *arena = case_of(state)->arena;
	for (enum sample_kind kind = SAMPLE_SHORT; kind <= SAMPLE_PAIRS; kind++) {
		struct composed composed = compose_kind(arena, kind);
		struct findings findings = findings_in(arena);
		struct composer composer =
			composer_of(arena, &composed.sample->handout, composed.typesetter, &findings, NULL, 1);
		const double *least = grid_least_widths(&composer, composed.grid, true);
		double split = composed.grid->n_columns == 5 ? 41.2 : 43;
		for (size_t i = 0; i < composed.grid->n_columns; i++) {
			const struct grid_column *column = &composed.grid->columns[i];
			assert_true(least[i] >= (column->waits ? 44 : column->has_halves ? split : 25));
		}
		release(&composed);
	}
}

static size_t count_kind(const struct placed_page *page, enum mark_kind kind, enum pictogram pictogram)
{
	size_t n = 0;
	for (size_t i = 0; i < page->n; i++)
		n += page->marks[i].kind == kind &&
		     (kind != MARK_PICTURE || page->marks[i].picture.pictogram == pictogram);
	return n;
}

static void what_is_done_has_its_tick(void **state)
{
	struct composed composed = compose_kind(case_of(state)->arena, SAMPLE_LONG);
	/* Days 1 and 2: mornings three and two doses, evenings three each. */
	assert_int_equal(count_kind(&composed.pages[0], MARK_PICTURE, PICTURE_CHECK), 5);
	assert_int_equal(count_kind(&composed.pages[1], MARK_PICTURE, PICTURE_CHECK), 6);
	assert_int_equal(count_kind(&composed.pages[2], MARK_PICTURE, PICTURE_CHECK), 0);
	release(&composed);
}

static void a_new_dose_has_its_corner(void **state)
{
	struct composed composed = compose_kind(case_of(state)->arena, SAMPLE_SHORT);
	/* Examplin on day 7 and Placebix on day 6, and the legend. */
	assert_int_equal(count_kind(&composed.pages[0], MARK_CORNER, PICTURE_NONE), 3);
	assert_int_equal(count_text(&composed.pages[0], "a new dose starts here"), 1);
	release(&composed);
}

static void an_amount_by_call_waits_in_one_frame(void **state)
{
	struct composed composed = compose_kind(case_of(state)->arena, SAMPLE_LONG);
	const struct placed_page *page = &composed.pages[1];
	const struct placed_mark *words = find_text(page, "Wait for our call");
	assert_non_null(words);
	assert_int_equal(count_text(page, "Wait for our call"), 1);
	const struct placed_mark *frame = frame_around(page, words);
	assert_true(frame->box.dashed);
	assert_int_equal(texts_in(page, frame->area, "day 11"), 1);
	assert_int_equal(texts_in(page, frame->area, "day 12"), 1);
	assert_int_equal(texts_in(page, frame->area, "units"), 2);
	release(&composed);
}

static void what_waits_is_shown_without_a_date(void **state)
{
	struct composed composed = compose_kind(case_of(state)->arena, SAMPLE_WAITING);
	const struct placed_page *page = &composed.pages[0];
	assert_int_equal(composed.n, 1);
	assert_int_equal(count_text_beginning(page, "Vacuprine: only when the clinic calls."), 1);
	assert_int_equal(count_text_beginning(page, "Absentol: only when the clinic calls."), 1);
	assert_int_equal(count_text(page, "start"), 2);
	assert_int_equal(count_text(page, "150 units"), 1);
	release(&composed);
}

static void an_own_time_stands_first_in_its_cell(void **state)
{
	struct composed composed = compose_kind(case_of(state)->arena, SAMPLE_LONG);
	const struct placed_page *page = &composed.pages[0];
	const struct placed_mark *time = find_text(page, "at 07:00");
	assert_non_null(time);
	const struct placed_mark *frame = frame_around(page, time);
	assert_int_equal(texts_in(page, frame->area, "20 units"), 1);
	assert_true(time->area.y - frame->area.y < 5);
	release(&composed);
}

int main(void)
{
	struct tests tests = {0};
	static const struct {
		const char *name;
		CMUnitTestFunction function;
	} laws[] = {
		{"page is sound", page_is_sound},
		{"every dose stands once", every_dose_stands_once},
		{"tags stand within their cells", tags_stand_within_their_cells},
		{"pairs stand in one frame", pairs_stand_in_one_frame},
		{"bands leave frames whole", bands_leave_frames_whole},
		{"cells are large enough", cells_are_large_enough},
		{"every day has its row", every_day_has_its_row},
		{"heads are repeated", heads_are_repeated},
		{"references lead on", references_lead_on},
	};
	static const struct {
		const char *name;
		CMUnitTestFunction function;
	} single[] = {
		{"five columns take one page", five_columns_take_one_page},
		{"more columns take mornings and evenings", more_columns_take_mornings_and_evenings},
		{"a tag has what it needs beside it", a_tag_has_what_it_needs_beside_it},
		{"muscle has the hip", muscle_has_the_hip},
		{"both kinds have their signs", both_kinds_have_their_signs},
		{"noon is in the title", noon_is_in_the_title},
		{"a night band has its day and side", a_night_band_has_its_day_and_side},
		{"a second half says where", a_second_half_says_where},
		{"a fortnight ends before a pair", a_fortnight_ends_before_a_pair},
		{"columns have their least widths", columns_have_their_least_widths},
		{"what is done has its tick", what_is_done_has_its_tick},
		{"a new dose has its corner", a_new_dose_has_its_corner},
		{"an amount by call waits in one frame", an_amount_by_call_waits_in_one_frame},
		{"what waits is shown without a date", what_waits_is_shown_without_a_date},
		{"an own time stands first in its cell", an_own_time_stands_first_in_its_cell},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
		for (size_t j = 0; j < sizeof laws / sizeof *laws; j++) {
			char name[128];
			snprintf(name, sizeof name, "%s: %s", cases[i].name, laws[j].name);
			tests_add(&tests, name, laws[j].function, &cases[i]);
		}
	for (size_t i = 0; i < sizeof single / sizeof *single; i++)
		tests_add(&tests, single[i].name, single[i].function, NULL);
	return tests_run(&tests, "grid");
}
