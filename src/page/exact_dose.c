/*
 * exact_dose.c - what is injected or taken to the minute, and the two alarms: for getting it ready, and for the dose.
 *
 *     (picture)  Fictivane             [tag]  (( left  [ ] done
 *                5,000 units
 *     | (bell)  21:30          [ ] |   | (bell)  22:30          [ ] |
 *     | Alarm 1 Get ready: ...     |   | Alarm 2 Inject: ...        |
 */
#include "page/exact.h"

#include "page/styles.h"

#include <math.h>
#include <string.h>

/* ---- the dose ---- */

#define DOSE_PICTURE 14.4
#define DOSE_TEXT 19.0
#define DOSE_LINES 2.8
#define SIDE_WIDTH 11.0
#define SIDE_HEIGHT (SIDE_WIDTH * 0.62)
#define HIP_WIDTH 8.6 /* as high as wide */
#define BOX 10.4
#define BOX_WORD 2.4

static double done_x(struct composer *composer, const struct exact_sheet *sheet)
{
	double word = composer_text_width(composer, sheet->done_word, bold(composer, TYPE_BODY));
	return composer->right - fmax(word, BOX);
}

static double side_x(struct composer *composer, const struct exact_sheet *sheet)
{
	double end = done_x(composer, sheet);
	if (sheet->side == SIDE_NONE)
		return end;
	double word = composer_text_width(composer, sheet->side_word, bold(composer, TYPE_BODY));
	return end - GAP_4 - fmax(word, SIDE_WIDTH);
}

static struct rect marks_size(struct composer *composer, const struct exact_sheet *sheet)
{
	double size = bold(composer, TYPE_MARK_DEVICE).size;
	struct rect all = {0};
	for (size_t i = 0; i < sheet->n_marks; i++) {
		struct rect tag = measure_tag(composer, sheet->marks[i], size);
		all.width = fmax(all.width, tag.width);
		all.height += tag.height + (i > 0 ? GAP_1 : 0);
	}
	return all;
}

static double dose_text_width(struct composer *composer, const struct exact_sheet *sheet)
{
	double marks = sheet->n_marks == 0 ? 0 : marks_size(composer, sheet).width + GAP_4;
	return side_x(composer, sheet) - GAP_4 - marks - composer->left - DOSE_TEXT;
}

/* Where a step of this dose stands: on this sheet's back, or on the medicine's own pages; NULL: not known yet. */
static const char *label_of_step(const struct composer *composer, const struct exact_sheet *sheet, int step)
{
	const char *here = composer_label_of_step(composer, composer_section_ref(composer), step);
	return here != NULL ? here : composer_label_of_step(composer, sheet->front, step);
}

/* Then the alarms say which steps are for which. */
static bool tells_steps(const struct composer *composer, const struct exact_sheet *sheet)
{
	return sheet->front >= 0 && sheet->inject_step > 1 &&
	       label_of_step(composer, sheet, sheet->inject_step) != NULL &&
	       label_of_step(composer, sheet, sheet->inject_step - 1) != NULL;
}

/* "5,000 units"; how to get it ready and where it is drawn up, on lines of their own. */
static const char *how_words(struct composer *composer, const struct exact_sheet *sheet)
{
	if (sheet->front < 0 || tells_steps(composer, sheet))
		return NULL;
	const char *front =
		say1(composer->speaker, "exact.front", "page", composer_label_of(composer, sheet->front, 0));
	if (sheet->medicine == NULL)
		return front;
	const char *back = say1(composer->speaker, "exact.back_page", "page",
	                        composer_label_of_back(composer, composer_section_ref(composer)));
	return arena_printf(composer->arena, "%s %s", front, back);
}

static double dose_text_height(struct composer *composer, const struct exact_sheet *sheet)
{
	double width = dose_text_width(composer, sheet);
	const char *how = how_words(composer, sheet);
	double height = composer_text_height(composer, sheet->name, bold(composer, TYPE_SECTION), width) +
	                exact_apart(composer, DOSE_LINES) +
	                composer_text_height(composer, sheet->amount, bold(composer, TYPE_LEAD), width);
	if (how != NULL)
		height += exact_apart(composer, DOSE_LINES) +
		          composer_text_height(composer, how, regular(composer, TYPE_BODY), width);
	return height;
}

static double boxed_height(const struct composer *composer)
{
	return BOX + BOX_WORD + cap(composer, TYPE_BODY);
}

double exact_dose_height(struct composer *composer, const struct exact_sheet *sheet)
{
	return fmax(fmax(dose_text_height(composer, sheet), DOSE_PICTURE),
	            fmax(boxed_height(composer), marks_size(composer, sheet).height));
}

static void put_marks(struct composer *composer, const struct exact_sheet *sheet, double right, double middle)
{
	double size = bold(composer, TYPE_MARK_DEVICE).size;
	struct rect all = marks_size(composer, sheet);
	double y = middle - all.height / 2;
	for (size_t i = 0; i < sheet->n_marks; i++) {
		struct rect tag = measure_tag(composer, sheet->marks[i], size);
		put_tag(composer, sheet->marks[i], size, (struct point){right - all.width / 2, y + tag.height});
		y += tag.height + GAP_1;
	}
}

static void put_dose_words(struct composer *composer, const struct exact_sheet *sheet, double y, double height)
{
	double x = composer->left + DOSE_TEXT;
	double width = dose_text_width(composer, sheet);
	double top = y + (height - dose_text_height(composer, sheet)) / 2;
	begin_artifact(composer);
	put_picture(composer, sheet->pictogram, composer->left + 1, y + (height - DOSE_PICTURE) / 2, DOSE_PICTURE);
	end_group(composer);
	struct rect name = put_heading(composer, ROLE_H2, sheet->name, bold(composer, TYPE_SECTION), x, top, width);
	struct rect amount = put_paragraph(composer, sheet->amount, bold(composer, TYPE_LEAD), x,
	                                   name.y + name.height + exact_apart(composer, DOSE_LINES), width);
	put_paragraph(composer, how_words(composer, sheet), regular(composer, TYPE_BODY), x,
	              amount.y + amount.height + exact_apart(composer, DOSE_LINES), width);
}

void exact_put_dose(struct composer *composer, const struct exact_sheet *sheet, double y)
{
	struct text_style word = bold(composer, TYPE_BODY);
	double height = exact_dose_height(composer, sheet);
	double top = y + (height - boxed_height(composer)) / 2;
	double word_y = top + BOX + BOX_WORD;
	put_dose_words(composer, sheet, y, height);
	begin_group(composer, ROLE_PARAGRAPH);
	put_marks(composer, sheet, side_x(composer, sheet) - GAP_4, y + height / 2);
	if (sheet->side != SIDE_NONE) {
		double left = side_x(composer, sheet);
		double middle = (left + done_x(composer, sheet) - GAP_4) / 2;
		double width = sheet->hip ? HIP_WIDTH : SIDE_WIDTH;
		double sign = sheet->hip ? HIP_WIDTH : SIDE_HEIGHT;
		struct rect area = {middle - width / 2, top + (BOX - sign) / 2, width, sign};
		put_mark(composer, (struct placed_mark){.kind = MARK_SIDE,
		                                        .area = area,
		                                        .side = {{area.x, area.y}, width, sheet->side, sheet->hip}});
		put_text(composer, sheet->side_word, word, ALIGN_CENTER, middle, word_y, 0, COLOUR_INK);
	}
	double middle = (done_x(composer, sheet) + composer->right) / 2;
	put_tick(composer, (struct point){middle - BOX / 2, top}, BOX);
	put_text(composer, sheet->done_word, word, ALIGN_CENTER, middle, word_y, 0, COLOUR_INK);
	end_group(composer);
}

/* ---- alarms ---- */

#define CARD_GAP 6.0
#define ALARM_TEXT 20.0
#define ALARM_BELL 10.0
#define ALARM_LINES 2.7

static double card_width(const struct composer *composer)
{
	return composer->large_print ? LIVE_WIDTH : (LIVE_WIDTH - CARD_GAP) / 2;
}

static double alarm_text_x(struct composer *composer, const struct exact_alarm *alarm)
{
	return fmax(ALARM_TEXT, composer_text_width(composer, alarm->heading, bold(composer, TYPE_REFERENCE)) + 7);
}

/* "Get ready: page 14, then page 16 up to step 10." */
static const char *ready_words(struct composer *composer, const struct exact_sheet *sheet)
{
	struct speaker *speaker = composer->speaker;
	const char *front = composer_label_of(composer, sheet->front, 0);
	const char *last = label_of_step(composer, sheet, sheet->inject_step - 1);
	bool two = composer_label_of_step(composer, composer_section_ref(composer), sheet->inject_step - 1) != NULL;
	struct value values[] = {
		{"page", front},
		{"back", two ? composer_label_of_back(composer, composer_section_ref(composer)) : ""},
		{"step", say_number(speaker, rational_of(sheet->inject_step - 1, 1))},
	};
	if (two)
		return say(speaker, composer->large_print ? "exact.ready_on_two" : "exact.ready_two", values, 3);
	return say(speaker, strcmp(front, last) == 0 ? "exact.ready_one" : "exact.ready_on", values, 3);
}

/* What an alarm is for, with the pages and steps where they are known. */
static const char *alarm_words(struct composer *composer, const struct exact_sheet *sheet,
                               const struct exact_alarm *alarm)
{
	struct speaker *speaker = composer->speaker;
	if (!tells_steps(composer, sheet))
		return alarm == &sheet->alarms[0] && sheet->warm_first != NULL
		               ? arena_printf(composer->arena, "%s %s", sheet->warm_first, alarm->text)
		               : alarm->text;
	if (alarm == &sheet->alarms[1])
		return say2(speaker, "exact.inject_from", "page", label_of_step(composer, sheet, sheet->inject_step),
		            "step", say_number(speaker, rational_of(sheet->inject_step, 1)));
	const char *ready = ready_words(composer, sheet);
	return sheet->warm_first == NULL ? ready : arena_printf(composer->arena, "%s %s", sheet->warm_first, ready);
}

static double alarm_text_width(struct composer *composer, const struct exact_sheet *sheet,
                               const struct exact_alarm *alarm)
{
	double set = fmax(composer_text_width(composer, sheet->set_word, regular(composer, TYPE_REFERENCE)), BOX);
	return card_width(composer) - alarm_text_x(composer, alarm) - set - GAP_2 - GAP_3;
}

static double alarm_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                           const struct exact_alarm *alarm)
{
	double width = alarm_text_width(composer, sheet, alarm);
	return 2 * form->pad + cap(composer, TYPE_TITLE) + exact_apart(composer, ALARM_LINES) + 0.4 +
	       composer_text_height(composer, alarm->day, regular(composer, TYPE_BODY), width) +
	       exact_apart(composer, ALARM_LINES) +
	       composer_text_height(composer, alarm_words(composer, sheet, alarm), regular(composer, TYPE_BODY), width);
}

static double cards_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet)
{
	double first = alarm_height(composer, form, sheet, &sheet->alarms[0]);
	double second = alarm_height(composer, form, sheet, &sheet->alarms[1]);
	return composer->large_print ? first + GAP_3 + second : fmax(first, second);
}

double exact_alarms_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet)
{
	return exact_heading_height(composer, sheet->alarms_heading, sheet->alarms_note) +
	       cards_height(composer, form, sheet);
}

static void put_alarm(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                      const struct exact_alarm *alarm, struct rect area)
{
	struct text_style small = bold(composer, TYPE_REFERENCE);
	struct text_style set = regular(composer, TYPE_REFERENCE);
	double x = area.x + alarm_text_x(composer, alarm);
	double width = alarm_text_width(composer, sheet, alarm);
	double middle = area.x + alarm_text_x(composer, alarm) / 2;
	double bell = area.y + (area.height - ALARM_BELL - 2.4 - text_cap_height(small)) / 2;
	begin_artifact(composer);
	put_frame(composer, area, LINE_MAIN);
	put_picture(composer, PICTURE_BELL, middle - ALARM_BELL / 2, bell, ALARM_BELL);
	end_group(composer);
	begin_group(composer, ROLE_PARAGRAPH);
	put_text(composer, alarm->heading, small, ALIGN_CENTER, middle, bell + ALARM_BELL + 2.4, 0, COLOUR_INK);
	struct rect line = put_plain(composer, alarm->time, bold(composer, TYPE_TITLE), x, area.y + form->pad, 0);
	line = put_plain(composer, alarm->day, regular(composer, TYPE_BODY), x,
	                 line.y + line.height + exact_apart(composer, ALARM_LINES) + 0.4, width);
	put_plain(composer, alarm_words(composer, sheet, alarm), regular(composer, TYPE_BODY), x,
	          line.y + line.height + exact_apart(composer, ALARM_LINES), width);
	double word = fmax(composer_text_width(composer, sheet->set_word, set), BOX);
	double box = area.x + area.width - GAP_2 - word / 2;
	double top = area.y + (area.height - BOX - 2.4 - text_cap_height(set)) / 2;
	put_tick(composer, (struct point){box - BOX / 2, top}, BOX);
	put_text(composer, sheet->set_word, set, ALIGN_CENTER, box, top + BOX + 2.4, 0, COLOUR_INK);
	end_group(composer);
}

void exact_put_alarms(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                      double y)
{
	double width = card_width(composer);
	double top = exact_put_heading(composer, sheet->alarms_heading, sheet->alarms_note, y);
	composer_note_part(composer, sheet->alarms);
	for (size_t i = 0; i < 2; i++) {
		bool below = composer->large_print;
		double height = below ? alarm_height(composer, form, sheet, &sheet->alarms[i])
		                      : cards_height(composer, form, sheet);
		double x = below ? composer->left : composer->left + (double)i * (width + CARD_GAP);
		put_alarm(composer, form, sheet, &sheet->alarms[i], (struct rect){x, top, width, height});
		if (below)
			top += height + GAP_3;
	}
}
