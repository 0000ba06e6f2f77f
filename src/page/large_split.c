/*
 * large_split.c - one container, two doses, in large print: the three stages below one another in one frame.
 */
#include "page/large_line.h"
#include "page/large_pages.h"
#include "page/large_step.h"
#include "page/split.h"

#include <math.h>

#define BETWEEN 4.2

static struct text_style section(const struct composer *composer)
{
	return large_style(composer, TYPE_SECTION, WEIGHT_BOLD);
}

/* ---- the three stages ---- */

#define PAD 5.0
#define STAGE_GAP 4.0 /* on both sides of a dashed rule */
#define PICTURE 22.0
#define ARROW 4.5
#define STAGE_TAG 24.0
#define TEXT_LEAST 34.0

struct stage_line {
	const char *text;
	struct text_style style;
};

#define STAGE_LINES 5

struct stage {
	struct stage_line lines[STAGE_LINES];
	size_t n;
	bool between;
};

static void add_line(struct stage *stage, const char *text, struct text_style style)
{
	if (text != NULL && text[0] != '\0')
		stage->lines[stage->n++] = (struct stage_line){text, style};
}

static struct stage stage_of(const struct composer *composer, const struct split_sheet *sheet, int index)
{
	struct stage stage = {.between = index == 1};
	if (index == 1) {
		add_line(&stage, sheet->between_heading, section(composer));
		add_line(&stage, sheet->between_where, large_body(composer, WEIGHT_REGULAR));
		add_line(&stage, sheet->use_before, large_body(composer, WEIGHT_REGULAR));
		return stage;
	}
	const struct split_half *half = index == 0 ? &sheet->first : &sheet->second;
	add_line(&stage, half->heading, section(composer));
	add_line(&stage, half->when, large_style(composer, TYPE_LEAD, WEIGHT_REGULAR));
	add_line(&stage, half->foot, large_body(composer, WEIGHT_REGULAR));
	return stage;
}

static double text_x(struct composer *composer, const struct split_sheet *sheet)
{
	double tag = sheet->mark.number == NULL ? 0 : measure_tag(composer, sheet->mark, STAGE_TAG).width + GAP_1;
	return PAD + fmax(TEXT_LEAST, PICTURE + ARROW + tag) + GAP_4;
}

static double text_width_of(struct composer *composer, const struct split_sheet *sheet)
{
	return LIVE_WIDTH - text_x(composer, sheet) - PAD;
}

static struct text_style time_style(const struct composer *composer)
{
	return composer_style(composer, TYPE_TITLE, WEIGHT_BOLD);
}

/* "22:00 Fri 6 Jun", the time large, and what is to be done after it. */
static double limit_height(struct composer *composer, const struct split_sheet *sheet)
{
	double width = text_width_of(composer, sheet);
	return BETWEEN + text_cap_height(time_style(composer)) + BETWEEN +
	       composer_text_height(composer, sheet->use_date, large_style(composer, TYPE_LEAD, WEIGHT_BOLD), width) +
	       BETWEEN + composer_text_height(composer, sheet->after, large_body(composer, WEIGHT_REGULAR), width);
}

static double stage_height(struct composer *composer, const struct split_sheet *sheet, int index)
{
	struct stage stage = stage_of(composer, sheet, index);
	double height = stage.between ? limit_height(composer, sheet) : 0;
	for (size_t i = 0; i < stage.n; i++)
		height += composer_text_height(composer, stage.lines[i].text, stage.lines[i].style,
		                               text_width_of(composer, sheet)) +
		          (i > 0 ? BETWEEN : 0);
	return fmax(height, PICTURE);
}

static double stages_height(struct composer *composer, const struct split_sheet *sheet)
{
	double height = 2 * PAD + 4 * STAGE_GAP;
	for (int i = 0; i < 3; i++)
		height += stage_height(composer, sheet, i);
	return height;
}

static void put_vial_and_tag(struct composer *composer, const struct split_sheet *sheet, bool first, double middle)
{
	double x = composer->left + PAD;
	double y = middle - PICTURE / 2;
	begin_artifact(composer);
	put_mark(composer,
	         (struct placed_mark){.kind = MARK_PICTURE,
	                              .area = {x, y, PICTURE, PICTURE},
	                              .picture = {.pictogram = first ? PICTURE_HALF_VIAL : PICTURE_LIQUID_VIAL,
	                                          .at = {x, y},
	                                          .size = PICTURE,
	                                          .level = split_left_over(sheet->draw)}});
	put_arrow(composer, x + PICTURE, middle, ARROW);
	end_group(composer);
	if (sheet->mark.number == NULL)
		return;
	struct rect tag = measure_tag(composer, sheet->mark, STAGE_TAG);
	put_tag(composer, sheet->mark, STAGE_TAG,
	        (struct point){x + PICTURE + ARROW + GAP_1 + tag.width / 2, middle + tag.height / 2});
}

static void put_limit(struct composer *composer, const struct split_sheet *sheet, double x, double y)
{
	double width = text_width_of(composer, sheet);
	const struct text_block *time = composer_set_name(composer, sheet->use_time, time_style(composer), width, 1);
	struct rect line = put_block(composer, time, ALIGN_START, x, y + BETWEEN, COLOUR_INK);
	line = put_plain(composer, sheet->use_date, large_style(composer, TYPE_LEAD, WEIGHT_BOLD), x,
	                 line.y + text_cap_height(time_style(composer)) + BETWEEN, width);
	put_plain(composer, sheet->after, large_body(composer, WEIGHT_REGULAR), x, line.y + line.height + BETWEEN,
	          width);
}

static void put_stage(struct composer *composer, const struct split_sheet *sheet, int index, double y)
{
	struct stage stage = stage_of(composer, sheet, index);
	double middle = y + stage_height(composer, sheet, index) / 2;
	double x = composer->left + text_x(composer, sheet);
	if (stage.between) {
		begin_artifact(composer);
		put_picture(composer, sheet->between_picture, composer->left + PAD, middle - PICTURE / 2, PICTURE);
		end_group(composer);
	} else {
		put_vial_and_tag(composer, sheet, index == 0, middle);
	}
	begin_group(composer, ROLE_PARAGRAPH);
	struct rect line = {x, y, 0, 0};
	for (size_t i = 0; i < stage.n; i++)
		line = put_plain(composer, stage.lines[i].text, stage.lines[i].style, x,
		                 i == 0 ? y : line.y + line.height + BETWEEN, text_width_of(composer, sheet));
	if (stage.between)
		put_limit(composer, sheet, x, line.y + line.height);
	end_group(composer);
}

static void put_stages(struct composer *composer, const struct large_block *block, double y)
{
	const struct split_sheet *sheet = block->data;
	double half = LINE_STRONG / 2;
	begin_artifact(composer);
	put_frame(composer,
	          (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, block->height - 2 * half},
	          LINE_STRONG);
	end_group(composer);
	double top = y + PAD;
	for (int i = 0; i < 3; i++) {
		put_stage(composer, sheet, i, top);
		top += stage_height(composer, sheet, i) + 2 * STAGE_GAP;
		if (i == 2)
			break;
		begin_artifact(composer);
		put_dashed_rule(composer, (struct point){composer->left + PAD, top - STAGE_GAP},
		                (struct point){composer->right - PAD, top - STAGE_GAP}, LINE_OUTLINE);
		end_group(composer);
	}
}

/* ---- labels to cut out ---- */

#define LABELS_ABREAST 2
#define LABEL_GAP 6.0
#define LABEL_WIDTH ((LIVE_WIDTH - LABEL_GAP) / LABELS_ABREAST)
#define LABEL_PAD 4.0
#define LABEL_WRITE 22.0

static double label_height(struct composer *composer, const struct split_label *label)
{
	double width = LABEL_WIDTH - 2 * LABEL_PAD;
	return 2 * LABEL_PAD + 4 * BETWEEN + 2 +
	       composer_text_height(composer, label->title, large_body(composer, WEIGHT_BOLD), width) +
	       composer_text_height(composer, label->amount, large_body(composer, WEIGHT_REGULAR), width) +
	       composer_text_height(composer, label->made, large_body(composer, WEIGHT_REGULAR), width - LABEL_WRITE) +
	       composer_text_height(composer, label->use_by, large_body(composer, WEIGHT_BOLD), width) +
	       composer_text_height(composer, label->patient, large_body(composer, WEIGHT_REGULAR), width) + BETWEEN +
	       composer_text_height(composer, label->start, large_body(composer, WEIGHT_REGULAR), width);
}

static double labels_height(struct composer *composer, const struct split_sheet *sheet, size_t first)
{
	double height = 0;
	for (size_t i = first; i < first + LABELS_ABREAST && i < sheet->n_labels; i++)
		height = fmax(height, label_height(composer, &sheet->labels[i]));
	return height;
}

static void put_label(struct composer *composer, const struct split_label *label, struct rect area)
{
	double x = area.x + LABEL_PAD;
	double width = area.width - 2 * LABEL_PAD;
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_dashed_frame(composer, (struct rect){area.x + 0.15, area.y + 0.15, area.width - 0.3, area.height - 0.3},
	                 LINE_OUTLINE);
	end_group(composer);
	struct rect line =
		put_plain(composer, label->title, large_body(composer, WEIGHT_BOLD), x, area.y + LABEL_PAD, width);
	line = put_plain(composer, label->amount, large_body(composer, WEIGHT_REGULAR), x,
	                 line.y + line.height + BETWEEN, width);
	line = put_plain(composer, label->made, large_body(composer, WEIGHT_REGULAR), x,
	                 line.y + line.height + BETWEEN + 1, width - LABEL_WRITE);
	begin_artifact(composer);
	put_line(composer, line.x + line.width + GAP_1, x + width, line.y + line.height + 0.6, LINE_MAIN);
	end_group(composer);
	line = put_plain(composer, label->use_by, large_body(composer, WEIGHT_BOLD), x,
	                 line.y + line.height + BETWEEN + 1, width);
	line = put_plain(composer, label->patient, large_body(composer, WEIGHT_REGULAR), x,
	                 line.y + line.height + BETWEEN, width);
	put_plain(composer, label->start, large_body(composer, WEIGHT_REGULAR), x, line.y + line.height + BETWEEN,
	          width);
	end_group(composer);
}

#define LABELS_HELD 4 /* so many stand on one page of any paper */

static void put_labels(struct composer *composer, const struct large_block *block, double y)
{
	const struct split_sheet *sheet = block->data;
	for (size_t i = block->index; i < block->index + LABELS_ABREAST && i < sheet->n_labels; i++) {
		double x = composer->left + (double)(i % LABELS_ABREAST) * (LABEL_WIDTH + LABEL_GAP);
		put_label(composer, &sheet->labels[i], (struct rect){x, y, LABEL_WIDTH, block->height});
	}
}

static void add_labels(struct large_blocks *blocks, const struct split_sheet *sheet)
{
	if (sheet->n_labels == 0)
		return;
	large_add_heading(blocks, sheet->labels_heading);
	for (size_t i = 0; i < sheet->n_labels; i += LABELS_ABREAST) {
		struct large_block *block =
			large_add(blocks, labels_height(blocks->composer, sheet, i), GAP_4, put_labels, sheet);
		block->index = i;
		block->around = ROLE_LIST;
	}
	if (sheet->n_labels <= LABELS_HELD)
		large_hold_all(blocks, blocks->n - (sheet->n_labels + LABELS_ABREAST - 1) / LABELS_ABREAST);
}

/* ---- right and wrong ---- */

#define READINGS 3
#define READING_SHARE 0.8 /* of the magnifier's zoom */
#define READING_WIDTH 88.0
#define VERDICT 9.0
#define READING_TEXT 96.0
#define VERDICT_WIDTH (LIVE_WIDTH - READING_TEXT - VERDICT - GAP_2)

static double reading_zoom(const struct split_sheet *sheet)
{
	return large_window_zoom(sheet->draw->mark.syringe) * READING_SHARE;
}

static double verdict_height(struct composer *composer, const struct reading_window *window)
{
	return fmax(VERDICT, (VERDICT - text_cap_height(section(composer))) / 2 +
	                             composer_text_height(composer, window->verdict, section(composer), VERDICT_WIDTH));
}

static void put_reading(struct composer *composer, const struct large_block *block, double y)
{
	const struct split_sheet *sheet = block->data;
	const struct reading_window *window = &sheet->windows[block->index];
	double height = large_window_height(sheet->draw->mark.syringe, reading_zoom(sheet));
	struct rect frame = {composer->left, y, READING_WIDTH, height};
	struct text_style verdict = section(composer);
	double x = composer->left + READING_TEXT;
	begin_group(composer, ROLE_LIST_ITEM);
	begin_figure(composer, split_reading_alt(composer, sheet, block->index));
	put_mark(composer, (struct placed_mark){.kind = MARK_WINDOW,
	                                        .area = frame,
	                                        .window = split_reading(composer, sheet, block->index, frame,
	                                                                reading_zoom(sheet), LARGE_WINDOW_NUMERAL)});
	split_put_letter(composer, window, frame);
	end_group(composer);
	begin_artifact(composer);
	put_picture(composer, window->right ? PICTURE_CHECK : PICTURE_CROSS, x, y, VERDICT);
	end_group(composer);
	put_text(composer, window->verdict, verdict, ALIGN_START, x + VERDICT + GAP_2,
	         y + (VERDICT - text_cap_height(verdict)) / 2, VERDICT_WIDTH, window->right ? COLOUR_INK : COLOUR_RUST);
	put_plain(composer, window->text, large_body(composer, WEIGHT_REGULAR), x,
	          y + verdict_height(composer, window) + GAP_3, LIVE_WIDTH - READING_TEXT);
	end_group(composer);
}

static void add_readings(struct large_blocks *blocks, const struct split_sheet *sheet)
{
	struct composer *composer = blocks->composer;
	if (!split_has_readings(sheet))
		return;
	large_add_heading(blocks, sheet->read_heading);
	double frame = large_window_height(sheet->draw->mark.syringe, reading_zoom(sheet));
	for (size_t i = 0; i < READINGS; i++) {
		double words = verdict_height(composer, &sheet->windows[i]) + GAP_3 +
		               composer_text_height(composer, sheet->windows[i].text,
		                                    large_body(composer, WEIGHT_REGULAR), LIVE_WIDTH - READING_TEXT);
		struct large_block *block = large_add(blocks, fmax(frame, words), GAP_4, put_reading, sheet);
		block->index = i;
		block->around = ROLE_LIST;
	}
	large_hold_all(blocks, blocks->n - READINGS);
}

/* ---- the pages ---- */

void large_split(struct composer *composer, const struct split_sheet *sheet)
{
	struct large_blocks blocks = large_blocks_of(composer);
	large_add(&blocks, stages_height(composer, sheet), GAP_4, put_stages, sheet);
	add_readings(&blocks, sheet);
	if (sheet->n_second_day > 0)
		large_add_heading(&blocks, sheet->second_heading);
	if (sheet->n_second_day > 0)
		large_add_text(&blocks, sheet->second_things, TYPE_BODY, WEIGHT_REGULAR);
	large_add_steps_to(&blocks, sheet->second_day, sheet->n_second_day,
	                   sheet->draw->mark.all || sheet->mark.number == NULL ? NULL : &sheet->mark);
	/* Last: they are cut out of a page that has nothing behind it. */
	add_labels(&blocks, sheet);
	large_place(&blocks, sheet->title, sheet->lead);
}
