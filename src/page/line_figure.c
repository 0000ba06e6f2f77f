#include "page/line_figure.h"

#include "page/letter.h"
#include "page/syringe_geometry.h"

#include <math.h>

#define TAG_CLEAR 0.4       /* the tag's tip over the wall */
#define NUMERAL_SIZE 9.0    /* pt */
#define NUMERAL_BETWEEN 0.8 /* mm between neighbouring numerals: two numbers must not read as one */
#define NEEDLE_CLEAR 2.3    /* the needle's tip from the column's edge */
#define ROD_CUT 3.0         /* a cut rod ends so far from the column's edge */

/* Inside the magnifier: air above the barrel, numerals below it. */
#define WINDOW_AIR 8.4
#define WINDOW_BELOW 9.1
#define WINDOW_BARREL 33.0 /* the most that a barrel is high in it */
#define WINDOW_PITCH 3.58  /* mm between neighbouring lines in it, where zoom may be chosen freely */
#define ZOOM_LEAST 2.0
#define ZOOM_MOST 5.0

static double outer_half(const struct syringe *syringe)
{
	return syringe_geometry_of(syringe).outer / 2;
}

double line_rise(struct composer *composer, const struct line_look *look)
{
	if (look->mark.number == NULL)
		return syringe_geometry_of(look->syringe).flange_height / 2;
	return measure_tag(composer, look->mark, look->tag_size).height + TAG_CLEAR + outer_half(look->syringe);
}

double line_drop(const struct line_look *look)
{
	double numerals =
		syringe_numerals_drop(look->syringe) + text_cap_height((struct text_style){.size = NUMERAL_SIZE});
	return fmax(numerals, syringe_geometry_of(look->syringe).flange_height / 2);
}

/* ---- numerals ---- */

struct numeral_row {
	const struct text_block **blocks;
	size_t n;
	double pitch;  /* mm between neighbours */
	size_t marked; /* the one at the mark; n where none is */
};

static bool touches(const struct numeral_row *row, size_t a, size_t b)
{
	double between = fabs((double)a - (double)b) * row->pitch;
	return (text_width(row->blocks[a]) + text_width(row->blocks[b])) / 2 + NUMERAL_BETWEEN > between;
}

/* Every numeral, else every second, fifth or tenth: the first step at which none touches the next. */
static size_t stride_of(const struct numeral_row *row)
{
	static const size_t strides[] = {1, 2, 5, 10, 20};
	for (size_t i = 0; i < sizeof strides / sizeof *strides; i++) {
		bool free = true;
		for (size_t j = 0; j + strides[i] < row->n; j += strides[i])
			free = free && !touches(row, j, j + strides[i]);
		if (free)
			return strides[i];
	}
	return row->n;
}

/* The numeral at the mark stays; of the others those of the stride that are clear of it. */
static void thin_out(struct numeral_row *row)
{
	size_t stride = stride_of(row);
	for (size_t i = 0; i < row->n; i++) {
		bool near_mark = row->marked < row->n && touches(row, i, row->marked);
		if (i != row->marked && (near_mark || i % stride != 0))
			row->blocks[i] = NULL;
	}
}

const struct text_block *const *line_numerals(struct composer *composer, const struct syringe *syringe,
                                              struct rational at, double size, double zoom)
{
	struct numeral_row row = {.n = syringe_numbered_lines(syringe)};
	row.blocks = arena_alloc(composer->arena, row.n * sizeof(*row.blocks));
	row.pitch = measure_of(syringe->numbered_every) * syringe_geometry_of(syringe).mm_per_ml * zoom;
	row.marked = row.n;
	for (size_t i = 0; i < row.n; i++) {
		bool marked = rational_compare(syringe_numbered_volume(syringe, i), at) == 0;
		struct text_style style = {.size = size, .weight = marked ? WEIGHT_BOLD : WEIGHT_REGULAR};
		row.blocks[i] = composer_set(composer, say_numeral(composer->speaker, syringe, (int64_t)i), style, 0);
		if (marked)
			row.marked = i;
	}
	thin_out(&row);
	return row.blocks;
}

/* ---- syringe and tag ---- */

/* A rod that reaches over the edge is cut; the barrel never is. */
static void fit_column(struct composer *composer, struct syringe_figure *figure, double right)
{
	const struct syringe *syringe = figure->syringe;
	struct syringe_geometry geometry = syringe_geometry_of(syringe);
	double flange = figure->x_zero + geometry.flange + geometry.flange_thickness;
	figure->cut_rod = figure->x_zero + syringe_right(syringe, figure->ring) > right;
	figure->cut_at = right - ROD_CUT;
	if (figure->cut_rod && flange + ROD_CUT > figure->cut_at)
		composer_stop(composer, "syringe-too-long",
		              "the syringe '%s' is longer than the page is wide and cannot be drawn in true size",
		              syringe->id);
}

void line_look_needle(struct line_look *look, const struct product *product, bool thick)
{
	const struct needle *needle = thick ? &product->mixing_needle : &product->giving_needle;
	struct quantity length;
	look->thick = thick;
	if (needle->given && quantity_in(needle->length.quantity, UNIT_MM, &length))
		look->needle_length = measure_of(length.number);
}

static double zero_of(const struct composer *composer, const struct line_look *look)
{
	return composer->left + NEEDLE_CLEAR + look->indent + syringe_left(look->syringe, true, look->needle_length);
}

static double right_of(const struct composer *composer, const struct line_look *look)
{
	return composer->right - look->outdent - (look->pushed ? PUSH_ROOM : 0);
}

bool line_figure_fits(const struct composer *composer, const struct line_look *look)
{
	struct syringe_geometry geometry = syringe_geometry_of(look->syringe);
	return zero_of(composer, look) + geometry.flange + geometry.flange_thickness + 2 * ROD_CUT <=
	       right_of(composer, look);
}

struct syringe_figure line_figure(struct composer *composer, const struct line_look *look, double top)
{
	const struct syringe *syringe = look->syringe;
	struct syringe_figure figure = {.syringe = syringe,
	                                .x_zero = zero_of(composer, look),
	                                .axis = top + line_rise(composer, look),
	                                .ring = look->ring,
	                                .liquid = look->ring,
	                                .line = look->line,
	                                .mark = measure_of(look->at),
	                                .needle = look->thick ? NEEDLE_THICK : NEEDLE_THIN,
	                                .needle_length = look->needle_length,
	                                .tip = look->drops     ? TIP_DROPS
	                                       : look->in_skin ? TIP_SKIN
	                                                       : TIP_FREE,
	                                .pushed = look->pushed,
	                                .push_to = look->line ? measure_of(look->at) : 0,
	                                .bubble = look->bubble,
	                                .n_numerals = syringe_numbered_lines(syringe)};
	/* The ring of what is drawn stands on its line; what is given whole is pushed to the end. */
	figure.push_shown = look->mark.number != NULL && look->ring > figure.push_to;
	struct rational bold = look->line ? look->at : rational_of(-1, 1);
	figure.numerals = line_numerals(composer, syringe, bold, NUMERAL_SIZE, 1);
	fit_column(composer, &figure, right_of(composer, look));
	return figure;
}

static struct point tag_tip(const struct line_look *look, const struct syringe_figure *figure)
{
	/* What is given whole has no line: the ring stops at the end, and over any other place the tag would name a line. */
	double ml = look->line ? measure_of(look->at) : 0;
	return (struct point){syringe_x(look->syringe, figure->x_zero, ml),
	                      figure->axis - outer_half(look->syringe) - TAG_CLEAR};
}

#define TAG_FLANGE 1.0 /* a tag's side to the flange */

/* Where the tag's body ends at the latest: before a flange that is as high as it. */
static double tag_end(const struct composer *composer, const struct line_look *look,
                      const struct syringe_figure *figure)
{
	struct syringe_geometry geometry = syringe_geometry_of(look->syringe);
	double flange = figure->x_zero + geometry.flange - TAG_FLANGE;
	return tag_tip(look, figure).x < flange ? flange : composer->right;
}

struct rect line_tag_area(struct composer *composer, const struct line_look *look, const struct syringe_figure *figure)
{
	return measure_tag_before(composer, look->mark, look->tag_size, tag_tip(look, figure),
	                          tag_end(composer, look, figure));
}

static struct rect syringe_area(struct composer *composer, const struct line_look *look,
                                const struct syringe_figure *figure)
{
	double left =
		figure->x_zero - syringe_left(look->syringe, true, look->needle_length) - (look->drops ? TIP_ROOM : 0);
	double end = figure->x_zero + syringe_right(look->syringe, figure->ring);
	double right = fmin(end, right_of(composer, look)) + (look->pushed ? PUSH_ROOM : 0);
	double above = syringe_geometry_of(look->syringe).flange_height / 2;
	return (struct rect){left, figure->axis - above, right - left, above + line_drop(look)};
}

#define PLUNGER_DROP 1.6 /* rod to its word */

/* Under the rod, between flange and thumb rest, where that is wide enough. */
static void put_plunger_word(struct composer *composer, const struct line_look *look,
                             const struct syringe_figure *figure)
{
	struct syringe_geometry geometry = syringe_geometry_of(look->syringe);
	struct text_style style = composer_style(composer, TYPE_REFERENCE, WEIGHT_REGULAR);
	double from = figure->x_zero + geometry.flange + geometry.flange_thickness;
	double to = figure->x_zero + syringe_right(look->syringe, figure->ring) - geometry.thumb_thickness;
	if (figure->cut_rod)
		to = fmin(to, figure->cut_at);
	if (look->plunger == NULL || composer_text_width(composer, look->plunger, style) + 2 * GAP_1 > to - from)
		return;
	begin_inside(composer);
	put_text(composer, look->plunger, style, ALIGN_CENTER, (from + to) / 2,
	         figure->axis + geometry.rod / 2 + PLUNGER_DROP, 0, COLOUR_INK);
	end_inside(composer);
}

void put_line_figure(struct composer *composer, const struct line_look *look, const struct syringe_figure *figure)
{
	put_mark(composer, (struct placed_mark){.kind = MARK_SYRINGE,
	                                        .area = syringe_area(composer, look, figure),
	                                        .syringe = *figure});
	/* The flange reaches higher than the wall that the tag's point stands over. */
	begin_inside(composer);
	if (look->mark.number != NULL)
		put_tag_before(composer, look->mark, look->tag_size, tag_tip(look, figure),
		               tag_end(composer, look, figure));
	end_inside(composer);
	put_plunger_word(composer, look, figure);
}

/* ---- the magnifier ---- */

#define LETTER_BESIDE 2.0 /* to the tag, to the thumb rest */

void put_line_letter(struct composer *composer, const struct line_look *look, const struct syringe_figure *figure,
                     const char *letter)
{
	double size = letter_size(composer);
	struct rect tag = line_tag_area(composer, look, figure);
	struct rect syringe = syringe_area(composer, look, figure);
	struct point at = {composer->left + look->indent, tag.y + (tag.height - size) / 2};
	/* A wide tag reaches to the edge. */
	if (tag.x < at.x + size + LETTER_BESIDE)
		at = (struct point){fmin(syringe.x + syringe.width + LETTER_BESIDE, composer->right - size),
		                    figure->axis - size / 2};
	put_letter(composer, letter, at);
}

double window_zoom(const struct syringe *syringe)
{
	struct syringe_geometry geometry = syringe_geometry_of(syringe);
	double free = WINDOW_PITCH / (measure_of(syringe->step) * geometry.mm_per_ml);
	double most = fmin(ZOOM_MOST, WINDOW_BARREL / geometry.outer);
	double zoom = fmin(fmax(free, ZOOM_LEAST), most);
	/* The page says the number: tenths. */
	return zoom == most ? floor(zoom * 10) / 10 : round(zoom * 10) / 10;
}

double window_height(const struct syringe *syringe, double zoom)
{
	return WINDOW_AIR + syringe_geometry_of(syringe).outer * zoom + WINDOW_BELOW;
}
