/*
 * draws.h - syringes, products and orders made by hand, for the tests of what is drawn.
 *
 * The syringes are those of the published tables, by their ids there, and not read from the program's own file.
 */
#ifndef SUPPORT_DRAWS_H
#define SUPPORT_DRAWS_H

#include "plan/draw.h"

/* "S3": 3 mL with a line every 0.1 mL, and so on; NULL for "NONE"; the test fails for an id that is not there. */
const struct syringe *hand_syringe(const char *id);

/* The plain mL ones, T1 S2 S3 S5 S10 S20. */
enum { N_HAND_STOCK = 6 };
extern const struct syringe *const hand_stock[N_HAND_STOCK];

/* The amount that a text says, "250 mcg", "0 mL", "250 mcg/mL"; the test fails where it says none. */
struct quantity amount_of(struct arena *arena, const char *text);
struct quantity amount_in_ml_of(struct arena *arena, const char *text);

/* A decimal as the published tables write one, "0.420" too. */
struct rational decimal_of(const char *text);

/* The same as somebody stated it, at a place of its own: line `line` of formulary.yaml. NULL: not given. */
struct stated_quantity stated_of(struct arena *arena, const char *text, int line);

/* Places in the two files that a test speaks of. */
struct place formulary_at(int line);
struct place order_at(int line);

/* A request for `dose` of `product` at order_at(7), of the medicine 'testol', from hand_stock. */
struct draw_request request_of(struct arena *arena, const struct product *product, const char *dose);

/* "1:4", as the published tables write an exact volume. */
const char *ratio_of(struct arena *arena, struct rational number);

#endif
