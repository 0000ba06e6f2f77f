/*
 * grid_cell.c - one dose in the grid: amount over tag, sign over tick, which half between.
 *
 *      .---------------------.        .---------------------.
 *      | 125 mcg  first  (o) |        |/new      at 07:00   |
 *      | [0.5 mL]  half  [ ] |        | ...                 |
 *      '----\/---------------'        '---------------------'
 *
 * All measures are from the cell's own edges; what is spare in its height is
 * shared between above, between and below.
 */
#include "page/grid.h"

#include <math.h>

#define CELL_INSET_X 0.25
#define CELL_INSET_Y 0.6
#define AMOUNT_X 1.75
#define AMOUNT_X_NEW 3.0 /* clear of the corner */
#define TAG_X 1.6
#define TICK_RIGHT 1.3
#define TICK_BOTTOM 1.2
#define BESIDE_AMOUNT 9.8 /* left and right of the amount, the sign included */
#define BESIDE_TAG 12.0   /* left and right of the tag, the tick included */
#define BESIDE_HALF 12.8  /* left, right and between of amount or tag, half and tick */
#define BESIDE_GAP 1.2    /* between a tag and the words beside it */
#define GOES_IN_GAP 2.4   /* between the amount and how much goes in */
#define PLUS_GAP 0.9
#define TAG_POINT 1.3 /* what a tag's point takes of its height */
#define SIGN_MOST 4.3
#define EXTRA_TIME 5.0
#define EXTRA_SECOND 7.2
#define SECOND_APART 0.8 /* the first tick stands so much higher than it would alone */
#define CORNER_LEG 3.5
#define VIAL_SIZE 4.2
#define HALF_LEADING 4.1
#define HALF_BOTTOM 1.7
#define HALF_PAGE_LEADING 3.5 /* of three lines: the third is the page */
#define HALF_PAGE_BOTTOM 1.7
#define HALF_CLEAR 0.8  /* of the frame */
#define HALF_WIDTH 13.0 /* so that both halves take two lines */

#define WAIT_LEAST 44.0
#define WAIT_X 2.2
#define WAIT_LINE_MOST 16.0
#define WAIT_PHONE 5.4
#define WAIT_LEADING 4.8
#define WAIT_INSET 1.0 /* of a tick, further from the dashed frame than from a plain one */
#define WAIT_EXTRA 1.6
#define WAIT_ABOVE 3.2 /* so that the telephone and the tick have room above one another */
#define WAIT_BESIDE (GRID_TICK + 2.0)

const struct grid_cell *cell_at(const struct grid_sheet *sheet, size_t row, size_t column)
{
	return &sheet->rows[row].row->cells[sheet->columns[column].index];
}

static struct text_style amount_style(const struct composer *composer)
{
	return composer_style(composer, TYPE_BODY, WEIGHT_BOLD);
}

static struct text_style small_style(const struct composer *composer, enum text_weight weight)
{
	struct text_style style = composer_style(composer, TYPE_REFERENCE, weight);
	style.leading = HALF_LEADING;
	return style;
}

double grid_mark_size(const struct composer *composer)
{
	return composer_style(composer, TYPE_MARK_GRID, WEIGHT_BOLD).size;
}

struct rect grid_tag_size(struct composer *composer, struct mark_words words)
{
	if (words.number == NULL)
		return (struct rect){0, 0, 0, 0};
	return measure_grid_tag(composer, words, grid_mark_size(composer));
}

static double beside_width(struct composer *composer, const char *words)
{
	return words == NULL ? 0
	                     : BESIDE_GAP + composer_text_width(composer, words, small_style(composer, WEIGHT_BOLD));
}

/* Both tags of a dose are needed: a plus stands before the second. */
static double plus_width(struct composer *composer)
{
	return composer_text_width(composer, say0(composer->speaker, "grid.plus"), amount_style(composer)) + PLUS_GAP;
}

static double marks_width(struct composer *composer, const struct grid_cell *cell)
{
	double first = grid_tag_size(composer, cell->mark).width + beside_width(composer, cell->beside);
	if (cell->second_mark.number == NULL)
		return first;
	return fmax(first, plus_width(composer) + grid_tag_size(composer, cell->second_mark).width +
	                           beside_width(composer, cell->second_beside));
}

/* ---- measures ---- */

double cell_goes_in_width(struct composer *composer, const struct grid_cell *cell)
{
	if (cell->state != CELL_DOSE || cell->goes_in == NULL)
		return 0;
	return (cell->new_amount ? AMOUNT_X_NEW - AMOUNT_X : 0) +
	       composer_text_width(composer, cell->amount, amount_style(composer)) + GOES_IN_GAP +
	       composer_text_width(composer, cell->goes_in, small_style(composer, WEIGHT_REGULAR)) + BESIDE_AMOUNT;
}

double cell_least_width(struct composer *composer, const struct grid_cell *cell)
{
	if (cell->state == CELL_EMPTY)
		return 0;
	if (cell->state == CELL_WRITE_IN)
		return WAIT_LEAST;
	double tag = marks_width(composer, cell);
	double below = composer_text_width(composer, cell->below, small_style(composer, WEIGHT_REGULAR));
	double amount = composer_text_width(composer, cell->amount, amount_style(composer)) +
	                (cell->new_amount ? AMOUNT_X_NEW - AMOUNT_X : 0);
	double width = fmax(amount + BESIDE_AMOUNT, fmax(tag, below) + BESIDE_TAG);
	if (cell->half != NULL)
		width = fmax(width,
		             fmax(amount, tag) +
		                     composer_widest_word(composer, cell->half, small_style(composer, WEIGHT_BOLD)) +
		                     BESIDE_HALF);
	if (cell->own_time != NULL)
		width = fmax(width,
		             composer_text_width(composer, cell->own_time, amount_style(composer)) + BESIDE_AMOUNT);
	return width;
}

/* With the page that says what to do then. */
const char *grid_unless_words(struct composer *composer, const struct grid_column *column)
{
	if (column->waiting < 0)
		return say0(composer->speaker, "grid.unless_sooner");
	return say1(composer->speaker, "grid.unless_page", "page", composer_page_ref(composer, column->waiting));
}

static const char *unless_text(const struct grid_sheet *sheet, size_t column)
{
	return grid_unless_words(sheet->composer, &sheet->grid->columns[sheet->columns[column].index]);
}

double cell_words_width(const struct grid_sheet *sheet, size_t column)
{
	bool said = false;
	for (size_t i = 0; i < sheet->n_rows; i++)
		said = said || cell_at(sheet, i, column)->unless_sooner;
	if (!said)
		return 0;
	return composer_text_width(sheet->composer, unless_text(sheet, column),
	                           small_style(sheet->composer, WEIGHT_REGULAR)) +
	       2 * (CELL_INSET_X + AMOUNT_X) + 0.1;
}

/* Said once: in the first such cell of a column on the sheet. */
static bool says_unless(const struct grid_sheet *sheet, size_t row, size_t column)
{
	if (!cell_at(sheet, row, column)->unless_sooner)
		return false;
	return row == 0 || !cell_at(sheet, row - 1, column)->unless_sooner;
}

static double inner_width(const struct grid_sheet *sheet, size_t column)
{
	return sheet->columns[column].width - 2 * (CELL_INSET_X + AMOUNT_X);
}

static struct text_style wait_style(const struct composer *composer)
{
	struct text_style style = composer_style(composer, TYPE_BODY, WEIGHT_BOLD);
	style.leading = WAIT_LEADING;
	return style;
}

static double wait_heading_width(const struct grid_sheet *sheet, size_t column)
{
	return sheet->columns[column].width - WAIT_X - WAIT_PHONE - 3;
}

/* The telephone stands left of the ticks where the heading leaves room, else above them. */
static bool phone_is_beside(const struct grid_sheet *sheet, size_t column)
{
	double heading = composer_text_width(sheet->composer, say0(sheet->composer->speaker, "grid.wait_call"),
	                                     wait_style(sheet->composer));
	return heading + WAIT_BESIDE <= wait_heading_width(sheet, column);
}

static double wait_extra(const struct grid_sheet *sheet, size_t row, size_t column)
{
	const struct sheet_frame *frame = grid_frame_at(sheet, row, column);
	if (frame == NULL || frame->first != row)
		return 0;
	const struct text_block *block = composer_set(sheet->composer, say0(sheet->composer->speaker, "grid.wait_call"),
	                                              wait_style(sheet->composer), wait_heading_width(sheet, column));
	return (phone_is_beside(sheet, column) ? WAIT_EXTRA : WAIT_ABOVE) + (text_lines(block) - 1) * WAIT_LEADING;
}

double cell_extra_height(const struct grid_sheet *sheet, size_t row, size_t column)
{
	const struct grid_cell *cell = cell_at(sheet, row, column);
	double extra = 0;
	if (cell->state == CELL_WRITE_IN)
		return wait_extra(sheet, row, column);
	if (cell->own_time != NULL)
		extra += EXTRA_TIME;
	if (says_unless(sheet, row, column))
		extra += 2 + composer_text_height(sheet->composer, unless_text(sheet, column),
		                                  small_style(sheet->composer, WEIGHT_REGULAR),
		                                  inner_width(sheet, column));
	if (cell->second_mark.number != NULL)
		extra += EXTRA_SECOND;
	return extra;
}

/* ---- frames that span rows ---- */

static struct rect frame_area(const struct grid_sheet *sheet, const struct sheet_frame *frame)
{
	const struct sheet_column *column = &sheet->columns[frame->column];
	const struct sheet_row *first = &sheet->rows[frame->first];
	const struct sheet_row *last = &sheet->rows[frame->last];
	double top = first->top + CELL_INSET_Y;
	return (struct rect){column->x + CELL_INSET_X, top, column->width - 2 * CELL_INSET_X,
	                     last->top + last->height - CELL_INSET_Y - top};
}

/* The strong line stands within the cell's outline. */
static struct rect inset(struct rect area, double by)
{
	return (struct rect){area.x + by, area.y + by, area.width - 2 * by, area.height - 2 * by};
}

static double tick_x(struct rect area)
{
	return area.x + area.width - TICK_RIGHT - GRID_TICK;
}

/* The vial stands beside the ticks, on the line where the two halves meet. */
static void put_join(const struct grid_sheet *sheet, const struct sheet_frame *frame, struct rect area)
{
	struct composer *composer = sheet->composer;
	const struct sheet_row *second = &sheet->rows[frame->last];
	double y = (second->bands_top + second->top) / 2;
	begin_inside(composer);
	double vial_x = tick_x(area) - 2.2 - VIAL_SIZE;
	put_dashed_rule(composer, (struct point){area.x + 0.8, y}, (struct point){vial_x + 0.4, y}, LINE_OUTLINE);
	put_dashed_rule(composer, (struct point){vial_x + VIAL_SIZE - 0.4, y},
	                (struct point){area.x + area.width - 0.8, y}, LINE_OUTLINE);
	put_picture(composer, PICTURE_LIQUID_VIAL, vial_x, y - VIAL_SIZE / 2, VIAL_SIZE);
	end_inside(composer);
}

void grid_put_frames(const struct grid_sheet *sheet)
{
	for (size_t i = 0; i < sheet->n_frames; i++) {
		const struct sheet_frame *frame = &sheet->frames[i];
		struct rect area = frame_area(sheet, frame);
		struct box box = {
			.radius = GRID_CELL_RADIUS, .line = LINE_STRONG, .stroke = COLOUR_INK, .fill = COLOUR_NONE};
		if (frame->kind == FRAME_WAIT) {
			box.line = LINE_MAIN;
			box.dashed = true;
		}
		put_box(sheet->composer, inset(area, box.line / 2), box);
		if (frame->kind == FRAME_SPLIT)
			put_join(sheet, frame, area);
	}
}

/* ---- one dose ---- */

const char *grid_new_dose_words(struct composer *composer, const struct grid_cell *cell)
{
	return cell->shown_by < 0 ? say0(composer->speaker, "grid.new_dose")
	                          : say1(composer->speaker, "grid.new_dose_page", "page",
	                                 composer_page_ref(composer, cell->shown_by));
}

static void put_corner(struct composer *composer, struct rect area, const struct grid_cell *cell)
{
	begin_chart(composer, grid_new_dose_words(composer, cell));
	begin_inside(composer);
	put_mark(composer, (struct placed_mark){.kind = MARK_CORNER,
	                                        .area = {area.x, area.y, CORNER_LEG, CORNER_LEG},
	                                        .corner = {{area.x, area.y}, CORNER_LEG}});
	end_inside(composer);
	end_group(composer);
}

static void put_cell_box(struct composer *composer, struct rect area, const struct grid_cell *cell)
{
	struct box box = {.radius = GRID_CELL_RADIUS,
	                  .line = cell->done ? LINE_HAIR : LINE_OUTLINE,
	                  .stroke = COLOUR_INK,
	                  .fill = COLOUR_NONE};
	put_box(composer, area, box);
}

/* The tick box, or the tick of what is done. */
static void put_cell_tick(struct composer *composer, struct rect area, bool done, double bottom)
{
	put_done_or_tick(composer, (struct point){tick_x(area), bottom - TICK_BOTTOM - GRID_TICK}, GRID_TICK, done);
}

static double put_own_time(struct composer *composer, struct rect area, const struct grid_cell *cell)
{
	struct text_style style = amount_style(composer);
	double radius = 2.1;
	struct point centre = {area.x + AMOUNT_X + radius, area.y + EXTRA_TIME / 2 + 0.1};
	begin_artifact(composer);
	put_clock(composer, centre, radius, cell->dose->time, LINE_OUTLINE, COLOUR_INK);
	put_line(composer, area.x + 1.6, area.x + area.width - 1.6, area.y + EXTRA_TIME + 0.2, LINE_FINE);
	end_group(composer);
	put_plain(composer, cell->own_time, style, centre.x + radius + 1.2, centre.y - text_cap_height(style) / 2, 0);
	return EXTRA_TIME;
}

static double put_unless(const struct grid_sheet *sheet, size_t column, struct rect area, double y)
{
	struct text_style style = small_style(sheet->composer, WEIGHT_REGULAR);
	struct rect text = put_plain(sheet->composer, unless_text(sheet, column), style, area.x + AMOUNT_X, y + 1.6,
	                             inner_width(sheet, column));
	return text.height + 2;
}

/* In the middle of the tag's body. */
static struct rect put_beside(struct composer *composer, const char *words, struct rect tag)
{
	struct text_style style = small_style(composer, WEIGHT_BOLD);
	return put_plain(composer, words, style, tag.x + tag.width + BESIDE_GAP,
	                 tag.y + (tag.height - TAG_POINT - text_cap_height(style)) / 2, 0);
}

/* On the amount's line, where the sign leaves room for it. */
static void put_goes_in(struct composer *composer, struct rect area, const struct grid_cell *cell, struct point base)
{
	struct text_style style = small_style(composer, WEIGHT_REGULAR);
	if (area.width + 2 * CELL_INSET_X + TOLERANCE < cell_goes_in_width(composer, cell) || cell->goes_in == NULL)
		return;
	put_plain(composer, cell->goes_in, style, base.x, base.y - text_cap_height(style), 0);
}

/*
 * A second half says where it begins, in a line below its words: where these end
 * and that begins their letters keep clear of one another, of the vial on the
 * join and of the frame. False: there is no room, or it has no such page.
 */
static bool says_how(struct composer *composer, const struct grid_cell *cell, double room, double page_room,
                     double height)
{
	struct text_style half = small_style(composer, WEIGHT_BOLD);
	struct text_style regular = small_style(composer, WEIGHT_REGULAR);
	half.leading = HALF_PAGE_LEADING;
	if (cell->how < 0)
		return false;
	const struct text_block *words = composer_set(composer, cell->half, half, room);
	const struct text_block *page = composer_set(composer, composer_page_ref(composer, cell->how), regular, 0);
	struct rect above = text_ink(words);
	struct rect below = text_ink(page);
	double hangs = above.y + above.height - text_height(words);
	double stands = HALF_PAGE_LEADING - text_cap_height(regular) + below.y;
	double foot = below.y + below.height - text_cap_height(regular);
	double top = height - HALF_PAGE_BOTTOM - HALF_PAGE_LEADING - text_height(words) + above.y;
	return text_width(page) <= page_room && hangs <= stands && foot <= HALF_PAGE_BOTTOM - HALF_CLEAR &&
	       top >= VIAL_SIZE / 2;
}

/* Beside the tag, where a half would stand: which of the column's pages shows it. */
static void put_new_page(struct composer *composer, const struct grid_cell *cell, double left, double right,
                         double bottom)
{
	struct text_style style = small_style(composer, WEIGHT_REGULAR);
	if (!cell->new_amount || cell->shown_by < 0 ||
	    composer_text_width(composer, composer_page_ref(composer, cell->shown_by), style) > right - left)
		return;
	put_page_ref(composer, cell->shown_by, style, ALIGN_END, right, bottom - HALF_BOTTOM - text_cap_height(style));
}

/*
 * Which half it is, and its page where that has room: the first stands by the amount, the second at the bottom. True where
 * that leaves the amount's line free.
 */
static bool put_half(struct composer *composer, const struct grid_cell *cell, struct rect room, double spare)
{
	struct text_style style = small_style(composer, WEIGHT_BOLD);
	struct text_style small = small_style(composer, WEIGHT_REGULAR);
	bool first = cell->joins_next;
	double right = room.x + room.width;
	double bottom = room.y + room.height;
	double word = composer_widest_word(composer, cell->half, style) + 0.1;
	double width = fmin(room.width, fmax(HALF_WIDTH, word));
	bool how = says_how(composer, cell, width, room.width, room.height);
	style.leading = how ? HALF_PAGE_LEADING : style.leading;
	double height = composer_text_height(composer, cell->half, style, width);
	double y = first ? room.y + 0.34 * spare
	           : how ? bottom - HALF_PAGE_BOTTOM - HALF_PAGE_LEADING - height
	                 : bottom - HALF_BOTTOM - height;
	put_text(composer, cell->half, style, ALIGN_END, right, y, width, COLOUR_INK);
	if (how)
		put_page_ref(composer, cell->how, small, ALIGN_END, right,
		             bottom - HALF_PAGE_BOTTOM - text_cap_height(small));
	return !first && height <= text_cap_height(style) + TOLERANCE;
}

/* Amount, what is under it, half and tick, between `top` and `bottom`. */
static void put_dose(const struct grid_sheet *sheet, struct rect area, const struct grid_cell *cell, double top,
                     double bottom)
{
	struct composer *composer = sheet->composer;
	struct text_style bold = amount_style(composer);
	struct text_style small = small_style(composer, WEIGHT_REGULAR);
	struct mark_words sample = {.number = "0"};
	struct rect flat = grid_tag_size(composer, sample);
	double spare = bottom - top - text_cap_height(bold) - flat.height;
	double amount_y = top + 0.4 * spare;
	double under_y = amount_y + text_cap_height(bold) + 0.36 * spare;
	double half_right = tick_x(area) - 1.6;

	double amount_x = area.x + (cell->new_amount ? AMOUNT_X_NEW : AMOUNT_X);
	struct rect amount = put_plain(composer, cell->amount, bold, amount_x, amount_y, 0);
	double end = amount.x + amount.width;
	struct point goes_in = {end + GOES_IN_GAP, amount_y + text_cap_height(bold)};
	struct rect under = {0};
	bool below = true; /* the words beside the tag stand below the amount's line */
	if (cell->mark.number != NULL) {
		struct rect tag = put_grid_tag(composer, cell->mark, grid_mark_size(composer),
		                               (struct point){area.x + TAG_X, under_y});
		under = put_beside(composer, cell->beside, tag);
		end = fmax(end, tag.x + tag.width);
	} else {
		double y = under_y + (flat.height - text_cap_height(small)) / 2 - 0.5;
		under = put_plain(composer, cell->below, small, area.x + AMOUNT_X, y, 0);
	}
	if (cell->half != NULL) {
		struct rect room = {end + 1.0, top, half_right - end - 1.0, bottom - top};
		below = put_half(composer, cell, room, spare);
	} else {
		put_new_page(composer, cell, fmax(end, under.x + under.width) + 1.0, half_right, bottom);
	}
	if (below)
		put_goes_in(composer, area, cell, goes_in);
}

/* A day with needles for belly and hip shows the belly's side: the hip's stands in the cell of what goes in there. */
static bool shows_hip(const struct grid_sheet *sheet, size_t row, size_t column)
{
	struct needles needles = grid_needles(sheet, row);
	return needles.belly && needles.hip && sheet->columns[column].column->muscle &&
	       sheet->rows[row].row->side != SIDE_NONE;
}

static void put_hip(const struct grid_sheet *sheet, size_t row, struct rect area, double y)
{
	struct rect sign = grid_side_area(true, tick_x(area) - GRID_HIP_ROOM / 2, y + 0.5);
	begin_artifact(sheet->composer);
	put_mark(sheet->composer,
	         (struct placed_mark){.kind = MARK_SIDE,
	                              .area = sign,
	                              .side = {{sign.x, sign.y}, sign.width, sheet->rows[row].row->side, true}});
	end_group(sheet->composer);
}

static void put_sign(struct composer *composer, struct rect area, const struct grid_cell *cell, double top,
                     double bottom)
{
	double room = bottom - TICK_BOTTOM - GRID_TICK - top;
	double size = fmin(SIGN_MOST, room - 0.4);
	begin_artifact(composer);
	put_picture(composer, cell->slot, tick_x(area) + (GRID_TICK - size) / 2, top + (room - size) / 2 + 0.1, size);
	end_group(composer);
}

/* A second injection of the same dose has a tag and a tick of its own. */
static void put_second(const struct grid_sheet *sheet, struct rect area, const struct grid_cell *cell, double bottom)
{
	struct rect tag = grid_tag_size(sheet->composer, cell->second_mark);
	double y = bottom - TICK_BOTTOM - GRID_TICK / 2 - tag.height / 2 + 0.3;
	struct composer *composer = sheet->composer;
	struct text_style bold = amount_style(composer);
	double x = area.x + TAG_X;
	put_plain(composer, say0(composer->speaker, "grid.plus"), bold, x,
	          y + (tag.height - TAG_POINT - text_cap_height(bold)) / 2, 0);
	struct rect placed = put_grid_tag(composer, cell->second_mark, grid_mark_size(composer),
	                                  (struct point){x + plus_width(composer), y});
	put_beside(composer, cell->second_beside, placed);
	put_cell_tick(sheet->composer, area, cell->done, bottom);
}

/* The cell's own rectangle; in a row grown for another cell it keeps its height, in the middle. */
static struct rect cell_area(const struct grid_sheet *sheet, size_t row, size_t column)
{
	const struct sheet_row *place = &sheet->rows[row];
	struct sheet_frame alone = {FRAME_HALF, column, row, row};
	struct rect area = frame_area(sheet, &alone);
	double less = place->extra - cell_extra_height(sheet, row, column);
	if (grid_frame_at(sheet, row, column) == NULL && less > 0) {
		area.y += less / 2;
		area.height -= less;
	}
	return area;
}

static void put_dose_cell(const struct grid_sheet *sheet, size_t row, size_t column)
{
	struct composer *composer = sheet->composer;
	const struct grid_cell *cell = cell_at(sheet, row, column);
	struct rect area = cell_area(sheet, row, column);
	double top = area.y;
	double bottom = area.y + area.height;
	bool second = cell->second_mark.number != NULL;
	bool framed = grid_frame_at(sheet, row, column) != NULL;

	if (framed) {
		top += (LINE_STRONG - LINE_OUTLINE) / 2;
		bottom -= (LINE_STRONG - LINE_OUTLINE) / 2;
	} else {
		begin_artifact(composer);
		put_cell_box(composer, area, cell);
		end_group(composer);
	}
	if (cell->new_amount)
		put_corner(composer, area, cell);
	if (cell->own_time != NULL)
		top += put_own_time(composer, area, cell);
	if (says_unless(sheet, row, column))
		top += put_unless(sheet, column, area, top);
	if (second)
		bottom -= EXTRA_SECOND;
	struct rect words = area;
	if (shows_hip(sheet, row, column)) {
		put_hip(sheet, row, area, top);
		words.width -= GRID_HIP_ROOM;
	}
	put_dose(sheet, words, cell, top, bottom);
	bottom -= second ? SECOND_APART : 0;
	if (cell->own_time == NULL && !cell->done)
		put_sign(composer, area, cell, framed ? top + LINE_STRONG - LINE_OUTLINE : top, bottom);
	put_cell_tick(composer, area, cell->done, bottom);
	if (second)
		put_second(sheet, area, cell, area.y + area.height);
}

/* ---- a dose that waits for a call ---- */

static void put_wait_heading(const struct grid_sheet *sheet, size_t column, struct rect area)
{
	struct composer *composer = sheet->composer;
	put_plain(composer, say0(composer->speaker, "grid.wait_call"), wait_style(composer), area.x + WAIT_X,
	          area.y + 2, wait_heading_width(sheet, column));
	begin_artifact(composer);
	double beside = phone_is_beside(sheet, column) ? WAIT_BESIDE : 0;
	put_picture(composer, PICTURE_PHONE, area.x + area.width - TICK_RIGHT - (GRID_TICK + WAIT_PHONE) / 2 - beside,
	            area.y + WAIT_INSET, WAIT_PHONE);
	end_group(composer);
}

/* "day 11 ______ units [ ]" */
static void put_wait_cell(const struct grid_sheet *sheet, size_t row, size_t column)
{
	struct composer *composer = sheet->composer;
	const struct grid_cell *cell = cell_at(sheet, row, column);
	const struct sheet_frame *frame = grid_frame_at(sheet, row, column);
	struct sheet_frame alone = {FRAME_WAIT, column, row, row};
	struct rect area = frame_area(sheet, &alone);
	double bottom = area.y + area.height - WAIT_INSET;
	area.width -= WAIT_INSET;
	if (frame->first == row)
		put_wait_heading(sheet, column, area);

	struct text_style bold = small_style(composer, WEIGHT_BOLD);
	struct text_style small = small_style(composer, WEIGHT_REGULAR);
	double middle = bottom - TICK_BOTTOM - GRID_TICK / 2;
	double y = middle - text_cap_height(bold) / 2;
	const char *number = arena_printf(composer->arena, "%d", sheet->rows[row].row->day);
	const char *words = say1(composer->speaker, "grid.wait_day", "day", number);
	struct rect day = put_plain(composer, words, bold, area.x + WAIT_X, y, 0);
	double unit_width = composer_text_width(composer, cell->unit, small);
	double line = day.x + day.width + 1.4;
	double unit = tick_x(area) - 1.4 - unit_width;
	put_plain(composer, cell->unit, small, unit, y, 0);
	begin_artifact(composer);
	put_line(composer, line, fmin(unit - 1, line + WAIT_LINE_MOST), y + text_cap_height(bold) + 0.5, LINE_OUTLINE);
	end_group(composer);
	put_cell_tick(composer, area, cell->done, bottom);
}

void cell_put(const struct grid_sheet *sheet, size_t row, size_t column)
{
	composer_note_part(sheet->composer, cell_at(sheet, row, column)->dose);
	switch (cell_at(sheet, row, column)->state) {
	case CELL_EMPTY:
		break;
	case CELL_DOSE:
		put_dose_cell(sheet, row, column);
		break;
	case CELL_WRITE_IN:
		put_wait_cell(sheet, row, column);
		break;
	}
}
