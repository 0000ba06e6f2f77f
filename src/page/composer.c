/*
 * composer.c - pages with their heads and feet, and the numbers they go by.
 */
#include "page/composer.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
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

/* Where a page's numbers go, which are put last: how many pages there are is known only then. */
struct page_numbers {
	double label_y; /* cap top of the large number at the head's end */
	double of_end;  /* of "page 6 of 12" */
	double of_y;
	double foot; /* the foot's rule */
};

struct page_draft {
	int index;                       /* within its section */
	const struct placed_mark *marks; /* once it is closed; its numbers are not among them */
	size_t n;
	struct page_numbers numbers;
};

/* The marks of the open page, in room that each page uses again. */
struct open_marks {
	struct placed_mark *list;
	struct turning *turnings; /* one a mark */
	size_t n;
	size_t room;
};

#define USUAL_MARKS 512

/* ---- numbers ---- */

/* Noted, so that the section is placed again once what it reads here has changed. */
static const struct section_pages *pages_of(const struct composer *composer, section_ref section, unsigned facts)
{
	assert(section >= 0 && (size_t)section < composer->handout->n_sections);
	composer->read[section] = (unsigned char)(composer->read[section] | facts);
	return &composer->numbers->sections[section];
}

int composer_pages_of(const struct composer *composer, section_ref section)
{
	int n = pages_of(composer, section, FACT_COUNT)->n;
	return n == 0 ? 1 : n;
}

static const char *label_at(const struct composer *composer, section_ref section, int index)
{
	const struct section_pages *pages = pages_of(composer, section, FACT_FIRST);
	return numbering_label(composer->arena, &composer->handout->sections[section],
	                       pages->first == 0 ? 1 : pages->first + index);
}

const char *composer_label_of(const struct composer *composer, section_ref section, int index)
{
	return label_at(composer, section, index < 0 ? composer_pages_of(composer, section) + index : index);
}

const char *composer_page_ref(const struct composer *composer, section_ref section)
{
	if (section < 0)
		return NULL;
	return say1(composer->speaker, "page.ref", "page", composer_label_of(composer, section, 0));
}

/* A chain only goes forward, so it ends. */
static section_ref next_of_line(const struct composer *composer, section_ref section)
{
	section_ref next = composer->handout->sections[section].next;
	return next > section ? next : -1;
}

const char *composer_page_refs(const struct composer *composer, section_ref section)
{
	if (section < 0 || next_of_line(composer, section) < 0)
		return composer_page_ref(composer, section);
	const char *pages = composer_label_of(composer, section, 0);
	for (section_ref next = next_of_line(composer, section); next >= 0; next = next_of_line(composer, next))
		pages = say2(composer->speaker, "list.comma", "first", pages, "last",
		             composer_label_of(composer, next, 0));
	return say1(composer->speaker, "page.refs", "pages", pages);
}

const char *composer_page_list(const struct composer *composer, const section_ref *sections, size_t n)
{
	const char *pages = NULL;
	for (size_t i = 0; i < n; i++) {
		const char *label = composer_label_of(composer, sections[i], 0);
		pages = pages == NULL ? label : say2(composer->speaker, "list.comma", "first", pages, "last", label);
	}
	return n == 0 ? NULL
	              : say1(composer->speaker, n == 1 ? "page.ref" : "page.refs", n == 1 ? "page" : "pages", pages);
}

void composer_begin_back(struct composer *composer)
{
	composer->own.back = composer->own.n;
}

const char *composer_label_of_back(const struct composer *composer, section_ref section)
{
	return label_at(composer, section, pages_of(composer, section, FACT_BACK)->back);
}

void composer_begin_line(struct composer *composer)
{
	composer->own.line = composer->own.n;
}

const char *composer_label_of_line(const struct composer *composer, section_ref section)
{
	return label_at(composer, section, pages_of(composer, section, FACT_LINE)->line);
}

static const struct noted_part *find_part(const struct section_pages *pages, const void *part)
{
	for (size_t i = 0; i < pages->n_parts; i++)
		if (pages->parts[i].part == part)
			return &pages->parts[i];
	return NULL;
}

void composer_note_part(struct composer *composer, const void *part)
{
	struct section_pages *own = &composer->own;
	if (part == NULL || find_part(own, part) != NULL)
		return;
	own->parts = arena_more(composer->arena, own->parts, own->n_parts, sizeof *own->parts);
	own->parts[own->n_parts++] = (struct noted_part){part, composer_page_index(composer)};
}

const char *composer_label_of_part(const struct composer *composer, section_ref section, const void *part)
{
	const struct section_pages *pages = section < 0 ? NULL : pages_of(composer, section, FACT_PARTS);
	const struct noted_part *noted = pages == NULL ? NULL : find_part(pages, part);
	return noted == NULL ? NULL : label_at(composer, section, noted->index);
}

const char *composer_part_pages(const struct composer *composer, section_ref section, const void *const *parts,
                                size_t n)
{
	const char *pages = NULL;
	const char *last = NULL;
	bool several = false;
	for (size_t i = 0; i < n; i++) {
		const char *label = composer_label_of_part(composer, section, parts[i]);
		if (label == NULL || (last != NULL && strcmp(label, last) == 0))
			continue;
		several = pages != NULL;
		pages = !several ? label : say2(composer->speaker, "list.comma", "first", pages, "last", label);
		last = label;
	}
	if (pages == NULL)
		return composer_page_ref(composer, section);
	return say1(composer->speaker, several ? "page.refs" : "page.ref", several ? "pages" : "page", pages);
}

const char *composer_fill_page(const struct composer *composer, const char *text, const char *label)
{
	const char *at = text == NULL ? NULL : strstr(text, PAGE_HERE);
	if (at == NULL)
		return text;
	const char *rest = composer_fill_page(composer, at + strlen(PAGE_HERE), label);
	return arena_printf(composer->arena, "%.*s%s%s", (int)(at - text), text, label, rest);
}

void composer_note_step(struct composer *composer, int number)
{
	struct section_pages *own = &composer->own;
	while (number > 0 && own->n_steps <= (size_t)number) {
		own->steps = arena_more(composer->arena, own->steps, own->n_steps, sizeof *own->steps);
		own->steps[own->n_steps++] = 0;
	}
	if (number > 0)
		own->steps[number] = composer_page_index(composer) + 1;
}

const char *composer_label_of_step(const struct composer *composer, section_ref section, int number)
{
	const struct section_pages *pages = section < 0 ? NULL : pages_of(composer, section, FACT_STEPS);
	if (pages == NULL || number <= 0 || (size_t)number >= pages->n_steps || pages->steps[number] == 0)
		return NULL;
	return label_at(composer, section, pages->steps[number] - 1);
}

section_ref composer_section_ref(const struct composer *composer)
{
	return (section_ref)(composer->section - composer->handout->sections);
}

/* Of a page of the section, by its index in it. */
static int own_number(const struct composer *composer, int index)
{
	return composer->numbers->sections[composer_section_ref(composer)].first + index;
}

static struct page_draft *open_page(const struct composer *composer)
{
	assert(composer->n_pages > 0);
	return &composer->pages[composer->n_pages - 1];
}

const char *composer_label(const struct composer *composer)
{
	return label_at(composer, composer_section_ref(composer), composer_page_index(composer));
}

int composer_page_index(const struct composer *composer)
{
	return open_page(composer)->index;
}

/* ---- a section ---- */

struct open_marks *open_marks_new(struct arena *arena)
{
	struct open_marks *marks = arena_alloc(arena, sizeof *marks);
	marks->room = USUAL_MARKS; /* a power of two, as arena_more() doubles */
	marks->list = arena_alloc(arena, USUAL_MARKS * sizeof *marks->list);
	marks->turnings = arena_alloc(arena, USUAL_MARKS * sizeof *marks->turnings);
	return marks;
}

struct composer composer_of(struct arena *arena, const struct handout *handout, struct typesetter *typesetter,
                            struct findings *findings, const struct numbering *numbers, section_ref section)
{
	assert(section >= 0 && (size_t)section < handout->n_sections);
	const struct section *of = &handout->sections[section];
	bool letter = handout->paper == PAPER_LETTER;
	struct composer composer = {
		.arena = arena,
		.handout = handout,
		.typesetter = typesetter,
		.findings = findings,
		.section = of,
		.speaker = of->staff ? handout->staff_speaker : handout->speaker,
		.width = letter ? 215.9 : 210,
		.height = letter ? 279.4 : 297,
		.large_print = handout->large_print && !of->staff,
		.numbers = numbers != NULL ? numbers : numbering_blank(arena, handout->n_sections),
		.read = arena_alloc(arena, handout->n_sections),
	};
	composer.left = (composer.width - LIVE_WIDTH) / 2;
	composer.right = composer.left + LIVE_WIDTH;
	composer.turning.axis = composer.width;
	composer.right_to_left = text_right_to_left(speaker_language(composer.speaker));
	return composer;
}

void composer_stop(struct composer *composer, const char *code, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	const char *says = arena_vprintf(composer->arena, format, arguments);
	va_end(arguments);
	findings_add(composer->findings, FINDING_STOP, code, composer->handout->record->course->plan->place, "%s",
	             says);
}

void put_mark(struct composer *composer, struct placed_mark mark)
{
	composer->marks = composer->marks != NULL ? composer->marks : open_marks_new(composer->arena);
	struct open_marks *marks = composer->marks;
	mark.inside = mark.inside || composer->inside > 0;
	if (marks->n == marks->room) {
		marks->list = arena_more(composer->arena, marks->list, marks->n, sizeof *marks->list);
		marks->turnings = arena_more(composer->arena, marks->turnings, marks->n, sizeof *marks->turnings);
		marks->room *= 2;
	}
	marks->turnings[marks->n] = composer->turning;
	marks->list[marks->n++] = mark;
}

/* What was put so far, turned round where lines run from right to left. */
static const struct placed_mark *take_marks(struct composer *composer, size_t *n)
{
	struct open_marks *marks = composer->marks;
	if (composer->right_to_left)
		mirror_marks(composer->arena, marks->list, marks->turnings, marks->n);
	*n = marks->n;
	marks->n = 0;
	return arena_copy(composer->arena, marks->list, *n * sizeof *marks->list);
}

/* ---- groups ---- */

/* A page that only goes on has no heading between its title and those of its parts. */
static enum role heading_level(struct composer *composer, enum role role)
{
	if (role == ROLE_H3 && !composer->under_h2)
		return ROLE_H2;
	if (role == ROLE_H1 || role == ROLE_H2)
		composer->under_h2 = role == ROLE_H2;
	return role;
}

static void begin(struct composer *composer, struct group group, bool whole)
{
	group.role = heading_level(composer, group.role);
	struct turning before = composer->turning;
	composer->open_groups++;
	composer->turning.whole = whole;
	put_mark(composer, (struct placed_mark){.kind = MARK_GROUP_BEGIN, .group = group});
	composer->turning = before;
}

void begin_group(struct composer *composer, enum role role)
{
	assert(role != ROLE_FIGURE);
	begin(composer, (struct group){.role = role}, false);
}

void begin_figure(struct composer *composer, const char *alt)
{
	begin(composer, (struct group){.role = ROLE_FIGURE, .alt = alt}, true);
}

void begin_chart(struct composer *composer, const char *alt)
{
	begin(composer, (struct group){.role = ROLE_FIGURE, .alt = alt}, false);
}

void begin_formula(struct composer *composer, enum role role)
{
	begin(composer, (struct group){.role = role}, true);
}

struct turning begin_span(struct composer *composer, double left, double right)
{
	struct turning before = composer->turning;
	composer->turning = (struct turning){.axis = left + right};
	return before;
}

struct turning begin_fixed(struct composer *composer)
{
	struct turning before = composer->turning;
	composer->turning.fixed = true;
	return before;
}

void end_turning(struct composer *composer, struct turning before)
{
	composer->turning = before;
}

void begin_head_cell(struct composer *composer, enum scope scope)
{
	begin(composer, (struct group){.role = ROLE_HEAD_CELL, .scope = scope}, false);
}

void begin_wide_cell(struct composer *composer, size_t columns)
{
	begin(composer, (struct group){.role = ROLE_CELL, .columns = (int)columns}, false);
}

void begin_artifact(struct composer *composer)
{
	begin(composer, (struct group){.role = ROLE_ARTIFACT}, false);
}

void end_group(struct composer *composer)
{
	assert(composer->open_groups > 0);
	composer->open_groups--;
	put_mark(composer, (struct placed_mark){.kind = MARK_GROUP_END});
}

void begin_inside(struct composer *composer)
{
	composer->inside++;
}

void end_inside(struct composer *composer)
{
	assert(composer->inside > 0);
	composer->inside--;
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
static void put_foot(struct composer *composer)
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

#define LEAST_IN_ALL 10 /* pages: as a packet of fewer has the room of one of ten */

bool composer_is_tight(const struct composer *composer)
{
	return composer->closeness == TIGHT;
}

void composer_begin_trial(struct composer *composer, struct trial *trial)
{
	*trial = (struct trial){findings_in(composer->arena), composer->findings};
	composer->findings = &trial->own;
}

bool composer_end_trial(struct composer *composer, const struct trial *trial)
{
	composer->findings = trial->before;
	return trial->own.n == 0;
}

double composer_content_height(struct composer *composer, const char *title, const char *lead, enum pictogram sign)
{
	/* As for the widest number that the packet can have, so that no page has less. */
	int all = composer->numbers->n_patient;
	struct digits digits = digits_of(composer, all > LEAST_IN_ALL ? all : LEAST_IN_ALL);
	digits.all = digits.number;
	return content_bottom(composer) - head_of(composer, title, lead, sign, digits).content;
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

/* ---- pages ---- */

static void close_page(struct composer *composer)
{
	if (composer->n_pages == 0 || composer->open_groups == 0)
		return;
	end_group(composer);
	assert(composer->open_groups == 0);
	assert(composer->inside == 0);
	put_foot(composer);
	struct page_draft *page = open_page(composer);
	page->marks = take_marks(composer, &page->n);
}

void composer_new_page(struct composer *composer, const char *title, const char *lead)
{
	composer_new_page_with_sign(composer, title, lead, PICTURE_NONE);
}

void composer_new_page_with_sign(struct composer *composer, const char *title, const char *lead, enum pictogram sign)
{
	close_page(composer);
	int index = composer->own.n++;
	composer->pages = arena_more(composer->arena, composer->pages, composer->n_pages, sizeof *composer->pages);
	struct page_draft *page = &composer->pages[composer->n_pages++];
	*page = (struct page_draft){.index = index};

	begin_group(composer, ROLE_SECTION);
	if (running_of(composer)->draft_band != NULL)
		put_draft_band(composer, running_of(composer)->draft_band);
	struct head head = head_of(composer, title, lead, sign, digits_of(composer, own_number(composer, index)));
	put_head(composer, &head, sign);
	page->numbers = numbers_below(composer, &head, lead);
	composer->top = head.content;
	composer->bottom = content_bottom(composer);
}

const struct placed_section *composer_finish(struct composer *composer)
{
	close_page(composer);
	struct placed_section *placed = arena_alloc(composer->arena, sizeof *placed);
	*placed = (struct placed_section){.own = composer->own,
	                                  .pages = composer->pages,
	                                  .numbers = composer->numbers,
	                                  .read = composer->read,
	                                  .spared = composer->spared,
	                                  .digits_least = composer->digits_least};
	return placed;
}

bool placed_section_stands(const struct placed_section *placed, const struct composer *composer)
{
	const struct section *section = composer->section;
	int before = placed->numbers->sections[composer_section_ref(composer)].first;
	for (int i = 0; i < placed->own.n; i++)
		if (numbering_digits(before + i) != numbering_digits(own_number(composer, i)))
			return false;
	return placed->spared == composer->spared && placed->digits_least == composer->digits_least &&
	       numbering_digits(numbering_in_all(placed->numbers, section)) ==
	               numbering_digits(numbering_in_all(composer->numbers, section)) &&
	       numbering_agrees(placed->numbers, composer->numbers, placed->read);
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

static void put_numbers(struct composer *composer, const struct page_numbers *at, int number, const char *label)
{
	const char *all = arena_printf(composer->arena, "%d", numbering_in_all(composer->numbers, composer->section));
	const char *of = page_words(composer, arena_printf(composer->arena, "%d", number), all);
	begin_artifact(composer);
	put_text(composer, label, title_style(composer), ALIGN_END, composer->right, at->label_y, 0, COLOUR_INK);
	put_text(composer, of, of_style(composer), ALIGN_END, at->of_end, at->of_y, 0, COLOUR_INK);
	put_code(composer, label, at->foot);
	end_group(composer);
}

struct placed_page composer_number_page(struct composer *composer, const struct placed_section *placed, int index)
{
	const struct page_draft *page = &placed->pages[index];
	int number = own_number(composer, index);
	const char *label = numbering_label(composer->arena, composer->section, number);
	size_t n;
	put_numbers(composer, &page->numbers, number, label);
	const struct placed_mark *numbers = take_marks(composer, &n);
	struct placed_mark *marks = arena_alloc(composer->arena, (page->n + n) * sizeof *marks);
	memcpy(marks, page->marks, page->n * sizeof *marks);
	memcpy(marks + page->n, numbers, n * sizeof *marks);
	return (struct placed_page){.width = composer->width,
	                            .height = composer->height,
	                            .label = label,
	                            .section = composer_section_ref(composer),
	                            .marks = marks,
	                            .n = page->n + n};
}
