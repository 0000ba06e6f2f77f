/*
 * A step says one thing to do a line, in few and short lines; in English each begins with its verb.
 *
 * A line is a sentence, with a question before it where it holds on a condition
 * ("Too far? Turn back."), and a reason or a number behind a colon. English is
 * read for a second verb too: its verbs are listed, so a new one joins the list.
 */
#include "support/cases.h"
#include "support/sample_words.h"

#include <ctype.h>
#include <glob.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#define ACTIONS_MOST 6
#define WORDS_MOST 14

/* ---- the text of a line ---- */

/* Without the stars of bold words; in `arena`. */
static const char *plain_text(struct arena *arena, const char *text, size_t length)
{
	char *plain = arena_alloc(arena, length + 1);
	size_t n = 0;
	for (size_t i = 0; i < length; i++)
		if (text[i] != '*')
			plain[n++] = text[i];
	plain[n] = '\0';
	return plain;
}

static int words_in(const char *line)
{
	int n = 0;
	for (const char *c = line; *c != '\0'; c++)
		n += *c != ' ' && (c == line || c[-1] == ' ');
	return n;
}

static int ends_in(const char *line, const char *signs)
{
	int n = 0;
	for (const char *c = line; *c != '\0'; c++)
		n += strchr(signs, *c) != NULL && (c[1] == ' ' || c[1] == '\0');
	return n;
}

/* "Too far? Turn back." or "Turn back.": what is wrong with a line, NULL: nothing. */
static const char *fault_of_line(const char *line)
{
	size_t length = strlen(line);
	if (length == 0 || line[length - 1] != '.')
		return "does not end with a full stop";
	if (ends_in(line, ".!") != 1)
		return "has more than one sentence";
	if (ends_in(line, "?") > 1)
		return "has more than one question";
	return words_in(line) > WORDS_MOST ? "is too long" : NULL;
}

/* ---- English: one verb a line ---- */

static const char *const verbs[] = {
	"aim",   "bend",  "blow",  "call",  "check", "choose",  "count",  "cut",   "do",    "draw", "drink",
	"drop",  "dry",   "find",  "flip",  "fold",  "go",      "hold",   "keep",  "label", "lay",  "leave",
	"let",   "lie",   "look",  "peel",  "pinch", "point",   "pour",   "press", "pull",  "pump", "push",
	"put",   "read",  "rinse", "roll",  "rub",   "run",     "screw",  "shake", "slide", "snap", "spray",
	"stand", "stick", "stir",  "stop",  "swirl", "swallow", "take",   "tap",   "tear",  "test", "throw",
	"tick",  "tilt",  "try",   "turn",  "twist", "uncap",   "unwrap", "use",   "wait",  "wash", "wear",
	"wipe",  "wrap",  "write", "begin", "start", "ask",     "get",    "skip",  "tape",
};

/* Lines that say what is so and ask for nothing, and what is said alike everywhere. */
static const char *const excused[] = {
	"It must say {box}{other_number}.",
	"It holds more than your dose: {rest} is not for you.",
	"It is right that {rest} stays in.",
	"It stops before that? Too little is left: call.",
	"Not 0? Part of the dose is missing.",
	"Not 0? That number is still missing.",
	"Or stand with one foot on a chair.",
	"Use soap for 20 seconds, then dry them well.",
	"Window not at 0? Write its number: stop, call.",
	"You gave too much.",
};

static bool is_listed(const char *word, size_t length)
{
	for (size_t i = 0; i < sizeof verbs / sizeof *verbs; i++)
		if (strlen(verbs[i]) == length && strncasecmp(verbs[i], word, length) == 0)
			return true;
	return false;
}

static bool is_excused(const char *line)
{
	for (size_t i = 0; i < sizeof excused / sizeof *excused; i++)
		if (strcmp(excused[i], line) == 0)
			return true;
	return false;
}

static size_t word_length(const char *word)
{
	size_t length = 0;
	while (isalpha((unsigned char)word[length]))
		length++;
	return length;
}

/* Behind "Never", a verb is one that is not to be done. */
static bool begins_with_verb(const char *sentence)
{
	if (strncmp(sentence, "Never ", 6) == 0)
		sentence += 6;
	return is_listed(sentence, word_length(sentence));
}

/* A further clause that asks for something: ", push", " and push", "then push". */
static bool has_second_verb(const char *sentence)
{
	static const char *const joints[] = {", ", " and ", " then ", "; "};
	for (size_t i = 0; i < sizeof joints / sizeof *joints; i++)
		for (const char *at = sentence; (at = strstr(at, joints[i])) != NULL; at++) {
			const char *word = at + strlen(joints[i]);
			if (is_listed(word, word_length(word)))
				return true;
		}
	return false;
}

static const char *fault_of_verbs(const char *line)
{
	const char *question = strstr(line, "? ");
	const char *sentence = question == NULL ? line : question + 2;
	if (is_excused(line) || strcmp(sentence, "Stop, call.") == 0)
		return NULL;
	if (!begins_with_verb(sentence))
		return "does not begin with a verb of the list";
	return has_second_verb(sentence) ? "asks for two things" : NULL;
}

/* ---- the words of every step ---- */

struct reading {
	struct arena *arena;
	bool english;
	int faults;
};

static void fault(struct reading *reading, const char *key, const char *line, const char *says)
{
	print_error("%s: '%s' %s\n", key, line, says);
	reading->faults++;
}

/* Who is asked before doing it what came of it stops, and calls, for nothing. */
static const char *early_question(const char *text)
{
	static const struct {
		const char *asks;
		const char *deed;
	} pairs[] = {{"No drop", "Push "}, {"Not enough", "Pull "}};
	for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
		const char *asked = strstr(text, pairs[i].asks);
		const char *done = strstr(text, pairs[i].deed);
		if (asked != NULL && (done == NULL || done > asked))
			return "asks what came of it before it is done";
	}
	return NULL;
}

static void read_step(struct reading *reading, const char *key, const char *text)
{
	int actions = 0;
	if (reading->english && early_question(text) != NULL)
		fault(reading, key, text, early_question(text));
	for (;;) {
		size_t length = strcspn(text, "\n");
		const char *line = plain_text(reading->arena, text, length);
		const char *says = fault_of_line(line);
		if (says == NULL && reading->english)
			says = fault_of_verbs(line);
		if (says != NULL)
			fault(reading, key, line, says);
		actions++;
		if (text[length] == '\0')
			break;
		text += length + 1;
	}
	if (actions > ACTIONS_MOST)
		fault(reading, key, text, "ends a step of too many actions");
}

static bool is_text_of_step(const char *key)
{
	const char *end = strrchr(key, '.');
	return strncmp(key, "step.", 5) == 0 && end != NULL && strcmp(end, ".text") == 0;
}

static void one_action_a_line(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *file = strrchr(case_of(state)->row, '/') + 1;
	const char *language = arena_strndup(arena, file, strlen(file) - strlen(".yaml"));
	struct reading reading = {.arena = arena, .english = strcmp(language, "en") == 0};
	const struct wording *words = sample_words_in(reading.arena, language);
	int steps = 0;
	for (size_t i = 0; i < words->n; i++)
		if (is_text_of_step(words->messages[i].key)) {
			read_step(&reading, words->messages[i].key, words->messages[i].forms[0].text);
			steps++;
		}
	assert_true(steps > 100);
	assert_int_equal(reading.faults, 0);
}

/* ---- the rules tell good lines from bad ones ---- */

struct line_row {
	const char *line;
	bool good;
};

static const struct line_row line_rows[] = {
	{"Turn it over.", true},
	{"Too far? Turn back.", true},
	{"Never put a cap back on: it pricks.", true},
	{"Stop on {mark}, a drop at the tip.", true},
	{"Cloudy, or bits in it? Stop, call.", true},
	{"Turn it over. Pull to your line.", false},
	{"Turn it over and pull to your line.", false},
	{"Turn it over, then push the air out.", false},
	{"Wipe it, pull the skin aside.", false},
	{"Bubbles back, pull again.", false},
	{"Needle in.", false},
	{"Cloudy? Bits in it? Stop, call.", false},
	{"Turn it over", false},
	{"Push it as slowly as you can down along the glass of the vial into the powder.", false},
};

static void lines_are_judged(void **state)
{
	const struct line_row *row = case_of(state)->row;
	assert_int_equal(fault_of_line(row->line) == NULL && fault_of_verbs(row->line) == NULL, row->good);
}

struct order_row {
	const char *text;
	bool good;
};

static const struct order_row order_rows[] = {
	{"Push slowly to the first drop.\nNo drop? Stop, call.", true},
	{"Pull to your line.\nNot enough? Stop, call.\nPull again.", true},
	{"No drop? Stop, call.\nPush slowly to the first drop.", false},
	{"Not enough for your line? Stop, call.\nPull to your line.", false},
	{"No drop? Stop, call.", false},
};

static void questions_are_judged(void **state)
{
	const struct order_row *row = case_of(state)->row;
	assert_int_equal(early_question(row->text) == NULL, row->good);
}

int main(void)
{
	struct tests tests = {0};
	glob_t found;
	assert_int_equal(glob("templates/words/*.yaml", 0, NULL, &found), 0);
	for (size_t i = 0; i < found.gl_pathc; i++)
		tests_add(&tests, found.gl_pathv[i], one_action_a_line, found.gl_pathv[i]);
	for (size_t i = 0; i < sizeof line_rows / sizeof *line_rows; i++)
		tests_add(&tests, line_rows[i].line, lines_are_judged, &line_rows[i]);
	for (size_t i = 0; i < sizeof order_rows / sizeof *order_rows; i++)
		tests_add(&tests, order_rows[i].text, questions_are_judged, &order_rows[i]);
	int result = tests_run(&tests, "actions");
	globfree(&found);
	return result;
}
