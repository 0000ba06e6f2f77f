/*
 * Every sample plan in two languages that nobody speaks: one accented and 40 % longer, one from the right.
 *
 * Nothing overlaps or leaves its place, no word of a page is English, and on a
 * mirrored page every fill mark still stands on its line.
 */
#include "page/syringe_geometry.h"
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/pseudo_clinic.h"
#include "support/sample_packets.h"
#include "support/shell.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

struct row {
	const char *plan; /* its file's name */
	enum paper paper;
	enum pseudo_language language;
	bool large_print;
};

/* One folder a language, for all rows. */
static const char *folders[2];

static struct sample_packet packet_of(const struct row *row, struct arena *arena)
{
	const char *folder = folders[row->language];
	return packet_of_clinic(folder, arena_printf(arena, "%s/plans/%s", folder, row->plan), row->paper,
	                        row->large_print);
}

static void no_fault(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = packet_of(row, case_of(state)->arena);
	const char *faults = packet_faults(case_of(state)->arena, sample.packet);
	if (*faults != '\0')
		print_error("%s", faults);
	assert_string_equal(faults, "");
	sample_packet_free(&sample);
}

/* ---- nothing is hard-coded ---- */

/* Words that are the same in every language: units, and names that are data. */
static const char *const universal[] = {"mcg", "min", "London"}; /* a city, as the zone data have it */

/* Names stand in the samples outside of texts; the address does, too. */
static bool is_data(const struct sample_packet *sample, const char *word, size_t length)
{
	const struct clinic *clinic = sample->record->course->plan->clinic;
	const char *names[128] = {sample->record->course->plan->patient.name.text, sample->record->code,
	                          clinic->address[0]};
	size_t n = 3;
	for (size_t i = 0; i < clinic->n_medicines && n < 100; i++) {
		names[n++] = clinic->medicines[i].name;
		for (size_t j = 0; j < clinic->medicines[i].n_products && n < 100; j++)
			names[n++] = clinic->medicines[i].products[j].id;
	}
	for (size_t i = 0; i < n; i++)
		for (const char *at = names[i]; at != NULL && *at != '\0'; at++)
			if (strncmp(at, word, length) == 0)
				return true;
	for (size_t i = 0; i < sizeof universal / sizeof *universal; i++)
		if (strlen(universal[i]) == length && strncmp(universal[i], word, length) == 0)
			return true;
	return false;
}

/* Three ASCII letters in a row: the accented language has none such, but for letters that have no other sign. */
static size_t plain_letters(const char *text)
{
	size_t n = 0;
	bool code = true;
	for (; isalpha((unsigned char)text[n]); n++)
		code = code && isupper((unsigned char)text[n]);
	/* "HNH4-H": of the code of a sheet, its own or of the one that it replaces. */
	return code && (isdigit((unsigned char)text[n]) || text[n] == '-') ? 0 : n;
}

static int english_in(const struct sample_packet *sample, const char *label, const char *text)
{
	int n = 0;
	while (text != NULL && *text != '\0') {
		size_t letters = plain_letters(text);
		size_t capitals = strspn(text, "ABCDEFGHIJKLMNOPQRSTUVWXYZ");
		if (letters >= 3 && !is_data(sample, text, letters)) {
			print_error("page %s: '%.*s' in '%s'\n", label, (int)letters, text, text);
			n++;
		}
		text += letters > 0 ? letters : capitals > 0 ? capitals : 1;
	}
	return n;
}

/* What the program says about its input is English: the staff's check page quotes it. */
static bool is_caution(const struct sample_packet *sample, const char *text)
{
	for (size_t i = 0; i < sample->handout->n_sections; i++) {
		const struct section *section = &sample->handout->sections[i];
		for (size_t j = 0; section->kind == SECTION_CHECK && j < section->check->n_cautions; j++)
			if (strstr(text, section->check->cautions[j]) != NULL)
				return true;
	}
	return false;
}

static int english_of_mark(const struct sample_packet *sample, const char *label, const struct placed_mark *mark)
{
	int n = 0;
	if (mark->kind == MARK_TEXT && !is_caution(sample, text_string(mark->text.block)))
		n += english_in(sample, label, text_string(mark->text.block));
	if (mark->kind == MARK_GROUP_BEGIN)
		n += english_in(sample, label, mark->group.alt);
	if (mark->kind == MARK_TAG && mark->tag.before != NULL)
		n += english_in(sample, label, text_string(mark->tag.before));
	if (mark->kind == MARK_TAG)
		n += english_in(sample, label, text_string(mark->tag.number));
	return n;
}

static void no_english(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = packet_of(row, case_of(state)->arena);
	int n = 0;
	for (size_t i = 0; i < sample.packet->n; i++)
		for (size_t j = 0; j < sample.packet->pages[i].n; j++)
			n += english_of_mark(&sample, sample.packet->pages[i].label, &sample.packet->pages[i].marks[j]);
	assert_int_equal(n, 0);
	sample_packet_free(&sample);
}

/* ---- what is never mirrored ---- */

static bool over(const struct placed_mark *tag, const struct placed_mark *syringe)
{
	return tag->tag.tip.x >= syringe->area.x && tag->tag.tip.x <= syringe->area.x + syringe->area.width &&
	       tag->tag.tip.y > syringe->area.y - 3 && tag->tag.tip.y < syringe->syringe.axis;
}

static int lines_of_page(const struct placed_page *page)
{
	int lines = 0;
	for (size_t i = 0; i < page->n; i++) {
		const struct placed_mark *syringe = &page->marks[i];
		if (syringe->kind != MARK_SYRINGE || !syringe->syringe.line)
			continue;
		const struct syringe_figure *figure = &syringe->syringe;
		double x = syringe_x(figure->syringe, figure->x_zero, figure->mark);
		size_t tags = 0;
		for (size_t j = 0; j < page->n; j++)
			if (page->marks[j].kind == MARK_TAG && over(&page->marks[j], syringe)) {
				tags++;
				if (fabs(page->marks[j].tag.tip.x - x) > 0.01)
					fail_msg("page %s: a tag points %.2f mm beside its line", page->label,
					         page->marks[j].tag.tip.x - x);
			}
		assert_int_equal(tags, 1);
		lines++;
	}
	return lines;
}

static void tags_stand_on_their_lines(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = packet_of(row, case_of(state)->arena);
	int lines = 0;
	for (size_t i = 0; i < sample.packet->n; i++)
		lines += lines_of_page(&sample.packet->pages[i]);
	/* Some courses have only patches and the like. */
	assert_true(lines > 0 || strncmp(row->plan, "mara", 4) != 0);
	sample_packet_free(&sample);
}

/* Title at the right, page number at the left, and the code's symbol with it. */
static void pages_are_mirrored(void **state)
{
	const struct row *row = case_of(state)->row;
	struct sample_packet sample = packet_of(row, case_of(state)->arena);
	for (size_t i = 0; i < sample.packet->n; i++) {
		const struct placed_page *page = &sample.packet->pages[i];
		double middle = page->width / 2;
		bool turned = row->language == PSEUDO_RIGHT_TO_LEFT;
		for (size_t j = 0; j < page->n; j++) {
			const struct placed_mark *mark = &page->marks[j];
			if (mark->kind == MARK_CODE)
				assert_true((mark->area.x < middle) == turned);
			if (mark->kind == MARK_TEXT && strstr(text_string(mark->text.block), page->label) != NULL &&
			    text_style_of(mark->text.block)->size > 25 && mark->area.width < 20 && mark->area.y < 25)
				assert_true((mark->area.x < middle) == turned);
		}
	}
	sample_packet_free(&sample);
}

int main(void)
{
	static const struct {
		const char *name;
		CMUnitTestFunction function;
	} kinds[] = {
		{"no fault", no_fault},
		{"no English", no_english},
		{"tags stand on their lines", tags_stand_on_their_lines},
		{"mirrored or not", pages_are_mirrored},
	};
	static const char *const names[] = {"longer", "from the right"};
	static struct row rows[128];
	struct arena *arena = arena_new();
	struct tests tests = {0};
	size_t n = 0;
	for (int language = 0; language < 2; language++) {
		folders[language] = pseudo_clinic(arena, (enum pseudo_language)language);
		for (size_t i = 0; i < n_sample_plans; i++)
			for (int paper = 0; paper < 2; paper++) {
				struct row *row = &rows[n++];
				*row = (struct row){strrchr(sample_plans[i], '/') + 1, paper ? PAPER_LETTER : PAPER_A4,
				                    (enum pseudo_language)language, false};
				for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++)
					tests_add(&tests,
					          arena_printf(arena, "%s %s on %s: %s", row->plan, names[language],
					                       paper ? "Letter" : "A4", kinds[k].name),
					          kinds[k].function, row);
			}
	}
	for (int language = 0; language < 2; language++)
		for (size_t i = 0; i < n_sample_plans; i++) {
			struct row *row = &rows[n++];
			*row = (struct row){strrchr(sample_plans[i], '/') + 1, PAPER_A4, (enum pseudo_language)language,
			                    true};
			for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++)
				tests_add(&tests,
				          arena_printf(arena, "%s %s, large: %s", row->plan, names[language],
				                       kinds[k].name),
				          kinds[k].function, row);
		}
	int failed = tests_run(&tests, "pseudo languages");
	for (int language = 0; language < 2; language++)
		scratch_remove(arena, folders[language]);
	arena_free(arena);
	return failed;
}
