/*
 * composer_refs.c - which page something stands on, by the numbers known so far, and the words that send there.
 *
 * What a section reads of others is noted, and what others may read of it: compose.c places it again where that changes.
 */
#include "page/composer.h"

#include <assert.h>
#include <string.h>

section_ref composer_section_ref(const struct composer *composer)
{
	return (section_ref)(composer->section - composer->handout->sections);
}

int composer_page_index(const struct composer *composer)
{
	assert(composer->own.n > 0);
	return composer->own.n - 1;
}

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

const char *composer_label(const struct composer *composer)
{
	return label_at(composer, composer_section_ref(composer), composer_page_index(composer));
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
