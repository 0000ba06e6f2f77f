/*
 * amounts.c - amounts, marks and lines as they are said on a sheet.
 *
 * The grammar of the fill mark: a solid tag goes into the patient, an open one
 * is preparation. On a syringe scaled in units the word 'line' stands before
 * the number and 'units' never follows it, because there a bare number of units
 * is read as the dose.
 */
#include "words/words.h"

#include "words/speaker.h"

#include <string.h>

/* A number that does not end is printed after this word, which is English: it is said in the sheet's language. */
static const char *say_about(struct speaker *speaker, const char *printed)
{
	static const char about[] = "about ";
	size_t length = strlen(about);
	return strncmp(printed, about, length) == 0 ? say1(speaker, "amount.about", "n", printed + length) : printed;
}

const char *say_number(struct speaker *speaker, struct rational number)
{
	return say_about(speaker, number_print(speaker->arena, number, speaker->clinic->mark));
}

static bool is_half_over(struct rational number, int64_t *whole)
{
	*whole = rational_floor(number);
	struct rational rest;
	return rational_subtract(number, rational_of(*whole, 1), &rest) &&
	       rational_compare(rest, rational_of(1, 2)) == 0;
}

/* No line may end between a number and its unit: the space after it does not break, whatever the words say. */
static const char *say_with_unit(struct speaker *speaker, const char *key, struct rational number)
{
	const char *digits = say_number(speaker, number);
	struct value value = {"n", digits};
	const char *words = say_plural(speaker, key, (double)number.numerator / (double)number.denominator, &value, 1);
	const char *at = strstr(words, digits);
	const char *after = at == NULL ? "" : at + strlen(digits);
	if (strncmp(after, ISOLATE_END, strlen(ISOLATE_END)) == 0)
		after += strlen(ISOLATE_END);
	if (*after != ' ')
		return words;
	return arena_printf(speaker->arena, "%.*s\u00a0%s", (int)(after - words), words, after + 1);
}

static const char *say_counted(struct speaker *speaker, struct quantity amount)
{
	struct arena *arena = speaker->arena;
	const char *form = unit_name(amount.unit, true);
	int64_t whole;
	if (is_half_over(amount.number, &whole)) {
		const char *key = arena_printf(arena, whole == 0 ? "amount.%s.half" : "amount.%s.and_half", form);
		return say_count(speaker, key, whole, NO_VALUES);
	}
	return say_with_unit(speaker, arena_printf(arena, "amount.%s", form), amount.number);
}

const char *say_amount(struct speaker *speaker, struct quantity amount)
{
	if (unit_dimension(amount.unit) == DIMENSION_COUNT)
		return say_counted(speaker, amount);
	if (amount.unit == UNIT_UNITS)
		return say_with_unit(speaker, "amount.units", amount.number);
	if (amount.unit == UNIT_SYRINGE_UNIT)
		return say_with_unit(speaker, "amount.syringe_units", amount.number);
	if (amount.unit == UNIT_DAY)
		return say_with_unit(speaker, "amount.day", amount.number);
	if (amount.unit == UNIT_WEEK)
		return say_with_unit(speaker, "amount.week", amount.number);
	return say_about(speaker, quantity_print(speaker->arena, amount, speaker->clinic->mark));
}

struct mark_words say_line(struct speaker *speaker, const struct mark *mark)
{
	if (mark->all)
		return (struct mark_words){.number = say0(speaker, "mark.all")};
	struct mark_words words = {.number = say_number(speaker, mark->number)};
	bool unit_scale = mark->syringe != NULL && mark->syringe->unit_scale;
	if (!unit_scale)
		words.unit = "mL";
	switch (mark->line) {
	case LINE_DRAW:
		words.before = unit_scale ? say0(speaker, "mark.line") : NULL;
		break;
	case LINE_ADD:
		words.before = say0(speaker, "mark.add");
		words.open = true;
		break;
	case LINE_PUSH_OUT:
		words.before = say0(speaker, "mark.push_out");
		words.open = true;
		break;
	case LINE_STOP:
		words.before = say0(speaker, "mark.stop");
		break;
	}
	return words;
}

struct mark_words say_mark(struct speaker *speaker, const struct draw *draw)
{
	switch (draw->measure) {
	case MEASURE_SYRINGE:
		return say_line(speaker, &draw->mark);
	case MEASURE_DIAL:
		return (struct mark_words){.before = say0(speaker, "mark.dial"),
		                           .number = say_number(speaker, draw->dial.number)};
	case MEASURE_COUNT:
		break;
	}
	return (struct mark_words){.number = NULL};
}

const char *mark_words_plain(struct arena *arena, struct mark_words words)
{
	if (words.number == NULL)
		return "";
	return arena_printf(arena, "%s%s%s%s%s", words.before == NULL ? "" : words.before,
	                    words.before == NULL ? "" : "\u00a0", words.number, words.unit == NULL ? "" : "\u00a0",
	                    words.unit == NULL ? "" : words.unit);
}

/* A clinic's own name may say the strength already. */
static const char *say_with_strength(struct speaker *speaker, const struct syringe *syringe, const char *name)
{
	const char *strength = say_number(speaker, syringe->units_per_ml);
	if (!syringe->unit_scale || strstr(name, arena_printf(speaker->arena, "U-%s", strength)) != NULL)
		return name;
	return say2(speaker, "syringe.of_strength", "strength", strength, "name", name);
}

const char *say_syringe(struct speaker *speaker, const struct syringe *syringe)
{
	return say_with_strength(speaker, syringe, say_text(speaker, syringe->name, "the syringe's name"));
}

const char *say_scale(struct speaker *speaker, const struct syringe *syringe)
{
	return say_with_strength(speaker, syringe, say_text(speaker, syringe->scale_name, "the syringe's scale"));
}

const char *say_numeral(struct speaker *speaker, const struct syringe *syringe, int64_t index)
{
	if (index >= 0 && (size_t)index < syringe->n_numerals)
		return syringe->numerals[index];
	struct rational volume;
	struct rational number;
	if (!rational_multiply(syringe->numbered_every, rational_of(index, 1), &volume) ||
	    !syringe_scale_number(syringe, volume, &number))
		return "";
	return say_number(speaker, number);
}

const char *say_line_place(struct speaker *speaker, const struct mark *mark)
{
	const struct syringe *syringe = mark->syringe;
	int64_t numbered;
	if (rational_in_steps(mark->at, syringe->numbered_every, &numbered))
		return say1(speaker, "line.numbered", "number", say_numeral(speaker, syringe, numbered));

	struct rational numbers;
	struct rational below;
	struct rational over;
	int64_t small;
	if (!rational_divide(mark->at, syringe->numbered_every, &numbers) ||
	    !rational_multiply(syringe->numbered_every, rational_of(rational_floor(numbers), 1), &below) ||
	    !rational_subtract(mark->at, below, &over) || !rational_in_steps(over, syringe->step, &small))
		return "";
	return say2(speaker, "line.small", "count", say_number(speaker, rational_of(small, 1)), "number",
	            say_numeral(speaker, syringe, rational_floor(numbers)));
}
