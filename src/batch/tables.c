#include "batch/register.h"
#include "batch/run.h"
#include "load/disk_array.h"

#include <errno.h>
#include <inttypes.h>
#include <string.h>
#include <unistd.h>

/* Of the intake, by what an outcome says of its rows. */
static uint32_t first_row(const struct outcome *outcome)
{
	uint32_t row = 0;
	for (const char *at = outcome->rows; *at >= '0' && *at <= '9'; at++)
		row = row * 10 + (uint32_t)(*at - '0');
	return row;
}

/* ---- two sheets with one code ---- */

struct coded {
	char code[16];
	uint64_t number;
};

static int compare_codes(const void *left, const void *right)
{
	const struct coded *a = left;
	const struct coded *b = right;
	int by_code = strcmp(a->code, b->code);
	return by_code != 0 ? by_code : a->number < b->number ? -1 : a->number > b->number;
}

static bool refuse_code(struct run *run, size_t number)
{
	struct outcome outcome;
	arena_reset(run->patient);
	if (!journal_get(run->journal, run->patient, number, &outcome))
		return false;
	if (outcome.kind != OUTCOME_PACKET)
		return true; /* a sheet of an earlier run, which is out of the house */
	unlink(out_path(run->patient, &run->folder, outcome.file));
	unlink(out_path(run->patient, &run->folder, outcome.sheet.plan));
	struct findings findings = findings_in(run->patient);
	findings_add(&findings, FINDING_STOP, "code-twice", (struct place){.file = NULL},
	             "another patient's sheet has the same code, %s; make one of the two by itself, on another day",
	             outcome.sheet.code);
	outcome.kind = OUTCOME_REFUSED;
	if (!run_last_sheet(run, run->patient, outcome.record, &outcome.sheet))
		return false;
	outcome.file = outcome.sha256 = "";
	outcome.pages = outcome.cautions = 0;
	outcome_refuse(run->patient, &outcome, &findings, NULL, first_row(&outcome), NULL);
	return journal_add(run->journal, run->patient, &outcome);
}

static bool collect_codes(struct run *run, struct disk_array *codes)
{
	for (size_t number = 0; number < intake_count(run->intake); number++) {
		struct outcome outcome;
		arena_reset(run->patient);
		if (!journal_get(run->journal, run->patient, number, &outcome) || *outcome.sheet.code == '\0')
			continue;
		struct coded coded = {.number = number};
		strncpy(coded.code, outcome.sheet.code, sizeof coded.code - 1);
		if (!disk_array_add(codes, &coded))
			return false;
	}
	return true;
}

static bool refuse_equal(struct run *run, struct disk_array *codes)
{
	const struct coded *list = disk_array_map(codes);
	size_t n = disk_array_count(codes);
	if (n == 0)
		return true;
	if (list == NULL)
		return false;
	disk_array_sort(codes, compare_codes);
	for (size_t i = 0; i < n; i++) {
		bool before = i > 0 && strcmp(list[i - 1].code, list[i].code) == 0;
		bool after = i + 1 < n && strcmp(list[i + 1].code, list[i].code) == 0;
		if ((before || after) && !refuse_code(run, (size_t)list[i].number))
			return false;
	}
	return true;
}

bool run_refuse_same_codes(struct run *run)
{
	struct disk_array *codes = disk_array_new(run->folder.path, sizeof(struct coded));
	bool good = codes != NULL && collect_codes(run, codes) && refuse_equal(run, codes);
	disk_array_free(codes);
	return good || run_failed(run, run->folder.path);
}

/* ---- the tables ---- */

struct tables {
	struct run *run;
	struct batch_count *count;
	struct out_file ledger;
	struct out_file refused;
	struct disk_array *pieces; /* of what was refused */
};

static void put_number(FILE *stream, uint64_t number, char end)
{
	fprintf(stream, "%" PRIu64 "%c", number, end);
}

static void put_sheet(FILE *stream, const struct sheet *sheet)
{
	bool known = sheet->code != NULL && *sheet->code != '\0';
	out_cell(stream, sheet->code, ',');
	if (known)
		put_number(stream, (uint64_t)sheet->version, ',');
	else
		putc(',', stream);
	out_cell(stream, sheet->as_of, ',');
	out_cell(stream, sheet->state, ',');
}

static void put_patient(FILE *stream, const struct outcome *outcome)
{
	put_number(stream, first_row(outcome), ',');
	out_cell(stream, outcome->rows, ',');
	out_cell(stream, outcome->record, ',');
	out_cell(stream, outcome_name(outcome->kind), ',');
	put_sheet(stream, &outcome->sheet);
	if (outcome->kind == OUTCOME_PACKET)
		fprintf(stream, "%zu,%zu,", outcome->pages, outcome->cautions);
	else
		fputs(",,", stream);
	out_cell(stream, outcome->file, ',');
	out_cell(stream, outcome->sha256, ',');
	out_cell(stream, outcome->sheet.order, ',');
	out_cell(stream, outcome->sheet.plan, ',');
	out_cell(stream, outcome->sheet.plan_sha256, '\n');
}

static void put_reasons(FILE *stream, const struct outcome *outcome)
{
	for (size_t i = 0; i < outcome->n_reasons; i++) {
		const struct reason *reason = &outcome->reasons[i];
		put_number(stream, reason->row, ',');
		out_cell(stream, outcome->record, ',');
		out_cell(stream, reason->code, ',');
		out_cell(stream, reason->says, '\n');
	}
}

static void count_outcome(struct batch_count *count, enum outcome_kind kind)
{
	count->patients += kind != OUTCOME_ROW;
	count->packets += kind == OUTCOME_PACKET;
	count->unchanged += kind == OUTCOME_UNCHANGED;
	count->refused += kind == OUTCOME_REFUSED;
	count->rows += kind == OUTCOME_ROW;
}

static bool keep_pieces(struct tables *tables, size_t number)
{
	size_t n;
	const struct index_piece *pieces = intake_index_group(tables->run->intake->index, number, &n);
	for (size_t i = 0; i < n; i++)
		if (!disk_array_add(tables->pieces, &pieces[i]))
			return false;
	return true;
}

static bool put_outcomes(struct tables *tables)
{
	struct run *run = tables->run;
	for (size_t number = 0; number < intake_count(run->intake); number++) {
		struct outcome outcome;
		arena_reset(run->patient);
		if (!run_has(run, number))
			continue;
		if (!journal_get(run->journal, run->patient, number, &outcome))
			return false;
		count_outcome(tables->count, outcome.kind);
		if (outcome.kind != OUTCOME_ROW)
			put_patient(tables->ledger.stream, &outcome);
		put_reasons(tables->refused.stream, &outcome);
		bool refused = outcome.kind == OUTCOME_REFUSED || outcome.kind == OUTCOME_ROW;
		if (refused && !keep_pieces(tables, number))
			return false;
	}
	return true;
}

/* ---- the refused rows themselves ---- */

static int compare_places(const void *left, const void *right)
{
	const struct index_piece *a = left;
	const struct index_piece *b = right;
	if (a->file != b->file)
		return a->file < b->file ? -1 : 1;
	return a->offset < b->offset ? -1 : a->offset > b->offset;
}

static bool put_rows(struct run *run, struct disk_array *pieces, FILE *stream)
{
	struct intake *intake = run->intake;
	uint32_t length;
	arena_reset(run->patient);
	const char *head = intake->source->head(intake->self, run->patient, &length);
	if (head == NULL || fwrite(head, 1, length, stream) != length)
		return false;
	const struct index_piece *list = disk_array_map(pieces);
	size_t n = disk_array_count(pieces);
	if (n > 0 && list == NULL)
		return false;
	if (n > 0)
		disk_array_sort(pieces, compare_places);
	for (size_t i = 0; i < n; i++) {
		arena_reset(run->patient);
		const char *bytes = intake->source->bytes(intake->self, run->patient, &list[i]);
		if (bytes == NULL || fwrite(bytes, 1, list[i].length, stream) != list[i].length)
			return false;
		if (i + 1 < n && bytes[list[i].length - 1] != '\n')
			fputs(intake->source->between, stream);
	}
	fputs(intake->source->tail, stream);
	return true;
}

static bool write_rows(struct run *run, struct disk_array *pieces)
{
	struct out_file file;
	const char *name = arena_printf(run->arena, "refused-rows.%s", run->intake->source->ending);
	if (!out_file_begin(run->arena, &run->folder, name, &file))
		return false;
	bool good = put_rows(run, pieces, file.stream);
	return out_file_end(&file, good);
}

/* ---- who is gone ---- */

static bool put_vanished(struct run *run, FILE *stream, struct batch_count *count)
{
	fputs("record,nights,code,version,as_of,state,order,plan,plan_sha256\n", stream);
	for (size_t i = 0; run->previous != NULL && i < previous_count(run->previous); i++) {
		struct previous_sheet before;
		arena_reset(run->patient);
		if (!previous_get(run->previous, run->patient, i, &before))
			return false;
		unsigned shards = run->options->shards;
		if (intake_has(run->intake, before.record) ||
		    (shards != 0 && index_key_of(before.record).high % shards != run->options->shard - 1))
			continue;
		count->vanished += before.nights == 0;
		out_cell(stream, before.record, ',');
		put_number(stream, (uint64_t)before.nights + 1, ',');
		put_sheet(stream, &before.sheet);
		out_cell(stream, before.sheet.order, ',');
		out_cell(stream, before.sheet.plan, ',');
		out_cell(stream, before.sheet.plan_sha256, '\n');
		if (!run_carry_told(run, run->patient, before.sheet.plan))
			return false;
	}
	return true;
}

static bool write_vanished(struct run *run, struct batch_count *count)
{
	struct out_file file;
	if (!out_file_begin(run->arena, &run->folder, "vanished.csv", &file))
		return false;
	bool good = put_vanished(run, file.stream, count);
	return out_file_end(&file, good);
}

/* ---- the whole ---- */

static bool write_outcomes(struct tables *tables)
{
	struct run *run = tables->run;
	if (!out_file_begin(run->arena, &run->folder, "ledger.csv", &tables->ledger))
		return false;
	if (!out_file_begin(run->arena, &run->folder, "refused.csv", &tables->refused)) {
		return out_file_end(&tables->ledger, false);
	}
	fputs("row,rows,record,outcome,code,version,as_of,state,pages,cautions,file,sha256,order,plan,plan_sha256\n",
	      tables->ledger.stream);
	fputs("row,record,code,reason\n", tables->refused.stream);
	bool good = put_outcomes(tables);
	bool refused = out_file_end(&tables->refused, good);
	return out_file_end(&tables->ledger, refused);
}

bool run_write_tables(struct run *run, struct batch_count *count)
{
	struct tables tables = {.run = run, .count = count};
	*count = (struct batch_count){.patients = 0};
	tables.pieces = disk_array_new(run->folder.path, sizeof(struct index_piece));
	bool good = tables.pieces != NULL && write_vanished(run, count) && write_outcomes(&tables) &&
	            write_rows(run, tables.pieces);
	disk_array_free(tables.pieces);
	return good || run_failed(run, run->folder.path);
}

bool run_write_register(struct run *run)
{
	struct issued_register *issued = register_open(run->arena, run->clinic->folder, run->findings);
	if (issued == NULL)
		return false;
	for (size_t number = 0; number < intake_count(run->intake); number++) {
		struct outcome outcome;
		arena_reset(run->patient);
		if (journal_get(run->journal, run->patient, number, &outcome) && outcome.kind == OUTCOME_PACKET)
			register_add(issued, outcome.sheet.code, outcome.record, (long long)outcome.sheet.version,
			             outcome.sheet.as_of);
	}
	return register_close(issued, run->findings);
}
