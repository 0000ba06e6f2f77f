/*
 * What is kept of texts set for one patient changes nothing for the next: a
 * packet has the same bytes composed alone, every text shaped anew, and composed
 * after others by one typesetter. The samples hold what would show a text that
 * was taken for another: a plan and its next version with other doses, two
 * papers, large print.
 */
#include "page/compose.h"
#include "paint/paint.h"
#include "pdf/pdf.h"
#include "support/cases.h"
#include "support/sample_packets.h"

#include <string.h>

enum { MOST_PACKETS = 16 };

struct bytes {
	const unsigned char *bytes;
	size_t n;
};

/* A packet with the bytes that it has when it is composed alone. */
struct known {
	struct sample_packet sample;
	struct bytes alone;
};

static struct bytes painted(struct arena *arena, const struct placed_packet *packet, struct worker *worker)
{
	struct drawing_options options = {.title = "sample", .language = "en", .worker = worker};
	struct rect first = {0, 0, packet->pages[0].width, packet->pages[0].height};
	struct device *device = drawing_new(DRAWING_PDF, &options, first);
	const unsigned char *bytes;
	size_t n;
	paint_pages(packet->pages, packet->n, device);
	assert_true(drawing_finish(device, &bytes, &n));
	unsigned char *copy = arena_alloc(arena, n);
	memcpy(copy, bytes, n);
	drawing_free(device);
	return (struct bytes){copy, n};
}

static struct bytes bytes_of(struct arena *arena, const struct placed_packet *packet)
{
	return painted(arena, packet, NULL);
}

static bool same(struct bytes a, struct bytes b)
{
	return a.n == b.n && memcmp(a.bytes, b.bytes, a.n) == 0;
}

static void add(struct known *known, size_t *n, struct sample_packet sample)
{
	assert_true(*n < MOST_PACKETS);
	known[(*n)++] = (struct known){sample, bytes_of(sample.arena, sample.packet)};
}

static size_t compose_each_alone(struct known *known)
{
	size_t n = 0;
	for (size_t i = 0; i < n_sample_plans; i++)
		add(known, &n, sample_packet_of(sample_plans[i], PAPER_A4));
	add(known, &n, sample_packet_of(sample_plans[0], PAPER_LETTER));
	add(known, &n, sample_packet_in(sample_plans[0], PAPER_A4, true));
	return n;
}

/* Composes it with what was kept so far; the packet ends there, as a worker's does. */
static void compose_after_others(const struct known *known, struct typesetter *typesetter)
{
	struct arena *arena = known->sample.arena;
	struct findings findings = findings_in(arena);
	const struct placed_packet *packet = compose_packet(arena, known->sample.handout, typesetter, &findings);
	assert_non_null(packet);
	assert_true(same(bytes_of(arena, packet), known->alone));
	typesetter_reset(typesetter);
}

/*
 * There, back, and there again: each packet stands after its neighbour on either
 * side, after all others, and after itself; what is not asked for in a while is
 * freed on the way.
 */
static void a_packet_after_others_is_the_packet_alone(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	struct known known[MOST_PACKETS];
	size_t n = compose_each_alone(known);
	struct typesetter *typesetter = typesetter_new("fonts", &findings);
	for (size_t i = 0; i < n; i++)
		compose_after_others(&known[i], typesetter);
	for (size_t i = n; i-- > 0;)
		compose_after_others(&known[i], typesetter);
	for (size_t i = 0; i < n; i++)
		compose_after_others(&known[i], typesetter);
	typesetter_free(typesetter);
	for (size_t i = 0; i < n; i++)
		sample_packet_free(&known[i].sample);
}

/* ---- with a worker ---- */

struct ready {
	struct typesetter *typesetter;
	const char *language;
};

static void get_ready(void *data)
{
	struct ready *ready = data;
	typesetter_ready(ready->typesetter, ready->language);
}

/* Fonts made ready by another thread, for this language or another; pages compressed there. */
static void a_worker_changes_nothing(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	struct known known[MOST_PACKETS];
	size_t n = compose_each_alone(known);
	struct worker *worker = worker_new();
	assert_non_null(worker);
	for (size_t i = 0; i < n; i++) {
		struct ready ready = {typesetter_new("fonts", &findings), i % 2 ? "en" : "es"};
		worker_do(worker, get_ready, &ready);
		worker_wait(worker);
		const struct placed_packet *packet =
			compose_packet(arena, known[i].sample.handout, ready.typesetter, &findings);
		assert_non_null(packet);
		assert_true(same(painted(arena, packet, worker), known[i].alone));
		typesetter_free(ready.typesetter);
	}
	worker_free(worker);
	for (size_t i = 0; i < n; i++)
		sample_packet_free(&known[i].sample);
}

/* A drawing that is given up waits for what the worker still does with its pages. */
static void a_drawing_may_be_given_up(void **state)
{
	(void)state;
	struct sample_packet sample = sample_packet_of(sample_plans[0], PAPER_A4);
	struct worker *worker = worker_new();
	struct drawing_options options = {.title = "sample", .language = "en", .worker = worker};
	struct rect first = {0, 0, sample.packet->pages[0].width, sample.packet->pages[0].height};
	struct device *device = drawing_new(DRAWING_PDF, &options, first);
	paint_pages(sample.packet->pages, sample.packet->n, device);
	drawing_free(device);
	worker_free(worker);
	sample_packet_free(&sample);
}

/* Else the tests above would compare nothing: what was set for one packet is what the next one gets. */
static void a_text_is_kept_for_the_next_packet(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	struct typesetter *typesetter = typesetter_new("fonts", &findings);
	struct text_style style = {.size = 12};
	const struct text_block *block = text_set(typesetter, "Wash your hands.", "en", style, 40);
	typesetter_reset(typesetter);
	assert_ptr_equal(text_set(typesetter, "Wash your hands.", "en", style, 40), block);
	typesetter_free(typesetter);
}

/* Every input of a layout by itself makes another one. */
static void whatever_differs_is_set_anew(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	struct typesetter *typesetter = typesetter_new("fonts", &findings);
	const char *text = "Inject 150 units";
	const struct text_style style = {.size = 12, .leading = 5};
	const struct text_block *block = text_set(typesetter, text, "en", style, 20);
	const struct text_style others[] = {
		{.size = 12.5, .leading = 5},
		{.size = 12, .leading = 5.5},
		{.size = 12, .leading = 5, .weight = WEIGHT_BOLD},
		{.size = 12, .leading = 5, .align = ALIGN_END},
		{.size = 12, .leading = 5, .tabular = true},
	};
	assert_ptr_equal(text_set(typesetter, text, "en", style, 20), block);
	assert_ptr_not_equal(text_set(typesetter, "Inject 125 units", "en", style, 20), block);
	assert_ptr_not_equal(text_set(typesetter, "Inject " TEXT_BOLD_ON "150" TEXT_BOLD_OFF " units", "en", style, 20),
	                     block);
	assert_ptr_not_equal(text_set(typesetter, text, "es", style, 20), block);
	assert_ptr_not_equal(text_set(typesetter, text, "en", style, 21), block);
	for (size_t i = 0; i < sizeof others / sizeof *others; i++)
		assert_ptr_not_equal(text_set(typesetter, text, "en", others[i], 20), block);
	typesetter_free(typesetter);
}

#define ADD(test) tests_add(&tests, #test, test, NULL)

int main(void)
{
	struct tests tests = {0};
	ADD(a_text_is_kept_for_the_next_packet);
	ADD(whatever_differs_is_set_anew);
	ADD(a_packet_after_others_is_the_packet_alone);
	ADD(a_worker_changes_nothing);
	ADD(a_drawing_may_be_given_up);
	return tests_run(&tests, "kept_texts");
}
