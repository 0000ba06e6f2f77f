#include "load/intake_index.h"

#include "load/disk_array.h"

#include <errno.h>
#include <glib.h>
#include <string.h>

/*
 * Pieces sorted by record lie together; groups say where each record's begin,
 * in the order of their first rows:
 *
 *     groups   [row 2: first 4, 1 piece] [row 3: first 0, 2 pieces] ...
 *     pieces   [A row 3] [A row 7] [B row 9] [C row 4] [D row 2] ...
 */
struct group {
	uint32_t file;
	uint32_t row;
	uint64_t first;
	uint64_t n;
};

struct intake_index {
	struct disk_array *pieces;
	struct disk_array *groups;
	struct disk_array *mentions;
	struct index_piece *piece;
	struct group *group;
};

struct index_key index_key_of(const char *text)
{
	GChecksum *checksum = g_checksum_new(G_CHECKSUM_SHA256);
	guint8 digest[32];
	gsize length = sizeof digest;
	g_checksum_update(checksum, (const guchar *)text, -1);
	g_checksum_get_digest(checksum, digest, &length);
	g_checksum_free(checksum);
	struct index_key key = {0, 0};
	for (int i = 0; i < 8; i++) {
		key.high = key.high << 8 | digest[i];
		key.low = key.low << 8 | digest[8 + i];
	}
	return key;
}

struct intake_index *intake_index_new(const char *folder)
{
	struct intake_index *index = g_new0(struct intake_index, 1);
	index->pieces = disk_array_new(folder, sizeof(struct index_piece));
	index->groups = index->pieces ? disk_array_new(folder, sizeof(struct group)) : NULL;
	index->mentions = index->groups ? disk_array_new(folder, sizeof(struct index_key)) : NULL;
	if (index->mentions)
		return index;
	int error = errno;
	intake_index_free(index);
	errno = error;
	return NULL;
}

void intake_index_free(struct intake_index *index)
{
	if (!index)
		return;
	disk_array_free(index->pieces);
	disk_array_free(index->groups);
	disk_array_free(index->mentions);
	g_free(index);
}

bool intake_index_add(struct intake_index *index, const struct index_piece *piece)
{
	return disk_array_add(index->pieces, piece);
}

bool intake_index_mention(struct intake_index *index, struct index_key word)
{
	return disk_array_add(index->mentions, &word);
}

/* ---- sorting ---- */

static int compare_numbers(uint64_t a, uint64_t b)
{
	return a < b ? -1 : a > b;
}

int index_key_compare(const void *left, const void *right)
{
	const struct index_key *a = left;
	const struct index_key *b = right;
	int by_high = compare_numbers(a->high, b->high);
	return by_high != 0 ? by_high : compare_numbers(a->low, b->low);
}

static int compare_pieces(const void *left, const void *right)
{
	const struct index_piece *a = left;
	const struct index_piece *b = right;
	int order = index_key_compare(&a->record, &b->record);
	if (order == 0)
		order = compare_numbers(a->flags & PIECE_ALONE, b->flags & PIECE_ALONE);
	if (order == 0)
		order = compare_numbers(a->file, b->file);
	return order != 0 ? order : compare_numbers(a->offset, b->offset);
}

static int compare_groups(const void *left, const void *right)
{
	const struct group *a = left;
	const struct group *b = right;
	int by_file = compare_numbers(a->file, b->file);
	return by_file != 0 ? by_file : compare_numbers(a->row, b->row);
}

static bool same_group(const struct index_piece *a, const struct index_piece *b)
{
	return !((a->flags | b->flags) & PIECE_ALONE) && index_key_compare(&a->record, &b->record) == 0;
}

static bool is_mentioned(const struct intake_index *index, const struct index_key *mentions, struct index_key word)
{
	size_t low = 0;
	size_t high = disk_array_count(index->mentions);
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		int order = index_key_compare(&mentions[middle], &word);
		if (order == 0)
			return true;
		if (order < 0)
			low = middle + 1;
		else
			high = middle;
	}
	return false;
}

/* A name is kept by half of its digest, and mentioned by the same half with 0 for the other. */
static void mark_doubtful(struct intake_index *index)
{
	struct index_key *mentions = disk_array_map(index->mentions);
	if (mentions == NULL)
		return;
	disk_array_sort(index->mentions, index_key_compare);
	for (size_t i = 0; i < disk_array_count(index->pieces); i++) {
		struct index_piece *piece = &index->piece[i];
		if (piece->flags & PIECE_ALONE)
			continue;
		if (is_mentioned(index, mentions, piece->record) ||
		    (piece->name != 0 && is_mentioned(index, mentions, (struct index_key){piece->name, 0})))
			piece->flags |= PIECE_DOUBTFUL;
	}
}

bool intake_index_close(struct intake_index *index)
{
	size_t n = disk_array_count(index->pieces);
	index->piece = disk_array_map(index->pieces);
	if (n == 0)
		return true;
	if (index->piece == NULL)
		return false;
	disk_array_sort(index->pieces, compare_pieces);
	mark_doubtful(index);
	for (size_t i = 0; i < n;) {
		struct group group = {.file = index->piece[i].file, .row = index->piece[i].row, .first = i, .n = 1};
		while (i + group.n < n && same_group(&index->piece[i], &index->piece[i + group.n]))
			group.n++;
		if (!disk_array_add(index->groups, &group))
			return false;
		i += group.n;
	}
	index->group = disk_array_map(index->groups);
	if (index->group == NULL)
		return false;
	disk_array_sort(index->groups, compare_groups);
	return true;
}

/* ---- asking ---- */

size_t intake_index_groups(const struct intake_index *index)
{
	return disk_array_count(index->groups);
}

const struct index_piece *intake_index_group(const struct intake_index *index, size_t number, size_t *n)
{
	const struct group *group = &index->group[number];
	*n = (size_t)group->n;
	return &index->piece[group->first];
}

/* The first piece that is not before the record. */
static size_t lower_bound(const struct intake_index *index, struct index_key record)
{
	size_t low = 0;
	size_t high = disk_array_count(index->pieces);
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (index_key_compare(&index->piece[middle].record, &record) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

const struct index_piece *intake_index_find(const struct intake_index *index, struct index_key record, size_t *n)
{
	size_t first = lower_bound(index, record);
	for (*n = 0; first + *n < disk_array_count(index->pieces); (*n)++) {
		const struct index_piece *piece = &index->piece[first + *n];
		/* Pieces of nobody come after those of a record, whatever their keys. */
		if (index_key_compare(&piece->record, &record) != 0 || (piece->flags & PIECE_ALONE))
			break;
	}
	return *n > 0 ? &index->piece[first] : NULL;
}

bool intake_index_has(const struct intake_index *index, struct index_key record)
{
	size_t n;
	return intake_index_find(index, record, &n) != NULL;
}
