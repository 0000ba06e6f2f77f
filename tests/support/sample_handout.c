#include "support/sample_handout.h"

#include "support/sample_words.h"
#include "text/text.h"

#include <string.h>

#define COLUMNS_MOST 24
#define DAYS_MOST 40
#define GRID_SECTION 1

/* One line of medicine. Days count from 1; 0 in a `from` means: never. */
struct line {
	const char *name;
	const char *purpose;
	enum pictogram picture;
	const char *device;
	struct clock_time time;
	int first;
	int last;
	int every;
	const char *amount;
	struct mark_words mark;
	const char *below;
	int halves_to; /* days first to halves_to are pairs of halves */
	const char *half_amount;
	struct mark_words half_mark;
	int new_from;
	const char *new_amount;
	struct mark_words new_mark;
	int wait_from;  /* write-ins from here to `last` */
	int early_day;  /* on this day at 07:00 */
	int second_day; /* on this day in two injections */
	struct mark_words second_mark;
	bool exact;
	bool night; /* after midnight */
	bool open;
	const char *instead;
};

struct script {
	int days;
	int done_before; /* day */
	int visits[4];   /* days */
	struct line lines[COLUMNS_MOST];
};

static const struct script short_script = {
	.days = 13,
	.visits = {8, 10, 13},
	.lines =
		{
			{.name = "Sampletide",
                         .purpose = "keeps everything from starting early",
                         .picture = PICTURE_LIQUID_VIAL,
                         .device = "insulin syringe",
                         .time = {8, 0},
                         .first = 1,
                         .last = 10,
                         .amount = "20 units",
                         .mark = {.before = "line", .number = "20"}},
			{.name = "Mockuline",
                         .purpose = "thins the blood a little",
                         .picture = PICTURE_FILLED_SYRINGE,
                         .device = "filled syringe",
                         .time = {8, 0},
                         .first = 5,
                         .last = 10,
                         .amount = "0.25 mg",
                         .mark = {.number = "all"}},
			{.name = "Examplin",
                         .purpose = "helps the small cells grow",
                         .picture = PICTURE_POWDER_VIAL,
                         .device = "kit syringe",
                         .time = {20, 0},
                         .first = 1,
                         .last = 10,
                         .amount = "125 mcg",
                         .halves_to = 6,
                         .half_amount = "125 mcg",
                         .half_mark = {.number = "0.5", .unit = "mL"},
                         .new_from = 7,
                         .new_amount = "250 mcg",
                         .new_mark = {.number = "1", .unit = "mL"}},
			{
				.name = "Placebix",
				.purpose = "wakes the body up gently",
				.picture = PICTURE_PEN,
				.device = "pen",
				.time = {20, 0},
				.first = 1,
				.last = 10,
				.amount = "150 units",
				.mark = {.before = "dial", .number = "150"},
				.new_from = 6,
				.new_amount = "175 units",
				.new_mark = {.before = "dial", .number = "175"},
			},
			{.name = "Nonsensol",
                         .purpose = "makes you ready for later",
                         .picture = PICTURE_TABLET,
                         .device = "by mouth",
                         .time = {21, 30},
                         .first = 1,
                         .last = 10,
                         .amount = "1 tablet",
                         .below = "swallow"},
			{.name = "Fictivane",
                         .purpose = "starts the last step, once",
                         .picture = PICTURE_AMPOULE,
                         .device = "3 mL syringe",
                         .time = {22, 30},
                         .first = 11,
                         .last = 11,
                         .amount = "5,000 units",
                         .mark = {.number = "1.5", .unit = "mL"},
                         .exact = true},
			{.name = "Vacuprine",
                         .purpose = "only when the clinic calls",
                         .picture = PICTURE_POWDER_VIAL,
                         .device = "kit syringe",
                         .time = {20, 0},
                         .open = true,
                         .amount = "150 units",
                         .instead = "day not known yet"},
		},
};

static const struct script long_script = {
	.days = 28,
	.done_before = 3,
	.visits = {8, 17, 28},
	.lines =
		{
			{.name = "Sampletide",
                         .purpose = "keeps things from starting early",
                         .picture = PICTURE_LIQUID_VIAL,
                         .device = "insulin syringe",
                         .time = {8, 0},
                         .first = 1,
                         .last = 14,
                         .amount = "20 units",
                         .mark = {.before = "line", .number = "20"},
                         .early_day = 8},
			{.name = "Mockuline",
                         .purpose = "thins the blood a little",
                         .picture = PICTURE_FILLED_SYRINGE,
                         .device = "filled syringe",
                         .time = {8, 0},
                         .first = 5,
                         .last = 28,
                         .amount = "0.25 mg",
                         .mark = {.number = "all"}},
			{.name = "Notarealin",
                         .purpose = "every third day",
                         .picture = PICTURE_PATCH,
                         .device = "on the skin",
                         .time = {8, 0},
                         .first = 1,
                         .last = 28,
                         .every = 3,
                         .amount = "1 patch",
                         .below = "stick on"},
			{.name = "Blankorel",
                         .purpose = "vitamin",
                         .picture = PICTURE_TABLET,
                         .device = "by mouth",
                         .time = {8, 0},
                         .first = 1,
                         .last = 28,
                         .amount = "2 tablets",
                         .below = "swallow"},
			{.name = "Insertine",
                         .purpose = "softens, twice a day",
                         .picture = PICTURE_INSERT,
                         .device = "vaginal",
                         .time = {8, 0},
                         .first = 17,
                         .last = 28,
                         .amount = "1 insert",
                         .below = "put in"},
			{.name = "Examplin",
                         .purpose = "helps the small cells grow",
                         .picture = PICTURE_POWDER_VIAL,
                         .device = "kit syringe",
                         .time = {20, 0},
                         .first = 1,
                         .last = 14,
                         .halves_to = 8,
                         .half_amount = "125 mcg",
                         .half_mark = {.number = "0.5", .unit = "mL"},
                         .new_from = 9,
                         .new_amount = "250 mcg",
                         .new_mark = {.number = "1", .unit = "mL"}},
			{.name = "Placebix",
                         .purpose = "wakes the body up gently",
                         .picture = PICTURE_PEN,
                         .device = "pen",
                         .time = {20, 0},
                         .first = 1,
                         .last = 12,
                         .amount = "150 units",
                         .mark = {.before = "dial", .number = "150"},
                         .new_from = 6,
                         .new_amount = "175 units",
                         .new_mark = {.before = "dial", .number = "175"},
                         .wait_from = 11},
			{.name = "Insertine",
                         .purpose = NULL,
                         .picture = PICTURE_INSERT,
                         .device = "vaginal",
                         .time = {20, 0},
                         .first = 17,
                         .last = 28,
                         .amount = "1 insert",
                         .below = "put in"},
			{.name = "Oleumine",
                         .purpose = "into the muscle",
                         .picture = PICTURE_AMPOULE,
                         .device = "3 mL syringe",
                         .time = {21, 0},
                         .first = 17,
                         .last = 28,
                         .amount = "50 mg",
                         .mark = {.number = "1", .unit = "mL"}},
			{.name = "Nonsensol",
                         .purpose = "makes you ready for later",
                         .picture = PICTURE_TABLET,
                         .device = "by mouth",
                         .time = {21, 30},
                         .first = 1,
                         .last = 28,
                         .amount = "1 tablet",
                         .below = "swallow"},
			{.name = "Fictivane",
                         .purpose = "starts the last step, once",
                         .picture = PICTURE_AMPOULE,
                         .device = "3 mL syringe",
                         .time = {0, 30},
                         .first = 15,
                         .last = 15,
                         .amount = "5,000 units",
                         .mark = {.number = "1.5", .unit = "mL"},
                         .exact = true,
                         .night = true},
			{.name = "Vacuprine",
                         .purpose = "only when the clinic calls",
                         .picture = PICTURE_POWDER_VIAL,
                         .device = "kit syringe",
                         .time = {20, 0},
                         .open = true,
                         .amount = "150 units",
                         .instead = "day not known yet"},
			{.name = "Imaginol",
                         .purpose = "if your nose is blocked",
                         .picture = PICTURE_SPRAY,
                         .device = "in the nose",
                         .time = {8, 0},
                         .open = true,
                         .amount = "1 spray",
                         .instead = "if needed, at most 2 a day"},
		},
};

static const struct script tiny_script = {
	.days = 3,
	.lines =
		{
			{.name = "Examplin",
                         .purpose = "helps the small cells grow",
                         .picture = PICTURE_POWDER_VIAL,
                         .device = "kit syringe",
                         .time = {20, 0},
                         .first = 1,
                         .last = 2,
                         .halves_to = 2,
                         .half_amount = "125 mcg",
                         .half_mark = {.number = "0.5", .unit = "mL"}},
		},
};

static const struct script stress_script = {
	.days = 40,
	.done_before = 6,
	.visits = {4, 9, 20, 33},
	.lines =
		{
			{.name = "Sampletide with a very long second name",
                         .purpose = "keeps everything from starting too early, as far as we know today",
                         .picture = PICTURE_LIQUID_VIAL,
                         .device = "insulin syringe for small amounts",
                         .time = {8, 0},
                         .first = 1,
                         .last = 40,
                         .amount = "20 syringe units",
                         .mark = {.before = "line", .number = "20"},
                         .early_day = 9},
			{.name = "Mockuline",
                         .purpose = "thins the blood a little",
                         .picture = PICTURE_FILLED_SYRINGE,
                         .device = "filled syringe",
                         .time = {8, 0},
                         .first = 5,
                         .last = 35,
                         .amount = "0.25 mg",
                         .mark = {.before = "stop at", .number = "0.25", .unit = "mL"},
                         .second_day = 12,
                         .second_mark = {.before = "stop at", .number = "0.15", .unit = "mL"}},
			{.name = "Halvatin",
                         .purpose = "shared vials, from day 3",
                         .picture = PICTURE_POWDER_VIAL,
                         .device = "kit syringe",
                         .time = {8, 0},
                         .first = 3,
                         .last = 30,
                         .halves_to = 30,
                         .half_amount = "75 units",
                         .half_mark = {.number = "0.25", .unit = "mL"}},
			{.name = "Sixtimol",
                         .purpose = "six times a day",
                         .picture = PICTURE_DROPS,
                         .device = "drops",
                         .time = {6, 0},
                         .first = 1,
                         .last = 40,
                         .amount = "2 drops",
                         .below = "swallow"},
			{.name = "Sixtimol",
                         .purpose = NULL,
                         .picture = PICTURE_DROPS,
                         .device = "drops",
                         .time = {9, 0},
                         .first = 1,
                         .last = 40,
                         .amount = "2 drops",
                         .below = "swallow"},
			{.name = "Sixtimol",
                         .purpose = NULL,
                         .picture = PICTURE_DROPS,
                         .device = "drops",
                         .time = {12, 0},
                         .first = 1,
                         .last = 40,
                         .amount = "2 drops",
                         .below = "swallow"},
			{.name = "Sixtimol",
                         .purpose = NULL,
                         .picture = PICTURE_DROPS,
                         .device = "drops",
                         .time = {15, 0},
                         .first = 1,
                         .last = 40,
                         .amount = "2 drops",
                         .below = "swallow"},
			{.name = "Sixtimol",
                         .purpose = NULL,
                         .picture = PICTURE_DROPS,
                         .device = "drops",
                         .time = {18, 0},
                         .first = 1,
                         .last = 40,
                         .amount = "2 drops",
                         .below = "swallow"},
			{.name = "Examplin",
                         .purpose = "helps the small cells grow",
                         .picture = PICTURE_POWDER_VIAL,
                         .device = "kit syringe",
                         .time = {20, 0},
                         .first = 2,
                         .last = 15,
                         .halves_to = 15,
                         .half_amount = "125 mcg",
                         .half_mark = {.number = "0.5", .unit = "mL"}},
			{.name = "Placebix",
                         .purpose = "wakes the body up gently",
                         .picture = PICTURE_PEN,
                         .device = "pen",
                         .time = {20, 0},
                         .first = 1,
                         .last = 40,
                         .amount = "150 units",
                         .mark = {.before = "dial", .number = "150"},
                         .new_from = 6,
                         .new_amount = "187.5 units",
                         .new_mark = {.before = "dial", .number = "187.5"},
                         .wait_from = 36},
			{.name = "Sixtimol",
                         .purpose = NULL,
                         .picture = PICTURE_DROPS,
                         .device = "drops",
                         .time = {21, 0},
                         .first = 1,
                         .last = 40,
                         .amount = "2 drops",
                         .below = "swallow"},
			{.name = "Nonsensol",
                         .purpose = "makes you ready for later",
                         .picture = PICTURE_TABLET,
                         .device = "by mouth",
                         .time = {21, 30},
                         .first = 1,
                         .last = 40,
                         .amount = "1 and a half tablets",
                         .below = "swallow"},
			{.name = "Oleumine",
                         .purpose = "into the muscle",
                         .picture = PICTURE_AMPOULE,
                         .device = "3 mL syringe",
                         .time = {22, 0},
                         .first = 20,
                         .last = 40,
                         .amount = "50 mg",
                         .mark = {.number = "1", .unit = "mL"}},
			{.name = "Fictivane alpha and beta together",
                         .purpose = "starts the last step, once",
                         .picture = PICTURE_AMPOULE,
                         .device = "3 mL syringe",
                         .time = {22, 30},
                         .first = 18,
                         .last = 18,
                         .amount = "5,000 units",
                         .mark = {.number = "1.5", .unit = "mL"},
                         .exact = true},
			{.name = "Vacuprine",
                         .purpose = "only when the clinic calls",
                         .picture = PICTURE_POWDER_VIAL,
                         .device = "kit syringe",
                         .time = {20, 0},
                         .open = true,
                         .instead = "day not known yet"},
			{.name = "Absentol",
                         .purpose = "only when the clinic calls",
                         .picture = PICTURE_POWDER_VIAL,
                         .device = "kit syringe",
                         .time = {20, 0},
                         .open = true,
                         .amount = "10 mg",
                         .instead = "day not known yet"},
		},
};

static const struct script pairs_script = {
	.days = 20,
	.lines =
		{
			{.name = "Aba",
                         .purpose = "first",
                         .picture = PICTURE_TABLET,
                         .device = "by mouth",
                         .time = {8, 0},
                         .first = 1,
                         .last = 20,
                         .amount = "1 mg",
                         .below = "swallow"},
			{.name = "Bebe",
                         .purpose = "second",
                         .picture = PICTURE_TABLET,
                         .device = "by mouth",
                         .time = {8, 0},
                         .first = 1,
                         .last = 20,
                         .amount = "2 mg",
                         .below = "swallow"},
			{.name = "Cici",
                         .purpose = "third",
                         .picture = PICTURE_TABLET,
                         .device = "by mouth",
                         .time = {8, 0},
                         .first = 1,
                         .last = 20,
                         .amount = "3 mg",
                         .below = "swallow"},
			{.name = "Dodo",
                         .purpose = "fourth",
                         .picture = PICTURE_TABLET,
                         .device = "by mouth",
                         .time = {8, 0},
                         .first = 1,
                         .last = 20,
                         .amount = "4 mg",
                         .below = "swallow"},
			{.name = "Examplin",
                         .purpose = "in halves",
                         .picture = PICTURE_POWDER_VIAL,
                         .device = "kit syringe",
                         .time = {20, 0},
                         .first = 2,
                         .last = 19,
                         .halves_to = 19,
                         .half_amount = "125 mcg",
                         .half_mark = {.number = "0.5", .unit = "mL"}},
			{.name = "Placebix",
                         .purpose = "a pen",
                         .picture = PICTURE_PEN,
                         .device = "pen",
                         .time = {20, 0},
                         .first = 1,
                         .last = 20,
                         .amount = "150 units",
                         .mark = {.before = "dial", .number = "150"}},
		},
};

static const struct script waiting_script = {
	.days = 0,
	.lines =
		{
			{.name = "Vacuprine",
                         .purpose = "only when the clinic calls",
                         .picture = PICTURE_POWDER_VIAL,
                         .device = "kit syringe",
                         .time = {20, 0},
                         .open = true,
                         .amount = "150 units",
                         .instead = "day not known yet"},
			{.name = "Absentol",
                         .purpose = "only when the clinic calls",
                         .picture = PICTURE_PEN,
                         .device = "pen",
                         .time = {8, 0},
                         .open = true,
                         .instead = "day not known yet"},
		},
};

/* ---- what a line says about a day ---- */

static const struct civil_date start = {2031, 6, 5};

static size_t count_lines(const struct script *script)
{
	size_t n = 0;
	while (n < COLUMNS_MOST && script->lines[n].name != NULL)
		n++;
	return n;
}

static bool on_day(const struct line *line, int day)
{
	int every = line->every == 0 ? 1 : line->every;
	return !line->open && day >= line->first && day <= line->last && (day - line->first) % every == 0;
}

static bool in_grid(const struct line *line)
{
	return !line->open && !line->exact;
}

static enum pictogram sign_of(struct clock_time time)
{
	return time.hour < 11 && time.hour >= 4   ? PICTURE_SUN
	       : time.hour < 16 && time.hour >= 4 ? PICTURE_NOON
	       : time.hour < 21 && time.hour >= 4 ? PICTURE_EVENING
	                                          : PICTURE_MOON;
}

/* ---- the grid ---- */

static struct grid_cell cell_of(struct arena *arena, const struct script *script, const struct line *line, int day)
{
	struct dose *dose = arena_alloc(arena, sizeof *dose);
	struct grid_cell cell = {.state = CELL_DOSE,
	                         .dose = dose,
	                         .amount = line->amount,
	                         .mark = line->mark,
	                         .below = line->below,
	                         .how = -1,
	                         .shown_by = -1,
	                         .slot = sign_of(line->time),
	                         .done = day < script->done_before};
	dose->time = line->time;
	if (!on_day(line, day))
		return (struct grid_cell){.state = CELL_EMPTY};
	if (line->wait_from > 0 && day >= line->wait_from)
		return (struct grid_cell){
			.state = CELL_WRITE_IN, .dose = dose, .how = -1, .shown_by = -1, .unit = "units"};
	if (day <= line->halves_to) {
		bool first = (day - line->first) % 2 == 0;
		cell.amount = line->half_amount;
		cell.mark = line->half_mark;
		cell.half = first ? "first half" : "second half";
		cell.joins_next = first && day < line->last;
		cell.join_rows = cell.joins_next ? 1 : 0;
	} else if (line->new_from > 0 && day >= line->new_from) {
		cell.amount = line->new_amount;
		cell.mark = line->new_mark;
		cell.new_amount = day == line->new_from;
	}
	if (day == line->early_day) {
		dose->time = (struct clock_time){7, 0};
		cell.own_time = "at 07:00";
	}
	if (day == line->second_day)
		cell.second_mark = line->second_mark;
	return cell;
}

static void fill_columns(struct arena *arena, const struct script *script, struct speaker *speaker, struct grid *grid)
{
	struct grid_column *columns = arena_alloc(arena, COLUMNS_MOST * sizeof *columns);
	struct grid_group *groups = arena_alloc(arena, COLUMNS_MOST * sizeof *groups);
	const struct line *before = NULL;
	for (size_t i = 0; i < count_lines(script); i++) {
		const struct line *line = &script->lines[i];
		if (!in_grid(line))
			continue;
		if (before == NULL || before->time.hour != line->time.hour || before->time.minute != line->time.minute)
			groups[grid->n_groups++] = (struct grid_group){.sign = sign_of(line->time),
			                                               .word = line->time.minute != 0  ? NULL
			                                                       : line->time.hour == 8  ? "Morning"
			                                                       : line->time.hour == 20 ? "Evening"
			                                                                               : NULL,
			                                               .time = say_time(speaker, line->time),
			                                               .morning = line->time.hour < 12,
			                                               .first_column = grid->n_columns};
		groups[grid->n_groups - 1].n_columns++;
		columns[grid->n_columns++] = (struct grid_column){.pictogram = line->picture,
		                                                  .device = line->device,
		                                                  .name = line->name,
		                                                  .section = GRID_SECTION,
		                                                  .waiting = -1,
		                                                  .has_halves = line->halves_to > 0,
		                                                  .waits = line->wait_from > 0};
		before = line;
	}
	grid->columns = columns;
	grid->groups = groups;
}

static struct grid_band visit_band(struct speaker *speaker, struct civil_date date)
{
	struct value values[] = {{"what", "Visit"}, {"date", say_date(speaker, date, DATE_SHORT)}, {"time", "09:15"}};
	return (struct grid_band){.kind = BAND_VISIT,
	                          .text = say(speaker, "grid.visit", values, 3),
	                          .own_text = say(speaker, "grid.visit.own", values, 3),
	                          .section = -1};
}

static struct grid_band exact_band(struct speaker *speaker, const struct line *line)
{
	struct grid_band band = {.kind = BAND_EXACT,
	                         .time = say_time(speaker, line->time),
	                         .clock = line->time,
	                         .note = say0(speaker, "grid.exact_note"),
	                         .name = line->name,
	                         .amount = line->amount,
	                         .pictogram = line->picture,
	                         .mark = line->mark,
	                         .section = GRID_SECTION};
	if (line->night) {
		band.day_note = say2(speaker, "grid.night_note", "from", "Thu", "to", "Fri");
		band.note = say1(speaker, "grid.already", "date", "Friday 20 June");
	}
	return band;
}

static void fill_row(struct arena *arena, const struct script *script, struct speaker *speaker, struct grid_row *row)
{
	struct civil_date date = date_plus(start, row->day - 1);
	struct grid_cell *cells = arena_alloc(arena, COLUMNS_MOST * sizeof *cells);
	struct grid_band *visits = arena_alloc(arena, 4 * sizeof *visits);
	struct grid_band *exact = arena_alloc(arena, 4 * sizeof *exact);
	size_t n = 0;
	bool needle = false;
	row->rest = true;
	for (size_t i = 0; i < count_lines(script); i++) {
		const struct line *line = &script->lines[i];
		needle = needle || (on_day(line, row->day) && line->below == NULL);
		if (line->exact && line->first == row->day)
			exact[row->n_exact++] = exact_band(speaker, line);
		if (!in_grid(line))
			continue;
		cells[n] = cell_of(arena, script, line, row->day);
		row->rest = row->rest && cells[n].state == CELL_EMPTY;
		n++;
	}
	for (size_t i = 0; i < 4; i++)
		if (script->visits[i] == row->day)
			visits[row->n_visits_above++] = visit_band(speaker, date);
	row->weekday = say_date(speaker, date, DATE_WEEKDAY_SHORT);
	row->date = say_date(speaker, date, DATE_DAY_MONTH);
	row->side = !needle ? SIDE_NONE : row->day % 2 == 1 ? SIDE_LEFT : SIDE_RIGHT;
	row->side_word = say0(speaker, row->side == SIDE_RIGHT ? "side.right" : "side.left");
	row->rest_text = say0(speaker, row->n_visits_above > 0 ? "grid.visit_day" : "grid.rest");
	row->past = row->day < script->done_before;
	row->cells = cells;
	row->visits_above = visits;
	row->exact = exact;
}

static void fill_waiting(struct arena *arena, const struct script *script, struct speaker *speaker, struct grid *grid)
{
	struct grid_waiting *waiting = arena_alloc(arena, COLUMNS_MOST * sizeof *waiting);
	for (size_t i = 0; i < count_lines(script); i++) {
		const struct line *line = &script->lines[i];
		if (!line->open || line->picture == PICTURE_SPRAY)
			continue;
		waiting[grid->n_waiting++] = (struct grid_waiting){
			.heading = say1(speaker, "grid.waiting", "name", line->name),
			.text = say1(speaker, "grid.waiting_text", "when", "when the scan shows the right size"),
			.start_word = say0(speaker, "grid.start"),
			.day_word = say0(speaker, "grid.day"),
			.month_word = say0(speaker, "grid.month"),
			.dose_text = line->amount,
			.unit = "units",
			.section = line->amount == NULL ? -1 : GRID_SECTION,
		};
	}
	grid->waiting = waiting;
}

static const struct grid *grid_of(struct arena *arena, const struct script *script, struct speaker *speaker)
{
	struct grid *grid = arena_alloc(arena, sizeof *grid);
	struct grid_row *rows = arena_alloc(arena, DAYS_MOST * sizeof *rows);
	grid->corner = say0(speaker, "grid.corner");
	fill_columns(arena, script, speaker, grid);
	for (int day = 1; day <= script->days; day++) {
		rows[day - 1].day = day;
		fill_row(arena, script, speaker, &rows[day - 1]);
	}
	grid->rows = rows;
	grid->n_rows = (size_t)script->days;
	fill_waiting(arena, script, speaker, grid);
	grid->new_legend = say0(speaker, "grid.new_legend");
	if (grid->n_rows > 0)
		grid->after = say1(speaker, "grid.after_last", "day", arena_printf(arena, "%d", script->days));
	return grid;
}

/* ---- the overview ---- */

static void add_time(struct arena *arena, struct speaker *speaker, struct overview_row *row, const struct line *line)
{
	struct overview_time *times = arena_alloc(arena, (row->n_times + 1) * sizeof *times);
	if (row->n_times > 0)
		memcpy(times, row->times, row->n_times * sizeof *times);
	times[row->n_times++] = (struct overview_time){say0(speaker, "slot.morning"), say_time(speaker, line->time)};
	row->times = times;
}

static void fill_overview_row(struct arena *arena, const struct script *script, struct speaker *speaker,
                              const struct line *line, struct overview_row *row)
{
	enum day_state *days = arena_alloc(arena, DAYS_MOST * sizeof *days);
	row->pictogram = line->picture;
	row->name = line->name;
	row->purpose = line->purpose;
	row->section = GRID_SECTION;
	row->waiting = -1;
	row->instead = line->instead;
	row->waits = line->open && line->picture != PICTURE_SPRAY;
	row->times_bold = line->exact;
	row->exact_time = line->time;
	for (int day = 1; day <= script->days; day++)
		if (on_day(line, day))
			days[day - 1] = line->exact                                     ? DAY_EXACT
			                : line->wait_from > 0 && day >= line->wait_from ? DAY_WAIT
			                                                                : DAY_TAKE;
	if (!line->open)
		row->days = days;
	if (!line->open || row->waits)
		add_time(arena, speaker, row, line);
}

static void fill_overview_rows(struct arena *arena, const struct script *script, struct speaker *speaker,
                               struct overview *overview)
{
	struct overview_row *rows = arena_alloc(arena, COLUMNS_MOST * sizeof *rows);
	for (size_t i = 0; i < count_lines(script); i++) {
		const struct line *line = &script->lines[i];
		struct overview_row *known = NULL;
		for (size_t j = 0; j < overview->n_rows; j++)
			if (strcmp(rows[j].name, line->name) == 0)
				known = &rows[j];
		if (known != NULL)
			add_time(arena, speaker, known, line);
		else
			fill_overview_row(arena, script, speaker, line, &rows[overview->n_rows++]);
		overview->any_exact = overview->any_exact || line->exact;
		overview->any_wait = overview->any_wait || line->wait_from > 0 || line->open;
	}
	overview->rows = rows;
}

static const struct overview *overview_of(struct arena *arena, const struct script *script, struct speaker *speaker,
                                          bool draft)
{
	static const struct phone_card phones[] = {
		{PICTURE_SUN, "By day", "07:30 to 17:00", "000 555 0142"},
		{PICTURE_MOON, "By night", "17:00 to 07:30", "000 555 0199"},
	};
	static const struct moment_card moments[] = {
		{.date = "Thu 12 Jun", .time = "09:15", .what = "Visit: blood test"},
		{.date = "Sat 14 Jun", .time = "09:15", .what = "Scan and blood test"},
		{.date = "Sun 15 Jun", .time = "22:30", .what = "Fictivane, exact", .exact = true, .clock = {22, 30}},
		{.date = "Tue 17 Jun", .time = NULL, .what = "Visit: long day"},
	};
	struct overview *overview = arena_alloc(arena, sizeof *overview);
	*overview = (struct overview){
		.lead = "Mara Quillfeather · Thu 5 Jun to Tue 17 Jun 2031",
		.phones = phones,
		.n_phones = 2,
		.clinic_line = say2(speaker, "overview.clinic", "clinic", "Lindenquay Clinic", "address",
	                            ", Lindenquay 9, second floor"),
		.warning_word = say0(speaker, "warning.word"),
		.emergency = {say0(speaker, "warning.emergency"), say0(speaker, "warning.call")},
		.main_line = say1(speaker, "overview.main", "page", PAGE_HERE),
		.grid = GRID_SECTION,
		.unsure = say0(speaker, "overview.question"),
		.medicine_word = say0(speaker, "overview.medicine"),
		.time_word = say0(speaker, "overview.time"),
		.heading = say0(speaker, "overview.heading"),
		.n_days = script->days,
		.day_word = say0(speaker, "overview.day"),
		.legend_take = say0(speaker, "overview.legend_take"),
		.legend_wait = say0(speaker, "overview.legend_wait"),
		.legend_exact = say0(speaker, "overview.legend_exact"),
		.moments_heading = say0(speaker, "overview.moments"),
		.moments = moments,
		.n_moments = script->days == 0  ? 0
	                     : script->days < 5 ? 1
	                                        : 4,
		.good_until = say1(speaker, "overview.good_until_visit", "date", "Thu 12 Jun"),
		.good_then = say0(speaker, "overview.good_then"),
		.seal_line_1 = say0(speaker, "overview.seal_what"),
		.seal_line_2 = draft ? say0(speaker, "overview.seal_draft")
	                             : say1(speaker, "overview.seal_signed", "date", "4 Jun 2031"),
	};
	fill_overview_rows(arena, script, speaker, overview);
	return overview;
}

/* ---- the whole ---- */

static const struct script *script_of(enum sample_kind kind)
{
	switch (kind) {
	case SAMPLE_SHORT:
		break;
	case SAMPLE_LONG:
		return &long_script;
	case SAMPLE_TINY:
		return &tiny_script;
	case SAMPLE_STRESS:
		return &stress_script;
	case SAMPLE_PAIRS:
		return &pairs_script;
	case SAMPLE_WAITING:
		return &waiting_script;
	}
	return &short_script;
}

static struct running running_of(struct speaker *speaker, bool draft)
{
	static const char *const phones[] = {"Day " TEXT_BOLD_ON "000 555 0142" TEXT_BOLD_OFF,
	                                     "Night " TEXT_BOLD_ON "000 555 0199" TEXT_BOLD_OFF};
	return (struct running){
		.unsure = say0(speaker, "running.unsure"),
		.phones = phones,
		.n_phones = 2,
		.staff_line = say0(speaker, "running.staff"),
		.patient = "Mara Quillfeather · born 14 Feb 1997 · Lindenquay Clinic",
		.patient_alone = "Mara Quillfeather · born 14 Feb 1997",
		.version = draft ? say1(speaker, "running.draft", "version", "2")
	                         : say2(speaker, "running.signed", "version", "2", "date", "4 Jun 2031"),
		.draft_band = draft ? say0(speaker, "running.draft_band") : NULL,
		.code = "K7Q4-MX2T-9",
	};
}

static const struct record *record_for(struct arena *arena, const struct clinic *clinic, bool draft)
{
	struct plan *plan = arena_alloc(arena, sizeof *plan);
	struct course *course = arena_alloc(arena, sizeof *course);
	struct record *record = arena_alloc(arena, sizeof *record);
	plan->clinic = clinic;
	plan->version = 2;
	course->plan = plan;
	record->course = course;
	record->code = "K7Q4-MX2T-9";
	record->is_signed = !draft;
	return record;
}

struct sample *sample_new(struct arena *arena, enum sample_kind kind, struct sample_options options,
                          struct findings *findings)
{
	const struct script *script = script_of(kind);
	struct clinic *clinic = arena_alloc(arena, sizeof *clinic);
	struct sample *sample = arena_alloc(arena, sizeof *sample);
	struct section *sections = arena_alloc(arena, 2 * sizeof *sections);
	clinic->words = sample_words(arena);
	clinic->n_words = 1;
	struct speaker *speaker = speaker_new(arena, clinic, "en", findings);

	sections[0] = (struct section){.kind = SECTION_OVERVIEW,
	                               .title = say0(speaker, "overview.title"),
	                               .overview = overview_of(arena, script, speaker, options.draft)};
	sections[0].lead = sections[0].overview->lead;
	sections[GRID_SECTION] = (struct section){.kind = SECTION_GRID,
	                                          .title = say0(speaker, "grid.title"),
	                                          .lead = say0(speaker, "grid.lead"),
	                                          .grid = grid_of(arena, script, speaker)};
	sample->speaker = speaker;
	sample->handout = (struct handout){.record = record_for(arena, clinic, options.draft),
	                                   .speaker = speaker,
	                                   .staff_speaker = speaker,
	                                   .language = "en",
	                                   .paper = options.paper,
	                                   .mono = options.mono,
	                                   .running = running_of(speaker, options.draft),
	                                   .staff_running = running_of(speaker, options.draft),
	                                   .sections = sections,
	                                   .n_sections = 2};
	return sample;
}

void sample_free(struct sample *sample)
{
	speaker_free(sample->speaker);
}
