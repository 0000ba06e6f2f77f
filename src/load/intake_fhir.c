#include "load/intake_fhir.h"

#include "base/remedy.h"
#include "load/disk_array.h"
#include "load/fhir_files.h"
#include "load/fhir_tree.h"
#include "load/intake_tree.h"
#include "load/signatures.h"

#include <errno.h>
#include <glib.h>
#include <stdlib.h>
#include <string.h>

/*
 * An order names its patient by a reference, and a patient may stand after its
 * orders. So one pass notes, of each resource, which names it has and which it
 * refers to; then names become record numbers, and the index is filled:
 *
 *     names   "Patient/p1" -> record LQ-0101      "MedicationRequest/m7" -> "Patient/p1"
 *     noted   row 7 -> "Patient/p1"               row 9 -> "MedicationRequest/m7"
 *     index   row 7: LQ-0101                      row 9: LQ-0101
 */
enum { MOST_RESOURCES_OF_ONE = 500, MOST_REFERENCES = 8, LONGEST_NAME = 200 };

struct name {
	struct index_key name;
	struct index_key value;
	uint64_t is_record; /* else another name */
};

/* A resource whose patient is not known yet. */
struct noted {
	struct index_piece piece;
	struct index_key references[MOST_REFERENCES]; /* those that lead to a patient must lead to one */
	uint32_t n;
	uint32_t nobody; /* its own fault: whoever it mentions is doubtful */
};

struct intake_fhir {
	const struct intake *intake;
	const struct fhir_map *map;
	const char *as_of;
	struct fhir_files *files;
};

struct opening {
	struct arena *arena;
	struct intake_fhir *fhir;
	struct intake_index *index;
	struct findings *findings;
	enum load_status *status;
	struct disk_array *names;
	struct disk_array *noted;
	size_t n;
};

static const char *const read_types[] = {"Patient",     "MedicationRequest", "AllergyIntolerance",
                                         "Appointment", "Procedure",         "Provenance"};

static bool is_read(const char *type)
{
	for (size_t i = 0; i < sizeof read_types / sizeof *read_types; i++)
		if (strcmp(read_types[i], type) == 0)
			return true;
	return false;
}

static bool is_ignored(const struct fhir_map *map, const char *type)
{
	for (size_t i = 0; i < map->n_ignored; i++)
		if (strcmp(map->ignored[i], type) == 0)
			return true;
	return false;
}

/* ---- names and references ---- */

/* "Patient/p1/_history/2" is a version of "Patient/p1". */
static struct index_key name_key(struct arena *arena, const char *name)
{
	const char *version = strstr(name, "/_history/");
	return index_key_of(version == NULL ? name : arena_strndup(arena, name, (size_t)(version - name)));
}

static bool add_name(struct opening *opening, const char *name, struct index_key value, bool is_record)
{
	struct name entry = {name_key(opening->arena, name), value, is_record};
	return disk_array_add(opening->names, &entry);
}

/* By type and id, and by the address that a Bundle gives it. */
static bool add_names(struct opening *opening, const json_t *entry, const json_t *json, const char *type,
                      struct index_key value, bool is_record)
{
	const char *id = fhir_string(json, "id");
	const char *address = fhir_string(entry, "fullUrl");
	if (id != NULL && !add_name(opening, arena_printf(opening->arena, "%s/%s", type, id), value, is_record))
		return false;
	return address == NULL || add_name(opening, address, value, is_record);
}

static void refer(struct opening *opening, struct noted *noted, const char *reference)
{
	if (reference != NULL && noted->n < MOST_REFERENCES)
		noted->references[noted->n++] = name_key(opening->arena, reference);
}

/* Every reference in it, of a resource that belongs to nobody. */
static void refer_all(struct opening *opening, struct noted *noted, const json_t *value)
{
	const char *key;
	json_t *below;
	size_t i;
	if (json_is_array(value))
		json_array_foreach(value, i, below) refer_all(opening, noted, below);
	json_object_foreach((json_t *)(uintptr_t)value, key, below)
	{
		if (strcmp(key, "reference") == 0)
			refer(opening, noted, json_string_value(below));
		else
			refer_all(opening, noted, below);
	}
}

/* Which patient a resource is of, by what it refers to. */
static void refer_to_patient(struct opening *opening, struct noted *noted, const json_t *json, const char *type)
{
	const char *list = strcmp(type, "Provenance") == 0 ? "target" : "participant";
	const json_t *entries = json_object_get(json, list);
	refer(opening, noted, fhir_string_at(json, "subject.reference"));
	refer(opening, noted, fhir_string_at(json, "patient.reference"));
	if (strcmp(type, "Provenance") != 0 && strcmp(type, "Appointment") != 0)
		return;
	for (size_t i = 0; i < json_array_size(entries); i++) {
		const json_t *entry = fhir_entry(entries, i);
		refer(opening, noted,
		      *list == 't' ? fhir_string(entry, "reference") : fhir_string_at(entry, "actor.reference"));
	}
}

/* What cannot be read may still show whose it is. */
static void refer_in_bytes(struct opening *opening, struct noted *noted, const char *bytes, size_t length)
{
	static const char mark[] = "Patient/";
	const size_t n = sizeof mark - 1;
	for (size_t at = 0; at + n < length; at++) {
		if (memcmp(bytes + at, mark, n) != 0)
			continue;
		size_t end = at + n;
		while (end < length && end - at < LONGEST_NAME &&
		       (g_ascii_isalnum(bytes[end]) || bytes[end] == '-' || bytes[end] == '.'))
			end++;
		refer(opening, noted, arena_strndup(opening->arena, bytes + at, end - at));
	}
}

/* ---- one pass ---- */

/* The resource in a line, or in an entry of a Bundle. */
static const json_t *resource_of(const struct intake_fhir *fhir, const json_t *json)
{
	return fhir_files_bundle(fhir->files) ? json_object_get(json, "resource") : json;
}

static bool note_resource(struct opening *opening, struct noted *noted, const json_t *entry)
{
	const struct fhir_map *map = opening->fhir->map;
	const json_t *json = resource_of(opening->fhir, entry);
	const char *type = fhir_string(json, "resourceType");
	const char *record;
	if (type == NULL) {
		noted->nobody = true;
		refer_all(opening, noted, json);
		return true;
	}
	if (is_ignored(map, type))
		return true;
	if (strcmp(type, "Patient") == 0) {
		record = fhir_record(opening->arena, map, json);
		noted->nobody = record == NULL;
		if (record == NULL)
			return true;
		noted->references[noted->n++] = index_key_of(record);
		noted->piece.flags = 0;
		return add_names(opening, entry, json, type, index_key_of(record), true);
	}
	refer_to_patient(opening, noted, json, type);
	if (strcmp(type, "MedicationRequest") == 0 && noted->n > 0 &&
	    !add_names(opening, entry, json, type, noted->references[0], false))
		return false;
	noted->nobody = noted->n == 0;
	if (noted->nobody)
		refer_all(opening, noted, json);
	return true;
}

/* Flags of a piece while it is noted. */
enum { NOTED_PATIENT = 4, NOTED_IGNORED = 8 };

static bool note(struct opening *opening, const struct fhir_found *found)
{
	struct noted noted = {
		.piece = {.offset = found->offset, .length = found->length, .row = found->row, .file = found->file}};
	json_t *json = fhir_json_read(found->bytes, found->length);
	bool good = true;
	if (json_is_object(json)) {
		good = note_resource(opening, &noted, json);
		const char *type = fhir_string(resource_of(opening->fhir, json), "resourceType");
		if (type != NULL && strcmp(type, "Patient") == 0 && !noted.nobody)
			noted.piece.flags = NOTED_PATIENT;
		if (type != NULL && is_ignored(opening->fhir->map, type))
			noted.piece.flags = NOTED_IGNORED;
	} else {
		noted.nobody = true;
		refer_in_bytes(opening, &noted, found->bytes, found->length);
	}
	json_decref(json);
	return good && (noted.piece.flags == NOTED_IGNORED || disk_array_add(opening->noted, &noted));
}

static bool refuse_whole(struct opening *opening, const char *code, uint32_t row, const char *says)
{
	const struct place place = {opening->fhir->intake->file, (int)row, 0};
	findings_add(opening->findings, FINDING_STOP, code, place, "%s", says);
	return false;
}

static bool disk_failed(struct opening *opening)
{
	*opening->status = LOAD_FAILED;
	findings_add(opening->findings, FINDING_STOP, "file-unreadable",
	             (struct place){.file = opening->fhir->intake->file}, "cannot read or index this: %s%s",
	             strerror(errno), remedy_of_reading(errno));
	return false;
}

static bool note_all(struct opening *opening)
{
	struct fhir_found found = {.row = 0};
	struct arena *run = opening->arena;
	enum fhir_next next = FHIR_FAILED;
	bool good = true;
	opening->arena = arena_new();
	while (good && (next = fhir_files_next(opening->fhir->files, &found)) == FHIR_FOUND) {
		arena_reset(opening->arena);
		opening->n++;
		good = note(opening, &found);
	}
	arena_free(opening->arena);
	opening->arena = run;
	if (!good || next == FHIR_FAILED)
		return disk_failed(opening);
	if (next == FHIR_TOO_LONG)
		return refuse_whole(opening, "row-too-long", found.row,
		                    "this resource is too long to be one; check its brackets and line ends");
	if (next == FHIR_BROKEN)
		return refuse_whole(opening, "bundle-broken", 0,
		                    "this Bundle is not JSON, so where its entries end is not known; export it again");
	return true;
}

/* A Bundle that is one page of several lacks orders that nobody would miss. */
static bool check_bundle(struct opening *opening)
{
	size_t length;
	const char *shell = fhir_files_shell(opening->fhir->files, &length);
	json_t *json = fhir_json_read(shell, length);
	const char *type = fhir_string(json, "type");
	const json_t *links = json_object_get(json, "link");
	const char *whole = fhir_string(json, "resourceType");
	bool good = true;
	for (size_t i = 0; good && i < json_array_size(links); i++) {
		const char *relation = fhir_string(fhir_entry(links, i), "relation");
		if (relation != NULL && strcmp(relation, "next") == 0)
			good = refuse_whole(opening, "bundle-partial", 0,
			                    "this Bundle is one page of several; export all of it as one");
	}
	if (json == NULL || whole == NULL || strcmp(whole, "Bundle") != 0)
		good = refuse_whole(opening, "bundle-broken", 0, "this file is no Bundle in JSON; export it again");
	else if (type == NULL || (strcmp(type, "collection") != 0 && strcmp(type, "searchset") != 0))
		good = refuse_whole(opening, "bundle-type", 0,
		                    "this Bundle is neither a collection nor a searchset; export one of these");
	json_decref(json);
	return good;
}

/* ---- names into records ---- */

static int compare_names(const void *left, const void *right)
{
	const struct name *a = left;
	const struct name *b = right;
	int order = index_key_compare(&a->name, &b->name);
	return order != 0 ? order : index_key_compare(&a->value, &b->value);
}

/* NULL where nothing has the name, or things of several patients. */
static const struct name *find_name(const struct name *names, size_t n, struct index_key key)
{
	size_t low = 0;
	size_t high = n;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (index_key_compare(&names[middle].name, &key) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	if (low == n || index_key_compare(&names[low].name, &key) != 0)
		return NULL;
	bool twice = low + 1 < n && index_key_compare(&names[low + 1].name, &key) == 0 &&
	             index_key_compare(&names[low + 1].value, &names[low].value) != 0;
	return twice ? NULL : &names[low];
}

static bool find_record(const struct name *names, size_t n, struct index_key reference, struct index_key *record)
{
	const struct name *found = find_name(names, n, reference);
	if (found != NULL && !found->is_record)
		found = find_name(names, n, found->value);
	if (found == NULL || !found->is_record)
		return false;
	*record = found->value;
	return true;
}

static bool index_noted(struct opening *opening, const struct noted *noted, const struct name *names, size_t n)
{
	struct index_piece piece = noted->piece;
	struct index_key record;
	piece.flags = 0;
	if (noted->piece.flags == NOTED_PATIENT) {
		piece.record = noted->references[0];
		piece.flags = PIECE_WHO;
		return intake_index_add(opening->index, &piece);
	}
	size_t n_records = 0;
	for (uint32_t i = 0; i < noted->n; i++) {
		if (!find_record(names, n, noted->references[i], &record))
			continue;
		if (n_records > 0 && index_key_compare(&record, &piece.record) != 0)
			piece.flags |= PIECE_OF_TWO;
		piece.record = record;
		n_records++;
	}
	if (n_records > 0 && !noted->nobody && piece.flags == 0)
		return intake_index_add(opening->index, &piece);
	for (uint32_t i = 0; i < noted->n; i++)
		if (find_record(names, n, noted->references[i], &record) &&
		    !intake_index_mention(opening->index, record))
			return false;
	piece.flags |= PIECE_ALONE;
	piece.record = (struct index_key){.low = piece.row};
	return intake_index_add(opening->index, &piece);
}

static bool fill_index(struct opening *opening)
{
	size_t n_names = disk_array_count(opening->names);
	size_t n = disk_array_count(opening->noted);
	const struct name *names = n_names == 0 ? NULL : disk_array_map(opening->names);
	const struct noted *noted = n == 0 ? NULL : disk_array_map(opening->noted);
	if ((names == NULL && n_names > 0) || (noted == NULL && n > 0))
		return disk_failed(opening);
	if (names != NULL)
		disk_array_sort(opening->names, compare_names);
	for (size_t i = 0; i < n; i++)
		if (!index_noted(opening, &noted[i], names, n_names))
			return disk_failed(opening);
	if (!intake_index_close(opening->index))
		return disk_failed(opening);
	if (n == 0)
		return refuse_whole(opening, "intake-empty", 0, "the intake has no resources; export it again");
	return true;
}

/* ---- one patient ---- */

struct fhir_pieces {
	json_t **json;
	struct fhir_resource *list;
	size_t n;
};

static void release(struct fhir_pieces *pieces)
{
	for (size_t i = 0; i < pieces->n; i++)
		json_decref(pieces->json[i]);
}

static bool read_pieces(struct intake_fhir *fhir, struct arena *arena, const struct intake_patient *patient,
                        struct fhir_pieces *pieces)
{
	pieces->json = arena_alloc(arena, (patient->n_pieces + 1) * sizeof(json_t *));
	pieces->list = arena_alloc(arena, (patient->n_pieces + 1) * sizeof *pieces->list);
	for (pieces->n = 0; pieces->n < patient->n_pieces; pieces->n++) {
		const struct index_piece *piece = &patient->pieces[pieces->n];
		const char *bytes = fhir_files_bytes(fhir->files, arena, piece->file, piece->offset, piece->length);
		if (bytes == NULL)
			return false;
		json_t *json = fhir_json_read(bytes, piece->length);
		const json_t *resource = resource_of(fhir, json);
		const char *type = fhir_string(resource, "resourceType");
		pieces->json[pieces->n] = json;
		pieces->list[pieces->n] = (struct fhir_resource){
			.json = resource,
			.type = type == NULL ? "" : arena_strdup(arena, type),
			.address = fhir_files_bundle(fhir->files) ? fhir_string(json, "fullUrl") : NULL,
			.place = {fhir->intake->file, (int)piece->row, 0},
		};
	}
	return true;
}

/* By type and id: no export promises an order, and one night's must give the plan of the last one's. */
static int compare_resources(const void *left, const void *right)
{
	const struct fhir_resource *a = left;
	const struct fhir_resource *b = right;
	const char *first = fhir_string(a->json, "id");
	const char *second = fhir_string(b->json, "id");
	int order = strcmp(a->type, b->type);
	if (order == 0)
		order = strcmp(first == NULL ? "" : first, second == NULL ? "" : second);
	return order != 0 ? order : (a->place.line > b->place.line) - (a->place.line < b->place.line);
}

static void refuse_type(const struct fhir_reading *reading, const struct fhir_resource *at)
{
	fhir_refuse(
		reading, at, "resource-unmapped",
		"resources of type '%s' are not read here; list the type under 'ignore' in the map, or leave them out",
		at->type);
}

/* Why a resource is nobody's. */
static void check_alone(const struct fhir_reading *reading, uint32_t flags)
{
	const struct fhir_resource *at = &reading->list[0];
	if (at->json == NULL || *at->type == '\0')
		fhir_refuse(reading, at, "row-unreadable",
		            "this is no resource in JSON, or has a key twice, so what it orders is not known; mend it");
	else if (strcmp(at->type, "Patient") == 0)
		fhir_refuse(reading, at, "record-missing",
		            "this patient has no identifier of the map's system '%s', or several; correct it",
		            reading->map->record);
	else if (flags & PIECE_OF_TWO)
		fhir_refuse(reading, at, "patients-two",
		            "this %s names two patients, and which of them it is for is a guess; export one for each",
		            at->type);
	else if (!is_read(at->type))
		refuse_type(reading, at);
	else
		fhir_refuse(
			reading, at, "reference-unresolved",
			"this %s refers to no patient of the intake, so it belongs to nobody; export the patient with "
			"it, under the id that it names",
			at->type);
}

static void check_types(const struct fhir_reading *reading)
{
	for (size_t i = 0; i < reading->n; i++) {
		const struct fhir_resource *at = &reading->list[i];
		const char *id = fhir_string(at->json, "id");
		fhir_check_resource(reading, at);
		if (!is_read(at->type))
			refuse_type(reading, at);
		for (size_t j = 0; id != NULL && j < i; j++) {
			const char *other = fhir_string(reading->list[j].json, "id");
			if (other != NULL && strcmp(reading->list[j].type, at->type) == 0 && strcmp(other, id) == 0)
				fhir_refuse(reading, at, "resource-twice",
				            "this %s stands in row %d already; delete one", at->type,
				            reading->list[j].place.line);
		}
	}
}

static void add_signature(const struct fhir_reading *reading, struct plan *plan, struct signature *list, const char *by,
                          const char *on)
{
	if (by == NULL || on == NULL)
		return;
	const char *name = signer_name(reading->arena, by, reading->findings);
	if (name != NULL)
		list[plan->n_signatures++] = (struct signature){"plan", plan->id, NULL, name, on};
}

static void take_plan(const struct fhir_reading *reading, struct intake_patient *patient)
{
	struct fhir_signers signers;
	size_t stops = findings_count(reading->findings, FINDING_STOP);
	patient->tree = fhir_tree(reading, &signers);
	if (findings_count(reading->findings, FINDING_STOP) > stops)
		return;
	patient->plan = load_plan_tree(reading->arena, reading->clinic, patient->tree, patient->record, reading->file,
	                               reading->findings);
	if (patient->plan == NULL)
		return;
	struct signature *list = arena_alloc(reading->arena, 2 * sizeof *list);
	patient->plan->signatures = list;
	add_signature(reading, patient->plan, list, signers.ordered_by, signers.ordered_on);
	add_signature(reading, patient->plan, list, signers.checked_by, signers.checked_on);
	if (findings_stop(reading->findings))
		patient->plan = NULL;
}

static const char *record_of(const struct fhir_reading *reading)
{
	for (size_t i = 0; i < reading->n; i++)
		if (strcmp(reading->list[i].type, "Patient") == 0)
			return fhir_record(reading->arena, reading->map, reading->list[i].json);
	return NULL;
}

static void check_doubtful(const struct fhir_reading *reading, const struct intake_patient *patient)
{
	for (size_t i = 0; i < patient->n_pieces; i++)
		if (patient->pieces[i].flags & PIECE_DOUBTFUL) {
			fhir_refuse(
				reading, &reading->list[0], "row-astray",
				"a resource that cannot be read, or belongs to nobody, names this patient; mend that "
				"resource");
			return;
		}
}

static struct fhir_reading reading_of(const struct intake_fhir *fhir, struct arena *arena,
                                      const struct fhir_pieces *pieces, struct findings *findings)
{
	return (struct fhir_reading){.arena = arena,
	                             .findings = findings,
	                             .clinic = fhir->intake->clinic,
	                             .map = fhir->map,
	                             .file = fhir->intake->file,
	                             .as_of = fhir->as_of,
	                             .list = pieces->list,
	                             .n = pieces->n};
}

/* The pieces that are read: of too many, only those that say whose they are. */
static struct intake_patient few_of(struct arena *arena, const struct intake_patient *patient)
{
	struct intake_patient few = *patient;
	if (few.n_pieces <= MOST_RESOURCES_OF_ONE)
		return few;
	struct index_piece *list = arena_alloc(arena, MOST_RESOURCES_OF_ONE * sizeof *list);
	few.pieces = list;
	few.n_pieces = 0;
	for (size_t i = 0; i < patient->n_pieces && few.n_pieces < MOST_RESOURCES_OF_ONE; i++)
		if (patient->pieces[i].flags & PIECE_WHO)
			list[few.n_pieces++] = patient->pieces[i];
	return few;
}

static bool fhir_read(void *self, struct arena *arena, size_t number, struct intake_patient *patient,
                      struct findings *findings)
{
	struct intake_fhir *fhir = self;
	struct fhir_pieces pieces = {.n = 0};
	*patient = (struct intake_patient){.record = NULL};
	patient->pieces = intake_index_group(fhir->intake->index, number, &patient->n_pieces);
	struct intake_patient few = few_of(arena, patient);
	bool good = read_pieces(fhir, arena, &few, &pieces);
	struct fhir_reading reading = reading_of(fhir, arena, &pieces, findings);
	if (good && patient->pieces[0].flags & PIECE_ALONE) {
		check_alone(&reading, patient->pieces[0].flags);
	} else if (good) {
		qsort(pieces.list, pieces.n, sizeof *pieces.list, compare_resources);
		patient->record = record_of(&reading);
		check_doubtful(&reading, patient);
		check_types(&reading);
		if (few.n_pieces < patient->n_pieces)
			fhir_refuse(&reading, &reading.list[0], "rows-too-many",
			            "this patient has %zu resources, more than one course's; export what is current",
			            patient->n_pieces);
		if (!findings_stop(findings))
			take_plan(&reading, patient);
	}
	release(&pieces);
	return good;
}

/* ---- the bytes ---- */

static const char *fhir_head(void *self, struct arena *arena, uint32_t *length)
{
	const struct intake_fhir *fhir = self;
	(void)arena;
	const char *head = fhir_files_bundle(fhir->files)
	                           ? "{\"resourceType\": \"Bundle\", \"type\": \"collection\", \"entry\": [\n"
	                           : "";
	*length = (uint32_t)strlen(head);
	return head;
}

static const char *fhir_bytes(void *self, struct arena *arena, const struct index_piece *piece)
{
	const struct intake_fhir *fhir = self;
	return fhir_files_bytes(fhir->files, arena, piece->file, piece->offset, piece->length);
}

static void fhir_close(void *self)
{
	struct intake_fhir *fhir = self;
	if (fhir->files != NULL)
		fhir_files_free(fhir->files);
}

/* ---- explaining ---- */

static const char *fhir_explain(struct intake *intake, struct arena *arena, size_t most)
{
	struct intake_fhir *fhir = intake->self;
	GString *out = g_string_new(NULL);
	for (size_t number = 0; number < intake_count(intake) && number < most; number++) {
		struct findings findings = findings_in(arena);
		struct intake_patient patient;
		struct fhir_pieces pieces;
		if (!fhir_read(fhir, arena, number, &patient, &findings))
			break;
		struct intake_patient few = few_of(arena, &patient);
		if (read_pieces(fhir, arena, &few, &pieces))
			for (size_t i = 0; i < pieces.n; i++)
				g_string_append_printf(out, "row %d: %s\n", pieces.list[i].place.line,
				                       pieces.list[i].type);
		release(&pieces);
		char **lines = g_strsplit(patient.tree == NULL ? "" : tree_print(arena, patient.tree), "\n", -1);
		for (char **line = lines; *line != NULL; line++)
			if (**line != '\0')
				g_string_append_printf(out, "  -> %s\n", *line);
		g_strfreev(lines);
		for (size_t i = 0; i < findings.n; i++)
			g_string_append_printf(out, "  %s\n", finding_print(arena, &findings.list[i]));
	}
	const char *text = arena_strdup(arena, out->str);
	g_string_free(out, TRUE);
	return text;
}

/* ---- opening ---- */

static const struct intake_source ndjson_source = {.ending = "ndjson",
                                                   .read = fhir_read,
                                                   .head = fhir_head,
                                                   .bytes = fhir_bytes,
                                                   .between = "\n",
                                                   .tail = "",
                                                   .explain = fhir_explain,
                                                   .free = fhir_close};

/* The refused entries of a Bundle are a Bundle again, since their addresses stand outside the resources. */
static const struct intake_source bundle_source = {.ending = "json",
                                                   .read = fhir_read,
                                                   .head = fhir_head,
                                                   .bytes = fhir_bytes,
                                                   .between = ",\n",
                                                   .tail = "\n]}\n",
                                                   .explain = fhir_explain,
                                                   .free = fhir_close};

bool intake_fhir_open(struct arena *run, struct intake *intake, const struct fhir_map *map,
                      const struct intake_options *options, struct findings *findings, enum load_status *status)
{
	struct intake_fhir *fhir = arena_alloc(run, sizeof *fhir);
	struct opening opening = {
		.arena = run, .fhir = fhir, .index = intake->index, .findings = findings, .status = status};
	*fhir = (struct intake_fhir){.intake = intake, .map = map, .as_of = options->as_of};
	intake->self = fhir;
	intake->source = &ndjson_source;
	fhir->files = fhir_files_open(run, options->path, intake->file, findings, status);
	if (fhir->files == NULL)
		return false;
	if (fhir_files_bundle(fhir->files))
		intake->source = &bundle_source;
	opening.names = disk_array_new(options->folder, sizeof(struct name));
	opening.noted = opening.names == NULL ? NULL : disk_array_new(options->folder, sizeof(struct noted));
	bool good = opening.noted != NULL || disk_failed(&opening);
	good = good && note_all(&opening) && (!fhir_files_bundle(fhir->files) || check_bundle(&opening)) &&
	       fill_index(&opening);
	disk_array_free(opening.names);
	disk_array_free(opening.noted);
	return good;
}
