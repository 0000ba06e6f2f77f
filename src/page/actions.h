/*
 * actions.h - the words of a step: each action begins a line of its own.
 *
 * A newline in a step's text ends an action. Each is a paragraph, so that eye
 * and screen reader take one thing to do at a time; where there are several,
 * each has a dot before it.
 */
#ifndef PAGE_ACTIONS_H
#define PAGE_ACTIONS_H

#include "page/composer.h"

/* From the first action's cap top to the last one's baseline, wrapped at `width`. */
double actions_height(struct composer *composer, const char *text, struct text_style style, double width);

/* Puts them below one another, with a small gap; returns what they take up. */
struct rect put_actions(struct composer *composer, const char *text, struct text_style style, double x, double y,
                        double width);

#endif
