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

size_t amounts_of_sheet(const struct build *build, const struct variant *variant)
{
	size_t n = 0;
	for (size_t i = 0; i < build->n_variants; i++)
		n += build->variants[i].sheet == variant->sheet && is_whole_dose(build, &build->variants[i]);
	return n;
}

/* A line with its window stands right above the steps; else the place comes first, since nothing is drawn before. */
static bool line_has_window(const struct variant *variant)
{
	return !variant->draw->mark.all && variant->draw->mark.line == LINE_DRAW;
}

size_t place_picture(const struct build *build, const struct variant *variant)
{
	const struct draw *draw = variant->draw;
	if (draw->measure == MEASURE_DIAL)
		return amounts_of_sheet(build, variant);
	if (draw->measure != MEASURE_SYRINGE || draw->mark.syringe == NULL)
		return 0;
	if (draw->has_add)
		return draw->mark.all ? 1 : 2;
	return line_has_window(variant) ? 2 : 0;
}

size_t line_picture(struct build *build, const struct variant *variant)
{
	const struct todays_place *place = todays_place_of(build, variant);
	if (variant->draw->has_add)
		return 1;
	return !line_has_window(variant) && place != NULL && place->letter != NULL ? 1 : 0;
}

const char *picture_alt(struct build *build, const char *letter, const char *closer, const char *text)
{
	struct value values[] = {{"letter", letter}, {"closer", closer}, {"text", text}};
	if (letter == NULL)
		return text;
	return closer == NULL ? say(build->speaker, "picture.alt", values, 3)
	                      : say(build->speaker, "picture.alt_closer", values, 3);
}
