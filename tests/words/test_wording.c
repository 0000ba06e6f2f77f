/*
 * The wording and the templates as shipped, against the source that reads them: no key is missing, none is idle.
 *
 * The source's string literals are its keys. A literal with %s in it stands for every key of that shape.
 */
#include "handout/handout.h"
#include "load/folder.h"
#include "page/step_names.h"
#include "support/cases.h"
#include "support/sample_words.h"
#include "words/words.h"

#include <glob.h>
#include <stdio.h>
#include <string.h>

/* Where keys are asked for. */
static const char *const sources[] = {"src/words/*.c", "src/handout/*.c", "src/page/*.c", "src/paint/*.c",
                                      "src/cli/*.c"};

struct literals {
	const char **list;
	size_t n;
};

/* ---- literals of the source ---- */

static bool is_key_sign(char sign)
{
	return (sign >= 'a' && sign <= 'z') || (sign >= '0' && sign <= '9') || strchr("_.%-", sign) != NULL;
}

/* "grid.lead" and "slot.%s" are shaped like keys; "moment" too, which is why a dot is not asked for here. */
static bool is_key_shaped(const char *text)
{
	if (*text == '\0' || *text == '.' || strstr(text, "..") != NULL)
		return false;
	for (const char *sign = text; *sign != '\0'; sign++)
		if (!is_key_sign(*sign))
			return false;
	return true;
}

static void add_literal(struct arena *arena, struct literals *literals, const char *text, size_t length)
{
	const char *copy = arena_strndup(arena, text, length);
	if (!is_key_shaped(copy))
		return;
	literals->list = arena_more(arena, literals->list, literals->n, sizeof *literals->list);
	literals->list[literals->n++] = copy;
}

/* A literal that holds a quote is no key, so escapes need no more care than being skipped. */
static void read_literals_of(struct arena *arena, struct literals *literals, const char *path)
{
	char line[1024];
	FILE *file = fopen(path, "r");
	assert_non_null(file);
	while (fgets(line, sizeof line, file) != NULL) {
		if (*line == '#')
			continue;
		for (const char *open = strchr(line, '"'); open != NULL;) {
			const char *close = open + 1;
			while (*close != '\0' && *close != '"')
				close += *close == '\\' && close[1] != '\0' ? 2 : 1;
			if (*close == '\0')
				break;
			add_literal(arena, literals, open + 1, (size_t)(close - open - 1));
			open = strchr(close + 1, '"');
		}
	}
	fclose(file);
}

static struct literals read_literals(struct arena *arena)
{
	struct literals literals = {0};
	for (size_t i = 0; i < sizeof sources / sizeof *sources; i++) {
		glob_t found;
		assert_int_equal(glob(sources[i], 0, NULL, &found), 0);
		for (size_t j = 0; j < found.gl_pathc; j++)
			read_literals_of(arena, &literals, found.gl_pathv[j]);
		globfree(&found);
	}
	assert_true(literals.n > 300);
	return literals;
}

/* True when `key` has the shape of `pattern`, a %s being one word without a dot, or with one. */
static bool has_shape(const char *key, const char *pattern)
{
	if (*pattern == '\0')
		return *key == '\0';
	if (pattern[0] == '%' && pattern[1] == 's') {
		for (const char *rest = key; *rest != '\0'; rest++)
			if (has_shape(rest + 1, pattern + 2))
				return true;
		return false;
	}
	return *key == *pattern && has_shape(key + 1, pattern + 1);
}

static bool any_key_has_shape(const struct wording *words, const char *pattern)
{
	for (size_t i = 0; i < words->n; i++)
		if (has_shape(words->messages[i].key, pattern))
			return true;
	return false;
}

/* "grid.lead" begins with "grid.", as other keys do: then it is meant as one. */
static bool shares_its_beginning(const struct wording *words, const char *text)
{
	size_t length = strcspn(text, ".") + 1;
	for (size_t i = 0; i < words->n; i++)
		if (strncmp(words->messages[i].key, text, length) == 0)
			return true;
	return false;
}

/* Literals with a dot that begin as keys do and are none. */
static const struct {
	const char *text;
	const char *why;
} no_keys[] = {
	{"step.%s.%s.%s", "a technique's own words for a step, found below"},
	{"step.", "how the keys of all steps begin"},
};

static bool excused(const char *text)
{
	for (size_t i = 0; i < sizeof no_keys / sizeof *no_keys; i++)
		if (strcmp(no_keys[i].text, text) == 0)
			return true;
	return false;
}

static void every_key_that_is_asked_for_exists(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct wording *words = sample_words(arena);
	struct literals literals = read_literals(arena);
	size_t looked_up = 0;
	for (size_t i = 0; i < literals.n; i++) {
		const char *text = literals.list[i];
		if (strchr(text, '.') == NULL || excused(text))
			continue;
		bool pattern = strchr(text, '%') != NULL;
		/* "%s.detail" is made of a key and an ending; its beginnings are literals of their own. */
		if (*text == '%' ? !any_key_has_shape(words, text) : !shares_its_beginning(words, text))
			continue;
		looked_up++;
		if (pattern ? !any_key_has_shape(words, text) : wording_find(words, text) == NULL)
			fail_msg("the source asks for '%s', and en.yaml does not say it", text);
	}
	assert_true(looked_up > 250);
}

/* Shapes too wide to count as a use: anything would pass. */
static bool too_wide(const char *pattern)
{
	return strcmp(pattern, "%s") == 0 || strncmp(pattern, "%s.", 3) == 0;
}

static bool is_used(const struct literals *literals, const char *key)
{
	for (size_t i = 0; i < literals->n; i++) {
		const char *text = literals->list[i];
		if (strcmp(text, key) == 0)
			return true;
		if (strchr(text, '%') != NULL && strchr(text, '.') != NULL && !too_wide(text) && has_shape(key, text))
			return true;
	}
	return false;
}

/* "kit.swab.detail" is asked for as "%s.detail" of "kit.swab". */
static bool is_made_by_an_ending(struct arena *arena, const struct literals *literals, const char *key)
{
	static const char *const endings[] = {".detail", ".own"};
	for (size_t i = 0; i < sizeof endings / sizeof *endings; i++) {
		size_t length = strlen(key);
		size_t ending = strlen(endings[i]);
		if (length > ending && strcmp(key + length - ending, endings[i]) == 0 &&
		    is_used(literals, arena_printf(arena, "%%s%s", endings[i])) &&
		    is_used(literals, arena_strndup(arena, key, length - ending)))
			return true;
	}
	return false;
}

static void every_key_of_the_file_is_asked_for(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct wording *words = sample_words(arena);
	struct literals literals = read_literals(arena);
	for (size_t i = 0; i < words->n; i++) {
		const char *key = words->messages[i].key;
		if (!is_used(&literals, key) && !is_made_by_an_ending(arena, &literals, key))
			fail_msg("nothing asks for '%s'", key);
	}
}

/* ---- every message ---- */

static void every_message_is_whole(void **state)
{
	const struct wording *words = sample_words(case_of(state)->arena);
	for (size_t i = 0; i < words->n; i++) {
		const struct message *message = &words->messages[i];
		bool other = false;
		if (i > 0)
			assert_true(strcmp(words->messages[i - 1].key, message->key) < 0);
		for (size_t j = 0; j < message->n_forms; j++) {
			size_t switches = 0;
			const char *text = message->forms[j].text;
			other = other || strcmp(message->forms[j].form, "other") == 0;
			for (const char *at = strstr(text, "**"); at != NULL; at = strstr(at + 2, "**"))
				switches++;
			if (*text == '\0' || switches % 2 != 0 || strstr(text, "  ") != NULL)
				fail_msg("'%s' is empty, or leaves bold on, or has two spaces: %s", message->key, text);
		}
		if (!other)
			fail_msg("'%s' has no form 'other'", message->key);
	}
}

/* Every unit, container, route and slot has its words: those are looked up by name, so the scan cannot see them. */
static void every_name_has_its_words(void **state)
{
	static const char *const keys[] = {"kind.powder-vial",
	                                   "kind.solution-vial",
	                                   "kind.ampoule",
	                                   "kind.prefilled-syringe",
	                                   "kind.pen",
	                                   "kind.counted",
	                                   "kind.powder-vial.short",
	                                   "kind.solution-vial.short",
	                                   "kind.ampoule.short",
	                                   "kind.pen.short",
	                                   "kind.counted.short",
	                                   "device.oral",
	                                   "device.vaginal",
	                                   "device.rectal",
	                                   "device.transdermal",
	                                   "device.nasal",
	                                   "device.subcutaneous",
	                                   "device.intramuscular",
	                                   "how.oral",
	                                   "how.vaginal",
	                                   "how.rectal",
	                                   "how.transdermal",
	                                   "how.nasal",
	                                   "how.subcutaneous",
	                                   "how.intramuscular",
	                                   "slot.morning",
	                                   "slot.noon",
	                                   "slot.evening",
	                                   "slot.bedtime",
	                                   "slot.morning.lower",
	                                   "slot.noon.lower",
	                                   "slot.evening.lower",
	                                   "slot.bedtime.lower",
	                                   "where.fridge",
	                                   "where.room",
	                                   "read.right",
	                                   "read.point",
	                                   "read.back",
	                                   "read.alt_right",
	                                   "read.alt_much",
	                                   "read.alt_little",
	                                   "kind.prefilled-syringe.short"};
	static const char *const counted[] = {"tablet", "capsule", "patch", "insert",
	                                      "spray",  "puff",    "drop",  "sachet"};
	struct arena *arena = case_of(state)->arena;
	const struct wording *words = sample_words(arena);
	for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
		if (wording_find(words, keys[i]) == NULL)
			fail_msg("'%s' is missing", keys[i]);
	for (size_t i = 0; i < sizeof counted / sizeof *counted; i++) {
		assert_non_null(wording_find(words, arena_printf(arena, "amount.%s", counted[i])));
		assert_non_null(wording_find(words, arena_printf(arena, "amount.%s.half", counted[i])));
		assert_non_null(wording_find(words, arena_printf(arena, "amount.%s.and_half", counted[i])));
		assert_non_null(wording_find(words, arena_printf(arena, "unit.%s", counted[i])));
	}
}

/* ---- techniques ---- */

static const struct page_templates *templates_of(struct arena *arena)
{
	struct findings findings = findings_in(arena);
	enum load_status status;
	const struct clinic *clinic = load_clinic(arena, "samples", ".", &findings, &status);
	assert_int_equal(status, LOAD_GOOD);
	return clinic->templates;
}

static void check_lay_out(const struct technique_template *technique)
{
	for (size_t i = 0; i < technique->n_lay_out; i++) {
		const char *entry = technique->lay_out[i];
		if (!lay_out_known(entry))
			fail_msg("%s lays out '%s'", technique->id, entry);
		for (const char *mark = strchr(entry, '?'); mark != NULL; mark = strchr(mark + 1, '?')) {
			char name[64] = "";
			assert_true(sscanf(mark + 1, "%63s", name) == 1);
			if (!step_condition_known(name))
				fail_msg("%s lays out '%s'", technique->id, entry);
		}
	}
}

/* Large print puts the tag of the line beside such a step: beside each of them, and no other. */
static void check_line(struct arena *arena, const struct wording *words, const char *technique,
                       const struct step_template *step)
{
	static const char *const stops[] = {"**Stop on {mark}", "Pull to your line:", "Draw to **{mark}**"};
	const struct message *own = wording_find(words, arena_printf(arena, "step.%s.%s.text", technique, step->id));
	const struct message *text =
		own != NULL ? own : wording_find(words, arena_printf(arena, "step.%s.text", step->id));
	assert_non_null(text);
	bool stopped = false;
	for (size_t i = 0; i < sizeof stops / sizeof *stops; i++)
		stopped = stopped || strstr(text->forms[0].text, stops[i]) != NULL;
	if (stopped != step->line)
		fail_msg("%s: '%s' is %sstopped on the line by its words, and is %ssaid to be", technique, step->id,
		         stopped ? "" : "not ", step->line ? "" : "not ");
}

static void check_step(struct arena *arena, const struct wording *words, const char *technique,
                       const struct step_template *step)
{
	static const char *const parts[] = {"title", "text"};
	for (size_t i = 0; i < 2; i++)
		if (wording_find(words, arena_printf(arena, "step.%s.%s", step->id, parts[i])) == NULL &&
		    wording_find(words, arena_printf(arena, "step.%s.%s.%s", technique, step->id, parts[i])) == NULL)
			fail_msg("%s: the step '%s' has no %s", technique, step->id, parts[i]);
	check_line(arena, words, technique, step);
	if (step->picture == NULL || !step_picture_known(step->picture))
		fail_msg("%s: the picture of '%s' is not known", technique, step->id);
	for (size_t i = 0; i < step->n_when; i++)
		if (!step_condition_known(step->when[i]))
			fail_msg("%s: the condition '%s' of '%s' is not known", technique, step->when[i], step->id);
}

static void every_technique_can_be_printed(void **state)
{
	static const char *const ids[] = {"powder-vial", "solution-vial", "ampoule", "prefilled-syringe", "pen"};
	struct arena *arena = case_of(state)->arena;
	const struct page_templates *templates = templates_of(arena);
	const struct wording *words = sample_words(arena);
	for (size_t i = 0; i < sizeof ids / sizeof *ids; i++)
		assert_non_null(templates_technique(templates, ids[i]));
	for (size_t i = 0; i < templates->n_techniques; i++) {
		const struct technique_template *technique = &templates->techniques[i];
		check_lay_out(technique);
		assert_true(technique->n_steps > 0);
		for (size_t j = 0; j < technique->n_steps; j++)
			check_step(arena, words, technique->id, &technique->steps[j]);
	}
}

/* The step that a key is the words of: "step.wipe.text", or "step.pen.wipe.text" of one technique alone. */
static bool step_of_key(const char *key, char technique[64], char id[64])
{
	technique[0] = '\0';
	if (sscanf(key, "step.%63[a-z_-].%63[a-z_].%*[a-z]", technique, id) == 2 && strcmp(id, "title") != 0 &&
	    strcmp(id, "text") != 0)
		return true;
	char part[64];
	technique[0] = '\0';
	return sscanf(key, "step.%63[a-z_].%63s", id, part) == 2;
}

/* A step's words that no technique of ours has would never be printed. */
static void every_step_of_the_words_is_in_a_technique(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct page_templates *templates = templates_of(arena);
	const struct wording *words = sample_words(arena);
	for (size_t i = 0; i < words->n; i++) {
		char technique[64];
		char id[64];
		if (!step_of_key(words->messages[i].key, technique, id))
			continue;
		bool used = false;
		for (size_t j = 0; j < templates->n_techniques; j++) {
			const struct technique_template *own = &templates->techniques[j];
			for (size_t k = 0; k < own->n_steps; k++)
				used = used || (strcmp(own->steps[k].id, id) == 0 &&
				                (technique[0] == '\0' || strcmp(own->id, technique) == 0));
		}
		if (!used)
			fail_msg("no technique has the step of '%s'", words->messages[i].key);
	}
}

static bool is_condition(const char *name, const char *condition)
{
	size_t length = strcspn(name, " ");
	bool negated = *name == '!';
	return length - negated == strlen(condition) && strncmp(name + negated, condition, length - negated) == 0;
}

static bool technique_asks(const struct technique_template *technique, const char *condition)
{
	for (size_t i = 0; i < technique->n_steps; i++)
		for (size_t j = 0; j < technique->steps[i].n_when; j++)
			if (is_condition(technique->steps[i].when[j], condition))
				return true;
	for (size_t i = 0; i < technique->n_lay_out; i++)
		for (const char *mark = strchr(technique->lay_out[i], '?'); mark != NULL; mark = strchr(mark + 1, '?'))
			if (is_condition(mark + 1, condition))
				return true;
	return false;
}

/*
 * One that no technique asks for would be tried by nothing before a clinic does. The label's word on air is for a
 * clinic's own steps: ours push air into every vial of liquid (tests/cli/test_own_templates.sh has such steps).
 */
static void every_condition_is_asked_for(void **state)
{
	static const char *const of_clinics = "air-equal";
	const struct page_templates *templates = templates_of(case_of(state)->arena);
	for (size_t i = 0; step_condition_name(i) != NULL; i++) {
		bool asked = strcmp(step_condition_name(i), of_clinics) == 0;
		for (size_t j = 0; j < templates->n_techniques && !asked; j++)
			asked = technique_asks(&templates->techniques[j], step_condition_name(i));
		if (!asked)
			fail_msg("no technique asks for the condition '%s'", step_condition_name(i));
	}
}

static void unknown_names_are_not_known(void **state)
{
	(void)state;
	assert_false(step_condition_known("swirling"));
	assert_false(step_condition_known(""));
	assert_false(step_condition_known("!"));
	assert_true(step_condition_known("!swirl"));
	assert_false(lay_out_known("via"));
	assert_false(lay_out_known("vials"));
	assert_true(lay_out_known("vial ?swap"));
	assert_false(step_picture_known("swir"));
}

int main(void)
{
	struct tests tests = {0};
	tests_add(&tests, "every key that is asked for exists", every_key_that_is_asked_for_exists, NULL);
	tests_add(&tests, "every key of the file is asked for", every_key_of_the_file_is_asked_for, NULL);
	tests_add(&tests, "every message is whole", every_message_is_whole, NULL);
	tests_add(&tests, "every name has its words", every_name_has_its_words, NULL);
	tests_add(&tests, "every technique can be printed", every_technique_can_be_printed, NULL);
	tests_add(&tests, "every step of the words is in a technique", every_step_of_the_words_is_in_a_technique, NULL);
	tests_add(&tests, "every condition is asked for", every_condition_is_asked_for, NULL);
	tests_add(&tests, "unknown names are not known", unknown_names_are_not_known, NULL);
	return tests_run(&tests, "wording");
}
