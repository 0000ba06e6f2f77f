/*
 * caution.c - the word stands in the middle of the height, the sentence wraps beside it.
 */
#include "page/caution.h"

#define BAR 4.0
#define PAD 3.2
#define WORD_X 9.0

static struct text_style word_style(struct composer *composer)
{
	return composer_style(composer, TYPE_SECTION, WEIGHT_BOLD);
}

static struct text_style words_style(struct composer *composer)
{
	return composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
}

static double text_x(struct composer *composer, const char *word)
{
	return WORD_X + composer_text_width(composer, word, word_style(composer)) + GAP_4;
}

void put_caution_frame(struct composer *composer, double y, double height)
{
	double half = LINE_STRONG / 2;
	struct box frame = {.radius = 2, .line = LINE_STRONG, .stroke = COLOUR_RUST, .fill = COLOUR_NONE};
	struct box bar = {.radius = 1.2, .line = 0, .stroke = COLOUR_NONE, .fill = COLOUR_RUST};
	begin_artifact(composer);
	put_box(composer, (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half, height - 2 * half},
	        frame);
	begin_inside(composer);
	put_box(composer, (struct rect){composer->left + half, y + half, BAR - half, height - 2 * half}, bar);
	end_inside(composer);
	end_group(composer);
}

double caution_height(struct composer *composer, const char *word, const char *text)
{
	if (text == NULL)
		return 0;
	double width = LIVE_WIDTH - text_x(composer, word) - GAP_3;
	return 2 * PAD + composer_text_height(composer, text, words_style(composer), width);
}

void put_caution(struct composer *composer, const char *word, const char *text, double y)
{
	if (text == NULL)
		return;
	double height = caution_height(composer, word, text);
	double x = composer->left + text_x(composer, word);
	put_caution_frame(composer, y, height);
	begin_group(composer, ROLE_PARAGRAPH);
	put_text(composer, word, word_style(composer), ALIGN_START, composer->left + WORD_X,
	         y + (height - text_cap_height(word_style(composer))) / 2, 0, COLOUR_RUST);
	put_plain(composer, text, words_style(composer), x, y + PAD, composer->right - GAP_3 - x);
	end_group(composer);
}
