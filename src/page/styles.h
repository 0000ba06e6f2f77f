/*
 * styles.h - the types of a page by short names, for files that set many texts.
 *
 * Where a page short of room sets its lines closer, medicine_style() has them; large_style() has those of large print.
 */
#ifndef PAGE_STYLES_H
#define PAGE_STYLES_H

#include "page/composer.h"

static inline struct text_style bold(const struct composer *composer, enum type_role role)
{
	return composer_style(composer, role, WEIGHT_BOLD);
}

static inline struct text_style regular(const struct composer *composer, enum type_role role)
{
	return composer_style(composer, role, WEIGHT_REGULAR);
}

/* How high a capital of that type is, in either weight, mm: what lines and boxes are placed by. */
static inline double cap(const struct composer *composer, enum type_role role)
{
	return text_cap_height(bold(composer, role));
}

#endif
