#include "page/tag_geometry.h"

#include <assert.h>
#include <math.h>

#define WORD_SHARE 0.62
#define WORD_LEAST 10.0

struct text_style tag_number_style(double size)
{
	struct text_style style = {.size = size, .weight = WEIGHT_BOLD};

	return style;
}

struct text_style tag_word_style(double size)
{
	struct text_style style = {.size = fmax(size * WORD_SHARE, WORD_LEAST), .weight = WEIGHT_SEMIBOLD};

	return style;
}

static struct tag tag_with(struct point tip, struct tag_words words, bool open, double air, double point_height)
{
	const struct text_style *style = text_style_of(words.number);
	double em = style->size * POINT_MM;
	struct tag tag = {
		.tip = tip,
		.before = words.before,
		.number = words.number,
		.unit = words.unit,
		.open = open,
		.body_height = text_cap_height(*style) + air * em,
		.point_height = point_height * em,
		.point_width = 0.57 * em,
		.pad = 0.375 * em,
		.gap = 0.22 * em,
	};

	return tag;
}

struct tag tag_of(struct point tip, struct tag_words words, bool open)
{
	return tag_with(tip, words, open, 0.56, 0.30);
}

struct tag tag_in_grid(struct point tip, struct tag_words words, bool open)
{
	return tag_with(tip, words, open, 0.40, 0.24);
}

static double width_with_gap(const struct tag *tag, const struct text_block *block)
{
	return block != NULL ? text_width(block) + tag->gap : 0;
}

double tag_width(const struct tag *tag)
{
	return tag->pad + width_with_gap(tag, tag->before) + text_width(tag->number) + width_with_gap(tag, tag->unit) +
	       tag->pad;
}

/* How far the body may slide before the point would leave its straight lower edge. */
static double slide_most(const struct tag *tag)
{
	return fmax((tag_width(tag) - tag->point_width) / 2 - TAG_CORNER, 0);
}

struct tag_geometry tag_measure(const struct tag *tag)
{
	struct tag_geometry geometry;
	double cap = text_cap_height(*text_style_of(tag->number));
	double width = tag_width(tag);

	assert(fabs(tag->slide) <= slide_most(tag) + 1e-9);
	geometry.body.width = width;
	geometry.body.height = tag->body_height;
	geometry.body.x = tag->tip.x - width / 2 + tag->slide;
	geometry.body.y = tag->tip.y - tag->point_height - tag->body_height;
	geometry.area = geometry.body;
	geometry.area.height += tag->point_height;

	geometry.baseline = geometry.body.y + (tag->body_height + cap) / 2;
	geometry.before_x = geometry.body.x + tag->pad;
	geometry.number_x = geometry.before_x + width_with_gap(tag, tag->before);
	geometry.unit_x = geometry.number_x + text_width(tag->number) + tag->gap;
	return geometry;
}

double tag_slide_within(const struct tag *tag, double left, double right)
{
	double half = tag_width(tag) / 2;
	double most = slide_most(tag);
	double slide = 0;

	if (tag->tip.x + half > right) {
		slide = right - half - tag->tip.x;
	}
	if (tag->tip.x - half + slide < left) {
		slide = left + half - tag->tip.x;
	}
	return fmin(fmax(slide, -most), most);
}
