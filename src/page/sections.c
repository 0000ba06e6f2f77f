#include "page/sections.h"

void section_place(struct composer *composer)
{
	const struct section *section = composer->section;
	switch (section->kind) {
	case SECTION_OVERVIEW:
		overview_place(composer, section->overview);
		break;
	case SECTION_GRID:
		grid_place(composer, section->grid);
		break;
	case SECTION_MEDICINE:
		medicine_place(composer, section->medicine);
		break;
	case SECTION_SPLIT:
		split_place(composer, section->split);
		break;
	case SECTION_PEN:
		pen_place(composer, section->pen);
		break;
	case SECTION_PENS:
		pens_place(composer, section->pens);
		break;
	case SECTION_COUNTED:
		counted_place(composer, section->counted);
		break;
	case SECTION_EXACT:
		exact_place(composer, section->exact);
		break;
	case SECTION_WAITING:
		waiting_place(composer, section->waiting);
		break;
	case SECTION_OPTIONS:
		options_place(composer, section->options);
		break;
	case SECTION_CHANGE:
		change_place(composer, section->change);
		break;
	case SECTION_NOTES:
		notes_place(composer, section->notes);
		break;
	case SECTION_SUPPLIES:
		supplies_place(composer, section->supplies);
		break;
	case SECTION_BEFORE:
		before_place(composer, section->before);
		break;
	case SECTION_TEACH:
		teach_place(composer, section->teach);
		break;
	case SECTION_CHECK:
		check_place(composer, section->check);
		break;
	case SECTION_BLIND:
		blind_place(composer, section->blind);
		break;
	}
}
