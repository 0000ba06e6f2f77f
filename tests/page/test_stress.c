/*
 * Too much of everything: twelve medicines, forty days, six times a day, a name
 * of sixty letters, a caution of four hundred words, seven telephones, millions
 * of units. Nothing overlaps or is cut, nothing is lost, and pages end well.
 */
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_packets.h"

#include <math.h>
#include <string.h>

#define FOLDER "tests/stress"
#define PLAN FOLDER "/plans/everything.yaml"
#define FOOT 45.0 /* what lies lower on a page is its foot */

struct row {
	const char *name;
	enum paper paper;
	bool large_print;
};

static const struct row rows[] = {
	{"A4", PAPER_A4, false},
	{"Letter", PAPER_LETTER, false},
	{"A4, large print", PAPER_A4, true},
	{"Letter, large print", PAPER_LETTER, true},
};

static struct sample_packet open_row(const struct row *row)
{
	return packet_of_clinic(FOLDER, PLAN, row->paper, row->large_print);
}

static void no_fault(void **state)
{
	struct sample_packet packet = open_row(case_of(state)->row);
	const char *faults = packet_faults(case_of(state)->arena, packet.packet);
	if (*faults != '\0')
		print_error("%s", faults);
	assert_string_equal(faults, "");
	sample_packet_free(&packet);
}

static bool is_content(const struct placed_page *page, const struct placed_mark *mark)
{
	return mark->area.height > 0 && mark->area.y + mark->area.height < page->height - FOOT + 20;
}

/* How low a page's content reaches: the last text, tag or figure above the foot. */
static double lowest(const struct placed_page *page)
{
	double low = 0;
	for (size_t i = 0; i < page->n; i++)
		if (is_content(page, &page->marks[i]))
			low = fmax(low, page->marks[i].area.y + page->marks[i].area.height);
	return low;
}

/* A page that is followed by another of its section is not left nearly empty. */
static void no_page_is_nearly_empty(void **state)
{
	struct sample_packet packet = open_row(case_of(state)->row);
	for (size_t i = 0; i + 1 < packet.packet->n; i++) {
		const struct placed_page *page = &packet.packet->pages[i];
		if (page[1].section == page->section && lowest(page) < page->height / 3)
			fail_msg("page %s ends at %.0f of %.0f mm", page->label, lowest(page), page->height);
	}
	sample_packet_free(&packet);
}

/* All words of the caution, in order, over however many pieces and pages. */
static void the_caution_is_whole(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct sample_packet packet = open_row(case_of(state)->row);
	const char *all = "";
	const char *said = NULL;
	for (size_t i = 0; i < packet.handout->n_sections; i++) {
		const struct section *section = &packet.handout->sections[i];
		if (section->kind == SECTION_MEDICINE && section->medicine->caution != NULL &&
		    strstr(section->medicine->caution, "wine") != NULL)
			said = section->medicine->caution;
	}
	assert_non_null(said);
	for (size_t i = 0; i < packet.packet->n; i++)
		for (size_t j = 0; j < packet.packet->pages[i].n; j++) {
			const struct placed_mark *mark = &packet.packet->pages[i].marks[j];
			const char *text = mark->kind == MARK_TEXT ? text_string(mark->text.block) : "";
			if (strlen(text) > 30 && strstr(said, text) != NULL)
				all = arena_printf(arena, "%s%s%s", all, *all == '\0' ? "" : " ", text);
		}
	assert_string_equal(all, said);
	sample_packet_free(&packet);
}

/* Each day's six tablets have six ticks, and no day is missing: as many as the grid has cells and bands. */
static void every_dose_has_its_tick(void **state)
{
	struct sample_packet packet = open_row(case_of(state)->row);
	size_t cells = 0;
	size_t ticks = 0;
	section_ref grid_section = -1;
	for (size_t i = 0; i < packet.handout->n_sections; i++) {
		const struct section *section = &packet.handout->sections[i];
		if (section->kind != SECTION_GRID)
			continue;
		grid_section = (section_ref)i;
		for (size_t j = 0; j < section->grid->n_rows; j++) {
			const struct grid_row *row = &section->grid->rows[j];
			for (size_t k = 0; k < section->grid->n_columns; k++)
				cells += row->cells[k].state != CELL_EMPTY && !row->cells[k].done;
			cells += row->n_exact;
		}
	}
	for (size_t i = 0; i < packet.packet->n; i++)
		for (size_t j = 0; j < packet.packet->pages[i].n; j++) {
			const struct placed_mark *mark = &packet.packet->pages[i].marks[j];
			ticks += packet.packet->pages[i].section == grid_section && mark->kind == MARK_BOX &&
			         !mark->inside && mark->area.width == mark->area.height;
		}
	assert_true(cells > 6 * 40);
	assert_int_equal(ticks, cells);
	sample_packet_free(&packet);
}

/* Insertine is taken three times a day from day 16 on: three columns, and one name in what starts then. */
static void a_foot_names_a_medicine_once(void **state)
{
	struct sample_packet packet = open_row(case_of(state)->row);
	size_t feet = 0;
	for (size_t i = 0; i < packet.packet->n; i++)
		for (size_t j = 0; j < packet.packet->pages[i].n; j++) {
			const struct placed_mark *mark = &packet.packet->pages[i].marks[j];
			const char *text = mark->kind == MARK_TEXT ? text_string(mark->text.block) : "";
			const char *name = strstr(text, " on day 16: ") == NULL ? NULL : strstr(text, "Insertine");
			feet += name != NULL;
			if (name != NULL && strstr(name + 1, "Insertine") != NULL)
				fail_msg("named twice: %s", text);
		}
	const struct row *row = case_of(state)->row;
	assert_int_equal(feet > 0, !row->large_print);
	sample_packet_free(&packet);
}

static bool is_side_word(const struct placed_mark *mark)
{
	const char *text = mark->kind == MARK_TEXT ? text_string(mark->text.block) : "";
	return strcmp(text, "left") == 0 || strcmp(text, "right") == 0;
}

/* "10 Dec right" would read as one: a side's word keeps 1.8 mm from what stands before it in the day's column. */
static void a_side_keeps_from_its_date(void **state)
{
	struct sample_packet packet = open_row(case_of(state)->row);
	for (size_t i = 0; i < packet.packet->n; i++) {
		const struct placed_page *page = &packet.packet->pages[i];
		for (size_t j = 0; j < page->n; j++)
			for (size_t k = 0; is_side_word(&page->marks[j]) && k < page->n; k++) {
				struct rect word = page->marks[j].area;
				struct rect date = page->marks[k].area;
				bool beside = page->marks[k].kind == MARK_TEXT && k != j && date.x < word.x &&
				              date.x > 15 && date.x < 40 && date.y < word.y + word.height &&
				              word.y < date.y + date.height;
				if (beside && word.x - date.x - date.width < 1.8)
					fail_msg("page %s: %s stands %.2f mm from %s", page->label,
					         text_string(page->marks[j].text.block), word.x - date.x - date.width,
					         text_string(page->marks[k].text.block));
			}
	}
	sample_packet_free(&packet);
}

/* The foot names the first telephones, and the first page all seven. */
static void all_telephones_stand_on_the_first_pages(void **state)
{
	static const char *const numbers[] = {"000 555 0142", "000 555 0199", "000 555 0133",    "000 555 0122",
	                                      "000 555 0111", "000 555 0100", "+00 000 555 0142"};
	struct sample_packet packet = open_row(case_of(state)->row);
	for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
		size_t found = 0;
		for (size_t j = 0; j < packet.packet->n; j++)
			if (packet.packet->pages[j].section == 0)
				found += count_text(&packet.packet->pages[j], numbers[i]);
		assert_int_equal(found, 1);
	}
	sample_packet_free(&packet);
}

int main(void)
{
	static const struct {
		const char *name;
		CMUnitTestFunction function;
	} laws[] = {{"no fault", no_fault},
	            {"no page is nearly empty", no_page_is_nearly_empty},
	            {"the caution is whole", the_caution_is_whole},
	            {"every dose has its tick", every_dose_has_its_tick},
	            {"a foot names a medicine once", a_foot_names_a_medicine_once},
	            {"a side keeps from its date", a_side_keeps_from_its_date},
	            {"all telephones stand on the first pages", all_telephones_stand_on_the_first_pages}};
	struct tests tests = {0};
	struct arena *arena = arena_new();
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		for (size_t j = 0; j < sizeof laws / sizeof *laws; j++)
			tests_add(&tests, arena_printf(arena, "%s: %s", rows[i].name, laws[j].name), laws[j].function,
			          &rows[i]);
	int failed = tests_run(&tests, "stress");
	arena_free(arena);
	return failed;
}
