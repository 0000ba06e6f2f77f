/*
 * A step cites only pictures that its sheet shows, and every picture with a letter is cited there.
 */
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_packets.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#define NBSP "\u00a0"

struct row {
	const char *plan;
	bool large_print;
};

/* Bits, one a letter. */
typedef uint32_t letters;

static letters letter_of(char letter)
{
	return (letters)1 << (letter - 'A');
}

static bool is_letter_alone(const char *text)
{
	return isupper((unsigned char)text[0]) && !isalpha((unsigned char)text[1]);
}

/* "A", "A, B", "A or B", "A to C": the letters that a text begins with. */
static letters letters_in(const char *text)
{
	static const char *const between[] = {"," NBSP, " or "};
	letters found = 0;
	while (is_letter_alone(text)) {
		const char *range = strncmp(text + 1, " to ", 4) == 0 ? text + 5 : text;
		for (char letter = *text; letter <= *range; letter++)
			found |= letter_of(letter);
		text = range + 1;
		for (size_t i = 0; i < sizeof between / sizeof *between; i++)
			if (strncmp(text, between[i], strlen(between[i])) == 0)
				text += strlen(between[i]);
	}
	return found;
}

static letters cited_by(const char *text)
{
	static const char *const ways[] = {"see" NBSP, "as in" NBSP};
	letters cited = 0;
	for (size_t i = 0; i < sizeof ways / sizeof *ways; i++)
		for (const char *at = text; (at = strstr(at, ways[i])) != NULL;) {
			at += strlen(ways[i]);
			cited |= letters_in(at);
		}
	return cited;
}

/* "L" and "R" at the sides of a body: no step cites them. */
static bool is_on_body(const struct placed_page *page, const struct placed_mark *letter)
{
	for (size_t i = 0; i < page->n; i++) {
		const struct rect *body = &page->marks[i].area;
		if (page->marks[i].kind == MARK_BODY && letter->area.x >= body->x && letter->area.y >= body->y &&
		    letter->area.x < body->x + body->width && letter->area.y < body->y + body->height)
			return true;
	}
	return false;
}

static void cited_pictures_are_shown(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = sample_packet_in(row->plan, PAPER_A4, row->large_print);
	letters *shown = arena_alloc(case_of(state)->arena, sample.handout->n_sections * sizeof *shown);
	letters *cited = arena_alloc(case_of(state)->arena, sample.handout->n_sections * sizeof *cited);
	letters any = 0;
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		for (size_t j = 0; j < page->n; j++) {
			if (page->marks[j].kind != MARK_TEXT)
				continue;
			const char *text = text_string(page->marks[j].text.block);
			if (is_letter_alone(text) && text[1] == '\0' && !is_on_body(page, &page->marks[j]))
				shown[page->section] |= letter_of(*text);
			cited[page->section] |= cited_by(text);
		}
	}
	for (size_t i = 0; i < sample.handout->n_sections; i++) {
		if (shown[i] != cited[i])
			fail_msg("section %zu shows the letters %x and cites %x", i, shown[i], cited[i]);
		any |= shown[i];
	}
	assert_int_equal(any & letter_of('A'), letter_of('A'));
	sample_packet_free(&sample);
}

/* A sheet of two syringes calls their pictures as it calls the syringes: A mixes, B injects. */
static void two_syringes_have_their_letters(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_of("samples/plans/ione.yaml", PAPER_A4);
	const struct medicine_sheet *sheet = NULL;
	for (size_t i = 0; i < sample.handout->n_sections && sheet == NULL; i++)
		if (sample.handout->sections[i].kind == SECTION_MEDICINE &&
		    sample.handout->sections[i].medicine->mix != NULL)
			sheet = sample.handout->sections[i].medicine;
	assert_non_null(sheet);
	assert_string_equal(sheet->mix->letter, "A");
	assert_string_equal(sheet->line_letter, "B");
	assert_null(sheet->window_letter);
	assert_int_equal(strncmp(sheet->mix->alt, "Picture A. Syringe filled to", 28), 0);
	assert_int_equal(strncmp(sheet->alt, "Picture B. Syringe filled to", 28), 0);
	sample_packet_free(&sample);
}

int main(void)
{
	static const struct row rows[] = {
		{"samples/plans/mara.yaml", false},   {"samples/plans/mara.yaml", true},
		{"samples/plans/ione.yaml", false},   {"samples/plans/ione.yaml", true},
		{"samples/plans/tilda.yaml", false},  {"samples/plans/tilda.yaml", true},
		{"samples/plans/wilma.yaml", false},  {"samples/plans/wilma.yaml", true},
		{"samples/plans/tamsin.yaml", false}, {"samples/plans/tamsin.yaml", true},
		{"samples/plans/odile.yaml", false},  {"samples/plans/nell.yaml", false},
	};
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char name[200];
		snprintf(name, sizeof name, "%s%s", rows[i].plan, rows[i].large_print ? ", large" : "");
		tests_add(&tests, name, cited_pictures_are_shown, &rows[i]);
	}
	tests_add(&tests, "two syringes have their letters", two_syringes_have_their_letters, NULL);
	return tests_run(&tests, "letters");
}
