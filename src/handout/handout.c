/*
 * handout.c - which sections a packet has, and what stands on every page.
 *
 * First the variants are found: doses of an item that are measured alike share
 * a sheet, so a half dose and a full one never do. Then the sections are
 * numbered in the order of the clinic's template, since they point at one
 * another, and only then filled.
 */
#include "handout/handout.h"

#include "handout/build.h"
#include "plan/draw.h"

#include <assert.h>
#include <string.h>

static bool same_mark(const struct mark *a, const struct mark *b)
{
	return a->line == b->line && a->syringe == b->syringe && a->all == b->all &&
	       rational_compare(a->at, b->at) == 0;
}

/* Powder is mixed once: a later draw from the same vial has no liquid to add. */
static bool mixes(const struct draw *draw)
{
	return draw->product->container == CONTAINER_POWDER_VIAL && draw_opens(draw);
}

bool draws_alike(const struct draw *a, const struct draw *b)
{
	if (a->measure != b->measure || a->product != b->product || !quantity_same(a->dose, b->dose) ||
	    mixes(a) != mixes(b))
		return false;
	/* What is counted out is the same, from however many packs. */
	if (a->measure != MEASURE_COUNT && a->n_containers != b->n_containers)
		return false;
	switch (a->measure) {
	case MEASURE_SYRINGE:
		return same_mark(&a->mark, &b->mark) && a->has_add == b->has_add &&
		       (!a->has_add || same_mark(&a->add, &b->add));
	case MEASURE_DIAL:
		return quantity_same(a->dial, b->dial);
	case MEASURE_COUNT:
		break;
	}
	return quantity_same(a->count, b->count);
}

bool draw_mixed_apart(const struct draw *draw)
{
	return draw->has_add && draw->product->in_use.given && draw_two_syringes(draw);
}

static void as_opened(struct draw *later, const struct draw *opening)
{
	later->has_add = opening->has_add;
	later->add = opening->add;
	if (later->n_containers == opening->n_containers)
		later->containers = opening->containers;
}

/* What comes from a vial that an earlier dose opened and mixed is drawn as that one was: that is no difference between them. */
static bool is_of_variant(const struct variant *variant, const struct dose *dose, size_t draw_index)
{
	struct draw draw = dose->draws[draw_index];
	struct draw own = *variant->draw;
	if ((dose->half == HALF_SECOND && !draw.has_add) || (draw_mixed_apart(&own) && !draw_opens(&draw)))
		as_opened(&draw, &own);
	else if (draw_mixed_apart(&draw) && !draw_opens(&own))
		as_opened(&own, &draw);
	/* A half of two injections is no dose of its own: its sheet says to inject again. */
	return variant->item == dose->item && draws_alike(&own, &draw) &&
	       dose_at_two_places(variant->dose) == dose_at_two_places(dose);
}

static struct variant *find_variant(const struct build *build, const struct dose *dose, size_t draw_index)
{
	for (size_t i = 0; i < build->n_variants; i++)
		if (is_of_variant(&build->variants[i], dose, draw_index))
			return &build->variants[i];
	return NULL;
}

const struct variant *variant_of(const struct build *build, const struct dose *dose, size_t draw_index)
{
	return find_variant(build, dose, draw_index);
}

/* The first dose may come from a vial in use; the sheet is that of the one that opens a new vial. */
static void prefer_opening(struct variant *variant, const struct dose *dose, size_t draw_index)
{
	const struct draw *draw = &dose->draws[draw_index];
	if (!draw->has_add || variant->draw->has_add)
		return;
	variant->dose = dose;
	variant->draw = draw;
	variant->draw_index = draw_index;
}

/* A dose as a call that sets this amount would make it. */
static struct dose dose_as_told(const struct dose *dose, const struct dose_option *option)
{
	struct dose told = *dose;
	told.ordered = option->amount;
	told.draws = option->draws;
	told.n_draws = option->n_draws;
	return told;
}

/* True when it is one of two injections of an amount that a call may set. */
static bool is_told_for_two_places(const struct build *build, const struct draw *draw)
{
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		for (size_t j = 0; j < dose->n_options; j++) {
			struct dose told = dose_as_told(dose, &dose->options[j]);
			for (size_t k = 0; k < told.n_draws; k++)
				if (&told.draws[k] == draw)
					return dose_at_two_places(&told);
		}
	}
	return false;
}

const struct variant *variant_of_draw(const struct build *build, const struct item *item, const struct draw *draw)
{
	bool two = is_told_for_two_places(build, draw);
	for (size_t i = 0; i < build->n_variants; i++)
		if (build->variants[i].item == item && draws_alike(build->variants[i].draw, draw) &&
		    dose_at_two_places(build->variants[i].dose) == two)
			return &build->variants[i];
	return NULL;
}

static void add_variant(struct build *build, const struct dose *dose, const struct draw *draw, size_t draw_index)
{
	build->variants = arena_more(build->arena, build->variants, build->n_variants, sizeof *build->variants);
	build->variants[build->n_variants++] =
		(struct variant){dose->item, dose, draw, draw_index, -1, -1, -1, -1, false};
}

/* Two injections are told of as those of a dose are: its sheet speaks of both. */
static void add_told(struct build *build, const struct dose *dose, const struct dose_option *option, size_t draw_index)
{
	struct dose told = dose_as_told(dose, option);
	if (dose_at_two_places(&told)) {
		struct dose *kept = arena_alloc(build->arena, sizeof *kept);
		*kept = told;
		dose = kept;
	}
	add_variant(build, dose, &option->draws[draw_index], draw_index);
}

/* Amounts that a call may set have sheets too: whoever is called at ten at night has them at hand. */
void build_variants(struct build *build)
{
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		for (size_t j = 0; j < dose->n_draws; j++) {
			struct variant *known = find_variant(build, dose, j);
			if (known == NULL)
				add_variant(build, dose, &dose->draws[j], j);
			else
				prefer_opening(known, dose, j);
		}
		for (size_t j = 0; j < dose->n_options; j++)
			for (size_t k = 0; k < dose->options[j].n_draws; k++)
				if (variant_of_draw(build, dose->item, &dose->options[j].draws[k]) == NULL)
					add_told(build, dose, &dose->options[j], k);
	}
}

bool is_whole_dose(const struct build *build, const struct variant *variant)
{
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (dose->item == variant->item && dose->n_draws == 1 && variant_of(build, dose, 0) == variant)
			return true;
		for (size_t j = 0; j < dose->n_options && dose->item == variant->item; j++)
			if (dose->options[j].n_draws == 1 &&
			    variant_of_draw(build, dose->item, &dose->options[j].draws[0]) == variant)
				return true;
	}
	return false;
}

const struct line_pages *pages_of_item(const struct build *build, const struct item *item)
{
	static const struct line_pages none = {-1, -1};
	for (size_t i = 0; build->lines != NULL && i < build->course->n_runs; i++)
		if (build->course->runs[i].item == item)
			return &build->lines[i];
	return &none;
}

static bool variant_is_split(const struct build *build, const struct variant *variant)
{
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (dose->item == variant->item && dose->half == HALF_SECOND && dose->n_draws > 0 &&
		    variant_of(build, dose, 0) == variant)
			return true;
	}
	return false;
}

/* ---- the list of sections ---- */

/* What a section is about; all NULL where it is about the whole course. */
struct subject {
	const struct variant *variant;
	const struct dose *dose; /* SECTION_PENS: the first of those that its pens serve alike; SECTION_EXACT: which */
	const struct item_run *run; /* SECTION_WAITING, SECTION_OPTIONS */
};

struct section_list {
	struct arena *arena;
	struct section *sections;
	struct subject *subjects; /* of each */
	size_t n;
};

static section_ref add_section(struct section_list *list, enum section_kind kind, struct subject subject)
{
	list->sections = arena_more(list->arena, list->sections, list->n, sizeof *list->sections);
	list->subjects = arena_more(list->arena, list->subjects, list->n, sizeof *list->subjects);
	list->sections[list->n] = (struct section){.kind = kind,
	                                           .staff = kind == SECTION_CHECK || kind == SECTION_TEACH,
	                                           .item = subject.variant == NULL ? NULL : subject.variant->item,
	                                           .next = -1};
	list->subjects[list->n] = subject;
	return (section_ref)list->n++;
}

/* A reader who is sent to a medicine's first page must find its other amounts, too. */
static void chain_sections(struct section_list *list)
{
	for (size_t i = 0; i < list->n; i++) {
		const struct variant *variant = list->subjects[i].variant;
		for (size_t j = i + 1; variant != NULL && j < list->n && list->sections[i].next < 0; j++)
			if (list->subjects[j].variant != NULL && list->subjects[j].variant->item == variant->item)
				list->sections[i].next = (section_ref)j;
	}
}

static const struct subject whole_course;

section_ref sheet_of_item(const struct build *build, const struct item *item)
{
	for (size_t i = 0; i < build->n_variants; i++)
		if (build->variants[i].item == item && build->variants[i].sheet >= 0)
			return build->variants[i].sheet;
	return -1;
}

static void add_syringe(struct build *build, struct section_list *list, struct variant *variant)
{
	struct subject subject = {.variant = variant};
	add_section(list, SECTION_NOTES, whole_course);
	variant->sheet = variant->section = add_section(list, SECTION_MEDICINE, subject);
	if (!variant_is_split(build, variant))
		return;
	add_section(list, SECTION_NOTES, whole_course);
	variant->split_section = add_section(list, SECTION_SPLIT, subject);
	add_section(list, SECTION_NOTES, whole_course);
}

/* All variants of one item that come from one product are shown by one section. */
static void share_section(struct build *build, const struct variant *first, section_ref section)
{
	for (size_t i = 0; i < build->n_variants; i++) {
		struct variant *variant = &build->variants[i];
		bool same = variant->item == first->item && variant->draw->product == first->draw->product;
		if (same && variant->section < 0)
			variant->sheet = variant->section = section;
	}
}

bool pens_alike(const struct dose *a, const struct dose *b)
{
	if (a->item != b->item || a->n_draws != b->n_draws || a->n_draws < 2)
		return false;
	for (size_t i = 0; i < a->n_draws; i++) {
		const struct draw *one = &a->draws[i];
		const struct draw *other = &b->draws[i];
		if (!draws_alike(one, other) || one->measure != MEASURE_DIAL ||
		    one->containers[0].opens != other->containers[0].opens)
			return false;
	}
	return true;
}

/* What is only ever a part of a dose is shown where that dose is. */
static void show_parts(struct build *build, const struct dose *dose, section_ref section)
{
	for (size_t i = 0; i < build->n_variants; i++) {
		struct variant *variant = &build->variants[i];
		for (size_t j = 0; j < dose->n_draws; j++)
			if (variant_of(build, dose, j) == variant && variant->section == variant->sheet &&
			    !is_whole_dose(build, variant))
				variant->section = section;
	}
}

section_ref pens_section(const struct build *build, const struct dose *dose)
{
	for (size_t i = 0; i < build->n_several_pens; i++)
		if (build->several_pens[i].dose == dose || pens_alike(build->several_pens[i].dose, dose))
			return build->several_pens[i].section;
	return -1;
}

/* A page for every way in which a dose of the item is made up of several pens. */
static void add_several_pens(struct build *build, struct section_list *list, const struct variant *variant)
{
	const struct course *course = build->course;
	for (size_t i = 0; i < course->n_doses; i++) {
		const struct dose *dose = &course->doses[i];
		bool first = dose->item == variant->item && dose->n_draws > 1 &&
		             dose->draws[0].measure == MEASURE_DIAL && dose->draws[0].product == variant->draw->product;
		for (size_t j = 0; first && j < i; j++)
			first = course->doses[j].done || !pens_alike(&course->doses[j], dose);
		if (!first || dose->done)
			continue;
		section_ref section =
			add_section(list, SECTION_PENS, (struct subject){.variant = variant, .dose = dose});
		show_parts(build, dose, section);
		build->several_pens = arena_more(build->arena, build->several_pens, build->n_several_pens,
		                                 sizeof *build->several_pens);
		build->several_pens[build->n_several_pens++] = (struct several_pens){dose, section};
	}
}

static void add_pen(struct build *build, struct section_list *list, struct variant *variant)
{
	if (variant->section >= 0)
		return;
	add_section(list, SECTION_NOTES, whole_course);
	share_section(build, variant, add_section(list, SECTION_PEN, (struct subject){.variant = variant}));
	add_several_pens(build, list, variant);
}

static void add_counted(struct build *build, struct section_list *list, struct variant *variant)
{
	if (variant->section >= 0)
		return;
	add_section(list, SECTION_NOTES, whole_course);
	share_section(build, variant, add_section(list, SECTION_COUNTED, (struct subject){.variant = variant}));
}

/* Every dose of an exact time, each on a sheet of its own; the back of the first is the variant's. */
static void add_exact(struct build *build, struct section_list *list, struct variant *variant)
{
	bool all = variant->draw->measure == MEASURE_SYRINGE;
	for (size_t i = 0; i < build->course->n_doses; i++) {
		const struct dose *dose = &build->course->doses[i];
		if (dose->n_draws == 0 || variant_of(build, dose, 0) != variant || dose->done)
			continue;
		all = all && dose->exact && !dose->open;
		if (!dose->exact || dose->open)
			continue;
		add_section(list, SECTION_NOTES, whole_course);
		section_ref section =
			add_section(list, SECTION_EXACT, (struct subject){.variant = variant, .dose = dose});
		if (variant->exact_section < 0)
			variant->exact_section = section;
	}
	if (!all)
		variant->exact_section = -1;
}

/*
 * What is counted out comes last: most of it takes one page, which may be the
 * back of another. What is over has no sheet: a version is printed to be gone by.
 */
static void add_medicines(struct build *build, struct section_list *list)
{
	for (size_t i = 0; i < build->n_variants; i++) {
		struct variant *variant = &build->variants[i];
		if (variant->draw->measure == MEASURE_COUNT || variant_is_over(build, variant))
			continue;
		if (variant->draw->measure == MEASURE_SYRINGE)
			add_syringe(build, list, variant);
		else
			add_pen(build, list, variant);
		add_exact(build, list, variant);
	}
	for (size_t i = 0; i < build->n_variants; i++)
		if (build->variants[i].draw->measure == MEASURE_COUNT && !variant_is_over(build, &build->variants[i])) {
			add_counted(build, list, &build->variants[i]);
			add_exact(build, list, &build->variants[i]);
		}
}

static bool has_options(const struct item_run *run)
{
	for (size_t i = 0; i < run->n_doses; i++)
		if (run->doses[i].n_options > 0)
			return true;
	return false;
}

/* For each line that waits for a day or an amount, what to write down and what each amount is drawn to. */
static void add_waiting(struct build *build, struct section_list *list)
{
	size_t n = build->course->n_runs;
	struct line_pages *lines = arena_alloc(build->arena, (n + 1) * sizeof *lines);
	for (size_t i = 0; i < n; i++) {
		const struct item_run *run = &build->course->runs[i];
		lines[i] = (struct line_pages){-1, -1};
		if (run->item->as_needed.given || run->n_doses == 0)
			continue;
		if (run->open || run->unless_sooner) {
			lines[i].waiting = add_section(list, SECTION_WAITING, (struct subject){.run = run});
			list->sections[lines[i].waiting].item = run->item;
		}
		if (has_options(run)) {
			lines[i].options = add_section(list, SECTION_OPTIONS, (struct subject){.run = run});
			list->sections[lines[i].options].item = run->item;
		}
	}
	build->lines = lines;
}

/* A sheet of its own: on its back are lines to note what was said of the change. */
static void add_change(struct build *build, struct section_list *list)
{
	if (!build->record->replaced.given)
		return;
	section_ref change = add_section(list, SECTION_CHANGE, whole_course);
	section_ref back = add_section(list, SECTION_NOTES, whole_course);
	build->change_section = change;
	list->sections[change].notice = true;
	list->sections[back].notice = true;
}

static void add_sections(struct build *build, struct section_list *list)
{
	static const struct {
		const char *name;
		enum section_kind kind;
	} kinds[] = {{"change", SECTION_CHANGE},     {"overview", SECTION_OVERVIEW}, {"grid", SECTION_GRID},
	             {"medicine", SECTION_MEDICINE}, {"waiting", SECTION_WAITING},   {"supplies", SECTION_SUPPLIES},
	             {"before", SECTION_BEFORE},     {"check", SECTION_CHECK},       {"teach", SECTION_TEACH}};
	const struct page_templates *templates = build->clinic->templates;
	for (size_t i = 0; i < templates->n_order; i++)
		for (size_t j = 0; j < sizeof kinds / sizeof *kinds; j++) {
			if (strcmp(kinds[j].name, templates->order[i]) != 0)
				continue;
			if (kinds[j].kind == SECTION_MEDICINE) {
				add_medicines(build, list);
				continue;
			}
			if (kinds[j].kind == SECTION_CHANGE) {
				add_change(build, list);
				continue;
			}
			if (kinds[j].kind == SECTION_WAITING) {
				add_waiting(build, list);
				continue;
			}
			if (kinds[j].kind == SECTION_BEFORE)
				add_section(list, SECTION_NOTES, whole_course);
			section_ref section = add_section(list, kinds[j].kind, whole_course);
			if (kinds[j].kind == SECTION_GRID)
				build->grid_section = section;
			if (kinds[j].kind == SECTION_BEFORE)
				build->before_section = section;
		}
}

static const struct notes_sheet *notes_sheet_of(struct build *build, bool empty)
{
	struct notes_sheet *sheet = arena_alloc(build->arena, sizeof *sheet);
	*sheet = (struct notes_sheet){.date_heading = say0(build->speaker, "notes.date"),
	                              .note_heading = say0(build->speaker, "notes.note"),
	                              .read_back_heading = say0(build->speaker, "notes.read_back"),
	                              .empty = empty};
	return sheet;
}

static bool any_needle(const struct build *build)
{
	for (size_t i = 0; i < build->course->n_runs; i++)
		if (route_by_needle(build->course->runs[i].item->medicine->route))
			return true;
	return false;
}

/* The steps of an exact time are those of its medicine's own sheet, which is filled before it. */
static const struct exact_sheet *exact_of(struct build *build, const struct section *sections, struct subject subject)
{
	const struct section *own = &sections[subject.variant->section];
	if (subject.variant->draw->measure == MEASURE_SYRINGE)
		return exact_sheet_of(build, subject.dose, medicine_sheet_of(build, subject.variant), own->medicine);
	return exact_sheet_of(build, subject.dose, NULL, own->kind == SECTION_PEN ? own->pen->sheet : NULL);
}

static void fill_section(struct build *build, const struct section *sections, struct section *section,
                         struct subject subject)
{
	struct speaker *speaker = build->speaker;
	switch (section->kind) {
	case SECTION_OVERVIEW:
		section->overview = overview_of(build);
		section->title = say0(speaker, any_needle(build) ? "overview.title" : "overview.title_no_needle");
		section->lead = section->overview->lead;
		break;
	case SECTION_GRID:
		section->grid = grid_of(build);
		section->title = say0(speaker, "grid.title");
		section->lead = say0(speaker, "grid.lead");
		break;
	case SECTION_MEDICINE:
		section->medicine = medicine_sheet_of(build, subject.variant);
		section->title = section->medicine->front_title;
		section->lead = section->medicine->front_lead;
		break;
	case SECTION_SPLIT:
		section->split = split_sheet_of(build, subject.variant);
		section->title = section->split->title;
		section->lead = section->split->lead;
		break;
	case SECTION_PEN:
		section->pen = pen_sheet_of(build, subject.variant);
		section->title = section->pen->sheet->front_title;
		section->lead = section->pen->sheet->front_lead;
		break;
	case SECTION_PENS:
		section->pens = pens_sheet_of(build, subject.dose);
		section->title = section->pens->title;
		section->lead = section->pens->lead;
		break;
	case SECTION_COUNTED:
		section->counted = counted_sheet_of(build, subject.variant);
		section->title = section->counted->sheet->front_title;
		section->lead = section->counted->sheet->front_lead;
		break;
	case SECTION_EXACT:
		section->exact = exact_of(build, sections, subject);
		section->title = section->exact->title;
		section->lead = section->exact->lead;
		break;
	case SECTION_CHANGE:
		section->change = change_sheet_of(build);
		section->title = section->change->title;
		section->lead = section->change->lead;
		break;
	case SECTION_WAITING:
		section->waiting = waiting_sheet_of(build, subject.run);
		section->title = section->waiting->title;
		section->lead = section->waiting->lead;
		break;
	case SECTION_OPTIONS:
		section->options = options_sheet_of(build, subject.run);
		section->title = section->options->title;
		section->lead = section->options->lead;
		break;
	case SECTION_NOTES:
		section->notes = notes_sheet_of(build, section > sections && section[-1].kind == SECTION_SPLIT);
		section->title = say0(speaker, section->notes->empty ? "notes.empty_title" : "notes.title");
		section->lead = say0(speaker, section->notes->empty ? "notes.empty_lead" : "notes.lead");
		break;
	case SECTION_SUPPLIES:
		section->supplies = supplies_sheet_of(build);
		section->title = section->supplies->title;
		section->lead = section->supplies->lead;
		break;
	case SECTION_BEFORE: /* when the others are there */
	case SECTION_TEACH:  /* likewise */
	case SECTION_BLIND:  /* in a handout of its own: blind.c */
		break;
	case SECTION_CHECK:
		section->check = check_sheet_of(build);
		section->title = section->check->title;
		section->lead = section->check->lead;
		break;
	}
}

/* What speaks of the other sections' pages. */
static void fill_last(struct build *build, const struct section_list *list)
{
	for (size_t i = 0; i < list->n; i++) {
		struct section *section = &list->sections[i];
		if (section->kind == SECTION_BEFORE) {
			section->before = before_sheet_of(build, list->sections, list->n);
			section->title = section->before->title;
			section->lead = section->before->lead;
		} else if (section->kind == SECTION_TEACH) {
			section->teach = teach_sheet_of(build, list->sections);
			section->title = section->teach->title;
			section->lead = section->teach->lead;
		}
	}
}

/* ---- what stands on every page ---- */

static const char *const *phone_words(struct build *build, struct speaker *speaker)
{
	const char **words = arena_alloc(build->arena, (build->clinic->n_phones + 1) * sizeof *words);
	for (size_t i = 0; i < build->clinic->n_phones; i++) {
		const struct phone *phone = &build->clinic->phones[i];
		words[i] = say2(speaker, "running.phone", "label",
		                say_text(speaker, phone->label, "the telephone's label"), "number", phone->number);
	}
	return words;
}

static const char *patient_line(struct build *build, struct speaker *speaker, bool alone)
{
	const struct patient *patient = &build->plan->patient;
	const char *name = patient->name.text == NULL ? "" : patient->name.text;
	struct value values[] = {
		{"name", name},
		{"born", patient->born.given ? say_date(speaker, patient->born.date, DATE_BORN) : ""},
		{"clinic", say_text(speaker, build->clinic->name, "the clinic's name")},
	};
	if (alone)
		return patient->born.given ? say(speaker, "running.patient_alone", values, 2) : name;
	return say(speaker, patient->born.given ? "running.patient" : "running.patient_unborn", values, 3);
}

static const char *version_line(struct build *build, struct speaker *speaker)
{
	const char *version = say_number(speaker, rational_of(build->plan->version, 1));
	struct civil_date on;
	if (!build->record->is_signed)
		return say1(speaker, "running.draft", "version", version);
	if (build->record->signed_on == NULL || !date_read(build->record->signed_on, &on))
		return say2(speaker, "running.signed", "version", version, "date", "");
	return say2(speaker, "running.signed", "version", version, "date", say_date(speaker, on, DATE_BORN));
}

struct running running_of(struct build *build, struct speaker *speaker)
{
	return (struct running){
		.unsure = say0(speaker, "running.unsure"),
		.phones = phone_words(build, speaker),
		.n_phones = build->clinic->n_phones,
		.staff_line = say0(speaker, "running.staff"),
		.patient = patient_line(build, speaker, false),
		.patient_alone = patient_line(build, speaker, true),
		.version = version_line(build, speaker),
		.draft_band = build->record->is_signed ? NULL : say0(speaker, "running.draft_band"),
		.code = build->record->code,
	};
}

const struct handout *handout_of(struct arena *arena, const struct record *record, struct handout_options options,
                                 struct speaker *speaker, struct speaker *staff_speaker, struct findings *findings)
{
	struct build build = {.arena = arena,
	                      .record = record,
	                      .course = record->course,
	                      .plan = record->course->plan,
	                      .clinic = record->course->plan->clinic,
	                      .speaker = speaker,
	                      .staff = staff_speaker,
	                      .findings = findings,
	                      .large_print = options.large_print,
	                      .grid_section = -1,
	                      .before_section = -1,
	                      .change_section = -1};
	struct section_list list = {.arena = arena};
	build_variants(&build);
	build_sides(&build);
	add_sections(&build, &list);
	chain_sections(&list);
	for (size_t i = 0; i < list.n; i++)
		fill_section(&build, list.sections, &list.sections[i], list.subjects[i]);
	fill_last(&build, &list);

	struct handout *handout = arena_alloc(arena, sizeof *handout);
	*handout = (struct handout){.record = record,
	                            .speaker = speaker,
	                            .staff_speaker = staff_speaker,
	                            .language = options.language,
	                            .paper = options.paper,
	                            .large_print = options.large_print,
	                            .mono = options.mono,
	                            .running = running_of(&build, speaker),
	                            .staff_running = running_of(&build, staff_speaker),
	                            .sections = list.sections,
	                            .n_sections = list.n};
	return handout;
}
