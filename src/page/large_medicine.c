/*
 * large_medicine.c - one medicine in large print: get ready, then draw and inject, each on as many pages as it needs.
 */
#include "page/actions.h"
#include "page/large_line.h"
#include "page/large_pages.h"
#include "page/large_sheet.h"
#include "page/large_step.h"
#include "page/medicine.h"
#include "page/styles.h"

#include <math.h>

#define BETWEEN 4.2

static struct text_style lead(const struct composer *composer)
{
	return large_style(composer, TYPE_LEAD, WEIGHT_BOLD);
}

void large_add_about(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	if (sheet->purpose != NULL)
		large_add_item(blocks, sheet->picture, NULL, sheet->purpose);
	large_add_item(blocks, PICTURE_PHONE, sheet->call_heading, sheet->call_text);
	large_add_caution(blocks, sheet->caution_word, sheet->caution);
}

/* ---- what to lay out: two abreast ---- */

#define THINGS_ABREAST 2
#define THING_WIDTH (LIVE_WIDTH / THINGS_ABREAST)
#define THING_PICTURE 14.0
#define THING_COUNT 18.0

/* Counts stand in line, words after the widest. */
static double thing_words_x(struct composer *composer, const struct medicine_sheet *sheet)
{
	double widest = 0;
	for (size_t i = 0; i < sheet->n_lay_out; i++)
		widest = fmax(widest, composer_text_width(composer, sheet->lay_out[i].count, lead(composer)));
	return THING_COUNT + widest + GAP_3;
}

static double things_height(struct composer *composer, const struct medicine_sheet *sheet, size_t first)
{
	double width = THING_WIDTH - thing_words_x(composer, sheet) - GAP_2;
	double height = THING_PICTURE;
	for (size_t i = first; i < first + THINGS_ABREAST && i < sheet->n_lay_out; i++)
		height = fmax(height, composer_text_height(composer, sheet->lay_out[i].word,
		                                           large_body(composer, WEIGHT_REGULAR), width));
	return height;
}

static void put_things(struct composer *composer, const struct large_block *block, double y)
{
	const struct medicine_sheet *sheet = block->data;
	double words_x = thing_words_x(composer, sheet);
	double width = THING_WIDTH - words_x - GAP_2;
	double middle = y + block->height / 2;
	for (size_t i = block->index; i < block->index + THINGS_ABREAST && i < sheet->n_lay_out; i++) {
		const struct lay_out *thing = &sheet->lay_out[i];
		double x = composer->left + (double)(i % THINGS_ABREAST) * THING_WIDTH;
		double height =
			composer_text_height(composer, thing->word, large_body(composer, WEIGHT_REGULAR), width);
		begin_group(composer, ROLE_LIST_ITEM);
		begin_artifact(composer);
		put_picture(composer, thing->pictogram, x, middle - THING_PICTURE / 2, THING_PICTURE);
		end_group(composer);
		put_plain(composer, thing->count, lead(composer), x + THING_COUNT,
		          middle - cap(composer, TYPE_LEAD) / 2, 0);
		put_plain(composer, thing->word, large_body(composer, WEIGHT_REGULAR), x + words_x, middle - height / 2,
		          width);
		end_group(composer);
	}
}

void large_add_things(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	if (sheet->n_lay_out == 0)
		return;
	large_add_heading(blocks, sheet->lay_out_heading);
	for (size_t i = 0; i < sheet->n_lay_out; i += THINGS_ABREAST) {
		struct large_block *block =
			large_add(blocks, things_height(blocks->composer, sheet, i), GAP_3, put_things, sheet);
		block->index = i;
		block->around = ROLE_LIST;
	}
}

/* ---- before anything: boxes to tick ---- */

#define FIRST_TICK 10.0
#define FIRST_TEXT 15.0

static double preparing_height(struct composer *composer, const struct step *step)
{
	double width = LIVE_WIDTH - FIRST_TEXT;
	double words = composer_text_height(composer, step->title, lead(composer), width) + BETWEEN +
	               actions_height(composer, step->text, large_body(composer, WEIGHT_REGULAR), width);
	return fmax(words, FIRST_TICK);
}

static void put_preparing(struct composer *composer, const struct large_block *block, double y)
{
	const struct step *step = block->data;
	double x = composer->left + FIRST_TEXT;
	double width = LIVE_WIDTH - FIRST_TEXT;
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_tick(composer, (struct point){composer->left + 0.3, y}, FIRST_TICK);
	end_group(composer);
	struct rect title = put_plain(composer, step->title, lead(composer), x, y, width);
	put_actions(composer, step->text, large_body(composer, WEIGHT_REGULAR), x, title.y + title.height + BETWEEN,
	            width);
	end_group(composer);
}

void large_add_preparing(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	for (size_t i = 0; i < sheet->n_first; i++) {
		struct large_block *block = large_add(blocks, preparing_height(blocks->composer, &sheet->first[i]),
		                                      GAP_4, put_preparing, &sheet->first[i]);
		block->around = ROLE_LIST;
		block->break_cost = i == 0 ? 0 : 0.5;
	}
}

/* ---- ways to say the same amount, below one another ---- */

#define SAME_PAD 6.0
#define SAME_TEXT 24.0
#define SAME_KNOT 4.2
#define SAME_BETWEEN 11.0 /* the knot's room */
#define SAME_CAPTION_WIDTH 69.0
#define SAME_AMOUNT 97.0
#define SAME_AMOUNT_WIDTH (LIVE_WIDTH - SAME_AMOUNT - SAME_PAD)
#define SAME_TAG 30.0
#define SAME_TAG_LEAST 20.0

struct same_way {
	const char *caption;
	const char *amount;
	const char *more;
};

static struct text_style amount_style(const struct composer *composer)
{
	return large_style(composer, TYPE_SECTION, WEIGHT_BOLD);
}

static struct same_way same_way(const struct medicine_sheet *sheet, size_t index)
{
	const struct same_way ways[] = {{sheet->calendar_says, sheet->amount, NULL},
	                                {sheet->box_says, sheet->box_part, sheet->box_amount},
	                                {sheet->syringe_shows, NULL, sheet->mark_more}};
	return ways[index];
}

/* A mark with long words before it is set smaller, to stay in its frame. */
static double same_tag_size(struct composer *composer, const struct medicine_sheet *sheet)
{
	double size = SAME_TAG;
	while (size > SAME_TAG_LEAST && measure_tag(composer, sheet->mark, size).width > SAME_AMOUNT_WIDTH)
		size -= 1;
	return size;
}

static bool way_has_tag(const struct medicine_sheet *sheet, size_t index)
{
	return index == 2 && sheet->mark.number != NULL;
}

/* The amount, or the tag in its place; then what is said small below it. */
static double way_amount_height(struct composer *composer, const struct medicine_sheet *sheet, size_t index)
{
	if (way_has_tag(sheet, index))
		return measure_tag(composer, sheet->mark, same_tag_size(composer, sheet)).height;
	return composer_text_height(composer, same_way(sheet, index).amount, amount_style(composer), SAME_AMOUNT_WIDTH);
}

static double way_amounts_height(struct composer *composer, const struct medicine_sheet *sheet, size_t index)
{
	double more = composer_text_height(composer, same_way(sheet, index).more, large_body(composer, WEIGHT_REGULAR),
	                                   SAME_AMOUNT_WIDTH);
	return way_amount_height(composer, sheet, index) + (more > 0 ? BETWEEN + more : 0);
}

static double way_height(struct composer *composer, const struct medicine_sheet *sheet, size_t index)
{
	struct same_way way = same_way(sheet, index);
	double amount = way_amounts_height(composer, sheet, index);
	double caption =
		composer_text_height(composer, way.caption, large_body(composer, WEIGHT_REGULAR), SAME_CAPTION_WIDTH);
	return fmax(fmax(caption, amount), SAME_PICTURE);
}

static double same_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	double height = 2 * SAME_PAD + GAP_4 +
	                composer_text_height(composer, sheet->same_heading, lead(composer), LIVE_WIDTH - 2 * SAME_PAD);
	for (size_t i = 0; i < 3; i++)
		height += way_height(composer, sheet, i) + (i > 0 ? SAME_BETWEEN : 0);
	return height;
}

static void put_way_picture(struct composer *composer, const struct medicine_sheet *sheet, size_t index, double y,
                            double height)
{
	double x = composer->left + SAME_PAD;
	double top = y + (height - SAME_PICTURE) / 2;
	begin_artifact(composer);
	if (index == 1)
		medicine_put_box(composer, sheet, x, top);
	else
		put_picture(composer,
		            index == 0                                ? PICTURE_CALENDAR
		            : sheet->draw->measure == MEASURE_SYRINGE ? PICTURE_FILLED_SYRINGE
		                                                      : PICTURE_PEN,
		            x, top, SAME_PICTURE);
	struct point knot = {x + SAME_PICTURE / 2, y - SAME_BETWEEN / 2};
	if (index == 2 && sheet->mark_follows)
		put_arrow_down(composer, knot.x, knot.y - SAME_KNOT, 2 * SAME_KNOT);
	else if (index > 0)
		put_mark(composer, (struct placed_mark){.kind = MARK_KNOT,
		                                        .area = {knot.x - SAME_KNOT, knot.y - SAME_KNOT, 2 * SAME_KNOT,
		                                                 2 * SAME_KNOT},
		                                        .knot = {knot, SAME_KNOT, '=', 0, 0}});
	end_group(composer);
}

static void put_way(struct composer *composer, const struct medicine_sheet *sheet, size_t index, double y)
{
	struct same_way way = same_way(sheet, index);
	double height = way_height(composer, sheet, index);
	double middle = y + height / 2;
	double x = composer->left + SAME_AMOUNT;
	put_way_picture(composer, sheet, index, y, height);
	begin_group(composer, ROLE_PARAGRAPH);
	double caption =
		composer_text_height(composer, way.caption, large_body(composer, WEIGHT_REGULAR), SAME_CAPTION_WIDTH);
	put_plain(composer, way.caption, large_body(composer, WEIGHT_REGULAR), composer->left + SAME_TEXT,
	          middle - caption / 2, SAME_CAPTION_WIDTH);
	double amount = way_amount_height(composer, sheet, index);
	double top = middle - way_amounts_height(composer, sheet, index) / 2;
	if (way_has_tag(sheet, index)) {
		double size = same_tag_size(composer, sheet);
		struct rect tag = measure_tag(composer, sheet->mark, size);
		put_tag(composer, sheet->mark, size, (struct point){x + tag.width / 2, top + amount});
	} else {
		put_plain(composer, way.amount, amount_style(composer), x, top, SAME_AMOUNT_WIDTH);
	}
	put_plain(composer, way.more, large_body(composer, WEIGHT_REGULAR), x, top + amount + BETWEEN,
	          SAME_AMOUNT_WIDTH);
	end_group(composer);
}

static void put_same(struct composer *composer, const struct large_block *block, double y)
{
	const struct medicine_sheet *sheet = block->data;
	begin_artifact(composer);
	put_frame(composer, (struct rect){composer->left + 0.25, y + 0.25, LIVE_WIDTH - 0.5, block->height - 0.5},
	          LINE_MAIN);
	end_group(composer);
	struct rect heading = put_heading(composer, ROLE_H2, sheet->same_heading, lead(composer),
	                                  composer->left + SAME_PAD, y + SAME_PAD, LIVE_WIDTH - 2 * SAME_PAD);
	double top = heading.y + heading.height + GAP_4;
	for (size_t i = 0; i < 3; i++) {
		put_way(composer, sheet, i, top);
		top += way_height(composer, sheet, i) + SAME_BETWEEN;
	}
}

/* ---- the strip: one syringe all the way ---- */

#define FLOW_PICTURE 29.0
#define FLOW_BAND_TOP 0.25
#define FLOW_BAND 0.47
#define FLOW_ARROW 4.5
#define FLOW_LINE 3 /* so many abreast where a word is too long for all */

static double flow_pitch(size_t abreast)
{
	return LIVE_WIDTH / (double)abreast;
}

static size_t flow_abreast(struct composer *composer, const struct medicine_sheet *sheet)
{
	for (size_t i = 0; i < sheet->n_flow; i++)
		if (composer_widest_word(composer, sheet->flow[i].word, large_body(composer, WEIGHT_REGULAR)) >
		    flow_pitch(sheet->n_flow) - GAP_1)
			return FLOW_LINE;
	return sheet->n_flow;
}

static double flow_height(struct composer *composer, const struct medicine_sheet *sheet, size_t first, size_t abreast)
{
	double words = 0;
	for (size_t i = first; i < first + abreast && i < sheet->n_flow; i++)
		words = fmax(words,
		             composer_text_height(composer, sheet->flow[i].word, large_body(composer, WEIGHT_REGULAR),
		                                  flow_pitch(abreast) - GAP_1));
	return FLOW_PICTURE * FLOW_BAND + GAP_2 + words;
}

static void put_flow_piece(struct composer *composer, const struct medicine_sheet *sheet, size_t index, size_t abreast,
                           double y)
{
	const struct flow_piece *piece = &sheet->flow[index];
	double band = FLOW_PICTURE * FLOW_BAND;
	double middle = composer->left + ((double)(index % abreast) + 0.5) * flow_pitch(abreast);
	struct point at = {middle - FLOW_PICTURE / 2, y - FLOW_PICTURE * FLOW_BAND_TOP};
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_mark(composer, (struct placed_mark){.kind = MARK_STEP,
	                                        .area = {at.x, y, FLOW_PICTURE, band},
	                                        .step = {medicine_flow_picture(piece->kind), at, FLOW_PICTURE,
	                                                 composer->dose_ring, composer->one_needle}});
	if (index + 1 < sheet->n_flow && (index + 1) % abreast != 0)
		put_arrow(composer, middle + flow_pitch(abreast) / 2 - FLOW_ARROW / 2, y + band / 2, FLOW_ARROW);
	end_group(composer);
	put_text(composer, piece->word, large_body(composer, WEIGHT_REGULAR), ALIGN_CENTER, middle, y + band + GAP_2,
	         flow_pitch(abreast) - GAP_1, COLOUR_INK);
	end_group(composer);
}

static void put_flow(struct composer *composer, const struct large_block *block, double y)
{
	const struct medicine_sheet *sheet = block->data;
	size_t abreast = flow_abreast(composer, sheet);
	for (size_t i = block->index; i < block->index + abreast && i < sheet->n_flow; i++)
		put_flow_piece(composer, sheet, i, abreast, y);
}

static void add_flow(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	if (sheet->n_flow == 0)
		return;
	large_add_heading(blocks, sheet->flow_heading);
	size_t abreast = flow_abreast(blocks->composer, sheet);
	size_t first = blocks->n;
	for (size_t i = 0; i < sheet->n_flow; i += abreast) {
		struct large_block *block =
			large_add(blocks, flow_height(blocks->composer, sheet, i, abreast), GAP_3, put_flow, sheet);
		block->index = i;
		block->around = ROLE_LIST;
	}
	large_hold_all(blocks, first);
}

/* ---- lines ---- */

void large_add_liquid_line(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	struct composer *composer = blocks->composer;
	struct large_line *line = arena_alloc(composer->arena, sizeof *line);
	const char *place = say_line_place(composer->speaker, &sheet->draw->add);
	*line = (struct large_line){.look = medicine_add_line(sheet),
	                            .heading = say0(composer->speaker, "line.add_heading"),
	                            .text = say1(composer->speaker, "line.ring", "line", place),
	                            .letter = sheet->mix->letter,
	                            .alt = sheet->mix->alt};
	line->look.tag_size = composer_style(composer, TYPE_MARK, WEIGHT_BOLD).size;
	large_add_line(blocks, line);
}

static void add_dose_line(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	struct composer *composer = blocks->composer;
	struct large_line *line = arena_alloc(composer->arena, sizeof *line);
	*line = (struct large_line){.look = medicine_line(composer, sheet),
	                            .heading = sheet->stop_heading,
	                            .scale = sheet->scale_beside,
	                            .size = sheet->true_size,
	                            .text = sheet->window_text,
	                            .letter = sheet->line_letter,
	                            .window_letter = sheet->window_letter,
	                            .alt = sheet->alt};
	if (line->look.line) {
		large_add_ruler(blocks, say0(composer->speaker, "print.heading"), say0(composer->speaker, "print.text"),
		                true);
		blocks->list[blocks->n - 1].keep = true; /* before anything is laid on the drawing */
	}
	large_add_line(blocks, line);
	if (line->look.line)
		blocks->list[blocks->n - 1].gap = GAP_3;
}

/* ---- a tag with words: what has no scale, and what is left after pushing out ---- */

#define DEVICE_PICTURE 30.0

struct tag_words_block {
	enum pictogram pictogram; /* PICTURE_NONE: none */
	struct mark_words mark;
	const char *heading;
	const char *text;
	const char *alt; /* of the picture and the tag; NULL: the words say it */
	double size;
};

static double tag_words_x(struct composer *composer, const struct tag_words_block *words)
{
	double x = words->pictogram == PICTURE_NONE ? 0 : DEVICE_PICTURE + GAP_4;
	return x + (words->mark.number == NULL ? 0 : measure_tag(composer, words->mark, words->size).width + GAP_4);
}

static double tag_words_height(struct composer *composer, const struct tag_words_block *words)
{
	double width = LIVE_WIDTH - tag_words_x(composer, words);
	double heading =
		composer_text_height(composer, words->heading, large_style(composer, TYPE_SECTION, WEIGHT_BOLD), width);
	return heading + (heading > 0 ? GAP_3 : 0) +
	       composer_text_height(composer, words->text, large_body(composer, WEIGHT_REGULAR), width);
}

static void put_tag_words(struct composer *composer, const struct large_block *block, double y)
{
	const struct tag_words_block *words = block->data;
	double x = composer->left + tag_words_x(composer, words);
	double middle = y + block->height / 2;
	if (words->alt != NULL)
		begin_figure(composer, words->alt);
	else
		begin_group(composer, ROLE_PARAGRAPH);
	put_picture(composer, words->pictogram, composer->left, middle - DEVICE_PICTURE / 2, DEVICE_PICTURE);
	if (words->mark.number != NULL) {
		struct rect tag = measure_tag(composer, words->mark, words->size);
		put_tag(composer, words->mark, words->size,
		        (struct point){x - GAP_4 - tag.width / 2, middle + tag.height / 2});
	}
	end_group(composer);
	double width = composer->right - x;
	double top = middle - tag_words_height(composer, words) / 2;
	struct rect heading = put_heading(composer, ROLE_H2, words->heading,
	                                  large_style(composer, TYPE_SECTION, WEIGHT_BOLD), x, top, width);
	put_paragraph(composer, words->text, large_body(composer, WEIGHT_REGULAR), x,
	              heading.height > 0 ? heading.y + heading.height + GAP_3 : top, width);
}

static void add_tag_words(struct large_blocks *blocks, struct tag_words_block data)
{
	struct composer *composer = blocks->composer;
	struct tag_words_block *words = arena_alloc(composer->arena, sizeof *words);
	*words = data;
	double figure = words->pictogram == PICTURE_NONE ? 0 : DEVICE_PICTURE;
	if (words->mark.number != NULL)
		figure = fmax(figure, measure_tag(composer, words->mark, words->size).height);
	large_add(blocks, fmax(figure, tag_words_height(composer, words)), GAP_5, put_tag_words, words);
}

static void add_device(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	enum pictogram pictogram = sheet->draw->measure == MEASURE_DIAL ? PICTURE_PEN : sheet->box_picture;
	if (pictogram == PICTURE_HALF_VIAL)
		pictogram = PICTURE_LIQUID_VIAL;
	add_tag_words(blocks, (struct tag_words_block){.pictogram = pictogram,
	                                               .mark = sheet->mark,
	                                               .heading = sheet->stop_heading,
	                                               .text = sheet->window_text,
	                                               .alt = sheet->alt,
	                                               .size = 40});
}

/* Part of a filled syringe: to its line, what must not happen, and what becomes of the rest. */
static void add_part(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	const struct filled_part *part = sheet->part;
	add_dose_line(blocks, sheet);
	large_add_steps(blocks, part->to_line, 1, NULL);
	size_t n_warnings = 0;
	while (n_warnings < sheet->n_back && sheet->back[n_warnings].warning)
		n_warnings++;
	large_add_steps(blocks, sheet->back, n_warnings, NULL);
	large_add_steps(blocks, part->rest, 1, NULL);
	blocks->list[blocks->n - 1].keep = part->rest_mark.number != NULL;
	if (part->rest_mark.number != NULL)
		add_tag_words(blocks,
		              (struct tag_words_block){.mark = part->rest_mark, .text = part->rest->title, .size = 30});
	large_add_steps(blocks, sheet->back + n_warnings, sheet->n_back - n_warnings, NULL);
}

/* ---- the pages ---- */

void large_medicine_front(struct composer *composer, const struct medicine_sheet *sheet)
{
	struct large_blocks blocks = large_blocks_of(composer);
	bool adds = sheet->has_add && sheet->add.number != NULL;
	large_add_text(&blocks, sheet->other_days, TYPE_BODY, WEIGHT_REGULAR);
	large_add_about(&blocks, sheet);
	large_add_things(&blocks, sheet);
	large_add_preparing(&blocks, sheet);
	large_add(&blocks, same_height(composer, sheet), GAP_5, put_same, sheet)->keep = sheet->same_terms != NULL;
	large_add_text(&blocks, sheet->same_terms, TYPE_BODY, WEIGHT_REGULAR);
	add_flow(&blocks, sheet);
	large_add_legend(&blocks, sheet);
	if (place_is_asked_on(sheet, ASKED_ON_FRONT))
		large_add_place(&blocks, sheet);
	if (sheet->n_front > 0)
		large_add_heading(&blocks, sheet->mix_heading);
	large_add_steps(&blocks, sheet->front, sheet->n_front, adds ? &sheet->add : NULL);
	if (sheet->n_front > 0)
		large_add_text(&blocks, medicine_goes_on(composer, sheet), TYPE_BODY, WEIGHT_BOLD);
	large_place(&blocks, sheet->front_title, sheet->front_lead);
}

static const char *note_text(struct composer *composer, const struct note_block *note)
{
	if (note->section < 0)
		return note->text;
	return arena_printf(composer->arena, "%s %s", note->text, composer_page_ref(composer, note->section));
}

void large_add_notes(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	for (size_t i = 0; i < sheet->n_notes; i++)
		large_add_item(blocks, sheet->notes[i].pictogram, sheet->notes[i].heading,
		               note_text(blocks->composer, &sheet->notes[i]));
}

const struct mark_words *large_one_line(const struct medicine_sheet *sheet)
{
	bool one = medicine_has_syringe(sheet) && !sheet->draw->mark.all && sheet->twice == NULL;
	return one ? &sheet->mark : NULL;
}

/* The title says nearly the same: their heading stands closer than others, to cost no page. */
static void add_back_steps(struct large_blocks *blocks, const struct medicine_sheet *sheet)
{
	if (sheet->n_back == 0)
		return;
	large_add_heading(blocks, sheet->back_heading);
	size_t heading = blocks->n - 1;
	large_add_steps_to(blocks, sheet->back, sheet->n_back, large_one_line(sheet));
	blocks->list[heading].gap = GAP_4;
	blocks->list[heading + 1].gap = GAP_4;
}

void large_medicine_back(struct composer *composer, const struct medicine_sheet *sheet)
{
	struct large_blocks blocks = large_blocks_of(composer);
	if (sheet->part != NULL) {
		large_add_place(&blocks, sheet); /* also where the front has it: its page would be nearly empty */
		add_part(&blocks, sheet);
		large_add_notes(&blocks, sheet);
		large_place(&blocks, sheet->back_title, sheet->back_lead);
		return;
	}
	if (medicine_has_syringe(sheet))
		add_dose_line(&blocks, sheet);
	else
		add_device(&blocks, sheet);
	/* After the drawing, which mostly takes a page: before it the place would have one to itself. */
	if (place_is_asked_on(sheet, ASKED_ON_BACK))
		large_add_place(&blocks, sheet);
	large_add_twice(&blocks, sheet);
	add_back_steps(&blocks, sheet);
	/* Into the muscle the steps go on: these come behind the last. */
	if (sheet->muscle == NULL) {
		large_add_vials(&blocks, sheet);
		large_add_notes(&blocks, sheet);
	}
	large_place(&blocks, sheet->back_title, sheet->back_lead);
}
