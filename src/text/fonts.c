#include "text/fonts.h"

#include <dirent.h>
#include <errno.h>
#include <pango/pangocairo.h>
#include <pango/pangofc-fontmap.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static const char main_family[] = "Atkinson Hyperlegible Next";

/*
 * Latin with every accent, Cyrillic and Greek. Fallback would set single letters
 * of a word in it; so a language that the main family cannot write is set in it
 * throughout. Other scripts fall back by themselves: a file in the folder that
 * has them is enough.
 */
static const char wide_family[] = "Noto Sans";

static PangoWeight fonts_weight(enum text_weight weight)
{
	switch (weight) {
	case WEIGHT_REGULAR:
		return PANGO_WEIGHT_NORMAL;
	case WEIGHT_SEMIBOLD:
		return PANGO_WEIGHT_SEMIBOLD;
	case WEIGHT_BOLD:
		break;
	}
	return PANGO_WEIGHT_BOLD;
}

/* True when a font of the family has the letters that fontconfig knows the language to be written with. */
static bool writes(const struct fonts *fonts, const char *family, const char *language)
{
	const FcFontSet *all = FcConfigGetFonts(fonts->config, FcSetApplication);
	for (int i = 0; i < all->nfont; i++) {
		FcChar8 *name;
		FcLangSet *languages;
		if (FcPatternGetString(all->fonts[i], FC_FAMILY, 0, &name) == FcResultMatch &&
		    strcmp((const char *)name, family) == 0 &&
		    FcPatternGetLangSet(all->fonts[i], FC_LANG, 0, &languages) == FcResultMatch &&
		    FcLangSetHasLang(languages, (const FcChar8 *)language) != FcLangDifferentLang)
			return true;
	}
	return false;
}

PangoFontDescription *fonts_describe(const struct fonts *fonts, const char *language, enum text_weight weight)
{
	bool wide = !writes(fonts, main_family, language) && writes(fonts, wide_family, language);
	PangoFontDescription *description = pango_font_description_new();
	pango_font_description_set_family_static(description, wide ? wide_family : main_family);
	pango_font_description_set_weight(description, fonts_weight(weight));
	pango_font_description_set_size(description, (gint)(FONTS_SIZE * PANGO_SCALE));
	return description;
}

/* ---- the files ---- */

struct file_names {
	char **list;
	size_t n;
};

static bool is_font_file(const char *name)
{
	const char *dot = strrchr(name, '.');
	return name[0] != '.' && dot && (strcmp(dot, ".ttf") == 0 || strcmp(dot, ".otf") == 0);
}

static int by_name(const void *a, const void *b)
{
	return strcmp(*(char *const *)a, *(char *const *)b);
}

/* In sorted order: of two files with the same face the first counts, and a folder is listed in no order. */
static bool list_fonts(struct arena *arena, const char *folder, struct file_names *names)
{
	DIR *dir = opendir(folder);
	if (!dir)
		return false;
	struct dirent *entry;
	while ((entry = readdir(dir))) {
		if (!is_font_file(entry->d_name))
			continue;
		names->list = arena_more(arena, names->list, names->n, sizeof *names->list);
		names->list[names->n++] = arena_printf(arena, "%s/%s", folder, entry->d_name);
	}
	closedir(dir);
	if (names->n)
		qsort(names->list, names->n, sizeof *names->list, by_name);
	return true;
}

/* Fonts are named by the installation, not by a line in a file. */
static const struct place nowhere;

/* Fontconfig takes any file and says nothing: only a face that was not there before proves that it was read. */
static bool add_font(FcConfig *config, const char *path)
{
	const FcFontSet *before = FcConfigGetFonts(config, FcSetApplication);
	int count = before ? before->nfont : 0;
	if (!FcConfigAppFontAddFile(config, (const FcChar8 *)path))
		return false;
	const FcFontSet *after = FcConfigGetFonts(config, FcSetApplication);
	return after && after->nfont > count;
}

static bool add_fonts(FcConfig *config, const char *folder, struct findings *findings)
{
	struct file_names names = {0};
	if (!list_fonts(findings->arena, folder, &names)) {
		findings_add(findings, FINDING_STOP, "fonts-missing", nowhere,
		             "the font folder '%s' cannot be read: %s; put the project's fonts there", folder,
		             strerror(errno));
		return false;
	}
	if (!names.n) {
		findings_add(findings, FINDING_STOP, "fonts-missing", nowhere,
		             "there is no font file in '%s'; put the project's fonts there", folder);
		return false;
	}
	bool sound = true;
	for (size_t i = 0; i < names.n; i++) {
		if (add_font(config, names.list[i]))
			continue;
		findings_add(findings, FINDING_STOP, "font-damaged", nowhere,
		             "'%s' is no font that can be read; put a sound copy there", names.list[i]);
		sound = false;
	}
	return sound;
}

/* ---- are they still there? ---- */

/* Of a file: enough to tell that another one stands there, or none. */
struct font_file {
	const char *path; /* the configuration's */
	struct stat about;
};

static GArray *files_of(const FcConfig *config)
{
	GArray *files = g_array_new(FALSE, TRUE, sizeof(struct font_file));
	const FcFontSet *all = FcConfigGetFonts((FcConfig *)(uintptr_t)config, FcSetApplication);
	for (int i = 0; i < all->nfont; i++) {
		FcChar8 *path;
		struct font_file file = {.path = NULL};
		if (FcPatternGetString(all->fonts[i], FC_FILE, 0, &path) != FcResultMatch)
			continue;
		file.path = (const char *)path;
		if (stat(file.path, &file.about) == 0)
			g_array_append_val(files, file);
	}
	return files;
}

static bool is_same(const struct stat *a, const struct stat *b)
{
	return a->st_dev == b->st_dev && a->st_ino == b->st_ino && a->st_size == b->st_size &&
	       a->st_mtim.tv_sec == b->st_mtim.tv_sec && a->st_mtim.tv_nsec == b->st_mtim.tv_nsec;
}

bool fonts_same(const struct fonts *fonts)
{
	for (guint i = 0; i < fonts->files->len; i++) {
		const struct font_file *file = &g_array_index(fonts->files, struct font_file, i);
		struct stat now;
		if (stat(file->path, &now) != 0 || !is_same(&now, &file->about))
			return false;
	}
	return true;
}

/* ---- the context ---- */

/*
 * The configuration must be current before the first font map exists: else
 * Pango starts the system's own, which takes a quarter of a second and could
 * bring in the system's fonts.
 */
static PangoFontMap *map_of(FcConfig *config)
{
	FcConfigSetCurrent(config);
	PangoFontMap *map = pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT);
	pango_cairo_font_map_set_resolution(PANGO_CAIRO_FONT_MAP(map), 72);
	pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(map), config);
	return map;
}

/* By default glyphs are moved to whole points, for screens; on paper that is seen as uneven gaps. */
static void forbid_rounding(PangoContext *context)
{
	cairo_font_options_t *options = cairo_font_options_create();
	cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
	cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
	cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
	pango_cairo_context_set_font_options(context, options);
	cairo_font_options_destroy(options);
	pango_context_set_round_glyph_positions(context, FALSE);
}

static bool has_weight(const struct fonts *fonts, enum text_weight weight)
{
	PangoFontDescription *wanted = fonts_describe(fonts, "en", weight);
	PangoFont *font = pango_context_load_font(fonts->left_to_right, wanted);
	bool same = false;
	if (font) {
		PangoFontDescription *found = pango_font_describe(font);
		same = strcmp(pango_font_description_get_family(found), main_family) == 0 &&
		       pango_font_description_get_weight(found) == fonts_weight(weight);
		pango_font_description_free(found);
		g_object_unref(font);
	}
	pango_font_description_free(wanted);
	return same;
}

/* A weight that is not there would be replaced by another without a word, and a tag's number would not be bold. */
static bool has_all_weights(const struct fonts *fonts, const char *folder, struct findings *findings)
{
	static const struct {
		enum text_weight weight;
		const char *name;
	} needed[] = {
		{WEIGHT_REGULAR, "Regular"},
		{WEIGHT_SEMIBOLD, "SemiBold"},
		{WEIGHT_BOLD, "Bold"},
	};
	bool all = true;
	for (size_t i = 0; i < sizeof needed / sizeof *needed; i++) {
		if (has_weight(fonts, needed[i].weight))
			continue;
		findings_add(findings, FINDING_STOP, "fonts-missing", nowhere,
		             "the folder '%s' has no %s %s; put the project's fonts there", folder, main_family,
		             needed[i].name);
		all = false;
	}
	return all;
}

static PangoContext *context_of(PangoFontMap *map, PangoDirection direction)
{
	PangoContext *context = pango_font_map_create_context(map);
	forbid_rounding(context);
	pango_context_set_base_dir(context, direction);
	return context;
}

bool fonts_open(const char *folder, struct findings *findings, struct fonts *fonts)
{
	*fonts = (struct fonts){.config = FcConfigCreate()};
	if (add_fonts(fonts->config, folder, findings)) {
		fonts->files = files_of(fonts->config);
		PangoFontMap *map = map_of(fonts->config);
		fonts->left_to_right = context_of(map, PANGO_DIRECTION_LTR);
		fonts->right_to_left = context_of(map, PANGO_DIRECTION_RTL);
		g_object_unref(map);
		if (has_all_weights(fonts, folder, findings))
			return true;
	}
	fonts_close(fonts);
	return false;
}

void fonts_close(struct fonts *fonts)
{
	g_clear_object(&fonts->left_to_right);
	g_clear_object(&fonts->right_to_left);
	FcConfigDestroy(fonts->config);
	if (fonts->files != NULL)
		g_array_free(fonts->files, TRUE);
}
