/*
 * medicine.c - one medicine, one sheet: the front prepares, the back draws and injects.
 */
#include "page/medicine.h"

#include "page/large.h"
#include "page/sections.h"
#include "page/syringe_geometry.h"

#include <string.h>

struct text_style medicine_style(const struct composer *composer, enum type_role role, enum text_weight weight)
{
	struct text_style style = composer_style(composer, role, weight);
	style.leading = composer->large_print ? large_style(composer, role, weight).leading : TEXT_LEADING;
	return style;
}

/* The page on which the patient's own line stands. */
static const char *line_page(struct composer *composer, const struct medicine_sheet *sheet)
{
	return composer_label_of_line(composer,
	                              sheet->back_elsewhere ? sheet->back_section : composer_section_ref(composer));
}

const char *medicine_goes_on(struct composer *composer, const struct medicine_sheet *sheet)
{
	struct speaker *speaker = composer->speaker;
	bool mixes = sheet->mix != NULL || sheet->chain != NULL;
	if (sheet->n_back == 0 && sheet->part == NULL && !mixes)
		return NULL;
	section_ref section = sheet->back_elsewhere && !mixes ? sheet->back_section : composer_section_ref(composer);
	const char *back = composer_label_of_back(composer, section);
	if (sheet->chain != NULL)
		return say1(speaker, "medicine.then_chain", "page", back);
	const char *step = composer_label_of_step(composer, section, sheet->goes_on);
	const char *number = say_number(speaker, rational_of(sheet->goes_on, 1));
	if (step == NULL || strcmp(step, back) == 0)
		return say2(speaker, "medicine.back_steps", "steps", number, "page", back);
	struct value values[] = {{"next", back}, {"steps", number}, {"page", step}};
	return say(speaker, "medicine.back_steps_after", values, 3);
}

static const struct mix_page *mix_with_pages(struct composer *composer, const struct medicine_sheet *sheet)
{
	struct mix_page *mix = arena_alloc(composer->arena, sizeof *mix);
	if (sheet->mix == NULL)
		return NULL;
	*mix = *sheet->mix;
	mix->lead = composer_fill_page(composer, mix->lead, line_page(composer, sheet));
	mix->only_when = composer_fill_page(composer, mix->only_when, line_page(composer, sheet));
	return mix;
}

/* A small drawing beside a step must not show another dose than the line of the sheet. */
static double dose_ring_of(const struct medicine_sheet *sheet)
{
	const struct mark *mark = &sheet->draw->mark;
	if (!medicine_has_syringe(sheet) || mark->all || mark->line != LINE_DRAW)
		return 0;
	return measure_of(mark->at) / measure_of(mark->syringe->graduated);
}

/* The last step sends to where the helper's pages begin. */
static const struct step *back_with_pages(struct composer *composer, const struct medicine_sheet *sheet)
{
	struct step *steps = arena_alloc(composer->arena, (sheet->n_back + 1) * sizeof *steps);
	section_ref own = composer_section_ref(composer);
	const char *page = composer_label_of_part(composer, own, sheet->muscle);
	for (size_t i = 0; i < sheet->n_back; i++) {
		steps[i] = sheet->back[i];
		steps[i].text = composer_fill_page(composer, steps[i].text,
		                                   page == NULL ? composer_label_of(composer, own, 0) : page);
	}
	return steps;
}

/* Where its lead sends first: to the page of a shared vial, or to an exact time's alarms, pages on in large print. */
static const char *lead_page(struct composer *composer, const struct medicine_sheet *sheet)
{
	const struct section *lead = &composer->handout->sections[sheet->lead_section];
	const char *alarms = lead->kind != SECTION_EXACT
	                             ? NULL
	                             : composer_label_of_part(composer, sheet->lead_section, lead->exact->alarms);
	return alarms != NULL ? alarms : composer_label_of(composer, sheet->lead_section, 0);
}

/* With where to begin, and where to tick if that is pages on. */
static const char *other_days(struct composer *composer, const struct medicine_sheet *sheet)
{
	const struct vial_log *log = sheet->vials;
	const char *line = line_page(composer, sheet);
	if (sheet->other_days == NULL)
		return NULL;
	const char *begin = composer_fill_page(composer, sheet->other_days, line);
	const char *squares = log == NULL || log->n_rows == 0
	                              ? NULL
	                              : composer_label_of_part(composer, composer_section_ref(composer),
	                                                       log->rows[0].squares[0].dose);
	if (squares == NULL || strcmp(squares, line) == 0)
		return begin;
	return arena_printf(composer->arena, "%s %s", begin,
	                    composer_fill_page(composer, sheet->squares_page, squares));
}

/* With the numbers of the pages that its words name. */
static struct medicine_sheet *with_pages(struct composer *composer, const struct medicine_sheet *of)
{
	struct medicine_sheet *sheet = arena_alloc(composer->arena, sizeof *sheet);
	*sheet = *of;
	if (sheet->lead_section >= 0) {
		sheet->front_lead = composer_fill_page(composer, sheet->front_lead, lead_page(composer, sheet));
		sheet->back_lead = composer_fill_page(composer, sheet->back_lead, lead_page(composer, sheet));
	}
	sheet->mix = mix_with_pages(composer, sheet);
	sheet->other_days = other_days(composer, of);
	sheet->back = back_with_pages(composer, sheet);
	return sheet;
}

const struct medicine_sheet *medicine_for_back(struct composer *composer, const struct medicine_sheet *of)
{
	struct medicine_sheet *sheet = with_pages(composer, of);
	sheet->caution = NULL;
	return sheet;
}

void medicine_begin(struct composer *composer, const struct medicine_sheet *sheet)
{
	composer->dose_ring = dose_ring_of(sheet);
	composer->one_needle = sheet->one_needle;
}

void medicine_place(struct composer *composer, const struct medicine_sheet *of)
{
	const struct medicine_sheet *sheet = medicine_for_back(composer, of);
	medicine_begin(composer, sheet);
	medicine_front(composer, with_pages(composer, of));
	composer_begin_back(composer);
	if (sheet->mix != NULL)
		medicine_mix(composer, with_pages(composer, of));
	if (sheet->chain != NULL)
		medicine_chain(composer, sheet);
	bool all = true;
	if (sheet->part != NULL) {
		medicine_part(composer, sheet);
	} else if (!chain_is_back(sheet) && !sheet->back_elsewhere) {
		composer_begin_line(composer);
		all = medicine_back(composer, sheet);
	}
	if (sheet->muscle != NULL)
		medicine_muscle(composer, sheet, !all);
}
