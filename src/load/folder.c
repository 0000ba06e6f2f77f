#include "load/folder.h"

#include "load/clinic.h"
#include "load/formulary.h"
#include "load/locale.h"
#include "load/plan.h"
#include "load/protocol.h"
#include "load/seal.h"
#include "load/signatures.h"
#include "load/syringes.h"
#include "load/templates.h"
#include "load/words.h"

#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define ENDING ".yaml"
#define OTHER_ENDING ".yml"

/* --- One file --- */

struct loading {
	struct arena *arena;
	struct findings *findings;
	enum load_status *status;
};

/* A file as far as its schema goes. */
struct loaded {
	const struct source_file *file; /* NULL: it is not there, or was not read */
	const void *raw;                /* NULL: it is not what it should be */
	struct reader reader;
};

static void say_other_ending(struct loading *loading, const char *path)
{
	struct source_file *file = arena_alloc(loading->arena, sizeof *file);
	file->name = path;
	findings_add(loading->findings, FINDING_STOP, "wrong-ending", file_place(file),
	             "this file is not read, as its name does not end in '" ENDING "'; rename it, or move it away");
}

/* A file that may lack is not left out for its name: its "words/en.yml" lies there to be read. */
static void check_other_ending(struct loading *loading, const char *path)
{
	size_t stem = strlen(path) - strlen(ENDING);
	const char *other = arena_printf(loading->arena, "%.*s" OTHER_ENDING, (int)stem, path);
	if (access(other, F_OK) == 0)
		say_other_ending(loading, other);
}

static struct loaded load_file(struct loading *loading, const char *path, bool needed,
                               const cyaml_schema_value_t *schema)
{
	struct loaded loaded = {.reader = {.arena = loading->arena, .findings = loading->findings}};
	loaded.file = file_read(loading->arena, path, needed, loading->findings, loading->status);
	if (!loaded.file && !needed)
		check_other_ending(loading, path);
	if (!loaded.file)
		return loaded;
	const struct node *root = tree_read(loading->arena, loaded.file, loading->findings);
	if (root)
		loaded.raw = shape_load(loading->arena, root, schema, &loaded.reader.strings, loading->findings);
	return loaded;
}

/* --- Folders of files --- */

static int compare_names(const void *left, const void *right)
{
	return strcmp(*(const char *const *)left, *(const char *const *)right);
}

static bool ends_with(const char *name, const char *ending)
{
	size_t length = strlen(name);
	size_t ending_length = strlen(ending);
	return length > ending_length && strcmp(name + length - ending_length, ending) == 0;
}

static const char *without_ending(struct arena *arena, const char *path)
{
	const char *slash = strrchr(path, '/');
	const char *name = slash ? slash + 1 : path;
	const char *point = strrchr(name, '.');
	return arena_strndup(arena, name, point && point > name ? (size_t)(point - name) : strlen(name));
}

/* The paths of a folder's .yaml files, sorted; none where there is no such folder. */
static const char **list_folder(struct loading *loading, const char *folder, size_t *n)
{
	const char **paths = NULL;
	*n = 0;
	DIR *directory = opendir(folder);
	if (!directory) {
		if (errno == ENOENT)
			return NULL;
		struct source_file *file = arena_alloc(loading->arena, sizeof *file);
		file->name = arena_strdup(loading->arena, folder);
		findings_add(loading->findings, FINDING_STOP, "file-unreadable", file_place(file),
		             "cannot read this folder: %s", strerror(errno));
		*loading->status = LOAD_FAILED;
		return NULL;
	}
	for (struct dirent *entry; (entry = readdir(directory));) {
		if (entry->d_name[0] == '.')
			continue; /* an editor's own files */
		if (ends_with(entry->d_name, OTHER_ENDING))
			say_other_ending(loading, path_join(loading->arena, folder, entry->d_name));
		if (!ends_with(entry->d_name, ENDING))
			continue;
		paths = arena_more(loading->arena, paths, *n, sizeof *paths);
		paths[(*n)++] = path_join(loading->arena, folder, entry->d_name);
	}
	closedir(directory);
	if (*n)
		qsort(paths, *n, sizeof *paths, compare_names);
	return paths;
}

/* --- The clinic, part by part --- */

struct building {
	struct loading loading;
	const char *folder;
	const char *templates; /* the program's */
	const char *language;  /* of the one plan that it is for; NULL: of any */
	struct worker *worker; /* NULL: none */
	struct clinic *clinic;
	struct seal *seals;
};

/* A file that may lack, or all of a folder, which the worker loads while the first thread loads others. */
struct ahead {
	struct arena *arena; /* the worker's, until it is taken */
	struct findings findings;
	enum load_status status;
	const char *path;
	bool folder;
	const cyaml_schema_value_t *schema;
	struct loaded *files; /* of a folder, as many as it has; else one */
	size_t n;
};

static void load_ahead(void *data)
{
	struct ahead *ahead = data;
	struct loading loading = {ahead->arena, &ahead->findings, &ahead->status};
	const char **paths = &ahead->path;
	ahead->n = 1;
	if (ahead->folder)
		paths = list_folder(&loading, ahead->path, &ahead->n);
	ahead->files = arena_alloc(ahead->arena, (ahead->n + 1) * sizeof *ahead->files);
	for (size_t i = 0; i < ahead->n; i++)
		ahead->files[i] = load_file(&loading, paths[i], ahead->folder, ahead->schema);
}

static struct ahead *begin(struct building *building, const char *path, bool folder, const cyaml_schema_value_t *schema)
{
	struct ahead *ahead = arena_alloc(building->loading.arena, sizeof *ahead);
	struct arena *arena = arena_new();
	*ahead = (struct ahead){
		.arena = arena, .findings = findings_in(arena), .path = path, .folder = folder, .schema = schema};
	worker_do(building->worker, load_ahead, ahead);
	return ahead;
}

static struct ahead *begin_file(struct building *building, const char *path, const cyaml_schema_value_t *schema)
{
	return begin(building, path, false, schema);
}

static struct ahead *begin_folder(struct building *building, const char *path, const cyaml_schema_value_t *schema)
{
	return begin(building, path, true, schema);
}

/* What was loaded, as if it had been now. Once. */
static const struct loaded *take_ahead(struct building *building, struct ahead *ahead)
{
	struct loading *loading = &building->loading;
	worker_wait(building->worker);
	arena_join(loading->arena, ahead->arena);
	findings_add_all(loading->findings, &ahead->findings);
	*loading->status = load_worse(*loading->status, ahead->status);
	for (size_t i = 0; i < ahead->n; i++) {
		ahead->files[i].reader.arena = loading->arena;
		ahead->files[i].reader.findings = loading->findings;
	}
	return ahead->files;
}

static void add_seal(struct building *building, const char *kind, const char *id, const char *digest,
                     struct place place)
{
	struct clinic *clinic = building->clinic;
	building->seals =
		arena_more(building->loading.arena, building->seals, clinic->n_seals, sizeof *building->seals);
	building->seals[clinic->n_seals++] = (struct seal){kind, id, digest, place};
	clinic->seals = building->seals;
}

static const char *own_path(struct building *building, const char *name)
{
	return path_join(building->loading.arena, building->folder, name);
}

static const char *built_in_path(struct building *building, const char *name)
{
	return path_join(building->loading.arena, building->templates, name);
}

/* The clinic's own first, so that a syringe it measured stands before a built-in one of that name. */
static bool build_syringes(struct building *building)
{
	struct clinic *clinic = building->clinic;
	struct syringe *list = NULL;
	struct loaded own = load_file(&building->loading, own_path(building, "syringes.yaml"), false, &schema_syringes);
	if (own.raw)
		list = read_syringes(&own.reader, own.raw, false, list, &clinic->n_syringes);
	struct loaded built_in =
		load_file(&building->loading, built_in_path(building, "syringes.yaml"), true, &schema_syringes);
	if (built_in.raw)
		list = read_syringes(&built_in.reader, built_in.raw, true, list, &clinic->n_syringes);
	clinic->syringes = list;
	return (own.raw || !own.file) && built_in.raw;
}

static bool build_head(struct building *building, bool syringes_known)
{
	struct loaded head = load_file(&building->loading, own_path(building, "clinic.yaml"), true, &schema_clinic);
	if (head.raw)
		read_clinic(&head.reader, head.raw, syringes_known, building->clinic);
	return head.raw != NULL;
}

static bool build_medicines(struct building *building, bool syringes_known)
{
	struct clinic *clinic = building->clinic;
	const struct formulary_names names = {clinic->syringes, clinic->n_syringes, syringes_known};
	struct loaded formulary =
		load_file(&building->loading, own_path(building, "formulary.yaml"), true, &schema_formulary);
	if (formulary.raw)
		clinic->medicines = read_medicines(&formulary.reader, formulary.raw, &names, &clinic->n_medicines);
	return formulary.raw != NULL;
}

static void check_new_protocol(const struct reader *reader, const struct protocol *protocol,
                               const struct clinic *clinic)
{
	for (size_t i = 0; i < clinic->n_protocols; i++)
		if (strcmp(clinic->protocols[i].id, protocol->id) == 0)
			refuse_second(reader, "protocol", protocol->id, protocol->place, clinic->protocols[i].place);
}

static void build_protocols(struct building *building, struct ahead *ahead, const struct protocol_names *names)
{
	struct clinic *clinic = building->clinic;
	const struct loaded *files = take_ahead(building, ahead);
	struct protocol *list = arena_alloc(building->loading.arena, (ahead->n + 1) * sizeof *list);
	clinic->protocols = list;
	for (size_t i = 0; i < ahead->n; i++) {
		if (!files[i].raw)
			continue;
		struct protocol protocol = read_protocol(&files[i].reader, files[i].raw, names, files[i].file);
		check_new_protocol(&files[i].reader, &protocol, clinic);
		list[clinic->n_protocols++] = protocol;
	}
}

/* --- Words: the program's, with the clinic's over them --- */

static bool build_wording(const struct loaded *loaded, const char *language, struct wording *wording)
{
	if (loaded->raw)
		*wording = read_wording(&loaded->reader, loaded->raw, language);
	return loaded->raw != NULL;
}

static bool load_wording(struct loading *loading, const char *path, const char *language, struct wording *wording)
{
	struct loaded loaded = load_file(loading, path, false, &schema_wording);
	return build_wording(&loaded, language, wording);
}

static const char *words_path(struct building *building, const char *folder, const char *language)
{
	return path_join(building->loading.arena, folder,
	                 arena_printf(building->loading.arena, "words/%s" ENDING, language));
}

/* What the one plan and the staff read is read for certain. */
static bool is_needed(const struct building *building, const char *language)
{
	return building->language && language_known(language) &&
	       (strcmp(language, building->language) == 0 || strcmp(language, building->clinic->languages[0]) == 0);
}

/* One for each of the clinic's languages; NULL for those that are not read ahead. */
static struct ahead **begin_words(struct building *building)
{
	const struct clinic *clinic = building->clinic;
	struct ahead **words = arena_alloc(building->loading.arena, (clinic->n_languages + 1) * sizeof *words);
	for (size_t i = 0; i < clinic->n_languages; i++) {
		const char *language = clinic->languages[i];
		if (is_needed(building, language))
			words[i] = begin_file(building, words_path(building, building->templates, language),
			                      &schema_wording);
	}
	return words;
}

/* A language that the program does not speak is held against its English. */
static bool known_words(struct building *building, struct ahead *words, const char *language, struct wording *known)
{
	static const char reference[] = "en";
	struct loading *loading = &building->loading;
	const char *path = words_path(building, building->templates, language);
	struct loaded loaded = words ? *take_ahead(building, words) : load_file(loading, path, false, &schema_wording);
	return build_wording(&loaded, language, known) ||
	       load_wording(loading, words_path(building, building->templates, reference), reference, known);
}

static void build_language(struct building *building, struct ahead *words, const char *language, struct wording *list,
                           size_t *n)
{
	struct reader reader = {.arena = building->loading.arena, .findings = building->loading.findings};
	struct wording known = {0};
	struct wording own = {0};
	bool has_known = known_words(building, words, language, &known);
	bool same_language = has_known && strcmp(known.language, language) == 0;
	bool has_own =
		load_wording(&building->loading, words_path(building, building->folder, language), language, &own);
	if (!has_own && same_language)
		list[(*n)++] = known;
	if (!has_own)
		return;
	if (has_known)
		check_wording(&reader, &own, &known, building->clinic->templates);
	add_seal(building, "words", language, seal_words(building->loading.arena, &own), own.place);
	struct wording nothing = {.language = language};
	list[(*n)++] = lay_over(building->loading.arena, same_language ? &known : &nothing, &own);
}

static bool has_own_steps(const struct page_templates *templates)
{
	for (size_t i = 0; i < templates->n_techniques; i++)
		if (templates->techniques[i].clinic_over)
			return true;
	return false;
}

/* The clinic's own words are sealed, and its steps need words, in every language. */
static bool is_read(struct building *building, const char *language)
{
	const struct clinic *clinic = building->clinic;
	return building->language == NULL || is_needed(building, language) || has_own_steps(clinic->templates) ||
	       access(words_path(building, building->folder, language), F_OK) == 0;
}

static bool lists_language(const struct clinic *clinic, const char *language)
{
	for (size_t i = 0; i < clinic->n_languages; i++)
		if (strcmp(clinic->languages[i], language) == 0)
			return true;
	return false;
}

/* Words of a language that no sheet is asked for lie there as if they counted. */
static void check_unread_words(struct building *building)
{
	struct arena *arena = building->loading.arena;
	struct findings unsaid = findings_in(arena); /* an ending like .yml is said where the file is looked for */
	enum load_status status = LOAD_GOOD;
	struct loading quiet = {arena, &unsaid, &status};
	size_t n;
	const char **paths = list_folder(&quiet, own_path(building, "words"), &n);
	for (size_t i = 0; i < n; i++) {
		const char *language = without_ending(arena, paths[i]);
		struct source_file *file = arena_alloc(arena, sizeof *file);
		file->name = paths[i];
		if (!lists_language(building->clinic, language))
			findings_add(
				building->loading.findings, FINDING_CAUTION, "words-unread", file_place(file),
				"this file is not read, as '%s' is none of clinic.yaml's 'languages'; add it there, "
				"or move the file away",
				language);
	}
}

static void build_words(struct building *building, struct ahead *const *words)
{
	struct clinic *clinic = building->clinic;
	struct wording *list = arena_alloc(building->loading.arena, (clinic->n_languages + 1) * sizeof *list);
	clinic->words = list;
	for (size_t i = 0; i < clinic->n_languages; i++)
		if (language_known(clinic->languages[i]) && is_read(building, clinic->languages[i]))
			build_language(building, words[i], clinic->languages[i], list, &clinic->n_words);
	check_unread_words(building);
}

/* --- Pages and steps --- */

static void build_pages(struct building *building, struct page_templates *templates)
{
	struct loaded built_in =
		load_file(&building->loading, built_in_path(building, "pages.yaml"), true, &schema_pages);
	if (built_in.raw)
		read_pages(&built_in.reader, built_in.raw, NULL, templates);
	const struct page_templates known = *templates;
	struct loaded own =
		load_file(&building->loading, own_path(building, "templates/pages.yaml"), false, &schema_pages);
	if (!own.raw)
		return;
	read_pages(&own.reader, own.raw, &known, templates);
	add_seal(building, "pages", "order", seal_pages(building->loading.arena, templates), file_place(own.file));
}

static void build_steps(struct building *building, struct ahead *ahead, bool own, struct page_templates *templates)
{
	const struct loaded *files = take_ahead(building, ahead);
	for (size_t i = 0; i < ahead->n; i++)
		if (files[i].raw)
			read_technique(&files[i].reader, files[i].raw, own, templates);
}

static void build_templates(struct building *building, struct ahead *steps, struct ahead *own_steps)
{
	struct page_templates *templates = arena_alloc(building->loading.arena, sizeof *templates);
	building->clinic->templates = templates;
	build_pages(building, templates);
	build_steps(building, steps, false, templates);
	build_steps(building, own_steps, true, templates);
}

/* Steps that a product names must be there; its usual ones are asked for when they are printed. */
static void check_techniques(struct building *building)
{
	const struct reader reader = {.arena = building->loading.arena, .findings = building->loading.findings};
	const struct clinic *clinic = building->clinic;
	for (size_t i = 0; i < clinic->n_medicines; i++) {
		for (size_t j = 0; j < clinic->medicines[i].n_products; j++) {
			const struct product *product = &clinic->medicines[i].products[j];
			const char *usual = usual_technique(reader.arena, product);
			struct stated_string name = {product->technique, product->place};
			struct nearest nearest = nearest_to(name.text);
			if (strcmp(name.text, usual) == 0 || templates_technique(clinic->templates, name.text))
				continue;
			for (size_t k = 0; k < clinic->templates->n_techniques; k++)
				nearest_offer(&nearest, clinic->templates->techniques[k].id);
			refuse_unknown_name(&reader, "unknown-technique", "technique", &name, "", &nearest);
		}
	}
}

const struct clinic *load_no_clinic(struct arena *run, const char *data_folder, const char *language,
                                    struct findings *findings, enum load_status *status)
{
	struct clinic *clinic = arena_alloc(run, sizeof *clinic);
	struct wording *words = arena_alloc(run, sizeof *words);
	struct building building = {.loading = {run, findings, status},
	                            .templates = path_join(run, data_folder, "templates"),
	                            .clinic = clinic};
	*status = LOAD_GOOD;
	clinic->mark = DECIMAL_POINT;
	clinic->words = words;
	clinic->n_words =
		load_wording(&building.loading, words_path(&building, building.templates, language), language, words);
	struct loaded built_in =
		load_file(&building.loading, built_in_path(&building, "syringes.yaml"), true, &schema_syringes);
	if (built_in.raw)
		clinic->syringes = read_syringes(&built_in.reader, built_in.raw, true, NULL, &clinic->n_syringes);
	const struct syringe **stock = arena_alloc(run, (clinic->n_syringes + 1) * sizeof *stock);
	for (size_t i = 0; i < clinic->n_syringes; i++)
		stock[i] = &clinic->syringes[i];
	clinic->stock = stock;
	clinic->n_stock = clinic->n_syringes;
	return clinic;
}

/* --- Seals and signatures --- */

static void seal_medicines(struct building *building)
{
	struct arena *arena = building->loading.arena;
	for (size_t i = 0; i < building->clinic->n_medicines; i++) {
		const struct medicine *medicine = &building->clinic->medicines[i];
		add_seal(building, "medicine", medicine->id, seal_medicine(arena, medicine), medicine->place);
		for (size_t j = 0; j < medicine->n_products; j++) {
			const struct product *product = &medicine->products[j];
			if (product->n_stands_in_for)
				add_seal(building, "stand-in", product->id, seal_stand_in(arena, product),
				         product->place);
		}
	}
}

/* Only of a folder without stops: every name stands for something then. Words and pages were sealed when read. */
static void seal_all(struct building *building)
{
	struct arena *arena = building->loading.arena;
	const struct clinic *clinic = building->clinic;
	add_seal(building, "clinic", "clinic.yaml", seal_clinic(arena, clinic), clinic->place);
	seal_medicines(building);
	for (size_t i = 0; i < clinic->n_syringes; i++) {
		const struct syringe *syringe = &clinic->syringes[i];
		if (!syringe->built_in)
			add_seal(building, "syringe", syringe->id, seal_syringe(arena, syringe), syringe->place);
	}
	for (size_t i = 0; i < clinic->n_protocols; i++) {
		const struct protocol *protocol = &clinic->protocols[i];
		add_seal(building, "protocol", protocol->id, seal_protocol(arena, protocol), protocol->place);
	}
	for (size_t i = 0; i < clinic->templates->n_techniques; i++) {
		const struct technique_template *technique = &clinic->templates->techniques[i];
		if (technique->clinic_over)
			add_seal(building, "steps", technique->id, seal_technique(arena, technique), technique->place);
	}
}

static void build_signatures(struct building *building)
{
	struct loading *loading = &building->loading;
	const struct source_file *file = file_read(loading->arena, own_path(building, "signatures.csv"), false,
	                                           loading->findings, loading->status);
	if (file)
		read_signatures(loading->arena, file, building->clinic, loading->findings);
}

/* --- The whole --- */

/* How a loading ended, given the findings it began with. */
static void settle(const struct loading *loading, size_t stops_before)
{
	if (findings_count(loading->findings, FINDING_STOP) > stops_before)
		*loading->status = load_worse(*loading->status, LOAD_REFUSED);
}

const struct clinic *load_clinic_for(struct arena *run, const char *folder, const char *data_folder,
                                     const char *language, struct worker *worker, struct findings *findings,
                                     enum load_status *status)
{
	size_t stops_before = findings_count(findings, FINDING_STOP);
	struct building building = {
		.loading = {run, findings, status},
		.folder = folder,
		.templates = path_join(run, data_folder, "templates"),
		.language = language,
		.worker = worker,
		.clinic = arena_alloc(run, sizeof *building.clinic),
	};
	*status = LOAD_GOOD;
	building.clinic->folder = arena_strdup(run, folder);
	bool syringes_known = build_syringes(&building);
	bool slots_known = build_head(&building, syringes_known);
	/* The longest first. */
	struct ahead **words = begin_words(&building);
	struct ahead *steps = begin_folder(&building, built_in_path(&building, "steps"), &schema_technique);
	struct ahead *own_steps = begin_folder(&building, own_path(&building, "templates/steps"), &schema_technique);
	struct ahead *protocols = begin_folder(&building, own_path(&building, "protocols"), &schema_protocol);
	bool medicines_known = build_medicines(&building, syringes_known);
	const struct protocol_names names = {building.clinic, medicines_known, slots_known};
	build_protocols(&building, protocols, &names);
	build_templates(&building, steps, own_steps);
	build_words(&building, words);
	check_techniques(&building);
	build_signatures(&building);
	settle(&building.loading, stops_before);
	if (*status != LOAD_GOOD)
		return NULL;
	seal_all(&building);
	return building.clinic;
}

const struct clinic *load_clinic(struct arena *run, const char *folder, const char *data_folder,
                                 struct findings *findings, enum load_status *status)
{
	return load_clinic_for(run, folder, data_folder, NULL, NULL, findings, status);
}

const char *load_plan_language(struct arena *arena, const char *path)
{
	struct findings unsaid = findings_in(arena);
	enum load_status status = LOAD_GOOD;
	const struct source_file *file = file_read(arena, path, true, &unsaid, &status);
	const struct node *root = file ? tree_read(arena, file, &unsaid) : NULL;
	if (!root || root->kind != NODE_MAP || pair_of(root, "replaces"))
		return NULL;
	const struct pair *language = pair_of(root, "language");
	bool plain = language && language->value->kind == NODE_SCALAR && language_known(language->value->text);
	return plain ? language->value->text : NULL;
}

static bool read_plan_file(struct loading *loading, const struct clinic *clinic, const char *path, struct plan *plan)
{
	struct loaded loaded = load_file(loading, path, true, &schema_plan);
	if (!loaded.raw)
		return false;
	*plan = read_plan(&loaded.reader, loaded.raw, without_ending(loading->arena, path), clinic, loaded.file);
	return true;
}

/* A course of the plan's own is what it is by its digest, as a protocol's file is by its seal. */
static void digest_own(struct arena *arena, struct plan *plan)
{
	if (plan->protocol == NULL || !plan->protocol->own)
		return;
	struct protocol *own = arena_alloc(arena, sizeof *own);
	*own = *plan->protocol;
	own->digest = seal_protocol(arena, own);
	plan->protocol = own;
}

/* Beside the plan that names it, unless it is named from the root. */
static const char *beside(struct arena *arena, const char *path, const char *name)
{
	const char *slash = strrchr(path, '/');
	if (name[0] == '/' || !slash)
		return name;
	return path_join(arena, arena_strndup(arena, path, (size_t)(slash - path)), name);
}

/*
 * The plan that a plan replaces, and what that one replaced in its turn: what past doses were given from goes back to the
 * first, and so does each one's code. Versions go down on the way, so a circle ends.
 */
static void load_replaced(struct loading *loading, const struct clinic *clinic, const char *path, struct plan *plan)
{
	const struct stated_string *name = &plan->replaces.file;
	if (!plan->replaces.given || !name->text)
		return;
	if (ends_with(name->text, ".pdf")) {
		findings_add(loading->findings, FINDING_STOP, "replaces-pdf", name->place,
		             "a packet's PDF cannot be read back yet; name the plan that it was made from");
		return;
	}
	const char *file = beside(loading->arena, path, name->text);
	if (access(file, R_OK) != 0) {
		findings_add(loading->findings, FINDING_STOP, "replaces-missing", name->place,
		             "the plan '%s' that this one replaces cannot be read: %s; correct its name", name->text,
		             strerror(errno));
		return;
	}
	struct plan *replaced = arena_alloc(loading->arena, sizeof *replaced);
	size_t stops_before = findings_count(loading->findings, FINDING_STOP);
	if (!read_plan_file(loading, clinic, file, replaced))
		return;
	plan->replaced = replaced;
	if (findings_count(loading->findings, FINDING_STOP) > stops_before)
		return;
	digest_own(loading->arena, replaced);
	if (replaced->version < plan->version)
		load_replaced(loading, clinic, file, replaced);
}

const struct plan *load_plan(struct arena *patient, const struct clinic *clinic, const char *path,
                             struct findings *findings, enum load_status *status)
{
	size_t stops_before = findings_count(findings, FINDING_STOP);
	struct loading loading = {patient, findings, status};
	struct plan *plan = arena_alloc(patient, sizeof *plan);
	*status = LOAD_GOOD;
	if (read_plan_file(&loading, clinic, path, plan) && findings_count(findings, FINDING_STOP) == stops_before)
		load_replaced(&loading, clinic, path, plan);
	settle(&loading, stops_before);
	if (*status != LOAD_GOOD)
		return NULL;
	digest_own(patient, plan);
	plan->seal = seal_plan(patient, plan);
	return plan;
}

struct plan *load_plan_tree(struct arena *patient, const struct clinic *clinic, const struct node *root, const char *id,
                            const struct source_file *file, struct findings *findings)
{
	size_t stops_before = findings_count(findings, FINDING_STOP);
	struct reader reader = {.arena = patient, .findings = findings};
	const struct raw_plan *raw = shape_load(patient, root, &schema_plan, &reader.strings, findings);
	if (raw == NULL || findings_count(findings, FINDING_STOP) > stops_before)
		return NULL;
	struct plan *plan = arena_alloc(patient, sizeof *plan);
	*plan = read_plan(&reader, raw, id, clinic, file);
	if (findings_count(findings, FINDING_STOP) > stops_before)
		return NULL;
	digest_own(patient, plan);
	return plan;
}

static bool has_clinic(struct arena *arena, const char *folder)
{
	return access(path_join(arena, folder, "clinic.yaml"), F_OK) == 0;
}

static bool same_folder(const char *a, const char *b)
{
	struct stat about_a, about_b;
	return stat(a, &about_a) == 0 && stat(b, &about_b) == 0 && about_a.st_dev == about_b.st_dev &&
	       about_a.st_ino == about_b.st_ino;
}

/* "a/b" lies in "a", "a" in ".", "." in "..", ".." in "../..", and "/a" in "/". */
static const char *folder_above(struct arena *arena, const char *folder)
{
	const char *slash = strrchr(folder, '/');
	const char *last = slash ? slash + 1 : folder;
	if (strcmp(folder, ".") == 0)
		return "..";
	if (strcmp(last, ".") == 0 || strcmp(last, "..") == 0 || *last == '\0')
		return path_join(arena, folder, "..");
	if (!slash)
		return ".";
	return slash == folder ? "/" : arena_strndup(arena, folder, (size_t)(slash - folder));
}

const char *load_find_clinic(struct arena *arena, const char *path)
{
	const char *folder = path;
	struct stat about;
	if (stat(path, &about) != 0 || !S_ISDIR(about.st_mode))
		folder = folder_above(arena, path);
	while (!has_clinic(arena, folder)) {
		const char *above = folder_above(arena, folder);
		/* The root lies in itself. */
		if (strcmp(above, folder) == 0 || same_folder(folder, path_join(arena, folder, "..")))
			return NULL;
		folder = above;
	}
	return folder;
}
