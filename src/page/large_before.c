/*
 * large_before.c - the last pages in large print: is it true to size, kinds of number, signs.
 */
#include "page/large_line.h"
#include "page/large_pages.h"
#include "page/large_step.h"
#include "page/styles.h"

#include <math.h>

#define CARD_WIDTH 85.60
#define CARD_HEIGHT 53.98
#define BETWEEN 4.2
#define RAIL_LINE 1.2

/* ---- the card ---- */

static void put_card(struct composer *composer, const struct large_block *block, double y)
{
	const struct before_sheet *sheet = block->data;
	double middle = composer->left + CARD_WIDTH / 2;
	double width = CARD_WIDTH - 8;
	struct text_style lead = large_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	begin_figure(composer, sheet->card_alt);
	put_mark(composer, (struct placed_mark){.kind = MARK_CARD,
	                                        .area = {composer->left, y, CARD_WIDTH, CARD_HEIGHT},
	                                        .inside = true,
	                                        .card = {.at = {composer->left, y}}});
	put_text(composer, sheet->card_text, lead, ALIGN_CENTER, middle, y + 8, width, COLOUR_INK);
	double note = y + 8 + composer_text_height(composer, sheet->card_text, lead, width) + BETWEEN;
	put_text(composer, sheet->card_note, large_body(composer, WEIGHT_REGULAR), ALIGN_CENTER, middle, note, width,
	         COLOUR_INK);
	put_text(composer, sheet->card_size, large_body(composer, WEIGHT_REGULAR), ALIGN_CENTER, middle,
	         y + CARD_HEIGHT - 5 - cap(composer, TYPE_BODY), 0, COLOUR_INK);
	end_group(composer);
	double x = composer->left + CARD_WIDTH + GAP_5;
	put_tick(composer, (struct point){x, y + 0.3}, 14);
	put_paragraph(composer, sheet->good, large_body(composer, WEIGHT_REGULAR), x, y + 14 + GAP_4,
	              composer->right - x);
}

/* ---- kinds of number ---- */

#define KIND_TEXT 84.0
#define SAMPLE_TAG 30.0

static struct text_style sample_style(struct composer *composer, const struct number_kind *kind)
{
	enum text_weight weight = kind->kind == NUMBER_TIME ? WEIGHT_REGULAR : WEIGHT_BOLD;
	struct text_style style = composer_style(composer, TYPE_TITLE, weight);
	if (composer_text_width(composer, kind->sample, style) > KIND_TEXT - GAP_3)
		style = composer_style(composer, TYPE_SECTION, weight);
	return style;
}

static double kind_words_height(struct composer *composer, const struct number_kind *kind)
{
	double width = LIVE_WIDTH - KIND_TEXT;
	return composer_text_height(composer, kind->heading, large_style(composer, TYPE_LEAD, WEIGHT_BOLD), width) +
	       BETWEEN + composer_text_height(composer, kind->text, large_body(composer, WEIGHT_REGULAR), width);
}

static double sample_height(struct composer *composer, const struct number_kind *kind)
{
	if (kind->kind == NUMBER_LINE)
		return kind->mark.number == NULL ? 0 : measure_tag(composer, kind->mark, SAMPLE_TAG).height;
	return composer_text_height(composer, kind->sample, sample_style(composer, kind), KIND_TEXT - GAP_3);
}

static void put_kind(struct composer *composer, const struct large_block *block, double y)
{
	const struct number_kind *kind = block->data;
	double middle = y + block->height / 2;
	double sample = middle - sample_height(composer, kind) / 2;
	double x = composer->left + KIND_TEXT;
	begin_group(composer, ROLE_LIST_ITEM);
	if (kind->kind != NUMBER_LINE) {
		put_plain(composer, kind->sample, sample_style(composer, kind), composer->left, sample,
		          KIND_TEXT - GAP_3);
	} else if (kind->mark.number != NULL) {
		struct rect tag = measure_tag(composer, kind->mark, SAMPLE_TAG);
		put_tag(composer, kind->mark, SAMPLE_TAG,
		        (struct point){composer->left + tag.width / 2, sample + tag.height});
	}
	double top = middle - kind_words_height(composer, kind) / 2;
	struct rect heading =
		put_heading(composer, ROLE_H3, kind->heading, large_style(composer, TYPE_LEAD, WEIGHT_BOLD), x, top,
	                    LIVE_WIDTH - KIND_TEXT);
	put_paragraph(composer, kind->text, large_body(composer, WEIGHT_REGULAR), x,
	              heading.y + heading.height + BETWEEN, LIVE_WIDTH - KIND_TEXT);
	end_group(composer);
}

/* ---- signs ---- */

#define SIGN_TAG 24.0
#define SIGN_FRAME_WIDTH 30.0
#define SIGN_FRAME_HEIGHT 18.0

struct sign_row {
	const struct sign_line *sign;
	double text_x;
};

static bool sign_has_tag(const struct sign_line *sign)
{
	return sign->kind == SIGN_WHITE_TAG || sign->kind == SIGN_ALL || sign->kind == SIGN_LINE ||
	       sign->kind == SIGN_DIAL;
}

#define SIDE_SIGN 13.0
#define SIDE_BETWEEN 3.0
#define SIDE_WORD 2.2 /* sign to its word */
#define SIGN_PICTURE 13.0
#define RAIL_ARM 5.0
#define RAIL_HEIGHT 24.0
#define RAIL_VIAL 7.0

static struct text_style side_word_style(const struct composer *composer)
{
	return composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
}

/* Two signs, each as wide as its word, and what is between them. */
static double sides_width(struct composer *composer, const struct sign_line *sign)
{
	double widest = SIDE_SIGN;
	for (size_t i = 0; i < 2; i++)
		widest = fmax(widest, composer_text_width(composer, sign->side_words[i], side_word_style(composer)));
	return 2 * (widest + SIDE_BETWEEN);
}

static struct rect sign_size(struct composer *composer, const struct sign_line *sign)
{
	if (sign->kind == SIGN_RAIL)
		return (struct rect){0, 0, SIGN_FRAME_WIDTH, RAIL_HEIGHT};
	if (sign->kind == SIGN_SIDE || sign->kind == SIGN_HIP)
		return (struct rect){0, 0, sides_width(composer, sign), SIGN_FRAME_HEIGHT + 2};
	if (sign_has_tag(sign))
		return measure_grid_tag(composer, sign->mark, SIGN_TAG);
	return (struct rect){0, 0, SIGN_FRAME_WIDTH, SIGN_FRAME_HEIGHT};
}

/* Each with its word below. */
static void put_both_sides(struct composer *composer, const struct sign_line *sign, struct rect frame)
{
	struct text_style word = side_word_style(composer);
	bool hip = sign->kind == SIGN_HIP;
	double height = hip ? SIDE_SIGN : SIDE_SIGN * 0.62;
	double y = frame.y + (frame.height - height - SIDE_WORD - text_cap_height(word)) / 2;
	for (size_t i = 0; i < 2; i++) {
		double middle = frame.x + ((double)i + 0.5) * frame.width / 2;
		struct rect area = {middle - SIDE_SIGN / 2, y, SIDE_SIGN, height};
		put_mark(composer,
		         (struct placed_mark){
				 .kind = MARK_SIDE,
				 .area = area,
				 .side = {{area.x, area.y}, SIDE_SIGN, i == 0 ? SIDE_LEFT : SIDE_RIGHT, hip}});
		put_text(composer, sign->side_words[i], word, ALIGN_CENTER, middle, y + height + SIDE_WORD, 0,
		         COLOUR_INK);
	}
}

/* As it stands in the days' margin, with the vial half way. */
static void put_rail(struct composer *composer, struct rect frame)
{
	double x = frame.x + RAIL_VIAL / 2;
	double middle = frame.y + frame.height / 2;
	double ends[] = {frame.y + RAIL_LINE / 2, frame.y + frame.height - RAIL_LINE / 2};
	begin_inside(composer);
	for (size_t i = 0; i < 2; i++) {
		double to = middle + (i == 0 ? -1 : 1) * (RAIL_VIAL / 2 + 0.6);
		put_rule(composer, (struct point){x, ends[i]}, (struct point){x, to}, RAIL_LINE, COLOUR_INK);
		put_rule(composer, (struct point){x - RAIL_LINE / 2, ends[i]}, (struct point){x + RAIL_ARM, ends[i]},
		         RAIL_LINE, COLOUR_INK);
	}
	put_picture(composer, PICTURE_LIQUID_VIAL, frame.x, middle - RAIL_VIAL / 2, RAIL_VIAL);
	end_inside(composer);
}

static enum pictogram sign_picture(const struct sign_line *sign)
{
	return sign->kind == SIGN_VISIT ? PICTURE_HOUSE : sign->kind == SIGN_BELL ? PICTURE_BELL : PICTURE_CHECK;
}

static void put_sign(struct composer *composer, const struct sign_line *sign, struct rect frame)
{
	double middle = frame.y + frame.height / 2;
	struct point centre = {frame.x + frame.width / 2, middle};
	switch (sign->kind) {
	case SIGN_WHITE_TAG:
	case SIGN_ALL:
	case SIGN_LINE:
	case SIGN_DIAL:
		put_grid_tag(composer, sign->mark, SIGN_TAG, (struct point){frame.x, frame.y});
		break;
	case SIGN_SPLIT:
		put_frame(composer, frame, LINE_STRONG);
		put_dashed_rule(composer, (struct point){frame.x + 2, middle},
		                (struct point){frame.x + frame.width - 2, middle}, LINE_OUTLINE);
		begin_inside(composer);
		put_picture(composer, PICTURE_LIQUID_VIAL, centre.x - 5, middle - 5, 10);
		end_inside(composer);
		break;
	case SIGN_WAIT:
		put_dashed_frame(composer, frame, LINE_MAIN);
		put_picture(composer, PICTURE_PHONE, centre.x - 5.5, middle - 5.5, 11);
		break;
	case SIGN_EXACT:
		put_box(composer, frame,
		        (struct box){.radius = 2, .line = 1.8, .stroke = COLOUR_RUST, .fill = COLOUR_NONE});
		put_clock(composer, centre, 6, (struct clock_time){22, 30}, LINE_MAIN, COLOUR_INK);
		break;
	case SIGN_NEW:
		put_frame(composer, frame, LINE_OUTLINE);
		put_mark(composer, (struct placed_mark){.kind = MARK_CORNER,
		                                        .area = {frame.x, frame.y, 5, 5},
		                                        .inside = true,
		                                        .corner = {.at = {frame.x, frame.y}, .leg = 5}});
		break;
	case SIGN_SIDE:
	case SIGN_HIP:
		put_both_sides(composer, sign, frame);
		break;
	case SIGN_RAIL:
		put_rail(composer, frame);
		break;
	case SIGN_PAST:
	case SIGN_VISIT:
	case SIGN_BELL:
		put_picture(composer, sign_picture(sign), frame.x, middle - SIGN_PICTURE / 2, SIGN_PICTURE);
		break;
	}
}

static void put_sign_row(struct composer *composer, const struct large_block *block, double y)
{
	const struct sign_row *row = block->data;
	struct rect size = sign_size(composer, row->sign);
	double middle = y + block->height / 2;
	double width = LIVE_WIDTH - row->text_x;
	double height = composer_text_height(composer, row->sign->text, large_body(composer, WEIGHT_REGULAR), width);
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_sign(composer, row->sign,
	         (struct rect){composer->left + 0.8, middle - size.height / 2, size.width, size.height});
	end_group(composer);
	put_plain(composer, row->sign->text, large_body(composer, WEIGHT_REGULAR), composer->left + row->text_x,
	          middle - height / 2, width);
	end_group(composer);
}

static void add_signs(struct large_blocks *blocks, const struct before_sheet *sheet)
{
	struct composer *composer = blocks->composer;
	double widest = 0;
	for (size_t i = 0; i < sheet->n_signs; i++)
		widest = fmax(widest, sign_size(composer, &sheet->signs[i]).width);
	for (size_t i = 0; i < sheet->n_signs; i++) {
		struct sign_row *row = arena_alloc(composer->arena, sizeof *row);
		*row = (struct sign_row){&sheet->signs[i], widest + GAP_4};
		double text = composer_text_height(composer, row->sign->text, large_body(composer, WEIGHT_REGULAR),
		                                   LIVE_WIDTH - row->text_x);
		struct large_block *block =
			large_add(blocks, fmax(text, sign_size(composer, row->sign).height), GAP_4, put_sign_row, row);
		block->around = ROLE_LIST;
		block->rule = LARGE_RULE_FINE;
	}
}

/* ---- the pages ---- */

static void add_print_check(struct large_blocks *blocks, const struct before_sheet *sheet)
{
	struct composer *composer = blocks->composer;
	large_add_heading(blocks, sheet->true_heading);
	double good = 14 + GAP_4 +
	              composer_text_height(composer, sheet->good, large_body(composer, WEIGHT_REGULAR),
	                                   LIVE_WIDTH - CARD_WIDTH - GAP_5);
	large_add(blocks, fmax(CARD_HEIGHT, good), GAP_4, put_card, sheet)->keep = true;
	large_add_item(blocks, PICTURE_CROSS, NULL, sheet->bad);
	large_add_item(blocks, PICTURE_CROSS, NULL, sheet->still);
	large_add_ruler(blocks, NULL, sheet->ruler_text, false);
}

void large_before(struct composer *composer, const struct before_sheet *sheet)
{
	struct large_blocks blocks = large_blocks_of(composer);
	if (sheet->true_heading != NULL)
		add_print_check(&blocks, sheet);
	if (sheet->kinds_heading != NULL) {
		large_add_heading(&blocks, sheet->kinds_heading);
		for (size_t i = 0; i < sheet->n_kinds; i++) {
			double height = fmax(kind_words_height(composer, &sheet->kinds[i]),
			                     sample_height(composer, &sheet->kinds[i]));
			struct large_block *block = large_add(&blocks, height, GAP_4, put_kind, &sheet->kinds[i]);
			block->around = ROLE_LIST;
			block->rule = LARGE_RULE_FINE;
		}
		large_hold_list(&blocks, blocks.n - sheet->n_kinds);
	}
	if (sheet->n_signs > 0)
		large_add_heading(&blocks, sheet->signs_heading);
	add_signs(&blocks, sheet);
	large_hold_list(&blocks, blocks.n - sheet->n_signs);
	if (sheet->n_terms > 0)
		large_add_heading(&blocks, sheet->terms_word);
	size_t terms = blocks.n;
	for (size_t i = 0; i < sheet->n_terms; i++)
		large_add_text(&blocks, sheet->terms[i], TYPE_BODY, WEIGHT_REGULAR);
	for (size_t i = terms + 1; i < blocks.n; i++)
		blocks.list[i].gap = GAP_3; /* a line each */
	large_hold_list(&blocks, terms);
	large_add_warning(&blocks, sheet->warning_word, sheet->emergency);
	large_add_text(&blocks, sheet->disclaimer, TYPE_BODY, WEIGHT_REGULAR);
	large_place(&blocks, sheet->title, sheet->lead);
}
