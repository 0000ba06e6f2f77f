/*
 * exact.c - a dose to the minute: a sheet of its own, with how to draw it up on its back.
 *
 *     +--------------------------------+
 *     | (dial)  In the night from      |
 *     |         Thursday to Friday     |
 *     |         00:30              )   |   in large print the days stand above
 *     |         half an hour after ... |   the dial, and there is no line of hours
 *     |  |--'--'--|--'-v-'--|--'--'--| |
 *     +--------------------------------+
 *     dose and tag, two alarms, what comes after, what if, I injected at
 *
 * What does not fit goes on to a further page, part by part.
 */
#include "page/large.h"
#include "page/medicine.h"
#include "page/sections.h"
#include "page/styles.h"

#include <math.h>
#include <string.h>

struct exact_form {
	double dial; /* radius */
	double time_size;
	double days_size;
	double moon;
	double line; /* of the frame */
	bool days_above;
	double frame_pad;
	double pad; /* of the alarms */
	double row; /* a rule of 'what if', around its text */
};

static const struct exact_form roomy = {24, 80, 21.5, 18, 1.4, false, 8.2, 4.4, 3.1};
static const struct exact_form close = {21, 72, 21.5, 16, 1.4, false, 4.6, 2.6, 2.6};
static const struct exact_form tight = {17, 58, 19, 13, 1.4, false, 2.8, 2.0, 1.8};
static const struct exact_form large = {27, 92, 24, 18, 1.8, true, 8.2, 4.4, 3.4};

/* Lines of a larger type stand further apart. */
static double apart(const struct composer *composer, double normal)
{
	return composer->large_print ? normal + 1.8 : normal;
}

/* ---- the frame ---- */

#define DIAL_LEFT 6.6 /* frame to dial */
#define DIAL_RIGHT 9.0
#define FRAME_RIGHT 5.0
#define DAYS_LEAST 0.86 /* both days shrink to this before they take two lines */
#define NIGHT_DAYS 3.4  /* between the lines */
#define DAYS_TIME 4.6
#define TIME_TWIN 5.6
#define TWIN_PHONE 3.6
#define HOURS_GAP 5.0

static struct text_style time_style(const struct exact_form *form)
{
	return (struct text_style){.size = form->time_size, .weight = WEIGHT_BOLD};
}

static struct text_style days_style(const struct exact_form *form)
{
	return (struct text_style){
		.size = form->days_size, .weight = WEIGHT_BOLD, .leading = 1.2 * form->days_size * POINT_MM};
}

static double text_x(const struct exact_form *form)
{
	return DIAL_LEFT + 2 * form->dial + DIAL_RIGHT;
}

static double text_column(const struct exact_form *form)
{
	return LIVE_WIDTH - text_x(form) - FRAME_RIGHT;
}

static double days_width(const struct exact_form *form)
{
	return form->days_above ? LIVE_WIDTH - DIAL_LEFT - FRAME_RIGHT - form->moon - GAP_3 : text_column(form);
}

static const struct text_block *days_block(struct composer *composer, const struct exact_form *form,
                                           const struct exact_sheet *sheet)
{
	struct text_style least = days_style(form);
	least.size *= DAYS_LEAST;
	bool one_line = composer_text_width(composer, sheet->days, least) <= days_width(form);
	return composer_set_name(composer, sheet->days, days_style(form), days_width(form), one_line ? 1 : 2);
}

static double days_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet)
{
	double night = sheet->night == NULL ? 0 : cap(composer, TYPE_LEAD) + apart(composer, NIGHT_DAYS);
	return night + text_height(days_block(composer, form, sheet));
}

static double twin_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet)
{
	return composer_text_height(composer, sheet->twin, bold(composer, TYPE_SECTION), text_column(form));
}

static double phone_width(const struct exact_form *form)
{
	return form->days_above ? LIVE_WIDTH - DIAL_LEFT - FRAME_RIGHT : text_column(form);
}

/* What a phone shows, and whose clock it is where the line of hours does not say it or it is not home's. */
static const char *phone_words(struct composer *composer, const struct exact_form *form,
                               const struct exact_sheet *sheet)
{
	const char *zone = sheet->away != NULL ? sheet->away : form->days_above ? sheet->zone : NULL;
	return zone == NULL ? sheet->am_pm : arena_printf(composer->arena, "%s\n%s", sheet->am_pm, zone);
}

static double phone_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet)
{
	return composer_text_height(composer, phone_words(composer, form, sheet), regular(composer, TYPE_BODY),
	                            phone_width(form));
}

/* Time and twin, beside the dial. */
static double time_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet)
{
	return text_cap_height(time_style(form)) + TIME_TWIN + twin_height(composer, form, sheet);
}

/* From the first line to the last, without the line of hours. */
static double column_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet)
{
	double words = DAYS_TIME + time_height(composer, form, sheet);
	double phone = apart(composer, TWIN_PHONE) + phone_height(composer, form, sheet);
	if (form->days_above)
		return days_height(composer, form, sheet) + fmax(words, DAYS_TIME + 2 * form->dial) + phone;
	return fmax(days_height(composer, form, sheet) + words + phone, 2 * form->dial);
}

static void put_time(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                     double y)
{
	double x = composer->left + text_x(form);
	begin_group(composer, ROLE_PARAGRAPH);
	struct rect time = put_plain(composer, sheet->time, time_style(form), x, y, 0);
	put_plain(composer, sheet->twin, bold(composer, TYPE_SECTION), x, time.y + time.height + TIME_TWIN,
	          text_column(form));
	end_group(composer);
	if (form->days_above)
		return;
	begin_artifact(composer);
	put_picture(composer, sheet->sign, composer->right - FRAME_RIGHT - GAP_4 - form->moon,
	            time.y + (time.height - form->moon) / 2, form->moon);
	end_group(composer);
}

static void put_days(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                     double x, double y)
{
	begin_group(composer, ROLE_H2);
	if (sheet->night != NULL)
		y += put_plain(composer, sheet->night, regular(composer, TYPE_LEAD), x, y, days_width(form)).height +
		     apart(composer, NIGHT_DAYS);
	put_block(composer, days_block(composer, form, sheet), ALIGN_START, x, y, COLOUR_INK);
	end_group(composer);
}

static void put_dial(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                     double middle)
{
	begin_figure(composer, sheet->dial_alt);
	put_clock(composer, (struct point){composer->left + DIAL_LEFT + form->dial, middle}, form->dial, sheet->clock,
	          1.0, COLOUR_INK);
	end_group(composer);
}

static void put_column(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                       double y)
{
	double height = column_height(composer, form, sheet);
	struct text_style phone = regular(composer, TYPE_BODY);
	double phone_y = y + height - phone_height(composer, form, sheet);
	double under_days = y + days_height(composer, form, sheet) + DAYS_TIME;
	if (form->days_above) {
		double x = composer->left + DIAL_LEFT;
		put_days(composer, form, sheet, x, y);
		begin_artifact(composer);
		put_picture(composer, sheet->sign, composer->right - FRAME_RIGHT - form->moon, y, form->moon);
		end_group(composer);
		put_dial(composer, form, sheet, under_days + form->dial);
		put_time(composer, form, sheet,
		         under_days + fmax(0, 2 * form->dial - time_height(composer, form, sheet)) / 2);
		put_paragraph(composer, phone_words(composer, form, sheet), phone, x, phone_y, phone_width(form));
		return;
	}
	put_days(composer, form, sheet, composer->left + text_x(form), y);
	put_dial(composer, form, sheet, y + height / 2);
	put_time(composer, form, sheet, under_days);
	put_paragraph(composer, phone_words(composer, form, sheet), phone, composer->left + text_x(form),
	              under_days + time_height(composer, form, sheet) + apart(composer, TWIN_PHONE), phone_width(form));
}

/* ---- the line of hours ---- */

#define HOURS_SIDE 9.0
#define HOUR (162.0 / HOUR_LINE_HOURS)
#define HOURS_LABEL 4.2 /* cap top of the days to the wedge */
#define WEDGE 5.6
#define HOUR_TICK 1.6
#define QUARTER_TICK 3.4 /* every third hour */
#define NIGHT_BAR 2.0
#define HOURS_NUMERAL 4.2 /* line to numerals */
#define NIGHT_SIGN 5.0
#define HOURS_KEY 2.2 /* numerals to what the line shows */

static bool has_hours(const struct exact_form *form)
{
	return !form->days_above;
}

static double hours_key_width(void)
{
	return LIVE_WIDTH - 2 * HOURS_SIDE;
}

static double hours_height(struct composer *composer, const struct exact_sheet *sheet)
{
	return cap(composer, TYPE_BODY) + HOURS_LABEL + WEDGE + HOURS_NUMERAL + cap(composer, TYPE_REFERENCE) +
	       HOURS_KEY +
	       composer_text_height(composer, sheet->hours_key, regular(composer, TYPE_REFERENCE), hours_key_width());
}

static double hour_x(const struct composer *composer, const struct hour_line *line, double hour)
{
	return composer->left + HOURS_SIDE + (hour - line->first) * HOUR;
}

/* The night below the line, and a moon at either end of it that the wedge leaves free. */
static void put_night(struct composer *composer, const struct hour_line *line, double y)
{
	double from = fmax(HOUR_LINE_DARK_FROM, line->first);
	double to = fmin(HOUR_LINE_DARK_TO, line->first + HOUR_LINE_HOURS);
	double wedge = hour_x(composer, line, line->first + line->at / 60.0);
	if (from >= to)
		return;
	double left = hour_x(composer, line, from);
	double right = hour_x(composer, line, to);
	put_box(composer, (struct rect){left, y + 0.9, right - left, NIGHT_BAR},
	        (struct box){.stroke = COLOUR_NONE, .fill = COLOUR_DAY});
	double signs[] = {left + 1.4, right - NIGHT_SIGN - 1.4};
	for (size_t i = 0; i < 2 && line->early_hours != NULL; i++)
		if (fabs(signs[i] + NIGHT_SIGN / 2 - wedge) > NIGHT_SIGN)
			put_picture(composer, PICTURE_MOON, signs[i], y - NIGHT_SIGN - 0.8, NIGHT_SIGN);
}

static void put_hour_marks(struct composer *composer, const struct hour_line *line, double y)
{
	for (int i = 0; i <= HOUR_LINE_HOURS; i++) {
		double x = hour_x(composer, line, line->first + i);
		bool third = i % 3 == 0;
		bool midnight = (line->first + i) % 24 == 0;
		if (!midnight)
			put_rule(composer, (struct point){x, y - (third ? QUARTER_TICK : HOUR_TICK)},
			         (struct point){x, y}, third ? LINE_MAIN : LINE_FINE, COLOUR_INK);
		if (!third)
			continue;
		struct clock_time time = {(line->first + i) % 24, 0};
		struct text_style style =
			composer_style(composer, TYPE_REFERENCE, midnight ? WEIGHT_BOLD : WEIGHT_REGULAR);
		put_text(composer, say_time(composer->speaker, time), style, ALIGN_CENTER, x, y + HOURS_NUMERAL, 0,
		         COLOUR_INK);
	}
	put_line(composer, hour_x(composer, line, line->first), hour_x(composer, line, line->first + HOUR_LINE_HOURS),
	         y, LINE_MAIN);
}

static void put_hours(struct composer *composer, const struct exact_sheet *sheet, double top)
{
	const struct hour_line *line = &sheet->hours;
	struct text_style style = bold(composer, TYPE_BODY);
	double y = top + cap(composer, TYPE_BODY) + HOURS_LABEL + WEDGE;
	double wedge = hour_x(composer, line, line->first + line->at / 60.0);
	begin_artifact(composer);
	if (line->early_hours != NULL) {
		double midnight = hour_x(composer, line, 24);
		put_dashed_rule(composer, (struct point){midnight, top - 1.2}, (struct point){midnight, y}, LINE_MAIN);
		put_text(composer, line->evening, style, ALIGN_END, midnight - 2.4, top, 0, COLOUR_INK);
		put_text(composer, line->early_hours, style, ALIGN_START, midnight + 2.4, top, 0, COLOUR_INK);
	} else {
		put_text(composer, line->evening, style, ALIGN_CENTER, (composer->left + composer->right) / 2, top, 0,
		         COLOUR_INK);
	}
	put_night(composer, line, y);
	begin_inside(composer);
	put_hour_marks(composer, line, y);
	put_mark(composer, (struct placed_mark){.kind = MARK_RULE,
	                                        .area = {wedge - 1.4, y - WEDGE, 2.8, WEDGE},
	                                        .rule = {.from = {wedge, y - WEDGE},
	                                                 .to = {wedge, y - LINE_MAIN / 2},
	                                                 .line = 1.4,
	                                                 .colour = COLOUR_RUST,
	                                                 .arrow = true}});
	end_inside(composer);
	end_group(composer);
	put_paragraph(composer, sheet->hours_key, regular(composer, TYPE_REFERENCE), composer->left + HOURS_SIDE,
	              y + HOURS_NUMERAL + cap(composer, TYPE_REFERENCE) + HOURS_KEY, hours_key_width());
}

static double frame_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet)
{
	double hours = has_hours(form) ? HOURS_GAP + hours_height(composer, sheet) : 0;
	return 2 * form->frame_pad + column_height(composer, form, sheet) + hours;
}

static void put_exact_frame(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                            double y)
{
	double height = frame_height(composer, form, sheet);
	struct rect edge = {composer->left + form->line / 2, y + form->line / 2, LIVE_WIDTH - form->line,
	                    height - form->line};
	begin_artifact(composer);
	put_box(composer, edge,
	        (struct box){.radius = 2, .line = form->line, .stroke = COLOUR_RUST, .fill = COLOUR_NONE});
	end_group(composer);
	put_column(composer, form, sheet, y + form->frame_pad);
	if (has_hours(form))
		put_hours(composer, sheet, y + form->frame_pad + column_height(composer, form, sheet) + HOURS_GAP);
}

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
	                apart(composer, DOSE_LINES) +
	                composer_text_height(composer, sheet->amount, bold(composer, TYPE_LEAD), width);
	if (how != NULL)
		height += apart(composer, DOSE_LINES) +
		          composer_text_height(composer, how, regular(composer, TYPE_BODY), width);
	return height;
}

static double boxed_height(const struct composer *composer)
{
	return BOX + BOX_WORD + cap(composer, TYPE_BODY);
}

static double dose_height(struct composer *composer, const struct exact_sheet *sheet)
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
	                                   name.y + name.height + apart(composer, DOSE_LINES), width);
	put_paragraph(composer, how_words(composer, sheet), regular(composer, TYPE_BODY), x,
	              amount.y + amount.height + apart(composer, DOSE_LINES), width);
}

static void put_dose(struct composer *composer, const struct exact_sheet *sheet, double y)
{
	struct text_style word = bold(composer, TYPE_BODY);
	double height = dose_height(composer, sheet);
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

/* ---- headings of the parts below ---- */

#define HEADING_BELOW 3.6

static double heading_height(const struct composer *composer)
{
	return cap(composer, TYPE_SECTION) + HEADING_BELOW;
}

/* A note stands at the end of the heading's line where it has room there, else below. */
static bool note_beside(struct composer *composer, const char *heading, const char *note)
{
	return !composer->large_print &&
	       composer_text_width(composer, heading, bold(composer, TYPE_SECTION)) + GAP_3 +
	                       composer_text_width(composer, note, regular(composer, TYPE_BODY)) <=
	               LIVE_WIDTH;
}

static double note_height(struct composer *composer, const char *heading, const char *note)
{
	if (note_beside(composer, heading, note))
		return 0;
	return composer_text_height(composer, note, regular(composer, TYPE_BODY), LIVE_WIDTH) + HEADING_BELOW;
}

static double put_part_heading(struct composer *composer, const char *text, double y)
{
	put_heading(composer, ROLE_H2, text, bold(composer, TYPE_SECTION), composer->left, y, LIVE_WIDTH);
	return y + heading_height(composer);
}

static double put_noted_heading(struct composer *composer, const char *heading, const char *note, double y)
{
	double below = put_part_heading(composer, heading, y);
	if (note_beside(composer, heading, note)) {
		put_text(composer, note, regular(composer, TYPE_BODY), ALIGN_END, composer->right,
		         y + cap(composer, TYPE_SECTION) - cap(composer, TYPE_BODY), 0, COLOUR_INK);
		return below;
	}
	put_paragraph(composer, note, regular(composer, TYPE_BODY), composer->left, below, LIVE_WIDTH);
	return below + note_height(composer, heading, note);
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
	return 2 * form->pad + cap(composer, TYPE_TITLE) + apart(composer, ALARM_LINES) + 0.4 +
	       composer_text_height(composer, alarm->day, regular(composer, TYPE_BODY), width) +
	       apart(composer, ALARM_LINES) +
	       composer_text_height(composer, alarm_words(composer, sheet, alarm), regular(composer, TYPE_BODY), width);
}

static double cards_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet)
{
	double first = alarm_height(composer, form, sheet, &sheet->alarms[0]);
	double second = alarm_height(composer, form, sheet, &sheet->alarms[1]);
	return composer->large_print ? first + GAP_3 + second : fmax(first, second);
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
	                 line.y + line.height + apart(composer, ALARM_LINES) + 0.4, width);
	put_plain(composer, alarm_words(composer, sheet, alarm), regular(composer, TYPE_BODY), x,
	          line.y + line.height + apart(composer, ALARM_LINES), width);
	double word = fmax(composer_text_width(composer, sheet->set_word, set), BOX);
	double box = area.x + area.width - GAP_2 - word / 2;
	double top = area.y + (area.height - BOX - 2.4 - text_cap_height(set)) / 2;
	put_tick(composer, (struct point){box - BOX / 2, top}, BOX);
	put_text(composer, sheet->set_word, set, ALIGN_CENTER, box, top + BOX + 2.4, 0, COLOUR_INK);
	end_group(composer);
}

static void put_alarms(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                       double y)
{
	double width = card_width(composer);
	double top = put_noted_heading(composer, sheet->alarms_heading, sheet->alarms_note, y);
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

/* ---- what comes after ---- */

#define STOP_RADIUS 2.9
#define FIRST_RADIUS 3.2
#define STOP_BELOW 2.6
#define STOP_LINES 2.5

static double stop_x(const struct composer *composer, const struct exact_sheet *sheet, size_t i)
{
	static const double two[] = {0, 0.5, 1};
	static const double three[] = {0, 0.37, 0.69, 1};
	const double *shares = sheet->n_stops > 2 ? three : two;
	/* In large print each needs the same. */
	double share = composer->large_print ? (double)i / (double)sheet->n_stops : shares[i];
	return composer->left + share * LIVE_WIDTH;
}

static double stop_width(const struct composer *composer, const struct exact_sheet *sheet, size_t i)
{
	return stop_x(composer, sheet, i + 1) - stop_x(composer, sheet, i) - (i + 1 < sheet->n_stops ? GAP_2 : 0);
}

static double stop_height(struct composer *composer, const struct exact_sheet *sheet, size_t i)
{
	double width = stop_width(composer, sheet, i);
	return composer_text_height(composer, sheet->stops[i].when, regular(composer, TYPE_BODY), width) +
	       apart(composer, STOP_LINES) +
	       composer_text_height(composer, sheet->stops[i].what, regular(composer, TYPE_BODY), width);
}

static double change_height(struct composer *composer, const struct exact_sheet *sheet)
{
	if (sheet->clock_change == NULL)
		return 0;
	return GAP_3 + composer_text_height(composer, sheet->clock_change, regular(composer, TYPE_BODY), LIVE_WIDTH);
}

static double after_height(struct composer *composer, const struct exact_sheet *sheet)
{
	double height = 0;
	for (size_t i = 0; i < sheet->n_stops; i++)
		height = fmax(height, stop_height(composer, sheet, i));
	if (sheet->n_stops > 0)
		height += heading_height(composer) + 2 * FIRST_RADIUS + STOP_BELOW;
	return height + change_height(composer, sheet);
}

static void put_ring(struct composer *composer, const struct exact_sheet *sheet, size_t i, double axis)
{
	double line = i == 0 ? LINE_ALARM : LINE_STRONG;
	double radius = (i == 0 ? FIRST_RADIUS : STOP_RADIUS) - line / 2;
	double x = stop_x(composer, sheet, i) + FIRST_RADIUS;
	put_box(composer, (struct rect){x - radius, axis - radius, 2 * radius, 2 * radius},
	        (struct box){.radius = radius,
	                     .line = line,
	                     .stroke = i == 0 ? COLOUR_RUST : COLOUR_INK,
	                     .fill = COLOUR_NONE});
}

/* The way from one ring to the next, with the hours in its middle. */
static void put_way(struct composer *composer, const struct exact_sheet *sheet, size_t i, double axis)
{
	struct text_style style = regular(composer, TYPE_BODY);
	double left = stop_x(composer, sheet, i) + 2 * FIRST_RADIUS;
	double right = stop_x(composer, sheet, i + 1) + FIRST_RADIUS - STOP_RADIUS;
	double half = composer_text_width(composer, sheet->stops[i].elapsed, style) / 2 + 1.6;
	double middle = (left + right) / 2;
	put_line(composer, left, middle - half, axis, LINE_STRONG);
	put_line(composer, middle + half, right, axis, LINE_STRONG);
	put_text(composer, sheet->stops[i].elapsed, style, ALIGN_CENTER, middle, axis - text_cap_height(style) / 2, 0,
	         COLOUR_INK);
}

static void put_after(struct composer *composer, const struct exact_sheet *sheet, double y)
{
	double end = y + after_height(composer, sheet);
	if (sheet->n_stops > 0) {
		y = put_part_heading(composer, sheet->after_heading, y);
		double axis = y + FIRST_RADIUS;
		begin_group(composer, ROLE_LIST);
		for (size_t i = 0; i < sheet->n_stops; i++) {
			double width = stop_width(composer, sheet, i);
			begin_group(composer, ROLE_LIST_ITEM);
			put_ring(composer, sheet, i, axis);
			struct rect when =
				put_plain(composer, sheet->stops[i].when, regular(composer, TYPE_BODY),
			                  stop_x(composer, sheet, i), axis + FIRST_RADIUS + STOP_BELOW, width);
			put_plain(composer, sheet->stops[i].what, regular(composer, TYPE_BODY), when.x,
			          when.y + when.height + apart(composer, STOP_LINES), width);
			if (i + 1 < sheet->n_stops)
				put_way(composer, sheet, i, axis);
			end_group(composer);
		}
		end_group(composer);
	}
	put_paragraph(composer, sheet->clock_change, regular(composer, TYPE_BODY), composer->left,
	              end - change_height(composer, sheet) + GAP_3, LIVE_WIDTH);
}

/* ---- what if ---- */

#define N_RULES 3
#define RULE_TEXT 63.0
#define RULE_HEAD 5.4 /* the heads of the two columns, cap top to the rule */

/* In large print each is a line and what to do below it: a list. */
static double rule_text_x(const struct composer *composer)
{
	return composer->large_print ? 0 : RULE_TEXT;
}

static struct text_style rule_when_style(const struct composer *composer)
{
	return composer->large_print ? bold(composer, TYPE_BODY) : regular(composer, TYPE_BODY);
}

static double rule_height(struct composer *composer, const struct exact_form *form, const struct exact_rule *rule)
{
	double x = rule_text_x(composer);
	struct text_style when = rule_when_style(composer);
	double what = composer_text_height(composer, rule->what, regular(composer, TYPE_BODY), LIVE_WIDTH - x);
	double left = composer_text_height(composer, rule->when, when, x == 0 ? LIVE_WIDTH : x - GAP_3);
	return 2 * form->row + (x == 0 ? left + GAP_3 + what : fmax(left, what));
}

static double rules_heading_height(struct composer *composer, const struct exact_sheet *sheet)
{
	double call = sheet->call_text == NULL ? 0 : note_height(composer, sheet->if_heading, sheet->call_text);
	return heading_height(composer) + call + (composer->large_print ? 0 : RULE_HEAD);
}

static double rules_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet)
{
	double height = rules_heading_height(composer, sheet);
	for (size_t i = 0; i < N_RULES; i++)
		height += rule_height(composer, form, &sheet->rules[i]);
	return height;
}

static void put_rule_heads(struct composer *composer, const struct exact_sheet *sheet, double y)
{
	const char *const heads[] = {sheet->if_head, sheet->do_head};
	begin_group(composer, ROLE_ROW);
	for (size_t i = 0; i < 2; i++) {
		begin_head_cell(composer, SCOPE_COLUMN);
		put_plain(composer, heads[i], regular(composer, TYPE_REFERENCE),
		          composer->left + (i == 0 ? 0 : RULE_TEXT), y, 0);
		end_group(composer);
	}
	end_group(composer);
}

static void put_what_if(struct composer *composer, const struct exact_form *form, const struct exact_rule *rule,
                        double y)
{
	bool list = composer->large_print;
	double x = rule_text_x(composer);
	begin_group(composer, list ? ROLE_LIST_ITEM : ROLE_ROW);
	if (!list)
		begin_head_cell(composer, SCOPE_ROW);
	struct rect when = put_plain(composer, rule->when, rule_when_style(composer), composer->left, y + form->row,
	                             list ? LIVE_WIDTH : x - GAP_3);
	if (!list) {
		end_group(composer);
		begin_group(composer, ROLE_CELL);
	}
	put_plain(composer, rule->what, regular(composer, TYPE_BODY), composer->left + x,
	          list ? when.y + when.height + GAP_3 : y + form->row, LIVE_WIDTH - x);
	if (!list)
		end_group(composer);
	end_group(composer);
}

static void put_rules(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                      double y)
{
	double end = y + rules_heading_height(composer, sheet);
	if (sheet->call_text == NULL)
		put_part_heading(composer, sheet->if_heading, y);
	else
		put_noted_heading(composer, sheet->if_heading, sheet->call_text, y);
	y = end;
	begin_group(composer, composer->large_print ? ROLE_LIST : ROLE_TABLE);
	if (!composer->large_print)
		put_rule_heads(composer, sheet, y - RULE_HEAD);
	put_line(composer, composer->left, composer->right, y, LINE_MAIN);
	for (size_t i = 0; i < N_RULES; i++) {
		put_what_if(composer, form, &sheet->rules[i], y);
		y += rule_height(composer, form, &sheet->rules[i]);
		put_line(composer, composer->left, composer->right, y, i + 1 == N_RULES ? LINE_MAIN : LINE_FINE);
	}
	end_group(composer);
}

/* ---- I injected at ---- */

#define DIGIT_WIDTH 6.6
#define DIGIT_HEIGHT 8.2

static double digits_width(void)
{
	return 4 * DIGIT_WIDTH + 0.6 + 3.4;
}

static double injected_height(struct composer *composer, const struct exact_sheet *sheet)
{
	double x = composer_text_width(composer, sheet->injected_word, bold(composer, TYPE_LEAD)) + GAP_4 +
	           digits_width() + GAP_4;
	return fmax(DIGIT_HEIGHT,
	            composer_text_height(composer, sheet->tell_text, regular(composer, TYPE_BODY), LIVE_WIDTH - x));
}

/* Four boxes and a colon: hours and minutes are the same way round in every script. */
static void put_digits(struct composer *composer, double x, double y)
{
	struct text_style style = bold(composer, TYPE_LEAD);
	const double at[] = {0, DIGIT_WIDTH + 0.3, 2 * DIGIT_WIDTH + 3.7, 3 * DIGIT_WIDTH + 4.0};
	for (size_t i = 0; i < 4; i++)
		put_write_in(composer, (struct rect){x + at[i], y, DIGIT_WIDTH, DIGIT_HEIGHT});
	put_text(composer, ":", style, ALIGN_CENTER, x + 2 * DIGIT_WIDTH + 2.0,
	         y + (DIGIT_HEIGHT - text_cap_height(style)) / 2, 0, COLOUR_INK);
}

static void put_injected(struct composer *composer, const struct exact_sheet *sheet, double y)
{
	double height = injected_height(composer, sheet);
	double middle = y + height / 2;
	struct text_style lead = bold(composer, TYPE_LEAD);
	struct text_style body = regular(composer, TYPE_BODY);
	begin_group(composer, ROLE_PARAGRAPH);
	struct rect word =
		put_plain(composer, sheet->injected_word, lead, composer->left, middle - text_cap_height(lead) / 2, 0);
	double x = word.x + word.width + GAP_4;
	put_digits(composer, x, middle - DIGIT_HEIGHT / 2);
	x += digits_width() + GAP_4;
	double text = composer_text_height(composer, sheet->tell_text, body, composer->right - x);
	put_plain(composer, sheet->tell_text, body, x, middle - text / 2, composer->right - x);
	end_group(composer);
}

/* ---- the page ---- */

enum { PART_FRAME, PART_DOSE, PART_ALARMS, PART_AFTER, PART_RULES, PART_INJECTED, PARTS };

struct part_heights {
	double of[PARTS];
};

static struct part_heights heights_of(struct composer *composer, const struct exact_form *form,
                                      const struct exact_sheet *sheet)
{
	return (struct part_heights){
		{frame_height(composer, form, sheet), dose_height(composer, sheet),
	         heading_height(composer) + note_height(composer, sheet->alarms_heading, sheet->alarms_note) +
	                 cards_height(composer, form, sheet),
	         after_height(composer, sheet), rules_height(composer, form, sheet), injected_height(composer, sheet)}};
}

static void put_part(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                     int part, double y)
{
	switch (part) {
	case PART_FRAME:
		put_exact_frame(composer, form, sheet, y);
		break;
	case PART_DOSE:
		put_dose(composer, sheet, y);
		break;
	case PART_ALARMS:
		put_alarms(composer, form, sheet, y);
		break;
	case PART_AFTER:
		put_after(composer, sheet, y);
		break;
	case PART_RULES:
		put_rules(composer, form, sheet, y);
		break;
	default:
		put_injected(composer, sheet, y);
		break;
	}
}

/* How many parts from `first` on fit a page, at least one; `used` is what they take without gaps. */
static int parts_that_fit(const struct composer *composer, const struct part_heights *heights, int first,
                          double least_gap, double *used)
{
	double room = composer->bottom - composer->top;
	int last = first + 1;
	*used = heights->of[first];
	while (last < PARTS && *used + heights->of[last] + least_gap * (last - first) <= room)
		*used += heights->of[last++];
	return last - first;
}

#define GAP_CLOSE 3.5
#define GAP_ROOMY 5.5

static const struct exact_form *form_for(struct composer *composer, const struct exact_sheet *sheet)
{
	static const struct exact_form *const forms[] = {&roomy, &close, &tight};
	for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
		double used;
		struct part_heights heights = heights_of(composer, forms[i], sheet);
		double gap = forms[i] == &tight ? GAP_CLOSE : GAP_ROOMY;
		if (parts_that_fit(composer, &heights, 0, gap, &used) == PARTS)
			return forms[i];
	}
	return &close; /* on two pages, all can be seen from afar */
}

static void put_large_part(struct composer *composer, const struct large_block *block, double y)
{
	put_part(composer, &large, block->data, (int)block->index, y);
}

/* How to draw it up; the sheet on which it is got ready has the caution. */
static void place_back(struct composer *composer, const struct exact_sheet *sheet)
{
	if (sheet->medicine == NULL)
		return;
	/* A sheet without a front of its own says all on this back. */
	const struct medicine_sheet *medicine =
		sheet->front < 0 ? sheet->medicine : medicine_for_back(composer, sheet->medicine);
	medicine_begin(composer, medicine);
	composer_begin_back(composer);
	composer_begin_line(composer);
	medicine_back(composer, medicine);
}

/* In large print the parts are blocks, on pages as evenly full as they make them. */
static void place_large(struct composer *composer, const struct exact_sheet *sheet)
{
	struct large_blocks blocks = large_blocks_of(composer);
	struct part_heights heights = heights_of(composer, &large, sheet);
	for (size_t part = 0; part < PARTS; part++)
		if (heights.of[part] > 0)
			large_add(&blocks, heights.of[part], GAP_5, put_large_part, sheet)->index = part;
	blocks.list[0].keep = true; /* the time and the dose are read as one */
	large_place(&blocks, sheet->title, sheet->lead);
	place_back(composer, sheet);
}

void exact_place(struct composer *composer, const struct exact_sheet *sheet)
{
	if (composer->large_print) {
		place_large(composer, sheet);
		return;
	}
	int part = 0;
	composer_new_page(composer, sheet->title, sheet->lead);
	const struct exact_form *form = form_for(composer, sheet);
	struct part_heights heights = heights_of(composer, form, sheet);
	while (part < PARTS) {
		double used;
		int n = parts_that_fit(composer, &heights, part, GAP_CLOSE, &used);
		double spare = composer->bottom - composer->top - used;
		double gap = n < 2 ? 0 : fmin(spare / (n - 1), SECTION_GAP_MOST);
		double y = composer->top;
		for (int end = part + n; part < end; part++) {
			put_part(composer, form, sheet, part, y);
			if (heights.of[part] > 0)
				y += heights.of[part] + gap;
		}
		if (part < PARTS)
			medicine_continue(composer, sheet->title, sheet->lead);
	}
	place_back(composer, sheet);
}
