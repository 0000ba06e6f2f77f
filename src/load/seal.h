/*
 * seal.h - a digest of what an entry means, however it is written.
 *
 * A seal is the SHA-256 of a canonical text: every field that was given, in a
 * fixed order, amounts as fractions with the unit that was written (a dose in mg
 * and one in mcg are two orders, '1,000 units' and '1000 units' are one). So
 * comments, the order of keys, quotes and a default that is written out change
 * nothing; a dose, a word or a limit does. What an entry only names (a
 * product's syringe, an item's medicine) is sealed by itself. What a course is
 * counted by is taken in as well: a slot's clock time is part of each protocol
 * that uses it, and the zone part of the plan.
 */
#ifndef LOAD_SEAL_H
#define LOAD_SEAL_H

#include "model/plan.h"

/* Each returns 64 hexadecimal digits. */
/* Of clinic.yaml: telephones, when the day begins, slots, zone, and whatever else stands there. */
const char *seal_clinic(struct arena *arena, const struct clinic *clinic);
const char *seal_medicine(struct arena *arena, const struct medicine *medicine);
const char *seal_stand_in(struct arena *arena, const struct product *product);
const char *seal_syringe(struct arena *arena, const struct syringe *syringe);
const char *seal_protocol(struct arena *arena, const struct protocol *protocol);
/* Of the clinic's own messages only. */
const char *seal_words(struct arena *arena, const struct wording *own);
const char *seal_technique(struct arena *arena, const struct technique_template *technique);
const char *seal_pages(struct arena *arena, const struct page_templates *templates);
/* Not in it, as they change no order: language, paper, large print. */
const char *seal_plan(struct arena *arena, const struct plan *plan);

#endif
