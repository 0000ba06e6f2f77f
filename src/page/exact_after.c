/*
 * exact_after.c - behind a dose to the minute: what comes after it and when, what if, and when it was.
 *
 *     O----- 36 h -----o----- 2 h -----o
 *     22:30            10:30           12:30
 *     It is late        what to do               in large print below one another
 *     I injected at  [ ][ ]:[ ][ ]
 */
#include "page/exact.h"

#include "page/styles.h"

#include <math.h>

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
	       exact_apart(composer, STOP_LINES) +
	       composer_text_height(composer, sheet->stops[i].what, regular(composer, TYPE_BODY), width);
}

static double change_height(struct composer *composer, const struct exact_sheet *sheet)
{
	if (sheet->clock_change == NULL)
		return 0;
	return GAP_3 + composer_text_height(composer, sheet->clock_change, regular(composer, TYPE_BODY), LIVE_WIDTH);
}

double exact_after_height(struct composer *composer, const struct exact_sheet *sheet)
{
	double height = 0;
	for (size_t i = 0; i < sheet->n_stops; i++)
		height = fmax(height, stop_height(composer, sheet, i));
	if (sheet->n_stops > 0)
		height += exact_heading_height(composer, sheet->after_heading, NULL) + 2 * FIRST_RADIUS + STOP_BELOW;
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

void exact_put_after(struct composer *composer, const struct exact_sheet *sheet, double y)
{
	double end = y + exact_after_height(composer, sheet);
	if (sheet->n_stops > 0) {
		y = exact_put_heading(composer, sheet->after_heading, NULL, y);
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
			          when.y + when.height + exact_apart(composer, STOP_LINES), width);
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
	return exact_heading_height(composer, sheet->if_heading, sheet->call_text) +
	       (composer->large_print ? 0 : RULE_HEAD);
}

double exact_rules_height(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet)
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

void exact_put_rules(struct composer *composer, const struct exact_form *form, const struct exact_sheet *sheet,
                     double y)
{
	exact_put_heading(composer, sheet->if_heading, sheet->call_text, y);
	y += rules_heading_height(composer, sheet);
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

double exact_injected_height(struct composer *composer, const struct exact_sheet *sheet)
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

void exact_put_injected(struct composer *composer, const struct exact_sheet *sheet, double y)
{
	double height = exact_injected_height(composer, sheet);
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
