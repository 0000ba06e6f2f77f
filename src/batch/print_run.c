#include "batch/run.h"
#include "load/disk_array.h"
#include "paint/paint.h"
#include "pdf/pdf.h"
#include "pdf/save.h"

#include <errno.h>
#include <string.h>

enum { PACKETS_A_FILE = 100 };

/*
 * A file of a hundred packets is painted page by page: what stays in memory is
 * the pages' compressed content. The staff's pages go into a file of their own,
 * so that neither pile has to be sorted by hand.
 *
 * Which packets share a file is known only once all patients before them are
 * made, in whatever process, so each is computed and composed again here. That
 * is a quarter of a packet's time; the other three, painting and finishing, are
 * a second file's in any case.
 */
struct printing {
	struct run *run;
	const struct batch_listener *listener;
	struct disk_array *numbers; /* of the patients with a packet */
	const uint64_t *number;
	size_t n;
	size_t next;
	bool failed;
};

static size_t files(const struct printing *printing)
{
	return (printing->n + PACKETS_A_FILE - 1) / PACKETS_A_FILE;
}

static const char *file_name(struct arena *arena, size_t index, bool staff)
{
	return arena_printf(arena, "print-run-%04zu%s.pdf", index + 1, staff ? "-staff" : "");
}

/* The staff's pages stand last, and each says so by its label. */
static bool is_staff(const struct placed_page *page)
{
	return page->label[0] == 'S';
}

/* The next packet begins on a front. */
static void paint_blank(struct arena *arena, const struct placed_page *like, struct device *device)
{
	struct placed_page *blank = arena_alloc(arena, sizeof *blank);
	*blank = (struct placed_page){.width = like->width, .height = like->height, .label = ""};
	paint_page(arena, blank, device);
}

static void paint_part(struct arena *arena, const struct made *made, bool staff, const char *title,
                       struct device *device)
{
	const struct placed_packet *packet = made->packet;
	const char **labels = arena_alloc(arena, (packet->n + 1) * sizeof *labels);
	size_t n = 0;
	const struct placed_page *last = NULL;
	for (size_t i = 0; i < packet->n; i++)
		if (is_staff(&packet->pages[i]) == staff)
			labels[n++] = packet->pages[i].label;
	const char *language = staff ? made->clinic->languages[0] : made->handout->language;
	const struct drawing_packet part = {title, language, labels, n};
	if (n == 0)
		return;
	drawing_begin_packet(device, &part);
	for (size_t i = 0; i < packet->n; i++)
		if (is_staff(&packet->pages[i]) == staff) {
			last = &packet->pages[i];
			paint_page(arena, last, device);
		}
	if (n % 2 != 0)
		paint_blank(arena, last, device);
}

static bool finish_file(struct printing *printing, struct arena *arena, struct device *device, const char *name,
                        const char **why)
{
	const unsigned char *bytes;
	size_t n;
	*why = "the pages could not be drawn";
	return drawing_finish(device, &bytes, &n) &&
	       save_file(arena, out_path(arena, &printing->run->folder, name), bytes, n, why);
}

/* Paints the file's packets on both devices; false where one can no longer be made. */
static bool paint_packets(struct printing *printing, size_t index, struct device *const devices[2])
{
	struct run *run = printing->run;
	bool good = true;
	for (size_t i = index * PACKETS_A_FILE; good && i < printing->n && i < (index + 1) * PACKETS_A_FILE; i++) {
		struct made made;
		arena_reset(run->patient);
		good = run_compose(run, run->patient, (size_t)printing->number[i], &made);
		if (good) {
			const char *title = run->options->name_by_code ? made.record->code
			                                               : arena_printf(run->patient, "%s  %s",
			                                                              made.plan->id, made.record->code);
			paint_part(run->patient, &made, false, title, devices[0]);
			paint_part(run->patient, &made, true, title, devices[1]);
		}
		made.typesetter = NULL;
		made_free(&made);
		typesetter_reset(run->typesetter);
	}
	return good;
}

static const char *print_file(void *self, size_t index)
{
	struct printing *printing = self;
	struct arena *arena = arena_new();
	struct drawing_options options = {.mono = printing->run->options->mono,
	                                  .title = file_name(arena, index, false),
	                                  .language = printing->run->clinic->languages[0]};
	struct rect none = {0, 0, 0, 0};
	struct device *const devices[2] = {drawing_new(DRAWING_PDF, &options, none),
	                                   drawing_new(DRAWING_PDF, &options, none)};
	const char *why = "a packet of it could not be made again";
	bool good = paint_packets(printing, index, devices);
	if (!typesetter_fonts_same(printing->run->typesetter)) {
		why = run_fonts_changed;
		good = false;
	}
	good = good && finish_file(printing, arena, devices[0], file_name(arena, index, false), &why) &&
	       finish_file(printing, arena, devices[1], file_name(arena, index, true), &why);
	drawing_free(devices[0]);
	drawing_free(devices[1]);
	const struct outcome outcome = {
		.number = index, .kind = good ? OUTCOME_PACKET : OUTCOME_FAILED, .failure = good ? "" : why};
	const char *line = outcome_line(printing->run->patient, &outcome);
	arena_free(arena);
	return line;
}

static bool next_file(void *self, size_t *index)
{
	struct printing *printing = self;
	*index = printing->next;
	return printing->next < files(printing) && printing->next++ < files(printing);
}

static bool take_file(void *self, size_t index, const char *line, size_t length)
{
	struct printing *printing = self;
	struct run *run = printing->run;
	struct outcome outcome;
	arena_reset(run->patient);
	bool read = line != NULL && outcome_read(run->patient, line, length, &outcome);
	if (read && outcome.kind == OUTCOME_PACKET)
		return true;
	printing->failed = true;
	findings_add(run->findings, FINDING_STOP, "print-run-failed", (struct place){.file = NULL},
	             "'%s' could not be made: %s; once that is mended, go on with --resume",
	             file_name(run->patient, index, false), read ? outcome.failure : "the program failed twice at it");
	return false;
}

static bool beat(void *self)
{
	struct printing *printing = self;
	return !printing->listener->stopped(printing->listener->self);
}

static bool list_packets(struct printing *printing)
{
	struct run *run = printing->run;
	printing->numbers = disk_array_new(run->folder.path, sizeof(uint64_t));
	for (size_t number = 0; printing->numbers != NULL && number < intake_count(run->intake); number++) {
		struct outcome outcome;
		uint64_t kept = number;
		arena_reset(run->patient);
		if (journal_get(run->journal, run->patient, number, &outcome) && outcome.kind == OUTCOME_PACKET &&
		    !disk_array_add(printing->numbers, &kept))
			return false;
	}
	if (printing->numbers == NULL)
		return false;
	printing->n = disk_array_count(printing->numbers);
	printing->number = disk_array_map(printing->numbers);
	return printing->n == 0 || printing->number != NULL;
}

/* Which file holds whom: a table for the hand that feeds the printer. */
static bool write_table(struct printing *printing)
{
	struct run *run = printing->run;
	struct out_file file;
	if (!out_file_begin(run->arena, &run->folder, "print-runs.csv", &file))
		return false;
	fputs("file,packets,first,last,sha256\n", file.stream);
	bool good = true;
	for (size_t i = 0; good && i < 2 * files(printing); i++) {
		struct outcome first;
		struct outcome last;
		size_t from = i / 2 * PACKETS_A_FILE;
		size_t to = from + PACKETS_A_FILE < printing->n ? from + PACKETS_A_FILE : printing->n;
		arena_reset(run->patient);
		const char *name = file_name(run->patient, i / 2, i % 2 != 0);
		const char *digest = out_digest(run->patient, out_path(run->patient, &run->folder, name));
		good = digest != NULL &&
		       journal_get(run->journal, run->patient, (size_t)printing->number[from], &first) &&
		       journal_get(run->journal, run->patient, (size_t)printing->number[to - 1], &last);
		if (!good)
			break;
		fprintf(file.stream, "%s,%zu,", name, to - from);
		out_cell(file.stream, first.record, ',');
		out_cell(file.stream, last.record, ',');
		out_cell(file.stream, digest, '\n');
	}
	return out_file_end(&file, good);
}

enum batch_end run_print(struct run *run, const struct batch_listener *listener)
{
	struct printing printing = {.run = run, .listener = listener};
	const struct workers_task task = {
		.self = &printing, .next = next_file, .work = print_file, .done = take_file, .beat = beat};
	enum batch_end end = BATCH_FAILED;
	if (!list_packets(&printing)) {
		run_failed(run, run->folder.path);
	} else {
		end = run_in_workers(run, &task);
		if (printing.failed)
			end = BATCH_FAILED;
		if (end == BATCH_DONE && !write_table(&printing)) {
			run_failed(run, run->folder.path);
			end = BATCH_FAILED;
		}
	}
	disk_array_free(printing.numbers);
	return end;
}
