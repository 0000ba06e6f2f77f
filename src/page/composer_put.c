/*
 * composer_put.c - the composer's shapes, and the room they take.
 */
#include "page/composer.h"

#include <assert.h>
#include <math.h>

#define ARROW_HEAD 2.8 /* the most that a head is wide */

/* ---- boxes ---- */

static void put_box_mark(struct composer *composer, struct rect area, struct box box, bool inside)
{
	put_mark(composer, (struct placed_mark){.kind = MARK_BOX, .area = area, .inside = inside, .box = box});
}

void put_box(struct composer *composer, struct rect area, struct box box)
{
	put_box_mark(composer, area, box, true);
}

void put_frame(struct composer *composer, struct rect area, double line)
{
	put_box(composer, area, (struct box){.radius = 2, .line = line, .stroke = COLOUR_INK, .fill = COLOUR_NONE});
}

void put_dashed_frame(struct composer *composer, struct rect area, double line)
{
	put_box(composer, area,
	        (struct box){.radius = 2, .line = line, .stroke = COLOUR_INK, .fill = COLOUR_NONE, .dashed = true});
}

void put_tick(struct composer *composer, struct point at, double size)
{
	struct box box = {.radius = 1, .line = LINE_MAIN, .stroke = COLOUR_INK, .fill = COLOUR_NONE};
	put_box_mark(composer, (struct rect){at.x, at.y, size, size}, box, false);
}

void put_write_in(struct composer *composer, struct rect area)
{
	struct box box = {.radius = 0.8, .line = LINE_OUTLINE, .stroke = COLOUR_INK, .fill = COLOUR_NONE};
	put_box_mark(composer, area, box, false);
}

/* ---- rules ---- */

/* A line has its width across, and ends flush. */
static void put_rule_mark(struct composer *composer, struct rule rule)
{
	struct rect area = {fmin(rule.from.x, rule.to.x), fmin(rule.from.y, rule.to.y), fabs(rule.to.x - rule.from.x),
	                    fabs(rule.to.y - rule.from.y)};
	double across = rule.arrow ? ARROW_HEAD : rule.line;
	if (area.height == 0)
		area = (struct rect){area.x, area.y - across / 2, area.width, across};
	else if (area.width == 0)
		area = (struct rect){area.x - across / 2, area.y, across, area.height};
	put_mark(composer, (struct placed_mark){.kind = MARK_RULE, .area = area, .rule = rule});
}

void put_rule(struct composer *composer, struct point from, struct point to, double line, enum colour colour)
{
	put_rule_mark(composer, (struct rule){.from = from, .to = to, .line = line, .colour = colour});
}

void put_dashed_rule(struct composer *composer, struct point from, struct point to, double line)
{
	put_rule_mark(composer,
	              (struct rule){.from = from, .to = to, .line = line, .colour = COLOUR_INK, .dashed = true});
}

void put_line(struct composer *composer, double left, double right, double y, double line)
{
	put_rule(composer, (struct point){left, y}, (struct point){right, y}, line, COLOUR_INK);
}

void put_arrow(struct composer *composer, double x, double y, double length)
{
	struct rule rule = {.from = {x, y}, .to = {x + length, y}, .line = 0.9, .colour = COLOUR_INK, .arrow = true};
	put_rule_mark(composer, rule);
}

void put_arrow_down(struct composer *composer, double x, double y, double length)
{
	struct rule rule = {.from = {x, y}, .to = {x, y + length}, .line = 0.9, .colour = COLOUR_INK, .arrow = true};
	put_rule_mark(composer, rule);
}

/* ---- figures ---- */

void put_picture(struct composer *composer, enum pictogram pictogram, double x, double y, double size)
{
	if (pictogram == PICTURE_NONE)
		return;
	struct rect area = {x, y, size, size};
	put_mark(composer,
	         (struct placed_mark){.kind = MARK_PICTURE, .area = area, .picture = {pictogram, {x, y}, size}});
}

void put_done_or_tick(struct composer *composer, struct point at, double size, bool done)
{
	if (done) {
		begin_figure(composer, say0(composer->speaker, "grid.past_tick"));
		put_picture(composer, PICTURE_CHECK, at.x, at.y, size);
	} else {
		begin_artifact(composer);
		put_tick(composer, at, size);
	}
	end_group(composer);
}

void put_clock(struct composer *composer, struct point centre, double radius, struct clock_time time, double line,
               enum colour colour)
{
	struct rect area = {centre.x - radius, centre.y - radius, 2 * radius, 2 * radius};
	struct clock_figure clock = {centre, radius, time.hour, time.minute, line, colour};
	put_mark(composer, (struct placed_mark){.kind = MARK_CLOCK, .area = area, .clock = clock});
}

/* ---- tags ---- */

static struct tag_words set_tag_words(struct composer *composer, struct mark_words words, double size)
{
	assert(words.number != NULL);
	struct text_style number = tag_number_style(size);
	struct text_style beside = tag_word_style(size);
	if (composer->large_print)
		beside.size = fmax(beside.size, fmin(size, composer_style(composer, TYPE_BODY, WEIGHT_BOLD).size));
	return (struct tag_words){
		.before = words.before == NULL ? NULL : composer_set(composer, words.before, beside, 0),
		.number = composer_set(composer, words.number, number, 0),
		.unit = words.unit == NULL ? NULL : composer_set(composer, words.unit, beside, 0),
	};
}

static struct rect put_tag_mark(struct composer *composer, struct tag tag)
{
	struct rect area = tag_measure(&tag).area;
	put_mark(composer, (struct placed_mark){.kind = MARK_TAG, .area = area, .tag = tag});
	return area;
}

static struct tag tag_before(struct composer *composer, struct mark_words words, double size, struct point tip,
                             double right)
{
	struct tag tag = tag_of(tip, set_tag_words(composer, words, size), words.open);
	tag.slide = tag_slide_within(&tag, composer->left, right);
	return tag;
}

struct rect put_tag_before(struct composer *composer, struct mark_words words, double size, struct point tip,
                           double right)
{
	return put_tag_mark(composer, tag_before(composer, words, size, tip, right));
}

struct rect measure_tag_before(struct composer *composer, struct mark_words words, double size, struct point tip,
                               double right)
{
	struct tag tag = tag_before(composer, words, size, tip, right);
	return tag_measure(&tag).area;
}

struct rect put_tag(struct composer *composer, struct mark_words words, double size, struct point tip)
{
	return put_tag_before(composer, words, size, tip, composer->right);
}

static struct tag grid_tag(struct composer *composer, struct mark_words words, double size)
{
	return tag_in_grid((struct point){0, 0}, set_tag_words(composer, words, size), words.open);
}

struct rect put_grid_tag(struct composer *composer, struct mark_words words, double size, struct point at)
{
	struct tag tag = grid_tag(composer, words, size);
	tag.tip = (struct point){at.x + tag_width(&tag) / 2, at.y + tag.body_height + tag.point_height};
	return put_tag_mark(composer, tag);
}

struct rect measure_tag(struct composer *composer, struct mark_words words, double size)
{
	struct tag tag = tag_of((struct point){0, 0}, set_tag_words(composer, words, size), words.open);
	return tag_measure(&tag).area;
}

struct rect measure_grid_tag(struct composer *composer, struct mark_words words, double size)
{
	struct tag tag = grid_tag(composer, words, size);
	return tag_measure(&tag).area;
}

/* ---- gaps ---- */

double section_gap(const struct composer *composer, double used, int n)
{
	assert(n > 0);
	double spare = composer->bottom - composer->top - used;
	return fmin(fmax(spare / n, section_gap_least(composer)), SECTION_GAP_MOST);
}

double section_gap_least(const struct composer *composer)
{
	return composer_is_tight(composer) ? GAP_2 : SECTION_GAP_LEAST;
}
