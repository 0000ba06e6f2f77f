/*
 * The PDF as independent readers see it: words, fonts, structure, links, sizes; and the same bytes every time.
 */
#include "pdf/pdf.h"

#include "paint/paint.h"
#include "support/cases.h"
#include "support/raster.h"
#include "support/shell.h"

#include <ctype.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* ---- a sheet with something of everything ---- */

static const char title[] = "Day by day";
static const char wrapped[] =
	"Pull the plunger until the ring nearest the needle touches the line numbered " TEXT_BOLD_ON "0.5" TEXT_BOLD_OFF
	". Affix the first offer, officially: fjord, fluff.";
static const char accents[] =
	"Zażółć gęślą jaźń. Žluťoučký kůň. Größe, façade, año, İstanbul ığdır, 5\u00A0mL × 2 – “ok”";
static const char figures[] = "1,000 units · 22:30 · 0.25 mL";
static const char link_words[] = "page S1";

#define RULE_LEFT 60.0
#define RULE_Y 150.0
#define RULE_LENGTH 50.0

struct sheet {
	struct arena *arena;
	struct typesetter *typesetter;
	struct placed_mark *marks;
	size_t n;
	struct placed_page pages[2];
	struct placed_packet packet;
};

static void put(struct sheet *sheet, struct placed_mark mark)
{
	sheet->marks = arena_more(sheet->arena, sheet->marks, sheet->n, sizeof mark);
	sheet->marks[sheet->n++] = mark;
}

static void begin(struct sheet *sheet, enum role role)
{
	put(sheet, (struct placed_mark){.kind = MARK_GROUP_BEGIN, .group = {.role = role}});
}

static void end(struct sheet *sheet)
{
	put(sheet, (struct placed_mark){.kind = MARK_GROUP_END});
}

static void put_text(struct sheet *sheet, const char *text, struct text_style style, struct point at, double width,
                     const char *link)
{
	const struct text_block *block = text_set(sheet->typesetter, text, "en", style, width);
	struct rect ink = text_ink(block);
	put(sheet, (struct placed_mark){.kind = MARK_TEXT,
	                                .area = {at.x + ink.x, at.y + ink.y, ink.width, ink.height},
	                                .text = {block, at, COLOUR_INK, link, link ? "page two" : NULL}});
}

static void put_in(struct sheet *sheet, enum role role, const char *text, double x, double y)
{
	begin(sheet, role);
	put_text(sheet, text, (struct text_style){.size = 12, .tabular = role == ROLE_CELL}, (struct point){x, y}, 110,
	         NULL);
	end(sheet);
}

static void put_rule(struct sheet *sheet)
{
	put(sheet, (struct placed_mark){.kind = MARK_RULE,
	                                .area = {RULE_LEFT, RULE_Y - 0.15, RULE_LENGTH, 0.3},
	                                .rule = {.from = {RULE_LEFT, RULE_Y},
	                                         .to = {RULE_LEFT + RULE_LENGTH, RULE_Y},
	                                         .line = 0.3,
	                                         .colour = COLOUR_INK}});
}

static void put_table(struct sheet *sheet)
{
	begin(sheet, ROLE_TABLE);
	begin(sheet, ROLE_ROW);
	put(sheet, (struct placed_mark){.kind = MARK_GROUP_BEGIN,
	                                .group = {.role = ROLE_HEAD_CELL, .scope = SCOPE_ROW, .language = "pl"}});
	put_text(sheet, "1 Thu", (struct text_style){.size = 20, .weight = WEIGHT_BOLD}, (struct point){20, 100}, 0,
	         NULL);
	end(sheet);
	put(sheet, (struct placed_mark){.kind = MARK_GROUP_BEGIN, .group = {.role = ROLE_CELL, .columns = 3}});
	put_text(sheet, figures, (struct text_style){.size = 12, .tabular = true}, (struct point){60, 100}, 110, NULL);
	end(sheet);
	end(sheet);
	end(sheet);
}

static void put_list(struct sheet *sheet)
{
	begin(sheet, ROLE_LIST);
	begin(sheet, ROLE_LIST_ITEM);
	put_in(sheet, ROLE_LABEL, "1", 14, 120);
	put_text(sheet, link_words, (struct text_style){.size = 10, .weight = WEIGHT_SEMIBOLD}, (struct point){20, 120},
	         0, "S1");
	end(sheet);
	end(sheet);
}

static void put_first_page(struct sheet *sheet)
{
	begin(sheet, ROLE_SECTION);
	begin(sheet, ROLE_H1);
	put_text(sheet, title, (struct text_style){.size = 26, .weight = WEIGHT_BOLD}, (struct point){20, 20}, 0, NULL);
	end(sheet);
	put_in(sheet, ROLE_PARAGRAPH, wrapped, 20, 40);
	put_in(sheet, ROLE_PARAGRAPH, accents, 20, 70);
	put_table(sheet);
	put_list(sheet);
	put(sheet, (struct placed_mark){
			   .kind = MARK_GROUP_BEGIN,
			   .group = {.role = ROLE_FIGURE, .alt = "A line of " TEXT_BOLD_ON "50 mm" TEXT_BOLD_OFF}});
	put_rule(sheet);
	end(sheet);
	begin(sheet, ROLE_ARTIFACT);
	put_in(sheet, ROLE_CAPTION, "page 1 of 1", 20, 270);
	end(sheet);
	end(sheet);
}

static void close_page(struct sheet *sheet, struct placed_page *page)
{
	page->marks = sheet->marks;
	page->n = sheet->n;
	sheet->marks = NULL;
	sheet->n = 0;
}

static struct sheet *sheet_new(struct arena *arena)
{
	struct sheet *sheet = arena_alloc(arena, sizeof *sheet);
	struct findings findings = findings_in(arena);
	sheet->arena = arena;
	sheet->typesetter = typesetter_new("fonts", &findings);
	assert_non_null(sheet->typesetter);
	sheet->pages[0] = (struct placed_page){.width = 210, .height = 297, .label = "1"};
	put_first_page(sheet);
	close_page(sheet, &sheet->pages[0]);
	sheet->pages[1] = (struct placed_page){.width = 215.9, .height = 279.4, .label = "S1"};
	put_in(sheet, ROLE_PARAGRAPH, "For clinic staff.", 20, 20);
	put_rule(sheet);
	close_page(sheet, &sheet->pages[1]);
	sheet->packet = (struct placed_packet){.pages = sheet->pages, .n = 2};
	return sheet;
}

static const struct drawing_options options = {.title = "Plan for injections", .language = "en"};

static struct device *painted(struct sheet *sheet, const struct drawing_options *drawing_options)
{
	struct device *device = drawing_new(DRAWING_PDF, drawing_options, (struct rect){0, 0, 210, 297});
	paint_pages(sheet->packet.pages, sheet->packet.n, device);
	return device;
}

/* The bytes in the arena. */
static struct file_content bytes_of(struct sheet *sheet)
{
	struct device *device = painted(sheet, &options);
	struct file_content content;
	assert_true(drawing_finish(device, &content.bytes, &content.n));
	unsigned char *copy = arena_alloc(sheet->arena, content.n);
	memcpy(copy, content.bytes, content.n);
	content.bytes = copy;
	drawing_free(device);
	return content;
}

/* ---- one PDF for the tests that only read ---- */

struct reader {
	struct arena *arena;
	const char *folder;
	const char *path;
};

static struct reader open_pdf(struct arena *arena)
{
	struct sheet *sheet = sheet_new(arena);
	struct reader reader = {.arena = arena, .folder = scratch_folder(arena)};
	reader.path = arena_printf(arena, "%s/sheet.pdf", reader.folder);
	struct file_content content = bytes_of(sheet);
	write_file(reader.path, content.bytes, content.n);
	typesetter_free(sheet->typesetter);
	return reader;
}

static void close_pdf(const struct reader *reader)
{
	scratch_remove(reader->arena, reader->folder);
}

static void assert_has(const char *text, const char *part)
{
	if (!strstr(text, part))
		fail_msg("'%s' is not in:\n%s", part, text);
}

/* One space for each run of blanks, none at the ends. A no-break space is one: the fonts have one glyph for both. */
static const char *squeezed(struct arena *arena, const char *text)
{
	char *out = arena_alloc(arena, strlen(text) + 1);
	size_t n = 0;
	for (const char *c = text; *c; c++) {
		bool no_break = c[0] == '\xC2' && c[1] == '\xA0';
		if (!no_break && !isspace((unsigned char)*c))
			out[n++] = *c;
		else if (n && out[n - 1] != ' ')
			out[n++] = ' ';
		c += no_break;
	}
	if (n && out[n - 1] == ' ')
		out[n - 1] = 0;
	return out;
}

static const char *without_switches(struct arena *arena, const char *text)
{
	char *out = arena_alloc(arena, strlen(text) + 1);
	size_t n = 0;
	for (const char *c = text; *c; c++)
		if (*c != TEXT_BOLD_ON[0] && *c != TEXT_BOLD_OFF[0])
			out[n++] = *c;
	return out;
}

/* ---- words and fonts ---- */

static void the_words_are_those_placed_in_that_order(void **state)
{
	struct reader reader = open_pdf(case_of(state)->arena);
	const char *found = shell(reader.arena, "pdftotext -raw -enc UTF-8 '%s' -", reader.path);
	const char *wanted = arena_printf(reader.arena, "%s %s %s 1 Thu %s 1 %s page 1 of 1 For clinic staff.", title,
	                                  without_switches(reader.arena, wrapped), accents, figures, link_words);
	assert_string_equal(squeezed(reader.arena, found), squeezed(reader.arena, wanted));
	close_pdf(&reader);
}

static void all_fonts_are_ours_and_embedded(void **state)
{
	struct reader reader = open_pdf(case_of(state)->arena);
	char *listing = arena_strdup(reader.arena, shell(reader.arena, "pdffonts '%s'", reader.path));
	int fonts = 0;
	char *rest = NULL;
	for (char *line = strtok_r(listing, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
		if (strncmp(line, "name ", 5) == 0 || strncmp(line, "---", 3) == 0)
			continue;
		fonts++;
		assert_has(line, "+AtkinsonHyperlegibleNext-");
		assert_has(line, " yes yes yes "); /* embedded, a subset, readable as Unicode */
	}
	/* Regular, SemiBold and Bold. */
	assert_int_equal(fonts, 3);
	close_pdf(&reader);
}

static void the_file_is_sound(void **state)
{
	struct reader reader = open_pdf(case_of(state)->arena);
	assert_has(shell(reader.arena, "qpdf --check '%s'", reader.path), "No syntax or stream encoding errors found");
	close_pdf(&reader);
}

static void it_names_no_person_and_no_time(void **state)
{
	struct reader reader = open_pdf(case_of(state)->arena);
	const char *info = shell(reader.arena, "pdfinfo -rawdates '%s'", reader.path);
	assert_has(info, "Title:           Plan for injections\n");
	assert_null(strstr(info, "Date:"));
	assert_null(strstr(info, "Author:"));
	close_pdf(&reader);
}

static void every_page_has_its_own_size(void **state)
{
	struct reader reader = open_pdf(case_of(state)->arena);
	const char *info = shell(reader.arena, "pdfinfo -f 1 -l 2 '%s'", reader.path);
	double width[2];
	double height[2];
	for (int page = 0; page < 2; page++) {
		const char *line = strstr(info, arena_printf(reader.arena, "Page    %d size:", page + 1));
		assert_non_null(line);
		assert_int_equal(sscanf(line, "Page %*d size: %lf x %lf pts", &width[page], &height[page]), 2);
	}
	/* To a hundredth of a millimetre, as far as pdfinfo prints. */
	assert_true(fabs(width[0] * 25.4 / 72 - 210) < 0.01 && fabs(height[0] * 25.4 / 72 - 297) < 0.01);
	assert_true(fabs(width[1] * 25.4 / 72 - 215.9) < 0.01 && fabs(height[1] * 25.4 / 72 - 279.4) < 0.01);
	close_pdf(&reader);
}

/* ---- true size ---- */

static void assert_near(double found, double wanted, double tolerance)
{
	if (fabs(found - wanted) > tolerance)
		fail_msg("found %.4f mm, wanted %.4f mm", found, wanted);
}

static void fifty_millimetres_are_fifty(void **state)
{
	struct reader reader = open_pdf(case_of(state)->arena);
	for (int page = 1; page <= 2; page++) {
		struct rect part = {RULE_LEFT - 5, RULE_Y - 2, RULE_LENGTH + 10, 4};
		struct raster *raster = raster_of_pdf(reader.path, page, part, 1200);
		struct run runs[2];
		assert_int_equal(raster_row(raster, RULE_Y, part.x + 0.5, part.x + part.width - 0.5, runs, 2), 1);
		assert_near(runs[0].to - runs[0].from, RULE_LENGTH, 0.05);
		assert_near(runs[0].from, RULE_LEFT, 0.05);
		raster_free(raster);
	}
	close_pdf(&reader);
}

/* The stem of the D: from the cap top where the text was put, 0.668 em down to the baseline. */
static void capitals_stand_where_they_were_put(void **state)
{
	struct reader reader = open_pdf(case_of(state)->arena);
	struct raster *raster = raster_of_pdf(reader.path, 1, (struct rect){18, 15, 10, 20}, 1200);
	struct run stems[4];
	assert_true(raster_row(raster, 23, 19, 27, stems, 4) >= 1);
	struct run heights[4];
	assert_int_equal(raster_column(raster, run_middle(stems[0]), 16, 34, heights, 4), 1);
	assert_near(heights[0].from, 20, 0.04);
	assert_near(heights[0].to, 20 + 0.668 * 26 * 25.4 / 72, 0.04);
	raster_free(raster);
	close_pdf(&reader);
}

/* ---- structure ---- */

/* What is an artifact is not there; an item of a list holds its words in a body. */
static const char structure[] = "Document\n"
				"  Sect\n"
				"    H1\n"
				"    P\n"
				"    P\n"
				"    Table\n"
				"      TR\n"
				"        TH\n"
				"        TD\n"
				"    L\n"
				"      LI\n"
				"        Lbl\n"
				"        LBody\n"
				"          Link\n"
				"            Object\n"
				"    Figure\n"
				"  P\n";

/* pdfinfo prints a tag a line, sometimes with "(block)" or attributes after it. */
static const char *only_names(struct arena *arena, const char *listing)
{
	char *copy = arena_strdup(arena, listing);
	const char *names = "";
	char *rest = NULL;
	for (char *line = strtok_r(copy, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
		size_t indent = strspn(line, " ");
		size_t name = strcspn(line + indent, " (:");
		if (isupper((unsigned char)line[indent]))
			names = arena_printf(arena, "%s%.*s\n", names, (int)(indent + name), line);
	}
	return names;
}

static void groups_become_structure(void **state)
{
	struct reader reader = open_pdf(case_of(state)->arena);
	assert_string_equal(only_names(reader.arena, shell(reader.arena, "pdfinfo -struct '%s'", reader.path)),
	                    structure);
	close_pdf(&reader);
}

/* The file without compression, its NUL bytes left out, so that it can be read as text. */
static const char *plain_text(const struct reader *reader)
{
	const char *plain = arena_printf(reader->arena, "%s/plain.pdf", reader->folder);
	shell(reader->arena, "qpdf --qdf --object-streams=disable '%s' '%s'", reader->path, plain);
	return shell(reader->arena, "tr -d '\\000' <'%s'", plain);
}

static void what_is_spoken_is_in_the_file(void **state)
{
	struct reader reader = open_pdf(case_of(state)->arena);
	const char *text = plain_text(&reader);
	assert_has(text, "/Alt (A line of 50 mm)");
	assert_has(text, "/Lang (en)");
	assert_has(text, "/Lang (pl)");
	assert_has(text, "/Scope /Row");
	assert_has(text, "/ColSpan 3");
	assert_has(text, "/ListNumbering /Decimal");
	assert_has(text, "/DisplayDocTitle true");
	assert_has(text, "<pdfuaid:part>1</pdfuaid:part>");
	close_pdf(&reader);
}

static void headings_are_an_outline(void **state)
{
	struct reader reader = open_pdf(case_of(state)->arena);
	const char *outline =
		shell(reader.arena, "qpdf --json=1 --json-key=outlines '%s' | grep -E 'title|destpage'", reader.path);
	assert_has(outline, "\"title\": \"Day by day\"");
	assert_has(outline, "\"destpageposfrom1\": 1");
	close_pdf(&reader);
}

/*
 * Every operator that paints stands between a marked content's begin and end:
 * read aloud, or known to be an artifact. Two pages, so two streams.
 */
static void no_ink_is_unmarked(void **state)
{
	struct reader reader = open_pdf(case_of(state)->arena);
	int streams = 0;
	for (const char *stream = plain_text(&reader); (stream = strstr(stream, " cm\n")); stream++) {
		const char *end = strstr(stream, "endstream");
		int depth = 0;
		int painted = 0;
		streams++;
		assert_non_null(end);
		for (const char *line = stream; line && line < end;
		     line = strchr(line, '\n'), line = line ? line + 1 : NULL) {
			size_t length = strcspn(line, "\n");
			const char *last = line + length;
			if (length >= 3 && (memcmp(last - 3, "BMC", 3) == 0 || memcmp(last - 3, "BDC", 3) == 0))
				depth++;
			else if (length == 3 && memcmp(line, "EMC", 3) == 0)
				depth--;
			else if ((length == 1 && strchr("SfB", line[0])) ||
			         (length > 2 && memcmp(last - 2, "TJ", 2) == 0)) {
				assert_int_equal(depth, 1);
				painted++;
			}
			assert_in_range(depth, 0, 1);
		}
		assert_true(painted >= 2);
		stream = end;
	}
	assert_int_equal(streams, 2);
	close_pdf(&reader);
}

/* ---- links ---- */

static void a_link_leads_to_the_page_of_its_label(void **state)
{
	struct reader reader = open_pdf(case_of(state)->arena);
	const char *text = plain_text(&reader);
	const char *rect = strstr(text, "/Rect [");
	assert_non_null(rect);
	double left;
	double low;
	double right;
	double high;
	assert_int_equal(sscanf(rect, "/Rect [ %lf %lf %lf %lf ]", &left, &low, &right, &high), 4);
	/* The words stand at 20, 120, 10 pt: about 12 mm wide, 2.4 high, and the area is in whole points. */
	assert_near(left * 25.4 / 72, 20.2, 0.5);
	assert_near(297 - high * 25.4 / 72, 120, 0.5);
	assert_near((right - left) * 25.4 / 72, 12.5, 1.5);
	assert_near((high - low) * 25.4 / 72, 3.2, 0.8);
	/* The second page is where the label leads. */
	int second_page;
	int target;
	const char *pages = shell(reader.arena, "qpdf --show-pages '%s/plain.pdf' | grep '^page 2:'", reader.folder);
	assert_int_equal(sscanf(pages, "page 2: %d 0 R", &second_page), 1);
	const char *annotation = strstr(text, "/Border");
	assert_non_null(annotation);
	const char *destination = strstr(annotation, "/Dest [");
	assert_non_null(destination);
	assert_int_equal(sscanf(destination, "/Dest [ %d 0 R", &target), 1);
	assert_int_equal(target, second_page);
	assert_has(text, "/P (S1)");
	assert_has(text, "/Contents (page two)");
	close_pdf(&reader);
}

/* ---- the same bytes ---- */

static void assert_same(struct file_content a, struct file_content b)
{
	assert_int_equal(a.n, b.n);
	assert_memory_equal(a.bytes, b.bytes, a.n);
}

static void the_same_input_has_the_same_bytes(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct sheet *first = sheet_new(arena);
	struct file_content wanted = bytes_of(first);
	assert_same(bytes_of(first), wanted);
	struct sheet *second = sheet_new(arena);
	assert_same(bytes_of(second), wanted);
	typesetter_free(first->typesetter);
	typesetter_free(second->typesetter);
}

/* What was set before, for another patient, leaves no trace. */
static void an_earlier_sheet_changes_nothing(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct sheet *fresh = sheet_new(arena);
	struct file_content wanted = bytes_of(fresh);
	struct sheet *used = sheet_new(arena);
	for (int i = 0; i < 3000; i++)
		text_set(used->typesetter, arena_printf(arena, "%d mcg", i), "en", (struct text_style){.size = 12}, 0);
	typesetter_reset(used->typesetter);
	put_first_page(used);
	close_page(used, &used->pages[0]);
	put_in(used, ROLE_PARAGRAPH, "For clinic staff.", 20, 20);
	put_rule(used);
	close_page(used, &used->pages[1]);
	assert_same(bytes_of(used), wanted);
	typesetter_free(fresh->typesetter);
	typesetter_free(used->typesetter);
}

static const char *const surroundings[] = {
	"LANG=C TZ=UTC",
	"LANG=de_DE.UTF-8 LC_ALL=de_DE.UTF-8 LC_NUMERIC=de_DE.UTF-8 TZ=Pacific/Kiritimati",
	"LANG=tr_TR.UTF-8 LANGUAGE=tr TZ=America/St_Johns HOME=/nonexistent",
	"LANG=ar_EG.UTF-8 PANGO_LANGUAGE=ar:zh XDG_CONFIG_HOME=/nonexistent FONTCONFIG_FILE=/nonexistent",
	"LC_ALL=C.UTF-8 FONTCONFIG_PATH=/nonexistent PANGOCAIRO_BACKEND=fc TZ=Asia/Kathmandu",
};

/* This program writes the sheet in a process of its own: main() below. */
static void surroundings_change_nothing(void **state)
{
	struct arena *arena = case_of(state)->arena;
	const char *variables = case_of(state)->row;
	const char *folder = scratch_folder(arena);
	const char *path = arena_printf(arena, "%s/sheet.pdf", folder);
	char self[1024];
	ssize_t length = readlink("/proc/self/exe", self, sizeof self - 1);
	assert_true(length > 0);
	self[length] = 0;
	/* Nothing is passed on but what a sanitizer needs to know. */
	shell(arena, "env -i LSAN_OPTIONS=\"$LSAN_OPTIONS\" %s '%s' --write '%s'", variables, self, path);
	struct sheet *sheet = sheet_new(arena);
	assert_same(read_file(arena, path), bytes_of(sheet));
	typesetter_free(sheet->typesetter);
	scratch_remove(arena, folder);
}

static int write_sheet(const char *path)
{
	setlocale(LC_ALL, "");
	struct arena *arena = arena_new();
	struct sheet *sheet = sheet_new(arena);
	struct file_content content = bytes_of(sheet);
	write_file(path, content.bytes, content.n);
	typesetter_free(sheet->typesetter);
	arena_free(arena);
	return 0;
}

#define ADD(test) tests_add(&tests, #test, test, NULL)

int main(int argc, char **argv)
{
	if (argc == 3 && strcmp(argv[1], "--write") == 0)
		return write_sheet(argv[2]);
	struct tests tests = {0};
	ADD(the_words_are_those_placed_in_that_order);
	ADD(all_fonts_are_ours_and_embedded);
	ADD(the_file_is_sound);
	ADD(it_names_no_person_and_no_time);
	ADD(every_page_has_its_own_size);
	ADD(fifty_millimetres_are_fifty);
	ADD(capitals_stand_where_they_were_put);
	ADD(groups_become_structure);
	ADD(what_is_spoken_is_in_the_file);
	ADD(headings_are_an_outline);
	ADD(no_ink_is_unmarked);
	ADD(a_link_leads_to_the_page_of_its_label);
	ADD(the_same_input_has_the_same_bytes);
	ADD(an_earlier_sheet_changes_nothing);
	for (size_t i = 0; i < sizeof surroundings / sizeof *surroundings; i++)
		tests_add(&tests, surroundings[i], surroundings_change_nothing, surroundings[i]);
	return tests_run(&tests, "pdf");
}
