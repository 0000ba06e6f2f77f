#include "cli/session.h"

#include "cli/own_templates.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static void system_failure(struct session *session, const char *code, const char *says)
{
	session->failed = true;
	findings_add(&session->findings, FINDING_STOP, code, (struct place){.file = NULL}, "%s", says);
}

/* `language`: of the one plan that it is for; NULL: of any. */
static const struct clinic *load_from(struct session *session, const char *folder, const char *language)
{
	enum load_status status = LOAD_GOOD;
	const struct clinic *clinic = load_clinic_for(session->run, folder, session->data_folder, language,
	                                              session->worker, &session->findings, &status);
	session->failed = session->failed || status == LOAD_FAILED;
	if (clinic != NULL && !own_templates_good(session->run, clinic, &session->findings))
		return NULL;
	return clinic;
}

static bool is_clinic(struct session *session, const char *folder)
{
	return access(arena_printf(session->run, "%s/clinic.yaml", folder), F_OK) == 0;
}

static const struct clinic *clinic_for(struct session *session, const char *path, const char *language)
{
	const char *folder = session->options->clinic;
	if (folder == NULL)
		folder = getenv("FILLMARK_CLINIC");
	if (folder == NULL || *folder == '\0')
		folder = load_find_clinic(session->run, path);
	if (folder == NULL) {
		findings_add(&session->findings, FINDING_STOP, "clinic-not-found", (struct place){.file = NULL},
		             "no folder at or above '%s' has a clinic.yaml; name the clinic's folder with --clinic",
		             path);
		return NULL;
	}
	if (!is_clinic(session, folder)) {
		session->failed = true;
		findings_add(
			&session->findings, FINDING_STOP, "clinic-not-found", (struct place){.file = NULL},
			"'%s' is no clinic's folder, as no clinic.yaml is in it; correct --clinic or FILLMARK_CLINIC",
			folder);
		return NULL;
	}
	return load_from(session, folder, language);
}

const struct clinic *session_clinic(struct session *session, const char *path)
{
	return clinic_for(session, path, NULL);
}

bool path_is_folder(const char *path)
{
	struct stat status;
	return stat(path, &status) == 0 && S_ISDIR(status.st_mode);
}

const struct clinic *session_folder(struct session *session, const char *path)
{
	if (!is_clinic(session, path)) {
		findings_add(&session->findings, FINDING_STOP, "clinic-not-found", (struct place){.file = NULL},
		             "the folder '%s' has no clinic.yaml; name a clinic's folder, or plans one by one", path);
		return NULL;
	}
	return load_from(session, path, NULL);
}

/* The plan, with what the command line asks of its printing. Nothing of it is content, so the code stays. */
static const struct plan *as_asked(struct session *session, const struct plan *plan)
{
	const struct options *options = session->options;
	struct plan *asked = arena_alloc(session->patient, sizeof *asked);
	*asked = *plan;
	if (options->language != NULL)
		asked->language = options->language;
	if (options->paper != NULL)
		asked->paper = strcmp(options->paper, "letter") == 0 ? PAPER_LETTER : PAPER_A4;
	asked->large_print = plan->large_print || options->large_print;
	return asked;
}

static bool speaks(const struct clinic *clinic, const char *language)
{
	for (size_t i = 0; i < clinic->n_languages; i++)
		if (strcmp(clinic->languages[i], language) == 0 && clinic_words(clinic, language) != NULL)
			return true;
	return false;
}

/* ---- fonts ---- */

struct opening {
	struct arena *arena; /* of its findings */
	struct findings findings;
	const char *folder;
	const char *language; /* that its packet will be in; NULL: not known */
	struct typesetter *typesetter;
};

static void open_fonts(void *data)
{
	struct opening *opening = data;
	opening->typesetter = typesetter_new(opening->folder, &opening->findings);
	if (opening->typesetter != NULL && opening->language != NULL)
		typesetter_ready(opening->typesetter, opening->language);
}

static void begin_opening(struct session *session, const char *language)
{
	struct arena *arena = arena_new();
	session->opening = arena_alloc(arena, sizeof *session->opening);
	*session->opening = (struct opening){.arena = arena,
	                                     .findings = findings_in(arena),
	                                     .folder = arena_printf(arena, "%s/fonts", session->data_folder),
	                                     .language = language};
	worker_do(session->worker, open_fonts, session->opening);
}

/* NULL, with a stop, where the fonts are not good. */
static struct typesetter *take_fonts(struct session *session)
{
	if (session->opening == NULL)
		begin_opening(session, NULL);
	worker_wait(session->worker);
	struct typesetter *typesetter = session->opening->typesetter;
	findings_add_all(&session->findings, &session->opening->findings);
	arena_free(session->opening->arena);
	session->opening = NULL;
	return typesetter;
}

void session_end(struct session *session)
{
	worker_free(session->worker);
	session->worker = NULL;
	if (session->opening == NULL)
		return;
	typesetter_free(session->opening->typesetter);
	arena_free(session->opening->arena);
	session->opening = NULL;
}

_Noreturn void session_leave(enum exit_code code)
{
	fflush(NULL);
	_exit((int)code);
}

/* ---- one plan ---- */

static bool record_for(struct session *session, const char *path, const char *language, struct made *made)
{
	if (access(path, R_OK) != 0) {
		system_failure(session, "file-unreadable",
		               arena_printf(session->run, "'%s' cannot be read; is the name right?", path));
		return false;
	}
	enum load_status status = LOAD_GOOD;
	made->clinic = clinic_for(session, path, language);
	if (made->clinic == NULL)
		return false;
	made->plan = load_plan(session->patient, made->clinic, path, &session->findings, &status);
	session->failed = session->failed || status == LOAD_FAILED;
	if (made->plan == NULL)
		return false;
	made->plan = as_asked(session, made->plan);
	if (session->options->language != NULL && !speaks(made->clinic, made->plan->language)) {
		findings_add(&session->findings, FINDING_STOP, "language-not-spoken", made->clinic->place,
		             "'%s' is not one of the clinic's languages; use one of clinic.yaml's 'languages'",
		             made->plan->language);
		return false;
	}
	return made_record(session->patient, made, &session->findings);
}

bool session_record(struct session *session, const char *path, struct made *made)
{
	return record_for(session, path, NULL, made);
}

bool session_record_alone(struct session *session, const char *path, struct made *made)
{
	const char *language = load_plan_language(session->patient, path);
	begin_opening(session, language);
	return record_for(session, path, language, made);
}

bool session_handout(struct session *session, struct made *made)
{
	return made_handout(session->patient, made, session->options->mono, &session->findings);
}

bool session_packet(struct session *session, struct made *made)
{
	made->typesetter = take_fonts(session);
	if (made->typesetter == NULL) {
		session->failed = true;
		return false;
	}
	return made_packet(session->patient, made, &session->findings);
}

const char *session_temporary(void)
{
	const char *folder = getenv("TMPDIR");
	return folder != NULL && *folder != '\0' ? folder : "/tmp";
}

/* ---- what is said ---- */

static const char *level_colour(enum finding_level level)
{
	switch (level) {
	case FINDING_STOP:
		return "\033[1;31m";
	case FINDING_CAUTION:
		return "\033[1;33m";
	case FINDING_NOTE:
		break;
	}
	return "\033[1m";
}

enum exit_code session_report(struct session *session)
{
	bool colour = isatty(STDERR_FILENO) == 1;
	findings_sort(&session->findings);
	for (size_t i = 0; i < session->findings.n; i++) {
		const struct finding *finding = &session->findings.list[i];
		if (session->options->quiet && finding->level != FINDING_STOP)
			continue;
		fprintf(stderr, "%s%s%s\n", colour ? level_colour(finding->level) : "",
		        finding_print(session->run, finding), colour ? "\033[0m" : "");
	}
	if (session->failed)
		return EXIT_SYSTEM;
	return findings_stop(&session->findings) ? EXIT_REFUSED : EXIT_ALL_MADE;
}
