/*
 * medicine_back.c - draw and inject: the line first, then the steps, then what else matters.
 *
 * The line stands in true size with its magnifier and the check of the printer.
 * What does not fit below the steps goes on to a further page.
 */
#include "page/medicine.h"

#include "page/caution.h"
#include "page/large_pages.h"
#include "page/letter.h"
#include "page/notes.h"
#include "page/styles.h"
#include "page/syringe_geometry.h"

#include <math.h>

static struct text_style body(const struct composer *composer, enum text_weight weight)
{
	return medicine_style(composer, TYPE_BODY, weight);
}

/* ---- what the line is ---- */

bool medicine_has_syringe(const struct medicine_sheet *sheet)
{
	return sheet->draw->measure == MEASURE_SYRINGE && sheet->draw->mark.syringe != NULL &&
	       sheet->mark.number != NULL;
}

static bool has_line(const struct medicine_sheet *sheet)
{
	return medicine_has_syringe(sheet) && !sheet->draw->mark.all;
}

/* How far a syringe that comes filled is filled, at most to its last line. */
static double filled_to(const struct medicine_sheet *sheet)
{
	const struct draw *draw = sheet->draw;
	double end = measure_of(draw->mark.syringe->graduated);
	struct quantity volume;
	if (draw->product->volume.given && quantity_in(draw->product->volume.quantity, UNIT_ML, &volume))
		return fmin(measure_of(volume.number), end);
	return fmin(measure_of(draw->volume), end);
}

struct line_look medicine_line(const struct composer *composer, const struct medicine_sheet *sheet)
{
	const struct mark *mark = &sheet->draw->mark;
	struct line_look look = {.syringe = mark->syringe,
	                         .at = mark->at,
	                         .line = !mark->all,
	                         .ring = measure_of(mark->at),
	                         .mark = sheet->mark,
	                         .tag_size = composer_style(composer, TYPE_MARK, WEIGHT_BOLD).size,
	                         .bubble = sheet->draw->product->bubble == BUBBLE_KEEP,
	                         .plunger = say0(composer->speaker, "line.plunger")};
	line_look_needle(&look, sheet->draw->product, false);
	if (mark->line == LINE_STOP && !mark->all)
		look.ring = filled_to(sheet);
	if (mark->all && rational_is_zero(mark->at))
		look.ring = measure_of(sheet->draw->volume);
	return look;
}

/* ---- the words beside the tag ---- */

#define BESIDE_TAG 4.5
#define BESIDE_LEAST 62.0
#define STOP_DROP 0.5 /* from the top of the tag */
#define STOP_BETWEEN 3.0
#define FLANGE_ROOM 4.0 /* the flange reaches above the wall, with air over it */

struct stop_words {
	double x;
	double y;
	double width;
	double height;
	bool above; /* no room beside the tag: above the syringe, on lines of their own */
};

/* The scale's name and 'true size' share a line where that is wide enough. */
static bool share_line(struct composer *composer, const struct medicine_sheet *sheet, double width)
{
	return sheet->scale_beside != NULL && sheet->true_size != NULL &&
	       composer_text_width(composer, sheet->scale_beside, body(composer, WEIGHT_BOLD)) + GAP_2 +
	                       composer_text_width(composer, sheet->true_size, body(composer, WEIGHT_REGULAR)) <=
	               width;
}

static double stop_height(struct composer *composer, const struct medicine_sheet *sheet, double width)
{
	double height = composer_text_height(composer, sheet->stop_heading,
	                                     composer_style(composer, TYPE_SECTION, WEIGHT_BOLD), width);
	const char *lines[] = {share_line(composer, sheet, width) ? NULL : sheet->scale_beside, sheet->true_size};
	for (size_t i = 0; i < 2; i++)
		if (lines[i] != NULL)
			height += STOP_BETWEEN +
			          composer_text_height(composer, lines[i], body(composer, WEIGHT_BOLD), width);
	return height;
}

static void put_stop_words(struct composer *composer, const struct medicine_sheet *sheet, double x, double y,
                           double width)
{
	struct rect line = put_heading(composer, ROLE_H2, sheet->stop_heading,
	                               composer_style(composer, TYPE_SECTION, WEIGHT_BOLD), x, y, width);
	if (sheet->scale_beside != NULL) {
		struct rect scale = put_paragraph(composer, sheet->scale_beside, body(composer, WEIGHT_BOLD), x,
		                                  line.y + line.height + STOP_BETWEEN, width);
		if (share_line(composer, sheet, width))
			x += scale.width + GAP_2;
		else
			line = scale;
	}
	put_paragraph(composer, sheet->true_size, body(composer, WEIGHT_REGULAR), x,
	              line.y + line.height + STOP_BETWEEN, width);
}

/* ---- the printer's check, before anything is laid on what is drawn ---- */

#define RULER_HIGH 8.4
#define RULER_NUMERALS 1.2
#define RULER_WIDTH 58.7 /* with its flag */
#define RULER_LABELS 6
#define PRINTER_WORDS (RULER_WIDTH + 1 + GAP_3)
#define PRINTER_TEXT 2.4 /* heading to text */

static double ruler_height(const struct composer *composer)
{
	return RULER_HIGH + RULER_NUMERALS + cap(composer, TYPE_CAPTION);
}

static double printer_words_height(struct composer *composer)
{
	struct speaker *speaker = composer->speaker;
	double width = LIVE_WIDTH - PRINTER_WORDS;
	return composer_text_height(composer, say0(speaker, "print.heading"), body(composer, WEIGHT_BOLD), width) +
	       PRINTER_TEXT +
	       composer_text_height(composer, say0(speaker, "print.text"), body(composer, WEIGHT_REGULAR), width);
}

static double printer_height(struct composer *composer)
{
	return fmax(ruler_height(composer), printer_words_height(composer));
}

static void put_ruler(struct composer *composer, double x, double y)
{
	const struct text_block **numerals = arena_alloc(composer->arena, RULER_LABELS * sizeof(*numerals));
	struct text_style style = composer_style(composer, TYPE_CAPTION, WEIGHT_REGULAR);
	for (int i = 0; i < RULER_LABELS; i++)
		numerals[i] = composer_set(composer, say_number(composer->speaker, rational_of(10 * (int64_t)i, 1)),
		                           style, 0);
	struct point at = {x + 1, y + RULER_HIGH};
	put_mark(composer, (struct placed_mark){.kind = MARK_RULER,
	                                        .area = {x, y, RULER_WIDTH + 1, ruler_height(composer)},
	                                        .ruler = {at, true, numerals}});
}

static void put_printer_check(struct composer *composer, double y)
{
	struct speaker *speaker = composer->speaker;
	double x = composer->left + PRINTER_WORDS;
	double width = composer->right - x;
	struct rect heading = put_heading(composer, ROLE_H2, say0(speaker, "print.heading"),
	                                  body(composer, WEIGHT_BOLD), x, y, width);
	begin_figure(composer, say0(speaker, "print.text"));
	put_ruler(composer, composer->left, y);
	end_group(composer);
	put_paragraph(composer, say0(speaker, "print.text"), body(composer, WEIGHT_REGULAR), x,
	              heading.y + heading.height + PRINTER_TEXT, width);
}

/* ---- the magnifier and what stands at its right ---- */

#define LEADER_DROP 4.4   /* below the frame's top, in the air above the barrel */
#define LEADER_END 6.5    /* beyond the frame */
#define BESIDE_WINDOW 8.0 /* frame to words */
#define BRACKET_DROP 2.6  /* lowest ink of the syringe to the bracket */
#define WINDOW_NUMERAL 14.0
#define WORDS_PLACE 5.6 /* a window's words to where it goes in */

/* How the line is shown. */
struct line_form {
	double zoom;  /* of the window's usual one */
	bool printer; /* with the printer's check above; it is on its own page in any case */
};

struct window_place {
	struct rect frame;
	double bracket_y;
	double zoom;
	double words_x;
	double words_width;
	double words_y; /* of the heading */
};

static const char *window_heading(struct composer *composer, const struct window_place *place)
{
	int64_t tenths = (int64_t)lround(place->zoom * 10);
	return say1(composer->speaker, "window.heading", "times",
	            say_number(composer->speaker, rational_of(tenths, 10)));
}

static double window_heading_height(struct composer *composer, const struct window_place *place)
{
	return composer_text_height(composer, window_heading(composer, place),
	                            composer_style(composer, TYPE_LEAD, WEIGHT_BOLD), place->words_width);
}

#define NUMERAL_ROOM 5.0 /* half a numeral, and air to the frame */

/* So big, but both numbers beside the line's own stand in the window. */
static double neighbours_zoom(const struct syringe *syringe, double zoom)
{
	double pitch = measure_of(syringe->numbered_every) * syringe_geometry_of(syringe).mm_per_ml;
	double most = (WINDOW_WIDTH / 2 - NUMERAL_ROOM) / pitch;
	/* The page says the number: whole ones and halves, else tenths. */
	return zoom > most ? floor(most * 2) / 2 : round(zoom * 10) / 10;
}

static struct window_place window_place(struct composer *composer, const struct line_look *look,
                                        const struct syringe_figure *figure, struct line_form form)
{
	struct window_place place = {.zoom = neighbours_zoom(look->syringe, window_zoom(look->syringe) * form.zoom)};
	double height = window_height(look->syringe, place.zoom);
	double x = syringe_x(look->syringe, figure->x_zero, measure_of(look->at)) - WINDOW_WIDTH / 2;
	x = fmin(fmax(x, composer->left), composer->right - WINDOW_RIGHT - WINDOW_WIDTH);
	place.bracket_y = figure->axis + line_drop(look) + BRACKET_DROP;
	place.words_x = x + WINDOW_WIDTH + BESIDE_WINDOW;
	place.words_width = composer->right - place.words_x;
	/* The leader meets the sentence, so a heading that wraps takes its room from the fan. */
	double wrapped = window_heading_height(composer, &place) - cap(composer, TYPE_LEAD);
	place.frame = (struct rect){x, place.bracket_y + WINDOW_FAN + wrapped, WINDOW_WIDTH, height};
	place.words_y = place.frame.y + LEADER_DROP - cap(composer, TYPE_BODY) / 2 - GAP_2 -
	                window_heading_height(composer, &place);
	return place;
}

/* A window stands right above the steps: what they ask for next, where to inject, has room beside it. */
static bool place_is_beside(const struct medicine_sheet *sheet)
{
	return sheet->place != NULL && has_line(sheet) && sheet->draw->mark.line == LINE_DRAW;
}

static double words_height(struct composer *composer, const struct medicine_sheet *sheet,
                           const struct window_place *place)
{
	return window_heading_height(composer, place) + GAP_2 +
	       composer_text_height(composer, sheet->window_text, body(composer, WEIGHT_REGULAR), place->words_width) +
	       (place_is_beside(sheet) ? WORDS_PLACE + place_beside_height(composer, sheet, place->words_width) : 0);
}

static struct rect united(struct rect a, struct rect b)
{
	double x = fmin(a.x, b.x);
	double y = fmin(a.y, b.y);
	return (struct rect){x, y, fmax(a.x + a.width, b.x + b.width) - x, fmax(a.y + a.height, b.y + b.height) - y};
}

/* A leader ends at the near edge of the sentence: of one that runs from the right, that is the ragged one. */
static void lengthen_leader(struct composer *composer, const struct medicine_sheet *sheet,
                            const struct window_place *place, struct point from)
{
	const struct text_block *text =
		composer_set(composer, sheet->window_text, body(composer, WEIGHT_REGULAR), place->words_width);
	double near = place->words_x + place->words_width - text_width(text) - BESIDE_WINDOW + LEADER_END;
	if (composer->right_to_left && near > from.x)
		put_rule(composer, from, (struct point){near, from.y}, LINE_MAIN, COLOUR_INK);
}

void put_magnifier(struct composer *composer, const struct line_look *look, const struct syringe_figure *figure,
                   const struct magnifier *magnifier)
{
	double mark = measure_of(look->at);
	const struct rect *frame = &magnifier->frame;
	struct syringe_figure *shown = arena_alloc(composer->arena, sizeof *shown);
	*shown = *figure;
	double half = frame->width / magnifier->zoom / 2;
	double middle = syringe_x(look->syringe, figure->x_zero, mark);
	struct rect bracket = {middle - half, magnifier->bracket_y - 2, 2 * half, frame->y - magnifier->bracket_y};
	struct rect to_words = {frame->x, frame->y,
	                        magnifier->leader ? magnifier->leader_to.x - frame->x : frame->width, 1};
	/* Beside the syringe only its bracket's bar reaches under it. */
	struct rect area = frame->x >= bracket.x + bracket.width ? *frame : united(united(*frame, bracket), to_words);
	put_mark(composer, (struct placed_mark){.kind = MARK_WINDOW,
	                                        .area = area,
	                                        .window = {.figure = shown,
	                                                   .frame = *frame,
	                                                   .zoom = magnifier->zoom,
	                                                   .centre = mark,
	                                                   .ring = mark,
	                                                   .frame_line = LINE_MAIN,
	                                                   .wedge = look->mark.open ? WEDGE_OPEN : WEDGE_SOLID,
	                                                   .numerals = line_numerals(composer, look->syringe, look->at,
	                                                                             WINDOW_NUMERAL, magnifier->zoom),
	                                                   .n_numerals = syringe_numbered_lines(look->syringe),
	                                                   .bracket = true,
	                                                   .bracket_y = magnifier->bracket_y,
	                                                   .leader = magnifier->leader,
	                                                   .leader_to = magnifier->leader_to}});
}

static void put_window(struct composer *composer, const struct medicine_sheet *sheet, const struct line_look *look,
                       const struct syringe_figure *figure, const struct window_place *place)
{
	struct point leader = {place->frame.x + WINDOW_WIDTH + LEADER_END, place->frame.y + LEADER_DROP};
	struct magnifier magnifier = {.frame = place->frame,
	                              .zoom = place->zoom,
	                              .bracket_y = place->bracket_y,
	                              .leader = true,
	                              .leader_to = leader};
	put_magnifier(composer, look, figure, &magnifier);
	lengthen_leader(composer, sheet, place, leader);
}

static void put_window_words(struct composer *composer, const struct medicine_sheet *sheet,
                             const struct window_place *place)
{
	put_heading(composer, ROLE_H3, window_heading(composer, place),
	            composer_style(composer, TYPE_LEAD, WEIGHT_BOLD), place->words_x, place->words_y,
	            place->words_width);
	struct rect text =
		put_paragraph(composer, sheet->window_text, body(composer, WEIGHT_REGULAR), place->words_x,
	                      place->words_y + window_heading_height(composer, place) + GAP_2, place->words_width);
	double y = text.y + text.height;
	if (!place_is_beside(sheet))
		return;
	put_place_beside(composer, sheet, (struct point){place->words_x, y + WORDS_PLACE}, place->words_width);
}

/* ---- the block of the line ---- */

struct line_block {
	struct line_look look;
	struct stop_words words;
	double syringe_y; /* the tag's top, from the block's */
	double height;
};

#define DEVICE_PICTURE 30.0
#define PRINTER_AFTER GAP_3

/* A pen, or a container without a scale: picture, tag, and the words beside them. */
static double device_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	double x = DEVICE_PICTURE + GAP_4;
	double tag = sheet->mark.number == NULL ? 0 : measure_tag(composer, sheet->mark, 30).width + GAP_4;
	double width = LIVE_WIDTH - x - tag;
	return fmax(DEVICE_PICTURE,
	            stop_height(composer, sheet, width) + GAP_3 +
	                    composer_text_height(composer, sheet->window_text, body(composer, WEIGHT_REGULAR), width));
}

static void put_device(struct composer *composer, const struct medicine_sheet *sheet, double y)
{
	double height = device_height(composer, sheet);
	double x = composer->left + DEVICE_PICTURE + GAP_4;
	enum pictogram pictogram = sheet->draw->measure == MEASURE_DIAL ? PICTURE_PEN : sheet->box_picture;
	if (pictogram == PICTURE_HALF_VIAL)
		pictogram = PICTURE_LIQUID_VIAL;
	begin_figure(composer, sheet->alt);
	put_picture(composer, pictogram, composer->left, y + (height - DEVICE_PICTURE) / 2, DEVICE_PICTURE);
	if (sheet->mark.number != NULL) {
		struct rect tag = measure_tag(composer, sheet->mark, 30);
		put_tag(composer, sheet->mark, 30, (struct point){x + tag.width / 2, y + (height + tag.height) / 2});
		x += tag.width + GAP_4;
	}
	end_group(composer);
	double width = composer->right - x;
	double words = stop_height(composer, sheet, width);
	double text = composer_text_height(composer, sheet->window_text, body(composer, WEIGHT_REGULAR), width);
	double top = y + (height - words - GAP_3 - text) / 2;
	put_stop_words(composer, sheet, x, top, width);
	put_paragraph(composer, sheet->window_text, body(composer, WEIGHT_REGULAR), x, top + words + GAP_3, width);
}

/* Words stand beside the tag where they have room, else above the syringe. */
static struct line_block line_block_of(struct composer *composer, const struct medicine_sheet *sheet,
                                       struct line_form form)
{
	struct line_block block = {.look = medicine_line(composer, sheet)};
	struct syringe_figure figure = line_figure(composer, &block.look, 0);
	struct rect tag = line_tag_area(composer, &block.look, &figure);
	double room = composer->right - tag.x - tag.width - BESIDE_TAG;
	double syringe = line_rise(composer, &block.look) + line_drop(&block.look);
	/* Words higher than the tag send the syringe down by what is more, and by what hangs below their last line. */
	double more = STOP_DROP + stop_height(composer, sheet, room) - (tag.height - FLANGE_ROOM);
	double down = more > 0 ? more + GAP_1 : 0;
	bool above = room < BESIDE_LEAST || down > stop_height(composer, sheet, LIVE_WIDTH);
	block.words = (struct stop_words){.x = above ? composer->left : tag.x + tag.width + BESIDE_TAG,
	                                  .width = above ? LIVE_WIDTH : room,
	                                  .above = above};
	block.words.height = stop_height(composer, sheet, block.words.width);
	block.syringe_y = above ? block.words.height + GAP_3 : down;
	block.height = block.syringe_y + syringe;
	if (has_line(sheet)) {
		struct window_place place = window_place(composer, &block.look, &figure, form);
		double end =
			fmax(place.frame.y + place.frame.height, place.words_y + words_height(composer, sheet, &place));
		block.height = block.syringe_y + end;
	} else if (sheet->window_text != NULL) {
		block.height += GAP_3 + composer_text_height(composer, sheet->window_text,
		                                             body(composer, WEIGHT_REGULAR), LIVE_WIDTH);
	}
	return block;
}

static double printer_part_height(struct composer *composer, struct line_form form)
{
	return form.printer ? printer_height(composer) + PRINTER_AFTER : 0;
}

static double line_block_height(struct composer *composer, const struct medicine_sheet *sheet, struct line_form form)
{
	if (!medicine_has_syringe(sheet))
		return device_height(composer, sheet);
	return printer_part_height(composer, form) + line_block_of(composer, sheet, form).height;
}

static void put_line_block(struct composer *composer, const struct medicine_sheet *sheet, struct line_form form,
                           double y)
{
	if (!medicine_has_syringe(sheet)) {
		put_device(composer, sheet, y);
		return;
	}
	if (form.printer)
		put_printer_check(composer, y);
	y += printer_part_height(composer, form);
	struct line_block block = line_block_of(composer, sheet, form);
	struct syringe_figure figure = line_figure(composer, &block.look, y + block.syringe_y);
	struct window_place place = window_place(composer, &block.look, &figure, form);
	/* On every page the syringe lies left with its words at its right. */
	struct turning turning = begin_span(composer, block.words.x, block.words.x + block.words.width);
	put_stop_words(composer, sheet, block.words.x, y + STOP_DROP, block.words.width);
	end_turning(composer, turning);
	turning = begin_fixed(composer);
	begin_figure(composer, sheet->alt);
	put_line_figure(composer, &block.look, &figure);
	put_line_letter(composer, &block.look, &figure, sheet->line_letter);
	if (has_line(sheet)) {
		put_window(composer, sheet, &block.look, &figure, &place);
		put_window_letter(composer, place.frame, sheet->window_letter);
	}
	end_group(composer);
	end_turning(composer, turning);
	turning = begin_span(composer, place.words_x, place.words_x + place.words_width);
	if (has_line(sheet))
		put_window_words(composer, sheet, &place);
	end_turning(composer, turning);
	if (!has_line(sheet))
		put_paragraph(composer, sheet->window_text, body(composer, WEIGHT_REGULAR), composer->left,
		              figure.axis + line_drop(&block.look) + GAP_3, LIVE_WIDTH);
}

/* ---- keep, throw away, late ---- */

#define NOTE_BETWEEN 6.0
#define NOTE_PICTURE 6.4
#define NOTE_TEXT 2.2 /* below the heading */
#define NOTE_TOP 2.6
#define NOTE_WORDS_MOST 420.0

/* Shares are equal up to these words: the first that makes the notes as low as any. */
static const double note_leasts[] = {150, 110, 82};

/* What a note's words would need on one line, for its share of the width: long words get more, within limits. */
static double note_share(struct composer *composer, const struct medicine_sheet *sheet, size_t note, double least)
{
	double all = 0;
	double own = 0;
	for (size_t i = 0; i < sheet->n_notes; i++) {
		double words = composer_text_width(composer, sheet->notes[i].text, body(composer, WEIGHT_REGULAR));
		words = fmin(fmax(words, least), NOTE_WORDS_MOST);
		all += words;
		own = i == note ? words : own;
	}
	return own / all;
}

/* A heading stays on one line beside its picture. */
static bool headings_fit(struct composer *composer, const struct medicine_sheet *sheet, double room, double least)
{
	struct text_style style = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	for (size_t i = 0; i < sheet->n_notes; i++) {
		double heading = composer_text_width(composer, sheet->notes[i].heading, style);
		if (NOTE_PICTURE + GAP_2 + heading > room * note_share(composer, sheet, i, least))
			return false;
	}
	return true;
}

static double note_width(struct composer *composer, const struct medicine_sheet *sheet, size_t note, double least)
{
	double room = LIVE_WIDTH - (double)(sheet->n_notes - 1) * NOTE_BETWEEN;
	if (!headings_fit(composer, sheet, room, least))
		return room / (double)sheet->n_notes;
	return room * note_share(composer, sheet, note, least);
}

static double note_height(struct composer *composer, const struct medicine_sheet *sheet, size_t index, double least)
{
	const struct note_block *note = &sheet->notes[index];
	double height = NOTE_TOP + NOTE_PICTURE + NOTE_TEXT +
	                composer_text_height(composer, note->text, body(composer, WEIGHT_REGULAR),
	                                     note_width(composer, sheet, index, least));
	return note->section < 0 ? height : height + TEXT_LEADING;
}

static double notes_height_with(struct composer *composer, const struct medicine_sheet *sheet, double least)
{
	double height = 0;
	for (size_t i = 0; i < sheet->n_notes; i++)
		height = fmax(height, note_height(composer, sheet, i, least));
	return height;
}

static double best_least(struct composer *composer, const struct medicine_sheet *sheet)
{
	double best = note_leasts[0];
	for (size_t i = 1; i < sizeof note_leasts / sizeof *note_leasts; i++)
		if (notes_height_with(composer, sheet, note_leasts[i]) <
		    notes_height_with(composer, sheet, best) - TOLERANCE)
			best = note_leasts[i];
	return best;
}

double notes_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	return notes_height_with(composer, sheet, best_least(composer, sheet));
}

static void put_note(struct composer *composer, const struct note_block *note, double x, double y, double width)
{
	struct text_style lead = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	begin_artifact(composer);
	put_line(composer, x, x + width, y, LINE_OUTLINE);
	put_picture(composer, note->pictogram, x, y + NOTE_TOP, NOTE_PICTURE);
	end_group(composer);
	put_heading(composer, ROLE_H2, note->heading, lead, x + NOTE_PICTURE + GAP_2,
	            y + NOTE_TOP + (NOTE_PICTURE - text_cap_height(lead)) / 2, width - NOTE_PICTURE - GAP_2);
	begin_group(composer, ROLE_PARAGRAPH);
	struct rect text = put_plain(composer, note->text, body(composer, WEIGHT_REGULAR), x,
	                             y + NOTE_TOP + NOTE_PICTURE + NOTE_TEXT, width);
	put_page_ref(composer, note->section, body(composer, WEIGHT_REGULAR), ALIGN_START, x,
	             text.y + text.height + TEXT_LEADING - cap(composer, TYPE_BODY));
	end_group(composer);
}

void put_notes(struct composer *composer, const struct medicine_sheet *sheet, double y)
{
	double x = composer->left;
	double least = best_least(composer, sheet);
	for (size_t i = 0; i < sheet->n_notes; i++) {
		double width = note_width(composer, sheet, i, least);
		put_note(composer, &sheet->notes[i], x, y, width);
		x += width + NOTE_BETWEEN;
	}
}

/* ---- the page ---- */

#define STEPS_HEADING 3.0 /* heading to rule */
#define STEPS_TOP 3.4     /* rule to numbers */

struct back {
	const struct medicine_sheet *sheet;
	struct step_cell cells[STEP_CELLS_MOST];
	struct step_row steps;
	struct line_form line;
};

static double steps_heading_height(struct composer *composer, const struct back *back)
{
	return composer_text_height(composer, back->sheet->back_heading,
	                            composer_style(composer, TYPE_SECTION, WEIGHT_BOLD), LIVE_WIDTH) +
	       STEPS_HEADING;
}

static double steps_height(struct composer *composer, const struct back *back)
{
	if (back->steps.n == 0)
		return 0;
	return steps_heading_height(composer, back) + STEPS_TOP + step_row_height(composer, &back->steps);
}

static void put_steps(struct composer *composer, const struct back *back, double y)
{
	if (back->steps.n == 0)
		return;
	put_heading(composer, ROLE_H2, back->sheet->back_heading, composer_style(composer, TYPE_SECTION, WEIGHT_BOLD),
	            composer->left, y, LIVE_WIDTH);
	y += steps_heading_height(composer, back);
	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, y, LINE_OUTLINE);
	end_group(composer);
	put_step_row(composer, &back->steps, y + STEPS_TOP);
}

/* A caution stands before the steps that it is about; the place before a line that has none beside its window. */
enum { PART_PLACE, PART_LINE, PART_TWICE, PART_CAUTION, PART_STEPS, PART_VIALS, PART_NOTES, PARTS };

static void put_part(struct composer *composer, const struct back *back, int part, double y)
{
	switch (part) {
	case PART_LINE:
		put_line_block(composer, back->sheet, back->line, y);
		break;
	case PART_STEPS:
		put_steps(composer, back, y);
		break;
	case PART_TWICE:
		put_twice(composer, back->sheet, y);
		break;
	case PART_PLACE:
		put_place(composer, back->sheet, y);
		break;
	case PART_VIALS:
		put_vials(composer, back->sheet, y);
		break;
	case PART_CAUTION:
		put_caution(composer, back->sheet->caution_word, back->sheet->caution, y);
		break;
	default:
		put_notes(composer, back->sheet, y);
		break;
	}
}

/* How many of the parts from `first` on fit one page, at least one; `used` is their height, `gaps` those between. */
static int parts_that_fit(const struct composer *composer, const double *heights, int first, double *used, int *gaps)
{
	double room = composer->bottom - composer->top;
	int last = first + 1;
	*used = heights[first];
	*gaps = 0;
	for (; last < PARTS; last++) {
		int with = *gaps + (heights[last] > 0 && *used > 0);
		if (*used + heights[last] + section_gap_least(composer) * with > room)
			break;
		*used += heights[last];
		*gaps = with;
	}
	return last - first;
}

struct heights {
	double of[PARTS];
};

static struct heights heights_of(struct composer *composer, const struct back *back)
{
	const struct medicine_sheet *sheet = back->sheet;
	return (struct heights){{[PART_PLACE] = place_is_beside(sheet) ? 0 : place_height(composer, sheet),
	                         [PART_LINE] = line_block_height(composer, sheet, back->line),
	                         [PART_TWICE] = twice_height(composer, sheet),
	                         [PART_CAUTION] = caution_height(composer, sheet->caution_word, sheet->caution),
	                         [PART_STEPS] = steps_height(composer, back),
	                         [PART_VIALS] = vials_height(composer, sheet),
	                         [PART_NOTES] = notes_height(composer, sheet)}};
}

/* True when the first page takes so many of the parts. */
static bool page_takes(struct composer *composer, const struct back *back, int parts)
{
	double used;
	int gaps;
	return parts_that_fit(composer, heights_of(composer, back).of, 0, &used, &gaps) >= parts;
}

/* The ways to set the steps, the roomiest first. A way holds at most so many lines of so many abreast. */
static const struct {
	size_t abreast; /* 0: all, at least ROW_LEAST */
	double picture;
	enum { PLAIN, BESIDE, CORNER } way;
} step_forms[] = {{0, 30, PLAIN},  {0, 28, PLAIN},  {0, 26, PLAIN},  {0, 24, PLAIN},  {0, 22, PLAIN},
                  {0, 20, PLAIN},  {0, 18, PLAIN},  {0, 18, CORNER}, {3, 18, BESIDE}, {0, 16, CORNER},
                  {0, 15, CORNER}, {4, 16, BESIDE}, {0, 12, CORNER}, {4, 14, BESIDE}};

#define ROW_LEAST 4
#define ROW_MOST 6

static bool set_form(struct back *back, size_t form)
{
	size_t n = back->steps.n;
	back->steps.abreast = step_forms[form].abreast;
	back->steps.picture = step_forms[form].picture;
	back->steps.beside = step_forms[form].way == BESIDE;
	back->steps.corner = step_forms[form].way == CORNER;
	if (back->steps.abreast > 0)
		return true;
	back->steps.abreast = n < ROW_LEAST ? ROW_LEAST : n;
	/* In few and wide columns a picture in the corner would be far from its number. */
	return n <= ROW_MOST && (!back->steps.corner || n > ROW_LEAST);
}

/* The ways to show the line, the best first: a lower window, no check of the printer, no bodies, less between parts. */
static const struct {
	struct line_form line;
	enum closeness closeness;
	double picture; /* the least of a step's */
} ways[] = {
	{{1, true}, ROOMY, 24},    {{0.8, true}, ROOMY, 24},  {{1, true}, ROOMY, 20},    {{0.8, true}, ROOMY, 20},
	{{1, true}, ROOMY, 18},    {{0.8, true}, ROOMY, 18},  {{0.6, true}, ROOMY, 16},  {{0.8, true}, ROOMY, 12},
	{{0.6, true}, ROOMY, 12},  {{0.8, false}, ROOMY, 15}, {{0.6, false}, ROOMY, 12}, {{1, true}, CLOSE, 12},
	{{0.8, true}, CLOSE, 12},  {{0.6, true}, CLOSE, 12},  {{0.8, false}, CLOSE, 12}, {{0.6, false}, CLOSE, 12},
	{{0.5, false}, CLOSE, 12}, {{0.6, false}, TIGHT, 12}, {{0.5, false}, TIGHT, 12},
};

#define FORMS (sizeof step_forms / sizeof *step_forms)
#define NO_FORM (-1.0)

/* How high the steps are in every form, once for all ways; a form with a column too narrow for some word is none. */
static void measure_forms(struct composer *composer, struct back *back, double heights[FORMS])
{
	for (size_t form = 0; form < FORMS; form++) {
		struct trial trial;
		composer_begin_trial(composer, &trial);
		heights[form] = set_form(back, form) ? steps_height(composer, back) : NO_FORM;
		if (!composer_end_trial(composer, &trial))
			heights[form] = NO_FORM;
	}
}

/* True where a form of the steps lets the first page take so many parts. */
static bool choose_steps(struct composer *composer, struct back *back, const double forms[FORMS], int parts,
                         double least)
{
	struct trial trial;
	composer_begin_trial(composer, &trial);
	struct heights heights = heights_of(composer, back);
	bool whole = composer_end_trial(composer, &trial);
	for (size_t form = 0; form < FORMS && whole; form++) {
		double used;
		int gaps;
		if (step_forms[form].picture < least || forms[form] == NO_FORM)
			continue;
		heights.of[PART_STEPS] = forms[form];
		if (parts_that_fit(composer, heights.of, 0, &used, &gaps) >= parts)
			return set_form(back, form);
	}
	return false;
}

/* Away from their line the steps have a further page to themselves: the first form that it holds. */
static void choose_steps_alone(struct composer *composer, struct back *back, const double forms[FORMS])
{
	const struct medicine_sheet *sheet = back->sheet;
	double room = composer_content_height(composer, say_continued(composer->speaker, sheet->back_title),
	                                      sheet->back_lead, PICTURE_NONE);
	for (size_t form = 0; form < FORMS; form++)
		if (forms[form] != NO_FORM && forms[form] <= room && set_form(back, form))
			return;
	set_form(back, FORMS - 1);
}

/*
 * A sheet has one back: so pictures get smaller, then stand beside their
 * numbers, and the window gets lower. Where not all fits even so, the steps
 * stay with their line, and the rest goes on to a further page.
 */
static void choose_form(struct composer *composer, struct back *back)
{
	static const int wanted[] = {PARTS, PART_STEPS + 1};
	double forms[FORMS];
	back->steps.n = step_cells(back->sheet->back, back->sheet->n_back, back->cells, STEP_CELLS_MOST);
	back->steps.cells = back->cells;
	measure_forms(composer, back, forms);
	for (size_t i = 0; i < 2; i++)
		for (size_t way = 0; way < sizeof ways / sizeof *ways; way++) {
			composer->closeness = ways[way].closeness;
			back->line = ways[way].line;
			if (choose_steps(composer, back, forms, wanted[i], ways[way].picture))
				return;
		}
	back->line = ways[0].line;
	composer->closeness = CLOSE;
	choose_steps_alone(composer, back, forms);
}

bool medicine_back(struct composer *composer, const struct medicine_sheet *sheet)
{
	if (composer->large_print) {
		large_medicine_back(composer, sheet);
		return sheet->muscle == NULL;
	}
	struct back back = {.sheet = sheet};
	composer_new_page(composer, sheet->back_title, sheet->back_lead);
	choose_form(composer, &back);
	struct heights heights = heights_of(composer, &back);
	bool rest_later = sheet->muscle != NULL && !page_takes(composer, &back, PARTS);
	for (int i = PART_VIALS; rest_later && i < PARTS; i++)
		heights.of[i] = 0;
	int part = 0;
	double y = composer->top;
	while (part < PARTS) {
		double used;
		int gaps;
		int n = parts_that_fit(composer, heights.of, part, &used, &gaps);
		double gap = gaps == 0 ? 0 : section_gap(composer, used, gaps);
		y = composer->top;
		for (int end = part + n; part < end; part++) {
			if (heights.of[part] > 0)
				put_part(composer, &back, part, y);
			y += heights.of[part] > 0 ? heights.of[part] + gap : 0;
		}
		if (part < PARTS)
			composer_continue(composer, sheet->back_title, sheet->back_lead);
	}
	composer->closeness = ROOMY;
	fill_with_lines(composer, y);
	return !rest_later;
}
