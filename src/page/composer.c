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

struct page_draft {
	const char *label;
	int number; /* in the label, without the letter */
	int index;  /* within its section */
	section_ref section;
	bool right_to_left;
	const struct placed_mark *marks; /* once it is closed */
	size_t n;
};

/* The marks of the open page, in room that each page uses again. */
struct open_marks {
	struct placed_mark *list;
	struct turning *turnings; /* one a mark */
	size_t n;
	size_t room;
};

/* ---- numbers ---- */

struct section_pages {
	int first; /* number of its first page; 0: it has none */
	int n;
	int back;   /* the index of the page on which a sheet's back begins; 0: it has none */
	int ticks;  /* the same of the page with the squares of a vial for many days */
	int line;   /* the same of the page with the line for the patient, where pages for mixing come before it */
	int *steps; /* by a step's number, the index of its page, counted from 1; 0: it is none of them */
	size_t n_steps;
};

struct numbering {
	struct section_pages *sections; /* one a section of the handout */
	size_t n_sections;
	int n_patient;
	int n_staff;
	int n_notice;
};

static bool steps_equal(const struct section_pages *a, const struct section_pages *b)
{
	if (a->n_steps != b->n_steps)
		return false;
	for (size_t i = 0; i < a->n_steps; i++)
		if (a->steps[i] != b->steps[i])
			return false;
	return true;
}

bool numbering_equal(const struct numbering *a, const struct numbering *b)
{
	if (a->n_patient != b->n_patient || a->n_staff != b->n_staff || a->n_notice != b->n_notice)
		return false;
	for (size_t i = 0; i < a->n_sections; i++)
		if (a->sections[i].first != b->sections[i].first || a->sections[i].n != b->sections[i].n ||
		    a->sections[i].back != b->sections[i].back || a->sections[i].line != b->sections[i].line ||
		    a->sections[i].ticks != b->sections[i].ticks || !steps_equal(&a->sections[i], &b->sections[i]))
			return false;
	return true;
}

/* Whole: also the steps of each section, which stand in the memory of its round. */
const struct numbering *numbering_copy(struct arena *arena, const struct numbering *numbers)
{
	struct numbering *copy = arena_alloc(arena, sizeof *copy);
	*copy = *numbers;
	copy->sections = arena_alloc(arena, numbers->n_sections * sizeof *copy->sections);
	memcpy(copy->sections, numbers->sections, numbers->n_sections * sizeof *copy->sections);
	for (size_t i = 0; i < copy->n_sections; i++) {
		struct section_pages *pages = &copy->sections[i];
		if (pages->n_steps == 0)
			continue;
		pages->steps = arena_alloc(arena, pages->n_steps * sizeof *pages->steps);
		memcpy(pages->steps, numbers->sections[i].steps, pages->n_steps * sizeof *pages->steps);
	}
	return copy;
}

const struct numbering *composer_numbering(const struct composer *composer)
{
	composer->numbers->n_patient = composer->n_patient;
	composer->numbers->n_staff = composer->n_staff;
	composer->numbers->n_notice = composer->n_notice;
	return composer->numbers;
}

static const char *label_of(struct arena *arena, const struct section *section, int number)
{
	return arena_printf(arena, section->staff ? "S%d" : section->notice ? "C%d" : "%d", number);
}

static const struct section_pages *pages_of(const struct composer *composer, section_ref section)
{
	assert(section >= 0 && (size_t)section < composer->handout->n_sections);
	return composer->last == NULL ? NULL : &composer->last->sections[section];
}

int composer_pages_of(const struct composer *composer, section_ref section)
{
	const struct section_pages *pages = pages_of(composer, section);
	return pages == NULL || pages->n == 0 ? 1 : pages->n;
}

const char *composer_label_of(const struct composer *composer, section_ref section, int index)
{
	const struct section_pages *pages = pages_of(composer, section);
	const struct section *of = &composer->handout->sections[section];
	if (pages == NULL || pages->n == 0)
		return label_of(composer->arena, of, 1);
	return label_of(composer->arena, of, pages->first + (index < 0 ? pages->n + index : index));
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
	struct section_pages *pages = &composer->numbers->sections[composer_section_ref(composer)];
	pages->back = pages->n;
}

const char *composer_label_of_back(const struct composer *composer, section_ref section)
{
	const struct section_pages *pages = pages_of(composer, section);
	return composer_label_of(composer, section, pages == NULL ? 0 : pages->back);
}

void composer_begin_line(struct composer *composer)
{
	struct section_pages *pages = &composer->numbers->sections[composer_section_ref(composer)];
	pages->line = pages->n;
}

const char *composer_label_of_line(const struct composer *composer, section_ref section)
{
	const struct section_pages *pages = pages_of(composer, section);
	return composer_label_of(composer, section, pages == NULL ? 0 : pages->line);
}

void composer_mark_ticks(struct composer *composer)
{
	composer->numbers->sections[composer_section_ref(composer)].ticks = composer_page_index(composer);
}

const char *composer_label_of_ticks(const struct composer *composer, section_ref section)
{
	const struct section_pages *pages = pages_of(composer, section);
	return composer_label_of(composer, section, pages == NULL ? 0 : pages->ticks);
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
	struct section_pages *pages = &composer->numbers->sections[composer_section_ref(composer)];
	while (number > 0 && pages->n_steps <= (size_t)number) {
		pages->steps = arena_more(composer->arena, pages->steps, pages->n_steps, sizeof *pages->steps);
		pages->steps[pages->n_steps++] = 0;
	}
	if (number > 0)
		pages->steps[number] = composer_page_index(composer) + 1;
}

const char *composer_label_of_step(const struct composer *composer, section_ref section, int number)
{
	const struct section_pages *pages = section < 0 ? NULL : pages_of(composer, section);
	if (pages == NULL || number <= 0 || (size_t)number >= pages->n_steps || pages->steps[number] == 0)
		return NULL;
	return composer_label_of(composer, section, pages->steps[number] - 1);
}

section_ref composer_section_ref(const struct composer *composer)
{
	return (section_ref)(composer->section - composer->handout->sections);
}

static struct page_draft *open_page(const struct composer *composer)
{
	assert(composer->n_pages > 0);
	return &composer->pages[composer->n_pages - 1];
}

const char *composer_label(const struct composer *composer)
{
	return open_page(composer)->label;
}

int composer_page_index(const struct composer *composer)
{
	return open_page(composer)->index;
}

/* ---- a round ---- */

struct composer composer_of(struct arena *arena, const struct handout *handout, struct typesetter *typesetter,
                            struct findings *findings, const struct numbering *last)
{
	bool letter = handout->paper == PAPER_LETTER;
	struct composer composer = {
		.arena = arena,
		.handout = handout,
		.typesetter = typesetter,
		.findings = findings,
		.width = letter ? 215.9 : 210,
		.height = letter ? 279.4 : 297,
		.last = last,
	};
	composer.left = (composer.width - LIVE_WIDTH) / 2;
	composer.right = composer.left + LIVE_WIDTH;
	composer.turning.axis = composer.width;
	composer.marks = arena_alloc(arena, sizeof *composer.marks);
	composer.numbers = arena_alloc(arena, sizeof *composer.numbers);
	composer.numbers->sections = arena_alloc(arena, handout->n_sections * sizeof *composer.numbers->sections);
	composer.numbers->n_sections = handout->n_sections;
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
	struct open_marks *marks = composer->marks;
	mark.inside = mark.inside || composer->inside > 0;
	if (marks->n == marks->room) {
		marks->list = arena_more(composer->arena, marks->list, marks->n, sizeof *marks->list);
		marks->turnings = arena_more(composer->arena, marks->turnings, marks->n, sizeof *marks->turnings);
		marks->room = marks->room > 0 ? 2 * marks->room : 1;
	}
	marks->turnings[marks->n] = composer->turning;
	marks->list[marks->n++] = mark;
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

static void put_code(struct composer *composer, double rule)
{
	const struct page_form *form = form_of(composer);
	const char *payload =
		arena_printf(composer->arena, "%s;%lld;%s", running_of(composer)->code,
	                     (long long)composer->handout->record->course->plan->version, composer_label(composer));
	struct rect area = {composer->right - form->code_size, rule + foot_height(composer) - form->code_size,
	                    form->code_size, form->code_size};
	put_mark(composer, (struct placed_mark){.kind = MARK_CODE,
	                                        .area = area,
	                                        .code = {payload, {area.x, area.y}, form->code_size}});
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
	put_code(composer, rule);
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

static const char *page_words(const struct composer *composer, const char *number, int all)
{
	const struct section *section = composer->section;
	const char *key = section->staff ? "staff_page.of" : section->notice ? "notice_page.of" : "page.of";
	return say2(composer->speaker, key, "n", number, "of", arena_printf(composer->arena, "%d", all));
}

static int pages_in_all(const struct composer *composer, int number)
{
	const struct section *section = composer->section;
	const struct numbering *last = composer->last;
	return last == NULL      ? number
	       : section->staff  ? last->n_staff
	       : section->notice ? last->n_notice
	                         : last->n_patient;
}

#define TITLE_LINES 4
#define SIGN_SIZE 10.4
#define SIGN_DISTANCE 9.0 /* from the sign to the page number */

/* A page's head, measured. */
struct head {
	const struct text_block *title;
	const char *of; /* "page 3 of 12" */
	struct text_style of_style;
	double top; /* cap top of the title */
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

static char widest_digit(struct composer *composer, struct text_style style)
{
	char widest = '0';
	double width = 0;
	for (char digit = '0'; digit <= '9'; digit++) {
		double own = composer_text_width(composer, (char[]){digit, '\0'}, style);
		if (own > width) {
			widest = digit;
			width = own;
		}
	}
	return widest;
}

/* As wide as so many of the widest digit: a title breaks alike on all pages whose numbers have as many. */
static double number_room(struct composer *composer, const char *label)
{
	struct text_style style = title_style(composer);
	const char digit[] = {widest_digit(composer, style), '\0'};
	double widest = fmax(composer_text_width(composer, digit, style), composer_text_width(composer, "S", style));
	return widest * (double)strlen(label);
}

/* So does a lead, beside "page 48 of 70" as beside "page 47 of 70". */
static double of_room(struct composer *composer, int number, struct text_style style)
{
	char *digits = arena_printf(composer->arena, "%d", number);
	memset(digits, widest_digit(composer, style), strlen(digits));
	return composer_text_width(composer, page_words(composer, digits, pages_in_all(composer, number)), style);
}

static struct head head_of(struct composer *composer, const char *title, const char *lead, enum pictogram sign,
                           const char *label, int number)
{
	const struct page_form *form = form_of(composer);
	struct text_style lead_style = composer_style(composer, TYPE_LEAD, WEIGHT_REGULAR);
	struct head head = {
		.of = page_words(composer, arena_printf(composer->arena, "%d", number), pages_in_all(composer, number)),
		.of_style = composer_style(composer, TYPE_BODY, WEIGHT_REGULAR),
		.number_width = number_room(composer, label),
		.sign_width = sign == PICTURE_NONE ? 0 : SIGN_SIZE + SIGN_DISTANCE};
	double of_width = of_room(composer, number, head.of_style) + GAP_3;
	double title_width = LIVE_WIDTH - head.number_width - head.sign_width - GAP_5 - (lead == NULL ? of_width : 0);
	head.title = composer_set_name(composer, title, title_style(composer), title_width, TITLE_LINES);
	head.lead_width = LIVE_WIDTH - of_width;
	head.top = MARGIN_TOP;
	/* A draft's band stands close above: an accent on a capital of the title must not reach into it. */
	if (running_of(composer)->draft_band != NULL)
		head.top =
			fmax(head.top, DRAFT_BAND_TOP + DRAFT_BAND_HEIGHT + DRAFT_BAND_CLEAR - text_ink(head.title).y);
	head.baseline = head.top + text_height(head.title) + (lead == NULL ? 0 : form->lead_drop);

	double lead_height = composer_text_height(composer, lead, lead_style, head.lead_width);
	double more_lead = lead == NULL ? -form->lead_drop : fmax(lead_height - text_cap_height(lead_style), 0);
	head.rule = form->rule + head.top - MARGIN_TOP + text_height(head.title) -
	            text_cap_height(title_style(composer)) + more_lead;
	head.content = head.rule + form->content_drop;
	return head;
}

static void put_head(struct composer *composer, const struct head *head, const char *lead, enum pictogram sign)
{
	struct text_style lead_style = composer_style(composer, TYPE_LEAD, WEIGHT_REGULAR);
	begin_group(composer, ROLE_H1);
	put_block(composer, head->title, ALIGN_START, composer->left, head->top, COLOUR_INK);
	end_group(composer);
	put_paragraph(composer, lead, lead_style, composer->left, head->baseline - text_cap_height(lead_style),
	              head->lead_width);

	struct text_style number = title_style(composer);
	begin_artifact(composer);
	put_picture(composer, sign, composer->right - head->number_width - head->sign_width, head->top - 1.4,
	            SIGN_SIZE);
	put_text(composer, composer_label(composer), number, ALIGN_END, composer->right, head->top, 0, COLOUR_INK);
	double of_end = lead == NULL && text_lines(head->title) == 1 ? head->number_width + GAP_4 : 0;
	put_text(composer, head->of, head->of_style, ALIGN_END, composer->right - of_end,
	         head->baseline - text_cap_height(head->of_style), 0, COLOUR_INK);
	put_line(composer, composer->left, composer->right, head->rule, LINE_MAIN);
	end_group(composer);
}

static double content_bottom(struct composer *composer)
{
	return foot_rule(composer) - form_of(composer)->foot_gap - composer->spared;
}

double composer_content_height(struct composer *composer, const char *title, const char *lead, enum pictogram sign)
{
	/* As for the widest number that the packet can have, so that no page has less. */
	bool hundreds = composer->last != NULL && composer->last->n_patient > 99;
	return content_bottom(composer) -
	       head_of(composer, title, lead, sign, hundreds ? "999" : "99", hundreds ? 999 : 99).content;
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
	struct open_marks *marks = composer->marks;
	if (page->right_to_left)
		mirror_marks(composer->arena, marks->list, marks->turnings, marks->n);
	page->marks = arena_copy(composer->arena, marks->list, marks->n * sizeof *marks->list);
	page->n = marks->n;
	marks->n = 0;
}

void composer_begin_section(struct composer *composer, section_ref ref)
{
	assert(ref >= 0 && (size_t)ref < composer->handout->n_sections);
	close_page(composer);
	composer->section = &composer->handout->sections[ref];
	composer->large_print = composer->handout->large_print && !composer->section->staff;
	composer->speaker = composer->section->staff ? composer->handout->staff_speaker : composer->handout->speaker;
	composer->right_to_left = text_right_to_left(speaker_language(composer->speaker));
}

void composer_new_page(struct composer *composer, const char *title, const char *lead)
{
	composer_new_page_with_sign(composer, title, lead, PICTURE_NONE);
}

void composer_new_page_with_sign(struct composer *composer, const char *title, const char *lead, enum pictogram sign)
{
	close_page(composer);
	const struct section *section = composer->section;
	int number = section->staff    ? ++composer->n_staff
	             : section->notice ? ++composer->n_notice
	                               : ++composer->n_patient;
	struct section_pages *pages = &composer->numbers->sections[composer_section_ref(composer)];
	if (pages->n == 0)
		pages->first = number;
	composer->pages = arena_more(composer->arena, composer->pages, composer->n_pages, sizeof *composer->pages);
	composer->pages[composer->n_pages++] = (struct page_draft){.label = label_of(composer->arena, section, number),
	                                                           .number = number,
	                                                           .index = pages->n++,
	                                                           .right_to_left = composer->right_to_left,
	                                                           .section = composer_section_ref(composer)};

	begin_group(composer, ROLE_SECTION);
	if (running_of(composer)->draft_band != NULL)
		put_draft_band(composer, running_of(composer)->draft_band);
	struct head head = head_of(composer, title, lead, sign, composer_label(composer), number);
	put_head(composer, &head, lead, sign);
	composer->top = head.content;
	composer->bottom = content_bottom(composer);
}

const struct placed_packet *composer_finish(struct composer *composer)
{
	close_page(composer);
	struct placed_page *pages = arena_alloc(composer->arena, composer->n_pages * sizeof *pages);
	for (size_t i = 0; i < composer->n_pages; i++)
		pages[i] = (struct placed_page){.width = composer->width,
		                                .height = composer->height,
		                                .label = composer->pages[i].label,
		                                .section = composer->pages[i].section,
		                                .marks = composer->pages[i].marks,
		                                .n = composer->pages[i].n};
	struct placed_packet *packet = arena_alloc(composer->arena, sizeof *packet);
	*packet = (struct placed_packet){.handout = composer->handout, .pages = pages, .n = composer->n_pages};
	return packet;
}
