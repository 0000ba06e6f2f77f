#include "load/fhir_reading.h"

#include "load/tree.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

void fhir_refuse(const struct fhir_reading *reading, const struct fhir_resource *at, const char *code,
                 const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	const char *says = arena_vprintf(reading->arena, format, arguments);
	va_end(arguments);
	findings_add(reading->findings, FINDING_STOP, code, at->place, "%s", says);
}

/* ---- codes ---- */

const char *fhir_code(struct arena *arena, const json_t *coding, const char *value)
{
	const char *system = fhir_string(coding, "system");
	const char *code = fhir_string(coding, value);
	return system == NULL || code == NULL ? NULL : arena_printf(arena, "%s|%s", system, code);
}

const char *fhir_concept(const struct fhir_reading *reading, const struct fhir_resource *at, const json_t *concept,
                         const struct code_table *table, const char *what)
{
	const json_t *codings = json_object_get(concept, "coding");
	const char *found = NULL;
	const char *shown = "";
	for (size_t i = 0; i < json_array_size(codings); i++) {
		const char *code = fhir_code(reading->arena, fhir_entry(codings, i), "code");
		const char *ours = code == NULL ? NULL : code_find(table, code);
		shown = code == NULL ? shown : code;
		if (ours != NULL && found != NULL && strcmp(ours, found) != 0) {
			fhir_refuse(reading, at, "codes-disagree",
			            "the codes of %s are two things in the map, '%s' and '%s'; keep the one that holds",
			            what, found, ours);
			return NULL;
		}
		found = ours == NULL ? found : ours;
	}
	if (found == NULL)
		fhir_refuse(reading, at, "unknown-code",
		            "'%s' is no code of '%s' in the map; add it there, or correct %s", shown, table->name,
		            what);
	return found;
}

/* ---- dates ---- */

static bool two_digits(const char *text, int most, int *number)
{
	if (text[0] < '0' || text[0] > '9' || text[1] < '0' || text[1] > '9')
		return false;
	*number = (text[0] - '0') * 10 + (text[1] - '0');
	return *number <= most;
}

/* "Z", or "+01:00", in seconds. */
static bool offset_read(const char *text, int64_t *offset)
{
	int hours, minutes;
	*offset = 0;
	if (strcmp(text, "Z") == 0)
		return true;
	if ((text[0] != '+' && text[0] != '-') || strlen(text) != 6 || text[3] != ':' ||
	    !two_digits(text + 1, 14, &hours) || !two_digits(text + 4, 59, &minutes))
		return false;
	*offset = (hours * 60 + minutes) * (text[0] == '-' ? -60 : 60);
	return true;
}

bool fhir_moment_read(const struct fhir_reading *reading, const char *text, struct fhir_moment *moment)
{
	int hour, minute, second;
	int64_t offset;
	*moment = (struct fhir_moment){.has_time = false};
	const char *day = arena_strndup(reading->arena, text, strcspn(text, "T"));
	const char *time = text + strlen(day);
	if (!date_read(day, &moment->date))
		return false;
	if (*time == '\0')
		return true;
	if (strlen(time) < 9 || time[3] != ':' || time[6] != ':' || !two_digits(time + 1, 23, &hour) ||
	    !two_digits(time + 4, 59, &minute) || !two_digits(time + 7, 59, &second))
		return false;
	const char *rest = time + 9;
	size_t fraction = *rest == '.' ? 1 + strspn(rest + 1, "0123456789") : 0;
	if (fraction == 1 || !offset_read(rest + fraction, &offset))
		return false;
	moment->has_time = true;
	moment->whole_minute = second == 0 && (fraction == 0 || strspn(rest + 1, "0") == fraction - 1);
	instant when = date_number(moment->date) * 86400 + hour * 3600 + minute * 60 - offset;
	int32_t local;
	zone_local(reading->clinic->zone, when, &moment->date, &moment->time, &local);
	return true;
}

/* ---- any resource ---- */

static const char *modifier_below(const json_t *value)
{
	const char *key;
	json_t *below;
	size_t i;
	const char *found = NULL;
	if (json_is_array(value)) {
		json_array_foreach(value, i, below) if (found == NULL) found = modifier_below(below);
		return found;
	}
	json_object_foreach((json_t *)(uintptr_t)value, key, below)
	{
		if (strcmp(key, "modifierExtension") == 0 || strcmp(key, "implicitRules") == 0)
			return key;
		if (found == NULL)
			found = modifier_below(below);
	}
	return found;
}

static unsigned odd_below(const json_t *value, const char **fault)
{
	const char *key;
	json_t *below;
	size_t i;
	unsigned character = 0;
	if (json_is_string(value)) {
		*fault = text_fault(json_string_value(value), &character);
		return *fault == NULL ? 0 : character;
	}
	if (json_is_array(value))
		json_array_foreach(value, i, below) if (*fault == NULL) character = odd_below(below, fault);
	json_object_foreach((json_t *)(uintptr_t)value, key, below) if (*fault == NULL) character =
		odd_below(below, fault);
	return character;
}

void fhir_check_resource(const struct fhir_reading *reading, const struct fhir_resource *at)
{
	const char *modifier = modifier_below(at->json);
	const char *fault = NULL;
	unsigned character = odd_below(at->json, &fault);
	if (modifier != NULL)
		fhir_refuse(reading, at, "modifier-extension",
		            "this resource has '%s', which changes what it means in a way that is not known here; "
		            "write the order without",
		            modifier);
	if (fault != NULL)
		fhir_refuse(reading, at, "odd-character", "this resource holds U+%04X, which %s; delete it", character,
		            fault);
}
