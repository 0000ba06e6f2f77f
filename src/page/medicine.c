/*
 * medicine.c - one medicine, one sheet: the front prepares, the back draws and injects.
 */
#include "page/medicine.h"

#include "page/large.h"

#include "page/sections.h"

struct text_style medicine_style(const struct composer *composer, enum type_role role, enum text_weight weight)
{
	struct text_style style = composer_style(composer, role, weight);
	style.leading = composer->large_print ? large_style(composer, role, weight).leading : TEXT_LEADING;
	return style;
}

void medicine_continue(struct composer *composer, const char *title, const char *lead)
{
	composer_new_page(composer, say1(composer->speaker, "page.continued", "title", title), lead);
}

void medicine_place(struct composer *composer, const struct medicine_sheet *sheet)
{
	medicine_front(composer, sheet);
	if (sheet->mix != NULL)
		medicine_mix(composer, sheet);
	if (sheet->chain != NULL)
		medicine_chain(composer, sheet);
	if (sheet->part != NULL)
		medicine_part(composer, sheet);
	else if (!chain_is_back(sheet) && !sheet->back_elsewhere)
		medicine_back(composer, sheet);
	if (sheet->muscle != NULL)
		medicine_muscle(composer, sheet);
}
