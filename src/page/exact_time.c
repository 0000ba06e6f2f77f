/*
 * exact_time.c - when exactly: a frame with the day, the time, a dial and a line of hours.
 *
 *     +--------------------------------+
 *     | (dial)  In the night from      |
 *     |         Thursday to Friday     |
 *     |         00:30              )   |   in large print the days stand above
 *     |         half an hour after ... |   the dial, and there is no line of hours
 *     |  |--'--'--|--'-v-'--|--'--'--| |
 *     +--------------------------------+
 */
#include "page/exact.h"

#include "page/styles.h"

#include <math.h>

/* ---- day, time and dial ---- */

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
	double night = sheet->night == NULL ? 0 : cap(composer, TYPE_LEAD) + exact_apart(composer, NIGHT_DAYS);
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
	double phone = exact_apart(composer, TWIN_PHONE) + phone_height(composer, form, sheet);
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
		     exact_apart(composer, NIGHT_DAYS);
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
	              under_days + time_height(composer, form, sheet) + exact_apart(composer, TWIN_PHONE),
	              phone_width(form));
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

double exact_frame_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet)
{
	double hours = has_hours(form) ? HOURS_GAP + hours_height(composer, sheet) : 0;
	return 2 * form->frame_pad + column_height(composer, form, sheet) + hours;
}

void exact_put_frame(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                     double y)
{
	double height = exact_frame_height(composer, form, sheet);
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
