#include "support/sample_packets.h"

#include "load/folder.h"
#include "paint/paint.h"
#include "pdf/pdf.h"
#include "pdf/save.h"
#include "support/cases.h"

const char *const sample_plans[] = {
	"samples/plans/mara.yaml",   "samples/plans/mara-2.yaml",        "samples/plans/ione.yaml",
	"samples/plans/tamsin.yaml", "samples/plans/tilda.yaml",         "samples/plans/perpetua.yaml",
	"samples/plans/odile.yaml",  "samples/plans/paloma.yaml",        "samples/plans/wilma.yaml",
	"samples/plans/nell.yaml",   "samples/plans/rosalind-draft.yaml"};
const size_t n_sample_plans = sizeof sample_plans / sizeof *sample_plans;

static void fail_on_stop(struct arena *arena, const struct findings *findings)
{
	for (size_t i = 0; i < findings->n; i++)
		if (findings->list[i].level == FINDING_STOP)
			fail_msg("%s", finding_print(arena, &findings->list[i]));
}

/* `language` NULL: the plan's own. */
static struct sample_packet packet_said(const char *folder, const char *path, enum paper paper, bool large_print,
                                        const char *language)
{
	struct sample_packet sample = {.arena = arena_new()};
	struct arena *arena = sample.arena;
	struct findings *findings = arena_alloc(arena, sizeof *findings);
	enum load_status status;
	*findings = findings_in(arena);
	const struct clinic *clinic = load_clinic(arena, folder, ".", findings, &status);
	fail_on_stop(arena, findings);
	const struct plan *plan = load_plan(arena, clinic, path, findings, &status);
	fail_on_stop(arena, findings);
	const struct course *course = course_of(arena, plan, findings);
	fail_on_stop(arena, findings);
	sample.record = record_of(arena, course, findings);
	const char *said = language == NULL ? plan->language : language;
	sample.speaker = speaker_new(arena, clinic, said, findings);
	sample.staff = speaker_new(arena, clinic, clinic->languages[0], findings);
	struct handout_options options = {said, paper, large_print, false};
	sample.handout = handout_of(arena, sample.record, options, sample.speaker, sample.staff, findings);
	fail_on_stop(arena, findings);
	sample.typesetter = typesetter_new("fonts", findings);
	sample.packet = compose_packet(arena, sample.handout, sample.typesetter, findings);
	fail_on_stop(arena, findings);
	assert_non_null(sample.packet);
	return sample;
}

struct sample_packet packet_of_clinic(const char *folder, const char *path, enum paper paper, bool large_print)
{
	return packet_said(folder, path, paper, large_print, NULL);
}

struct sample_packet sample_packet_said(const char *path, enum paper paper, bool large_print, const char *language)
{
	return packet_said("samples", path, paper, large_print, language);
}

struct sample_packet sample_packet_in(const char *path, enum paper paper, bool large_print)
{
	return packet_of_clinic("samples", path, paper, large_print);
}

struct sample_packet sample_packet_of(const char *path, enum paper paper)
{
	return sample_packet_in(path, paper, false);
}

void sample_packet_free(struct sample_packet *sample)
{
	typesetter_free(sample->typesetter);
	speaker_free(sample->speaker);
	speaker_free(sample->staff);
	arena_free(sample->arena);
}

void sample_packet_save(const struct sample_packet *sample, const char *path)
{
	const struct placed_page *first = &sample->packet->pages[0];
	struct drawing_options options = {.title = "sample", .language = "en"};
	struct device *device = drawing_new(DRAWING_PDF, &options, (struct rect){0, 0, first->width, first->height});
	const unsigned char *bytes;
	size_t n;
	const char *why = "";
	paint_pages(sample->packet->pages, sample->packet->n, device);
	assert_true(drawing_finish(device, &bytes, &n));
	if (!save_file(sample->arena, path, bytes, n, &why))
		fail_msg("%s", why);
	drawing_free(device);
}
