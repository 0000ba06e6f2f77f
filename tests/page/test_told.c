/*
 * What a page tells of the plan, or of another page, is so: facts that readers found wrong once.
 *
 * A row names a page by how a text on it begins. '@' in what is said stands for the
 * number of the page on which the text `target` begins.
 */
#include "support/cases.h"
#include "support/page_checks.h"
#include "support/sample_packets.h"

#include <string.h>

enum print { A4, LETTER, LARGE };

struct told_row {
	const char *name;
	const char *plan;
	const char *language; /* NULL: the plan's */
	enum print print;
	const char *page;
	const char *says;   /* NULL: nothing is asked */
	const char *lacks;  /* on none of those pages; NULL: nothing is asked */
	const char *target; /* NULL: no page is named */
};

static const struct told_row told_rows[] = {
	{"the kinds of number show the order", "nell", NULL, A4, "Kinds of number", "\n75 mg\n", "37.5 mg", NULL},
	{"the kinds of number show the order, es", "nell", "es", LARGE, "Clases de número", "\n75 mg\n", "37.5 mg",
         NULL},
	{"two days are joined", "wilma", NULL, A4, "Fabriline", "only days 6 and 12,", NULL, NULL},
	{"two days that follow each other are no range", "wilma", NULL, A4, "Folliplan", "days 4 and 5 ·", "4 to 5",
         NULL},
	{"two days are joined, es", "wilma", "es", LARGE, "Fabriline", "días 6 y 12", NULL, NULL},
	{"more days are ranges", "mara", NULL, A4, "Examplin 250", "days 7 to 10", NULL, NULL},
	{"a further page says that it goes on", "odile", NULL, LARGE, "Changed later, by phone?", "\ncontinued\n", NULL,
         NULL},
	{"a further page says that it goes on, es", "odile", "es", LARGE, "Placebix: ¿qué número?", "\ncontinuación\n",
         NULL, NULL},
	{"a page is named in brackets", "tamsin", NULL, A4, "Show me", "says Insertine, 08:00 (page 2).", NULL, NULL},
	{"a pen that is empty goes away", "tilda", NULL, LARGE, "Your pens", "and then: Into the sharps box, empty.",
         NULL, NULL},
	{"an exact time at night has its word", "paloma", NULL, A4, "Su plan de inyecciones", "\nNoche\n",
         "de la noche", NULL},
	{"one word for a side", "paloma", NULL, A4, "Dónde: vientre o muslo", "izquierda: días", "izquierdo", NULL},
	{"a syringe's name begins with a capital", "paloma", NULL, A4, "Su material", "\nJeringa de", "\njeringa de",
         NULL},
	{"all goes in after the tag", "tamsin", NULL, LARGE, "then all",
         "[push out to 0.3 mL]\nthen all, 0.3 mL goes in\n", "then all, 0.3 mg", NULL},
	{"the check page shows the order", "nell", NULL, A4, "Check page", "75 mg, in two of 37.5 mg ·", NULL, NULL},
	{"the teach-back shows the order", "nell", NULL, A4, "Show me", "Doublamine 75 mg, in two of 37.5 mg.", NULL,
         NULL},
	{"an evening's medicine is on the evenings' page", "tamsin", NULL, A4, "Check page",
         "evening, 20:00 · page @ ·", NULL, "Noon and evenings"},
	{"an exact time is on the evenings' page", "paloma", NULL, A4, "Check page", "22:30 exactly · page @ ·", NULL,
         "Tardes"},
	{"a bedtime's medicine is on the evenings' page", "perpetua", NULL, LETTER, "Check page",
         "bedtime, 22:00 · page @ ·", NULL, "Day by day, continued"},
	{"what waits has its frame on a page", "odile", NULL, LETTER, "Check page", "150 units · page @ ·", NULL,
         "Placebix: only when"},
	{"a dose in large print is on its day's page", "mara-2", NULL, LARGE, "Check page", "22:30 exactly · page @ ·",
         NULL, "22:30\nexact time"},
	{"tags are shown as they are printed", "paloma", NULL, A4, "Check page", "[línea 20 ]", "[line 20 ]", NULL},
	{"tags are said in the staff's words", "paloma", NULL, A4, "Check page", "The sheet says “línea 20”: line 20.",
         NULL, NULL},
	{"a tag is taught as it is printed", "paloma", NULL, A4, "Show me", "[ todo ]\n(all) Step", NULL, NULL},
	{"a heading is taught as it is printed", "paloma", NULL, A4, "Show me", "‘¿Se le pasó?’", NULL, NULL},
	{"what is printed in the staff's language is shown once", "mara", NULL, A4, "Check page", NULL,
         "The sheet says", NULL},
	{"squares are on their own page", "mara-2", NULL, LARGE, "The squares of this vial", "are on page @.", NULL,
         "day 9\n"},
	{"squares of days that are done are ticked", "mara-2", NULL, A4, "Tick one square for each dose",
         "(done)\n7\n8\n", NULL, NULL},
	{"squares of days that are done are ticked in large print", "mara-2", NULL, LARGE, "day 7",
         "(done)\nday 7\nday 8", NULL, NULL},
	{"the staff count supplies from the patient's day on", "mara-2", NULL, A4, "Check page",
         "From Fri 11 Dec on: 3 needed, 4 in hand:", "10 needed", NULL},
	{"the staff count supplies of a new plan whole", "mara", NULL, A4, "Check page",
         "10 needed, 30 in hand:", "From Fri", NULL},
	{"no call is to be booked before a day that is over", "mara-2", NULL, A4, "Show me", "before the next dose",
         "before day 1", NULL},
	{"a call may be booked before the first day", "mara", NULL, A4, "Show me", "before day 1", NULL, NULL},
	{"a look-up reaches no day after the last", "odile", NULL, A4, "Which day is which?", "days 3, 10\n", "11\n",
         NULL},
	{"a look-up stops at the last day", "odile", NULL, A4, "Which day is which?", "Thu\nFri\nSat\nSun\n–\n–\n–\n",
         NULL, NULL},
	{"a look-up stops at the last day, es", "odile", "es", A4, "¿Qué día es cuál?", "jue\nvie\nsáb\ndom\n–\n–\n–\n",
         "11\n", NULL},
	{"an example of a sooner start is sooner", "odile", NULL, A4, "Show me",
         "We call on Monday and say: day 1 is Tuesday.", "Examplin. “We call on Wednesday", NULL},
	{"drawing sends to the helper's page", "tamsin", NULL, A4, "Oleumine: draw\n",
         "Read page @ next, then step 10.", "inject\n", "Oleumine: into the muscle\n"},
	{"drawing sends to the helper's page, es", "tamsin", "es", A4, "Oleumine: cargar\n",
         "Lea ahora la página @, luego el paso 10.", NULL, "Oleumine: en el músculo"},
	{"drawing sends to the helper's pages in large print", "tamsin", NULL, LARGE, "Oleumine: draw",
         "Read page @ next, then step 10.", NULL, "Oleumine: into the muscle\n"},
	{"a half tablet's cutter is laid out", "ione", NULL, A4, "Lay out", "and the tablet cutter.", NULL, NULL},
	{"a half tablet's cutter is laid out, es", "ione", "es", LARGE, "Prepare", "y el partidor de tabletas.", NULL,
         NULL},
	{"a whole tablet needs no cutter", "mara", NULL, A4, "Lay out", NULL, "cutter", NULL},
	{"a plan without visits is good until its last day", "nell", NULL, A4, "Your injection plan",
         "Good until day 10, Sun 20 Dec.\nThen it is over. Something changes? We call you.", "No call before a dose",
         NULL},
	{"a plan without visits is good until its last day, es", "nell", "es", LARGE, "Vale hasta",
         "Vale hasta el día 10, dom 20 dic.", NULL, NULL},
	{"a plan with visits is good until the next", "mara", NULL, A4, "Your injection plan",
         "Good until your visit on Fri 11 Dec.\nWhat comes after may change: we call you. No call before the 20:00 "
         "dose? Call us first.",
         NULL, NULL},
	{"a label sends to the second day", "mara", NULL, LARGE, "Cut out the label", "How: page @\n", NULL,
         "Second day, start here"},
	{"a second half sends to its steps", "mara", NULL, LARGE, "Second half",
         "Start on page @. Then:", "Start below", "Second day, start here"},
	{"a second half sends to its steps, es", "paloma", "es", LARGE, "Segunda mitad", "Empiece en la página @.",
         "Empiece abajo", "Segundo día"},
	{"a second half is below where it is", "mara", NULL, A4, "Second half", "Start below. Then:", NULL, NULL},
	{"a second day goes on where the step is", "mara", NULL, LARGE, "Syringe\n", "Go to page @, step 7.", NULL,
         "7\nDraw it\nTurn it over, tip in the liquid.\nPull to your line: see A, B.\nNot enough? Stop, call.\n"},
	{"a second day goes on where the step is, es", "paloma", "es", LARGE, "Otra jeringa\n",
         "Siga: página @, paso 7.", NULL,
         "7\nCargue\nFrasco boca abajo, punta dentro.\nCargue hasta su línea: vea A, B.\n¿No alcanza? Pare y llame.\n"},
	{"a table pages away is named by its page", "odile", NULL, LARGE, "An amount that is not",
         "not in the table on page @ is", NULL, "Placebix: which number?\n"},
	{"a table pages away is named by its page, es", "odile", "es", LARGE, "Una cantidad que no",
         "la tabla (página @) es", NULL, "Placebix: ¿qué número?\n"},
	{"a sooner start is crossed out on its page", "odile", NULL, LETTER, "Examplin: we may call sooner",
         "cross out Examplin on page @ and", "Day by day\n", "Day by day, continued"},
	{"a sooner start is crossed out on all its pages, es", "odile", "es", LARGE, "Examplin: quizá",
         "tache Examplin (páginas @, ", "Día por día", "jueves 10 de diciembre"},
	{"a sooner start is crossed out on all its pages", "odile", NULL, LARGE, "Examplin: we may call sooner",
         "cross out Examplin on pages @, ", NULL, "Thursday 10 December"},
	{"no half is made on a day of whole tablets", "ione", NULL, LARGE, "Step by step",
         "No half in today's row? Go to “Swallow”.\nA half left", NULL, NULL},
	{"no half is made on a day of whole tablets, es", "tilda", "es", A4,
         "Nonsensol: ", "¿La fila de hoy no dice “media”? Vaya a “Trague”.\n¿Quedó una", NULL, NULL},
	{"alarms are set on their own page", "paloma", "en", LARGE, "Vial of liquid · day 11 · 22:30 exactly",
         "set alarms first: page @\n", NULL, "Set two alarms now"},
	{"an alarm names a step as the first of those that inject", "mara", NULL, LARGE, "Set two alarms now",
         "Inject: page @, from step 10 on.", NULL,
         "10\nPush air out\nPull its cap off.\nPoint it up.\nTap the side.\nPush slowly.\nStop on 1.5"},
	{"an alarm names a step as the first of those that inject, es", "paloma", "es", LARGE,
         "Ponga ahora dos alarmas", "Inyecte: página @, desde el paso 10.", NULL,
         "10\nSaque el aire\nQuite su tapa.\nAguja arriba.\nGolpee suave.\nEmpuje despacio.\nPare en 1.5"},
	{"a table goes on from the steps before it", "wilma", NULL, LARGE, "Folliplan 225 units: get ready",
         "go on with the table: page @\n", "from step", "Folliplan 225 units: 3 powders"},
	{"a table in place of steps is taught on its page", "wilma", NULL, A4, "Show me",
         "Liquid in, swirls, does not shake (page @).", NULL, "Folliplan 225 units: 3 powders"},
	{"a table in place of steps is taught on its page in large print", "wilma", NULL, LARGE, "Show me",
         "Liquid in, swirls, does not shake (page @).", NULL, "Folliplan 225 units: 3 powders"},
	{"a line is taught where the syringe stops on it", "wilma", NULL, A4, "Show me", "[ 1.2 mL]\nStep 7, page @",
         "Step 4, page", "Phialone: draw and inject"},
	{"a line is taught where it is drawn to", "mara", NULL, A4, "Show me", "[line 20 ]\nStep 7, page @", NULL,
         "Sampletide: draw and inject"},
	{"squares of another amount say whose sheet their day needs", "mara-2", NULL, LARGE, "Use a vial for 28 days",
         "Then: sharps box. 25 syringe units, page @: days 9 and 10.\n", NULL,
         "Sampletide 25 syringe units: get ready"},
	{"squares of another amount say whose sheet their day needs, es", "mara-2", "es", A4, "Use un frasco 28 días",
         "25 unidades de jeringa, página @: días 9 y 10.\n", NULL, "Sampletide 25 unidades de jeringa: preparar"},
	{"a line is on the page that is named for it", "mara-2", NULL, LARGE, "The squares of this vial",
         "stop on the line of page @.\n", "this page", "Sampletide 25 syringe units: draw and inject"},
	{"a pen's steps go on over the page", "tilda", NULL, A4, "Placebix: get ready", "from step 6 on: page @\n",
         NULL, "Placebix: set and inject"},
	{"a pen's steps go on over the page, where a call sets it", "odile", NULL, LETTER, "Placebix: get ready",
         "from step 6 on: page @\n", NULL, "Placebix: set and inject"},
	{"a pen's steps go on behind its numbers", "tilda", "es", LARGE, "Placebix: preparar",
         "desde el paso 6: página @\n", NULL, "6\nGire hasta su número\n"},
	{"days without mixing have things of their own", "wilma", NULL, A4, "Fabriline: get ready",
         "Other days: lay out ×1 mixed vial · ×1 empty 1 mL syringe B, for you · ×1 thick needle · ×1 thin needle "
         "(13 mm) · ×2 wipes · ×1 sharps box, for needles. Start on page @.",
         NULL, "Fabriline: draw and inject\n"},
	{"days without mixing know where their squares are", "wilma", NULL, LETTER, "Fabriline: get ready",
         " Squares: page @.\n", NULL, "Fabriline: draw and inject, continued"},
	{"days without mixing begin on the line's page, es", "wilma", "es", LARGE, "Fabriline: preparar",
         "Empiece en la página @.", NULL, "B: Pare en esta línea"},
	{"what is mixed every day has no other days", "ione", NULL, A4, "Vacuprine 150 units: get ready", NULL,
         "Other days", NULL},
	{"a dose of two injections has its sheet in the grid's head", "nell", NULL, A4, "Day by day",
         "\n1 mL syringe\npage @\n", NULL, "Doublamine: get ready"},
	{"a new dose names its sheet in the grid", "mara", NULL, A4, "Day by day", "\n250 mcg\n[ 1 mL]\npage @\n", NULL,
         "Examplin 250 mcg: get ready"},
	{"a new dose names its sheet on the day's page", "mara", NULL, LARGE, "Thursday 10 December",
         "New dose: page @.\n", "New dose.", "Examplin 250 mcg: get ready"},
	{"a new dose names its sheet, es", "paloma", "es", LARGE, "Día por día", "Dosis nueva: página @.\n",
         "Dosis nueva.", "Examplin 250 mcg: preparar"},
	{"a new dose from two pens names their page", "tilda", NULL, LARGE, "Thursday 10 December",
         "New dose: page @.\n", NULL, "Placebix: two pens today"},
	{"patches come off by a row that has its page", "perpetua", NULL, A4,
         "Stickatine: how to stick it on, continued", "today's row says under off: page @.\n", NULL, "When to change"},
	{"patches come off by a row that has its page, es", "perpetua", "es", LARGE, "Paso a paso",
         "la fila de hoy en quitar: página", "en quitar.", NULL},
	{"no call is no answer after a visit", "ione", NULL, LETTER, "Examplin: wait",
         "We do not call every day. No call after a visit? Call us.", "nothing is wrong", NULL},
	{"a start that a call brings forward needs more", "odile", NULL, A4, "Your supplies",
         "Does our call bring Examplin forward? Then ask us: it needs more.", NULL, NULL},
	{"what is to get besides medicines has its time", "odile", NULL, A4, "Your supplies",
         "needed from Mon 14 Dec. Get the rest with a box to tick before your next dose.", NULL, NULL},
	{"a new pen in the middle of a dose is held against the order", "tilda", NULL, A4,
         "Placebix: two pens today, continued", "It must say Placebix, 900 units", NULL, NULL},
	{"a tick names no page that is not there", "paloma", NULL, A4, "Marque su día", "Marque su día enseguida",
         "Día por día", NULL},
	{"what is expected after a visit has its date", "odile", NULL, A4, "Placebix: wait",
         "Your next visit is on Wed 9 Dec.", "not a mistake", NULL},
	{"what is expected after a visit has its date, es", "odile", "es", A4, "Placebix: espere",
         "Su próxima visita es el mié 9 dic.", "no es un error", NULL},
	{"a pen's amounts have numbers", "odile", NULL, A4, "Placebix: wait", "tick one: see page @", "its line",
         "Placebix: which number?"},
	{"what is left out has three dots", "odile", NULL, A4, "Placebix: wait", "I stop at …” They say yes.", "….",
         NULL},
	{"the grid ends as the first page says", "nell", NULL, LETTER, "Day 10 is the last day",
         "Day 10 is the last day", "wait for our call", NULL},
	{"the grid ends as the first page says, in large print", "nell", NULL, LARGE, "Day 10 is the last day",
         "Day 10 is the last day", "wait for our call", NULL},
	{"days after a visit end in a wait", "wilma", NULL, A4, "Day by day", "After day 12: wait for our call", NULL,
         NULL},
	{"the evenings' page says what a visit changes, too", "paloma", NULL, A4, "Tardes",
         "La dosis puede cambiar. ¿Sin llamada a las 20:00? Llame.", NULL, NULL},
	{"nobody asks for a call before a dose that is none", "tamsin", NULL, A4, "Your injection plan",
         "Then we call. No call before a dose? Call us.", "may change", NULL},
	{"a needle that a call sets counts as one", "odile", NULL, A4, "Day by day",
         "needles: each its own spot, 1 cm apart", NULL, NULL},
	{"two injections of one dose have a page of their own", "nell", NULL, A4, "Day by day", NULL, "its own spot",
         NULL},
	{"air goes before what is too much", "tamsin", NULL, LARGE, "4\nPush air out", "to the first drop.", NULL,
         NULL},
	{"air goes before what is too much, es", "tamsin", "es", LARGE, "4\nSaque el aire", "la primera gota.", NULL,
         NULL},
	{"a kept vial's own hour goes before a late dose", "mara", NULL, A4, "Examplin 125 mcg: draw",
         "Past a “use by”: call first. Same evening:", NULL, NULL},
	{"a kept vial's own hour goes before a late dose, es", "paloma", "es", LETTER, "Examplin 125 mcg: inyectar",
         "Pasada la hora de su etiqueta: llame antes.", NULL, NULL},
	{"a vial of one day has no hour of its own", "mara", NULL, A4, "Examplin 250 mcg: draw", "Late?", "use by",
         NULL},
	{"a spot is off the navel and sore skin", "mara", NULL, A4, "Examplin 125 mcg: draw",
         "Keep two fingers from the navel, off sore skin.\n", NULL, NULL},
	{"a spot is off the navel and sore skin, es", "tilda", "es", LETTER, "Placebix: preparar",
         "Elija piel sana, a dos dedos del ombligo.\n", NULL, NULL},
	{"a needle that was touched is not used", "tamsin", NULL, LARGE, "4\nThick needle",
         "Touched or dropped it? Use another; tell us.", NULL, NULL},
	{"a pain in the leg stops the helper", "tamsin", NULL, A4, "Oleumine: into the muscle",
         "Pain down the leg? Pull it out.", NULL, NULL},
	{"all hours to use a half by are worked out", "mara", NULL, A4, "Check page",
         "Mon 7 Dec, 22:00; Wed 9 Dec, 22:00.", NULL, NULL},
	{"a pen's needle goes in its cap, as the steps say", "tilda", NULL, A4, "Show me",
         "A pen's needle: in its outer cap.", NULL, NULL},
	{"a pen is looked at before its dose begins", "tilda", NULL, A4, "Placebix: two pens today",
         "another name, or past its date? Stop, call.", NULL, NULL},
	{"patches say what to do with several", "perpetua", NULL, LARGE, "Stickatine", "Do the same with each.", NULL,
         NULL},
	{"whose day 1 it is, is said aloud", "ione", NULL, A4, "Examplin: wait", "“Examplin: day 1 is", "“Day 1 is",
         NULL},
	{"a vial that gives way to the next is thrown away then", "wilma", NULL, A4, "Tick one square",
         "after Tue 15 Dec: sharps box", "last day", NULL},
	{"a change of patches is shown", "perpetua", NULL, A4, "Show me", "2 off, 2 on, the other side;", NULL, NULL},
	{"a half tablet is shown", "ione", NULL, LETTER, "Show me", "half goes back in its box (page @)", NULL,
         "Nonsensol: how"},
	{"a helper is there before anything is opened", "tamsin", NULL, A4, "Oleumine: get ready",
         "Get the person who injects you, hands washed", NULL, NULL},
	{"nobody lays a bare needle on paper", "wilma", NULL, LARGE, "Dummirex: stop", "hold yours beside it",
         "lay yours on it", NULL},
	{"powder that stays stops the patient, with several vials too", "wilma", NULL, LETTER, "Folliplan 225 units: 3",
         "Powder stays? Call.", NULL, NULL},
	{"a later visit may change doses, too", "mara", NULL, A4, "Day by day",
         "Sun 13 Dec, 09:15. Bring all pages. Doses may change.", NULL, NULL},
	{"a procedure after the last dose changes none", "mara", NULL, A4, "Day by day",
         "Procedure, 10:30. Bring all pages.", "10:30. Bring all pages. Doses", NULL},
	{"a vial is kept only while it is needed", "tamsin", NULL, LARGE, "16\nSharps box",
         "Vial needed again? Put it back.", "Keep the vial", NULL},
	{"what is kept is looked at again", "mara", NULL, LARGE, "Second day, start here", "cloudy, or bits? Call",
         NULL, NULL},
	{"an amount that a call may set is on the page of the days that wait", "odile", NULL, LARGE, "Check page",
         "150 units · page @ ·", NULL, "Wednesday 9 December"},
	{"a day of a procedure is one to be there at", "odile", NULL, A4, "Your injection plan",
         "be here; Procedure at 12:30", NULL, NULL},
	{"a day of a procedure is one to be there at, es", "odile", "es", LARGE, "mié 16 dic, 11:00",
         "esté aquí; Procedimiento: 12:30", NULL, NULL},
	{"an alarm names the steps on the medicine's pages", "odile", NULL, LARGE, "Set two alarms now",
         "up to step 9.", "Wash hands. Get it ready.", NULL},
};

static const char *or_empty(const struct text_block *block)
{
	return block == NULL ? "" : text_string(block);
}

/* All texts, tags and printed ticks of a page, each on a line. */
static const char *words_of(struct arena *arena, const struct placed_page *page)
{
	const char *words = "\n";
	for (size_t i = 0; i < page->n; i++) {
		const struct placed_mark *mark = &page->marks[i];
		if (mark->kind == MARK_TEXT)
			words = arena_printf(arena, "%s%s\n", words, text_string(mark->text.block));
		if (mark->kind == MARK_PICTURE && mark->picture.pictogram == PICTURE_CHECK)
			words = arena_printf(arena, "%s(done)\n", words);
		if (mark->kind == MARK_TAG)
			words = arena_printf(arena, "%s[%s %s %s]\n", words, or_empty(mark->tag.before),
			                     text_string(mark->tag.number), or_empty(mark->tag.unit));
	}
	return plain_spaces(arena, words);
}

static bool is_page(struct arena *arena, const struct placed_page *page, const char *begins)
{
	return strstr(words_of(arena, page), arena_printf(arena, "\n%s", begins)) != NULL;
}

static const char *label_of_page(const struct sample_packet *sample, const char *begins)
{
	for (size_t i = 0; i < sample->packet->n; i++)
		if (is_page(sample->arena, &sample->packet->pages[i], begins))
			return sample->packet->pages[i].label;
	fail_msg("no page has '%s'", begins);
	return NULL;
}

static const char *with_page(const struct sample_packet *sample, const struct told_row *row)
{
	const char *at = row->target == NULL ? NULL : strchr(row->says, '@');
	if (at == NULL)
		return row->says;
	return arena_printf(sample->arena, "%.*s%s%s", (int)(at - row->says), row->says,
	                    label_of_page(sample, row->target), at + 1);
}

static struct sample_packet sample_of(const struct told_row *row, struct arena *arena)
{
	const char *plan = arena_printf(arena, "samples/plans/%s.yaml", row->plan);
	enum paper paper = row->print == LETTER ? PAPER_LETTER : PAPER_A4;
	bool large = row->print == LARGE;
	return row->language == NULL ? sample_packet_in(plan, paper, large)
	                             : sample_packet_said(plan, paper, large, row->language);
}

static void it_is_told(void **state)
{
	const struct told_row *row = case_of(state)->row;
	struct sample_packet sample = sample_of(row, case_of(state)->arena);
	bool said = row->says == NULL;
	size_t pages = 0;
	for (size_t i = 0; i < sample.packet->n; i++) {
		if (!is_page(sample.arena, &sample.packet->pages[i], row->page))
			continue;
		const char *words = words_of(sample.arena, &sample.packet->pages[i]);
		said = said || strstr(words, with_page(&sample, row)) != NULL;
		if (row->lacks != NULL && strstr(words, row->lacks) != NULL)
			fail_msg("page %s says '%s'", sample.packet->pages[i].label, row->lacks);
		pages++;
	}
	if (pages == 0 || !said)
		fail_msg("%zu pages with '%s', none says '%s'", pages, row->page, with_page(&sample, row));
	sample_packet_free(&sample);
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof told_rows / sizeof *told_rows; i++)
		tests_add(&tests, told_rows[i].name, it_is_told, &told_rows[i]);
	return tests_run(&tests, "told");
}
