/*
 * pictures.c - the letters of a sheet's pictures, by which its steps cite them, and what is said of those pictures.
 */
#include "handout/build.h"

#include <string.h>

/* Letters stand in the wording in their order, with a space between; pictures beyond the last have none. */
const char *picture_letter(struct build *build, size_t index)
{
	const char *letters = say0(build->speaker, "picture.letters");
	for (; index > 0 && *letters != '\0'; index--) {
		letters += strcspn(letters, " ");
		letters += strspn(letters, " ");
	}
	return *letters == '\0' ? NULL : arena_strndup(build->arena, letters, strcspn(letters, " "));
}

const char *pictures_cited(struct build *build, size_t n)
{
	const char *first = picture_letter(build, 0);
	const char *last = n == 0 ? NULL : picture_letter(build, n - 1);
	if (n < 2 || last == NULL)
		return first;
	return say2(build->speaker, n == 2 ? "list.or" : "picture.range", "first", first, "last", last);
}

const char *picture_alt(struct build *build, const char *letter, const char *closer, const char *text)
{
	struct value values[] = {{"letter", letter}, {"closer", closer}, {"text", text}};
	if (letter == NULL)
		return text;
	return closer == NULL ? say(build->speaker, "picture.alt", values, 3)
	                      : say(build->speaker, "picture.alt_closer", values, 3);
}
