/*
 * What a patient reads in English is of reading grade 6 at most: page kind by page kind, and no long sentence above.
 *
 * The grade is that of Kincaid, Fishburne, Rogers and Chissom, 'Derivation of
 * new readability formulas for Navy enlisted personnel', Research Branch Report
 * 8-75, 1975:
 *
 *     0.39 x words / sentences + 11.8 x syllables / words - 15.59
 *
 * A syllable is a vowel that is heard (Flesch, 'How to write plain English',
 * 1979, ch. 2). Here groups of vowel letters are counted, without a final silent
 * e and without the e of -es and -ed where it is silent; syllable_rows holds the
 * counts of words from the sheets, made by ear. Where this errs ('evening' is
 * counted as three) it errs upward.
 */
#include "load/folder.h"
#include "support/cases.h"
#include "support/sample_words.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#define GRADE_MOST 6.0
#define LONG_SENTENCE 6 /* words; the formula was not made for fragments */
#define FEW_WORDS 60    /* kinds with fewer are graded together */
#define MOST_KINDS 128

/* ---- syllables ---- */

static bool is_vowel(char letter)
{
	return letter != '\0' && strchr("aeiouy", letter) != NULL;
}

static bool ends_with(const char *word, size_t length, const char *ending)
{
	size_t n = strlen(ending);
	return length > n && strncmp(word + length - n, ending, n) == 0;
}

/* The ending has a vowel that is written and not heard. */
static bool ends_silent(const char *word, size_t length)
{
	char before = length > 2 ? word[length - 3] : '\0';
	if (ends_with(word, length, "e"))
		return !is_vowel(word[length - 2]) && !(word[length - 2] == 'l' && length > 2 && !is_vowel(before));
	if (ends_with(word, length, "es"))
		return !is_vowel(before) && strchr("sxzcg", before) == NULL && !ends_with(word, length, "shes") &&
		       !ends_with(word, length, "ches") &&
		       !(before == 'l' && length > 3 && !is_vowel(word[length - 4]));
	return ends_with(word, length, "ed") && !is_vowel(before) && before != 't' && before != 'd';
}

/* "vi-al", but "spe-cial". */
static bool heard_apart(const char *letters, size_t i)
{
	return letters[i - 1] == 'i' && letters[i] == 'a' && (i < 2 || strchr("ctgs", letters[i - 2]) == NULL);
}

static int syllables_of(const char *word, size_t length)
{
	char letters[64];
	size_t n = 0;
	int groups = 0;
	for (size_t i = 0; i < length && n + 1 < sizeof letters; i++)
		if (isalpha((unsigned char)word[i]))
			letters[n++] = (char)tolower((unsigned char)word[i]);
	letters[n] = '\0';
	for (size_t i = 0; i < n; i++)
		groups += is_vowel(letters[i]) && (i == 0 || !is_vowel(letters[i - 1]) || heard_apart(letters, i));
	if (groups > 1 && ends_silent(letters, n))
		groups--;
	return groups > 0 ? groups : 1;
}

struct syllable_row {
	const char *word;
	int syllables;
};

static const struct syllable_row syllable_rows[] = {
	{"day", 1},       {"line", 1},     {"needle", 2},    {"needles", 2},  {"syringe", 2}, {"syringes", 3},
	{"injection", 3}, {"medicine", 3}, {"plunger", 2},   {"stopped", 1},  {"wanted", 2},  {"added", 2},
	{"times", 1},     {"boxes", 2},    {"touches", 2},   {"inches", 2},   {"vial", 2},    {"swirl", 1},
	{"bubble", 2},    {"bubbles", 2},  {"liquid", 2},    {"upside", 2},   {"special", 2}, {"powder", 2},
	{"tablets", 2},   {"the", 1},      {"be", 1},        {"you", 1},      {"clinic", 2},  {"policy", 3},
	{"sharps", 1},    {"measured", 2}, {"emergency", 4}, {"calendar", 3}, {"wipe", 1},    {"twist", 1},
};

static void syllables_are_counted(void **state)
{
	const struct syllable_row *row = case_of(state)->row;
	assert_int_equal(syllables_of(row->word, strlen(row->word)), row->syllables);
}

/* ---- grades ---- */

struct measure {
	int sentences;
	int words;
	int syllables;
};

static double grade(struct measure measure)
{
	return 0.39 * measure.words / measure.sentences + 11.8 * measure.syllables / measure.words - 15.59;
}

/* Of one sentence, up to `end`. What is filled in is a word of one syllable: its length is not ours. */
static struct measure measure_of_sentence(const char *text, const char *end)
{
	struct measure measure = {.sentences = 1};
	while (text < end) {
		if (*text == '{') {
			while (text < end && *text != '}')
				text++;
			measure.words++;
			measure.syllables++;
		} else if (isalnum((unsigned char)*text)) {
			const char *word = text;
			while (text < end && (isalnum((unsigned char)*text) || strchr("'-.,", *text) != NULL))
				text++;
			measure.words++;
			measure.syllables += syllables_of(word, (size_t)(text - word));
			continue;
		}
		text++;
	}
	return measure;
}

/* Behind a point, question mark, colon ... that a space, a line's end or the end follows; "0.5" ends nothing. */
static const char *sentence_end(const char *text)
{
	for (; *text != '\0'; text++) {
		const char *after = text + 1 + strspn(text + 1, "*\")");
		if (strchr(".!?:;", *text) != NULL && strchr(" \n", *after) != NULL)
			return after;
		if (strncmp(text, "\u00b7", 2) == 0)
			return text + 2;
	}
	return text;
}

struct kind {
	char name[32];
	struct measure measure;
};

struct reading {
	struct kind kinds[MOST_KINDS + 1]; /* and the rest */
	size_t n;
	int faults;
};

static struct kind *kind_named(struct reading *reading, const char *name, size_t length)
{
	for (size_t i = 0; i < reading->n; i++)
		if (strlen(reading->kinds[i].name) == length && strncmp(reading->kinds[i].name, name, length) == 0)
			return &reading->kinds[i];
	assert_true(reading->n + 1 < MOST_KINDS); /* the last is for the rest */
	struct kind *kind = &reading->kinds[reading->n++];
	snprintf(kind->name, sizeof kind->name, "%.*s", (int)length, name);
	kind->measure = (struct measure){0};
	return kind;
}

static void add(struct measure *sum, struct measure measure)
{
	sum->sentences += measure.sentences;
	sum->words += measure.words;
	sum->syllables += measure.syllables;
}

/* Texts that may be harder: the letters of pictures are no sentence. */
static const char *const excused[] = {"picture.letters"};

static bool is_excused(const char *key)
{
	for (size_t i = 0; i < sizeof excused / sizeof *excused; i++)
		if (strcmp(excused[i], key) == 0)
			return true;
	return false;
}

static void read_text(struct reading *reading, const char *kind, size_t length, const char *key, const char *text)
{
	while (*text != '\0') {
		const char *end = sentence_end(text);
		struct measure measure = measure_of_sentence(text, end);
		if (measure.words > 0)
			add(&kind_named(reading, kind, length)->measure, measure);
		if (measure.words >= LONG_SENTENCE && grade(measure) > GRADE_MOST && !is_excused(key)) {
			print_error("%s: grade %.1f: %.*s\n", key, grade(measure), (int)(end - text), text);
			reading->faults++;
		}
		text = end;
	}
}

static void grade_kinds(struct reading *reading)
{
	struct kind rest = {.name = "the rest"};
	assert_true(reading->n > 0);
	for (size_t i = 0; i < reading->n; i++)
		if (reading->kinds[i].measure.words < FEW_WORDS)
			add(&rest.measure, reading->kinds[i].measure);
	reading->kinds[reading->n++] = rest;
	for (size_t i = 0; i < reading->n; i++) {
		const struct kind *kind = &reading->kinds[i];
		if (kind->measure.words < FEW_WORDS && i + 1 < reading->n)
			continue;
		print_message("%-12s %4d words, %3d sentences: grade %.1f\n", kind->name, kind->measure.words,
		              kind->measure.sentences, grade(kind->measure));
		if (grade(kind->measure) > GRADE_MOST)
			reading->faults++;
	}
}

/* ---- what is read ---- */

/* A key's first word is its kind of page; these are the staff's pages, and patterns of dates. */
static bool is_for_patients(const char *kind, size_t length)
{
	static const char *const others[] = {"blind", "change", "check", "date", "staff_page"};
	for (size_t i = 0; i < sizeof others / sizeof *others; i++)
		if (strlen(others[i]) == length && strncmp(others[i], kind, length) == 0)
			return false;
	return true;
}

static void pages_are_easy_to_read(void **state)
{
	struct reading *reading = arena_alloc(case_of(state)->arena, sizeof *reading);
	const struct wording *words = sample_words(case_of(state)->arena);
	for (size_t i = 0; i < words->n; i++) {
		const struct message *message = &words->messages[i];
		size_t length = strcspn(message->key, ".");
		for (size_t j = 0; is_for_patients(message->key, length) && j < message->n_forms; j++)
			read_text(reading, message->key, length, message->key, message->forms[j].text);
	}
	grade_kinds(reading);
	assert_int_equal(reading->faults, 0);
}

static void read_clinic_text(struct reading *reading, const char *kind, const char *of, struct text text)
{
	const char *words = text_in(text, "en");
	if (words != NULL)
		read_text(reading, kind, strlen(kind), of, words);
}

/* The demonstration clinic's own texts are an example to others. */
static void samples_are_easy_to_read(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct reading *reading = arena_alloc(arena, sizeof *reading);
	struct findings findings = findings_in(arena);
	enum load_status status;
	const struct clinic *clinic = load_clinic(arena, "samples", ".", &findings, &status);
	assert_non_null(clinic);
	read_clinic_text(reading, "clinic", "emergency", clinic->emergency);
	read_clinic_text(reading, "clinic", "disclaimer", clinic->disclaimer);
	for (size_t i = 0; i < clinic->n_medicines; i++) {
		const struct medicine *medicine = &clinic->medicines[i];
		read_clinic_text(reading, "purpose", medicine->id, medicine->purpose);
		read_clinic_text(reading, "missed", medicine->id, medicine->missed);
		for (size_t j = 0; j < medicine->n_cautions; j++)
			read_clinic_text(reading, "caution", medicine->id, medicine->cautions[j]);
		for (size_t j = 0; j < medicine->n_products; j++)
			read_clinic_text(reading, "storage", medicine->id, medicine->products[j].storage);
	}
	grade_kinds(reading);
	assert_int_equal(reading->faults, 0);
}

/* The measure tells hard words from easy ones: as grown-ups write, and as the sheets do. */
static void hard_sentences_are_found(void **state)
{
	static const char hard[] =
		"Subcutaneous administration necessitates appropriate preparation of the injection site.";
	static const char easy[] = "Wash your hands. Dry them well. Count to ten.";
	struct reading *reading = arena_alloc(case_of(state)->arena, sizeof *reading);
	read_text(reading, "easy", 4, "easy", easy);
	assert_int_equal(reading->faults, 0);
	assert_int_equal(reading->kinds[0].measure.sentences, 3);
	assert_int_equal(reading->kinds[0].measure.words, 9);
	assert_int_equal(reading->kinds[0].measure.syllables, 9);
	read_text(reading, "hard", 4, "hard", hard);
	assert_int_equal(reading->faults, 1);
	assert_true(grade(reading->kinds[1].measure) > 12);
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof syllable_rows / sizeof *syllable_rows; i++)
		tests_add(&tests, syllable_rows[i].word, syllables_are_counted, &syllable_rows[i]);
	tests_add(&tests, "hard sentences are found", hard_sentences_are_found, NULL);
	tests_add(&tests, "pages are easy to read", pages_are_easy_to_read, NULL);
	tests_add(&tests, "the samples are easy to read", samples_are_easy_to_read, NULL);
	return tests_run(&tests, "readability");
}
