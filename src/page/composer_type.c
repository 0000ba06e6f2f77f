/*
 * composer_type.c - the composer's texts: sizes, names that shrink, glyphs that lack.
 */
#include "page/composer.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#define NAME_LEAST_SIZE 10.0

static const struct {
	double normal;
	double large;
} sizes[] = {
	[TYPE_CAPTION] = {9, 18},      [TYPE_REFERENCE] = {10, 18}, [TYPE_BODY] = {12, 18},  [TYPE_LEAD] = {14, 20},
	[TYPE_SECTION] = {17, 24},     [TYPE_DAY] = {20, 34},       [TYPE_TITLE] = {26, 34}, [TYPE_MARK] = {30, 40},
	[TYPE_MARK_DEVICE] = {24, 40}, [TYPE_MARK_GRID] = {12, 30},
};

struct text_style composer_style(const struct composer *composer, enum type_role role, enum text_weight weight)
{
	return (struct text_style){.size = composer->large_print ? sizes[role].large : sizes[role].normal,
	                           .weight = weight};
}

/* ---- setting ---- */

/* "Three ways to say th...": the beginning of a text, for a finding. */
static const char *beginning(struct composer *composer, const struct text_block *block)
{
	const char *text = text_string(block);
	size_t length = strlen(text);
	if (length <= 40)
		return text;
	length = 40;
	while (length > 0 && ((unsigned char)text[length] & 0xC0) == 0x80)
		length--; /* never inside a character */
	return arena_printf(composer->arena, "%.*s...", (int)length, text);
}

static const char *language_of(const struct composer *composer)
{
	return speaker_language(composer->speaker);
}

/* "0142 555 000" and "mcg 125" are what becomes of figures alone in a line from the right: they are isolated. */
static const char *isolated(struct composer *composer, const char *text)
{
	bool alone = composer->right_to_left && !text_has_right_to_left(text);
	return alone ? arena_printf(composer->arena, TEXT_LEFT_TO_RIGHT "%s" TEXT_ISOLATE_END, text) : text;
}

static const struct text_block *set(struct composer *composer, const char *text, struct text_style style, double width)
{
	const struct text_block *block =
		text_set(composer->typesetter, isolated(composer, text), language_of(composer), style, width);
	int missing = text_missing_glyphs(block);
	if (missing > 0)
		composer_stop(
			composer, "glyph-missing",
			"%d of the characters in '%s' cannot be printed; write it with other characters or add a font",
			missing, beginning(composer, block));
	return block;
}

static bool fits(const struct text_block *block, double width)
{
	return width <= 0 || text_width(block) <= width + TOLERANCE;
}

static void too_long(struct composer *composer, const struct text_block *block)
{
	composer_stop(composer, "name-too-long", "'%s' is too long for its place; shorten it",
	              beginning(composer, block));
}

const struct text_block *composer_set(struct composer *composer, const char *text, struct text_style style,
                                      double width)
{
	const struct text_block *block = set(composer, text, style, width);
	if (!fits(block, width))
		too_long(composer, block);
	return block;
}

const struct text_block *composer_set_name(struct composer *composer, const char *name, struct text_style style,
                                           double width, int lines)
{
	double least = style.size * NAME_LEAST_SHARE;
	if (least < NAME_LEAST_SIZE)
		least = style.size < NAME_LEAST_SIZE ? style.size : NAME_LEAST_SIZE;
	double share = style.leading / style.size;
	const struct text_block *block = set(composer, name, style, width);
	while (!fits(block, width) || text_lines(block) > lines) {
		if (style.size <= least) {
			too_long(composer, block);
			break;
		}
		style.size = style.size - 0.5 > least ? style.size - 0.5 : least;
		style.leading = share * style.size;
		block = set(composer, name, style, width);
	}
	return block;
}

double composer_text_width(struct composer *composer, const char *text, struct text_style style)
{
	return text == NULL || text[0] == '\0' ? 0 : text_width(set(composer, text, style, 0));
}

double composer_text_height(struct composer *composer, const char *text, struct text_style style, double width)
{
	return text == NULL || text[0] == '\0' ? 0 : text_height(composer_set(composer, text, style, width));
}

double composer_widest_word(struct composer *composer, const char *text, struct text_style style)
{
	double widest = 0;
	while (text != NULL && *text != '\0') {
		size_t length = strcspn(text, " ");
		const char *word = arena_strndup(composer->arena, text, length);
		widest = fmax(widest, composer_text_width(composer, word, style));
		text += length + strspn(text + length, " ");
	}
	return widest;
}

/* ---- putting ---- */

static struct rect put_at(struct composer *composer, const struct text_block *block, struct point at,
                          enum colour colour, const char *link)
{
	struct rect ink = text_ink(block);
	ink.x += at.x;
	ink.y += at.y;
	const char *link_words = link == NULL ? NULL : say1(composer->speaker, "page.ref", "page", link);
	put_mark(composer,
	         (struct placed_mark){.kind = MARK_TEXT, .area = ink, .text = {block, at, colour, link, link_words}});
	return (struct rect){at.x, at.y, text_width(block), text_height(block)};
}

/* Where a space of `width` starts that is aligned to `x`. */
static double start_of(enum text_align align, double x, double width)
{
	switch (align) {
	case ALIGN_START:
		break;
	case ALIGN_CENTER:
		return x - width / 2;
	case ALIGN_END:
		return x - width;
	}
	return x;
}

struct rect put_block(struct composer *composer, const struct text_block *block, enum text_align align, double x,
                      double y, enum colour colour)
{
	struct point at = {start_of(align, x, text_width(block)), y};
	return put_at(composer, block, at, colour, NULL);
}

struct rect put_text(struct composer *composer, const char *text, struct text_style style, enum text_align align,
                     double x, double y, double width, enum colour colour)
{
	if (text == NULL || text[0] == '\0')
		return (struct rect){x, y, 0, 0};
	if (width > 0)
		style.align = align;
	const struct text_block *block = composer_set(composer, text, style, width);
	struct point at = {start_of(align, x, width > 0 ? width : text_width(block)), y};
	struct rect area = put_at(composer, block, at, colour, NULL);
	if (width > 0)
		area.x = start_of(align, x, area.width);
	return area;
}

struct rect put_plain(struct composer *composer, const char *text, struct text_style style, double x, double y,
                      double width)
{
	return put_text(composer, text, style, ALIGN_START, x, y, width, COLOUR_INK);
}

struct rect put_page_ref(struct composer *composer, section_ref section, struct text_style style, enum text_align align,
                         double x, double y)
{
	if (section < 0)
		return (struct rect){x, y, 0, 0};
	const struct text_block *block = composer_set(composer, composer_page_ref(composer, section), style, 0);
	struct point at = {start_of(align, x, text_width(block)), y};
	return put_at(composer, block, at, COLOUR_INK, composer_label_of(composer, section, 0));
}

struct rect put_page_refs(struct composer *composer, section_ref section, struct text_style style,
                          enum text_align align, double x, double y, double width)
{
	if (section < 0)
		return (struct rect){x, y, 0, 0};
	const struct text_block *block = composer_set(composer, composer_page_refs(composer, section), style, width);
	struct point at = {start_of(align, x, text_width(block)), y};
	return put_at(composer, block, at, COLOUR_INK, composer_label_of(composer, section, 0));
}

struct rect put_page_list(struct composer *composer, const section_ref *sections, size_t n, struct text_style style,
                          enum text_align align, double x, double y, double width)
{
	if (n == 0)
		return (struct rect){x, y, 0, 0};
	const struct text_block *block =
		composer_set(composer, composer_page_list(composer, sections, n), style, width);
	struct point at = {start_of(align, x, text_width(block)), y};
	return put_at(composer, block, at, COLOUR_INK, composer_label_of(composer, sections[0], 0));
}

struct rect put_paragraph(struct composer *composer, const char *text, struct text_style style, double x, double y,
                          double width)
{
	return put_heading(composer, ROLE_PARAGRAPH, text, style, x, y, width);
}

struct rect put_heading(struct composer *composer, enum role role, const char *text, struct text_style style, double x,
                        double y, double width)
{
	if (text == NULL || text[0] == '\0')
		return (struct rect){x, y, 0, 0};
	begin_group(composer, role);
	struct rect area = put_plain(composer, text, style, x, y, width);
	end_group(composer);
	return area;
}
