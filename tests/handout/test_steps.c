/*
 * Steps say what a hand must do and no reader can guess: which caps come off, how far to pull, where things go.
 */
#include "handout/handout.h"
#include "support/cases.h"
#include "support/sample_packets.h"

#include <string.h>

#define NBSP "\u00a0"

struct said_row {
	const char *name;
	const char *plan;
	const char *language;
	const char *sheet; /* how its title begins */
	const char *says;  /* what one of its steps must hold; \001 and \002 stand round what is bold */
};

static const struct said_row said_rows[] = {
	{"a filter needle has a cap", "wilma", "en", "Phialone", "Pull the needle cap straight off."},
	{"a filter needle has a cap, es", "wilma", "es", "Phialone", "Quite la tapa de la aguja sin torcer."},
	{"an ampoule is drawn past the line", "wilma", "en", "Phialone",
         "slowly, \001a little past 1.2" NBSP "mL:\002 see"},
	{"an ampoule is drawn past the line, es", "wilma", "es", "Phialone",
         "\001un poco más allá de 1.2" NBSP "mL:\002 vea"},
	{"a fixed needle has a cap", "mara", "en", "Sampletide", "Pull the needle cap straight off."},
	{"a fixed needle has a cap, es", "mara", "es", "Sampletide", "Quite la tapa de la aguja sin torcer."},
	{"glass is snapped with no bare needle about", "wilma", "en", "Phialone", "Leave its cap on."},
	{"glass is snapped with no bare needle about, es", "wilma", "es", "Phialone", "Deje su tapa puesta."},
	{"a needle for a powder's ampoule has its cap, too", "odile", "en", "Vacuprine 150", "Leave its cap on."},
	{"the ring stands on its start line before a part is given", "wilma", "en", "Dummirex", "ring on \0010.5\002."},
	{"the ring stands on its start line before a part is given, es", "wilma", "es", "Dummirex",
         "anillo en \0010.5\002."},
	{"the used needle leaves the hand first", "mara", "en", "Examplin 125",
         "Drop syringe and needle in, no cap back on: it pricks.\n\001First half?\002"},
	{"an insert goes into the vagina", "tamsin", "en", "Insertine", "into the vagina:"},
	{"an insert goes into the vagina, es", "tamsin", "es", "Insertine", "en la vagina"},
	{"empty vials go into the box", "wilma", "en", "Folliplan", "Drop needles, syringes, glass in."},
	{"empty vials go into the box, es", "wilma", "es", "Folliplan", "Eche agujas, jeringas, vidrio."},
	{"a vial for many days stays out of it", "wilma", "en", "Fabriline",
         "\001Mixed vial needed again?\002 Put it back.\n\001Not needed?\002 Drop it in, too."},
	{"a vial for many days stays out of it, es", "wilma", "es", "Fabriline",
         "otra vez el frasco mezclado?\002 Guárdelo otra vez.\n"},
	{"a first injection leaves its vial", "nell", "en", "Doublamine", "\001First?\002 Keep the vial."},
	{"a first injection leaves its vial, es", "nell", "es", "Doublamine", "\001¿Primera?\002 Guarde el frasco."},
	{"both injections make a tick", "nell", "en", "Doublamine", "\001Both given?\002 Tick your day."},
	{"both injections make a tick, es", "nell", "es", "Doublamine", "\001¿Las dos?\002 Marque su día."},
	{"a second injection has its side", "nell", "en", "Doublamine", "\001Second?\002 Wipe the other."},
	{"a second injection has its side, es", "nell", "es", "Doublamine", "\001¿Segunda?\002 Limpie el otro."},
	{"a first half stays out of it", "mara", "en", "Examplin 125",
         "\001First half?\002 Write the time on its label."},
	{"a solution's vial goes with its rest", "mara", "en", "Fictivane", "vial too."},
	{"a vial in use is not opened again", "mara", "en", "Sampletide", "Vial already open? Skip this step."},
	{"the only needle leaves its vial", "mara", "en", "Sampletide", "Take the needle out."},
	{"the only needle leaves its vial, es", "mara", "es", "Sampletide", "Saque la aguja."},
	{"a vial for many days is not filled up", "mara", "en", "Sampletide",
         "never add from a second vial, the dose may be wrong."},
	{"a line may be out of reach", "mara", "en", "Examplin", "Not enough? Stop, call."},
	{"a line may be passed", "mara", "en", "Fictivane", "Past the line, or no drop? Stop, call."},
};

static bool any_says(const struct step *steps, size_t n, const char *says)
{
	for (size_t i = 0; i < n; i++)
		if (strstr(steps[i].text, says) != NULL)
			return true;
	return false;
}

static bool sheet_says(const struct medicine_sheet *sheet, const char *says)
{
	return any_says(sheet->first, sheet->n_first, says) || any_says(sheet->front, sheet->n_front, says) ||
	       (sheet->mix != NULL && any_says(sheet->mix->steps, sheet->mix->n_steps, says)) ||
	       any_says(sheet->back, sheet->n_back, says) ||
	       (sheet->muscle != NULL && any_says(sheet->muscle->steps, sheet->muscle->n_steps, says));
}

static const struct medicine_sheet *sheet_of_section(const struct section *section)
{
	if (section->kind == SECTION_MEDICINE)
		return section->medicine;
	return section->kind == SECTION_COUNTED ? section->counted->sheet : NULL;
}

static void a_step_says_it(void **state)
{
	const struct said_row *row = case_of(state)->row;
	const char *plan = arena_printf(case_of(state)->arena, "samples/plans/%s.yaml", row->plan);
	struct sample_packet sample = sample_packet_said(plan, PAPER_A4, false, row->language);
	int sheets = 0;
	for (size_t i = 0; i < sample.handout->n_sections; i++) {
		const struct medicine_sheet *sheet = sheet_of_section(&sample.handout->sections[i]);
		if (sheet == NULL || strncmp(sheet->front_title, row->sheet, strlen(row->sheet)) != 0)
			continue;
		assert_true(sheet_says(sheet, row->says));
		sheets++;
	}
	assert_true(sheets > 0);
	sample_packet_free(&sample);
}

/* ---- no bare needle waits for the skin ---- */

struct order {
	int line;
	int wiped; /* the line that wipes the skin; 0: none yet */
	int bare;  /* the last that takes a cap off */
};

static void read_order(struct order *order, const struct step *steps, size_t n)
{
	static const char *const caps[] = {"its cap off", "needle cap straight off", "both caps off", "outer cap off"};
	for (size_t i = 0; i < n; i++) {
		for (const char *line = steps[i].text; line != NULL; line = strchr(line, '\n')) {
			line += *line == '\n';
			size_t length = strcspn(line, "\n");
			order->line++;
			if (strncmp(line, "Wipe today's side", strlen("Wipe today's side")) == 0)
				order->wiped = order->line;
			for (size_t k = 0; k < sizeof caps / sizeof *caps; k++) {
				const char *cap = strstr(line, caps[k]);
				if (cap != NULL && (size_t)(cap - line) < length)
					order->bare = order->line;
			}
		}
	}
}

static void skin_is_wiped_before_the_cap_comes_off(void **state)
{
	const char *name = case_of(state)->row;
	const char *plan = arena_printf(case_of(state)->arena, "samples/plans/%s.yaml", name);
	struct sample_packet sample = sample_packet_said(plan, PAPER_A4, false, "en");
	for (size_t i = 0; i < sample.handout->n_sections; i++) {
		const struct section *section = &sample.handout->sections[i];
		const struct medicine_sheet *sheet = section->kind == SECTION_MEDICINE ? section->medicine : NULL;
		struct order order = {0};
		if (section->kind == SECTION_PEN)
			sheet = section->pen->sheet;
		if (sheet == NULL)
			continue;
		read_order(&order, sheet->front, sheet->n_front);
		if (sheet->mix != NULL)
			read_order(&order, sheet->mix->steps, sheet->mix->n_steps);
		read_order(&order, sheet->back, sheet->n_back);
		if (sheet->muscle != NULL)
			read_order(&order, sheet->muscle->steps, sheet->muscle->n_steps);
		assert_true(order.wiped > 0);
		assert_true(order.bare > order.wiped);
	}
	sample_packet_free(&sample);
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof said_rows / sizeof *said_rows; i++)
		tests_add(&tests, said_rows[i].name, a_step_says_it, &said_rows[i]);
	static const char *const plans[] = {"mara", "wilma", "ione", "tilda", "tamsin", "odile", "paloma"};
	for (size_t i = 0; i < sizeof plans / sizeof *plans; i++)
		tests_add(&tests, plans[i], skin_is_wiped_before_the_cap_comes_off, plans[i]);
	return tests_run(&tests, "steps");
}
