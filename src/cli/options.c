#include "cli/options.h"

#include <string.h>

/* An option takes a text or sets a flag; the commands are those that know it. To add one, add a row. */
static const struct row {
	const char *name;
	size_t text;          /* where the text goes; 0: a flag */
	size_t flag;          /* with a text: that is a list, and each text joins it */
	const char *commands; /* separated by spaces; "*" for all */
} rows[] = {
	{"-o", offsetof(struct options, output), 0, "packet replace draw workings"},
	{"--clinic", offsetof(struct options, clinic), 0, "*"},
	{"--by", offsetof(struct options, by), 0, "sign"},
	{"--from", offsetof(struct options, from), 0, "draw"},
	{"--diluent", offsetof(struct options, diluent), 0, "draw"},
	{"--displacement", offsetof(struct options, displacement), 0, "draw"},
	{"--concentration", offsetof(struct options, concentration), 0, "draw"},
	{"--syringe", offsetof(struct options, syringe), 0, "draw"},
	{"--compare", offsetof(struct options, compare), 0, "workings"},
	{"--blind", 0, offsetof(struct options, blind), "workings"},
	{"--map", offsetof(struct options, map), 0, "batch"},
	{"--out", offsetof(struct options, out), 0, "batch"},
	{"--jobs", offsetof(struct options, jobs), 0, "batch"},
	{"--as-of", offsetof(struct options, as_of), 0, "batch"},
	{"--previous", offsetof(struct options, previous), 0, "batch"},
	{"--shard", offsetof(struct options, shard), 0, "batch"},
	{"--name-by", offsetof(struct options, name_by), 0, "batch"},
	{"--print-run", 0, offsetof(struct options, print_run), "batch"},
	{"--resume", 0, offsetof(struct options, resume), "batch"},
	{"--no-register", 0, offsetof(struct options, no_register), "batch"},
	{"--explain-map", 0, offsetof(struct options, explain_map), "batch"},
	{"--json", 0, offsetof(struct options, json), "workings draw"},
	{"--only", offsetof(struct options, only), offsetof(struct options, only), "replace"},
	{"--language", offsetof(struct options, language), 0, "replace"},
	{"--paper", offsetof(struct options, paper), 0, "replace"},
	{"--large-print", 0, offsetof(struct options, large_print), "replace"},
	{"--mono", 0, offsetof(struct options, mono), "packet replace batch"},
	{"--quiet", 0, offsetof(struct options, quiet), "*"},
	{"--help", 0, offsetof(struct options, help), "*"},
	{"--version", 0, offsetof(struct options, version), "*"},
};

static const char *const commands[] = {"check", "packet", "replace", "batch", "workings", "draw", "sign"};

static bool known_command(const char *name)
{
	for (size_t i = 0; i < sizeof commands / sizeof *commands; i++)
		if (strcmp(commands[i], name) == 0)
			return true;
	return false;
}

static bool belongs(const struct row *row, const char *command)
{
	if (*row->commands == '*' || command == NULL)
		return true;
	const char *found = strstr(row->commands, command);
	return found != NULL;
}

static const struct row *row_named(const char *name)
{
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (strcmp(rows[i].name, name) == 0)
			return &rows[i];
	return NULL;
}

static const char *unknown_option(struct arena *arena, const char *name, const char *command)
{
	return arena_printf(arena, "there is no option '%s'%s%s; see 'fillmark --help'", name,
	                    command == NULL ? "" : " for ", command == NULL ? "" : command);
}

static void join(struct arena *arena, struct text_list *texts, const char *text)
{
	const char **list = arena_alloc(arena, (texts->n + 1) * sizeof *list);
	for (size_t i = 0; i < texts->n; i++)
		list[i] = texts->list[i];
	list[texts->n++] = text;
	texts->list = list;
}

static bool take_option(struct arena *arena, struct options *options, char **argv, int argc, int *index,
                        const struct row **taken, const char **why)
{
	const char *name = argv[*index];
	const struct row *row = row_named(name);
	*taken = row;
	if (row == NULL) {
		*why = unknown_option(arena, name, options->command);
		return false;
	}
	if (row->text == 0) {
		*(bool *)((char *)options + row->flag) = true;
		return true;
	}
	if (*index + 1 >= argc) {
		*why = arena_printf(arena, "'%s' needs a value after it", name);
		return false;
	}
	if (row->flag != 0)
		join(arena, (void *)((char *)options + row->text), argv[++*index]);
	else
		*(const char **)(void *)((char *)options + row->text) = argv[++*index];
	return true;
}

bool options_read(struct arena *arena, int argc, char **argv, struct options *options, const char **why)
{
	const char **operands = arena_alloc(arena, ((size_t)argc + 1) * sizeof *operands);
	const struct row **taken = arena_alloc(arena, ((size_t)argc + 1) * sizeof *taken);
	size_t n_taken = 0;
	*options = (struct options){.operands = operands};
	for (int i = 1; i < argc; i++) {
		if (argv[i][0] == '-' && argv[i][1] != '\0') {
			if (!take_option(arena, options, argv, argc, &i, &taken[n_taken++], why))
				return false;
		} else if (options->command == NULL) {
			options->command = argv[i];
			if (!known_command(argv[i])) {
				*why = arena_printf(arena, "there is no command '%s'; see 'fillmark --help'", argv[i]);
				return false;
			}
		} else {
			operands[options->n_operands++] = argv[i];
		}
	}
	/* Options may stand before the command, so whose they are is known only now. */
	for (size_t i = 0; i < n_taken; i++)
		if (!belongs(taken[i], options->command)) {
			*why = unknown_option(arena, taken[i]->name, options->command);
			return false;
		}
	if (options->command == NULL && !options->help && !options->version) {
		*why = "say what to do; see 'fillmark --help'";
		return false;
	}
	return true;
}

const char *options_usage(void)
{
	return "usage: fillmark check    PATH...\n"
	       "       fillmark packet   PLAN [-o FILE.pdf] [--mono]\n"
	       "       fillmark replace  PLAN [--only ITEM]... [--large-print] [--language xx] [--paper letter|a4] "
	       "[--mono]\n"
	       "                         [-o FILE.pdf]\n"
	       "       fillmark batch    INTAKE --map FILE --out DIR [--jobs N] [--as-of DATE] [--previous DIR]\n"
	       "                         [--print-run] [--resume] [--shard I/N] [--name-by code] [--mono] "
	       "[--no-register]\n"
	       "       fillmark batch    --explain-map INTAKE --map FILE [--as-of DATE]\n"
	       "       fillmark workings PLAN [--json | --blind -o FILE.pdf | --compare ANSWERS.csv]\n"
	       "       fillmark draw     DOSE --from STRENGTH[/VOLUME] [--diluent VOLUME] [--displacement VOLUME]\n"
	       "                         [--concentration AMOUNT/mL] [--syringe ID | CAPACITY:STEP] [--json]\n"
	       "                         [-o FILE.pdf|.svg|.png]\n"
	       "       fillmark sign     CLINIC|PLAN [ID] --by WHO\n"
	       "common: --clinic DIR  --quiet  --help  --version\n"
	       "exit:   0 all was made, 1 something was refused, 2 the command line is wrong, 3 the system failed\n";
}
