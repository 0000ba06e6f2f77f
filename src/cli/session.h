/*
 * session.h - what the commands share: the data folder, a clinic, a computed plan, the findings.
 */
#ifndef CLI_SESSION_H
#define CLI_SESSION_H

#include "base/worker.h"
#include "batch/made.h"
#include "cli/options.h"
#include "load/folder.h"

/* Where leaks are looked for, all is freed. */
#ifdef __SANITIZE_ADDRESS__
#define MAY_LEAVE false
#else
#define MAY_LEAVE true
#endif

enum exit_code { EXIT_ALL_MADE = 0, EXIT_REFUSED = 1, EXIT_USAGE = 2, EXIT_SYSTEM = 3, EXIT_NOTHING_MADE = 4 };

/* The fonts on their way, as a worker's job. */
struct opening;

struct session {
	const struct options *options;
	struct arena *run;
	struct arena *patient;
	struct findings findings;
	struct worker *worker;   /* NULL: none */
	struct opening *opening; /* NULL: not begun */
	const char *data_folder; /* templates/ and fonts/ are in it */
	bool leaves;             /* for session_leave(): what goes with the process need not be freed */
	bool failed;             /* the system, not the input */
};

/* The clinic of --clinic, of FILLMARK_CLINIC, or the nearest one at or above `path`. */
const struct clinic *session_clinic(struct session *session, const char *path);

/* False also where there is nothing. */
bool path_is_folder(const char *path);

/* The clinic whose folder `path` is: a stop where it is none. Nothing else is looked at in its stead. */
const struct clinic *session_folder(struct session *session, const char *path);

/* Each returns false when it is stopped; the findings say why. What was made so far is in `made`. */
bool session_record(struct session *session, const char *path, struct made *made);
bool session_handout(struct session *session, struct made *made);
bool session_packet(struct session *session, struct made *made);

/* The same record; meanwhile the worker gets the fonts ready, and no more is read than this one plan needs. */
bool session_record_alone(struct session *session, const char *path, struct made *made);

/*
 * Ends the process of a session that `leaves`: the system takes back what it
 * holds at once, faster than it could be freed piece by piece.
 */
_Noreturn void session_leave(enum exit_code code);

/* Waits for the worker and lets it go, with what it made and nobody took. */
void session_end(struct session *session);

/* Where what is needed for a moment alone may be written: TMPDIR, or /tmp. */
const char *session_temporary(void);

/* Prints the findings to standard error and returns the exit code they mean. */
enum exit_code session_report(struct session *session);

#endif
