/*
 * Each kind of container drawn: what is in 1 mL, which line, which syringe, and what makes no line at all. Expected
 * figures are worked out by hand beside each case.
 */
#include "plan/draw.h"

#include "support/cases.h"
#include "support/draws.h"

#include <string.h>

static void check_text(const char *actual, const char *expected)
{
	assert_string_equal(actual, expected);
}

static const char *plain(struct arena *arena, struct quantity quantity)
{
	return quantity_plain(arena, quantity, DECIMAL_POINT);
}

static const char *number(struct arena *arena, struct rational rational)
{
	return number_print(arena, rational, DECIMAL_POINT);
}

static struct draw drawn(struct arena *arena, const struct draw_request *request, struct findings *said)
{
	struct draw draw;
	*said = findings_in(arena);
	if (!draw_make(arena, request, &draw, said))
		fail_msg("refused: %s", said->list[said->n - 1].says);
	assert_false(findings_stop(said));
	return draw;
}

static void refused(struct arena *arena, const struct draw_request *request, const char *code, struct findings *said)
{
	struct draw draw;
	*said = findings_in(arena);
	assert_false(draw_make(arena, request, &draw, said));
	assert_true(said->n > 0);
	check_text(said->list[said->n - 1].code, code);
}

/* "draw T1 0.5 1/2": the line, its syringe, the number on its scale and the exact mL. */
static const char *mark_text(struct arena *arena, const struct mark *mark)
{
	static const char *const lines[] = {
		[LINE_DRAW] = "draw", [LINE_ADD] = "add", [LINE_PUSH_OUT] = "push out", [LINE_STOP] = "stop"};
	return arena_printf(arena, "%s %s %s%s %s", lines[mark->line], mark->syringe ? mark->syringe->id : "-",
	                    mark->all ? "all " : "", number(arena, mark->number), ratio_of(arena, mark->at));
}

/* ---- products ---- */

static struct product powder(struct arena *arena, const char *strength, const char *use)
{
	struct product product = {.id = "p",
	                          .container = CONTAINER_POWDER_VIAL,
	                          .strength = stated_of(arena, strength, 11),
	                          .powders_per_diluent = 1,
	                          .place = formulary_at(10)};
	product.diluent = (struct liquid){.given = true,
	                                  .use = stated_of(arena, use, 15),
	                                  .supplied = stated_of(arena, use, 16),
	                                  .comes_as = LIQUID_SYRINGE};
	return product;
}

static struct product solution(struct arena *arena, const char *strength, const char *volume)
{
	struct product product = {
		.id = "p", .container = CONTAINER_SOLUTION_VIAL, .powders_per_diluent = 1, .place = formulary_at(10)};
	*(strchr(strength, '/') ? &product.per_ml : &product.strength) = stated_of(arena, strength, 11);
	product.volume = stated_of(arena, volume, 12);
	return product;
}

static struct product filled(struct arena *arena, const char *strength, const char *volume, const char *syringe)
{
	struct product product = solution(arena, strength, volume);
	product.container = CONTAINER_PREFILLED_SYRINGE;
	product.part = PART_EXPEL_FIRST;
	product.syringe = hand_syringe(syringe);
	return product;
}

static struct product pen(struct arena *arena, const char *strength, const char *step, const char *least,
                          const char *most)
{
	struct product product = {
		.id = "p", .container = CONTAINER_PEN, .powders_per_diluent = 1, .place = formulary_at(10)};
	product.strength = stated_of(arena, strength, 11);
	product.dial = (struct dial){.given = true,
	                             .step = stated_of(arena, step, 18),
	                             .least = stated_of(arena, least, 18),
	                             .most = stated_of(arena, most, 18)};
	return product;
}

static struct ready ready_of(struct arena *arena, const struct product *product, int64_t containers)
{
	struct ready ready;
	struct findings said = findings_in(arena);
	if (!product_ready(arena, product, containers, &ready, &said))
		fail_msg("refused: %s", said.list[0].says);
	return ready;
}

/* ---- what is in 1 mL ---- */

static void a_container_holds_its_strength(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct quantity amount;
	struct product vial = solution(arena, "5 mg/mL", "2.8 mL");
	assert_true(product_content(&vial, &amount));
	check_text(plain(arena, amount), "14 mg");
	vial.volume.given = false;
	assert_false(product_content(&vial, &amount));
	struct product kit = powder(arena, "250 mcg", "1 mL");
	assert_true(product_content(&kit, &amount));
	check_text(plain(arena, amount), "250 mcg");
}

static void displacement_adds_to_the_volume(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct product product = powder(arena, "250 mg", "4.8 mL");
	product.displacement = stated_of(arena, "0.2 mL", 14);
	struct ready ready = ready_of(arena, &product, 1);
	check_text(plain(arena, ready.concentration), "50 mg"); /* 250 / (4.8 + 0.2) */
	check_text(number(arena, ready.volume), "5");
	check_text(number(arena, ready.displacement), "0.2");
	assert_false(ready.from_label);
}

static void a_label_implies_its_displacement(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct product product = powder(arena, "500 mg", "1.8 mL");
	product.concentration = stated_of(arena, "250 mg/mL", 13);
	struct ready ready = ready_of(arena, &product, 1);
	check_text(plain(arena, ready.concentration), "250 mg");
	check_text(number(arena, ready.displacement), "0.2"); /* 500 / 250 - 1.8 */
	check_text(number(arena, ready.volume), "2");
	assert_true(ready.from_label);
}

static void a_label_may_imply_nothing(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct product product = powder(arena, "250 mcg", "1 mL");
	product.concentration = stated_of(arena, "250 mcg/mL", 13);
	struct ready ready = ready_of(arena, &product, 1);
	assert_true(rational_is_zero(ready.displacement));
}

static void a_label_near_enough_rules(void **state)
{
	struct arena *arena = case_of(state)->arena;
	/* 50 mg in 1 mL by strength and volume: 49 and 51 are exactly 2 % off. */
	static const char *const labels[] = {"49 mg/mL", "51 mg/mL"};
	for (size_t i = 0; i < 2; i++) {
		struct product product = powder(arena, "250 mg", "4.8 mL");
		product.displacement = stated_of(arena, "0.2 mL", 14);
		product.concentration = stated_of(arena, labels[i], 13);
		struct ready ready = ready_of(arena, &product, 1);
		check_text(arena_printf(arena, "%s/mL", plain(arena, ready.concentration)), labels[i]);
		assert_true(ready.from_label);
		check_text(number(arena, ready.volume), "5");
	}
	static const char *const beyond[] = {"48.999 mg/mL", "51.001 mg/mL"};
	for (size_t i = 0; i < 2; i++) {
		struct product product = solution(arena, "250 mg", "5 mL");
		struct ready ready;
		struct findings said = findings_in(arena);
		product.concentration = stated_of(arena, beyond[i], 13);
		assert_false(product_ready(arena, &product, 1, &ready, &said));
		check_text(said.list[0].code, "label-disagrees");
	}
}

static void a_label_in_another_unit_is_the_same(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct product product = solution(arena, "250 mcg", "0.5 mL");
	product.concentration = stated_of(arena, "0.5 mg/mL", 13);
	check_text(plain(arena, ready_of(arena, &product, 1).concentration), "500 mcg");

	/* 44 mcg are labelled 600 units; 600 units in 1 mL are 44 mcg in 1 mL. */
	product = solution(arena, "44 mcg", "1 mL");
	product.also_labelled = stated_of(arena, "600 units", 17);
	product.concentration = stated_of(arena, "600 units/mL", 13);
	check_text(plain(arena, ready_of(arena, &product, 1).concentration), "44 mcg");
}

static void powders_share_a_liquid(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct product product = powder(arena, "75 units", "1 mL");
	check_text(plain(arena, ready_of(arena, &product, 3).concentration), "225 units");
	product.displacement = stated_of(arena, "0.1 mL", 14);
	struct ready ready = ready_of(arena, &product, 5);
	check_text(plain(arena, ready.concentration), "250 units"); /* 375 / (1 + 5 * 0.1) */
	check_text(number(arena, ready.volume), "1.5");
}

/* The label is of one powder in its liquid: two of them are not twice the volume. */
static void a_label_of_one_powder_serves_several(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct product product = powder(arena, "75 units", "0.9 mL");
	product.concentration = stated_of(arena, "75 units/mL", 13);
	struct ready ready = ready_of(arena, &product, 2);
	check_text(number(arena, ready.displacement), "0.2"); /* 2 * (75 / 75 - 0.9) */
	check_text(number(arena, ready.volume), "1.1");
	check_text(ratio_of(arena, ready.concentration.number), "1500:11"); /* 150 / 1.1 */
	assert_false(ready.from_label);
}

static void the_liquid_used_counts(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct product product = powder(arena, "250 mcg", "1 mL");
	product.diluent.supplied = stated_of(arena, "2 mL", 16);
	check_text(plain(arena, ready_of(arena, &product, 1).concentration), "250 mcg");
	product.diluent.use.given = false;
	check_text(plain(arena, ready_of(arena, &product, 1).concentration), "125 mcg");
}

static void overflow_is_said(struct arena *arena, const struct product *product, int line)
{
	struct ready ready;
	struct findings said = findings_in(arena);
	assert_false(product_ready(arena, product, 7, &ready, &said));
	assert_int_equal(said.n, 1);
	check_text(said.list[0].code, "overflow");
	assert_int_equal(said.list[0].place.line, line);
}

/* No file can say such numbers; the sums must refuse them all the same. */
static void numbers_too_long_are_refused(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct quantity large = {{INT64_MAX, 1}, UNIT_MG};
	struct quantity odd = {{INT64_MAX - 1, INT64_MAX}, UNIT_ML};
	struct product product = solution(arena, "1 mg", "1 mL");
	product.strength.quantity = large;
	product.volume.quantity.number = rational_of(1, 3);
	overflow_is_said(arena, &product, 12);
	product.volume.quantity = (struct quantity){{INT64_MAX, 1}, UNIT_L};
	overflow_is_said(arena, &product, 12);
	product = solution(arena, "1 mg", "1 mL");
	product.concentration = stated_of(arena, "1 mg/mL", 13);
	product.concentration.quantity.number = odd.number;
	product.volume.quantity.number = rational_of(3, INT64_MAX - 2);
	overflow_is_said(arena, &product, 13);
	product.concentration.quantity = (struct quantity){{INT64_MAX, 1}, UNIT_G};
	overflow_is_said(arena, &product, 13);

	product = powder(arena, "1 mg", "1 mL");
	product.strength.quantity = large;
	overflow_is_said(arena, &product, 10); /* seven of them */
	product.diluent.use.quantity = (struct quantity){{INT64_MAX, 1}, UNIT_L};
	overflow_is_said(arena, &product, 15);
	product = powder(arena, "1 mg", "1 mL");
	product.displacement = stated_of(arena, "1 mL", 14);
	product.displacement.quantity = (struct quantity){{INT64_MAX, 1}, UNIT_L};
	overflow_is_said(arena, &product, 14);
	product.displacement.quantity = odd;
	overflow_is_said(arena, &product, 10);
	product = powder(arena, "1 mg", "1 mL");
	product.strength.quantity = large;
	product.concentration = stated_of(arena, "1 mg/mL", 13);
	product.concentration.quantity.number = rational_of(1, 3);
	overflow_is_said(arena, &product, 13);
}

/* ---- orders in other units ---- */

static void an_order_in_the_boxes_other_unit(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = solution(arena, "44 mcg", "1 mL");
	product.also_labelled = stated_of(arena, "600 units", 17);
	struct draw_request request = request_of(arena, &product, "150 units");
	struct draw draw = drawn(arena, &request, &said);
	check_text(ratio_of(arena, draw.volume), "1:4"); /* 150 of 600 units in 1 mL */
	check_text(plain(arena, draw.dose), "150 units");
	check_text(plain(arena, draw.concentration), "44 mcg");

	struct quantity content;
	assert_true(dose_content(&product, request.dose, draw.concentration, &content));
	check_text(plain(arena, content), "11 mcg");
	product.also_labelled.given = false;
	assert_false(dose_content(&product, request.dose, draw.concentration, &content));
	assert_false(dose_volume(&product, request.dose, draw.concentration, &draw.volume));
}

static void an_order_as_a_volume(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = solution(arena, "5 mg/mL", "2.8 mL");
	static const struct {
		const char *dose;
		const char *content;
	} orders[] = {{"0.2 mL", "1 mg"}, {"20 syringe units", "1 mg"}, {"1 mg", "1 mg"}, {"1000 mcg", "1 mg"}};
	for (size_t i = 0; i < sizeof orders / sizeof *orders; i++) {
		struct draw_request request = request_of(arena, &product, orders[i].dose);
		request.syringe = hand_syringe("U100-05");
		struct draw draw = drawn(arena, &request, &said);
		struct quantity content;
		check_text(mark_text(arena, &draw.mark), "draw U100-05 20 1:5");
		assert_true(dose_content(&product, request.dose, draw.concentration, &content));
		check_text(plain(arena, content), orders[i].content);
		assert_int_equal(findings_count(&said, FINDING_CAUTION),
		                 0); /* 20 syringe units are line 20 of this very scale */
	}
}

/* A volume is a part of the volume that is there, whatever a rounded label makes of its content. */
static void an_order_of_all_the_volume(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = solution(arena, "100 mg", "1 mL");
	product.concentration = stated_of(arena, "101 mg/mL", 13);
	struct draw_request request = request_of(arena, &product, "1 mL");
	request.whole = true;
	struct draw draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "draw S2 all 1 1:1");
	assert_true(draw.label_concentration);
	request.dose = amount_of(arena, "1.01 mL");
	refused(arena, &request, "dose-over-container", &said);

	request.dose = (struct quantity){{INT64_MAX, 1}, UNIT_L};
	struct rational volume;
	assert_false(dose_volume(&product, request.dose, draw.concentration, &volume));
	refused(arena, &request, "overflow", &said);
}

static void a_label_alone(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct product product = solution(arena, "5 mg", NULL);
	product.concentration = stated_of(arena, "4 mg/mL", 13);
	struct ready ready = ready_of(arena, &product, 1);
	check_text(plain(arena, ready.concentration), "4 mg");
	assert_true(ready.from_label);
	assert_true(rational_is_zero(ready.volume));
}

/* ---- lines to draw up to ---- */

static void a_half_from_a_powder(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = powder(arena, "250 mcg", "1 mL");
	product.draw_with = DRAW_WITH_LIQUID_SYRINGE;
	product.syringe = hand_syringe("T1");
	struct draw_request request = request_of(arena, &product, "0.125 mg");
	struct draw draw = drawn(arena, &request, &said);
	assert_int_equal(draw.measure, MEASURE_SYRINGE);
	check_text(mark_text(arena, &draw.mark), "draw T1 0.5 1:2");
	check_text(plain(arena, draw.line_is), "0.0025 mg"); /* 0.01 mL of 0.25 mg in 1 mL */
	check_text(plain(arena, draw.given), "0.125 mg");
	check_text(number(arena, draw.liquid), "1");
	check_text(number(arena, draw.mixed), "1");
	assert_false(draw.has_add);
	assert_false(draw.rounded);
	assert_int_equal(said.n, 0);
}

static void the_users_syringe_goes_before_the_products(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = solution(arena, "5 mg/mL", "2.8 mL");
	product.syringe = hand_syringe("U100-05");
	struct draw_request request = request_of(arena, &product, "1 mg");
	struct draw draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "draw U100-05 20 1:5");
	request.syringe = hand_syringe("T1");
	draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "draw T1 0.2 1:5");
}

static void picking_leaves_room_for_air(void **state)
{
	struct arena *arena = case_of(state)->arena;
	static const struct {
		const char *ml;
		const char *id;
	} picks[] = {{"0.01 mL", "T1"}, {"0.9 mL", "T1"},   {"0.91 mL", NULL}, {"1 mL", "S2"},   {"1.8 mL", "S2"},
	             {"1.9 mL", "S3"},  {"2.7 mL", "S3"},   {"2.8 mL", "S5"},  {"2.9 mL", NULL}, {"4.5 mL", NULL},
	             {"4.4 mL", "S5"},  {"4.6 mL", "S10"},  {"9 mL", "S10"},   {"9.2 mL", NULL}, {"18 mL", "S20"},
	             {"19 mL", NULL},   {"0.125 mL", NULL}, {"0.05 mL", "T1"}};
	for (size_t i = 0; i < sizeof picks / sizeof *picks; i++) {
		struct rational ml = amount_of(arena, picks[i].ml).number;
		const struct syringe *picked = syringe_pick(hand_stock, N_HAND_STOCK, ml);
		if ((picked == NULL) != (picks[i].id == NULL) || (picked && strcmp(picked->id, picks[i].id) != 0))
			fail_msg("%s: %s", picks[i].ml, picked ? picked->id : "none");
	}
	assert_null(syringe_pick(NULL, 0, rational_of(1, 2)));
}

static void picking_takes_plain_ones_in_the_order_of_stock(void **state)
{
	(void)state;
	struct syringe first = *hand_syringe("S3"), second = *hand_syringe("S3"), cut = *hand_syringe("S3");
	cut.graduated = rational_of(2, 1);
	cut.capacity = rational_of(29, 10);
	const struct syringe *const stock[] = {hand_syringe("U100-1-1"), hand_syringe("P025"), &cut, &first, &second};
	assert_ptr_equal(syringe_pick(stock, 5, rational_of(5, 2)), &first);
	assert_ptr_equal(syringe_pick(stock, 5, rational_of(2, 1)), &cut);
	assert_null(syringe_pick(stock, 2, rational_of(1, 2)));
}

static void lines_beside_a_volume(void **state)
{
	(void)state;
	struct syringe uneven = *hand_syringe("S3");
	uneven.graduated = rational_of(61, 20); /* 3.05 mL: the last line is 3 */
	static const struct {
		struct rational volume;
		bool on_line, above_scale;
		struct rational below, above;
	} rows[] = {
		{{0, 1}, true, false, {0, 1}, {0, 1}},
		{{1, 20}, false, false, {0, 1}, {1, 10}},
		{{1, 10}, true, false, {1, 10}, {1, 10}},
		{{29, 10}, true, false, {29, 10}, {29, 10}},
		{{299, 100}, false, false, {29, 10}, {3, 1}},
		{{3, 1}, true, false, {3, 1}, {3, 1}},
		{{61, 20}, false, true, {3, 1}, {0, 1}},
		{{4, 1}, false, true, {3, 1}, {0, 1}},
		{{INT64_MAX - 1, INT64_MAX}, false, false, {9, 10}, {1, 1}},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct neighbours next = syringe_neighbours(&uneven, rows[i].volume);
		assert_int_equal(next.on_line, rows[i].on_line);
		assert_int_equal(next.above_scale, rows[i].above_scale);
		assert_int_equal(rational_compare(next.below, rows[i].below), 0);
		assert_int_equal(rational_compare(next.above, rows[i].above), 0);
	}
}

static void lines_are_called_as_they_are_numbered(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct rational half = rational_of(1, 2);
	check_text(syringe_line_print(arena, hand_syringe("T1"), half, DECIMAL_POINT), "0.5 mL");
	check_text(syringe_line_print(arena, hand_syringe("T1"), half, DECIMAL_COMMA), "0,5 mL");
	check_text(syringe_line_print(arena, hand_syringe("U100-1-1"), half, DECIMAL_POINT), "line 50");
	check_text(syringe_line_print(arena, hand_syringe("U500"), half, DECIMAL_POINT), "line 250");
	check_text(syringe_line_print(arena, hand_syringe("U40-1"), half, DECIMAL_POINT), "line 20");
}

static void injections_that_would_do(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = solution(arena, "1 mg/mL", NULL);
	struct draw_request request = request_of(arena, &product, "1 mg");
	/* The largest in stock is 20 mL, of which 18 leave room for air. */
	assert_int_equal(draw_injections_needed(&request, rational_of(18, 1)), 1);
	assert_int_equal(draw_injections_needed(&request, rational_of(181, 10)), 2);
	assert_int_equal(draw_injections_needed(&request, rational_of(36, 1)), 2);
	request.syringe = hand_syringe("S3");
	assert_int_equal(draw_injections_needed(&request, rational_of(3, 1)), 1);
	assert_int_equal(draw_injections_needed(&request, rational_of(31, 10)), 2);
	request.syringe = NULL;
	request.n_stock = 0;
	assert_int_equal(draw_injections_needed(&request, rational_of(1, 1)), 0);
	refused(arena, &request, "no-syringe-holds", &said);
	check_text(said.list[0].says,
	           "1 mg of testol is 1 mL, and no plain mL syringe is in stock to draw it with; stock one, or "
	           "name a syringe");
}

static void one_line_off_is_a_tenth(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = solution(arena, "5 mg/mL", NULL);
	struct draw_request request = request_of(arena, &product, "0.5 mg");
	request.syringe = hand_syringe("U100-03");
	struct draw draw = drawn(arena, &request, &said); /* line 10 of 1 each: exactly 10 % */
	check_text(plain(arena, draw.line_is), "0.05 mg");
	assert_int_equal(findings_count(&said, FINDING_CAUTION), 0);
}

/* ---- rounding ---- */

static struct draw rounded(struct arena *arena, struct draw_request request, const char *percent)
{
	struct findings said;
	struct rational most = decimal_of(percent);
	assert_true(rational_divide(most, rational_of(100, 1), &most));
	request.rounding = (struct rounding){.given = true, .most = most};
	return drawn(arena, &request, &said);
}

static void rounding_goes_to_the_nearest_line(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct product product = solution(arena, "1 mg/mL", NULL);
	static const struct {
		const char *dose;
		const char *mark;
		const char *given;
	} rows[] = {{"0.504 mg", "draw T1 0.5 1:2", "0.5 mg"},
	            {"0.505 mg", "draw T1 0.51 51:100", "0.51 mg"}, /* half goes up */
	            {"0.506 mg", "draw T1 0.51 51:100", "0.51 mg"}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct draw draw = rounded(arena, request_of(arena, &product, rows[i].dose), "2");
		check_text(mark_text(arena, &draw.mark), rows[i].mark);
		check_text(plain(arena, draw.given), rows[i].given);
		check_text(plain(arena, draw.dose), rows[i].dose);
		assert_true(draw.rounded);
		assert_int_equal(rational_compare(draw.volume, draw.dose.number),
		                 0); /* what was ordered, not what is given */
	}
}

static void rounding_is_not_used_where_a_line_is(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct product product = solution(arena, "1 mg/mL", NULL);
	struct draw draw = rounded(arena, request_of(arena, &product, "2.8 mg"), "2");
	check_text(mark_text(arena, &draw.mark), "draw S5 2.8 14:5");
	assert_false(draw.rounded);
	check_text(plain(arena, draw.given), "2.8 mg");
}

/* 1.04 mL: S2 and S3 are 3.8 % off at 1 mL; of all, none is nearer than that. At 4 % the smallest is taken. */
static void rounding_takes_the_smallest_that_is_near_enough(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct product product = solution(arena, "1 mg/mL", NULL);
	struct draw draw = rounded(arena, request_of(arena, &product, "1.04 mg"), "4");
	check_text(mark_text(arena, &draw.mark), "draw S2 1 1:1");
	check_text(plain(arena, draw.given), "1 mg");

	/* 4.55 mL: S10 at 4.6 is 1.1 % off; S5 has no room for it. */
	draw = rounded(arena, request_of(arena, &product, "4.55 mg"), "2");
	check_text(mark_text(arena, &draw.mark), "draw S10 4.6 23:5");

	/* 0.85 mL of a coarse 1 mL syringe is 5.9 % off at 0.9; the next has it within 2 %. */
	struct syringe coarse = *hand_syringe("T1");
	coarse.step = rational_of(1, 10);
	const struct syringe *const stock[] = {hand_syringe("S3"), &coarse};
	struct draw_request request = request_of(arena, &product, "0.85 mg");
	struct syringe fine = *hand_syringe("S5");
	fine.id = "fine";
	fine.step = rational_of(3, 50); /* 0.84 is a line: 1.2 % off */
	const struct syringe *const with_fine[] = {stock[0], stock[1], &fine};
	request.stock = with_fine;
	request.n_stock = 3;
	draw = rounded(arena, request, "2");
	check_text(mark_text(arena, &draw.mark), "draw fine 0.84 21:25");

	/* Of two alike, the first in stock. */
	struct syringe twin = *hand_syringe("S2");
	twin.id = "twin";
	const struct syringe *const alike[] = {&twin, hand_syringe("S2")};
	request = request_of(arena, &product, "1.04 mg");
	request.stock = alike;
	request.n_stock = 2;
	draw = rounded(arena, request, "4");
	check_text(mark_text(arena, &draw.mark), "draw twin 1 1:1");

	/* Up to all that is there, and not beyond. */
	product = solution(arena, "10 mg", "1 mL");
	request = request_of(arena, &product, "9.9 mg");
	request.syringe = hand_syringe("S3");
	draw = rounded(arena, request, "2");
	check_text(mark_text(arena, &draw.mark), "draw S3 1 1:1");
	check_text(plain(arena, draw.given), "10 mg");
}

static void rounding_at_its_limit_is_allowed(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = solution(arena, "600 units/mL", NULL);
	struct draw_request request = request_of(arena, &product, "75 units");
	request.syringe = hand_syringe("U100-03");
	struct draw draw = rounded(arena, request, "4"); /* line 12.5 to line 13: 4 % */
	check_text(mark_text(arena, &draw.mark), "draw U100-03 13 13:100");
	check_text(plain(arena, draw.given), "78 units");
	request.rounding = (struct rounding){.given = true, .most = rational_of(3999, 100000)};
	refused(arena, &request, "volume-between-lines", &said);
}

static void a_rounded_stop_line_stands_at_the_nearest(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = filled(arena, "80 mg", "0.8 mL", "P025");
	product.part = PART_INJECT_TO;
	struct draw draw = rounded(arena, request_of(arena, &product, "72 mg"), "1");
	check_text(mark_text(arena, &draw.mark), "stop P025 0.075 3:40"); /* 0.8 - 0.72 = 0.08, nearest 0.075 */
	check_text(plain(arena, draw.given), "72.5 mg");                  /* 0.8 - 0.075 = 0.725 */

	/* The nearest line is zero: that would be all of it, and no dose to stop at. */
	struct draw_request request = request_of(arena, &product, "79 mg");
	request.rounding = (struct rounding){.given = true, .most = rational_of(1, 2)};
	refused(arena, &request, "volume-between-lines", &said);
}

/* ---- whole containers ---- */

static void a_whole_container_has_no_line(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = powder(arena, "250 mcg", "1 mL");
	struct draw_request request = request_of(arena, &product, "250 mcg");
	request.whole = true;
	struct draw draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "draw S2 all 1 1:1");
	check_text(plain(arena, draw.line_is), "0 mcg");

	/* No line, so no line is needed: 4.44 mL goes into the 5 mL syringe. */
	product = solution(arena, "4.44 mg", "4.44 mL");
	request = request_of(arena, &product, "4.44 mg");
	request.whole = true;
	draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "draw S5 all 4.44 111:25");
}

static void a_whole_container_to_its_mark(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = powder(arena, "250 mcg", "1 mL");
	product.whole_to_mark = true;
	product.syringe = hand_syringe("T1");
	struct draw_request request = request_of(arena, &product, "0.25 mg");
	request.whole = true;
	struct draw draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "draw T1 1 1:1");
	assert_false(draw.mark.all);
}

/* 'All' would be an overdose where the dose is less than what is there, whoever asks for it. */
static void less_than_all_is_never_all(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = powder(arena, "250 mcg", "1 mL");
	struct draw_request request = request_of(arena, &product, "225 mcg");
	request.whole = true;
	struct draw draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "draw T1 0.9 9:10");
	product.powders_per_diluent = 2;
	request.dose = amount_of(arena, "250 mcg");
	request.containers = 2;
	draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "draw T1 0.5 1:2");
	assert_false(draw.mark.all);
}

static void all_of_a_vial_that_is_kept_has_a_line(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = solution(arena, "10 mg", "1 mL");
	struct draw_request request = request_of(arena, &product, "10 mg");
	struct draw draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "draw S2 1 1:1");
}

static void whole_in_the_liquids_own_syringe(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = powder(arena, "250 mcg", "1 mL");
	product.draw_with = DRAW_WITH_LIQUID_SYRINGE;
	struct draw_request request = request_of(arena, &product, "250 mcg");
	request.whole = true;
	struct draw draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "draw - all 1 1:1");
	product.syringe = hand_syringe("T1");
	draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "draw T1 all 1 1:1");
}

static void three_powders_are_one_injection(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = powder(arena, "75 units", "1 mL");
	product.powders_per_diluent = 3;
	struct draw_request request = request_of(arena, &product, "225 units");
	request.containers = 3;
	request.whole = true;
	struct draw draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "draw S2 all 1 1:1");
	check_text(plain(arena, draw.concentration), "225 units");
	request.dose = amount_of(arena, "180 units");
	request.whole = false;
	draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "draw T1 0.8 4:5"); /* 180 / 225 */
}

/* ---- filled syringes ---- */

static void a_filled_syringe_given_whole(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	static const char *const syringes[] = {"NONE", "P025"};
	static const char *const marks[] = {"draw - all 0.8 4:5", "draw P025 all 0.8 4:5"};
	for (size_t i = 0; i < 2; i++) {
		struct product product = filled(arena, "80 mg", "0.8 mL", syringes[i]);
		product.part = PART_NOT_STATED;
		struct draw_request request = request_of(arena, &product, "80 mg");
		struct draw draw = drawn(arena, &request, &said);
		check_text(mark_text(arena, &draw.mark), marks[i]);
		request.dose = amount_of(arena, "0.8 mL");
		draw = drawn(arena, &request, &said);
		assert_true(draw.mark.all);
	}
	/* A scale that ends below what it holds is no matter where nothing is read on it. */
	struct product product = filled(arena, "110 mg", "1.1 mL", "P025");
	struct draw_request request = request_of(arena, &product, "110 mg");
	assert_true(drawn(arena, &request, &said).mark.all);
}

static void a_part_pushed_out_first(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = filled(arena, "0.5 mg", "0.5 mL", "P025");
	struct draw_request request = request_of(arena, &product, "0.2 mg");
	struct draw draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "push out P025 0.2 1:5");
	check_text(ratio_of(arena, draw.held), "1:2");
	check_text(ratio_of(arena, draw.rest), "3:10");              /* 0.5 - 0.2, into the sink */
	assert_int_equal(findings_count(&said, FINDING_CAUTION), 1); /* one line is 0.025 of 0.2 mL */
	check_text(said.list[0].code, "coarse-line");
}

static void a_part_injected_to_a_line(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = filled(arena, "80 mg", "0.8 mL", "P025");
	product.part = PART_INJECT_TO;
	struct draw_request request = request_of(arena, &product, "60 mg");
	struct draw draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "stop P025 0.2 1:5"); /* 0.8 - 0.6 */
	check_text(ratio_of(arena, draw.volume), "3:5");
	check_text(ratio_of(arena, draw.held), "4:5");
	check_text(ratio_of(arena, draw.rest), "1:5");
	product.start_line = stated_of(arena, "0.7 mL", 17);
	draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "stop P025 0.1 1:10"); /* 0.7 - 0.6 */
	check_text(ratio_of(arena, draw.held), "7:10");
	check_text(ratio_of(arena, draw.rest), "1:10");
	product.start_line = stated_of(arena, "0.8 mL", 17); /* all that it holds */
	draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "stop P025 0.2 1:5");
	product.start_line.quantity = (struct quantity){{INT64_MAX, 1}, UNIT_L};
	refused(arena, &request, "overflow", &said);
	product.start_line = stated_of(arena, "0.7 mL", 17);
	/* From the start line to the end: what stands above it is pushed out, then the rest is given. */
	request.dose = amount_of(arena, "70 mg");
	draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "push out P025 0.7 7:10");
	check_text(ratio_of(arena, draw.held), "4:5");
	check_text(ratio_of(arena, draw.rest), "1:10");
	/* All of one, and what no label measures, has no rest to tell of. */
	request.dose = amount_of(arena, "80 mg");
	draw = drawn(arena, &request, &said);
	assert_true(rational_is_zero(draw.held) && rational_is_zero(draw.rest));
}

/* The number where an injection stops is not the dose on any scale; that alone is no caution. */
static void a_stop_line_is_no_dose(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = filled(arena, "80 units", "0.8 mL", "U100-1-1");
	product.part = PART_INJECT_TO;
	struct draw_request request = request_of(arena, &product, "60 units");
	struct draw draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.mark), "stop U100-1-1 20 1:5");
	assert_int_equal(findings_count(&said, FINDING_CAUTION), 0);
}

/* ---- the liquid's line ---- */

static void liquid_from_an_ampoule_is_measured(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = powder(arena, "375 units", "1.4 mL");
	product.diluent.supplied = stated_of(arena, "2 mL", 16);
	product.diluent.comes_as = LIQUID_AMPOULE;
	product.displacement = stated_of(arena, "0.1 mL", 14);
	product.syringe = hand_syringe("T1");
	struct draw_request request = request_of(arena, &product, "225 units");
	struct draw draw = drawn(arena, &request, &said);
	assert_true(draw.has_add);
	check_text(mark_text(arena, &draw.add), "add S2 1.4 7:5");
	check_text(mark_text(arena, &draw.mark), "draw T1 0.9 9:10"); /* 225 of 375 in 1.5 mL */
	check_text(number(arena, draw.mixed), "1.5");
	/* All that a vial says it holds is measured too, as it holds more. */
	product.diluent.use = stated_of(arena, "2 mL", 15);
	product.displacement.given = false;
	product.diluent.comes_as = LIQUID_VIAL;
	request.dose = amount_of(arena, "150 units");
	draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.add), "add S3 2 2:1");
	check_text(mark_text(arena, &draw.mark), "draw T1 0.8 4:5"); /* 150 of 375 in 2 mL */
}

static void liquid_is_left_open_only_for_a_whole_dose(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = powder(arena, "375 units", "1 mL");
	product.diluent.comes_as = LIQUID_AMPOULE;
	product.diluent.use.given = false;
	struct draw_request request = request_of(arena, &product, "375 units");
	request.whole = true;
	assert_false(drawn(arena, &request, &said).has_add);
	request.dose = amount_of(arena, "187.5 units");
	request.whole = false;
	struct draw draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.add), "add S2 1 1:1");
}

static void all_of_a_liquid_syringe_is_not_measured(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = powder(arena, "250 mcg", "1 mL");
	struct draw_request request = request_of(arena, &product, "125 mcg");
	assert_false(drawn(arena, &request, &said).has_add);
	product.diluent.supplied.given = false;
	assert_false(drawn(arena, &request, &said).has_add);
	product.diluent.supplied = product.diluent.use;
	product.diluent.use.given = false;
	assert_false(drawn(arena, &request, &said).has_add);
}

/* A part of the liquid is measured on the syringe that it is in, and on no other. */
static void a_part_of_a_liquid_syringe_is_measured_on_it(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = powder(arena, "250 mcg", "1 mL");
	product.diluent.supplied = stated_of(arena, "1.5 mL", 16);
	product.draw_with = DRAW_WITH_LIQUID_SYRINGE;
	product.syringe = hand_syringe("S2");
	struct draw_request request = request_of(arena, &product, "125 mcg");
	struct draw draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.add), "add S2 1 1:1");
	check_text(mark_text(arena, &draw.mark), "draw S2 0.5 1:2");

	const struct in_box box[] = {{.kind = BOX_SWAB, .count = 2},
	                             {.kind = BOX_SYRINGE, .syringe = hand_syringe("S3")},
	                             {.kind = BOX_SYRINGE, .syringe = hand_syringe("S5")}};
	product.draw_with = DRAW_WITH_OWN;
	product.syringe = hand_syringe("T1");
	product.comes_with = box;
	product.n_comes_with = 2;
	draw = drawn(arena, &request, &said);
	check_text(mark_text(arena, &draw.add), "add S3 1 1:1");
	check_text(mark_text(arena, &draw.mark), "draw T1 0.5 1:2");
	product.n_comes_with = 3; /* which of the two is it? */
	refused(arena, &request, "no-scale", &said);
}

/* ---- pens ---- */

static void a_pen_is_dialled(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = pen(arena, "900 units", "12.5 units", "12.5 units", "450 units");
	static const char *const doses[] = {"12.5 units", "187.5 units", "450 units"};
	for (size_t i = 0; i < 3; i++) {
		struct draw_request request = request_of(arena, &product, doses[i]);
		struct draw draw = drawn(arena, &request, &said);
		assert_int_equal(draw.measure, MEASURE_DIAL);
		check_text(plain(arena, draw.dial), doses[i]);
		check_text(plain(arena, draw.priming), "0 units");
		assert_int_equal(said.n, 0);
	}
}

static void a_pen_in_its_own_unit(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = pen(arena, "900 units", "1 mcg", NULL, NULL);
	product.also_labelled = stated_of(arena, "66 mcg", 17);
	product.dial.priming = stated_of(arena, "2 mcg", 18);
	struct draw_request request = request_of(arena, &product, "300 units");
	struct draw draw = drawn(arena, &request, &said);
	check_text(plain(arena, draw.dial), "22 mcg"); /* 300 of 900 units, of 66 mcg */
	check_text(plain(arena, draw.priming), "2 mcg");
	request.dose = amount_of(arena, "22 mcg");
	check_text(plain(arena, drawn(arena, &request, &said).dial), "22 mcg");
	product.dial.priming = stated_of(arena, "0 units", 18); /* nothing is nothing in any unit */
	check_text(plain(arena, drawn(arena, &request, &said).priming), "0 mcg");

	product.volume = stated_of(arena, "1.5 mL", 12); /* that there is a volume too changes nothing */
	product.dial.priming.given = false;
	request.dose = amount_of(arena, "300 units");
	check_text(plain(arena, drawn(arena, &request, &said).dial), "22 mcg");

	product = pen(arena, "0.9 mg", "5 mcg", "5 mcg", "0.1 mg");
	request.dose = amount_of(arena, "0.1 mg");
	check_text(plain(arena, drawn(arena, &request, &said).dial), "100 mcg");

	product = pen(arena, "900 units", "0.1 mL", NULL, "0.5 mL");
	product.volume = stated_of(arena, "1.5 mL", 12);
	request.dose = amount_of(arena, "180 units");
	struct draw by_volume = drawn(arena, &request, &said);
	check_text(plain(arena, by_volume.dial), "0.3 mL");
	check_text(plain(arena, by_volume.concentration), "600 units");
}

/* 0 below the first step, where the dial rests; none above the most; each one step away. */
static void neighbours_on_a_dial(void **state)
{
	static const struct {
		const char *dose, *below, *above;
	} rows[] = {{"12.5 units", "0 units", "25 units"},
	            {"150 units", "137.5 units", "162.5 units"},
	            {"437.5 units", "425 units", "450 units"},
	            {"450 units", "437.5 units", NULL}};
	struct arena *arena = case_of(state)->arena;
	struct product product = pen(arena, "900 units", "12.5 units", "12.5 units", "450 units");
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct dial_neighbours next = dial_neighbours(&product, amount_of(arena, rows[i].dose));
		assert_true(next.has_below);
		check_text(plain(arena, next.below), rows[i].below);
		assert_int_equal(next.has_above, rows[i].above != NULL);
		if (next.has_above)
			check_text(plain(arena, next.above), rows[i].above);
	}
	product.dial.most.given = false;
	assert_true(dial_neighbours(&product, amount_of(arena, "450 units")).has_above);
}

/* ---- counted forms ---- */

static void forms_are_counted(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	static const struct {
		const char *strength;
		const char *also;
		bool halves;
		const char *dose;
		const char *count;
	} rows[] = {{"1 tablet", NULL, false, "2 tablets", "2 tablets"},
	            {"1 tablet", NULL, true, "0.5 tablet", "0.5 tablets"},
	            {"1 tablet", NULL, true, "1.5 tablets", "1.5 tablets"},
	            {"1 patch", NULL, false, "2 patches", "2 patches"},
	            {"1 tablet", "2 mg", false, "4 mg", "2 tablets"},
	            {"1 tablet", "2 mg", true, "3 mg", "1.5 tablets"},
	            {"30 tablets", "60 mg", false, "4000 mcg", "2 tablets"},
	            {"1 insert", NULL, false, "1 insert", "1 insert"}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct product product = {.id = "p", .container = CONTAINER_COUNTED, .halves = rows[i].halves};
		product.strength = stated_of(arena, rows[i].strength, 11);
		product.also_labelled = stated_of(arena, rows[i].also, 17);
		struct draw_request request = request_of(arena, &product, rows[i].dose);
		struct draw draw = drawn(arena, &request, &said);
		assert_int_equal(draw.measure, MEASURE_COUNT);
		check_text(plain(arena, draw.count), rows[i].count);
	}
}

/* ---- all faults at once ---- */

static void dose_and_liquid_are_both_said(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = powder(arena, "375 units", "1.45 mL");
	product.diluent.comes_as = LIQUID_AMPOULE;
	product.syringe = hand_syringe("T1");
	struct draw_request request = request_of(arena, &product, "100 units");
	refused(arena, &request, "volume-between-lines", &said);
	assert_int_equal(said.n, 2);
	assert_int_equal(said.list[0].place.line, 15);
	assert_int_equal(said.list[1].place.line, 7);
}

/* A sentence without a medicine's name, and with the decimal mark of the clinic's country. */
static void sentences_follow_what_is_known(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings said;
	struct product product = solution(arena, "600 units/mL", NULL);
	struct draw_request request = request_of(arena, &product, "75 units");
	request.syringe = hand_syringe("T1");
	request.name = NULL;
	request.mark = DECIMAL_COMMA;
	refused(arena, &request, "volume-between-lines", &said);
	check_text(said.list[0].says,
	           "75 units is 0,125 mL, between 0,12 mL (72 units) and 0,13 mL (78 units) on the syringe "
	           "'T1'; order an amount that has a line, or name a finer syringe");
}

#define TEST(name)          \
	{                   \
#name, name \
	}

int main(void)
{
	static const struct {
		const char *name;
		CMUnitTestFunction function;
	} all[] = {
		TEST(a_container_holds_its_strength),
		TEST(displacement_adds_to_the_volume),
		TEST(a_label_implies_its_displacement),
		TEST(a_label_may_imply_nothing),
		TEST(a_label_near_enough_rules),
		TEST(a_label_in_another_unit_is_the_same),
		TEST(powders_share_a_liquid),
		TEST(a_label_of_one_powder_serves_several),
		TEST(the_liquid_used_counts),
		TEST(numbers_too_long_are_refused),
		TEST(an_order_in_the_boxes_other_unit),
		TEST(an_order_as_a_volume),
		TEST(an_order_of_all_the_volume),
		TEST(a_label_alone),
		TEST(a_half_from_a_powder),
		TEST(the_users_syringe_goes_before_the_products),
		TEST(picking_leaves_room_for_air),
		TEST(picking_takes_plain_ones_in_the_order_of_stock),
		TEST(lines_beside_a_volume),
		TEST(lines_are_called_as_they_are_numbered),
		TEST(injections_that_would_do),
		TEST(one_line_off_is_a_tenth),
		TEST(rounding_goes_to_the_nearest_line),
		TEST(rounding_is_not_used_where_a_line_is),
		TEST(rounding_takes_the_smallest_that_is_near_enough),
		TEST(rounding_at_its_limit_is_allowed),
		TEST(a_rounded_stop_line_stands_at_the_nearest),
		TEST(a_whole_container_has_no_line),
		TEST(a_whole_container_to_its_mark),
		TEST(less_than_all_is_never_all),
		TEST(all_of_a_vial_that_is_kept_has_a_line),
		TEST(whole_in_the_liquids_own_syringe),
		TEST(three_powders_are_one_injection),
		TEST(a_filled_syringe_given_whole),
		TEST(a_part_pushed_out_first),
		TEST(a_part_injected_to_a_line),
		TEST(a_stop_line_is_no_dose),
		TEST(liquid_from_an_ampoule_is_measured),
		TEST(liquid_is_left_open_only_for_a_whole_dose),
		TEST(all_of_a_liquid_syringe_is_not_measured),
		TEST(a_part_of_a_liquid_syringe_is_measured_on_it),
		TEST(a_pen_is_dialled),
		TEST(a_pen_in_its_own_unit),
		TEST(neighbours_on_a_dial),
		TEST(forms_are_counted),
		TEST(dose_and_liquid_are_both_said),
		TEST(sentences_follow_what_is_known),
	};
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof all / sizeof *all; i++)
		tests_add(&tests, all[i].name, all[i].function, NULL);
	return tests_run(&tests, "kinds of draw");
}
