#include "paint/sketch.h"

#include "base/arena.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>

/* Shares of the outline's width. */
#define THIN 0.6
#define BOLD 1.8
#define WRONG 3.0
#define WRONG_BED 5.4
#define HATCH_SHARE 0.22 /* of the pitch */
#define HEAD_LENGTH 5.4
#define HEAD_WIDTH 5.2

/* ---- shapes ---- */

static int numbers_after(char letter)
{
	switch (letter) {
	case 'Z':
		return 0;
	case 'M':
	case 'L':
		return 2;
	case 'O':
		return 3;
	case 'E':
		return 4;
	case 'R':
	case 'A':
		return 5;
	case 'C':
		return 6;
	default:
		assert(!"a shape has an unknown letter");
		return 0;
	}
}

static void add_piece(struct path_builder *path, char letter, const double *at)
{
	switch (letter) {
	case 'M':
		path_move(path, at[0], at[1]);
		break;
	case 'L':
		path_line(path, at[0], at[1]);
		break;
	case 'C':
		path_curve(path, (struct point){at[0], at[1]}, (struct point){at[2], at[3]},
		           (struct point){at[4], at[5]});
		break;
	case 'Z':
		path_close(path);
		break;
	case 'R':
		path_rounded(path, (struct rect){at[0], at[1], at[2], at[3]}, at[4]);
		break;
	case 'O':
		path_circle(path, (struct point){at[0], at[1]}, at[2]);
		break;
	case 'E':
		path_ellipse(path, (struct point){at[0], at[1]}, at[2], at[3]);
		break;
	case 'A':
		path_arc(path, (struct point){at[0], at[1]}, at[2], at[3], at[4]);
		break;
	default:
		assert(!"a shape has an unknown letter");
	}
}

static const char *skip_blanks(const char *shape)
{
	while (*shape == ' ')
		shape++;
	return shape;
}

/*
 * The number that `*shape` begins with, which moves behind it. Fifteen digits
 * and a power of ten are exact, so their quotient is what strtod() gives, in a
 * tenth of the time. Next to nothing is printed with an exponent: that is left
 * to strtod().
 */
static double read_number(const char **shape)
{
	const char *at = skip_blanks(*shape);
	bool negative = *at == '-';
	int64_t digits = 0;
	int64_t scale = 1;
	int n = 0;

	at += negative;
	for (bool decimals = false; (*at >= '0' && *at <= '9') || (*at == '.' && !decimals); at++) {
		if (*at == '.') {
			decimals = true;
			continue;
		}
		digits = digits * 10 + (*at - '0');
		scale *= decimals ? 10 : 1;
		n++;
	}
	assert(n > 0 && n <= 15);
	if (*at == 'e') {
		char *end;
		double number = strtod(*shape, &end);
		*shape = end;
		return number;
	}
	*shape = at;
	return (negative ? -1.0 : 1.0) * (double)digits / (double)scale;
}

/* Shapes stand in our own source, never in input: a fault in one is ours. */
static struct path_builder *shape_path(struct sketch sketch, const char *shape)
{
	struct path_builder *path = path_new(sketch.painter->scratch);

	for (shape = skip_blanks(shape); *shape; shape = skip_blanks(shape)) {
		char letter = *shape++;
		double numbers[6];
		for (int i = 0; i < numbers_after(letter); i++)
			numbers[i] = read_number(&shape);
		add_piece(path, letter, numbers);
	}
	return path;
}

/* ---- styles ---- */

/*
 * Upright syringes are turned by a quarter, and their hatch with them: turned
 * back here, so that liquid rises right wherever it is.
 */
static void draw_liquid(struct sketch sketch, struct path_builder *shape)
{
	double line = sketch.pitch * HATCH_SHARE;

	if (fabs(sketch.turn) != 90) {
		paint_liquid(sketch.painter, shape, sketch.pitch, line);
		return;
	}
	struct rect lying = path_bounds(&shape->path);
	struct rect upright = {-lying.y - lying.height, lying.x, lying.height, lying.width};
	struct path_builder *area = path_new(sketch.painter->scratch);

	path_rect(area, upright);
	paint_push_clip(sketch.painter, shape);
	paint_push_place(sketch.painter, (struct point){0, 0}, 1, -90);
	paint_liquid(sketch.painter, area, sketch.pitch, line);
	paint_pop(sketch.painter);
	paint_pop(sketch.painter);
}

static void draw_path(struct sketch sketch, enum sketch_style style, struct path_builder *shape)
{
	struct painter *painter = sketch.painter;
	double line = sketch.line;

	switch (style) {
	case SKETCH_LINE:
		paint_stroke_round(painter, shape, line, COLOUR_INK);
		break;
	case SKETCH_THIN:
		paint_stroke_round(painter, shape, line * THIN, COLOUR_INK);
		break;
	case SKETCH_BOLD:
		paint_stroke_round(painter, shape, line * BOLD, COLOUR_INK);
		break;
	case SKETCH_DASHED:
		paint_stroke_dashed(painter, shape, line * THIN, line * 2.2, COLOUR_INK);
		break;
	case SKETCH_SHAPE:
		paint_fill_and_stroke(painter, shape, COLOUR_WHITE, line, COLOUR_INK);
		break;
	case SKETCH_PLASTIC:
		paint_fill_and_stroke(painter, shape, COLOUR_PLASTIC, line, COLOUR_INK);
		break;
	case SKETCH_HUB:
		paint_fill_and_stroke(painter, shape, COLOUR_HUB, line, COLOUR_INK);
		break;
	case SKETCH_POWDER:
		paint_fill(painter, shape, COLOUR_PLASTIC);
		break;
	case SKETCH_SOLID:
		paint_fill(painter, shape, COLOUR_INK);
		break;
	case SKETCH_BLANK:
		paint_fill(painter, shape, COLOUR_WHITE);
		break;
	case SKETCH_LIQUID:
		draw_liquid(sketch, shape);
		break;
	case SKETCH_DROP:
		draw_liquid(sketch, shape);
		paint_stroke(painter, shape, line, COLOUR_LIQUID);
		break;
	case SKETCH_STREAM:
		paint_stroke_round(painter, shape, line * BOLD, COLOUR_LIQUID);
		break;
	case SKETCH_WRONG:
		paint_stroke_round(painter, shape, line * WRONG_BED, COLOUR_WHITE);
		paint_stroke_round(painter, shape, line * WRONG, COLOUR_RUST);
		break;
	}
}

static struct path_builder *format_path(struct sketch sketch, const char *shape, va_list arguments)
{
	return shape_path(sketch, arena_vprintf(sketch.painter->scratch, shape, arguments));
}

void sketch_draw(struct sketch sketch, enum sketch_style style, const char *shape, ...)
{
	va_list arguments;

	va_start(arguments, shape);
	draw_path(sketch, style, format_path(sketch, shape, arguments));
	va_end(arguments);
}

void sketch_strokes(struct sketch sketch, const struct sketch_stroke *strokes, size_t n)
{
	for (size_t i = 0; i < n; i++)
		draw_path(sketch, strokes[i].style, shape_path(sketch, strokes[i].shape));
}

/* From wall to wall; the vessel's outline, drawn later, lies over its ends. */
static void draw_surface(struct sketch sketch, const struct path *liquid, double y)
{
	double left = INFINITY;
	double right = -INFINITY;

	for (size_t i = 0; i < liquid->n; i++) {
		const struct segment *segment = &liquid->segments[i];
		if (segment->kind == SEGMENT_CLOSE || segment->to.y != y)
			continue;
		left = fmin(left, segment->to.x);
		right = fmax(right, segment->to.x);
	}
	if (left < right)
		paint_line(sketch.painter, (struct point){left, y}, (struct point){right, y}, sketch.line,
		           COLOUR_LIQUID);
}

void sketch_fill_vessel(struct sketch sketch, const char *vessel, double surface, bool below)
{
	struct path_builder *liquid = path_new(sketch.painter->scratch);

	path_cut(liquid, &shape_path(sketch, vessel)->path, surface, below);
	if (!liquid->path.n)
		return;
	draw_liquid(sketch, liquid);
	draw_surface(sketch, &liquid->path, surface);
}

/* ---- placing ---- */

struct rect sketch_mirrored(struct rect of, double width)
{
	return (struct rect){width - of.x - of.width, of.y, of.width, of.height};
}

struct sketch sketch_place(struct sketch sketch, struct point at, double scale, double turn)
{
	paint_push_place(sketch.painter, at, scale, turn);
	sketch.line /= scale;
	sketch.pitch /= scale;
	sketch.turn += turn;
	return sketch;
}

void sketch_end(struct sketch sketch)
{
	paint_pop(sketch.painter);
}

/* ---- arrows ---- */

/* Goes on from the shaft's end in the direction it had. */
static void draw_head(struct sketch sketch, struct point before, struct point end, enum colour colour)
{
	double distance = hypot(end.x - before.x, end.y - before.y);
	double reach = sketch.line * HEAD_LENGTH;
	struct path_builder *head = path_new(sketch.painter->scratch);

	assert(distance > 0);
	path_arrow_head(head, before,
	                (struct point){end.x + (end.x - before.x) / distance * reach,
	                               end.y + (end.y - before.y) / distance * reach},
	                reach, sketch.line * HEAD_WIDTH);
	paint_fill(sketch.painter, head, colour);
}

static void draw_arrow(struct sketch sketch, enum arrow_heads heads, const struct path_builder *shaft,
                       enum colour colour)
{
	assert(shaft->path.n >= 2);
	const struct segment *first = &shaft->segments[0];
	const struct segment *second = &shaft->segments[1];
	const struct segment *last = &shaft->segments[shaft->path.n - 1];

	/* Butt ends: a round one would show beside the head's back. */
	paint_stroke(sketch.painter, shaft, sketch.line * BOLD, colour);
	draw_head(sketch, last->kind == SEGMENT_CURVE ? last->control_2 : last[-1].to, last->to, colour);
	if (heads == ARROW_AT_BOTH)
		draw_head(sketch, second->kind == SEGMENT_CURVE ? second->control_1 : second->to, first->to, colour);
}

void sketch_arrow(struct sketch sketch, enum arrow_heads heads, const char *shaft, ...)
{
	va_list arguments;

	va_start(arguments, shaft);
	draw_arrow(sketch, heads, format_path(sketch, shaft, arguments), COLOUR_INK);
	va_end(arguments);
}

void sketch_liquid_arrow(struct sketch sketch, const char *shaft, ...)
{
	va_list arguments;

	va_start(arguments, shaft);
	draw_arrow(sketch, ARROW_AT_END, format_path(sketch, shaft, arguments), COLOUR_LIQUID);
	va_end(arguments);
}
