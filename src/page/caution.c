/*
 * caution.c - triangle and word stand in the middle of the height, the sentence wraps beside them.
 */
#include "page/caution.h"

#include <math.h>

#define BAR 4.0
#define PAD 3.2
#define SIGN_X 6.4
#define SIGN 7.6
#define WORD_X (SIGN_X + SIGN + 2.2)

static struct text_style word_style(struct composer *composer)
{
	return composer_style(composer, TYPE_SECTION, WEIGHT_BOLD);
}

static struct text_style caution_style(struct composer *composer)
{
	return composer_style(composer, TYPE_BODY, WEIGHT_REGULAR);
}

static double text_x(struct composer *composer, const char *word)
{
	return WORD_X + composer_text_width(composer, word, word_style(composer)) + GAP_4;
}

static double room_for(struct composer *composer, const char *word)
{
	return LIVE_WIDTH - text_x(composer, word) - GAP_3;
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

static double words_height(struct composer *composer, const char *word, const char *text, struct text_style style)
{
	if (text == NULL)
		return 0;
	double width = room_for(composer, word);
	return fmax(SIGN + GAP_2, 2 * PAD + composer_text_height(composer, text, style, width));
}

static void put_words(struct composer *composer, const char *word, const char *text, struct text_style style, double y)
{
	if (text == NULL)
		return;
	double height = words_height(composer, word, text, style);
	double x = composer->left + text_x(composer, word);
	double width = room_for(composer, word);
	put_caution_frame(composer, y, height);
	begin_artifact(composer);
	put_picture(composer, PICTURE_HEED, composer->left + SIGN_X, y + (height - SIGN) / 2, SIGN);
	end_group(composer);
	begin_group(composer, ROLE_PARAGRAPH);
	put_text(composer, word, word_style(composer), ALIGN_START, composer->left + WORD_X,
	         y + (height - text_cap_height(word_style(composer))) / 2, 0, COLOUR_RUST);
	put_plain(composer, text, style, x, y + (height - composer_text_height(composer, text, style, width)) / 2,
	          width);
	end_group(composer);
}

double caution_height(struct composer *composer, const char *word, const char *text)
{
	return words_height(composer, word, text, caution_style(composer));
}

void put_caution(struct composer *composer, const char *word, const char *text, double y)
{
	put_words(composer, word, text, caution_style(composer), y);
}

double warning_height(struct composer *composer, const char *word, const char *text, enum type_role role)
{
	return words_height(composer, word, text, composer_style(composer, role, WEIGHT_BOLD));
}

void put_warning(struct composer *composer, const char *word, const char *text, enum type_role role, double y)
{
	put_words(composer, word, text, composer_style(composer, role, WEIGHT_BOLD), y);
}
