#include "text/text.h"

#include "text/fonts.h"
#include "text/layout.h"

#include <assert.h>
#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <string.h>
#include <unicode/uchar.h>
#include <unicode/uloc.h>

/*
 * Every block is kept under all that was asked for, so that a line that stands
 * on every page, or in many packets, is shaped once. A block is found again by
 * its whole input, never by a digest alone: a stale dose would be a fault that
 * hurts. What `packets_kept` packets in a row did not ask for is freed, in a
 * search through all after every `packets_a_search` of them: a name is
 * soon gone, a heading stays, and memory does not grow with the packets made.
 */
enum { n_buckets = 16384, packets_kept = 8, packets_a_search = 2 };

/* Cap height of the main family in its em; the font says it as well (OS/2, sCapHeight). */
static const double cap_height_em = 0.668;
/* The deepest Latin letter, a capital G with a cedilla, hangs 0.251 em. */
static const double descent_em = 0.26;
static const double usual_leading_em = 1.3;
static const double arabic_scale = 1.13;
/* A letter of running text, on average; only to guess how a text will wrap. */
static const double usual_letter_em = 0.5;

/* All that a block is made from. */
struct request {
	const char *text; /* with its switches */
	size_t length;    /* of the text */
	uint64_t digest;  /* of the text */
	const char *language;
	struct text_style style;
	double width;
};

struct text_block {
	struct text_block *next; /* in its bucket */
	struct request request;
	const char *string; /* without switches and soft hyphens */
	PangoLayout *layout;
	int lines;
	double width;
	double leading;
	double rise;
	double last; /* from the first baseline to the last */
	struct rect ink;
	int missing;
	bool leftward;     /* its first line is read from the right */
	unsigned asked_in; /* the last packet that asked for it */
};

struct typesetter {
	struct fonts fonts;
	struct arena *arena; /* holds this, not the blocks */
	struct text_block *buckets[n_buckets];
	unsigned packet; /* how often it was reset */
};

struct typesetter *typesetter_new(const char *folder, struct findings *findings)
{
	struct fonts fonts;
	if (!fonts_open(folder, findings, &fonts))
		return NULL;
	struct arena *arena = arena_new();
	struct typesetter *typesetter = arena_alloc(arena, sizeof *typesetter);
	typesetter->fonts = fonts;
	typesetter->arena = arena;
	return typesetter;
}

static void block_free(struct text_block *block)
{
	g_object_unref(block->layout);
	g_free((char *)block->request.text);
	g_free((char *)block->request.language);
	g_free((char *)block->string);
	g_free(block);
}

/* Frees the blocks that no packet since number `since` asked for. */
static void drop_blocks(struct typesetter *typesetter, unsigned since)
{
	for (size_t i = 0; i < n_buckets; i++) {
		struct text_block **link = &typesetter->buckets[i];
		while (*link) {
			struct text_block *block = *link;
			if (block->asked_in >= since) {
				link = &block->next;
				continue;
			}
			*link = block->next;
			block_free(block);
		}
	}
}

void typesetter_reset(struct typesetter *typesetter)
{
	typesetter->packet++;
	if (typesetter->packet >= packets_kept && typesetter->packet % packets_a_search == 0)
		drop_blocks(typesetter, typesetter->packet - packets_kept + 1);
}

void typesetter_free(struct typesetter *typesetter)
{
	if (!typesetter)
		return;
	drop_blocks(typesetter, UINT_MAX);
	fonts_close(&typesetter->fonts);
	arena_free(typesetter->arena);
}

bool typesetter_fonts_same(const struct typesetter *typesetter)
{
	return fonts_same(&typesetter->fonts);
}

/* ---- finding a block again ---- */

static uint64_t mix(uint64_t digest, uint64_t further)
{
	digest = (digest ^ further) * 0x9E3779B97F4A7C15u;
	return digest ^ digest >> 32;
}

/* Only to choose a bucket: eight letters at a time, as a page asks for hundreds of texts. */
static uint64_t digest_of(const char *text, size_t length)
{
	uint64_t digest = length;
	while (length > 0) {
		uint64_t letters = 0;
		size_t n = length < sizeof letters ? length : sizeof letters;
		memcpy(&letters, text, n);
		digest = mix(digest, letters);
		text += n;
		length -= n;
	}
	return digest;
}

/* One text may be kept in a dozen widths and sizes. */
static size_t bucket_of(const struct request *request)
{
	uint64_t width = (uint64_t)llround(request->width * 1e6);
	uint64_t size = (uint64_t)llround(request->style.size * 1e6);
	return mix(mix(request->digest, width), size) % n_buckets;
}

static bool style_equal(const struct text_style *a, const struct text_style *b)
{
	return a->size == b->size && a->weight == b->weight && a->align == b->align && a->leading == b->leading &&
	       a->tabular == b->tabular;
}

static bool request_equal(const struct request *a, const struct request *b)
{
	return a->width == b->width && a->length == b->length && style_equal(&a->style, &b->style) &&
	       memcmp(a->text, b->text, a->length) == 0 && strcmp(a->language, b->language) == 0;
}

static const struct text_block *find(struct typesetter *typesetter, const struct request *request)
{
	for (struct text_block *block = typesetter->buckets[bucket_of(request)]; block; block = block->next)
		if (request_equal(&block->request, request)) {
			block->asked_in = typesetter->packet;
			return block;
		}
	return NULL;
}

static void keep(struct typesetter *typesetter, struct text_block *block)
{
	struct text_block **bucket = &typesetter->buckets[bucket_of(&block->request)];
	block->next = *bucket;
	*bucket = block;
	block->asked_in = typesetter->packet;
}

/* ---- setting one ---- */

/* A point of the layout is as much larger on the page as the block's letters are than those of the layout. */
static double layout_point(const struct text_style *style)
{
	return POINT_MM * style->size / FONTS_SIZE;
}

static double millimetres(const struct text_block *block, int units)
{
	return (double)units / PANGO_SCALE * layout_point(&block->request.style);
}

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
static PangoAttrList *attributes_of(const struct request *request, double leading)
{
	int units = (int)lround(leading / layout_point(&request->style) * PANGO_SCALE);
	PangoAttrList *attributes = pango_attr_list_new();
	const char *features = request->style.tabular ? "liga=0,tnum=1" : "liga=0";
	pango_attr_list_insert(attributes, pango_attr_font_features_new(features));
	pango_attr_list_insert(attributes, pango_attr_language_new(pango_language_from_string(request->language)));
	pango_attr_list_insert(attributes, pango_attr_line_height_new_absolute(units));
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

static void shape(struct typesetter *typesetter, struct text_block *block)
{
	const struct request *request = &block->request;
	const struct fonts *fonts = &typesetter->fonts;
	bool right_to_left = text_right_to_left(request->language);
	block->layout = pango_layout_new(right_to_left ? fonts->right_to_left : fonts->left_to_right);
	PangoFontDescription *font = fonts_describe(fonts, request->language, request->style.weight);
	pango_layout_set_font_description(block->layout, font);
	pango_font_description_free(font);
	/* Not guessed from the first letter: a line that begins in another script would turn round. */
	pango_layout_set_auto_dir(block->layout, FALSE);
	pango_layout_set_alignment(block->layout, alignment(request->style.align, right_to_left));
	pango_layout_set_wrap(block->layout, PANGO_WRAP_WORD);
	/* Rounded up, so that a text still fits the width that it was measured to have. */
	double width = ceil(request->width / layout_point(&request->style) * PANGO_SCALE);
	pango_layout_set_width(block->layout, request->width > 0 ? (int)width : -1);
	PangoAttrList *attributes = attributes_of(request, block->leading);
	block->string = read_switches(request->text, attributes);
	enlarge_arabic(block->string, attributes);
	pango_layout_set_attributes(block->layout, attributes);
	pango_attr_list_unref(attributes);
	pango_layout_set_text(block->layout, block->string, -1);
}

static double widest_line(const struct text_block *block)
{
	int widest = 0;
	for (GSList *line = pango_layout_get_lines_readonly(block->layout); line; line = line->next) {
		PangoRectangle logical;
		pango_layout_line_get_extents(line->data, NULL, &logical);
		widest = logical.width > widest ? logical.width : widest;
	}
	return millimetres(block, widest);
}

/* A leading apart, or a little more where two fonts that sit differently meet on a line. */
static double last_baseline(const struct text_block *block)
{
	PangoLayoutIter *iter = pango_layout_get_iter(block->layout);
	int first = pango_layout_iter_get_baseline(iter);
	int last = first;
	while (pango_layout_iter_next_line(iter))
		last = pango_layout_iter_get_baseline(iter);
	pango_layout_iter_free(iter);
	return millimetres(block, last - first);
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

static void measure(struct text_block *block)
{
	PangoRectangle ink;
	pango_layout_get_extents(block->layout, &ink, NULL);
	block->lines = pango_layout_get_line_count(block->layout);
	block->width = widest_line(block);
	block->last = last_baseline(block);
	block->rise =
		millimetres(block, pango_layout_get_baseline(block->layout)) - text_cap_height(block->request.style);
	block->ink = (struct rect){millimetres(block, ink.x), millimetres(block, ink.y) - block->rise,
	                           millimetres(block, ink.width), millimetres(block, ink.height)};
	block->missing = pango_layout_get_unknown_glyphs_count(block->layout) + count_forbidden(block->string);
	block->leftward = pango_layout_get_line_readonly(block->layout, 0)->resolved_dir == PANGO_DIRECTION_RTL;
}

static const struct text_block *set_new(struct typesetter *typesetter, const struct request *request)
{
	struct text_block *block = g_new0(struct text_block, 1);
	block->request = *request;
	block->request.text = g_strdup(request->text);
	block->request.language = g_strdup(request->language);
	block->leading = text_leading(request->style);
	shape(typesetter, block);
	measure(block);
	keep(typesetter, block);
	return block;
}

static const struct text_block *set_known_or_new(struct typesetter *typesetter, const struct request *request)
{
	const struct text_block *known = find(typesetter, request);
	return known ? known : set_new(typesetter, request);
}

/*
 * A text that fits on one line is the same whatever width it is wrapped at, so
 * it is set once without one. Not where it is aligned to the width, and not
 * where it may well need more lines: then it would be set twice.
 */
static const struct text_block *set_on_one_line(struct typesetter *typesetter, const struct request *request)
{
	double expected = (double)request->length * request->style.size * POINT_MM * usual_letter_em;
	if (request->width <= 0 || request->style.align != ALIGN_START || expected > request->width)
		return NULL;
	struct request unwrapped = *request;
	unwrapped.width = 0;
	const struct text_block *block = set_known_or_new(typesetter, &unwrapped);
	return block->lines == 1 && !block->leftward && block->width < request->width ? block : NULL;
}

const struct text_block *text_set(struct typesetter *typesetter, const char *text, const char *language,
                                  struct text_style style, double width)
{
	assert(style.size > 0);
	size_t length = strlen(text);
	const struct request request = {text, length, digest_of(text, length), language, style, width};
	const struct text_block *block = set_on_one_line(typesetter, &request);
	return block ? block : set_known_or_new(typesetter, &request);
}

void typesetter_ready(struct typesetter *typesetter, const char *language)
{
	static const char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZ abcdefghijklmnopqrstuvwxyz 0123456789 .,:;?!()/-";
	static const struct text_style styles[] = {
		{.size = FONTS_SIZE, .weight = WEIGHT_REGULAR},
		{.size = FONTS_SIZE, .weight = WEIGHT_REGULAR, .tabular = true},
		{.size = FONTS_SIZE, .weight = WEIGHT_SEMIBOLD},
		{.size = FONTS_SIZE, .weight = WEIGHT_BOLD},
	};
	for (size_t i = 0; i < sizeof styles / sizeof *styles; i++)
		text_set(typesetter, letters, language, styles[i], 0);
}

/* ---- what a block says of itself ---- */

double text_width(const struct text_block *block)
{
	return block->width;
}

double text_height(const struct text_block *block)
{
	return text_cap_height(block->request.style) + block->last;
}

double text_descent(const struct text_block *block)
{
	return block->request.style.size * POINT_MM * descent_em;
}

double text_box_width(const struct text_block *block)
{
	return block->request.width > 0 ? block->request.width : block->width;
}

bool text_right_to_left(const char *language)
{
	return uloc_isRightToLeft(language);
}

bool text_has_right_to_left(const char *text)
{
	for (const char *c = text; *c; c = g_utf8_next_char(c)) {
		UCharDirection direction = u_charDirection((UChar32)g_utf8_get_char(c));
		if (direction == U_RIGHT_TO_LEFT || direction == U_RIGHT_TO_LEFT_ARABIC)
			return true;
	}
	return false;
}

int text_lines(const struct text_block *block)
{
	return block->lines;
}

double text_cap_height(struct text_style style)
{
	return style.size * POINT_MM * cap_height_em;
}

double text_leading(struct text_style style)
{
	return style.leading > 0 ? style.leading : style.size * POINT_MM * usual_leading_em;
}

const struct text_style *text_style_of(const struct text_block *block)
{
	return &block->request.style;
}

const char *text_string(const struct text_block *block)
{
	return block->string;
}

struct rect text_ink(const struct text_block *block)
{
	return block->ink;
}

int text_missing_glyphs(const struct text_block *block)
{
	return block->missing;
}

PangoLayout *text_layout(const struct text_block *block)
{
	return block->layout;
}

double text_layout_point(const struct text_block *block)
{
	return layout_point(&block->request.style);
}

double text_layout_rise(const struct text_block *block)
{
	return block->rise;
}
