#include "page/actions.h"

#include <math.h>
#include <string.h>

#define BETWEEN 0.4 /* of a capital's height, beyond the usual distance of lines */

/* What is bold over a newline goes on being so: each action is set apart. */
struct actions {
	struct arena *arena;
	const char *rest;
	bool bold;
};

static bool bold_after(bool bold, const char *text, size_t length)
{
	for (size_t i = 0; i < length; i++) {
		if (text[i] == *TEXT_BOLD_ON)
			bold = true;
		else if (text[i] == *TEXT_BOLD_OFF)
			bold = false;
	}
	return bold;
}

/* The next action; NULL: that was the last. */
static const char *next_action(struct actions *actions)
{
	const char *text = actions->rest;
	if (text == NULL || *text == '\0')
		return NULL;
	size_t length = strcspn(text, "\n");
	bool bold = actions->bold;
	actions->bold = bold_after(bold, text, length);
	actions->rest = text + length + (text[length] == '\n');
	return arena_printf(actions->arena, "%s%.*s%s", bold ? TEXT_BOLD_ON : "", (int)length, text,
	                    actions->bold ? TEXT_BOLD_OFF : "");
}

/* From a baseline to the next action's cap top. */
static double between(struct text_style style)
{
	double cap = text_cap_height(style);
	return text_leading(style) - cap + BETWEEN * cap;
}

double actions_height(struct composer *composer, const char *text, struct text_style style, double width)
{
	struct actions actions = {.arena = composer->arena, .rest = text};
	double height = 0;
	const char *action;
	while ((action = next_action(&actions)) != NULL)
		height += (height > 0 ? between(style) : 0) + composer_text_height(composer, action, style, width);
	return height;
}

struct rect put_actions(struct composer *composer, const char *text, struct text_style style, double x, double y,
                        double width)
{
	struct actions actions = {.arena = composer->arena, .rest = text};
	struct rect all = {x, y, 0, 0};
	const char *action;
	while ((action = next_action(&actions)) != NULL) {
		double top = all.height > 0 ? all.y + all.height + between(style) : y;
		struct rect area = put_paragraph(composer, action, style, x, top, width);
		all.width = fmax(all.width, area.width);
		all.height = area.y + area.height - y;
	}
	return all;
}
