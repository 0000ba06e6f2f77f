#include "record/record.h"

#include "record/content.h"
#include "record/signing.h"

#include <glib.h>

static const char *digest_of(struct arena *arena, const char *content)
{
	char *digest = g_compute_checksum_for_string(G_CHECKSUM_SHA256, content, -1);
	const char *copy = arena_strdup(arena, digest);
	g_free(digest);
	return copy;
}

/*
 * What that plan computed is worked out again; what was wrong with it is no news any more. Its code is the one that was
 * printed on it, where that is known.
 */
static struct replaced_sheet replaced_by(struct arena *arena, const struct course *course)
{
	struct replaced_sheet sheet = {.given = false};
	const struct plan *replaced = course->plan->replaced;
	if (replaced == NULL)
		return sheet;
	struct findings *unsaid = arena_alloc(arena, sizeof *unsaid);
	*unsaid = findings_in(arena);
	const struct course *before = course_of(arena, replaced, unsaid);
	if (before == NULL)
		return sheet;
	sheet.given = true;
	sheet.version = replaced->version;
	sheet.code = course->plan->replaces.code.text;
	if (sheet.code == NULL)
		sheet.code = record_code(arena, digest_of(arena, content_of(arena, before)));
	sheet.differences = differences_of(arena, before, course);
	return sheet;
}

const struct record *record_of(struct arena *arena, const struct course *course, struct findings *findings)
{
	struct signing signing = signing_of(course, findings);
	struct record *record = arena_alloc(arena, sizeof *record);
	record->course = course;
	record->findings = findings;
	record->content = content_of(arena, course);
	record->digest = digest_of(arena, record->content);
	record->code = record_code(arena, record->digest);
	record->is_signed = signing.is_signed;
	record->signed_on = signing.is_signed ? signing.signed_on : NULL;
	record->ordered_by = signing.ordered_by;
	record->checked_by = signing.checked_by;
	record->replaced = replaced_by(arena, course);
	return record;
}
