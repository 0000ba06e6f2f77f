/*
 * Where a text names a step and a page, that step stands on that page: of all samples, in each print. A step is where
 * its number is printed beside its title; whose steps they are is told by the first word of a page's title.
 */
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_packets.h"

#include <regex.h>
#include <stdlib.h>
#include <string.h>

enum { GROUPS = 4 };

/* What the step has to do with the page. */
enum relation {
	STANDS_THERE,
	THERE_OR_LATER /* the page is where the way to it begins */
};

struct phrase {
	const char *pattern;
	int page; /* which of its groups is the page's number, */
	int step; /* and which the step's */
	enum relation relation;
};

static const struct phrase phrases[] = {
	{"from step ([0-9]+) on: page ([0-9]+)", 2, 1, STANDS_THERE},
	{"desde el paso ([0-9]+): página ([0-9]+)", 2, 1, STANDS_THERE},
	{"page ([0-9]+), (from )?step ([0-9]+)", 1, 3, STANDS_THERE},
	{"página ([0-9]+), (desde el )?paso ([0-9]+)", 1, 3, STANDS_THERE},
	{"Step ([0-9]+), page ([0-9]+)", 2, 1, STANDS_THERE},
	{"then ([0-9]+) up to step ([0-9]+)", 1, 2, STANDS_THERE},
	{"luego ([0-9]+) hasta el paso ([0-9]+)", 1, 2, STANDS_THERE},
	{"next: page ([0-9]+); from step ([0-9]+) on", 1, 2, THERE_OR_LATER},
	{"luego: página ([0-9]+); desde el paso ([0-9]+)", 1, 2, THERE_OR_LATER},
	{"page ([0-9]+),? up to step ([0-9]+)", 1, 2, THERE_OR_LATER},
	{"página ([0-9]+),? hasta el paso ([0-9]+)", 1, 2, THERE_OR_LATER},
	{"Read page ([0-9]+) next, then step ([0-9]+)", 1, 2, THERE_OR_LATER},
	{"Lea ahora la página ([0-9]+), luego el paso ([0-9]+)", 1, 2, THERE_OR_LATER},
};
enum { N_PHRASES = sizeof phrases / sizeof *phrases };

static regex_t compiled[N_PHRASES];
static size_t met[N_PHRASES];
static regex_t any_page;
static regex_t any_step;

static void compile(regex_t *regex, const char *pattern)
{
	assert_int_equal(regcomp(regex, pattern, REG_EXTENDED), 0);
}

static bool is_found(const regex_t *regex, const char *text)
{
	return regexec(regex, text, 0, NULL, 0) == 0;
}

static int group_number(const char *text, const regmatch_t *group)
{
	return (int)strtol(text + group->rm_so, NULL, 10);
}

static const char *text_at(const struct placed_page *page, size_t i)
{
	return i < page->n && page->marks[i].kind == MARK_TEXT ? text_string(page->marks[i].text.block) : "";
}

static bool group_begins(const struct placed_page *page, size_t i, enum role role)
{
	return page->marks[i].kind == MARK_GROUP_BEGIN && page->marks[i].group.role == role;
}

/* "Fictivane" of "Fictivane: get ready", and of "Fictivane 5,000 units: inject". */
static const char *first_word_of(struct arena *arena, const struct placed_page *page)
{
	for (size_t i = 0; i < page->n; i++)
		if (group_begins(page, i, ROLE_H1)) {
			const char *title = text_at(page, i + 1);
			return arena_printf(arena, "%.*s", (int)strcspn(title, " :"), title);
		}
	return "";
}

static bool has_step(const struct placed_page *page, const char *number)
{
	for (size_t i = 0; i < page->n; i++)
		if ((group_begins(page, i, ROLE_LABEL) || group_begins(page, i, ROLE_H2)) &&
		    strcmp(text_at(page, i + 1), number) == 0)
			return true;
	return false;
}

/* The staff's pages name steps of all medicines. */
static bool is_of_item(struct arena *arena, const struct placed_page *from, const struct placed_page *page)
{
	return from->label[0] == 'S' || strcmp(first_word_of(arena, from), first_word_of(arena, page)) == 0;
}

static bool stands(const struct sample_packet *sample, const struct placed_page *from, const struct placed_page *named,
                   enum relation relation, const char *step)
{
	const struct placed_page *end = sample->packet->pages + sample->packet->n;
	for (const struct placed_page *page = named; page < end; page++) {
		if (is_of_item(sample->arena, from, page) && has_step(page, step))
			return true;
		if (relation == STANDS_THERE)
			return false;
	}
	return false;
}

/* Every time it says so; how often that is. */
static size_t check_phrase(const struct sample_packet *sample, const struct placed_page *from, const char *text,
                           size_t phrase)
{
	const struct phrase *of = &phrases[phrase];
	regmatch_t groups[GROUPS];
	size_t n = 0;
	for (const char *c = text; regexec(&compiled[phrase], c, GROUPS, groups, 0) == 0; c += groups[0].rm_eo) {
		const char *label = arena_printf(sample->arena, "%d", group_number(c, &groups[of->page]));
		const char *step = arena_printf(sample->arena, "%d", group_number(c, &groups[of->step]));
		const struct placed_page *named = find_page(sample->packet, label);
		if (named == NULL || !stands(sample, from, named, of->relation, step))
			fail_msg("page %s says '%s', and step %s is not on page %s", from->label, text, step, label);
		n++;
	}
	met[phrase] += n;
	return n;
}

static void check_text(const struct sample_packet *sample, const struct placed_page *page, const char *block)
{
	const char *text = plain_spaces(sample->arena, block);
	size_t n = 0;
	if (!is_found(&any_page, text) || !is_found(&any_step, text))
		return;
	for (size_t i = 0; i < N_PHRASES; i++)
		n += check_phrase(sample, page, text, i);
	if (n == 0)
		fail_msg("page %s names a step and a page in a way that no phrase here reads: '%s'", page->label, text);
}

struct print {
	enum paper paper;
	bool large_print;
	const char *language; /* NULL: the plan's */
};

static void steps_stand_where_it_is_said(void **state)
{
	const struct print *print = case_of(state)->row;
	for (size_t plan = 0; plan < n_sample_plans; plan++) {
		struct sample_packet sample =
			print->language == NULL ? sample_packet_in(sample_plans[plan], print->paper, print->large_print)
						: sample_packet_said(sample_plans[plan], print->paper,
		                                                     print->large_print, print->language);
		for (size_t i = 0; i < sample.packet->n; i++)
			for (size_t j = 0; j < sample.packet->pages[i].n; j++)
				check_text(&sample, &sample.packet->pages[i], text_at(&sample.packet->pages[i], j));
		sample_packet_free(&sample);
	}
}

/* Behind the others: a phrase that no page says checks nothing. */
static void every_phrase_was_met(void **state)
{
	(void)state;
	for (size_t i = 0; i < N_PHRASES; i++)
		if (met[i] == 0)
			fail_msg("no page says '%s'", phrases[i].pattern);
}

static const struct print prints[] = {{PAPER_A4, false, NULL},    {PAPER_LETTER, false, NULL}, {PAPER_A4, true, NULL},
                                      {PAPER_LETTER, true, NULL}, {PAPER_A4, false, "es"},     {PAPER_A4, true, "es"}};

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < N_PHRASES; i++)
		compile(&compiled[i], phrases[i].pattern);
	compile(&any_page, "(page|página) [0-9]");
	compile(&any_step, "(step|Step|paso|Paso) [0-9]");
	tests_add(&tests, "A4", steps_stand_where_it_is_said, &prints[0]);
	tests_add(&tests, "Letter", steps_stand_where_it_is_said, &prints[1]);
	tests_add(&tests, "large print", steps_stand_where_it_is_said, &prints[2]);
	tests_add(&tests, "large print on Letter", steps_stand_where_it_is_said, &prints[3]);
	tests_add(&tests, "es", steps_stand_where_it_is_said, &prints[4]);
	tests_add(&tests, "large print, es", steps_stand_where_it_is_said, &prints[5]);
	tests_add(&tests, "every phrase was met", every_phrase_was_met, NULL);
	return tests_run(&tests, "step references");
}
