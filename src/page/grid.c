/*
 * grid.c - the day grid shared out over pages.
 *
 * Columns first: all in one set where they fit side by side; else those of the
 * mornings and those of the rest, each in as few sets as fit. Then rows: each
 * range takes as many as fit on all its sheets, at most two weeks where there
 * are several, and a last page of few rows shares with the one before. So the
 * number of pages depends on page numbers only through the width of a digit.
 */
#include "page/grid.h"

#include "page/large_pages.h"
#include "page/sections.h"

#include <math.h>
#include <string.h>

#define COLUMNS_MOST 5
#define DAYS_MOST 14 /* on a page of mornings or evenings */
#define FEW_ROWS 5
#define FOOT_GAP 3.0
#define FOOT_LEADING 5.0
#define FOOT_BELOW 2.0    /* before frames of what waits */
#define WAITING_MOST 80.0 /* what the last rows leave room for; more frames go on further pages */
#define ARROW_LENGTH 5.6

/* Rows that go together, and the sets of columns that have something in them: one page each. */
struct row_range {
	size_t first;
	size_t n;
	struct column_set *sets;
	size_t n_sets;
};

struct grid_work {
	struct composer *composer;
	const struct grid *grid;
	const double *least; /* widths of columns */
	bool halves;         /* mornings and evenings apart */
	struct row_range *ranges;
	size_t n_ranges;
};

/* ---- sets of columns ---- */

static bool fit_side_by_side(const struct grid_work *work, const size_t *columns, size_t n)
{
	double sum = 0;
	for (size_t i = 0; i < n; i++)
		sum += work->least[columns[i]];
	return n <= COLUMNS_MOST && sum <= grid_share(n) + TOLERANCE;
}

static void add_set(struct grid_work *work, struct row_range *range, struct column_set set)
{
	range->sets = arena_more(work->composer->arena, range->sets, range->n_sets, sizeof *range->sets);
	range->sets[range->n_sets++] = set;
}

/* How many of the first columns go together, at most `most`; one at least. */
static size_t take_columns(const struct grid_work *work, const size_t *columns, size_t n, size_t most)
{
	size_t taken = 1;
	while (taken < n && taken < most && fit_side_by_side(work, columns, taken + 1))
		taken++;
	return taken;
}

static size_t sets_needed(const struct grid_work *work, const size_t *columns, size_t n)
{
	size_t sets = 0;
	for (size_t i = 0; i < n; sets++)
		i += take_columns(work, columns + i, n - i, COLUMNS_MOST);
	return sets;
}

/* In as few sets as fit, and these about equally full. */
static void add_sets(struct grid_work *work, struct row_range *range, enum grid_part part, const size_t *columns,
                     size_t n)
{
	size_t sets = sets_needed(work, columns, n);
	size_t most = sets == 0 ? 0 : (n + sets - 1) / sets;
	int number = 1;
	for (size_t i = 0; i < n; number++) {
		size_t taken = take_columns(work, columns + i, n - i, most);
		add_set(work, range, (struct column_set){part, number, columns + i, taken});
		i += taken;
	}
}

static bool used_on_day(const struct grid_work *work, size_t column, size_t row)
{
	return work->grid->rows[row].cells[column].state != CELL_EMPTY;
}

static bool used_in(const struct grid_work *work, size_t column, const struct row_range *range)
{
	for (size_t i = 0; i < range->n; i++)
		if (used_on_day(work, column, range->first + i))
			return true;
	return false;
}

static enum grid_part part_of(const struct grid_work *work, size_t column)
{
	if (!work->halves)
		return PART_ALL;
	return grid_group_of(work->grid, column)->morning ? PART_MORNINGS : PART_EVENINGS;
}

/* The columns of a part that have something in the range. */
static size_t *columns_of(const struct grid_work *work, enum grid_part part, const struct row_range *range, size_t *n)
{
	size_t *columns = arena_alloc(work->composer->arena, work->grid->n_columns * sizeof *columns);
	*n = 0;
	for (size_t i = 0; i < work->grid->n_columns; i++)
		if (part_of(work, i) == part && used_in(work, i, range))
			columns[(*n)++] = i;
	return columns;
}

static bool exact_in(const struct grid_work *work, enum grid_part part, const struct row_range *range)
{
	for (size_t i = 0; i < range->n; i++) {
		const struct grid_row *row = &work->grid->rows[range->first + i];
		for (size_t j = 0; j < row->n_exact; j++)
			if (grid_band_of_morning(&row->exact[j]) == (part == PART_MORNINGS))
				return true;
	}
	return false;
}

/* A part with an exact time and nothing else has a page for it. */
static void add_part(struct grid_work *work, struct row_range *range, enum grid_part part)
{
	size_t n;
	size_t *columns = columns_of(work, part, range, &n);
	if (n == 0 && exact_in(work, part, range))
		add_set(work, range, (struct column_set){part, 1, columns, 0});
	add_sets(work, range, part, columns, n);
}

static struct row_range range_of(struct grid_work *work, size_t first, size_t n)
{
	struct row_range range = {.first = first, .n = n};
	if (work->halves) {
		add_part(work, &range, PART_MORNINGS);
		add_part(work, &range, PART_EVENINGS);
	}
	if (range.n_sets == 0) {
		size_t n_columns;
		size_t *columns = columns_of(work, PART_ALL, &range, &n_columns);
		add_set(work, &range, (struct column_set){PART_ALL, 1, columns, n_columns});
	}
	return range;
}

static bool all_fit(const struct grid_work *work)
{
	size_t *columns = arena_alloc(work->composer->arena, work->grid->n_columns * sizeof *columns);
	for (size_t i = 0; i < work->grid->n_columns; i++)
		columns[i] = i;
	return fit_side_by_side(work, columns, work->grid->n_columns);
}

/* ---- pages of sets ---- */

/* The first set of a part in a range; n_sets: none. */
static size_t first_of_part(const struct row_range *range, enum grid_part part)
{
	size_t set = 0;
	while (set < range->n_sets && range->sets[set].part != part)
		set++;
	return set;
}

/* The set with a column in it, or the first of its part, or the first of all. */
static size_t set_with(const struct grid_work *work, const struct row_range *range, size_t column)
{
	for (size_t i = 0; i < range->n_sets; i++)
		for (size_t j = 0; j < range->sets[i].n_columns; j++)
			if (range->sets[i].columns[j] == column)
				return i;
	size_t set = first_of_part(range, part_of(work, column));
	return set < range->n_sets ? set : 0;
}

static const char *page_words(const struct grid_work *work, size_t range, size_t set)
{
	struct composer *composer = work->composer;
	size_t index = set;
	for (size_t i = 0; i < range; i++)
		index += work->ranges[i].n_sets;
	return say1(composer->speaker, "page.ref", "page",
	            composer_label_of(composer, composer_section_ref(composer), (int)index));
}

/* ---- sheets ---- */

static struct grid_sheet sheet_of(const struct grid_work *work, const struct row_range *range, size_t set)
{
	size_t morning = first_of_part(range, PART_MORNINGS);
	size_t evening = first_of_part(range, PART_EVENINGS);
	struct grid_sheet sheet = {.composer = work->composer,
	                           .grid = work->grid,
	                           .set = &range->sets[set],
	                           .shows_visits = set == 0,
	                           .shows_morning = set == (morning < range->n_sets ? morning : 0),
	                           .shows_evening = set == (evening < range->n_sets ? evening : 0),
	                           .n_rows = range->n};
	sheet.rows = arena_alloc(work->composer->arena, range->n * sizeof *sheet.rows);
	for (size_t i = 0; i < range->n; i++)
		sheet.rows[i].row = &work->grid->rows[range->first + i];
	grid_lay_columns(&sheet, work->least);
	grid_lay_rows(&sheet);
	return sheet;
}

/* ---- heads ---- */

static const char *number_words(struct composer *composer, int number)
{
	return arena_printf(composer->arena, "%d", number);
}

/* What is not of the morning begins at noon. */
static bool noon_in(const struct grid_work *work, const struct row_range *range)
{
	for (size_t i = 0; i < work->grid->n_groups; i++) {
		const struct grid_group *group = &work->grid->groups[i];
		for (size_t j = 0; j < group->n_columns; j++)
			if (!group->morning && group->sign == PICTURE_NOON &&
			    used_in(work, group->first_column + j, range))
				return true;
	}
	return false;
}

static const char *title_of(const struct grid_work *work, const struct row_range *range, const struct column_set *set)
{
	struct speaker *speaker = work->composer->speaker;
	const char *title = work->composer->section->title;
	if (set->part == PART_MORNINGS)
		title = say0(speaker, "grid.mornings");
	else if (set->part == PART_EVENINGS)
		title = say0(speaker, noon_in(work, range) ? "grid.noons" : "grid.evenings");
	if (set->number > 1)
		title = say2(speaker, "grid.part", "title", title, "number", number_words(work->composer, set->number));
	return range->first > 0 ? say_continued(speaker, title) : title;
}

/* `sister` is "page 3" of the other half of these days, or NULL. */
static const char *lead_of(const struct grid_work *work, const struct row_range *range, const struct column_set *set,
                           const char *sister)
{
	struct composer *composer = work->composer;
	if (set->part == PART_ALL && range->first == 0)
		return composer->section->lead;
	struct value values[] = {
		{"from", number_words(composer, work->grid->rows[range->first].day)},
		{"to", number_words(composer, work->grid->rows[range->first + range->n - 1].day)},
		{"page", sister},
	};
	if (sister == NULL)
		return say(composer->speaker, "grid.lead_days", values, 2);
	const char *key = set->part == PART_EVENINGS ? "grid.lead_evenings"
	                  : noon_in(work, range)     ? "grid.lead_mornings_noon"
	                                             : "grid.lead_mornings";
	return say(composer->speaker, key, values, 3);
}

static enum pictogram sign_of(const struct column_set *set)
{
	switch (set->part) {
	case PART_MORNINGS:
		return PICTURE_SUN;
	case PART_EVENINGS:
		return PICTURE_EVENING;
	case PART_ALL:
		break;
	}
	return PICTURE_NONE;
}

/* The set whose page has the other half of these days; n_sets: none. */
static size_t sister_of(const struct row_range *range, const struct column_set *set)
{
	switch (set->part) {
	case PART_MORNINGS:
		return first_of_part(range, PART_EVENINGS);
	case PART_EVENINGS:
		return first_of_part(range, PART_MORNINGS);
	case PART_ALL:
		break;
	}
	return range->n_sets;
}

/* ---- ranges of rows ---- */

static double all_waiting_height(const struct grid_work *work)
{
	double height = 0;
	for (size_t i = 0; i < work->grid->n_waiting; i++)
		height += waiting_height(work->composer, &work->grid->waiting[i]);
	return height;
}

static bool ends_rows(const struct grid_work *work, const struct row_range *range)
{
	return range->first + range->n == work->grid->n_rows;
}

/* Frames of what waits stand below the last rows; beside several sets they have a page of their own. */
static double waiting_below(const struct grid_work *work, const struct row_range *range)
{
	if (!ends_rows(work, range) || range->n_sets > 1)
		return 0;
	double height = all_waiting_height(work);
	return height == 0 ? 0 : fmin(height, WAITING_MOST) + FOOT_BELOW;
}

static bool several_pages(const struct grid_work *work, const struct row_range *range)
{
	return work->halves || range->first > 0 || !ends_rows(work, range);
}

/* The foot as far as rows decide it: it grows where many names are in it, and the rows then give way. */
static double least_foot(const struct grid_work *work, const struct row_range *range, const struct grid_sheet *sheet)
{
	bool legend = sheet->shows_new;
	bool several = several_pages(work, range);
	if (!legend && !several)
		return 0;
	double lines = legend && several ? 2 : 1;
	return FOOT_GAP + 3.3 + (lines - 1) * FOOT_LEADING;
}

static bool sheet_fits(const struct grid_work *work, const struct row_range *range, size_t set)
{
	struct grid_sheet sheet = sheet_of(work, range, set);
	double height = grid_head_height(&sheet) + grid_rows_height(&sheet, GRID_ROW_LEAST) +
	                least_foot(work, range, &sheet) + waiting_below(work, range);
	bool sister = sister_of(range, sheet.set) < range->n_sets;
	const char *page = sister ? say1(work->composer->speaker, "page.ref", "page", "99") : NULL;
	return height <= composer_content_height(work->composer, title_of(work, range, sheet.set),
	                                         lead_of(work, range, sheet.set, page), sign_of(sheet.set));
}

static bool range_fits(const struct grid_work *work, const struct row_range *range)
{
	if (work->halves && range->n > DAYS_MOST)
		return false;
	for (size_t i = 0; i < range->n_sets; i++)
		if (!sheet_fits(work, range, i))
			return false;
	return true;
}

static bool may_end(const struct grid_work *work, const struct row_range *range)
{
	return !grid_holds_together(work->grid, range->first + range->n - 1);
}

/*
 * As many rows as fit and end where nothing is cut. Shared containers of two
 * medicines that begin on alternate days can hold all rows together: where no
 * end is found in the page's second half, the page is filled, and each half at
 * the cut has a frame and its words of its own.
 */
static struct row_range longest_range(struct grid_work *work, size_t first)
{
	struct row_range fitting = range_of(work, first, 1);
	struct row_range best = {0};
	for (size_t n = 1; first + n <= work->grid->n_rows; n++) {
		struct row_range range = range_of(work, first, n);
		if (!range_fits(work, &range))
			break;
		fitting = range;
		if (may_end(work, &range))
			best = range;
	}
	return 2 * best.n > fitting.n ? best : fitting;
}

/* The page before the last one ends after `n` rows, if no frame is cut and both fit. */
static bool parts_at(struct grid_work *work, size_t n)
{
	struct row_range *before = &work->ranges[work->n_ranges - 2];
	struct row_range *last = &work->ranges[work->n_ranges - 1];
	struct row_range first_part = range_of(work, before->first, n);
	struct row_range second_part = range_of(work, before->first + n, before->n + last->n - n);
	if (!may_end(work, &first_part) || !range_fits(work, &first_part) || !range_fits(work, &second_part))
		return false;
	*before = first_part;
	*last = second_part;
	return true;
}

/* A last page of few rows shares with the one before, as evenly as the frames allow. */
static void even_out(struct grid_work *work)
{
	if (work->n_ranges < 2 || work->ranges[work->n_ranges - 1].n >= FEW_ROWS)
		return;
	size_t most = work->ranges[work->n_ranges - 2].n;
	size_t half = (most + work->ranges[work->n_ranges - 1].n + 1) / 2;
	for (size_t off = 0; off <= half; off++)
		if ((half + off < most && parts_at(work, half + off)) ||
		    (half >= off + FEW_ROWS && parts_at(work, half - off)))
			return;
}

/* Layouts that are tried and not used may not refuse a packet: what they find is dropped. */
static void share_out_rows(struct grid_work *work)
{
	struct trial trial;
	composer_begin_trial(work->composer, &trial);
	for (size_t first = 0; first < work->grid->n_rows;) {
		struct row_range range = longest_range(work, first);
		work->ranges = arena_more(work->composer->arena, work->ranges, work->n_ranges, sizeof *work->ranges);
		work->ranges[work->n_ranges++] = range;
		first += range.n;
	}
	even_out(work);
	composer_end_trial(work->composer, &trial);
}

/* ---- feet ---- */

/* The first row after a range that has a column; n_rows: none. */
static size_t starts_after(const struct grid_work *work, size_t column, const struct row_range *range)
{
	size_t row = range->first + range->n;
	while (row < work->grid->n_rows && !used_on_day(work, column, row))
		row++;
	return row;
}

/* The last row of the range before that has a column; n_rows: none. */
static size_t ended_before(const struct grid_work *work, size_t column, size_t range)
{
	if (range == 0)
		return work->grid->n_rows;
	const struct row_range *before = &work->ranges[range - 1];
	for (size_t i = before->n; i > 0; i--)
		if (used_on_day(work, column, before->first + i - 1))
			return before->first + i - 1;
	return work->grid->n_rows;
}

static size_t range_of_row(const struct grid_work *work, size_t row)
{
	size_t range = 0;
	while (row >= work->ranges[range].first + work->ranges[range].n)
		range++;
	return range;
}

struct names {
	const char *list; /* "Insertine and Oleumine"; NULL: none yet */
	const char *last; /* not yet in the list */
	int n;
};

static void add_name(const struct grid_work *work, struct names *names, const char *name)
{
	if (names->last != NULL)
		names->list = names->list == NULL ? names->last
		                                  : say2(work->composer->speaker, "list.comma", "first", names->list,
		                                         "last", names->last);
	names->last = name;
	names->n++;
}

static const char *names_words(const struct grid_work *work, const struct names *names)
{
	if (names->list == NULL)
		return names->last;
	return say2(work->composer->speaker, "list.and", "first", names->list, "last", names->last);
}

/* The row a column's note is about: where it starts later, or ended. */
static size_t note_row(const struct grid_work *work, size_t column, size_t range, bool starts)
{
	const struct row_range *rows = &work->ranges[range];
	size_t none = work->grid->n_rows;
	if (used_in(work, column, rows))
		return none;
	size_t later = starts_after(work, column, rows);
	if (starts)
		return later;
	return later < none ? none : ended_before(work, column, range);
}

/* A medicine that is taken several times a day has several columns, and one name. */
static bool named_before(const struct grid_work *work, enum grid_part part, size_t range, size_t row, bool starts,
                         size_t column)
{
	for (size_t i = 0; i < column; i++)
		if (part_of(work, i) == part && note_row(work, i, range, starts) == row &&
		    strcmp(work->grid->columns[i].name, work->grid->columns[column].name) == 0)
			return true;
	return false;
}

/* "Insertine and Oleumine start on day 17: page 5." for those of the part that do so on one day. */
static const char *note_of_row(const struct grid_work *work, enum grid_part part, size_t range, size_t row, bool starts)
{
	struct names names = {0};
	size_t column = 0;
	for (size_t i = 0; i < work->grid->n_columns; i++)
		if (part_of(work, i) == part && note_row(work, i, range, starts) == row) {
			if (!named_before(work, part, range, row, starts, i))
				add_name(work, &names, work->grid->columns[i].name);
			column = i;
		}
	if (names.n == 0)
		return NULL;
	size_t then = range_of_row(work, row);
	struct value values[] = {{"names", names_words(work, &names)},
	                         {"day", number_words(work->composer, work->grid->rows[row].day)},
	                         {"page", page_words(work, then, set_with(work, &work->ranges[then], column))}};
	return say_count(work->composer->speaker, starts ? "grid.starts" : "grid.ended", names.n, values, 3);
}

/* On the first page of a part: what of it is not there, and since when or from when. */
static const char *foot_notes(const struct grid_work *work, size_t range, const struct column_set *set)
{
	const char *notes = NULL;
	for (int starts = 0; starts < 2 && set->number == 1; starts++)
		for (size_t row = 0; row < work->grid->n_rows; row++) {
			const char *note = note_of_row(work, set->part, range, row, starts == 1);
			if (note != NULL)
				notes = notes == NULL ? note
				                      : arena_printf(work->composer->arena, "%s %s", notes, note);
		}
	return notes;
}

/* The page in the next range that goes on with a set. */
static const char *next_page(const struct grid_work *work, size_t range, const struct column_set *set)
{
	const struct row_range *next = &work->ranges[range + 1];
	size_t same = first_of_part(next, set->part);
	if (same == next->n_sets)
		return page_words(work, range + 1, 0);
	size_t with_number = same + (size_t)set->number - 1;
	bool has_number = with_number < next->n_sets && next->sets[with_number].part == set->part;
	return page_words(work, range + 1, has_number ? with_number : same);
}

/* "Day 15 on: page 4", or what then. */
static const char *foot_next(const struct grid_work *work, size_t range, const struct column_set *set)
{
	struct composer *composer = work->composer;
	const struct row_range *rows = &work->ranges[range];
	if (range + 1 < work->n_ranges)
		return say2(composer->speaker, "grid.next", "day",
		            number_words(composer, work->grid->rows[rows->first + rows->n].day), "page",
		            next_page(work, range, set));
	return work->grid->after;
}

/* On the right what the corner means and what comes next, on the left, beside both, what the words mean and notes. */
struct foot {
	const char *next;
	bool arrow;
	const char *words; /* NULL: said on another page, or there is no room */
	const char *notes;
	bool legend;
	double right_width;
	double height;
};

static struct text_style foot_style(const struct composer *composer)
{
	struct text_style style = composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
	style.leading = FOOT_LEADING;
	return style;
}

static struct text_style next_style(const struct composer *composer)
{
	return composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
}

static double left_width(const struct foot *foot)
{
	return LIVE_WIDTH - foot->right_width - (foot->right_width > 0 ? GAP_4 : 0);
}

/* Lines of a text of several, and one more text below it. */
static double left_height(struct composer *composer, const struct foot *foot)
{
	struct text_style style = foot_style(composer);
	double words = composer_text_height(composer, foot->words, style, left_width(foot));
	double notes = composer_text_height(composer, foot->notes, style, left_width(foot));
	bool both = foot->words != NULL && foot->notes != NULL;
	return words + notes + (both ? FOOT_LEADING - text_cap_height(style) : 0);
}

static double right_height(const struct composer *composer, const struct foot *foot)
{
	double next = foot->next == NULL ? 0 : text_cap_height(next_style(composer));
	double legend = text_cap_height(foot_style(composer));
	return foot->legend ? (next > 0 ? FOOT_LEADING + next : legend) : next;
}

static void measure_foot(struct composer *composer, const struct grid *grid, struct foot *foot)
{
	double next = composer_text_width(composer, foot->next, next_style(composer));
	foot->right_width =
		fmax(next + (foot->arrow ? ARROW_LENGTH + 2 : 0), foot->legend ? grid_legend_width(composer, grid) : 0);
	double lines = fmax(right_height(composer, foot), left_height(composer, foot));
	foot->height = lines > 0 ? FOOT_GAP + lines : 0;
}

static const char *words_of(struct composer *composer, const struct grid *grid)
{
	return grid->words == NULL
	               ? NULL
	               : composer_fill_page(composer, grid->words, composer_label_of(composer, grid->words_section, 0));
}

/* On the first page what its words mean, and on a page that is all what comes after it, where the rows leave room. */
static struct foot foot_of(const struct grid_work *work, const struct grid_sheet *sheet, size_t range, double room)
{
	struct composer *composer = work->composer;
	bool first = range == 0 && sheet->set == &work->ranges[0].sets[0];
	struct foot foot = {.next = foot_next(work, range, sheet->set),
	                    .arrow = range + 1 < work->n_ranges,
	                    .words = first ? words_of(composer, work->grid) : NULL,
	                    .notes = foot_notes(work, range, sheet->set),
	                    .legend = sheet->shows_new};
	measure_foot(composer, work->grid, &foot);
	if (foot.height > room && foot.words != NULL) {
		foot.words = NULL;
		measure_foot(composer, work->grid, &foot);
	}
	if (foot.height > room && !several_pages(work, &work->ranges[range])) {
		foot.next = NULL;
		measure_foot(composer, work->grid, &foot);
	}
	return foot;
}

static void put_next(struct composer *composer, const struct foot *foot, double y)
{
	double end = composer->right - (foot->arrow ? ARROW_LENGTH + 2 : 0);
	if (foot->next == NULL)
		return;
	begin_group(composer, ROLE_PARAGRAPH);
	put_text(composer, foot->next, next_style(composer), ALIGN_END, end, y, 0, COLOUR_INK);
	end_group(composer);
	if (!foot->arrow)
		return;
	begin_artifact(composer);
	put_arrow(composer, composer->right - ARROW_LENGTH, y + text_cap_height(next_style(composer)) / 2,
	          ARROW_LENGTH);
	end_group(composer);
}

static void put_foot(const struct grid_work *work, const struct grid_sheet *sheet, const struct foot *foot, double y)
{
	struct composer *composer = work->composer;
	struct text_style style = foot_style(composer);
	double top = y + FOOT_GAP;
	double right = top;
	if (foot->legend) {
		begin_group(composer, ROLE_PARAGRAPH);
		grid_put_legend(sheet, composer->right, top);
		end_group(composer);
		right += FOOT_LEADING;
	}
	struct rect words = put_paragraph(composer, foot->words, style, composer->left, top, left_width(foot));
	double below = foot->words == NULL ? top : words.y + words.height + FOOT_LEADING - text_cap_height(style);
	put_paragraph(composer, foot->notes, style, composer->left, below, left_width(foot));
	put_next(composer, foot, right);
}

/* ---- pages ---- */

static void open_sheet(const struct grid_work *work, size_t range, size_t set)
{
	const struct row_range *rows = &work->ranges[range];
	const struct column_set *columns = &rows->sets[set];
	size_t sister = sister_of(rows, columns);
	const char *page = sister < rows->n_sets ? page_words(work, range, sister) : NULL;
	composer_new_page_with_sign(work->composer, title_of(work, rows, columns), lead_of(work, rows, columns, page),
	                            sign_of(columns));
}

/* What waits goes below the last rows, and on to further pages. */
static void put_waiting(const struct grid_work *work, double y)
{
	struct composer *composer = work->composer;
	for (size_t i = 0; i < work->grid->n_waiting; i++) {
		const struct grid_waiting *waiting = &work->grid->waiting[i];
		double height = waiting_height(composer, waiting);
		if (y + height > composer->bottom + TOLERANCE) {
			composer_continue(composer, composer->section->title,
			                  say0(composer->speaker, "grid.waiting_lead"));
			y = composer->top;
		}
		waiting_put(composer, waiting, y);
		y += height;
	}
}

/* Spare height goes to rows and exact times alike, as far as each can use it. Returns the height of a plain row. */
static double share_height(struct grid_sheet *sheet, double fixed)
{
	double room = sheet->composer->bottom - sheet->composer->top - fixed;
	size_t takers = grid_plain_rows(sheet) + grid_exact_times(sheet);
	double spare = room - grid_rows_height(sheet, GRID_ROW_LEAST);
	if (takers == 0 || spare <= 0)
		return GRID_ROW_LEAST;
	grid_grow_exact_times(sheet, fmin(spare / (double)takers, GRID_EXACT_GROWTH));
	size_t plain = grid_plain_rows(sheet);
	spare = room - grid_rows_height(sheet, GRID_ROW_LEAST);
	return plain == 0 ? GRID_ROW_LEAST : fmin(GRID_ROW_LEAST + spare / (double)plain, GRID_ROW_MOST);
}

static void put_sheet(const struct grid_work *work, size_t range, size_t set)
{
	struct composer *composer = work->composer;
	const struct row_range *rows = &work->ranges[range];
	open_sheet(work, range, set);
	struct grid_sheet sheet = sheet_of(work, rows, set);
	double head = grid_head_height(&sheet);
	double waiting = waiting_below(work, rows);
	double room = composer->bottom - composer->top - head - grid_rows_height(&sheet, GRID_ROW_LEAST) - waiting;
	struct foot foot = foot_of(work, &sheet, range, room);
	double row_height = share_height(&sheet, head + foot.height + waiting);

	begin_group(composer, ROLE_TABLE);
	grid_put_head(&sheet, composer->top);
	grid_put_rows(&sheet, composer->top + head, row_height);
	end_group(composer);
	double y = composer->top + head + grid_rows_height(&sheet, row_height);
	put_foot(work, &sheet, &foot, y);
	if (range + 1 == work->n_ranges && set + 1 == rows->n_sets)
		put_waiting(work, y + foot.height + FOOT_BELOW);
}

void grid_place(struct composer *composer, const struct grid *grid)
{
	if (composer->large_print) {
		large_grid(composer, grid);
		return;
	}
	struct grid_work work = {.composer = composer, .grid = grid, .least = grid_least_widths(composer, grid, true)};
	if (!all_fit(&work))
		work.least = grid_least_widths(composer, grid, false);
	work.halves = !all_fit(&work);
	share_out_rows(&work);
	if (grid->n_rows == 0) {
		composer_new_page(composer, composer->section->title, composer->section->lead);
		put_waiting(&work, composer->top);
		return;
	}
	for (size_t i = 0; i < work.n_ranges; i++)
		for (size_t j = 0; j < work.ranges[i].n_sets; j++)
			put_sheet(&work, i, j);
}
