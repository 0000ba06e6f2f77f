/*
 * overview_table.c - every medicine of the overview on one time line.
 *
 * A course of about two weeks has a block a day; a longer one has runs as one
 * notched bar with a rule before each week, so that days can still be counted.
 */
#include "page/overview.h"

#include <math.h>
#include <string.h>

#define HEADING_BELOW 3.6 /* to the day numbers */
#define NUMBERS_BELOW 1.8 /* to the rule */
#define HEAD_BELOW 2.6    /* of the heading, where it is the head's first word */
#define LEGEND_ABOVE 3.4
#define LEGEND_LEADING 6.0
#define ROW_PAD 1.9

#define DAYS_WIDTH 77.0
#define WORDS_WIDTH 50.0 /* for words in place of days */
#define LARGE_DAYS_WIDTH 160.0
#define LARGE_PITCH_MOST 9.0
#define PITCH_MOST 5.14
#define PITCH_BLOCKS 4.2 /* narrower days are runs in a bar */
#define BLOCK_GAP 0.65
#define BLOCK_HEIGHT 4.3
#define LARGE_BLOCK_HEIGHT 7.0
#define LARGE_HALF_BLOCK 4.4 /* an exact day's ring reaches as far */
#define DAY_WORD_GAP 1.8     /* the head's word to the first number */
#define NOTCH 0.28
#define DOT 0.5
#define RING_RADIUS 4.4
#define RING_LEAST 3.4
#define RING_CLEAR 0.6
#define EXACT_RING 1.2
#define DONE_HEIGHT 0.3 /* of a block's */
#define CHEVRON 0.36    /* of a block's height: how far it reaches to every side */
#define CHEVRON_GAP 0.7
#define DAYS_IN_WEEK 7

#define NAME_X_OPEN 16.0
#define PICTURE_OPEN 12.0
#define TIME_GAP 4.5 /* between times and days */
#define TIME_LEAST 14.0
#define NAME_GAP 3.0 /* between names and times */
#define PAGE_GAP 2.4 /* between name and page */
#define NAME_BETWEEN 2.4
#define NAME_LINES 5

struct day_line {
	double x; /* where day 1 begins */
	double pitch;
	bool blocks; /* one a day */
};

/* Words in place of days need their room however short the course is. */
static bool says_instead(const struct overview *overview)
{
	for (size_t i = 0; i < overview->n_rows; i++)
		if (overview->rows[i].days == NULL)
			return true;
	return false;
}

static struct day_line day_line_of(const struct composer *composer, const struct overview *overview)
{
	double n = overview->n_days < 1 ? 1 : overview->n_days;
	if (composer->large_print) {
		double pitch = fmin(LARGE_PITCH_MOST, LARGE_DAYS_WIDTH / n);
		return (struct day_line){composer->right - LARGE_DAYS_WIDTH, pitch, pitch >= PITCH_BLOCKS};
	}
	double pitch = fmin(PITCH_MOST, DAYS_WIDTH / n);
	double width = says_instead(overview) ? fmax(n * pitch, WORDS_WIDTH) : n * pitch;
	return (struct day_line){composer->right - width, pitch, pitch >= PITCH_BLOCKS};
}

static struct text_style small_style(const struct composer *composer, enum text_weight weight)
{
	return composer_style(composer, TYPE_REFERENCE, weight);
}

static double time_right(const struct composer *composer, const struct overview *overview)
{
	return day_line_of(composer, overview).x - TIME_GAP;
}

static double name_x(const struct composer *composer)
{
	return composer->left + NAME_X_OPEN;
}

/* ---- times ---- */

/*
 * One time is large, with its word above; set closer, and where there are
 * several one above the other, each stands beside its word; more than WORDED_TIMES stand in two columns without.
 */
#define WORDED_TIMES 4
#define TIME_BETWEEN 1.9
#define TIME_PAD 1.2 /* above and below */
#define TIME_COLUMN 11.2

static bool one_above(const struct overview_form *form, const struct overview_row *row)
{
	return row->n_times == 1 && !form->times_beside;
}

static struct text_style times_style(const struct overview_form *form, const struct overview_row *row)
{
	return (struct text_style){.size = one_above(form, row) ? form->time_size
	                                   : row->n_times <= 2  ? 12
	                                                        : 10,
	                           .weight = row->times_bold ? WEIGHT_BOLD : WEIGHT_REGULAR,
	                           .tabular = true};
}

static const char *worded_time(struct composer *composer, const struct overview_time *time)
{
	return arena_printf(composer->arena, "%s %s", time->word, time->time);
}

static size_t time_columns(const struct overview_row *row)
{
	return row->n_times > WORDED_TIMES ? 2 : 1;
}

static size_t time_lines(const struct overview_row *row)
{
	return (row->n_times + time_columns(row) - 1) / time_columns(row);
}

static double times_height(const struct composer *composer, const struct overview_form *form,
                           const struct overview_row *row)
{
	double cap = text_cap_height(times_style(form, row));
	if (row->n_times == 0)
		return 0;
	if (one_above(form, row))
		return text_cap_height(small_style(composer, WEIGHT_REGULAR)) + TIME_BETWEEN + cap;
	return (double)time_lines(row) * (cap + TIME_BETWEEN) - TIME_BETWEEN;
}

static double times_width(struct composer *composer, const struct overview_form *form, const struct overview_row *row)
{
	double width = time_columns(row) > 1 ? 2 * TIME_COLUMN : 0;
	for (size_t i = 0; i < row->n_times && time_columns(row) == 1; i++) {
		const struct overview_time *time = &row->times[i];
		struct text_style style = times_style(form, row);
		width = fmax(width, one_above(form, row)
		                            ? fmax(composer_text_width(composer, time->time, style),
		                                   composer_text_width(composer, time->word,
		                                                       small_style(composer, WEIGHT_REGULAR)))
		                            : composer_text_width(composer, worded_time(composer, time), style));
	}
	return width;
}

static double time_left(struct composer *composer, const struct overview_form *form, const struct overview *overview)
{
	double width = TIME_LEAST;
	for (size_t i = 0; i < overview->n_rows; i++)
		width = fmax(width, times_width(composer, form, &overview->rows[i]));
	return time_right(composer, overview) - width;
}

static double name_width(struct composer *composer, const struct overview_form *form, const struct overview *overview)
{
	return time_left(composer, form, overview) - NAME_GAP - name_x(composer);
}

static struct text_style name_style(const struct composer *composer)
{
	struct text_style style = composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	style.leading = 5.4;
	return style;
}

static struct text_style purpose_style(const struct composer *composer, const struct overview_form *form)
{
	struct text_style style = composer_style(composer, form->purpose_role, WEIGHT_REGULAR);
	style.leading = form->purpose_role == TYPE_BODY ? 4.9 : 4.1;
	return style;
}

/* ---- heights ---- */

/* The name, its pages beside it; below it where one line does not hold both. */
struct name_form {
	const struct text_block *block;
	bool pages_below;
};

static struct name_form name_form_of(struct composer *composer, const struct overview_form *form,
                                     const struct overview *overview, const struct overview_row *row)
{
	double width = name_width(composer, form, overview);
	struct name_form name = {0};
	if (row->section >= 0) {
		double pages = composer_text_width(composer, composer_page_refs(composer, row->section),
		                                   small_style(composer, WEIGHT_REGULAR));
		double beside = width - PAGE_GAP - pages;
		name.pages_below = composer_text_width(composer, row->name, name_style(composer)) > beside;
		width = name.pages_below ? width : beside;
	}
	name.block = composer_set_name(composer, row->name, name_style(composer), width, NAME_LINES);
	return name;
}

static double pages_height(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                           const struct overview_row *row, const struct name_form *name)
{
	if (!name->pages_below)
		return 0;
	return NAME_BETWEEN + composer_text_height(composer, composer_page_refs(composer, row->section),
	                                           small_style(composer, WEIGHT_REGULAR),
	                                           name_width(composer, form, overview));
}

static double words_height(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                           const struct overview_row *row)
{
	struct name_form name = name_form_of(composer, form, overview, row);
	double height = text_height(name.block) + pages_height(composer, form, overview, row, &name);
	double purpose = composer_text_height(composer, row->purpose, purpose_style(composer, form),
	                                      name_width(composer, form, overview));
	return height + (purpose > 0 ? NAME_BETWEEN + purpose : 0);
}

static double row_height(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                         const struct overview_row *row)
{
	double words = words_height(composer, form, overview, row) + 2 * ROW_PAD;
	return fmax(form->row_least, fmax(words, times_height(composer, form, row) + 2 * TIME_PAD));
}

static struct text_style head_style(const struct composer *composer)
{
	return composer_style(composer, TYPE_LEAD, WEIGHT_BOLD);
}

/* Set closer, the heading is the head's first word, if that holds it. */
static bool heading_above(struct composer *composer, const struct overview_form *form, const struct overview *overview)
{
	return form->heading || composer_text_width(composer, overview->heading, head_style(composer)) >
	                                time_left(composer, form, overview) - composer->left - NAME_GAP;
}

static double head_height(struct composer *composer, const struct overview_form *form, const struct overview *overview)
{
	if (!heading_above(composer, form, overview))
		return text_cap_height(head_style(composer)) + HEAD_BELOW;
	return text_cap_height(composer_style(composer, TYPE_SECTION, WEIGHT_BOLD)) + HEADING_BELOW +
	       text_cap_height(small_style(composer, WEIGHT_BOLD)) + NUMBERS_BELOW;
}

/* ---- legend ---- */

enum legend { LEGEND_DONE, LEGEND_TAKE, LEGEND_SOONER, LEGEND_WAIT, LEGEND_OFF, LEGEND_EXACT, N_LEGENDS };

#define LEGEND_SIGN 9.0
#define LEGEND_GAP 8.0

static const char *legend_text(const struct overview *overview, enum legend legend)
{
	switch (legend) {
	case LEGEND_DONE:
		return overview->any_done ? overview->legend_done : NULL;
	case LEGEND_SOONER:
		return overview->any_sooner ? overview->legend_sooner : NULL;
	case LEGEND_WAIT:
		return overview->any_wait ? overview->legend_wait : NULL;
	case LEGEND_OFF:
		return overview->any_off ? overview->legend_off : NULL;
	case LEGEND_EXACT:
		return overview->any_exact ? overview->legend_exact : NULL;
	case LEGEND_TAKE:
	case N_LEGENDS:
		break;
	}
	return overview->legend_take;
}

static double block_height(const struct composer *composer)
{
	return composer->large_print ? LARGE_BLOCK_HEIGHT : BLOCK_HEIGHT;
}

static void put_block_of_day(struct composer *composer, double x, double middle, double width)
{
	struct box box = {.radius = 0.8, .fill = COLOUR_DAY, .stroke = COLOUR_NONE};
	put_box(composer, (struct rect){x, middle - block_height(composer) / 2, width, block_height(composer)}, box);
}

/* Low: an empty box would be one to tick. */
static void put_done(struct composer *composer, double x, double middle, double width)
{
	double height = block_height(composer) * DONE_HEIGHT;
	struct box box = {.radius = height / 2, .fill = COLOUR_DAY, .stroke = COLOUR_NONE};
	put_box(composer, (struct rect){x, middle - height / 2, width, height}, box);
}

/* Points back from the first day of a run: it may begin sooner. */
static void put_chevron(struct composer *composer, double right, double middle)
{
	double reach = block_height(composer) * CHEVRON;
	struct point tip = {right - reach, middle};
	put_rule(composer, (struct point){right, middle - reach}, tip, LINE_STRONG, COLOUR_INK);
	put_rule(composer, tip, (struct point){right, middle + reach}, LINE_STRONG, COLOUR_INK);
}

#define CORNER_SHARE 0.3 /* of the shorter side */

/* Dashes of so small a frame would fall as they like: its four corners say 'open' alike. */
static void put_corners(struct composer *composer, struct rect area)
{
	double leg = CORNER_SHARE * fmin(area.width, area.height);
	for (int i = 0; i < 4; i++) {
		double inwards = i % 2 == 0 ? 1 : -1;
		double down = i < 2 ? 1 : -1;
		struct point corner = {area.x + (i % 2) * area.width, area.y + (i / 2) * area.height};
		put_rule(composer, (struct point){corner.x - inwards * LINE_OUTLINE / 2, corner.y},
		         (struct point){corner.x + inwards * leg, corner.y}, LINE_OUTLINE, COLOUR_INK);
		put_rule(composer, corner, (struct point){corner.x, corner.y + down * leg}, LINE_OUTLINE, COLOUR_INK);
	}
}

static void put_question(struct composer *composer, double x, double middle, double width)
{
	double half = LINE_OUTLINE / 2;
	put_corners(composer, (struct rect){x + half, middle - block_height(composer) / 2 + half, width - LINE_OUTLINE,
	                                    block_height(composer) - LINE_OUTLINE});
	struct text_style style = small_style(composer, WEIGHT_BOLD);
	if (width > composer_text_width(composer, "?", style) + 1)
		put_text(composer, "?", style, ALIGN_CENTER, x + width / 2, middle - text_cap_height(style) / 2, 0,
		         COLOUR_INK);
}

static void put_ring(struct composer *composer, double x, double middle, double radius)
{
	struct box ring = {.radius = radius, .line = LINE_ALARM, .stroke = COLOUR_RUST, .fill = COLOUR_WHITE};
	put_box(composer, (struct rect){x - radius, middle - radius, 2 * radius, 2 * radius}, ring);
}

/* Points up and away: off it comes. */
static void put_off(struct composer *composer, double x, double middle, double width)
{
	double half = fmin(width, block_height(composer)) / 2;
	struct point tip = {x, middle - half / 2};
	put_rule(composer, (struct point){x - half, middle + half / 2}, tip, LINE_STRONG, COLOUR_INK);
	put_rule(composer, tip, (struct point){x + half, middle + half / 2}, LINE_STRONG, COLOUR_INK);
}

static void put_legend_sign(struct composer *composer, enum legend legend, double x, double middle)
{
	switch (legend) {
	case LEGEND_DONE:
		put_done(composer, x + 1.2, middle, PITCH_MOST - BLOCK_GAP);
		break;
	case LEGEND_TAKE:
		put_block_of_day(composer, x + 1.2, middle, PITCH_MOST - BLOCK_GAP);
		break;
	case LEGEND_SOONER:
		put_block_of_day(composer, x + 1.2, middle, PITCH_MOST - BLOCK_GAP);
		put_chevron(composer, x + 1.2 - CHEVRON_GAP, middle);
		break;
	case LEGEND_WAIT:
		put_question(composer, x + 1.2, middle, PITCH_MOST - BLOCK_GAP);
		break;
	case LEGEND_OFF:
		put_off(composer, x + 1.2 + (PITCH_MOST - BLOCK_GAP) / 2, middle, PITCH_MOST - BLOCK_GAP);
		break;
	case LEGEND_EXACT:
		put_ring(composer, x + 3.6, middle, 2.3);
		break;
	case N_LEGENDS:
		break;
	}
}

/* Walks the legend's items, line by line; puts them when `put`. Returns the height. */
static double walk_legend(struct composer *composer, const struct overview *overview, double y, bool put)
{
	struct text_style style = composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
	double start = name_x(composer) - 1.2;
	double x = start;
	double top = y + LEGEND_ABOVE;
	for (enum legend legend = LEGEND_DONE; legend < N_LEGENDS; legend++) {
		const char *text = legend_text(overview, legend);
		double width = LEGEND_SIGN + composer_text_width(composer, text, style);
		if (text == NULL)
			continue;
		if (x > start && x + width > composer->right) {
			x = start;
			top += LEGEND_LEADING;
		}
		if (put) {
			begin_artifact(composer);
			put_legend_sign(composer, legend, x, top + text_cap_height(style) / 2);
			end_group(composer);
			put_paragraph(composer, text, style, x + LEGEND_SIGN - 1.2, top, 0);
		}
		x += width + LEGEND_GAP;
	}
	return top + text_cap_height(style) - y;
}

double overview_table_height(struct composer *composer, const struct overview_form *form,
                             const struct overview *overview)
{
	double height = head_height(composer, form, overview) + walk_legend(composer, overview, 0, false);
	for (size_t i = 0; i < overview->n_rows; i++)
		height += row_height(composer, form, overview, &overview->rows[i]);
	return height;
}

/* ---- head ---- */

/* Which days are numbered: all where each has a block, else the first of each week and the last. */
static bool day_numbered(const struct overview *overview, struct day_line line, int day)
{
	if (line.blocks || day == overview->n_days)
		return true;
	return (day - 1) % DAYS_IN_WEEK == 0 && overview->n_days - day >= 3;
}

/* Over its day, but within the column. */
static void put_day_number(struct composer *composer, struct day_line line, int day, struct text_style style, double y)
{
	const char *number = arena_printf(composer->arena, "%d", day);
	double half = composer_text_width(composer, number, style) / 2;
	double x = fmin(line.x + (day - 0.5) * line.pitch, composer->right - half);
	put_text(composer, number, style, ALIGN_CENTER, x, y, 0, COLOUR_INK);
}

static void put_head_word(struct composer *composer, const char *word, struct text_style style, double x, double y)
{
	begin_head_cell(composer, SCOPE_COLUMN);
	put_text(composer, word, style, ALIGN_START, x, y, 0, COLOUR_INK);
	end_group(composer);
}

static void put_head(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                     double bottom)
{
	struct day_line line = day_line_of(composer, overview);
	struct text_style bold = small_style(composer, WEIGHT_BOLD);
	double y = bottom - NUMBERS_BELOW - text_cap_height(bold);
	begin_group(composer, ROLE_ROW);
	struct text_style word = small_style(composer, WEIGHT_REGULAR);
	struct text_style heading = head_style(composer);
	if (heading_above(composer, form, overview))
		put_head_word(composer, overview->medicine_word, word, name_x(composer), y);
	else
		put_head_word(composer, overview->heading, heading, composer->left,
		              bottom - HEAD_BELOW - text_cap_height(heading));
	put_head_word(composer, overview->time_word, word, time_left(composer, form, overview), y);
	begin_head_cell(composer, SCOPE_COLUMN);
	put_text(composer, overview->day_word, small_style(composer, WEIGHT_REGULAR),
	         overview->n_days > 0 ? ALIGN_END : ALIGN_START, line.x - (overview->n_days > 0 ? DAY_WORD_GAP : 0), y,
	         0, COLOUR_INK);
	begin_artifact(composer);
	for (int day = 1; day <= overview->n_days; day++)
		if (day_numbered(overview, line, day))
			put_day_number(composer, line, day, bold, y);
	end_group(composer);
	end_group(composer);
	end_group(composer);
	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, bottom, LINE_MAIN);
	end_group(composer);
}

/* ---- days ---- */

/* How many days from `day` (0 is the first) are of one state. */
static int run_length(const struct overview *overview, const struct overview_row *row, int day)
{
	int n = 1;
	while (day + n < overview->n_days && row->days[day] == row->days[day + n])
		n++;
	return n;
}

/* As large as leaves the dots of the days beside it clear; smaller than RING_LEAST, it stands in their place. */
static double exact_radius(struct day_line line)
{
	double most = line.blocks ? RING_RADIUS : RING_RADIUS - 0.7;
	double clear = line.pitch - DOT / 2 - EXACT_RING / 2 - RING_CLEAR;
	return clear < RING_LEAST ? most : fmin(most, clear);
}

/* A dot would show beside the ring of the day next to it. */
static bool near_exact(const struct overview *overview, const struct overview_row *row, struct day_line line, int day)
{
	int reach = (int)ceil((exact_radius(line) + DOT) / line.pitch);
	for (int other = day - reach; other <= day + reach; other++)
		if (other >= 0 && other < overview->n_days && row->days[other] == DAY_EXACT &&
		    fabs((double)(other - day)) * line.pitch < exact_radius(line) + DOT)
			return true;
	return false;
}

static void put_run(struct composer *composer, struct day_line line, int day, int n, double middle)
{
	double x = line.x + day * line.pitch;
	if (line.blocks) {
		for (int i = 0; i < n; i++)
			put_block_of_day(composer, x + i * line.pitch + BLOCK_GAP / 2, middle, line.pitch - BLOCK_GAP);
		return;
	}
	put_block_of_day(composer, x + NOTCH / 2, middle, n * line.pitch - NOTCH);
	begin_inside(composer);
	for (int i = 1; i < n; i++) {
		double notch = x + i * line.pitch;
		put_rule(composer, (struct point){notch, middle - block_height(composer) / 2},
		         (struct point){notch, middle + block_height(composer) / 2}, NOTCH, COLOUR_WHITE);
	}
	end_inside(composer);
}

static void put_done_run(struct composer *composer, struct day_line line, int day, int n, double middle)
{
	double x = line.x + day * line.pitch;
	if (!line.blocks)
		put_done(composer, x + NOTCH / 2, middle, n * line.pitch - NOTCH);
	for (int i = 0; i < n && line.blocks; i++)
		put_done(composer, x + i * line.pitch + BLOCK_GAP / 2, middle, line.pitch - BLOCK_GAP);
}

static void put_waiting_run(struct composer *composer, struct day_line line, int day, int n, double middle)
{
	double x = line.x + day * line.pitch;
	if (!line.blocks) {
		put_question(composer, x, middle, n * line.pitch);
		return;
	}
	for (int i = 0; i < n; i++)
		put_question(composer, x + i * line.pitch + BLOCK_GAP / 2, middle, line.pitch - BLOCK_GAP);
}

/* Of a run that a call may bring forward: days of it without a dose stand between. */
static bool is_first_sooner(const struct overview_row *row, int day)
{
	if (row->days[day] != DAY_SOONER)
		return false;
	for (int other = 0; other < day; other++)
		if (row->days[other] == DAY_SOONER)
			return false;
	return true;
}

static void put_dots(struct composer *composer, const struct overview *overview, const struct overview_row *row,
                     struct day_line line, int day, int n, double middle)
{
	struct box dot = {.radius = DOT / 2, .fill = COLOUR_INK, .stroke = COLOUR_NONE};
	for (int i = day; i < day + n; i++)
		if (!near_exact(overview, row, line, i) && !(i + 1 < overview->n_days && is_first_sooner(row, i + 1)))
			put_box(composer,
			        (struct rect){line.x + (i + 0.5) * line.pitch - DOT / 2, middle - DOT / 2, DOT, DOT},
			        dot);
}

/* The chevron stands where the dot of the day before would. */
static void put_sooner_run(struct composer *composer, const struct overview_row *row, struct day_line line, int day,
                           int n, double middle)
{
	put_run(composer, line, day, n, middle);
	if (is_first_sooner(row, day))
		put_chevron(composer, line.x + day * line.pitch - CHEVRON_GAP, middle);
}

static void put_exact_day(struct composer *composer, const struct overview_row *row, struct day_line line, int day,
                          double middle)
{
	begin_inside(composer);
	put_clock(composer, (struct point){line.x + (day + 0.5) * line.pitch, middle}, exact_radius(line),
	          row->exact_time, EXACT_RING, COLOUR_RUST);
	end_inside(composer);
}

/* "days 1 to 8: take it; days 9 to 10: only when the clinic calls", for who cannot see the line. */
const char *overview_days_spoken(struct composer *composer, const struct overview *overview,
                                 const struct overview_row *row)
{
	static const enum legend legends[] = {[DAY_TAKE] = LEGEND_TAKE,
	                                      [DAY_SOONER] = LEGEND_SOONER,
	                                      [DAY_WAIT] = LEGEND_WAIT,
	                                      [DAY_OFF] = LEGEND_OFF,
	                                      [DAY_EXACT] = LEGEND_EXACT};
	struct speaker *speaker = composer->speaker;
	const char *all = "";
	for (int day = 0, n; day < overview->n_days; day += n) {
		n = run_length(overview, row, day);
		if (row->days[day] == DAY_NOTHING)
			continue;
		const char *from = arena_printf(composer->arena, "%d", day + 1);
		const char *range = n == 1 ? from
		                           : say2(speaker, "days.range", "from", from, "to",
		                                  arena_printf(composer->arena, "%d", day + n));
		const char *days = say1(speaker, n == 1 ? "days.one" : "days.many", "days", range);
		const char *what = legend_text(overview, legends[row->days[day]]);
		const char *one = say2(speaker, "overview.days_are", "days", days, "what", what);
		all = arena_printf(composer->arena, "%s%s%s", all, all[0] == '\0' ? "" : " ", one);
	}
	return all;
}

static void put_days(struct composer *composer, const struct overview *overview, const struct overview_row *row,
                     double middle)
{
	struct day_line line = day_line_of(composer, overview);
	begin_chart(composer, overview_days_spoken(composer, overview, row));
	for (int day = 0, n; day < overview->n_days; day += n) {
		n = run_length(overview, row, day);
		switch (row->days[day]) {
		case DAY_NOTHING:
			put_dots(composer, overview, row, line, day, n, middle);
			break;
		case DAY_DONE:
			put_done_run(composer, line, day, n, middle);
			break;
		case DAY_TAKE:
			put_run(composer, line, day, n, middle);
			break;
		case DAY_SOONER:
			put_sooner_run(composer, row, line, day, n, middle);
			break;
		case DAY_WAIT:
			put_waiting_run(composer, line, day, n, middle);
			break;
		case DAY_OFF:
			for (int i = day; i < day + n; i++)
				put_off(composer, line.x + (i + 0.5) * line.pitch, middle, line.pitch - BLOCK_GAP);
			break;
		case DAY_EXACT:
			break;
		}
	}
	for (int day = 0; day < overview->n_days; day++)
		if (row->days[day] == DAY_EXACT)
			put_exact_day(composer, row, line, day, middle);
	end_group(composer);
}

/* With the page that says more: beside the words, or below them where both are too long for a line. */
static const char *instead_words(struct composer *composer, const struct overview_row *row, struct text_style style,
                                 double room)
{
	if (row->waiting < 0)
		return row->instead;
	const char *page = composer_page_ref(composer, row->waiting);
	const char *words = say2(composer->speaker, "overview.instead_page", "what", row->instead, "page", page);
	if (composer_text_width(composer, words, style) <= room)
		return words;
	return arena_printf(composer->arena, "%s\n%s", row->instead, page);
}

/* Of large print: the first of each week and the last, over the line. */
void overview_put_day_line(struct composer *composer, const struct overview *overview, const struct overview_row *row,
                           double y)
{
	struct day_line line = day_line_of(composer, overview);
	struct text_style style = small_style(composer, WEIGHT_BOLD);
	line.blocks = false; /* numbers as of a long course */
	begin_artifact(composer);
	for (int day = 1; day <= overview->n_days; day++)
		if (day_numbered(overview, line, day))
			put_day_number(composer, line, day, style, y);
	end_group(composer);
	put_days(composer, overview, row, y + text_cap_height(style) + NUMBERS_BELOW + LARGE_HALF_BLOCK);
}

/* Words in place of days, in a dashed bar where they wait for a call. */
static void put_instead(struct composer *composer, const struct overview *overview, const struct overview_row *row,
                        double middle)
{
	struct day_line line = day_line_of(composer, overview);
	double width = composer->right - line.x;
	struct text_style style = small_style(composer, row->waits ? WEIGHT_BOLD : WEIGHT_REGULAR);
	style.leading = 4.1;
	double sign = row->waits ? 8.4 : 0;
	double room = width - sign - (row->waits ? 2 : 0);
	const char *words = instead_words(composer, row, style, room);
	double height = composer_text_height(composer, words, style, room);
	if (row->waits) {
		double bar = fmax(height + 3.4, 6.4);
		begin_artifact(composer);
		put_dashed_frame(composer, (struct rect){line.x + 0.25, middle - bar / 2, width - 0.5, bar}, LINE_MAIN);
		put_picture(composer, PICTURE_PHONE, line.x + 1.8, middle - 2.5, 5);
		end_group(composer);
	}
	put_plain(composer, words, style, line.x + sign, middle - height / 2, room);
}

/* ---- a row ---- */

static void put_times(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                      const struct overview_row *row, double middle)
{
	struct text_style style = times_style(form, row);
	double right = time_right(composer, overview);
	double top = middle - times_height(composer, form, row) / 2;
	double pitch = text_cap_height(style) + TIME_BETWEEN;
	size_t lines = time_lines(row);
	if (one_above(form, row)) {
		struct text_style word = small_style(composer, WEIGHT_REGULAR);
		put_text(composer, row->times[0].word, word, ALIGN_END, right, top, 0, COLOUR_INK);
		put_text(composer, row->times[0].time, style, ALIGN_END, right,
		         top + text_cap_height(word) + TIME_BETWEEN, 0, COLOUR_INK);
		return;
	}
	for (size_t i = 0; i < row->n_times; i++) {
		bool worded = time_columns(row) == 1;
		double x = right - (double)(time_columns(row) - 1 - i / lines) * TIME_COLUMN;
		put_text(composer, worded ? worded_time(composer, &row->times[i]) : row->times[i].time, style,
		         ALIGN_END, x, top + (double)(i % lines) * pitch, 0, COLOUR_INK);
	}
}

static void put_name(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                     const struct overview_row *row, double middle)
{
	double top = middle - words_height(composer, form, overview, row) / 2;
	struct name_form form_of_name = name_form_of(composer, form, overview, row);
	const struct text_block *block = form_of_name.block;
	struct rect name = put_block(composer, block, ALIGN_START, name_x(composer), top, COLOUR_INK);
	struct text_style small = small_style(composer, WEIGHT_REGULAR);
	double baseline = top + text_cap_height(*text_style_of(block));
	double end = name.y + name.height;
	if (form_of_name.pages_below)
		put_page_refs(composer, row->section, small, ALIGN_START, name_x(composer), end + NAME_BETWEEN,
		              name_width(composer, form, overview));
	else
		put_page_refs(composer, row->section, small, ALIGN_START, name.x + name.width + PAGE_GAP,
		              baseline - text_cap_height(small), 0);
	end += pages_height(composer, form, overview, row, &form_of_name);
	put_plain(composer, row->purpose, purpose_style(composer, form), name_x(composer), end + NAME_BETWEEN,
	          name_width(composer, form, overview));
}

static void put_row(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                    const struct overview_row *row, double y, double height)
{
	double middle = y + height / 2;
	double picture = fmin(PICTURE_OPEN, form->row_least - 1.6);
	begin_group(composer, ROLE_ROW);
	begin_head_cell(composer, SCOPE_ROW);
	begin_artifact(composer);
	put_picture(composer, row->pictogram, composer->left + 0.5, middle - picture / 2, picture);
	end_group(composer);
	put_name(composer, form, overview, row, middle);
	end_group(composer);
	begin_group(composer, ROLE_CELL);
	put_times(composer, form, overview, row, middle);
	end_group(composer);
	begin_group(composer, ROLE_CELL);
	if (row->days != NULL)
		put_days(composer, overview, row, middle);
	else
		put_instead(composer, overview, row, middle);
	end_group(composer);
	end_group(composer);
}

/* A fine rule before each week, on the rows that show days. */
static void put_week_rules(struct composer *composer, const struct overview *overview, double y, double height)
{
	struct day_line line = day_line_of(composer, overview);
	for (int day = DAYS_IN_WEEK; !line.blocks && day < overview->n_days; day += DAYS_IN_WEEK) {
		double x = line.x + day * line.pitch;
		put_rule(composer, (struct point){x, y}, (struct point){x, y + height}, LINE_HAIR, COLOUR_INK);
	}
}

/* ---- the table ---- */

static double open_table(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                         double y)
{
	if (heading_above(composer, form, overview))
		put_heading(composer, ROLE_H2, overview->heading, composer_style(composer, TYPE_SECTION, WEIGHT_BOLD),
		            composer->left, y, LIVE_WIDTH);
	double bottom = y + head_height(composer, form, overview);
	begin_group(composer, ROLE_TABLE);
	put_head(composer, form, overview, bottom);
	return bottom;
}

static void close_table(struct composer *composer, double y)
{
	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, y, LINE_MAIN);
	end_group(composer);
	end_group(composer);
}

double overview_put_table(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                          double y, double growth)
{
	double legend = walk_legend(composer, overview, 0, false);
	y = open_table(composer, form, overview, y);
	for (size_t i = 0; i < overview->n_rows; i++) {
		const struct overview_row *row = &overview->rows[i];
		double height = row_height(composer, form, overview, row) + growth;
		if (y + height + legend > composer->bottom + TOLERANCE) {
			close_table(composer, y);
			overview_continue(composer);
			y = open_table(composer, form, overview, composer->top);
		} else if (i > 0) {
			begin_artifact(composer);
			put_line(composer, composer->left, composer->right, y, LINE_HAIR);
			end_group(composer);
		}
		if (row->days != NULL) {
			begin_artifact(composer);
			put_week_rules(composer, overview, y, height);
			end_group(composer);
		}
		put_row(composer, form, overview, row, y, height);
		y += height;
	}
	close_table(composer, y);
	return y + walk_legend(composer, overview, y, true);
}
