/*
 * Pens and what is counted out, on the pages of the sample plans: every window shows a number of the workings between
 * its neighbours on the dial, every day of a pen's dose is on one page, and sheets begin where a printer on both sides
 * needs them.
 */
#include "plan/draw.h"
#include "support/cases.h"
#include "support/page_checks.h"
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
	const struct placed_page *page = NULL;
	for (size_t i = 0; page == NULL && i < sample.packet->n; i++)
		if (count_text(&sample.packet->pages[i], "Placebix: two pens today") == 1)
			page = &sample.packet->pages[i];
	assert_non_null(page);
	assert_int_equal(count_text_beginning(page, "Day 6, Thursday 10 December"), 1);
	assert_int_equal(count_text(page, "225\u00a0units"), 1);
	assert_int_equal(count_text(page, "125\u00a0units"), 1);
	assert_int_equal(count_text(page, "100\u00a0units"), 1);
	assert_int_equal(count_tags(page, "125"), 1);
	assert_int_equal(count_tags(page, "100"), 1);
	/* Only the new pen is tested, with the open tag; its steps go on from the old pen's. */
	assert_int_equal(count_tags(page, "25"), 1);
	for (size_t i = 0; i < page->n; i++)
		if (page->marks[i].kind == MARK_TAG && strcmp(text_string(page->marks[i].tag.number), "25") == 0)
			assert_true(page->marks[i].tag.open);
	for (int number = 1; number <= 9; number++)
		assert_true(count_text(page, arena_printf(sample.arena, "%d", number)) > 0);
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
	} rows[] = {{"1", NULL, "2", "2"}, {"3", "2", "2", "2"},  {"5", "2", "2", "2"},
	            {"7", "2", "4", "4"},  {"9", "4", "4", "4"},  {"11", "4", "4", "4"},
	            {"13", "4", "4", "4"}, {"15", "4", "4", "4"}, {"17", "4", NULL, "0"}};
	(void)state;
	struct sample_packet sample = sample_packet_of(PATCHES, PAPER_A4);
	const struct counted_sheet *sheet = NULL;
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
	}
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
	/* The whole one of the other row, and the sign of 'keep'. */
	assert_int_equal(count_pictures(page, PICTURE_TABLET), 2);
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
	} rows[] = {{PENS, "Placebix: get ready", 1}, {PENS, "Placebix: two pens today", 1},
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

int main(void)
{
	struct tests tests = {0};
	tests_add(&tests, "windows agree with the workings", windows_agree_with_the_workings, NULL);
	tests_add(&tests, "two pens make up the dose", two_pens_make_up_the_dose, NULL);
	tests_add(&tests, "tags point at windows", tags_point_at_windows, NULL);
	tests_add(&tests, "patches come off when they were worn", patches_come_off_when_they_were_worn, NULL);
	tests_add(&tests, "halves are drawn as halves", halves_are_drawn_as_halves, NULL);
	tests_add(&tests, "sheets of two pages begin on a front", sheets_of_two_pages_begin_on_a_front, NULL);
	return tests_run(&tests, "devices");
}
