#include "page/mirror.h"

#include <assert.h>
#include <math.h>

/* ---- moved as it is ---- */

static void move_window(struct arena *arena, struct window_figure *window, double by)
{
	struct syringe_figure *figure = arena_alloc(arena, sizeof *figure);
	*figure = *window->figure;
	figure->x_zero += by;
	figure->cut_at += by;
	window->figure = figure;
	window->frame.x += by;
	window->leader_to.x += by;
}

static void move_mark(struct arena *arena, struct placed_mark *mark, double by)
{
	mark->area.x += by;
	switch (mark->kind) {
	case MARK_GROUP_BEGIN:
	case MARK_GROUP_END:
	case MARK_BOX:
		break;
	case MARK_TEXT:
		mark->text.at.x += by;
		break;
	case MARK_RULE:
		mark->rule.from.x += by;
		mark->rule.to.x += by;
		break;
	case MARK_TAG:
		mark->tag.tip.x += by;
		break;
	case MARK_SYRINGE:
		mark->syringe.x_zero += by;
		mark->syringe.cut_at += by;
		break;
	case MARK_WINDOW:
		move_window(arena, &mark->window, by);
		break;
	case MARK_PICTURE:
		mark->picture.at.x += by;
		break;
	case MARK_STEP:
		mark->step.at.x += by;
		break;
	case MARK_PEN:
		mark->pen.at.x += by;
		break;
	case MARK_DIAL:
		mark->dial.frame.x += by;
		break;
	case MARK_CLOCK:
		mark->clock.centre.x += by;
		break;
	case MARK_RULER:
		mark->ruler.at.x += by;
		break;
	case MARK_CARD:
		mark->card.at.x += by;
		break;
	case MARK_CODE:
		mark->code.at.x += by;
		break;
	case MARK_SIDE:
		mark->side.at.x += by;
		break;
	case MARK_CORNER:
		mark->corner.at.x += by;
		break;
	case MARK_HATCH:
		mark->hatch.area.x += by;
		break;
	case MARK_SEAL:
		mark->seal.centre.x += by;
		break;
	case MARK_KNOT:
		mark->knot.centre.x += by;
		break;
	case MARK_NEEDLE:
		mark->needle.at.x += by;
		break;
	case MARK_BACK:
		mark->back.area.x += by;
		break;
	case MARK_BODY:
		mark->body.area.x += by;
		break;
	}
}

/* ---- turned over ---- */

/* A text is set from the right already: only its box changes sides, and its ink is where it then falls. */
static void mirror_text(struct placed_mark *mark, double axis)
{
	const struct text_block *block = mark->text.block;
	struct rect ink = text_ink(block);
	mark->text.at.x = axis - mark->text.at.x - text_box_width(block);
	mark->area.x = mark->text.at.x + ink.x;
}

/* Everything is moved to the other side; what leans to one side besides leans to the other there. */
static void mirror_mark(struct arena *arena, struct placed_mark *mark, double axis)
{
	double by = axis - 2 * mark->area.x - mark->area.width;
	if (mark->kind == MARK_TEXT) {
		mirror_text(mark, axis);
	} else if (mark->kind == MARK_RULE) {
		mark->area.x += by;
		mark->rule.from.x = axis - mark->rule.from.x;
		mark->rule.to.x = axis - mark->rule.to.x;
	} else if (mark->kind == MARK_TAG) {
		/* Its body stands level over its point, but for what slid to stay on the page. */
		mark->area.x += by;
		mark->tag.tip.x = axis - mark->tag.tip.x;
		mark->tag.slide = -mark->tag.slide;
	} else {
		if (mark->kind == MARK_CORNER)
			mark->corner.right = true;
		move_mark(arena, mark, by);
	}
}

/* ---- a page ---- */

static bool has_area(const struct placed_mark *mark)
{
	return mark->kind != MARK_GROUP_BEGIN && mark->kind != MARK_GROUP_END;
}

/* The marks from `begin` to the end of the group that opens there. */
static size_t group_length(const struct placed_mark *marks, size_t n)
{
	int depth = 0;
	for (size_t i = 0; i < n; i++) {
		depth += marks[i].kind == MARK_GROUP_BEGIN;
		depth -= marks[i].kind == MARK_GROUP_END;
		if (depth == 0)
			return i + 1;
	}
	assert(!"a group is open");
	return n;
}

static void move_group(struct arena *arena, struct placed_mark *marks, size_t n, struct turning turning)
{
	double left = HUGE_VAL;
	double right = -HUGE_VAL;
	for (size_t i = 0; i < n; i++) {
		if (!has_area(&marks[i]))
			continue;
		left = fmin(left, marks[i].area.x);
		right = fmax(right, marks[i].area.x + marks[i].area.width);
	}
	for (size_t i = 0; i < n && right >= left; i++)
		move_mark(arena, &marks[i], turning.axis - right - left);
}

void mirror_marks(struct arena *arena, struct placed_mark *marks, const struct turning *turnings, size_t n)
{
	for (size_t i = 0; i < n; i++) {
		if (marks[i].kind == MARK_GROUP_BEGIN && turnings[i].whole) {
			size_t length = group_length(marks + i, n - i);
			if (!turnings[i].fixed)
				move_group(arena, marks + i, length, turnings[i]);
			i += length - 1;
		} else if (has_area(&marks[i]) && !turnings[i].fixed) {
			mirror_mark(arena, &marks[i], turnings[i].axis);
		}
	}
}
