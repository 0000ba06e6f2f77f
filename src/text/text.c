#include "text/text.h"

#include "text/layout.h"
#include "text/shaped.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <string.h>
#include <unicode/uchar.h>
#include <unicode/uloc.h>

/*
 * Every block is kept under all that was asked for, so that a line that stands
 * on every page, or in many packets, is shaped once. A block is found again by
 * its whole input, never by a digest alone: a stale dose would be a fault that
 * hurts. Once more than `kept_most` is kept, what was not asked for longest goes,
 * down to `kept_least`: so memory does not grow with the packets made. Both count
 * letters; a block by itself takes as much as some.
 */
enum { n_buckets = 16384, kept_most = 480000, kept_least = 360000, letters_a_block = 20 };

/* How many packets ago a block was asked for, when blocks are told apart by that; all before are as old. */
enum { ages = 64 };

/* Cap height of the main family in its em; the font says it as well (OS/2, sCapHeight). */
static const double cap_height_em = 0.668;
/* The deepest Latin letter, a capital G with a cedilla, hangs 0.251 em. */
static const double descent_em = 0.26;
static const double usual_leading_em = 1.3;

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
	struct request request;  /* its texts are those of `shaped` */
	const struct shaped *shaped;
	double width;
	double rise;
	double last; /* from the first baseline to the last */
	struct rect ink;
	unsigned asked_in; /* the last packet that asked for it */
};

struct typesetter {
	struct fonts fonts;
	struct arena *arena; /* holds this, not the blocks */
	struct shaped_texts *texts;
	struct text_block *buckets[n_buckets];
	unsigned packet; /* how often it was reset */
	size_t kept;     /* letters */
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
	typesetter->texts = shaped_texts_new(&typesetter->fonts);
	return typesetter;
}

static size_t size_of(const struct text_block *block)
{
	return letters_a_block + block->request.length;
}

static void block_free(struct typesetter *typesetter, struct text_block *block)
{
	typesetter->kept -= size_of(block);
	shaped_give_back(typesetter->texts, block->shaped);
	g_free(block);
}

static unsigned age_of(const struct typesetter *typesetter, const struct text_block *block)
{
	return MIN(typesetter->packet - block->asked_in, ages - 1);
}

/* Frees the blocks that are as old or older. */
static void drop_blocks(struct typesetter *typesetter, unsigned age)
{
	for (size_t i = 0; i < n_buckets; i++) {
		struct text_block **link = &typesetter->buckets[i];
		while (*link) {
			struct text_block *block = *link;
			if (age_of(typesetter, block) < age) {
				link = &block->next;
				continue;
			}
			*link = block->next;
			block_free(typesetter, block);
		}
	}
}

/* The age from which on blocks must go, for the younger ones to be no more than `most` letters. */
static unsigned age_to_drop(const struct typesetter *typesetter, size_t most)
{
	size_t of_age[ages] = {0};
	size_t younger = 0;
	for (size_t i = 0; i < n_buckets; i++)
		for (const struct text_block *block = typesetter->buckets[i]; block; block = block->next)
			of_age[age_of(typesetter, block)] += size_of(block);
	for (unsigned age = 0; age < ages; age++) {
		younger += of_age[age];
		if (younger > most)
			return age;
	}
	return ages;
}

void typesetter_reset(struct typesetter *typesetter)
{
	typesetter->packet++;
	if (typesetter->kept > kept_most)
		drop_blocks(typesetter, age_to_drop(typesetter, kept_least));
}

void typesetter_free(struct typesetter *typesetter)
{
	if (!typesetter)
		return;
	drop_blocks(typesetter, 0);
	shaped_texts_free(typesetter->texts);
	fonts_close(&typesetter->fonts);
	arena_free(typesetter->arena);
}

bool typesetter_fonts_same(const struct typesetter *typesetter)
{
	return fonts_same(&typesetter->fonts);
}

/* ---- finding a block again ---- */

/* Only to choose a bucket: eight letters at a time, as a page asks for hundreds of texts. */
static uint64_t digest_of(const char *text, size_t length)
{
	uint64_t digest = length;
	while (length > 0) {
		uint64_t letters = 0;
		size_t n = length < sizeof letters ? length : sizeof letters;
		memcpy(&letters, text, n);
		digest = shaped_mix(digest, letters);
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
	return shaped_mix(shaped_mix(request->digest, width), size) % n_buckets;
}

static bool style_equal(const struct text_style *a, const struct text_style *b)
{
	return a->size == b->size && a->weight == b->weight && a->align == b->align && a->leading == b->leading &&
	       a->tabular == b->tabular;
}

static bool request_equal(const struct request *a, const struct request *b)
{
	return a->digest == b->digest && a->width == b->width && a->length == b->length &&
	       style_equal(&a->style, &b->style) && memcmp(a->text, b->text, a->length) == 0 &&
	       strcmp(a->language, b->language) == 0;
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
	typesetter->kept += size_of(block);
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

static struct shaping shaping_of(const struct request *request)
{
	double unit = layout_point(&request->style) / PANGO_SCALE;
	return (struct shaping){.text = request->text,
	                        .length = request->length,
	                        .digest = request->digest,
	                        .language = request->language,
	                        .weight = request->style.weight,
	                        .align = request->style.align,
	                        .tabular = request->style.tabular,
	                        .leading = (int)lround(text_leading(request->style) / unit),
	                        /* Rounded up, so that a text still fits the width that it was measured to have. */
	                        .width = request->width > 0 ? (int)ceil(request->width / unit) : SHAPED_UNWRAPPED};
}

static void measure(struct text_block *block)
{
	const struct shaped *shaped = block->shaped;
	const PangoRectangle *ink = &shaped->ink;
	block->width = millimetres(block, shaped->width);
	block->last = millimetres(block, shaped->last);
	block->rise = millimetres(block, shaped->baseline) - text_cap_height(block->request.style);
	block->ink = (struct rect){millimetres(block, ink->x), millimetres(block, ink->y) - block->rise,
	                           millimetres(block, ink->width), millimetres(block, ink->height)};
}

/* A text that fits on one line is the same whatever width it is wrapped at, but where it is aligned to that. */
static bool is_one_line(const struct request *request, const struct shaped *shaped)
{
	return request->style.align == ALIGN_START && shaped->lines == 1 && !shaped->leftward;
}

static const struct text_block *keep_new(struct typesetter *typesetter, const struct request *request,
                                         const struct shaped *shaped)
{
	struct text_block *block = g_new0(struct text_block, 1);
	block->request = *request;
	block->request.text = shaped->shaping.text;
	block->request.language = shaped->shaping.language;
	block->shaped = shaped;
	measure(block);
	keep(typesetter, block);
	return block;
}

static const struct text_block *set_new(struct typesetter *typesetter, const struct request *request)
{
	struct shaping shaping = shaping_of(request);
	const struct shaped *shaped = shaped_take(typesetter->texts, &shaping);
	struct request whole = *request;
	if (!is_one_line(request, shaped))
		return keep_new(typesetter, request, shaped);
	whole.width = 0;
	const struct text_block *known = find(typesetter, &whole);
	if (known == NULL)
		return keep_new(typesetter, &whole, shaped);
	shaped_give_back(typesetter->texts, shaped);
	return known;
}

/* Of a text that is known to need one line at most, and is not aligned to the width. */
static const struct text_block *find_on_one_line(struct typesetter *typesetter, const struct request *request)
{
	struct request unwrapped = *request;
	unwrapped.width = 0;
	const struct text_block *block =
		request->width > 0 && request->style.align == ALIGN_START ? find(typesetter, &unwrapped) : NULL;
	return block && is_one_line(request, block->shaped) && block->width <= request->width ? block : NULL;
}

const struct text_block *text_set(struct typesetter *typesetter, const char *text, const char *language,
                                  struct text_style style, double width)
{
	assert(style.size > 0);
	size_t length = strlen(text);
	const struct request request = {text, length, digest_of(text, length), language, style, width};
	const struct text_block *block = find_on_one_line(typesetter, &request);
	block = block ? block : find(typesetter, &request);
	return block ? block : set_new(typesetter, &request);
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
	return block->shaped->lines;
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
	return block->shaped->string;
}

struct rect text_ink(const struct text_block *block)
{
	return block->ink;
}

int text_missing_glyphs(const struct text_block *block)
{
	return block->shaped->missing;
}

PangoLayout *text_layout(const struct text_block *block)
{
	return block->shaped->layout;
}

double text_layout_point(const struct text_block *block)
{
	return layout_point(&block->request.style);
}

double text_layout_rise(const struct text_block *block)
{
	return block->rise;
}
