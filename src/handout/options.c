/*
 * options.c - the amounts that a call may set, each with its own line: a change by phone needs no printer.
 *
 * Each comes from the draw that was computed for it. Nothing is written by hand:
 * an amount that is not listed is a reason to stop.
 */
#include "handout/build.h"

#include <string.h>

/* In words that run from the right a number stands in an isolate. */
static const char *behind_isolates(const char *text)
{
	static const char *const signs[] = {"\u200E", "\u2066", "\u2068", "\u2069"};
	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
		if (strncmp(text, signs[i], strlen(signs[i])) == 0)
			return behind_isolates(text + strlen(signs[i]));
	return text;
}

/* The number alone and the unit below it, where it begins with one: "187.5", "units". */
static void split_amount(struct build *build, struct quantity amount, struct option_row *row)
{
	const char *number = say_number(build->speaker, amount.number);
	size_t length = strlen(number);
	static const char no_break_space[] = "\u00a0";
	row->plain = say_amount(build->speaker, amount);
	row->number = row->plain;
	const char *begin = behind_isolates(row->plain);
	if (strncmp(begin, number, length) != 0)
		return;
	const char *space = behind_isolates(begin + length);
	if (strncmp(space, no_break_space, sizeof no_break_space - 1) != 0)
		return;
	row->number = number;
	row->unit = space + sizeof no_break_space - 1;
}

static const char *line_words(struct build *build, const struct draw *draw, struct mark_words mark)
{
	struct speaker *speaker = build->speaker;
	if (draw->measure == MEASURE_COUNT)
		return NULL;
	if (draw->measure == MEASURE_DIAL)
		return say1(speaker, "line.dial_text", "mark", mark.number);
	if (draw->mark.all)
		return say0(speaker, "line.all_text");
	return say_line_place(speaker, &draw->mark);
}

static struct option_row row_of(struct build *build, const struct item *item, const struct dose_option *option,
                                size_t index)
{
	const struct draw *draw = &option->draws[index];
	const struct variant *variant = variant_of_draw(build, item, draw);
	struct option_row row = {.first = index == 0,
	                         .draw = draw,
	                         .mark = say_mark(build->speaker, draw),
	                         .how = variant == NULL ? -1 : variant->section};
	split_amount(build, option->amount, &row);
	row.line = line_words(build, draw, row.mark);
	row.alt = say2(build->speaker, "options.alt", "amount", row.plain, "mark",
	               row.mark.number == NULL ? say_amount(build->speaker, draw->count)
	                                       : mark_words_plain(build->arena, row.mark));
	return row;
}

static const struct dose *first_with_options(const struct item_run *run)
{
	for (size_t i = 0; i < run->n_doses; i++)
		if (run->doses[i].n_options > 0)
			return &run->doses[i];
	return NULL;
}

static bool same_amount_listed(const struct option_row *rows, size_t n, const char *plain)
{
	for (size_t i = 0; i < n; i++)
		if (strcmp(rows[i].plain, plain) == 0)
			return true;
	return false;
}

static bool one_syringe(const struct options_sheet *sheet)
{
	for (size_t i = 1; i < sheet->n_rows; i++)
		if (sheet->rows[i].draw->measure != sheet->rows[0].draw->measure ||
		    sheet->rows[i].draw->mark.syringe != sheet->rows[0].draw->mark.syringe)
			return false;
	return true;
}

/* Every amount of every step once: a later step may list others. */
static void fill_rows(struct build *build, const struct item_run *run, struct options_sheet *sheet)
{
	struct option_row *rows = NULL;
	for (size_t i = 0; i < run->n_doses; i++) {
		const struct dose *dose = &run->doses[i];
		for (size_t j = 0; j < dose->n_options; j++) {
			const struct dose_option *option = &dose->options[j];
			if (same_amount_listed(rows, sheet->n_rows, say_amount(build->speaker, option->amount)))
				continue;
			for (size_t k = 0; k < option->n_draws; k++) {
				rows = arena_more(build->arena, rows, sheet->n_rows, sizeof *rows);
				rows[sheet->n_rows++] = row_of(build, run->item, option, k);
			}
		}
	}
	sheet->rows = rows;
	if (one_syringe(sheet))
		return;
	for (size_t i = 0; i < sheet->n_rows; i++)
		if (rows[i].draw->measure == MEASURE_SYRINGE && rows[i].draw->mark.syringe != NULL)
			rows[i].line = say2(build->speaker, "options.line_on", "line", rows[i].line, "syringe",
			                    say_syringe(build->speaker, rows[i].draw->mark.syringe));
}

/* Names the syringe; where the rows have different ones each of them names its own. */
static const char *line_head(struct build *build, const struct options_sheet *sheet)
{
	struct speaker *speaker = build->speaker;
	const struct draw *draw = sheet->rows[0].draw;
	if (!one_syringe(sheet))
		return say0(speaker, "options.any_head");
	if (draw->measure != MEASURE_SYRINGE || draw->mark.syringe == NULL)
		return say0(speaker, draw->measure == MEASURE_DIAL ? "options.dial_head" : "options.all_head");
	return say1(speaker, draw->mark.syringe->measured ? "options.line_head" : "options.line_head_unmeasured",
	            "syringe", say_syringe(speaker, draw->mark.syringe));
}

const struct options_sheet *options_sheet_of(struct build *build, const struct item_run *run)
{
	struct speaker *speaker = build->speaker;
	struct options_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	const struct dose *dose = first_with_options(run);
	const char *name = run->item->medicine->name;
	fill_rows(build, run, sheet);
	bool dial = sheet->n_rows > 0 && sheet->rows[0].draw->measure == MEASURE_DIAL;
	sheet->title = say1(speaker, dial ? "options.title_dial" : "options.title", "name", name);
	sheet->lead = say0(speaker, "options.lead");
	sheet->said_head = say0(speaker, "options.said");
	sheet->line_head = sheet->n_rows == 0 ? "" : line_head(build, sheet);
	if (sheet->n_rows > 0) {
		const char *box = box_words(build, sheet->rows[0].draw->product);
		if (box[0] != '\0')
			sheet->box_line = say1(speaker, "options.box", "box", box);
	}
	sheet->changed_heading = say0(speaker, "options.changed");
	sheet->changed_note = say0(speaker, "options.last_counts");
	sheet->from_head = say0(speaker, "options.from");
	sheet->amount_head = say0(speaker, "options.amount");
	sheet->who_head = say0(speaker, "options.who");
	sheet->read_head = say0(speaker, "notes.read_back");
	sheet->other_line = say1(speaker, "options.other", "page", PAGE_HERE);
	sheet->caution_word = say0(speaker, "caution.word");
	sheet->caution = say0(speaker, run->open ? "options.caution_open" : "options.caution");
	if (dose->step != NULL && dose->step->call.n > 0) {
		struct value values[] = {
			{"when", say_text(speaker, dose->step->call, "the call's words")},
			{"day", dose->open ? "" : say_number(speaker, rational_of(course_day(build, dose->date), 1))}};
		sheet->lead = say(speaker, dose->open ? "options.lead_when" : "options.lead_from", values, 2);
	}
	return sheet;
}
