/*
 * caution.h - the frame of a caution: rust, with a bar at its head, triangle and signal word before the sentence.
 */
#ifndef PAGE_CAUTION_H
#define PAGE_CAUTION_H

#include "page/composer.h"

/* The frame with its bar alone, across the live width; `y` is its upper edge, `height` its whole height. */
void put_caution_frame(struct composer *composer, double y, double height);

/* A caution of normal print; `text` NULL: none, 0 high. */
double caution_height(struct composer *composer, const char *word, const char *text);
void put_caution(struct composer *composer, const char *word, const char *text, double y);

/* The same of a warning, what could kill or harm for good: its sentence is bold and as large as `role` says. */
double warning_height(struct composer *composer, const char *word, struct emergency emergency, enum type_role role);
void put_warning(struct composer *composer, const char *word, struct emergency emergency, enum type_role role,
                 double y);

/* What the words of an emergency take: a line to write on follows them where they give no number. */
double emergency_height(struct composer *composer, struct emergency emergency, struct text_style style, double width);
void put_emergency(struct composer *composer, struct emergency emergency, struct text_style style, double x, double y,
                   double width);

#endif
