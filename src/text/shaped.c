#include "text/shaped.h"

#include <string.h>

enum { n_buckets = 8192 };

static const double arabic_scale = 1.13;

struct shaped_texts {
	const struct fonts *fonts;
	struct shaped *buckets[n_buckets];
};

struct shaped_texts *shaped_texts_new(const struct fonts *fonts)
{
	struct shaped_texts *texts = g_new0(struct shaped_texts, 1);
	texts->fonts = fonts;
	return texts;
}

void shaped_texts_free(struct shaped_texts *texts)
{
	g_free(texts);
}

/* ---- setting one ---- */

static void embolden(PangoAttrList *attributes, size_t from, size_t to)
{
	PangoAttribute *bold = pango_attr_weight_new(PANGO_WEIGHT_BOLD);
	bold->start_index = (guint)from;
	bold->end_index = (guint)to;
	pango_attr_list_insert(attributes, bold);
}

/* A soft hyphen is only an offer to break a word, and none is taken. */
static bool is_soft_hyphen(const char *c)
{
	return c[0] == '\xC2' && c[1] == '\xAD';
}

/* `text` without its switches and soft hyphens; what stands between switches is made bold. */
static char *read_switches(const char *text, PangoAttrList *attributes)
{
	char *plain = g_malloc0(strlen(text) + 1);
	size_t n = 0;
	size_t bold_from = 0;
	bool bold = false;
	for (const char *c = text; *c; c++) {
		if (is_soft_hyphen(c)) {
			c++;
			continue;
		}
		bool on = *c == TEXT_BOLD_ON[0];
		if (!on && *c != TEXT_BOLD_OFF[0]) {
			plain[n++] = *c;
			continue;
		}
		if (bold && !on)
			embolden(attributes, bold_from, n);
		if (!bold && on)
			bold_from = n;
		bold = on;
	}
	if (bold)
		embolden(attributes, bold_from, n);
	return plain;
}

/*
 * No ligatures: 'fi' as one glyph costs a second font subset and is extracted
 * badly. Every baseline is one leading below the last, whatever stands on the
 * line.
 */
static PangoAttrList *attributes_of(const struct shaping *shaping)
{
	PangoAttrList *attributes = pango_attr_list_new();
	const char *features = shaping->tabular ? "liga=0,tnum=1" : "liga=0";
	pango_attr_list_insert(attributes, pango_attr_font_features_new(features));
	pango_attr_list_insert(attributes, pango_attr_language_new(pango_language_from_string(shaping->language)));
	pango_attr_list_insert(attributes, pango_attr_line_height_new_absolute(shaping->leading));
	return attributes;
}

/*
 * A mark belongs to the letter before it, whatever script that is of, and so do
 * spaces and points: where a run ended before one, Pango would set it apart.
 */
static bool is_of_run(gunichar c, bool arabic)
{
	GUnicodeScript script = g_unichar_get_script(c);
	bool follows = script == G_UNICODE_SCRIPT_INHERITED || g_unichar_isspace(c) || g_unichar_ispunct(c);
	return follows || (script == G_UNICODE_SCRIPT_ARABIC) == arabic;
}

/* Arabic letters are small in their em: they are set larger to be read as easily as the rest. */
static void enlarge_arabic(const char *text, PangoAttrList *attributes)
{
	const char *at = text;
	while (*at) {
		const char *from = at;
		bool arabic = g_unichar_get_script(g_utf8_get_char(at)) == G_UNICODE_SCRIPT_ARABIC;
		do {
			at = g_utf8_next_char(at);
		} while (*at && is_of_run(g_utf8_get_char(at), arabic));
		if (!arabic)
			continue;
		PangoAttribute *scale = pango_attr_scale_new(arabic_scale);
		scale->start_index = (guint)(from - text);
		scale->end_index = (guint)(at - text);
		pango_attr_list_insert(attributes, scale);
	}
}

/* Pango changes sides by itself only where it guesses the direction. */
static PangoAlignment alignment(enum text_align align, bool right_to_left)
{
	if (align == ALIGN_CENTER)
		return PANGO_ALIGN_CENTER;
	return (align == ALIGN_END) == right_to_left ? PANGO_ALIGN_LEFT : PANGO_ALIGN_RIGHT;
}

static void shape(const struct fonts *fonts, struct shaped *shaped)
{
	const struct shaping *shaping = &shaped->shaping;
	bool right_to_left = text_right_to_left(shaping->language);
	shaped->layout = pango_layout_new(right_to_left ? fonts->right_to_left : fonts->left_to_right);
	PangoFontDescription *font = fonts_describe(fonts, shaping->language, shaping->weight);
	pango_layout_set_font_description(shaped->layout, font);
	pango_font_description_free(font);
	/* Not guessed from the first letter: a line that begins in another script would turn round. */
	pango_layout_set_auto_dir(shaped->layout, FALSE);
	pango_layout_set_alignment(shaped->layout, alignment(shaping->align, right_to_left));
	pango_layout_set_wrap(shaped->layout, PANGO_WRAP_WORD);
	pango_layout_set_width(shaped->layout, shaping->width == SHAPED_UNWRAPPED ? -1 : shaping->width);
	PangoAttrList *attributes = attributes_of(shaping);
	shaped->string = read_switches(shaping->text, attributes);
	enlarge_arabic(shaped->string, attributes);
	pango_layout_set_attributes(shaped->layout, attributes);
	pango_attr_list_unref(attributes);
	pango_layout_set_text(shaped->layout, shaped->string, -1);
}

/* ---- measuring it ---- */

static int width_of(PangoLayoutLine *line)
{
	PangoRectangle logical;
	pango_layout_line_get_extents(line, NULL, &logical);
	return logical.width;
}

static int widest_line(PangoLayout *layout)
{
	int widest = 0;
	for (GSList *line = pango_layout_get_lines_readonly(layout); line; line = line->next)
		widest = MAX(widest, width_of(line->data));
	return widest;
}

/* A leading apart, or a little more where two fonts that sit differently meet on a line. */
static int last_baseline(PangoLayout *layout)
{
	PangoLayoutIter *iter = pango_layout_get_iter(layout);
	int first = pango_layout_iter_get_baseline(iter);
	int last = first;
	while (pango_layout_iter_next_line(iter))
		last = pango_layout_iter_get_baseline(iter);
	pango_layout_iter_free(iter);
	return last - first;
}

/* They have a glyph in a fallback font, and must not be seen on a sheet. */
static int count_forbidden(const char *text)
{
	int n = 0;
	for (const char *c = text; *c; c = g_utf8_next_char(c)) {
		gunichar sign = g_utf8_get_char(c);
		n += sign == 0xFFFD || sign == 0xB5;
	}
	return n;
}

static void measure(struct shaped *shaped)
{
	PangoLayout *layout = shaped->layout;
	pango_layout_get_extents(layout, &shaped->ink, NULL);
	shaped->lines = pango_layout_get_line_count(layout);
	shaped->width = widest_line(layout);
	shaped->baseline = pango_layout_get_baseline(layout);
	shaped->last = last_baseline(layout);
	shaped->missing = pango_layout_get_unknown_glyphs_count(layout) + count_forbidden(shaped->string);
	shaped->leftward = pango_layout_get_line_readonly(layout, 0)->resolved_dir == PANGO_DIRECTION_RTL;
}

/* ---- the widths that it is good for ---- */

/* Whether a space at a line's end needs room is Pango's own affair: half an em is more than any. */
#define SPACE_AT_MOST ((int)(FONTS_SIZE * PANGO_SCALE / 2))

/* Of the letters up to where a line may break first, without the spaces there. */
static int first_word(const struct shaped *shaped, PangoLayoutLine *line)
{
	int n;
	const PangoLogAttr *letters = pango_layout_get_log_attrs_readonly(shaped->layout, &n);
	const char *at = shaped->string + line->start_index;
	const char *end = at + line->length;
	const char *last = at;
	long number = g_utf8_pointer_to_offset(shaped->string, at);
	while (at < end) {
		if (!letters[number].is_white)
			last = at;
		at = g_utf8_next_char(at);
		if (letters[++number].is_line_break)
			break;
	}
	int x;
	pango_layout_line_index_to_x(line, (int)(last - shaped->string), TRUE, &x);
	return x;
}

/* A line that was wrapped takes the next one's first word in where both have room: even without the space between. */
static int taken_in_at(const struct shaped *shaped)
{
	int least = SHAPED_UNWRAPPED;
	for (GSList *line = pango_layout_get_lines_readonly(shaped->layout); line && line->next; line = line->next) {
		PangoLayoutLine *next = line->next->data;
		if (!next->is_paragraph_start)
			least = MIN(least, width_of(line->data) + first_word(shaped, next) - 1);
	}
	return least;
}

/* What is not aligned at the left has other places in each width. */
static void find_bounds(struct shaped *shaped)
{
	const struct shaping *shaping = &shaped->shaping;
	shaped->least = shaping->width;
	shaped->most = shaping->width;
	if (shaping->align != ALIGN_START || text_right_to_left(shaping->language) ||
	    text_has_right_to_left(shaped->string))
		return;
	/* One line has no space at its end: it fits the width that it was measured to have. */
	int needed = shaped->lines == 1 ? shaped->width : shaped->width + SPACE_AT_MOST;
	shaped->least = MIN(shaping->width, needed);
	shaped->most = MAX(shaping->width, taken_in_at(shaped));
}

/* ---- keeping it ---- */

uint64_t shaped_mix(uint64_t digest, uint64_t further)
{
	digest = (digest ^ further) * 0x9E3779B97F4A7C15u;
	return digest ^ digest >> 32;
}

static size_t bucket_of(const struct shaping *shaping)
{
	return shaped_mix(shaping->digest, shaping->weight) % n_buckets;
}

static bool alike_but_for_width(const struct shaping *a, const struct shaping *b)
{
	return a->digest == b->digest && a->length == b->length && a->weight == b->weight && a->align == b->align &&
	       a->tabular == b->tabular && a->leading == b->leading && memcmp(a->text, b->text, a->length) == 0 &&
	       strcmp(a->language, b->language) == 0;
}

static struct shaped *find(struct shaped_texts *texts, const struct shaping *shaping)
{
	for (struct shaped *shaped = texts->buckets[bucket_of(shaping)]; shaped; shaped = shaped->next)
		if (shaping->width >= shaped->least && shaping->width <= shaped->most &&
		    alike_but_for_width(&shaped->shaping, shaping))
			return shaped;
	return NULL;
}

static struct shaped *set_new(struct shaped_texts *texts, const struct shaping *shaping)
{
	struct shaped *shaped = g_new0(struct shaped, 1);
	struct shaped **bucket = &texts->buckets[bucket_of(shaping)];
	shaped->shaping = *shaping;
	shaped->shaping.text = g_strdup(shaping->text);
	shaped->shaping.language = g_strdup(shaping->language);
	shape(texts->fonts, shaped);
	measure(shaped);
	find_bounds(shaped);
	shaped->next = *bucket;
	*bucket = shaped;
	return shaped;
}

const struct shaped *shaped_take(struct shaped_texts *texts, const struct shaping *shaping)
{
	struct shaped *shaped = find(texts, shaping);
	if (!shaped)
		shaped = set_new(texts, shaping);
	shaped->users++;
	return shaped;
}

void shaped_give_back(struct shaped_texts *texts, const struct shaped *given)
{
	struct shaped **link = &texts->buckets[bucket_of(&given->shaping)];
	while (*link != given)
		link = &(*link)->next;
	struct shaped *shaped = *link;
	if (--shaped->users > 0)
		return;
	*link = shaped->next;
	g_object_unref(shaped->layout);
	g_free((char *)shaped->shaping.text);
	g_free((char *)shaped->shaping.language);
	g_free(shaped->string);
	g_free(shaped);
}
