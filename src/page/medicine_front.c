/*
 * medicine_front.c - get ready: what to lay out, what the amount is called, and the steps up to the line.
 *
 * Pictures of steps are as big as the page allows, all of one size; where even
 * the smallest do not fit, the steps go on to a further page.
 */
#include "page/parts.h"

#include "page/actions.h"
#include "page/large_pages.h"
#include "page/styles.h"

#include <math.h>

static struct text_style body(const struct composer *composer, enum text_weight weight)
{
	return medicine_style(composer, TYPE_BODY, weight);
}

/* ---- which days a page is for ---- */

#define FRAMED_PAD 3.4

double framed_height(struct composer *composer, const char *words, enum text_weight weight)
{
	double width = LIVE_WIDTH - 2 * FRAMED_PAD;
	return words == NULL ? 0
	                     : 2 * FRAMED_PAD + composer_text_height(composer, words, body(composer, weight), width);
}

void put_framed(struct composer *composer, const char *words, enum text_weight weight, double y)
{
	double half = LINE_STRONG / 2;
	double height = framed_height(composer, words, weight);
	begin_artifact(composer);
	put_frame(composer, (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half},
	          LINE_STRONG);
	end_group(composer);
	put_paragraph(composer, words, body(composer, weight), composer->left + FRAMED_PAD, y + FRAMED_PAD,
	              LIVE_WIDTH - 2 * FRAMED_PAD);
}

/* ---- what to lay out ---- */

#define LAY_OUT_ABREAST 7
#define LAY_OUT_PICTURE 12.0
#define LAY_OUT_SMALL 9.0
#define LAY_OUT_COUNT 2.6 /* picture to count */
#define LAY_OUT_LINES 3.5

static double lay_out_picture(const struct composer *composer)
{
	return composer_is_tight(composer) ? LAY_OUT_SMALL : LAY_OUT_PICTURE;
}

/* A picture to its word, in whatever is tight. */
static double picture_word(const struct composer *composer)
{
	return composer_is_tight(composer) ? GAP_1 : GAP_2;
}

static double heading_after(const struct composer *composer)
{
	return composer_is_tight(composer) ? GAP_2 : GAP_3;
}

static size_t lay_out_lines(const struct medicine_sheet *sheet)
{
	return (sheet->n_lay_out + LAY_OUT_ABREAST - 1) / LAY_OUT_ABREAST;
}

/* Lines are equally long: eight things are four and four. */
static size_t lay_out_abreast(const struct medicine_sheet *sheet)
{
	size_t lines = lay_out_lines(sheet);
	size_t abreast = (sheet->n_lay_out + lines - 1) / lines;
	return abreast < 4 ? 4 : abreast;
}

static double lay_out_pitch(const struct medicine_sheet *sheet)
{
	return LIVE_WIDTH / (double)lay_out_abreast(sheet);
}

static double lay_out_words(struct composer *composer, const struct medicine_sheet *sheet)
{
	double height = 0;
	for (size_t i = 0; i < sheet->n_lay_out; i++)
		height = fmax(height,
		              composer_text_height(composer, sheet->lay_out[i].word, body(composer, WEIGHT_REGULAR),
		                                   lay_out_pitch(sheet) - GAP_1));
	return height;
}

/* Closely, in more than one line: words beside their pictures. */
#define CLOSE_ABREAST 4
#define CLOSE_PICTURE 9.0
#define CLOSE_PITCH (LIVE_WIDTH / CLOSE_ABREAST)

static bool lay_out_close(const struct composer *composer, const struct medicine_sheet *sheet)
{
	return composer->closeness > ROOMY && lay_out_lines(sheet) > 1;
}

static double close_words_x(struct composer *composer, const struct lay_out *thing)
{
	return CLOSE_PICTURE + GAP_1 +
	       composer_text_width(composer, thing->count, composer_style(composer, TYPE_LEAD, WEIGHT_BOLD)) + GAP_1;
}

static double close_words_height(struct composer *composer, const struct lay_out *thing)
{
	return composer_text_height(composer, thing->word, body(composer, WEIGHT_REGULAR),
	                            CLOSE_PITCH - close_words_x(composer, thing) - GAP_1);
}

static double close_line_height(struct composer *composer, const struct medicine_sheet *sheet, size_t first)
{
	double height = CLOSE_PICTURE;
	for (size_t i = first; i < first + CLOSE_ABREAST && i < sheet->n_lay_out; i++)
		height = fmax(height, close_words_height(composer, &sheet->lay_out[i]));
	return height;
}

static double things_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	double lines = (double)lay_out_lines(sheet);
	double height = lines * (lay_out_picture(composer) + picture_word(composer) + lay_out_words(composer, sheet)) +
	                (lines - 1) * LAY_OUT_LINES;
	if (!lay_out_close(composer, sheet))
		return height;
	height = -LAY_OUT_LINES;
	for (size_t i = 0; i < sheet->n_lay_out; i += CLOSE_ABREAST)
		height += close_line_height(composer, sheet, i) + LAY_OUT_LINES;
	return height;
}

double lay_out_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	return sheet->n_lay_out == 0
	               ? 0
	               : cap(composer, TYPE_SECTION) + heading_after(composer) + things_height(composer, sheet);
}

static void put_close_thing(struct composer *composer, const struct lay_out *thing, double x, double y, double height)
{
	struct text_style count = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	double words = close_words_x(composer, thing);
	double middle = y + height / 2;
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_picture(composer, thing->pictogram, x, middle - CLOSE_PICTURE / 2, CLOSE_PICTURE);
	end_group(composer);
	put_plain(composer, thing->count, count, x + CLOSE_PICTURE + GAP_1, middle - text_cap_height(count) / 2, 0);
	put_plain(composer, thing->word, body(composer, WEIGHT_REGULAR), x + words,
	          middle - close_words_height(composer, thing) / 2, CLOSE_PITCH - words - GAP_1);
	end_group(composer);
}

static void put_close_things(struct composer *composer, const struct medicine_sheet *sheet, double y)
{
	begin_group(composer, ROLE_LIST);
	for (size_t first = 0; first < sheet->n_lay_out; first += CLOSE_ABREAST) {
		double height = close_line_height(composer, sheet, first);
		for (size_t i = first; i < first + CLOSE_ABREAST && i < sheet->n_lay_out; i++)
			put_close_thing(composer, &sheet->lay_out[i],
			                composer->left + (double)(i - first) * CLOSE_PITCH, y, height);
		y += height + LAY_OUT_LINES;
	}
	end_group(composer);
}

static void put_thing(struct composer *composer, const struct lay_out *thing, double middle, double y, double pitch)
{
	struct text_style count = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	double size = lay_out_picture(composer);
	double width = size + LAY_OUT_COUNT + composer_text_width(composer, thing->count, count);
	double x = middle - width / 2;
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_picture(composer, thing->pictogram, x, y, size);
	end_group(composer);
	put_plain(composer, thing->count, count, x + size + LAY_OUT_COUNT, y + (size - text_cap_height(count)) / 2, 0);
	put_text(composer, thing->word, body(composer, WEIGHT_REGULAR), ALIGN_CENTER, middle,
	         y + size + picture_word(composer), pitch - GAP_1, COLOUR_INK);
	end_group(composer);
}

void put_lay_out(struct composer *composer, const struct medicine_sheet *sheet, double y)
{
	if (sheet->n_lay_out == 0)
		return;
	double line =
		lay_out_picture(composer) + picture_word(composer) + lay_out_words(composer, sheet) + LAY_OUT_LINES;
	double pitch = lay_out_pitch(sheet);
	size_t abreast = lay_out_abreast(sheet);
	put_heading(composer, ROLE_H2, sheet->lay_out_heading, composer_style(composer, TYPE_SECTION, WEIGHT_BOLD),
	            composer->left, y, LIVE_WIDTH);
	y += cap(composer, TYPE_SECTION) + heading_after(composer);
	if (lay_out_close(composer, sheet)) {
		put_close_things(composer, sheet, y);
		return;
	}
	begin_group(composer, ROLE_LIST);
	for (size_t i = 0; i < sheet->n_lay_out; i++)
		put_thing(composer, &sheet->lay_out[i], composer->left + ((double)(i % abreast) + 0.5) * pitch,
		          y + (double)(i / abreast) * line, pitch);
	end_group(composer);
}

/* ---- before anything: boxes to tick ---- */

#define TICK 4.6
#define TICK_TITLE 2.6
#define TICK_LINES 3.2
#define TICK_LINES_TIGHT 2.0

static double tick_lines(const struct composer *composer)
{
	return composer_is_tight(composer) ? TICK_LINES_TIGHT : TICK_LINES;
}

static double first_text_x(struct composer *composer, const struct medicine_sheet *sheet)
{
	double widest = 0;
	for (size_t i = 0; i < sheet->n_first; i++)
		widest =
			fmax(widest, composer_text_width(composer, sheet->first[i].title, body(composer, WEIGHT_BOLD)));
	return TICK + TICK_TITLE + widest + GAP_3;
}

static double first_line(struct composer *composer, const struct medicine_sheet *sheet, const struct step *step)
{
	double width = LIVE_WIDTH - first_text_x(composer, sheet);
	double text = actions_height(composer, step->text, body(composer, WEIGHT_REGULAR), width);
	/* The box reaches over the capitals on both sides. */
	return fmax(TICK, text + (TICK - cap(composer, TYPE_BODY)) / 2);
}

double first_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	double height = 0;
	for (size_t i = 0; i < sheet->n_first; i++)
		height += first_line(composer, sheet, &sheet->first[i]) + (i > 0 ? tick_lines(composer) : 0);
	return height;
}

void put_first(struct composer *composer, const struct medicine_sheet *sheet, double y)
{
	double text_x = first_text_x(composer, sheet);
	double drop = (TICK - cap(composer, TYPE_BODY)) / 2;
	if (sheet->n_first == 0)
		return;
	begin_group(composer, ROLE_LIST);
	for (size_t i = 0; i < sheet->n_first; i++) {
		const struct step *step = &sheet->first[i];
		begin_group(composer, ROLE_LIST_ITEM);
		begin_artifact(composer);
		put_tick(composer, (struct point){composer->left + LINE_MAIN / 2, y}, TICK);
		end_group(composer);
		put_plain(composer, step->title, body(composer, WEIGHT_BOLD), composer->left + TICK + TICK_TITLE,
		          y + drop, 0);
		put_actions(composer, step->text, body(composer, WEIGHT_REGULAR), composer->left + text_x, y + drop,
		            LIVE_WIDTH - text_x);
		end_group(composer);
		y += first_line(composer, sheet, step) + tick_lines(composer);
	}
	end_group(composer);
}

/* ---- three ways to say the same amount ---- */

#define SAME_PAD 3.6
#define SAME_PAD_TIGHT 2.3
#define SAME_BETWEEN 4.2
#define SAME_BETWEEN_TIGHT 3.0
#define SAME_WIDTH (LIVE_WIDTH - 2 * SAME_PAD)
#define SAME_BODY 12.6 /* height below the captions */
#define SAME_END 2.6
#define SAME_BESIDE 3.4 /* picture to amount */
#define SAME_TAG_SIZE 22.0
#define SAME_TAG_LEAST 14.0
#define SAME_ARROW 8.0
#define SAME_BOX_RISE 0.5 /* the box's amount is lower than a tag: what stands under it reaches up */

struct same_cell {
	double x; /* from the column's edge */
	double width;
};

static const struct same_cell same_cells[] = {{SAME_PAD, 51}, {68.5, 47.5}, {128.5, 47.5}};
static const double same_knots[] = {61.5, 121.5};

static double same_pad(const struct composer *composer)
{
	return composer_is_tight(composer) ? SAME_PAD_TIGHT : SAME_PAD;
}

static double same_between(const struct composer *composer)
{
	return composer_is_tight(composer) ? SAME_BETWEEN_TIGHT : SAME_BETWEEN;
}

static double captions_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	const char *captions[] = {sheet->calendar_says, sheet->box_says, sheet->syringe_shows};
	double height = 0;
	for (size_t i = 0; i < 3; i++)
		height = fmax(height, composer_text_height(composer, captions[i], body(composer, WEIGHT_REGULAR),
		                                           same_cells[i].width));
	return height;
}

/* What stands small under the box's amount and under the tag. */
static double same_more_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	double beside = SAME_PICTURE + SAME_BESIDE;
	double box = composer_text_height(composer, sheet->box_amount, body(composer, WEIGHT_REGULAR),
	                                  same_cells[1].width - beside);
	double mark =
		composer_text_height(composer, sheet->mark_more, body(composer, WEIGHT_BOLD), same_cells[2].width);
	return fmax(box > 0 ? box - SAME_BOX_RISE : 0, mark > 0 ? GAP_1 + mark : 0);
}

/* Terms stand at the heading's line's end, or below it where that has no room. */
static bool terms_beside(struct composer *composer, const struct medicine_sheet *sheet)
{
	return composer_text_width(composer, sheet->same_heading, body(composer, WEIGHT_BOLD)) + GAP_3 +
	               composer_text_width(composer, sheet->same_terms, body(composer, WEIGHT_REGULAR)) <=
	       SAME_WIDTH;
}

static double same_head_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	double height = composer_text_height(composer, sheet->same_heading, body(composer, WEIGHT_BOLD), SAME_WIDTH);
	if (sheet->same_terms == NULL || terms_beside(composer, sheet))
		return height;
	return height + GAP_2 +
	       composer_text_height(composer, sheet->same_terms, body(composer, WEIGHT_REGULAR), SAME_WIDTH);
}

static void put_same_head(struct composer *composer, const struct medicine_sheet *sheet, double y)
{
	double x = composer->left + SAME_PAD;
	struct rect heading =
		put_heading(composer, ROLE_H2, sheet->same_heading, body(composer, WEIGHT_BOLD), x, y, SAME_WIDTH);
	if (sheet->same_terms == NULL)
		return;
	if (!terms_beside(composer, sheet)) {
		put_paragraph(composer, sheet->same_terms, body(composer, WEIGHT_REGULAR), x,
		              heading.y + heading.height + GAP_2, SAME_WIDTH);
		return;
	}
	begin_group(composer, ROLE_PARAGRAPH);
	put_text(composer, sheet->same_terms, body(composer, WEIGHT_REGULAR), ALIGN_END, x + SAME_WIDTH, y, 0,
	         COLOUR_INK);
	end_group(composer);
}

static double same_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	return same_pad(composer) + same_head_height(composer, sheet) + same_between(composer) +
	       captions_height(composer, sheet) + GAP_2 + SAME_BODY + same_more_height(composer, sheet) + SAME_END;
}

double strip_amount_size(struct composer *composer, const char *amount, double width)
{
	const double sizes[] = {STRIP_AMOUNT_SIZE, STRIP_AMOUNT_SMALL};
	for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
		struct text_style style = {.size = sizes[i], .weight = WEIGHT_BOLD};
		if (composer_text_width(composer, amount, style) <= width)
			return sizes[i];
	}
	return STRIP_AMOUNT_LEAST;
}

void put_strip_amount(struct composer *composer, const char *amount, double size, double x, double middle, double width)
{
	struct text_style style = {.size = size, .weight = WEIGHT_BOLD};
	const struct text_block *block = composer_set_name(composer, amount, style, width, 2);
	put_block(composer, block, ALIGN_START, x, middle - text_height(block) / 2, COLOUR_INK);
}

/* The bar across a vial says half and nothing else. */
static enum pictogram box_pictogram(const struct medicine_sheet *sheet)
{
	bool half = rational_compare(sheet->box_fraction, rational_of(1, 2)) == 0;
	return sheet->box_picture == PICTURE_HALF_VIAL && !half ? PICTURE_LIQUID_VIAL : sheet->box_picture;
}

void medicine_put_box(struct composer *composer, const struct medicine_sheet *sheet, double x, double y)
{
	double level = (double)sheet->box_fraction.numerator / (double)sheet->box_fraction.denominator;
	enum pictogram pictogram = box_pictogram(sheet);
	put_mark(composer, (struct placed_mark){.kind = MARK_PICTURE,
	                                        .area = {x, y, SAME_PICTURE, SAME_PICTURE},
	                                        .picture = {.pictogram = pictogram,
	                                                    .at = {x, y},
	                                                    .size = SAME_PICTURE,
	                                                    .level = pictogram == PICTURE_HALF_VIAL ? 1 - level : 0}});
}

static void put_same_tag(struct composer *composer, struct mark_words mark, double x, double middle, double width)
{
	double size = SAME_TAG_SIZE;
	if (mark.number == NULL)
		return;
	while (size > SAME_TAG_LEAST && measure_tag(composer, mark, size).width > width)
		size -= 1;
	struct rect tag = measure_tag(composer, mark, size);
	put_tag(composer, mark, size, (struct point){x + tag.width / 2, middle + tag.height / 2});
}

void put_strip_knot(struct composer *composer, char sign, double x, double middle)
{
	double arm = 4;
	put_mark(composer, (struct placed_mark){.kind = MARK_KNOT,
	                                        .area = {x - KNOT_RADIUS, middle - KNOT_RADIUS - arm, 2 * KNOT_RADIUS,
	                                                 2 * (KNOT_RADIUS + arm)},
	                                        .knot = {{x, middle}, KNOT_RADIUS, sign, arm, arm}});
}

static void put_same_amount(struct composer *composer, const char *amount, double x, double middle, double width)
{
	put_strip_amount(composer, amount, strip_amount_size(composer, amount, width), x, middle, width);
}

static void put_same_cells(struct composer *composer, const struct medicine_sheet *sheet, double captions, double y)
{
	const char *words[] = {sheet->calendar_says, sheet->box_says, sheet->syringe_shows};
	double middle = y + SAME_BODY / 2;
	double beside = SAME_PICTURE + SAME_BESIDE;
	for (size_t i = 0; i < 3; i++) {
		double x = composer->left + same_cells[i].x;
		begin_group(composer, ROLE_PARAGRAPH);
		put_plain(composer, words[i], body(composer, WEIGHT_REGULAR), x, captions, same_cells[i].width);
		begin_artifact(composer);
		if (i == 0)
			put_picture(composer, PICTURE_CALENDAR, x, middle - SAME_PICTURE / 2, SAME_PICTURE);
		else if (i == 1)
			medicine_put_box(composer, sheet, x, middle - SAME_PICTURE / 2);
		end_group(composer);
		if (i < 2)
			put_same_amount(composer, i == 0 ? sheet->amount : sheet->box_part, x + beside, middle,
			                same_cells[i].width - beside);
		if (i == 1)
			put_plain(composer, sheet->box_amount, body(composer, WEIGHT_REGULAR), x + beside,
			          y + SAME_BODY - SAME_BOX_RISE, same_cells[i].width - beside);
		if (i == 2) {
			put_same_tag(composer, sheet->mark, x, middle, same_cells[i].width);
			put_plain(composer, sheet->mark_more, body(composer, WEIGHT_BOLD), x, y + SAME_BODY + GAP_1,
			          same_cells[i].width);
		}
		end_group(composer);
	}
}

static void put_same(struct composer *composer, const struct medicine_sheet *sheet, double y)
{
	double half = LINE_MAIN / 2;
	double height = same_height(composer, sheet);
	begin_artifact(composer);
	put_frame(composer, (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half},
	          LINE_MAIN);
	end_group(composer);
	put_same_head(composer, sheet, y + same_pad(composer));
	double captions = y + same_pad(composer) + same_head_height(composer, sheet) + same_between(composer);
	double cells = captions + captions_height(composer, sheet) + GAP_2;
	put_same_cells(composer, sheet, captions, cells);
	begin_artifact(composer);
	for (size_t i = 0; i < 2; i++)
		if (i == 1 && sheet->mark_follows)
			put_arrow(composer, composer->left + same_knots[i] - SAME_ARROW / 2, cells + SAME_BODY / 2,
			          SAME_ARROW);
		else
			put_strip_knot(composer, '=', composer->left + same_knots[i], cells + SAME_BODY / 2 - 1.5);
	end_group(composer);
}

/* ---- the strip: one syringe all the way ---- */

#define FLOW_PICTURE 26.0
#define FLOW_SMALL 20.0
#define FLOW_BAND_TOP 0.25 /* what a picture of the strip takes up of its square */
#define FLOW_BAND 0.47
#define FLOW_ARROW 5.0

static double flow_picture(const struct composer *composer)
{
	return composer_is_tight(composer) ? FLOW_SMALL : FLOW_PICTURE;
}

static double flow_words(struct composer *composer, const struct medicine_sheet *sheet)
{
	double width = LIVE_WIDTH / (double)sheet->n_flow - GAP_1;
	double height = 0;
	for (size_t i = 0; i < sheet->n_flow; i++)
		height = fmax(height, composer_text_height(composer, sheet->flow[i].word,
		                                           body(composer, WEIGHT_REGULAR), width));
	return height;
}

static double flow_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	if (sheet->n_flow == 0)
		return 0;
	return cap(composer, TYPE_BODY) + GAP_1 + flow_picture(composer) * FLOW_BAND + GAP_1 +
	       flow_words(composer, sheet);
}

const char *medicine_flow_picture(enum flow_kind kind)
{
	static const char *const names[] = {[FLOW_LIQUID_SYRINGE] = "flow-liquid",
	                                    [FLOW_VIAL] = "flow-vial",
	                                    [FLOW_DRAWN] = "flow-drawn",
	                                    [FLOW_THIN] = "flow-thin",
	                                    [FLOW_YOU] = "flow-you"};
	return names[kind];
}

static void put_flow_piece(struct composer *composer, const struct medicine_sheet *sheet, size_t index, double y)
{
	double pitch = LIVE_WIDTH / (double)sheet->n_flow;
	double middle = composer->left + ((double)index + 0.5) * pitch;
	double size = flow_picture(composer);
	double band = size * FLOW_BAND;
	struct point at = {middle - size / 2, y - size * FLOW_BAND_TOP};
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_mark(composer, (struct placed_mark){.kind = MARK_STEP,
	                                        .area = {at.x, y, size, band},
	                                        .step = {medicine_flow_picture(sheet->flow[index].kind), at, size,
	                                                 composer->dose_ring, composer->one_needle}});
	if (index + 1 < sheet->n_flow)
		put_arrow(composer, middle + pitch / 2 - FLOW_ARROW / 2, at.y + size / 2, FLOW_ARROW);
	end_group(composer);
	put_text(composer, sheet->flow[index].word, body(composer, WEIGHT_REGULAR), ALIGN_CENTER, middle,
	         y + band + GAP_1, pitch - GAP_1, COLOUR_INK);
	end_group(composer);
}

static void put_flow(struct composer *composer, const struct medicine_sheet *sheet, double y)
{
	if (sheet->n_flow == 0)
		return;
	put_heading(composer, ROLE_H2, sheet->flow_heading, body(composer, WEIGHT_BOLD), composer->left, y, LIVE_WIDTH);
	begin_group(composer, ROLE_LIST);
	for (size_t i = 0; i < sheet->n_flow; i++)
		put_flow_piece(composer, sheet, i, y + cap(composer, TYPE_BODY) + GAP_1);
	end_group(composer);
}

/* ---- the line of the liquid ---- */

struct line_look medicine_add_line(const struct medicine_sheet *sheet)
{
	const struct mark *add = &sheet->draw->add;
	struct line_look look = {.syringe = add->syringe,
	                         .at = add->at,
	                         .line = true,
	                         .ring = (double)add->at.numerator / (double)add->at.denominator,
	                         .mark = sheet->add,
	                         .tag_size = 26};
	line_look_needle(&look, sheet->draw->product, sheet->draw->product->mixing_needle.given);
	return look;
}

/* ---- the legend of a measured liquid: two lines, two tags ---- */

#define LEGEND_PAD 4.6
#define LEGEND_TAG 20.0
#define LEGEND_LINES 3.0

static double legend_cell(void)
{
	return LIVE_WIDTH / 2;
}

static double legend_words_height(struct composer *composer, const char *heading, const char *text)
{
	return composer_text_height(composer, heading, composer_style(composer, TYPE_LEAD, WEIGHT_BOLD), 0) +
	       LEGEND_LINES + composer_text_height(composer, text, body(composer, WEIGHT_REGULAR), 0);
}

static double legend_height(struct composer *composer, const void *what)
{
	const struct medicine_sheet *sheet = what;
	if (sheet->mix == NULL)
		return 0;
	double tag = fmax(measure_tag(composer, sheet->add, LEGEND_TAG).height,
	                  measure_tag(composer, sheet->mark, LEGEND_TAG).height);
	double words = fmax(legend_words_height(composer, sheet->mix->white_heading, sheet->mix->white_text),
	                    legend_words_height(composer, sheet->mix->black_heading, sheet->mix->black_text));
	return 2 * LEGEND_PAD + fmax(tag, words);
}

static void put_legend_cell(struct composer *composer, struct mark_words mark, const char *heading, const char *text,
                            double x, double middle)
{
	struct rect tag = measure_tag(composer, mark, LEGEND_TAG);
	struct text_style lead = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	double words = x + LEGEND_PAD + tag.width + GAP_3;
	double width = x + legend_cell() - GAP_1 - words;
	double y = middle - legend_words_height(composer, heading, text) / 2;
	begin_group(composer, ROLE_PARAGRAPH);
	put_tag(composer, mark, LEGEND_TAG, (struct point){x + LEGEND_PAD + tag.width / 2, middle + tag.height / 2});
	struct rect line = put_plain(composer, heading, lead, words, y, width);
	put_plain(composer, text, body(composer, WEIGHT_REGULAR), words, line.y + line.height + LEGEND_LINES, width);
	end_group(composer);
}

static void put_legend(struct composer *composer, const void *what, double y)
{
	const struct medicine_sheet *sheet = what;
	double height = legend_height(composer, sheet);
	double half = LINE_MAIN / 2;
	double x = composer->left;
	begin_artifact(composer);
	put_frame(composer, (struct rect){x + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half}, LINE_MAIN);
	put_rule(composer, (struct point){x + legend_cell(), y + LEGEND_PAD},
	         (struct point){x + legend_cell(), y + height - LEGEND_PAD}, LINE_FINE, COLOUR_INK);
	end_group(composer);
	put_legend_cell(composer, sheet->add, sheet->mix->white_heading, sheet->mix->white_text, x, y + height / 2);
	put_legend_cell(composer, sheet->mark, sheet->mix->black_heading, sheet->mix->black_text, x + legend_cell(),
	                y + height / 2);
}

/* ---- the page ---- */

static double other_days_height(struct composer *composer, const void *what)
{
	const struct medicine_sheet *sheet = what;
	return framed_height(composer, sheet->other_days, WEIGHT_REGULAR);
}

static void put_other_days(struct composer *composer, const void *what, double y)
{
	const struct medicine_sheet *sheet = what;
	put_framed(composer, sheet->other_days, WEIGHT_REGULAR, y);
}

static double same_height_of(struct composer *composer, const void *what)
{
	return same_height(composer, what);
}

static void put_same_of(struct composer *composer, const void *what, double y)
{
	put_same(composer, what, y);
}

static double flow_height_of(struct composer *composer, const void *what)
{
	return flow_height(composer, what);
}

static void put_flow_of(struct composer *composer, const void *what, double y)
{
	put_flow(composer, what, y);
}

void medicine_front(struct composer *composer, const struct medicine_sheet *sheet)
{
	if (composer->large_print) {
		large_medicine_front(composer, sheet);
		return;
	}
	struct page_parts *parts = arena_alloc(composer->arena, sizeof *parts);
	*parts = parts_of_front(sheet);
	parts_add(parts, other_days_height, put_other_days, sheet);
	parts_add_must_know(parts, sheet);
	parts_add_lay_out(parts, sheet);
	parts_add_first(parts, sheet);
	parts_add(parts, same_height_of, put_same_of, sheet);
	parts_add(parts, legend_height, put_legend, sheet);
	parts_add(parts, flow_height_of, put_flow_of, sheet);
	if (place_is_asked_on(sheet, ASKED_ON_FRONT))
		parts_add_place(parts, sheet);
	parts_add_steps(parts, sheet->mix_heading, sheet->front, sheet->n_front, NULL);
	if (chain_is_back(sheet) || sheet->part != NULL)
		parts_add_notes(parts, sheet);
	parts->steps.note = medicine_goes_on(composer, sheet);
	put_parts(composer, parts);
}
