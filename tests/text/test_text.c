/*
 * Text as set from the bundled fonts. What a font must measure is read from its
 * own tables here, not from the program.
 */
#include "support/cases.h"
#include "support/shell.h"
#include "text/layout.h"

#include <fontconfig/fontconfig.h>
#include <malloc.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define TOLERANCE 0.02 /* mm */

static const struct text_style body = {.size = 12};

static struct typesetter *open_fonts(struct arena *arena)
{
	struct findings findings = findings_in(arena);
	struct typesetter *typesetter = typesetter_new("fonts", &findings);
	assert_non_null(typesetter);
	assert_int_equal(findings.n, 0);
	return typesetter;
}

static void assert_near(double found, double wanted, double tolerance)
{
	if (fabs(found - wanted) > tolerance)
		fail_msg("found %.4f mm, wanted %.4f mm", found, wanted);
}

/* ---- the font's own tables (OpenType, big-endian) ---- */

static unsigned read_16(const struct file_content *font, unsigned at)
{
	assert_true(at + 2 <= font->n);
	return (unsigned)font->bytes[at] << 8 | font->bytes[at + 1];
}

static unsigned read_32(const struct file_content *font, unsigned at)
{
	return read_16(font, at) << 16 | read_16(font, at + 2);
}

static unsigned table_at(const struct file_content *font, const char *tag)
{
	unsigned count = read_16(font, 4);
	for (unsigned i = 0; i < count; i++)
		if (memcmp(font->bytes + 12 + 16 * i, tag, 4) == 0)
			return read_32(font, 12 + 16 * i + 8);
	fail_msg("the font has no table '%s'", tag);
	return 0;
}

/* OS/2 sCapHeight over head unitsPerEm. */
static double cap_height_of(struct arena *arena, const char *path)
{
	struct file_content font = read_file(arena, path);
	return (double)read_16(&font, table_at(&font, "OS/2") + 88) / read_16(&font, table_at(&font, "head") + 18);
}

/* ---- blocks ---- */

struct cap_row {
	const char *file;
	enum text_weight weight;
};

static const struct cap_row cap_rows[] = {
	{"fonts/AtkinsonHyperlegibleNext-Regular.ttf", WEIGHT_REGULAR},
	{"fonts/AtkinsonHyperlegibleNext-SemiBold.ttf", WEIGHT_SEMIBOLD},
	{"fonts/AtkinsonHyperlegibleNext-Bold.ttf", WEIGHT_BOLD},
};

/* Flat capitals reach from the block's top to its height, in every size of the design. */
static void capitals_stand_on_the_block(void **state)
{
	const struct cap_row *row = case_of(state)->row;
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	double cap_em = cap_height_of(case_of(state)->arena, row->file);
	static const double sizes[] = {9, 10, 12, 14, 17, 18.6, 26, 30, 40, 92};
	for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
		struct text_style style = {.size = sizes[i], .weight = row->weight};
		const struct text_block *block = text_set(typesetter, "HEX", "en", style, 0);
		double cap = cap_em * sizes[i] * 25.4 / 72;
		assert_near(text_ink(block).y, 0, TOLERANCE);
		assert_near(text_ink(block).height, cap, TOLERANCE);
		assert_near(text_cap_height(style), cap, TOLERANCE);
		assert_near(text_height(block), cap, TOLERANCE);
	}
	typesetter_free(typesetter);
}

static const char long_text[] = "HHH HHH HHH HHH HHH HHH HHH HHH";

static void lines_stand_one_leading_apart(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	struct text_style style = {.size = 12, .leading = 7.2};
	double cap = text_cap_height(style);
	for (int lines = 1; lines <= 4; lines++) {
		/* Each line takes one or more of the equal words: let the width decide. */
		double width = text_width(text_set(typesetter, long_text, "en", style, 0)) / lines + 8;
		const struct text_block *block = text_set(typesetter, long_text, "en", style, width);
		int found = text_lines(block);
		assert_near(text_height(block), cap + (found - 1) * 7.2, TOLERANCE);
		assert_near(text_ink(block).height, cap + (found - 1) * 7.2, TOLERANCE);
		assert_near(text_ink(block).y, 0, TOLERANCE);
		assert_true(text_width(block) <= width);
		assert_int_equal(found, lines);
	}
	typesetter_free(typesetter);
}

static void leading_is_one_and_three_tenths_unless_given(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	const struct text_block *block = text_set(typesetter, "one\ntwo", "en", body, 0);
	assert_int_equal(text_lines(block), 2);
	assert_near(text_height(block), text_cap_height(body) + 1.3 * 12 * 25.4 / 72, 0.001);
	typesetter_free(typesetter);
}

/* A bold word or another leading must not move a baseline. */
static void bold_does_not_move_lines(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	const struct text_block *plain = text_set(typesetter, "HH\nHH\nHH", "en", body, 0);
	const struct text_block *mixed =
		text_set(typesetter, "HH\n" TEXT_BOLD_ON "HH" TEXT_BOLD_OFF "\nHH", "en", body, 0);
	assert_near(text_ink(mixed).height, text_ink(plain).height, 0.001);
	assert_near(text_ink(mixed).y, text_ink(plain).y, 0.001);
	typesetter_free(typesetter);
}

static void words_are_never_broken(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	const struct text_block *word = text_set(typesetter, "Examplinumabetide", "en", body, 5);
	assert_int_equal(text_lines(word), 1);
	assert_true(text_width(word) > 5);
	const struct text_block *soft = text_set(typesetter, "Exam\u00ADplinumabetide", "en", body, 5);
	assert_int_equal(text_lines(soft), 1);
	assert_near(text_width(soft), text_width(word), 0.001);
	assert_string_equal(text_string(soft), "Examplinumabetide");
	typesetter_free(typesetter);
}

static void a_no_break_space_holds(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	assert_int_equal(text_lines(text_set(typesetter, "0.5 mL", "en", body, 8)), 2);
	assert_int_equal(text_lines(text_set(typesetter, "0.5\u00A0mL", "en", body, 8)), 1);
	typesetter_free(typesetter);
}

/* Page sets a text once to measure it and again at that width. */
static void a_text_fits_the_width_it_was_measured_to_have(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	uint64_t seed = 11;
	for (int i = 0; i < 300; i++) {
		char text[80];
		int n = 0;
		for (int words = 2 + (int)(next_random(&seed) % 6); words > 0; words--)
			n += snprintf(text + n, sizeof text - (size_t)n, "%c%c%u ",
			              (char)('a' + next_random(&seed) % 26), (char)('A' + next_random(&seed) % 26),
			              (unsigned)(next_random(&seed) % 1000));
		text[n - 1] = 0;
		struct text_style style = {.size = 9 + (double)(next_random(&seed) % 300) / 7};
		double width = text_width(text_set(typesetter, text, "en", style, 0));
		assert_int_equal(text_lines(text_set(typesetter, text, "en", style, width)), 1);
	}
	typesetter_free(typesetter);
}

struct bold_row {
	const char *text;
	const char *plain;
	const char *first; /* its parts, in turn regular and bold */
	const char *second;
	const char *third;
};

static const struct bold_row bold_rows[] = {
	{"stop at " TEXT_BOLD_ON "0.5 mL" TEXT_BOLD_OFF " now", "stop at 0.5 mL now", "stop at ", "0.5 mL", " now"},
	{TEXT_BOLD_ON "0.5 mL", "0.5 mL", "", "0.5 mL", ""},
	{"a " TEXT_BOLD_OFF "b", "a b", "a b", "", ""},
	{"a " TEXT_BOLD_ON TEXT_BOLD_ON "b" TEXT_BOLD_OFF "c", "a bc", "a ", "b", "c"},
	{TEXT_BOLD_ON TEXT_BOLD_OFF "ab", "ab", "ab", "", ""},
	{"é " TEXT_BOLD_ON "é" TEXT_BOLD_OFF "é", "é éé", "é ", "é", "é"},
};

/* A mixed line is as wide as its regular and bold parts set alone. */
static void switches_make_bold(void **state)
{
	const struct bold_row *row = case_of(state)->row;
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	struct text_style bold = {.size = 12, .weight = WEIGHT_BOLD};
	const struct text_block *block = text_set(typesetter, row->text, "en", body, 0);
	double parts = text_width(text_set(typesetter, row->first, "en", body, 0)) +
	               text_width(text_set(typesetter, row->second, "en", bold, 0)) +
	               text_width(text_set(typesetter, row->third, "en", body, 0));
	assert_near(text_width(block), parts, 0.01);
	assert_string_equal(text_string(block), row->plain);
	assert_near(text_box_width(block), text_width(block), 0);
	assert_near(text_box_width(text_set(typesetter, row->plain, "he", body, 80)), 80, 0);
	if (row->second[0])
		assert_true(fabs(text_width(text_set(typesetter, row->plain, "en", body, 0)) - parts) > 0.02);
	typesetter_free(typesetter);
}

struct missing_row {
	const char *text;
	int missing;
};

static const struct missing_row missing_rows[] = {
	{"Quick brown fox, 0123456789 · × – — ’ “ ” €", 0},
	{"åäöæøœßçéèêëîïñóúü ąćęłńśźż čřšžůýď őű ğışİ", 0},
	{"0.5\u00A0mL", 0},
	{"5 \u00B5g", 1}, /* the micro sign */
	{"a \u2192 b", 1},
	{"Ж हिन्दी ไทย عربي עברית ễ", 0},
	{"\u6F22\u5B57", 2},
	{"\uFFFD", 1},
	{"\uE000", 1},
	{"a\007b", 1},
};

/* Whatever fonts the system has, only the project's are asked. */
static void missing_glyphs_are_counted(void **state)
{
	const struct missing_row *row = case_of(state)->row;
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	assert_int_equal(text_missing_glyphs(text_set(typesetter, row->text, "en", body, 0)), row->missing);
	typesetter_free(typesetter);
}

static void equal_input_is_shared_and_other_input_is_not(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	const struct text_block *first = text_set(typesetter, "0.5 mL", "en", body, 50);
	char again[] = "0.5 mL";
	assert_ptr_equal(text_set(typesetter, again, "en", body, 50), first);
	struct text_style styles[] = {
		{.size = 12.5},
		{.size = 12, .weight = WEIGHT_BOLD},
		{.size = 12, .align = ALIGN_END},
		{.size = 12, .leading = 6},
		{.size = 12, .tabular = true},
	};
	for (size_t i = 0; i < sizeof styles / sizeof *styles; i++)
		assert_ptr_not_equal(text_set(typesetter, "0.5 mL", "en", styles[i], 50), first);
	assert_ptr_not_equal(text_set(typesetter, "0.6 mL", "en", body, 50), first);
	assert_ptr_not_equal(text_set(typesetter, TEXT_BOLD_ON "0.5 mL", "en", body, 50), first);
	assert_ptr_not_equal(text_set(typesetter, "0.5 mL", "de", body, 50), first);
	assert_string_equal(text_string(first), "0.5 mL");
	static const char two_lines[] = "Pull until the ring nearest the needle touches the line.";
	const struct text_block *wrapped = text_set(typesetter, two_lines, "en", body, 60);
	assert_int_equal(text_lines(wrapped), 2);
	assert_ptr_not_equal(text_set(typesetter, two_lines, "en", body, 61), wrapped);
	assert_ptr_not_equal(text_set(typesetter, two_lines, "en", body, 0), wrapped);
	typesetter_free(typesetter);
}

/* Wrapped or not it is one line; aligned to a width it stands elsewhere in each. */
static void a_line_that_fits_is_one_block_at_any_width(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	struct text_style end = {.size = 12, .align = ALIGN_END};
	const struct text_block *line = text_set(typesetter, "0.5 mL", "en", body, 0);
	assert_ptr_equal(text_set(typesetter, "0.5 mL", "en", body, 50), line);
	assert_ptr_equal(text_set(typesetter, "0.5 mL", "en", body, 51), line);
	assert_ptr_not_equal(text_set(typesetter, "0.5 mL", "en", end, 50),
	                     text_set(typesetter, "0.5 mL", "en", end, 51));
	/* Narrower than itself it wraps, and is another block. */
	const struct text_block *narrow = text_set(typesetter, "0.5 mL", "en", body, text_width(line) - 1);
	assert_ptr_not_equal(narrow, line);
	assert_int_equal(text_lines(narrow), 2);
	typesetter_free(typesetter);
}

/* A heading that every packet asks for is shaped once. */
static void what_is_asked_for_again_is_kept(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	const struct text_block *heading = text_set(typesetter, "Your supplies", "en", body, 0);
	for (int packet = 0; packet < 40; packet++) {
		assert_ptr_equal(text_set(typesetter, "Your supplies", "en", body, 0), heading);
		typesetter_reset(typesetter);
	}
	typesetter_free(typesetter);
}

/* Two in one bucket of the cache are still told apart: 5000 texts, fewer buckets. */
static void a_block_says_what_was_asked(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	for (int round = 0; round < 2; round++) {
		for (int i = 0; i < 5000; i++) {
			char text[32];
			snprintf(text, sizeof text, "%d.%d mcg", i / 10, i % 10);
			assert_string_equal(text_string(text_set(typesetter, text, "en", body, 0)), text);
		}
		typesetter_reset(typesetter);
	}
	typesetter_free(typesetter);
}

/* Texts that nobody asks for any more go: a name, a date. */
static void memory_does_not_grow_with_the_packets(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	size_t before = 0;
	for (int packet = 0; packet < 300; packet++) {
		for (int i = 0; i < 20; i++) {
			char text[300];
			snprintf(text, sizeof text, "%d, %d: %s %s %s %s", packet, i, long_text, long_text, long_text,
			         long_text);
			text_set(typesetter, text, "en", body, 0);
		}
		typesetter_reset(typesetter);
		if (packet == 150)
			before = mallinfo2().uordblks;
	}
	size_t after = mallinfo2().uordblks;
	assert_true(after < before + (size_t)6 * 1024 * 1024); /* a quarter of what 150 packets set */
	typesetter_free(typesetter);
}

/* ---- what is shared between widths ---- */

static const char *const shared_texts[] = {
	"5",
	"Pull until the ring nearest the needle touches the line.",
	"Up to 2\u00A0hours late: " TEXT_BOLD_ON "inject now" TEXT_BOLD_OFF ". Later: call first.",
	"Take it out.\nLay it down.\nWait 30\u00A0minutes, until it is as warm as the room.",
	"Examplin-Nonsensol/Fictivane, 125\u00A0mcg (0.5\u00A0mL); a very-long-word-with-hyphens-in-it",
	"Lávese las manos; séquelas bien. ¿Queda polvo? Llámenos.",
	"Ubermäßiglangewörter stehen allein, wenn sie zu breit sind",
	"a  b   c\u00ADd e-f g",
};

static void assert_set_alike(const struct text_block *block, const struct text_block *alone)
{
	PangoLayout *layouts[] = {text_layout(block), text_layout(alone)};
	assert_int_equal(text_lines(block), text_lines(alone));
	assert_near(text_width(block), text_width(alone), 1e-9);
	assert_near(text_height(block), text_height(alone), 1e-9);
	assert_near(text_layout_rise(block), text_layout_rise(alone), 1e-9);
	assert_near(text_ink(block).width, text_ink(alone).width, 1e-9);
	assert_near(text_box_width(block), text_box_width(alone), 1e-9);
	for (int i = 0; i < text_lines(block); i++) {
		PangoLayoutLine *lines[2];
		PangoRectangle logical[2];
		for (int side = 0; side < 2; side++) {
			lines[side] = pango_layout_get_line_readonly(layouts[side], i);
			pango_layout_line_get_extents(lines[side], NULL, &logical[side]);
		}
		assert_int_equal(lines[0]->start_index, lines[1]->start_index);
		assert_int_equal(lines[0]->length, lines[1]->length);
		assert_memory_equal(&logical[0], &logical[1], sizeof logical[0]);
	}
}

/* In every width and in some sizes, after all the others, as in a typesetter that has set nothing else. */
static void a_shared_text_is_as_if_set_alone(void **state)
{
	static const struct text_style styles[] = {
		{.size = 12}, {.size = 18, .weight = WEIGHT_BOLD}, {.size = 12, .align = ALIGN_END}, {.size = 10}};
	struct arena *arena = case_of(state)->arena;
	struct typesetter *shared = open_fonts(arena);
	for (double width = 180; width > 6; width *= 0.985)
		for (size_t style = 0; style < sizeof styles / sizeof *styles; style++) {
			struct typesetter *alone = open_fonts(arena);
			for (size_t i = 0; i < sizeof shared_texts / sizeof *shared_texts; i++)
				assert_set_alike(text_set(shared, shared_texts[i], "en", styles[style], width),
				                 text_set(alone, shared_texts[i], "en", styles[style], width));
			typesetter_free(alone);
		}
	typesetter_free(shared);
}

/* Else the test above would compare nothing: between two widths that break a text alike it is set once. */
static void a_text_is_set_once_for_widths_that_break_it_alike(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	const char *text = shared_texts[1];
	struct text_style larger = {.size = 24};
	PangoLayout *layout = text_layout(text_set(typesetter, text, "en", body, 60));
	assert_ptr_equal(text_layout(text_set(typesetter, text, "en", body, 61)), layout);
	assert_ptr_equal(text_layout(text_set(typesetter, text, "en", larger, 120)), layout);
	assert_ptr_not_equal(text_layout(text_set(typesetter, text, "en", body, 40)), layout);
	assert_ptr_not_equal(text_layout(text_set(typesetter, text, "en", body, 100)), layout);
	typesetter_free(typesetter);
}

static void a_reset_changes_no_measure(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	double width = text_width(text_set(typesetter, long_text, "en", body, 40));
	for (int i = 0; i < 5000; i++) {
		char text[32];
		snprintf(text, sizeof text, "%d", i);
		text_set(typesetter, text, "en", body, 0);
	}
	typesetter_reset(typesetter);
	assert_near(text_width(text_set(typesetter, long_text, "en", body, 40)), width, 0);
	typesetter_free(typesetter);
}

static void tabular_figures_are_of_one_width(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	struct text_style tabular = {.size = 12, .tabular = true};
	double one = text_width(text_set(typesetter, "11:11", "en", tabular, 0));
	assert_near(text_width(text_set(typesetter, "08:30", "en", tabular, 0)), one, 0.001);
	double loose = text_width(text_set(typesetter, "11:11", "en", body, 0));
	assert_true(fabs(text_width(text_set(typesetter, "08:30", "en", body, 0)) - loose) > 0.1);
	typesetter_free(typesetter);
}

static int glyphs_of_first_line(const struct text_block *block)
{
	int n = 0;
	for (GSList *run = pango_layout_get_line_readonly(text_layout(block), 0)->runs; run; run = run->next)
		n += ((PangoGlyphItem *)run->data)->glyphs->num_glyphs;
	return n;
}

static void letters_are_not_joined(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	assert_int_equal(glyphs_of_first_line(text_set(typesetter, "fi ff ffi fl tt", "en", body, 0)), 15);
	typesetter_free(typesetter);
}

static PangoGlyph first_glyph(const struct text_block *block)
{
	PangoGlyphItem *run = pango_layout_get_line_readonly(text_layout(block), 0)->runs->data;
	return run->glyphs->glyphs[0].glyph;
}

/* The font has an i of its own for Turkish, and the user's language must not choose it. */
static void letters_take_the_forms_of_their_language(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	PangoGlyph english = first_glyph(text_set(typesetter, "i", "en", body, 0));
	assert_int_not_equal(first_glyph(text_set(typesetter, "i", "tr", body, 0)), english);
	assert_int_equal(first_glyph(text_set(typesetter, "i", "de", body, 0)), english);
	typesetter_free(typesetter);
}

/* What begins with a letter from right to left is refused for its missing glyphs, but stays where it was put. */
static void no_letter_turns_a_line_round(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	struct rect ink = text_ink(text_set(typesetter, "\u05D0 HH", "en", body, 60));
	assert_true(ink.x + ink.width < 20);
	typesetter_free(typesetter);
}

/* ---- other scripts ---- */

static const char hebrew[] = "\u05D0\u05D1\u05D2";

static void a_language_from_the_right_starts_at_the_right(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	struct text_style style = body;
	struct rect start = text_ink(text_set(typesetter, hebrew, "he", style, 60));
	assert_true(start.x > 40 && start.x + start.width > 58);
	/* A name in other letters does not turn it round. */
	struct rect name = text_ink(text_set(typesetter, "HH", "he", style, 60));
	assert_true(name.x > 40 && name.x + name.width > 58);
	style.align = ALIGN_END;
	assert_true(text_ink(text_set(typesetter, hebrew, "he", style, 60)).x < 2);
	assert_true(text_right_to_left("he") && text_right_to_left("ar") && text_right_to_left("fa"));
	assert_false(text_right_to_left("en") || text_right_to_left("es") || text_right_to_left("tr"));
	typesetter_free(typesetter);
}

/* x of a byte of a text that is set on one line, points. */
static double x_of(const struct text_block *block, const char *part)
{
	const char *at = strstr(text_string(block), part);
	PangoRectangle place;
	assert_non_null(at);
	pango_layout_index_to_pos(text_layout(block), (int)(at - text_string(block)), &place);
	return (double)place.x / PANGO_SCALE;
}

static void an_isolate_keeps_its_order(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	const struct text_block *bare = text_set(typesetter, "\u05D0 000 555", "he", body, 0);
	const struct text_block *isolated = text_set(
		typesetter, "\u05D0 " TEXT_LEFT_TO_RIGHT "\u200E000 555" TEXT_ISOLATE_END " \u05D1", "he", body, 0);
	assert_true(x_of(bare, "555") < x_of(bare, "000"));
	assert_true(x_of(isolated, "000") < x_of(isolated, "555"));
	assert_true(x_of(isolated, "\u05D1") < x_of(isolated, "000"));
	assert_true(text_has_right_to_left(text_string(bare)));
	assert_true(text_has_right_to_left("\u0627"));
	assert_false(text_has_right_to_left("0.5 mL \u0416 \u6F22"));
	assert_int_equal(text_missing_glyphs(isolated), 0);
	typesetter_free(typesetter);
}

/* Where a text is in several fonts, the one of its first letter counts. */
static const char *family_of(struct arena *arena, const struct text_block *block, double *size)
{
	PangoLayoutLine *line = pango_layout_get_line_readonly(text_layout(block), 0);
	const PangoGlyphItem *run = line->runs->data;
	PangoFontDescription *font = pango_font_describe(run->item->analysis.font);
	const char *family = arena_strdup(arena, pango_font_description_get_family(font));
	*size = (double)pango_font_description_get_size(font) / PANGO_SCALE;
	pango_font_description_free(font);
	return family;
}

struct script_row {
	const char *language;
	const char *text;
	const char *family;
	double size; /* of 12 pt */
};

static const struct script_row script_rows[] = {
	{"en", "half", "Atkinson Hyperlegible Next", 12},
	{"es", "ma\u00F1ana", "Atkinson Hyperlegible Next", 12},
	{"pl", "po\u0142owa", "Atkinson Hyperlegible Next", 12},
	/* Not letter by letter: the whole language is in the font that has all of it. */
	{"vi", "mot", "Noto Sans", 12},
	{"uk", "половина", "Noto Sans", 12},
	{"uk", "mL", "Noto Sans", 12},
	{"hi", "\u0906\u0927\u093E", "Noto Sans Devanagari", 12},
	{"th", "\u0E04\u0E23\u0E36\u0E48\u0E07", "Noto Sans Thai", 12},
	{"he", "\u05D7\u05E6\u05D9", "Noto Sans Hebrew", 12},
	{"ar", "\u0646\u0635\u0641", "Noto Naskh Arabic", 12 * 1.13},
	{"ar", "0.5", "Atkinson Hyperlegible Next", 12},
	{"en", "\u0646\u0635\u0641", "Noto Naskh Arabic", 12 * 1.13},
};

static void each_script_has_its_font(void **state)
{
	const struct script_row *row = case_of(state)->row;
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	const struct text_block *block = text_set(typesetter, row->text, row->language, body, 0);
	double size;
	assert_string_equal(family_of(case_of(state)->arena, block, &size), row->family);
	assert_near(size, row->size, 0.01);
	assert_int_equal(text_missing_glyphs(block), 0);
	typesetter_free(typesetter);
}

/* Thai by its dictionary, Chinese and Japanese between signs; a long word of Latin letters has no such place. */
static void scripts_without_spaces_break(void **state)
{
	static const struct {
		const char *language;
		const char *text;
	} rows[] = {
		{"th", "\u0E09\u0E35\u0E14\u0E22\u0E32\u0E15\u0E2D\u0E19\u0E40\u0E22\u0E47\u0E19"
	               "\u0E27\u0E31\u0E19\u0E19\u0E35\u0E49"},
		{"zh", "\u4ECA\u5929\u665A\u4E0A\u6CE8\u5C04"},
		{"ja", "\u4ECA\u65E5\u306E\u5915\u65B9\u306B\u6CE8\u5C04"},
	};
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double whole = text_width(text_set(typesetter, rows[i].text, rows[i].language, body, 0));
		const struct text_block *block =
			text_set(typesetter, rows[i].text, rows[i].language, body, whole * 0.7);
		assert_true(text_lines(block) >= 2);
		assert_true(text_width(block) <= whole * 0.7 + 0.01);
	}
	double whole = text_width(text_set(typesetter, "injectiontonight", "en", body, 0));
	assert_int_equal(text_lines(text_set(typesetter, "injectiontonight", "en", body, whole * 0.7)), 1);
	typesetter_free(typesetter);
}

static void lines_are_aligned_within_the_width(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	struct text_style style = body;
	struct rect start = text_ink(text_set(typesetter, "HH", "en", style, 60));
	style.align = ALIGN_CENTER;
	struct rect centre = text_ink(text_set(typesetter, "HH", "en", style, 60));
	style.align = ALIGN_END;
	struct rect end = text_ink(text_set(typesetter, "HH", "en", style, 60));
	assert_true(start.x > 0 && start.x < 0.5);
	assert_near(centre.x + centre.width / 2, 30, 0.05);
	assert_near(60 - (end.x + end.width), start.x, 0.1);
	/* Alone on its line a text begins at its start edge. */
	assert_near(text_ink(text_set(typesetter, "HH", "en", style, 0)).x, start.x, TOLERANCE);
	typesetter_free(typesetter);
}

static void ink_holds_what_hangs_and_rises(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	const struct text_block *block = text_set(typesetter, "\u00C5g\u0122", "en", body, 0);
	struct rect ink = text_ink(block);
	assert_true(ink.y < -0.3);
	assert_true(ink.y + ink.height > text_height(block) + 0.8);
	assert_true(ink.y + ink.height <= text_height(block) + text_descent(block));
	assert_near(text_ink(text_set(typesetter, " ", "en", body, 0)).width, 0, 0);
	typesetter_free(typesetter);
}

static void an_empty_text_is_one_empty_line(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	const struct text_block *block = text_set(typesetter, "", "en", body, 30);
	assert_int_equal(text_lines(block), 1);
	assert_near(text_width(block), 0, 0);
	assert_near(text_height(block), text_cap_height(body), 0.001);
	assert_int_equal(text_missing_glyphs(block), 0);
	typesetter_free(typesetter);
}

/* ---- the folder of fonts ---- */

struct folder_row {
	const char *name;
	bool exists;
	bool regular;
	bool bold;
	bool semibold;
	const char *extra;      /* a file that is no font; or NULL */
	const char *code;       /* of the stop; NULL: opens */
	const char *says_about; /* within the sentence */
};

static const struct folder_row folder_rows[] = {
	{"no folder", false, false, false, false, NULL, "fonts-missing",
         "No such file or directory; put the project's fonts there"},
	{"empty", true, false, false, false, NULL, "fonts-missing", "there is no font file"},
	{"no font but a text", true, false, false, false, "OFL.txt", "fonts-missing", "there is no font file"},
	{"no semibold", true, true, true, false, NULL, "fonts-missing", "Atkinson Hyperlegible Next SemiBold"},
	{"no regular", true, false, true, true, NULL, "fonts-missing", "Atkinson Hyperlegible Next Regular"},
	{"no bold", true, true, false, true, NULL, "fonts-missing", "Atkinson Hyperlegible Next Bold"},
	{"a damaged one", true, true, true, true, "Damaged.ttf", "font-damaged", "Damaged.ttf"},
	{"complete", true, true, true, true, "OFL.txt", NULL, NULL},
};

static void link_font(struct arena *arena, const char *folder, const char *name)
{
	char here[1024];
	assert_non_null(getcwd(here, sizeof here));
	assert_int_equal(
		symlink(arena_printf(arena, "%s/fonts/%s", here, name), arena_printf(arena, "%s/%s", folder, name)), 0);
}

static void fill_folder(struct arena *arena, const char *folder, const struct folder_row *row)
{
	if (row->regular)
		link_font(arena, folder, "AtkinsonHyperlegibleNext-Regular.ttf");
	if (row->bold)
		link_font(arena, folder, "AtkinsonHyperlegibleNext-Bold.ttf");
	if (row->semibold)
		link_font(arena, folder, "AtkinsonHyperlegibleNext-SemiBold.ttf");
	if (row->extra)
		write_file(arena_printf(arena, "%s/%s", folder, row->extra), "not a font at all\n", 18);
}

static void a_folder_opens_or_says_what_is_wrong(void **state)
{
	const struct folder_row *row = case_of(state)->row;
	struct arena *arena = case_of(state)->arena;
	const char *scratch = scratch_folder(arena);
	const char *folder = row->exists ? scratch : arena_printf(arena, "%s/missing", scratch);
	fill_folder(arena, folder, row);
	struct findings findings = findings_in(arena);
	struct typesetter *typesetter = typesetter_new(folder, &findings);
	scratch_remove(arena, scratch);
	if (!row->code) {
		assert_non_null(typesetter);
		assert_int_equal(findings.n, 0);
		typesetter_free(typesetter);
		return;
	}
	assert_null(typesetter);
	assert_int_equal(findings.n, 1);
	assert_int_equal(findings.list[0].level, FINDING_STOP);
	assert_string_equal(findings.list[0].code, row->code);
	assert_non_null(strstr(findings.list[0].says, row->says_about));
}

/* Where the system's configuration were read, its fonts could fill in for ours, and starting would take long. */
static void no_font_of_the_system_is_known(void **state)
{
	struct typesetter *typesetter = open_fonts(case_of(state)->arena);
	FcFontSet *fonts = FcConfigGetFonts(FcConfigGetCurrent(), FcSetSystem);
	assert_true(!fonts || fonts->nfont == 0);
	typesetter_free(typesetter);
}

static void another_folder_does_not_disturb_the_first(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const struct folder_row no_bold = {.regular = true, .semibold = true};
	struct typesetter *typesetter = open_fonts(arena);
	struct text_style bold = {.size = 13, .weight = WEIGHT_BOLD};
	double wanted = text_width(text_set(typesetter, "0.5 mL", "en", bold, 0));
	typesetter_free(typesetter);

	typesetter = open_fonts(arena);
	const char *folder = scratch_folder(arena);
	fill_folder(arena, folder, &no_bold);
	struct findings findings = findings_in(arena);
	assert_null(typesetter_new(folder, &findings));
	assert_near(text_width(text_set(typesetter, "0.5 mL", "en", bold, 0)), wanted, 0);
	scratch_remove(arena, folder);
	typesetter_free(typesetter);
}

#define ADD(test) tests_add(&tests, #test, test, NULL)
#define ADD_ROWS(test, rows, name)                              \
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) \
	tests_add(&tests, rows[i].name, test, &rows[i])

int main(void)
{
	struct tests tests = {0};
	ADD_ROWS(capitals_stand_on_the_block, cap_rows, file);
	ADD(lines_stand_one_leading_apart);
	ADD(leading_is_one_and_three_tenths_unless_given);
	ADD(bold_does_not_move_lines);
	ADD(words_are_never_broken);
	ADD(a_no_break_space_holds);
	ADD(a_text_fits_the_width_it_was_measured_to_have);
	ADD_ROWS(switches_make_bold, bold_rows, plain);
	ADD_ROWS(missing_glyphs_are_counted, missing_rows, text);
	ADD(equal_input_is_shared_and_other_input_is_not);
	ADD(a_line_that_fits_is_one_block_at_any_width);
	ADD(what_is_asked_for_again_is_kept);
	ADD(a_block_says_what_was_asked);
	ADD(memory_does_not_grow_with_the_packets);
	ADD(a_shared_text_is_as_if_set_alone);
	ADD(a_text_is_set_once_for_widths_that_break_it_alike);
	ADD(a_reset_changes_no_measure);
	ADD(tabular_figures_are_of_one_width);
	ADD(letters_are_not_joined);
	ADD(letters_take_the_forms_of_their_language);
	ADD(no_letter_turns_a_line_round);
	ADD(a_language_from_the_right_starts_at_the_right);
	ADD(an_isolate_keeps_its_order);
	ADD_ROWS(each_script_has_its_font, script_rows, text);
	ADD(scripts_without_spaces_break);
	ADD(lines_are_aligned_within_the_width);
	ADD(ink_holds_what_hangs_and_rises);
	ADD(an_empty_text_is_one_empty_line);
	ADD_ROWS(a_folder_opens_or_says_what_is_wrong, folder_rows, name);
	ADD(no_font_of_the_system_is_known);
	ADD(another_folder_does_not_disturb_the_first);
	return tests_run(&tests, "text");
}
