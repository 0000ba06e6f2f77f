/*
 * A page as the list end writes it down: what was painted, where, within what.
 */
#include "paint/list.h"

#include "paint/paint.h"
#include "paint/painter.h"
#include "support/cases.h"

#include <math.h>
#include <string.h>

static struct typesetter *open_fonts(struct arena *arena)
{
	struct findings findings = findings_in(arena);
	struct typesetter *typesetter = typesetter_new("fonts", &findings);
	assert_non_null(typesetter);
	return typesetter;
}

static void assert_rect(struct rect found, double x, double y, double width, double height)
{
	double off = fmax(fmax(fabs(found.x - x), fabs(found.y - y)),
	                  fmax(fabs(found.width - width), fabs(found.height - height)));
	if (off > 0.001)
		fail_msg("found %.4f %.4f %.4f x %.4f, wanted %.4f %.4f %.4f x %.4f", found.x, found.y, found.width,
		         found.height, x, y, width, height);
}

static struct list painted(struct arena *arena, const struct placed_mark *marks, size_t n)
{
	const struct placed_page page = {.width = 210, .height = 297, .label = "1", .marks = marks, .n = n};
	struct device *device = list_new(arena);
	paint_page(arena, &page, device);
	return list_of(device);
}

static const struct list_entry *find(struct list list, enum list_kind kind)
{
	for (size_t i = 0; i < list.n; i++)
		if (list.entries[i].kind == kind)
			return &list.entries[i];
	fail_msg("no entry of kind %d", (int)kind);
	return NULL;
}

/* ---- marks ---- */

struct mark_row {
	const char *name;
	struct placed_mark mark;
	struct rect ink;
};

static const struct mark_row mark_rows[] = {
	{"a frame's line runs on its edge",
         {.kind = MARK_BOX,
          .area = {10, 20, 30, 15},
          .box = {.radius = 2, .line = 0.8, .stroke = COLOUR_INK, .fill = COLOUR_NONE}},
         {9.6, 19.6, 30.8, 15.8}},
	{"a fill has no line",
         {.kind = MARK_BOX, .area = {10, 20, 30, 15}, .box = {.stroke = COLOUR_NONE, .fill = COLOUR_BAND}},
         {10, 20, 30, 15}},
	{"a radius larger than the box makes a circle",
         {.kind = MARK_BOX, .area = {10, 20, 8, 8}, .box = {.radius = 50, .stroke = COLOUR_NONE, .fill = COLOUR_INK}},
         {10, 20, 8, 8}},
	{"a dashed frame",
         {.kind = MARK_BOX,
          .area = {10, 20, 30, 15},
          .box = {.radius = 2, .line = 0.5, .stroke = COLOUR_INK, .fill = COLOUR_NONE, .dashed = true}},
         {9.75, 19.75, 30.5, 15.5}},
	{"a rule",
         {.kind = MARK_RULE, .rule = {.from = {15, 29}, .to = {195, 29}, .line = 0.5, .colour = COLOUR_INK}},
         {14.75, 28.75, 180.5, 0.5}},
	/* The head is 1.2 + 1.5 * 0.9 = 2.55 long and 2.295 wide; its point is the rule's end. */
	{"an arrow ends at its point",
         {.kind = MARK_RULE,
          .rule = {.from = {20, 50}, .to = {40, 50}, .line = 0.9, .colour = COLOUR_INK, .arrow = true}},
         {19.55, 50 - 1.1475, 20.45, 2.295}},
	{"an arrow upward",
         {.kind = MARK_RULE,
          .rule = {.from = {20, 50}, .to = {20, 30}, .line = 0.9, .colour = COLOUR_INK, .arrow = true}},
         {20 - 1.1475, 30, 2.295, 20.45}},
};

static void a_mark_puts_its_ink(void **state)
{
	const struct mark_row *row = case_of(state)->row;
	struct list list = painted(case_of(state)->arena, &row->mark, 1);
	const struct list_entry *mark = find(list, LIST_MARK);
	assert_int_equal(mark->mark, row->mark.kind);
	assert_true(mark->has_ink);
	assert_rect(mark->ink, row->ink.x, row->ink.y, row->ink.width, row->ink.height);
	assert_rect(find(list, LIST_PAGE)->ink, row->ink.x, row->ink.y, row->ink.width, row->ink.height);
}

/* ---- a page in print ---- */

static struct placed_mark begin(struct group group)
{
	return (struct placed_mark){.kind = MARK_GROUP_BEGIN, .group = group};
}

static const struct placed_mark end = {.kind = MARK_GROUP_END};

static struct placed_mark words(const struct text_block *block, double x, double y, const char *link)
{
	struct rect ink = text_ink(block);
	return (struct placed_mark){.kind = MARK_TEXT,
	                            .area = {x + ink.x, y + ink.y, ink.width, ink.height},
	                            .text = {block, {x, y}, COLOUR_INK, link}};
}

static void a_page_prints_in_reading_order(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct typesetter *typesetter = open_fonts(arena);
	struct text_style style = {.size = 12};
	const struct text_block *title =
		text_set(typesetter, "Day " TEXT_BOLD_ON "by" TEXT_BOLD_OFF " day", "en", style, 0);
	const struct text_block *link = text_set(typesetter, "page 6", "en", style, 0);
	const struct placed_mark marks[] = {
		begin((struct group){.role = ROLE_SECTION}),
		begin((struct group){.role = ROLE_H1}),
		words(title, 15, 12, NULL),
		end,
		begin((struct group){.role = ROLE_FIGURE, .alt = "Stop on 0.5 mL", .language = "de"}),
		end,
		begin((struct group){.role = ROLE_HEAD_CELL, .scope = SCOPE_COLUMN}),
		words(link, 15, 40, "6"),
		end,
		begin((struct group){.role = ROLE_ARTIFACT}),
		{.kind = MARK_RULE,
	         .area = {15, 28.75, 180, 0.5},
	         .rule = {.from = {15, 29}, .to = {195, 29}, .line = 0.5, .colour = COLOUR_INK}},
		end,
		end,
	};
	struct list list = painted(arena, marks, sizeof marks / sizeof *marks);
	struct rect title_ink = text_ink(title);
	struct rect link_ink = text_ink(link);
	const char *wanted = arena_printf(arena,
	                                  "page 1 210.00 x 297.00\n"
	                                  "  section\n"
	                                  "    h1\n"
	                                  "      text %.2f %.2f %.2f x %.2f 12pt ink \"Day by day\"\n"
	                                  "    figure in de \"Stop on 0.5 mL\"\n"
	                                  "    head cell of its column\n"
	                                  "      link to 6\n"
	                                  "        text %.2f %.2f %.2f x %.2f 12pt ink \"page 6\"\n"
	                                  "    artifact\n"
	                                  "      rule 15.00 28.75 180.00 x 0.50\n",
	                                  15 + title_ink.x, 12 + title_ink.y, title_ink.width, title_ink.height,
	                                  15 + link_ink.x, 40 + link_ink.y, link_ink.width, link_ink.height);
	assert_string_equal(list_print(arena, list), wanted);
	typesetter_free(typesetter);
}

static void what_stands_in_an_artifact_says_so(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct typesetter *typesetter = open_fonts(arena);
	const struct text_block *block = text_set(typesetter, "x", "en", (struct text_style){.size = 12}, 0);
	const struct placed_mark marks[] = {begin((struct group){.role = ROLE_ARTIFACT}),
	                                    begin((struct group){.role = ROLE_PARAGRAPH}),
	                                    words(block, 15, 12, NULL),
	                                    end,
	                                    end,
	                                    words(block, 15, 40, NULL)};
	struct list list = painted(arena, marks, sizeof marks / sizeof *marks);
	bool artifact[2];
	size_t n = 0;
	for (size_t i = 0; i < list.n; i++)
		if (list.entries[i].kind == LIST_TEXT)
			artifact[n++] = list.entries[i].artifact;
	assert_int_equal(n, 2);
	assert_true(artifact[0]);
	assert_false(artifact[1]);
	typesetter_free(typesetter);
}

static void pages_are_counted(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct placed_page pages[] = {{.width = 210, .height = 297, .label = "1"},
	                                    {.width = 215.9, .height = 279.4, .label = "S1"}};
	const struct placed_packet packet = {.pages = pages, .n = 2};
	struct device *device = list_new(arena);
	paint_pages(packet.pages, packet.n, device);
	struct list list = list_of(device);
	assert_int_equal(list.n, 2);
	assert_int_equal(list.entries[1].page, 1);
	assert_string_equal(list_print(arena, list), "page 1 210.00 x 297.00\npage S1 215.90 x 279.40\n");
}

static void missing_glyphs_are_passed_on(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct typesetter *typesetter = open_fonts(arena);
	const struct placed_mark mark =
		words(text_set(typesetter, "\u2192", "en", (struct text_style){.size = 12}, 0), 15, 12, NULL);
	assert_int_equal(find(painted(arena, &mark, 1), LIST_TEXT)->missing_glyphs, 1);
	typesetter_free(typesetter);
}

/* ---- scaled, turned, clipped ---- */

struct stage {
	struct arena *arena;
	struct device *device;
	struct painter painter;
	struct typesetter *typesetter;
};

static struct stage stage_open(struct arena *arena)
{
	static const struct placed_page page = {.width = 210, .height = 297, .label = "1"};
	struct stage stage = {.arena = arena, .device = list_new(arena)};
	stage.painter = (struct painter){arena, stage.device};
	stage.device->end->begin_page(stage.device, &page);
	return stage;
}

static struct list stage_close(struct stage *stage)
{
	stage->device->end->end_page(stage->device);
	return list_of(stage->device);
}

static const struct path_builder *square(struct arena *arena)
{
	struct path_builder *path = path_new(arena);
	path_rect(path, (struct rect){0, 0, 4, 2});
	return path;
}

static void places_are_those_on_paper(void **state)
{
	struct stage stage = stage_open(case_of(state)->arena);
	paint_push_place(&stage.painter, (struct point){100, 50}, 2, 0);
	paint_push_place(&stage.painter, (struct point){10, 0}, 3, 90);
	/* Turned clockwise, 4 to the right becomes 4 down: 24 high, 12 wide, leftward from 120. */
	paint_fill(&stage.painter, square(stage.arena), COLOUR_INK);
	paint_pop(&stage.painter);
	paint_pop(&stage.painter);
	assert_rect(find(stage_close(&stage), LIST_PAGE)->ink, 108, 50, 12, 24);
}

static void a_stroke_is_as_wide_as_scaled(void **state)
{
	struct stage stage = stage_open(case_of(state)->arena);
	paint_push_place(&stage.painter, (struct point){100, 50}, 5, 0);
	paint_stroke(&stage.painter, square(stage.arena), 0.2, COLOUR_INK);
	paint_pop(&stage.painter);
	assert_rect(find(stage_close(&stage), LIST_PAGE)->ink, 99.5, 49.5, 21, 11);
}

static void what_is_clipped_is_no_ink(void **state)
{
	struct stage stage = stage_open(case_of(state)->arena);
	struct path_builder *window = path_new(stage.arena);
	path_rect(window, (struct rect){3, 1, 10, 10});
	paint_push_clip(&stage.painter, window);
	paint_fill(&stage.painter, square(stage.arena), COLOUR_INK);
	paint_pop(&stage.painter);
	assert_rect(find(stage_close(&stage), LIST_PAGE)->ink, 3, 1, 1, 1);
}

static void a_clip_within_a_clip_narrows(void **state)
{
	struct stage stage = stage_open(case_of(state)->arena);
	struct path_builder *left = path_new(stage.arena);
	path_rect(left, (struct rect){0, 0, 3, 10});
	struct path_builder *right = path_new(stage.arena);
	path_rect(right, (struct rect){2, 0, 10, 10});
	paint_push_clip(&stage.painter, left);
	paint_push_clip(&stage.painter, right);
	paint_fill(&stage.painter, square(stage.arena), COLOUR_INK);
	paint_pop(&stage.painter);
	paint_pop(&stage.painter);
	assert_rect(find(stage_close(&stage), LIST_PAGE)->ink, 2, 0, 1, 2);
}

static void outside_the_clip_is_no_ink_at_all(void **state)
{
	struct stage stage = stage_open(case_of(state)->arena);
	struct path_builder *window = path_new(stage.arena);
	path_rect(window, (struct rect){30, 30, 10, 10});
	paint_push_clip(&stage.painter, window);
	paint_fill(&stage.painter, square(stage.arena), COLOUR_INK);
	paint_pop(&stage.painter);
	assert_false(find(stage_close(&stage), LIST_PAGE)->has_ink);
}

static void scaled_text_has_the_size_it_shows(void **state)
{
	struct stage stage = stage_open(case_of(state)->arena);
	struct typesetter *typesetter = open_fonts(stage.arena);
	const struct text_block *block = text_set(typesetter, "0.5", "en", (struct text_style){.size = 10}, 0);
	struct rect ink = text_ink(block);
	paint_push_place(&stage.painter, (struct point){100, 50}, 1.5, 0);
	paint_text(&stage.painter, block, (struct point){2, 4}, COLOUR_WHITE);
	paint_pop(&stage.painter);
	const struct list_entry *text = find(stage_close(&stage), LIST_TEXT);
	assert_true(fabs(text->size - 15) < 1e-9);
	assert_int_equal(text->colour, COLOUR_WHITE);
	assert_rect(text->area, 100 + 1.5 * (2 + ink.x), 50 + 1.5 * (4 + ink.y), 1.5 * ink.width, 1.5 * ink.height);
	typesetter_free(typesetter);
}

/* Hatching reaches every corner of what it fills, and not beyond. */
static void liquid_fills_its_shape(void **state)
{
	struct stage stage = stage_open(case_of(state)->arena);
	struct path_builder *shape = path_new(stage.arena);
	path_rect(shape, (struct rect){50, 60, 20, 5});
	paint_hatch(&stage.painter, shape, 1, LIQUID_LINE, COLOUR_LIQUID);
	assert_rect(find(stage_close(&stage), LIST_PAGE)->ink, 50, 60, 20, 5);
}

#define ADD(test) tests_add(&tests, #test, test, NULL)

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof mark_rows / sizeof *mark_rows; i++)
		tests_add(&tests, mark_rows[i].name, a_mark_puts_its_ink, &mark_rows[i]);
	ADD(a_page_prints_in_reading_order);
	ADD(what_stands_in_an_artifact_says_so);
	ADD(pages_are_counted);
	ADD(missing_glyphs_are_passed_on);
	ADD(places_are_those_on_paper);
	ADD(a_stroke_is_as_wide_as_scaled);
	ADD(what_is_clipped_is_no_ink);
	ADD(a_clip_within_a_clip_narrows);
	ADD(outside_the_clip_is_no_ink_at_all);
	ADD(scaled_text_has_the_size_it_shows);
	ADD(liquid_fills_its_shape);
	return tests_run(&tests, "list");
}
