/*
 * composer.c - a section's pages as they are opened, filled with marks and closed; its pages' numbers are put last.
 */
#include "page/composer.h"

#include "page/composer_frame.h"

#include <assert.h>
#include <stdarg.h>
#include <string.h>

struct page_draft {
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

/* ---- trials ---- */

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

/* ---- pages ---- */

/* Of a page of the section, by its index in it. */
static int own_number(const struct composer *composer, int index)
{
	return composer->numbers->sections[composer_section_ref(composer)].first + index;
}

static void close_page(struct composer *composer)
{
	if (composer->n_pages == 0 || composer->open_groups == 0)
		return;
	end_group(composer);
	assert(composer->open_groups == 0);
	assert(composer->inside == 0);
	frame_end(composer);
	struct page_draft *page = &composer->pages[composer->n_pages - 1];
	page->marks = take_marks(composer, &page->n);
}

void composer_new_page(struct composer *composer, const char *title, const char *lead)
{
	composer_new_page_with_sign(composer, title, lead, PICTURE_NONE);
}

void composer_continue(struct composer *composer, const char *title, const char *lead)
{
	composer_new_page(composer, say_continued(composer->speaker, title), lead);
}

void composer_new_page_with_sign(struct composer *composer, const char *title, const char *lead, enum pictogram sign)
{
	close_page(composer);
	int index = composer->own.n++;
	composer->pages = arena_more(composer->arena, composer->pages, composer->n_pages, sizeof *composer->pages);
	struct page_draft *page = &composer->pages[composer->n_pages++];
	*page = (struct page_draft){0};
	begin_group(composer, ROLE_SECTION);
	page->numbers = frame_begin(composer, title, lead, sign, own_number(composer, index));
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

struct placed_page composer_number_page(struct composer *composer, const struct placed_section *placed, int index)
{
	const struct page_draft *page = &placed->pages[index];
	int number = own_number(composer, index);
	const char *label = numbering_label(composer->arena, composer->section, number);
	size_t n;
	frame_put_numbers(composer, &page->numbers, number, label);
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
