/*
 * place.c - where it goes in, and on which side on which days.
 *
 *     (C) Where: belly, one spot, as in a mirror
 *     L|    |R  your left:          L|    |R  your right:
 *      |# . |   days 1, 3, 5         | . #|   days 2, 4, 6
 *
 * Across the page its words stand before the bodies, in a frame; beside a
 * window above them. Where a picture of the body's front cannot show the place
 * the sides have their signs alone.
 */
#include "page/medicine.h"

#include "page/letter.h"

#include <math.h>

#define PLACE_PAD 2.8
#define PLACE_SIDE 8.0    /* width of a side's sign */
#define PLACE_BESIDE 2.6  /* sign to words */
#define PLACE_BETWEEN 5.0 /* words to the next sign */
#define SIDES_BETWEEN 2.4 /* the same where the words stand above */
#define PLACE_TEXT 70.0   /* the most that the place takes of the line */
#define BELLY 0.62        /* height of its sign */
#define BODY_WIDTH 17.0   /* of the body with the places */
#define BODY_TEXT 48.0    /* the most that the place takes of the line beside bodies */
#define LETTER_BESIDE 2.4

static struct text_style body(const struct composer *composer, enum text_weight weight)
{
	return medicine_style(composer, TYPE_BODY, weight);
}

/* ---- a body, in normal and in large print ---- */

/* Parts of its width: the outline leaves room for a letter on both sides of the waist. */
#define WAIST_LETTER 0.075
#define WAIST_TOP 0.05

/* At the edge of the body's area, or a little in; a wide letter not outside it. */
static void put_waist_letter(struct composer *composer, const char *letter, const struct rect *area, bool right)
{
	struct text_style style = composer_style(composer, TYPE_BODY, WEIGHT_BOLD);
	double half = composer_text_width(composer, letter, style) / 2;
	double in = fmax(WAIST_LETTER * area->width, half);
	put_text(composer, letter, style, ALIGN_CENTER, right ? area->x + area->width - in : area->x + in,
	         area->y + WAIST_TOP * area->width, 0, COLOUR_INK);
}

void put_body(struct composer *composer, const struct todays_place *place, enum side side, struct rect area)
{
	put_mark(composer, (struct placed_mark){
				   .kind = MARK_BODY, .area = area, .body = {area, side, place->belly, place->thigh}});
	begin_inside(composer);
	put_waist_letter(composer, place->body_left, &area, false);
	put_waist_letter(composer, place->body_right, &area, true);
	end_inside(composer);
}

/* ---- what stands where ---- */

struct columns {
	bool above;        /* the words stand above the sides, else before them */
	const char *words; /* where */
	double letter;     /* width of the letter with what is left beside it */
	double text;       /* width of the words */
	double body;       /* width of the body with what is left beside it; 0: none is shown */
	bool under;        /* each side's words stand under its body, else beside it */
	double pitch;      /* from side to side */
	double side;       /* width of each side's words */
	size_t n;          /* sides that are said */
};

static double widest_side_word(struct composer *composer, const struct todays_place *place)
{
	const char *sides[] = {place->left, place->right};
	double width = 0;
	for (size_t i = 0; i < 2; i++)
		if (sides[i] != NULL)
			width = fmax(width, composer_widest_word(composer, sides[i], body(composer, WEIGHT_REGULAR)));
	return width;
}

static struct columns columns_of(struct composer *composer, const struct todays_place *place, double width, bool above)
{
	struct columns columns = {.above = above,
	                          .n = (place->left != NULL ? 1u : 0u) + (place->right != NULL ? 1u : 0u)};
	bool bodies = place->bodies != NULL && composer->closeness == ROOMY;
	columns.words = bodies ? place->bodies : place->text;
	columns.letter = place->letter == NULL ? 0 : letter_size(composer) + LETTER_BESIDE;
	columns.body = bodies ? BODY_WIDTH + PLACE_BESIDE : 0;
	double room = width - columns.letter;
	double words = composer_text_width(composer, columns.words, body(composer, WEIGHT_BOLD));
	columns.text = above ? room : fmin(words, bodies ? BODY_TEXT : PLACE_TEXT);
	columns.pitch = above ? (width + SIDES_BETWEEN) / (double)columns.n : (room - columns.text) / (double)columns.n;
	double side = columns.pitch - (above ? SIDES_BETWEEN : PLACE_BETWEEN);
	double beside = side - (bodies ? columns.body : PLACE_SIDE + PLACE_BESIDE);
	columns.under = bodies && above && widest_side_word(composer, place) > beside;
	columns.side = columns.under ? side : beside;
	return columns;
}

static double words_height(struct composer *composer, const struct columns *columns)
{
	return composer_text_height(composer, columns->words, body(composer, WEIGHT_BOLD), columns->text);
}

static double sign_height(const struct todays_place *place)
{
	return place->hip ? PLACE_SIDE : PLACE_SIDE * BELLY;
}

/* Beside a body the sign stands above its words. */
static double side_height(struct composer *composer, const struct todays_place *place, const struct columns *columns,
                          const char *side)
{
	double words = composer_text_height(composer, side, body(composer, WEIGHT_REGULAR), columns->side);
	if (columns->body == 0)
		return fmax(sign_height(place), words);
	if (columns->under)
		return BODY_WIDTH * BODY_HIGH + GAP_2 + words;
	return fmax(BODY_WIDTH * BODY_HIGH, sign_height(place) + GAP_2 + words);
}

static double sides_height(struct composer *composer, const struct todays_place *place, const struct columns *columns)
{
	const char *sides[] = {place->left, place->right};
	double height = 0;
	for (size_t i = 0; i < 2; i++)
		if (sides[i] != NULL)
			height = fmax(height, side_height(composer, place, columns, sides[i]));
	return height;
}

static double height_of(struct composer *composer, const struct todays_place *place, const struct columns *columns)
{
	double words = words_height(composer, columns);
	double sides = sides_height(composer, place, columns);
	return columns->above ? words + GAP_2 + sides : fmax(words, sides);
}

/* ---- putting ---- */

static void put_sign(struct composer *composer, const struct todays_place *place, enum side side, double x,
                     double middle)
{
	struct rect sign = {x, middle - sign_height(place) / 2, PLACE_SIDE, sign_height(place)};
	begin_artifact(composer);
	put_mark(composer, (struct placed_mark){.kind = MARK_SIDE,
	                                        .area = sign,
	                                        .side = {{sign.x, sign.y}, PLACE_SIDE, side, place->hip}});
	end_group(composer);
}

static void put_side(struct composer *composer, const struct todays_place *place, const struct columns *columns,
                     enum side side, double x, double y)
{
	const char *words = side == SIDE_LEFT ? place->left : place->right;
	struct text_style style = body(composer, WEIGHT_REGULAR);
	double text = composer_text_height(composer, words, style, columns->side);
	double middle = y + sides_height(composer, place, columns) / 2;
	struct point at = {x + PLACE_SIDE + PLACE_BESIDE, middle - text / 2};
	double sign_middle = middle;
	if (columns->body > 0) {
		struct rect area = {x, middle - BODY_WIDTH * BODY_HIGH / 2, BODY_WIDTH, BODY_WIDTH * BODY_HIGH};
		if (columns->under)
			area.y = y;
		begin_figure(composer, side == SIDE_LEFT ? place->left_alt : place->right_alt);
		put_body(composer, place, side, area);
		end_group(composer);
		at = (struct point){x + columns->body, middle - (text - sign_height(place) - GAP_2) / 2};
		sign_middle = at.y - GAP_2 - sign_height(place) / 2;
		if (columns->under) {
			at = (struct point){x, area.y + area.height + GAP_2};
			sign_middle = area.y + area.height / 2;
		}
		x += columns->body;
	}
	put_sign(composer, place, side, x, sign_middle);
	put_paragraph(composer, words, style, at.x, at.y, columns->side);
}

static void put_words(struct composer *composer, const struct todays_place *place, const struct columns *columns,
                      double x, double y)
{
	double cap = text_cap_height(body(composer, WEIGHT_BOLD));
	double first = columns->above ? y : y + (words_height(composer, columns) - cap) / 2;
	begin_artifact(composer);
	put_letter(composer, place->letter, (struct point){x, first + (cap - letter_size(composer)) / 2});
	end_group(composer);
	put_heading(composer, ROLE_H2, columns->words, body(composer, WEIGHT_BOLD), x + columns->letter, y,
	            columns->text);
}

static void put_columns(struct composer *composer, const struct todays_place *place, const struct columns *columns,
                        double x, double y)
{
	double height = height_of(composer, place, columns);
	double words = words_height(composer, columns);
	double sides_y = y + (columns->above ? height - sides_height(composer, place, columns)
	                                     : (height - sides_height(composer, place, columns)) / 2);
	put_words(composer, place, columns, x, columns->above ? y : y + (height - words) / 2);
	if (!columns->above)
		x += columns->letter + columns->text + PLACE_BETWEEN;
	const enum side sides[] = {SIDE_LEFT, SIDE_RIGHT};
	for (size_t i = 0; i < 2; i++) {
		if ((sides[i] == SIDE_LEFT ? place->left : place->right) == NULL)
			continue;
		put_side(composer, place, columns, sides[i], x, sides_y);
		x += columns->pitch;
	}
}

double place_height(struct composer *composer, const struct medicine_sheet *sheet)
{
	if (sheet->place == NULL)
		return 0;
	struct columns columns = columns_of(composer, sheet->place, LIVE_WIDTH - 2 * PLACE_PAD, false);
	return 2 * PLACE_PAD + height_of(composer, sheet->place, &columns);
}

void put_place(struct composer *composer, const struct medicine_sheet *sheet, double y)
{
	if (sheet->place == NULL)
		return;
	struct columns columns = columns_of(composer, sheet->place, LIVE_WIDTH - 2 * PLACE_PAD, false);
	double half = LINE_OUTLINE / 2;
	begin_artifact(composer);
	put_frame(composer,
	          (struct rect){composer->left + half, y + half, LIVE_WIDTH - 2 * half,
	                        place_height(composer, sheet) - 2 * half},
	          LINE_OUTLINE);
	end_group(composer);
	put_columns(composer, sheet->place, &columns, composer->left + PLACE_PAD, y + PLACE_PAD);
}

double place_beside_height(struct composer *composer, const struct medicine_sheet *sheet, double width)
{
	struct columns columns = columns_of(composer, sheet->place, width, true);
	return height_of(composer, sheet->place, &columns);
}

void put_place_beside(struct composer *composer, const struct medicine_sheet *sheet, struct point at, double width)
{
	struct columns columns = columns_of(composer, sheet->place, width, true);
	put_columns(composer, sheet->place, &columns, at.x, at.y);
}

bool place_is_asked_on(const struct medicine_sheet *sheet, enum asked_on side)
{
	return sheet->place != NULL && sheet->place->asked_on == side;
}
