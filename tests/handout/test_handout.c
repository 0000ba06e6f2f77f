/*
 * The sample plans as handouts: which sections, what they say. Expected by hand from the files in samples/.
 */
#include "support/cases.h"
#include "support/sample_packets.h"

#include <stdio.h>
#include <string.h>

#define NBSP "\u00a0"

static struct sample_packet open_plan(const char *name)
{
	char path[64];
	snprintf(path, sizeof path, "samples/plans/%s.yaml", name);
	return sample_packet_of(path, PAPER_A4);
}

/* ---- sections ---- */

struct section_row {
	enum section_kind kind;
	const char *name;   /* of a medicine or a shared vial */
	const char *amount; /* of a medicine */
	const char *mark;
	const char *lead;
};

/* The halves are opened on days 1, 3 and 5, which the front speaks of. */
static const struct section_row mara_sections[] = {
	{SECTION_OVERVIEW, NULL, NULL, NULL, NULL},
	{SECTION_GRID, NULL, NULL, NULL, NULL},
	{SECTION_MEDICINE, "Sampletide", "20" NBSP "syringe units", "line" NBSP "20",
         "Vial of liquid · days 1 to 10 · morning, 08:00"},
	{SECTION_MEDICINE, "Mockuline", "0.25" NBSP "mg", "all", "Filled syringe · days 5 to 10 · morning, 08:00"},
	{SECTION_MEDICINE, "Examplin", "125" NBSP "mcg", "0.5" NBSP "mL",
         "Powder and liquid · days 1, 3, 5 · evening, 20:00 · second half: page\u00a0" PAGE_HERE},
	{SECTION_SPLIT, "Examplin", NULL, "0.5" NBSP "mL", NULL},
	{SECTION_MEDICINE, "Examplin", "250" NBSP "mcg", "1" NBSP "mL",
         "Powder and liquid · days 7 to 10 · evening, 20:00"},
	{SECTION_MEDICINE, "Fictivane", "5,000" NBSP "units", "1.5" NBSP "mL",
         "Vial of liquid · day 11 · 22:30 exactly · set alarms first: page " PAGE_HERE},
	{SECTION_EXACT, NULL, NULL, NULL, NULL},
	{SECTION_COUNTED, "Nonsensol", "1" NBSP "tablet", NULL, "Tablets · days 1 to 10 · bedtime, 21:30"},
	{SECTION_SUPPLIES, NULL, NULL, NULL, NULL},
	{SECTION_BEFORE, NULL, NULL, NULL, NULL},
	{SECTION_CHECK, NULL, NULL, NULL, NULL},
	{SECTION_TEACH, NULL, NULL, NULL, NULL},
};

static const struct section_row ione_sections[] = {
	{SECTION_OVERVIEW, NULL, NULL, NULL, NULL},
	{SECTION_GRID, NULL, NULL, NULL, NULL},
	{SECTION_MEDICINE, "Vacuprine", "150" NBSP "units", "0.6" NBSP "mL",
         "Powder and liquid · days 1 to 4 · evening, 20:00"},
	{SECTION_MEDICINE, "Vacuprine", "187.5" NBSP "units", "0.75" NBSP "mL",
         "Powder and liquid · days 5 to 10 · evening, 20:00"},
	{SECTION_MEDICINE, "Examplin", "250" NBSP "mcg", "1" NBSP "mL",
         "Powder and liquid · days not known yet · evening, 20:00"},
	{SECTION_COUNTED, "Nonsensol", "half a tablet", NULL, "Tablets · days 1 to 10 · morning, 08:00"},
	{SECTION_WAITING, NULL, NULL, NULL, NULL},
	{SECTION_SUPPLIES, NULL, NULL, NULL, NULL},
	{SECTION_BEFORE, NULL, NULL, NULL, NULL},
	{SECTION_CHECK, NULL, NULL, NULL, NULL},
	{SECTION_TEACH, NULL, NULL, NULL, NULL},
};

static const struct section_row tamsin_sections[] = {
	{SECTION_OVERVIEW, NULL, NULL, NULL, NULL},
	{SECTION_GRID, NULL, NULL, NULL, NULL},
	{SECTION_MEDICINE, "Oleumine", "50" NBSP "mg", "1" NBSP "mL", "Vial of liquid · days 1 to 12 · evening, 20:00"},
	{SECTION_MEDICINE, "Pretendol", "0.3" NBSP "mg", "push out to" NBSP "0.3" NBSP "mL",
         "Filled syringe · days 3 to 12 · morning, 08:00"},
	{SECTION_COUNTED, "Insertine", "1" NBSP "insert", NULL,
         "Inserts · days 1 to 12 · morning, 08:00; noon, 13:00; bedtime, 22:00"},
	{SECTION_SUPPLIES, NULL, NULL, NULL, NULL},
	{SECTION_BEFORE, NULL, NULL, NULL, NULL},
	{SECTION_CHECK, NULL, NULL, NULL, NULL},
	{SECTION_TEACH, NULL, NULL, NULL, NULL},
};

/* A pen with two amounts, the change of pens between them, then what is counted out. */
static const struct section_row tilda_sections[] = {
	{SECTION_OVERVIEW, NULL, NULL, NULL, NULL},
	{SECTION_GRID, NULL, NULL, NULL, NULL},
	{SECTION_PEN, "Placebix", "150" NBSP "units", "dial" NBSP "150",
         "Pen · 900" NBSP "units · days 1 to 9 · evening, 20:00"},
	{SECTION_PENS, NULL, NULL, NULL, NULL},
	{SECTION_COUNTED, "Whiffaline", "2" NBSP "sprays", NULL,
         "Nasal spray · days 1 to 10 · morning, 08:00; bedtime, 22:00"},
	{SECTION_COUNTED, "Nonsensol", "half a tablet", NULL, "Tablets · days 1 to 10 · morning, 08:00"},
	{SECTION_COUNTED, "Dribbline", "5" NBSP "drops", NULL, "Drops · days 1 to 10 · noon, 13:00"},
	{SECTION_SUPPLIES, NULL, NULL, NULL, NULL},
	{SECTION_BEFORE, NULL, NULL, NULL, NULL},
	{SECTION_CHECK, NULL, NULL, NULL, NULL},
	{SECTION_TEACH, NULL, NULL, NULL, NULL},
};

struct plan_row {
	const char *plan;
	const struct section_row *sections;
	size_t n;
};

#define ROWS(list) list, sizeof list / sizeof *list

static const struct plan_row plan_rows[] = {
	{"mara", ROWS(mara_sections)},
	{"ione", ROWS(ione_sections)},
	{"tamsin", ROWS(tamsin_sections)},
	{"tilda", ROWS(tilda_sections)},
};

static void check_medicine(struct arena *arena, const struct section_row *row, const struct medicine_sheet *sheet)
{
	assert_string_equal(sheet->dose->item->medicine->name, row->name);
	assert_string_equal(sheet->amount, row->amount);
	if (row->mark == NULL)
		assert_null(sheet->mark.number);
	else
		assert_string_equal(mark_words_plain(arena, sheet->mark), row->mark);
	assert_string_equal(sheet->front_lead, row->lead);
}

/* Pages of notes only fill the paper where a sheet would begin on a back: they are no content of their own. */
static void sections_are_as_expected(void **state)
{
	const struct plan_row *row = case_of(state)->row;
	struct sample_packet sample = open_plan(row->plan);
	size_t i = 0;
	for (size_t j = 0; j < sample.handout->n_sections; j++) {
		const struct section *section = &sample.handout->sections[j];
		if (section->kind == SECTION_NOTES)
			continue;
		assert_true(i < row->n);
		assert_int_equal(section->kind, row->sections[i].kind);
		assert_int_equal(section->staff, section->kind == SECTION_CHECK || section->kind == SECTION_TEACH);
		if (section->kind == SECTION_MEDICINE)
			check_medicine(sample.arena, &row->sections[i], section->medicine);
		if (section->kind == SECTION_PEN)
			check_medicine(sample.arena, &row->sections[i], section->pen->sheet);
		if (section->kind == SECTION_COUNTED)
			check_medicine(sample.arena, &row->sections[i], section->counted->sheet);
		if (section->kind == SECTION_SPLIT)
			assert_string_equal(mark_words_plain(sample.arena, section->split->mark),
			                    row->sections[i].mark);
		i++;
	}
	assert_int_equal(i, row->n);
	sample_packet_free(&sample);
}

static const struct section *section_of(const struct handout *handout, enum section_kind kind)
{
	for (size_t i = 0; i < handout->n_sections; i++)
		if (handout->sections[i].kind == kind)
			return &handout->sections[i];
	fail_msg("there is no section %d", kind);
	return NULL;
}

/* Each tag of the grid is that of its own dose's draw, and the page it points at shows the same. */
static void tags_are_those_of_the_draws(void **state)
{
	(void)state;
	for (size_t p = 0; p < n_sample_plans; p++) {
		struct sample_packet sample = sample_packet_of(sample_plans[p], PAPER_A4);
		const struct grid *grid = section_of(sample.handout, SECTION_GRID)->grid;
		size_t tags = 0;
		for (size_t i = 0; i < grid->n_rows; i++)
			for (size_t j = 0; j < grid->n_columns; j++) {
				const struct grid_cell *cell = &grid->rows[i].cells[j];
				if (cell->state != CELL_DOSE || cell->mark.number == NULL)
					continue;
				const struct draw *draw = &cell->dose->draws[0];
				tags++;
				assert_string_equal(mark_words_plain(sample.arena, cell->mark),
				                    mark_words_plain(sample.arena, say_mark(sample.speaker, draw)));
				assert_string_equal(cell->amount, say_amount(sample.speaker, cell->dose->ordered));
			}
		/* Of what is counted out there is nothing to measure. */
		bool only_counted = strstr(sample_plans[p], "perpetua") != NULL;
		assert_true(only_counted ? tags == 0 : tags >= 9);
		sample_packet_free(&sample);
	}
}

static bool check_page_says(const struct handout *handout, const char *text)
{
	const struct check_sheet *check = section_of(handout, SECTION_CHECK)->check;
	for (size_t i = 0; i < check->n_rows; i++) {
		if (strstr(check->rows[i].detail, text) != NULL)
			return true;
		for (size_t j = 0; j < check->rows[i].n_notes; j++)
			if (strstr(check->rows[i].notes[j], text) != NULL)
				return true;
	}
	return false;
}

/* ---- one vial, two days ---- */

/* Three vials: opened on the 4th, 6th and 8th at 20:00, kept for 26 hours. */
static void labels_have_their_dates(void **state)
{
	static const struct {
		const char *made;
		const char *use_by;
	} labels[] = {{"Mixed Fri 4 Dec,", "Use by Sat 5 Dec, 22:00"},
	              {"Mixed Sun 6 Dec,", "Use by Mon 7 Dec, 22:00"},
	              {"Mixed Tue 8 Dec,", "Use by Wed 9 Dec, 22:00"}};
	(void)state;
	struct sample_packet sample = open_plan("mara");
	const struct split_sheet *split = section_of(sample.handout, SECTION_SPLIT)->split;
	assert_int_equal(split->n_labels, 3);
	for (size_t i = 0; i < 3; i++) {
		assert_string_equal(split->labels[i].title, "Examplin, second half");
		assert_string_equal(split->labels[i].amount, "125" NBSP "mcg is in 0.5" NBSP "mL");
		assert_string_equal(split->labels[i].made, labels[i].made);
		assert_string_equal(split->labels[i].use_by, labels[i].use_by);
		assert_string_equal(split->labels[i].patient, "Mara Quillfeather");
	}
	assert_string_equal(split->first.when, "Fri 4 Dec, 20:00");
	assert_string_equal(split->second.when, "Sat 5 Dec, 20:00");
	assert_string_equal(split->use_time, "22:00");
	assert_string_equal(split->use_date, "Sat 5 Dec");
	assert_string_equal(split->between_where, "fridge, upright, with its label");
	assert_int_equal(split->between_picture, PICTURE_FRIDGE);
	/* The policy's name is for the staff. */
	assert_string_equal(split->lead, "One vial, two doses: a third is not safe. Shown: the first two days.");
	assert_true(check_page_says(sample.handout, "Kept under policy P-12."));
	assert_string_equal(
		split->second_things,
		"Wash your hands. Lay out: mixed vial, empty 1 mL syringe, thick needle, thin needle, ×2" NBSP
		"wipes, sharps box, for needles.");
	/* Steps 1 to 6 mix; 7 draws. */
	assert_string_equal(split->second_day[3].text,
	                    "Twist a thick needle on a \001new syringe.\002\nPull its cap off.\nPush the needle in.\n"
	                    "Go to page \001" PAGE_HERE "\002, step \0017\002.");
	assert_string_equal(split->labels[0].start, "How: page " PAGE_HERE);
	assert_true(split->windows[0].right && !split->windows[1].right && !split->windows[2].right);
	sample_packet_free(&sample);
}

/* Days 1 and 2, 3 and 4, 5 and 6 share a vial; from day 7 on none does. */
static void halves_stand_in_the_grid(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("mara");
	const struct grid *grid = section_of(sample.handout, SECTION_GRID)->grid;
	size_t column = 0;
	while (column < grid->n_columns && strcmp(grid->columns[column].name, "Examplin") != 0)
		column++;
	assert_true(grid->n_rows >= 11);
	for (size_t day = 1; day <= 10; day++) {
		const struct grid_cell *cell = &grid->rows[day - 1].cells[column];
		assert_int_equal(cell->joins_next, day == 1 || day == 3 || day == 5);
		assert_int_equal(cell->half != NULL, day <= 6);
		if (cell->half != NULL)
			assert_string_equal(cell->half, day % 2 == 1 ? "first half" : "second half");
		assert_int_equal(cell->new_amount, day == 7);
		assert_string_equal(cell->amount, day <= 6 ? "125" NBSP "mcg" : "250" NBSP "mcg");
	}
	assert_string_equal(grid->rows[0].weekday, "Fri");
	assert_string_equal(grid->rows[0].date, "4 Dec");
	assert_int_equal(grid->rows[10].n_exact, 1);
	assert_string_equal(grid->rows[10].exact[0].time, "22:30");
	sample_packet_free(&sample);
}

/* ---- supplies ---- */

struct supply_expected {
	const char *name;
	int64_t need;
	int64_t have;
	int64_t get;
};

struct supplies_row {
	const char *plan;
	struct supply_expected medicines[6];
	struct supply_expected kit[8];
};

/*
 * mara: Sampletide 10 x 1 mg of 14 mg; Mockuline days 5 to 10; Examplin 6 halves and 4 wholes; Fictivane once.
 *   Syringes 10 insulin, 10 of 1 mL (7 in the boxes), 1 of 3 mL. Thick and thin needles for Examplin 10 and Fictivane 1.
 *   Wipes: skin and rubber for Sampletide 20, Examplin 20, Fictivane 2, skin alone for Mockuline 6; 2 in each of 7 boxes.
 * ione: Vacuprine 10 vials, one a dose; 5 halves and 5 whole tablets are 7.5, so 8.
 *   1 mL syringes 10 + 4 (4 in the boxes), 3 mL ones to measure the liquid 10. Vacuprine takes two thick needles, one a
 *   syringe: 20 + 4. Wipes: skin, and the rubber twice, 30; Examplin 8.
 * tamsin: Oleumine 12 x 50 mg of 500 mg a vial; inserts 12 x 3; Pretendol days 3 to 12. Wipes 24 + 10.
 */
static const struct supplies_row supplies_rows[] = {
	{"mara",
         {{"Sampletide", 1, 1, 0},
          {"Mockuline", 6, 6, 0},
          {"Examplin", 7, 8, 0},
          {"Nonsensol", 10, 30, 0},
          {"Fictivane", 1, 1, 0}},
         {{"U-100 insulin syringe", 10, 0, 10},
          {"1 mL syringe", 10, 7, 3},
          {"3 mL syringe", 1, 0, 1},
          {"Needle, thick", 11, 7, 4},
          {"Needle, thin", 11, 7, 4},
          {"Wipes", 48, 14, 34},
          {"Sharps box", 1, 0, 1}}},
	{"ione",
         {{"Vacuprine", 10, 10, 0}, {"Examplin", 4, 4, 0}, {"Nonsensol", 8, 30, 0}},
         {{"1 mL syringe", 14, 4, 10},
          {"3 mL syringe", 10, 0, 10},
          {"Needle, thick", 24, 4, 20},
          {"Needle, thin", 14, 4, 10},
          {"Wipes", 38, 8, 30},
          {"Sharps box", 1, 0, 1}}},
	{"tamsin",
         {{"Oleumine", 2, 2, 0}, {"Insertine", 36, 45, 0}, {"Pretendol", 10, 12, 0}},
         {{"3 mL syringe", 12, 0, 12},
          {"Needle, thick", 12, 0, 12},
          {"Needle, thin", 12, 0, 12},
          {"Wipes", 34, 0, 34},
          {"Sharps box", 1, 0, 1}}},
};

static void check_group(const struct supply_group *group, const struct supply_expected *expected, size_t most)
{
	size_t n = 0;
	while (n < most && expected[n].name != NULL)
		n++;
	assert_int_equal(group->n_rows, n);
	for (size_t i = 0; i < n; i++) {
		const struct supply_row *row = NULL;
		for (size_t j = 0; j < group->n_rows; j++)
			if (strcmp(group->rows[j].name, expected[i].name) == 0)
				row = &group->rows[j];
		if (row == NULL)
			fail_msg("there is no row for '%s'", expected[i].name);
		if (row->need != expected[i].need || row->have != expected[i].have || row->get != expected[i].get)
			fail_msg("%s: need %d, have %d, get %d", row->name, (int)row->need, (int)row->have,
			         (int)row->get);
	}
}

static void supplies_are_as_counted(void **state)
{
	const struct supplies_row *row = case_of(state)->row;
	struct sample_packet sample = open_plan(row->plan);
	const struct supplies_sheet *sheet = section_of(sample.handout, SECTION_SUPPLIES)->supplies;
	assert_int_equal(sheet->n_groups, 2);
	check_group(&sheet->groups[0], row->medicines, 6);
	check_group(&sheet->groups[1], row->kit, 8);
	assert_string_equal(sheet->first_line,
	                    "All medicines are there. Get what has a box to tick before your next dose.");
	sample_packet_free(&sample);
}

struct label_row {
	const char *plan;
	const char *name;
	const char *detail; /* how it begins */
	const char *check;  /* is on the staff's page, in a note or beside the name of a row */
};

/* What a container holds, from samples/formulary.yaml. */
static const struct label_row label_rows[] = {
	{"mara", "Sampletide", "vial of 2.8" NBSP "mL, 5" NBSP "mg in 1" NBSP "mL\nonce open: 28" NBSP "days",
         "The label says 5" NBSP "mg in 1 mL; one holds 2.8" NBSP "mL."},
	{"mara", "Mockuline", "filled syringe, 0.25" NBSP "mg in 0.5" NBSP "mL",
         "mockuline-syringe · filled syringe, 0.25" NBSP "mg in 0.5" NBSP "mL"},
	{"mara", "Examplin", "vial of powder, 0.25 mg\nwith liquid syringe, 1" NBSP "mL water for injections",
         "examplin-kit · vial of powder, 0.25 mg"},
	{"mara", "Fictivane", "vial, 10,000" NBSP "units in 3" NBSP "mL", "10,000" NBSP "units in 3" NBSP "mL"},
	/* A tenth of a mL of it is a third of 1,000 units: no figures that nobody can check. */
	{"mara", "Fictivane", "vial, 10,000" NBSP "units in 3" NBSP "mL",
         "One line off: 0.1" NBSP "mL, about 333.3" NBSP "units (6.7" NBSP "%)."},
	{"mara", "Nonsensol", "counted one by one; 1" NBSP "tablet at a time", NULL},
	{"tilda", "Nonsensol", "counted one by one; half a tablet or 1" NBSP "tablet at a time", NULL},
	/* Tested at its first use alone, so counted so. */
	{"tilda", "Placebix",
         "pen, 900" NBSP "units in 1.5" NBSP "mL\nonce open: 28" NBSP "days\n25" NBSP
         "units to test it counted once a pen",
         "It comes as: pen, 900" NBSP "units in 1.5" NBSP "mL."},
	{"ione", "Vacuprine",
         "vial of powder, 375" NBSP "units\nwith ampoule of liquid, 2" NBSP "mL water for injections",
         "Liquid to add: 1.4" NBSP "mL of: ampoule of liquid, 2" NBSP "mL water for injections"},
	{"wilma", "Phialone", "ampoule of 2" NBSP "mL, 25" NBSP "mg in 1" NBSP "mL",
         "The label says 25" NBSP "mg in 1 mL; one holds 2" NBSP "mL."},
	{"wilma", "Fabriline",
         "vial of powder, 900" NBSP "units\nwith vial of liquid, 2" NBSP "mL water for injections",
         "Liquid to add: 1.8" NBSP "mL of: vial of liquid, 2" NBSP "mL water for injections"},
};

static void what_a_container_holds_is_said(void **state)
{
	const struct label_row *row = case_of(state)->row;
	struct sample_packet sample = open_plan(row->plan);
	const struct supply_group *group = &section_of(sample.handout, SECTION_SUPPLIES)->supplies->groups[0];
	size_t i = 0;
	while (i < group->n_rows && strcmp(group->rows[i].name, row->name) != 0)
		i++;
	assert_true(i < group->n_rows);
	if (strncmp(group->rows[i].detail, row->detail, strlen(row->detail)) != 0)
		assert_string_equal(group->rows[i].detail, row->detail);
	if (row->check != NULL && !check_page_says(sample.handout, row->check))
		fail_msg("the check page does not say '%s'", row->check);
	sample_packet_free(&sample);
}

/* Examplin: 3 shared, then one a day from the 13th; the fifth box serves the 14th, the 15th is short. */
static void what_runs_out_first_is_said_first(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("rosalind-draft");
	const struct supplies_sheet *sheet = section_of(sample.handout, SECTION_SUPPLIES)->supplies;
	assert_string_equal(sheet->first_line, "Order today. Mockuline is needed from Fri 11 Dec. "
	                                       "Get the rest with a box to tick before your next dose.");
	assert_non_null(strstr(sheet->second_line, "Examplin runs out before Tue 15 Dec."));
	assert_non_null(strstr(sheet->second_line, "Fictivane is needed from Thu 17 Dec."));
	assert_non_null(sample.handout->running.draft_band);
	assert_non_null(strstr(sample.handout->running.version, "DRAFT"));
	sample_packet_free(&sample);
}

/* ---- what is laid out ---- */

static const struct medicine_sheet *sheet_of(const struct handout *handout, const char *amount)
{
	for (size_t i = 0; i < handout->n_sections; i++)
		if (handout->sections[i].kind == SECTION_MEDICINE &&
		    strcmp(handout->sections[i].medicine->amount, amount) == 0)
			return handout->sections[i].medicine;
	fail_msg("there is no sheet for '%s'", amount);
	return NULL;
}

static void things_are(const struct medicine_sheet *sheet, const char *expected, struct arena *arena)
{
	const char *things = "";
	for (size_t i = 0; i < sheet->n_lay_out; i++)
		things = arena_printf(arena, "%s%s %s; ", things, sheet->lay_out[i].count, sheet->lay_out[i].word);
	assert_string_equal(things, expected);
}

static void things_to_lay_out_are_counted(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("ione");
	things_are(
		sheet_of(sample.handout, "150" NBSP "units"),
		"×1 powder vial; ×1 ampoule of liquid; ×1 3 mL syringe A, to mix; ×1 empty 1 mL syringe B, for you; ×2 "
		"thick needles; "
		"×1 thin needle; ×3 wipes; ×1 sharps box, for needles; ",
		sample.arena);
	things_are(sheet_of(sample.handout, "250" NBSP "mcg"),
	           "×1 powder vial; ×1 liquid syringe; ×1 thick needle; ×1 thin needle; ×2 wipes; ×1 sharps box, for "
	           "needles; ",
	           sample.arena);
	sample_packet_free(&sample);
	/* Each syringe has one name: on the table, on the page that mixes, on the page that draws, and in the steps. */
	sample = open_plan("ione");
	const struct medicine_sheet *mixed = sheet_of(sample.handout, "150" NBSP "units");
	assert_string_equal(mixed->mix->with, "3 mL syringe A, thick needle, ampoule of liquid");
	assert_string_equal(mixed->mix->true_size, "3 mL syringe A, true size: lay yours on it.");
	assert_string_equal(mixed->true_size, "1 mL syringe B, true size: lay yours on it.");
	bool named = false;
	for (size_t i = 0; i < mixed->mix->n_steps; i++)
		named = named || strstr(mixed->mix->steps[i].text, "thick needle on syringe B.") != NULL;
	assert_true(named);
	const struct medicine_sheet *kit = sheet_of(sample.handout, "250" NBSP "mcg");
	assert_string_equal(kit->true_size, "1 mL syringe, true size: lay yours on it.");
	assert_non_null(strstr(kit->front[2].text, "liquid syringe"));
	sample_packet_free(&sample);
	sample = open_plan("mara");
	things_are(sheet_of(sample.handout, "0.25" NBSP "mg"),
	           "×1 filled syringe; ×1 wipe; ×1 sharps box, for needles; ", sample.arena);
	things_are(sheet_of(sample.handout, "20" NBSP "syringe units"),
	           "×1 vial; ×1 empty U-100 insulin syringe; ×2 wipes; ×1 sharps box, for needles; ", sample.arena);
	sample_packet_free(&sample);
}

/* ---- part of a filled syringe ---- */

/* The number on the box and the one in the calendar are told apart where they differ, and only there. */
struct box_row {
	const char *name;
	const char *plan;
	const char *amount; /* which sheet */
	const char *says;
	const char *strip;
};

static const struct box_row box_rows[] = {
	{"half a box", "mara", "125" NBSP "mcg",
         "It must say \001Examplin, 0.25 mg\002, not your dose, 125" NBSP
         "mcg.\nSomething else, or past its date? Stop, call.",
         "Box says 0.25 mg: take"},
	{"the same amount in another unit", "mara", "250" NBSP "mcg",
         "It must say \001Examplin, 0.25 mg\002: your dose, 250" NBSP
         "mcg.\nSomething else, or past its date? Stop, call.",
         "Box says 0.25 mg: take"},
	{"the dose itself", "mara", "0.25" NBSP "mg",
         "It must say \001Mockuline, 0.25" NBSP "mg in 0.5" NBSP
         "mL\002.\nSomething else, or past its date? Stop, call.",
         "Box says 0.25" NBSP "mg: take"},
};

static void the_box_is_told_from_the_dose(void **state)
{
	const struct box_row *row = case_of(state)->row;
	struct sample_packet sample = open_plan(row->plan);
	const struct medicine_sheet *sheet = sheet_of(sample.handout, row->amount);
	assert_string_equal(sheet->first[0].text, row->says);
	assert_string_equal(sheet->box_says, row->strip);
	sample_packet_free(&sample);
}

/* Pens serve several amounts; pieces have no number of their own on the box. */
static void a_box_of_pens_or_pieces_has_no_dose(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("tilda");
	const struct medicine_sheet *pen = section_of(sample.handout, SECTION_PEN)->pen->sheet;
	assert_non_null(
		strstr(pen->first[0].text, "\001Placebix, 900" NBSP "units in 1.5" NBSP "mL\002, not your doses.\n"));
	sample_packet_free(&sample);
	sample = open_plan("mara");
	const struct counted_sheet *counted = section_of(sample.handout, SECTION_COUNTED)->counted;
	assert_non_null(strstr(counted->sheet->first[0].text, "It must say \001Nonsensol\002.\n"));
	sample_packet_free(&sample);
}

struct part_strip_row {
	const char *name;
	const char *plan;
	const char *amount;
	const char *goes_in;
	const char *of;
	const char *so;
	const char *more;
	const char *to_line; /* is in the step to the line */
	const char *rest;    /* and in the next */
	const char *working; /* on the staff's page */
};

/* Dummirex: 0.15 of 0.25 mg in 0.5 mL is 0.3 mL, and 0.2 mL stay in. Pretendol: 0.3 of 0.5 mg in 0.5 mL likewise. */
static const struct part_strip_row part_strips[] = {
	{"a line to stop on is no amount", "wilma", "0.15" NBSP "mg", "0.3" NBSP "mL", "of 0.5" NBSP "mL in it",
         "So you stop here", "0.2" NBSP "mL stays in", "0.3" NBSP "mL went in", "0.2" NBSP "mL stays in",
         "0.5" NBSP "mL − 0.2" NBSP "mL = 0.3" NBSP "mL"},
	{"what is pushed out is told apart from what goes in", "tamsin", "0.3" NBSP "mg", "0.3" NBSP "mL",
         "of 0.5" NBSP "mL in it", "So push out to here", "0.2" NBSP "mL goes into the sink",
         "0.2" NBSP "mL is not for you", "all that is left", "0.5" NBSP "mL − 0.2" NBSP "mL = 0.3" NBSP "mL"},
};

static void a_part_says_what_goes_in(void **state)
{
	const struct part_strip_row *row = case_of(state)->row;
	struct sample_packet sample = open_plan(row->plan);
	const struct medicine_sheet *sheet = sheet_of(sample.handout, row->amount);
	assert_true(sheet->mark_follows);
	assert_string_equal(sheet->box_part, row->goes_in);
	assert_string_equal(sheet->box_amount, row->of);
	assert_string_equal(sheet->syringe_shows, row->so);
	assert_string_equal(sheet->mark_more, row->more);
	assert_non_null(strstr(sheet->part->to_line->text, row->to_line));
	assert_non_null(strstr(sheet->part->rest->text, row->rest));
	assert_true(check_page_says(sample.handout, row->working));
	sample_packet_free(&sample);
}

/* Lines of another strength would be other volumes: whoever buys, lays out, draws and checks reads which one it is. */
static void a_scale_in_units_has_its_strength(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("mara");
	const struct medicine_sheet *sheet = sheet_of(sample.handout, "20" NBSP "syringe units");
	assert_string_equal(sheet->scale_beside, "of the U-100 insulin syringe");
	assert_string_equal(sheet->true_size, "True size: lay yours on it.");
	assert_true(check_page_says(sample.handout,
	                            "Lines of the U-100 insulin syringe: 100 are 1 mL, line 20 is 0.2" NBSP "mL."));
	const struct supplies_sheet *supplies = section_of(sample.handout, SECTION_SUPPLIES)->supplies;
	const struct supply_group *kit = &supplies->groups[1];
	size_t i = 0;
	while (i < kit->n_rows && strcmp(kit->rows[i].name, "U-100 insulin syringe") != 0)
		i++;
	assert_true(i < kit->n_rows);
	assert_string_equal(kit->rows[i].detail, "0.5" NBSP "mL, U-100 printed on it, no other");
	sample_packet_free(&sample);
}

/* What the steps lay out is in the supplies too, also what no box holds. */
static void supplies_name_what_is_at_home(void **state)
{
	static const struct {
		const char *plan;
		const char *says;
		bool cutter;
	} rows[] = {{"tilda", "a glass for water", true}, {"mara", "a glass for water", false}, {"nell", NULL, false}};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct sample_packet sample = open_plan(rows[i].plan);
		const char *line = section_of(sample.handout, SECTION_SUPPLIES)->supplies->second_line;
		assert_true(rows[i].says == NULL ? strstr(line, "home") == NULL : strstr(line, rows[i].says) != NULL);
		assert_int_equal(strstr(line, "tablet cutter") != NULL, rows[i].cutter);
		sample_packet_free(&sample);
	}
}

/* A unit beside its thousandfold and a scale of its own are said in words, once and without another amount. */
static void terms_are_said_where_they_are(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("mara");
	assert_string_equal(sheet_of(sample.handout, "125" NBSP "mcg")->same_terms,
	                    "mcg: micrograms, a thousand to the mg.");
	assert_string_equal(sheet_of(sample.handout, "20" NBSP "syringe units")->same_terms,
	                    "U-100: 100 of these syringe units fill 1" NBSP "mL.");
	assert_null(sheet_of(sample.handout, "0.25" NBSP "mg")->same_terms);
	assert_string_equal(sheet_of(sample.handout, "5,000" NBSP "units")->same_terms, "units: how strong a dose is.");
	sample_packet_free(&sample);
}

/* Where the clinic wrote nothing on a late dose, the numbers to call stand in its place; its own words stay its own. */
static void late_names_the_numbers(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("wilma");
	assert_string_equal(sheet_of(sample.handout, "225" NBSP "units")->notes[2].text,
	                    "Call before you inject: Day 000" NBSP "555" NBSP "0142, Night 000" NBSP "555" NBSP
	                    "0199.");
	assert_string_equal(sheet_of(sample.handout, "30" NBSP "mg")->notes[2].text, "Call us before you inject.");
	sample_packet_free(&sample);
	sample = open_plan("mara");
	const struct medicine_sheet *counted = section_of(sample.handout, SECTION_COUNTED)->counted->sheet;
	assert_string_equal(counted->notes[2].text, "Call first: Day 000" NBSP "555" NBSP "0142, Night 000" NBSP
	                                            "555" NBSP "0199. Never two doses together: it is too much.");
	sample_packet_free(&sample);
}

/* What is laid out is what the supplies count, dose by dose. */
static const struct supply_row *kit_row(const struct handout *handout, const char *name, const char *detail)
{
	const struct supply_group *kit = &section_of(handout, SECTION_SUPPLIES)->supplies->groups[1];
	for (size_t i = 0; i < kit->n_rows; i++)
		if (strcmp(kit->rows[i].name, name) == 0 && strstr(kit->rows[i].detail, detail) != NULL)
			return &kit->rows[i];
	return NULL;
}

/*
 * Folliplan, a wipe for the skin and one for each vial: 4 on three days, 3 on two. Fabriline: skin, powder, liquid and
 * the powder again, 4 on two days; skin and rubber on five. Phialone and Dummirex the skin: 12 + 6 + 8 + 10 + 4 + 3.
 * Thick needles: Folliplan 5, Fabriline two on two days and one on five. An ampoule has the filter needle instead.
 */
static void what_is_laid_out_is_what_is_counted(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("wilma");
	things_are(sheet_of(sample.handout, "225" NBSP "units"),
	           "×3 powder vials; ×1 liquid syringe; ×1 thick needle; ×1 thin needle (13" NBSP
	           "mm); ×4 wipes; ×1 sharps box, for needles; ",
	           sample.arena);
	/* Two lengths of thin needle in one plan; the thick ones are all of one. */
	things_are(sheet_of(sample.handout, "30" NBSP "mg"),
	           "×1 ampoule; ×1 empty 3 mL syringe; ×1 filter needle; ×1 thin needle (16" NBSP
	           "mm); ×1 wipe; ×1 sharps box, for needles; ",
	           sample.arena);
	assert_int_equal(kit_row(sample.handout, "Wipes", "")->need, 43);
	assert_int_equal(kit_row(sample.handout, "Needle, thick", "20 gauge")->need, 14);
	assert_null(kit_row(sample.handout, "Needle, thick", "18 gauge"));
	assert_int_equal(kit_row(sample.handout, "Filter needle", "")->need, 4);
	sample_packet_free(&sample);
	sample = sample_packet_said("samples/plans/wilma.yaml", PAPER_A4, true, "es");
	things_are(sheet_of(sample.handout, "30" NBSP "mg"),
	           "×1 ampolla; ×1 jeringa de 3 mL, vacía; ×1 aguja con filtro; ×1 aguja fina (16" NBSP
	           "mm); ×1 toallita; ×1 contenedor de agujas; ",
	           sample.arena);
	sample_packet_free(&sample);
	/* Two injections of each dose: the skin and the rubber twice. */
	sample = open_plan("nell");
	const struct medicine_sheet *twice = section_of(sample.handout, SECTION_MEDICINE)->medicine;
	int64_t doses = section_of(sample.handout, SECTION_SUPPLIES)->supplies->groups[0].rows[0].need;
	for (size_t i = 0; i < twice->n_lay_out; i++)
		if (strcmp(twice->lay_out[i].word, "wipes") == 0)
			assert_string_equal(twice->lay_out[i].count, "×4");
	assert_int_equal(kit_row(sample.handout, "Wipes", "")->need, 4 * doses);
	sample_packet_free(&sample);
}

static void days_are(struct tick_days days, const char *expected, struct arena *arena)
{
	const char *all = "";
	for (size_t i = 0; i < days.n; i++)
		all = arena_printf(arena, "%s%s ", all, days.days[i]);
	assert_string_equal(all, expected);
}

/* A box for each day that a page serves: what was ticked yesterday is not ticked today. */
static void each_day_has_its_box(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("wilma");
	days_are(sheet_of(sample.handout, "225" NBSP "units")->chain->days, "1 2 3 ", sample.arena);
	const struct medicine_sheet *two = NULL;
	for (size_t i = 0; i < sample.handout->n_sections; i++) {
		const struct section *section = &sample.handout->sections[i];
		if (section->kind == SECTION_MEDICINE && section->medicine->mix != NULL)
			two = section->medicine;
	}
	assert_non_null(two);
	/* Fabriline, days 6 to 12: mixed on the first, and when the vial is used up. */
	days_are(two->mix->ready_days, "6 12 ", sample.arena);
	assert_null(strstr(two->mix->ready_check, "pencil"));
	sample_packet_free(&sample);
}

/*
 * Folliplan's five boxes bring the liquid in its syringe; Fabriline's seven doses take empty ones. Examplin's seven
 * boxes serve ten evenings, three of them from a vial that is open, with an empty one.
 */
static void filled_syringes_are_not_spare_ones(void **state)
{
	static const struct {
		const char *plan;
		const char *language;
		const char *syringe;
		const char *detail;
	} rows[] = {{"samples/plans/wilma.yaml", "en", "1 mL syringe",
	             "5 come filled in Folliplan boxes you open\nget empty ones"},
	            {"samples/plans/wilma.yaml", "en", "3 mL syringe", "empty"},
	            {"samples/plans/wilma.yaml", "es", "Jeringa de 1 mL",
	             "5 vienen llenas en cajas de Folliplan\nlas que pida: vacías"}};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct sample_packet sample = sample_packet_said(rows[i].plan, PAPER_A4, false, rows[i].language);
		const struct supply_row *row = kit_row(sample.handout, rows[i].syringe, "");
		assert_non_null(row);
		assert_string_equal(row->detail, rows[i].detail);
		sample_packet_free(&sample);
	}
	struct sample_packet sample = open_plan("mara");
	assert_non_null(kit_row(sample.handout, "1 mL syringe", "7 come filled in Examplin boxes you open"));
	sample_packet_free(&sample);
}

/* Steps are numbered from 1 on the front and go on over all of the sheet's pages; warnings have no number. */
static void steps_are_numbered_through(void **state)
{
	(void)state;
	for (size_t p = 0; p < n_sample_plans; p++) {
		struct sample_packet sample = sample_packet_of(sample_plans[p], PAPER_A4);
		for (size_t i = 0; i < sample.handout->n_sections; i++) {
			if (sample.handout->sections[i].kind != SECTION_MEDICINE)
				continue;
			const struct medicine_sheet *sheet = sample.handout->sections[i].medicine;
			int number = 1;
			for (size_t j = 0; j < sheet->n_front; j++)
				assert_int_equal(sheet->front[j].number, number++);
			for (size_t j = 0; sheet->mix != NULL && j < sheet->mix->n_steps; j++)
				assert_int_equal(sheet->mix->steps[j].number, number++);
			if (sheet->part != NULL) {
				assert_int_equal(sheet->part->to_line->number, number++);
				assert_int_equal(sheet->part->rest->number, number++);
			}
			for (size_t j = 0; j < sheet->n_back; j++)
				if (!sheet->back[j].warning)
					assert_int_equal(sheet->back[j].number, number++);
			for (size_t j = 0; sheet->muscle != NULL && j < sheet->muscle->n_steps; j++)
				assert_int_equal(sheet->muscle->steps[j].number, number++);
			assert_true(sheet->n_front > 0 && (sheet->n_back > 0 || sheet->part != NULL));
		}
		sample_packet_free(&sample);
	}
}

/* ---- the check page ---- */

static const char *formula_text(struct arena *arena, const struct check_row *row)
{
	const char *text = "";
	for (size_t i = 0; i < row->n_formula; i++)
		text = arena_printf(arena, "%s[%s%s%s]", text, row->formula[i].text,
		                    row->formula[i].under == NULL ? "" : " over ",
		                    row->formula[i].under == NULL ? "" : row->formula[i].under);
	return text;
}

struct check_expected {
	const char *plan;
	const char *name;
	const char *detail;
	const char *formula;
	const char *mark; /* or the result */
};

static const struct check_expected check_rows[] = {
	{"mara", "Sampletide", "days 1 to 10 · morning, 08:00", "[20" NBSP "syringe units][=][0.2" NBSP "mL]",
         "line" NBSP "20"},
	{"mara", "Examplin", "days 1 to 6 · evening, 20:00",
         "[125" NBSP "mcg over 250" NBSP "mcg][×][1" NBSP "mL][=][0.5" NBSP "mL]", "0.5" NBSP "mL"},
	{"mara", "Examplin", "days 7 to 10 · evening, 20:00",
         "[250" NBSP "mcg over 250" NBSP "mcg][×][1" NBSP "mL][=][1" NBSP "mL]", "1" NBSP "mL"},
	{"mara", "Fictivane", "day 11 · 22:30 exactly",
         "[5,000" NBSP "units over 10,000" NBSP "units][×][3" NBSP "mL][=][1.5" NBSP "mL]", "1.5" NBSP "mL"},
	{"mara", "Examplin: use by", "Fri 4 Dec", "[20:00][+][26" NBSP "h][=][Sat 5 Dec, 22:00]", "22:00"},
	{"mara", "Timed injection to Procedure", "", "[elapsed time, clock changes counted][=][36" NBSP "h]",
         "36" NBSP "h"},
	{"ione", "Vacuprine", "days 1 to 4 · evening, 20:00",
         "[150" NBSP "units over 375" NBSP "units][×][1.5" NBSP "mL][=][0.6" NBSP "mL]", "0.6" NBSP "mL"},
	{"ione", "Nonsensol", "days 1 to 5 · morning, 08:00", "[half a tablet][=][half a tablet]", "half a tablet"},
	{"tamsin", "Pretendol", "days 3 to 12 · morning, 08:00",
         "[0.3" NBSP "mg over 0.5" NBSP "mg][×][0.5" NBSP "mL][=][0.3" NBSP "mL]", "push out to" NBSP "0.3" NBSP "mL"},
};

static void a_figure_is_worked_out(void **state)
{
	const struct check_expected *expected = case_of(state)->row;
	struct sample_packet sample = open_plan(expected->plan);
	const struct check_sheet *sheet = section_of(sample.handout, SECTION_CHECK)->check;
	const struct check_row *row = NULL;
	for (size_t i = 0; i < sheet->n_rows; i++)
		if (strcmp(sheet->rows[i].name, expected->name) == 0 &&
		    strcmp(sheet->rows[i].detail, expected->detail) == 0)
			row = &sheet->rows[i];
	assert_non_null(row);
	assert_string_equal(formula_text(sample.arena, row), expected->formula);
	assert_string_equal(row->mark.number == NULL ? row->result : mark_words_plain(sample.arena, row->mark),
	                    expected->mark);
	assert_string_equal(sheet->worked_name, "I. Sternkamp, nurse");
	assert_string_equal(sheet->checked_name, "A. Fennimore, pharmacist");
	sample_packet_free(&sample);
}

/* Half of 57 mm; one hundredth of a mL is 2.5 mcg, 2 % of 125 mcg. */
static void a_line_is_said_in_millimetres(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("mara");
	const struct check_sheet *sheet = section_of(sample.handout, SECTION_CHECK)->check;
	bool found = false;
	for (size_t i = 0; i < sheet->n_rows; i++)
		for (size_t j = 0; j < sheet->rows[i].n_notes; j++)
			found = found || strcmp(sheet->rows[i].notes[j],
			                        "28.5 mm from zero on the 1 mL syringe. One line off: 0.01" NBSP
			                        "mL, 2.5" NBSP "mcg (2" NBSP "%).") == 0;
	assert_true(found);
	sample_packet_free(&sample);
}

/* ---- signs ---- */

struct sign_row {
	const char *plan;
	int kinds[10];
	size_t n;
};

/* All have needles. mara: a whole filled syringe, an insulin syringe, shared vials, an exact time,
 * a new amount. ione: liquid to add, a call, new amounts. tamsin: a filled syringe pushed out first, a muscle. */
static const struct sign_row sign_rows[] = {
	{"mara", {SIGN_ALL, SIGN_LINE, SIGN_SIDE, SIGN_SPLIT, SIGN_EXACT, SIGN_NEW}, 6},
	{"ione", {SIGN_WHITE_TAG, SIGN_SIDE, SIGN_WAIT, SIGN_NEW}, 4},
	{"tamsin", {SIGN_WHITE_TAG, SIGN_SIDE, SIGN_HIP}, 3},
	{"wilma", {SIGN_WHITE_TAG, SIGN_ALL, SIGN_LINE, SIGN_SIDE, SIGN_NEW}, 5},
};

/* Of a syringe that is stopped on the way not all goes in; a new version shows no amount that is over. */
static void kinds_of_number_are_true(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("wilma");
	const struct before_sheet *before = section_of(sample.handout, SECTION_BEFORE)->before;
	assert_string_equal(before->kinds[1].text, "where to stop");
	assert_string_equal(before->signs[2].text,
	                    "stop at" NBSP "0.2" NBSP "mL: push until the ring is there. The rest \001stays in.\002");
	sample_packet_free(&sample);
	sample = open_plan("mara-2");
	before = section_of(sample.handout, SECTION_BEFORE)->before;
	assert_string_equal(before->kinds[0].sample, "250" NBSP "mcg");
	assert_string_equal(before->kinds[1].text, "where to stop. It goes into you");
	sample_packet_free(&sample);
}

static void only_signs_that_are_used_are_explained(void **state)
{
	const struct sign_row *row = case_of(state)->row;
	struct sample_packet sample = open_plan(row->plan);
	const struct before_sheet *before = section_of(sample.handout, SECTION_BEFORE)->before;
	assert_int_equal(before->n_signs, row->n);
	for (size_t i = 0; i < row->n; i++)
		assert_int_equal(before->signs[i].kind, row->kinds[i]);
	sample_packet_free(&sample);
}

/* ---- what has no date ---- */

static bool has_a_date(const char *text)
{
	static const char *const months[] = {"Jan", "Feb", "Mar ", "Apr", "May ", "Jun",
	                                     "Jul", "Aug", "Sep",  "Oct", "Nov",  "Dec"};
	for (size_t i = 0; text != NULL && i < sizeof months / sizeof *months; i++)
		if (strstr(text, months[i]) != NULL)
			return true;
	return false;
}

static void no_date(const char *text)
{
	if (has_a_date(text))
		fail_msg("an open dose has a date: %s", text);
}

static void check_sheet_without_date(const struct medicine_sheet *sheet)
{
	const char *texts[] = {sheet->front_title, sheet->front_lead, sheet->back_title,
	                       sheet->back_lead,   sheet->box_says,   sheet->box_part,
	                       sheet->window_text, sheet->alt,        sheet->caution};
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
		no_date(texts[i]);
	for (size_t i = 0; i < sheet->n_first; i++)
		no_date(sheet->first[i].text);
	for (size_t i = 0; i < sheet->n_front; i++)
		no_date(sheet->front[i].text);
	for (size_t i = 0; i < sheet->n_back; i++)
		no_date(sheet->back[i].text);
	for (size_t i = 0; i < sheet->n_notes; i++)
		no_date(sheet->notes[i].text);
}

static void check_overview_without_date(const struct overview *overview)
{
	size_t rows = 0;
	for (size_t i = 0; i < overview->n_rows; i++) {
		if (strcmp(overview->rows[i].name, "Examplin") != 0)
			continue;
		rows++;
		assert_true(overview->rows[i].waits);
		assert_null(overview->rows[i].days);
		no_date(overview->rows[i].instead);
	}
	assert_int_equal(rows, 1);
	for (size_t i = 0; i < overview->n_moments; i++)
		assert_null(strstr(overview->moments[i].what, "Examplin"));
}

static void what_waits_for_a_call_has_no_date_anywhere(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("ione");
	const struct handout *handout = sample.handout;
	const struct grid *grid = section_of(handout, SECTION_GRID)->grid;
	assert_int_equal(grid->n_waiting, 1);
	assert_string_equal(grid->waiting[0].heading, "\001Examplin: only when the clinic calls.\002");
	assert_string_equal(grid->waiting[0].text,
	                    "We call you when the scan shows the right size. Until then: do not start.");
	assert_string_equal(grid->waiting[0].dose_text, "250" NBSP "mcg");
	no_date(grid->waiting[0].heading);
	no_date(grid->waiting[0].text);
	for (size_t i = 0; i < grid->n_columns; i++)
		assert_string_not_equal(grid->columns[i].name, "Examplin");
	check_overview_without_date(section_of(handout, SECTION_OVERVIEW)->overview);
	check_sheet_without_date(sheet_of(handout, "250" NBSP "mcg"));

	const struct check_sheet *check = section_of(handout, SECTION_CHECK)->check;
	for (size_t i = 0; i < check->n_rows; i++)
		if (strncmp(check->rows[i].name, "Examplin", 8) == 0) {
			no_date(check->rows[i].detail);
			no_date(formula_text(sample.arena, &check->rows[i]));
		}
	assert_true(has_a_date("Fri 4 Dec"));
	sample_packet_free(&sample);
}

static const struct overview_row *row_named(const struct overview *overview, const char *name)
{
	for (size_t i = 0; i < overview->n_rows; i++)
		if (strcmp(overview->rows[i].name, name) == 0)
			return &overview->rows[i];
	fail_msg("no row for %s", name);
	return NULL;
}

/*
 * Examplin is known from day 7 to day 10 of the course, and a call may only
 * bring it forward: a sign that says 'wait' would have her wait. Vacuprine's
 * amounts from day 6 on do wait.
 */
static void what_a_call_may_bring_forward_is_not_waited_for(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("odile");
	const struct overview *overview = section_of(sample.handout, SECTION_OVERVIEW)->overview;
	const enum day_state *sooner = row_named(overview, "Examplin")->days;
	const enum day_state *waits = row_named(overview, "Vacuprine")->days;
	for (int day = 1; day <= 13; day++) {
		assert_int_equal(sooner[day - 1], day >= 7 && day <= 10 ? DAY_SOONER : DAY_NOTHING);
		assert_int_equal(waits[day - 1], day <= 5 ? DAY_TAKE : day <= 10 ? DAY_WAIT : DAY_NOTHING);
	}
	assert_true(overview->any_sooner && overview->any_wait);
	for (size_t i = 0; i < sample.handout->n_sections; i++)
		if (sample.handout->sections[i].kind == SECTION_WAITING)
			assert_int_equal(sample.handout->sections[i].waiting->sooner,
			                 strcmp(sample.handout->sections[i].item->id, "blocker") == 0);
	sample_packet_free(&sample);
	sample = open_plan("mara");
	assert_false(section_of(sample.handout, SECTION_OVERVIEW)->overview->any_sooner);
	sample_packet_free(&sample);
}

/* The blood test is counted from a first injection that no day is known for: it has a card, and is in the frame. */
static void a_visit_without_a_date_is_on_the_first_pages(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("odile");
	const struct overview *overview = section_of(sample.handout, SECTION_OVERVIEW)->overview;
	const struct grid *grid = section_of(sample.handout, SECTION_GRID)->grid;
	const struct moment_card *card = &overview->moments[overview->n_moments - 1];
	assert_true(card->open);
	assert_string_equal(card->date, "Placebix: day 4");
	assert_string_equal(card->time, "08:30");
	assert_string_equal(card->what, "Blood test, on a day not known yet");
	assert_int_equal(grid->n_waiting, 1);
	assert_non_null(strstr(grid->waiting[0].text, "\001Day 4 of Placebix: Blood test, 08:30.\002"));
	no_date(grid->waiting[0].text);
	sample_packet_free(&sample);
}

/* 00:30 of Tuesday the 15th still counts to day 11: the 15th's own row may not say that there is nothing to do. */
static void the_day_after_a_night_dose_names_it(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("odile");
	const struct grid *grid = section_of(sample.handout, SECTION_GRID)->grid;
	assert_int_equal(grid->n_rows, 13);
	assert_int_equal(grid->rows[10].n_exact, 1);
	assert_string_equal(grid->rows[11].date, "15 Dec");
	assert_string_equal(grid->rows[11].rest_text,
	                    "\001No second dose:\002 00:30 Fictivane belongs to day 11. Rest, unless we called.");
	assert_string_equal(grid->rows[12].rest_text, "No medicine on this day, unless we called.");
	sample_packet_free(&sample);
	sample = open_plan("mara");
	grid = section_of(sample.handout, SECTION_GRID)->grid;
	assert_string_equal(grid->rows[11].rest_text, "Rest day. Nothing to do.");
	sample_packet_free(&sample);
}

/* Days 1 to 5 have their amount, later ones wait: the head leads to the sheet of the one, and to what a call may set. */
static void a_head_names_the_known_amount_first(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("odile");
	const struct section *sections = sample.handout->sections;
	const struct grid_column *column = &section_of(sample.handout, SECTION_GRID)->grid->columns[0];
	assert_string_equal(column->name, "Vacuprine");
	assert_int_equal(column->n_instead, 2);
	assert_int_equal(sections[column->instead[0]].kind, SECTION_MEDICINE);
	assert_string_equal(sections[column->instead[0]].medicine->amount, "150" NBSP "units");
	assert_int_equal(sections[column->instead[1]].kind, SECTION_OPTIONS);
	const struct overview *overview = section_of(sample.handout, SECTION_OVERVIEW)->overview;
	assert_string_equal(overview->rows[0].name, "Vacuprine");
	assert_int_equal(overview->rows[0].section, column->instead[0]);
	sample_packet_free(&sample);
	sample = open_plan("mara");
	const struct grid *grid = section_of(sample.handout, SECTION_GRID)->grid;
	for (size_t i = 0; i < grid->n_columns; i++)
		assert_int_equal(grid->columns[i].n_instead, 0);
	sample_packet_free(&sample);
}

static const struct grid_cell *cell_on(const struct grid *grid, int day, const char *name)
{
	for (size_t i = 0; i < grid->n_columns; i++)
		if (strcmp(grid->columns[i].name, name) == 0)
			return &grid->rows[day - 1].cells[i];
	fail_msg("no column %s", name);
	return NULL;
}

/* 225 units are three vials of 75, 150 are two: the same "all" stands for both. Other tags need no count. */
static void all_of_several_says_how_many(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("wilma");
	const struct grid *grid = section_of(sample.handout, SECTION_GRID)->grid;
	assert_string_equal(cell_on(grid, 1, "Folliplan")->mark.number, "all");
	assert_string_equal(cell_on(grid, 1, "Folliplan")->beside, "×3 vials");
	assert_string_equal(cell_on(grid, 4, "Folliplan")->beside, "×2 vials");
	assert_null(cell_on(grid, 4, "Folliplan")->second_beside);
	assert_null(cell_on(grid, 6, "Fabriline")->beside);
	assert_null(cell_on(grid, 2, "Phialone")->beside);
	sample_packet_free(&sample);
	sample = open_plan("mara");
	grid = section_of(sample.handout, SECTION_GRID)->grid;
	assert_string_equal(cell_on(grid, 5, "Mockuline")->mark.number, "all");
	assert_null(cell_on(grid, 5, "Mockuline")->beside);
	sample_packet_free(&sample);
}

/* Half a millilitre with 0.2 left in it, and 0.3 left after pushing out, is 0.3 into the patient each time. */
static void a_stop_says_what_goes_in(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("wilma");
	const struct grid *grid = section_of(sample.handout, SECTION_GRID)->grid;
	assert_string_equal(cell_on(grid, 8, "Dummirex")->goes_in, "0.3" NBSP "mL goes in");
	assert_null(cell_on(grid, 1, "Folliplan")->goes_in);
	assert_null(cell_on(grid, 6, "Fabriline")->goes_in);
	sample_packet_free(&sample);
	sample = open_plan("tamsin");
	grid = section_of(sample.handout, SECTION_GRID)->grid;
	assert_string_equal(cell_on(grid, 3, "Pretendol")->goes_in, "0.3" NBSP "mL goes in");
	assert_null(cell_on(grid, 3, "Insertine")->goes_in);
	sample_packet_free(&sample);
}

/* ---- what stands on every page ---- */

static void every_page_says_whose_it_is(void **state)
{
	(void)state;
	struct sample_packet sample = open_plan("mara");
	const struct running *running = &sample.handout->running;
	assert_string_equal(running->patient, "Mara Quillfeather · born 14 Feb 1997 · Lindenquay Clinic");
	assert_string_equal(running->version, "\001version 1\002 · signed 25 Nov 2026");
	assert_int_equal(running->n_phones, 2);
	assert_string_equal(running->phones[0], "Day \001000 555 0142\002");
	assert_string_equal(running->phones[1], "Night \001000 555 0199\002");
	assert_string_equal(running->patient_alone, "Mara Quillfeather · born 14 Feb 1997");
	assert_null(running->draft_band);
	assert_string_equal(running->code, sample.record->code);
	const struct overview *overview = section_of(sample.handout, SECTION_OVERVIEW)->overview;
	assert_string_equal(overview->good_until, "Good until your visit on Fri 11 Dec.");
	assert_string_equal(overview->seal_line_2, "signed, 25 Nov 2026");
	sample_packet_free(&sample);
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof plan_rows / sizeof *plan_rows; i++)
		tests_add(&tests, plan_rows[i].plan, sections_are_as_expected, &plan_rows[i]);
	tests_add(&tests, "tags are those of the draws", tags_are_those_of_the_draws, NULL);
	tests_add(&tests, "labels have their dates", labels_have_their_dates, NULL);
	tests_add(&tests, "halves stand in the grid", halves_stand_in_the_grid, NULL);
	for (size_t i = 0; i < sizeof supplies_rows / sizeof *supplies_rows; i++)
		tests_add(&tests, supplies_rows[i].plan, supplies_are_as_counted, &supplies_rows[i]);
	for (size_t i = 0; i < sizeof label_rows / sizeof *label_rows; i++)
		tests_add(&tests, label_rows[i].name, what_a_container_holds_is_said, &label_rows[i]);
	for (size_t i = 0; i < sizeof box_rows / sizeof *box_rows; i++)
		tests_add(&tests, box_rows[i].name, the_box_is_told_from_the_dose, &box_rows[i]);
	tests_add(&tests, "a box of pens, or of pieces", a_box_of_pens_or_pieces_has_no_dose, NULL);
	for (size_t i = 0; i < sizeof part_strips / sizeof *part_strips; i++)
		tests_add(&tests, part_strips[i].name, a_part_says_what_goes_in, &part_strips[i]);
	tests_add(&tests, "what runs out first is said first", what_runs_out_first_is_said_first, NULL);
	tests_add(&tests, "things to lay out are counted", things_to_lay_out_are_counted, NULL);
	tests_add(&tests, "a scale in units has its strength", a_scale_in_units_has_its_strength, NULL);
	tests_add(&tests, "late names the numbers", late_names_the_numbers, NULL);
	tests_add(&tests, "supplies name what is at home", supplies_name_what_is_at_home, NULL);
	tests_add(&tests, "terms are said where they are", terms_are_said_where_they_are, NULL);
	tests_add(&tests, "what is laid out is what is counted", what_is_laid_out_is_what_is_counted, NULL);
	tests_add(&tests, "filled syringes are not spare ones", filled_syringes_are_not_spare_ones, NULL);
	tests_add(&tests, "kinds of number are true", kinds_of_number_are_true, NULL);
	tests_add(&tests, "each day has its box", each_day_has_its_box, NULL);
	tests_add(&tests, "steps are numbered through", steps_are_numbered_through, NULL);
	for (size_t i = 0; i < sizeof check_rows / sizeof *check_rows; i++)
		tests_add(&tests, check_rows[i].name, a_figure_is_worked_out, &check_rows[i]);
	tests_add(&tests, "a line is said in millimetres", a_line_is_said_in_millimetres, NULL);
	for (size_t i = 0; i < sizeof sign_rows / sizeof *sign_rows; i++)
		tests_add(&tests, sign_rows[i].plan, only_signs_that_are_used_are_explained, &sign_rows[i]);
	tests_add(&tests, "what waits for a call has no date", what_waits_for_a_call_has_no_date_anywhere, NULL);
	tests_add(&tests, "what a call may bring forward is not waited for",
	          what_a_call_may_bring_forward_is_not_waited_for, NULL);
	tests_add(&tests, "a visit without a date is on the first pages", a_visit_without_a_date_is_on_the_first_pages,
	          NULL);
	tests_add(&tests, "all of several says how many", all_of_several_says_how_many, NULL);
	tests_add(&tests, "a stop says what goes in", a_stop_says_what_goes_in, NULL);
	tests_add(&tests, "a head names the known amount first", a_head_names_the_known_amount_first, NULL);
	tests_add(&tests, "the day after a night dose names it", the_day_after_a_night_dose_names_it, NULL);
	tests_add(&tests, "every page says whose it is", every_page_says_whose_it_is, NULL);
	return tests_run(&tests, "handout");
}
