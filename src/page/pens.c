/*
 * pens.c - a dose that takes more than one pen: the amount and its parts, then one pen after the other.
 *
 *     [ calendar 225 units  =  old pen 75 units  +  new pen 150 units ]
 *     CAUTION both or neither
 *     lay out, wash, look; where it goes in
 *     First   the old pen
 *     pen, tag, window, steps 1 to 3
 *     Then    the new pen
 *     pen, tag, window, steps 4 to 8
 */
#include "page/actions.h"
#include "page/large_pages.h"
#include "page/parts.h"
#include "page/pen_figure.h"
#include "page/pen_geometry.h"
#include "page/sections.h"
#include "page/styles.h"

#include <math.h>

static struct text_style body(const struct composer *composer, enum text_weight weight)
{
	return medicine_style(composer, TYPE_BODY, weight);
}

/* ---- the strip ---- */

#define STRIP_PAD 4.0
#define STRIP_PICTURE 11.0
#define STRIP_BESIDE 3.2
#define STRIP_BODY 11.5
#define PICTURES_MOST 3

static size_t strip_cells(const struct pens_sheet *sheet)
{
	return sheet->n_turns + 1;
}

/* Many cells have no room for pictures beside their amounts. */
static double strip_beside(const struct pens_sheet *sheet)
{
	return strip_cells(sheet) > PICTURES_MOST ? 0 : STRIP_PICTURE + STRIP_BESIDE;
}

static double strip_pitch(const struct pens_sheet *sheet)
{
	return LIVE_WIDTH / (double)strip_cells(sheet);
}

/* From a knot, or the frame, to the next knot. */
static double strip_words(const struct pens_sheet *sheet)
{
	return strip_pitch(sheet) - 2 * KNOT_RADIUS - 2 * GAP_1;
}

static const char *strip_caption(const struct pens_sheet *sheet, size_t cell)
{
	return cell == 0 ? sheet->calendar_says : sheet->turns[cell - 1].part_says;
}

static double strip_captions(struct composer *composer, const struct pens_sheet *sheet)
{
	double height = 0;
	for (size_t i = 0; i < strip_cells(sheet); i++)
		height = fmax(height, composer_text_height(composer, strip_caption(sheet, i),
		                                           body(composer, WEIGHT_REGULAR), strip_words(sheet)));
	return height;
}

static double strip_height(struct composer *composer, const void *what)
{
	return STRIP_PAD + strip_captions(composer, what) + GAP_2 + STRIP_BODY + STRIP_PAD;
}

/* All amounts in one size. */
static double strip_size(struct composer *composer, const struct pens_sheet *sheet)
{
	double width = strip_words(sheet) - strip_beside(sheet);
	double size = strip_amount_size(composer, sheet->amount, width);
	for (size_t i = 0; i < sheet->n_turns; i++)
		size = fmin(size, strip_amount_size(composer, sheet->turns[i].part, width));
	return size;
}

static void put_strip_cell(struct composer *composer, const struct pens_sheet *sheet, size_t cell, double y)
{
	double x = composer->left + (double)cell * strip_pitch(sheet) + (cell == 0 ? STRIP_PAD : KNOT_RADIUS + GAP_1);
	double middle = y + STRIP_PAD + strip_captions(composer, sheet) + GAP_2 + STRIP_BODY / 2;
	double beside = strip_beside(sheet);
	const char *amount = cell == 0 ? sheet->amount : sheet->turns[cell - 1].part;
	begin_group(composer, ROLE_PARAGRAPH);
	put_plain(composer, strip_caption(sheet, cell), body(composer, WEIGHT_REGULAR), x, y + STRIP_PAD,
	          strip_words(sheet));
	begin_artifact(composer);
	if (beside > 0)
		put_picture(composer, cell == 0 ? PICTURE_CALENDAR : PICTURE_PEN, x, middle - STRIP_PICTURE / 2,
		            STRIP_PICTURE);
	end_group(composer);
	put_strip_amount(composer, amount, strip_size(composer, sheet), x + beside, middle,
	                 strip_words(sheet) - beside);
	end_group(composer);
}

static void put_strip(struct composer *composer, const void *what, double y)
{
	const struct pens_sheet *sheet = what;
	double half = LINE_MAIN / 2;
	double height = strip_height(composer, sheet);
	begin_artifact(composer);
	put_frame(composer, (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half},
	          LINE_MAIN);
	end_group(composer);
	for (size_t i = 0; i < strip_cells(sheet); i++)
		put_strip_cell(composer, sheet, i, y);
	begin_artifact(composer);
	for (size_t i = 1; i < strip_cells(sheet); i++)
		put_strip_knot(composer, i == 1 ? '=' : '+', composer->left + (double)i * strip_pitch(sheet),
		               y + height / 2);
	end_group(composer);
}

/* ---- one pen ---- */

#define TURN_RULE 2.8
#define TURN_AFTER 4.6
#define TURN_WHICH 5.0
#define TURN_STEPS 5.0 /* pen to steps */
#define HEADING_SIZE 20.0
#define NUMBER_X 8.0
#define STEP_BETWEEN 4.6
#define UPRIGHT_MOST 36.0
#define UPRIGHT_BESIDE 6.0
#define DONE_TICK 10.0

/* The heading's size is the design's; in large print that of a section. */
static struct text_style heading_style(const struct composer *composer)
{
	struct text_style style = composer_style(composer, TYPE_SECTION, WEIGHT_BOLD);
	style.size = fmax(style.size, HEADING_SIZE);
	return style;
}

static double which_width(struct composer *composer, const struct pen_turn *turn)
{
	return LIVE_WIDTH - composer_text_width(composer, turn->heading, heading_style(composer)) - TURN_WHICH;
}

static struct text_style which_style(const struct composer *composer)
{
	return medicine_style(composer, TYPE_LEAD, WEIGHT_REGULAR);
}

static double turn_head(struct composer *composer, const struct pen_turn *turn)
{
	double which = composer_text_height(composer, turn->which, which_style(composer), which_width(composer, turn));
	return text_cap_height(heading_style(composer)) - cap(composer, TYPE_LEAD) + which;
}

/* A turn that no page holds is put in two parts: the pen, then its steps. */
struct turn_part {
	const struct pen_turn *turn;
	const char *done_word;
	bool pen;
	bool steps;
};

static double test_tag_size(const struct composer *composer)
{
	return heading_style(composer).size;
}

static bool has_test(const struct turn_part *part)
{
	return part->turn->priming.number != NULL;
}

static double upright_width(void)
{
	return UPRIGHT_MOST * PEN_HEIGHT / (PEN_LENGTH + PEN_DROP);
}

/* The pen of the test stands under the window, with its tag; where that is not beside the steps, it is. */
static bool upright_by_steps(struct composer *composer, const struct turn_part *part)
{
	return has_test(part) && (!part->pen || pen_window_below(composer, &part->turn->view) > 0);
}

static double steps_width(struct composer *composer, const struct turn_part *part)
{
	double width = pen_text_width(composer, &part->turn->view) - NUMBER_X;
	return upright_by_steps(composer, part) ? width - upright_width() - UPRIGHT_BESIDE : width;
}

static const char *step_text(struct composer *composer, const struct step *step)
{
	return say2(composer->speaker, "pens.step", "title", step->title, "text", step->text);
}

static double step_height(struct composer *composer, const struct turn_part *part, const struct step *step)
{
	double height = actions_height(composer, step_text(composer, step), body(composer, WEIGHT_REGULAR),
	                               steps_width(composer, part));
	if (step->white_tag && upright_by_steps(composer, part))
		height += GAP_2 + measure_tag(composer, part->turn->priming, test_tag_size(composer)).height;
	return height;
}

static double steps_height(struct composer *composer, const struct turn_part *part)
{
	double height = 0;
	for (size_t i = 0; i < part->turn->n_steps; i++)
		height += step_height(composer, part, &part->turn->steps[i]) + (i > 0 ? STEP_BETWEEN : 0);
	return upright_by_steps(composer, part) ? fmax(height, UPRIGHT_MOST) : height;
}

/* Whoever has given one part must not stop there: the next one may stand on the back. */
static double next_height(struct composer *composer, const struct turn_part *part)
{
	if (!part->steps || part->turn->next == NULL)
		return 0;
	return TURN_STEPS + composer_text_height(composer, part->turn->next, body(composer, WEIGHT_BOLD), LIVE_WIDTH);
}

/* In large print the box has a line of its own below the steps. */
static double done_below(struct composer *composer, const struct turn_part *part)
{
	return pen_window_below(composer, &part->turn->view) > 0 ? GAP_2 + DONE_TICK : 0;
}

static double above_steps(struct composer *composer, const struct turn_part *part)
{
	const struct pen_view *view = &part->turn->view;
	if (!part->pen)
		return 0;
	return turn_head(composer, part->turn) + TURN_RULE + TURN_AFTER + pen_figure_drop(composer, view) + TURN_STEPS;
}

static double below_window(struct composer *composer, const struct turn_part *part)
{
	return turn_head(composer, part->turn) + TURN_RULE + TURN_AFTER + pen_window_drop(composer, &part->turn->view) +
	       GAP_3;
}

/* Without what comes next. */
static double own_height(struct composer *composer, const struct turn_part *part)
{
	const struct pen_view *view = &part->turn->view;
	double below = part->pen ? pen_window_below(composer, view) : 0;
	double height = above_steps(composer, part) + (below > 0 ? below + GAP_3 : 0);
	if (part->steps)
		height += steps_height(composer, part) + done_below(composer, part);
	if (!part->pen)
		return fmax(height, DONE_TICK);
	double right = below_window(composer, part);
	if (part->steps)
		right += has_test(part) ? UPRIGHT_MOST : DONE_TICK;
	return fmax(height, right);
}

static double turn_height(struct composer *composer, const void *what)
{
	return own_height(composer, what) + next_height(composer, what);
}

static void put_turn_head(struct composer *composer, const struct pen_turn *turn, double y)
{
	struct text_style heading = heading_style(composer);
	begin_group(composer, ROLE_H2);
	struct rect word = put_plain(composer, turn->heading, heading, composer->left, y, 0);
	put_plain(composer, turn->which, which_style(composer), composer->left + word.width + TURN_WHICH,
	          y + text_cap_height(heading) - cap(composer, TYPE_LEAD), which_width(composer, turn));
	end_group(composer);
	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, y + turn_head(composer, turn) + TURN_RULE, LINE_MAIN);
	end_group(composer);
}

static void put_step(struct composer *composer, const struct turn_part *part, const struct step *step, double y)
{
	double x = composer->left + NUMBER_X;
	begin_group(composer, ROLE_LIST_ITEM);
	composer_note_step(composer, step->number);
	begin_group(composer, ROLE_LABEL);
	put_plain(composer, step_number(composer, step), composer_style(composer, TYPE_LEAD, WEIGHT_BOLD),
	          composer->left, y + cap(composer, TYPE_BODY) - cap(composer, TYPE_LEAD), 0);
	end_group(composer);
	struct rect text = put_actions(composer, step_text(composer, step), body(composer, WEIGHT_REGULAR), x, y,
	                               steps_width(composer, part));
	if (step->white_tag && upright_by_steps(composer, part)) {
		struct rect tag = measure_tag(composer, part->turn->priming, test_tag_size(composer));
		put_tag(composer, part->turn->priming, test_tag_size(composer),
		        (struct point){x + tag.width / 2, text.y + text.height + GAP_2 + tag.height});
	}
	end_group(composer);
}

static void put_upright(struct composer *composer, double x, double y)
{
	begin_artifact(composer);
	put_pen_upright(composer, x, y, UPRIGHT_MOST);
	end_group(composer);
}

static void put_steps(struct composer *composer, const struct turn_part *part, double y)
{
	const struct pen_turn *turn = part->turn;
	if (upright_by_steps(composer, part))
		put_upright(composer, composer->left + pen_text_width(composer, &turn->view) - upright_width(), y);
	begin_group(composer, ROLE_LIST);
	for (size_t i = 0; i < turn->n_steps; i++) {
		put_step(composer, part, &turn->steps[i], y);
		y += step_height(composer, part, &turn->steps[i]) + STEP_BETWEEN;
	}
	end_group(composer);
}

#define TEST_TAG 5.0 /* pen to its tag */

/* At the window's foot, beside the step that tests: further down it would be taken for a later step's number. */
static void put_test_below_window(struct composer *composer, const struct pen_turn *turn, double y)
{
	double x = pen_window_x(composer, &turn->view);
	double size = test_tag_size(composer);
	struct rect tag = measure_tag(composer, turn->priming, size);
	put_upright(composer, x, y);
	put_tag(composer, turn->priming, size,
	        (struct point){x + upright_width() + TEST_TAG + tag.width / 2, y + UPRIGHT_MOST / 2});
}

static void put_done(struct composer *composer, const char *word, double bottom)
{
	struct text_style style = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	double y = bottom - DONE_TICK;
	begin_group(composer, ROLE_PARAGRAPH);
	put_text(composer, word, style, ALIGN_END, composer->right - DONE_TICK - GAP_2,
	         y + (DONE_TICK - text_cap_height(style)) / 2, 0, COLOUR_INK);
	put_tick(composer, (struct point){composer->right - DONE_TICK - LINE_MAIN / 2, y - LINE_MAIN / 2}, DONE_TICK);
	end_group(composer);
}

static void put_pen_of(struct composer *composer, const struct turn_part *part, double y)
{
	const struct pen_view *view = &part->turn->view;
	put_turn_head(composer, part->turn, y);
	y += turn_head(composer, part->turn) + TURN_RULE + TURN_AFTER;
	put_pen_figure(composer, view, y);
	put_pen_window_below(composer, view, y + pen_figure_drop(composer, view) + GAP_3);
}

static void put_turn(struct composer *composer, const void *what, double y)
{
	const struct turn_part *part = what;
	double bottom = y + own_height(composer, part);
	double below = part->pen ? pen_window_below(composer, &part->turn->view) : 0;
	if (part->pen)
		put_pen_of(composer, part, y);
	if (!part->steps)
		return;
	put_steps(composer, part, y + above_steps(composer, part) + (below > 0 ? below + GAP_3 : 0));
	if (has_test(part) && !upright_by_steps(composer, part))
		put_test_below_window(composer, part->turn, y + below_window(composer, part));
	put_done(composer, part->done_word, bottom);
	if (part->turn->next != NULL)
		put_paragraph(composer, part->turn->next, body(composer, WEIGHT_BOLD), composer->left,
		              bottom + TURN_STEPS, LIVE_WIDTH);
}

static void add_turn(struct composer *composer, struct page_parts *parts, const struct pen_turn *turn,
                     const char *done_word)
{
	struct turn_part *part = arena_alloc(composer->arena, 2 * sizeof *part);
	part[0] = (struct turn_part){turn, done_word, true, true};
	if (turn_height(composer, part) <= parts_room(composer, parts->title, parts->lead)) {
		parts_add(parts, turn_height, put_turn, part);
		return;
	}
	part[0].steps = false;
	part[1] = (struct turn_part){turn, done_word, false, true};
	parts_add(parts, turn_height, put_turn, &part[0]);
	parts_add(parts, turn_height, put_turn, &part[1]);
}

/* ---- the page ---- */

void pens_place(struct composer *composer, const struct pens_sheet *sheet)
{
	if (composer->large_print) {
		large_pens(composer, sheet);
		return;
	}
	struct page_parts parts = {.title = sheet->title,
	                           .lead = sheet->lead,
	                           .purpose = sheet->sheet->purpose,
	                           .picture = sheet->sheet->picture};
	parts_add_must_know(&parts, sheet->sheet);
	parts_add(&parts, strip_height, put_strip, sheet);
	parts_add_first(&parts, sheet->sheet);
	parts_add_place(&parts, sheet->sheet);
	for (size_t i = 0; i < sheet->n_turns; i++)
		add_turn(composer, &parts, &sheet->turns[i], sheet->done_word);
	parts_add_notes(&parts, sheet->sheet);
	put_parts(composer, &parts);
}
