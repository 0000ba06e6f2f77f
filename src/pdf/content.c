#include "pdf/content.h"

#include "pdf/palette.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

/* Decimals of a length; of a matrix, which multiplies lengths; of a colour's share. */
enum { length_decimals = 3, matrix_decimals = 6, colour_decimals = 3 };

/* ---- numbers ---- */

/* What a stream is made of is a few bytes long, and mostly there is room for it. */
static void append(struct content *content, const char *bytes, size_t n)
{
	GString *stream = content->bytes;
	if (n >= stream->allocated_len - stream->len) {
		g_string_append_len(stream, bytes, (gssize)n);
		return;
	}
	memcpy(stream->str + stream->len, bytes, n);
	stream->len += n;
	stream->str[stream->len] = '\0';
}

/*
 * Written by hand: printing numbers is most of what writing a page costs, and
 * printf does it ten times as slowly and by the user's locale.
 */
void content_number(struct content *content, double number, int decimals)
{
	static const double scales[] = {1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6};
	char digits[32];
	size_t n = sizeof digits;
	assert(fabs(number) < 1e9 && decimals <= matrix_decimals);
	uint64_t value = (uint64_t)llround(fabs(number) * scales[decimals]);
	bool negative = number < 0 && value != 0;
	digits[--n] = ' ';
	while (decimals > 0 && value % 10 == 0) {
		value /= 10;
		decimals--;
	}
	if (decimals > 0) {
		for (; decimals > 0; decimals--, value /= 10)
			digits[--n] = (char)('0' + value % 10);
		digits[--n] = '.';
	}
	do
		digits[--n] = (char)('0' + value % 10);
	while ((value /= 10) != 0);
	if (negative)
		digits[--n] = '-';
	append(content, digits + n, sizeof digits - n);
}

void content_add(struct content *content, const char *text)
{
	append(content, text, strlen(text));
}

void content_code(struct content *content, unsigned code)
{
	static const char hex[] = "0123456789ABCDEF";
	const char digits[] = {hex[code >> 12 & 15], hex[code >> 8 & 15], hex[code >> 4 & 15], hex[code & 15]};
	append(content, digits, sizeof digits);
}

static void add_point(struct content *content, struct point point)
{
	content_number(content, point.x, length_decimals);
	content_number(content, point.y, length_decimals);
}

static void add_matrix(struct content *content, const struct matrix *matrix)
{
	content_number(content, matrix->a, matrix_decimals);
	content_number(content, matrix->b, matrix_decimals);
	content_number(content, matrix->c, matrix_decimals);
	content_number(content, matrix->d, matrix_decimals);
	content_number(content, matrix->e, matrix_decimals);
	content_number(content, matrix->f, matrix_decimals);
	content_add(content, "cm\n");
}

/* ---- the state ---- */

static struct content_state *state_of(struct content *content)
{
	return &content->states[content->depth];
}

struct content *content_new(double height, bool mono)
{
	struct content *content = g_new0(struct content, 1);
	content->bytes = g_string_sized_new(1 << 16);
	content->mono = mono;
	content->states[0] = (struct content_state){COLOUR_NONE, COLOUR_NONE, -1, 0, -1};
	add_matrix(content, &(struct matrix){1 / POINT_MM, 0, 0, -1 / POINT_MM, 0, height / POINT_MM});
	return content;
}

void content_free(struct content *content)
{
	g_string_free(content->bytes, TRUE);
	g_free(content);
}

static void push(struct content *content)
{
	assert(content->depth + 1 < deepest_state);
	content_flush(content);
	content_add(content, "q\n");
	content->states[content->depth + 1] = content->states[content->depth];
	content->depth++;
}

void content_pop(struct content *content)
{
	assert(content->depth > 0);
	content_flush(content);
	content_add(content, "Q\n");
	content->depth--;
}

static void add_colour(struct content *content, enum colour colour, const char *operator)
{
	struct rgb rgb = palette_rgb(colour, content->mono);
	content_number(content, rgb.red, colour_decimals);
	content_number(content, rgb.green, colour_decimals);
	content_number(content, rgb.blue, colour_decimals);
	content_add(content, operator);
}

void content_fill_colour(struct content *content, enum colour colour)
{
	struct content_state *state = state_of(content);
	if (state->fill == colour)
		return;
	state->fill = colour;
	add_colour(content, colour, "rg\n");
}

static void use_line(struct content *content, const struct ink *ink)
{
	struct content_state *state = state_of(content);
	if (state->stroke != ink->stroke)
		add_colour(content, ink->stroke, "RG\n");
	if (state->line != ink->line) {
		content_number(content, ink->line, length_decimals);
		content_add(content, "w\n");
	}
	/* Cap and join go together: both round, or butt and mitre. */
	if (state->cap != (int)ink->cap)
		content_add(content, ink->cap == CAP_ROUND ? "1 J 1 j\n" : "0 J 0 j\n");
	if (state->dash != ink->dash) {
		content_add(content, "[");
		if (ink->dash > 0)
			content_number(content, ink->dash, length_decimals);
		content_add(content, "]0 d\n");
	}
	*state = (struct content_state){state->fill, ink->stroke, ink->line, ink->dash, (int)ink->cap};
}

/* ---- paths ---- */

/* A box that stands upright is one operator. */
static bool add_box(struct content *content, const struct path *path)
{
	const struct segment *s = path->segments;
	if (path->n != 5 || s[0].kind != SEGMENT_MOVE || s[1].kind != SEGMENT_LINE || s[2].kind != SEGMENT_LINE ||
	    s[3].kind != SEGMENT_LINE || s[4].kind != SEGMENT_CLOSE)
		return false;
	if (s[0].to.y != s[1].to.y || s[1].to.x != s[2].to.x || s[2].to.y != s[3].to.y || s[3].to.x != s[0].to.x)
		return false;
	add_point(content, s[0].to);
	content_number(content, s[2].to.x - s[0].to.x, length_decimals);
	content_number(content, s[2].to.y - s[0].to.y, length_decimals);
	content_add(content, "re\n");
	return true;
}

static void add_path(struct content *content, const struct path *path)
{
	if (add_box(content, path))
		return;
	for (size_t i = 0; i < path->n; i++) {
		const struct segment *segment = &path->segments[i];
		switch (segment->kind) {
		case SEGMENT_MOVE:
			add_point(content, segment->to);
			content_add(content, "m\n");
			break;
		case SEGMENT_LINE:
			add_point(content, segment->to);
			content_add(content, "l\n");
			break;
		case SEGMENT_CURVE:
			add_point(content, segment->control_1);
			add_point(content, segment->control_2);
			add_point(content, segment->to);
			content_add(content, "c\n");
			break;
		case SEGMENT_CLOSE:
			content_add(content, "h\n");
			break;
		}
	}
}

/* The state was set before the lines were gathered: no operator may stand inside a path. */
void content_flush(struct content *content)
{
	if (content->has_lines)
		content_add(content, "S\n");
	content->has_lines = false;
}

static bool same_line(const struct ink *a, const struct ink *b)
{
	return a->stroke == b->stroke && a->line == b->line && a->dash == b->dash && a->cap == b->cap;
}

static void gather(struct content *content, const struct path *path, const struct ink *ink)
{
	if (!content->has_lines || !same_line(&content->lines, ink)) {
		content_flush(content);
		use_line(content, ink);
	}
	add_path(content, path);
	content->lines = *ink;
	content->has_lines = true;
}

static void fill(struct content *content, const struct path *path, const struct ink *ink)
{
	bool stroked = ink->stroke != COLOUR_NONE;
	content_flush(content);
	content_fill_colour(content, ink->fill);
	if (stroked)
		use_line(content, ink);
	add_path(content, path);
	content_add(content, stroked ? "B" : "f");
	content_add(content, ink->even_odd ? "*\n" : "\n");
}

void content_path(struct content *content, const struct path *path, const struct ink *ink)
{
	struct ink used = palette_ink(*ink, content->mono);
	if (path->n == 0)
		return;
	if (used.fill != COLOUR_NONE)
		fill(content, path, &used);
	else if (used.stroke != COLOUR_NONE)
		gather(content, path, &used);
}

void content_push_clip(struct content *content, const struct path *path)
{
	push(content);
	add_path(content, path);
	content_add(content, "W n\n");
}

void content_push_matrix(struct content *content, const struct matrix *matrix)
{
	push(content);
	add_matrix(content, matrix);
}
