/*
 * medicine_days.c - what depends on the day: both syringes of a dose at two places, and the boxes of a vial that
 * serves many days.
 */
#include "page/medicine.h"

#include "page/syringe_geometry.h"

#include <math.h>
#include <string.h>

static struct text_style body(const struct composer *composer, enum text_weight weight)
{
	return medicine_style(composer, TYPE_BODY, weight);
}

/* ---- a dose at two places: both syringes, each with its line ---- */

#define TWICE_HEAD 4.0
#define TWICE_WORDS 34.0 /* the words' width, before the syringe */
#define TWICE_LINES 2.8
#define TWICE_TAG 17.0
#define TWICE_BETWEEN 3.0

static struct line_look twice_look(const struct place_part *part, double indent)
{
	const struct mark *mark = &part->draw->mark;
	struct line_look look = {.syringe = mark->syringe,
	                         .at = mark->at,
	                         .line = !mark->all,
	                         .ring = measure_of(mark->all ? part->draw->volume : mark->at),
	                         .mark = part->mark,
	                         .tag_size = TWICE_TAG,
	                         .indent = indent};
	line_look_needle(&look, part->draw->product, false);
	return look;
}

/* Words stand before the syringe, or above one that is too long for that. */
static bool twice_beside(const struct composer *composer, const struct place_part *part)
{
	struct line_look look = twice_look(part, TWICE_WORDS);
	return line_figure_fits(composer, &look);
}

static double twice_words_width(const struct composer *composer, const struct place_part *part)
{
	return twice_beside(composer, part) ? TWICE_WORDS : LIVE_WIDTH;
}

static double twice_words_height(struct composer *composer, const struct place_part *part)
{
	double width = twice_words_width(composer, part);
	return composer_text_height(composer, part->name, composer_style(composer, TYPE_LEAD, WEIGHT_BOLD), width) +
	       TWICE_LINES + composer_text_height(composer, part->side, body(composer, WEIGHT_REGULAR), width);
}

static double twice_row_height(struct composer *composer, const struct place_part *part)
{
	bool beside = twice_beside(composer, part);
	struct line_look look = twice_look(part, beside ? TWICE_WORDS : 0);
	double figure = line_rise(composer, &look) + line_drop(&look);
	double words = twice_words_height(composer, part);
	return beside ? fmax(figure, words) : words + GAP_2 + figure;
}

static double twice_head_height(struct composer *composer, const struct two_places *twice)
{
	return composer_text_height(composer, twice->heading, composer_style(composer, TYPE_SECTION, WEIGHT_BOLD),
	                            LIVE_WIDTH) +
	       GAP_2 + composer_text_height(composer, twice->text, body(composer, WEIGHT_REGULAR), LIVE_WIDTH) +
	       TWICE_HEAD;
}

/* Both stop on the line that the page shows in true size already: then two tags side by side say it again. */
static bool twice_alike(const struct two_places *twice)
{
	const struct mark *first = &twice->parts[0].draw->mark;
	const struct mark *second = &twice->parts[1].draw->mark;
	return first->syringe == second->syringe && first->all == second->all &&
	       rational_compare(first->at, second->at) == 0;
}

static double cell_words_height(struct composer *composer, const struct place_part *part)
{
	return composer_text_height(composer, part->name, composer_style(composer, TYPE_LEAD, WEIGHT_BOLD),
	                            TWICE_WORDS) +
	       TWICE_LINES + composer_text_height(composer, part->side, body(composer, WEIGHT_REGULAR), TWICE_WORDS);
}

static double twice_cells_height(struct composer *composer, const struct two_places *twice)
{
	double height = 0;
	for (size_t i = 0; i < 2; i++) {
		const struct place_part *part = &twice->parts[i];
		height = fmax(height, measure_tag(composer, part->mark, TWICE_TAG).height);
		height = fmax(height, cell_words_height(composer, part));
	}
	return height;
}

/* Words first, then what both stop on. */
static void put_twice_cell(struct composer *composer, const struct place_part *part, double x, double y, double height)
{
	struct rect tag = measure_tag(composer, part->mark, TWICE_TAG);
	double width = TWICE_WORDS;
	double top = y + (height - cell_words_height(composer, part)) / 2;
	struct rect name = put_heading(composer, ROLE_H3, part->name, composer_style(composer, TYPE_LEAD, WEIGHT_BOLD),
	                               x, top, width);
	put_paragraph(composer, part->side, body(composer, WEIGHT_REGULAR), x, name.y + name.height + TWICE_LINES,
	              width);
	begin_figure(composer, part->alt);
	put_tag(composer, part->mark, TWICE_TAG,
	        (struct point){x + width + GAP_2 + tag.width / 2, y + (height + tag.height) / 2});
	end_group(composer);
}

double twice_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	if (sheet->twice == NULL)
		return 0;
	if (twice_alike(sheet->twice))
		return twice_head_height(composer, sheet->twice) + twice_cells_height(composer, sheet->twice);
	return twice_head_height(composer, sheet->twice) + twice_row_height(composer, &sheet->twice->parts[0]) +
	       TWICE_BETWEEN + twice_row_height(composer, &sheet->twice->parts[1]);
}

static void put_twice_row(struct composer *composer, const struct place_part *part, double y)
{
	bool beside = twice_beside(composer, part);
	struct line_look look = twice_look(part, beside ? TWICE_WORDS : 0);
	double words = twice_words_height(composer, part);
	double figure = line_rise(composer, &look) + line_drop(&look);
	double top = beside ? y + fmax((twice_row_height(composer, part) - words) / 2, 0) : y;
	double width = twice_words_width(composer, part);
	struct rect name = put_heading(composer, ROLE_H3, part->name, composer_style(composer, TYPE_LEAD, WEIGHT_BOLD),
	                               composer->left, top, width);
	put_paragraph(composer, part->side, body(composer, WEIGHT_REGULAR), composer->left,
	              name.y + name.height + TWICE_LINES, width);
	struct syringe_figure syringe = line_figure(composer, &look, y + twice_row_height(composer, part) - figure);
	begin_figure(composer, part->alt);
	put_line_figure(composer, &look, &syringe);
	end_group(composer);
}

void put_twice(struct composer *composer, const struct medicine_sheet *sheet, double y)
{
	const struct two_places *twice = sheet->twice;
	if (twice == NULL)
		return;
	struct rect heading =
		put_heading(composer, ROLE_H2, twice->heading, composer_style(composer, TYPE_SECTION, WEIGHT_BOLD),
	                    composer->left, y, LIVE_WIDTH);
	put_paragraph(composer, twice->text, body(composer, WEIGHT_REGULAR), composer->left,
	              heading.y + heading.height + GAP_2, LIVE_WIDTH);
	y += twice_head_height(composer, twice);
	for (size_t i = 0; twice_alike(twice) && i < 2; i++)
		put_twice_cell(composer, &twice->parts[i], composer->left + (double)i * LIVE_WIDTH / 2, y,
		               twice_cells_height(composer, twice));
	if (twice_alike(twice))
		return;
	put_twice_row(composer, &twice->parts[0], y);
	put_twice_row(composer, &twice->parts[1], y + twice_row_height(composer, &twice->parts[0]) + TWICE_BETWEEN);
}

/* ---- a box for each day ---- */

#define DAY_NUMBER 1.6 /* from a box to its day */

double day_ticks_width(const struct tick_look *look, const struct tick_days *ticks)
{
	return ticks->n == 0 ? 0 : (double)(ticks->n - 1) * look->pitch + look->box;
}

double day_ticks_height(const struct tick_look *look)
{
	return look->box + DAY_NUMBER + text_cap_height(look->number);
}

void put_day_ticks(struct composer *composer, const struct tick_look *look, const struct tick_days *ticks, double x,
                   double y)
{
	for (size_t i = 0; i < ticks->n; i++) {
		double left = x + (double)i * look->pitch;
		begin_artifact(composer);
		put_tick(composer, (struct point){left, y}, look->box);
		end_group(composer);
		put_text(composer, ticks->days[i], look->number, ALIGN_CENTER, left + look->box / 2,
		         y + look->box + DAY_NUMBER, 0, COLOUR_INK);
	}
}

/* ---- a vial for many days ---- */

#define VIALS_HEAD 4.0
#define VIALS_HEAD_TIGHT 2.5
#define VIAL_PICTURE 10.0
#define VIAL_WORDS 12.0
#define VIAL_WORDS_WIDTH 72.0
#define VIAL_TICK 6.2
#define VIAL_PITCH 8.4
#define VIAL_LINES 2.6 /* box to its day, and day to the next line of boxes */
#define VIAL_PAD 2.8
#define VIAL_PAD_TIGHT 1.8
#define VIAL_TEXT 2.6
#define TICKS_X (VIAL_WORDS + VIAL_WORDS_WIDTH + 3.0)

static double vial_pad(const struct composer *composer)
{
	return composer_is_tight(composer) ? VIAL_PAD_TIGHT : VIAL_PAD;
}

static size_t ticks_abreast(void)
{
	return (size_t)((LIVE_WIDTH - TICKS_X) / VIAL_PITCH);
}

static double tick_line(const struct composer *composer)
{
	return VIAL_TICK + 1.6 + text_cap_height(composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR));
}

#define VIAL_LINES_OF_WORDS 2

static void vial_words(struct composer *composer, const struct vial_row *row, const char *words[VIAL_LINES_OF_WORDS])
{
	words[0] = arena_printf(composer->arena, TEXT_BOLD_ON "%s" TEXT_BOLD_OFF " %s", row->name, row->opened);
	words[1] = row->last;
}

static double vial_words_height(struct composer *composer, const struct vial_row *row)
{
	const char *words[VIAL_LINES_OF_WORDS];
	double height = -VIAL_TEXT;
	vial_words(composer, row, words);
	for (size_t i = 0; i < VIAL_LINES_OF_WORDS; i++)
		height += VIAL_TEXT +
		          composer_text_height(composer, words[i], body(composer, WEIGHT_REGULAR), VIAL_WORDS_WIDTH);
	return height;
}

static double vial_row_height(struct composer *composer, const struct vial_row *row)
{
	double lines = (double)((row->n_squares + ticks_abreast() - 1) / ticks_abreast());
	double ticks = lines * tick_line(composer) + (lines - 1) * VIAL_LINES;
	return 2 * vial_pad(composer) + fmax(fmax(ticks, VIAL_PICTURE), vial_words_height(composer, row));
}

/* "page 20", "pages 19, 20": where the squares of those doses are. */
static const char *pages_of_squares(struct composer *composer, const struct vial_log *log)
{
	const char *pages = NULL;
	const char *last = NULL;
	bool several = false;
	for (size_t i = 0; i < log->n_doses; i++) {
		const char *page = composer_label_of_part(composer, log->section, log->doses[i]);
		if (page == NULL || (last != NULL && strcmp(page, last) == 0))
			continue;
		several = pages != NULL;
		pages = several ? say2(composer->speaker, "list.comma", "first", pages, "last", page) : page;
		last = page;
	}
	if (pages == NULL)
		return composer_page_ref(composer, log->section);
	return say1(composer->speaker, several ? "page.refs" : "page.ref", several ? "pages" : "page", pages);
}

const char *vial_note(struct composer *composer, const struct vial_log *log)
{
	if (log->section >= 0) {
		const char *line = composer_label_of_line(composer, composer_section_ref(composer));
		return arena_printf(composer->arena, "%s %s",
		                    composer_fill_page(composer, log->note, pages_of_squares(composer, log)),
		                    composer_fill_page(composer, log->stop, line));
	}
	const char *note = log->note;
	for (size_t i = 0; i < log->n_others; i++) {
		const struct vial_other *other = &log->others[i];
		note = arena_printf(
			composer->arena, "%s %s", note,
			composer_fill_page(composer, other->text, composer_label_of(composer, other->section, 0)));
	}
	return note;
}

static double vials_head_height(struct composer *composer, const struct vial_log *log)
{
	return composer_text_height(composer, log->heading, composer_style(composer, TYPE_SECTION, WEIGHT_BOLD),
	                            LIVE_WIDTH) +
	       GAP_2 +
	       composer_text_height(composer, vial_note(composer, log), body(composer, WEIGHT_REGULAR), LIVE_WIDTH) +
	       (composer_is_tight(composer) ? VIALS_HEAD_TIGHT : VIALS_HEAD);
}

double vials_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	if (sheet->vials == NULL)
		return 0;
	double height = vials_head_height(composer, sheet->vials);
	for (size_t i = 0; i < sheet->vials->n_rows; i++)
		height += vial_row_height(composer, &sheet->vials->rows[i]);
	return height;
}

static void put_vial_ticks(struct composer *composer, const struct vial_row *row, double y)
{
	struct text_style day = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	begin_group(composer, ROLE_LIST);
	for (size_t i = 0; i < row->n_squares; i++) {
		const struct vial_square *square = &row->squares[i];
		double x = composer->left + TICKS_X + (double)(i % ticks_abreast()) * VIAL_PITCH;
		double top = y + (double)(i / ticks_abreast()) * (tick_line(composer) + VIAL_LINES);
		begin_group(composer, ROLE_LIST_ITEM);
		composer_note_part(composer, square->dose);
		put_done_or_tick(composer, (struct point){x, top}, VIAL_TICK, square->done);
		put_text(composer, square->day, day, ALIGN_CENTER, x + VIAL_TICK / 2, top + VIAL_TICK + 1.6, 0,
		         COLOUR_INK);
		end_group(composer);
	}
	end_group(composer);
}

static void put_vial_row(struct composer *composer, const struct vial_row *row, double y)
{
	const char *words[VIAL_LINES_OF_WORDS];
	double x = composer->left + VIAL_WORDS;
	double line = y + vial_pad(composer);
	vial_words(composer, row, words);
	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, y, LINE_OUTLINE);
	put_picture(composer, PICTURE_LIQUID_VIAL, composer->left, y + vial_pad(composer), VIAL_PICTURE);
	end_group(composer);
	begin_group(composer, ROLE_PARAGRAPH);
	for (size_t i = 0; i < VIAL_LINES_OF_WORDS; i++) {
		struct rect put =
			put_plain(composer, words[i], body(composer, WEIGHT_REGULAR), x, line, VIAL_WORDS_WIDTH);
		line = put.y + put.height + VIAL_TEXT;
	}
	end_group(composer);
	put_vial_ticks(composer, row, y + vial_pad(composer));
}

void put_vials(struct composer *composer, const struct medicine_sheet *sheet, double y)
{
	const struct vial_log *log = sheet->vials;
	if (log == NULL)
		return;
	struct rect heading =
		put_heading(composer, ROLE_H2, log->heading, composer_style(composer, TYPE_SECTION, WEIGHT_BOLD),
	                    composer->left, y, LIVE_WIDTH);
	put_paragraph(composer, vial_note(composer, log), body(composer, WEIGHT_REGULAR), composer->left,
	              heading.y + heading.height + GAP_2, LIVE_WIDTH);
	y += vials_head_height(composer, log);
	for (size_t i = 0; i < log->n_rows; i++) {
		put_vial_row(composer, &log->rows[i], y);
		y += vial_row_height(composer, &log->rows[i]);
	}
}
