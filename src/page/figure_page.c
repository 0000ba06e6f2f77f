#include "page/figure_page.h"

#include "page/syringe_geometry.h"
#include "page/tag_geometry.h"

#include <math.h>

#define MARGIN 8.0
#define LIVE_LEAST 150.0 /* so that the caption has room */
#define TAG_SIZE 24.0
#define TAG_CLEAR 0.4
#define NUMERAL_SIZE 9.0
#define CAPTION_SIZE 12.0
#define CAPTION_GAP 5.0

struct building {
	struct arena *arena;
	struct typesetter *typesetter;
	const struct figure_request *request;
	struct placed_mark *marks;
	size_t n;
};

static void add(struct building *building, struct placed_mark mark)
{
	building->marks = arena_more(building->arena, building->marks, building->n, sizeof *building->marks);
	building->marks[building->n++] = mark;
}

static const struct text_block *set(struct building *building, const char *text, struct text_style style)
{
	return text == NULL ? NULL : text_set(building->typesetter, text, building->request->language, style, 0);
}

/* Numerals by the notation rules, or as the barrel prints them; the one at the mark bold. */
static const char *numeral(struct building *building, size_t index)
{
	const struct syringe *syringe = building->request->syringe;
	struct rational number;
	if (index < syringe->n_numerals)
		return syringe->numerals[index];
	if (!syringe_scale_number(syringe, syringe_numbered_volume(syringe, index), &number))
		return "";
	return number_print(building->arena, number, building->request->decimal_mark);
}

static const struct text_block *const *numerals(struct building *building, size_t n)
{
	const struct syringe *syringe = building->request->syringe;
	const struct text_block **blocks = arena_alloc(building->arena, (n + 1) * sizeof *blocks);
	double pitch = measure_of(syringe->numbered_every) * syringe_geometry_of(syringe).mm_per_ml;
	double taken = -pitch;
	for (size_t i = 0; i < n; i++) {
		bool marked = rational_compare(syringe_numbered_volume(syringe, i), building->request->at) == 0;
		struct text_style style = {.size = NUMERAL_SIZE, .weight = marked ? WEIGHT_BOLD : WEIGHT_REGULAR};
		const struct text_block *block = set(building, numeral(building, i), style);
		double left = (double)i * pitch - text_width(block) / 2;
		if (left < taken + 0.4 && !marked)
			continue;
		blocks[i] = block;
		taken = left + text_width(block);
	}
	return blocks;
}

static struct tag tag_over(struct building *building, struct point tip)
{
	const struct mark_words *mark = &building->request->mark;
	struct tag_words words = {set(building, mark->before, tag_word_style(TAG_SIZE)),
	                          set(building, mark->number, tag_number_style(TAG_SIZE)),
	                          set(building, mark->unit, tag_word_style(TAG_SIZE))};
	return tag_of(tip, words, mark->open);
}

/* Below the syringe, on as many lines as it takes; returns how high it is. */
static double add_caption(struct building *building, double y, double width)
{
	const struct figure_request *request = building->request;
	struct text_style style = {.size = CAPTION_SIZE, .weight = WEIGHT_REGULAR};
	const struct text_block *block =
		text_set(building->typesetter, request->caption, request->language, style, width);
	struct rect ink = text_ink(block);
	add(building, (struct placed_mark){.kind = MARK_TEXT,
	                                   .area = {MARGIN + ink.x, y + ink.y, ink.width, ink.height},
	                                   .text = {block, {MARGIN, y}, COLOUR_INK}});
	return text_height(block);
}

const struct placed_page *figure_page(struct arena *arena, struct typesetter *typesetter,
                                      const struct figure_request *request)
{
	struct building building = {arena, typesetter, request, NULL, 0};
	const struct syringe *syringe = request->syringe;
	struct syringe_geometry geometry = syringe_geometry_of(syringe);
	double ring = measure_of(request->at);
	double x_zero = MARGIN + syringe_left(syringe, true, 0);
	struct tag tag = tag_over(&building, (struct point){syringe_x(syringe, x_zero, ring), 0});
	double tag_height = tag_measure(&tag).area.height;
	double half = fmax(geometry.outer, geometry.flange_height) / 2;
	double axis = MARGIN + tag_height + TAG_CLEAR + half;
	tag.tip.y = axis - geometry.outer / 2 - TAG_CLEAR;

	size_t n = syringe_numbered_lines(syringe);
	double below = fmax(half, syringe_numerals_drop(syringe) + 3);
	double right = x_zero + syringe_right(syringe, ring);
	double caption_y = axis + below + CAPTION_GAP;
	struct group figure = {.role = ROLE_FIGURE, .alt = request->alt};
	add(&building, (struct placed_mark){.kind = MARK_GROUP_BEGIN, .group = figure});
	add(&building, (struct placed_mark){.kind = MARK_SYRINGE,
	                                    .area = {MARGIN, axis - half, right - MARGIN, half + below},
	                                    .syringe = {.syringe = syringe,
	                                                .x_zero = x_zero,
	                                                .axis = axis,
	                                                .ring = ring,
	                                                .liquid = ring,
	                                                .line = true,
	                                                .mark = ring,
	                                                .needle = NEEDLE_THIN,
	                                                .numerals = numerals(&building, n),
	                                                .n_numerals = n}});
	add(&building,
	    (struct placed_mark){.kind = MARK_TAG, .area = tag_measure(&tag).area, .inside = true, .tag = tag});
	add(&building, (struct placed_mark){.kind = MARK_GROUP_END});
	double live = fmax(right, LIVE_LEAST);
	double caption_height = add_caption(&building, caption_y, live - MARGIN);

	struct placed_page *page = arena_alloc(arena, sizeof *page);
	*page = (struct placed_page){.width = live + MARGIN,
	                             .height = caption_y + caption_height + MARGIN,
	                             .label = "1",
	                             .marks = building.marks,
	                             .n = building.n};
	return page;
}
