/*
 * line_figure.h - a line to stop on: the syringe in true size, its fill mark, and the magnifier.
 *
 *          [ 0.5 mL ]
 *              \/
 *     --<_|||||||#__|===|
 *         0    0.5
 *            |_|           bracket
 *          [window]
 */
#ifndef PAGE_LINE_FIGURE_H
#define PAGE_LINE_FIGURE_H

#include "page/composer.h"

#define WINDOW_WIDTH 62.0
#define WINDOW_FAN 6.0    /* bracket to frame */
#define WINDOW_RIGHT 88.0 /* kept beside the frame: where it goes in, and the gap before it */

struct line_look {
	const struct syringe *syringe;
	struct rational at; /* mL: where the tag points */
	bool line;          /* a line to hit; else the tag points at what is given whole */
	double ring;        /* mL where the ring stands, with as much liquid before it */
	struct mark_words mark;
	double tag_size;
	bool thick;           /* needle for mixing */
	double needle_length; /* mm; 0: not known */
	double indent;        /* mm that the needle's tip stands further in than usual */
	double outdent;       /* mm that the rod ends before the column's edge */
	bool drops;           /* fall from its tip: into the sink */
	bool in_skin;
	bool pushed;
	bool bubble;         /* stays in its liquid */
	const char *plunger; /* the word for it, under the rod; NULL: it is named elsewhere */
};

/* Its needle's length, and which one it is. */
void line_look_needle(struct line_look *look, const struct product *product, bool thick);

/* What stands before the needle's tip, and behind the thumb rest, takes this much. */
#define TIP_ROOM 9.0
#define PUSH_ROOM 10.0

/* From the tag's top to the axis, and from there to the numerals' end or the flange's, whichever is lower. */
double line_rise(struct composer *composer, const struct line_look *look);
double line_drop(const struct line_look *look);

/*
 * Where it stands when the tag's top is at `top`. A syringe too long for the
 * column is a stop 'syringe-too-long': it is never scaled.
 */
struct syringe_figure line_figure(struct composer *composer, const struct line_look *look, double top);

/* False where the barrel would not end before the edge that `outdent` leaves. */
bool line_figure_fits(const struct composer *composer, const struct line_look *look);

/* What the tag of a figure takes up. */
struct rect line_tag_area(struct composer *composer, const struct line_look *look, const struct syringe_figure *figure);

/* Puts syringe and tag. */
void put_line_figure(struct composer *composer, const struct line_look *look, const struct syringe_figure *figure);

/* The letter of its picture, beside the tag, else behind the thumb rest; NULL puts nothing. */
void put_line_letter(struct composer *composer, const struct line_look *look, const struct syringe_figure *figure,
                     const char *letter);

/* How many times bigger the magnifier shows this scale: the finer its lines, the bigger. */
double window_zoom(const struct syringe *syringe);
double window_height(const struct syringe *syringe, double zoom);

/* The numerals of its scale, the one at `at` bold; those that would touch another are left out. */
const struct text_block *const *line_numerals(struct composer *composer, const struct syringe *syringe,
                                              struct rational at, double size, double zoom);

#endif
