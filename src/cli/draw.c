/*
 * draw.c - one dose to its line, without a clinic: as text, as JSON, as a drawing.
 */
#include "cli/commands.h"
#include "cli/save.h"
#include "page/figure_page.h"
#include "plan/bare_draw.h"

#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct question {
	struct session *session;
	struct bare_draw bare;
	const struct clinic *clinic; /* or what the program brings, where none is named */
	const char *language;
};

static bool fault(struct question *question, const char *option, const struct quantity_fault *why)
{
	if (why->code == NULL)
		return true;
	findings_add(&question->session->findings, why->caution ? FINDING_CAUTION : FINDING_STOP, why->code,
	             (struct place){.file = NULL}, "%s: %s", option, why->says);
	return why->caution;
}

static bool read_amount(struct question *question, const char *option, const char *text, bool zero_is_fine,
                        struct quantity *amount)
{
	struct quantity_fault why = {.code = NULL};
	struct arena *arena = question->session->run;
	bool read = zero_is_fine ? quantity_read_or_zero(arena, text, DECIMAL_POINT, amount, &why)
	                         : quantity_read(arena, text, DECIMAL_POINT, amount, &why);
	return fault(question, option, &why) && read;
}

static bool read_stated(struct question *question, const char *option, const char *text, bool zero_is_fine,
                        struct stated_quantity *stated)
{
	if (text == NULL)
		return true;
	stated->given = true;
	return read_amount(question, option, text, zero_is_fine, &stated->quantity);
}

static bool read_concentration(struct question *question, const char *text)
{
	struct quantity_fault why = {.code = NULL};
	if (text == NULL)
		return true;
	question->bare.concentration.given = true;
	bool read = concentration_read(question->session->run, text, DECIMAL_POINT,
	                               &question->bare.concentration.quantity, &why);
	return fault(question, "--concentration", &why) && read;
}

/* "250 mcg", "250 mcg/0.5 mL", "5 mg/mL": a unit alone after the stroke means one of it. */
static bool read_from(struct question *question, const char *text)
{
	struct arena *arena = question->session->run;
	const char *stroke = strchr(text, '/');
	if (stroke == NULL)
		return read_amount(question, "--from", text, false, &question->bare.strength);
	const char *amount = arena_strndup(arena, text, (size_t)(stroke - text));
	const char *volume = stroke + 1;
	while (*volume == ' ')
		volume++;
	if (*volume < '0' || *volume > '9')
		volume = arena_printf(arena, "1 %s", volume);
	return read_amount(question, "--from", amount, false, &question->bare.strength) &&
	       read_stated(question, "--from", volume, false, &question->bare.volume);
}

/* ---- the syringe ---- */

static bool set_scale(struct question *question, const char *text, const char *colon)
{
	struct arena *arena = question->session->run;
	struct quantity capacity;
	struct quantity step;
	if (!read_amount(question, "--syringe", arena_strndup(arena, text, (size_t)(colon - text)), false, &capacity) ||
	    !read_amount(question, "--syringe", colon + 1, false, &step))
		return false;
	struct syringe *syringe = arena_alloc(arena, sizeof *syringe);
	struct rational steps;
	bool volumes = quantity_in(capacity, UNIT_ML, &capacity) && quantity_in(step, UNIT_ML, &step);
	if (!volumes || !rational_divide(capacity.number, step.number, &steps) || !rational_is_whole(steps)) {
		findings_add(&question->session->findings, FINDING_STOP, "bad-scale", (struct place){.file = NULL},
		             "--syringe: '%s' is not a scale; write a capacity and a step that divides it, such as '1 "
		             "mL:0.01 mL'",
		             text);
		return false;
	}
	*syringe = (struct syringe){.id = text,
	                            .capacity = capacity.number,
	                            .graduated = capacity.number,
	                            .step = step.number,
	                            .numbered_every = step.number,
	                            .units_per_ml = rational_of(1, 1),
	                            .scale_length = rational_of(57, 1)};
	int64_t tenth = rational_floor(steps) % 10 == 0 ? rational_floor(steps) / 10 : 1;
	if (!rational_multiply(step.number, rational_of(tenth, 1), &syringe->numbered_every))
		syringe->numbered_every = step.number;
	question->bare.syringe = syringe;
	return true;
}

static bool set_syringe(struct question *question, const char *text)
{
	if (text == NULL)
		return true;
	question->bare.syringe = clinic_syringe(question->clinic, text);
	if (question->bare.syringe != NULL)
		return true;
	const char *colon = strchr(text, ':');
	if (colon != NULL)
		return set_scale(question, text, colon);
	findings_add(&question->session->findings, FINDING_STOP, "unknown-syringe", (struct place){.file = NULL},
	             "--syringe: there is no syringe '%s'; name one of the list, or its scale as 'CAPACITY:STEP'",
	             text);
	return false;
}

/* A clinic's syringes and words where one is named, else those the program brings. */
static bool find_clinic(struct question *question)
{
	static const char of_the_program[] = "en";
	struct session *session = question->session;
	const char *folder = session->options->clinic != NULL ? session->options->clinic : getenv("FILLMARK_CLINIC");
	enum load_status status = LOAD_GOOD;
	if (folder != NULL && *folder != '\0') {
		question->clinic = session_clinic(session, ".");
		if (question->clinic == NULL)
			return false;
		question->language = question->clinic->languages[0];
	} else {
		question->language = of_the_program;
		question->clinic = load_no_clinic(session->run, session->data_folder, question->language,
		                                  &session->findings, &status);
		session->failed = session->failed || status == LOAD_FAILED;
	}
	question->bare.stock = question->clinic->stock;
	question->bare.n_stock = question->clinic->n_stock;
	question->bare.mark = question->clinic->mark;
	return status == LOAD_GOOD;
}

/* ---- answers ---- */

static void set_text(json_t *object, const char *key, const char *text)
{
	json_object_set_new(object, key, text == NULL ? json_null() : json_string(text));
}

static void print_json(struct session *session, const struct bare_answer *answer)
{
	json_t *object = json_object();
	json_t *findings = json_array();
	set_text(object, "dose", answer->dose);
	set_text(object, "concentration", answer->concentration);
	set_text(object, "volume", answer->volume);
	set_text(object, "volume_exact", answer->volume_exact);
	set_text(object, "syringe", answer->syringe);
	set_text(object, "mark", answer->mark);
	json_object_set_new(object, "between_marks", json_boolean(answer->between_marks));
	set_text(object, "below", answer->below);
	set_text(object, "above", answer->above);
	for (size_t i = 0; i < session->findings.n; i++) {
		json_t *finding = json_object();
		set_text(finding, "level", finding_level_name(session->findings.list[i].level));
		set_text(finding, "code", session->findings.list[i].code);
		set_text(finding, "says", session->findings.list[i].says);
		json_array_append_new(findings, finding);
	}
	json_object_set_new(object, "findings", findings);
	char *text = json_dumps(object, JSON_INDENT(1));
	puts(text);
	free(text);
	json_decref(object);
}

static void print_text(const struct bare_answer *answer)
{
	const struct {
		const char *name;
		const char *text;
	} lines[] = {{"dose", answer->dose},
	             {"in 1 mL", answer->concentration},
	             {"volume", answer->volume},
	             {"syringe", answer->syringe},
	             {"line", answer->mark},
	             {"line below", answer->between_marks ? answer->below : NULL},
	             {"line above", answer->between_marks ? answer->above : NULL}};
	for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
		if (lines[i].text != NULL)
			printf("%-11s %s\n", lines[i].name, lines[i].text);
}

static bool ends_with(const char *text, const char *ending)
{
	size_t length = strlen(text);
	return length >= strlen(ending) && strcmp(text + length - strlen(ending), ending) == 0;
}

static bool kind_of_file(const char *path, enum drawing_kind *kind)
{
	*kind = ends_with(path, ".svg") ? DRAWING_SVG : ends_with(path, ".png") ? DRAWING_PNG : DRAWING_PDF;
	return *kind != DRAWING_PDF || ends_with(path, ".pdf");
}

static struct figure_request figure_of(struct question *question, struct speaker *speaker,
                                       const struct bare_answer *answer)
{
	const struct syringe *syringe = answer->draw.mark.syringe;
	struct mark_words mark = say_line(speaker, &answer->draw.mark);
	struct value values[] = {{"dose", answer->dose},
	                         {"volume", answer->volume},
	                         {"mark", mark_words_plain(question->session->run, mark)},
	                         {"syringe", answer->syringe}};
	const char *caption = syringe->measured ? "draw.caption" : "draw.caption_unmeasured";
	return (struct figure_request){.syringe = syringe,
	                               .at = answer->draw.mark.at,
	                               .mark = mark,
	                               .caption = say(speaker, caption, values, sizeof values / sizeof *values),
	                               .alt = say1(speaker, "draw.alt", "mark", values[2].text),
	                               .language = question->language,
	                               .decimal_mark = question->clinic->mark};
}

static void write_drawing(struct question *question, const struct bare_answer *answer, enum drawing_kind kind)
{
	struct session *session = question->session;
	if (answer->draw.measure != MEASURE_SYRINGE || answer->draw.mark.syringe == NULL)
		return;
	struct speaker *speaker = speaker_new(session->run, question->clinic, question->language, &session->findings);
	if (speaker == NULL)
		return;
	struct typesetter *typesetter =
		typesetter_new(arena_printf(session->run, "%s/fonts", session->data_folder), &session->findings);
	if (typesetter == NULL) {
		session->failed = true;
	} else {
		struct figure_request request = figure_of(question, speaker, answer);
		struct drawing_options options = {.title = say0(speaker, "draw.title"), .language = question->language};
		save_pages(session, session->options->output, kind, &options,
		           figure_page(session->patient, typesetter, &request), 1);
	}
	typesetter_free(typesetter);
	speaker_free(speaker);
}

static bool read_question(struct question *question)
{
	const struct options *options = question->session->options;
	bool good = read_amount(question, "the dose", options->operands[0], true, &question->bare.dose);
	good = read_from(question, options->from) && good;
	good = read_stated(question, "--diluent", options->diluent, false, &question->bare.liquid) && good;
	good = read_stated(question, "--displacement", options->displacement, true, &question->bare.displacement) &&
	       good;
	good = read_concentration(question, options->concentration) && good;
	return find_clinic(question) && set_syringe(question, options->syringe) && good;
}

enum exit_code command_draw(struct session *session)
{
	const struct options *options = session->options;
	enum drawing_kind kind = DRAWING_PDF;
	if (options->n_operands != 1 || options->from == NULL)
		return usage_fault("'draw' takes a dose and what it comes from: fillmark draw '125 mcg' --from '250 "
		                   "mcg' --diluent '1 mL'");
	if (options->output != NULL && !kind_of_file(options->output, &kind))
		return usage_fault("-o for 'draw' must end in .pdf, .svg or .png");
	struct question question = {.session = session, .bare = {.mark = DECIMAL_POINT}};
	struct bare_answer answer = {.dose = options->operands[0]};
	if (read_question(&question))
		bare_draw_make(session->patient, &question.bare, &answer, &session->findings);
	bool refused = findings_stop(&session->findings);
	if (options->json)
		print_json(session, &answer);
	else if (!refused || answer.volume != NULL)
		print_text(&answer);
	if (options->output != NULL && !refused)
		write_drawing(&question, &answer, kind);
	return session_report(session);
}
