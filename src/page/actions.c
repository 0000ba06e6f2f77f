#include "page/actions.h"

#include <math.h>
#include <string.h>

/* Of a capital's height: */
#define BETWEEN 0.2 /* beyond the usual distance of lines */
#define DOT 0.32    /* its diameter */
#define DOT_DROP 0.45
#define INDENT 0.58

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

/* One action needs no dot to tell it from others. */
static double indent(const char *text, struct text_style style)
{
	bool several = text != NULL && strchr(text, '\n') != NULL;
	return several ? INDENT * text_cap_height(style) : 0;
}

/* A line that wraps would look like a further action without it. */
static void put_dot(struct composer *composer, struct text_style style, double x, double y)
{
	double cap = text_cap_height(style);
	struct box dot = {.radius = DOT * cap / 2, .stroke = COLOUR_NONE, .fill = COLOUR_INK};
	begin_artifact(composer);
	put_box(composer, (struct rect){x, y + DOT_DROP * cap, DOT * cap, DOT * cap}, dot);
	end_group(composer);
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
	double beside = width - indent(text, style);
	double height = 0;
	const char *action;
	while ((action = next_action(&actions)) != NULL)
		height += (height > 0 ? between(style) : 0) + composer_text_height(composer, action, style, beside);
	return height;
}

struct rect put_actions(struct composer *composer, const char *text, struct text_style style, double x, double y,
                        double width)
{
	struct actions actions = {.arena = composer->arena, .rest = text};
	double words = indent(text, style);
	struct rect all = {x, y, 0, 0};
	const char *action;
	while ((action = next_action(&actions)) != NULL) {
		double top = all.height > 0 ? all.y + all.height + between(style) : y;
		if (words > 0)
			put_dot(composer, style, x, top);
		struct rect area = put_paragraph(composer, action, style, x + words, top, width - words);
		all.width = fmax(all.width, words + area.width);
		all.height = area.y + area.height - y;
	}
	return all;
}
