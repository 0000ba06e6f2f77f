/*
 * options.h - the command line as a table, and what was typed.
 */
#ifndef CLI_OPTIONS_H
#define CLI_OPTIONS_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>

struct options {
	const char *command;
	const char *const *operands;
	size_t n_operands;
	const char *output;
	const char *clinic;
	const char *by;
	const char *from;
	const char *diluent;
	const char *displacement;
	const char *concentration;
	const char *syringe;
	const char *compare;
	bool json;
	bool blind;
	bool mono;
	bool quiet;
	bool help;
	bool version;
};

/* False, with what is wrong in `why`, when the line cannot be understood. */
bool options_read(struct arena *arena, int argc, char **argv, struct options *options, const char **why);

/* The text of --help. */
const char *options_usage(void);

#endif
