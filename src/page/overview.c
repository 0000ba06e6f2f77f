/*
 * overview.c - the first page: what to do, whom to call, every medicine on one time line, what comes next.
 *
 * Where it does not fit at full size it is set closer, in one step and never
 * between: smaller cards, lower rows, no address. Where that does not fit
 * either, the medicines go on to a second page, with their head repeated.
 */
#include "page/overview.h"

#include "page/caution.h"
#include "page/large_pages.h"
#include "page/sections.h"
#include "page/styles.h"

#include <math.h>
#include <stdlib.h>

static const struct overview_form open_form = {.main_role = TYPE_SECTION,
                                               .main_below = 4.6,
                                               .phone_height = 18.6,
                                               .phone_size = 26,
                                               .address = true,
                                               .help = true,
                                               .heading = true,
                                               .row_least = 13.2,
                                               .row_most = 15.6,
                                               .time_size = 17,
                                               .purpose_role = TYPE_BODY,
                                               .card_time_size = 24,
                                               .moments_heading = true,
                                               .card_pad = 3.4,
                                               .card_between = 2.9,
                                               .card_leading = 5.3,
                                               .good_pad = 3.4};

static const struct overview_form close_form = {.main_role = TYPE_LEAD,
                                                .main_below = 3.2,
                                                .phone_height = 13.2,
                                                .phone_size = 18,
                                                .address = false,
                                                .help = true,
                                                .heading = false,
                                                .times_beside = true,
                                                .row_least = 11.9,
                                                .row_most = 13.2,
                                                .time_size = 15,
                                                .purpose_role = TYPE_REFERENCE,
                                                .card_time_size = 20,
                                                .card_pad = 2.5,
                                                .card_between = 2.3,
                                                .card_leading = 4.8,
                                                .good_pad = 2.2};

#define OVERVIEW_FORMS 5

static struct text_style lined(const struct composer *composer, enum type_role role, enum text_weight weight)
{
	struct text_style style = composer_style(composer, role, weight);
	style.leading = 5.3;
	return style;
}

/* ---- what to do ---- */

#define MAIN_BETWEEN 3.2

static struct text_style main_style(const struct composer *composer, const struct overview_form *form)
{
	struct text_style style = composer_style(composer, form->main_role, WEIGHT_BOLD);
	style.leading = 1.2 * style.size * POINT_MM;
	return style;
}

const char *overview_main_words(struct composer *composer, const struct overview *overview)
{
	if (overview->grid < 0)
		return overview->main_line;
	int pages = composer_pages_of(composer, overview->grid);
	const char *first = composer_label_of(composer, overview->grid, 0);
	if (pages > 1)
		return say2(composer->speaker, "overview.main_pages", "from", first, "to",
		            composer_label_of(composer, overview->grid, pages - 1));
	return composer_fill_page(composer, overview->main_line, first);
}

const char *overview_exact_words(struct composer *composer, const struct overview *overview)
{
	if (overview->exact_line == NULL)
		return overview->unsure;
	return arena_printf(composer->arena, "%s %s", overview->exact_line, overview->unsure);
}

static double main_height(struct composer *composer, const struct overview_form *form, const struct overview *overview)
{
	return composer_text_height(composer, overview_main_words(composer, overview), main_style(composer, form),
	                            LIVE_WIDTH) +
	       MAIN_BETWEEN +
	       composer_text_height(composer, overview_exact_words(composer, overview),
	                            lined(composer, TYPE_LEAD, WEIGHT_REGULAR), LIVE_WIDTH) +
	       form->main_below;
}

static void put_main(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                     double y)
{
	struct rect line = put_paragraph(composer, overview_main_words(composer, overview), main_style(composer, form),
	                                 composer->left, y, LIVE_WIDTH);
	put_paragraph(composer, overview_exact_words(composer, overview), lined(composer, TYPE_LEAD, WEIGHT_REGULAR),
	              composer->left, line.y + line.height + MAIN_BETWEEN, LIVE_WIDTH);
}

/* ---- telephones ---- */

#define PHONES_ABREAST 2
#define PHONE_GAP 6.0

static size_t phone_lines(const struct overview *overview)
{
	return (overview->n_phones + PHONES_ABREAST - 1) / PHONES_ABREAST;
}

static double phones_height(const struct overview *overview, const struct overview_form *form)
{
	size_t lines = phone_lines(overview);
	return lines == 0 ? 0 : (double)lines * (form->phone_height + GAP_2) - GAP_2;
}

static void put_phone(struct composer *composer, const struct overview_form *form, const struct phone_card *card,
                      struct rect area)
{
	struct text_style bold = composer_style(composer, TYPE_BODY, WEIGHT_BOLD);
	struct text_style plain = composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
	struct text_style number = {.size = form->phone_size, .weight = WEIGHT_BOLD};
	double picture = form->phone_height * 0.48;
	double x = area.x + picture + 10;
	double between = form->phone_height * 0.16;
	double height = text_cap_height(bold) + between + text_cap_height(number);
	double y = area.y + (area.height - height) / 2;

	begin_artifact(composer);
	put_frame(composer, area, LINE_MAIN);
	put_picture(composer, card->pictogram, area.x + 5, area.y + (area.height - picture) / 2, picture);
	end_group(composer);
	begin_group(composer, ROLE_PARAGRAPH);
	const char *words = card->hours == NULL ? card->label
	                                        : arena_printf(composer->arena, TEXT_BOLD_ON "%s" TEXT_BOLD_OFF "  %s",
	                                                       card->label, card->hours);
	put_block(
		composer,
		composer_set_name(composer, words, card->hours == NULL ? bold : plain, area.x + area.width - 3 - x, 1),
		ALIGN_START, x, y, COLOUR_INK);
	const struct text_block *digits =
		composer_set_name(composer, card->number, number, area.x + area.width - 3 - x, 1);
	put_block(composer, digits, ALIGN_START, x, y + text_cap_height(bold) + between, COLOUR_INK);
	end_group(composer);
}

static void put_phones(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                       double y)
{
	double width = (LIVE_WIDTH - (PHONES_ABREAST - 1) * PHONE_GAP) / PHONES_ABREAST;
	for (size_t i = 0; i < overview->n_phones; i++) {
		struct rect area = {composer->left + (double)(i % PHONES_ABREAST) * (width + PHONE_GAP),
		                    y + (double)(i / PHONES_ABREAST) * (form->phone_height + GAP_2), width,
		                    form->phone_height};
		put_phone(composer, form, &overview->phones[i], area);
	}
}

/* ---- when to call for help at once, and the clinic ---- */

static double help_height(struct composer *composer, const struct overview_form *form, const struct overview *overview)
{
	if (!form->help)
		return 0;
	return GAP_3 + warning_height(composer, overview->warning_word, overview->emergency, TYPE_BODY);
}

/* The clinic is where the visits are: behind the heading of what comes next, where that has room, else a line. */
static bool address_beside(struct composer *composer, const struct overview_form *form, const struct overview *overview)
{
	double heading = composer_text_width(composer, overview->moments_heading, bold(composer, TYPE_SECTION));
	double address =
		composer_text_width(composer, overview->clinic_line, lined(composer, TYPE_BODY, WEIGHT_REGULAR));
	return form->moments_heading && overview->n_moments > 0 && heading + GAP_5 + address <= LIVE_WIDTH;
}

static double address_height(struct composer *composer, const struct overview_form *form,
                             const struct overview *overview)
{
	if (!form->address || address_beside(composer, form, overview))
		return 0;
	return GAP_3 + composer_text_height(composer, overview->clinic_line, lined(composer, TYPE_BODY, WEIGHT_REGULAR),
	                                    LIVE_WIDTH);
}

static void put_help(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                     double y)
{
	if (form->help)
		put_warning(composer, overview->warning_word, overview->emergency, TYPE_BODY, y + GAP_3);
}

static void put_address(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                        double y)
{
	if (form->address && !address_beside(composer, form, overview))
		put_paragraph(composer, overview->clinic_line, lined(composer, TYPE_BODY, WEIGHT_REGULAR),
		              composer->left, y + GAP_3, LIVE_WIDTH);
}

/* ---- what comes next ---- */

#define CARDS_ABREAST 4
#define CARDS_LEAST 3 /* fewer than these are not wider */
#define CARD_GAP 4.0
#define HEADING_BELOW 3.6

static double card_width(const struct overview *overview)
{
	size_t abreast = overview->n_moments < CARDS_LEAST ? CARDS_LEAST : overview->n_moments;
	if (abreast > CARDS_ABREAST)
		abreast = CARDS_ABREAST;
	return (LIVE_WIDTH - (double)(abreast - 1) * CARD_GAP) / (double)abreast;
}

#define CARD_SIDE 3.4
#define CARD_PICTURE 8.6

static struct text_style card_style(const struct composer *composer, const struct overview_form *form,
                                    enum text_weight weight)
{
	struct text_style style = composer_style(composer, TYPE_BODY, weight);
	style.leading = form->card_leading;
	return style;
}

static struct text_style card_time(const struct overview_form *form, const struct moment_card *card)
{
	return (struct text_style){.size = form->card_time_size, .weight = card->exact ? WEIGHT_BOLD : WEIGHT_REGULAR};
}

/* Beside the picture. */
static double card_date_width(const struct overview *overview)
{
	return card_width(overview) - 2 * CARD_SIDE - CARD_PICTURE - 1;
}

static double card_height(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                          const struct moment_card *card)
{
	struct text_style plain = card_style(composer, form, WEIGHT_REGULAR);
	struct text_style bold = card_style(composer, form, WEIGHT_BOLD);
	double date = composer_text_height(composer, card->date, bold, card_date_width(overview));
	double time = form->card_between + text_cap_height(card_time(form, card));
	double what = composer_text_height(composer, card->what, plain, card_width(overview) - 2 * CARD_SIDE);
	return 2 * form->card_pad + date + time + form->card_between + what;
}

static double cards_height(struct composer *composer, const struct overview_form *form, const struct overview *overview)
{
	double height = 0;
	for (size_t i = 0; i < overview->n_moments; i++)
		height = fmax(height, card_height(composer, form, overview, &overview->moments[i]));
	return height;
}

static double moments_height(struct composer *composer, const struct overview_form *form,
                             const struct overview *overview)
{
	if (overview->n_moments == 0)
		return 0;
	double heading = form->moments_heading ? text_cap_height(bold(composer, TYPE_SECTION)) + HEADING_BELOW : 0;
	return heading + cards_height(composer, form, overview);
}

static void put_card_frame(struct composer *composer, const struct moment_card *card, struct rect area)
{
	double line = card->exact ? LINE_ALARM : LINE_OUTLINE;
	struct box box = {.radius = 2,
	                  .line = line,
	                  .stroke = card->exact ? COLOUR_RUST : COLOUR_INK,
	                  .fill = COLOUR_NONE,
	                  .dashed = card->open};
	struct rect edge = {area.x + line / 2, area.y + line / 2, area.width - line, area.height - line};
	put_box(composer, edge, box);
}

static void put_card(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                     const struct moment_card *card, struct rect area)
{
	double x = area.x + CARD_SIDE;
	double picture = area.x + area.width - CARD_SIDE - CARD_PICTURE + 0.8;
	double y = area.y + form->card_pad;
	double top = area.y + fmax(form->card_pad - 1.4, 2.0);
	begin_artifact(composer);
	put_card_frame(composer, card, area);
	if (card->exact)
		put_clock(composer, (struct point){picture + CARD_PICTURE / 2, top + CARD_PICTURE / 2},
		          CARD_PICTURE / 2, card->clock, LINE_OUTLINE, COLOUR_INK);
	else
		put_picture(composer, PICTURE_HOUSE, picture, top, CARD_PICTURE);
	end_group(composer);

	begin_group(composer, ROLE_PARAGRAPH);
	struct rect line = put_plain(composer, card->date, card_style(composer, form, WEIGHT_BOLD), x, y,
	                             card_date_width(overview));
	double time_y = line.y + line.height + form->card_between;
	put_plain(composer, card->time, card_time(form, card), x, time_y, 0);
	put_plain(composer, card->what, card_style(composer, form, WEIGHT_REGULAR), x,
	          time_y + text_cap_height(card_time(form, card)) + form->card_between, area.width - 2 * CARD_SIDE);
	end_group(composer);
}

static void put_moments(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                        double y)
{
	if (overview->n_moments == 0)
		return;
	double top = y + moments_height(composer, form, overview) - cards_height(composer, form, overview);
	if (form->moments_heading)
		put_heading(composer, ROLE_H2, overview->moments_heading, bold(composer, TYPE_SECTION), composer->left,
		            y, LIVE_WIDTH);
	if (address_beside(composer, form, overview)) {
		struct text_style style = lined(composer, TYPE_BODY, WEIGHT_REGULAR);
		begin_group(composer, ROLE_PARAGRAPH);
		put_text(composer, overview->clinic_line, style, ALIGN_END, composer->right,
		         y + text_cap_height(bold(composer, TYPE_SECTION)) - text_cap_height(style), 0, COLOUR_INK);
		end_group(composer);
	}
	double width = card_width(overview);
	double height = cards_height(composer, form, overview);
	for (size_t i = 0; i < overview->n_moments; i++) {
		struct rect area = {composer->left + (double)i * (width + CARD_GAP), top, width, height};
		put_card(composer, form, overview, &overview->moments[i], area);
	}
}

/* ---- what is where ---- */

#define CONTENTS_ABREAST 2
#define CONTENTS_GAP 6.0
#define CONTENTS_PAD 2.2
#define CONTENTS_PAGE 20.0 /* kept for the page's number */

/* Medicines have their pages in the table; these are the others that a patient looks for. NULL: not listed. */
const char *overview_contents_words(struct composer *composer, const struct section *section)
{
	static const struct {
		enum section_kind kind;
		const char *key;
	} words[] = {{SECTION_GRID, "contents.grid"},         {SECTION_EXACT, "contents.exact"},
	             {SECTION_WAITING, "contents.waiting"},   {SECTION_OPTIONS, "contents.options"},
	             {SECTION_SUPPLIES, "contents.supplies"}, {SECTION_BEFORE, "contents.before"}};
	if (section->kind == SECTION_WAITING && section->waiting->sooner)
		return say1(composer->speaker, "contents.sooner", "name", section->item->medicine->name);
	if (section->kind == SECTION_BEFORE && section->before->true_heading == NULL)
		return say0(composer->speaker, "contents.signs");
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (section->kind == words[i].kind)
			return say1(composer->speaker, words[i].key, "name",
			            section->item == NULL ? "" : section->item->medicine->name);
	return NULL;
}

static double contents_width(size_t abreast)
{
	return (LIVE_WIDTH - (double)(abreast - 1) * CONTENTS_GAP) / (double)abreast;
}

/* As many as hold every title on a line of its own; 0: not even one does. */
static size_t contents_abreast(struct composer *composer)
{
	struct text_style style = composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
	double widest = 0;
	for (size_t i = 0; i < composer->handout->n_sections; i++)
		widest = fmax(widest,
		              composer_text_width(composer,
		                                  overview_contents_words(composer, &composer->handout->sections[i]),
		                                  style));
	size_t abreast = CONTENTS_ABREAST;
	while (abreast > 0 && widest > contents_width(abreast) - CONTENTS_PAGE)
		abreast--;
	return abreast;
}

static double contents_row_height(const struct composer *composer)
{
	return text_cap_height(composer_style(composer, TYPE_BODY, WEIGHT_REGULAR)) + 2 * CONTENTS_PAD;
}

struct overview_contents overview_contents_of(struct composer *composer)
{
	const struct handout *handout = composer->handout;
	section_ref *list = arena_alloc(composer->arena, handout->n_sections * sizeof *list);
	size_t n = 0;
	for (section_ref i = 0; (size_t)i < handout->n_sections; i++) {
		if (overview_contents_words(composer, &handout->sections[i]) == NULL)
			continue;
		int page = atoi(composer_label_of(composer, i, 0));
		size_t at = n++;
		for (; at > 0 && atoi(composer_label_of(composer, list[at - 1], 0)) > page; at--)
			list[at] = list[at - 1];
		list[at] = i;
	}
	return (struct overview_contents){list, n};
}

static size_t contents_rows(struct composer *composer, size_t abreast)
{
	return (overview_contents_of(composer).n + abreast - 1) / abreast;
}

/* 0 where a title has no room. */
static double contents_height(struct composer *composer)
{
	size_t abreast = contents_abreast(composer);
	if (abreast == 0)
		return 0;
	return text_cap_height(bold(composer, TYPE_SECTION)) + HEADING_BELOW +
	       (double)contents_rows(composer, abreast) * contents_row_height(composer);
}

static void put_contents_row(struct composer *composer, section_ref section, struct rect area, double line)
{
	struct text_style style = composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
	put_line(composer, area.x, area.x + area.width, area.y, line);
	begin_group(composer, ROLE_LIST_ITEM);
	put_plain(composer, overview_contents_words(composer, &composer->handout->sections[section]), style, area.x,
	          area.y + CONTENTS_PAD, 0);
	put_page_ref(composer, section, style, ALIGN_END, area.x + area.width, area.y + CONTENTS_PAD);
	end_group(composer);
}

/* Down one column, then the next. */
static void put_contents(struct composer *composer, double y)
{
	size_t abreast = contents_abreast(composer);
	size_t rows = contents_rows(composer, abreast);
	double width = contents_width(abreast);
	double height = contents_row_height(composer);
	double top = y + text_cap_height(bold(composer, TYPE_SECTION)) + HEADING_BELOW;
	struct overview_contents contents = overview_contents_of(composer);
	put_heading(composer, ROLE_H2, say0(composer->speaker, "overview.contents"), bold(composer, TYPE_SECTION),
	            composer->left, y, LIVE_WIDTH);
	begin_group(composer, ROLE_LIST);
	for (size_t n = 0; n < contents.n; n++) {
		struct rect area = {composer->left + (double)(n / rows) * (width + CONTENTS_GAP),
		                    top + (double)(n % rows) * height, width, height};
		put_contents_row(composer, contents.list[n], area, n % rows == 0 ? LINE_MAIN : LINE_FINE);
	}
	end_group(composer);
}

/* ---- how long it is good, and who stands for it ---- */

#define GOOD_TEXT 22.0
#define GOOD_BETWEEN 3.2
#define SEAL_RADIUS 5.0

struct good_form {
	double seal; /* x of its middle */
	double seal_text;
	double rule;
	double text_width;
};

static struct good_form good_form_of(struct composer *composer, const struct overview *overview)
{
	struct text_style plain = composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
	double seal = fmax(composer_text_width(composer, overview->seal_line_1, plain),
	                   composer_text_width(composer, overview->seal_line_2, plain));
	struct good_form form;
	form.seal_text = composer->right - 6 - seal;
	form.seal = form.seal_text - GAP_2 - SEAL_RADIUS;
	form.rule = form.seal - SEAL_RADIUS - GAP_3;
	form.text_width = form.rule - GAP_2 - composer->left - GOOD_TEXT;
	return form;
}

static double good_text_height(struct composer *composer, const struct overview *overview, double width)
{
	return composer_text_height(composer, overview->good_until, lined(composer, TYPE_LEAD, WEIGHT_BOLD), width) +
	       GOOD_BETWEEN +
	       composer_text_height(composer, overview->good_then, lined(composer, TYPE_BODY, WEIGHT_REGULAR), width);
}

/* What hangs below the last line's letters' feet. */
static double good_hanging(struct composer *composer, const struct overview *overview, double width)
{
	const struct text_block *then =
		composer_set(composer, overview->good_then, lined(composer, TYPE_BODY, WEIGHT_REGULAR), width);
	struct rect ink = text_ink(then);
	return ink.y + ink.height - text_height(then);
}

static double good_height(struct composer *composer, const struct overview_form *form, const struct overview *overview)
{
	struct good_form good = good_form_of(composer, overview);
	double room = 2 * form->good_pad + fmax(good_text_height(composer, overview, good.text_width), 2 * SEAL_RADIUS);
	return room + 2 * fmax(0, good_hanging(composer, overview, good.text_width) + LINE_OUTLINE - form->good_pad);
}

static void put_good(struct composer *composer, const struct overview_form *form, const struct overview *overview,
                     double y)
{
	struct good_form good = good_form_of(composer, overview);
	double height = good_height(composer, form, overview);
	double middle = y + height / 2;
	double half = LINE_OUTLINE / 2;
	bool is_signed = composer->handout->record->is_signed;

	begin_artifact(composer);
	put_frame(composer, (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half},
	          LINE_OUTLINE);
	put_picture(composer, PICTURE_SHEET, composer->left + 5, middle - 6, 12);
	put_rule(composer, (struct point){good.rule, y + 3}, (struct point){good.rule, y + height - 3}, LINE_OUTLINE,
	         COLOUR_INK);
	struct point seal = {good.seal, middle};
	put_mark(composer, (struct placed_mark){.kind = MARK_SEAL,
	                                        .area = {seal.x - SEAL_RADIUS, seal.y - SEAL_RADIUS, 2 * SEAL_RADIUS,
	                                                 2 * SEAL_RADIUS},
	                                        .seal = {seal, SEAL_RADIUS, is_signed}});
	end_group(composer);

	double x = composer->left + GOOD_TEXT;
	double top = middle - good_text_height(composer, overview, good.text_width) / 2;
	struct rect until = put_paragraph(composer, overview->good_until, lined(composer, TYPE_LEAD, WEIGHT_BOLD), x,
	                                  top, good.text_width);
	put_paragraph(composer, overview->good_then, lined(composer, TYPE_BODY, WEIGHT_REGULAR), x,
	              until.y + until.height + GOOD_BETWEEN, good.text_width);
	struct text_style plain = composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
	double seal_top = middle - (2 * text_cap_height(plain) + GOOD_BETWEEN) / 2;
	begin_group(composer, ROLE_PARAGRAPH);
	put_plain(composer, overview->seal_line_1, plain, good.seal_text, seal_top, 0);
	put_plain(composer, overview->seal_line_2, plain, good.seal_text,
	          seal_top + text_cap_height(plain) + GOOD_BETWEEN, 0);
	end_group(composer);
}

/* ---- the page ---- */

/* Everything but gaps between sections and what rows may grow. */
static double used_height(struct composer *composer, const struct overview_form *form, const struct overview *overview)
{
	return main_height(composer, form, overview) + phones_height(overview, form) +
	       help_height(composer, form, overview) + address_height(composer, form, overview) +
	       overview_table_height(composer, form, overview) + moments_height(composer, form, overview) +
	       good_height(composer, form, overview);
}

static int count_gaps(const struct overview *overview)
{
	return 2 + (overview->n_moments > 0 ? 1 : 0);
}

/* What is spare goes half to the rows, until they are as high as they should be, and the rest to the gaps. */
static double row_growth(const struct composer *composer, const struct overview_form *form,
                         const struct overview *overview, double used)
{
	double spare = composer->bottom - composer->top - used - count_gaps(overview) * SECTION_GAP_LEAST;
	if (spare <= 0 || overview->n_rows == 0)
		return 0;
	return fmin(spare / 2 / (double)overview->n_rows, form->row_most - form->row_least);
}

static void put_on_one_page(struct composer *composer, const struct overview_form *form,
                            const struct overview *overview, double used)
{
	/* Where few medicines leave room for it, what else is in the packet. */
	double contents = contents_height(composer);
	int gaps = count_gaps(overview);
	double spare = composer->bottom - composer->top - used - gaps * SECTION_GAP_LEAST;
	bool has_contents = contents > 0 && spare >= contents + 2 * SECTION_GAP_LEAST;
	if (has_contents) {
		used += contents;
		gaps++;
	}
	double growth = row_growth(composer, form, overview, used);
	double gap = section_gap(composer, used + growth * (double)overview->n_rows, gaps);
	double y = composer->top;
	put_main(composer, form, overview, y);
	y += main_height(composer, form, overview);
	put_phones(composer, form, overview, y);
	y += phones_height(overview, form);
	put_help(composer, form, overview, y);
	y += help_height(composer, form, overview);
	put_address(composer, form, overview, y);
	y += address_height(composer, form, overview) + gap;
	y = overview_put_table(composer, form, overview, y, growth);
	if (overview->n_moments > 0)
		put_moments(composer, form, overview, y + gap);
	if (has_contents)
		put_contents(composer,
		             y + gap + (overview->n_moments > 0 ? moments_height(composer, form, overview) + gap : 0));
	put_good(composer, form, overview, composer->bottom - good_height(composer, form, overview));
}

/* More medicines than a page holds: they flow, and what follows stands below the last of them. */
static void put_on_more_pages(struct composer *composer, const struct overview_form *form,
                              const struct overview *overview)
{
	double y = composer->top;
	put_main(composer, form, overview, y);
	y += main_height(composer, form, overview);
	put_phones(composer, form, overview, y);
	y += phones_height(overview, form);
	put_help(composer, form, overview, y);
	y += help_height(composer, form, overview) + SECTION_GAP_LEAST;
	y = overview_put_table(composer, form, overview, y, 0);
	double below =
		moments_height(composer, form, overview) + good_height(composer, form, overview) + 2 * SECTION_GAP_MOST;
	if (y + below > composer->bottom) {
		overview_continue(composer);
		y = composer->top - SECTION_GAP_MOST;
	}
	put_moments(composer, form, overview, y + SECTION_GAP_MOST);
	put_good(composer, form, overview, y + 2 * SECTION_GAP_MOST + moments_height(composer, form, overview));
}

void overview_continue(struct composer *composer)
{
	composer_continue(composer, composer->section->title, composer->section->lead);
}

/*
 * The forms from the roomiest on: rows and cards get lower first, then the key moments have no heading, and only then do
 * telephones get smaller; when to call for help at once is on the last page, too.
 */
static const struct overview_form *forms_of(struct composer *composer)
{
	struct overview_form *forms = arena_alloc(composer->arena, OVERVIEW_FORMS * sizeof *forms);
	forms[0] = open_form;
	for (size_t i = 1; i < OVERVIEW_FORMS; i++)
		forms[i] = close_form;
	for (size_t i = 1; i <= 2; i++) {
		forms[i].phone_height = open_form.phone_height;
		forms[i].phone_size = open_form.phone_size;
	}
	forms[1].moments_heading = true;
	forms[OVERVIEW_FORMS - 1].help = false;
	return forms;
}

void overview_place(struct composer *composer, const struct overview *overview)
{
	if (composer->large_print) {
		large_overview(composer, overview);
		return;
	}
	composer_new_page(composer, composer->section->title, composer->section->lead);
	double room = composer->bottom - composer->top - count_gaps(overview) * SECTION_GAP_LEAST;
	const struct overview_form *forms = forms_of(composer);
	for (size_t i = 0; i < OVERVIEW_FORMS; i++) {
		double used = used_height(composer, &forms[i], overview);
		if (used <= room) {
			put_on_one_page(composer, &forms[i], overview, used);
			return;
		}
	}
	put_on_more_pages(composer, &close_form, overview);
}
