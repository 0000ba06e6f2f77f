/*
 * places.c - where today's injection goes in: which place, and which side on which day.
 *
 * Sides change with every day on which something is injected, over all
 * medicines together: one side a day, the same as in the grid.
 */
#include "handout/build.h"

#include <string.h>

/* Which of the grid's days have a needle, then each one's side in turn: once for a packet, as every sheet asks for it. */
void build_sides(struct build *build)
{
	const struct course *course = build->course;
	enum side turn = SIDE_LEFT;
	build->n_sides = course->has_days ? (size_t)course_day(build, course->last) : 0;
	build->sides = arena_alloc(build->arena, (build->n_sides + 1) * sizeof *build->sides);
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = &course->doses[i];
		if (!dose->open && !dose->as_needed && route_by_needle(dose->item->medicine->route))
			build->sides[course_day(build, dose->date) - 1] = turn;
	}
	for (size_t i = 0; i < build->n_sides; i++) {
		if (build->sides[i] == SIDE_NONE)
			continue;
		build->sides[i] = turn;
		turn = turn == SIDE_LEFT ? SIDE_RIGHT : SIDE_LEFT;
	}
}

enum side side_of_day(const struct build *build, struct civil_date date)
{
	int day = course_day(build, date);
	return day < 1 || (size_t)day > build->n_sides ? SIDE_NONE : build->sides[day - 1];
}

/* ---- places ---- */

static const char *place_word(struct build *build, const char *site)
{
	const char *key = arena_printf(build->arena, "place.%s", site);
	return say0(build->speaker, can_say(build->speaker, key) ? key : "place.unknown");
}

/* "belly", "belly or thigh": where a medicine goes in. */
static const char *places_of(struct build *build, const struct medicine *medicine)
{
	const char *places = NULL;
	for (size_t i = 0; i < medicine->n_sites; i++) {
		const char *word = place_word(build, medicine->sites[i]);
		places = places == NULL ? word : say2(build->speaker, "place.or", "first", places, "last", word);
	}
	return places == NULL ? say0(build->speaker, "place.unknown") : places;
}

/* ---- a dose at two places ---- */

bool dose_at_two_places(const struct dose *dose)
{
	return dose->n_draws == 2 && dose->draws[0].measure == MEASURE_SYRINGE &&
	       dose->draws[1].measure == MEASURE_SYRINGE && dose->draws[0].mark.syringe != NULL &&
	       dose->draws[1].mark.syringe != NULL;
}

bool dose_shares_container(const struct dose *dose)
{
	if (!dose_at_two_places(dose) || dose->draws[0].n_containers == 0 || dose->draws[1].n_containers == 0)
		return false;
	const struct container_use *first = &dose->draws[0].containers[0];
	const struct container_use *second = &dose->draws[1].containers[0];
	return first->product == second->product && first->number == second->number;
}

struct quantity variant_ordered(const struct variant *variant)
{
	return dose_at_two_places(variant->dose) ? variant->dose->ordered : variant->draw->dose;
}

const char *variant_amount(struct speaker *speaker, const struct variant *variant)
{
	const struct dose *dose = variant->dose;
	const char *part = say_amount(speaker, variant->draw->dose);
	if (!dose_at_two_places(dose))
		return part;
	bool alike = quantity_same(dose->draws[0].dose, dose->draws[1].dose);
	return say2(speaker, alike ? "amount.in_two" : "amount.in_two_unlike", "ordered",
	            say_amount(speaker, dose->ordered), "part", part);
}

static struct place_part place_part_of(struct build *build, const struct draw *draw, const char *name, const char *side)
{
	struct speaker *speaker = build->speaker;
	struct mark_words mark = say_mark(speaker, draw);
	return (struct place_part){
		.name = say0(speaker, name),
		.side = say0(speaker, side),
		.alt = draw->mark.all ? say1(speaker, "line.alt_all", "amount", say_amount(speaker, draw->dose))
	                              : say2(speaker, "line.alt_draw", "mark", mark_words_plain(build->arena, mark),
	                                     "line", say_line_place(speaker, &draw->mark)),
		.draw = draw,
		.mark = mark,
	};
}

/* What is mixed or snapped open is that once, and not again for the second injection. */
static const char *twice_words(struct build *build, const char *part, const struct variant *variant)
{
	const char *how =
		dose_shares_container(variant->dose) ? container_kind_name(variant->draw->product->container) : "apart";
	const char *own = arena_printf(build->arena, "twice.%s.%s", part, how);
	const char *key = can_say(build->speaker, own) ? own : arena_printf(build->arena, "twice.%s", part);
	return say1(build->speaker, key, "amount", say_amount(build->speaker, variant->dose->ordered));
}

const struct two_places *two_places_of(struct build *build, const struct variant *variant)
{
	const struct dose *dose = variant->dose;
	struct two_places *twice = arena_alloc(build->arena, sizeof *twice);
	if (!dose_at_two_places(dose))
		return NULL;
	twice->heading = twice_words(build, "heading", variant);
	twice->text = twice_words(build, "text", variant);
	twice->parts[0] = place_part_of(build, &dose->draws[0], "twice.first", "twice.first_side");
	twice->parts[1] = place_part_of(build, &dose->draws[1], "twice.second", "twice.second_side");
	return twice;
}

/* ---- sides by day ---- */

/* Whose days: those of a variant, of all numbers of one pen's sheet, or of a dose that several pens serve. */
struct served {
	const struct variant *variant;
	const struct dose *by_pens; /* NULL: the variant's */
};

static bool serves(const struct build *build, const struct served *served, const struct dose *dose)
{
	const struct variant *variant = served->variant;
	if (served->by_pens != NULL)
		return dose == served->by_pens || pens_alike(served->by_pens, dose);
	if (dose->item != variant->item)
		return false;
	if (variant->draw->measure == MEASURE_DIAL)
		return dose->n_draws == 1 && variant_of(build, dose, 0)->sheet == variant->sheet;
	for (size_t i = 0; i < dose->n_draws; i++)
		if (variant_of(build, dose, i) == variant)
			return true;
	return false;
}

/* "days 1, 3, 5"; NULL where none of its days has that side. */
static const char *days_of_side(struct build *build, const struct served *served, enum side side)
{
	struct speaker *speaker = build->speaker;
	struct day_list list = {0};
	int last = 0;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (dose->open || !serves(build, served, dose) || side_of_day(build, dose->date) != side)
			continue;
		int day = course_day(build, dose->date);
		if (day != last)
			add_days(build, &list, day, day);
		last = day;
	}
	return days_words(build, speaker, &list);
}

/* "left: days 1, 3, 5"; beside a body, whose left could be that of somebody who stands opposite, "your left". */
static const char *side_words(struct build *build, const struct served *served, enum side side, bool body)
{
	static const char *const keys[2][2] = {{"place.left", "place.right"}, {"place.your_left", "place.your_right"}};
	const char *days = days_of_side(build, served, side);
	return days == NULL ? NULL : say1(build->speaker, keys[body][side == SIDE_RIGHT], "days", days);
}

static bool is_belly(const char *site)
{
	return strcmp(site, "abdomen") == 0 || strcmp(site, "belly") == 0;
}

/* The body is drawn from the front: only where all places are on it does it show where to inject. */
static void fill_body(const struct medicine *medicine, struct todays_place *place)
{
	bool others = false;
	for (size_t i = 0; i < medicine->n_sites; i++) {
		const char *site = medicine->sites[i];
		bool belly = is_belly(site);
		bool thigh = strcmp(site, "thigh") == 0;
		place->belly = place->belly || belly;
		place->thigh = place->thigh || thigh;
		others = others || (!belly && !thigh);
	}
	if (!others)
		return;
	place->belly = false;
	place->thigh = false;
}

/* What is said of the bodies, for whom sees them and for whom hears of them. */
static void say_bodies(struct build *build, const struct item *item, struct todays_place *place)
{
	struct speaker *speaker = build->speaker;
	const char *places = places_of(build, item->medicine);
	const char *spot =
		item->medicine->n_sites > 1 ? say1(speaker, "place.one_spot", "where", place->text) : place->text;
	place->bodies = say1(speaker, "place.mirror", "where", spot);
	place->body_left = say0(speaker, "place.letter_left");
	place->body_right = say0(speaker, "place.letter_right");
	place->left_alt = say1(speaker, "place.alt_left", "place", places);
	place->right_alt = say1(speaker, "place.alt_right", "place", places);
}

static struct todays_place *place_of_served(struct build *build, const struct item *item, const struct served *served,
                                            bool first)
{
	const char *key = first ? "place.first" : "place.today";
	struct todays_place *place = arena_alloc(build->arena, sizeof *place);
	place->hip = item->medicine->route == ROUTE_INTRAMUSCULAR;
	fill_body(item->medicine, place);
	bool body = place->belly || place->thigh;
	place->left = side_words(build, served, SIDE_LEFT, body);
	place->right = side_words(build, served, SIDE_RIGHT, body);
	place->text = say1(build->speaker, key, "place", places_of(build, item->medicine));
	if (body)
		say_bodies(build, item, place);
	return place->left == NULL && place->right == NULL ? NULL : place;
}

/* Its bodies are one picture of the sheet; a helper's steps have pictures of their own. */
static void give_letter(struct build *build, struct todays_place *place, size_t picture)
{
	if (place == NULL || place->bodies == NULL || place->hip)
		return;
	place->letter = picture_letter(build, picture);
	place->left_alt = picture_alt(build, place->letter, NULL, place->left_alt);
	place->right_alt = picture_alt(build, place->letter, NULL, place->right_alt);
}

const struct todays_place *todays_place_of(struct build *build, const struct variant *variant)
{
	struct served served = {variant, NULL};
	if (!given_by_needle(variant->draw, variant->item))
		return NULL;
	struct todays_place *place = place_of_served(build, variant->item, &served, dose_at_two_places(variant->dose));
	give_letter(build, place, place_picture(build, variant));
	return place;
}

const struct todays_place *todays_place_of_pens(struct build *build, const struct dose *dose)
{
	struct served served = {NULL, dose};
	if (!route_by_needle(dose->item->medicine->route))
		return NULL;
	struct todays_place *place = place_of_served(build, dose->item, &served, false);
	give_letter(build, place, dose->n_draws);
	return place;
}

const char *spot_words(struct build *build, const struct medicine *medicine)
{
	for (size_t i = 0; i < medicine->n_sites; i++)
		if (is_belly(medicine->sites[i]))
			return say0(build->speaker, "place.spot_belly");
	return say0(build->speaker, "place.spot");
}

/*
 * Bodies say it all, on the sheet that has them; days that are not known yet
 * have no side: the step says to change it.
 */
const char *place_in_step(struct build *build, const struct variant *variant, enum step_side side)
{
	bool elsewhere = side == STEP_SECOND_DAY || side == STEP_HELPER;
	const struct dose *dose = variant->dose;
	bool pens = variant->draw->measure == MEASURE_DIAL && dose->n_draws > 1;
	const struct todays_place *place = pens ? todays_place_of_pens(build, dose) : todays_place_of(build, variant);
	if (place != NULL && place->letter != NULL && !elsewhere)
		return say1(build->speaker, "place.see", "letter", place->letter);
	const char *places = places_of(build, variant->item->medicine);
	return dose->open ? say1(build->speaker, "place.undated", "place", places) : places;
}

static bool asks(struct build *build, const struct todays_place *place, const struct step *steps, size_t n)
{
	const char *see = say1(build->speaker, "place.see", "letter", place->letter);
	for (size_t i = 0; i < n; i++)
		if (strstr(steps[i].text, see) != NULL)
			return true;
	return false;
}

const struct todays_place *place_as_asked(struct build *build, const struct medicine_sheet *sheet,
                                          const struct todays_place *of)
{
	struct todays_place *place = arena_alloc(build->arena, sizeof *place);
	if (of == NULL || of->letter == NULL)
		return of;
	*place = *of;
	if (asks(build, of, sheet->front, sheet->n_front))
		place->asked_on = ASKED_ON_FRONT;
	else if (sheet->mix != NULL && asks(build, of, sheet->mix->steps, sheet->mix->n_steps))
		place->asked_on = ASKED_ON_MIX;
	return place;
}
