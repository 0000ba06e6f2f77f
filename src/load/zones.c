#include "load/zones.h"

#include "load/zone_rule.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unicode/ucal.h>
#include <unicode/uenum.h>

/* Plans speak from days of 2000 to 2100, and reach three years further on both sides: no day of theirs meets the edge. */
enum { FIRST_YEAR = 1996, LAST_YEAR = 2104, SECONDS_PER_DAY = 86400 };

enum { MOST_BYTES = 64 * 1024, HEADER_SIZE = 44, COUNTS_AT = 20 };

/*
 * "Area/Place" with letters, digits, '_', '+' and '-': never a path that leaves
 * the data, and not 'right/...', whose seconds are others.
 */
static bool is_iana_name(const char *name)
{
	static const char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz";
	if (strcmp(name, "UTC") == 0)
		return true;
	if (strncmp(name, "right/", 6) == 0 || strncmp(name, "posix/", 6) == 0 || !strchr(name, '/'))
		return false;
	char before = '/';
	for (const char *c = name; *c; before = *c++) {
		bool letter = strchr(letters, *c) != NULL;
		if (before == '/' && !letter)
			return false;
		if (!letter && !strchr("0123456789/_+-", *c))
			return false;
	}
	return before != '/';
}

/* --- The file --- */

/* Bytes that were not read yet. Every step looks whether there are enough. */
struct bytes {
	const unsigned char *at;
	size_t left;
};

static bool read_file(struct arena *arena, const char *name, struct bytes *bytes)
{
	const char *folder = getenv("TZDIR");
	const char *path = arena_printf(arena, "%s/%s", folder ? folder : "/usr/share/zoneinfo", name);
	FILE *file = fopen(path, "rb");
	if (!file)
		return false;
	unsigned char *buffer = arena_alloc(arena, MOST_BYTES);
	bytes->left = fread(buffer, 1, MOST_BYTES, file);
	bytes->at = buffer;
	bool read = !ferror(file);
	fclose(file);
	return read;
}

/* The next `size` bytes, or NULL where there are fewer. */
static const unsigned char *take(struct bytes *bytes, size_t size)
{
	const unsigned char *taken = bytes->at;
	if (size > bytes->left)
		return NULL;
	bytes->at += size;
	bytes->left -= size;
	return taken;
}

static uint32_t big_endian_32(const unsigned char *at)
{
	return (uint32_t)at[0] << 24 | (uint32_t)at[1] << 16 | (uint32_t)at[2] << 8 | at[3];
}

static int64_t big_endian_64(const unsigned char *at)
{
	return (int64_t)((uint64_t)big_endian_32(at) << 32 | big_endian_32(at + 4));
}

/* How many of each there are in a block, in the order of the header. */
struct counts {
	uint32_t ut, standard, leap, times, types, letters;
};

static bool take_header(struct bytes *bytes, struct counts *counts)
{
	const unsigned char *header = take(bytes, HEADER_SIZE);
	/* The first version has no rule after its table: nobody makes such files now. */
	if (!header || memcmp(header, "TZif", 4) != 0 || header[4] < '2')
		return false;
	const unsigned char *at = header + COUNTS_AT;
	*counts = (struct counts){big_endian_32(at),      big_endian_32(at + 4),  big_endian_32(at + 8),
	                          big_endian_32(at + 12), big_endian_32(at + 16), big_endian_32(at + 20)};
	const uint32_t most = MOST_BYTES;
	return counts->ut <= most && counts->standard <= most && counts->leap <= most && counts->times <= most &&
	       counts->types <= most && counts->letters <= most;
}

/* The first block, in 32 bits, is there for readers of long ago. */
static bool skip_first_block(struct bytes *bytes)
{
	struct counts counts;
	return take_header(bytes, &counts) &&
	       take(bytes, (size_t)counts.times * 5 + (size_t)counts.types * 6 + counts.letters +
	                           (size_t)counts.leap * 8 + counts.standard + counts.ut);
}

/* The second block, still as bytes, and the rule behind it. */
struct table {
	struct counts counts;
	const unsigned char *times;   /* of each change, 8 bytes */
	const unsigned char *indices; /* which type begins there */
	const unsigned char *types;   /* offset (4 bytes), summer time or not, where its letters begin */
	const unsigned char *letters;
	const char *rule; /* "": the last type goes on */
};

static bool take_table(struct arena *arena, struct bytes *bytes, struct table *table)
{
	if (!skip_first_block(bytes) || !take_header(bytes, &table->counts))
		return false;
	struct counts counts = table->counts;
	table->times = take(bytes, (size_t)counts.times * 8);
	table->indices = take(bytes, counts.times);
	table->types = take(bytes, (size_t)counts.types * 6);
	table->letters = take(bytes, counts.letters);
	if (!table->times || !table->indices || !table->types || !table->letters || counts.types == 0 ||
	    counts.leap != 0 || counts.letters == 0 || table->letters[counts.letters - 1] != '\0' ||
	    !take(bytes, counts.standard) || !take(bytes, counts.ut))
		return false;
	const unsigned char *newline = take(bytes, 1);
	const unsigned char *end = newline ? memchr(bytes->at, '\n', bytes->left) : NULL;
	if (!end || *newline != '\n')
		return false;
	table->rule = arena_strndup(arena, (const char *)bytes->at, (size_t)(end - bytes->at));
	return true;
}

/* --- Spans --- */

struct builder {
	struct arena *arena;
	struct zone_span *spans;
	size_t n;
};

/*
 * Adds a span that begins after those before it. What begins before the first
 * year only says what is in force then; what changes no clock is left out.
 */
static void add_span(struct builder *builder, struct zone_span span)
{
	const instant first = date_number((struct civil_date){FIRST_YEAR, 1, 1}) * SECONDS_PER_DAY;
	if (span.since <= first) {
		span.since = first;
		builder->n = 0;
	}
	struct zone_span *last = builder->n ? &builder->spans[builder->n - 1] : NULL;
	if (last && last->offset == span.offset && strcmp(last->abbreviation, span.abbreviation) == 0)
		return;
	builder->spans = arena_more(builder->arena, builder->spans, builder->n, sizeof *builder->spans);
	builder->spans[builder->n++] = span;
}

static bool add_type(struct builder *builder, const struct table *table, size_t type, instant since)
{
	if (type >= table->counts.types)
		return false;
	const unsigned char *at = table->types + type * 6;
	if (at[5] >= table->counts.letters)
		return false;
	struct zone_span span = {.since = since,
	                         .offset = (int32_t)big_endian_32(at),
	                         .abbreviation = arena_strdup(builder->arena, (const char *)table->letters + at[5])};
	if (span.offset <= -SECONDS_PER_DAY || span.offset >= SECONDS_PER_DAY)
		return false;
	add_span(builder, span);
	return true;
}

/* The table's changes; `last` is the last one's instant. */
static bool add_changes(struct builder *builder, const struct table *table, instant *last)
{
	*last = INT64_MIN;
	if (!add_type(builder, table, 0, *last))
		return false;
	for (size_t i = 0; i < table->counts.times; i++) {
		instant since = big_endian_64(table->times + i * 8);
		if (i > 0 && since <= *last)
			return false;
		if (!add_type(builder, table, table->indices[i], since))
			return false;
		*last = since;
	}
	return true;
}

/* From the table's end on the rule goes on; where there is no rule, or one without changes, the last type does. */
static bool add_rule(struct builder *builder, const char *text, instant last)
{
	struct zone_rule rule;
	struct zone_span spans[2];
	if (*text == '\0')
		return true;
	if (!zone_rule_read(builder->arena, text, &rule))
		return false;
	for (int year = FIRST_YEAR - 1; rule.changes && year <= LAST_YEAR; year++) {
		zone_rule_year(&rule, year, spans);
		for (size_t i = 0; i < 2; i++)
			if (spans[i].since > last)
				add_span(builder, spans[i]);
	}
	return true;
}

const struct zone *zone_load(struct arena *arena, const char *name)
{
	struct bytes bytes;
	struct table table;
	struct builder builder = {.arena = arena};
	instant last;
	if (!is_iana_name(name) || !read_file(arena, name, &bytes) || !take_table(arena, &bytes, &table) ||
	    !add_changes(&builder, &table, &last) || !add_rule(&builder, table.rule, last))
		return NULL;
	struct zone *zone = arena_alloc(arena, sizeof *zone);
	*zone = (struct zone){arena_strdup(arena, name), builder.spans, builder.n};
	return zone;
}

void zone_offer_all(struct arena *arena, struct nearest *nearest)
{
	UErrorCode error = U_ZERO_ERROR;
	UEnumeration *names = ucal_openTimeZones(&error);
	const char *name;
	while (U_SUCCESS(error) && (name = uenum_next(names, NULL, &error))) {
		if (is_iana_name(name))
			nearest_offer(nearest, name);
		if (nearest->best == name)
			nearest->best = arena_strdup(arena, name); /* the next name takes its memory */
	}
	uenum_close(names);
}
