#include "page/letter.h"

#define CIRCLE 2.05 /* of a capital's height */
#define CORNER 1.4

static struct text_style letter_style(const struct composer *composer)
{
	return composer_style(composer, TYPE_BODY, WEIGHT_BOLD);
}

double letter_size(const struct composer *composer)
{
	return CIRCLE * text_cap_height(letter_style(composer));
}

void put_letter(struct composer *composer, const char *letter, struct point at)
{
	struct text_style style = letter_style(composer);
	double size = letter_size(composer);
	struct box circle = {.radius = size / 2, .line = LINE_OUTLINE, .stroke = COLOUR_INK, .fill = COLOUR_WHITE};
	if (letter == NULL)
		return;
	begin_inside(composer);
	put_box(composer, (struct rect){at.x, at.y, size, size}, circle);
	put_text(composer, letter, style, ALIGN_CENTER, at.x + size / 2, at.y + (size - text_cap_height(style)) / 2, 0,
	         COLOUR_INK);
	end_inside(composer);
}

void put_window_letter(struct composer *composer, struct rect frame, const char *letter)
{
	put_letter(composer, letter, (struct point){frame.x + CORNER, frame.y + CORNER});
}
