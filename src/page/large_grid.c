/*
 * large_grid.c - the days in large print: a head a day, a row a dose, the tag beside it.
 *
 *       1  Thursday 5 June                     (( left
 *       ______________________________________________
 *       08:00  [vial]  Sampletide     [line 20]     []
 *    +- 20:00  [vial]  Examplin       [0.5 mL]      []
 *    |  ______________________________________________
 *    o  2  Friday 6 June                       )) right
 *    +- 20:00  [vial]  Examplin       [0.5 mL]      []
 *
 * A rail in the margin joins two doses from one container.
 */
#include "page/grid.h"
#include "page/large_pages.h"
#include "page/styles.h"

#include <math.h>

#define TIME_WIDTH 24.0
#define PICTURE_X 26.0
#define PICTURE 12.0
#define WORDS_X 42.0
#define WORDS_LEAST 52.0 /* a wider tag goes below the words */
#define BETWEEN 3.9
#define TICK 14.0
#define LINES_MOST 7 /* below a dose's name */
#define PLUS_GAP 2.0
#define TAG_GAP 4.0
#define TAG_LEAST 40.0
#define WAIT_FRAME 3.0 /* around a dose that waits for a call */
#define WAIT_SIDE 2.5  /* its frame to its time, and to its box */
#define NEW_CORNER 5.0 /* of a new amount, as the signs explain it */
#define NEW_ABOVE 1.4
#define ROW_LEAST 15.0
#define TIME_WORD 2.8 /* between a time and its slot's word */
#define TIME_LEADING 6.6
#define DAY_BREAK 2.4   /* of a page that begins inside a day */
#define PAIR_BREAK 20.0 /* of one that begins between two doses from one container */
#define RAIL_LINE 1.2
#define RAIL_VIAL 5.4
#define RAILS_MOST 2

static struct text_style bold_lead(const struct composer *composer)
{
	return large_style(composer, TYPE_LEAD, WEIGHT_BOLD);
}

/* ---- rails: filled by the first half's row, drawn by the second's ---- */

struct rail {
	double x;
	int page; /* by its index, its first half stands on */
	double y;
};

struct large_days {
	struct composer *composer;
	const struct grid *grid;
	struct large_blocks blocks;
	double tag_x;
	struct rail **rails; /* open, one a column; NULL: none */
	size_t head;         /* number of the day's head block */
};

/* ---- a day's head ---- */

#define SIDE_PICTURE 13.0
#define SIDE_PICTURE_HEIGHT 8.2
#define HIP_PICTURE 8.6

static const char *short_day(struct composer *composer, const struct grid_row *row)
{
	return arena_printf(composer->arena, "%s %s", row->weekday, row->date);
}

static const char *day_words(struct composer *composer, const struct grid_row *row)
{
	return row->long_date != NULL ? row->long_date : short_day(composer, row);
}

static double head_height(const struct composer *composer)
{
	return cap(composer, TYPE_DAY) + 3.6;
}

/* Ends at `right`; returns where the next one may end. */
static double put_side_sign(struct composer *composer, enum side side, bool hip, double right, double baseline)
{
	double width = hip ? HIP_PICTURE : SIDE_PICTURE;
	double height = hip ? HIP_PICTURE : SIDE_PICTURE_HEIGHT;
	struct point at = {right - width, baseline - height};
	begin_artifact(composer);
	put_mark(composer, (struct placed_mark){.kind = MARK_SIDE,
	                                        .area = {at.x, at.y, width, height},
	                                        .side = {at, width, side, hip}});
	end_group(composer);
	return at.x - GAP_2;
}

/* A day with needles for belly and hip has both signs. */
static void put_side(struct composer *composer, const struct grid_row *row, double baseline)
{
	struct text_style word = large_body(composer, WEIGHT_BOLD);
	if (row->side == SIDE_NONE)
		return;
	struct rect text = put_text(composer, row->side_word, word, ALIGN_END, composer->right,
	                            baseline - text_cap_height(word), 0, COLOUR_INK);
	double x = text.x - GAP_3;
	if (row->hip)
		x = put_side_sign(composer, row->side, true, x, baseline);
	if (row->belly || !row->hip)
		put_side_sign(composer, row->side, false, x, baseline);
}

static void put_day_head(struct composer *composer, const struct large_block *block, double y)
{
	const struct grid_row *row = block->data;
	struct text_style number = composer_style(composer, TYPE_DAY, WEIGHT_BOLD);
	struct text_style date = composer_style(composer, TYPE_SECTION, WEIGHT_BOLD);
	struct text_style word = large_body(composer, WEIGHT_REGULAR);
	double baseline = y + text_cap_height(number);
	begin_group(composer, ROLE_H2);
	struct rect digits =
		put_plain(composer, arena_printf(composer->arena, "%d", row->day), number, composer->left, y, 0);
	struct rect day = put_plain(composer, block->again ? short_day(composer, row) : day_words(composer, row), date,
	                            digits.x + digits.width + GAP_3, baseline - text_cap_height(date), 0);
	if (block->again)
		put_plain(composer, say0(composer->speaker, "page.goes_on"), word, day.x + day.width + GAP_3,
		          baseline - text_cap_height(word), 0);
	put_side(composer, row, baseline);
	end_group(composer);
	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, y + head_height(composer), LINE_STRONG);
	end_group(composer);
}

/* ---- a dose ---- */

struct dose_row {
	const struct large_days *days;
	const struct grid_cell *cell;
	const struct grid_column *column;
	const char *time;
	const char *word;              /* "Bedtime", below the time; NULL: none, or it has no room there */
	const char *says_word;         /* the same among the lines */
	bool says_unless;              /* the first of those that a call may bring forward */
	const char *lines[LINES_MOST]; /* below the name; NULL: fewer */
	const char *after;             /* below the tag: of what is pushed out first, that the rest goes in; or NULL */
	bool tag_below;
	double words_width;
	struct rail *begins; /* the rail that begins or ends here */
	struct rail *ends;
};

/* Both tags of a dose are needed: a plus stands before the second. */
static double plus_width(struct composer *composer)
{
	return composer_text_width(composer, say0(composer->speaker, "grid.plus"), bold_lead(composer)) + PLUS_GAP;
}

static double marks_width(struct composer *composer, const struct grid_cell *cell)
{
	double first = grid_tag_size(composer, cell->mark).width;
	if (cell->second_mark.number == NULL)
		return first;
	return fmax(first, plus_width(composer) + grid_tag_size(composer, cell->second_mark).width);
}

static const struct text_block *name_of(struct composer *composer, const struct dose_row *row)
{
	return composer_set_name(composer, row->column->name, bold_lead(composer), row->words_width, 5);
}

static double lines_height(struct composer *composer, const struct dose_row *row)
{
	double height = text_height(name_of(composer, row));
	for (size_t i = 0; i < LINES_MOST; i++)
		if (row->lines[i] != NULL)
			height +=
				BETWEEN + composer_text_height(composer, row->lines[i],
			                                       large_body(composer, WEIGHT_REGULAR), row->words_width);
	return height;
}

/* Tags below one another, each with its tick; words in place of a tag. */
static double marks_height(struct composer *composer, const struct dose_row *row)
{
	const struct grid_cell *cell = row->cell;
	double first = grid_tag_size(composer, cell->mark).height;
	double second = grid_tag_size(composer, cell->second_mark).height;
	return second > 0 ? fmax(first, TICK) + GAP_3 + fmax(second, TICK) : first;
}

static struct text_style time_style(const struct composer *composer)
{
	struct text_style style = large_body(composer, WEIGHT_BOLD);
	style.tabular = true;
	return style;
}

static struct text_style slot_style(const struct composer *composer)
{
	struct text_style style = large_body(composer, WEIGHT_REGULAR);
	style.leading = TIME_LEADING;
	return style;
}

static double time_and_word_height(struct composer *composer, const struct dose_row *row)
{
	double word = composer_text_height(composer, row->word, slot_style(composer), TIME_WIDTH);
	return composer_text_height(composer, row->time, time_style(composer), TIME_WIDTH) +
	       (word > 0 ? TIME_WORD + word : 0);
}

static double after_height(struct composer *composer, const struct dose_row *row)
{
	if (row->after == NULL)
		return 0;
	return BETWEEN +
	       composer_text_height(composer, row->after, large_body(composer, WEIGHT_REGULAR), row->words_width);
}

/* Without what stands below its tag. */
static double upper_height(struct composer *composer, const struct dose_row *row)
{
	double words = fmax(lines_height(composer, row), time_and_word_height(composer, row));
	double marks = marks_height(composer, row);
	if (row->tag_below)
		return fmax(words + GAP_3 + marks, ROW_LEAST);
	return fmax(fmax(words, marks), ROW_LEAST);
}

static double row_height(struct composer *composer, const struct dose_row *row)
{
	return upper_height(composer, row) + after_height(composer, row);
}

static void put_marks(struct composer *composer, const struct dose_row *row, double x, double y, double height)
{
	const struct grid_cell *cell = row->cell;
	struct text_style style = large_body(composer, WEIGHT_REGULAR);
	double tick_x = composer->right - TICK - 0.3;
	struct rect first = grid_tag_size(composer, cell->mark);
	if (cell->mark.number == NULL && cell->below != NULL) {
		double room = tick_x - TAG_GAP - x;
		double text = composer_text_height(composer, cell->below, style, room);
		put_plain(composer, cell->below, style, x, y + (height - text) / 2, room);
	}
	double middle = y + height / 2;
	if (cell->second_mark.number != NULL) {
		struct rect second = grid_tag_size(composer, cell->second_mark);
		double top = y + (height - marks_height(composer, row)) / 2;
		double below = top + fmax(first.height, TICK) + GAP_3;
		struct text_style bold = bold_lead(composer);
		put_plain(composer, say0(composer->speaker, "grid.plus"), bold, x,
		          below + (second.height - text_cap_height(bold)) / 2 - 0.6, 0);
		put_grid_tag(composer, cell->second_mark, grid_mark_size(composer),
		             (struct point){x + plus_width(composer), below});
		put_done_or_tick(composer, (struct point){tick_x, below + (fmax(second.height, TICK) - TICK) / 2}, TICK,
		                 cell->done);
		middle = top + fmax(first.height, TICK) / 2;
	}
	if (cell->mark.number != NULL)
		put_grid_tag(composer, cell->mark, grid_mark_size(composer),
		             (struct point){x, middle - first.height / 2});
	put_done_or_tick(composer, (struct point){tick_x, middle - TICK / 2}, TICK, cell->done);
}

static void put_rail(struct composer *composer, const struct rail *rail, double y)
{
	double middle = (rail->y + y) / 2;
	double foot = composer->left - 0.6;
	double ends[] = {rail->y, y};
	begin_artifact(composer);
	begin_inside(composer);
	for (size_t i = 0; i < 2; i++) {
		double to = middle + (i == 0 ? -1 : 1) * (RAIL_VIAL / 2 + 0.6);
		put_rule(composer, (struct point){rail->x, ends[i]}, (struct point){rail->x, to}, RAIL_LINE,
		         COLOUR_INK);
		put_rule(composer, (struct point){rail->x - RAIL_LINE / 2, ends[i]}, (struct point){foot, ends[i]},
		         RAIL_LINE, COLOUR_INK);
	}
	put_picture(composer, PICTURE_LIQUID_VIAL, rail->x - RAIL_VIAL / 2, middle - RAIL_VIAL / 2, RAIL_VIAL);
	end_inside(composer);
	end_group(composer);
}

static void put_write_line(struct composer *composer, const struct dose_row *row, double y)
{
	struct text_style style = large_body(composer, WEIGHT_REGULAR);
	double x = row->days->tag_x;
	double end = composer->right - TICK - TAG_GAP;
	double unit = composer_text_width(composer, row->cell->unit, style);
	begin_artifact(composer);
	put_line(composer, x, end - (unit > 0 ? unit + GAP_1 : 0), y + 4, LINE_MAIN);
	end_group(composer);
	put_text(composer, row->cell->unit, style, ALIGN_END, end, y + 4 - text_cap_height(style), 0, COLOUR_INK);
}

/* Between the rule above and what stands first in the row. */
static void put_new_corner(struct composer *composer, double y)
{
	struct point at = {composer->left, y - NEW_ABOVE};
	begin_artifact(composer);
	put_mark(composer, (struct placed_mark){.kind = MARK_CORNER,
	                                        .area = {at.x, at.y, NEW_CORNER, NEW_CORNER},
	                                        .inside = true,
	                                        .corner = {.at = at, .leg = NEW_CORNER}});
	end_group(composer);
}

static void put_dose_words(struct composer *composer, const struct dose_row *row, double y)
{
	double x = composer->left + WORDS_X;
	struct rect line = put_block(composer, name_of(composer, row), ALIGN_START, x, y, COLOUR_INK);
	for (size_t i = 0; i < LINES_MOST; i++)
		if (row->lines[i] != NULL)
			line = put_plain(composer, row->lines[i], large_body(composer, WEIGHT_REGULAR), x,
			                 line.y + line.height + BETWEEN, row->words_width);
}

static void put_time_and_sign(struct composer *composer, const struct dose_row *row, double middle)
{
	bool waits = row->cell->state == CELL_WRITE_IN;
	double x = composer->left + (waits ? WAIT_SIDE : 0);
	struct rect clock = put_plain(composer, row->time, time_style(composer), x,
	                              middle - time_and_word_height(composer, row) / 2, TIME_WIDTH);
	put_plain(composer, row->word, slot_style(composer), x, clock.y + clock.height + TIME_WORD, TIME_WIDTH);
	begin_artifact(composer);
	put_picture(composer, waits ? PICTURE_PHONE : row->column->pictogram, composer->left + PICTURE_X,
	            middle - PICTURE / 2, PICTURE);
	end_group(composer);
}

static void put_wait_frame(struct composer *composer, double y, double height)
{
	begin_artifact(composer);
	put_dashed_frame(composer, (struct rect){composer->left + 0.25, y, LIVE_WIDTH - 0.5, height}, LINE_MAIN);
	end_group(composer);
}

/* What is said on the telephone is written down, and ticked. */
static void put_write_in_row(struct composer *composer, const struct dose_row *row, double middle)
{
	put_write_line(composer, row, middle);
	begin_artifact(composer);
	put_tick(composer, (struct point){composer->right - TICK - WAIT_SIDE, middle - TICK / 2}, TICK);
	end_group(composer);
}

/* A rail begins at the middle of this row, or ends there: one over a page's end is not drawn. */
static void put_rails(struct composer *composer, const struct dose_row *row, double middle)
{
	if (row->begins != NULL) {
		row->begins->page = composer_page_index(composer);
		row->begins->y = middle;
	}
	if (row->ends != NULL && row->ends->page == composer_page_index(composer))
		put_rail(composer, row->ends, middle);
}

static void put_dose(struct composer *composer, const struct large_block *block, double y)
{
	const struct dose_row *row = block->data;
	bool waits = row->cell->state == CELL_WRITE_IN;
	double frame = waits ? WAIT_FRAME : 0;
	composer_note_part(composer, row->cell->dose);
	if (waits)
		put_wait_frame(composer, y, block->height);
	y += frame;
	double words = lines_height(composer, row);
	double upper = block->height - 2 * frame - after_height(composer, row);
	double height = row->tag_below ? words : upper;
	double middle = y + height / 2;
	if (row->cell->new_amount)
		put_new_corner(composer, y);
	begin_group(composer, ROLE_LIST_ITEM);
	put_time_and_sign(composer, row, middle);
	put_dose_words(composer, row, y + (height - words) / 2);
	if (waits)
		put_write_in_row(composer, row, middle);
	else if (row->tag_below)
		put_marks(composer, row, composer->left + WORDS_X, y + words + GAP_3, upper - words - GAP_3);
	else
		put_marks(composer, row, row->days->tag_x, y, height);
	put_plain(composer, row->after, large_body(composer, WEIGHT_REGULAR), composer->left + WORDS_X,
	          y + upper + BETWEEN, row->words_width);
	end_group(composer);
	put_rails(composer, row, middle);
}

/* ---- bands ---- */

#define HOUSE 11.0
#define VISIT_X 16.0

static void put_visit(struct composer *composer, const struct large_block *block, double y)
{
	const struct grid_band *band = block->data;
	const char *text = band->own_text;
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_picture(composer, visit_sign(band), composer->left, y + (block->height - HOUSE) / 2, HOUSE);
	end_group(composer);
	double width = LIVE_WIDTH - VISIT_X;
	double height = composer_text_height(composer, text, large_body(composer, WEIGHT_REGULAR), width);
	put_plain(composer, text, large_body(composer, WEIGHT_REGULAR), composer->left + VISIT_X,
	          y + (block->height - height) / 2, width);
	end_group(composer);
}

static void put_line_of_words(struct composer *composer, const struct large_block *block, double y)
{
	begin_group(composer, ROLE_LIST_ITEM);
	put_plain(composer, block->data, large_body(composer, WEIGHT_REGULAR), composer->left, y, LIVE_WIDTH);
	end_group(composer);
}

#define EXACT_LINE 1.8
#define EXACT_PAD 6.0
#define EXACT_DIAL 10.0
#define EXACT_TEXT 32.0

struct exact_row {
	const struct grid_band *band;
	double note_width;
	double name_width;
	struct rect tag;
};

static double exact_time_height(struct composer *composer, const struct exact_row *row)
{
	double height = cap(composer, TYPE_TITLE);
	if (row->band->day_note != NULL)
		height += BETWEEN + composer_text_height(composer, row->band->day_note,
		                                         large_body(composer, WEIGHT_BOLD), row->note_width);
	return height + BETWEEN +
	       composer_text_height(composer, row->band->note, large_body(composer, WEIGHT_BOLD), row->note_width);
}

static double exact_name_height(struct composer *composer, const struct exact_row *row)
{
	double height =
		text_height(composer_set_name(composer, row->band->name, bold_lead(composer), row->name_width, 4));
	const char *page = composer_page_ref(composer, row->band->section);
	const char *lines[] = {row->band->amount, page};
	for (size_t i = 0; i < 2; i++)
		if (lines[i] != NULL)
			height += BETWEEN + composer_text_height(composer, lines[i],
			                                         large_body(composer, WEIGHT_REGULAR), row->name_width);
	return fmax(height, row->tag.height);
}

static void put_exact_words(struct composer *composer, const struct exact_row *row, double y)
{
	const struct grid_band *band = row->band;
	struct text_style time = composer_style(composer, TYPE_TITLE, WEIGHT_BOLD);
	double x = composer->left + EXACT_TEXT;
	struct rect line = put_plain(composer, band->time, time, x, y, 0);
	if (band->day_note != NULL)
		line = put_plain(composer, band->day_note, large_body(composer, WEIGHT_BOLD), x,
		                 line.y + line.height + BETWEEN, row->note_width);
	put_text(composer, band->note, large_body(composer, WEIGHT_BOLD), ALIGN_START, x,
	         line.y + line.height + BETWEEN, row->note_width, COLOUR_RUST);
}

static void put_exact(struct composer *composer, const struct large_block *block, double y)
{
	const struct exact_row *row = block->data;
	const struct grid_band *band = row->band;
	composer_note_part(composer, band->dose);
	double half = EXACT_LINE / 2;
	double first = exact_time_height(composer, row);
	double x = composer->left + EXACT_TEXT;
	struct box box = {.radius = 2, .line = EXACT_LINE, .stroke = COLOUR_RUST, .fill = COLOUR_WHITE};
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_box(composer,
	        (struct rect){composer->left + half, y + half, LIVE_WIDTH - EXACT_LINE, block->height - EXACT_LINE},
	        box);
	put_clock(composer, (struct point){composer->left + EXACT_PAD + EXACT_DIAL, y + EXACT_PAD + first / 2},
	          EXACT_DIAL, band->clock, LINE_STRONG, COLOUR_INK);
	end_group(composer);
	put_exact_words(composer, row, y + EXACT_PAD);
	double top = y + EXACT_PAD + first + GAP_4;
	double height = block->height - first - 2 * EXACT_PAD - GAP_4;
	begin_artifact(composer);
	put_picture(composer, band->pictogram, composer->left + EXACT_PAD + EXACT_DIAL - PICTURE / 2,
	            top + (height - PICTURE) / 2, PICTURE);
	end_group(composer);
	struct rect line =
		put_block(composer, composer_set_name(composer, band->name, bold_lead(composer), row->name_width, 4),
	                  ALIGN_START, x, top, COLOUR_INK);
	if (band->amount != NULL)
		line = put_plain(composer, band->amount, large_body(composer, WEIGHT_REGULAR), x,
		                 line.y + line.height + BETWEEN, row->name_width);
	put_page_ref(composer, band->section, large_body(composer, WEIGHT_REGULAR), ALIGN_START, x,
	             line.y + line.height + BETWEEN);
	double tick_x = composer->right - EXACT_PAD - TICK;
	if (band->mark.number != NULL)
		put_grid_tag(composer, band->mark, grid_mark_size(composer),
		             (struct point){tick_x - TAG_GAP - row->tag.width, top + (height - row->tag.height) / 2});
	put_done_or_tick(composer, (struct point){tick_x, top + (height - TICK) / 2}, TICK, band->done);
	end_group(composer);
}

/* ---- what waits ---- */

#define WAIT_PAD 5.0
#define WAIT_BOX_WIDTH 11.0
#define WAIT_BOX_HEIGHT 12.0

static double waiting_words_height(struct composer *composer, const struct grid_waiting *waiting)
{
	double width = LIVE_WIDTH - VISIT_X - 2 * WAIT_PAD;
	return composer_text_height(composer, waiting->heading, large_body(composer, WEIGHT_REGULAR), width) + BETWEEN +
	       composer_text_height(composer, waiting->text, large_body(composer, WEIGHT_REGULAR), width);
}

static double waiting_height_of(struct composer *composer, const struct grid_waiting *waiting)
{
	return 2 * WAIT_PAD + waiting_words_height(composer, waiting) + GAP_4 + WAIT_BOX_HEIGHT + BETWEEN +
	       cap(composer, TYPE_CAPTION) + GAP_4 + cap(composer, TYPE_BODY);
}

static double put_date_boxes(struct composer *composer, const char *caption, double x, double y)
{
	struct text_style style = composer_style(composer, TYPE_CAPTION, WEIGHT_REGULAR);
	double width = fmax(2 * WAIT_BOX_WIDTH, composer_text_width(composer, caption, style));
	begin_artifact(composer);
	for (int i = 0; i < 2; i++)
		put_write_in(composer, (struct rect){x + i * WAIT_BOX_WIDTH, y, WAIT_BOX_WIDTH, WAIT_BOX_HEIGHT});
	end_group(composer);
	put_plain(composer, caption, style, x, y + WAIT_BOX_HEIGHT + BETWEEN, 0);
	return x + width + GAP_4;
}

static void put_waiting(struct composer *composer, const struct large_block *block, double y)
{
	const struct grid_waiting *waiting = block->data;
	struct text_style style = large_body(composer, WEIGHT_REGULAR);
	composer_note_part(composer, waiting->item);
	double x = composer->left + VISIT_X + WAIT_PAD;
	double width = LIVE_WIDTH - VISIT_X - 2 * WAIT_PAD;
	begin_artifact(composer);
	put_dashed_frame(composer,
	                 (struct rect){composer->left + 0.25, y + 0.25, LIVE_WIDTH - 0.5, block->height - 0.5},
	                 LINE_MAIN);
	put_picture(composer, PICTURE_PHONE, composer->left + WAIT_PAD, y + WAIT_PAD, HOUSE);
	end_group(composer);
	struct rect line = put_paragraph(composer, waiting->heading, style, x, y + WAIT_PAD, width);
	line = put_paragraph(composer, waiting->text, style, x, line.y + line.height + BETWEEN, width);
	begin_group(composer, ROLE_PARAGRAPH);
	double boxes = line.y + line.height + GAP_4;
	struct rect start = put_plain(composer, waiting->start_word, style, x,
	                              boxes + (WAIT_BOX_HEIGHT - text_cap_height(style)) / 2, 0);
	double end = put_date_boxes(composer, waiting->day_word, start.x + start.width + GAP_3, boxes);
	put_date_boxes(composer, waiting->month_word, end, boxes);
	double last = boxes + WAIT_BOX_HEIGHT + BETWEEN + cap(composer, TYPE_CAPTION) + GAP_4;
	if (waiting->dose_text != NULL) {
		start = put_plain(composer, waiting->dose_text, large_body(composer, WEIGHT_BOLD), x, last, 0);
	} else {
		begin_artifact(composer);
		put_line(composer, x, x + 34, last + text_cap_height(style), LINE_MAIN);
		end_group(composer);
		start = put_plain(composer, waiting->unit, style, x + 36, last, 0);
	}
	put_page_ref(composer, waiting->section, style, ALIGN_END, composer->right - WAIT_PAD, last);
	end_group(composer);
}

/* ---- building ---- */

static bool rail_is_open(const struct large_days *days)
{
	for (size_t i = 0; i < days->grid->n_columns; i++)
		if (days->rails[i] != NULL)
			return true;
	return false;
}

static void belongs_to_day(const struct large_days *days, struct large_block *block, bool pair)
{
	block->head = days->head;
	block->break_cost = DAY_BREAK + (pair ? PAIR_BREAK : 0);
	block->around = ROLE_LIST;
	block->rule = LARGE_RULE_FINE;
}

/* "×3 vials"; of a dose from two syringes, each with its own. */
static const char *containers_line(struct composer *composer, const struct grid_cell *cell)
{
	if (cell->beside == NULL || cell->second_beside == NULL)
		return cell->beside != NULL ? cell->beside : cell->second_beside;
	return say2(composer->speaker, "list.comma", "first", cell->beside, "last", cell->second_beside);
}

/* Its "then all" is no half of two. */
static bool pushes_out(const struct grid_cell *cell)
{
	return cell->half != NULL && cell->dose != NULL && cell->dose->half == HALF_NONE;
}

static const char *amount_line(struct composer *composer, const struct grid_cell *cell)
{
	if (cell->half == NULL || pushes_out(cell))
		return cell->amount;
	if (cell->amount == NULL)
		return cell->half;
	return say2(composer->speaker, "list.comma", "first", cell->half, "last", cell->amount);
}

static void fill_lines(struct composer *composer, struct dose_row *row)
{
	const struct grid_cell *cell = row->cell;
	size_t n = 0;
	if (cell->state == CELL_WRITE_IN)
		row->lines[n++] = say0(composer->speaker, "grid.wait_call");
	else if (amount_line(composer, cell) != NULL)
		row->lines[n++] = amount_line(composer, cell);
	if (cell->how >= 0)
		row->lines[n++] = composer_page_ref(composer, cell->how);
	if (containers_line(composer, cell) != NULL)
		row->lines[n++] = containers_line(composer, cell);
	if (pushes_out(cell))
		row->after = cell->goes_in == NULL ? cell->half
		                                   : say2(composer->speaker, "list.comma", "first", cell->half, "last",
		                                          cell->goes_in);
	else if (cell->goes_in != NULL)
		row->lines[n++] = cell->goes_in;
	if (cell->new_amount)
		row->lines[n++] = arena_printf(composer->arena, TEXT_BOLD_ON "%s" TEXT_BOLD_OFF,
		                               grid_new_dose_words(composer, cell));
	if (row->says_word != NULL)
		row->lines[n++] = row->says_word;
	if (row->says_unless)
		row->lines[n++] = grid_unless_words(composer, row->column);
}

/* Where a pair's first dose begins a rail, and its second ends it. */
static void note_rails(struct large_days *days, size_t column, struct dose_row *row)
{
	struct rail **open = &days->rails[column];
	size_t n_open = 0;
	if (*open != NULL) {
		row->ends = *open;
		*open = NULL;
	}
	if (!row->cell->joins_next)
		return;
	for (size_t i = 0; i < days->grid->n_columns; i++)
		n_open += days->rails[i] != NULL;
	if (n_open >= RAILS_MOST)
		return;
	*open = arena_alloc(days->composer->arena, sizeof **open);
	(*open)->x = days->composer->left - 3.6 - (double)n_open * 3.8;
	row->begins = *open;
}

static bool is_first_sooner(const struct grid *grid, const struct grid_row *day, size_t column)
{
	for (const struct grid_row *row = grid->rows; row < day; row++)
		if (row->cells[column].unless_sooner)
			return false;
	return day->cells[column].unless_sooner;
}

/* The slot's word belongs to the slot's time: below it, or where it is too long for that among the words. */
static void choose_word(struct composer *composer, struct dose_row *row, const struct grid_group *group)
{
	if (group->word == NULL || row->cell->own_time != NULL)
		return;
	if (composer_widest_word(composer, group->word, large_body(composer, WEIGHT_REGULAR)) <= TIME_WIDTH)
		row->word = group->word;
	else
		row->says_word = group->word;
}

static void add_dose(struct large_days *days, const struct grid_row *day, size_t column)
{
	struct composer *composer = days->composer;
	const struct grid_group *group = grid_group_of(days->grid, column);
	struct dose_row *row = arena_alloc(composer->arena, sizeof *row);
	*row = (struct dose_row){.days = days, .cell = &day->cells[column], .column = &days->grid->columns[column]};
	row->says_unless = is_first_sooner(days->grid, day, column);
	row->time = row->cell->own_time != NULL ? row->cell->own_time : group->time;
	choose_word(composer, row, group);
	row->tag_below = marks_width(composer, row->cell) > composer->right - TICK - TAG_GAP - days->tag_x + TOLERANCE;
	row->words_width =
		(row->tag_below ? composer->right - TICK - TAG_GAP : days->tag_x) - GAP_2 - (composer->left + WORDS_X);
	fill_lines(composer, row);
	bool pair = rail_is_open(days);
	note_rails(days, column, row);
	double frame = row->cell->state == CELL_WRITE_IN ? 2 * WAIT_FRAME : 0;
	struct large_block *block = large_add(&days->blocks, row_height(composer, row) + frame, GAP_4, put_dose, row);
	belongs_to_day(days, block, pair);
}

static void add_exact(struct large_days *days, const struct grid_band *band)
{
	struct composer *composer = days->composer;
	struct exact_row *row = arena_alloc(composer->arena, sizeof *row);
	double inner = LIVE_WIDTH - EXACT_TEXT - EXACT_PAD;
	*row = (struct exact_row){.band = band, .note_width = inner, .tag = grid_tag_size(composer, band->mark)};
	row->name_width = inner - TICK - TAG_GAP - (row->tag.width > 0 ? row->tag.width + TAG_GAP : 0);
	double height = 2 * EXACT_PAD + exact_time_height(composer, row) + GAP_4 + exact_name_height(composer, row);
	struct large_block *block = large_add(&days->blocks, height, GAP_3, put_exact, row);
	belongs_to_day(days, block, rail_is_open(days));
	block->rule = LARGE_RULE_NONE;
}

static void add_day(struct large_days *days, const struct grid_row *row)
{
	struct composer *composer = days->composer;
	struct large_block *head = large_add(&days->blocks, head_height(composer), GAP_5, put_day_head, row);
	head->keep = true;
	head->break_cost = rail_is_open(days) ? PAIR_BREAK : 0;
	days->head = days->blocks.n;
	for (size_t i = 0; i < row->n_visits_above; i++) {
		const char *text = row->visits_above[i].own_text;
		double height = fmax(HOUSE, composer_text_height(composer, text, large_body(composer, WEIGHT_REGULAR),
		                                                 LIVE_WIDTH - VISIT_X));
		belongs_to_day(days, large_add(&days->blocks, height, GAP_3, put_visit, &row->visits_above[i]),
		               rail_is_open(days));
	}
	for (size_t i = 0; i < days->grid->n_columns; i++)
		if (row->cells != NULL && row->cells[i].state != CELL_EMPTY)
			add_dose(days, row, i);
	for (size_t i = 0; i < row->n_exact; i++)
		add_exact(days, &row->exact[i]);
	if (row->rest && row->n_exact == 0) {
		double height = composer_text_height(composer, row->rest_text, large_body(composer, WEIGHT_REGULAR),
		                                     LIVE_WIDTH);
		belongs_to_day(days, large_add(&days->blocks, height, GAP_3, put_line_of_words, row->rest_text),
		               rail_is_open(days));
	}
	/* The rule above a day's first block is the head's own. */
	days->blocks.list[days->head].rule = LARGE_RULE_NONE;
}

static double tag_column(struct composer *composer, const struct grid *grid)
{
	double widest = TAG_LEAST;
	double most = LIVE_WIDTH - WORDS_X - WORDS_LEAST - TICK - TAG_GAP;
	for (size_t i = 0; i < grid->n_rows; i++)
		for (size_t j = 0; j < grid->n_columns; j++) {
			const struct grid_cell *cell = &grid->rows[i].cells[j];
			double width = marks_width(composer, cell);
			if (width <= most)
				widest = fmax(widest, width);
		}
	return composer->right - TICK - TAG_GAP - widest;
}

void large_grid(struct composer *composer, const struct grid *grid)
{
	struct large_days days = {.composer = composer,
	                          .grid = grid,
	                          .blocks = large_blocks_of(composer),
	                          .tag_x = tag_column(composer, grid),
	                          .rails = arena_alloc(composer->arena, (grid->n_columns + 1) * sizeof *days.rails)};
	days.blocks.days = true;
	for (size_t i = 0; i < grid->n_rows; i++)
		add_day(&days, &grid->rows[i]);
	large_add_text(&days.blocks, grid->after, TYPE_LEAD, WEIGHT_BOLD);
	for (size_t i = 0; i < grid->n_waiting; i++)
		large_add(&days.blocks, waiting_height_of(composer, &grid->waiting[i]), GAP_4, put_waiting,
		          &grid->waiting[i]);
	large_place(&days.blocks, composer->section->title, grid->n_rows > 0 ? NULL : composer->section->lead);
}
