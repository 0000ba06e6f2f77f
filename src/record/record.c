#include "record/record.h"

#include "record/content.h"
#include "record/signing.h"

#include <glib.h>
#include <string.h>

static const char *digest_of(struct arena *arena, const char *content)
{
	char *digest = g_compute_checksum_for_string(G_CHECKSUM_SHA256, content, -1);
	const char *copy = arena_strdup(arena, digest);
	g_free(digest);
	return copy;
}

/* What was printed on it, where that is known; a clinic's record that was changed since would give another. */
static const char *code_before(struct arena *arena, const struct course *course, const struct course *before,
                               struct findings *findings)
{
	const struct replaces *replaces = &course->plan->replaces;
	const char *today = record_code(arena, digest_of(arena, content_of(arena, before)));
	if (replaces->code.text == NULL)
		return today;
	if (replaces->file.text != NULL && strcmp(replaces->code.text, today) != 0)
		findings_add(findings, FINDING_CAUTION, "replaced-code-differs", replaces->code.place,
		             "'%s' makes a sheet with the code %s today, and '%s' is said to be on the replaced one; "
		             "look at "
		             "that sheet, and whether this is its plan",
		             replaces->file.text, today, replaces->code.text);
	return replaces->code.text;
}

/* What that plan computed is worked out again; what was wrong with it is no news any more. */
static struct replaced_sheet replaced_by(struct arena *arena, const struct course *course, struct findings *findings)
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
	sheet.code = code_before(arena, course, before, findings);
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
	record->replaced = replaced_by(arena, course, findings);
	return record;
}
