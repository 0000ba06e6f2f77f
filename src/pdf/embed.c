#include "pdf/embed.h"

#include <assert.h>
#include <hb-ot.h>
#include <hb-subset.h>
#include <math.h>
#include <string.h>

/* A glyph and what it stands for. Codes count from 1: 0 is the glyph for what is not there. */
struct shown_glyph {
	hb_codepoint_t glyph;
	int advance; /* thousandths of the size */
	int next;    /* another code of the same glyph; -1: none */
	char *text;
};

struct embedded_font {
	int number;
	hb_face_t *face;
	hb_font_t *font;       /* of the face, in its own units */
	hb_map_t *first_codes; /* glyph to the first of its codes */
	GArray *shown;         /* struct shown_glyph; the index is the code */
};

struct embedded_fonts {
	GPtrArray *fonts;
	GHashTable *by_pango_font; /* PangoFont: the same face in each size is another one */
};

/* ---- codes ---- */

static void font_free(gpointer data)
{
	struct embedded_font *font = data;
	for (guint i = 0; i < font->shown->len; i++)
		g_free(g_array_index(font->shown, struct shown_glyph, i).text);
	g_array_free(font->shown, TRUE);
	hb_map_destroy(font->first_codes);
	hb_font_destroy(font->font);
	hb_face_destroy(font->face);
	g_free(font);
}

struct embedded_fonts *embedded_fonts_new(void)
{
	struct embedded_fonts *fonts = g_new0(struct embedded_fonts, 1);
	fonts->fonts = g_ptr_array_new_with_free_func(font_free);
	fonts->by_pango_font = g_hash_table_new_full(NULL, NULL, g_object_unref, NULL);
	return fonts;
}

void embedded_fonts_free(struct embedded_fonts *fonts)
{
	g_hash_table_destroy(fonts->by_pango_font);
	g_ptr_array_free(fonts->fonts, TRUE);
	g_free(fonts);
}

static int advance_of(const struct embedded_font *font, hb_codepoint_t glyph)
{
	double units = hb_face_get_upem(font->face);
	return (int)lround(hb_font_get_glyph_h_advance(font->font, glyph) * 1000.0 / units);
}

static unsigned add_code(struct embedded_font *font, hb_codepoint_t glyph, const char *text, size_t length)
{
	int next = -1;
	if (hb_map_has(font->first_codes, glyph))
		next = (int)hb_map_get(font->first_codes, glyph);
	struct shown_glyph shown = {glyph, advance_of(font, glyph), next, g_strndup(text, length)};
	unsigned code = font->shown->len;
	g_array_append_val(font->shown, shown);
	hb_map_set(font->first_codes, glyph, code);
	return code;
}

static struct embedded_font *font_new(int number, hb_face_t *face)
{
	struct embedded_font *font = g_new0(struct embedded_font, 1);
	font->number = number;
	font->face = hb_face_reference(face);
	font->font = hb_font_create(face);
	font->first_codes = hb_map_create();
	font->shown = g_array_new(FALSE, FALSE, sizeof(struct shown_glyph));
	add_code(font, 0, "", 0);
	return font;
}

static struct embedded_font *font_of_face(struct embedded_fonts *fonts, hb_face_t *face)
{
	for (guint i = 0; i < fonts->fonts->len; i++) {
		struct embedded_font *font = g_ptr_array_index(fonts->fonts, i);
		if (font->face == face)
			return font;
	}
	struct embedded_font *font = font_new((int)fonts->fonts->len + 1, face);
	g_ptr_array_add(fonts->fonts, font);
	return font;
}

struct embedded_font *embedded_font_of(struct embedded_fonts *fonts, PangoFont *pango_font)
{
	struct embedded_font *font = g_hash_table_lookup(fonts->by_pango_font, pango_font);
	if (font)
		return font;
	font = font_of_face(fonts, hb_font_get_face(pango_font_get_hb_font(pango_font)));
	g_hash_table_insert(fonts->by_pango_font, g_object_ref(pango_font), font);
	return font;
}

int embedded_font_number(const struct embedded_font *font)
{
	return font->number;
}

static const struct shown_glyph *shown_at(const struct embedded_font *font, unsigned code)
{
	return &g_array_index(font->shown, struct shown_glyph, code);
}

unsigned embedded_code(struct embedded_font *font, PangoGlyph glyph, const char *text, size_t length)
{
	int code = hb_map_has(font->first_codes, glyph) ? (int)hb_map_get(font->first_codes, glyph) : -1;
	for (; code > 0; code = shown_at(font, (unsigned)code)->next) {
		const char *known = shown_at(font, (unsigned)code)->text;
		if (strncmp(known, text, length) == 0 && known[length] == '\0')
			return (unsigned)code;
	}
	return add_code(font, glyph, text, length);
}

unsigned embedded_space(struct embedded_font *font)
{
	hb_codepoint_t glyph;
	if (!hb_font_get_nominal_glyph(font->font, ' ', &glyph))
		return 0;
	return embedded_code(font, glyph, " ", 1);
}

int embedded_advance(const struct embedded_font *font, unsigned code)
{
	return shown_at(font, code)->advance;
}

/* ---- cutting the outlines ---- */

/* Tables that shape, name or hint: what is shown is shaped already, and paper needs no hints. */
static void choose_tables(hb_subset_input_t *input)
{
	static const hb_tag_t dropped[] = {
		HB_TAG('G', 'S', 'U', 'B'), HB_TAG('G', 'P', 'O', 'S'), HB_TAG('G', 'D', 'E', 'F'),
		HB_TAG('n', 'a', 'm', 'e'), HB_TAG('O', 'S', '/', '2'), HB_TAG('c', 'm', 'a', 'p'),
		HB_TAG('p', 'o', 's', 't'), HB_TAG('k', 'e', 'r', 'n'), HB_TAG('S', 'T', 'A', 'T'),
		HB_TAG('m', 'e', 't', 'a'),
	};
	hb_set_t *drop = hb_subset_input_set(input, HB_SUBSET_SETS_DROP_TABLE_TAG);
	for (size_t i = 0; i < sizeof dropped / sizeof *dropped; i++)
		hb_set_add(drop, dropped[i]);
	hb_subset_input_set_flags(input, HB_SUBSET_FLAGS_NO_HINTING);
}

static hb_subset_plan_t *plan_of(const struct embedded_font *font)
{
	hb_subset_input_t *input = hb_subset_input_create_or_fail();
	if (!input)
		return NULL;
	choose_tables(input);
	for (guint i = 0; i < font->shown->len; i++)
		hb_set_add(hb_subset_input_glyph_set(input), shown_at(font, i)->glyph);
	hb_subset_plan_t *plan = hb_subset_plan_create_or_fail(font->face, input);
	hb_subset_input_destroy(input);
	return plan;
}

/* Two bytes a code: the glyph's number in the subset. */
static qpdf_oh glyph_map(const struct embedded_font *font, qpdf_data file, const hb_map_t *kept)
{
	GByteArray *map = g_byte_array_new();
	for (guint i = 0; i < font->shown->len; i++) {
		hb_codepoint_t glyph = hb_map_get(kept, shown_at(font, i)->glyph);
		guint8 bytes[2] = {(guint8)(glyph >> 8), (guint8)glyph};
		g_byte_array_append(map, bytes, sizeof bytes);
	}
	qpdf_oh stream = object_stream(file, map->data, map->len);
	g_byte_array_unref(map);
	return stream;
}

/* ---- what a reader gets back ---- */

static void append_utf16(GString *out, const char *text)
{
	glong length = 0;
	gunichar2 *units = g_utf8_to_utf16(text, -1, NULL, &length, NULL);
	assert(units); /* Pango sets valid UTF-8 only */
	for (glong i = 0; i < length; i++)
		g_string_append_printf(out, "%04X", units[i]);
	g_free(units);
}

/* A block of the table holds at most a hundred codes. */
enum { most_in_block = 100 };

static qpdf_oh unicode_map(const struct embedded_font *font, qpdf_data file)
{
	GString *map = g_string_new("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
	                            "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
	                            "/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"
	                            "1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n");
	guint last = font->shown->len;
	for (guint from = 1; from < last; from += most_in_block) {
		guint to = MIN(from + most_in_block, last);
		g_string_append_printf(map, "%u beginbfchar\n", to - from);
		for (guint code = from; code < to; code++) {
			g_string_append_printf(map, "<%04X> <", code);
			append_utf16(map, shown_at(font, code)->text);
			g_string_append(map, ">\n");
		}
		g_string_append(map, "endbfchar\n");
	}
	g_string_append(map, "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n");
	qpdf_oh stream = object_stream(file, map->str, map->len);
	g_string_free(map, TRUE);
	return stream;
}

/* ---- the font's objects ---- */

/* "ABCDEF+" before the name says that it is a part; letters by what the part holds (ISO 32000-1, 9.6.4). */
static char *subset_name(const struct embedded_font *font)
{
	char name[128];
	unsigned length = sizeof name;
	guint32 hash = 2166136261u;
	char tag[7] = "";
	hb_ot_name_get_utf8(font->face, HB_OT_NAME_ID_POSTSCRIPT_NAME, HB_LANGUAGE_INVALID, &length, name);
	for (guint i = 0; i < font->shown->len; i++)
		hash = (hash ^ shown_at(font, i)->glyph) * 16777619u;
	for (int i = 0; i < 6; i++, hash /= 26)
		tag[i] = (char)('A' + hash % 26);
	return g_strdup_printf("/%s+%s", tag, name);
}

static long long metric(const struct embedded_font *font, hb_ot_metrics_tag_t tag)
{
	hb_position_t position = 0;
	hb_ot_metrics_get_position_with_fallback(font->font, tag, &position);
	return llround(position * 1000.0 / hb_face_get_upem(font->face));
}

/* The box of all letters is asked for and read by no one who has the outlines; the em and what hangs is near enough. */
static qpdf_oh descriptor(const struct embedded_font *font, qpdf_data file, const char *name, qpdf_oh outlines)
{
	long long ascent = metric(font, HB_OT_METRICS_TAG_HORIZONTAL_ASCENDER);
	long long descent = metric(font, HB_OT_METRICS_TAG_HORIZONTAL_DESCENDER);
	char syntax[256];
	g_snprintf(syntax, sizeof syntax,
	           "<< /Type /FontDescriptor /Flags 4 /ItalicAngle 0 /StemV 80 /Ascent %lld /Descent %lld "
	           "/CapHeight %lld /FontBBox [-1000 %lld 2000 %lld] >>",
	           ascent, descent, metric(font, HB_OT_METRICS_TAG_CAP_HEIGHT), descent, ascent);
	qpdf_oh dictionary = object_parsed(file, syntax);
	object_set_name(file, dictionary, "/FontName", name);
	object_set(file, dictionary, "/FontFile2", outlines);
	return object_reference(file, dictionary);
}

static qpdf_oh widths(const struct embedded_font *font, qpdf_data file)
{
	GString *syntax = g_string_new("[0 [");
	for (guint i = 0; i < font->shown->len; i++)
		g_string_append_printf(syntax, "%d ", shown_at(font, i)->advance);
	g_string_append(syntax, "]]");
	qpdf_oh array = object_parsed(file, syntax->str);
	g_string_free(syntax, TRUE);
	return array;
}

static qpdf_oh descendant(const struct embedded_font *font, qpdf_data file, const char *name, qpdf_oh outlines,
                          qpdf_oh map)
{
	qpdf_oh dictionary =
		object_parsed(file, "<< /Type /Font /Subtype /CIDFontType2 /CIDSystemInfo << /Registry (Adobe) "
	                            "/Ordering (Identity) /Supplement 0 >> >>");
	object_set_name(file, dictionary, "/BaseFont", name);
	object_set(file, dictionary, "/FontDescriptor", descriptor(font, file, name, outlines));
	object_set(file, dictionary, "/W", widths(font, file));
	object_set(file, dictionary, "/CIDToGIDMap", map);
	return object_reference(file, dictionary);
}

static qpdf_oh composite(const struct embedded_font *font, qpdf_data file, qpdf_oh outlines, qpdf_oh map)
{
	char *name = subset_name(font);
	qpdf_oh dictionary = object_parsed(file, "<< /Type /Font /Subtype /Type0 /Encoding /Identity-H >>");
	qpdf_oh descendants = qpdf_oh_new_array(file);
	qpdf_oh_append_item(file, descendants, descendant(font, file, name, outlines, map));
	object_set_name(file, dictionary, "/BaseFont", name);
	object_set(file, dictionary, "/DescendantFonts", descendants);
	object_set(file, dictionary, "/ToUnicode", unicode_map(font, file));
	g_free(name);
	return object_reference(file, dictionary);
}

static bool write_font(const struct embedded_font *font, qpdf_data file, qpdf_oh *written)
{
	hb_subset_plan_t *plan = plan_of(font);
	hb_face_t *part = plan ? hb_subset_plan_execute_or_fail(plan) : NULL;
	if (part) {
		hb_blob_t *blob = hb_face_reference_blob(part);
		unsigned length;
		const char *data = hb_blob_get_data(blob, &length);
		qpdf_oh outlines = object_stream(file, data, length);
		qpdf_oh map = glyph_map(font, file, hb_subset_plan_old_to_new_glyph_mapping(plan));
		object_set_integer(file, qpdf_oh_get_dict(file, outlines), "/Length1", length);
		*written = composite(font, file, outlines, map);
		hb_blob_destroy(blob);
	}
	hb_face_destroy(part);
	hb_subset_plan_destroy(plan);
	return part != NULL;
}

bool embedded_fonts_write(struct embedded_fonts *fonts, qpdf_data file, qpdf_oh *resources)
{
	*resources = qpdf_oh_new_dictionary(file);
	for (guint i = 0; i < fonts->fonts->len; i++) {
		const struct embedded_font *font = g_ptr_array_index(fonts->fonts, i);
		char key[16];
		qpdf_oh written;
		if (!write_font(font, file, &written))
			return false;
		g_snprintf(key, sizeof key, "/F%d", font->number);
		object_set(file, *resources, key, written);
	}
	return true;
}
