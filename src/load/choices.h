/*
 * choices.h - the words that the files have for the model's kinds: read by them, and sealed by them.
 */
#ifndef LOAD_CHOICES_H
#define LOAD_CHOICES_H

#include "load/values.h"

extern const struct choice choices_container[];
extern const struct choice choices_route[];
extern const struct choice choices_mix[];
extern const struct choice choices_vessel[];
extern const struct choice choices_draw_with[];
extern const struct choice choices_whole[];
extern const struct choice choices_part[];
extern const struct choice choices_share_place[];
extern const struct choice choices_share_way[];
extern const struct choice choices_bubble[];
extern const struct choice choices_air[];
extern const struct choice choices_pen_test[];
extern const struct choice choices_pen_end[];
extern const struct choice choices_division[];
extern const struct choice choices_box_needle[];
extern const struct choice choices_rounding_aim[];
extern const struct choice choices_needle[];
extern const struct choice choices_time_is[];
extern const struct choice choices_weekday[];
extern const struct choice choices_rotation[];
extern const struct choice choices_paper[];
extern const struct choice choices_away_keep[];
extern const struct choice choices_side[];
extern const struct choice choices_trigger[];
extern const struct choice choices_amount[];
extern const struct choice choices_change[];
extern const struct choice choices_in_box[];

/* The word of a value; every value of the model's kinds has one. */
const char *choice_word(const struct choice *choices, int value);

#endif
