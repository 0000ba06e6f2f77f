#include "page/parts.h"

#include "page/caution.h"
#include "page/notes.h"

#include <assert.h>
#include <math.h>

#define ROW_GROWTH 7.0 /* what a row of pairs may grow by */

void parts_add(struct page_parts *parts, double (*height)(struct composer *composer, const void *what),
               void (*put)(struct composer *composer, const void *what, double y), const void *what)
{
	assert(parts->n < PARTS_MOST);
	parts->list[parts->n++] = (struct page_part){height, put, what};
}

struct page_parts parts_of_front(const struct medicine_sheet *sheet)
{
	return (struct page_parts){.title = sheet->front_title,
	                           .lead = sheet->front_lead,
	                           .purpose = sheet->purpose,
	                           .picture = sheet->picture};
}

/* ---- the steps ---- */

static double heading_after(const struct composer *composer)
{
	return composer_is_tight(composer) ? 2.6 : 3.0;
}

/* From the rule to the numbers. */
static double row_top(const struct composer *composer)
{
	return composer_is_tight(composer) ? 2.0 : 3.4;
}

void parts_add_steps(struct page_parts *parts, const char *heading, const struct step *steps, size_t n,
                     const struct mark_words *white_tag)
{
	struct parts_steps *own = &parts->steps;
	size_t n_cells = step_cells(steps, n, own->cells, STEP_CELLS_MOST);
	if (n_cells == 0)
		return;
	own->heading = heading;
	own->pairs = (struct step_pairs){.cells = own->cells, .n = n_cells, .add = white_tag};
	own->row = (struct step_row){.cells = own->cells, .n = n_cells, .add = white_tag};
	parts->has_steps = true;
	parts->steps_at = parts->n;
	parts_add(parts, NULL, NULL, NULL);
}

static double heading_height(struct composer *composer, const struct parts_steps *steps)
{
	if (steps->heading == NULL)
		return 0;
	return composer_text_height(composer, steps->heading, composer_style(composer, TYPE_SECTION, WEIGHT_BOLD),
	                            LIVE_WIDTH) +
	       heading_after(composer);
}

static double steps_height(struct composer *composer, const struct parts_steps *steps)
{
	return heading_height(composer, steps) + (steps->abreast
	                                                  ? row_top(composer) + step_row_height(composer, &steps->row)
	                                                  : pairs_height(composer, &steps->pairs));
}

static void put_steps_heading(struct composer *composer, const struct parts_steps *steps, double y)
{
	struct text_style section = composer_style(composer, TYPE_SECTION, WEIGHT_BOLD);
	struct text_style note = medicine_style(composer, TYPE_BODY, WEIGHT_REGULAR);
	if (steps->heading != NULL)
		put_heading(composer, ROLE_H2, steps->heading, section, composer->left, y, LIVE_WIDTH);
	if (steps->heading == NULL || steps->note == NULL)
		return;
	begin_group(composer, ROLE_PARAGRAPH);
	put_text(composer, steps->note, note, ALIGN_END, composer->right,
	         y + text_cap_height(section) - text_cap_height(note), 0, COLOUR_INK);
	end_group(composer);
}

static void put_steps_abreast(struct composer *composer, const struct parts_steps *steps, double y)
{
	put_steps_heading(composer, steps, y);
	y += heading_height(composer, steps);
	begin_artifact(composer);
	put_line(composer, composer->left, composer->right, y, LINE_MAIN);
	end_group(composer);
	put_step_row(composer, &steps->row, y + row_top(composer));
}

/* ---- heights ---- */

static double part_height(struct composer *composer, const struct page_parts *parts, size_t index)
{
	if (parts->has_steps && index == parts->steps_at)
		return steps_height(composer, &parts->steps);
	return parts->list[index].height(composer, parts->list[index].what);
}

struct heights {
	double of[PARTS_MOST];
	double used;
	int gaps;
};

static struct heights heights_of(struct composer *composer, const struct page_parts *parts, size_t first, size_t end)
{
	struct heights heights = {.gaps = -1};
	for (size_t i = first; i < end; i++) {
		heights.of[i] = part_height(composer, parts, i);
		heights.used += heights.of[i];
		heights.gaps += heights.of[i] > 0;
	}
	heights.gaps = heights.gaps < 0 ? 0 : heights.gaps;
	return heights;
}

/* ---- the ways to set the steps, the roomiest first ---- */

static const struct {
	size_t abreast; /* 0: pairs; 1: all, at most six and at least four, in one line */
	double picture;
	enum { PLAIN, BESIDE, CORNER } way;
} forms[] = {{0, 40, PLAIN},  {0, 36, PLAIN},  {0, 32, PLAIN},  {0, 28, PLAIN},  {0, 25, PLAIN},  {0, 22, PLAIN},
             {1, 30, PLAIN},  {1, 26, PLAIN},  {1, 24, PLAIN},  {1, 22, PLAIN},  {1, 20, PLAIN},  {3, 22, BESIDE},
             {1, 18, PLAIN},  {3, 18, BESIDE}, {1, 18, CORNER}, {4, 16, BESIDE}, {1, 17, CORNER}, {1, 16, CORNER},
             {1, 15, CORNER}, {1, 14, CORNER}, {4, 14, BESIDE}, {1, 13, CORNER}, {1, 12, CORNER}, {3, 14, BESIDE}};

#define BODIES_LEAST 18.0 /* pictures of steps are not smaller than this beside bodies */
#define ONE_LINE_LEAST 4
#define ONE_LINE_MOST 6

/* False where the form does not suit so many steps. */
static bool set_form(struct parts_steps *steps, size_t form)
{
	size_t n = steps->row.n;
	steps->abreast = forms[form].abreast > 0;
	steps->pairs.picture = forms[form].picture;
	steps->row.picture = forms[form].picture;
	steps->row.beside = forms[form].way == BESIDE;
	steps->row.corner = forms[form].way == CORNER;
	steps->row.abreast = forms[form].abreast;
	if (forms[form].abreast == 1)
		steps->row.abreast = n < ONE_LINE_LEAST ? ONE_LINE_LEAST : n;
	if (forms[form].abreast == 0)
		return !steps->wide;
	/* In wider columns a picture in the corner would be far from its number. */
	if (steps->row.corner)
		return n >= ONE_LINE_LEAST && n <= ONE_LINE_MOST;
	return forms[form].abreast > 1 || (steps->wide && n <= ONE_LINE_MOST);
}

/* The first page's lead says what it is for. */
static const char *first_lead(struct composer *composer, const struct page_parts *parts)
{
	return parts->purpose == NULL ? parts->lead
	                              : arena_printf(composer->arena, "%s\n%s", parts->lead, parts->purpose);
}

/* The picture in the head gives way where parts are set closely and the title would wrap beside it. */
static enum pictogram head_picture(struct composer *composer, const struct page_parts *parts)
{
	const char *lead = first_lead(composer, parts);
	double alone = composer_content_height(composer, parts->title, lead, PICTURE_NONE);
	bool wraps = composer_content_height(composer, parts->title, lead, parts->picture) < alone;
	return composer->closeness > ROOMY && wraps ? PICTURE_NONE : parts->picture;
}

double parts_room(struct composer *composer, const char *title, const char *lead)
{
	const char *continued = say_continued(composer->speaker, title);
	return composer_content_height(composer, continued, lead, PICTURE_NONE);
}

/* What a page has for parts, and what those take that have one form only. */
struct taken {
	double room;
	double others; /* all parts but the steps */
	int gaps;      /* between those; -1 without any */
	bool steps;    /* the steps stand there too */
};

/* Of the parts from `first` on, but not `end`: on the first page, or on a further one. */
static struct taken taken_of(struct composer *composer, const struct page_parts *parts, size_t first, size_t end)
{
	struct taken taken = {.gaps = -1};
	for (size_t i = first; i < end; i++) {
		if (parts->has_steps && i == parts->steps_at) {
			taken.steps = true;
			continue;
		}
		double height = part_height(composer, parts, i);
		taken.others += height;
		taken.gaps += height > 0;
	}
	taken.room = first == 0 ? composer_content_height(composer, parts->title, first_lead(composer, parts),
	                                                  head_picture(composer, parts))
	                        : parts_room(composer, parts->title, parts->lead);
	return taken;
}

static bool fit_with_steps(struct composer *composer, const struct page_parts *parts, const struct taken *taken)
{
	double steps = taken->steps ? steps_height(composer, &parts->steps) : 0;
	int gaps = taken->gaps + (steps > 0);
	return taken->others + steps + section_gap_least(composer) * fmax(gaps, 0) <= taken->room + TOLERANCE;
}

static bool fit(struct composer *composer, const struct page_parts *parts, size_t first, size_t end)
{
	struct taken taken = taken_of(composer, parts, first, end);
	return fit_with_steps(composer, parts, &taken);
}

/* A form with a column too narrow for some word is none. */
static bool suits(struct composer *composer, struct page_parts *parts, size_t form, const struct taken *taken)
{
	struct trial trial;
	composer_begin_trial(composer, &trial);
	bool fits = set_form(&parts->steps, form) && fit_with_steps(composer, parts, taken);
	return composer_end_trial(composer, &trial) && fits;
}

static bool choose_steps(struct composer *composer, struct page_parts *parts, size_t first, size_t end)
{
	struct trial trial;
	composer_begin_trial(composer, &trial);
	struct taken taken = taken_of(composer, parts, first, end);
	if (!composer_end_trial(composer, &trial))
		return false;
	for (size_t form = 0; form < sizeof forms / sizeof *forms; form++)
		if ((composer->closeness > ROOMY || forms[form].picture >= BODIES_LEAST) &&
		    suits(composer, parts, form, &taken))
			return true;
	return false;
}

/*
 * The first form with which the parts from `first` on, but not `end`, fit one
 * page; false where none does. Bodies give way to their signs before pictures
 * of steps get small, and gaps last.
 */
static bool choose_for(struct composer *composer, struct page_parts *parts, size_t first, size_t end)
{
	for (enum closeness closeness = ROOMY; closeness <= TIGHT; closeness++) {
		composer->closeness = closeness;
		if (parts->has_steps ? choose_steps(composer, parts, first, end) : fit(composer, parts, first, end))
			return true;
	}
	return false;
}

bool parts_fit_one_page(struct composer *composer, struct page_parts *parts)
{
	bool fits = choose_for(composer, parts, 0, parts->n);
	composer->closeness = ROOMY;
	return fits;
}

void parts_spare_heading(struct composer *composer, struct page_parts *parts)
{
	const char *heading = parts->steps.heading;
	if (parts_fit_one_page(composer, parts))
		return;
	parts->steps.heading = NULL;
	if (!parts_fit_one_page(composer, parts))
		parts->steps.heading = heading;
}

static double used_by(struct composer *composer, const struct page_parts *parts, size_t first, size_t end)
{
	double used = 0;
	for (size_t i = first; i < end; i++)
		used += part_height(composer, parts, i);
	return used;
}

/* True when both the parts before `middle` and those from there on fit a page; the steps then have their form. */
static bool choose_for_two(struct composer *composer, struct page_parts *parts, size_t middle)
{
	bool steps_first = parts->steps_at < middle;
	bool fits =
		steps_first ? choose_for(composer, parts, 0, middle) : choose_for(composer, parts, middle, parts->n);
	return fits && (steps_first ? fit(composer, parts, middle, parts->n) : fit(composer, parts, 0, middle));
}

/* Where to begin the second of two pages so that they are evenly full; 0 where no two hold all. */
static size_t even_break(struct composer *composer, struct page_parts *parts)
{
	size_t best = 0;
	double least = 0;
	struct trial trial;
	composer_begin_trial(composer, &trial);
	for (size_t i = 1; i < parts->n; i++) {
		if (part_height(composer, parts, i) <= 0 || !choose_for_two(composer, parts, i))
			continue;
		double apart = fabs(used_by(composer, parts, 0, i) - used_by(composer, parts, i, parts->n));
		if (best == 0 || apart < least) {
			best = i;
			least = apart;
		}
	}
	bool found = best > 0 && choose_for_two(composer, parts, best);
	composer_end_trial(composer, &trial);
	return found ? best : 0;
}

/*
 * On one page if any form allows; else on two, of which the second begins after
 * steps that stand in one line under what they are about, or where it leaves
 * both evenly full. Returns the part that begins a page of its own; `n` where
 * none does.
 */
static size_t choose_form(struct composer *composer, struct page_parts *parts)
{
	size_t after = parts->steps_at + 1;
	if (choose_for(composer, parts, 0, parts->n) || !parts->has_steps)
		return parts->n;
	if (parts->steps.wide && choose_for(composer, parts, 0, after))
		return after;
	size_t even = even_break(composer, parts);
	if (even > 0)
		return even;
	/* Over several pages there is room for pictures that can be seen. */
	parts->steps.wide = false;
	set_form(&parts->steps, 3);
	return parts->n;
}

/* ---- the pages ---- */

/* Steps in pairs begin here if their heading and first row fit, and go on to further pages; returns where they end. */
static double put_pairs_over_pages(struct composer *composer, const struct page_parts *parts, double y, double extra)
{
	const struct parts_steps *steps = &parts->steps;
	size_t rows = (steps->pairs.n + 1) / 2;
	size_t row = 0;
	put_steps_heading(composer, steps, y);
	y += heading_height(composer, steps);
	for (;;) {
		size_t first = row;
		row = put_pairs(composer, &steps->pairs, row, y, composer->bottom, extra);
		for (size_t i = first; i < row; i++)
			y += pairs_row_height(composer, &steps->pairs, i) + extra;
		if (row >= rows)
			return y;
		composer_continue(composer, parts->title, parts->lead);
		y = composer->top;
	}
}

/* The least of a part that must fit to begin it here. */
static double beginning(struct composer *composer, const struct page_parts *parts, size_t index, double height)
{
	const struct parts_steps *steps = &parts->steps;
	if (!parts->has_steps || index != parts->steps_at || steps->abreast)
		return height;
	return heading_height(composer, steps) + pairs_row_height(composer, &steps->pairs, 0);
}

/* Spare height of the steps' page goes half to their rows, half between the parts. */
static double growth(struct composer *composer, const struct page_parts *parts, size_t breaks)
{
	size_t first = breaks <= parts->steps_at ? breaks : 0;
	struct heights heights = heights_of(composer, parts, first, first > 0 ? parts->n : breaks);
	double room = first == 0 ? composer->bottom - composer->top : parts_room(composer, parts->title, parts->lead);
	double spare = room - heights.used - section_gap_least(composer) * heights.gaps;
	size_t rows = (parts->steps.pairs.n + 1) / 2;
	if (!parts->has_steps || parts->steps.abreast || spare <= 0)
		return 0;
	return fmin(spare / 2 / (double)rows, ROW_GROWTH);
}

/* The parts from `first` on, but not `end`, that a page of their own holds share its spare height. */
static double gap_from(struct composer *composer, const struct heights *heights, size_t first, size_t end)
{
	double room = composer->bottom - composer->top;
	double used = 0;
	int gaps = -1;
	for (size_t i = first; i < end; i++) {
		if (used + heights->of[i] + section_gap_least(composer) * (gaps + 1) > room)
			break;
		used += heights->of[i];
		gaps += heights->of[i] > 0;
	}
	return gaps < 1 ? section_gap_least(composer) : section_gap(composer, used, gaps);
}

static double put_part(struct composer *composer, const struct page_parts *parts, size_t index, double y, double height,
                       double extra)
{
	bool is_steps = parts->has_steps && index == parts->steps_at;
	if (is_steps && !parts->steps.abreast)
		return put_pairs_over_pages(composer, parts, y, extra);
	if (is_steps)
		put_steps_abreast(composer, &parts->steps, y);
	else
		parts->list[index].put(composer, parts->list[index].what, y);
	return y + height;
}

void put_parts(struct composer *composer, struct page_parts *parts)
{
	size_t breaks = choose_form(composer, parts);
	composer_new_page_with_sign(composer, parts->title, first_lead(composer, parts), head_picture(composer, parts));
	struct heights heights = heights_of(composer, parts, 0, parts->n);
	double extra = growth(composer, parts, breaks);
	if (parts->has_steps) {
		double more = extra * (double)((parts->steps.pairs.n + 1) / 2);
		heights.of[parts->steps_at] += more;
	}
	double gap = gap_from(composer, &heights, 0, breaks);
	double y = composer->top;
	for (size_t i = 0; i < parts->n; i++) {
		if (heights.of[i] <= 0)
			continue;
		bool at_top = y <= composer->top;
		bool full = y + beginning(composer, parts, i, heights.of[i]) > composer->bottom + TOLERANCE;
		if (!at_top && (full || i == breaks)) {
			composer_continue(composer, parts->title, parts->lead);
			gap = gap_from(composer, &heights, i, parts->n);
			y = composer->top;
		}
		y = put_part(composer, parts, i, y, heights.of[i], extra) + gap;
	}
	fill_with_lines(composer, y);
	composer->closeness = ROOMY;
}

/* ---- shared parts ---- */

#define SHARED(name)                                                                        \
	static double name##_of(struct composer *composer, const void *sheet)               \
	{                                                                                   \
		return name##_height(composer, sheet);                                      \
	}                                                                                   \
	static void put_##name##_of(struct composer *composer, const void *sheet, double y) \
	{                                                                                   \
		put_##name(composer, sheet, y);                                             \
	}                                                                                   \
	void parts_add_##name(struct page_parts *parts, const struct medicine_sheet *sheet) \
	{                                                                                   \
		parts_add(parts, name##_of, put_##name##_of, sheet);                        \
	}

SHARED(lay_out)
SHARED(first)
SHARED(place)
SHARED(notes)

/* ---- what must be known before ---- */

#define CALL_PICTURE 5.6
#define CALL_TEXT 9.0
#define CALL_WORDS 2.4 /* heading to words */

static struct text_style call_style(const struct composer *composer, enum text_weight weight)
{
	return medicine_style(composer, TYPE_BODY, weight);
}

static double call_x(struct composer *composer, const struct medicine_sheet *sheet)
{
	return CALL_TEXT + composer_text_width(composer, sheet->call_heading, call_style(composer, WEIGHT_BOLD)) +
	       CALL_WORDS;
}

static double call_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	if (sheet->call_text == NULL)
		return 0;
	return fmax(CALL_PICTURE, composer_text_height(composer, sheet->call_text, call_style(composer, WEIGHT_REGULAR),
	                                               LIVE_WIDTH - call_x(composer, sheet)));
}

static void put_call(struct composer *composer, const struct medicine_sheet *sheet, double y)
{
	if (sheet->call_text == NULL)
		return;
	struct text_style regular = call_style(composer, WEIGHT_REGULAR);
	double x = composer->left + call_x(composer, sheet);
	double first = y + fmax(0, CALL_PICTURE - text_cap_height(regular)) / 2;
	double text = composer_text_height(composer, sheet->call_text, regular, composer->right - x);
	if (text > text_cap_height(regular))
		first = y;
	begin_artifact(composer);
	put_picture(composer, PICTURE_PHONE, composer->left, first + (text_cap_height(regular) - CALL_PICTURE) / 2,
	            CALL_PICTURE);
	end_group(composer);
	put_heading(composer, ROLE_H2, sheet->call_heading, call_style(composer, WEIGHT_BOLD),
	            composer->left + CALL_TEXT, first, 0);
	put_paragraph(composer, sheet->call_text, regular, x, first, composer->right - x);
}

static double call_gap(const struct composer *composer)
{
	return composer_is_tight(composer) ? GAP_1 : GAP_2;
}

static double must_know_of(struct composer *composer, const void *what)
{
	const struct medicine_sheet *sheet = what;
	double caution = caution_height(composer, sheet->caution_word, sheet->caution);
	return caution + (caution > 0 ? call_gap(composer) : 0) + call_height(composer, sheet);
}

static void put_must_know_of(struct composer *composer, const void *what, double y)
{
	const struct medicine_sheet *sheet = what;
	put_caution(composer, sheet->caution_word, sheet->caution, y);
	put_call(composer, sheet, y + must_know_of(composer, sheet) - call_height(composer, sheet));
}

void parts_add_must_know(struct page_parts *parts, const struct medicine_sheet *sheet)
{
	parts_add(parts, must_know_of, put_must_know_of, sheet);
}
