#include "support/pseudo_clinic.h"

#include "support/cases.h"
#include "support/shell.h"

#include <ctype.h>
#include <glob.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

/* Codes of real languages, whose plural forms are English's and whose direction is right. */
static const char *const codes[] = {[PSEUDO_LONG] = "sv", [PSEUDO_RIGHT_TO_LEFT] = "ar"};

/* Every letter has another sign: none that a plain word has stays. */
static const char *const accented_small[26] = {"å", "ƀ", "ç", "đ", "ë", "f", "ğ", "ĥ", "î", "ĵ", "ķ", "ł", "ɱ",
                                               "ñ", "ö", "ƥ", "q", "ř", "š", "ť", "ü", "v", "ŵ", "x", "ý", "ž"};
static const char *const accented_large[26] = {"Å", "B", "Ç", "Đ", "Ë", "F", "Ğ", "Ĥ", "Î", "Ĵ", "Ķ", "Ł", "M",
                                               "Ñ", "Ö", "P", "Q", "Ř", "Š", "Ť", "Ü", "V", "Ŵ", "X", "Ý", "Ž"};
static const char *const arabic[26] = {"ا", "ب", "ت", "ث", "ج", "ح", "خ", "د", "ذ", "ر", "ز", "س", "ش",
                                       "ص", "ض", "ط", "ظ", "ع", "غ", "ف", "ق", "ك", "ل", "م", "ن", "ه"};

static const char *letter_in(enum pseudo_language language, char letter)
{
	bool large = isupper((unsigned char)letter);
	int index = large ? letter - 'A' : letter - 'a';
	if (language == PSEUDO_RIGHT_TO_LEFT)
		return arabic[index];
	return large ? accented_large[index] : accented_small[index];
}

/* What stays as it is: a {place}, an \u escape, a doubled star. 0: nothing does here. */
static size_t kept_length(const char *text)
{
	const char *close = *text == '{' ? strchr(text, '}') : NULL;
	if (close != NULL)
		return (size_t)(close - text) + 1;
	if (*text == '\\')
		return text[1] == 'u' ? 6 : 2;
	return 0;
}

const char *pseudo_text(struct arena *arena, enum pseudo_language language, const char *english)
{
	const char *made = "";
	int letters = 0;
	for (const char *c = english; *c != '\0';) {
		size_t kept = kept_length(c);
		bool letter = kept == 0 && isalpha((unsigned char)*c);
		if (letter) {
			letters++;
			made = arena_printf(arena, "%s%s", made, letter_in(language, *c));
		} else {
			made = arena_printf(arena, "%s%.*s", made, (int)(kept > 0 ? kept : 1), c);
		}
		c += kept > 0 ? kept : 1;
		bool ends = letter && !(isalpha((unsigned char)*c) && kept_length(c) == 0);
		for (int i = 0; ends && language == PSEUDO_LONG && i < (letters * 2 + 2) / 5; i++)
			made = arena_printf(arena, "%s%s", made, "ö");
		letters = ends ? 0 : letters;
	}
	return made;
}

/* ---- files ---- */

static const char *file_text(struct arena *arena, const char *path)
{
	struct file_content file = read_file(arena, path);
	return arena_strndup(arena, (const char *)file.bytes, file.n);
}

static void write_lines(struct arena *arena, const char *path, const char *text)
{
	const char *slash = strrchr(path, '/');
	shell(arena, "mkdir -p '%.*s'", (int)(slash - path), path);
	write_file(path, text, strlen(text));
}

/* Everything between `from` and its closing quote, in the language. */
static const char *turned_until_quote(struct arena *arena, enum pseudo_language language, const char *from,
                                      size_t *length)
{
	*length = 0;
	while (from[*length] != '"')
		*length += from[*length] == '\\' ? 2 : 1;
	return pseudo_text(arena, language, arena_strndup(arena, from, *length));
}

/* ---- words ---- */

/* Dates in figures with words of no language around them, as long as words of that language would be. */
static const char *date_pattern(enum pseudo_language language, const char *key)
{
	static const struct {
		const char *key;
		const char *patterns[2];
	} rows[] = {
		{"date.weekday.short:", {"'Ŵëđ'e", "'غذ'e"}},
		{"date.weekday:", {"'Ŵëđñëšđåýöö'e", "'غذعصخد'e"}},
		{"date.weekday_day:", {"'Ŵëđñëšđåýöö'e d", "'غذعصخد'e d"}},
		{"date.day_month:", {"d 'Jüñö'", "d 'رقصج'"}},
		{"date.short:", {"'Ŵëđ'e d 'Jüñö'", "'غذ'e d 'رقصج'"}},
		{"date.long:", {"'Ŵëđñëšđåýöö'e d 'Jüñëöö'", "'غذعصخد'e d 'رقصجمبر'"}},
		{"date.short_year:", {"'Ŵëđ'e d 'Jüñö' y", "'غذ'e d 'رقصج' y"}},
		{"date.born:", {"d 'Jüñö' y", "d 'رقصج' y"}},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (strncmp(key, rows[i].key, strlen(rows[i].key)) == 0)
			return rows[i].patterns[language];
	fail_msg("no pattern for '%s'", key);
	return NULL;
}

static const char *turned_line(struct arena *arena, enum pseudo_language language, const char *line)
{
	const char *made = "";
	if (strncmp(line, "language:", 9) == 0)
		return arena_printf(arena, "language: %s", codes[language]);
	if (strncmp(line, "  ", 2) != 0 || line[2] == '#')
		return line;
	if (strncmp(line + 2, "date.", 5) == 0)
		return arena_printf(arena, "%.*s \"%s\"", (int)strcspn(line, " ") + (int)strcspn(line + 2, " ") + 2,
		                    line, date_pattern(language, line + 2));
	for (const char *quote; (quote = strchr(line, '"')) != NULL;) {
		size_t length;
		const char *text = turned_until_quote(arena, language, quote + 1, &length);
		made = arena_printf(arena, "%s%.*s\"%s\"", made, (int)(quote - line), line, text);
		line = quote + length + 2;
	}
	return arena_printf(arena, "%s%s", made, line);
}

static void write_words(struct arena *arena, enum pseudo_language language, const char *folder)
{
	const char *english = file_text(arena, "templates/words/en.yaml");
	const char *path = arena_printf(arena, "%s/words/%s.yaml", folder, codes[language]);
	shell(arena, "mkdir -p '%s/words'", folder);
	FILE *file = fopen(path, "wb");
	assert_non_null(file);
	while (*english != '\0') {
		size_t length = strcspn(english, "\n");
		const char *line = arena_strndup(arena, english, length);
		fprintf(file, "%s\n", turned_line(arena, language, line));
		english += length + (english[length] == '\n');
	}
	assert_int_equal(fclose(file), 0);
}

/* ---- the clinic's own texts ---- */

/* Each {en: "..."} gets the language beside it, in the place of what other ones it has. */
static const char *with_texts(struct arena *arena, enum pseudo_language language, const char *yaml)
{
	static const char begin[] = "{en: \"";
	const char *made = "";
	for (const char *at; (at = strstr(yaml, begin)) != NULL;) {
		size_t length;
		const char *english = at + strlen(begin);
		const char *text = turned_until_quote(arena, language, english, &length);
		const char *end = strchr(english + length, '}');
		assert_non_null(end);
		made = arena_printf(arena, "%s%.*s%.*s\", %s: \"%s\"}", made, (int)(at - yaml), yaml,
		                    (int)(strlen(begin) + length), at, codes[language], text);
		yaml = end + 1;
	}
	return arena_printf(arena, "%s%s", made, yaml);
}

static void copy_file(struct arena *arena, enum pseudo_language language, const char *folder, const char *path)
{
	const char *to = arena_printf(arena, "%s/%s", folder, path + strlen("samples/"));
	write_lines(arena, to, with_texts(arena, language, file_text(arena, path)));
	shell(arena, "sed -i 's/^languages: .*/languages: [%s, en]/; s/^language: .*/language: %s/' '%s'",
	      codes[language], codes[language], to);
}

const char *pseudo_clinic(struct arena *arena, enum pseudo_language language)
{
	static const char *const sources[] = {"samples/*.yaml", "samples/protocols/*.yaml", "samples/plans/*.yaml"};
	const char *folder = scratch_folder(arena);
	write_words(arena, language, folder);
	for (size_t i = 0; i < sizeof sources / sizeof *sources; i++) {
		glob_t found;
		assert_int_equal(glob(sources[i], 0, NULL, &found), 0);
		for (size_t j = 0; j < found.gl_pathc; j++)
			copy_file(arena, language, folder, found.gl_pathv[j]);
		globfree(&found);
	}
	return folder;
}
