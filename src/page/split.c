/*
 * split.c - one container, two doses: its halves, its label, how to read the line, how the second day starts.
 *
 * Labels that do not fit go on to a further page, and so does what a long name pushes off the first.
 */
#include "page/split.h"

#include "page/actions.h"
#include "page/large_pages.h"
#include "page/letter.h"
#include "page/medicine.h"
#include "page/sections.h"
#include "page/styles.h"
#include "page/syringe_geometry.h"

#include <math.h>
#include <string.h>

static struct text_style body(const struct composer *composer, enum text_weight weight)
{
	return medicine_style(composer, TYPE_BODY, weight);
}

static double heading_height(const struct composer *composer)
{
	return cap(composer, TYPE_SECTION) + (composer_is_tight(composer) ? 3.0 : 4.0);
}

/* ---- the two halves ---- */

#define HALF_PAD 4.6 /* at the sides */
#define HALF_PICTURE 19.0
#define HALF_TAG 17.0
#define HALF_ARROW 4.5
#define USE_TIME_SIZE 26.0

static double half_pad(const struct composer *composer)
{
	return composer_is_tight(composer) ? 3.2 : HALF_PAD;
}

/* Between the lines of a heading, and of how long the rest keeps. */
static double half_lines(const struct composer *composer)
{
	return composer_is_tight(composer) ? 2.4 : 3.2;
}

/* Above and below the pictures. */
static double half_between(const struct composer *composer)
{
	return composer_is_tight(composer) ? 2.2 : GAP_2;
}

struct third {
	double x; /* from the column's edge */
	double width;
};

static const struct third thirds[] = {{HALF_PAD, 50}, {63, 54}, {126.5, 49}};
static const double dividers[] = {58, 122};

/* Heading and what stands below it, of the highest of the three. */
static double half_head_height(struct composer *composer, const struct split_sheet *sheet)
{
	struct text_style when = medicine_style(composer, TYPE_LEAD, WEIGHT_REGULAR);
	double height = composer_text_height(composer, sheet->first.when, when, thirds[0].width);
	height = fmax(height, composer_text_height(composer, sheet->between_where, body(composer, WEIGHT_REGULAR),
	                                           thirds[1].width));
	height = fmax(height, composer_text_height(composer, sheet->second.when, when, thirds[2].width));
	return cap(composer, TYPE_SECTION) + half_lines(composer) + height;
}

static double half_foot_height(struct composer *composer, const struct split_sheet *sheet)
{
	const char *feet[] = {sheet->first.foot, sheet->after, sheet->second.foot};
	double height = 0;
	for (size_t i = 0; i < 3; i++)
		height = fmax(height,
		              composer_text_height(composer, feet[i], body(composer, WEIGHT_REGULAR), thirds[i].width));
	return height;
}

#define USE_DROP 2.5 /* from the pictures' top to "use before" */

static double use_width(void)
{
	return thirds[1].width - HALF_PICTURE - GAP_2;
}

/* Between heads and feet: as high as the pictures, or as the words on how long the rest keeps. */
static double half_middle_height(struct composer *composer, const struct split_sheet *sheet)
{
	double words = USE_DROP +
	               composer_text_height(composer, sheet->use_before, body(composer, WEIGHT_REGULAR), use_width()) +
	               half_lines(composer) + text_cap_height((struct text_style){.size = USE_TIME_SIZE}) +
	               half_lines(composer) +
	               composer_text_height(composer, sheet->use_date, composer_style(composer, TYPE_LEAD, WEIGHT_BOLD),
	                                    use_width());
	return fmax(HALF_PICTURE, words);
}

static double halves_height(struct composer *composer, const struct split_sheet *sheet)
{
	return half_pad(composer) + half_head_height(composer, sheet) + half_between(composer) +
	       half_middle_height(composer, sheet) + half_between(composer) + half_foot_height(composer, sheet) +
	       half_pad(composer);
}

/* What the first half leaves, of what the container gave: where its level stands. */
double split_left_over(const struct draw *draw)
{
	struct rational takes;
	for (size_t i = 0; i < draw->n_containers; i++) {
		const struct container_use *use = &draw->containers[i];
		struct quantity sum;
		if (use->then == THEN_KEEP && quantity_add(use->takes, use->leaves, &sum) &&
		    quantity_ratio(use->leaves, sum, &takes))
			return measure_of(takes);
	}
	return 0.5;
}

static void put_vial_and_tag(struct composer *composer, const struct split_sheet *sheet, bool first, double x, double y)
{
	double middle = y + HALF_PICTURE / 2;
	begin_artifact(composer);
	put_mark(composer,
	         (struct placed_mark){.kind = MARK_PICTURE,
	                              .area = {x, y, HALF_PICTURE, HALF_PICTURE},
	                              .picture = {.pictogram = first ? PICTURE_HALF_VIAL : PICTURE_LIQUID_VIAL,
	                                          .at = {x, y},
	                                          .size = HALF_PICTURE,
	                                          .level = split_left_over(sheet->draw)}});
	put_arrow(composer, x + HALF_PICTURE, middle, HALF_ARROW);
	end_group(composer);
	if (sheet->mark.number == NULL)
		return;
	struct rect tag = measure_tag(composer, sheet->mark, HALF_TAG);
	double tag_x = x + HALF_PICTURE + HALF_ARROW + 1;
	put_tag(composer, sheet->mark, HALF_TAG, (struct point){tag_x + tag.width / 2, middle + tag.height / 2 + 1.2});
}

static void put_half(struct composer *composer, const struct split_sheet *sheet, bool first, double y)
{
	const struct split_half *half = first ? &sheet->first : &sheet->second;
	const struct third *third = &thirds[first ? 0 : 2];
	double x = composer->left + third->x;
	put_heading(composer, ROLE_H2, half->heading, bold(composer, TYPE_SECTION), x, y, third->width);
	put_paragraph(composer, half->when, medicine_style(composer, TYPE_LEAD, WEIGHT_REGULAR), x,
	              y + cap(composer, TYPE_SECTION) + half_lines(composer), third->width);
	double picture = y + half_head_height(composer, sheet) + half_between(composer);
	put_vial_and_tag(composer, sheet, first, x, picture);
	put_paragraph(composer, half->foot, body(composer, WEIGHT_REGULAR), x,
	              picture + half_middle_height(composer, sheet) + half_between(composer), third->width);
}

static void put_use_before(struct composer *composer, const struct split_sheet *sheet, double x, double y, double width)
{
	struct text_style time = {.size = USE_TIME_SIZE, .weight = WEIGHT_BOLD};
	struct text_style date = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	const struct text_block *digits = composer_set_name(composer, sheet->use_time, time, width, 1);
	begin_group(composer, ROLE_PARAGRAPH);
	struct rect line =
		put_plain(composer, sheet->use_before, body(composer, WEIGHT_REGULAR), x, y + USE_DROP, width);
	line = put_block(composer, digits, ALIGN_START, x, line.y + line.height + half_lines(composer), COLOUR_INK);
	put_plain(composer, sheet->use_date, date, x, line.y + line.height + half_lines(composer), width);
	end_group(composer);
}

static void put_between(struct composer *composer, const struct split_sheet *sheet, double y)
{
	double x = composer->left + thirds[1].x;
	double width = thirds[1].width;
	put_heading(composer, ROLE_H2, sheet->between_heading, bold(composer, TYPE_SECTION), x, y, width);
	put_paragraph(composer, sheet->between_where, body(composer, WEIGHT_REGULAR), x,
	              y + cap(composer, TYPE_SECTION) + half_lines(composer), width);
	double picture = y + half_head_height(composer, sheet) + half_between(composer);
	begin_artifact(composer);
	put_picture(composer, sheet->between_picture, x, picture, HALF_PICTURE);
	end_group(composer);
	put_use_before(composer, sheet, x + HALF_PICTURE + GAP_2, picture, use_width());
	put_paragraph(composer, sheet->after, body(composer, WEIGHT_REGULAR), x,
	              picture + half_middle_height(composer, sheet) + half_between(composer), width);
}

static void put_halves(struct composer *composer, const struct split_sheet *sheet, double y)
{
	double height = halves_height(composer, sheet);
	double half = LINE_STRONG / 2;
	begin_artifact(composer);
	put_frame(composer, (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half},
	          LINE_STRONG);
	for (size_t i = 0; i < 2; i++) {
		double x = composer->left + dividers[i];
		put_dashed_rule(composer, (struct point){x, y + GAP_2}, (struct point){x, y + height - GAP_2},
		                LINE_OUTLINE);
	}
	end_group(composer);
	put_half(composer, sheet, true, y + half_pad(composer));
	put_between(composer, sheet, y + half_pad(composer));
	put_half(composer, sheet, false, y + half_pad(composer));
}

/* ---- labels to cut out ---- */

#define LABELS_ABREAST 3
#define LABEL_BETWEEN 4.0
#define LABEL_WIDTH ((LIVE_WIDTH - (LABELS_ABREAST - 1) * LABEL_BETWEEN) / LABELS_ABREAST)
#define LABEL_PAD 2.6
#define LABEL_LINES 2.6
#define LABEL_LINE_LEAST 12.0 /* to write the time on */

static size_t label_rows(const struct split_sheet *sheet)
{
	return (sheet->n_labels + LABELS_ABREAST - 1) / LABELS_ABREAST;
}

/* Whose it is, and where to read on: the label is all that is in hand on the second day. */
static const char *label_foot(struct composer *composer, const struct split_label *label)
{
	return arena_printf(composer->arena, "%s%s%s", label->patient, *label->patient == '\0' ? "" : " \u00b7 ",
	                    label->start);
}

static double label_height(struct composer *composer, const struct split_label *label)
{
	double width = LABEL_WIDTH - 2 * LABEL_PAD;
	return 2 * LABEL_PAD + composer_text_height(composer, label->title, body(composer, WEIGHT_BOLD), width) +
	       composer_text_height(composer, label->amount, body(composer, WEIGHT_REGULAR), width) +
	       composer_text_height(composer, label->made, body(composer, WEIGHT_REGULAR), width - LABEL_LINE_LEAST) +
	       composer_text_height(composer, label->use_by, body(composer, WEIGHT_BOLD), width) +
	       composer_text_height(composer, label_foot(composer, label),
	                            composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR), width) +
	       4 * LABEL_LINES + 1;
}

static double labels_row_height(struct composer *composer, const struct split_sheet *sheet)
{
	double height = 0;
	for (size_t i = 0; i < sheet->n_labels; i++)
		height = fmax(height, label_height(composer, &sheet->labels[i]));
	return height;
}

static void put_label(struct composer *composer, const struct split_label *label, struct rect area)
{
	double x = area.x + LABEL_PAD;
	double width = area.width - 2 * LABEL_PAD;
	double half = LINE_OUTLINE / 2;
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_dashed_frame(composer,
	                 (struct rect){area.x + half, area.y + half, area.width - 2 * half, area.height - 2 * half},
	                 LINE_OUTLINE);
	end_group(composer);
	struct rect line = put_plain(composer, label->title, body(composer, WEIGHT_BOLD), x, area.y + LABEL_PAD, width);
	line = put_plain(composer, label->amount, body(composer, WEIGHT_REGULAR), x, line.y + line.height + LABEL_LINES,
	                 width);
	line = put_plain(composer, label->made, body(composer, WEIGHT_REGULAR), x,
	                 line.y + line.height + LABEL_LINES + 0.5, width - LABEL_LINE_LEAST);
	begin_artifact(composer);
	put_line(composer, line.x + line.width + 1.5, x + width, line.y + line.height + 0.6, LINE_OUTLINE);
	end_group(composer);
	line = put_plain(composer, label->use_by, body(composer, WEIGHT_BOLD), x,
	                 line.y + line.height + LABEL_LINES + 0.5, width);
	struct text_style small = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	put_plain(composer, label_foot(composer, label), small, x, line.y + line.height + LABEL_LINES, width);
	end_group(composer);
}

/* Rows from `first` on as far as they end above `bottom`; returns the next row. */
static size_t put_labels(struct composer *composer, const struct split_sheet *sheet, size_t first, double y,
                         double bottom)
{
	double height = labels_row_height(composer, sheet);
	size_t row = first;
	put_heading(composer, ROLE_H2, sheet->labels_heading, bold(composer, TYPE_SECTION), composer->left, y,
	            LIVE_WIDTH);
	y += heading_height(composer);
	begin_group(composer, ROLE_LIST);
	for (; row < label_rows(sheet) && (row == first || y + height <= bottom + TOLERANCE); row++) {
		for (size_t i = row * LABELS_ABREAST; i < (row + 1) * LABELS_ABREAST && i < sheet->n_labels; i++) {
			double x = composer->left + (double)(i % LABELS_ABREAST) * (LABEL_WIDTH + LABEL_BETWEEN);
			put_label(composer, &sheet->labels[i], (struct rect){x, y, LABEL_WIDTH, height});
		}
		y += height + LABEL_BETWEEN;
	}
	end_group(composer);
	return row;
}

/* ---- right and wrong ---- */

#define READINGS 3
#define READING_BETWEEN 6.0
#define READING_WIDTH ((LIVE_WIDTH - (READINGS - 1) * READING_BETWEEN) / READINGS)
/* Of the magnifier's on the medicine's page; lower ones where that keeps the page to one. */
static const double reading_zooms[] = {0.58, 0.5, 0.42};
#define READING_NUMERAL 14.0
#define VERDICT_PICTURE 5.6
#define VERDICT_WIDTH (READING_WIDTH - VERDICT_PICTURE - 2)

bool split_has_readings(const struct split_sheet *sheet)
{
	return sheet->draw->measure == MEASURE_SYRINGE && sheet->draw->mark.syringe != NULL && !sheet->draw->mark.all;
}

/*
 * Where the front ring stands when something else of the stopper is on the line:
 * the point of its cone is before the ring, the back ring's end behind it.
 */
static double ring_when(const struct mark *mark, size_t reading)
{
	struct syringe_geometry geometry = syringe_geometry_of(mark->syringe);
	double at = measure_of(mark->at);
	if (reading == 1)
		return at + geometry.cone / geometry.mm_per_ml;
	if (reading == 2)
		return fmax(at - (2 * geometry.ring + geometry.waist) / geometry.mm_per_ml, 0);
	return at;
}

/* What the scale would show there, to two places; whole on a scale in units. */
static const char *number_held(struct composer *composer, const struct mark *mark, double ring)
{
	if (mark->syringe->unit_scale) {
		int64_t units = (int64_t)lround(ring * measure_of(mark->syringe->units_per_ml));
		return say_number(composer->speaker, rational_of(units, 1));
	}
	return say_number(composer->speaker, rational_of((int64_t)lround(ring * 100), 100));
}

/* "0.52 mL", "line 21": as the mark is named, which holds what it should. */
static const char *held_words(struct composer *composer, const struct split_sheet *sheet, size_t reading)
{
	const struct mark *mark = &sheet->draw->mark;
	const struct reading_window *window = &sheet->windows[reading];
	struct mark_words words = say_line(composer->speaker, mark);
	if (!mark->syringe->unit_scale)
		words.before = NULL;
	words.number = window->right ? window->number : number_held(composer, mark, ring_when(mark, reading));
	return mark_words_plain(composer->arena, words);
}

const char *split_reading_alt(struct composer *composer, const struct split_sheet *sheet, size_t reading)
{
	static const char *const keys[READINGS] = {"read.alt_right", "read.alt_much", "read.alt_little"};
	const char *text = say1(composer->speaker, keys[reading], "mark", held_words(composer, sheet, reading));
	const char *letter = sheet->windows[reading].letter;
	return letter == NULL ? text : say2(composer->speaker, "picture.alt", "letter", letter, "text", text);
}

static double verdict_height(struct composer *composer, const struct split_sheet *sheet)
{
	struct text_style style = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	double height = VERDICT_PICTURE;
	for (size_t i = 0; i < READINGS; i++)
		height = fmax(height,
		              (VERDICT_PICTURE - text_cap_height(style)) / 2 +
		                      composer_text_height(composer, sheet->windows[i].verdict, style, VERDICT_WIDTH));
	return height;
}

static double reading_words_height(struct composer *composer, const struct split_sheet *sheet)
{
	double height = 0;
	for (size_t i = 0; i < READINGS; i++)
		height = fmax(height, composer_text_height(composer, sheet->windows[i].text,
		                                           body(composer, WEIGHT_REGULAR), READING_WIDTH));
	return verdict_height(composer, sheet) + GAP_2 + height;
}

static double read_heading_height(struct composer *composer, const struct split_sheet *sheet)
{
	double height = composer_text_height(composer, sheet->read_heading, bold(composer, TYPE_SECTION), LIVE_WIDTH);
	return height + heading_height(composer) - cap(composer, TYPE_SECTION);
}

static double readings_height(struct composer *composer, const struct split_sheet *sheet, double zoom)
{
	if (!split_has_readings(sheet))
		return 0;
	return read_heading_height(composer, sheet) + window_height(sheet->draw->mark.syringe, zoom) + GAP_2 +
	       reading_words_height(composer, sheet);
}

struct window_figure split_reading(struct composer *composer, const struct split_sheet *sheet, size_t reading,
                                   struct rect frame, double zoom, double numeral)
{
	const struct mark *mark = &sheet->draw->mark;
	const struct reading_window *window = &sheet->windows[reading];
	struct syringe_figure *shown = arena_alloc(composer->arena, sizeof *shown);
	double ring = ring_when(mark, reading);
	double half = (window->right ? LINE_ALARM : LINE_OUTLINE) / 2;
	*shown = (struct syringe_figure){.syringe = mark->syringe, .ring = ring, .liquid = ring};
	return (struct window_figure){
		.figure = shown,
		.frame = {frame.x + half, frame.y + half, frame.width - 2 * half, frame.height - 2 * half},
		.zoom = zoom,
		.centre = measure_of(mark->at),
		.ring = ring,
		.frame_line = window->right ? LINE_ALARM : LINE_OUTLINE,
		.wedge = window->right ? WEDGE_SOLID : WEDGE_CROSS,
		.beside = composer_set(composer, held_words(composer, sheet, reading),
	                               composer_style(composer, TYPE_LEAD, WEIGHT_REGULAR), 0),
		.numerals = line_numerals(composer, mark->syringe, mark->at, numeral, zoom),
		.n_numerals = syringe_numbered_lines(mark->syringe)};
}

/* Clear of the frame's line, which is thick around the right one. */
void split_put_letter(struct composer *composer, const struct reading_window *window, struct rect frame)
{
	double half = (window->right ? LINE_ALARM : LINE_OUTLINE) / 2;
	put_window_letter(
		composer,
		(struct rect){frame.x + half, frame.y + half, frame.width - 2 * half, frame.height - 2 * half},
		window->letter);
}

static void put_reading(struct composer *composer, const struct split_sheet *sheet, size_t reading, struct rect frame,
                        double zoom)
{
	const struct reading_window *window = &sheet->windows[reading];
	struct text_style verdict = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	double y = frame.y + frame.height + GAP_2;
	begin_figure(composer, split_reading_alt(composer, sheet, reading));
	put_mark(composer,
	         (struct placed_mark){.kind = MARK_WINDOW,
	                              .area = frame,
	                              .window = split_reading(composer, sheet, reading, frame, zoom, READING_NUMERAL)});
	split_put_letter(composer, window, frame);
	end_group(composer);
	begin_group(composer, ROLE_PARAGRAPH);
	begin_artifact(composer);
	put_picture(composer, window->right ? PICTURE_CHECK : PICTURE_CROSS, frame.x, y, VERDICT_PICTURE);
	end_group(composer);
	put_text(composer, window->verdict, verdict, ALIGN_START, frame.x + VERDICT_PICTURE + 2,
	         y + (VERDICT_PICTURE - text_cap_height(verdict)) / 2, VERDICT_WIDTH,
	         window->right ? COLOUR_INK : COLOUR_RUST);
	put_plain(composer, window->text, body(composer, WEIGHT_REGULAR), frame.x,
	          y + verdict_height(composer, sheet) + GAP_2, READING_WIDTH);
	end_group(composer);
}

static void put_readings(struct composer *composer, const struct split_sheet *sheet, double zoom, double y)
{
	if (!split_has_readings(sheet))
		return;
	double height = window_height(sheet->draw->mark.syringe, zoom);
	put_heading(composer, ROLE_H2, sheet->read_heading, bold(composer, TYPE_SECTION), composer->left, y,
	            LIVE_WIDTH);
	y += read_heading_height(composer, sheet);
	for (size_t i = 0; i < READINGS; i++) {
		double x = composer->left + (double)i * (READING_WIDTH + READING_BETWEEN);
		put_reading(composer, sheet, i, (struct rect){x, y, READING_WIDTH, height}, zoom);
	}
}

/* ---- the second day ---- */

#define SECOND_BETWEEN 6.0
#define SECOND_PICTURE 13.5

static double second_width(const struct split_sheet *sheet)
{
	size_t abreast = sheet->n_second_day < 4 ? 4 : sheet->n_second_day;
	return (LIVE_WIDTH - (double)(abreast - 1) * SECOND_BETWEEN) / (double)abreast;
}

static double second_things_height(struct composer *composer, const struct split_sheet *sheet)
{
	double height =
		composer_text_height(composer, sheet->second_things, body(composer, WEIGHT_REGULAR), LIVE_WIDTH);
	return height == 0 ? 0 : height + GAP_2;
}

/* A number above its title, beside the picture. */
#define SECOND_TITLE 2.6
#define SECOND_BESIDE 2.4
#define SECOND_TEXT 2.4 /* clear of what hangs below a title of many lines */

static double second_words_height(struct composer *composer, const struct step *step, double width)
{
	return text_cap_height(bold(composer, TYPE_SECTION)) + SECOND_TITLE +
	       composer_text_height(composer, step->title, body(composer, WEIGHT_BOLD),
	                            width - SECOND_PICTURE - SECOND_BESIDE);
}

/* A title of many lines is higher than the pictures: they share a height, so that the texts begin level. */
static double second_head_height(struct composer *composer, const struct split_sheet *sheet)
{
	double height = SECOND_PICTURE;
	for (size_t i = 0; i < sheet->n_second_day; i++)
		height = fmax(height, second_words_height(composer, &sheet->second_day[i], second_width(sheet)));
	return height;
}

static double second_height(struct composer *composer, const struct split_sheet *sheet)
{
	double height = 0;
	if (sheet->n_second_day == 0)
		return 0;
	for (size_t i = 0; i < sheet->n_second_day; i++)
		height = fmax(height, actions_height(composer, sheet->second_day[i].text,
		                                     body(composer, WEIGHT_REGULAR), second_width(sheet)));
	return heading_height(composer) + second_things_height(composer, sheet) + second_head_height(composer, sheet) +
	       SECOND_TEXT + height;
}

static void put_second_step(struct composer *composer, const struct split_sheet *sheet, size_t index, double x,
                            double y)
{
	const struct step *step = &sheet->second_day[index];
	struct text_style number = bold(composer, TYPE_SECTION);
	double width = second_width(sheet);
	double head = second_head_height(composer, sheet);
	double beside = x + SECOND_PICTURE + SECOND_BESIDE;
	double top = y + (head - second_words_height(composer, step, width)) / 2;
	begin_group(composer, ROLE_LIST_ITEM);
	composer_note_step(composer, step->number);
	begin_group(composer, ROLE_LABEL);
	put_plain(composer, step_number(composer, step), number, beside, top, 0);
	end_group(composer);
	begin_group(composer, ROLE_H3);
	put_plain(composer, step->title, body(composer, WEIGHT_BOLD), beside,
	          top + text_cap_height(number) + SECOND_TITLE, width - SECOND_PICTURE - SECOND_BESIDE);
	end_group(composer);
	put_step_picture(composer, step->picture, x, y + (head - SECOND_PICTURE) / 2, SECOND_PICTURE);
	put_actions(composer, step->text, body(composer, WEIGHT_REGULAR), x, y + head + SECOND_TEXT, width);
	end_group(composer);
}

static void put_second(struct composer *composer, const struct split_sheet *sheet, double y)
{
	if (sheet->n_second_day == 0)
		return;
	double width = second_width(sheet);
	put_heading(composer, ROLE_H2, sheet->second_heading, bold(composer, TYPE_SECTION), composer->left, y,
	            LIVE_WIDTH);
	y += heading_height(composer);
	put_paragraph(composer, sheet->second_things, body(composer, WEIGHT_REGULAR), composer->left, y, LIVE_WIDTH);
	y += second_things_height(composer, sheet);
	begin_group(composer, ROLE_LIST);
	for (size_t i = 0; i < sheet->n_second_day; i++)
		put_second_step(composer, sheet, i, composer->left + (double)i * (width + SECOND_BETWEEN), y);
	end_group(composer);
}

/* ---- the page ---- */

static double rows_height(struct composer *composer, const struct split_sheet *sheet, size_t rows)
{
	return rows == 0 ? 0
	                 : heading_height(composer) +
	                           (double)rows * (labels_row_height(composer, sheet) + LABEL_BETWEEN) - LABEL_BETWEEN;
}

/* Where the next part stands: here, or on a further page. */
static double room_for(struct composer *composer, const struct split_sheet *sheet, double y, double height)
{
	if (y + height <= composer->bottom + TOLERANCE)
		return y;
	composer_continue(composer, sheet->title, sheet->lead);
	return composer->top;
}

/* The sheet with the pages that its texts point at. */
static const struct split_sheet *with_pages(struct composer *composer, const struct split_sheet *of)
{
	struct split_sheet *sheet = arena_alloc(composer->arena, sizeof *sheet);
	struct split_label *labels = arena_alloc(composer->arena, (of->n_labels + 1) * sizeof *labels);
	struct step *steps = arena_alloc(composer->arena, (of->n_second_day + 1) * sizeof *steps);
	section_ref own = composer_section_ref(composer);
	const char *first = composer_label_of(composer, own, 0);
	const char *second =
		of->n_second_day == 0 ? NULL : composer_label_of_step(composer, own, of->second_day[0].number);
	const char *back = composer_label_of_step(composer, of->draws_on, of->goes_on);
	second = second == NULL ? first : second;
	back = back == NULL ? composer_label_of_line(composer, of->draws_on) : back;
	*sheet = *of;
	if (strcmp(first, second) != 0 && of->second.foot_elsewhere != NULL)
		sheet->second.foot = composer_fill_page(composer, of->second.foot_elsewhere, second);
	for (size_t i = 0; i < of->n_labels; i++) {
		labels[i] = of->labels[i];
		labels[i].start = composer_fill_page(composer, labels[i].start, second);
	}
	for (size_t i = 0; i < of->n_second_day; i++) {
		steps[i] = of->second_day[i];
		steps[i].text = composer_fill_page(composer, steps[i].text, back);
	}
	sheet->labels = labels;
	sheet->second_day = steps;
	return sheet;
}

/* Rows of labels from `y` on, and on further pages. */
static void put_rows(struct composer *composer, const struct split_sheet *sheet, double y)
{
	size_t first = 0;
	while (first < label_rows(sheet)) {
		if (y + rows_height(composer, sheet, 1) > composer->bottom) {
			composer_continue(composer, sheet->title, sheet->lead);
			y = composer->top;
		}
		first = put_labels(composer, sheet, first, y, composer->bottom);
		y = composer->bottom;
	}
}

/* All but the labels, without gaps; how many gaps there are when labels stand among it. */
static double others_height(struct composer *composer, const struct split_sheet *sheet, double zoom)
{
	return halves_height(composer, sheet) + readings_height(composer, sheet, zoom) + second_height(composer, sheet);
}

static int gaps_of(const struct split_sheet *sheet)
{
	return 1 + split_has_readings(sheet) + (sheet->n_second_day > 0);
}

/* True when one page holds all, with readings this big. */
static bool fits_one_page(struct composer *composer, const struct split_sheet *sheet, double zoom)
{
	double used = others_height(composer, sheet, zoom) + rows_height(composer, sheet, label_rows(sheet));
	return used + gaps_of(sheet) * section_gap_least(composer) <= composer->bottom - composer->top + TOLERANCE;
}

/* The roomiest with which one page holds all, tight if it must be; else the usual. */
static double choose_zoom(struct composer *composer, const struct split_sheet *sheet)
{
	if (!split_has_readings(sheet))
		return 0;
	double usual = window_zoom(sheet->draw->mark.syringe);
	for (enum closeness closeness = ROOMY; closeness <= TIGHT; closeness++) {
		composer->closeness = closeness;
		for (size_t i = 0; i < sizeof reading_zooms / sizeof *reading_zooms; i++)
			if (fits_one_page(composer, sheet, usual * reading_zooms[i]))
				return usual * reading_zooms[i];
	}
	composer->closeness = ROOMY;
	return usual * reading_zooms[0];
}

/* What does not fit one page. Labels come last: they are cut out of a page that has nothing behind it. */
static void put_on_more(struct composer *composer, const struct split_sheet *sheet, double zoom)
{
	double y = composer->top;
	put_halves(composer, sheet, y);
	y += halves_height(composer, sheet) + SECTION_GAP_MOST;
	if (split_has_readings(sheet)) {
		y = room_for(composer, sheet, y, readings_height(composer, sheet, zoom));
		put_readings(composer, sheet, zoom, y);
		y += readings_height(composer, sheet, zoom) + SECTION_GAP_MOST;
	}
	double second = second_height(composer, sheet);
	double labels = rows_height(composer, sheet, label_rows(sheet));
	double both = second + SECTION_GAP_MOST + labels;
	y = room_for(composer, sheet, y, both <= composer->bottom - composer->top ? both : second);
	put_second(composer, sheet, y);
	put_rows(composer, sheet, room_for(composer, sheet, y + second + SECTION_GAP_MOST, labels));
}

static void put_on_one(struct composer *composer, const struct split_sheet *sheet, double zoom)
{
	double labels = rows_height(composer, sheet, label_rows(sheet));
	double gap = section_gap(composer, others_height(composer, sheet, zoom) + labels, gaps_of(sheet));
	double y = composer->top;
	put_halves(composer, sheet, y);
	y += halves_height(composer, sheet) + gap;
	if (sheet->n_labels > 0)
		put_labels(composer, sheet, 0, y, y + labels);
	y += sheet->n_labels > 0 ? labels + gap : 0;
	put_readings(composer, sheet, zoom, y);
	y += split_has_readings(sheet) ? readings_height(composer, sheet, zoom) + gap : 0;
	put_second(composer, sheet, y);
}

void split_place(struct composer *composer, const struct split_sheet *of)
{
	const struct split_sheet *sheet = with_pages(composer, of);
	if (composer->large_print) {
		large_split(composer, sheet);
		return;
	}
	composer_new_page(composer, sheet->title, sheet->lead);
	double zoom = choose_zoom(composer, sheet);
	if (fits_one_page(composer, sheet, zoom))
		put_on_one(composer, sheet, zoom);
	else
		put_on_more(composer, sheet, zoom);
	composer->closeness = ROOMY;
}
