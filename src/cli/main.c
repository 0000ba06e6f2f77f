/*
 * main.c - reads the command line and hands over to a command.
 */
#include "cli/commands.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum exit_code usage_fault(const char *why)
{
	fprintf(stderr, "fillmark: %s\n", why);
	return EXIT_USAGE;
}

/* Beside the program where it was built (build/fillmark), else where it was installed. */
static const char *find_data_folder(struct arena *arena)
{
	const char *named = getenv("FILLMARK_DATA");
	if (named != NULL && *named != '\0')
		return named;
	char self[4096];
	ssize_t length = readlink("/proc/self/exe", self, sizeof self - 1);
	if (length > 0) {
		self[length] = '\0';
		for (char *slash = strrchr(self, '/'); slash != NULL && slash != self; slash = strrchr(self, '/')) {
			*slash = '\0';
			if (access(arena_printf(arena, "%s/templates/pages.yaml", self), R_OK) == 0)
				return arena_strdup(arena, self);
		}
	}
	return FILLMARK_DATA;
}

static enum exit_code run(struct session *session)
{
	static const struct {
		const char *name;
		enum exit_code (*command)(struct session *session);
	} commands[] = {{"check", command_check}, {"packet", command_packet},     {"replace", command_replace},
	                {"batch", command_batch}, {"workings", command_workings}, {"draw", command_draw},
	                {"sign", command_sign}};
	for (size_t i = 0; i < sizeof commands / sizeof *commands; i++)
		if (strcmp(commands[i].name, session->options->command) == 0)
			return commands[i].command(session);
	return EXIT_USAGE;
}

int main(int argc, char **argv)
{
	struct arena *arena = arena_new();
	struct arena *patient = arena_new();
	struct options options;
	const char *why;
	enum exit_code code;
	if (!options_read(arena, argc, argv, &options, &why)) {
		code = usage_fault(why);
	} else if (options.help) {
		fputs(options_usage(), stdout);
		code = EXIT_ALL_MADE;
	} else if (options.version) {
		puts("fillmark " FILLMARK_VERSION);
		code = EXIT_ALL_MADE;
	} else {
		struct session session = {.options = &options,
		                          .run = arena,
		                          .patient = patient,
		                          .findings = findings_in(arena),
		                          .data_folder = find_data_folder(arena)};
		code = run(&session);
	}
	arena_free(patient);
	arena_free(arena);
	return code;
}
