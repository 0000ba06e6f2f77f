#include "base/remedy.h"
#include "batch/order.h"
#include "batch/run.h"
#include "load/intake_tree.h"
#include "load/seal.h"
#include "paint/paint.h"
#include "pdf/pdf.h"
#include "pdf/save.h"

#include <errno.h>
#include <glib.h>
#include <string.h>

enum { MOST_NAME = 200 };

/* One patient while it is made. */
struct making {
	struct run *run;
	struct arena *arena;
	struct findings findings;
	struct intake_patient patient;
	bool has_before;
	struct previous_sheet before;
	const char *order;
	struct made made;
};

bool run_has(const struct run *run, size_t number)
{
	unsigned shards = run->options->shards;
	return shards == 0 || intake_share(run->intake, number) % shards == run->options->shard - 1;
}

bool run_failed(struct run *run, const char *path)
{
	if (!findings_stop(run->findings))
		findings_add(run->findings, FINDING_STOP, "file-unwritable", (struct place){.file = NULL},
		             "nothing can be written to '%s': %s%s", path, strerror(errno), remedy_of_writing(errno));
	return false;
}

const char *run_rows(struct arena *arena, const struct index_piece *pieces, size_t n)
{
	GString *rows = g_string_new(NULL);
	for (size_t i = 0; i < n; i++)
		g_string_append_printf(rows, "%s%u", i > 0 ? " " : "", pieces[i].row);
	const char *copy = arena_strdup(arena, rows->str);
	g_string_free(rows, TRUE);
	return copy;
}

static bool refuse(struct making *making, const char *code, const char *says)
{
	struct place place = {making->run->intake->file, (int)making->patient.pieces[0].row, 0};
	findings_add(&making->findings, FINDING_STOP, code, place, "%s", says);
	return false;
}

/* ---- the last sheet ---- */

/*
 * A plan names the one that it replaces, which lies beside it: "plans/LQ-0101~v1.yaml". The chain goes from night to
 * night with it, as what past doses were given from goes back to its beginning.
 */
static const char *earlier_in(struct arena *arena, const char *text)
{
	static const char key[] = "\nreplaces: {file: \"";
	const char *at = strstr(text, key);
	size_t length = at == NULL ? 0 : strcspn(at + strlen(key), "\"/");
	if (length == 0 || at[strlen(key) + length] != '"')
		return "";
	return arena_printf(arena, "plans/%.*s", (int)length, at + strlen(key));
}

const char *run_earlier(struct run *run, struct arena *arena, const char *name)
{
	char *bytes = NULL;
	if (!g_file_get_contents(out_path(arena, &run->folder, name), &bytes, NULL, NULL))
		return "";
	const char *earlier = earlier_in(arena, bytes);
	g_free(bytes);
	return earlier;
}

/* A file of the earlier run into this one's folder; `earlier` is what it names, or "". False where it cannot be. */
static bool carry_one(struct run *run, struct arena *arena, const char *name, const char *as, const char **earlier,
                      const char **why)
{
	char *bytes = NULL;
	gsize n = 0;
	if (!g_file_get_contents(previous_path(run->previous, arena, name), &bytes, &n, NULL)) {
		*why = arena_printf(arena, "'%s' of the earlier run cannot be read", name);
		return false;
	}
	*earlier = earlier_in(arena, bytes);
	bool saved = save_file(arena, out_path(arena, &run->folder, as), (const unsigned char *)bytes, n, why);
	g_free(bytes);
	return saved;
}

/* The same with all that it names in its turn, under their own names. */
static bool carry_as(struct run *run, struct arena *arena, const char *name, const char *as, const char **why)
{
	for (size_t i = 0; *name != '\0' && i < RUN_MOST_VERSIONS; i++)
		if (!carry_one(run, arena, name, i == 0 ? as : name, &name, why))
			return false;
	return true;
}

static bool carry(struct run *run, struct arena *arena, const char *name, const char **why)
{
	return carry_as(run, arena, name, name, why);
}

bool run_carry_told(struct run *run, struct arena *arena, const char *name)
{
	const char *why;
	if (carry(run, arena, name, &why))
		return true;
	findings_add(run->findings, FINDING_STOP, "batch-failed", (struct place){.file = NULL},
	             "the run stopped: %s; once that is mended, go on with --resume", why);
	return false;
}

bool run_last_sheet(struct run *run, struct arena *arena, const char *record, struct sheet *sheet)
{
	struct previous_sheet before;
	*sheet = (struct sheet){.code = ""};
	if (run->previous == NULL || record == NULL || !previous_find(run->previous, arena, record, &before))
		return true;
	*sheet = before.sheet;
	return run_carry_told(run, arena, before.sheet.plan);
}

static void find_before(struct making *making)
{
	const struct run *run = making->run;
	making->has_before = run->previous != NULL && making->patient.record != NULL &&
	                     previous_find(run->previous, making->arena, making->patient.record, &making->before);
}

static bool is_unchanged(const struct making *making)
{
	return making->has_before && strcmp(making->before.sheet.order, making->order) == 0;
}

static bool cannot_tell(struct making *making)
{
	return refuse(
		making, "previous-unreadable",
		"the plan of this patient's last sheet was altered, or cannot be read or worked out any more, so what "
		"changes cannot be told; make this sheet from a plan's file, and say what changes");
}

/* What was printed is compared with this file: an altered one would tell of other changes. */
static bool is_as_written(struct arena *arena, const char *path, const struct sheet *sheet)
{
	const char *digest = out_digest(arena, path);
	return digest != NULL && (*sheet->plan_sha256 == '\0' || strcmp(digest, sheet->plan_sha256) == 0);
}

/* The next version, which says what it changes: nobody may hold two sheets and not know which counts. */
static bool follow_before(struct making *making)
{
	struct plan *plan = making->patient.plan;
	struct run *run = making->run;
	enum load_status status;
	struct findings unsaid = findings_in(making->arena);
	const char *path = previous_path(run->previous, making->arena, making->before.sheet.plan);
	if (!is_as_written(making->arena, path, &making->before.sheet))
		return cannot_tell(making);
	const struct plan *replaced = load_plan(making->arena, run->clinic, path, &unsaid, &status);
	if (replaced == NULL)
		return cannot_tell(making);
	if (!run->intake->version_stated)
		plan->version = making->before.sheet.version + 1;
	plan->replaces.given = true;
	plan->replaces.place = plan->place;
	plan->replaces.code = (struct stated_string){making->before.sheet.code, plan->place};
	plan->replaced = replaced;
	return true;
}

/* ---- computing ---- */

static bool compute(struct making *making)
{
	struct plan *plan = making->patient.plan;
	if (strlen(out_name(making->arena, making->patient.record)) > MOST_NAME)
		return refuse(making, "record-long", "the record number is too long to name a file; correct it");
	if (making->has_before && !follow_before(making))
		return false;
	if (!making->has_before)
		plan->replaces = (struct replaces){.given = false};
	plan->seal = seal_plan(making->arena, plan);
	making->made = (struct made){.clinic = making->run->clinic, .plan = plan};
	if (!made_record(making->arena, &making->made, &making->findings))
		return false;
	if (making->has_before && !making->made.record->replaced.given)
		return cannot_tell(making);
	return made_handout(making->arena, &making->made, making->run->options->mono, &making->findings);
}

static bool compose(struct making *making)
{
	making->made.typesetter = making->run->typesetter;
	bool good = made_packet(making->arena, &making->made, &making->findings);
	making->made.typesetter = NULL; /* the worker's own, kept for the next patient */
	return good;
}

/* ---- saving ---- */

static const char *base_name(const struct making *making)
{
	if (making->run->options->name_by_code)
		return making->made.record->code;
	return out_name(making->arena, making->patient.record);
}

/* What the plan of the last sheet is called beside that of this one: '~' is in no record's name. */
static const char *earlier_name(const struct making *making)
{
	const struct sheet *sheet = &making->before.sheet;
	if (making->run->options->name_by_code)
		return arena_printf(making->arena, "%s.yaml", sheet->code);
	return arena_printf(making->arena, "%s~v%lld.yaml", out_name(making->arena, making->patient.record),
	                    (long long)sheet->version);
}

/* Which sheet it replaces and why, as in a plan's file; so that the saved plan makes the same sheet. */
static struct node *replaces_tree(const struct making *making)
{
	struct arena *arena = making->arena;
	const struct replaces *replaces = &making->patient.plan->replaces;
	struct place place = making->patient.tree->place;
	struct node *tree = tree_map(arena, place);
	tree_put_text(arena, tree, "file", earlier_name(making), place);
	tree_put_text(arena, tree, "code", replaces->code.text, place);
	if (replaces->because.n == 0)
		return tree;
	struct node *because = tree_map(arena, place);
	for (size_t i = 0; i < replaces->because.n; i++)
		tree_put_text(arena, because, replaces->because.in[i].language, replaces->because.in[i].text, place);
	tree_put(arena, tree, "because", because);
	return tree;
}

/* The plan's file, as somebody would have written it; with the version that it was given. */
static const char *plan_text(const struct making *making)
{
	struct arena *arena = making->arena;
	struct node *tree = tree_map(arena, making->patient.tree->place);
	for (size_t i = 0; i < making->patient.tree->n; i++)
		if (strcmp(making->patient.tree->pairs[i].key, "version") != 0)
			tree_put(arena, tree, making->patient.tree->pairs[i].key, making->patient.tree->pairs[i].value);
	tree_put_text(arena, tree, "version", arena_printf(arena, "%lld", (long long)making->patient.plan->version),
	              tree->place);
	if (making->patient.plan->replaces.given)
		tree_put(arena, tree, "replaces", replaces_tree(making));
	return tree_print(arena, tree);
}

static const char *digest_of(struct arena *arena, const unsigned char *bytes, size_t n)
{
	gchar *digest = g_compute_checksum_for_data(G_CHECKSUM_SHA256, bytes, n);
	const char *copy = arena_strdup(arena, digest);
	g_free(digest);
	return copy;
}

static bool save_drawn(struct making *making, struct device *device, const char *path, struct outcome *outcome)
{
	const unsigned char *bytes;
	size_t n;
	if (!drawing_finish(device, &bytes, &n)) {
		outcome->failure = "the pages could not be drawn";
		return false;
	}
	outcome->sha256 = digest_of(making->arena, bytes, n);
	return save_file(making->arena, path, bytes, n, &outcome->failure);
}

static bool save_packet(struct making *making, const char *path, struct outcome *outcome)
{
	const struct placed_packet *packet = making->made.packet;
	struct drawing_options options = {.mono = making->run->options->mono,
	                                  .title = say0(making->made.speaker, "overview.title"),
	                                  .language = making->made.handout->language};
	struct rect first = {0, 0, packet->pages[0].width, packet->pages[0].height};
	struct device *device = drawing_new(DRAWING_PDF, &options, first);
	paint_pages(packet->pages, packet->n, device);
	bool saved = save_drawn(making, device, path, outcome);
	drawing_free(device);
	return saved;
}

static bool save_both(struct making *making, struct outcome *outcome)
{
	struct arena *arena = making->arena;
	const struct out_folder *folder = &making->run->folder;
	const char *base = base_name(making);
	const char *text = plan_text(making);
	const unsigned char *plan = (const unsigned char *)text;
	outcome->file = arena_printf(arena, "packets/%s.pdf", base);
	outcome->sheet.plan = arena_printf(arena, "plans/%s.yaml", base);
	outcome->sheet.plan_sha256 = digest_of(arena, plan, strlen(text));
	if (making->has_before && !carry_as(making->run, arena, making->before.sheet.plan,
	                                    arena_printf(arena, "plans/%s", earlier_name(making)), &outcome->failure))
		return false;
	return save_file(arena, out_path(arena, folder, outcome->sheet.plan), plan, strlen(text), &outcome->failure) &&
	       save_packet(making, out_path(arena, folder, outcome->file), outcome);
}

/* ---- the whole ---- */

const char run_fonts_changed[] = "the program's fonts are no longer the ones that it began with";

static void fail(struct outcome *outcome, const char *why)
{
	outcome->kind = OUTCOME_FAILED;
	outcome->failure = why;
}

/* The name as the intake has it, so that no reason says it; NULL where nothing was read that far. */
static const char *name_of(const struct making *making)
{
	const struct node *tree = making->patient.tree;
	const struct node *patient = tree == NULL ? NULL : tree_get(tree, "patient");
	const struct node *name = patient == NULL ? NULL : tree_get(patient, "name");
	return name == NULL ? NULL : name->text;
}

static void refuse_all(struct making *making, struct outcome *outcome)
{
	outcome->kind = making->patient.record == NULL ? OUTCOME_ROW : OUTCOME_REFUSED;
	outcome_refuse(making->arena, outcome, &making->findings, making->run->intake->file,
	               making->patient.pieces[0].row, name_of(making));
	if (making->has_before && !carry(making->run, making->arena, outcome->sheet.plan, &outcome->failure))
		fail(outcome, outcome->failure);
}

static void keep_unchanged(struct making *making, struct outcome *outcome)
{
	outcome->kind = OUTCOME_UNCHANGED;
	if (!carry(making->run, making->arena, outcome->sheet.plan, &outcome->failure))
		fail(outcome, outcome->failure);
}

static void make_sheet(struct making *making, struct outcome *outcome)
{
	bool good = compute(making) && compose(making);
	if (!typesetter_fonts_same(making->run->typesetter)) {
		fail(outcome, run_fonts_changed);
	} else if (!good) {
		refuse_all(making, outcome);
	} else {
		const struct plan *plan = making->patient.plan;
		outcome->kind = OUTCOME_PACKET;
		outcome->sheet = (struct sheet){.code = making->made.record->code,
		                                .version = plan->version,
		                                .as_of = date_print(making->arena, plan->as_of.date),
		                                .state = making->made.record->is_signed ? "signed" : "draft",
		                                .order = making->order};
		outcome->pages = making->made.packet->n;
		outcome->cautions = findings_count(&making->findings, FINDING_CAUTION);
		if (!save_both(making, outcome))
			outcome->kind = OUTCOME_FAILED;
	}
	made_free(&making->made);
	typesetter_reset(making->run->typesetter);
}

void run_one(struct run *run, size_t number, struct outcome *outcome)
{
	arena_reset(run->patient);
	struct making making = {.run = run, .arena = run->patient, .findings = findings_in(run->patient)};
	*outcome = (struct outcome){.number = number};
	errno = 0;
	if (!intake_read(run->intake, making.arena, number, &making.patient, &making.findings)) {
		fail(outcome, arena_printf(making.arena, "the intake cannot be read: %s", strerror(errno)));
		return;
	}
	outcome->rows = run_rows(making.arena, making.patient.pieces, making.patient.n_pieces);
	outcome->record = making.patient.record;
	find_before(&making);
	if (making.has_before)
		outcome->sheet = making.before.sheet;
	if (making.patient.plan == NULL) {
		refuse_all(&making, outcome);
		return;
	}
	making.order = order_digest(making.arena, making.patient.plan, run->options->mono);
	if (is_unchanged(&making))
		keep_unchanged(&making, outcome);
	else
		make_sheet(&making, outcome);
}

bool run_compose(struct run *run, struct arena *arena, size_t number, struct made *made)
{
	struct making making = {.run = run, .arena = arena, .findings = findings_in(arena)};
	*made = (struct made){.clinic = run->clinic};
	if (!intake_read(run->intake, arena, number, &making.patient, &making.findings) || making.patient.plan == NULL)
		return false;
	find_before(&making);
	making.order = order_digest(arena, making.patient.plan, run->options->mono);
	bool good = compute(&making) && compose(&making);
	*made = making.made;
	return good;
}
