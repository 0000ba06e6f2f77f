#include "support/draws.h"

#include "support/cases.h"

#include <inttypes.h>
#include <string.h>

#define ML_SCALE .units_per_ml = {1, 1}
#define UNIT_SCALE(units) .unit_scale = true, .units_per_ml = {units, 1}, .fixed_needle = true

static const struct syringe syringes[] = {
	{.id = "T1", .capacity = {1, 1}, .graduated = {1, 1}, .step = {1, 100}, ML_SCALE},
	{.id = "S2", .capacity = {2, 1}, .graduated = {2, 1}, .step = {1, 10}, ML_SCALE},
	{.id = "S3", .capacity = {3, 1}, .graduated = {3, 1}, .step = {1, 10}, ML_SCALE},
	{.id = "S5", .capacity = {5, 1}, .graduated = {5, 1}, .step = {1, 5}, ML_SCALE},
	{.id = "S10", .capacity = {10, 1}, .graduated = {10, 1}, .step = {1, 5}, ML_SCALE},
	{.id = "S20", .capacity = {20, 1}, .graduated = {20, 1}, .step = {1, 1}, ML_SCALE},
	{.id = "U100-1-2", .capacity = {1, 1}, .graduated = {1, 1}, .step = {1, 50}, UNIT_SCALE(100)},
	{.id = "U100-1-1", .capacity = {1, 1}, .graduated = {1, 1}, .step = {1, 100}, UNIT_SCALE(100)},
	{.id = "U100-05", .capacity = {1, 2}, .graduated = {1, 2}, .step = {1, 100}, UNIT_SCALE(100)},
	{.id = "U100-03", .capacity = {3, 10}, .graduated = {3, 10}, .step = {1, 100}, UNIT_SCALE(100)},
	{.id = "U100-03h", .capacity = {3, 10}, .graduated = {3, 10}, .step = {1, 200}, UNIT_SCALE(100)},
	{.id = "U500", .capacity = {1, 2}, .graduated = {1, 2}, .step = {1, 100}, UNIT_SCALE(500)},
	{.id = "U40-1", .capacity = {1, 1}, .graduated = {1, 1}, .step = {1, 40}, UNIT_SCALE(40)},
	{.id = "P025", .capacity = {1, 1}, .graduated = {1, 1}, .step = {1, 40}, ML_SCALE, .fixed_needle = true},
};

const struct syringe *const hand_stock[N_HAND_STOCK] = {&syringes[0], &syringes[1], &syringes[2],
                                                        &syringes[3], &syringes[4], &syringes[5]};

const struct syringe *hand_syringe(const char *id)
{
	for (size_t i = 0; i < sizeof syringes / sizeof *syringes; i++)
		if (strcmp(syringes[i].id, id) == 0)
			return &syringes[i];
	if (strcmp(id, "NONE") != 0)
		fail_msg("no syringe '%s'", id);
	return NULL;
}

struct quantity amount_of(struct arena *arena, const char *text)
{
	struct quantity quantity = {{0, 1}, UNIT_NONE};
	struct quantity_fault fault;
	if (!quantity_read_or_zero(arena, text, DECIMAL_POINT, &quantity, &fault))
		fail_msg("'%s' is refused: %s", text, fault.says);
	return quantity;
}

struct quantity amount_in_ml_of(struct arena *arena, const char *text)
{
	struct quantity quantity = {{0, 1}, UNIT_NONE};
	struct quantity_fault fault;
	if (!concentration_read(arena, text, DECIMAL_POINT, &quantity, &fault))
		fail_msg("'%s' is refused: %s", text, fault.says);
	return quantity;
}

struct rational decimal_of(const char *text)
{
	int64_t digits = 0;
	int64_t scale = 0;
	const char *from = *text == '+' || *text == '-' ? text + 1 : text;
	assert_true(*from != 0);
	for (; *from; from++) {
		if (*from == '.' && scale == 0) {
			scale = 1;
			continue;
		}
		if (*from < '0' || *from > '9')
			fail_msg("'%s' is not a decimal", text);
		digits = digits * 10 + (*from - '0');
		scale *= 10;
	}
	return rational_of(*text == '-' ? -digits : digits, scale > 0 ? scale : 1);
}

static const struct source_file formulary_file = {.name = "formulary.yaml"};
static const struct source_file order_file = {.name = "plan.yaml"};

struct place formulary_at(int line)
{
	return (struct place){&formulary_file, line, 3};
}

struct place order_at(int line)
{
	return (struct place){&order_file, line, 11};
}

struct stated_quantity stated_of(struct arena *arena, const char *text, int line)
{
	if (!text)
		return (struct stated_quantity){.given = false, .place = formulary_at(line)};
	struct quantity quantity = strchr(text, '/') ? amount_in_ml_of(arena, text) : amount_of(arena, text);
	return (struct stated_quantity){.given = true, .quantity = quantity, .place = formulary_at(line)};
}

struct draw_request request_of(struct arena *arena, const struct product *product, const char *dose)
{
	return (struct draw_request){.dose = amount_of(arena, dose),
	                             .product = product,
	                             .containers = 1,
	                             .stock = hand_stock,
	                             .n_stock = N_HAND_STOCK,
	                             .place = order_at(7),
	                             .name = "testol"};
}

const char *ratio_of(struct arena *arena, struct rational number)
{
	return arena_printf(arena, "%" PRId64 ":%" PRId64, number.numerator, number.denominator);
}
