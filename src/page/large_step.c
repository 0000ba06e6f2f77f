#include "page/large_step.h"

#include "page/actions.h"
#include "page/caution.h"
#include "page/medicine.h"
#include "page/styles.h"

#include <math.h>

#define STEP_PICTURE 38.0
#define STEP_TEXT 48.0
#define STEP_TICK 12.0
#define STEP_BETWEEN 5.0
#define STEP_TAG 30.0
#define WARNING_PAD 5.0
#define PIECE_MOST 110.0

/* ---- frames to heed ---- */

#define HEED_SIGN_X 8.0
#define HEED_SIGN 12.0
#define HEED_X (HEED_SIGN_X + HEED_SIGN + 3.0)

struct heed {
	const char *word;
	struct emergency says; /* of a caution: text alone */
	struct text_style style;
};

static double heed_width(void)
{
	return LIVE_WIDTH - HEED_X - WARNING_PAD;
}

static double heed_text_height(struct composer *composer, const struct heed *heed)
{
	if (heed->says.number != NULL)
		return emergency_height(composer, heed->says, heed->style, heed_width());
	return actions_height(composer, heed->says.text, heed->style, heed_width());
}

static double heed_height(struct composer *composer, const struct heed *heed)
{
	return 2 * WARNING_PAD +
	       composer_text_height(composer, heed->word, large_style(composer, TYPE_SECTION, WEIGHT_BOLD),
	                            heed_width()) +
	       GAP_3 + heed_text_height(composer, heed);
}

static void put_heed(struct composer *composer, const struct large_block *block, double y)
{
	const struct heed *heed = block->data;
	put_caution_frame(composer, y, block->height);
	begin_artifact(composer);
	put_picture(composer, PICTURE_HEED, composer->left + HEED_SIGN_X, y + WARNING_PAD - 1, HEED_SIGN);
	end_group(composer);
	begin_group(composer, ROLE_PARAGRAPH);
	struct rect word = put_text(composer, heed->word, large_style(composer, TYPE_SECTION, WEIGHT_BOLD), ALIGN_START,
	                            composer->left + HEED_X, y + WARNING_PAD, heed_width(), COLOUR_RUST);
	end_group(composer);
	double x = composer->left + HEED_X;
	double below = word.y + word.height + GAP_3;
	if (heed->says.number == NULL) {
		put_actions(composer, heed->says.text, heed->style, x, below, heed_width());
		return;
	}
	begin_group(composer, ROLE_PARAGRAPH);
	put_emergency(composer, heed->says, heed->style, x, below, heed_width());
	end_group(composer);
}

/* The line for a number stands in the last frame of several. */
static void add_heed(struct large_blocks *blocks, const char *word, struct emergency says, struct text_style style)
{
	struct composer *composer = blocks->composer;
	struct large_pieces pieces = large_pieces_of(composer, says.text, style, heed_width(), PIECE_MOST);
	for (size_t i = 0; i < pieces.n; i++) {
		struct heed *heed = arena_alloc(composer->arena, sizeof *heed);
		*heed = (struct heed){word, {pieces.list[i], i + 1 == pieces.n ? says.number : NULL}, style};
		large_add(blocks, heed_height(composer, heed), GAP_4, put_heed, heed);
	}
}

void large_add_caution(struct large_blocks *blocks, const char *word, const char *text)
{
	add_heed(blocks, word, (struct emergency){text, NULL}, large_body(blocks->composer, WEIGHT_REGULAR));
}

void large_add_warning(struct large_blocks *blocks, const char *word, struct emergency emergency)
{
	add_heed(blocks, word, emergency, large_style(blocks->composer, TYPE_SECTION, WEIGHT_BOLD));
}

/* ---- steps ---- */

struct large_step {
	const struct step *step;
	const struct mark_words *add;  /* NULL: it measures nothing */
	const struct mark_words *line; /* under its box; NULL: it stops on no line */
};

#define LINE_TAG 24.0
#define LINE_TAG_DROP 5.0

static double step_width(struct composer *composer, const struct large_step *step)
{
	double side = step->line == NULL ? 0 : measure_tag(composer, *step->line, LINE_TAG).width;
	return LIVE_WIDTH - STEP_TEXT - fmax(STEP_TICK, side) - GAP_3;
}

static struct text_style number_style(const struct composer *composer)
{
	return composer_style(composer, TYPE_TITLE, WEIGHT_BOLD);
}

/* The title wraps beside the number, its first line on the number's baseline. */
static double title_drop(const struct composer *composer)
{
	return text_cap_height(number_style(composer)) - cap(composer, TYPE_SECTION);
}

static double title_x(struct composer *composer, const struct step *step)
{
	return composer_text_width(composer, step_number(composer, step), number_style(composer)) + GAP_3;
}

static double head_height(struct composer *composer, const struct large_step *step)
{
	return title_drop(composer) + composer_text_height(composer, step->step->title,
	                                                   large_style(composer, TYPE_SECTION, WEIGHT_BOLD),
	                                                   step_width(composer, step) - title_x(composer, step->step));
}

static double step_height(struct composer *composer, const struct large_step *step)
{
	double words = head_height(composer, step) + STEP_BETWEEN +
	               actions_height(composer, step->step->text, large_body(composer, WEIGHT_REGULAR),
	                              step_width(composer, step));
	if (step->add != NULL)
		words += GAP_3 + measure_tag(composer, *step->add, STEP_TAG).height;
	double side = step->line == NULL
	                      ? 0
	                      : STEP_TICK + LINE_TAG_DROP + measure_tag(composer, *step->line, LINE_TAG).height;
	return fmax(fmax(STEP_PICTURE, side), words);
}

static void put_step(struct composer *composer, const struct large_block *block, double y)
{
	const struct large_step *step = block->data;
	double x = composer->left + STEP_TEXT;
	begin_group(composer, ROLE_LIST_ITEM);
	composer_note_step(composer, step->step->number);
	begin_group(composer, ROLE_LABEL);
	put_plain(composer, step_number(composer, step->step), number_style(composer), x, y, 0);
	end_group(composer);
	begin_group(composer, ROLE_H3);
	put_plain(composer, step->step->title, large_style(composer, TYPE_SECTION, WEIGHT_BOLD),
	          x + title_x(composer, step->step), y + title_drop(composer),
	          step_width(composer, step) - title_x(composer, step->step));
	end_group(composer);
	put_step_picture(composer, step->step->picture, composer->left + 2, y + (block->height - STEP_PICTURE) / 2,
	                 STEP_PICTURE);
	struct rect text = put_actions(composer, step->step->text, large_body(composer, WEIGHT_REGULAR), x,
	                               y + head_height(composer, step) + STEP_BETWEEN, step_width(composer, step));
	if (step->add != NULL) {
		struct rect tag = measure_tag(composer, *step->add, STEP_TAG);
		put_tag(composer, *step->add, STEP_TAG,
		        (struct point){x + tag.width / 2, text.y + text.height + GAP_3 + tag.height});
	}
	begin_artifact(composer);
	put_tick(composer, (struct point){composer->right - STEP_TICK - 0.3, y}, STEP_TICK);
	end_group(composer);
	if (step->line != NULL) {
		struct rect tag = measure_tag(composer, *step->line, LINE_TAG);
		put_tag(composer, *step->line, LINE_TAG,
		        (struct point){composer->right - tag.width / 2, y + STEP_TICK + LINE_TAG_DROP + tag.height});
	}
	end_group(composer);
}

static void add_step(struct large_blocks *blocks, const struct large_step *step)
{
	struct composer *composer = blocks->composer;
	struct large_step *large = arena_alloc(composer->arena, sizeof *large);
	*large = *step;
	struct large_block *block = large_add(blocks, step_height(composer, large), GAP_5, put_step, large);
	block->around = ROLE_LIST;
	block->rule = LARGE_RULE_FINE;
}

static void add_steps(struct large_blocks *blocks, const struct step *steps, size_t n, const struct mark_words *add,
                      const struct mark_words *line)
{
	for (size_t i = 0; i < n; i++) {
		const struct step *step = &steps[i];
		if (!step->warning) {
			add_step(blocks,
			         &(struct large_step){step, step->white_tag ? add : NULL, step->on_line ? line : NULL});
			continue;
		}
		large_add_caution(blocks, step->title, step->text);
		blocks->list[blocks->n - 1].keep = i + 1 < n;
	}
}

void large_add_steps(struct large_blocks *blocks, const struct step *steps, size_t n, const struct mark_words *add)
{
	add_steps(blocks, steps, n, add, NULL);
}

void large_add_steps_to(struct large_blocks *blocks, const struct step *steps, size_t n, const struct mark_words *line)
{
	add_steps(blocks, steps, n, NULL, line);
}
