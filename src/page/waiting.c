/*
 * waiting.c - wait for our call: nothing to do yet, what to write down then, and which weekday is which day.
 *
 *     (phone)  Do not start yet           dashed
 *     | to write down               |     waiting_write.c
 *     | If day 1 is  day 2 ...      |     waiting_look.c
 */
#include "page/waiting.h"

#include "page/large.h"
#include "page/sections.h"
#include "page/styles.h"

#include <math.h>

/* ---- do not start yet ---- */

#define WAIT_PHONE 25.0
#define WAIT_SIDE 7.0
#define WAIT_LEAST 37.0
#define WAIT_PAD 6.6
#define WAIT_LARGE_PAD 5.0
#define WAIT_LINES 5.0

static double wait_text_x(void)
{
	return WAIT_SIDE + WAIT_PHONE + WAIT_SIDE;
}

static double wait_text_width(void)
{
	return LIVE_WIDTH - wait_text_x() - WAIT_SIDE;
}

/* In large print no larger than other headings: what to write down then stands on its page. */
static struct text_style wait_heading(const struct composer *composer)
{
	struct text_style style = bold(composer, composer->large_print ? TYPE_SECTION : TYPE_TITLE);
	style.leading = 1.15 * style.size * POINT_MM;
	return style;
}

static double wait_words_height(struct composer *composer, const struct waiting_sheet *sheet)
{
	return composer_text_height(composer, sheet->heading, wait_heading(composer), wait_text_width()) + WAIT_LINES +
	       composer_text_height(composer, sheet->text, regular(composer, TYPE_BODY), wait_text_width());
}

static double wait_height(struct composer *composer, const struct waiting_sheet *sheet)
{
	double pad = composer->large_print ? WAIT_LARGE_PAD : WAIT_PAD;
	return fmax(WAIT_LEAST, wait_words_height(composer, sheet) + 2 * pad);
}

static void put_wait(struct composer *composer, const struct waiting_sheet *sheet, double y)
{
	double height = wait_height(composer, sheet);
	double half = LINE_MAIN / 2;
	double x = composer->left + wait_text_x();
	double top = y + (height - wait_words_height(composer, sheet)) / 2;
	begin_artifact(composer);
	struct rect frame = {composer->left + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half};
	if (sheet->sooner) /* a broken frame says that nothing is to do before the call */
		put_frame(composer, frame, LINE_MAIN);
	else
		put_dashed_frame(composer, frame, LINE_MAIN);
	put_picture(composer, PICTURE_PHONE, composer->left + WAIT_SIDE, y + (height - WAIT_PHONE) / 2, WAIT_PHONE);
	end_group(composer);
	struct rect heading =
		put_heading(composer, ROLE_H2, sheet->heading, wait_heading(composer), x, top, wait_text_width());
	put_paragraph(composer, sheet->text, regular(composer, TYPE_BODY), x, heading.y + heading.height + WAIT_LINES,
	              wait_text_width());
}

/* ---- the page ---- */

static const struct waiting_form open_form = {17.0, 3.2, 8.2, 2.0};
static const struct waiting_form close_form = {15.0, 2.4, 7.4, 2.0};
static const struct waiting_form tight_form = {13.0, 1.85, 6.8, 1.1};
static const struct waiting_form large_form = {17.0, 3.2, 13.2, 2.0};

static double next_page(struct composer *composer, const struct waiting_sheet *sheet)
{
	composer_continue(composer, sheet->title, sheet->lead);
	return composer->top;
}

static void put_large_wait(struct composer *composer, const struct large_block *block, double y)
{
	put_wait(composer, block->data, y);
}

static void put_large_write(struct composer *composer, const struct large_block *block, double y)
{
	waiting_put_write(composer, &large_form, block->data, y);
}

static void put_large_look(struct composer *composer, const struct large_block *block, double y)
{
	waiting_put_look(composer, block->data, y, large_form.weekday);
}

static void put_large_title(struct composer *composer, const struct large_block *block, double y)
{
	waiting_put_title(composer, block->data, y);
}

static void add_large_looks(struct large_blocks *blocks, const struct waiting_sheet *sheet)
{
	struct composer *composer = blocks->composer;
	double room = large_further_room(composer, sheet->title);
	if (sheet->n_columns == 0) {
		large_add(blocks, waiting_title_height(composer, sheet), GAP_4, put_large_title, sheet);
		return;
	}
	struct waiting_look look = waiting_first_look(composer, &large_form, sheet, room);
	do {
		struct waiting_look *part = arena_alloc(composer->arena, sizeof *part);
		*part = look;
		large_add(blocks, waiting_look_height(composer, part), GAP_5, put_large_look, part);
	} while (waiting_next_look(composer, &look, room));
}

static void place_large(struct composer *composer, const struct waiting_sheet *sheet)
{
	struct large_blocks blocks = large_blocks_of(composer);
	large_add(&blocks, wait_height(composer, sheet), GAP_4, put_large_wait, sheet);
	large_add(&blocks, waiting_write_height(composer, &large_form, sheet), GAP_4, put_large_write, sheet);
	if (sheet->look_heading != NULL)
		add_large_looks(&blocks, sheet);
	large_place(&blocks, sheet->title, sheet->lead);
}

/* The look-up from `y`, on further pages what this one does not hold. */
static void place_looks(struct composer *composer, const struct waiting_form *form, const struct waiting_sheet *sheet,
                        double y)
{
	const char *title = say_continued(composer->speaker, sheet->title);
	double page = composer_content_height(composer, title, sheet->lead, PICTURE_NONE);
	struct waiting_look look = waiting_first_look(composer, form, sheet, page);
	if (y + waiting_look_height(composer, &look) > composer->bottom)
		y = next_page(composer, sheet);
	do {
		if (look.first_column + look.first_week > 0)
			y = next_page(composer, sheet);
		waiting_put_look(composer, &look, y, waiting_look_row(composer, &look, composer->bottom - y));
	} while (waiting_next_look(composer, &look, page));
}

/* What the look-up takes, were it all on one page. */
static double look_up_height(struct composer *composer, const struct waiting_form *form,
                             const struct waiting_sheet *sheet)
{
	if (sheet->look_heading == NULL)
		return 0;
	if (sheet->n_columns == 0)
		return waiting_title_height(composer, sheet);
	struct waiting_look look = waiting_whole_look(composer, form, sheet);
	return waiting_look_height(composer, &look);
}

static double used_height(struct composer *composer, const struct waiting_form *form, const struct waiting_sheet *sheet)
{
	return wait_height(composer, sheet) + waiting_write_height(composer, form, sheet) +
	       look_up_height(composer, form, sheet);
}

static const struct waiting_form *form_of(struct composer *composer, const struct waiting_sheet *sheet)
{
	static const struct waiting_form *const forms[] = {&open_form, &close_form, &tight_form};
	double room = composer->bottom - composer->top - 2 * SECTION_GAP_LEAST;
	for (size_t i = 0; i < sizeof forms / sizeof *forms; i++)
		if (used_height(composer, forms[i], sheet) <= room)
			return forms[i];
	return &open_form; /* on two pages */
}

/* The sheet with the pages on which the doses stand that a sooner start puts off. */
static const struct waiting_sheet *with_page(struct composer *composer, const struct waiting_sheet *of)
{
	struct waiting_sheet *sheet = arena_alloc(composer->arena, sizeof *sheet);
	const void **doses = arena_alloc(composer->arena, of->n_doses * sizeof *doses);
	if (of->n_doses == 0 || of->grid < 0)
		return of;
	*sheet = *of;
	for (size_t i = 0; i < of->n_doses; i++)
		doses[i] = &of->doses[i];
	sheet->text =
		composer_fill_page(composer, of->text, composer_part_pages(composer, of->grid, doses, of->n_doses));
	return sheet;
}

void waiting_place(struct composer *composer, const struct waiting_sheet *of)
{
	const struct waiting_sheet *sheet = with_page(composer, of);
	if (composer->large_print) {
		place_large(composer, sheet);
		return;
	}
	composer_new_page(composer, sheet->title, sheet->lead);
	const struct waiting_form *form = form_of(composer, sheet);
	double y = composer->top;
	double gap = section_gap(composer, used_height(composer, form, sheet), 2);
	put_wait(composer, sheet, y);
	y += wait_height(composer, sheet) + gap;
	if (y + waiting_write_height(composer, form, sheet) > composer->bottom)
		y = next_page(composer, sheet);
	waiting_put_write(composer, form, sheet, y);
	if (sheet->look_heading == NULL)
		return;
	y += waiting_write_height(composer, form, sheet) + fmin(gap, GAP_4);
	if (sheet->n_columns > 0) {
		place_looks(composer, form, sheet, y);
		return;
	}
	if (y + waiting_title_height(composer, sheet) > composer->bottom)
		y = next_page(composer, sheet);
	waiting_put_title(composer, sheet, y);
}
