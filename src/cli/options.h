/*
 * options.h - the command line as a table, and what was typed.
 */
#ifndef CLI_OPTIONS_H
#define CLI_OPTIONS_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>

/* What one option was given, again and again. */
struct text_list {
	const char *const *list;
	size_t n;
};

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
	const char *language; /* in place of the plan's; so are paper and large print */
	const char *paper;
	struct text_list only;
	const char *map;
	const char *out;
	const char *jobs;
	const char *as_of;
	const char *previous;
	const char *shard;
	const char *name_by;
	bool print_run;
	bool resume;
	bool no_register;
	bool explain_map;
	bool json;
	bool blind;
	bool mono;
	bool large_print;
	bool quiet;
	bool help;
	bool version;
};

/* False, with what is wrong in `why`, when the line cannot be understood. */
bool options_read(struct arena *arena, int argc, char **argv, struct options *options, const char **why);

/* The text of --help. */
const char *options_usage(void);

#endif
