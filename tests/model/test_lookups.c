#include "model/plan.h"

#include "support/cases.h"

static void text_is_never_of_another_language(void **state)
{
	(void)state;
	const struct translation in[] = {{"en", "hello"}, {"es", "hola"}};
	const struct text text = {.in = in, .n = 2};
	assert_string_equal(text_in(text, "en"), "hello");
	assert_string_equal(text_in(text, "es"), "hola");
	assert_null(text_in(text, "e"));
	assert_null(text_in(text, "fr"));
	assert_null(text_in((struct text){0}, "en"));
}

struct line {
	const char *name;
	struct rational volume;
	bool has_line;
};

/* 1 mL with a line every 0.02 mL, on to 1.1 mL; in units of 100 in one mL. */
static const struct syringe syringe = {
	.id = "u",
	.capacity = {1, 1},
	.graduated = {11, 10},
	.step = {1, 50},
	.numbered_every = {1, 10},
	.unit_scale = true,
	.units_per_ml = {100, 1},
};

static const struct line lines[] = {
	{"zero", {0, 1}, true},
	{"the first line", {1, 50}, true},
	{"half a step", {1, 100}, false},
	{"the capacity", {1, 1}, true},
	{"beyond it", {11, 10}, true},
	{"beyond the last", {28, 25}, false},
	{"between two", {51, 100}, false},
	{"a third", {1, 3}, false},
	{"below zero", {-1, 50}, false},
};

static void has_line(void **state)
{
	const struct line *line = case_of(state)->row;
	assert_int_equal(syringe_has_line(&syringe, line->volume), line->has_line);
}

static void scale_has_its_own_numbers(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct rational number;
	assert_true(syringe_scale_number(&syringe, (struct rational){1, 5}, &number));
	assert_string_equal(number_print(arena, number, DECIMAL_POINT), "20");
	assert_false(syringe_scale_number(&syringe, (struct rational){INT64_MAX, 1}, &number));
}

static void kinds_have_names(void **state)
{
	(void)state;
	assert_string_equal(container_kind_name(CONTAINER_POWDER_VIAL), "powder-vial");
	assert_string_equal(container_kind_name(CONTAINER_SOLUTION_VIAL), "solution-vial");
	assert_string_equal(container_kind_name(CONTAINER_AMPOULE), "ampoule");
	assert_string_equal(container_kind_name(CONTAINER_PREFILLED_SYRINGE), "prefilled-syringe");
	assert_string_equal(container_kind_name(CONTAINER_PEN), "pen");
	assert_string_equal(container_kind_name(CONTAINER_COUNTED), "counted");
	static const struct {
		enum route route;
		const char *name;
		bool needle;
	} routes[] = {{ROUTE_SUBCUTANEOUS, "subcutaneous", true},
	              {ROUTE_INTRAMUSCULAR, "intramuscular", true},
	              {ROUTE_ORAL, "oral", false},
	              {ROUTE_VAGINAL, "vaginal", false},
	              {ROUTE_RECTAL, "rectal", false},
	              {ROUTE_TRANSDERMAL, "transdermal", false},
	              {ROUTE_NASAL, "nasal", false}};
	for (size_t i = 0; i < sizeof routes / sizeof *routes; i++) {
		assert_string_equal(route_name(routes[i].route), routes[i].name);
		assert_int_equal(route_by_needle(routes[i].route), routes[i].needle);
	}
}

static void clinic_finds_its_entries(void **state)
{
	(void)state;
	const struct product products[] = {{.id = "a-kit"}, {.id = "a-pen"}};
	const struct product others[] = {{.id = "b-kit"}};
	const struct medicine medicines[] = {{.id = "a", .products = products, .n_products = 2},
	                                     {.id = "b", .products = others, .n_products = 1}};
	const struct syringe syringes[] = {{.id = "s", .measured = true}, {.id = "t"}, {.id = "s"}};
	const struct protocol protocols[] = {{.id = "p"}, {.id = "q"}};
	const struct wording words[] = {{.language = "en"}, {.language = "es"}};
	const struct seal seals[] = {{.kind = "medicine", .id = "a"}, {.kind = "protocol", .id = "a"}};
	const struct clinic clinic = {.medicines = medicines,
	                              .n_medicines = 2,
	                              .syringes = syringes,
	                              .n_syringes = 3,
	                              .protocols = protocols,
	                              .n_protocols = 2,
	                              .words = words,
	                              .n_words = 2,
	                              .seals = seals,
	                              .n_seals = 2};
	const struct medicine *medicine = NULL;
	assert_ptr_equal(clinic_medicine(&clinic, "b"), &medicines[1]);
	assert_null(clinic_medicine(&clinic, "c"));
	assert_ptr_equal(clinic_product(&clinic, "a-pen", &medicine), &products[1]);
	assert_ptr_equal(medicine, &medicines[0]);
	assert_ptr_equal(clinic_product(&clinic, "b-kit", NULL), &others[0]);
	assert_null(clinic_product(&clinic, "b-pen", NULL));
	assert_ptr_equal(clinic_syringe(&clinic, "s"), &syringes[0]); /* its own before a built-in one */
	assert_null(clinic_syringe(&clinic, "u"));
	assert_ptr_equal(clinic_protocol(&clinic, "q"), &protocols[1]);
	assert_null(clinic_protocol(&clinic, "r"));
	assert_ptr_equal(clinic_words(&clinic, "es"), &words[1]);
	assert_null(clinic_words(&clinic, "fr"));
	assert_ptr_equal(clinic_seal(&clinic, "protocol", "a"), &seals[1]);
	assert_null(clinic_seal(&clinic, "syringe", "a"));
	assert_null(clinic_seal(&clinic, "protocol", "b"));
}

static void protocol_and_plan_find_theirs(void **state)
{
	(void)state;
	const struct event events[] = {{.id = "go"}, {.id = "stop"}};
	const struct item items[] = {{.id = "one"}, {.id = "two"}};
	const struct protocol protocol = {.events = events, .n_events = 2, .items = items, .n_items = 2};
	const struct event_date dates[] = {{.event = &events[1]}};
	const struct plan_doses doses[] = {{.item = &items[1]}};
	const struct plan plan = {.events = dates, .n_events = 1, .doses = doses, .n_doses = 1};
	assert_ptr_equal(protocol_event(&protocol, "stop"), &events[1]);
	assert_null(protocol_event(&protocol, "one"));
	assert_ptr_equal(protocol_item(&protocol, "two"), &items[1]);
	assert_null(protocol_item(&protocol, "go"));
	assert_ptr_equal(plan_event_date(&plan, &events[1]), &dates[0]);
	assert_null(plan_event_date(&plan, &events[0]));
	assert_ptr_equal(plan_doses_of(&plan, &items[1]), &doses[0]);
	assert_null(plan_doses_of(&plan, &items[0]));
}

static void words_are_found_by_halving(void **state)
{
	(void)state;
	const struct message messages[] = {{.key = "a"}, {.key = "a.b"}, {.key = "b"}, {.key = "c"}, {.key = "d"}};
	for (size_t n = 0; n <= 5; n++) {
		const struct wording wording = {.messages = messages, .n = n};
		for (size_t i = 0; i < 5; i++)
			assert_ptr_equal(wording_find(&wording, messages[i].key), i < n ? &messages[i] : NULL);
		assert_null(wording_find(&wording, ""));
		assert_null(wording_find(&wording, "a.a"));
		assert_null(wording_find(&wording, "e"));
	}
	const struct technique_template techniques[] = {{.id = "pen"}, {.id = "ampoule"}};
	const struct page_templates templates = {.techniques = techniques, .n_techniques = 2};
	assert_ptr_equal(templates_technique(&templates, "ampoule"), &techniques[1]);
	assert_null(templates_technique(&templates, "vial"));
}

static void one_person_is_one_signer(void **state)
{
	(void)state;
	assert_true(signer_same("Q. Two", "q. two"));
	assert_true(signer_same("Q. Two", " Q.  Two "));
	assert_true(signer_same("\u00c9lodie \u00d8", "\u00e9lodie \u00f8"));
	assert_true(signer_same("\u00c9lodie", "E\u0301lodie"));
	assert_true(signer_same("Q. Two", "Q.\u00a0Two"));
	assert_true(signer_same("Stra\xdf", "Stra\xdf")); /* no UTF-8: byte by byte */
	assert_false(signer_same("Stra\xdf", "Stra\xe4"));
	assert_false(signer_same("\u00c9lodie", "Elodie"));
	assert_false(signer_same("Q. Two", "Q. Twos"));
	assert_false(signer_same("Q. Two", "Q.Two"));
	assert_false(signer_same("", "Q"));
}

int main(void)
{
	struct tests tests = {0};
	tests_add(&tests, "a text is never of another language", text_is_never_of_another_language, NULL);
	for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
		tests_add(&tests, lines[i].name, has_line, &lines[i]);
	tests_add(&tests, "a scale has its own numbers", scale_has_its_own_numbers, NULL);
	tests_add(&tests, "kinds have names", kinds_have_names, NULL);
	tests_add(&tests, "a clinic finds its entries", clinic_finds_its_entries, NULL);
	tests_add(&tests, "a protocol and a plan find theirs", protocol_and_plan_find_theirs, NULL);
	tests_add(&tests, "words are found by halving", words_are_found_by_halving, NULL);
	tests_add(&tests, "one person is one signer", one_person_is_one_signer, NULL);
	return tests_run(&tests, "lookups");
}
