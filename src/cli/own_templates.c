#include "cli/own_templates.h"

#include "handout/handout.h"
#include "load/nearest.h"
#include "page/step_names.h"

#include <string.h>

struct checking {
	struct arena *arena;
	const struct clinic *clinic;
	struct findings *findings;
};

static void refuse(const struct checking *checking, const char *code, const char *what, struct place place,
                   const struct nearest *nearest)
{
	findings_add(checking->findings, FINDING_STOP, code, place, "unknown %s '%s'%s", what, nearest->word,
	             nearest->best ? nearest_hint(checking->arena, nearest) : "; mend or delete it");
}

static void check_condition(const struct checking *checking, const char *name, struct place place)
{
	const char *bare = name + (*name == '!');
	struct nearest nearest = nearest_to(bare);
	if (step_condition_known(name))
		return;
	for (size_t i = 0; step_condition_name(i); i++)
		nearest_offer(&nearest, step_condition_name(i));
	refuse(checking, "unknown-condition", "condition", place, &nearest);
}

/* "vial", or with conditions: "vial ?split ?!whole". */
static void check_lay_out(const struct checking *checking, const char *entry, struct place place)
{
	struct nearest nearest = nearest_to(arena_strndup(checking->arena, entry, strcspn(entry, " ")));
	for (size_t i = 0; lay_out_name(i); i++)
		nearest_offer(&nearest, lay_out_name(i));
	if (!lay_out_known(entry))
		refuse(checking, "unknown-thing", "thing to lay out", place, &nearest);
	for (const char *mark = strchr(entry, ' '); mark; mark = strchr(mark + 1, ' ')) {
		const char *word = arena_strndup(checking->arena, mark + 1, strcspn(mark + 1, " "));
		if (*word == '?')
			check_condition(checking, word + 1, place);
		else
			findings_add(checking->findings, FINDING_STOP, "unknown-condition", place,
			             "'%s' is no condition; write it as '?%s', or leave it out", word, word);
	}
}

static bool has_words(const struct checking *checking, const struct wording *words, const char *technique,
                      const char *id, const char *part)
{
	return wording_find(words, arena_printf(checking->arena, "step.%s.%s.%s", technique, id, part)) ||
	       wording_find(words, arena_printf(checking->arena, "step.%s.%s", id, part));
}

/* A step of the clinic's own has no words until the clinic writes them, in each of its languages. */
static void check_words_of(const struct checking *checking, const char *technique, const struct step_template *step)
{
	static const char *const parts[] = {"title", "text"};
	for (size_t i = 0; i < checking->clinic->n_words; i++)
		for (size_t j = 0; j < 2; j++) {
			const struct wording *words = &checking->clinic->words[i];
			if (!has_words(checking, words, technique, step->id, parts[j]))
				findings_add(
					checking->findings, FINDING_STOP, "text-missing", step->place,
					"the step '%s' has no words 'step.%s.%s' in '%s'; add them to words/%s.yaml",
					step->id, step->id, parts[j], words->language, words->language);
		}
}

static void check_step(const struct checking *checking, const char *technique, const struct step_template *step)
{
	struct nearest nearest = nearest_to(step->picture);
	if (!step_picture_known(step->picture)) {
		for (size_t i = 0; i < step_picture_count(); i++)
			nearest_offer(&nearest, step_picture_name(i));
		refuse(checking, "unknown-picture", "step picture", step->place, &nearest);
	}
	for (size_t i = 0; i < step->n_when; i++)
		check_condition(checking, step->when[i], step->place);
	check_words_of(checking, technique, step);
}

static void check_technique(const struct checking *checking, const struct technique_template *technique)
{
	for (size_t i = 0; i < technique->n_lay_out; i++)
		check_lay_out(checking, technique->lay_out[i], technique->lay_out_places[i]);
	for (size_t i = 0; i < technique->n_steps; i++)
		check_step(checking, technique->id, &technique->steps[i]);
}

/* A clinic's words for steps may use whatever a step fills in, not only what the program's words of it do. */
static void check_step_text(const struct checking *checking, const struct message *message, const char *text)
{
	for (const char *open = strchr(text, '{'); open; open = strchr(open + 1, '{')) {
		const char *close = strchr(open, '}');
		const char *name = close ? arena_strndup(checking->arena, open + 1, (size_t)(close - open - 1)) : "";
		if (close && !step_value_known(name))
			findings_add(checking->findings, FINDING_STOP, "unknown-placeholder", message->place,
			             "'%s' has no {%s} to fill in", message->key, name);
	}
}

static void check_step_words(const struct checking *checking, const struct wording *words)
{
	for (size_t i = 0; words->clinic_over && i < words->n; i++)
		for (size_t j = 0; strncmp(words->messages[i].key, "step.", 5) == 0 && j < words->messages[i].n_forms;
		     j++)
			check_step_text(checking, &words->messages[i], words->messages[i].forms[j].text);
}

bool own_templates_good(struct arena *arena, const struct clinic *clinic, struct findings *findings)
{
	const struct checking checking = {arena, clinic, findings};
	size_t before = findings_count(findings, FINDING_STOP);
	for (size_t i = 0; clinic->templates && i < clinic->templates->n_techniques; i++)
		if (clinic->templates->techniques[i].clinic_over)
			check_technique(&checking, &clinic->templates->techniques[i]);
	for (size_t i = 0; i < clinic->n_words; i++)
		check_step_words(&checking, &clinic->words[i]);
	return findings_count(findings, FINDING_STOP) == before;
}
