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

static double frame_height(double words)
{
	return fmax(SIGN + GAP_2, 2 * PAD + words);
}

/* Frame, triangle and signal word. */
static void put_signal(struct composer *composer, const char *word, double y, double height)
{
	put_caution_frame(composer, y, height);
	begin_artifact(composer);
	put_picture(composer, PICTURE_HEED, composer->left + SIGN_X, y + (height - SIGN) / 2, SIGN);
	end_group(composer);
	put_text(composer, word, word_style(composer), ALIGN_START, composer->left + WORD_X,
	         y + (height - text_cap_height(word_style(composer))) / 2, 0, COLOUR_RUST);
}

/* ---- cautions ---- */

static double words_height(struct composer *composer, const char *word, const char *text)
{
	return composer_text_height(composer, text, caution_style(composer), room_for(composer, word));
}

double caution_height(struct composer *composer, const char *word, const char *text)
{
	return text == NULL ? 0 : frame_height(words_height(composer, word, text));
}

void put_caution(struct composer *composer, const char *word, const char *text, double y)
{
	if (text == NULL)
		return;
	double height = caution_height(composer, word, text);
	begin_group(composer, ROLE_PARAGRAPH);
	put_signal(composer, word, y, height);
	put_plain(composer, text, caution_style(composer), composer->left + text_x(composer, word),
	          y + (height - words_height(composer, word, text)) / 2, room_for(composer, word));
	end_group(composer);
}

/* ---- warnings ---- */

#define NUMBER_LINE 12.0 /* the least that a number is written on */
#define NUMBER_MOST 40.0
#define NUMBER_GAP 2.0
#define NUMBER_FOOT 0.8 /* below the words' baseline */

/* Words, what stands before the number, and the line for it, all on one line. */
static bool number_beside(struct composer *composer, struct emergency emergency, struct text_style style, double width)
{
	return composer_text_width(composer, emergency.text, style) + NUMBER_GAP +
	               composer_text_width(composer, emergency.number, style) + NUMBER_GAP + NUMBER_LINE <=
	       width;
}

/* From one line of a text to the next. */
static double line_pitch(struct composer *composer, struct text_style style)
{
	return composer_text_height(composer, "1\n1", style, 0) - text_cap_height(style);
}

double emergency_height(struct composer *composer, struct emergency emergency, struct text_style style, double width)
{
	double height = composer_text_height(composer, emergency.text, style, width);
	if (emergency.number == NULL || number_beside(composer, emergency, style, width))
		return height;
	return height + line_pitch(composer, style);
}

void put_emergency(struct composer *composer, struct emergency emergency, struct text_style style, double x, double y,
                   double width)
{
	struct rect text = put_plain(composer, emergency.text, style, x, y, width);
	if (emergency.number == NULL)
		return;
	bool beside = number_beside(composer, emergency, style, width);
	double below = text.y + text.height + line_pitch(composer, style) - text_cap_height(style);
	struct rect number = put_plain(composer, emergency.number, style, beside ? x + text.width + NUMBER_GAP : x,
	                               beside ? y : below, 0);
	double from = number.x + number.width + NUMBER_GAP;
	begin_artifact(composer);
	put_line(composer, from, fmin(from + NUMBER_MOST, x + width), number.y + number.height + NUMBER_FOOT,
	         LINE_OUTLINE);
	end_group(composer);
}

double warning_height(struct composer *composer, const char *word, struct emergency emergency, enum type_role role)
{
	return frame_height(emergency_height(composer, emergency, composer_style(composer, role, WEIGHT_BOLD),
	                                     room_for(composer, word)));
}

void put_warning(struct composer *composer, const char *word, struct emergency emergency, enum type_role role, double y)
{
	struct text_style style = composer_style(composer, role, WEIGHT_BOLD);
	double height = warning_height(composer, word, emergency, role);
	double width = room_for(composer, word);
	begin_group(composer, ROLE_PARAGRAPH);
	put_signal(composer, word, y, height);
	put_emergency(composer, emergency, style, composer->left + text_x(composer, word),
	              y + (height - emergency_height(composer, emergency, style, width)) / 2, width);
	end_group(composer);
}
