/*
 * composer_frame.c - a page's head and foot.
 *
 *     [////// DRAFT //////]
 *     Title                       (sign) 6      the number has the room of any of as many digits
 *     lead                  page 6 of 12
 *     ____________________________________
 *
 *     ____________________________________
 *     Unsure? telephones     code   [QR]
 *     patient             version   [QR]
 */
#include "page/composer_frame.h"

#include <math.h>
#include <string.h>

#define MARGIN_TOP 12.0
#define MARGIN_BOTTOM 12.0
#define DRAFT_BAND_TOP 4.8
#define DRAFT_BAND_HEIGHT 5.2
#define DRAFT_BAND_CLEAR 0.8

/* Heads and feet: what differs between normal and large print, mm. */
struct page_form {
	double lead_drop;     /* from the title's baseline to the lead's */
	double rule;          /* of the head, under one line of title and of lead */
	double content_drop;  /* from there to the content */
	double foot;          /* from the bottom margin up to the foot's rule */
	double foot_gap;      /* from there up to where content ends */
	double foot_first;    /* from the foot's rule to the first line's cap top */
	double code_size;     /* of the QR symbol */
	double code_distance; /* from its outer edge to where text ends */
};

static const struct page_form normal_form = {7.2, 29.0, 5.0, 11.5, 3.5, 2.2, 10.4, 13.2};
static const struct page_form large_form = {10.4, 36.3, 6.0, 26.4, 4.5, 3.6, 18.0, 22.0};

static const struct page_form *form_of(const struct composer *composer)
{
	return composer->large_print ? &large_form : &normal_form;
}

/* ---- foot ---- */

static const struct running *running_of(const struct composer *composer)
{
	return composer->section->staff ? &composer->handout->staff_running : &composer->handout->running;
}

/* The patient's line, beside the code; a long name takes further lines, and the foot grows. */
static const struct text_block *patient_block(struct composer *composer)
{
	const struct running *running = running_of(composer);
	double width = LIVE_WIDTH - form_of(composer)->code_distance;
	struct text_style style = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	if (composer->large_print)
		return composer_set(composer, running->patient_alone, style, width);
	width -= GAP_3 + composer_text_width(composer, running->version, style);
	return composer_set(composer, running->patient, style, width);
}

static double foot_height(struct composer *composer)
{
	const struct text_block *patient = patient_block(composer);
	return form_of(composer)->foot + text_height(patient) - text_cap_height(*text_style_of(patient));
}

static double foot_rule(struct composer *composer)
{
	return composer->height - MARGIN_BOTTOM - foot_height(composer);
}

/* The words, then as many telephone numbers as have room, the first ones first. */
static const char *phones_words(struct composer *composer, struct text_style style, double width)
{
	const struct running *running = running_of(composer);
	const char *all = NULL;
	for (size_t i = 0; i < running->n_phones; i++) {
		const char *more = all == NULL ? running->phones[i]
		                               : arena_printf(composer->arena, "%s   %s", all, running->phones[i]);
		if (all != NULL && composer_text_width(composer, more, style) > width)
			break;
		all = more;
	}
	if (all == NULL)
		return running->unsure;
	const char *whole = arena_printf(composer->arena, "%s  %s", running->unsure, all);
	return composer_text_width(composer, whole, style) <= width ? whole : all;
}

/* Whom to call, or on staff's pages that they are not the patient's. */
static const struct text_block *foot_line(struct composer *composer, double width)
{
	const struct running *running = running_of(composer);
	struct text_style bold = composer_style(composer, TYPE_BODY, WEIGHT_BOLD);
	struct text_style style = composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
	if (composer->section->staff)
		return composer_set_name(composer, running->staff_line, bold, width, 1);
	return composer_set_name(composer, phones_words(composer, style, width), style, width, 1);
}

/* In large print two telephones stand below one another, the second where it has room beside the version. */
static void put_large_phones(struct composer *composer, double first, double drop, double code, double version)
{
	const struct running *running = running_of(composer);
	struct text_style style = composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
	double left = composer->left;
	if (running->n_phones == 0)
		return;
	put_block(composer, composer_set_name(composer, running->phones[0], style, code - GAP_3 - left, 1), ALIGN_START,
	          left, first, COLOUR_INK);
	if (running->n_phones > 1 && composer_text_width(composer, running->phones[1], style) <= version - GAP_3 - left)
		put_plain(composer, running->phones[1], style, left, first + drop, 0);
}

/* Staff call these numbers too: those that have room after the words. */
static void put_staff_phones(struct composer *composer, double x, double first, double end)
{
	const struct running *running = running_of(composer);
	struct text_style style = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	double y = first + text_cap_height(composer_style(composer, TYPE_BODY, WEIGHT_BOLD)) - text_cap_height(style);
	for (size_t i = 0; i < running->n_phones; i++) {
		double width = composer_text_width(composer, running->phones[i], style);
		if (x + GAP_3 + width > end)
			return;
		put_plain(composer, running->phones[i], style, x + GAP_3, y, 0);
		x += GAP_3 + width;
	}
}

static void put_foot_line(struct composer *composer, double first, double end)
{
	struct rect line = put_block(composer, foot_line(composer, end - composer->left), ALIGN_START, composer->left,
	                             first, COLOUR_INK);
	if (composer->section->staff)
		put_staff_phones(composer, line.x + line.width, first, end);
}

/* Line 1: phones and code. Line 2: patient and version. In large print the patient has a line of its own. */
void frame_end(struct composer *composer)
{
	const struct page_form *form = form_of(composer);
	const struct running *running = running_of(composer);
	struct text_style body = composer_style(composer, TYPE_BODY, WEIGHT_BOLD);
	struct text_style small = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	double rule = foot_rule(composer);
	double end = composer->right - form->code_distance;
	double first = rule + form->foot_first;
	double drop = text_cap_height(body) + (composer->large_print ? 4.2 : 2.9);

	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, rule, LINE_OUTLINE);
	struct rect code = put_text(composer, running->code, body, ALIGN_END, end, first, 0, COLOUR_INK);
	struct rect version = put_text(composer, running->version, small, ALIGN_END, end, first + drop, 0, COLOUR_INK);
	if (composer->large_print)
		put_large_phones(composer, first, drop, code.x, version.x);
	else
		put_foot_line(composer, first, code.x - GAP_3);
	put_block(composer, patient_block(composer), ALIGN_START, composer->left,
	          first + (composer->large_print ? 2 : 1) * drop, COLOUR_INK);
	end_group(composer);
}

/* ---- head ---- */

static void put_draft_band(struct composer *composer, const char *words)
{
	struct text_style style = composer_style(composer, TYPE_BODY, WEIGHT_BOLD);
	if (composer->large_print)
		style.size = 12; /* the band keeps its height: the same words stand in the foot at full size */
	double y = DRAFT_BAND_TOP + (DRAFT_BAND_HEIGHT - text_cap_height(style)) / 2;
	double middle = (composer->left + composer->right) / 2;

	begin_group(composer, ROLE_PARAGRAPH);
	struct rect text = put_text(composer, words, style, ALIGN_CENTER, middle, y, 0, COLOUR_INK);
	end_group(composer);
	begin_artifact(composer);
	double side = text.x - GAP_3 - composer->left;
	double starts[] = {composer->left, composer->right - side};
	for (size_t i = 0; i < 2; i++) {
		struct rect area = {starts[i], DRAFT_BAND_TOP, side, DRAFT_BAND_HEIGHT};
		put_mark(composer, (struct placed_mark){.kind = MARK_HATCH, .area = area, .hatch = {area}});
	}
	end_group(composer);
}

static const char *page_words(const struct composer *composer, const char *number, const char *all)
{
	const struct section *section = composer->section;
	const char *key = section->staff ? "staff_page.of" : section->notice ? "notice_page.of" : "page.of";
	return say2(composer->speaker, key, "n", number, "of", all);
}

/* Of the numbers that the open page shows: nothing else of them changes where anything stands. */
struct digits {
	int number;
	int all;
};

static struct digits digits_of(const struct composer *composer, int number)
{
	int own = numbering_digits(number);
	int all = numbering_digits(numbering_in_all(composer->numbers, composer->section));
	int least = composer->digits_least;
	return (struct digits){own > least ? own : least, all > least ? all : least};
}

#define TITLE_LINES 4
#define SIGN_SIZE 10.4
#define SIGN_DISTANCE 9.0 /* from the sign to the page number */

/* A page's head, measured. */
struct head {
	const struct text_block *title;
	const char *lead;    /* NULL: none */
	double title_height; /* at least of one line in full size: it stands on that line's baseline */
	double top;          /* cap top of the title in full size */
	double number_width;
	double sign_width; /* the sign and what is left beside it */
	double lead_width;
	double baseline; /* of the lead */
	double rule;
	double content;
};

static struct text_style title_style(const struct composer *composer)
{
	struct text_style style = composer_style(composer, TYPE_TITLE, WEIGHT_BOLD);
	style.leading = 1.15 * style.size * POINT_MM;
	return style;
}

static struct text_style of_style(const struct composer *composer)
{
	return composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
}

/* Of a weight, whatever its size. */
static char widest_digit(struct composer *composer, struct text_style style)
{
	char *widest = &composer->widest_digits[style.weight];
	double width = 0;
	if (*widest != '\0')
		return *widest;
	for (char digit = '0'; digit <= '9'; digit++) {
		double own = composer_text_width(composer, (char[]){digit, '\0'}, style);
		if (own > width) {
			*widest = digit;
			width = own;
		}
	}
	return *widest;
}

static const char *widest_number(struct composer *composer, struct text_style style, int digits)
{
	char *number = arena_alloc(composer->arena, (size_t)digits + 1);
	memset(number, widest_digit(composer, style), (size_t)digits);
	return number;
}

/* As wide as so many of the widest digit: a title breaks alike on all pages whose numbers have as many. */
static double number_room(struct composer *composer, int digits)
{
	struct text_style style = title_style(composer);
	bool letter = composer->section->staff || composer->section->notice;
	double widest = fmax(composer_text_width(composer, widest_number(composer, style, 1), style),
	                     composer_text_width(composer, "S", style));
	return widest * (digits + letter);
}

/* So does a lead, beside "page 48 of 70" as beside "page 47 of 71". */
static double of_room(struct composer *composer, struct digits digits, struct text_style style)
{
	const char *number = widest_number(composer, style, digits.number);
	const char *all = widest_number(composer, style, digits.all);
	return composer_text_width(composer, page_words(composer, number, all), style);
}

/* A title that would leave a word alone on a second line is set a little smaller, on one. */
static const struct text_block *title_block(struct composer *composer, const char *title, double width)
{
	struct text_style style = title_style(composer);
	bool one = composer_text_width(composer, title, style) * NAME_LEAST_SHARE <= width;
	return composer_set_name(composer, title, style, width, one ? 1 : TITLE_LINES);
}

#define NO_BREAK_SPACE "\u00a0"
#define DOT " \u00b7 "
#define HELD_TOGETHER 28 /* bytes: a longer part of a lead may break anywhere */

/* Where a part of a lead ends: before a dot, or with its line. */
static size_t part_length(const char *lead)
{
	const char *dot = strstr(lead, DOT);
	size_t line = strcspn(lead, "\n");
	return dot != NULL && (size_t)(dot - lead) < line ? (size_t)(dot - lead) : line;
}

/* A lead breaks after a dot between its parts, not before one, nor within a short part: no number stands alone. */
static const char *held_together(struct composer *composer, const char *lead)
{
	if (lead == NULL || strstr(lead, DOT) == NULL)
		return lead;
	/* A space of one byte may become one of two. */
	char *held = arena_alloc(composer->arena, 2 * strlen(lead) + 1);
	char *end = held;
	while (*lead != '\0') {
		size_t length = part_length(lead);
		for (size_t i = 0; i < length; i++)
			if (lead[i] == ' ' && length <= HELD_TOGETHER)
				end = stpcpy(end, NO_BREAK_SPACE);
			else
				*end++ = lead[i];
		lead += length;
		if (*lead == ' ') {
			end = stpcpy(end, NO_BREAK_SPACE "\u00b7 ");
			lead += strlen(DOT);
		} else if (*lead == '\n') {
			*end++ = *lead++;
		}
	}
	return held;
}

static struct head head_of(struct composer *composer, const char *title, const char *lead, enum pictogram sign,
                           struct digits digits)
{
	const struct page_form *form = form_of(composer);
	struct text_style lead_style = composer_style(composer, TYPE_LEAD, WEIGHT_REGULAR);
	struct head head = {.number_width = number_room(composer, digits.number),
	                    .sign_width = sign == PICTURE_NONE ? 0 : SIGN_SIZE + SIGN_DISTANCE};
	double of_width = of_room(composer, digits, of_style(composer)) + GAP_3;
	double title_width = LIVE_WIDTH - head.number_width - head.sign_width - GAP_5 - (lead == NULL ? of_width : 0);
	head.title = title_block(composer, title, title_width);
	head.title_height = fmax(text_height(head.title), text_cap_height(title_style(composer)));
	head.lead = held_together(composer, lead);
	head.lead_width = LIVE_WIDTH - of_width;
	head.top = MARGIN_TOP;
	/* A draft's band stands close above: an accent on a capital of the title must not reach into it. */
	if (running_of(composer)->draft_band != NULL)
		head.top =
			fmax(head.top, DRAFT_BAND_TOP + DRAFT_BAND_HEIGHT + DRAFT_BAND_CLEAR - text_ink(head.title).y);
	head.baseline = head.top + head.title_height + (lead == NULL ? 0 : form->lead_drop);

	double lead_height = composer_text_height(composer, head.lead, lead_style, head.lead_width);
	double more_lead = lead == NULL ? -form->lead_drop : fmax(lead_height - text_cap_height(lead_style), 0);
	head.rule = form->rule + head.top - MARGIN_TOP + head.title_height - text_cap_height(title_style(composer)) +
	            more_lead;
	head.content = head.rule + form->content_drop;
	return head;
}

static void put_head(struct composer *composer, const struct head *head, enum pictogram sign)
{
	struct text_style lead_style = composer_style(composer, TYPE_LEAD, WEIGHT_REGULAR);
	begin_group(composer, ROLE_H1);
	put_block(composer, head->title, ALIGN_START, composer->left,
	          head->top + head->title_height - text_height(head->title), COLOUR_INK);
	end_group(composer);
	put_paragraph(composer, head->lead, lead_style, composer->left, head->baseline - text_cap_height(lead_style),
	              head->lead_width);

	begin_artifact(composer);
	put_picture(composer, sign, composer->right - head->number_width - head->sign_width, head->top - 1.4,
	            SIGN_SIZE);
	put_line(composer, composer->left, composer->right, head->rule, LINE_MAIN);
	end_group(composer);
}

static double content_bottom(struct composer *composer)
{
	return foot_rule(composer) - form_of(composer)->foot_gap - composer->spared;
}

/* Where the page's numbers go: the large one at the head's end, "page 6 of 12" beside the lead. */
static struct page_numbers numbers_below(struct composer *composer, const struct head *head, const char *lead)
{
	double beside = lead == NULL && text_lines(head->title) == 1 ? head->number_width + GAP_4 : 0;
	return (struct page_numbers){.label_y = head->top,
	                             .of_end = composer->right - beside,
	                             .of_y = head->baseline - text_cap_height(of_style(composer)),
	                             .foot = foot_rule(composer)};
}

struct page_numbers frame_begin(struct composer *composer, const char *title, const char *lead, enum pictogram sign,
                                int number)
{
	if (running_of(composer)->draft_band != NULL)
		put_draft_band(composer, running_of(composer)->draft_band);
	struct head head = head_of(composer, title, lead, sign, digits_of(composer, number));
	put_head(composer, &head, sign);
	composer->top = head.content;
	composer->bottom = content_bottom(composer);
	return numbers_below(composer, &head, lead);
}

#define LEAST_IN_ALL 10 /* pages: as a packet of fewer has the room of one of ten */

double composer_content_height(struct composer *composer, const char *title, const char *lead, enum pictogram sign)
{
	/* As for the widest number that the packet can have, so that no page has less. */
	int all = composer->numbers->n_patient;
	struct digits digits = digits_of(composer, all > LEAST_IN_ALL ? all : LEAST_IN_ALL);
	digits.all = digits.number;
	return content_bottom(composer) - head_of(composer, title, lead, sign, digits).content;
}

/* ---- numbers of pages ---- */

static void put_code(struct composer *composer, const char *label, double rule)
{
	const struct page_form *form = form_of(composer);
	const char *payload = arena_printf(composer->arena, "%s;%lld;%s", running_of(composer)->code,
	                                   (long long)composer->handout->record->course->plan->version, label);
	struct rect area = {composer->right - form->code_size, rule + foot_height(composer) - form->code_size,
	                    form->code_size, form->code_size};
	put_mark(composer, (struct placed_mark){.kind = MARK_CODE,
	                                        .area = area,
	                                        .code = {payload, {area.x, area.y}, form->code_size}});
}

void frame_put_numbers(struct composer *composer, const struct page_numbers *at, int number, const char *label)
{
	const char *all = arena_printf(composer->arena, "%d", numbering_in_all(composer->numbers, composer->section));
	const char *of = page_words(composer, arena_printf(composer->arena, "%d", number), all);
	begin_artifact(composer);
	put_text(composer, label, title_style(composer), ALIGN_END, composer->right, at->label_y, 0, COLOUR_INK);
	put_text(composer, of, of_style(composer), ALIGN_END, at->of_end, at->of_y, 0, COLOUR_INK);
	put_code(composer, label, at->foot);
	end_group(composer);
}
