/*
 * What must hold for every draw, on many random ones. The expected figures come from GMP's rationals and from slow scans
 * of a scale line by line, which share no code with the program.
 */
#include "plan/draw.h"

#include "support/cases.h"
#include "support/draws.h"

#include <gmp.h>
#include <string.h>

enum { ROUNDS = 20000 };

/* ---- random records and orders ---- */

static int64_t between(uint64_t *seed, int64_t least, int64_t most)
{
	return least + (int64_t)(next_random(seed) % (uint64_t)(most - least + 1));
}

/* Up to six digits, with up to three decimals; never zero. */
static struct rational any_decimal(uint64_t *seed)
{
	static const int64_t scales[] = {1, 2, 4, 10, 100, 1000};
	return rational_of(between(seed, 1, 5000), scales[between(seed, 0, 5)]);
}

static struct stated_quantity any_amount(uint64_t *seed, enum unit unit)
{
	return (struct stated_quantity){
		.given = true, .quantity = {any_decimal(seed), unit}, .place = formulary_at(11)};
}

static struct rational any_volume(uint64_t *seed)
{
	static const int64_t scales[] = {1, 2, 5, 10, 20, 100};
	return rational_of(between(seed, 1, 60), scales[between(seed, 0, 5)]);
}

static struct stated_quantity any_ml(uint64_t *seed)
{
	return (struct stated_quantity){
		.given = true, .quantity = {any_volume(seed), UNIT_ML}, .place = formulary_at(12)};
}

static enum unit any_mass(uint64_t *seed)
{
	static const enum unit units[] = {UNIT_MG, UNIT_MCG, UNIT_G};
	return units[between(seed, 0, 2)];
}

/* A solution, or up to four powders in one liquid with or without displacement. */
static struct product any_product(uint64_t *seed)
{
	struct product product = {.id = "any", .powders_per_diluent = 4, .place = formulary_at(10)};
	product.strength = any_amount(seed, any_mass(seed));
	if (next_random(seed) % 2) {
		product.container = CONTAINER_SOLUTION_VIAL;
		product.volume = any_ml(seed);
		return product;
	}
	product.container = CONTAINER_POWDER_VIAL;
	product.diluent = (struct liquid){.given = true, .use = any_ml(seed)};
	if (next_random(seed) % 2)
		product.displacement = any_ml(seed);
	return product;
}

/* A part of what there is: so many 40ths, which often have a line, or any amount. */
static struct quantity any_dose(uint64_t *seed, const struct product *product)
{
	struct quantity dose = {any_decimal(seed), any_mass(seed)};
	if (next_random(seed) % 4)
		assert_true(
			quantity_multiply(product->strength.quantity, rational_of(between(seed, 1, 40), 40), &dose));
	return dose;
}

static const struct syringe *any_syringe(uint64_t *seed)
{
	static const char *const ids[] = {"T1",      "S2",      "S3",       "S5",   "S10",  "U100-1-2",
	                                  "U100-05", "U100-03", "U100-03h", "U500", "U40-1"};
	return hand_syringe(ids[between(seed, 0, sizeof ids / sizeof *ids - 1)]);
}

static struct draw_request any_request(struct arena *arena, uint64_t *seed, const struct product *product)
{
	struct draw_request request = request_of(arena, product, "1 mg");
	request.dose = any_dose(seed, product);
	if (product->container == CONTAINER_POWDER_VIAL)
		request.containers = between(seed, 1, 4);
	if (next_random(seed) % 2)
		request.syringe = any_syringe(seed);
	return request;
}

/* ---- GMP's view ---- */

static void set(mpq_t number, struct rational rational)
{
	mpq_set_si(number, rational.numerator, (unsigned long)rational.denominator);
	mpq_canonicalize(number);
}

/* A mass in mcg. */
static void set_mass(mpq_t number, struct quantity quantity)
{
	mpq_t factor;
	mpq_init(factor);
	long mcg = quantity.unit == UNIT_G ? 1000000 : quantity.unit == UNIT_MG ? 1000 : 1;
	set(number, quantity.number);
	mpq_set_si(factor, mcg, 1);
	mpq_mul(number, number, factor);
	mpq_clear(factor);
}

/* dose / (strength x containers / (liquid + displacement x containers)), in mL. */
static void set_volume(mpq_t volume, const struct draw_request *request)
{
	const struct product *product = request->product;
	mpq_t part, amount, count;
	mpq_inits(part, amount, count, NULL);
	mpq_set_si(count, request->containers, 1);
	set(volume, product->container == CONTAINER_POWDER_VIAL ? product->diluent.use.quantity.number
	                                                        : product->volume.quantity.number);
	if (product->displacement.given) {
		set(part, product->displacement.quantity.number);
		mpq_mul(part, part, count);
		mpq_add(volume, volume, part);
	}
	set_mass(amount, product->strength.quantity);
	mpq_mul(amount, amount, count);
	set_mass(part, request->dose);
	mpq_mul(volume, volume, part);
	mpq_div(volume, volume, amount);
	mpq_clears(part, amount, count, NULL);
}

static bool same(mpq_t expected, struct rational actual)
{
	mpq_t number;
	mpq_init(number);
	set(number, actual);
	bool equal = mpq_equal(expected, number) != 0;
	mpq_clear(number);
	return equal;
}

/* ---- slow scans ---- */

/* Line `n` of a scale, by adding steps from zero. */
struct scan {
	const struct syringe *syringe;
	struct rational at;
};

static bool next_line(struct scan *scan)
{
	return rational_add(scan->at, scan->syringe->step, &scan->at) &&
	       rational_compare(scan->at, scan->syringe->graduated) <= 0;
}

static bool scan_finds(const struct syringe *syringe, struct rational volume)
{
	struct scan scan = {syringe, rational_of(0, 1)};
	while (next_line(&scan))
		if (scan.at.numerator == volume.numerator && scan.at.denominator == volume.denominator)
			return true;
	return false;
}

/* Twice as slow: all that would do, then the one that no other beats. */
static const struct syringe *scan_pick(const struct syringe *const *stock, size_t n, struct rational volume)
{
	for (size_t i = 0; i < n; i++) {
		struct rational left, tenth;
		bool best = stock[i]->id != NULL;
		assert_true(rational_subtract(stock[i]->capacity, volume, &left));
		assert_true(rational_divide(stock[i]->capacity, rational_of(10, 1), &tenth));
		if (stock[i]->unit_scale || stock[i]->fixed_needle || rational_compare(left, tenth) < 0 ||
		    !scan_finds(stock[i], volume))
			continue;
		for (size_t j = 0; j < n; j++) {
			int smaller = rational_compare(stock[j]->capacity, stock[i]->capacity);
			if (j == i || smaller > 0 || (smaller == 0 && j > i))
				continue;
			const struct syringe *const alone[] = {stock[j]};
			best = best && scan_pick(alone, 1, volume) == NULL;
		}
		if (best)
			return stock[i];
	}
	return NULL;
}

/* ---- laws ---- */

static void volume_is_dose_over_concentration(void **state)
{
	struct test_case *test = case_of(state);
	uint64_t seed = 1;
	mpq_t expected;
	mpq_init(expected);
	int made = 0;
	for (int i = 0; i < ROUNDS; i++) {
		struct product product = any_product(&seed);
		struct draw_request request = any_request(test->arena, &seed, &product);
		struct findings findings = findings_in(test->arena);
		struct draw draw;
		struct quantity back;
		made += draw_make(test->arena, &request, &draw, &findings);
		set_volume(expected, &request);
		if (!same(expected, draw.volume))
			fail_msg("round %d: %s", i, ratio_of(test->arena, draw.volume));
		/* And back: volume x concentration is the dose, exactly. */
		assert_true(quantity_multiply(draw.concentration, draw.volume, &back));
		assert_true(quantity_same(back, request.dose));
		arena_reset(test->arena);
	}
	mpq_clear(expected);
	assert_true(made > ROUNDS / 20 && made < ROUNDS);
}

static void a_mark_is_a_line_that_carries_the_dose(void **state)
{
	struct test_case *test = case_of(state);
	uint64_t seed = 2;
	int made = 0, refused = 0;
	for (int i = 0; i < ROUNDS; i++) {
		struct product product = any_product(&seed);
		struct draw_request request = any_request(test->arena, &seed, &product);
		struct findings findings = findings_in(test->arena);
		struct draw draw;
		struct rational on_scale;
		if (!draw_make(test->arena, &request, &draw, &findings)) {
			assert_true(findings_stop(&findings));
			assert_true(rational_is_zero(draw.mark.at));
			refused++;
		} else {
			assert_false(findings_stop(&findings));
			assert_true(scan_finds(draw.mark.syringe, draw.mark.at));
			assert_int_equal(rational_compare(draw.mark.at, draw.volume), 0);
			assert_true(rational_multiply(draw.mark.at, draw.mark.syringe->units_per_ml, &on_scale));
			assert_int_equal(rational_compare(draw.mark.number, on_scale), 0);
			assert_true(quantity_same(draw.given, draw.dose));
			assert_int_equal(draw.given.unit, request.dose.unit);
			made++;
		}
		arena_reset(test->arena);
	}
	assert_true(made > ROUNDS / 20 && refused > ROUNDS / 20);
}

/* Refused only where there is a reason: what would have a line is drawn. */
static void nothing_is_refused_without_need(void **state)
{
	struct test_case *test = case_of(state);
	uint64_t seed = 3;
	int refused = 0;
	for (int i = 0; i < ROUNDS; i++) {
		struct product product = any_product(&seed);
		struct draw_request request = any_request(test->arena, &seed, &product);
		struct findings findings = findings_in(test->arena);
		struct draw draw;
		struct quantity all;
		if (!draw_make(test->arena, &request, &draw, &findings)) {
			assert_true(
				quantity_multiply(product.strength.quantity, rational_of(request.containers, 1), &all));
			bool has_line = request.syringe ? scan_finds(request.syringe, draw.volume)
			                                : scan_pick(hand_stock, N_HAND_STOCK, draw.volume) != NULL;
			assert_true(!has_line || quantity_compare(request.dose, all) > 0);
			refused++;
		}
		arena_reset(test->arena);
	}
	assert_true(refused > ROUNDS / 20);
}

/* More of the same is never drawn to a lower line. */
static void more_is_more(void **state)
{
	struct test_case *test = case_of(state);
	uint64_t seed = 4;
	int both = 0;
	for (int i = 0; i < ROUNDS; i++) {
		struct product product = any_product(&seed);
		struct draw_request less = any_request(test->arena, &seed, &product);
		less.syringe = any_syringe(&seed);
		less.rounding = (struct rounding){.given = true, .most = rational_of(1, 20)};
		struct draw_request more = less;
		more.dose = any_dose(&seed, &product);
		if (quantity_compare(more.dose, less.dose) < 0) {
			struct quantity other = more.dose;
			more.dose = less.dose;
			less.dose = other;
		}
		struct findings findings = findings_in(test->arena);
		struct draw a, b;
		bool made = draw_make(test->arena, &less, &a, &findings);
		if (draw_make(test->arena, &more, &b, &findings) && made) {
			assert_true(rational_compare(a.mark.at, b.mark.at) <= 0);
			assert_true(rational_compare(a.mark.number, b.mark.number) <= 0);
			both++;
		}
		assert_true(rational_compare(a.volume, b.volume) <= 0);
		arena_reset(test->arena);
	}
	assert_true(both > ROUNDS / 50);
}

static void the_pick_agrees_with_a_scan(void **state)
{
	(void)state;
	uint64_t seed = 5;
	int picked = 0, none = 0;
	for (int i = 0; i < ROUNDS; i++) {
		struct syringe made[6];
		const struct syringe *stock[6];
		for (size_t j = 0; j < 6; j++) {
			made[j] = *any_syringe(&seed);
			if (next_random(&seed) % 4 == 0)
				made[j].fixed_needle = !made[j].fixed_needle;
			if (next_random(&seed) % 4 == 0)
				made[j].graduated = rational_of(between(&seed, 1, 12), 2);
			stock[j] = &made[j];
		}
		struct rational volume = rational_of(between(&seed, 1, 500), next_random(&seed) % 2 ? 100 : 40);
		const struct syringe *found = syringe_pick(stock, 6, volume);
		assert_ptr_equal(found, scan_pick(stock, 6, volume));
		picked += found != NULL;
		none += found == NULL;
	}
	assert_true(picked > ROUNDS / 20 && none > ROUNDS / 20);
}

static void neighbours_agree_with_a_scan(void **state)
{
	(void)state;
	uint64_t seed = 6;
	for (int i = 0; i < ROUNDS; i++) {
		const struct syringe *syringe = any_syringe(&seed);
		struct rational volume = rational_of(between(&seed, 0, 3000), between(&seed, 1, 3000));
		struct neighbours next = syringe_neighbours(syringe, volume);
		struct scan scan = {syringe, rational_of(0, 1)};
		struct rational below = scan.at;
		bool above = rational_compare(volume, scan.at) > 0;
		while (above && next_line(&scan)) {
			above = rational_compare(volume, scan.at) > 0;
			if (rational_compare(volume, scan.at) >= 0)
				below = scan.at;
		}
		assert_int_equal(next.above_scale, above);
		assert_int_equal(rational_compare(next.below, below), 0);
		if (!above)
			assert_int_equal(rational_compare(next.above, scan.at), 0);
		assert_int_equal(next.on_line, !above && rational_compare(below, volume) == 0);
		assert_int_equal(next.on_line, syringe_has_line(syringe, volume));
	}
}

/* Of all lines none is nearer, none as near stands higher, and it is near enough; else nothing is rounded. */
static void rounding_agrees_with_a_scan(void **state)
{
	struct test_case *test = case_of(state);
	uint64_t seed = 7;
	int rounded = 0, refused = 0;
	for (int i = 0; i < ROUNDS; i++) {
		struct product product = {.id = "any", .container = CONTAINER_SOLUTION_VIAL, .place = formulary_at(10)};
		product.per_ml = (struct stated_quantity){.given = true, .quantity = {rational_of(1, 1), UNIT_MG}};
		struct draw_request request = request_of(test->arena, &product, "1 mg");
		request.syringe = any_syringe(&seed);
		request.dose.number = rational_of(between(&seed, 1, 400), between(&seed, 100, 401));
		request.rounding = (struct rounding){.given = true, .most = rational_of(between(&seed, 0, 5), 100)};
		struct findings findings = findings_in(test->arena);
		struct draw draw;
		bool made = draw_make(test->arena, &request, &draw, &findings);

		struct rational volume = request.dose.number;
		struct scan scan = {request.syringe, rational_of(0, 1)};
		struct rational nearest = scan.at, least = volume;
		while (next_line(&scan)) {
			struct rational off;
			assert_true(rational_subtract(scan.at, volume, &off));
			if (off.numerator < 0)
				off.numerator = -off.numerator;
			if (rational_compare(off, least) > 0)
				continue;
			nearest = scan.at;
			least = off;
		}
		struct rational allowed;
		assert_true(rational_multiply(volume, request.rounding.most, &allowed));
		bool holds = rational_compare(volume, request.syringe->graduated) <= 0;
		assert_int_equal(made, holds && nearest.numerator > 0 && rational_compare(least, allowed) <= 0);
		if (made) {
			assert_int_equal(rational_compare(draw.mark.at, nearest), 0);
			assert_int_equal(rational_compare(draw.given.number, nearest), 0);
			assert_int_equal(draw.rounded, rational_compare(nearest, volume) != 0);
			rounded += draw.rounded;
		}
		refused += !made;
		arena_reset(test->arena);
	}
	assert_true(rounded > ROUNDS / 20 && refused > ROUNDS / 20);
}

/* What is given and what is left are what the syringe held. */
static void a_stop_line_leaves_the_rest(void **state)
{
	struct test_case *test = case_of(state);
	uint64_t seed = 8;
	int made = 0;
	for (int i = 0; i < ROUNDS; i++) {
		struct product product = {
			.id = "any", .container = CONTAINER_PREFILLED_SYRINGE, .place = formulary_at(10)};
		product.part = PART_INJECT_TO;
		product.syringe = hand_syringe("P025");
		product.strength = any_amount(&seed, UNIT_MG);
		product.volume = (struct stated_quantity){
			.given = true, .quantity = {rational_of(between(&seed, 1, 40), 40), UNIT_ML}};
		struct draw_request request = request_of(test->arena, &product, "1 mg");
		assert_true(quantity_multiply(product.strength.quantity, rational_of(between(&seed, 1, 39), 40),
		                              &request.dose));
		struct findings findings = findings_in(test->arena);
		struct draw draw;
		if (draw_make(test->arena, &request, &draw, &findings)) {
			struct rational held;
			assert_int_equal(draw.mark.line, LINE_STOP);
			assert_true(rational_add(draw.mark.at, draw.volume, &held));
			assert_int_equal(rational_compare(held, product.volume.quantity.number), 0);
			assert_true(scan_finds(product.syringe, draw.mark.at));
			made++;
		}
		arena_reset(test->arena);
	}
	assert_true(made > ROUNDS / 20);
}

/* The number said for the refusal fits, and one fewer would not. */
static void injections_are_the_fewest(void **state)
{
	struct test_case *test = case_of(state);
	uint64_t seed = 9;
	struct product product = {.id = "any", .container = CONTAINER_SOLUTION_VIAL};
	for (int i = 0; i < ROUNDS; i++) {
		struct draw_request request = request_of(test->arena, &product, "1 mg");
		struct rational volume = any_volume(&seed), room = rational_of(18, 1);
		if (next_random(&seed) % 2)
			request.syringe = any_syringe(&seed);
		if (request.syringe)
			room = request.syringe->graduated;
		int64_t n = draw_injections_needed(&request, volume);
		struct rational each;
		assert_true(n >= 1);
		assert_true(rational_divide(volume, rational_of(n, 1), &each));
		assert_true(rational_compare(each, room) <= 0);
		if (n > 1) {
			assert_true(rational_divide(volume, rational_of(n - 1, 1), &each));
			assert_true(rational_compare(each, room) > 0);
		}
	}
}

/* From 1 to the largest there is, short ones as often as long ones. */
static int64_t any_size(uint64_t *seed)
{
	return (int64_t)(next_random(seed) >> between(seed, 2, 63)) + 1;
}

static struct stated_quantity any_stated(uint64_t *seed, enum unit least, enum unit most)
{
	return (struct stated_quantity){
		.given = next_random(seed) % 3 != 0,
		.quantity = {rational_of(any_size(seed), any_size(seed)), (enum unit)between(seed, least, most)},
		.place = formulary_at(11)};
}

static struct product any_record(uint64_t *seed)
{
	static const enum container_kind kinds[] = {CONTAINER_POWDER_VIAL, CONTAINER_SOLUTION_VIAL,
	                                            CONTAINER_AMPOULE,     CONTAINER_PREFILLED_SYRINGE,
	                                            CONTAINER_PEN,         CONTAINER_COUNTED};
	struct product product = {.id = "any", .container = kinds[between(seed, 0, 5)], .place = formulary_at(10)};
	struct stated_quantity *const amounts[] = {&product.strength,      &product.per_ml,      &product.concentration,
	                                           &product.dial.step,     &product.dial.least,  &product.dial.most,
	                                           &product.also_labelled, &product.dial.priming};
	struct stated_quantity *const volumes[] = {&product.volume, &product.displacement, &product.diluent.use,
	                                           &product.diluent.supplied, &product.start_line};
	for (size_t i = 0; i < sizeof amounts / sizeof *amounts; i++)
		*amounts[i] = any_stated(seed, UNIT_G, UNIT_TABLET);
	for (size_t i = 0; i < sizeof volumes / sizeof *volumes; i++)
		*volumes[i] = any_stated(seed, UNIT_L, UNIT_ML);
	product.diluent.given = product.dial.given = true;
	product.diluent.comes_as = (enum liquid_vessel)between(seed, LIQUID_SYRINGE, LIQUID_AMPOULE);
	product.powders_per_diluent = between(seed, 0, 3);
	product.draw_with = next_random(seed) % 2 ? DRAW_WITH_OWN : DRAW_WITH_LIQUID_SYRINGE;
	product.part = (enum part_way)between(seed, PART_NOT_STATED, PART_INJECT_TO);
	product.whole_to_mark = next_random(seed) % 2;
	product.halves = next_random(seed) % 2;
	return product;
}

static void check_figures(const struct draw *draw)
{
	const struct rational figures[] = {draw->volume,         draw->mark.at,
	                                   draw->mark.number,    draw->add.at,
	                                   draw->add.number,     draw->liquid,
	                                   draw->mixed,          draw->given.number,
	                                   draw->line_is.number, draw->dial.number,
	                                   draw->count.number,   draw->priming.number,
	                                   draw->dose.number,    draw->concentration.number};
	for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
		assert_true(figures[i].denominator > 0 && figures[i].numerator >= 0);
}

/* Whatever the numbers, a draw is made or refused with a reason, and every figure it leaves can be reckoned with. */
static void any_numbers_are_drawn_or_refused(void **state)
{
	struct test_case *test = case_of(state);
	uint64_t seed = 10;
	int made = 0;
	for (int i = 0; i < ROUNDS; i++) {
		struct product product = any_record(&seed);
		struct draw_request request = request_of(test->arena, &product, "1 mg");
		request.dose.number = rational_of(any_size(&seed) - 1, any_size(&seed));
		request.dose.unit = (enum unit)between(&seed, UNIT_G, UNIT_TABLET);
		request.containers = between(&seed, 1, 4);
		request.whole = next_random(&seed) % 2;
		request.rounding = (struct rounding){.given = next_random(&seed) % 2, .most = rational_of(1, 50)};
		if (next_random(&seed) % 2)
			request.syringe = any_syringe(&seed);
		struct findings findings = findings_in(test->arena);
		struct draw draw;
		bool drawn = draw_make(test->arena, &request, &draw, &findings);
		assert_int_equal(drawn, !findings_stop(&findings));
		check_figures(&draw);
		made += drawn;
		arena_reset(test->arena);
	}
	assert_true(made > 0);
}

#define LAW(name)           \
	{                   \
#name, name \
	}

int main(void)
{
	static const struct {
		const char *name;
		CMUnitTestFunction function;
	} laws[] = {
		LAW(volume_is_dose_over_concentration), LAW(a_mark_is_a_line_that_carries_the_dose),
		LAW(nothing_is_refused_without_need),   LAW(more_is_more),
		LAW(the_pick_agrees_with_a_scan),       LAW(neighbours_agree_with_a_scan),
		LAW(rounding_agrees_with_a_scan),       LAW(a_stop_line_leaves_the_rest),
		LAW(injections_are_the_fewest),         LAW(any_numbers_are_drawn_or_refused),
	};
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof laws / sizeof *laws; i++)
		tests_add(&tests, laws[i].name, laws[i].function, NULL);
	return tests_run(&tests, "laws of a draw");
}
