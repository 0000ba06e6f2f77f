/*
 * large_overview.c - the first pages in large print: what to do, whom to call, every medicine, what comes next.
 *
 * A medicine's days stand below its words, across the whole column, and in words
 * too: the line alone is too fine for who needs large print.
 */
#include "page/large_pages.h"
#include "page/large_step.h"
#include "page/overview.h"
#include "page/styles.h"

#include <math.h>

#define PICTURE 14.0
#define TEXT_X 20.0
#define BETWEEN 4.2

/* ---- telephones ---- */

#define PHONE_PAD 3.2

static double phone_height(const struct composer *composer)
{
	return 2 * PHONE_PAD + cap(composer, TYPE_BODY) + 3.6 + cap(composer, TYPE_TITLE);
}

/* Label and hours on one line, the number below them, a frame around. */
static void put_phone(struct composer *composer, const struct large_block *block, double y)
{
	const struct phone_card *card = block->data;
	double height = phone_height(composer);
	double x = composer->left + TEXT_X + 2;
	double width = composer->right - 4 - x;
	struct text_style number = composer_style(composer, TYPE_TITLE, WEIGHT_BOLD);
	const char *label = card->hours == NULL ? card->label
	                                        : arena_printf(composer->arena, TEXT_BOLD_ON "%s" TEXT_BOLD_OFF "  %s",
	                                                       card->label, card->hours);
	begin_artifact(composer);
	put_frame(composer, (struct rect){composer->left + 0.25, y + 0.25, LIVE_WIDTH - 0.5, height - 0.5}, LINE_MAIN);
	put_picture(composer, card->pictogram, composer->left + 4, y + (height - PICTURE) / 2, PICTURE);
	end_group(composer);
	begin_group(composer, ROLE_PARAGRAPH);
	const struct text_block *line =
		composer_set_name(composer, label, large_body(composer, WEIGHT_REGULAR), width, 1);
	put_block(composer, line, ALIGN_START, x, y + PHONE_PAD, COLOUR_INK);
	put_block(composer, composer_set_name(composer, card->number, number, width, 1), ALIGN_START, x,
	          y + PHONE_PAD + cap(composer, TYPE_BODY) + 3.6, COLOUR_INK);
	end_group(composer);
}

/* ---- a medicine ---- */

#define DAYS_HEIGHT 20.0
#define DAYS_ABOVE 5.0
#define TIME_GAP 4.0
#define RUNS_MOST 3

struct medicine_row {
	const struct overview *overview;
	const struct overview_row *row;
	const char *times;
	const char *days;
	double times_width;
	double name_width;
};

static const char *times_of(struct composer *composer, const struct overview_row *row)
{
	const char *times = "";
	for (size_t i = 0; i < row->n_times; i++)
		times = arena_printf(composer->arena, "%s%s%s %s", times, i == 0 ? "" : "  ", row->times[i].word,
		                     row->times[i].time);
	return times;
}

static struct text_style times_style(const struct composer *composer)
{
	struct text_style style = large_style(composer, TYPE_LEAD, WEIGHT_BOLD);
	style.tabular = true;
	return style;
}

static const struct text_block *name_of(struct composer *composer, const struct medicine_row *row)
{
	return composer_set_name(composer, row->row->name, large_style(composer, TYPE_LEAD, WEIGHT_BOLD),
	                         row->name_width, 4);
}

/* Several times go below the name, on lines of their own. */
static bool times_below(const struct medicine_row *row)
{
	return row->row->n_times > 1;
}

static double words_width(const struct medicine_row *row)
{
	return row->name_width;
}

static double row_height(struct composer *composer, const struct medicine_row *row)
{
	double height = text_height(name_of(composer, row));
	const char *lines[] = {times_below(row) ? row->times : NULL, row->row->purpose,
	                       composer_page_refs(composer, row->row->section), row->days};
	for (size_t i = 0; i < 4; i++) {
		struct text_style style = i == 0 ? times_style(composer) : large_body(composer, WEIGHT_REGULAR);
		double line = composer_text_height(composer, lines[i], style, words_width(row));
		height += line > 0 ? BETWEEN + line : 0;
	}
	return height + (row->row->days == NULL ? 0 : DAYS_HEIGHT);
}

static void put_medicine(struct composer *composer, const struct large_block *block, double y)
{
	const struct medicine_row *row = block->data;
	double x = composer->left + TEXT_X;
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_picture(composer, row->row->pictogram, composer->left, y, PICTURE);
	end_group(composer);
	struct rect line = put_block(composer, name_of(composer, row), ALIGN_START, x, y, COLOUR_INK);
	if (!times_below(row))
		put_text(composer, row->times, times_style(composer), ALIGN_END, composer->right, y, 0, COLOUR_INK);
	else
		line = put_plain(composer, row->times, times_style(composer), x, line.y + line.height + BETWEEN,
		                 words_width(row));
	if (row->row->purpose != NULL && row->row->purpose[0] != '\0')
		line = put_plain(composer, row->row->purpose, large_body(composer, WEIGHT_REGULAR), x,
		                 line.y + line.height + BETWEEN, words_width(row));
	if (row->days != NULL)
		line = put_plain(composer, row->days, large_body(composer, WEIGHT_REGULAR), x,
		                 line.y + line.height + BETWEEN, words_width(row));
	put_page_refs(composer, row->row->section, large_body(composer, WEIGHT_BOLD), ALIGN_START, x,
	              line.y + line.height + BETWEEN, words_width(row));
	if (row->row->days != NULL)
		overview_put_day_line(composer, row->overview, row->row, y + block->height - DAYS_HEIGHT + DAYS_ABOVE);
	end_group(composer);
}

/* Days here and there are told by the line alone: a list of them would hide what it says. */
static bool few_runs(const struct overview *overview, const struct overview_row *row)
{
	int runs = 0;
	for (int day = 0; day < overview->n_days; day++)
		runs += row->days[day] != DAY_NOTHING && (day == 0 || row->days[day] != row->days[day - 1]);
	return runs <= RUNS_MOST;
}

/* In place of days, with the page that says more. */
static const char *instead_words(struct composer *composer, const struct overview_row *row)
{
	if (row->waiting < 0)
		return row->instead;
	return say2(composer->speaker, "overview.instead_page", "what", row->instead, "page",
	            composer_page_ref(composer, row->waiting));
}

static void add_medicine(struct large_blocks *blocks, const struct overview *overview, const struct overview_row *data)
{
	struct composer *composer = blocks->composer;
	struct medicine_row *row = arena_alloc(composer->arena, sizeof *row);
	*row = (struct medicine_row){.overview = overview, .row = data, .times = times_of(composer, data)};
	row->times_width = times_below(row) ? 0 : composer_text_width(composer, row->times, times_style(composer));
	row->name_width = LIVE_WIDTH - TEXT_X - (row->times_width > 0 ? row->times_width + TIME_GAP : 0);
	row->days = data->days == NULL         ? instead_words(composer, data)
	            : few_runs(overview, data) ? overview_days_spoken(composer, overview, data)
	                                       : NULL;
	struct large_block *block =
		large_add(blocks, fmax(PICTURE, row_height(composer, row)), GAP_5, put_medicine, row);
	block->around = ROLE_LIST;
	block->rule = LARGE_RULE_FINE;
}

/* ---- key moments ---- */

#define MOMENT_SIGN 12.0

static const char *moment_words(struct composer *composer, const struct moment_card *card)
{
	return card->time == NULL ? card->date
	                          : say2(composer->speaker, "moment", "date", card->date, "time", card->time);
}

static double moment_height(struct composer *composer, const struct moment_card *card)
{
	double width = LIVE_WIDTH - TEXT_X - 6;
	return 2 * 5 +
	       composer_text_height(composer, moment_words(composer, card),
	                            large_style(composer, TYPE_LEAD, WEIGHT_BOLD), width) +
	       BETWEEN + composer_text_height(composer, card->what, large_body(composer, WEIGHT_REGULAR), width);
}

static void put_moment(struct composer *composer, const struct large_block *block, double y)
{
	const struct moment_card *card = block->data;
	double height = block->height;
	double line = card->exact ? 1.8 : LINE_OUTLINE;
	double x = composer->left + TEXT_X + 1;
	double width = LIVE_WIDTH - TEXT_X - 6;
	struct box box = {.radius = 2,
	                  .line = line,
	                  .stroke = card->exact ? COLOUR_RUST : COLOUR_INK,
	                  .fill = COLOUR_NONE,
	                  .dashed = card->open};
	begin_group(composer, ROLE_LIST_ITEM);
	begin_artifact(composer);
	put_box(composer, (struct rect){composer->left + line / 2, y + line / 2, LIVE_WIDTH - line, height - line},
	        box);
	if (card->exact)
		put_clock(composer, (struct point){composer->left + 11, y + height / 2}, MOMENT_SIGN / 2, card->clock,
		          LINE_MAIN, COLOUR_INK);
	else
		put_picture(composer, PICTURE_HOUSE, composer->left + 5, y + (height - MOMENT_SIGN) / 2, MOMENT_SIGN);
	end_group(composer);
	struct rect when = put_plain(composer, moment_words(composer, card),
	                             large_style(composer, TYPE_LEAD, WEIGHT_BOLD), x, y + 5, width);
	put_plain(composer, card->what, large_body(composer, WEIGHT_REGULAR), x, when.y + when.height + BETWEEN, width);
	end_group(composer);
}

/* ---- how long it is good ---- */

static double good_height(struct composer *composer, const struct overview *overview)
{
	double width = LIVE_WIDTH - TEXT_X - 6;
	return 2 * 5 +
	       composer_text_height(composer, overview->good_until, large_style(composer, TYPE_LEAD, WEIGHT_BOLD),
	                            width) +
	       composer_text_height(composer, overview->good_then, large_body(composer, WEIGHT_REGULAR), width) +
	       composer_text_height(composer, overview->seal_line_1, large_body(composer, WEIGHT_BOLD), width) +
	       composer_text_height(composer, overview->seal_line_2, large_body(composer, WEIGHT_REGULAR), width) +
	       2 * BETWEEN + GAP_4;
}

static void put_good(struct composer *composer, const struct large_block *block, double y)
{
	const struct overview *overview = block->data;
	double x = composer->left + TEXT_X + 1;
	double width = LIVE_WIDTH - TEXT_X - 6;
	struct point seal = {composer->left + 10.5, y + block->height - 14};
	begin_artifact(composer);
	put_frame(composer, (struct rect){composer->left + 0.25, y + 0.25, LIVE_WIDTH - 0.5, block->height - 0.5},
	          LINE_MAIN);
	put_picture(composer, PICTURE_SHEET, composer->left + 4, y + 4, 13);
	put_mark(composer, (struct placed_mark){.kind = MARK_SEAL,
	                                        .area = {seal.x - 6, seal.y - 6, 12, 12},
	                                        .seal = {seal, 6, composer->handout->record->is_signed}});
	end_group(composer);
	struct rect line = put_paragraph(composer, overview->good_until, large_style(composer, TYPE_LEAD, WEIGHT_BOLD),
	                                 x, y + 5, width);
	line = put_paragraph(composer, overview->good_then, large_body(composer, WEIGHT_REGULAR), x,
	                     line.y + line.height + BETWEEN, width);
	begin_group(composer, ROLE_PARAGRAPH);
	line = put_plain(composer, overview->seal_line_1, large_body(composer, WEIGHT_BOLD), x,
	                 line.y + line.height + GAP_4, width);
	put_plain(composer, overview->seal_line_2, large_body(composer, WEIGHT_REGULAR), x,
	          line.y + line.height + BETWEEN, width);
	end_group(composer);
}

/* ---- what is where ---- */

#define PAGE_WIDTH 34.0 /* kept for the page's number */

static void put_contents_row(struct composer *composer, const struct large_block *block, double y)
{
	const struct section *section = block->data;
	section_ref ref = (section_ref)(section - composer->handout->sections);
	begin_group(composer, ROLE_LIST_ITEM);
	put_plain(composer, overview_contents_words(composer, section), large_body(composer, WEIGHT_REGULAR),
	          composer->left, y, LIVE_WIDTH - PAGE_WIDTH);
	put_page_ref(composer, ref, large_body(composer, WEIGHT_BOLD), ALIGN_END, composer->right, y);
	end_group(composer);
}

static void add_contents(struct large_blocks *blocks)
{
	struct composer *composer = blocks->composer;
	large_add_heading(blocks, say0(composer->speaker, "overview.contents"));
	struct overview_contents contents = overview_contents_of(composer);
	for (size_t i = 0; i < contents.n; i++) {
		const struct section *section = &composer->handout->sections[contents.list[i]];
		const char *words = overview_contents_words(composer, section);
		double height = composer_text_height(composer, words, large_body(composer, WEIGHT_REGULAR),
		                                     LIVE_WIDTH - PAGE_WIDTH);
		struct large_block *block = large_add(blocks, height, GAP_4, put_contents_row, section);
		block->around = ROLE_LIST;
		block->rule = LARGE_RULE_FINE;
		block->break_cost = 0.2;
	}
}

/* ---- the pages ---- */

#define CALL_BREAK 8.0
#define GOOD_BREAK 0.6

void large_overview(struct composer *composer, const struct overview *overview)
{
	struct large_blocks blocks = large_blocks_of(composer);
	large_add_text(&blocks, overview_main_words(composer, overview), TYPE_SECTION, WEIGHT_BOLD);
	large_add_text(&blocks, overview_exact_words(composer, overview), TYPE_BODY, WEIGHT_REGULAR);
	size_t first = blocks.n;
	for (size_t i = 0; i < overview->n_phones; i++)
		large_add(&blocks, phone_height(composer), GAP_3, put_phone, &overview->phones[i]);
	large_add_warning(&blocks, overview->warning_word, overview->emergency);
	large_add_text(&blocks, overview->clinic_line, TYPE_BODY, WEIGHT_REGULAR);
	/* Whom to call stays on the first page; and how long it is good, if it has room there. */
	for (size_t i = first; i < blocks.n; i++)
		blocks.list[i].break_cost = CALL_BREAK;
	large_add(&blocks, good_height(composer, overview), GAP_4, put_good, overview)->break_cost = GOOD_BREAK;
	large_add_heading(&blocks, overview->heading);
	for (size_t i = 0; i < overview->n_rows; i++)
		add_medicine(&blocks, overview, &overview->rows[i]);
	if (overview->n_moments > 0)
		large_add_heading(&blocks, overview->moments_heading);
	for (size_t i = 0; i < overview->n_moments; i++) {
		struct large_block *block = large_add(&blocks, moment_height(composer, &overview->moments[i]), GAP_3,
		                                      put_moment, &overview->moments[i]);
		block->around = ROLE_LIST;
	}
	add_contents(&blocks);
	large_place(&blocks, composer->section->title, composer->section->lead);
}
