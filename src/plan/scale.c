/*
 * scale.c - which lines a syringe has, and which syringe has a line.
 */
#include "plan/making.h"

#include <assert.h>

static const struct rational zero = {0, 1};

/* A line is less than a step from what is on the scale, so its number fits wherever the scale's own do. */
static struct rational line_at_or_below(struct rational volume, struct rational step)
{
	struct rational line = zero;
	bool fits = rational_round_to(volume, step, &line);
	if (rational_compare(line, volume) > 0)
		fits = rational_subtract(line, step, &line) && fits;
	assert(fits);
	(void)fits;
	return line;
}

struct neighbours syringe_neighbours(const struct syringe *syringe, struct rational volume)
{
	struct rational top = line_at_or_below(syringe->graduated, syringe->step);
	struct neighbours next = {.above = zero};
	assert(volume.numerator >= 0);
	if (rational_compare(volume, top) > 0) {
		next.above_scale = true;
		next.below = top;
		return next;
	}
	next.below = next.above = line_at_or_below(volume, syringe->step);
	next.on_line = rational_compare(next.below, volume) == 0;
	if (!next.on_line) {
		bool fits = rational_add(next.below, syringe->step, &next.above);
		assert(fits);
		(void)fits;
	}
	return next;
}

const char *syringe_line_print(struct arena *arena, const struct syringe *syringe, struct rational volume,
                               enum decimal_mark mark)
{
	struct rational number;
	if (!syringe->unit_scale)
		return quantity_plain(arena, (struct quantity){volume, UNIT_ML}, mark);
	if (!syringe_scale_number(syringe, volume, &number))
		return "a line";
	return arena_printf(arena, "line %s", number_print(arena, number, mark));
}

/* What the program may pick by itself: a number on its scale is a volume, and it takes any needle. */
static bool is_plain(const struct syringe *syringe)
{
	return !syringe->unit_scale && !syringe->fixed_needle;
}

/* A tenth of its capacity stays free, for air to rise and be pushed out. */
static bool has_room(const struct syringe *syringe, struct rational volume)
{
	return rational_compare_scaled(volume, 10, syringe->capacity, 9) <= 0 &&
	       rational_compare(volume, syringe->graduated) <= 0;
}

/* The smallest plain one with room; `test` NULL: any. The first of the stock where two are equal. */
static const struct syringe *smallest(const struct syringe *const *stock, size_t n_stock, struct rational volume,
                                      bool (*test)(const struct syringe *, struct rational))
{
	const struct syringe *best = NULL;
	for (size_t i = 0; i < n_stock; i++) {
		const struct syringe *syringe = stock[i];
		if (!is_plain(syringe) || !has_room(syringe, volume) || (test && !test(syringe, volume)))
			continue;
		if (!best || rational_compare(syringe->capacity, best->capacity) < 0)
			best = syringe;
	}
	return best;
}

const struct syringe *syringe_pick(const struct syringe *const *stock, size_t n_stock, struct rational volume)
{
	return smallest(stock, n_stock, volume, syringe_has_line);
}

const struct syringe *syringe_with_room(const struct syringe *const *stock, size_t n_stock, struct rational volume)
{
	return smallest(stock, n_stock, volume, NULL);
}

/* The most that one injection may be: what the named syringe holds, or the largest of the stock with room for air. */
static struct rational most_at_once(const struct draw_request *request)
{
	struct rational most = zero;
	const struct syringe *named = request_syringe(request);
	if (named)
		return named->graduated;
	for (size_t i = 0; i < request->n_stock; i++) {
		const struct syringe *syringe = request->stock[i];
		struct rational room;
		if (!is_plain(syringe) || !rational_multiply(syringe->capacity, rational_of(9, 10), &room))
			continue;
		if (rational_compare(room, syringe->graduated) > 0)
			room = syringe->graduated;
		if (rational_compare(room, most) > 0)
			most = room;
	}
	return most;
}

int64_t draw_injections_needed(const struct draw_request *request, struct rational volume)
{
	struct rational injections;
	if (!rational_divide(volume, most_at_once(request), &injections))
		return 0;
	return rational_ceiling(injections);
}
